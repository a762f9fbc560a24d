"""Published checkpoints for VOR receivers: read as published, the nearest told, and on the sheet of a departure."""

from __future__ import annotations

import csv
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from helpers.flown import navlog
from helpers.nasr_excerpt import QHB, Row

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.nav import earth
from navlog.nav.angles import difference_deg
from navlog.nav.chart import Position

XHAR: Row = {"ARPT_ID": "XHR", "ICAO_ID": "XHAR", "ARPT_NAME": "HARBOUR", "LAT_DECIMAL": "46.2417"} | {
    "LONG_DECIMAL": "-39.12",
    "SITE_TYPE_CODE": "A",
    "ELEV": "790",
}
CHECK: Row = {"NAV_ID": "QHB", "NAV_TYPE": "VOR/DME", "BRG": "91", "AIR_GND_CODE": "G", "ARPT_ID": "XHR"} | {
    "CHK_DESC": "9.5 NM ON RUNUP PAD RWY 09."
}


@pytest.fixture
def made(nasr_like: Callable[..., Path], tmp_path: Path) -> Callable[..., Path]:
    """A catalogue of one station, one airport and some checkpoints."""

    def make(*checks: Row) -> Path:
        nasr_like("NAV_BASE.csv", QHB)
        nasr_like("APT_BASE.csv", XHAR)
        path = tmp_path / "made.sqlite"
        import_data(nasr_like("NAV_CKPT.csv", *checks), path)
        return path

    return make


def test_one_at_an_airport_is_told_with_station_radial_distance_and_words(made: Callable[..., Path], day: date) -> None:
    with open_catalogue(made(CHECK)) as catalogue:
        (found,) = catalogue.checkpoints(Position(46.24, -39.12), day)
    assert (found.station.ident, found.radial_deg, found.distance_nm, found.airborne) == ("QHB", 91.0, 9.5, False)
    assert (found.airport, found.description) == ("XHR", "9.5 NM ON RUNUP PAD RWY 09.")
    assert found.position == Position(46.2417, -39.12)


def test_one_in_the_air_has_its_altitude(made: Callable[..., Path], day: date) -> None:
    over = CHECK | {"AIR_GND_CODE": "A", "ALTITUDE": "2000", "CHK_DESC": "OVER LIGHTHOUSE", "ARPT_ID": ""}
    with open_catalogue(made(over)) as catalogue:
        (found,) = catalogue.checkpoints(Position(46.24, -39.12), day)
    assert (found.airborne, found.altitude_ft, found.distance_nm, found.airport) == (True, 2000.0, None, None)
    assert found.position == Position(46.205, -39.345)


@pytest.mark.parametrize("change", [{"BRG": ""}, {"BRG": "361"}, {"AIR_GND_CODE": "X"}, {"NAV_ID": ""}])
def test_a_row_that_cannot_be_is_rejected(made: Callable[..., Path], tmp_path: Path, change: Row, day: date) -> None:
    with open_catalogue(made(CHECK | change)) as catalogue:
        assert catalogue.checkpoints(Position(46.24, -39.12), day) == ()


def test_far_away_there_is_none(made: Callable[..., Path], day: date) -> None:
    with open_catalogue(made(CHECK)) as catalogue:
        assert catalogue.checkpoints(Position(40.0, -39.12), day) == ()


def test_every_one_at_the_nearest_airport_is_told(catalogue: Catalogue, day: date) -> None:
    # NAV_CKPT 2026-05-14: four at CHS, radials 133, 225, 336 and 359.
    (chs,) = catalogue.stations("CHS", day)
    assert chs.position is not None
    found = catalogue.checkpoints(chs.position, day)
    assert [one.radial_deg for one in found] == [133.0, 225.0, 336.0, 359.0]
    assert found[0].description == "0.3 NM AT RUNUP AREA RWY 33."


