"""Turning back, alternates, airports, findings and places in the words of the sheets, worked by hand.

XAA, QBB and XCC stand on 39 W, 20.0 NM apart (20 minutes of latitude, WGS84), XDD 11.0 NM south of QBB. At 120 kt and
8 gal/h a mile takes half a minute, and 15 NM a gallon. In 360/20 the way north is flown at 100 kt, south at 140.
"""

from __future__ import annotations

from typing import Any

import pytest
from helpers.drawn import reports

from navlog.flightlog.records import Log
from navlog.nav.chart import Position
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.printed.airfields import airfield_lines, short_airfield_lines, sunset_texts
from navlog.printed.closing import alternate_title, leaving_lines, sections
from navlog.printed.contingencies import lost_communications, turning_back
from navlog.printed.findings import finding_line, legs_text, places, ranges, told_together, worst
from navlog.printed.fuel import earlier_lines
from navlog.printed.places import Plane, cut_at_antimeridian, great_circle
from navlog.rules.registry import Finding, OnAlternate, Severity
from navlog.rules.report import Report

GIVEN = (
    'airport XAA N46 00.00 W039 00.00 elev 100ft name "Alpha Moor"',
    "station QBB 114.00 N46 20.00 W039 00.00 decl 0E class L elev 0ft",
    "airport XCC N46 40.00 W039 00.00 elev 200ft",
    "airport XDD N46 09.00 W039 00.00 elev 100ft",
    "direct XAA - QBB 20nm min 2000",
    "direct QBB - XCC 20nm min 5000",
    "date 2026-07-18", "off 15:00Z", "wind calm", "variation 0E", "altitude 3500", "tas 120kt", "burn 8gph",
    "fuel 20gal", "rules ifr", "alternate XDD from QBB", "route XAA QBB XCC",
)  # fmt: skip
BACK = ("wind 360/20", "rules vfr", "route XAA QBB XCC land 30min fuel 12gal QBB XAA")


def flown(*more: str, without: str = "-") -> Report:
    """The flight with statements replaced by their keywords, those that begin with `without` left out."""
    words = {one.split()[0] for one in more if one.split()[0] != "direct"}
    kept = [one for one in GIVEN if one.split()[0] not in words and not one.startswith(without)]
    (report,) = reports("\n".join((*kept, *more)) + "\n")
    return report


def log_of(*more: str, without: str = "-") -> Log:
    return flown(*more, without=without).log


def test_turning_back_in_words() -> None:
    # South from QBB 20 NM take 8.57 min, up 9, and 1.14 gal, up 1.2; north 12 min and 1.6 gal. Of 40 NM the point lies
    # at 40 x 140 / 240 = 23.3 from XAA and at 40 x 100 / 240 = 16.7 from XCC, 10.0 min from either.
    _, to_xaa, to_xcc, *points = turning_back(log_of(*BACK))
    assert to_xaa == "from QBB to XAA 20.0 NM, 0:09, 1.2 gal, set 180 FROM QBB, heading 180"
    assert to_xcc == "from QBB to XCC 20.0 NM, 0:12, 1.6 gal, set 360 FROM QBB, heading 360"
    assert [one.partition(" (dist")[0] for one in points] == [
        "critical point between XAA and XCC: 23.3 NM from XAA (3.3 NM after QBB), 16.7 NM to XCC, 0:10 to either",
        "critical point between XCC and XAA: 16.7 NM from XCC (16.7 NM after XCC), 23.3 NM to XAA, 0:10 to either",
    ]


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (("wind calm",), "from QBB to XAA 20.0 NM, 0:10, 1.4 gal, set 180 FROM QBB, heading 180"),
        # Of 2.5 gal 1.33 are flown and 1.33 needed back.
        (("fuel 2.5gal",), "from QBB to XAA 20.0 NM, 0:10, 1.4 gal, set 180 FROM QBB, heading 180: NOT ENOUGH FUEL"),
        (("fuel 2.7gal",), "from QBB to XAA 20.0 NM, 0:10, 1.4 gal, set 180 FROM QBB, heading 180"),
        # Southward into 130 kt nobody comes home.
        (("wind 180/130",), "from QBB to XAA 20.0 NM, ?, ? gal, set 180 FROM QBB"),
    ],
)
def test_the_way_home_from_a_point(more: tuple[str, ...], told: str) -> None:
    assert list(turning_back(log_of(*more)))[1] == told


def test_without_a_burn_the_time_home_alone_is_known() -> None:
    _, way, *_ = turning_back(log_of(without="burn"))
    assert way == "from QBB to XAA 20.0 NM, 0:10, ? gal, set 180 FROM QBB, heading 180"


