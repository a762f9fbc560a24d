"""The CSV file of answers: what is accepted, and every mistake at its line and column."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import changed, navlog
from helpers.marked import marked
from hypothesis import given, settings
from hypothesis import strategies as st


def refused(tmp_path: Path, csv: str | bytes, text: str | None = None) -> str:
    """The messages of a file that cannot be used, which must leave with 2 and print nothing else."""
    path = tmp_path / "a.csv"
    path.write_bytes(csv.encode() if isinstance(csv, str) else csv)
    found = navlog("mark", "-", str(path), typed=text or changed())
    assert found.status == 2, found.out
    assert found.out == ""
    return found.err.replace(str(path), "a.csv")


MISTAKES = [
    (
        "leg,heding\n1,267\n",
        "a.csv:1:5: error: no column is called `heding` [unknown-column]",
        "did you mean `heading`?",
    ),
    ("leg;heading\n1;267\n", "a.csv:1:1: error: no column is called `leg;heading` [unknown-column]", "commas"),
    ("heading\n267\n", "a.csv:1:1: error: there is no column `leg` [missing-column]", "as the log does"),
    ("leg,leg\n1,1\n", "a.csv:1:5: error: the column `leg` is given twice [given-twice]", ""),
    ("leg,heading\n9,267\n", "a.csv:2:1: error: `9` is no leg of this flight [unknown-leg]", "1 to 4"),
    ("leg,heading\n0,267\n", "a.csv:2:1: error: `0` is no leg of this flight [unknown-leg]", "1 to 4"),
    ("leg,heading\n-1,267\n", "a.csv:2:1: error: `-1` is no leg of this flight [unknown-leg]", ""),
    ("leg,heading\n1.0,267\n", "a.csv:2:1: error: `1.0` is no leg of this flight [unknown-leg]", ""),
    ("leg,heading\n,267\n", "a.csv:2:1: error: this row does not say which leg it is [unknown-leg]", ""),
    ("leg,heading\n1,267\n2,213\n1,267\n", "a.csv:4:1: error: leg 1 has two rows [given-twice]", ""),
    ("leg,heading\n1,267,5\n", "a.csv:2:7: error: there are more cells than columns [too-many-cells]", ""),
    ("leg,heading\n1, 2x7\n", "a.csv:2:4: error: heading: `2x7` is not a direction [bad-value]", "001 to 360"),
    ("leg,heading\n1,361\n", "a.csv:2:3: error: heading: `361` is not a direction [bad-value]", ""),
    ("leg,heading\n1,-5\n", "a.csv:2:3: error: heading: `-5` is not a direction [bad-value]", ""),
    ("leg,heading\n1,1e2\n", "a.csv:2:3: error: heading: `1e2` is not a direction [bad-value]", ""),
    ("leg,heading\n1,nan\n", "a.csv:2:3: error: heading: `nan` is not a direction [bad-value]", ""),
    ("leg,heading\n1,\u0661\u0662\n", "is not a direction [bad-value]", ""),
    ("leg,wca\n1,5\n", "a.csv:2:3: error: wca: wind correction `5` has no side [bad-value]", "5R or 5L"),
    ("leg,wca\n1,R\n", "a.csv:2:3: error: wca: `R` is not a wind correction [bad-value]", ""),
    ("leg,flag\n1,T0\n", "a.csv:2:3: error: flag: `T0` is no flag [bad-value]", "TO or FROM"),
    ("leg,groundspeed\n1,98 knots\n", "a.csv:2:3: error: groundspeed: ", "kt"),
    ("leg,distance\n1,9,6\n", "a.csv:2:5: error: there are more cells than columns [too-many-cells]", "quotes"),
    ('leg,distance\n1,"9,6"\n', "a.csv:2:3: error: distance: ", "decimal point"),
    ('leg,distance\n1,"9.6\n', "a.csv:2:3: error: a quote is not closed [unclosed-quote]", ""),
    ("leg,time\n1,0:61\n", "a.csv:2:3: error: time: `0:61` is not a time [bad-time]", "00 to 59"),
    ("leg,time\n1,6:\n", "a.csv:2:3: error: time: `6:` is not a time [bad-time]", "h:mm"),
    ("leg,eta\n1,25:00\n", "a.csv:2:3: error: eta: there is no time `25:00` [bad-time]", "23:59"),
    ("leg,eta\n1,noon\n", "a.csv:2:3: error: eta: `noon` is not a time of day [bad-time]", "UTC"),
    ("leg,fuel_used\n1,3lb\n", "a.csv:2:3: error: fuel_used: `3lb` is not in gal [bad-unit]", "write gal"),
    ("leg,from\n1,QHB\n", "a.csv:2:3: error: leg 1 goes from XHAR, not from `QHB` [another-leg]", "as the log does"),
    ("leg,heading\ntotal,267\n", "a.csv:2:7: error: heading has no total [no-total]", "groundspeed, distance"),
    ("", "a.csv:1:1: error: no figure is given [no-answers]", "--template"),
    ("leg,heading\n", "a.csv:1:1: error: no figure is given [no-answers]", ""),
    ("leg,heading\n1,\n", "a.csv:1:1: error: no figure is given [no-answers]", ""),
]


@pytest.mark.parametrize(("csv", "message", "hint"), MISTAKES, ids=[repr(one[0]) for one in MISTAKES])
def test_a_mistake_is_one_clear_message_at_its_place(tmp_path: Path, csv: str, message: str, hint: str) -> None:
    err = refused(tmp_path, csv)
    assert message in err
    assert hint in err
    assert err.count("error:") == 1


def test_all_mistakes_are_told_in_one_run(tmp_path: Path) -> None:
    err = refused(tmp_path, "leg,heading,wca\n1,400,5\n7,1,1R\n2,x,0\n")
    assert [line.split(" ")[0] for line in err.splitlines() if "error:" in line] == [
        "a.csv:2:3:",
        "a.csv:2:7:",
        "a.csv:3:1:",
        "a.csv:4:3:",
    ]


def test_the_line_and_a_caret_stand_under_a_mistake(tmp_path: Path) -> None:
    assert "   2 | 1, 2x7\n     |    ^^^\n" in refused(tmp_path, "leg,heading\n1, 2x7\n")


def test_another_encoding_is_named(tmp_path: Path) -> None:
    assert "UTF-16" in refused(tmp_path, "leg,heading\n1,267\n".encode("utf-16"))


@pytest.mark.parametrize(
    "csv",
    [
        "leg,heading\n1,267\n",
        "leg,heading\r\n1,267\r\n",
        "\ufeffleg,heading\n1,267",
        "\n\nLeg, Heading\n\n 1 , 267 \n\n",
        '"leg","heading"\n"1","267"\n',
        "heading,leg,to\n267,1,qhb\n",
        "leg,from,to,heading,time,,\n".replace(",,\n", "\n") + "1,XHAR,QHB,267,\n2,QHB,COP,,\n,,,,\n",
        "leg,Magnetic heading\n1,267\n",
    ],
)
def test_any_tidy_csv_is_read(tmp_path: Path, csv: str) -> None:
    _, found = marked(tmp_path, changed(), csv)
    assert [(one["leg"], one["given"]) for one in found["marks"]] == [(1, 267.0)]


@pytest.mark.parametrize(
    ("column", "written", "value"),
    [
        ("time", "0:06", 6.0),
        ("time", "1:05", 65.0),
        ("time", "00:06:30", 6.5),
        ("time", "6.5", 6.5),
        ("time", "1h05min", 65.0),
        ("eta", "15:22Z", 922.0),
        ("eta", "1522", 922.0),
        ("eta", "0:05", 5.0),
        ("wca", "5R", 5.0),
        ("wca", "5.5l", -5.5),
        ("wca", "-3", -3.0),
        ("wca", "+3", 3.0),
        ("wca", "0", 0.0),
        ("heading", "9", 9.0),
        ("heading", "360", 0.0),
        ("groundspeed", "100mph", 100.0 * 1609.344 / 1852.0),
        ("distance", "10sm", 10.0 * 1609.344 / 1852.0),
        ("flag", "to", 1.0),
    ],
)
def test_a_figure_may_be_written_as_pilots_do(tmp_path: Path, column: str, written: str, value: float) -> None:
    _, found = marked(tmp_path, changed(), f"leg,{column}\n1,{written}\n")
    assert found["marks"][0]["given"] == pytest.approx(value)


def test_the_template_names_every_leg_and_column_and_is_an_empty_file_of_answers(tmp_path: Path) -> None:
    found = navlog("mark", "-", "--template", typed=changed())
    assert found.status == 0
    header, *lines = found.out.splitlines()
    assert header.startswith("leg,from,to,true_course,magnetic_course,set_course,flag,wca,")
    assert [line.split(",")[:3] for line in lines] == [
        ["1", "XHAR", "QHB"],
        ["2", "QHB", "COP"],
        ["3", "COP", "QEL"],
        ["4", "QEL", "XOLD"],
        ["total", "", ""],
    ]
    assert {line.count(",") for line in found.out.splitlines()} == {header.count(",")}
    assert "[no-answers]" in refused(tmp_path, found.out)


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="leg,0123456789:.\"\n 'RLTOZ;-+ \x00\u202e\u00e9", max_size=80))
def test_no_text_ends_in_a_traceback(text: str) -> None:
    found = navlog("mark", "examples/round_robin.route", "-", typed="leg,heading,time,wca\n" + text)
    assert found.status in (0, 1, 2)
    assert "bug" not in found.err
