"""Winds and temperatures aloft forecasts (FB bulletins) as the US National Weather Service issues them.

Sources: NWS Aviation Weather Center, description of the FB product; FAA-H-8083-25, chapter 12. Directions are
true, in tens of degrees; speeds knots; temperatures Celsius. Levels through 12,000 ft are true altitudes
above mean sea level, those from 18,000 ft pressure altitudes. Groups are told apart by the column in which
they stand, never by counting blanks: over high ground the lowest are missing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta
from typing import TypeVar

from msgspec import Struct

from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError, Problem, Span, at, in_order, problem_error
from navlog.nav.wind import CALM, Wind, WindColumn, WindLevel

# Also printed in each bulletin's heading (`TEMPS NEG ABV 24000`), which goes before this where it stands.
_NEGATIVE_ABOVE_FT = 24_000.0
_NO_TEMPERATURE_THROUGH_FT = 3_000.0
# No station lies so high that a level above this is within 2,500 ft of it, where temperature is left out.
_MISSING_TEMPERATURE_THROUGH_FT = 12_000.0

_Value = TypeVar("_Value")

_DIGITS = frozenset("0123456789")
_IDENT = _DIGITS | frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
_FRAMING = str.maketrans("", "", "\x01\x03\r\ufeff")  # start and end of a transmitted message
_END_WORDS = ("NNNN", "$$")
_WHOLE_HINT = "copy the whole bulletin as it was issued"
_COLUMN_HINT = "groups keep their columns; copy the bulletin with all its blanks"
_TWO_MONTHS_DAYS = 62  # among which every day of the month stands


class _DayTime(Struct, frozen=True):
    """A moment as issued, `031800Z`: the day of a month left unsaid, and the time of day in UTC."""

    day: int
    clock: time


class _Group(Struct, frozen=True):
    """One coded group and what it says.

    Light and variable (`9900`, below 5 kt) is a wind of 0 kt; 199 kt, the highest that the code can say, may be more.
    """

    text: str
    level: WindLevel


class _StationWinds(Struct, frozen=True):
    """One station's line; `groups` has an entry for each of the bulletin's levels, None where none stands."""

    ident: str
    groups: tuple[_Group | None, ...]
    span: Span

    @property
    def levels(self) -> tuple[WindLevel, ...]:
        """The levels that are forecast, lowest first."""
        return tuple(group.level for group in self.groups if group is not None)


class Bulletin(Struct, frozen=True):
    """A whole bulletin. `heading` and `based_on` are None where their lines are not in the text.

    `use_from` and `use_to` are times of day around `valid`; `dated` gives all of them their dates.
    """

    file: str
    heading: str | None
    based_on: _DayTime | None
    valid: _DayTime
    use_from: time
    use_to: time
    levels_ft: tuple[float, ...]
    stations: tuple[_StationWinds, ...]


class _Period(Struct, frozen=True):
    """The moments of a bulletin in UTC, with their dates."""

    based_on: datetime | None
    valid: datetime
    use_from: datetime
    use_to: datetime


def dated(bulletin: Bulletin, near: date) -> _Period:
    """The bulletin's moments with the month and year that put its valid time nearest to the date `near`.

    The period of use holds the valid time, so it begins on the day before where its clock says so, and ends
    on the day after; the data were taken at or before the valid time.
    """
    valid = _nearest(bulletin.valid, near)
    assert valid is not None
    based_on = None
    if bulletin.based_on is not None:
        based_on = _nearest(bulletin.based_on, valid.date(), latest=valid)
    use_from = datetime.combine(valid.date(), bulletin.use_from, UTC)
    use_to = datetime.combine(valid.date(), bulletin.use_to, UTC)
    day = timedelta(days=1)
    return _Period(
        based_on,
        valid,
        # `FOR USE 2100-0600Z` of data valid at 0000Z begins on the evening before.
        use_from if use_from <= valid else use_from - day,
        use_to if use_to >= valid else use_to + day,
    )


def columns(bulletin: Bulletin, places: Mapping[str, Position]) -> tuple[tuple[WindColumn, ...], tuple[str, ...]]:
    """The winds over each station with a position in `places`, and the idents that have none there."""
    found = tuple(
        WindColumn(station.levels, places[station.ident], station.ident)
        for station in bulletin.stations
        if station.ident in places
    )
    return found, tuple(station.ident for station in bulletin.stations if station.ident not in places)


def _decode_group(text: str, *, height_ft: float, negative_above_ft: float = _NEGATIVE_ABOVE_FT) -> _Group:
    """What one group says at a level: `2435+07` at 9,000 ft is 240 degrees at 35 kt and +7 C.

    A direction code from 51 to 86 means 50 less and 100 kt more; `9900` is light and variable. Through
    3,000 ft there is no temperature; above `negative_above_ft` it has no sign and is negative.
    """
    wind_text, temperature_text = text[:4], text[4:]
    if len(wind_text) < 4 or not _DIGITS.issuperset(wind_text):
        raise _bad_group(text, "does not begin with two digits of direction and two of speed")
    temperature_c = _temperature_c(text, temperature_text, height_ft, negative_above_ft)
    code, speed_kt = int(wind_text[:2]), int(wind_text[2:])
    # Below 5 kt, from anywhere: calm as a vector, though a little may blow (NWS, description of the FB product).
    if wind_text == "9900":
        return _Group(text, WindLevel(height_ft, CALM, temperature_c))
    # Two digits hold no speed over 99: 50 is added to the direction instead (FAA-H-8083-25, chapter 12).
    if 51 <= code <= 86:
        code, speed_kt = code - 50, speed_kt + 100
    if not 1 <= code <= 36:
        raise problem_error(
            "bulletin-group",
            f"group `{text}` has the direction code {code:02d}, which says nothing",
            hint="it runs from 01 to 36, or from 51 to 86 for 100 kt and more; 9900 is light and variable",
        )
    return _Group(text, WindLevel(height_ft, Wind(10.0 * code, float(speed_kt)), temperature_c))


def _temperature_c(text: str, digits: str, height_ft: float, negative_above_ft: float) -> float | None:
    if height_ft <= _NO_TEMPERATURE_THROUGH_FT:
        if digits:
            raise _bad_group(text, f"has a temperature, which is not forecast at {height_ft:,.0f} ft")
        return None
    if height_ft > negative_above_ft:
        if len(digits) == 2 and _DIGITS.issuperset(digits):
            return float(-int(digits))
        raise _bad_group(text, f"is not six digits, as above {negative_above_ft:,.0f} ft")
    if not digits and height_ft <= _MISSING_TEMPERATURE_THROUGH_FT:
        return None
    if len(digits) == 3 and digits[0] in "+-" and _DIGITS.issuperset(digits[1:]):
        return float(int(digits))
    raise _bad_group(text, f"has no temperature of a sign and two digits, as at {height_ft:,.0f} ft")


def _bad_group(text: str, what: str) -> NavlogError:
    return problem_error("bulletin-group", f"group `{text}` {what}", hint=_WHOLE_HINT)


def read_bulletin(text: str, file: str) -> Bulletin:
    """The bulletin in `text`; every problem is raised in one `NavlogError`, with its line and column.

    Needed are `VALID`, `FOR USE` and `NEG ABV` with their values, the `FT` line and a station. Other lines
    before the `FT` line, such as `(Extracted from ...)`, are passed over.
    """
    source = _Source(file, tuple(line.translate(_FRAMING).rstrip() for line in text.split("\n")), [])
    split = next((i for i, line in enumerate(source.lines) if _first_word(line) == "FT"), None)
    header = source.lines[:split]
    if split is None and not any("VALID" in line for line in header):
        source.problem("bulletin-header", "this is not a bulletin of winds aloft", 1, hint=_WHOLE_HINT)
        raise NavlogError(*source.problems)
    based_on = _header_value(source, header, "BASED ON", "031200Z", _day_time, required=False)
    valid = _header_value(source, header, "VALID", "031800Z", _day_time)
    use = _header_value(source, header, "FOR USE", "1400-2100Z", _use_period)
    # A period past midnight is missed only by a time that is both before its start and after its end.
    if valid is not None and use is not None and (valid.clock < use[0]) + (valid.clock > use[1]) > (use[0] > use[1]):
        message = f"the period for use, {use[0]:%H%M}-{use[1]:%H%M}Z, does not hold the valid time {valid.clock:%H%M}Z"
        number = next(number for number, line in enumerate(header, 1) if "FOR USE" in line)
        source.problem("bulletin-header", message, number, hint=_WHOLE_HINT)
    negative_above_ft = _header_value(source, header, "NEG ABV", "24000", _height_ft)
    if split is None:
        source.problem("bulletin-header", "the bulletin has no `FT` line", 1, hint=_WHOLE_HINT)
        raise NavlogError(*in_order(source.problems))
    above_ft = _NEGATIVE_ABOVE_FT if negative_above_ft is None else negative_above_ft
    fields = _read_levels(source, split + 1, above_ft)
    stations = _read_stations(source, split + 2, fields, above_ft) if fields else ()
    if source.problems or valid is None or use is None:
        raise NavlogError(*in_order(source.problems))
    heading = next((" ".join(line.split()) for line in header if _is_heading(line)), None)
    levels_ft = tuple(field.height_ft for field in fields)
    return Bulletin(file, heading, based_on, valid, *use, levels_ft, stations)


class _Source(Struct, frozen=True):
    """The lines of a text, without framing and trailing blanks, and the problems found in them so far."""

    file: str
    lines: tuple[str, ...]
    problems: list[Problem]

    def problem(self, code: str, message: str, number: int, column: int = 1, length: int = 1, *, hint: str) -> None:
        span = Span(self.file, number, column, max(1, length))
        self.problems.append(Problem(code, message, span, hint, self.lines[number - 1]))


class _Field(Struct, frozen=True):
    """Where a level's groups stand: `start` counts columns from 0."""

    height_ft: float
    start: int


