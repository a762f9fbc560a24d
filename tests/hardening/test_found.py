"""What hardening found and no other test holds: each was once told as a bug in navlog."""

from __future__ import annotations

import itertools
import os
import subprocess
import sys
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, STATEMENTS, changed, navlog
from helpers.nasr_excerpt import DATA
from helpers.watched import within_seconds

TRIP = EXAMPLES / "round_robin.route"


def test_a_descent_held_up_at_the_level_itself_needs_no_climb_table(tmp_path: Path) -> None:
    """V801 has its MEA at the level flown, so the descent begins at its end; the file has no climb."""
    table = "[cruise]\ntas_kt = 100\nburn_gal_per_h = 8\n[descent]\ntas_kt = 100\nrate_ft_per_min = 500\n"
    (tmp_path / "plane.toml").write_text(f'name = "Glider"\n{table}', "utf-8")
    text = changed(
        "station QEL 110.20 N45 44.10 W039 33.00 decl 15E class L dme elev 410ft",
        "aircraft plane.toml",
        without=("tas", "burn"),
    )
    (tmp_path / "trip.route").write_text(text, "utf-8")
    done = navlog("revise", str(tmp_path / "trip.route"), "--at", "QHB", "15:20")
    assert done.status in (0, 1), done.err


@pytest.mark.skipif(os.name != "posix", reason="file names are bytes on POSIX alone")
@pytest.mark.parametrize("form", ["text", "csv", "json", "html", "kml"])
def test_a_file_name_that_is_no_text(form: str, tmp_path: Path) -> None:
    path = os.fsdecode(os.fsencode(tmp_path) + b"/\xff\xfe.route")
    try:
        Path(path).write_bytes(TRIP.read_bytes())
    except OSError:
        pytest.skip("this file system takes no such name")
    for output in ("-", str(tmp_path / "out")):
        done = navlog("log", path, "--format", form, "-o", output)
        assert done.status == 0, done.err
    assert navlog("check", path, "--format", "csv").status == 0


@pytest.mark.parametrize("path", ["", ".", "/", "a" * 300])
def test_a_catalogue_where_none_can_be(path: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for command in (("log", str(TRIP)), ("catalogue", "info"), ("catalogue", "import", str(DATA / "cifp"))):
        done = navlog(*command, "--catalogue", path)
        assert done.status == 2
        told = ("[no-catalogue]", "[not-written]", "[not-a-catalogue]") if path else ("names no file",)
        assert any(word in done.err for word in told), done.err
    assert list(tmp_path.glob("[!n]*")) == []


def test_the_gap_between_unknown_points_is_looked_over_quickly() -> None:
    """Each unknown point once asked all others where it may be."""
    names = itertools.islice(itertools.product("ABCDEFGHIJ", repeat=4), 1_000)
    with within_seconds(5.0):
        done = navlog("log", "-", typed=changed("route " + " ".join("Z" + "".join(name) for name in names)))
    assert done.err.count("[unknown-name]") == 1_000


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        (("check", str(EXAMPLES / "dogleg.route"), "--baseline", "FILE"), "a baseline"),
        (("mark", str(EXAMPLES / "dogleg.route"), "FILE"), "a file of answers"),
        (("notices", "FILE"), "a text of notices"),
        (("log", "FILE"), "a route file"),
    ],
)
@pytest.mark.parametrize(("data", "hint"), [(b"\x80\x01\x02", "{} is plain text in UTF-8"), (b"a" * 1_000_001, "{}")])
def test_a_hint_names_the_kind_of_file_that_was_asked_for(
    words: tuple[str, ...], kind: str, data: bytes, hint: str, tmp_path: Path
) -> None:
    file = tmp_path / "wrong"
    file.write_bytes(data)
    done = navlog(*(str(file) if word == "FILE" else word for word in words))
    assert done.status == 2
    (told,) = [line for line in done.err.splitlines() if line.strip().startswith("hint:")]
    assert hint.format(kind) in told or (kind == "a route file" and "share its flights out" in told)
    assert kind == "a route file" or "route" not in told


LONG = "x" * 19_000
LONG_WORDS = "word " * 3_000


@pytest.mark.parametrize("name", [LONG, LONG_WORDS.strip()], ids=["one word", "many words"])
@pytest.mark.parametrize("form", ["pdf", "html", "strip", "text", "steps"])
def test_a_flight_with_a_name_as_long_as_a_line(form: str, name: str, tmp_path: Path) -> None:
    path = tmp_path / "trip.route"
    path.write_text(f'{changed()}\nflight "{name}"\n', "utf-8")
    with within_seconds(30):
        done = navlog("log", str(path), "--format", form, "-o", str(tmp_path / "out"))
    assert done.status in (0, 1), done.err


@pytest.mark.parametrize("burn", ["999gph", "9999gph", "99999gph"])
def test_large_figures_of_fuel_stay_within_the_width(burn: str) -> None:
    done = navlog("log", "-", typed=changed(f"burn {burn}"))
    assert [line for line in done.out.splitlines() if len(line) > 80] == []
    revised = navlog("revise", "-", "--at", "QHB", "15:16", typed=changed(f"burn {burn}"))
    assert "REVISED" in revised.out
    assert [line for line in revised.out.splitlines() if len(line) > 80] == []


def test_a_place_that_is_no_station_is_not_suggested_as_one() -> None:
    done = navlog("log", "-", typed=changed("direct QHB - XHAR 9.6nm min 2500 on XHAR 274", "unavailable XHAR"))
    assert done.status == 2
    assert "did you mean `XHAR`" not in done.err
    assert "`XHAR` is" in done.err


def test_a_route_without_a_file_names_the_digest_of_what_its_options_say() -> None:
    """Not that of no bytes at all, e3b0c442..., and another where the options are others."""
    places = [one for one in STATEMENTS if one.startswith(("station", "airport", "airway", "direct"))]
    options = ["--date", "2026-07-18", "--altitude", "3000", "--set", "tas 110kt"]
    options += [word for one in places for word in ("--set", one)]
    one, other = (
        navlog("log", "--route", route, *options).out.split("SHA-256 ")[1][:12]
        for route in ("XHAR..QHB", "XHAR..QHB.V801.QEL")
    )
    assert len({one, other, "e3b0c44298fc"}) == 3


def test_zones_are_known_where_the_system_has_none() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "navlog", "log", str(TRIP), "--off", "10:10 America/Chicago"],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONTZPATH": ""},
    )
    assert "off 15:10Z (10:10 CDT)" in done.stdout, done.stderr
