"""Published data with hostile text in any column: what reaches a terminal is plain, a line stays one line."""

from __future__ import annotations

import ast
import csv
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.flown import ROOT, Run, navlog
from helpers.nasr_excerpt import DATA

HOSTILE = "a\x1b[31m\x1b]0;x\x07\x9b2J\u202eb\u2066\x00\x7f\x08\u2028"
FORGED = "\nerror: forged [forged]\r0 rows rejected\n"
CSV_FILES = sorted((*(DATA / "nasr").glob("*.csv"), *(DATA / "ourairports").glob("*.csv")))
CIFP = DATA / "cifp" / "FAACIFP18"
ASKED = (
    ("catalogue", "info"),
    ("catalogue", "station", "CRE"),
    ("catalogue", "airway", "V1"),
    ("catalogue", "nearby", "33.8 -78.7"),
    ("catalogue", "audit"),
    ("position", "33.8 -78.7", "--station", "CRE"),
)
ROUTE = "date 2026-05-20\ntas 120kt\nwind calm\naltitude 6500\nroute CHS V1 CRE\n"


def plain(printed: str) -> bool:
    """Whether a terminal only prints it, and no line of it is forged."""
    steering = [one for one in printed if not one.isprintable() and one not in "\n\f\u200d"]
    return not steering and not any(line.startswith(("error: forged", "0 rows rej")) for line in printed.splitlines())


def shown(run: Run) -> Run:
    """The run, whose every word is plain and which is no bug."""
    assert plain(run.out), ascii(run.out)
    assert plain(run.err), ascii(run.err)
    assert run.status in (0, 1, 2), run.err
    return run


def imported(folder: Path, catalogue: Path) -> Run:
    """The import of a folder or file, and then whatever asks about it."""
    found = shown(navlog("catalogue", "import", str(folder), "--catalogue", str(catalogue)))
    for words in ASKED:
        shown(navlog(*words, "--date", "2026-05-20", "--catalogue", str(catalogue)))
    for command in (("log", "-"), ("log", "-", "--format", "strip"), ("check", "-"), ("explain", "-")):
        shown(navlog(*command, "--catalogue", str(catalogue), typed=ROUTE))
    return found


def rows_of(path: Path) -> tuple[list[str], list[list[str]]]:
    """The header of a file and its rows."""
    with path.open(newline="", encoding="utf-8-sig") as opened:
        header, *rows = csv.reader(opened)
    return header, rows


def put(path: Path, header: list[str], rows: list[list[str]]) -> None:
    with path.open("w", newline="", encoding="utf-8") as opened:
        csv.writer(opened).writerows([header, *rows])


def beside(file: Path, folder: Path) -> Path:
    """A folder with all files of the source of one, of which that one will be written anew."""
    folder.mkdir()
    for one in file.parent.glob("*.csv"):
        (folder / one.name).write_bytes(one.read_bytes())
    return folder / file.name


@pytest.mark.parametrize("bad", [HOSTILE, HOSTILE + FORGED], ids=["controls", "lines"])
@pytest.mark.parametrize("file", CSV_FILES, ids=lambda file: f"{file.parent.name} {file.stem}")
def test_hostile_text_in_any_one_column(file: Path, bad: str, tmp_path: Path) -> None:
    header, rows = rows_of(file)
    more = [[*rows[0][:index], bad, *rows[0][index + 1 :]] for index in range(len(header))]
    put(beside(file, tmp_path / "data"), header, rows + more)
    found = imported(tmp_path / "data", tmp_path / "catalogue.sqlite")
    assert found.status == 0
    assert "rejected: " in found.err


@pytest.mark.parametrize("file", CSV_FILES, ids=lambda file: f"{file.parent.name} {file.stem}")
def test_hostile_text_in_every_text_that_is_taken(file: Path, tmp_path: Path) -> None:
    header, rows = rows_of(file)
    needed = ("ID", "TYPE", "POINT", "DATE", "DECIMAL", "HEMIS", "FLAG", "COUNTRY_CODE", "REGION", "DIR", "LOCATION")
    texts = {
        index
        for index, name in enumerate(header)
        if not name.upper().endswith(needed)
        and name not in ("ident", "local_code", "icao_code", "iso_country", "DME_SSV", "CHAN", "ALT_CODE")
        and not any(row[index].replace(".", "").lstrip("-").isdigit() for row in rows)
    }
    assert texts
    changed = [[cell + HOSTILE + FORGED if index in texts else cell for index, cell in enumerate(row)] for row in rows]
    put(beside(file, tmp_path / "data"), header, changed)
    found = imported(tmp_path / "data", tmp_path / "catalogue.sqlite")
    assert found.status == 0


