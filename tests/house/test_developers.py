"""What DEVELOPERS.md says to write is written into a copy of the package, and the toy of each kind works there."""

from __future__ import annotations

import ast
import json
import os
import re
import shutil
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BLOCK = re.compile(r"^```python\n(.*?)^```\n", re.MULTILINE | re.DOTALL)
HEADING = re.compile(r"# (navlog/[\w/]+\.py)(?:, (?:(at the end)|(under|above) `(.+)`))?\n")
ROOM = re.compile(r"^\| `(\w+)` \| .+ \| ([\w, -]+) \|$", re.MULTILINE)
KINDS = ("A statement", "A rule", "A sheet", "A computation", "A source of published data")
FLIGHT = (ROOT / "examples" / "round_robin.route").read_text("utf-8")


def write(block: str, folder: Path) -> None:
    """A block into the file that its heading names: whole, at the end, or by the one line that begins as it says."""
    heading = HEADING.match(block)
    assert heading is not None, block
    name, at_the_end, side, anchor = heading.groups()
    path, text = folder / name, block[heading.end() :]
    if not (at_the_end or side):
        assert not path.exists(), name
        path.write_text(text, "utf-8")
        return
    lines = path.read_text("utf-8").splitlines(keepends=True)
    place = len(lines)
    if side:
        (place,) = (number for number, line in enumerate(lines) if line.lstrip().startswith(anchor))
        place += side == "under"
    path.write_text("".join([*lines[:place], text, *lines[place:]]), "utf-8")


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the package and the toys in it."""
    folder = tmp_path_factory.mktemp("copy")
    shutil.copytree(ROOT / "navlog", folder / "navlog", ignore=shutil.ignore_patterns("__pycache__"))
    for block in BLOCK.findall((ROOT / "DEVELOPERS.md").read_text("utf-8")):
        write(block, folder)
    return folder


def run(copy: Path, *command: str, typed: str = "") -> tuple[int, str, str]:
    """The status, output and messages of Python in the copy; without `-c`, of the command line."""
    environment = os.environ | {"PYTHONPATH": str(copy), "XDG_CONFIG_HOME": str(copy), "PYTHONDONTWRITEBYTECODE": "1"}
    words = command if command[0] == "-c" else ("-m", "navlog", *command)
    done = subprocess.run(
        [sys.executable, *words], input=typed, capture_output=True, text=True, env=environment, cwd=copy, check=False
    )
    return done.returncode, done.stdout, done.stderr


def test_the_house_drawn_is_the_one_that_is_built() -> None:
    table, page = ROOT / "tests" / "house" / "test_imports.py", (ROOT / "DEVELOPERS.md").read_text("utf-8")
    assigned = (node for node in ast.parse(table.read_text("utf-8")).body if isinstance(node, ast.AnnAssign))
    (value,) = (node.value for node in assigned if ast.unparse(node.target) == "ROOMS" and node.value is not None)
    rooms = {room: sorted(may or ()) for room, may in ast.literal_eval(value).items()}
    told, above = {}, list[str]()
    for room, may in ROOM.findall(page):
        told[room] = sorted(
            above if may == "all above" else [one for one in may.split(", ") if one not in ("-", "all")]
        )
        above.append(room)
    assert told == rooms
    picture = page.split("```text\n")[1].split("```")[0]
    assert [room for room in rooms if not re.search(rf"\b{room}\b", picture)] == []
    (row,) = (line for line in picture.splitlines() if line.count("->") > 2)
    along = re.findall(r"\w+", row)
    assert [(one, other) for one, other in pairwise(along) if one not in rooms[other]] == []


def test_the_toys_keep_the_rules_of_the_house(copy: Path) -> None:
    """Save for the field that the statement fills, which its reader has yet to use."""
    for path in (ROOT / "tests").rglob("*.py"):
        here = copy / path.relative_to(ROOT)
        here.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(path, here)
    guards = [f"tests/house/test_{name}.py" for name in ("names", "imports")]
    ask = (
        "import sys, pytest\n"
        f"sys.exit(pytest.main(['-q', '-p', 'no:cacheprovider', '--import-mode=importlib', *{guards!r},\n"
        "    '-k', 'underscore or short_file or allows or owner']))"
    )
    status, out, _ = run(copy, "-c", ask)
    assert status == 0, out


def test_every_kind_has_its_blocks() -> None:
    section = (ROOT / "DEVELOPERS.md").read_text("utf-8").split("## How to add\n")[1].split("\n## ")[0]
    kinds = re.split(r"^\*\*(.+?)\*\*", section, flags=re.MULTILINE)
    assert tuple(kinds[1::2]) == KINDS
    assert all(BLOCK.search(text) for text in kinds[2::2])


def test_the_statement_is_read_and_reaches_the_request(copy: Path) -> None:
    ask = "import sys; from navlog import read_flights; print(read_flights(sys.stdin.read(), '-').flights[0].souls)"
    assert run(copy, "-c", ask, typed=f"souls 3\n{FLIGHT}") == (0, "3.0\n", "")
    status, out, err = run(copy, "log", "-", typed=f"souls many\n{FLIGHT}")
    assert (status, out) == (2, "")
    assert err.splitlines()[0] == "-:1:7: error: `many` is no number of people [bad-value]"


def test_the_rule_finds_its_failing_sample_and_passes_the_other(copy: Path) -> None:
    ask = (
        "from navlog import check_text; from navlog.rules.domains import rule_named\n"
        "one = rule_named('no-time-off')\n"
        "for text in (one.passing, one.failing):\n"
        "    (answer,) = check_text(text.encode(), 'x.route')\n"
        "    print([found.message for found in answer.findings if found.rule == one.ident])\n"
    )
    assert run(copy, "-c", ask) == (0, "[]\n['no time of take-off is stated']\n", "")
    assert run(copy, "explain", "--rule", "no-time-off")[1].startswith(
        "no-time-off: The flight has no time of take-off"
    )


def test_the_sheet_is_printed(copy: Path) -> None:
    status, out, _ = run(copy, "log", "-", "--format", "tuning", typed=FLIGHT)
    lines = out.splitlines()
    assert status == 0
    assert lines[0].split() == ["No", "Tune", "Set"]
    assert lines[2].split() == ["1", "QHB", "113.70", "272", "TO"]


def test_the_computation_answers(copy: Path) -> None:
    assert run(copy, "sixty", "--off", "2nm", "--flown", "40nm") == (0, "track error 3 degrees\n", "")
    status, out, _ = run(copy, "sixty", "--off", "1nm", "--flown", "30nm", "--format", "json", "--workings")
    assert status == 0
    assert json.loads(out) == {
        "schema": "navlog/sixty-1",
        "computation": "sixty",
        "off_nm": 1.0,
        "flown_nm": 30.0,
        "error_deg": 2.0,
        "workings": [
            {
                "what": "track error",
                "formula": "60 x off / flown",
                "values": "60 x 1 / 30",
                "result": "2.0 degrees",
                "source": "common practice, no source",
            }
        ],
    }
    assert run(copy, "sixty", "--off", "2nm", "--flown", "0")[0] == 2
    assert "Track error by the one-in-sixty rule." in run(copy, "--help")[1]


def test_the_source_is_imported_and_asked(copy: Path, tmp_path: Path) -> None:
    rows = (
        "ident,type,name,latitude,longitude,frequency,declination",
        "QHB,VOR,HARBOUR,46.205,-39.345,113.7,-15",
        "QXX,VOR,NOWHERE,146,-39,113.7,-15",
    )
    (tmp_path / "clubnavaids.csv").write_text("\n".join(rows) + "\n", "utf-8")
    status, out, err = run(copy, "catalogue", "import", str(tmp_path))
    assert (status, out) == (0, "clubnavaids.csv: 1 stations, 1 rejected (the club's list, unverified)\n")
    assert "clubnavaids.csv:3: rejected: the latitude is not between -90 and 90" in err
    told = run(copy, "catalogue", "station", "QHB", "--date", "2026-07-18")[1]
    assert told.splitlines()[0] == "QHB VOR HARBOUR"
    assert "15W" in told
