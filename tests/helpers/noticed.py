"""The base flight of the rules' samples with notices."""

from __future__ import annotations

from navlog.flightlog.records import Log
from navlog.nav.problems import Problem
from navlog.request.references import References
from navlog.rules.answers import Answer, check_text
from navlog.rules.samples import sample

DAY = "2607180000-2607182359"
"""The day of the flight, as a notice has it."""

PAIR = "V801 HARBOUR (QHB) VOR/DME TO ELDON (QEL) VOR/DME"


def flown(notices: str, *statements: str) -> Answer:
    (answer,) = check_text(
        sample("notices notices.txt", *statements), "x.route", references=References({"notices.txt": notices})
    )
    problems: tuple[Problem, ...] = answer.problems
    assert not problems
    return answer


def log_of(answer: Answer) -> Log:
    assert answer.report is not None
    return answer.report.log


def found(answer: Answer, rule: str) -> list[str]:
    """What a rule says of a flight."""
    return [one.message for one in answer.findings if one.rule == rule]


def mast(where: str, top_ft: int) -> str:
    """A notice of a tower by its place and top."""
    return f"!XHA 07/001 XHA OBST TOWER LGT (ASR 1234567) {where} {top_ft}FT (900FT AGL) U/S {DAY}"
