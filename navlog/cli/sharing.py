"""How a check is shared out: in this process, among several, or on a cluster; and the files that it is of."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

import click
from msgspec import Struct

from navlog.cli.flightfile import read_bytes
from navlog.cli.options import is_given

if TYPE_CHECKING:
    from navlog.studies.batch import Engine, RouteSource
    from navlog.studies.checking import Memory
    from navlog.studies.route_files import RouteFiles

_Command = TypeVar("_Command", bound=Callable[..., object])

_MOST_JOBS = 256


class Sharing(Struct, frozen=True):
    """What the options say: so many processes, or the address of a cluster's scheduler."""

    jobs: int
    cluster: str | None

    @contextmanager
    def engine(
        self, files: RouteFiles, catalogues: Sequence[str], *, in_parts: bool = False, memory: Memory | None = None
    ) -> Iterator[Engine]:
        """What works through files with these files of published data, ended again at the end.

        With `in_parts` a large file is shared out too. A cluster remembers by `memory`; processes do it themselves.
        """
        from navlog.studies.batch import Engine, RouteSource, process_pool

        if self.cluster is not None:
            from navlog.studies.cluster import on_cluster

            with on_cluster(self.cluster, len(files), catalogues, memory) as engine:
                yield engine
            return
        many = len(files)
        if many == 1 and in_parts:
            many = sum(1 for file in files for _ in RouteSource(file).parts())
        if self.jobs == 1 or many <= 1:
            yield Engine()
        else:
            with process_pool(min(self.jobs, many)) as executor:
                # Few files a task where there are few files, so that every process gets some.
                yield Engine(executor, 4 * self.jobs, max(1, min(16, many // 16)))


def sharing_options(command: _Command) -> _Command:
    """Give a command `--jobs` and `--cluster`."""
    text = "Work on a Dask cluster (see `navlog help cluster`)."
    command = click.option("--cluster", metavar="tcp://HOST:PORT", help=text)(command)
    number = click.IntRange(1, _MOST_JOBS)
    return click.option("--jobs", type=number, default=1, metavar="N", help="Work in N processes.")(command)


def sharing_from(options: dict[str, object]) -> Sharing:
    """What the options say, which are taken out of `options`; raises click.UsageError for what does not go together."""
    found = Sharing(options.pop("jobs"), options.pop("cluster"))  # type: ignore[arg-type]
    if found.cluster is not None and is_given("jobs"):
        raise click.UsageError("--jobs does not go with --cluster.")
    return found


def sources_of(files: Iterable[str]) -> Iterator[RouteSource]:
    """The files as sources; standard input is read here, where it is open."""
    from navlog.request.typed import ROUTE_OPTION
    from navlog.studies.batch import RouteSource

    return (RouteSource(file, read_bytes(file) if file in ("-", ROUTE_OPTION) else None) for file in files)
