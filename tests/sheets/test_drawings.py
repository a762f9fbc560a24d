"""The two drawings: labels keep apart, stay inside and say what the flight says; only black, white and greys."""

from __future__ import annotations

from itertools import combinations, pairwise
from math import atan2, degrees

import pytest
from helpers.drawn import NAMES, report, reports
from helpers.flown import EXAMPLES, changed

from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.rules.answers import answers
from navlog.rules.report import Report
from navlog.rules.samples import FILES, SampleCatalogue, sample
from navlog.sheets.drawing import LABEL_SIZE, Area, Circle, Drawing, Label, Rectangle, Stroke
from navlog.sheets.label_room import LabelRoom
from navlog.sheets.pages import PAGES
from navlog.sheets.plan_drawing import plan_drawing
from navlog.sheets.profile_drawing import profile_drawing
from navlog.sheets.svg import svg

FLIGHTS = [report(name) for name in NAMES] + [
    flight for path in sorted(EXAMPLES.glob("*.route")) for flight in reports(path.read_text("utf-8"), str(path))
    if "aircraft" not in path.read_text("utf-8")
]  # fmt: skip
SIZES = [(page.drawing_width_pt, page.drawing_height_pt) for page in PAGES.values()]


def drawings(whole: Report, width: float, height: float) -> list[Drawing]:
    found = (plan_drawing(whole.log, width, height * 0.6), profile_drawing(whole, width, height * 0.4))
    return [drawing for drawing in found if drawing is not None]


def labels(drawing: Drawing) -> list[Label]:
    return [mark for mark in drawing.marks if isinstance(mark, Label)]


@pytest.mark.parametrize(("width", "height"), SIZES)
@pytest.mark.parametrize("whole", FLIGHTS, ids=lambda whole: whole.log.route.request.name[:12])
def test_no_label_covers_another_or_leaves_the_drawing(whole: Report, width: float, height: float) -> None:
    for drawing in drawings(whole, width, height):
        for one, other in combinations(labels(drawing), 2):
            assert one.box.overlap(other.box) < 1.0, (drawing.title, one.text, other.text)
        for label in labels(drawing):
            assert label.box.outside(drawing.width, drawing.height) < 1.0, (drawing.title, label.text)
            assert label.size >= LABEL_SIZE


def test_the_plan_names_stations_radials_changeovers_and_fixes() -> None:
    (plan, _) = drawings(report("marsh"), 367.0, 500.0)
    said = {label.text for label in labels(plan)}
    assert {"QHB 113.70", "QEL 110.20", "R-212", "R-034", "R-180", "COP 11.0 NM QHB", "PINEY", "LAKER"} <= said
    assert {"TOC", "TOD", "true", "20 NM"} <= said
    # The World Magnetic Model gives 12.5 W there late in 2026 (worked with pygeomag).
    assert said & {"mag 12W", "mag 13W"}


def test_the_plan_is_true_to_scale_and_north() -> None:
    """QHB to QEL: 196.9 true and 29.48 NM by geographiclib; the bar is 10 NM long."""
    plan = plan_drawing(report("hostile").log, 367.0, 300.0)
    assert plan is not None
    bar = next(mark for mark in plan.marks if isinstance(mark, Stroke) and len(mark.points) == 4)
    ten = bar.points[2][0] - bar.points[1][0]
    said = next(label.text for label in labels(plan) if label.text.endswith(" NM") and not label.text.startswith("COP"))
    flown = [mark for mark in plan.marks if isinstance(mark, Stroke) and mark.weight == 1.8]
    (x1, y1), (x2, y2) = flown[1].points[0], flown[2].points[-1]
    assert (degrees(atan2(x2 - x1, y1 - y2)) % 360.0) == pytest.approx(196.9, abs=0.3)
    length_nm = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 / ten * float(said.split()[0])
    assert length_nm == pytest.approx(29.48, rel=0.01)


def test_a_rose_is_turned_by_the_stations_declination() -> None:
    plan = plan_drawing(report("hostile").log, 367.0, 300.0)
    assert plan is not None
    norths = [mark for mark in plan.marks if isinstance(mark, Stroke) and mark.weight == 1.0]
    turned = [degrees(atan2(m.points[1][0] - m.points[0][0], m.points[0][1] - m.points[1][1])) for m in norths]
    # A north that a label cuts is drawn in two pieces.
    assert sorted({round(one) for one in turned}) == [-17, -15]


