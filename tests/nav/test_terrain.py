"""The highest ground within a distance of a course, on invented tiles exactly.

Where a place lies from a course is told here by GeographicLib, a second implementation of Karney's geodesics, and by
looking at every place: nothing of the search that is tested.
"""

from __future__ import annotations

from itertools import product
from math import radians, tan
from pathlib import Path
from random import Random

import pytest
from geographiclib.geodesic import Geodesic
from helpers import compared
from helpers.tiles import peaks, write_dted, write_geotiff, write_srtm
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.nav.chart import Position
from navlog.nav.clearance import abeam, below
from navlog.nav.corridor import Corridor
from navlog.nav.earth import direct, offset
from navlog.nav.figures import up
from navlog.nav.terrain import _Ground, highest_within, open_terrain

NM = 1852.0
WGS84 = Geodesic.WGS84


def here(row: int, column: int) -> Position:
    """A height of the tile N44W072 of 3 seconds."""
    return Position(45.0 - row / 1200.0, -72.0 + column / 1200.0)


def searched(folder: Path, corridor: Corridor) -> _Ground:
    return highest_within(open_terrain(str(folder)), corridor)


def from_line_nm(start: Position, end: Position, place: Position) -> float:
    """How far a place is from a geodesic's part between two points: by golden section over the line itself."""
    line = WGS84.InverseLine(start.latitude_deg, start.longitude_deg, end.latitude_deg, end.longitude_deg)

    def away(along_m: float) -> float:
        at = line.Position(along_m)
        return float(WGS84.Inverse(at["lat2"], at["lon2"], place.latitude_deg, place.longitude_deg)["s12"])

    low, high = 0.0, line.s13
    for _ in range(80):
        a, b = low + 0.382 * (high - low), low + 0.618 * (high - low)
        low, high = (low, b) if away(a) < away(b) else (a, high)
    return min(away(low), away(0.0), away(line.s13)) / NM


COURSE = here(700, 200), here(500, 1000)


@pytest.mark.parametrize(
    ("row", "column"),
    [
        pytest.param(560, 480, id="left of the course"),
        pytest.param(700, 700, id="right of it"),
        pytest.param(720, 120, id="behind its start"),
        pytest.param(450, 1090, id="beyond its end"),
        pytest.param(600, 600, id="upon it"),
    ],
)
def test_one_peak_is_found_from_exactly_its_distance_on(tmp_path: Path, row: int, column: int) -> None:
    write_srtm(tmp_path, "N44W072", {(row, column): 1908})
    away_nm = from_line_nm(*COURSE, here(row, column))
    found = searched(tmp_path, Corridor(*COURSE, away_nm + 1e-5)).highest
    missed = searched(tmp_path, Corridor(*COURSE, away_nm - 1e-5)).highest
    assert found is not None
    assert missed is not None
    assert [found.height_ft, missed.height_ft] == pytest.approx([1908 / 0.3048, 0.0])
    assert found.away_nm == pytest.approx(away_nm, abs=1e-6)
    assert found.source == "N44W072.hgt"


def test_a_peak_is_told_by_miles_along_and_the_side(tmp_path: Path) -> None:
    """On the meridian 71 30 W northward, at N44 30; a peak due east lies right, and as far along, to the geodesic."""
    write_srtm(tmp_path, "N44W072", {(600, 660): 500})
    found = searched(tmp_path, Corridor(here(900, 600), here(300, 600), 4.0)).highest
    assert found is not None
    # 15' of latitude on the meridian, by GeographicLib; the foot lies a little beyond the parallel of the peak.
    along_nm = WGS84.Inverse(44.25, -71.5, 44.5, -71.5)["s12"] / NM
    assert found.along_nm == pytest.approx(along_nm, abs=0.002)
    assert found.along_nm > along_nm
    assert found.aside_nm == pytest.approx(WGS84.Inverse(44.5, -71.5, 44.5, -71.45)["s12"] / NM, abs=0.001)


