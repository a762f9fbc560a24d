"""What hardening found and no other test holds: each was once told as a bug in navlog."""

from __future__ import annotations

import itertools
import os
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, changed, navlog
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
        assert "[no-catalogue]" in done.err or "[not-written]" in done.err or "[not-a-catalogue]" in done.err, done.err
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
