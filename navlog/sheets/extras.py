"""What is asked for behind the knee page by name, in sections of text; forms and drawings are drawn by the format."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from navlog.printed.airfields import airfield_lines
from navlog.printed.closing import legend_of, station_lines
from navlog.printed.diverting import diversion_lines
from navlog.printed.findings import findings_lines, findings_summary
from navlog.printed.meant import meant
from navlog.printed.receivers import other_receiver_lines, receiver_lines
from navlog.printed.rows import BY_KEY, rows
from navlog.rules.report import Report

_WORKING = (
    ("TC", "true_course"), ("wind", "wind"), ("TAS", "tas"), ("WCA", "correction"), ("TH", "true_heading"),
    ("var", "variation"), ("MH", "magnetic_heading"), ("dev", "deviation"), ("CH", "compass_heading"),
    ("GS", "groundspeed"), ("NM", "distance"), ("time", "time"), ("alt", "altitude"), ("fuel", "fuel_used"),
)  # fmt: skip
"""From true course to compass heading, then what follows from it, in the order of the working."""


class Extra(Struct, frozen=True):
    """A titled section; `figures` tells that its lines are set in type of one width, as those of a `table` are.

    No sheet breaks a line of a table that has room.
    """

    title: str
    lines: tuple[str, ...]
    figures: bool = False
    table: tuple[str, ...] = ()


def extras(report: Report, names: Sequence[str]) -> Iterator[Extra]:
    """The sections of text that are asked for, in their order."""
    log, means = report.log, meant(report)
    if "steps" in names:
        from navlog.sheets.steps import ALWAYS, steps

        yield Extra("AT EVERY STATION", ALWAYS)
        for place, told in steps(log, means):
            yield Extra(place, told)
    if "airports" in names:
        yield Extra("AIRPORTS", tuple(airfield_lines(log)) or ("none on this flight",))
    if "receivers" in names:
        yield Extra("VOR CHECK", tuple(receiver_lines(log)) or ("none stated, no checkpoint looked for",))
        yield Extra("OTHER VOR", tuple(other_receiver_lines(log)) or ("nothing to set on another receiver",))
    if "diversions" in names and report.diversions is not None:
        words, table = diversion_lines(report.diversions)
        yield Extra("DIVERSIONS", words, table=table)
    if "stations" in names:
        yield Extra("STATIONS", tuple(station_lines(log)), figures=True)
    if "findings" in names:
        lines = findings_lines(report.findings, every=report.every)
        yield Extra(f"FINDINGS: {findings_summary(report.findings, every=report.every)}", lines)
    if "legend" in names:
        yield Extra("LEGEND", (legend_of(log),))
    if "workings" in names:
        for row in rows(log, means):
            figure = {key: BY_KEY[key].figure(row) for _, key in (("", "from"), ("", "to"), *_WORKING)}
            told = tuple(f"{name} {figure[key]}" for name, key in _WORKING)
            yield Extra(f"WORKING {row.leg.number} {figure['from']} to {figure['to']}", ("  ".join(told),))
