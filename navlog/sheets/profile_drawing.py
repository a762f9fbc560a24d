"""The flight seen from the side: height over distance, minimums as steps, and where a station is received."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from msgspec import Struct

from navlog.flightlog.facts import lowest
from navlog.flightlog.records import Leg, Log
from navlog.nav import figures
from navlog.nav.chart import Service
from navlog.printed.events import end_name, place_name
from navlog.resolve.route import PointKind
from navlog.rules.report import Report
from navlog.sheets.drawing import DARK, PALE, XY, Area, Drawing, Label, LabelRoom, Mark, Rectangle, Stroke

LEFT, RIGHT, TOP, BOTTOM = 40.0, 18.0, 48.0, 58.0
_BAR_HEIGHT = 13.0
_OUT_OF_RECEPTION = frozenset({"out-of-range", "below-horizon", "unusable-sector", "station-out", "signal"})
"""Rules whose findings say that a leg's station may not be heard."""


class _Frame(Struct, frozen=True):
    """Distance and height on paper."""

    total_nm: float
    top_ft: float
    width: float
    height: float

    def x(self, along_nm: float) -> float:
        """A distance from take-off."""
        return LEFT + (self.width - LEFT - RIGHT) * along_nm / self.total_nm

    def y(self, altitude_ft: float) -> float:
        """A height above sea level."""
        return self.height - BOTTOM - (self.height - TOP - BOTTOM) * altitude_ft / self.top_ft


def profile_drawing(report: Report, width: float, height: float) -> Drawing | None:
    """The profile in a frame of that size in points; None for a flight of no length."""
    log = report.log
    if log.totals.distance_nm <= 0.0:
        return None
    highest = max(
        max(leg.start_altitude_ft, leg.end_altitude_ft, lowest(leg.stretch.limits)[1] or 0.0) for leg in log.legs
    )
    frame = _Frame(log.totals.distance_nm, ceil(highest * 1.15 / 1000.0) * 1000.0 or 1000.0, width, height)
    title = f"Profile of {log.route.request.name}: height over distance"
    return Drawing(title, width, height, tuple(_marks(report, frame)))


def _marks(report: Report, frame: _Frame) -> Iterator[Mark]:
    """Everything on the profile."""
    log = report.log
    room = LabelRoom(frame.width, frame.height)
    yield from _heights(frame, room)
    path = _flown_path(log, frame)
    room.keep_clear(path)
    yield from _minimums(log, frame, room)
    yield Stroke(path, 2.2)
    yield from _reception(report, frame)
    yield from _named_points(log, frame, room)


def _heights(frame: _Frame, room: LabelRoom) -> Iterator[Mark]:
    """The scale of heights with thin lines across, and the scale of distance below."""
    step_ft = next(step for step in (500, 1000, 2000, 5000, 10000, 50000) if frame.top_ft / step <= 6)
    for altitude_ft in range(0, int(frame.top_ft) + 1, step_ft):
        y = frame.y(altitude_ft)
        yield Stroke(((LEFT, y), (frame.width - RIGHT, y)), 0.4, PALE)
        yield Label((LEFT - 4.0, y + 3.0), str(altitude_ft), anchor="end")
    room.take(Rectangle(0.0, 0.0, LEFT, frame.height))
    room.take(Rectangle(0.0, frame.height - BOTTOM, frame.width, frame.height))
    yield Label((LEFT - 4.0, TOP - 8.0), "ft", anchor="end")


def _flown_path(log: Log, frame: _Frame) -> tuple[XY, ...]:
    """The planned heights over the distance flown."""
    along_nm = 0.0
    path: list[XY] = []
    for leg in log.legs:
        path.append((frame.x(along_nm), frame.y(leg.start_altitude_ft)))
        along_nm += leg.distance_nm
        path.append((frame.x(along_nm), frame.y(leg.end_altitude_ft)))
    return tuple(dict.fromkeys(path))


