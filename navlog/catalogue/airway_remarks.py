"""What the FAA's remarks on airway segments say, as far as their wording is known.

Wording as it stands in NASR AWY_SEG_ALT of 2026-05-14: another station's radial to fly, crossing and
turning altitudes in words, changeover points with conditions. Names are stations' names, not identifiers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

# Patterns are compiled when a remark first needs them: most flights meet none.
_WAY = r"(?:N|NE|E|SE|S|SW|W|NW)"
_AID = r"(?:VORTAC|VOR/DME|VOR|NDB)"

_USE_RADIAL = r"\bUSE (?:THE )?(?P<name>[A-Z][A-Z ]*?) *R[- ](?P<radial>\d{3})\b"
_MCA = rf"(?P<altitude>\d{{4,5}}) *-? *MCA (?P<name>[A-Z ]+?)(?:, ?[A-Z]{{2}})? {_AID} ?, ?(?P<way>{_WAY}) BND"
_MTA = rf"MTA (?P<airway>[A-Z]\d+) (?P<way>{_WAY}) TO (?P<onto>.+) (?P<altitude>\d{{4,5}})$"
_ONTO = rf"(?P<airways>[A-Z]\d+(?:-\d+)*) (?P<way>{_WAY})$"
_COP_AT = r"THE COP IS AT THE (?P<point>[A-Z]{5}) INT"
_COP_FROM = rf"COP (?P<distance>\d+) NM FROM AND UTILIZES (?P<name>[A-Z ]+?), ?[A-Z]{{2}} {_AID}"
_COP_MEASURED = rf"COP MEASURED FROM (?P<name>[A-Z ]+?) {_AID}"
_BEYOND_COP = (
    rf"(?:USE|UTILIZE) (?:THE )?(?P<name>[A-Z ]+?) (?:\([A-Z]{{3}}\) )?{_AID}(?: \d{{3}} M RAD)? "
    r"FROM (?:THE )?COP TO (?:THE )?(?P<until>[A-Z]{5}) (?:INT|FIX)"
)
_THROUGHOUT = r"^(?P<name>[A-Z][A-Z ]*?) *R[- ]\d{3} UNUSABLE(?:[.,]| USE |$)"
_SPEAKS_OF_GUIDANCE = r"R[- ]\d{3}\b|^USE |UTILIZE|COP MEASURED|M RAD"


@dataclass(frozen=True, slots=True)
class UseRadial:
    """Fly a radial of the station of that name."""

    name: str
    radial_deg: float


@dataclass(frozen=True, slots=True)
class CrossAt:
    """A minimum crossing altitude at the station of that name, flying the way the compass word says."""

    altitude_ft: float
    name: str
    way: str


@dataclass(frozen=True, slots=True)
class Turn:
    """A minimum turning altitude: arriving `way` on this airway, leaving `onto_way` on another."""

    altitude_ft: float
    way: str
    onto: str
    onto_way: str


@dataclass(frozen=True, slots=True)
class ChangeTo:
    """Beyond the changeover point the station of that name guides, as far as `until` where that is said."""

    name: str
    until: str | None = None


@dataclass(frozen=True, slots=True)
class MeasuredFrom:
    """The changeover point's distance counts from the station of that name."""

    name: str


@dataclass(frozen=True, slots=True)
class ChangeAt:
    """The changeover point is that fix."""

    point: str


Said = UseRadial | CrossAt | Turn | ChangeTo | MeasuredFrom | ChangeAt


def read_remark(remark: str) -> tuple[Said, ...]:
    """What a segment's remark says; nothing where its wording is not known or of no concern here."""
    text = " ".join(remark.upper().split()).rstrip(" .")
    if "MTA " in text:
        return _turns(text)
    if "MCA " in text:
        match = re.search(_MCA, text)
        return (CrossAt(float(match["altitude"]), match["name"], match["way"]),) if match else ()
    if "COP" in text:
        return _changeover(text)
    if "USE " in text and (match := re.search(_USE_RADIAL, text)):
        return (UseRadial(match["name"], float(match["radial"])),)
    return ()


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


def unusable_throughout(remark: str) -> str | None:
    """The name of the station whose radial a remark calls unusable at every distance and height."""
    match = re.search(_THROUGHOUT, " ".join(remark.upper().split()))
    return match["name"] if match is not None else None


def _turns(text: str) -> tuple[Turn, ...]:
    """One turn for each airway named, as in `MTA V465 NE TO V520 W OR V330 W 16000`."""
    match = re.search(_MTA, text)
    turns: list[Turn] = []
    for part in match["onto"].split(" OR ") if match else ():
        onto = re.match(_ONTO, part.strip())
        if onto is None or match is None:
            return ()
        first, *others = onto["airways"].split("-")
        for airway in (first, *(first[0] + other for other in others)):
            turns.append(Turn(float(match["altitude"]), match["way"], airway, onto["way"]))
    return tuple(turns)
