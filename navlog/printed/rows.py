"""The printed figures of a log: one row a leg, columns that add as printed, and the table of columns."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import asdict

from navlog.flightlog import facts
from navlog.flightlog.altitudes import altitudes_ft, below, level_flown
from navlog.flightlog.counted import Count, counts
from navlog.flightlog.records import Leg, Log
from navlog.nav import figures
from navlog.nav.chart import Airport, Place, Station
from navlog.printed.clocks import local_text
from navlog.printed.fuel import least_left
from navlog.printed.meant import MARK, NOTHING, Meant
from navlog.request.levels import level_altitude_ft
from navlog.rules.heights import descends_to_land

if TYPE_CHECKING:
    from navlog.request.aircraft import CompassCard

_UNVERIFIED = "*"
"""Behind a name that comes from data nobody vouches for."""


class Row(Count, frozen=True):
    """A leg with its printed counts, and how they are told.

    `least_steps` is the least fuel that must be left at the leg's end to go on as planned. `meant` are the columns
    whose figures an error or warning means.
    """

    least_steps: int | None
    meant: frozenset[str] = frozenset()

    def marked(self, key: str, text: str) -> str:
        """A figure of a column, with `!` behind it where an error or warning means it; `?` and `XXX` say it already."""
        told = text in (figures.UNKNOWN, figures.IMPOSSIBLE, figures.NOT_APPLICABLE, "")
        return text if told or key not in self.meant else f"{text}{MARK}"

    def fuel(self, steps: int | None) -> str:
        """A count of fuel steps as printed."""
        return figures.fuel(steps, self.log.fuel_unit.step)


class _Column(Struct, frozen=True):
    """A column of the log: its key in machine formats, its heading, unit and printed figure without its mark."""

    key: str
    heading: str
    unit: str
    plain: Callable[[Row], str]

    def figure(self, row: Row) -> str:
        """The printed figure of a row, with `!` behind it where an error or warning means it."""
        return row.marked(self.key, self.plain(row))


def rows(log: Log, meant: Meant = NOTHING) -> tuple[Row, ...]:
    """The printed rows of a log, with the figures marked that findings mean."""
    return tuple(
        Row(**asdict(count), least_steps=least, meant=meant.get(count.leg.number, frozenset()))
        for count, least in zip(counts(log), least_left(log), strict=True)
    )


def totals(printed: Sequence[Row]) -> tuple[int, int | None, int | None]:
    """The tenths of a NM, the minutes and the fuel steps of a way as its rows add; None where one is not known."""
    return (
        sum(row.distance_tenths for row in printed),
        figures.total(row.time_min for row in printed),
        figures.total(row.fuel_steps for row in printed),
    )


def on_board_steps(row: Row) -> int | None:
    """The fuel steps on board where a leg begins; None where that is not known."""
    return None if row.left_steps is None or row.fuel_steps is None else row.left_steps + row.fuel_steps


def to_next_landing(printed: Sequence[Row], index: int) -> tuple[int, str]:
    """The tenths of a NM from a row's end to the next landing, the last one included, and where that is."""
    landing = next((row for row in printed[index:] if row.leg.lands), printed[-1])
    return printed[index].remaining_tenths - landing.remaining_tenths, landing.leg.end.name


def heading(row: Row) -> str:
    """The heading flown: by compass where a card is given, else magnetic; `~` by station north.

    Where the card says nothing near it, it is magnetic with the letter: `037M`.
    """
    leg = row.leg
    if compass_card(row.log) is None:
        return _magnetic_heading(row)
    if leg.compass_heading_deg is not None:
        return unless_impossible(row, by_north(row, figures.course(leg.compass_heading_deg)))
    text = _magnetic_heading(row)
    return f"{text}M" if text[-1].isdigit() else text


def compass_card(log: Log) -> CompassCard | None:
    """The card of the aircraft's compass, where it has one."""
    return log.conditions.aircraft.compass if log.conditions.aircraft is not None else None


def by_north(row: Row, text: str) -> str:
    """The figure, marked where a station's declination stands in for the variation."""
    return text if text == figures.UNKNOWN else facts.by_north(row.leg, text)


def unless_impossible(row: Row, text: str) -> str:
    """The figure, or XXX where the wind cannot be flown."""
    leg = row.leg
    return figures.IMPOSSIBLE if leg.triangle is not None and leg.triangle.unflyable is not None else text


def set_course(row: Row) -> str:
    """The course to set with its flag: `212 FROM`; true-referenced stations print `087T TO`."""
    guidance = row.leg.part.guidance
    if guidance is None or no_course(row):
        return figures.NOT_APPLICABLE
    return f"{facts.course_to_set(guidance)} {guidance.flag.value}"


def no_course(row: Row) -> bool:
    """Whether the leg is an airport beside its station, where no course is set."""
    guidance = row.leg.part.guidance
    return guidance is not None and guidance.radial.flown is None and row.leg.stretch.length_nm <= 1.0


