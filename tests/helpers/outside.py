"""What tells a point, held against the published files: nothing of navlog is used, only its JSON is read.

Stations and fixes are read from the FAA's CSV files by the standard library, geodesics are geographiclib's. Every
identification in the JSON must be of a VOR of that identifier, on the radial and at the slant distance that the
geodesic makes, and must cut the leg as `cut_deg` says; nothing that runs along the leg may be told as crossing it.
"""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import hypot
from pathlib import Path
from typing import Any

from geographiclib.geodesic import Geodesic

Json = dict[str, Any]

M_PER_NM = 1852.0
FT_PER_NM = 1852.0 / 0.3048
VORS = ("VOR", "VOR/DME", "VORTAC")
WITH_DME = ("VOR/DME", "VORTAC")

RADIAL_OFF_DEG = 0.02
"""Two geodesics and a declination; the position in JSON has nine decimals."""

DME_OFF_NM = 0.06
"""A published distance has two decimals and is kept where it prints as the geodesic's tenth."""

CUT_OFF_DEG = 0.02
ALONG_DEG = 15.0
PUBLISHED_APART_DEG = 1.0


@dataclass(frozen=True, slots=True)
class Vor:
    """A published VOR."""

    kind: str
    at: tuple[float, float]
    declination_deg: float | None
    elevation_ft: float | None


@dataclass(frozen=True, slots=True)
class Made:
    """One row of a fix's make-up."""

    station: str
    kind: str
    radial_deg: float | None
    distance_nm: float | None


@dataclass(slots=True)
class Published:
    """The published files of a folder: VORs by identifier, make-ups by fix and region, regions by fix."""

    vors: dict[str, list[Vor]] = field(default_factory=dict)
    makeups: dict[tuple[str, str], list[Made]] = field(default_factory=dict)
    fixes: dict[str, list[tuple[str, tuple[float, float]]]] = field(default_factory=dict)


@dataclass(slots=True)
class Tally:
    """What was counted, and every disagreement in words."""

    kinds: Counter[str] = field(default_factory=Counter)
    cuts: Counter[str] = field(default_factory=Counter)
    off: Counter[str] = field(default_factory=Counter)
    told: list[str] = field(default_factory=list)

    def disagrees(self, kind: str, message: str) -> None:
        """Count a disagreement and keep its words."""
        self.off[kind] += 1
        self.told.append(f"{kind}: {message}")


def rows(path: Path) -> Iterator[dict[str, str]]:
    """The rows of a published file."""
    with path.open(newline="", encoding="latin-1") as file:
        yield from csv.DictReader(file)


def number(text: str) -> float | None:
    """A figure of a file; None where it is blank."""
    return float(text) if text.strip() else None


def read(folder: Path) -> Published:
    """The published files of a folder."""
    found = Published()
    for row in rows(folder / "NAV_BASE.csv"):
        if row["NAV_TYPE"] in VORS and row["LAT_DECIMAL"]:
            turned = number(row["MAG_VARN"])
            west = row["MAG_VARN_HEMIS"] == "W"
            at = (float(row["LAT_DECIMAL"]), float(row["LONG_DECIMAL"]))
            declination_deg = None if turned is None else -turned if west else turned
            vor = Vor(row["NAV_TYPE"], at, declination_deg, number(row["ELEV"]))
            found.vors.setdefault(row["NAV_ID"], []).append(vor)
    for row in rows(folder / "FIX_NAV.csv"):
        made = Made(row["NAV_ID"], row["NAV_TYPE"], number(row["BEARING"]), number(row["DISTANCE"]))
        found.makeups.setdefault((row["FIX_ID"], row["ICAO_REGION_CODE"]), []).append(made)
    for row in rows(folder / "FIX_BASE.csv"):
        if row["LAT_DECIMAL"]:
            at = (float(row["LAT_DECIMAL"]), float(row["LONG_DECIMAL"]))
            found.fixes.setdefault(row["FIX_ID"], []).append((row["ICAO_REGION_CODE"], at))
    return found


def apart(one: float, other: float) -> float:
    """How far two directions are apart, 0 to 180 degrees."""
    return abs((one - other + 180.0) % 360.0 - 180.0)


def geodesic(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float, float]:
    """NM, direction at the start and direction at the end."""
    line = Geodesic.WGS84.Inverse(*start, *end)
    return line["s12"] / M_PER_NM, line["azi1"], line["azi2"]


def check(flight: Json, published: Published, tally: Tally) -> None:
    """Count and judge every identification of one flight."""
    for leg in flight["legs"]:
        end = leg["to"]
        if end["kind"] != "fix" or end["ident"] is None or leg["phase"] == "hold":
            continue
        best = leg["identified_by"]
        # Logs of before the list know the best one alone.
        marks = leg.get("marks", [] if best is None else [best])
        where = f"{leg['from']['ident']} {leg['via']} {end['ident']}"
        tally.kinds["none" if best is None else "dme" if best["dme_nm"] is not None else "radial"] += 1
        if (best is None) != (not marks):
            tally.disagrees("best", f"{where}: {best} beside {marks}")
        if marks and any(best[key] != marks[0][key] for key in best):
            tally.disagrees("best", f"{where}: {best} is not {marks[0]}")
        for index, mark in enumerate(marks):
            check_mark(leg, mark, published, tally, where, best=index == 0)


