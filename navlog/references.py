"""The files that a route file names - aircraft and bulletins - each read once."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeVar

from navlog.problems import NavlogError, problem_error
from navlog.request import FileReference

if TYPE_CHECKING:
    from navlog.aircraft import Aircraft
    from navlog.bulletin import Bulletin

Content = TypeVar("Content")

LARGEST_BYTES = 1_000_000
"""A whole bulletin has 20,000 bytes; what is so much larger is another file, or has no end."""


@dataclass(slots=True)
class References:
    """Reads what flights name, relative to their route file; a file read once is not read again.

    `given` are texts that stand in for the files of these names, as they are written in the route file.
    """

    given: Mapping[str, str] = field(default_factory=dict)
    _aircraft: dict[str, Aircraft | NavlogError] = field(default_factory=dict)
    _bulletins: dict[str, Bulletin | NavlogError] = field(default_factory=dict)

    def aircraft(self, reference: FileReference) -> Aircraft:
        """The aircraft that a statement names; raises every problem of its file, or that it cannot be read."""
        from navlog.aircraftfile import read_aircraft

        return self._once(self._aircraft, reference, read_aircraft)

    def bulletin(self, reference: FileReference) -> Bulletin:
        """The bulletin that a statement names; raises every problem of its file, or that it cannot be read."""
        from navlog.bulletin import read_bulletin

        return self._once(self._bulletins, reference, read_bulletin)

    def _once(
        self, known: dict[str, Content | NavlogError], reference: FileReference, read: Callable[[str, str], Content]
    ) -> Content:
        """What the file holds, read now or before."""
        path = os.path.join(os.path.dirname(reference.span.file), reference.path)
        if path not in known:
            try:
                text = self.given.get(reference.path)
                known[path] = read(_text(path, reference) if text is None else text, path)
            except NavlogError as error:
                known[path] = error
        found = known[path]
        if isinstance(found, NavlogError):
            raise found
        return found


def _text(path: str, reference: FileReference) -> str:
    """The text of a file; the problem stands where the route file names it."""
    from navlog.routefile import decode

    try:
        with open(path, "rb") as opened:
            data = opened.read(LARGEST_BYTES + 1)
        if len(data) > LARGEST_BYTES:
            raise ValueError("more than a megabyte")
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        message = f"cannot read `{reference.path}`: {reason}"
        raise problem_error("cannot-read", message, span=reference.span) from None
    return decode(data, path)
