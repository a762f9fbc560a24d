"""What tells a fix in flight: radials that cut the leg, DMEs that it leads towards, and what is not received.

An invented flight due east from QAA to FULMA, 20 NM on; other stations are placed by geographiclib so that their
radial cuts the leg at FULMA at a wanted angle. Errors: 3.6 degrees of a crossing radial (FAA Order 8260.3), half a
mile or 3 % of a DME (AIM 1-1-7).
"""

from __future__ import annotations

from math import cos, hypot, radians, sin

import pytest
from geographiclib.geodesic import Geodesic
from helpers.drawn import reports
from helpers.flown import Json, flight, navlog

from navlog.flightlog.marks import _told_at_once, dme_sector
from navlog.flightlog.records import Trouble
from navlog.nav.accuracy import FAA
from navlog.nav.chart import Position
from navlog.nav.record import changed
from navlog.nav.sectors import Sector
from navlog.request.records import Equipment
from navlog.resolve.route import MarkKind

M_PER_NM = 1852.0
START = (46.0, -39.0)
EAST = Geodesic.WGS84.Direct(*START, 90.0, 20.0 * M_PER_NM)
FULMA = (EAST["lat2"], EAST["lon2"])
COURSE_DEG = Geodesic.WGS84.Direct(*START, 90.0, 10.0 * M_PER_NM)["azi2"]
"""A leg's true course is that of its middle."""


def position(place: tuple[float, float]) -> str:
    return f"{place[0]:.7f} {place[1]:.7f}"


def station(ident: str, cut_deg: float, away_nm: float, more: str = "") -> str:
    """A station aligned to true north whose radial cuts the leg at FULMA at this angle, from the south."""
    there = Geodesic.WGS84.Direct(*FULMA, COURSE_DEG + cut_deg, away_nm * M_PER_NM)
    words = f"station {ident} {FREQUENCIES[ident]} {position((there['lat2'], there['lon2']))} decl 0E class H elev 0ft"
    return f"{words} {more}".strip()


FREQUENCIES = {"QBB": "110.20", "QCC": "112.40", "QDD": "114.60"}


def text(*statements: str, fix: str = f"fix FULMA {position(FULMA)}", altitude: str = "9000", dme: str = "dme") -> str:
    """The flight with more stations and statements; QAA has a DME."""
    common = (
        f"station QAA 113.70 {position(START)} decl 0E class H {dme} elev 0ft",
        *statements,
        fix,
        "date 2026-07-18",
        f"altitude {altitude}",
        "tas 120kt",
        "wind calm",
        "route QAA FULMA",
    )
    return "\n".join(common) + "\n"


def last(*statements: str, fix: str = f"fix FULMA {position(FULMA)}", altitude: str = "9000", dme: str = "dme") -> Json:
    """The leg that ends at FULMA, with the flight's findings."""
    found = flight(text(*statements, fix=fix, altitude=altitude, dme=dme))
    (leg,) = [leg for leg in found["legs"] if leg["to"]["ident"] == "FULMA"]
    found_on: Json = leg | {"rules": {one["rule"] for one in found["findings"]}, "findings": found["findings"]}
    return found_on


def marked(leg: Json) -> list[tuple[str, str]]:
    return [(one["ident"], one["kind"]) for one in leg["marks"]]


@pytest.mark.parametrize(("cut_deg", "marks"), [(90, True), (31, True), (29, False), (14, False), (166, False)])
def test_a_radial_nobody_names_marks_from_30_degrees(cut_deg: float, marks: bool) -> None:
    leg = last(station("QBB", cut_deg, 20.0))
    assert bool(leg["marks"]) is marks
    assert (leg["identified_by"] is not None) is marks
    if marks:
        assert leg["marks"][0]["cut_deg"] == pytest.approx(min(cut_deg, 180 - cut_deg), abs=0.01)


def crossed(ident: str, cut_deg: float, away_nm: float, more: str = "") -> tuple[str, str]:
    """The station, and the fix as the file defines it: QAA 090 and the radial of that station."""
    words = station(ident, cut_deg, away_nm, more)
    place = tuple(float(word) for word in words.split()[3:5])
    radial = Geodesic.WGS84.Inverse(*place, *FULMA)["azi1"] % 360.0
    return words, f"fix FULMA QAA 090 x {ident} {radial:07.3f}"


