"""Every line of JSON that a command prints is of a schema that is shipped, and the schemas tell every key.

The shapes from which most are made stand in `tests/helpers/shapes.py`; `pytest --update-golden` writes the files.
"""

from __future__ import annotations

import ast
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner
from helpers.flown import EXAMPLES, ROOT, changed, navlog
from helpers.json_schemas import schemas, shipped_form, unit_of
from jsonschema import Draft202012Validator

from navlog.catalogue import import_data
from navlog.cli import commands
from navlog.studies.schemas import key_lines, schema_names, schema_text

SHIPPED = ROOT / "navlog" / "schema"
NAMES = schema_names()
TRIP = "{examples}/round_robin.route"
CLUB = "{examples}/club_day.route"
DATED = "--date 2026-07-18 --catalogue {islands}"
REVISED = f"revise {TRIP} --at QHB 15:17 --at cop 15:25"

CASES: dict[str, tuple[str, ...]] = {
    "log": (
        f"log {TRIP}", f"log {CLUB}", "log {folder}/broken.route", "log {examples}/landing.route",
        f"log {TRIP} --compare-altitudes --wind-spread 5", "log {folder}/noticed.route",
    ),
    "check": (
        f"check {TRIP}", f"check {CLUB} --all", "check {folder}", f"check {TRIP} --requirement 61.109",
        f"check {CLUB} --requirement 61.129 --requirement 61.65",
        "check {folder} --requirement 61.109",
        "check {folder}/published.route --since {other} --catalogue {islands}",
        "check {folder}/broken.route --since {other} --catalogue {islands}",
        "check {folder}/published.route --since {islands} --catalogue {lesser}",
        f"check {{folder}}/published.route {DATED} --propose-around QHB",
        f"check {{folder}} {DATED} --propose-around QSK",
    ),
    "without": (f"without QNO {DATED}", f"without QHB QNO {DATED}", f"without --all {DATED}",
                f"without --staying {{folder}}/staying.txt {DATED}"),
    "explain": (f"explain {TRIP}", "explain {folder}/broken.route",
                "explain --rule no-wind", "explain --rule notice-idle"),
    "wind": (
        "wind --course 090T --tas 110kt --wind 230/12", "wind --tas 110kt --gs 95kt",
        "wind --heading 100M --tas 110kt --course 090M --gs 95kt --variation 12W --workings",
        "wind --course 090T --tas 110kt --wind 230/12 --distance 20nm --burn 8gph", "wind --gs 95kt --distance 20nm",
        "wind --tas 110kt --gs 95kt --distance 20nm --burn 50lb/h",
    ),
    "airspeed": ("airspeed 6500ft", "airspeed 10000ft -10C --cas 150kt --altimeter 29.92inHg --workings"),
    "fix": ("fix QHB 160 x QEL 090 --from {trip}", "fix QHB 130 9nm --altitude 4500 --from {trip} --workings"),
    "position": (
        "position 'N46 05.00 W039 02.00' --from {trip}",
        "position 'N46 05.00 W039 02.00' --altitude 4500 --from {trip}",
        "position --centred 032 TO --workings",
    ),
    "below": (
        "below QHB --from {trip} --terrain {examples}/terrain",
        "below QHB QSK --from {trip} --terrain {examples}/terrain --workings",
        "below 'N46 30 W037 58' --terrain {examples}/terrain",
    ),
    "intercept": (
        "intercept --present 215 --radial 230 --inbound",
        "intercept --present 215 --radial 230 --inbound --heading 310 --distance 20nm --gs 110kt --selector 050 "
        "--workings",
        "intercept --deflection 4deg --distance 20nm", "intercept --off 2nm --distance 20nm",
    ),
    "station-time": (
        "station-time --change 10 --time 2min --speed 110kt --burn 8gph",
        "station-time --change 10 --time 2min --workings",
    ),
    "descent": (
        "descent --start 6500ft --end 1500ft --rate 500 --gs 108kt --burn 8.5gph", "descent --gradient 300 --workings",
        "descent --angle 3 --gs 108kt",
    ),
    "holding": (
        "holding --inbound 090 --heading 180 --altitude 5000", "holding --inbound 090 --heading 180 --altitude 5000 "
        "--turns left --wind 200M/20 --tas 110kt --rules icao --workings",
    ),
    "vor-check": (
        "vor-check vot --indicated 002 --flag FROM --date 2026-07-18",
        "vor-check ground --indicated 098 --expected 080 "
        "--date 2026-07-18 --workings",
    ),
    "declination": ("declination 'N46 12.30 W039 20.70' --date 2026-07-18",
                    "declination 'N46 12.30 W039 20.70' --date 2026-07-18 --station 15W --workings"),
    "morse": ("morse QHB QSK", "morse QHB --workings"),
    "mark": (f"mark {TRIP} {{folder}}/answers.csv",),
    "notices": ("notices {examples}/briefing.txt", "notices {examples}/briefing.txt --at '2026-07-18 15:10Z'",
                "notices {root}/tests/authorities/notices.txt"),
    "propose": (f"propose XHAR XOLD --tas 110 {DATED}", f"propose QHB:vor QEL:vor {DATED}"),
    "revise": (REVISED, f"{REVISED} --fuel 34.5gal", f"{REVISED} --fuel 9gal",
               "revise {folder}/noticed.route --at QHB 23:30"),
    "catalogue info": ("catalogue info --catalogue {islands}",),
    "catalogue station": (f"catalogue station QHB {DATED}", f"catalogue station XHAR {DATED}",),
    "catalogue airport": (f"catalogue airport XHAR {DATED}",),
    "catalogue fix": (f"catalogue fix COVEY {DATED}",),
    "catalogue airway": (f"catalogue airway V805 {DATED}", f"catalogue airway V801 {DATED}"),
    "catalogue between": (f"catalogue between QHB QEL {DATED}",),
    "catalogue nearby": (f"catalogue nearby QHB {DATED}", f"catalogue nearby QHB --altitude 4500 {DATED}"),
    "catalogue audit": (f"catalogue audit {DATED} --length 0.01",),
}  # fmt: skip
"""Command lines of each command that writes JSON, without `--format json`: together they write every schema."""

