"""Airways of the published data in a route line: expanded, joined, left, and where they are broken.

Rows quoted are FAA NASR AWY_SEG_ALT, effective 2026-05-14.
"""

from __future__ import annotations

from math import hypot

import pytest
from helpers.nasr_excerpt import DAY
from helpers.published_flights import Flown, changeover_nm, leg_to, messages, needle, needles, points

from navlog.catalogue.queries import Catalogue


def test_an_airway_expands_between_the_two_points(fly: Flown) -> None:
    there = fly("GLL V101 CHE")
    assert points(there) == [
        "GLL", "LIBEL", "RIDJE", "FROGS", "*", "BROCC", "UYRAG", "ECHOA", "ZOMBU", "LORIN", "CHE",
    ]  # fmt: skip
    # Rows: MAG_COURSE 258.34 at GLL, OPP_MAG_COURSE 75.55 at CHE, 125.95 NM in all.
    assert needles(there) == ["GLL 258.3 FROM", "CHE 75.5 TO"]
    assert there["totals"]["distance_nm"] == pytest.approx(25.17 + 24.5 + 11.75 + 20.13 + 10.89 + 14.98 + 1.53 + 7 + 10)


def test_the_other_way_has_the_points_turned_round(fly: Flown) -> None:
    there, back = fly("GLL V101 CHE"), fly("CHE V101 GLL")
    assert points(back) == points(there)[::-1]
    assert needles(back) == ["CHE 75.5 FROM", "GLL 258.3 TO"]
    assert back["totals"]["distance_nm"] == pytest.approx(there["totals"]["distance_nm"])


def test_an_airway_is_joined_and_left_at_any_fix(fly: Flown) -> None:
    found = fly("RIDJE V101 UYRAG")
    assert points(found) == ["RIDJE", "FROGS", "*", "BROCC", "UYRAG"]
    assert needles(found) == ["GLL 258.3 FROM", "CHE 75.5 TO"]
    # The part before the changeover point alone is GLL's, also flown toward it.
    assert needles(fly("RIDJE V101 LIBEL")) == ["GLL 258.3 TO"]


def test_a_published_changeover_point_lies_at_its_mileage_from_both_ends(fly: Flown) -> None:
    """GLL's row: CHGOVR_PT CHE, CHGOVR_PT_DIST 71."""
    there, back = fly("GLL V101 CHE"), fly("CHE V101 GLL")
    assert changeover_nm(there) == pytest.approx(71.0)
    assert back["totals"]["distance_nm"] - changeover_nm(back) == pytest.approx(71.0)
    for found in (there, back):
        (one,) = [leg["changeover"] for leg in found["legs"] if leg["changeover"] is not None]
        assert one["kind"] == "published"


def test_a_changeover_point_at_a_fix_is_the_fix(fly: Flown) -> None:
    """CRG's row: COP 96 toward CHS; TYBEE, the dogleg, is 95.61 NM along, and 96 is a whole number."""
    found = fly("CRG V1 CHS", altitude="11000")
    assert leg_to(found, "TYBEE")["changeover"]["distance_nm"] == pytest.approx(20.9 + 12.45 + 21.62 + 40.64)
    assert needles(found) == ["CRG 23.0 FROM", "CHS 219.0 TO"]


def test_a_dogleg_changes_over_at_the_turn_where_nothing_is_published(fly: Flown) -> None:
    """V510 bends at STARR between FAR (R-101) and AXN (R-314); 14 CFR 95.8001: where the radials cross."""
    there, back = leg_to(fly("FAR V510 AXN"), "STARR"), leg_to(fly("AXN V510 FAR"), "STARR")
    assert there["changeover"]["kind"] == back["changeover"]["kind"] == "turn"
    assert there["turn_deg"] == pytest.approx(-back["turn_deg"])
    assert there["turn_deg"] > 20.0
    assert needles(fly("FAR V510 AXN")) == ["FAR 101.0 FROM", "AXN 314.0 TO"]


def test_two_airways_meet_at_a_common_point(fly: Flown) -> None:
    found = fly("JNC V134 SLOLM V220 RIL", altitude="14000")
    assert points(found) == ["JNC", "PACES", "EDUKY", "HUGSI", "RIYNO", "SLOLM", "RIL"]
    assert [leg["via"] for leg in found["legs"]] == ["V134"] * 5 + ["V220"]
    # JNC; V220 leaves SLOLM for RIL on RIL's radial 152.85.
    assert needles(found) == ["JNC 60.0 FROM", "RIL 152.8 TO"]


def test_two_airways_without_the_point_between_are_told_their_common_points(fly: Flown) -> None:
    problem = fly.problem("JNC V134 V220 RIL")
    assert problem["code"] == "no-transition"
    assert problem["hint"] == ("name the point between them: `PACES` or `EDUKY` or `HUGSI` or `RIYNO` or `SLOLM`"), (
        "in the order of flight, and not the point where the first is joined"
    )


