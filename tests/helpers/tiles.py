"""Tiles of invented heights, written byte by byte by the formats' own pages, and the terrain of the examples.

`python tests/helpers/tiles.py FOLDER` writes the terrain of the examples' islands.
"""

from __future__ import annotations

import sys
from array import array
from collections.abc import Callable, Iterator, Mapping
from math import exp
from pathlib import Path
from struct import pack
from zlib import compress

Height = Callable[[int, int], float]
"""The height at a row, counted from the north, and a column."""


def flat(row: int, column: int) -> float:
    del row, column
    return 0.0


def peaks(heights: Mapping[tuple[int, int], float]) -> Height:
    """A plain at sea level with some heights at a row and column each."""
    return lambda row, column: heights.get((row, column), 0.0)


def write_srtm(folder: Path, name: str, heights: Mapping[tuple[int, int], float], rows: int = 1201) -> Path:
    """An SRTM tile at sea level with some heights, in metres."""
    cells = bytearray(2 * rows * rows)
    for (row, column), height in heights.items():
        cells[2 * (row * rows + column) : 2 * (row * rows + column) + 2] = pack(">h", int(height))
    path = folder / f"{name}.hgt"
    path.write_bytes(bytes(cells))
    return path


def write_dted(path: Path, corner: str, rows: int, columns: int, height: Height, *, accuracy: str = "0016") -> Path:
    """A DTED cell of whole degrees by MIL-PRF-89020B, 3.13, its south-west `corner` as `0720000W0440000N`.

    UHL: sentinel, origin, intervals in tenths of seconds, accuracy, counts. DSI: sentinel, WGS84 at 145, angle at 265.
    """
    intervals = f"{36000 // (columns - 1):04d}{36000 // (rows - 1):04d}"
    label = f"UHL1{corner}{intervals}{accuracy}U  {'':12}{columns:04d}{rows:04d}0".ljust(80)
    identification = f"{'DSIU':144}WGS84".ljust(264) + "0000000.0"
    records = bytearray((label + identification.ljust(648) + "ACC".ljust(2700)).encode("ascii"))
    for column in range(columns):
        metres = [int(height(row, column)) for row in reversed(range(rows))]
        body = pack(">BxHHH", 0xAA, column, column, 0) + b"".join(
            pack(">H", abs(one) | (0x8000 if one < 0 else 0)) for one in metres
        )
        records += body + pack(">i", sum(body))
    path.write_bytes(bytes(records))
    return path


def write_geotiff(
    path: Path,
    north_deg: float,
    west_deg: float,
    size: tuple[int, int],
    step_deg: float,
    height: Height,
    *,
    code: str = "h",
    order: str = "<",
    tile: int = 0,
    strip_rows: int = 0,
    points: bool = True,
    unit: int | None = None,
    no_data: str | None = None,
    predictor: int | None = None,
    changed: Mapping[int, tuple[int, tuple[float, ...]]] | None = None,
) -> Path:
    """A GeoTIFF of rows and columns, its first height at `north_deg`, `west_deg`, by TIFF 6.0 and OGC 19-008.

    `tile` writes square tiles of that size, `strip_rows` strips of so many rows. `changed` replaces or adds fields
    by their tag: type and values. `predictor` compresses by Deflate over differences of that kind, 1 for none.
    """
    rows, columns = size
    side = tile or columns
    deep = tile or strip_rows or rows
    blocks = []
    for top in range(0, rows, deep):
        for left in range(0, columns, side):
            bottom = top + deep if tile else min(top + deep, rows)
            cells = (
                height(row, column) if row < rows and column < columns else 0
                for row in range(top, bottom)
                for column in range(left, left + side)
            )
            block = array(code, cells if code == "f" else (int(cell) for cell in cells))
            if predictor is not None:
                blocks.append(compress(b"".join(_differences(block, side, predictor, order))))
                continue
            if (order == ">") != (sys.byteorder == "big"):
                block.byteswap()
            blocks.append(block.tobytes())
    shift = 0.0 if points else step_deg / 2.0
    keys = [1, 1, 0, 3 if unit else 2, 1024, 0, 1, 2, 1025, 0, 1, 2 if points else 1]
    keys += [4099, 0, 1, unit] if unit else []
    form = {"h": (16, 2), "H": (16, 1), "i": (32, 2), "I": (32, 1), "f": (32, 3)}[code]
    starts = [8 + sum(map(len, blocks[:number])) for number in range(len(blocks))]
    lengths = list(map(len, blocks))
    fields: dict[int, tuple[int, tuple[float, ...]]] = {
        256: (4, (columns,)),
        257: (4, (rows,)),
        258: (3, (form[0],)),
        259: (3, (1 if predictor is None else 8,)),
        277: (3, (1,)),
        339: (3, (form[1],)),
        33550: (12, (step_deg, step_deg, 0.0)),
        33922: (12, (0.0, 0.0, 0.0, west_deg - shift, north_deg + shift, 0.0)),
        34735: (3, tuple(keys)),
    }
    if tile:
        fields |= {322: (4, (tile,)), 323: (4, (tile,)), 324: (4, tuple(starts)), 325: (4, tuple(lengths))}
    else:
        fields |= {273: (4, tuple(starts)), 278: (4, (deep,)), 279: (4, tuple(lengths))}
    if predictor is not None:
        fields[317] = (3, (predictor,))
    if no_data is not None:
        fields[42113] = (2, tuple((no_data + "\0").encode("ascii")))
    fields |= changed or {}
    path.write_bytes(_whole(order, b"".join(blocks), fields))
    return path


