"""A flight of the grammar as it is computed, for what holds of each."""

from __future__ import annotations

import csv
import io
import json
import re
from collections import Counter
from dataclasses import dataclass, field
from functools import cache, cached_property
from pathlib import Path
from shutil import copy, copytree

from helpers.flown import EXAMPLES, Json, Run, navlog
from helpers.grammar import written
from helpers.masts import write_masts
from helpers.named_files import FILES
from helpers.nasr_excerpt import DATA
from helpers.second_book import TABLED
from helpers.tiles import write_islands

from navlog.catalogue import import_data, open_catalogue
from navlog.request.records import Request
from navlog.request.references import References
from navlog.request.typed import NO_OVERRIDES, Overrides
from navlog.rules.answers import Answer, check_text, text_plans
from navlog.rules.report import Report
from navlog.sheets.formats import MODULES, sheet
from navlog.studies.revision import AsWritten


def folder_of_files(folder: Path) -> Path:
    """The folder with the files that flights of the grammar name."""
    for name, text in FILES.items():
        (folder / name).write_text(text, "utf-8")
    copy(EXAMPLES / "trainer.toml", folder / TABLED)
    (folder / "terrain").mkdir()
    write_islands(folder / "terrain")
    for name in ("answers.csv", "class.csv"):
        (folder / name).write_text(_ANSWERS, "utf-8")
    (folder / "kept.json").write_text(_BASELINE, "utf-8")
    import_data(EXAMPLES / "islands", folder / CATALOGUE)
    copytree(EXAMPLES / "islands", folder / "older")
    for path in (folder / "older").glob("*.csv"):
        text = path.read_text("ascii").replace("2026/07/09", "2026/06/11")
        path.write_text(text.replace("113.70", "113.90").replace(",3000,", ",3300,"), "ascii")
    import_data(folder / "older", folder / OLDER)
    import_data(DATA / "nasr", folder / EXCERPT)
    import_data(write_masts(folder / "DOF.DAT"), folder / CATALOGUE)
    return folder


_ANSWERS = """leg,true_course,set_course,flag,heading,groundspeed,distance,time,eta,fuel_used,fuel_left
1,257,272,TO,267,98,9.6,0:06,15:16,0.9,36.1
2,197,034,FROM,,99,11.0,6,,0.9,
total,,,,,,108.7,1:00,,8.5,
"""

_BASELINE = """{"schema": "navlog/baseline-1", "findings": [
  {"file": "made.route", "flight": "made", "rule": "no-guidance", "leg": "XAA-QAB", "count": 1}
]}
"""
CATALOGUE, OLDER, EXCERPT = "islands.sqlite", "older.sqlite", "excerpt.sqlite"
"""In the folder, invented data published about the first of the grammar's centres, a cycle before; and real ones."""


OF_NO_FILE = ("propose", "without", "notices")
"""The commands that read no route file; they ask of the same invented data."""


_opened = cache(open_catalogue)


@dataclass
class Made:
    """A flight of the grammar as it is computed; `lines` are its statements, the route's last.

    Its file stands in `folder`, beside those that it may name, each read once for all flights with these references.
    `ran` counts the commands run over it and over what is made of it, by their names. `published` is a catalogue: that
    of the excerpt for a flight that defines nothing itself.
    """

    lines: list[str]
    folder: Path
    references: References
    ran: Counter[str] = field(default_factory=Counter)
    published: str | None = None

    @property
    def by_excerpt(self) -> bool:
        """Whether it flies by the excerpt's data."""
        return self.published is not None and Path(self.published).name == EXCERPT

    @property
    def file(self) -> str:
        """The path of its file."""
        return str(self.folder / "made.route")

    @cached_property
    def written(self) -> str:
        """The path of its file, once it is written."""
        Path(self.file).write_text(self.text, "utf-8")
        return self.file

    def run(self, command: str, *options: str) -> Run:
        """Run a command line; `FILE` stands for its file, which comes first where it is named nowhere."""
        self.ran[command] += 1
        if self.published is not None and "--catalogue" not in options and command not in OF_NO_FILE:
            options += ("--catalogue", self.published)
        words = options if "FILE" in options or command in OF_NO_FILE else ("FILE", *options)
        return navlog(command, *(self.written if word == "FILE" else word for word in words))

    def sheet(self, form: str, paper: str = "a5", extras: tuple[str, ...] = ()) -> str | bytes:
        """A sheet of it."""
        self.ran[f"log, {form}"] += 1
        printed = sheet(form, self.found, paper, extras=extras)
        assert printed is not None
        return printed

    @cached_property
    def text(self) -> str:
        """The route file."""
        return written(self.lines)

    def answers(self, text: str, overrides: Overrides = NO_OVERRIDES) -> tuple[Answer, ...]:
        """What comes of a route file beside the same references."""
        self.ran["check"] += 1
        catalogue = None if self.published is None else _opened(self.published)
        return check_text(text, self.file, catalogue=catalogue, references=self.references, overrides=overrides)

    def other(self, lines: list[str]) -> Made:
        """A flight of other lines beside the same files."""
        return Made(lines, self.folder, self.references, self.ran, self.published)

    @cached_property
    def found(self) -> tuple[Answer, ...]:
        """What comes of the flight."""
        return self.answers(self.text)

    @cached_property
    def report(self) -> Report:
        """Its report; the grammar makes no flight without one."""
        report = self.found[0].report
        assert report is not None, self.found[0].problems
        return report

    @cached_property
    def flights(self) -> list[Json]:
        """The JSON of each flight."""
        return [json.loads(line) for line in str(self.sheet("json")).splitlines()]

    @cached_property
    def as_written(self) -> AsWritten:
        """The only flight before notices changed anything of it, with what it was planned by."""
        (request,) = text_plans(self.text, self.file).flights
        assert isinstance(request, Request)
        return AsWritten(request, self.references, None if self.published is None else _opened(self.published))

    @property
    def flight(self) -> Json:
        """The JSON of the only flight."""
        (flight,) = self.flights
        return flight

    @property
    def forms(self) -> list[str]:
        """The formats that it has; those for maps want a place."""
        ends = (leg[end] for flight in self.flights for leg in flight["legs"] for end in ("from", "to"))
        placed = any(end["latitude_deg"] is not None for end in ends)
        return [form for form in MODULES if placed or form not in ("gpx", "kml", "geojson")]

    @cached_property
    def rows(self) -> list[dict[str, str]]:
        """The rows of its CSV that are the route's."""
        data = self.sheet("csv")
        assert isinstance(data, bytes)
        return [row for row in csv.DictReader(io.StringIO(data.decode(), newline="")) if not row["alternate"]]

    def changed(self, *changes: tuple[str, str]) -> list[str]:
        """Its lines with those that begin with a keyword in another's place, or left out."""
        lines = list(self.lines)
        for keyword, instead in changes:
            lines = [instead if line.startswith(f"{keyword} ") else line for line in lines]
        return list(dict.fromkeys(line for line in lines if line))

    @property
    def is_plain(self) -> bool:
        """Whether it is flown at one level and speed without a landing on the way."""
        words = ("aircraft ", "hold ", "notices ", "unavailable ")
        return not any(line.startswith(words) for line in self.lines) and not re.search(r"/|land", self.lines[-1])


def json_of(found: tuple[Answer, ...]) -> Json:
    """The JSON of a file's only flight."""
    printed = sheet("json", found, "a5")
    assert isinstance(printed, str)
    flight: Json = json.loads(printed)
    return flight
