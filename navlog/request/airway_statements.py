"""The statements `airway` and `direct`: chains of points with radials, distances and altitudes."""

from __future__ import annotations

from msgspec import Struct

from navlog.nav.chart import (
    NO_ALTITUDE,
    Airway,
    Bearing,
    BothWays,
    ChangeoverAt,
    CrossingAltitude,
    Segment,
    Service,
)
from navlog.nav.problems import problem_error
from navlog.nav.record import changed
from navlog.nav.units import both_sides, read_altitude_ft, read_angle_deg
from navlog.request.chart_statements import read_name, read_new_name, read_positive_distance_nm, read_station_name
from navlog.request.cursor import Cursor
from navlog.request.records import AirwayDefinition, DirectDefinition, Name
from navlog.request.route_line import is_identifier
from navlog.request.tree import Word

AIRWAY_OPTIONS = ("mea", "moca", "maa", "mca", "gap", "cop", "turn", "on")
DIRECT_OPTIONS = (*AIRWAY_OPTIONS, "min", "course")


def read_airway(cursor: Cursor) -> AirwayDefinition:
    """`airway` ID and its chain of segments."""
    ident = read_new_name(cursor)
    chain = _read_chain(cursor, AIRWAY_OPTIONS)
    points = tuple(name.ident for name in chain.names)
    airway = Airway(ident.ident, points, chain.segments, span=ident.span)
    return AirwayDefinition(airway, chain.names, chain.changeovers, chain.guides)


def read_direct(cursor: Cursor) -> tuple[DirectDefinition, ...]:
    """`direct` and its chain of segments, each of which stands for itself."""
    chain = _read_chain(cursor, DIRECT_OPTIONS)
    pairs = zip(chain.segments, chain.names, chain.names[1:], chain.changeovers, chain.guides, strict=False)
    return tuple(DirectDefinition(*pair) for pair in pairs)


class _Chain(Struct, frozen=True):
    """The points, the segments between them, and the stations that each segment's `cop` and `on` name."""

    names: tuple[Name, ...]
    segments: tuple[Segment, ...]
    changeovers: tuple[Name | None, ...]
    guides: tuple[Name | None, ...]


class _StatedCrossing(Struct, frozen=True):
    """An `mca` as written: the altitude, the point crossed and the point it leads to."""

    altitude_ft: float
    at: Name
    toward: Name


def _read_chain(cursor: Cursor, options: tuple[str, ...]) -> _Chain:
    """A [RADIAL] `-` [RADIAL] B DISTANCE options, then again from B to the next point."""
    names = [read_name(cursor, "a point")]
    segments: list[Segment] = []
    changeovers: list[Name | None] = []
    guides: list[Name | None] = []
    crossings: list[_StatedCrossing] = []
    while not segments or not cursor.at_end:
        segment, changeover, guide = _read_ends(cursor, names), None, None
        given: set[str] = set()
        while not cursor.at_end and not _chain_goes_on(cursor):
            option = cursor.take_option(options, given, repeatable=("mca",))
            if option.text == "cop":
                distance_nm = cursor.read("a distance", read_positive_distance_nm, 0.0)
                changeover = read_station_name(cursor)
                segment = changed(segment, changeovers=(ChangeoverAt(distance_nm, changeover.ident),))
            elif option.text == "on":
                guide = read_station_name(cursor)
                radial_deg = cursor.read("a radial", read_angle_deg, 360.0)
                segment = changed(segment, along=Bearing(guide.ident, radial_deg))
            elif option.text == "mca":
                crossings += _read_crossing(cursor, segment)
            else:
                segment = _segment_option(cursor, option, segment)
        segments.append(segment)
        changeovers.append(changeover)
        guides.append(guide)
    _add_crossings(cursor, tuple(name.ident for name in names), segments, crossings)
    return _Chain(tuple(names), tuple(segments), tuple(changeovers), tuple(guides))


def _add_crossings(
    cursor: Cursor, points: tuple[str, ...], segments: list[Segment], stated: list[_StatedCrossing]
) -> None:
    """Put each crossing altitude on the segment flown after the crossing, toward that segment's other end.

    The point it leads to may lie farther on; one that no flight along the chain could meet is a problem.
    """
    given: set[tuple[str, str]] = set()
    for one in stated:
        at, toward = one.at, one.toward
        if toward.ident not in points or toward.ident == at.ident:
            wrong = f"leads from `{at.ident}` to itself" if toward.ident == at.ident else "leads off this chain"
            others = ", ".join(point for point in points if point != at.ident)
            hint = f"name a point of it ({others}), or state `mca` where the way from {at.ident} to there is stated"
            cursor.report(Word(toward.ident, toward.span), "bad-crossing", f"the crossing {wrong}", hint)
            continue
        here, onward = points.index(at.ident), points.index(toward.ident) > points.index(at.ident)
        index = here if onward else here - 1
        neighbour = points[here + 1 if onward else here - 1]
        if (at.ident, neighbour) in given:
            message = f"the crossing altitude at `{at.ident}` toward `{neighbour}` is given twice"
            cursor.report(Word(toward.ident, toward.span), "given-twice", message)
        given.add((at.ident, neighbour))
        crossing = CrossingAltitude(one.altitude_ft, at.ident, neighbour)
        segments[index] = changed(segments[index], crossings=(*segments[index].crossings, crossing))


