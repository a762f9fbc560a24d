"""The ground of a real tile against published places, airports and airways."""

from __future__ import annotations

import csv
import os
from collections.abc import Iterator
from itertools import product
from math import inf
from pathlib import Path

import pytest
from helpers import compared

from navlog.nav.chart import Position
from navlog.nav.corridor import Corridor
from navlog.nav.figures import up
from navlog.nav.mountains import mountainous
from navlog.nav.terrain import highest_within, open_terrain

HERE = Position(44.5, -71.5)
"""Inside the tile."""


@pytest.fixture(scope="session")
def real_tile() -> Path:
    shared = os.environ.get("NAVLOG_SHARED_DATA")
    if shared is None:
        pytest.skip("NAVLOG_SHARED_DATA does not say where the shared data are")
    return Path(shared) / "srtm3"


def test_the_highest_place_of_a_real_tile_is_mount_washington(real_tile: Path) -> None:
    """SRTM3 N44W072, as its README says: 6,260 ft at N44.2708 W071.3033."""
    found = highest_within(open_terrain(str(real_tile)), Corridor(HERE, HERE, 21.0)).highest
    assert found is not None
    assert round(found.height_ft) == 6260
    assert (found.position.latitude_deg, found.position.longitude_deg) == pytest.approx((44.2708, -71.3033), abs=5e-5)


def test_published_airports_lie_on_the_ground_of_the_tile(real_tile: Path) -> None:
    """Elevations of FAA NASR, 14 May 2026, where surveyed (S), inside the tile; the highest ground within 0.1 NM.

    It must not lie under the airport by more than the tile's stated 16 m.
    """
    differences = []
    for row in rows_of(real_tile.parent / "nasr-2026-05-14" / "APT_BASE.csv"):
        place = Position(float(row["LAT_DECIMAL"]), float(row["LONG_DECIMAL"]))
        inside = 44.01 < place.latitude_deg < 44.99 and -71.99 < place.longitude_deg < -71.01
        if inside and row["ELEV"]:
            found = highest_within(open_terrain(str(real_tile)), Corridor(place, place, 0.1)).highest
            assert found is not None
            differences.append((found.height_ft - float(row["ELEV"]), row["ARPT_ID"]))
    assert len(differences) >= 15
    assert sorted(differences)[0][0] > -16.0 / 0.3048, sorted(differences)[:5]


@pytest.mark.parametrize(
    ("start", "end", "gnss_mea_ft", "computed_ft"),
    [
        pytest.param((43.74964444, -71.27998611), (44.03258055, -71.11984166), 5400, 5200, id="LAROE to NOTTY"),
        pytest.param((44.03258055, -71.11984166), (44.24341666, -70.9994), 5900, 5600, id="NOTTY to WYLIE"),
        pytest.param((44.24341666, -70.9994), (44.40959444, -71.07864166), 6300, 6100, id="WYLIE to JOBBY"),
        pytest.param((44.40959444, -71.07864166), (44.63356111, -71.1862), 5800, 5800, id="JOBBY to BRLIN"),
    ],
)
def test_published_minimums_clear_the_ground_that_is_known_below_them(
    real_tile: Path, start: tuple[float, float], end: tuple[float, float], gnss_mea_ft: int, computed_ft: int
) -> None:
    """T395 of FAA NASR, 14 May 2026: less 2,000 ft in the White Mountains its minimums lie over what is found.

    Its neighbours are missing, so what is
    found is the least that may be there. With the tile's own tolerance of 16 m and rounded up, what is computed here
    reaches the published figure of the last segment and stays below those of the others.
    """
    ground = highest_within(open_terrain(str(real_tile)), Corridor(Position(*start), Position(*end), 4.0))
    assert ground.unknown
    assert ground.highest is not None
    assert gnss_mea_ft - 2000.0 >= ground.highest.height_ft
    assert up(ground.highest.top_ft + 2000.0, 100.0) * 100.0 == computed_ft <= gnss_mea_ft


MINIMUMS = (
    "MIN_OBSTN_CLNC_ALT",
    "MIN_ENROUTE_ALT",
    "MIN_ENROUTE_ALT_OPPOSITE",
    "GPS_MIN_ENROUTE_ALT",
    "GPS_MIN_ENROUTE_ALT_OPPOSITE",
)


def rows_of(path: Path) -> Iterator[dict[str, str]]:
    with path.open(encoding="latin-1", newline="") as file:
        yield from csv.DictReader(file)


def beside_tile(*ends: Position) -> bool:
    """Whether a course may come within 4 NM of N44W072: the box around its ends, with 0.2 degrees to spare."""
    south, north = (find(one.latitude_deg for one in ends) for find in (min, max))
    west, east = (find(one.longitude_deg for one in ends) for find in (min, max))
    return south < 45.2 and north > 43.8 and west < -70.8 and east > -72.2


def test_every_published_segment_near_the_tile_clears_the_ground_that_is_known_below_it(real_tile: Path) -> None:
    """All airways of FAA NASR, 14 May 2026, whose 4 NM either side reach into the tile, by every minimum they publish.

    Less 2,000 ft, as all of the tile is designated mountainous, none lies under the highest ground that is known; no
    reduction to 1,500 or 1,700 is needed. They are nine: four of T395 and five above 18,000 ft. None has a MOCA, and
    no Victor airway comes so near.
    """
    folder = real_tile.parent / "nasr-2026-05-14"
    places: dict[str, list[Position]] = {}
    for file, key in (("FIX_BASE.csv", "FIX_ID"), ("NAV_BASE.csv", "NAV_ID")):
        for row in rows_of(folder / file):
            if row["LAT_DECIMAL"]:
                here = Position(float(row["LAT_DECIMAL"]), float(row["LONG_DECIMAL"]))
                places.setdefault(row[key], []).append(here)
    margins = {}
    for row in rows_of(folder / "AWY_SEG_ALT.csv"):
        starts, ends = (places.get(row[key], []) for key in ("FROM_POINT", "TO_POINT"))
        near = any(abs(one.latitude_deg - 44.5) < 5.0 for one in (*starts, *ends))
        if not near or not row["MAG_COURSE_DIST"]:
            continue
        # Of several places of a name the pair that lies as far apart as is published.
        apart_nm = float(row["MAG_COURSE_DIST"])
        pairs = [(abs(compared.line(*pair)[0] - apart_nm), pair) for pair in product(starts, ends)]
        away_nm, (start, end) = min(pairs, key=lambda one: one[0], default=(inf, (HERE, HERE)))
        if away_nm > 1.0 or not beside_tile(start, end):
            continue
        found = highest_within(open_terrain(str(real_tile)), Corridor(start, end, 4.0)).highest
        minimums = [float(row[key]) for key in MINIMUMS if row[key]]
        if found is not None and minimums:
            assert mountainous(found.position)
            margins[row["AWY_ID"], row["FROM_POINT"]] = min(minimums) - 2000.0 - found.height_ft
    assert len(margins) >= 9
    assert min(margins.values()) >= 0.0, margins