def marked(place: Place) -> str:
    """A name of the chart, with `*` where nobody vouches for its data."""
    return place.ident if place.provenance.verified else place.ident + _UNVERIFIED


def _of_station(row: Row, figure: Callable[[Station], str]) -> str:
    """A figure of the station in use; `-` without one."""
    guidance = row.leg.part.guidance
    return figures.NOT_APPLICABLE if guidance is None else figure(guidance.station)


def station(row: Row) -> str:
    """The station to tune with its frequency."""
    return _of_station(row, lambda one: f"{marked(one)} {figures.frequency(one.frequency_mhz)}")


def _morse_code(row: Row) -> str:
    """The Morse of the station in use."""
    from navlog.nav.radio import morse

    return _of_station(row, lambda one: morse(one.ident))


def _radial(row: Row) -> str:
    """The radial flown, FROM the station: `R-212`."""
    guidance = row.leg.part.guidance
    if guidance is None or guidance.radial.flown is None:
        return figures.NOT_APPLICABLE if guidance is None or no_course(row) else figures.UNKNOWN
    return f"R-{figures.course(guidance.radial.flown)}"


def wind(row: Row) -> str:
    """The wind at the leg's middle: `236/15`, `calm`."""
    blows = row.leg.wind
    if blows is None:
        return figures.UNKNOWN
    speed = figures.whole(blows.speed_kt)
    return "calm" if speed == "0" else f"{figures.course(blows.from_true_deg)}/{speed}"


def _true_heading(row: Row) -> str:
    """The true heading."""
    return unless_impossible(row, figures.course(row.leg.triangle.true_heading_deg if row.leg.triangle else None))


def _magnetic_heading(row: Row) -> str:
    """The magnetic heading; `~` by station north."""
    return unless_impossible(row, by_north(row, figures.course(row.leg.magnetic_heading_deg)))


def _compass_heading(row: Row) -> str:
    """The compass heading; `-` without a compass card."""
    if compass_card(row.log) is None:
        return figures.NOT_APPLICABLE
    return unless_impossible(row, by_north(row, figures.course(row.leg.compass_heading_deg)))


def _deviation(row: Row) -> str:
    """The deviation of the compass; `-` without a card."""
    if compass_card(row.log) is None:
        return figures.NOT_APPLICABLE
    angle_deg = row.leg.deviation_deg
    return figures.UNKNOWN if angle_deg is None else figures.east_west(figures.half_up(angle_deg))


def minimum(row: Row) -> str:
    """The minimum altitude with its kind, the MEA before the MOCA: `MEA 3000`, `min 2700`.

    Where a finding means the height, any other limit follows that it misses: `MEA 3000 MCA 5000`.
    """
    kind, altitude_ft = facts.lowest(row.leg.stretch.limits)
    found = f"{kind} {figures.whole(altitude_ft)}"
    return " ".join((found, *missed(row.leg))) if "altitude" in row.meant else found


def missed(leg: Leg) -> Iterator[str]:
    """The limits besides the MEA or stated minimum that a leg's heights miss."""
    limits, (start_ft, end_ft) = leg.stretch.limits, altitudes_ft(leg)
    if limits.moca_ft is not None and below(min(start_ft, end_ft), limits.moca_ft):
        yield f"MOCA {figures.whole(limits.moca_ft)}"
    for one in limits.crossings_start if leg.start_nm == 0.0 else ():
        if below(start_ft, one.altitude_ft):
            yield f"{facts.crossing_kind(one)} {figures.whole(one.altitude_ft)}"
    if limits.mra_end_ft is not None and leg.ends_stretch and below(end_ft, limits.mra_end_ft):
        yield f"MRA {figures.whole(limits.mra_end_ft)}"
    if limits.maa_ft is not None and below(limits.maa_ft, max(start_ft, end_ft)):
        yield f"MAA {figures.whole(limits.maa_ft)}"


def _altitude(row: Row) -> str:
    """The planned altitude at the leg's end, both where it changes."""
    start, end = (height(row, ft) for ft in (row.leg.start_altitude_ft, row.leg.end_altitude_ft))
    return end if start == end else f"{start}-{end}"


def height(row: Row, altitude_ft: float) -> str:
    """A height on the way: a planned level as stated, any other in feet to the nearest 10."""
    level = level_flown(altitude_ft, row.leg, (one.level for one in row.log.route.stretches))
    if level is not None:
        return figures.level(level.altitude_ft, flight_level=level.flight_level)
    # Heights on the way come of a climb's arithmetic: no altimeter is read to a foot.
    return figures.level(figures.half_up(altitude_ft, 10.0) * 10.0)


