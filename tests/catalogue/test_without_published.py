"""What hangs on a station, held against the published rows and against flights with the station out.

The rows are those of FAA NASR effective 2026-05-14 (AWY_SEG_ALT, FIX_NAV), read here by the standard library alone.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from helpers.flown import held, navlog
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
                _way(one["message"])
                for one in found["findings"]
                if one["rule"] == "station-out" and _names(one["message"], ident)
            }
            assert relying == set(_stretches(found)), (ident, run)
    assert flown >= 9


def _way(message: str) -> str:
    """From where to where a finding of `station-out` is."""
    return re.split(" relies on | is flown on ", message)[0]


def _names(message: str, ident: str) -> bool:
    """Whether a finding of `station-out` says that a station is out: relied on, or at the other end of its airway."""
    return f" relies on {ident}, which is " in message or f": {ident} is " in message


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


@pytest.fixture(scope="module")
def fly_all(full_file: Path) -> Flown:
    """Flies route lines through the whole subscription."""
    return Flown(full_file)


def test_a_make_up_at_the_near_end_of_a_hop_carries_no_farther_than_the_volume(fly_all: Flown) -> None:
    """V166 CKB TYGAR UGJOB ESL: 13.6, 7.0 and 39.0 NM, no COP; FIX_NAV has UGJOB on CKB R-095; ALT_CODE of CKB is L.

    With ESL out the MEA assures CKB no farther than the middle, and class L serves 40 NM (AIM 1-1-8).
    """
    assert held(fly_all("CKB V166 ESL", "unavailable ESL", altitude="6300")) == [("CKB", 40.0), (None, 19.6)]


def test_a_make_up_at_the_far_end_of_a_hop_leads_along_it(fly_all: Flown) -> None:
    """V212 TNV OSCER LFK: FIX_NAV has OSCER on LFK R-245 at 62.88 NM, beyond the 40 NM of LFK below 5,000 ft."""
    assert held(fly_all("TNV V212 LFK", "unavailable TNV", altitude="4000")) == [(None, 31.9), ("LFK", 62.9)]


def test_over_the_whole_country_check_and_without_agree(full: Catalogue, fly_all: Flown) -> None:
    """Every twentieth VOR by identifier: its runs rely on it by `station-out`, stretch for stretch."""
    hung = hanging(full, date(2026, 5, 20))
    flown = 0
    for ident in sorted(hung.stations)[::20]:
        runs = hung.without((ident,)).runs
        for altitude in sorted({run.asked_ft or 18_000.0 for run in runs}):
            level = [run for run in runs if (run.asked_ft or 18_000.0) == altitude]
            lines = [f"{run.start} {run.airway} {run.end}" for run in level]
            for run, found in zip(
                level, fly_all.all_of(lines, f"unavailable {ident}", altitude=f"{altitude:.0f}"), strict=True
            ):
                assert found["problems"] == [], run
                relying = {
                    _way(one["message"])
                    for one in found["findings"]
                    if one["rule"] == "station-out" and _names(one["message"], ident)
                }
                assert relying == set(_stretches(found)), run
                flown += 1
    assert flown > 100


def test_a_way_round_at_another_altitude_is_taken_where_it_is_much_shorter(full: Catalogue) -> None:
    """Without OCS J163 PIH to CHE leads round by 1,053 NM at FL210; Victor airways join the two in 367 NM below."""
    hung = hanging(full, date(2026, 5, 20))
    (one,) = [one for one in hung.rounds(hung.without(("OCS",))) if one.run.airway == "J163"]
    assert one.way is not None
    assert {airway[0] for airway, _, _, _ in one.way.hops} == {"V"}
    assert one.way.altitude_ft <= 17_500.0
    assert one.way.distance_nm < 1.5 * one.run.distance_nm
