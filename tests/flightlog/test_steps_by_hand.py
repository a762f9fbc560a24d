"""Single steps of climb and descent, each worked by hand.

The aeroplane climbs at 90 kt, at 1,000 ft/min and 12 gal/h at sea level and 600 ft/min and 10 gal/h at 4,000 ft,
linear between, and descends at 120 kt, 500 ft/min. A step of 200 ft is flown by the figures of its middle height: from
3,000 ft the first is that of 3,100 ft, 690 ft/min and 10.45 gal/h, the second that of 3,300 ft, 670 ft/min and
10.35 gal/h. The way has 15 NM on each station.
"""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from helpers.drawn import reports

from navlog.flightlog.climbing import CannotClimb, backward, climb_min, forward, standing
from navlog.flightlog.climbout import reached
from navlog.flightlog.planning import plan
from navlog.flightlog.records import Conditions, Phase
from navlog.flightlog.runs import Step
from navlog.flightlog.track import CLOSE_NM, course_at, pieces, settled, variation_at
from navlog.nav.lines import Along
from navlog.nav.record import changed
from navlog.nav.wind import CALM, Wind, WindColumn, WindLevel
from navlog.request.aircraft import Aircraft, Figures, PhaseTable

(PLANNED,) = reports(
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "direct QAA 090 - 270 QBB 30nm\ndirect QBB 090 - 270 QCC 30nm\ndate 2026-07-18\nvariation 0E\nwind calm\n"
    "tas 120kt\naltitude 3000\nroute QAA QBB QCC\n"
)
STRETCHES = PLANNED.log.route.stretches
TRACK = pieces(STRETCHES)
CLIMB = PhaseTable("climb", ((Figures(90.0, 12.0, 1_000.0),), (Figures(90.0, 10.0, 600.0),)), (0.0, 4_000.0))
DESCENT = PhaseTable("descent", ((Figures(120.0, 6.0, 500.0),),))
AIRCRAFT = Aircraft("By hand", "hand.toml", PhaseTable("cruise", ((Figures(120.0, 9.0),),)), CLIMB, DESCENT)
FIRST_MIN, SECOND_MIN = 200 / 690, 200 / 670
FIRST_NM, SECOND_NM = 90 * FIRST_MIN / 60, 90 * SECOND_MIN / 60  # 0.4348 and 0.4478 NM


def windy(*levels: tuple[float, Wind]) -> Conditions:
    winds = (WindColumn(tuple(WindLevel(height_ft, wind) for height_ft, wind in levels), None, None),)
    return changed(PLANNED.log.conditions, aircraft=AIRCRAFT, winds=winds)


STILL = windy((0.0, CALM), (20_000.0, CALM))


def heights(steps: Iterable[Step]) -> list[tuple[float, float]]:
    return [(step.start_ft, step.end_ft) for step in steps]


def places(steps: Iterable[Step]) -> list[float]:
    """Where the steps begin, from take-off, and where the last one ends."""
    flown = tuple(steps)
    return [step.from_nm for step in flown] + [flown[-1].to_nm]


def test_the_way_is_cut_half_way_between_its_stations() -> None:
    assert [(piece.from_nm, piece.to_nm, piece.part.end_nm - piece.part.start_nm) for piece in TRACK] == [
        (0, 15, 15), (15, 30, 15), (30, 45, 15), (45, 60, 15),
    ]  # fmt: skip


def test_a_climb_is_flown_by_the_figures_of_the_middle_of_each_step() -> None:
    steps = tuple(forward(TRACK, 2.0, 3000, 3400, 60, STILL))
    assert heights(steps) == [(3000, 3200), (3200, 3400)]
    assert [step.phase for step in steps] == [Phase.CLIMB] * 2
    assert [step.time_min for step in steps] == pytest.approx([FIRST_MIN, SECOND_MIN])
    assert [step.fuel for step in steps] == pytest.approx([FIRST_MIN / 60 * 10.45, SECOND_MIN / 60 * 10.35])
    assert places(steps) == pytest.approx([2, 2 + FIRST_NM, 2 + FIRST_NM + SECOND_NM])


def test_what_is_left_of_a_climb_is_a_shorter_step() -> None:
    steps = tuple(forward(TRACK, 2.0, 3000, 3300, 60, STILL))
    assert heights(steps) == [(3000, 3200), (3200, 3300)]
    # At 3,250 ft the rate is 675 ft/min.
    assert [step.time_min for step in steps] == pytest.approx([FIRST_MIN, 100 / 675])


