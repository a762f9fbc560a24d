"""An airway with a station out: those that stay guide to their changeover points, or as far as they are received.

QAA, QBB, QCC stand on one meridian, 60.0 NM apart (a degree of latitude at N45 is 60.0 NM on the ellipsoid, WGS84), so
that every distance is known without a chart. Service volumes are those of AIM 1-1-8.
"""

from __future__ import annotations

import pytest
from helpers.flown import Json, flight, held

from navlog.nav.chart import Station, StationKind
from navlog.nav.guidance import Flag, Guidance, StatedRadial
from navlog.resolve.out_of_service import _meeting
from navlog.resolve.route import Changeover, ChangeoverKind
from navlog.rules.answers import check_text
from navlog.rules.heights import signal_assured

_STATION = "station {} {} N{} 00.00 W040 00.00 decl true class {} elev 0ft"


def flown(
    out: str = "QBB", *, service: str = "L", altitude: int = 5000, cop: str = "", back: bool = False, first: str = ""
) -> Json:
    stations = [
        _STATION.format(ident, tuned, latitude, service)
        for ident, tuned, latitude in (("QAA", "113.70", 45), ("QBB", "110.20", 46), ("QCC", "112.40", 47))
    ]
    text = "\n".join(
        (
            f"{stations[0]} {first}",
            *stations[1:],
            f"airway V801 QAA 360 - 180 QBB 60nm mea 4000 {cop} - 180 QCC 60nm mea 4000",
            "date 2026-07-18",
            f"altitude {altitude}",
            "tas 120kt",
            "wind calm",
            *(f"unavailable {ident}" for ident in out.split()),
            f"route {'QCC V801 QAA' if back else 'QAA V801 QCC'}",
            "",
        )
    )
    return flight(text)


def test_with_every_station_on_the_air_each_guides_to_the_middle() -> None:
    assert held(flown("")) == [("QAA", 30.0), ("QBB", 60.0), ("QCC", 30.0)]


def test_between_the_volumes_of_those_that_stay_nothing_guides() -> None:
    """Class L serves 40 NM from 1,000 to 18,000 ft above it."""
    found = flown()
    assert held(found) == [("QAA", 40.0), (None, 40.0), ("QCC", 40.0)]
    told = [one["message"] for one in found["findings"] if one["rule"] == "no-guidance"]
    assert told
    assert all("QBB is out of service" in one for one in told)


@pytest.mark.parametrize("back", [False, True])
def test_both_ways_are_guided_alike(back: bool) -> None:
    parts = held(flown(cop="cop 25 QAA", back=back))
    assert (parts[::-1] if back else parts) == [("QAA", 25.0), (None, 55.0), ("QCC", 40.0)]


@pytest.mark.parametrize(
    ("service", "altitude", "expected"),
    [
        # T: 25 NM up to 12,000 ft, less than the middle, up to which the MEA assures the signal.
        ("T", 5000, [("QAA", 30.0), (None, 60.0), ("QCC", 30.0)]),
        ("VL", 4900, [("QAA", 40.0), (None, 40.0), ("QCC", 40.0)]),
        # VL and VH: 70 NM from 5,000 ft, past each other, so that they change over at the middle.
        ("VL", 5000, [("QAA", 60.0), ("QCC", 60.0)]),
        ("VH", 9000, [("QAA", 60.0), ("QCC", 60.0)]),
    ],
)
def test_the_volume_at_the_level_flown_counts(
    service: str, altitude: int, expected: list[tuple[str | None, float]]
) -> None:
    assert held(flown(service=service, altitude=altitude)) == expected


def test_no_station_is_received_beyond_its_horizon() -> None:
    # 1.23 x sqrt 1,000 = 38.9 NM, less than the 40 NM of class L.
    assert held(flown(altitude=1000)) == [("QAA", 38.9), (None, 42.2), ("QCC", 38.9)]


@pytest.mark.parametrize(
    ("unusable", "altitude", "nm"),
    [
        ("350-010 beyond 35nm", 5000, 35.0),
        ("340-350 beyond 35nm", 5000, 40.0),  # another sector
        ("350-010 beyond 35nm below 5000ft", 5000, 40.0),
        ("350-010 beyond 35nm below 5100ft", 5000, 35.0),
        ("350-010 beyond 20nm", 5000, 30.0),  # the MEA assures it to its changeover point, midway
        ("350-010", 5000, 30.0),
    ],
)
def test_in_a_sector_that_is_unusable_it_is_received_no_farther(unusable: str, altitude: int, nm: float) -> None:
    found = held(flown(altitude=altitude, first=f"unusable {unusable}"))
    assert found == [("QAA", nm), (None, 80 - nm), ("QCC", 40.0)]


