"""A rule is left out only where the flight has not its subject, and it would find nothing."""

from __future__ import annotations

from collections.abc import Iterable
from unittest.mock import patch

import pytest
from helpers.generated import Generated, generated_flights
from hypothesis import given, settings

from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.rules import report
from navlog.rules.answers import Answer, answers
from navlog.rules.domains import every_rule
from navlog.rules.samples import FILES, SampleCatalogue

TEXTS = sorted({text for rule in every_rule() for text in (rule.passing, rule.failing)})


def answered(texts: Iterable[str]) -> list[Answer]:
    """What is found in each of the flights."""
    plans = [read_flights(text, "flight.route") for text in texts]
    return [one for some in plans for one in answers(some, SampleCatalogue(), References(FILES))]


def assert_same_with_every_rule(texts: Iterable[str]) -> None:
    """Nothing more is found, or found otherwise, where every rule is asked of every flight."""
    few = answered(texts)
    with patch.object(report, "rules_on", lambda has: every_rule()):
        assert few == answered(texts)


@pytest.mark.parametrize("more", ["", "rules ifr\n", "alternate XHAR\nrules ifr\n"], ids=["vfr", "ifr", "alternate"])
def test_what_is_left_out_finds_nothing_in_the_samples(more: str) -> None:
    assert_same_with_every_rule([text + more for text in TEXTS if not more or "\nrules " not in text])


@given(generated_flights())
@settings(max_examples=60, deadline=None)
def test_what_is_left_out_finds_nothing_in_generated_flights(made: Generated) -> None:
    assert_same_with_every_rule([made.text])
