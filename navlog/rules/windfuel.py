"""Wind that cannot be flown, and fuel that is not there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from math import cos, hypot, radians

from navlog.flightlog.counted import count_of
from navlog.flightlog.fuel import LONGEST_MIN, reserve_at, reserve_by_rule
from navlog.flightlog.performance import fuel_in_time
from navlog.flightlog.records import Leg, LegPoint, Log
from navlog.nav.angles import difference_deg
from navlog.nav.atmosphere import standard_temperature_c
from navlog.nav.chart import Position
from navlog.nav.figures import down, fuel, up, whole
from navlog.nav.wind import WindColumn
from navlog.rules.heights import climbs_from_airports, descents_to_airports
from navlog.rules.light import landings_by_night, own_reserve_min
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, sample

BEYOND_FT = 2_000.0
"""A wind held over more than this is a guess (the format's own bound)."""

_FAR_NM = 150.0
_TOO_FAR_NM = 300.0
"""So far from its place a wind says little of the air that is flown in, and nothing (common practice, no source)."""

_SLOW = 0.5
"""A groundspeed under half the true airspeed (practice case A50; common practice, no source)."""

_LOW_FT = 10_000.0
_MOST_LOW_KT = 100.0
_MOST_HIGH_KT = 200.0
"""Stronger winds are met so seldom that the figure is asked about (common practice, no source)."""

_WARMER_C = 40.0
_COLDER_C = 65.0
"""So far from standard hardly any air is (common practice, no source); WMO's extremes, 56.7 and -89.2 C, lie beyond."""


@rule(
    "unflyable-wind",
    Severity.ERROR,
    group=Group.FLYING,
    source="wind triangle: crosswind no more than the true airspeed and a groundspeed above 0",
    remedy="wait for another wind, fly faster, or go another way",
    passing=BASE,
    failing=sample("wind 300/150"),
    acceptable=False,
)
def unflyable_wind(case: Case) -> Iterator[Found]:
    """No heading holds the course, or the wind blows the aeroplane backwards."""
    for leg in case.legs:
        if leg.triangle is not None and leg.triangle.unflyable is not None:
            yield Found(f"impossible at {whole(leg.tas_kt)} kt: {leg.triangle.unflyable}", leg)


@rule(
    "slow-groundspeed",
    Severity.WARNING,
    group=Group.FLYING,
    source="practice: a forecast headwind was 30 kt short and the flight took twice as long",
    remedy="wait for another wind, fly lower or another way, and plan a fuel stop",
    passing=BASE,
    failing=sample("wind 215/60"),
)
def slow_groundspeed(case: Case) -> Iterator[Found]:
    """The groundspeed is under half the true airspeed."""
    for leg in case.legs:
        speed_kt, tas_kt = leg.groundspeed_kt, leg.tas_kt
        if speed_kt is not None and tas_kt is not None and speed_kt < _SLOW * tas_kt:
            yield Found(
                f"groundspeed {whole(speed_kt)} kt of {whole(tas_kt)} kt true airspeed", leg, by=tas_kt - speed_kt
            )


@rule(
    "wind-beyond-heights",
    Severity.WARNING,
    group=Group.REST,
    source="the route file's heights; winds change with height",
    remedy="give the wind at a height nearer the one flown",
    passing=sample("wind 3000 230/12 6000 240/18"),
    failing=sample("wind 9000 230/12 12000 240/18"),
)
def wind_beyond_heights(case: Case) -> Iterator[Found]:
    """The wind is held over more than 2,000 ft beyond the heights given.

    Forecasts have no wind at field level, so the climb from an airport and the last descent to one do not count.
    """
    worst = farthest_from_winds(case.legs, takes_off=case.takes_off)
    if worst is not None:
        yield Found(f"the nearest wind is {whole(worst.wind_beyond_ft)} ft away in height", worst, about="heights")


def farthest_from_winds(legs: tuple[Leg, ...], *, takes_off: bool) -> Leg | None:
    """The leg whose wind is held farthest beyond the heights given, where that is too far; None where none is.

    `takes_off` tells whether the first leg begins on the ground.
    """
    if not [leg for leg in legs if leg.wind_beyond_ft > BEYOND_FT]:
        return None
    climbs, descents = climbs_from_airports(legs, takes_off=takes_off), descents_to_airports(legs)
    beside = {leg.number for part in (*climbs, *descents) for leg in part}
    counted = (leg for leg in legs if leg.number not in beside and leg.wind_beyond_ft > BEYOND_FT)
    return max(counted, key=lambda leg: leg.wind_beyond_ft, default=None)


@rule(
    "wind-far",
    Severity.WARNING,
    group=Group.REST,
    subject="wind at a place",
    at_times=(Severity.ERROR,),
    source="a wind holds at a place; 150 and 300 NM common practice, no source",
    remedy="use the bulletin of the region, or give the wind at a place near the route",
    passing=sample("wind at QEL 230/12"),
    failing=sample("wind at 4400N03700W 230/12"),
)
def wind_far(case: Case) -> Iterator[Found]:
    """The nearest place of which the wind is given is more than 150 NM from a leg.

    An error from 300 NM. Told once, of the leg that is farthest away.
    """
    columns = [column for column in case.log.conditions.winds or () if column.position is not None]
    worst: tuple[float, Leg, str, str] | None = None
    seen: set[Position] = set()
    for leg in case.legs if columns else ():
        for end in (leg.start, leg.end):
            if end.position is None or end.position in seen:
                continue
            seen.add(end.position)
            column, away_nm = _nearest(columns, end.position)
            if away_nm > _FAR_NM and (worst is None or away_nm > worst[0]):
                worst = away_nm, leg, end.name, column.name or "?"
    if worst is not None:
        away_nm, leg, name, place = worst
        message = f"the nearest wind is that at {place}, {whole(away_nm)} NM from {name}"
        yield Found(message, leg, Severity.ERROR if away_nm > _TOO_FAR_NM else None)


@once_a_flight
@rule(
    "wind-doubtful",
    Severity.WARNING,
    group=Group.REST,
    source="100 kt up to 10,000 ft, 200 kt above, 40 C above and 65 below standard: common practice, no source",
    remedy="read the wind off the forecast again: direction and speed may run together, a sign or a unit have slipped",
    passing=sample("wind 230/99"),
    failing=sample("wind 230/120"),
)
def wind_doubtful(case: Case) -> Iterator[Found]:
    """A wind that the flight states is hardly ever so strong, or the air there so warm or cold.

    One without a height is judged as high as the flight goes. Its temperature is asked about where it is more than
    40 degrees C above or 65 below that of the standard atmosphere (ICAO Doc 7488) at the height.
    """
    top_ft = max([leg.end_altitude_ft for leg in case.legs])
    for statement in case.request.winds:
        for level in statement.levels:
            height_ft = top_ft if level.height_ft is None else level.height_ft
            if level.speed_kt > (_MOST_LOW_KT if height_ft <= _LOW_FT else _MOST_HIGH_KT):
                yield Found(
                    f"a wind of {whole(level.speed_kt)} kt at {whole(height_ft)} ft is hardly ever met",
                    span=statement.span,
                    by=level.speed_kt,
                )
            if level.temperature_c is not None:
                deviation_c = level.temperature_c - standard_temperature_c(height_ft)
                doubt = temperature_doubt(level.temperature_c, f"{whole(height_ft)} ft", deviation_c)
                if doubt is not None:
                    yield Found(doubt, span=statement.span)


def temperature_doubt(temperature_c: float, where: str, deviation_c: float) -> str | None:
    """Why a temperature can hardly be meant, by how far it is above standard; None where it can."""
    if -_COLDER_C <= deviation_c <= _WARMER_C:
        return None
    side = "above" if deviation_c > 0.0 else "below"
    return f"a temperature of {temperature_c:+.0f} C at {where} is {whole(abs(deviation_c))} C {side} standard"


@once_a_flight
@rule(
    "reserve",
    Severity.ERROR,
    group=Group.FLYING,
    source="14 CFR 91.151, 91.167",
    remedy="take more fuel, stop on the way, or fly a shorter route",
    passing=BASE,
    failing=sample("fuel 8gal"),
)
def reserve(case: Case) -> Iterator[Found]:
    """The reserve is not on board at a landing.

    Each landing asks for that of its own light. A reserve that the flight states lower than the rule's takes nothing
    off what the rule asks.
    """
    log = case.log
    # Which reserve it is hangs on the sun; with the longest of all on board it does not matter.
    longest = fuel_in_time(max(LONGEST_MIN, case.request.reserve_min or 0.0), log.fuel.burn_per_h)
    if longest is None:
        return
    for leg in case.landings:
        left = leg.fuel_remaining
        if left is None or left >= longest:
            continue
        kept = reserve_kept(case, leg.end, log.eta(leg))
        if kept is None:
            return
        reserve, asked = kept
        if 0.0 <= left < reserve - 1e-9:
            message = f"{printed(log, leg)} left at {leg.end.name}, and the reserve is {asked}"
            yield Found(message, leg, by=reserve - left)


def _by_rule(rule: str) -> str:
    """The rule alone, without what states its light."""
    return rule.partition(" as stated by ")[0].replace("91.151,", "91.151")


def reserve_kept(case: Case, place: LegPoint, landing: datetime | None) -> tuple[float, str] | None:
    """The reserve that must be there at a landing, in words too; None if unknown.

    It is the flight's, or the rule's where that is more.
    """
    minutes, rule = reserve_at(case.request, place.position, landing)
    reserve = fuel_in_time(minutes, case.log.fuel.burn_per_h)
    if reserve is None:
        return None
    asked, own_min = f"{whole(minutes)} min, {needed(case.log, reserve)}", own_reserve_min(case.request)
    if own_min is None or own_min >= minutes:
        return reserve, f"{asked} ({rule})"
    stated = "rules vfr day" if case.request.reserve_min is None else "reserve"
    return reserve, f"{asked} by {_by_rule(rule)}, whatever `{stated}` states"


@once_a_flight
@rule(
    "reserve-under-rule",
    Severity.WARNING,
    group=Group.FLYING,
    subject="reserve stated",
    source="14 CFR 91.151, 91.167",
    remedy="leave `reserve` out, or state at least what the rule asks",
    passing=sample("reserve 45min"),
    failing=sample("reserve 20min"),
)
def reserve_under_rule(case: Case) -> Iterator[Found]:
    """The stated reserve is shorter than the rule's: 45 minutes under IFR and by night, else 30.

    It is by night where the flight says so, and where a landing falls in it.
    """
    stated_min = case.request.reserve_min
    if stated_min is None:
        return
    least_min, rule = reserve_by_rule(case.request, night=bool(landings_by_night(case)))
    if stated_min < least_min:
        message = f"the stated reserve of {stated_min:g} min is under the {least_min:g} min of {_by_rule(rule)}"
        yield Found(message, span=case.request.spans.get("reserve"))


@rule(
    "fuel-below-zero",
    Severity.ERROR,
    group=Group.FLYING,
    source="arithmetic",
    remedy="take more fuel, or stop on the way",
    passing=BASE,
    failing=sample("fuel 4gal"),
    acceptable=False,
)
def fuel_below_zero(case: Case) -> Iterator[Found]:
    """The fuel on board runs out on the way; told once for each filling of the tanks.

    On the way to an alternate it counts from what the flight has left there, at the last passage.
    """
    if case.begun and (case.log.conditions.on_board or 0.0) < 0.0:
        return  # It is told of the route.
    told = False
    for leg in case.legs:
        if leg.fuel_remaining is not None and leg.fuel_remaining < 0.0 and not told:
            told = True
            # What taxi takes beyond the tanks never left the ground.
            dry = leg is case.legs[0] and (case.log.conditions.on_board or 0.0) < 0.0
            yield Found(f"the fuel runs out before {'take-off' if dry else leg.end.name}", leg)
        told = told and leg.fuel_taken is None


@once_a_flight
@rule(
    "fuel-over-usable",
    Severity.ERROR,
    group=Group.FLYING,
    subject="aircraft",
    source="the aircraft file's usable fuel",
    remedy="correct `fuel`, or the aircraft file",
    passing=sample("aircraft climber.toml", "-tas", "-burn"),
    failing=sample("aircraft climber.toml", "-tas", "-burn", "fuel 90gal"),
)
def fuel_over_usable(case: Case) -> Iterator[Found]:
    """More fuel is counted on than the aircraft can use."""
    log, conditions = case.log, case.log.conditions
    if conditions.aircraft is None or conditions.aircraft.usable_fuel is None:
        return
    usable = conditions.aircraft.usable_fuel.value * conditions.aircraft_unit
    holds = f"the aircraft file's usable {there(log, usable)}"
    if conditions.on_board is not None and conditions.on_board + conditions.taxi > usable + 1e-6:
        given = there(log, conditions.on_board + conditions.taxi)
        yield Found(f"{given} of fuel is more than {holds}", span=case.request.spans.get("fuel"))
    for leg in case.legs:
        if leg.fuel_taken is not None and leg.fuel_taken > usable + 1e-6:
            yield Found(f"{there(log, leg.fuel_taken)} of fuel at {leg.end.name} is more than {holds}", leg)


@once_a_flight
@rule(
    "no-alternate",
    Severity.WARNING,
    group=Group.REST,
    subject="ifr",
    source="14 CFR 91.167, 91.169",
    remedy="give an `alternate`, unless the weather an hour either side of arrival makes it needless",
    passing=BASE,
    failing=sample("rules ifr"),
)
def no_alternate(case: Case) -> Iterator[Found]:
    """A flight under IFR names no alternate from a landing.

    14 CFR 91.167(a) asks for the fuel to "complete the flight to the first airport of intended landing", then to "fly
    from that airport to the alternate airport": one `from` a point on the way is none of it, and each landing on the
    way ends a flight of its own. Fuel is counted by the ways that are stated all the same.
    """
    if case.request.rules != "ifr":
        return
    begun = [one for way in case.log.alternates for one in way.begun]
    served = {one.leg.number for one in begun if one.leg is not None}
    without = dict.fromkeys(leg.end.name for leg in case.landings if leg.number not in served)
    if without:
        here = f" from {', '.join(without)}" if len(case.landings) > 1 or begun else ""
        away = ": one from a point on the way is none of a landing" if any(one.airborne for one in begun) else ""
        yield Found(f"no alternate is given{here}{away}; it may be left out only where ceiling and visibility allow")


def _nearest(columns: Sequence[WindColumn], position: Position) -> tuple[WindColumn, float]:
    """The wind column nearest to a place, of columns with a position, and how far away it is, NM.

    Which is nearest is found on the plane, where two that are nearly as far may change places.
    """
    from navlog.nav import earth

    narrow = cos(radians(position.latitude_deg))

    def apart(column: WindColumn) -> float:
        place = column.position
        assert place is not None
        east_deg = difference_deg(place.longitude_deg, position.longitude_deg) * narrow
        return hypot(place.latitude_deg - position.latitude_deg, east_deg)

    found = min(columns, key=apart)
    assert found.position is not None
    return found, earth.distance_nm(found.position, position)


def printed(log: Log, leg: Leg) -> str:
    """What is left at a leg's end, as its row prints it."""
    return in_steps(log, count_of(log, leg).left_steps)


def needed(log: Log, value: float) -> str:
    """An amount of fuel that is needed, rounded up, with its unit."""
    return in_steps(log, up(value, log.fuel_unit.step))


def there(log: Log, value: float) -> str:
    """An amount of fuel that is on board, rounded down, with its unit."""
    return in_steps(log, down(value, log.fuel_unit.step))


def in_steps(log: Log, steps: int | None) -> str:
    """A count of printed steps of fuel with its unit."""
    return f"{fuel(steps, log.fuel_unit.step)} {log.fuel_unit.name}"
