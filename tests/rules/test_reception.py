"""Service volumes, horizon and spacing off airways, unusable sectors everywhere, gaps in the signal."""

from __future__ import annotations

import csv
import os
import re
from pathlib import Path

import pytest
from helpers.judged import along, found, judged, reported
from helpers.nasr_excerpt import DAY

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.flightlog.records import Phase
from navlog.nav.chart import StationKind
from navlog.nav.radio import radio_horizon_nm, service_radius_nm
from navlog.nav.sectors import Sector
from navlog.rules.samples import FLOWN_BY_FILE

LEVEL_STATION = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class {} elev 0ft"


VORS = ("VOR", "VORTAC", "VOR/DME")


def out(distance_nm: float, altitude_ft: int, service: str, *more: str) -> list[str]:
    """What is found of a direct leg from a station at sea level to a fix this far out."""
    return found("out-of-range", *direct(distance_nm, altitude_ft, service), *more)


def direct(distance_nm: float, altitude_ft: int, service: str) -> tuple[str, ...]:
    return (
        LEVEL_STATION.format(service),
        f"fix LAKER QHB 160 {distance_nm:g}nm",
        "route QHB LAKER",
        f"altitude {altitude_ft}",
        "-direct QHB",
    )


# FAA AIM 1-1-8, table 1-1-1, rows as in the project's reference values.
ROW_35 = [("VH", 5_000, 70), ("VH", 14_500, 100), ("VH", 18_000, 130), ("VH", 45_001, 100)]
ROW_36 = [("VL", 4_999, 40), ("VL", 5_000, 70)]
OLD = [("T", 12_000, 25), ("L", 18_000, 40), ("H", 14_499, 40), ("H", 14_500, 100)]


@pytest.mark.parametrize(("service", "altitude_ft", "radius_nm"), [*ROW_35, *ROW_36, *OLD])
def test_rows_35_and_36_a_station_serves_to_its_radius(service: str, altitude_ft: int, radius_nm: int) -> None:
    assert out(radius_nm - 0.1, altitude_ft, service) == []
    (told,) = out(radius_nm + 0.1, altitude_ft, service)
    assert f"QHB class {service} serves {radius_nm} NM" in told


def test_a22_60_nm_out_is_outside_at_4500_ft_and_inside_at_5500_ft() -> None:
    assert out(60, 4_500, "VL")
    assert out(60, 5_500, "VL") == []


def test_a22_the_height_is_counted_above_the_station() -> None:
    high = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class VL elev 600ft"
    assert out(60, 5_500, "VL", high)


def test_a22_on_an_airway_at_the_mea_the_volume_does_not_bind() -> None:
    chart = "airway V801 QHB 160 - LAKER 60nm mea {}"
    direct_leg = (LEVEL_STATION.format("L"), "fix LAKER QHB 160 60nm", "route QHB V801 LAKER")
    assert found("out-of-range", *direct_leg, chart.format(4500)) == []
    assert found("out-of-range", *direct_leg, chart.format(4600))


def test_on_an_airway_at_the_moca_it_does_not_bind_within_22_nm() -> None:
    chart = "airway V801 QHB 160 - LAKER {}nm mea 6000 moca 4000"
    for distance_nm, told in ((21.9, False), (22.1, True)):
        fix = f"fix LAKER QHB 160 {distance_nm}nm"
        station = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class T elev 3600ft"
        some = found("out-of-range", station, fix, chart.format(distance_nm), "route QHB V801 LAKER")
        assert bool(some) is told


def test_a19_the_dme_that_marks_a_fix_has_a_volume_of_its_own() -> None:
    station = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class VH dme {} elev 0ft"
    flight = ("fix LAKER QHB 160 60nm", "route QHB LAKER", "altitude 5500", "equipment vor 1 dme 1", "-direct QHB")
    assert found("out-of-range", station.format("DH"), *flight) == []
    (told,) = found("out-of-range", station.format("L"), *flight)
    assert "QHB DME class L serves 40 NM" in told


def test_a23_direct_stations_are_at_most_80_nm_apart_below_18000_ft() -> None:
    for north, told in (("N44 53.0", False), ("N44 51.0", True)):
        # A minute of latitude is a mile: 79.3 and 81.3 NM due south of QHB.
        stations = (
            "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class VH elev 0ft",
            f"station QEL 110.20 {north} W039 20.70 decl 15W class VH elev 0ft",
            "-airway V801",
            "route QHB DCT QEL",
            "altitude 9500",
        )
        assert bool(found("stations-apart", *stations)) is told


