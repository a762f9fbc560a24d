"""What notices say of other things than stations and airways: an aerodrome that is closed, and what changes no log.

Wording as in FAA Order JO 7930.2 (`AD AP CLSD`) and in item E of the ICAO form (`AD CLSD DUE WIP`). A closing with
conditions is not understood: it is printed whole, and whom it closes the aerodrome to is for the pilot to read.
"""

from __future__ import annotations

import re

from navlog.nav.notices import AirportClosed, Disc, NoFuel, OtherMatter
from navlog.request.notice_obstacles import AMONG, BEGINS, OBSTACLE, read_obstacle
from navlog.request.notice_stations import Taken

KEYWORDS = {
    "RWY": "a runway",
    "TWY": "a taxiway",
    "APRON": "an apron",
    "RAMP": "an apron",
    "AD": "an aerodrome",
    "OBST": OBSTACLE,
    "COM": "communications",
    "SVC": "a service",
    "AIRSPACE": "airspace",
    "IAP": "an approach procedure",
    "ODP": "a departure procedure",
    "SID": "a departure procedure",
    "STAR": "an arrival procedure",
    "VFP": "a visual procedure",
    "SPECIAL": "a special procedure or notice",
    "SECURITY": "security",
    "CHART": "a chart",
    "DATA": "published data",
    "CONSTRUCTION": "construction",
}
Q_GROUPS = {
    "A": "airspace",
    "C": "communications",
    "F": "an aerodrome",
    "G": "satellite navigation",
    "I": "an instrument landing system",
    "L": "lighting",
    "M": "movement and landing areas",
    "O": "other information",
    "P": "procedures",
    "R": "airspace restrictions",
    "S": "air traffic services",
    "W": "a warning",
}
"""The groups of subjects of an ICAO Q code by its second letter (Doc 8126, appendix; FAA JO 7930.2, appendix B)."""

AERODROME_SUBJECTS = ("FA", "FP")
"""Second and third letters of a Q code on a whole aerodrome, or heliport (Doc 8126, NOTAM code; from memory)."""

AIRWAY_SUBJECTS = ("AA", "AL", "AN", "AP", "AR", "AX")
"""Those on minimum altitudes and levels, routes, reporting and significant points (FAA JO 7930.2, appendix B)."""

AIRWAY_UNREAD = "its words for an airway are not known"

_UNSURE = frozenset(
    (
        *(KEYWORDS[one] for one in ("AIRSPACE", "SPECIAL", "SECURITY", "CHART", "DATA")),
        *(Q_GROUPS[one] for one in "AORSW"),
    )
)
"""Subjects that may concern an airway, a station or a fix that the words name."""

_LEAVES_OPEN = re.compile(r"A[FGKLOX]|[CH][A-Z]|TT")
"""Fourth and fifth letters that leave an aerodrome open: in operation, changed, a hazard (Doc 8126; from memory).

TT is of a notice that announces an amendment of the AIP (from memory).
"""

_TOLD_IN_WORDS = re.compile(
    r"\b(?:VOR|VORTAC|VOR/DME|DVOR|TACAN|DME)\b.{0,60}?\b(?:OUT OF SERVICE|U/S|OTS|UNUSABLE|UNUSBL|INOP|NOT AVBL)"
    r"|\b[VJTQ]\d{1,3}\b.{0,200}?\b(?:MEA|MOCA|MAA|MCA|MRA|COP)\b|\b(?:MRA|CHANGE ?OVER POINT)\b|\bR-\d{3} UNUSABLE",
    re.DOTALL,
)
"""What would change a log, in a notice whose subject changes none: it is then not understood."""

_TELLS_OF_AIRWAY = re.compile(
    r"^(?:THE )?(?:[A-Z]+ )?(?:ATS R(?:OU)?TES?|AWYS?|AIRWAYS?)\b"
    r"|^[A-Z]{1,2}\d{1,3} (?:(?:BTN|BETWEEN|SEGMENT|SEG|FROM)\b|[A-Z]{2,5} ?-)"
)
"""Words that begin with an airway, or a part of one."""

_LOW = re.compile(r"\b(?:SFC|GND)-[1-4]?\d\d ?FT AGL\b")
"""Below 500 ft above the ground, where unmanned aircraft fly (14 CFR 107.51: to 400 ft), no flight goes its way."""

