"""Lines to statements, and statements to a `Tree`: indentation, keywords, flights, what is given twice."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import replace
from typing import TypeVar

from navlog.problems import NavlogError, Problem, Span
from navlog.routefile import airway_statements, chart_statements, flight_statements
from navlog.routefile.cursor import Cursor
from navlog.routefile.lexer import Line, read_line, split_lines
from navlog.routefile.route_line import read_route
from navlog.routefile.spelling import suggestion
from navlog.routefile.tree import FlightBlock, Statement, Tree, Value, Word, scope_keys
from navlog.units import (
    read_altitude_ft,
    read_burn,
    read_declination_deg,
    read_duration_min,
    read_fuel,
    read_percent,
    read_pressure_hpa,
    read_temperature_c,
)

T = TypeVar("T", bound=Value)


def _word(what: str, reader: Callable[[str], T]) -> Callable[[Cursor], Value | None]:
    """A reader for statements of one word, such as `tas 110kt`."""
    return lambda cursor: cursor.read(what, reader, None)


READERS: dict[str, Callable[[Cursor], Value | None]] = {
    "station": chart_statements.read_station,
    "airport": chart_statements.read_airport,
    "fix": chart_statements.read_fix,
    "airway": airway_statements.read_airway,
    "direct": airway_statements.read_direct,
    "unavailable": flight_statements.read_unavailable,
    "aircraft": flight_statements.read_file,
    "tas": _word("a speed", flight_statements.read_tas_kt),
    "burn": _word("a fuel burn", read_burn),
    "wind": flight_statements.read_wind,
    "winds": flight_statements.read_file,
    "date": _word("a date", flight_statements.read_date),
    "off": flight_statements.read_off,
    "altitude": _word("an altitude or level", flight_statements.read_cruise),
    "rules": flight_statements.read_rules,
    "levels": _word("a table of levels", flight_statements.read_levels),
    "equipment": flight_statements.read_equipment,
    "fuel": _word("an amount of fuel", read_fuel),
    "taxi": _word("an amount of fuel", read_fuel),
    "reserve": _word("a time", read_duration_min),
    "contingency": _word("a percentage", read_percent),
    "extra": _word("an amount of fuel", read_fuel),
    "variation": _word("a variation", read_declination_deg),
    "altimeter": _word("an altimeter setting", read_pressure_hpa),
    "temperature": _word("a temperature", read_temperature_c),
    "ceiling": _word("a level", flight_statements.read_cruise),
    "pattern": _word("an altitude", read_altitude_ft),
    "route": read_route,
    "alternate": flight_statements.read_alternate,
    "hold": flight_statements.read_hold,
    "accept": flight_statements.read_accept,
    "radio": flight_statements.read_radio,
    "note": flight_statements.read_note,
}
KEYWORDS = frozenset((*READERS, "flight"))


def parse(text: str, file: str) -> Tree:
    """The statements of a route file, each with its value and place, and every problem in it.

    Never raises for what a user may have typed: a statement that cannot be read has no value and its
    problems are kept beside the statements of its scope.
    """
    lines = split_lines(text.removeprefix("\ufeff"))
    parser = _Parser(file, lines)
    for number, line in enumerate(lines, start=1):
        read = read_line(line, number, file)
        if read is not None:
            parser.add(read)
    return parser.tree()


def parse_statement(keyword: str, text: str, file: str) -> tuple[Statement, tuple[Problem, ...]]:
    """One statement whose keyword is not written in `text`, such as the value of a command's option."""
    lines = split_lines(text)
    span = Span(file, 1, 1, max(1, len(lines[0])))
    read = [line for n, one in enumerate(lines, start=1) if (line := read_line(one, n, file))]
    words = tuple(word for line in read for word in line.words)
    problems = [problem for line in read for problem in line.problems]
    statement = _statement(Word(keyword, span), words, problems)
    return statement, _with_text(problems, file, lines)


class _Scope:
    """The common part or one flight while it is read."""

    def __init__(self, name: str | None, span: Span) -> None:
        self.name = name
        self.span = span
        self.statements: list[Statement] = []
        self.problems: list[Problem] = []
        self._lines_by_key: dict[Hashable, int] = {}

    def add(self, statement: Statement) -> None:
        """Keeps a statement, with a problem when the scope has it already."""
        self.statements.append(statement)
        for key in scope_keys(statement):
            line = self._lines_by_key.setdefault(key, statement.span.line)
            if line != statement.span.line:
                self.problems.append(_twice(statement, line))
                return


