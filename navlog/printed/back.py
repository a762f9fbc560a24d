"""The other side of the knee page, in blocks of lines: what changes what the pilot does, notes, places, origin."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.nav.chart import Airport
from navlog.printed.findings import by_rule, finding_line, told_together, worst
from navlog.printed.head import (
    FEWEST_DIGITS,
    bearing_texts,
    compass_text,
    data_text,
    terrain_text,
    unverified_names,
    wind_text,
)
from navlog.rules.registry import Finding, Severity
from navlog.rules.report import Report
from navlog.version import VERSION


class Block(Struct, frozen=True):
    """A titled block of lines on the back; `fields` are labels with room for the pen, side by side."""

    title: str
    lines: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()


def back(report: Report) -> Iterator[Block]:
    """The blocks of the back that hold anything, worst first; the alternates' rows stand between the first two."""
    log = report.log
    for block in (
        _findings_block(report),
        _airports(log),
        _remarks(log),
        Block("BEARINGS", tuple(bearing_texts(log))),
        Block("NOTES", log.route.request.notes),
        Block("LAST VOR CHECK", fields=("date", "place", "error", "signed")),
    ):
        if block.lines or block.fields:
            yield block


def _findings_block(report: Report) -> Block:
    """The findings that change what the pilot does, worst first, and how many notes and accepted ones there are."""
    groups = by_rule(report.findings)
    doing = [group for group in groups if _changes(worst(group))]
    if report.every:
        lines = [finding_line(one) for group in doing for one in group]
    else:
        lines = [f"{worst(group).severity.value.upper()} {told_together(group)}" for group in doing]
    rest = len(groups) - len(doing)
    also = (f"and {rest} noted or accepted, told --with findings",) if rest else ()
    return Block("FINDINGS", (*lines, *also) or ("none",))


def _changes(one: Finding) -> bool:
    """Whether a finding changes what the pilot does: an error or warning that nobody has accepted."""
    return one.accepted is None and one.severity is not Severity.NOTE


def _airports(log: Log) -> Block:
    """What the data says of the airports of the flight."""
    found: dict[str, str] = {}
    for way in (log.route, *log.route.alternates):
        for point in way.points:
            if isinstance(point.place, Airport):
                found[point.place.ident] = f"{point.place.ident} {figures.whole(point.place.elevation_ft)} ft"
    return Block("AIRPORTS", (f"elevation {', '.join(found.values())}",) if found else ())


def _remarks(log: Log) -> Block:
    """The published remarks of the parts of airways that are flown."""
    found = dict.fromkeys(remark for leg in log.legs for remark in leg.stretch.remarks)
    return Block("PUBLISHED REMARKS", tuple(found))


def provenance(log: Log) -> str:
    """What the page was computed from, in one line: model, data, aircraft file, winds, digest of the file."""
    request = log.route.request
    model = log.route.magnetic_model
    told = [
        f"navlog {VERSION}, {request.file} SHA-256 {request.digest[:FEWEST_DIGITS]}",
        f"Data: {data_text(log)}",
        f"Variation by {model}" if model is not None else "no magnetic model",
        *(tuple(compass_text(log)) or ((f"aircraft {request.aircraft.path}",) if request.aircraft is not None else ())),
    ]
    bulletins = [f"bulletin {use.heading or ''} ({use.file})".replace("  ", " ") for use in log.conditions.bulletins]
    told.append(f"Wind, true: {', '.join(bulletins) or wind_text(log)}")
    told += terrain_text(log)
    unverified = unverified_names(log)
    if unverified:
        told.append(f"* UNVERIFIED: {', '.join(unverified)}")
    return "; ".join(told)