def test_altitudes_without_radio_by_parts() -> None:
    _, *parts = lost_communications(log_of())
    assert parts == ["XAA to QBB 3500 ft (as planned)", "QBB to XCC 5000 ft (min)"]
    # Where no minimum is known it says so; neighbours of one altitude are one part.
    _, *parts = lost_communications(log_of("direct XAA - QBB 20nm min 2000", without="direct"))
    assert parts == ["XAA to QBB 3500 ft (as planned)", "QBB to XCC 3500 ft (as planned); no minimum is known here"]
    alike = ("direct XAA - QBB 20nm min 2000", "direct QBB - XCC 20nm min 3000")
    _, *parts = lost_communications(log_of(*alike, without="direct"))
    assert parts == ["XAA to XCC 3500 ft (as planned)"]
    assert list(lost_communications(log_of("rules vfr"))) == []


def test_an_alternate_with_its_account_and_its_legs() -> None:
    # At QBB 1.33 gal are used, up 1.4, of 20; XDD is 5.5 min on, up 6 by the half, and 0.73 gal, up 0.8.
    (block,) = [one for one in sections(flown()) if one.title.startswith("ALTERNATE")]
    assert block.title == "ALTERNATE XDD from QBB"
    assert list(block.lines) == [
        "QBB XDD, leaves QBB 15:10Z with 18.6 gal",
        "11.0 NM   0:06 in the air   fuel 0.8 gal   landing 15:16Z",
        "1  QBB to XDD DCT: QBB 114.00 --.- -... -... set 180 FROM, hdg 180, 11.0 NM 0:06 ETA 15:16Z alt 3500 min ?"
        " left 17.8",
    ]


def test_which_passage_an_alternate_is_flown_from() -> None:
    # North past QBB at 15:12Z, and south at 33 printed min of flight and 30 on the ground.
    (way,) = log_of(*BACK).alternates
    assert alternate_title(way) == "ALTERNATE XDD from QBB"
    assert list(leaving_lines(way)) == [
        "QBB XDD, leaves QBB 16:03Z with 10.8 gal",
        "QBB is passed 2 times: clock and fuel by the last, height by the lowest",
    ]
    (way,) = log_of("hold QBB 6min").alternates
    assert list(leaving_lines(way)) == [
        "QBB XDD, leaves QBB 15:16Z with 17.8 gal",
        "clock and fuel as after the hold at QBB",
    ]


def test_each_airport_with_the_times_of_its_row() -> None:
    # XDD is left for at 16:03Z as printed, and 11.0 NM at 140 kt are 4.7 min: 16:08Z on every sheet, though both times
    # unrounded make 16:07:17.
    log = log_of(*BACK)
    for lines in (tuple(airfield_lines(log)), tuple(short_airfield_lines(log))):
        assert [one.partition(":")[0] for one in lines if "XDD" in one] == ["XDD alternate 16"]
        assert [one.partition(":")[2][:3] for one in lines if "XDD" in one] == ["08Z"]
        assert [one.split()[2] for one in lines if one.startswith("XCC")] == ["15:24Z:"]
    short = list(short_airfield_lines(log))
    assert short[0] == "XAA departure: elevation 100 ft, pattern 1100 ft"
    assert next(iter(airfield_lines(log))) == (
        "XAA Alpha Moor, departure: elevation 100 ft, pattern 1100 ft by AIM\N{NO-BREAK SPACE}4-3-3"
    )


def test_sunset_stands_at_landings_alone() -> None:
    # By the almanac of `tests/numbers/test_sun.py`: sunset at XCC 22:23Z.
    log = log_of()
    assert [list(sunset_texts(log, leg)) for leg in log.legs] == [[], ["sunset 22:23Z"]]
    night = log_of("off 23:30Z")
    assert [list(sunset_texts(night, leg)) for leg in night.legs] == [[], ["LANDING BY NIGHT, sunset 22:23Z"]]


def test_an_earlier_filling_has_an_account_of_its_own() -> None:
    # 24 min against the wind are 3.2 gal of 20; kept are 4 by day: 12.8 beyond, 96 min.
    (line,) = earlier_lines(log_of(*BACK))
    assert line == (
        "before that, XAA to XCC: on board 20.0 with no taxi fuel given, left at landing 16.8; required 7.2 = trip 3.2"
        " + alternate 0.0 + contingency 0.0 + reserve 4.0 + extra 0.0; margin 12.8 gal, 96 min"
    )


def found(leg: int | None, message: str = "low", by: float = 0.0, **more: Any) -> Finding:
    given = Finding("under-mea", Severity.WARNING, message, leg, Span("x.route", 1), "AIM", by=by)
    return changed(given, **more)


@pytest.mark.parametrize(
    ("numbers", "told"),
    [([2], "2"), ([2, 3], "2, 3"), ([2, 3, 4], "2-4"), ([1, 3, 4, 5, 7, 8], "1, 3-5, 7, 8"), ([], "")],
)
def test_runs_of_three_or_more_numbers_are_short(numbers: list[int], told: str) -> None:
    assert ranges(numbers) == told
    assert legs_text(numbers) == f"leg{'s' if len(numbers) > 1 else ''} {told}"


