"""The schema of every JSON output but the log's, made of its shape or read off the fields of its record."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from enum import Enum
from importlib.resources import files
from inspect import cleandoc
from types import NoneType, UnionType
from typing import Any, TypeAlias, Union, get_args, get_origin, get_type_hints

from helpers.shape_of_revision import Shape
from helpers.shapes import HAND, OPEN_PARTS, PARTS
from msgspec import Struct

from navlog.catalogue import answers, lookups, queries
from navlog.catalogue.comparisons import Checked
from navlog.catalogue.editions import Edition
from navlog.catalogue.reception import Neighbour
from navlog.computations import (
    airspeed,
    below,
    declination,
    descent,
    fixing,
    holding,
    intercept,
    morse,
    needle,
    passage,
    position,
    station_time,
    vor_check,
    windproblem,
)
from navlog.nav import chart, notices
from navlog.nav.chart import Airway
from navlog.nav.units import Amount
from navlog.nav.workings import Working
from navlog.studies.marking import MarkedVerdict

Json: TypeAlias = dict[str, Any]

UNITS = {
    "deg": "degrees",
    "nm": "NM",
    "kt": "kt",
    "kias": "kt indicated",
    "min": "minutes",
    "gal": "US gallons",
    "ft": "feet",
    "mhz": "MHz",
    "khz": "kHz",
    "hpa": "hPa",
    "c": "degrees Celsius",
    "ft_per_nm": "feet a NM",
    "ft_min": "feet a minute",
    "deg_per_year": "degrees a year",
}
"""What the end of a key says its number is in."""

LOG: Json = json.loads(files("navlog").joinpath("schema/navlog-1.schema.json").read_text("utf-8"))
DAY = {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}
MOMENT = {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}\.\d{3})?Z$"}
WORDS: dict[str, Json] = {
    "text": {"type": "string"},
    "number": {"type": "number"},
    "whole": {"type": "integer"},
    "yes": {"type": "boolean"},
    "day": DAY,
    "moment": MOMENT,
}

COMPUTED: dict[str, Callable[..., object] | type] = {
    "wind": windproblem.solve,
    "airspeed": airspeed.solve,
    "fix": fixing.solve,
    "position": position.solve,
    "below": below.solve,
    "intercept": intercept.solve,
    "station-time": station_time.by_change,
    "descent": descent.solve,
    "holding": holding.solve,
    "vor-check": vor_check.solve,
    "declination": declination.solve,
    "morse": morse.IdentCode,
}
"""What makes the record of each single computation; what its command may answer else is in `ELSE`."""

ELSE: dict[str, tuple[tuple[Callable[..., object], ...], ...]] = {
    "wind": ((windproblem.solve, passage.passage), (passage.headwind,), (passage.headwind, passage.passage),
             (passage.passage,)),
    "position": ((position.radial_on_needle,),),
    "intercept": ((needle.from_deflection,),),
}  # fmt: skip

LOOKED_UP: dict[str, Callable[..., object] | type] = {
    "info": Edition,
    "station": answers.describe_stations,
    "airport": lookups.AirportFound,
    "fix": lookups.FixFound,
    "airway": Airway,
    "between": lookups.Joining,
    "nearby": Neighbour,
}
"""The record of each question to the catalogue, or what makes it."""


def record_of(maker: Callable[..., object] | type) -> type:
    """The record that a function makes, one or several of it."""
    if isinstance(maker, type):
        return maker
    found = get_type_hints(maker, vars(chart) | vars(queries) | vars(sys.modules[maker.__module__]))["return"]
    made: type = get_args(found)[0] if get_origin(found) is tuple else found
    return made


class _Defs:
    """The definitions that one schema needs, as they are asked for; `drop` are fields that JSON leaves out."""

    def __init__(self, drop: Iterable[str] = ()) -> None:
        self.found: dict[str, Json] = {}
        self.drop = frozenset(drop)

    def ref(self, name: str) -> Json:
        """A reference to a definition, which is made or copied with all that it needs."""
        if name not in self.found:
            self.found[name] = {}
            if name in PARTS:
                self.found[name] = self.shape(PARTS[name])
            elif name == "effect":
                self.found[name] = {"anyOf": [self.effect(one) for one in get_args(notices.Effect)]}
            else:
                self.found[name] = OPEN_PARTS.get(name) or LOG["$defs"][name]
                for other in re.findall(r'"#/\$defs/(\w+)"', json.dumps(self.found[name])):
                    self.ref(other)
        return {"$ref": f"#/$defs/{name}"}

    def shape(self, shape: Mapping[str, Shape]) -> Json:
        """An object by its keys."""
        return _object({key: self.key(key, told) for key, told in shape.items()})

    def key(self, key: str, told: Shape) -> Json:
        """One key."""
        if not isinstance(told, str):
            return self.shape(told)
        word, _, about = told.partition(" ")
        if any(told.startswith(words) for words in (*MarkedVerdict, *Checked)) and "|" in told:
            word, about = told, ""  # These words hold spaces.
        if word.endswith(":"):
            word = word[:-1]
        return _described(self.word(word), key, about)

    def word(self, word: str) -> Json:
        if word.startswith("["):
            return {"type": "array", "items": self.word(word[1:-1])}
        if word.startswith("="):
            return {"const": word[1:]}
        if word.endswith("?"):
            return _or_null(self.word(word[:-1]))
        if word.startswith("@"):
            return self.ref(word[1:])
        return dict(WORDS[word]) if word in WORDS else {"enum": word.split("|")}

    def effect(self, record: type) -> Json:
        """One effect of a notice, told by its kind."""
        kind = re.sub(r"(?<=[a-z])(?=[A-Z])", "-", record.__name__).lower()
        made = self.fields(record)
        return _object({"kind": {"const": kind}, "means": {"type": "string"}, **made["properties"]}, _about(record))

    def fields(self, record: type) -> Json:
        """An object by a record's fields."""
        hints = {name: one for name, one in get_type_hints(record).items() if name not in self.drop}
        names: tuple[str, ...] = getattr(record, "__struct_fields__", ()) or getattr(record, "_fields", ())
        shown: Json = {name: hints[name] for name in names if name in hints}
        made = _object({name: _described(self.of(one), name) for name, one in shown.items()}, _about(record))
        for name, hint in shown.items():
            if Amount in (hint, *get_args(hint)):
                # A quantity of fuel is a number whose key ends in its unit; without one the bare key is null.
                made["properties"][name] = {"type": "null", "description": "where no burn is given"}
                made["required"].remove(name)
                number = {"type": "number", "description": "in the unit at the key's end"}
                made.setdefault("patternProperties", {})[f"^{name}_(gal|l|lb|kg)$"] = number
        return made

    def of(self, hint: Any) -> Json:
        """The schema of a type."""
        if get_origin(hint) in (Union, UnionType):
            kinds = [one for one in get_args(hint) if one is not NoneType]
            found = self.of(kinds[0]) if len(kinds) == 1 else {"anyOf": [self.of(one) for one in kinds]}
            return _or_null(found) if NoneType in get_args(hint) else found
        if get_origin(hint) is tuple:
            items = get_args(hint)
            if items[-1] is Ellipsis:
                return {"type": "array", "items": self.of(items[0])}
            fixed = [self.of(one) for one in items]
            return {"type": "array", "prefixItems": fixed, "items": False, "minItems": len(fixed)}
        if issubclass(hint, Enum):
            return {"enum": [one.value for one in hint]}
        if issubclass(hint, Struct) or hasattr(hint, "_fields"):
            name = re.sub(r"(?<=[a-z])(?=[A-Z])", "_", hint.__name__.lstrip("_")).lower()
            if name not in self.found:
                self.found[name] = {}
                self.found[name] = self.fields(hint)
            return {"$ref": f"#/$defs/{name}"}
        if issubclass(hint, date):
            return dict(DAY)
        return {"type": {float: "number", int: "integer", str: "string", bool: "boolean"}[hint]}


