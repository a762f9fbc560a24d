"""Fly every Victor airway of a catalogue both ways and compare the log with what is published.

    python tests/bench/survey_airways.py CATALOGUE [DATE]

Each unbroken part of each airway is computed from its first to its last point. Printed: how many parts and
segments, each part that could not be computed with its reason, each segment whose distance is more than
0.1 NM from the published one, and each whose altitudes are not the published ones.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from navlog.catalogue import open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.flightlog.planning import plan
from navlog.nav.chart import Airway, Segment, Service
from navlog.nav.problems import NavlogError, Span
from navlog.request.records import Level, Request, RouteWord
from navlog.resolve.flight import resolve_flight
from navlog.rules.report import judge

BROKEN = (Service.DISCONTINUED, Service.BORDER)
WITHIN_NM = 0.1


def main() -> None:
    """Survey the catalogue named on the command line."""
    day = date.fromisoformat(sys.argv[2]) if len(sys.argv) > 2 else date(2026, 5, 20)
    with open_catalogue(Path(sys.argv[1])) as catalogue:
        survey(catalogue, day)


def survey(catalogue: Catalogue, day: date) -> None:
    """Fly every part of every Victor airway both ways and print what does not agree."""
    parts = segments = failed = off = 0
    for airway in victor_airways(catalogue, day):
        for first, last in unbroken(airway):
            for start, end in ((first, last), (last, first)):
                parts += 1
                name = f"{airway.ident}/{airway.location} {airway.points[start]}-{airway.points[end]}"
                try:
                    published, flown = fly(catalogue, day, airway, start, end)
                except NavlogError as error:
                    failed += 1
                    print(f"{name}: {error.problems[0].message} [{error.problems[0].code}]")
                    continue
                segments += len(published)
                for message in disagreements(published, flown):
                    off += 1
                    print(f"{name}: {message}")
    print(f"{parts} parts flown, {segments} segments; {failed} not computed, {off} disagreements")


def victor_airways(catalogue: Catalogue, day: date) -> Iterator[Airway]:
    """Every Victor airway, one for each location."""
    names = catalogue.query("SELECT DISTINCT ident FROM airway WHERE ident GLOB 'V[0-9]*' ORDER BY ident")
    for (ident,) in names:
        yield from catalogue.airways(str(ident), day)


def unbroken(airway: Airway) -> Iterator[tuple[int, int]]:
    """First and last point of each part without a break."""
    start = 0
    for index, segment in enumerate(airway.segments):
        if segment.service in BROKEN:
            if index > start:
                yield start, index
            start = index + 1
    if len(airway.points) - 1 > start:
        yield start, len(airway.points) - 1


def fly(
    catalogue: Catalogue, day: date, airway: Airway, start: int, end: int
) -> tuple[list[Segment], list[tuple[float, tuple[float | None, ...]]]]:
    """The published segments in the direction flown, and distance and limits of each stretch of the log."""
    span = Span("survey", 1)
    words = [RouteWord(name, span, name) for name in (airway.points[start], airway.ident, airway.points[end])]
    request = Request("survey", "survey", 1, "", day, tuple(words), Level(17_000.0), tas_kt=120.0)
    log = plan(resolve_flight(request, catalogue))
    judge(log)
    low, high = min(start, end), max(start, end)
    published = list(airway.segments[low:high])
    if start > end:
        published = [segment.reversed() for segment in reversed(published)]
    flown: list[tuple[float, tuple[float | None, ...]]] = []
    for stretch in log.route.stretches:
        length_nm = sum(leg.distance_nm for leg in log.legs if leg.stretch is stretch)
        limits = stretch.limits
        flown.append((length_nm, (limits.mea_ft, limits.moca_ft, limits.maa_ft)))
    return published, flown


def disagreements(published: list[Segment], flown: list[tuple[float, tuple[float | None, ...]]]) -> Iterator[str]:
    """What of the log is not as published."""
    for segment, (length_nm, limits) in zip(published, flown, strict=True):
        name = f"{segment.start}-{segment.end}"
        if segment.distance_nm is not None and abs(segment.distance_nm - length_nm) > WITHIN_NM:
            yield f"{name} published {segment.distance_nm} NM, flown {length_nm:.2f} NM"
        altitudes = (segment.mea.forward_ft, segment.moca.forward_ft, segment.maa.forward_ft)
        if altitudes != limits:
            yield f"{name} published {altitudes}, flown {limits}"


if __name__ == "__main__":
    main()
