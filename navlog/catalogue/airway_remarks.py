"""What the FAA's remarks on airway segments say, as far as their wording is known.

Wording as it stands in NASR AWY_SEG_ALT of 2026-05-14: another station's radial to fly, crossing and
turning altitudes in words, changeover points with conditions. Names are stations' names, not identifiers.
"""

from __future__ import annotations

import re
from typing import NamedTuple

# Patterns are compiled when a remark first needs them: most flights meet none.
_WAYS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
_WAY = f"(?:{'|'.join(_WAYS)})"
_AID = r"(?:VORTAC|VOR/DME|VOR|NDB)"

_USE_RADIAL = r"\bUSE (?:THE )?(?P<name>[A-Z][A-Z ]*?) *R[- ](?P<radial>\d{3})\b"
_MCA = rf"(?P<altitude>\d{{4,5}}) *-? *MCA (?P<name>[A-Z ]+?)(?:, ?[A-Z]{{2}})? {_AID} ?, ?(?P<way>{_WAY}) BND"
_COP_AT = r"THE COP IS AT THE (?P<point>[A-Z]{5}) INT"
_COP_FROM = rf"COP (?P<distance>\d+) NM FROM AND UTILIZES (?P<name>[A-Z ]+?), ?[A-Z]{{2}} {_AID}"
_COP_MEASURED = rf"COP MEASURED FROM (?P<name>[A-Z ]+?) {_AID}"
_BEYOND_COP = (
    rf"(?:USE|UTILIZE) (?:THE )?(?P<name>[A-Z ]+?) (?:\([A-Z]{{3}}\) )?{_AID}(?: \d{{3}} M RAD)? "
    r"FROM (?:THE )?COP TO (?:THE )?(?P<until>[A-Z]{5}) (?:INT|FIX)"
)
_UNUSABLE = r"^(?:GNSS REQUIRED )?(?P<name>[A-Z][A-Z ]*?) *R[- ](?P<radial>\d{3}) (?:UNUSABLE|UNSABLE|UNUSBL)\b[.,]?"
_LIMITS = (
    r"(?: (?:BEYOND|BYD) (?P<beyond>\d+) ?NM)?(?: BELOW (?P<below>\d{3,5}))?"
    r"(?: (?P<first>[A-Z]{5})(?:-| TO )(?P<last>[A-Z]{5}))?(?:[.,]? USE .*)?"
)
_SUBJECT = r"^(?:GNSS REQUIRED )?(?P<name>[A-Z][A-Z ]*?) *R[- ]\d{3}\b"
_SPEAKS_OF_GUIDANCE = r"R[- ]\d{3}\b|^USE |UTILIZE|COP MEASURED|M RAD"


class UseRadial(NamedTuple):
    """Fly a radial of the station of that name."""

    name: str
    radial_deg: float


class Unusable(NamedTuple):
    """The radial of the station of that name is not to be used, as far as the limits say.

    `beyond_nm` counts from the station, `below_ft` is an altitude, and `between` two points of the airway;
    None where the remark sets no such limit.
    """

    name: str
    radial_deg: float
    beyond_nm: float | None = None
    below_ft: float | None = None
    between: tuple[str, str] | None = None


class CrossAt(NamedTuple):
    """A minimum crossing altitude at the station of that name, flying the way the compass word says."""

    altitude_ft: float
    name: str
    way: str


class Turn(NamedTuple):
    """A minimum turning altitude: arriving `way` on this airway, leaving `onto_way` on another."""

    altitude_ft: float
    way: str
    onto: str
    onto_way: str


class ChangeTo(NamedTuple):
    """Beyond the changeover point the station of that name guides, as far as `until` where that is said."""

    name: str
    until: str | None = None


class MeasuredFrom(NamedTuple):
    """The changeover point's distance counts from the station of that name."""

    name: str


class ChangeAt(NamedTuple):
    """The changeover point is that fix."""

    point: str


Said = UseRadial | Unusable | CrossAt | Turn | ChangeTo | MeasuredFrom | ChangeAt


def read_remark(remark: str) -> tuple[Said, ...]:
    """What a segment's remark says; nothing where its wording is not known or of no concern here."""
    text = " ".join(remark.upper().split()).rstrip(" .")
    if "MTA " in text:
        return _turns(text)
    if "MCA " in text:
        return tuple(
            CrossAt(float(match["altitude"]), match["name"], match["way"]) for match in re.finditer(_MCA, text)
        )
    if "COP" in text:
        return _changeover(text)
    found: list[Said] = []
    if (unusable := _unusable(text)) is not None:
        found.append(unusable)
    if "USE " in text and (match := re.search(_USE_RADIAL, text)):
        found.append(UseRadial(match["name"], float(match["radial"])))
    return tuple(found)


def _unusable(text: str) -> Unusable | None:
    """What is unusable; None where something stands behind it that may be a limit and is not known."""
    match = re.match(_UNUSABLE, text)
    # All that stands behind must be known: a limit overlooked would take away too much or too little.
    limits = re.fullmatch(_LIMITS, text[match.end() :]) if match is not None else None
    if match is None or limits is None:
        return None
    beyond, below, first, last = limits.group("beyond", "below", "first", "last")
    return Unusable(
        match["name"],
        float(match["radial"]),
        float(beyond) if beyond is not None else None,
        float(below) if below is not None else None,
        (first, last) if first is not None else None,
    )


def _changeover(text: str) -> tuple[Said, ...]:
    if match := re.search(_COP_AT, text):
        return (ChangeAt(match["point"]),)
    if match := re.search(_COP_FROM, text):
        return (ChangeTo(match["name"]),)
    if match := re.search(_COP_MEASURED, text):
        return (MeasuredFrom(match["name"]),)
    if match := re.search(_BEYOND_COP, text):
        return (ChangeTo(match["name"], match["until"]),)
    return ()


def speaks_of_guidance(remark: str) -> bool:
    """True where a remark names a radial or a station to use, whether or not it can be read."""
    return re.search(_SPEAKS_OF_GUIDANCE, remark.upper()) is not None


def station_spoken_of(remark: str) -> str | None:
    """The name of the station whose radial a remark is about that begins with it; None where none is named so."""
    match = re.match(_SUBJECT, " ".join(remark.upper().split()))
    return match["name"] if match is not None else None


def _turns(text: str) -> tuple[Turn, ...]:
    """One turn for each airway named, as in `MTA V465 NE TO V520 W OR V330 W 16000`."""
    words = text.partition("MTA ")[2].split()
    if len(words) < 6 or words[1] not in _WAYS or words[2] != "TO" or not words[-1].isdigit():
        return ()
    turns: list[Turn] = []
    for part in " ".join(words[3:-1]).split(" OR "):
        airways, _, onto_way = part.partition(" ")
        first, *others = airways.split("-")
        if onto_way not in _WAYS or not first[1:].isdigit() or not all(map(str.isdigit, others)):
            return ()
        for airway in (first, *(first[0] + other for other in others)):
            turns.append(Turn(float(words[-1]), words[1], airway, onto_way))
    return tuple(turns)
