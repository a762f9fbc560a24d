"""Where labels have room, by triangles and rectangles worked by hand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pytest

from navlog.sheets.drawing import Label, Rectangle, text_width
from navlog.sheets.label_room import LabelRoom, _cross, _distance

XY = tuple[float, float]
WIDTH, HEIGHT = 400.0, 300.0


@pytest.mark.parametrize(
    ("other", "shared"),
    [((6.0, 7.0, 20.0, 20.0), 12.0), ((10.0, 0.0, 20.0, 10.0), 0.0), ((12.0, 12.0, 20.0, 20.0), 0.0),
     ((2.0, 3.0, 4.0, 8.0), 10.0), ((6.0, 12.0, 20.0, 20.0), 0.0)],
)  # fmt: skip
def test_the_area_that_two_rectangles_share(other: tuple[float, float, float, float], shared: float) -> None:
    one, two = Rectangle(0.0, 0.0, 10.0, 10.0), Rectangle(*other)
    assert (one.overlap(two), two.overlap(one)) == (shared, shared)


@pytest.mark.parametrize(
    ("text", "bold", "width"),
    [
        ("~", False, 5.84),
        ("~", True, 5.84),
        (" ", False, 2.78),
        ("A", False, 6.67),
        ("A", True, 7.22),
        ("é", False, 10.0),
        ("\x7f", False, 10.0),
        ("A~", False, 12.51),
    ],
)
def test_the_width_of_a_text_by_the_metrics_of_its_face(text: str, bold: bool, width: float) -> None:
    """Adobe's metrics of Helvetica at ten points; what they lack here counts as a whole em."""
    assert text_width(text, 10.0, bold=bold) == pytest.approx(width)


@pytest.mark.parametrize(
    ("one", "other", "crosses"),
    [
        (((0.0, 0.0), (10.0, 10.0)), ((0.0, 10.0), (10.0, 0.0)), True),
        (((0.0, 0.0), (10.0, 0.0)), ((5.0, 0.0), (5.0, 5.0)), False),  # it begins on the other
        (((0.0, 0.0), (10.0, 0.0)), ((0.0, 0.0), (5.0, 5.0)), False),  # one beginning
        (((0.0, 0.0), (10.0, 0.0)), ((0.0, 1.0), (10.0, 1.0)), False),
        (((0.0, 0.0), (10.0, 0.0)), ((12.0, -5.0), (12.0, 5.0)), False),
        (((0.0, 0.0), (0.5, 0.0)), ((0.2, -0.5), (0.2, 0.5)), True),
    ],
)
def test_whether_two_lines_cross(one: tuple[XY, XY], other: tuple[XY, XY], crosses: bool) -> None:
    assert (_cross(one, other), _cross(other, one)) == (crosses, crosses)


@pytest.mark.parametrize(
    ("at", "away"),
    # From (0, 0) to (6, 8), 10 long: (7, 1) is 5 from its middle (3, 4); beyond the ends by triangles of 3, 4 and 5.
    [((7.0, 1.0), 5.0), ((-3.0, -4.0), 5.0), ((9.0, 12.0), 5.0), ((3.0, 4.0), 0.0), ((-8.0, 6.0), 10.0)],
)
def test_how_far_a_place_is_from_a_line(at: XY, away: float) -> None:
    assert _distance(at, (0.0, 0.0), (6.0, 8.0)) == pytest.approx(away)
    assert _distance(at, (6.0, 8.0), (0.0, 0.0)) == pytest.approx(away)
    assert _distance((4.0, 3.0), (0.0, 0.0), (0.0, 0.0)) == 5.0


def test_places_around_a_point_are_the_same_on_all_sides() -> None:
    """Each direction that is tried has its mirror image, above for below and left for right."""
    tried: list[Label] = []

    class Asked(LabelRoom):
        def place(
            self, candidates: Iterable[Label], of: XY | None = None, told: str | None = None, ends: Sequence[XY] = ()
        ) -> bool:
            tried.extend(candidates)
            return True

    Asked(WIDTH, HEIGHT).around((0.0, 0.0), "A", gap=6.0)
    # The baseline lies 0.3 of the size below the middle of the letters, and the text is drawn out by 0.45 above it.
    places = {(round(one.at[0], 6) + 0.0, round(one.at[1] - 2.7, 6) + 0.0) for one in tried}
    assert len(places) == 4 * 16
    assert {(-x + 0.0, y) for x, y in places} == places == {(x, -y + 0.0) for x, y in places}
