"""What notices say of stations: out, unusable in part, not monitored, on test.

Domestic wording as in FAA Order JO 7930.2, chapter 5, section 3 (`NAV VOR/DME 301-325 BEYOND 10NM UNUSABLE`), and
plain language of item E of the ICAO form (`FUERSTENWALDE VOR/DME FWE 113.3MHZ/CH80X, VOR-PART U/S.`). Nothing is
taken from a clause that does not match as a whole.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TypeAlias

from msgspec import Struct

from navlog.nav.notices import AidTold, Effect, OtherMatter, StationOut, StationSector, StationUnmonitored
from navlog.nav.problems import NavlogError
from navlog.nav.sectors import Sector
from navlog.nav.units import read_altitude_ft

_OUT = (
    r"U/S|OTS|OUT OF SERVICE|OUT OF SER|UNSERVICEABLE|DECOMMISSIONED|NOT AVBL|NOT AVAILABLE|SHUT ?DOWN|WITHDRAWN|INOP"
)
_TEST = r"ON TEST|TEST(?:ING)?|ON MAINT(?:ENANCE)?|UNDER TEST|TEST TRANSMISSIONS?"
_NO_IDENT = r"ID(?:ENT(?:IFICATION)?)? (?:REMOVED|U/S|OTS|OUT OF SERVICE|UNREL(?:IABLE)?|NOT TRANSMITTED)"
_UNMONITORED = r"NOT (?:MNT|MONITORED|MON)|UNMON(?:ITORED)?|UNMNT"
_WHY = r"(?: (?:DUE|FOR|BECAUSE)\b[^.]*)?"

# FAA Order JO 7930.2, 5-3: the components of a facility; TACAN azimuth is of no use to a VOR receiver.
_PARTS: dict[str, str | None] = {
    "VOR": "vor",
    "VOR AZM": "vor",
    "VOR/DME": "both",
    "VOR AND DME": "both",
    "VOR/DME VOR": "vor",
    "VOR/DME AZM": "vor",
    "VOR/DME DME": "dme",
    "VORTAC": "both",
    "VORTAC VOR": "vor",
    "VORTAC DME": "dme",
    "VORTAC TACAN": "dme",
    "VORTAC TACAN DME": "dme",
    "VORTAC TACAN AZM": None,
    "TACAN": "dme",
    "TACAN DME": "dme",
    "TACAN AZM": None,
    "TACAN AZM AND DME": "dme",
    "TACAN DME AND AZM": "dme",
    "DME": "dme",
}
_AID = "|".join(sorted(_PARTS, key=len, reverse=True))
_DOMESTIC = re.compile(rf"(?:(?P<ident>[A-Z]{{2,3}}) )?(?P<aid>{_AID})(?: PORTION)?(?: (?P<state>.+))?")
_OTHER_AIDS = re.compile(
    r"(?:[A-Z]{2,3} )?(ILS|LOC|LDA|SDF|MLS|NDB|VOT|GBAS|GLS|OM|MM|IM|LOM|MARKER|FAN MARKER|PAR|WAAS)\b"
)

_CLAUSE = re.compile(
    r"(?:(?:RADIALS?|RDLS?|AZM|R-)? ?(?P<start>\d{3})(?:DEG)?"
    r"(?: ?(?:-|TO|THRU) ?(?:R-)?(?P<end>\d{3})(?:DEG)?)?(?: CLOCKWISE)?)?"
    r"(?: ?(?:BEYOND|BYD) (?P<beyond>\d{1,3}(?:\.\d+)?) ?NM)?"
    r"(?: ?(?:BELOW|BLW|BLO) (?P<below>\d{1,2},\d{3}|\d{3,5})(?: ?FT)?(?: MSL)?)?"
)
_RANGE_AFTER = re.compile(r"(?:BEYOND|BYD) (?P<beyond>\d{1,3}) ?NM ON (?:RADIAL|RDL) (?P<start>\d{3})(?:DEG)?")

_LONGEST = 600
_OfStation: TypeAlias = StationOut | StationSector | StationUnmonitored


class Taken(Struct, frozen=True):
    """What was understood of a text, and why the rest was not, if so; what is told of a station without identifier."""

    effects: tuple[Effect, ...] = ()
    unread: str | None = None
    aid: AidTold | None = None


def read_station_clause(text: str, location: str) -> Taken:
    """What a domestic notice says after `NAV`, of the station that it is filed under; `text` is one line."""
    text = _plain(text)
    # The patterns match as a whole and may go back over the text: an endless one is not for them.
    if len(text) > _LONGEST:
        return Taken(unread="it is longer than any that is known")
    if (other := _OTHER_AIDS.match(text)) is not None:
        return Taken((OtherMatter(other[1]),))
    match = _DOMESTIC.fullmatch(text)
    if match is None or match["state"] is None:
        return Taken(unread="its words for a station are not known")
    part = _PARTS[match["aid"]]
    if part is None:
        return Taken((OtherMatter("TACAN azimuth"),))
    effects = _state(match["state"], match["ident"] or location, part)
    return Taken(effects) if effects else Taken(unread="what it says of the station is not known")


def _plain(text: str) -> str:
    plain = " ".join(text.upper().replace("AZIMUTH", "AZM").replace(" & ", " AND ").split())
    return plain.rstrip(" .")


def _state(text: str, station: str, part: str) -> tuple[_OfStation, ...]:
    """What a station's state in words takes away; nothing where it is not known."""
    if re.fullmatch(rf"(?:{_OUT}|UNUSABLE|UNUSBL){_WHY}", text):
        return (StationOut(station, part),)
    if re.fullmatch(rf"(?:{_NO_IDENT}){_WHY}", text):
        # FAA AIM 1-1-3: without identification a station is not to be used, as it may be on the air for a test.
        return (StationOut(station, part, "without identification: not to be used"),)
    if re.fullmatch(rf"(?:{_TEST}|DO NOT USE)[.,]?(?: ?DO NOT USE)?{_WHY}", text):
        return (StationOut(station, part, "on test: not to be used"),)
    if re.fullmatch(rf"(?:{_UNMONITORED}){_WHY}", text):
        return (StationUnmonitored(station),)
    return _sectors(text, station, part)