@pytest.mark.parametrize(
    ("cut_deg", "marks"), [(31, True), (29, True), (16, True), (14, False), (4, False), (165.5, False)]
)
def test_a_radial_that_the_file_names_marks_from_15_degrees(cut_deg: float, marks: bool) -> None:
    words, fix = crossed("QBB", cut_deg, 20.0)
    leg = last(words, fix=fix)
    assert marked(leg) == ([("QBB", "radial")] if marks else [])
    # The file's own fix that is badly cut is an error; practice case A28.
    errors = [one for one in leg["findings"] if one["rule"] == "poor-cut" and one["severity"] == "error"]
    assert bool(errors) is (not 30 < cut_deg < 150)


def test_what_cuts_badly_marks_only_where_nothing_cuts_well() -> None:
    """25 degrees from 5 NM move the fix 0.7 NM, 40 degrees from 30 NM 2.9: the sound cut is told all the same."""
    words, fix = crossed("QBB", 25.0, 5.0)
    assert marked(last(words, fix=fix)) == [("QBB", "radial")]
    assert marked(last(words, station("QCC", 40.0, 30.0), fix=fix)) == [("QCC", "radial")]


def test_of_what_cuts_well_the_smallest_error_along_track_is_best() -> None:
    """10 NM x sin 3.6 / sin 35 = 1.09; 30 NM x sin 3.6 / sin 85 = 1.89; 20 NM x sin 3.6 / sin 60 = 1.45."""
    leg = last(station("QBB", 35.0, 10.0), station("QCC", 85.0, 30.0), station("QDD", 120.0, 20.0))
    assert marked(leg) == [("QBB", "radial"), ("QDD", "radial"), ("QCC", "radial")]
    assert leg["identified_by"]["ident"] == "QBB"


@pytest.mark.parametrize(
    ("equipment", "away_nm", "marks"),
    [
        # The DME is sure to 0.6 NM at 20: 3 %. A radial from 5 NM at a right angle to 0.31, from 15 to 0.94.
        ("vor 2 dme 1", 5.0, [("QBB", "radial"), ("QAA", "dme")]),
        ("vor 2 dme 1", 15.0, [("QAA", "dme"), ("QBB", "radial")]),
        # One receiver stays on the station flown.
        ("vor 1 dme 1", 5.0, [("QAA", "dme")]),
        ("vor 1", 5.0, [("QBB", "radial")]),
        ("vor 2", 5.0, [("QBB", "radial")]),
    ],
)
def test_two_receivers_have_both(equipment: str, away_nm: float, marks: list[tuple[str, str]]) -> None:
    words, fix = crossed("QBB", 90.0, away_nm)
    assert marked(last(words, f"equipment {equipment}", fix=fix)) == marks


@pytest.mark.parametrize(("cut_deg", "marks"), [(10, True), (59, True), (61, False), (90, False)])
def test_a_dme_abeam_tells_nothing_along_the_way(cut_deg: float, marks: bool) -> None:
    """QAA has none; FULMA is 12 NM from QBB, whose circle crosses the leg at 90 degrees less the cut."""
    there = Geodesic.WGS84.Direct(*FULMA, COURSE_DEG + cut_deg, 12.0 * M_PER_NM)
    radial = Geodesic.WGS84.Inverse(there["lat2"], there["lon2"], *FULMA)["azi1"] % 360.0
    leg = last(
        station("QBB", cut_deg, 12.0, "dme"),
        "equipment vor 2 dme 1",
        fix=f"fix FULMA QBB {radial:07.3f} 12nm",
        dme="",
    )
    assert (("QBB", "dme") in marked(leg)) is marks
    if marks:
        (one,) = [one for one in leg["marks"] if one["kind"] == "dme"]
        # 9,000 ft are 1.481 NM.
        assert one["dme_nm"] == pytest.approx(hypot(12.0, 1.4812), abs=0.001)
        assert one["cut_deg"] == pytest.approx(cut_deg, abs=0.05)


SOUTH = "unusable 330-030"


def test_a_radial_in_an_unusable_sector_is_told_only_where_nothing_else_serves() -> None:
    words, fix = crossed("QBB", 90.0, 20.0, SOUTH)
    leg = last(words, fix=fix)
    assert marked(leg) == [("QBB", "radial")]
    assert "unusable-sector" in leg["rules"]
    leg = last(words, station("QCC", 45.0, 30.0), fix=fix)
    assert marked(leg) == [("QCC", "radial")]
    assert "unusable-sector" not in leg["rules"]
    leg = last(words, "equipment vor 2 dme 1", fix=fix)
    assert marked(leg) == [("QAA", "dme")]
    assert "unusable-sector" not in leg["rules"]


