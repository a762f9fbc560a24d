"""In flight there is an answer where the aircraft's cruise table ends, worked by hand.

Invented: the way leads along the meridian of W039 in no wind; a minute of latitude at N46 is 1.0003 NM (WGS84). The
climb is 500 ft/min at 90 kt and 12 gal/h, so QBB, 3.0 NM out, is passed after 2.0 min at 1,100 ft with 0.4 gal used.
Cruise is 120 kt and 8 gal/h, descent 500 ft/min at 120 kt and 6 gal/h.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.flown import navlog

CHART = (
    "airport XAA N46 00.00 W039 00.00 elev 100ft\nstation QBB 114.00 N46 03.00 W039 00.00 decl 0E class L\n"
    "fix QMM N46 20.00 W039 00.00\nfix QCC N46 35.00 W039 00.00\nairport XCC N46 40.00 W039 00.00 elev 100ft\n"
    "date 2026-07-18\noff 15:00Z\naltitude 3500\naircraft made.toml\nfuel 20gal\nvariation 0E\nrules vfr day\n"
)
ROUTE = "wind calm\nroute XAA QBB QMM QCC XCC\n"
CLIMB = "[climb]\ntas_kt = 90\nrate_ft_per_min = 500\nburn_gal_per_h = 12\n"
DESCENT = "[descent]\ntas_kt = 120\nrate_ft_per_min = 500\nburn_gal_per_h = 6\n"


def made(folder: Path, lowest_ft: int, more: str = "", chart: str = CHART + ROUTE) -> str:
    """The flight's file, with an aeroplane whose cruise table begins so high."""
    row = "{{ pressure_altitude_ft = {}, tas_kt = 120, burn_gal_per_h = 8 }}"
    rows = f"rows = [{row.format(lowest_ft)}, {row.format(9000)}]\n"
    (folder / "made.toml").write_text(f'name = "Made"\n{CLIMB}[cruise]\n{rows}{more}', "utf-8")
    path = folder / "made.route"
    path.write_text(chart, "utf-8")
    return str(path)


def revised_file(path: str, *arguments: str) -> tuple[int, str, str]:
    found = navlog("revise", path, *arguments)
    return found.status, found.out, found.err


def test_a_field_is_told_by_the_nearest_row_of_a_table_that_ends_a_little_above(tmp_path: Path) -> None:
    # 10.5 gal read at QBB: 9.5 used where 0.4 are planned, 23.75 times as much, and 190 gal/h in cruise. XAA lies
    # 3.0 NM back: at 120 kt 1.5 min and 4.75 gal. The reserve would be 95 gal.
    path = made(tmp_path, 2000)
    status, found, error = revised_file(path, "--at", "QBB", "15:02", "--fuel", "10.5gal")
    assert (status, error) == (1, "")
    start = found.splitlines().index("FIELDS WITHIN REACH, direct, in that wind and at the measured burn")
    told = [" ".join(one.split()) for one in found.splitlines()[start + 1 : start + 4]]
    assert told[0] == "the cruise table ends before 1,100 ft: its nearest row is counted"
    assert told[1].startswith("XAA: heading 180, 3.0 NM, 0:02, 15:04Z, 5.7 gal left, NO RESERVE; QBB 114.00")


def test_far_beyond_the_table_the_row_of_a_field_says_why_nothing_is_known(tmp_path: Path) -> None:
    path = made(tmp_path, 3400)
    status, out, error = revised_file(path, "--at", "QBB", "15:02", "--fuel", "10gal", "--format", "json")
    assert (status, error) == (1, "")
    fields = json.loads(out)["fields"]
    # Both are told, the nearer first: XCC is 37 NM off.
    assert [one["ident"] for one in fields] == ["XAA", "XCC"]
    for one in fields:
        assert one["reason"] == "the cruise table ends before 1,100 ft"
        assert [one[key] for key in ("time_min", "fuel_left", "reserve_kept", "groundspeed_kt")] == [None] * 4
    assert fields[0]["distance_nm"] == pytest.approx(3.0, abs=0.01)
    assert fields[0]["true_course_deg"] == pytest.approx(180.0, abs=0.01)
    text = " ".join(revised_file(path, "--at", "QBB", "15:02", "--fuel", "10gal")[1].split())
    assert "XAA: magnetic course 180, 3.0 NM; whether the fuel reaches it is not known: the cruise table ends" in text


def test_in_the_last_descent_the_reserve_is_that_of_the_cruise_before_it(tmp_path: Path) -> None:
    # From 3,500 ft to the pattern, 1,100 ft, in 4.8 min and 9.6 NM: QCC, 5.0 NM out, is passed in it. The climb takes
    # 6.8 min and 1.36 gal over 10.2 NM, cruise 20.2 NM, 10.1 min, 1.35 gal, the descent 0.48. By day 30 min are kept.
    path = made(tmp_path, 2000, DESCENT)
    status, out, error = revised_file(path, "--at", "QCC", "15:19", "--format", "json")
    assert (status, error) == (0, "")
    found = json.loads(out)
    assert found["reserve"] == pytest.approx(4.0)
    assert found["remaining"] == pytest.approx(20.0 - 1.36 - 1.35 - 0.48, abs=0.02)


def test_an_alternate_that_is_reached_in_a_descent_keeps_the_flights_reserve(tmp_path: Path) -> None:
    # XDD lies 4 NM, 2 min, beyond QMM: all of the way is descent, at its end 2,500 ft up, and then lost over the field.
    chart = CHART + "airport XDD N46 24.00 W039 00.00 elev 100ft\n" + ROUTE + "alternate XDD from QMM\n"
    path = made(tmp_path, 3000, DESCENT, chart)
    found = navlog("log", path, "--format", "json")
    assert (found.status, found.err) == (0, "")
    (way,) = json.loads(found.out)["alternates"]
    assert way["fuel"]["reserve_gal"] == pytest.approx(4.0)


def test_a_hold_that_the_wind_found_puts_below_the_table_is_flown_by_its_nearest_row(tmp_path: Path) -> None:
    # Held at QBB, 1,100 ft up, for 5 min. Then 17.0 NM to QMM: 4.8 min of climb over 7.2 NM and 9.8 NM in 4.9 min,
    # 9.7 min in all, flown in 8. With the wind found from behind QBB is reached in less than 2 min, below 1,050 ft.
    chart = CHART + ROUTE + "hold QBB 5min\n"
    path = made(tmp_path, 1050, "", chart)
    assert navlog("log", path).status == 0
    at = ("--at", "QBB", "15:02", "--at", "QBB", "15:07", "--at", "QMM", "15:15")
    status, found, error = revised_file(path, *at)
    assert (status, error) == (0, "")
    told = " ".join(found.split())
    assert "WARNING: the cruise table ends before" in told
    assert "where the wind found takes the way ahead: its nearest row is counted there" in told
    assert "the reserve of 4.0 gal (30 min, 14 CFR 91.151, day as stated by `rules vfr day`) holds" in told