def test_a_descent_is_flown_at_its_own_figures() -> None:
    steps = tuple(forward(TRACK, 2.0, 3300, 3000, 60, STILL))
    assert heights(steps) == [(3300, 3100), (3100, 3000)]
    assert {step.phase for step in steps} == {Phase.DESCENT}
    assert places(steps) == pytest.approx([2, 2.8, 3.2])  # 120 kt, 0.4 and 0.2 min
    assert sum(step.fuel or 0 for step in steps) == pytest.approx(0.6 / 60 * 6)


def test_a_climb_laid_back_is_told_in_the_order_flown_and_ends_at_its_place() -> None:
    steps = backward(TRACK, 20.0, 3400, 3000, STILL)
    assert heights(steps) == [(3000, 3200), (3200, 3400)]
    assert {step.phase for step in steps} == {Phase.CLIMB}
    assert places(steps) == pytest.approx([20 - FIRST_NM - SECOND_NM, 20 - SECOND_NM, 20])


def test_a_descent_laid_back_is_a_descent() -> None:
    steps = backward(TRACK, 20.0, 3000, 3400, STILL)
    assert heights(steps) == [(3400, 3200), (3200, 3000)]
    assert {step.phase for step in steps} == {Phase.DESCENT}
    assert places(steps) == pytest.approx([18.4, 19.2, 20])


def test_a_climb_without_room_begins_at_take_off_higher_up() -> None:
    (step,) = backward(TRACK, 0.3, 3400, 3000, STILL)
    assert (step.from_nm, step.to_nm, step.end_ft) == (0.0, 0.3, 3400)
    assert step.start_ft == pytest.approx(3400 - 200 * 0.3 / SECOND_NM)
    assert step.time_min == pytest.approx(0.3 / 90 * 60)


def test_a_climb_is_cut_where_it_must_end() -> None:
    (step,) = forward(TRACK, 2.0, 3000, 3400, 2.2, STILL)
    assert (step.to_nm, step.start_ft) == (2.2, 3000)
    assert step.end_ft == pytest.approx(3000 + 200 * 0.2 / FIRST_NM)
    assert step.fuel == pytest.approx(0.2 / 90 * 10.45)


def test_a_climb_goes_on_past_a_changeover_from_the_height_it_has_there() -> None:
    steps = tuple(forward(TRACK, 14.9, 3000, 3200, 60, STILL))
    edge_ft = 3000 + 200 * 0.1 / FIRST_NM  # 3,046 ft
    assert [step.piece for step in steps] == [TRACK[0], TRACK[1]]
    assert [height for pair in heights(steps) for height in pair] == pytest.approx([3000, edge_ft, edge_ft, 3200])
    # The second step's middle is (3,046 + 3,200) / 2 ft = 3,123 ft; 1,000 - 3,123 / 10 ft/min.
    assert steps[1].time_min == pytest.approx((3200 - edge_ft) / (1000 - (edge_ft + 3200) / 20))
    assert steps[1].from_nm == 15


@pytest.mark.parametrize(
    ("room_nm", "reached_nm"),
    [
        (FIRST_NM + 0.048, 15.0),  # as near as prints as 0.0 NM: drawn out to the changeover
        (FIRST_NM + 0.052, 15.0 - 0.052),
    ],
)
def test_a_climb_that_ends_just_before_a_changeover_is_drawn_out_to_it(room_nm: float, reached_nm: float) -> None:
    (step,) = forward(TRACK, 15.0 - room_nm, 3000, 3200, 60, STILL)
    assert step.to_nm == pytest.approx(reached_nm, abs=1e-12)
    assert step.end_ft == 3200
    assert step.time_min == pytest.approx((reached_nm - 15 + room_nm) / 90 * 60)


def test_a_step_within_a_climb_is_not_drawn_out() -> None:
    steps = tuple(forward(TRACK, 15.0 - FIRST_NM - 0.03, 3000, 3400, 60, STILL))
    assert steps[0].to_nm == pytest.approx(15.0 - 0.03)
    assert steps[1].to_nm == 15


@pytest.mark.parametrize(
    ("over_nm", "count"),
    [
        (0.0009, 1),  # 0.41 ft are missing at the changeover, which print as none
        (0.0013, 2),  # 0.60 ft
    ],
)
def test_a_climb_that_ends_within_half_a_foot_past_a_changeover_ends_at_it(over_nm: float, count: int) -> None:
    steps = tuple(forward(TRACK, 15.0 - FIRST_NM + over_nm, 3000, 3200, 60, STILL))
    assert len(steps) == count
    assert steps[0].to_nm == 15
    assert steps[-1].end_ft == 3200


