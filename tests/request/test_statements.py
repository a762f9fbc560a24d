"""The table of statements: every entry reads, and fills the field that it names with what that field holds."""

from __future__ import annotations

from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

import pytest

from navlog.request.flights import read_flights
from navlog.request.forms import Form, Into
from navlog.request.parser import parse_statement
from navlog.request.records import Definitions, Request
from navlog.request.statements import STATEMENTS

FLIGHT = "date 2026-07-18\naltitude 4500\ntas 110kt\nroute XHAR QHB\n"
EXAMPLES = [(form, example) for form in STATEMENTS.values() for example in form.examples]


@pytest.mark.parametrize(("form", "example"), EXAMPLES, ids=lambda one: one if isinstance(one, str) else one.keyword)
def test_every_example_is_read(form: Form, example: str) -> None:
    statement, problems = parse_statement(form.keyword, example, "t.route")
    assert problems == ()
    assert statement.value is not None


@pytest.mark.parametrize(
    "form", [one for one in STATEMENTS.values() if one.keyword != "flight"], ids=lambda f: f.keyword
)
def test_a_statement_fills_its_field_of_the_request_with_the_type_it_holds(form: Form) -> None:
    rest = "".join(line for line in FLIGHT.splitlines(keepends=True) if line.split()[0] != form.keyword)
    (flight,) = read_flights(f"{form.keyword} {form.examples[0]}\n{rest}", "t.route").flights
    assert isinstance(flight, Request)
    record = flight.definitions if form.into is Into.DEFINITION else flight
    hints = get_type_hints(Definitions if form.into is Into.DEFINITION else Request)
    for name in (form.field,) if isinstance(form.field, str) else form.field:
        filled = getattr(record, name)
        assert filled
        assert holds(hints[name], filled), (name, filled)


def holds(hint: Any, value: object) -> bool:
    """Whether a value is of an annotated type: a class, a union, a tuple of one type or a mapping."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin in (Union, UnionType):
        return any(holds(one, value) for one in inner)
    if origin is tuple:
        return isinstance(value, tuple) and all(holds(inner[0], one) for one in value)
    if origin is frozenset:
        return isinstance(value, frozenset) and all(holds(inner[0], one) for one in value)
    if origin is not None:
        return isinstance(value, dict) and all(holds(inner[0], k) and holds(inner[1], v) for k, v in value.items())
    return isinstance(value, hint)


@pytest.mark.parametrize(
    ("statement", "hint"),
    [
        ("fuel 2000000gal", "it must lie from 0 to 1000000 gal"),
        ("tas 99999kt", "kt"),
    ],
)
def test_a_hint_writes_its_figures_out(statement: str, hint: str) -> None:
    keyword, text = statement.split()
    _, (problem,) = parse_statement(keyword, text, "a.route")
    assert problem.hint is not None
    assert hint in problem.hint
    assert "e+" not in problem.hint
