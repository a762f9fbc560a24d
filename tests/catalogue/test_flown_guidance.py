"""What guides along published airways where a remark, a changeover point or a station's status says otherwise.

Rows and remarks quoted are FAA NASR's, effective 2026-05-14.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DAY, Row, segment
from helpers.published_flights import Flown, changeover_nm, leg_to, messages, needle, needles, points

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.nav.chart import ChangeoverAt, Position, Station, StationKind


def test_the_other_stations_radial_guides_the_whole_leg(fly: Flown) -> None:
    """At ALB: ALBANY R-067 UNUSABLE, USE CAMBRIDGE R-248. TIMKE lies between, the middle beyond it."""
    assert needles(fly("ALB V123 CAM", altitude="5000")) == ["CAM 248.0 TO"]
    assert needles(fly("CAM V123 ALB", altitude="5000")) == ["CAM 248.0 FROM"]
    assert needles(fly("TIMKE V123 CAM", altitude="5000")) == ["CAM 248.0 TO"]


def test_a_remark_that_moves_the_guidance_is_printed(fly: Flown) -> None:
    sheet = fly.sheet("ALB V123 CAM", altitude="5000")
    assert "published: ALBANY R-067 UNUSABLE, USE CAMBRIDGE R-248" in sheet
    assert needles(fly("ALB V146 CTR", altitude="5000")) == ["CTR 319.0 TO"]


@pytest.mark.parametrize("route", ["LYH V469 LUCLI", "LUCLI V469 RADIA"])
def test_an_unusable_radial_guides_nowhere_on_its_leg_and_is_told_alike(fly: Flown, route: str) -> None:
    """LYNCHBURG R-352 UNUSABLE stands on the rows of LYH, RADIA and RELEE; LUCLI lies between the first two."""
    found = fly(route)
    assert needles(found) == [None]
    (message,) = messages(found, "no-guidance")
    assert message.endswith("a published remark says that the radial of LYH is unusable here")
    assert "published: LYNCHBURG R-352 UNUSABLE" in fly.sheet(route)


def test_a_remark_on_the_origin_of_a_changeover_point_says_nothing_against_a_radial(fly: Flown) -> None:
    """GFS's row: COP BLD 60, COP MEASURED FROM NEEDLES VORTAC. FIX_NAV has SHUSS at GFS R-017.91, 26.03 NM."""
    found = fly("GFS V514 SHUSS")
    assert needles(found) == ["GFS 17.9 FROM"]
    assert "published: COP MEASURED FROM NEEDLES VORTAC." in fly.sheet("GFS V514 SHUSS")
    assert "COP 60 NM from EED" in fly.sheet("GFS V514 BLD")


def test_an_unusable_radial_marks_no_fix(fly: Flown) -> None:
    """FIX_NAV makes LUCLI LYH R-352, which the remark on V469 calls unusable."""
    assert "LYH" not in str(leg_to(fly("LYH V469 LUCLI"), "LUCLI")["identified_by"])
    assert messages(fly("LYH V469 LUCLI"), "unusable-sector") == []


def test_a_third_station_guides_from_the_changeover_point_to_a_fix(fly: Flown) -> None:
    """DUG's row: COP 44; UTILIZE DEMING VORTAC 233 M RAD FROM COP TO ANIMA FIX. Then CUS's own radial 265.14."""
    there, back = fly("DUG V66 CUS"), fly("CUS V66 DUG")
    assert needles(there) == ["DUG 51.2 FROM", "DMN 233.3 TO", "CUS 265.1 TO"]
    assert needles(back) == ["CUS 265.1 FROM", "DMN 233.3 FROM", "DUG 51.2 TO"]
    assert changeover_nm(there) == pytest.approx(44.0)
    assert back["totals"]["distance_nm"] - changeover_nm(back) == pytest.approx(44.0)
    assert needle(leg_to(there, "ANIMA")) == "DMN 233.3 TO"
    assert leg_to(there, "DARCE")["guidance"]["ident"] == "CUS"


