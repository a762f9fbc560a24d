"""A catalogue with flipped bytes, lost pages or no end: an answer or a problem, whatever is asked of it."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from helpers.flown import changed, navlog
from helpers.nasr_excerpt import DATA
from helpers.watched import within_seconds
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from navlog.catalogue import import_data

DAY = ("--date", "2026-05-20")
QUESTIONS = (
    ("catalogue", "info", *DAY),
    ("catalogue", "station", "GLL", *DAY),
    ("catalogue", "airway", "V101", *DAY),
    ("catalogue", "nearby", "N39 30.00 W104 40.00", *DAY),
    ("catalogue", "audit", "V1", "V101", *DAY),
    ("log", "-"),
    ("check", "-"),
)
ROUTES = ("CRE V1 PLANN", "GLL V101 LIBEL", "GLL V101 LIBEX")
PAGE = 4096
OWN = ("station", "airport", "airway", "direct")
"""What the invented flight defines itself."""


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The catalogue of the excerpts."""
    path = tmp_path_factory.mktemp("whole") / "catalogue.sqlite"
    for source in ("nasr", "cifp", "ourairports"):
        import_data(DATA / source, path)
    return path


def spoilt(whole: bytes, chance: Random) -> bytes:
    """The file as a failing disk leaves it."""
    data = bytearray(whole)
    kind = chance.choice(("cut", "flip", "flip", "page", "text"))
    first, other = (chance.randrange(len(data) // PAGE) * PAGE for _ in range(2))
    if kind == "cut":
        del data[chance.randrange(len(data)) :]
    elif kind == "page":
        data[first : first + PAGE] = chance.choice((bytes(PAGE), data[other : other + PAGE]))
    else:
        for _ in range(chance.choice((1, 10, 300))):
            place = chance.randrange(len(data))
            if kind == "flip" or 0x20 <= data[place] < 0x7F:
                data[place] = chance.choice((0, 0x20, 0x39, 0x41, 0xFF, chance.randrange(256)))
    return bytes(data)


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(seed=st.integers(0, 2**32))
def test_a_spoilt_catalogue_is_an_answer_or_a_problem(whole: Path, tmp_path: Path, seed: int) -> None:
    chance = Random(seed)
    path = tmp_path / "catalogue.sqlite"
    path.write_bytes(spoilt(whole.read_bytes(), chance))
    text = changed(
        f"route {chance.choice(ROUTES)}", "date 2026-05-20", without=("station", "airport", "airway", "direct")
    )
    for question in QUESTIONS:
        with within_seconds(5.0):
            done = navlog(*question, "--catalogue", str(path), typed=text)
        assert done.status in (0, 1, 2), done.err
        assert done.status < 2 or "error: " in done.err


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(seed=st.integers(0, 2**32))
def test_an_import_builds_upon_no_spoilt_catalogue(whole: Path, tmp_path: Path, seed: int) -> None:
    path = tmp_path / "catalogue.sqlite"
    path.write_bytes(spoilt(whole.read_bytes(), Random(seed)))
    before = path.read_bytes()
    done = navlog("catalogue", "import", str(DATA / "ourairports"), "--catalogue", str(path))
    assert done.status in (0, 2), done.err
    assert done.status == 0 or path.read_bytes() == before
    assert not (tmp_path / "catalogue.sqlite.new").exists()


def test_the_whole_catalogue_answers(whole: Path, tmp_path: Path) -> None:
    path = tmp_path / "catalogue.sqlite"
    path.write_bytes(whole.read_bytes())
    text = changed(f"route {ROUTES[1]}", "date 2026-05-20", without=OWN)
    for question in QUESTIONS:
        assert navlog(*question, "--catalogue", str(path), typed=text).status < 2


@pytest.mark.parametrize("values", ["type = 'VORTOC'", "latitude = 'here'", "edition = 99", "ident = x'4751'"])
def test_values_that_no_import_lets_in_are_damage(values: str, whole: Path, tmp_path: Path) -> None:
    import sqlite3

    path = tmp_path / "catalogue.sqlite"
    path.write_bytes(whole.read_bytes())
    connection = sqlite3.connect(path)
    connection.executescript(f"UPDATE station SET {values}")
    connection.close()
    done = [navlog(*question, "--catalogue", str(path)) for question in QUESTIONS[1:4]]
    assert all(one.status in (0, 2) for one in done)
    assert any("[damaged-catalogue]" in one.err or "[unknown-ident]" in one.err for one in done)
