"""The options of `navlog check` that say which findings count, and what they want gathered of them."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, Any, TypeVar

import click
from msgspec import Struct, field

from navlog.cli import echo_error
from navlog.cli.completion import rules
from navlog.cli.flightfile import read_bytes
from navlog.cli.output import write
from navlog.nav.problems import NavlogError, Span, printable, problem_error

if TYPE_CHECKING:
    from navlog.studies.checking import Verdict
    from navlog.studies.gate import Gate, Known, RuleCount

_Command = TypeVar("_Command", bound=Callable[..., object])

_OPTIONS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("select", {"multiple": True, "metavar": "RULE", "shell_complete": rules, "help": "Count this rule alone."}),
    ("ignore", {"multiple": True, "metavar": "RULE", "shell_complete": rules, "help": "Do not count this rule."}),
    (
        "min_severity",
        {
            "type": click.Choice(["error", "warning", "note"]),
            "default": "note",
            "show_default": True,
            "help": "Count findings from this severity on.",
        },
    ),
    ("baseline", {"metavar": "FILE", "help": "Do not count the findings that this file knows."}),
    ("write_baseline", {"metavar": "FILE", "help": "Write the findings of now to this file."}),
    ("by_rule", {"is_flag": True, "help": "At the end, on standard error, how often each rule was found."}),
)
_KIND = "a baseline"
"""What problems call the file."""

GATE_OPTIONS = tuple(name for name, _ in _OPTIONS)
"""The names under which click passes them on."""


class _Asked(Struct, frozen=True):
    """What the options say."""

    select: tuple[str, ...]
    ignore: tuple[str, ...]
    min_severity: str
    baseline: str | None
    write_baseline: str | None
    by_rule: bool

    @property
    def baseline_folder(self) -> str | None:
        """The folder of the baseline to be written, None where none is."""
        return None if self.write_baseline is None else os.path.dirname(self.write_baseline)

    def gate(self) -> Gate:
        """The gate asked for; raises the problems of the rules' names and of the baseline file."""
        from navlog.studies.gate import gate_of, read_baseline

        if self.baseline is None:
            return gate_of(self.select, self.ignore, self.min_severity, (), "")
        from navlog.request.lexer import decode

        known = read_baseline(decode(read_bytes(self.baseline), self.baseline, _KIND), self.baseline)
        return gate_of(self.select, self.ignore, self.min_severity, known, os.path.dirname(self.baseline))


class Gathering(Struct):
    """What is gathered of the verdicts while they pass, for the end: a baseline, and how often each rule was found."""

    asked: _Asked
    known: list[Known] = field(default_factory=list)
    counts: dict[str, RuleCount] = field(default_factory=dict)

    def each(self, verdicts: Iterable[Verdict]) -> Iterator[Verdict]:
        """The verdicts, gathered from."""
        from navlog.studies.gate import count_rules

        for verdict in verdicts:
            self.known.extend(verdict.known)
            if self.asked.by_rule:
                count_rules(self.counts, verdict.findings)
            yield verdict

    def tell(self, *, whole: bool) -> None:
        """Write the baseline and the counts that are asked for; a baseline only where every flight was `whole`."""
        from navlog.studies.gate import baseline_text, summary_lines

        path = self.asked.write_baseline
        if path is not None and whole:
            write(baseline_text(self.known), path)
        elif path is not None:
            # What a file with a problem was known for would be lost, and come back as new once it is mended.
            echo_error(f"not written: {printable(path)}: a baseline needs every flight without a problem")
        for line in summary_lines(self.counts) if self.asked.by_rule else ():
            echo_error(line)


def refuse_other_baselines(asked: _Asked) -> None:
    """Raises click.UsageError where one of a part of the findings is asked for, which would pass for all of them.

    Raises `not-a-baseline` where the baseline to be written would take the place of a file of another kind.
    """
    from navlog.request.lexer import decode
    from navlog.studies.gate import read_baseline

    path = asked.write_baseline
    if path is not None and (asked.select or asked.ignore or asked.min_severity != "note"):
        message = "A baseline keeps every finding: --write-baseline goes without --select, --ignore and --min-severity."
        raise click.UsageError(message)
    if path is None or path == "-" or not os.path.lexists(path):
        return
    try:
        read_baseline(decode(read_bytes(path), path, _KIND), path)
    except NavlogError:
        message = "this file is no baseline, and would be lost"
        raise problem_error("not-a-baseline", message, span=Span(path, 1), hint="name another file") from None


def gate_options(command: _Command) -> _Command:
    """Give a command the options that say which findings count."""
    for name, settings in reversed(_OPTIONS):
        command = click.option(f"--{name.replace('_', '-')}", name, **settings)(command)
    return command


def gate_from(options: dict[str, object]) -> _Asked:
    """What the options say, which are taken out of `options`."""
    return _Asked(**{name: options.pop(name) for name in GATE_OPTIONS})  # type: ignore[arg-type]
