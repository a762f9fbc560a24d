"""Airports, fixes and the airways between two points, as lines of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from navlog.catalogue.lookups import AirportFound, FixFound, Joining
from navlog.catalogue.text import entry, neighbour_lines, source_and_use
from navlog.nav import figures
from navlog.nav.angles import position_text
from navlog.nav.chart import Bearing, Service
from navlog.nav.layout import columns


def airport_lines(found: AirportFound, day: date) -> Iterator[str]:
    """Everything that a pilot asks of an airport; what the data does not say is not there."""
    airport = found.airport
    yield " ".join(filter(None, [airport.ident, airport.kind, airport.name, airport.region]))
    yield from entry("position", position_text(airport.position))
    elevation_ft = airport.elevation_ft
    yield from entry("elevation", figures.UNKNOWN if elevation_ft is None else f"{figures.whole(elevation_ft)} ft")
    yield from entry("status", airport.status)
    yield from entry("VORs around", *(" ".join(line.split()) for line in neighbour_lines(found.stations, None)[1:]))
    yield from entry("source", source_and_use(airport.provenance, day))


def fix_lines(found: FixFound, day: date) -> Iterator[str]:
    """Everything that a pilot asks of a fix: where it is, and what identifies it."""
    fix = found.fix
    yield " ".join(filter(None, [fix.ident, "fix", fix.name, fix.region]))
    yield from entry("position", figures.UNKNOWN if fix.position is None else position_text(fix.position))
    yield from entry("made up by", *(_bearing_text(one) for one in fix.makeup))
    yield from entry("MRA", None if fix.mra_ft is None else f"{figures.whole(fix.mra_ft)} ft")
    yield from entry("airways", " ".join(found.airways))
    yield from entry("source", source_and_use(fix.provenance, day))


def _bearing_text(one: Bearing) -> str:
    words = [one.station, f"({one.station_kind})" if one.station_kind is not None else ""]
    if one.radial_deg is not None:
        words.append(f"R-{figures.course(one.radial_deg)}")
    if one.distance_nm is not None:
        words.append(f"{figures.distance(one.distance_nm)} NM")
    return " ".join(filter(None, words))


def joining_lines(found: Sequence[Joining]) -> list[str]:
    """A line an airway: its length, the highest MEA in that direction and where it is, and the points between."""
    rows = [("airway", "NM", "MEA", "where", "by way of")]
    for one in found:
        length = figures.UNKNOWN if one.distance_nm is None else figures.distance(one.distance_nm)
        mea = figures.UNKNOWN if one.mea_ft is None else figures.whole(one.mea_ft)
        where = "" if one.mea_at is None else f"{one.mea_at.start}-{one.mea_at.end}"
        way = " ".join(segment.end for segment in one.segments[:-1])
        rows.append((one.airway.ident, length, mea, where, f"{way} {_service_text(one)}".strip()))
    return columns(rows, "lrrll")


def _service_text(one: Joining) -> str:
    return "" if one.service is Service.NORMAL else f"({one.service.value})"
