"""Obstacles in notices, read by themselves: places, tops and areas, each figure by hand.

The wordings are those of FAA Order JO 7930.2 and of item E of the ICAO form; the places are invented.
"""

from __future__ import annotations

import pytest

from navlog.nav.chart import Position
from navlog.nav.notices import Disc, ObstacleTold, OtherMatter
from navlog.request.notice_matters import other_matter
from navlog.request.notice_obstacles import read_obstacle, read_position

CIRCLE = Disc(Position(45.5, -39.5), 5.0)


@pytest.mark.parametrize(
    ("south_north", "west_east", "latitude_deg", "longitude_deg"),
    [
        ("671709N", "0390800W", 67.0 + 17.0 / 60.0 + 9.0 / 3600.0, -39.0 - 8.0 / 60.0),
        # Four digits and a fraction are parts of a minute, six and one parts of a second.
        ("3943.5N", "03908.25W", 39.725, -39.1375),
        ("394334.5S", "0390815.9E", -39.0 - 43.0 / 60.0 - 34.5 / 3600.0, 39.0 + 8.0 / 60.0 + 15.9 / 3600.0),
        # The last minute and second before the next degree.
        ("3959N", "0395959W", 39.0 + 59.0 / 60.0, -39.0 - 59.0 / 60.0 - 59.0 / 3600.0),
        ("395959.9N", "03959.5W", 39.0 + 59.0 / 60.0 + 59.9 / 3600.0, -39.0 - 59.5 / 60.0),
        # The pole and the other side of the world, east or west, are places.
        ("900000N", "1800000E", 90.0, -180.0),
        ("9000S", "1793059W", -90.0, -179.0 - 30.0 / 60.0 - 59.0 / 3600.0),
    ],
)
def test_degrees_minutes_and_seconds_are_a_place(
    south_north: str, west_east: str, latitude_deg: float, longitude_deg: float
) -> None:
    place = read_position(south_north, west_east)
    assert place is not None
    assert (place.latitude_deg, place.longitude_deg) == pytest.approx((latitude_deg, longitude_deg), abs=1e-9)


@pytest.mark.parametrize(
    ("south_north", "west_east"),
    [
        ("3960N", "03908W"),
        ("396000N", "0390800W"),
        ("393060N", "0390800W"),
        ("393060.5N", "0390800W"),
        ("394334N", "0396000W"),
        ("900001N", "0390800W"),
        ("394334N", "1800001E"),
        ("394334N", "1803000W"),
    ],
)
def test_sixty_minutes_or_seconds_and_what_is_beyond_the_pole_are_no_place(south_north: str, west_east: str) -> None:
    assert read_position(south_north, west_east) is None


def places(*told: ObstacleTold) -> list[tuple[float, float, float | None, float]]:
    return [(one.position.latitude_deg, one.position.longitude_deg, one.top_ft, one.radius_nm) for one in told]


