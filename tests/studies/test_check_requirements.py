"""Training distances: every landing counted, straight lines and the way flown, told with their margins.

The airports lie on one meridian, where a minute of latitude near N46 is 1.0003 NM on WGS84 (meridian arc
111.15 km a degree at 46 north; NIMA TR8350.2), so straight lines can be read off their latitudes.
"""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from helpers.flown import navlog

from navlog.studies.requirements import REQUIREMENTS, _Condition, _Judged, _Measure


def trip(*routes: str, **latitudes: str) -> str:
    """A file with a flight a route over airports on one meridian."""
    lines = ["date 2026-07-18", "altitude 3000", "tas 110kt", "wind calm"]
    lines += [f"airport {name} N{latitude} W039 20.00 elev 100ft" for name, latitude in latitudes.items()]
    lines += [f'flight "{number}"\nroute {route}' for number, route in enumerate(routes, 1)]
    return "\n".join(lines) + "\n"


def judged(text: str, name: str) -> dict[str, object]:
    """One requirement over a file, as JSON."""
    found: dict[str, object] = json.loads(
        navlog("check", "-", "--requirement", name, "--format", "json", typed=text).out
    )
    return found


def results(text: str, name: str) -> tuple[str, list[str]]:
    """The whole result and that of each condition."""
    found = judged(text, name)
    conditions = found["conditions"]
    assert isinstance(conditions, list)
    return str(found["result"]), [one["result"] for one in conditions]


PLACES = {"XAAA": "45 00.00", "XBBB": "45 49.00", "XCCC": "45 52.00", "XDDD": "46 20.00", "XEEE": "49 20.00"}


def test_61_109_wants_150_nm_three_points_and_a_segment_of_more_than_50_nm() -> None:
    # XAAA to XCCC 52 NM, XCCC to XDDD 28, XDDD to XAAA 80: 160 NM, three landings.
    text = trip("XAAA XCCC land 30min XDDD land 30min XAAA", **PLACES)
    assert results(text, "61.109") == ("pass", ["pass", "pass", "pass"])


def test_a_touch_at_two_points_alone_is_not_three() -> None:
    text = trip("XAAA XDDD land 30min XAAA", **PLACES)
    assert results(text, "61.109") == ("fail", ["pass", "fail", "pass"])


def test_a_touch_and_go_is_no_full_stop_landing() -> None:
    """14 CFR 61.109(a)(5)(ii): "with full-stop landings at three points"; 61.129(a)(4)(i): "landings at a minimum"."""
    text = trip("XAAA XCCC land 0min XDDD land 30min XAAA", **PLACES)
    assert results(text, "61.109") == ("fail", ["pass", "fail", "pass"])
    told = navlog("check", "-", "--requirement", "61.109", typed=text).out
    assert "points of landing, at least 3: 2 (XDDD, XAAA; no stop planned: XCCC): fail" in told
    assert results(text, "61.129")[1][1] == "pass"
    assert results(trip("XAAA XCCC land 1min XDDD land 30min XAAA", **PLACES), "61.109")[0] == "pass"


def test_a_segment_of_49_nm_is_short() -> None:
    text = trip("XAAA XBBB land 30min XAAA land 30min XBBB land 30min XCCC", **PLACES)
    assert results(text, "61.109") == ("fail", ["pass", "pass", "fail"])


def test_61_1_wants_a_landing_more_than_50_nm_from_the_first_departure() -> None:
    # 49 NM out, and 3 NM on: only the second landing is far enough.
    assert results(trip("XAAA XBBB", **PLACES), "61.1") == ("fail", ["fail"])
    assert results(trip("XAAA XBBB land 30min XCCC", **PLACES), "61.1") == ("pass", ["pass"])


def test_the_distance_from_the_original_departure_counts_over_several_flights() -> None:
    text = trip("XAAA XBBB", "XBBB XCCC", **PLACES)
    found = judged(text, "61.1")
    assert found["result"] == "pass"
    assert found["conditions"] == [
        {
            "measure": "straight line from the first departure to a landing",
            "least": 50.0,
            "more_than": True,
            "straight": pytest.approx(52.02, abs=0.03),
            "flown": None,
            "of": "XAAA to XCCC",
            "result": "pass",
        }
    ]


def test_flights_that_do_not_join_are_not_one_trip() -> None:
    text = trip("XAAA XCCC", "XDDD XAAA", **PLACES)
    found = judged(text, "61.1")
    assert found["result"] == "fail"
    assert found["breaks"] == ["`2` begins at XDDD, not at XCCC"]


def test_a_zig_zag_passes_by_the_way_flown_and_fails_by_straight_lines() -> None:
    # 104 NM straight. By a point 42 NM east the first hop is 102 NM: 58 + 44 (Pythagoras, a degree of longitude at
    # N45 40 being 42.0 NM), so 154 NM are flown.
    fix = "fix LAKER N45 40.00 W038 20.00"
    text = trip("XAAA LAKER XCCC land 30min XBBB land 30min XAAA", **PLACES).replace("flight", f"{fix}\nflight", 1)
    assert results(text, "61.109") == ("depends", ["depends", "pass", "pass"])
    printed = navlog("check", "-", "--requirement", "61.109", typed=text)
    assert printed.status == 1
    assert "straight lines 104.0 NM, 46.0 short; flown 153.9 NM, 3.9 over" in printed.out


def test_61_65_counts_the_way_flown_and_names_what_is_on_airways() -> None:
    text = trip("XAAA XEEE", **PLACES)
    found = judged(text, "61.65")
    conditions = found["conditions"]
    assert isinstance(conditions, list)
    (one,) = conditions
    assert (found["result"], one["straight"], one["of"]) == ("pass", None, "0.0 NM on airways")


