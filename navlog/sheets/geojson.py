"""The flight as GeoJSON (RFC 7946): a point for each place, a line for each leg along its great circle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from navlog.flightlog.records import Log
from navlog.nav.chart import Position
from navlog.printed.closing import plain_text
from navlog.printed.places import cut_at_antimeridian, great_circle, places
from navlog.printed.rows import BY_KEY, Row, rows
from navlog.rules.report import Report
from navlog.sheets.pages import Page
from navlog.version import VERSION

_DECIMALS = 7
"""A centimetre."""
_LEG_KEYS = (
    "from", "to", "via", "phase", "station", "set_course", "heading", "time", "eta", "distance", "altitude", "minimum",
    "groundspeed", "fuel_left",
)  # fmt: skip

_Json = dict[str, Any]


def document(reports: Sequence[Report], page: Page) -> str:
    """One feature collection; what a sheet says of its origin stands in the member `navlog`."""
    del page
    import json

    origin = {
        "version": VERSION,
        "flights": [
            {"flight": report.log.route.request.name, "about": plain_text(report).splitlines()} for report in reports
        ],
    }
    found = [feature for report in reports for feature in features(report.log)]
    told = ",\n".join(json.dumps(feature, allow_nan=False) for feature in found)
    return f'{{"type": "FeatureCollection", "navlog": {json.dumps(origin)}, "features": [\n{told}\n]}}\n'


def features(log: Log) -> Iterator[_Json]:
    """The places, then the legs; without a position the geometry is null (section 3.2)."""
    flight = log.route.request.name
    for place in places(log):
        properties = {"flight": flight, "name": place.name, "kind": place.kind, "about": place.about}
        yield _feature(None if place.position is None else _point(place.position), properties)
    for row in rows(log):
        figures = {key: BY_KEY[key].figure(row) for key in _LEG_KEYS}
        yield _feature(_line(row), {"flight": flight, "leg": row.leg.number, **figures})


def _feature(geometry: _Json | None, properties: _Json) -> _Json:
    """One feature."""
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def _point(position: Position) -> _Json:
    """A position: longitude first."""
    return {"type": "Point", "coordinates": _rounded((position.longitude_deg, position.latitude_deg))}


def _line(row: Row) -> _Json | None:
    """The line of a leg, in two parts where it crosses 180 degrees; None without positions or length."""
    pieces = [[_rounded(pair) for pair in piece] for piece in cut_at_antimeridian(great_circle(row.leg))]
    if not pieces:
        return None
    if len(pieces) == 1:
        return {"type": "LineString", "coordinates": pieces[0]}
    return {"type": "MultiLineString", "coordinates": pieces}


def _rounded(pair: tuple[float, float]) -> list[float]:
    """Longitude and latitude to a centimetre."""
    return [round(pair[0], _DECIMALS), round(pair[1], _DECIMALS)]
