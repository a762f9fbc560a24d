"""What lies around a place, by cells of a degree, held against looking at all of it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from navlog.catalogue.nearness import Cells, apart_nm
from navlog.nav.chart import Position

positions = st.builds(Position, st.floats(-90.0, 90.0), st.floats(-180.0, 179.9))


@given(st.lists(positions, max_size=30), positions, st.floats(1.0, 500.0))
def test_all_that_is_within_the_radius_is_found_nearest_first(
    placed: list[Position], place: Position, radius_nm: float
) -> None:
    found = Cells((position, number) for number, position in enumerate(placed)).around(place, radius_nm)
    sure = {number for number, one in enumerate(placed) if apart_nm(one, place) < radius_nm - 0.01}
    maybe = {number for number, one in enumerate(placed) if apart_nm(one, place) < radius_nm + 0.01}
    assert sure <= {number for _, number in found} <= maybe
    assert [nm for nm, _ in found] == sorted(nm for nm, _ in found)


def test_the_date_line_and_the_pole_part_nothing() -> None:
    cells = Cells([(Position(52.0, 179.9), "east"), (Position(52.0, -179.9), "west"), (Position(89.9, 10.0), "pole")])
    assert [name for _, name in cells.around(Position(52.0, 179.95), 20.0)] == ["east", "west"]
    assert [name for _, name in cells.around(Position(89.9, -170.0), 20.0)] == ["pole"]
