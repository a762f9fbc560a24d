"""What published data says beside the file: which sources are used, and where they disagree with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from navlog.nav.chart import Fix, Place, Provenance, Station
from navlog.request.records import RouteWord
from navlog.resolve.names import Names
from navlog.resolve.path import Hop
from navlog.resolve.route import Route

_APART_NM = 0.1


def differences(names: Names) -> tuple[str, ...]:
    """What the file's stations, airports and fixes say otherwise than the catalogue's of the same name."""
    given, day = names.request.definitions, names.request.day
    told: list[str] = []
    for station in given.stations.values():
        same_kind = [one for one in names.catalogue.stations(station.ident, day) if one.kind is station.kind]
        told += _against(station, same_kind)
    for airport in given.airports.values():
        told += _against(airport, names.catalogue.airports(airport.ident, day))
    for fix in given.fixes.values():
        told += _against(Fix(fix.ident, fix.position), names.catalogue.fixes(fix.ident, day))
    return tuple(told)


def _against(own: Place, published: Iterable[Place]) -> Iterator[str]:
    """What differs between the file's place and the nearest published one of that name."""
    from navlog.nav import earth
    from navlog.nav.angles import position_text

    if own.position is None:
        known = list(published)
        apart_nm = 0.0
    else:
        here = own.position
        placed = [(earth.distance_nm(here, one.position), one) for one in published if one.position is not None]
        # The nearest namesake is the one meant; against one across the world every file would differ.
        placed.sort(key=lambda pair: pair[0])
        known = [one for _, one in placed[:1]]
        apart_nm = placed[0][0] if placed else 0.0
    for other in known[:1]:
        if apart_nm > _APART_NM and own.position is not None and other.position is not None:
            ours, theirs = position_text(own.position), position_text(other.position)
            yield f"{own.ident} is at {ours} in the file and {apart_nm:.1f} NM away, at {theirs}, as published"
        if isinstance(own, Station) and isinstance(other, Station):
            yield from _station_differences(own, other)


def _station_differences(own: Station, other: Station) -> Iterator[str]:
    """Frequency and declination of a station, where they differ."""
    from navlog.nav.figures import east_west, frequency

    if _differ(own.frequency_mhz, other.frequency_mhz, 0.001):
        ours, theirs = frequency(own.frequency_mhz), frequency(other.frequency_mhz)
        yield f"{own.ident} is on {ours} in the file and {theirs} as published"
    if _differ(own.declination_deg, other.declination_deg, 0.05):
        ours, theirs = east_west(own.declination_deg), east_west(other.declination_deg)
        yield f"{own.ident} has a declination of {ours} in the file and {theirs} as published"


def _differ(one: float | None, other: float | None, allowed: float) -> bool:
    """Whether two known numbers differ by more than is allowed."""
    return one is not None and other is not None and abs(one - other) > allowed


def sources_used(names: Names, paths: tuple[tuple[Hop, ...], ...], ways: tuple[Route, ...]) -> tuple[Provenance, ...]:
    """The catalogue's sources that supply a point, a station or an airway of the flight or its alternates.

    A station counts that guides, marks a fix, defines one of the file's, has a wind or serves a receiver check. Most
    trusted first.
    """
    used = {place.provenance for path in paths for place in _places_on(path)}
    for stretch in (one for way in ways for one in way.stretches):
        if stretch.airway is not None:
            used.add(stretch.airway.provenance)
        for part in stretch.parts:
            if part.guidance is not None:
                used.add(part.guidance.station.provenance)
        for candidate in stretch.candidates or ():
            used.add(candidate.station.provenance)
    if names.request.definitions.fixes:
        used.update(one for path in paths for hop in path for one in _of_definitions(names, hop))
    used.update(one.provenance for way in ways for one in way.checkpoints)
    words = (statement.place for statement in names.request.winds)
    used.update(one for word in words if word is not None for one in _of_word(names, word))
    return tuple(one for one in names.catalogue.sources(names.request.day) if one in used)


def _places_on(path: tuple[Hop, ...]) -> Iterator[Place]:
    """The stations, airports and fixes that a path passes."""
    stops = [hop.start for hop in path[:1]] + [hop.end for hop in path]
    return (stop.place for stop in stops if stop.place is not None)


def _of_definitions(names: Names, hop: Hop) -> Iterator[Provenance]:
    """The stations by which the file places a fix at an end of a hop."""
    for stop in (hop.start, hop.end):
        definition = names.request.definitions.fixes.get(stop.ident or "")
        for name, _ in definition.radials if definition is not None else ():
            station = names.named_station(name)
            if station is not None:
                yield station.provenance


def _of_word(names: Names, word: RouteWord) -> Iterator[Provenance]:
    """What the place of a wind comes from."""
    place = names.place(word, at_end=False) if word.ident is not None else None
    if place is not None:
        yield place.provenance
