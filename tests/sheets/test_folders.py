"""`navlog log` of several files and folders: one PDF with a bookmark a flight, or one file a flight."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from helpers.drawn import ROUTES
from helpers.flown import changed, navlog

from navlog.rules.answers import Answer
from navlog.sheets.formats import SUFFIXES, file_names, known_suffix


@pytest.fixture
def library(tmp_path: Path) -> Path:
    """A folder with three flights in two files, one of them in a folder below."""
    folder = tmp_path / "flights"
    (folder / "north").mkdir(parents=True)
    (folder / "trip.route").write_text(changed(), "utf-8")
    two = changed(without=("route",)) + 'flight "Out"\nroute XHAR QHB QEL\nflight "Back"\nroute QEL QHB XHAR\n'
    (folder / "north" / "two.route").write_text(two, "utf-8")
    return folder


def test_a_folder_becomes_one_pdf_with_a_bookmark_a_flight(library: Path, tmp_path: Path) -> None:
    pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")
    done = navlog("log", str(library), "-o", str(tmp_path / "all.pdf"))
    assert (done.status, done.out) == (0, ""), done.err
    written = (tmp_path / "all.pdf").read_bytes()
    assert re.findall(rb"/Title \((\w+)  2026-07-18\)", written) == [b"Out", b"Back", b"trip"]
    assert b"/Title (VOR navigation log: Out, Back, trip)" in written
    assert re.search(rb"/Author \(navlog [\d.]+ from two\.route, trip\.route\)", written)


def test_a_folder_becomes_a_file_a_flight(library: Path, tmp_path: Path) -> None:
    done = navlog("log", str(library), "--format", "gpx", "-o", f"{tmp_path / 'made'}/")
    assert (done.status, done.out) == (0, ""), done.err
    assert sorted(path.name for path in (tmp_path / "made").iterdir()) == ["trip.gpx", "two-Back.gpx", "two-Out.gpx"]
    assert "<name>Out</name>" in (tmp_path / "made" / "two-Out.gpx").read_text("utf-8")


def test_several_files_go_to_standard_output_one_after_the_other(library: Path) -> None:
    done = navlog("log", str(library / "trip.route"), str(library / "north"), "--format", "item15")
    assert done.status == 0
    assert len(done.out.strip().splitlines()) >= 3


def test_a_flight_with_a_problem_keeps_none_of_the_others_from_their_files(library: Path, tmp_path: Path) -> None:
    (library / "bad.route").write_text(changed("route XHAR NOWHERE"), "utf-8")
    (library / "broken.route").write_bytes(b"\xff\xfe\x00")
    done = navlog("log", str(library), "--format", "text", "-o", f"{tmp_path / 'made'}/")
    assert done.status == 2
    assert "bad.route" in done.err
    assert "broken.route" in done.err
    assert sorted(path.name for path in (tmp_path / "made").iterdir()) == ["trip.txt", "two-Back.txt", "two-Out.txt"]


def test_what_cannot_all_be_written_leaves_no_folder(library: Path, tmp_path: Path) -> None:
    asked = (
        "log",
        str(library),
        "--format",
        "gpx",
        "-o",
        f"{tmp_path / 'made'}/",
        "-o",
        str(tmp_path / "no" / "a.csv"),
    )
    done = navlog(*asked)
    assert done.status == 2
    assert "[cannot-write]" in done.err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["flights"]


def test_a_folder_below_one_that_is_not_there_is_a_problem(library: Path, tmp_path: Path) -> None:
    done = navlog("log", str(library), "-o", f"{tmp_path / 'no' / 'made'}/")
    assert done.status == 2
    assert "cannot write this file: no such file or directory [cannot-write]" in done.err


def test_a_file_that_stands_where_the_folder_would_is_a_problem(library: Path, tmp_path: Path) -> None:
    (tmp_path / "made").write_text("as it was")
    done = navlog("log", str(library), "-o", f"{tmp_path / 'made'}/")
    assert done.status == 2
    assert (tmp_path / "made").read_text() == "as it was"


@pytest.mark.parametrize("options", [("--flight", "Out"), ("--wind-spread", "5kt")])
def test_what_is_asked_of_one_file_is_refused_of_several(options: tuple[str, str], library: Path) -> None:
    done = navlog("log", str(library), *options)
    assert done.status == 2
    assert "go with one route file" in done.err


@pytest.mark.parametrize("name", ["trip.foo", "trip.pdf.bak", "trip.", "trip.docx", "trip.json5", "a.b/trip.zip"])
def test_a_suffix_that_names_no_format_is_refused_and_nothing_written(name: str, tmp_path: Path) -> None:
    kept = str(tmp_path / "kept.gpx")
    done = navlog("log", str(ROUTES / "marsh.route"), "-o", kept, "-o", str(tmp_path / name), "--format", "text")
    assert done.status == 2
    assert "this suffix names no format" in done.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "name",
    [*(f"trip{one}" for one in SUFFIXES), "trip", "TRIP.TXT", "a.b/trip", r"a.b\trip", r"a\.hidden", ".hidden", "-"],
)
def test_these_suffixes_are_known(name: str) -> None:
    assert known_suffix(name)


def answer(file: str, flight: str | None) -> Answer:
    return Answer(flight, file, 1, None)


def test_names_of_files_are_safe_and_apart() -> None:
    found = (
        answer("x/trip.route", "trip"),
        answer("y/Trip.route", "Trip"),
        answer("x/trip.route", "../../etc/passwd"),
        answer("-", "东京"),
        answer("x/long.route", "a" * 300),
        answer("x/broken.route", None),
    )
    names = file_names(found, "pdf")
    assert names[:4] == ("trip.pdf", "Trip-2.pdf", "trip-etc-passwd.pdf", "flight.pdf")
    assert len(names[4]) <= 84
    assert names[5] == "broken.pdf"
    assert file_names(found, "strip")[0] == "trip.txt"
