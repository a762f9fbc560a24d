"""Obstacles in notices: where they stand, how far around, and how high above the sea their tops are.

Wording of FAA Order JO 7930.2 (`OBST TOWER LGT (ASR 1283014) 360324.70N0972528.40W (12.3NM N GOK) 1348.1FT (315.0FT
AGL) U/S`) and of item E of the ICAO form (`CRANE OPR PSN 494731.319''N / 0044315.941''E HEIGHT : 136FT ELEV :857FT`).
An elevation is counted from the sea and a height from a datum that is told (ICAO Annex 15, definitions): height above
the ground tells no top. What is not read whole is not understood; where its place is known it keeps that.
"""

from __future__ import annotations

import re

from navlog.nav.chart import Position
from navlog.nav.notices import Disc, ObstacleTold
from navlog.nav.units import FEET_PER_NM, FOOT_M, NAUTICAL_MILE_M
from navlog.request.notice_stations import Taken, told_altitude_ft

OBSTACLE = "an obstacle"

OBSTACLE_SUBJECTS = ("OB", "OL")
"""Second and third letters of a Q code on an obstacle, or its lights (FAA JO 7930.2, appendix B; ICAO Doc 8400)."""

_KIND = r"(?:OBST[A-Z]*|CRANES?|(?:MET )?MASTS?|(?:WIND )?TURBINES?|WIND ?FARMS?|CHIMNEYS?|POWER LINES?)"
BEGINS = re.compile(rf"(?:(?:MOBILE|TOWER|TEMPO?|TEMPORARY|CONST|CONSTR|CONSTRUCTION|NEW|UNLIT|UNLGTD) )*{_KIND}\b")
"""Words that begin with an obstacle."""
AMONG = re.compile(r"\b(?:OBST|CRANE|MAST|TOWER|ANTENNA|TURBINE)")
"""Words that tell of one among other things."""

_SIGNS = re.compile(r"[\s°'\"\N{MASCULINE ORDINAL INDICATOR}\N{PRIME}\N{DOUBLE PRIME}\N{RIGHT SINGLE QUOTATION MARK}]")
"""Blanks, and the signs of degrees, minutes and seconds."""
_FRACTION = r"(?:\.\d+)?"
_PLACED = re.compile(
    rf"(?<![\d.])(?P<south_north>\d{{4}}(?:\d\d)?{_FRACTION}[NS])[/,]?(?P<west_east>\d{{5}}(?:\d\d)?{_FRACTION}[EW])"
)
_LETTERS_FIRST = re.compile(rf"\b([NS])(\d{{4}}(?:\d\d)?{_FRACTION})[ ,/]*([EW])(\d{{5}}(?:\d\d)?{_FRACTION})(?![\d.])")
_AMOUNT = r"(?<![\d.,])(?P<{0}>\d{{1,2}},\d{{3}}|\d{{1,5}}(?:\.\d+)?)(?P<{0}_unit>FT|M(?!SL))"
_OF_THE_GROUND = "".join(
    rf"(?<!{one})" for one in ("GND", "GROUND", "SITE", "BASE", "TERRAIN", "AD", "ARP", "RWY", "THR")
)
_ELEVATION = rf"{_OF_THE_GROUND}ELEV(?:ATION)?(?:MAX|OF|TOP|[:=.])*"
_TOP = re.compile(
    rf"{_ELEVATION}{_AMOUNT.format('elevation')}(?!A?GL)"
    rf"|{_AMOUNT.format('top')}(?:\(?A?MSL|\([\d.,]+(?:FT|M)\)A?MSL|ABOVEM|\((?=[^)]*AGL))"
)
"""`1348.1FT (315.0FT AGL)` in the domestic form, `HGT 200FT AMSL`, `MAX ELEV 3658M` in the ICAO form; blanks out."""
_RADIUS_AMOUNT = r"(?P<{0}>\d+(?:\.\d+)?|\.\d+)(?P<{0}_unit>NM|KM|FT|M(?!I))"
_RADIUS = re.compile(
    rf"{_RADIUS_AMOUNT.format('before')}RADIUS|RADIUS(?:OF|[:=])?{_RADIUS_AMOUNT.format('after')}"
    rf"|(?:WI|WITHIN){_RADIUS_AMOUNT.format('within')}(?:OF|FROM|FM|AROUND)"
)
_WIDEST_AREA_NM = 25.0
"""Places farther from their middle are of no one area (common practice, no source)."""
_WIDEST_DOUBTED_NM = 100.0
"""Places no farther from their middle may still bound one area, and a flight near it is told to read the notice."""
_BESIDE = re.compile(
    rf"{_RADIUS_AMOUNT.format('corridor')}(?:EITHERSIDE|EITHSIDE|EACHSIDE|BOTHSIDES|WIDE|ONEITHER|ONEACH|ONBOTH|LEFTAND)"
    r"|CORRIDOR|BUFFER"
)
"""Words of a width about a line, which no circle is."""
_OFFSET = re.compile(
    r"(?:NM|KM|MILES?|SM|(?<=\d)(?:FT|M))"
    r"(?:(?:TO|ON|DUE|THE)*(?:N|S|E|W|NE|NW|SE|SW|NN[EW]|SS[EW]|E[NS]E|W[NS]W|(?:NORTH|SOUTH)?(?:EAST|WEST)|NORTH|SOUTH)"
    r"(?:ERN|ERLY|WARDS?)?|(?:ON)?(?:BRG|BEARING|RADIAL|TRACK)\d{3}(?:DEG(?:REES)?)?T?)"
    r"(?:OF|FM|FROM)(?:THE|PSN|POSITION|POINT|COORD[A-Z]*|REF[A-Z]*|ARP|[(:=])*$"
)
"""A distance and direction from the place that follows: the obstacle itself stands elsewhere. Blanks are out."""
_BEARING = re.compile(
    r"(?:\d{3}DEG(?:REES)?|(?:BRG|BEARING)\d{3})(?:TRUE|MAG|[TM])?[/,]?(?:AT)?(?:\d+(?:\.\d+)?|\.\d+)(?:NM|KM|MILES?|SM)"
    r"(?:(?:OF|FM|FROM)(?:PSN|POSITION)?)?[,(]*$"
)
"""A bearing and then a distance, before the place that they are counted from."""
_OFFSET_AFTER = re.compile(r"OFFSET|DISPLACED")
"""Words that move an obstacle away from its place, wherever they stand."""
_DISTANCE = re.compile(r"(?P<told>\d+(?:\.\d+)?|\.\d+)(?P<told_unit>NM|KM|FT|MILES?|SM|M)")
_UNTOLD_WIDTH_NM = 5.0
"""How far about a strip whose width is not told a flight is told to read the notice (common practice, no source)."""
_IN_NM = {"NM": 1.0, "KM": 1_000.0 / NAUTICAL_MILE_M, "M": 1.0 / NAUTICAL_MILE_M, "FT": 1.0 / FEET_PER_NM}


