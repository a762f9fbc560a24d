"""What FDC notices of the subject ROUTE change on airways: MEA, MOCA, MAA, MCA, MRA, changeover points, radials.

Wording as issued, for example `ROUTE ZOA. V165 MARRI, CA TO MUSTANG (FMG) VORTAC, NV MEA 15000.`, one statement a
sentence. A sentence that does not match as a whole changes nothing and makes the notice one that is not understood.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from navlog.nav.notices import (
    CrossingMinimum,
    Effect,
    ReceptionMinimum,
    SegmentChangeover,
    SegmentClosed,
    SegmentMinimum,
    StationSector,
)
from navlog.nav.sectors import Sector
from navlog.request.notice_stations import Taken, told_altitude_ft

_AIRWAYS = r"(?P<airways>[VJTQ]\d{1,3}[A-Z]?(?:(?:, ?| AND |-)[VJTQ]\d{1,3}[A-Z]?)*)"
_AID = r"(?:VORTAC|VOR/DME|VOR|NDB/DME|NDB|TACAN|DME|NAVAID)"


def _point(name: str) -> str:
    """A point: a name with an identifier in brackets, or a fix of five letters; with its state or without."""
    return (
        rf"(?:(?:[A-Z][A-Z .'/-]*? )?\((?P<{name}_ident>[A-Z]{{2,3}})\)(?: {_AID})?|(?P<{name}_bare>[A-Z]{{3}}) {_AID}"
        rf"|(?P<{name}_fix>[A-Z]{{5}})(?: (?:INT|FIX|WP|WAYPOINT))?)(?:, [A-Z]{{2}})?"
    )


_WAY = r"(?P<way>NORTH|SOUTH|EAST|WEST|NORTHEAST|NORTHWEST|SOUTHEAST|SOUTHWEST) ?BOUND"
_LIMIT = (
    rf"(?P<kind>MEA|MOCA|MAA|MCA|MRA)(?: (?:IS|TO))? (?P<altitude>\d{{1,2}},\d{{3}}|\d{{3,5}})(?: ?FT)?(?: {_WAY})?"
)
_LIMIT_AGAIN = rf"(?P<altitude>\d{{1,2}},\d{{3}}|\d{{3,5}})(?: ?FT)? {_WAY}"
_RNAV = (
    r"(?: EXCEPT FOR (?:AIRCRAFT|ACFT) EQUIPPED WITH SUITABLE RNAV SYSTEMS?(?: WITH GPS)?)?(?:, [^,]* OUT OF SERVICE)?"
)

_SEGMENT = re.compile(rf"{_AIRWAYS} {_point('start')}(?: R-\d{{3}})? TO {_point('end')}(?: R-\d{{3}})?,? (?P<said>.+)")
_AT_POINT = re.compile(rf"(?:{_AIRWAYS} )?{_point('at')},? (?P<said>(?:MCA|MRA)\b.+)")
_CHANGEOVER = re.compile(
    r"(?:CHANGE ?OVER POINT|COP)(?: AT| IS)? (?:(?P<station>[A-Z]{3}) (?P<distance>\d{1,3}) ?NM"
    rf"|(?P<far>\d{{1,3}}) ?NM FROM (?:[A-Z .]+ )?\(?(?P<named>[A-Z]{{3}})\)?(?: {_AID})?)"
)
_RADIALS = re.compile(
    rf"(?:[A-Z][A-Z .'/-]*? )?\(?(?P<station>[A-Z]{{3}})\)?(?: {_AID})?,?"
    r" (?P<radials>R-\d{3}(?:(?:, ?| AND |, AND )R-\d{3})*) (?:UNUSABLE|NA)"
    r"(?: (?:BEYOND|BYD) (?P<beyond>\d{1,3}) ?NM)?(?: BELOW (?P<below>\d{1,2},\d{3}|\d{3,5})(?: ?FT)?)?"
)
_AID_WORDS = frozenset(("VOR", "TAC", "DME", "NDB"))
"""No station of FAA NASR, 2026-05-14, has one of these for its identifier."""

_LONGEST = 600


def read_route_notice(text: str) -> Taken:
    """What a notice says after `ROUTE`, `text` on one line: each sentence's effects."""
    plain = " ".join(text.upper().split())
    effects: list[Effect] = []
    unread = None
    for sentence in _sentences(plain):
        found = _sentence(sentence)
        if found is None:
            unread = "a part of it is not understood"
        else:
            effects += found
    # Nothing of it understood: said as one thing, not sentence by sentence.
    if not effects:
        return Taken(unread="its words for an airway are not known")
    return Taken(tuple(effects), unread)


