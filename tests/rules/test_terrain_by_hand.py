"""High places near the way against the heights planned there, each worked by hand.

From XLO at 500 ft the aeroplane climbs 400 ft a mile (600 ft/min at 90 kt) to 4,500 ft, 10 NM out of the 30 to QAA, and
goes on level to QBB: 2,500 ft are planned 5 NM out.
"""

from __future__ import annotations

from math import hypot

import pytest
from helpers.drawn import reports
from helpers.high_ground import CLIMBER, arriving, below, flown, ground, piece, spot, told

from navlog.flightlog.planning import plan
from navlog.nav.clearance import Abeam
from navlog.nav.record import changed
from navlog.nav.terrain import Spot
from navlog.rules.registry import Severity


def test_the_climb_is_as_worked() -> None:
    assert [(leg.start_nm, leg.end_nm, leg.start_altitude_ft, leg.end_altitude_ft) for leg in flown().legs][:2] == [
        (0, pytest.approx(10), 500, 4500),
        (pytest.approx(10), 30, 4500, 4500),
    ]


@pytest.mark.parametrize(
    ("top", "message", "by"),
    [
        (spot(5, 2400, 99), None, 0),
        (spot(5, 2500), None, 0),
        (
            spot(5, 2480, 40),
            "2500 ft is planned beside 2480 ft (+40), 5.0 NM along XLO to QAA, 1.2 right, N46W039.h",
            20,
        ),
        (spot(5, 2600), "2500 ft is planned beside 2600 ft, 5.0 NM along XLO to QAA, 1.2 right, N46W039.hgt", 100),
        (spot(2.5, 1600), "1500 ft is planned beside 1600 ft, 2.5 NM along", 100),
        # By the field too, at 500 ft and 400 for each mile from it: after 1.03 NM and after 0.22.
        (spot(0.5, 2000, away_nm=0.9), "912 ft is planned beside 2000 ft, 0.5 NM along", 1500 - 400 * hypot(0.5, 0.9)),
        (spot(0.1, 1000, away_nm=0.2), "589 ft is planned beside 1000 ft, 0.1 NM along", 500 - 400 * hypot(0.1, 0.2)),
        # No higher than planned, or by no more than the tile may be off, it is the field itself.
        (spot(0.1, 590, 50, away_nm=0.2), None, 0),
        # Within a mile the tolerance of a tile is not added; 860 ft are planned 0.9 NM out.
        (spot(0.9, 860, 50, away_nm=0.3), None, 0),
        (spot(1.0, 890, 50, away_nm=0.3), "900 ft is planned beside 890 ft (+50), 1.0 NM along", 40),
        (spot(1.0, 2000, away_nm=0.9), "900 ft is planned beside 2000 ft, 1.0 NM along", 1100),
    ],
)
def test_a_climb_beside_a_place_higher_than_it_is_there(top: Spot, message: str | None, by: float) -> None:
    found = told("climb-under-terrain", below(flown(), 1, abeam=(piece(5, top),)))
    assert len(found) == (message is not None)
    for one in found:
        assert one.message.startswith(message or "")
        assert one.severity is Severity.WARNING
        assert one.by == pytest.approx(by)


@pytest.mark.parametrize(
    ("along_nm", "aside_nm", "away_nm", "where"),
    [
        # 2.5 NM from the field and 0.3 right of the course produced: 2.48 behind it.
        (0.0, 0.3, 2.5, "2.5 NM behind XLO"),
        (0.0, 2.5, 2.5, "0.0 NM along XLO to QAA, 2.5 right"),
        (0.0, 2.49, 2.5, "0.0 NM along XLO to QAA, 2.5 right"),
        # Off the end of a part of the way it lies beside the next one.
        (5.0, 0.3, 2.5, "5.0 NM along XLO to QAA, 0.3 right"),
    ],
)
def test_what_stands_behind_the_field_is_told_as_there_and_held_against_the_climb(
    along_nm: float, aside_nm: float, away_nm: float, where: str
) -> None:
    """Which way the take-off leads nobody knows: as far from the field as it is, a climb has 500 ft and 400 a mile."""
    mast = changed(spot(along_nm, 3400), aside_nm=aside_nm, away_nm=away_nm)
    (one,) = told("climb-under-terrain", below(flown(), 1, abeam=(piece(along_nm, mast),)))
    far_nm = away_nm if along_nm == 0.0 else along_nm
    assert one.message == f"{500 + 400 * far_nm:.0f} ft is planned beside 3400 ft, {where}, N46W039.hgt"
    assert one.severity is Severity.WARNING


