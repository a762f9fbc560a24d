"""What a check said of a file, kept in a folder and told again while nothing that it depends on has changed.

An entry holds for the bytes of the route file, its name, the options, the catalogue's bytes, this program's own code
and libraries, and the fingerprint of every file that the check read. Entries are data alone, never code: what is cut
short, changed or of another kind is passed over, and the file is checked as if it were new.
"""

from __future__ import annotations

import json
import os
import sys
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import TypeVar

import msgspec
from msgspec import Struct

from navlog.nav.interruptions import held_back
from navlog.nav.plainfile import open_plain, read_most
from navlog.nav.problems import Span, problem_error
from navlog.request.references import References, UsedFile
from navlog.version import VERSION

_HEAD = b"navlog-cache-1\n"
_LARGEST_BYTES = 64_000_000
_LIBRARIES = ("pyproj", "pygeomag", "msgspec", "tzdata")
_Packed = TypeVar("_Packed")


class Cache(Struct, frozen=True):
    """A folder of entries. `options` tells runs of other options apart, `stamp` says what all entries depend on.

    `catalogue` is the file of published data, None for none, and `written` tells when it was written.
    """

    folder: str
    options: str
    stamp: str
    catalogue: str | None
    written: tuple[int, ...]


class _Entry(Struct, array_like=True):
    """What a file of the folder holds: for what it holds, the files read, and what was said, as its writer packs it."""

    holds_for: str
    used: tuple[tuple[UsedFile, str], ...]
    body: bytes


def open_cache(folder: str, options: object, catalogue: str | None) -> Cache:
    """The cache in a folder, which is made where there is none, for a run of these options with that catalogue.

    Raises `cannot-write` where the folder cannot be made or written, and `not-private` where others than its owner may
    write into it, as whoever can may say that a flight is well.
    """
    from tempfile import NamedTemporaryFile

    try:
        os.makedirs(folder, mode=0o700, exist_ok=True)
        _refuse_shared(folder)
        with held_back(), NamedTemporaryFile(dir=folder, prefix=".navlog-"):
            pass
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        message = f"cannot write into this folder: {reason}"
        raise problem_error("cannot-write", message, span=Span(folder, 1)) from None
    written = file_written(catalogue)
    told = packed(options)
    stamp = _digest(told, packed(made_of()), file_digest(catalogue).encode())
    return Cache(folder, _digest(told), stamp, catalogue, written)


def _refuse_shared(folder: str) -> None:
    """Raise `not-private` for a folder that its group or everybody may write into, or that is another user's."""
    if os.name != "posix":
        return
    status = os.stat(folder)
    if status.st_mode & 0o022 or status.st_uid not in (os.getuid(), 0):
        message = "others may write into this folder, and so into what a check says"
        hint = f"take that from them: chmod go-w {folder}"
        raise problem_error("not-private", message, span=Span(folder, 1), hint=hint)


def recalled(cache: Cache, file: str, data: bytes, references: References) -> bytes | None:
    """What was said of a file with these bytes; None where nothing is known that still holds."""
    try:
        with open_plain(_path(cache, file)) as opened:
            whole = read_most(opened, _LARGEST_BYTES)
    except (OSError, ValueError):
        return None
    head, digest, kept = whole[: len(_HEAD)], whole[len(_HEAD) : len(_HEAD) + 32], whole[len(_HEAD) + 32 :]
    if head != _HEAD or len(whole) > _LARGEST_BYTES or sha256(kept).digest() != digest:
        return None
    try:
        entry = unpacked(kept, _Entry)
    except (msgspec.MsgspecError, ValueError, RecursionError):
        return None
    if entry.holds_for != _holds_for(cache, file, data):
        return None
    return entry.body if all(references.fingerprint(one) == seen for one, seen in entry.used) else None


