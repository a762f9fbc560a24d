"""The check of the VOR receivers that 14 CFR 91.171 asks for under IFR."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.nav.receiver_check import Check, error_text, good_through, limit_of
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import sample


@once_a_flight
@rule(
    "vor-check",
    Severity.NOTE,
    group=Group.GUIDANCE,
    at_times=(Severity.WARNING,),
    source="14 CFR 91.171(a)",
    remedy="check the receivers and state it: vor-check 2026-07-04 XHAR ground +2",
    passing=sample("rules ifr", "vor-check 2026-07-04 XHAR ground +2"),
    failing=sample("rules ifr"),
)
def vor_check(case: Case) -> Iterator[Found]:
    """The receivers' check is not stated, or does not count on the day, under IFR with VOR.

    14 CFR 91.171(a): "No person may operate a civil aircraft under IFR using the VOR system of radio navigation unless
    the VOR equipment of that aircraft (1) Is maintained, checked, and inspected under an approved procedure; or (2) Has
    been operationally checked within the preceding 30 days, and was found to be within the limits of the permissible
    indicated bearing error". A note where no check is stated, since the aircraft's record may have one; a warning where
    the one stated is older than 30 days or of a later day than the flight's, and where fewer receivers were checked
    than are on board.
    """
    if case.request.rules != "ifr" or not case.guided:
        return
    check, span = case.request.receiver_check, case.request.spans.get("vor-check")
    if check is None:
        yield Found("no check of the VOR receivers is stated; it must be within the 30 days before the flight")
        return
    made, last = f"the check of the VOR receivers of {check.day}", good_through(check.day)
    if check.day > case.request.day:
        yield Found(f"{made} is of a later day than the flight", severity=Severity.WARNING, span=span)
    elif case.request.day > last:
        old = f"is {(case.request.day - check.day).days} days before the flight and counts through {last}"
        yield Found(f"{made} {old}", severity=Severity.WARNING, span=span)
    receivers = case.request.equipment.vor
    if check.kind is not Check.DUAL and len(check.errors_deg) < receivers:
        some = f"{made} tells {len(check.errors_deg)} error of {receivers} receivers"
        yield Found(f"{some}: use no receiver that was not checked", severity=Severity.WARNING, span=span)
    elif len(check.errors_deg) > max(receivers, 2):
        some = f"{made} tells {len(check.errors_deg)} errors of {receivers} receivers"
        yield Found(f"{some}: which error is of which is not known", severity=Severity.WARNING, span=span)


@once_a_flight
@rule(
    "vor-check-error",
    Severity.WARNING,
    group=Group.GUIDANCE,
    at_times=(Severity.ERROR,),
    source="14 CFR 91.171(b), (c)",
    remedy="have the receiver set right, and do not use it under IFR",
    passing=sample("rules ifr", "vor-check 2026-07-04 XHAR airborne +6"),
    failing=sample("rules ifr", "vor-check 2026-07-04 XHAR ground +6"),
)
def vor_check_error(case: Case) -> Iterator[Found]:
    """A receiver was found to be farther off than its check allows.

    An error under IFR. 14 CFR 91.171(b): at most 4 degrees either way against a test signal or at a checkpoint on the
    surface, 6 degrees at an airborne checkpoint or over a point on an airway's radial; (c) 4 degrees between two
    receivers. The smallest limit counts where the kind of check is not said.
    """
    check = case.request.receiver_check
    if check is None:
        return
    limit = limit_of(check.kind)
    for number, error_deg in enumerate(check.errors_deg, 1):
        if not limit.holds(error_deg):
            which = f"receiver {number} " if len(check.errors_deg) > 1 else ""
            message = (
                f"{which}error {error_text(error_deg)} degrees at {check.place}, at most {limit.degrees:g}"
                f" ({limit.words}, {limit.paragraph})"
            )
            span = case.request.spans.get("vor-check")
            yield Found(message, severity=case.by_rules, span=span, by=abs(error_deg) - limit.degrees)
