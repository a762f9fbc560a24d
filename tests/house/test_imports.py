"""What may import what: the layers of the house, the owners of outside libraries, and what start-up loads."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "navlog"
EXAMPLE = str(PACKAGE.parent / "examples" / "dogleg.route")

ROOMS: dict[str, tuple[str, ...] | None] = {
    "nav": (),
    "request": ("nav",),
    "catalogue": ("nav",),
    "computations": ("nav", "request"),
    "resolve": ("nav", "request"),
    "flightlog": ("nav", "request", "resolve"),
    "rules": ("nav", "request", "resolve", "flightlog"),
    "printed": ("nav", "request", "resolve", "flightlog", "rules"),
    "sheets": ("nav", "request", "computations", "resolve", "flightlog", "rules", "printed"),
    "studies": (
        "nav",
        "request",
        "catalogue",
        "computations",
        "resolve",
        "flightlog",
        "rules",
        "printed",
        "sheets",
    ),
    "cli": None,
}
"""The rooms in the order of the data, and what each may import of ours; the last may import all."""

FRONT = {"__init__", "__main__", "version"}
"""What stands before the rooms: the names of the library, the command, and the version, which all may name."""

OWNERS = {
    "difflib": {"nav/spelling.py", "studies/cycles.py"},  # names spelt alike; routes with points in common
    "pyproj": {"nav/earth.py"},
    "pygeomag": {"nav/magnetism.py"},
    "sqlite3": {"catalogue"},
    "tomllib": {"request/tomlfile.py"},
    "click": {"cli"},
    "tabulate": {"nav/layout.py"},
    "reportlab": {"sheets"},
}
"""The only rooms or modules that may import an outside library, or one of Python's that is slow to load."""

HEAVY = {
    "pyproj",
    "pygeomag",
    "numpy",
    "tabulate",
    "reportlab",
    "sqlite3",
    "zoneinfo",
    "json",
    "difflib",
    "tomllib",
    "csv",
}