def _differences(block: array[int] | array[float], columns: int, predictor: int, order: str) -> Iterator[bytes]:
    """The rows of a block as differences: TIFF 6.0, section 14, and for fractions Adobe Technical Note 3."""
    size = block.itemsize
    for start in range(0, len(block), columns):
        row = block[start : start + columns].tolist()
        if predictor == 3:
            samples = pack(f">{columns}f", *row)
            planes = b"".join(samples[place::size] for place in range(size))
            yield bytes((one - before) & 255 for before, one in zip(b"\0" + planes, planes, strict=False))
        elif predictor == 2:
            steps = [(int(one) - int(before)) % (1 << 8 * size) for before, one in zip([0, *row], row, strict=False)]
            yield pack(f"{order}{columns}{'H' if size == 2 else 'I'}", *steps)
        else:
            yield pack(f"{order}{columns}{block.typecode}", *row)


def _whole(order: str, blocks: bytes, fields: Mapping[int, tuple[int, tuple[float, ...]]]) -> bytes:
    """The file: header, blocks, directory, and the values that do not fit into the directory."""
    code = {2: "B", 3: "H", 4: "I", 12: "d"}
    at = 8 + len(blocks)
    beyond = at + 2 + 12 * len(fields) + 4
    directory, values = pack(f"{order}H", len(fields)), b""
    for tag, (kind, numbers) in sorted(fields.items()):
        data = pack(f"{order}{len(numbers)}{code[kind]}", *numbers)
        if len(data) > 4:
            directory += pack(f"{order}HHII", tag, kind, len(numbers), beyond + len(values))
            values += data
        else:
            directory += pack(f"{order}HHI", tag, kind, len(numbers)) + data.ljust(4, b"\0")
    mark = b"II" if order == "<" else b"MM"
    return mark + pack(f"{order}HI", 42, at) + blocks + directory + pack(f"{order}I", 0) + values


ISLANDS = (
    # north, west, top in feet, radius in minutes of latitude
    (46 + 12.3 / 60, 39 + 20.7 / 60, 860, 5.0),
    (46 + 14.5 / 60, 39 + 7.2 / 60, 830, 5.0),
    (46 + 6.0 / 60, 38 + 58.0 / 60, 1240, 4.0),
    (45 + 44.0 / 60, 39 + 33.0 / 60, 400, 5.0),
    (45 + 41.0 / 60, 39 + 20.0 / 60, 330, 3.5),
    (45 + 52.0 / 60, 38 + 38.0 / 60, 140, 3.0),
    (45 + 54.0 / 60, 39 + 6.0 / 60, 2110, 6.0),
)
"""The invented islands of the examples: hills in an empty stretch of ocean."""


def island_height_m(row: int, column: int) -> float:
    """The height at a minute of latitude and longitude; sea where no hill is."""
    latitude_deg, longitude_deg = 47.0 - row / 60.0, 41.0 - column / 60.0
    feet = 0.0
    for north, west, top_ft, radius_min in ISLANDS:
        far_min = 60.0 * ((latitude_deg - north) ** 2 + (0.7 * (longitude_deg - west)) ** 2) ** 0.5
        feet = max(feet, top_ft * exp(-((2.0 * far_min / radius_min) ** 2)) - 20.0)
    return round(feet * 0.3048)


def write_islands(folder: Path) -> Path:
    """The terrain of the examples, N45 to N47 and W041 to W038, a height a minute."""
    return write_geotiff(folder / "islands.tif", 47.0, -41.0, (121, 181), 1 / 60, island_height_m, strip_rows=16)


if __name__ == "__main__":
    write_islands(Path(sys.argv[1]))
