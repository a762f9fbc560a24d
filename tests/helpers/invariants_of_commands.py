"""Every command that reads a route file, run over a flight of the grammar: what its answer must be."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from xml.etree import ElementTree

from helpers.flown import Json, Run
from helpers.made import CATALOGUE, OLDER, Made

from navlog.sheets.formats import EXTRAS, PAPERS

Line = tuple[str, ...]

MOST_COLUMNS = {"text": 80, "steps": 80, "planning": 130}
"""The width of sheets in letters."""

EDITS = (
    ("--date", "2027-01-03"), ("--off", "03:30Z"), ("--wind", "340/35"), ("--wind", "2000 200/10 8000 260/40"),
    ("--altitude", "5500"), ("--altitude", "FL065"), ("--unavailable", "QAB"),
    ("--set", "rules ifr"), ("--set", "equipment vor 2 dme 1"), ("--set", "fuel 9gal"), ("--set", "tas 60kt"),
    ("--notices", "briefing.txt"), ("--no-files",), ("--quote-outside",), ("--catalogue", CATALOGUE),
)  # fmt: skip
"""What any of the commands may change in a flight."""


def commands_answer(made: Made) -> Iterator[str]:
    """Command lines drawn by the flight have an answer or a problem, never a bug; what they print is well formed."""
    chance = Random(made.text)
    for line in chance.sample(tuple(every_line(made, chance)), 4):
        told = made.run(*_placed(line, made.folder))
        for fault in _faults(line, told):
            yield f"{' '.join(line)}: {fault}"


def check_says_what_the_log_does(made: Made) -> Iterator[str]:
    """The JSON of `check` is that of the log without legs."""
    checked = [json.loads(line) for line in made.run("check", "--format", "json").out.splitlines()]
    for one, flight in zip(checked, made.flights, strict=True):
        logged = {key: flight[key] for key in one}
        # Legs stand in the log alone, those of the ways to alternates too.
        logged["alternates"] = [{key: way[key] for key in way if key != "legs"} for way in logged["alternates"]]
        if one != logged:
            yield "check says what the log does not"


_OURS = (
    *(CATALOGUE, "terrain", "briefing.txt", "trainer.toml", "answers.csv", "class.csv", "kept"),
    *("baseline.json", "kept.json", OLDER, "out.csv", "out.gpx", "sheets/"),
)
"""What the command lines read and write besides the route file, all of it in its folder."""


def _placed(line: Line, folder: Path) -> Line:
    """A command line with the files that it names in a folder."""
    return tuple(f"{folder}/{word}" if word in _OURS else word for word in line)


def every_line(made: Made, chance: Random) -> Iterator[Line]:
    """A command line of each kind over a flight; the file stands behind the command's name."""
    edit = chance.choice(EDITS)
    forms = [form for form in made.forms if form != "pdf"]
    for form in forms:
        yield "log", "--format", form, *edit
    yield "log", "--format", "strip", "--page", chance.choice(PAPERS), "--small", *edit
    yield "log", "--format", "html", "--page", chance.choice(PAPERS), *edit
    yield "log", "--format", "strip", "--with", ",".join(chance.sample(EXTRAS[:-1], 3)), "--catalogue", CATALOGUE
    yield "log", "--format", "html", "--with", ",".join(EXTRAS), "--catalogue", CATALOGUE
    yield "log", "--format", "planning", "--wide", *edit
    yield "log", "--terrain", "terrain"
    yield "log", "--compare-altitudes", "--format", chance.choice(("text", "json"))
    yield "log", "--all", *edit
    yield "log", "--aircraft", "trainer.toml", "--fuel", "20gal"
    yield "log", "--output", "out.csv", "--output", "out.gpx"
    yield "log", "--output", "sheets/", "--format", chance.choice(forms)
    for form in ("text", "json", "csv", "github", "sarif", "junit"):
        yield "check", "--format", form, *chance.choice(((), ("--strict",), ("--all",), ("--by-rule",))), *edit
    yield "check", "--select", "under-mea", "--select", "reserve"
    yield "check", "--ignore", "no-guidance", "--min-severity", chance.choice(("error", "warning", "note"))
    yield "check", "--radial-limits", "1", "2"
    yield "check", "--cache", "kept"
    yield "check", "--write-baseline", "baseline.json"
    yield "check", "--baseline", "kept.json", "--format", chance.choice(("text", "json", "csv", "sarif")), *edit
    yield "check", "--since", OLDER, "--catalogue", CATALOGUE, "--format", chance.choice(("text", "json"))
    form = chance.choice(("text", "json"))
    yield "check", "--requirement", chance.choice(("61.109", "61.129", "61.65")), "--format", form
    yield "check", "--propose-around", "QAB", "--catalogue", CATALOGUE
    flight = chance.choice(made.flights)
    leg = str(chance.randint(1, len(flight["legs"])))
    one = ("--flight", flight["flight"]) * (len(made.flights) > 1)
    for form in ("text", "json"):
        yield "explain", "--format", form, *edit, *one
        yield "explain", "--format", form, "--leg", leg, *one
        yield "explain", "--format", form, "--alternate", "XALT", *one
        yield "revise", "--format", form, *_passed(flight, chance), *edit, *one
        yield "mark", "--format", form, "answers.csv", *one
        yield "notices", "briefing.txt", "--format", form, "--at", f"2026-07-18 {chance.randint(10, 23)}:30Z"
        yield "position", "N46 05.00 W039 02.00", "--format", form, "--workings", "--from", "FILE"
    yield "revise", "--at", "cop", "15:25", *one
    yield "mark", "--template", *edit, *one
    yield "mark", "answers.csv", "class.csv", "--format", chance.choice(("text", "json", "csv")), *one
    yield "log", "--route", " ".join(chance.sample(_PUBLISHED, 3)), "--catalogue", CATALOGUE
    yield from _of_published(chance)
    if chance.random() < 0.1:  # each computes the flight a hundred times and more
        yield "practice", "--seed", leg, *one
        yield "practice", "--keys", *one
        yield "log", "--wind-spread", "10", "--format", chance.choice(("text", "json"))