def test_what_stands_beyond_the_field_is_held_against_the_landing_too() -> None:
    mast = changed(spot(40, 3400), aside_nm=-0.3, away_nm=2.5)
    (one,) = told("climb-under-terrain", below(arriving(), 2, abeam=(piece(40, mast),)))
    assert one.message.endswith(" is planned beside 3400 ft, 2.5 NM beyond XHI, N46W039.hgt")


def test_of_several_places_the_one_that_is_missed_by_most_is_told() -> None:
    pieces = piece(3, spot(3, 1900)), piece(5, spot(5, 2900)), piece(7, spot(7, 3500))  # by 200, 400 and 200 ft
    (one,) = told("climb-under-terrain", below(flown(), 1, abeam=pieces))
    assert "planned beside 2900 ft" in one.message
    into = tuple(piece(at, None, spot(at, ft, away_nm=0.0)) for at, ft in ((3, 1900), (5, 2900), (7, 3500)))
    (one,) = told("climb-under-terrain", below(flown(), 1, abeam=into))
    assert "under the course itself: 2900 ft" in one.message


@pytest.mark.parametrize(("height_ft", "hit"), [(2500, False), (2501, True)])
def test_ground_under_the_course_itself_is_an_error(height_ft: float, hit: bool) -> None:
    ground = piece(5, None, spot(5, height_ft, away_nm=0.0))
    found = told("climb-under-terrain", below(flown(), 1, abeam=(ground,)))
    assert [one.severity for one in found] == ([Severity.ERROR] if hit else [])
    assert [one.by for one in found] == pytest.approx([1] if hit else [])


def test_where_a_minimum_binds_no_place_beside_the_way_is_told_twice() -> None:
    # Level at 4,500 ft to QBB a minimum binds, and the rules on minimums tell; ground under the course is told there.
    assert told("climb-under-terrain", below(flown(), 2, abeam=(piece(20, spot(20, 4600)),))) == []
    under = piece(20, None, spot(20, 4600, away_nm=0.0))
    assert len(told("climb-under-terrain", below(flown(), 2, abeam=(under,)))) == 1


def test_a_place_off_the_leg_is_not_passed_on_it() -> None:
    # 20 NM out the flight is level at 4,500 ft; counted on along the climb it would be at 8,500 ft.
    (one,) = told("climb-under-terrain", below(flown(), 1, abeam=(piece(20, None, spot(20, 6000, away_nm=0.0)),)))
    assert one.message.startswith("4500 ft is planned INTO THE GROUND")


@pytest.mark.parametrize(
    ("minimum_ft", "message"),
    [
        # The piece from 4 to 6 NM is begun at 2,100 ft and its top, 5 NM out, passed at 2,500 ft.
        (2100, None),
        (
            2101,
            "the climb is below the minimum by terrain as far as 6.0 NM along XLO to QAA; at the least 180 ft for each"
            " NM from the field: 900",
        ),
    ],
)
def test_how_far_a_climb_is_below_the_minimum_by_terrain(minimum_ft: float, message: str | None) -> None:
    found = told("climb-low", below(flown(), 1, abeam=(piece(5, spot(5, 1500, 100), minimum_ft=minimum_ft),)))
    assert len(found) == (message is not None)
    for one in found:
        assert one.message.startswith(message or "")
        assert " ft above 1500 ft (+100), 5.0 NM along" in one.message
        assert one.by == pytest.approx(-900)


def test_a_climb_low_is_told_to_its_last_piece_and_over_its_least() -> None:
    pieces = (
        piece(3, spot(3, 1200), minimum_ft=2200),  # 1,700 ft there: 500 ft above, 167 a mile
        piece(5, spot(5, 2200), minimum_ft=3200),  # 2,500 ft: 300 ft above, 60 a mile
        piece(7, spot(7, 2400), minimum_ft=3400),  # 3,300 ft: 900 ft above, 129 a mile
        piece(9, spot(9, 1000), minimum_ft=2000),  # 8 NM out at 3,700 ft it is above this one's minimum
    )
    (one,) = told("climb-low", below(flown(), 1, abeam=pieces))
    assert one.message.startswith(
        "the climb is below the minimum by terrain as far as 8.0 NM along XLO to QAA; at the least 60 ft for each NM"
        " from the field: 300 ft above 2200 ft"
    )
    (low,) = told("climb-low", below(flown(), 1, abeam=(piece(5, spot(5, 2600), minimum_ft=3600),)))
    assert "at the least 100 ft BELOW 2600 ft" in low.message


