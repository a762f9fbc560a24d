"""The route line to hops: points decided by their context, airways expanded, and the limits along each."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping

from msgspec import Struct

from navlog.nav.chart import Airport, Airway, CrossingAltitude, Fix, Place, Segment, Service, Station
from navlog.nav.record import changed
from navlog.request.records import DirectDefinition, RouteWord
from navlog.resolve.airway_words import (
    DIRECT,
    chosen_airways,
    common_points,
    in_force,
    is_unknown_airway,
    joined,
    joined_by_vor,
    points_of,
    shared_points,
)
from navlog.resolve.names import ONLY_WHEN_QUALIFIED, Landmark, Names, described, qualified, unplaced, usual
from navlog.resolve.route import Limits, Point

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_BROKEN = (Service.DISCONTINUED, Service.BORDER)

_NEIGHBOURHOOD = 20
"""So many words before and behind an unknown point are asked where it may be."""


class Stop(Struct, frozen=True):
    """A point of the path. `place` is None for a bare position and for an airway point without a record."""

    ident: str | None
    place: Place | None
    word: RouteWord

    @property
    def named(self) -> bool:
        """Whether the route line itself names this point, not only an airway."""
        return self.ident == self.word.ident


class Hop(Struct, frozen=True):
    """The way between two neighbouring points.

    On an airway, `airway` runs in the direction of flight and `index` is the place of `segment` in it.
    `joins` names airways that would join the two points of a leg that has none.
    """

    start: Stop
    end: Stop
    via: str
    segment: Segment | None = None
    airway: Airway | None = None
    index: int = 0
    joins: tuple[str, ...] = ()


def hops(names: Names, words: tuple[RouteWord, ...]) -> tuple[Hop, ...]:
    """The hops that the words of a route line mean; problems are noted in `names`."""
    links = {index for index in range(1, len(words) - 1) if _is_link(names, words[index])}
    loose = {index for index in (0, len(words) - 1) if _is_loose(names, words[index])}
    _check_order(names, words, links, loose)
    airways = chosen_airways(names, words, links, loose)
    stops: dict[int, Stop] = {}
    before: Stop | None = None
    for index, word in enumerate(words):
        if index not in links and index not in loose:
            stops[index] = before = Stop(word.ident, _place_of(names, words, index, airways, before), word)
            _check_airport(names, words, index, before)
    # What does not know its points cannot be expanded; everything found so far is told at once.
    if names.problems:
        return ()
    found: list[Hop] = []
    order = sorted(stops)
    for first, second in itertools.pairwise(order):
        start, end = stops[first], stops[second]
        if _same_point(start, end):
            names.report(
                "zero-length-leg",
                f"`{end.word.name}` follows itself",
                end.word.span,
                "take one of the two out; a stop is written `XHAR land 45min`",
            )
        elif first + 1 in airways:
            found.extend(_along_airway(names, airways[first + 1], start, end, words[first + 1]))
        else:
            segment = _direct_segment(names.request.definitions.directs, start, end)
            # A written `DCT` is meant; only two bare points may have an airway forgotten between them.
            joins = () if second - first > 1 else _airways_joining(names, start, end)
            found.append(Hop(start, end, DIRECT, segment, joins=joins))
    return tuple(found)


def with_shared_points(names: Names, words: tuple[RouteWord, ...]) -> tuple[RouteWord, ...]:
    """A pasted route's words, with the one point that two neighbouring airways share between them."""
    found: list[RouteWord] = []
    for index, word in enumerate(words):
        before = words[index - 1]
        if 1 < index < len(words) - 1 and DIRECT not in (before.text, word.text):
            shared = shared_points(names, words, index) if _is_link(names, before) and _is_link(names, word) else ()
            if len(shared) == 1:
                found.append(RouteWord(shared[0], word.span, shared[0]))
        found.append(word)
    return tuple(found)


def _is_link(names: Names, word: RouteWord) -> bool:
    """Whether a word inside a route line says how to get to the next point."""
    if word.ident is None or word.text != word.ident:
        return False
    if word.ident == DIRECT:
        return True
    given = names.request.definitions
    # What the file defines is a point, whatever airway has that name: an island's `V80` must stay one.
    if word.ident in given.stations or word.ident in given.fixes or word.over or word.landing:
        return False
    return bool(names.airways(word.ident))


def _is_loose(names: Names, word: RouteWord) -> bool:
    """Whether a word at an end of a route line is an airway and no point."""
    return _is_link(names, word) and not names.places(word.text)


