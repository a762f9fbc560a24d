"""Which findings a flight accepts, with its reasons: of a rule, on the whole flight or on a part of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from navlog.flightlog.records import Leg
from navlog.nav.problems import NavlogError, Problem
from navlog.nav.spelling import alike
from navlog.request.records import Acceptance, Name, Part
from navlog.resolve.route import Route
from navlog.rules.registry import Rule, Severity
from navlog.rules.retired import RETIRED, VISUALLY


class Reasons:
    """Why a flight accepts what its rules find; a retired rule stands for those that tell the same now.

    What `moca-range` told under VFR is a note of `under-mea` now, which accepting it silences.
    """

    def __init__(self, acceptances: Sequence[Acceptance], rules: str, known: Mapping[str, Rule]) -> None:
        self._needed: set[Acceptance] = set()
        self._own = [one for one in acceptances if one.rule not in RETIRED]
        self._on_alternates = [
            (instead, one) for one in acceptances for instead in RETIRED.get(one.rule, ()) if known[instead].acceptable
        ]
        self._notes = [(VISUALLY[one.rule], one) for one in acceptances if rules == "vfr" and one.rule in VISUALLY]

    def of(self, ident: str, severity: Severity, route: Route, leg: Leg | None, *, on_alternate: bool) -> str | None:
        """The reason for which a rule's finding on a leg is accepted, that of its part first; None where it is not."""
        asked = [one for one in self._own if one.rule == ident]
        if on_alternate:
            asked += [one for instead, one in self._on_alternates if instead == ident]
        if severity is Severity.NOTE:
            asked += [one for instead, one in self._notes if instead == ident]
        on_part = (one for one in asked if one.part is not None and leg is not None and _lies_on(one.part, route, leg))
        found = next(on_part, None) or next((one for one in asked if one.part is None), None)
        if found is None:
            return None
        self._needed.add(found)
        return found.reason

    def unused(self, line: int) -> tuple[Acceptance, ...]:
        """Those from a line of the file on that no finding has needed; a retired rule tells of itself."""
        return tuple(one for one in self._own if one not in self._needed and one.span.line >= line)


def _lies_on(part: Part, route: Route, leg: Leg) -> bool:
    """Whether a leg lies on a part of its route: on the airway, between the two points, or beside the point."""
    if part.airway is not None:
        return leg.stretch.via == part.airway.ident
    if part.at is not None:
        return part.at.ident in (leg.start.ident, leg.end.ident)
    assert part.between is not None
    ends = [one.ident for one in part.between]
    named = [(index, point.ident) for index, point in enumerate(route.points) if point.ident in ends]
    own = leg.stretch.number - route.stretches[0].number
    return any(
        first <= own < last for (first, one), (last, other) in pairwise(named) if one != other or ends[0] == ends[1]
    )


def refuse_unknown(acceptances: Iterable[Acceptance], known: Mapping[str, Rule]) -> None:
    """Raises NavlogError where a rule that is accepted is unknown, or may never be silenced."""
    problems = []
    for acceptance in acceptances:
        one = known.get(acceptance.rule)
        if acceptance.rule in RETIRED:
            continue
        if one is None:
            message = f"no rule is called `{acceptance.rule}`"
            problems.append(Problem("unknown-rule", message, acceptance.span, _nearest(acceptance.rule, known)))
        elif not one.acceptable:
            message = f"`{acceptance.rule}` can never be accepted: {one.title[0].lower()}{one.title[1:]}"
            problems.append(Problem("not-acceptable", message, acceptance.span, one.remedy))
    if problems:
        raise NavlogError(*problems)


def _nearest(ident: str, known: Iterable[str]) -> str | None:
    """A hint with the name that is spelt most like `ident`."""
    close = alike(ident, known, most=1)
    return f"did you mean `{close[0]}`?" if close else None


def passed(route: Route) -> frozenset[str]:
    """The points and airways of a route and of the ways to its alternates."""
    ways = (route, *route.alternates)
    points = (point.ident for way in ways for point in way.points)
    airways = (stretch.via for way in ways for stretch in way.stretches)
    return frozenset(one for one in (*points, *airways) if one is not None)


def unknown_place(name: Name, known: Iterable[str]) -> Problem:
    """The problem of a place that no flight of the file passes."""
    message = f"no flight of this file passes `{name.ident}`"
    return Problem("unknown-place", message, name.span, _nearest(name.ident, sorted(known)))
