"""The whole of FAA NASR effective 2026-05-14 through the log, where NAVLOG_SHARED_DATA names its folder.

What is published is read here from the CSV files by the standard library alone.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest
from bench.survey_airways import disagreements, fly, unbroken, victor_airways
from helpers.flown import Json
from helpers.nasr_excerpt import Row
from helpers.published_flights import Flown, changeover_nm

from navlog.catalogue.queries import Catalogue
from navlog.nav.chart import Airway, Service, StationKind
from navlog.nav.guidance import radial_toward
from navlog.nav.radio import channel_for

AUTHORITIES = Path(__file__).parent.parent / "authorities"
WHOLE_NM = 0.5
"""Changeover points are published in whole miles; one this near a fix is the fix."""

NOT_THE_PUBLISHED_CHANGEOVER = {
    "V309 ANN": "stands on the airway's last point",
    "V392 FMG": "stands on the airway's last point",
    "V445 BTT": "stands on the airway's last point",
    "V39 SOARS": "counts from a fix",
    "V393 OLS": "lies in Mexico, beyond the border point where the airway ends",
    "V487 BDR": "the station ahead is the station itself",
    "V514 GFS": "counts from a station off the airway, as its remark says",
}
"""The rows whose changeover point is not in the log, with the cause."""

BEACONS = {"V457 ILI", "V480 SPY", "V603 ELF"}
"""The rows of a beacon, which guides nothing: guidance begins at the changeover point."""

OFF = {"V124/C HOT-BEGAN", "V16/C SPARO-BUNNS", "V163/C SLENA-LILJO", "V583/C LOA-FZT", "V74/C OLLAS-MAUME"}
"""Published shorter than the positions are apart; all but V583's have a fix placed as of an earlier cycle."""


@pytest.fixture(scope="module")
def rows(full_folder: Path) -> list[Row]:
    with (full_folder / "AWY_SEG_ALT.csv").open(newline="", encoding="ascii") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def flown(full_file: Path) -> Flown:
    return Flown(full_file)


@dataclass(frozen=True, slots=True)
class ChangeoverRow:
    """A row with a changeover point: where it stands, toward whom, and how far."""

    airway: Airway
    index: int
    ahead: str
    distance_nm: float

    @property
    def name(self) -> str:
        return f"{self.airway.ident} {self.airway.points[self.index]}"

    def flight_ends(self) -> str:
        """The station ahead, else the next station or the end of the unbroken part on its side."""
        points, segments = self.airway.points, self.airway.segments
        if self.ahead in points and self.ahead != points[self.index]:
            return self.ahead
        step = -1 if self.ahead == "BRO" else 1
        index = self.index
        while 0 <= index + step < len(points):
            if segments[index if step > 0 else index - 1].service in (Service.DISCONTINUED, Service.BORDER):
                break
            index += step
            if len(points[index]) == 3:
                break
        return points[index]


def changeover_rows(full: Catalogue, rows: list[Row], day: date) -> Iterator[ChangeoverRow]:
    for row in rows:
        if row["AWY_ID"].startswith("V") and row["CHGOVR_PT_DIST"]:
            (airway,) = [one for one in full.airways(row["AWY_ID"], day) if one.location == row["AWY_LOCATION"]]
            index = airway.points.index(row["FROM_POINT"])
            yield ChangeoverRow(airway, index, row["CHGOVR_PT"], float(row["CHGOVR_PT_DIST"]))


def test_every_published_changeover_point_is_in_the_log(
    full: Catalogue, flown: Flown, rows: list[Row], day: date
) -> None:
    every = list(changeover_rows(full, rows, day))
    assert len(every) == 321
    missing = []
    looked_at = [one for one in every if one.name not in NOT_THE_PUBLISHED_CHANGEOVER and one.name not in BEACONS]
    ends = [(one.airway.points[one.index], one.airway.ident, one.flight_ends()) for one in looked_at]
    out = flown.many([f"{start} {airway} {end}" for start, airway, end in ends], altitude="17000")
    home = flown.many([f"{end} {airway} {start}" for start, airway, end in ends], altitude="17000")
    for one, there, back in zip(looked_at, out, home, strict=True):
        from_end_nm = back["totals"]["distance_nm"] - published_changeover_nm(back)
        if max(abs(published_changeover_nm(there) - one.distance_nm), abs(from_end_nm - one.distance_nm)) > WHOLE_NM:
            missing.append(one.name)
    assert missing == []


def published_changeover_nm(found: Json) -> float:
    """How far along the flight its published changeover point lies; far away where it has none."""
    kinds = [leg["changeover"]["kind"] for leg in found["legs"] if leg["changeover"] is not None]
    return changeover_nm(found) if kinds[:1] == ["published"] else 1e9


