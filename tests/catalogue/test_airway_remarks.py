"""What remarks on airway segments say; the wording is that of FAA NASR AWY_SEG_ALT effective 2026-05-14."""

from __future__ import annotations

import pytest
from helpers.nasr_excerpt import segment

from navlog.catalogue.airway_remarks import (
    ChangeAt,
    ChangeTo,
    CrossAt,
    MeasuredFrom,
    Said,
    Turn,
    Unusable,
    UseRadial,
    read_remark,
    speaks_of_guidance,
    station_spoken_of,
)
from navlog.catalogue.queries import Catalogue
from navlog.nav.chart import Bearing, ChangeoverAt, CrossingAltitude


@pytest.mark.parametrize(
    ("remark", "said"),
    [
        ("USE SLATE RUN R-072 TO BINGHAMTON", UseRadial("SLATE RUN", 72.0)),
        ("4800 MCA PHILIPSBURG, PA VORTAC, SE BND", CrossAt(4800.0, "PHILIPSBURG", "SE")),
        ("6700 - MCA MAUI, HI VORTAC , SW BND", CrossAt(6700.0, "MAUI", "SW")),
        ("MTA V134 NE TO V220 NW 12900", Turn(12900.0, "NE", "V220", "NW")),
        ("THE COP IS AT THE SLOLM INT.", ChangeAt("SLOLM")),
        ("COP - THE COP IS AT THE SLOLM INT", ChangeAt("SLOLM")),
        ("COP 53 NM FROM AND UTILIZES COALDALE, NV VORTAC ON THE 129 M RAD.", ChangeTo("COALDALE")),
        ("COP MEASURED FROM NEEDLES VORTAC.", MeasuredFrom("NEEDLES")),
        ("USE THE HUGO (HGO) VORTAC FROM THE COP TO THE GORJE INT", ChangeTo("HUGO", "GORJE")),
        ("UTILIZE DEMING VORTAC 233 M RAD FROM COP TO ANIMA FIX", ChangeTo("DEMING", "ANIMA")),
        ("USE GILL (GLL) VOR/DME FROM  COP TO RIDJE INT", ChangeTo("GILL", "RIDJE")),
    ],
)
def test_a_remark_that_is_read(remark: str, said: Said) -> None:
    assert read_remark(remark) == (said,)


def test_every_mca_of_a_remark_is_read() -> None:
    # No remark of that edition holds two; the wording of each is that of V184's and V605's.
    assert read_remark("4800 MCA PHILIPSBURG, PA VORTAC, SE BND. 5200 - MCA SPARTANBURG, SC VORTAC , N BND") == (
        CrossAt(4800.0, "PHILIPSBURG", "SE"),
        CrossAt(5200.0, "SPARTANBURG", "N"),
    )


