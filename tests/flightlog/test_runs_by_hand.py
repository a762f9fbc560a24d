"""Steps to runs, each worked by hand: what makes one leg, and its means.

The aeroplane cruises at 120 kt, so that a minute is 2 NM, at 9 gal/h; the way has 15 NM on each station, on course 090.
"""

from __future__ import annotations

import pytest
from helpers.drawn import reports

from navlog.flightlog.records import Phase, Run
from navlog.flightlog.runs import Step, along_stretch, grouped, level_step, names, runs
from navlog.flightlog.track import pieces
from navlog.nav.chart import Position
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.nav.wind import Wind, WindColumn, WindLevel
from navlog.request.records import RouteWord
from navlog.resolve.route import PointKind

(PLANNED,) = reports(
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "direct QAA 090 - 270 QBB 30nm\ndirect QBB 090 - 270 QCC 30nm\ndate 2026-07-18\nvariation 0E\nwind calm\n"
    "tas 120kt\nburn 9gph\naltitude 3000\nroute QAA QBB QCC\n"
)
TRACK = pieces(PLANNED.log.route.stretches)
STILL = PLANNED.log.conditions
AHEAD = Wind(90.0, 20.0)
AGAINST = changed(STILL, winds=(WindColumn((WindLevel(0.0, AHEAD), WindLevel(9_000.0, AHEAD)), None, None),))
CALM = Wind(0.0, 0.0)


def step(phase: Phase, from_nm: float, to_nm: float, time_min: float | None, fuel: float | None = 0.5) -> Step:
    """A step on the first piece, whose heights are those of its distances: 100 ft a mile."""
    start_ft, end_ft = 3_000 + 100 * from_nm, 3_000 + 100 * to_nm
    return Step(TRACK[0], phase, from_nm, to_nm, start_ft, end_ft, 90.0, CALM, 0.0, time_min, fuel)


def level(from_nm: float, to_nm: float) -> Step:
    return level_step(TRACK[0], from_nm, to_nm, 3000, STILL)


def climb(from_nm: float, to_nm: float) -> Step:
    return step(Phase.CLIMB, from_nm, to_nm, (to_nm - from_nm) / 90 * 60)


def descent(from_nm: float, to_nm: float) -> Step:
    return step(Phase.DESCENT, from_nm, to_nm, (to_nm - from_nm) / 90 * 60)


def lengths(*steps: Step) -> list[float]:
    """The NM of each run that steps make."""
    return [round(group[-1].end_nm - group[0].start_nm, 6) for group in grouped(steps)]


def run(*steps: Step) -> Run:
    (found,) = runs(steps)
    return found


def test_level_flight_by_hand() -> None:
    one = level_step(TRACK[2], 31.0, 34.0, 3000, STILL)
    assert (one.start_nm, one.end_nm, one.from_nm, one.to_nm) == (1, 4, 31, 34)
    assert (one.time_min, one.fuel) == pytest.approx((1.5, 1.5 / 60 * 9))
    slow = level_step(TRACK[2], 31.0, 34.0, 3000, AGAINST)
    assert (slow.time_min, slow.fuel) == pytest.approx((1.8, 1.8 / 60 * 9))
    assert level_step(TRACK[2], 31.0, 34.0, 3000, changed(STILL, winds=None)).time_min is None
    thirstless = level_step(TRACK[2], 31.0, 34.0, 3000, changed(STILL, burn_per_h=None))
    assert thirstless.time_min == pytest.approx(1.5)
    assert thirstless.fuel is None


def test_a_distance_from_take_off_along_its_stretch() -> None:
    assert [along_stretch(TRACK[3], nm) for nm in (44, 45, 50, 60, 61)] == [15, 15, 20, 30, 30]


@pytest.mark.parametrize(("to_nm", "expected"), [(6.9, [6.9]), (7.1, [5.0, 2.1])])
def test_level_flight_of_less_than_a_minute_goes_with_the_climb_before_it(to_nm: float, expected: list[float]) -> None:
    assert lengths(climb(0, 5), level(5, to_nm)) == expected
    assert lengths(level(5, to_nm)) == [round(to_nm - 5, 6)]


