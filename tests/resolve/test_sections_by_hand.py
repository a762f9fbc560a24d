"""What holds each part of a section between two stations, in NM worked by hand.

AIM 5-3-6: the changeover point is midway between the two, "or at the intersection of radials" where the way bends, but
where the chart gives distances.
"""

from __future__ import annotations

import pytest

from navlog.nav.chart import ChangeoverAt, Position, Segment, Source, Station, StationKind
from navlog.nav.guidance import Flag
from navlog.nav.record import changed
from navlog.resolve.route import ChangeoverKind, GuidedPart, Point, PointKind
from navlog.resolve.sections import Section, bend_indexes, cut, inbound_guidance, outbound_guidance, whole

QAA = Station("QAA", StationKind.VOR, frequency_mhz=113.0, declination_deg=0.0)
QBB = Station("QBB", StationKind.VOR, frequency_mhz=114.0, declination_deg=0.0)

Parts = list[tuple[float, float, str | None]]


def section(
    *lengths_nm: float,
    behind: Station | None = QAA,
    ahead: Station | None = QBB,
    bends: tuple[int, ...] = (),
    changeovers: tuple[ChangeoverAt, ...] = (),
    published: bool = True,
    source: Source = Source.NASR,
) -> Section:
    """From QAA to QBB over fixes F1, F2 ..., none with a position; it bends at the fixes of the numbers `bends`."""
    names = ["QAA", *(f"F{number}" for number in range(1, len(lengths_nm))), "QBB"]
    kinds = [PointKind.STATION, *[PointKind.FIX] * (len(lengths_nm) - 1), PointKind.STATION]
    return Section(
        tuple(Point(kind, name) for kind, name in zip(kinds, names, strict=True)),
        tuple(
            Segment(names[at], names[at + 1], turn=at + 1 in bends, changeovers=changeovers if at == 0 else ())
            for at in range(len(lengths_nm))
        ),
        lengths_nm,
        behind,
        ahead,
        published,
        lambda _name, _near: None,
        source=source,
    )


def held(parts: tuple[GuidedPart, ...]) -> Parts:
    """From where to where each part is held by which station."""
    return [(part.start_nm, part.end_nm, part.guidance.station.ident if part.guidance else None) for part in parts]


def changeover(of: Section) -> tuple[ChangeoverKind, float, float]:
    """The kind of the changeover point, and how far it lies from the station behind and from the one ahead."""
    (found,) = [part.changeover for part in whole(of) if part.changeover is not None]
    return found.kind, round(found.distance_nm, 9), round(found.distance_ahead_nm, 9)


@pytest.mark.parametrize(
    ("lengths_nm", "at_nm"),
    [
        ((10.0, 12.0), 11.0),
        ((10.6, 11.0), 10.6),  # the middle is 0.2 NM past the fix, which it is then taken to be
        ((10.0, 11.0), 10.0),  # 0.5 NM
        ((10.0, 11.04), 10.52),  # 0.52 NM
    ],
)
def test_without_a_word_of_the_chart_stations_are_changed_midway(lengths_nm: tuple[float, ...], at_nm: float) -> None:
    of = section(*lengths_nm)
    assert changeover(of) == (ChangeoverKind.MIDPOINT, at_nm, round(sum(lengths_nm) - at_nm, 9))
    assert [round(part.end_nm, 9) for part in whole(of)] == [at_nm, sum(lengths_nm)]


def test_at_one_bend_stations_are_changed_there() -> None:
    of = section(7.0, 15.0, bends=(1,))
    assert changeover(of) == (ChangeoverKind.TURN, 7, 15)
    assert held(whole(of)) == [(0, 7, "QAA"), (7, 22, "QBB")]


def test_between_two_bends_no_radial_leads() -> None:
    of = section(7.0, 8.0, 9.0, bends=(1, 2))
    assert changeover(of) == (ChangeoverKind.UNKNOWN, 12, 12)
    parts = whole(of)
    assert held(parts) == [(0, 7, "QAA"), (7, 15, None), (15, 24, "QBB")]
    assert [part.reason for part in parts][1] == "the way bends more than once and no changeover point is published"
    assert parts[0].changeover is not None
    assert {part.facing.bends for part in parts if part.facing is not None} == {2}


