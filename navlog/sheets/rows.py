"""The printed figures of a log: one row a leg, columns that add as printed, and the table of columns."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from navlog import figures
from navlog.flightlog.records import Leg, Log
from navlog.guidance import Flag


@dataclass(frozen=True, slots=True)
class Row:
    """A leg with its printed counts: tenths of a NM, whole minutes, fuel steps; None where unknown."""

    log: Log
    leg: Leg
    distance_tenths: int
    remaining_tenths: int
    time_min: int | None
    elapsed_min: int | None
    clock: datetime | None
    fuel_steps: int | None
    left_steps: int | None

    def fuel(self, steps: int | None) -> str:
        """A count of fuel steps as printed."""
        return figures.fuel(steps, self.log.fuel_unit.step)


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the log: its key in machine formats, its heading, unit and printed figure."""

    key: str
    heading: str
    unit: str
    figure: Callable[[Row], str]


def rows(log: Log) -> tuple[Row, ...]:
    """The printed rows of a log.

    Running totals are rounded once from the exact sum; a leg shows the difference. Fuel used rounds up and
    fuel on board down, both anew from each fuelling, so that never more is left than there is; the clock is
    `off` plus the printed running minutes and the stops.
    """
    legs, step = log.legs, log.fuel_unit.step
    distances = figures.running((leg.distance_nm for leg in legs), 0.1)
    times = figures.running((leg.time_min for leg in legs), 1.0)
    total_tenths = distances[-1] or 0
    found = []
    stops_min = 0
    board = None if log.conditions.on_board is None else figures.down(log.conditions.on_board, step)
    shown = zip(
        legs,
        distances,
        figures.differences(distances),
        times,
        figures.differences(times),
        fuel_since_fuelling(legs, step),
        strict=True,
    )
    for leg, along, length, flown, time_min, (fuel_steps, since_steps) in shown:
        elapsed_min = None if flown is None else flown + stops_min
        clock = None
        if log.conditions.off is not None and elapsed_min is not None:
            clock = log.conditions.off + timedelta(minutes=elapsed_min)
        left = None if board is None or since_steps is None else board - since_steps
        found.append(
            Row(
                leg=leg,
                log=log,
                distance_tenths=length or 0,
                remaining_tenths=total_tenths - (along or 0),
                time_min=time_min,
                elapsed_min=elapsed_min,
                clock=clock,
                fuel_steps=fuel_steps,
                left_steps=left,
            )
        )
        stops_min += figures.half_up(leg.stop_min)
        if leg.fuel_taken is not None:
            board = figures.down(leg.fuel_taken, step)
    return tuple(found)


def fuel_since_fuelling(legs: tuple[Leg, ...], step: float) -> tuple[tuple[int | None, int | None], ...]:
    """The steps of fuel that each leg shows as used, and those used since the last fuelling."""
    found: list[tuple[int | None, int | None]] = []
    flown: list[float | None] = []
    for leg in legs:
        flown.append(leg.fuel_used)
        if leg.fuel_taken is not None or leg is legs[-1]:
            since = figures.running(flown, step, upward=True)
            found.extend(zip(figures.differences(since), since, strict=True))
            flown = []
    return tuple(found)


def heading(row: Row) -> str:
    """The heading flown: by compass where a deviation card is given, else magnetic; `~` by station north."""
    leg = row.leg
    if leg.triangle is not None and leg.triangle.unflyable is not None:
        return figures.IMPOSSIBLE
    flown = leg.compass_heading_deg if leg.compass_heading_deg is not None else leg.magnetic_heading_deg
    return by_north(row, figures.course(flown))


def by_north(row: Row, text: str) -> str:
    """The figure, marked where a station's declination stands in for the variation."""
    marked = row.leg.variation_source == "station" and text != figures.UNKNOWN
    return figures.BY_STATION_NORTH + text if marked else text


def unless_impossible(row: Row, text: str) -> str:
    """The figure, or XXX where the wind cannot be flown."""
    leg = row.leg
    return figures.IMPOSSIBLE if leg.triangle is not None and leg.triangle.unflyable is not None else text


