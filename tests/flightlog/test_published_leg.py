"""The example leg of the log's specification, produced from the example of the route file's.

The leg was worked with pyproj and pygeomag outside the project, the triangle by hand, and is cut to three
decimals, positions to four: 0.001 is allowed. The least fuel is 28.316 min at 8.5 gal/h ahead, 2.999 gal for the
alternate and 30 min of reserve: 4.012 + 2.999 + 4.250. The band is 11.0 NM times the tangent of 4.5 degrees.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from helpers.flown import flight

MARSH = Path(__file__).parents[1] / "data" / "valid" / "round-the-marsh.route"
CUT = 0.001

LEG = json.loads("""
{"number": 2, "from": {"ident": "QHB", "kind": "station", "latitude_deg": 46.205, "longitude_deg": -39.345},
 "to": {"ident": null, "kind": "changeover", "latitude_deg": 46.0297, "longitude_deg": -39.4219},
 "via": "V801", "phase": "cruise", "distance_nm": 11.0, "distance_remaining_nm": 53.8,
 "true_course_deg": 196.963, "magnetic_course_deg": 209.545,
 "guidance": {"ident": "QHB", "frequency_mhz": 113.7, "channel": "84X", "morse": "--.- .... -...",
  "north": "magnetic", "declination_deg": -15.0, "radial_deg": 212.0, "radial_source": "charted",
  "set_course_deg": 212.0, "flag": "FROM"},
 "changeover": {"kind": "stated", "distance_nm": 11.0}, "identified_by": null, "marks": [], "turn_deg": 0.0,
 "altitude_ft": 4500, "start_altitude_ft": 4500, "end_altitude_ft": 4500,
 "minimum_altitude_ft": 3000, "minimum_kind": "MEA", "moca_ft": 2400, "band_nm": 0.8657, "along_track_nm": null,
 "maa_ft": null, "mca_ft": null,
 "wind": {"from_true_deg": 236.002, "speed_kt": 14.945}, "tas_kt": 110, "wind_correction_deg": 4.909,
 "true_heading_deg": 201.872, "variation_deg": -12.583, "magnetic_heading_deg": 214.455,
 "deviation_deg": null, "compass_heading_deg": null, "groundspeed_kt": 97.988,
 "time_min": 6.735, "elapsed_min": 12.759, "eta": "2026-07-18T15:22:45.557Z",
 "fuel_used_gal": 0.954, "fuel_remaining_gal": 35.192,
 "fuel_least_gal": 11.260, "unknown": [],
 "other_receiver": {"kind": "next station", "leg": 3, "place": "changeover",
  "guidance": {"ident": "QEL", "frequency_mhz": 110.2, "set_course_deg": 214.0, "flag": "TO"}}}
""")


def differences(found: Any, expected: Any, at: str = "") -> list[str]:
    """Where two JSON values differ by more than what was cut off."""
    if isinstance(expected, dict):
        return [text for key in expected for text in differences(found[key], expected[key], f"{at}.{key}")]
    if isinstance(expected, float | int) and isinstance(found, float | int):
        return [] if found == pytest.approx(expected, abs=CUT) else [f"{at}: {found} for {expected}"]
    return [] if found == expected else [f"{at}: {found!r} for {expected!r}"]


def test_the_leg_of_the_specification_comes_out() -> None:
    marsh = flight(MARSH.read_text("utf-8"))
    leg = marsh["legs"][1]
    assert list(leg) == list(LEG)
    assert differences(leg, LEG) == []


def test_a_difference_is_seen() -> None:
    assert differences({"a": {"b": 1.002}}, {"a": {"b": 1.0}}) == [".a.b: 1.002 for 1.0"]
