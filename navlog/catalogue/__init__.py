"""Published data in, and what it says of stations, fixes, airports and airways on a day."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue
    from navlog.catalogue.report import ImportReport, Progress


def import_data(path: Path, catalogue_path: Path, *, progress: Progress | None = None) -> ImportReport:
    """Read the published data at `path` into the catalogue file, which is written whole or not at all.

    See `navlog.catalogue.importing.import_data`.
    """
    from navlog.catalogue import importing

    return importing.import_data(path, catalogue_path, progress=progress)


def open_catalogue(path: Path | str) -> Catalogue:
    """The catalogue at `path`, opened for reading; use it in the thread that opened it.

    Raises `no-catalogue`, `not-a-catalogue`, `newer-catalogue` and `damaged-catalogue` problems.
    """
    from navlog.catalogue.queries import Catalogue
    from navlog.catalogue.schema import open_read_only
    from navlog.nav.problems import NavlogError

    path = Path(path)
    connection = open_read_only(path)
    try:
        return Catalogue(connection, path)
    except NavlogError:
        connection.close()
        raise
