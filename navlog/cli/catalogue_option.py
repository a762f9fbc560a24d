"""Where the catalogue is: `--catalogue`, else NAVLOG_CATALOGUE, else the user's application folder."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from os import path as paths
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue

_Function = TypeVar("_Function", bound=Callable[..., Any])


def default_catalogue() -> str:
    """The catalogue of a user who names none."""
    return paths.join(click.get_app_dir("navlog"), "catalogue.sqlite")


@contextmanager
def opened_catalogue(path: str) -> Iterator[Catalogue | None]:
    """The catalogue at `path`, closed again at the end; None where the user names none and has none.

    Raises NavlogError where a catalogue that is named, or there, cannot be read.
    """
    if path == default_catalogue() and not paths.exists(path):
        yield None
        return
    from pathlib import Path

    from navlog.catalogue import open_catalogue

    with open_catalogue(Path(path)) as catalogue:
        yield catalogue


def catalogue_option(function: _Function) -> _Function:
    """The option `--catalogue PATH`, passed on as `catalogue`."""
    return click.option(
        "--catalogue",
        metavar="PATH",
        envvar="NAVLOG_CATALOGUE",
        default=default_catalogue,
        callback=_named,
        help="The catalogue file (default: one in your application folder).",
    )(function)


def _named(_context: click.Context, _option: click.Parameter, path: str) -> str:
    """The path; raises click.BadParameter for an empty one, as of a variable of the shell that is not set."""
    if not path:
        raise click.BadParameter("names no file")
    return path
