"""How many pages the six trips take that were planned by hand over the published data of a whole cycle."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from helpers.flown import navlog

SHARED = Path(os.environ.get("NAVLOG_SHARED_DATA", "no-such-folder"))
TRIPS = SHARED / "trips"


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("whole") / "whole.sqlite"
    done = navlog("catalogue", "import", "--catalogue", str(path), str(SHARED / "nasr-2026-05-14"))
    assert done.status == 0, done.err
    return path


# One front and one back a flight; the two flights of t1 have two each, and the three landings of t4 take two fronts.
@pytest.mark.skipif(not TRIPS.exists(), reason="NAVLOG_SHARED_DATA names no folder with the trips")
@pytest.mark.parametrize(("trip", "sides"), [("t1", 4), ("t2", 2), ("t3", 2), ("t4", 4), ("t5", 2), ("t6", 2)])
@pytest.mark.parametrize(("page", "on_one"), [("half-letter", 1), ("a5", 1), ("letter", 2), ("a4", 2)])
def test_a_trip_is_on_as_many_pages(
    trip: str, sides: int, page: str, on_one: int, catalogue: Path, tmp_path: Path
) -> None:
    pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")
    written = tmp_path / "trip.pdf"
    asked = ("log", str(TRIPS / f"{trip}.route"), "--catalogue", str(catalogue), "--page", page, "-o", str(written))
    assert navlog(*asked).status in (0, 1)
    assert len(re.findall(rb"/MediaBox", written.read_bytes())) == sides // on_one
