"""Answers of the catalogue as JSON, one object a line, each with the schema of its kind.

The keys are the names of the records' fields, units last; what is not published is null.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from datetime import date
from typing import Any

from msgspec import to_builtins

_INNER = "span"
"""Where something stands in a route file, which no published record does."""


def answer_lines(kind: str, day: date, records: Iterable[object]) -> str:
    """Each record as a line of JSON: `schema` navlog/catalogue-KIND-1, the day asked about, and its fields."""
    head = {"schema": f"navlog/catalogue-{kind}-1", "date": str(day)}
    told = (head | _plain(to_builtins(_named(one))) for one in records)
    return "".join(json.dumps(one, ensure_ascii=False, allow_nan=False) + "\n" for one in told)


def _named(value: Any) -> Any:
    """The same with the names of what has named places, which JSON would lose."""
    if hasattr(value, "_asdict"):
        return {name: _named(one) for name, one in value._asdict().items()}
    return [_named(one) for one in value] if type(value) is tuple else value


def _plain(value: Any) -> Any:
    """The same without what is about a route file, and with every number rounded to 9 decimals."""
    if isinstance(value, dict):
        return {name: _plain(one) for name, one in value.items() if name != _INNER}
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return round(value, 9) if isinstance(value, float) else value
