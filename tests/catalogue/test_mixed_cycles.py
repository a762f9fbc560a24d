"""Files of two AIRAC cycles imported together: what is printed of such data says so, until they are replaced.

2604 begins on 2026-04-16 and 2605 on 2026-05-14 (effective dates of FAA NASR); the rows are invented.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from helpers.nasr_excerpt import QHB

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.text import import_lines
from navlog.cli import run
from navlog.nav.airac import of_earlier_cycle

MIXED = "mixed cycles, oldest 2026-04-16"
ROUTE = """\
airport XAA N46 00.00 W039 30.00 elev 20ft
airport XBB N46 24.00 W039 12.00 elev 30ft
date 2026-05-20
altitude 3500
tas 110kt
route XAA QHB XBB
"""


@pytest.fixture
def mixed(tmp_path: Path, nasr_like: Callable[..., Path]) -> Path:
    """A catalogue of airways of 2605 and of stations of 2604, from one folder."""
    path = tmp_path / "c.sqlite"
    nasr_like("AWY_BASE.csv", {"AWY_ID": "V801", "AWY_LOCATION": "C"})
    import_data(nasr_like("NAV_BASE.csv", QHB, effective="2026/04/16"), path)
    return path


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert run([*arguments]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_info_station_and_log_tell_of_mixed_cycles(
    tmp_path: Path, mixed: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    flight = tmp_path / "flight.route"
    flight.write_text(ROUTE, encoding="utf-8")
    own = ("--catalogue", str(mixed))
    days = "2026-05-14 to 2026-06-10"
    assert f"FAA NASR, cycle 2605, {days}, {MIXED}, used for" in told(
        capsys, "catalogue", "info", "--date", "2026-05-20", *own
    )
    assert f"cycle 2605, {days}, {MIXED}" in told(capsys, "catalogue", "station", "QHB", "--date", "2026-05-20", *own)
    assert f"NASR cycle 2605, 2026-05-14, expires 2026-06-11, {MIXED}" in told(capsys, "log", str(flight), *own)


def test_an_import_beside_which_the_older_file_stays_tells_of_it(mixed: Path, nasr_like: Callable[..., Path]) -> None:
    airways = nasr_like("AWY_BASE.csv", {"AWY_ID": "V801", "AWY_LOCATION": "C"}, folder="again")
    told = list(import_lines(import_data(airways, mixed)))
    assert "NAV_BASE.csv of 2026-04-16, which stays beside it, is of an earlier cycle" in told
    # What the import itself brings is of one cycle.
    assert "AWY_BASE.csv: 1 airways (FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10)" in told


def test_the_mark_goes_with_the_older_file(
    mixed: Path, nasr_like: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    import_data(nasr_like("NAV_BASE.csv", QHB, folder="later"), mixed)
    assert "mixed" not in told(capsys, "catalogue", "info", "--date", "2026-05-20", "--catalogue", str(mixed))
    with open_catalogue(mixed) as catalogue:
        assert [one.provenance.oldest for one in catalogue.editions] == [None]


def test_the_oldest_file_that_the_flight_uses_decides_whether_its_data_is_out_of_date(
    tmp_path: Path, mixed: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    flight = tmp_path / "flight.route"
    flight.write_text(ROUTE, encoding="utf-8")
    own = ("--catalogue", str(mixed))
    # Cycle 2604 of the stations ended as 2605 began, on 2026-05-14.
    assert told(capsys, "check", str(flight), *own, "--select", "data-out-of-date").splitlines() == [
        f"{flight}:1: warning: flight: of NASR 2605 a file in use is of 2026-04-16: cycle 2604 held until 2026-05-14,"
        " and the flight is on 2026-05-20 [data-out-of-date]"
    ]
    # Out of date altogether it is told as that, and once.
    flight.write_text(ROUTE.replace("05-20", "06-11"), encoding="utf-8")
    assert "NASR 2605 holds from 2026-05-14 until 2026-06-11" in told(capsys, "check", str(flight), *own)
    # No file of its own cycle tells any more of it.
    flight.write_text(ROUTE.replace("QHB XBB", "XBB"), encoding="utf-8")
    assert "data-out-of-date" not in told(capsys, "check", str(flight), *own)
    assert "Data: the route file only" in told(capsys, "log", str(flight), *own)


def test_what_another_kind_of_file_tells_is_not_older_by_it(
    tmp_path: Path, mixed: Path, nasr_like: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    fixes = nasr_like("FIX_BASE.csv", {"FIX_ID": "MARSH", "LAT_DECIMAL": "46.2", "LONG_DECIMAL": "-39.3"})
    import_data(fixes, mixed)
    flight = tmp_path / "flight.route"
    flight.write_text(ROUTE.replace("QHB", "MARSH"), encoding="utf-8")
    own = ("--catalogue", str(mixed))
    assert "Data: NASR cycle 2605, 2026-05-14, expires 2026-06-11 VOR" in told(capsys, "log", str(flight), *own)
    assert "data-out-of-date" not in told(capsys, "check", str(flight), *own)


def test_each_file_is_listed_with_its_own_date(
    tmp_path: Path, nasr_like: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "c.sqlite"
    nasr_like("AWY_BASE.csv", {"AWY_ID": "V801", "AWY_LOCATION": "C"})
    folder = nasr_like("NAV_BASE.csv", QHB, effective="2026/04/16")
    listed = told(capsys, "catalogue", "import", str(folder), "--catalogue", str(path))
    assert "NAV_BASE.csv: 1 stations (FAA NASR, cycle 2604, 2026-04-16 to 2026-05-13)" in listed
    assert "AWY_BASE.csv: 1 airways (FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10)" in listed
    held = told(capsys, "catalogue", "info", "--date", "2026-05-20", "--catalogue", str(path))
    assert "stations 1 NAV_BASE.csv, of 2026-04-16 " in held
    assert "airways 1 AWY_BASE.csv nothing is known of" in held
    told_json = told(capsys, "catalogue", "info", "--format", "json", "--catalogue", str(path))
    assert '"file": "NAV_BASE.csv", "rows": 1, "rejected": 0, "effective": "2026-04-16"' in told_json


@pytest.mark.parametrize(
    ("oldest", "newest", "earlier"),
    [("2026-05-13", "2026-05-14", True), ("2026-05-14", "2026-06-10", False), ("2026-05-14", "2026-05-14", False)],
)
def test_two_days_of_one_cycle_are_not_mixed(oldest: str, newest: str, earlier: bool) -> None:
    day = date.fromisoformat(oldest)
    assert of_earlier_cycle(day, date.fromisoformat(newest)) == (day if earlier else None)
