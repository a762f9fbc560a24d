"""Units that pilots write, and readers for values with their unit glued on.

Every factor is exact by definition: the nautical mile is 1852 m (First International Extraordinary
Hydrographic Conference, Monaco 1929; SI Brochure); the foot is 0.3048 m and the pound 0.45359237 kg
(international yard and pound agreement, 1959), so the statute mile of 5,280 ft is 1609.344 m; the US gallon
is 231 cubic inches, so 3.785411784 L (NIST Handbook 44, appendix C); the imperial gallon is 4.54609 L (Weights and
Measures Act 1985, schedule 1). The conventional inch of mercury is
25.4 times the conventional millimetre, 13.5951 x 9.80665 Pa (NIST SP 811, appendix B).
"""

from __future__ import annotations

from msgspec import Struct

from navlog.nav.figures import half_up
from navlog.nav.problems import problem_error
from navlog.nav.quantities import (
    DIGITS,
    Quantity,
    bad_value,
    exact,
    is_digits,
    is_number,
    known_unit,
    number_and_unit,
    read_quantity,
    within,
)

NAUTICAL_MILE_M = 1852.0
FOOT_M = 0.3048
STATUTE_MILE_M = 1609.344
FEET_PER_NM = NAUTICAL_MILE_M / FOOT_M
US_GALLON_L = 3.785411784
_IMPERIAL_GALLON_L = 4.54609
POUND_KG = 0.45359237
DAY_MIN = 1440.0


class Amount(Struct, frozen=True):
    """A quantity of fuel (`gal`, `impgal`, `L`, `lb`, `kg`) or a burn (`gal/h` and so on), as written."""

    value: float
    unit: str


