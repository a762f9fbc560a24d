"""The pilot's answers: a CSV file with a row a leg, and the empty one to fill in.

Comma-separated as in RFC 4180, quotes allowed, one row a line. The first line names the columns: `leg`, then any
of the quantities; `from` and `to` may stand for orientation and must then be the leg's own. Cells left empty are
not marked. A last row may have `total` for its leg.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct, field

from navlog.flightlog.records import FuelUnit, Log
from navlog.nav.problems import NavlogError, Problem, Span
from navlog.nav.quantities import is_digits
from navlog.nav.spelling import suggestion
from navlog.printed.rows import Row, ends, rows
from navlog.request.lexer import split_lines
from navlog.rules.report import alternate_names
from navlog.studies.marking_marks import TOLD_BY, read_identifications
from navlog.studies.marking_quantities import BY_KEY, QUANTITIES, TOTALLED, read_value

LEG, FROM, TO, TOTAL = "leg", "from", "to", "total"
_ALTERNATE = "alternate"
_COLUMNS = (LEG, FROM, TO, *(quantity.key for quantity in QUANTITIES), TOLD_BY)
_ALL_COLUMNS = f"the columns are {', '.join(_COLUMNS)}"


class _Cell(Struct, frozen=True):
    """A cell of the file with its place."""

    text: str
    span: Span


class AnswerRow(Struct, frozen=True):
    """What the pilot gives for a leg, by quantity; `leg` is None for the totals.

    `way` is 0 for the route, else which of its alternates, counted from 1.
    """

    leg: int | None
    line: int
    values: dict[str, float]
    way: int = 0


class _Reading(Struct):
    """The file while it is read."""

    file: str
    lines: tuple[str, ...]
    ways: tuple[tuple[Row, ...], ...]
    names: tuple[str, ...]
    unit: FuelUnit
    problems: list[Problem] = field(default_factory=list)

    def refuse(self, cell: _Cell, code: str, message: str, hint: str | None = None) -> None:
        """Note a problem at a cell."""
        self.problems.append(Problem(code, message, cell.span, hint, self.lines[cell.span.line - 1]))


def read_answers(text: str, file: str, log: Log) -> tuple[AnswerRow, ...]:
    """The answers in a file, for the legs of a log and of the ways to its alternates.

    Raises every problem of the file: no columns, unknown ones, rows for no leg, figures that cannot be read.
    """
    lines = split_lines(text)
    ways = tuple(rows(one) for one in (log, *log.alternates))
    reading = _Reading(file, lines, ways, alternate_names(log), log.fuel_unit)
    filled = [number for number, line in enumerate(lines, 1) if line.strip()]
    found: list[AnswerRow] = []
    if filled:
        columns = _header(reading, filled[0])
        found = [row for number in filled[1:] for row in _answer_row(reading, number, columns)] if columns else []
        _twice(reading, found)
    if reading.problems:
        raise NavlogError(*reading.problems)
    if not any(row.values for row in found):
        hint = "fill in the file that `navlog mark FILE --template` writes"
        raise NavlogError(Problem("no-answers", "no figure is given", Span(file, 1), hint))
    return tuple(found)


def _cells(reading: _Reading, number: int) -> Iterator[_Cell]:
    """The cells of a line; quotes are taken off and doubled ones made single."""
    line, start = reading.lines[number - 1], 0
    while start <= len(line):
        end = _end_of_cell(line, start)
        raw = line[start:end]
        text = raw.strip(" \t")
        column = start + len(raw) - len(raw.lstrip(" \t")) + 1
        cell = _Cell(text, Span(reading.file, number, column, max(1, len(text))))
        if text.startswith('"'):
            closed = len(text) > 1 and text.endswith('"')
            if not closed:
                reading.refuse(cell, "unclosed-quote", "a quote is not closed", 'end it with `"` before the comma')
            inside = text[1:-1] if closed else text[1:]
            cell = _Cell(inside.replace('""', '"').strip(" \t"), cell.span)
        yield cell
        start = end + 1


def _end_of_cell(line: str, start: int) -> int:
    """Where the comma after a cell stands, or the line's end; a comma between quotes is text."""
    quoted = False
    for place in range(start, len(line)):
        if line[place] == '"':
            quoted = not quoted
        elif line[place] == "," and not quoted:
            return place
    return len(line)


def _header(reading: _Reading, number: int) -> tuple[str, ...]:
    """The names of the columns; none where they cannot be used."""
    found: list[str] = []
    for cell in _cells(reading, number):
        name = cell.text.lower().replace(" ", "_")
        if name not in _COLUMNS:
            near = suggestion(name, _COLUMNS)
            semicolons = ";" in cell.text
            hint = "columns are parted by commas" if semicolons else f"did you mean `{near}`?" if near else _ALL_COLUMNS
            reading.refuse(cell, "unknown-column", f"no column is called `{cell.text}`", hint)
        elif name in found:
            reading.refuse(cell, "given-twice", f"the column `{name}` is given twice")
        found.append(name)
    if LEG not in found and not reading.problems:
        start = _Cell("", Span(reading.file, number, 1, max(1, len(reading.lines[number - 1]))))
        reading.refuse(start, "missing-column", "there is no column `leg`", "number the legs as the log does")
    return () if reading.problems else tuple(found)


