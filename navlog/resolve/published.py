"""What published data says beside the file: which sources are used, and where they disagree with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import hypot, radians, sin

from navlog.nav.angles import difference_deg
from navlog.nav.chart import Airway, ChangeoverAt, Fix, Place, Provenance, Segment, Station
from navlog.nav.figures import course, distance, whole
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.request.records import FixDefinition, RouteWord
from navlog.resolve.names import Names
from navlog.resolve.path import Hop
from navlog.resolve.points import placed
from navlog.resolve.route import Route, Stretch

_APART_NM = 0.1

_DISTANCE_NM = 0.5
"""A distance published in whole NM is as far off by its rounding."""

_APART_DEG = 1.0
"""Charts round radials to the degree."""

_ELEVATION_FT = 50.0
"""Surveys and antennas differ by tens of feet (common practice, no source), a slip of a digit mostly by more."""

_CHANGEOVER_NM = 1.0
"""Changeover points are published in whole miles."""


def differences(names: Names) -> tuple[str, ...]:
    """What the file's stations, airports, fixes and airways say otherwise than the catalogue's of the same name."""
    given, day = names.request.definitions, names.request.day
    told: list[str] = []
    for station in given.stations.values():
        same_kind = [one for one in names.catalogue.stations(station.ident, day) if one.kind is station.kind]
        told += _against(station, same_kind)
    for airport in given.airports.values():
        told += _against(airport, names.catalogue.airports(airport.ident, day))
    for definition in given.fixes.values():
        told += _fix_differences(names, definition, names.catalogue.fixes(definition.ident, day))
    for own in given.airways.values():
        told += _airway_differences(own.airway, names.catalogue.airways(own.airway.ident, day))
    return tuple(told)


def _fix_differences(names: Names, definition: FixDefinition, published: tuple[Fix, ...]) -> Iterator[str]:
    """What differs of a fix, as far as its radials, written to the degree, and a charted distance can tell."""
    if not published:
        return
    try:
        fix, crossing = placed(names, definition)
    except NavlogError:
        return  # One that cannot be placed is told where it is flown.
    error_nm = 0.0 if crossing is None else crossing.error_nm_per_deg * _APART_DEG
    if definition.distance_nm is not None:
        away_nm = definition.distance_nm
        error_nm = hypot(max(_DISTANCE_NM, 0.01 * away_nm), away_nm * sin(radians(_APART_DEG)))
    yield from _against(fix, published, error_nm)


def _against(own: Place, published: Iterable[Place], error_nm: float = 0.0) -> Iterator[str]:
    """What differs between the file's place, known to so many miles, and the nearest published one of that name."""
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
        if apart_nm > max(_APART_NM, error_nm) and own.position is not None and other.position is not None:
            ours, theirs = position_text(own.position), position_text(other.position)
            yield f"{own.ident} is at {ours} in the file and {apart_nm:.1f} NM away, at {theirs}, as published"
        if isinstance(own, Station) and isinstance(other, Station):
            yield from _station_differences(own, other)
        if not isinstance(own, Fix) and not isinstance(other, Fix):
            ours_ft, theirs_ft = own.elevation_ft, other.elevation_ft
            if _differ(ours_ft, theirs_ft, _ELEVATION_FT):
                yield f"{own.ident} lies at {whole(ours_ft)} ft in the file and at {whole(theirs_ft)} as published"


def _station_differences(own: Station, other: Station) -> Iterator[str]:
    """Frequency and declination of a station, where they differ, and a DME or a range that it has in the file alone."""
    from navlog.nav.figures import east_west, frequency

    if _differ(own.frequency_mhz, other.frequency_mhz, 0.001):
        ours, theirs = frequency(own.frequency_mhz), frequency(other.frequency_mhz)
        yield f"{own.ident} is on {ours} in the file and {theirs} as published"
    if _differ(own.declination_deg, other.declination_deg, 0.05):
        ours, theirs = east_west(own.declination_deg), east_west(other.declination_deg)
        yield f"{own.ident} has a declination of {ours} in the file and {theirs} as published"
    if own.dme and not other.dme and other.published_kind is not None:
        yield f"{own.ident} has a DME in the file and none as published, {other.published_kind}"
    # `L` is the older name of what is `VL` now, and reaches no farther.
    if own.service is not None and other.service not in (None, own.service, f"V{own.service}"):
        yield f"{own.ident} is of class {own.service} in the file and {other.service} as published"


