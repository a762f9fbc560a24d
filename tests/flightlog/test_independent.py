"""Every example against a second opinion that shares nothing with navlog but the JSON."""

from __future__ import annotations

import ast
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers import independent
from helpers.flown import EXAMPLES, Json, changed, flight, navlog


def example_flights() -> Iterator[Json]:
    for path in sorted(EXAMPLES.glob("*.route")):
        for line in navlog("log", str(path), "--format", "json").out.splitlines():
            yield json.loads(line)


FLIGHTS = tuple(example_flights())


@pytest.mark.parametrize("found", FLIGHTS, ids=lambda found: str(found["flight"]))
def test_a_second_opinion_agrees(found: Json) -> None:
    largest = independent.differences(independent.dated(found))
    assert {name: seen for name, seen in largest.items() if seen > independent.TOLERANCES[name]} == {}


def test_every_quantity_is_compared_in_some_example() -> None:
    seen = {name for found in FLIGHTS for name in independent.differences(independent.dated(found))}
    assert seen == set(independent.TOLERANCES)


@pytest.mark.parametrize(
    ("key", "by", "quantity"),
    [
        ("true_course_deg", 0.001, "true course"),
        ("variation_deg", 0.1, "variation"),
        ("magnetic_heading_deg", 0.1, "magnetic heading"),
        ("groundspeed_kt", 0.1, "groundspeed"),
        ("time_min", 0.1, "time"),
        ("fuel_used_gal", 0.1, "total fuel"),
        ("distance_nm", 0.1, "total distance"),
        ("turn_deg", 0.1, "turn"),
    ],
)
def test_the_second_opinion_sees_a_wrong_number(key: str, by: float, quantity: str) -> None:
    good = flight(changed())
    legs = [dict(leg) for leg in good["legs"]]
    legs[1][key] += by
    largest = independent.differences(independent.dated(good | {"legs": legs}))
    assert largest[quantity] > independent.TOLERANCES[quantity]


def test_the_second_opinion_is_independent() -> None:
    tree = ast.parse(Path(independent.__file__).read_text("utf-8"))
    imported = {
        name.split(".")[0]
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in ([node.module or ""] if isinstance(node, ast.ImportFrom) else [one.name for one in node.names])
    }
    assert imported <= {"__future__", "collections", "datetime", "math", "typing", "geographiclib", "pygeomag"}