@settings(max_examples=60)
@given(
    st.floats(-70.0, 70.0),
    st.floats(-180.0, 179.9),
    st.floats(0.0, 359.9),
    st.floats(5.0, 90.0),
    st.floats(-1.0, 2.0),
    st.floats(-40.0, 40.0),
)
def test_offset_turns_back_what_was_laid_off(
    latitude_deg: float, longitude_deg: float, course_deg: float, length_nm: float, share: float, aside_nm: float
) -> None:
    """A place laid off by GeographicLib at a right angle from a course lies there."""
    start = Position(latitude_deg, longitude_deg)
    ahead = WGS84.Direct(latitude_deg, longitude_deg, course_deg, length_nm * NM)
    foot = WGS84.Direct(latitude_deg, longitude_deg, course_deg, share * length_nm * NM)
    place = WGS84.Direct(foot["lat2"], foot["lon2"], foot["azi2"] + 90.0, aside_nm * NM)
    told = offset(start, Position(ahead["lat2"], ahead["lon2"]), Position(place["lat2"], place["lon2"]))
    assert told == pytest.approx((share * length_nm, aside_nm), abs=2e-6)


@settings(max_examples=16)
@given(
    st.sampled_from([0.0, 30.0, 61.0, -44.0]),
    st.tuples(st.floats(0.1, 0.5), st.floats(0.1, 0.5), st.floats(0.1, 0.5), st.floats(0.1, 0.5)),
    st.floats(0.05, 9.0),
    st.floats(0.0, 0.3),
    st.booleans(),
    st.integers(0, 2**32),
)
def test_the_search_finds_what_looking_at_every_place_finds(
    tmp_path_factory: pytest.TempPathFactory,
    north_deg: float,
    ends: tuple[float, float, float, float],
    least_nm: float,
    opening: float,
    square: bool,
    seed: int,
) -> None:
    size, step, random = 37, 1.0 / 60.0, Random(seed)
    heights = [[random.randrange(0, 4000) for _ in range(size)] for _ in range(size)]
    folder = tmp_path_factory.mktemp("tiles")
    write_geotiff(folder / "random.tif", north_deg, 10.0, (size, size), step, lambda row, column: heights[row][column])
    start, end = (Position(north_deg - ends[i], 10.0 + ends[i + 1]) for i in (0, 2))
    length_nm = compared.line(start, end)[0]
    if length_nm < 0.01:
        return
    within = []
    for row in range(size):
        for column in range(size):
            place = Position(north_deg - row * step, 10.0 + column * step)
            along_nm, far_nm = offset(start, end, place)
            if along_nm < 0.0 or along_nm > length_nm:
                if square:
                    continue
                along_nm, near = (0.0, start) if along_nm < 0.0 else (length_nm, end)
                far_nm = compared.line(near, place)[0]
            if abs(far_nm) <= least_nm + opening * along_nm:
                within.append(heights[row][column])
    found = searched(folder, Corridor(start, end, least_nm, least_nm, opening, square)).highest
    assert (None if found is None else round(found.height_ft * 0.3048)) == max(within, default=None)


def test_a_course_over_two_tiles_is_searched_in_both(tmp_path: Path) -> None:
    write_srtm(tmp_path, "N44W072", {(600, 1190): 700})
    write_srtm(tmp_path, "N44W071", {(600, 30): 900})
    ground = searched(tmp_path, Corridor(Position(44.5, -71.2), Position(44.5, -70.8), 4.0))
    assert ground.highest is not None
    assert ground.highest.source == "N44W071.hgt"
    assert (ground.tiles, ground.unknown) == (("N44W071.hgt", "N44W072.hgt"), ())


