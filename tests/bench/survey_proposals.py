"""Random pairs through the proposals, held against the rules and against the raw rows of the airways.

    python tests/bench/survey_proposals.py CATALOGUE FOLDER [PAIRS]

FOLDER holds AWY_SEG_ALT.csv of the same cycle. Prints how many pairs were joined, what the rules say of the proposals,
what the raw rows say against them, and the time of a pair.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[1]))
from helpers.raw_airways import RawAirways

from navlog.catalogue import open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.studies.proposal_flights import Asked, Flights
from navlog.studies.proposing import Proposals, propose

DAY = "2026-05-20"
STATEMENTS = (("date", DAY), ("rules", "ifr"), ("equipment", "vor 2 dme 1"), ("tas", "110kt"))
BETWEEN_NM = (100.0, 400.0)


def pairs(catalogue: Catalogue, seed: int) -> Iterator[tuple[Flights, str]]:
    """Flights between open airports with an ICAO identifier, 100 to 400 NM apart, without end."""
    rows = catalogue.query("SELECT icao FROM airport WHERE type = 'A' AND icao LIKE 'K%' AND status = 'O'")
    names, drawn = sorted(row[0] for row in rows), Random(seed)
    while True:
        start, goal = drawn.sample(names, 2)
        flights = Flights(catalogue, Asked(start, goal, STATEMENTS))
        if BETWEEN_NM[0] <= flights.direct_nm <= BETWEEN_NM[1]:
            yield flights, f"{start} {goal}"


def survey(catalogue: Catalogue, raw: RawAirways, wanted: int, seed: int = 11) -> tuple[Counter[str], list[str]]:
    """Counts by what was found, and in words what rules or rows say against a proposal."""
    counts: Counter[str] = Counter()
    against: list[str] = []
    for (flights, pair), _ in zip(pairs(catalogue, seed), range(wanted), strict=False):
        found = propose(catalogue, flights)
        counts["joined" if found.own else "not joined"] += 1
        for one in found.own:
            counts["proposals"] += 1
            for text in raw.faults(one.route, one.altitude_ft):
                against.append(f"{pair} {one.altitude_ft:.0f} {one.route}: {text}")
            for finding in one.answer.findings:
                if finding.severity != "note":
                    counts[f"rule {finding.rule}"] += 1
        against += unlike(pair, found)
    return counts, against


def unlike(pair: str, found: Proposals) -> Iterator[str]:
    """Where the alternatives of a pair are too long."""
    lengths = [one.answer.report.log.totals.distance_nm for one in found.own if one.answer.report is not None]
    yield from (f"{pair}: {nm:.1f} NM, the best has {lengths[0]:.1f}" for nm in lengths if nm > 1.31 * lengths[0])


if __name__ == "__main__":
    with open_catalogue(Path(sys.argv[1])) as opened:
        began = time.process_time()
        number = int(sys.argv[3]) if len(sys.argv) > 3 else 1000
        tally, faults = survey(opened, RawAirways(Path(sys.argv[2])), number)
        print(f"{(time.process_time() - began) / number * 1000.0:.0f} ms of CPU a pair")
    for name, count in tally.most_common():
        print(f"{count:6} {name}")
    print(f"{len(faults)} faults")
    for line in faults[:40]:
        print(" ", line)