def read_obstacle(text: str, circle: Disc | None = None) -> Taken:
    """The obstacles of a text; `circle`, that of a Q line, is where one stands that tells no place itself."""
    plain = _LETTERS_FIRST.sub(r"\2\1\4\3 ", text.upper())
    # Lines are broken inside numbers, too: without the blanks a number only grows.
    glued = re.sub(r"(?<=\d\d)-(?=\d\d(?:-\d\d)?(?:\.\d+)?[NSEW])", "", _SIGNS.sub("", plain))
    marks = list(_PLACED.finditer(glued))
    if not marks:
        tops = _tops_ft(glued)
        if circle is None:
            return Taken(unread="where the obstacle stands is not read")
        return _told([circle], [max(tops)] if tops else [None])
    places = [read_position(one["south_north"], one["west_east"]) for one in marks]
    known = [one for one in places if one is not None]
    if None in places:
        return _unheld(known, circle, f"its position {marks[places.index(None)][0]} is none")
    if _OFFSET_AFTER.search(glued) is not None or any(
        pattern.search(glued, max(one.start() - 60, 0), one.start()) for one in marks for pattern in (_OFFSET, _BEARING)
    ):
        return _unheld(known, circle, "where the obstacle stands from its position is not read", _offset_nm(glued))
    if _BESIDE.search(glued) is not None:
        told = [(one["corridor"], one["corridor_unit"]) for one in _BESIDE.finditer(glued) if one["corridor"]]
        width_nm = max((float(width) * _IN_NM[unit] for width, unit in told), default=_UNTOLD_WIDTH_NM)
        return _unheld([], circle, "how wide the obstacles' strip is, is not read", around=_around(known, width_nm))
    radius_nm = _radius_nm(glued)
    if radius_nm is None:
        return _unheld(known, circle, "how wide the obstacle's area is, is not read")
    ends = [*(one.start() for one in marks[1:]), len(glued)]
    after = [_tops_ft(glued[one.end() : end]) for one, end in zip(marks, ends, strict=True)]
    before = _tops_ft(glued[: marks[0].start()])
    # Each place followed by its own height is an obstacle; else they bound an area below the highest of the heights.
    if all(after) and not before:
        return _told([Disc(one, radius_nm) for one in known], [max(tops) for tops in after])
    area = _around(known, radius_nm)
    if area.radius_nm > radius_nm + _WIDEST_AREA_NM:
        # Their middle, too, where that may be: a flight through it must not be told nothing.
        around = area if area.radius_nm <= radius_nm + _WIDEST_DOUBTED_NM else None
        return _unheld(known, circle, "its places are too far apart for one area", around=around)
    tops = [top_ft for found in (before, *after) for top_ft in found]
    return _told([area], [max(tops) if tops else None])