def _chain_goes_on(cursor: Cursor) -> bool:
    """Whether the next word is a dash or the radial before one; every option is a word in small letters."""
    return cursor.peek() == "-" or cursor.peek()[:1].isdigit()


def _read_ends(cursor: Cursor, names: list[Name]) -> Segment:
    """The segment from the last of `names` to the next point, which is added to them."""
    start_radial_deg = _read_radial_if_any(cursor)
    dash = cursor.take("`-` and the next point")
    if dash.text != "-" or dash.quoted:
        cursor.stop(dash, "missing-dash", f"`{dash.text}` stands where `-` should", "write QHB 212 - 034 QEL")
    end_radial_deg = _read_radial_if_any(cursor)
    end = read_name(cursor, "the next point")
    if any(end.ident == name.ident for name in names):
        cursor.report(Word(end.ident, end.span), "point-twice", f"`{end.ident}` comes twice in the chain")
    what = f"the distance to {end.ident}"
    if cursor.peek().isalpha():
        cursor.stop(cursor.take(what), "missing-word", f"{what} is missing", f"write {end.ident} 29.5nm")
    distance_nm = cursor.read(what, read_positive_distance_nm, 0.0)
    names.append(end)
    return Segment(
        names[-2].ident,
        end.ident,
        distance_nm,
        start_radial_deg=start_radial_deg,
        end_radial_deg=end_radial_deg,
        span=end.span,
    )


def _read_radial_if_any(cursor: Cursor) -> float | None:
    text = cursor.peek()
    if not text[:1].isdigit() or is_identifier(text):
        return None
    if "-" in text:
        start, _, end = text.partition("-")
        cursor.stop(
            cursor.take("a radial"),
            "glued-dash",
            "the dash is glued to a number",
            f"write {start} - {end}".rstrip(),
        )
    return cursor.read("a radial", read_angle_deg, 360.0)


def _segment_option(cursor: Cursor, option: Word, segment: Segment) -> Segment:
    match option.text:
        case "mea":
            return changed(segment, mea=_read_both_ways(cursor))
        case "moca":
            return changed(segment, moca=_read_both_ways(cursor))
        case "maa":
            return changed(segment, maa=_read_both_ways(cursor))
        case "gap":
            return _with_gap(cursor, segment)
        case "turn":
            return changed(segment, turn=True)
        case "min":
            minimum = _read_both_ways(cursor)
            source = cursor.take_quoted("a source") if cursor.next_is_quoted else None
            return changed(segment, minimum=minimum, minimum_source=source)
        case _:
            return changed(segment, course=cursor.read("a course", _course, (360.0, "T")))


def _read_both_ways(cursor: Cursor) -> BothWays:
    return cursor.read("an altitude", _both_ways, NO_ALTITUDE)


def _both_ways(text: str) -> BothWays:
    """`4000/5000`: as written and the other way; one altitude holds both ways."""
    forward, backward = both_sides(text)
    return BothWays(read_altitude_ft(forward), read_altitude_ft(backward))


def _read_crossing(cursor: Cursor, segment: Segment) -> tuple[_StatedCrossing, ...]:
    """`3500 QEL to PINEY`: the altitude for crossing one end of the segment toward another point of the chain.

    Nothing after a problem at the point crossed was noted.
    """
    altitude_ft = cursor.read("an altitude", read_altitude_ft, 0.0)
    at = read_name(cursor, "the point crossed")
    is_end = at.ident in (segment.start, segment.end)
    if not is_end:
        cursor.report(
            Word(at.ident, at.span),
            "bad-crossing",
            f"`{at.ident}` is no end of this segment",
            f"`mca` is at {segment.start} or {segment.end}",
        )
    to = cursor.take("`to` and a point")
    if to.text != "to":
        cursor.stop(to, "missing-word", "`mca` lacks where the crossing leads", "write mca 3500 QEL to PINEY")
    toward = read_name(cursor, "the point ahead")
    return (_StatedCrossing(altitude_ft, at, toward),) if is_end else ()


def _with_gap(cursor: Cursor, segment: Segment) -> Segment:
    """`gap` [12nm]; three digits right before a dash are the next segment's radial instead."""
    gap_nm = None
    text = cursor.peek()
    whole = text.partition(".")[0]
    is_radial = cursor.peek(1) == "-" and len(whole) == 3 and whole.isdigit()
    if text[:1].isdigit() and not is_radial:
        gap_nm = cursor.read("a distance", read_positive_distance_nm, 0.0)
    return changed(segment, service=Service.SIGNAL_GAP, gap_nm=gap_nm)


def _course(text: str) -> tuple[float, str]:
    if text[-1:] not in ("M", "T"):
        raise problem_error("bad-value", f"course `{text}` does not say which north", hint="write 214M or 214T")
    return read_angle_deg(text[:-1]), text[-1]
