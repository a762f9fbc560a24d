"""Marking a pilot's figures: what is right, what is off and by how much, what follows from an earlier slip."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, ROOT, Json, changed, flight, navlog
from helpers.marked import marked, one_mark
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.flightlog.records import Log
from navlog.printed.rows import BY_KEY as COLUMNS
from navlog.printed.rows import rows
from navlog.request.flights import read_flights
from navlog.rules.answers import answers
from navlog.studies.answersheet import AnswerRow
from navlog.studies.marking import MarkedVerdict, Tolerances, mark
from navlog.studies.marking_quantities import BY_KEY

SHEET_COLUMNS = {
    "true_course": "true_course",
    "magnetic_course": "magnetic_course",
    "wca": "correction",
    "heading": "heading",
    "groundspeed": "groundspeed",
    "distance": "distance",
    "time": "time",
    "eta": "eta",
    "fuel_used": "fuel_used",
    "fuel_left": "fuel_left",
}
"""The columns of the answers that a sheet has, and the sheet's own keys for them."""
OUT_AND_BACK = "\n".join(
    (
        "station QHB 113.70 decl 15W",
        "station QEL 110.20 decl 15W",
        "direct QHB 090 - 270 QEL 100nm min 2500",
        "date 2026-07-18",
        "off 15:10Z",
        "altitude 3000",
        "tas 100kt",
        "burn 8gph",
        "wind 075/30",
        "fuel 38gal",
        "route QHB QEL QHB",
    )
)
"""Practice A52: 100 NM each way at 100 kt in 30 kt along the track takes 85.7 + 46.2 = 131.9 min."""


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.route")), ids=lambda path: path.stem)
@pytest.mark.parametrize("tolerance", ["1", "0"])
def test_the_figures_that_the_sheet_prints_are_right(tmp_path: Path, path: Path, tolerance: str) -> None:
    within = [word for one in ("degrees", "knots", "minutes", "miles", "fuel") for word in (f"--{one}", tolerance)]
    for one in answers(read_flights(path.read_text("utf-8"), str(path))):
        assert one.report is not None
        name = one.report.log.route.request.name
        found = navlog("mark", str(path), "--template", "--flight", name)
        assert (found.status, found.err) == (0, "")
        answers_file = tmp_path / "answers.csv"
        answers_file.write_text(filled(found.out, one.report.log), encoding="utf-8")
        got = navlog("mark", str(path), str(answers_file), "--flight", name, "--format", "json", *within)
        assert got.err == ""
        marking = json.loads(got.out)
        assert [mark for mark in marking["marks"] if mark["verdict"] != "right"] == []
        assert marking["right"] >= 11 * len(one.report.log.legs)
        assert got.status == 0


def filled(template: str, log: Log) -> str:
    """The template with the figures in it that the log's sheets print."""
    header, *lines = template.splitlines()
    done = [header]
    for line, row in zip(lines, rows(log), strict=False):
        cells = dict(zip(header.split(","), line.split(","), strict=True))
        cells |= {column: COLUMNS[key].figure(row) for column, key in SHEET_COLUMNS.items()}
        set_course = COLUMNS["set_course"].figure(row)
        if set_course != "-":
            cells["set_course"], cells["flag"] = set_course.split()
        done.append(",".join(cells.values()))
    return "\n".join(done) + "\n"


@pytest.mark.parametrize(
    ("column", "right", "off", "more"),
    [
        # Leg 2 of the invented flight: set course 212, heading, time and fuel as its log prints them.
        ("set_course", ("211", "213.0"), ("210.9", "213.1", "032"), ("--degrees", "2")),
        ("time", ("0:06", "7", "6min"), ("0:09", "4"), ("--minutes", "3")),
        ("distance", ("11", "11.5", "10.5nm"), ("11.6", "10.4"), ("--miles", "1nm")),
        ("fuel_used", ("0.9", "1.0gal"), ("1.2", "0.7"), ("--fuel", "0.3")),
    ],
)
def test_a_figure_is_right_within_the_tolerance_asked_for(
    tmp_path: Path, column: str, right: tuple[str, ...], off: tuple[str, ...], more: tuple[str, str]
) -> None:
    for value in right:
        assert one_mark(tmp_path, changed(), "2", column, value)["verdict"] == "right", value
    for value in off:
        assert one_mark(tmp_path, changed(), "2", column, value)["verdict"] == "off", value
    assert one_mark(tmp_path, changed(), "2", column, off[0], *more)["verdict"] == "right"