@pytest.mark.parametrize(
    ("rules", "minimum_ft", "top_ft", "severity"),
    [
        # QAA to QBB is flown at 4,500 ft.
        ("ifr", 4500, 3500, None),
        ("ifr", 4600, 3600, Severity.ERROR),
        ("vfr", 4600, 3600, Severity.NOTE),
        ("vfr", 5500, 4500, Severity.NOTE),
        ("vfr", 5600, 4600, Severity.WARNING),
    ],
)
def test_a_level_below_the_minimum_by_terrain(
    rules: str, minimum_ft: float, top_ft: float, severity: Severity | None
) -> None:
    log = flown(rules)
    limits = changed(log.legs[-1].stretch.limits, minimum_ft=float(minimum_ft), minimum_kind="terrain")
    found = told("under-terrain", below(log, 2, ground=ground(spot(20, top_ft), minimum_ft), limits=limits))
    assert [(one.severity, one.by) for one in found][:1] == (
        [] if severity is None else [(severity, minimum_ft - 4500)]
    )


@pytest.mark.parametrize(("by_terrain_ft", "by"), [(3000, None), (3100, 100)])
def test_a_stated_minimum_lower_than_the_one_by_terrain(by_terrain_ft: float, by: float | None) -> None:
    log = below(flown(minimum="min 3000"), 1, ground=ground(spot(20, by_terrain_ft - 1000), by_terrain_ft))
    assert [one.by for one in told("stated-under-terrain", log)] == ([] if by is None else [by])


@pytest.mark.parametrize(
    ("mountainous", "moca_ft", "by"),
    [
        # FAA Order 8260.3: 1,000 ft above what stands abeam, 1,500 in mountains; its tolerance is not added.
        (False, 4000, None),
        (False, 3900, 100),
        (None, 3900, 100),
        (True, 4500, None),
        (True, 4400, 100),
    ],
)
def test_a_moca_too_near_the_ground(mountainous: bool | None, moca_ft: int, by: float | None) -> None:
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndate 2026-07-18\nvariation 0E\nwind calm\ntas 120kt\n"
        f"airway V1 QAA 090 - 270 QBB 30nm mea 6000 moca {moca_ft}\nrules ifr\naltitude 6000\nroute QAA V1 QBB\n"
    )
    pieces = tuple(
        Abeam(at - 1.0, at + 1.0, None, spot(at, ft, 50), None, mountainous) for at, ft in ((5.0, 3000), (9.0, 2900))
    )
    found = told("stated-under-terrain", below(report.log, 1, abeam=pieces))
    assert [one.by for one in found] == ([] if by is None else [by])


def test_a_descent_beside_a_place_higher_than_it_is_there() -> None:
    left = changed(spot(30, 3600), aside_nm=-1.2)
    (one,) = told("climb-under-terrain", below(arriving(), 2, abeam=(piece(30, left),)))
    assert one.message == "3500 ft is planned beside 3600 ft, 30.0 NM along QAA to XHI, 1.2 left, N46W039.hgt"
    assert one.by == pytest.approx(100)
    assert told("climb-under-terrain", below(arriving(), 2, abeam=(piece(30, spot(30, 3500)),))) == []
    # Half a mile from its end and 0.9 aside is 1.03 NM from the field: 257 ft above its 1,000.
    (one,) = told("climb-under-terrain", below(arriving(), 2, abeam=(piece(39, spot(39.5, 3000, away_nm=0.9)),)))
    assert (one.severity, one.message[:40]) == (Severity.WARNING, "1257 ft is planned beside 3000 ft, 39.5 ")


def test_from_where_on_a_descent_is_below_the_minimum_by_terrain() -> None:
    # The piece from 29 to 31 NM is left at 3,250 ft.
    low = piece(30, spot(30, 1500), minimum_ft=3300)
    later = piece(34, spot(34, 1400), minimum_ft=2400)  # left at 2,250 ft, its top passed at 2,500
    (one,) = told("climb-low", below(arriving(), 2, abeam=(low, later)))
    assert one.message.startswith(
        "the descent is below the minimum by terrain from 29.0 NM along QAA to XHI;"
        " at the least 183 ft for each NM from the field: 1100 ft above 1400 ft, 34.0 NM along"
    )
    assert told("climb-low", below(arriving(), 2, abeam=(piece(30, spot(30, 1500), minimum_ft=3250),))) == []
    # Level until 26 NM out no climb or descent is told.
    assert told("climb-low", below(arriving(), 2, abeam=(piece(20, spot(20, 3500), minimum_ft=4600),))) == []


