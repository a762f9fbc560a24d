"""What the FAA's airspace dockets cut when a VOR went, beside what hangs on it by FAA NASR effective 2026-05-14.

`tests/authorities/vor_dockets.csv` has the dockets with their citations. Two are reproduced:

- FQM, SFK, DAN, HNK, DNY (89 FR 31666, withdrawn, so that all but DAN are still on the air): the three airways that
  were to be revoked hang on these stations over their whole length.
- THS on V469 (88 FR 65315): with THS put back, by its own position, between the two points of the gap that is published
  since, what hangs on it is just that gap.

Not reproduced: V156 and V285 (AZO), V9, V78, V341 and V430 (IMT), V501 and V474 (THS), V55, V100 and V277 (ELX), and
how V469 was to be amended for DAN, which is not in the data. They need a cycle from before the docket, and none is at
hand; of these the outcome alone is held here: the station guides no more, and no airway passes it.
"""

from __future__ import annotations

import csv
import shutil
from datetime import date
from pathlib import Path

import pytest

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.nav.problems import NavlogError
from navlog.studies.without import Hanging, hanging, known_vors

DAY = date(2026, 5, 20)
TABLE = Path(__file__).parents[1] / "authorities" / "vor_dockets.csv"


def dockets() -> list[dict[str, str]]:
    with TABLE.open(newline="", encoding="ascii") as opened:
        return list(csv.DictReader(line for line in opened if not line.startswith("#")))


CARRIED_OUT = [row for row in dockets() if row["outcome"] == "final rule"]


@pytest.fixture(scope="module")
def hung(full: Catalogue) -> Hanging:
    return hanging(full, DAY)


@pytest.mark.parametrize("row", CARRIED_OUT, ids=[row["stations"] for row in CARRIED_OUT])
def test_after_a_docket_the_station_guides_no_airway(hung: Hanging, row: dict[str, str]) -> None:
    with pytest.raises(NavlogError, match="is no VOR in service"):
        known_vors(hung, [row["stations"]])
    for ident in (*row["amended"].split(), *row["revoked"].split()):
        for airway in hung.catalogue.airways(ident, DAY):
            assert row["stations"] not in airway.points
            assert ident not in row["revoked"].split()


def test_airways_to_be_revoked_hang_wholly_on_the_stations_that_were_to_go(hung: Hanging) -> None:
    (row,) = [row for row in dockets() if row["outcome"] == "withdrawn"]
    on_the_air = [ident for ident in row["stations"].split() if ident in hung.stations]
    assert on_the_air == ["FQM", "SFK", "HNK", "DNY"]
    runs = hung.without(on_the_air).runs
    for ident in row["revoked"].split():
        (airway,) = hung.catalogue.airways(ident, DAY)
        lost = {(one.start, one.end) for one in runs if one.airway == ident}
        assert lost == {(airway.points[0], airway.points[-1])}


def test_what_hung_on_a_station_is_the_gap_that_its_docket_left(full_folder: Path, tmp_path: Path) -> None:
    """AWY_SEG_ALT has V469 with a gap from JST to HAR; NAV_BASE has THS, now a TACAN, where the VORTAC stood.

    Its frequency and the lengths and MEA of its two pieces are invented; which run hangs on it does not go by them.
    """
    folder = tmp_path / "before"
    folder.mkdir()
    for name in ("NAV_BASE.csv", "AWY_BASE.csv", "AWY_SEG_ALT.csv", "FIX_BASE.csv", "FIX_NAV.csv"):
        shutil.copy(full_folder / name, folder / name)
    _edit(folder / "NAV_BASE.csv", {"NAV_ID": "THS"}, NAV_TYPE="VORTAC", ALT_CODE="VL", FREQ="115.0")
    gap = {"AWY_ID": "V469", "FROM_POINT": "JST"}
    back = {"MIN_ENROUTE_ALT": "5000", "AWY_SEG_GAP_FLAG": "N", "MEA_GAP": ""}
    rows = _edit(folder / "AWY_SEG_ALT.csv", gap, TO_POINT="THS", MAG_COURSE_DIST="60.0", **back)
    (row,) = [one for one in rows if one["AWY_ID"] == "V469" and one["FROM_POINT"] == "JST"]
    there = row | {"FROM_POINT": "THS", "TO_POINT": "HAR", "FROM_PT_TYPE": "VORTAC", "POINT_SEQ": "175"}
    there |= {"NAV_NAME": "ST THOMAS", "NAV_CITY": "ST THOMAS", "MAG_COURSE_DIST": "50.0"}
    place = rows.index(row)
    _write(folder / "AWY_SEG_ALT.csv", [*rows[: place + 1], there, *rows[place + 1 :]])
    import_data(folder, tmp_path / "before.sqlite")
    with open_catalogue(tmp_path / "before.sqlite") as before:
        runs = [run for run in hanging(before, DAY).without(["THS"]).runs if run.airway == "V469"]
    assert [(run.start, run.end) for run in runs] == [("JST", "HAR")]


def _edit(path: Path, where: dict[str, str], **values: str) -> list[dict[str, str]]:
    """The rows of a file, those that have the values of `where` changed, in the file too."""
    with path.open(newline="", encoding="latin-1") as opened:
        rows = list(csv.DictReader(opened))
    hit = [row for row in rows if all(row[column] == value for column, value in where.items())]
    assert hit
    for row in hit:
        row.update(values)
    _write(path, rows)
    return rows


def _write(path: Path, rows: list[dict[str, str]]) -> None:
    with path.open("w", newline="", encoding="latin-1") as opened:
        writer = csv.DictWriter(opened, list(rows[0]), lineterminator="\r\n")
        writer.writeheader()
        writer.writerows(rows)