def set_course(row: Row) -> str:
    """The course to set with its flag: `212 FROM`; true-referenced stations print `087T TO`."""
    guidance = row.leg.part.guidance
    if guidance is None or no_course(row):
        return figures.NOT_APPLICABLE
    inbound = guidance.flag is Flag.TO
    north = "T" if guidance.station.true_referenced else ""
    return f"{figures.set_course(guidance.radial.flown, inbound=inbound)}{north} {guidance.flag.value}"


def no_course(row: Row) -> bool:
    """Whether the leg is an airport beside its station, where no course is set."""
    guidance = row.leg.part.guidance
    return guidance is not None and guidance.radial.flown is None and row.leg.stretch.length_nm <= 1.0


def station(row: Row) -> str:
    """The station to tune with its frequency."""
    guidance = row.leg.part.guidance
    if guidance is None:
        return figures.NOT_APPLICABLE
    return f"{guidance.station.ident} {figures.frequency(guidance.station.frequency_mhz)}"


def minimum(row: Row) -> str:
    """The minimum altitude with its kind, the MEA before the MOCA: `MEA 3000`, `min 2700`."""
    limits = row.leg.stretch.limits
    if limits.mea_ft is not None:
        return f"MEA {figures.whole(limits.mea_ft)}"
    if limits.minimum_ft is not None:
        return f"min {figures.whole(limits.minimum_ft)}"
    return f"min {figures.UNKNOWN}"


def altitude(row: Row) -> str:
    """The planned altitude at the leg's end, both where it changes."""
    leg = row.leg
    level = leg.stretch.level.flight_level
    start, end = (figures.level(ft, flight_level=level) for ft in (leg.start_altitude_ft, leg.end_altitude_ft))
    return end if start == end else f"{start}-{end}"


def ends(row: Row) -> tuple[str, str]:
    """From and to, a changeover point as `COP`."""
    return point_name(row.leg.start.kind, row.leg.start.name), point_name(row.leg.end.kind, row.leg.end.name)


def point_name(kind: str, name: str) -> str:
    """The name of a leg's end in a narrow column."""
    return "COP" if kind == "changeover" else name


COLUMNS: tuple[Column, ...] = (
    Column("number", "No", "", lambda row: str(row.leg.number)),
    Column("from", "From", "", lambda row: ends(row)[0]),
    Column("to", "To", "", lambda row: ends(row)[1]),
    Column("via", "Via", "", lambda row: row.leg.stretch.via),
    Column("phase", "Phase", "", lambda row: row.leg.phase.value),
    Column("station", "Tune", "MHz", station),
    Column("set_course", "Set", "deg", set_course),
    Column("heading", "Hdg", "deg", heading),
    Column("time", "Time", "h:min", lambda row: unless_impossible(row, figures.minutes(row.time_min))),
    Column("eta", "ETA", "UTC", lambda row: figures.zulu(row.clock)),
    Column("distance", "Dist", "NM", lambda row: figures.tenths(row.distance_tenths)),
    Column("remaining", "Rem", "NM", lambda row: figures.tenths(row.remaining_tenths)),
    Column("altitude", "Alt", "ft", altitude),
    Column("minimum", "Minimum", "ft", minimum),
    Column("true_course", "TC", "deg", lambda row: figures.course(row.leg.true_course_deg)),
    Column("magnetic_course", "MC", "deg", lambda row: by_north(row, figures.course(row.leg.magnetic_course_deg))),
    Column("correction", "WCA", "deg", lambda row: unless_impossible(row, correction(row))),
    Column("groundspeed", "GS", "kt", lambda row: unless_impossible(row, figures.whole(row.leg.groundspeed_kt))),
    Column("fuel_used", "Used", "fuel", lambda row: row.fuel(row.fuel_steps)),
    Column("fuel_left", "Left", "fuel", lambda row: row.fuel(row.left_steps)),
)
"""Every column once; a sheet picks those that it prints."""

BY_KEY = {column.key: column for column in COLUMNS}


def correction(row: Row) -> str:
    """The wind correction with its side."""
    return figures.correction(row.leg.triangle.wind_correction_deg if row.leg.triangle is not None else None)