def _sectors(text: str, station: str, part: str) -> tuple[_OfStation, ...]:
    """Sectors before or after the word for unusable, or one around it."""
    words = r"UNUSABLE|UNUSBL|NOT USABLE|U/S"
    # As remarks of FAA NASR write it: R-279 UNUSABLE BYD 50 NM.
    reach = r"(?P<reach>(?:BEYOND|BYD|BELOW|BLW|BLO) [^,;]+?)"
    around = re.fullmatch(rf"(?P<radials>[^,;]+?) (?:{words}) {reach}{_WHY}", text)
    if around is not None and " AND " not in text:
        text = f"{around['radials']} {around['reach']} UNUSABLE"
    before = re.fullmatch(rf"(?P<limits>.+?) (?:{words}){_WHY}", text)
    after = re.fullmatch(rf"(?:{words})(?: ON| BTN)? (?P<limits>.+)", text)
    match = before or after
    if match is None:
        return ()
    found: list[_OfStation] = []
    for clause in _clauses(match["limits"]):
        sector = _sector(clause, part)
        if sector is None:
            return ()
        found.append(StationSector(station, sector))
    return tuple(found)


def _clauses(text: str) -> Iterator[str]:
    """The parts between commas and `AND`, but not at the comma inside a number."""
    for clause in re.split(r"; ?|,(?!\d{3}(?:\b|FT)(?!-)) ?| AND ", text):
        yield clause.strip().removeprefix("COVERAGE ").removeprefix("BTN ").removeprefix("RDL ").strip()


def told_altitude_ft(text: str) -> float | None:
    """An altitude of a notice, `8,600`, in the bounds that one of a route file has; None for what is none, as 99999."""
    try:
        return read_altitude_ft(text.replace(",", ""))
    except NavlogError:
        return None


def _sector(clause: str, part: str) -> Sector | None:
    match = _RANGE_AFTER.fullmatch(clause) or _CLAUSE.fullmatch(clause)
    if match is None or not clause:
        return None
    told = match.groupdict()
    start, end, beyond, below = (told.get(key) for key in ("start", "end", "beyond", "below"))
    # Without radials it is unusable all round, beyond the distance or below the altitude told.
    first, last = (0.0, 360.0) if start is None else (float(start), float(end or start))
    below_ft = told_altitude_ft(below) if below is not None else None
    if first > 360.0 or last > 360.0 or (below is not None and below_ft is None):
        return None
    return Sector(
        first,
        last,
        None if beyond is None else float(beyond),
        below_ft,
        part,
        clause,
    )