def _first_word(line: str) -> str:
    return next(iter(line.split()), "")


def _is_heading(line: str) -> bool:
    """Whether a line is a WMO heading, such as `FBUS31 KWNO 310158`; the product was once called FD."""
    words = line.split()
    return (
        len(words) >= 3
        and words[0][:2] in ("FB", "FD")
        and [len(word) for word in words[:3]] == [6, 4, 6]
        and _DIGITS.issuperset(words[0][4:] + words[2])
    )


def _header_value(
    source: _Source,
    header: tuple[str, ...],
    phrase: str,
    example: str,
    read: Callable[[str], _Value | None],
    *,
    required: bool = True,
) -> _Value | None:
    """What `read` makes of the word after `phrase`; None, with a problem, where there is nothing to read."""
    hint = f"it is written as in `{phrase} {example}`"
    for number, line in enumerate(header, 1):
        if phrase in line:
            column = line.index(phrase)
            word = _first_word(line[column + len(phrase) :])
            value = read(word.rstrip("."))
            if value is None:
                message = f"the bulletin has `{word}` after `{phrase}`"
                source.problem("bulletin-header", message, number, column + 1, len(phrase), hint=hint)
            return value
    if required:
        source.problem("bulletin-header", f"the bulletin has no `{phrase}`", 1, hint=hint)
    return None


