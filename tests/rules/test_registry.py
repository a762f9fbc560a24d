"""How a rule is made of a function, and what a case and a finding tell."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from helpers.judged import case_of

from navlog.flightlog.records import Passage
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.rules.registry import (
    Case,
    Finding,
    Found,
    Group,
    OnAlternate,
    Rule,
    Severity,
    once_a_case,
    once_a_flight,
    rule,
)


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
    assert made == Rule(
        "told-here",
        Severity.WARNING,
        "a book",
        "read it",
        told,
        "passing",
        "failing",
        acceptable=False,
        at_times=(Severity.NOTE,),
        whole_flight=False,
        group=Group.HEIGHT,
        apart=(Severity.ERROR,),
    )
    assert (made.title, made.more) == ("Something is told", "A note where it is little.")
    assert once_a_flight(made) == changed(made, whole_flight=True)


def test_a_rule_may_be_accepted_and_has_one_severity_unless_it_says_otherwise() -> None:
    made = rule("told-here", Severity.NOTE, group=Group.REST, source="", remedy="", passing="", failing="")(told)
    assert (made.acceptable, made.at_times, made.apart) == (True, (), ())


def test_what_several_rules_ask_is_found_once_a_case() -> None:
    asked: list[Case] = []

    @once_a_case
    def numbers(case: Case) -> Iterator[int]:
        asked.append(case)
        yield from (leg.number for leg in case.legs)

    one, other = case_of(), case_of()
    assert numbers(one) == numbers(one) == (1, 2, 3, 4)
    assert numbers(other) == (1, 2, 3, 4)
    assert asked == [one, other]


def passing(height_ft: float | None, *, begins: bool = False) -> Passage:
    """A passage of the point where an alternate begins, at the first leg's end or where the flight begins."""
    return Passage(None if begins else case_of().legs[0], height_ft, False, None, 0, None, None)


def test_the_legs_that_arrive_in_the_air_where_an_alternate_begins() -> None:
    case = case_of()
    begun = (passing(4500.0), passing(None), passing(4500.0, begins=True))
    assert [leg.number for leg in changed(case, begun=begun).arriving] == [1]
    assert case.arriving == ()


def test_what_is_grave_under_instrument_rules() -> None:
    assert (case_of("rules ifr").by_rules, case_of().by_rules) == (Severity.ERROR, Severity.WARNING)


def finding(severity: Severity, group: Group, accepted: str | None = None) -> Finding:
    return Finding("told-here", severity, "told", 3, Span("f.route", 1, 1, 1), "a book", accepted, group=group)


def test_findings_rank_by_acceptance_severity_and_what_kills_first() -> None:
    ranked = [
        finding(Severity.ERROR, Group.FLYING),
        finding(Severity.ERROR, Group.DATA),
        finding(Severity.WARNING, Group.HEIGHT),
        finding(Severity.NOTE, Group.FLYING),
        finding(Severity.ERROR, Group.FLYING, "seen"),
    ]
    assert [one.rank for one in ranked] == [(0, 0, 0), (0, 0, 4), (0, 1, 1), (0, 2, 0), (1, 0, 0)]


@pytest.mark.parametrize(
    ("leg", "alternate", "number", "where", "words"),
    [
        (3, None, 3, "leg 3", "told"),
        (None, None, None, "", "told"),
        (None, OnAlternate(1, "XOLD", 2), 2, "alternate XOLD leg 2", "alternate XOLD leg 2: told"),
        (None, OnAlternate(1, "XOLD", None), None, "alternate XOLD", "alternate XOLD: told"),
    ],
)
def test_where_a_finding_is(
    leg: int | None, alternate: OnAlternate | None, number: int | None, where: str, words: str
) -> None:
    one = changed(finding(Severity.NOTE, Group.REST), leg=leg, alternate=alternate)
    assert (one.number, one.where, one.told) == (number, where, words)