def _of_published(chance: Random) -> Iterator[Line]:
    """Command lines that ask of the invented published data alone."""
    start, end, gone = chance.sample(_PUBLISHED, 3)
    asked = ("--rules", chance.choice(("vfr", "ifr")), "--tas", str(chance.randint(70, 160)), "--date", "2026-07-18")
    level = ("--altitude", str(chance.choice((2500, 3500, 5000, 6500)))) * (chance.random() < 0.5)
    wind = ("--wind", f"{chance.randint(1, 360):03d}/{chance.randint(5, 50)}") * (chance.random() < 0.5)
    out = ("--unavailable", "QEL") * (chance.random() < 0.3)
    form = chance.choice(("text", "json", "route"))
    yield "propose", start, end, *asked, *level, *wind, *out, "--format", form, "--catalogue", CATALOGUE
    form = chance.choice(("text", "json", "csv"))
    yield "without", gone, "--date", "2026-07-18", "--format", form, "--catalogue", CATALOGUE
    yield "without", "--all", "--date", "2026-07-18", "--catalogue", CATALOGUE


_PUBLISHED = ("QHB", "QEL", "QSK", "QNO", "XHAR", "XOLD", "XSKE", "XNOR", "MARSH", "REEFY", "COVEY", "TIDAL")
"""What the invented published data define."""


def _passed(flight: Json, chance: Random) -> Iterator[str]:
    """Options that tell a passage of one of the points, a heading to it and what is on board there."""
    names = [leg["to"]["ident"] for leg in flight["legs"][:-1] if leg["to"]["ident"] is not None]
    if names:
        name = chance.choice(names)
        yield from ("--at", name, f"15:{chance.randint(11, 59)}", *("--fuel", "20gal") * (chance.random() < 0.5))
        yield from ("--heading", name, f"{chance.randint(1, 360):03d}M") * (chance.random() < 0.5)


def _faults(line: Line, told: Run) -> Iterator[str]:
    """What is wrong with an answer."""
    refused = told.status == 2
    if told.status not in (0, 1, 2) or "Traceback" in told.err or refused != ("error: " in told.err):
        yield f"status {told.status}, {told.err[:300]}"
    if re.search(r"\bnan\b|\binf\b|\bNone\b", told.out):
        yield "what is no figure is printed"
    form = line[line.index("--format") + 1] if "--format" in line else "text"
    if told.out and "--output" not in line:
        try:
            _READ.get(form, str)(told.out)
        except (ValueError, ElementTree.ParseError, AssertionError) as error:
            yield f"{form} cannot be read: {error}"
        most = MOST_COLUMNS.get(form) if line[0] in ("log", "revise", "explain", "practice") else None
        if most is not None and "--wide" not in line and "--keys" not in line:
            yield from (f"{len(one)} columns: {one}" for one in told.out.splitlines() if len(one) > most)


def _read_json(text: str) -> None:
    """Read a line of JSON a flight, as RFC 8259 has it; raises ValueError for what is none."""

    def refused(figure: str) -> None:
        raise ValueError(f"{figure} is no JSON")

    for one in text.splitlines():
        json.loads(one, parse_constant=refused)


def _read_csv(text: str) -> None:
    """Read CSV, of which every row has as many cells."""
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert len({len(row) for row in rows}) == 1, "rows of several lengths"


_READ: dict[str, Callable[[str], object]] = {
    "json": _read_json,
    "geojson": json.loads,
    "sarif": json.loads,
    "csv": _read_csv,
    "gpx": ElementTree.fromstring,
    "kml": ElementTree.fromstring,
    "junit": ElementTree.fromstring,
}