def remember(cache: Cache, file: str, data: bytes, references: References, body: bytes) -> None:
    """Keep what was said of a file; a folder that cannot be written any more costs time only."""
    if file_written(cache.catalogue) != cache.written:
        return  # Another catalogue stands there since this run began.
    from tempfile import mkstemp

    used = tuple(references.used.items())
    kept = packed(_Entry(_holds_for(cache, file, data), used, body))
    # A process of several is ended by a signal without a word.
    with held_back(), suppress(OSError, ValueError):
        handle, name = mkstemp(dir=cache.folder, prefix=".navlog-")
        try:
            with os.fdopen(handle, "wb") as opened:
                opened.write(_HEAD + sha256(kept).digest() + kept)
            # Some file systems write a file out at once when it takes another's place: 2,000 of them took 11 s.
            with suppress(FileNotFoundError):
                os.unlink(_path(cache, file))
            os.replace(name, _path(cache, file))
        except BaseException:
            with suppress(OSError):
                os.unlink(name)
            raise


def packed(value: object) -> bytes:
    """A value as bytes, the same for the same value; names of files that are no text in UTF-8 are kept too."""
    try:
        return msgspec.msgpack.encode(value, order="deterministic")
    except UnicodeEncodeError:
        # JSON writes what no UTF-8 can (the bytes of such a name, as Python escapes them) in ASCII.
        return json.dumps(msgspec.to_builtins(value, order="deterministic")).encode("ascii")


def unpacked(data: bytes, kind: type[_Packed]) -> _Packed:
    """The value of these bytes; raises msgspec's error or ValueError where they hold none of that kind."""
    # A list or an object of JSON begins with what would be a bare number, which nothing kept here is.
    if data[:1] in (b"[", b"{"):
        return msgspec.convert(json.loads(data), type=kind)
    return msgspec.msgpack.decode(data, type=kind)


def _path(cache: Cache, file: str) -> str:
    """The entry of a file, the same whatever the file says, so that a folder does not grow with every change."""
    name = _digest(cache.options.encode(), os.fsencode(os.path.abspath(file)))
    return os.path.join(cache.folder, f"{name[:40]}.check")


def _holds_for(cache: Cache, file: str, data: bytes) -> str:
    return _digest(cache.stamp.encode(), os.fsencode(file), data)


def _digest(*parts: bytes) -> str:
    """One digest of several parts, of which none can pass for another."""
    return sha256(b"".join(sha256(part).digest() for part in parts)).hexdigest()


def file_written(path: str | None) -> tuple[int, ...]:
    """When a file was written, and which one it is."""
    if path is None:
        return ()
    status = os.stat(path)
    return status.st_mtime_ns, status.st_ino, status.st_size


def file_digest(path: str | None) -> str:
    """The digest of a file's bytes; of none, where there is none."""
    if path is None:
        return ""
    with open(path, "rb") as opened:
        digest = sha256()
        while piece := opened.read(1 << 20):
            digest.update(piece)
    return digest.hexdigest()


def made_of() -> dict[str, str]:
    """What answers depend on beside data: this program, Python, the machine, the libraries and the zones of time.

    Each with its edition; that of the program is its version with the digest of its code.
    """
    from importlib.metadata import PackageNotFoundError, version
    from platform import machine

    package = Path(__file__).parents[1]
    code = []
    for path in sorted(package.rglob("*.py")):
        code += [path.relative_to(package).as_posix().encode(), path.read_bytes()]
    parts = {"navlog": f"{VERSION} {_digest(*code)[:16]}", "Python": sys.version, "machine": machine()}
    for name in _LIBRARIES:
        try:
            parts[name] = version(name)
        except PackageNotFoundError:
            parts[name] = "none"
    parts["time zones"] = _zones().decode("ascii", "replace").strip() or "none"
    return parts


def _zones() -> bytes:
    """The first line of the system's time zones, which names their edition; nothing where there are none."""
    from zoneinfo import TZPATH

    for folder in TZPATH:
        with suppress(OSError), open(os.path.join(folder, "tzdata.zi"), "rb") as opened:
            return opened.readline(200)
    return b""
