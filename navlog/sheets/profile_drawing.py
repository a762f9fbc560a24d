"""The flight seen from the side: height over distance, minimums, the ground where it is known, and what is received."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from math import ceil

from msgspec import Struct

from navlog.flightlog.facts import lowest
from navlog.flightlog.records import Leg, LegPoint, Log
from navlog.nav import figures
from navlog.nav.chart import Service
from navlog.nav.clearance import Abeam
from navlog.nav.terrain import Spot
from navlog.printed.place_names import place_name
from navlog.resolve.route import PointKind
from navlog.rules.report import Report
from navlog.sheets.drawing import DARK, PALE, XY, Area, Drawing, Label, Rectangle, Stroke
from navlog.sheets.label_room import SHORT, LabelRoom

_LEFT, _RIGHT = 40.0, 18.0
_ROW = 13.0
"""From one row of labels to the next, points."""
_BAR_HEIGHT = 15.0
_LEAST_HEIGHT = 30.0
"""With less for the heights nothing can be read off a profile."""
_GROUND = 0.86
_OUT_OF_RECEPTION = frozenset({"out-of-range", "below-horizon", "unusable-sector", "station-out", "signal"})
"""Rules whose findings say that a leg's station may not be heard."""
_RULED = (PointKind.CHANGEOVER, PointKind.STATION, PointKind.AIRPORT, PointKind.FIX, PointKind.POSITION)


class _Frame(Struct, frozen=True):
    """Distance and height on paper."""

    total_nm: float
    top_ft: float
    width: float
    height: float

    @property
    def rows(self) -> int:
        """How many rows of names stand over it."""
        return 4 if self.height >= 170.0 else 2 if self.height >= 120.0 else 1

    @property
    def top(self) -> float:
        """Where the greatest height is drawn."""
        return 7.0 + _ROW * self.rows

    @property
    def foot(self) -> float:
        """Where sea level is drawn: below it are a row or two of distances, and the bar of reception."""
        return self.height - _BAR_HEIGHT - 5.0 - _ROW * min(2, self.rows)

    @property
    def right(self) -> float:
        """Where the flight ends."""
        return self.width - _RIGHT

    def x(self, along_nm: float) -> float:
        """A distance from take-off."""
        return _LEFT + (self.right - _LEFT) * along_nm / self.total_nm

    def y(self, altitude_ft: float) -> float:
        """A height above sea level; below it is drawn at it."""
        return self.foot - (self.foot - self.top) * max(0.0, altitude_ft) / self.top_ft


class _Over(Struct, frozen=True):
    """A piece of the flight, from take-off, with what lies below and abeam of it."""

    start_nm: float
    end_nm: float
    below: Abeam


def profile_drawing(report: Report, width: float, height: float) -> Drawing | None:
    """The profile in a frame of that size in points; None for a flight of no length, and without room for it."""
    log = report.log
    if log.totals.distance_nm <= 0.0:
        return None
    ground = tuple(_ground(log))
    limits = [leg.stretch.limits for leg in log.legs]
    heights = [height_ft for leg in log.legs for height_ft in (leg.start_altitude_ft, leg.end_altitude_ft)]
    heights += [one for limit in limits for one in (lowest(limit)[1], limit.moca_ft) if one is not None]
    heights += [one.below.minimum_ft for one in ground if one.below.minimum_ft is not None]
    frame = _Frame(log.totals.distance_nm, ceil(max(heights) * 1.1 / 1000.0) * 1000.0 or 1000.0, width, height)
    if frame.foot - frame.top < _LEAST_HEIGHT:
        return None
    room = LabelRoom(width, height)
    _scales(frame, room)
    _silhouette(ground, frame, room)
    _known_ground(log, frame, room)
    path = _flown_path(log, frame)
    steps = tuple(_minimums(log, frame, room))
    room.line(path, 2.2)
    high = _high_places(log, ground, frame)
    for (x, y), _, _ in high:
        room.symbol((x, y - 1.0), 4.0, (Stroke(((x - 4.0, y), (x, y - 5.0), (x + 4.0, y)), 1.2),))
    _reception(report, frame, room)
    _named_points(log, frame, room)
    _minimum_labels(steps, frame, room)
    for (x, y), text, along_nm in high:
        room.around((x, y - 1.0), text, gap=7.0, told=f"{text} at {figures.distance(along_nm)} NM")
    return room.drawn(f"Profile of {log.route.request.name}: height over distance{_key(ground, log)}")