def test_north_is_no_way_from_north(tmp_path: Path) -> None:
    text = changed("airway V801 QHB 360 - 180 QEL 29.5nm mea 3000")
    for value in ("360", "0", "000", "001", "359"):
        assert one_mark(tmp_path, text, "2", "set_course", value)["verdict"] == "right", value
    mark_of_358 = one_mark(tmp_path, text, "2", "set_course", "358")
    assert (mark_of_358["verdict"], mark_of_358["off"]) == ("off", -2.0)


def test_midnight_is_no_way_from_midnight(tmp_path: Path) -> None:
    text = changed("off 23:50Z")
    eta = flight(text)["legs"][1]["eta"]
    assert eta.startswith("2026-07-19T00:0")
    assert one_mark(tmp_path, text, "2", "eta", f"{eta[11:16]}Z")["verdict"] == "right"
    found = one_mark(tmp_path, text, "2", "eta", "2358")
    assert (found["verdict"], found["off"]) == ("off", -4.0)


def test_the_mean_of_groundspeeds_is_recognised_in_the_totals(tmp_path: Path) -> None:
    _, found = marked(tmp_path, OUT_AND_BACK, "leg,groundspeed,time\ntotal,100,2:00\n")
    assert [(one["quantity"], one["verdict"]) for one in found["marks"]] == [("groundspeed", "off"), ("time", "off")]
    assert found["marks"][1]["computed"] == pytest.approx(131.9, abs=0.05)
    assert found["marks"][0]["slips"][0]["code"] == "groundspeeds-averaged"
    # The time follows from no figure of the totals but the distance, so it is a slip of its own.
    assert found["marks"][1]["slips"][0]["code"] == "groundspeeds-averaged"
    _, found = marked(tmp_path, OUT_AND_BACK, "leg,groundspeed,time\ntotal,91,2:12\n")
    assert found["off"] == 0


def test_statute_miles_and_decimal_hours_are_recognised_in_the_totals(tmp_path: Path) -> None:
    _, found = marked(tmp_path, OUT_AND_BACK, "leg,distance,time\ntotal,230.2,2:20\n")
    assert [one["slips"][0]["code"] for one in found["marks"]] == ["statute-miles", "decimal-hours"]


@pytest.mark.parametrize(
    ("csv", "column", "origin"),
    [
        ("leg,groundspeed,time\n3,80,0:14\n", "time", ["groundspeed"]),
        ("leg,time,fuel_used\n3,0:20,2.9\n", "fuel_used", ["time"]),
        ("leg,true_course,magnetic_course\n3,207,219.6\n", "magnetic_course", ["true_course"]),
        ("leg,wca,true_heading\n3,8R,205\n", "true_heading", ["wca"]),
        ("leg,true_heading,heading\n3,190,202.6\n", "heading", ["true_heading"]),
        ("leg,eta,time\n2,15:32,\n3,15:43,0:11\n", "eta", ["eta of leg 2"]),
        ("leg,time,eta\n3,0:21,15:43\n", "eta", ["time"]),
        ("leg,fuel_left\n2,31.2\n3,29.6\n", "fuel_left", ["fuel_left of leg 2"]),
        ("leg,time\n2,0:16\n4,0:06\ntotal,0:38\n", "time", ["time of leg 2"]),
        ("leg,distance,time,groundspeed\ntotal,120,1:00,120\n", "groundspeed", ["distance", "time"]),
    ],
)
def test_a_figure_that_follows_from_a_wrong_one_is_no_slip_of_its_own(
    tmp_path: Path, csv: str, column: str, origin: list[str]
) -> None:
    _, found = marked(tmp_path, changed(), csv)
    last = next(one for one in reversed(found["marks"]) if one["quantity"] == column)
    assert last["verdict"] == "off"
    assert last["follows"] == origin
    assert last["slips"] == []


def test_nothing_follows_from_a_right_figure(tmp_path: Path) -> None:
    _, found = marked(tmp_path, changed(), "leg,groundspeed,time\n3,100,0:14\n")
    assert [one["verdict"] for one in found["marks"]] == ["right", "off"]
    assert found["marks"][1]["follows"] == []


def test_fuel_after_a_filling_does_not_follow_from_before_it(tmp_path: Path) -> None:
    text = (EXAMPLES / "landing.route").read_text("utf-8")
    legs = flight(text)["legs"]
    filled_at = next(leg["number"] for leg in legs if leg["to"]["ident"] == "XTAR")
    before, after = (legs[number - 1]["fuel_remaining_gal"] for number in (filled_at, filled_at + 1))
    csv = f"leg,fuel_left\n{filled_at},{before - 3.0:.1f}\n{filled_at + 1},{after - 3.0:.1f}\n"
    _, found = marked(tmp_path, text, csv)
    assert [(one["verdict"], one["follows"]) for one in found["marks"]] == [("off", []), ("off", [])]