_KINDS = r"FUEL|AVGAS|MOGAS|100 ?LL|UL ?9\d|JET ?A-?1?"
_FUEL = rf"\b(?:{_KINDS}|FUELL?ING|REFUELL?ING)\b"
_NO_FUEL = re.compile(
    rf"\bNO (?:{_KINDS})\b|{_FUEL}[^.]{{0,40}}?"
    r"\b(?:NOT AVBL|NOT AVAILABLE|UNAVBL|UNAVAILABLE|NA|U/S|OTS|OUT OF SERVICE|CLSD|CLOSED|SUSPENDED|NIL)\b"
)
_FUEL_AT_HOURS = re.compile(
    rf"{_FUEL}[^.]{{0,40}}?\b(?:AVBL|AVAILABLE)\b[^.]{{0,40}}?(?:\d{{4}} ?-|\bSR-|\bONLY\b|\bO/R\b)"
)
"""Fuel to be had at some hours, or on request, and so at others not."""

_FUEL_TOLD = re.compile(rf"{_NO_FUEL.pattern}|{_FUEL}[^.]{{0,40}}?\b(?:AVBL|AVAILABLE)\b")
_EXCEPT = re.compile(r"\b(?:EXC|EXCP|EXCEPT|EXCEPTING|EXCLUDING|OTHER THAN|APART FROM|BUT|SAVE|ONLY|UNLESS)\b")
_SENTENCE = re.compile(r"\.(?!\d)")
"""The end of a sentence, where it is not the point of a frequency."""

_AERODROME = r"(?:AD|AP|ARPT|AERODROME|AIRPORT|AIRFIELD|AIRSTRIP|HELIPORT|HELIPAD|SEAPLANE BASE)"
_CLOSES = r"(?:CLSD|CLOSED|CLOSURE|CLSR|SHUT|UNUSABLE|NA|PROHIBITED|PROHIB|SUSPENDED|NOT AUTHORIZED)"
_FAILS = r"(?:U/S|UNSERVICEABLE)"
"""What lights and wind indicators are too: it shuts an aerodrome only where it is said of the ground landed on."""
_ALL_RUNWAYS = rf"(?:\bALL (?:RWYS?|RUNWAYS?)|\bRWYS? ALL)\b.{{0,40}}?\b(?:{_CLOSES}|{_FAILS})(?!\w)"
_IS = r"(?: (?:IS|ARE|WILL BE|TEMPO(?:RARILY)?|TEMP|NOW|CURRENTLY|PARTLY|REMAINS))*"
_GROUND = (
    r"(?: (?:(?:MANO?EUVE?RING|MOVEMENT|LDG|LANDING) (?:AREA|SURFACE)|SFC|SURFACE|GRASS|STRIPS?|LANDING STRIPS?"
    r"|(?:RWYS?|RUNWAYS?)(?: \d\d[LRC]?(?:/\d\d[LRC]?)?)?))*"
)
_GROUND_FAILS = rf"\b{_AERODROME}{_IS}{_GROUND}{_IS} {_FAILS}(?!\w)"
_CLOSED = re.compile(
    rf"(?:{_AERODROME} )*(?:{_AERODROME}|(?:ALL RWYS?|ALL RUNWAYS|RWY ALL))(?: (?:IS|WILL BE|TEMPO(?:RARILY)?|TEMP))*"
    r" (?:CLSD|CLOSED)\b(?P<rest>.*)",
    re.DOTALL,
)
_CLOSED_AMONG = re.compile(rf"\b{_AERODROME}(?: [A-Z]+){{0,3}}? {_CLOSES}\b|{_GROUND_FAILS}|{_ALL_RUNWAYS}", re.DOTALL)
_SHUTTING = re.compile(rf"\b{_CLOSES}\b|\bPPR\b|\bONLY\b|\bRESTRICTED\b|\bLTD\b|\bLIMITED\b")
_TO_ALL = re.compile(
    r"\b(?:TO|FOR) (?:ALL )?(?:AIR )?(?:TFC|TRAFFIC|OPS|OPERATIONS|ALL ACFT|ALL AIRCRAFT|ALL FLIGHTS?|ALL FLTS?)\b"
)
_REASON = re.compile(r"\b(?:DUE|BECAUSE|OWING|WIP)\b")
_CONDITION = re.compile(r"\b(?:EXC[A-Z]*|ONLY|BUT|UNLESS|OPEN|AVBL|AVAILABLE|OUTSIDE|BTN|BETWEEN|PPR|WITHOUT|WO|NON)\b")
_TO_SOME = re.compile(r"\b(?:TO|FOR|AT NIGHT|NIGHT|IFR|VFR)\b")


