"""Which published preferred routes a flight can use: by type, altitude, class of aircraft, equipment and hours.

The columns are the FAA's (NASR PFR_BASE, read of 2026-05-14). Classes in `ALT_DESCRIP`, from memory of the Chart
Supplement's tower enroute control pages: J jets, M turboprops and others at 190 kt or more, P other than jets at 190 kt
or more, Q at less.
"""

from __future__ import annotations

import re
from datetime import datetime
from math import inf

from msgspec import Struct

from navlog.catalogue.preferred import PreferredRoute

_LOW = ("TEC", "L", "SLD")
"""The types that hold below 18,000 ft; H, SHD and HPD are for the high structure, NAR for the North Atlantic."""

_CLASS_KT = 190.0
_AREA_NAVIGATION = re.compile(r"RNAV|GPS|GNSS|DME/DME|/[EFGL]\b")
_JETS_ALONE = re.compile(r"\b(TURBO)?JETS?\b")
_PROPELLERS_TOO = re.compile(r"PROP|ALL OTHERS")
_HEIGHT = r"(?:FL)?(\d{2,5})'?"
_BY_CLASS = re.compile(r"([JMPQ]+)(\d{2,3})")


class _Span(Struct, frozen=True):
    """Altitudes in feet at which a route is published, for classes of aircraft ("" for all)."""

    classes: str
    low_ft: float
    high_ft: float


class Fitting(Struct, frozen=True):
    """A published route that fits, and the altitude to fly it at where it names one: both feet, 0 and inf for any."""

    route: PreferredRoute
    low_ft: float
    high_ft: float


def fitting(
    route: PreferredRoute, *, altitude_ft: float | None, tas_kt: float | None, off: datetime | None
) -> Fitting | str:
    """The route with the altitudes that it is published for, or in words why it does not fit.

    Without an altitude, a true airspeed or a time off what depends on it does not count against it. What the FAA's free
    text asks else, as of one engine or two, is left to the reader.
    """
    if route.kind not in _LOW:
        return f"is of type {route.kind}, for other altitudes"
    why = _needs(route, tas_kt) or _outside_hours(route.hours, off)
    if why:
        return why
    spans = _spans(route.altitude)
    if spans is None:
        # Nobody could read it, so nothing speaks against it.
        return Fitting(route, 0.0, inf)
    own = [span for span in spans if not span.classes or set(span.classes) & _classes(tas_kt)]
    if not own:
        return f"is for other classes of aircraft ({route.altitude})"
    for span in own:
        if altitude_ft is None or span.low_ft <= altitude_ft <= span.high_ft:
            return Fitting(route, span.low_ft, span.high_ft)
    return f"is for another altitude ({route.altitude})"


def _needs(route: PreferredRoute, tas_kt: float | None) -> str:
    """What a route asks for that an aeroplane with VOR and DME has not; empty where nothing."""
    words = route.route.split()
    if any(re.fullmatch(r"[TQ]\d+", word) for word in words) or _AREA_NAVIGATION.search(route.aircraft):
        return "needs area navigation"
    if any(re.fullmatch(r"J\d+", word) for word in words):
        return "is by jet routes"
    if any(re.fullmatch(r"[A-Z]{3,}\d", word) for word in words):
        return "begins or ends with a procedure, which the catalogue does not hold"
    if _JETS_ALONE.search(route.aircraft) and not _PROPELLERS_TOO.search(route.aircraft):
        return "is for jets"
    return _too_slow_or_fast(route.aircraft, tas_kt)


def _too_slow_or_fast(asked: str, tas_kt: float | None) -> str:
    if tas_kt is None:
        return ""
    least = re.search(r"(\d{3}) ?KTS? (?:IAS )?OR (?:GREATER|MORE)|GREATER THAN (\d{3}) ?KTS?", asked)
    most = re.search(r"(\d{3}) ?KTS? (?:IAS )?OR LESS|LESS THAN (\d{3}) ?KTS?", asked)
    if (least and tas_kt < float(least[1] or least[2])) or (most and tas_kt > float(most[1] or most[2])):
        return f"is for another speed ({asked})"
    return ""


def _outside_hours(hours: str, off: datetime | None) -> str:
    """Why a route does not hold at a time; its hours are UTC (from memory of the FAA's layout)."""
    match = re.fullmatch(r"(\d{2})(\d{2})-(\d{2})(\d{2})", hours)
    if match is None or off is None:
        return ""
    from datetime import UTC

    now = off.astimezone(UTC)
    first, last = (60 * int(match[one]) + int(match[one + 1]) for one in (1, 3))
    within = (60 * now.hour + now.minute - first) % 1440 <= (last - first) % 1440
    return "" if within else f"holds {hours}Z alone"


def _classes(tas_kt: float | None) -> set[str]:
    """The classes that an aeroplane with propellers may be of; whether it is a turboprop nobody says."""
    if tas_kt is None:
        return {"M", "P", "Q"}
    return {"M", "P"} if tas_kt >= _CLASS_KT else {"Q"}


def _spans(text: str) -> tuple[_Span, ...] | None:
    """The altitudes that `ALT_DESCRIP` tells; None where its wording is not known."""
    words = text.strip().rstrip(".")
    if not words:
        return (_Span("", 0.0, inf),)
    if re.fullmatch(r"\d{4,5}", words):
        return (_Span("", float(words), float(words)),)
    if re.fullmatch(r"(?:[JMPQ]+\d{2,3})+", words):
        pairs = _BY_CLASS.findall(words)
        return tuple(_Span(classes, 100.0 * float(level), 100.0 * float(level)) for classes, level in pairs)
    if match := re.fullmatch(rf"{_HEIGHT}-{_HEIGHT}(?: ?INCL?| ONLY)?", words):
        return (_Span("", _feet(match[1]), _feet(match[2])),)
    if match := re.fullmatch(rf"(?:AT OR ABOVE|ABOVE|AOA) {_HEIGHT}|{_HEIGHT} AND ABOVE", words):
        return (_Span("", _feet(match[1] or match[2]), inf),)
    if match := re.fullmatch(rf"(?:AT OR BELOW|BELOW|AOB) {_HEIGHT}|{_HEIGHT} AND BELOW", words):
        return (_Span("", 0.0, _feet(match[1] or match[2])),)
    return None


def _feet(digits: str) -> float:
    """An altitude as written: of two or three digits in hundreds of feet, of more in feet."""
    return float(digits) * (100.0 if len(digits) < 4 else 1.0)
