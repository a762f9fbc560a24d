"""What goes with stations as text, as CSV and as JSON, and the ranking of all stations."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import Any

from navlog.catalogue.text import source_text
from navlog.nav.figures import distance, whole
from navlog.nav.layout import WIDTH, columns, held, wrapped
from navlog.sheets.json_values import number
from navlog.studies.batch import Row
from navlog.studies.without import HEIGHTS_FT, Hanging, RunRound, Without

_SCHEMA = "navlog/without-1"

WITHOUT_COLUMNS = (
    "kind",
    "name",
    "airway",
    "from",
    "to",
    "distance_nm",
    "unguided_nm",
    "way_round",
    "way_nm",
    "more_nm",
    "way_ft",
    "more_ft",
    "heights_ft",
)

RANKING_COLUMNS = (
    "rank",
    "ident",
    "name",
    "runs_nm",
    "runs",
    "airways",
    "fixes",
    "changeovers",
    "direct_pairs",
    *(f"airports_{height_ft:.0f}_ft" for height_ft in HEIGHTS_FT),
)


def without_lines(asked: Hanging, found: Without, rounds: Sequence[RunRound]) -> Iterator[str]:
    """Everything that goes, each kind under its heading."""
    names = (f"{ident} {name}" if name else ident for ident, name in zip(found.idents, found.names, strict=True))
    yield f"Without {', '.join(names)}, {asked.day.isoformat()}"
    yield from (f"  {source_text(one)}" for one in asked.sources)
    yield ""
    if rounds:
        them = "it" if len(found.idents) == 1 else "them"
        yield f"Runs of airways that rely on {them}: {len(rounds)}, {distance(found.runs_nm)} NM"
        for one in rounds:
            yield from _round_lines(one, found.idents)
    else:
        yield "No airway relies on it." if len(found.idents) == 1 else "No airway relies on them."
    told = (
        ("Fixes that lose their last radial", [" ".join(filter(None, fix)) for fix in found.fixes]),
        (
            "Changeover points",
            [f"{one.airway} {one.station} to {one.ahead} {one.distance_nm:g} NM" for one in found.changeovers],
        ),
        (
            "Direct legs to VORs within 80 NM",
            [f"{one.station} to {one.other} {distance(one.distance_nm)} NM" for one in found.pairs],
        ),
        *(
            (
                f"Airports within 40 NM that receive no other VOR {whole(height_ft)} ft above them",
                [
                    f"{one.ident} {distance(one.distance_nm)} NM"
                    for one in found.airports
                    if height_ft in one.heights_ft
                ],
            )
            for height_ft in HEIGHTS_FT
        ),
    )
    for heading, items in told:
        yield ""
        yield f"{heading}: {len(items) or 'none'}"
        yield from wrapped(", ".join(items), WIDTH, "  ", first="  ") if items else ()


def _round_lines(one: RunRound, out: Sequence[str]) -> Iterator[str]:
    run = one.run
    lowest = f", flown from {whole(run.asked_ft)} ft" if run.asked_ft is not None else ""
    yield f"  {run.airway} {run.start} to {run.end}, {distance(run.distance_nm)} NM{lowest}"
    if one.unguided_nm is not None:
        yield f"    without guidance then: {distance(one.unguided_nm)} NM" + ("" if one.unguided_nm else ", " + _KEPT)
    if one.way is not None:
        more_ft = f" ({one.more_ft:+.0f} ft)" if one.more_ft is not None else ""
        told = ", ".join(
            (
                f"round: {_way_text(one)}",
                held(f"{distance(one.way.distance_nm)} NM ({one.more_nm:+.1f} NM)"),
                held(f"{whole(one.way.altitude_ft)} ft{more_ft}"),
            )
        )
    elif run.start in out or run.end in out:
        told = f"no way round: it {'begins' if run.start in out else 'ends'} at the station"
    else:
        told = "no way round along the airways"
    yield from wrapped(told, WIDTH, "      ", first="    ")


_KEPT = "the stations that stay guide all of it"


def _way_text(one: RunRound) -> str:
    """A way as a route line: `QEL V802 QSK V803 QHB`."""
    stays = one.way.hops if one.way is not None else ()
    return " ".join(
        (*(stays[0][1:2] if stays else ()), *(word for airway, _, end, _ in stays for word in (airway, end)))
    )


def without_rows(found: Without, rounds: Sequence[RunRound]) -> Iterator[Row]:
    """A row for each thing that goes, in the columns of `WITHOUT_COLUMNS`."""
    nothing: tuple[None, ...] = (None,) * 7
    for one in rounds:
        run, way = one.run, one.way
        told = (
            distance(one.unguided_nm) if one.unguided_nm is not None else None,
            _way_text(one) or None,
            distance(way.distance_nm) if way is not None else None,
            distance(one.more_nm) if one.more_nm is not None else None,
            whole(way.altitude_ft) if way is not None else None,
            whole(one.more_ft) if one.more_ft is not None else None,
        )
        yield ("run", None, run.airway, run.start, run.end, distance(run.distance_nm), *told, None)
    for ident, region in found.fixes:
        yield ("fix", f"{ident} {region}".strip(), *(None,) * 4, *nothing)
    for cop in found.changeovers:
        yield ("changeover", None, cop.airway, cop.station, cop.ahead, distance(cop.distance_nm), *nothing)
    for pair in found.pairs:
        yield ("direct", None, None, pair.station, pair.other, distance(pair.distance_nm), *nothing)
    for airport in found.airports:
        heights = " ".join(whole(height_ft) for height_ft in airport.heights_ft)
        yield ("airport", airport.ident, *(None,) * 3, distance(airport.distance_nm), *nothing[1:], heights)


def without_json(found: Without, rounds: Sequence[RunRound] = (), rank: int | None = None) -> str:
    """One object a line: what goes, with the ways round where they are told, and the rank among all stations."""
    import json

    runs: list[dict[str, Any]] = [
        {
            "airway": run.airway,
            "from": run.start,
            "to": run.end,
            "distance_nm": number(run.distance_nm),
            "lowest_ft": number(run.asked_ft),
        }
        for run in found.runs
    ]
    for told, one in zip_longest(runs, rounds):
        told["unguided_nm"] = number(one.unguided_nm) if one is not None else None
        told["way_round"] = _way_object(one) if one is not None else None
    whole_object = {
        "schema": _SCHEMA,
        "ident": found.idents[0] if len(found.idents) == 1 else None,
        "idents": list(found.idents),
        "rank": rank,
        "runs_nm": number(found.runs_nm),
        "runs": runs,
        "fixes": [{"ident": ident, "region": region or None} for ident, region in found.fixes],
        "changeovers": [
            {"airway": cop.airway, "station": cop.station, "ahead": cop.ahead, "distance_nm": number(cop.distance_nm)}
            for cop in found.changeovers
        ],
        "direct_pairs": [
            {"from": pair.station, "to": pair.other, "distance_nm": number(pair.distance_nm)} for pair in found.pairs
        ],
        "airports": [
            {"ident": one.ident, "distance_nm": number(one.distance_nm), "heights_ft": list(one.heights_ft)}
            for one in found.airports
        ],
    }
    return json.dumps(whole_object, allow_nan=False, ensure_ascii=True)


def _way_object(one: RunRound) -> dict[str, Any] | None:
    if one.way is None:
        return None
    return {
        "hops": [
            {"airway": airway, "from": start, "to": end, "distance_nm": number(nm)}
            for airway, start, end, nm in one.way.hops
        ],
        "distance_nm": number(one.way.distance_nm),
        "more_nm": number(one.more_nm),
        "altitude_ft": number(one.way.altitude_ft),
        "more_ft": number(one.more_ft),
    }


def ranking_lines(asked: Hanging, ranked: Sequence[Without]) -> Iterator[str]:
    """The stations by what hangs on them, a line each under two lines of headings."""
    yield f"What hangs on each VOR, {asked.day.isoformat()}"
    yield from (f"  {source_text(one)}" for one in asked.sources)
    yield ""
    heads = (
        ("", "", "", "runs", "", "", "", "", "direct", *("airports" for _ in HEIGHTS_FT)),
        ("", "VOR", "", "NM", "runs", "airways", "fixes", "COPs", "legs", *(f"{one:.0f} ft" for one in HEIGHTS_FT)),
    )
    rows = [[str(cell) if cell is not None else "" for cell in row] for row in ranking_rows(ranked)]
    yield from columns([*heads, *rows], "rllrrrrrrrr", heads=len(heads), rule="-")


def ranking_rows(ranked: Iterable[Without]) -> Iterator[Row]:
    """A row a station, in the columns of `RANKING_COLUMNS`."""
    for rank, one in enumerate(ranked, 1):
        yield (
            rank,
            one.idents[0],
            one.names[0],
            whole(one.runs_nm),
            len(one.runs),
            len(one.airways),
            len(one.fixes),
            len(one.changeovers),
            len(one.pairs),
            *(one.airports_at(height_ft) for height_ft in HEIGHTS_FT),
        )