@pytest.mark.parametrize(
    ("stated", "published", "at_nm"),
    [
        ((ChangeoverAt(9.0, "QAA", "QBB"),), True, 9.0),
        ((ChangeoverAt(9.4, "QAA", "QBB"),), True, 9.4),
        ((ChangeoverAt(9.5, "QAA", "QBB"),), True, 10.0),  # half a mile before the fix, as the chart has whole miles
        ((ChangeoverAt(9.48, "QAA", "QBB"),), True, 9.48),
        ((ChangeoverAt(9.5, "QAA", "QBB"),), False, 9.5),
        ((ChangeoverAt(9.96, "QAA", "QBB"),), False, 10.0),  # which prints as 10.0
        ((ChangeoverAt(9.948, "QAA", "QBB"),), False, 9.948),
        ((ChangeoverAt(8.0, "QBB", "QAA"),), True, 14.0),
        ((ChangeoverAt(8.0, "QBB"),), True, 14.0),
        ((ChangeoverAt(8.0, "QBB", "QAA"), ChangeoverAt(13.0, "QAA", "QBB")), True, 13.0),  # the figure beside QAA
        ((ChangeoverAt(30.0, "QAA", "QBB"),), True, 22.0),
    ],
)
def test_stations_are_changed_where_the_chart_or_the_file_says(
    stated: tuple[ChangeoverAt, ...], published: bool, at_nm: float
) -> None:
    of = section(10.0, 12.0, changeovers=stated, published=published)
    kind = ChangeoverKind.PUBLISHED if published else ChangeoverKind.STATED
    assert changeover(of) == (kind, at_nm, round(22 - at_nm, 9))


def test_a_distance_longer_than_the_way_leaves_nothing_to_the_other_station() -> None:
    assert held(whole(section(10.0, 12.0, changeovers=(ChangeoverAt(30.0, "QBB", "QAA"),)))) == [(0, 22, "QBB")]


@pytest.mark.parametrize("other", [ChangeoverAt(9.0, "QAA", "QXX"), ChangeoverAt(9.0, "QXX", "QBB")])
def test_a_changeover_point_with_another_station_is_none_of_the_section(other: ChangeoverAt) -> None:
    assert changeover(section(10.0, 12.0, changeovers=(other,))) == (ChangeoverKind.MIDPOINT, 11, 11)


@pytest.mark.parametrize(
    ("source", "stated", "bends", "silent"),
    [
        (Source.NASR, (), (), False),
        (Source.FILE, (), (), False),
        (Source.CIFP, (), (), True),
        (Source.CIFP, (), (1,), True),
        (Source.CIFP, (ChangeoverAt(9.0, "QAA", "QBB"),), (), False),
    ],
)
def test_a_source_without_changeover_points_is_said_to_be_silent(
    source: Source, stated: tuple[ChangeoverAt, ...], bends: tuple[int, ...], silent: bool
) -> None:
    (found,) = [
        part.changeover
        for part in whole(section(10.0, 12.0, changeovers=stated, bends=bends, source=source))
        if part.changeover is not None
    ]
    assert found.not_in_source is silent


@pytest.mark.parametrize(
    ("at_nm", "expected"),
    [
        (6.0, [(0, 6, "QAA"), (6, 10, None), (10, 22, "QBB")]),
        (10.0, [(0, 10, "QAA"), (10, 22, "QBB")]),
        (14.0, [(0, 10, "QAA"), (10, 14, None), (14, 22, "QBB")]),
    ],
)
def test_between_the_changeover_point_and_a_bend_no_radial_leads(at_nm: float, expected: Parts) -> None:
    parts = whole(section(10.0, 12.0, bends=(1,), changeovers=(ChangeoverAt(at_nm, "QAA", "QBB"),)))
    assert held(parts) == expected
    # The part that ends at the changeover point carries it.
    assert [part.end_nm for part in parts if part.changeover is not None] == [at_nm]
    reasons = {part.reason for part in parts if part.guidance is None}
    assert reasons <= {"no station's radial leads along the part between the changeover point and the bend"}


@pytest.mark.parametrize(
    ("behind", "ahead", "bends", "expected"),
    [
        (QAA, None, (), [(0, 22, "QAA")]),
        (QAA, None, (1,), [(0, 10, "QAA"), (10, 22, None)]),
        (None, QBB, (), [(0, 22, "QBB")]),
        (None, QBB, (1,), [(0, 10, None), (10, 22, "QBB")]),
        (None, None, (), [(0, 22, None)]),
    ],
)
def test_one_station_alone_holds_as_far_as_the_way_is_straight(
    behind: Station | None, ahead: Station | None, bends: tuple[int, ...], expected: Parts
) -> None:
    parts = whole(section(10.0, 12.0, behind=behind, ahead=ahead, bends=bends))
    assert held(parts) == expected
    assert {part.reason for part in parts if part.guidance is None} <= {"no station's radial leads along this part"}
    assert {part.guidance.flag for part in parts if part.guidance} <= {Flag.FROM if behind else Flag.TO}
    assert all(part.facing is None and part.changeover is None for part in parts)


