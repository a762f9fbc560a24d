"""On which legs minimum altitudes bind, and at which of their heights.

14 CFR 91.177(a): minimums hold "except when necessary for takeoff or landing"; (b): a climb to a higher minimum begins
"immediately after passing the point beyond which that minimum altitude applies". The aeroplane of the samples climbs
and descends 500 ft a minute.
"""

from __future__ import annotations

import pytest
from helpers.judged import along, reported

from navlog.flightlog.records import Leg, Phase
from navlog.flightlog.sure import station_distances_nm
from navlog.nav.chart import Position, Service
from navlog.nav.record import changed
from navlog.resolve.route import PointKind
from navlog.rules.heights import (
    assessed_nm,
    binding,
    climbs_from_airports,
    descends_to_land,
    descents_to_airports,
    lowest_ft,
    signal_assured,
)
from navlog.rules.samples import FLOWN_BY_FILE

STOP = (
    *FLOWN_BY_FILE,
    "altitude 8500",
    "rules ifr",
    "direct XOLD - XHAR 34nm",
    "route XHAR QHB V801 QEL/A055 XOLD land 45min XHAR",
)


def legs(*more: str) -> tuple[Leg, ...]:
    """The legs of the samples' flight with statements changed."""
    return reported(*more).log.legs


def bound(flown: tuple[Leg, ...], *, vfr: bool = False) -> dict[int, float]:
    """The whole feet at which minimums bind, by number of the leg."""
    return {leg.number: round(low_ft) for leg, low_ft in binding(flown, takes_off=True, vfr=vfr)}


def test_take_off_and_landing_are_not_bound_and_their_ends_are() -> None:
    flown = legs(*STOP)
    climb, descent = Phase.CLIMB, Phase.DESCENT
    assert [leg.phase for leg in flown] == [climb, climb, Phase.CRUISE, descent, descent, climb, descent]
    crossing_ft = round(flown[3].end_altitude_ft)
    # The climb from XHAR goes on beyond QHB: bound where it ends, at 8,500 ft. Down to QEL the leg is bound throughout,
    # on to the landing where it begins. The same after the stop, up to the 5,500 ft of that leg.
    assert bound(flown) == {2: 8500, 3: 8500, 4: crossing_ft, 5: crossing_ft, 6: 5500, 7: 5500}
    assert crossing_ft > 3000  # the MEA of V801
    # Under VFR no descent is bound.
    assert bound(flown, vfr=True) == {2: 8500, 3: 8500, 6: 5500}
    assert [descends_to_land(leg, flown[-1]) for leg in flown] == [False] * 4 + [True, False, True]


def test_the_descents_to_airports_are_each_told_as_one() -> None:
    # To XOLD from before QEL on, and after the stop to XHAR.
    assert [[leg.number for leg in descent] for descent in descents_to_airports(legs(*STOP))] == [[4, 5], [7]]


@pytest.mark.parametrize(
    ("field", "reach_nm"),
    [
        # AIM 5-2-9: 25 NM, and 46 in designated mountainous areas (14 CFR 95.11 and after): in Colorado, not in Kansas.
        (Position(38.0, -97.0), 25.0),
        (Position(39.5, -106.0), 46.0),
        # Where nobody has decided, or the place is not known, the shorter reach warns sooner.
        (Position(46.0, -39.0), 25.0),
        (None, 25.0),
    ],
)
def test_a_departure_is_assessed_farther_in_mountains(field: Position | None, reach_nm: float) -> None:
    assert assessed_nm(field) == reach_nm


def test_the_climbs_from_airports_are_each_told_as_one() -> None:
    flown = legs(*STOP)
    found = [[leg.number for leg in climb] for climb in climbs_from_airports(flown, takes_off=True)]
    assert found == [[1, 2], [6]]
    # Begun in the air there is no take-off but the one after the stop.
    assert [[leg.number for leg in climb] for climb in climbs_from_airports(flown, takes_off=False)] == [[6]]


def test_a_descent_to_land_that_a_changeover_cuts_is_bound_at_its_beginning_alone() -> None:
    *before, top, last = legs(*STOP)[:5]
    half_ft = (last.start_altitude_ft + last.end_altitude_ft) / 2.0
    first = changed(last, end_altitude_ft=half_ft)
    cut = changed(last.start, kind=PointKind.CHANGEOVER)
    second = changed(last, number=6, start=cut, start_nm=last.end_nm / 2.0, start_altitude_ft=half_ft)
    found = bound((*before, top, first, second))
    assert found[5] == round(last.start_altitude_ft)
    assert 6 not in found
    # From a point of the route that has no name it is bound as from any other.
    named = changed(second, start=changed(cut, kind=PointKind.POSITION), start_nm=0.0)
    assert bound((*before, top, first, named))[6] == round(half_ft)
    # A level change in between is a place where the level is held.
    level = changed(second, start=changed(cut, kind=PointKind.LEVEL_CHANGE))
    assert bound((*before, top, first, level))[6] == round(half_ft)


def test_height_lost_over_the_airport_is_not_bound() -> None:
    *before, last = legs(*STOP)[:5]
    losing = changed(last, phase=Phase.LOSING, number=5)
    assert 5 not in bound((*before, losing))