@pytest.mark.parametrize(("to_nm", "expected"), [(5.9, [5.9]), (6.1, [5.0, 1.1])])
def test_level_flight_of_less_than_a_mile_goes_with_the_climb_before_it(to_nm: float, expected: list[float]) -> None:
    # At 30 kt a mile takes two minutes.
    assert lengths(climb(0, 5), step(Phase.CRUISE, 5, to_nm, (to_nm - 5) * 2)) == expected
    assert lengths(climb(0, 5), step(Phase.CRUISE, 5, to_nm, None)) == expected


def test_short_level_flight_goes_with_the_climb_next_to_it_and_not_by_what_came_first() -> None:
    assert lengths(level(0, 3), climb(3, 5), level(5, 6.5)) == [3, 3.5]
    assert lengths(level(0, 3), climb(3, 5), level(5, 6.5), climb(6.5, 9)) == [3, 6]
    assert lengths(climb(0, 3), descent(3, 5), level(5, 6.5), descent(6.5, 9)) == [3, 6]


def test_a_minute_and_a_mile_are_a_leg() -> None:
    assert lengths(climb(0, 5), step(Phase.CRUISE, 5, 6, 1.0)) == [5, 1]


def test_short_level_flight_goes_with_the_descent_behind_it_where_no_climb_is_before() -> None:
    assert lengths(level(0, 1.5), descent(1.5, 9)) == [9]
    assert lengths(level(0, 2.5), descent(2.5, 9)) == [2.5, 6.5]
    assert lengths(climb(0, 5), level(5, 6.5), descent(6.5, 9)) == [6.5, 2.5]


def test_two_climbs_with_short_level_flight_between_are_one_and_a_climb_and_a_descent_are_two() -> None:
    assert lengths(climb(0, 5), level(5, 6.5), climb(6.5, 9)) == [9]
    assert lengths(climb(0, 5), level(5, 7.5), climb(7.5, 9)) == [5, 2.5, 1.5]
    assert lengths(climb(0, 5), descent(5, 9)) == [5, 4]


def test_pieces_are_never_taken_together() -> None:
    later = changed(climb(0, 5), piece=TRACK[1])
    assert [len(group) for group in grouped((climb(0, 2), climb(2, 5), later))] == [2, 1]


def test_where_a_climb_or_descent_within_a_leg_begins_or_ends() -> None:
    assert run(climb(0, 5), level(5, 6.5)).changes == ((PointKind.TOP_OF_CLIMB, 5),)
    assert run(level(0, 1.5), descent(1.5, 9)).changes == ((PointKind.TOP_OF_DESCENT, 1.5),)
    assert run(climb(0, 5), level(5, 6.5), climb(6.5, 9)).changes == (
        (PointKind.TOP_OF_CLIMB, 5),
        (PointKind.LEVEL_CHANGE, 6.5),
    )
    assert run(climb(0, 5), climb(5, 9)).changes == ()


def test_speed_and_wind_of_a_run_are_means_over_its_time() -> None:
    # 1 min at 90 kt in 10 kt, 3 min at 120 kt in 30 kt: 112.5 kt and 25 kt. 2 + 8 NM in 4 min are 150 kt.
    slow = changed(step(Phase.CLIMB, 0, 2, 1.0), wind=Wind(90.0, 10.0), beyond_ft=7.0)
    fast = changed(step(Phase.CLIMB, 2, 10, 3.0), wind=Wind(90.0, 30.0), beyond_ft=5.0, tas_kt=120.0)
    found = run(slow, fast)
    assert (found.tas_kt, found.time_min, found.groundspeed_kt) == pytest.approx((112.5, 4, 150))
    assert found.wind is not None
    assert (found.wind.from_true_deg, found.wind.speed_kt) == pytest.approx((90, 25))
    assert (found.fuel_used, found.wind_beyond_ft) == (1.0, 7.0)
    assert found.true_course_deg == pytest.approx(90)
    assert (found.start_altitude_ft, found.end_altitude_ft) == (3000, 4000)


def test_a_level_run_has_the_speed_of_its_triangle() -> None:
    found = run(level_step(TRACK[0], 0.0, 10.0, 3000, AGAINST))
    assert (found.groundspeed_kt, found.time_min) == pytest.approx((100, 6))


