"""Turn a plain-text list of stations, radials and airways into a VOR navigation log.

As a library: `read_flights` reads a route file, `resolve_flight` finds its points and airways, `plan` computes the
log and `judge` its findings.

    from navlog import judge, plan, read_flights, resolve_flight

    for request in read_flights(text, "trip.route").flights:
        report = judge(plan(resolve_flight(request)))
"""

from __future__ import annotations

TYPE_CHECKING = False  # type checkers take it for typing's; that module is not worth 6 ms of every start

if TYPE_CHECKING:
    from navlog.flightlog import plan
    from navlog.flights import read_flights
    from navlog.problems import NavlogError
    from navlog.resolve import resolve_flight
    from navlog.rules import judge

__all__ = ["NavlogError", "judge", "plan", "read_flights", "resolve_flight"]

_HOMES = {
    "NavlogError": "navlog.problems",
    "judge": "navlog.rules",
    "plan": "navlog.flightlog",
    "read_flights": "navlog.flights",
    "resolve_flight": "navlog.resolve",
}


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'navlog' has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)
