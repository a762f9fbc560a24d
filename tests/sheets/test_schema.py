"""The JSON of every flight against the shipped schema, and the schema against its own."""

from __future__ import annotations

import copy
import json
from importlib.resources import files
from typing import Any

import pytest
from helpers.flown import EXAMPLES, Json, changed, flights, navlog
from jsonschema import Draft202012Validator, ValidationError

SCHEMA: Json = json.loads(files("navlog").joinpath("schema/navlog-1.schema.json").read_text("utf-8"))

NUMBERS_OF_A_LEG = {
    "true_course_deg",
    "magnetic_course_deg",
    "wind",
    "wind_correction_deg",
    "true_heading_deg",
    "magnetic_heading_deg",
    "groundspeed_kt",
    "time_min",
    "elapsed_min",
    "eta",
    "fuel_used_gal",
    "fuel_remaining_gal",
    "fuel_least_gal",
}
"""What every leg has, so that a null among them is unknown and has its reason."""


def closed(schema: Any) -> Any:
    """The schema with every object closed: nothing may be written that it does not describe."""
    if isinstance(schema, list):
        return [closed(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    found = {key: closed(value) for key, value in schema.items()}
    if "properties" in found and "required" in found:
        found["additionalProperties"] = False
    return found


STRICT = Draft202012Validator(closed(copy.deepcopy(SCHEMA)))


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_a_quantity_tells_its_unit() -> None:
    units = {
        "deg": "degrees",
        "nm": "NM",
        "kt": "kt",
        "min": "minutes",
        "gal": "US gallons",
        "ft": "feet",
        "mhz": "MHz",
    }
    for name, part in [("top", SCHEMA), *SCHEMA["$defs"].items()]:
        for key, value in part["properties"].items():
            unit = units.get(key.rsplit("_", 1)[-1]) if "_" in key else None
            told = value.get("description", "") + part.get("description", "")
            assert unit is None or unit in told, (name, key)


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.route")), ids=lambda path: path.stem)
def test_every_example_keeps_to_the_schema(path: Any) -> None:
    for line in navlog("log", str(path), "--format", "json").out.splitlines():
        STRICT.validate(json.loads(line))


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(changed(without=("wind",)), id="no wind"),
        pytest.param(changed(without=("off", "fuel", "burn")), id="no off, fuel and burn"),
        pytest.param(changed("wind 300/150"), id="unflyable wind"),
        pytest.param(changed("fuel 190lb", "burn 50lb/h", "taxi 6lb"), id="fuel by mass"),
        pytest.param(changed("fuel 3gal"), id="findings of every severity"),
        pytest.param(changed("route XHAR XOLD"), id="no guidance"),
        pytest.param(
            changed("fix FULMA QHB 200 9nm", "route XHAR QHB FULMA XOLD", "equipment vor 1 dme 1"), id="DME fix"
        ),
        pytest.param(changed("route XHAR QHB V801 QEX XOLD"), id="unknown name"),
        pytest.param(changed("altitude 3000", "tas fast"), id="syntax error"),
        pytest.param(changed() + 'flight "a"\n' + 'flight "b"\nroute XHAR XHAR\n', id="flights of which one is broken"),
        pytest.param("statoin QHB\nflight a\nroute\n", id="common part broken"),
        pytest.param("", id="empty file"),
    ],
)
def test_whatever_comes_of_a_file_keeps_to_the_schema(text: str) -> None:
    found = flights(text)
    assert found
    for one in found:
        STRICT.validate(one)


@pytest.mark.parametrize(
    "text",
    [
        changed(without=("wind",)),
        changed(without=("off", "fuel", "burn")),
        changed("wind 300/150"),
        changed("fuel 190lb", "burn 50lb/h", "taxi 6lb"),
        changed("wind at XHAR 230/12", without=("wind",)),
    ],
    ids=["no wind", "no clock or fuel", "unflyable", "by mass", "wind at a place"],
)
def test_a_number_that_is_null_has_its_reason(text: str) -> None:
    for leg in (leg for found in flights(text) for leg in found["legs"]):
        given = {one["key"] for one in leg["unknown"]}
        null = {key for key in NUMBERS_OF_A_LEG if leg[key] is None}
        assert null <= given
        assert {key for key in given if "." not in key and leg[key] is not None} == set()


def test_the_schema_refuses_what_is_wrong() -> None:
    (good,) = flights(changed())
    STRICT.validate(good)
    for wrong in (
        good | {"status": "fine"},
        good | {"status": "problem"},
        good | {"legs": [good["legs"][0] | {"phase": "taxi"}]},
        good | {"legs": [good["legs"][0] | {"true_course_deg": 360}]},
        good | {"off": "2026-07-18T15:10:00Z"},
        {key: value for key, value in good.items() if key != "fuel"},
    ):
        with pytest.raises(ValidationError):
            STRICT.validate(wrong)


def test_numbers_have_nine_decimals_at_most_and_no_infinity() -> None:
    line = navlog("log", "-", "--format", "json", typed=changed("wind 300/150")).out
    assert "NaN" not in line
    assert "Infinity" not in line
    for number in json.loads(line, parse_float=str)["legs"][0].values():
        if isinstance(number, str) and number.replace(".", "").isdigit() and "." in number:
            assert len(number.split(".")[1]) <= 9


def test_a_finding_on_the_way_to_an_alternate_fits_the_schema() -> None:
    (found,) = flights(changed("alternate XHAR at 2000", "direct XOLD - XHAR 34.7nm min 4000"))
    STRICT.validate(found)
    (one,) = [one for one in found["findings"] if one["rule"] == "under-minimum"]
    assert (one["leg"], one["alternate"]) == (None, {"number": 1, "name": "XHAR", "leg": 1})
    assert one["message"] == "alternate XHAR leg 1: 2000 ft is below the stated minimum of 4000 ft"
    assert {one["alternate"] for one in found["findings"] if one["rule"] == "no-guidance" and one["leg"]} <= {None}
