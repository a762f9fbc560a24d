"""Bytes to text, and text to lines of words with their places."""

from __future__ import annotations

from typing import BinaryIO

from msgspec import Struct

from navlog.nav.plainfile import read_plain
from navlog.nav.problems import DIRECTIONS, NavlogError, Problem, Span, problem_error
from navlog.request.tree import Word

LARGEST_BYTES = 1_000_000
"""Some thousand flights; what is so much larger is another kind of file, or has no end."""

_ROUTE_FILE = "a route file"
_TOO_LARGE_HINT = "share its flights out over several files, if it is one of routes at all"

LONGEST_LINE = 20_000
"""A route of a thousand points has half as many characters."""

_BLANKS = " \t"
_NEVER_IN_TEXT = frozenset(range(32)) - frozenset(b"\t\n\f\r\x1a")
"""Control characters; the end of a file once was marked by 1A."""

_MARKS_OF_ENCODINGS = (
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)


class TextLine(Struct, frozen=True):
    """A line that holds words; `indent` counts its leading blanks, a tab as one."""

    number: int
    indent: int
    words: tuple[Word, ...]
    problems: tuple[Problem, ...] = ()


def file_bytes(
    file: str, *, stream: BinaryIO | None = None, called: str = "this file", span: Span | None = None
) -> bytes:
    """The bytes of a file, or of an open `stream` in its place; of one that is too large just enough to tell.

    Raises `cannot-read` at `span`, or at the file's own first line.
    """
    place = span or Span(file, 1)
    if stream is None:
        return read_plain(file, LARGEST_BYTES, called, place)
    try:
        # One byte more than is taken tells a file that is too large, without reading an endless one.
        return stream.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        raise problem_error("cannot-read", f"cannot read {called}: {reason}", span=place) from None


def decode(data: bytes, file: str, kind: str = _ROUTE_FILE) -> str:
    """The text of a route file, or of a file of another `kind`: UTF-8 with or without byte-order mark.

    Raises a `bad-encoding` problem that names the encoding guessed for other text, and `too-large`.
    """
    # Before decoding: a gigabyte of text would be held twice to say that it is too much.
    if len(data) > LARGEST_BYTES:
        raise problem_error(
            "too-large",
            f"the file has more than {LARGEST_BYTES:,} bytes",
            hint=_TOO_LARGE_HINT if kind == _ROUTE_FILE else f"is it {kind} at all?",
            span=Span(file, 1),
        )
    wide = _wide_encoding(data)
    if wide:
        raise NavlogError(_bad_encoding(wide, Span(file, 1), None))
    try:
        return data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        start = error.start
    # A picture or a zip is told as such, not as text in an encoding to guess.
    if any(byte in _NEVER_IN_TEXT for byte in data):
        hint = f"{kind} is plain text in UTF-8"
        raise NavlogError(Problem("bad-encoding", "the file is not text", Span(file, 1), hint))
    # Every encoding that is guessed keeps ASCII, so lines end alike in all and the place can be told.
    lines = split_lines(data[:start].decode("utf-8", "replace").removeprefix("\ufeff"))
    guess, codec = _narrow_encoding(data)
    text = split_lines(data.decode(codec, "replace"))[len(lines) - 1]
    span = Span(file, len(lines), len(lines[-1]) + 1)
    raise NavlogError(_bad_encoding(guess, span, text))


def split_lines(text: str) -> tuple[str, ...]:
    """The lines of `text` without their ends; LF, CRLF and CR end a line, nothing else does."""
    # Not `str.splitlines`, for which U+2028 and a form feed end a line too: editors count otherwise.
    return tuple(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))


def read_line(text: str, number: int, file: str) -> TextLine | None:
    """The words of one line; None when it is blank or holds just a comment."""
    if len(text) > LONGEST_LINE:
        message = f"the line has more than {LONGEST_LINE:,} characters"
        hint = "break it; a line that goes on with the one above is indented deeper"
        return TextLine(number, 0, (), (Problem("long-line", message, Span(file, number), hint),))
    stripped = text.lstrip(_BLANKS)
    indent = len(text) - len(stripped)
    words: list[Word] = []
    problems: list[Problem] = []
    start, end = indent, len(text)
    while start < end and text[start] != "#":
        quoted = text[start] == '"'
        stop = _end_of_quoted(text, start) if quoted else _end_of_word(text, start)
        span = Span(file, number, start + 1, stop - start)
        words.append(_quoted(text, start, stop, span, problems) if quoted else Word(text[start:stop], span))
        start = stop
        while start < end and text[start] in _BLANKS:
            start += 1
    # One look at the whole line first; hardly any has a character worth a name.
    if not text.isprintable():
        problems += _character_problems(text, number, file, words)
    return TextLine(number, indent, tuple(words), tuple(problems)) if words or problems else None