def test_the_changeover_is_to_a_station_off_the_airway(fly: Flown) -> None:
    """JNC's row on V591: CHGOVR_PT DBL, 56 NM, THE COP IS AT THE SLOLM INT; V591 turns off at LINDZ for SXW."""
    there, back = fly("JNC V591 SXW", altitude="16000"), fly("SXW V591 JNC", altitude="16000")
    # V134 goes on to DBL: its row there has OPP_MAG_COURSE 244.17.
    assert needles(there) == ["JNC 60.0 FROM", "DBL 244.2 TO", "SXW 196.3 TO"]
    assert needles(back) == ["SXW 196.3 FROM", "DBL 244.2 FROM", "JNC 60.0 TO"]
    assert leg_to(there, "SLOLM")["changeover"]["kind"] == "published"


def test_a_third_station_guides_to_the_turn(fly: Flown) -> None:
    """BTY's row on V135: COP 34; COP 53 NM FROM AND UTILIZES COALDALE, NV VORTAC ON THE 129 M RAD."""
    assert needles(fly("BTY V135 TPH")) == ["BTY 310.1 FROM", "OAL 128.5 TO", "TPH 206.0 TO"]
    # HEC's row on V442: COP 41; USE THE NEEDLES (EED) VORTAC FROM THE COP TO THE CLIPP INT.
    clipp = leg_to(fly("HEC V442 CLIPP"), "CLIPP")["guidance"]
    assert (clipp["ident"], clipp["flag"], clipp["radial_source"]) == ("EED", "TO", "computed")


def test_a_published_changeover_point_leaves_the_far_side_to_its_own_station(fly: Flown) -> None:
    """GLL's row: COP 71 toward CHE. With GLL out, CHE is not published for the 71 NM."""
    found = fly("GLL V101 CHE", "unavailable GLL", altitude="17000")
    assert needles(found) == [None, "CHE 75.5 TO"]
    silent_nm = sum(leg["distance_nm"] for leg in found["legs"] if leg["guidance"] is None)
    assert silent_nm == pytest.approx(71.0)
    assert "up to the published changeover point GLL would guide, which does not" in messages(found, "no-guidance")[0]
    (first, *_) = messages(found, "station-out")
    assert first == "GLL to LIBEL relies on GLL, which is out of service"
    back = fly("CHE V101 GLL", "unavailable GLL", altitude="17000")
    assert needles(back) == ["CHE 75.5 FROM", None]


def test_a_station_that_is_shut_down_guides_nothing(fly: Flown, catalogue: Catalogue, day: date) -> None:
    """NAV_BASE: RBX VOR/DME, NAV_STATUS SHUTDOWN."""
    (rbx,) = catalogue.stations("RBX", day)
    assert (rbx.status, rbx.in_service, rbx.kind) == ("SHUTDOWN", False, StationKind.VOR)
    found = fly("ACY RBX HAR:vor", altitude="5000")
    assert "RBX" not in {leg["guidance"]["ident"] for leg in found["legs"] if leg["guidance"]}
    assert messages(found, "station-out") == [
        "ACY to RBX relies on RBX, which is published as shutdown",
        "RBX to HAR relies on RBX, which is published as shutdown",
    ]
    assert found["status"] == "error"


def test_a_station_that_is_restricted_guides(catalogue: Catalogue, day: date) -> None:
    (acy,) = catalogue.stations("ACY", day)
    assert (acy.status, acy.in_service) == ("OPERATIONAL RESTRICTED", True)


def test_courses_of_area_navigation_routes_are_not_flown_as_radials(catalogue: Catalogue) -> None:
    """T634's published courses follow the variation of the day; a VOR on it has its own radials."""
    (airway,) = catalogue.airways("T634", DAY)
    assert any(isinstance(place, Station) and place.kind is StationKind.VOR for place in airway.places)
    assert all((one.start_radial_deg, one.end_radial_deg) == (None, None) for one in airway.segments)
    assert segment(catalogue, "V101", "GLL", "LIBEL").start_radial_deg == 258.34


def vor(ident: str, latitude: str, longitude: str = "-39.0", kind: str = "VOR/DME") -> Row:
    return {
        "NAV_ID": ident, "NAV_TYPE": kind, "CITY": ident, "COUNTRY_CODE": "XX", "LAT_DECIMAL": latitude,
        "LONG_DECIMAL": longitude, "MAG_VARN": "0", "MAG_VARN_HEMIS": "E", "FREQ": "113.7",
    }  # fmt: skip


