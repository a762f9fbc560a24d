"""AIRAC cycles: identifiers and the dates between which published data holds.

Cycles take effect every 28 days, on a Thursday; cycle 2001 took effect on 2020-01-02. An identifier is the
last two digits of the year and the cycle's number in it: the year's first effective date is number 01, so
a year has 13 cycles, 2020 and 2043 have 14 (ICAO Doc 8126; dates as published by the FAA and others).
"""

from __future__ import annotations

from datetime import date, timedelta

from navlog.nav.problems import problem_error

_CYCLE_DAYS = 28
_ANCHOR = date(2020, 1, 2)
_CYCLE = timedelta(days=_CYCLE_DAYS)
# Common practice, no source: AIRAC began in 1964, so 64 to 99 are of the twentieth century.
_FIRST_YEAR = 64
YEARS = range(1964, 2064)
"""The years whose cycles an identifier tells apart."""


def effective_date(ident: str) -> date:
    """The first day of the cycle `ident`, such as 2026-05-14 for `2605`.

    Raises a `bad-cycle` problem for text that is not four digits or a number that its year does not have.
    """
    if len(ident) != 4 or not (ident.isascii() and ident.isdigit()):
        raise problem_error(
            "bad-cycle", f"`{ident}` is not an AIRAC cycle", hint="a cycle is four digits, such as 2605"
        )
    year = int(ident[:2])
    first = _first_of_year(2000 + year if year < _FIRST_YEAR else 1900 + year)
    number = int(ident[2:])
    effective = first + (number - 1) * _CYCLE
    # A number too high runs into the next year, which is how a year tells that it has 13 cycles or 14.
    if number < 1 or effective.year != first.year:
        last = cycle_ident(date(first.year, 12, 31))
        raise problem_error("bad-cycle", f"{first.year} has no AIRAC cycle `{ident}`", hint=f"its last one is {last}")
    return effective


def cycle_ident(day: date) -> str:
    """The identifier of the cycle in force on `day`, such as `2605` for 2026-05-14."""
    effective = _effective_on(day)
    number = (effective - _first_of_year(effective.year)) // _CYCLE + 1
    return f"{effective.year % 100:02d}{number:02d}"


def expiry(effective: date) -> date:
    """The first day on which a cycle that took effect on `effective` no longer holds."""
    return effective + _CYCLE


def of_earlier_cycle(oldest: date, newest: date) -> date | None:
    """The day `oldest` where it lies in an earlier cycle than `newest`; None where one cycle holds both."""
    return oldest if _effective_on(oldest) < _effective_on(newest) else None


def is_effective_date(day: date) -> bool:
    """True where a cycle takes effect on `day`."""
    return _effective_on(day) == day


def _effective_on(day: date) -> date:
    """The effective date of the cycle in force on `day`."""
    # Floor division goes down before the anchor too, so days before 2020 fall into their own cycle.
    return _ANCHOR + (day - _ANCHOR) // _CYCLE * _CYCLE


def _first_of_year(year: int) -> date:
    first_day = date(year, 1, 1)
    effective = _effective_on(first_day)
    # The cycle in force on January 1 mostly began in December and belongs to the year before.
    return effective if effective == first_day else effective + _CYCLE
