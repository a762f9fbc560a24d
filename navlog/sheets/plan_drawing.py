"""The flight seen from above: stations with their roses, radials, changeover points, fixes, scale and norths."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, hypot, radians, sin

from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.nav.chart import Position, Station
from navlog.nav.guidance import Flag
from navlog.printed.places import Plane, great_circle, places
from navlog.printed.remarks import stations_in_order
from navlog.resolve.route import MarkKind, PointKind
from navlog.sheets.drawing import (
    DARK,
    LABEL_SIZE,
    XY,
    Area,
    Circle,
    Drawing,
    Label,
    LabelRoom,
    Mark,
    Rectangle,
    Stroke,
    text_width,
)

_MARGIN = 46.0
_ROSE_RADIUS = 30.0
"""At most; stations close together have smaller roses."""
_NORTHS = (80.0, 58.0)
"""Width and height of the two norths."""
_NAMED_FIRST = (PointKind.STATION, PointKind.AIRPORT, PointKind.FIX)
"""Kinds of place whose labels get the best room, and bold type."""
_SCALES_NM = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


def plan_drawing(log: Log, width: float, height: float) -> Drawing | None:
    """The plan in a frame of that size in points; None where fewer than two places have a position."""
    positions = list(dict.fromkeys(place.position for place in places(log) if place.position is not None))
    if len(positions) < 2:
        return None
    chart = _Chart(positions, width, height)
    title = f"Plan of {log.route.request.name}, true north up"
    return Drawing(title, width, height, tuple(_marks(log, chart)))


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


def _marks(log: Log, chart: _Chart) -> Iterator[Mark]:
    """Everything on the plan, lines first and labels over them."""
    room = LabelRoom(chart.width, chart.height)
    stations = [station for station in stations_in_order(log) if station.position is not None]
    radius = _rose_radius(stations, chart)
    for station in stations:
        yield from _rose(station, chart, radius, room)
    for leg in log.legs:
        path = tuple(chart.at(position) for position in great_circle(leg))
        if path:
            room.keep_clear(path)
            yield Stroke(path, 1.8, dash=() if leg.part.guidance is not None else (6.0, 4.0))
    yield from _cross_radials(log, chart, room)
    yield from _norths(log, chart, room)
    yield from _scale(chart, room)
    for place in places(log):
        if place.position is not None and place.kind != PointKind.STATION:
            yield from _symbol(place.kind, chart.at(place.position))
            room.mark(chart.at(place.position), 4.0)
    yield from _radial_labels(log, chart, room, radius)
    named: set[str] = set()
    for place in sorted(places(log), key=lambda place: place.kind not in _NAMED_FIRST):
        if place.position is not None and place.label not in named:
            named.add(place.label if place.kind == PointKind.AIRPORT else "")
            size = 10.0 if place.kind == PointKind.STATION else LABEL_SIZE
            bold = place.kind in _NAMED_FIRST
            yield room.around(chart.at(place.position), place.label, gap=8.0, size=size, bold=bold)


def _rose_radius(stations: list[Station], chart: _Chart) -> float:
    """A radius at which the roses of neighbours stay apart."""
    spots = [chart.at(station.position) for station in stations if station.position is not None]
    gaps = [hypot(a[0] - b[0], a[1] - b[1]) for index, a in enumerate(spots) for b in spots[:index]]
    return min([_ROSE_RADIUS, *(0.42 * gap for gap in gaps)])


def _rose(station: Station, chart: _Chart, radius: float, room: LabelRoom) -> Iterator[Mark]:
    """The station with its rose: a tick every 30 degrees, a long one at its own north."""
    assert station.position is not None
    center = chart.at(station.position)
    room.mark(center, 5.0)
    yield Area(tuple(_out(center, angle, 4.5) for angle in (45, 135, 225, 315)), fill=0.0, weight=0.0)
    if station.declination_deg is None or radius < 8.0:
        return
    yield Circle(center, radius, weight=0.6, grey=DARK)
    north = chart.plane.angle_deg(station.position, station.declination_deg)
    for radial in range(0, 360, 10):
        angle = north + radial
        inner = 0.0 if radial == 0 else radius - (5.0 if radial % 30 == 0 else 2.5)
        outer = radius + (6.0 if radial == 0 else 0.0)
        yield Stroke((_out(center, angle, inner), _out(center, angle, outer)), 1.0 if radial == 0 else 0.5, DARK)


def _out(center: XY, angle_deg: float, distance: float) -> XY:
    """A place at a distance in a direction, clockwise from up."""
    return (center[0] + distance * sin(radians(angle_deg)), center[1] - distance * cos(radians(angle_deg)))


def _radial_labels(log: Log, chart: _Chart, room: LabelRoom, radius: float) -> Iterator[Label]:
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
        yield _along_line(chart.at(guidance.station.position), chart.at(end.position), text, radius, room)


def _along_line(start: XY, end: XY, text: str, radius: float, room: LabelRoom) -> Label:
    """A label beside a line, near its start but outside the rose."""
    length = hypot(end[0] - start[0], end[1] - start[1]) or 1.0
    ahead = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    half = text_width(text, LABEL_SIZE) / 2.0
    candidates = []
    for along in (radius + 14.0, radius + 24.0, radius + 36.0, radius + 50.0, radius - 6.0):
        for side in (1.0, -1.0):
            off = side * (4.0 + half * abs(ahead[1]) + 5.0 * abs(ahead[0]))
            x = start[0] + along * ahead[0] - off * ahead[1]
            y = start[1] + along * ahead[1] + off * ahead[0] + 0.3 * LABEL_SIZE
            candidates.append(Label((x, y), text, anchor="middle"))
    return room.best(candidates)


def _cross_radials(log: Log, chart: _Chart, room: LabelRoom) -> Iterator[Mark]:
    """The radials of other stations that mark fixes, thin and dashed, with their numbers."""
    for leg in log.legs:
        fix = leg.end.position
        passed = leg.ends_stretch and not leg.stays
        for mark in leg.told_by if passed else ():
            if mark.kind is MarkKind.DME or mark.station.position is None or fix is None:
                continue
            path = (chart.at(mark.station.position), chart.at(fix))
            room.keep_clear(path)
            yield Stroke(path, 0.7, DARK, (2.0, 3.0))
            yield _along_line(path[1], path[0], f"R-{figures.course(mark.by.radial_deg)}", 0.0, room)


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


def _norths(log: Log, chart: _Chart, room: LabelRoom) -> Iterator[Mark]:
    """True and magnetic north, as far apart as the variation, in the emptiest corner."""
    spots = [chart.at(place.position) for place in places(log) if place.position is not None]
    corners = ((0.0, 0.0), (chart.width - _NORTHS[0], 0.0), (0.0, chart.height - _NORTHS[1]))
    left, top = max(corners, key=lambda corner: min(_distance_to(spot, corner) for spot in spots))
    room.take(Rectangle(left, top, left + _NORTHS[0], top + _NORTHS[1]))
    foot = (left + 22.0, top + 52.0)
    yield _arrow(foot, 0.0, 42.0)
    yield Label((foot[0] + 4.0, top + 14.0), "true")
    variation_deg = next((leg.variation_deg for leg in log.legs if leg.variation_source == "model"), None)
    if variation_deg is not None:
        yield _arrow(foot, variation_deg, 30.0)
        yield Label((foot[0] + 8.0, top + 46.0), f"mag {figures.east_west(float(figures.half_up(variation_deg)))}")


def _distance_to(spot: XY, corner: XY) -> float:
    """How far a place is from the middle of the norths drawn at a corner."""
    return hypot(spot[0] - corner[0] - _NORTHS[0] / 2.0, spot[1] - corner[1] - _NORTHS[1] / 2.0)


def _arrow(foot: XY, angle_deg: float, length: float) -> Stroke:
    """An arrow from its foot."""
    tip = _out(foot, angle_deg, length)
    return Stroke((foot, tip, _out(tip, angle_deg + 160.0, 7.0)), 1.2)


def _scale(chart: _Chart, room: LabelRoom) -> Iterator[Mark]:
    """A scale bar of a round number of miles, a third of the width at most."""
    fitting = [nm for nm in _SCALES_NM if nm * chart.points_per_nm <= chart.width / 3.0] or [_SCALES_NM[0]]
    length, y = fitting[-1] * chart.points_per_nm, chart.height - 8.0
    right = chart.width - 8.0
    room.take(Rectangle(right - length - 4.0, y - 18.0, chart.width, chart.height))
    yield Stroke(((right - length, y - 4.0), (right - length, y), (right, y), (right, y - 4.0)), 1.2)
    yield Label((right - length / 2.0, y - 5.0), f"{fitting[-1]} NM", anchor="middle")
