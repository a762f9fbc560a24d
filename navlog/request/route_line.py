"""The words of a route: points, airways, `DCT`, changes of speed and level, and what an airport is for.

Bearing and distance from a point, compact positions and changes are written as in ICAO Doc 4444,
Appendix 2, item 15. Whether a bare identifier is a point or an airway, the resolver decides.
"""

from __future__ import annotations

from functools import lru_cache

from navlog.nav.angles import position_word_count, read_position
from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError, Span, problem_error
from navlog.nav.record import changed
from navlog.nav.spelling import suggestion
from navlog.nav.units import (
    read_altitude_ft,
    read_angle_deg,
    read_duration_min,
    read_fuel,
    read_level,
    read_speed_kt,
)
from navlog.request.cursor import Cursor
from navlog.request.records import Landing, Level, RouteWord
from navlog.request.tree import Word

_QUALIFIERS = ("vor", "ndb", "dme", "tacan", "vot", "marker", "fix", "airport", "heliport")
_MOST_WORDS = 2000
"""A day's flying has some dozens."""

_DIGITS = "0123456789"
_CAPITALS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_FEWEST_BEARING_DIGITS = 4
_SHORTEST_POSITION = len("46N39W")
_NOWHERE = Span("", 1)
_CHANGE_HINT = "write speed and level, such as /N0110A075, or the level alone: /A075, /F085"


def read_route(cursor: Cursor) -> tuple[RouteWord, ...]:
    """The words up to the end of the statement: two points at least, one of them first and one last."""
    words: list[RouteWord] = []
    landed = False
    while not words or not cursor.at_end:
        if words and cursor.peek() in ("over", "land"):
            words[-1] = _read_purpose(cursor, words[-1])
            landed = words[-1].landing is not None
            continue
        word = _read_word(cursor)
        goes_on = not cursor.at_end and cursor.peek() not in ("over", "land")
        # At the end of a route it stays: there a second mention would be a flight of no length, which is refused.
        if landed and goes_on and word.ident == words[-1].ident and word.bearing_deg is None:
            words[-1] = _named_twice(words[-1], word)
        else:
            words.append(word)
        landed = False
        if len(words) > _MOST_WORDS:
            cursor.stop(cursor.words[0], "long-route", f"a route has at most {_MOST_WORDS:,} words", "share it out")
    if len([word for word in words if word.ident != "DCT"]) < 2:
        cursor.stop(cursor.words[-1], "short-route", "a route has at least two points")
    for place, end in (("start", words[0]), ("end", words[-1])):
        # The resolver would look for a place of that name; here its meaning is known.
        if end.ident == "DCT":
            cursor.report(Word("DCT", end.span), "bad-route", f"a route cannot {place} with `DCT`")
    return tuple(words)


def _named_twice(landed: RouteWord, word: RouteWord) -> RouteWord:
    """A landing whose airport is named once more for the take-off: `XHAR land 20min XHAR/A055`.

    It has the level and speed of the second mention, where that has any.
    """
    if word.level is None:
        return landed
    return changed(landed, text=word.text, level=word.level, tas_kt=word.tas_kt)


def read_point(cursor: Cursor, what: str) -> RouteWord:
    """The next word as a point alone: no `DCT`, no change of speed or level."""
    word = cursor.take(what)
    point = cursor.guard(lambda: _route_word(word), word.span, RouteWord(word.text, word.span))
    if point.ident == "DCT":
        cursor.report(word, "bad-point", f"`DCT` is not {what}")
    if point.level is not None:
        cursor.report(word, "bad-point", "no change of speed or level can stand here", "write the point alone")
    return point


def read_via(cursor: Cursor, stop_word: str) -> tuple[RouteWord, ...]:
    """The words of a piece of route, up to `stop_word` or the end."""
    words: list[RouteWord] = []
    while not cursor.at_end and cursor.peek() != stop_word:
        words.append(_read_word(cursor))
    return tuple(words)


def _route_word(word: Word) -> RouteWord:
    """One word of a route, taken apart; raises a problem without a place for a word of no known form."""
    if word.quoted:
        raise problem_error("quoted-value", "a point does not stand in quotes", hint="write it without quotes")
    return changed(_taken_apart(word.text), span=word.span)


@lru_cache(maxsize=4_096)
def _taken_apart(text: str) -> RouteWord:
    """A word of a route, wherever it stands: the flights of a library name the same points over and over."""
    point, slash, change = text.partition("/")
    base, colon, qualifier = point.partition(":")
    if slash and not point:
        raise problem_error("bad-change", "a change stands alone", hint="glue it to its point: QEL/A055")
    if base == "DCT" and point != text:
        raise problem_error("bad-change", "the change begins at a point", hint="write it after a point: QEL/A055")
    position, bearing = _compact_position(base), _bearing_distance(base)
    if position is not None:
        if colon:
            raise problem_error("bad-qualifier", f"the position `{base}` takes no qualifier")
        taken = RouteWord(text, _NOWHERE, position=position)
    elif bearing is not None:
        ident, bearing_deg, distance_nm = bearing
        taken = RouteWord(text, _NOWHERE, ident, bearing_deg=bearing_deg, distance_nm=distance_nm)
    else:
        taken = RouteWord(text, _NOWHERE, check_identifier(base))
    if colon:
        taken = _qualified(taken, qualifier)
    if slash:
        tas_kt, level = _change(change)
        taken = changed(taken, tas_kt=tas_kt, level=level)
    return taken


def is_identifier(text: str) -> bool:
    """Whether `text` is capitals and digits, at least one of them a capital."""
    return not text.strip(_CAPITALS + _DIGITS) and bool(text.strip(_DIGITS))


