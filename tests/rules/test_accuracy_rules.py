"""What the standard of accuracy that a flight states changes: marks, cuts, bands, and what is printed of them."""

from __future__ import annotations

from math import radians, sin, tan

import pytest
from helpers.judged import found

from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.rules.answers import answers
from navlog.rules.report import Report
from navlog.rules.samples import FILES, SampleCatalogue, sample
from navlog.sheets.json_lines import flight_object
from navlog.sheets.text import text_log

FIX = ("fix ROSKO QHB 160 x QEL 090", "route XHAR QHB ROSKO QEL/A055 XOLD")
FAR = ("airport XHAR N46 12.30 W037 54.10 elev 0ft", "-direct QHB")
"""60 NM from QHB, on its parallel."""


def report(*changed: str) -> Report:
    (one,) = answers(read_flights(sample(*changed), "f.route"), SampleCatalogue(), References(FILES))
    assert one.report is not None
    return one.report


@pytest.mark.parametrize(("stated", "crossing_deg"), [("faa", 3.6), ("icao", 4.532), ("2", 2.0)])
def test_marks_take_the_stated_standard(stated: str, crossing_deg: float) -> None:
    """Distance x sin(error) / sin(cut), by hand."""
    (mark,) = [leg.marks[0] for leg in report(*FIX, f"accuracy {stated}").log.legs if leg.end.name == "ROSKO"]
    assert mark.cut_deg is not None
    assert mark.by.away_nm is not None
    expected = mark.by.away_nm * sin(radians(crossing_deg)) / sin(radians(mark.cut_deg))
    assert mark.error_nm == pytest.approx(expected)


def test_a_poor_cut_is_told_by_the_stated_standard() -> None:
    poor = ("fix ROSKO QHB 185 x QEL 042", "route XHAR QHB ROSKO QEL/A055 XOLD")
    assert "an error of 3.6 degrees" in " ".join(found("poor-cut", *poor))
    assert "an error of 4.532 degrees" in " ".join(found("poor-cut", *poor, "accuracy icao"))


def test_a_band_wider_than_an_airway_is_told_off_airways_alone() -> None:
    """60 tan 4.5 is 4.72 NM; 40 tan 5.726 is 4.01, 30 tan 5.726 is 3.01."""
    (told,) = found("wide-band", *FAR)
    assert told == "note: VOR error 4.5 degrees = 4.7 NM either side at 60.1 NM from the station"
    assert found("wide-band") == []


@pytest.mark.parametrize(
    ("statement", "named", "degrees"),
    [
        ("accuracy faa", "FAA Order 8260.3 (TERPS) and AIM 1-1-7\n", 4.5),
        ("taxi 1gal", "FAA Order 8260.3 (TERPS) and AIM 1-1-7 (default)\n", 4.5),
        ("accuracy icao", "ICAO Doc 8168, volume II, en route\n", 5.726),
        ("accuracy 2.5", "2.5 degrees as stated; DME by AIM 1-1-7\n", 2.5),
    ],
)
def test_the_sheet_and_json_tell_each_legs_band_by_the_standard_that_they_name(
    statement: str, named: str, degrees: float
) -> None:
    legs = flight_object(next(iter(answers(read_flights(sample(statement), "f.route")))))["legs"]
    band_nm = 9.6 * tan(radians(degrees))
    assert legs[0]["band_nm"] == pytest.approx(band_nm, abs=0.01)
    text = text_log(report(statement))
    assert f"VOR and DME errors: {named}" in text
    assert f"VOR error {degrees:g} degrees = {band_nm:.1f} NM either side at 9.6 NM from" in text


def test_a_fix_told_by_a_crossing_radial_has_its_length_along_track() -> None:
    """Distance x sin 3.6 / sin(cut), as the mark of the leg tells them and the test above works out by hand."""
    made = report(*FIX)
    (mark,) = [leg.marks[0] for leg in made.log.legs if leg.end.name == "ROSKO"]
    assert f"ROSKO within {mark.error_nm:.1f} NM along track" in " ".join(text_log(made).split())


def test_the_band_of_terrain_is_the_stated_standards() -> None:
    """60 tan 5.726 is 6.02 NM."""
    leg = report(*FAR, "terrain terrain", "accuracy icao").log.legs[0]
    assert leg.stretch.ground is not None
    assert leg.stretch.ground.parts[0].corridor.half_width_nm(0.0) == pytest.approx(
        60.1 * tan(radians(5.726)), abs=0.02
    )


@pytest.mark.parametrize(
    ("radial", "told"),
    [
        # QHB R-160 is 145 true, QEL 29.5 NM on 197: 52 degrees. QEL R-040 is 023 true and QHB on 016.9: 6.1 degrees.
        # 29.5 sin 6.1 / sin 122 = 3.7 NM; 29.5 sin 52 / sin 122 = 27.4, times sin 3.6 / sin 122: 2.0 either way.
        ("040", ["warning: ROSKO may be found 2.0 NM before or beyond its place, 3.7 NM from QHB"]),
        # 7.1 degrees: 4.3 NM, and 2 x 1.99 are less; 8.1 degrees: 4.8 NM.
        ("041", []),
        ("042", []),
    ],
)
def test_a_fix_that_may_be_found_along_more_than_its_leg(radial: str, told: list[str]) -> None:
    assert found("fix-unsure", f"fix ROSKO QHB 160 x QEL {radial}", "route XHAR QHB ROSKO QEL/A055 XOLD") == told
