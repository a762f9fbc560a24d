"""Changeover points to a station that is not the next on the airway, in NM and degrees worked by hand.

QAA, FIXAA, FIXBB and QBB stand 20 NM apart on one meridian, northward; QNO stands on it 30 NM beyond QBB and QSO 30 NM
before QAA. Every station's declination is 0, so that its radials are true: 360 northward, 180 southward. A minute of
latitude is 1.0 NM (WGS84 at N45 to N46: 1.0000 to 1.0002).
"""

from __future__ import annotations

from math import cos, radians

import pytest

from navlog.nav.chart import ChangeoverAt, Position, Segment, Source, Station, StationKind
from navlog.nav.record import changed
from navlog.resolve.beyond import guide_airway
from navlog.resolve.route import ChangeoverKind, GuidedPart, Point, PointKind
from navlog.resolve.sections import NO_RADIAL, Section


def place(north_nm: float, east_nm: float = 0.0) -> Position:
    latitude_deg = 45.0 + north_nm / 60.0
    return Position(latitude_deg, -39.0 + east_nm / 60.0 / cos(radians(latitude_deg)))


def vor(ident: str, north_nm: float, east_nm: float = 0.0) -> Station:
    return Station(ident, StationKind.VOR, place(north_nm, east_nm), declination_deg=0.0)


QAA, QBB, QNO, QSO = vor("QAA", 0.0), vor("QBB", 60.0), vor("QNO", 90.0), vor("QSO", -30.0)


def section(*changeovers: ChangeoverAt, turns: tuple[int, ...] = (), off: Station = QNO, **more: object) -> Section:
    """From QAA to QBB with changeover points written in its first segment, bent at the points `turns`."""
    points = (
        Point(PointKind.STATION, "QAA", QAA.position, QAA),
        Point(PointKind.FIX, "FIXAA", place(20.0)),
        Point(PointKind.FIX, "FIXBB", place(40.0)),
        Point(PointKind.STATION, "QBB", QBB.position, QBB),
    )
    names = [point.ident or "" for point in points]
    segments = tuple(
        Segment(names[at], names[at + 1], turn=at + 1 in turns, changeovers=changeovers if at == 0 else ())
        for at in range(3)
    )

    def find_station(ident: str, near: Position | None) -> Station | None:
        return off if ident == off.ident and near in (QAA.position, QBB.position) else None

    made = Section(points, segments, (20.0,) * 3, QAA, QBB, True, find_station, source=Source.NASR)
    return changed(made, **more)  # type: ignore[arg-type]


Held = tuple[str, float, float]
"""Who holds a part with flag and radial, or the reason why nobody does, and from where to where along the section."""


def held(of: Section) -> list[Held]:
    """The parts of all hops, told along the whole section; what goes on over a point is one."""
    found: list[Held] = []
    for begun_nm, hop in zip(of.along_nm, guide_airway(of), strict=False):
        for part in hop:
            start_nm, end_nm = (round(begun_nm + nm, 6) for nm in (part.start_nm, part.end_nm))
            if found and found[-1][0] == who(part):
                start_nm = found.pop()[1]
            found.append((who(part), start_nm, end_nm))
    return found


def who(part: GuidedPart) -> str:
    guidance = part.guidance
    if guidance is None:
        return part.reason or ""
    assert part.reason is None
    flown_deg = guidance.radial.flown
    radial = "none" if flown_deg is None else f"{flown_deg:03.0f}"
    return f"{guidance.station.ident} {radial} {guidance.flag.name}"


NO_QNO = "no radial of QNO leads along the way here"
AT_25 = ChangeoverAt(25.0, "QAA", "QNO")
TO_FIXBB = ChangeoverAt(25.0, "QAA", "QNO", until="FIXBB")


