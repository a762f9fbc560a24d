"""How long the look-ups of a route of ten points take in a fresh process, beyond what every log loads anyway.

Run: python tests/bench/bench_lookup.py CATALOGUE, a catalogue of FAA NASR.

Each point is asked for as station, fix and airport, each neighbouring pair for the airways that join it; the
imports of the catalogue and of SQLite count. Beside that: two airways of 52 points with everything on them.
"""

from __future__ import annotations

import os
import sys
from datetime import date
from itertools import pairwise
from pathlib import Path
from statistics import median
from subprocess import run
from tempfile import TemporaryDirectory
from time import perf_counter

POINTS = ("KBDU", "GLL", "CHE", "VEL", "TCH", "OGD", "BYI", "FFU", "PUC", "JNC")
AIRWAYS = ("V101", "V134")
DAY = date(2026, 5, 20)
RUNS = 15
LARGEST_MS = 10.0


def look_up(path: Path) -> tuple[float, float]:
    """Milliseconds for the ten points, and then for the two airways."""
    # Every log loads these, with or without a catalogue.
    import navlog.flightlog.planning
    import navlog.request.flights
    import navlog.resolve.stretches
    import navlog.rules.answers
    import navlog.rules.report  # noqa: F401

    start = perf_counter()
    from navlog.catalogue import open_catalogue

    with open_catalogue(path) as catalogue:
        for ident in POINTS:
            catalogue.stations(ident, DAY)
            catalogue.fixes(ident, DAY)
            catalogue.airports(ident, DAY)
        for start_ident, end_ident in pairwise(POINTS):
            catalogue.airways_joining(start_ident, end_ident, DAY)
        catalogue.sources(DAY)
        points = perf_counter()
        for ident in AIRWAYS:
            catalogue.airways(ident, DAY)
        airways = perf_counter()
    return (points - start) * 1000.0, (airways - points) * 1000.0


def fresh(path: Path, compiled: str) -> tuple[float, float]:
    """The same in a process of its own, with modules compiled before, as installed ones are."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    command = [sys.executable, __file__, str(path), "--once"]
    done = run(command, env=environment | {"PYTHONPYCACHEPREFIX": compiled}, capture_output=True, text=True, check=True)
    points_ms, airways_ms = done.stdout.split()
    return float(points_ms), float(airways_ms)


def main() -> int:
    path = Path(sys.argv[1])
    if "--once" in sys.argv:
        sys.stdout.write("{} {}\n".format(*look_up(path)))
        return 0
    with TemporaryDirectory() as compiled:
        fresh(path, compiled)
        times = [fresh(path, compiled) for _ in range(RUNS)]
    points_ms = median(points for points, _ in times)
    airways_ms = median(airways for _, airways in times)
    sys.stdout.write(f"ten points {points_ms:.1f} ms in a fresh process (at most {LARGEST_MS:.0f})\n")
    sys.stdout.write(f"two airways {airways_ms:.1f} ms more\n")
    return 0 if points_ms <= LARGEST_MS else 1


if __name__ == "__main__":
    sys.exit(main())
