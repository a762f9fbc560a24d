"""A cluster on this machine, and a check on it: `python examples/cluster.py examples 2`.

A scheduler and so many workers, each a process, in the folder of this command. On machines of their own they are
started by `dask scheduler` and `dask worker tcp://HOST:8786 --nthreads 1`, and the check is the same.
"""

from __future__ import annotations

import subprocess
import sys

from distributed import LocalCluster


def main(folder: str, workers: str = "2", *options: str) -> int:
    """Check the folder on a cluster of so many workers, with the options of `navlog check`; its exit status."""
    with LocalCluster(n_workers=int(workers), threads_per_worker=1, dashboard_address="127.0.0.1:0") as cluster:
        command = ["check", folder, "--cluster", cluster.scheduler_address, *options]
        return subprocess.run([sys.executable, "-m", "navlog", *command], check=False).returncode


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