def test_each_step_has_the_wind_of_its_middle_height() -> None:
    # From ahead, nothing at 3,000 ft and 40 kt at 3,400 ft: 10 kt at 3,100 ft and 30 kt at 3,300 ft.
    steps = tuple(forward(TRACK, 2.0, 3000, 3400, 60, windy((3000.0, Wind(90.0, 0.0)), (3400.0, Wind(90.0, 40.0)))))
    assert [step.to_nm - step.from_nm for step in steps] == pytest.approx([80 / 60 * FIRST_MIN, 60 / 60 * SECOND_MIN])
    assert [step.wind and step.wind.speed_kt for step in steps] == pytest.approx([10, 30])


@pytest.mark.parametrize("blowing", [Wind(0.0, 95.0), Wind(90.0, 95.0)])
def test_no_climb_is_flown_against_a_wind_that_no_heading_holds(blowing: Wind) -> None:
    with pytest.raises(CannotClimb):
        tuple(forward(TRACK, 2.0, 3000, 3400, 60, windy((0.0, blowing), (9000.0, blowing))))


def test_no_climb_is_flown_without_a_wind() -> None:
    with pytest.raises(CannotClimb):
        tuple(forward(TRACK, 2.0, 3000, 3400, 60, changed(STILL, winds=None)))


def test_a_climb_without_a_burn_has_no_fuel() -> None:
    thirstless = changed(AIRCRAFT, climb=PhaseTable("climb", ((Figures(90.0, None, 600.0),),)))
    given = changed(STILL, aircraft=thirstless)
    assert [step.fuel for step in forward(TRACK, 2.0, 3000, 3200, 60, given)] == [None]
    assert [step.fuel for step in standing(TRACK[1], Phase.HOLD, 3000, 3200, given)] == [None]


def test_no_change_of_height_has_no_steps() -> None:
    assert tuple(forward(TRACK, 2.0, 3000, 3000, 60, STILL)) == ()
    assert tuple(standing(TRACK[1], Phase.HOLD, 3000, 3000, STILL)) == ()


def test_a_climb_in_the_hold_takes_time_and_fuel_and_no_way() -> None:
    steps = tuple(standing(TRACK[1], Phase.HOLD, 3000, 3300, STILL))
    assert heights(steps) == [(3000, 3200), (3200, 3300)]
    assert [step.time_min for step in steps] == pytest.approx([FIRST_MIN, 100 / 675])
    assert [step.fuel for step in steps] == pytest.approx([FIRST_MIN / 60 * 10.45, 100 / 675 / 60 * 10.375])
    assert {(step.from_nm, step.to_nm) for step in steps} == {(30.0, 30.0)}
    assert {step.phase for step in steps} == {Phase.HOLD}


def test_height_lost_at_a_place_goes_by_the_figures_of_descent() -> None:
    steps = tuple(standing(TRACK[1], Phase.LOSING, 3300, 3000, STILL))
    assert heights(steps) == [(3300, 3100), (3100, 3000)]
    assert [step.time_min for step in steps] == pytest.approx([0.4, 0.2])


def test_the_time_of_a_climb_alone() -> None:
    stretch = STRETCHES[0]
    assert climb_min(STILL, stretch, 3000, 3400) == pytest.approx(FIRST_MIN + SECOND_MIN)
    assert climb_min(STILL, stretch, 3000, 3000) == 0
    assert climb_min(STILL, stretch, 3000, 4400) is None  # the table ends at 4,000 ft
    assert climb_min(PLANNED.log.conditions, stretch, 3000, 3400) is None


def test_the_height_within_a_step_is_linear_and_a_part_has_its_share() -> None:
    (step,) = forward(TRACK, 20.0, 3000, 3200, 60, STILL)
    middle_nm, end_nm = 20 + FIRST_NM / 4, 20 + FIRST_NM
    assert step.height_at(middle_nm) == pytest.approx(3050)
    part = step.between(middle_nm, end_nm)
    assert (part.from_nm, part.to_nm) == pytest.approx((middle_nm, end_nm))
    assert (part.start_ft, part.end_ft) == pytest.approx((3050, 3200))
    assert (part.time_min, part.fuel) == pytest.approx((0.75 * FIRST_MIN, 0.75 * FIRST_MIN / 60 * 10.45))
    assert (part.start_nm, part.end_nm) == pytest.approx((middle_nm, end_nm))  # the first stretch begins at take-off
    (held,) = standing(TRACK[1], Phase.HOLD, 3000, 3200, STILL)
    assert held.height_at(30.0) == 3200