@pytest.mark.parametrize(
    ("text", "latitude_deg", "longitude_deg", "top_ft", "radius_nm"),
    [
        ("CRANE 453000N0393000W 1200FT AMSL", 45.5, -39.5, 1200.0, 0.0),
        # 1,348.1 ft with a comma for the thousands; without it 348.
        ("TOWER 453000N 0393000W 1,348FT (315FT AGL)", 45.5, -39.5, 1348.0, 0.0),
        # With signs between degrees, minutes and seconds, and the letters first.
        ("CRANE PSN 45-30-00N 039-30-00W ELEV 1200FT", 45.5, -39.5, 1200.0, 0.0),
        ("CRANE PSN 45-30N 039-30W ELEV 1200FT", 45.5, -39.5, 1200.0, 0.0),
        ("CRANE PSN 45-30-30.6N 039-30-30.6W ELEV 1200FT", 45.508_5, -39.508_5, 1200.0, 0.0),
        ("MAST N453000 W0393000 ELEV 1200FT", 45.5, -39.5, 1200.0, 0.0),
        # 400 m are 1,312.34 ft (a foot is 0.3048 m), 1.852 km a mile, 3,038.06 ft half of one.
        ("MAST 453000N0393000W ELEV 400M WI 1.852KM OF IT", 45.5, -39.5, 1312.335_958, 1.0),
        ("CRANES WI 926M FROM 453000N0393000W MAX ELEV 1200FT", 45.5, -39.5, 1200.0, 0.5),
        ("CRANES 3NM RADIUS 453000N0393000W MAX ELEV 1200FT", 45.5, -39.5, 1200.0, 3.0),
        ("CRANES 453000N0393000W RADIUS OF 3038.06FT MAX ELEV 1200FT", 45.5, -39.5, 1200.0, 0.5),
        # Of two heights the higher, of two radii the wider.
        ("CRANE 453000N0393000W ELEV 1200FT JIB ELEV 1500FT", 45.5, -39.5, 1500.0, 0.0),
        ("CRANE 453000N0393000W ELEV 1500FT BOOM ELEV 1200FT", 45.5, -39.5, 1500.0, 0.0),
        ("CRANES WI 2NM OF 453000N0393000W RADIUS 3NM ELEV 1200FT", 45.5, -39.5, 1200.0, 3.0),
    ],
)
def test_an_obstacle_is_read_with_its_place_its_top_and_how_far_it_reaches(
    text: str, latitude_deg: float, longitude_deg: float, top_ft: float, radius_nm: float
) -> None:
    taken = read_obstacle(text)
    assert taken.unread is None
    (told,) = [one for one in taken.effects if isinstance(one, ObstacleTold)]
    assert places(told) == [pytest.approx((latitude_deg, longitude_deg, top_ft, radius_nm), abs=1e-5)]


@pytest.mark.parametrize(
    ("text", "unread", "near"),
    [
        ("CRANE NEAR THE FIELD ELEV 1200FT", "where the obstacle stands is not read", []),
        ("CRANE 453000N0393000W HGT 150FT", "how high the obstacle is above the sea is not read", [(45.5, 0.0)]),
        # 60,000 ft are the most of a route file.
        ("CRANE 453000N0393000W ELEV 99999FT", "how high the obstacle is above the sea is not read", [(45.5, 0.0)]),
        # The position that is none is the one told, first or second.
        ("CRANE 456100N0393000W ELEV 1200FT", "its position 456100N0393000W is none", []),
        (
            "CRANES 453000N0393000W 456100N0393000W ELEV 1200FT",
            "its position 456100N0393000W is none",
            [(45.5, 0.0)],
        ),
        (
            "CRANES 457100N0393000W 453000N0393000W 456100N0393000W ELEV 1200FT",
            "its position 457100N0393000W is none",
            [(45.5, 0.0)],
        ),
        (
            "CRANES CIRCLE AROUND 453000N0393000W ELEV 1200FT",
            "how wide the obstacle's area is, is not read",
            [(45.5, 0.0)],
        ),
        # Two degrees of latitude either side of the middle are 120 NM, over 100.
        (
            "CRANES 453000N0393000W 493000N0393000W ELEV 1200FT",
            "its places are too far apart for one area",
            [(45.5, 0.0), (49.5, 0.0)],
        ),
        # It stands elsewhere, no farther from the place than is told.
        (
            "CRANE 12NM EAST OF 453000N0393000W ELEV 1200FT",
            "where the obstacle stands from its position is not read",
            [(45.5, 12.0)],
        ),
        # One of the two alone is told by a distance from its place: neither is sure.
        (
            "CRANES 453000N0393000W AND 2NM EAST OF 454800N0393000W ELEV 1200FT",
            "where the obstacle stands from its position is not read",
            [(45.5, 2.0), (45.8, 2.0)],
        ),
        (
            "CRANE 2.5 NM NNW FROM PSN 453000N0393000W ELEV 1200FT",
            "where the obstacle stands from its position is not read",
            [(45.5, 2.5)],
        ),
        # The distance behind the place, and a bearing and distance before it.
        (
            "CRANE 453000N0393000W OFFSET 2NM EAST ELEV 1200FT",
            "where the obstacle stands from its position is not read",
            [(45.5, 2.0)],
        ),
        (
            "CRANE 090 DEG 2NM 453000N0393000W ELEV 1200FT",
            "where the obstacle stands from its position is not read",
            [(45.5, 2.0)],
        ),
    ],
)
def test_what_is_not_read_of_an_obstacle_says_so_and_keeps_its_places(
    text: str, unread: str, near: list[tuple[float, float]]
) -> None:
    for circle in (None, CIRCLE):
        taken = read_obstacle(text, circle)
        if circle is not None and "stands" in unread:
            continue
        assert taken.unread == unread
        told = [one for one in taken.effects if isinstance(one, ObstacleTold)]
        # Where all is read but the height, its place is sure, and the circle around it tells nothing.
        around = [(45.5, 5.0)] if circle is not None and "high" not in unread else []
        assert [(one.position.latitude_deg, one.radius_nm) for one in told] == [*near, *around]
        assert [one.top_ft for one in told] == [None] * len(told)