def _airway_differences(own: Airway, published: Iterable[Airway]) -> Iterator[str]:
    """Altitudes and changeover points of the file's airway, where they are not the published one's between two points.

    The published airway may have further points between them: of its minimums the highest counts there, of its
    maximums the lowest.
    """
    told = tuple(published)
    for segment in own.segments:
        for other in told:
            if segment.start in other.points and segment.end in other.points:
                yield from _radials_apart(own, segment, _pieces(segment.start, segment.end, other))
                there = tuple(_limits_apart(own, segment, other))
                back = tuple(_limits_apart(own.reversed(), segment.reversed(), other))
                yield from (f"{own.ident} {segment.start} to {segment.end} has {text}" for text in there)
                yield from (
                    f"{own.ident} {segment.end} to {segment.start} has {text}" for text in back if text not in there
                )
                yield from _changeover_apart(own, segment, _pieces(segment.start, segment.end, other))
                break


def _pieces(start: str, end: str, airway: Airway) -> tuple[Segment, ...]:
    """The segments of an airway from one of its points to another, in that direction."""
    along = airway if airway.points.index(start) < airway.points.index(end) else airway.reversed()
    return along.segments[along.points.index(start) : along.points.index(end)]


def with_published_minimums(names: Names, way: Route) -> Route:
    """The way with the published MEA and MOCA of each stretch for which the file's own airway states less."""
    if not names.request.definitions.airways:
        return way
    return changed(way, stretches=tuple(_with_published_minimums(names, one) for one in way.stretches))


def _with_published_minimums(names: Names, stretch: Stretch) -> Stretch:
    own, limits, start, end = stretch.airway, stretch.limits, stretch.start.ident, stretch.end.ident
    if own is None or own.ident not in names.request.definitions.airways or start is None or end is None:
        return stretch
    for other in names.catalogue.airways(own.ident, names.request.day):
        if start in other.points and end in other.points:
            pieces = _pieces(start, end, other)
            mea_ft = max((one.mea.forward_ft for one in pieces if one.mea.forward_ft is not None), default=None)
            moca_ft = max((one.moca.forward_ft for one in pieces if one.moca.forward_ft is not None), default=None)
            if mea_ft is not None and limits.mea_ft is not None and mea_ft <= limits.mea_ft:
                mea_ft = None
            # A MOCA that the file leaves out allows nothing, so that no other needs to be kept.
            if moca_ft is not None and (limits.moca_ft is None or moca_ft <= limits.moca_ft):
                moca_ft = None
            limits = changed(limits, published_mea_ft=mea_ft, published_moca_ft=moca_ft)
            return changed(stretch, limits=limits)
    return stretch


def _limits_apart(own: Airway, segment: Segment, other: Airway) -> Iterator[str]:
    """Each limit in the direction of a segment that is not the published one, with both figures."""
    pieces = _pieces(segment.start, segment.end, other)
    compared = (
        ("MEA", segment.mea.forward_ft, max, [one.mea.forward_ft for one in pieces]),
        ("MOCA", segment.moca.forward_ft, max, [one.moca.forward_ft for one in pieces]),
        ("MAA", segment.maa.forward_ft, min, [one.maa.forward_ft for one in pieces]),
        ("MCA", _crossing_ft(own, segment), max, [_crossing_ft(other, pieces[0])]),
    )
    for name, ours_ft, binding, values in compared:
        known = [value for value in values if value is not None]
        # A MOCA or MAA that the file leaves out is not missed: it allows more than the MEA alone, or binds seldom.
        if known and binding(known) != ours_ft and not (ours_ft is None and name in ("MOCA", "MAA")):
            ours = f"no {name}" if ours_ft is None else f"{name} {whole(ours_ft)}"
            yield f"{ours} in the file and {whole(binding(known))} as published"