_DISTANCE_NM = Quantity(
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
_ALTITUDE_FT = Quantity(
    "altitude", {"ft": (1, 1), "m": (10_000, 3_048)}, example="5500ft", default="ft", high=60_000.0, height=True
)
_ELEVATION_FT = Quantity(
    "elevation",
    _ALTITUDE_FT.sizes,
    example="820ft",
    default="ft",
    high=30_000.0,
    low=-2_000.0,
    signed=True,
    height=True,
)
_SPEED_KT = Quantity(
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
_DURATION_MIN = Quantity("time", {"min": (1, 1), "h": (60, 1)}, example="45min or 1h30min", default="min", high=6_000.0)
_TEMPERATURE_C = Quantity(
    "temperature", {"C": (1, 1), "F": (5, 9)}, example="-5C or 23F", high=60.0, low=-100.0, signed=True
)
_PRESSURE_HPA = Quantity(
    "altimeter setting",
    {"hPa": (1, 1), "inHg": (254 * 135_951 * 980_665, 10**12)},
    example="1013hPa or 29.92inHg",
    default="hPa",
    high=1_100.0,
    low=800.0,
)
_FREQUENCY_MHZ = Quantity("frequency", {"MHz": (1, 1)}, example="113.70", default="MHz", high=1_000.0)
_FREQUENCY_KHZ = Quantity("frequency", {"kHz": (1, 1)}, example="385", default="kHz", high=3_000.0)
_PERCENT = Quantity("percentage", {"%": (1, 1)}, example="5%", high=1_000.0)
_ANGLE_DEG = Quantity("angle", {"deg": (1, 1)}, example="10deg", default="deg", high=360.0)
_ELAPSED_MIN = Quantity(
    "time", {"min": (1, 1), "s": (1, 60), "h": (60, 1)}, example="75s or 2min30s", default="min", high=6_000.0
)
_RATE_FT_PER_MIN = Quantity(
    "rate", {"ft/min": (1, 1), "m/s": (600_000, 3_048)}, example="500ft/min", default="ft/min", high=20_000.0
)
_GRADIENT_FT_PER_NM = Quantity(
    "gradient", {"ft/nm": (1, 1), "%": (185_200, 3_048)}, example="350ft/nm", default="ft/nm", high=20_000.0
)
_MACH = Quantity("Mach number", {"": (1, 1)}, example="0.42", high=1.0)
_FUEL = Quantity(
    "fuel quantity",
    {"gal": (1, 1), "impgal": (1, 1), "L": (1, 1), "lb": (1, 1), "kg": (1, 1)},
    example="38gal",
    default="gal",
)
_BURN = Quantity(
    "fuel burn",
    {"gal/h": (1, 1), "gph": (1, 1), "impgal/h": (1, 1), "L/h": (1, 1), "lb/h": (1, 1), "kg/h": (1, 1)},
    example="8.5gph",
    default="gal/h",
)
_FUEL_VOLUME_L = {"gal": US_GALLON_L, "impgal": _IMPERIAL_GALLON_L, "L": 1.0}
_FUEL_MASS_KG = {"lb": POUND_KG, "kg": 1.0}


def read_distance_nm(text: str) -> float:
    """A distance in NM from `29.5`, `31nm`, `12km`, `10sm` or `800m`."""
    return read_quantity(text, _DISTANCE_NM)


def read_altitude_ft(text: str) -> float:
    """An altitude or height in feet from `4500`, `5500ft`, `1200m` or `914.4m`; no sign, level or part of a foot."""
    if text[:1].upper() in ("F", "A") and text.upper().lstrip("FLA")[:1].isdigit():
        raise bad_value(text, _ALTITUDE_FT, "write feet or metres here: 5500ft")
    return read_quantity(text, _ALTITUDE_FT)


def read_elevation_ft(text: str) -> float:
    """An elevation in feet from `820`, `-12ft` or `250m`; a sign is allowed."""
    return read_quantity(text, _ELEVATION_FT)


def read_level(text: str) -> tuple[float, bool]:
    """A cruising level: feet, and whether they are pressure altitude (a flight level).

    `4500`, `5500ft`, `1200m` are altitudes; so is `A055`, hundreds of feet as in ICAO Doc 4444, Appendix 2,
    item 15. `FL085` and item 15's `F085` are flight levels, in capitals or not.
    """
    for prefix, flight_level in (("FL", True), ("F", True), ("A", False)):
        if text.upper().startswith(prefix):
            digits = text[len(prefix) :]
            if len(digits) != 3 or not is_digits(digits):
                raise problem_error(
                    "bad-value",
                    f"`{text}` is not a level",
                    hint=f"`{prefix}` takes three digits, hundreds of feet: {prefix}085",
                )
            return within(100.0 * int(digits), text, _ALTITUDE_FT), flight_level
    return read_quantity(text, _ALTITUDE_FT), False


def both_sides(text: str) -> tuple[str, str]:
    """The two values of `4000/5000`, each with its unit: a lone unit at the end serves both sides.

    A value without `/` is both sides. Raises a `bad-unit` problem where only the first side has a unit.
    """
    first, slash, second = text.partition("/")
    if not slash:
        return text, text
    if "/" in second:
        raise problem_error("bad-value", f"`{text}` has more than two sides", hint="one for each way: 4000/3000")
    first_unit, second_unit = first.lstrip(DIGITS + "+-."), second.lstrip(DIGITS + "+-.")
    if first_unit and not second_unit:
        raise problem_error(
            "bad-unit",
            f"`{text}` has a unit on its first side only",
            hint=f"write {first}/{second}{first_unit}, or the unit at the end for both",
        )
    return first if first_unit else first + second_unit, second


def read_speed_kt(text: str) -> float:
    """A speed in knots from `110`, `110kt`, `115mph`, `200km/h` or `8m/s`."""
    return read_quantity(text, _SPEED_KT)


def read_duration_min(text: str) -> float:
    """A time in minutes from `45`, `45min`, `1h`, `1.5h` or `1h30min`."""
    if ":" in text:
        raise bad_value(text, _DURATION_MIN, "write hours and minutes as 1h30min")
    hours, letter, minutes = text.lower().partition("h")
    if not (letter and minutes.lstrip("rs")):
        return read_quantity(text, _DURATION_MIN)
    if not (is_digits(hours) and minutes.endswith("min") and is_digits(minutes.removesuffix("min"))):
        raise bad_value(text, _DURATION_MIN, "write 45min, 1h or 1h30min")
    if int(minutes.removesuffix("min")[:4]) >= 60:
        raise bad_value(text, _DURATION_MIN, "minutes after hours run from 0 to 59")
    return read_quantity(f"{hours}h", _DURATION_MIN) + read_quantity(minutes, _DURATION_MIN)


def read_elapsed_min(text: str) -> float:
    """A time by the stopwatch in minutes, from `75s`, `2min30s` or as `read_duration_min` reads it."""
    minutes, letters, seconds = text.lower().partition("min")
    if seconds in ("", "s"):
        return read_quantity(text, _ELAPSED_MIN) if minutes.endswith("s") else read_duration_min(text)
    if not (letters and is_digits(minutes) and seconds[-1:] == "s" and is_number(seconds[:-1])):
        raise bad_value(text, _ELAPSED_MIN, "write 75s, 2min30s or 2.5min")
    return read_quantity(minutes, _ELAPSED_MIN) + read_quantity(seconds, _ELAPSED_MIN)


def read_stopwatch_min(text: str) -> float:
    """A time by the stopwatch in minutes as `read_elapsed_min` reads it, its unit required: 75 may be seconds."""
    if is_number(text.strip()):
        raise bad_value(text, _ELAPSED_MIN, f"say the unit: {text.strip()}s or {text.strip()}min")
    return read_elapsed_min(text)


def read_clock_min(text: str) -> float:
    """Minutes after midnight UTC from `15:42`, `15:42Z`, `1542`, `1542Z` or `15:42:30`.

    Raises a `bad-time` problem for anything else.
    """
    plain = text[:-1] if text[-1:] in ("Z", "z") else text
    parts = plain.split(":") if ":" in plain else [plain[:-2], plain[-2:]]
    numbers = [int(part) if part and len(part) <= 2 and not part.strip(DIGITS) else None for part in parts]
    if len(parts) not in (2, 3) or None in numbers or any(len(part) != 2 for part in parts[1:]):
        raise problem_error("bad-time", f"`{text}` is not a time of day", hint="write UTC such as 15:42Z or 1542")
    hour, minute, second = (*(number for number in numbers if number is not None), 0)[:3]
    if hour > 23 or minute > 59 or second > 59:
        raise problem_error("bad-time", f"there is no time `{text}`", hint="times run from 00:00 to 23:59")
    return hour * 60.0 + minute + second / 60.0


def read_size_deg(text: str) -> float:
    """The size of an angle, such as a change of bearing, from `10` or `10deg`; not a direction."""
    return read_quantity(text, _ANGLE_DEG)


def read_rate_ft_min(text: str) -> float:
    """A rate of climb or descent in feet a minute from `500`, `500ft/min` or `2.5m/s`."""
    return read_quantity(text, _RATE_FT_PER_MIN)


def read_gradient_ft_per_nm(text: str) -> float:
    """A gradient in feet a nautical mile from `350`, `350ft/nm` or `5.2%`."""
    return read_quantity(text, _GRADIENT_FT_PER_NM)


def read_mach(text: str) -> float:
    """A Mach number from `0.42`."""
    return read_quantity(text, _MACH)


def read_temperature_c(text: str) -> float:
    """A temperature in degrees Celsius from `+4C`, `-5C` or `70F`; the letter is required."""
    number, unit = number_and_unit(text, _TEMPERATURE_C)
    known = known_unit(unit, text, _TEMPERATURE_C)
    zero = 32 if known == "F" else 0
    return within(exact(number, _TEMPERATURE_C.sizes[known], zero), text, _TEMPERATURE_C)


def read_pressure_hpa(text: str) -> float:
    """An altimeter setting in hPa from `1013`, `1013hPa` or `29.92inHg`."""
    if text[:1].upper() in ("A", "Q") and len(text) == 5 and is_digits(text[1:]):
        spelt = f"{text[1:3]}.{text[3:]}inHg" if text[:1].upper() == "A" else f"{text[1:].lstrip('0')}hPa"
        raise bad_value(text, _PRESSURE_HPA, f"write {spelt}")
    number, unit = number_and_unit(text, _PRESSURE_HPA)
    if not unit and float(number) < 40.0:
        raise problem_error(
            "bad-unit",
            f"altimeter setting `{text}` has no unit",
            hint=f"inches of mercury carry it: {text}inHg",
        )
    if not unit and 2_500.0 <= float(number) <= 3_300.0:
        hint = f"inches of mercury carry their point and unit: {float(number) / 100.0:.2f}inHg"
        raise problem_error("bad-value", f"altimeter setting `{text}` is out of range", hint=hint)
    return read_quantity(text, _PRESSURE_HPA)


def in_inches_of_mercury(pressure_hpa: float) -> float:
    """A pressure in inches of mercury (conventional, of 0 degrees C), to the hundredth as altimeters are set."""
    more, fewer = _PRESSURE_HPA.sizes["inHg"]
    return half_up(pressure_hpa * fewer / more, 0.01) / 100.0


def setting_text(pressure_hpa: float, unit: str) -> str:
    """An altimeter setting in the unit "hPa" or "inHg" in which it was written: `1013 hPa`, `28.50 inHg`."""
    if unit == "inHg":
        return f"{in_inches_of_mercury(pressure_hpa):.2f} inHg"
    return f"{pressure_hpa:.1f}".removesuffix(".0") + " hPa"


def read_frequency(text: str) -> float:
    """A frequency in MHz from `113.70` or `113.70MHz`; whether a station may use it is not looked at."""
    return read_quantity(text, _FREQUENCY_MHZ)


def read_frequency_khz(text: str) -> float:
    """The frequency of an NDB in kHz from `385` or `385kHz`."""
    return read_quantity(text, _FREQUENCY_KHZ)


def read_percent(text: str) -> float:
    """The number of `5%`; the sign is required."""
    return read_quantity(text, _PERCENT)


def read_fuel(text: str) -> Amount:
    """A quantity of fuel from `38` (US gallons), `38gal`, `30impgal`, `140L`, `230lb` or `100kg`."""
    return _read_amount(text, _FUEL)


def read_burn(text: str) -> Amount:
    """A fuel burn from `8.5` (US gallons an hour), `8.5gal/h`, `8.5gph`, `32L/h`, `50lb/h` or `23kg/h`."""
    burn = _read_amount(text, _BURN)
    if not burn.value:
        raise problem_error("bad-value", f"fuel burn `{text}` is zero", hint="leave it out where it is not known")
    return burn


def _read_amount(text: str, quantity: Quantity) -> Amount:
    """The value in the unit in which it is written."""
    value = read_quantity(text, quantity)
    unit = known_unit(number_and_unit(text, quantity)[1], text, quantity)
    return Amount(value, "gal/h" if unit == "gph" else unit)


def converted(amount: Amount, unit: str) -> Amount | None:
    """The same fuel or burn in another unit; None between volume and mass, which takes a density."""
    if amount.unit == unit:
        return amount
    name, _, per = amount.unit.partition("/")
    new_name, _, new_per = unit.partition("/")
    for sizes in (_FUEL_VOLUME_L, _FUEL_MASS_KG):
        if name in sizes and new_name in sizes and per == new_per:
            return Amount(amount.value * (sizes[name] / sizes[new_name]), unit)
    return None


def fuel_in(amount: Amount, unit: str, *, density_kg_per_l: float | None) -> Amount | None:
    """Fuel or a burn in another unit; between volume and mass by the density, None without one.

    `unit` is such as "lb" for fuel and "lb/h" for a burn.
    """
    same_kind = converted(amount, unit)
    if same_kind is not None or density_kg_per_l is None:
        return same_kind
    _, slash, per = amount.unit.partition("/")
    litres, kilograms = converted(amount, f"L{slash}{per}"), converted(amount, f"kg{slash}{per}")
    if litres is not None:
        return converted(Amount(litres.value * density_kg_per_l, f"kg{slash}{per}"), unit)
    if kilograms is not None:
        return converted(Amount(kilograms.value / density_kg_per_l, f"L{slash}{per}"), unit)
    return None


def read_angle_deg(text: str) -> float:
    """A radial, course or direction: three digits, perhaps decimals, from 000 to 360; 000 reads as 360."""
    whole, point, decimals = text.partition(".")
    if len(whole) != 3 or not is_digits(whole) or (point and not is_digits(decimals)):
        hint = "write three digits, such as 047 or 047.5"
        if is_digits(text) and len(text) < 3:
            hint = f"write three digits: {text.zfill(3)}"
        raise problem_error("bad-angle", f"`{text}` is not an angle of three digits", hint=hint)
    angle_deg = float(text)
    if angle_deg > 360.0:
        raise problem_error("bad-angle", f"`{text}` is over 360 degrees", hint="angles run from 000 to 360")
    return angle_deg or 360.0


def read_declination_deg(text: str) -> float:
    """A declination or variation from `15W` or `7.5E`, east positive; the letter is required."""
    number, letter = text[:-1], text[-1:]
    if letter in ("E", "W") and is_number(number):
        if float(number) > 180.0:
            hint = "it lies from 0 to 180 degrees, east or west"
            raise problem_error("bad-value", f"declination or variation `{text}` is out of range", hint=hint)
        return -float(number) or 0.0 if letter == "W" else float(number)
    hint = "write the number and its letter: 15W or 7E"
    sign, digits = ("W" if text[:1] == "-" else "E"), text.lstrip("+-")
    if is_number(digits):
        hint = f"a sign means different things in different places; write {digits}{sign}"
        if float(digits) > 180.0:
            hint = "it lies from 0 to 180 degrees, with its letter: 15W or 7E"
        elif digits == text:
            hint = f"which way is it: {text}E or {text}W"
    elif letter in ("e", "w") and is_number(number):
        hint = f"write {text.upper()}"
    raise problem_error("bad-value", f"`{text}` is not a declination or variation", hint=hint)
