"""A long run by hand of what holds for every flight, over flights and files of the grammar.

    python tests/hardening/fuzz_flights.py SECONDS [FIRST [COUNTS]]

Flight FIRST (default 0) and those after it are made up, and each invariant is asked of each: of eleven, five are among
stations with positions, two on a chart that leaves positions out, one near hills, two along published airways, and one
is a file of several flights. What falls is printed with the number of its flight, five times a kind; at the end stand
how often each was asked and fell, and how often each command was run over one input. The file COUNTS has them every ten
seconds, so that a run that is killed has counted what it did.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import partial
from pathlib import Path
from tempfile import mkdtemp

sys.path.insert(0, str(Path(__file__).parents[1]))

from helpers.grammar import flight
from helpers.grammar_files import several
from helpers.grammar_hills import hill_flight
from helpers.grammar_published import published_flight
from helpers.invariants import INVARIANTS
from helpers.invariants_of_files import INVARIANTS_OF_FILES
from helpers.made import CATALOGUE, EXCERPT, Made, folder_of_files

from navlog.request.references import References

CHARTED = (0.0, 0.0, 0.0, 0.0, 0.0, 0.5, 1.0)
"""By number, the share of stations without a position; then a flight near hills, two along airways, and a file."""


def asked_of(
    number: int, folder: Path, references: References, ran: Counter[str]
) -> Iterator[tuple[str, Callable[[], Iterator[str]]]]:
    """What is asked of a flight or file of the grammar, each by its name."""
    kind = number % (len(CHARTED) + 4)
    if kind == len(CHARTED) + 3:
        file = several(number)
        made = Made(file.lines, folder, references, ran)
        yield from ((name, partial(one, file, made)) for name, one in INVARIANTS_OF_FILES.items())
        return
    if kind < len(CHARTED):
        made = Made(flight(number, CHARTED[kind]), folder, references, ran)
    elif kind == len(CHARTED):
        # Every other one with masts.
        made = Made(hill_flight(number), folder, references, ran, str(folder / CATALOGUE) if number % 2 else None)
    else:
        made = Made(published_flight(number), folder, references, ran, str(folder / EXCERPT))
    yield from ((name, partial(one, made)) for name, one in INVARIANTS.items())


KEPT_AFTER_S = 10.0


class Run:
    """Asks of one flight after another, and counts; what falls is printed as it does."""

    def __init__(self, number: int, counts: Path | None = None) -> None:
        self.number, self.counts = number, counts
        self.kept_s = time.monotonic()
        self.asked, self.fell, self.ran = Counter[str](), Counter[str](), Counter[str]()
        self.took_s: dict[str, float] = {}

    def until(self, ends: float) -> None:
        """Go on until a moment of the monotonic clock."""
        folder, references = folder_of_files(Path(mkdtemp())), References()
        while time.monotonic() < ends:
            for name, invariant in asked_of(self.number, folder, references, self.ran):
                self.ask(name, invariant)
            self.number += 1
            if self.counts is not None and time.monotonic() - self.kept_s >= KEPT_AFTER_S:
                self.keep(self.counts)

    def keep(self, counts: Path) -> None:
        """Write the counts to a file, which a kill leaves as it was or as it is to be."""
        begun = counts.with_name(f"{counts.name}.begun")
        begun.write_text(self.told(), "utf-8")
        begun.replace(counts)
        self.kept_s = time.monotonic()

    def ask(self, name: str, invariant: Callable[[], Iterator[str]]) -> None:
        """Ask one invariant."""
        started = time.process_time()
        try:
            faults = list(invariant())
        except Exception as error:
            faults = [f"{type(error).__name__}: {error}"]
        self.asked[name] += 1
        self.fell[name] += bool(faults)
        self.took_s[name] = self.took_s.get(name, 0.0) + time.process_time() - started
        if faults and self.fell[name] <= 5:
            sys.stdout.write(f"flight {self.number}, {name}: {faults[0][:400]}\n")
            sys.stdout.flush()

    def told(self) -> str:
        """How often each invariant was asked and fell, and how often each command was run."""
        asked = (
            f"{name:41} {times:7} asked {self.fell[name]:5} fell {self.took_s[name]:8.1f} s\n"
            for name, times in self.asked.items()
        )
        ran = (f"{name:41} {times:7} executions\n" for name, times in sorted(self.ran.items()))
        rate = self.ran.total() / max(sum(self.took_s.values()), 1e-3)
        done = f"{self.ran.total()} executions, {rate:.0f} a second of processor time"
        return f"{''.join((*asked, *ran))}{done}; next is flight {self.number}\n"


def main() -> None:
    """Run for the seconds of the command line, or until it is interrupted."""
    counts = Path(sys.argv[3]) if len(sys.argv) > 3 else None
    run = Run(int(sys.argv[2]) if len(sys.argv) > 2 else 0, counts)
    with suppress(KeyboardInterrupt):
        run.until(time.monotonic() + float(sys.argv[1]))
    if counts is not None:
        run.keep(counts)
    sys.stdout.write(run.told())


if __name__ == "__main__":
    main()
