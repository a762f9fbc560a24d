"""The workings of a log: every line can be redone from what it prints, and ends at the log's own figure."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, Json, changed, flight, navlog
from helpers.redone import agrees, printed_result, redo

WINDS_AT_PLACES = ("wind at QHB 3000 230/12 6000 250/20", "wind at QEL 3000 300/25", "wind at QSK calm")
AIRCRAFT = f'aircraft "{EXAMPLES / "trainer.toml"}"'
FLIGHTS = {
    "winds at places": changed(*WINDS_AT_PLACES, without=("wind",)),
    "climb and descent": changed(
        AIRCRAFT, "altitude 4500", "wind 1000 230/12 6000 260/30", without=("tas", "burn", "wind")
    ),
    "climb in calm": changed(AIRCRAFT, "altitude 4500", "wind calm", without=("tas", "burn", "wind")),
    "short of height": changed(AIRCRAFT, "altitude 9000", without=("tas", "burn")),
    "a hold": changed("hold QHB 6min"),
    "two levels": changed("route XHAR QHB/A055 V801 QEL/A030 XOLD", AIRCRAFT, without=("tas", "burn")),
    "DME fix": changed("fix PINEY QEL 126 5nm", "route XHAR QHB V801 QEL PINEY XOLD", "equipment vor 1 dme 1"),
    "magnetic wind": changed("wind 230M/20"),
    "true station": changed("station QHB 113.70 N46 12.30 W039 20.70 decl true class L dme elev 820ft"),
    "stated variation": changed("variation 11W"),
    "alternate and contingency": changed("alternate XHAR", "contingency 5%", "extra 1gal"),
    "litres": changed("fuel 140L", "taxi 4L", "burn 32L/h", "reserve 45min"),
    "north": changed(
        "airport XOLD N45 55.00 W039 33.00 elev 350ft", "wind 350/12", "variation 0.4E", without=("direct QEL",)
    ),
}


def explained(text: str, *options: str) -> list[Json]:
    found = navlog("explain", "-", "--format", "json", *options, typed=text)
    assert found.status == 0, found.err
    return [json.loads(line) for line in found.out.splitlines()]


def example(path: Path) -> str:
    """An example's text, which may name files beside it."""
    return re.sub(r"^aircraft +(\S+)", rf'aircraft "{EXAMPLES}/\1"', path.read_text("utf-8"), flags=re.MULTILINE)


EVERY = [
    *(pytest.param(example(path), id=path.stem) for path in sorted(EXAMPLES.glob("*.route"))),
    *(pytest.param(text, id=name) for name, text in FLIGHTS.items()),
]


@pytest.mark.parametrize("text", EVERY)
def test_every_line_can_be_redone_from_what_it_prints(text: str) -> None:
    lines = 0
    for worked in explained(text):
        for step in [*(step for leg in worked["legs"] for step in leg["workings"]), *worked["fuel"]]:
            if step["values"]:
                assert agrees(step["values"], step["result"]), step
                lines += 1
    assert lines > 20


RESULTS = {
    "true course": "true_course_deg",
    "magnetic course": "magnetic_course_deg",
    "wind correction": "wind_correction_deg",
    "true heading": "true_heading_deg",
    "magnetic heading": "magnetic_heading_deg",
    "compass heading": "compass_heading_deg",
    "groundspeed": "groundspeed_kt",
    "true airspeed": "tas_kt",
    "mean true airspeed": "tas_kt",
    "time": "time_min",
    "time since take-off": "elapsed_min",
    "fuel of this leg": "fuel_used_gal",
}


@pytest.mark.parametrize("text", EVERY)
def test_every_result_is_the_figure_of_the_log(text: str) -> None:
    logs = [json.loads(line) for line in navlog("log", "-", "--format", "json", typed=text).out.splitlines()]
    for worked, log in zip(explained(text), logs, strict=True):
        for leg, computed in zip(worked["legs"], log["legs"], strict=True):
            assert leg["number"] == computed["number"]
            if computed["phase"] == "hold":
                continue
            shown = {step["what"]: step["result"] for step in leg["workings"]}
            for what, key in RESULTS.items():
                if what not in shown:
                    continue
                result = printed_result(shown[what])
                litres = 3.785411784 if shown[what].endswith(" L") else 1.0
                assert abs(result.value.real - computed[key] * litres) % 360.0 <= result.slack + 1e-9, (what, key)
            assert has(shown, "magnetic heading") == (computed["magnetic_heading_deg"] is not None)
            assert has(shown, "time") == (computed["time_min"] is not None)
            guidance = computed["guidance"]
            if guidance is not None and guidance["set_course_deg"] is not None:
                assert shown[f"course to set for {guidance['ident']}"].endswith(f" {guidance['flag']}")
            winds = [result for what, result in shown.items() if "wind" in what and result.endswith(("T", "calm"))]
            if computed["wind"] is not None:
                last = printed_result(winds[-1]).value
                assert abs(last) == pytest.approx(computed["wind"]["speed_kt"], abs=0.0501)


