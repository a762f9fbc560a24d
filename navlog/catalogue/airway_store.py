"""What the names of VOR airways and of their points mean, laid up in the catalogue as an import makes it of the rows.

It is laid up for the editions that speak together on a day, as the network made of it. The rows stay, and are what is
read of every other name and for other days, as in a catalogue of an earlier version.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from itertools import chain
from typing import TYPE_CHECKING, TypeAlias, TypeVar

from msgspec import MsgspecError, Struct, msgpack
from msgspec.structs import force_setattr

from navlog.catalogue.airways import has_radials
from navlog.catalogue.line_store import LaidUpLine, fields_there, lines_along, take_fields, take_lines
from navlog.catalogue.opened import at_once
from navlog.catalogue.records import Published
from navlog.catalogue.schema import NAMES_TABLE, damaged
from navlog.nav.chart import Airway, Fix, Place, Provenance, Segment
from navlog.nav.lines import Lines
from navlog.nav.magnetism import MagneticField
from navlog.nav.problems import NavlogError
from navlog.version import VERSION

if TYPE_CHECKING:
    from navlog.catalogue.opened import Opened

TOLD_BY = ("airway_point", "station", "fix", "makeup", "station_remark")
"""The kinds of rows that airways and their network are made of."""

_LAYOUT = 4
"""How both are laid up; what another layout or version laid up, which may read remarks otherwise, is not read."""

_EVERY = "*"
"""In the place of a name: those of all VOR airways are there."""

_Known = TypeVar("_Known")
_ByName: TypeAlias = dict[tuple[str, date], tuple[_Known, ...]]


class _Way(Struct):
    """An airway. `places` are numbers among the stations, then the fixes, that the name of a point means.

    `own` are the fixes of which the airway itself tells more, `lines` those from point to point.
    """

    points: tuple[str, ...]
    segments: tuple[Segment, ...]
    places: tuple[int | None, ...]
    own: dict[int, Fix]
    location: str | None
    remarks: tuple[str, ...]
    provenance: Provenance
    lines: tuple[LaidUpLine | None, ...]


class _Meant(Struct):
    """All that a name means but airports; `airways` are packed by themselves, as most readers want the points alone.

    `fields` are those at the stations, then the fixes, None where it is not known.
    """

    stations: tuple[Published, ...] = ()
    fixes: tuple[Fix, ...] = ()
    airways: bytes = b""
    fields: tuple[MagneticField | None, ...] = ()


def laid_up_for(catalogue: Opened, day: date) -> str:
    """The layout, and the numbers of the editions that tell airways on a day."""
    told = (",".join(str(edition.number) for edition in catalogue.in_force(kind, day)) for kind in TOLD_BY)
    return f"{VERSION}:{_LAYOUT}:{';'.join(told)}"


def take_laid_up(
    catalogue: Opened,
    idents: Sequence[str],
    day: date,
    stations: _ByName[Published],
    fixes: _ByName[Fix],
    airways: _ByName[Airway],
    lines: Lines,
) -> None:
    """Add what is laid up of names, and of the points of VOR airways among them, to what is known of names.

    Raises a `damaged-catalogue` problem where it can't be read.
    """
    sources = {one: one for one in catalogue.sources(day)}

    def taken(names: Iterable[str]) -> dict[str, _Meant]:
        found = _read(catalogue, names, day)
        for name, meant in found.items():
            _share_provenances(_places(meant.stations, meant.fixes), sources)
            stations.setdefault((name, day), meant.stations)
            fixes.setdefault((name, day), meant.fixes)
            take_fields(meant.fields, _places(meant.stations, meant.fixes), lines)
        return found

    def unknown(names: Iterable[str]) -> list[str]:
        return [name for name in names if (name, day) not in stations or (name, day) not in fixes]

    try:
        named = taken([_EVERY, *idents])
        if _EVERY not in named:
            return
        ways = {one: _unpacked(named[one].airways) if one in named else [] for one in filter(has_radials, idents)}
        points = {point for some in ways.values() for way in some for point in way.points}
        named |= taken(unknown(points))
        # What tells a fix is asked of every flight that passes it.
        taken(unknown(_named_by(meant.fixes for meant in named.values())))
        places = {point: _places(stations[point, day], fixes[point, day]) for point in points}
        for ident, some in ways.items():
            airways[ident, day] = found = tuple(_airway(ident, way, places, sources) for way in some)
            for way, airway in zip(some, found, strict=True):
                take_lines(way.lines, airway.places, lines)
    except (MsgspecError, NavlogError, zlib.error, LookupError, TypeError, ValueError) as error:
        raise damaged(catalogue.path, f"its airways: {error}") from None


def _share_provenances(places: Iterable[Place], sources: Mapping[Provenance, Provenance]) -> None:
    """Give places just read, each with a provenance of its own, the one of the equal source."""
    for place in places:
        # Nobody has seen the record yet, so it is still being made.
        force_setattr(place, "provenance", sources.get(place.provenance, place.provenance))


def _named_by(fixes: Iterable[Iterable[Fix]]) -> set[str]:
    """The stations of the make-ups of fixes."""
    return {bearing.station for fix in chain.from_iterable(fixes) for bearing in fix.makeup}


def _places(stations: Iterable[Published], fixes: Iterable[Fix]) -> list[Place]:
    """The places that a name means, in the order in which airways number them."""
    return [*(one.station for one in stations), *fixes]


def _airway(ident: str, way: _Way, places: dict[str, list[Place]], sources: Mapping[Provenance, Provenance]) -> Airway:
    """An airway of what is laid up of it and what the names of its points mean."""
    numbered = enumerate(zip(way.points, way.places, strict=True))
    own = [way.own.get(at) if number is None else places[point][number] for at, (point, number) in numbered]
    source = sources.get(way.provenance, way.provenance)
    return Airway(ident, way.points, way.segments, tuple(own), way.location, way.remarks, source)


def _read(catalogue: Opened, names: Iterable[str], day: date) -> dict[str, _Meant]:
    """What is laid up of names."""
    key, decoder = laid_up_for(catalogue, day), msgpack.Decoder(_Meant)
    found: dict[str, _Meant] = {}
    for marks, some in at_once(names):
        sql = f"SELECT ident, data FROM {NAMES_TABLE} WHERE editions = ? AND ident IN ({marks})"
        found.update((ident, decoder.decode(data)) for ident, data in catalogue.query(sql, (key, *some)))
    return found


def lay_up_names(catalogue: Opened, airways: Mapping[str, tuple[Airway, ...]], day: date) -> None:
    """Write what the designators of `airways`, all VOR airways of a day, and the names of their points mean."""
    names = {*airways, *(point for ways in airways.values() for way in ways for point in way.points)}
    names |= _named_by(catalogue.published_fixes(names, day).values())
    stations, fixes = catalogue.published_stations(names, day), catalogue.published_fixes(names, day)
    meant = {name: _Meant(stations[name], fixes[name]) for name in sorted(names)}
    for one in meant.values():
        one.fields = fields_there(_places(one.stations, one.fixes), day)
    for ident, ways in airways.items():
        packed = msgpack.encode([_laid_up(way, meant, day) for way in ways])
        # The same words over and over: a tenth is left.
        meant[ident].airways = zlib.compress(packed, 1)
    key = laid_up_for(catalogue, day)
    rows = [(key, name, msgpack.encode(one)) for name, one in {_EVERY: _Meant(), **meant}.items()]
    catalogue.connection.executemany(f"INSERT INTO {NAMES_TABLE} VALUES (?, ?, ?)", rows)


def _unpacked(airways: bytes) -> list[_Way]:
    return msgpack.decode(zlib.decompress(airways), type=list[_Way]) if airways else []


def _laid_up(airway: Airway, meant: dict[str, _Meant], day: date) -> _Way:
    """An airway as it is laid up."""
    places: list[int | None] = []
    own: dict[int, Fix] = {}
    for at, (point, place) in enumerate(zip(airway.points, airway.places, strict=True)):
        there = _places(meant[point].stations, meant[point].fixes)
        places.append(there.index(place) if place in there else None)
        if places[-1] is None and isinstance(place, Fix):
            own[at] = place
    return _Way(
        airway.points,
        airway.segments,
        tuple(places),
        own,
        airway.location,
        airway.remarks,
        airway.provenance,
        lines_along(airway.places, day),
    )
