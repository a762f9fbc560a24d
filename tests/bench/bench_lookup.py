"""How long it takes to look up a route of ten points and two airways in the catalogue.

Run: python tests/bench/bench_lookup.py CATALOGUE, a catalogue of FAA NASR.
"""

from __future__ import annotations

import sys
from datetime import date
from itertools import pairwise
from pathlib import Path
from time import perf_counter

from navlog.catalogue import open_catalogue

POINTS = ("KBDU", "GLL", "CHE", "VEL", "TCH", "OGD", "BYI", "FFU", "PUC", "JNC")
AIRWAYS = ("V101", "V134")
DAY = date(2026, 5, 20)
RUNS = 20
LARGEST_MS = 10.0


def look_up_ms(path: Path) -> float:
    start = perf_counter()
    with open_catalogue(path) as catalogue:
        for ident in POINTS:
            catalogue.stations(ident, DAY)
            catalogue.fixes(ident, DAY)
            catalogue.airports(ident, DAY)
        for ident in AIRWAYS:
            catalogue.airways(ident, DAY)
        for start_ident, end_ident in pairwise(POINTS):
            catalogue.airways_joining(start_ident, end_ident, DAY)
        catalogue.sources(DAY)
    return (perf_counter() - start) * 1000.0


def main() -> int:
    path = Path(sys.argv[1])
    first_ms = look_up_ms(path)
    best_ms = min(look_up_ms(path) for _ in range(RUNS))
    sys.stdout.write(f"first {first_ms:.1f} ms with its imports, then {best_ms:.1f} ms (at most {LARGEST_MS:.0f})\n")
    return 0 if best_ms <= LARGEST_MS else 1


if __name__ == "__main__":
    sys.exit(main())
