"""Networks laid up in the catalogue: one for each set of editions that speak together on some day."""

from __future__ import annotations

from array import array
from datetime import date
from sys import byteorder
from typing import TYPE_CHECKING, Any

from msgspec import DecodeError, Struct, msgpack

from navlog.catalogue.airway_store import TOLD_BY, laid_up_for, lay_up_names
from navlog.catalogue.network import Network
from navlog.catalogue.schema import NAMES_TABLE, NETWORK_TABLE, damaged

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue


_CODES = {
    **dict.fromkeys(("first", "start", "end", "airway", "behind", "ahead"), "i"),
    **dict.fromkeys(
        ("latitudes", "longitudes", "distance_nm", "mea_ft", "mca_ft", "maa_ft", "hears_ft", "asked_ft"), "d"
    ),
}
"""The columns of numbers, whole and real."""


class _LaidUp(Struct):
    """A network's columns of numbers as bytes, which are read in a tenth of the time of numbers one by one."""

    points: tuple[str, ...]
    airways: tuple[str, ...]
    stations: tuple[str, ...]
    turns: tuple[tuple[int, int, float], ...]
    reasons: tuple[str, ...]
    closed: bytes
    columns: dict[str, bytes]


def read_network(catalogue: Catalogue, day: date) -> Network:
    """The network of the airways in force on `day`.

    An import lays it up ready to read. Where it did not, as in a catalogue of an earlier version, or for a day on
    which its parts come from other editions than at the import, it is made of the airways anew: a second's work.
    Raises a `damaged-catalogue` problem where what is laid up can't be read.
    """
    found = _stored(catalogue, day)
    if found is not None:
        return found
    from navlog.catalogue.network_building import build

    return build(catalogue, day)


def _stored(catalogue: Catalogue, day: date) -> Network | None:
    """The network laid up for the editions in force on `day`; None where there is none.

    Raises a `damaged-catalogue` problem.
    """
    if NETWORK_TABLE not in catalogue.tables:
        return None
    rows = catalogue.query(f"SELECT data FROM {NETWORK_TABLE} WHERE editions = ?", (laid_up_for(catalogue, day),))
    if not rows:
        return None
    try:
        return _unpacked(rows[0]["data"])
    except (DecodeError, KeyError, TypeError, ValueError, IndexError) as error:
        raise damaged(catalogue.path, f"its network of airways: {error}") from None


def lay_up(catalogue: Catalogue) -> None:
    """Write names and network of each day on which an edition of the catalogue begins, and drop those of no edition.

    By the same questions that a flight asks.
    """
    from navlog.catalogue.airway_queries import designators
    from navlog.catalogue.airways import has_radials
    from navlog.catalogue.network_building import build

    begun = {edition.provenance.effective for edition in catalogue.editions if any(map(edition.holds, TOLD_BY))}
    days = {laid_up_for(catalogue, day): day for day in sorted(day for day in begun if day is not None)}
    had = {row["editions"] for row in catalogue.query(f"SELECT editions FROM {NETWORK_TABLE}")}
    for key in had - set(days):
        for table in (NAMES_TABLE, NETWORK_TABLE):
            catalogue.connection.execute(f"DELETE FROM {table} WHERE editions = ?", (key,))
    for key in sorted(set(days) - had):
        day = days[key]
        lay_up_names(catalogue, catalogue.airways_of(list(filter(has_radials, designators(catalogue, day))), day), day)
        data = _packed(build(catalogue, day))
        catalogue.connection.execute(f"INSERT INTO {NETWORK_TABLE} (editions, data) VALUES (?, ?)", (key, data))


def _packed(network: Network) -> bytes:
    """The network as it is laid up."""
    reasons = sorted(set(network.closed))
    columns = {name: _swapped(array(code, getattr(network, name))).tobytes() for name, code in _CODES.items()}
    closed = bytes(map(reasons.index, network.closed))
    named = network.points, network.airways, network.stations, network.turns
    return msgpack.encode(_LaidUp(*named, tuple(reasons), closed, columns))


def _unpacked(data: bytes) -> Network:
    """The network that was laid up so."""
    found = msgpack.decode(data, type=_LaidUp)
    columns = {}
    for name, code in _CODES.items():
        column = array(code)
        column.frombytes(found.columns[name])
        columns[name] = _swapped(column)
    return Network(
        points=found.points,
        airways=found.airways,
        stations=found.stations,
        closed=tuple(map(found.reasons.__getitem__, found.closed)),
        turns=found.turns,
        **columns,
    )


def _swapped(column: array[Any]) -> array[Any]:
    """The column with its bytes little end first, or back again."""
    if byteorder == "big":
        column.byteswap()
    return column
