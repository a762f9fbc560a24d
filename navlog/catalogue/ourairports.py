"""OurAirports `navaids.csv` and `airports.csv`: worldwide, positions good, frequencies and declinations not.

The files carry no date, so there is one edition without a cycle and every record of it is unverified.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from navlog.catalogue.archive import Member
from navlog.catalogue.batch import Batch, Tick
from navlog.catalogue.rows import (
    Layout,
    Loaded,
    impossible_height,
    load_csv,
    no_name,
    no_position,
    not_a_number,
    outside,
    reject_where,
)
from navlog.nav.chart import Provenance, Source
from navlog.nav.problems import NavlogError

if TYPE_CHECKING:
    import sqlite3

_LAYOUTS = {
    "navaids.csv": Layout(
        "station",
        (
            ("ident", "ident"),
            ("type", "type"),
            ("name", "name"),
            ("country", "iso_country"),
            ("latitude", "latitude_deg"),
            ("longitude", "longitude_deg"),
            ("elevation", "elevation_ft"),
            ("declination", "slaved_variation_deg"),
            ("frequency", "frequency_khz"),
            ("channel", "dme_channel"),
        ),
        frozenset({"ident", "type", "frequency_khz", "latitude_deg", "longitude_deg"}),
    ),
    "airports.csv": Layout(
        "airport",
        (
            ("ident", "local_code"),
            ("icao", "icao_code"),
            ("status", "ident"),
            ("name", "name"),
            ("type", "type"),
            ("state", "iso_region"),
            ("country", "iso_country"),
            ("latitude", "latitude_deg"),
            ("longitude", "longitude_deg"),
            ("elevation", "elevation_ft"),
        ),
        frozenset({"ident", "type", "name", "latitude_deg", "longitude_deg", "iso_country"}),
    ),
}

_WITHOUT = {
    "navaids.csv": "stations outside the other sources are not known",
    "airports.csv": "airports outside the other sources are not known",
}

_TYPES = ("NDB", "VOR-DME", "VORTAC", "TACAN", "VOR", "DME", "NDB-DME")
_IN_TYPES = ", ".join(f"'{name}'" for name in _TYPES)
_REASONS = {
    "station": [
        *not_a_number("elevation", "declination", "frequency"),
        *no_name("ident"),
        (f"type NOT IN ({_IN_TYPES})", "its station type is unknown"),
        *no_position(),
        outside("declination", -180, 180),
        impossible_height("elevation"),
    ],
    # `status` still holds the file's own identifier here.
    "airport": [*not_a_number("elevation"), *no_name("status"), *no_position(), impossible_height("elevation")],
}


def knows(name: str) -> bool:
    """True for the name of a file that is read, in capitals or not."""
    return name.lower() in _LAYOUTS


def load(connection: sqlite3.Connection, members: Sequence[Member], edition: int, tick: Tick) -> Batch:
    """Load the files that are there, with units and codes as the catalogue keeps them."""
    batch = Batch(Provenance(Source.OURAIRPORTS, verified=False), [])
    named = {member.name.lower(): member for member in members}
    for name, consequence in _WITHOUT.items():
        member = named.get(name)
        if member is None:
            batch.missing.append((name, consequence))
            continue
        try:
            loaded = load_csv(connection, member, _LAYOUTS[name], edition, partial(tick, member))
        except NavlogError as error:
            batch.broken += error.problems
            continue
        reject_where(connection, loaded, _REASONS[loaded.table])
        if loaded.table == "station":
            batch.notes += _settle_stations(connection, loaded)
        else:
            _settle_airports(connection, loaded)
        batch.loaded.append(loaded)
    return batch


def _settle_stations(connection: sqlite3.Connection, loaded: Loaded) -> list[str]:
    """Types as the FAA writes them, VHF frequencies in MHz; one that no VOR can have is left out."""
    rows = (loaded.first_row,)
    connection.execute("UPDATE station SET type = replace(type, '-', '/') WHERE rowid >= ?", rows)
    connection.execute("UPDATE station SET channel = ltrim(channel, '0') WHERE rowid >= ?", rows)
    connection.execute(
        # The file counts every frequency in kHz, NDBs too, whose unit that is.
        "UPDATE station SET frequency = frequency / 1000 WHERE rowid >= ? AND type NOT LIKE 'NDB%' AND frequency <> ''",
        rows,
    )
    wrong = connection.execute(
        "UPDATE station SET frequency = '' WHERE rowid >= ? AND type LIKE 'VOR%' AND frequency <> '' "
        # The station itself is good: its position is why the file is read at all.
        "AND frequency NOT BETWEEN 108 AND 117.95",
        rows,
    ).rowcount
    return [f"{wrong} VOR frequencies outside 108 to 117.95 MHz are left out"] if wrong else []


def _settle_airports(connection: sqlite3.Connection, loaded: Loaded) -> None:
    """Identifiers: the ICAO one, and the local one where it is the FAA's; the file's own where neither is."""
    rows = (loaded.first_row,)
    connection.execute(
        # A local code is unique within its country alone: only the FAA's is looked up here.
        "UPDATE airport SET ident = CASE WHEN country = 'US' AND ident <> '' THEN ident ELSE status END, "
        "icao = CASE WHEN icao <> '' THEN icao WHEN status GLOB '[A-Z][A-Z][A-Z][A-Z]' THEN status "
        "ELSE '' END, "
        "status = CASE type WHEN 'closed' THEN 'closed' ELSE 'O' END "
        "WHERE rowid >= ?",
        rows,
    )
