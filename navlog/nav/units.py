"""Units that pilots write, and readers for values with their unit glued on.

Every factor is exact by definition: the nautical mile is 1852 m (First International Extraordinary
Hydrographic Conference, Monaco 1929; SI Brochure); the foot is 0.3048 m and the pound 0.45359237 kg
(international yard and pound agreement, 1959), so the statute mile of 5,280 ft is 1609.344 m; the US gallon
is 231 cubic inches, so 3.785411784 L (NIST Handbook 44, appendix C). The conventional inch of mercury is
25.4 times the conventional millimetre, 13.5951 x 9.80665 Pa (NIST SP 811, appendix B).
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from msgspec import Struct

from navlog.nav.problems import NavlogError, problem_error

NAUTICAL_MILE_M = 1852.0
FOOT_M = 0.3048
STATUTE_MILE_M = 1609.344
FEET_PER_NM = NAUTICAL_MILE_M / FOOT_M
US_GALLON_L = 3.785411784
POUND_KG = 0.45359237
INCH_OF_MERCURY_HPA = 25.4 * 13.5951 * 9.80665 / 100.0

_DIGITS = "0123456789"

DIGITS_AT_MOST = 200
"""Longer numbers are read as doubles: whole numbers of any length are slow, and beyond thousands refused."""


class Amount(Struct, frozen=True):
    """A quantity of fuel (`gal`, `L`, `lb`, `kg`) or a burn (`gal/h`, `L/h`, `lb/h`, `kg/h`), as written."""

    value: float
    unit: str


class _Quantity(Struct, frozen=True):
    """What may be written for one quantity: each unit's size, the unit meant without one, and the range.

    A size is a ratio of whole numbers, so that what is written in one unit is read as the same in another.
    `low` and `high` are in the quantity's own unit, the one of size 1, and only keep out nonsense.
    """

    name: str
    sizes: Mapping[str, tuple[int, int]]
    example: str
    default: str | None = None
    high: float = 1e6
    low: float = 0.0
    signed: bool = False


_DISTANCE_NM = _Quantity(
    "distance",
    {
        "nm": (1, 1),
        "km": (1_000, 1_852),
        "sm": (1_609_344, 1_852_000),
        "m": (1, 1_852),
    },
    example="29.5nm",
    default="nm",
    high=10_800.0,
)
_ALTITUDE_FT = _Quantity(
    "altitude", {"ft": (1, 1), "m": (10_000, 3_048)}, example="5500ft", default="ft", high=60_000.0
)
_ELEVATION_FT = _Quantity(
    "elevation",
    _ALTITUDE_FT.sizes,
    example="820ft",
    default="ft",
    high=30_000.0,
    low=-2_000.0,
    signed=True,
)
_SPEED_KT = _Quantity(
    "speed",
    {
        "kt": (1, 1),
        "mph": (1_609_344, 1_852_000),
        "km/h": (1_000, 1_852),
        "m/s": (3_600, 1_852),
    },
    example="110kt",
    default="kt",
    high=1_000.0,
)
_DURATION_MIN = _Quantity(
    "time", {"min": (1, 1), "h": (60, 1)}, example="45min or 1h30min", default="min", high=6_000.0
)
_TEMPERATURE_C = _Quantity(
    "temperature", {"C": (1, 1), "F": (5, 9)}, example="-5C or 23F", high=60.0, low=-100.0, signed=True
)
_PRESSURE_HPA = _Quantity(
    "altimeter setting",
    {"hPa": (1, 1), "inHg": (254 * 135_951 * 980_665, 10**12)},
    example="1013hPa or 29.92inHg",
    default="hPa",
    high=1_100.0,
    low=800.0,
)
_FREQUENCY_MHZ = _Quantity("frequency", {"MHz": (1, 1)}, example="113.70", default="MHz", high=1_000.0)
_FREQUENCY_KHZ = _Quantity("frequency", {"kHz": (1, 1)}, example="385", default="kHz", high=3_000.0)
_PERCENT = _Quantity("percentage", {"%": (1, 1)}, example="5%", high=1_000.0)
_ANGLE_DEG = _Quantity("angle", {"deg": (1, 1)}, example="10deg", default="deg", high=360.0)
_ELAPSED_MIN = _Quantity(
    "time", {"min": (1, 1), "s": (1, 60), "h": (60, 1)}, example="75s or 2min30s", default="min", high=6_000.0
)
_RATE_FT_PER_MIN = _Quantity(
    "rate", {"ft/min": (1, 1), "m/s": (600_000, 3_048)}, example="500ft/min", default="ft/min", high=20_000.0
)
_GRADIENT_FT_PER_NM = _Quantity(
    "gradient", {"ft/nm": (1, 1), "%": (185_200, 3_048)}, example="350ft/nm", default="ft/nm", high=20_000.0
)
_MACH = _Quantity("Mach number", {"": (1, 1)}, example="0.42", high=1.0)
_FUEL = _Quantity(
    "fuel quantity", {"gal": (1, 1), "L": (1, 1), "lb": (1, 1), "kg": (1, 1)}, example="38gal", default="gal"
)
_BURN = _Quantity(
    "fuel burn",
    {"gal/h": (1, 1), "gph": (1, 1), "L/h": (1, 1), "lb/h": (1, 1), "kg/h": (1, 1)},
    example="8.5gph",
    default="gal/h",
)
_FUEL_VOLUME_L = {"gal": US_GALLON_L, "L": 1.0}
_FUEL_MASS_KG = {"lb": POUND_KG, "kg": 1.0}


def read_distance_nm(text: str) -> float:
    """A distance in NM from `29.5`, `31nm`, `12km`, `10sm` or `800m`."""
    return _read(text, _DISTANCE_NM)


def read_altitude_ft(text: str) -> float:
    """An altitude or height in feet from `4500`, `5500ft` or `1200m`; no sign and no flight level."""
    if text[:1] in ("F", "A") and text.lstrip("FLA")[:1].isdigit():
        raise _bad_value(text, _ALTITUDE_FT, "write feet or metres here: 5500ft")
    return _read(text, _ALTITUDE_FT)


def read_elevation_ft(text: str) -> float:
    """An elevation in feet from `820`, `-12ft` or `250m`; a sign is allowed."""
    return _read(text, _ELEVATION_FT)


def read_level(text: str) -> tuple[float, bool]:
    """A cruising level: feet, and whether they are pressure altitude (a flight level).

    `4500`, `5500ft`, `1200m` are altitudes; so is `A055`, hundreds of feet as in ICAO Doc 4444, Appendix 2,
    item 15. `FL085` and item 15's `F085` are flight levels.
    """
    for prefix, flight_level in (("FL", True), ("F", True), ("A", False)):
        if text.startswith(prefix):
            digits = text.removeprefix(prefix)
            if len(digits) != 3 or not _is_digits(digits):
                raise problem_error(
                    "bad-value",
                    f"`{text}` is not a level",
                    hint=f"`{prefix}` takes three digits, hundreds of feet: {prefix}085",
                )
            return _within(100.0 * int(digits), text, _ALTITUDE_FT), flight_level
    return _read(text, _ALTITUDE_FT), False


def both_sides(text: str) -> tuple[str, str]:
    """The two values of `4000/5000`, each with its unit: a lone unit at the end serves both sides.

    A value without `/` is both sides. Raises a `bad-unit` problem where only the first side has a unit.
    """
    first, slash, second = text.partition("/")
    if not slash:
        return text, text
    if "/" in second:
        raise problem_error("bad-value", f"`{text}` has more than two sides", hint="one for each way: 4000/3000")
    first_unit, second_unit = first.lstrip(_DIGITS + "+-."), second.lstrip(_DIGITS + "+-.")
    if first_unit and not second_unit:
        raise problem_error(
            "bad-unit",
            f"`{text}` has a unit on its first side only",
            hint=f"write {first}/{second}{first_unit}, or the unit at the end for both",
        )
    return first if first_unit else first + second_unit, second


def read_speed_kt(text: str) -> float:
    """A speed in knots from `110`, `110kt`, `115mph`, `200km/h` or `8m/s`."""
    return _read(text, _SPEED_KT)


def read_duration_min(text: str) -> float:
    """A time in minutes from `45`, `45min`, `1h`, `1.5h` or `1h30min`."""
    if ":" in text:
        raise _bad_value(text, _DURATION_MIN, "write hours and minutes as 1h30min")
    hours, letter, minutes = text.partition("h")
    if not (letter and minutes):
        return _read(text, _DURATION_MIN)
    if not (_is_digits(hours) and minutes.endswith("min") and _is_digits(minutes.removesuffix("min"))):
        raise _bad_value(text, _DURATION_MIN, "write 45min, 1h or 1h30min")
    if int(minutes.removesuffix("min")[:4]) >= 60:
        raise _bad_value(text, _DURATION_MIN, "minutes after hours run from 0 to 59")
    return _read(f"{hours}h", _DURATION_MIN) + _read(minutes, _DURATION_MIN)


def read_elapsed_min(text: str) -> float:
    """A time by the stopwatch in minutes, from `75s`, `2min30s` or as `read_duration_min` reads it."""
    minutes, letters, seconds = text.partition("min")
    if not seconds:
        return _read(text, _ELAPSED_MIN) if text.endswith("s") else read_duration_min(text)
    if not (letters and _is_digits(minutes) and seconds[-1:] == "s" and _is_number(seconds[:-1])):
        raise _bad_value(text, _ELAPSED_MIN, "write 75s, 2min30s or 2.5min")
    return _read(minutes, _ELAPSED_MIN) + _read(seconds, _ELAPSED_MIN)


def read_stopwatch_min(text: str) -> float:
    """A time by the stopwatch in minutes as `read_elapsed_min` reads it, its unit required: 75 may be seconds."""
    if _is_number(text.strip()):
        raise _bad_value(text, _ELAPSED_MIN, f"say the unit: {text.strip()}s or {text.strip()}min")
    return read_elapsed_min(text)


def read_size_deg(text: str) -> float:
    """The size of an angle, such as a change of bearing, from `10` or `10deg`; not a direction."""
    return _read(text, _ANGLE_DEG)


def read_rate_ft_min(text: str) -> float:
    """A rate of climb or descent in feet a minute from `500`, `500ft/min` or `2.5m/s`."""
    return _read(text, _RATE_FT_PER_MIN)


def read_gradient_ft_per_nm(text: str) -> float:
    """A gradient in feet a nautical mile from `350`, `350ft/nm` or `5.2%`."""
    return _read(text, _GRADIENT_FT_PER_NM)


def read_mach(text: str) -> float:
    """A Mach number from `0.42`."""
    return _read(text, _MACH)


def read_temperature_c(text: str) -> float:
    """A temperature in degrees Celsius from `+4C`, `-5C` or `70F`; the letter is required."""
    number, unit = _split(text, _TEMPERATURE_C)
    known = _known_unit(unit, text, _TEMPERATURE_C)
    zero = 32 if known == "F" else 0
    return _within(_exact(number, _TEMPERATURE_C.sizes[known], zero), text, _TEMPERATURE_C)


def read_pressure_hpa(text: str) -> float:
    """An altimeter setting in hPa from `1013`, `1013hPa` or `29.92inHg`."""
    number, unit = _split(text, _PRESSURE_HPA)
    if not unit and float(number) < 40.0:
        raise problem_error(
            "bad-unit",
            f"altimeter setting `{text}` has no unit",
            hint=f"inches of mercury carry it: {text}inHg",
        )
    if not unit and 2_500.0 <= float(number) <= 3_300.0:
        hint = f"inches of mercury carry their point and unit: {float(number) / 100.0:.2f}inHg"
        raise problem_error("bad-value", f"altimeter setting `{text}` is out of range", hint=hint)
    return _read(text, _PRESSURE_HPA)


def read_frequency(text: str) -> float:
    """A frequency in MHz from `113.70` or `113.70MHz`; whether a station may use it is not looked at."""
    return _read(text, _FREQUENCY_MHZ)


def read_frequency_khz(text: str) -> float:
    """The frequency of an NDB in kHz from `385` or `385kHz`."""
    return _read(text, _FREQUENCY_KHZ)


def read_percent(text: str) -> float:
    """The number of `5%`; the sign is required."""
    return _read(text, _PERCENT)


def read_fuel(text: str) -> Amount:
    """A quantity of fuel from `38` (US gallons), `38gal`, `140L`, `230lb` or `100kg`."""
    return _read_amount(text, _FUEL)


def read_burn(text: str) -> Amount:
    """A fuel burn from `8.5` (US gallons an hour), `8.5gal/h`, `8.5gph`, `32L/h`, `50lb/h` or `23kg/h`."""
    burn = _read_amount(text, _BURN)
    if not burn.value:
        raise problem_error("bad-value", f"fuel burn `{text}` is zero", hint="leave it out where it is not known")
    return burn


def converted(amount: Amount, unit: str) -> Amount | None:
    """The same fuel or burn in another unit; None between volume and mass, which takes a density."""
    name, _, per = amount.unit.partition("/")
    new_name, _, new_per = unit.partition("/")
    for sizes in (_FUEL_VOLUME_L, _FUEL_MASS_KG):
        if name in sizes and new_name in sizes and per == new_per:
            return Amount(amount.value * (sizes[name] / sizes[new_name]), unit)
    return None


def read_angle_deg(text: str) -> float:
    """A radial, course or direction: three digits, perhaps decimals, from 000 to 360; 000 reads as 360."""
    whole, point, decimals = text.partition(".")
    if len(whole) != 3 or not _is_digits(whole) or (point and not _is_digits(decimals)):
        hint = "write three digits, such as 047 or 047.5"
        if _is_digits(text) and len(text) < 3:
            hint = f"write three digits: {text.zfill(3)}"
        raise problem_error("bad-angle", f"`{text}` is not an angle of three digits", hint=hint)
    angle_deg = float(text)
    if angle_deg > 360.0:
        raise problem_error("bad-angle", f"`{text}` is over 360 degrees", hint="angles run from 000 to 360")
    return angle_deg or 360.0


def read_declination_deg(text: str) -> float:
    """A declination or variation from `15W` or `7.5E`, east positive; the letter is required."""
    number, letter = text[:-1], text[-1:]
    if letter in ("E", "W") and _is_number(number):
        if float(number) > 180.0:
            hint = "it lies from 0 to 180 degrees, east or west"
            raise problem_error("bad-value", f"declination or variation `{text}` is out of range", hint=hint)
        return -float(number) or 0.0 if letter == "W" else float(number)
    hint = "write the number and its letter: 15W or 7E"
    sign, digits = ("W" if text[:1] == "-" else "E"), text.lstrip("+-")
    if _is_number(digits):
        hint = f"a sign means different things in different places; write {digits}{sign}"
        if float(digits) > 180.0:
            hint = "it lies from 0 to 180 degrees, with its letter: 15W or 7E"
        elif digits == text:
            hint = f"which way is it: {text}E or {text}W"
    raise problem_error("bad-value", f"`{text}` is not a declination or variation", hint=hint)


def _read(text: str, quantity: _Quantity) -> float:
    """The value in the quantity's own unit, after its range is checked."""
    number, unit = _split(text, quantity)
    return _within(_exact(number, quantity.sizes[_known_unit(unit, text, quantity)]), text, quantity)


