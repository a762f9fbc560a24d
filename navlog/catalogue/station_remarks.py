"""Unusable sectors in the FAA's remarks on stations, such as `VOR UNUSBL 150-160; 302-346`.

Wording as it stands in NASR NAV_RMK of 2026-05-14. Radials are the station's own; a `T` suffix marks true
bearings, which only stations without radials have, so those clauses stay text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TypeAlias

_Unusable: TypeAlias = tuple[float, float, float | None, float | None, str, str]
"""Start and end radial, beyond NM, below ft, the part ("vor", "dme" or "both"), the clause as published."""

_SUBJECT = re.compile(r"([A-Z][A-Z/& ]*?) +UNU?SA?BL?E?(?![A-Z]) *")
_CLAUSE = re.compile(
    r"(?:(?P<start>\d{1,3})(?: ?- ?(?P<end>\d{1,3}))?(?: ?DEGS?)?(?![\dT]))?"
    r"(?: ?(?:NM )?(?:BYD|BEYOND) ?(?P<beyond>\d+(?:\.\d+)?) ?(?:NM|MN)?(?![\dA-Z]))?"
    r"(?: ?(?:BLW|BLO|BELOW) ?(?P<below>\d{1,2},?\d{3}|\d{3,5}) ?(?:FT|')?)?"
    r"(?: ?ALL (?:ALTS|DSTCS|DSTCS & ALTS))?"
)
_BETWEEN_CLAUSES = re.compile(r"[;:]|\. |,(?!\d{3}\b(?!-))")
_PARTS = {
    "VOR": "vor",
    "VOR AZM": "vor",
    "VOR AZIMUTH": "vor",
    "DME": "dme",
    "TACAN DME": "dme",
    "VOR/DME": "both",
    "VOR & DME": "both",
    "VOR AND DME": "both",
    "VOR AZIMUTH & DME": "both",
    "VORTAC": "both",
}


def read_unusable(remark: str) -> tuple[list[_Unusable], bool]:
    """The unusable sectors that a remark tells, and whether it tells nothing else.

    Only sectors of VOR azimuth and DME are read; a remark on anything else, or with a clause that is not
    understood, is not told whole and must stay beside them.
    """
    if "UNUS" not in remark:
        return [], False
    found: list[_Unusable] = []
    text = " ".join(remark.upper().split())
    subjects = list(_SUBJECT.finditer(text))
    complete = bool(subjects) and not text[: subjects[0].start()].strip()
    for number, subject in enumerate(subjects):
        part = _PARTS.get(subject[1].replace(" PORTION", "").rstrip())
        if part is None:
            complete = False
            continue
        end = subjects[number + 1].start() if number + 1 < len(subjects) else len(text)
        for place, clause in enumerate(_clauses(text[subject.end() : end])):
            # Later clauses without radials may go on with the radials before them: not to be guessed.
            sector = _sector(clause, part) if place == 0 or clause[:1].isdigit() else None
            if sector is None:
                complete = False
            else:
                found.append(sector)
    return found, complete


def _clauses(text: str) -> Iterator[str]:
    """The parts between separators, but not at the comma inside a number."""
    for clause in _BETWEEN_CLAUSES.split(text):
        plain = clause.strip(" .").removeprefix("AND ")
        if plain:
            yield plain


def _sector(clause: str, part: str) -> _Unusable | None:
    match = _CLAUSE.fullmatch(clause)
    if match is None:
        return None
    start, end, beyond, below = match.group("start", "end", "beyond", "below")
    if start is None and beyond is None and below is None:
        return None
    first, last = (0.0, 360.0) if start is None else (float(start), float(end or start))
    if first > 360.0 or last > 360.0:
        return None
    return (
        first,
        last,
        None if beyond is None else float(beyond),
        None if below is None else float(below.replace(",", "")),
        part,
        clause,
    )
