"""Reads the words of one statement from left to right and gathers what is wrong with them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import NoReturn, TypeVar

from navlog.nav.problems import NavlogError, Problem, Span, at
from navlog.nav.quantities import plain_unit
from navlog.nav.spelling import suggestion
from navlog.request.tree import Word

MOST_PROBLEMS = 200
"""So many that nobody would read more of them; reading stops, in a statement and in a file."""

_T = TypeVar("_T")
_UNITS = frozenset(
    {"nm", "km", "sm", "m", "ft", "kt", "mph", "km/h", "m/s", "min", "h", "gal", "impgal", "l", "lb", "kg"}
    | {"gph", "gal/h", "l/h", "lb/h", "kg/h", "hpa", "inhg", "c", "f", "%"}
)
"""As `plain_unit` spells them."""


class Cursor:
    """The words of one statement, and how far they are read.

    A wrong value is noted in `problems` and reading goes on with a stand-in, so that one run shows every
    wrong value; a wrong shape ends the statement by a `NavlogError`. A statement with problems has no
    value, so that no stand-in gets out.
    """

    def __init__(self, keyword: Word, words: tuple[Word, ...], example: str) -> None:
        self.keyword = keyword
        self.words = words
        self.example = example
        self.problems: list[Problem] = []
        self._next = 0

    @property
    def at_end(self) -> bool:
        """Whether every word is read."""
        return self._next >= len(self.words)

    @property
    def next_is_quoted(self) -> bool:
        """Whether a word in quotes comes next."""
        return not self.at_end and self.words[self._next].quoted

    def rest(self) -> tuple[Word, ...]:
        """The words not yet read."""
        return self.words[self._next :]

    def peek(self, ahead: int = 0) -> str:
        """The text of a word to come; empty behind the last one and for a quoted word."""
        index = self._next + ahead
        return "" if index >= len(self.words) or self.words[index].quoted else self.words[index].text

    def take(self, what: str) -> Word:
        """The next word, whatever it is; a `missing-word` problem naming `what` behind the last one."""
        if self.at_end:
            message = f"`{self.keyword.text}` lacks {what}"
            raise NavlogError(Problem("missing-word", message, self._behind(), self._like_example()))
        self._next += 1
        return self.words[self._next - 1]

    def take_if(self, *texts: str) -> Word | None:
        """The next word if it is one of `texts`."""
        return self.take("") if self.peek() in texts else None

    def take_option(self, options: tuple[str, ...], given: set[str], repeatable: tuple[str, ...] = ()) -> Word:
        """The next word, which has to be one of `options` and not yet `given`; it is added there."""
        if self.peek() not in options:
            self.unexpected(options)
        option = self.take("an option")
        if option.text in given and option.text not in repeatable:
            self.report(option, "given-twice", f"`{option.text}` is given twice")
        given.add(option.text)
        return option

    def take_choice(self, what: str, choices: Iterable[str]) -> str:
        """The next word, which has to be one of `choices`."""
        word = self.take(what)
        known = tuple(choices)
        if not word.quoted and word.text in known:
            return word.text
        # The stand-in never gets out: a statement with a problem has no value.
        self.report(word, "bad-word", f"`{word.text}` is not {what}", _choices_hint(word.text, known))
        return known[0]

    def take_quoted(self, what: str, *, to_the_end: bool = False) -> str:
        """The next word, which has to be in quotes and say something; the last one with `to_the_end`."""
        word = self.take(what)
        if not word.quoted:
            meant = " ".join((word.text, *(other.text for other in self.rest() if to_the_end)))
            self.stop(word, "not-quoted", f"{what} is not in quotes", f'write "{meant}"')
        if not word.text.strip():
            self.report(word, "empty-text", f"{what} is empty")
        return word.text

    def read(self, what: str, reader: Callable[[str], _T], stand_in: _T) -> _T:
        """The next word as a value; a problem of `reader` gets the word's place."""
        return self.convert(self.take(what), reader, stand_in)

    def convert(self, word: Word, reader: Callable[[str], _T], stand_in: _T) -> _T:
        """`word` as a value; a problem of `reader` gets the word's place."""
        if word.quoted:
            self.report(word, "quoted-value", f'"{word.text}" stands in quotes', "write it without quotes")
            return stand_in
        return self.guard(lambda: _value(reader, word.text), word.span, stand_in)

    def guard(self, make: Callable[[], _T], span: Span, stand_in: _T) -> _T:
        """What `make` returns; a problem that it raises gets the place `span` and is noted."""
        try:
            return make()
        except NavlogError as error:
            self._note(*at(error, span).problems)
            return stand_in

    def report(self, word: Word, code: str, message: str, hint: str | None = None) -> None:
        """Notes a problem at `word`; reading goes on."""
        self._note(Problem(code, message, word.span, hint))

    def stop(self, word: Word, code: str, message: str, hint: str | None = None) -> NoReturn:
        """Ends the statement with a problem at `word`."""
        raise NavlogError(Problem(code, message, word.span, hint))

    def unexpected(self, choices: Iterable[str] = ()) -> NoReturn:
        """Ends the statement because its next word has no place in it; `choices` would have."""
        word = self.take("")
        hint = _choices_hint(word.text, tuple(choices)) or self._like_example()
        # `12 nm` is the commonest slip of all, and worth a hint of its own.
        number = self.words[self._next - 2].text if self._next > 1 else ""
        if plain_unit(word.text) in _UNITS and not number.strip("0123456789."):
            hint = f"glue the unit to its number: {number}{word.text}"
        if word.span.line > self.keyword.span.line and word is self._first_of_its_line(word):
            hint = f"a line indented deeper goes on with `{self.keyword.text}`; indent both alike"
        self.stop(word, "unexpected-word", f"`{word.text}` has no place in `{self.keyword.text}`", hint)

    def finish(self) -> None:
        """Sees to it that no word is left."""
        if not self.at_end:
            self.unexpected()

    def _note(self, *problems: Problem) -> None:
        self.problems += problems
        if len(self.problems) > MOST_PROBLEMS:
            raise NavlogError  # which ends the statement

    def _first_of_its_line(self, word: Word) -> Word:
        return next(other for other in self.words if other.span.line == word.span.line)

    def _like_example(self) -> str:
        return f"write it like: {self.keyword.text} {self.example}"

    def _behind(self) -> Span:
        last = self.words[-1].span if self.words else self.keyword.span
        return Span(last.file, last.line, last.column + last.length)


@lru_cache(maxsize=1024)
def _value(reader: Callable[[str], _T], text: str) -> _T:
    """What `reader` makes of a word: the files of a library say the same over and over."""
    return reader(text)


def _choices_hint(text: str, choices: tuple[str, ...]) -> str | None:
    close = suggestion(text, choices)
    if close:
        return f"did you mean `{close}`?"
    return f"one of {', '.join(choices)}" if choices else None


def joined_span(words: tuple[Word, ...]) -> Span:
    """The place of several words: up to the last one on the first one's line."""
    first = words[0].span
    last = [word.span for word in words if word.span.line == first.line][-1]
    return Span(first.file, first.line, first.column, last.column + last.length - first.column)