def _answer_row(reading: _Reading, number: int, columns: tuple[str, ...]) -> Iterator[AnswerRow]:
    """The answers of one line; none where its leg is not one of the flight."""
    found = tuple(_cells(reading, number))
    for cell in found[len(columns) :]:
        if cell.text:
            reading.refuse(cell, "too-many-cells", "there are more cells than columns", "a comma belongs in quotes")
            return
    given = {name: cell for name, cell in zip(columns, found, strict=False) if cell.text}
    leg = given.pop(LEG, _Cell("", Span(reading.file, number)))
    way, which = _way_and_leg(reading, leg.text)
    total = which.lower() == TOTAL
    last = len(reading.ways[way])
    if not total and not (is_digits(which) and len(which) < 6 and 1 <= int(which) <= last):
        if given or leg.text:
            message = f"`{leg.text}` is no leg of this flight" if leg.text else "this row does not say which leg it is"
            reading.refuse(leg, "unknown-leg", message, _legs_hint(reading, last, way))
        return
    row = None if total else reading.ways[way][int(which) - 1]
    if row is not None:
        _same_ends(reading, row, given)
    yield AnswerRow(None if total else int(which), number, _values(reading, row, given), way)


def _way_and_leg(reading: _Reading, text: str) -> tuple[int, str]:
    """Which way a cell means, 0 the route, and what it says of its legs: `alternate XOLD 2`."""
    words = " ".join(text.split())
    if words.lower().startswith(f"{_ALTERNATE} "):
        rest = words[len(_ALTERNATE) + 1 :]
        for number, name in sorted(enumerate(reading.names, 1), key=lambda one: -len(one[1])):
            if rest.upper().startswith(f"{name.upper()} "):
                return number, rest[len(name) + 1 :].lower().removeprefix(f"{LEG} ")
    return 0, text


def _legs_hint(reading: _Reading, last: int, way: int) -> str:
    """How the rows of a way are named."""
    if way:
        return f"the legs of that alternate are numbered 1 to {last}"
    also = f"; an alternate's are `{_ALTERNATE} {reading.names[0]} 1`" if reading.names else ""
    return f"legs are numbered 1 to {last}; `total` is the last row{also}"


def _values(reading: _Reading, row: Row | None, given: dict[str, _Cell]) -> dict[str, float]:
    """The figures by quantity of the leg of a row, or of the totals."""
    values: dict[str, float] = {}
    for name, cell in given.items():
        if name in (FROM, TO):
            continue
        if row is None and name not in TOTALLED:
            hint = f"totals are marked for {', '.join(TOTALLED)}"
            reading.refuse(cell, "no-total", f"{name} has no total", hint)
            continue
        try:
            if name == TOLD_BY:
                values |= read_identifications(cell.text, reading.unit)
            else:
                values[name] = read_value(BY_KEY[name], cell.text, reading.unit, row)
        except NavlogError as error:
            for problem in error.problems:
                reading.refuse(cell, problem.code, problem.message, problem.hint)
    return values


def _same_ends(reading: _Reading, row: Row, given: dict[str, _Cell]) -> None:
    """Refuse a row whose `from` and `to` are not those of its leg."""
    for name, own in zip((FROM, TO), ends(row), strict=True):
        cell = given.get(name)
        if cell is not None and cell.text.upper() != own.upper():
            message = f"leg {row.leg.number} goes {name} {own}, not {name} `{cell.text}`"
            reading.refuse(cell, "another-leg", message, "number the legs as the log does, or leave this cell empty")


def _twice(reading: _Reading, found: list[AnswerRow]) -> None:
    """Refuse a leg that has two rows."""
    seen: set[tuple[int, int | None]] = set()
    for row in found:
        if (row.way, row.leg) in seen:
            name = TOTAL if row.leg is None else f"leg {row.leg}"
            cell = next(_cells(reading, row.line))
            reading.refuse(cell, "given-twice", f"{name} has two rows")
        seen.add((row.way, row.leg))


def template(log: Log) -> str:
    """An empty file of answers: every column, a row a leg with its ends, and the totals; alternates last."""
    lines = [",".join(_COLUMNS)]
    for name, way in zip(("", *alternate_names(log)), (log, *log.alternates), strict=True):
        before = f"{_ALTERNATE} {name} " if name else ""
        blank = "," * (len(_COLUMNS) - len((LEG, FROM, TO)))
        lines += [f"{before}{row.leg.number},{','.join(map(_quoted, ends(row)))}{blank}" for row in rows(way)]
        lines.append(f"{before}{TOTAL},,{blank}")
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    """A text as a cell."""
    doubled = text.replace('"', '""')
    return f'"{doubled}"' if any(one in text for one in ',"') else text