@pytest.mark.parametrize(
    ("text", "top_ft"),
    [("CRANE ELEV 300FT JIB ELEV 500FT", 500.0), ("CRANE ELEV 500FT JIB ELEV 300FT", 500.0), ("CRANE HGT 90FT", None)],
)
def test_without_a_place_of_its_own_it_stands_in_the_circle_under_the_highest_top(
    text: str, top_ft: float | None
) -> None:
    taken = read_obstacle(text, CIRCLE)
    assert places(*[one for one in taken.effects if isinstance(one, ObstacleTold)]) == [(45.5, -39.5, top_ft, 5.0)]
    assert (taken.unread is None) is (top_ft is not None)


def test_places_with_one_height_bound_an_area_about_the_middle_of_all() -> None:
    # From 45 00 to 45 30 north the middle is 45 15, and each end 15' off: 15.0 NM of latitude; one of 45 10 changes
    # nothing, nor does 0.5 NM around each but its half mile.
    text = "WIND TURBINES 450000N0393000W 453000N0393000W 451000N0393000W RADIUS 0.5NM MAX ELEV 1200FT"
    (told,) = [one for one in read_obstacle(text).effects if isinstance(one, ObstacleTold)]
    assert places(told) == [pytest.approx((45.25, -39.5, 1200.0, 15.5), abs=0.02)]
    # East and west: 10' of longitude are 10 x cos 45.5 = 7.01 NM.
    text = "WIND TURBINES MAX ELEV 900FT 453000N0392000W 453000N0394000W 453000N0392500W ELEV 1200FT"
    (told,) = [one for one in read_obstacle(text).effects if isinstance(one, ObstacleTold)]
    assert places(told) == [pytest.approx((45.5, -39.5, 1200.0, 7.01), abs=0.03)]


@pytest.mark.parametrize(
    ("text", "unread", "latitude_deg", "radius_nm"),
    [
        # From 45 30 to 46 30 north: half a degree of latitude is 30.0 NM, over 25 and no more than 100.
        ("CRANES 453000N0393000W 463000N0393000W ELEV 900FT", "its places are too far apart for one area", 46.0, 30.0),
        # From 45 00 to 45 10 are 10 NM, and 5 either side of each end.
        (
            "TURBINES 5NM EITHER SIDE OF A LINE FM 450000N0393000W TO 451000N0393000W ELEV 900FT",
            "how wide the obstacles' strip is, is not read",
            45.0 + 5.0 / 60.0,
            10.0,
        ),
        (
            "TURBINES 3NM WIDE CORRIDOR FM 450000N0393000W TO 451000N0393000W ELEV 900FT",
            "how wide the obstacles' strip is, is not read",
            45.0 + 5.0 / 60.0,
            8.0,
        ),
    ],
)
def test_an_area_that_no_circle_is_keeps_the_places_within_which_it_may_lie(
    text: str, unread: str, latitude_deg: float, radius_nm: float
) -> None:
    taken = read_obstacle(text)
    told = [one for one in taken.effects if isinstance(one, ObstacleTold)]
    widest = max(told, key=lambda one: one.radius_nm)
    assert (taken.unread, {one.top_ft for one in told}) == (unread, {None})
    assert [widest.position.latitude_deg, widest.radius_nm] == pytest.approx([latitude_deg, radius_nm], abs=0.05)