def _offset_nm(glued: str) -> float:
    """The farthest distance that a text without blanks tells, in which an obstacle may stand from a place."""
    told = [(float(one["told"]), one["told_unit"]) for one in _DISTANCE.finditer(glued)]
    return max((amount * _IN_NM.get(unit, 1.0) for amount, unit in told), default=0.0)


def _unheld(
    places: list[Position],
    circle: Disc | None,
    unread: str,
    within_nm: float = 0.0,
    around: Disc | None = None,
) -> Taken:
    """What is not understood, with the places within a distance of which it may stand."""
    known = [one for one in (around, circle) if one is not None]
    near = [*(Disc(one, within_nm) for one in places), *known]
    return Taken(tuple(ObstacleTold(one.middle, None, one.radius_nm) for one in near), unread)


def _told(circles: list[Disc], tops_ft: list[float | None]) -> Taken:
    """The obstacles of some places, each with its top; not understood where one is not known."""
    # No mountain with a mast reaches 60,000 ft, which is the highest altitude of a route file.
    bounded = [one if one is not None and told_altitude_ft(f"{one:.0f}") is not None else None for one in tops_ft]
    told = tuple(
        ObstacleTold(circle.middle, top_ft, circle.radius_nm) for circle, top_ft in zip(circles, bounded, strict=True)
    )
    unread = "how high the obstacle is above the sea is not read" if None in bounded else None
    return Taken(told, unread)


def _tops_ft(glued: str) -> list[float]:
    """The heights above the sea of a text without blanks, in feet."""
    found = []
    for one in _TOP.finditer(glued):
        kind = "elevation" if one["elevation"] is not None else "top"
        amount = float(one[kind].replace(",", ""))
        found.append(amount if one[f"{kind}_unit"] == "FT" else amount / FOOT_M)
    return found


def _radius_nm(glued: str) -> float | None:
    """How far an obstacle's area reaches from its place; 0 where it has none, None where that is not read."""
    found = [
        float(one[kind]) * _IN_NM[one[f"{kind}_unit"]]
        for one in _RADIUS.finditer(glued)
        for kind in ("before", "after", "within")
        if one[kind] is not None
    ]
    if not found and re.search(r"RADIUS|DIAMETER|CIRCLE", glued) is not None:
        return None
    return max(found, default=0.0)


def _around(places: list[Position], radius_nm: float) -> Disc:
    """The circle about the middle of some places that holds them, and `radius_nm` around each."""
    from navlog.nav.earth import distance_nm

    if len(places) == 1:
        return Disc(places[0], radius_nm)
    latitudes = [one.latitude_deg for one in places]
    # East of the first, so that an area across longitude 180 has its middle in it and not half round the earth.
    west_deg = places[0].longitude_deg
    east = [(one.longitude_deg - west_deg + 180.0) % 360.0 - 180.0 for one in places]
    middle_deg = (west_deg + (min(east) + max(east)) / 2.0 + 180.0) % 360.0 - 180.0
    middle = Position((min(latitudes) + max(latitudes)) / 2.0, middle_deg)
    return Disc(middle, radius_nm + max(distance_nm(middle, one) for one in places))


def read_position(south_north: str, west_east: str) -> Position | None:
    """A position from `671709N` and `0390800W`, seconds or the last told with decimals; None where it is none."""
    latitude_deg, longitude_deg = _degrees(south_north, 2, 90.0), _degrees(west_east, 3, 180.0)
    return None if latitude_deg is None or longitude_deg is None else Position(latitude_deg, longitude_deg)


def _degrees(text: str, whole: int, most_deg: float) -> float | None:
    """An angle, north and east positive; None beyond `most_deg` or where minutes or seconds reach 60."""
    digits, letter = text[:-1], text[-1]
    rest = digits[whole:]
    # `3943.5N` tells parts of a minute, `394334.5N` parts of a second.
    minutes, seconds = (rest, "0") if len(rest.partition(".")[0]) == 2 else (rest[:2], rest[2:])
    angle_deg = float(digits[:whole]) + float(minutes) / 60.0 + float(seconds) / 3600.0
    if float(minutes) >= 60.0 or float(seconds) >= 60.0 or angle_deg > most_deg:
        return None
    return -angle_deg if letter in "SW" else angle_deg
