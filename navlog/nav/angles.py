"""Angles on the circle, and positions as pilots write them.

Angles are degrees, clockwise from the named north; latitude north and longitude east are positive.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.quantities import is_digits

_FORMS = "write N46 12.30 W039 20.70, 46.2050 -39.3450 or 4612N03921W"
_SIGNED = "latitude runs from -90 to 90, longitude from -180 to 180; south and west are negative"
_DIGITS = "0123456789"
_DEGREE, _MINUTE, _SECOND = "°", "'", '"'
# Typed text often carries the typographic prime and double prime.
_PRIMES = str.maketrans({"\N{PRIME}": _MINUTE, "\N{DOUBLE PRIME}": _SECOND})


def normalize_deg(angle_deg: float) -> float:
    """The same direction in [0, 360), for any finite angle."""
    turned = angle_deg % 360.0
    # A tiny negative angle rounds up to exactly 360.
    return 0.0 if turned == 360.0 else turned


def reciprocal_deg(angle_deg: float) -> float:
    """The opposite direction in [0, 360)."""
    return normalize_deg(normalize_deg(angle_deg) + 180.0)


def difference_deg(to_deg: float, from_deg: float) -> float:
    """The turn from `from_deg` to `to_deg` in (-180, 180], positive clockwise (to the right)."""
    # Both are brought into one turn first: the remainder of the difference of two large angles has lost their decimals.
    turn = math.remainder(to_deg % 360.0 - from_deg % 360.0, 360.0)
    return 180.0 if turn == -180.0 else turn


def sin_cos_deg(angle_deg: float) -> tuple[float, float]:
    """Sine and cosine of an angle in degrees, exact at every multiple of 90."""
    # By quarters: sin(radians(180)) is 1.2e-16, and a wind straight on the nose must leave no crosswind.
    reduced_deg = math.remainder(angle_deg, 360.0)
    quarter = round(reduced_deg / 90.0)
    rest = math.radians(reduced_deg - 90.0 * quarter)
    sine, cosine = math.sin(rest), math.cos(rest)
    if quarter % 2:
        sine, cosine = cosine, -sine
    return (-sine, -cosine) if quarter % 4 > 1 else (sine, cosine)


def read_position(text: str) -> Position:
    """The position that `text` says, in any of the written forms.

    Degrees and minutes `N46 12.30 W039 20.70`, with seconds `N46 12 18 W039 20 42`, either with the marks
    ° ' "; decimal degrees `46.2050 -39.3450`, both with a decimal point; and the forms of ICAO Doc 4444,
    Appendix 2, item 15: `4612N03921W` and `46N039W`. Raises a `bad-position` problem for anything else.
    """
    plain = text.translate(_PRIMES).strip()
    if any(character.isdigit() and character not in _DIGITS for character in plain):
        raise _bad(text, "has digits other than 0 to 9", "type the digits 0 to 9")
    if plain[:1] in ("N", "S"):
        return _lettered(plain, text)
    words = plain.split()
    if len(words) == 2 and _is_number(words[0]) and _is_number(words[1]):
        return _decimal(words[0], words[1], text)
    if len(words) == 1 and _looks_icao(plain):
        return _icao(plain, text)
    if plain[:1] in ("E", "W"):
        raise _bad(text, "has its longitude first", "latitude comes first: N46 12.30 W039 20.70")
    if any(letter in plain for letter in "NSns"):
        raise _bad(text, "is not a position", f"the capital N, S, E or W stands before its degrees; {_FORMS}")
    if words and all(character in _DIGITS + "." for character in words[0]):
        raise _bad(text, "has no N or S, E or W", _FORMS)
    raise _bad(text, "is not a position", _FORMS)


def position_text(position: Position) -> str:
    """Degrees and minutes to a hundredth, `N46 12.30 W039 20.70`, as `read_position` reads them back."""
    latitude, longitude = (
        f"{letter}{hundredths // 6000:0{width}d} {hundredths % 6000 // 100:02d}.{hundredths % 100:02d}"
        for letter, width, hundredths in _both_axes(position, parts_of_a_degree=6000)
    )
    return f"{latitude} {longitude}"


def icao_position_text(position: Position) -> str:
    """Whole degrees and minutes as `4612N03921W` (ICAO Doc 4444, Appendix 2, item 15)."""
    return "".join(
        f"{minutes // 60:0{width}d}{minutes % 60:02d}{letter}"
        for letter, width, minutes in _both_axes(position, parts_of_a_degree=60)
    )


def position_word_count(words: Sequence[str]) -> int:
    """How many of the first `words` are written as one position, right or wrong; 0 when none begins there.

    Counts by shape alone, so that `read_position` can say what is wrong with `N46 72.30 W039 20.70`.
    `N46` counts only when more of a position follows, as it can also be an airport's name.
    """
    if not words:
        return 0
    first = words[0]
    if _looks_icao(first):
        return 1
    if len(words) > 1 and _is_number(first) and _is_number(words[1]) and "." in first + words[1]:
        return 2
    if not _begins_axis(first, "NS"):
        return 0
    if len(first) > 4 and ("E" in first or "W" in first):
        return 1
    numbers = _count_numbers(words[1:], first)
    count = 1 + numbers
    if count < len(words) and _begins_axis(words[count], "EW"):
        return count + 1 + min(numbers, _count_numbers(words[count + 1 :], words[count]))
    if numbers or _DEGREE in first:
        return count + _count_numbers(words[count:], "")
    return 0


def _both_axes(position: Position, *, parts_of_a_degree: int) -> tuple[tuple[str, int, int], ...]:
    """Letter, width of the degrees, and the angle rounded half up to whole parts, for both axes."""
    axes = []
    for angle_deg, letters, width in ((position.latitude_deg, "NS", 2), (position.longitude_deg, "EW", 3)):
        parts = math.floor(abs(angle_deg) * parts_of_a_degree + 0.5)
        # What rounds to nothing south or west is written N or E: the equator and Greenwich have one spelling each.
        axes.append((letters[angle_deg < 0.0 and parts > 0], width, parts))
    return tuple(axes)


def _lettered(plain: str, text: str) -> Position:
    """Degrees, minutes and perhaps seconds behind their letters."""
    middle = next((i for i, character in enumerate(plain) if character in "EW"), None)
    if middle is None:
        raise _bad(text, "has no E or W before its longitude", _FORMS)
    latitude = _axis(plain[:middle], text, name="latitude", width=2, limit=90)
    longitude = _axis(plain[middle:], text, name="longitude", width=3, limit=180)
    return Position(latitude, longitude)


def _axis(part: str, text: str, *, name: str, width: int, limit: int) -> float:
    """One half of a lettered position in degrees, south and west negative."""
    numbers: list[str] = []
    rest = part[1:].rstrip()
    for mark in (_DEGREE, _MINUTE, _SECOND):
        rest = rest.lstrip(" ")
        length = len(rest) - len(rest.lstrip(_DIGITS + "."))
        if not length:
            break
        numbers.append(rest[:length])
        rest = rest[length:].removeprefix(mark)
    if rest or not numbers:
        raise _bad(text, f"has a {name} that cannot be read", _FORMS)
    if len(numbers) == 1:
        hint = "decimal degrees carry a sign and no letter" if "." in numbers[0] else "write the minutes too"
        raise _bad(text, f"has a {name} without minutes", f"{hint}; {_FORMS}")
    if not all(is_digits(number) for number in numbers[:-1]) or not _is_number(numbers[-1]):
        raise _bad(text, f"has a {name} that cannot be read", "only the last number may have decimals")
    if len(numbers[0]) > width or any(len(number.partition(".")[0]) > 2 for number in numbers[1:]):
        raise _bad(text, f"has too many digits in its {name}", _FORMS)
    if any(float(number) >= 60.0 for number in numbers[1:]):
        what = "minutes" if float(numbers[1]) >= 60.0 else "seconds"
        raise _bad(text, f"has {what} of 60 or more in its {name}", f"{what} run from 0 to below 60")
    value = sum(float(number) / 60.0**power for power, number in enumerate(numbers))
    return _within(-value if part[0] in "SW" else value, text, name=name, limit=limit)


def _decimal(latitude: str, longitude: str, text: str) -> Position:
    if "." not in latitude or "." not in longitude:
        raise _bad(text, "lacks a decimal point", "decimal degrees need one in both numbers: 46.0 -39.0")
    return Position(
        _within(float(latitude), text, name="latitude", limit=90, hint=_SIGNED),
        _within(float(longitude), text, name="longitude", limit=180, hint=_SIGNED),
    )


def _icao(plain: str, text: str) -> Position:
    middle = max(plain.find("N"), plain.find("S"))
    latitude, longitude = plain[:middle], plain[middle + 1 : -1]
    if (len(latitude), len(longitude)) not in ((2, 3), (4, 5)):
        hint = "write two and three digits (46N039W) or four and five (4612N03921W)"
        raise _bad(text, "has the wrong number of digits", hint)
    values = []
    for digits, width, name, limit in ((latitude, 2, "latitude", 90), (longitude, 3, "longitude", 180)):
        minutes = int(digits[width:] or "0")
        if minutes >= 60:
            raise _bad(text, f"has minutes of 60 or more in its {name}", "minutes run from 00 to 59")
        values.append(_within(int(digits[:width]) + minutes / 60.0, text, name=name, limit=limit))
    return Position(
        -values[0] if plain[middle] == "S" else values[0],
        -values[1] if plain[-1] == "W" else values[1],
    )


def _within(value: float, text: str, *, name: str, limit: int, hint: str | None = None) -> float:
    if abs(value) > limit:
        raise _bad(text, f"has a {name} over {limit} degrees", hint or f"{name} runs from 0 to {limit} degrees")
    return value


def _is_number(text: str) -> bool:
    """Digits with at most one point between them, and perhaps a sign."""
    whole, point, decimals = (text[1:] if text[:1] in ("+", "-") else text).partition(".")
    return is_digits(whole) and (not point or is_digits(decimals))


def _looks_icao(word: str) -> bool:
    """Digits, N or S, digits, E or W; longer than the four characters of an airport's name."""
    latitude, letter, longitude = word.partition("N" if "N" in word else "S")
    if not letter or longitude[-1:] not in ("E", "W"):
        return False
    return len(word) > 4 and is_digits(latitude) and is_digits(longitude[:-1])


def _begins_axis(word: str, letters: str) -> bool:
    return word[:1] in tuple(letters) and word[1:2].isdigit()


def _count_numbers(words: Sequence[str], degrees: str) -> int:
    """How many of the first words are the minutes and seconds that `degrees` still lacks."""
    missing = 0 if "." in degrees or _SECOND in degrees else 1 if _MINUTE in degrees else 2
    for count, word in enumerate(words[:missing]):
        number = word.rstrip(_MINUTE + _SECOND)
        if not _is_number(number) or len(number.partition(".")[0]) > 3:
            return count
        if "." in number:
            return count + 1
    return min(missing, len(words))


def _bad(text: str, what: str, hint: str) -> NavlogError:
    return problem_error("bad-position", f"position `{text}` {what}", hint=hint)
