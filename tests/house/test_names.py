"""What a module keeps to itself begins with `_`, and what begins with `_` nobody else takes."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "navlog"
FILES = sorted(path for path in PACKAGE.rglob("*.py") if path.name not in ("__init__.py", "__main__.py"))
OTHERS = sorted((*(ROOT / "tests").rglob("*.py"), *(ROOT / "examples").rglob("*.py")))

BY_NAME = {"document", "command", "load", "knows"}
"""Names by which modules are asked that are chosen at run time: sheets, commands, readers of sources."""

REGISTERING = ("rule", "once_a_flight", "command", "group")
"""Decorators that hand a function to a table: nothing needs to import it."""


def dotted(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


MODULES = {dotted(path) for path in PACKAGE.rglob("*.py")}


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def taken(path: Path) -> Iterator[tuple[str, str]]:
    """Each (module, name) of ours that a file takes from another: imported, or asked of the module."""
    bound: dict[str, str] = {}
    tree = tree_of(path)
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module is not None:
            for one in node.names:
                if f"{node.module}.{one.name}" in MODULES:
                    bound[one.asname or one.name] = f"{node.module}.{one.name}"
                else:
                    yield node.module, one.name
        elif isinstance(node, ast.Import):
            bound |= {one.asname: one.name for one in node.names if one.asname is not None}
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute):
            before = ast.unparse(node.value)
            if bound.get(before, before) in MODULES:
                yield bound.get(before, before), node.attr
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.startswith("navlog."):
            yield tuple(node.value.rpartition(".")[::2])  # type: ignore[misc]


def defined(path: Path) -> Iterator[str]:
    """The names that a module defines, save those that a decorator hands to a table."""
    for node in tree_of(path).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            words = {word for one in node.decorator_list for word in ast.unparse(one).replace("(", ".").split(".")}
            if not words & set(REGISTERING):
                yield node.name
        elif isinstance(node, ast.Assign):
            yield from (one.id for one in node.targets if isinstance(one, ast.Name))
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            yield node.target.id


@cache
def takers() -> dict[tuple[str, str], set[Path]]:
    found: dict[tuple[str, str], set[Path]] = defaultdict(set)
    for path in (*PACKAGE.rglob("*.py"), *OTHERS):
        for one in taken(path):
            found[one].add(path)
    return found


def is_own_test(test: Path, module: Path) -> bool:
    """Whether a test file is a module's own: in `tests`, its name holds the module's."""
    return test.stem.startswith("test_") and module.stem in test.stem


def test_what_no_other_file_imports_begins_with_an_underscore() -> None:
    by = takers()
    open_names = [
        f"{path.relative_to(ROOT)}: {name}"
        for path in FILES
        for name in dict.fromkeys(defined(path))
        if not name.startswith("_") and name not in BY_NAME
        if all(is_own_test(one, path) for one in by[dotted(path), name] - {path})
    ]
    assert open_names == []


def test_what_begins_with_an_underscore_is_imported_by_none_but_its_own_test() -> None:
    homes = {dotted(path): path for path in FILES}
    wrong = [
        f"{taker.relative_to(ROOT)} takes {module}.{name}"
        for (module, name), takers_of_it in takers().items()
        if module in homes and name.startswith("_") and not name.startswith("__")
        for taker in sorted(takers_of_it - {homes[module]})
        if not is_own_test(taker, homes[module])
    ]
    assert wrong == []


def test_a_class_that_others_import_has_its_name_to_itself() -> None:
    homes: dict[str, list[str]] = defaultdict(list)
    for path in FILES:
        for node in tree_of(path).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                homes[node.name].append(dotted(path))
    assert {name: modules for name, modules in homes.items() if len(modules) > 1} == {}
