"""What a file defines otherwise than published data: fixes by radials, what stations send, radials of airways."""

from __future__ import annotations

import csv
import json
import shutil
from pathlib import Path

import pytest
from geographiclib.geodesic import Geodesic
from helpers.flown import navlog
from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data

INLET = (33.39275, -79.33183055)
CRE = (33.81384094, -78.0 - 43.0 / 60.0 - 28.2796 / 3600.0)
"""FIX_BASE.csv and NAV_BASE.csv of 2026-05-14."""


def from_cre() -> tuple[float, float]:
    """Radial and distance of INLET from CRE, whose declination is 3W, by the WGS84 geodesic."""
    line = Geodesic.WGS84.Inverse(*CRE, *INLET)
    return line["azi1"] % 360.0 + 3.0, line["s12"] / 1852.0


def edited(folder: Path, **values: str) -> str:
    """A catalogue of the excerpt in which the row of CHS has other values."""
    shutil.copytree(DATA / "nasr", folder / "nasr")
    path = folder / "nasr" / "NAV_BASE.csv"
    with path.open(newline="") as opened:
        rows = list(csv.DictReader(opened))
    for row in rows:
        row.update(values if row["NAV_ID"] == "CHS" else {})
    with path.open("w", newline="") as opened:
        writer = csv.DictWriter(opened, list(rows[0]), lineterminator="\r\n")
        writer.writeheader()
        writer.writerows(rows)
    import_data(folder / "nasr", folder / "edited.sqlite")
    return str(folder / "edited.sqlite")


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("published") / "catalogue.sqlite"
    import_data(DATA / "nasr", path)
    return str(path)


def differing(catalogue: str, *statements: str) -> list[str]:
    """What the rule tells of the flight along V1 with the statements before it."""
    head = "date 2026-05-20\ntas 120kt\nwind calm\naltitude 6500\nroute CHS V1 CRE\n"
    run = navlog("check", "-", "--catalogue", catalogue, "--format", "json", typed="\n".join((*statements, head)))
    flight = json.loads(run.out)
    assert flight["problems"] == []
    return [one["message"] for one in flight["findings"] if one["rule"] == "differs-from-published"]


@pytest.mark.parametrize(
    ("radial_deg", "away_nm", "told"),
    [
        # Charts have whole degrees and miles: half of each is no difference.
        (0.5, 0.5, False),
        (-0.5, -0.5, False),
        # 2 degrees at 40 NM are 1.4 NM aside.
        (2.0, 0.0, True),
        (0.0, 1.5, True),
        (10.0, 5.0, True),
    ],
)
def test_a_fix_by_radial_and_distance_is_held_against_its_published_place(
    catalogue: str, radial_deg: float, away_nm: float, told: bool
) -> None:
    radial, distance_nm = from_cre()
    found = differing(catalogue, f"fix INLET CRE {radial + radial_deg:.2f} {distance_nm + away_nm:.2f}nm")
    assert [one.startswith("INLET is at ") and one.endswith("as published") for one in found] == [True] * told


@pytest.mark.parametrize(("off_deg", "told"), [(0.4, False), (5.0, True)])
def test_a_fix_by_crossing_radials_is_too(catalogue: str, off_deg: float, told: bool) -> None:
    qsk = "station QSK 113.00 N33 40.00 W079 40.00 decl 5W"
    by_qsk = Geodesic.WGS84.Inverse(33.0 + 40.0 / 60.0, -79.0 - 40.0 / 60.0, *INLET)["azi1"] % 360.0 + 5.0
    found = differing(catalogue, qsk, f"fix INLET CRE {from_cre()[0] + off_deg:.2f} x QSK {by_qsk:.2f}")
    assert bool(found) is told


CHS_THERE = "station CHS 113.50 32.89432 -80.03781 decl 5W"


@pytest.mark.parametrize(
    ("published", "own", "told"),
    [
        ("L", "class H", ["CHS is of class H in the file and L as published"]),
        ("VL", "class L", []),  # the older letter
        ("VH", "class VL", ["CHS is of class VL in the file and VH as published"]),
        ("H", "", []),
    ],
)
def test_a_stations_class_is_held_against_the_published_one(
    tmp_path: Path, published: str, own: str, told: list[str]
) -> None:
    catalogue = edited(tmp_path, ALT_CODE=published)
    assert [one for one in differing(catalogue, f"{CHS_THERE} {own}") if "class" in one] == told


def test_a_dme_that_no_published_station_has_is_told(tmp_path: Path, catalogue: str) -> None:
    there = f"{CHS_THERE} dme"
    assert not [one for one in differing(catalogue, there) if "DME" in one]
    bare = edited(tmp_path, NAV_TYPE="VOR")
    assert "CHS has a DME in the file and none as published, VOR" in differing(bare, there)
    assert not [one for one in differing(bare, CHS_THERE) if "DME" in one]


@pytest.mark.parametrize(
    ("radial", "told"),
    [
        # V1 leaves CHS on 054.80 (AWY_SEG_ALT.csv, CHS to CARNO).
        ("055", []),
        ("054", []),
        ("057", ["V1 CHS to CRE is CHS R-057 in the file and R-055 as published"]),
    ],
)
def test_the_radials_of_the_files_airway_are_held_against_the_published_ones(
    catalogue: str, radial: str, told: list[str]
) -> None:
    found = differing(catalogue, f"airway V1 CHS {radial} - CRE 92nm mea 5000 maa 17500")
    assert [one for one in found if "R-" in one] == told


@pytest.mark.parametrize(
    ("radial", "told"),
    [
        # V1 arrives at CRE on its 233.52 (AWY_SEG_ALT.csv, PLANN to CRE, the opposite course).
        ("234", []),
        ("237", ["V1 CHS to CRE is CRE R-237 in the file and R-234 as published"]),
    ],
)
def test_the_radial_at_the_far_end_is_held_against_the_published_one_too(
    catalogue: str, radial: str, told: list[str]
) -> None:
    found = differing(catalogue, f"airway V1 CHS 055 - {radial} CRE 92nm mea 5000 maa 17500")
    assert [one for one in found if "R-" in one] == told


@pytest.mark.parametrize(("off_nm", "told"), [(1.47, False), (1.57, True)])
def test_a_long_distance_to_a_fix_is_known_to_a_hundredth_of_it(catalogue: str, off_nm: float, told: bool) -> None:
    # CARNO lies 75.96 NM from CRE on R-233.52 (FIX_BASE.csv). A degree there is 1.326 NM, a hundredth 0.760: together
    # 1.528 NM, and 1.417 with the half mile of a short one. Along the radial, so that the distance alone is off.
    found = differing(catalogue, f"fix CARNO CRE 233.52 {75.957 + off_nm:.3f}nm")
    assert [one.startswith("CARNO is at ") for one in found] == [True] * told


@pytest.mark.parametrize(("minutes", "told"), [("23.60", False), ("24.07", True)])
def test_a_fix_by_its_position_is_known_to_a_tenth_of_a_mile(catalogue: str, minutes: str, told: bool) -> None:
    # INLET lies at 33 23.565 N (FIX_BASE.csv): 0.03 and 0.5 minutes of latitude are as many miles.
    found = differing(catalogue, f"fix INLET N33 {minutes} W079 19.910")
    assert [one.startswith("INLET is at ") for one in found] == [True] * told