def test_the_profile_climbs_descends_and_steps() -> None:
    (_, profile) = drawings(report("marsh"), 367.0, 500.0)
    said = [label.text for label in labels(profile)]
    assert {"TOC", "TOD", "MEA 3000", "MEA 5000", "none"} <= set(said)
    assert any(text.startswith("min 2500") for text in (*said, *profile.left_out))
    path = next(mark for mark in profile.marks if isinstance(mark, Stroke) and mark.weight == 2.2)
    heights = [y for _, y in path.points]
    assert heights[0] > heights[1]
    assert min(heights) < heights[1]
    assert [x for x, _ in path.points] == sorted(x for x, _ in path.points)


def test_the_bar_below_is_grey_where_a_station_is_received() -> None:
    (_, profile) = drawings(report("dateline"), 367.0, 500.0)
    fills = [mark.fill for mark in profile.marks if isinstance(mark, Area) and mark.weight == 1.0]
    assert [fill == 1.0 for fill in fills] == [False, True, False]


def test_a_station_out_of_range_is_in_doubt() -> None:
    far = changed("station QHB 113.70 N46 12.30 W039 20.70 decl 15W class T dme elev 820ft", "altitude 1500")
    (whole,) = reports(far)
    profile = profile_drawing(whole, 367.0, 200.0)
    assert profile is not None
    doubtful = any(one.rule == "out-of-range" for one in whole.findings)
    assert doubtful == any(label.text.endswith("?") for label in labels(profile))


def test_without_positions_there_is_no_plan() -> None:
    (whole,) = reports((EXAMPLES / "chart_only.route").read_text("utf-8"))
    assert plan_drawing(whole.log, 367.0, 300.0) is None
    assert profile_drawing(whole, 367.0, 300.0) is not None


def test_drawings_are_of_greys_alone() -> None:
    for drawing in drawings(report("marsh"), 367.0, 500.0):
        for mark in drawing.marks:
            greys = () if isinstance(mark, Label) else (mark.grey,)
            fills = (mark.fill,) if isinstance(mark, Area | Circle) and mark.fill is not None else ()
            assert all(0.0 <= grey <= 1.0 for grey in (*greys, *fills))
        text = svg(drawing)
        colours = {piece[:7] for piece in text.split('"') if piece.startswith("#")}
        assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in colours)


def test_a_label_takes_the_place_where_it_covers_nothing() -> None:
    room = LabelRoom(200.0, 100.0)
    assert room.around((100.0, 50.0), "ONE", gap=6.0)
    assert room.around((100.0, 50.0), "TWO", gap=6.0)
    first, second = room.labels
    assert first.anchor == "start"
    assert second.box.overlap(first.box) == 0.0


def test_a_label_without_room_is_listed_and_not_written() -> None:
    room = LabelRoom(40.0, 14.0)
    assert room.place([Label((20.0, 10.0), "ONE", anchor="middle")])
    assert not room.around((20.0, 6.0), "A LONG NAME", gap=6.0)
    drawing = room.drawn("A plan")
    assert [label.text for label in labels(drawing)] == ["ONE"]
    assert drawing.caption == "A plan. No room for: A LONG NAME"


def test_a_label_never_stands_nearer_to_another_symbol_than_to_its_own() -> None:
    """Symbols in a row so close that the middle one has no place to itself but above and below, which lines take."""
    room = LabelRoom(300.0, 100.0)
    for x in (130.0, 145.0, 160.0):
        room.symbol((x, 50.0), 4.0, ())
    for y in (38.0, 62.0):
        room.line(((100.0, y), (200.0, y)), 1.0)
    assert not room.around((145.0, 50.0), "MIDDLE", gap=6.0)
    assert room.around((160.0, 50.0), "RIGHT", gap=6.0)
    assert [label.text for label in room.labels] == ["RIGHT"]


def test_a_label_without_room_beside_its_symbol_is_led_to_over_no_label_and_no_other_symbol() -> None:
    """Symbols in a row: the name of the middle one stands farther out, and its line ends at its symbol alone."""
    room = LabelRoom(300.0, 200.0)
    for x in (130.0, 145.0, 160.0):
        room.symbol((x, 100.0), 4.0, ())
    for y in (88.0, 112.0):
        room.line(((100.0, y), (200.0, y)), 1.0)
    room.write(Label((145.0, 60.0), "IN THE WAY", anchor="middle"))
    assert not room.around((145.0, 100.0), "MIDDLE", gap=6.0)
    drawing = room.drawn("A plan")
    assert not drawing.left_out
    (leader,) = (one for one in drawing.marks if isinstance(one, Stroke) and one.points[0] == (145.0, 100.0))
    (named,) = (label for label in labels(drawing) if label.text == "MIDDLE")
    end = leader.points[-1]
    assert named.box.distance(end) == pytest.approx(1.5)
    assert all(label.box.shares_inside(*leader.points) is None for label in labels(drawing))
    assert all(abs(x - 145.0) > 4.0 or y != 100.0 for x, y in leader.points[1:])


