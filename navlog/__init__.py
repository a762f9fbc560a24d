"""Turn a plain-text list of stations, radials and airways into a VOR navigation log.

As a library: `check_text` gives for each flight of a route file what `navlog check` says of it, `log_text` the sheet
that `navlog log` prints, `open_catalogue` opens published data for both. `rows` makes a table of a log, `to_geojson` a
map.

    from pathlib import Path

    from navlog import check_text

    path = "examples/round_robin.route"
    for answer in check_text(Path(path).read_bytes(), path):
        for problem in answer.problems:
            print(answer.flight, problem.code, problem.message)
        for finding in answer.findings:
            print(answer.flight, finding.severity, finding.rule, finding.message)

The steps one by one are `read_flights`, `resolve_flight`, `plan` and `judge`. Records are frozen, can be compared and
hashed, and have a short `repr`; their fields are told in their docstrings.
"""

from __future__ import annotations

from navlog import version

__version__ = version.VERSION

TYPE_CHECKING = False  # type checkers take it for typing's; that module is not worth 6 ms of every start

if TYPE_CHECKING:
    from navlog.catalogue import import_data, open_catalogue
    from navlog.catalogue.queries import Catalogue
    from navlog.flightlog.planning import plan
    from navlog.flightlog.records import Leg, Log
    from navlog.nav.chart import Airport, Airway, Fix, Position, Station
    from navlog.nav.problems import NavlogError, Problem, Span
    from navlog.request.flights import read_flights
    from navlog.request.records import FlightPlans, Request
    from navlog.request.references import References
    from navlog.request.typed import Overrides
    from navlog.resolve.flight import resolve_flight
    from navlog.resolve.route import Point, Route, Stretch
    from navlog.rules.answers import Answer
    from navlog.rules.registry import Finding, Severity, Thresholds
    from navlog.rules.report import Report, judge
    from navlog.studies.library import FlightAnswer, check_text, log_text, rows, to_geojson

_HOMES = {
    "Airport": "navlog.nav.chart",
    "Airway": "navlog.nav.chart",
    "Answer": "navlog.rules.answers",
    "Catalogue": "navlog.catalogue.queries",
    "Finding": "navlog.rules.registry",
    "Fix": "navlog.nav.chart",
    "FlightAnswer": "navlog.studies.library",
    "FlightPlans": "navlog.request.records",
    "Leg": "navlog.flightlog.records",
    "Log": "navlog.flightlog.records",
    "NavlogError": "navlog.nav.problems",
    "Overrides": "navlog.request.typed",
    "Point": "navlog.resolve.route",
    "Position": "navlog.nav.chart",
    "Problem": "navlog.nav.problems",
    "References": "navlog.request.references",
    "Report": "navlog.rules.report",
    "Request": "navlog.request.records",
    "Route": "navlog.resolve.route",
    "Severity": "navlog.rules.registry",
    "Span": "navlog.nav.problems",
    "Station": "navlog.nav.chart",
    "Stretch": "navlog.resolve.route",
    "Thresholds": "navlog.rules.registry",
    "check_text": "navlog.studies.library",
    "import_data": "navlog.catalogue",
    "judge": "navlog.rules.report",
    "log_text": "navlog.studies.library",
    "open_catalogue": "navlog.catalogue",
    "plan": "navlog.flightlog.planning",
    "read_flights": "navlog.request.flights",
    "resolve_flight": "navlog.resolve.flight",
    "rows": "navlog.studies.library",
    "to_geojson": "navlog.studies.library",
}

__all__ = [
    "Airport",
    "Airway",
    "Answer",
    "Catalogue",
    "Finding",
    "Fix",
    "FlightAnswer",
    "FlightPlans",
    "Leg",
    "Log",
    "NavlogError",
    "Overrides",
    "Point",
    "Position",
    "Problem",
    "References",
    "Report",
    "Request",
    "Route",
    "Severity",
    "Span",
    "Station",
    "Stretch",
    "Thresholds",
    "__version__",
    "check_text",
    "import_data",
    "judge",
    "log_text",
    "open_catalogue",
    "plan",
    "read_flights",
    "resolve_flight",
    "rows",
    "to_geojson",
]


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'navlog' has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    return __all__
