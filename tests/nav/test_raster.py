"""Tiles of heights as the formats' own pages write them: TIFF 6.0, OGC 19-008 and SRTM."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.tiles import flat, peaks, write_dted, write_geotiff, write_islands, write_srtm

from navlog.nav.raster import _SRTM_TOLERANCE_FT, Tile, read_tile
from navlog.nav.tilefile import UnreadableTileError

ROOT = Path(__file__).parents[2]


def slope(row: int, column: int) -> float:
    return 100.0 * row + column


def rows_of(tile: Tile) -> list[list[float]]:
    return [list(tile.heights(row, 0, tile.columns - 1)) for row in range(tile.rows)]


def read(path: Path) -> Tile:
    tile = read_tile(path)
    assert tile is not None
    return tile


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("code", ["h", "H", "i", "I", "f"])
@pytest.mark.parametrize(
    ("strip_rows", "side"), [(0, 0), (3, 0), (0, 16)], ids=["one strip", "strips of three rows", "tiles of sixteen"]
)
def test_a_geotiff_is_read_however_it_is_laid_out(
    tmp_path: Path, order: str, code: str, strip_rows: int, side: int
) -> None:
    path = write_geotiff(
        tmp_path / "a.tif", 45.0, -72.0, (20, 35), 0.01, slope, code=code, order=order, tile=side, strip_rows=strip_rows
    )
    tile = read(path)
    assert rows_of(tile) == [[slope(row, column) for column in range(35)] for row in range(20)]
    assert list(tile.heights(7, 14, 18)) == [714.0, 715.0, 716.0, 717.0, 718.0]
    assert (tile.latitude_deg(0), tile.longitude_deg(0)) == pytest.approx((45.0, -72.0))
    assert (tile.latitude_deg(19), tile.longitude_deg(34)) == pytest.approx((44.81, -71.66))


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize(("code", "predictor"), [("h", 1), ("h", 2), ("H", 2), ("i", 2), ("I", 2), ("f", 1), ("f", 3)])
@pytest.mark.parametrize(("strip_rows", "side"), [(3, 0), (0, 16)], ids=["strips of three rows", "tiles of sixteen"])
def test_a_geotiff_by_deflate_is_read_over_each_kind_of_differences(
    tmp_path: Path, order: str, code: str, predictor: int, strip_rows: int, side: int
) -> None:
    """Down and up again, below the sea where numbers may be; halves of metres in fractions."""
    low = 0.0 if code in "HI" else -90.0

    def height(row: int, column: int) -> float:
        return low + 100.0 * row + (37 * column) % 23 + (0.5 if code == "f" else 0.0)

    layout = {"code": code, "order": order, "tile": side, "strip_rows": strip_rows}
    tile = read(
        write_geotiff(tmp_path / "a.tif", 45.0, -72.0, (20, 35), 0.01, height, predictor=predictor, **layout)  # type: ignore[arg-type]
    )
    assert rows_of(tile) == [[height(row, column) for column in range(35)] for row in range(20)]
    assert list(tile.heights(7, 14, 18)) == [height(7, column) for column in range(14, 19)]


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("code", ["h", "H", "i", "I", "f"])
def test_a_damaged_block_has_no_heights_and_is_no_low_ground(tmp_path: Path, code: str, order: str) -> None:
    path = write_geotiff(
        tmp_path / "a.tif", 45.0, -72.0, (8, 8), 0.01, flat, code=code, order=order, strip_rows=4, predictor=1
    )
    damaged = bytearray(path.read_bytes())
    damaged[10:14] = b"\xff\xff\xff\xff"
    path.write_bytes(bytes(damaged))
    tile = read(path)
    assert all(tile.is_void(one) for one in tile.heights(0, 0, 7))
    assert tile.has_void(tile.heights(0, 0, 7))
    assert list(tile.heights(5, 0, 7)) == [0.0] * 8


def test_a_height_stands_at_the_middle_of_a_cell_where_cells_are_areas(tmp_path: Path) -> None:
    """OGC 19-008: the tie point is a corner of the first cell with RasterPixelIsArea, its middle with PixelIsPoint."""
    for points in (True, False):
        tile = read(write_geotiff(tmp_path / "a.tif", 45.0, -72.0, (3, 3), 0.01, flat, points=points))
        assert (tile.north_deg, tile.west_deg) == pytest.approx((45.0, -72.0))


@pytest.mark.parametrize(
    ("unit", "feet"),
    [
        pytest.param(None, 100.0 / 0.3048, id="metres where nothing is said"),
        pytest.param(9001, 100.0 / 0.3048, id="EPSG 9001, metre"),
        pytest.param(9002, 100.0, id="EPSG 9002, foot"),
        pytest.param(9003, 100.0 * 1200.0 / 3937.0 / 0.3048, id="EPSG 9003, US survey foot"),
    ],
)
def test_heights_are_metres_unless_the_file_says_feet(tmp_path: Path, unit: int | None, feet: float) -> None:
    tile = read(write_geotiff(tmp_path / "a.tif", 45.0, -72.0, (3, 3), 0.01, peaks({(1, 1): 100}), unit=unit))
    assert max(tile.heights(1, 0, 2)) * tile.feet_each == pytest.approx(feet)


@pytest.mark.parametrize(
    ("code", "no_data", "height", "void"),
    [
        ("h", None, -32768, True),
        ("h", "-9999", -9999, True),
        ("h", "0", 0, True),
        ("h", None, 0, False),
        ("f", "nan", float("nan"), True),
        ("f", None, 3.4e38, True),
        ("h", None, -430, False),
        ("h", None, 8849, False),
    ],
)
def test_a_void_is_what_the_file_says_or_what_no_ground_is(
    tmp_path: Path, code: str, no_data: str | None, height: float, void: bool
) -> None:
    """The shore of the Dead Sea is 430 m below the sea, Mount Everest 8,849 m above it."""
    surface = peaks({(0, 0): 5.0, (0, 2): 5.0, (0, 1): height})
    tile = read(write_geotiff(tmp_path / "a.tif", 45.0, 8.0, (1, 3), 0.01, surface, code=code, no_data=no_data))
    assert tile.has_void(tile.heights(0, 0, 2)) is void
    assert [tile.is_void(one) for one in tile.heights(0, 0, 2)] == [False, void, False]


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({259: (3, (5,))}, "compressed"),
        ({277: (3, (3,))}, "several bands"),
        ({258: (3, (8,)), 339: (3, (1,))}, "16 or 32 bits"),
        ({34735: (3, (1, 1, 0, 1, 1024, 0, 1, 1))}, "not in degrees"),
        ({34735: (3, (1, 1, 0, 2, 1024, 0, 1, 2, 4099, 0, 1, 9036))}, "neither in metres nor in feet"),
        ({33550: (12, (0.0, 0.0, 0.0))}, "where it lies"),
        ({33922: (12, (0.0, 0.0, 0.0, -72.0, 99.0, 0.0))}, "outside the world"),
        ({273: (4, (8_000_000,))}, "cut short"),
        ({257: (4, (400,))}, "cut short"),
        ({42113: (2, tuple(b"none\0"))}, "no number"),
    ],
)
def test_what_is_no_tile_of_heights_says_why(
    tmp_path: Path, changed: dict[int, tuple[int, tuple[float, ...]]], why: str
) -> None:
    path = write_geotiff(tmp_path / "a.tif", 45.0, -72.0, (20, 35), 0.01, flat, changed=changed)
    with pytest.raises(UnreadableTileError, match=why):
        read(path)


@pytest.mark.parametrize("kept", [0, 3, 8, 100, -1, -40])
def test_a_file_cut_short_is_refused(tmp_path: Path, kept: int) -> None:
    path = write_geotiff(tmp_path / "whole.tif", 45.0, -72.0, (20, 35), 0.01, flat)
    cut = tmp_path / f"cut{kept}.tif"
    cut.write_bytes(path.read_bytes()[:kept])
    with pytest.raises(UnreadableTileError):
        read(cut)


@pytest.mark.parametrize("name", ["N44W072", "n44w072", "S01E180", "N91E000"])
def test_an_srtm_tile_lies_where_its_name_says(tmp_path: Path, name: str) -> None:
    path = write_srtm(tmp_path, name, {(0, 0): 100, (1200, 1200): -5})
    if name in ("S01E180", "N91E000"):
        with pytest.raises(UnreadableTileError, match="no such degree"):
            read(path)
        return
    tile = read(path)
    assert (tile.north_deg, tile.west_deg, tile.south_deg, tile.east_deg) == pytest.approx((45.0, -72.0, 44.0, -71.0))
    assert (tile.heights(0, 0, 0)[0], tile.heights(1200, 1200, 1200)[0]) == (100, -5)
    assert pytest.approx(52.49, abs=0.01) == _SRTM_TOLERANCE_FT


def test_an_srtm_tile_of_one_second_has_3601_rows(tmp_path: Path) -> None:
    tile = read(write_srtm(tmp_path, "N44W072", {(3600, 7): 12}, rows=3601))
    assert (tile.rows, tile.heights(3600, 6, 8).tolist()) == (3601, [0, 12, 0])


def test_a_file_of_another_size_or_name_is_no_srtm_tile(tmp_path: Path) -> None:
    (tmp_path / "N44W072.hgt").write_bytes(b"\0" * 100)
    (tmp_path / "peak.hgt").write_bytes(b"\0" * 100)
    with pytest.raises(UnreadableTileError, match="1201 by 1201"):
        read_tile(tmp_path / "N44W072.hgt")
    with pytest.raises(UnreadableTileError, match="its name"):
        read_tile(tmp_path / "peak.hgt")
    assert read_tile(tmp_path / "notes.txt") is None


def test_the_terrain_of_the_examples_is_what_its_writer_writes(tmp_path: Path) -> None:
    shipped = (ROOT / "examples" / "terrain" / "islands.tif").read_bytes()
    assert shipped == write_islands(tmp_path).read_bytes()


def test_dted_is_read_by_meridians_from_the_south_with_the_sign_apart(tmp_path: Path) -> None:
    """MIL-PRF-89020B, 3.11: 13 rows of 5 minutes and 7 columns of 10, below the sea and without a height too."""
    below = {(3, 2): -5.0, (4, 2): -32767.0}
    tile = read(
        write_dted(
            tmp_path / "a.dt1",
            "0720000W0440000N",
            13,
            7,
            lambda row, column: below.get((row, column), 10 * row + column),
        )
    )
    assert rows_of(tile)[12] == [120.0, 121.0, 122.0, 123.0, 124.0, 125.0, 126.0]
    assert list(tile.heights(3, 1, 3)) == [31.0, -5.0, 33.0]
    assert [tile.is_void(one) for one in tile.heights(4, 1, 3)] == [False, True, False]
    corners = tile.north_deg, tile.south_deg, tile.west_deg, tile.east_deg
    assert corners == pytest.approx((45.0, 44.0, -72.0, -71.0))
    assert tile.tolerance_ft == pytest.approx(16.0 / 0.3048)
    assert read(write_dted(tmp_path / "a.dt0", "0180000E0340000S", 13, 13, flat, accuracy="NA  ")).tolerance_ft is None


@pytest.mark.parametrize(
    ("at", "bytes_there", "message"),
    [
        (0, b"UHL2", "label of a DTED"),
        (4, b"07200xxW", "label of a DTED"),
        (47, b"0000", "cut short"),
        (47, b"0099", "cut short"),
        (80 + 144, b"NAD27", "not by WGS 84"),
        (80 + 264, b"0100000.0", "rows do not run east"),
        (3428, b"\0", "does not begin where it must"),
    ],
)
def test_a_dted_that_is_damaged_or_otherwise_laid_out_is_refused(
    tmp_path: Path, at: int, bytes_there: bytes, message: str
) -> None:
    path = write_dted(tmp_path / "a.dt1", "0720000W0440000N", 13, 7, flat)
    damaged = bytearray(path.read_bytes())
    damaged[at : at + len(bytes_there)] = bytes_there
    path.write_bytes(bytes(damaged))
    with pytest.raises(UnreadableTileError, match=message):
        read(path)
