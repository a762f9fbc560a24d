"""Variation and compass near the poles of the earth and of its field, by pygeomag and pyproj themselves."""

from __future__ import annotations

import pytest
from helpers.folder import Folder
from helpers.judged import found
from pygeomag import GeoMag
from pyproj import Geod

WGS84, WMM = Geod(ellps="WGS84"), GeoMag(coefficients_file="wmm/WMM_2025.COF")
DAY_2026 = 2026 + 198 / 365
"""2026-07-18 00:00Z as a year and its part: 198 days have passed."""

PLAN = "date 2026-07-18\noff 15:00Z\nwind calm\naltitude 9500\ntas 120kt\n"


def flown(folder: Folder, first: str, second: str) -> list[tuple[float, float]]:
    """Of each leg between two stations there the variation, and what the model has at the leg's middle."""
    text = f"station QAA 113.00 {first} decl true class H\nstation QBB 114.00 {second} decl true class H\n"
    legs = folder.fly(f"{PLAN}{text}route QAA QBB\n")["legs"]
    pairs = []
    for leg in legs:
        ends = [(leg[end]["longitude_deg"], leg[end]["latitude_deg"]) for end in ("from", "to")]
        course, _, metres = WGS84.inv(*ends[0], *ends[1])
        longitude, latitude, _ = WGS84.fwd(*ends[0], course, metres / 2)
        model = WMM.calculate(glat=latitude, glon=longitude, alt=0, time=DAY_2026).d
        pairs.append((leg["variation_deg"], model))
    return pairs


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("S89 10.00 E010 00.00", "S89 40.00 W110 00.00"),
        ("S63 30.00 E136 00.00", "S64 50.00 E134 00.00"),
        ("N86 00.00 E120 00.00", "N85 20.00 E140 00.00"),
        ("N61 00.00 W150 00.00", "N62 00.00 W149 00.00"),
    ],
    ids=["the pole", "the southern magnetic pole", "the northern one", "Alaska"],
)
def test_the_variation_of_a_leg_is_the_models_in_its_middle(folder: Folder, first: str, second: str) -> None:
    pairs = flown(folder, first, second)
    assert len(pairs) == 2
    for told, model in pairs:
        assert (told - model + 180) % 360 - 180 == pytest.approx(0, abs=0.05)


def test_a_zone_between_two_points_is_told() -> None:
    """WMM2025 has under 2,000 nT about its southern pole at 63.8 S 135 E, and 6,000 nT and more 450 NM from it."""
    told = found("compass-zone", "route 5200S13500E 7500S13500E", "-direct QHB")
    (between,) = [one for one in told if "the middle of" in one]
    assert between.startswith("error: the middle of 5200S13500E to 7500S13500E lies in the blackout zone")
