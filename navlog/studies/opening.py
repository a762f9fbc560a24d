"""One open catalogue a thread: its connection may only be used by the thread that made it."""

from __future__ import annotations

import os
import threading
from contextlib import suppress
from pathlib import Path

from navlog.catalogue import open_catalogue
from navlog.catalogue.queries import Catalogue


class _Held:
    """Open catalogues by file, closed when nobody holds them any more."""

    def __init__(self) -> None:
        self.by_file: dict[tuple[str, int, int], Catalogue] = {}

    def __del__(self) -> None:
        for catalogue in self.by_file.values():
            # At the end of the process another thread may be the one to clear up.
            with suppress(Exception):
                catalogue.close()


class _Opened(threading.local):
    """What one thread holds; it goes with the thread."""

    def __init__(self) -> None:
        self.held = _Held()


_opened = _Opened()


def catalogue_here(path: str) -> Catalogue:
    """The catalogue at `path` opened by this thread, now or before; a file written anew is opened anew.

    Raises the problems of `open_catalogue`.
    """
    try:
        status = os.stat(path)
        key = (path, status.st_mtime_ns, status.st_ino)
    except OSError:
        key = (path, 0, 0)
    catalogue = _opened.held.by_file.get(key)
    if catalogue is None:
        catalogue = _opened.held.by_file[key] = open_catalogue(Path(path))
    return catalogue
