"""Lines between places: both ways alike, and those that were found beforehand gone by."""

from __future__ import annotations

import pytest
from geographiclib import geodesic

from navlog.nav.chart import Position
from navlog.nav.lines import Along, Geodesic, Lines, is_back, line_between
from navlog.nav.magnetism import MagneticField
from navlog.nav.problems import NavlogError

WEST, EAST = Position(45.1, -40.2), Position(46.3, -38.4)
PLANTED = Geodesic(12.0, Position(45.5, -39.0), Along(10.0, 11.0, 12.0))
"""No line between those two, so that it shows that it was gone by."""


def test_a_line_has_the_length_and_courses_of_the_geodesic_and_its_middle() -> None:
    # By GeographicLib.
    whole = geodesic.Geodesic.WGS84.Inverse(45.1, -40.2, 46.3, -38.4)
    half = geodesic.Geodesic.WGS84.Direct(45.1, -40.2, whole["azi1"], whole["s12"] / 2.0)
    found = line_between(WEST, EAST)
    assert found.distance_nm == pytest.approx(whole["s12"] / 1852.0, abs=1e-9)
    assert found.true_course.start_deg == pytest.approx(whole["azi1"], abs=1e-9)
    assert found.true_course.middle_deg == pytest.approx(half["azi2"], abs=1e-9)
    assert found.true_course.end_deg == pytest.approx(whole["azi2"], abs=1e-9)
    assert found.middle.latitude_deg == pytest.approx(half["lat2"], abs=1e-9)
    assert found.middle.longitude_deg == pytest.approx(half["lon2"], abs=1e-9)


def test_one_of_the_two_ways_is_the_reverse_of_the_other() -> None:
    assert is_back(EAST, WEST)
    assert not is_back(WEST, EAST)
    there, back = line_between(WEST, EAST), line_between(EAST, WEST)
    assert back.middle == there.middle
    assert back.true_course == there.true_course.reversed()
    assert back.true_course.start_deg == pytest.approx(there.true_course.end_deg + 180.0)


def test_a_line_found_beforehand_is_gone_by_both_ways() -> None:
    lines = Lines()
    lines.add_line(WEST, EAST, PLANTED)
    assert lines.between(WEST, EAST) == PLANTED
    assert lines.between(EAST, WEST) == Geodesic(12.0, PLANTED.middle, Along(192.0, 191.0, 190.0))
    assert lines.distance_nm(WEST, EAST) == lines.distance_nm(EAST, WEST) == 12.0


def test_a_line_that_was_not_found_beforehand_is_found_now() -> None:
    lines, beside = Lines(), Position(45.1, -40.2001)
    lines.add_line(WEST, EAST, PLANTED)
    assert lines.between(beside, EAST) == line_between(beside, EAST)
    assert lines.field_at(beside) is None
    with pytest.raises(NavlogError):
        lines.between(WEST, WEST)


def test_lines_take_no_more_room_than_they_have(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("navlog.nav.lines._ROOM", 4)
    lines, places = Lines(), [Position(40.0 + number, -40.0) for number in range(6)]
    for place in places:
        lines.add_field(place, MagneticField(2025, place.latitude_deg, 0.0, 0.0, 0.0))
        lines.add_line(place, EAST, PLANTED)
    assert [lines.field_at(place) is not None for place in places] == [False, False, True, True, True, True]
    assert [lines.between(place, EAST) == PLANTED for place in places] == [False, False, True, True, True, True]
