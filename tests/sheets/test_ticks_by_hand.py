"""Minutes on the ticks of the knee page, and where its radios are written down, by hand."""

from __future__ import annotations

import pytest
from helpers.judged import reported

from navlog.printed.radios import landings
from navlog.printed.ticks import _after


@pytest.mark.parametrize(
    ("minutes", "told"), [(0, "+0"), (7, "+7"), (59, "+59"), (60, "+1:00"), (84, "+1:24"), (None, "+?")]
)
def test_minutes_after_the_point_of_a_row(minutes: int | None, told: str) -> None:
    assert _after(minutes) == told


def test_a_flight_lands_at_its_stops_and_at_its_end() -> None:
    log = reported("route XHAR QHB V801 QEL XOLD land 20min QEL").log
    assert [point.name for point in landings(log)] == ["XOLD", "QEL"]
    assert [point.name for point in landings(reported("route XHAR QHB V801 QEL XOLD").log)] == ["XOLD"]
    # Its first stop may be the second point of the route.
    near = reported("route QEL XOLD land 20min QEL", "-airway V801", "-direct QHB").log
    assert [point.name for point in landings(near)] == ["XOLD", "QEL"]