def read_aerodrome(text: str, airports: tuple[str, ...]) -> Taken:
    """What a text on a whole aerodrome means: closed to all, not to be told, or of no figure of a log."""
    plain = " ".join(text.upper().split())
    match = _CLOSED.match(plain)
    if match is None:
        shuts = _SHUTTING.search(plain) is not None
        taken = other_matter(KEYWORDS["AD"], plain, airports)
        # Fuel that is not to be had closes nothing, so `NOT AVBL` is no word for it.
        return taken if taken.unread or not shuts else Taken(unread="it may close the aerodrome in part")
    told, *_ = _REASON.split(_TO_ALL.sub(" ", match["rest"]), maxsplit=1)
    if _TO_SOME.search(told) or _CONDITION.search(match["rest"]):
        return Taken(unread="it closes the aerodrome to some, or with exceptions")
    more = "it tells of a station or an airway, too" if _TOLD_IN_WORDS.search(match["rest"]) else None
    return Taken(tuple(AirportClosed(one) for one in airports), more)


def read_coded_aerodrome(text: str, airports: tuple[str, ...], state: str) -> Taken:
    """What item E means whose Q code is about a whole aerodrome in a `state`, its fourth and fifth letters."""
    taken = read_aerodrome(text, airports)
    if taken.unread is not None or not isinstance(taken.effects[0], OtherMatter) or _LEAVES_OPEN.fullmatch(state):
        return taken
    return Taken(unread="its code says more of the aerodrome than its words that are known")


def other_matter(subject: str, text: str, airports: tuple[str, ...] = (), circle: Disc | None = None) -> Taken:
    """A subject that changes no log, unless the words tell of a station, airway, closed aerodrome, obstacle, no fuel.

    `circle` is that of its Q line.
    """
    unsure = subject in _UNSURE and _LOW.search(text) is None
    stands = read_obstacle(text, circle) if subject == OBSTACLE or BEGINS.match(text) is not None else None
    # `MAST 5NM N OF ABC VOR, LGT U/S` may not be read for a station; it stands where it does all the same.
    kept = stands.effects if stands is not None else ()
    # `RWY 18 CLSD. ABC VOR U/S` begins with a runway and takes a station away.
    if _TOLD_IN_WORDS.search(text):
        return Taken(kept or (OtherMatter(subject),), "it tells of a station or an airway among other things")
    if _CLOSED_AMONG.search(text):
        return Taken(kept, "it may close an aerodrome")
    if unsure and _TELLS_OF_AIRWAY.search(text):
        return Taken(unread=AIRWAY_UNREAD)
    if stands is not None:
        return stands
    if airports and (fuel := _read_fuel(text, airports)) is not None:
        return fuel
    if AMONG.search(text) is not None and "RADIUS" not in text.replace(" ", ""):
        told = read_obstacle(text)
        if told.effects and told.unread is None:
            return told
    return Taken((OtherMatter(subject, not unsure),))


def _read_fuel(text: str, airports: tuple[str, ...]) -> Taken | None:
    """What a text says of fuel: none of one kind or of all, or what is for the pilot to read; None where nothing."""
    if _FUEL_AT_HOURS.search(text) and not _NO_FUEL.search(text):
        return Taken(unread="it tells at which hours, or how, fuel is to be had")
    # Which kind is needed, and whom an exception is for, the pilot knows.
    if any(_FUEL_TOLD.search(one) and _EXCEPT.search(one) for one in _SENTENCE.split(text)):
        return Taken(unread="it names an exception to what fuel is to be had, or not")
    return Taken(tuple(NoFuel(one) for one in airports)) if _NO_FUEL.search(text) else None
