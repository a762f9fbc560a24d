"""`python -m navlog` and the command `navlog`: the command line, whose imports an interruption may meet."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command line; Ctrl-C ends it with a word and status 130 from the first moment on."""
    try:
        from navlog.cli import main as command_line

        command_line()
    except KeyboardInterrupt:
        sys.stderr.write("interrupted\n")
        sys.exit(130)


if __name__ == "__main__":
    main()
