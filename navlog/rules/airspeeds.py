"""True airspeeds and book figures with a digit lost or one too many."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from itertools import pairwise
from math import inf, sqrt

from navlog.flightlog.performance import air_at
from navlog.flightlog.records import Leg, Phase
from navlog.nav.atmosphere import density_ratio, standard_temperature_c, tas_from_cas_kt
from navlog.nav.figures import whole
from navlog.nav.problems import NavlogError, Span
from navlog.request.aircraft import PhaseTable
from navlog.request.levels import level_altitude_ft
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, FLOWN_BY_FILE, sample

_TIMES = 2.0
"""A flight that changes its speed by more has a digit too many or lost (common practice, no source)."""

_STEADY_TIMES = 1.5
_ROWS = 3
"""Speed and burn change little from row to row; two rows do not tell which is wrong (common practice, no source)."""

_RISES = 1.25
"""Thinner air takes from a climb; a change of its speed, as to a Mach number, gives some back (from memory)."""

_LOWEST_CEILING_FT = 8_000.0
"""No aeroplane with all its engines running stops climbing lower (common practice, no source)."""

_FAST_BELOW_FT = 10_000.0
_FASTEST_CAS_KT = 250.0
"""14 CFR 91.117(a)."""

_HALF_KT = 0.5

_SLACK = 1e-6

_WARM_C = 30.0
"""Air so much warmer than standard makes the most true airspeed of it (common practice, no source)."""


@rule(
    "airspeed-doubtful",
    Severity.WARNING,
    group=Group.FLYING,
    source="14 CFR 91.117(a): below 10,000 ft no more than 250 knots indicated",
    remedy="read the speed again: `N0090` is 90 kt, `N0900` 900",
    passing=BASE,
    failing=sample("route XHAR QHB V801 QEL/N0900A055 XOLD"),
)
def airspeed_doubtful(case: Case) -> Iterator[Found]:
    """A leg is flown at more than twice, or less than half, the flight's own true airspeed.

    A climb by the aircraft file may be slower. Also below 10,000 ft at more than 250 kt of calibrated airspeed: by the
    temperature stated or the file's calibrated speeds, else in air 30 degrees C warmer than standard.
    """
    book = (leg.tas_kt for leg in case.legs if leg.phase is Phase.CRUISE and leg.stretch.tas_kt is None)
    own_kt = case.request.tas_kt or next(book, None)
    low_kt, high_kt = (0.0, inf) if own_kt is None else (own_kt / _TIMES, own_kt * _TIMES)
    for leg in case.legs:
        stated_kt = leg.stretch.tas_kt
        tas_kt = stated_kt if stated_kt is not None else leg.tas_kt
        if tas_kt is None:
            continue
        slow = tas_kt < low_kt and (stated_kt is not None or leg.phase is Phase.CRUISE)
        if slow or tas_kt > high_kt:
            yield Found(f"{whole(tas_kt)} kt, where the flight's own is {whole(own_kt)} kt", leg, about=f"{tas_kt}")
        # The coldest air of all makes 200 kt true of 250 indicated.
        elif tas_kt > 0.8 * _FASTEST_CAS_KT:
            yield from _too_fast(case, leg, tas_kt)


def _too_fast(case: Case, leg: Leg, tas_kt: float) -> Iterator[Found]:
    """A leg below 10,000 ft at over 250 kt indicated; a climb or descent is judged where it is lowest."""
    conditions, table = case.log.conditions, None
    altitude_ft = level_altitude_ft(leg.stretch.level, leg.altimeter_hpa)
    if conditions.aircraft is not None and leg.stretch.tas_kt is None:
        by_phase = {Phase.CLIMB: conditions.aircraft.climb, Phase.DESCENT: conditions.aircraft.descent}
        table = by_phase.get(leg.phase, conditions.aircraft.cruise)
        altitude_ft = min(leg.start_altitude_ft, leg.end_altitude_ft)
    if altitude_ft >= _FAST_BELOW_FT:
        return
    air = air_at(conditions, leg.start.position, altitude_ft)
    standard_c = standard_temperature_c(air.pressure_altitude_ft)
    there, temperature_c = "in warm air", standard_c + _WARM_C
    if table is not None and (table.calibrated or air.temperature_c != standard_c):
        there, temperature_c = f"at {whole(air.temperature_c)} C", air.temperature_c
    if table is not None and table.calibrated:
        # Where a table begins above the leg's lowest foot, the leg's own speed stands.
        with suppress(NavlogError):
            tas_kt = table.at(air.pressure_altitude_ft, air.temperature_c).tas_kt
    fastest_kt = tas_from_cas_kt(
        cas_kt=_FASTEST_CAS_KT, pressure_altitude_ft=air.pressure_altitude_ft, temperature_c=temperature_c
    )
    if tas_kt > fastest_kt + _HALF_KT:
        most = f"250 knots indicated, the most below 10,000 ft, are {whole(fastest_kt)} kt {there}"
        yield Found(f"{whole(tas_kt)} kt at {whole(altitude_ft)} ft: {most}", leg, about=f"{tas_kt}")


@once_a_flight
@rule(
    "aircraft-row-doubtful",
    Severity.WARNING,
    group=Group.FLYING,
    subject="aircraft",
    source="the rows beside it in the same table (common practice, no source)",
    remedy="read the row off the book again: a digit may be lost, or one too many",
    passing=sample(*FLOWN_BY_FILE),
    failing=sample(*FLOWN_BY_FILE, "aircraft slipped.toml"),
)
def aircraft_row_doubtful(case: Case) -> Iterator[Found]:
    """A figure of the aircraft's tables is out of line with the rows above and below it.

    A speed or burn of more than one and a half times, or less than two thirds of, what they lead to expect and what
    stands next to it, a rate of more than twice or less than half. Of a chart of time, fuel and distance to climb so is
    what a layer takes, beyond what the rounding of its figures may do. Of two rows either may be wrong: a speed is
    taken to stay the same calibrated or the same true with height, or between, a burn to stay or to fall as the
    standard density does, a rate of climb to rise by no more than a quarter and, falling evenly, to end at no less than
    8,000 ft; a rate of descent is chosen. A row that stands out of the order of heights is told, as a digit
    lost from its own puts it there.
    """
    aircraft = case.log.conditions.aircraft
    tables = () if aircraft is None else (aircraft.climb, aircraft.cruise, aircraft.descent)
    for table in tables:
        if table is None or not table.altitudes_ft:
            continue
        if (out := table.out_of_order) is not None:
            ways, heights_ft = ("up", "down"), (whole(out.altitude_ft), whole(out.after_ft))
            order = ways[out.altitude_ft > out.after_ft]
            told = f"row {out.row} at {heights_ft[0]} ft stands after row {out.after_row} at {heights_ft[1]} ft"
            yield Found(f"[{table.phase}] {told}, where rows go {order}", span=case.request.spans.get("aircraft"))
        if len(table.rows) < _ROWS:
            if not table.cumulative:
                yield from _two_apart(table, case.request.spans.get("aircraft"))
            continue
        if table.cumulative:
            yield from _layers_out_of_line(table, case.request.spans.get("aircraft"))
            continue
        for column in zip(*table.rows, strict=True):
            for name, times, values in (
                ("speed", _STEADY_TIMES, [one.speed_kt for one in column]),
                ("burn", _STEADY_TIMES, [one.burn_per_h for one in column]),
                ("rate", _TIMES, [one.rate_ft_per_min for one in column]),
            ):
                known = [value for value in values if value is not None]
                if len(known) < len(values):
                    continue
                for index in _out_of_line(table.altitudes_ft, known, times):
                    at = f"at {whole(table.altitudes_ft[index])} ft"
                    beside = known[index - 1] if index else known[1]
                    message = f"[{table.phase}] has a {name} of {known[index]:g} {at}, and {beside:g} in the row beside"
                    yield Found(message, span=case.request.spans.get("aircraft"))


def _two_apart(table: PhaseTable, span: Span | None) -> Iterator[Found]:
    """What of two rows no change of the air between them explains."""
    at_ft = table.altitudes_ft
    low_air, high_air = (
        density_ratio(pressure_altitude_ft=one, temperature_c=standard_temperature_c(one)) for one in at_ft
    )
    thinner = high_air / low_air
    # A turbine's burn about halves by FL250, where the density is 0.45 (common practice, no source).
    speed = sqrt(thinner) if table.calibrated else 1.0 / sqrt(thinner)
    for low, high in zip(*table.rows, strict=True):
        for name, changed, below, above in (
            ("speed", speed, low.speed_kt, high.speed_kt),
            ("burn", thinner, low.burn_per_h, high.burn_per_h),
        ):
            if below is None or above is None:
                continue
            least, most = min(1.0, changed) / _STEADY_TIMES, max(1.0, changed) * _STEADY_TIMES
            if not below * least <= above <= below * most:
                both = f"{below:g} at {whole(at_ft[0])} ft and {above:g} at {whole(at_ft[1])} ft"
                yield Found(f"[{table.phase}] has a {name} of {both}", span=span)
        first, second = low.rate_ft_per_min, high.rate_ft_per_min
        if table.phase == Phase.CLIMB and first and second and not _may_climb(at_ft, first, second):
            both = f"{first:g} at {whole(at_ft[0])} ft and {second:g} at {whole(at_ft[1])} ft"
            yield Found(f"[{table.phase}] has a rate of {both}", span=span)


def _may_climb(at_ft: tuple[float, ...], low: float, high: float) -> bool:
    """Whether thinner air may make of one rate of climb the other, at the two heights."""
    if high >= low:
        return high <= low * _RISES
    return at_ft[0] + (at_ft[1] - at_ft[0]) * low / (low - high) >= _LOWEST_CEILING_FT


def _layers_out_of_line(table: PhaseTable, span: Span | None) -> Iterator[Found]:
    """What one layer of a cumulative chart takes that the layers beside do not lead to expect."""
    edges = tuple(pairwise(table.altitudes_ft))
    layers = [layer for (layer,) in table.rows]
    minutes = [(high - low) / (one.rate_ft_per_min or 1.0) for (low, high), one in zip(edges, layers, strict=True)]
    middles_ft = tuple((low + high) / 2.0 for low, high in edges)
    for unit, taken in (
        ("min", minutes),
        ("NM", [time / 60.0 * one.speed_kt for time, one in zip(minutes, layers, strict=True)]),
        ("of fuel", [time / 60.0 * (one.burn_per_h or 0.0) for time, one in zip(minutes, layers, strict=True)]),
    ):
        # Each figure is rounded, so a difference is off by up to a step.
        step = 1.0 if all(abs(one - round(one)) < _SLACK for one in taken) else 0.1
        each_ft = [one / (high - low) for one, (low, high) in zip(taken, edges, strict=True)]
        errors = [step / (high - low) for low, high in edges]
        for index in _out_of_line(middles_ft, each_ft, _TIMES, errors):
            low, high = edges[index]
            beside = taken[index - 1] if index else taken[1]
            layer = f"{round(taken[index], 2):g} {unit} from {whole(low)} to {whole(high)} ft"
            message = f"[{table.phase}] takes {layer}, and {round(beside, 2):g} in the layer beside"
            yield Found(message, span=span)


def _out_of_line(
    altitudes_ft: tuple[float, ...], values: list[float], times: float, errors: list[float] | None = None
) -> Iterator[int]:
    """Which of the values lie far both from the nearest of the others and from the line through two of them.

    A slip throws its neighbours' lines off too: the one whose own line is missed most counts alone. With `errors`,
    by which each may be off, they are what a foot of climb takes, which rises with height.
    """
    missed = {}
    for index, value in enumerate(values):
        first, second = sorted(sorted(range(len(values)), key=lambda other: abs(other - index))[1:3])
        share = (altitudes_ft[index] - altitudes_ft[first]) / (altitudes_ft[second] - altitudes_ft[first])
        on_line = values[first] + share * (values[second] - values[first])
        beside = (on_line, values[first], values[second])
        low, high = min(beside) / times, max(beside) * times
        # Near its ceiling an aeroplane hardly climbs.
        fades = index == len(values) - 1 and times == _TIMES
        if errors is not None:
            low, high = low - errors[index], inf if fades else high + errors[index]
        elif fades:
            low = 0.0
        if value > high or value < low:
            missed[index] = max(value / high, low / max(value, 1e-9))
    if missed:
        yield max(missed, key=lambda index: missed[index])
