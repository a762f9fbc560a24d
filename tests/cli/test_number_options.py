"""Options that take a number take no other thing: every one of them, found by walking through the commands."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import click
import pytest

from navlog.cli import commands


def leaves(command: click.Command, context: click.Context, *names: str) -> Iterator[tuple[tuple[str, ...], str, int]]:
    """Each option of a bare number of a command and of those below it: the command's names, the option, its values."""
    if isinstance(command, click.Group):
        for name in command.list_commands(context):
            below = command.get_command(context, name)
            assert below is not None
            yield from leaves(below, context, *names, name)
        return
    for parameter in command.params:
        if isinstance(parameter.type, click.types.FloatParamType | click.types.IntParamType):
            yield names, parameter.opts[0], parameter.nargs


NUMBERS = tuple(leaves(commands, click.Context(commands)))


def test_the_walk_finds_the_options() -> None:
    assert {"--radial-limits", "--radius", "--altitude", "--course", "--jobs"} <= {option for _, option, _ in NUMBERS}


@pytest.mark.parametrize("value", ["nan", "NaN", "-nan", "inf", "-inf", "Infinity", "1e999"])
@pytest.mark.parametrize(("names", "option", "count"), NUMBERS)
def test_what_is_not_finite_is_refused_where_it_is_given(
    names: tuple[str, ...], option: str, count: int, value: str, navlog: Callable[..., tuple[int, str, str]]
) -> None:
    given = ("1",) * (count - 1)
    arguments = {"check": ("nowhere.route",), "catalogue nearby": ("N39 30.00 W074 40.00",)}
    for values in ((*given, value), (value, *given)):
        status, out, err = navlog("", *names, option, *values, *arguments.get(" ".join(names), ()))
        assert (status, out) == (2, "")
        assert f"Invalid value for '{option}'" in err
        assert "Traceback" not in err
