"""A folder with a route file and the aircraft and bulletin files that it names, flown through the command."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from helpers.flown import Json, Run, navlog


@dataclass(frozen=True, slots=True)
class Folder:
    """Writes files into `path` and runs `navlog log` on the route file."""

    path: Path

    def put(self, name: str, text: str | bytes) -> None:
        """Write a file that the route file names."""
        (self.path / name).write_bytes(text.encode() if isinstance(text, str) else text)

    def run(self, text: str, *options: str) -> Run:
        """What `navlog log` comes to for a route file."""
        self.put("flight.route", text)
        return navlog("log", str(self.path / "flight.route"), *options)

    def answers(self, text: str, *options: str) -> list[Json]:
        """The JSON object of each flight of a route file."""
        return [json.loads(line) for line in self.run(text, "--format", "json", *options).out.splitlines()]

    def fly(self, text: str, *options: str) -> Json:
        """The JSON object of a route file's only flight, which must have been computed."""
        (found,) = self.answers(text, *options)
        assert found["problems"] == [], found["problems"]
        return found

    def problems(self, text: str, *options: str) -> list[Json]:
        """The problems of a route file's only flight, which must be in their way; none is a bug."""
        run = self.run(text, "--format", "json", *options)
        assert run.status == 2, run
        (found,) = [json.loads(line) for line in run.out.splitlines()]
        problems: list[Json] = found["problems"]
        assert problems
        return problems


def profile(found: Json) -> list[tuple[str, float, int, int]]:
    """Phase, NM and heights of every leg."""
    return [
        (leg["phase"], round(leg["distance_nm"], 2), round(leg["start_altitude_ft"]), round(leg["end_altitude_ft"]))
        for leg in found["legs"]
    ]