def test_with_two_stations_out_both_are_named() -> None:
    found = flown("QBB QCC")
    assert held(found) == [("QAA", 40.0), (None, 80.0)]
    told = {one["message"].rpartition(": ")[2] for one in found["findings"] if one["rule"] == "no-guidance"}
    assert told
    assert told == {"QBB and QCC are out of service"}


def test_a_stated_changeover_point_holds_though_the_volume_is_wider() -> None:
    assert held(flown(service="VH", altitude=9000, cop="cop 20 QAA")) == [("QAA", 20.0), (None, 30.0), ("QCC", 70.0)]


def test_the_last_station_of_an_airway_is_missed_from_the_middle_on() -> None:
    assert held(flown("QCC")) == [("QAA", 30.0), ("QBB", 70.0), (None, 20.0)]
    assert held(flown("QAA")) == [(None, 20.0), ("QBB", 70.0), ("QCC", 30.0)]


def test_past_its_changeover_point_no_mea_assures_a_station() -> None:
    """The changeover point with QBB would be 30 NM from QAA; up to FIXAA, 25 NM, all is assured."""
    lines = (
        *(_STATION.format(*one, "L") for one in (("QAA", "113.70", 45), ("QBB", "110.20", 46), ("QCC", "112.40", 47))),
        "fix FIXAA QAA 360 25nm",
        "airway V801 QAA 360 - FIXAA 25nm mea 4000 - 180 QBB 35nm mea 4000 - 180 QCC 60nm mea 4000",
        "date 2026-07-18",
        "altitude 5000",
        "tas 120kt",
        "wind calm",
        "unavailable QBB",
        "route QAA V801 QCC",
    )
    (answer,) = check_text("\n".join((*lines, "")))
    assert answer.report is not None
    legs = answer.report.log.legs
    told = [
        (leg.part.guidance.station.ident if leg.part.guidance else None, round(leg.distance_nm), signal_assured(leg))
        for leg in legs
    ]
    assert told == [("QAA", 25, True), ("QAA", 15, False), (None, 20, True), (None, 20, True), ("QCC", 40, False)]


def changed_over(known: Changeover | None, start_nm: float, end_nm: float) -> tuple[str, float, float]:
    """How, and how far from QAA and QBB, two stations change over that are received past each other."""
    qaa, qbb = (Station(ident, StationKind.VOR) for ident in ("QAA", "QBB"))
    outbound, inbound = Guidance(qaa, StatedRadial(360.0), Flag.FROM), Guidance(qbb, StatedRadial(180.0), Flag.TO)
    first, second = _meeting(outbound, inbound, known, (start_nm, end_nm, 60.0))
    assert (first.start_nm, first.end_nm, second.end_nm) == (0.0, second.start_nm, 60.0)
    assert (first.guidance, second.guidance, second.changeover) == (outbound, inbound, None)
    found = first.changeover
    assert found is not None
    assert found.distance_nm == first.end_nm
    assert (found.behind, found.ahead) == (qaa, qbb)
    return found.kind.name, found.distance_nm, found.distance_ahead_nm


def at(distance_nm: float, kind: ChangeoverKind) -> Changeover:
    qaa, qbb = (Station(ident, StationKind.VOR) for ident in ("QAA", "QBB"))
    return Changeover(kind, qaa, qbb, distance_nm, 60.0 - distance_nm)


def test_where_both_are_received_they_change_over_where_they_would_or_nearest_to_it() -> None:
    # QBB is received from 20 NM on and QAA as far as 50: without a point known, half-way between.
    assert changed_over(None, 20.0, 50.0) == ("RECEPTION", 35.0, 25.0)
    for kind in (ChangeoverKind.MIDPOINT, ChangeoverKind.TURN, ChangeoverKind.PUBLISHED):
        assert changed_over(at(30.0, kind), 20.0, 50.0) == (kind.name, 30.0, 30.0)
        assert changed_over(at(50.0, kind), 20.0, 50.0) == (kind.name, 50.0, 10.0)
        assert changed_over(at(10.0, kind), 20.0, 50.0) == ("RECEPTION", 20.0, 40.0)
        assert changed_over(at(55.0, kind), 20.0, 50.0) == ("RECEPTION", 50.0, 10.0)
    assert changed_over(at(30.0, ChangeoverKind.UNKNOWN), 20.0, 50.0) == ("RECEPTION", 30.0, 30.0)
