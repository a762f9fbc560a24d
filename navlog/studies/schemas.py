"""The schemas of everything that is written as JSON, as they are shipped, and their keys in a list."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib.resources import files
from typing import Any

from navlog.nav.problems import problem_error

_END = ".schema.json"
_Schema = Mapping[str, Any]


def schema_names() -> tuple[str, ...]:
    """The name of each schema, as the key `schema` of an output has it; the log's first."""
    shipped = (one.name for one in files("navlog").joinpath("schema").iterdir() if one.name.endswith(_END))
    stems = sorted(name.removesuffix(_END) for name in shipped)
    return tuple(sorted((_named(stem) for stem in stems), key=lambda name: (name != "navlog/1", name)))


def schema_text(name: str) -> str:
    """A schema's file (JSON Schema, draft 2020-12), by its name with or without `navlog/`; raises `unknown-schema`."""
    whole = name if name.startswith("navlog/") else f"navlog/{name}"
    names = schema_names()
    if whole not in names:
        from navlog.nav.spelling import alike

        close = alike(whole, names, most=3)
        hint = f"did you mean {', '.join(close)}?" if close else "`navlog schema` lists them"
        raise problem_error("unknown-schema", f"no schema is called `{name}`", hint=hint)
    stem = "navlog-1" if whole == "navlog/1" else whole.removeprefix("navlog/")
    return files("navlog").joinpath("schema", stem + _END).read_text("utf-8")


def schema_lines() -> list[str]:
    """Each schema's name and what writes it, a line each."""
    from json import loads

    from navlog.nav.layout import columns

    told = ((name, _first_sentence(loads(schema_text(name)).get("description", ""))) for name in schema_names())
    return columns(list(told), "ll")


def key_lines(name: str) -> list[str]:
    """Every key of a schema with its type, its unit and what it tells, a line each; lists end in `[]`."""
    from json import loads

    from navlog.nav.layout import columns

    schema = loads(schema_text(name))
    return columns([("key", "type", "unit or meaning"), *_keys(schema, schema, "", ())], "lll", heads=1, rule="-")


def _named(stem: str) -> str:
    return "navlog/1" if stem == "navlog-1" else f"navlog/{stem}"


def _first_sentence(text: str) -> str:
    return text.partition(". ")[0].rstrip(".").replace(" --format json", "")


def _keys(part: _Schema, whole: _Schema, before: str, inside: tuple[str, ...]) -> Iterator[tuple[str, str, str]]:
    """The rows below one part; a definition that holds itself is not opened again."""
    for one in _open(part, whole):
        for key, value in {**one.get("properties", {}), **one.get("patternProperties", {})}.items():
            inner, ref, end = _inner(value)
            kinds = sorted({kind for shape in (value, *_open(value, whole)) for kind in _kinds(shape)})
            yield f"{before}{key}{end}", " or ".join(kinds), value.get("description", "")
            if ref is None or ref not in inside:
                deeper = inside if ref is None else (*inside, ref)
                yield from _keys(inner, whole, f"{before}{key}{end}.", deeper)
    if "items" in part and isinstance(part["items"], Mapping):
        yield from _keys(part["items"], whole, before, inside)


def _inner(value: _Schema) -> tuple[_Schema, str | None, str]:
    """What is inside a value, the definition that it names, and `[]` for a list."""
    end = ""
    if isinstance(value.get("items"), Mapping):
        value, end = value["items"], "[]"
    for one in (value, *value.get("anyOf", ()), *value.get("oneOf", ())):
        if "$ref" in one:
            return value, one["$ref"], end
    return value, None, end


def _open(part: _Schema, whole: _Schema) -> Iterator[_Schema]:
    """A part and all that it may be instead, with definitions in place of their names."""
    if "$ref" in part:
        part = whole["$defs"][part["$ref"].rpartition("/")[2]]
    yield part
    for one in (*part.get("anyOf", ()), *part.get("oneOf", ())):
        yield from _open(one, whole)


def _kinds(shape: _Schema) -> Iterator[str]:
    """The types of one shape in words; constants and enumerations as they are written."""
    kind = shape.get("type", ())
    yield from (kind,) if isinstance(kind, str) else kind
    if "const" in shape:
        yield repr(shape["const"])
    for one in shape.get("enum", ()):
        yield "null" if one is None else repr(one)
