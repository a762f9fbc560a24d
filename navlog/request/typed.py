"""What options of a command say in place of a file: a statement each, in a pseudo-file named like its option."""

from __future__ import annotations

from collections.abc import Hashable, Iterator

from msgspec import Struct

from navlog.nav.problems import Problem, Span
from navlog.request.lexer import split_lines
from navlog.request.parser import parse_statement
from navlog.request.statements import STATEMENTS, scope_keys
from navlog.request.tree import Statement, Taxiing

ROUTE_OPTION = "--route"
"""The pseudo-file of a route that no file holds."""

_OWN_OPTIONS = ("date", "off", "altitude", "aircraft", "fuel", "terrain")


class Overrides(Struct, frozen=True):
    """What a command's options say in every flight's place, as typed; `statements` are whole ones, with keyword.

    `terrain_otherwise` is the folder of a flight that names none. With `no_files` a route file may name no file.
    """

    date: str | None = None
    off: str | None = None
    wind: tuple[str, ...] = ()
    altitude: str | None = None
    unavailable: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    route: str | None = None
    aircraft: str | None = None
    fuel: str | None = None
    terrain: str | None = None
    terrain_otherwise: str | None = None
    statements: tuple[str, ...] = ()
    no_files: bool = False


NO_OVERRIDES = Overrides()


def typed_statements(
    overrides: Overrides,
) -> tuple[tuple[Statement, ...], tuple[Problem, ...], dict[str, tuple[str, ...]]]:
    """The overrides as statements of pseudo-files named like their options, with problems and the lines of each.

    What a pasted flight plan message says of date, speed, level, rules and alternates stands where no option does.
    """
    options = list(_given(overrides))
    statements: list[Statement] = []
    problems: list[Problem] = []
    lines: dict[str, tuple[str, ...]] = {}
    taken: set[Hashable] = set()
    for keyword, text, file in options:
        if keyword not in STATEMENTS or keyword == "flight":
            problems.append(_unknown(keyword, text, file))
            continue
        statement, found = parse_statement(keyword, text, file)
        lines[file] = split_lines(text)
        problems += found
        keys = scope_keys(statement)
        if not taken.isdisjoint(keys):
            problems.append(Problem("given-twice", f"`{file}` is given twice", statement.span, text=text))
        taken.update(keys)
        statements.append(statement)
    if overrides.route is not None:
        from navlog.request.pasted import read_pasted, wheels_off

        pasted = read_pasted(overrides.route)
        problems += pasted.problems
        given = {STATEMENTS[keyword].family or keyword for keyword, _, _ in options if keyword in STATEMENTS}
        more = [(keyword, text) for keyword, text in pasted.statements if keyword not in given]
        taxi_min = next((one.value.taxi_min for one in statements if isinstance(one.value, Taxiing)), None)
        if pasted.off_block is not None and taxi_min is not None and "off" not in given:
            off = wheels_off(pasted.off_block, taxi_min)
            more += [("off", off)] if off is not None else []
        for keyword, text in (*((("route", pasted.route),) if not pasted.problems else ()), *more):
            file = ROUTE_OPTION if keyword == "route" else f"{ROUTE_OPTION} {keyword}"
            statement, found = parse_statement(keyword, text, file)
            problems += found
            if keyword in given:
                problems.append(Problem("given-twice", f"`{file}` is given twice", statement.span, text=text))
            statements.append(statement)
            lines[file] = split_lines(text)
    return tuple(statements), tuple(problems), lines


def _given(overrides: Overrides) -> Iterator[tuple[str, str, str]]:
    """Keyword, text and pseudo-file of each option that is given."""
    for keyword in _OWN_OPTIONS:
        text = getattr(overrides, keyword)
        if text is not None:
            yield keyword, f'"{text}"' if keyword in ("aircraft", "terrain") and " " in text else text, f"--{keyword}"
    for keyword in ("wind", "unavailable", "notices"):
        for text in getattr(overrides, keyword):
            yield keyword, f'"{text}"' if keyword == "notices" and " " in text else text, f"--{keyword}"
    for text in overrides.statements:
        keyword, _, value = text.strip().partition(" ")
        yield keyword, value, f"--set {keyword}" if keyword in STATEMENTS and keyword != "flight" else "--set"


def _unknown(keyword: str, text: str, file: str) -> Problem:
    from navlog.nav.spelling import suggestion

    if keyword == "flight":
        message = "a flight has its name in a file alone"
        return Problem("unknown-statement", message, Span(file, 1), "leave it out", f"{keyword} {text}")
    close = suggestion(keyword, STATEMENTS)
    hint = f"did you mean `{close}`?" if close else "write it as in a route file: --set 'equipment vor 2 dme 1'"
    return Problem("unknown-statement", f"no statement is called `{keyword}`", Span(file, 1), hint, f"{keyword} {text}")