def test_a24_on_an_airway_128_nm_between_stations_are_fine() -> None:
    # V140 BNA-DYR is 128 NM without a station between (pilots' forum, practice case A24).
    chart = "QHB 212 - 032 QEL 128nm mea 3000"
    assert found("stations-apart", *along(chart)) == []
    assert found("out-of-range", *along(chart)) == []


# Practice case A25: 1.23 x sqrt(height above ground) NM.
A25 = [(1_000, 38.9), (2_500, 61.5), (3_500, 72.8), (5_500, 91.2)]


@pytest.mark.parametrize(("height_ft", "horizon_nm"), A25)
def test_a25_a_station_is_heard_to_the_radio_horizon(height_ft: int, horizon_nm: float) -> None:
    assert radio_horizon_nm(height_ft) == pytest.approx(horizon_nm, abs=0.05)
    near, far = direct(horizon_nm - 0.2, height_ft, "VH"), direct(horizon_nm + 0.2, height_ft, "VH")
    assert found("below-horizon", *near) == []
    (told,) = found("below-horizon", *far)
    assert f"from {height_ft} ft is {horizon_nm} NM" in told


def test_a25_a_student_65_nm_out_at_2500_ft_hears_nothing() -> None:
    assert found("below-horizon", *direct(65, 2_500, "VH"))


def test_the_horizon_of_a_station_on_a_mountain_counts_from_the_lowland() -> None:
    # 1.23 x (sqrt 4,000 + sqrt 4,000) = 155.6 NM, over an airport at sea level.
    high = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class VH elev 4000ft"
    flight = (high, "airport XHAR N46 14.50 W039 07.20 elev 0ft", "fix LAKER QHB 160 150nm", "-direct QHB")
    assert found("below-horizon", *flight, "route XHAR QHB LAKER", "altitude 4000") == []


NO_ELEVATION = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W"


def test_a_station_without_an_elevation_has_the_horizon_of_the_lowest_ground() -> None:
    """1.23 x sqrt 3,000 = 67.4 NM over an airport at sea level; the station may stand no lower than that is known."""
    field = "airport XHAR N46 14.50 W039 07.20 elev 0ft"
    for away, count in ((67.2, 0), (67.6, 1), (284, 1)):
        flight = (NO_ELEVATION, field, f"fix LAKER QHB 160 {away}nm", "-direct QHB", "route XHAR QHB LAKER")
        told = found("below-horizon", *flight, "altitude 3000")
        assert len(told) == count
        assert all(
            "is 67.4 NM, its elevation not known and so taken as the lowest of the flight" in one for one in told
        )


@pytest.mark.parametrize(
    ("service", "altitude_ft", "radius_nm"),
    [("T", 9_500, 25), ("T", 14_000, 25), ("VL", 12_000, 70), ("VH", 16_000, 100)],
)
def test_a_station_without_an_elevation_serves_at_the_most_what_its_class_does(
    service: str, altitude_ft: int, radius_nm: int
) -> None:
    """AIM 1-1-8: the radii of the table; a T serves 25 NM up to 12,000 ft above it, and it may stand at 5,000 ft."""
    station = f"{NO_ELEVATION} class {service}"
    assert out(radius_nm - 0.1, altitude_ft, service, station) == []
    (told,) = out(radius_nm + 0.1, altitude_ft, service, station)
    assert f"QHB class {service} serves {radius_nm} NM at the most, its elevation not known;" in told


ACROSS_NORTH = [(346, 12, 350, True), (346, 12, 5, True), (346, 12, 12, True), (346, 12, 13, False)]
PLAIN = [(150, 160, 150, True), (150, 160, 160, True), (0, 360, 123, True)]
# As printed, half up: 149.5 is flown as 150, 149.4 as 149. One radial alone is a sector too (HCM, `174`).
ROUNDED = [(150, 160, 149.5, True), (150, 160, 149.4, False), (150, 160, 160.4, True), (150, 160, 160.5, False)]
ALONE = [(174, 174, 173.6, True), (174, 174, 174.4, True), (174, 174, 175, False), (360, 360, 0.3, True)]


