"""Hours within a notice's period: on which days of the week, from when to when.

FAA Order JO 7930.2P, 3-3-1 and 3-3-2: "a hyphen may be used to indicate successive days or each day can be specified
individually separated by a single space"; "The day begins at 0000 and ends at 2359"; times are UTC. That hours which
end before they begin end on the next day, and belong to the day on which they begin, is common practice, no source.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from functools import lru_cache

from msgspec import Struct

_DAYS = ("MON", "TUE", "WED", "THU", "FRI", "SAT", "SUN")
_DAY = rf"(?:{'|'.join(_DAYS)})"
_HOURS = r"\d{4}-\d{4}"
_GROUP = re.compile(
    rf"(?P<days>DLY|DAILY|{_DAY}(?:-{_DAY})?(?: {_DAY}(?:-{_DAY})?)*)"
    rf" (?P<hours>H24|{_HOURS}(?:(?: | AND )?{_HOURS})*)"
)
_ALL_DAY = "H24"
"""Day and night (ICAO Doc 8126, NOTAM format, item D; ICAO abbreviations, Doc 8400)."""
_ACROSS = re.compile(rf"(?P<day>{_DAY}) (?P<start>\d{{4}}) ?- ?(?P<last>{_DAY}) (?P<end>\d{{4}})")
"""From an hour of one day of the week to an hour of another: `FRI 2200-MON 0600`."""
_MINUTES_A_DAY = 1_440
_LONGEST = timedelta(days=8)
"""No window is longer: from an hour of a day to an earlier one of the same day."""
_TOLD = rf"(?:(?:SR|SS|\d{{4}})-(?:SR|SS|\d{{4}})|{_ALL_DAY}\b)"
"""Hours as told: by sunrise and sunset too, which are not read."""
SCHEDULE = re.compile(
    rf"\b{_DAY} \d{{4}} ?- ?{_DAY} \d{{4}}(?:,? {_DAY} \d{{4}} ?- ?{_DAY} \d{{4}})*"
    rf"|\b(?:DLY|DAILY|{_DAY})[A-Z -]*(?: {_TOLD})+(?:,? (?:DLY|DAILY|{_DAY})[A-Z -]* {_TOLD})*"
    rf"|\b{_TOLD}(?:(?: | AND ){_TOLD})*$"
)
"""Where hours stand in the text of a notice, read or not; without days, as `SR-SS`, at its end alone."""

_CLOCK = r"(?:[01]\d|2[0-4])[0-5]\d"
_SOME_DAYS = rf"(?:DLY|DAILY|{_DAY}(?:(?:-| )?{_DAY})*)"
_AMONG_WORDS = re.compile(
    rf"[ ,.]*\b(?:{_SOME_DAYS}[ :]*)?(?:(?:BTN|BETWEEN|FM|FROM) )?(?<!\d){_CLOCK}(?:Z| ?UTC)?"
    rf"(?: ?- ?| AND | TO | TIL | UNTIL ){_CLOCK}(?:Z| ?UTC)?(?!\d|\.\d| ?(?:FT|M|MHZ|KHZ|NM)\b)"
    rf"(?: (?:LT|LMT|LOCAL))?(?: {_SOME_DAYS}\b)?"
)
"""Hours among the words of a notice, as `U/S BTN 1200 AND 1500 DAILY`."""


class _Window(Struct, frozen=True):
    """Days of the week, Monday 0, and minutes after midnight UTC from which to which."""

    days: frozenset[int]
    start_min: int
    end_min: int


@lru_cache(maxsize=256)
def read_hours(text: str) -> tuple[_Window, ...] | None:
    """The windows of hours as `DLY 1200-2200`, `SAT SUN 0600-1200 1800-2000`, `SUN H24`, `FRI 2200-SAT 0600`.

    None where any of it is said in another way, as by sunrise and sunset or by dates.
    """
    found: list[_Window] = []
    rest = " ".join(text.replace(",", " ").split())
    if rest == _ALL_DAY:
        return (_Window(_days("DAILY"), 0, _MINUTES_A_DAY),)
    while rest:
        across = _ACROSS.match(rest)
        if across is not None:
            window = _across(across)
            if window is None:
                return None
            found.append(window)
            rest = rest[across.end() :].removeprefix(" AND").strip()
            continue
        group = _GROUP.match(rest)
        if group is None:
            return None
        days = _days(group["days"])
        if group["hours"] == _ALL_DAY:
            found.append(_Window(days, 0, _MINUTES_A_DAY))
        for start, end in re.findall(r"(\d{4})-(\d{4})", group["hours"]):
            start_min, end_min = _minutes(start), _minutes(end)
            if start_min is None or end_min is None:
                return None
            found.append(_Window(days, start_min, end_min + (_MINUTES_A_DAY if end_min <= start_min else 0)))
        rest = rest[group.end() :].removeprefix(" AND").strip()
    return tuple(found) or None


def hours_among(words: str) -> tuple[str, str] | None:
    """Hours told among the words of a notice, and the words without them; None where there are none.

    They are told and not read: what they limit, words alone do not say for certain.
    """
    found = [one[0].strip(" ,.") for one in _AMONG_WORDS.finditer(words)]
    return (" ".join(found), _AMONG_WORDS.sub("", words)) if found else None


def _across(told: re.Match[str]) -> _Window | None:
    """The window from an hour of one day to an hour of another; None where an hour is none."""
    start_min, end_min = _minutes(told["start"]), _minutes(told["end"])
    if start_min is None or end_min is None:
        return None
    day, last = _DAYS.index(told["day"]), _DAYS.index(told["last"])
    end_min += (last - day) % 7 * _MINUTES_A_DAY
    return _Window(frozenset((day,)), start_min, end_min + (7 * _MINUTES_A_DAY if end_min <= start_min else 0))


def _days(text: str) -> frozenset[int]:
    if text in ("DLY", "DAILY"):
        return frozenset(range(7))
    found: set[int] = set()
    for part in text.split():
        first, _, last = part.partition("-")
        start, end = _DAYS.index(first), _DAYS.index(last or first)
        found.update((start + step) % 7 for step in range((end - start) % 7 + 1))
    return frozenset(found)


def _minutes(text: str) -> int | None:
    hours, minutes = int(text[:2]), int(text[2:])
    return 60 * hours + minutes if minutes < 60 and hours * 60 + minutes <= _MINUTES_A_DAY else None


def open_between(windows: tuple[_Window, ...], first: datetime, last: datetime) -> bool:
    """Whether any window is open at some moment from `first` to `last`, both UTC and included."""
    midnight = first.replace(hour=0, minute=0, second=0, microsecond=0) - _LONGEST
    while midnight <= last:
        for window in windows:
            start = midnight + timedelta(minutes=window.start_min)
            end = midnight + timedelta(minutes=window.end_min)
            if midnight.weekday() in window.days and start <= last and end >= first:
                return True
        midnight += timedelta(days=1)
    return False
