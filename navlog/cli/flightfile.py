"""What the commands on route files share: the overrides, reading a file, choosing a flight."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any, TypeVar

import click

from navlog.cli import echo_error
from navlog.nav.problems import NavlogError, Span, problem_error
from navlog.nav.record import changed
from navlog.request.lexer import file_bytes
from navlog.request.records import FlightPlans, Request, RouteWord
from navlog.request.typed import ROUTE_OPTION, Overrides

if TYPE_CHECKING:
    from navlog.flightlog.records import Log
    from navlog.request.references import References
    from navlog.resolve.lookup import ChartLookup
    from navlog.rules.answers import Answer

_Command = TypeVar("_Command", bound=Callable[..., object])

_OVERRIDES: tuple[tuple[str, bool, str], ...] = (
    ("date", False, "The date of every flight: 2026-07-18."),
    ("off", False, "Wheels off in every flight: 15:10Z, or '10:10 America/Chicago'."),
    ("wind", True, "The wind of every flight in place of all of its own: 230/15, '3000 230/12 6000 240/18'."),
    ("altitude", False, "The cruising altitude or level of every flight; the route's own changes stay."),
    ("unavailable", True, "A station out of service; again for more."),
    ("notices", True, "A file of notices (NOTAMs) that count for every flight; again for more."),
    ("route", False, "A route as it is pasted, in place of FILE or of each flight's own: 'xhar..qhb.v801.qel'."),
    ("terrain", False, "The folder of terrain tiles of every flight (default: its own, else NAVLOG_TERRAIN)."),
    ("statements", True, "Any other statement, as in a file: 'equipment vor 2 dme 1'; again for more."),
)
_OF_THE_FLIGHT = (
    ("aircraft", False, "The aircraft file of every flight."),
    ("fuel", False, "The usable fuel on board of every flight: 38gal."),
)
_SPELT = {"statements": "set"}


def flight_overrides(command: _Command) -> _Command:
    """Give a command the options that stand in every flight's place, `--quote-outside` and `--no-files`."""
    for name, many, text in reversed(_OVERRIDES):
        spelt = f"--{_SPELT.get(name, name)}"
        command = click.option(spelt, name, multiple=many, metavar="TEXT", help=text)(command)
    quote = "Let problems quote aircraft and bulletin files that lie outside the route file's folder."
    command = click.option("--quote-outside", is_flag=True, help=quote)(command)
    return click.option("--no-files", is_flag=True, help="Refuse a route file that names other files.")(command)


def aircraft_overrides(command: _Command) -> _Command:
    """Give a command `--aircraft` and `--fuel`, where they mean those of the flight."""
    for name, _, text in reversed(_OF_THE_FLIGHT):
        command = click.option(f"--{name}", metavar="FILE" if name == "aircraft" else "FUEL", help=text)(command)
    return command


def quotes_outside(options: dict[str, object]) -> bool:
    """Whether files outside the route file's folder may be quoted; the option is taken out of `options`."""
    return bool(options.pop("quote_outside"))


def overrides_from(options: dict[str, object]) -> Overrides:
    """The overrides among a command's options, which are taken out of `options`."""
    given = {name: options.pop(name) for name in (*(name for name, _, _ in _OVERRIDES), "no_files")}
    given["terrain_otherwise"] = os.environ.get("NAVLOG_TERRAIN") or None
    return Overrides(**given)  # type: ignore[arg-type]


def flight_from(options: dict[str, object]) -> Overrides:
    """The overrides with the flight's aircraft and fuel, which are taken out of `options` too."""
    more = {name: options.pop(name) for name, _, _ in _OF_THE_FLIGHT}
    return changed(overrides_from(options), **more)  # type: ignore[arg-type]


def named_file(file: str | None, overrides: Overrides, name: str = "FILE") -> str:
    """The route file, or `--route` where a route is given without one; raises click.UsageError for neither.

    `name` is what the command's usage calls it.
    """
    if file is None and overrides.route is None:
        raise click.UsageError(f"Missing argument '{name}'; or give a route by --route.")
    return ROUTE_OPTION if file is None else file


def tell_understood(route: Iterable[RouteWord], overrides: Overrides) -> None:
    """Say on standard error how a pasted route was read, in the words of a route file."""
    if overrides.route is None:
        return
    from navlog.request.pasted import read_pasted
    from navlog.request.writer import route_line

    for line in (f"route {route_line(route)}", *read_pasted(overrides.route).notes):
        echo_error(f"understood: {line}")


def read_route_file(file: str, overrides: Overrides) -> FlightPlans:
    """The flights of a file, or of standard input for `-`.

    Raises NavlogError where the file cannot be read or is not text.
    """
    from navlog.rules.answers import text_plans

    return text_plans(read_bytes(file), file, overrides)


def read_bytes(file: str) -> bytes:
    """The bytes of a file or of standard input, of one that is too large just enough to tell."""
    if file == ROUTE_OPTION:
        return b""
    return file_bytes(file, stream=sys.stdin.buffer if file == "-" else None)


def files_read(plans: FlightPlans) -> tuple[str, ...]:
    """The route file with the aircraft and bulletin files that its flights name."""
    folder = os.path.dirname(plans.file)
    named = [
        reference.path
        for flight in plans.flights
        if isinstance(flight, Request)
        for reference in (flight.aircraft, *flight.bulletins, *flight.notices)
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


def sole_log(file: str | None, options: dict[str, Any], name: str | None, catalogue: ChartLookup | None) -> Log:
    """The log of `sole_flight`; raises what it raises."""
    return sole_flight(file, options, name, catalogue)[0]


def sole_flight(
    file: str | None, options: dict[str, Any], name: str | None, catalogue: ChartLookup | None
) -> tuple[Log, Request, References]:
    """The log of a file's only flight, or of the one called `name`, that flight as it is written, and its files.

    Takes what is about flights out of `options`. Raises its problems, and a `which-flight` problem where the file has
    several and none is named.
    """
    from navlog.request.references import References

    references = References(quote_outside=quotes_outside(options))
    overrides = overrides_from(options)
    file = named_file(file, overrides)
    plans = only_flight(read_route_file(file, overrides), name)
    found = sole_answer(plans, catalogue, references)
    if found.report is None:
        raise NavlogError(*found.problems)
    log, (request,) = found.report.log, plans.flights
    tell_understood(log.route.request.route, overrides)
    # A broken flight has no log.
    assert isinstance(request, Request)
    return log, request, references


def sole_answer(plans: FlightPlans, catalogue: ChartLookup | None, references: References) -> Answer:
    """The answer for a file's only flight; raises the problems of the file, and `which-flight` where it has several."""
    from navlog.rules.answers import answers

    if plans.problems:
        raise NavlogError(*plans.problems)
    if len(plans.flights) > 1:
        names = ", ".join(f"`{flight.name}`" for flight in plans.flights)
        hint = f"name one with --flight: {names}"
        raise problem_error("which-flight", "this file has several flights", span=Span(plans.file, 1), hint=hint)
    (found,) = answers(plans, catalogue, references)
    return found
