"""Flying route files in tests: what `navlog` prints for them, and an invented flight to change.

The islands, stations and airways around N46 W039 are invented.
"""

from __future__ import annotations

import io
import json
import os
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest.mock import patch

from navlog.cli import run

Json = dict[str, Any]

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
GOLDEN = Path(__file__).parents[1] / "golden"

STATEMENTS = (
    "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft",
    "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft",
    "station QSK 112.40 N45 52.00 W038 38.00 decl 14W class L dme elev 150ft",
    "airport XHAR N46 14.50 W039 07.20 elev 790ft",
    "airport XOLD N45 41.00 W039 20.00 elev 350ft",
    "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 cop 11 QHB",
    "direct QHB - XHAR 9.6nm min 2500",
    "direct QEL - XOLD 9.6nm min 2500",
    "date 2026-07-18",
    "off 15:10Z",
    "altitude 3000",
    "tas 110kt",
    "burn 8.5gph",
    "wind 230/12",
    "fuel 38gal",
    "taxi 1gal",
    "route XHAR QHB V801 QEL XOLD",
)
"""A flight over the islands for which every number is known."""

NAMED = ("station", "airport", "fix", "airway", "direct", "hold", "accept", "note", "unavailable", "radio", "alternate")


@dataclass(frozen=True, slots=True)
class Run:
    """What one command line came to."""

    status: int
    out: str
    err: str


def navlog(*arguments: str, typed: str | bytes = b"") -> Run:
    """Run a command line of navlog in this process; `typed` is what it reads for `-`. No catalogue is there."""
    data = typed.encode() if isinstance(typed, str) else typed
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8", newline="") for _ in range(2))
    alone = {name: value for name, value in os.environ.items() if name != "NAVLOG_CATALOGUE"}
    with (
        patch.dict(os.environ, alone | {"XDG_CONFIG_HOME": str(GOLDEN / "no-such-folder")}, clear=True),
        redirect_stdout(out),
        redirect_stderr(err),
        patch("sys.stdin", io.TextIOWrapper(io.BytesIO(data), encoding="utf-8")),
    ):
        status = run(list(arguments))
    for stream in (out, err):
        stream.seek(0)
    return Run(status, out.read(), err.read())


def changed(*statements: str, without: tuple[str, ...] = ()) -> str:
    """The invented flight with statements replaced or added, and those that begin with `without` left out.

    A statement replaces the one of its keyword; of stations, airways and the like the one of its name.
    """
    kept = [one for one in STATEMENTS if not any(f"{one} ".startswith(f"{start} ") for start in without)]
    for statement in statements:
        places = [index for index, one in enumerate(kept) if key(one) == key(statement)]
        if places:
            kept[places[0]] = statement
        else:
            kept.append(statement)
    return "\n".join(kept) + "\n"


def key(statement: str) -> tuple[str, ...]:
    """What tells one statement from another."""
    words = statement.split()
    if words[0] == "direct":
        return ("direct", *[word for word in words[1:] if word.isupper()][:2])
    return tuple(words[:2]) if words[0] in NAMED else (words[0],)


def flights(text: str, *options: str) -> list[Json]:
    """The JSON objects of a route file's flights, whatever came of them."""
    return [json.loads(line) for line in navlog("log", "-", "--format", "json", *options, typed=text).out.splitlines()]


def flight(text: str, *options: str) -> Json:
    """The JSON object of a route file's only flight, which must have been computed."""
    (found,) = flights(text, *options)
    assert found["problems"] == [], found["problems"]
    return found


def legs(text: str, *options: str) -> list[Json]:
    """The legs of a route file's only flight."""
    found: list[Json] = flight(text, *options)["legs"]
    return found


def sheet(text: str, *options: str) -> str:
    """The printed log of a route file."""
    return navlog("log", "-", *options, typed=text).out


def rules_of(found: Json) -> set[str]:
    """The rules that a flight's findings name."""
    return {finding["rule"] for finding in found["findings"]}


def codes(text: str, *options: str) -> set[str]:
    """The codes of the problems in a route file."""
    return {problem["code"] for found in flights(text, *options) for problem in found["problems"]}


def apart_deg(one_deg: float, other_deg: float) -> float:
    """How far two directions are apart, degrees, 0 to 180."""
    return abs((one_deg - other_deg + 180.0) % 360.0 - 180.0)


def held(found: Json) -> list[tuple[str | None, float]]:
    """Station and NM of each part flown on one guidance."""
    parts: list[tuple[str | None, float]] = []
    for leg in found["legs"]:
        ident = leg["guidance"]["ident"] if leg["guidance"] else None
        if parts and parts[-1][0] == ident:
            parts[-1] = ident, round(parts[-1][1] + leg["distance_nm"], 1)
        else:
            parts.append((ident, round(leg["distance_nm"], 1)))
    return parts
