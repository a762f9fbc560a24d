"""`python -m navlog` and the command `navlog`: the command line, whose imports an interruption may meet."""

from __future__ import annotations

import gc
import sys

COLLECTED_AFTER = 50_000
"""Records and modules hold no cycles: at Python's own 700 new objects the collector took 4 % of a log, for nothing."""


def main() -> None:
    """Run the command line; Ctrl-C ends it with a word and status 130 from the first moment on."""
    gc.set_threshold(COLLECTED_AFTER)
    try:
        from navlog.cli import main as command_line

        command_line()
    except KeyboardInterrupt:
        sys.stderr.write("interrupted\n")
        sys.exit(130)
    finally:
        # What lives to the end goes with the process: looking through all of it once more took 7 % of a log.
        gc.freeze()


if __name__ == "__main__":
    main()
