"""What lies below a stretch of two parts, put together of what lies below each: 10 NM and 20 NM along it."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from navlog.nav.accuracy import Accuracy
from navlog.nav.chart import Position, Provenance, Source
from navlog.nav.clearance import Below
from navlog.nav.corridor import Corridor
from navlog.nav.obstacles import Obstacle, Obstacles
from navlog.nav.record import changed
from navlog.nav.terrain import Spot, open_terrain
from navlog.request.flights import read_flights
from navlog.request.records import Request
from navlog.resolve import ground
from navlog.resolve.flight import resolve_flight
from navlog.resolve.ground import Ground, _ground, grounded
from navlog.resolve.lookup import NoCatalogue
from navlog.resolve.route import GuidedPart
from navlog.rules.samples import FILES, sample

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


MAST = Obstacle("26-1", "TOWER", Position(46.0 + 12.7 / 60.0, -39.0 - 20.2674 / 60.0), 1800.0, 0.0, 50.0)
EDITION = Provenance(Source.DOF, "260705")


class Masts(NoCatalogue):
    """A mast 0.3 NM east of 39 20.7 W, 0.4 NM north of QHB: a minute of longitude is 0.6934 NM there."""

    def obstacles(self, corridor: Corridor, day: date) -> Obstacles | None:
        return Obstacles((MAST,), (EDITION,)) if day == date(2026, 7, 18) else None


def test_an_obstacle_beside_a_leg_of_less_than_a_mile_is_told_with_its_place_and_makes_its_minimum() -> None:
    """0.8 NM north from QHB. 1,800 ft, 50 ft uncertain, and 2,000 where nobody knows of no mountains make 3,900 ft."""
    text = sample(
        "airport NEARQ N46 13.10 W039 20.70 elev 790ft", "direct QHB - NEARQ 0.8nm", "route QEL V801 QHB NEARQ"
    )
    (request,) = read_flights(text, "f.route").flights
    assert isinstance(request, Request), request
    route = grounded(resolve_flight(request), open_terrain(FILES["terrain"]), Masts())
    along, near = route.stretches
    found = near.ground
    assert found is not None
    assert found.obstacle is not None
    assert (found.obstacle.height_ft, found.obstacle.top_ft) == (1800.0, 1850.0)
    assert found.obstacle.along_nm == pytest.approx(0.4, abs=0.01)
    assert found.obstacle.aside_nm == pytest.approx(0.3, abs=0.01)
    assert (found.minimum_ft, near.limits.minimum_ft, near.limits.minimum_kind) == (3900.0, 3900.0, "terrain")
    assert (found.obstacles_known, found.editions, found.top) == (True, (EDITION,), found.obstacle)
    (piece,) = near.abeam
    assert piece.top is not None
    assert (piece.top.top_ft, piece.minimum_ft) == (1850.0, 3900.0)
    # An airway has its minimums published: what lies abeam of it is for a climb or descent.
    assert (along.ground, along.abeam != ()) == (None, True)
    assert EDITION in route.sources


def test_where_no_obstacle_of_any_place_is_known_the_ground_says_so() -> None:
    (request,) = read_flights(sample("-direct QHB", "route XHAR QHB"), "f.route").flights
    assert isinstance(request, Request), request
    (only,) = grounded(resolve_flight(request), open_terrain(FILES["terrain"]), NoCatalogue()).stretches
    assert only.ground is not None
    # The hill at QHB tops out at 820 ft, outside the United States: 2,820 ft, up to the hundred.
    assert (only.ground.obstacles_known, only.ground.obstacle, only.ground.minimum_ft) == (False, None, 2900.0)


LINE = Corridor(Position(45.0, -39.0), Position(45.2, -39.0), 4.0, 4.0, 0.0)
"""12 minutes of latitude, 12.0 NM, for each 10 NM charted: 1.2 measured miles a charted one."""


@pytest.mark.parametrize(
    ("start_nm", "end_nm", "part", "from_nm", "to_nm"),
    [
        (2.0, 6.0, 0, 2.4, 7.2),
        (12.0, 18.0, 1, 2.4, 9.6),
        # Its middle says of which part it is; what goes beyond that part is left out.
        (8.0, 11.0, 0, 9.6, 12.0),
        (9.5, 14.0, 1, 0.0, 4.8),
        (0.0, 9.0, 0, 0.0, 10.8),
        (11.0, 20.0, 1, 1.2, 12.0),
    ],
)
def test_what_lies_below_a_piece_is_looked_up_by_measured_miles_of_its_part(
    monkeypatch: pytest.MonkeyPatch, start_nm: float, end_nm: float, part: int, from_nm: float, to_nm: float
) -> None:
    asked: list[tuple[float, float, Any]] = []
    found = _put_together(monkeypatch)

    def looked(_: Any, corridor: Corridor, obstacles: Any) -> Below:
        start = (corridor.start.latitude_deg - 45.0) * 60.0
        asked.append((start, start + corridor.length_nm, obstacles))
        return below(minimum_ft=1.0)

    monkeypatch.setattr(ground, "_below", looked)
    assert found.between(start_nm, end_nm) == below(minimum_ft=1.0)
    ((first_nm, last_nm, obstacles),) = asked
    # A minute of latitude at N45 is 1.0001 NM.
    assert (first_nm, last_nm) == pytest.approx((from_nm, to_nm), abs=0.01)
    assert obstacles is found.parts[part].obstacles


def _put_together(monkeypatch: pytest.MonkeyPatch) -> Ground:
    """Two parts of 10 NM with a different minimum below each, and their own obstacles."""
    lows = iter((below(minimum_ft=3100.0), below(minimum_ft=3200.0)))
    monkeypatch.setattr(ground, "below", lambda *_: next(lows))
    masts = (Obstacles((MAST,), (EDITION,)), Obstacles((), ()))
    looked: Any = tuple((part, LINE, near) for part, near in zip(PARTS, masts, strict=True))
    terrain: Any = object()
    return _ground(looked, terrain, Accuracy("own", "own", 4.5, 3.6, 0.5, 0.03))


def test_a_whole_part_is_told_as_it_was_found_and_nothing_beyond_or_without_terrain(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    found = _put_together(monkeypatch)
    monkeypatch.setattr(ground, "_below", None)
    assert found.between(0.0, 10.0) is found.parts[0].below
    assert found.between(10.0, 20.0) is found.parts[1].below
    assert found.between(20.5, 21.5) is None
    assert changed(found, terrain=None).between(2.0, 6.0) is None
