"""The mountainous areas of 14 CFR 95, subpart B, at published places.

Positions are those of FAA NASR, effective 2026-05-14. What each lies in is read off the text of the law (95.15,
95.19) or its map (95.13; AIM 5-6, figure of the designated mountainous areas).
"""

from __future__ import annotations

import csv
import os
from collections import Counter
from pathlib import Path

import pytest

from navlog.nav.chart import Position
from navlog.nav.mountains import _NEW_ENGLAND, _WEST, _corner, clearance_ft, mountainous


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "place", "expected"),
    [
        (39.8617, -104.6732, "Denver", True),
        (40.7884, -111.9778, "Salt Lake City", True),
        (33.9425, -118.4081, "Los Angeles, on the coast", True),
        (37.6188, -122.3754, "San Francisco", True),
        (35.4362, -82.5418, "Asheville", True),
        (44.2708, -71.3033, "Mount Washington", True),
        (44.3853, -74.2062, "Saranac Lake, in the Adirondacks", True),
        (41.3388, -75.7234, "Wilkes-Barre", True),
        (21.3178, -157.9203, "Honolulu", True),
        (37.6499, -97.4331, "Wichita", False),
        (33.6367, -84.4279, "Atlanta, south-east of the line by Rome", False),
        (42.7483, -73.8017, "Albany, in the exception of the Hudson", False),
        (44.4719, -73.1533, "Burlington, in the exception of Lake Champlain", False),
        (43.1112, -76.1063, "Syracuse", False),
        (42.3629, -71.0064, "Boston", False),
        (36.7762, -119.7181, "Fresno, in the exception of the Central Valley", False),
        (38.5125, -121.4935, "Sacramento, in the same", False),
        (47.4499, -122.3118, "Seattle, in the exception of Puget Sound", False),
        (25.7954, -80.2901, "Miami", False),
        (29.5, -94.0, "the coastal waters of Texas", False),
        (61.1743, -149.9982, "Anchorage: the text of 95.17 could not be had", None),
        (18.4394, -66.0018, "San Juan: the text of 95.21 could not be had", None),
        (48.5220, -123.0244, "Friday Harbor, past the corner that could not be read", None),
        (43.6772, -79.6306, "Toronto", None),
        (45.4706, -73.7408, "Montreal", None),
        (31.6361, -106.4286, "Ciudad Juarez", None),
        (46.0, -39.0, "the ocean", None),
    ],
)
def test_a_place_lies_where_the_law_puts_it(
    latitude_deg: float, longitude_deg: float, place: str, expected: bool | None
) -> None:
    assert mountainous(Position(latitude_deg, longitude_deg)) is expected, place


def test_the_clearance_is_the_lower_only_where_the_law_has_decided_so() -> None:
    """14 CFR 91.177(a)(2): 2,000 ft in mountainous areas, 1,000 in others."""
    assert [clearance_ft(answer) for answer in (False, True, None)] == [1000.0, 2000.0, 2000.0]


def test_the_corners_are_those_of_the_law() -> None:
    """The eastern line of the western area, 14 CFR 95.15(a), and the corner that 73 FR 63885 names of 95.13."""
    line = [(49 + 0 / 60, 108 + 0 / 60), (46 + 45 / 60, 104 + 0 / 60), (44 + 6 / 60, 103 + 15 / 60)]
    line += [(43 + 0 / 60, 103 + 15 / 60), (41 + 52 / 60, 103 + 39 / 60), (35 + 11 / 60, 103 + 39 / 60)]
    line += [(33 + 17 / 60, 104 + 27 / 60), (32 + 17 / 60, 104 + 14 / 60), (29 + 48 / 60, 102 + 0 / 60)]
    assert [_corner(text) for text in _WEST.split()][:9] == [(north, -west) for north, west in line]
    assert (42 + 13 / 60, -(72 + 44 / 60)) in [_corner(text) for text in _NEW_ENGLAND.split()]


@pytest.mark.parametrize(
    ("inside", "outside"),
    [
        pytest.param((41.0, -103.66), (41.0, -103.64), id="west of 103 39 W between 41 52 and 35 11 N"),
        pytest.param((43.5, -103.26), (43.5, -103.24), id="west of 103 15 W between 44 06 and 43 00 N"),
        pytest.param((47.5, -121.99), (47.5, -122.01), id="east of 122 00 W between 48 08 and 47 12 N"),
        pytest.param((41.5, -79.99), (41.5, -80.01), id="east of 80 00 W between 42 05 and 40 50 N"),
        pytest.param((47.0, -123.29), (47.0, -123.27), id="west of 123 17 W between 47 15 and 46 35 N"),
    ],
)
def test_a_line_of_the_law_parts_its_two_sides(inside: tuple[float, float], outside: tuple[float, float]) -> None:
    assert mountainous(Position(*inside)) is True
    assert mountainous(Position(*outside)) is False


def test_no_published_airport_of_another_country_is_decided_and_few_of_the_contiguous_states_are_left_open() -> None:
    folder = os.environ.get("NAVLOG_SHARED_DATA")
    if folder is None:
        pytest.skip("NAVLOG_SHARED_DATA does not say where the shared data are")
    answers: Counter[tuple[str, bool | None]] = Counter()
    with (Path(folder) / "nasr-2026-05-14" / "APT_BASE.csv").open(encoding="latin-1", newline="") as file:
        for row in csv.DictReader(file):
            here = Position(float(row["LAT_DECIMAL"]), float(row["LONG_DECIMAL"]))
            abroad = row["COUNTRY_CODE"] != "US"
            beyond = row["STATE_CODE"] in ("AK", "PR", "VI", "GU", "MP", "AS", "")
            answers["abroad" if abroad else "beyond" if beyond else "states", mountainous(here)] += 1
    assert answers["abroad", True] == answers["abroad", False] == 0
    assert answers["beyond", False] == 0
    assert answers["states", None] < 0.006 * (answers["states", True] + answers["states", False])
