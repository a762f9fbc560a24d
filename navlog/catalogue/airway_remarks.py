"""What the FAA's remarks on airway segments say, as far as their wording is known.

Wording as it stands in NASR AWY_SEG_ALT of 2026-05-14: another station's radial to fly, crossing and
turning altitudes in words, changeover points with conditions. Names are stations' names, not identifiers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_WAY = r"(?:N|NE|E|SE|S|SW|W|NW)"
_AID = r"(?:VORTAC|VOR/DME|VOR|NDB)"

_USE_RADIAL = re.compile(r"\bUSE (?:THE )?(?P<name>[A-Z][A-Z ]*?) *R[- ](?P<radial>\d{3})\b")
_MCA = re.compile(
    rf"(?P<altitude>\d{{4,5}}) *-? *MCA (?P<name>[A-Z ]+?)(?:, ?[A-Z]{{2}})? {_AID} ?, ?(?P<way>{_WAY}) BND"
)
_MTA = re.compile(rf"MTA (?P<airway>[A-Z]\d+) (?P<way>{_WAY}) TO (?P<onto>.+) (?P<altitude>\d{{4,5}})$")
_ONTO = re.compile(rf"(?P<airways>[A-Z]\d+(?:-\d+)*) (?P<way>{_WAY})$")
_COP_AT = re.compile(r"THE COP IS AT THE (?P<point>[A-Z]{5}) INT")
_COP_FROM = re.compile(rf"COP (?P<distance>\d+) NM FROM AND UTILIZES (?P<name>[A-Z ]+?), ?[A-Z]{{2}} {_AID}")
_COP_MEASURED = re.compile(rf"COP MEASURED FROM (?P<name>[A-Z ]+?) {_AID}")
_BEYOND_COP = re.compile(
    rf"(?:USE|UTILIZE) (?:THE )?(?P<name>[A-Z ]+?) (?:\([A-Z]{{3}}\) )?{_AID}(?: \d{{3}} M RAD)? "
    r"FROM (?:THE )?COP TO (?:THE )?(?P<until>[A-Z]{5}) (?:INT|FIX)"
)
_SPEAKS_OF_GUIDANCE = re.compile(r"R[- ]\d{3}\b|^USE |UTILIZE|COP MEASURED|M RAD")


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
    if match := _MTA.search(text):
        return _turns(match)
    if match := _MCA.search(text):
        return (CrossAt(float(match["altitude"]), match["name"], match["way"]),)
    if match := _COP_AT.search(text):
        return (ChangeAt(match["point"]),)
    if match := _COP_FROM.search(text):
        return (ChangeTo(match["name"]),)
    if match := _COP_MEASURED.search(text):
        return (MeasuredFrom(match["name"]),)
    if match := _BEYOND_COP.search(text):
        return (ChangeTo(match["name"], match["until"]),)
    if match := _USE_RADIAL.search(text):
        return (UseRadial(match["name"], float(match["radial"])),)
    return ()


def speaks_of_guidance(remark: str) -> bool:
    """True where a remark names a radial or a station to use, whether or not it can be read."""
    return _SPEAKS_OF_GUIDANCE.search(remark.upper()) is not None


def _turns(match: re.Match[str]) -> tuple[Turn, ...]:
    """One turn for each airway named, as in `MTA V465 NE TO V520 W OR V330 W 16000`."""
    turns = []
    for part in match["onto"].split(" OR "):
        onto = _ONTO.match(part.strip())
        if onto is None:
            return ()
        first, *others = onto["airways"].split("-")
        for airway in (first, *(first[0] + other for other in others)):
            turns.append(Turn(float(match["altitude"]), match["way"], airway, onto["way"]))
    return tuple(turns)
