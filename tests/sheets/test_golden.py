"""The examples as printed, byte for byte; `pytest --update-golden` rewrites them, and the difference is reviewed."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, GOLDEN, navlog

FORMATS = ("text", "json")
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.route"))


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("name", NAMES)
def test_an_example_prints_its_golden_sheet(
    name: str, form: str, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(EXAMPLES)
    printed = navlog("log", f"{name}.route", "--format", form)
    golden = GOLDEN / name / form
    if request.config.getoption("--update-golden"):
        golden.parent.mkdir(exist_ok=True)
        golden.write_bytes(printed.out.encode())
    assert golden.read_bytes().decode() == printed.out


@pytest.mark.parametrize("name", NAMES)
def test_the_same_file_gives_the_same_bytes(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(EXAMPLES)
    assert navlog("log", f"{name}.route") == navlog("log", f"{name}.route")


@pytest.mark.parametrize("name", NAMES)
def test_a_golden_sheet_is_plain_text_of_80_columns(name: str) -> None:
    text = (GOLDEN / name / "text").read_text("ascii")
    assert max(len(line) for line in text.splitlines()) <= 80
    assert all(line == line.rstrip() for line in text.splitlines())


def test_every_golden_sheet_has_an_example_and_a_twin() -> None:
    folders = sorted(path for path in Path(GOLDEN).iterdir() if (path / "text").exists())
    assert [path.name for path in folders] == NAMES
    assert all((path / "worked.txt").exists() for path in folders)
