"""TOML files read key by key, so that every mistake is named with its key and its place.

The standard reader drops places; they are looked up in the text afterwards, by spelling.
"""

from __future__ import annotations

from typing import Any

from msgspec import Struct, field

from navlog.nav.figures import plain
from navlog.nav.problems import NavlogError, Problem, Span, in_order
from navlog.nav.spelling import alike

Path = tuple[str | int, ...]
_Place = tuple[int, int, int]
"""Line, column and length."""

_LARGEST_FILE = 100_000
_LONGEST_LINE = 5_000
_MOST_FAULTS = 200


class Fault(Struct, frozen=True):
    """A problem with the keys and row numbers that lead to it, before its place in the text is looked up."""

    path: Path
    code: str
    message: str
    hint: str | None


class TomlTable(Struct):
    """One table of the file while it is read; `path` leads to it and `faults` is shared by all of them.

    What a reader asks for becomes known; other keys are mistakes.
    """

    values: dict[str, Any]
    path: Path
    faults: list[Fault]
    known: list[str] = field(default_factory=list)

    def inner(self, values: dict[str, Any], *path: str | int) -> TomlTable:
        """A table or row inside this one."""
        return TomlTable(values, (*self.path, *path), self.faults)

    def fault(self, code: str, key: str, message: str, hint: str | None = None) -> None:
        """Notes a mistake of a key, or of the whole table where `key` is empty."""
        path = (*self.path, key) if key else self.path
        self.faults.append(Fault(path, code, f"{label(path)} {message}", hint))

    def number(self, key: str, low: float, high: float) -> float | None:
        """A number within its range; None where it is not given, or wrong, which is noted."""
        self.known.append(key)
        if key not in self.values:
            return None
        return self.checked(key, self.values[key], low, high)

    def checked(self, key: str, value: object, low: float, high: float) -> float | None:
        """One value of a key as a number within its range."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fault("bad-value", key, "is not a number", "write numbers without quotes: 8.5")
        elif not low <= value <= high:
            self.fault("bad-value", key, f"is out of range, from {plain(low)} to {plain(high)}")
        else:
            return float(value)
        return None

    def text(self, key: str) -> str | None:
        """A text on one line; None where it is not given, or wrong, which is noted."""
        self.known.append(key)
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, str) and value.strip():
            odd = next((one for one in value if not one.isprintable()), None)
            if odd is None:
                return value
            self.fault("bad-value", key, f"holds the control or invisible character U+{ord(odd):04X}", "leave it out")
            return None
        self.fault("bad-value", key, "is not a text", f'write it in quotes: {key} = "..."')
        return None

    def either(self, keys: tuple[str, ...], low: float, high: float) -> tuple[str, float | None] | None:
        """The one of several keys that is there, and its value."""
        given = [key for key in keys if key in self.values]
        if len(given) > 1:
            self.fault("bad-value", given[1], f"stands beside `{given[0]}`", "give one of the two")
        found = [(key, self.number(key, low, high)) for key in keys]
        return next(((key, value) for key, value in found if key in given), None)

    def finish(self) -> None:
        """Reports the keys that mean nothing here."""
        for key in self.values:
            if key not in self.known and len(self.faults) < _MOST_FAULTS:
                near = _nearest_key(key, self.known)
                hint = f"did you mean `{near}`?" if near else f"known here: {', '.join(self.known)}"
                self.fault("unknown-key", key, "means nothing here", hint)


def _nearest_key(key: str, known: list[str]) -> str | None:
    """The known key most like a wrong one: the same with a unit, then the same but for a letter or two."""
    with_unit = [other for other in known if other.startswith(f"{key}_")]
    same_word = [other for other in known if other.partition("_")[0] == key.partition("_")[0]]
    near = with_unit or alike(key, known, most=1, likeness=0.9) or same_word or alike(key, known, most=1)
    return near[0] if near else None


def read_toml(text: str, file: str) -> TomlTable:
    """The file's top table; raises `too-large`, and for text that is not TOML `toml-syntax` with its place."""
    import tomllib

    if len(text) > _LARGEST_FILE or max(map(len, text.split("\n"))) > _LONGEST_LINE:
        # The standard reader takes very long over very long keys.
        limits = f"{_LARGEST_FILE:,} characters, or {_LONGEST_LINE:,} in a line"
        raise NavlogError(Problem("too-large", f"the file has more than {limits}", Span(file, 1)))
    try:
        return TomlTable(tomllib.loads(text), (), [])
    except tomllib.TOMLDecodeError as error:
        raise NavlogError(_syntax_problem(str(error), text, file)) from None
    except (ValueError, RecursionError):
        message = "the file has a number or a nesting that is too long to read"
        raise NavlogError(Problem("toml-syntax", message, Span(file, 1))) from None