def test_a_place_as_near_as_rounding_to_a_changeover_is_at_it() -> None:
    assert settled(TRACK, 15.0 + CLOSE_NM / 2) == 15.0
    assert settled(TRACK, 60.0 - CLOSE_NM / 2) == 60.0
    assert settled(TRACK, 15.0 + 3 * CLOSE_NM) == 15.0 + 3 * CLOSE_NM


@pytest.mark.parametrize(("along_nm", "variation_deg"), [(0, -10), (7.5, -11), (15, -12), (22.5, -14), (30, -16)])
def test_the_variation_is_linear_from_start_to_middle_and_from_middle_to_end(
    along_nm: float, variation_deg: float
) -> None:
    stretch = changed(STRETCHES[0], variation=Along(-10.0, -12.0, -16.0), variation_source="model")
    found_deg, source = variation_at(stretch, stretch.parts[0], along_nm)
    assert found_deg == pytest.approx(variation_deg)
    assert source == "model"


def test_without_a_variation_the_declination_stands_in_but_not_that_of_a_station_turned_to_true_north() -> None:
    (asked,) = reports(
        "station QAA 113.00 decl 7E\nstation QBB 114.00 decl true\ndirect QAA 090 - 270 QBB 30nm\ndate 2026-07-18\n"
        "wind calm\ntas 120kt\naltitude 3000\nroute QAA QBB\n"
    )
    stretch = changed(asked.log.route.stretches[0], variation=None)
    assert [variation_at(stretch, part, part.start_nm) for part in stretch.parts] == [
        (7.0, "station"), (None, "unknown"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("declination", "course_deg"),
    [
        ("decl 15W", 75),  # a set course counts from the station's north
        ("", 80),  # which is not known: today's variation, 10 W, stands in
        ("decl true", 90),
    ],
)
def test_without_positions_a_set_course_is_made_true(declination: str, course_deg: float) -> None:
    (asked,) = reports(
        f"station QAA 113.00 {declination}\nstation QBB 114.00 {declination}\ndirect QAA 090 - 270 QBB 30nm\n"
        "date 2026-07-18\nwind calm\ntas 120kt\nvariation 10W\naltitude 3000\nroute QAA QBB\n"
    )
    (stretch,) = asked.log.route.stretches
    first = stretch.parts[0]
    found_deg, where = course_at(stretch, first, 5.0)
    assert found_deg == pytest.approx(course_deg)
    assert where is None
    stated = changed(stretch, true_course=Along(33.0, 34.0, 35.0))
    assert course_at(stated, changed(first, guidance=None), 5.0) == (34.0, None)
    assert course_at(changed(stretch, true_course=None), changed(first, guidance=None), 5.0) == (None, None)


def climbed_out(ahead: str) -> tuple[float, float, float, float] | None:
    """Where a climb of 400 ft a mile from a field at 500 ft, 10 NM before QAA, is above the minimums of its way."""
    (asked,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nairport XLO N46 00.00 W039 00.00 elev 500ft\n"
        f"direct QAA 270 - XLO 10nm min 5000\ndirect QAA 090 - 270 QBB 30nm {ahead}\ndate 2026-07-18\nvariation 0E\n"
        "wind calm\ntas 120kt\nrules ifr\naltitude 9500\nroute XLO QAA QBB\n"
    )
    steady = changed(AIRCRAFT, climb=PhaseTable("climb", ((Figures(90.0, 12.0, 600.0),),)))
    given = changed(asked.log.conditions, aircraft=steady)
    climb = tuple(leg for leg in plan(asked.log.route, given).legs if leg.phase is Phase.CLIMB)
    found = reached(climb, given)
    if found is None:
        return None
    return found.minimum_ft, found.distance_nm, found.time_min, found.gradient_ft_per_nm


@pytest.mark.parametrize(
    ("ahead", "where"),
    [
        ("min 3000", (3000, 10, 20 / 3)),  # met as the way before is left at 4,500 ft, under its 5,000 ft
        ("min 4500", (4500, 10, 20 / 3)),
        ("min 6000", (6000, 13.75, 55 / 6)),  # 5,500 ft at 400 ft a mile and 600 ft/min
        ("", None),  # 5,000 ft are passed beyond QAA, where nothing is known to ask for them
    ],
)
def test_where_a_climb_is_above_the_minimums_of_its_way(ahead: str, where: tuple[float, ...] | None) -> None:
    assert climbed_out(ahead) == (where and pytest.approx((*where, 400)))
