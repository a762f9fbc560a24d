"""A route as pilots paste it to the words of a route line: small letters, dots, commas, a whole flight plan message.

The message is the filed flight plan of ICAO Doc 4444 (PANS-ATM), appendix 3: fields 7 to 18 between hyphens, of
which field 8 has the rules, 13 the departure and its estimated off-block time, 15 speed, level and route, 16 the
destination and its alternates, 18 the date of flight (`DOF/260520`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import ceil

from msgspec import Struct

from navlog.nav.problems import Problem, Span
from navlog.request.route_line import is_position

_FILE = "--route"
_SPEED_AND_LEVEL = re.compile(
    r"(?:N(?P<kt>\d{4})|K(?P<kmh>\d{4})|(?P<mach>M\d{3}))"
    r"(?:(?P<level>[AF]\d{3})|S(?P<standard>\d{4})|M(?P<metres>\d{4})|(?P<none>VFR))"
)
_PROCEDURE = re.compile(r"[A-Z]{3,5}[1-9][A-Z]?")
"""ICAO Annex 11, appendix 3: a basic indicator, a validity digit and a letter where one is needed."""

_MESSAGE = re.compile(r"\(\s*FPL\b.*\)", re.DOTALL)
_DEPARTURE = re.compile(r"(?P<place>[A-Z]{4})(?P<time>\d{4})")
_ARRIVAL = re.compile(r"(?P<place>[A-Z]{4})(?P<time>\d{4})(?P<others>(?:\s+[A-Z]{4})*)")
_DATE = re.compile(r"\bDOF/(\d\d)(\d\d)(\d\d)\b")
_RULES = {
    "I": ("ifr", None),
    "V": ("vfr", None),
    "Y": ("ifr", "IFR first, then VFR"),
    "Z": ("ifr", "VFR first, then IFR"),
}
_UNKNOWN_PLACE = "ZZZZ"
_KEPT = ("over", "land")


class _Pasted(Struct, frozen=True):
    """A pasted route: the words of a route line, what other statements it makes, what is to be told, and what is wrong.

    `statements` are keyword and text, as they would stand in a file. `off_block` is the time of a flight plan message,
    "1330", None where none is told.
    """

    route: str
    statements: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    off_block: str | None = None


def read_pasted(text: str) -> _Pasted:
    """The route that a pasted text means; never raises, what is wrong stands in its problems."""
    text = " ".join(text.split())
    if text.lstrip("( ").upper().startswith("FPL"):
        return _of_message(text.upper())
    words, statements, problems = _of_item_15(text)
    return _Pasted(" ".join(words), statements, _told(statements), problems)


def _of_item_15(text: str) -> tuple[list[str], tuple[tuple[str, str], ...], tuple[Problem, ...]]:
    """The words of a route, with speed and level in front where they stand there."""
    words = list(_words(text))
    statements: tuple[tuple[str, str], ...] = ()
    problems: list[Problem] = []
    if words and (first := _SPEED_AND_LEVEL.fullmatch(words[0])):
        words = words[1:]
        if first["mach"]:
            message = f"`{first['mach']}` is a Mach number, and the log is planned by true airspeed"
            problems.append(_problem("bad-speed", message, "give it in knots: N0110"))
        statements = tuple(_speed_and_level(first))
    problems += _procedures(words)
    for index, word in enumerate(words):
        if "#" in word:
            # In a file the rest of the line would be a comment: half of a route would be gone without a word.
            problems.append(_problem("bad-route", "`#` is no part of a route", "leave it out", words, index))
    return words, statements, tuple(problems)


def _words(text: str) -> Iterator[str]:
    """The words in capitals; dots and commas part them, two dots are a direct way as one is."""
    raw = text.replace(",", " ").split()
    for index, token in enumerate(raw):
        # What a stop is for stays in small letters, as in a file: `land 45min fuel 20gal`.
        if token in _KEPT or (index and _is_of_a_stop(raw, index)):
            yield token
            continue
        for word in (token.upper(),) if is_position(token.upper()) else token.upper().split("."):
            if word:
                yield "DCT" if word == "DIRECT" else word


def _is_of_a_stop(raw: list[str], index: int) -> bool:
    """Whether a word is the time or the fuel behind `land`."""
    before, word = raw[index - 1], raw[index]
    if before == "land":
        return word[:1].isdigit() or word == "fuel"
    if word == "fuel":
        return index > 1 and raw[index - 2] == "land"
    return before == "fuel" and "land" in raw[max(0, index - 3) : index - 1]


def _speed_and_level(found: re.Match[str]) -> Iterator[tuple[str, str]]:
    if found["kt"]:
        yield "tas", f"{int(found['kt'])}kt"
    elif found["kmh"]:
        yield "tas", f"{int(found['kmh'])}km/h"
    if found["level"] and found["level"][0] == "F":
        yield "altitude", f"FL{found['level'][1:]}"
    elif found["level"]:
        yield "altitude", f"{int(found['level'][1:]) * 100}ft"
    elif found["standard"]:
        yield "altitude", f"FL{round(int(found['standard']) / 3.048):03d}"
    elif found["metres"]:
        yield "altitude", f"{int(found['metres']) * 10}m"


def _procedures(words: list[str]) -> Iterator[Problem]:
    """A problem for each departure and arrival procedure, which no airway data describe."""
    for index, word in enumerate(words):
        if not _PROCEDURE.fullmatch(word):
            continue
        if index <= 1 and index + 1 < len(words):
            hint = f"begin the route at the fix where you leave it: `{words[index + 1]}`"
            kind = "a departure"
        else:
            hint = f"end the route at the fix where it begins: `{words[index - 1]}`, then the airport"
            kind = "an arrival"
        message = f"`{word}` is spelt like {kind} procedure (SID, STAR), and the log has none"
        yield _problem("procedure", message, hint, words, index)


def _of_message(text: str) -> _Pasted:
    """A filed flight plan message (ICAO Doc 4444, appendix 3)."""
    fields = [field.strip() for field in text.strip("() ").split("-")]
    departure = next((index for index, one in enumerate(fields) if index > 1 and _DEPARTURE.fullmatch(one)), None)
    if departure is None or departure + 2 >= len(fields):
        message = "the flight plan message has no departure, route and destination"
        hint = "(FPL-...-KIOW1330-N0110A050 IOW V216 LOTTE-KMSN0130-DOF/260520)"
        return _Pasted("", problems=(_problem("bad-message", message, hint),))
    left, arrived = _DEPARTURE.fullmatch(fields[departure]), _ARRIVAL.fullmatch(fields[departure + 2])
    route = fields[departure + 1]
    if left is None or arrived is None:
        message = f"`{fields[departure + 2]}` is no destination with its time, such as KMSN0130"
        return _Pasted("", problems=(_problem("bad-message", message, None),))
    if _UNKNOWN_PLACE in (left["place"], arrived["place"]):
        message = "`ZZZZ` stands for a place without an ICAO code"
        return _Pasted("", problems=(_problem("bad-message", message, "give the route by itself, with its airports"),))
    # The destination's four digits are the time under way, whose hours may be more than a clock's.
    wrong = [one for one in (left, arrived) if one["time"][2:] > "59" or (one is left and one["time"] > "2359")]
    if wrong:
        message = f"`{wrong[0]['place']}{wrong[0]['time']}` has no hours and minutes behind its place"
        return _Pasted("", problems=(_problem("bad-time", message, "write 1330 for 13:30"),))
    words, statements, problems = _of_item_15(route)
    words = [left["place"], *words, arrived["place"]]
    rules = next((_RULES[one[0]] for one in fields[2:departure] if re.fullmatch(r"[IVYZ][SNGMX]?", one)), None)
    notes = []
    if rules is not None:
        statements = (*statements, ("rules", rules[0]))
        if rules[1] is not None:
            notes.append(f"flight rules {rules[1]}: planned as IFR throughout")
    if (day := _DATE.search(text)) is not None:
        statements = (*statements, ("date", "20{}-{}-{}".format(*day.groups())))
    for place in arrived["others"].split():
        if place != _UNKNOWN_PLACE:
            statements = (*statements, ("alternate", place))
    notes.append(f"off-block {left['time']}Z; wheels off comes after taxiing: give --off, or --set 'taxi 8min'")
    return _Pasted(" ".join(words), statements, (*_told(statements), *notes), problems, left["time"])


def wheels_off(off_block: str, taxi_min: float) -> str | None:
    """`off` as a statement says it, `13:38Z`, in whole minutes; None past midnight, where the date is another."""
    hour, minute = int(off_block[:2]), int(off_block[2:])
    total_min = hour * 60 + minute + ceil(taxi_min)
    if hour > 23 or minute > 59 or total_min >= 24 * 60:
        return None
    return f"{total_min // 60:02d}:{total_min % 60:02d}Z"


def _told(statements: tuple[tuple[str, str], ...]) -> tuple[str, ...]:
    return tuple(f"{keyword} {text}" for keyword, text in statements)


def _problem(code: str, message: str, hint: str | None, words: list[str] | None = None, index: int = 0) -> Problem:
    """A problem at a word of the route, else at its beginning."""
    if words is None:
        return Problem(code, message, Span(_FILE, 1), hint)
    column = len(" ".join(words[:index])) + (2 if index else 1)
    return Problem(code, message, Span(_FILE, 1, column, len(words[index])), hint, " ".join(words))
