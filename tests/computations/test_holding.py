"""Holding entries, timing and speeds as published."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.computations.holding import Entry, Rules, Turns, _entry_from, _Holding, _speed_limit, _workings, solve
from navlog.nav.problems import NavlogError
from navlog.request.records import StatedWind


@pytest.mark.parametrize(
    ("outbound_from_heading_deg", "expected"),
    [(60.0, Entry.TEARDROP), (80.0, Entry.DIRECT), (-100.0, Entry.PARALLEL), (-120.0, Entry.DIRECT)],
)
def test_entry_by_sector_as_published(outbound_from_heading_deg: float, expected: Entry) -> None:
    # CNATRA P-821, figure 3-8, right turns; left turns are the mirror image.
    assert _entry_from(outbound_from_heading_deg, Turns.RIGHT) is expected
    assert _entry_from(-outbound_from_heading_deg, Turns.LEFT) is expected


@given(st.integers(-179, 180))
def test_left_turns_mirror_right_turns(angle_deg: int) -> None:
    assert _entry_from(float(angle_deg), Turns.RIGHT) is _entry_from(float(-angle_deg), Turns.LEFT)


def hold(heading_deg: float, **more: object) -> _Holding:
    """Hold south of the fix, inbound 360, at 5,000 ft."""
    settings = {"inbound_course_deg": 360.0, "altitude_ft": 5000.0, **more}
    return solve(heading_deg=heading_deg, **settings)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("heading_deg", "turns", "joined", "entry_heading_deg", "entry_turn"),
    [
        (360.0, Turns.RIGHT, Entry.DIRECT, 180.0, Turns.RIGHT),
        (150.0, Turns.RIGHT, Entry.TEARDROP, 150.0, Turns.RIGHT),  # into the pattern, which lies east
        (220.0, Turns.RIGHT, Entry.PARALLEL, 180.0, Turns.LEFT),
        (210.0, Turns.LEFT, Entry.TEARDROP, 210.0, Turns.LEFT),
        (140.0, Turns.LEFT, Entry.PARALLEL, 180.0, Turns.RIGHT),
    ],
)
def test_entries_say_heading_and_turn(
    heading_deg: float, turns: Turns, joined: Entry, entry_heading_deg: float, entry_turn: Turns
) -> None:
    found = hold(heading_deg, turns=turns)
    assert (found.entry, found.entry_heading_deg, found.entry_turn) == (joined, entry_heading_deg, entry_turn)


def test_five_degrees_from_a_line_either_entry_will_do() -> None:
    assert hold(106.0).also_allowed is Entry.TEARDROP  # outbound 74 right
    assert hold(105.0).also_allowed is Entry.TEARDROP
    assert hold(104.0).also_allowed is None
    assert hold(112.0).also_allowed is Entry.DIRECT  # outbound 68 right


@pytest.mark.parametrize(
    ("rules", "altitude_ft", "kias"),
    [
        (Rules.US, 6000.0, 200.0),  # FAA AIM 5-3-8
        (Rules.US, 6001.0, 230.0),
        (Rules.US, 14_000.0, 230.0),
        (Rules.US, 14_001.0, 265.0),
        (Rules.ICAO, 14_000.0, 230.0),  # USAF AFMAN 11-217 V1, table 18.4
        (Rules.ICAO, 20_000.0, 240.0),
        (Rules.ICAO, 34_000.0, 265.0),
    ],
)
def test_greatest_speed_as_published(rules: Rules, altitude_ft: float, kias: float) -> None:
    assert _speed_limit(rules, altitude_ft).kias == kias


def test_above_34000_feet_the_icao_limit_is_a_mach_number() -> None:
    limit = _speed_limit(Rules.ICAO, 34_001.0)
    assert (limit.kias, limit.mach) == (None, 0.83)


def test_which_leg_is_timed_and_how_long() -> None:
    us, icao = hold(360.0), hold(360.0, rules=Rules.ICAO)
    assert (us.timed_leg, us.leg_min) == ("inbound", 1.0)
    assert (icao.timed_leg, icao.leg_min) == ("outbound", 1.0)
    assert hold(360.0, altitude_ft=14_000.0).leg_min == 1.0
    assert hold(360.0, altitude_ft=14_001.0).leg_min == 1.5


def test_the_inbound_drift_is_tripled_outbound_as_published() -> None:
    # FAA AIM 5-3-8: correcting 8 left inbound, correct 24 right outbound. 110 kt with 15.3 kt across: 8.0.
    found = hold(360.0, tas_kt=110.0, wind=StatedWind(270.0, 15.31, magnetic=True)).wind
    assert found is not None
    assert found.inbound_correction_deg == pytest.approx(-8.0, abs=0.01)
    assert found.inbound_heading_deg == pytest.approx(352.0, abs=0.01)
    assert found.outbound_heading_deg == pytest.approx(204.0, abs=0.03)


def test_in_a_headwind_inbound_the_outbound_leg_is_shorter() -> None:
    # 110 kt, 20 kt on the nose inbound: 90 kt in, 130 out; (90 x 1 - 20 x 2) / 130 min.
    found = hold(360.0, tas_kt=110.0, wind=StatedWind(360.0, 20.0, magnetic=True)).wind
    assert found is not None
    assert found.inbound_groundspeed_kt == pytest.approx(90.0)
    assert found.outbound_groundspeed_kt == pytest.approx(130.0)
    assert found.outbound_min == pytest.approx(50.0 / 130.0)


def test_calm_needs_no_correction_and_a_minute_out() -> None:
    calm = hold(360.0, tas_kt=110.0, wind=StatedWind(360.0, 0.0, magnetic=True)).wind
    assert calm is not None
    assert (calm.inbound_heading_deg, calm.outbound_heading_deg, calm.outbound_min) == (0.0, 180.0, 1.0)


def test_a_timed_outbound_leg_is_not_computed() -> None:
    found = hold(360.0, rules=Rules.ICAO, tas_kt=110.0, wind=StatedWind(360.0, 20.0, magnetic=True)).wind
    assert found is not None
    assert found.outbound_min is None


def test_a_true_wind_is_turned_by_the_variation() -> None:
    true = hold(360.0, tas_kt=110.0, wind=StatedWind(255.0, 15.31), variation_deg=-15.0).wind
    assert true is not None
    assert true.inbound_correction_deg == pytest.approx(-8.0, abs=0.01)
    with pytest.raises(NavlogError, match="no-variation"):
        hold(360.0, tas_kt=110.0, wind=StatedWind(255.0, 15.0))


def test_bad_input_is_a_problem() -> None:
    with pytest.raises(NavlogError, match="needs TAS and wind"):
        hold(360.0, tas_kt=110.0)
    with pytest.raises(NavlogError, match="impossible-triangle"):
        hold(360.0, tas_kt=10.0, wind=StatedWind(270.0, 20.0, magnetic=True))
    with pytest.raises(NavlogError, match="bad-value"):
        hold(360.0, tas_kt=0.0, wind=StatedWind(270.0, 20.0, magnetic=True))


def test_workings_name_their_sources() -> None:
    found = hold(70.0, tas_kt=110.0, wind=StatedWind(270.0, 15.31, magnetic=True))
    steps = _workings(found)
    assert [step.what for step in steps] == [
        "outbound course from the nose",
        "entry",
        "greatest speed",
        "inbound leg",
        "inbound heading",
        "outbound heading",
        "outbound time",
    ]
    assert steps[5].values == "180 - 3 x (-8.0)"
    assert all(step.source for step in steps)


@pytest.mark.parametrize(("wind_kt", "refused"), [(60.0, True), (54.0, False)])
def test_a_drift_of_which_three_times_is_a_right_angle_is_refused(wind_kt: float, *, refused: bool) -> None:
    # Inbound 180 in a wind from 270: the correction is asin(60 / 110) = 33.1 degrees, asin(54 / 110) = 29.4.
    wind = StatedWind(270.0, wind_kt, magnetic=True)

    def held() -> _Holding:
        return solve(inbound_course_deg=180.0, heading_deg=180.0, altitude_ft=4000.0, tas_kt=110.0, wind=wind)

    if not refused:
        found = held().wind
        assert found is not None
        assert found.outbound_heading_deg == pytest.approx(360.0 - 3 * 29.40, abs=0.1)
        return
    with pytest.raises(NavlogError, match="99 degrees") as raised:
        held()
    (problem,) = raised.value.problems
    assert problem.code == "too-much-drift"
    assert "under 30 degrees" in (problem.hint or "")
