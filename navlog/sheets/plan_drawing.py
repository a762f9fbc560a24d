"""The flight seen from above: stations with their roses, radials, changeover points, fixes, scale and norths."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import groupby, pairwise
from math import cos, hypot, radians, sin
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.flightlog.facts import lowest
from navlog.flightlog.records import Leg, Log
from navlog.nav import figures
from navlog.nav.accuracy import Accuracy
from navlog.nav.chart import Position, Station
from navlog.nav.guidance import Flag, distance_from
from navlog.nav.surroundings import Surroundings
from navlog.printed.places import Plane, great_circle, places
from navlog.printed.remarks import stations_in_order
from navlog.resolve.route import MarkKind, PointKind, Stretch
from navlog.sheets.drawing import DARK, LABEL_SIZE, PALE, XY, Area, Circle, Drawing, Label, Mark, Rectangle, Stroke
from navlog.sheets.label_room import SHORT, LabelRoom

if TYPE_CHECKING:
    from navlog.resolve.ground import Ground

_MARGIN = 46.0
_ROSE_RADIUS = 30.0
"""At most; stations close together have smaller roses."""
_NORTHS = (80.0, 44.0)
"""Width and height of the two norths, which stand in the margin."""
_NAMED_FIRST = (PointKind.STATION, PointKind.AIRPORT, PointKind.FIX)
"""Kinds of place whose labels get the best room, and bold type."""
_SHOWN = 2.5
"""Edges of a band nearer to the course than this on paper, points, are not told from it."""
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Where along a line its label is tried, the best place first."""
_SCALES_NM = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


def plan_drawing(log: Log, width: float, height: float, around: Surroundings | None = None) -> Drawing | None:
    """The plan in a frame of that size in points; None with fewer than two positions, or none of the route.

    `around` is drawn faint behind it: stations whose names have room, and airways likewise.
    """
    logs = (log, *log.alternates)
    positions = list(dict.fromkeys(one.position for each in logs for one in places(each) if one.position is not None))
    # Two alternates' airports alone are no way that anybody flies.
    if len(positions) < 2 or all(one.position is None for one in places(log)):
        return None
    positions += [position for position, _ in _high_places(log)]
    chart = _Chart(positions, width, height)
    room = LabelRoom(width, height)
    _draw(log, chart, room, around)
    told = [f"Plan of {log.route.request.name}, true north up"]
    told += ["long dashes: alternate"] if log.alternates else []
    known = all(ground.minimum_ft is not None for ground in _grounds(log))
    word = "highest" if known else "highest known"
    told += [f"peaks: {word} within 4 NM or the guidance's error"] if _high_places(log) else []
    told += [f"dotted edges: VOR error {log.route.request.accuracy.along_deg:g} degrees"] if room.faint else []
    return room.drawn("; ".join(told))


class _Chart:
    """The plane of the flight on paper, as large as its frame allows."""

    def __init__(self, positions: list[Position], width: float, height: float) -> None:
        self.plane = Plane(positions)
        flat = [self.plane.at(position) for position in positions]
        left, right = min(x for x, _ in flat), max(x for x, _ in flat)
        low, high = min(y for _, y in flat), max(y for _, y in flat)
        across, up = max(right - left, 1e-3), max(high - low, 1e-3)
        self.points_per_nm = min((width - 2 * _MARGIN) / across, (height - 2 * _MARGIN) / up, 60.0)
        self.shift = ((left + right) / 2.0, (low + high) / 2.0)
        self.width, self.height = width, height

    def at(self, position: Position) -> XY:
        """A position on paper."""
        east, north = self.plane.at(position)
        return (
            self.width / 2.0 + (east - self.shift[0]) * self.points_per_nm,
            self.height / 2.0 - (north - self.shift[1]) * self.points_per_nm,
        )


def _draw(log: Log, chart: _Chart, room: LabelRoom, around: Surroundings | None) -> None:
    """Everything on the plan: lines and symbols, then labels, what is needed most first."""
    logs = (log, *log.alternates)
    named = {station.ident: station for each in logs for station in stations_in_order(each)}
    stations = [station for station in named.values() if station.position is not None]
    radius = _rose_radius(stations, chart)
    for station in stations:
        _rose(station, chart, radius, room)
    for each in logs:
        _lines(each, chart, room, alternate=each is not log)
    _norths(log, chart, room)
    _scale(chart, room)
    _places(logs, chart, room)
    for each in logs:
        _way_labels(each, chart, room)
    _radial_labels(log, chart, room, radius)
    for each in logs:
        _length_labels(each, chart, room)
    for position, text in _high_places(log):
        room.around(chart.at(position), text, gap=7.0)
    for start, end, text in _cross_radials(log, chart):
        length = hypot(end[0] - start[0], end[1] - start[1])
        room.beside((end, start), text, (14.0, 24.0, 36.0, 0.5 * length), told=f"{text} crossing")
    room.lead()
    if around is not None:
        _neighbours(around, set(named), chart, room)


