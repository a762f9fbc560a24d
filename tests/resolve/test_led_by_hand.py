"""A hop that no station of its section guides, led by the radial that the make-ups of its fixes name.

QAA, FIXA, FIXB and QBB stand on one meridian at N45, 10, 20 and 10 NM apart; QCC 20 NM before QAA, 30 NM from FIXA and
50 from FIXB; QDD 30 NM beyond QBB, 60 NM from FIXA and 40 from FIXB. All declinations are 0: radials are true, 360
northward, 180 southward. AIM 1-1-8: a fix is checked in flight on the radial that its make-up names.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, radians

import pytest

from navlog.nav.chart import (
    Bearing,
    BothWays,
    ChangeoverAt,
    Fix,
    Position,
    Segment,
    Service,
    Station,
    StationKind,
    UnusableRadial,
)
from navlog.nav.guidance import Flag, Guidance, StatedRadial
from navlog.nav.record import changed
from navlog.resolve.route import Changeover, ChangeoverKind, GuidedPart, Point, PointKind
from navlog.resolve.sections import NO_RADIAL, Section
from navlog.resolve.told import by_hop, guide


def place(north_nm: float, east_nm: float = 0.0) -> Position:
    latitude_deg = 45.0 + north_nm / 60.0
    return Position(latitude_deg, -39.0 + east_nm / 60.0 / cos(radians(latitude_deg)))


def vor(ident: str, north_nm: float, east_nm: float = 0.0) -> Station:
    return Station(ident, StationKind.VOR, place(north_nm, east_nm), declination_deg=0.0)


QAA, QBB, QCC, QDD = vor("QAA", 0), vor("QBB", 40), vor("QCC", -20), vor("QDD", 70)
MEA = BothWays(4_000.0, None)
"""An MEA on the way flown."""


def bearings(text: str) -> tuple[Bearing, ...]:
    """The make-up `QCC 360, QDD 180`; `-` for a distance alone."""
    words = [one.split() for one in text.split(",") if one]
    return tuple(Bearing(ident, None if deg == "-" else float(deg), 12.0, "VOR") for ident, deg in words)


def section(
    at_fixa: str = "",
    at_fixb: str = "",
    *remarks: UnusableRadial,
    behind: Station | None = None,
    ahead: Station | None = None,
    stations: tuple[Station, ...] = (QAA, QBB, QCC, QDD),
    published: bool = True,
    **fields: object,
) -> Section:
    """QAA to QBB, neither guiding but where given; the hop from FIXA to FIXB as the chart has it."""
    names = ("QAA", "FIXA", "FIXB", "QBB")
    hops = [Segment(one, other) for one, other in pairwise(names)]
    hops[1] = changed(hops[1], unusable=remarks, **fields)  # type: ignore[arg-type]
    fixes = [
        Point(PointKind.FIX, ident, place(at_nm), Fix(ident, place(at_nm), bearings(makeup), published=False))
        for ident, at_nm, makeup in (("FIXA", 10.0, at_fixa), ("FIXB", 30.0, at_fixb))
    ]
    ends = [Point(PointKind.STATION, one.ident, one.position, one) for one in (QAA, QBB)]
    known = {one.ident: one for one in stations}
    return Section(
        (ends[0], *fixes, ends[1]), tuple(hops), (10.0, 20.0, 10.0), behind, ahead, published,
        lambda name, near: known.get(name) if near is not None else None, (5_000.0,) * 3,
    )  # fmt: skip


def told(parts: tuple[GuidedPart, ...]) -> str:
    """Who leads along the one part of a hop, or why nobody does."""
    (part,) = parts
    if part.guidance is None:
        return part.reason or ""
    assert (part.reason, part.facing, part.guidance.radial.charted) == (None, None, None)
    flown_deg = part.guidance.radial.flown
    assert flown_deg is not None
    return f"{part.guidance.station.ident} {part.guidance.flag.name} {flown_deg:.1f}"


def middle(of: Section) -> str:
    """What leads from FIXA to FIXB."""
    return told(guide(of)[1])


FROM_QCC, TO_QDD = "QCC FROM 0.0", "QDD TO 180.0"
COURSES = (0.0, 180.0)
SILENT = "a published remark says that the radial of QCC is unusable {}"


@pytest.mark.parametrize(
    ("of", "expected"),
    [
        (section(), NO_RADIAL),
        # The end farther from its station is FIXB for QCC, behind, and FIXA for QDD, ahead.
        (section("", "QCC 360"), FROM_QCC),
        (section("QDD 180", ""), TO_QDD),
        (section("QCC 360", ""), NO_RADIAL),
        (section("", "QDD 180"), NO_RADIAL),
        (section("", "QCC 360", published=False), NO_RADIAL),
        (section("", "QCC -"), NO_RADIAL),
        (section("", "QZZ 360"), NO_RADIAL),
        (section("", "QZZ 360,QCC 360"), FROM_QCC),
        (section("QDD 180", "QZZ 360"), TO_QDD),
        (section("", "QDD 180,QCC 360"), FROM_QCC),
        (section("", "QCC 360,QCE 360", stations=(QCC, changed(QCC, ident="QCE"))), FROM_QCC),
        (section("", "QCE 360,QCC 360", stations=(QCC, changed(QCC, ident="QCE", declination_deg=None))), FROM_QCC),
        # Of two the nearer, 50 NM of QCC against 60 of QDD; but first the one that both ends name.
        (section("QDD 180", "QCC 360"), FROM_QCC),
        (section("QDD 180", "QCC 360,QDD 180"), TO_QDD),
        (section("QDD 180,QCC 360", "QCC 360,QDD 180"), FROM_QCC),
        # Named at the nearer end alone: where the published course is that radial, nearly, and an MEA assures it.
        (section("QCC 360", "", published_courses_deg=COURSES, mea=MEA), FROM_QCC),
        (section("QCC 360", "", published_courses_deg=(1.0, 180.0), mea=MEA), FROM_QCC),
        (section("QCC 360", "", published_courses_deg=(1.1, 180.0), mea=MEA), NO_RADIAL),
        (section("QCC 360", "", published_courses_deg=(None, 0.0), mea=MEA), NO_RADIAL),
        (section("", "QDD 180", published_courses_deg=(0.0, 181.0), mea=MEA), TO_QDD),
        (section("", "QDD 180", published_courses_deg=(180.0, 0.0), mea=MEA), NO_RADIAL),
        (section("QCC 360", "", published_courses_deg=COURSES), NO_RADIAL),
        (section("QCC 360", "", published_courses_deg=COURSES, mea=BothWays(None, 4_000.0)), NO_RADIAL),
        (section("QCC 360", "", published_courses_deg=COURSES, mea=MEA, service=Service.SIGNAL_GAP), FROM_QCC),
        (section("QCC 360", "", published_courses_deg=COURSES, mea=MEA, service=Service.GNSS_ONLY), NO_RADIAL),
        (section("QCC 360", "", UnusableRadial("QXX"), published_courses_deg=COURSES, mea=MEA), NO_RADIAL),
        (section("QCC -", "", published_courses_deg=COURSES, mea=MEA), NO_RADIAL),
        # What a remark takes away is told, or another leads.
        (section("", "QCC 360", UnusableRadial("QCC")), SILENT.format("here")),
        (section("", "QCC 360", UnusableRadial("QCC", beyond_nm=40.0)), SILENT.format("beyond 40 NM")),
        (section("", "QCC 360", UnusableRadial("QXX"), UnusableRadial("QCC", beyond_nm=40.0)),
         SILENT.format("beyond 40 NM")),
        (section("", "QCC 360", UnusableRadial("QCC", below_ft=5_001.0)), SILENT.format("below 5001 ft")),
        (section("", "QCC 360", UnusableRadial("QCC", below_ft=5_000.0)), FROM_QCC),
        (section("QDD 180", "QCC 360", UnusableRadial("QCC")), TO_QDD),
        (section("QDD 180", "QCC 360", UnusableRadial("QXX"), UnusableRadial("QCC")), TO_QDD),
        (section("QDD 180", "QCC 360", UnusableRadial("QDD")), FROM_QCC),
        (section("", "", UnusableRadial("QCC")), NO_RADIAL),
    ],
)  # fmt: skip
def test_a_radial_leads_that_a_make_up_names_at_its_far_end(of: Section, expected: str) -> None:
    assert middle(of) == expected


# From a station x NM beside the way the radial turns between FIXA, 30 NM on, and FIXB, 50 NM on, by atan(x/30) less
# atan(x/50): for 1.3 NM 2.481 less 1.489 is 0.99 degrees, for 1.35 NM 2.577 less 1.547 is 1.03.
@pytest.mark.parametrize(
    ("east_nm", "at_fixa", "expected"),
    [
        (1.3, "", "QCC FROM 358.5"),
        (1.35, "", NO_RADIAL),
        # Where both make-ups and the published course name one radial, a position beside it takes nothing away.
        (1.35, "QCC 358", "QCC FROM 358.5"),
        (1.35, "QCC 357", "QCC FROM 358.5"),
        (1.35, "QCC 356.9", NO_RADIAL),
    ],
)
def test_a_radial_leads_that_is_steady_along_the_hop(east_nm: float, at_fixa: str, expected: str) -> None:
    off = vor("QCC", -20.0, east_nm)
    of = section(at_fixa, "QCC 358", stations=(off,), published_courses_deg=(358.0, 178.0), mea=MEA)
    assert middle(of) == expected


def test_without_the_published_course_two_make_ups_are_not_enough() -> None:
    of = section("QCC 358", "QCC 358", stations=(vor("QCC", -20.0, 1.35),), mea=MEA)
    assert middle(of) == NO_RADIAL


def test_the_station_at_the_hops_own_end_leads_along_it() -> None:
    first = guide(section("QAA 360", ""))[0]
    assert told(first) == "QAA FROM 0.0"
    last = guide(section("", "QBB 180"))[2]
    assert told(last) == "QBB TO 180.0"


def test_without_a_position_no_flag_is_told() -> None:
    assert middle(section("", "QCC 360", stations=(changed(QCC, position=None),))) == NO_RADIAL
    assert middle(section("", "QCC 360", stations=(changed(QCC, declination_deg=None),))) == NO_RADIAL


def test_a_published_changeover_point_keeps_its_station_to_its_own_side() -> None:
    one_sided = "up to the published changeover point QBB would guide, which does not"
    changeovers = (ChangeoverAt(10.0, "QAA", "QBB"),)
    # QAA guides to FIXA, and its radial leads on; beyond the point another may.
    assert middle(section("", "QAA 360", behind=QAA, changeovers=changeovers)) == one_sided
    assert middle(section("", "QAA 360,QCC 360", behind=QAA, changeovers=changeovers)) == FROM_QCC
    assert (
        middle(section("QCC 360", "QCC 360", UnusableRadial("QCC"), behind=QAA, changeovers=changeovers)) == one_sided
    )


@pytest.mark.parametrize(
    ("reason", "makeups", "expected"),
    [
        # What an MEA assures of a station that stays ended at its changeover point; its far end's make-up goes on.
        ("QBB is out of service", ("QAA 360", ""), "QBB is out of service"),
        ("QBB is out of service", ("", "QAA 360"), "QAA FROM 0.0"),
        ("QBB is out of service", ("QCC 360", ""), FROM_QCC),
        (NO_RADIAL, ("QAA 360", ""), "QAA FROM 0.0"),
    ],
)
def test_beyond_its_changeover_point_a_station_that_stays_leads_by_the_far_make_up_alone(
    reason: str, makeups: tuple[str, str], expected: str
) -> None:
    of = section(*makeups, behind=QAA, published_courses_deg=COURSES, mea=MEA)
    assert told(by_hop(of, (GuidedPart(0.0, 40.0, None, reason),))[1]) == expected


def test_what_a_hop_has_no_record_of_stays() -> None:
    of = section("", "QCC 360")
    kept = changed(of, segments=(None, None, None))
    assert [told(hop) for hop in guide(kept)] == [NO_RADIAL] * 3


def test_where_every_part_is_led_a_changeover_point_that_nobody_knows_is_not_told() -> None:
    unknown = Changeover(ChangeoverKind.UNKNOWN, QAA, QBB, 20.0, 20.0)
    radial = Guidance(QAA, StatedRadial(0.0), Flag.FROM)
    of = section(behind=QAA)
    for known, kept in ((unknown, None), (changed(unknown, kind=ChangeoverKind.TURN),) * 2):
        hops = by_hop(of, (GuidedPart(0.0, 40.0, radial, changeover=known),))
        assert [[part.changeover for part in hop] for hop in hops] == [[None], [None], [kept]]
    # Beside a part that nobody guides it explains why.
    first, *_, last = by_hop(of, (GuidedPart(0.0, 10.0, radial, changeover=unknown), GuidedPart(10.0, 40.0, None)))
    assert (first[0].changeover, last[0].changeover) == (unknown, None)


def test_another_stations_radial_needs_a_position_to_tell_its_flag() -> None:
    of = section(stations=(changed(QCC, position=None),), along=Bearing("QCC", 1.0))
    reason = "no position tells whether QCC lies ahead or behind"
    assert guide(of)[1] == (GuidedPart(0.0, 20.0, None, reason),)
    silent = section(stations=(), along=Bearing("QCC", 1.0))
    reason = "the radial of QCC leads along this part, and it does not guide"
    assert guide(silent)[1] == (GuidedPart(0.0, 20.0, None, reason),)
    unread = section(doubtful=True)
    reason = "a published remark on the guidance here is not understood"
    assert guide(unread)[1] == (GuidedPart(0.0, 20.0, None, reason),)
