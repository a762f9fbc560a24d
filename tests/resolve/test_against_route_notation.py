"""Points and changes as ICAO Doc 4444, Appendix 2, item 15 writes them, flown as route files.

The strings are the document's own examples; the stations' places and declinations are not.
"""

from __future__ import annotations

from io import BytesIO, TextIOWrapper

import pytest
from geographiclib.geodesic import Geodesic
from helpers.flown import apart_deg, codes, flight, legs

from navlog.cli import run
from navlog.rules.answers import check_text
from navlog.studies.explain_text import printed_figures
from navlog.studies.explanation import explain

DUB = "station DUB 114.90 N46 12.00 W039 12.00 decl 12W\n"
FLOWN = "date 2026-07-18\naltitude 6000\ntas 120kt\nwind calm\n"


def test_bearing_and_distance_from_a_navaid() -> None:
    """DUB180040: 180 magnetic, 40 NM: from a station the bearing is its radial, so 168 true at 12W."""
    (leg,) = legs(DUB + FLOWN + "route DUB DUB180040\n")
    assert (leg["to"]["ident"], leg["to"]["kind"]) == ("DUB180040", "fix")
    assert leg["guidance"]["radial_deg"] == pytest.approx(180.0)
    assert leg["distance_nm"] == pytest.approx(40.0, abs=1e-6)
    line = Geodesic.WGS84.Inverse(46.2, -39.2, leg["to"]["latitude_deg"], leg["to"]["longitude_deg"])
    assert line["azi1"] == pytest.approx(168.0, abs=1e-6)
    assert line["s12"] / 1852.0 == pytest.approx(40.0, abs=1e-6)


@pytest.mark.parametrize(
    ("text", "latitude_deg", "longitude_deg"),
    [("4620N07805W", 46.33333, -78.08333), ("46N078W", 46.0, -78.0), ("4602N07805W", 46.03333, -78.08333)],
)
def test_coordinates(text: str, latitude_deg: float, longitude_deg: float) -> None:
    (leg,) = legs(FLOWN + f"route {text} 47N079W\n")
    assert leg["from"]["kind"] == "position"
    assert leg["from"]["latitude_deg"] == pytest.approx(latitude_deg, abs=5e-6)
    assert leg["from"]["longitude_deg"] == pytest.approx(longitude_deg, abs=5e-6)


@pytest.mark.parametrize(
    ("change", "tas_kt", "altitude_ft"),
    [
        pytest.param("N0284A045", 284, 4500, id="LN/N0284A045"),
        pytest.param("N0305F330", 305, 33000, id="MAY/N0305F330"),
        pytest.param("N0420F330", 420, 33000, id="HADDY/N0420F330"),
        # 840 tens of metres over the foot of 0.3048 m.
        pytest.param("N0350M0840", 350, 27559.055118110, id="DUB180040/N0350M0840"),
    ],
)
def test_a_change_of_speed_and_level_begins_at_its_point(change: str, tas_kt: float, altitude_ft: float) -> None:
    text = f"station LN 375 N46 30.00 W039 12.00 kind ndb\n{DUB}{FLOWN}route 46N038W LN/{change} DUB\n"
    before, after = legs(text)[0], legs(text)[-1]
    assert (before["tas_kt"], before["altitude_ft"]) == (120, 6000)
    assert after["tas_kt"] == tas_kt
    assert after["altitude_ft"] == pytest.approx(altitude_ft)


def test_missing_zeros_are_refused() -> None:
    """A35: ABC1817 must be refused, never guessed."""
    assert codes(DUB + FLOWN + "route DUB DUB1817\n")
    assert codes(DUB + FLOWN + "route DUB DUB18017\n")


def test_from_a_fix_the_bearing_is_magnetic_by_the_model() -> None:
    """The log says so; 090 magnetic with the model's variation of about 12.6W is about 077 true."""
    found = flight(f"fix LAKER N46 05.00 W039 02.00\n{DUB}{FLOWN}route DUB LAKER090012\n")
    point = found["legs"][-1]["to"]
    line = Geodesic.WGS84.Inverse(46.0 + 5 / 60, -(39.0 + 2 / 60), point["latitude_deg"], point["longitude_deg"])
    assert apart_deg(line["azi1"], 90.0 - 12.4) < 0.3
    assert line["s12"] / 1852.0 == pytest.approx(12.0, abs=1e-6)


@pytest.mark.parametrize("form", ["text", "strip", "steps", "planning", "markdown", "html"])
@pytest.mark.parametrize("variation", ["", "variation 1W\n"])
def test_every_sheet_says_that_a_bearing_from_a_fix_is_magnetic_by_the_model(
    form: str, variation: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The model's variation there is 12.5W, which is tested apart; a stated `variation` holds in headings only."""
    text = f"fix LAKER N46 05.00 W039 02.00\n{DUB}{FLOWN}{variation}route DUB LAKER090012\n"
    monkeypatch.setattr("sys.stdin", TextIOWrapper(BytesIO(text.encode())))
    assert run(["log", "-", "--format", form]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "LAKER090012: 090 from LAKER is magnetic by WMM2025 (variation 12.5W), 078 true" in told


def test_json_and_workings_tell_a_bearing_by_the_model() -> None:
    text = f"fix LAKER N46 05.00 W039 02.00\n{DUB}{FLOWN}route DUB LAKER090012 DUB\n"
    bearing = flight(text)["legs"][0]["to"]["bearing"]
    assert (bearing["from"], bearing["magnetic_deg"], bearing["distance_nm"]) == ("LAKER", 90.0, 12.0)
    assert bearing["variation_deg"] == pytest.approx(-12.5, abs=0.05)
    assert "bearing" not in flight(DUB + FLOWN + "route DUB DUB180040\n")["legs"][0]["to"]
    (answer,) = check_text(text.encode(), "trip.route")
    assert answer.report is not None
    log = answer.report.log
    for leg in explain(log, tuple(printed_figures(log))).legs:
        step = next(one for one in leg.steps if one.what == "bearing of LAKER090012")
        assert (step.values, step.result) == ("090.0 + (-12.5)", "077.5 true, 12.00 NM")


def test_dct_stands_between_points_or_nothing_does() -> None:
    with_dct = legs(DUB + FLOWN + "route 46N038W DCT DUB DCT DUB180040\n")
    without = legs(DUB + FLOWN + "route 46N038W DUB DUB180040\n")
    assert with_dct == without
    assert {leg["via"] for leg in without} == {"DCT"}
