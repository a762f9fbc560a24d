"""Fly every Victor airway of a published folder both ways and hold what tells each fix against the files.

    python tests/bench/survey_marks.py CATALOGUE FOLDER [EQUIPMENT] [ALTITUDE]

CATALOGUE was imported from FOLDER. The log is asked for as JSON from the command line, so that an earlier version
can be surveyed too: put its folder first on PYTHONPATH. Printed: marks by kind, the best ones by the angle at
which the station's radial cuts the leg, and each disagreement.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from helpers.outside import Tally, check, read, unbroken, untold

COMMON = "date 2026-05-20\naltitude {altitude}\ntas 120kt\nwind calm\nequipment {equipment}\n"


def main() -> None:
    """Survey the catalogue and folder named on the command line."""
    catalogue, folder = sys.argv[1], Path(sys.argv[2])
    equipment = sys.argv[3] if len(sys.argv) > 3 else "vor 2 dme 1"
    text = COMMON.format(altitude=sys.argv[4] if len(sys.argv) > 4 else "12000", equipment=equipment)
    text += "".join(f'flight "{number}"\nroute {route}\n' for number, route in enumerate(unbroken(folder)))
    command = [sys.executable, "-m", "navlog", "log", "-", "--format", "json", "--catalogue", catalogue]
    ran = subprocess.run(command, input=text, capture_output=True, text=True, check=False)
    flights = [json.loads(line) for line in ran.stdout.splitlines()]
    published, tally = read(folder), Tally()
    silent: list[str] = []
    for flight in flights:
        check(flight, published, tally)
        if any("marks" in leg for leg in flight["legs"]):
            silent += untold(flight)
    failed = sum(bool(flight["problems"]) for flight in flights)
    print(f"{len(flights)} flights with {equipment}, {failed} not computed")
    print("fixes by what best tells them:", dict(sorted(tally.kinds.items())))
    print("best marks by cut:", dict(sorted(tally.cuts.items())))
    print("disagreements:", dict(sorted(tally.off.items())), "no finding for another radial:", len(silent))
    if "--all" in sys.argv:
        print(*tally.told, sep="\n")


if __name__ == "__main__":
    main()
