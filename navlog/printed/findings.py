"""Findings in lines of text: one a rule, the worst of its findings told and every leg listed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from navlog.rules.registry import Finding


def findings_summary(findings: tuple[Finding, ...], *, every: bool = False) -> str:
    """How many lines of each severity are open: `1 error, 2 warnings`; in a line the gravest counts."""
    if not findings:
        return "none"
    still = [worst(group).severity.value for group in by_line(findings, every=every) if group[0].accepted is None]
    counted = [(word, still.count(word)) for word in ("error", "warning", "note")]
    told = ", ".join(f"{count} {word}{'s' if count > 1 else ''}" for word, count in counted if count)
    return told or "all accepted"


def findings_lines(findings: tuple[Finding, ...], *, every: bool = False) -> tuple[str, ...]:
    """A line for each rule, worst first, or with `every` for each finding, with the reason where it is accepted."""
    return tuple(finding_line(*group) for group in by_line(findings, every=every))


def by_line(findings: Sequence[Finding], *, every: bool = False) -> tuple[tuple[Finding, ...], ...]:
    """The findings that share a line: those of one rule that are accepted for the same reason, or not at all.

    With `every` none does.

    What notices say is never summed up, nor is ground that is met, as a hillside by the runway must not hide a mountain
    on the way: each message has its line. A station has its own, so that no leg is listed beside a station that it
    does not use.
    """
    if every:
        return tuple((finding,) for finding in findings)
    groups: dict[tuple[str, str | None, str | None, str | None], list[Finding]] = {}
    for finding in findings:
        each = finding.message if finding.apart else None
        groups.setdefault((finding.rule, finding.accepted, each, finding.station), []).append(finding)
    return tuple(tuple(group) for group in groups.values())


def worst(group: Sequence[Finding]) -> Finding:
    """The gravest of a rule's findings: by severity, then by how far a number is beyond its limit, then the first."""
    return group[0] if len(group) == 1 else min(group, key=lambda finding: (finding.rank, -finding.by))


def finding_line(*group: Finding) -> str:
    """Findings of a rule in a line: `ERROR legs 2, 5-7: 2300 ft is below ... (leg 5, the worst of 4) [under-mea]`.

    Behind it stands the reason where they are accepted.
    """
    one = worst(group)
    return f"{one.severity.value.upper()} {told_together(group)} [{one.rule}]{accepted_text(one)}"


def accepted_text(one: Finding) -> str:
    """The reason for which a finding is accepted, with a blank before it; nothing where it is not."""
    return f" (accepted: {one.accepted})" if one.accepted is not None else ""


def told_together(group: Sequence[Finding]) -> str:
    """Where and what: every leg, and of several different messages the worst one with its leg and of how many."""
    one = worst(group)
    where, message, number = places(group), one.message, len({finding.message for finding in group})
    notes = [one.where] if one.where != where and (number > 1 or (one.also and not one.joint)) else []
    if number > 1:
        notes.append(f"the worst of {number}" if one.by else f"one of {number}")
    if notes:
        message += f" ({', '.join(notes)})"
    return f"{where}: {message}" if where else message


def places(group: Iterable[Finding]) -> str:
    """The legs of findings: `leg 2`, `legs 2, 5-7`, `legs 2, 3, alternate XOLD leg 1`; empty for the whole flight."""
    found = list(group)
    told = []
    on_route = sorted({leg for one in found if one.leg is not None for leg in (one.leg, *one.also)})
    if on_route:
        told.append(legs_text(on_route))
    ways = dict.fromkeys(one.alternate.name for one in found if one.alternate is not None)
    for way in ways:
        there = [one for one in found if one.alternate is not None and one.alternate.name == way]
        legs = sorted({leg for one in there if one.number is not None for leg in (one.number, *one.also)})
        told.append(f"alternate {way} {legs_text(legs)}" if legs else f"alternate {way}")
    return ", ".join(told)


def legs_text(numbers: Sequence[int]) -> str:
    """Legs by their numbers, in order: `leg 2`, `legs 2, 5-7`."""
    return f"leg{'s' if len(numbers) > 1 else ''} {ranges(numbers)}"


def ranges(numbers: Sequence[int]) -> str:
    """Rising numbers with runs of three or more in short: `2, 5-7`, `2, 3`."""
    return ", ".join(_run_text(run) for run in _runs(numbers))


def _runs(numbers: Sequence[int]) -> Iterator[list[int]]:
    """Neighbouring numbers together."""
    run: list[int] = []
    for number in numbers:
        if run and number != run[-1] + 1:
            yield run
            run = []
        run.append(number)
    if run:
        yield run


def _run_text(run: Sequence[int]) -> str:
    """One run of numbers."""
    return f"{run[0]}-{run[-1]}" if len(run) > 2 else ", ".join(map(str, run))
