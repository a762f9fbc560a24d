"""The notices of what lies ahead in flight, by the clock as it runs: begun meanwhile, over by now, or as planned.

What is flown stays as it was. Where every point ahead is passed at its planned minute the plan's notices hold.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.flightlog.planning import flying_order, plan_rest
from navlog.flightlog.records import Leg, Log
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.printed.findings import legs_text
from navlog.request.records import Request
from navlog.resolve.route import Route, Stretch
from navlog.studies.revision_timing import CLOCK_MIN

if TYPE_CHECKING:
    from navlog.flightlog.noticed import Told
    from navlog.nav.notices import Notice
    from navlog.request.references import References
    from navlog.resolve.lookup import ChartLookup


class AsWritten(Struct, frozen=True):
    """A flight before notices changed anything of it, with the files that it names and published data."""

    request: Request
    references: References
    catalogue: ChartLookup | None

    @property
    def notices(self) -> tuple[Notice, ...]:
        """All notices of those files."""
        return tuple(one for name in self.request.notices for one in self.references.notices(name))


class NoticeChange(Struct, frozen=True):
    """A notice that `counts` ahead where the plan counted none of it, or counts there no more, and on which legs.

    The legs are those of the log of what lies ahead; `on_alternate` tells of a way to an alternate.
    """

    notice: Notice
    counts: bool
    legs: tuple[int, ...]
    on_alternate: bool


def rest_with_notices(log: Log, rest: Log, passed: Leg, written: AsWritten) -> Log:
    """What lies ahead of `passed` with the notices that count by its own clock; raises what planning raises.

    `log` is the plan, `rest` what lies ahead with the plan's notices.
    """
    request, references, catalogue = written.request, written.references, written.catalogue
    if not request.notices or _on_time(log, rest):
        return rest
    from navlog.flightlog.noticed import resolved_with, settle

    def again(told: Told) -> Log:
        route, _ = resolved_with(told, request, references, catalogue)
        # Of height to lose over the last point a notice may leave nothing.
        return plan_rest(_joined(log.route, route, passed), rest.conditions, passed) or rest

    settled = settle(again({}), request, references, again)
    return plan_rest(settled.route, rest.conditions, passed) or rest


def _on_time(log: Log, rest: Log) -> bool:
    """Whether every point ahead is passed when the plan has it, within what the clock can tell."""
    planned = {flying_order(leg): log.eta(leg) for leg in log.legs if leg.ends_stretch}
    for leg in rest.legs:
        if not leg.ends_stretch:
            continue
        was, now = planned.get(flying_order(leg)), rest.eta(leg)
        if was is None or now is None or abs((now - was).total_seconds()) > CLOCK_MIN * 60.0:
            return False
    return True


def _joined(flown: Route, ahead: Route, passed: Leg) -> Route:
    """The route as it was flown up to the end of a leg, and as notices leave it from there on."""
    at, over = passed.stretch.number, passed.ends_stretch
    pairs = zip(flown.stretches, ahead.stretches, strict=True)
    stretches = tuple(
        was
        if was.number < at or (was.number == at and over)
        else _cut(was, now, passed.end_nm)
        if was.number == at
        else now
        for was, now in pairs
    )
    return changed(ahead, stretches=stretches)


def _cut(flown: Stretch, ahead: Stretch, at_nm: float) -> Stretch:
    """A stretch with the parts of one as far as it is flown, and those of the other from there on."""
    behind = (changed(one, end_nm=min(one.end_nm, at_nm)) for one in flown.parts if one.start_nm < at_nm)
    beyond = (changed(one, start_nm=max(one.start_nm, at_nm)) for one in ahead.parts if one.end_nm > at_nm)
    return changed(ahead, parts=(*behind, *beyond))


def notice_changes(log: Log, rest: Log) -> Iterator[NoticeChange]:
    """What counts ahead otherwise than in the plan: what has begun, then what is over."""
    ahead = {leg.stretch.number for leg in rest.legs}
    ways = [number for number, way in enumerate(rest.alternates, 1) if way.begun]
    was, now = (_counting(one.route, ahead, ways) for one in (log, rest))
    for some, others, counts in ((now, was, True), (was, now, False)):
        for place, (notice, told) in some.items():
            more = told - others[place][1] if place in others else told
            legs = tuple(leg.number for leg in rest.legs if (0, leg.stretch.number) in more)
            if more:
                yield NoticeChange(notice, counts, legs, on_alternate=any(way for way, _ in more))


def _counting(route: Route, ahead: set[int], ways: list[int]) -> dict[Span, tuple[Notice, set[tuple[int, int]]]]:
    """The notices that count ahead, by their places, with the ways and stretches that they are about."""
    found: dict[Span, tuple[Notice, set[tuple[int, int]]]] = {}
    for way, flown in ((0, route), *((number, route.alternates[number - 1]) for number in ways)):
        for use in flown.notices:
            told = {(way, one) for one in use.stretches_counting if way or one in ahead}
            if told:
                found.setdefault(use.notice.span, (use.notice, set()))[1].update(told)
    return found


def change_words(change: NoticeChange) -> str:
    """A notice that counts otherwise than planned, in one line."""
    from navlog.nav.notices import effect_words

    counts = "counts now" if change.counts else "counts no longer"
    places = [f"on {legs_text(change.legs)}"] if change.legs else []
    where = " and ".join([*places, "on the way to an alternate"] if change.on_alternate else places)
    effects = "; ".join(effect_words(one) for one in change.notice.effects)
    return f"{change.notice.ident} {counts} {where}: {effects}"
