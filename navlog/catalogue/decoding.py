"""Bytes of published files to letters: UTF-8, and Windows-1252 for bytes that are none.

The FAA's files are ASCII but for a name now and then, of Puerto Rico for one; nothing says in which encoding.
"""

from __future__ import annotations

import codecs

FALLBACK = "navlog-western"
"""The name under which the error handler is known to codecs."""


def _western(error: UnicodeError) -> tuple[str, int]:
    """The letters of bytes that are no UTF-8; `?` turned upside down for those that Windows-1252 lacks."""
    if not isinstance(error, UnicodeDecodeError):
        raise error
    return error.object[error.start : error.end].decode("cp1252", "replace"), error.end


codecs.register_error(FALLBACK, _western)


def in_columns(line: str, length: int, name_end: int) -> str:
    """A record of fixed columns that counts its bytes, as letters of one column each.

    Letters of two bytes take two columns; the blanks they took come back at the end of the name, `name_end`.
    """
    lost = length - len(line)
    if line.isascii() or lost <= 0:
        return line
    bytes_long = len(line.encode("utf-8"))
    return line[: name_end - lost] + " " * lost + line[name_end - lost :] if bytes_long == length else line
