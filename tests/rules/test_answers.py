"""What a whole file comes to: answers in words, the exit status, and the place of a problem."""

from __future__ import annotations

import pytest

from navlog.nav.problems import Problem, Span
from navlog.rules.answers import check_text, exit_status
from navlog.rules.samples import sample

GOOD = sample()
WARNED = sample("altitude 2300", "route XHAR QHB V801 QEL XOLD")
"""Below the MOCA of 2400 ft on both legs of the airway, and below the stated 2500 ft before and after it."""
FAULTY = sample("fuel 8gal")
"""The reserve is not there."""
BROKEN = sample("altitude high", "fuel much")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (GOOD, "<Answer flight: ok, 0 findings>"),
        (FAULTY, "<Answer flight: error, 1 finding>"),
        (f'flight "Low"\n{WARNED}', "<Answer Low: warning, 4 findings>"),
        (BROKEN, "<Answer flight: problem: bad-value>"),
    ],
)
def test_an_answer_in_words(text: str, words: str) -> None:
    (answer,) = check_text(text, "flight.route")
    assert repr(answer) == words


@pytest.mark.parametrize(
    ("texts", "usual", "strict"),
    [
        ((), 0, 0),
        ((GOOD,), 0, 0),
        ((GOOD, WARNED), 0, 1),
        ((WARNED, FAULTY), 1, 1),
        ((FAULTY, BROKEN, GOOD), 2, 2),
    ],
)
def test_the_gravest_answer_is_the_exit_status(texts: tuple[str, ...], usual: int, strict: int) -> None:
    found = [answer for text in texts for answer in check_text(text)]
    assert exit_status(found) == usual
    assert exit_status(found, strict=False) == usual
    assert exit_status(found, strict=True) == strict


def test_a_day_without_a_magnetic_model_has_the_place_of_its_date() -> None:
    # The models kept are WMM2010 to WMM2025, of five years each.
    (answer,) = check_text(sample("date 2035-07-18"), "flight.route")
    assert (answer.status, answer.findings, answer.line) == ("problem", (), 1)
    assert answer.problems == (
        Problem(
            "no-magnetic-model",
            "no magnetic model covers 2035-07-18; they reach from 2010 to 2029",
            Span("flight.route", 11, 1, len("date")),
            "state the variation, such as `variation 7E`, or correct the date",
            "date 2035-07-18",
        ),
    )
