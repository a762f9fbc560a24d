"""Redoing a line of workings by hand: its values as arithmetic, and how far rounded figures may carry it.

Nothing of navlog is used: numbers, `x`, `/`, `^`, sin and cos of degrees, winds such as `0.7 of 230.0/12.0` as
vectors, and clock times.
"""

from __future__ import annotations

import cmath
import math
import re
from dataclasses import dataclass

WIND = re.compile(r"(\d+\.\d)/(\d+\.\d)")
CLOCK = re.compile(r"(\d+):(\d\d)")
NUMBER = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True, slots=True)
class Redone:
    """What a line's values come to, and by how much the rounding of those values may have moved it."""

    value: complex
    slack: float


def redo(values: str) -> Redone:
    """The values of a line worked out."""
    clocks = CLOCK.findall(values)
    if clocks:
        return Redone(sum(60 * int(hours) + int(minutes) for hours, minutes in clocks), 0.0)
    expression = values.replace("calm", "0.0/0.0") if " of " in values else values
    expression = WIND.sub(r"blows(\1, \2)", expression) if " of " in values else expression
    places = list(NUMBER.finditer(expression))
    numbers = [float(place.group()) for place in places]
    value = worked(expression, places, numbers)
    slack = 0.0
    for index, place in enumerate(places):
        moved = list(numbers)
        moved[index] += half_of_last_place(place.group())
        slack += abs(worked(expression, places, moved) - value)
    return Redone(value, slack)


def half_of_last_place(number: str) -> float:
    """How far a printed number may be from the true one; a whole one in a formula is exact."""
    decimals = len(number.partition(".")[2])
    return 0.5 * 10.0**-decimals if decimals else 0.0


def worked(expression: str, places: list[re.Match[str]], numbers: list[float]) -> complex:
    """The expression with these numbers in the places of its own."""
    text, end = "", 0
    for place, number in zip(places, numbers, strict=True):
        text += expression[end : place.start()] + repr(number)
        end = place.end()
    text += expression[end:]
    text = re.sub(r"\barcsin\b", "asin", text).replace("^", "**").replace(" of ", " * ").replace(" x ", " * ")
    names = {
        "sin": lambda deg: math.sin(math.radians(deg)),
        "cos": lambda deg: math.cos(math.radians(deg)),
        "asin": lambda sine: math.degrees(math.asin(sine)),
        "sqrt": math.sqrt,
        "blows": lambda deg, speed: cmath.rect(speed, math.radians(deg)),
    }
    return complex(eval(text, {"__builtins__": {}}, names))


def printed_result(result: str) -> Redone:
    """The first figure of a line's result, and how far its own rounding may have moved it."""
    clock = CLOCK.match(result)
    if clock:
        return Redone(60 * int(clock.group(1)) + int(clock.group(2)), 0.0)
    if result.startswith("calm"):
        return Redone(0.0, 0.05)
    wind = WIND.match(result)
    if wind:
        deg, speed = (float(one) for one in wind.groups())
        return Redone(cmath.rect(speed, math.radians(deg)), 0.05 + speed * math.radians(0.05))
    number = re.match(r"([+-]?)(\d+(?:\.\d+)?)", result)
    assert number is not None, result
    text = number.group(2)
    decimals = len(text.partition(".")[2])
    return Redone(float(number.group(1) + text), 0.5 * 10.0**-decimals)


def agrees(values: str, result: str) -> bool:
    """Whether a line's result is what its values come to, within their printed rounding."""
    by_hand, shown = redo(values), printed_result(result)
    off = abs(by_hand.value - shown.value)
    if by_hand.value.imag == 0.0 and shown.value.imag == 0.0:
        whole_turn = 1440.0 if CLOCK.match(result) else 360.0
        off = min(off, abs(math.remainder(by_hand.value.real - shown.value.real, whole_turn)))
    return off <= by_hand.slack + shown.slack + 1e-6