@pytest.mark.parametrize(
    ("behind", "ahead", "stated", "bends", "expected"),
    [
        (QAA, None, ChangeoverAt(8.0, "QAA", "QBB"), (), [(0, 8, "QAA"), (8, 22, None)]),
        (QAA, None, ChangeoverAt(14.0, "QBB", "QAA"), (), [(0, 8, "QAA"), (8, 22, None)]),
        (QAA, None, ChangeoverAt(9.6, "QAA", "QBB"), (), [(0, 10, "QAA"), (10, 22, None)]),  # at the fix
        (QAA, None, ChangeoverAt(14.0, "QAA", "QBB"), (1,), [(0, 10, "QAA"), (10, 22, None)]),  # to the bend
        (QAA, None, ChangeoverAt(30.0, "QAA", "QBB"), (), [(0, 22, "QAA")]),
        (None, QBB, ChangeoverAt(8.0, "QBB", "QAA"), (), [(0, 14, None), (14, 22, "QBB")]),
        (None, QBB, ChangeoverAt(14.0, "QAA", "QBB"), (), [(0, 14, None), (14, 22, "QBB")]),
        (None, QBB, ChangeoverAt(14.0, "QBB", "QAA"), (1,), [(0, 10, None), (10, 22, "QBB")]),
        (None, QBB, ChangeoverAt(30.0, "QBB", "QAA"), (), [(0, 22, "QBB")]),
        (None, QBB, ChangeoverAt(5.0, "F1", "QBB"), (), [(0, 15, None), (15, 22, "QBB")]),  # 5 NM of 12 from a beacon
        (QAA, None, ChangeoverAt(8.0, "QAA", "QXX"), (), [(0, 22, "QAA")]),  # another way
        (QAA, None, ChangeoverAt(8.0, "F1", "QXX"), (), [(0, 22, "QAA")]),
    ],
)
def test_with_the_other_station_out_a_published_changeover_point_still_ends_what_one_holds(
    behind: Station | None, ahead: Station | None, stated: ChangeoverAt, bends: tuple[int, ...], expected: Parts
) -> None:
    of = section(10.0, 12.0, behind=behind, ahead=ahead, changeovers=(stated,), bends=bends)
    parts = whole(of)
    assert held(parts) == expected
    if len(parts) > 1:
        (other,) = {stated.station, stated.ahead} - {"QAA" if behind else "QBB"}
        (reason,) = [part.reason for part in parts if part.guidance is None]
        assert reason == f"up to the published changeover point {other} would guide, which does not"


def test_parts_are_cut_to_a_stretch_and_counted_from_its_start() -> None:
    parts = whole(section(10.0, 12.0, changeovers=(ChangeoverAt(14.0, "QAA", "QBB"),)))
    assert held(cut(parts, 10.0, 22.0, 12.0)) == [(0, 4, "QAA"), (4, 12, "QBB")]
    assert held(cut(parts, 0.0, 10.0, 10.0)) == [(0, 10, "QAA")]
    # The changeover point goes with the part that still ends at it.
    assert [part.changeover is not None for part in cut(parts, 10.0, 22.0, 12.0)] == [True, False]
    assert [part.changeover is not None for part in cut(parts, 0.0, 10.0, 10.0)] == [False]
    assert held(cut(parts, 14.0, 22.0, 8.0)) == [(0, 8, "QBB")]


def placed(*places: tuple[float, float] | None) -> Section:
    """A section over places in minutes of latitude north and longitude east of 0/0."""
    here = tuple(None if place is None else Position(place[0] / 60, place[1] / 60) for place in places)
    behind, ahead = (
        Station(one.ident, one.kind, place, frequency_mhz=one.frequency_mhz, declination_deg=0.0)
        for one, place in ((QAA, here[0]), (QBB, here[-1]))
    )
    return Section(
        tuple(Point(PointKind.FIX, f"F{number}", place) for number, place in enumerate(here)),
        (None,) * (len(here) - 1),
        (10.0,) * (len(here) - 1),
        behind,
        ahead,
        True,
        lambda _name, _near: None,
    )


