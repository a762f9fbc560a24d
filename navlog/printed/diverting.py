"""The table of diversions on the back of the knee page, at several lengths: a sheet takes the longest with room."""

from __future__ import annotations

from collections.abc import Sequence

from navlog.nav import figures, layout
from navlog.printed.back import Block
from navlog.rules.diversion import FieldBeside, FieldsBeside

_TITLE = "DIVERSIONS"
_MOST_ROWS = 12
_HEADS = (
    ("field", "from", "crs", "hdg", "NM", "min", "elev", "VOR R/DME", "rwy", "lgt"),
    ("", "+NM", "M", "M", "", "", "ft", "", "", ""),
)
_SIDES = "llrrrrrlll"
_TOLD = "Approaches not looked at; runways and lights not in the data. Magnetic, from abeam; * from the route file."


def diverting(found: FieldsBeside | None) -> tuple[Block, ...]:
    """The block of diversions, from the shortest, which has no row, to the longest; none where nobody asked.

    A shorter table has the nearest field of each of as many equal parts of the way, so that no part is without.
    """
    if found is None:
        return ()
    if not found.found:
        where = "" if found.searched else " in the route file; no catalogue was asked"
        return (
            Block(
                _TITLE, (f"no field known to be public within {figures.whole(found.reach_nm)} NM of the way{where}",)
            ),
        )
    tables = {rows: None for parts in range(1, _MOST_ROWS + 1) if (rows := _spread(found, parts))}
    lines = [_block(rows) for rows in sorted(tables, key=len)]
    return (Block(_TITLE, ("no room for the table here: take larger paper",)), *lines)


def _spread(found: FieldsBeside, parts: int) -> tuple[FieldBeside, ...]:
    """The field nearest to the way in each of so many equal parts of it, in flying order."""
    nearest: dict[int, FieldBeside] = {}
    for one in found.found:
        part = min(parts - 1, int(one.along_nm / found.way_nm * parts)) if found.way_nm > 0.0 else 0
        if part not in nearest or one.distance_nm < nearest[part].distance_nm:
            nearest[part] = one
    return tuple(nearest[part] for part in sorted(nearest))


def _block(rows: Sequence[FieldBeside]) -> Block:
    """The table of some diversions."""
    cells = [*_HEADS, *map(_cells, rows)]
    return Block(_TITLE, (_TOLD,), table=tuple(layout.columns(cells, _SIDES, heads=2)))


def _cells(one: FieldBeside) -> tuple[str, ...]:
    """A row; what the data does not say is `?`."""
    return (
        one.airport.ident + ("" if one.airport.use == "public" else "*"),
        f"{one.past}+{figures.whole(one.beyond_nm)}",
        figures.course(one.magnetic_course_deg),
        figures.course(one.magnetic_heading_deg),
        figures.distance(one.distance_nm),
        figures.whole(one.time_min),
        figures.whole(one.airport.elevation_ft),
        _located(one),
        figures.UNKNOWN,
        figures.UNKNOWN,
    )


def _located(one: FieldBeside) -> str:
    """Radial and DME: `CVA 213/22`."""
    if one.station is None:
        return figures.UNKNOWN
    dme = "no DME" if not one.station.dme else figures.whole(one.dme_nm)
    return f"{one.station.ident} {figures.course(one.radial_deg)}/{dme}"
