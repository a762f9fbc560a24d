"""What an import lays up of airways and their points is what their rows say, and is read only where it holds."""

from __future__ import annotations

import shutil
import sqlite3
from datetime import date
from pathlib import Path

import pytest

from navlog.catalogue import airway_store, open_catalogue
from navlog.catalogue.airway_queries import designators
from navlog.catalogue.airways import has_radials
from navlog.catalogue.queries import Catalogue
from navlog.nav.problems import NavlogError


@pytest.fixture
def copy(catalogue_file: Path, tmp_path: Path) -> Path:
    return shutil.copyfile(catalogue_file, tmp_path / "copy.sqlite")


def change(file: Path, sql: str, *values: object) -> None:
    with sqlite3.connect(file) as connection:
        connection.execute(sql, values)
    connection.close()


def asked_of_rows(asked: Catalogue, day: date) -> bool:
    """Whether V101 is told by its rows."""
    made: list[str] = []
    asked.connection.set_trace_callback(made.append)
    assert asked.airways("V101", day)
    return any("FROM airway_point WHERE airway" in one for one in made)


def test_airways_and_their_points_are_the_same_laid_up_and_of_rows(catalogue_file: Path, copy: Path, day: date) -> None:
    change(copy, "DROP TABLE name_laid_up")
    with open_catalogue(catalogue_file) as laid_up, open_catalogue(copy) as of_rows:
        idents = designators(laid_up, day)
        found = laid_up.airways_of(idents, day)
        assert found == of_rows.airways_of(idents, day)
        assert len([ident for ident in idents if has_radials(ident)]) > 1
        for point in {point for ways in found.values() for way in ways for point in way.points}:
            assert laid_up.published_stations([point], day) == of_rows.published_stations([point], day)
            assert laid_up.fixes(point, day) == of_rows.fixes(point, day)
        assert not asked_of_rows(laid_up, day.replace(day=day.day + 1))
        assert asked_of_rows(of_rows, day.replace(day=day.day + 1))


@pytest.mark.parametrize("name_first", [False, True])
def test_a_point_of_an_airway_is_the_record_that_its_name_means(
    catalogue_file: Path, day: date, *, name_first: bool
) -> None:
    # Who guides is told by which record it is, not by its fields alone.
    with open_catalogue(catalogue_file) as asked:
        named = asked.stations("GLL", day) if name_first else ()
        (airway,) = asked.airways("V101", day)
        place = airway.places[airway.points.index("GLL")]
        assert any(place is one for one in named or asked.stations("GLL", day))


def test_what_another_version_laid_up_is_not_read(
    catalogue_file: Path, day: date, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_catalogue(catalogue_file) as asked:
        assert not asked_of_rows(asked, day)
    monkeypatch.setattr(airway_store, "VERSION", "0.0.0")
    with open_catalogue(catalogue_file) as asked:
        assert asked_of_rows(asked, day)


@pytest.mark.parametrize("data", [b"", b"\xc1", b"\x83\xa8stations\x90\xa5fixes\x90\xa8airways\xc4\x01x"])
def test_damage_to_what_is_laid_up_is_told(copy: Path, day: date, data: bytes) -> None:
    change(copy, "UPDATE name_laid_up SET data = ? WHERE ident = 'V101'", data)
    with open_catalogue(copy) as asked, pytest.raises(NavlogError) as raised:
        asked.airways("V101", day)
    assert [problem.code for problem in raised.value.problems] == ["damaged-catalogue"]
    assert ": its airways: " in raised.value.problems[0].message
