"""The tables of the catalogue file, its marks, and opening a file that claims to be one.

Rows stand as published, one table a kind for all sources; what they mean is worked out on reading them, and laid up
beside them by an import where that takes long. Numbers are REAL columns; an empty number is an empty text.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from navlog.nav.problems import NavlogError, problem_error

if TYPE_CHECKING:
    import sqlite3

_APPLICATION_ID = 0x4E56_4C47
"""Marks an SQLite file as a catalogue of ours ("NVLG")."""

_SCHEMA_VERSION = 5

TABLES = {
    "edition": "id INTEGER PRIMARY KEY, source, cycle, effective, expires, verified INTEGER",
    "holding": "edition INTEGER, kind, file, effective, rows INTEGER, rejected INTEGER",
    "station": (
        "edition INTEGER, ident, type, name, city, state, country, region, latitude REAL, longitude REAL, "
        "elevation REAL, declination REAL, hemisphere, declination_year REAL, frequency REAL, channel, "
        "service, dme_service, status"
    ),
    "station_remark": "edition INTEGER, ident, type, city, country, text, read INTEGER DEFAULT 0",
    "sector": (
        "edition INTEGER, ident, type, city, country, start REAL, end REAL, beyond REAL, below REAL, part, text"
    ),
    "fix": "edition INTEGER, ident, region, state, country, latitude REAL, longitude REAL, mra REAL",
    "makeup": "edition INTEGER, fix, region, station, type, radial REAL, distance REAL",
    "airport": (
        "edition INTEGER, ident, icao, name, type, state, country, latitude REAL, longitude REAL, "
        "elevation REAL, status, use"
    ),
    "airway": "edition INTEGER, ident, location, remark",
    "airway_point": (
        "edition INTEGER, airway, location, seq REAL, point, type, city, region, next, course REAL, "
        "opposite_course REAL, distance REAL, cop_station, cop_distance REAL, discontinued, signal_gap, "
        "dogleg, mea REAL, mea_way, mea_opposite REAL, mea_opposite_way, gnss_mea REAL, gnss_way, "
        "gnss_opposite REAL, gnss_opposite_way, moca REAL, mca REAL, mca_way, mca_point, "
        "mca_opposite REAL, mca_opposite_way, mra REAL, maa REAL, mea_gap, remark"
    ),
    "obstacle": (
        "edition INTEGER, ident, verified, country, state, city, latitude REAL, longitude REAL, type, agl REAL, "
        "amsl REAL, accuracy, action, changed"
    ),
    "preferred_route": (
        "edition INTEGER, origin, destination, kind, number REAL, area, altitude, aircraft, hours, direction, "
        "designator, nar_type, route"
    ),
    "checkpoint": "edition INTEGER, station, type, city, country, airport, radial REAL, altitude REAL, way, text",
}

NETWORK_TABLE = "network"
"""What follows from the other tables, laid up by an import: `editions` that speak together, and their network."""

_NETWORK_COLUMNS = "editions TEXT PRIMARY KEY, data BLOB"

NAMES_TABLE = "name_laid_up"
"""The same of what the names of airways and of their points mean, a row each."""

_NAMES_COLUMNS = "editions TEXT, ident TEXT, data BLOB, PRIMARY KEY (editions, ident)"

_SINCE = {"preferred_route": 2, "obstacle": 3, "checkpoint": 4}
"""The version from which a table is there; a file of an earlier one has it not, and nothing in it."""

_LAST_COLUMN_SINCE = {"airport": (5, "use")}
"""The version from which a table has its last column; a file of an earlier one gets it at its next import."""

INDICES = {
    "station": ("ident", "latitude", "frequency"),
    "station_remark": ("ident",),
    "sector": ("ident",),
    "fix": ("ident", "latitude"),
    "makeup": ("fix",),
    "airport": ("ident", "icao", "latitude"),
    "airway": ("ident",),
    "airway_point": ("airway", "point"),
    "obstacle": ("latitude",),
    "preferred_route": ("origin",),
    "checkpoint": ("airport",),
}

OBSTACLE = "obstacle"

KINDS = {
    "station": "stations",
    "station_remark": "station remarks",
    "fix": "fixes",
    "makeup": "fix make-ups",
    "airport": "airports",
    "airway": "airways",
    "airway_point": "airway points",
    OBSTACLE: "obstacles",
    "preferred_route": "preferred routes",
    "checkpoint": "receiver checkpoints",
}
"""What the rows of each table are called."""

FORWARD, BACKWARD = "FORWARD", "BACKWARD"
"""Ways of an altitude that count along the airway as it is written, where NASR has compass words."""


def create_tables(connection: sqlite3.Connection) -> None:
    """Make the tables in an empty file and mark it; does nothing to a file that has them."""
    for table, columns in TABLES.items():
        connection.execute(f"CREATE TABLE IF NOT EXISTS {table} ({columns})")
    for table, (_, column) in _LAST_COLUMN_SINCE.items():
        if column not in [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]:
            connection.execute(f"ALTER TABLE {table} ADD COLUMN {column}")
    connection.execute(f"CREATE TABLE IF NOT EXISTS {NETWORK_TABLE} ({_NETWORK_COLUMNS})")
    connection.execute(f"CREATE TABLE IF NOT EXISTS {NAMES_TABLE} ({_NAMES_COLUMNS})")
    connection.execute(f"PRAGMA application_id = {_APPLICATION_ID}")
    connection.execute(f"PRAGMA user_version = {_SCHEMA_VERSION}")


def drop_indices(connection: sqlite3.Connection) -> None:
    """Rows go in faster without them."""
    for table, columns in INDICES.items():
        for column in columns:
            connection.execute(f"DROP INDEX IF EXISTS {table}_by_{column}")


def create_indices(connection: sqlite3.Connection) -> None:
    """Make every index that the queries use."""
    for table, columns in INDICES.items():
        for column in columns:
            connection.execute(f"CREATE INDEX IF NOT EXISTS {table}_by_{column} ON {table} ({column})")


def open_read_only(path: Path) -> sqlite3.Connection:
    """A read-only connection to the catalogue at `path`; works in a folder that can't be written.

    Raises a `no-catalogue` problem where there is no file, and those of `check_marks`.
    """
    import sqlite3

    if not os.path.isfile(path):
        raise problem_error(
            "no-catalogue",
            f"there is no catalogue at {path}",
            hint="make it with `navlog catalogue import PATH`, PATH being the published data",
        )
    try:
        connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    except sqlite3.Error as error:
        raise damaged(path, error) from None
    try:
        check_marks(connection, path)
    except NavlogError:
        connection.close()
        raise
    return connection


def check_marks(connection: sqlite3.Connection, path: Path) -> None:
    """Raises `not-a-catalogue`, `newer-catalogue` or `damaged-catalogue` where the file can't be used."""
    import sqlite3

    try:
        application = connection.execute("PRAGMA application_id").fetchone()[0]
        version = connection.execute("PRAGMA user_version").fetchone()[0]
        tables = dict(connection.execute("SELECT name, sql FROM sqlite_master"))
        pages, page_bytes = (connection.execute(f"PRAGMA {one}").fetchone()[0] for one in ("page_count", "page_size"))
    except (sqlite3.Error, UnicodeDecodeError) as error:
        raise damaged(path, error) from None
    if application != _APPLICATION_ID:
        raise problem_error(
            "not-a-catalogue",
            f"{path} is not a catalogue",
            hint="name another file with `--catalogue`, or make one with `navlog catalogue import`",
        )
    if version > _SCHEMA_VERSION:
        raise problem_error(
            "newer-catalogue",
            f"{path} was made by a later version (its tables are version {version}, "
            f"this version reads {_SCHEMA_VERSION})",
            hint="use the later version, or import the data into a new file with `--catalogue`",
        )
    expected = {table: _columns(table, version) for table in TABLES if version >= _SINCE.get(table, 1)}
    if any(tables.get(table) != f"CREATE TABLE {table} ({columns})" for table, columns in expected.items()):
        raise damaged(path, "its tables are not those of a catalogue")
    if pages * page_bytes > os.path.getsize(path):
        raise damaged(path, "its end is missing")


def _columns(table: str, version: int) -> str:
    """The columns of a table in a file of that version."""
    since, last = _LAST_COLUMN_SINCE.get(table, (1, ""))
    return TABLES[table] if version >= since else TABLES[table].removesuffix(f", {last}")


def damaged(path: Path, why: object) -> NavlogError:
    """The problem for a catalogue file that can't be read."""
    return problem_error(
        "damaged-catalogue",
        f"the catalogue {path} can't be read: {why}",
        hint="name the right file; if this was your catalogue, move it away and import the published data again",
    )
