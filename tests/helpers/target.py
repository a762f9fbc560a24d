"""What a fuzzer runs, good inputs to begin with, and what holds of every input whatever is read from it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from random import Random
from zlib import crc32

from helpers.damaged import bytes_damaged, damaged, words_of
from helpers.flown import ROOT

from navlog.nav.problems import NavlogError, Problem, format_problem

LARGEST_BYTES = 8192
ROUTES = ("examples/*.route", "tests/data/valid/*.route", "tests/sheets/routes/*.route")


def chosen(data: bytes, among: int) -> int:
    """A number below `among` by the input alone, so that it is run alike whenever it is."""
    return crc32(data) % among


def top(path: Path, size: int) -> bytes:
    """The first lines of a file, whole ones."""
    data = path.read_bytes()
    return data if len(data) <= size else data[: data.rindex(b"\n", 0, size) + 1]


def seeds_in(*patterns: str) -> list[bytes]:
    """The files of these patterns, cut to size."""
    return [top(path, LARGEST_BYTES) for pattern in patterns for path in sorted(ROOT.glob(pattern))]


@dataclass(frozen=True)
class Target:
    """What to run on bytes, and good files to begin with; anything but a `NavlogError` is a fault.

    `file` is what problems call the input, `line_ends` a pattern of what ends its lines.
    """

    run: Callable[[bytes], object]
    seeds: list[bytes]
    file: str = ""
    line_ends: str = "\r\n|\r|\n"
    binary: bool = False

    @cached_property
    def words(self) -> tuple[str, ...]:
        """The words of the good files."""
        return words_of(*(seed.decode("utf-8", "replace") for seed in self.seeds))

    def accepts(self, data: bytes) -> bool:
        """Whether an input is accepted; AssertionError for a problem without a place in it, or a second answer."""
        found = self._answer(data)
        if chosen(data, 8) == 0:
            again = self._answer(data)
            # By what is printed too: no number that is none equals itself.
            assert found == again or repr(found) == repr(again), "the same input has another answer the second time"
        return not isinstance(found, tuple) or not found or not isinstance(found[0], Problem)

    def _answer(self, data: bytes) -> object:
        """What comes of an input: a result, or problems."""
        try:
            return self.run(data)
        except NavlogError as error:
            problems = error.problems
        assert problems, "refused without a problem"
        self.check_places(data, problems)
        return problems

    def check_places(self, data: bytes, problems: Iterable[Problem]) -> None:
        """Hold each problem's line and columns against the text, and print it."""
        try:
            lines = re.split(self.line_ends, data.decode("utf-8-sig"))
        except UnicodeDecodeError:
            lines = []
        for one in problems:
            format_problem(one)
            text = one.text
            if lines and one.span is not None and one.span.file == self.file:
                assert 1 <= one.span.line <= len(lines), f"{one}: of {len(lines)} lines"
                text = lines[one.span.line - 1]
            if one.span is not None and text is not None:
                last = max(len(text), 1) + 1  # behind the last word is where one is missing
                assert 1 <= one.span.column <= one.span.column + one.span.length - 1 <= last, f"{one}: {text!r}"

    def damaged(self, data: bytes, chance: Random) -> bytes:
        """Bytes with one or two pieces of damage."""
        if self.binary:
            return bytes_damaged(data, chance)
        text = damaged(data.decode("utf-8", "surrogateescape"), self.words, chance, most=2)
        return text.encode("utf-8", "surrogatepass")
