"""The fields of ARINC 424-18 records: columns, numbers, positions, and rows for the catalogue's tables.

Columns count from 1 and include both ends, as in ARINC 424-18 chapter 4.1.
"""

from __future__ import annotations

from typing import TypeAlias

from msgspec import Struct

from navlog.catalogue.schema import BACKWARD, FORWARD

Row: TypeAlias = tuple[object, ...]

VHF = {
    "ident": (14, 17), "region": (20, 21), "continuation": (22, 22), "frequency": (23, 27), "class": (28, 32),
    "latitude": (33, 41), "longitude": (42, 51), "dme_latitude": (56, 64), "dme_longitude": (65, 74),
    "declination": (75, 79), "elevation": (80, 84), "name": (94, 123),
}  # fmt: skip
NDB = {
    "ident": (14, 17), "region": (20, 21), "continuation": (22, 22), "frequency": (23, 27),
    "latitude": (33, 41), "longitude": (42, 51), "name": (94, 123),
}  # fmt: skip
WAYPOINT = {
    "ident": (14, 18), "region": (20, 21), "continuation": (22, 22),
    "latitude": (33, 41), "longitude": (42, 51),
}  # fmt: skip
AIRWAY = {
    "area": (2, 4), "airway": (14, 18), "sequence": (26, 29), "point": (30, 34), "region": (35, 36),
    "section": (37, 38), "continuation": (39, 39), "description": (40, 43), "outbound": (71, 74),
    "distance": (75, 78), "inbound": (79, 82), "mea": (84, 88), "mea_opposite": (89, 93), "maa": (94, 98),
}  # fmt: skip
AIRPORT = {
    "ident": (7, 10), "faa": (14, 16), "continuation": (22, 22), "latitude": (33, 41),
    "longitude": (42, 51), "elevation": (57, 61), "name": (94, 123),
}  # fmt: skip

COLUMNS = {
    "station": "ident type name region latitude longitude elevation declination hemisphere frequency "
    "service dme_service",
    "fix": "ident region latitude longitude",
    "airport": "ident icao name type latitude longitude elevation status",
    "airway_point": "airway location seq point type region next course opposite_course distance mea mea_way "
    "mea_opposite mea_opposite_way maa",
}
"""What each kind of row fills of its table, in order."""


_STATION_SECTIONS = {"D": "VHF", "DB": "NDB", "PN": "NDB"}
"""Point types for the sections that hold stations; any other point of an airway is a fix."""


class UnreadableRecord(Exception):  # noqa: N818
    """A record that does not hold what its columns should; the text says what is wrong."""


def fields(line: str, columns: dict[str, tuple[int, int]]) -> dict[str, str]:
    """The named columns of a record, padding taken off."""
    return {name: line[first - 1 : last].strip() for name, (first, last) in columns.items()}


def _is_continuation(values: dict[str, str]) -> bool:
    """True for a continuation record; a primary one is numbered 0, or 1 where others follow."""
    return values["continuation"] not in ("", "0", "1")


def read_vhf(line: str) -> Row | None:
    """A station row from a D record; None for a continuation and for the DME of an ILS or MLS."""
    values = fields(line, VHF)
    facility = line[VHF["class"][0] - 1 : VHF["class"][1]]
    azimuth, distance = facility[0] == "V", facility[1] in "DTM"
    if _is_continuation(values) or not (azimuth or distance):
        return None
    kind = _kind(azimuth=azimuth, distance=distance, tacan=facility[1] in "TM")
    # A TACAN or DME without a VOR has its place in the DME's columns alone.
    own = values["latitude"] != ""
    latitude, longitude = _position(
        values["latitude" if own else "dme_latitude"], values["longitude" if own else "dme_longitude"]
    )
    # Any other letter names no service volume that is known here, so the station has none.
    reach = facility[2] if facility[2] in "TLH" else ""
    # The field of a DME holds a model's variation, as it has no radials.
    declination, hemisphere = ("", "") if kind == "DME" else _declination(values["declination"])
    return (
        _ident(values), kind, values["name"], values["region"], latitude, longitude,
        _number(values["elevation"], 1.0), declination, hemisphere, _number(values["frequency"], 100.0),
        reach if azimuth else "", reach if distance else "",
    )  # fmt: skip


def read_ndb(line: str) -> Row | None:
    """A station row from a DB record; None for a continuation."""
    values = fields(line, NDB)
    if _is_continuation(values):
        return None
    latitude, longitude = _position(values["latitude"], values["longitude"])
    return (
        _ident(values), "NDB", values["name"], values["region"], latitude, longitude,
        "", "", "", _number(values["frequency"], 10.0), "", "",
    )  # fmt: skip


def read_waypoint(line: str) -> Row | None:
    """A fix row from an EA record; None for a continuation."""
    values = fields(line, WAYPOINT)
    if _is_continuation(values):
        return None
    return (_ident(values), values["region"], *_position(values["latitude"], values["longitude"]))


