"""A long run of damaged input by hand, led by coverage: what falls, and what takes too long.

    pip install atheris
    python tests/hardening/fuzz.py TARGET SECONDS [FOLDER]

TARGET is one of `fuzzed.TARGETS`. Inputs that raise anything but a problem, or take more than two seconds of
the processor, are written into FOLDER (default: fuzz-TARGET), one for each place in the code, beside `figures`.
"""

from __future__ import annotations

import sys
import time
import traceback
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages
from random import Random
from typing import TYPE_CHECKING

import atheris

if TYPE_CHECKING:
    from helpers.fuzzed import Target

LONGEST_S = 2.0
LARGEST_BYTES = 8192
OWN_WAY = 0.2
"""The share of changes left to the fuzzer's own way, which knows nothing of words and lines."""

FROM_GOOD = 0.7
"""The share of other changes made to an input that was accepted, so that many come far."""

MOST_GOOD = 400


class Run:
    """Runs the target on what the fuzzer makes up, and keeps what falls, once for each place in the code."""

    def __init__(self, target: Target, folder: Path) -> None:
        self.target = target
        self.folder = folder
        self.words = target.words()
        self.executions = 0
        self.accepted = 0
        self.good = dict(enumerate(target.seeds, MOST_GOOD))
        self.slowest_s = 0.0
        self.fallen: set[tuple[str, ...]] = set()
        self.corpus = folder / "seeds"
        self.corpus.mkdir(parents=True, exist_ok=True)
        for number, seed in enumerate(target.seeds):
            (self.corpus / str(number)).write_bytes(seed)

    def one(self, data: bytes) -> None:
        """One input."""
        from navlog.nav.problems import NavlogError

        self.executions += 1
        started = time.process_time()
        try:
            self.target.run(data)
            self.accepted += 1
            self.good[self.accepted % MOST_GOOD] = data
        except NavlogError:
            pass
        except Exception as error:
            frames = traceback.extract_tb(error.__traceback__)
            place = [f"{Path(frame.filename).name}:{frame.lineno}" for frame in frames][-3:]
            self.keep((type(error).__name__, *place), data, error)
        took_s = time.process_time() - started
        self.slowest_s = max(self.slowest_s, took_s)
        if took_s > LONGEST_S:
            self.keep(("slow", f"{took_s:.0f} s"), data, None)
        if self.executions % 100 == 0:
            self.tell()

    def keep(self, place: tuple[str, ...], data: bytes, error: Exception | None) -> None:
        """Write an input and where it fell."""
        if place not in self.fallen:
            self.fallen.add(place)
            name = f"fallen-{len(self.fallen)}"
            (self.folder / name).write_bytes(data)
            said = "" if error is None else "".join(traceback.format_exception(error))
            (self.folder / f"{name}.txt").write_text(f"{place}\n{said}", "utf-8")
            sys.stderr.write(f"{name}: {' '.join(place)} {error}\n")

    def tell(self) -> None:
        """Say how it stands, in a file, as the fuzzer leaves without coming back."""
        line = f"{self.executions} executions, {self.accepted} accepted, slowest {self.slowest_s:.2f} s"
        (self.folder / "figures").write_text(f"{line}, {len(self.fallen)} fell\n", "utf-8")

    def mutated(self, data: bytes, largest: int, seed: int) -> bytes:
        """Most changes are in words and lines, some in the fuzzer's own way."""
        chance = Random(seed)
        if chance.random() < OWN_WAY:
            mutated: bytes = atheris.Mutate(data, largest)
            return mutated
        if chance.random() < FROM_GOOD:
            data = chance.choice(list(self.good.values()))
        return self.target.damaged(data, self.words, chance)[:largest]


def main() -> None:
    """Run the target named on the command line."""
    name, seconds = sys.argv[1], int(sys.argv[2])
    sys.path.insert(0, str(Path(__file__).parents[1]))
    with atheris.instrument_imports(include=["navlog"]):
        for module in walk_packages(import_module("navlog").__path__, "navlog."):
            if module.name != "navlog.__main__":
                import_module(module.name)
    from helpers.fuzzed import TARGETS

    run = Run(TARGETS[name], Path(sys.argv[3] if len(sys.argv) > 3 else f"fuzz-{name}"))
    options = [f"-max_total_time={seconds}", f"-max_len={LARGEST_BYTES}", "-timeout=30", "-rss_limit_mb=1500"]
    options += ["-mutate_depth=1", "-reduce_inputs=0"]  # one change at a time comes furthest
    atheris.Setup([sys.argv[0], *options, "-print_final_stats=1", str(run.corpus)], run.one, custom_mutator=run.mutated)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