@pytest.mark.parametrize(("start", "end", "radial", "inside"), [*ACROSS_NORTH, *PLAIN, *ROUNDED, *ALONE])
def test_a_sector_may_cross_north_and_includes_its_limits(
    start: float, end: float, radial: float, inside: bool
) -> None:
    # FAA NASR NAV_RMK: `VOR UNUSBL 346-012`.
    assert Sector(start, end).holds(radial) is inside


@pytest.mark.parametrize("radial", [236.0, 236.3, 236.5, 236.7, 237.0])
def test_between_two_adjoining_sectors_there_is_no_usable_radial(radial: float) -> None:
    # FAA NASR NAV_RMK, ABI: `163-236 BYD 40 NM BLW 18000 FT`, `237-247 BYD 40 NM BLW 7000 FT`.
    assert Sector(163, 236).holds(radial) is not Sector(237, 247).holds(radial)


SECTOR = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft unusable {}"


@pytest.mark.parametrize(
    ("sector", "told"),
    [
        ("205-220", True),
        ("213-220", False),
        # FROM QHB to the changeover point 11 NM out, at 4,500 ft.
        ("205-220 beyond 10nm", True),
        ("205-220 beyond 11nm", False),
        ("205-220 below 4600ft", True),
        ("205-220 below 4500ft", False),
        ("205-220 beyond 10nm below 4600ft", True),
        ("205-220 beyond 10nm below 4500ft", False),
    ],
)
def test_an_unusable_sector_binds_on_airways_too(sector: str, told: bool) -> None:
    assert bool(found("unusable-sector", SECTOR.format(sector))) is told


def test_a_climb_may_leave_a_sector_that_is_unusable_only_low_down() -> None:
    # At QHB the climb is at about 5,100 ft, lower before: the airport leg is TO QHB on its 089 radial.
    low = "unusable 080-100 beyond {}nm below 4000ft"
    station = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L elev 820ft "
    asked = (*FLOWN_BY_FILE, "altitude 6500")
    assert found("unusable-sector", station + low.format(1), *asked)
    assert found("unusable-sector", station + low.format(9.7), *asked) == []


def test_a39_a_gap_is_held_by_heading_and_time() -> None:
    # 12 NM at 110 kt in still air are 6.5 min. Of 29.5 NM 18.5 are flown to QEL, by the heading of that longer part.
    (told,) = found("signal", "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 gap 12nm cop 11 QHB", "wind calm")
    assert told == "warning: V801 from QHB to QEL: signal gap of 12 NM, hold heading 209 magnetic for 6.5 min"


def test_published_legs_that_leave_a_station_inside_an_unusable_sector(tmp_path: Path) -> None:
    """About 1,900 Victor legs leave a VOR, and 17 or 18 do so inside a sector unusable anywhere.

    Counted over the whole of NASR 2026-05-14, where it is at hand: once by a plain reading of NAV_RMK here and
    once by the catalogue's sectors and the rule.
    """
    folder = os.environ.get("NAVLOG_SHARED_DATA")
    if not folder:
        pytest.skip("NAVLOG_SHARED_DATA is not set")
    nasr = Path(folder) / "nasr-2026-05-14"
    legs, sectors = published_legs(nasr), plain_sectors(nasr)
    here = {leg for leg in legs if any(Sector(*one).holds(leg[1]) for one in sectors.get(leg[0], ()))}
    assert 1_890 <= len(legs) <= 1_910
    import_data(nasr, tmp_path / "catalogue.sqlite")
    with open_catalogue(tmp_path / "catalogue.sqlite") as catalogue:
        by_rule = {leg for leg in legs if anywhere_unusable(catalogue, *leg)}
    assert here <= by_rule
    assert 17 <= len(by_rule) <= 18


def published_legs(folder: Path) -> list[tuple[str, float]]:
    """The station and the radial of every Victor airway row that leaves a VOR and can be flown."""
    with (folder / "AWY_SEG_ALT.csv").open(newline="") as opened:
        return [
            (row["FROM_POINT"], float(row["MAG_COURSE"]))
            for row in csv.DictReader(opened)
            if row["AWY_ID"].startswith("V")
            and row["FROM_PT_TYPE"] in VORS
            and row["MAG_COURSE"]
            and row["AWY_SEG_GAP_FLAG"] != "Y"
            and row["MEA_GAP"] not in ("U", "N")
        ]