def _lines(log: Log, chart: _Chart, room: LabelRoom, *, alternate: bool) -> None:
    """The way with the edges of its bands, dashed where it leads to an alternate, and the radials that cross it."""
    for leg in log.legs:
        path = tuple(chart.at(position) for position in great_circle(leg))
        if path:
            _band(leg, log.route.request.accuracy, chart, room)
            if alternate:
                room.line(path, 1.2, dash=(10.0, 4.0))
            else:
                room.line(path, 1.8, dash=() if leg.part.guidance is not None else (3.0, 3.0))
    for start, end, _ in () if alternate else _cross_radials(log, chart):
        room.line((start, end), 0.7, DARK, (2.0, 3.0))


def _places(logs: Sequence[Log], chart: _Chart, room: LabelRoom) -> None:
    """The symbols of all places, then their names."""
    named = {one.label: one for each in logs for one in places(each) if one.position is not None}
    for place in named.values():
        if place.position is not None and place.kind != PointKind.STATION:
            room.symbol(chart.at(place.position), 4.5, _symbol(place.kind, chart.at(place.position)))
    for position, _ in _high_places(logs[0]):
        x, y = chart.at(position)
        room.symbol((x, y), 4.0, (Stroke(((x - 4.0, y + 3.0), (x, y - 4.0), (x + 4.0, y + 3.0)), 1.0),))
    for place in sorted(named.values(), key=lambda place: place.kind not in _NAMED_FIRST):
        if place.position is not None:
            bold = place.kind in _NAMED_FIRST
            size = 10.0 if place.kind == PointKind.STATION else LABEL_SIZE
            label = SHORT.get(place.kind, place.label)
            room.around(chart.at(place.position), label, gap=8.0, size=size, bold=bold)


class _Drawn(Struct, frozen=True):
    """A stretch as a straight line on paper."""

    stretch: Stretch
    line: tuple[XY, XY]

    @property
    def length(self) -> float:
        """How long the line is, points."""
        return hypot(self.line[1][0] - self.line[0][0], self.line[1][1] - self.line[0][1])

    def write(self, room: LabelRoom, text: str) -> bool:
        """A label beside the line; False without room."""
        return room.beside(self.line, text, [share * self.length for share in _SHARES], told="")

    def wait(self, room: LabelRoom, text: str, told: str) -> None:
        """A label to be led to from the line."""
        (x1, y1), (x2, y2) = self.line
        ends = [(x1 + share * (x2 - x1), y1 + share * (y2 - y1)) for share in _SHARES]
        room.wait(Label(ends[0], text), ends, told)


def _runs(log: Log, chart: _Chart) -> Iterator[tuple[_Drawn, ...]]:
    """The stretches of the flight, those together that follow on one airway with one minimum."""
    stretches = [leg.stretch for leg in log.first_legs() if not leg.stays]
    for _, run in groupby(
        stretches, key=lambda one: (one.number if one.airway is None else -1, one.via, _minimum(one))
    ):
        drawn = tuple(
            _Drawn(one, (chart.at(one.start.position), chart.at(one.end.position)))
            for one in run
            if one.start.position is not None and one.end.position is not None
        )
        if drawn:
            yield drawn


def _way_labels(log: Log, chart: _Chart, room: LabelRoom) -> None:
    """Airway, length and minimum of each stretch; of several with one airway and minimum these once for all."""
    for run in _runs(log, chart):
        first, last = run[0].stretch, run[-1].stretch
        length = f"{figures.distance(first.length_nm)} " if len(run) == 1 else ""
        text = f"{first.via} {length}{_minimum(first)}"
        longest = sorted(run, key=lambda one: -one.length)
        if not any(one.write(room, text) for one in longest):
            longest[0].wait(room, text, f"{first.start.name}-{last.end.name} {text}")


def _length_labels(log: Log, chart: _Chart, room: LabelRoom) -> None:
    """The length of each stretch that shares its airway and minimum with the one before or after."""
    for run in _runs(log, chart):
        for one in run if len(run) > 1 else ():
            text = figures.distance(one.stretch.length_nm)
            if not one.write(room, text):
                one.wait(room, text, f"{one.stretch.start.name}-{one.stretch.end.name} {text}")


def _minimum(stretch: Stretch) -> str:
    """The minimum of a stretch with its kind."""
    kind, minimum_ft = lowest(stretch.limits)
    return f"{kind} {figures.whole(minimum_ft)}"


