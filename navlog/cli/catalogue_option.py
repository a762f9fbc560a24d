"""Where the catalogue is: `--catalogue`, else NAVLOG_CATALOGUE, else the user's application folder."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

_Function = TypeVar("_Function", bound=Callable[..., Any])


def default_catalogue() -> str:
    """The catalogue of a user who names none."""
    return str(Path(click.get_app_dir("navlog")) / "catalogue.sqlite")


def catalogue_option(function: _Function) -> _Function:
    """The option `--catalogue PATH`, passed on as `catalogue`."""
    return click.option(
        "--catalogue",
        metavar="PATH",
        envvar="NAVLOG_CATALOGUE",
        default=default_catalogue,
        help="The catalogue file (default: one in your application folder).",
    )(function)