def _object(properties: Json, about: str = "") -> Json:
    """A closed object all of whose keys are there."""
    head = {"description": about} if about else {}
    return {**head, "type": "object", "properties": properties, "required": list(properties),
            "additionalProperties": False}  # fmt: skip


def _about(record: type) -> str:
    return " ".join(cleandoc(record.__doc__ or "").split())


def _or_null(schema: Json) -> Json:
    """The same or null."""
    if isinstance(schema.get("type"), str):
        return {**schema, "type": [schema["type"], "null"]}
    if "enum" in schema:
        return {"enum": [*schema["enum"], None]}
    return {"anyOf": [schema, {"type": "null"}]}


def unit_of(key: str) -> str | None:
    """What the end of a key says its number is in."""
    ends = (end for end in sorted(UNITS, key=len, reverse=True) if key.endswith(f"_{end}"))
    return next((UNITS[end] for end in ends), None)


def _described(schema: Json, key: str, about: str = "") -> Json:
    """The schema with the unit that its key tells, and what it is about."""
    told = "; ".join(filter(None, (unit_of(key), about)))
    return {"description": told, **schema} if told else schema


def _whole(name: str, about: str, keys: Json, defs: dict[str, Json]) -> Json:
    head = {"$schema": LOG["$schema"], "$id": f"{name}.schema.json", "title": f"navlog/{name}"}
    end = {"$defs": dict(sorted(defs.items()))} if defs else {}
    described = (
        f"{about} One object {'a line' if name != 'baseline-1' else 'a file'}. Numbers have at most nine decimals."
    )
    return {**head, "description": described, **keys, **end}


