"""The highest ground within a distance of a course, from tiles of heights in a folder.

Exact: every height of the tiles that lies in the corridor is looked at, and where it lies is told on the ellipsoid.
Where no tile lies, or a tile has no height, the highest is not known, however high what is known may be.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from math import ceil, floor
from pathlib import Path
from typing import TypeAlias

from msgspec import Struct

from navlog.nav.chart import Position
from navlog.nav.corridor import Capsule, Corridor, capsules, placed, too_far_north
from navlog.nav.problems import problem_error
from navlog.nav.raster import Tile, read_tile
from navlog.nav.tilefile import UnreadableTileError

_ROW_DEG = 1.0 / 1200.0
"""How far apart the parallels lie on which the tiles must cover a corridor: a row of 3 seconds."""

FARTHEST_NM = 100.0
"""How far from a course ground is looked for; what opens wider is no band that anybody flies in."""


class Spot(Struct, frozen=True):
    """A high place: how high, how much higher its source says it may be, where, and where from a course.

    `aside_nm` is right of the course; `away_nm` how far from it, or from its nearer end. `source` names the tile or
    obstacle, which it is where `built`. `tolerance_ft` is None where its source says nothing.
    """

    position: Position
    height_ft: float
    tolerance_ft: float | None
    along_nm: float
    aside_nm: float
    away_nm: float
    source: str
    built: bool = False

    @property
    def unsure_words(self) -> str:
        """What is said of an obstacle to whose height no tolerance can be added; empty of other places."""
        return " (published without accuracy)" if self.built and self.tolerance_ft is None else ""

    @property
    def top_ft(self) -> float:
        """The height with the tolerance that its source states."""
        return self.height_ft + (self.tolerance_ft or 0.0)


def higher(*spots: Spot | None) -> Spot | None:
    """Of several high places the one that reaches highest, tolerances counted; None where none is known."""
    return max((one for one in spots if one is not None), key=lambda one: one.top_ft, default=None)


class _Ground(Struct, frozen=True):
    """The highest ground known in a corridor, the tiles that lie in it, and why more may be there than is known.

    `unread` are the files there that cannot be read, each with why; `unknown` has them too.
    """

    highest: Spot | None
    tiles: tuple[str, ...]
    unknown: tuple[str, ...]
    unread: tuple[tuple[str, str], ...] = ()


class Terrain(Struct, frozen=True):
    """A folder of tiles, the names of the files in it, and those of DTED and GeoTIFF as read."""

    folder: Path
    names: tuple[str, ...]
    rasters: tuple[Tile, ...]
    unread: tuple[tuple[str, str], ...]

    def near(
        self, limits_deg: tuple[float, float], longitudes_deg: tuple[float, float]
    ) -> tuple[list[Tile], list[tuple[str, str]]]:
        """The tiles that may lie between two latitudes and two longitudes, and others with why they cannot be read."""
        south, north = limits_deg
        found, unread = list(self.rasters), list(self.unread)
        by_name = {name.upper(): name for name in self.names}
        # Neighbouring tiles share their edge; a hundredth more takes in the one whose edge alone is touched.
        for latitude in range(floor(south - 0.01), floor(north + 0.01) + 1):
            for longitude in range(floor(longitudes_deg[0] - 0.01), floor(longitudes_deg[1] + 0.01) + 1):
                name = by_name.get(_degree_name(latitude, longitude) + ".HGT")
                if name is None:
                    continue
                try:
                    tile = read_tile(self.folder / name)
                except UnreadableTileError as error:
                    unread.append((name, str(error)))
                else:
                    found += [] if tile is None else [tile]
        return found, unread


def open_terrain(folder: str) -> Terrain:
    """The tiles of a folder; raises a `cannot-read` problem where it cannot be read, or holds none."""
    path = Path(folder)
    try:
        names = tuple(sorted(entry.name for entry in os.scandir(path) if entry.is_file()))
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        raise problem_error("cannot-read", f"cannot read the terrain folder `{folder}`: {reason}") from None
    tiles = [name for name in names if name.lower().endswith((".hgt", ".dt0", ".dt1", ".dt2", ".tif", ".tiff"))]
    if not tiles:
        raise problem_error(
            "cannot-read",
            f"the terrain folder `{folder}` holds no tile",
            hint="SRTM tiles are called N44W072.hgt, DTED ends in .dt1 or .dt2, GeoTIFF in .tif",
        )
    rasters, unread = [], []
    for name in tiles:
        if name.lower().endswith(".hgt"):
            continue
        try:
            tile = read_tile(path / name)
        except UnreadableTileError as error:
            unread.append((name, str(error)))
        else:
            rasters += [] if tile is None else [tile]
    return Terrain(path, tuple(tiles), tuple(rasters), tuple(unread))


def _degree_name(latitude: int, longitude: int) -> str:
    """The name of a degree by its south-west corner: `N44W072`."""
    longitude = (longitude + 180) % 360 - 180
    north, east = "N" if latitude >= 0 else "S", "E" if longitude >= 0 else "W"
    return f"{north}{abs(latitude):02d}{east}{abs(longitude):03d}"


class _Stretch(Struct, frozen=True):
    """Columns of a row of a tile that may lie in a corridor, and the highest of them."""

    height_ft: float
    tile: Tile
    row: int
    first: int
    last: int


_Span: TypeAlias = tuple[float, float]


def highest_within(terrain: Terrain, corridor: Corridor) -> _Ground:
    """The highest ground in a corridor; the same however the tiles are cut."""
    if max(corridor.half_width_nm(at_nm) for at_nm in (0.0, corridor.length_nm)) > FARTHEST_NM:
        return _Ground(None, (), (f"terrain is not looked up farther than {FARTHEST_NM:g} NM from a course",))
    pieces = tuple(capsules(corridor))
    if too_far_north(pieces):
        return _Ground(None, (), ("terrain is not looked up within 5 degrees of a pole",))
    rows: dict[tuple[int, int], tuple[int, int]] = {}
    parallels: dict[int, _Span] = {}
    near: dict[tuple[Tile, float], int] = {}
    unread: dict[tuple[str, str], None] = {}
    for capsule in pieces:
        limits = capsule.limits_deg()
        # As far in longitude as the piece is tall, and a tenth: the tiles looked up must be too many, never too few.
        reach = 1.1 * max(limits[1] - limits[0], 0.01) / _narrowing(limits)
        around = min(capsule.longitudes_deg) - reach, max(capsule.longitudes_deg) + reach
        # By pieces, not by the whole course, whose box may hold a continent.
        tiles, others = terrain.near(limits, around)
        unread |= dict.fromkeys(others)
        for row in range(floor(limits[0] / _ROW_DEG), ceil(limits[1] / _ROW_DEG) + 1):
            if (across := capsule.across_deg(row * _ROW_DEG)) is not None:
                before = parallels.get(row, across)
                # Pieces overlap at their ends: their spans are joined, so that no height is looked at twice.
                parallels[row] = min(before[0], across[0]), max(before[1], across[1])
        for tile in tiles:
            for turn in _turns(tile, around, limits):
                number = near.setdefault((tile, turn), len(near))
                for row, columns in _columns(tile, turn, capsule, limits):
                    held = rows.get((number, row), columns)
                    rows[number, row] = min(held[0], columns[0]), max(held[1], columns[1])
    gaps = _gaps(parallels, tuple(near))
    # Where no degree is missing a file that cannot be read is not missed; where its own is, the file is what is wrong.
    files = tuple(unread) if gaps else ()
    damaged = {Path(name).stem.upper() for name, _ in files}
    missing = [f"no terrain of {degree}" for degree in gaps if degree not in damaged]
    tiles = [tile for tile, _ in near]
    voids: dict[str, None] = {}
    stretches = [
        stretch
        for (number, row), (first, last) in rows.items()
        for stretch in _stretch(tiles[number], row, first, last, corridor, voids)
    ]
    used = sorted({tiles[number].name for number in {number for number, _ in rows}})
    unknown = (*(f"{name} cannot be read: {why}" for name, why in files), *missing, *voids)
    return _Ground(_highest(stretches, corridor), tuple(used), unknown, files)


def _columns(tile: Tile, turn: float, capsule: Capsule, limits: _Span) -> Iterator[tuple[int, tuple[int, int]]]:
    """The rows of a tile that a piece of a corridor touches, each with its first and last column in it."""
    first_row = max(0, ceil((tile.north_deg - limits[1]) / tile.row_step_deg))
    last_row = min(tile.rows - 1, floor((tile.north_deg - limits[0]) / tile.row_step_deg))
    for row in range(first_row, last_row + 1):
        if (across := capsule.across_deg(tile.latitude_deg(row))) is not None:
            first = max(0, ceil((across[0] - turn - tile.west_deg) / tile.column_step_deg))
            last = min(tile.columns - 1, floor((across[1] - turn - tile.west_deg) / tile.column_step_deg))
            if first <= last:
                yield row, (first, last)


def _gaps(parallels: dict[int, _Span], near: tuple[tuple[Tile, float], ...]) -> tuple[str, ...]:
    """Which degrees have no terrain although the corridor lies in them, each told once."""
    return tuple(
        dict.fromkeys(
            _degree_name(floor(row * _ROW_DEG), floor(gap))
            for row, across in sorted(parallels.items())
            for gap in _uncovered(near, row * _ROW_DEG, across)
        )
    )


def _stretch(
    tile: Tile, row: int, first: int, last: int, corridor: Corridor, voids: dict[str, None]
) -> Iterator[_Stretch]:
    """The columns, if any has a height; a void among them that lies in the corridor is told."""
    heights: Sequence[float] = (read := tile.heights(row, first, last))
    if tile.has_void(read):
        told = f"{tile.name} has places without a height"
        heights = [height for height in read if not tile.is_void(height)]
        if told not in voids and any(
            placed(corridor, Position(tile.latitude_deg(row), tile.longitude_deg(first + number))) is not None
            for number, height in enumerate(read)
            if tile.is_void(height)
        ):
            voids[told] = None
    if heights:
        yield _Stretch(max(heights) * tile.feet_each, tile, row, first, last)


def _highest(stretches: list[_Stretch], corridor: Corridor) -> Spot | None:
    """The highest place of several rows that lies in the corridor itself: the highest rows are looked at first."""
    best: Spot | None = None
    for stretch in sorted(stretches, key=lambda one: -one.height_ft):
        # The rows are sorted: none that follows can be higher.
        if best is not None and stretch.height_ft <= best.height_ft:
            break
        tile = stretch.tile
        for number, height in enumerate(tile.heights(stretch.row, stretch.first, stretch.last)):
            height_ft = height * tile.feet_each
            if tile.is_void(height) or (best is not None and height_ft <= best.height_ft):
                continue
            here = Position(tile.latitude_deg(stretch.row), tile.longitude_deg(stretch.first + number))
            # Only what would be the new highest is placed: the look on the ellipsoid is the dear one.
            if (place := placed(corridor, here)) is not None:
                found = place.along_nm, place.aside_nm, place.away_nm
                best = Spot(here, height_ft, tile.tolerance_ft, *found, tile.name)
    return best


def _turns(tile: Tile, around: tuple[float, float], limits: tuple[float, float]) -> list[float]:
    """By how many degrees a tile is turned about the earth to lie between two longitudes; empty where it does not."""
    if tile.south_deg > limits[1] + tile.row_step_deg or tile.north_deg < limits[0] - tile.row_step_deg:
        return []
    edge = tile.column_step_deg
    return [
        turn
        # A corridor across 180 degrees counts its longitudes on, and some tiles are given from 0 to 360.
        for turn in (-360.0, 0.0, 360.0)
        if tile.west_deg + turn - edge <= around[1] and tile.east_deg + turn + edge >= around[0]
    ]


def _uncovered(near: Sequence[tuple[Tile, float]], latitude_deg: float, across: _Span) -> Iterator[float]:
    """A longitude in each part of a parallel over which no tile lies, and in each degree of a long one.

    A tile covers half a step around its heights, so that those whose cells adjoin leave no gap.
    """
    covered = sorted(
        (tile.west_deg + turn - edge, tile.east_deg + turn + edge)
        for tile, turn in near
        for edge, rise in [(tile.column_step_deg * 0.501, tile.row_step_deg * 0.501)]
        if tile.south_deg - rise <= latitude_deg <= tile.north_deg + rise
    )
    at = across[0]
    for west, east in (*covered, (across[1], across[1])):
        if west > at:
            yield from (at, *range(ceil(at), ceil(min(west, across[1]))))
        at = max(at, east)
        if at >= across[1]:
            return


def _narrowing(limits: tuple[float, float]) -> float:
    """How much shorter a degree of longitude is than one of latitude, at the most, at a pair of latitudes."""
    from math import cos, radians

    return max(0.05, cos(radians(min(89.0, max(map(abs, limits))))))