def _key(ground: tuple[_Over, ...], log: Log) -> str:
    """What lines and areas mean, of those that are there."""
    told = ["bar: grey where a station is received, white where none is, ? in doubt"]
    if any(leg.stretch.limits.moca_ft is not None for leg in log.legs):
        told.append("dashes: MOCA")
    if ground:
        told.append(
            "grey: ground under the course, where known; dots: minimum by terrain, 1000 or 2000 ft over all abeam"
        )
    return f"; {'; '.join(told)}"


def _scales(frame: _Frame, room: LabelRoom) -> None:
    """The scale of heights with thin lines across; the scale of distance stands below."""
    most = min(6.0, (frame.foot - frame.top) / 13.0)
    step_ft = next(step for step in (500, 1000, 2000, 5000, 10000, 50000, 10**9) if frame.top_ft / step <= most)
    for altitude_ft in range(0, int(frame.top_ft) + 1, step_ft):
        y = frame.y(altitude_ft)
        room.under(((_LEFT, y), (frame.right, y)), 0.4, PALE)
        room.write(Label((_LEFT - 4.0, y + 3.0), str(altitude_ft), anchor="end"))
    room.write(Label((_LEFT - 4.0, frame.top - 10.0), "ft", anchor="end"))
    room.take(Rectangle(0.0, 0.0, _LEFT - 3.0, frame.foot + 3.0))


def _ground(log: Log) -> Iterator[_Over]:
    """What lies below the flight, piece by piece of its way, where a terrain folder is named."""
    begun_nm = 0.0
    for leg in log.legs:
        if leg.stays:
            continue
        for one in leg.stretch.abeam:
            first_nm, last_nm = max(one.start_nm, leg.start_nm), min(one.end_nm, leg.end_nm)
            if first_nm < last_nm:
                shift = begun_nm - leg.start_nm
                yield _Over(first_nm + shift, last_nm + shift, one)
        begun_nm += leg.distance_nm


def _silhouette(ground: Iterable[_Over], frame: _Frame, room: LabelRoom) -> None:
    """The highest ground under the course as a grey area; the minimum over all that stands abeam, dotted."""
    pieces = tuple(ground)
    for run in _joined(pieces, lambda one: one.below.on_course.height_ft if one.below.on_course is not None else None):
        edge = tuple(_steps(run, frame))
        foot = frame.y(0.0)
        room.marks.append(Area(((edge[0][0], foot), *edge, (edge[-1][0], foot)), fill=_GROUND, weight=0.6, grey=DARK))
        room.keep_clear(edge)
    for run in _joined(pieces, lambda one: one.below.minimum_ft):
        room.line(tuple(_steps(run, frame)), 0.8, DARK, (1.0, 2.0))


def _joined(
    pieces: Iterable[_Over], height: Callable[[_Over], float | None]
) -> Iterator[list[tuple[float, float, float]]]:
    """Runs of pieces that adjoin and whose height is known: start, end and height of each."""
    run: list[tuple[float, float, float]] = []
    for one in pieces:
        height_ft = height(one)
        if run and (height_ft is None or one.start_nm - run[-1][1] > 0.01):
            yield run
            run = []
        if height_ft is not None:
            run.append((one.start_nm, one.end_nm, height_ft))
    if run:
        yield run


def _steps(run: list[tuple[float, float, float]], frame: _Frame) -> Iterator[XY]:
    """The outline of pieces of a height each."""
    for start_nm, end_nm, height_ft in run:
        yield frame.x(start_nm), frame.y(height_ft)
        yield frame.x(end_nm), frame.y(height_ft)


def _known_ground(log: Log, frame: _Frame, room: LabelRoom) -> None:
    """The ground under points whose elevation is known, as a bar from sea level."""
    foot = frame.y(0.0)
    for along_nm, point in _ends(log):
        elevation_ft = _elevation_ft(point)
        if elevation_ft is not None:
            x, y = frame.x(along_nm), frame.y(elevation_ft)
            room.marks.append(Area(((x - 2.5, foot), (x - 2.5, y), (x + 2.5, y), (x + 2.5, foot)), DARK, weight=0.0))
            room.take(Rectangle(x - 3.0, y, x + 3.0, foot))


