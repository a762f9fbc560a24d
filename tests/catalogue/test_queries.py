"""Stations, fixes and airports by name, by place and by day."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DATA, Row

from navlog.catalogue import import_data, open_catalogue, queries
from navlog.catalogue.queries import Catalogue
from navlog.nav import earth
from navlog.nav.chart import Airport, Bearing, Fix, Position, Provenance, Source, Station, StationKind
from navlog.nav.radio import channel_for

NASR = Provenance(Source.NASR, "2605", date(2026, 5, 14), date(2026, 6, 11))


def test_a_station_as_published(catalogue: Catalogue, day: date) -> None:
    # NAV_BASE 2026-05-14: ACY VORTAC ATLANTIC CITY, 117.15, 118Y, 10W of 1970, VL, DME H, 66.5 ft.
    (acy,) = catalogue.stations("ACY", day)
    assert (acy.kind, acy.published_kind, acy.dme) == (StationKind.VOR, "VORTAC", True)
    assert (acy.frequency_mhz, acy.frequency_khz, acy.channel) == (117.15, None, "118Y")
    assert (acy.declination_deg, acy.declination_year) == (-10.0, 1970)
    assert (acy.service, acy.dme_service, acy.elevation_ft) == ("VL", "H", 66.5)
    assert (acy.name, acy.region, acy.status) == ("ATLANTIC CITY", "NJ", "OPERATIONAL RESTRICTED")
    assert acy.position == Position(39.4558748, -74.57631472)
    assert acy.provenance == NASR


@pytest.mark.parametrize(
    ("ident", "kinds"),
    [
        ("MAZ", ["ndb", "vor"]),
        ("AA", ["ndb", "ndb"]),
        ("ABQ", ["vor", "vot"]),
        ("GLR", ["dme"]),
        ("CCV", ["tacan"]),
        ("HLE", ["ndb"]),
        ("QQQ", []),
    ],
)
def test_every_station_of_an_identifier_with_its_kind(
    catalogue: Catalogue, day: date, ident: str, kinds: list[str]
) -> None:
    assert sorted(station.kind.value for station in catalogue.stations(ident, day)) == kinds


def test_only_azimuth_has_a_declination_and_only_beacons_kilohertz(
    catalogue: Catalogue, day: date, published: Callable[[str], list[Row]]
) -> None:
    for ident in {row["NAV_ID"] for row in published("NAV_BASE.csv")}:
        for station in catalogue.stations(ident, day):
            azimuth = station.kind in (StationKind.VOR, StationKind.TACAN)
            assert (station.declination_deg is not None) == azimuth
            assert (station.frequency_khz is not None) == (station.kind is StationKind.NDB)


def test_a_station_out_of_service_says_so(
    catalogue: Catalogue, day: date, published: Callable[[str], list[Row]]
) -> None:
    shut = [row["NAV_ID"] for row in published("NAV_BASE.csv") if row["NAV_STATUS"] == "SHUTDOWN"]
    assert shut
    for ident in shut:
        assert "SHUTDOWN" in [station.status for station in catalogue.stations(ident, day)]


def test_channels_of_every_station_are_those_paired_with_its_frequency(
    catalogue: Catalogue, day: date, published: Callable[[str], list[Row]]
) -> None:
    checked = 0
    for row in published("NAV_BASE.csv"):
        # Of the 22 NDB/DMEs the frequency is the beacon's.
        if row["CHAN"] and row["FREQ"] and not row["NAV_TYPE"].startswith("NDB"):
            assert channel_for(float(row["FREQ"])) == row["CHAN"]
            found = [s for s in catalogue.stations(row["NAV_ID"], day) if s.published_kind == row["NAV_TYPE"]]
            assert [one.channel for one in found] == [row["CHAN"]]
            checked += 1
    assert checked > 50


def test_a_fix_with_its_make_up(catalogue: Catalogue, day: date) -> None:
    (libel,) = catalogue.fixes("LIBEL", day)
    assert libel.position == Position(40.51237222, -105.10278611)
    assert Bearing("GLL", 258.34, 25.17, "VOR/DME") in libel.makeup
    assert (libel.region, libel.published, libel.computed) == ("K2", True, False)


def test_a_fix_without_a_position_is_placed_by_radial_and_distance(catalogue: Catalogue, day: date) -> None:
    from geographiclib.geodesic import Geodesic

    (beeeg,) = catalogue.fixes("BEEEG", day)
    assert beeeg.computed
    assert beeeg.position is not None
    # FIX_NAV: SBY TACAN radial 139.42, 9.55 NM; SBY stands at 38.34501, -75.51054, declination 11W.
    (sby,) = [one for one in catalogue.stations("SBY", day) if one.kind is not StationKind.NDB]
    assert sby.position is not None
    assert sby.declination_deg is not None
    made = Geodesic.WGS84.Direct(
        sby.position.latitude_deg, sby.position.longitude_deg, 139.42 + sby.declination_deg, 9.55 * 1852.0
    )
    assert beeeg.position.latitude_deg == pytest.approx(made["lat2"], abs=1e-9)
    assert beeeg.position.longitude_deg == pytest.approx(made["lon2"], abs=1e-9)


def test_a_fix_that_only_an_airway_names_has_no_position(catalogue: Catalogue, day: date) -> None:
    named = catalogue.query("SELECT point, region FROM airway_point WHERE point = 'IILND'")[0]
    (fix,) = catalogue.fixes(named["point"], day)
    assert fix.region == named["region"]
    assert fix.computed == (fix.position is not None)


@pytest.mark.parametrize("asked", ["KDEN", "DEN"])
def test_airports_answer_to_both_identifiers(catalogue: Catalogue, day: date, asked: str) -> None:
    (airport,) = catalogue.airports(asked, day)
    assert (airport.ident, airport.name) == (asked, "DENVER INTL")
    assert (airport.kind, airport.status, airport.elevation_ft) == ("airport", None, 5433.8)


def test_kinds_and_closures_of_landing_places(
    catalogue: Catalogue, day: date, published: Callable[[str], list[Row]]
) -> None:
    kinds = {
        "A": "airport",
        "B": "balloonport",
        "C": "seaplane base",
        "G": "gliderport",
        "H": "heliport",
        "U": "ultralight field",
    }
    status = {"O": None, "CI": "closed indefinitely", "CP": "closed permanently"}
    for row in published("APT_BASE.csv"):
        (airport,) = catalogue.airports(row["ARPT_ID"], day)
        assert (airport.kind, airport.status) == (kinds[row["SITE_TYPE_CODE"]], status[row["ARPT_STATUS"]])


def test_names_asked_again_are_answered_from_memory_that_is_bounded(
    catalogue_file: Path, day: date, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(queries, "_LARGEST_CACHE", 10)
    with open_catalogue(catalogue_file) as asked:
        first = (asked.airports("KDEN", day), asked.stations("GLL", day), asked.airways("V101", day))
        made: list[str] = []
        asked.connection.set_trace_callback(made.append)
        assert (asked.airports("KDEN", day), asked.stations("GLL", day), asked.airways("V101", day)) == first
        assert made == []
        for number in range(30):
            assert asked.airports(f"Q{number}", day) == ()
        assert len(asked._airports) <= 10
        made.clear()
        assert [asked.airports(f"Q{number}", day) for number in range(21, 30)] == [()] * 9
        assert made == []
        assert asked.airports("KDEN", day) == first[0]


def test_names_read_ahead_are_those_asked_one_by_one_in_few_questions(catalogue_file: Path, day: date) -> None:
    names = ("KDEN", "GLL", "V101", "V134", "LIBEL", "DEN", "QQQ", "")

    def told(asked: Catalogue) -> list[object]:
        return [
            known(name, day) for name in names for known in (asked.stations, asked.fixes, asked.airports, asked.airways)
        ]

    with open_catalogue(catalogue_file) as one_by_one, open_catalogue(catalogue_file) as together:
        made: list[str] = []
        together.connection.set_trace_callback(made.append)
        together.read_ahead(names, day)
        # A question for each table that has what a name may mean, again for the points of the airways.
        assert len(made) <= 16
        made.clear()
        assert told(together) == told(one_by_one)
        assert made == []


def test_airways_that_join_two_points(catalogue: Catalogue, day: date) -> None:
    assert catalogue.airways_joining("JNC", "SLOLM", day) == ("V134", "V220", "V591")
    assert catalogue.airways_joining("GLL", "LIBEL", day) == ("V101",)
    assert catalogue.airways_joining("GLL", "MHV", day) == ()


def test_names_spelt_alike(catalogue: Catalogue, day: date) -> None:
    assert catalogue.similar("LIBLE", day, None)[0].ident == "LIBEL"
    assert "LIBEL" in [place.ident for place in catalogue.similar("LIBE", day, None)]
    assert "GLL" in [place.ident for place in catalogue.similar("GLK", day, None)]
    for nothing in ("", "A VERY LONG NAME", "%", "GL'"):
        assert all(len(place.ident) > 1 for place in catalogue.similar(nothing, day, None))


def test_names_spelt_alike_come_nearest_first(catalogue: Catalogue, day: date) -> None:
    (gll,) = catalogue.stations("GLL", day)
    near = catalogue.similar("GLK", day, gll.position)
    assert near[0].ident == "GLL"


def test_nearby_finds_the_kinds_asked_for_nearest_first(catalogue: Catalogue, day: date) -> None:
    (gll,) = catalogue.stations("GLL", day)
    assert gll.position is not None
    found = catalogue.nearby(gll.position, 60.0, day, ("vor", "airport", "fix"))
    assert found[0] == gll
    assert {type(place) for place in found} == {Station, Airport, Fix}
    assert "LIBEL" in [place.ident for place in found]
    assert all(isinstance(one, Airport) for one in catalogue.nearby(gll.position, 60.0, day, ("airport",)))


def test_stations_on_a_frequency_are_those_around_a_place(catalogue: Catalogue, day: date) -> None:
    (gll,) = catalogue.stations("GLL", day)
    assert gll.position is not None
    everywhere = catalogue.stations_on(114.2, gll.position, 5_000.0, day)
    named = {row["ident"] for row in catalogue.query("SELECT ident FROM station WHERE frequency = 114.2")}
    assert {one.ident for one in everywhere} == named
    assert len(named) > 1
    for radius_nm in (1.0, 300.0, 1_000.0):
        around = catalogue.stations_on(114.2, gll.position, radius_nm, day)
        apart_nm = {one: earth.distance_nm(gll.position, one.position) for one in everywhere if one.position}
        assert {one for one in everywhere if apart_nm[one] <= radius_nm} <= set(around)
        assert all(apart_nm[one] <= 1.02 * radius_nm + 3.0 for one in around)


@pytest.mark.parametrize("position", [Position(89.9, 10.0), Position(-14.0, 179.9), Position(-90.0, 0.0)])
def test_nearby_at_the_poles_and_the_date_line(catalogue: Catalogue, day: date, position: Position) -> None:
    assert catalogue.nearby(position, 40.0, day, ("vor",)) == ()


def test_nearby_across_the_date_line(tmp_path: Path, nasr_like: Callable[..., Path], day: date) -> None:
    row = {
        "NAV_ID": "QDL", "NAV_TYPE": "VOR", "LAT_DECIMAL": "10", "LONG_DECIMAL": "-179.9",
        "MAG_VARN": "0", "MAG_VARN_HEMIS": "E", "FREQ": "113.7",
    }  # fmt: skip
    import_data(nasr_like("NAV_BASE.csv", row), tmp_path / "c.sqlite")
    with open_catalogue(tmp_path / "c.sqlite") as catalogue:
        (found,) = catalogue.nearby(Position(10.0, 179.9), 20.0, day, ("vor",))
    assert found.ident == "QDL"


def test_the_same_object_is_told_by_the_most_trusted_source(tmp_path: Path, day: date) -> None:
    path = tmp_path / "c.sqlite"
    import_data(DATA / "ourairports", path)
    with open_catalogue(path) as catalogue:
        (alone,) = [one for one in catalogue.stations("ALB", day) if one.region == "US"]
    assert not alone.provenance.verified
    import_data(DATA / "nasr", path)
    with open_catalogue(path) as catalogue:
        albany, *others = [one for one in catalogue.stations("ALB", day) if one.kind is StationKind.VOR]
        assert albany.provenance.source is Source.NASR
        assert albany.unusable
        # Namesakes in Germany and Italy stay.
        assert sorted(one.region or "" for one in others) == ["DE", "IT"]
        assert [source.source for source in catalogue.sources(day)] == [Source.NASR, Source.OURAIRPORTS]
        # The frequency has changed since the other source was made: NASR's counts.
        assert [one.frequency_mhz for one in catalogue.stations("GLL", day)] == [114.2]


def test_a_station_that_became_a_dme_hides_the_vor_an_older_source_still_has(tmp_path: Path, day: date) -> None:
    path = tmp_path / "c.sqlite"
    header = (DATA / "ourairports" / "navaids.csv").read_text(encoding="utf-8").splitlines()[0]
    with open_catalogue(_imported(DATA / "nasr", path)) as catalogue:
        (glr,) = catalogue.stations("GLR", day)
    assert glr.position is not None
    place = f"{glr.position.latitude_deg},{glr.position.longitude_deg}"
    old = (
        f'1,"Gaylord_VOR-DME_US","GLR","Gaylord","VOR-DME",109200,{place},1328,"US",109200,"029X",,,,-3,-6,"BOTH","",""'
    )
    made = tmp_path / "made"
    made.mkdir()
    (made / "navaids.csv").write_text(f"{header}\n{old}\n", encoding="utf-8")
    with open_catalogue(_imported(made, path)) as catalogue:
        assert [one.kind for one in catalogue.stations("GLR", day)] == [StationKind.DME]


def _imported(source: Path, path: Path) -> Path:
    import_data(source, path)
    return path


def test_a_catalogue_in_a_read_only_folder_can_be_asked(catalogue_file: Path, tmp_path: Path, day: date) -> None:
    folder = tmp_path / "shelf"
    folder.mkdir()
    path = folder / "catalogue.sqlite"
    path.write_bytes(catalogue_file.read_bytes())
    path.chmod(0o444)
    folder.chmod(0o555)
    try:
        with open_catalogue(path) as catalogue:
            assert catalogue.airways("V101", day)
        assert [file.name for file in folder.iterdir()] == ["catalogue.sqlite"]
    finally:
        folder.chmod(0o755)


def test_names_that_are_sql_are_only_names(catalogue: Catalogue, day: date) -> None:
    for name in ("'; DROP TABLE station; --", "%", "", "\0", "\udcff", "Ö"):
        assert catalogue.stations(name, day) == ()
        assert catalogue.fixes(name, day) == ()
        assert catalogue.airports(name, day) == ()
        assert catalogue.airways(name, day) == ()
        assert catalogue.airways_joining(name, "GLL", day) == ()