@settings(max_examples=16)
@given(
    st.sampled_from([-67, -45, -1, 0, 1, 45, 67]),
    st.sampled_from([-180, -179, -72, 0, 179]),
    st.lists(st.floats(-0.6, 0.6), min_size=4, max_size=4),
    st.floats(0.5, 8.0),
    st.integers(0, 3),
    st.integers(0, 2**32),
)
def test_a_seam_changes_nothing_anywhere_and_a_missing_tile_is_never_passed_over(
    tmp_path_factory: pytest.TempPathFactory,
    corner_north: int,
    corner_east: int,
    ends: list[float],
    width_nm: float,
    missing: int,
    seed: int,
) -> None:
    """Four tiles around a corner of degrees, on both sides of equator and antimeridian, against every height itself."""
    random, heights = Random(seed), dict[tuple[int, int], int]()
    folder = tmp_path_factory.mktemp("seams")
    start, end = (Position(corner_north + ends[i], (corner_east + ends[i + 1] + 180.0) % 360.0 - 180.0) for i in (0, 2))
    corridor = Corridor(start, end, width_nm, width_nm)
    if compared.line(start, end)[0] < 0.1:
        return
    inside: list[dict[tuple[int, int], int]] = []
    for number, (north, west) in enumerate(product((1, 0), (-1, 0))):
        row_0, column_0 = 12 * (1 - north), 12 * (1 + west)

        def height(row: int, column: int, from_row: int = row_0, from_column: int = column_0) -> float:
            return heights.setdefault((from_row + row, from_column + column), random.randrange(4000))

        west_deg = (corner_east + west + 180.0) % 360.0 - 180.0
        write_geotiff(folder / f"{number}.tif", corner_north + north, west_deg, (13, 13), 1 / 12, height)
        inside.append(
            {
                (row_0 + row, column_0 + column): heights[row_0 + row, column_0 + column]
                for row, column in product(range(13), range(13))
                if lies_in(corridor, Position(corner_north + north - row / 12, west_deg + column / 12))
            }
        )
    whole = searched(folder, corridor)
    assert whole.unknown == ()
    assert metres(whole) == max((one for tile in inside for one in tile.values()), default=None)
    (folder / f"{missing}.tif").unlink()
    rest = searched(folder, corridor)
    assert metres(rest) == max(
        (one for number, tile in enumerate(inside) for one in tile.values() if number != missing), default=None
    )
    others = {place for number, tile in enumerate(inside) for place in tile if number != missing}
    # A height that lies in the missing tile alone is ground that nobody knows.
    assert rest.unknown or not set(inside[missing]) - others


def metres(ground: _Ground) -> int | None:
    return None if ground.highest is None else round(ground.highest.height_ft * 0.3048)


def lies_in(corridor: Corridor, place: Position) -> bool:
    """Whether a place lies within a corridor of one width, its distance to the ends by GeographicLib."""
    along_nm, aside_nm = offset(corridor.start, corridor.end, place)
    if 0.0 <= along_nm <= compared.line(corridor.start, corridor.end)[0]:
        return abs(aside_nm) <= corridor.least_nm
    return min(compared.line(corridor.start, place)[0], compared.line(corridor.end, place)[0]) <= corridor.least_nm


def test_a_peak_is_found_alike_in_dted_and_srtm(tmp_path: Path) -> None:
    write_srtm(tmp_path, "N44W072", {(600, 660): 500})
    height = peaks({(600, 660): 500.0})
    write_dted(tmp_path / "n44_w072.dt1", "0720000W0440000N", 1201, 1201, height)
    found = {}
    for name in ("N44W072.hgt", "n44_w072.dt1"):
        (alone := tmp_path / name[-3:]).mkdir()
        (tmp_path / name).rename(alone / name)
        found[name] = below(open_terrain(str(alone)), Corridor(here(900, 600), here(300, 600), 4.0), None)
    by_srtm, by_dted = found.values()
    assert by_srtm.highest is not None
    assert by_dted.highest is not None
    assert by_dted.highest.along_nm == pytest.approx(by_srtm.highest.along_nm)
    assert (by_dted.minimum_ft, by_dted.unknown, by_dted.tiles) == (by_srtm.minimum_ft, (), ("n44_w072.dt1",))


def test_a_missing_tile_makes_the_highest_unknown_and_never_lower(tmp_path: Path) -> None:
    write_srtm(tmp_path, "N44W072", {(600, 1190): 700})
    course = Corridor(Position(44.5, -71.2), Position(44.5, -71.03), 4.0)
    found = below(open_terrain(str(tmp_path)), course, None)
    assert found.unknown == ("no terrain of N44W071",)
    assert found.minimum_ft is None
    assert found.highest is not None
    assert found.highest.height_ft == pytest.approx(700 / 0.3048)