def _elevation_ft(point: LegPoint) -> float | None:
    """The elevation of an airport or station."""
    place = point.point.place if point.point is not None else None
    return None if place is None else place.elevation_ft


def _ends(log: Log) -> Iterator[tuple[float, LegPoint]]:
    """The ends of legs with their distances from take-off."""
    along_nm = 0.0
    yield along_nm, log.legs[0].start
    for leg in log.legs:
        along_nm += leg.distance_nm
        if leg.distance_nm > 0.0:
            yield along_nm, leg.end


def _flown_path(log: Log, frame: _Frame) -> tuple[XY, ...]:
    """The planned heights over the distance flown."""
    along_nm = 0.0
    path: list[XY] = []
    for leg in log.legs:
        path.append((frame.x(along_nm), frame.y(leg.start_altitude_ft)))
        along_nm += leg.distance_nm
        path.append((frame.x(along_nm), frame.y(leg.end_altitude_ft)))
    return tuple(dict.fromkeys(path))


class _Step(Struct, frozen=True):
    """A limit of height that stays the same over part of the flight."""

    start_nm: float
    end_nm: float
    height_ft: float
    kind: str


def _minimums(log: Log, frame: _Frame, room: LabelRoom) -> Iterator[_Step]:
    """The minimum of each stretch as a thick step, and its MOCA dashed."""
    for moca in (False, True):
        steps: list[_Step] = []
        along_nm = 0.0
        for leg in log.legs:
            limits, end_nm = leg.stretch.limits, along_nm + leg.distance_nm
            kind, height_ft = ("MOCA", limits.moca_ft) if moca else lowest(limits)
            if height_ft is not None and end_nm > along_nm:
                before = steps[-1] if steps else None
                if before is not None and (before.end_nm, before.height_ft, before.kind) == (along_nm, height_ft, kind):
                    steps[-1] = _Step(before.start_nm, end_nm, height_ft, kind)
                else:
                    steps.append(_Step(along_nm, end_nm, height_ft, kind))
            along_nm = end_nm
        for one in steps:
            left, right, y = frame.x(one.start_nm), frame.x(one.end_nm), frame.y(one.height_ft)
            room.line(((left, y), (right, y)), *((1.0, DARK, (5.0, 3.0)) if moca else (5.0, 0.6)))
        yield from steps


def _minimum_labels(steps: Iterable[_Step], frame: _Frame, room: LabelRoom) -> None:
    """Each minimum with its kind and height, below or above its line."""
    for one in steps:
        left, right, y = frame.x(one.start_nm), frame.x(one.end_nm), frame.y(one.height_ft)
        middle, text = (left + right) / 2.0, f"{one.kind} {figures.whole(one.height_ft)}"
        room.place(
            (
                Label((middle + shift, y + drop), text, anchor="middle")
                for drop in (14.0, -6.0, 24.0, -16.0, 34.0, -26.0, 44.0)
                for shift in (0.0, *(sign * share * (right - left) for share in (0.15, 0.3, 0.45) for sign in (1, -1)))
            ),
            told=f"{text} from {figures.distance(one.start_nm)} to {figures.distance(one.end_nm)} NM",
            ends=((middle, y),),
        )


def _high_places(log: Log, ground: Iterable[_Over], frame: _Frame) -> tuple[tuple[XY, str, float], ...]:
    """The highest ground or obstacle abeam of the flight, and the highest obstacle of its direct legs.

    Each by the place of its symbol, its name and its distance from take-off.
    """
    tops = [
        (one.start_nm + one.below.top.along_nm - one.below.start_nm, one.below.top) for one in ground if one.below.top
    ]
    found = [max(tops, key=lambda one: one[1].top_ft)] if tops else []
    begun_nm, obstacles = 0.0, []
    for leg in log.legs:
        below = leg.stretch.ground
        if leg.start_nm == 0.0 and below is not None and below.obstacle is not None:
            obstacles.append((begun_nm + below.obstacle.along_nm, below.obstacle))
        begun_nm += leg.distance_nm
    highest = max(obstacles, key=lambda one: one[1].top_ft, default=None)
    if highest is not None and highest[1].position not in [spot.position for _, spot in found]:
        found.append(highest)
    return tuple(
        ((frame.x(min(max(along_nm, 0.0), frame.total_nm)), frame.y(spot.height_ft)), _spot_text(spot), along_nm)
        for along_nm, spot in found
    )