class _Parser:
    """Gathers lines into statements and statements into scopes."""

    def __init__(self, file: str, lines: tuple[str, ...]) -> None:
        self.file = file
        self.lines = lines
        self.common = _Scope(None, Span(file, 1))
        self.scopes = [self.common]
        self._pending: list[Line] = []

    def add(self, line: Line) -> None:
        """Takes the next line: one that goes on with the statement above, or a new statement."""
        pending = self._pending
        if pending and line.indent > pending[0].indent and not _is_flight(pending[0]):
            pending.append(line)
            return
        self._close()
        self._pending = [line]

    def tree(self) -> Tree:
        """What was gathered."""
        self._close()
        return Tree(
            self.file,
            self.lines,
            tuple(self.common.statements),
            tuple(
                FlightBlock(
                    scope.name or "",
                    scope.span,
                    tuple(scope.statements),
                    _with_text(scope.problems, self.file, self.lines),
                )
                for scope in self.scopes[1:]
            ),
            _with_text(self.common.problems, self.file, self.lines),
        )

    def _close(self) -> None:
        """Reads the statement that the pending lines make up."""
        pending, self._pending = self._pending, []
        words = tuple(word for line in pending for word in line.words)
        problems = [problem for line in pending for problem in line.problems]
        if words and not words[0].quoted and words[0].text == "flight":
            self._open_flight(words[0], words[1:], problems)
            return
        scope = self.scopes[-1]
        if words and (words[0].quoted or words[0].text not in READERS):
            scope.problems += problems or [_unknown_keyword(words[0])]
            return
        if words:
            scope.add(_statement(words[0], words[1:], problems))
        scope.problems += problems

    def _open_flight(self, keyword: Word, words: tuple[Word, ...], problems: list[Problem]) -> None:
        cursor = Cursor(keyword, words)
        name = ""
        try:
            name = cursor.take_quoted("a flight's name")
            cursor.finish()
        except NavlogError as error:
            cursor.problems += error.problems
        scope = _Scope(name, keyword.span)
        scope.problems += problems or cursor.problems
        for other in self.scopes[1:]:
            if name and other.name == name:
                message = f'the flight "{name}" is in line {other.span.line} already'
                scope.problems.append(Problem("given-twice", message, words[0].span, "give it another name"))
                break
        self.scopes.append(scope)


def _is_flight(line: Line) -> bool:
    return bool(line.words) and line.words[0].text == "flight" and not line.words[0].quoted


def _statement(keyword: Word, words: tuple[Word, ...], problems: list[Problem]) -> Statement:
    """The statement with its value; what is wrong with it is added to `problems`.

    Where the lines themselves are faulty, their words say little and are not read.
    """
    value = None
    if not problems:
        cursor = Cursor(keyword, words)
        try:
            value = READERS[keyword.text](cursor)
            cursor.finish()
        except NavlogError as error:
            cursor.problems += error.problems
        problems += cursor.problems
    return Statement(keyword.text, words, None if problems else value, keyword.span)


def _unknown_keyword(word: Word) -> Problem:
    close = suggestion(word.text, KEYWORDS)
    hint = (
        f"did you mean `{close}`?" if close else "a line that goes on with the one above is indented deeper"
    )
    return Problem("unknown-keyword", f"`{word.text}` is no keyword; misspelt?", word.span, hint)


def _twice(statement: Statement, line: int) -> Problem:
    named = statement.words[0] if statement.words and statement.keyword in NAMING else None
    what = f"{statement.keyword} {named.text}" if named else statement.keyword
    return Problem(
        "given-twice",
        f"`{what}` is in line {line} already",
        named.span if named else statement.span,
        "delete one of them",
    )


NAMING = frozenset(("station", "airport", "fix", "airway", "hold", "accept"))


def _with_text(problems: list[Problem], file: str, lines: tuple[str, ...]) -> tuple[Problem, ...]:
    """The problems in the order of their places, each with its own line for printing."""
    return tuple(
        replace(problem, text=lines[problem.span.line - 1])
        for problem in sorted(problems, key=lambda p: p.span or Span(file, 0))
        if problem.span is not None
    )
