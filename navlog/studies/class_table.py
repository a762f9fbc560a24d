"""A class marked: a row a pilot with what is right and off, and the slips by kind, as a table and for a gradebook."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from navlog.nav.layout import WIDTH, columns, wrapped
from navlog.nav.problems import NavlogError, Problem, Span
from navlog.studies.batch import Row
from navlog.studies.marking import MarkedVerdict, Marking

_SHEET = ".csv"
_UNEXPLAINED = "unexplained"


class PilotMarked(Struct, frozen=True):
    """The marking of one file of answers; `pilot` is the file's name without its suffix."""

    pilot: str
    marking: Marking

    @property
    def following(self) -> int:
        """How many of the figures that are off only follow from the pilot's own before them."""
        return sum(bool(mark.follows) for mark in self.marking.marks)

    def slips(self) -> Counter[str]:
        """How often each slip explains a figure, the likeliest alone, and how many figures nothing explains."""
        off = (mark for mark in self.marking.marks if mark.verdict is MarkedVerdict.OFF and not mark.follows)
        return Counter(mark.slips[0].code if mark.slips else _UNEXPLAINED for mark in off)


def answer_files(paths: Iterable[str]) -> tuple[str, ...]:
    """The files of answers, and those in folders by name; raises `no-answers` for a folder without any."""
    found: list[str] = []
    for path in paths:
        if path == "-" or not os.path.isdir(path):
            found.append(path)
            continue
        inside = (name for name in os.listdir(path) if name.lower().endswith(_SHEET) and not name.startswith("."))
        names = sorted(inside, key=lambda name: (name.casefold(), name))
        if not names:
            message = f"no file in this folder ends in {_SHEET}"
            raise NavlogError(Problem("no-answers", message, Span(path, 1)))
        found += [os.path.join(path, name) for name in names]
    return tuple(dict.fromkeys(found))


def is_sheet(path: str) -> bool:
    """Whether a path is one of answers and of no route: its suffix says so, or it is a folder."""
    return path.lower().endswith(_SHEET) or os.path.isdir(path)


def pilot_of(file: str) -> str:
    """The pilot's name, by the file's."""
    return os.path.splitext(os.path.basename(file))[0] or file


def class_lines(pilots: Sequence[PilotMarked]) -> Iterator[str]:
    """The table: each pilot's figures right, off, following and not marked, and slips; then those of the class."""
    yield f"CLASS - {pilots[0].marking.log.route.request.name}, {len(pilots)} pilots"
    yield ""
    heads = ("pilot", "right", "off", "following", "not marked", "slips")
    cells = [(one.pilot, *map(str, _counts(one)), _told(one.slips())) for one in pilots]
    yield from columns([heads, *cells], "lrrrrl", heads=1, rule="-")
    every, by_pilots = Counter[str](), Counter[str]()
    for one in pilots:
        every += one.slips()
        by_pilots += Counter(dict.fromkeys(one.slips(), 1))
    words = {slip.code: slip.words for one in pilots for mark in one.marking.marks for slip in mark.slips}
    yield ""
    yield "SLIPS by kind" if every else "No slips."
    for code, figures in every.most_common():
        told = f"{code}: {_number(figures, 'figure')} of {_number(by_pilots[code], 'pilot')}"
        yield from wrapped(f"{told}{f': {words[code]}' if code in words else ''}", WIDTH, "    ", first="  ")


def class_rows(pilots: Sequence[PilotMarked]) -> Iterator[Row]:
    """Rows for a gradebook, the columns' names first: counts, and a column a slip that anyone of the class made."""
    codes = sorted({code for one in pilots for code in one.slips()})
    yield ("pilot", "flight", "figures", "right", "off", "following", "not_marked", *codes)
    for one in pilots:
        found = one.slips()
        flight = one.marking.log.route.request.name
        yield (one.pilot, flight, len(one.marking.marks), *_counts(one), *(found[code] for code in codes))


def _counts(one: PilotMarked) -> tuple[int, int, int, int]:
    """Right, off, following (which are among those off), and not marked."""
    right, off, unmarked = (one.marking.count(verdict) for verdict in MarkedVerdict)
    return right, off, one.following, unmarked


def _told(slips: Counter[str]) -> str:
    """The slips of one pilot, the most frequent first."""
    return ", ".join(code if times == 1 else f"{code} {times}" for code, times in slips.most_common())


def _number(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"
