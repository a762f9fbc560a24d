"""Where stations are changed on a leg off airways, by the service volumes of FAA AIM 1-1-8.

At 5,000 ft above its station class T serves 25 NM, class L 40 NM. The leg is 60 NM long, its middle 30 NM along.
"""

from __future__ import annotations

import pytest

from navlog.nav.chart import Airport, Position, Segment, Station, StationKind
from navlog.nav.guidance import Flag, Guidance, StatedRadial
from navlog.nav.record import changed
from navlog.resolve.direct import guide_direct
from navlog.resolve.route import Changeover, ChangeoverKind, GuidedPart, Point, PointKind
from navlog.resolve.sections import Section


def vor(ident: str, service: str | None, elevation_ft: float | None = 0.0) -> Station:
    return Station(ident, StationKind.VOR, declination_deg=0.0, service=service, elevation_ft=elevation_ft)


def leg(behind: Station | None, ahead: Station | None, length_nm: float = 60.0) -> Section:
    ends = tuple(
        Point(PointKind.STATION, one.ident, None, one)
        if one is not None
        else Point(PointKind.AIRPORT, "XHAR", Position(46.0, -39.0), Airport("XHAR", Position(46.0, -39.0)))
        for one in (behind, ahead)
    )
    names = [one.name for one in ends]
    segment = Segment(names[0], names[1], length_nm, 90.0, 270.0)
    return Section(ends, (segment,), (length_nm,), behind, ahead, False, lambda _name, _near: None)


def parts(behind: Station, ahead: Station, altitude_ft: float = 5_000.0) -> list[GuidedPart]:
    """The parts, of which how the ends face each other is left out."""
    return [changed(one, facing=None) for one in guide_direct(leg(behind, ahead), altitude_ft)]


def change(kind: str, behind: Station, ahead: Station, at_nm: float) -> Changeover:
    return Changeover(ChangeoverKind[kind], behind, ahead, at_nm, 60.0 - at_nm)


T, L = "T", "L"


@pytest.mark.parametrize(
    ("behind", "ahead", "kind", "at_nm"),
    [
        (L, L, "MIDPOINT", 30.0),  # either is heard from 20 to 40 NM along
        (L, T, "RECEPTION", 35.0),  # the one ahead from 35 NM on
        (T, L, "RECEPTION", 25.0),  # the one behind up to 25 NM
    ],
)
def test_stations_are_changed_as_near_to_the_middle_as_both_are_heard(
    behind: str, ahead: str, kind: str, at_nm: float
) -> None:
    qaa, qbb = vor("QAA", behind), vor("QBB", ahead)
    out = Guidance(qaa, StatedRadial(90.0), Flag.FROM)
    back = Guidance(qbb, StatedRadial(270.0), Flag.TO)
    assert parts(qaa, qbb) == [
        GuidedPart(0.0, at_nm, out, changeover=change(kind, qaa, qbb, at_nm)),
        GuidedPart(at_nm, 60.0, back),
    ]


def test_between_two_volumes_nothing_guides() -> None:
    qaa, qbb = vor("QAA", T), vor("QBB", T)
    assert parts(qaa, qbb) == [
        GuidedPart(0.0, 25.0, Guidance(qaa, StatedRadial(90.0), Flag.FROM)),
        GuidedPart(25.0, 35.0, None, "outside the service volumes of both stations"),
        GuidedPart(35.0, 60.0, Guidance(qbb, StatedRadial(270.0), Flag.TO)),
    ]


@pytest.mark.parametrize(
    ("behind", "ahead", "unclassed"),
    [
        (vor("QAA", None), vor("QBB", T), ("QAA",)),
        (vor("QAA", T), vor("QBB", None), ("QBB",)),
        (vor("QAA", T, None), vor("QBB", None), ("QAA", "QBB")),
    ],
)
def test_a_station_without_a_class_or_an_elevation_is_named_and_changed_midway(
    behind: Station, ahead: Station, unclassed: tuple[str, ...]
) -> None:
    first, second = parts(behind, ahead)
    assert first.changeover == changed(change("MIDPOINT", behind, ahead, 30.0), unclassed=unclassed)
    assert second.changeover is None


@pytest.mark.parametrize(("length_nm", "charted_deg"), [(1.0, None), (1.1, 90.0)])
def test_an_airport_at_its_station_has_no_set_course(length_nm: float, charted_deg: float | None) -> None:
    qaa = vor("QAA", L)
    (out,) = guide_direct(leg(qaa, None, length_nm), 5_000.0)
    assert out == GuidedPart(0.0, length_nm, Guidance(qaa, StatedRadial(charted_deg), Flag.FROM))
    (back,) = guide_direct(leg(None, qaa, length_nm), 5_000.0)
    charted_deg = None if charted_deg is None else 270.0
    assert back == GuidedPart(0.0, length_nm, Guidance(qaa, StatedRadial(charted_deg), Flag.TO))