def _band(leg: Leg, accuracy: Accuracy, chart: _Chart, room: LabelRoom) -> None:
    """The edges of what the error of a leg's guidance covers, where paper shows them apart from the course."""
    guidance, start, end = leg.part.guidance, leg.start.position, leg.end.position
    if guidance is None or guidance.radial.flown is None or start is None or end is None:
        return
    away = [distance_from(guidance.station, one) for one in (start, end)]
    wide = [None if nm is None else accuracy.aside_nm(nm) * chart.points_per_nm for nm in away]
    if None in wide or max(one for one in wide if one is not None) < _SHOWN:
        return
    first, last = chart.at(start), chart.at(end)
    length = hypot(last[0] - first[0], last[1] - first[1])
    if length < 1.0:
        return
    aside = -(last[1] - first[1]) / length, (last[0] - first[0]) / length
    for side in (-1.0, 1.0):
        edge = tuple(
            (x + side * one * aside[0], y + side * one * aside[1])
            for (x, y), one in zip((first, last), wide, strict=True)
            if one is not None
        )
        room.under(edge, 0.5, DARK, (1.0, 2.5))


def _grounds(log: Log) -> list[Ground]:
    """What lies below each direct stretch of the flight and of the ways to its alternates, where it is looked at."""
    legs = [leg for each in (log, *log.alternates) for leg in each.first_legs()]
    return [leg.stretch.ground for leg in legs if leg.stretch.ground is not None]


def _high_places(log: Log) -> tuple[tuple[Position, str], ...]:
    """The highest ground or obstacle of each direct stretch, with its height."""
    tops = [ground.top for ground in _grounds(log) if ground.top is not None]
    return tuple(dict.fromkeys((top.position, figures.whole(top.height_ft)) for top in tops))


def _neighbours(around: Surroundings, flown: Collection[str], chart: _Chart, room: LabelRoom) -> None:
    """Stations and airways around the flight, faint: each only where its name has room."""
    for ident, position in around.stations:
        x, y = chart.at(position)
        if ident in flown or not (8.0 < x < chart.width - 8.0 and 8.0 < y < chart.height - 8.0):
            continue
        if room.around((x, y), ident, gap=6.0, told="", grey=DARK):
            room.under(((x - 3, y - 3), (x + 3, y - 3), (x + 3, y + 3), (x - 3, y + 3), (x - 3, y - 3)), 0.8, PALE)
    frame = Rectangle(2.0, 2.0, chart.width - 2.0, chart.height - 2.0)
    for airway in around.airways:
        line = [chart.at(position) for position in airway.points]
        pieces = [piece for ends in pairwise(line) if (piece := frame.clipped(*ends)) is not None]
        for piece in sorted(pieces, key=lambda ends: -hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]))[:3]:
            length = hypot(piece[1][0] - piece[0][0], piece[1][1] - piece[0][1])
            if length > 30.0 and room.beside(piece, airway.ident, (0.5 * length, 0.3 * length, 0.7 * length), "", DARK):
                for start, end in pieces:
                    room.under((start, end), 0.5, PALE)
                break


def _rose_radius(stations: list[Station], chart: _Chart) -> float:
    """A radius at which the roses of neighbours stay apart."""
    spots = [chart.at(station.position) for station in stations if station.position is not None]
    gaps = [hypot(a[0] - b[0], a[1] - b[1]) for index, a in enumerate(spots) for b in spots[:index]]
    return min([_ROSE_RADIUS, *(0.42 * gap for gap in gaps)])


def _rose(station: Station, chart: _Chart, radius: float, room: LabelRoom) -> None:
    """The station with its rose: a tick every 10 degrees, a long one at its own north."""
    assert station.position is not None
    center = chart.at(station.position)
    corners = tuple(_out(center, angle, 4.5) for angle in (45, 135, 225, 315))
    room.symbol(center, 5.0, (Area(corners, fill=0.0, weight=0.0),))
    if station.declination_deg is None or radius < 8.0:
        return
    room.under(tuple(_out(center, angle, radius) for angle in range(0, 361, 6)), 0.6, DARK)
    north = chart.plane.angle_deg(station.position, station.declination_deg)
    for radial in range(0, 360, 10):
        angle = north + radial
        inner = 0.0 if radial == 0 else radius - (5.0 if radial % 30 == 0 else 2.5)
        outer = radius + (6.0 if radial == 0 else 0.0)
        room.under((_out(center, angle, inner), _out(center, angle, outer)), 1.0 if radial == 0 else 0.5, DARK)


def _out(center: XY, angle_deg: float, distance: float) -> XY:
    """A place at a distance in a direction, clockwise from up."""
    return (center[0] + distance * sin(radians(angle_deg)), center[1] - distance * cos(radians(angle_deg)))


