"""The FAA's Digital Obstacle File into the catalogue, and the highest obstacle near a course.

The records are the FAA's own layout (its README): three in fixed columns of 27 June 2026 and two comma-separated.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.obstacles import obstacles_near
from navlog.nav.chart import Position
from navlog.nav.corridor import Corridor
from navlog.nav.earth import direct
from navlog.nav.obstacles import Obstacle, highest_obstacle

HEAD = (
    "  CURRENCY DATE = 06/27/26\n"
    "                                     LATITUDE    LONGITUDE     OBSTACLE            AGL  AMSL LT ACC MAR FAA"
    "       ACTION\n"
    "OAS#      V CO ST CITY             DEG MIN SEC  DEG MIN SEC   TYPE                 HT    HT    H V IND STUDY"
    "            JDATE\n" + "-" * 127 + "\n"
)
RIG, TANK, BUILDING = (
    "01-001307 O US AL DAUPHIN ISLAND   30 10 45.00N 088 04 39.00W RIG                1 00236 00236 R 5 D M"
    " 1990ASO01578OE C 2014138 ",
    "02-292529 U US AK EARECKSON AIR ST 52 43 15.70N 174 06 36.60E TANK               1 00013 00187 N 4 D N"
    " 2020AAL00320OE A 2020246 ",
    "06-310880 U US CA EL CENTRO        32 49 30.90N 115 40 17.60W BLDG               1 00027 -0017 R 4 D N"
    " 2023AWP08259OE A 2025263 ",
)
CSV = (
    "OAS,VERIFIED STATUS,COUNTRY,STATE,CITY,LATDEC,LONDEC,DMSLAT,DMSLON,TYPE,QUANTITY,AGL,AMSL,LIGHTING,ACCURACY,"
    "MARKING,FAA STUDY,ACTION,JDATE\n"
    "09-021145,O,US,CT,GREENWICH       ,41.005065,-73.648312,41 00 18.23N,073 38 53.92W,TOWER             ,1,00084,"
    "00137,N, 2C,N,2011ANE01884OE,A,2012268 \n"
    "09-000279,O,US,CT,OAKDALE         ,41.417500,-72.198134,41 25 03.00N,072 11 53.28W,TOWER             ,1,01090,"
    "01399,H, 1A,N,2022ANE00687OE,C,2023003 \n"
)
DAY = date(2026, 7, 18)


def known(folder: Path, place: Position, radius_nm: float = 2.0) -> tuple[Obstacle, ...]:
    with open_catalogue(folder / "catalogue.sqlite") as catalogue:
        found = obstacles_near(catalogue, Corridor(place, place, radius_nm), DAY)
    assert found is not None
    return found.found


def imported(folder: Path, *records: str, name: str = "DOF.DAT", text: str = "") -> Path:
    (folder / name).write_text(text or HEAD + "".join(f"{record}\n" for record in records), "ascii", newline="\r\n")
    import_data(folder / name, folder / "catalogue.sqlite")
    return folder


def test_a_record_of_fixed_columns_is_read_with_its_accuracy(tmp_path: Path) -> None:
    """Horizontal 5 is 500 ft, vertical D is 50 ft."""
    imported(tmp_path, RIG, TANK, BUILDING)
    place = Position(30 + 10 / 60 + 45 / 3600, -(88 + 4 / 60 + 39 / 3600))
    (rig,) = known(tmp_path, place)
    assert (rig.ident, rig.kind, rig.top_ft, rig.top_tolerance_ft) == ("01-001307", "rig", 236.0, 50.0)
    assert rig.place_tolerance_nm == pytest.approx(500 * 0.3048 / 1852)
    assert (rig.position.latitude_deg, rig.position.longitude_deg) == pytest.approx(
        (place.latitude_deg, place.longitude_deg)
    )


def test_east_longitudes_and_tops_below_the_sea_are_read(tmp_path: Path) -> None:
    imported(tmp_path, RIG, TANK, BUILDING)
    (tank,) = known(tmp_path, Position(52.7210, 174.1102))
    (building,) = known(tmp_path, Position(32.8253, -115.6716))
    assert (tank.kind, tank.top_ft, building.kind, building.top_ft) == ("tank", 187.0, "bldg", -17.0)


def test_the_comma_separated_form_gives_the_same_and_is_dated_by_its_latest_change(tmp_path: Path) -> None:
    """Day 3 of 2023; accuracy 1A is 20 ft either way and 3 ft up."""
    imported(tmp_path, name="DOF.CSV", text=CSV)
    (tower,) = known(tmp_path, Position(41.4175, -72.1981))
    assert (tower.ident, tower.top_ft, tower.top_tolerance_ft) == ("09-000279", 1399.0, 3.0)
    with open_catalogue(tmp_path / "catalogue.sqlite") as catalogue:
        assert [one.provenance.effective for one in catalogue.editions] == [date(2023, 1, 3)]


def test_the_currency_date_is_the_editions(tmp_path: Path) -> None:
    imported(tmp_path, RIG)
    with open_catalogue(tmp_path / "catalogue.sqlite") as catalogue:
        assert [one.provenance.effective for one in catalogue.editions] == [date(2026, 6, 27)]


def test_what_is_dismantled_is_left_out(tmp_path: Path) -> None:
    gone = RIG.replace(" C 2014138", " D 2026138")
    assert gone != RIG
    imported(tmp_path, gone, TANK)
    assert known(tmp_path, Position(30.179, -88.0775)) == ()


@pytest.mark.parametrize(
    ("record", "reason"),
    [
        (RIG[:60], "60 columns where a record has 128"),
        (RIG.replace("30 10", "30 70"), "it has no position"),
        (RIG.replace("00236 00236", "00236      "), "it has no height"),
        (RIG.replace("00236 00236", "00236 high "), "the amsl is not a number"),
    ],
)
def test_a_record_that_cannot_be_is_rejected_with_its_line(tmp_path: Path, record: str, reason: str) -> None:
    (tmp_path / "DOF.DAT").write_text(HEAD + TANK + "\n" + record + "\n", "ascii")
    report = import_data(tmp_path / "DOF.DAT", tmp_path / "catalogue.sqlite")
    assert [(one.line, one.reason) for file in report.files for one in file.rejections] == [(6, reason)]
    assert report.rows == 1


def test_a_new_file_stands_beside_an_older_one_and_its_day_tells_which_is_asked(tmp_path: Path) -> None:
    imported(tmp_path, RIG)
    (tmp_path / "later.d").mkdir()
    later = tmp_path / "later.d" / "DOF.DAT"
    later.write_text(HEAD.replace("06/27/26", "08/22/26") + RIG.replace("00236 00236", "00300 00300") + "\n", "ascii")
    import_data(later, tmp_path / "catalogue.sqlite")
    place = Position(30.179, -88.0775)
    corridor = Corridor(place, place, 2.0)
    with open_catalogue(tmp_path / "catalogue.sqlite") as catalogue:
        tops = [obstacles_near(catalogue, corridor, day) for day in (DAY, date(2026, 9, 1))]
    assert [[one.top_ft for one in found.found] for found in tops if found is not None] == [[236.0], [300.0]]


def test_without_obstacle_data_nothing_is_known_which_is_not_none(tmp_path: Path) -> None:
    import_data(Path(__file__).parents[1] / "data" / "ourairports", tmp_path / "catalogue.sqlite")
    place = Position(46.0, -39.0)
    with open_catalogue(tmp_path / "catalogue.sqlite") as catalogue:
        assert obstacles_near(catalogue, Corridor(place, place, 4.0), DAY) is None


def test_a_catalogue_made_before_obstacles_is_read(tmp_path: Path) -> None:
    import sqlite3

    path = tmp_path / "catalogue.sqlite"
    import_data(Path(__file__).parents[1] / "data" / "ourairports", path)
    with sqlite3.connect(path) as connection:
        connection.execute("DROP TABLE obstacle")
        connection.execute("ALTER TABLE airport DROP COLUMN use")
        connection.execute("PRAGMA user_version = 2")
    connection.close()
    with open_catalogue(path) as catalogue:
        assert catalogue.editions


def obstacle(position: Position, top_ft: float, place_nm: float = 0.0, up_ft: float | None = 0.0) -> Obstacle:
    return Obstacle("01-000001", "tower", position, top_ft, place_nm, up_ft)


def test_the_highest_counts_with_its_tolerances() -> None:
    """1,000 ft and 250 more stand above 1,200 and 3; one that may stand 0.5 NM nearer reaches into the corridor."""
    start, end = Position(40.0, -100.0), Position(40.0, -99.0)
    middle = Position(40.0, -99.5)
    beside = direct(middle, 0.0, 4.3)
    corridor = Corridor(start, end, 4.0)
    unsure = obstacle(middle, 1000.0, up_ft=250.0)
    sure = obstacle(middle, 1200.0, up_ft=3.0)
    outside, reaching = obstacle(beside, 5000.0), obstacle(beside, 5000.0, place_nm=0.5)
    chosen: Callable[..., float | None] = lambda *them: (  # noqa: E731
        None if (found := highest_obstacle(them, corridor)) is None else found.height_ft
    )
    assert chosen(unsure, sure) == 1000.0
    assert chosen(sure, outside) == 1200.0
    assert chosen(sure, reaching) == 5000.0
    assert chosen(outside) is None