@pytest.mark.parametrize("file", CSV_FILES, ids=lambda file: f"{file.parent.name} {file.stem}")
def test_hostile_text_as_every_date_and_every_heading(file: Path, tmp_path: Path) -> None:
    header, rows = rows_of(file)
    put(beside(file, tmp_path / "dated"), header, [[HOSTILE + FORGED, *row[1:]] for row in rows])
    imported(tmp_path / "dated", tmp_path / "dated.sqlite")
    put(beside(file, tmp_path / "headed"), [HOSTILE + FORGED] * len(header), rows)
    imported(tmp_path / "headed", tmp_path / "headed.sqlite")


def test_a_row_of_another_date_is_told_without_its_escapes(tmp_path: Path) -> None:
    header, rows = rows_of(DATA / "nasr" / "NAV_BASE.csv")
    put(tmp_path / "NAV_BASE.csv", header, [*rows, ["2026\x1b]0;owned\x07\n", *rows[0][1:]]])
    found = navlog("catalogue", "import", str(tmp_path), "--catalogue", str(tmp_path / "catalogue.sqlite"))
    (line,) = [one for one in found.err.splitlines() if ": rejected: " in one]
    assert line == f"{tmp_path}/NAV_BASE.csv:{len(rows) + 2}: rejected: dated 2026?]0;owned?? in a file of 2026/05/14"


def cifp_records() -> Iterator[str]:
    """Every record of the excerpt with a hostile text over each of its columns in turn, a window at a time."""
    bad = "\x1b[31m\x07\x08\x7f\x00\x0b"
    for line in CIFP.read_text("ascii").splitlines():
        yield line
        for start in range(0, len(line) - len(bad), 3):
            yield line[:start] + bad + line[start + len(bad) :]


def test_hostile_text_in_any_column_of_cifp(tmp_path: Path) -> None:
    path = tmp_path / "FAACIFP18"
    path.write_bytes("".join(f"{line}\r\n" for line in cifp_records()).encode("ascii"))
    found = imported(path, tmp_path / "catalogue.sqlite")
    assert found.status == 0
    assert "rejected: " in found.err


def test_a_hostile_name_in_a_zip(tmp_path: Path) -> None:
    header, rows = rows_of(DATA / "nasr" / "NAV_BASE.csv")
    put(tmp_path / "NAV_BASE.csv", header, [*rows, rows[0][1:]])
    with zipfile.ZipFile(tmp_path / "data.zip", "w") as archive:
        archive.write(tmp_path / "NAV_BASE.csv", "\x1b[31m\nerror: forged/NAV_BASE.csv")
    shown(navlog("catalogue", "import", str(tmp_path / "data.zip"), "--catalogue", str(tmp_path / "c.sqlite")))


WRITES = re.compile(r"print|click\.s?echo|sys\.std(out|err)\.(.+\.)?write(lines)?")


def test_text_reaches_a_stream_in_one_way_only() -> None:
    """Only these functions write to a standard stream; the texts of all others go through `shown_on`."""
    writers = {
        ("cli/__init__.py", "echo_error"),
        ("cli/output.py", "_to_stdout"),
        ("cli/terminal.py", "show"),
        ("cli/terminal.py", "with_progress"),  # a bar of its own words
        ("__main__.py", "main"),  # one constant word
    }
    found = set()
    for path in sorted((ROOT / "navlog").rglob("*.py")):
        for function in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(function, ast.FunctionDef):
                calls = [ast.unparse(node.func) for node in ast.walk(function) if isinstance(node, ast.Call)]
                if any(WRITES.fullmatch(one) for one in calls):
                    found.add((str(path.relative_to(ROOT / "navlog")), function.name))
    assert found == writers
