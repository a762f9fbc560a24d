"""Stations as typed beside a single computation, in the route file's own words, or taken from a route file."""

from __future__ import annotations

from navlog.nav.chart import Station
from navlog.nav.problems import NavlogError, Problem, problem_error
from navlog.nav.spelling import suggestion
from navlog.request.parser import parse, parse_statement
from navlog.request.records import FixDefinition, Name
from navlog.request.tree import Tree

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
    tree = parse(text, file)
    problems = tree.all_problems()
    if problems:
        raise NavlogError(*problems)
    return _first_of_each(_defined(tree))


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


def _defined(tree: Tree) -> tuple[Station, ...]:
    statements = [*tree.common, *(statement for flight in tree.flights for statement in flight.statements)]
    return tuple(statement.value for statement in statements if isinstance(statement.value, Station))


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
