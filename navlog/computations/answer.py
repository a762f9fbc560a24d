"""What a single computation answers, and its two forms, `text` and `json_lines`."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from enum import Enum

from msgspec import Struct

from navlog.nav.workings import Working, board


class Solution(Struct, frozen=True):
    """One answer: its result records, what is printed of them, and how they came about.

    `failed` says that what was checked does not hold.
    """

    records: tuple[Struct, ...]
    lines: tuple[str, ...]
    steps: tuple[Working, ...] = ()
    failed: bool = False


def text(answers: Sequence[Solution], *, workings: bool) -> str:
    """The answers as printed, each with its workings where they are asked for.

    A blank line parts them unless each is a single line.
    """
    blocks = []
    for answer in answers:
        blocks.append(answer.lines)
        if workings:
            blocks.append(board(answer.steps))
    between = "\n" if all(len(block) == 1 for block in blocks) else "\n\n"
    return between.join("\n".join(block) for block in blocks) + "\n"


def json_lines(computation: str, answers: Sequence[Solution], *, workings: bool) -> str:
    """One JSON object a line and an answer, of the schema navlog/COMPUTATION-1.

    It has the records' fields, numbers rounded to 9 decimals. A fuel quantity is a number whose key ends in its unit;
    `workings` is a list of steps.
    """
    from json import dumps

    lines = []
    for answer in answers:
        found: dict[str, object] = {"schema": f"navlog/{computation}-1", "computation": computation}
        for record in answer.records:
            found |= _plain_record(record)
        if workings:
            found["workings"] = [_plain_record(step) for step in answer.steps]
        lines.append(dumps(found, ensure_ascii=True, allow_nan=False) + "\n")
    return "".join(lines)


def _plain_record(record: Struct) -> dict[str, object]:
    plain: dict[str, object] = {}
    for name in record.__struct_fields__:
        value = getattr(record, name)
        if isinstance(value, Struct) and {"value", "unit"} == set(value.__struct_fields__):
            amount = _plain_record(value)
            plain[f"{name}_{str(amount['unit']).lower()}"] = amount["value"]
        else:
            plain[name] = _plain(value)
    return plain


def _plain(value: object) -> object:
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, float):
        # The sum turns -0.0 into 0.0.
        return round(value, 9) + 0.0
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    return _plain_record(value) if isinstance(value, Struct) else value