def test_a_damaged_tile_is_told_as_damaged_and_not_as_missing(tmp_path: Path) -> None:
    write_srtm(tmp_path, "N44W072", {})
    write_srtm(tmp_path, "N44W073", {})
    path = tmp_path / "N44W072.hgt"
    path.write_bytes(path.read_bytes()[:1_000_000])
    found = below(open_terrain(str(tmp_path)), Corridor(Position(44.5, -71.2), Position(44.5, -70.9), 4.0), None)
    assert found.unread == (("N44W072.hgt", "it is not 1201 by 1201 or 3601 by 3601 heights of two bytes"),)
    assert found.unknown[0].startswith("N44W072.hgt cannot be read: it is not 1201")
    assert found.unknown[1:] == ("no terrain of N44W071",)


def test_a_tile_that_is_only_near_is_not_missed(tmp_path: Path) -> None:
    """4 NM of longitude at N44.5 are 0.0934 degrees: from W071 06 on the corridor stays within its degree."""
    write_srtm(tmp_path, "N44W072", {(600, 1190): 700})
    assert searched(tmp_path, Corridor(Position(44.5, -71.3), Position(44.5, -71.1), 4.0)).unknown == ()


@pytest.mark.parametrize(("column", "unknown"), [(600, ("N44W072.hgt has places without a height",)), (400, ())])
def test_a_void_counts_where_it_lies_in_the_corridor(tmp_path: Path, column: int, unknown: tuple[str, ...]) -> None:
    write_srtm(tmp_path, "N44W072", {(600, 660): 500, (600, column): -32768})
    ground = searched(tmp_path, Corridor(here(900, 600), here(300, 600), 4.0))
    assert ground.unknown == unknown
    assert ground.highest is not None
    assert ground.highest.height_ft == pytest.approx(500 / 0.3048)


def test_a_course_over_the_antimeridian_is_searched_on_both_sides(tmp_path: Path) -> None:
    write_srtm(tmp_path, "S17E179", {(600, 1190): 100})
    write_srtm(tmp_path, "S17W180", {(600, 20): 300})
    ground = searched(tmp_path, Corridor(Position(-16.5, 179.8), Position(-16.5, -179.8), 4.0))
    assert ground.unknown == ()
    assert ground.highest is not None
    assert ground.highest.source == "S17W180.hgt"
    assert ground.highest.height_ft == pytest.approx(300 / 0.3048)


def test_a_band_that_opens_reaches_a_peak_that_one_of_one_width_does_not(tmp_path: Path) -> None:
    write_srtm(tmp_path, "N44W072", {(500, 800): 1000})
    start, end = here(900, 600), here(300, 600)
    away_nm = abs(offset(start, end, here(500, 800))[1])
    assert 6.0 < away_nm < 8.0
    opened = Corridor(start, end, 4.0, 4.0, tan(radians(15.0)))
    for corridor, height_m in ((Corridor(start, end, 4.0), 0), (opened, 1000)):
        found = searched(tmp_path, corridor).highest
        assert found is not None
        assert found.height_ft == pytest.approx(height_m / 0.3048)


@pytest.mark.parametrize(
    ("highest_ft", "added_ft", "printed_ft"),
    [
        pytest.param(2250, 100, 2400, id="2,250 and the source's 100 ft give 2,400"),
        pytest.param(6265, 500, 6800, id="6,265 + 500 give 6,800"),
    ],
)
def test_the_rounding_is_the_chart_makers(highest_ft: float, added_ft: float, printed_ft: float) -> None:
    """Published examples of maximum elevation figures: to the next 100 ft above height and possible error."""
    assert up(highest_ft + added_ft, 100.0) * 100.0 == printed_ft


