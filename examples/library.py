"""A library of routes as a table: `python examples/library.py examples legs.csv` writes a row a leg.

Problems and errors go to standard error, and the status is 1 where there are any. With a third argument, a catalogue
file, names are looked up in published data.
"""

from __future__ import annotations

import csv
import sys
from contextlib import ExitStack
from pathlib import Path

from navlog import check_text, open_catalogue, rows


def main(folder: str, table: str, published: str | None = None) -> int:
    """Write the legs of every flight in the folder; tell what is wrong and give the status."""
    legs: list[dict[str, object]] = []
    wrong = 0
    with ExitStack() as stack:
        catalogue = stack.enter_context(open_catalogue(published)) if published is not None else None
        for path in sorted(Path(folder).rglob("*.route")):
            for answer in check_text(path.read_bytes(), str(path), catalogue=catalogue):
                for problem in answer.problems:
                    print(f"{path}: {answer.flight}: {problem.message} [{problem.code}]", file=sys.stderr)
                for finding in answer.findings:
                    if finding.severity == "error" and finding.accepted is None:
                        print(f"{path}: {answer.flight}: {finding.message} [{finding.rule}]", file=sys.stderr)
                wrong += answer.status in ("error", "problem")
                if answer.report is not None:
                    legs += [{"file": str(path), **row} for row in rows(answer.report.log)]
    with open(table, "w", encoding="utf-8", newline="") as opened:
        writer = csv.DictWriter(opened, list(legs[0]) if legs else [])
        writer.writeheader()
        writer.writerows(legs)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
