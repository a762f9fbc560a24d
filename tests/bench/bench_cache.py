"""A library of 2,000 files checked without a cache, with an empty one, and again: `python bench_cache.py CATALOGUE`.

Each run is a process of its own; seconds are of the processor, so that other work on the machine counts little.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from helpers.library import real_library

FILES = 2_000


def seconds(*words: str) -> tuple[float, bytes]:
    """The processor's seconds of one run of navlog, and what it printed."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run([sys.executable, "-m", "navlog", *words], capture_output=True, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, done.stdout


def main(catalogue: str) -> None:
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    with tempfile.TemporaryDirectory() as folder:
        routes, cache = Path(folder) / "routes", str(Path(folder) / "cache")
        routes.mkdir()
        real_library(routes, FILES)
        for form in ("text", "json"):
            words = ("check", str(routes), "--catalogue", catalogue, "--format", form)
            seconds("check", str(routes / "0000.route"), "--catalogue", catalogue)
            plain, out = seconds(*words)
            first, same = seconds(*words, "--cache", cache)
            again, told = min(seconds(*words, "--cache", cache) for _ in range(3))
            assert out == same == told
            print(
                f"{form}: {plain:.2f} s without, {first:.2f} s the first time, {again:.2f} s again: {plain / again:.1f}"
            )


if __name__ == "__main__":
    main(sys.argv[1])
