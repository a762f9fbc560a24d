"""True airspeeds and book figures with a digit lost or one too many."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.records import Phase
from navlog.nav.atmosphere import standard_temperature_c, tas_from_cas_kt
from navlog.nav.figures import whole
from navlog.request.levels import level_altitude_ft
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, FLOWN_BY_FILE, sample

_TIMES = 2.0
"""A flight that changes its speed by more has a digit too many or lost (common practice, no source)."""

_STEADY_TIMES = 1.5
_ROWS = 3
"""Speed and burn change little from row to row; two rows do not tell which is wrong (common practice, no source)."""

_FAST_BELOW_FT = 10_000.0
_FASTEST_CAS_KT = 250.0
"""14 CFR 91.117(a)."""

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

    Also below 10,000 ft at more than 250 kt of calibrated airspeed, in air 30 degrees C warmer than standard.
    """
    book = (leg.tas_kt for leg in case.legs if leg.phase is Phase.CRUISE and leg.stretch.tas_kt is None)
    own_kt = case.request.tas_kt or next(book, None)
    for leg in case.legs:
        stated_kt = leg.stretch.tas_kt
        tas_kt = stated_kt if stated_kt is not None else leg.tas_kt
        if tas_kt is None:
            continue
        if own_kt is not None and not own_kt / _TIMES <= tas_kt <= own_kt * _TIMES:
            yield Found(f"{whole(tas_kt)} kt, where the flight's own is {whole(own_kt)} kt", leg, about=f"{tas_kt}")
        elif tas_kt > _FASTEST_CAS_KT:
            altitude_ft = level_altitude_ft(leg.stretch.level, leg.altimeter_hpa)
            if altitude_ft >= _FAST_BELOW_FT:
                continue
            warm_c = standard_temperature_c(altitude_ft) + _WARM_C
            fastest_kt = tas_from_cas_kt(cas_kt=_FASTEST_CAS_KT, pressure_altitude_ft=altitude_ft, temperature_c=warm_c)
            if tas_kt > fastest_kt:
                most = f"250 knots indicated, the most below 10,000 ft, are {whole(fastest_kt)} kt in warm air"
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
    stands next to it, a rate of more than twice or less than half.
    """
    aircraft = case.log.conditions.aircraft
    tables = () if aircraft is None else (aircraft.climb, aircraft.cruise, aircraft.descent)
    for table in tables:
        # The layers of a cumulative chart are differences, which no book prints.
        if table is None or table.cumulative or len(table.rows) < _ROWS:
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


def _out_of_line(altitudes_ft: tuple[float, ...], values: list[float], times: float) -> Iterator[int]:
    """Which of the values lie far both from the nearest of the others and from the line through two of them.

    A slip throws its neighbours' lines off too: the one whose own line is missed most counts alone.
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
        if value > high or (value < low and not fades):
            missed[index] = max(value / high, low / max(value, 1e-9))
    if missed:
        yield max(missed, key=lambda index: missed[index])