@pytest.mark.parametrize(
    ("sector", "told"),
    [
        ("330-030 beyond 19nm", True),
        ("330-030 beyond 21nm", False),
        ("330-030 below 9100ft", True),
        ("330-030 below 8900ft", False),
        ("330-030 beyond 21nm below 9100ft", False),
        ("040-090", False),
    ],
)
def test_a_radial_that_only_tells_a_fix_counts_at_its_distance(sector: str, told: bool) -> None:
    """FULMA is 20 NM due north of QBB, at 9,000 ft."""
    words, fix = crossed("QBB", 90.0, 20.0, f"unusable {sector}")
    assert ("unusable-sector" in last(words, fix=fix)["rules"]) is told


def test_below_its_mra_a_radial_is_told_only_where_nothing_else_serves() -> None:
    words, fix = crossed("QBB", 90.0, 20.0)
    leg = last(words, fix=f"{fix} mra 9500")
    assert marked(leg) == [("QBB", "radial")]
    assert "under-mra" in leg["rules"]
    leg = last(words, "equipment vor 2 dme 1", fix=f"{fix} mra 9500")
    assert marked(leg) == [("QAA", "dme")]
    assert "under-mra" not in leg["rules"]
    assert "under-mra" not in last(words, fix=f"{fix} mra 8500")["rules"]


def test_an_mra_counts_for_the_radial_where_the_dme_is_not_received_either() -> None:
    """Class T serves up to 12,000 ft, AIM 1-1-8: at 13,000 neither QAA's DME nor QBB's radial, MRA 14,000, is sure."""
    words, fix = crossed("QBB", 90.0, 20.0)
    asked = text(words, "equipment vor 2 dme 1", fix=f"{fix} mra 14000", altitude="13000")
    found = flight(asked.replace("class H dme", "class T dme"))
    assert sorted(marked(found["legs"][-1])) == [("QAA", "dme"), ("QBB", "radial")]
    (told,) = [one["message"] for one in found["findings"] if one["rule"] == "under-mra"]
    assert "below its MRA of 14000 ft: QBB may not be received" in told


def test_a_radial_nobody_names_below_the_mra_marks_only_where_it_is_received() -> None:
    """At 2,000 ft the horizon is 55 NM (1.23 x sqrt 2000) and class H serves 40; an MRA alone is told."""
    fix = f"fix FULMA {position(FULMA)} mra 2500"
    assert marked(last(station("QBB", 90.0, 20.0), fix=fix, altitude="2000", dme="")) == [("QBB", "radial")]
    assert marked(last(station("QBB", 90.0, 60.0), fix=fix, altitude="2000", dme="")) == []
    assert marked(last(station("QBB", 90.0, 45.0), fix=fix, altitude="2000", dme="")) == []


def test_under_the_horizon_a_radial_is_told_only_where_nothing_else_serves() -> None:
    """At 2,000 ft the horizon is 1.23 x sqrt 2000 = 55 NM; class H serves 40 NM, so QBB is out of both."""
    words, fix = crossed("QBB", 90.0, 60.0)
    leg = last(words, fix=fix, altitude="2000")
    assert marked(leg) == [("QBB", "radial")]
    assert {"below-horizon", "out-of-range"} <= leg["rules"]
    leg = last(words, station("QCC", 45.0, 30.0), fix=fix, altitude="2000")
    assert marked(leg) == [("QCC", "radial")]
    assert not {"below-horizon", "out-of-range"} & leg["rules"]
    assert "below-horizon" not in last(words, fix=fix, altitude="9000")["rules"]


def test_without_an_elevation_a_reading_is_unknown_and_says_why() -> None:
    assert not {"identified_by.dme_nm", "marks.dme_nm"} & {
        one["key"] for one in last("equipment vor 1 dme 1")["unknown"]
    }
    bare = text("equipment vor 1 dme 1").replace("dme elev 0ft", "dme")
    (leg,) = flight(bare)["legs"]
    assert leg["marks"][0]["dme_nm"] is None
    assert {"identified_by.dme_nm", "marks.dme_nm"} <= {one["key"] for one in leg["unknown"]}


def test_a_hold_is_told_by_what_tells_its_point() -> None:
    words, fix = crossed("QBB", 90.0, 15.0)
    found = flight(text(words, "hold FULMA 4min", fix=fix))
    cruise, hold = found["legs"]
    assert hold["phase"] == "hold"
    assert hold["marks"] == cruise["marks"]
    assert [one["ident"] for one in hold["marks"]] == ["QBB"]