def room_of(path: Path) -> str:
    """The room that a file stands in, or the file's own name at the front."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


@cache
def imports(path: Path) -> tuple[tuple[str, int], ...]:
    """Every module that a file imports anywhere in it, save for type checking alone, with its line."""
    return tuple(_imports(path))


def _imports(path: Path) -> Iterator[tuple[str, int]]:
    tree = tree_of(path)
    for_types = {
        id(node)
        for block in ast.walk(tree)
        if isinstance(block, ast.If) and isinstance(block.test, ast.Name) and block.test.id == "TYPE_CHECKING"
        for node in ast.walk(block)
    }
    for node in ast.walk(tree):
        if id(node) in for_types:
            continue
        if isinstance(node, ast.Import):
            yield from ((name.name, node.lineno) for name in node.names)
        elif isinstance(node, ast.ImportFrom) and (node.module == "navlog" or node.module in PACKAGES):
            yield from ((f"{node.module}.{name.name}", node.lineno) for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield "." * node.level + (node.module or ""), node.lineno


@cache
def modules_named(path: Path) -> frozenset[str]:
    """What a file imports, and the modules and rooms that it comes from."""
    names = (name.split(".") for name, _ in imports(path))
    return frozenset(".".join(words[:length]) for words in names for length in range(1, len(words) + 1))


FILES = sorted(PACKAGE.rglob("*.py"))
PACKAGES = {f"navlog.{room}" for room in ROOMS}


def test_every_module_stands_in_a_room() -> None:
    assert {room_of(path) for path in FILES} - set(ROOMS) - FRONT == set()
    assert all(len(path.relative_to(PACKAGE).parts) == 2 or room_of(path) in FRONT for path in FILES)


def test_a_short_file_has_readers_in_more_than_one_place() -> None:
    """What one neighbour alone reads stands with it, but for rules, formats and sources, which are one file each."""
    from navlog.catalogue.importing import SOURCES
    from navlog.rules.domains import every_rule
    from navlog.sheets.formats import MODULES

    chosen = {f"rules/{one.check.__module__.rpartition('.')[2]}.py" for one in every_rule()}
    chosen |= {f"sheets/{module}.py" for module in MODULES.values()}
    chosen |= {f"catalogue/{source.__name__.rpartition('.')[2]}.py" for source in SOURCES}
    wrong = []
    for path in FILES:
        name = path.relative_to(PACKAGE).with_suffix("").as_posix().replace("/", ".")
        readers = [other for other in FILES if other != path and f"navlog.{name}" in modules_named(other)]
        short = len(path.read_text("utf-8").splitlines()) < 60 and path.stem not in ("__init__", "__main__")
        here = path.relative_to(PACKAGE).as_posix()
        if short and here not in chosen and [room_of(one) for one in readers] == [room_of(path)]:
            wrong.append(f"{here}: read by {readers[0].name} alone")
    assert wrong == []


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_imports_only_what_the_table_allows(room: str) -> None:
    allowed = {*ROOMS, "version"} if ROOMS[room] is None else {*(ROOMS[room] or ()), room, "version"}
    wrong = [
        f"{path.relative_to(PACKAGE)}:{line} imports {name}"
        for path in FILES
        if room_of(path) == room
        for name, line in imports(path)
        if is_forbidden(name, allowed)
    ]
    assert wrong == []


def is_forbidden(name: str, allowed: set[str]) -> bool:
    """Whether an imported module is ours and in no room allowed; one whose name leaves the room open is."""
    first, *rest = name.split(".")
    return not first or (first == "navlog" and (not rest or rest[0] not in allowed))


def test_a_name_that_hides_its_room_is_forbidden() -> None:
    allowed = {"nav", "version"}
    assert [is_forbidden(name, allowed) for name in ("navlog.nav.wind", "navlog.version", "math")] == [False] * 3
    hidden = ("navlog.resolve.route", "navlog.check_text", "navlog", "..resolve", ".")
    assert [is_forbidden(name, allowed) for name in hidden] == [True] * 5


def test_the_table_follows_the_order_of_the_data() -> None:
    rooms = list(ROOMS)
    for place, (room, allowed) in enumerate(ROOMS.items()):
        assert set(allowed or ()) <= set(rooms[:place]), room


def test_outside_libraries_have_one_owner_each() -> None:
    wrong = [
        f"{path.relative_to(PACKAGE)}:{line} imports {name}"
        for path in FILES
        for name, line in imports(path)
        for owners in [OWNERS.get(name.split(".")[0])]
        if owners is not None and not {room_of(path), str(path.relative_to(PACKAGE))} & owners
    ]
    assert wrong == []


def test_a_sheet_computes_nothing() -> None:
    """No geodesic, no variation and no look-up is made where a log is only laid out."""
    computing = ("navlog.nav.earth", "navlog.nav.magnetism", "sqlite3")
    wrong = [
        f"{path.relative_to(PACKAGE)}:{line} imports {name}"
        for path in FILES
        if room_of(path) == "sheets"
        for name, line in imports(path)
        if name.startswith(computing)
    ]
    assert wrong == []


def test_the_core_prints_nothing_and_reads_no_clock_and_no_environment() -> None:
    forbidden = {"print", "now", "today", "utcnow", "time_ns", "environ", "getenv", "input"}
    wrong = [
        f"{path.relative_to(PACKAGE)}:{node.lineno} {name}"
        for path in FILES
        if room_of(path) != "cli"
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Call | ast.Attribute)
        for name in [called(node)]
        if name in forbidden
    ]
    assert wrong == []


def called(node: ast.Call | ast.Attribute) -> str:
    """The name of a called function or of an attribute."""
    if isinstance(node, ast.Attribute):
        return node.attr
    return node.func.id if isinstance(node.func, ast.Name) else ""


def loaded(*arguments: str, typed: str = "") -> set[str]:
    """The modules that a command line loads in a fresh process."""
    script = (
        "import sys, io; from navlog.cli import run; out = sys.stdout\n"
        "sys.stdout = sys.stderr = io.StringIO()\n"
        f"run({list(arguments)!r})\n"
        "out.write(' '.join(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", script], input=typed, capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def ours(modules: set[str]) -> set[str]:
    return {name for name in modules if name.split(".")[0] == "navlog"}


@pytest.mark.parametrize("arguments", [("--help",), ("--version",), ("lgo",)])
def test_help_loads_the_commands_list_alone(arguments: tuple[str, ...]) -> None:
    modules = loaded(*arguments)
    # What a misspelt command was meant to be is a question of spelling.
    spelling = {"navlog.nav.spelling"} if arguments == ("lgo",) else set()
    assert ours(modules) == {"navlog", "navlog.cli", "navlog.nav", "navlog.nav.problems", "navlog.version"} | spelling
    assert modules & (HEAVY - {"difflib"}) == set()


@pytest.mark.parametrize(
    "typed",
    [
        pytest.param("station QHB 113.70\ntas fast\n", id="syntax error"),
        pytest.param("statoin QHB 113.70\n", id="misspelt keyword"),
        pytest.param("", id="empty"),
        pytest.param("station QHB 113.70\naltitude 3000\n", id="missing statements"),
    ],
)
def test_a_syntax_error_loads_no_geometry(typed: str) -> None:
    modules = loaded("log", "-", typed=typed)
    assert modules & (HEAVY - {"difflib"}) == set()
    found = ours(modules)
    assert (
        found & {"navlog.nav.earth", "navlog.nav.magnetism", "navlog.rules.report", "navlog.flightlog.planning"}
        == set()
    )
    assert {name.split(".")[1] for name in found if "." in name} & {"resolve", "flightlog", "printed"} == set()
    assert {name for name in found if name.startswith("navlog.sheets.")} <= {"navlog.sheets.formats"}


def test_a_misspelt_name_loads_no_geodesic() -> None:
    typed = "station QHB 113.70\ndate 2026-07-18\naltitude 3000\ntas 100kt\nroute QHB QHC\n"
    assert loaded("log", "-", typed=typed) & {"pyproj", "pygeomag", "numpy"} == set()


def test_a_chart_only_flight_needs_neither_geodesic_nor_magnetic_model() -> None:
    typed = (
        "station QHB 113.70 decl 15W\nstation QEL 110.20 decl 17W\nairway V801 QHB 212 - 034 QEL 29.5nm\n"
        "date 2026-07-18\naltitude 3000\ntas 100kt\nwind calm\nroute QHB V801 QEL\n"
    )
    assert loaded("log", "-", typed=typed) & {"pygeomag", "numpy", "sqlite3", "reportlab"} == set()


@pytest.mark.parametrize("form", ["text", "strip", "json"])
def test_what_is_printed_most_waits_for_no_tables(form: str) -> None:
    modules = loaded("log", EXAMPLE, "--format", form)
    assert "navlog.flightlog.planning" in modules
    assert "tabulate" not in modules


def test_a_check_waits_for_no_tables_and_a_planning_sheet_has_them() -> None:
    assert "tabulate" not in loaded("check", EXAMPLE)
    assert "tabulate" in loaded("log", EXAMPLE, "--format", "planning")
