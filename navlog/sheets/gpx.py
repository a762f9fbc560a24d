"""The flight as GPX 1.1: waypoints, a route of its points, and a track along the great circles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.flightlog.records import Log
from navlog.nav.chart import Position
from navlog.printed.cautions import CAUTIONS
from navlog.printed.closing import plain_text
from navlog.printed.events import end_name, place_name
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
    """All flights in one file; places without a position are left out."""
    del page
    return "\n".join(_elements(reports)) + "\n"


def _elements(reports: Sequence[Report]) -> Iterator[str]:
    """The lines of the file, in the schema's order: metadata, waypoints, routes, tracks."""
    yield from _HEAD
    names = ", ".join(report.log.route.request.name for report in reports)
    yield f"<metadata>{element('name', names)}{element('desc', CAUTIONS)}</metadata>"
    marked = {place: None for report in reports for place in places(report.log)}
    for place in marked:
        if place.position is not None:
            about = element("desc", place.about) if place.about else ""
            yield f"<wpt {_at(place.position)}>{element('name', place.name)}{about}{element('type', place.kind)}</wpt>"
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
    """The points of the flight in flying order."""
    log = report.log
    yield f"<rte>{element('name', log.route.request.name)}{element('desc', plain_text(report))}"
    first = log.legs[0].start
    ends = zip(log.legs, (*log.legs[1:], None), strict=True)
    for point, name in ((first, place_name(first)), *((leg.end, end_name(leg, after)) for leg, after in ends)):
        if point.position is not None:
            told = element("name", name) + element("type", point.kind)
            yield f"<rtept {_at(point.position)}>{told}</rtept>"
    yield "</rte>"


def _track(log: Log) -> Iterator[str]:
    """The way along the great circles, a segment for each leg, cut at 180 degrees."""
    yield f"<trk>{element('name', log.route.request.name)}"
    for _, pieces in lines(log):
        for piece in pieces:
            points = "".join(f"<trkpt {_coordinates(*pair)}/>" for pair in piece)
            yield f"<trkseg>{points}</trkseg>"
    yield "</trk>"
