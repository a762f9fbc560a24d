from __future__ import annotations

import pytest

from navlog.nav.chart import (
    NO_ALTITUDE,
    Bearing,
    BothWays,
    ChangeoverAt,
    CrossingAltitude,
    Segment,
    Service,
)
from navlog.request.parser import parse
from navlog.request.records import AirwayDefinition, DirectDefinition


def airway(text: str) -> AirwayDefinition:
    tree = parse(f"airway {text}", "t.route")
    assert tree.problems == ()
    value = tree.common[0].value
    assert isinstance(value, AirwayDefinition)
    return value


def segment(options: str) -> Segment:
    return airway(f"V801 QHB 212 - 034 QEL 29.5nm {options}").airway.segments[0]


def direct(text: str) -> tuple[DirectDefinition, ...]:
    tree = parse(f"direct {text}", "t.route")
    assert tree.problems == ()
    value = tree.common[0].value
    assert isinstance(value, tuple)
    return tuple(pair for pair in value if isinstance(pair, DirectDefinition))


def codes(text: str) -> list[tuple[int, str]]:
    return [(p.span.column, p.code) for p in parse(text, "t.route").problems if p.span is not None]


def test_a_number_stands_beside_the_station_whose_radial_it_is() -> None:
    one = segment("")
    assert (one.start, one.start_radial_deg, one.end_radial_deg, one.end) == ("QHB", 212.0, 34.0, "QEL")


def test_either_radial_may_be_left_out() -> None:
    first, second, third = airway("V801 QHB - QEL 29 180 - PINEY 12 - 355 QIL 20").airway.segments
    assert (first.start_radial_deg, first.end_radial_deg) == (None, None)
    assert (second.start_radial_deg, second.end_radial_deg) == (180.0, None)
    assert (third.start_radial_deg, third.end_radial_deg) == (None, 355.0)


def test_a_chain_keeps_its_points_in_order_with_their_places() -> None:
    chain = airway("V801 QHB 212 - 034 QEL 29.5nm mea 3000\n  180 - PINEY 12nm turn\n  - XRAY 8nm")
    assert chain.airway.points == ("QHB", "QEL", "PINEY", "XRAY")
    assert [(name.ident, name.span.line) for name in chain.names] == [
        ("QHB", 1),
        ("QEL", 1),
        ("PINEY", 2),
        ("XRAY", 3),
    ]
    assert [(one.distance_nm, one.turn) for one in chain.airway.segments] == [
        (29.5, False),
        (12.0, True),
        (8.0, False),
    ]
    assert [one.span.line for one in chain.airway.segments if one.span] == [1, 2, 3]


def test_altitudes_hold_both_ways_unless_two_are_given() -> None:
    both = segment("mea 4000/3000 moca 2400 maa 17500")
    assert (both.mea, both.moca, both.maa) == (
        BothWays(4000.0, 3000.0),
        BothWays(2400.0, 2400.0),
        BothWays(17500.0, 17500.0),
    )
    assert segment("").mea == NO_ALTITUDE


def test_each_side_has_its_own_unit_and_a_lone_one_at_the_end_serves_both() -> None:
    # 1200 m = 3937.008 ft and 1500 m = 4921.260 ft.
    for text in ("mea 1200m/1500m", "mea 1200/1500m"):
        mea = segment(text).mea
        assert mea.forward_ft == pytest.approx(3937.008, abs=1e-3)
        assert mea.backward_ft == pytest.approx(4921.260, abs=1e-3)
    mixed = segment("mea 4000ft/1500m").mea
    assert mixed.forward_ft == 4000.0
    assert mixed.backward_ft == pytest.approx(4921.260, abs=1e-3)
    assert codes("airway V801 QHB - QEL 29 mea 1200m/1500") == [(30, "bad-unit")]


def test_a_crossing_altitude_names_the_point_and_where_it_leads() -> None:
    assert segment("mca 3500 QEL to QHB mca 4000ft QHB to QEL").crossings == (
        CrossingAltitude(3500.0, "QEL", "QHB"),
        CrossingAltitude(4000.0, "QHB", "QEL"),
    )
    assert codes("airway V801 QHB - QEL 29 mca 3500 QIL to QEL") == [(35, "bad-crossing")]
    assert codes("airway V801 QHB - QEL 29 mca 3500 QEL PINEY") == [(39, "missing-word")]


@pytest.mark.parametrize("keyword", ["airway V801", "direct"])
def test_a_crossing_altitude_stands_on_the_segment_by_which_its_point_is_left(keyword: str) -> None:
    """However far on the point lies that it leads to, and on whichever segment it is written."""
    chain = f"{keyword} QHB - PINEY 12 mca 5000 QHB to QIL mca 4000 PINEY to QIL - QEL 17 - QIL 20 mca 6000 QIL to QHB"
    tree = parse(chain, "t.route")
    assert tree.problems == ()
    value = tree.common[0].value
    segments = (
        value.airway.segments if isinstance(value, AirwayDefinition) else [one.segment for one in direct(chain[7:])]
    )
    assert [one.crossings for one in segments] == [
        (CrossingAltitude(5000.0, "QHB", "PINEY"),),
        (CrossingAltitude(4000.0, "PINEY", "QEL"),),
        (CrossingAltitude(6000.0, "QIL", "QEL"),),
    ]


