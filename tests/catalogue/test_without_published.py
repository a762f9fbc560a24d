"""What hangs on a station, held against the published rows and against flights with the station out.

The rows are those of FAA NASR effective 2026-05-14 (AWY_SEG_ALT, FIX_NAV), read here by the standard library alone.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from helpers.flown import navlog
from helpers.nasr_excerpt import DAY, Row
from helpers.published_flights import Flown

from navlog.catalogue.queries import Catalogue
from navlog.studies.without import Hanging, hanging

VORS = {"VOR", "VOR/DME", "VORTAC"}
STATIONS = ("PUC", "MLB", "DMN", "CHE", "GLL", "HEC", "BTY", "AEX")


@pytest.fixture(scope="module")
def hung(catalogue: Catalogue, day: date) -> Hanging:
    return hanging(catalogue, day)


@pytest.fixture(scope="module")
def stations(hung: Hanging) -> tuple[str, ...]:
    found = tuple(ident for ident in STATIONS if ident in hung.stations and hung.without((ident,)).runs)
    assert len(found) >= 5
    return found


def test_check_and_without_agree_on_what_each_run_loses(hung: Hanging, stations: tuple[str, ...], fly: Flown) -> None:
    """Every stretch of a run relies on the station by `station-out`, and no other stretch of the airway does."""
    flown = 0
    for ident in stations:
        for run in hung.without((ident,)).runs:
            altitude = f"{run.asked_ft or 18_000:.0f}"
            found = fly.result(f"{run.start} {run.airway} {run.end}", f"unavailable {ident}", altitude=altitude)
            assert found["problems"] == [], run
            flown += 1
            relying = {
                one["message"].partition(" relies on ")[0]
                for one in found["findings"]
                if one["rule"] == "station-out" and f" relies on {ident}, " in one["message"]
            }
            assert relying == set(_stretches(found)), (ident, run)
    assert flown >= 9


def _stretches(found: dict[str, Any]) -> Iterator[str]:
    """From point to point, changeovers and the like passed over."""
    start = found["legs"][0]["from"]["ident"]
    for leg in found["legs"]:
        if leg["to"]["ident"] is not None:
            yield f"{start} to {leg['to']['ident']}"
            start = leg["to"]["ident"]


def test_no_stretch_outside_the_runs_relies_on_the_station(
    hung: Hanging, stations: tuple[str, ...], fly: Flown
) -> None:
    for ident in stations:
        network = hung.network
        lost = {link for run in hung.without((ident,)).runs for link in run.links}
        airways = {network.airways[network.airway[link]] for link in lost}
        others = [
            (
                network.points[network.start[link]],
                network.airways[network.airway[link]],
                network.points[network.end[link]],
            )
            for link in range(len(network.start))
            if network.airways[network.airway[link]] in airways
            and not network.closed[link]
            and network.stations[network.behind[link]] != ident
            and network.stations[network.ahead[link]] != ident
        ][:12]
        for found in fly.all_of([" ".join(one) for one in others], f"unavailable {ident}"):
            assert not [one for one in found["findings"] if f"relies on {ident}," in one["message"]]


def test_the_fixes_are_those_whose_published_radials_are_all_of_the_station(
    hung: Hanging, stations: tuple[str, ...], published: Callable[[str], list[Row]]
) -> None:
    named: dict[tuple[str, str], set[str]] = {}
    for row in published("FIX_NAV.csv"):
        if row["BEARING"].strip() and row["NAV_TYPE"] in VORS:
            named.setdefault((row["FIX_ID"], row["ICAO_REGION_CODE"]), set()).add(row["NAV_ID"])
    serving = {row["NAV_ID"] for row in published("NAV_BASE.csv") if row["NAV_STATUS"].startswith("OPERATIONAL")}
    for ident in stations:
        expected = {fix for fix, idents in named.items() if ident in idents and not (idents - {ident}) & serving}
        assert set(hung.without((ident,)).fixes) == expected


def test_the_changeover_points_are_those_published(
    hung: Hanging, stations: tuple[str, ...], published: Callable[[str], list[Row]]
) -> None:
    for ident in stations:
        expected = {
            (row["AWY_ID"], row["FROM_POINT"], row["CHGOVR_PT"], float(row["CHGOVR_PT_DIST"]))
            for row in published("AWY_SEG_ALT.csv")
            if row["CHGOVR_PT_DIST"].strip() and ident in (row["FROM_POINT"], row["CHGOVR_PT"])
        }
        assert {tuple(one) for one in hung.without((ident,)).changeovers} == expected


def test_what_is_flown_without_guidance_is_what_the_log_says(catalogue_file: Path, fly: Flown) -> None:
    options = ("--date", str(DAY), "--catalogue", str(catalogue_file), "--format", "json")
    found = json.loads(navlog("without", "GLL", *options).out)
    assert found["schema"] == "navlog/without-1"
    assert found["runs"]
    for run in found["runs"]:
        altitude = f"{run['lowest_ft']:.0f}"
        log = fly(f"{run['from']} {run['airway']} {run['to']}", "unavailable GLL", altitude=altitude)
        silent_nm = sum(leg["distance_nm"] for leg in log["legs"] if leg["guidance"] is None)
        assert run["unguided_nm"] == pytest.approx(silent_nm, abs=1e-6)


def test_the_way_round_is_flown_without_the_station(catalogue_file: Path, fly: Flown) -> None:
    options = ("--date", str(DAY), "--catalogue", str(catalogue_file), "--format", "json")
    flown = 0
    for ident in STATIONS:
        run_of = navlog("without", ident, *options)
        for run in json.loads(run_of.out)["runs"] if run_of.status == 0 else ():
            way = run["way_round"]
            if way is None:
                continue
            line = " ".join([run["from"], *(f"{hop['airway']} {hop['to']}" for hop in way["hops"])])
            found = fly.result(line, f"unavailable {ident}", altitude=f"{way['altitude_ft']:.0f}")
            assert not [one for one in found["findings"] if f"relies on {ident}," in one["message"]]
            assert way["more_nm"] == pytest.approx(way["distance_nm"] - run["distance_nm"])
            flown += 1
    assert flown