def test_a_label_to_which_no_line_leads_is_listed() -> None:
    room = LabelRoom(100.0, 100.0)
    room.symbol((50.0, 50.0), 4.0, ())
    walls = Rectangle(40.0, 40.0, 60.0, 44.0), Rectangle(40.0, 56.0, 60.0, 60.0)
    for wall in (*walls, Rectangle(40.0, 44.0, 44.0, 56.0), Rectangle(56.0, 44.0, 60.0, 56.0)):
        room.take(wall)
    room.wait(Label((50.0, 50.0), "WALLED IN"), ((50.0, 50.0),), "WALLED IN")
    assert room.drawn("A plan").left_out == ("WALLED IN",)


def test_a_faint_line_makes_way_for_a_label_and_a_firm_one_does_not() -> None:
    room = LabelRoom(200.0, 100.0)
    room.under(((0.0, 50.0), (200.0, 50.0)), 0.5, 0.75)
    room.line(((100.0, 0.0), (100.0, 100.0)), 1.8)
    assert room.around((98.0, 50.0), "NAME", gap=6.0)
    drawing = room.drawn("A plan")
    (name,) = labels(drawing)
    strokes = [mark for mark in drawing.marks if isinstance(mark, Stroke)]
    assert sum(mark.weight == 0.5 for mark in strokes) == 2
    assert all(name.box.length_inside(*ends) == 0.0 for mark in strokes for ends in pairwise(mark.points))


def test_the_profile_shows_the_ground_the_minimum_over_it_and_known_elevations() -> None:
    """The way from QSK to XHAR with the invented islands below: its hill of 1,220 ft lies beside the course."""
    (whole,) = [
        one.report
        for one in answers(
            read_flights(sample("terrain terrain", "-direct QHB", "-direct QEL"), "f.route"),
            SampleCatalogue(),
            References(FILES),
        )
    ]
    assert whole is not None
    profile = profile_drawing(whole, 367.0, 200.0)
    assert profile is not None
    said = {label.text for label in labels(profile)}
    # Elevations of the stations and airports of the samples, and the minimum by terrain of the first leg.
    assert {"QHB 820", "QEL 410", "XOLD 350"} <= said
    assert any(text.startswith("terrain 2900") for text in said)
    assert "minimum by terrain" in profile.caption
    silhouettes = [mark for mark in profile.marks if isinstance(mark, Area) and mark.weight == 0.6]
    assert silhouettes
    plan = plan_drawing(whole.log, 367.0, 300.0)
    assert plan is not None
    assert "820" in {label.text for label in labels(plan)}
    assert "peaks: highest within 4 NM" in plan.caption


def test_the_way_to_an_alternate_is_dashed_and_each_leg_has_airway_length_and_minimum() -> None:
    (whole,) = [
        one.report
        for one in answers(read_flights(sample("alternate XHAR"), "f.route"), SampleCatalogue(), References(FILES))
    ]
    assert whole is not None
    plan = plan_drawing(whole.log, 367.0, 300.0)
    assert plan is not None
    assert any(isinstance(mark, Stroke) and mark.dash == (10.0, 4.0) for mark in plan.marks)
    told = {*(label.text for label in labels(plan)), *plan.left_out}
    assert "V801 29.5 MEA 3000" in told
    assert any("DCT 9.6 min 2500" in text for text in told)


def test_a_line_through_a_box_is_measured_inside_it() -> None:
    box = Label((10.0, 20.0), "AB", 10.0).box
    middle = (box.top + box.bottom) / 2.0
    assert box.length_inside((0.0, middle), (100.0, middle)) == pytest.approx(box.right - box.left)
    assert box.length_inside((0.0, 90.0), (100.0, 90.0)) == 0.0
    corners = [(box.left, box.top), (box.right, box.bottom)]
    ((start, end),) = pairwise(corners)
    diagonal = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    assert box.length_inside(start, end) == pytest.approx(diagonal)


def test_a_way_without_a_place_has_no_plan_though_its_alternates_have_one() -> None:
    text = """
station QAA 112.00 decl 15W
station QAB 113.00 decl 15W
airport XALT N46 05.00 W039 10.00
airport XBLT N45 55.00 W039 30.00
direct QAA 090 - 270 QAB 25nm
direct QAB - XALT 18nm
direct QAB - XBLT 25nm
date 2026-07-18
altitude 3500
tas 110kt
wind calm
alternate XALT
alternate XBLT
route QAA QAB
"""
    (flown,) = reports(text)
    assert plan_drawing(flown.log, 300.0, 300.0) is None