@pytest.mark.parametrize(
    ("route", "expanded", "latitude_deg"),
    [
        ("CRG V1 STARY", ["CRG", "LLIPS", "OCNOP", "STARY"], 30.3),
        ("KOA V1 MOANA", ["KOA", "REEFS", "MOANA"], 19.7),
    ],
)
def test_of_two_airways_of_one_number_the_one_with_both_points_counts(
    fly: Flown, route: str, expanded: list[str], latitude_deg: float
) -> None:
    """V1 is in the contiguous states (C) and in Hawaii (H)."""
    found = fly(route)
    assert points(found) == expanded
    assert found["legs"][0]["from"]["latitude_deg"] == pytest.approx(latitude_deg, abs=0.1)


def test_points_of_two_locations_are_on_no_one_airway(fly: Flown) -> None:
    problem = fly.problem("CRG V1 MOANA")
    assert (problem["code"], problem["column"]) == ("not-on-airway", 11)
    assert "no V1 holds both" in problem["message"]


def test_a_point_off_the_airway_is_told_the_points_on_it(fly: Flown) -> None:
    problem = fly.problem("GLL V101 BTY")
    assert (problem["code"], problem["message"]) == ("not-on-airway", "`BTY` is not on V101")
    assert problem["hint"].startswith("V101 runs GLL LIBEL RIDJE")


@pytest.mark.parametrize(
    ("route", "between"),
    [
        ("APE V144 MGW", "`APE` and `MGW`"),
        ("MGW V144 APE", "`MGW` and `APE`"),
        ("RMG V333 HCH", "`RMG` and `HCH`"),
        ("EXRAS V469 HAR", "`JST` and `HAR`"),
    ],
)
def test_a_discontinued_part_is_a_problem_that_says_where(fly: Flown, route: str, between: str) -> None:
    """AWY_SEG_GAP_FLAG is Y; V144 and V333 keep a course there, of a geometry long removed."""
    problem = fly.problem(route)
    assert problem["code"] == "airway-broken"
    assert problem["message"].endswith(f"is discontinued between {between}")
    assert problem["hint"].startswith("leave V")


def test_the_border_is_a_problem_that_says_where(fly: Flown, catalogue: Catalogue) -> None:
    (airway,) = catalogue.airways("V163", DAY)
    border = airway.points.index("U.S. MEXICAN BORDER-2")
    assert airway.points[border + 1] == "GROSZ"
    problems = fly.problems("SSM V300 NAASH")
    assert {one["code"] for one in problems} == {"airway-broken"}
    assert any("U.S. CANADIAN BORDER-3" in one["message"] for one in problems)


def test_up_to_the_break_the_airway_is_flown(fly: Flown) -> None:
    assert points(fly("SSM V300 RIBIR")) == ["SSM", "ALVUS", "RIBIR"]
    assert needles(fly("GROSZ V163 BRO")) == ["BRO 212.3 TO"]


@pytest.mark.parametrize(
    ("route", "message"),
    [
        # MEA_GAP U at WALLO; N and no altitude at LYH; GPS_MIN_ENROUTE_ALT alone at RELEE; SIGNAL_GAP_FLAG Y at FFU.
        ("WALLO V1 ISO", "V1 from WALLO to ISO: unusable"),
        ("LYH V469 LUCLI", "V469 from LYH to LUCLI: no MEA"),
        ("RELEE V469 BOOME", "V469 from RELEE to BOOME: GNSS only"),
        ("FFU V134 MAYGY", "V134 from FFU to MAYGY: signal gap, hold heading 115"),
    ],
)
def test_parts_without_a_good_signal_are_findings(fly: Flown, route: str, message: str) -> None:
    found = fly(route, altitude="15000")
    (told,) = messages(found, "signal")
    assert told.startswith(message)
    assert found["status"] == ("warning" if "signal gap" in message else "error")


def test_an_airway_between_two_points_of_a_direct_leg_is_named(fly: Flown) -> None:
    (message,) = messages(fly("GLL CHE", altitude="17000"), "airway-joins")
    assert message == "V101 and V220 join GLL and CHE; direct is planned"
    assert messages(fly("GLL DCT CHE", altitude="17000"), "airway-joins") == []


def test_an_airway_that_gnss_alone_flies_there_is_none_for_a_flight_by_vor(fly: Flown) -> None:
    """AWY_SEG_ALT.csv, cycle 2605: V469 from RELEE to BOOME has a GNSS altitude and no MEA."""
    assert messages(fly("RELEE BOOME", altitude="15000"), "airway-joins") == []


def test_a_beacon_on_an_airway_guides_nothing(fly: Flown) -> None:
    """HLE, the NDB/DME at the end of V101, beyond the turn at REAPS."""
    found = fly("BYI V101 HLE")
    assert needles(found) == ["BYI 326.1 FROM", None]
    assert leg_to(found, "HLE")["to"]["kind"] == "station"


def test_fixes_are_marked_by_their_published_make_up(fly: Flown) -> None:
    """FIX_NAV: LIBEL is CYS R-186.83, and 25.17 NM on GLL's radial."""
    alone = leg_to(fly("GLL V101 RIDJE"), "LIBEL")
    assert needle(alone) == "GLL 258.3 FROM"
    marked = leg_to(fly("GLL V101 RIDJE", "equipment vor 1 dme 1"), "LIBEL")["identified_by"]
    # The reading at 12,000 ft over GLL, which stands at 4,903 ft (NAV_BASE).
    assert marked["ident"] == "GLL"
    assert marked["dme_nm"] == pytest.approx(hypot(25.17, (12000 - 4903) / 6076.12), abs=0.001)