WRITERS = {
    "catalogue/audit_text.py", "catalogue/lookup_json.py", "computations/answer.py", "sheets/json_lines.py",
    "studies/comparing.py", "studies/explain_text.py", "studies/gate.py", "studies/marking_text.py",
    "studies/notices_text.py", "studies/proposal_text.py", "studies/requirements.py", "studies/revision_json.py",
    "studies/rule_text.py", "studies/ways_around.py", "studies/whatif_text.py", "studies/without_text.py",
    "studies/coverage.py", "studies/runs_gone.py",
}  # fmt: skip
"""The modules that write JSON of ours; each has its schema, and a command line above."""

MAKING_JSON = ("json.dumps", "json.dump", "dumps", "dump", "msgspec.json.encode", "encode")

OTHER_STANDARDS = {"studies/remembered.py", "sheets/geojson.py", "studies/check_formats.py"}
"""GeoJSON (RFC 7946) and SARIF (OASIS) have schemas of their own, and tests beside them; what is remembered is
read by nobody else."""


@pytest.fixture(scope="module")
def places(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Where the files of the command lines lie."""
    folder = tmp_path_factory.mktemp("routes")
    (folder / "broken.route").write_text('altitude 3000\ntas fast\nflight "a"\nroute QHB QSK\n', "utf-8")
    (folder / "whole.route").write_text(changed() + 'flight "a"\nflight "b"\nroute XHAR XNIL\n', "utf-8")
    (folder / "published.route").write_text(
        "date 2026-07-18\noff 15:10Z\naltitude 5000\ntas 110kt\nwind calm\nroute XHAR QHB V801 QEL XOLD\n", "utf-8"
    )
    (folder / "noticed.route").write_text(changed(f"notices {EXAMPLES / 'briefing.txt'}"), "utf-8")
    (folder / "staying.txt").write_text("QEL", "utf-8")
    (folder / "answers.csv").write_text("leg,heading,eta,fuel_left\n1,267,15:16Z,\n2,100,,35\n", "utf-8")
    held = tmp_path_factory.mktemp("catalogues")
    import_data(EXAMPLES / "islands", held / "islands.sqlite")
    import_data(moved(held), held / "other.sqlite")
    import_data(lesser(held), held / "lesser.sqlite")
    return {
        "examples": str(EXAMPLES),
        "folder": str(folder),
        "islands": str(held / "islands.sqlite"),
        "other": str(held / "other.sqlite"),
        "lesser": str(held / "lesser.sqlite"),
        "root": str(ROOT),
        "trip": TRIP.format(examples=EXAMPLES),
    }


def moved(held: Path) -> Path:
    """The islands' data of an earlier cycle, with another frequency of QHB."""
    folder = held / "moved"
    folder.mkdir()
    for path in (EXAMPLES / "islands").iterdir():
        text = path.read_text("utf-8").replace("2026/07/09", "2026/06/11").replace("2026/08/06", "2026/07/09")
        (folder / path.name).write_text(text.replace("113.7", "113.9"), "utf-8")
    return folder


def lesser(held: Path) -> Path:
    """The islands' data of the next cycle, without V801."""
    folder = held / "lesser"
    folder.mkdir()
    for path in (EXAMPLES / "islands").iterdir():
        lines = path.read_text("utf-8").replace("2026/07/09", "2026/08/06").splitlines(keepends=True)
        (folder / path.name).write_text("".join(line for line in lines if '"V801"' not in line), "utf-8")
    return folder


@cache
def validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(json.loads(schema_text(name)))


def written(line: str, places: dict[str, str]) -> list[dict[str, Any]]:
    """The objects that a command line writes, each held against the schema that it names."""
    import shlex

    words = [word.format(**places) for word in shlex.split(line)]
    run = navlog(*words, "--format", "json")
    assert run.status in (0, 1, 2), run.err
    assert run.out, (words, run.err)
    found = [json.loads(one) for one in run.out.splitlines()]
    for one in found:
        assert one["schema"] in NAMES
        validator(one["schema"]).validate(one)
    return found


@pytest.fixture(scope="module")
def seen() -> dict[str, list[dict[str, Any]]]:
    """What each command wrote, once the tests of the commands have run."""
    return {}


@pytest.mark.parametrize("command", CASES)
def test_what_a_command_writes_is_of_a_schema(
    command: str, places: dict[str, str], seen: dict[str, list[dict[str, Any]]]
) -> None:
    seen[command] = [one for line in CASES[command] for one in written(line, places)]
    assert seen[command]


def test_every_schema_is_written_by_a_command_line_above(
    places: dict[str, str], seen: dict[str, list[dict[str, Any]]]
) -> None:
    for command, lines in CASES.items():
        if command not in seen:
            seen[command] = [one for line in lines for one in written(line, places)]
    names = {one["schema"] for found in seen.values() for one in found}
    assert names == set(NAMES) - {"navlog/baseline-1"}


def test_a_baseline_is_of_its_schema(tmp_path: Path) -> None:
    path = tmp_path / "known.json"
    navlog("check", str(ROOT / "examples" / "dogleg.route"), "--altitude", "2300", "--write-baseline", str(path))
    found = json.loads(path.read_text("utf-8"))
    assert found["findings"]
    validator(found["schema"]).validate(found)


def taking_forms(group: click.Group, before: tuple[str, ...] = ()) -> Iterator[str]:
    """The commands with an option `--format`, by their words; each offers JSON."""
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        if isinstance(command, click.Group):
            yield from taking_forms(command, (*before, name))
        elif any("--format" in one.opts for one in command.params):
            yield " ".join((*before, name))


def test_every_command_that_offers_json_has_its_command_lines() -> None:
    assert set(taking_forms(commands)) == set(CASES)


def test_every_module_that_writes_json_is_known_here() -> None:
    package = ROOT / "navlog"
    writing = set()
    for path in package.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and ast.unparse(node.func) in MAKING_JSON:
                writing.add(path.relative_to(package).as_posix())
    assert writing == WRITERS | OTHER_STANDARDS


@pytest.mark.parametrize("name", schemas())
def test_the_shipped_schema_is_that_of_its_shape(name: str, request: pytest.FixtureRequest) -> None:
    path, text = SHIPPED / f"{name}.schema.json", shipped_form(schemas()[name])
    if request.config.getoption("--update-golden"):
        path.write_text(text, "utf-8")
    assert path.read_text("utf-8") == text


def parts(schema: Any) -> Iterator[dict[str, Any]]:
    """Every object of a schema that has keys, save those that only narrow another."""
    if isinstance(schema, dict):
        if "properties" in schema and "type" in schema:
            yield schema
        for one in schema.values():
            yield from parts(one)
    elif isinstance(schema, list):
        for one in schema:
            yield from parts(one)


@pytest.mark.parametrize("name", NAMES)
def test_a_schema_is_closed_and_tells_each_unit(name: str) -> None:
    schema = json.loads(schema_text(name))
    Draft202012Validator.check_schema(schema)
    for part in parts(schema):
        assert part["additionalProperties"] is False
        for key, value in part["properties"].items():
            unit = unit_of(key)
            told = value.get("description", "") + part.get("description", "")
            assert unit is None or unit in told or value == {"type": "null"}, (name, key)


def test_a_key_too_many_and_a_text_for_a_number_are_refused() -> None:
    (good,) = [json.loads(navlog("morse", "QHB", "--format", "json").out)]
    validator("navlog/morse-1").validate(good)
    assert not validator("navlog/morse-1").is_valid(good | {"more": 1})
    assert not validator("navlog/morse-1").is_valid(good | {"morse": 1})
    assert not validator("navlog/morse-1").is_valid({"schema": "navlog/morse-1"})


def test_the_schemas_are_listed_and_printed() -> None:
    listed = navlog("schema")
    assert (listed.status, listed.err) == (0, "")
    assert [line.split()[0] for line in listed.out.splitlines()] == list(NAMES)
    assert navlog("schema", "mark-1").out == navlog("schema", "navlog/mark-1").out == schema_text("mark-1")


def test_the_keys_are_listed_with_types_and_units() -> None:
    lines = [" ".join(line.split()) for line in navlog("schema", "navlog/1", "--keys").out.splitlines()]
    assert "totals.distance_nm number NM" in " ".join(lines)
    assert any(line.startswith("legs[].guidance.radial_deg null or number") for line in lines)
    assert any(line.startswith("legs[].eta null or string") for line in lines)
    fuel = [line.split() for line in key_lines("station-time-1") if line.startswith("^fuel_")]
    assert fuel == [["^fuel_(gal|l|lb|kg)$", "number", "in", "the", "unit", "at", "the", "key's", "end"]]


def test_an_unknown_schema_is_a_problem() -> None:
    found = navlog("schema", "navlog/marks-1")
    assert (found.status, found.out) == (2, "")
    assert "no schema is called `navlog/marks-1`" in found.err
    assert "navlog/mark-1" in found.err
    assert navlog("schema", "--keys").status == 2


def test_a_shell_completes_the_schemas() -> None:
    found = CliRunner().invoke(
        commands, [], prog_name="navlog",
        env={"_NAVLOG_COMPLETE": "bash_complete", "COMP_WORDS": "navlog schema navlog/ma", "COMP_CWORD": "2"},
    )  # fmt: skip
    assert "navlog/mark-1" in found.output