@pytest.mark.parametrize(
    ("of", "expected"),
    [
        (section(AT_25), [("QAA 000 FROM", 0, 25), ("QNO 180 TO", 25, 60)]),
        (section(TO_FIXBB), [("QAA 000 FROM", 0, 25), ("QNO 180 TO", 25, 40), ("QBB 180 TO", 40, 60)]),
        # Half a mile from a fix is the fix, as the chart has whole miles; a file's figure counts to the tenth.
        (section(changed(AT_25, distance_nm=20.5)), [("QAA 000 FROM", 0, 20), ("QNO 180 TO", 20, 60)]),
        (section(changed(AT_25, distance_nm=20.5), published=False),
         [("QAA 000 FROM", 0, 20.5), ("QNO 180 TO", 20.5, 60)]),
        (section(changed(AT_25, distance_nm=20.04), published=False),
         [("QAA 000 FROM", 0, 20), ("QNO 180 TO", 20, 60)]),
        # Beyond the first bend the radial of QAA leads elsewhere; QNO guides to the next bend, and QBB from the last.
        (section(AT_25, turns=(1,)), [("QAA 000 FROM", 0, 20), ("QNO 180 TO", 20, 60)]),
        (section(AT_25, turns=(1, 2)), [("QAA 000 FROM", 0, 20), ("QNO 180 TO", 20, 40), ("QBB 180 TO", 40, 60)]),
        (section(AT_25, turns=(2,)), [("QAA 000 FROM", 0, 25), ("QNO 180 TO", 25, 40), ("QBB 180 TO", 40, 60)]),
        (section(changed(AT_25, distance_nm=10.0, until="FIXAA"), turns=(2,)),
         [("QAA 000 FROM", 0, 10), ("QNO 180 TO", 10, 20), (NO_RADIAL, 20, 40), ("QBB 180 TO", 40, 60)]),
        (section(TO_FIXBB, ahead=None), [("QAA 000 FROM", 0, 25), ("QNO 180 TO", 25, 40), (NO_RADIAL, 40, 60)]),
        (section(changed(AT_25, distance_nm=70.0)), [("QAA 000 FROM", 0, 60)]),
        # Not such points: to the next station, or to nobody, and one that nobody finds.
        (section(changed(AT_25, ahead="QBB")), [("QAA 000 FROM", 0, 25), ("QBB 180 TO", 25, 60)]),
        (section(changed(AT_25, ahead=None)), [("QAA 000 FROM", 0, 25), ("QBB 180 TO", 25, 60)]),
        (section(changed(AT_25, ahead="QXX")), [("QAA 000 FROM", 0, 30), ("QBB 180 TO", 30, 60)]),
        (section(changed(AT_25, ahead="QXX"), TO_FIXBB),
         [("QAA 000 FROM", 0, 25), ("QNO 180 TO", 25, 40), ("QBB 180 TO", 40, 60)]),
        (section(changed(AT_25, station="QYY"), TO_FIXBB),
         [("QAA 000 FROM", 0, 25), ("QNO 180 TO", 25, 40), ("QBB 180 TO", 40, 60)]),
        (section(AT_25, behind=None), [("QAA is out of service", 0, 30), ("QBB 180 TO", 30, 60)]),
        # Written from the side of QBB alone: flown toward it, it is looked at the other way.
        (section(ChangeoverAt(25.0, "QBB", "QSO"), off=QSO), [("QSO 000 FROM", 0, 35), ("QBB 180 TO", 35, 60)]),
        (section(ChangeoverAt(25.0, "QBB", "QSO", until="FIXAA"), off=QSO),
         [("QAA 000 FROM", 0, 20), ("QSO 000 FROM", 20, 35), ("QBB 180 TO", 35, 60)]),
        (section(ChangeoverAt(25.0, "QBB", "QSO"), off=QSO, turns=(1,)),
         [("QAA 000 FROM", 0, 20), ("QSO 000 FROM", 20, 35), ("QBB 180 TO", 35, 60)]),
        (section(ChangeoverAt(40.8, "QBB", "QSO", until="QAA"), off=QSO),
         [("QSO 000 FROM", 0, 19.2), ("QBB 180 TO", 19.2, 60)]),
        (section(ChangeoverAt(40.4, "QBB", "QSO", until="QAA"), off=QSO),
         [("QSO 000 FROM", 0, 20), ("QBB 180 TO", 20, 60)]),
    ],
)  # fmt: skip
def test_each_station_guides_up_to_where_the_chart_changes_it(of: Section, expected: list[Held]) -> None:
    assert held(of) == expected


# Between QAA and QBB, 90 and 30 NM from a station abeam of QNO, its radial turns by atan(d/30) less atan(d/90): for
# 1.5 NM 2.862 less 0.955 is 1.91 degrees, for 1.65 NM 3.148 less 1.050 is 2.10. AIM 1-1-8 has no figure.
@pytest.mark.parametrize(("east_nm", "leads"), [(1.5, True), (-1.5, True), (1.65, False), (-1.65, False)])
def test_a_station_leads_along_where_its_radial_is_steady_to_two_degrees(east_nm: float, leads: bool) -> None:
    off = vor("QNO", 90.0, east_nm)
    # From QAA 0.955 degrees beside south.
    radial = "181 TO" if east_nm > 0 else "179 TO"
    assert held(section(AT_25, off=off))[1] == (f"QNO {radial}" if leads else NO_QNO, 25, 60)


