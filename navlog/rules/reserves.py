"""Fuel beyond the trip: what an alternate takes, the reserve after it, contingency and extra."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from navlog.flightlog.fuel import (
    after,
    contingency_of,
    printed_margin,
    reserve_after,
    tanks,
    total,
)
from navlog.flightlog.performance import fuel_in_time
from navlog.flightlog.records import Fuel, Leg, Log, Passage
from navlog.nav.figures import up
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import sample
from navlog.rules.windfuel import in_steps, needed, printed, reserve_kept, there

_SLACK = 5e-10
"""Less than the last decimal that is written: what sums of floats may be off by."""


_ROUNDED_AMOUNTS = 6
"""Fuel on board and the five parts of what is required: in print each loses less than a step."""


class _Need(Struct, frozen=True):
    """What must be kept at a landing that ends a filling of the tanks, or where an alternate is flown from.

    `left` is there on board, `taken` is burnt on the way to the alternate, `reserve` is what is to be kept then, and
    `wanted` besides: contingency and extra. `place` is where that is, `leg` ends there or at the alternate's point.
    """

    leg: Leg | None
    filling: int
    place: str
    left: float
    taken: float
    reserve: float
    wanted: float

    @property
    def short(self) -> float:
        """How much less there is than is wanted; negative where there is more."""
        return self.taken + self.reserve + self.wanted - self.left


@once_a_flight
@rule(
    "alternate-reserve",
    Severity.ERROR,
    group=Group.FLYING,
    subject="alternate",
    source="14 CFR 91.151, 91.167",
    remedy="take more fuel, or name a nearer alternate",
    passing=sample("alternate XHAR"),
    failing=sample("alternate XHAR", "fuel 10gal"),
)
def alternate_reserve(case: Case) -> Iterator[Found]:
    """The reserve is not there after an alternate, flown from the destination or from its point of the route.

    Each passage of the point is judged, by the light at the landing after it; a stop with fuel taken both by what is
    left on landing there and by what is on board after it. 14 CFR 91.167(a): "enough fuel (considering weather
    reports and forecasts and weather conditions) to (1) Complete the flight to the first airport of intended landing;
    (2) Except as provided in paragraph (b) of this section, fly from that airport to the alternate airport; and (3)
    Fly after that for 45 minutes at normal cruising speed". An approach that is missed first is in none of the three:
    sheets say that it is not counted, and `extra` keeps fuel for it.
    """
    log, end = case.log, case.legs[-1]
    at_end = reserve_kept(case, end.end, log.eta(end)) if log.alternates else None
    for alternate in log.alternates:
        taken, last = alternate.totals.fuel, alternate.legs[-1]
        for passage in alternate.begun:
            left, kept = passage.left, reserve_kept(case, last.end, after(passage.at, last.elapsed_min))
            if taken is None or left is None or kept is None:
                continue
            reserve, asked = kept
            told_otherwise = (
                # That it is not there even without the alternate is told by `reserve` and `fuel-below-zero`.
                left < 0.0
                # Tanks that run dry on the way are `fuel-below-zero` there, with the leg on which they do.
                or (left < taken and passage is alternate.begun[-1])
                # Broken before the alternate is begun: `reserve` says so of the flight itself.
                or (passage.leg is end and at_end is not None and left < at_end[0] - _SLACK)
            )
            if left - taken < reserve - _SLACK and not told_otherwise:
                yield Found(_broken_reserve(log, alternate, passage, left, taken, asked), passage.leg)


def _broken_reserve(log: Log, alternate: Log, passage: Passage, left: float, taken: float, reserve: str) -> str:
    """What is on board where an alternate is flown from, what it takes, and the reserve that this breaks."""
    start, end = alternate.route.points[0].name, alternate.route.points[-1].name
    flown = None if passage.fuelled else passage.leg
    has = there(log, left) if flown is None else printed(log, flown)
    state = "on board after fuelling" if passage.fuelled else "left"
    return f"{has} {state} at {start} and {needed(log, taken)} to {end} break the reserve of {reserve}"


@once_a_flight
@rule(
    "contingency-short",
    Severity.WARNING,
    group=Group.FLYING,
    source="the flight's `contingency` and `extra`",
    remedy="take more fuel",
    passing=sample("contingency 5%", "extra 2gal"),
    failing=sample("extra 30gal"),
)
def contingency_short(case: Case) -> Iterator[Found]:
    """The reserve is there, and the contingency or extra fuel that the flight wants is not.

    Told for each filling of the tanks, of the place where most is missing; also where only the margin as printed,
    each amount rounded up, is below 0.
    """
    log, step = case.log, case.log.fuel_unit.step
    worst: dict[int, _Need] = {}
    fillings = tuple(zip(tanks(log.legs), (*log.fuel.earlier, log.fuel), strict=True))
    for need in _needs(case, fillings):
        # One finding a filling: what mends the worst place mends all of them.
        if need.filling not in worst or need.short > worst[need.filling].short:
            worst[need.filling] = need
    for filling, need in sorted(worst.items()):
        # Up, as fuel needed is: half a step short prints as one.
        steps = up(need.short, step) if need.short > _SLACK else 0
        _, fuel = fillings[filling]
        # The sheet prints the margin of each filling; both say the same.
        if fuel.margin is None or fuel.margin < _ROUNDED_AMOUNTS * step:
            steps = max(steps, -(printed_margin(fuel, step) or 0))
        if steps > 0 and need.left - need.taken >= need.reserve - _SLACK:
            leg = None if fuel is log.fuel else need.leg
            yield Found(f"{in_steps(log, steps)} short of what the flight wants to have at {need.place}", leg)


def _needs(case: Case, fillings: Iterable[tuple[tuple[Leg, ...], Fuel]]) -> Iterator[_Need]:
    """What must be kept at each landing that ends a filling, and at each passage where an alternate begins."""
    log = case.log
    for filling, (tank, fuel) in enumerate(fillings):
        # Without a reserve by burn there is no account, as the summary has none.
        reserve, wanted = fuel.reserve, total(fuel.contingency, fuel.extra)
        if wanted is not None and reserve is not None and fuel.alternate is not None and fuel.remaining is not None:
            place = "its last landing" if fuel is log.fuel else tank[-1].end.name
            yield _Need(tank[-1], filling, place, fuel.remaining, fuel.alternate, reserve, wanted)
    percent = log.conditions.contingency_percent
    for alternate in log.alternates:
        for passage in (one for one in alternate.begun if one.leg is not log.legs[-1]):
            wanted, taken = total(contingency_of(passage.used, percent), log.fuel.extra), alternate.totals.fuel
            reserve = fuel_in_time(reserve_after(case.request, alternate, passage)[0], log.fuel.burn_per_h)
            if wanted is not None and reserve is not None and taken is not None and passage.left is not None:
                place = f"the alternate {alternate.route.points[-1].name}"
                yield _Need(passage.leg, passage.filling, place, passage.left, taken, reserve, wanted)


@once_a_flight
@rule(
    "fuel-drops",
    Severity.WARNING,
    group=Group.FLYING,
    subject="fuel stop",
    source="arithmetic: fuel does not get less on the ground, but where it is drained",
    remedy="write what is on board at the take-off, what was left and what is taken; or leave `fuel` out",
    passing=sample("route XHAR QHB V801 QEL/A055 XOLD land 45min fuel 36gal XHAR", "fuel 38gal"),
    failing=sample("route XHAR QHB V801 QEL/A055 XOLD land 45min fuel 8gal XHAR", "fuel 38gal"),
)
def fuel_drops(case: Case) -> Iterator[Found]:
    """Less fuel is planned at the take-off after a stop than is on board on landing there.

    Told from two printed steps on, by which a figure copied from the sheet may be less. No error, as the figures
    that follow count with the lesser amount.
    """
    log = case.log
    for leg in case.legs:
        left, taken = leg.fuel_remaining, leg.fuel_taken
        if left is not None and taken is not None and taken < left - 2.0 * log.fuel_unit.step:
            off = there(log, taken)
            yield Found(f"{off} at the take-off from {leg.end.name}, and {printed(log, leg)} are left on landing", leg)