def test_the_minimum_adds_tolerance_and_clearance_and_rounds_up(tmp_path: Path) -> None:
    """1,908 m are 6,259.8 ft; SRTM says 16 m more or less, 52.5 ft; 2,000 in the White Mountains; 8,312 to 8,400."""
    write_srtm(tmp_path, "N44W072", {(600, 600): 1908})
    found = below(open_terrain(str(tmp_path)), Corridor(here(600, 600), here(600, 600), 4.0), None)
    assert (found.mountainous, found.clearance_ft, found.minimum_ft) == (True, 2000.0, 8400.0)


def test_outside_mountainous_areas_the_clearance_is_a_thousand_feet(tmp_path: Path) -> None:
    """Kansas, near Wichita; 400 m are 1,312.3 ft, 52.5 and 1,000 more are 2,364.8."""
    write_srtm(tmp_path, "N37W098", {(600, 600): 400})
    found = below(open_terrain(str(tmp_path)), Corridor(Position(37.5, -97.5), Position(37.5, -97.5), 4.0), None)
    assert (found.mountainous, found.clearance_ft, found.minimum_ft) == (False, 1000.0, 2400.0)


def test_a_corridor_that_touches_a_mountainous_area_takes_its_clearance(tmp_path: Path) -> None:
    """The area begins at 103 39 W; at N38 a course on 103 36 W stays 2.4 NM outside, and its 4 NM reach inside."""
    write_srtm(tmp_path, "N38W104", {})
    terrain = open_terrain(str(tmp_path))
    touching, clear = (
        Corridor(Position(38.3, west), Position(38.6, west), 4.0) for west in (-(103 + 36 / 60), -(103 + 30 / 60))
    )
    assert (below(terrain, touching, None).clearance_ft, below(terrain, clear, None).clearance_ft) == (2000.0, 1000.0)


def test_peaks_is_what_it_says() -> None:
    assert (peaks({(1, 2): 3.0})(1, 2), peaks({(1, 2): 3.0})(2, 1)) == (3.0, 0.0)


def test_a_radius_round_a_place_is_exact(tmp_path: Path) -> None:
    middle = here(600, 600)
    write_srtm(tmp_path, "N44W072", {(540, 600): 100})
    away_nm = WGS84.Inverse(44.5, -71.5, 44.55, -71.5)["s12"] / NM
    for radius_nm, height_m in ((away_nm + 1e-6, 100), (away_nm - 1e-6, 0)):
        found = searched(tmp_path, Corridor(middle, middle, radius_nm)).highest
        assert found is not None
        assert found.height_ft == pytest.approx(height_m / 0.3048)
    assert direct(middle, 0.0, away_nm).latitude_deg == pytest.approx(44.55)


def test_the_pieces_of_a_course_hold_what_the_whole_of_it_does(tmp_path: Path) -> None:
    """Three hills beside a course of 24 NM, each in the piece that it stands abeam of, and the ground under it."""
    heights = {(990, 560): 300, (850, 600): 500, (700, 640): 400}
    write_srtm(tmp_path, "N44W072", heights)
    course = Corridor(here(1080, 600), here(600, 600), 4.0)
    pieces = list(abeam(open_terrain(str(tmp_path)), course, None, 0.0, course.length_nm))
    assert [one.start_nm for one in pieces[1:]] == [one.end_nm for one in pieces[:-1]]
    assert max(one.end_nm - one.start_nm for one in pieces) <= 2.0
    assert pieces[-1].end_nm == pytest.approx(compared.line(course.start, course.end)[0])
    for (row, _), height_m in heights.items():
        along_nm = compared.line(course.start, here(row, 600))[0]
        (holds,) = [one for one in pieces if one.start_nm <= along_nm < one.end_nm]
        assert holds.top is not None
        assert holds.top.height_ft == pytest.approx(height_m / 0.3048)
        assert holds.top.along_nm == pytest.approx(along_nm, abs=0.02)
    assert sum(one.top is not None and one.top.height_ft > 0.0 for one in pieces) == 3
    under = [one.on_course.height_ft for one in pieces if one.on_course is not None]
    assert [round(height_ft) for height_ft in under if height_ft > 0.0] == [round(500 / 0.3048)]
