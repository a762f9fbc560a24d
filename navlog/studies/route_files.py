"""Which route files folders hold, and the files in them that look like one and are not read."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator

from msgspec import Struct

from navlog.nav.problems import NavlogError, Problem, Span

_SUFFIX = ".route"


class RouteFiles(Struct, frozen=True):
    """The files, and every route file in the folders and below them, by name in each folder; each once.

    They are looked for each time, so that no more than the names of a folder and of those above it are held. `-` stays
    as it is.
    """

    paths: tuple[str, ...]

    def __iter__(self) -> Iterator[str]:
        for number, path in enumerate(self.paths):
            before = self.paths[:number]
            for file in _in_folder(path) if _is_folder(path) else (path,):
                if not any(_holds(other, file) for other in before):
                    yield file

    def __len__(self) -> int:
        return sum(1 for _ in self)


def route_files(paths: Iterable[str]) -> RouteFiles:
    """The route files of paths; raises `no-route-files` for folders that hold none."""
    found = RouteFiles(tuple(dict.fromkeys(paths)))
    message = f"no file in this folder or below it ends in {_SUFFIX}"
    empty = [
        Problem("no-route-files", message, Span(path, 1))
        for path in found.paths
        if _is_folder(path) and next(_in_folder(path), None) is None
    ]
    if empty:
        raise NavlogError(*empty)
    return found


def _is_folder(path: str) -> bool:
    return path != "-" and os.path.isdir(path)


def _holds(path: str, file: str) -> bool:
    """Whether a file is one of those of a path."""
    if not _is_folder(path):
        return path == file
    head = os.path.join(path, "")
    if not file.startswith(head) or not file.endswith(_SUFFIX):
        return False
    names = file[len(head) :].split(os.sep)
    above = [os.path.join(path, *names[:length]) for length in range(1, len(names))]
    return not any(name.startswith(".") for name in names) and not any(map(os.path.islink, above))


def passed_over(paths: Iterable[str]) -> tuple[str, ...]:
    """The files of the folders and below whose names look like a route file's and are read by nobody."""
    return tuple(
        os.path.join(where, name)
        for path in paths
        if _is_folder(path)
        for where, _, files in _walked(path)
        for name in sorted(files)
        if _SUFFIX in name.lower() and not name.endswith(_SUFFIX) and not name.startswith(".")
    )


def _walked(folder: str) -> Iterator[tuple[str, list[str], list[str]]]:
    """The folders below one, itself too, without hidden ones; links are not followed."""
    for where, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield where, folders, files


def _in_folder(folder: str) -> Iterator[str]:
    """The route files in a folder and below it by name; what begins with a point is hidden, links are not followed."""
    waiting = _entries(folder)
    while waiting:
        path = waiting.pop()
        if path.endswith(os.sep):
            waiting += _entries(path)
        else:
            yield path


def _entries(folder: str) -> list[str]:
    """Route files and folders in a folder, the last name first; those end as in a path, so that paths come in order."""
    try:
        with os.scandir(folder) as found:
            names = [
                f"{one.name}{os.sep}" if one.is_dir() else one.name
                for one in found
                if one.name[0] != "." and (one.name.endswith(_SUFFIX) or one.is_dir(follow_symlinks=False))
                if not (one.is_symlink() and one.is_dir())
            ]
    except OSError:
        return []
    return [os.path.join(folder, name) for name in sorted(names, reverse=True)]
