"""What lies below a leg in the words of the remarks, the knee page and the head, of places put there by hand.

The leg is 30 NM of 120 kt, cut at its changeover point 15 NM out.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from helpers.drawn import reports

from navlog.flightlog.records import Log
from navlog.nav.chart import Position, Provenance, Source
from navlog.nav.clearance import Abeam, Below
from navlog.nav.record import changed
from navlog.nav.terrain import Spot, Terrain
from navlog.printed.head import terrain_text
from navlog.printed.needles import needles
from navlog.printed.remarks import remarks
from navlog.printed.rows import rows
from navlog.resolve.ground import Ground

TEXT = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndirect QAA 090 - 270 QBB 30nm\ndate 2026-07-18\n"
    "variation 0E\nwind calm\ntas 120kt\naltitude 4500\nroute QAA QBB\n"
)
NOWHERE = Terrain(Path("tiles"), (), (), ())
JULY = Provenance(Source.NASR, "2607", date(2026, 7, 9), date(2026, 8, 6))


def spot(along_nm: float, height_ft: float, aside_nm: float) -> Spot:
    return Spot(Position(46.0, -39.0), height_ft, None, along_nm, aside_nm, abs(aside_nm), "N46W039.hgt")


def below(top: Spot | None, minimum_ft: float | None, unread: tuple[tuple[str, str], ...] = ()) -> Below:
    return Below(top, None, True, False, 1000.0, minimum_ft, (), (), unread)


def over(*parts: tuple[float, float, Below], minimum_ft: float | None = 2300.0, **fields: Any) -> Log:
    """The flight over ground of some parts from and to miles along the way."""
    (report,) = reports(TEXT)
    log = report.log
    pieces: Any = tuple(SimpleNamespace(start_nm=start, end_nm=end, below=one, band=None) for start, end, one in parts)
    top = max((one.top for _, _, one in parts if one.top), key=lambda one: one.height_ft, default=None)
    ground = Ground(NOWHERE, pieces, top, None, True, 1000.0, False, minimum_ft, ("N46W039.hgt", "N46W038.hgt"), ())
    stretch = changed(log.route.stretches[0], ground=changed(ground, **fields))
    legs = tuple(changed(leg, stretch=stretch) for leg in log.legs)
    return changed(log, legs=legs, route=changed(log.route, stretches=(stretch,)))


LOW, HIGH = below(spot(9.7, 1220.0, -1.0), 2300.0), below(spot(4.7, 1180.0, 2.5), 2200.0)


def highest(log: Log) -> list[list[str]]:
    """The remarks of each leg that tell of ground."""
    printed = rows(log)
    found = [remarks(printed, index) for index in range(len(printed))]
    return [[one for one in told if "highest" in one] for told in found]


@pytest.mark.parametrize(
    ("log", "expected"),
    [
        # The minimum of the whole stretch stands once, where it begins.
        (
            over((0.0, 15.0, LOW), (15.0, 30.0, HIGH)),
            [
                ["highest 1220 ft, 9.7 NM along, 1.0 left; min by terrain from QAA to QBB 2300"],
                ["highest 1180 ft, 4.7 NM along, 2.5 right"],
            ],
        ),
        # Beside the ends of a leg a place is told at them.
        (
            over(
                (0.0, 15.0, below(spot(-1.0, 900.0, 0.0), 1900.0)), (15.0, 30.0, below(spot(16.0, 800.0, 0.2), 1800.0)),
            ),
            [
                ["highest 900 ft, 0.0 NM along, 0.0 left; min by terrain from QAA to QBB 2300"],
                ["highest 800 ft, 15.0 NM along, 0.2 right"],
            ],
        ),
        # Off the end of a leg it is not beside it: 2.0 NM from QAA, 1.5 from QBB.
        (
            over(
                (0.0, 15.0, below(changed(spot(0.0, 900.0, 0.3), away_nm=2.0), 1900.0)),
                (15.0, 30.0, below(changed(spot(15.0, 800.0, -0.2), away_nm=1.5), 1800.0)),
            ),
            [
                ["highest 900 ft, 2.0 NM behind QAA; min by terrain from QAA to QBB 2300"],
                ["highest 800 ft, 1.5 NM beyond QBB"],
            ],
        ),
        # Where a tile is missing the highest is the highest known, and no minimum follows.
        (
            over((0.0, 15.0, below(spot(9.7, 1220.0, -1.0), None)), minimum_ft=None),
            [
                ["highest known 1220 ft, 9.7 NM along, 1.0 left; min by terrain from QAA to QBB ?"],
                ["highest known ?"],
            ],
        ),
        (
            over((0.0, 15.0, below(None, None)), (15.0, 30.0, below(None, 1000.0)), minimum_ft=None),
            [["highest known ?; min by terrain from QAA to QBB ?"], ["highest ?"]],
        ),
    ],
    ids=["two parts", "beside the ends", "off the ends", "missing", "nothing"],
)  # fmt: skip
def test_the_highest_place_below_a_leg(log: Log, expected: list[list[str]]) -> None:
    assert highest(log) == expected


@pytest.mark.parametrize(
    ("log", "expected"),
    [
        (over((0.0, 15.0, LOW), (15.0, 30.0, HIGH)), "terrain 1220 ft at 9.7 NM, min by terrain 2300"),
        (over((0.0, 15.0, LOW), minimum_ft=None), "terrain known 1220 ft at 9.7 NM, min by terrain ?"),
        (over((0.0, 15.0, below(None, None)), minimum_ft=None), None),
    ],
    ids=["known", "missing", "nothing"],
)
def test_the_knee_page_tells_it_where_the_stretch_begins(log: Log, expected: str | None) -> None:
    told = [tick for one in needles(log) for tick in one.ticks if "terrain" in tick]
    assert told == ([] if expected is None else [expected])
    assert [tick for tick in needles(log)[0].ticks if "terrain" in tick] == told


COMPUTED = "minimums by terrain are computed, no clearance"


@pytest.mark.parametrize(
    ("log", "expected"),
    [
        (
            over((0.0, 30.0, LOW)),
            f"Terrain WITHOUT OBSTACLES: N46W038.hgt N46W039.hgt; {COMPUTED}",
        ),
        (
            over((0.0, 30.0, LOW), editions=(JULY, Provenance(Source.OURAIRPORTS), JULY)),
            "Terrain with obstacles of NASR 2607, OURAIRPORTS without a date: N46W038.hgt N46W039.hgt;"
            f" {COMPUTED}",
        ),
        # Obstacles that are not known of every stretch are none.
        (
            over((0.0, 30.0, LOW), editions=(JULY,), obstacles_known=False),
            f"Terrain WITHOUT OBSTACLES: N46W038.hgt N46W039.hgt; {COMPUTED}",
        ),
        (over((0.0, 30.0, LOW), tiles=()), f"Terrain WITHOUT OBSTACLES: no tile; {COMPUTED}"),
        (
            over((0.0, 30.0, below(None, None, (("N45W039.hgt", "too short"), ("b.tif", "no height"))))),
            "Terrain WITHOUT OBSTACLES: N46W038.hgt N46W039.hgt, CANNOT BE READ: N45W039.hgt b.tif;"
            f" {COMPUTED}",
        ),
    ],
    ids=["no obstacles", "two editions", "not everywhere", "no tile", "unread"],
)  # fmt: skip
def test_the_head_tells_what_terrain_was_looked_at(log: Log, expected: str) -> None:
    assert list(terrain_text(log)) == [expected]


def test_along_airways_alone_tiles_are_looked_at_and_no_minimum_is_computed() -> None:
    (report,) = reports(TEXT)
    log = report.log
    piece = Abeam(0.0, 1.0, None, None, None, False, ("N46W039.hgt", "N46W038.hgt"))
    stretch = changed(log.route.stretches[0], abeam=(piece,))
    looked = changed(log, route=changed(log.route, stretches=(stretch,)))
    assert list(terrain_text(looked)) == ["Terrain: N46W038.hgt N46W039.hgt; no direct leg has a minimum by it"]
    assert list(terrain_text(log)) == []
