"""A long run by hand of what holds for every flight, over flights of the grammar.

    python tests/hardening/fuzz_flights.py SECONDS [FIRST]

Flight FIRST (default 0) and those after it are made up, and each invariant is asked of each. What falls is printed
once for its kind with the number of its flight, at the end how often each was asked and fell.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from pathlib import Path
from tempfile import mkdtemp

sys.path.insert(0, str(Path(__file__).parents[1]))

from helpers.grammar import flight
from helpers.invariants import INVARIANTS
from helpers.made import Made, folder_of_files

from navlog.request.references import References


def main() -> None:
    """Run for the seconds of the command line."""
    seconds, number = float(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0
    folder, references = folder_of_files(Path(mkdtemp())), References()
    asked, fell, took_s = Counter[str](), Counter[str](), dict.fromkeys(INVARIANTS, 0.0)
    ends = time.monotonic() + seconds
    while time.monotonic() < ends:
        made = Made(flight(number), folder, references)
        for name, invariant in INVARIANTS.items():
            asked[name] += 1
            began = time.process_time()
            try:
                faults = list(invariant(made))
            except Exception as error:
                faults = [f"{type(error).__name__}: {error}"]
            fell[name] += bool(faults)
            took_s[name] += time.process_time() - began
            if faults and fell[name] <= 5:
                sys.stdout.write(f"flight {number}, {name}: {faults[0].splitlines()[0]}\n")
                sys.stdout.flush()
        number += 1
    for name, times in asked.items():
        sys.stdout.write(f"{name:34} {times:7} asked {fell[name]:5} fell {took_s[name]:8.1f} s\n")


if __name__ == "__main__":
    main()
