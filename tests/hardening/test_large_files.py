"""Files far too large, lines without end, problems without number: told in few words, with little memory and time."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from itertools import product
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, changed, navlog
from helpers.watched import within_seconds

from navlog.request.lexer import LARGEST_BYTES, LONGEST_LINE

TRIP = str(EXAMPLES / "round_robin.route")
LIMITED = (
    "import resource, sys; resource.setrlimit(resource.RLIMIT_AS, (500 << 20, 500 << 20)); "
    "from navlog.cli import main; main()"
)
linux_only = pytest.mark.skipif(sys.platform != "linux", reason="needs a limit on memory that holds")


def sparse(path: Path, size: int = 100_000_000, begin: bytes = b"") -> str:
    """A file of that size, of zero bytes that take no room on the disk."""
    path.write_bytes(begin)
    os.truncate(path, size)
    return str(path)


@linux_only
@pytest.mark.parametrize(
    ("name", "command", "said"),
    [
        ("junk.route", ("log",), "the file has more than 1,000,000 bytes [too-large]"),
        ("junk.route", ("check",), "the file has more than 1,000,000 bytes [too-large]"),
        ("NAV_BASE.csv", ("catalogue", "import"), "NAV_BASE.csv has no header row"),
        ("FAACIFP18", ("catalogue", "import"), "FAACIFP18 has no header"),
    ],
)
def test_a_hundred_megabytes_of_junk(name: str, command: tuple[str, ...], said: str, tmp_path: Path) -> None:
    program = [sys.executable, "-c", LIMITED, *command, sparse(tmp_path / name)]
    program += ["--catalogue", str(tmp_path / "catalogue.sqlite")] if command[0] == "catalogue" else []
    done = subprocess.run(program, capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 2
    assert said in done.stderr


def test_other_readers_of_text_have_the_same_limit(tmp_path: Path) -> None:
    junk = sparse(tmp_path / "junk.csv", LARGEST_BYTES + 1, b"leg,time\n")
    (tmp_path / "trip.route").write_text(changed("aircraft junk.csv", without=("tas", "burn")), "utf-8")
    for command in (
        ("mark", TRIP, junk),
        ("position", "N46 00.00 W039 00.00", "--from", junk),
        ("log", str(tmp_path / "trip.route")),
        ("revise", junk, "--at", "QHB", "15:00"),
    ):
        done = navlog(*command)
        assert done.status == 2
        assert "more than a megabyte [cannot-read]" in done.err or "[too-large]" in done.err


def test_a_published_file_too_large_to_be_one_is_refused(tmp_path: Path) -> None:
    sparse(tmp_path / "NAV_BASE.csv", 200_000_001)
    done = navlog("catalogue", "import", str(tmp_path), "--catalogue", str(tmp_path / "catalogue.sqlite"))
    assert "NAV_BASE.csv has 200,000,001 bytes, as no published file does [too-large]" in done.err


def test_a_published_file_of_bad_rows_alone_is_soon_given_up(tmp_path: Path) -> None:
    header = b'"EFF_DATE","NAV_ID","NAV_TYPE","LAT_DECIMAL","LONG_DECIMAL","MAG_VARN","MAG_VARN_HEMIS","FREQ"\r\n'
    (tmp_path / "NAV_BASE.csv").write_bytes(header + b"x\r\n" * 1_000_000)
    with within_seconds(2.0):
        done = navlog("catalogue", "import", str(tmp_path), "--catalogue", str(tmp_path / "catalogue.sqlite"))
    assert "holds no row of stations, all are rejected" in done.err


ENDLESS: dict[str, Callable[[], str]] = {
    "short lines": lambda: "a\n" * 490_000,
    "a line": lambda: "a" * 990_000,
    "words": lambda: "route " + "a " * 490_000,
    "words on lines": lambda: "route\n" + f" {'a ' * 9_000}\n" * 20,
    "points on lines": lambda: changed("route XHAR\n" + f"  {'QHB QEL ' * 2_000}\n" * 20),
    "quotes": lambda: '""' * 490_000,
    "quotes on lines": lambda: ('""' * 9_000 + "\n") * 50,
    "statements twice": lambda: "tas 100kt\n" * 90_000,
    "stations": lambda: "station\n" * 120_000,
    "blank lines": lambda: "\n" * 990_000,
    "comments": lambda: "#\n" * 490_000,
    "flights": lambda: "".join(f'flight "{number}"\n' for number in range(8_000)),
    "flights of one name": lambda: 'flight "a"\n' * 80_000,
    "unknown points": lambda: changed(
        "route " + " ".join("Z" + "".join(name) for name in product("ABCDEFG", repeat=3))
    ),
    "carriage returns": lambda: "\r" * 990_000,
    "tabs": lambda: "tas" + "\t" * 19_000 + "110kt",
    "digits": lambda: f"tas {'9' * 19_000}kt\nwind {'9' * 9_000}/{'9' * 9_000}\n",
}


@pytest.mark.parametrize("kind", ENDLESS)
def test_a_file_without_end_is_told_in_few_words(kind: str) -> None:
    with within_seconds(5.0):
        done = navlog("log", "-", typed=ENDLESS[kind]())
    assert done.status == 2
    assert len(done.err) < 15_000_000
    assert max(map(len, done.err.splitlines())) < 2_200


def test_many_problems_are_not_all_told() -> None:
    done = navlog("log", "-", typed="a\n" * 5_000)
    assert "-:202:1: error: more than 200 problems; the file is not read on from here [too-many-problems]" in done.err
    assert done.err.count("[unknown-keyword]") == 202
    # What the file lacks is not known where it is not read to its end.
    assert "[missing-statement]" not in done.err
    done = navlog("log", "-", typed=changed(f"route XHAR {'q ' * 500} XOLD"))
    assert "more than 200 problems; `route` is not read on [too-many-problems]" in done.err
    assert done.err.count("error:") == 201


def test_a_long_line_is_refused_and_shown_in_part() -> None:
    done = navlog("log", "-", typed=changed(f'note "{"a" * LONGEST_LINE}"'))
    assert "error: the line has more than 20,000 characters [long-line]" in done.err
    line = f'note "{"a" * 5_000}" gate'
    (message, shown, caret, hint) = navlog("log", "-", typed=changed(line)).err.splitlines()
    assert message.endswith("`gate` has no place in `note` [unexpected-word]")
    assert shown[7:] == line[5_008 - 200 :]
    assert caret[caret.index("^") :] == "^^^^"
    assert shown[caret.index("^") :] == "gate"
    assert hint.startswith("  hint: ")


@pytest.mark.parametrize("form", ["text", "html", "json"])
def test_a_flight_of_a_thousand_legs_is_computed(form: str) -> None:
    route = " ".join(["QHB", "QEL", "QSK"] * 334)
    text = changed(f"route XHAR {route} QEL XOLD", "fuel 999gal")
    with within_seconds(20.0):
        done = navlog("log", "-", "--format", form, typed=text)
    assert done.status in (0, 1), done.err[:500]
    assert len(done.out) > 100_000


def test_a_longer_route_is_refused() -> None:
    route = "\n  ".join(["QHB QEL " * 100] * 11)
    done = navlog("log", "-", typed=changed(f"route XHAR\n  {route}\n  XOLD"))
    assert "a route has at most 2,000 words [long-route]" in done.err


@pytest.mark.parametrize(
    "text",
    ["x = " + "[" * 100_000, "x = " + "{a=" * 50_000, "[" * 100_000, "a." * 100_000 + "b = 1", f"x = {'9' * 100_000}"],
    ids=["arrays", "tables", "headers", "keys", "digits"],
)
def test_a_deep_aircraft_file_is_refused(text: str, tmp_path: Path) -> None:
    (tmp_path / "plane.toml").write_text(text, "utf-8")
    (tmp_path / "trip.route").write_text(changed("aircraft plane.toml", without=("tas", "burn")), "utf-8")
    with within_seconds(2.0):
        done = navlog("log", str(tmp_path / "trip.route"))
    assert done.status == 2
    assert "plane.toml:" in done.err
    assert len(done.err) < 5_000
