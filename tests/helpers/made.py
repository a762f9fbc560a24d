"""A flight of the grammar as it is computed, for what holds of each."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from helpers.flown import Json
from helpers.grammar import FILES, written
from helpers.tiles import write_islands

from navlog.request.references import References
from navlog.request.typed import NO_OVERRIDES, Overrides
from navlog.rules.answers import Answer, check_text
from navlog.rules.report import Report
from navlog.sheets.formats import sheet


def folder_of_files(folder: Path) -> Path:
    """The folder with the files that flights of the grammar name."""
    for name, text in FILES.items():
        (folder / name).write_text(text, "utf-8")
    (folder / "terrain").mkdir()
    write_islands(folder / "terrain")
    return folder


@dataclass
class Made:
    """A flight of the grammar as it is computed; `lines` are its statements, the route's last.

    Its file stands in `folder`, beside those that it may name, each read once for all flights with these references.
    """

    lines: list[str]
    folder: Path
    references: References

    @property
    def file(self) -> str:
        """The path of its file, which the first of its commands writes."""
        return str(self.folder / "made.route")

    @cached_property
    def text(self) -> str:
        """The route file."""
        return written(self.lines)

    def answers(self, text: str, overrides: Overrides = NO_OVERRIDES) -> tuple[Answer, ...]:
        """What comes of a route file beside the same references."""
        return check_text(text, self.file, references=self.references, overrides=overrides)

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
    def flight(self) -> Json:
        """Its JSON."""
        return json_of(self.found)

    @cached_property
    def rows(self) -> list[dict[str, str]]:
        """The rows of its CSV that are the route's."""
        data = sheet("csv", self.found, "a5")
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
