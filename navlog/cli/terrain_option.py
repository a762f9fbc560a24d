"""Where the terrain is: `--terrain FOLDER`, else NAVLOG_TERRAIN."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

_Function = TypeVar("_Function", bound=Callable[..., Any])


def terrain_option(function: _Function) -> _Function:
    """The option `--terrain FOLDER`, passed on as `terrain_folder`; None where neither it nor NAVLOG_TERRAIN says."""
    return click.option(
        "--terrain",
        "terrain_folder",
        metavar="FOLDER",
        envvar="NAVLOG_TERRAIN",
        help="The folder of terrain tiles, SRTM .hgt or GeoTIFF (default: NAVLOG_TERRAIN).",
    )(function)
