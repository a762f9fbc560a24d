"""Numbers to the text that a pilot reads, and the rounding rules behind it.

Courses are three digits, 001 to 360. Everything rounds half up, except fuel used, which rounds up, and fuel
on board, which rounds down. Columns add as printed: a running total is rounded once from the exact sum, and
a leg shows the difference of its rounded running totals. `?` is unknown, `-` does not apply and `XXX` is
impossible.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from math import ceil, floor

UNKNOWN = "?"
NOT_APPLICABLE = "-"
IMPOSSIBLE = "XXX"
BY_STATION_NORTH = "~"
_SLACK = 1e-9
"""What a sum of floats may be off by; a total this near a step is on it."""

_MINUTES_AT_MOST = 99 * 60 + 59


def half_up(value: float, step: float = 1.0) -> int:
    """How many steps a value rounds to, halves away from minus infinity."""
    return floor(value / step + 0.5 + _SLACK)


def up(value: float, step: float) -> int:
    """How many steps hold a value: rounded up."""
    return ceil(value / step - _SLACK)


def down(value: float, step: float) -> int:
    """How many whole steps a value has: rounded down."""
    return floor(value / step + _SLACK)


def whole_course(angle_deg: float) -> int:
    """The whole degree that is printed for a direction, 1 to 360."""
    # 359.6 rounds to 360 and 0.2 to 0: both are flown and read as 360 (common practice, no source).
    return floor(angle_deg % 360.0 + 0.5 + _SLACK) % 360 or 360


def course(angle_deg: float | None) -> str:
    """A direction in three digits: 022, and 360 for north."""
    return UNKNOWN if angle_deg is None else f"{whole_course(angle_deg):03d}"


def whole_setting(radial_deg: float, *, inbound: bool) -> int:
    """The course to set as printed, 1 to 360: the printed radial outbound, its reciprocal inbound."""
    # Turned round after rounding: half a degree would else print one way out and another in, by its last binary digit.
    printed = whole_course(radial_deg)
    return (printed + 180) % 360 or 360 if inbound else printed


def set_course(radial_deg: float | None, *, inbound: bool) -> str:
    """The course to set: the printed radial outbound, the reciprocal of the printed radial inbound."""
    if radial_deg is None:
        return UNKNOWN
    return f"{whole_setting(radial_deg, inbound=inbound):03d}"


def correction(angle_deg: float | None) -> str:
    """A wind correction: `5R`, `14L`, `0`."""
    return UNKNOWN if angle_deg is None else _with_side(half_up(abs(angle_deg)), right=angle_deg > 0)


def turn(angle_deg: float | None) -> str:
    """A turn in words: `right 17`, `left 3`, `straight on`."""
    if angle_deg is None:
        return UNKNOWN
    whole = half_up(abs(angle_deg))
    if whole == 0:
        return "straight on"
    return f"{'right' if angle_deg > 0 else 'left'} {whole}"


def _with_side(whole: int, *, right: bool) -> str:
    """A whole number of degrees with its side."""
    return "0" if whole == 0 else f"{whole}{'R' if right else 'L'}"


def east_west(angle_deg: float | None) -> str:
    """A declination, variation or deviation with its letter: `15W`, `12.6W`, `0`."""
    if angle_deg is None:
        return UNKNOWN
    tenths = half_up(abs(angle_deg), 0.1)
    if tenths == 0:
        return "0"
    number = f"{tenths // 10}" if tenths % 10 == 0 else f"{tenths / 10:.1f}"
    return number + ("E" if angle_deg > 0 else "W")


def tenths(steps: int | None) -> str:
    """A count of tenths as a number with one decimal."""
    if steps is None:
        return UNKNOWN
    sign = "-" if steps < 0 else ""
    return f"{sign}{abs(steps) // 10}.{abs(steps) % 10}"


def distance(distance_nm: float | None) -> str:
    """A distance with one decimal."""
    return UNKNOWN if distance_nm is None else tenths(half_up(distance_nm, 0.1))


def stated_distance(distance_nm: float) -> str:
    """A distance as it is published or stated, to hundredths, which no chart goes beyond: `10`, `14.5`, `5.4`."""
    return f"{round(distance_nm, 2):g}"


def whole(value: float | None) -> str:
    """A speed or height as a whole number."""
    return UNKNOWN if value is None else str(half_up(value))


def level(altitude_ft: float | None, *, flight_level: bool = False) -> str:
    """An altitude in feet, or a flight level in hundreds of feet: `4500`, `FL085`."""
    if altitude_ft is None:
        return NOT_APPLICABLE
    return f"FL{half_up(altitude_ft, 100.0):03d}" if flight_level else str(half_up(altitude_ft))


def minutes(whole_minutes: int | None) -> str:
    """Hours and minutes: `0:07`, `1:24`; what no column holds prints as `>99h`."""
    if whole_minutes is None:
        return UNKNOWN
    if whole_minutes > _MINUTES_AT_MOST:
        return ">99h"
    return f"{whole_minutes // 60}:{whole_minutes % 60:02d}"


def zulu(moment: datetime | None, day: date | None = None) -> str:
    """A time of day in UTC: `15:22Z`; a day after `day` `05:08Z+1`."""
    return UNKNOWN if moment is None else f"{moment:%H:%M}Z{day_mark(moment, day)}"


_OFF_END_NM = 0.05
"""Less than prints: a place so little farther from a course than from its line lies beside its end."""


def place_text(along: str, aside_nm: float, away_nm: float, off_end: str) -> str:
    """Where a place lies by a course: `along` it and aside, `24.2 NM along, 1.2 left`, or off an end of it.

    Beside no part of the course it is told by its distance from the end, `2.5 NM` and `off_end`, as `beyond XOLD`.
    """
    if away_nm > abs(aside_nm) + _OFF_END_NM:
        return f"{distance(away_nm)} NM {off_end}"
    return f"{along}, {distance(abs(aside_nm))} {'right' if aside_nm > 0.0 else 'left'}"


FAR = ">9"
"""The mark of a moment too many days after a day for one digit."""


def day_mark(moment: datetime, day: date | None) -> str:
    """How many days a moment is off a day, by its own zone: `+1`, `-1`; empty on that day, `>9` for too many."""
    days = (moment.date() - day).days if day is not None else 0
    return FAR if days > 9 else f"{days:+d}" if days else ""


def plain(value: float) -> str:
    """A number in a message, to six digits and written out: `1000000`, where `g` writes `1e+06`."""
    return f"{float(f'{value:g}'):.10g}"


def frequency(frequency_mhz: float | None) -> str:
    """A NAV frequency with its two decimals."""
    return NOT_APPLICABLE if frequency_mhz is None else f"{frequency_mhz:.2f}"


def fuel(steps: int | None, step: float) -> str:
    """A count of printed fuel steps as a number."""
    if steps is None:
        return UNKNOWN
    return tenths(steps) if step == 0.1 else str(steps)


def running(values: Sequence[float | None], step: float, *, upward: bool = False) -> tuple[int | None, ...]:
    """The printed running totals in steps, rounded once from the exact sum; None from the first unknown."""
    rounded, total = up if upward else half_up, 0.0
    totals: list[int] = []
    for value in values:
        if value is None:
            break
        total += value
        totals.append(rounded(total, step))
    return (*totals, *[None] * (len(values) - len(totals)))


def total(counts: Iterable[int | None]) -> int | None:
    """The sum of counts; None where one of them is not known."""
    found = tuple(counts)
    return None if None in found else sum(one for one in found if one is not None)


def differences(totals: Sequence[int | None]) -> tuple[int | None, ...]:
    """What each leg shows: the difference of its printed running totals."""
    # Rounded legs would not add up to the rounded total; their differences do.
    befores = (0, *totals[:-1])
    return tuple(
        None if total is None or before is None else total - before
        for total, before in zip(totals, befores, strict=True)
    )
