"""Proposals over the whole of FAA NASR effective 2026-05-14, where NAVLOG_SHARED_DATA names its folder.

Held against the raw rows of the airways (`helpers/raw_airways.py`), and against the published preferred routes of the
same cycle (PFR_BASE.csv), all of which someone once drew. `bench/survey_proposals.py` asks of a thousand pairs.
"""

from __future__ import annotations

import csv
import os
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from bench.survey_proposals import survey
from helpers.nasr_excerpt import DAY
from helpers.raw_airways import RawAirways

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.network import Network
from navlog.catalogue.network_store import read_network
from navlog.catalogue.queries import Catalogue
from navlog.studies.proposal_flights import Asked, Flights
from navlog.studies.proposing import propose
from navlog.studies.way_search import best_way
from navlog.studies.ways import CHANGE_NM, WayEnd, hops

STATEMENTS = (("date", "2026-05-20"), ("rules", "ifr"), ("equipment", "vor 2 dme 1"), ("tas", "110kt"))
NO_MORE_RULES = {
    "no-fuel", "no-alternate", "no-off",  # nothing of them is asked here
    "fix-computed", "makeup-differs", "distance-differs", "radial-differs",  # what is published disagrees in itself
    "frequency-shared", "short-leg", "data-out-of-date",
    "oxygen", "minimum-unknown", "fix-unsure",  # how high, how far off the airways, how well two radials cut: told
}  # fmt: skip
"""The rules that a proposal may offend: none of altitude, gap, reception or station is among them."""


@pytest.fixture(scope="module")
def shared() -> Path:
    folder = os.environ.get("NAVLOG_SHARED_DATA")
    if not folder:
        pytest.skip("NAVLOG_SHARED_DATA is not set")
    return Path(folder)


@pytest.fixture(scope="module")
def catalogue(shared: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalogue]:
    path = tmp_path_factory.mktemp("proposals") / "catalogue.sqlite"
    import_data(shared / "nasr-2026-05-14", path)
    import_data(shared / "pfr-2026-05-14", path)
    with open_catalogue(path) as opened:
        yield opened


@pytest.fixture(scope="module")
def network(catalogue: Catalogue) -> Network:
    return read_network(catalogue, DAY)


@pytest.fixture(scope="module")
def raw(shared: Path) -> RawAirways:
    return RawAirways(shared / "nasr-2026-05-14")


def test_random_pairs_offend_no_rule_of_height_or_guidance_and_no_published_row(
    catalogue: Catalogue, raw: RawAirways
) -> None:
    counts, against = survey(catalogue, raw, 25, seed=3)
    assert against == []
    assert counts["joined"] >= 20
    assert {name.removeprefix("rule ") for name in counts if name.startswith("rule ")} <= NO_MORE_RULES


def test_the_checker_of_raw_rows_finds_what_is_wrong(raw: RawAirways) -> None:
    """Rows of AWY_SEG_ALT.csv, cycle 2605: V134 PUC-COPUK MEA 11900; V216 IOW-LOTTE MEA 3500."""
    assert raw.faults("PUC V134 COPUK PUC", 11900.0) == []
    assert raw.faults("PUC V134 COPUK PUC", 11800.0) != []
    assert raw.faults("IOW V216 LOTTE DBQ", 3500.0) == []
    assert raw.faults("IOW V216 DBQ DBQ", 3500.0) == ["V216 does not join IOW and DBQ"]


def test_no_published_route_along_airways_is_cheaper_than_ours_at_the_altitude_that_it_asks_for(
    shared: Path, network: Network
) -> None:
    """Every low or TEC route that begins at a point, ends at one, and is joined by Victor airways in between."""
    lines = {(origin, goal, route) for origin, goal, route in published(shared) if is_of_airways(route)}
    compared = 0
    for origin, goal, route in sorted(lines):
        links = links_of(network, route.split())
        if links is None:
            continue
        altitude_ft = max(network.asked_ft[link] for link in links)
        if altitude_ft >= 18_000.0 or min(network.maa_ft[link] for link in links) < altitude_ft:
            continue
        compared += 1
        changes = sum(network.airway[one] != network.airway[other] for one, other in pairwise(links))
        theirs = sum(network.distance_nm[link] for link in links) + CHANGE_NM * changes
        ends = WayEnd(network.start[links[0]]), WayEnd(network.end[links[-1]])
        ours = best_way(network, [ends[0]], [ends[1]], altitude_ft)
        assert ours is not None, (origin, goal, route)
        assert ours.cost <= theirs + 1e-6, (origin, goal, route, hops(network, ours))
    assert compared > 150