def test_an_area_across_longitude_180_has_its_middle_there() -> None:
    # From E179 50 to W179 50 on the equator are 20 minutes, 20.0 NM of 1 minute a mile; half are 10.0.
    text = "WIND FARM 000000N1795000E - 000000N1795000W ELEV 5900FT AMSL"
    (told,) = [one for one in read_obstacle(text).effects if isinstance(one, ObstacleTold)]
    assert abs(told.position.longitude_deg) == pytest.approx(180.0)
    assert told.top_ft == 5900.0
    assert told.radius_nm == pytest.approx(10.0, abs=0.05)


@pytest.mark.parametrize(
    "text",
    [
        # The place is the obstacle's own, and what follows or stands before tells it again.
        "TOWER LGT (ASR 1234567) 453000N0393000W (5NM N QEL) ELEV 1200FT",
        "CRANE 500M N OF RWY 27 THR PSN 453000N0393000W ELEV 1200FT",
        "MAST PSN 453000N0393000W ELEV 1200FT, 5NM N OF ZZZ VOR",
    ],
)
def test_a_distance_that_tells_the_place_again_moves_it_nowhere(text: str) -> None:
    taken = read_obstacle(text)
    assert taken.unread is None
    (told,) = [one for one in taken.effects if isinstance(one, ObstacleTold)]
    assert places(told) == [pytest.approx((45.5, -39.5, 1200.0, 0.0), abs=1e-5)]


def test_places_each_with_a_height_of_its_own_stand_by_themselves() -> None:
    text = "CRANES 453000N0393000W ELEV 900FT JIB ELEV 950FT 454000N0393000W ELEV 1200FT"
    told = [one for one in read_obstacle(text).effects if isinstance(one, ObstacleTold)]
    assert [(one.position.latitude_deg, one.top_ft) for one in told] == [
        (45.5, 950.0),
        (pytest.approx(45.0 + 40.0 / 60.0), 1200.0),
    ]


@pytest.mark.parametrize(
    ("text", "stands"),
    [
        ("RWY 09/27 WIP. CRANE 453000N0393000W ELEV 1200FT", True),
        # An area of the air has a radius, and what it names of a tower is where to ask.
        ("AIRSPACE WI AN AREA 3NM RADIUS OF 453000N0393000W SFC-1200FT MSL. CTC TOWER", False),
        ("AIRSPACE WI AN AREA 3NM RA DIUS OF 453000N0393000W SFC-1200FT MSL. CTC TOWER", False),
        # No word of an obstacle: a place and a height alone are none.
        ("RWY 09/27 THR DISPLACED TO 453000N0393000W 1200FT MSL", False),
        ("RWY 09/27 WIP. CRANE HGT 90FT", False),
        ("RWY 09/27 WIP. CRANE 453000N0393000W HGT 90FT", False),
    ],
)
def test_an_obstacle_among_other_words_stands_where_its_place_and_top_are_read(text: str, *, stands: bool) -> None:
    taken = other_matter("a runway", text)
    assert taken.unread is None
    (told,) = taken.effects
    assert isinstance(told, ObstacleTold if stands else OtherMatter)


def test_words_that_may_close_an_aerodrome_are_for_the_pilot_to_read() -> None:
    taken = other_matter("a runway", "ALL RWYS CLSD")
    assert (taken.effects, taken.unread) == ((), "it may close an aerodrome")


# A minute of latitude is a mile: 46 and 52 of them between two places are 23 and 26 from the middle.
@pytest.mark.parametrize(("second", "one_area"), [("461600N", True), ("462200N", False)])
def test_places_of_one_area_are_within_25_nm_of_its_middle(second: str, one_area: bool) -> None:
    taken = read_obstacle(f"CRANES 453000N0393000W {second}0393000W ELEV 1200FT")
    assert taken.unread == (None if one_area else "its places are too far apart for one area")