def check_identifier(text: str) -> str:
    """`text` itself where it is an identifier; else a `bad-identifier` problem."""
    if is_identifier(text):
        return text
    raise _bad_identifier(text, "identifiers are capitals and digits")


def check_station_identifier(text: str) -> str:
    """`text` itself where it is capital letters; else a `bad-identifier` problem."""
    if text and not text.strip(_CAPITALS):
        return text
    raise _bad_identifier(text, "station identifiers are capital letters")


def check_new_identifier(text: str) -> str:
    """`text` where it is an identifier that a route line would read as just that; else a problem."""
    check_identifier(text)
    if text == "DCT":
        raise problem_error("bad-identifier", "`DCT` means direct in a route", hint="choose another name")
    ident = text.rstrip(_DIGITS)
    if is_position(text):
        raise problem_error("bad-identifier", f"`{text}` means a position in a route", hint="choose another name")
    if ident and len(text) - len(ident) >= _FEWEST_BEARING_DIGITS:
        message = f"`{text}` means a bearing and a distance from `{ident}` in a route"
        raise problem_error("bad-identifier", message, hint="choose a name with three digits at most at its end")
    return text


def is_position(text: str) -> bool:
    """Whether a route would read `text` as a position, a wrong one too."""
    try:
        return _compact_position(text) is not None
    except NavlogError:
        return True


def _compact_position(text: str) -> Position | None:
    """The position of `4612N03921W` or `46N039W`, None for a word of another form."""
    if len(text) < _SHORTEST_POSITION or position_word_count((text,)) == 0:
        return None
    return read_position(text)


def _bearing_distance(text: str) -> tuple[str, float, float] | None:
    """The point, magnetic bearing and distance of `QHB084021`, None for a word of another form.

    Four digits or more behind letters are no identifier of any state, so another count is a slip.
    """
    ident = text.rstrip(_DIGITS)
    digits = text[len(ident) :]
    if not ident or ident.strip(_CAPITALS + _DIGITS) or len(digits) < _FEWEST_BEARING_DIGITS:
        return None
    if len(digits) != 6:
        raise problem_error(
            "bad-bearing-distance",
            f"`{text}` has {len(digits)} digits behind `{ident}`",
            hint=f"write three digits of bearing and three of distance, such as {ident}084021",
        )
    if digits[3:] == "000":
        raise problem_error("bad-bearing-distance", f"`{text}` has no distance", hint=f"write {ident} alone")
    return ident, read_angle_deg(digits[:3]), float(digits[3:])


def _qualified(word: RouteWord, qualifier: str) -> RouteWord:
    """`word` with what its qualifier says it is."""
    if qualifier in _QUALIFIERS:
        return changed(word, qualifier=qualifier)
    position = _compact_position(qualifier)
    if position is not None:
        return changed(word, qualifier_position=position)
    close = suggestion(qualifier, _QUALIFIERS)
    hint = f"did you mean `:{close}`?" if close else f"one of {', '.join(_QUALIFIERS)}, or a position: 4612N03921W"
    raise problem_error("bad-qualifier", f"`:{qualifier}` does not say which", hint=hint)


def _change(text: str) -> tuple[float | None, Level]:
    """The speed in knots, None where it stays, and the level of `N0110A075` or `A075`."""
    tas_kt = None
    if text[:1] in ("N", "K") and text[1:5].isdigit():
        tas_kt = read_speed_kt(text[1:5] + ("kt" if text[0] == "N" else "km/h"))
        if not tas_kt:
            raise problem_error("bad-change", f"`/{text}` has no speed", hint=_CHANGE_HINT)
        text = text[5:]
        if not text:
            raise problem_error("bad-change", "the change has a speed and no level", hint=_CHANGE_HINT)
    letter, digits = text[:1], text[1:]
    if letter in ("A", "F") and len(digits) == 3 and not digits.strip(_DIGITS):
        return tas_kt, Level(*read_level(text))
    if letter in ("S", "M") and len(digits) == 4 and not digits.strip(_DIGITS):
        return tas_kt, Level(read_altitude_ft(f"{digits}0m"), letter == "S")
    raise problem_error("bad-change", f"`/{text}` is not a change of speed and level", hint=_CHANGE_HINT)


def _read_word(cursor: Cursor) -> RouteWord:
    word = cursor.take("a point")
    return cursor.guard(lambda: _route_word(word), word.span, RouteWord(word.text, word.span))


def _read_purpose(cursor: Cursor, airport: RouteWord) -> RouteWord:
    """`airport` with the `over` or `land 45min fuel 38gal` behind it."""
    purpose = cursor.take("over or land")
    if airport.over or airport.landing:
        cursor.report(purpose, "bad-route", f"`{airport.text}` has said already what it is for")
    if airport.ident in (None, "DCT") or airport.bearing_deg is not None:
        cursor.report(purpose, "bad-route", f"`{purpose.text}` stands behind an airport, not `{airport.text}`")
    if purpose.text == "over":
        return changed(airport, over=True)
    stop_min, fuel = 0.0, None
    # A duration has a unit in small letters, minutes in capitals or no letter at all, which no point has.
    time = cursor.peek()
    if time[:1].isdigit() and (time != time.upper() or time.isdigit() or time.endswith(("MIN", "MINS"))):
        stop_min = cursor.read("a time on the ground", read_duration_min, 0.0)
    if cursor.take_if("fuel"):
        fuel = cursor.read("the fuel at take-off", read_fuel, None)
    return changed(airport, landing=Landing(stop_min, fuel))


def _bad_identifier(text: str, rule: str) -> NavlogError:
    upper = text.upper()
    fits = upper != text and not upper.strip(_CAPITALS + _DIGITS)
    hint = f"{rule}: {upper}" if fits else rule
    return problem_error("bad-identifier", f"`{text}` is no identifier", hint=hint)
