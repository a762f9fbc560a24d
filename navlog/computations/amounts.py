"""Times, speeds, fuel and sides in words, on the rounding rules of `figures`."""

from __future__ import annotations

from navlog.nav.figures import fuel, half_up, tenths, up, whole
from navlog.nav.units import Amount


def time(time_min: float) -> str:
    """A time to read off: tenths of a minute under ten minutes, minutes under an hour, `7 h 30 min` from there."""
    steps = half_up(time_min, 0.1)
    if steps < 100:
        return f"{tenths(steps)} min"
    whole_minutes = half_up(time_min)
    if whole_minutes < 60:
        return f"{whole_minutes} min"
    rest = f" {whole_minutes % 60} min" if whole_minutes % 60 else ""
    return f"{whole_minutes // 60} h{rest}"


def stopwatch(time_min: float) -> str:
    """A measured time in minutes and seconds: `75 s`, `7 min`, `2 min 30 s`."""
    seconds = half_up(time_min * 60.0)
    if seconds < 120 and seconds != 60:
        return f"{seconds} s"
    rest = f" {seconds % 60} s" if seconds % 60 else ""
    return f"{seconds // 60} min{rest}"


def fuel_amount(amount: Amount) -> str:
    """Fuel used, rounded up to 0.1 gal or to a whole unit."""
    step = 0.1 if amount.unit == "gal" else 1.0
    return f"{fuel(up(amount.value, step), step)} {amount.unit}"


def crosswind(crosswind_kt: float) -> str:
    """A crosswind with the side it comes from."""
    speed = whole(abs(crosswind_kt))
    if speed == "0":
        return "no crosswind"
    return f"crosswind {speed} kt from the {'right' if crosswind_kt > 0.0 else 'left'}"


def headwind(headwind_kt: float) -> str:
    """A headwind, or a tailwind where it is negative."""
    speed = whole(abs(headwind_kt))
    if speed == "0":
        return "no headwind"
    return f"{'headwind' if headwind_kt > 0.0 else 'tailwind'} {speed} kt"


def degrees(size_deg: float) -> str:
    """A size of an angle in words: `1 degree`, `3.6 degrees`."""
    return f"{size_deg:g} degree{'' if size_deg == 1.0 else 's'}"