ALTERNATES = {
    "from the destination": (changed("alternate XHAR", "contingency 5%", "extra 1gal"), "XHAR"),
    "from a point in the air": (
        changed("alternate XHAR from QEL via V801 QHB at 6500", AIRCRAFT, without=("tas", "burn")),
        "XHAR from QEL",
    ),
}


@pytest.mark.parametrize("name", ALTERNATES)
def test_the_workings_of_an_alternate_are_those_of_a_flight(name: str) -> None:
    text, alternate = ALTERNATES[name]
    (flight,) = explained(text, "--alternate", alternate)
    log = json.loads(navlog("log", "-", "--format", "json", typed=text).out)["alternates"][0]
    assert [leg["number"] for leg in flight["legs"]] == [leg["number"] for leg in log["legs"]]
    for leg, computed in zip(flight["legs"], log["legs"], strict=True):
        shown = {step["what"]: step["result"] for step in leg["workings"]}
        for what, key in (RESULTS | {f"time since {log['from']}": "elapsed_min"}).items():
            if what in shown:
                result = printed_result(shown[what])
                assert abs(result.value.real - computed[key]) % 360.0 <= result.slack + 1e-9, (what, key)
        assert f"time since {log['from']}" in shown
    for step in [*(step for leg in flight["legs"] for step in leg["workings"]), *flight["fuel"]]:
        assert not step["values"] or agrees(step["values"], step["result"]), step


def test_the_arrival_at_an_alternate_is_worked_from_the_printed_one_at_its_point() -> None:
    text = changed("alternate XHAR from QHB")
    last = {step["what"]: step for step in explained(text, "--alternate", "XHAR")[0]["legs"][-1]["workings"]}
    # 9.6 NM on 077 true in 230/12 at 110 kt: groundspeed 120.5, 4.8 min (a wind of 12 kt 153 degrees off the course).
    assert last["arrival at XHAR"]["values"] == "15:16 + 0:05"
    assert last["arrival at XHAR"]["result"] == "15:21Z"


def test_an_alternate_that_is_not_there_is_one_clear_problem() -> None:
    text = changed("alternate XHAR") + "alternate XHAR from QHB\n"
    for asked, told in (("XOLD", "has no alternate `XOLD`"), ("XHAR", "several alternates of `-` lead to XHAR")):
        found = navlog("explain", "-", "--alternate", asked, typed=text)
        assert (found.status, found.out) == (2, "")
        assert told in found.err
        assert "[unknown-alternate]" in found.err
        assert "write `XHAR from XOLD` or `XHAR from QHB`" in found.err


def has(shown: dict[str, str], word: str) -> bool:
    return any(what.startswith(word) for what in shown)


def test_the_printed_figures_in_the_workings_are_those_of_the_sheet() -> None:
    text = (EXAMPLES / "round_robin.route").read_text("utf-8")
    sheet = navlog("log", "-", typed=text).out
    (flight,) = explained(text)
    second = {step["what"]: step["result"] for step in flight["legs"][1]["workings"]}
    (row,) = re.findall(r"^ 2 QHB .*$", sheet, re.MULTILINE)
    assert row.split()[5:] == ["212", "FROM", "213", "0:06", "15:22Z", "0.9", "35.2"]
    assert second["course to set for QHB"] == "212 FROM"
    assert second["magnetic heading"].endswith("printed 213")
    assert second["arrival at changeover"] == "15:22Z"
    assert second["fuel left at changeover"] == "35.2 gal"


def test_a_climb_is_worked_layer_by_layer() -> None:
    (flight,) = explained(FLIGHTS["climb and descent"])
    climb = {step["what"]: step for step in flight["legs"][0]["workings"]}
    assert flight["legs"][0]["phase"] == "climb"
    # From 790 ft to 4,500 ft: eighteen layers of 200 ft and one of 110 ft.
    assert climb["mean wind of the climb"]["values"].count(" of ") == 19
    assert climb["time of the climb"]["values"].startswith("200.0 / ")
    assert "110.0 / " in climb["time of the climb"]["values"]


def test_both_norths_stand_side_by_side() -> None:
    (flight,) = explained(changed())
    steps = {step["what"]: step for step in flight["legs"][1]["workings"]}
    assert steps["radial of QHB by position"]["values"].endswith("- (-15.0)")
    assert steps["variation"]["result"] == "12.6W"
    assert steps["the two norths"]["result"] == "+2.5 degrees"


