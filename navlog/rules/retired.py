"""Acceptances that do nothing: of rules of earlier versions, which are still read, and of what is not found."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, sample

RETIRED: dict[str, tuple[str, ...]] = {
    "alternate-limits": (
        "under-mea",
        "moca-range",
        "under-minimum",
        "under-ground",
        "unflyable-wind",
        "distance-differs",
        "arrival-height",
    ),
    "alternate-guidance": ("station-out", "unusable-sector", "course-unknown", "no-guidance"),
    "alternate-minimum": ("minimum-unknown",),
    "levels-unknown": (),
}
"""What tells the same on the way to an alternate, by the retired rule; of one that no rule tells now, none."""

PROBLEMS = {"levels-unknown": "a table of cruising levels that is not known is a problem of the file"}
"""What stands in the place of a retired rule that no rule tells now."""

VISUALLY = {"moca-range": "under-mea"}
"""Rules that hold under IFR alone now, and what tells a flight under VFR instead."""


@once_a_flight
@rule(
    "rule-retired",
    Severity.NOTE,
    group=Group.DATA,
    source="every rule of the route holds on the way to an alternate too",
    remedy="accept the rules that the note names",
    passing=BASE,
    failing=sample('accept alternate-minimum "low ground"'),
)
def rule_retired(case: Case) -> Iterator[Found]:
    """The flight accepts a rule of an earlier version, which others tell now.

    Also one that no rule tells now. It still accepts what those find on the way to an alternate, but for what can
    never be accepted. Also where it
    accepts, under VFR, a rule that holds under IFR alone now: it accepts the note that stands in its place.
    """
    for acceptance in case.request.accepted:
        instead = RETIRED.get(acceptance.rule)
        if acceptance.rule in PROBLEMS:
            yield Found(f"`{acceptance.rule}` is found no more: {PROBLEMS[acceptance.rule]}", span=acceptance.span)
        elif instead is not None:
            names = ", ".join(f"`{ident}`" for ident in instead)
            yield Found(f"`{acceptance.rule}` is told on the way to an alternate by {names}", span=acceptance.span)
        if case.request.rules == "vfr" and acceptance.rule in VISUALLY:
            now = f"under VFR a note of `{VISUALLY[acceptance.rule]}` now"
            yield Found(f"what `{acceptance.rule}` told is {now}", span=acceptance.span)


@once_a_flight
@rule(
    "accept-unused",
    Severity.NOTE,
    group=Group.REST,
    source="an acceptance that waits for a finding would silence a later one unseen",
    remedy="leave it out; accept a finding once it is there",
    passing=sample("altitude 2300", 'accept under-mea "flown in sight of the ground"'),
    failing=sample('accept under-mea "flown in sight of the ground"'),
)
def accept_unused(case: Case) -> Iterator[Found]:
    """The flight itself accepts a rule that finds nothing on it, or not on the part named.

    Acceptances common to several flights need not find something on each.
    """
    for one in case.unused:
        where = " on the part named" if one.part is not None else ""
        yield Found(f"`{one.rule}` is accepted and finds nothing{where}", span=one.span)
