"""The table of fields beside the way for the back of the knee page, and whole as what is asked for behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.nav import figures
from navlog.nav.problems import printable
from navlog.rules.diversion import FieldBeside, FieldsBeside

_MOST_ROWS = 12
BEFORE_DRAWINGS = 6
"""A table on the back has at most so many rows, and drawings give way to so many."""
_HEADS = ("field", "past", "by", "crsM", "hdgM", "NM", "min", "elev", "VOR R/DME")
_SIDES = "llrrrrrrl"
_TOLD = (
    "By so many NM past a point, level from abeam; courses and headings magnetic; * the route file's own."
    " Runways ?, lights ?: not in the data; approaches not looked at"
)


def diversion_lines(found: FieldsBeside, most: int | None = None) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is to be known of the fields beside the way in words, and their table, at most so many lines of it.

    A shorter table has the nearest field of each of as many equal parts of the way, so that no part is without.
    """
    shown = found.found if most is None else _spread(found, most)
    if not found.found:
        return (
            f"no other field known to be public within {figures.whole(found.reach_nm)} NM of the way{_where(found)}",
        ), ()
    count = "" if len(shown) == len(found.found) else f"{len(shown)} of {len(found.found)} fields shown. "
    return (f"{count}{_TOLD}{_where(found)}.",), tuple(_columns([_HEADS, *map(_cells, shown)]))


def tables(found: FieldsBeside) -> Iterator[int]:
    """How many parts of the way make a longer table each, from the shortest on."""
    longest = 0
    for parts in range(1, _MOST_ROWS + 1):
        rows = len(_spread(found, parts))
        if rows > longest:
            longest = rows
            yield parts


def _where(found: FieldsBeside) -> str:
    """What else the data says, or does not."""
    told = "" if found.searched else "; only the route file's fields: no catalogue was asked"
    if found.unknown_use:
        told += f"; {found.unknown_use} more may be private: the data does not say"
    if found.closed:
        told += f"; closed by notice: {', '.join(found.closed)}"
    return told


def _spread(found: FieldsBeside, parts: int) -> tuple[FieldBeside, ...]:
    """The field nearest to the way in each of so many equal parts of it, in flying order."""
    nearest: dict[int, FieldBeside] = {}
    for one in found.found:
        part = min(parts - 1, int(one.along_nm / found.way_nm * parts)) if found.way_nm > 0.0 else 0
        if part not in nearest or one.distance_nm < nearest[part].distance_nm:
            nearest[part] = one
    return tuple(nearest[part] for part in sorted(nearest))


def _columns(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Rows of cells in columns a space apart, which a narrow page needs."""
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    for row in rows:
        cells = (
            printable(cell).ljust(width) if side == "l" else printable(cell).rjust(width)
            for cell, width, side in zip(row, widths, _SIDES, strict=True)
        )
        yield " ".join(cells).rstrip()


def _cells(one: FieldBeside) -> tuple[str, ...]:
    """A row; what the data does not say is `?`, and over the field no course leads to it."""
    course, heading = (
        figures.NOT_APPLICABLE if one.overhead else figures.course(angle)
        for angle in (one.magnetic_course_deg, one.magnetic_heading_deg)
    )
    return (
        one.airport.ident + ("" if one.airport.use == "public" else "*"),
        one.past,
        figures.whole(one.beyond_nm),
        course,
        heading,
        figures.distance(one.distance_nm),
        figures.whole(one.time_min),
        figures.whole(one.airport.elevation_ft),
        _located(one),
    )


def _located(one: FieldBeside) -> str:
    """Radial and DME: `CVA 213/22`, without a DME `CVA 213/-`."""
    if one.station is None:
        return figures.UNKNOWN
    dme = figures.NOT_APPLICABLE if not one.station.dme else figures.whole(one.dme_nm)
    return f"{one.station.ident} {figures.course(one.radial_deg)}/{dme}"