def test_one_leg_alone_has_its_number_and_no_fuel_of_the_flight() -> None:
    (flight,) = explained(changed(), "--leg", "2")
    assert [leg["number"] for leg in flight["legs"]] == [2]
    assert flight["fuel"] == []
    assert (
        "LEG 2  QHB to COP, V801, cruise\n1. radial of QHB" in navlog("explain", "-", "--leg", "2", typed=changed()).out
    )


@pytest.mark.parametrize("number", ["0", "5", "-1", "999999999999999999999"])
def test_a_leg_that_is_not_there_is_one_clear_problem(number: str) -> None:
    found = navlog("explain", "-", "--leg", number, typed=changed())
    assert found.status == 2
    assert found.out == ""
    assert "[unknown-leg]" in found.err
    assert "1 to 4" in found.err


def test_what_is_not_known_says_why_and_is_not_worked() -> None:
    found = navlog("explain", "-", typed=changed(without=("wind",)))
    assert found.status == 0
    assert "no wind given" in found.out
    assert "crosswind" not in found.out
    assert "magnetic course: " in found.out


def test_an_impossible_wind_ends_at_the_crosswind() -> None:
    found = navlog("explain", "-", "--leg", "2", typed=changed("wind 287/150"))
    assert found.status == 0
    assert "crosswind: +150.0 kt" in found.out
    assert "more than the TAS of 110 kt" in " ".join(found.out.split())
    assert "true heading: " not in found.out


def test_text_keeps_to_eighty_columns() -> None:
    for text in FLIGHTS.values():
        assert max(map(len, navlog("explain", "-", typed=text).out.splitlines())) <= 80


def test_problems_of_one_flight_leave_the_others() -> None:
    text = changed(without=("route",)) + 'flight "One"\nroute XHAR QHB\nflight "Two"\nroute XHAR NOWHERE\n'
    found = navlog("explain", "-", typed=text)
    assert found.status == 2
    assert "WORKINGS - One" in found.out
    assert "NOWHERE" in found.err


def test_the_redoing_itself_can_fail() -> None:
    assert agrees("60 x 11.00 / 99.5", "6.63 min")
    assert not agrees("60 x 11.00 / 99.5", "6.66 min")
    assert not agrees("200.7 - (-12.6)", "188.1M")
    assert agrees("0.667 of 225.0/10.0 + 0.333 of 240.0/18.0", "232.1/12.6T")
    assert not agrees("0.667 of 225.0/10.0 + 0.333 of 240.0/18.0", "230.0/12.7T")
    assert redo("15:10 + 0:12").value == 922


def test_the_minutes_that_ask_for_oxygen_are_worked_from_the_legs() -> None:
    """Level at 13,000 ft all the way: every minute is above 12,500 ft, none above 14,000 (14 CFR 91.211(a))."""
    (one,) = explained(changed("altitude 13000", "wind calm"))
    (high,) = [step for step in one["limits"] if step["what"].startswith("time above")]
    total_min = sum(leg["time_min"] for leg in flight(changed("altitude 13000", "wind calm"))["legs"])
    assert high["what"] == "time above 12500 ft"
    assert float(high["result"].split()[0]) == pytest.approx(total_min, abs=0.006)
    terms = [float(term.split(" x ")[0]) for term in high["values"].split(" + ")]
    assert sum(terms) == pytest.approx(total_min, abs=0.03)
    assert explained(changed())[0]["limits"] != []
    assert not [step for step in explained(changed())[0]["limits"] if step["what"].startswith("time above")]


def test_the_sun_at_each_landing_is_worked() -> None:
    (one,) = explained(changed("off 15:10Z", "alternate XHAR"))
    told = {step["what"]: step for step in one["limits"]}
    assert set(told) == {
        f"{event} at {where}"
        for event in ("sunset", "the end of civil twilight")
        for where in ("XOLD (destination)", "XHAR (alternate)")
    }
    for step in told.values():
        event, landing = (
            sum(int(part) * size for part, size in zip(one.rstrip("Z").split(":"), (3600, 60, 1), strict=True))
            for one in step["values"].split(" - ")
        )
        assert int(step["result"].split()[0]) == pytest.approx((event - landing) / 60.0, abs=0.51)


def test_what_the_second_receiver_is_set_to_says_why() -> None:
    (one,) = explained(changed("equipment vor 2"))
    steps = [step for leg in one["legs"] for step in leg["workings"] if step["what"].startswith("second VOR receiver")]
    assert steps[0]["what"] == "second VOR receiver: next station for changeover"
    assert steps[0]["result"] == "QEL, 214 TO QEL"
    assert not any(
        step["what"].startswith("second")
        for leg in explained(changed("equipment vor 1"))[0]["legs"]
        for step in leg["workings"]
    )