def kept_ft(row: Row) -> float:
    """The altitude to fly to on a leg: where it ends, but in the descent to land under IFR no lower than its minimum.

    The approach is not planned: below the minimum up to the leg's end (14 CFR 91.177(a)) and at the field's elevation
    the plan has no altitude to fly at. Where no minimum is known, where the descent begins stands for the field.
    """
    leg, end_ft = row.leg, row.leg.end_altitude_ft
    if row.log.route.request.rules != "ifr" or not descends_to_land(leg, row.log.legs[-1]):
        return end_ft
    least_ft, place = leg.stretch.limits.least_ft, leg.stretch.end.place
    if least_ft is not None:
        return max(end_ft, min(least_ft, level_altitude_ft(leg.stretch.level, leg.altimeter_hpa)))
    return leg.start_altitude_ft if isinstance(place, Airport) and end_ft == place.elevation_ft else end_ft


def height_words(row: Row, altitude_ft: float) -> str:
    """A height where words stand around it, so that no figure is read as a time: `1030 ft`, `FL090`."""
    text = height(row, altitude_ft)
    return f"{text} ft" if text.isdigit() else text


def _local(row: Row) -> str:
    """The local time of arrival; `-` where the flight names no zone, or one that is UTC."""
    conditions = row.log.conditions
    return local_text(row.clock, conditions.zone, conditions.day) or figures.NOT_APPLICABLE


def ends(row: Row) -> tuple[str, str]:
    """From and to, a changeover point as `COP`."""
    return point_name(row.leg.start.kind, row.leg.start.name), point_name(row.leg.end.kind, row.leg.end.name)


def point_name(kind: str, name: str) -> str:
    """The name of a leg's end in a narrow column."""
    return "COP" if kind == "changeover" else name


def _of_way(figure: Callable[[Row], str]) -> Callable[[Row], str]:
    """A figure of flight along a course; `-` of time at a place, which has no single one."""
    return lambda row: figures.NOT_APPLICABLE if row.leg.stays else figure(row)


_COLUMNS: tuple[_Column, ...] = (
    _Column("number", "No", "", lambda row: str(row.leg.number)),
    _Column("from", "From", "", lambda row: ends(row)[0]),
    _Column("to", "To", "", lambda row: ends(row)[1]),
    _Column("via", "Via", "", lambda row: row.leg.stretch.via),
    _Column("phase", "Phase", "", lambda row: row.leg.phase.value),
    _Column("station", "Tune", "MHz", station),
    _Column("morse", "Morse", "", _morse_code),
    _Column("radial", "Radial", "deg", _radial),
    _Column("set_course", "Set", "deg", set_course),
    _Column("heading", "Hdg", "deg", _of_way(heading)),
    _Column("time", "Time", "h:min", lambda row: unless_impossible(row, figures.minutes(row.time_min))),
    _Column("elapsed", "Elap", "h:min", lambda row: figures.minutes(row.elapsed_min)),
    _Column("eta", "ETA", "UTC", lambda row: figures.zulu(row.clock, row.log.conditions.day)),
    _Column("local", "Local", "", _local),
    _Column("distance", "Dist", "NM", lambda row: figures.tenths(row.distance_tenths)),
    _Column("remaining", "Rem", "NM", lambda row: figures.tenths(row.remaining_tenths)),
    _Column("altitude", "Alt", "ft", _altitude),
    _Column("minimum", "Minimum", "ft", minimum),
    _Column("true_course", "TC", "deg", _of_way(lambda row: figures.course(row.leg.true_course_deg))),
    _Column("wind", "Wind", "deg/kt", wind),
    _Column("tas", "TAS", "kt", lambda row: figures.whole(row.leg.tas_kt)),
    _Column("correction", "WCA", "deg", _of_way(lambda row: unless_impossible(row, _correction(row)))),
    _Column("true_heading", "TH", "deg", _of_way(_true_heading)),
    _Column("variation", "Var", "deg", lambda row: by_north(row, figures.east_west(row.leg.variation_deg))),
    _Column(
        "magnetic_course", "MC", "deg", _of_way(lambda row: by_north(row, figures.course(row.leg.magnetic_course_deg)))
    ),
    _Column("magnetic_heading", "MH", "deg", _of_way(_magnetic_heading)),
    _Column("deviation", "Dev", "deg", _of_way(_deviation)),
    _Column("compass_heading", "CH", "deg", _of_way(_compass_heading)),
    _Column(
        "groundspeed", "GS", "kt", _of_way(lambda row: unless_impossible(row, figures.whole(row.leg.groundspeed_kt)))
    ),
    _Column("fuel_used", "Used", "fuel", lambda row: row.fuel(row.fuel_steps)),
    _Column("fuel_left", "Left", "fuel", lambda row: row.fuel(row.left_steps)),
    _Column("fuel_least", "Least", "fuel", lambda row: row.fuel(row.least_steps)),
)
"""Every column once; a sheet picks those that it prints."""

BY_KEY = {column.key: column for column in _COLUMNS}


def _correction(row: Row) -> str:
    """The wind correction with its side."""
    return figures.correction(row.leg.triangle.wind_correction_deg if row.leg.triangle is not None else None)
