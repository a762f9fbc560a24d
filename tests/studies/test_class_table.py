"""A class marked: every sheet, the table with the slips by kind, and the rows for a gradebook."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest
from helpers.flown import changed, flight, navlog

WINDY = changed("wind 300/30")


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """A route and a folder of answers: Ann is right, Ben leaves the variation out, Cy guesses."""
    (tmp_path / "trip.route").write_text(WINDY, "utf-8")
    answers = tmp_path / "answers"
    answers.mkdir()
    first, second, *_ = flight(WINDY)["legs"]
    head = "leg,heading,groundspeed,time\n"
    right = [f"{leg['magnetic_heading_deg']:.0f},{leg['groundspeed_kt']:.0f}," for leg in (first, second)]
    unvaried = [f"{leg['true_heading_deg']:.0f},{leg['groundspeed_kt']:.0f}," for leg in (first, second)]
    slow = first["groundspeed_kt"] * 0.6
    (answers / "ann.csv").write_text(f"{head}1,{right[0]}\n2,{right[1]}\n")
    (answers / "ben.csv").write_text(f"{head}1,{unvaried[0]}\n2,{unvaried[1]}\n")
    (answers / "Cy.csv").write_text(f"{head}1,,{slow:.1f},{first['distance_nm'] / slow * 60.0:.1f}\n")
    (answers / "notes.txt").write_text("no answers")
    return tmp_path


def marked(school: Path, *words: str) -> tuple[int, str, str]:
    found = navlog("mark", str(school / "trip.route"), *words)
    return found.status, found.out, found.err


def test_a_folder_is_a_class(school: Path) -> None:
    status, out, err = marked(school, str(school / "answers"))
    assert (status, err) == (1, "")
    assert [line for line in out.splitlines() if line.startswith("MARKING")] == [
        f"MARKING - trip, answers {school / 'answers' / name}" for name in ("ann.csv", "ben.csv", "Cy.csv")
    ]
    table = out[out.index("CLASS") :].splitlines()
    assert table[0] == "CLASS - trip, 3 pilots"
    assert [line.split() for line in table[2:7]] == [
        ["pilot", "right", "off", "following", "not", "marked", "slips"],
        [*["-" * len(one) for one in table[3].split()]],
        ["ann", "4", "0", "0", "0"],
        ["ben", "2", "2", "0", "0", "variation-left-out", "2"],
        ["Cy", "0", "2", "1", "0", "unexplained"],
    ]
    assert table[8:] == [
        "SLIPS by kind",
        "  variation-left-out: 2 figures of 1 pilot: the variation not applied",
        "  unexplained: 1 figure of 1 pilot",
    ]


def test_files_named_are_the_class_and_one_alone_has_no_table(school: Path) -> None:
    files = [str(school / "answers" / f"{name}.csv") for name in ("ann", "ben")]
    assert "CLASS - trip, 2 pilots" in marked(school, *files)[1]
    status, out, _ = marked(school, files[0])
    assert (status, "CLASS" in out) == (0, False)


def test_the_gradebook_has_a_row_a_pilot_and_a_column_a_slip(school: Path) -> None:
    _, out, _ = marked(school, str(school / "answers"), "--format", "csv")
    found = list(csv.DictReader(out.splitlines()))
    assert [(row["pilot"], row["figures"], row["right"], row["off"]) for row in found] == [
        ("ann", "4", "4", "0"), ("ben", "4", "2", "2"), ("Cy", "2", "0", "2"),
    ]  # fmt: skip
    assert [row["variation-left-out"] for row in found] == ["0", "2", "0"]
    assert [row["following"] for row in found] == ["0", "0", "1"]


def test_json_has_a_line_a_sheet(school: Path) -> None:
    _, out, _ = marked(school, str(school / "answers"), "--format", "json")
    found = [json.loads(line) for line in out.splitlines()]
    assert [(one["schema"], Path(one["answers"]).name) for one in found] == [
        ("navlog/mark-1", name) for name in ("ann.csv", "ben.csv", "Cy.csv")
    ]


def test_a_broken_sheet_is_told_and_the_others_are_marked(school: Path) -> None:
    (school / "answers" / "dee.csv").write_text("leg,heading\n9,100\n")
    status, out, err = marked(school, str(school / "answers"))
    assert status == 2
    assert f"{school / 'answers' / 'dee.csv'}:2:1: error: `9` is no leg of this flight [unknown-leg]" in err
    assert "CLASS - trip, 3 pilots" in out


def test_a_folder_without_answers_is_a_problem(school: Path, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    status, out, err = marked(school, str(tmp_path / "empty"))
    assert (status, out) == (2, "")
    assert "[no-answers]" in err


def test_a_pasted_route_may_have_a_class(school: Path) -> None:
    route = "XHAR QHB V801 QEL XOLD"
    files = [str(school / "answers" / f"{name}.csv") for name in ("ann", "ben")]
    same = marked(school, *files, "--route", route)
    assert "CLASS - trip, 2 pilots" in same[1]
    alone = navlog("mark", *files, "--route", route)
    assert (alone.status, "[missing-statement]" in alone.err or "[unknown-name]" in alone.err) == (2, True)


def test_a_pilots_name_cannot_steer_a_terminal_or_a_spreadsheet(school: Path) -> None:
    folder = school / "answers"
    (folder / "ann.csv").rename(folder / "=1+1\x1b[2J.csv")
    _, out, _ = marked(school, str(folder))
    assert "\x1b" not in out
    _, out, _ = marked(school, str(folder), "--format", "csv")
    assert "'=1+1" in out
