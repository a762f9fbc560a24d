"""What the commands on route files share: the overrides, reading a file, choosing a flight."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

import click

from navlog.nav.problems import NavlogError, Span, problem_error
from navlog.nav.record import changed
from navlog.request.flights import Overrides
from navlog.request.lexer import file_bytes
from navlog.request.records import FlightPlans, Request

if TYPE_CHECKING:
    from navlog.flightlog.records import Log
    from navlog.resolve.lookup import ChartLookup

_Command = TypeVar("_Command", bound=Callable[..., object])

_OVERRIDES: tuple[tuple[str, bool, str], ...] = (
    ("date", False, "The date of every flight: 2026-07-18."),
    ("off", False, "Wheels off in every flight: 15:10Z, or '10:10 America/Chicago'."),
    ("wind", True, "The wind of every flight in place of all of its own: 230/15, '3000 230/12 6000 240/18'."),
    ("altitude", False, "The cruising altitude or level of every flight; the route's own changes stay."),
    ("unavailable", True, "A station out of service; again for more."),
)


def flight_overrides(command: _Command) -> _Command:
    """Give a command the options that stand in every flight's place, and `--quote-outside`."""
    for name, many, text in reversed(_OVERRIDES):
        command = click.option(f"--{name}", multiple=many, metavar="TEXT", help=text)(command)
    quote = "Let problems quote aircraft and bulletin files that lie outside the route file's folder."
    return click.option("--quote-outside", is_flag=True, help=quote)(command)


def quotes_outside(options: dict[str, object]) -> bool:
    """Whether files outside the route file's folder may be quoted; the option is taken out of `options`."""
    return bool(options.pop("quote_outside"))


def overrides_from(options: dict[str, object]) -> Overrides:
    """The overrides among a command's options, which are taken out of `options`."""
    return Overrides(**{name: options.pop(name) for name, _, _ in _OVERRIDES})  # type: ignore[arg-type]


def read_route_file(file: str, overrides: Overrides) -> FlightPlans:
    """The flights of a file, or of standard input for `-`.

    Raises NavlogError where the file cannot be read or is not text.
    """
    from navlog.rules.answers import text_plans

    return text_plans(read_bytes(file), file, overrides)


def read_bytes(file: str) -> bytes:
    """The bytes of a file or of standard input, of one that is too large just enough to tell."""
    return file_bytes(file, stream=sys.stdin.buffer if file == "-" else None)


def files_read(plans: FlightPlans) -> tuple[str, ...]:
    """The route file with the aircraft and bulletin files that its flights name."""
    import os

    folder = os.path.dirname(plans.file)
    named = [
        reference.path
        for flight in plans.flights
        if isinstance(flight, Request)
        for reference in (flight.aircraft, *flight.bulletins)
        if reference is not None
    ]
    return (plans.file, *(os.path.join(folder, path) for path in dict.fromkeys(named)))


def only_flight(plans: FlightPlans, name: str | None) -> FlightPlans:
    """The plans with one flight alone.

    Raises NavlogError where no flight has that name.
    """
    if name is None or plans.problems:
        return plans
    chosen = tuple(flight for flight in plans.flights if flight.name == name)
    if chosen:
        return changed(plans, flights=chosen, partial=len(chosen) < len(plans.flights))
    names = ", ".join(f"`{flight.name}`" for flight in plans.flights)
    raise problem_error(
        "unknown-flight",
        f"no flight is called `{name}`",
        span=Span(plans.file, 1),
        hint=f"this file has {names}",
    )


def sole_log(file: str, options: dict[str, Any], name: str | None, catalogue: ChartLookup | None) -> Log:
    """The log of a file's only flight, or of the one called `name`; takes what is about flights out of `options`.

    Raises its problems, and a `which-flight` problem where the file has several and none is named.
    """
    from navlog.request.references import References
    from navlog.rules.answers import answers

    references = References(quote_outside=quotes_outside(options))
    plans = only_flight(read_route_file(file, overrides_from(options)), name)
    if plans.problems:
        raise NavlogError(*plans.problems)
    if len(plans.flights) > 1:
        names = ", ".join(f"`{flight.name}`" for flight in plans.flights)
        hint = f"name one with --flight: {names}"
        raise problem_error("which-flight", "this file has several flights", span=Span(file, 1), hint=hint)
    (found,) = answers(plans, catalogue, references)
    if found.report is None:
        raise NavlogError(*found.problems)
    return found.report.log
