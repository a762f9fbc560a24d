"""What the commands of single computations share: readers for values, the printing of an answer, strict options."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import click
from click.core import ParameterSource

from navlog.nav import units
from navlog.nav.problems import NavlogError, Span, at

if TYPE_CHECKING:
    from datetime import date

    from navlog.computations.answer import Solution
    from navlog.request.records import StatedWind

    ParamType = click.ParamType[Any]
else:
    # Generic for the type checker alone: click before 8.4 does not know it.
    ParamType = click.ParamType


class Value(ParamType):
    """A value of the trade: `read` makes it from text, and its problems name the option they are in."""

    def __init__(self, name: str, read: Callable[[str], object]) -> None:
        self.name = name
        self.read = read

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The value read; raises its problem at the option or argument."""
        if not isinstance(value, str):
            return value
        try:
            return self.read(value)
        except NavlogError as error:
            place = self.name.upper() if param is None else _label(param)
            raise at(error, Span(place, 1, 1, max(1, len(value))), value) from None


class Number(click.FloatRange):
    """A number between two limits, both included; every option that takes a bare number is one."""

    name = "number"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The number; what is none, as `nan`, lies on no side of a limit and would pass every test against it."""
        from math import isfinite

        number = click.FLOAT.convert(value, param, ctx)
        if not isfinite(number):
            self.fail(f"{value!r} is not a finite number.", param, ctx)
        return super().convert(number, param, ctx)


ANGLE = Value("angle", units.read_angle_deg)
SIZE = Value("degrees", units.read_size_deg)
DISTANCE = Value("distance", units.read_distance_nm)
SPEED = Value("speed", units.read_speed_kt)
ALTITUDE = Value("altitude", units.read_altitude_ft)
LEVEL = Value("level", units.read_level)
TEMPERATURE = Value("temperature", units.read_temperature_c)
PRESSURE = Value("setting", units.read_pressure_hpa)
ELAPSED = Value("time", units.read_elapsed_min)
BURN = Value("burn", units.read_burn)
DECLINATION = Value("declination", units.read_declination_deg)


def is_given(name: str) -> bool:
    """Whether an option stands on the command line, and is not its default or the environment's."""
    return click.get_current_context().get_parameter_source(name) is ParameterSource.COMMANDLINE


class Computation(click.Command):
    """The command of a single computation: its function answers, which is printed in the form asked for.

    Exit status 1 where what was checked does not hold. Arguments may begin with a minus and a digit, such as
    `-15C` or `-33.9 151.2`; anything else that begins with a minus is an option, and one that is not known is
    refused, never taken for an argument.
    """

    def __init__(self, *arguments: Any, **settings: Any) -> None:
        super().__init__(*arguments, **settings)
        self.context_settings = {**self.context_settings, "ignore_unknown_options": True}
        forms = click.Choice(["text", "json"])
        self.params += [
            click.Option(["--format", "form"], type=forms, default="text", show_default=True),
            click.Option(["--workings"], is_flag=True, help="Show formula, numbers and source of each step."),
        ]

    def invoke(self, ctx: click.Context) -> int:
        """Compute, print, and give the exit status."""
        from navlog.cli.output import write
        from navlog.computations.answer import json_lines, text

        form, workings = ctx.params.pop("form"), ctx.params.pop("workings")
        answers: Sequence[Solution] = super().invoke(ctx)
        if form == "json":
            write(json_lines(str(self.name), answers, workings=workings), None)
        else:
            write(text(answers, workings=workings), None)
        return 1 if any(answer.failed for answer in answers) else 0

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Refuses options that are not known before click sorts the rest."""
        known = {name for param in self.get_params(ctx) for name in (*param.opts, *param.secondary_opts)}
        for argument in args:
            if argument == "--":
                break
            option = argument.partition("=")[0]
            if argument[:1] == "-" and argument[1:2] not in tuple("0123456789") and option not in known:
                from navlog.nav.spelling import alike

                close = alike(option, (name for name in known if name.startswith("--")), most=3)
                raise click.NoSuchOption(option, possibilities=close or None, ctx=ctx)
        return super().parse_args(ctx, args)


def _read_wind(words: str) -> StatedWind:
    """A wind as a route file writes it: `calm`, `230/15`, or `230M/15` from magnetic north."""
    from navlog.nav.problems import problem_error
    from navlog.request.parser import parse_statement
    from navlog.request.records import WindStatement

    statement, problems = parse_statement("wind", words, "--wind")
    if problems:
        raise NavlogError(*problems)
    assert isinstance(statement.value, WindStatement)
    (wind, *more) = statement.value.levels
    if more or wind.height_ft is not None or statement.value.place is not None:
        raise problem_error("bad-wind", f"`{words}` is more than one wind", hint="write direction/speed: 230/15")
    return wind


def _read_day(text: str) -> date:
    """A day as a route file writes it: `2026-07-18`."""
    from navlog.request.flight_statements import read_date

    return read_date(text)


def _on_one_line(text: str) -> str:
    """Text that goes into a printed line as it is; raises where a character of it would end or steer that line."""
    from navlog.nav.problems import problem_error

    odd = next((one for one in text if not one.isprintable()), None)
    if odd is not None:
        message = f"the text holds the control or invisible character U+{ord(odd):04X}"
        raise problem_error("bad-character", message, hint="leave it out")
    return text


def in_capitals(ident: str) -> str:
    """An identifier as it is published; what is no ASCII stays as typed, as a capital may be two letters."""
    return ident.upper() if ident.isascii() else ident


WIND = Value("wind", _read_wind)
DAY = Value("date", _read_day)
TEXT = Value("text", _on_one_line)
IDENT = Value("ident", in_capitals)


def _label(param: click.Parameter) -> str:
    """How the user writes the parameter: `--tas`, or an argument's name in capitals."""
    if isinstance(param, click.Argument):
        return (param.name or "").upper().replace("_", "-")
    return max(param.opts, key=len)