def test_one_receiver_that_was_tuned_away_is_tuned_back() -> None:
    words, fix = crossed("QBB", 90.0, 15.0)
    on = ("airport XOLD 46.0 -38.2 elev 0ft",)
    there = text(words, *on, fix=fix).replace("route QAA FULMA", "route QAA FULMA XOLD")
    alone = navlog("log", "-", "--format", "steps", typed=there).out
    assert "Before it tune QBB 110.20" in alone
    by_dme = navlog("log", "-", "--format", "steps", typed=there + "equipment vor 1 dme 1\n").out
    assert "QBB" not in by_dme


@pytest.mark.parametrize("form", ["text", "strip", "steps", "markdown", "html"])
def test_every_sheet_tells_the_best_mark_in_words(form: str) -> None:
    def sheet(*statements: str, fix: str) -> str:
        return " ".join(navlog("log", "-", "--format", form, typed=text(*statements, fix=fix)).out.split())

    words, fix = crossed("QBB", 90.0, 15.0)
    both = sheet(words, "equipment vor 2 dme 1", fix=fix)
    # 20 NM and 9,000 ft: sqrt(20^2 + 1.481^2) = 20.05.
    assert any(told in both for told in ("QAA DME reads 20.1", "QAA DME 20.1", "QAA 20.1 DME"))
    needle = ("R-360 crosses", "set 360 FROM: at FULMA the needle centres", "or QBB 110.20 --.- -... -... R-360")
    assert any(told in both for told in needle)
    words, fix = crossed("QBB", 8.0, 15.0)
    alone = sheet(words, fix=fix)
    assert "by time alone" in alone
    assert "crosses" not in alone
    assert "R-360" not in alone
    assert "needle centres" not in alone


def test_the_account_tells_how_the_radial_cuts_and_what_it_costs() -> None:
    words, fix = crossed("QBB", 60.0, 15.0)
    told = navlog("explain", "-", typed=text(words, fix=fix)).out
    assert "cut of QBB" in told
    # 15 NM x sin 3.6 / sin 60.
    assert f"{15.0 * sin(radians(3.6)) / sin(radians(60.0)):.2f} NM" in told


def test_the_errors_of_a_dme_and_of_its_circle() -> None:
    assert FAA.dme_nm(10.0) == 0.5
    assert FAA.dme_nm(40.0) == pytest.approx(1.2)
    assert FAA.circle_nm(10.0, 10.0, 60.0) == pytest.approx(0.5 / cos(radians(60.0)))
    # Close in, 3 NM up: the reading changes with the ground distance only by its share.
    assert FAA.circle_nm(4.0, 5.0, 0.0) == pytest.approx(0.5 * 5.0 / 4.0)
    assert FAA.circle_nm(10.0, 10.0, 90.0) is None
    assert FAA.radial_nm(10.0, 0.0) is None


def test_receivers_hold_one_mark_of_a_kind_and_no_more_stations_than_are_free() -> None:
    # One of the VOR receivers holds the course where a station guides; of three two are free, of two one.
    (first, words), (second, other) = crossed("QBB", 90.0, 5.0), crossed("QCC", 60.0, 5.0)
    fix = f"{words.replace('QAA 090 x ', '')} x {other.partition(' x ')[2]}"
    (whole,) = reports(text(first, second, "equipment vor 3 dme 1", fix=fix))
    (radial, another) = [mark for mark in whole.log.legs[-1].marks if mark.by.kind is MarkKind.RADIAL]
    dme = changed(another, by=changed(another.by, kind=MarkKind.DME))
    assert [mark.by.station.ident for mark in (radial, another)] == ["QBB", "QCC"]
    for marks, vor, guided, told in (
        ((radial, another), 3, True, (radial,)),
        ((radial, another), 2, False, (radial, another)),
        ((radial, dme), 3, True, (radial, dme)),
        ((radial, dme), 2, True, (radial,)),
    ):
        assert _told_at_once(marks, Equipment(vor=vor, dme=1), guided=guided) == told


@pytest.mark.parametrize(
    ("mra_ft", "against"),
    [
        # 60 NM out at 2,000 ft QBB is beyond class H, 40 NM (AIM 1-1-8), and the horizon, 1.23 x sqrt 2000 = 55 NM.
        ("", {Trouble.HORIZON, Trouble.VOLUME}),
        # From its MRA on a fix's own radial is assured (AIM, pilot/controller glossary: minimum reception altitude).
        (" mra 1500", set()),
        (" mra 2000", set()),
        (" mra 2500", {Trouble.MRA, Trouble.HORIZON, Trouble.VOLUME}),
    ],
)
def test_from_its_mra_on_a_named_radial_is_received_beyond_horizon_and_class(
    mra_ft: str, against: set[Trouble]
) -> None:
    words, fix = crossed("QBB", 90.0, 60.0)
    (whole,) = reports(text(words, fix=fix + mra_ft, altitude="2000"))
    (mark,) = whole.log.legs[-1].marks
    assert (mark.by.station.ident, set(mark.troubles)) == ("QBB", against)


