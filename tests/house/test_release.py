"""What a release consists of: the version told everywhere, and a source archive whose tests run."""

from __future__ import annotations

import re
from pathlib import Path

from navlog.version import VERSION

ROOT = Path(__file__).parents[2]
TOP = {"README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "MANIFEST.in", "pyproject.toml"}
PACKED = {"PKG-INFO", "setup.cfg"}
"""What an unpacked archive has besides, written by setuptools."""
OF_THEMSELVES = {"navlog", "MANIFEST.in", "README.md", "LICENSE", "pyproject.toml"}
"""What setuptools puts into a source archive without being told."""


def test_the_source_archive_holds_all_that_the_tests_read() -> None:
    read = {
        name
        for path in (ROOT / "tests").rglob("*.py")
        for name in re.findall(r'(?:ROOT|parents\[2\]\)?) / "([^"/]+)', path.read_text("utf-8"))
    }
    assert {"examples", "tests", "DEVELOPERS.md"} <= read
    told = (ROOT / "MANIFEST.in").read_text("utf-8").splitlines()
    held = {name for line in told for how, *names in [line.split()] if how in ("graft", "include") for name in names}
    assert read - held - OF_THEMSELVES == set()
    assert [name for name in held if not (ROOT / name).exists()] == []


def test_the_top_folder_holds_no_file_of_another_kind() -> None:
    found = {path.name for path in ROOT.iterdir() if path.is_file() and not path.name.startswith(".")}
    assert TOP <= found <= TOP | PACKED


def test_the_newest_entry_of_the_changelog_is_of_this_version() -> None:
    heads = re.findall(r"^## (\S+),", (ROOT / "CHANGELOG.md").read_text("utf-8"), re.MULTILINE)
    assert heads[0] == VERSION