def _check_order(names: Names, words: tuple[RouteWord, ...], links: set[int], loose: set[int]) -> None:
    """Note airways at the ends and two links in a row; at the ends the reader refuses `DCT`."""
    for index, word in enumerate(words):
        if index in loose:
            end, flown = ("end", "left") if index else ("start", "joined")
            names.report(
                "no-point",
                f"the airway `{word.text}` stands at the {end} of the route, and a point is missing",
                word.span,
                f"name the point where it is {flown}; {points_of(names.airways(word.text))}",
            )
        if index in links and index + 1 in links:
            names.report(
                "no-transition",
                f"no point stands between `{word.text}` and `{words[index + 1].text}`",
                words[index + 1].span,
                common_points(names, words, index + 1),
            )


def _place_of(
    names: Names, words: tuple[RouteWord, ...], index: int, airways: dict[int, Airway], before: Stop | None
) -> Place | None:
    """What the point at `index` is: beside an airway the airway decides, elsewhere its name and context."""
    word = words[index]
    if word.ident is None:
        return None
    # The airway knows which of several namesakes is its own, which a name alone does not.
    for link in (index - 1, index + 1):
        airway = airways.get(link)
        if airway is not None:
            return place_on_airway(names, airway, word.ident, word)
    at_end = index in (0, len(words) - 1) and word.bearing_deg is None
    if not at_end and is_unknown_airway(names, word):
        names.report(
            "unknown-name",
            f"no airway is called `{word.ident}` {in_force(names)}",
            word.span,
            joined(names, words, index),
        )
        return None
    return names.place(word, at_end=at_end, near=lambda: _neighbour(names, words, index, before))


def _neighbour(names: Names, words: tuple[RouteWord, ...], index: int, before: Stop | None) -> Landmark | None:
    """The point of the route that tells where the one at `index` is likely to be: before it, else after it."""
    if before is not None and before.place is not None and before.place.position is not None:
        return Landmark(before.place.ident, before.place.position)
    earlier, later = words[max(0, index - _NEIGHBOURHOOD) : index], words[index + 1 : index + 1 + _NEIGHBOURHOOD]
    for word in (*reversed(earlier), *later):
        if word.ident is None:
            return Landmark(word.name, word.position) if word.position is not None else None
        places = [place for place in qualified(names.places(word.ident), word) if usual(place)]
        positions = {place.position for place in places if place.position is not None}
        if len(positions) == 1:
            return Landmark(word.ident, positions.pop())
    return None


def place_on_airway(names: Names, airway: Airway, ident: str, word: RouteWord) -> Place | None:
    """The record of an airway's point: the file's own before the published one of the same name and kind.

    The points of a route file's airway are looked up by name.
    """
    if airway.places:
        published = airway.places[airway.points.index(ident)]
        given = names.request.definitions
        if ident in given.stations and isinstance(published, Station):
            return given.stations[ident]
        return unplaced(given.fixes[ident]) if ident in given.fixes and isinstance(published, Fix) else published
    found = [
        place
        for place in names.places(ident)
        if isinstance(place, Fix) or (isinstance(place, Station) and place.kind not in ONLY_WHEN_QUALIFIED)
    ]
    if len(found) == 1:
        return found[0]
    if found:
        own = [place.span for place in found if place.span is not None]
        twice = len(own) == len(found)
        names.report(
            "ambiguous-name",
            f"`{ident}` on {airway.ident} is {len(found)} things: " + "; ".join(described(p) for p in found),
            max(own, key=lambda span: span.line) if twice else word.span,
            "give one of them another name" if twice else "define the one that you mean in the file",
        )
    else:
        names.unknown(ident, word.span, what="station or fix")
    return None


def _check_airport(names: Names, words: tuple[RouteWord, ...], index: int, stop: Stop) -> None:
    """Note an airport inside a route that does not say what it is for."""
    word = stop.word
    inside = 0 < index < len(words) - 1
    if inside and isinstance(stop.place, Airport) and not (word.over or word.landing or word.bearing_deg is not None):
        names.report(
            "bare-airport",
            f"airport `{word.name}` inside the route says neither `over` nor `land`",
            word.span,
            f"write `{word.text} over` or `{word.text} land 45min`",
        )
    if (word.landing or word.over) and stop.place is not None and not isinstance(stop.place, Airport):
        names.report("not-an-airport", f"`{word.name}` is no airport to land at or fly over", word.span)


def _same_point(start: Stop, end: Stop) -> bool:
    """Whether two stops are the same place in the same way."""
    one, other = start.word, end.word
    if start.place is None and end.place is None:
        return one.position is not None and one.position == other.position
    return start.place == end.place and (one.bearing_deg, one.distance_nm) == (
        other.bearing_deg,
        other.distance_nm,
    )


