"""How a rule is made of a function, what a case tells of the flight, and of which flights a domain is asked."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from helpers.judged import reported

from navlog.rules import report
from navlog.rules.domains import DOMAINS
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import FLOWN_BY_FILE


def told(case: Case) -> Iterator[Found]:
    """Something is told.

    A note where
    it is little.
    """
    yield Found("told", case.legs[0])


def test_a_rule_is_made_of_its_function() -> None:
    made = rule(
        "told-here",
        Severity.WARNING,
        group=Group.HEIGHT,
        source="a book",
        remedy="read it",
        passing="passing",
        failing="failing",
        acceptable=False,
        at_times=(Severity.NOTE,),
        apart=(Severity.ERROR,),
    )(told)
    assert (made.ident, made.severity, made.group) == ("told-here", Severity.WARNING, Group.HEIGHT)
    assert (made.title, made.more) == ("Something is told", "A note where it is little.")
    assert (made.source, made.remedy, made.check) == ("a book", "read it", told)
    assert (made.passing, made.failing) == ("passing", "failing")
    assert (made.acceptable, made.at_times, made.apart) == (False, (Severity.NOTE,), (Severity.ERROR,))
    assert not made.whole_flight


CASES: list[tuple[tuple[str, ...], str]] = [
    ((), ""),
    (("rules ifr",), "climbout receivers"),
    (("wind 3000 230/12 -5C",), "cold"),
    (("temperature 21C",), "cold"),
    (FLOWN_BY_FILE, "cold"),
    (("altitude 10000", "wind 9000 230/12"), ""),
    (("altitude 10001", "wind 9000 230/12"), "oxygen"),
    (("vor-check 2026-07-04 XHAR ground +1",), "receivers"),
    (("station QHB 113.70", "station QEL 110.20", "variation 13W"), "closure"),
    (("notices notices.txt",), "noticed"),
    (("pattern 1350ft",), "stated"),
    (("hold QHB 5min",), "stated"),
    (('radio XOLD "Tower" 118.700',), "stated"),
    (("route XHAR QHB V801 QEL/A055 XOLD/A045",), "stated"),
    (('accept under-mea "seen"',), "retired"),
]


@pytest.mark.parametrize(("changed", "asked"), CASES)
def test_of_which_flights_a_domain_is_asked(changed: tuple[str, ...], asked: str) -> None:
    case = report.case_of(reported(*changed).log)
    always = {name for name, concerns in DOMAINS.items() if concerns.__name__ == "_always"}
    assert {name for name, concerns in DOMAINS.items() if concerns(case)} - always == set(asked.split())


def test_no_climb_by_instruments_begins_in_the_air() -> None:
    log = reported("rules ifr", "alternate XHAR from QEL").log
    (way,) = log.alternates
    assert report.case_of(log).takes_off
    assert not report.case_of(way).takes_off
    assert not DOMAINS["climbout"](report.case_of(way))