def _radials_apart(own: Airway, segment: Segment, pieces: tuple[Segment, ...]) -> Iterator[str]:
    """The radials of the stations at a segment's ends that are more than a degree from the published ones."""
    for end, ours_deg, theirs_deg in (
        (segment.start, segment.start_radial_deg, pieces[0].start_radial_deg),
        (segment.end, segment.end_radial_deg, pieces[-1].end_radial_deg),
    ):
        if ours_deg is None or theirs_deg is None or abs(difference_deg(ours_deg, theirs_deg)) <= _APART_DEG:
            continue
        between = f"{own.ident} {segment.start} to {segment.end}"
        yield f"{between} is {end} R-{course(ours_deg)} in the file and R-{course(theirs_deg)} as published"


def _crossing_ft(airway: Airway, segment: Segment) -> float | None:
    """The minimum at which a segment's start is crossed towards its end, wherever it is written; None without one."""
    written = (one for piece in airway.segments for one in piece.crossings if not one.turning)
    at = (one.altitude_ft for one in written if one.at == segment.start and one.toward in (segment.end, None))
    return max(at, default=None)


def _changeover_apart(own: Airway, segment: Segment, pieces: tuple[Segment, ...]) -> Iterator[str]:
    """The changeover point between two stations, where it is not the published one, or is left to be computed."""
    ends = {segment.start, segment.end}
    published = [one for piece in pieces for one in piece.changeovers if {one.station, one.ahead} == ends]
    stated = segment.changeovers[0] if segment.changeovers else None
    if published and not any(_is_same_place(stated, one, segment.distance_nm) for one in published):
        theirs = f"{distance(published[0].distance_nm)} NM from {published[0].station}"
        ours = "not stated" if stated is None else f"{distance(stated.distance_nm)} NM from {stated.station}"
        between = f"{own.ident} {segment.start} to {segment.end}"
        yield f"{between}: the changeover point is {ours} in the file and {theirs} as published"


def _is_same_place(stated: ChangeoverAt | None, one: ChangeoverAt, length_nm: float | None) -> bool:
    """Whether a stated changeover point is the published one, from whichever end each is measured."""
    if stated is None:
        return False
    from_there_nm = one.distance_nm
    if stated.station != one.station:
        # Without a length the two ends cannot be compared, and nothing contradicts.
        from_there_nm = stated.distance_nm if length_nm is None else length_nm - one.distance_nm
    return abs(stated.distance_nm - from_there_nm) <= _CHANGEOVER_NM


def _differ(one: float | None, other: float | None, allowed: float) -> bool:
    """Whether two known numbers differ by more than is allowed."""
    return one is not None and other is not None and abs(one - other) > allowed


def sources_used(names: Names, paths: tuple[tuple[Hop, ...], ...], ways: tuple[Route, ...]) -> tuple[Provenance, ...]:
    """The catalogue's sources that supply a point, a station or an airway of the flight or its alternates.

    A station counts that guides, marks a fix, defines one of the file's, has a wind or serves a receiver check. Most
    trusted first.
    """
    sources = names.catalogue.sources(names.request.day)
    used = {place.provenance for path in paths for place in _places_on(path)}
    # Where the points alone are of every source, nothing else adds one.
    if used.issuperset(sources):
        return sources
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
    return tuple(_in_use(sources, used))


def _in_use(sources: Iterable[Provenance], used: set[Provenance]) -> Iterator[Provenance]:
    """The sources of which something is used, each with the date of the oldest file that tells any of it."""
    for source in sources:
        own = [one for one in used if changed(one, oldest=source.oldest) == source]
        if own:
            yield changed(source, oldest=min((one.oldest for one in own if one.oldest is not None), default=None))


def _places_on(path: tuple[Hop, ...]) -> list[Place]:
    """The stations, airports and fixes that a path passes."""
    stops = [hop.start for hop in path[:1]] + [hop.end for hop in path]
    return [stop.place for stop in stops if stop.place is not None]


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