def _sentences(text: str) -> Iterator[str]:
    """The sentences, without the centers that they begin with; a full stop after `ST` or `MT` ends none."""
    for sentence in re.split(r"(?<!\bST)(?<!\bMT)\.+(?=\s|$)", text):
        plain = sentence.strip()
        if plain and not re.fullmatch(r"(?:Z[A-Z]{2}[ ,]*)+", plain):
            yield plain


def _sentence(text: str) -> list[Effect] | None:
    """The effects of one sentence; None where it is not known."""
    if len(text) > _LONGEST:
        return None
    if (match := _RADIALS.fullmatch(text)) is not None:
        return _radials(match)
    if (match := _SEGMENT.fullmatch(text)) is not None:
        return _segment(match)
    if (match := _AT_POINT.fullmatch(text)) is not None:
        return _at_point(match)
    return None


def _radials(match: re.Match[str]) -> list[Effect] | None:
    beyond, below = match.group("beyond", "below")
    below_ft = told_altitude_ft(below) if below is not None else None
    radials = re.findall(r"R-(\d{3})", match["radials"])
    # Half of `VORTAC`, where a line was broken inside it, is no station.
    if match["station"] in _AID_WORDS:
        return None
    if (below is not None and below_ft is None) or any(int(radial) > 360 for radial in radials):
        return None
    effects: list[Effect] = []
    for radial in radials:
        sector = Sector(
            float(radial),
            float(radial),
            None if beyond is None else float(beyond),
            below_ft,
            "vor",
            match[0],
        )
        effects.append(StationSector(match["station"], sector))
    return effects


def _segment(match: re.Match[str]) -> list[Effect] | None:
    airways = tuple(re.findall(r"[VJTQ]\d{1,3}[A-Z]?", match["airways"]))
    start, end = _named(match, "start"), _named(match, "end")
    said = match["said"]
    if re.fullmatch(rf"(?:NA|UNUSABLE|NOT USABLE|NOT AVAILABLE){_RNAV}", said):
        return [SegmentClosed(airways, start, end)]
    if (changeover := _CHANGEOVER.fullmatch(said)) is not None:
        station = changeover["station"] or changeover["named"]
        return [SegmentChangeover(airways, start, end, station, float(changeover["distance"] or changeover["far"]))]
    limits = _limits(said)
    if limits is None or any(kind not in ("MEA", "MOCA", "MAA") for kind, _, _ in limits):
        return None
    return [SegmentMinimum(airways, start, end, *limit) for limit in limits]


def _at_point(match: re.Match[str]) -> list[Effect] | None:
    limits = _limits(match["said"])
    if limits is None:
        return None
    airways = tuple(re.findall(r"[VJTQ]\d{1,3}[A-Z]?", match["airways"] or ""))
    at = _named(match, "at")
    # An MCA binds on airways; one that names none cannot be laid on any, and is not understood.
    if any(kind not in ("MCA", "MRA") or (kind == "MCA" and not airways) for kind, _, _ in limits):
        return None
    return [
        CrossingMinimum(airways, at, altitude_ft, way) if kind == "MCA" else ReceptionMinimum(at, altitude_ft)
        for kind, altitude_ft, way in limits
    ]


def _limits(text: str) -> list[tuple[str, float, str | None]] | None:
    """The altitudes of a list: `MEA 8600 NORTHBOUND, 10000 SOUTHBOUND AND MOCA 7000`; None where one is not known."""
    found: list[tuple[str, float, str | None]] = []
    for part in re.split(r"(?:,? AND |, |; ?)", text):
        match = re.fullmatch(_LIMIT, part)
        again = re.fullmatch(_LIMIT_AGAIN, part) if match is None and found else None
        told = match or again
        altitude_ft = told_altitude_ft(told["altitude"]) if told is not None else None
        if told is None or altitude_ft is None:
            return None
        # `MEA 8600 NORTHBOUND, 10000 SOUTHBOUND`: the kind is said once and meant twice.
        found.append((match["kind"] if match is not None else found[-1][0], altitude_ft, _way(told)))
    return found


def _way(match: re.Match[str]) -> str | None:
    return match["way"].lower() if match["way"] is not None else None


def _named(match: re.Match[str], name: str) -> str:
    """The identifier of a point."""
    return next(match[f"{name}_{kind}"] for kind in ("ident", "bare", "fix") if match[f"{name}_{kind}"] is not None)
