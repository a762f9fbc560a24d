"""A pilot's figures as they are written in a file of answers, and as a marking shows them."""

from __future__ import annotations

from navlog.flightlog.records import FuelUnit
from navlog.nav import figures, units
from navlog.nav.problems import problem_error
from navlog.nav.quantities import is_digits
from navlog.nav.units import DAY_MIN, Amount, converted, read_clock_min

_DIGITS = "0123456789"


def read_course(text: str, _: FuelUnit) -> float:
    """A direction, 0 to 360; a spreadsheet may have taken its leading zeros."""
    whole, point, decimals = text.partition(".")
    if not (0 < len(whole) <= 3 and is_digits(whole)) or (point and not is_digits(decimals)) or float(text) > 360.0:
        raise problem_error("bad-value", f"`{text}` is not a direction", hint="write degrees from 001 to 360")
    return float(text) % 360.0


def read_correction(text: str, _: FuelUnit) -> float:
    """A wind correction: `5R`, `5L`, `+5`, `-5` or `0`; right is positive."""
    sign = {"R": 1.0, "L": -1.0}.get(text[-1:].upper())
    number = text[:-1] if sign is not None else text
    if sign is None and number[:1] in ("+", "-"):
        sign, number = (1.0 if number[0] == "+" else -1.0), number[1:]
    whole, point, decimals = number.partition(".")
    if not (len(whole) <= 3 and is_digits(whole)) or (point and not is_digits(decimals)):
        raise problem_error("bad-value", f"`{text}` is not a wind correction", hint="write 5R or 5L, +5 or -5, or 0")
    if sign is None and float(number):
        hint = f"which way is it: {number}R or {number}L"
        raise problem_error("bad-value", f"wind correction `{text}` has no side", hint=hint)
    return (sign or 1.0) * float(number) + 0.0


def read_flag(text: str, _: FuelUnit) -> float:
    """`TO` or `FROM`."""
    if text.upper() not in ("TO", "FROM"):
        raise problem_error("bad-value", f"`{text}` is no flag", hint="write TO or FROM")
    return float(text.upper() == "TO")


def read_minutes(text: str, _: FuelUnit) -> float:
    """A time in minutes from `6`, `6.5`, `6min`, `0:06`, `1:05` or, out of a spreadsheet, `0:06:30`."""
    parts = text.split(":")
    if len(parts) == 1:
        return units.read_duration_min(text)
    if len(parts) > 3 or not all(0 < len(part) <= 3 and is_digits(part) for part in parts):
        raise problem_error("bad-time", f"`{text}` is not a time", hint="write minutes, or h:mm such as 0:06")
    if any(int(part) > 59 for part in parts[1:]):
        raise problem_error("bad-time", f"`{text}` is not a time", hint="minutes after hours run from 00 to 59")
    hours, minutes, seconds = (*map(int, parts), 0)[:3]
    return hours * 60.0 + minutes + seconds / 60.0


def read_clock(text: str, _: FuelUnit) -> float:
    """A time of day in UTC as minutes after midnight."""
    return read_clock_min(text)


def read_fuel(text: str, unit: FuelUnit) -> float:
    """An amount of fuel in the log's unit; without a unit of its own it is in that. Below zero as sheets tell it."""
    if text.startswith("-"):
        return -read_fuel(text[1:], unit)
    amount = units.read_fuel(text)
    if text[-1:] in _DIGITS:
        amount = Amount(amount.value, unit.name)
    found = converted(amount, unit.name)
    if found is None:
        hint = f"write {unit.name}, as the route file does"
        raise problem_error("bad-unit", f"`{text}` is not in {unit.name}", hint=hint)
    return found.value


def show_course(value: float, _: FuelUnit) -> str:
    """Three digits."""
    return figures.course(value)


def show_correction(value: float, _: FuelUnit) -> str:
    """With its side."""
    return figures.correction(value)


def show_whole(value: float, _: FuelUnit) -> str:
    """A whole number, or one decimal where the figure has one."""
    return f"{figures.half_up(value, 0.1) / 10:g}"


def show_minutes(value: float, _: FuelUnit) -> str:
    """Hours and minutes; a part of one minute as it is."""
    if 0.0 < value < 1.0:
        return f"{value:.2f} min"
    return figures.minutes(figures.half_up(value))


def show_clock(value: float, _: FuelUnit) -> str:
    """A time of day in UTC."""
    whole = figures.half_up(value) % int(DAY_MIN)
    return f"{whole // 60:02d}:{whole % 60:02d}Z"


def show_fuel(value: float, unit: FuelUnit) -> str:
    """An amount of fuel in its unit."""
    return f"{figures.half_up(value, 0.1) / 10:g} {unit.name}"


def show_flag(value: float, _: FuelUnit) -> str:
    """TO or FROM."""
    return "TO" if value else "FROM"
