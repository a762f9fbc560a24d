"""A long run of damaged input by hand, led by coverage: what falls, and what takes too long.

    pip install atheris
    python tests/hardening/fuzz.py TARGET SECONDS [FOLDER]
    python tests/hardening/fuzz.py all SECONDS [FOLDER [PROCESSES]]

TARGET is one of `fuzzed.TARGETS`; `all` shares the seconds out over all of them, each in a process of its own. The
first part of them is led by coverage, which is counted at a third of the speed or less; the rest is changes to all that
was found by it. Inputs that raise anything but a problem, break what holds of every input, or take more than two
seconds of the processor, are written into FOLDER (default: fuzz-TARGET), one for each place in the code, beside
`figures`; `all` has a folder in it for each target and adds their figures up. A run goes on from the folder of the one
before, those least run first.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import time
import traceback
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

import atheris

if TYPE_CHECKING:
    from helpers.target import Target

LONGEST_S = 2.0
LARGEST_BYTES = 8192
LED = 0.25
"""The share of the time in which coverage leads."""

OWN_WAY = 0.2
"""The share of changes left to the fuzzer's own way, which knows nothing of words and lines."""

FROM_GOOD = 0.7
"""The share of other changes made to an input that was accepted, so that many come far."""

MOST_GOOD = 400
NOTHING_YET = {"executions": 0, "accepted": 0, "fell": 0, "processor_s": 0.0, "slowest_s": 0.0}

ROOMS = {
    "nasr|cifp|ourairports|obstacles|zip": ["navlog.catalogue"],
    "literal|tile": ["navlog.nav"],
    "baseline|kept": ["navlog.studies.gate", "navlog.studies.remembered"],
    "answers|passages": ["navlog.studies.answersheet", "navlog.studies.marking", "navlog.studies.revision"],
    "command-line": ["navlog.computations"],
    "route": ["navlog.request", "navlog.resolve"],
}
"""Where coverage is counted for the targets of these names; for others in what reads route files."""


class Run:
    """Runs the target on what the fuzzer makes up, and keeps what falls, once for each place in the code."""

    def __init__(self, target: Target, folder: Path) -> None:
        self.target = target
        self.folder = folder
        self.good = dict(enumerate(target.seeds, MOST_GOOD))
        self.figures = figures_in(folder)
        self.before_s = self.figures["processor_s"]
        self.fallen = {path.read_text("utf-8").partition("\n")[0] for path in folder.glob("fallen-*.txt")}
        self.corpus = folder / "seeds"
        self.corpus.mkdir(parents=True, exist_ok=True)
        for number, seed in enumerate(target.seeds):
            (self.corpus / str(number)).write_bytes(seed)

    def one(self, data: bytes) -> None:
        """One input."""
        figures = self.figures
        figures["executions"] += 1
        started = time.process_time()
        try:
            if self.target.accepts(data):
                figures["accepted"] += 1
                self.good[int(figures["accepted"]) % MOST_GOOD] = data
        except Exception as error:
            frames = traceback.extract_tb(error.__traceback__)
            place = [f"{Path(frame.filename).name}:{frame.lineno}" for frame in frames][-3:]
            self.keep(" ".join((type(error).__name__, *place)), data, error)
        took_s = time.process_time() - started
        figures["processor_s"] = self.before_s + time.process_time()
        figures["slowest_s"] = max(figures["slowest_s"], took_s)
        if took_s > LONGEST_S:
            self.keep(f"slow {took_s:.0f} s", data, None)
        if figures["executions"] % 100 == 0:
            self.tell()

    def keep(self, place: str, data: bytes, error: Exception | None) -> None:
        """Write an input and where it fell."""
        if place not in self.fallen:
            self.fallen.add(place)
            name = f"fallen-{len(self.fallen)}"
            (self.folder / name).write_bytes(data)
            said = "" if error is None else "".join(traceback.format_exception(error))
            (self.folder / f"{name}.txt").write_text(f"{place}\n{said}", "utf-8")
            sys.stderr.write(f"{name}: {place} {error}\n")

    def tell(self) -> None:
        """Say how it stands, in a file, as the fuzzer leaves without coming back."""
        (self.folder / "figures").write_text(json.dumps(self.figures | {"fell": len(self.fallen)}), "utf-8")

    def swiftly(self, seconds: float) -> None:
        """Changes to what coverage led to, without counting any, until the time is over."""
        ends = time.monotonic() + seconds
        found = [path.read_bytes() for path in sorted(self.corpus.iterdir())]
        chance = Random(self.figures["executions"])
        while time.monotonic() < ends:
            many = list(self.good.values()) if chance.random() < FROM_GOOD else found
            for _ in range(20):
                self.one(self.target.damaged(chance.choice(many), chance)[:LARGEST_BYTES])
        self.tell()

    def mutated(self, data: bytes, largest: int, seed: int) -> bytes:
        """Most changes are in words and lines, some in the fuzzer's own way."""
        chance = Random(seed)
        if chance.random() < OWN_WAY:
            mutated: bytes = atheris.Mutate(data, largest)
            return mutated
        if chance.random() < FROM_GOOD:
            data = chance.choice(list(self.good.values()))
        return self.target.damaged(data, chance)[:largest]


