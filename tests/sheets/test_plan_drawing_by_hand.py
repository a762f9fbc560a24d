"""The plan measured by hand, on the equator: 60 minutes of longitude are 60.11 NM there, 30 of latitude 29.85 (WGS84).

A degree of the equator is 111.3195 km; a degree of latitude beside it 110.574 km; a mile 1.852 km.
"""

from __future__ import annotations

from itertools import pairwise
from math import atan2, degrees, radians, tan
from pathlib import Path

import pytest
from helpers.drawn import reports

from navlog.flightlog.records import Log
from navlog.nav.chart import Position
from navlog.nav.record import changed
from navlog.nav.surroundings import Line, Surroundings
from navlog.nav.terrain import Spot, Terrain
from navlog.resolve.ground import Ground
from navlog.sheets.drawing import Area, Circle, Drawing, Label, Mark, Rectangle, Stroke
from navlog.sheets.label_room import LabelRoom
from navlog.sheets.plan_drawing import _Chart, _norths, _scale, plan_drawing

XY = tuple[float, float]
BASE = (
    "station QAA 113.00 N00 00.00 E000 00.00 decl 0E\nstation QBB 114.00 N00 00.00 E001 00.00 decl 0E\n"
    "airport XCC N00 30.00 E001 00.00 elev 1000ft\n"
    "direct QAA 090 - 270 QBB 60.1nm min 3000\ndirect QBB 360 - XCC 29.9nm min 2500\n"
    "date 2026-07-18\nwind calm\ntas 120kt\naltitude 4500\n"
)
WIDTH, HEIGHT = 400.0, 300.0
# Margins of 46 points leave 308 for 60.11 NM: 5.124 points a mile. With 29.85 NM of height the foot is at 226.5.
NM = 308.0 / 60.108


def log(text: str = "route QAA QBB\n") -> Log:
    (report,) = reports(BASE + text)
    return report.log


def plan(text: str = "route QAA QBB\n", around: Surroundings | None = None) -> Drawing:
    found = plan_drawing(log(text), WIDTH, HEIGHT, around)
    assert found is not None
    return found


def labels(drawing: Drawing) -> dict[str, Label]:
    return {mark.text: mark for mark in drawing.marks if isinstance(mark, Label)}


def strokes(drawing: Drawing, weight: float) -> list[Stroke]:
    return [mark for mark in drawing.marks if isinstance(mark, Stroke) and mark.weight == weight]


def near(found: XY, expected: XY) -> bool:
    return found == pytest.approx(expected, abs=0.1)


