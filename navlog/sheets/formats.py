"""The formats of a log: their names, suffixes and the module that writes each, loaded when asked for."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from navlog.nav.record import changed

if TYPE_CHECKING:
    from navlog.rules.answers import Answer

MODULES = {
    "text": "text",
    "strip": "strip",
    "steps": "steps",
    "planning": "planning",
    "markdown": "markdown",
    "html": "html",
    "pdf": "pdf",
    "csv": "csv_rows",
    "json": "json_lines",
    "gpx": "gpx",
    "kml": "kml",
    "geojson": "geojson",
    "item15": "item15",
}
"""Each format and its module in `sheets`; every one has a `document`."""

PAPERS = ("half-letter", "a5", "letter", "a4")
"""The sizes of paper, the first by default; `sheets.pages` measures them."""

SUFFIXES = {
    ".md": "markdown",
    ".markdown": "markdown",
    ".htm": "html",
    ".html": "html",
    ".pdf": "pdf",
    ".csv": "csv",
    ".json": "json",
    ".jsonl": "json",
    ".gpx": "gpx",
    ".kml": "kml",
    ".geojson": "geojson",
}
"""Suffixes that can mean one format only."""


_TEXT_SUFFIXES = ("", ".txt", ".log")
"""Suffixes of the formats that are text for reading."""

SUFFIXES_TEXT = f"those known are {', '.join(SUFFIXES)}; none, .txt and .log are text"
_WITH_SUFFIX = {form: suffix for suffix, form in reversed(SUFFIXES.items())}
_LONGEST_NAME = 80


def known_suffix(path: str) -> bool:
    """Whether a path's suffix says what is in the file: a format, text, a route file; a folder's name needs none."""
    name = path.replace("\\", "/").rpartition("/")[2]
    stem, dot, suffix = name.rpartition(".")
    shown = f"{dot}{suffix.lower()}" if stem.strip(".") else ""
    return shown in SUFFIXES or shown in (*_TEXT_SUFFIXES, ".route")


def file_names(found: tuple[Answer, ...], form: str) -> tuple[str, ...]:
    """A name for the file of each flight: its route file's and its own, in letters that every system takes.

    Of names that are alike, in capitals or not, the later ones are numbered.
    """
    from pathlib import PurePath
    from re import sub

    taken: set[str] = set()
    names = []
    for one in found:
        stem = PurePath(one.file).stem
        whole = stem if one.flight in (None, stem) else f"{stem}-{one.flight}"
        plain = sub(r"[^A-Za-z0-9]+", "-", whole).strip("-")[:_LONGEST_NAME] or "flight"
        name, number = plain, 1
        while name.lower() in taken:
            number += 1
            name = f"{plain}-{number}"
        taken.add(name.lower())
        names.append(f"{name}{_WITH_SUFFIX.get(form, '.txt')}")
    return tuple(names)


def format_of(path: str) -> str | None:
    """The format that a path's suffix names; None where it could be any of the text formats."""
    _, dot, suffix = path.rpartition(".")
    return SUFFIXES.get(f"{dot}{suffix.lower()}")


DRAWN = ("html", "pdf")
"""The formats with drawings."""

PAGED = ("strip", "pdf", "html")
"""The formats that are the knee page, behind which more can be asked for."""

EXTRAS = (
    "forms", "steps", "airports", "receivers", "diversions", "stations", "findings", "legend", "workings", "drawings"
)  # fmt: skip
"""What can be asked for behind the page, in the order in which it stands there; drawings only where lines are drawn."""


def sheet(
    form: str,
    found: tuple[Answer, ...],
    paper: str,
    *,
    every: bool = False,
    extras: tuple[str, ...] = (),
    small: bool = False,
    wide: bool = False,
) -> str | bytes | None:
    """The sheet of a file's flights; None where no flight could be computed and the format tells no problems.

    With `every` each finding has a line of its own, not each rule; formats for programs always have every one.
    `extras` are asked for behind the knee page, and `small` sets the strip in smaller type. A
    `wide` planning sheet has all its columns beside each other.

    Raises NavlogError where a format needs a package that is not installed.
    """
    reports = [changed(one.report, every=every) for one in found if one.report is not None]
    if not reports and form != "json":
        return None
    module = import_module(f"navlog.sheets.{MODULES[form]}")
    from navlog.sheets.pages import PAGES, SMALL_TYPE_PT

    page = changed(PAGES[paper], type_pt=SMALL_TYPE_PT) if small else PAGES[paper]
    written: str | bytes
    if form == "json":
        written = module.document(found)
    elif form == "planning":
        written = module.document(reports, page, wide=wide)
    else:
        written = module.document(reports, page, extras) if form in PAGED else module.document(reports, page)
    return written
