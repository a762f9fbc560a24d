"""How long an import takes against `csv.reader` alone on the same files, and its peak memory.

Run: python tests/bench/bench_import.py FOLDER, FOLDER being a NASR CSV subscription.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

from navlog.catalogue import import_data
from navlog.catalogue.nasr import WITHOUT

RUNS = 5
LARGEST_RATIO = 4.0
LARGEST_MEMORY_MIB = 150.0


def read_alone_s(folder: Path) -> float:
    start = perf_counter()
    for name in WITHOUT:
        if (folder / name).exists():
            with (folder / name).open(newline="", encoding="utf-8-sig") as file:
                for _ in csv.reader(file):
                    pass
    return perf_counter() - start


def import_s(folder: Path, catalogue: Path) -> float:
    catalogue.unlink(missing_ok=True)
    start = perf_counter()
    import_data(folder, catalogue)
    return perf_counter() - start


def peak_memory_mib() -> float:
    import resource

    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / (1 << 20) if sys.platform == "darwin" else peak / 1024.0


def main() -> int:
    folder = Path(sys.argv[1])
    with TemporaryDirectory() as scratch:
        catalogue = Path(scratch) / "catalogue.sqlite"
        import_s(folder, catalogue)
        # Taken in turn, so that a busy machine slows both.
        pairs = [(read_alone_s(folder), import_s(folder, catalogue)) for _ in range(RUNS)]
    alone, whole = (min(times) for times in zip(*pairs, strict=True))
    ratio, memory_mib = whole / alone, peak_memory_mib()
    sys.stdout.write(
        f"csv.reader alone {alone:.3f} s, import {whole:.3f} s, ratio {ratio:.2f} (at most {LARGEST_RATIO})\n"
    )
    sys.stdout.write(f"peak memory {memory_mib:.0f} MiB (at most {LARGEST_MEMORY_MIB:.0f})\n")
    return 0 if ratio <= LARGEST_RATIO and memory_mib <= LARGEST_MEMORY_MIB else 1


if __name__ == "__main__":
    sys.exit(main())