@pytest.mark.parametrize(
    ("remark", "unusable", "use"),
    [
        ("ALBANY R-067 UNUSABLE, USE CAMBRIDGE R-248", Unusable("ALBANY", 67.0), UseRadial("CAMBRIDGE", 248.0)),
        ("ALLENTOWN R-115 UNUSABLE. USE SOLBERG R-295.", Unusable("ALLENTOWN", 115.0), UseRadial("SOLBERG", 295.0)),
        (
            "WILMNINGTON R-315 UNUSABLE, USE FAYETTEVILLE  R-131",
            Unusable("WILMNINGTON", 315.0),
            UseRadial("FAYETTEVILLE", 131.0),
        ),
        (
            "ALLENTOWN  R-240 UNUSABLE BELOW 9000 USE EAST TEXAS R-059",
            Unusable("ALLENTOWN", 240.0, below_ft=9000.0),
            UseRadial("EAST TEXAS", 59.0),
        ),
        (
            "WIREGRASS R-019 UNSABLE BELOW 6000 USE EUFAULA R-199",
            Unusable("WIREGRASS", 19.0, below_ft=6000.0),
            UseRadial("EUFAULA", 199.0),
        ),
        ("CARMEL R-057 UNUSABLE", Unusable("CARMEL", 57.0), None),
        ("HOOSIER R-027 UNUSABLE.", Unusable("HOOSIER", 27.0), None),
        ("GNSS REQUIRED MULLAN PASS R-002 UNUSABLE", Unusable("MULLAN PASS", 2.0), None),
        ("DUPONT R 233 UNUSABLE BEYOND 22 NM.", Unusable("DUPONT", 233.0, beyond_nm=22.0), None),
        ("ORMOND BEACH R-211 UNUSABLE BYD 26NM", Unusable("ORMOND BEACH", 211.0, beyond_nm=26.0), None),
        ("ALEXANDRIA R-106 UNUSABLE BEYOND 48 NM", Unusable("ALEXANDRIA", 106.0, beyond_nm=48.0), None),
        ("ROCKDALE R-127 UNUSABLE BELOW 10000", Unusable("ROCKDALE", 127.0, below_ft=10000.0), None),
        (
            "PALM BEACH R-327 UNUSABLE CUSMO-BAIRN",
            Unusable("PALM BEACH", 327.0, between=("CUSMO", "BAIRN")),
            None,
        ),
        (
            "VIRGINIA KEY R-058 UNUSABLE JANUS TO VALLY",
            Unusable("VIRGINIA KEY", 58.0, between=("JANUS", "VALLY")),
            None,
        ),
    ],
)
def test_reach_height_and_subject_of_an_unusable_radial(remark: str, unusable: Unusable, use: UseRadial | None) -> None:
    assert read_remark(remark) == ((unusable,) if use is None else (unusable, use))


@pytest.mark.parametrize(
    ("remark", "name"),
    [
        # Invented limits of a kind that no published remark has.
        ("CARMEL R-057 UNUSABLE AT NIGHT", "CARMEL"),
        ("ORMOND BEACH R-211 UNUSABLE BEYOND 26 NM BELOW 4000 AND ABOVE 9000", "ORMOND BEACH"),
        ("SEE NOTE ON R-057", "SEE NOTE ON"),
        ("UTILIZE SOMETHING", None),
    ],
)
def test_a_limit_of_an_unknown_kind_is_not_guessed(remark: str, name: str | None) -> None:
    assert read_remark(remark) == ()
    assert speaks_of_guidance(remark)
    assert station_spoken_of(remark) == name


def test_a_turning_altitude_toward_two_airways() -> None:
    assert read_remark("MTA V465 NE TO V520 W OR V330 W 16000") == (
        Turn(16000.0, "NE", "V520", "W"),
        Turn(16000.0, "NE", "V330", "W"),
    )
    assert read_remark("MTA V236 NE TO V21-101 SE 12000") == (
        Turn(12000.0, "NE", "V21", "SE"),
        Turn(12000.0, "NE", "V101", "SE"),
    )


@pytest.mark.parametrize(
    "remark",
    ["UNUSABLE", "GNSS REQUIRED", "MEA GAP AT COP", "FAK, RDU, ORF, FLO, ILM", "HF COMMUNICATIONS REQUIRED", ""],
)
def test_a_remark_on_anything_else(remark: str) -> None:
    assert read_remark(remark) == ()
    assert not speaks_of_guidance(remark)


def test_the_other_stations_radial_holds_the_segment(catalogue: Catalogue) -> None:
    found = segment(catalogue, "V146", "ALB", "CTR")
    assert found.along == Bearing("CTR", 319.0, station_kind="VOR/DME")
    assert not found.doubtful
    assert found.remarks == ("ALBANY R-139 UNUSABLE USE CHESTER R-319",)


def test_the_other_stations_radial_holds_the_whole_leg(catalogue: Catalogue) -> None:
    """`ALBANY R-067 UNUSABLE` stands on the row of ALB; TIMKE is a fix on the same straight line to CAM."""
    for start, end in (("ALB", "TIMKE"), ("TIMKE", "CAM")):
        found = segment(catalogue, "V123", start, end)
        assert found.along == Bearing("CAM", 248.0, station_kind="VOR/DME")
        assert found.remarks == ("ALBANY R-067 UNUSABLE, USE CAMBRIDGE R-248",)