def test_what_the_log_does_not_know_is_not_marked(tmp_path: Path) -> None:
    status, found = marked(tmp_path, changed(without=("wind",)), "leg,heading,set_course\n2,213,212\n")
    assert status == 0
    assert [(one["quantity"], one["verdict"], one["reason"]) for one in found["marks"]] == [
        ("set_course", "right", None),
        ("heading", "not marked", "no wind given"),
    ]


def test_a_heading_in_a_wind_that_cannot_be_flown_is_off(tmp_path: Path) -> None:
    status, found = marked(tmp_path, changed("wind 287/150"), "leg,heading,groundspeed\n2,250,90\n")
    assert status == 1
    assert {one["verdict"] for one in found["marks"]} == {"off"}
    assert all("more than the TAS" in one["reason"] for one in found["marks"])


def test_what_does_not_apply_is_not_marked(tmp_path: Path) -> None:
    status, found = marked(tmp_path, changed(), "leg,changeover,compass_heading\n3,11,213\n")
    assert status == 0
    assert {one["verdict"] for one in found["marks"]} == {"not marked"}
    assert {one["reason"] for one in found["marks"]} == {"it does not apply here"}


def test_the_words_say_what_is_off_by_how_much_and_why(tmp_path: Path) -> None:
    path = tmp_path / "answers.csv"
    path.write_text("leg,set_course,groundspeed,time\n1,092,98,0:06\n2,212,110,0:06\n", encoding="utf-8")
    found = navlog("mark", str(EXAMPLES / "round_robin.route"), str(path))
    assert found.status == 1
    assert found.out == (
        f"MARKING - round_robin, answers {path}\n"
        "\n"
        "LEG 1  XHAR to QHB\n"
        "  set course 092, computed 272: 180 degrees\n"
        "    likely: the reciprocal: the inbound radial set as a course, or the course\n"
        "      turned round\n"
        "\n"
        "LEG 2  QHB to COP\n"
        "  groundspeed 110 kt, computed 99 kt: 11 kt too much\n"
        "    likely: the true airspeed used for the groundspeed\n"
        "\n"
        "6 figures: 4 right, 2 off\n"
    )


def test_fuel_is_marked_in_the_unit_of_the_route_file(tmp_path: Path) -> None:
    text = changed("fuel 140L", "taxi 4L", "burn 32L/h")
    used = flight(text)["legs"][2]["fuel_used_gal"] * 3.785411784
    for value in (f"{used:.0f}", f"{used:.0f}L", f"{used / 3.785411784:.2f}gal"):
        assert one_mark(tmp_path, text, "3", "fuel_used", value)["verdict"] == "right", value
    assert one_mark(tmp_path, text, "3", "fuel_used", f"{used + 3.0:.0f}")["verdict"] == "off"


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from([key for key, one in BY_KEY.items() if one.unit == "deg" or key in ("groundspeed", "time")]),
    st.floats(0.0, 359.9),
    st.integers(1, 4),
)
def test_a_slip_is_claimed_only_where_it_leads_to_the_figure(key: str, value: float, leg: int) -> None:
    (one,) = answers(read_flights(changed("wind 300/30"), "invented.route"))
    assert one.report is not None
    allowed = Tolerances(1.0, 1.0, 1.0, 0.5, 0.1)
    (found,) = mark(one.report.log, [AnswerRow(leg, 2, {key: value})], allowed).marks
    if found.verdict is not MarkedVerdict.OFF:
        assert found.slips == ()
    for slip in found.slips:
        assert abs(found.quantity.apart(value, slip.leads_to[key])) <= 1.0 + 1e-6
        assert found.expected.exact is not None
        assert abs(found.quantity.apart(slip.leads_to[key], found.expected.exact)) > 1.0


def test_the_crooked_compass_gives_compass_headings(tmp_path: Path) -> None:
    aircraft = ROOT / "tests" / "data" / "marking" / "crooked_compass.toml"
    text = changed(f'aircraft "{aircraft}"', without=("tas", "burn"))
    leg: Json = flight(text)["legs"][1]
    # FOR 180 STEER 174: 6 degrees east, and east is subtracted.
    assert leg["compass_heading_deg"] == pytest.approx(leg["magnetic_heading_deg"] - 6.0)
    assert one_mark(tmp_path, text, "2", "heading", f"{leg['compass_heading_deg']:.0f}")["verdict"] == "right"


CROSSED = changed("fix ROSKO QHB 160 x QEL 090", "route XHAR QHB ROSKO QEL XOLD", "equipment vor 2 dme 1")


