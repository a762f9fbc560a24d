"""Which route files a list of files and folders means."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator

from navlog.nav.problems import NavlogError, Problem, Span

SUFFIX = ".route"


def route_files(paths: Iterable[str]) -> tuple[str, ...]:
    """The files, and every route file in the folders and below them, sorted by name; each once.

    `-` stays as it is. Raises `no-route-files` for folders that hold none.
    """
    found: list[str] = []
    empty: list[Problem] = []
    for path in paths:
        if path != "-" and os.path.isdir(path):
            inside = sorted(in_folder(path))
            found += inside
            if not inside:
                message = f"no file in this folder or below it ends in {SUFFIX}"
                empty.append(Problem("no-route-files", message, Span(path, 1)))
        else:
            found.append(path)
    if empty:
        raise NavlogError(*empty)
    return tuple(dict.fromkeys(found))


def in_folder(folder: str) -> Iterator[str]:
    """The route files in a folder and below it; what begins with a point is hidden, links are not followed."""
    for where, folders, files in os.walk(folder):
        folders[:] = [name for name in folders if not name.startswith(".")]
        yield from (os.path.join(where, name) for name in files if name.endswith(SUFFIX) and not name.startswith("."))