def published(shared: Path) -> Iterator[tuple[str, str, str]]:
    with (shared / "pfr-2026-05-14" / "PFR_BASE.csv").open(newline="", encoding="latin-1") as file:
        for row in csv.DictReader(file):
            if row["PFR_TYPE_CODE"] in ("TEC", "L", "SLD"):
                yield row["ORIGIN_ID"], row["DSTN_ID"], row["ROUTE_STRING"]


def is_of_airways(route: str) -> bool:
    """Whether a route is points and Victor airways by turns, a point first and last."""
    words = route.split()
    victor = [re.fullmatch(r"V\d+", word) is not None for word in words]
    return len(words) >= 3 and len(words) % 2 == 1 and victor == [number % 2 == 1 for number in range(len(words))]


def links_of(network: Network, words: list[str]) -> list[int] | None:
    """The links of a route of points and airways; None where the network does not hold it."""
    found: list[int] = []
    for start, airway, end in zip(words[::2], words[1::2], words[2::2], strict=False):
        tried = [
            links
            for point in network.named(start)
            for first in network.links_from(point)
            if network.airways[network.airway[first]] == airway
            for links in [along(network, first, end)]
            if links is not None
        ]
        if not tried:
            return None
        found += tried[0]
    return found


def along(network: Network, link: int, end: str) -> list[int] | None:
    """The links along one airway from a link on to a point of that name."""
    found = [link]
    while network.points[network.end[link]] != end:
        onward = [
            one
            for one in network.links_from(network.end[link])
            if network.airway[one] == network.airway[link] and network.end[one] != network.start[link]
        ]
        if len(onward) != 1 or len(found) > 200:
            return None
        link = onward[0]
        found.append(link)
    return found


def test_a_published_route_comes_first_as_published_and_then_ours(catalogue: Catalogue) -> None:
    """PFR_BASE.csv: VNY to SAN, TEC, PQ90 `VNY V186 HAILE V66 MZB`."""
    fast = (*STATEMENTS[:3], ("tas", "195kt"))
    for statements, kinds in ((fast, 1), ((*STATEMENTS[:3], ("tas", "110kt")), 1)):
        found = propose(catalogue, Flights(catalogue, Asked("KVNY", "KSAN", statements, altitude="9000")))
        routes = [one.route for one in found.published]
        assert routes[:kinds] == ["KVNY VNY V186 HAILE V66 MZB KSAN"]
        assert found.own[0].altitude_ft == 9000.0


def test_what_forces_the_altitude_is_told_and_a_lower_one_is_refused(catalogue: Catalogue) -> None:
    """V134 in AWY_SEG_ALT.csv: PUC-COPUK MEA 11900; FFU-PUC MEA 13000, with SIGNAL_GAP_FLAG on FFU-MAYGY."""
    low = propose(catalogue, Flights(catalogue, Asked("KPUC", "KPVU", STATEMENTS, altitude="9000")))
    assert low.own == ()
    assert low.why_none.endswith("the lowest altitude that does is 11900 ft (V134 PUC to COPUK, MEA 11900)")
    detour = propose(catalogue, Flights(catalogue, Asked("PUC:vor", "FFU:vor", STATEMENTS)))
    assert detour.shorter[-1] == "from 13000 ft, 68.0 NM, but for a gap: V134 MAYGY to FFU, signal gap"


TRAINER = (
    ("date", "2026-05-20"), ("rules", "ifr"), ("equipment", "vor 2 dme 1"), ("wind", "300/25"), ("off", "14:00Z"),
)  # fmt: skip


@pytest.fixture(scope="module")
def crawler(tmp_path_factory: pytest.TempPathFactory) -> str:
    """An invented aeroplane that climbs slowly, so that the first leg begins low, and reaches 14,000 ft."""
    path = tmp_path_factory.mktemp("crawler") / "crawler.toml"
    path.write_text(
        'name = "Crawler"\nusable_fuel_gal = 53\ntaxi_fuel_gal = 1\n'
        "[climb]\ncas_kt = 74\nrate_ft_per_min = 400\nburn_gal_per_h = 11\n"
        "[cruise]\nrows = [\n{ pressure_altitude_ft = 0, tas_kt = 105, burn_gal_per_h = 8.6 },\n"
        "{ pressure_altitude_ft = 14000, tas_kt = 116, burn_gal_per_h = 8.3 }]\n"
        "[descent]\ncas_kt = 110\nrate_ft_per_min = 500\nburn_gal_per_h = 7\n"
    )
    return str(path)