def raise_faults(top: TomlTable, text: str, file: str) -> None:
    """Raises every mistake noted so far in one `NavlogError`, if there is any."""
    if top.faults:
        places = _places(text)
        raise NavlogError(*in_order(_problem(fault, places, text, file) for fault in top.faults))


def label(path: Path) -> str:
    """What a pilot calls a place in the file: `cruise.tas_kt`, or its row."""
    words = [word for word in path if word != "rows" or path[-1] == "rows"]
    number = next((word for word in words if isinstance(word, int)), None)
    keys = [str(word) for word in words if not isinstance(word, int)]
    if number is None:
        return f"`{'.'.join(keys)}`"
    row = f"row {number + 1} of `{keys[0]}`"
    return f"`{keys[1]}` in {row}" if len(keys) > 1 else row


def _problem(fault: Fault, places: dict[Path, _Place], text: str, file: str) -> Problem:
    """The fault with the place of its key in the text, or the nearest place before it that can be found."""
    path = fault.path
    while path and path not in places:
        path = path[:-1]
    line, column, length = places.get(path, (1, 1, 1))
    user_line = text.split("\n")[line - 1].rstrip() if path else None
    return Problem(fault.code, fault.message, Span(file, line, column, length), fault.hint, user_line)


def _places(text: str) -> dict[Path, _Place]:
    """Line, column and length of table headings, keys and rows, by their path, as far as spelling tells."""
    import re

    found: dict[Path, _Place] = {}
    table: Path = ()
    row = -1
    for number, line in enumerate(text.split("\n"), 1):
        heading = re.match(r"\s*\[{1,2}\s*([\w-]+)(\.rows)?\s*\]", line)
        if heading:
            row = row + 1 if heading[2] and table == (heading[1],) else 0 if heading[2] else -1
            table = (heading[1],)
            place: Path = (*table, "rows", row) if heading[2] else table
            found.setdefault(place, (number, heading.start(1) + 1, len(heading[1])))
            continue
        for word in re.finditer(r"#.*|\{|([\w-]+)\s*=", line):
            if word[0] == "{":
                row += 1
                found.setdefault((*table, "rows", row), (number, word.start() + 1, 1))
            elif word[1]:
                inside: Path = (*table, "rows", row) if row >= 0 else table
                found.setdefault((*inside, word[1]), (number, word.start() + 1, len(word[1])))
    return found


def _syntax_problem(message: str, text: str, file: str) -> Problem:
    """The TOML reader's message with its place, which stands in brackets at the message's end."""
    what, _, place = message.rpartition(" (at ")
    numbers = [int(word) for word in place.rstrip(")").replace(",", " ").split() if word.isdigit()]
    lines = text.split("\n")
    line, column = numbers if len(numbers) == 2 else (len(lines), 1)
    what = what[:1].lower() + what[1:]
    hint = "the file is TOML: key = value, [table], texts in quotes"
    user_line = lines[line - 1].rstrip() if line <= len(lines) else None
    return Problem("toml-syntax", what, Span(file, line, column), hint, user_line)
