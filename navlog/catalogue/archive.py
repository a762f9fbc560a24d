"""The published files in a folder, in a zip, or in a zip inside either; read as streams, never unpacked.

A hostile archive is refused: names that lead out of it, encrypted members, and members that swell beyond
any published file. An archive that lies about a member's size fails its checksum, as `zipfile` never
yields more bytes than were declared.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from io import BufferedReader, RawIOBase
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any

from msgspec import Struct

from navlog.nav.plainfile import NotPlainError, open_plain
from navlog.nav.problems import NavlogError, problem_error

if TYPE_CHECKING:
    from zipfile import ZipFile, ZipInfo

_LARGEST_MEMBER = 200_000_000
"""The largest published file, of CIFP, has some 60 MB (from memory); all in one line this would take 450 of memory."""

_LARGEST_RATIO = 100
"""Published tables shrink to a fifteenth at most; a bomb to a thousandth."""

_SMALL_MEMBER = 1 << 20
_DEEPEST_FOLDER = 4
_BLOCK = 1 << 20


class Member(Struct, frozen=True):
    """A published file: where it is (for messages), its plain name, its size and how to open it."""

    label: str
    name: str
    size: int
    open: Callable[[], IO[bytes]]


@contextmanager
def members(path: Path, wanted: Callable[[str], bool]) -> Iterator[tuple[Member, ...]]:
    """The files at `path` whose plain name is `wanted`; they can be opened while the context lasts.

    Zips inside a folder or a zip are looked into only where nothing wanted lies beside them. Raises
    `no-such-file`, `unsafe-archive` and `bad-archive` problems.
    """
    from zipfile import BadZipFile, is_zipfile
    from zlib import error as DeflateError  # noqa: N812

    with ExitStack() as stack:
        try:
            if path.is_dir():
                yield _in_folder(path, wanted, stack)
            elif not path.exists():
                raise problem_error("no-such-file", f"there is no file or folder {path}")
            elif not path.is_file():
                raise NotPlainError(path)
            elif is_zipfile(path):
                yield _in_zip(stack.enter_context(open_plain(path)), str(path), wanted, stack, nested=True)
            elif not wanted(path.name) and _begins_as_zip(path):
                raise problem_error("bad-archive", f"{path} is cut short: its end is missing", hint="download it again")
            else:
                yield (_plain(path),) if wanted(path.name) else ()
        except (BadZipFile, DeflateError, EOFError) as error:
            raise _bad_archive(path, error) from None
        except OSError as error:
            if error.filename is None:
                # A damaged archive sends its reader to places that are not there.
                raise _bad_archive(path, error) from None
            raise problem_error("unreadable-file", f"{error.filename}: {error.strerror}") from None


def _begins_as_zip(path: Path) -> bool:
    """Whether a file begins as a zip with a file in it does: PKWARE APPNOTE 4.3.7, the local file header signature."""
    with open_plain(path) as file:
        return file.read(4) == b"PK\x03\x04"


def _bad_archive(path: Path, why: Exception) -> NavlogError:
    return problem_error("bad-archive", f"{path} can't be unpacked: {why}", hint="download it again")


def _plain(path: Path) -> Member:
    if path.exists() and not path.is_file():
        raise NotPlainError(path)
    size = path.stat().st_size
    if size > _LARGEST_MEMBER:
        raise _too_large(path, size)
    return Member(str(path), path.name, size, lambda: _at_most(open_plain(path), path))


class _AtMost(RawIOBase):
    """A file of which no more is read than a published one has, whatever the system says of its size."""

    def __init__(self, file: IO[bytes], path: Path) -> None:
        self._file, self._path, self._read = file, path, 0

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: Any) -> int:
        taken: int = self._file.readinto(buffer)  # type: ignore[attr-defined]
        self._read += taken
        if self._read > _LARGEST_MEMBER:
            raise _too_large(self._path, self._read)
        return taken

    def tell(self) -> int:
        return self._read

    def close(self) -> None:
        self._file.close()
        super().close()


def _at_most(file: IO[bytes], path: Path) -> IO[bytes]:
    return BufferedReader(_AtMost(file, path), _BLOCK)


def _too_large(path: Path, size: int) -> NavlogError:
    return problem_error("too-large", f"{path} has {size:,} bytes, as no published file does")


def _in_folder(folder: Path, wanted: Callable[[str], bool], stack: ExitStack) -> tuple[Member, ...]:
    found: list[Member] = []
    zips: list[Path] = []
    for parent, folders, names in os.walk(folder):
        here = Path(parent)
        folders.sort()
        if len(here.relative_to(folder).parts) >= _DEEPEST_FOLDER:
            folders.clear()
        for name in sorted(names):
            if wanted(name):
                found.append(_plain(here / name))
            elif name.lower().endswith(".zip"):
                zips.append(here / name)
    if found:
        return tuple(found)
    return tuple(
        member
        for path in zips
        for member in _in_zip(stack.enter_context(open_plain(path)), str(path), wanted, stack, nested=False)
    )


def _in_zip(
    file: IO[bytes], label: str, wanted: Callable[[str], bool], stack: ExitStack, *, nested: bool
) -> tuple[Member, ...]:
    from zipfile import ZipFile

    with _damage_told():
        archive = stack.enter_context(ZipFile(file))
    entries = [entry for entry in archive.infolist() if entry.filename and not entry.is_dir()]
    for entry in entries:
        _refuse_escape(entry, label)
    found = tuple(_packed(archive, entry, f"{label}/{entry.filename}") for entry in entries if wanted(_name(entry)))
    if found or not nested:
        return found
    inner = [entry for entry in entries if entry.filename.lower().endswith(".zip")]
    return tuple(
        member
        for entry in inner
        for member in _in_zip(
            _spooled(archive, entry, f"{label}/{entry.filename}", stack),
            f"{label}/{entry.filename}",
            wanted,
            stack,
            nested=False,
        )
    )


def _name(entry: ZipInfo) -> str:
    return entry.filename.rpartition("/")[2]


def _refuse_escape(entry: ZipInfo, label: str) -> None:
    """Nothing is ever unpacked to a path, but such a name says that the archive is not the published one."""
    # `ZipInfo.filename` has its separators changed and is cut at a NUL; the original name has not.
    name = entry.orig_filename
    parts = name.replace("\\", "/").split("/")
    if name.startswith(("/", "\\")) or ".." in parts or ":" in parts[0] or "\0" in name:
        raise problem_error(
            "unsafe-archive",
            f"{label} holds a file with an unsafe name, `{name}`",
            hint="take the data from its publisher",
        )


def _packed(archive: ZipFile, entry: ZipInfo, label: str) -> Member:
    _refuse_bomb(entry, label)
    return Member(label, _name(entry), entry.file_size, lambda: _open(archive, entry))


def _open(archive: ZipFile, entry: ZipInfo) -> IO[bytes]:
    with _damage_told():
        return archive.open(entry)


@contextmanager
def _damage_told() -> Iterator[None]:
    """Turn what else `zipfile` raises for damaged headers, with versions and flags that none has, into `BadZipFile`."""
    from struct import error as StructError  # noqa: N812
    from zipfile import BadZipFile

    try:
        yield
    except (NotImplementedError, ArithmeticError, LookupError, ValueError, StructError) as error:
        raise BadZipFile(str(error)) from None


def _refuse_bomb(entry: ZipInfo, label: str) -> None:
    from zipfile import ZIP_DEFLATED, ZIP_STORED

    if entry.compress_type not in (ZIP_STORED, ZIP_DEFLATED):
        raise problem_error("unsafe-archive", f"{label} is packed in an unusual way", hint="unpack it first")
    if entry.flag_bits & 1:
        raise problem_error("unsafe-archive", f"{label} is encrypted", hint="unpack it yourself first")
    swells = entry.file_size > max(_SMALL_MEMBER, _LARGEST_RATIO * entry.compress_size)
    if swells or entry.file_size > _LARGEST_MEMBER:
        raise problem_error(
            "unsafe-archive",
            f"{label} would unpack from {entry.compress_size} to {entry.file_size} bytes, as no published file does",
            hint="take the data from its publisher",
        )


def _spooled(archive: ZipFile, entry: ZipInfo, label: str, stack: ExitStack) -> IO[bytes]:
    """A zip inside a zip, copied to a nameless file so that it can be read from its end."""
    from tempfile import TemporaryFile

    _refuse_bomb(entry, label)
    copy: IO[bytes] = stack.enter_context(TemporaryFile())  # noqa: SIM115 - the stack closes it
    try:
        with _open(archive, entry) as source:
            while block := source.read(_BLOCK):
                copy.write(block)
    except OSError as error:
        raise _no_room(error) from None
    copy.seek(0)
    return copy


def _no_room(error: OSError) -> NavlogError:
    return problem_error(
        "no-room", f"no room for a copy of the inner archive: {error.strerror}", hint="unpack it first"
    )
