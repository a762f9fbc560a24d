"""How long the command takes to start, beside importing its libraries, as ratios of whole processes.

    python tests/bench/bench_start.py [--runs 15]

Run it in the environment where the wheel is installed (not an editable install). `log` is the text log of a
12-leg route, `bare` a script that imports the same libraries and does the same number of geodesics,
variations and triangles. Medians are compared, in turn within one run; the PDF needs reportlab.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

LEGS = 12
BARE = f"""
import math
import click, pyproj, pygeomag, tabulate
geod, model = pyproj.Geod(ellps="WGS84"), pygeomag.GeoMag()
for leg in range({LEGS}):
    geod.inv(-39.0 - leg / 10, 46.0, -39.5, 45.5)
    model.calculate(glat=46.0, glon=-39.0 - leg / 10, alt=0, time=2026.5)
    math.degrees(math.asin(12.0 * math.sin(leg) / 110.0))
"""
HEAD = "date 2026-07-18\noff 15:10Z\naltitude 4500\ntas 110kt\nburn 8gph\nfuel 38gal\nwind 230/12\n"
AIMS = {"--help": 1.2, "syntax error": 1.5, "log": 1.15}
OTHERS = {"html": "html", "pdf": "pdf", "csv": "csv", "gpx": "gpx", "strip": "txt"}
"""The other formats, and the suffix of a file of each."""

STATUSES = {"syntax error": 2}
"""With what the commands leave that do not leave with 0."""


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--runs", type=int, default=15)
    runs = arguments.parse_args().runs
    with tempfile.TemporaryDirectory() as folder:
        route, wrong = Path(folder, "twelve.route"), Path(folder, "wrong.route")
        route.write_text(HEAD + twelve_legs(), "utf-8")
        wrong.write_text("station QHB\nroute\n", "utf-8")
        navlog = [sys.executable, "-m", "navlog"]
        commands = {
            "click": [sys.executable, "-c", "import click"],
            "--help": [*navlog, "--help"],
            "syntax error": [*navlog, "log", str(wrong)],
            "bare": [sys.executable, "-c", BARE],
            "log": [*navlog, "log", str(route)],
        }
        for form, suffix in OTHERS.items():
            commands[form] = [*navlog, "log", str(route), "--format", form, "-o", str(Path(folder, f"out.{suffix}"))]
        medians = timed(commands, runs)
    for name in ("--help", "syntax error"):
        print(f"{name:<13} {medians[name] / medians['click']:.2f} times importing click (aim {AIMS[name]})")
    print(f"{'log':<13} {medians['log'] / medians['bare']:.2f} times the bare script (aim {AIMS['log']})")
    for name in OTHERS:
        more_ms = 1e3 * (medians[name] - medians["log"])
        print(f"{name:<13} {more_ms:+.0f} ms beside the text log, {medians[name] / medians['log']:.2f} times")
    print("medians in ms: " + ", ".join(f"{name} {1e3 * seconds:.0f}" for name, seconds in medians.items()))


def twelve_legs() -> str:
    """A route file of direct legs between stations in a row, cut at their middles into twelve legs."""
    idents = ("QAA", "QBB", "QCC", "QDD", "QEE", "QFF", "QGG")
    stations = [
        f"station {ident} 11{index}.20 N46 {10 * index:02d}.00 W039 {7 * index:02d}.00 decl 12W"
        for index, ident in enumerate(idents)
        if index < 6
    ]
    stations.append("station QGG 116.20 N47 00.00 W039 42.00 decl 12W")
    return "\n".join(stations) + "\nroute " + " DCT ".join(idents) + "\n"


def timed(commands: dict[str, list[str]], runs: int) -> dict[str, float]:
    """The median seconds of each command, run in turn; raises SystemExit where one leaves otherwise than it should."""
    seconds: dict[str, list[float]] = {name: [] for name in commands}
    for run in range(runs + 1):
        for name, command in commands.items():
            start = time.perf_counter()
            done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False)
            took = time.perf_counter() - start
            if done.returncode != STATUSES.get(name, 0):
                raise SystemExit(f"{name} leaves with status {done.returncode}: {done.stderr.decode()}")
            if run:
                seconds[name].append(took)
    return {name: statistics.median(some) for name, some in seconds.items()}


if __name__ == "__main__":
    main()
