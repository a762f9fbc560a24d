"""What an import lays up of airways and their points is what their rows say, and is read only where it holds."""

from __future__ import annotations

import shutil
import sqlite3
import zlib
from collections.abc import Callable
from datetime import date
from itertools import chain, pairwise
from pathlib import Path
from typing import Any, TypeAlias

import pytest
from helpers.flown import navlog
from helpers.published_flights import Flown
from msgspec import msgpack

from navlog.catalogue import airway_store, import_data, open_catalogue
from navlog.catalogue.airway_queries import designators
from navlog.catalogue.airways import has_radials
from navlog.catalogue.queries import Catalogue
from navlog.nav import lines, magnetism
from navlog.nav.chart import Position
from navlog.nav.lines import Geodesic, line_between
from navlog.nav.magnetism import MagneticField, field_at
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


def test_lines_and_the_field_along_vor_airways_are_laid_up_to_the_last_bit(
    catalogue_file: Path, day: date, monkeypatch: pytest.MonkeyPatch
) -> None:
    hops: list[tuple[Position, Position, Geodesic]] = []
    fields: dict[Position, MagneticField] = {}
    with open_catalogue(catalogue_file) as asked:
        for ways in asked.airways_of(list(filter(has_radials, designators(asked, day))), day).values():
            places = [[place.position if place else None for place in way.places] for way in ways]
            for one, other in chain.from_iterable(map(pairwise, places)):
                if one is None or other is None:
                    continue
                hops += [(one, other, line_between(one, other)), (other, one, line_between(other, one))]
                fields |= {place: field_at(place, day) for place in (one, other, line_between(one, other).middle)}
        assert len(hops) > 100
        monkeypatch.setattr(lines, "line_between", None)
        assert all(asked.lines.between(one, other) == line for one, other, line in hops)
        assert all(asked.lines.field_at(place) == field for place, field in fields.items())


def test_lines_are_laid_up_without_the_field_for_a_day_that_no_magnetic_model_covers(
    nasr: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, day: date
) -> None:
    monkeypatch.setattr(magnetism, "_LAST_YEAR", 2024)
    import_data(nasr, tmp_path / "made.sqlite")
    with open_catalogue(tmp_path / "made.sqlite") as asked:
        start, end = (place.position for place in asked.airways("V101", day)[0].places[:2] if place is not None)
        assert start is not None
        assert end is not None
        line = line_between(start, end)
        monkeypatch.setattr(lines, "line_between", None)
        assert asked.lines.between(start, end) == line
        assert [asked.lines.field_at(place) for place in (start, line.middle, end)] == [None, None, None]


@pytest.mark.parametrize("form", ["text", "json"])
@pytest.mark.parametrize("route", ["GLL V101 CHE", "CHE V101 GLL", "RIDJE V101 UYRAG", "CRG V1 CHS", "GLL CHE"])
def test_a_log_is_the_same_of_what_is_laid_up_and_of_rows(
    catalogue_file: Path, copy: Path, route: str, form: str
) -> None:
    change(copy, "DELETE FROM name_laid_up")
    # In a wind, so that every course and variation tells.
    text = Flown(catalogue_file).text(route, "wind 240/30")
    laid_up, of_rows = (
        navlog("log", "-", "--format", form, "--catalogue", str(file), typed=text) for file in (catalogue_file, copy)
    )
    assert laid_up == of_rows
    assert laid_up.status == 0, laid_up.err


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


Told: TypeAlias = dict[str, Any]


def lose_a_field(meant: Told, _way: Told) -> None:
    meant["fields"] = [1]


def cut_a_field(_meant: Told, way: Told) -> None:
    way["lines"][0][-1] = [2025, 1.0]


def leave_the_earth(_meant: Told, way: Told) -> None:
    way["lines"][0][4] = 91.0


def lose_a_hop(_meant: Told, way: Told) -> None:
    way["lines"].pop()


@pytest.mark.parametrize("harm", [lose_a_field, cut_a_field, leave_the_earth, lose_a_hop])
def test_damage_to_lines_that_are_laid_up_is_told(copy: Path, day: date, harm: Callable[[Told, Told], None]) -> None:
    with sqlite3.connect(copy) as connection:
        ((data,),) = connection.execute("SELECT data FROM name_laid_up WHERE ident = 'V101'")
    connection.close()
    meant = msgpack.decode(data)
    (way,) = msgpack.decode(zlib.decompress(meant["airways"]))
    harm(meant, way)
    meant["airways"] = zlib.compress(msgpack.encode([way]))
    change(copy, "UPDATE name_laid_up SET data = ? WHERE ident = 'V101'", msgpack.encode(meant))
    with open_catalogue(copy) as asked, pytest.raises(NavlogError) as raised:
        asked.airways("V101", day)
    assert [problem.code for problem in raised.value.problems] == ["damaged-catalogue"]
    assert ": its airways: " in raised.value.problems[0].message
