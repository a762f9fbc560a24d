"""The flight as GPX 1.1: a route of its points, and a track along the great circles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.flightlog.records import Log
from navlog.nav.chart import Position
from navlog.nav.problems import Span, problem_error
from navlog.printed.cautions import CAUTIONS
from navlog.printed.closing import sections
from navlog.printed.places import lines, places
from navlog.rules.report import Report
from navlog.sheets.pages import Page
from navlog.sheets.xml_text import element
from navlog.version import VERSION

_NAMESPACE = "http://www.topografix.com/GPX/1/1"
_EAST_MOST_DEG = 179.9999999
_HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>',
    f'<gpx xmlns="{_NAMESPACE}" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"'
    f' xsi:schemaLocation="{_NAMESPACE} http://www.topografix.com/GPX/1/1/gpx.xsd"'
    f' version="1.1" creator="navlog {VERSION}">',
)


def document(reports: Sequence[Report], page: Page) -> str:
    """All flights in one file; a route point without a position is named in the route's description.

    Raises `no-positions` where no route point of any flight has one.
    """
    del page
    if not any(point.position is not None for report in reports for point in report.log.route.points):
        names = ", ".join(report.log.route.request.name for report in reports)
        raise problem_error(
            "no-positions",
            f"no point of {names} has a position, so there is nothing for a GPX file",
            span=Span(reports[0].log.route.request.file, 1),
            hint="give the stations and airports their positions, or print another format",
        )
    return "\n".join(_elements(reports)) + "\n"


def _elements(reports: Sequence[Report]) -> Iterator[str]:
    """The lines of the file, in the schema's order: metadata, routes, tracks."""
    yield from _HEAD
    names = ", ".join(report.log.route.request.name for report in reports)
    yield f"<metadata>{element('name', names)}{element('desc', CAUTIONS)}</metadata>"
    for report in reports:
        yield from _route(report)
    for report in reports:
        yield from _track(report.log)
    yield "</gpx>"


def _at(position: Position) -> str:
    """A position as attributes."""
    return _coordinates(position.longitude_deg, position.latitude_deg)


def _coordinates(longitude_deg: float, latitude_deg: float) -> str:
    """Coordinates as attributes to 1e-7 degrees, a centimetre; the schema wants longitudes below 180."""
    return f'lat="{latitude_deg:.7f}" lon="{min(longitude_deg, _EAST_MOST_DEG):.7f}"'


def _route(report: Report) -> Iterator[str]:
    """The points of the route line in flying order, and in words what a reader of the file must know of it."""
    log = report.log
    about = {(place.name, place.position): place.about for place in places(log)}
    missing = ", ".join(point.name for point in log.route.points if point.position is None)
    told = [f"{one.title}: {line}" for one in sections(report) if one.title != "LEGEND" for line in one.lines]
    if missing:
        told.insert(0, f"NOT IN THIS ROUTE, having no position: {missing}")
    yield f"<rte>{element('name', log.route.request.name)}{element('desc', chr(10).join(told))}"
    for point in log.route.points:
        if point.position is not None:
            words = about.get((point.name, point.position))
            desc = element("desc", words) if words else ""
            told_here = f"{element('name', point.name)}{desc}{element('type', point.kind)}"
            yield f"<rtept {_at(point.position)}>{told_here}</rtept>"
    yield "</rte>"


def _track(log: Log) -> Iterator[str]:
    """The way along the great circles, a segment for each leg, cut at 180 degrees."""
    yield f"<trk>{element('name', log.route.request.name)}"
    for _, pieces in lines(log):
        for piece in pieces:
            points = "".join(f"<trkpt {_coordinates(*pair)}/>" for pair in piece)
            yield f"<trkseg>{points}</trkseg>"
    yield "</trk>"