def test_a_long_detour_at_the_lowest_level_gives_way_to_a_higher_one(catalogue: Catalogue, crawler: str) -> None:
    """AWY_SEG_ALT.csv, cycle 2605: V12 has an MEA of 11000 ft from CARTY to TAPDE, and leads straight to Phoenix."""
    statements = (*TRAINER, ("fuel", "53gal"), ("aircraft", crawler))
    found = propose(catalogue, Flights(catalogue, Asked("KABQ", "KPHX", statements)))
    assert found.lowest is not None
    assert found.lowest.altitude_ft == 10000.0
    best = found.own[0]
    assert (best.altitude_ft, best.rank) == (12000.0, 1)
    assert best.distance_nm < 1.3 * found.direct_nm
    assert not any(one.lacks_fuel for one in found.own)
    (passed,) = found.passed_over
    assert passed.altitude_ft == 10000.0
    assert passed.distance_nm > 1.3 * best.distance_nm


def test_where_no_level_has_fuel_enough_the_error_stands_with_the_proposal(catalogue: Catalogue, crawler: str) -> None:
    statements = (*TRAINER, ("fuel", "20gal"), ("aircraft", crawler))
    found = propose(catalogue, Flights(catalogue, Asked("KABQ", "KPHX", statements)))
    assert found.own
    assert all(one.lacks_fuel for one in found.own)
    # No lower level is passed over for want of fuel where the one that is offered has none either, but for its way.
    assert all(one.distance_nm > 1.3 * found.own[0].distance_nm for one in found.passed_over)
    assert found.own[0].altitude_ft == 12000.0


def test_a_way_that_the_rules_only_warn_of_is_offered_where_there_is_no_other(
    catalogue: Catalogue, crawler: str
) -> None:
    """NAV_BASE.csv, cycle 2605: LGC is of class VH, 40 NM at 1,000 ft above it (AIM 1-1-8); KPDK lies 67 NM off."""
    statements = (*STATEMENTS[:3], ("aircraft", crawler))
    found = propose(catalogue, Flights(catalogue, Asked("KPDK", "KCRG", statements)))
    assert "out-of-range" in {one.rule for one in found.own[0].answer.findings}
    assert found.why_none == ""


def test_where_each_way_has_a_fault_rule_leg_and_station_are_named(
    catalogue: Catalogue, crawler: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from navlog.studies import proposals_at_level

    statements = (*STATEMENTS[:3], ("aircraft", crawler), ("ceiling", "7000"))
    # As if the rules had a fault with every way, a warning's or an error's.
    monkeypatch.setattr(proposals_at_level, "faults", lambda _answer, _network, way, _least: frozenset(way.links))
    found = propose(catalogue, Flights(catalogue, Asked("KPDK", "KCRG", statements)))
    assert found.own == ()
    assert re.search(r"\S+ to \S+: [A-Z]{3} DME is unusable on radials .* \[unusable-sector\]", found.why_none)
    assert "[out-of-range]" in found.why_none


@pytest.mark.parametrize(
    ("pair", "by", "farthest_nm"), [(("KSAC", "KRNO"), "SWR", 115.0), (("KSLC", "KGJT"), "V391", 350.0)]
)
def test_under_a_low_ceiling_the_other_half_has_a_level_where_ones_own_leads_far_round(
    catalogue: Catalogue, pair: tuple[str, str], by: str, farthest_nm: float
) -> None:
    """Eastbound 11,000 ft is too low and 13,000 too high.

    V6 COLOM to SWR has an MEA of 11,200 ft, V6 OGD to EVIEW one of 12,000 (AWY_SEG_ALT.csv, cycle 2605).
    At 11,000 ft the airways lead from KSLC to KGJT by Oregon.
    """
    found = propose(catalogue, Flights(catalogue, Asked(*pair, (*STATEMENTS, ("ceiling", "12000")))))
    best = found.own[0]
    assert best.altitude_ft == 12_000.0
    assert by in best.route.split()
    assert best.distance_nm < farthest_nm
    assert all(one.distance_nm > 5 * best.distance_nm for one in found.passed_over)


def test_a_sector_that_begins_at_the_changeover_point_closes_no_airway(network: Network) -> None:
    """V212 changes 65 NM from LFK, 49 NM from AEX, which is unusable on 265-270 beyond 49 NM (cycle 2605)."""
    links = links_of(network, ["AEX", "V212", "LFK"])
    assert links is not None
    assert max(network.asked_ft[link] for link in links) == 4_000.0
