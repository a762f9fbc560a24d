"""The catalogue of the committed excerpt, and small published files made for one test."""

from __future__ import annotations

import csv
import os
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DATA, DAY, Row
from helpers.published_flights import Flown

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue


@pytest.fixture(scope="session")
def nasr() -> Path:
    """The folder of the NASR excerpt."""
    return DATA / "nasr"


@pytest.fixture(scope="session")
def day() -> date:
    return DAY


@pytest.fixture(scope="session")
def catalogue_file(tmp_path_factory: pytest.TempPathFactory, nasr: Path) -> Path:
    path = tmp_path_factory.mktemp("catalogue") / "catalogue.sqlite"
    import_data(nasr, path)
    return path


@pytest.fixture(scope="session")
def catalogue(catalogue_file: Path) -> Iterator[Catalogue]:
    with open_catalogue(catalogue_file) as opened:
        yield opened


@pytest.fixture(scope="session")
def full_folder() -> Path:
    """The whole subscription, where NAVLOG_SHARED_DATA names the folder that holds `nasr-2026-05-14`."""
    shared = os.environ.get("NAVLOG_SHARED_DATA")
    if not shared:
        pytest.skip("NAVLOG_SHARED_DATA is not set")
    return Path(shared) / "nasr-2026-05-14"


@pytest.fixture(scope="session")
def full_file(full_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("full") / "catalogue.sqlite"
    import_data(full_folder, path)
    return path


@pytest.fixture(scope="session")
def full(full_file: Path) -> Iterator[Catalogue]:
    with open_catalogue(full_file) as opened:
        yield opened


@pytest.fixture(scope="session")
def fly(catalogue_file: Path) -> Flown:
    """Flies route lines through the excerpt's catalogue and reads the log's JSON."""
    return Flown(catalogue_file)


@pytest.fixture(scope="session")
def published(nasr: Path) -> Callable[[str], list[Row]]:
    """The rows of an excerpt file, read by the standard library alone."""

    def rows(name: str) -> list[Row]:
        with (nasr / name).open(newline="", encoding="ascii") as file:
            return list(csv.DictReader(file))

    return rows


@pytest.fixture
def nasr_like(tmp_path: Path, nasr: Path) -> Callable[..., Path]:
    """Writes a NASR file of chosen columns; the others are as empty as the FAA leaves them."""

    def write(name: str, *rows: Row, effective: str = "2026/05/14", folder: str = "made") -> Path:
        with (nasr / name).open(newline="", encoding="ascii") as file:
            header = next(csv.reader(file))
        made = tmp_path / folder
        made.mkdir(exist_ok=True)
        with (made / name).open("w", newline="", encoding="utf-8") as file:
            writer = csv.DictWriter(file, header, restval="")
            writer.writeheader()
            writer.writerows({"EFF_DATE": effective, **row} for row in rows)
        return made

    return write
