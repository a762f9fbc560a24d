"""Winds from afar, ground above the level, levels that VFR has not, courses that turn, stated figures that clash."""

from __future__ import annotations

import pytest
from helpers.judged import CHART_ONLY, found, judged_text, of

from navlog.rules.samples import FLOWN_BY_FILE, SampleCatalogue, sample


def declined(out: str, into: str, radials: str) -> list[str]:
    """What is found of two stations without positions and their declinations."""
    return found(
        "radials-bent",
        *CHART_ONLY,
        f"station QHB 113.70 decl {out}",
        f"station QEL 110.20 decl {into}",
        f"airway V801 QHB {radials} QEL 29.5nm mea 3000",
    )


def test_declinations_that_bend_a_straight_line_are_told() -> None:
    # 100 - 17 = 83 and 281 - 180 + 17 = 118, 35 degrees apart; 17W at both ends gives 83 and 84.
    assert declined("17W", "17E", "100 - 281") == [
        "error: outbound QHB 100 (17W) is 083 true and inbound QEL 281 (17E) is 118 true: they do not lie on one line"
    ]
    assert declined("17W", "17W", "100 - 281") == []


@pytest.mark.parametrize(("into", "told"), [("7W", False), ("6W", True), ("27W", False), ("28W", True)])
def test_true_courses_of_one_line_may_be_10_degrees_apart(into: str, told: bool) -> None:
    assert bool(declined("17W", into, "100 - 280")) is told


# A place on the meridian of QHB so far south of XOLD (N45 41.00 W039 20.00): a degree is 60.0 NM there.
@pytest.mark.parametrize(
    ("place", "severity"), [("4400N03920W", None), ("4330N03920W", "warning"), ("4000N03920W", "error")]
)
def test_a_wind_from_afar_is_told(place: str, severity: str | None) -> None:
    # From XHAR, N46 14.50, the farthest end: 134.5, 164.5 and 374.5 NM to the minute of latitude.
    told = found("wind-far", f"wind at {place} 230/12")
    assert [one.split(":")[0] for one in told] == ([severity] if severity else [])
    assert all(f"the nearest wind is that at {place}" in one and "NM from XHAR" in one for one in told)


def test_the_nearest_of_several_places_counts() -> None:
    both = sample("wind at 4000N03920W 230/12") + "wind at QEL 230/12\n"
    assert of("wind-far", judged_text(both, SampleCatalogue())) == []


@pytest.mark.parametrize(
    ("altitude", "told"),
    [("17999", []), ("18000", ["18000"]), ("FL185", ["FL185"]), ("18500", ["18500"])],
)
def test_vfr_ends_below_18000_ft(altitude: str, told: list[str]) -> None:
    said = [f"error: {level} is no level for VFR: class A begins at 18000 ft" for level in told]
    assert found("vfr-too-high", f"altitude {altitude}") == said
    assert found("vfr-too-high", f"altitude {altitude}", "rules ifr") == []
    assert found("vfr-too-high", f"altitude {altitude}", "levels icao") == []


def test_a_level_above_the_last_one_of_vfr_is_not_advised() -> None:
    (first, *_) = found("cruising-level", "altitude 17999", "route QHB V801 QEL")
    assert " 16500 ft (" in first
    assert "18500" not in first
    assert "19500" not in first


@pytest.mark.parametrize(("altitude", "told"), [("819", ["QHB"]), ("820", []), ("700", ["XHAR", "QHB"])])
def test_a_level_under_the_ground_is_an_error(altitude: str, told: list[str]) -> None:
    elevations = {"QHB": 820, "XHAR": 790}
    assert found("under-ground", f"altitude {altitude}", "route XHAR QHB V801 QEL XOLD") == [
        f"error: {altitude} ft is below {place}, elevation {elevations[place]} ft" for place in told
    ]


def test_a_moca_over_its_mea_is_told() -> None:
    chart = "airway V801 QHB 212 - 034 QEL 29.5nm mea {} moca {} cop 11 QHB"
    assert found("moca-over-mea", chart.format(2400, 3000)) == ["warning: MOCA 3000 is over MEA 2400 on V801"]
    assert found("moca-over-mea", chart.format(3000, 3000)) == []
    # Only in the direction flown.
    assert found("moca-over-mea", chart.format("3000/2000", 2400)) == []


@pytest.mark.parametrize(
    ("statements", "told"),
    [
        (("reserve 29min",), "29 min is under the 30 min of 14 CFR 91.151 day"),
        (("reserve 30min",), None),
        (("reserve 44min", "rules ifr"), "44 min is under the 45 min of 14 CFR 91.167"),
        (("reserve 44min", "rules vfr night"), "44 min is under the 45 min of 14 CFR 91.151 night"),
        (("reserve 45min", "rules ifr"), None),
    ],
)
def test_a_stated_reserve_under_the_rules_is_told(statements: tuple[str, ...], told: str | None) -> None:
    said = [] if told is None else [f"warning: the stated reserve of {told}"]
    assert found("reserve-under-rule", *statements) == said


def test_one_heading_on_a_course_that_turns_is_told() -> None:
    # On a sphere the great circle from XHAR to N55 W015 leaves on 051.2 and arrives on 070.0; the variation is
    # 12.5W and 5.1W at its ends by WMM2025 (see the tests of magnetism).
    (told,) = found("course-turns", "route XHAR 5500N01500W", "-direct QHB", "-direct QEL")
    assert told == "warning: the magnetic course goes from 064 to 075 on one heading"
    assert found("course-turns", "route XHAR XOLD", "-direct QHB", "-direct QEL") == []


@pytest.mark.parametrize(("day", "severity"), [("18", None), ("20", "error"), ("21", "error")])
def test_a_bulletin_of_another_day_takes_its_month_from_the_flight(day: str, severity: str | None) -> None:
    for off in (f"off {'15:10Z'}", "-off"):
        told = found("bulletin-period", *FLOWN_BY_FILE, f"date 2026-07-{day}", off)
        if severity is None or (off == "-off" and day == "20"):
            assert told == []
            continue
        assert [one.split(":")[0] for one in told] == [severity]
        assert ("with the month taken from the flight" in told[0]) is (day == "21")


def test_the_distance_of_an_alternate_is_compared() -> None:
    told = found("distance-differs", "alternate XHAR at 4500", "direct XOLD - XHAR 30nm min 4000")
    assert [one.split(" is charted")[0] for one in told] == ["error: XOLD to XHAR"]
