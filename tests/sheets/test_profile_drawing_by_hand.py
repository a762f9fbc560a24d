"""The profile measured by hand: 90 NM on 342 points of width, and heights from sea level at 154 points up to 59.

The frame is 400 by 200 points: 40 left for heights, 18 right; above the path 7 and four rows of 13, below it two of
them, the bar of 15 and 5 points. The charted 60.1 and 29.9 NM are flown: they fit the 60.11 along the equator and the
29.85 north of WGS84.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest
from helpers.drawn import reports

from navlog.flightlog.records import Leg
from navlog.nav.chart import Position
from navlog.nav.clearance import Abeam
from navlog.nav.record import changed
from navlog.nav.terrain import Spot, Terrain
from navlog.resolve.ground import Ground
from navlog.rules.report import Report
from navlog.sheets.drawing import Area, Drawing, Label, Stroke
from navlog.sheets.profile_drawing import _Frame, profile_drawing

XY = tuple[float, float]
BASE = (
    "station QAA 113.00 N00 00.00 E000 00.00 decl 0E\nstation QBB 114.00 N00 00.00 E001 00.00 decl 0E\n"
    "airport XCC N00 30.00 E001 00.00 elev 1000ft\n"
    "direct QAA 090 - 270 QBB 60.1nm min 3000\ndirect QBB 360 - XCC 29.9nm min 2500\n"
    "date 2026-07-18\nwind calm\ntas 120kt\nroute QAA QBB XCC\nhold QBB 10min\n"
)
FIRST_NM, TOTAL_NM = 60.1, 90.0


def flight(text: str = "altitude 4500\n") -> Report:
    (found,) = reports(BASE + text)
    return found


def profile(of: Report, height: float = 200.0) -> Drawing:
    found = profile_drawing(of, 400.0, height)
    assert found is not None
    return found


def x(along_nm: float) -> float:
    return 40.0 + 342.0 * along_nm / TOTAL_NM


def y(altitude_ft: float, top_ft: float = 5000.0) -> float:
    return 154.0 - 95.0 * altitude_ft / top_ft


def labels(drawing: Drawing) -> dict[str, Label]:
    return {mark.text: mark for mark in drawing.marks if isinstance(mark, Label)}


def near(found: XY, expected: XY) -> bool:
    return found == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize(("height", "rows"), [(170.0, 4), (169.9, 2), (120.0, 2), (119.9, 1)])
def test_a_higher_frame_has_more_rows_of_names(height: float, rows: int) -> None:
    frame = _Frame(90.0, 5000.0, 400.0, height)
    assert frame.rows == rows
    assert frame.top == 7.0 + 13.0 * rows
    assert frame.foot == height - 20.0 - 13.0 * min(2, rows)


def test_without_30_points_for_the_heights_there_is_no_profile() -> None:
    # One row: 20 points above the path, 33 below it.
    assert profile_drawing(flight(), 400.0, 83.0) is not None
    assert profile_drawing(flight(), 400.0, 82.9) is None


@pytest.mark.parametrize(
    ("altitude", "top_ft", "step_ft"),
    # A tenth more than the greatest height, up to a whole thousand; six steps at most.
    [("4500", 5000.0, 1000), ("4600", 6000.0, 1000), ("9500", 11000.0, 2000), ("24500", 27000.0, 5000),
     ("31000", 35000.0, 10000)],
)  # fmt: skip
def test_the_scale_of_heights_and_the_path_on_it(altitude: str, top_ft: float, step_ft: int) -> None:
    drawing = profile(flight(f"altitude {altitude}\n"))
    told = {label.text: label.at for label in labels(drawing).values() if label.anchor == "end" and label.at[0] == 36.0}
    assert told.pop("ft") == (36.0, 49.0)
    assert list(told) == [str(feet) for feet in range(0, int(top_ft) + 1, step_ft)]
    for feet, (_, baseline) in told.items():
        assert baseline == pytest.approx(y(float(feet), top_ft) + 3.0)
    (path,) = (one.points for one in drawing.marks if isinstance(one, Stroke) and one.weight == 2.2)
    assert {round(at, 6) for _, at in path} == {round(y(float(altitude), top_ft), 6)}
    assert [at for at, _ in path] == pytest.approx([x(0.0), x(FIRST_NM / 2.0), x(FIRST_NM), x(TOTAL_NM)], abs=0.05)


def test_a_flight_below_the_sea_has_a_scale_too() -> None:
    whole = flight()
    legs = tuple(
        changed(
            leg,
            start_altitude_ft=-900.0,
            end_altitude_ft=-900.0,
            stretch=changed(leg.stretch, limits=changed(leg.stretch.limits, minimum_ft=None)),
        )
        for leg in whole.log.legs
    )
    drawing = profile(changed(whole, log=changed(whole.log, legs=legs)))
    assert labels(drawing)["1000"].at == (36.0, 59.0 + 3.0)
    assert labels(drawing)["500"].at == (36.0, y(500.0, 1000.0) + 3.0)


def test_the_minimum_of_each_way_is_a_thick_step_with_its_height_below() -> None:
    drawing = profile(flight())
    thick = [one.points for one in drawing.marks if isinstance(one, Stroke) and one.weight == 5.0]
    expected = [(x(0.0), x(FIRST_NM), y(3000.0)), (x(FIRST_NM), x(TOTAL_NM), y(2500.0))]
    for (left, right), (start, end, level), text in zip(thick, expected, ("min 3000", "min 2500"), strict=True):
        assert near(left, (start, level))
        assert near(right, (end, level))
        label = labels(drawing)[text]
        assert label.at[1] == pytest.approx(level + 14.0)
        assert label.at[0] == pytest.approx((start + end) / 2.0, abs=0.05)


def test_a_moca_is_dashed_under_its_minimum_and_named() -> None:
    text = BASE.replace("direct QAA", "airway V9 QAA").replace("60.1nm min 3000", "60.1nm mea 3000 moca 2100")
    (whole,) = reports(text.replace("route QAA QBB", "route QAA V9 QBB") + "altitude 4500\n")
    drawing = profile(whole)
    (dashes,) = (one.points for one in drawing.marks if isinstance(one, Stroke) and one.dash == (5.0, 3.0))
    assert near(dashes[0], (x(0.0), y(2100.0)))
    assert near(dashes[1], (x(FIRST_NM), y(2100.0)))
    assert {"MEA 3000", "MOCA 2100", "min 2500"} <= set(labels(drawing))
    assert "dashes: MOCA" in drawing.caption
    assert "dashes: MOCA" not in profile(flight()).caption


def test_places_are_named_over_the_path_with_elevation_and_distance() -> None:
    drawing = profile(flight())
    told = [mark for mark in drawing.marks if isinstance(mark, Label) and mark.at[1] < 180.0]
    places = (("QAA", "0.0", 0.0), ("COP", "30.1", 30.05), ("QBB", "60.1", 60.1), ("XCC 1000", "90.0", 90.0))
    for name, distance, along_nm in places:
        over, under = (label for label in told if label.text in (name, distance))
        over, under = sorted((over, under), key=lambda one: one.at[1])
        assert (over.text, under.text) == (name, distance)
        assert over.at[1] == 55.0
        assert under.at[1] == 154.0 + 13.0
        assert abs(under.at[0] - x(along_nm)) <= 6.05
        assert over.box.left - 4.0 <= x(along_nm) <= over.box.right + 4.0
    (bar,) = (one.points for one in drawing.marks if isinstance(one, Area) and one.weight == 0.0)
    assert near(bar[0], (x(TOTAL_NM) - 2.5, y(0.0)))
    assert near(bar[2], (x(TOTAL_NM) + 2.5, y(1000.0)))


def test_distances_that_would_touch_stand_in_a_second_row() -> None:
    # A mile has 3.8 points and a distance of four letters 17.5: fixes five miles apart leave 19.
    names = [f"FIX{letter}" for letter in "ABCDEFGHIJKL"]
    fixes = [f"fix {name} N00 00.00 E000 {4 + 5 * number:05.2f}" for number, name in enumerate(names)]
    ends = zip(("QAA", *names), (*names, "QBB"), ("4", *["5"] * 11, "1"), strict=True)
    ways = [f"direct {start} - {end} {length}nm min 3000" for start, end, length in ends]
    text = BASE.replace("direct QAA 090 - 270 QBB 60.1nm min 3000\n", "").replace("QAA QBB XCC", "QAA {} QBB XCC")
    (whole,) = reports("\n".join((*fixes, *ways, text.format(" ".join(names)), "altitude 4500\n")))
    told = [mark for mark in profile(whole).marks if isinstance(mark, Label) and "." in mark.text]
    assert {mark.at[1] for mark in told if mark.at[1] > 154.0} == {154.0 + 13.0, 154.0 + 26.0}


def test_the_bar_of_reception_names_the_station_of_each_half() -> None:
    drawing = profile(flight())
    bars = [one for one in drawing.marks if isinstance(one, Area) and one.weight == 1.0]
    # 60.1 NM are halved at 30.05; QBB guides to the end.
    change = x(30.05)
    spans = [end for bar in bars for end in (bar.points[0][0], bar.points[1][0])]
    assert spans == pytest.approx([40.0, change, change, 382.0])
    names = [label for label in drawing.marks if isinstance(label, Label) and label.at[1] > 190.0]
    assert [one.text for one in names] == ["QAA", "QBB"]
    assert [one.at[0] for one in names] == pytest.approx([(40.0 + change) / 2.0, (change + 382.0) / 2.0])


@dataclass(frozen=True)
class Hills:
    """What lies abeam of a way, and its obstacle."""

    abeam: tuple[Abeam, ...] = ()
    obstacle: Spot | None = None


def spot(along_nm: float, height_ft: float, source: str = "N00E000.hgt") -> Spot:
    return Spot(Position(0.1, along_nm / 60.0), height_ft, None, along_nm, 1.0, 1.0, source)


def over(first: Hills = Hills(), second: Hills = Hills()) -> Report:
    """The flight over hills of its two ways, put there by hand."""
    whole = flight()

    def with_hills(leg: Leg) -> Leg:
        hills = first if leg.stretch.end.name == "QBB" else second
        ground = None
        if hills.obstacle is not None:
            nowhere = Terrain(Path("tiles"), (), (), ())
            ground = Ground(nowhere, (), None, hills.obstacle, True, 1000.0, False, 2600.0, (), ())
        return changed(leg, stretch=changed(leg.stretch, abeam=hills.abeam, ground=ground))

    legs = tuple(leg if leg.stays else with_hills(leg) for leg in whole.log.legs)
    return changed(whole, log=changed(whole.log, legs=legs))


def peaks(drawing: Drawing) -> list[XY]:
    """The feet of the symbols of high places."""
    return [
        (one.points[1][0], one.points[0][1])
        for one in drawing.marks
        if isinstance(one, Stroke) and one.weight == 1.2 and len(one.points) == 3
    ]


def silhouettes(drawing: Drawing) -> list[tuple[XY, ...]]:
    return [one.points for one in drawing.marks if isinstance(one, Area) and one.weight == 0.6]


HILL = Abeam(10.0, 20.0, spot(15.0, 800.0), spot(17.0, 1220.0), 2300.0, False)


def test_ground_stands_where_it_is_flown_over_behind_a_hold_too() -> None:
    drawing = profile(over(second=Hills((HILL,))))
    (shape,) = silhouettes(drawing)
    left, right = x(FIRST_NM + 10.0), x(FIRST_NM + 20.0)
    corners = ((left, 154.0), (left, y(800.0)), (right, y(800.0)), (right, 154.0))
    assert all(near(found, corner) for found, corner in zip(shape, corners, strict=True))
    (dots,) = (one.points for one in drawing.marks if isinstance(one, Stroke) and one.weight == 0.8)
    assert near(dots[0], (left, y(2300.0)))
    assert near(dots[-1], (right, y(2300.0)))
    (peak,) = peaks(drawing)
    assert near(peak, (x(FIRST_NM + 17.0), y(1220.0)))
    assert labels(drawing)["1220"].box.distance((peak[0], peak[1] - 1.0)) < 15.0
    assert "dots: minimum by terrain" in drawing.caption


def test_a_hill_at_the_changeover_stands_once_at_its_own_mile() -> None:
    # 32 NM out, two beyond the middle, in a piece from 25 to 35 that the changeover cuts.
    hill = Abeam(25.0, 35.0, spot(29.0, 800.0), spot(32.0, 1220.0), 2300.0, False)
    drawing = profile(over(Hills((hill,))))
    (peak,) = peaks(drawing)
    assert near(peak, (x(32.0), y(1220.0)))
    (shape,) = silhouettes(drawing)
    assert near(shape[0], (x(25.0), 154.0))
    assert near(shape[-1], (x(35.0), 154.0))


@pytest.mark.parametrize(
    ("hills", "expected"),
    [
        pytest.param(
            (Hills(obstacle=spot(40.0, 1500.0, "tower 1")), Hills()), [(40.0, 1500.0)], id="beyond the changeover"
        ),
        pytest.param(
            (Hills(), Hills(obstacle=spot(12.0, 1400.0, "tower 2"))), [(72.1, 1400.0)], id="of the second way"
        ),
        pytest.param(
            (Hills(obstacle=spot(40.0, 1500.0, "tower 1")), Hills(obstacle=spot(12.0, 1400.0, "tower 2"))),
            [(40.0, 1500.0)],
            id="the highest of two",
        ),
        pytest.param(
            (Hills(obstacle=spot(40.0, 1500.0, "tower 1")), Hills((HILL,))),
            [(FIRST_NM + 17.0, 1220.0), (40.0, 1500.0)],
            id="beside the highest ground abeam",
        ),
    ],
)
def test_the_highest_obstacle_stands_at_its_mile(hills: tuple[Hills, Hills], expected: list[XY]) -> None:
    drawing = profile(over(*hills))
    found = peaks(drawing)
    assert len(found) == len(expected)
    for at, (along_nm, height_ft) in zip(found, expected, strict=True):
        assert near(at, (x(along_nm), y(height_ft)))
    assert "1500 tower" in labels(drawing) or "1400 tower" in labels(drawing)


def test_what_is_highest_abeam_and_an_obstacle_stands_once() -> None:
    tower = spot(17.0, 1220.0, "tower 29-012345")
    drawing = profile(over(second=Hills((Abeam(10.0, 20.0, None, tower, 2300.0, False),), tower)))
    assert len(peaks(drawing)) == 1
    assert "1220 tower" in labels(drawing)
    assert silhouettes(drawing) == []


def test_pieces_that_adjoin_are_one_outline_and_a_gap_parts_them() -> None:
    heights = ((5.0, 10.0, 300.0), (10.0, 15.0, 600.0), (16.0, 20.0, 300.0))
    pieces = [Abeam(start, end, spot(start, height_ft), None, None, False) for start, end, height_ft in heights]
    unknown = Abeam(20.0, 25.0, None, None, None, None)
    shapes = silhouettes(profile(over(Hills((*pieces, unknown)))))
    steps = [
        [(5.0, 0.0), (5.0, 300.0), (10.0, 300.0), (10.0, 600.0), (15.0, 600.0), (15.0, 0.0)],
        [(16.0, 0.0), (16.0, 300.0), (20.0, 300.0), (20.0, 0.0)],
    ]
    assert len(shapes) == 2
    for shape, corners in zip(shapes, steps, strict=True):
        assert all(near(at, (x(nm), y(feet))) for at, (nm, feet) in zip(shape, corners, strict=True))
