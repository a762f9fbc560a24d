"""Tiles of terrain heights, read by rows from files that stay open: SRTM, DTED, and GeoTIFF in degrees.

SRTM (NASA and USGS, "SRTM Topography" documentation), `.hgt`: one degree a tile, named by its south-west corner, 1201
or 3601 rows of as many big-endian 16-bit heights in metres, the first row north, edges shared with the neighbours,
-32768 for a void. DTED (MIL-PRF-89020B, 23 May 2000), `.dt0` to `.dt2`: three headers, then a record a meridian, the
first west, of big-endian heights in metres from south to north, the highest bit their sign. GeoTIFF: TIFF revision 6.0
and OGC 19-008, one band of 16 or 32 bits, strips or tiles, plain or by Deflate.
"""

from __future__ import annotations

import re
import sys
from array import array
from collections.abc import Callable
from functools import lru_cache
from math import isnan
from pathlib import Path
from typing import Any

from msgspec import Struct

from navlog.nav.deflated import DEFLATE, Packing, inflated, summed
from navlog.nav.tilefile import TileFile, UnreadableTileError, first_part, heights_part, opened_tile
from navlog.nav.units import FOOT_M

_SRTM_NAME = re.compile(r"([NS])(\d{2})([EW])(\d{3})\.hgt", re.IGNORECASE)
# The file has no header: its size alone tells 3 seconds from 1.
_SRTM_SIZES = {2 * rows * rows: rows for rows in (1201, 3601)}
_SRTM_VOID = -32768.0
_SRTM_TOLERANCE_FT = 16.0 / FOOT_M
"""The heights' absolute error at 90 % of places: Farr and others, The Shuttle Radar Topography Mission, 2007."""

_LOWEST_FT, _HIGHEST_FT = -2000.0, 30_000.0
"""Beyond the shore of the Dead Sea and the top of Mount Everest: no height of ground."""

_METRES, _FEET, _SURVEY_FEET = 9001, 9002, 9003
_TO_FEET = {_METRES: 1.0 / FOOT_M, _FEET: 1.0, _SURVEY_FEET: 1200.0 / 3937.0 / FOOT_M}
"""EPSG codes of units of length, and how many feet each is."""

_GEOGRAPHIC, _POINTS = 2, 2
"""GeoTIFF: GTModelTypeGeoKey of latitude and longitude, GTRasterTypeGeoKey of heights at points."""

_TYPES = {(16, 1): "H", (16, 2): "h", (32, 1): "I", (32, 2): "i", (32, 3): "f"}
"""Codes of `array` by TIFF's bits a sample and sample format."""

_LARGEST_BLOCK = 1 << 28
"""Bytes; no block of heights has more, and a damaged size must not fill the memory."""

_FIELDS = {1: "B", 2: "s", 3: "H", 4: "I", 12: "d"}
"""Codes of `struct` by TIFF's types of a field."""


