"""What a shell may complete: published identifiers, the flights of a file, rules, requirements, schemas.

A shell asks at every press of a key, so whatever is wrong is passed over: nothing is offered then.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from navlog.cli.catalogue_option import default_catalogue
from navlog.cli.options import Value, in_capitals
from navlog.nav.problems import NavlogError

if TYPE_CHECKING:
    import click
    from click.shell_completion import CompletionItem


class PublishedName(Value):
    """An identifier that published data know, completed from these tables of the catalogue."""

    def __init__(self, *tables: str, read: Callable[[str], object] = in_capitals) -> None:
        super().__init__("ident", read)
        self._tables = tables

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        """The identifiers that begin so, in the catalogue that the line names or the environment does."""
        del param
        import os
        from datetime import UTC, datetime

        from navlog.catalogue import open_catalogue
        from navlog.catalogue.lookups import completions

        path = ctx.params.get("catalogue") or os.environ.get("NAVLOG_CATALOGUE") or default_catalogue()
        try:
            with open_catalogue(path) as held:
                day = ctx.params.get("day") or datetime.now(UTC).date()
                return _offered(completions(held, incomplete.upper(), day, self._tables))
        except NavlogError:
            return []


def flights_of_file(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The names of the flights in the route file that the line names."""
    del param
    from navlog.cli.flightfile import read_route_file
    from navlog.request.typed import NO_OVERRIDES

    # An option without its value stops the reading of the line, and what was read before it lies in `args`.
    file = ctx.params.get("file") or next(iter(ctx.args), None)
    if not file or file == "-":
        return []
    try:
        flights = read_route_file(file, NO_OVERRIDES).flights
    except NavlogError:
        return []
    return _offered(flight.name for flight in flights if flight.name.startswith(incomplete))


def rules(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The rules of the findings."""
    del ctx, param
    from navlog.rules.domains import every_rule

    return _offered(rule.ident for rule in every_rule() if rule.ident.startswith(incomplete))


def requirements(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The training distances that `--requirement` knows."""
    del ctx, param
    from navlog.studies.requirements import REQUIREMENTS

    return _offered(one.name for one in REQUIREMENTS if one.name.startswith(incomplete))


def schemas(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The schemas of what is written as JSON."""
    del ctx, param
    from navlog.studies.schemas import schema_names

    return _offered(name for name in schema_names() if name.startswith(incomplete))


def _offered(values: Iterable[Any]) -> list[CompletionItem]:
    from click.shell_completion import CompletionItem

    return [CompletionItem(str(value)) for value in values]