def test_one_position_is_enough_and_none_is_not() -> None:
    of = section(AT_25)
    start, *inner, end = of.points
    known = changed(of, points=(start, *inner, changed(end, position=None)))
    assert held(known)[1] == ("QNO 180 TO", 25, 60)
    unknown = changed(of, points=(changed(start, position=None), *inner, end), find_station=lambda _name, _near: QNO)
    assert held(unknown)[1] == (NO_QNO, 25, 60)


Change = tuple[str, str, float, float, tuple[tuple[float, str], ...]]


def change(of: Section) -> tuple[ChangeoverKind, Change, float]:
    """The kind of the one changeover point, its stations and distances, and where along the section it lies."""
    ((one, at_nm),) = [
        (part.changeover, begun_nm + part.end_nm)
        for begun_nm, hop in zip(of.along_nm, guide_airway(of), strict=False)
        for part in hop
        if part.changeover is not None
    ]
    distances_nm = round(one.distance_nm, 1), round(one.distance_ahead_nm, 1)
    return one.kind, (one.behind.ident, one.ahead.ident, *distances_nm, one.stated), round(at_nm, 6)


MEASURED = changed(AT_25, measured=(65.0, "QNO"))


@pytest.mark.parametrize(
    ("of", "kind", "expected", "at_nm"),
    [
        # QNO is 90 NM from QAA and 70 NM from FIXAA.
        (section(AT_25), "PUBLISHED", ("QAA", "QNO", 25, 65, ((25.0, "QAA"),)), 25),
        (section(AT_25, published=False), "STATED", ("QAA", "QNO", 25, 65, ((25.0, "QAA"),)), 25),
        (section(MEASURED), "PUBLISHED", ("QAA", "QNO", 25, 65, ((65.0, "QNO"),)), 25),
        (section(AT_25, turns=(1, 2)), "PUBLISHED", ("QAA", "QNO", 20, 70, ((25.0, "QAA"),)), 20),
        # The way bends before QNO's part begins: its distance is counted from the bend on, 70 NM.
        (section(changed(AT_25, distance_nm=20.0), turns=(1,), lengths_nm=(20.0, 23.0, 20.0)), "PUBLISHED",
         ("QAA", "QNO", 20, 70, ((20.0, "QAA"),)), 20),
        # QSO is 90 NM from QBB: from the point on, 65 NM back to it.
        (section(ChangeoverAt(25.0, "QBB", "QSO"), off=QSO), "PUBLISHED", ("QSO", "QBB", 65, 25, ((25.0, "QBB"),)), 35),
    ],
)  # fmt: skip
def test_the_changeover_point_lies_between_the_two(of: Section, kind: str, expected: Change, at_nm: float) -> None:
    assert change(of) == (ChangeoverKind[kind], expected, at_nm)


def test_a_station_nearer_than_the_point_is_not_less_than_nothing_away() -> None:
    # 10 NM north of QAA the station is passed at 25 NM.
    assert change(section(AT_25, off=vor("QNO", 10.0)))[1][2:4] == (25, 0)


def test_turned_round_no_sliver_is_left_beside_a_point() -> None:
    # 20.1 + 20.2 + 20.3 is 60.599999999999994 in binary; the parts meet at FIXBB, 40.3 NM along and 20.3 NM back.
    of = section(ChangeoverAt(20.3, "QBB", "QSO"), off=QSO, lengths_nm=(20.1, 20.2, 20.3))
    assert [[(part.start_nm, part.end_nm) for part in hop] for hop in guide_airway(of)] == [
        [(0, 20.1)], [(0, 20.2)], [(0, 20.3)],
    ]  # fmt: skip


def test_a_hop_without_a_record_says_nothing_of_changeovers() -> None:
    of = section(AT_25)
    assert held(changed(of, segments=(None, *of.segments[1:]))) == [("QAA 000 FROM", 0, 30), ("QBB 180 TO", 30, 60)]


@pytest.mark.parametrize(
    ("turns", "from_nm"),
    [
        ((), 30),  # midway
        ((1,), 20),  # at the one bend
        ((2,), 40),
        ((1, 2), 40),  # QBB's radial leads to the bend next to it alone
    ],
)
def test_with_the_station_behind_out_the_other_guides_from_its_changeover_point_or_bend(
    turns: tuple[int, ...], from_nm: float
) -> None:
    expected = [("QAA is out of service", 0, from_nm), ("QBB 180 TO", from_nm, 60)]
    assert held(section(behind=None, turns=turns)) == expected
