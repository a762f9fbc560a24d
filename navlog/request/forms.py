"""How one statement is described: what stands behind its keyword, what reads it, and what its value becomes."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from enum import Enum
from typing import Any, TypeVar

from msgspec import Struct

from navlog.request.cursor import Cursor
from navlog.request.tree import Value

_T = TypeVar("_T", bound=Value)


class Into(Enum):
    """What a statement's value becomes."""

    VALUE = "the field's value"
    PARTS = "each of the fields named gets what the value has of that name"
    LIST = "one of the field's tuple, in file order"
    DEFINITION = "an entry, by its key, of the definitions' field"


class Form(Struct, frozen=True):
    """One statement: `form` is what stands behind its keyword, in the words of the README, and `says` what it means.

    `field` is the field of `Request` (or of its `Definitions`) that it fills. One scope - the common part, or a flight
    - holds one statement of a keyword; one for each `key` where there is one, else any number with `adds`. With
    `is_chain` the value is a tuple, and each of its members has a key. Statements of one `family` mean the same thing:
    a flight's own that is `sweeping` puts all common ones of its family aside, a command's option always does.
    `options` are the words that the tidy text sets off.
    """

    keyword: str
    read: Callable[[Cursor], Value | None]
    form: str
    says: str
    examples: tuple[str, ...]
    field: str | tuple[str, ...]
    into: Into = Into.VALUE
    key: Callable[[Any], Hashable] | None = None
    adds: bool = False
    is_chain: bool = False
    family: str | None = None
    sweeping: Callable[[Any], bool] = lambda _: False
    options: tuple[str, ...] = ()

    @property
    def example(self) -> str:
        """What problems suggest to write behind the keyword."""
        return f", or: {self.keyword} ".join(self.examples)

    @property
    def is_named(self) -> bool:
        """Whether the first word is the name that it defines, also where the rest cannot be read."""
        return self.into is Into.DEFINITION and not self.adds and not self.is_chain

    def entries(self, value: Any) -> tuple[tuple[Hashable, Any], ...]:
        """What one value holds, each with its key; the key is None where the form has none."""
        members = value if self.is_chain else (value,)
        return tuple((self.key(member) if self.key is not None else None, member) for member in members)


def word(what: str, reader: Callable[[str], _T]) -> Callable[[Cursor], _T | None]:
    """The reader of a statement of one word, such as `tas 110kt`."""
    return lambda cursor: cursor.read(what, reader, None)
