"""OurAirports files: units and codes as the catalogue keeps them, and nothing of it verified."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.nav.chart import StationKind
from navlog.nav.problems import NavlogError

HEADER = (
    '"id","ident","type","name","latitude_deg","longitude_deg","elevation_ft","continent","iso_country","iso_region",'
    '"municipality","scheduled_service","icao_code","iata_code","gps_code","local_code","home_link","wikipedia_link",'
    '"keywords"'
)
# Invented fields in an empty stretch of ocean, in the layout of airports.csv.
AIRPORTS = (
    '1,"XHAR","small_airport","Harbour Field",46.2417,-39.12,790,"EU","QQ","QQ-1","Harbour","no","XHAR",,"XHAR",,,,',
    '2,"QQ-0001","heliport","Marsh Pad",46.3,-39.2,12,"EU","QQ","QQ-1",,"no",,,,,,,',
    '3,"K9QX","closed","Old Mill",45.6833,-39.3333,350,"NA","US","US-AK",,"no",,,"K9QX","9QX",,,',
    '4,"XSEA","seaplane_base","Östersund",45.9,-39.1,0,"EU","QQ","QQ-1",,"no",,,,,,,',
)


@pytest.fixture
def made(tmp_path: Path) -> Path:
    folder = tmp_path / "made"
    folder.mkdir()
    (folder / "airports.csv").write_text("\n".join([HEADER, *AIRPORTS]) + "\n", encoding="utf-8")
    return folder


@pytest.fixture
def catalogue(tmp_path: Path, made: Path) -> Iterator[Catalogue]:
    import_data(DATA / "ourairports", tmp_path / "c.sqlite")
    import_data(made, tmp_path / "c.sqlite")
    with open_catalogue(tmp_path / "c.sqlite") as opened:
        yield opened


def test_a_station_in_our_units(catalogue: Catalogue, day: date) -> None:
    (auckland,) = [one for one in catalogue.stations("AA", day) if one.kind is StationKind.VOR]
    assert (auckland.published_kind, auckland.dme, auckland.channel) == ("VOR/DME", True, "95X")
    assert (auckland.frequency_mhz, auckland.declination_deg) == (114.8, 19.011)
    assert (auckland.region, auckland.service, auckland.declination_year) == ("NZ", None, None)
    beacon = next(one for one in catalogue.stations("AA", day) if one.region == "GH")
    assert (beacon.kind, beacon.frequency_khz, beacon.declination_deg) == (StationKind.NDB, 409.0, None)


def test_everything_is_unverified_and_without_a_cycle(catalogue: Catalogue, day: date) -> None:
    (source,) = catalogue.sources(day)
    assert (source.verified, source.cycle, source.effective, source.expires) == (False, None, None, None)
    for ident in ("AA", "ALB", "TUT"):
        assert all(not one.provenance.verified for one in catalogue.stations(ident, day))


def test_two_files_imported_one_after_the_other_are_one_edition(catalogue: Catalogue) -> None:
    (edition,) = catalogue.editions
    assert [holding.file for holding in edition.holdings] == ["navaids.csv", "airports.csv"]


@pytest.mark.parametrize(
    ("asked", "kind", "status"),
    [
        ("XHAR", "airport", None),
        ("QQ-0001", "heliport", None),
        ("9QX", "airport", "closed"),
        ("XSEA", "seaplane base", None),
    ],
)
def test_airports_by_their_identifiers(
    catalogue: Catalogue, day: date, asked: str, kind: str, status: str | None
) -> None:
    (airport,) = catalogue.airports(asked, day)
    assert (airport.kind, airport.status) == (kind, status)


def test_names_keep_their_letters(catalogue: Catalogue, day: date) -> None:
    assert catalogue.airports("XSEA", day)[0].name == "Östersund"


def test_a_frequency_that_no_vor_has_is_left_out_and_said(tmp_path: Path, day: date) -> None:
    source = (DATA / "ourairports" / "navaids.csv").read_text(encoding="utf-8")
    (tmp_path / "navaids.csv").write_text(source.replace('"VOR-DME",114800', '"VOR-DME",1148'), encoding="utf-8")
    report = import_data(tmp_path / "navaids.csv", tmp_path / "c.sqlite")
    assert report.notes == ("1 VOR frequencies outside 108 to 117.95 MHz are left out",)
    with open_catalogue(tmp_path / "c.sqlite") as found:
        (auckland,) = [one for one in found.stations("AA", day) if one.kind is StationKind.VOR]
    assert auckland.frequency_mhz is None


def test_rows_without_a_position_are_rejected(tmp_path: Path, made: Path) -> None:
    file = made / "airports.csv"
    file.write_text(file.read_text(encoding="utf-8").replace("46.3,-39.2", ","), encoding="utf-8")
    report = import_data(made, tmp_path / "c.sqlite")
    assert [(one.line, one.reason) for one in report.files[0].rejections] == [(3, "it has no position")]


def test_a_file_of_that_name_and_another_make_is_said(tmp_path: Path, made: Path) -> None:
    (made / "navaids.csv").write_text("ARPT_ID,ICAO_ID\nX,Y\n", encoding="utf-8")
    with pytest.raises(NavlogError, match="has no column"):
        import_data(made, tmp_path / "c.sqlite")