def figures_in(folder: Path) -> dict[str, float]:
    """What was counted there so far."""
    path = folder / "figures"
    return json.loads(path.read_text("utf-8")) if path.exists() else dict(NOTHING_YET)


def run_led(name: str, seconds: int, folder: Path) -> None:
    """Run one target led by coverage in this process, which ends with it."""
    with atheris.instrument_imports(include=rooms_of(name)):
        from helpers.fuzzed import TARGETS
    run = Run(TARGETS[name], folder)
    options = [f"-max_total_time={seconds}", f"-max_len={LARGEST_BYTES}", "-timeout=30", "-rss_limit_mb=1500"]
    options += ["-mutate_depth=1", "-reduce_inputs=0", "-verbosity=0"]  # one change at a time comes furthest
    atheris.Setup([sys.argv[0], *options, str(run.corpus)], run.one, custom_mutator=run.mutated)
    atheris.Fuzz()


def run_swiftly(name: str, seconds: int, folder: Path) -> None:
    """Run one target without coverage."""
    from helpers.fuzzed import TARGETS

    Run(TARGETS[name], folder).swiftly(seconds)


def run_target(name: str, seconds: int, folder: Path) -> None:
    """Run one target led by coverage and then without, each in a process of its own."""
    folder.mkdir(parents=True, exist_ok=True)
    for way, share in (("led", LED), ("swiftly", 1.0 - LED)):
        command = [sys.executable, __file__, way, name, str(int(seconds * share)), str(folder)]
        with (folder / "log").open("ab") as log, suppress(subprocess.TimeoutExpired):
            subprocess.run(command, stdout=log, stderr=log, timeout=seconds + 300, check=False)


def rooms_of(name: str) -> list[str]:
    """The parts of the package whose coverage leads: to count in all of them takes three times as long."""
    return next((rooms for word, rooms in ROOMS.items() if re.match(word, name)), ["navlog.request"])


def run_all(seconds: int, folder: Path, processes: int) -> None:
    """Share the seconds out over all targets, the least run first, and add up after each."""
    from helpers.fuzzed import TARGETS

    def run(name: str) -> None:
        run_target(name, seconds * processes // len(TARGETS), folder / name)
        add_up(folder, list(TARGETS))

    in_order = sorted(TARGETS, key=lambda name: figures_in(folder / name)["processor_s"])
    with ThreadPoolExecutor(processes) as pool:
        list(pool.map(run, in_order))


def add_up(folder: Path, names: list[str]) -> None:
    """Executions by target in one file."""
    counted = {name: figures_in(folder / name) for name in names}
    lines = [
        f"{name:17} {one['executions']:10} executions {one['accepted']:9} accepted {one['fell']:3} fell"
        f" {one['executions'] / max(one['processor_s'], 1e-3):7.0f} a second, slowest {one['slowest_s']:.2f} s"
        for name, one in counted.items()
    ]
    lines.append(f"{'all':17} {sum(one['executions'] for one in counted.values()):10} executions")
    (folder / "figures").write_text("\n".join(lines) + "\n", "utf-8")


def main() -> None:
    """Run the target named on the command line, or all."""
    sys.path.insert(0, str(Path(__file__).parents[1]))
    ways = {"led": run_led, "swiftly": run_swiftly}
    if sys.argv[1] in ways:
        way, name, seconds, folder = sys.argv[1:]
        ways[way](name, int(seconds), Path(folder))
        return
    name, seconds = sys.argv[1:3]
    own = Path(sys.argv[3] if len(sys.argv) > 3 else f"fuzz-{name}")
    if name == "all":
        run_all(int(seconds), own, int(sys.argv[4]) if len(sys.argv) > 4 else 1)
    else:
        run_target(name, int(seconds), own)


if __name__ == "__main__":
    main()
