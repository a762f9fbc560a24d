"""What of a mark is received: classes by height, unknown elevations, horizon, MEA and MRA.

Volumes of AIM 1-1-8: T 25 NM up to 12,000 ft; L 40 up to 18,000; H 40 up to 14,500, 100 up to 18,000, 130 up to 45,000.
"""

from __future__ import annotations

import pytest
from helpers.judged import reported

from navlog.flightlog.marks import _assured, _EndTold, _troubles, _volume_nm, _with_other_receiver, lowland_ft
from navlog.flightlog.records import Leg, Trouble
from navlog.nav.chart import Position, Service, Station, StationKind
from navlog.nav.record import changed
from navlog.resolve.route import Identification, MarkKind

LOG = reported("route XHAR QHB V801 QEL XOLD").log


def by(
    service: str | None, elevation_ft: float | None, dme_service: str | None = None, **more: object
) -> Identification:
    station = Station(
        "QXX",
        StationKind.VOR,
        Position(46.0, -39.0),
        service=service,
        dme_service=dme_service,
        elevation_ft=elevation_ft,
    )
    kind = MarkKind.DME if more.pop("dme", False) else MarkKind.RADIAL
    return Identification(station, kind, 90.0, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("one", "altitude_ft", "ground_ft", "radius_nm"),
    [
        # Heights count from the station where its elevation is known, whatever the lowland.
        (by("H", 5_000.0), 19_000.0, 0.0, 40.0),
        (by("H", 5_000.0), 20_000.0, 0.0, 100.0),
        (by("H", 5_000.0), 23_500.0, 3_000.0, 130.0),
        (by("T", 0.0), 12_000.0, 0.0, 25.0),
        (by("T", 0.0), 12_500.0, 0.0, 0.0),
        # Below the floor of 1,000 ft what serves at the floor is taken.
        (by("L", 5_000.0), 5_400.0, 0.0, 40.0),
        (by("L", 5_000.0), 4_000.0, 0.0, 40.0),
        # Of unknown elevation the widest of all heights up to that above the lowland, from the floor on.
        (by("H", None), 16_000.0, 5_000.0, 40.0),
        (by("H", None), 20_000.0, 5_000.0, 100.0),
        (by("H", None), 20_000.0, 0.0, 130.0),
        (by("T", None), 15_000.0, 0.0, 25.0),
        (by("L", None), 500.0, 0.0, 40.0),
        # A VOR of no class that is known is counted on for nothing that is known, a DME for 40 NM.
        (by(None, 0.0), 5_000.0, 0.0, None),
        (by("X", 0.0), 5_000.0, 0.0, None),
        (by(None, 0.0, dme=True), 5_000.0, 0.0, 40.0),
        (by(None, None, dme=True), 5_000.0, 0.0, 40.0),
        # A DME has a class of its own, or that of its VOR.
        (by("T", 0.0, "H", dme=True), 15_000.0, 0.0, 100.0),
        (by("T", 0.0, "H"), 10_000.0, 0.0, 25.0),
        (by("T", 0.0, dme=True), 10_000.0, 0.0, 25.0),
    ],
)
def test_how_far_a_class_serves(one: Identification, altitude_ft: float, ground_ft: float, radius_nm: float) -> None:
    assert _volume_nm(one, altitude_ft, ground_ft) == radius_nm


def leg_at(altitude_ft: float, mra_ft: float | None = None) -> Leg:
    leg = LOG.legs[0]
    limits = changed(leg.stretch.limits, mra_end_ft=mra_ft)
    return changed(leg, end_altitude_ft=altitude_ft, stretch=changed(leg.stretch, limits=limits))