class Tile(Struct, frozen=True):
    """Where a tile's heights stand: `rows` from `north_deg` down, `columns` from `west_deg` on, one a step.

    `tolerance_ft` is how far off its source says the heights may be, None where it says nothing. `blocks` says
    where each strip or tile begins in the file; a block is `block_rows` by `block_columns`. Compressed ones take the
    bytes that `lengths` says, and `packing` tells how.
    """

    path: Path
    north_deg: float
    west_deg: float
    rows: int
    columns: int
    row_step_deg: float
    column_step_deg: float
    code: str = "h"
    big_endian: bool = True
    feet_each: float = 1.0 / FOOT_M
    void: float | None = _SRTM_VOID
    tolerance_ft: float | None = _SRTM_TOLERANCE_FT
    blocks: tuple[int, ...] = (0,)
    block_rows: int = 0
    block_columns: int = 0
    lengths: tuple[int, ...] = ()
    packing: Packing | None = None

    @property
    def name(self) -> str:
        """The file's own name."""
        return self.path.name

    @property
    def south_deg(self) -> float:
        """The latitude of the last row."""
        return self.north_deg - (self.rows - 1) * self.row_step_deg

    @property
    def east_deg(self) -> float:
        """The longitude of the last column."""
        return self.west_deg + (self.columns - 1) * self.column_step_deg

    def latitude_deg(self, row: int) -> float:
        """The latitude of a row."""
        return self.north_deg - row * self.row_step_deg

    def longitude_deg(self, column: int) -> float:
        """The longitude of a column."""
        return self.west_deg + column * self.column_step_deg

    def heights(self, row: int, first: int, last: int) -> array[int] | array[float]:
        """The heights of columns `first` up to and with `last` of a row, as the file counts them."""
        size = array(self.code).itemsize
        found: array[int] | array[float] = array(self.code)
        # The last block of a row of blocks may be cut: rounded up.
        across = -(-self.columns // self.block_columns)
        for block in range(first // self.block_columns, last // self.block_columns + 1):
            left = block * self.block_columns
            begin = max(first - left, 0)
            end = min(last - left, self.block_columns - 1) + 1
            # Strips are blocks as wide as the tile, so one reckoning serves both (TIFF 6.0, section 15).
            number, at = row // self.block_rows * across + block, row % self.block_rows
            wide = self.block_columns * size
            if self.packing is None:
                start = self.blocks[number] + at * wide
                found.frombytes(heights_part(self.path, start + begin * size, (end - begin) * size))
            else:
                packed = self.blocks[number], self.lengths[number], self.block_rows * wide
                read = _packed_row(self.path, packed, at * wide, wide, self.packing)
                # Damaged: bytes that in either order make no number, or one that no ground has.
                read = read or (b"\xff" if self.code == "f" else b"\x80") * wide
                found.frombytes(read[begin * size : end * size])
        if self.big_endian != (sys.byteorder == "big"):
            found.byteswap()
        return found

    def is_void(self, height: float) -> bool:
        """Whether a height says that none is known, or is none that ground on the earth has."""
        return isnan(height) or height == self.void or not _LOWEST_FT <= height * self.feet_each <= _HIGHEST_FT

    def has_void(self, heights: array[int] | array[float]) -> bool:
        """Whether any of several heights is void."""
        # What is no number compares with nothing, but makes no number of a sum.
        if self.code == "f" and isnan(sum(heights)):
            return True
        return any(map(self.is_void, (min(heights), max(heights)))) or self.void in heights


_DTED_START, _DTED_HEAD, _DTED_FOOT = 80 + 648 + 2700, 8, 4
"""Where the first record begins, behind the headers UHL, DSI and ACC, and the bytes before and after its heights."""


def _dted_record(rows: int) -> int:
    """How many bytes a meridian takes."""
    return _DTED_HEAD + 2 * rows + _DTED_FOOT


class _DtedTile(Tile, frozen=True):
    """A tile whose heights stand by meridians, the sign apart from the number."""

    def heights(self, row: int, first: int, last: int) -> array[int]:
        """The heights of columns `first` up to and with `last` of a row, metres."""
        record = _dted_record(self.rows)
        data = first_part(self.path, _DTED_START + self.columns * record)
        at = _DTED_START + first * record + _DTED_HEAD + 2 * (self.rows - 1 - row)
        end = at + (last - first) * record + 1
        pairs = zip(data[at:end:record], data[at + 1 : end + 1 : record], strict=True)
        return array("h", ((-1 if high & 128 else 1) * ((high & 127) << 8 | low) for high, low in pairs))


def read_tile(path: Path) -> Tile | None:
    """The tile in a file of a name that tiles have, None for other names; raises UnreadableTileError."""
    suffix = path.suffix.lower()
    if suffix == ".hgt":
        return _srtm_tile(path)
    if suffix in (".dt0", ".dt1", ".dt2"):
        return _dted_tile(path)
    return _geotiff_tile(path) if suffix in (".tif", ".tiff") else None


def _srtm_tile(path: Path) -> Tile:
    named = _SRTM_NAME.fullmatch(path.name)
    if named is None:
        raise UnreadableTileError("its name does not say which degree it is of, as N44W072.hgt does")
    rows = _SRTM_SIZES.get(len(opened_tile(path)))
    if rows is None:
        raise UnreadableTileError("it is not 1201 by 1201 or 3601 by 3601 heights of two bytes")
    south = int(named[2]) * (1 if named[1] in "Nn" else -1)
    west = int(named[4]) * (1 if named[3] in "Ee" else -1)
    if not (-90 <= south < 90 and -180 <= west < 180):
        raise UnreadableTileError("there is no such degree of latitude and longitude")
    step = 1.0 / (rows - 1)
    return Tile(path, south + 1.0, float(west), rows, rows, step, step, block_rows=rows, block_columns=rows)


_DTED_DEGREE = re.compile(rb"(\d{3})(\d{2})(\d{2})([NSEW])")


def _dted_tile(path: Path) -> Tile:
    opened = opened_tile(path)
    data = opened.part(0, _DTED_START)
    label = data[:80]
    west, south = (_DTED_DEGREE.fullmatch(label[at : at + 8]) for at in (4, 12))
    figures = [label[at : at + 4] for at in (20, 24, 47, 51)]
    if label[:4] != b"UHL1" or west is None or south is None or not all(one.isdigit() for one in figures):
        raise UnreadableTileError("it does not begin with the label of a DTED file")
    # Of the second header: what its places are measured by, and by how much its grid is turned.
    if data[224:229] not in (b"WGS84", b"WGS72") or data[344:353].strip(b"0. "):
        raise UnreadableTileError("its places are not by WGS 84, or its rows do not run east")
    across, up, columns, rows = map(int, figures)
    record = _dted_record(rows)
    end = _DTED_START + columns * record
    if 0 in (across, up, columns, rows) or len(opened) < end:
        raise UnreadableTileError("it is cut short")
    if set(first_part(path, end)[_DTED_START::record]) != {0xAA}:
        raise UnreadableTileError("a record does not begin where it must")
    west_deg, south_deg = (
        (int(one[1]) + int(one[2]) / 60.0 + int(one[3]) / 3600.0) * (1.0 if one[4] in b"NE" else -1.0)
        for one in (west, south)
    )
    # Intervals are tenths of seconds; the accuracy is metres at 90 % of places, or is not available.
    step_deg, sure = up / 36000.0, label[28:32].strip()
    return _DtedTile(
        path=path,
        north_deg=south_deg + (rows - 1) * step_deg,
        west_deg=west_deg,
        rows=rows,
        columns=columns,
        row_step_deg=step_deg,
        column_step_deg=across / 36000.0,
        void=-32767.0,
        tolerance_ft=int(sure) / FOOT_M if sure.isdigit() else None,
    )


def _geotiff_tile(path: Path) -> Tile:
    opened = opened_tile(path)
    order, read = _fields(opened)
    number = _numbers(read)
    # Tags of TIFF 6.0: 256 and 257 size, 258 bits, 259 compression, 273 and 324 blocks, 277 bands, 339 sample format.
    compression = number(259, 1)
    if compression not in (1, *DEFLATE):
        raise UnreadableTileError("its heights are compressed; save it without compression, or by Deflate")
    if number(277, 1) != 1:
        raise UnreadableTileError("it has several bands; save the heights alone")
    code = _TYPES.get((number(258, 1), number(339, 1)))
    columns, rows = number(256), number(257)
    if code is None or columns < 1 or rows < 1:
        raise UnreadableTileError("its heights are not whole numbers of 16 or 32 bits, nor 32-bit fractions")
    keys = _geo_keys(read(34735))
    # Keys of OGC 19-008: 1024 model type, 1025 cells or points, 4099 vertical unit; metres where it is not said.
    if keys.get(1024) != _GEOGRAPHIC:
        raise UnreadableTileError("it is not in degrees of latitude and longitude")
    feet_each = _TO_FEET.get(keys.get(4099, _METRES))
    if feet_each is None:
        raise UnreadableTileError("its heights are neither in metres nor in feet")
    scale, tie = read(33550), read(33922)
    # More tie points, or a matrix in place of the scale, mean a turned or bent picture, which is not read here.
    if len(scale) < 2 or len(tie) != 6 or not (scale[0] > 0.0 and scale[1] > 0.0):
        raise UnreadableTileError("it does not say where it lies by one corner and the size of a cell")
    size = array(code).itemsize
    packing = None if compression == 1 else Packing(size, order == ">", number(317, 1))
    if packing is not None and not packing.known:
        raise UnreadableTileError("its heights are compressed over differences of an unknown kind")
    # A cell's height stands at its middle, where the file counts cells by their corners.
    middle = 0.0 if keys.get(1025) == _POINTS else 0.5
    tiled = number(322, 0) > 0
    tile = Tile(
        path=path,
        north_deg=tie[4] + (tie[1] - middle) * scale[1],
        west_deg=tie[3] - (tie[0] - middle) * scale[0],
        rows=rows,
        columns=columns,
        row_step_deg=scale[1],
        column_step_deg=scale[0],
        code=code,
        big_endian=order == ">",
        feet_each=feet_each,
        void=_no_data(read(42113)),
        tolerance_ft=None,
        blocks=tuple(int(start) for start in read(324 if tiled else 273)),
        block_rows=number(323) if tiled else min(number(278, rows), rows),
        block_columns=number(322) if tiled else columns,
        lengths=() if packing is None else tuple(int(one) for one in read(325 if tiled else 279)),
        packing=packing,
    )
    _check_blocks(tile, len(opened), size)
    return tile


def _check_blocks(tile: Tile, length: int, size: int) -> None:
    """Raises where a block, or the last row of it, lies outside the file, or the tile outside the world."""
    if not (tile.north_deg <= 90.1 and tile.south_deg >= -90.1 and abs(tile.west_deg) <= 360.0):
        raise UnreadableTileError("it lies outside the world")
    if tile.column_step_deg * tile.columns > 361.0 or tile.block_rows < 1 or tile.block_columns < 1:
        raise UnreadableTileError("it lies outside the world")
    across = -(-tile.columns // tile.block_columns)
    down = -(-tile.rows // tile.block_rows)
    whole = tile.block_rows * tile.block_columns * size
    if len(tile.blocks) != across * down or whole > _LARGEST_BLOCK:
        raise UnreadableTileError("it is cut short")
    if tile.packing is not None:
        # A block of no bytes is one that was left out: it has no heights.
        ends = [start + many for start, many in zip(tile.blocks, tile.lengths, strict=False)]
        if len(tile.lengths) != len(tile.blocks) or max(ends) > length:
            raise UnreadableTileError("it is cut short")
        return
    for number, start in enumerate(tile.blocks):
        last_rows = tile.rows - number // across * tile.block_rows
        # Tiles are padded to full size, the last strip holds the rows that are left (TIFF 6.0, sections 3 and 15).
        used = whole if tile.block_columns < tile.columns else min(whole, last_rows * tile.block_columns * size)
        if start < 8 or start + used > length:
            raise UnreadableTileError("it is cut short")


_Field = tuple[float, ...]


def _fields(opened: TileFile) -> tuple[str, Callable[[int], _Field]]:
    """The order of bytes of a TIFF, and what reads a field of its first directory by its tag.

    That is the field's numbers, or the bytes of a text.
    """
    from struct import calcsize, error, unpack

    def unpacked(form: str, at: int) -> tuple[Any, ...]:
        return unpack(form, opened.part(at, calcsize(form)))

    order = {b"II": "<", b"MM": ">"}.get(opened.part(0, 2))
    try:
        if order is None or unpacked(order + "H", 2)[0] != 42:
            raise UnreadableTileError("it is no TIFF of the classic form")
        (at,) = unpacked(order + "I", 4)
        entries = {}
        for number in range(unpacked(order + "H", at)[0]):
            tag, kind, count = unpacked(order + "HHI", at + 2 + 12 * number)
            entries[tag] = (kind, count, at + 2 + 12 * number + 8)
    except error:
        raise UnreadableTileError("it is cut short") from None

    def read(tag: int) -> _Field:
        kind, count, place = entries.get(tag, (1, 0, 0))
        code = _FIELDS.get(kind)
        # Before any number is read: a damaged count would ask for gigabytes.
        if code is None or count > 1_000_000:
            raise UnreadableTileError(f"its field {tag} is of no known form")
        form = f"{order}{count}{'B' if code == 's' else code}"
        try:
            # What fits into four bytes stands in the entry itself, else its place does (TIFF 6.0, section 2).
            if calcsize(form) > 4:
                (place,) = unpacked(f"{order}I", place)
            return unpacked(form, place) if count else ()
        except error:
            raise UnreadableTileError("it is cut short") from None

    return order, read


def _numbers(read: Callable[[int], _Field]) -> Callable[..., int]:
    """What reads a field of one whole number, with the number that stands where the field is missing."""

    def number(tag: int, missing: int | None = None) -> int:
        found = read(tag)
        if not found and missing is None:
            raise UnreadableTileError(f"its field {tag} is missing")
        return int(found[0]) if found else int(missing or 0)

    return number


def _geo_keys(directory: _Field) -> dict[int, int]:
    """The keys of a GeoTIFF that hold a number themselves."""
    # The first four numbers are a header; then four a key, and location 0 says that the value stands here (OGC 19-008).
    keys = zip(directory[4::4], directory[5::4], directory[7::4], strict=False)
    return {int(key): int(value) for key, where, value in keys if where == 0}


def _no_data(text: _Field) -> float | None:
    """The number that stands for no height, written as text."""
    try:
        return float(bytes(int(one) for one in text).rstrip(b"\0 ").decode("ascii")) if text else None
    except ValueError:
        raise UnreadableTileError("what stands for no height is no number") from None


@lru_cache(maxsize=16)
def _inflated(path: Path, packed: tuple[int, int, int]) -> bytes:
    """A compressed block, by where it stands, how long it is, and how long it is when it is not compressed."""
    start, length, whole = packed
    return inflated(heights_part(path, start, length), whole)


@lru_cache(maxsize=8192)
def _packed_row(path: Path, packed: tuple[int, int, int], at: int, wide: int, packing: Packing) -> bytes:
    """A row of a compressed block, `at` bytes behind its start; empty where the block is damaged before its end."""
    row = _inflated(path, packed)[at : at + wide]
    return summed(row, packing) if len(row) == wide else b""
