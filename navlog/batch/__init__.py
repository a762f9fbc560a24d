"""Whole libraries of routes, one file after another or on any `concurrent.futures` executor.

from concurrent.futures import ProcessPoolExecutor
from navlog.batch import Settings, Source, check_sources

sources = (Source(name) for name in route_files(["routes"]))
with ProcessPoolExecutor() as executor:
    for verdicts in check_sources(sources, Settings(catalogue="us.sqlite"), executor):
        ...
"""

from __future__ import annotations

from navlog.batch.checking import Settings, Source, Verdict, check_sources
from navlog.batch.files import route_files

__all__ = ["Settings", "Source", "Verdict", "check_sources", "route_files"]