def _along_airway(names: Names, airway: Airway, start: Stop, end: Stop, link: RouteWord) -> Iterator[Hop]:
    """The hops between two points of an airway, in the direction of flight."""
    assert start.ident is not None
    assert end.ident is not None
    # Turned once here, so that everything behind reads limits and radials in the direction of flight.
    if airway.points.index(start.ident) > airway.points.index(end.ident):
        airway = airway.reversed()
    first, last = airway.points.index(start.ident), airway.points.index(end.ident)
    stop = start
    for index in range(first, last):
        segment = airway.segments[index]
        if segment.service in _BROKEN:
            what = "is discontinued" if segment.service is Service.DISCONTINUED else "crosses the border unpublished"
            names.report(
                "airway-broken",
                f"{airway.ident} {what} between `{segment.start}` and `{segment.end}`",
                link.span,
                f"leave {airway.ident} at `{segment.start}` and join it again at `{segment.end}`",
            )
        ident = airway.points[index + 1]
        following = end if index + 1 == last else Stop(ident, place_on_airway(names, airway, ident, link), link)
        yield Hop(stop, following, airway.ident, segment, airway, index)
        stop = following


def _direct_segment(directs: Mapping[frozenset[str], DirectDefinition], start: Stop, end: Stop) -> Segment | None:
    """What the file says of a direct leg between two points, turned to the direction of flight."""
    if start.ident is None or end.ident is None or (start.word.bearing_deg, end.word.bearing_deg) != (None, None):
        return None
    direct = directs.get(frozenset((start.ident, end.ident)))
    if direct is None:
        return None
    return direct.segment if direct.segment.start == start.ident else direct.segment.reversed()


def _airways_joining(names: Names, start: Stop, end: Stop) -> tuple[str, ...]:
    """The airways that hold both points of a leg, those for GNSS alone left out."""
    if start.ident is None or end.ident is None or Airport in (type(start.place), type(end.place)):
        return ()
    if any(stop.named and stop.word.bearing_deg is not None for stop in (start, end)):
        return ()
    own = [
        ident
        for ident, definition in names.request.definitions.airways.items()
        if start.ident in definition.airway.points and end.ident in definition.airway.points
    ]
    return (*own, *joined_by_vor(names, start.ident, end.ident))


def limits(hop: Hop, end: Point) -> Limits:
    """The altitude limits of a hop in the direction of flight, but for those of turning onto it.

    A minimum crossing altitude (MCA) stands on the hop that leaves its point.
    """
    segment, fix = hop.segment, end.fix
    mra_ft = fix.mra_ft if fix is not None else None
    crossings = tuple(dict.fromkeys(_crossings_at(hop)))
    if segment is None:
        return Limits(crossings_start=crossings, mra_end_ft=mra_ft)
    return Limits(
        segment.mea.forward_ft,
        segment.moca.forward_ft,
        segment.maa.forward_ft,
        segment.gnss_mea.forward_ft,
        segment.minimum.forward_ft,
        segment.minimum_source,
        crossings,
        mra_ft,
    )


def turning_limits(without: Limits, hop: Hop, end: Point, before: Hop) -> Limits:
    """The limits of a hop with the minimum turning altitudes (MTA) for a flight that turns onto it off another."""
    if before.via == hop.via or before.segment is None:
        return without
    turning = tuple(_turning(hop, end, before.segment))
    if not turning:
        return without
    return changed(without, crossings_start=tuple(dict.fromkeys((*without.crossings_start, *turning))))


def _crossings_at(hop: Hop) -> Iterator[CrossingAltitude]:
    """The MCAs of a hop's start toward its end, wherever on the airway they are written."""
    if hop.segment is None:
        return
    start, end = hop.segment.start, hop.segment.end
    for one in hop.airway.segments if hop.airway is not None else (hop.segment,):
        for crossing in one.crossings:
            # Without `toward` an MCA holds for every way that leaves the point.
            if crossing.at == start and crossing.toward in (end, None) and not crossing.turning:
                yield crossing


def _turning(hop: Hop, end: Point, before: Segment) -> Iterator[CrossingAltitude]:
    """The MTAs for turning off the segment flown before onto this hop, which another way leads along."""
    onto = hop.segment.end if hop.segment is not None else end.ident
    for one in before.crossings:
        arrives = one.at == before.end and one.coming_from in (before.start, None)
        if one.turning and arrives and one.toward in (onto, None):
            yield one
