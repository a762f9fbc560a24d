"""The base flight of the rules' samples with notices."""

from __future__ import annotations

from navlog.flightlog.records import Log
from navlog.nav.problems import Problem
from navlog.request.references import References
from navlog.rules.answers import Answer, check_text
from navlog.rules.samples import sample

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