def test_a_catalogue_of_before_is_read_on_and_taken_further(
    nasr: Path, catalogue_file: Path, tmp_path: Path, day: date
) -> None:
    from sqlite3 import connect

    old = tmp_path / "old.sqlite"
    old.write_bytes(catalogue_file.read_bytes())
    with connect(old) as connection:
        connection.execute("DROP TABLE checkpoint")
        connection.execute("ALTER TABLE airport DROP COLUMN use")
        connection.execute("DELETE FROM holding WHERE kind = 'checkpoint'")
        connection.execute("PRAGMA user_version = 1")
    connection.close()
    place = Position(32.89, -80.04)
    with open_catalogue(old) as catalogue:
        assert catalogue.checkpoints(place, day) == ()
        assert catalogue.stations("CHS", day)
    import_data(nasr, old)
    with open_catalogue(old) as catalogue:
        assert len(catalogue.checkpoints(place, day)) == 4


def test_the_departures_stand_on_the_sheet_under_ifr_alone(made: Callable[..., Path], tmp_path: Path) -> None:
    trip = tmp_path / "trip.route"
    trip.write_text("date 2026-05-20\naltitude 5000\ntas 110kt\nwind calm\nrules ifr\nroute XHAR QHB\n", "utf-8")
    path = made(CHECK)
    printed = " ".join(navlog("log", "--catalogue", str(path), str(trip)).out.split())
    assert (
        "checkpoint XHR: QHB 113.70 --.- .... -..., R-091, 9.5 NM from it, on the ground, within 4 degrees, set 091"
        " FROM: 9.5 NM ON RUNUP PAD RWY 09. (NASR 2605)"
    ) in printed
    trip.write_text("date 2026-05-20\naltitude 5000\ntas 110kt\nwind calm\nroute XHAR QHB\n", "utf-8")
    assert "VOR CHECK" not in navlog("log", "--catalogue", str(path), str(trip)).out


def test_the_nearest_elsewhere_says_how_far_it_is(made: Callable[..., Path], tmp_path: Path) -> None:
    # 20 minutes of latitude are 20.0 NM on WGS84 at 46 N (within 0.1).
    trip, path = tmp_path / "trip.route", str(made(CHECK))
    said = "date 2026-05-20\naltitude 5000\ntas 110kt\nwind calm\nrules ifr\nairport XSO 45.9084 -39.12 elev 10ft\n"
    trip.write_text(f"{said}route XSO QHB\n", "utf-8")
    assert "checkpoint XHR, 20.0 NM from the departure: QHB" in navlog("log", "--catalogue", path, str(trip)).out
    trip.write_text(f"{said}route 45.9084 -39.1200 QHB\n".replace("45.9084 -39.1200", "4554N03907W"), "utf-8")
    assert "checkpoint" not in navlog("log", "--catalogue", path, str(trip)).out


def test_published_radials_and_distances_are_those_of_the_airports(full_folder: Path, full: Catalogue) -> None:
    """BRG is the station's radial and the number before NM counts from it: by the airports' positions, 3 NM and on."""
    day = date(2026, 5, 20)
    with (full_folder / "NAV_CKPT.csv").open(newline="", encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["ARPT_ID"]]
    far = 0
    for row in rows:
        place = full.airports(row["ARPT_ID"], day)[0].position
        (found, *_) = [
            one
            for one in full.checkpoints(place, day)
            if (one.description, one.radial_deg) == (row["CHK_DESC"].strip(), float(row["BRG"]))
        ]
        station = found.station
        # The two of SPS are at the ends of a field of 2 NM, 5 NM away.
        if found.distance_nm is None or found.distance_nm < 3 or row["ARPT_ID"] == "SPS":
            continue
        assert station.position is not None
        assert station.declination_deg is not None
        line = earth.inverse(station.position, place)
        assert abs(difference_deg(line.course_deg - station.declination_deg, found.radial_deg)) < 12
        assert line.distance_nm == pytest.approx(found.distance_nm, abs=1.5)
        far += 1
    assert far > 20
