"""What log and rules find at fault in a way, as links and ends to leave out of the next search, and in words."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.catalogue.network import Network
from navlog.rules.answers import Answer
from navlog.rules.registry import Finding, Severity
from navlog.studies.ways import WayFound

_FAULTS = frozenset(
    {
        "under-mea", "moca-range", "over-maa", "under-mca", "under-mra", "under-minimum", "under-ground", "signal",
        "out-of-range", "below-horizon", "stations-apart", "unusable-sector", "station-out", "no-guidance",
        "changeover-unknown", "course-unknown", "radial-reversed", "needle-off-course",
    }
)  # fmt: skip
"""The rules of altitude, gap, reception and station: no proposal of ours has a warning or an error of these."""

_START, _GOAL = -1, -2


def is_link(number: int) -> bool:
    """Whether what is at fault is a link, and not an end."""
    return number >= 0


def is_start(number: int) -> bool:
    """Whether what is at fault is the way to the first point."""
    return number == _START


def faults(answer: Answer, network: Network, way: WayFound, least: Severity = Severity.WARNING) -> frozenset[int]:
    """The links of a way with which the rules find a fault of altitude, gap, reception or station; -1, -2 its ends.

    Where the route has a problem, or a fault has no place, all of its links are. With `least` an error, what the rules
    call a warning is none.
    """
    if answer.report is None:
        return frozenset(way.links) or frozenset((_START,))
    found: set[int] = set()
    legs = answer.report.log.legs
    for finding in _at_fault(answer, least):
        stretch = legs[finding.leg - 1].stretch if finding.leg is not None else None
        if stretch is None or stretch.airway is None:
            first = stretch is not None and stretch.number == 1 and way.start.off_nm > 0.0
            found.add(_START if first else _GOAL)
            continue
        name = (stretch.airway.ident, stretch.start.ident, stretch.end.ident)
        found |= {link for link in way.links if _name(network, link) == name}
    return frozenset(found)


def faults_told(answer: Answer, least: Severity) -> Iterator[str]:
    """What speaks against a way in words: its route's problem, or leg, message and rule of each fault."""
    for problem in answer.problems[:1]:
        yield f"{problem.message} [{problem.code}]"
    for finding in _at_fault(answer, least):
        report = answer.report
        leg = report.log.legs[finding.leg - 1] if report is not None and finding.leg is not None else None
        where = f"{leg.start.name} to {leg.end.name}: " if leg is not None else ""
        yield f"{where}{finding.message} [{finding.rule}]"


def _at_fault(answer: Answer, least: Severity) -> Iterator[Finding]:
    for finding in answer.findings:
        graver = finding.severity is Severity.ERROR or (least, finding.severity) == (Severity.WARNING,) * 2
        if finding.rule in _FAULTS and graver:
            yield finding


def _name(network: Network, link: int) -> tuple[str, str, str]:
    start, end = network.points[network.start[link]], network.points[network.end[link]]
    return network.airways[network.airway[link]], start, end
