"""A damaged catalogue file told from a fault of ours, where rows cannot be made into records.

SQLite notices damage to its own structure, not to the values in it; what no import lets in is looked for only
once something has failed, as it means reading the whole file.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import update_wrapper
from typing import TYPE_CHECKING, Concatenate, ParamSpec, TypeVar

from navlog.catalogue.opened import Opened
from navlog.catalogue.schema import TABLES, damaged

if TYPE_CHECKING:
    from sqlite3 import Connection

_P = ParamSpec("_P")
_T = TypeVar("_T")
_AnyOpened = TypeVar("_AnyOpened", bound=Opened)
_OF_BAD_ROWS = (ArithmeticError, AttributeError, LookupError, TypeError, ValueError)


def reading(method: Callable[Concatenate[_AnyOpened, _P], _T]) -> Callable[Concatenate[_AnyOpened, _P], _T]:
    """A method that reads rows; where it fails and the file is damaged, that is a `damaged-catalogue` problem."""

    def guarded(self: _AnyOpened, /, *arguments: _P.args, **named: _P.kwargs) -> _T:
        try:
            return method(self, *arguments, **named)
        except _OF_BAD_ROWS:
            why = _damage(self.connection)
            if why is None:
                raise
            raise damaged(self.path, why) from None

    update_wrapper(guarded, method)
    return guarded


def _damage(connection: Connection) -> str | None:
    """What is wrong in the file; None where it is whole and holds what an import writes."""
    from sqlite3 import Error

    try:
        state: str = connection.execute("PRAGMA integrity_check(1)").fetchone()[0]
        if state != "ok":
            return state
        there = {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        for table, condition in _signs_of_damage():
            query = f"SELECT 1 FROM {table} WHERE {condition} LIMIT 1"
            if table in there and connection.execute(query).fetchone():
                return f"values of its table {table} are damaged"
    except (Error, ValueError) as error:
        return str(error)
    return None


def _signs_of_damage() -> list[tuple[str, str]]:
    """Tables, and SQL conditions on a row of them that no import fulfils."""
    from navlog.nav.chart import STATION_KINDS, Source

    sources = ", ".join(f"'{source.value}'" for source in Source)
    kinds = ", ".join(f"'{kind}'" for kind in STATION_KINDS)
    day = "effective NOT NULL AND date(effective) IS NOT effective OR expires NOT NULL AND date(expires) IS NOT expires"
    placed = "typeof(latitude) <> 'real' OR typeof(longitude) <> 'real' OR abs(latitude) > 90 OR abs(longitude) > 180"
    return [
        ("edition", f"source NOT IN ({sources}) OR {day}"),
        ("holding", "effective NOT NULL AND date(effective) IS NOT effective"),
        ("station", f"type NOT IN ({kinds})"),
        *((table, " OR ".join(f"typeof({name}) = 'blob'" for name in _names(table))) for table in TABLES),
        *((table, f"({placed})") for table in ("station", "fix", "airport")),
        *((table, "edition NOT IN (SELECT id FROM edition)") for table in TABLES if table != "edition"),
    ]


def _names(table: str) -> list[str]:
    """The names of a table's columns."""
    return [column.split()[0] for column in TABLES[table].split(", ")]
