"""Statements about the flight itself: when, how high, with what wind and fuel, along which route."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import date

from navlog.nav.cruising_levels import TABLES
from navlog.nav.problems import problem_error
from navlog.nav.quantities import is_digits, plain_unit
from navlog.nav.record import changed
from navlog.nav.units import (
    read_altitude_ft,
    read_angle_deg,
    read_duration_min,
    read_fuel,
    read_level,
    read_pressure_hpa,
    read_speed_kt,
    read_temperature_c,
)
from navlog.request.chart_statements import read_name
from navlog.request.cursor import Cursor
from navlog.request.records import (
    Acceptance,
    AlternateRequest,
    Equipment,
    FileReference,
    HoldRequest,
    Level,
    Name,
    Part,
    RadioFrequency,
    ReceiverCheck,
    RouteWord,
    StatedWind,
    WindStatement,
)
from navlog.request.route_line import read_point, read_via
from navlog.request.tree import AltimeterSetting, ClockTime, FlightRules, Taxiing, Word

_DIGITS = "0123456789"
_LETTERS = "abcdefghijklmnopqrstuvwxyz"
_UTC = ("Z", "z")
_NO_WIND = StatedWind(360.0, 0.0)
EQUIPMENT_OPTIONS = ("vor", "dme")


def read_cruise(text: str) -> Level:
    """A cruising level from `4500`, `5500ft`, `1200m` or `FL085`."""
    return Level(*read_level(text))


def read_file(cursor: Cursor) -> FileReference:
    """The name of a file, in quotes where it has blanks."""
    word = cursor.take("a file")
    if not word.text.strip():
        cursor.report(word, "empty-text", "the file's name is empty")
    return FileReference(word.text, word.span)


def read_unavailable(cursor: Cursor) -> Name:
    """`unavailable` IDENT."""
    return read_name(cursor, "a station")


def read_name_of_flight(cursor: Cursor) -> str:
    """`flight` "NAME"."""
    return cursor.take_quoted("its name", to_the_end=True)


def read_note(cursor: Cursor) -> str:
    """`note` "..."."""
    return cursor.take_quoted("a note", to_the_end=True)


def read_date(text: str) -> date:
    """A day written `2026-07-18`; raises a `bad-date` problem."""
    parts = text.split("-")
    if [len(part) for part in parts] != [4, 2, 2] or any(part.strip(_DIGITS) for part in parts):
        raise problem_error("bad-date", f"`{text}` is not a date", hint="write year, month and day: 2026-07-18")
    year, month, day = (int(part) for part in parts)
    if not 1900 <= year < 2200:
        raise problem_error("bad-date", f"`{text}` is not from 1900 to 2199", hint="check the year")
    try:
        return date(year, month, day)
    except ValueError:
        raise problem_error("bad-date", f"there is no day `{text}`") from None


def read_off(cursor: Cursor) -> ClockTime:
    """`15:10Z`, as sheets print it too `1510Z`, or `10:10 America/Chicago`."""
    word = cursor.take("a time")
    clock = cursor.convert(word, _clock, None)
    if clock is None:
        # One slip, one problem: what stands behind no time is not judged.
        while not cursor.at_end:
            cursor.take("a zone")
        return ClockTime(0, 0)
    hour, minute = clock
    if word.text.endswith(_UTC):
        return ClockTime(hour, minute)
    if cursor.at_end:
        hint = f"write {word.text}Z, or a zone: {word.text} America/Chicago"
        cursor.stop(word, "missing-zone", f"`{word.text}` does not say whose clock", hint)
    zone = cursor.take("a zone")
    if zone.text in _UTC:
        cursor.stop(zone, "unknown-zone", f"`{zone.text}` stands apart from its time", f"write {word.text}Z")
    return ClockTime(hour, minute, Name(zone.text, zone.span))


def _clock(text: str) -> tuple[int, int]:
    plain = text[:-1] if text.endswith(_UTC) else text
    hour, _, minute = plain.partition(":") if ":" in plain else (plain[:-2], "", plain[-2:])
    if [len(hour), len(minute)] != [2, 2] or not is_digits(hour + minute):
        hint = "UTC is written 15:10Z, the clock of a zone 10:10 America/Chicago"
        if text[-3:].upper() in ("UTC", "GMT") and plain[:1].isdigit():
            hint = f"write {text[:-3]}Z"
        raise problem_error("bad-time", f"`{text}` is not a time of day", hint=hint)
    if int(hour) > 23 or int(minute) > 59:
        raise problem_error("bad-time", f"there is no time `{text}`", hint="times run from 00:00 to 23:59")
    return int(hour), int(minute)


def read_rules(cursor: Cursor) -> FlightRules:
    """`vfr` [`day` or `night`], or `ifr`."""
    rules = cursor.take_choice("vfr or ifr", ("vfr", "ifr"))
    if rules == "vfr" and not cursor.at_end:
        return FlightRules(rules, cursor.take_choice("day or night", ("day", "night")))
    return FlightRules(rules)


def read_taxi(cursor: Cursor) -> Taxiing:
    """Fuel, a time, or both in that order: `1gal`, `8min`, `1gal 8min`."""
    fuel = None if _is_time(cursor.peek()) else cursor.read("an amount of fuel", read_fuel, None)
    time_min = None if cursor.at_end else cursor.read("a time", read_duration_min, None)
    return Taxiing(fuel, time_min)


def _is_time(text: str) -> bool:
    return text.lower().endswith(("min", "mins", "h", "hr", "hrs"))


def read_altimeter(text: str) -> AltimeterSetting:
    """An altimeter setting and its unit, from `1013`, `1013hPa` or `29.92inHg`."""
    return AltimeterSetting(read_pressure_hpa(text), "inHg" if "in" in text.lower() else "hPa")


def read_levels(text: str) -> str:
    """The name of a table of cruising levels that is known; raises a `bad-word` problem."""
    if text not in TABLES:
        hint = f"one of {', '.join(TABLES)}"
        raise problem_error("bad-word", f"`{text}` is no table of cruising levels", hint=hint)
    return text


def read_equipment(cursor: Cursor) -> Equipment:
    """`vor` N and `dme` N, one of them at least."""
    counts = {"vor": Equipment().vor, "dme": Equipment().dme}
    given: set[str] = set()
    while not cursor.at_end or not given:
        if cursor.at_end:
            cursor.take("`vor` or `dme` with a number")
        kind = cursor.take_option(EQUIPMENT_OPTIONS, given).text
        word = cursor.take("a number of receivers")
        counts[kind] = cursor.convert(word, _receivers, 1)
        if kind == "vor" and not counts[kind]:
            cursor.report(word, "bad-value", "without a VOR receiver no station guides", "write vor 1 or vor 2")
    return Equipment(**counts)


def _receivers(text: str) -> int:
    if len(text) != 1 or text not in _DIGITS:
        raise problem_error("bad-value", f"`{text}` is not a number of receivers", hint="write one digit")
    return int(text)


def read_hold(cursor: Cursor) -> HoldRequest:
    """`hold` POINT 4min, or `hold` POINT `until` 10000ft."""
    point = read_point(cursor, "a point")
    if cursor.take_if("until"):
        return HoldRequest(point, 0.0, cursor.keyword.span, cursor.read("a level", read_cruise, None))
    return HoldRequest(point, cursor.read("a time", _hold_min, 0.0), cursor.keyword.span)


def _hold_min(text: str) -> float:
    """A time in minutes, more than nothing."""
    time_min = read_duration_min(text)
    if not time_min:
        raise problem_error("bad-value", f"a hold of `{text}` is none", hint="give its time, or leave the hold out")
    return time_min


def read_alternate(cursor: Cursor) -> AlternateRequest:
    """AIRPORT [`from` POINT [`via` ...]] [`at` LEVEL], or POINT `via` ... AIRPORT [`at` LEVEL]."""
    first = read_point(cursor, "an airport")
    start, level = None, None
    words: tuple[RouteWord, ...] = (first,)
    if cursor.take_if("from"):
        start = read_point(cursor, "the point of the route where it is left")
        words = (*_way_between(cursor, first), first)
    elif cursor.take_if("via"):
        start = first
        words = read_via(cursor, "at")
        if not words:
            missing = "the way lacks its airport"
            cursor.stop(cursor.take("an airport"), "missing-word", missing, "write the airport last")
        if words[-1].ident == "DCT":
            end = Word("DCT", words[-1].span)
            cursor.report(end, "bad-route", "the way ends with `DCT`", "write the airport last")
    if cursor.take_if("at"):
        level = cursor.read("a level", read_cruise, None)
    return AlternateRequest(words, cursor.keyword.span, start, level)


def alternate_way(one: AlternateRequest) -> Hashable:
    """What two alternates of a flight may not share: airport, way and level."""
    return tuple(word.text for word in one.words), one.start.text if one.start is not None else None, one.level


def _way_between(cursor: Cursor, airport: RouteWord) -> tuple[RouteWord, ...]:
    """The words of `via` ..., without the airport, which may end them too."""
    if not cursor.take_if("via"):
        return ()
    words = read_via(cursor, "at")
    if not words:
        missing = "the way lacks its points"
        cursor.stop(cursor.take("a point"), "missing-word", missing, "write the points and airways, or leave `via` out")
    return words[:-1] if words[-1].text == airport.text else words


def read_accept(cursor: Cursor) -> Acceptance:
    """`accept` RULE [`on` AIRWAY, `on` POINT POINT or `at` POINT] "reason"."""
    word = cursor.take("a rule")
    rule = cursor.convert(word, _rule_name, word.text)
    part = _part(cursor)
    return Acceptance(rule, cursor.take_quoted("the reason", to_the_end=True), word.span, part)


def _part(cursor: Cursor) -> Part | None:
    """The part of the flight that comes next, where one does."""
    if cursor.take_if("at"):
        return Part(at=read_name(cursor, "a point"))
    if not cursor.take_if("on"):
        return None
    first = read_name(cursor, "an airway, or two points")
    if cursor.at_end or cursor.next_is_quoted:
        return Part(airway=first)
    return Part(between=(first, read_name(cursor, "a point")))


def _rule_name(text: str) -> str:
    if text[:1] not in tuple(_LETTERS) or text.strip(_LETTERS + _DIGITS + "-"):
        raise problem_error("bad-word", f"`{text}` is no rule", hint="rules are written as findings print them")
    return text


def read_receiver_check(cursor: Cursor) -> ReceiverCheck:
    """`vor-check` DATE PLACE [KIND] ERROR, with an error for each receiver."""
    from navlog.nav.receiver_check import Check

    kinds = tuple(kind.value for kind in Check)
    day = cursor.read("a date", read_date, date.min)
    place = cursor.take("the place of the check")
    if not place.text.strip():
        cursor.report(place, "empty-text", "the place of the check is empty")
    if place.text in kinds and not place.quoted:
        hint = f"write it before the kind: vor-check {day} XHAR {place.text} +2"
        cursor.stop(place, "missing-word", f"`{place.text}` is a kind of check, and its place is missing", hint)
    kind = Check(cursor.take_choice("a kind of check", kinds)) if cursor.peek()[:1].isalpha() else None
    errors = [cursor.read("the bearing error in degrees", _bearing_error_deg, 0.0)]
    while not cursor.at_end:
        errors.append(cursor.read("the bearing error in degrees", _bearing_error_deg, 0.0))
    if kind is Check.DUAL and len(errors) > 1:
        if len(errors) > 2:
            hint = "write what each of two indicated, or how far they were apart"
            cursor.stop(cursor.words[-1], "unexpected-word", "a dual check is of two receivers", hint)
        # 14 CFR 91.171(c) limits how far the two are apart, each of which may be off by itself.
        errors = [errors[0] - errors[1]]
    return ReceiverCheck(day, place.text, tuple(errors), cursor.keyword.span, kind)


def _bearing_error_deg(text: str) -> float:
    """A bearing error from `+2`, `-1.5` or `0`, degrees; raises `bad-value`."""
    whole, point, decimals = text.removeprefix("+").removeprefix("-").partition(".")
    if text.startswith("+-") or not is_digits(whole) or (point and not is_digits(decimals)):
        hint = "write degrees, indicated less expected: +2 or -1.5"
        raise problem_error("bad-value", f"`{text}` is not a bearing error", hint=hint)
    if len(whole) > 3 or float(text) > 180.0 or float(text) < -180.0:
        raise problem_error("bad-value", f"an error of `{text}` degrees is more than half a turn")
    return float(text)


def read_radio(cursor: Cursor) -> RadioFrequency:
    """`radio` PLACE NAME MHZ; the frequency stays as written."""
    place = read_name(cursor, "a place")
    name = cursor.take_quoted("its name")
    frequency = cursor.read("a frequency", _com_frequency, "")
    return RadioFrequency(place.ident, name, frequency, cursor.keyword.span)


def _com_frequency(text: str) -> str:
    """`118.300` as written, where it is within the bands that aircraft listen and talk on.

    Those are 108 to 150.8 MHz, VORs with voice and military channels among them, and 225 to 400 MHz; from 118 to 137
    a number of three decimals names a channel of 25 or 8.33 kHz (ICAO Annex 10, Volume V).
    """
    whole, point, decimals = text.partition(".")
    if (whole + decimals).strip(_DIGITS) or not point or len(whole) != 3 or not 1 <= len(decimals) <= 3:
        raise problem_error("bad-frequency", f"`{text}` is not a frequency", hint="write it as on the chart: 118.300")
    off_air = 150.8 <= float(text) < 225.0
    if 118.0 <= float(text) < 137.0 and len(decimals) == 3 and (int(decimals) % 5 or int(decimals) % 25 == 20):
        hint = "channels end in 00, 25, 50 or 75, of 8.33 kHz in 05, 10, 15, 30, 35, 40, 55, 60, 65, 80, 85 or 90"
        raise problem_error("bad-frequency", f"`{text}` is no channel of 25 or 8.33 kHz", hint=hint)
    if off_air or not 108.0 <= float(text) < 400.0:
        raise problem_error("bad-frequency", f"`{text}` is no frequency of the airband", hint="write MHz: 118.300")
    return text


def read_wind(cursor: Cursor) -> WindStatement:
    """[`at` POINT] then `calm`, or DDD/SS, or HEIGHT DDD/SS [TEMP] for one height or more."""
    place = read_point(cursor, "a point") if cursor.take_if("at") else None
    span = cursor.keyword.span
    if cursor.take_if("calm"):
        return WindStatement((_NO_WIND,), span, place)
    if "/" in cursor.peek():
        return WindStatement((cursor.read("a wind", _wind, _NO_WIND),), span, place)
    levels: list[StatedWind] = []
    while not cursor.at_end or not levels:
        levels.append(_read_wind_level(cursor, {level.height_ft for level in levels}))
    return WindStatement(tuple(levels), span, place)


def _read_wind_level(cursor: Cursor, heights_ft: set[float | None]) -> StatedWind:
    """HEIGHT DDD/SS [TEMP], at another height than those before."""
    word = cursor.take("a wind")
    if cursor.at_end:
        other = "a temperature: +4C" if heights_ft else "direction/speed alone: 230/12"
        hint = f"write height and wind: 6000 240/18, or {other}"
        if is_digits(word.text[:5]) and plain_unit(word.text.lstrip(_DIGITS)) == "kt":
            hint = f"write {word.text[:3]}/{word.text[3:]}"
        cursor.stop(word, "bad-wind", f"`{word.text}` is not a wind", hint)
    height_ft = cursor.convert(word, read_altitude_ft, 0.0)
    if height_ft in heights_ft:
        cursor.report(word, "given-twice", f"the wind at `{word.text}` is given twice")
    wind = cursor.read("a wind", _wind, _NO_WIND)
    temperature_c = None
    if cursor.peek()[:1] in ("+", "-") or cursor.peek()[-1:] in ("C", "F", "c", "f"):
        temperature_c = cursor.read("a temperature", read_temperature_c, 0.0)
    return changed(wind, height_ft=height_ft, temperature_c=temperature_c)


def _wind(text: str) -> StatedWind:
    """`230/12` or `230T/12` from true, `230M/12` from magnetic north."""
    direction, slash, speed = text.partition("/")
    if not slash:
        raise problem_error("bad-wind", f"`{text}` is not a wind", hint="write direction/speed: 230/12")
    if len(direction) < 3 and len(speed) == 3 and not (direction + speed).strip(_DIGITS):
        hint = f"the direction comes first: {speed}/{direction}"
        raise problem_error("bad-wind", f"`{text}` is not a wind", hint=hint)
    if "G" in speed.upper():
        mean = speed.upper().partition("G")[0]
        raise problem_error("bad-wind", f"`{text}` tells gusts", hint=f"write the mean wind: {direction}/{mean}")
    from_deg = read_angle_deg(direction.removesuffix("T").removesuffix("M"))
    return StatedWind(from_deg, read_speed_kt(speed), magnetic=direction.endswith("M"))


def read_tas_kt(text: str) -> float:
    """A true airspeed in knots, more than nothing."""
    tas_kt = read_speed_kt(text)
    if not tas_kt:
        raise problem_error("bad-value", f"speed `{text}` is zero")
    return tas_kt
