"""Winds and temperatures that are handed in: for which hours and places they are, and what makes no use of them."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import pressure_ft
from navlog.flightlog.counted import leaving
from navlog.flightlog.records import Conditions, Leg, Log, Phase
from navlog.nav.figures import whole, zulu
from navlog.nav.problems import NavlogError
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, FLOWN_BY_FILE, sample

_FAR_DAYS = 2
"""Winds aloft are forecast for 24 hours; a bulletin whose day is farther away is of another month, or old."""

_WARMER_C = 10.0
"""How far from standard air is on many days (common practice, no source)."""

_BY_FILE = sample(*FLOWN_BY_FILE)


@rule(
    "bulletin-period",
    Severity.WARNING,
    group=Group.REST,
    subject="bulletin",
    at_times=(Severity.ERROR,),
    source="the bulletin's FOR USE line",
    remedy="use the bulletin whose period of use covers the flight",
    passing=_BY_FILE,
    failing=sample("-wind", "winds morning.txt"),
)
def bulletin_period(case: Case) -> Iterator[Found]:
    """The forecast winds are not for use at the time of the flight.

    An error where no part of the flight is covered, or where the bulletin's own day is more than 2 days from it:
    a bulletin names no month, so that of the flight is taken.
    """
    bulletins = case.log.conditions.bulletins
    if not bulletins:
        return
    (off, _), on = leaving(case.log), case.clock(case.legs[-1])
    for use in bulletins:
        if abs((use.valid.date() - case.request.day).days) > _FAR_DAYS:
            of_day = f"is of day {use.valid.day}, {use.valid:%Y-%m-%d} with the month taken from the flight"
            message = f"{use.heading or use.file} {of_day}, and the flight is on {case.request.day}"
            yield Found(message, None, Severity.ERROR, case.request.spans.get("winds"), about=use.file)
            continue
        if off is None or (use.use_from <= off and (on or off) <= use.use_to):
            continue
        apart = (on or off) < use.use_from or off > use.use_to
        period = f"{zulu(use.use_from)} to {zulu(use.use_to)} on {use.valid:%Y-%m-%d}"
        flight = "way to the alternate" if case.begun else "flight"
        flown = zulu(off) if on is None else f"{zulu(off)} to {zulu(on)}"
        message = f"{use.heading or use.file} is for use {period}, and the {flight} is {flown} on {off:%Y-%m-%d}"
        yield Found(message, None, Severity.ERROR if apart else None, case.request.spans.get("winds"), about=use.file)


@once_a_flight
@rule(
    "bulletin-stations",
    Severity.NOTE,
    group=Group.REST,
    subject="bulletin",
    source="a wind holds at a place",
    remedy="import a catalogue, or define the stations near the route",
    passing=_BY_FILE,
    failing=sample("-wind", "winds morning.txt"),
)
def bulletin_stations(case: Case) -> Iterator[Found]:
    """Stations of a bulletin have no known position, so their winds are not used."""
    for use in case.log.conditions.bulletins:
        if use.missing:
            one = use.missing == 1
            message = f"{use.missing} station{'' if one else 's'} of {use.heading or use.file}"
            used = ", ".join(use.stations)
            yield Found(
                f"{message} {'has' if one else 'have'} no known position; the winds are those of {used}",
                span=case.request.spans.get("winds"),
            )


@once_a_flight
@rule(
    "wind-not-used",
    Severity.WARNING,
    group=Group.REST,
    subject="wind at a place",
    source="winds at places stand before one that holds everywhere",
    remedy="leave one of the two out, or give the other its place: `wind at QHB 230/12`",
    passing=_BY_FILE,
    failing=BASE + "wind at QHB 240/15\n",
)
def wind_not_used(case: Case) -> Iterator[Found]:
    """A wind without a place stands beside winds at places, and is used only where no position is known."""
    columns = case.log.conditions.winds or ()
    if len({column.position is None for column in columns}) == 2:
        message = "the `wind` without a place is not used: the winds at places stand before it"
        yield Found(message, span=case.request.spans.get("wind"))


@once_a_flight
@rule(
    "standard-temperature",
    Severity.NOTE,
    group=Group.REST,
    subject="aircraft",
    source="nothing is assumed in silence",
    remedy="give the temperature at the field of departure, `temperature 21C`, or winds with temperatures",
    passing=_BY_FILE,
    failing=sample("aircraft climber.toml", "-tas", "-burn"),
)
def standard_temperature(case: Case) -> Iterator[Found]:
    """Printed figures depend on the temperature, and that of the standard atmosphere is used.

    Told only where 10 degrees C more or less would change a speed, a rate or a burn as printed.
    """
    conditions = case.log.conditions
    if conditions.aircraft is None or conditions.isa_deviation_c is not None or _measures_temperature(case.log):
        return
    if any(_by_temperature(leg, conditions) for leg in case.legs):
        yield Found("no temperature is known: that of the standard atmosphere is used")


def _by_temperature(leg: Leg, conditions: Conditions) -> bool:
    """Whether other air than the standard atmosphere's would change what is printed of a leg."""
    from navlog.flightlog.performance import vertical_table
    from navlog.nav.atmosphere import standard_temperature_c

    aircraft = conditions.aircraft
    table = aircraft.cruise if aircraft is not None else None
    if leg.phase in (Phase.CLIMB, Phase.DESCENT):
        table = vertical_table(conditions, leg.phase)
    elif leg.stretch.tas_kt is not None and conditions.burn_per_h is not None:
        # The stated figures stand before the file's, whatever the air.
        return False
    if table is not None and table.warmth is not None and table.warmth.percent > 0.0:
        # The note on warm air of a chart of time, fuel and distance to climb.
        return True
    if table is None or not (table.calibrated or table.temperatures_c):
        return False
    standard_ft = pressure_ft((leg.start_altitude_ft + leg.end_altitude_ft) / 2.0, conditions.altimeter_hpa)
    printed = set()
    for warmer_c in (-_WARMER_C, 0.0, _WARMER_C):
        try:
            book = table.at(standard_ft, standard_temperature_c(standard_ft) + warmer_c)
        except NavlogError:
            return True
        printed.add((whole(book.tas_kt), whole(book.rate_ft_per_min), book.burn_per_h))
    return len(printed) > 1


