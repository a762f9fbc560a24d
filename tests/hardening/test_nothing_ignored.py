"""Nothing that a route file says is accepted and ignored: what is taken out of a flight shows on a sheet.

`NAVLOG_FLIGHTS=200 pytest tests/hardening/test_nothing_ignored.py` takes apart as many flights.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from helpers.flown import changed, codes, flight, rules_of, sheet
from helpers.grammar import FILES, each_left_out, written
from helpers.grammar import flight as made_up
from helpers.tiles import write_islands

from navlog.request.references import References
from navlog.request.statements import STATEMENTS
from navlog.rules.answers import Answer, check_text, text_plans
from navlog.sheets.formats import sheet as sheet_of
from navlog.studies import whatif

FLIGHTS = int(os.environ.get("NAVLOG_FLIGHTS", "4"))
OTHERS = ("text", "planning", "steps", "strip")

ONLY_LIMITS = re.compile(r"\{(class|elev|D[LH]|turn|course|unusable|below|beyond)\b")
"""What is only held against the flight, and says nothing where it is kept; the tests below break each."""


@pytest.fixture(scope="module")
def references(tmp_path_factory: pytest.TempPathFactory) -> References:
    return References({**FILES, "terrain": str(write_islands(tmp_path_factory.mktemp("terrain")).parent)})


def answered(text: str, references: References) -> tuple[Answer, ...]:
    return check_text(text, "made.route", references=references)


def shown(found: tuple[Answer, ...], form: str) -> str:
    """A sheet without the digest of the file and without its route line, which repeat what is written."""
    printed = sheet_of(form, found, "a5")
    assert not isinstance(printed, bytes)
    lines = re.sub(r"\b[0-9a-f]{12}\b", "", printed or "").splitlines()
    return "\n".join(line for line in lines if not line.startswith("Route "))


def compared(text: str, references: References) -> str:
    """The levels that `--compare-altitudes` looks at."""
    (one,) = answered(text, references)
    plans = text_plans(text, "made.route")
    _, told = whatif.answered(one, plans, None, references, compare_altitudes=True, wind_error_kt=None)
    return repr(told)


def is_shown(part: str, whole: str, without: str, references: References) -> bool:
    """Whether anything printed differs once a part is left out."""
    one, other = answered(whole, references), answered(without, references)
    if one[0].problems or other[0].problems:
        return one[0].problems != other[0].problems
    if any(shown(one, form) != shown(other, form) for form in ("json", *OTHERS)):
        return True
    return part.startswith("ceiling") and compared(whole, references) != compared(without, references)


def silent(part: str, line: str, text: str) -> bool:
    """Whether it may go unseen: a limit that is kept, or more of a station that is out of service."""
    out = re.findall(r"^unavailable (\w+)", text, re.MULTILINE)
    out += ["QAB"] if "notices briefing.txt" in text else []
    return bool(ONLY_LIMITS.match(part)) or any(one in line.split() for one in out)


@pytest.mark.parametrize("seed", range(FLIGHTS))
def test_whatever_is_left_out_of_a_flight_shows(seed: int, references: References) -> None:
    lines = made_up(seed)
    whole = written(lines)
    assert answered(whole, references)[0].problems == ()
    unseen = [
        f"{part} of {line}"
        for line, part, without in each_left_out(lines)
        if not is_shown(part, whole, without, references) and not silent(part, line.translate({123: "", 125: ""}), whole)
    ]
    assert unseen == []


def test_the_flights_are_made_of_every_statement_and_option() -> None:
    text = "\n".join(written(made_up(seed)) for seed in range(400))
    words = set(text.split())
    assert {line.split()[0] for line in text.splitlines() if line} == set(STATEMENTS)
    assert {option for form in STATEMENTS.values() for option in form.options} <= words