def _day_time(word: str) -> _DayTime | None:
    digits = word.removesuffix("Z")
    clock = _clock(digits[2:])
    if not _is_digits(digits, 6) or clock is None or not 1 <= int(digits[:2]) <= 31:
        return None
    return _DayTime(int(digits[:2]), clock)


def _use_period(word: str) -> tuple[time, time] | None:
    first, _, last = word.removesuffix("Z").partition("-")
    start, end = _clock(first), _clock(last)
    return None if start is None or end is None else (start, end)


def _clock(digits: str) -> time | None:
    if not _is_digits(digits, 4) or int(digits[:2]) > 23 or int(digits[2:]) > 59:
        return None
    return time(int(digits[:2]), int(digits[2:]))


def _height_ft(word: str) -> float | None:
    return float(word) if _is_digits(word, len(word)) and len(word) in (4, 5) else None


def _is_digits(text: str, length: int) -> bool:
    return len(text) == length and _DIGITS.issuperset(text)


def _words_at(line: str) -> Iterator[tuple[int, str]]:
    """The words of a line, each with its column from 0."""
    end = 0
    for word in line.split():
        start = line.index(word, end)
        end = start + len(word)
        yield start, word


def _read_levels(source: _Source, number: int, negative_above_ft: float) -> tuple[_Field, ...]:
    """The fields under the `FT` line: a group ends in the column in which its level ends."""
    fields: list[_Field] = []
    for start, word in list(_words_at(source.lines[number - 1]))[1:]:
        height_ft = _height_ft(word)
        if height_ft is None or (fields and height_ft <= fields[-1].height_ft):
            message = f"`{word}` cannot be a level here"
            hint = "levels are feet and rise from left to right"
            source.problem("bulletin-levels", message, number, start + 1, len(word), hint=hint)
            return ()
        width = 4 if height_ft <= _NO_TEMPERATURE_THROUGH_FT else 6 if height_ft > negative_above_ft else 7
        fields.append(_Field(height_ft, start + len(word) - width))
    if not fields:
        source.problem("bulletin-levels", "the `FT` line has no levels", number, hint=_WHOLE_HINT)
    return tuple(fields)


