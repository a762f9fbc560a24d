"""Airports to which a flight could divert, as they come with its report; nothing of approaches is in the data."""

from __future__ import annotations

from msgspec import Struct

from navlog.nav.chart import Airport, Station


class FieldBeside(Struct, frozen=True):
    """An airport beside the way, from the point of the way that is nearest to it.

    That point lies `along_nm` from take-off over the way, `beyond_nm` past the point of the route named `past`.
    Course (true and magnetic), heading, distance and time are direct from there in the planned wind. `station`,
    `radial_deg` and `dme_nm` say where the airport lies from a VOR, by DME at the height flown; None where unknown.
    """

    airport: Airport
    along_nm: float
    past: str
    beyond_nm: float
    distance_nm: float
    true_course_deg: float
    magnetic_course_deg: float | None
    magnetic_heading_deg: float | None
    time_min: float | None
    station: Station | None
    radial_deg: float | None
    dme_nm: float | None


class FieldsBeside(Struct, frozen=True):
    """The diversions of a flight in flying order: all within `reach_nm` of its way, which is `way_nm` long.

    `searched` tells whether published data was asked; else only the route file's own airports are there.
    """

    way_nm: float
    reach_nm: float
    searched: bool
    found: tuple[FieldBeside, ...]
