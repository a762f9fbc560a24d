"""What is said where a course or a station is missing: dead reckoning with heading and time."""

from __future__ import annotations

from geographiclib.geodesic import Geodesic
from helpers.judged import found


def test_dead_reckoning_says_heading_and_time() -> None:
    # In calm air the heading is the course at the middle, 13 degrees more by a variation of 13 W.
    line = Geodesic.WGS84.InverseLine(46 + 14.5 / 60, -(39 + 7.2 / 60), 45 + 41 / 60, -(39 + 20 / 60))
    course_deg = line.Position(line.s13 / 2)["azi2"] % 360
    distance_nm = line.s13 / 1852
    (told,) = found("no-guidance", "route XHAR XOLD", "-direct QHB", "-direct QEL", "wind calm", "variation 13W")
    expected = f"heading {course_deg + 13:03.0f} magnetic for {distance_nm / 110 * 60:.0f} min"
    assert f"dead reckoning for {distance_nm:.1f} NM of XHAR to XOLD, {expected}: " in told


def test_without_a_wind_there_is_no_heading_to_hold() -> None:
    (told,) = found("no-guidance", "route XHAR XOLD", "-direct QHB", "-direct QEL", "-wind")
    assert "XHAR to XOLD: " in told
    assert "heading" not in told


def test_a_course_that_cannot_be_told_says_what_is_missing() -> None:
    told = found(
        "course-unknown",
        "station QEL 110.20 N45 44.10 W039 33.00 class L dme elev 410ft",
        "airway V801 QHB 212 - QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB",
    )
    said = "warning: no course to set for QEL: its declination is not given and no radial is charted"
    assert told
    assert set(told) == {said}