@once_a_flight
@rule(
    "temperature-not-used",
    Severity.NOTE,
    group=Group.REST,
    subject="temperature stated",
    source="the temperature at the field stands for the air above it only where nothing was measured there",
    remedy="leave `temperature` out, or give the field's elevation",
    passing=sample("aircraft climber.toml", "-tas", "-burn", "temperature 21C"),
    failing=sample(*FLOWN_BY_FILE, "temperature 21C"),
)
def temperature_not_used(case: Case) -> Iterator[Found]:
    """A stated temperature makes no difference to speeds.

    The winds have their own, the field has no elevation, or no aircraft file has figures by temperature.
    """
    conditions = case.log.conditions
    span = case.request.spans.get("temperature")
    if span is None:
        return
    if conditions.aircraft is None:
        yield Found("without an aircraft file speed and burn are as stated, whatever the temperature", span=span)
    elif _measures_temperature(case.log):
        yield Found("the temperatures of the winds stand before the one stated", span=span)
    elif not any(_by_temperature(leg, conditions) for leg in case.legs):
        yield Found("no speed, rate or burn of this flight goes by the temperature", span=span)
    elif conditions.isa_deviation_c is None:
        yield Found(f"the elevation of {case.log.route.points[0].name} is not known", span=span)


def _measures_temperature(log: Log) -> bool:
    """Whether the winds given come with temperatures."""
    return any(level.temperature_c is not None for column in log.conditions.winds or () for level in column.levels)