def test_the_other_receiver_is_set_to_no_station_whose_dme_alone_tells_a_fix() -> None:
    """10 degrees off the way ahead QBB's radial cuts nothing, and its DME reads along the way."""
    there = Geodesic.WGS84.Direct(*FULMA, COURSE_DEG + 10.0, 12.0 * M_PER_NM)
    radial = Geodesic.WGS84.Inverse(there["lat2"], there["lon2"], *FULMA)["azi1"] % 360.0
    words, equipment = station("QBB", 10.0, 12.0, "dme"), "equipment vor 2 dme 1"
    (whole,) = reports(text(words, equipment, fix=f"fix FULMA QBB {radial:07.3f} 12nm", dme=""))
    (leg,) = whole.log.legs
    assert [(one.by.station.ident, one.by.kind) for one in leg.told_by] == [("QBB", MarkKind.DME)]
    assert leg.other_setting is None
    # A radial that cuts is: QCC from the south.
    words, fix = crossed("QCC", 60.0, 12.0)
    (whole,) = reports(text(words, equipment, fix=fix, dme=""))
    setting = whole.log.legs[0].other_setting
    assert setting is not None
    assert (setting.guidance.station.ident, setting.place) == ("QCC", "FULMA")


@pytest.mark.parametrize(
    ("sector", "out"),
    [
        # FULMA lies 20 NM due north of QBB, which does not guide there, and is passed at 9,000 ft.
        (Sector(330.0, 30.0, of="dme"), True),
        (Sector(330.0, 30.0, of="both"), True),
        (Sector(330.0, 30.0, of="vor"), False),
        (Sector(80.0, 100.0, of="dme"), False),
        (Sector(0.0, 360.0, of="dme"), True),
        (Sector(330.0, 30.0, beyond_nm=19.9, of="dme"), True),
        (Sector(330.0, 30.0, beyond_nm=20.1, of="dme"), False),
        (Sector(330.0, 30.0, below_ft=9_001.0, of="dme"), True),
        (Sector(330.0, 30.0, below_ft=9_000.0, of="dme"), False),
        (Sector(330.0, 30.0, beyond_nm=20.1, below_ft=9_001.0, of="dme"), False),
    ],
)
def test_a_dme_that_does_not_guide_serves_by_the_radial_and_distance_of_the_place(sector: Sector, out: bool) -> None:
    words, fix = crossed("QBB", 90.0, 20.0)
    (whole,) = reports(text(words, fix=fix))
    (leg,) = whole.log.legs
    (qbb,) = [one.station for one in leg.stretch.candidates or () if one.station.ident == "QBB"]
    assert dme_sector(leg, qbb) is None
    assert dme_sector(leg, changed(qbb, unusable=(sector,))) == (sector if out else None)
    # Where nobody knows the place, a sector of all radials counts, and every distance as beyond.
    lost = changed(leg, end=changed(leg.end, position=None))
    everywhere = changed(sector, start_deg=0.0, end_deg=360.0)
    assert dme_sector(lost, changed(qbb, unusable=(sector,))) == (sector if sector.end_deg == 360.0 else None)
    expected = everywhere if sector.of != "vor" and sector.below_ft != 9_000.0 else None
    assert dme_sector(lost, changed(qbb, unusable=(everywhere,))) == expected


def test_the_dme_that_guides_serves_by_the_radial_flown_wherever_the_place_lies() -> None:
    (whole,) = reports(text())
    (leg,) = whole.log.legs
    guidance = leg.part.guidance
    assert guidance is not None
    south = Geodesic.WGS84.Direct(*START, 180.0, 20.0 * M_PER_NM)
    end = changed(leg.end, position=Position(south["lat2"], south["lon2"]))
    for sector, out in (
        (Sector(85.0, 95.0, beyond_nm=19.9, of="dme"), True),
        (Sector(85.0, 95.0, beyond_nm=20.1, of="dme"), False),
        (Sector(175.0, 185.0, of="dme"), False),
    ):
        station = changed(guidance.station, unusable=(sector,))
        by = changed(leg, end=end, part=changed(leg.part, guidance=changed(guidance, station=station)))
        assert dme_sector(by, station) == (sector if out else None)