def _radial_labels(log: Log, chart: _Chart, room: LabelRoom, radius: float) -> None:
    """The number of each radial flown, beside the line where it leaves the station's rose."""
    seen: set[tuple[str, str]] = set()
    for leg in log.legs:
        guidance = leg.part.guidance
        if guidance is None or guidance.radial.flown is None or guidance.station.position is None:
            continue
        text = f"R-{figures.course(guidance.radial.flown)}"
        end = leg.end if guidance.flag is Flag.FROM else leg.start
        if (guidance.station.ident, text) in seen or end.position is None:
            continue
        seen.add((guidance.station.ident, text))
        line = chart.at(guidance.station.position), chart.at(end.position)
        alongs = (radius + 14.0, radius + 24.0, radius + 36.0, radius + 50.0, radius - 6.0)
        room.beside(line, text, alongs, f"{guidance.station.ident} {text}")


def _cross_radials(log: Log, chart: _Chart) -> Iterator[tuple[XY, XY, str]]:
    """The radials of other stations that mark fixes, from station to fix, with their numbers."""
    for leg in log.legs:
        fix = leg.end.position
        passed = leg.ends_stretch and not leg.stays
        for mark in leg.told_by if passed else ():
            if mark.kind is not MarkKind.DME and mark.station.position is not None and fix is not None:
                text = f"R-{figures.course(mark.by.radial_deg)}"
                yield chart.at(mark.station.position), chart.at(fix), text


def _symbol(kind: str, at: XY) -> Iterator[Mark]:
    """What marks a place: a square for an airport, a triangle for a fix, a bar for what lies between."""
    x, y = at
    if kind == PointKind.AIRPORT:
        yield Area(((x - 4, y - 4), (x + 4, y - 4), (x + 4, y + 4), (x - 4, y + 4)), fill=1.0, weight=1.2)
    elif kind in (PointKind.FIX, PointKind.POSITION):
        yield Area(((x - 4.5, y + 3.5), (x + 4.5, y + 3.5), (x, y - 4.5)), fill=1.0, weight=1.2)
    elif kind == PointKind.CHANGEOVER:
        yield Circle(at, 3.5, fill=1.0, weight=1.2)
        yield Stroke(((x - 3.5, y), (x + 3.5, y)), 1.2)
    else:
        yield Circle(at, 2.5, fill=0.0, weight=0.0)


def _norths(log: Log, chart: _Chart, room: LabelRoom) -> None:
    """True and magnetic north, as far apart as the variation, in the emptiest corner."""
    spots = [chart.at(place.position) for place in places(log) if place.position is not None]
    corners = ((0.0, 0.0), (chart.width - _NORTHS[0], 0.0), (0.0, chart.height - _NORTHS[1]))
    left, top = max(corners, key=lambda corner: min(_distance_to(spot, corner) for spot in spots))
    room.take(Rectangle(left, top, left + _NORTHS[0], top + _NORTHS[1]))
    foot = (left + 22.0, top + 42.0)
    room.marks.append(_arrow(foot, 0.0, 38.0))
    room.labels.append(Label((foot[0] + 4.0, top + 14.0), "true"))
    variation_deg = next((leg.variation_deg for leg in log.legs if leg.variation_source == "model"), None)
    if variation_deg is not None:
        room.marks.append(_arrow(foot, variation_deg, 26.0))
        text = f"mag {figures.east_west(float(figures.half_up(variation_deg)))}"
        room.labels.append(Label((foot[0] + 8.0, top + 38.0), text))


def _distance_to(spot: XY, corner: XY) -> float:
    """How far a place is from the middle of the norths drawn at a corner."""
    return hypot(spot[0] - corner[0] - _NORTHS[0] / 2.0, spot[1] - corner[1] - _NORTHS[1] / 2.0)


def _arrow(foot: XY, angle_deg: float, length: float) -> Stroke:
    """An arrow from its foot."""
    tip = _out(foot, angle_deg, length)
    return Stroke((foot, tip, _out(tip, angle_deg + 160.0, 7.0)), 1.2)


def _scale(chart: _Chart, room: LabelRoom) -> None:
    """A scale bar of a round number of miles, a third of the width at most."""
    fitting = [nm for nm in _SCALES_NM if nm * chart.points_per_nm <= chart.width / 3.0] or [_SCALES_NM[0]]
    length, y = fitting[-1] * chart.points_per_nm, chart.height - 8.0
    right = chart.width - 8.0
    room.take(Rectangle(right - length - 4.0, y - 18.0, chart.width, chart.height))
    bar = ((right - length, y - 4.0), (right - length, y), (right, y), (right, y - 4.0))
    room.marks.append(Stroke(bar, 1.2))
    room.labels.append(Label((right - length / 2.0, y - 5.0), f"{fitting[-1]} NM", anchor="middle"))
