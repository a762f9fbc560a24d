"""Marking answers in tests: a CSV text against a flight."""

from __future__ import annotations

import json
from pathlib import Path

from helpers.flown import Json, navlog


def marked(tmp_path: Path, text: str, csv: str, *options: str) -> tuple[int, Json]:
    """The exit status and the JSON of marking the answers `csv` for a flight."""
    path = tmp_path / "answers.csv"
    path.write_text(csv, encoding="utf-8")
    found = navlog("mark", "-", str(path), "--format", "json", *options, typed=text)
    assert found.err == "", found.err
    answer: Json = json.loads(found.out)
    return found.status, answer


def one_mark(tmp_path: Path, text: str, leg: str, column: str, value: str, *options: str) -> Json:
    """What one figure alone comes to."""
    _, found = marked(tmp_path, text, f"leg,{column}\n{leg},{value}\n", *options)
    (mark,) = found["marks"]
    return dict(mark)