def test_an_unusable_radial_is_silent_on_the_rest_of_its_leg(catalogue: Catalogue) -> None:
    """V469: the remark stands on the rows of LYH, RADIA and RELEE, and LUCLI lies between the first two."""
    found = segment(catalogue, "V469", "LUCLI", "RADIA")
    assert (found.silent, found.doubtful) == ("LYH", False)


def test_an_unusable_radial_with_nothing_else_to_fly_silences_its_station_alone(catalogue: Catalogue) -> None:
    found = segment(catalogue, "V469", "RELEE", "BOOME")
    assert (found.along, found.silent, found.doubtful) == (None, "LYH", False)
    assert found.remarks == ("LYNCHBURG R-352 UNUSABLE",)


@pytest.mark.parametrize(
    ("ident", "start", "end", "location", "crossing"),
    [
        ("V184", "PSB", "RASHE", "C", (4800.0, "PSB", "RASHE")),
        ("V24", "LNY", "OGG", "H", (6700.0, "OGG", "LNY")),
        ("V605", "SPA", "GENOD", "C", (5200.0, "SPA", "GENOD")),
    ],
)
def test_an_mca_in_words_stands_at_its_station(
    catalogue: Catalogue, ident: str, start: str, end: str, location: str, crossing: tuple[float, str, str]
) -> None:
    found = [one for one in segment(catalogue, ident, start, end, location).crossings if one.remark]
    assert [(one.altitude_ft, one.at, one.toward) for one in found] == [crossing]


def test_a_turning_altitude_stands_where_the_turn_is_reached(catalogue: Catalogue) -> None:
    remark = "MTA V134 NE TO V220 NW 12900"
    turn = CrossingAltitude(12900.0, "SLOLM", "RIL", turning=True, remark=remark, coming_from="RIYNO")
    assert turn in segment(catalogue, "V134", "RIYNO", "SLOLM").crossings
    assert remark in segment(catalogue, "V134", "SLOLM", "GLENO").remarks


def test_a_turning_altitude_on_the_last_row(catalogue: Catalogue) -> None:
    last = segment(catalogue, "V520", "DBS", "JAC")
    (turn,) = [one for one in last.crossings if one.turning]
    assert (turn.at, turn.coming_from, turn.toward) == ("JAC", "DBS", "PIINE")
    assert "MTA V520 E TO V330 W 14200" in last.remarks


def test_a_station_off_the_airway_guides_beyond_the_changeover(catalogue: Catalogue) -> None:
    assert segment(catalogue, "V442", "HEC", "CLIPP").changeovers == (ChangeoverAt(41.0, "HEC", "EED", "CLIPP"),)
    assert segment(catalogue, "V135", "BTY", "LIDAT").changeovers == (ChangeoverAt(34.0, "BTY", "OAL"),)


def test_a_changeover_measured_from_elsewhere_is_where_the_way_is_so_far_from_there(catalogue: Catalogue) -> None:
    """V514 at GFS: CHGOVR_PT BLD, 60 NM, COP MEASURED FROM NEEDLES VORTAC (EED), which V514 does not pass.

    On the published positions LYNSY is 55.35 NM from EED and BLD 76.11; the point of LYNSY-BLD that is 60 NM from
    EED lies 4.65 NM from LYNSY, which is 26.03 + 11.8 NM from GFS (geographiclib, outside the project). A point
    published in whole miles may be half a mile off.
    """
    found = segment(catalogue, "V514", "GFS", "SHUSS")
    assert not found.doubtful
    (changeover,) = found.changeovers
    assert (changeover.station, changeover.ahead, changeover.measured) == ("GFS", "BLD", (60.0, "EED"))
    assert changeover.distance_nm == pytest.approx(42.48, abs=0.25)
