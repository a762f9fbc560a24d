"""The flight as KML 2.2 (OGC 07-147r2): a folder a flight, with its places and the line of each leg."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.flightlog.records import Log
from navlog.printed.closing import plain_text
from navlog.printed.places import lines, places
from navlog.printed.rows import BY_KEY, Row, rows
from navlog.rules.report import Report
from navlog.sheets.pages import Page
from navlog.sheets.xml_text import element, escaped

_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<kml xmlns="http://www.opengis.net/kml/2.2">'
_LEG_KEYS = ("station", "set_course", "heading", "time", "distance", "altitude", "minimum", "fuel_left")
_STYLE = '<Style id="leg"><LineStyle><color>ff202020</color><width>3</width></LineStyle></Style>'


def document(reports: Sequence[Report], page: Page) -> str:
    """All flights in one file; places without a position are left out."""
    del page
    return "\n".join(_elements(reports)) + "\n"


def _elements(reports: Sequence[Report]) -> Iterator[str]:
    """The lines of the file."""
    yield _HEAD
    yield f"<Document>{element('name', 'VOR navigation log')}{_STYLE}"
    for report in reports:
        log = report.log
        yield f"<Folder>{element('name', log.route.request.name)}{_described(plain_text(report))}"
        yield from _points(log)
        yield from _legs(log)
        yield "</Folder>"
    yield "</Document>"
    yield "</kml>"


def _described(text: str) -> str:
    """A description; it is shown as HTML, so that what looks like HTML in a text is escaped once more."""
    return element("description", escaped(text).replace("\n", "<br/>"))


def _points(log: Log) -> Iterator[str]:
    """A placemark for each place."""
    for place in places(log):
        if place.position is not None:
            where = f"{place.position.longitude_deg:.7f},{place.position.latitude_deg:.7f}"
            about = _described(f"{place.kind}: {place.about}" if place.about else place.kind)
            yield (
                f"<Placemark>{element('name', place.name)}{about}"
                f"<Point><coordinates>{where}</coordinates></Point></Placemark>"
            )


def _legs(log: Log) -> Iterator[str]:
    """A placemark for each leg with its line along the ground."""
    by_number = {row.leg.number: row for row in rows(log)}
    for leg, pieces in lines(log):
        row = by_number[leg.number]
        drawn = "".join(
            "<LineString><tessellate>1</tessellate><coordinates>"
            + " ".join(f"{longitude:.7f},{latitude:.7f}" for longitude, latitude in piece)
            + "</coordinates></LineString>"
            for piece in pieces
        )
        name = f"{row.leg.number} {BY_KEY['from'].figure(row)} to {BY_KEY['to'].figure(row)}"
        yield (
            f"<Placemark>{element('name', name)}{_described(_leg_text(row))}<styleUrl>#leg</styleUrl>"
            f"<MultiGeometry>{drawn}</MultiGeometry></Placemark>"
        )


def _leg_text(row: Row) -> str:
    """The figures of a leg in words."""
    return ", ".join(f"{BY_KEY[key].heading} {BY_KEY[key].figure(row)}" for key in _LEG_KEYS)