@pytest.mark.parametrize(
    ("one", "altitude_ft", "mra_ft", "assured", "against"),
    [
        # 1.23 sqrt 2500 = 61.5 NM to the lowland's horizon, as much again as the mast is high above it.
        (by("H", 0.0, away_nm=39.9), 2_500.0, None, False, ()),
        (by("H", 0.0, away_nm=40.1), 2_500.0, None, False, (Trouble.VOLUME,)),
        (by("H", 0.0, away_nm=62.0), 2_500.0, None, False, (Trouble.HORIZON, Trouble.VOLUME)),
        (by("H", 400.0, away_nm=62.0), 2_500.0, None, False, (Trouble.VOLUME,)),
        (by("H", None, away_nm=62.0), 2_500.0, None, False, (Trouble.HORIZON, Trouble.VOLUME)),
        (by(None, 0.0, away_nm=61.0), 2_500.0, None, False, ()),
        # Without a distance nothing can stand against it; what is published was checked in flight, up to the horizon.
        (by("H", 0.0), 2_500.0, None, False, ()),
        (by("H", 0.0, away_nm=61.0, published=True), 2_500.0, None, False, ()),
        (by("H", 0.0, away_nm=62.0, published=True), 2_500.0, None, False, (Trouble.HORIZON,)),
        # The MEA's signal, or an MRA that is kept, assures what the make-up names and nothing else.
        (by("H", 0.0, away_nm=62.0, named=True), 2_500.0, None, True, ()),
        (by("H", 0.0, away_nm=62.0), 2_500.0, None, True, (Trouble.HORIZON, Trouble.VOLUME)),
        (by("H", 0.0, away_nm=62.0, named=True), 2_500.0, 2_500.0, False, ()),
        (by("H", 0.0, away_nm=62.0), 2_500.0, 2_500.0, False, (Trouble.HORIZON, Trouble.VOLUME)),
        (by("H", 0.0, away_nm=30.0, named=True), 2_500.0, 2_600.0, False, (Trouble.MRA,)),
        (by("H", 0.0, away_nm=62.0, named=True), 2_500.0, 2_600.0, True, (Trouble.MRA,)),
        # An MRA is of radials.
        (by("H", 0.0, away_nm=30.0, named=True, dme=True), 2_500.0, 2_600.0, False, ()),
    ],
)
def test_what_stands_against_receiving_a_mark(
    one: Identification, altitude_ft: float, mra_ft: float | None, assured: bool, against: tuple[Trouble, ...]
) -> None:
    assert _troubles(one, leg_at(altitude_ft, mra_ft), 0.0, assured=assured) == against


def test_horizon_and_mast_count_from_the_lowland() -> None:
    # 3,500 ft over lowland of 1,000 see as far as 2,500 over the sea; a mast at 1,400 stands 400 above it.
    for elevation_ft, against in ((1_000.0, (Trouble.HORIZON,)), (1_400.0, ())):
        one = by(None, elevation_ft, away_nm=62.0)
        assert _troubles(one, leg_at(3_500.0), 1_000.0, assured=False) == against


@pytest.mark.parametrize(
    ("altitude_ft", "mea_ft", "service", "airway", "assured"),
    [
        (3_000.0, 3_000.0, Service.NORMAL, True, True),
        (2_900.0, 3_000.0, Service.NORMAL, True, False),
        (9_000.0, None, Service.NORMAL, True, False),
        (9_000.0, 3_000.0, Service.SIGNAL_GAP, True, False),
        (9_000.0, 3_000.0, Service.NORMAL, False, False),
    ],
)
def test_an_mea_assures_the_signal_on_an_airway_that_has_one(
    altitude_ft: float, mea_ft: float | None, service: Service, airway: bool, assured: bool
) -> None:
    leg = LOG.legs[1]
    limits = changed(leg.stretch.limits, mea_ft=mea_ft)
    stretch = changed(leg.stretch, limits=limits, service=service, airway=leg.stretch.airway if airway else None)
    assert _assured(changed(leg, end_altitude_ft=altitude_ft, stretch=stretch)) is assured


def test_the_lowland_is_the_lowest_of_airports_and_stations() -> None:
    # XHAR 790 ft, QHB 820, QEL 410, XOLD 350.
    points, legs = LOG.route.points, LOG.legs
    assert lowland_ft(points, legs) == 350.0
    assert lowland_ft(points[:2], legs[:1]) == 790.0
    assert lowland_ft((), legs[2:3]) == 410.0
    assert lowland_ft((), ()) == 0.0


def test_where_no_signal_is_the_station_that_guides_again_is_to_be_set_next() -> None:
    """Legs by QHB, by nothing, by QHB again and by QEL, with nothing that tells their ends.

    While QHB is in one receiver the other waits for QEL; where nothing is heard both are free for what comes first.
    """
    one, *_, last = (leg for leg in LOG.legs if leg.part.guidance is not None)
    none = changed(one, part=changed(one.part, guidance=None))
    legs = tuple(changed(leg, number=number) for number, leg in enumerate((one, none, one, last), 1))
    told = _with_other_receiver(legs, [_EndTold((), (), (), None) for _ in legs])
    settings = [found.other_setting for found in told]
    assert [one and (one.guidance.station.ident, one.leg) for one in settings] == [
        ("QEL", 4),
        ("QHB", 3),
        ("QEL", 4),
        None,
    ]
