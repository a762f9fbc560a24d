"""What the search for the highest ground says that it does not look at: a message, and never a lower height."""

from __future__ import annotations

import os
from math import radians, tan
from pathlib import Path

import pytest
from helpers.tiles import flat, write_dted, write_geotiff, write_srtm

from navlog.nav.chart import Position
from navlog.nav.corridor import Corridor
from navlog.nav.earth import direct
from navlog.nav.problems import NavlogError
from navlog.nav.terrain import highest_within, open_terrain
from navlog.nav.tilefile import first_part

INSIDE = Position(44.5, -71.5)
"""The middle of the tile N44W072."""


def unknown(folder: Path, corridor: Corridor) -> tuple[str, ...]:
    return highest_within(open_terrain(str(folder)), corridor).unknown


@pytest.mark.parametrize(
    ("folder", "message"),
    [("nowhere", "cannot read the terrain folder"), (".", "holds no tile")],
)
def test_a_folder_without_tiles_is_a_problem(tmp_path: Path, folder: str, message: str) -> None:
    with pytest.raises(NavlogError, match=message):
        open_terrain(str(tmp_path / folder))


def test_near_a_pole_nothing_is_told(tmp_path: Path) -> None:
    write_geotiff(tmp_path / "north.tif", 90.0, 0.0, (61, 61), 1 / 60, flat)
    pole = Position(89.5, 0.5)
    assert unknown(tmp_path, Corridor(pole, pole, 4.0)) == ("terrain is not looked up within 5 degrees of a pole",)


def test_a_course_over_a_pole_is_near_it_though_its_ends_are_not(tmp_path: Path) -> None:
    write_geotiff(tmp_path / "north.tif", 90.0, 0.0, (61, 61), 1 / 60, flat)
    course = Corridor(Position(84.0, 0.5), Position(84.0, -179.5), 4.0)
    assert unknown(tmp_path, course) == ("terrain is not looked up within 5 degrees of a pole",)


def test_a_band_that_opens_over_half_a_continent_is_not_looked_at(tmp_path: Path) -> None:
    """Dead reckoning over 800 NM at 15 degrees is 214 NM wide either side: 13 s of looking, and nobody's minimum."""
    write_srtm(tmp_path, "N44W072", {})
    course = Corridor(INSIDE, direct(INSIDE, 90.0, 800.0), 4.0, 4.0, tan(radians(15.0)))
    assert unknown(tmp_path, course) == ("terrain is not looked up farther than 100 NM from a course",)


@pytest.mark.parametrize("form", ["tif", "deflated.tif", "dt1"])
def test_a_tile_that_is_cut_short_after_it_was_opened_is_a_problem(tmp_path: Path, form: str) -> None:
    """As another program writes it anew: the process lives, and no height is made of bytes that are gone."""
    path = tmp_path / f"a.{form}"
    if form == "dt1":
        write_dted(path, "0720000W0440000N", 1201, 1201, flat)
    else:
        predictor = None if form == "tif" else 1
        write_geotiff(path, 45.0, -72.0, (1201, 1201), 1 / 1200, flat, strip_rows=100, predictor=predictor)
    terrain = open_terrain(str(tmp_path))
    first_part.cache_clear()
    os.truncate(path, 100)
    with pytest.raises(NavlogError, match=f"`{path}` was cut short while it was read"):
        highest_within(terrain, Corridor(INSIDE, Position(44.5, -71.2), 4.0))