def _quoted(text: str, start: int, stop: int, span: Span, problems: list[Problem]) -> Word:
    if stop - start < 2 or text[stop - 1] != '"':
        problems.append(Problem("unclosed-quote", "a quote is not closed", span, 'end it with `"` on the same line'))
        return Word(text[start + 1 : stop], span, quoted=True)
    if text[stop : stop + 1].strip(_BLANKS) not in ("", "#"):
        place = Span(span.file, span.line, stop + 1)
        problems.append(Problem("glued-quote", "a word is glued to the closing quote", place, "add a blank"))
    return Word(text[start + 1 : stop - 1], span, quoted=True)


def _end_of_quoted(text: str, start: int) -> int:
    closing = text.find('"', start + 1)
    return len(text) if closing < 0 else closing + 1


def _end_of_word(text: str, start: int) -> int:
    stop = text.find(" ", start)
    word = text[start:] if stop < 0 else text[start:stop]
    if "\t" in word or "#" in word:
        word = word.partition("\t")[0].partition("#")[0]
    return start + len(word)


def _character_problems(text: str, number: int, file: str, words: list[Word]) -> list[Problem]:
    """The first character of a line that has no place in it, if any.

    Invisible characters that do no harm are let through in quotes and comments.
    """
    bare = {
        column
        for word in words
        if not word.quoted
        for column in range(word.span.column, word.span.column + word.span.length)
    }
    for column, character in enumerate(text, start=1):
        if character == "\t" or character.isprintable():
            continue
        name = f"U+{ord(character):04X}"
        if character in DIRECTIONS:
            message, hint = f"{name} changes the direction of the text", "delete it"
        elif _is_control(character):
            message, hint = f"control character {name}", "delete it"
        elif column in bare:
            message, hint = f"invisible character {name}", "delete it, or type a plain blank"
        else:
            continue
        return [Problem("bad-character", message, Span(file, number, column), hint)]
    return []


def _is_control(character: str) -> bool:
    """C0 and C1 controls, the line and paragraph separators, and halves of a surrogate pair."""
    return (
        character < " "
        or "\x7f" <= character <= "\x9f"
        or character in "\u2028\u2029"
        or ("\ud800" <= character <= "\udfff")
    )


def _wide_encoding(data: bytes) -> str | None:
    """The name of a two- or four-byte encoding, by its mark or, without one, by its many zero bytes."""
    for mark, name in _MARKS_OF_ENCODINGS:
        if data.startswith(mark):
            return name
    # ASCII in two bytes is half zeros, in four three quarters; other text never has a quarter.
    zeros = data.count(0) * 4
    if zeros <= len(data):
        return None
    wide = "UTF-32" if zeros > 2 * len(data) else "UTF-16"
    return wide if any(_is_text_in(data, f"{wide}-{order}") for order in ("LE", "BE")) else None


def _is_text_in(data: bytes, codec: str) -> bool:
    """Whether an encoding makes text of the bytes, with no control characters but those that end lines."""
    try:
        text = data.decode(codec)
    except UnicodeDecodeError:
        return False
    return not any(ord(character) in _NEVER_IN_TEXT for character in text)


def _narrow_encoding(data: bytes) -> tuple[str, str]:
    """The guess among one-byte encodings: Windows-1252 unless it leaves a byte undefined."""
    try:
        data.decode("cp1252")
    except UnicodeDecodeError:
        return "ISO 8859-1", "latin-1"
    return "Windows-1252", "cp1252"


def _bad_encoding(guess: str, span: Span, text: str | None) -> Problem:
    return Problem("bad-encoding", f"the file is not UTF-8 but perhaps {guess}", span, "save it as UTF-8", text)