def plain_sectors(folder: Path) -> dict[str, list[tuple[float, float]]]:
    """The sectors of each VOR that a remark gives without a distance or height."""
    found: dict[str, list[tuple[float, float]]] = {}
    with (folder / "NAV_RMK.csv").open(newline="") as opened:
        for row in csv.DictReader(opened):
            remark = re.match(r"VOR(?: & DME|/DME| AND DME)?\b[^:]*?UNUSBL\s+(.*)", row["REMARK"])
            if row["NAV_TYPE"] in VORS and remark:
                for part in remark.group(1).split(";"):
                    limits = re.match(r"\s*(\d{3})-(\d{3})\s*\.?\s*$", part)
                    if limits:
                        found.setdefault(row["NAV_ID"], []).append((float(limits[1]), float(limits[2])))
    return found


def anywhere_unusable(catalogue: Catalogue, ident: str, radial_deg: float) -> bool:
    """Whether the catalogue calls a VOR's radial unusable at any distance and height."""
    (station,) = [one for one in catalogue.stations(ident, DAY) if one.kind is StationKind.VOR]
    return any(
        one.holds(radial_deg) and one.concerns("vor") and one.beyond_nm is None and one.below_ft is None
        for one in station.unusable
    )


def test_service_radius_of_an_unknown_class_is_not_guessed() -> None:
    assert service_radius_nm("X", 5_000) is None


FLAT = (
    "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class VH elev 100ft",
    "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class VH elev 100ft",
    "airport XHAR N46 11.00 W039 20.00 elev 100ft",
    "airport XOLD N45 43.00 W039 33.00 elev 100ft",
    "aircraft climber.toml",
    "-tas",
    "-burn",
    "-direct QHB",
    "-direct QEL",
)
"""Airports beside stations on ground that is level: on the runway both heights of the formula are 0."""


def test_on_level_ground_no_station_beside_the_runway_is_over_the_horizon() -> None:
    assert found("below-horizon", *FLAT, "route XHAR QHB V801 QEL XOLD") == []
    assert found("below-horizon", *FLAT, "route XHAR QHB V801 QEL XOLD land 10min XHAR") == []


def test_in_climb_a_station_farther_than_is_seen_from_1000_ft_is_told() -> None:
    # 1.23 x sqrt(1,000) = 38.9 NM (A25); a minute of latitude is a mile.
    for north, told in (("N45 34.0", False), ("N45 33.0", True)):
        away = (
            "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class VH elev 100ft",
            f"airport XHAR {north} W039 20.70 elev 100ft",
        )
        some = found("below-horizon", *FLAT, *away, "route XHAR QHB XOLD")
        assert any("QHB" in one for one in some) is told


def test_one_unusable_radial_is_found_where_it_is_what_is_set() -> None:
    # FAA NASR NAV_RMK, HCM: `174` alone.
    (told,) = found("unusable-sector", SECTOR.format("212-212"))
    assert told == "warning: QHB is unusable on radial 212; radial 212 is used"


OUT_AND_OUT = (
    LEVEL_STATION.format("VL"),
    "fix LAKER QHB 160 80nm",
    "fix FARER QHB 160 95nm",
    "altitude 2500",
    "-direct QHB",
)


@pytest.mark.parametrize("route", ["route LAKER FARER", "route FARER LAKER"])
def test_of_two_ends_out_of_reach_the_farther_is_told(route: str) -> None:
    # AIM 1-1-8: a VL serves 40 NM at 2,500 ft; 1.23 x sqrt 2,500 = 61.5 NM.
    told = {one.rule: one for one in judged(*OUT_AND_OUT, route) if one.rule in ("out-of-range", "below-horizon")}
    assert "serves 40 NM at 2500 ft above it; it is used 95.0 NM away" in told["out-of-range"].message
    assert told["below-horizon"].message == "QHB is 95.0 NM away and the radio horizon from 2500 ft is 61.5 NM"
    assert told["out-of-range"].by == pytest.approx(95 - 40)
    assert told["below-horizon"].by == pytest.approx(95 - 61.5)