def _computed(command: str) -> Json:
    """The schema of a single computation, or of each kind of answer that its command gives."""
    defs = _Defs()
    kinds = ((COMPUTED[command],), *ELSE.get(command, ()))
    made = [_answer(command, [defs.fields(record_of(one)) for one in makers], defs) for makers in kinds]
    about = f"One answer of `navlog {command} --format json`; `workings` is there where --workings asks for it."
    if len(made) > 1:
        return _whole(f"{command}-1", about, {"anyOf": made}, defs.found)
    (one,) = made
    return _whole(f"{command}-1", f"{about} {one.pop('description')}", one, defs.found)


def _answer(command: str, records: list[Json], defs: _Defs) -> Json:
    head = {"schema": {"const": f"navlog/{command}-1"}, "computation": {"const": command}}
    whole = _object(head, " ".join(one["description"] for one in records))
    for one in records:
        whole["properties"] |= one["properties"]
        whole["required"] += [key for key in one["required"] if key not in whole["required"]]
        if "patternProperties" in one:
            whole["patternProperties"] = whole.get("patternProperties", {}) | one["patternProperties"]
    whole["properties"]["workings"] = {"type": "array", "items": defs.of(Working)}
    return whole


def _looked_up(kind: str) -> Json:
    """The schema of an answer of the catalogue."""
    name, defs = f"catalogue-{kind}-1", _Defs(("span",))
    made = defs.fields(record_of(LOOKED_UP[kind]))
    head = {"schema": {"const": f"navlog/{name}"}, "date": {"description": "the day asked about", **DAY}}
    made["properties"] = head | made["properties"]
    made["required"] = [*head, *made["required"]]
    about = f"One answer of `navlog catalogue {kind} --format json`."
    return _whole(name, f"{about} {made.pop('description')}", made, defs.found)


def _by_hand(name: str) -> Json:
    about, shape = HAND[name]
    defs = _Defs()
    return _whole(name, about, defs.shape({"schema": f"=navlog/{name}", **shape}), defs.found)


def schemas() -> dict[str, Json]:
    """Every schema that is made here, by its name."""
    made = {name: _by_hand(name) for name in HAND}
    made |= {f"{command}-1": _computed(command) for command in COMPUTED}
    return made | {f"catalogue-{kind}-1": _looked_up(kind) for kind in LOOKED_UP}


def shipped_form(schema: Json) -> str:
    """A schema as it is shipped."""
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"
