"""How fast `navlog check` is over small files in a fresh process, and what a second process brings.

    python tests/bench/bench_cold.py CATALOGUE [--files 1000] [--flights 10000]

The flights are those of `bench_batch.py`, once in files of one flight each and once in files of ten. Each run is a
process of its own; runs with one job and with two take turns, and the best of each counts.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from navlog.catalogue import open_catalogue

sys.path.insert(0, str(Path(__file__).parents[1]))

from bench.bench_batch import HEAD, routes, write_library

RUNS = 3


def write_files(catalogue: Path, folder: Path, count: int) -> None:
    """Files of one flight each."""
    with open_catalogue(catalogue) as opened:
        for number, (altitude_ft, line) in enumerate(routes(opened, count), 1):
            (folder / f"flight-{number:05d}.route").write_text(f"{HEAD}altitude {altitude_ft}\nroute {line}\n", "utf-8")


def checked(catalogue: Path, folder: Path, jobs: int) -> tuple[float, float]:
    """The seconds that a check takes by the clock, and of the processors; raises SystemExit where it fails."""
    command = [sys.executable, "-m", "navlog", "check", str(folder), "--catalogue", str(catalogue), "--jobs", str(jobs)]
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False)
    took, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode not in (0, 1):
        raise SystemExit(f"check leaves with status {done.returncode}: {done.stderr.decode()}")
    return took, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Make the files, check them, and print the figures."""
    options = argparse.ArgumentParser(description="Measure a check of small files, and of a library with two jobs.")
    options.add_argument("catalogue", type=Path, help="a catalogue that holds 2026-05-20")
    options.add_argument("--files", type=int, default=1_000)
    options.add_argument("--flights", type=int, default=10_000)
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        small, large = Path(folder, "small"), Path(folder, "large")
        small.mkdir()
        large.mkdir()
        write_files(asked.catalogue, small, asked.files)
        with open_catalogue(asked.catalogue) as opened:
            write_library(opened, large, asked.flights)
        asked_of = (("small files", small, asked.files, 1.5), ("flights", large, asked.flights, 1.8))
        for name, where, count, aim in asked_of:
            runs = [[checked(asked.catalogue, where, jobs) for jobs in (1, 2)] for _ in range(RUNS)]
            (one, of_one), (two, _) = (tuple(map(min, zip(*some, strict=True))) for some in zip(*runs, strict=True))
            print(f"{count} {name}: {count / of_one:.0f} a second of processor time with one job")
            print(f"{count} {name}: two jobs {one / two:.2f} times one by the clock (aim {aim})")


if __name__ == "__main__":
    main()
