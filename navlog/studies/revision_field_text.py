"""The fields within reach as printed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.nav.layout import WIDTH, wrapped
from navlog.studies.revision import Field, Revision
from navlog.studies.revision_words import clock_of, closed_text, fuel_text


def fields_text(revision: Revision, rest: Log) -> Iterator[str]:
    """The lines of the fields within reach under their heading, `rest` the worst of what lies ahead."""
    yield from wrapped(_fields_heading(revision, rest), WIDTH, "  ")
    for text in _field_lines(revision):
        yield from wrapped(f"  {text}", WIDTH, "    ")


def _fields_heading(revision: Revision, rest: Log) -> str:
    """From where the fields are told, and by what; after a landing from the next take-off."""
    burn = "" if revision.measured is None else " and at the measured burn"
    start = ""
    if revision.passed.leg.lands:
        board = fuel_text(revision.planned, rest.conditions.on_board)
        clock = clock_of(revision.planned, rest.conditions.off)
        start = f" from the take-off at {revision.passed.name}, {clock}, with {board},"
    return f"FIELDS WITHIN REACH, direct{start or ','} in that wind{burn}"


def _leaving_at(revision: Revision) -> datetime:
    """When the way to a field begins: at the last point, after a landing there at the next take-off."""
    rest = revision.worst
    return revision.passed.moment if rest is None or rest.conditions.off is None else rest.conditions.off


def _field_lines(revision: Revision) -> Iterator[str]:
    """The fields within reach, or why there are none."""
    if not revision.fields:
        yield "none is known"
    for beyond in dict.fromkeys(one.beyond for one in revision.fields if one.beyond is not None):
        yield f"{beyond}: its nearest row is counted"
    for field in revision.fields:
        shut = "" if field.closed_by is None else f"; {closed_text(field.closed_by)}"
        yield f"{_named(field)}: {_way_text(revision.planned, field, _leaving_at(revision))}{_where(field)}{shut}"


def _named(field: Field) -> str:
    """A field by identifier and name; one that is published as private is told so."""
    name = f"{field.airport.ident} {field.airport.name}" if field.airport.name else field.airport.ident
    return f"{name} (private)" if field.airport.use == "private" else name


def _way_text(log: Log, field: Field, now: datetime) -> str:
    """The way to a field: heading, distance, time and fuel, or why they are not known."""
    distance = f"{figures.distance(field.distance_nm)} NM"
    if field.time_min is None:
        course = figures.course(field.magnetic_course_deg)
        return f"magnetic course {course}, {distance}; whether the fuel reaches it is not known: {field.reason}"
    heading = field.compass_heading_deg if field.compass_heading_deg is not None else field.magnetic_heading_deg
    minutes = figures.half_up(field.time_min)
    kept = "reserve kept" if field.reserve_kept else "NO RESERVE"
    known = heading is not None
    way = (
        f"{'heading' if known else 'magnetic course'} {figures.course(heading if known else field.magnetic_course_deg)}"
    )
    return (
        f"{way}, {distance}, {figures.minutes(minutes)},"
        f" {figures.zulu(now + timedelta(minutes=minutes), log.conditions.day)},"
        f" {fuel_text(log, field.fuel_left)} left, {kept}"
    )


def _where(field: Field) -> str:
    """Where a field lies from the nearest station."""
    if field.station is None or field.station_nm is None:
        return ""
    radial = f" radial {figures.course(field.radial_deg)}" if field.radial_deg is not None else ""
    mhz = figures.frequency(field.station.frequency_mhz)
    return f"; {field.station.ident} {mhz}{radial} {figures.distance(field.station_nm)} NM"