def read_airport(line: str) -> Row | None:
    """An airport row from a PA record; None for a continuation."""
    values = fields(line, AIRPORT)
    if _is_continuation(values):
        return None
    latitude, longitude = _position(values["latitude"], values["longitude"])
    ident = _ident(values)
    elevation = _number(values["elevation"], 1.0)
    return (values["faa"] or ident, ident, values["name"], "A", latitude, longitude, elevation, "O")


class AirwayRecord(Struct, frozen=True):
    """A point of an airway, the course and distance to the next one, and the course that arrives here."""

    area: str
    airway: str
    sequence: float | str
    point: str
    region: str
    section: str
    is_end: bool
    outbound_deg: float | str
    distance_nm: float | str
    inbound_deg: float | str
    mea_ft: float | str
    opposite_mea_ft: float | str
    maa_ft: float | str

    @property
    def key(self) -> tuple[str, str]:
        """What tells one airway from another."""
        return self.area, self.airway

    def row(self, piece: int, following: AirwayRecord | None) -> Row:
        """The airway point row; courses as NASR gives them, both counted at this segment's own ends."""
        location = self.area if piece == 1 else f"{self.area}-{piece}"
        kind = _STATION_SECTIONS.get(self.section, "")
        opposite = following.inbound_deg if following is not None else ""
        if isinstance(opposite, float):
            # The record has the course that arrives at a point; the table keeps the one that leaves it the other way.
            opposite = (opposite + 180.0) % 360.0
        # A second MEA is there only where the two ways differ (from memory of ARINC 424-18).
        one_way = isinstance(self.opposite_mea_ft, float)
        return (
            self.airway, location, self.sequence, self.point, kind, self.region,
            following.point if following is not None else "", self.outbound_deg, opposite, self.distance_nm,
            self.mea_ft, FORWARD if one_way else "", self.opposite_mea_ft, BACKWARD if one_way else "",
            self.maa_ft,
        )  # fmt: skip


def read_airway(line: str) -> AirwayRecord | None:
    """A point of an airway from an ER record; None for a continuation."""
    values = fields(line, AIRWAY)
    if _is_continuation(values):
        return None
    if not values["airway"] or not values["point"]:
        raise UnreadableRecord("it has no identifier")
    return AirwayRecord(
        values["area"], values["airway"], _number(values["sequence"], 1.0), values["point"], values["region"],
        values["section"], line[40] == "E", _magnetic_course(values["outbound"]),
        _number(values["distance"], 10.0), _magnetic_course(values["inbound"]), _altitude(values["mea"]),
        _altitude(values["mea_opposite"]), _altitude(values["maa"]),
    )  # fmt: skip


def _position(latitude: str, longitude: str) -> tuple[float, float]:
    """Degrees from `N32285279` and `W099514843`: degrees, minutes, seconds and hundredths (5.36, 5.37)."""
    return _angle(latitude, "NS", 2, 90.0), _angle(longitude, "EW", 3, 180.0)


def _magnetic_course(text: str) -> float | str:
    """Degrees from tenths such as `0759` (5.26); empty for none and for a true course (`075T`)."""
    # A true course is no radial, and must not be set on a needle.
    return "" if text.endswith("T") else _number(text, 10.0)


def _altitude(text: str) -> float | str:
    """Feet from `04000` or `FL180` (5.30); empty for none and for `UNKNN`."""
    if text.startswith("FL"):
        flight_level = _number(text[2:], 1.0)
        return flight_level * 100.0 if isinstance(flight_level, float) else ""
    return "" if text in ("UNKNN", "NESTB") else _number(text, 1.0)


def _kind(*, azimuth: bool, distance: bool, tacan: bool) -> str:
    """The type as NASR writes it."""
    if not azimuth:
        return "TACAN" if tacan else "DME"
    if tacan:
        return "VORTAC"
    return "VOR/DME" if distance else "VOR"


def _ident(values: dict[str, str]) -> str:
    if not values["ident"]:
        raise UnreadableRecord("it has no identifier")
    return values["ident"]


def _number(text: str, scale: float) -> float | str:
    if not text:
        return ""
    if not (text.isascii() and text.removeprefix("-").isdigit()):
        raise UnreadableRecord(f"`{text}` is not a number")
    return int(text) / scale


def _angle(text: str, letters: str, width: int, limit: float) -> float:
    digits = text[1:]
    if not text:
        raise UnreadableRecord("it has no position")
    if text[0] not in letters or len(digits) != width + 6 or not (digits.isascii() and digits.isdigit()):
        raise UnreadableRecord(f"`{text}` is not a position")
    minutes, seconds = int(digits[width : width + 2]), int(digits[width + 2 :]) / 100.0
    degrees = int(digits[:width]) + minutes / 60.0 + seconds / 3600.0
    if minutes >= 60 or seconds >= 60.0 or degrees > limit:
        raise UnreadableRecord(f"`{text}` is not a position")
    return -degrees if text[0] == letters[1] else degrees


def _declination(text: str) -> tuple[float | str, str]:
    """Degrees and E, W or T from `E0100` (5.66); T for a station aligned to true north."""
    if not text:
        return "", ""
    if text[0] not in "EWT":
        raise UnreadableRecord(f"`{text}` is not a station declination")
    return _number(text[1:], 10.0), text[0]