def test_a_climb_at_a_point_is_bound_at_its_end_and_not_at_a_changeover_in_it() -> None:
    # From 2,500 ft at QHB to 8,500 ft are 12 min, some 15 NM: the changeover 5 NM out lies in the climb.
    airway = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 cop 5 QHB"
    flown = legs(*FLOWN_BY_FILE, "altitude 2500", airway, "route XHAR QHB/A085 V801 QEL")
    first, second = (leg for leg in flown if leg.phase is Phase.CLIMB and leg.stretch.airway is not None)
    assert (first.end.kind, second.end.kind) == (PointKind.CHANGEOVER, PointKind.TOP_OF_CLIMB)
    found = bound(flown)
    assert first.number not in found
    assert found[second.number] == 8500


def test_a_climb_from_an_airport_may_cross_points_below_their_minimums() -> None:
    # At 500 ft a minute QHB is crossed below the 6,000 ft stated up to there; the climb binds where it ends.
    high = ("altitude 8500", "direct QHB - XHAR 9.6nm min 6000", "route XHAR QHB V801 QEL")
    flown = legs(*FLOWN_BY_FILE, *high)
    assert [leg.phase for leg in flown[:3]] == [Phase.CLIMB, Phase.CLIMB, Phase.CRUISE]
    assert flown[0].end_altitude_ft < 6000
    assert bound(flown) == {2: 8500, 3: 8500, 4: 8500}
    # Of a flight that begins in the air there, the point is where the minimum must be reached.
    assert binding(flown, takes_off=False, vfr=False)[0] == (flown[0], flown[0].end_altitude_ft)


@pytest.mark.parametrize(("away_nm", "by_right"), [(21.9, True), (22, True), (22.1, False)])
def test_a_climb_out_of_a_moca_is_late_beyond_22_nm(away_nm: float, by_right: bool) -> None:
    # 2,500 ft is under the MEA and over the MOCA, which is enough within 22 NM of QHB (91.177(a)(1)).
    limits = "mea 3000 moca 2400"
    flown = legs(
        *FLOWN_BY_FILE,
        "fix MARSH QHB 212 22nm",
        f"airway V801 QHB 212 - MARSH {away_nm}nm {limits} - 034 QEL 7.5nm {limits} cop 1 QEL",
        "altitude 2500",
        "route XHAR QHB V801 MARSH/A035 V801 QEL",
    )
    (climb,) = (leg for leg in flown if leg.phase is Phase.CLIMB and leg.start.name == "MARSH")
    assert bound(flown)[climb.number] == (3500 if by_right else 2500)


def test_how_far_the_ends_of_a_leg_are_from_a_station_behind() -> None:
    # MARSH is 24 NM from QHB, the changeover 3 NM from QEL: 26.5 of 29.5 NM.
    airway = "airway V801 QHB 212 - MARSH 24nm mea 3000 - 034 QEL 5.5nm mea 3000 cop 3 QEL"
    flown = legs("fix MARSH QHB 212 24nm", airway, "route QHB V801 QEL")
    assert [station_distances_nm(leg) for leg in flown] == [
        pytest.approx((0, 24)),
        pytest.approx((24, 26.5), abs=0.1),
        pytest.approx((3, 0)),
    ]
    # Without positions nothing tells how far QHB is from the leg that begins at MARSH.
    flown = legs(*along(airway.split(maxsplit=2)[2], "fix MARSH QHB 212 24nm"))
    assert [station_distances_nm(leg) for leg in flown] == [pytest.approx((0, 24)), None, pytest.approx((3, 0))]


@pytest.mark.parametrize(
    ("length_nm", "altitude", "assured"),
    [(43.8, 2400, True), (44, 2400, True), (44.2, 2400, False), (44, 2399, False), (80, 3000, True), (80, 2999, False)],
)
def test_an_mea_assures_the_signal_and_a_moca_within_22_nm(length_nm: float, altitude: int, assured: bool) -> None:
    # 14 CFR 95.1(d), (e); changed over midway, each station is used out to half the length.
    flown = legs(*along(f"QHB 212 - 032 QEL {length_nm}nm mea 3000 moca 2400", f"altitude {altitude}"))
    assert [signal_assured(leg) for leg in flown] == [assured, assured]


def test_the_lower_end_of_a_leg_counts_for_its_signal() -> None:
    (leg, _) = legs(*along("QHB 212 - 032 QEL 60nm mea 3000", "altitude 4500"))
    assert signal_assured(leg)
    low = changed(leg, start_altitude_ft=2900.0)
    assert lowest_ft(low) == 2900
    assert not signal_assured(low)


def test_a_station_out_of_service_or_past_its_changeover_assures_nothing() -> None:
    (leg, _) = legs(*along("QHB 212 - 032 QEL 60nm mea 3000", "altitude 4500"))
    for service in Service:
        out = changed(leg, stretch=changed(leg.stretch, service=service))
        assert signal_assured(out) is (service is Service.NORMAL)
    assert not signal_assured(changed(leg, part=changed(leg.part, past_changeover=True)))
    assert not signal_assured(changed(leg, stretch=changed(leg.stretch, airway=None)))
