"""The commands, loaded when they are asked for; computes nothing."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from io import RawIOBase, StringIO
from typing import TextIO

import click

from navlog.nav.problems import NavlogError, Problem, format_problem, in_order, inert
from navlog.version import VERSION

COMMANDS = {
    "log": ("log_command:command", "Compute and print the navigation log of each flight in a route file."),
    "check": ("check_command:command", "Check every flight of route files and folders."),
    "explain": ("explain_command:command", "Show the workings of a log, or what a rule says."),
    "catalogue": ("catalogue_command:command", "Import published data, and ask about it."),
    "wind": ("air_commands:wind", "Solve the wind triangle."),
    "airspeed": ("air_commands:airspeed", "Calibrated and true airspeed, Mach, pressure and density altitude."),
    "fix": ("radio_commands:fix", "Place a fix by radials and distances."),
    "position": ("radio_commands:position", "Radial, course and distance of a position from stations."),
    "below": ("below_command:command", "The highest ground below a place or a course, and the minimum over it."),
    "intercept": ("radio_commands:intercept", "Turn, heading and distance to meet a radial."),
    "station-time": ("radio_commands:station_time", "Time and distance to a station from a change of bearing."),
    "descent": ("air_commands:descent", "Rate, gradient and start of a descent or climb."),
    "holding": ("radio_commands:holding", "Entry, timing and outbound heading of a hold."),
    "vor-check": ("radio_commands:vor_check", "Check a VOR receiver against the limits of 14 CFR 91.171."),
    "declination": ("radio_commands:declination", "The variation at a position, beside a station's declination."),
    "morse": ("radio_commands:morse", "The Morse code of identifiers."),
    "mark": ("mark_command:command", "Mark a pilot's own figures against the computed ones."),
    "practice": ("practice_command:command", "Make exercises of a flight for a class, and their key."),
    "notices": ("notices_command:command", "Tell what each notice of a briefing is taken to mean."),
    "propose": ("propose_command:command", "Propose routes between two places, with the altitude that they need."),
    "without": ("without_command:command", "Tell what goes if a station goes, and the way round."),
    "schema": ("schema_command:command", "Print the schema of what is written as JSON, or a list of its keys."),
    "revise": ("revise_command:command", "Re-figure a flight from actual times and fuel."),
    "help": ("help_command:command", "Print a topic: the route file, aircraft, winds, sheets, findings and more."),
}
"""Each command: where in `cli` it lives, as `module:name`, and what the list of commands says of it."""

EXIT_PROBLEM = 2
EXIT_BUG = 70
EXIT_INTERRUPTED = 130
_EXIT_SIGNALLED = 128
"""A shell's status of a process that a signal ended is this and the signal's number."""


class Ended(BaseException):
    """A signal that asks the process to end, raised where something begun is to be taken away first."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.number = number


class Commands(click.Group):
    """A group of commands, none of which takes an option of one value twice."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the arguments name; of two values the last would count, and nothing tell of the other."""
        name, command, rest = super().resolve_command(ctx, args)
        # The arguments are read an extra time only where two of them may be one option.
        twice = sum(arg.startswith("-") for arg in rest) > 1
        if twice and command is not None and not isinstance(command, click.Group) and not ctx.resilient_parsing:
            inner = click.Context(command, ctx, name, **command.context_settings)
            _, _, order = command.make_parser(inner).parse_args(list(rest))
            for option in order:
                one = isinstance(option, click.Option) and not (option.multiple or option.is_flag or option.count)
                if one and order.count(option) > 1:
                    raise click.UsageError(f"{option.opts[0]} stands twice; it takes one value.", inner)
        return name, command, rest


class LazyCommands(Commands):
    """A group that imports the module of a command only when the command is used."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of the commands, in the order of the table."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name."""
        if cmd_name not in COMMANDS:
            return None
        from importlib import import_module

        module, _, name = COMMANDS[cmd_name][0].partition(":")
        command: click.Command = getattr(import_module(f"navlog.cli.{module}"), name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands in the help, without loading any of them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, said) for name, (_, said) in COMMANDS.items()])

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the arguments name; a misspelt one is answered with the nearest."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-") and not ctx.resilient_parsing:
            from navlog.nav.spelling import alike

            close = alike(args[0], COMMANDS, most=1)
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
    open_missing_streams()
    sys.exit(run(given))


def run(arguments: list[str]) -> int:
    """Run one command line and give back its exit status; every failure ends here in a message."""
    with whole_streams():
        return status_of(arguments)