@pytest.mark.parametrize(
    ("stated", "count"), [("mea 4000 moca 2900", 0), ("mea 4000 moca 3000", 1), ("mea 2900", 0), ("mea 3000", 1)]
)
def test_on_an_airway_its_own_minimum_may_be_lower_than_the_one_by_terrain(stated: str, count: int) -> None:
    # QAA is passed at 2,500 ft, the mile after it at 2,900.
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nairport XLO N46 00.00 W039 00.00 elev 500ft\n"
        f"direct QAA 270 - XLO 5nm\nairway V1 QAA 090 - 270 QBB 30nm {stated}\ndate 2026-07-18\n"
        "variation 0E\nwind calm\ntas 120kt\nrules ifr\naltitude 4500\nroute XLO QAA V1 QBB\n"
    )
    log = plan(report.log.route, changed(report.log.conditions, aircraft=CLIMBER))
    # Under IFR what a climb passes by less than that is told with where it reaches its minimum, and not twice.
    low = below(log, 2, abeam=(piece(2, spot(2, 1900), minimum_ft=3500),))
    assert told("climb-low", low) == []
    assert [one.message.count("; below the minimum by terrain as far as") for one in told("climb-out", low)] == [count]


def test_a_stated_minimum_stands_before_the_one_by_terrain() -> None:
    high = ground(spot(20, 4000), 5000)
    assert told("under-terrain", below(flown(minimum="min 4000"), 1, ground=high)) == []


def test_terrain_and_obstacles_that_are_not_known_are_told() -> None:
    log = flown()
    known = ground(spot(20, 1000), 2000)
    gap = changed(known, unknown=("no tile N46W039",), minimum_ft=None)
    (one,) = told("terrain-unknown", below(log, 1, ground=gap))
    assert one.message == "the ground from XLO to QAA is not known: no tile N46W039"
    assert told("terrain-unknown", below(log, 1, ground=known)) == []
    assert told("obstacles-unknown", below(log, 1, ground=known)) == []
    bare = below(below(log, 1, ground=known), 2, ground=changed(known, obstacles_known=False))
    assert len(told("obstacles-unknown", bare)) == 1


def test_where_terrain_is_missing_the_minimum_over_the_highest_known_counts() -> None:
    # 3,550 ft and 1,000 ft above it are 4,550, rounded up to 4,600.
    gap = changed(ground(spot(20, 3550), 0), unknown=("no tile",), minimum_ft=None)
    found = told("under-terrain", below(flown(), 2, ground=gap))
    assert [one.by for one in found][:1] == [100]
    assert "is below the minimum by terrain of 4600 ft over the highest known: 3550 ft" in found[0].message


def test_a_climb_and_a_descent_below_the_minimum_by_terrain_are_told_each_by_itself() -> None:
    # 1,000 ft above 1,500 ft at 2,500 ft, 5 NM from the field; 2,000 ft above it at 3,500 ft, 10 NM from the other.
    climbing = below(arriving(), 1, abeam=(piece(5, spot(5, 1500), minimum_ft=3000),))
    low = told("climb-low", below(climbing, 2, abeam=(piece(30, spot(30, 1500), minimum_ft=3300),)))
    found: list[tuple[str, object]] = [(one.message.partition(" is ")[0], one.by) for one in low]
    assert found == [
        ("the climb", pytest.approx(-1000)),
        ("the descent", pytest.approx(-2000)),
    ]


@pytest.mark.parametrize(("first_nm", "hidden"), [(60, True), (38, False)])
def test_in_a_climb_the_horizon_counts_from_a_thousand_feet_above_the_lowest_ground(
    first_nm: int, hidden: bool
) -> None:
    # From 1,500 ft over ground at 500 ft 1.23 x sqrt 1000 = 38.9 NM are seen (ATIS telecom glossary); 10 NM on, at
    # 4,500 ft, 1.23 x sqrt 4000 = 77.8 NM.
    (report,) = reports(
        "station QAA 113.00 decl 0E elev 500ft\nstation QBB 114.00 decl 0E elev 500ft\n"
        f"airport XLO N46 00.00 W039 00.00 elev 500ft\ndirect QAA 270 - XLO {first_nm}nm\n"
        "direct QAA 090 - 270 QBB 30nm\ndate 2026-07-18\nvariation 0E\nwind calm\ntas 120kt\naltitude 4500\n"
        "route XLO QAA QBB\n"
    )
    found = told("below-horizon", plan(report.log.route, changed(report.log.conditions, aircraft=CLIMBER)))
    assert [(one.leg, one.message) for one in found] == (
        [(1, "QAA is 60.0 NM away and the radio horizon from 1500 ft is 38.9 NM")] if hidden else []
    )
    assert [one.by for one in found] == ([pytest.approx(21.1, abs=0.01)] if hidden else [])
