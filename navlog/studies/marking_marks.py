"""What a pilot says tells a point in flight, against all that tells it by the log: `QEL 134`, `QHB DME 12.1`."""

from __future__ import annotations

import re

from navlog.flightlog.records import FuelUnit, Mark
from navlog.nav import figures, units
from navlog.nav.problems import problem_error
from navlog.printed.marks import mark_text
from navlog.printed.readings import dme_at_changeover, dme_reads_nm
from navlog.printed.rows import Row, ends
from navlog.resolve.route import MarkKind
from navlog.studies.marking_quantities import BY_KEY, Expected, MarkedQuantity
from navlog.studies.marking_written import read_course, show_course, show_whole

TOLD_BY = "told_by"
"""The column in which the pilot says what tells the end of a leg."""

_ONE = re.compile(
    r"(?P<ident>[A-Z]{1,4}) +(?:R-? *)?(?P<radial>\d{3}(?:\.\d+)?)"
    r"|(?P<station>[A-Z]{1,4}) +(?:DME *(?P<reads>\d{1,3}(?:\.\d+)?)(?: *NM)?|(?P<miles>\d{1,3}(?:\.\d+)?) *NM)"
)
_HINT = "write QEL 134 for a radial, QHB DME 12.1 for a distance; several with `;` between"


def read_identifications(text: str, unit: FuelUnit) -> dict[str, float]:
    """What is said to tell a point, by kind and station: `radial QEL` in degrees, `dme QHB` in NM of its DME."""
    found: dict[str, float] = {}
    for part in re.split(r" *;| AND ", text.upper()):
        match = _ONE.fullmatch(part.strip())
        if match is None:
            raise problem_error("bad-value", f"told_by: `{text}` names no station with its radial or DME", hint=_HINT)
        if match["ident"] is not None:
            found[f"{MarkKind.RADIAL.value} {match['ident']}"] = read_course(match["radial"], unit)
        else:
            found[f"{MarkKind.DME.value} {match['station']}"] = float(match["reads"] or match["miles"])
    return found


def quantity_of(key: str) -> MarkedQuantity:
    """The quantity of a column, or of a kind and station that a pilot names in `told_by`."""
    if key in BY_KEY:
        return BY_KEY[key]
    name, _, ident = key.partition(" ")
    kind = MarkKind(name)

    def exact(row: Row) -> float | None:
        marked = next((_reads(mark) for mark in row.leg.marks if _is(mark, kind, ident)), None)
        return _changeover_dme_nm(row, ident) if marked is None and kind is MarkKind.DME else marked

    def printed(row: Row) -> float | None:
        value = exact(row)
        if value is None or kind is MarkKind.RADIAL:
            return None if value is None else float(figures.whole_course(value))
        return figures.half_up(value, 0.1) / 10.0

    if kind is MarkKind.RADIAL:
        return MarkedQuantity(key, "deg", read_course, show_course, exact, printed, key, 360.0, _not_by_it)
    return MarkedQuantity(key, "NM", _read_nm, show_whole, exact, printed, key, None, _not_by_it)


def expected_of(key: str, row: Row) -> Expected:
    """What the log says of a quantity on a leg."""
    return quantity_of(key).expected(row)


def _read_nm(text: str, _: FuelUnit) -> float:
    return units.read_distance_nm(text)


def _is(mark: Mark, kind: MarkKind, ident: str) -> bool:
    return mark.kind is kind and mark.station.ident == ident


def _reads(mark: Mark) -> float | None:
    return mark.by.radial_deg if mark.kind is MarkKind.RADIAL else mark.dme_nm


def _changeover_dme_nm(row: Row, ident: str) -> float | None:
    """What the DME of one of the two stations of the changeover that ends a leg reads there, as the sheets tell it."""
    changeover = row.leg.changeover
    stations = () if changeover is None else (changeover.behind, changeover.ahead)
    return next((dme_reads_nm(row, station) for station in stations if station.ident == ident), None)


def _not_by_it(row: Row) -> str:
    """Why what a pilot names is not marked: what tells the point by the log, if anything does."""
    name, dme = ends(row)[1], dme_at_changeover(row)
    if dme is not None:
        return f"by the log what tells {name} is {dme.ident} DME {figures.distance(dme_reads_nm(row, dme))}"
    if not row.leg.marks:
        return f"no radial or DME tells {name} by the log"
    return f"by the log what tells {name} is {' or '.join(mark_text(mark) for mark in row.leg.marks)}"
