"""Nothing is kept that nobody reads: fields, functions, constants. Tests are no readers, save where stated."""

from __future__ import annotations

from pathlib import Path

import pytest
from vulture import Vulture

PACKAGE = Path(__file__).parents[2] / "navlog"

EXCEPTIONS = {
    "__init__.py __dir__": "Python asks it for the names of the library",
    "__init__.py __getattr__": "Python asks it for the names of the library",
    "catalogue/archive.py readable": "the buffered reader asks it",
    "catalogue/queries.py row_factory": "sqlite3 reads it",
    "catalogue/queries.py trace": "the with statement passes it",
    "cli/__init__.py list_commands": "click calls it",
    "cli/__init__.py get_command": "click calls it",
    "cli/completion.py shell_complete": "click calls it",
    "cli/__init__.py format_commands": "click calls it",
    "studies/library.py _repr_html_": "a notebook asks it",
    "rules/samples.py SampleCatalogue": "tests fly the samples of the rules with it",
}
"""What only another library or a test reads, and why it stays."""


def unread(*paths: Path) -> set[str]:
    """What nothing in these files reads, each by file and name; commands are read by click, rules by the report."""
    hunter = Vulture(ignore_decorators=["@*.command", "@rule"])
    hunter.scavenge([str(path) for path in paths])
    found = hunter.get_unused_code(min_confidence=60)
    return {f"{Path(one.filename).relative_to(paths[0]).as_posix()} {one.name}" for one in found}


@pytest.fixture(scope="module")
def found() -> set[str]:
    return unread(PACKAGE)


def test_what_nobody_reads_has_a_reason_to_stay(found: set[str]) -> None:
    assert sorted(found - set(EXCEPTIONS)) == []


def test_no_exception_outlives_its_reason(found: set[str]) -> None:
    assert sorted(set(EXCEPTIONS) - found) == []


def test_a_field_and_a_function_that_nobody_reads_are_found(tmp_path: Path) -> None:
    (tmp_path / "kept.py").write_text("class Leg:\n    wind: int = 0\n\n\ndef flown() -> None: ...\n", "utf-8")
    assert unread(tmp_path) == {"kept.py Leg", "kept.py wind", "kept.py flown"}
