"""Turn a plain-text list of stations, radials and airways into a VOR navigation log.

As a library: `check_text` gives for each flight of a route file what `navlog check` says of it, `open_catalogue`
opens published data for it.

    from pathlib import Path

    from navlog import check_text

    path = "examples/round_robin.route"
    for answer in check_text(Path(path).read_bytes(), path):
        for problem in answer.problems:
            print(answer.flight, problem.code, problem.message)
        for finding in answer.findings:
            print(answer.flight, finding.severity, finding.rule, finding.message)

Its steps one by one are `read_flights`, `resolve_flight`, `plan` and `judge`.
"""

from __future__ import annotations

TYPE_CHECKING = False  # type checkers take it for typing's; that module is not worth 6 ms of every start

if TYPE_CHECKING:
    from navlog.catalogue import open_catalogue
    from navlog.flightlog.planning import plan
    from navlog.nav.problems import NavlogError
    from navlog.request.flights import read_flights
    from navlog.resolve.flight import resolve_flight
    from navlog.rules.answers import Answer, check_text
    from navlog.rules.report import judge

__all__ = [
    "Answer",
    "NavlogError",
    "check_text",
    "judge",
    "open_catalogue",
    "plan",
    "read_flights",
    "resolve_flight",
]

_HOMES = {
    "Answer": "navlog.rules.answers",
    "NavlogError": "navlog.nav.problems",
    "check_text": "navlog.rules.answers",
    "judge": "navlog.rules.report",
    "open_catalogue": "navlog.catalogue",
    "plan": "navlog.flightlog.planning",
    "read_flights": "navlog.request.flights",
    "resolve_flight": "navlog.resolve.flight",
}


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'navlog' has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)
