"""What an audit of published airways found, as text and as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from navlog.catalogue.audit import Audit, AuditLimits, Tally
from navlog.catalogue.comparisons import Checked, FigureComparison
from navlog.catalogue.text import source_text
from navlog.nav.figures import UNKNOWN
from navlog.nav.layout import columns

_COLUMNS = ("airway", "way", "at", "published", "computed", "off")


def audit_lines(found: Audit) -> Iterator[str]:
    """What disagrees, one table for each kind of figure, then how much was compared."""
    for tally in found.tallies:
        if tally.disagreeing:
            yield f"{tally.checked.value}, {tally.checked.unit}"
            heading, *table = columns([_COLUMNS, *map(_cells, tally.disagreeing)], "lllrrr", indent="  ")
            yield heading
            for line, one in zip(table, tally.disagreeing, strict=True):
                yield line
                if one.note is not None:
                    yield f"          {one.note}"
            yield ""
    for source in found.sources:
        yield source_text(source)
    yield (
        f"{found.airways} airways, {found.legs} legs, {found.segments} segments;"
        f" {found.unmeasured} segments have no two positions"
    )
    for tally in found.tallies:
        yield f"{tally.checked.value}: {_tally_text(tally, found.limits)}"


def _cells(one: FigureComparison) -> tuple[str, ...]:
    airway = one.airway if one.location in (None, "C") else f"{one.airway} {one.location}"
    at = "" if one.checked is Checked.LENGTH or len(one.at) > 5 else one.at
    computed = UNKNOWN if one.computed is None else f"{one.computed:.2f}"
    off = UNKNOWN if one.difference is None else f"{round(one.difference, 2) + 0.0:+.2f}"
    return airway, f"{one.start}-{one.end}", at, f"{one.published:.2f}", computed, off


def _tally_text(tally: Tally, limits: AuditLimits) -> str:
    compared, disagreeing = tally.compared, len(tally.disagreeing)
    match tally.checked:
        case Checked.GAP:
            off = sum(abs(one.difference or 0.0) > limits.course_deg for one in tally.disagreeing)
            return f"{compared} keep a course, {off} of them off by more than {limits.course_deg:g} degrees"
        case Checked.CHANGEOVER:
            return f"{compared} compared, {disagreeing} beyond the station ahead"
        case Checked.PAIR:
            return f"{compared} compared, {disagreeing} differ by {limits.changeover_nm:g} NM or more"
        case Checked.LENGTH:
            return f"{compared} compared, {disagreeing} off by more than {limits.length_nm:g} NM"
        case Checked.RADIAL | Checked.COURSE:
            return f"{compared} compared, {disagreeing} off by more than {limits.course_deg:g} degrees"


def audit_json(found: Audit) -> str:
    """The audit as one line of JSON; numbers rounded to 9 decimals, null where nothing can be computed."""
    import json

    return (
        json.dumps(
            {
                "schema": "navlog/audit-1",
                "audit": [source_text(source) for source in found.sources],
                "limits": {
                    "course_deg": found.limits.course_deg,
                    "length_nm": found.limits.length_nm,
                    "changeover_nm": found.limits.changeover_nm,
                },
                "airways": found.airways,
                "legs": found.legs,
                "segments": found.segments,
                "unmeasured": found.unmeasured,
                "compared": {tally.checked.value: tally.compared for tally in found.tallies},
                "disagreements": [_plain(one) for tally in found.tallies for one in tally.disagreeing],
            },
            allow_nan=False,
        )
        + "\n"
    )


def _plain(one: FigureComparison) -> dict[str, Any]:
    return {
        "checked": one.checked.value,
        "unit": one.checked.unit,
        "airway": one.airway,
        "location": one.location,
        "from": one.start,
        "to": one.end,
        "at": one.at,
        "published": one.published,
        "computed": None if one.computed is None else round(one.computed, 9) + 0.0,
        "difference": None if one.difference is None else round(one.difference, 9) + 0.0,
        "note": one.note,
    }
