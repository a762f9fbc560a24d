"""10,000 files on a pool of two processes and on a cluster of two workers: `python bench_cluster.py CATALOGUE`.

Scheduler and workers are processes of this machine. Beside the seconds that pass stand those of the processor, of all
processes together, which other work on the machine disturbs less: on two free cores, half of them pass.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import distributed
import psutil

sys.path.insert(0, str(Path(__file__).parents[1]))

from bench import bench_batch

from navlog.catalogue import open_catalogue
from navlog.studies.batch import Engine, RouteSource, process_pool
from navlog.studies.checking import Settings, check_sources
from navlog.studies.cluster import on_cluster

WORKERS = 2


def processor_s() -> float:
    """The processor's seconds of this process and all below it."""
    family = [psutil.Process(), *psutil.Process().children(recursive=True)]
    return sum(sum(one.cpu_times()[:2]) for one in family)


def run(files: list[Path], settings: Settings, engine: Engine) -> tuple[float, float]:
    """Check the files; the seconds that passed, and those of the processor."""
    start, before = time.perf_counter(), processor_s()
    for _ in check_sources((RouteSource(str(file)) for file in files), settings, engine):
        pass
    return time.perf_counter() - start, processor_s() - before


def main() -> None:
    """Make the library, check it in turns, and print the figures."""
    options = argparse.ArgumentParser(description="Measure a cluster beside a pool of processes.")
    options.add_argument("catalogue", type=Path, help="a catalogue that holds 2026-05-20")
    options.add_argument("--files", type=int, default=10_000)
    options.add_argument("--turns", type=int, default=3)
    options.add_argument("--json", action="store_true", help="each flight with its line of JSON")
    asked = options.parse_args()
    settings = Settings(catalogue=str(asked.catalogue), json=asked.json)
    bench_batch.FLIGHTS_A_FILE = 1
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        with open_catalogue(asked.catalogue) as catalogue:
            files = bench_batch.write_library(catalogue, folder, asked.files)
        pool = Engine(stack.enter_context(process_pool(WORKERS)), 4 * WORKERS)
        local: Any = distributed.LocalCluster  # It has no types.
        machines = stack.enter_context(local(n_workers=WORKERS, threads_per_worker=1, dashboard_address="127.0.0.1:0"))
        cluster = stack.enter_context(on_cluster(machines.scheduler_address, len(files), [str(asked.catalogue)]))
        for engine in (pool, cluster):
            run(files[: len(files) // 5], settings, engine)
        shares = []
        for _ in range(asked.turns):
            (pool_s, pool_cpu_s), (cluster_s, cluster_cpu_s) = (run(files, settings, one) for one in (pool, cluster))
            shares.append((pool_s / cluster_s, pool_cpu_s / cluster_cpu_s))
            print(
                f"pool {pool_s:.1f} s ({pool_cpu_s:.1f} s of the processor), cluster {cluster_s:.1f} s"
                f" ({cluster_cpu_s:.1f} s): {shares[-1][0]:.2f} of the pool ({shares[-1][1]:.2f})"
            )


if __name__ == "__main__":
    main()
