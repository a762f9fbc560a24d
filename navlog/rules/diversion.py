"""Airports to which a flight could divert, as they come with its report; nothing of approaches is in the data."""

from __future__ import annotations

from msgspec import Struct

from navlog.nav.chart import Airport, Station


class FieldBeside(Struct, frozen=True):
    """An airport beside the way, from the point of the way that is nearest to it.

    That point lies `along_nm` from take-off over the way, `beyond_nm` past the point of the route named `past`.
    Magnetic course and heading, distance and time are direct from there, level in the planned wind; over the field
    itself it is `overhead`, without a course. `station`, `radial_deg` and `dme_nm` say where the airport lies from a
    VOR, by DME at the height flown. None where unknown.
    """

    airport: Airport
    along_nm: float
    past: str
    beyond_nm: float
    distance_nm: float
    overhead: bool
    magnetic_course_deg: float | None
    magnetic_heading_deg: float | None
    time_min: float | None
    station: Station | None
    radial_deg: float | None
    dme_nm: float | None


class FieldsBeside(Struct, frozen=True):
    """The airports beside a flight in flying order: all within `reach_nm` of its way, which is `way_nm` long.

    `searched` tells whether published data was asked; else only the route file's own airports are there. Of
    `unknown_use` fields within reach the data does not say whether they are public, and of `closed` a notice handed
    in says that they are closed; neither are among the `found`.
    """

    way_nm: float
    reach_nm: float
    searched: bool
    unknown_use: int
    closed: tuple[str, ...]
    found: tuple[FieldBeside, ...]
