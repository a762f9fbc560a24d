"""Rows of the catalogue's tables to records of the chart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from navlog.catalogue.nearness import SAME_PLACE_NM, apart_nm
from navlog.nav.chart import STATION_KINDS, Airport, Bearing, Fix, Position, Provenance, Station, StationKind
from navlog.nav.sectors import Sector

if TYPE_CHECKING:
    from sqlite3 import Row

AIRPORT_KINDS = {
    "A": "airport",
    "B": "balloonport",
    "C": "seaplane base",
    "G": "gliderport",
    "H": "heliport",
    "U": "ultralight field",
    "small_airport": "airport",
    "medium_airport": "airport",
    "large_airport": "airport",
    "closed": "airport",
    "seaplane_base": "seaplane base",
}
_AIRPORT_STATUS = {
    "O": None,
    "CI": "closed indefinitely",
    "CP": "closed permanently",
}

_AIRPORT_USE = {"PU": "public", "PR": "private"}
"""NASR's FACILITY_USE_CODE; other sources, and a catalogue made before it was kept, do not say."""

_VHF = (StationKind.VOR, StationKind.TACAN, StationKind.DME)


class Published(NamedTuple):
    """A station and the rows behind it, most trusted first, by which airways know it."""

    station: Station
    keys: tuple[tuple[str, str, str], ...]


def number(value: object) -> float | None:
    """A REAL column's value; an empty number was published as nothing."""
    return value if isinstance(value, float) else None


def text(value: object) -> str | None:
    """A text column's value without its padding; None for an empty one."""
    return value.strip() or None if isinstance(value, str) else None


def _position_of(row: Row) -> Position:
    """The row's position."""
    return Position(row["latitude"], row["longitude"])


def station(row: Row, provenance: Provenance, sectors: Iterable[Row], remarks: Iterable[Row]) -> Station:
    """A station record; declinations of stations without radials do not count."""
    kind, dme = STATION_KINDS[row["type"]]
    frequency, declination = number(row["frequency"]), number(row["declination"])
    azimuth = kind in (StationKind.VOR, StationKind.TACAN)
    true_referenced = azimuth and row["hemisphere"] == "T"
    if not azimuth or declination is None:
        declination = None
    elif true_referenced:
        declination = 0.0
    elif row["hemisphere"] == "W":
        declination = -declination
    year = number(row["declination_year"])
    return Station(
        ident=row["ident"],
        kind=kind,
        position=_position_of(row),
        frequency_mhz=None if kind in (StationKind.NDB, StationKind.TACAN) else frequency,
        frequency_khz=frequency if kind is StationKind.NDB else None,
        channel=text(row["channel"]) or (_paired_channel(frequency) if dme and kind in _VHF else None),
        declination_deg=declination,
        declination_year=int(year) if year is not None and azimuth else None,
        true_referenced=true_referenced,
        service=text(row["service"]),
        dme=dme,
        dme_service=text(row["dme_service"]),
        elevation_ft=number(row["elevation"]),
        unusable=tuple(_sector(sector) for sector in sectors),
        name=text(row["name"]),
        status=text(row["status"]),
        remarks=tuple(remark["text"].strip() for remark in remarks),
        published_kind=row["type"],
        region=text(row["state"]) or text(row["country"]) or text(row["region"]),
        provenance=provenance,
    )


def _paired_channel(frequency_mhz: float | None) -> str | None:
    """The channel that goes with a VHF frequency, for sources that do not print it."""
    if frequency_mhz is None:
        return None
    from navlog.nav.problems import NavlogError
    from navlog.nav.radio import channel_for

    try:
        return channel_for(frequency_mhz)
    except NavlogError:
        return None


def _sector(row: Row) -> Sector:
    return Sector(row["start"], row["end"], row["beyond"], row["below"], row["part"], row["text"])


def fix(row: Row, provenance: Provenance, makeup: tuple[Bearing, ...]) -> Fix:
    """A fix record with its published position."""
    return Fix(
        ident=row["ident"],
        position=_position_of(row),
        makeup=makeup,
        mra_ft=number(row["mra"]),
        region=text(row["region"]),
        published=True,
        provenance=provenance,
    )


def bearing(row: Row) -> Bearing:
    """A radial or a distance, or both, out of a fix's make-up."""
    return Bearing(row["station"], number(row["radial"]), number(row["distance"]), row["type"])


def airport(row: Row, provenance: Provenance, asked: str | None) -> Airport:
    """An airport record under the identifier asked for, else its ICAO identifier where it has one."""
    own, icao = row["ident"], text(row["icao"])
    ident = asked or icao or own
    status = row["status"]
    return Airport(
        ident=ident,
        position=_position_of(row),
        elevation_ft=number(row["elevation"]),
        name=text(row["name"]),
        kind=AIRPORT_KINDS.get(row["type"], row["type"] or "airport"),
        status=_AIRPORT_STATUS.get(status, status),
        region=text(row["state"]) or text(row["country"]),
        provenance=provenance,
        use=_AIRPORT_USE.get(row["use"] or "") if "use" in row.keys() else None,  # noqa: SIM118
    )


def one_object(rows: Sequence[Row], *, of_stations: bool = False) -> list[list[Row]]:
    """Rows of one identifier gathered into objects; rows come most trusted first, and so do their objects.

    Rows of one edition are different objects. Of stations only those of one kind are gathered, where VOR,
    TACAN and DME count as one kind: a VOR that became a DME is still a VOR in an older source.
    """
    objects: list[list[Row]] = []
    for row in rows:
        for group in objects:
            if group[0]["edition"] != row["edition"] and _is_same(group[0], row, of_stations):
                group.append(row)
                break
        else:
            objects.append([row])
    return objects


def _is_same(one: Row, other: Row, of_stations: bool) -> bool:
    if of_stations and _family(one) != _family(other):
        return False
    return apart_nm(_position_of(one), _position_of(other)) <= SAME_PLACE_NM


def _family(row: Row) -> StationKind:
    kind = STATION_KINDS[row["type"]][0]
    return StationKind.VOR if kind in _VHF else kind
