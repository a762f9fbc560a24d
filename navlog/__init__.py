"""Turn a plain-text list of stations, radials and airways into a VOR navigation log.

As a library: `read_flights` reads a route file, `resolve` finds its points and airways, `plan` computes the
log and `judge` its findings.

    from navlog import judge, plan, read_flights, resolve

    for request in read_flights(text, "trip.route").flights:
        report = judge(plan(resolve(request)))
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from navlog.version import VERSION as __version__

if TYPE_CHECKING:
    from navlog.flightlog import plan
    from navlog.flights import read_flights
    from navlog.problems import NavlogError
    from navlog.resolve import resolve
    from navlog.rules import judge

__all__ = ["NavlogError", "__version__", "judge", "plan", "read_flights", "resolve"]

_HOMES = {
    "NavlogError": "navlog.problems",
    "judge": "navlog.rules",
    "plan": "navlog.flightlog",
    "read_flights": "navlog.flights",
    "resolve": "navlog.resolve",
}


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'navlog' has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)
