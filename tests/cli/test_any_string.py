"""A flight without a file: `--route` with the other options, its echo, and the route file made of it."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, changed, navlog

DAY = ("--date", "2026-07-18", "--off", "15:10Z", "--altitude", "4500", "--wind", "230/12")
SPEED = ("--set", "tas 110kt", "--set", "burn 8.5gph", "--fuel", "38gal", "--set", "equipment vor 1 dme 1")


def figures(text: str) -> list[dict[str, str]]:
    """The rows of a CSV log without the names of flight and file and without the digest."""
    rows = list(csv.DictReader(io.StringIO(text)))
    assert rows
    return [{name: cell for name, cell in row.items() if name not in ("flight", "file", "sha256")} for row in rows]


def test_a_route_needs_no_file(islands: str) -> None:
    found = navlog("log", "--route", "xhar..qhb.v801.qel xold", *DAY, *SPEED, "--catalogue", islands)
    assert found.status in (0, 1), found.err
    assert "VOR NAVIGATION LOG - XHAR-XOLD\n" in found.out
    assert found.err == "understood: route XHAR QHB V801 QEL XOLD\n"


def test_the_one_point_that_two_airways_share_is_taken(islands: str) -> None:
    arguments = ("--route", "XHAR QHB V805 V803 REEFY XOLD", *DAY, *SPEED, "--catalogue", islands)
    for command in ("log", "check"):
        found = navlog(command, *arguments)
        assert found.status in (0, 1), found.err
        assert "understood: route XHAR QHB V805 QSK V803 REEFY XOLD\n" in found.err
    found = navlog("log", *arguments, "--format", "item15")
    assert found.out == "N0110A045 DCT QHB V805 QSK V803 REEFY DCT\n"


def test_in_a_file_the_point_must_be_named(islands: str) -> None:
    text = (EXAMPLES / "islands" / "by_name.route").read_text("utf-8")
    text = text.replace("V805 COVEY/A065 V805 QSK V803", "V805 V803")
    found = navlog("check", "-", "--catalogue", islands, typed=text)
    assert found.status == 2
    assert "no point stands between `V805` and `V803`" in found.err
    assert "name the point between them: `QSK`" in found.err


def test_several_points_are_named_in_the_order_of_flight(tmp_path: Path) -> None:
    airways = (
        "airway V1 QAA 090 - 270 QBB 10nm - QCC 10nm - QDD 10nm\n"
        "airway V2 QEE 090 - 270 QDD 10nm - QCC 10nm - QBB 10nm - QFF 10nm\n"
    )
    stations = "".join(
        f"station {name} 11{number}.00 N46 00 W0{39 - number} 00.00 decl 15W\n"
        for number, name in enumerate(("QAA", "QBB", "QCC", "QDD", "QEE", "QFF"))
    )
    text = f"date 2026-07-18\naltitude 5500\ntas 110kt\n{stations}{airways}"
    path = tmp_path / "trip.route"
    path.write_text(text + "route QAA V1 V2 QFF\n")
    assert "name the point between them: `QBB` or `QCC` or `QDD`" in navlog("check", str(path)).err
    path.write_text(text + "route QEE V2 V1 QAA\n")
    assert "name the point between them: `QDD` or `QCC` or `QBB`" in navlog("check", str(path)).err


def test_without_file_and_route_the_usage_is_told() -> None:
    for command in ("log", "check", "revise", "mark"):
        found = navlog(command)
        assert found.status == 2
        assert "Error" in found.err


def test_a_wrong_word_is_told_with_its_place(islands: str) -> None:
    found = navlog("log", "--route", "xhar qhb v801 qell", *DAY, *SPEED, "--catalogue", islands)
    assert (found.status, found.out) == (2, "")
    assert "--route:1:15: error: `QELL`" in found.err
    assert "   1 | XHAR QHB V801 QELL\n" in found.err


def test_a_route_given_twice_is_refused(islands: str) -> None:
    words = ("--set", "route XHAR QHB QEL XOLD", "--route", "XHAR QEL XOLD", *DAY, *SPEED, "--catalogue", islands)
    for command in ("log", "check"):
        found = navlog(command, *words)
        assert (found.status, found.out) == (2, "")
        assert "`--route` is given twice [given-twice]" in found.err


def test_statements_of_options_do_what_an_edit_of_the_file_does(tmp_path: Path) -> None:
    plain, edited = tmp_path / "a" / "trip.route", tmp_path / "b" / "trip.route"
    for path, text in ((plain, changed()), (edited, changed("tas 100kt", "equipment vor 2 dme 1", "fuel 30gal"))):
        path.parent.mkdir()
        path.write_text(text)
    found = navlog(
        "log", str(plain), "--set", "tas 100kt", "--set", "equipment vor 2 dme 1", "--fuel", "30gal", "--format", "csv"
    )
    assert figures(found.out) == figures(navlog("log", str(edited), "--format", "csv").out)
    assert figures(found.out) != figures(navlog("log", str(plain), "--format", "csv").out)


def test_a_station_of_an_option_leaves_the_others_in_the_file() -> None:
    path = str(EXAMPLES / "round_robin.route")
    found = navlog("log", path, "--set", "station QHB 113.75 N46 12.30 W039 20.70 decl 15W")
    assert "113.75" in found.out
    assert "113.70" not in found.out


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        ("tass 100kt", "--set:1:1: error: no statement is called `tass`"),
        ("tas fast", "--set tas:1:1: error: "),
        ("flight x", "--set:1:1: error: a flight has its name in a file alone"),
        ("", "--set:1:1: error: no statement is called ``"),
    ],
)
def test_a_wrong_statement_is_told_once(statement: str, told: str) -> None:
    found = navlog("check", str(EXAMPLES / "round_robin.route"), "--set", statement)
    assert (found.status, found.out) == (2, "")
    assert found.err.count("error:") == 1
    assert told in found.err


def test_the_same_statement_twice_is_a_problem() -> None:
    found = navlog("check", str(EXAMPLES / "round_robin.route"), "--set", "tas 100kt", "--set", "tas 90kt")
    assert found.status == 2
    assert "`--set tas` is given twice" in found.err


def test_the_route_file_of_the_options_gives_the_same_log(tmp_path: Path, islands: str) -> None:
    aircraft = str(EXAMPLES / "trainer.toml")
    options = ("--route", "n0110a045 xhar qhb v805 v803 reefy xold", *DAY, "--aircraft", aircraft, "--fuel", "38gal")
    path = tmp_path / "new" / "trip.route"
    path.parent.mkdir()
    given = tuple(one for one in options)
    wanted = navlog("log", *given, "--catalogue", islands, "--format", "csv", "--quote-outside")
    written = navlog("log", *given, "--catalogue", islands, "-o", str(path))
    assert written.status == wanted.status, written.err
    again = navlog("log", str(path), "--catalogue", islands, "--format", "csv", "--quote-outside")
    assert figures(again.out) == figures(wanted.out)


def test_a_route_file_is_made_of_a_route_alone(tmp_path: Path) -> None:
    found = navlog("log", str(EXAMPLES / "round_robin.route"), "-o", str(tmp_path / "new.route"))
    assert found.status == 2
    assert not (tmp_path / "new.route").exists()


def test_a_flight_plan_message_is_planned(islands: str) -> None:
    message = "(FPL-N1-VG-C172/L-SDG/S-XHAR1330-N0110A045 QHB V801 QEL-XOLD0130-DOF/260718)"
    found = navlog("log", "--route", message, "--catalogue", islands, "--format", "item15")
    assert found.out == "N0110A045 DCT QHB V801 QEL DCT\n", found.err
    assert "understood: route XHAR QHB V801 QEL XOLD\nunderstood: tas 110kt\n" in found.err
    assert "understood: off-block 1330Z" in found.err
    timed = navlog("log", "--route", message, "--set", "taxi 1gal 8min", "--catalogue", islands)
    assert "off 13:38Z" in timed.out
    assert "off 13:40Z" in navlog("log", "--route", message, "--off", "13:40Z", "--catalogue", islands).out
    earlier = navlog("log", "--route", message, "--altitude", "6500", "--catalogue", islands, "--format", "item15")
    assert earlier.out == "N0110A065 DCT QHB V801 QEL DCT\n"


def test_other_commands_take_a_route_too(islands: str) -> None:
    arguments = ("--route", "XHAR QHB V801 QEL XOLD", *DAY, "--set", "tas 110kt", "--catalogue", islands)
    assert "understood: route XHAR QHB V801 QEL XOLD" in navlog("explain", *arguments).err
    marked = navlog("mark", "-", *arguments, typed="leg,wca\n1,0\n")
    assert "MARKING - XHAR-XOLD" in marked.out, marked.err
    revised = navlog("revise", *arguments, "--at", "QHB", "15:20Z")
    assert revised.status in (0, 1), revised.err
