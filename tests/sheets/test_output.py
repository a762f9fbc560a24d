"""`navlog log --output`: the format by suffix, several files at once, all of them whole or none."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import threading
from contextlib import redirect_stdout
from pathlib import Path

import pytest
from helpers.drawn import ROUTES
from helpers.flown import ROOT, Run, changed, navlog

from navlog.cli import run
from navlog.sheets.formats import MODULES, PAPERS, SUFFIXES, format_of
from navlog.sheets.pages import PAGES

MARSH = str(ROUTES / "marsh.route")

BEGINNINGS = {
    "trip.txt": b"VOR NAVIGATION LOG",
    "trip.md": b"# VOR navigation log",
    "trip.html": b"<!DOCTYPE html>",
    "trip.csv": b"flight,leg,from",
    "trip.json": b'{"schema": "navlog/1"',
    "trip.gpx": b'<?xml version="1.0" encoding="UTF-8"?>\n<gpx',
    "trip.kml": b'<?xml version="1.0" encoding="UTF-8"?>\n<kml',
    "trip.geojson": b'{"type": "FeatureCollection"',
    "TRIP.GPX": b"<?xml",
}


def written(folder: Path, *names: str, options: tuple[str, ...] = ()) -> Run:
    outputs = [word for name in names for word in ("-o", str(folder / name))]
    return navlog("log", MARSH, *outputs, *options)


@pytest.mark.parametrize("name", BEGINNINGS)
def test_a_suffix_picks_the_format(name: str, tmp_path: Path) -> None:
    done = written(tmp_path, name)
    assert (done.status, done.out) == (0, "")
    assert (tmp_path / name).read_bytes().startswith(BEGINNINGS[name])


def test_several_files_are_written_at_once(tmp_path: Path) -> None:
    assert written(tmp_path, "a.gpx", "b.csv", "c.txt", options=("--format", "strip")).status == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.gpx", "b.csv", "c.txt"]
    assert (tmp_path / "c.txt").read_text().startswith("Round the marsh")


def test_what_cannot_all_be_written_is_not_written_at_all(tmp_path: Path) -> None:
    (tmp_path / "kept.gpx").write_text("as it was")
    tried = written(tmp_path, "kept.gpx", "new.csv", "no/such/folder.kml")
    assert tried.status == 2
    assert "cannot write this file: no such file or directory [cannot-write]" in tried.err
    assert [path.name for path in tmp_path.iterdir()] == ["kept.gpx"]
    assert (tmp_path / "kept.gpx").read_text() == "as it was"


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "sub.csv").mkdir()
    assert written(tmp_path, "new.gpx", "sub.csv").status == 2
    assert not (tmp_path / "new.gpx").exists()


@pytest.mark.parametrize("name", ["trip.route", "plane.toml", "winds.txt", "linked.txt", "also.txt", "./trip.route"])
def test_a_file_that_the_run_reads_is_never_written(name: str, tmp_path: Path) -> None:
    (tmp_path / "plane.toml").write_text((ROOT / "examples" / "trainer.toml").read_text())
    (tmp_path / "winds.txt").write_text("no bulletin")
    route = changed("aircraft plane.toml", "winds winds.txt", without=("tas", "burn", "wind"))
    (tmp_path / "trip.route").write_text(route)
    (tmp_path / "linked.txt").symlink_to("trip.route")
    (tmp_path / "also.txt").hardlink_to(tmp_path / "winds.txt")
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    tried = navlog("log", str(tmp_path / "trip.route"), "-o", str(tmp_path / name))
    assert (tried.status, tried.out) == (2, "")
    assert "this run reads the file that it would write [output-is-input]" in tried.err
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_the_catalogue_is_never_written(tmp_path: Path) -> None:
    catalogue = tmp_path / "catalogue.sqlite"
    catalogue.write_bytes(b"whatever")
    tried = navlog("log", MARSH, "--catalogue", str(catalogue), "-o", str(catalogue))
    assert tried.status == 2
    assert "[output-is-input]" in tried.err
    assert catalogue.read_bytes() == b"whatever"


def test_one_file_under_two_names_is_written_once_or_not_at_all(tmp_path: Path) -> None:
    (tmp_path / "sub").mkdir()
    tried = written(tmp_path, "a.gpx", "sub/../a.gpx")
    assert tried.status == 2
    assert "two outputs are this one file [output-twice]" in tried.err
    assert not (tmp_path / "a.gpx").exists()


def test_a_symbolic_link_stays_and_the_file_it_names_is_written(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    (tmp_path / "far" / "real.gpx").write_text("as it was")
    (tmp_path / "link.gpx").symlink_to("far/real.gpx")
    assert written(tmp_path, "link.gpx").status == 0
    assert (tmp_path / "link.gpx").is_symlink()
    assert (tmp_path / "far" / "real.gpx").read_bytes().startswith(b"<?xml")
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["far", "link.gpx", "real.gpx"]


def test_a_file_written_again_keeps_its_permissions(tmp_path: Path) -> None:
    (tmp_path / "a.gpx").write_text("as it was")
    (tmp_path / "a.gpx").chmod(0o600)
    assert written(tmp_path, "a.gpx").status == 0
    assert (tmp_path / "a.gpx").stat().st_mode & 0o777 == 0o600


def test_a_named_pipe_is_written_into_and_stays(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.gpx")
    heard: list[bytes] = []
    reader = threading.Thread(target=lambda: heard.append((tmp_path / "pipe.gpx").read_bytes()))
    reader.start()
    assert written(tmp_path, "pipe.gpx").status == 0
    reader.join(timeout=10)
    assert heard[0].startswith(b"<?xml")
    assert (tmp_path / "pipe.gpx").is_fifo()


def test_a_format_that_no_output_takes_is_an_error(tmp_path: Path) -> None:
    tried = written(tmp_path, "a.gpx", options=("--format", "csv"))
    assert tried.status == 2
    assert "--format csv does not fit" in tried.err
    assert written(tmp_path, "a.gpx", "a.gpx").status == 2
    assert list(tmp_path.iterdir()) == []


def test_a_dash_is_standard_output(tmp_path: Path) -> None:
    done = navlog("log", MARSH, "-o", "-", "-o", str(tmp_path / "a.gpx"), "--format", "item15")
    assert done.out.startswith("N0")
    assert (tmp_path / "a.gpx").exists()


def test_a_flight_with_a_problem_leaves_no_file(tmp_path: Path) -> None:
    tried = navlog("log", "-", "-o", str(tmp_path / "a.gpx"), typed=changed("route XHAR QXX XOLD"))
    assert tried.status == 2
    assert list(tmp_path.iterdir()) == []


class Terminal(io.TextIOWrapper):
    def isatty(self) -> bool:
        return True


def test_a_pdf_is_not_for_a_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")
    shown = io.BytesIO()
    with redirect_stdout(Terminal(shown)) as terminal:
        assert run(["log", MARSH, "--format", "pdf"]) == 2
        terminal.flush()
    assert shown.getvalue() == b""
    assert "a PDF is not for a terminal [pdf-to-terminal]" in capsys.readouterr().err


def test_a_broken_pipe_is_quiet() -> None:
    program = f"import sys; from navlog.cli import main; main(['log', {MARSH!r}, '--format', 'html'])"
    reader = subprocess.Popen(
        [sys.executable, "-c", program], stdout=subprocess.PIPE, stderr=subprocess.PIPE, bufsize=0
    )
    assert reader.stdout is not None
    assert reader.stderr is not None
    reader.stdout.read(10)
    reader.stdout.close()
    assert reader.stderr.read() == b""
    reader.stderr.close()
    assert reader.wait() == 0


def test_the_tables_of_formats_and_papers_agree() -> None:
    assert set(SUFFIXES.values()) <= set(MODULES)
    assert set(PAPERS) == set(PAGES)
    assert format_of("trip") is None
    assert format_of("trip.txt") is None
    assert format_of("my.trips/trip.PDF") == "pdf"


@pytest.mark.parametrize("form", MODULES)
def test_a_format_loads_only_its_own_sheet(form: str) -> None:
    if form == "pdf":
        pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")
    program = (
        f"import sys; from navlog.cli import run; status = run(['log', {MARSH!r}, '--format', {form!r}]);"
        " sys.stderr.write(' '.join(sys.modules)); sys.exit(status)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True)
    loaded = set(done.stderr.decode().split())
    others = {f"navlog.sheets.{module}" for name, module in MODULES.items() if name != form}
    assert loaded & others == set()
    assert ("reportlab" in loaded) == (form == "pdf")