def middle(mark: Mark) -> XY:
    assert isinstance(mark, Area)
    xs, ys = [x for x, _ in mark.points], [y for _, y in mark.points]
    return ((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0)


def test_every_place_lies_where_its_latitude_and_longitude_put_it() -> None:
    drawing = plan("route QAA QBB XCC\n")
    south = 150.0 + 29.853 / 2.0 * NM
    shapes = [middle(mark) for mark in drawing.marks if isinstance(mark, Area)]
    for place in ((46.0, south), (354.0, south), (354.0, 300.0 - south)):
        assert sum(near(one, place) for one in shapes) == 1
    (cop,) = (mark for mark in drawing.marks if isinstance(mark, Circle))
    assert near(cop.center, (200.0, south))
    flown = [one.points for one in strokes(drawing, 1.8)]
    assert [
        near(points[0], place)
        for points, place in zip(flown, [(46.0, south), (200.0, south), (354.0, south)], strict=True)
    ]
    assert near(flown[-1][-1], (354.0, 300.0 - south))


def test_a_name_stands_nearer_to_its_own_place_than_to_any_other() -> None:
    drawing = plan("route QAA QBB XCC\n")
    south = 150.0 + 29.853 / 2.0 * NM
    spots = {
        "QAA 113.00": (46.0, south),
        "QBB 114.00": (354.0, south),
        "XCC": (354.0, 300.0 - south),
        "COP 30.1 NM QAA": (200.0, south),
    }
    found = labels(drawing)
    for name, own in spots.items():
        away = {other: found[name].box.distance(spot) for other, spot in spots.items()}
        assert min(away, key=lambda other: away[other]) == name
        assert found[name].box.distance(own) < 15.0
        assert found[name].bold == (name != "COP 30.1 NM QAA")


def test_a_radial_is_told_beside_its_line_and_within_50_points_of_its_rose() -> None:
    found = labels(plan())
    for text, station, sign in (("R-090", 46.0, 1.0), ("R-270", 354.0, -1.0)):
        x, y = found[text].at
        assert 30.0 < sign * (x - station) <= 80.0
        assert abs(y - 150.0) < 15.0


def test_a_leg_is_told_once_with_way_length_and_minimum_beside_it() -> None:
    label = labels(plan())["DCT 60.1 min 3000"]
    assert label.box.left > 46.0
    assert label.box.right < 354.0
    assert 0.0 < label.box.distance((label.at[0], 150.0)) < 10.0


def test_two_places_are_a_plan_and_one_is_none() -> None:
    near_by = "airport XDD N00 00.00 E000 30.00\ndirect XCC - XDD 42nm min 2500\nroute XCC XDD\n"
    drawing = plan(near_by)
    assert {"XCC", "XDD"} <= set(labels(drawing))
    (report,) = reports(BASE.replace("QBB 114.00 N00 00.00 E001 00.00", "QBB 114.00") + "route QAA QBB\n")
    assert plan_drawing(report.log, WIDTH, HEIGHT) is None


def test_the_edges_of_a_band_open_by_the_error_of_the_guidance() -> None:
    """4.5 degrees along a radial (FAA Order JO 7400.2, 20-3-3), from either station to where stations change."""
    points = [at for one in plan().marks if isinstance(one, Stroke) and one.dash == (1.0, 2.5) for at in one.points]
    for x, y in points:
        assert abs(y - 150.0) == pytest.approx(min(x - 46.0, 354.0 - x) * tan(radians(4.5)), abs=0.1)
    assert max(y for _, y in points) == pytest.approx(150.0 + 154.0 * tan(radians(4.5)), abs=0.1)
    assert min(y for _, y in points) < 142.0


def test_the_scale_is_the_longest_round_one_within_a_third_of_the_width() -> None:
    # A third of 400 points is 133.3, 26 NM: 20 NM are 102.5 points.
    drawing = plan()
    (bar,) = (one for one in strokes(drawing, 1.2) if len(one.points) == 4)
    (left, foot), (right, _) = bar.points[1:3]
    assert (left, right, foot) == pytest.approx((392.0 - 20.0 * NM, 392.0, 292.0), abs=0.1)
    assert labels(drawing)["20 NM"].at[0] == pytest.approx((left + right) / 2.0)


def spots(*minutes: XY) -> list[Position]:
    return [Position(north / 60.0, east / 60.0) for north, east in minutes]


def test_nothing_is_written_over_scale_and_norths() -> None:
    flown = log("route QAA QBB XCC\n")
    chart, room = _Chart(spots((0, 0), (0, 60), (30, 60)), WIDTH, HEIGHT), LabelRoom(WIDTH, HEIGHT)
    _norths(flown, chart, room)
    _scale(chart, room)
    drawn = [point for mark in room.marks if isinstance(mark, Stroke) for point in mark.points]
    drawn += [
        point
        for label in room.labels
        for point in ((label.box.left, label.box.top), (label.box.right, label.box.bottom))
    ]
    assert len(drawn) > 12
    for x, y in drawn:
        for anchor in ("start", "middle", "end"):
            assert not room.place([Label((x, y + 3.0), "1", anchor=anchor)]), (x, y)
    assert room.place([Label((200.0, 150.0), "1")])


@pytest.mark.parametrize(
    ("places", "corner"),
    [
        # In points from the top left: XAA, QAA and QBB; the norths' middle is 40 by 22 points from its corner.
        # (46, 130): 107 from the middle at the upper left, 148 from that at the lower left; the others are right.
        (((4, 0), (20, 60), (-20, 60)), (0.0, 256.0)),
        (((-4, 0), (20, 60), (-20, 60)), (0.0, 0.0)),
        (((20, 0), (-20, 0), (-20, 60)), (320.0, 0.0)),
    ],
)
def test_the_norths_stand_in_the_emptiest_corner(places: tuple[XY, ...], corner: XY) -> None:
    names = ("XAA", "XBB", "XDD")
    text = "".join(
        f"airport {name} {'N' if north >= 0 else 'S'}00 {abs(north):05.2f} E{int(east) // 60:03d} {east % 60:05.2f}\n"
        for name, (north, east) in zip(names, places, strict=True)
    )
    (report,) = reports(
        text + "direct XAA - XBB 80nm min 2000\ndirect XBB - XDD 80nm min 2000\n"
        "date 2026-07-18\nwind calm\ntas 120kt\naltitude 4500\nroute XAA XBB over XDD\n"
    )
    drawing = plan_drawing(report.log, WIDTH, HEIGHT)
    assert drawing is not None
    true = next(one for one in strokes(drawing, 1.2) if len(one.points) == 3)
    assert true.points[0] == (corner[0] + 22.0, corner[1] + 42.0)
    assert true.points[1] == (corner[0] + 22.0, corner[1] + 4.0)


def test_magnetic_north_leans_by_the_variation_that_is_told() -> None:
    flown = log()
    true, magnetic = (one.points for one in strokes(plan(), 1.2) if len(one.points) == 3)
    leans = degrees(atan2(magnetic[1][0] - magnetic[0][0], magnetic[0][1] - magnetic[1][1]))
    variation_deg = flown.legs[0].variation_deg
    assert variation_deg is not None
    assert leans == pytest.approx(variation_deg)
    assert f"mag {abs(round(variation_deg))}{'W' if variation_deg < 0 else 'E'}" in labels(plan())
    assert true[0] == magnetic[0]
    assert "mag" not in " ".join(labels(plan("variation 3E\nroute QAA QBB\n")))


def test_neighbours_are_shown_where_they_lie_inside_the_frame() -> None:
    stations = {
        "QIN": Position(20.0 / 60.0, 0.5),  # 102 points over the middle
        "QRR": Position(20.0 / 60.0, 1.2),  # to the right of the frame
        "QUU": Position(40.0 / 60.0, 0.5),  # above it
        "QEE": Position(20.0 / 60.0, 1.0 + 42.0 / NM / 60.108),  # four points from its right edge
        "QFF": Position(-25.5 / 60.0, 0.5),  # 19 points from its foot
        "QAA": Position(0.0, 0.0),  # flown, and told already
    }
    shown = plan(around=Surroundings(tuple(stations.items()), ()))
    told = [mark.text for mark in shown.marks if isinstance(mark, Label) and mark.grey]
    assert sorted(told) == ["QFF", "QIN"]
    squares = [one.points for one in strokes(shown, 0.8)]
    assert len(squares) == 2
    assert near(
        ((squares[0][0][0] + squares[0][2][0]) / 2.0, (squares[0][0][1] + squares[0][2][1]) / 2.0),
        (200.0, 150.0 - 19.9 * NM),
    )


@pytest.mark.parametrize("turned", [False, True], ids=["across", "up"])
def test_an_airway_beside_the_flight_is_named_on_its_longest_piece(turned: bool) -> None:
    """Pieces of 4, 20 and 8 minutes, 50 to 90 points above the way, or right of its middle and below each other."""
    corners = [(18.0, 22.0), (18.0, 26.0), (18.0, 46.0), (12.0, 46.0)]
    if turned:
        corners = [(-6.0, 40.0), (-10.0, 40.0), (-26.0, 40.0), (-26.0, 46.0)]
    line = Line("V9", tuple(spots(*corners)))
    shown = plan(around=Surroundings((), (line,)))
    at = labels(shown)["V9"].at
    first, last = ((200.0 + (east - 30.0) * NM, 150.0 - north * NM) for north, east in corners[1:3])
    (left, right), (top, foot) = (sorted(ends) for ends in zip(first, last, strict=True))
    assert Rectangle(left, top, right, foot).distance(at) < 16.0
    assert abs(at[0] - (first[0] + last[0]) / 2.0) + abs(at[1] - (first[1] + last[1]) / 2.0) < 40.0
    assert (
        len(
            {
                ends
                for one in shown.marks
                if isinstance(one, Stroke) and one.grey == 0.75
                for ends in pairwise(one.points)
            }
        )
        >= 3
    )


def test_an_airway_too_short_to_be_named_is_not_drawn() -> None:
    # Five minutes are 25.7 points, less than the 30 that a name takes.
    shown = plan(around=Surroundings((), (Line("V9", tuple(spots((18.0, 25.0), (18.0, 30.0)))),)))
    assert shown.marks == plan().marks


def over(minimum_ft: float | None) -> Drawing:
    """The flight over a hill of 1,220 ft in the middle of its way, 5 NM to its right."""
    flown = log()
    hill = Spot(Position(-5.0 / 60.0, 0.5), 1220.0, None, 30.0, 5.0, 5.0, "N00E000.hgt")
    ground = Ground(Terrain(Path("tiles"), (), (), ()), (), hill, None, True, 1000.0, False, minimum_ft, (), ())
    stretch = changed(flown.route.stretches[0], ground=ground)
    legs = tuple(changed(leg, stretch=stretch) for leg in flown.legs)
    found = plan_drawing(changed(flown, legs=legs), WIDTH, HEIGHT)
    assert found is not None
    return found


def test_a_peak_is_drawn_at_its_place_with_its_height() -> None:
    drawing = over(2300.0)
    (peak,) = (one.points for one in strokes(drawing, 1.0) if len(one.points) == 3)
    (left, top, right), foot = (peak[0], peak[1], peak[2]), peak[0][1]
    # The frame is then higher than wide only by the hill: the way and the hill stand either side of the middle.
    (course, *_) = (one.points for one in strokes(drawing, 1.8))
    assert (left[0] + right[0]) / 2.0 == pytest.approx(top[0])
    assert near(top, (200.0, course[0][1] + 4.976 * NM - 4.0))
    assert right[0] - left[0] == 8.0
    assert foot == right[1]
    label = labels(drawing)["1220"]
    assert label.box.distance((top[0], top[1] + 4.0)) < 15.0


@pytest.mark.parametrize(("minimum_ft", "word"), [(2300.0, "highest"), (None, "highest known")])
def test_the_highest_is_the_highest_known_where_ground_is_missing(minimum_ft: float | None, word: str) -> None:
    assert f"peaks: {word} within 4 NM or the guidance's error" in over(minimum_ft).caption.split("; ")