def row(number: int, point: str, onward: str, **more: str) -> Row:
    return {
        "AWY_ID": "V801", "AWY_LOCATION": "C", "POINT_SEQ": str(number), "FROM_POINT": point, "NAV_CITY": point,
        "FROM_PT_TYPE": "VOR/DME", "COUNTRY_CODE": "XX", "TO_POINT": onward, "AWY_SEG_GAP_FLAG": "N",
        "MIN_ENROUTE_ALT": "3000", **more,
    }  # fmt: skip


@pytest.fixture
def made(tmp_path: Path, nasr_like: Callable[..., Path]) -> Callable[..., Path]:
    """A catalogue of invented stations and the rows of one invented airway."""

    def write(stations: tuple[Row, ...], *rows: Row) -> Path:
        nasr_like("NAV_BASE.csv", *stations)
        nasr_like("AWY_BASE.csv", {"AWY_ID": "V801", "AWY_LOCATION": "C"})
        path = tmp_path / "invented.sqlite"
        import_data(nasr_like("AWY_SEG_ALT.csv", *rows), path)
        return path

    return write


def test_a_changeover_point_to_a_station_behind_lies_behind(made: Callable[..., Path], day: date) -> None:
    """As on V13 at CRP: the row leads on north, its changeover point is toward a station in the south."""
    stations = (vor("QAA", "46.0"), vor("QBB", "46.5"), vor("QCC", "47.0"), vor("QSS", "45.5"))
    path = made(
        stations,
        row(10, "QAA", "QBB", MAG_COURSE="0", OPP_MAG_COURSE="180", MAG_COURSE_DIST="30"),
        row(20, "QBB", "QCC", MAG_COURSE="0", OPP_MAG_COURSE="180", MAG_COURSE_DIST="30", CHGOVR_PT="QSS",
            CHGOVR_PT_DIST="20"),
        row(30, "QCC", ""),
    )  # fmt: skip
    with open_catalogue(path) as catalogue:
        (airway,) = catalogue.airways("V801", day)
    assert [one.changeovers for one in airway.segments] == [(ChangeoverAt(20.0, "QBB", "QSS"),), ()]


def test_a_beacons_side_of_a_changeover_point_is_not_guided(made: Callable[..., Path]) -> None:
    """As on V457 from Iliamna, an NDB/DME, to Kenai: COP 47."""
    stations = (vor("QAA", "46.0", kind="NDB/DME"), vor("QBB", "47.0"))
    path = made(
        stations,
        row(10, "QAA", "QBB", FROM_PT_TYPE="NDB/DME", MAG_COURSE="0", OPP_MAG_COURSE="180", MAG_COURSE_DIST="60.02",
            CHGOVR_PT="QBB", CHGOVR_PT_DIST="47"),
        row(20, "QBB", ""),
    )  # fmt: skip
    found = Flown(path)("QAA V801 QBB")
    assert needles(found) == [None, "QBB 180.0 TO"]
    assert found["legs"][0]["distance_nm"] == pytest.approx(47.0)
    assert needles(Flown(path)("QBB V801 QAA")) == ["QBB 180.0 FROM", None]


def test_namesakes_far_away_do_not_hide_a_station(
    tmp_path: Path, nasr: Path, nasr_like: Callable[..., Path], day: date
) -> None:
    """Another VOR called DMN in another source; the one near V66 guides all the same."""
    path = tmp_path / "two.sqlite"
    import_data(nasr, path)
    far = tmp_path / "far"
    far.mkdir()
    header = (nasr.parent / "ourairports" / "navaids.csv").read_text(encoding="utf-8").splitlines()[0]
    namesake = '9,"Far_VOR_XX","DMN","Far","VOR",113700,-10.0,100.0,10,"XX",,,,,,0,0,"BOTH","",""'
    (far / "navaids.csv").write_text(f"{header}\n{namesake}\n", encoding="utf-8")
    import_data(far, path)
    with open_catalogue(path) as catalogue:
        found = [one for one in catalogue.stations("DMN", day) if isinstance(one, Station)]
    assert [one.position for one in found][1] == Position(-10.0, 100.0)
    assert "DMN 233.3 TO" in needles(Flown(path)("DUG V66 CUS"))
    assert points(Flown(path)("DUG V66 CUS"))[-1] == "CUS"