def _read_stations(
    source: _Source, first: int, fields: tuple[_Field, ...], negative_above_ft: float
) -> tuple[_StationWinds, ...]:
    stations: dict[str, _StationWinds] = {}
    for number, line in enumerate(source.lines[first - 1 :], first):
        word = _first_word(line)
        if word in _END_WORDS:
            break
        if word in ("000", "DATA", "VALID", "FT") or _is_heading(line):
            hint = "keep one bulletin in a file, the one for the time of flight"
            source.problem("bulletin-second", "a second bulletin begins here", number, hint=hint)
            break
        if not line:
            continue
        if len(word) != 3 or line[0] == " " or not _IDENT.issuperset(word):
            message = "the line does not begin with a station of three letters or digits"
            source.problem("bulletin-station", message, number, 1, len(line), hint=_WHOLE_HINT)
        elif word in stations:
            message = f"station `{word}` has a line already"
            source.problem("bulletin-station", message, number, 1, 3, hint="remove one of the two")
        else:
            groups = _read_groups(source, number, fields, negative_above_ft)
            stations[word] = _StationWinds(word, groups, Span(source.file, number, 1, 3))
    if not stations and not source.problems:
        source.problem("bulletin-cut-off", "the bulletin has no stations", first - 1, hint=_WHOLE_HINT)
    return tuple(stations.values())


def _read_groups(
    source: _Source, number: int, fields: tuple[_Field, ...], negative_above_ft: float
) -> tuple[_Group | None, ...]:
    """The groups of one station's line by level; those from the first on must all be there."""
    line = source.lines[number - 1]
    found: dict[_Field, _Group] = {}
    damaged = False
    for start, text in list(_words_at(line))[1:]:
        # A column of play, for lines that lost or gained a blank; fields are five columns apart or more.
        field = next((field for field in fields if abs(field.start - start) <= 1), None)
        if field is None:
            message = f"group `{text}` stands under no level"
            source.problem("bulletin-column", message, number, start + 1, len(text), hint=_COLUMN_HINT)
            return ()
        try:
            found[field] = _decode_group(text, height_ft=field.height_ft, negative_above_ft=negative_above_ft)
        except NavlogError as error:
            damaged = True
            placed = at(error, Span(source.file, number, start + 1, len(text)), line)
            source.problems.extend(placed.problems)
    lowest = min((field.height_ft for field in found), default=0.0)
    missing = next((field for field in fields if field.height_ft > lowest and field not in found), None)
    if missing is not None and not damaged:
        message = f"station `{line[:3]}` has no group for {missing.height_ft:,.0f} ft"
        hint = f"only the lowest levels may be missing; {_WHOLE_HINT}"
        source.problem("bulletin-cut-off", message, number, len(line) + 1, hint=hint)
    bare = [field for field in fields if field in found and found[field].level.temperature_c is None]
    measured_ft = [field.height_ft for field in found if field not in bare]
    if bare and measured_ft and bare[-1].height_ft > min(measured_ft) and not damaged:
        message = f"station `{line[:3]}` has no temperature at {bare[-1].height_ft:,.0f} ft and has one below"
        source.problem("bulletin-cut-off", message, number, bare[-1].start + 1, 4, hint=_WHOLE_HINT)
    return tuple(found.get(field) for field in fields)


def _nearest(moment: _DayTime, near: date, *, latest: datetime | None = None) -> datetime | None:
    """The moment with this day of the month whose date is nearest to `near`, and not after `latest`."""
    today = near.toordinal()
    shifts = sorted(range(-_TWO_MONTHS_DAYS, _TWO_MONTHS_DAYS + 1), key=abs)
    # A day less at either end of the calendar leaves room for the period of use.
    days = [today + shift for shift in shifts if date.min.toordinal() < today + shift < date.max.toordinal()]
    moments = (datetime.combine(date.fromordinal(day), moment.clock, UTC) for day in days)
    fitting = (found for found in moments if found.day == moment.day and (latest is None or found <= latest))
    return next(fitting, None)
