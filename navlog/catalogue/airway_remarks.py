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
_THROUGHOUT = r"^(?P<name>[A-Z][A-Z ]*?) *R[- ]\d{3} UNUSABLE(?:[.,]| USE |$)"
_SPEAKS_OF_GUIDANCE = r"R[- ]\d{3}\b|^USE |UTILIZE|COP MEASURED|M RAD"


class UseRadial(NamedTuple):
    """Fly a radial of the station of that name."""

    name: str
    radial_deg: float


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


Said = UseRadial | CrossAt | Turn | ChangeTo | MeasuredFrom | ChangeAt


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