_FREQUENCY = re.compile(
    r"(?:\bFREQ(?:UENCY)?\.? ?)?\b1[01]\d\.\d{1,3}(?: ?MHZ)?\b|\bCH(?:ANNEL)? ?\d{1,3}[XY]\b|\b1[01]\d ?MHZ\b"
)
_QUOTED = r"['\"(/][A-Z]{2,3}['\")/]"
_NO_IDENTS = frozenset(
    ("OUT", "NOT", "DUE", "FOR", "AND", "ALL", "CHG", "NEW", "SID", "NON", "LTD", "THE", "ARE", "WIP")
)
_AN_IDENT = rf"(?!(?:{'|'.join(sorted(_NO_IDENTS))})\b)[A-Z]{{3}}"
_STATES = rf"{_OUT}|{_TEST}|{_UNMONITORED}|{_NO_IDENT}|UNUS|LIM"
# Behind an identifier four letters are the station's name, `FWE/FUERSTENWALDE`; three may be a second station's.
_ICAO = re.compile(
    rf"(?:(?P<before>[A-Z][A-Z '.()/-]*?) )??(?P<aid>[DC]?VOR/DME|[DC]?VORTAC|[DC]?VOR|TACAN|DME)"
    rf"(?: ?(?P<after>(?:(?!{_STATES})[A-Z][A-Z '.-]*? )?{_QUOTED}"
    rf"|{_AN_IDENT}(?:/[A-Z]{{4,}})?(?= |$|,|\.|:)))?[ ,:/-]*"
    r"(?:(?P<part>[DC]?VOR|DME|TACAN)[ -](?:PART|PORTION|COMPONENT)[ ,]*)?(?P<state>.+)"
)
_MORE_AIDS = re.compile(r"\b(?:[DC]?VOR(?:TAC|/DME)?|DME|TACAN|RADIAL|RDL)\b")


def read_plain_language(text: str) -> Taken:
    """What item E of the ICAO form says of a VOR, VORTAC, TACAN or DME, which it must name by its identifier."""
    plain = _plain(text).replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    plain = " ".join(re.sub(r"(?<!/[A-Z]{2})(?<!/[A-Z]{3}) ?/ ?(?= |$|,)", " ", _FREQUENCY.sub(" ", plain)).split())
    plain = re.sub(r"\bRADIALS?\s(?=\d)", "RADIAL ", plain).replace(" ,", ",")
    first, *rest = re.split(r"(?<!\b\d)\.(?=\s)", plain)
    if len(first) > _LONGEST:
        return Taken(unread="it is longer than any that is known")
    if _ICAO.fullmatch(first) is not None and rest and rest[0].strip() == "DO NOT USE":
        first, rest = f"{first}. DO NOT USE", rest[1:]
    match = _ICAO.fullmatch(first)
    if match is None:
        return Taken(unread="its words for a station are not known")
    ident = _identifier(match["before"], match["after"])
    aid = match["aid"].lstrip("DC") if "VOR" in match["aid"] else match["aid"]
    part = _PARTS[match["part"].lstrip("DC") if match["part"] not in (None, "DME") else match["part"] or aid]
    if part is None:
        return Taken((OtherMatter("TACAN azimuth"),))
    effects = _state(_unlisted(match["state"]), ident or "", part)
    # What is wholly out can lose no more, whatever else is told of procedures.
    more = ". ".join(rest).strip()
    whole = not more or (any(isinstance(one, StationOut) for one in effects) and not _MORE_AIDS.search(more))
    if ident is None:
        # Of two that are named, the one of the frequency told is not the only one.
        several = re.search(r"[/(-]", match["before"] or "") is not None or match["after"] is not None
        several = several or re.match(rf"{_AN_IDENT}[/-]{_AN_IDENT}\b", match["state"]) is not None
        unread = f"it {'may name more than one station' if several else 'tells its station without an identifier'}"
        return Taken(unread=unread, aid=AidTold(match["before"], effects=effects if whole and not several else ()))
    if not effects:
        return Taken(unread="what it says of the station is not known")
    return Taken(effects, None if whole else "a part of it is not understood")


def _unlisted(state: str) -> str:
    """The state without the heading and numbers of a list: `LIMITED TO USE: 1. U/S BTN ...`."""
    text = re.sub(r"^(?:LIMITED TO USE|LIMITATION):? ?", "", state)
    return re.sub(r"^1\. ?", "", text)


def _identifier(before: str | None, after: str | None) -> str | None:
    """The identifier after the kind of aid, or before it where it stands alone or in quotes there."""
    if after is not None:
        *name, quoted_or_alone = re.split(r" (?=['\"(/])", after)
        ident = quoted_or_alone.strip("'\"()/").partition("/")[0]
        # Another three letters before may be the identifier of a second station: `QHB (QEL)`.
        if any(re.fullmatch(_AN_IDENT, one) and one != ident for one in name):
            return None
        return ident if ident not in _NO_IDENTS else None
    if before is None:
        return None
    quoted = {one.strip("'\"()/") for one in re.findall(_QUOTED, before)}
    if quoted:
        return quoted.pop() if len(quoted) == 1 else None
    # Three letters of a station's name alone may be its identifier; four or more, or words, are its name.
    return before if re.fullmatch(r"[A-Z]{3}", before) and before not in _NO_IDENTS else None
