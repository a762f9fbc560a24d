"""Rules over a computed log: what is unwise about a flight, or worth a look."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.flightlog.records import Leg, Log
from navlog.nav.chart import Station
from navlog.nav.guidance import Guidance
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.request.records import Request
from navlog.resolve.route import Changeover, Stretch
from navlog.rules.domains import every_rule, rules_on, subjects
from navlog.rules.heights import binding, signal_assured
from navlog.rules.registry import (
    DEFAULT_THRESHOLDS,
    Case,
    Finding,
    Found,
    Neighbours,
    OnAlternate,
    Rule,
    Severity,
    Thresholds,
)

if TYPE_CHECKING:
    from navlog.nav.surroundings import Surroundings
    from navlog.rules.acceptance import Reasons
    from navlog.rules.diversion import FieldsBeside


class Report(Struct, frozen=True):
    """A log and what the rules found in it.

    `every` tells that a sheet for reading gives each finding a line of its own, not each rule. `diversions`
    are the airports beside the way and `surroundings` what is published around it, None where nobody asked for them.
    """

    log: Log
    findings: tuple[Finding, ...]
    every: bool = False
    diversions: FieldsBeside | None = None
    surroundings: Surroundings | None = None

    def __repr__(self) -> str:
        return f"<Report {self.log.route.request.name}: {self.status}, findings {len(self.findings)}>"

    @property
    def status(self) -> str:
        """`error`, `warning` or `ok`; accepted findings and notes do not count."""
        open_severities = {finding.severity for finding in self.findings if finding.accepted is None}
        return next((s.value for s in (Severity.ERROR, Severity.WARNING) if s in open_severities), "ok")


def judge(log: Log, *, thresholds: Thresholds | None = None, neighbours: Neighbours | None = None) -> Report:
    """Every rule's findings, the gravest first, the accepted ones marked and last.

    Errors come before warnings and notes, and of each severity what kills first; then by rule, and by leg.

    Every rule runs over the route and over the way to each alternate, but those of the whole flight.
    `neighbours` is published data in which to look for stations that could be mistaken for those in use; a
    catalogue is one. Raises NavlogError where the flight accepts a rule that is unknown or may never be
    silenced.
    """
    limits = thresholds or DEFAULT_THRESHOLDS
    reasons = _reasons(log.route.request)
    told: set[tuple[str, str]] = set()
    places = (None, *(OnAlternate(number, name, None) for number, name in enumerate(alternate_names(log), 1)))
    cases = (case_of(way, limits, neighbours) for way in (log, *log.alternates))
    ways = tuple(zip(cases, places, strict=True))
    asked = rules_on(frozenset().union(*[subjects(case) for case, _ in ways]))
    broken: list[tuple[int, int, list[Found]]] = []
    for way, (case, place) in enumerate(ways):
        for order, one in enumerate(asked):
            # Most rules find nothing in most flights.
            if (place is None or not one.whole_flight) and (here := [*one.check(case)]):
                broken.append((order, way, here))
    found: list[Finding] = []
    for order, way, here in sorted(broken, key=lambda one: one[:2]):
        findings = _findings_of(asked[order], here, ways[way][0], reasons, ways[way][1], told)
        found += sorted(findings, key=lambda finding: finding.number or 0)
    unused = () if reasons is None else reasons.unused(log.route.request.line)
    if unused:
        from navlog.rules.retired import accept_unused

        case = changed(ways[0][0], unused=unused)
        found += _findings_of(accept_unused, accept_unused.check(case), case, reasons, None, told)
    return Report(log, tuple(sorted(found, key=lambda finding: finding.rank)))


def _reasons(request: Request) -> Reasons | None:
    """Why the flight accepts what is found, None where it accepts nothing; raises NavlogError for what it may not."""
    if not request.accepted:
        return None
    from navlog.rules.acceptance import Reasons, refuse_unknown

    known = {one.ident: one for one in every_rule()}
    refuse_unknown(request.accepted, known)
    return Reasons(request.accepted, request.rules, known)


def case_of(log: Log, thresholds: Thresholds = DEFAULT_THRESHOLDS, neighbours: Neighbours | None = None) -> Case:
    """A log as the rules see it: of a route, or of the way to an alternate."""
    firsts: list[Leg] = []
    exposed: list[tuple[Leg, Guidance]] = []
    guided: list[tuple[Leg, Guidance]] = []
    stations: dict[str, tuple[Station, Leg]] = {}
    changeovers: list[tuple[Leg, Changeover]] = []
    marked: list[Leg] = []
    unguided: list[Leg] = []
    stretch: Stretch | None = None
    used: Guidance | None = None
    for leg in log.legs:
        if not leg.stays:
            if leg.stretch is not stretch:
                firsts.append(leg)
                stretch, used = leg.stretch, None
            if leg.marks:
                marked.append(leg)
        if leg.part.changeover is not None and (changeover := leg.changeover) is not None:
            changeovers.append((leg, changeover))
        guidance = leg.part.guidance
        if guidance is None:
            unguided.append(leg)
            continue
        if not signal_assured(leg):
            exposed.append((leg, guidance))
        if guidance is used:
            continue
        if used is None or guidance.station is not used.station or guidance.flag is not used.flag:
            guided.append((leg, guidance))
            stations.setdefault(guidance.station.ident, (guidance.station, leg))
        used = guidance
    return Case(
        log,
        log.legs,
        tuple(firsts),
        binding(log.legs, takes_off=log.conditions.entry_ft is None, vfr=log.conditions.vfr),
        tuple(exposed),
        tuple(guided),
        tuple(stations.values()),
        tuple(changeovers),
        tuple(marked),
        tuple(unguided),
        log.ground_ft,
        log.route.request,
        thresholds,
        neighbours,
        log.begun,
    )


def alternate_names(log: Log) -> tuple[str, ...]:
    """The airports to which the ways to alternates lead, with the point where each begins where several lead there."""
    ends = [(way.route.points[0].name, way.route.points[-1].name) for way in log.alternates]
    airports = [end for _, end in ends]
    return tuple(end if airports.count(end) == 1 else f"{end} from {start}" for start, end in ends)


def _findings_of(
    one: Rule,
    here: Iterable[Found],
    case: Case,
    reasons: Reasons | None,
    place: OnAlternate | None,
    told: set[tuple[str, str]],
) -> Iterator[Finding]:
    """The findings of what one rule found on the route, or on the way to an alternate at `place`.

    What is told once a flight is left out where it is among `told`, and added to it where it is not.
    """
    on_alternate = place is not None
    for found in here:
        if found.about is not None:
            if (one.ident, found.about) in told:
                continue
            told.add((one.ident, found.about))
        number = found.leg.number if found.leg is not None else None
        leg_span = found.leg.stretch.span if found.leg is not None else None
        severity = found.severity or one.severity
        yield Finding(
            one.ident,
            severity,
            found.message,
            number if place is None else None,
            found.span or leg_span or Span(case.request.file, case.request.line),
            one.source,
            reasons.of(one.ident, severity, case.log.route, found.leg, on_alternate=on_alternate) if reasons else None,
            None if place is None else changed(place, leg=number),
            one.group,
            found.by,
            found.station,
            found.apart or severity in one.apart,
            tuple([leg.number for leg in found.also]),
            found.joint,
        )
