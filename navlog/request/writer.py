"""A `Tree` back to tidy text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from os import path

from navlog.nav.problems import NavlogError, Span
from navlog.nav.record import changed
from navlog.request.records import AirwayDefinition, DirectDefinition, FileReference, RouteWord
from navlog.request.statements import STATEMENTS
from navlog.request.tree import Statement, Tree, Word
from navlog.request.typed import ROUTE_OPTION, Overrides, typed_statements

_KEYWORD_WIDTH = 9
_CONTINUATION = " " * (_KEYWORD_WIDTH + 1)


def to_text(tree: Tree) -> str:
    """The file in tidy form: one statement a line, keywords in a column, a line for each airway segment.

    Words stay as they were typed, units and all; comments are not kept. Reading the text again gives the
    same values. Raises the tree's own problems where it has any.
    """
    problems = tree.all_problems()
    if problems:
        raise NavlogError(*problems)
    blocks = ["".join(f"{line}\n" for statement in tree.common for line in _lines(statement))]
    for flight in tree.flights:
        title = f'{"flight":<{_KEYWORD_WIDTH}} "{flight.name}"\n'
        blocks.append(title + "".join(f"{line}\n" for s in flight.statements for line in _lines(s)))
    return "\n".join(block for block in blocks if block)


def route_line(words: Iterable[RouteWord]) -> str:
    """The route line's words as they stand in a file, stops and all; reading them again gives the same route."""
    return " ".join(text for word in words for text in _route_texts(word))


def _route_texts(word: RouteWord) -> Iterator[str]:
    yield word.text
    if word.over:
        yield "over"
    if word.landing is not None:
        yield "land"
        if word.landing.stop_min:
            yield f"{word.landing.stop_min:g}min"
        if word.landing.fuel is not None:
            yield f"fuel {word.landing.fuel.value:g}{word.landing.fuel.unit}"


def options_text(overrides: Overrides, route: Iterable[RouteWord], folder: str) -> str:
    """A route file that says what options say, its route as it was understood.

    Files that it names are named as they are reached from `folder`, where it is to stand. Raises the problems of the
    options.
    """
    statements, problems, lines = typed_statements(overrides)
    written = tuple(_standing_in(one, folder) for one in statements if one.keyword != "route")
    words = tuple(Word(text, Span(ROUTE_OPTION, 1)) for text in route_line(route).split(" "))
    routed = Statement("route", words, None, Span(ROUTE_OPTION, 1))
    return to_text(Tree(ROUTE_OPTION, lines.get(ROUTE_OPTION, ()), (routed, *written), (), problems))


def _standing_in(statement: Statement, folder: str) -> Statement:
    """The statement with the file that it names, relative to the working folder, as it is reached from another."""
    if not isinstance(statement.value, FileReference) or path.isabs(statement.value.path):
        return statement
    named = statement.value.path
    moved = path.relpath(named, folder or ".")
    words = tuple(
        changed(word, text=moved, quoted=word.quoted or " " in moved) if word.text == named else word
        for word in statement.words
    )
    return changed(statement, words=words)


def _lines(statement: Statement) -> Iterator[str]:
    """The statement's own line, and one for each further segment of a chain."""
    # Two blanks before what begins something new make a line easier to scan.
    options = STATEMENTS[statement.keyword].options
    line = f"{statement.keyword:<{_KEYWORD_WIDTH}}"
    breaks = _segment_starts(statement)
    for index, word in enumerate(statement.words):
        if index in breaks:
            yield line
            line = _CONTINUATION[:-1]
        is_option = index > 0 and not word.quoted and word.text in options
        gap = "  " if is_option and statement.words[index - 1].text != "kind" else " "
        line += gap + (f'"{word.text}"' if word.quoted else word.text)
    yield line


def _segment_starts(statement: Statement) -> set[int]:
    """Where the second and later segments of a chain begin: at the dash, or at the radial before it."""
    match statement.value:
        case AirwayDefinition(airway=airway):
            segments = airway.segments
        case tuple(pairs):
            segments = tuple(pair.segment for pair in pairs if isinstance(pair, DirectDefinition))
        case _:
            return set()
    dashes = (index for index, word in enumerate(statement.words) if word.text == "-" and not word.quoted)
    starts = [dash - (one.start_radial_deg is not None) for dash, one in zip(dashes, segments, strict=False)]
    return set(starts[1:])