def _exact(number: str, size: tuple[int, int], zero: int = 0) -> float:
    """A number's value times a unit's size, counted from `zero` of that unit: the double nearest to the exact value."""
    if len(number) > DIGITS_AT_MOST:
        return (float(number) - zero) * size[0] / size[1]
    whole, _, decimals = number.partition(".")
    scale: int = 10 ** len(decimals)
    # The quotient of two whole numbers is rounded once.
    return (int(whole + decimals) - zero * scale) * size[0] / (scale * size[1])


def _within(value: float, text: str, quantity: _Quantity) -> float:
    if not (isfinite(value) and quantity.low <= value <= quantity.high):
        own = next(iter(quantity.sizes))
        raise problem_error(
            "bad-value",
            f"{quantity.name} `{text}` is out of range",
            hint=f"it must lie from {quantity.low:g} to {quantity.high:g} {own}",
        )
    return value


def _read_amount(text: str, quantity: _Quantity) -> Amount:
    """The value in the unit in which it is written."""
    value = _read(text, quantity)
    unit = _known_unit(_split(text, quantity)[1], text, quantity)
    return Amount(value, "gal/h" if unit == "gph" else unit)


def _split(text: str, quantity: _Quantity) -> tuple[str, str]:
    """The number, as written, at the start of `text` and the rest, which should be a unit."""
    length = len(text) - len(text.lstrip("+-"))
    while length < len(text) and text[length] in _DIGITS + ".":
        length += 1
    number, rest = text[:length], text[length:]
    if any(character.isdigit() and character not in _DIGITS for character in text):
        raise _bad_value(text, quantity, "type the digits 0 to 9")
    if rest[:1] in ("e", "E") and rest[1:2] in tuple(_DIGITS + "+-"):
        raise _bad_value(text, quantity, "write the number out, without an exponent")
    if rest[:1] in ("_", ",") and rest[1:2].isdigit():
        raise _bad_value(text, quantity, f"write it without `{rest[0]}`; a decimal point is `.`")
    if number[:1] in ("+", "-") and not quantity.signed:
        raise _bad_value(text, quantity, f"no sign can stand here; write {quantity.example}")
    if not _is_number(number[1:] if number[:1] in ("+", "-") else number):
        raise _bad_value(text, quantity, f"write {quantity.example}")
    return number, rest


