"""The steps in words."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from helpers.drawn import ROUTES, report, reports
from helpers.flown import changed
from helpers.generated import Generated, generated_flights
from hypothesis import given, settings

from navlog.printed.page import Printed
from navlog.rules.report import Report
from navlog.sheets.pages import PAGES
from navlog.sheets.steps import document, steps


def told(whole: Report) -> dict[str, list[str]]:
    """The steps of each place by its name."""
    found: dict[str, list[str]] = {}
    for place, lines in steps(whole.log):
        found.setdefault(place.split(",")[0], list(lines))
    return found


def test_a_station_is_tuned_identified_set_and_its_flag_expected() -> None:
    first = told(report("hostile"))["XHAR"]
    assert first[:2] == [
        "Tune and identify QHB 113.70 [--.- .... -...].",
        "Set 272 on the course selector and expect TO.",
    ]


def test_a_radial_is_met_at_45_degrees_at_most() -> None:
    """Out of QHB on 212, compass 210 in no wind: 45 degrees either side are 255 and 165."""
    out = told(report("hostile"))["QHB"]
    assert "Off the radial: heading 255 with the needle right, 165 with it left." in out


def test_what_holds_at_every_station_is_told_once_in_a_box() -> None:
    printed = document([report("marsh")], PAGES["a4"])
    text = " ".join(printed.replace("|", " ").split())
    for lesson in (
        "intercept it at 45 degrees at most",
        "the angle must be wider than you are off in degrees, or the station is passed before the radial is met",
        "the flag flips from TO to FROM",
        "ICAO Doc 8168 Vol I",
    ):
        assert text.count(lesson) == 1, lesson
    frame = [number for number, line in enumerate(printed.splitlines()) if line == f"+{'-' * 78}+"]
    assert len(frame) == 2
    assert all(line[0] == line[-1] == "|" and len(line) == 80 for line in printed.splitlines()[frame[0] + 1 : frame[1]])


@pytest.mark.parametrize("name", ["marsh", "hostile", "dateline"])
def test_no_action_stands_twice_at_a_place(name: str) -> None:
    for _, lines in steps(report(name).log):
        assert len(set(lines)) == len(lines)


def test_a_changeover_at_a_fix_is_told_once_with_its_reading_and_time() -> None:
    # The way bends at LAKER, where QHB is left on 200 and QEL is met: no reading, time or tuning stands twice there.
    text = changed(
        "equipment vor 2 dme 1", "fix LAKER QHB 200 x QEL 050", "route QHB V803 LAKER V803 QEL",
        "airway V803 QHB 200 - LAKER 17.3nm mea 3000 turn - 050 QEL 13.1nm mea 3000", without=("airway", "direct"),
    )  # fmt: skip
    for place in told(reports(text)[0]).values():
        for words in ("Expect it", "DME reads", "expect it"):
            assert sum(words in step for step in place) <= 1, place
        tuned = [match for step in place for match in re.findall(r"une (?:and identify )?(Q..) 1", step)]
        assert len(tuned) == len(set(tuned)), place


def test_the_cone_over_a_station_is_told_with_the_height_it_comes_from() -> None:
    # 3,000 ft over a station at 820 ft: 2,180 / 6,076.1 x tan 50 = 0.43 NM (ICAO Doc 8168, Volume I).
    (over,) = [step for step in told(report("hostile"))["QHB"] if step.startswith("Over QHB")]
    assert over == "Over QHB hold the heading within 0.4 NM (2180 ft above the station)."


def test_the_turn_comes_before_the_new_course() -> None:
    # The course turns by 60 degrees; from heading 267 to 213 are 54.
    out = told(report("hostile"))["QHB"]
    turn = next(index for index, step in enumerate(out) if step.startswith("Note the time. Turn left 54 degrees"))
    assert out[turn + 1] == "Set 212 on the course selector and expect FROM."


def test_a_changeover_is_at_so_many_miles_and_minutes() -> None:
    at = told(report("marsh"))["COP"]
    assert re.match(r"Change over here: 11\.0 NM from QHB \(QHB DME reads 11\.0\), 0:0\d after QHB; stated", at[0])
    assert at[1:3] == ["Tune and identify QEL 110.20 [--.- . .-..].", "Set 214 on the course selector and expect TO."]


def test_a_fix_is_cross_checked() -> None:
    places = told(report("marsh"))
    assert "At PINEY QEL DME reads 12.0." in places["PINEY"]
    assert (
        "On the other receiver tune QHB 113.70 [--.- .... -...] and set 134 FROM: at LAKER the needle centres."
        in (places["LAKER"])
    )


def test_an_altitude_at_a_crossing_is_told_before_it() -> None:
    assert "Cross QEL at 4500 ft or above (MCA)." in told(report("marsh"))["COP"]


def test_a_descent_to_an_airport_is_no_order_to_go_below_the_minimum() -> None:
    down = [step for _, told in steps(report("marsh").log) for step in told if step.startswith("Descend")]
    assert [step.partition(" on heading")[0] for step in down] == [
        "Descend to 4620 ft (min ?)",
        "Descend to 1790 ft for XHAR",
    ]


def test_no_full_stop_reads_as_a_dot_of_morse() -> None:
    for name in ("marsh", "hostile", "dateline"):
        for lines in told(report(name)).values():
            for step in lines:
                outside = re.sub(r"\[[^]]*\]", "", step)
                assert not re.search(r"(?<!\S)[.-]+(?!\S)", outside.removesuffix(".")), step


def test_an_airport_beside_its_station_has_no_course() -> None:
    text = changed("airport XHAR N46 12.50 W039 20.70 elev 790ft", without=("direct",))
    assert "Beside QHB there is no course to set." in told(reports(text)[0])["XHAR"]


def test_steps_are_numbered_through_within_80_columns() -> None:
    printed = document([report("marsh")], PAGES["a4"])
    numbers = [int(match) for match in re.findall(r"^ +(\d+)\. ", printed, re.MULTILINE)]
    assert numbers == list(range(1, len(numbers) + 1))
    assert max(map(len, printed.splitlines())) <= 80


@settings(max_examples=100, deadline=None)
@given(generated_flights())
def test_every_turn_leads_from_the_heading_printed_before_to_the_next(flight: Generated) -> None:
    """A turn of the course is another one where the wind is strong: 220 left 75 is not 135."""
    whole = reports(flight.text)[0]
    flown: int | None = None
    for _, lines in steps(whole.log):
        for line in lines:
            turn = re.search(r"Turn (left|right) (\d+) degrees to heading (\d{3})", line)
            if turn:
                assert flown is not None
                signed = int(turn[2]) * (1 if turn[1] == "right" else -1)
                assert (flown + signed - int(turn[3])) % 360 == 0, line
                assert int(turn[2]) <= 180
            heading = re.search(r"[Hh]eading ~?(\d{3})", line)
            if heading and "Off the radial" not in line:
                flown = int(heading[1])
    rows = Printed.of(whole).route.needles
    for before, one in pairwise(rows):
        if one.turn:
            signed = int(one.turn[1:]) * (1 if one.turn[0] == "R" else -1)
            assert (int(before.heading.strip("~M!")) + signed - int(one.heading.strip("~M!"))) % 360 == 0


def test_a_turn_without_headings_is_told_as_one_of_the_course() -> None:
    text = (ROUTES / "hostile.route").read_text("utf-8")
    calm = "\n".join(line for line in text.splitlines() if not line.startswith(("wind", "aircraft")))
    out = told(reports(calm)[0])["QHB"]
    assert any(re.fullmatch(r"Note the time. The course turns left \d+ degrees: fly heading \?.", step) for step in out)
    assert not any(step.startswith("Note the time. Turn") for step in out)