@pytest.mark.parametrize(
    ("written", "verdict"),
    [
        ("QEL 090", "right"), ("qel r-091", "right"), ("QEL R 089", "right"), ("QEL 092", "off"), ("QEL 270", "off"),
        ("QSK 212", "not marked"),
    ],
)  # fmt: skip
def test_what_tells_a_fix_is_marked_by_the_radial_that_the_log_has(tmp_path: Path, written: str, verdict: str) -> None:
    one = one_mark(tmp_path, CROSSED, "2", "told_by", written)
    assert (one["quantity"], one["verdict"]) == (f"radial {written[:3].upper()}", verdict)
    if verdict == "not marked":
        assert one["reason"].startswith("by the log what tells ROSKO is ")


def test_a_dme_is_marked_by_what_it_reads_at_the_height_flown(tmp_path: Path) -> None:
    text = changed("fix NEAR QEL 180 2nm", "route XHAR QHB V801 QEL NEAR XOLD", "altitude 11500", "equipment dme 1")
    # 11,090 ft above QEL are 1.825 NM; with 2 NM over the ground the DME reads 2.71.
    for written, verdict in (("QEL DME 2.7", "right"), ("QEL 3.2nm", "right"), ("QEL 2.0 NM", "off")):
        one = one_mark(tmp_path, text, "4", "told_by", written)
        assert (one["quantity"], one["verdict"], one["printed"]) == ("dme QEL", verdict, 2.7)


def test_several_marks_in_one_cell_are_each_marked(tmp_path: Path) -> None:
    _, found = marked(tmp_path, CROSSED, "leg,told_by\n2,QEL 090; QHB DME 99\n")
    assert {one["quantity"]: one["verdict"] for one in found["marks"]}["radial QEL"] == "right"
    assert len(found["marks"]) == 2


def test_where_nothing_tells_the_end_of_a_leg_that_is_said(tmp_path: Path) -> None:
    one = one_mark(tmp_path, changed(), "2", "told_by", "QEL 034")
    assert (one["verdict"], one["reason"]) == ("not marked", "no radial or DME tells COP by the log")


def test_the_legs_of_an_alternate_are_marked_by_its_own_log(tmp_path: Path) -> None:
    text = changed("alternate XHAR from QEL via V801 QHB", without=("alternate",))
    way = flight(text)["alternates"][0]
    leg, minutes = way["legs"][1], round(sum(one["time_min"] for one in way["legs"]))
    head, eta = round(leg["magnetic_heading_deg"]), leg["eta"][11:16]
    rows_of_it = (
        f"alternate XHAR 2,{head},{eta},\nALTERNATE xhar leg 1,{head + 90},,\nalternate XHAR total,,,{minutes}\n"
    )
    status, found = marked(tmp_path, text, f"leg,heading,eta,time\n{rows_of_it}2,1,,\n")
    told = [(one["alternate"], one["leg"], one["quantity"], one["verdict"]) for one in found["marks"]]
    assert told == [
        (None, 2, "heading", "off"),
        ("XHAR", 1, "heading", "off"),
        ("XHAR", 2, "heading", "right"),
        ("XHAR", 2, "eta", "right"),
        ("XHAR", None, "time", "right"),
    ]
    assert status == 1


def test_the_letter_of_its_north_may_stand_behind_a_direction_and_fuel_may_be_below_zero(tmp_path: Path) -> None:
    """As the sheets print them; another north's letter is no direction."""
    for column, value in (("magnetic_heading", "267M"), ("true_heading", "254T"), ("fuel_left", "-0.2")):
        assert one_mark(tmp_path, changed(), "1", column, value)["verdict"] in ("right", "off")
    path = tmp_path / "answers.csv"
    path.write_text("leg,magnetic_heading\n1,267T\n", encoding="utf-8")
    assert "is not a direction" in navlog("mark", "-", str(path), typed=changed()).err


@pytest.mark.parametrize(
    ("written", "verdict"),
    [("QHB DME 11", "right"), ("QEL DME 18.5", "right"), ("QHB DME 13", "off"), ("QHB 212", "not marked")],
)
def test_a_changeover_is_told_by_the_dme_of_either_station(tmp_path: Path, written: str, verdict: str) -> None:
    # COP 11.0 NM from QHB of 29.5: 3,680 ft above QHB its DME reads sqrt(11.0^2 + 0.606^2) = 11.02, that of QEL 18.51.
    one = one_mark(tmp_path, changed("altitude 4500", "equipment vor 1 dme 1"), "2", "told_by", written)
    assert one["verdict"] == verdict
    if verdict == "not marked":
        assert one["reason"] == "by the log what tells COP is QHB DME 11.0"
