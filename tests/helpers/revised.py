"""Flights that are revised on the way, by the command."""

from __future__ import annotations

import json

from helpers.flown import Json, navlog

MERIDIAN = (
    "airport XAA N46 00.00 W039 00.00 elev 100ft\nstation QBB 114.00 N46 20.00 W039 00.00 decl 0E class L\n"
    "airport XCC N46 40.00 W039 00.00 elev 100ft\nairport XDD N46 09.00 W039 00.00 elev 100ft\ndate 2026-07-18\n"
    "off 15:00Z\nwind calm\naltitude 3500\ntas 120kt\nburn 8gph\nfuel 20gal\nrules vfr day\nroute XAA QBB XCC\n"
    "alternate XDD from QBB\nalternate XDD from XAA\n"
)


def revised(text: str, *arguments: str) -> tuple[int, Json]:
    """The exit status and what is told of a flight revised."""
    found = navlog("revise", "-", "--format", "json", *arguments, typed=text)
    assert found.err == "", found.err
    return found.status, json.loads(found.out)
