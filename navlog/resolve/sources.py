"""Which published sources a flight uses something of: of the others nothing needs to be said."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.nav.chart import Provenance
from navlog.request.records import RouteWord
from navlog.resolve.names import Names
from navlog.resolve.path import Hop
from navlog.resolve.route import Route, Stretch


def sources_used(names: Names, paths: tuple[tuple[Hop, ...], ...], ways: tuple[Route, ...]) -> tuple[Provenance, ...]:
    """The catalogue's sources that supply a point, a station or an airway of the flight or its alternates.

    A station counts that guides, marks a fix, defines one of the file's or has a wind. Most trusted first.
    """
    used = {one for path in paths for hop in path for one in of_path(names, hop)}
    used.update(one for way in ways for stretch in way.stretches for one in of_stretch(stretch))
    words = (statement.place for statement in names.request.winds)
    used.update(one for word in words if word is not None for one in of_word(names, word))
    return tuple(one for one in names.catalogue.sources(names.request.day) if one in used)


def of_path(names: Names, hop: Hop) -> Iterator[Provenance]:
    """What the ends of a hop come from, and the stations by which the file places a fix there."""
    for stop in (hop.start, hop.end):
        if stop.place is not None:
            yield stop.place.provenance
        definition = names.request.definitions.fixes.get(stop.ident or "")
        for name, _ in definition.radials if definition is not None else ():
            station = names.named_station(name)
            if station is not None:
                yield station.provenance


def of_stretch(stretch: Stretch) -> Iterator[Provenance]:
    """What the airway and the stations of a stretch come from."""
    if stretch.airway is not None:
        yield stretch.airway.provenance
    for part in stretch.parts:
        if part.guidance is not None:
            yield part.guidance.station.provenance
    for one in stretch.candidates:
        yield one.station.provenance


def of_word(names: Names, word: RouteWord) -> Iterator[Provenance]:
    """What the place of a wind comes from."""
    place = names.place(word, at_end=False) if word.ident is not None else None
    if place is not None:
        yield place.provenance
