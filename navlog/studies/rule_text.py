"""One rule in words: what it says, on whose authority, what to do, and a route file that it finds fault with."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from navlog.nav.angles import position_text
from navlog.nav.chart import Fix, Station
from navlog.nav.figures import course, distance, east_west, frequency, whole
from navlog.nav.layout import WIDTH, wrapped
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.spelling import alike
from navlog.rules.domains import every_rule, rule_named
from navlog.rules.registry import Rule
from navlog.rules.retired import PROBLEMS, RETIRED
from navlog.rules.samples import FILES, PUBLISHED_FIXES, PUBLISHED_STATIONS


def known_rule(ident: str) -> Rule:
    """The rule of that id.

    Raises an `unknown-rule` problem with the nearest ids, or those that tell the same as a retired rule.
    """
    found = rule_named(ident)
    if found is None and ident in RETIRED:
        hint = PROBLEMS.get(ident) or f"now told by {', '.join(f'`{one}`' for one in RETIRED[ident])}"
        raise problem_error("unknown-rule", f"`{ident}` is no rule any more", hint=hint)
    if found is None:
        raise _unknown(ident, (rule.ident for rule in every_rule()))
    return found


def _unknown(ident: str, known: Iterable[str]) -> NavlogError:
    """The problem of a rule that is not there."""
    idents = list(known)
    close = alike(ident, idents, most=1)
    hint = f"did you mean `{close[0]}`?" if close else f"the rules are {', '.join(sorted(idents))}"
    return problem_error("unknown-rule", f"no rule is called `{ident}`", hint=hint)


def rule_text(rule: Rule) -> str:
    """The rule with its source, what to do, and its samples: the failing one, and what the passing one changes."""
    accepted = "may be accepted with a reason" if rule.acceptable else "can never be accepted"
    severities = ", at times ".join((rule.severity.value, *(one.value for one in rule.at_times)))
    lines = [
        *wrapped(f"{rule.ident}: {rule.title} ({severities}; {accepted})", WIDTH, "  "),
        *(wrapped(rule.more, WIDTH, "") if rule.more else ()),
        *wrapped(f"Source: {rule.source}", WIDTH, "  "),
        *wrapped(f"Remedy: {rule.remedy}", WIDTH, "  "),
        "A route file in which it is found:",
        *(f"    {line}" for line in rule.failing.strip().splitlines()),
        *_changed_lines("It is not found with", rule.passing, rule.failing),
        *_changed_lines("and without", rule.failing, rule.passing),
        *_beside(rule),
    ]
    return "\n".join(lines) + "\n"


def _companions(rule: Rule) -> dict[str, str]:
    """The files that the rule's samples name, by name."""
    words = f"{rule.failing} {rule.passing}".split()
    return {name: text.strip() for name, text in FILES.items() if name in words}


def _beside(rule: Rule) -> Iterator[str]:
    """The files that the samples name, and what they use of published data."""
    for name, text in _companions(rule).items():
        yield from (f"Beside it stands {name}:", *(f"    {line}".rstrip() for line in text.splitlines()))
    words = f"{rule.failing} {rule.passing}".split()
    published: tuple[Station | Fix, ...] = (*PUBLISHED_STATIONS.values(), *PUBLISHED_FIXES.values())
    for place in published:
        if place.ident not in words:
            continue
        source = place.provenance
        held = f"{source.effective} until {source.expires}" if source.effective is not None else "no dates"
        what = _published_text(place)
        yield from wrapped(f"A catalogue holds, of {source.source.value.upper()}, {held}: {what}", WIDTH, "    ")


def _published_text(place: Station | Fix) -> str:
    """An invented published station or fix in the words of a route file."""
    where = position_text(place.position) if place.position is not None else ""
    if isinstance(place, Fix):
        made = " and ".join(
            f"{one.station} {course(one.radial_deg)} {distance(one.distance_nm)} NM" for one in place.makeup
        )
        return f"fix {place.ident} at {where}" + (" by its make-up" if place.computed else f", made up of {made}")
    words = ["station", place.ident, frequency(place.frequency_mhz), where, f"decl {east_west(place.declination_deg)}"]
    words += [f"class {place.service}", f"elev {whole(place.elevation_ft)}ft"]
    return " ".join((*words, *(["channel", place.channel] if place.channel else [])))


def _changed_lines(heading: str, text: str, other: str) -> list[str]:
    """The lines of a sample that the other has not, under a heading; nothing where there are none."""
    kept = other.splitlines()
    own = [f"    {line}" for line in text.splitlines() if line not in kept]
    return [heading, *own] if own else []


def rule_json(rule: Rule) -> str:
    """The rule as one line of JSON."""
    from json import dumps

    found = {
        "schema": "navlog/rule-1",
        "rule": rule.ident,
        "severity": rule.severity.value,
        "at_times": [one.value for one in rule.at_times],
        "title": rule.title,
        "source": rule.source,
        "remedy": rule.remedy,
        "acceptable": rule.acceptable,
        "passing": rule.passing,
        "failing": rule.failing,
        "files": _companions(rule),
    }
    return dumps(found, ensure_ascii=True, allow_nan=False) + "\n"