def _known_unit(unit: str, text: str, quantity: _Quantity) -> str:
    if unit in quantity.sizes:
        return unit
    if not unit and quantity.default is not None:
        return quantity.default
    units = ", ".join(f"`{known}`" for known in quantity.sizes)
    hint = f"write one of {units} right after the number"
    if unit == "m" and quantity is _DURATION_MIN:
        hint = f"`m` is metres; minutes are `min`: {text}in"
    elif unit == "min" and "m" in quantity.sizes:
        hint = f"`min` is minutes; metres are `m`: {text.removesuffix('in')}"
    if not unit:
        raise problem_error("bad-unit", f"{quantity.name} `{text}` has no unit", hint=hint)
    raise problem_error("bad-unit", f"{quantity.name} `{text}` has an unknown unit", hint=hint)


def _is_digits(text: str) -> bool:
    return bool(text) and not text.strip(_DIGITS)


def _is_number(text: str) -> bool:
    """Digits, perhaps with one point between them; no sign."""
    whole, point, decimals = text.partition(".")
    return _is_digits(whole) and (not point or _is_digits(decimals))


def _bad_value(text: str, quantity: _Quantity, hint: str) -> NavlogError:
    article = "an" if quantity.name[0] in "aeiou" else "a"
    return problem_error("bad-value", f"`{text}` is not {article} {quantity.name}", hint=hint)
