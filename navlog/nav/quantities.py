"""A number with its unit glued on, read exactly: what may be written, and what is wrong with anything else."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from msgspec import Struct

from navlog.nav.figures import plain
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.spelling import suggestion

DIGITS = "0123456789"

_DIGITS_AT_MOST = 200
"""Longer numbers are read as doubles: whole numbers of any length are slow, and beyond thousands refused."""

_THOUSANDS = 3
"""As many digits stand behind a point or comma that groups thousands."""

_SPELLINGS = {
    "nmi": "nm",
    "kts": "kt",
    "kn": "kt",
    "kmh": "km/h",
    "kph": "km/h",
    "fpm": "ft/min",
    "mins": "min",
    "hr": "h",
    "hrs": "h",
    "gals": "gal",
    "usg": "gal",
    "lbs": "lb",
    "gal/hr": "gal/h",
    "lph": "l/h",
    "l/hr": "l/h",
    "pph": "lb/h",
    "lb/hr": "lb/h",
    "lbs/h": "lb/h",
    "lbs/hr": "lb/h",
    "kg/hr": "kg/h",
    "mb": "hpa",
    "mbar": "hpa",
    "in": "inhg",
    "\N{DEGREE SIGN}c": "c",
    "\N{DEGREE SIGN}f": "f",
}
"""What pilots write for a unit besides its symbol, none of which means another one (common practice, no source)."""


class Quantity(Struct, frozen=True):
    """What may be written for one quantity: each unit's size, the unit meant without one, and the range.

    A size is a ratio of whole numbers, so that what is written in one unit is read as the same in another.
    `low` and `high` are in the quantity's own unit, the one of size 1, and only keep out nonsense. Of a `height` no
    foot has a fraction: in much of Europe 3.000 is three thousand.
    """

    name: str
    sizes: Mapping[str, tuple[int, int]]
    example: str
    default: str | None = None
    high: float = 1e6
    low: float = 0.0
    signed: bool = False
    height: bool = False


def read_quantity(text: str, quantity: Quantity) -> float:
    """The value in the quantity's own unit, after its range is checked."""
    number, written = number_and_unit(text, quantity)
    unit = known_unit(written, text, quantity)
    if quantity.height and unit == "ft" and "." in number:
        raise _no_part_of_a_foot(number, written, text, quantity)
    return within(exact(number, quantity.sizes[unit]), text, quantity)


def _no_part_of_a_foot(number: str, unit: str, text: str, quantity: Quantity) -> NavlogError:
    whole, _, decimals = number.lstrip("+-").partition(".")
    if len(decimals) == _THOUSANDS >= len(whole):
        hint = f"write {number.replace('.', '')}{unit}: feet have no fraction, and thousands no point"
    else:
        hint = f"write whole feet, such as {quantity.example}"
    return bad_value(text, quantity, hint)


def exact(number: str, size: tuple[int, int], zero: int = 0) -> float:
    """A number's value times a unit's size, counted from `zero` of that unit: the double nearest to the exact value."""
    if len(number) > _DIGITS_AT_MOST:
        return (float(number) - zero) * size[0] / size[1]
    whole, _, decimals = number.partition(".")
    scale: int = 10 ** len(decimals)
    # The quotient of two whole numbers is rounded once.
    return (int(whole + decimals) - zero * scale) * size[0] / (scale * size[1])


def within(value: float, text: str, quantity: Quantity) -> float:
    """The value of `text`; raises a `bad-value` problem outside the quantity's range."""
    if not (isfinite(value) and quantity.low <= value <= quantity.high):
        own = next(iter(quantity.sizes))
        raise problem_error(
            "bad-value",
            f"{quantity.name} `{text}` is out of range",
            hint=f"it must lie from {plain(quantity.low)} to {plain(quantity.high)} {own}",
        )
    return value


def number_and_unit(text: str, quantity: Quantity) -> tuple[str, str]:
    """The number, as written, at the start of `text` and the rest, which should be a unit."""
    length = len(text) - len(text.lstrip("+-"))
    while length < len(text) and text[length] in DIGITS + ".":
        length += 1
    number, rest = text[:length], text[length:]
    if any(character.isdigit() and character not in DIGITS for character in text):
        raise bad_value(text, quantity, "type the digits 0 to 9")
    if rest[:1] in ("e", "E") and rest[1:2] in tuple(DIGITS + "+-"):
        raise bad_value(text, quantity, "write the number out, without an exponent")
    if rest[:1] in ("_", ",") and rest[1:2].isdigit():
        hint = f"write it without `{rest[0]}`; a decimal point is `.`"
        groups = text.rstrip("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ").split(rest[0])
        if quantity.height and all(is_digits(one) and len(one) == _THOUSANDS for one in groups[1:]):
            hint = f"write {text.replace(rest[0], '')}"
        raise bad_value(text, quantity, hint)
    if number[:1] in ("+", "-") and not quantity.signed:
        raise bad_value(text, quantity, f"no sign can stand here; write {quantity.example}")
    if not is_number(number[1:] if number[:1] in ("+", "-") else number):
        raise bad_value(text, quantity, f"write {quantity.example}")
    return number, rest


def plain_unit(unit: str) -> str:
    """A unit as its symbol is spelt, in small letters."""
    return _SPELLINGS.get(unit.lower(), unit.lower())


def known_unit(unit: str, text: str, quantity: Quantity) -> str:
    """The unit written behind a number, or meant by none, in capitals or not; raises a `bad-unit` problem.

    A capital `M` or `mi` behind a distance is refused, which may be metres or either mile.
    """
    if unit in quantity.sizes:
        return unit
    if not unit and quantity.default is not None:
        return quantity.default
    number, small, spelt = text.removesuffix(unit), unit.lower(), plain_unit(unit)
    several = "nm" in quantity.sizes and (unit == "M" or small == "mi")
    for known in quantity.sizes:
        if known.lower() == spelt and not several:
            return known
    units = ", ".join(f"`{known}`" for known in quantity.sizes)
    hint = f"write one of {units} right after the number"
    close = suggestion(small, quantity.sizes)
    if several:
        hint = f"write {number}nm, {number}m for metres or {number}sm for statute miles: `{unit}` may be any of them"
    elif small == "m" and "min" in quantity.sizes:
        hint = f"`m` is metres; minutes are `min`: {number}min"
    elif spelt == "min" and "m" in quantity.sizes:
        hint = f"`min` is minutes; metres are `m`: {number}m"
    elif close and close[:1].lower() == small[:1]:
        # `38g` may be gallons, and kilograms are spelt most like it.
        hint += f": {number}{close}"
    if not unit:
        raise problem_error("bad-unit", f"{quantity.name} `{text}` has no unit", hint=hint)
    raise problem_error("bad-unit", f"{quantity.name} `{text}` has an unknown unit", hint=hint)


def is_digits(text: str) -> bool:
    """One of the digits 0 to 9 or more, and nothing else."""
    return bool(text) and not text.strip(DIGITS)


def is_number(text: str) -> bool:
    """Digits, perhaps with one point between them; no sign."""
    whole, point, decimals = text.partition(".")
    return is_digits(whole) and (not point or is_digits(decimals))


def bad_value(text: str, quantity: Quantity, hint: str) -> NavlogError:
    """The problem of a text that is no value of the quantity."""
    article = "an" if quantity.name[0] in "aeiou" else "a"
    return problem_error("bad-value", f"`{text}` is not {article} {quantity.name}", hint=hint)