def _minimums(log: Log, frame: _Frame, room: LabelRoom) -> Iterator[Mark]:
    """The minimum of each stretch as a step, with its kind and height once where it stays the same."""
    along_nm = 0.0
    steps: list[tuple[float, float, float, str]] = []
    for leg in log.legs:
        end_nm, (kind, lowest_ft) = along_nm + leg.distance_nm, lowest(leg.stretch.limits)
        if lowest_ft is not None and end_nm > along_nm:
            if steps and steps[-1][1:] == (along_nm, lowest_ft, kind):
                steps[-1] = (steps[-1][0], end_nm, lowest_ft, kind)
            else:
                steps.append((along_nm, end_nm, lowest_ft, kind))
        along_nm = end_nm
    for start_nm, end_nm, lowest_ft, _ in steps:
        left, right, y = frame.x(start_nm), frame.x(end_nm), frame.y(lowest_ft)
        yield Stroke(((left, y), (right, y)), 5.0, 0.6)
        room.keep_clear(((left, y), (right, y)))
    for start_nm, end_nm, lowest_ft, kind in steps:
        middle, y = (frame.x(start_nm) + frame.x(end_nm)) / 2.0, frame.y(lowest_ft)
        text = f"{kind} {figures.whole(lowest_ft)}"
        yield room.best(
            Label((middle + shift, y + drop), text, anchor="middle")
            for drop in (13.0, -6.0, 23.0, 33.0, 43.0, 53.0)
            for shift in (0.0, 14.0, -14.0, 28.0, -28.0)
        )


def _reception(report: Report, frame: _Frame) -> Iterator[Mark]:
    """A bar under the profile: full with the station's name where one is received, open where none is."""
    doubtful = {one.leg for one in report.findings if one.rule in _OUT_OF_RECEPTION and one.accepted is None}
    top = frame.height - BOTTOM + 30.0
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
        yield Area(corners, fill=PALE + 0.1 if heard else 1.0, weight=1.0)
        label = Label(((left + right) / 2.0, top + _BAR_HEIGHT - 3.5), text, anchor="middle", bold=heard)
        if label.box.right - label.box.left < right - left:
            yield label
    yield Label((LEFT, top + _BAR_HEIGHT + 11.0), "grey: station received; white: none; ?: in doubt, see findings")


def _named_points(log: Log, frame: _Frame, room: LabelRoom) -> Iterator[Mark]:
    """The places over the path, with thin lines down to the distance scale."""
    along_nm = 0.0
    spots = [(0.0, place_name(log.legs[0].start), log.legs[0].start.kind)]
    for leg, following in zip(log.legs, (*log.legs[1:], None), strict=True):
        along_nm += leg.distance_nm
        if leg.distance_nm > 0.0:
            spots.append((along_nm, _label_of(leg, following), leg.end.kind))
    below = LabelRoom(frame.width, frame.height)
    for along_nm, name, kind in spots:
        x = frame.x(along_nm)
        if kind in (PointKind.CHANGEOVER, PointKind.STATION, PointKind.AIRPORT, PointKind.FIX, PointKind.POSITION):
            yield Stroke(((x, TOP), (x, frame.height - BOTTOM + 4.0)), 0.5, DARK, (1.5, 2.5))
            below_y = frame.height - BOTTOM + 13.0
            yield below.best(
                Label((x + shift, below_y + drop), figures.distance(along_nm), anchor="middle")
                for drop in (0.0, 10.0)
                for shift in (0.0, 6.0, -6.0)
            )
        bold = kind in (PointKind.AIRPORT, PointKind.STATION, PointKind.FIX)
        yield room.best(
            Label((x + shift, line_y), name, anchor=anchor, bold=bold)
            for line_y in (TOP - 5.0, TOP - 16.0, TOP - 27.0, TOP - 38.0)
            for anchor, shift in (("middle", 0.0), ("start", -3.0), ("end", 3.0), ("start", 3.0), ("end", -3.0))
        )


def _label_of(leg: Leg, following: Leg | None) -> str:
    """The name of a leg's end, with `COP` where stations are changed there; in words where it has none."""
    name = end_name(leg, following)
    if leg.changeover is not None:
        return name if name == "COP" else f"{name} COP"
    return name if leg.end.point is not None else name.lower()