def test_beside_a_beacon_guidance_begins_at_the_changeover_point(
    full: Catalogue, flown: Flown, rows: list[Row], day: date
) -> None:
    found = [one for one in changeover_rows(full, rows, day) if one.name in BEACONS]
    assert len(found) == len(BEACONS)
    for one in found:
        start = one.airway.points[one.index]
        legs = flown(f"{start} {one.airway.ident} {one.ahead}", altitude="17000")["legs"]
        silent_nm = sum(leg["distance_nm"] for leg in legs if leg["guidance"] is None)
        assert silent_nm == pytest.approx(one.distance_nm, abs=WHOLE_NM)
        assert {leg["guidance"]["ident"] for leg in legs if leg["guidance"]} == {one.ahead}


def published(name: str) -> list[Row]:
    with (AUTHORITIES / name).open(encoding="utf-8") as opened:
        return list(csv.DictReader(line for line in opened if not line.startswith("#")))


DOGLEGS = (
    ("V1", "CRG", "CHS", 171.70, 96),
    ("V148", "TXC", "HCT", 114.88, 65),
    ("V210", "POM", "HEC", 81.22, 16),
    ("V220", "JNC", "RIL", 70.72, 56),
)
"""Rows with bends on the way: airway, stations, length of the path, changeover from the first (NASR 2026-05-14)."""


LEFT_OUT = ("V8", "V21")
"""Airways of the contiguous states that the folder leaves out on purpose (its README)."""


def test_the_tabulated_changeover_points_are_in_the_log(flown: Flown) -> None:
    table = [
        (row["airway"], row["from"], row["to"], float(row["distance_nm"]), float(row["changeover_nm"]))
        for row in published("nasr_changeovers.csv")
    ]
    assert len(table) + len(DOGLEGS) == 41
    kept = [row for row in (*table, *DOGLEGS) if row[0] not in LEFT_OUT]
    every = flown.many([f"{start} {airway} {end}" for airway, start, end, *_ in kept], altitude="17000")
    for (airway, _, _, length_nm, at_nm), found in zip(kept, every, strict=True):
        assert found["totals"]["distance_nm"] == pytest.approx(length_nm, abs=0.05), airway
        assert published_changeover_nm(found) == pytest.approx(at_nm, abs=WHOLE_NM), airway


def test_every_victor_airway_is_flown_both_ways(full: Catalogue, day: date) -> None:
    flights = segments = 0
    off = set()
    for airway in victor_airways(full, day):
        for first, last in unbroken(airway):
            for start, end in ((first, last), (last, first)):
                published_segments, flown_segments = fly(full, day, airway, start, end)
                flights += 1
                segments += len(published_segments)
                for message in disagreements(published_segments, flown_segments):
                    name = message.split()[0]
                    turned = "-".join(reversed(name.split("-")))
                    own = {f"{airway.ident}/{airway.location} {one}" for one in (name, turned)}
                    off |= own & OFF or own
    assert (flights, segments) == (1296, 16102)
    assert off == OFF


def test_make_ups_of_fixes_agree_with_positions(full: Catalogue, day: date) -> None:
    """The data's own note expects 97 % within 0.05 degrees; positions here are in part of an earlier cycle."""
    close = counted = 0
    for row in full.query(
        "SELECT DISTINCT m.radial, m.fix, m.region, m.station FROM makeup m JOIN fix f ON f.ident = m.fix "
        "AND f.region = m.region WHERE m.type IN ('VOR', 'VOR/DME', 'VORTAC') AND m.radial <> ''"
    ):
        stations = [one for one in full.stations(row["station"], day) if one.kind is StationKind.VOR]
        (fix,) = [one for one in full.fixes(row["fix"], day) if one.region == row["region"]]
        radial = radial_toward(stations[0], fix.position) if len(stations) == 1 else None
        if radial is not None:
            counted += 1
            close += abs((radial - row["radial"] + 180.0) % 360.0 - 180.0) <= 0.05
    assert counted > 15_000
    assert close / counted > 0.95, f"{close} of {counted}"


def test_every_channel_is_that_of_its_frequency(full: Catalogue) -> None:
    rows = full.query("SELECT type, frequency, channel FROM station WHERE channel <> '' AND frequency <> ''")
    pairs = [row for row in rows if not row["type"].startswith("NDB")]
    assert len(pairs) > 900
    assert [tuple(row) for row in pairs if channel_for(row["frequency"]) != row["channel"]] == []
