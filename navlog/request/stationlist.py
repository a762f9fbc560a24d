"""Stations as typed beside a single computation, in the route file's own words, or taken from a route file."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.nav.chart import Airport, Position, Station
from navlog.nav.problems import NavlogError, Problem, problem_error
from navlog.nav.spelling import suggestion
from navlog.request.parser import parse, parse_statement
from navlog.request.records import FixDefinition, Name
from navlog.request.tree import Tree, Value

_PLACE = "HERE "
"""Stands for the identifier that a fix has in a route file and a computation does not need."""


def read_station(text: str) -> Station:
    """A station from what follows `station` in a route file; raises its problems."""
    statement, problems = parse_statement("station", text, "--station")
    if problems or not isinstance(statement.value, Station):
        raise NavlogError(*problems)
    return statement.value


def read_fix(text: str) -> FixDefinition:
    """A fix from what follows `fix` and its identifier in a route file: `QHB 160 x QEL 090`, `QEL 180 12nm`.

    Raises its problems, and one where no radial is written.
    """
    words = text.split()
    if len(words) > 1 and words[1].isalpha() and words[1].isupper():
        hint = f"leave the fix's name out: {' '.join(words[1:])}"
        raise problem_error("bad-fix", f"`{words[0]} {words[1]}` is not a station and its radial", hint=hint)
    statement, problems = parse_statement("fix", _PLACE + text, "fix")
    if problems or not isinstance(statement.value, FixDefinition):
        raise NavlogError(*(_without_place(problem) for problem in problems))
    if not statement.value.radials:
        raise problem_error(
            "bad-fix",
            f"`{text}` has no radial",
            hint="write QHB 160 x QEL 090, QEL 180 12nm, or QEL 180 dme 12 at 5500",
        )
    return statement.value


def stations_in(text: str, file: str) -> tuple[Station, ...]:
    """The stations that a route file defines, its common ones first; raises every problem in it."""
    return _first_of_each(tuple(one for one in _values(_parsed(text, file)) if isinstance(one, Station)))


def positions_in(text: str, file: str) -> dict[str, Position]:
    """Where the stations, airports and fixes are whose positions a route file states; raises every problem in it.

    A fix that radials define is not among them.
    """
    places = [one for one in _values(_parsed(text, file)) if isinstance(one, Station | Airport | FixDefinition)]
    return {one.ident: one.position for one in reversed(places) if one.position is not None}


def together(typed: tuple[Station, ...], filed: tuple[Station, ...]) -> tuple[Station, ...]:
    """Both, a typed station in the place of the file's one of the same name; raises where there is none."""
    if not typed and not filed:
        raise problem_error(
            "no-stations",
            "no station is given",
            hint="give --station for each, or --from and a route file, or import published data",
        )
    return _first_of_each(typed + filed)


def named(name: Name, stations: tuple[Station, ...]) -> Station:
    """The station of that name; raises `unknown-ident` with the nearest name."""
    for station in stations:
        if station.ident == name.ident:
            return station
    idents = tuple(station.ident for station in stations)
    near = suggestion(name.ident, idents)
    hint = f"did you mean `{near}`?" if near else f"known are {', '.join(idents)}"
    raise problem_error("unknown-ident", f"no station `{name.ident}` is given", hint=hint)


def _parsed(text: str, file: str) -> Tree:
    """The statements of a route file; raises every problem in it."""
    tree = parse(text, file)
    problems = tree.all_problems()
    if problems:
        raise NavlogError(*problems)
    return tree


def _values(tree: Tree) -> Iterator[Value | None]:
    """What each statement says, the common ones first."""
    statements = [*tree.common, *(statement for flight in tree.flights for statement in flight.statements)]
    yield from (statement.value for statement in statements)


def _first_of_each(stations: tuple[Station, ...]) -> tuple[Station, ...]:
    unique: dict[str, Station] = {}
    for station in stations:
        unique.setdefault(station.ident, station)
    return tuple(unique.values())


def _without_place(problem: Problem) -> Problem:
    """The problem at its place in what was typed."""
    if problem.span is None or problem.text is None:
        return problem
    column = max(1, problem.span.column - len(_PLACE))
    text = problem.text.removeprefix(_PLACE)
    return problem._replace(span=problem.span._replace(column=column), text=text)
