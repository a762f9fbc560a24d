"""What a case tells of the flight, and of which flights a domain is asked."""

from __future__ import annotations

from typing import get_args

import pytest
from helpers.judged import reported

from navlog.rules import report
from navlog.rules.climbout import climb_out
from navlog.rules.domains import DOMAINS, every_rule, rules_on, subjects
from navlog.rules.registry import Subject
from navlog.rules.samples import FLOWN_BY_FILE

CASES: list[tuple[tuple[str, ...], str]] = [
    ((), ""),
    (("rules ifr",), "climbout receivers"),
    (("wind 3000 230/12 -5C",), "cold"),
    (("temperature 21C",), "cold forecasts"),
    (FLOWN_BY_FILE, "cold forecasts"),
    (("altitude 10000", "wind 9000 230/12"), ""),
    (("altitude 10001", "wind 9000 230/12"), "oxygen"),
    (("vor-check 2026-07-04 XHAR ground +1",), "receivers"),
    (("station QHB 113.70", "station QEL 110.20", "variation 13W"), "closure"),
    (("notices notices.txt",), "noticed obstacles_told"),
    (("pattern 1350ft",), "stated"),
    (("hold QHB 5min",), "stated"),
    (('radio XOLD "Tower" 118.700',), "stated"),
    (("route XHAR QHB V801 QEL/A055 XOLD/A045",), "stated"),
    (('accept under-mea "seen"',), "retired"),
]


@pytest.mark.parametrize(("changed", "asked"), CASES)
def test_of_which_flights_a_domain_is_asked(changed: tuple[str, ...], asked: str) -> None:
    has = subjects(report.case_of(reported(*changed).log))
    assert {name for name, about in DOMAINS.items() if not has.isdisjoint(about)} == set(asked.split())


def test_no_climb_by_instruments_begins_in_the_air() -> None:
    log = reported("rules ifr", "alternate XHAR from QEL").log
    (way,) = log.alternates
    assert report.case_of(log).takes_off
    assert not report.case_of(way).takes_off
    assert not [*climb_out.check(report.case_of(way))]


def test_a_rule_is_asked_where_its_subject_is_and_every_rule_of_a_flight_that_has_all() -> None:
    usual = {one.ident for one in rules_on(frozenset())}
    assert {one.ident for one in rules_on(frozenset({"alternate"}))} - usual == {"alternate-reserve"}
    assert rules_on(frozenset(get_args(Subject))) == every_rule()
