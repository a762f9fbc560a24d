"""The commands, one file each, loaded when they are asked for; computes nothing."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

import click

from navlog.problems import NavlogError, format_problem, in_order
from navlog.version import VERSION

COMMANDS = {
    "log": "log_command",
    "check": "check_command",
    "explain": "explain_command",
    "catalogue": "catalogue_command",
    "wind": "wind_command",
    "airspeed": "airspeed_command",
    "fix": "fix_command",
    "position": "position_command",
    "intercept": "intercept_command",
    "station-time": "station_time_command",
    "descent": "descent_command",
    "holding": "holding_command",
    "vor-check": "vor_check_command",
    "declination": "declination_command",
    "morse": "morse_command",
    "mark": "mark_command",
    "revise": "revise_command",
}
"""Each command's name and the module that defines it as `command`."""

EXIT_FINDING = 1
EXIT_PROBLEM = 2
EXIT_BUG = 70
EXIT_INTERRUPTED = 130


class LazyCommands(click.Group):
    """A group that imports the module of a command only when the command is used."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of the commands that are installed, in the order of the table."""
        from importlib.util import find_spec

        return [name for name, module in COMMANDS.items() if find_spec(f"navlog.cli.{module}")]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name."""
        module = COMMANDS.get(cmd_name)
        if module is None:
            return None
        from importlib import import_module

        command: click.Command = import_module(f"navlog.cli.{module}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the arguments name; a misspelt one is answered with the nearest."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from difflib import get_close_matches

            close = get_close_matches(args[0], COMMANDS, n=1)
            hint = f" Did you mean {close[0]}?" if close else ""
            raise click.UsageError(f"No such command {args[0]!r}.{hint}", ctx)
        return super().resolve_command(ctx, args)


@click.group(
    cls=LazyCommands,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Example: navlog log examples/round_robin.route",
)
@click.version_option(VERSION, prog_name="navlog")
@click.option("--debug", is_flag=True, help="Show the traceback of a bug in navlog.")
def commands(debug: bool) -> None:
    """Turn a plain-text list of stations, radials and airways into a VOR navigation log.

    For planning only: verify against current charts and NOTAMs; local rules and licensed practice decide.
    """
    del debug


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command line and leave with its exit status."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    sys.exit(run(given))


def run(arguments: list[str]) -> int:
    """Run one command line and give back its exit status; every failure ends here in a message."""
    try:
        status = commands.main(args=arguments, prog_name="navlog", standalone_mode=False)
        sys.stdout.flush()
        return status if isinstance(status, int) else 0
    except NavlogError as error:
        for problem in in_order(error.problems):
            echo_error(format_problem(problem))
        return EXIT_PROBLEM
    except click.ClickException as error:
        error.show()
        return EXIT_PROBLEM
    except (KeyboardInterrupt, click.Abort):
        echo_error("interrupted")
        return EXIT_INTERRUPTED
    except BrokenPipeError:
        # Whoever reads has had enough; nothing may complain at exit either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as error:
        if "--debug" in arguments:
            raise
        echo_error(f"navlog: bug: {type(error).__name__}: {error}; `navlog --debug ...` shows the traceback")
        return EXIT_BUG


def echo_error(text: str) -> None:
    """Print to stderr; a terminal that cannot show a character gets `?` for it."""
    encoding = sys.stderr.encoding or "ascii"
    click.echo(text.encode(encoding, "replace").decode(encoding), err=True)
