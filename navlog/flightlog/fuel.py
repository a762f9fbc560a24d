"""Fuel required against fuel on board, and the reserve by rule.

14 CFR 91.151: by day 30 minutes, by night 45 minutes at normal cruise after the first intended landing;
14 CFR 91.167: 45 minutes.
"""

from __future__ import annotations

from navlog.flightlog.records import Conditions, Fuel, Leg
from navlog.request import Request
from navlog.route import Route

VFR_DAY_MIN = 30.0
VFR_NIGHT_MIN = 45.0
IFR_MIN = 45.0


def reserve_rule(request: Request, *, night: bool | None) -> tuple[float, str]:
    """Minutes of reserve and the rule behind them.

    `night` tells whether a landing falls in the night; None where it cannot be told, and the longer reserve
    then holds.
    """
    if request.reserve_min is not None:
        return request.reserve_min, "as stated"
    if request.rules == "ifr":
        return IFR_MIN, "14 CFR 91.167"
    if request.daytime == "day":
        return VFR_DAY_MIN, "14 CFR 91.151 day, as stated"
    if request.daytime == "night":
        return VFR_NIGHT_MIN, "14 CFR 91.151 night, as stated"
    if night is None:
        return VFR_NIGHT_MIN, "14 CFR 91.151 night, since day or night at landing is not known"
    return (VFR_NIGHT_MIN, "14 CFR 91.151 night") if night else (VFR_DAY_MIN, "14 CFR 91.151 day")


def lands_at_night(route: Route, conditions: Conditions, legs: tuple[Leg, ...]) -> bool | None:
    """Whether any landing falls in the night of 14 CFR 1.1; None where a time or place is not known."""
    from datetime import timedelta

    if route.request.rules == "ifr" or route.request.daytime or route.request.reserve_min is not None:
        return None
    from navlog.daylight import is_night

    dark = False
    for leg in legs:
        if leg.lands or leg is legs[-1]:
            if conditions.off is None or leg.elapsed_min is None or leg.end.position is None:
                return None
            dark = dark or is_night(leg.end.position, conditions.off + timedelta(minutes=leg.elapsed_min))
    return dark


def fuel_summary(route: Route, conditions: Conditions, legs: tuple[Leg, ...]) -> Fuel:
    """The fuel of the whole flight.

    After a stop with fuel taken the flight is counted from there: what was on board before no longer
    matters for what is required at the last landing.
    """
    reserve_min, rule = reserve_rule(route.request, night=lands_at_night(route, conditions, legs))
    burn = conditions.burn_per_h
    used = legs[-1].fuel_used_total
    reserve = None if burn is None else reserve_min / 60.0 * burn
    contingency = None if used is None else used * conditions.contingency_percent / 100.0
    required = None
    if used is not None and reserve is not None and contingency is not None:
        required = used + contingency + reserve + conditions.extra
    remaining = legs[-1].fuel_remaining
    margin = None
    if remaining is not None and reserve is not None and contingency is not None:
        margin = remaining - contingency - reserve - conditions.extra
    return Fuel(
        on_board=conditions.on_board,
        used=used,
        contingency=contingency,
        extra=conditions.extra,
        reserve=reserve,
        reserve_min=reserve_min,
        reserve_rule=rule,
        required=required,
        remaining=remaining,
        margin=margin,
        margin_min=margin / burn * 60.0 if margin is not None and burn else None,
    )
