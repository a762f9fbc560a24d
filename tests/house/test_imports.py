"""What may import what: the layers of the house, the owners of outside libraries, and what start-up loads."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "navlog"

GROUND = "ground"
ALLOWED: dict[str, tuple[str, ...]] = {
    # Ground, from the floor up; each may use what stands before the arrow of data.
    "problems": (),
    "version": (),
    "figures": (),
    "workings": (),
    "cruising_levels": (),
    "airac": ("problems",),
    "units": ("problems",),
    "chart": ("problems",),
    "tomlfile": ("problems",),
    "angles": ("chart", "problems"),
    "atmosphere": ("problems", "units"),
    "radio": ("problems", "units"),
    "magnetism": ("chart", "problems"),
    "fuelmass": ("units",),
    "norths": ("angles", "problems", "units"),
    "trianglesides": ("angles", "problems"),
    "daylight": ("angles", "chart"),
    "earth": ("angles", "chart", "problems", "units"),
    "guidance": ("angles", "chart", "earth"),
    "wind": ("angles", "atmosphere", "chart", "earth", "problems"),
    # Reading: text and files to what was asked for. No geometry and no catalogue.
    "request": ("chart", "problems", "units"),
    "routefile": ("angles", "chart", "problems", "radio", "request", "units"),
    "aircraft": ("angles", "atmosphere", "problems", "units"),
    "aircraftfile": ("aircraft", "tomlfile", "units"),
    "bulletin": ("chart", "problems", "wind"),
    "references": ("aircraftfile", "bulletin", "problems", "request", "routefile"),
    "flights": ("chart", "problems", "request", "routefile", "units"),
    # Published data.
    "catalogue": (GROUND,),
    # The way of the data: route, log, findings, answers.
    "route": ("angles", "chart", "guidance", "problems", "request"),
    "resolve": (GROUND, "request", "route"),
    "flightlog": (GROUND, "aircraft", "bulletin", "references", "request", "resolve", "route"),
    "rules": (GROUND, "flightlog", "request", "resolve", "route"),
    "answers": ("flightlog", "flights", "problems", "references", "request", "resolve", "routefile", "rules"),
    # Readers of the one computation, and single computations.
    "explanation": (GROUND, "flightlog", "route"),
    "whatif": (GROUND, "answers", "flightlog", "request", "route", "rules"),
    "clock": (GROUND,),
    "requirements": (GROUND, "route"),
    "cycles": (GROUND, "route"),
    "airspeed": (GROUND,),
    "declination": (GROUND,),
    "passage": (GROUND,),
    "descent": (GROUND, "passage"),
    "station_time": (GROUND, "passage"),
    "windproblem": (GROUND,),
    "vor_check": (GROUND,),
    "intercept": (GROUND,),
    "holding": (GROUND, "request"),
    "stationlist": (GROUND, "request", "routefile"),
    "fixing": (GROUND, "request", "stationlist"),
}
"""What each module may import of ours; `ground` stands for all of the first block. Packages count as one."""

GROUND_MODULES = tuple(ALLOWED)[: tuple(ALLOWED).index("request")]

CORE = frozenset(ALLOWED)
"""These know neither commands nor sheets; what is not in the table prints or commands, and may import all."""

OUTER = frozenset({"sheets", "words", "cli", "batch", "marking", "revision", "__init__", "__main__"})

OWNERS = {
    "pyproj": {"earth"},
    "pygeomag": {"magnetism"},
    "sqlite3": {"catalogue"},
    "tomllib": {"tomlfile"},
    "click": {"cli"},
    "tabulate": {"sheets"},
    "reportlab": {"sheets"},
}
"""The only units that may import an outside library, or one of Python's that is slow to load."""

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


def unit_of(path: Path) -> str:
    """The module, or the package, at the top of `navlog` that a file belongs to."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


@lru_cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def imports(path: Path) -> Iterator[tuple[str, int]]:
    """Every module that a file imports anywhere in it, save for type checking alone, with its line."""
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
        elif isinstance(node, ast.ImportFrom) and node.module == "navlog":
            yield from ((f"navlog.{name.name}", node.lineno) for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module or "", node.lineno


FILES = sorted(PACKAGE.rglob("*.py"))
UNITS = sorted({unit_of(path) for path in FILES})


def test_every_module_has_its_place_in_the_table() -> None:
    assert sorted(set(UNITS) - CORE - OUTER) == [], "give it a line in ALLOWED, after what it imports"


@pytest.mark.parametrize("unit", sorted(CORE))
def test_a_module_imports_only_what_the_table_allows(unit: str) -> None:
    allowed = {name for one in ALLOWED[unit] for name in (GROUND_MODULES if one == GROUND else (one,))} | {unit}
    wrong = [
        f"{path.relative_to(PACKAGE)}:{line} imports {name}"
        for path in FILES
        if unit_of(path) == unit
        for name, line in imports(path)
        if name.split(".")[0] == "navlog" and name.split(".")[1] not in allowed
    ]
    assert wrong == []


def test_the_table_has_no_circle() -> None:
    """Each module may import only modules that stand before it."""
    names = tuple(ALLOWED)
    for place, name in enumerate(names):
        for one in ALLOWED[name]:
            assert one == GROUND or names.index(one) < place, f"{name} stands before {one}"
    assert all(GROUND not in ALLOWED[name] for name in GROUND_MODULES)


def test_outside_libraries_have_one_owner_each() -> None:
    wrong = [
        f"{path.relative_to(PACKAGE)}:{line} imports {name}"
        for path in FILES
        for name, line in imports(path)
        if unit_of(path) not in OWNERS.get(name.split(".")[0], {unit_of(path)})
    ]
    assert wrong == []


def test_the_core_prints_nothing_and_reads_no_clock_and_no_environment() -> None:
    forbidden = {"print", "now", "today", "utcnow", "time_ns", "environ", "getenv", "input"}
    wrong = [
        f"{path.relative_to(PACKAGE)}:{node.lineno} {name}"
        for path in FILES
        if unit_of(path) != "cli"
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
    assert ours(modules) == {"navlog", "navlog.cli", "navlog.nav.problems", "navlog.version"}
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
    units = {name.split(".")[1] for name in ours(modules) if "." in name}
    assert units & {"earth", "magnetism", "resolve", "flightlog", "rules"} == set()
    assert {name for name in ours(modules) if name.startswith("navlog.sheets.")} == set()


def test_a_misspelt_name_loads_no_geodesic() -> None:
    typed = "station QHB 113.70\ndate 2026-07-18\naltitude 3000\ntas 100kt\nroute QHB QHC\n"
    assert loaded("log", "-", typed=typed) & {"pyproj", "pygeomag", "numpy"} == set()


def test_a_chart_only_flight_needs_neither_geodesic_nor_magnetic_model() -> None:
    typed = (
        "station QHB 113.70 decl 15W\nstation QEL 110.20 decl 17W\nairway V801 QHB 212 - 034 QEL 29.5nm\n"
        "date 2026-07-18\naltitude 3000\ntas 100kt\nwind calm\nroute QHB V801 QEL\n"
    )
    assert loaded("log", "-", typed=typed) & {"pygeomag", "numpy", "sqlite3", "reportlab"} == set()
