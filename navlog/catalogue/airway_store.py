"""What the names of airways and of their points mean, laid up in the catalogue as an import makes it of the rows.

It is laid up for the editions that speak together on a day, as the network made of it. The rows stay, and are what is
read for days without, as in a catalogue of an earlier version, and of names that are on no airway.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING, TypeAlias, TypeVar

from msgspec import MsgspecError, Struct, msgpack

from navlog.catalogue.records import Published
from navlog.catalogue.schema import NAMES_TABLE, damaged
from navlog.nav.chart import Airway, Fix, Place, Provenance, Segment
from navlog.version import VERSION

if TYPE_CHECKING:
    from navlog.catalogue.opened import Opened

TOLD_BY = ("airway_point", "station", "fix", "makeup", "station_remark")
"""The kinds of rows that airways and their network are made of."""

_LAYOUT = 3
"""How both are laid up; what another layout or version laid up, which may read remarks otherwise, is not read."""

_EVERY = ""
"""In the place of a name: those of all airways are there."""

_AT_ONCE = 400
_Known = TypeVar("_Known")
_ByName: TypeAlias = dict[tuple[str, date], tuple[_Known, ...]]


class _Way(Struct):
    """An airway. `places` are numbers among the stations, then the fixes, that the name of a point means.

    `own` are the fixes of which the airway itself tells more.
    """

    points: tuple[str, ...]
    segments: tuple[Segment, ...]
    places: tuple[int | None, ...]
    own: dict[int, Fix]
    location: str | None
    remarks: tuple[str, ...]
    provenance: Provenance


class _Meant(Struct):
    """All that a name means but airports; `airways` are packed by themselves, as most readers want the points alone."""

    stations: tuple[Published, ...] = ()
    fixes: tuple[Fix, ...] = ()
    airways: bytes = b""


def laid_up_for(catalogue: Opened, day: date) -> str:
    """The layout, and the numbers of the editions that tell airways on a day."""
    told = (",".join(str(edition.number) for edition in catalogue.in_force(kind, day)) for kind in TOLD_BY)
    return f"{VERSION}:{_LAYOUT}:{';'.join(told)}"


def take_laid_up(
    catalogue: Opened,
    idents: Iterable[str],
    day: date,
    stations: _ByName[Published],
    fixes: _ByName[Fix],
    airways: _ByName[Airway],
) -> None:
    """Add what is laid up of names, and of the points of airways among them, to what is known of names.

    Raises a `damaged-catalogue` problem where it can't be read.
    """
    try:
        found = _read(catalogue, [_EVERY, *idents], day)
        if found.pop(_EVERY, None) is None:
            return
        ways = {ident: _unpacked(found[ident].airways) if ident in found else [] for ident in idents}
        points = {point for some in ways.values() for way in some for point in way.points}
        unknown = [one for one in points - set(found) if (one, day) not in stations or (one, day) not in fixes]
        found.update(_read(catalogue, unknown, day))
        for name, meant in found.items():
            stations.setdefault((name, day), meant.stations)
            fixes.setdefault((name, day), meant.fixes)
        places = {point: _places(stations[point, day], fixes[point, day]) for point in points}
        for ident, some in ways.items():
            airways[ident, day] = tuple(_airway(ident, way, places) for way in some)
    except (MsgspecError, zlib.error, LookupError, TypeError) as error:
        raise damaged(catalogue.path, f"its airways: {error}") from None


def _places(stations: Iterable[Published], fixes: Iterable[Fix]) -> list[Place]:
    """The places that a name means, in the order in which airways number them."""
    return [*(one.station for one in stations), *fixes]


def _airway(ident: str, way: _Way, places: dict[str, list[Place]]) -> Airway:
    """An airway of what is laid up of it and what the names of its points mean."""
    numbered = enumerate(zip(way.points, way.places, strict=True))
    own = [way.own.get(at) if number is None else places[point][number] for at, (point, number) in numbered]
    return Airway(ident, way.points, way.segments, tuple(own), way.location, way.remarks, way.provenance)


def _read(catalogue: Opened, names: Sequence[str], day: date) -> dict[str, _Meant]:
    """What is laid up of names."""
    key, decoder = laid_up_for(catalogue, day), msgpack.Decoder(_Meant)
    found: dict[str, _Meant] = {}
    names = [name for name in names if name.isascii()]
    for first in range(0, len(names), _AT_ONCE):
        some = names[first : first + _AT_ONCE]
        asked = ", ".join("?" * len(some))
        sql = f"SELECT ident, data FROM {NAMES_TABLE} WHERE editions = ? AND ident IN ({asked})"
        found.update((ident, decoder.decode(data)) for ident, data in catalogue.query(sql, (key, *some)))
    return found


def lay_up_names(
    catalogue: Opened,
    day: date,
    airways: dict[str, tuple[Airway, ...]],
    stations: dict[str, tuple[Published, ...]],
    fixes: dict[str, tuple[Fix, ...]],
) -> None:
    """Write what the designators of all airways of a day mean, and the names of their points."""
    meant = {name: _Meant(stations[name], fixes[name]) for name in stations}
    for ident, ways in airways.items():
        packed = msgpack.encode([_laid_up(way, meant) for way in ways])
        # The same words over and over: a tenth is left.
        meant[ident].airways = zlib.compress(packed, 1)
    key = laid_up_for(catalogue, day)
    rows = [(key, name, msgpack.encode(one)) for name, one in {_EVERY: _Meant(), **meant}.items()]
    catalogue.connection.executemany(f"INSERT INTO {NAMES_TABLE} VALUES (?, ?, ?)", rows)


def _unpacked(airways: bytes) -> list[_Way]:
    return msgpack.decode(zlib.decompress(airways), type=list[_Way]) if airways else []


def _laid_up(airway: Airway, meant: dict[str, _Meant]) -> _Way:
    """An airway as it is laid up."""
    places: list[int | None] = []
    own: dict[int, Fix] = {}
    for at, (point, place) in enumerate(zip(airway.points, airway.places, strict=True)):
        there = _places(meant[point].stations, meant[point].fixes)
        places.append(there.index(place) if place in there else None)
        if places[-1] is None and isinstance(place, Fix):
            own[at] = place
    return _Way(airway.points, airway.segments, tuple(places), own, airway.location, airway.remarks, airway.provenance)
