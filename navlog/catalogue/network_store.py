"""Networks laid up in the catalogue: one for each set of editions that speak together on some day."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from navlog.catalogue.network import Network
from navlog.catalogue.schema import NETWORK_TABLE, damaged

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue


_KINDS = ("airway_point", "station", "fix", "makeup", "station_remark")
"""The kinds of rows that a network is made of."""


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
    from msgspec import DecodeError, msgpack

    if not catalogue.query("SELECT 1 FROM sqlite_master WHERE name = ?", (NETWORK_TABLE,)):
        return None
    rows = catalogue.query(f"SELECT data FROM {NETWORK_TABLE} WHERE editions = ?", (_key(catalogue, day),))
    if not rows:
        return None
    try:
        return msgpack.decode(rows[0]["data"], type=Network)
    except (DecodeError, TypeError) as error:
        raise damaged(catalogue.path, f"its network of airways: {error}") from None


def lay_up(catalogue: Catalogue) -> None:
    """Write the network of each day on which an edition of the catalogue begins, and drop those of no edition."""
    from msgspec import msgpack

    from navlog.catalogue.network_building import build

    begun = {edition.provenance.effective for edition in catalogue.editions if any(map(edition.holds, _KINDS))}
    days = {_key(catalogue, day): day for day in sorted(day for day in begun if day is not None)}
    had = {row["editions"] for row in catalogue.query(f"SELECT editions FROM {NETWORK_TABLE}")}
    for key in had - set(days):
        catalogue.connection.execute(f"DELETE FROM {NETWORK_TABLE} WHERE editions = ?", (key,))
    for key in sorted(set(days) - had):
        data = msgpack.encode(build(catalogue, days[key]))
        catalogue.connection.execute(f"INSERT INTO {NETWORK_TABLE} (editions, data) VALUES (?, ?)", (key, data))


def _key(catalogue: Catalogue, day: date) -> str:
    """The numbers of the editions that a network of that day is made of."""
    return ";".join(",".join(str(edition.number) for edition in catalogue.in_force(kind, day)) for kind in _KINDS)
