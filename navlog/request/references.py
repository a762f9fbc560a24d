"""The files that a route file names - aircraft, bulletins, notices - each read once, and the terrain folder.

A route file from a stranger may name any file of the machine. Problems quote such a file only where it is like one
of its kind and lies in the route file's folder, or where `quote_outside` says so; else they tell its line alone.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, TypeVar, cast

from msgspec import Struct, field

from navlog.nav.problems import NavlogError, Problem, at, in_order, problem_error
from navlog.request.lexer import LARGEST_BYTES, decode, file_bytes
from navlog.request.records import FileReference

if TYPE_CHECKING:
    from navlog.nav.notices import Notice
    from navlog.nav.terrain import Terrain
    from navlog.request.aircraft import Aircraft
    from navlog.request.bulletin import Bulletin

_Content = TypeVar("_Content")

AIRCRAFT_FILE, BULLETIN, NOTICES = "an aircraft file", "a bulletin of winds aloft", "a text of notices"
_TERRAIN = "terrain"
_LIKE = {
    AIRCRAFT_FILE: r"^[ \t]*(\[\[?[ \t]*(cruise|climb|descent|compass)\b"
    r"|((tas|cas|burn)\w*|(usable_|taxi_)?fuel\w*)[ \t]*=)",
    BULLETIN: r"^FT +\d{4,5}\b|\bVALID +\d{4,6}Z|^F[BD][A-Z]{2}\d\d [A-Z]{4} \d{6}\b",
    NOTICES: r"![A-Z]{2,5} +C?\d{1,2}/\d{3,5}|\bNOTAM[NRC]\b",
}
"""What a line of a file of each kind looks like, and hardly one of another."""

_UNQUOTED = {
    "bad-encoding": "it is not text in UTF-8",
    "toml-syntax": "it is not TOML",
    "too-large": "it is too large",
    "missing-key": "a key is missing",
    "unknown-key": "a key means nothing here",
    "bad-value": "a value cannot be used",
    "fuel-unit": "fuel is in several units",
    "table-hole": "a table has a hole",
}
"""What is said of a file whose text is not, by the code of the problem."""


class UsedFile(Struct, frozen=True, array_like=True):
    """A file or folder that a flight names, and the folder of the route file that names it."""

    kind: str
    path: str
    folder: str


class References(Struct):
    """Reads what flights name, relative to their route file; a file read once is not read again.

    `given` are texts that stand in for the files of these names, as they are written in the route file. Problems
    quote files outside the route file's folder only with `quote_outside`. `used` is what has been asked for where that
    is `watched`, each with its fingerprint before it was read.
    """

    given: Mapping[str, str] = field(default_factory=dict)
    quote_outside: bool = False
    watched: bool = False
    used: dict[UsedFile, str] = field(default_factory=dict)
    _known: dict[tuple[str, str, bool], object] = field(default_factory=dict)
    _fingerprints: dict[UsedFile, str] = field(default_factory=dict)

    def aircraft(self, reference: FileReference) -> Aircraft:
        """The aircraft that a statement names; raises every problem of its file, or that it cannot be read."""
        from navlog.request.aircraftfile import read_aircraft

        return self._once(AIRCRAFT_FILE, reference, read_aircraft)

    def bulletin(self, reference: FileReference) -> Bulletin:
        """The bulletin that a statement names; raises every problem of its file, or that it cannot be read."""
        from navlog.request.bulletin import read_bulletin

        return self._once(BULLETIN, reference, read_bulletin)

    def notices(self, reference: FileReference) -> tuple[Notice, ...]:
        """The notices of a file that a statement names; raises that it cannot be read, or is no text."""
        from navlog.request.notices import read_notices

        return self._once(NOTICES, reference, read_notices)

    def terrain(self, reference: FileReference) -> Terrain:
        """The tiles in the folder that a statement names; raises at its place where there are none."""
        from navlog.nav.terrain import open_terrain

        path = self.given.get(reference.path)
        if path is None:
            path = os.path.join(os.path.dirname(reference.span.file), reference.path)
        key = (_TERRAIN, path, True)
        self._use(reference, UsedFile(_TERRAIN, path, os.path.dirname(reference.span.file)))
        if key not in self._known:
            try:
                self._known[key] = open_terrain(path)
            except NavlogError as error:
                self._known[key] = error
        found = self._known[key]
        if isinstance(found, NavlogError):
            raise at(found, reference.span)
        return cast("Terrain", found)

    def _use(self, reference: FileReference, one: UsedFile) -> None:
        """Note what is asked for, as it stands before it is read: what changes meanwhile counts as changed."""
        if self.watched and reference.path not in self.given:
            self.used[one] = self.fingerprint(one)

    def fingerprint(self, one: UsedFile) -> str:
        """What tells a file from itself after a change, taken once."""
        if one not in self._fingerprints:
            self._fingerprints[one] = _fingerprint(one)
        return self._fingerprints[one]

    def _once(self, kind: str, reference: FileReference, read: Callable[[str, str], _Content]) -> _Content:
        """What the file holds, read now or before."""
        folder = os.path.dirname(reference.span.file)
        path = os.path.join(folder, reference.path)
        within = self.quote_outside or reference.path in self.given or _is_inside(path, folder)
        self._use(reference, UsedFile(kind, path, folder))
        # The same file may lie in the folder of one route file and outside that of another.
        key = (kind, path, within)
        if key not in self._known:
            try:
                self._known[key] = self._read(kind, path, reference, read, within=within)
            except NavlogError as error:
                self._known[key] = error
        found = self._known[key]
        if isinstance(found, NavlogError):
            raise found
        return cast(_Content, found)

    def _read(
        self, kind: str, path: str, reference: FileReference, read: Callable[[str, str], _Content], *, within: bool
    ) -> _Content:
        """What the file holds; raises its problems, with its text only where it may be told."""
        given = self.given.get(reference.path)
        data = _referenced_bytes(path, reference) if given is None else given
        try:
            return read(decode(data, path, kind) if isinstance(data, bytes) else data, path)
        except NavlogError as error:
            if not within:
                why = "its text is not shown, as it lies outside the route file's folder; --quote-outside shows it"
            elif data.strip() and not _is_like(kind, data):
                why = f"its text is not shown, as it does not look like {kind}"
            else:
                raise
            raise NavlogError(*in_order(_unquoted(one, kind, why) for one in error.problems)) from None


def _fingerprint(one: UsedFile) -> str:
    """What tells a file from itself after a change: its bytes, or why it cannot be read, and whether it may be quoted.

    Of the tiles in a folder of terrain it is name, size and times, as they may be as large as a country.
    """
    from hashlib import sha256

    if one.kind == _TERRAIN:
        try:
            told = [
                f"{entry.name} {status.st_size} {status.st_mtime_ns} {status.st_ctime_ns} {status.st_ino}"
                for entry in sorted(os.scandir(one.path), key=lambda entry: entry.name)
                for status in [entry.stat()]
            ]
        except (OSError, ValueError) as error:
            told = [str(error)]
        return sha256("\n".join(told).encode("utf-8", "surrogateescape")).hexdigest()
    try:
        data = sha256(file_bytes(one.path)).hexdigest()
    except NavlogError as error:
        data = error.problems[0].message
    return f"{data} {_is_inside(one.path, one.folder)}"


def folder_digest(one: UsedFile) -> str | None:
    """The digest of every tile of a folder of terrain, the same on any machine; None for what is none."""
    if one.kind != _TERRAIN:
        return None
    from hashlib import file_digest, sha256

    told = []
    try:
        for entry in sorted(os.scandir(one.path), key=lambda entry: entry.name):
            if entry.is_file():
                with open(entry.path, "rb") as opened:
                    told.append(f"{entry.name} {file_digest(opened, 'sha256').hexdigest()}")
    except (OSError, ValueError) as error:
        told.append(str(error))
    return sha256("\n".join(told).encode("utf-8", "surrogateescape")).hexdigest()


def _is_inside(path: str, folder: str) -> bool:
    """Whether a file lies in a folder or below it, links followed; the folder "" is the one that one is in."""
    try:
        real, root = os.path.realpath(path), os.path.realpath(folder or ".")
        return os.path.commonpath((real, root)) == root
    except (OSError, ValueError):
        return False


def _is_like(kind: str, data: str | bytes) -> bool:
    """Whether some line of a file looks like one of its kind; then its author knows what is in it."""
    text = data.decode("utf-8", "replace") if isinstance(data, bytes) else data
    return re.search(_LIKE[kind], text.replace("\r", "\n"), re.MULTILINE) is not None


def _unquoted(problem: Problem, kind: str, why: str) -> Problem:
    """The problem with its file and line, and without a word of the file's text."""
    span = problem.span
    place = span._replace(column=1, length=1) if span is not None else None
    message = f"this cannot be used as {kind}: {_UNQUOTED.get(problem.code, 'it is not written as one')}"
    return Problem(problem.code, message, place, why)


def _referenced_bytes(path: str, reference: FileReference) -> bytes:
    """The bytes of a file; the problem stands where the route file names it.

    A whole bulletin has 20,000 bytes; what is so much larger is another file, or has no end.
    """
    data = file_bytes(path, called=f"`{reference.path}`", span=reference.span)
    if len(data) > LARGEST_BYTES:
        message = f"cannot read `{reference.path}`: more than a megabyte"
        raise problem_error("cannot-read", message, span=reference.span)
    return data