@pytest.mark.parametrize(("north", "bent"), [(1.0, False), (1.1, True), (-1.0, False), (-1.1, True)])
def test_the_way_bends_from_six_degrees(north: float, bent: bool) -> None:
    # East along the equator, then 1.0 or 1.1 minutes north of east in 10: 5.7 and 6.3 degrees by the tangent, less
    # 1 in 150 for the flattening.
    assert bend_indexes(placed((0, 0), (0, 10), (north, 20))) == ((1,) if bent else ())
    assert bend_indexes(placed((0, 0), None, (north, 20))) == ()


def test_a_great_circle_turns_along_the_way_and_does_not_bend() -> None:
    # From 60 N 0 E to 60 N 20 E; half way tan latitude = tan 60 / cos 10 (Napier), 60.378 N. The course turns from 081
    # to 090 on the first half alone, atan(sin 60 tan 10) = 8.7 degrees.
    assert bend_indexes(placed((3600, 0), (60.378 * 60, 600), (3600, 1200))) == ()


def test_a_radial_is_that_of_the_far_end_of_its_straight_part() -> None:
    # The fix between lies a mile off the line, as places written in minutes may: the far end tells the radial.
    straight = placed((0, 0), (0.5, 10), (0, 20), (0, 30))
    out, back = outbound_guidance(straight, 3), inbound_guidance(straight, 0)
    assert out is not None
    assert back is not None
    assert (out.flag, back.flag) == (Flag.FROM, Flag.TO)
    assert (out.radial.flown, back.radial.flown) == pytest.approx((90, 270))
    towards = inbound_guidance(placed((0, 0), (0, 10), (0.5, 20), (0, 30)), 0)
    assert towards is not None
    assert towards.radial.flown == pytest.approx(270)
    # As far as places are known from the station on, and not beyond the bend.
    near = outbound_guidance(placed((0, 0), (0, 10), None, (9, 30)), 3)
    assert near is not None
    assert near.radial.flown == pytest.approx(90)
    bent = placed((0, 0), (0, 10), (9, 20), (9, 30))
    first, last = outbound_guidance(bent, 1), inbound_guidance(bent, 2)
    assert first is not None
    assert last is not None
    assert (first.radial.flown, last.radial.flown) == pytest.approx((90, 270), abs=0.01)


def test_the_radials_are_those_charted_beside_the_two_stations() -> None:
    plain = section(7.0, 8.0, 9.0)
    first, middle, last = plain.segments
    assert first is not None
    assert last is not None
    charted = (changed(first, start_radial_deg=91.0, end_radial_deg=5.0), middle, changed(last, end_radial_deg=272.0))
    parts = whole(changed(plain, segments=charted))
    assert [part.guidance.radial.flown for part in parts if part.guidance] == [91, 272]


def test_a_changeover_point_between_two_bends_lies_where_nothing_guides() -> None:
    of = section(7.0, 8.0, 9.0, bends=(1, 2), changeovers=(ChangeoverAt(10.0, "QAA", "QBB"),))
    parts = whole(of)
    assert held(parts) == [(0, 7, "QAA"), (7, 10, None), (10, 15, None), (15, 24, "QBB")]
    assert [part.changeover is not None for part in parts] == [False, True, False, False]
    reason = "no station's radial leads along the part between the changeover point and the bend"
    assert [part.reason for part in parts] == [None, reason, reason, None]
    assert changeover(of) == (ChangeoverKind.PUBLISHED, 10, 14)


def test_a_radial_is_taken_to_the_farthest_point_of_the_straight_part() -> None:
    # F1, F2 and F3 lie 10, 20 and 30 NM north of QAA, each a little farther east: 0.1, 0.4 and 0.9 NM, whose radials
    # are 0.57, 1.15 and 1.72 degrees; a minute of longitude is 0.707 NM at N45.
    places = [Position(45 + north / 60, -39 + east / 0.707 / 60) for north, east in ((10, 0.1), (20, 0.4), (30, 0.9))]
    of = section(10.0, 10.0, 10.0, 10.0, behind=changed(QAA, position=Position(45.0, -39.0)))
    fixes = tuple(changed(point, position=place) for point, place in zip(of.points[1:4], places, strict=True))
    guidance = outbound_guidance(changed(of, points=(of.points[0], *fixes, of.points[4])), 4)
    assert guidance is not None
    assert guidance.radial.computed == pytest.approx(1.72, abs=0.02)
    unknown = (fixes[0], fixes[1], changed(fixes[2], position=None))
    guidance = outbound_guidance(changed(of, points=(of.points[0], *unknown, of.points[4])), 4)
    assert guidance is not None
    assert guidance.radial.computed == pytest.approx(1.15, abs=0.02)