def test_a_climb_of_one_step_has_the_speed_of_its_way_over_its_time() -> None:
    # 2 NM in a minute and a half are 80 kt, though 90 kt in calm air would be more.
    assert run(step(Phase.CLIMB, 3, 5, 1.5)).groundspeed_kt == pytest.approx(80)


def test_fuel_and_time_of_a_run_with_an_unknown_part_are_unknown() -> None:
    assert run(climb(0, 2), step(Phase.CLIMB, 2, 4, 1.0, fuel=None)).fuel_used is None
    untimed = run(step(Phase.CLIMB, 0, 2, None), step(Phase.CLIMB, 2, 4, None))
    assert (untimed.time_min, untimed.tas_kt) == (None, 90)


def test_a_climb_in_the_hold_is_a_run_without_course_or_way() -> None:
    low = changed(step(Phase.HOLD, 15, 15, 1.0), start_ft=3000.0, end_ft=3200.0, beyond_ft=3.0)
    high = changed(low, start_ft=3200.0, end_ft=3400.0, beyond_ft=8.0)
    found = run(low, high)
    assert (found.phase, found.start_nm, found.end_nm, found.time_min) == (Phase.HOLD, 15, 15, 2)
    assert (found.start_altitude_ft, found.end_altitude_ft, found.wind_beyond_ft) == (3000, 3400, 8)
    assert (found.true_course_deg, found.groundspeed_kt, found.triangle) == (None, None, None)
    assert found.fuel_used == 1.0


def test_a_word_names_a_point_by_its_identifier_its_radial_and_distance_or_its_place() -> None:
    span, place = Span("x.route", 1), Position(46.0, -39.0)
    station = PLANNED.log.route.points[1]
    beside = changed(station, ident="QBB090005")
    bare = changed(station, ident=None, position=place)
    plain = RouteWord("QBB", span, ident="QBB")
    off = RouteWord("QBB090005", span, ident="QBB", bearing_deg=90.0, distance_nm=5.0)
    here, there = RouteWord("46N039W", span, position=place), RouteWord("45N039W", span, position=Position(45.0, -39.0))
    named = [[names(word, point) for point in (station, beside, bare)] for word in (plain, off, here, there)]
    assert named == [[True, False, False], [False, True, False], [False, False, True], [False, False, False]]


def test_the_course_of_level_flight_and_of_a_run_is_that_of_its_middle() -> None:
    # Between two places of one latitude the geodesic leads due east at its middle. Over 6 degrees of longitude at 46 N
    # it turns by 6 x sin 46 = 4.32 degrees, a quarter of it from the first quarter of the way to the middle.
    (wide,) = reports(
        "fix WEST N46 00.00 W042 00.00\nfix EAST N46 00.00 W036 00.00\ndate 2026-07-18\nvariation 0E\nwind calm\n"
        "tas 120kt\naltitude 3000\nroute WEST EAST\n"
    )
    (piece,) = pieces(wide.log.route.stretches)
    whole_nm = piece.to_nm
    assert level_step(piece, 0.0, whole_nm, 3000, STILL).true_course_deg == pytest.approx(90, abs=1e-6)
    first = level_step(piece, 0.0, whole_nm / 2, 3000, STILL)
    assert first.true_course_deg == pytest.approx(90 - 4.316 / 4, abs=0.01)
    up = changed(step(Phase.CLIMB, 0, whole_nm / 2, 60.0), piece=piece)
    on = changed(step(Phase.CLIMB, whole_nm / 2, whole_nm, 60.0), piece=piece)
    assert run(up, on).true_course_deg == pytest.approx(90, abs=1e-6)
    assert run(up).true_course_deg == pytest.approx(90 - 4.316 / 4, abs=0.01)


def test_a_part_of_a_step_on_a_later_stretch_lies_as_far_along_it() -> None:
    one = level_step(TRACK[2], 32.0, 40.0, 3000, STILL)
    part = one.between(33.0, 39.0)
    assert (part.start_nm, part.end_nm, part.from_nm, part.to_nm) == pytest.approx((3, 9, 33, 39))
    assert part.time_min == pytest.approx(3)
    whole = one.between(32.0, 40.0)
    assert (whole.start_nm, whole.end_nm) == (one.start_nm, one.end_nm)
