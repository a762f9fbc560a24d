"""No two modules of the catalogue need one another, not even for a type."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

import navlog.catalogue

FOLDER = Path(navlog.catalogue.__file__).parent
PACKAGE = "navlog.catalogue"


def own_imports(file: Path) -> Iterator[str]:
    """The modules of the catalogue that one of them imports anywhere in it."""
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module == PACKAGE:
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and (node.module or "").startswith(f"{PACKAGE}."):
            yield (node.module or "").removeprefix(f"{PACKAGE}.")


def test_the_modules_of_the_catalogue_import_in_one_direction() -> None:
    found = {file.stem: set(own_imports(file)) for file in FOLDER.glob("*.py") if file.stem != "__init__"}
    assert "opened" in found["queries"]
    # A circle raises, and says which modules make it.
    order = tuple(TopologicalSorter(found).static_order())
    assert order.index("opened") < order.index("airway_queries") < order.index("queries")
