"""What the tests of sheets share: the flights drawn on, and sheets as `navlog log` writes them."""

from __future__ import annotations

import io
from contextlib import redirect_stdout
from pathlib import Path

from navlog.cli import run
from navlog.flightlog.conditions import conditions as conditions_of
from navlog.flightlog.planning import plan
from navlog.request.flights import read_flights
from navlog.resolve.flight import resolve_flight
from navlog.rules.report import Report, judge

ROUTES = Path(__file__).parents[1] / "sheets" / "routes"
NAMES = tuple(sorted(path.stem for path in ROUTES.glob("*.route")))


def reports(text: str, file: str = "test.route") -> list[Report]:
    """The reports of a route file's flights, every one of which must be computed."""
    plans = read_flights(text, file)
    assert plans.problems == ()
    found = []
    for request in plans.flights:
        route = resolve_flight(request)  # type: ignore[arg-type]
        found.append(judge(plan(route, conditions_of(route))))
    return found


def report(name: str) -> Report:
    """The report of one of the flights drawn on."""
    path = ROUTES / f"{name}.route"
    return reports(path.read_text("utf-8"), str(path))[0]


def sheet(*arguments: str) -> bytes:
    """What `navlog log` writes to standard output."""
    out = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", newline="")
    with redirect_stdout(out):
        assert run(["log", *arguments]) in (0, 1)
        out.flush()
        raw = out.buffer
        assert isinstance(raw, io.BytesIO)
        return raw.getvalue()
