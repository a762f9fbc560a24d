"""One rule in words: what it says, on whose authority, what to do, and a route file that it finds fault with."""

from __future__ import annotations

from collections.abc import Iterable

from navlog.problems import NavlogError, problem_error
from navlog.rules import RULES, Rule, rule_named
from navlog.sheets.words import wrapped

WIDTH = 80


def known_rule(ident: str) -> Rule:
    """The rule of that id.

    Raises an `unknown-rule` problem with the nearest ids.
    """
    found = rule_named(ident)
    if found is None:
        raise unknown(ident, (rule.ident for rule in RULES))
    return found


def unknown(ident: str, known: Iterable[str]) -> NavlogError:
    """The problem of a rule that is not there."""
    from difflib import get_close_matches

    idents = list(known)
    close = get_close_matches(ident, idents, n=1)
    hint = f"did you mean `{close[0]}`?" if close else f"the rules are {', '.join(sorted(idents))}"
    return problem_error("unknown-rule", f"no rule is called `{ident}`", hint=hint)


def rule_text(rule: Rule) -> str:
    """The rule with its source, what to do, and its samples: the failing one, and what the passing one changes."""
    accepted = "may be accepted with a reason" if rule.acceptable else "can never be accepted"
    lines = [
        *wrapped(f"{rule.ident}: {rule.title} ({rule.severity.value}; {accepted})", WIDTH, "  "),
        *(wrapped(rule.more, WIDTH, "") if rule.more else ()),
        *wrapped(f"Source: {rule.source}", WIDTH, "  "),
        *wrapped(f"Remedy: {rule.remedy}", WIDTH, "  "),
        "A route file in which it is found:",
        *(f"    {line}" for line in rule.failing.strip().splitlines()),
        *changed_lines("It is not found with", rule.passing, rule.failing),
        *changed_lines("and without", rule.failing, rule.passing),
    ]
    return "\n".join(lines) + "\n"


def changed_lines(heading: str, text: str, other: str) -> list[str]:
    """The lines of a sample that the other has not, under a heading; nothing where there are none."""
    kept = other.splitlines()
    own = [f"    {line}" for line in text.splitlines() if line not in kept]
    return [heading, *own] if own else []


def rule_json(rule: Rule) -> str:
    """The rule as one line of JSON."""
    from json import dumps

    found = {
        "rule": rule.ident,
        "severity": rule.severity.value,
        "title": rule.title,
        "source": rule.source,
        "remedy": rule.remedy,
        "acceptable": rule.acceptable,
        "passing": rule.passing,
        "failing": rule.failing,
    }
    return dumps(found, ensure_ascii=True, allow_nan=False) + "\n"
