"""Files as slips, bad copies and malice leave them: damage done to good texts, by lines, words and characters."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from random import Random

ODD_WORDS = (
    "0", "-0", "00000", "-1", "1e9", "1e309", "nan", "inf", "-inf", "999999999999999999999", "0.0000001", "٣", "½",
    "N90 00.00 E000 00.00", "S90 00.00 W180 00.00", "N46 12.30 W039 20.70", "46N039W", "000", "360", "361", "calm",
    "360T/0", "230/199", "FL999", "FL000", "0ft", "-99999ft", "999nm", "0nm", "0kt", "1kt", "9999kt", "90W", "180E",
    "at", "via", "over", "x", "-", "/", ":", "@", "#", '"', '""', "DCT", "land", "decl", "true", "cop", "gap", "mea",
    "9999-12-31", "0001-01-01", "2026-02-29", "24:00Z", "02:30 America/Chicago", "../../../etc/passwd", "..", "~",
    "%s%n", "$(x)", "\\", "\0", "\x1b[2J", "\u202e", "\ufeff", "\u2028", "\xa0", "é", "e\u0301", "A" * 300,
    ",", ",,", ";", "\t", "\r", "\n", "\r\n", "{", "}", "[", "]", "=", "[[", '"""', "'", "null", "9900", "000000",
)  # fmt: skip
"""Words that have broken readers of text before: edges of ranges, numbers that are none, signs with a meaning."""

_WORD = re.compile(r'"[^"\n]*"|[^\s,]+')
_NUMBER = re.compile(r"\d+(?:\.\d+)?")

Damage = Callable[[str, Sequence[str], Random], str]


def damaged(text: str, words: Sequence[str], chance: Random, most: int = 4) -> str:
    """The text with one to `most` pieces of damage; `words` are what may come in beside the odd ones."""
    for _ in range(chance.randint(1, most)):
        text = chance.choice(DAMAGES)(text, words, chance)
    return text


def bytes_damaged(data: bytes, chance: Random) -> bytes:
    """The bytes with some changed, a part cut out, or the end missing."""
    damaged_data = bytearray(data)
    for _ in range(chance.randint(1, 8)):
        place = chance.randrange(len(damaged_data) or 1)
        kind = chance.random()
        if kind < 0.8:
            damaged_data[place : place + 1] = bytes([chance.choice((0, 1, 255, chance.randrange(256)))])
        elif kind < 0.95:
            del damaged_data[place : place + chance.randint(1, 40)]
        else:
            del damaged_data[place:]
    return bytes(damaged_data)


def words_of(*texts: str) -> tuple[str, ...]:
    """Each word of the texts once, in order."""
    return tuple(dict.fromkeys(word for text in texts for word in _WORD.findall(text)))


def _other_word(words: Sequence[str], chance: Random) -> str:
    return chance.choice(words) if words and chance.random() < 0.6 else chance.choice(ODD_WORDS)


def _place(pattern: re.Pattern[str], text: str, chance: Random) -> tuple[int, int]:
    """Where a match stands on a line, one in front of it, or an empty place at the end."""
    at = chance.randrange(len(text) + 1)
    while at >= 0:
        start = text.rfind("\n", 0, at) + 1
        end = text.find("\n", start)
        found = [match.span() for match in pattern.finditer(text, start, end if end >= 0 else len(text))]
        if found:
            return chance.choice(found)
        at = start - 1
    return len(text), len(text)


def _word_replaced(text: str, words: Sequence[str], chance: Random) -> str:
    start, end = _place(_WORD, text, chance)
    return text[:start] + _other_word(words, chance) + text[end:]


def _word_added(text: str, words: Sequence[str], chance: Random) -> str:
    _, end = _place(_WORD, text, chance)
    return f"{text[:end]} {_other_word(words, chance)}{text[end:]}"


def _word_dropped(text: str, words: Sequence[str], chance: Random) -> str:
    start, end = _place(_WORD, text, chance)
    return text[:start] + text[end:]


def _words_exchanged(text: str, words: Sequence[str], chance: Random) -> str:
    (a, b), (c, d) = sorted((_place(_WORD, text, chance), _place(_WORD, text, chance)))
    return text if b > c else text[:a] + text[c:d] + text[b:c] + text[a:b] + text[d:]


def _number_changed(text: str, words: Sequence[str], chance: Random) -> str:
    start, end = _place(_NUMBER, text, chance)
    digits = list(text[start:end]) or ["0"]
    place = chance.randrange(len(digits))
    digits[place] = chance.choice(("", "0", "9", "00", ".", "-", str(chance.randint(0, 400))))
    return text[:start] + "".join(digits) + text[end:]


def _line_dropped(text: str, words: Sequence[str], chance: Random) -> str:
    lines = text.split("\n")
    del lines[chance.randrange(len(lines))]
    return "\n".join(lines)


def _line_doubled(text: str, words: Sequence[str], chance: Random) -> str:
    lines = text.split("\n")
    lines.insert(chance.randint(0, len(lines)), chance.choice(lines))
    return "\n".join(lines)


def _lines_exchanged(text: str, words: Sequence[str], chance: Random) -> str:
    lines = text.split("\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return "\n".join(lines)


def _characters_replaced(text: str, words: Sequence[str], chance: Random) -> str:
    start = chance.randint(0, len(text))
    new = "".join(chance.choice("".join(ODD_WORDS)) for _ in range(chance.randint(0, 3)))
    return text[:start] + new + text[start + chance.randint(0, 6) :]


def _cut(text: str, words: Sequence[str], chance: Random) -> str:
    return text[: chance.randint(0, len(text))]


DAMAGES: tuple[Damage, ...] = (
    *(_word_replaced,) * 4,
    *(_number_changed,) * 6,
    _word_added,
    _word_dropped,
    _words_exchanged,
    _line_dropped,
    _line_doubled,
    _lines_exchanged,
    _characters_replaced,
    _cut,
)
"""Kinds of damage; the small ones, after which most of a file still means something, come up most often."""