def _spot_text(spot: Spot) -> str:
    """A high place as the drawing names it: its height, and what it is where it is an obstacle."""
    return (
        f"{figures.whole(spot.height_ft)} {spot.source.split()[0]}"
        if " " in spot.source
        else figures.whole(spot.height_ft)
    )


def _reception(report: Report, frame: _Frame, room: LabelRoom) -> None:
    """A bar under the profile: full with the station's name where one is received, open where none is."""
    doubtful = {one.leg for one in report.findings if one.rule in _OUT_OF_RECEPTION and one.accepted is None}
    top = frame.height - _BAR_HEIGHT - 1.0
    along_nm = 0.0
    spans: list[tuple[float, float, str, bool]] = []
    for leg in report.log.legs:
        end_nm = along_nm + leg.distance_nm
        heard = leg.part.guidance is not None and leg.stretch.service is Service.NORMAL and leg.number not in doubtful
        ident = leg.part.guidance.station.ident if leg.part.guidance is not None else "none"
        text = ident if heard or leg.part.guidance is None else f"{ident}?"
        if spans and spans[-1][2:] == (text, heard):
            spans[-1] = (spans[-1][0], end_nm, text, heard)
        elif end_nm > along_nm:
            spans.append((along_nm, end_nm, text, heard))
        along_nm = end_nm
    for start_nm, end_nm, text, heard in spans:
        left, right = frame.x(start_nm), frame.x(end_nm)
        corners = ((left, top), (right, top), (right, top + _BAR_HEIGHT), (left, top + _BAR_HEIGHT))
        room.marks.append(Area(corners, fill=PALE + 0.1 if heard else 1.0, weight=1.0))
        room.keep_clear((*corners, corners[0]))
        name = text if text != "none" else "no station"
        told = f"{name} received from {figures.distance(start_nm)} to {figures.distance(end_nm)} NM"
        room.place(
            [Label(((left + right) / 2.0, top + 10.7), text, anchor="middle", bold=heard)],
            told=told,
            ends=(((left + right) / 2.0, top),),
        )


def _named_points(log: Log, frame: _Frame, room: LabelRoom) -> None:
    """The places over the path, with thin lines down to the distance scale."""
    for along_nm, point, name in _names(log):
        x = frame.x(along_nm)
        if point.kind in _RULED:
            room.under(((x, frame.top), (x, frame.foot + 2.0)), 0.5, DARK, (1.5, 2.5))
            text = figures.distance(along_nm)
            room.place(
                (
                    Label((x + shift, frame.foot + _ROW * row), text, anchor="middle")
                    for row in (1, 2)[: frame.rows]
                    for shift in (0.0, 6.0, -6.0)
                ),
                told=f"{name} at {text} NM",
            )
        bold = point.kind in (PointKind.AIRPORT, PointKind.STATION, PointKind.FIX)
        elevation_ft = _elevation_ft(point)
        text = name if elevation_ft is None else f"{name} {figures.whole(elevation_ft)}"
        room.place(
            (
                Label((x + shift, frame.top - 4.0 - row * _ROW), text, anchor=anchor, bold=bold)
                for row in range(frame.rows)
                for anchor, shift in (("middle", 0.0), ("start", -3.0), ("end", 3.0), ("start", 3.0), ("end", -3.0))
            ),
            told=f"{text} at {figures.distance(along_nm)} NM",
        )


def _names(log: Log) -> Iterator[tuple[float, LegPoint, str]]:
    """The places of the flight with their distances from take-off, the ends of legs of no length left out."""
    along_nm = 0.0
    yield along_nm, log.legs[0].start, place_name(log.legs[0].start)
    for leg in log.legs:
        along_nm += leg.distance_nm
        if leg.distance_nm > 0.0:
            yield along_nm, leg.end, _label_of(leg)


def _label_of(leg: Leg) -> str:
    """The name of a leg's end, with `COP` where stations are changed there; TOC and TOD."""
    name = place_name(leg.end)
    if leg.changeover is not None:
        return name if name == "COP" else f"{name} COP"
    return SHORT.get(leg.end.kind, name.lower() if leg.end.name == leg.end.kind else name)
