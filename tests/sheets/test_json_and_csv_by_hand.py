"""Whole objects and cells for programs: a finding, oxygen that is not known, ground put there by hand."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from helpers.drawn import report, reports
from helpers.flown import changed, flights

from navlog.nav.chart import Position
from navlog.nav.clearance import Below
from navlog.nav.record import changed as replace
from navlog.nav.terrain import Spot, Terrain
from navlog.resolve.ground import Ground
from navlog.sheets.csv_rows import document
from navlog.sheets.extras import extras
from navlog.sheets.json_legs import leg_object
from navlog.sheets.pages import PAGES

FIELD = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndirect QAA 090 - 270 QBB 30nm\ndate 2026-07-18\n"
    "variation 0E\nwind calm\ntas 120kt\naltitude 4500\nroute QAA QBB\n"
)


def test_a_finding_tells_rule_words_leg_and_line() -> None:
    # The altitude is flown on the route, the seventeenth line; leg 1 has a stated minimum of 2500.
    (found,) = flights(changed("altitude 2000"))
    (one,) = [one for one in found["findings"] if one["rule"] == "under-minimum" and one["leg"] == 1]
    assert one == {
        "rule": "under-minimum",
        "severity": "warning",
        "message": "2000 ft is below the stated minimum of 2500 ft",
        "leg": 1,
        "also_legs": [],
        "alternate": None,
        "file": "-",
        "line": 17,
        "source": "the minimum that the route file states",
        "accepted": None,
    }


def test_minutes_at_height_are_null_with_a_reason_where_a_leg_so_high_has_no_time() -> None:
    """14 CFR 91.211(a): 12,500, 14,000 and 15,000 ft; without a wind no leg has a time."""
    (found,) = flights(changed("altitude 14500", without=("wind",)))
    why = "the time of a leg so high is not known"
    assert found["oxygen"] == {
        "above_12500_min": None,
        "above_14000_min": None,
        "above_15000_min": 0.0,
        "unknown": [{"key": "above_12500_min", "reason": why}, {"key": "above_14000_min", "reason": why}],
    }


def spot(along_nm: float, height_ft: float, source: str) -> tuple[Spot, dict[str, Any]]:
    """A place right of the course, and its object."""
    found = Spot(Position(46.0, -39.0), height_ft, 30.0, along_nm, 1.5, 1.5, source)
    return found, {
        "height_ft": height_ft,
        "tolerance_ft": 30.0,
        "latitude_deg": 46.0,
        "longitude_deg": -39.0,
        "along_nm": along_nm,
        "aside_nm": 1.5,
        "source": source,
    }


@pytest.mark.parametrize("known", [True, False])
def test_ground_of_the_stretch_and_below_the_leg(known: bool) -> None:
    """The way of 30 NM changes stations at 15; the first leg has a hill and a mast, the whole way higher ones."""
    (whole,) = reports(FIELD)
    (hill, hill_object), (mast, mast_object) = spot(9.0, 1220.0, "N46W039.hgt"), spot(4.0, 1300.0, "tower 1")
    (top, top_object), (crane, crane_object) = spot(20.0, 1500.0, "N46W039.hgt"), spot(22.0, 1400.0, "crane 2")
    below = Below(hill, mast, True, False, 1000.0, 2400.0, (), ())
    parts: Any = (SimpleNamespace(start_nm=0.0, end_nm=15.0, below=below, half_width_nm=4.0),)
    terrain, least = Terrain(Path("tiles"), (), (), ()), 2600.0 if known else None
    ground = Ground(terrain, parts, top, crane, True, 1000.0, False, least, ("N46W039.hgt",), ("a gap",))
    leg = whole.log.legs[0]
    assert leg_object(whole.log, replace(leg, stretch=replace(leg.stretch, ground=ground)))["ground"] == {
        "minimum_ft": least,
        "clearance_ft": 1000.0,
        "mountainous": False,
        "half_width_nm": 4.0,
        "terrain_known": known,
        "highest": top_object,
        "obstacle": crane_object,
        "leg_highest": hill_object,
        "leg_obstacle": mast_object,
        "obstacles_known": True,
        "obstacle_editions": [],
        "tiles": ["N46W039.hgt"],
        "unknown": ["a gap"],
    }


def test_a_name_that_is_no_text_does_not_stop_a_table() -> None:
    """A file's name may hold bytes that are no UTF-8, which Python keeps as lone surrogates."""
    (whole,) = reports(FIELD, "tri\udcffp.route")
    assert b"tri?p.route" in document([whole], PAGES["a4"])


def test_findings_and_legend_are_sections_of_their_own() -> None:
    titles = [one.title.partition(":")[0] for one in extras(report("marsh"), ("findings", "legend"))]
    assert titles == ["FINDINGS", "LEGEND"]
    assert list(extras(report("marsh"), ())) == []


def test_the_legend_tells_by_which_north_headings_are() -> None:
    """The aircraft of the marsh flight has a compass card; the other flight names none."""
    for name, told in (("marsh", "Hdg: compass heading by the compass card"), ("hostile", "Hdg: magnetic heading.")):
        (legend,) = (one.lines[0] for one in extras(report(name), ("legend",)))
        assert told in legend
