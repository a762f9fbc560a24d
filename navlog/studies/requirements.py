"""Training cross-countries against the distances that the rules ask: straight lines and the way flown.

Whether "total distance" is that of straight lines between landings or of the way flown is disputed, so both
are told, and a requirement holds for certain only where both hold. Distances are geodesics on WGS84 between
the airports' published points. Nothing but the distance part is judged.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import StrEnum
from typing import Any

from msgspec import Struct

from navlog.nav.chart import Position
from navlog.nav.layout import columns
from navlog.nav.problems import Problem, problem_error
from navlog.request.records import Landing
from navlog.resolve.route import Point, Route
from navlog.studies.batch import Row

_CLOSE_NM = 0.5
"""So near a limit another ellipsoid, another reference point or rounding may decide (common practice)."""


class _Measure(StrEnum):
    """What a requirement counts."""

    TOTAL = "total distance"
    FLOWN = "distance along the route"
    FROM_START = "straight line from the first departure to a landing"
    SEGMENT = "straight line from a take-off to the next landing"
    POINTS = "points of landing"


class _Condition(Struct, frozen=True):
    """A figure to reach; with `more` it must be passed, with `full_stop` landings with a stop alone count."""

    measure: _Measure
    least: float
    more: bool = False
    full_stop: bool = False

    def holds(self, value: float) -> bool:
        """Whether a figure suffices."""
        return value > self.least if self.more else value >= self.least


class _Requirement(Struct, frozen=True):
    """A named set of conditions with the rule that sets them; `more` quotes what its text is often misread in."""

    name: str
    title: str
    source: str
    conditions: tuple[_Condition, ...]
    more: str = ""


REQUIREMENTS: tuple[_Requirement, ...] = (
    _Requirement(
        "61.1",
        "cross-country flight toward a private or commercial certificate or an instrument rating",
        "14 CFR 61.1(b), cross-country time, (ii)(B)",
        (_Condition(_Measure.FROM_START, 50.0, more=True),),
    ),
    _Requirement(
        "61.109",
        "private pilot, long solo cross-country",
        "14 CFR 61.109(a)(5)(ii)",
        (
            _Condition(_Measure.TOTAL, 150.0),
            _Condition(_Measure.POINTS, 3, full_stop=True),
            _Condition(_Measure.SEGMENT, 50.0, more=True),
        ),
        '"One solo cross country flight of 150 nautical miles total distance, with full-stop landings at three'
        " points, and one segment of the flight consisting of a straight-line distance of more than 50 nautical"
        ' miles between the takeoff and landing locations" (text current through October 31, 2024); texts of before'
        ' have "at least 150" and "at least 50"',
    ),
    _Requirement(
        "61.109-night",
        "private pilot, night cross-country with an instructor",
        "14 CFR 61.109(a)(2)(i)",
        (_Condition(_Measure.TOTAL, 100.0, more=True),),
    ),
    _Requirement(
        "61.65",
        "instrument rating, cross-country along airways or as directed by air traffic control",
        "14 CFR 61.65(d)(2)(ii)",
        (_Condition(_Measure.FLOWN, 250.0),),
    ),
    _Requirement(
        "61.129",
        "commercial pilot, long cross-country",
        "14 CFR 61.129(a)(4)(i)",
        (
            _Condition(_Measure.TOTAL, 300.0),
            _Condition(_Measure.POINTS, 3),
            _Condition(_Measure.FROM_START, 250.0),
        ),
    ),
    _Requirement(
        "61.129-hawaii",
        "commercial pilot, long cross-country in Hawaii",
        "14 CFR 61.129(a)(4)(i)",
        (
            _Condition(_Measure.TOTAL, 300.0),
            _Condition(_Measure.POINTS, 3),
            _Condition(_Measure.SEGMENT, 150.0),
        ),
    ),
    _Requirement(
        "61.129-training",
        "commercial pilot, two-hour cross-country with an instructor, by day and by night",
        "14 CFR 61.129(a)(3)(iii) and (iv)",
        (_Condition(_Measure.FROM_START, 100.0, more=True),),
    ),
)
"""The sets by name; aeroplanes, single engine."""


class _Hop(Struct, frozen=True):
    """From a take-off to the next landing."""

    start: str
    end: str
    straight_nm: float
    flown_nm: float
    airways_nm: float
    from_start_nm: float
    full_stop: bool


class _Judged(Struct, frozen=True):
    """One condition with the figures of a trip.

    `straight` is the figure by straight lines, `flown` the one by the way flown; None where it does not apply.
    `named` says which hop or points the figure is of.
    """

    condition: _Condition
    straight: float | None
    flown: float | None
    named: str | None = None

    @property
    def result(self) -> str:
        """`pass`, `fail`, or `depends` where the two ways to measure disagree."""
        held = {self.condition.holds(value) for value in (self.straight, self.flown) if value is not None}
        return "depends" if len(held) == 2 else "pass" if held == {True} else "fail"


class Assessment(Struct, frozen=True):
    """A requirement judged over a trip; `breaks` says where one flight does not begin where the last ended."""

    requirement: _Requirement
    hops: tuple[_Hop, ...]
    judged: tuple[_Judged, ...]
    breaks: tuple[str, ...]

    @property
    def result(self) -> str:
        """`pass`, `fail` or `depends`; a broken trip fails."""
        results = {one.result for one in self.judged}
        if self.breaks or "fail" in results:
            return "fail"
        return "depends" if "depends" in results else "pass"


def known_requirement(name: str) -> _Requirement:
    """The requirement of that name; raises `unknown-requirement` with those there are."""
    found = next((one for one in REQUIREMENTS if one.name == name), None)
    if found is None:
        known = ", ".join(one.name for one in REQUIREMENTS)
        raise problem_error("unknown-requirement", f"no requirement is called `{name}`", hint=f"there are {known}")
    return found


def assess(requirement: _Requirement, routes: Sequence[Route]) -> Assessment:
    """The requirement over flights flown one after another, every landing counted."""
    made, breaks = _hops(routes)
    judged = tuple(_judge_condition(one, made) for one in requirement.conditions)
    return Assessment(requirement, made, judged, breaks)


def _hops(routes: Sequence[Route]) -> tuple[tuple[_Hop, ...], tuple[str, ...]]:
    """The hops of flights flown one after another, and where they do not join."""
    made: list[_Hop] = []
    breaks: list[str] = []
    first = routes[0].points[0]
    here: Point | None = None
    for route in routes:
        start = route.points[0]
        if here is not None and start.name != here.name:
            breaks.append(f"`{route.request.name}` begins at {start.name}, not at {here.name}")
        here, flown_nm, airways_nm = start, 0.0, 0.0
        for stretch in route.stretches:
            flown_nm += stretch.length_nm
            airways_nm += stretch.length_nm if stretch.airway is not None else 0.0
            if stretch.end.landing is not None or stretch is route.stretches[-1]:
                straight_nm, from_start_nm = _apart_nm(here, stretch.end), _apart_nm(first, stretch.end)
                # `land` and `land 0min`: a touch and go, as far as the file tells.
                touches = stretch.end.landing == Landing()
                made.append(
                    _Hop(here.name, stretch.end.name, straight_nm, flown_nm, airways_nm, from_start_nm, not touches)
                )
                here, flown_nm, airways_nm = stretch.end, 0.0, 0.0
    return tuple(made), tuple(breaks)


def _apart_nm(one: Point, other: Point) -> float:
    """The straight line between two points; raises `no-position` where one is not known."""
    from navlog.nav.earth import distance_nm

    return distance_nm(_placed(one), _placed(other))


def _placed(point: Point) -> Position:
    """Where a point is."""
    if point.position is None:
        raise problem_error(
            "no-position",
            f"`{point.name}` has no known position to measure straight lines from",
            span=point.span,
            hint="define it with its position",
        )
    return point.position


def _judge_condition(condition: _Condition, made: tuple[_Hop, ...]) -> _Judged:
    """One condition with the figures of a trip."""
    match condition.measure:
        case _Measure.TOTAL:
            straight_nm, flown_nm = sum(hop.straight_nm for hop in made), sum(hop.flown_nm for hop in made)
            return _Judged(condition, straight_nm, flown_nm)
        case _Measure.FLOWN:
            airways_nm = sum(hop.airways_nm for hop in made)
            return _Judged(condition, None, sum(hop.flown_nm for hop in made), f"{airways_nm:.1f} NM on airways")
        case _Measure.FROM_START:
            farthest = max(made, key=lambda hop: hop.from_start_nm)
            return _Judged(condition, farthest.from_start_nm, None, f"{made[0].start} to {farthest.end}")
        case _Measure.SEGMENT:
            longest = max(made, key=lambda hop: hop.straight_nm)
            return _Judged(condition, longest.straight_nm, None, f"{longest.start} to {longest.end}")
        case _Measure.POINTS:
            names = dict.fromkeys(hop.end for hop in made if hop.full_stop or not condition.full_stop)
            touched = [name for name in dict.fromkeys(hop.end for hop in made) if name not in names]
            told = f"{', '.join(names)}; no stop planned: {', '.join(touched)}" if touched else ", ".join(names)
            return _Judged(condition, float(len(names)), None, told)


def assessment_lines(assessment: Assessment) -> Iterator[str]:
    """The assessment in words, with every hop and margin."""
    requirement = assessment.requirement
    yield f"{requirement.name}: {requirement.title} ({requirement.source}), distance part only: {assessment.result}"
    if requirement.more:
        yield f"  {requirement.source}: {requirement.more}"
    hops = [(f"{hop.start} to {hop.end}", f"{hop.straight_nm:.1f}", f"{hop.flown_nm:.1f}") for hop in assessment.hops]
    yield from columns([("hop", "NM straight", "NM flown"), *hops], "lrr", indent="  ")
    for one in assessment.judged:
        yield f"  {_condition_text(one)}"
    for text in assessment.breaks:
        yield f"  not one trip: {text}"


def _condition_text(judged: _Judged) -> str:
    """A condition, the figures and by how much it holds or does not."""
    condition = judged.condition
    asked = f"{condition.measure.value}, {'more than' if condition.more else 'at least'} {condition.least:g}"
    if condition.measure is _Measure.POINTS:
        return f"{asked}: {judged.straight:.0f} ({judged.named}): {judged.result}"
    both = (("straight lines", judged.straight), ("flown", judged.flown))
    told = [f"{name} {value:.1f} NM, {_margin_text(condition, value)}" for name, value in both if value is not None]
    named = f" ({judged.named})" if judged.named else ""
    return f"{asked} NM: {'; '.join(told)}{named}: {judged.result}"


def _margin_text(condition: _Condition, value: float) -> str:
    """By how much a figure is over or under what is asked."""
    margin = value - condition.least
    close = ", too close to rely on" if abs(margin) < _CLOSE_NM else ""
    return f"{abs(margin):.1f} {'over' if margin >= 0.0 else 'short'}{close}"


REQUIREMENT_COLUMNS = ("file", "requirement", "source", "result", "measure", "asked", "straight_nm", "flown_nm", "of")
"""The columns of the comma-separated form of requirements; points of landing stand as a straight figure."""


def requirement_rows(file: str, assessment: Assessment) -> Iterator[Row]:
    """A row for each condition."""
    requirement = assessment.requirement
    for one in assessment.judged:
        asked = f"{'more than' if one.condition.more else 'at least'} {one.condition.least:g}"
        figures = (_tenths(one.straight), _tenths(one.flown), one.named)
        yield (file, requirement.name, requirement.source, one.result, one.condition.measure.value, asked, *figures)


def _tenths(value: float | None) -> str | None:
    """A figure with one decimal."""
    return None if value is None else f"{value:.1f}"


def requirement_json(file: str, assessment: Assessment) -> str:
    """One requirement over one file as one line of JSON, without a line end."""
    from navlog.sheets.json_values import number

    requirement = assessment.requirement
    return _line(
        file,
        requirement,
        assessment.result,
        hops=[
            {
                "from": hop.start,
                "to": hop.end,
                "straight_nm": number(hop.straight_nm),
                "flown_nm": number(hop.flown_nm),
                "on_airways_nm": number(hop.airways_nm),
            }
            for hop in assessment.hops
        ],
        conditions=[
            {
                "measure": one.condition.measure.value,
                "least": one.condition.least,
                "more_than": one.condition.more,
                "straight": number(one.straight),
                "flown": number(one.flown),
                "of": one.named,
                "result": one.result,
            }
            for one in assessment.judged
        ],
        breaks=list(assessment.breaks),
    )


def broken_json(file: str, name: str, problems: Sequence[Problem]) -> str:
    """One requirement over a file that has problems, as one line of JSON, without a line end."""
    from navlog.sheets.json_lines import problem_object

    return _line(file, known_requirement(name), "problem", problems=[problem_object(one) for one in problems])


def _line(file: str, requirement: _Requirement, result: str, **more: list[Any]) -> str:
    import json

    found = {
        "schema": "navlog/requirement-1",
        "source": {"file": file},
        "requirement": requirement.name,
        "title": requirement.title,
        "rule": requirement.source,
        "distance_part_only": True,
        "result": result,
        **{"hops": [], "conditions": [], "breaks": [], "problems": []} | more,
    }
    return json.dumps(found, ensure_ascii=True, allow_nan=False)