@contextmanager
def whole_streams() -> Iterator[None]:
    """Let output without a buffer, as with PYTHONUNBUFFERED, come out whole or fail.

    Python's own text layer passes over what the system did not take, as on a disk that is nearly full.
    """
    given = sys.stdout, sys.stderr
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        raw = getattr(stream, "buffer", None)
        if isinstance(raw, RawIOBase):
            from navlog.cli.output import whole

            setattr(sys, name, whole(stream, raw))
    try:
        yield
    finally:
        sys.stdout, sys.stderr = given


def status_of(arguments: list[str]) -> int:
    """Run one command line with the streams as they are."""
    try:
        if any("\0" in argument for argument in arguments):
            # No system hands one on, but a caller of `run` may, and Python's own calls on files raise at it.
            raise click.UsageError("An argument holds a null character.")
        _refuse_half_asked_completion()
        status = commands.main(args=arguments, prog_name="navlog", standalone_mode=False)
        sys.stdout.flush()
        return status if isinstance(status, int) else 0
    except NavlogError as error:
        for problem in in_order(error.problems):
            echo_error(format_problem(problem))
        return EXIT_PROBLEM
    except click.ClickException as error:
        shown = StringIO()
        error.show(shown)
        echo_error(shown.getvalue().rstrip("\n"))
        return EXIT_PROBLEM
    except (KeyboardInterrupt, click.Abort):
        echo_error("interrupted")
        return EXIT_INTERRUPTED
    except Ended as ended:
        echo_error("ended by a signal")
        return _EXIT_SIGNALLED + ended.number
    except (BrokenPipeError, SystemExit):
        # Whoever reads has had enough, for which click leaves with 1.
        silence(sys.stdout)
        return 0
    except OSError as error:
        # A full disk behind standard output, or what else no command foresees of the system.
        echo_error(format_problem(refused_by_system(error)))
        silence(sys.stdout)
        return EXIT_PROBLEM
    except Exception as error:
        if "--debug" in arguments:
            raise
        echo_error(f"navlog: bug: {type(error).__name__}: {error}; `navlog --debug ...` shows the traceback")
        return EXIT_BUG


def _refuse_half_asked_completion() -> None:
    """Raise where a shell asks for completions without saying of which words, which click takes for granted."""
    asked, words, at = (os.environ.get(name, "") for name in ("_NAVLOG_COMPLETE", "COMP_WORDS", "COMP_CWORD"))
    if asked.endswith("_complete"):
        # Fish hands the word itself over, other shells its number; no line has a thousand words.
        whole = not at or bool(at.strip()) if asked.startswith("fish") else at.isdecimal() and len(at) < 4
        if not (words and whole):
            raise click.UsageError("A shell that asks for completions sets COMP_WORDS, and COMP_CWORD to a number.")


def echo_error(text: str) -> None:
    """Print to stderr: `?` for what would steer a terminal or what it cannot show; to a full disk nothing."""
    shown = shown_on(sys.stderr, text)
    try:
        if sys.stderr.isatty():
            from navlog.cli.terminal import coloured, in_colour

            shown = in_colour(shown) if coloured(sys.stderr) else shown
        click.echo(shown, err=True)
    except OSError:
        silence(sys.stderr)


def shown_on(stream: TextIO, text: str) -> str:
    """The text as a stream gets it, the one way of any text from outside to a terminal.

    `?` stands for each character that the stream cannot show or that would steer a terminal.
    """
    encoding = stream.encoding or "ascii"
    return inert(text).encode(encoding, "replace").decode(encoding)


def refused_by_system(error: OSError) -> Problem:
    """What the system would not do, as a problem; without a file's name it is about the standard streams."""
    reason = (error.strerror or str(error)).lower()
    if error.filename is None:
        return Problem("cannot-write", f"cannot write the result: {reason}")
    return Problem("refused-by-system", f"{os.fspath(error.filename)}: {reason}")


def open_missing_streams() -> None:
    """Put something in place of a standard stream that the process was started without.

    No other file can take its number then. Input and output are open the wrong way round, so that only a command
    that uses them fails; messages have nowhere to go and are lost.
    """
    for name, flags, mode in (("stdin", os.O_WRONLY, "r"), ("stdout", os.O_RDONLY, "w"), ("stderr", os.O_WRONLY, "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, flags), mode, encoding="utf-8"))


def silence(stream: TextIO) -> None:
    """Let nothing more come out of a stream that failed, so that nothing complains at exit either."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
