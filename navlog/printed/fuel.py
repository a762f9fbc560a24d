"""Fuel as printed: what each leg uses and leaves, the least that must be left, and the account of the flight."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from navlog.flightlog.counted import running_fuel
from navlog.flightlog.fuel import AS_STATED, earlier_fillings, least_by_part, printed_margin
from navlog.flightlog.records import Fuel, Log
from navlog.nav import figures


class _Account(Struct, frozen=True):
    """The fuel of the flight as printed; `required` is the sum of `parts`, which are names and amounts.

    `on_board` counts after taxi or, where the flight is fuelled on the way, after that (`when`).
    `margin`, `margin_min` and `endurance` are None where a part of them is not known.
    """

    unit: str
    on_board: str
    when: str
    parts: tuple[tuple[str, str], ...]
    required: str
    reserve_by: str
    margin: str | None
    margin_min: str | None
    endurance: str | None


def account(log: Log) -> _Account:
    """Fuel required against fuel on board; amounts needed round up, fuel on board rounds down."""
    stops = [leg.end.name for leg in log.legs if leg.fuel_taken is not None]
    return _account(log, log.fuel, stops[-1] if stops else None)


def earlier_lines(log: Log) -> Iterator[str]:
    """A line for each filling of the tanks before the last, of which `account` is."""
    fuelled_at, by_last = None, account(log).reserve_by
    for tank, fuel in earlier_fillings(log):
        one, unit = _account(log, fuel, fuelled_at), log.fuel_unit.name
        left = None if fuel.on_board is None else figures.down(fuel.on_board, log.fuel_unit.step)
        used = running_fuel(tank, log.fuel_unit.step)[-1]
        left_text = figures.fuel(None if left is None or used is None else left - used, log.fuel_unit.step)
        parts = " + ".join(f"{name} {amount}" for name, amount in one.parts)
        minutes = f", {one.margin_min} min" if one.margin_min is not None else ""
        margin = f"; margin {one.margin} {unit}{minutes}" if one.margin is not None else ""
        # Said where it is not the one in the account above.
        reserve = "" if one.reserve_by == by_last else f"; {one.reserve_by}"
        yield (
            f"before that, {tank[0].start.name} to {tank[-1].end.name}: on board {one.on_board} {one.when}, left at"
            f" landing {left_text}; required {one.required} = {parts}{margin}{reserve}"
        )
        fuelled_at = tank[-1].end.name


def _account(log: Log, fuel: Fuel, fuelled_at: str | None) -> _Account:
    """The account of one filling of the tanks, those filled at an airport on the way by its name."""
    step = log.fuel_unit.step

    def shown(steps: int | None) -> str:
        return figures.fuel(steps, step)

    share = log.conditions.contingency_percent
    contingency = (f"contingency ({share:g}%)" if share else "contingency"), fuel.contingency
    parts = [("trip", fuel.used), contingency, ("reserve", fuel.reserve), ("extra", fuel.extra)]
    way, by = fuel.diversion, fuel.diversion or fuel
    if way is not None:
        parts[:3] = [(f"trip to {way.start}", way.used), (contingency[0], way.contingency), ("reserve", way.reserve)]
        if way.airport is not None:
            parts.insert(1, (f"alternate {way.airport} from there", way.alternate))
    elif log.route.alternates:
        parts.insert(1, ("alternate", fuel.alternate))
    steps = [_rounded_up(value, step) for _, value in parts]
    known = [one for one in steps if one is not None]
    required = sum(known) if len(known) == len(steps) else None
    board = None if fuel.on_board is None else figures.down(fuel.on_board, step)
    when = f"after taxi {shown(_rounded_up(log.conditions.taxi, step))}"
    if fuelled_at is not None:
        when = f"at {fuelled_at} after taxi"
    elif not _taxi_given(log):
        when = "with no taxi fuel given"
    margin = margin_min = None
    beyond = printed_margin(fuel, step)
    if beyond is not None:
        margin = shown(beyond)
        if fuel.burn_per_h:
            margin_min = str(figures.down(beyond * step / fuel.burn_per_h * 60.0, 1.0))
    return _Account(
        unit=log.fuel_unit.name,
        on_board=shown(board),
        when=when,
        parts=tuple((name, shown(one)) for (name, _), one in zip(parts, steps, strict=True)),
        required=shown(required),
        reserve_by=_reserve_words(by.reserve_min, by.reserve_rule, log.route.request.reserve_min),
        margin=margin,
        margin_min=margin_min,
        endurance=None if fuel.endurance_min is None else figures.minutes(figures.down(fuel.endurance_min, 1.0)),
    )


def _reserve_words(minutes: float, rule: str, stated_min: float | None) -> str:
    """The reserve with what it goes by: `reserve 30 min by 14 CFR 91.151 day`, `reserve 40 min as stated`."""
    if rule == AS_STATED:
        return f"reserve {figures.whole(minutes)} min {rule}"
    less = "" if stated_min is None else f", not the {stated_min:g} min stated"
    return f"reserve {figures.whole(minutes)} min by {rule}{less}"


def _taxi_given(log: Log) -> bool:
    """Whether the flight or its aircraft says what the taxi takes."""
    aircraft = log.conditions.aircraft
    return log.route.request.taxi is not None or (aircraft is not None and aircraft.taxi_fuel is not None)


def _rounded_up(amount: float | None, step: float) -> int | None:
    """How many steps hold an amount; None where it is unknown."""
    return None if amount is None else figures.up(amount, step)


def least_left(log: Log) -> tuple[int | None, ...]:
    """The steps of fuel that must be left at each leg's end to go on as planned, each part of it rounded up."""
    step = log.fuel_unit.step
    return least_by_part(
        log.legs,
        log.fuel,
        log.conditions.contingency_percent,
        used_on=lambda tank: running_fuel(tank, step),
        counted=lambda amount: _rounded_up(amount, step),
    )
