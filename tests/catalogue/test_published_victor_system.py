"""Every Victor airway of FAA NASR effective 2026-05-14 both ways, held against the CSV files read independently.

Runs where NAVLOG_SHARED_DATA names the folder of the subscription, and skips, saying so, where it does not.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from helpers.flown import Json
from helpers.folder import Folder
from helpers.nasr_excerpt import DAY
from helpers.published_flights import Flown
from helpers.victor_system import Crossing, VictorSystem, hop_names, why_unguided

SILENT = re.compile(r"a published remark says that the radial of ([A-Z]{3}) is unusable .*")
OWN_SIDE = "up to the published changeover point"

CLIMBER = """
name = "By hand"
[climb]
tas_kt = 90
rate_ft_per_min = 900
[cruise]
tas_kt = 120
"""
UNDER_FT = 500
"""So far below the MCA is the level from which the climb begins: 0.8 NM at 900 ft/min and 90 kt."""


@pytest.fixture(scope="module")
def system(full_folder: Path) -> VictorSystem:
    return VictorSystem(full_folder)


@pytest.fixture(scope="module")
def flown(system: VictorSystem, full_file: Path) -> list[tuple[str, Json]]:
    routes = system.routes()
    found = Flown(full_file).many([route for _, route in routes], altitude="17000")
    return [(airway, flight) for (airway, _), flight in zip(routes, found, strict=True)]


def test_no_part_is_dead_reckoning_along_which_a_make_up_leads(
    system: VictorSystem, flown: list[tuple[str, Json]]
) -> None:
    """Left without guidance is only what a remark takes away, and the other side of a published changeover point."""
    wrong, reasons = [], Counter[str]()
    for airway, flight in flown:
        for index, leg in enumerate(flight["legs"]):
            if leg["guidance"] is not None:
                continue
            reason = why_unguided(flight, leg)
            reasons[re.sub(r"\b[A-Z]{3}\b", "STN", reason)] += 1
            silenced = SILENT.fullmatch(reason)
            for vor, named_far in system.vors_along(leg["from"], leg["to"], hop_names(flight["legs"], index)):
                taken = silenced is not None and (silenced[1] == vor.ident or not named_far)
                if not taken and named_far and not reason.startswith(OWN_SIDE):
                    wrong.append(f"{airway} {leg['from']['ident']}-{leg['to']['ident']}: {vor.ident}; {reason}")
    assert wrong == []
    assert set(reasons) <= REASONS, reasons


REASONS = {
    "a published remark says that the radial of STN is unusable here",
    "a published remark says that the radial of STN is unusable beyond 22 NM",
    "a published remark says that the radial of STN is unusable beyond 26 NM",
    "a published remark says that the radial of STN is unusable beyond 48 NM",
    "a published remark says that the radial of STN is unusable beyond 50 NM",
    "no station's radial leads along the part between the changeover point and the bend",
    "no station's radial leads along this part",
    "the way bends more than once and no changeover point is published",
    "up to the published changeover point STN would guide, which does not",
}
"""Every class of reason that is left; none is a remark that is not understood."""


def test_a_station_off_the_airway_guides_on_its_own_radial(system: VictorSystem, flown: list[tuple[str, Json]]) -> None:
    """Where the leg ends, farther from the station, it lies on the radial that is set, and the flag fits."""
    looked_at, wrong = 0, []
    for airway, flight in flown:
        points = {point["ident"] for leg in flight["legs"] for point in (leg["from"], leg["to"])}
        for leg in flight["legs"]:
            guidance = leg["guidance"]
            if guidance is None or guidance["ident"] in points or guidance["radial_source"] != "computed":
                continue
            ends = [(point["latitude_deg"], point["longitude_deg"]) for point in (leg["from"], leg["to"])]
            seen = [[vor.seen_from(end) for end in ends] for vor in system.vors[guidance["ident"]]]
            (start_nm, start_deg), (end_nm, end_deg) = min(seen, key=lambda one: one[0][0])
            radial_deg = end_deg if end_nm > start_nm else start_deg
            looked_at += 1
            off_deg = abs((radial_deg - guidance["radial_deg"] + 180.0) % 360.0 - 180.0)
            if off_deg > 2.0 or guidance["flag"] != ("FROM" if end_nm > start_nm else "TO"):
                wrong.append(f"{airway} {leg['from']['ident']}-{leg['to']['ident']}: {guidance['ident']} {off_deg:.2f}")
    assert wrong == []
    assert looked_at > 100


@pytest.fixture(scope="module")
def crossings(system: VictorSystem) -> list[Crossing]:
    return list(dict.fromkeys(system.crossings()))


def test_a_climb_to_each_crossing_altitude_at_its_point_is_right(
    crossings: list[Crossing], full_file: Path, tmp_path: Path
) -> None:
    """Climbing to the MCA at the point nothing is found; passing it lower is, and the other way is another matter."""
    assert len(crossings) > 400
    climbing = [
        f"{one.coming_from} {one.airway} {one.point}/{level(one.altitude_ft)} {one.airway} {one.toward}"
        for one in crossings
        if one.coming_from is not None
    ]
    froms = [one for one in crossings if one.coming_from is not None]
    late = [f"{one.point} {one.airway} {one.toward}" for one in crossings]
    right = under_mca(full_file, tmp_path, climbing, [one.altitude_ft - UNDER_FT for one in froms])
    false = [(one, told) for one, told in zip(froms, right, strict=True) if at_point(one, told)]
    assert false == []
    low = under_mca(full_file, tmp_path, late, [one.altitude_ft - UNDER_FT for one in crossings])
    missed = [one for one, told in zip(crossings, low, strict=True) if not at_point(one, told)]
    assert missed == []


def level(altitude_ft: int) -> str:
    """The level at or above an altitude as a route line writes it, in hundreds of feet."""
    return f"A{-(-altitude_ft // 100):03d}"


def under_mca(catalogue: Path, folder: Path, routes: list[str], altitudes_ft: list[int]) -> list[list[str]]:
    """What is found of crossing altitudes on each route, from one file of many flights."""
    place = Folder(folder)
    place.put("hand.toml", CLIMBER)
    text = f"date {DAY}\naircraft hand.toml\nwind calm\n" + "".join(
        f'flight "{number}"\naltitude {altitude_ft}\nroute {route}\n'
        for number, (route, altitude_ft) in enumerate(zip(routes, altitudes_ft, strict=True))
    )
    found = place.answers(text, "--catalogue", str(catalogue))
    assert [one["problems"] for one in found] == [[]] * len(routes)
    return [[told["message"] for told in one["findings"] if told["rule"] == "under-mca"] for one in found]


def at_point(one: Crossing, told: list[str]) -> list[str]:
    """The findings that are about the crossing of that point at that altitude."""
    return [message for message in told if message.startswith(one.point) and f" {one.altitude_ft} ft toward" in message]