def check_mark(leg: Json, mark: Json, published: Published, tally: Tally, where: str, *, best: bool) -> None:
    """Judge one identification."""
    at = (leg["to"]["latitude_deg"], leg["to"]["longitude_deg"])
    where = f"{where} by {mark['ident']}"
    vors = published.vors.get(mark["ident"], [])
    if not vors:
        tally.disagrees("no such VOR", where)
        return
    vor = min(vors, key=lambda one: geodesic(one.at, at)[0])
    away_nm, from_deg, passing_deg = geodesic(vor.at, at)
    cut_deg = apart(passing_deg, leg["true_course_deg"])
    cut_deg = min(cut_deg, 180.0 - cut_deg)
    if mark.get("cut_deg") is not None and abs(mark["cut_deg"] - cut_deg) > CUT_OFF_DEG:
        tally.disagrees("cut", f"{where}: {mark['cut_deg']:.2f} is {cut_deg:.2f}")
    by_radial = mark["radial_deg"] is not None
    if best:
        low = int(min(cut_deg, 89.999) // 15) * 15
        tally.cuts[f"{'radial' if by_radial else 'dme'} {low:02d}-{low + 15}"] += 1
    if by_radial:
        if cut_deg < ALONG_DEG:
            tally.disagrees("radial along the leg", f"{where}: R-{mark['radial_deg']:.1f} cuts at {cut_deg:.1f}")
        if vor.declination_deg is not None:
            off_deg = apart(mark["radial_deg"], from_deg - vor.declination_deg)
            if off_deg > RADIAL_OFF_DEG:
                kind = "radial" if off_deg > PUBLISHED_APART_DEG else "radial, within 1 degree"
                tally.disagrees(kind, f"{where}: R-{mark['radial_deg']:.2f} is {off_deg:.2f} degrees off")
    else:
        check_reading(leg, mark, vor, away_nm, tally, where)
        if cut_deg > 90.0 - ALONG_DEG:
            tally.disagrees("DME abeam", f"{where}: its circle runs along the leg, cut {cut_deg:.1f}")
    if mark.get("published_radial_deg") is not None:
        check_published(leg, mark, published, tally, where)


def check_reading(leg: Json, mark: Json, vor: Vor, away_nm: float, tally: Tally, where: str) -> None:
    """Judge a DME's reading: the hypotenuse of the distance over the ground and the height above the station."""
    if vor.kind not in WITH_DME:
        tally.disagrees("no DME", where)
    if vor.elevation_ft is not None and mark["dme_nm"] is not None:
        reads_nm = hypot(away_nm, (leg["end_altitude_ft"] - vor.elevation_ft) / FT_PER_NM)
        if abs(mark["dme_nm"] - reads_nm) > DME_OFF_NM:
            tally.disagrees("DME", f"{where}: {mark['dme_nm']:.2f} is {reads_nm:.2f}")


def check_published(leg: Json, mark: Json, published: Published, tally: Tally, where: str) -> None:
    """Whether the fix's make-up really has that radial of a VOR, and a finding tells one that is another."""
    ident, at = leg["to"]["ident"], (leg["to"]["latitude_deg"], leg["to"]["longitude_deg"])
    regions = [region for region, place in published.fixes.get(ident, []) if geodesic(place, at)[0] < 0.1]
    # A fix without a published position stands where its make-up puts it: any of its name may be meant.
    regions = regions or [region for name, region in published.makeups if name == ident]
    figures = [
        made.radial_deg
        for region in regions
        for made in published.makeups.get((ident, region), [])
        if made.station == mark["ident"] and made.kind in VORS
    ]
    if mark["published_radial_deg"] not in figures:
        tally.disagrees("not published", f"{where}: R-{mark['published_radial_deg']}")


def untold(flight: Json) -> list[str]:
    """Marks whose published radial is another by more than 1 degree, with no finding on their leg."""
    told = {one["leg"] for one in flight["findings"] if one["rule"] == "makeup-differs"}
    return [
        f"leg {leg['number']}: {mark['ident']}"
        for leg in flight["legs"]
        for mark in leg["marks"]
        if mark["published_radial_deg"] is not None
        and apart(mark["published_radial_deg"], mark["radial_deg"]) > PUBLISHED_APART_DEG
        and leg["number"] not in told
    ]


def unbroken(folder: Path) -> Iterator[str]:
    """Every unbroken part of every Victor airway as a route line, both ways; a discontinued row breaks it."""
    parts: list[tuple[str, list[str]]] = []
    before: tuple[str, str, str] | None = None
    for row in rows(folder / "AWY_SEG_ALT.csv"):
        name, start, end = row["AWY_ID"], row["FROM_POINT"].strip(), row["TO_POINT"].strip()
        if not (name.startswith("V") and name[1:].isdigit()):
            continue
        if not end or row["AWY_SEG_GAP_FLAG"] == "Y" or "BORDER" in start + end:
            before = None
            continue
        if before != (row["AWY_LOCATION"], name, start):
            parts.append((name, [start]))
        parts[-1][1].append(end)
        before = (row["AWY_LOCATION"], name, end)
    for name, points in parts:
        yield f"{points[0]} {name} {points[-1]}"
        yield f"{points[-1]} {name} {points[0]}"