@pytest.mark.parametrize(
    ("crossing", "column", "code"),
    [
        ("mca 5000 QEL to QEL", 53, "bad-crossing"),
        ("mca 5000 QEL to XRAY", 53, "bad-crossing"),
        ("mca 5000 QEL to QHB mca 4000 QEL to PINEY", 73, "given-twice"),
    ],
)
def test_a_crossing_altitude_that_no_flight_could_meet_is_a_problem(crossing: str, column: int, code: str) -> None:
    assert codes(f"airway V801 QHB - PINEY 12 - QEL 17 {crossing}") == [(column, code)]


def test_a_changeover_counts_from_its_station() -> None:
    assert segment("cop 11 QHB").changeovers == (ChangeoverAt(11.0, "QHB"),)
    assert codes("airway V801 QHB - QEL 29 cop 11 QHB cop 18 QEL") == [(37, "given-twice")]


def test_another_station_may_hold_a_segment() -> None:
    assert segment("on QIL 045").along == Bearing("QIL", 45.0)


def test_a_gap_may_have_a_length() -> None:
    assert (segment("gap").service, segment("gap").gap_nm) == (Service.SIGNAL_GAP, None)
    assert (segment("gap 12nm").service, segment("gap 12nm").gap_nm) == (Service.SIGNAL_GAP, 12.0)


def test_a_point_may_begin_with_a_digit() -> None:
    chain = airway("V801 1B1 - 2C2 12nm - 034 QEL 29")
    assert chain.airway.points == ("1B1", "2C2", "QEL")
    assert [one.distance_nm for one in chain.airway.segments] == [12.0, 29.0]


def test_a_radial_after_a_gap_is_not_its_length() -> None:
    first, second = airway("V801 QHB - QEL 29 gap 180 - PINEY 12").airway.segments
    assert (first.gap_nm, second.start_radial_deg) == (None, 180.0)
    first, second = airway("V801 QHB - QEL 29 gap 12 - PINEY 12").airway.segments
    assert (first.gap_nm, second.start_radial_deg) == (12.0, None)
    first, second = airway("V801 QHB - QEL 29 gap 12 180 - PINEY 12").airway.segments
    assert (first.gap_nm, second.start_radial_deg) == (12.0, 180.0)


@pytest.mark.parametrize(
    ("text", "column", "code"),
    [
        ("airway V801 QHB 212-034 QEL 29.5nm", 17, "glued-dash"),
        ("airway V801 QHB 212 034 QEL 29.5nm", 21, "missing-dash"),
        ("airway V801 QHB 212 - 034 QEL", 30, "missing-word"),
        ("airway V801 QHB 212 - 034 QEL mea 3000", 31, "missing-word"),
        ("airway V801 QHB 212 - 034 QEL 0nm", 31, "bad-value"),
        ("airway V801 QHB", 16, "missing-word"),
        ("airway V801 QHB 212 - 34 QEL 29", 23, "bad-angle"),
        ("airway V801 QHB - QEL 29 - QHB 29", 28, "point-twice"),
        ("airway V801 QHB - QEL 29 min 3000", 26, "unexpected-word"),
        ("airway V801 QHB - QEL 29 course 214M", 26, "unexpected-word"),
        ("airway V801 QHB - QEL 29 maa FL180", 30, "bad-value"),
        ("airway V801 QHB - QEL 29 on 045 QIL", 29, "bad-identifier"),
        ("direct XHAR - LAKER 35 course 214", 31, "bad-value"),
        ("direct XHAR - LAKER 35 course 14M", 31, "bad-angle"),
    ],
)
def test_wrong_chains(text: str, column: int, code: str) -> None:
    assert codes(text)[0] == (column, code)


def test_a_direct_leg_may_state_its_minimum_and_the_source() -> None:
    (pair,) = direct('QEL 047 - XHAR 35.3nm min 2700/3100 "own survey"')
    assert (pair.start.ident, pair.end.ident) == ("QEL", "XHAR")
    assert pair.segment.minimum == BothWays(2700.0, 3100.0)
    assert pair.segment.minimum_source == "own survey"
    assert direct("QEL - XHAR 35 min 2700")[0].segment.minimum_source is None


@pytest.mark.parametrize(("text", "course"), [("214M", (214.0, "M")), ("000T", (360.0, "T"))])
def test_a_direct_leg_may_state_its_course_with_its_north(text: str, course: tuple[float, str]) -> None:
    assert direct(f"XHAR - LAKER 35 course {text}")[0].segment.course == course


def test_a_chain_of_direct_legs_is_a_pair_each() -> None:
    pairs = direct("XHAR - LAKER 12 min 2700 - PINEY 20")
    assert [(pair.start.ident, pair.end.ident) for pair in pairs] == [("XHAR", "LAKER"), ("LAKER", "PINEY")]


@pytest.mark.parametrize(("length", "gap_nm"), [("5nm", 5.0), ("9km", 9 / 1.852), ("5.5nm", 5.5), ("12", 12.0)])
def test_a_gap_of_a_unit_before_a_dash_is_its_length(length: str, gap_nm: float) -> None:
    # `5nm` has three characters as a radial has, and is none.
    chain = airway(f"V801 QHB 212 - PINEY 12nm gap {length} - 034 QEL 17.5nm").airway
    assert chain.segments[0].gap_nm == pytest.approx(gap_nm)
    assert chain.segments[1].start_radial_deg is None