@pytest.mark.parametrize(("beyond_nm", "told"), [(0.04, False), (0.06, True)])
def test_what_prints_as_the_limit_itself_is_within_it(beyond_nm: float, told: bool) -> None:
    assert bool(out(40 + beyond_nm, 4_999, "VL")) is told
    assert bool(found("below-horizon", *direct(61.5 + beyond_nm, 2_500, "VH"))) is told


def test_a_climb_above_the_floor_of_the_volumes_has_the_volume_of_its_height() -> None:
    # A VL serves 70 NM from 5,000 ft on; the climb from 5,500 ft begins 55 NM out.
    way = (LEVEL_STATION.format("VL"), "fix LAKER QHB 160 55nm", "fix FARER QHB 160 69nm", "-direct QHB")
    flown = (*FLOWN_BY_FILE, *way, "altitude 5500", "route QHB LAKER/A075 FARER")
    assert [leg.phase for leg in reported(*flown).log.legs].count(Phase.CLIMB) == 1
    assert found("out-of-range", *flown) == []


@pytest.mark.parametrize(("altitude", "told"), [(3000, False), (2900, True)])
def test_the_cross_radial_of_a_fix_has_no_volume_at_the_mea_of_its_airway(altitude: int, told: bool) -> None:
    # QSK's class serves 25 NM (AIM 1-1-8, class T); MARSH lies 27 NM from it.
    asked = (
        "station QSK 112.40 N46 04.00 W038 45.50 decl 14W class T elev 150ft",
        "fix MARSH QHB 212 x QSK 284",
        "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000",
        f"altitude {altitude}",
    )
    assert any("QSK" in one for one in found("out-of-range", *asked)) is told


CROSSED = ("fix MARSH QHB 212 x QSK 284", "route QHB MARSH", "-direct QHB")


def test_a_cross_radial_under_the_horizon_is_told() -> None:
    # 60 NM away; from 1,500 ft over the lowland of 150 ft 1.23 x sqrt 1,350 = 45.2 NM are seen.
    far = "station QSK 112.40 N46 04.00 W037 57.60 decl 14W class VH elev 150ft"
    (told,) = [one for one in found("below-horizon", far, *CROSSED, "altitude 1500") if "QSK" in one]
    assert re.fullmatch(r"warning: QSK, (59|60)\.\d NM from MARSH, is under the radio horizon there at 1500 ft", told)
    assert not [one for one in found("below-horizon", far, *CROSSED, "altitude 4500") if "QSK" in one]


@pytest.mark.parametrize(
    ("sector", "told"),
    [("280-290", True), ("285-290", False), ("280-290 beyond 20nm", True), ("280-290 beyond 30nm", False)],
)
def test_a_cross_radial_in_an_unusable_sector_is_told(sector: str, told: bool) -> None:
    # QSK lies 27 NM east of MARSH.
    near = f"station QSK 112.40 N46 04.00 W038 45.50 decl 14W class VH elev 150ft unusable {sector}"
    some = [one for one in found("unusable-sector", near, *CROSSED) if "QSK" in one]
    limits = "280-290 beyond 20 NM" if "beyond" in sector else sector
    assert some == ([f"warning: QSK is unusable on radials {limits}; radial 284 is used"] if told else [])


def test_an_airway_on_a_station_beside_it_is_told_once_for_each_airway() -> None:
    # QSK lies 40 NM from LAKER on 008 true.
    flight = (
        "fix UPPER N46 00.00 W039 00.00",
        "fix MIDDL N45 45.00 W039 00.00",
        "fix LAKER N45 30.00 W039 00.00",
        "station QSK 112.40 N46 09.61 W038 51.99 decl 0E",
        "airway V801 UPPER - MIDDL 15nm mea 3000 on QSK 188 - LAKER 15nm mea 3000 on QSK 188",
    )
    (told,) = found("station-off-airway", *flight, "route UPPER V801 MIDDL V801 LAKER")
    assert told == "note: from UPPER V801 is flown on radial 188 of QSK (not on the airway)"
    other = "airway V16 LAKER - LOWER 15nm mea 3000 on QSK 188"
    lower = "fix LOWER N45 15.00 W039 00.00"
    both = found("station-off-airway", *flight, other, lower, "route UPPER V801 LAKER V16 LOWER")
    assert [one.partition(" is flown")[0] for one in both] == ["note: from UPPER V801", "note: from LAKER V16"]