def test_findings_of_a_rule_are_told_together_with_the_worst_of_them() -> None:
    assert told_together([found(2)]) == "leg 2: low"
    assert told_together([found(2), found(3)]) == "legs 2, 3: low"
    assert told_together([found(None)]) == "low"
    apart = [found(2, "100 ft low", 100.0), found(4, "300 ft low", 300.0), found(5, "200 ft low", 200.0)]
    assert told_together(apart) == "legs 2, 4, 5: 300 ft low (leg 4, the worst of 3)"
    assert worst(apart) is apart[1]
    graver = changed(apart[0], severity=Severity.ERROR)
    assert worst([*apart, graver]) is graver
    words = [found(2, "by one"), found(3, "by another")]
    assert told_together(words) == "legs 2, 3: by one (leg 2, one of 2)"
    assert finding_line(*words) == "WARNING legs 2, 3: by one (leg 2, one of 2) [under-mea]"
    assert finding_line(changed(words[0], accepted="seen")) == "WARNING leg 2: by one [under-mea] (accepted: seen)"


def test_where_findings_are_on_the_route_and_on_ways_to_alternates() -> None:
    first, whole = OnAlternate(1, "XOLD", 1), OnAlternate(1, "XOLD", None)
    third = OnAlternate(1, "XOLD", 3)
    assert places([found(2), found(None, alternate=first), found(None, alternate=third)]) == (
        "leg 2, alternate XOLD legs 1, 3"
    )
    assert places([found(None, alternate=whole)]) == "alternate XOLD"
    assert places([found(None, alternate=whole), found(None, alternate=first)]) == "alternate XOLD leg 1"
    assert places([found(None)]) == ""


def at(latitude_deg: float, longitude_deg: float) -> Position:
    return Position(latitude_deg, longitude_deg)


def test_a_plane_has_its_middle_at_nought_and_true_distances_from_it() -> None:
    plane = Plane([at(46.0, -39.0), at(46.0 + 40.0 / 60.0, -39.0), at(46.1, -39.0)])
    # Half-way along the longest line: N46 20.
    assert plane.at(at(46.0 + 20.0 / 60.0, -39.0)) == (0.0, 0.0)
    assert plane.at(at(46.0 + 40.0 / 60.0, -39.0)) == pytest.approx((0.0, 20.0), abs=0.02)
    assert plane.at(at(46.0, -39.0)) == pytest.approx((0.0, -20.0), abs=0.02)
    # A minute of longitude at N46 20 is 0.692 NM.
    assert plane.at(at(46.0 + 20.0 / 60.0, -38.5)) == pytest.approx((20.77, 0.0), abs=0.1)
    assert plane.angle_deg(at(46.0 + 20.0 / 60.0, -39.0), 30.0) == pytest.approx(30.0, abs=0.05)


def test_the_middle_lies_along_the_longest_line_from_the_first_place() -> None:
    # From N46 06 the farther end is N46 40: N46 23, 7.0 NM from N46 30 and 13.0 from N46 10.
    plane = Plane([at(46.1, -39.0), at(46.0, -39.0), at(46.0 + 40.0 / 60.0, -39.0)])
    assert plane.at(at(46.5, -39.0)) == pytest.approx((0.0, 7.0), abs=0.02)
    assert plane.at(at(46.0 + 10.0 / 60.0, -39.0)) == pytest.approx((0.0, -13.0), abs=0.02)
    # Of places that are one the first is the middle.
    assert Plane([at(46.1, -39.0), at(46.1, -39.0)]).at(at(46.1, -39.0)) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("line", "pieces"),
    [
        (((10.0, 170.0), (10.0, 175.0)), (((170.0, 10.0), (175.0, 10.0)),)),
        # 2 of 4 degrees before the line, and 1 of 4: RFC 7946, section 3.1.9, cuts there and goes on at the other sign.
        (((10.0, 178.0), (12.0, -178.0)), (((178.0, 10.0), (180.0, 11.0)), ((-180.0, 11.0), (-178.0, 12.0)))),
        (((12.0, -179.0), (8.0, 177.0)), (((-179.0, 12.0), (-180.0, 11.0)), ((180.0, 11.0), (177.0, 8.0)))),
        (((10.0, 170.0),), ()),
    ],
)
def test_a_line_is_cut_at_the_antimeridian(
    line: tuple[tuple[float, float], ...], pieces: tuple[tuple[tuple[float, float], ...], ...]
) -> None:
    assert cut_at_antimeridian(at(*one) for one in line) == pieces


def test_a_leg_is_drawn_through_a_point_at_least_every_10_nm() -> None:
    (leg, *_) = log_of().legs
    # 20.007 NM by the ellipsoid: three pieces.
    line = great_circle(leg)
    assert [round(one.latitude_deg - 46.0, 4) for one in line] == [0.0, 0.1111, 0.2222, 0.3333]
    assert great_circle(changed(leg, end=leg.start)) == ()
    assert great_circle(changed(leg, end=changed(leg.end, position=None))) == ()
