"""What lies below a stretch of two parts, put together of what lies below each: 10 NM and 20 NM along it."""

from __future__ import annotations

from typing import Any

import pytest

from navlog.nav.accuracy import Accuracy
from navlog.nav.chart import Position
from navlog.nav.clearance import Below
from navlog.nav.corridor import Corridor
from navlog.nav.record import changed
from navlog.nav.terrain import Spot
from navlog.resolve import ground
from navlog.resolve.ground import Ground, _ground
from navlog.resolve.route import GuidedPart

PLAIN = Below(None, None, True, False, 1000.0, 3000.0, ("N45W039",), ())
PARTS = (GuidedPart(0.0, 10.0, None, "no radial"), GuidedPart(10.0, 20.0, None, "no radial"))


def together(monkeypatch: pytest.MonkeyPatch, *found: Below) -> Ground:
    """The ground of a stretch whose two parts have these below them."""
    answers = iter(found)
    monkeypatch.setattr(ground, "below", lambda *_: next(answers))
    corridor = Corridor(Position(45.0, -39.0), Position(45.0 + 1.0 / 6.0, -39.0), 4.0, 4.0, 0.0)
    looked: Any = tuple((part, corridor, None) for part in PARTS)
    terrain: Any = None
    return _ground(looked, terrain, Accuracy("own", "own", 4.5, 3.6, 0.5, 0.03))


def below(**fields: Any) -> Below:
    return changed(PLAIN, **fields)


@pytest.mark.parametrize(
    ("parts", "whole"),
    [
        ((False, False), False),
        ((False, True), True),
        ((None, True), True),
        ((True, None), True),
        ((False, None), None),
        ((None, None), None),
    ],
)
def test_a_stretch_is_over_mountains_where_a_part_is_and_unknown_where_none_is_known_to_be(
    monkeypatch: pytest.MonkeyPatch, parts: tuple[bool | None, ...], whole: bool | None
) -> None:
    """14 CFR 91.177(a)(2) asks for 2,000 ft in a mountainous area: one part is enough."""
    assert together(monkeypatch, *(below(mountainous=one) for one in parts)).mountainous is whole


def test_a_stretch_has_the_highest_minimum_of_its_parts_and_none_while_one_is_unknown(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert together(monkeypatch, PLAIN, below(minimum_ft=4200.0)).minimum_ft == 4200.0
    assert together(monkeypatch, PLAIN, below(minimum_ft=None)).minimum_ft is None


def test_what_a_stretch_has_below_it_is_told_once_and_by_miles_along_the_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    low = Spot(Position(45.0, -39.0), 1200.0, 30.0, 4.0, 0.0, 1.0, "N45W039")
    high = Spot(Position(45.0, -39.0), 1500.0, 30.0, 4.0, 0.0, 1.0, "N46W039")
    mast = Spot(Position(45.0, -39.0), 1400.0, 20.0, 3.0, 0.0, 1.0, "26-1")
    found = together(
        monkeypatch,
        below(highest=low, obstacle=mast, unknown=("no tile",)),
        below(
            highest=high, obstacles_known=False, clearance_ft=2000.0, tiles=("N46W039", "N45W039"), unknown=("no tile",)
        ),
    )
    assert found.highest is not None
    assert found.obstacle is not None
    assert (found.highest.height_ft, found.highest.along_nm) == (1500.0, 14.0)
    assert (found.obstacle.height_ft, found.obstacle.along_nm) == (1400.0, 3.0)
    assert (found.obstacles_known, found.clearance_ft) == (False, 2000.0)
    assert (found.tiles, found.unknown) == (("N45W039", "N46W039"), ("no tile",))