def test_61_129_wants_a_point_250_nm_from_the_start() -> None:
    out = trip("XAAA XEEE land 30min XDDD land 30min XAAA", **PLACES)
    assert results(out, "61.129") == ("pass", ["pass", "pass", "pass"])
    near = trip("XAAA XDDD land 1h XAAA land 1h XDDD land 1h XCCC land 1h XAAA", **PLACES)
    assert results(near, "61.129") == ("fail", ["pass", "pass", "fail"])


def test_a_margin_too_small_to_rely_on_is_said() -> None:
    text = trip("XAAA XBBB", XAAA="45 00.00", XBBB="45 50.20")
    printed = navlog("check", "-", "--requirement", "61.1", typed=text)
    assert printed.status == 0
    assert "straight lines 50.2 NM, 0.2 over, too close to rely on" in printed.out
    assert "distance part only: pass" in printed.out


@pytest.mark.parametrize(("value", "holds"), [(50.0, False), (50.0001, True)])
def test_more_than_is_not_at_least(value: float, holds: bool) -> None:
    assert _Condition(_Measure.SEGMENT, 50.0, more=True).holds(value) is holds
    assert _Condition(_Measure.SEGMENT, 50.0).holds(value) is True


def test_two_ways_of_measuring_that_disagree_depend() -> None:
    total = _Condition(_Measure.TOTAL, 150.0)
    assert _Judged(total, 149.0, 151.0).result == "depends"
    assert _Judged(total, 151.0, 151.0).result == "pass"
    assert _Judged(total, 149.0, 149.0).result == "fail"


def test_every_requirement_names_its_rule() -> None:
    assert len({one.name for one in REQUIREMENTS}) == len(REQUIREMENTS)
    assert all(one.source.startswith("14 CFR 61.") for one in REQUIREMENTS)


def test_an_unknown_requirement_lists_those_there_are() -> None:
    found = navlog("check", "-", "--requirement", "61.2", typed=trip("XAAA XBBB", **PLACES))
    assert found.status == 2
    assert "there are 61.1, 61.109" in found.err


def test_a_flight_with_a_problem_stops_its_file() -> None:
    found = navlog("check", "-", "--requirement", "61.1", typed=trip("XAAA XZZZ", **PLACES))
    assert (found.status, found.out) == (2, "")


def test_csv_has_a_row_a_condition() -> None:
    text = trip("XAAA XCCC land 30min XDDD land 30min XAAA", **PLACES)
    rows = list(
        csv.DictReader(io.StringIO(navlog("check", "-", "--requirement", "61.109", "--format", "csv", typed=text).out))
    )
    assert [(row["measure"], row["result"]) for row in rows] == [
        ("total distance", "pass"),
        ("points of landing", "pass"),
        ("straight line from a take-off to the next landing", "pass"),
    ]


def test_notices_count_for_a_requirement_too(tmp_path: Path) -> None:
    """A file of notices that cannot be read was passed over; one that can changes no distance here."""
    text = trip("XAAA XDDD land 30min XAAA", **PLACES)
    missing = navlog("check", "-", "--requirement", "61.109", "--notices", "nosuch.txt", typed=text)
    assert missing.status == 2
    assert "nosuch.txt" in missing.err
    (tmp_path / "out.txt").write_text("!XHA 07/012 QEL NAV VOR U/S 2607181400-2607182000\n", "utf-8")
    options = ("--requirement", "61.109", "--format", "json")
    plain = navlog("check", "-", *options, typed=text)
    noticed = navlog("check", "-", *options, "--notices", str(tmp_path / "out.txt"), typed=text)
    assert (noticed.status, noticed.out) == (plain.status, plain.out)


def library(folder: Path) -> str:
    """Files of which one passes, one fails, one depends and one is broken."""
    texts = {
        "a": trip("XAAA XCCC land 30min XDDD land 30min XAAA", **PLACES),
        "b": trip("XAAA XDDD land 30min XAAA", **PLACES),
        "c": trip("XAAA XZZZ", **PLACES),
    }
    for name, text in texts.items():
        (folder / f"{name}.route").write_text(text, "utf-8")
    return str(folder)


def test_a_summary_counts_the_files(tmp_path: Path) -> None:
    found = navlog("check", library(tmp_path), "--requirement", "61.109")
    assert found.status == 2
    assert found.err.splitlines()[-1] == "3 files: 1 pass, 0 depends, 1 fail, 1 problem"
    (tmp_path / "c.route").unlink()
    found = navlog("check", str(tmp_path), "--requirement", "61.109")
    assert (found.status, found.err) == (1, "2 files: 1 pass, 0 depends, 1 fail\n")


@pytest.mark.parametrize("form", ["text", "json", "csv"])
def test_several_processes_judge_the_same(tmp_path: Path, form: str) -> None:
    words = ("check", library(tmp_path), "--requirement", "61.109", "--requirement", "61.1", "--format", form)
    assert navlog(*words) == navlog(*words, "--jobs", "2")


def test_json_has_a_line_for_a_file_with_a_problem_too(tmp_path: Path) -> None:
    words = ("check", library(tmp_path), "--requirement", "61.109", "--requirement", "61.1", "--format", "json")
    found = [json.loads(line) for line in navlog(*words).out.splitlines()]
    assert [(Path(one["source"]["file"]).stem, one["requirement"]) for one in found] == [
        (name, requirement) for name in "abc" for requirement in ("61.109", "61.1")
    ]
    assert [one["result"] == "problem" for one in found] == [False] * 4 + [True] * 2
    assert [[problem["code"] for problem in one["problems"]] for one in found[4:]] == [["unknown-name"]] * 2
