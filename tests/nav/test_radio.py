"""Frequencies, channels and Morse by the published tables; range and slant distance by worked examples."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.problems import NavlogError
from navlog.nav.radio import (
    channel_for,
    check_vor_frequency,
    cone_radius_nm,
    deflection_deg,
    dots,
    frequency_for,
    ground_nm,
    morse,
    off_course_nm,
    radio_horizon_nm,
    service_radius_nm,
    slant_nm,
)

AUTHORITIES = Path(__file__).parents[1] / "authorities"
# Half of the digit to which a published answer is given.
TENTH_NM = 0.05
HUNDREDTH_NM = 0.005
ROUNDING = 1e-9


def channel_rows() -> list[tuple[str, str]]:
    with (AUTHORITIES / "nasr_channels.csv").open(encoding="ascii", newline="") as file:
        assert next(file).startswith("# FAA NASR")
        return [(row["mhz"], row["channel"]) for row in csv.DictReader(file)]


def refusal(mhz: str | float) -> str:
    with pytest.raises(NavlogError) as caught:
        check_vor_frequency(mhz)
    (problem,) = caught.value.problems
    return f"[{problem.code}] {problem.message} | {problem.hint}"


@pytest.mark.parametrize(("mhz", "channel"), channel_rows())
def test_published_stations_have_their_paired_channel(mhz: str, channel: str) -> None:
    assert channel_for(mhz) == channel
    assert channel_for(float(mhz)) == channel
    assert frequency_for(channel) == float(mhz)


def test_every_channel_pairs_with_one_frequency_and_back() -> None:
    channels = [f"{number}{letter}" for number in range(1, 127) for letter in "XY"]
    frequencies = [frequency_for(channel) for channel in channels]
    assert len(set(frequencies)) == 252
    for channel, mhz in zip(channels, frequencies, strict=True):
        assert mhz is not None
        assert channel_for(mhz) == channel
    # The ends of the blocks that are paired with no VOR frequency, by the same rule.
    ends = [frequency_for(channel) for channel in ("1X", "16Y", "60X", "69Y")]
    assert ends == [134.4, 135.95, 133.3, 134.25]


@pytest.mark.parametrize("channel", ["0X", "127X", "84", "84Z", "X", "", "084Y1", "8\u0664X", "-1X", "1e1X", "0084X"])
def test_what_is_no_channel_has_no_frequency(channel: str) -> None:
    assert frequency_for(channel) is None


@pytest.mark.parametrize("mhz", [107.95, 118.0, 113.72, 112.025, 136.0, float("nan"), float("inf")])
def test_an_unpaired_frequency_is_a_problem(mhz: float) -> None:
    with pytest.raises(NavlogError) as caught:
        channel_for(mhz)
    assert caught.value.problems[0].code == "bad-frequency"


def test_an_unpaired_frequency_in_full() -> None:
    with pytest.raises(NavlogError) as caught:
        channel_for("118.00")
    (problem,) = caught.value.problems
    assert problem.message == "118.00 MHz is paired with no channel"
    assert problem.hint == "paired frequencies run from 108.00 to 117.95 in steps of 0.05"


@pytest.mark.parametrize(
    ("mhz", "expected"),
    [
        ("113.70", 113.7),
        ("113.7", 113.7),
        (113.7, 113.7),
        (0.1 * 1137, 113.7),
        ("108.20", 108.2),
        ("108.25", 108.25),
        ("108.05", 108.05),
        ("111.85", 111.85),
        ("112.00", 112.0),
        ("112.10", 112.1),
        ("117.95", 117.95),
        ("108.00", 108.0),  # the ends of the band, ICAO Annex 10
        (113.7000001, 113.7),  # a tenth of a hertz is rounding
        ("108.40", 108.4),  # EASA radio navigation question: can be a VOR
    ],
)
def test_a_vor_frequency_is_returned_clean(mhz: str | float, expected: float) -> None:
    assert check_vor_frequency(mhz) == expected


@pytest.mark.parametrize(
    ("mhz", "said"),
    [
        ("109.10", "109.10 MHz is a localizer frequency"),
        ("109.50", "localizer"),  # EASA radio navigation question: only a localizer
        ("110.30", "even tenth"),
        ("111.95", "localizer"),
        ("110.33", "110.30 or 110.35"),
        ("113.72", "113.70 or 113.75"),
        ("118.00", "108.00 to 117.95"),
        ("107.95", "108.00 to 117.95"),
        ("13.70", "108.00 to 117.95"),
        (float("nan"), "finite"),
    ],
)
def test_any_other_frequency_is_refused_with_a_hint(mhz: str | float, said: str) -> None:
    refused = refusal(mhz)
    assert refused.startswith("[bad-frequency]")
    assert said in refused


@pytest.mark.parametrize(
    ("mhz", "said"),
    [
        ("118.00", "118.00 MHz is not in the VOR band | VOR frequencies run from 108.00 to 117.95"),
        (117.951, "117.951 MHz is not in the VOR band | VOR frequencies run from 108.00 to 117.95"),
        (113.72000000000001, "113.72 MHz is not a channel | steps are 0.05 MHz: 113.70 or 113.75"),
        ("113.7004", "113.7004 MHz is not a channel | steps are 0.05 MHz: 113.70 or 113.75"),
        (
            "109.10",
            "109.10 MHz is a localizer frequency | below 112 MHz a VOR has an even tenth, such as 110.20 or 110.25",
        ),
        (float("inf"), "a frequency is not a finite number | write it in MHz, such as 113.70"),
    ],
)
def test_each_refusal_in_full(mhz: str | float, said: str) -> None:
    assert refusal(mhz) == f"[bad-frequency] {said}"


@pytest.mark.parametrize("mhz", ["84X", "113,70", "", "113.70khz"])
def test_text_that_is_no_frequency_is_a_problem(mhz: str) -> None:
    assert refusal(mhz).startswith(("[bad-value]", "[bad-unit]"))


@pytest.mark.parametrize(
    ("ident", "code"),
    [
        ("BOS", "-... --- ..."),
        ("ABQ", ".- -... --.-"),
        ("QHB", "--.- .... -..."),
        ("I09", ".. ----- ----."),
    ],
)
def test_an_ident_in_morse(ident: str, code: str) -> None:
    assert morse(ident) == code


def test_the_morse_code_is_the_published_one() -> None:
    title, *lines = (AUTHORITIES / "morse.txt").read_text(encoding="ascii").splitlines()
    assert "M.1677-1" in title
    assert len(lines) == 36
    for line in lines:
        letter, code = line.split()
        assert morse(letter) == code


@pytest.mark.parametrize("ident", ["", "qhb", "Q B", "QÉB"])
def test_what_has_no_morse_code_is_a_problem(ident: str) -> None:
    with pytest.raises(NavlogError) as caught:
        morse(ident)
    (problem,) = caught.value.problems
    assert (problem.code, problem.message) == ("bad-ident", f"`{ident}` has no Morse code")
    assert problem.hint == "an identifier is capital letters and digits"


@pytest.mark.parametrize(
    ("service_class", "height_ft", "radius_nm"),
    [
        # FAA AIM 1-1-8, table 1-1-1.
        ("T", 999, 0), ("T", 1_000, 25), ("T", 12_000, 25), ("T", 12_001, 0),
        ("L", 999, 0), ("L", 1_000, 40), ("L", 18_000, 40), ("L", 18_001, 0),
        ("H", 1_000, 40), ("H", 14_499, 40), ("H", 14_501, 100), ("H", 18_000, 130), ("H", 45_000, 130),
        ("H", 45_001, 100), ("H", 60_000, 100), ("H", 60_001, 0),
        ("VL", 999, 0), ("VL", 4_999, 40), ("VL", 5_000, 70), ("VL", 17_999, 70), ("VL", 18_000, 0),
        ("VH", 4_999, 40), ("VH", 5_000, 70), ("VH", 14_499, 70), ("VH", 14_500, 100), ("VH", 18_000, 130),
        ("VH", 45_000, 130), ("VH", 45_001, 100), ("VH", 60_000, 100), ("VH", 60_001, 0),
        # From memory.
        ("DL", 12_900, 130), ("DL", 17_999, 130), ("DL", 18_000, 0),
        ("DH", 12_900, 130), ("DH", 45_000, 130), ("DH", 45_001, 100), ("DH", 60_001, 0),
        ("T", -100, 0), ("DL", -100, 0),
    ],
)  # fmt: skip
def test_the_standard_service_volumes(service_class: str, height_ft: float, radius_nm: float) -> None:
    assert service_radius_nm(service_class, height_ft) == radius_nm


def test_below_12900_ft_a_dme_volume_reaches_to_the_horizon() -> None:
    assert service_radius_nm("DL", 2_500) == radio_horizon_nm(2_500)
    assert service_radius_nm("DH", 12_899) == 130


@pytest.mark.parametrize("service_class", ["", "X", "vh", "VL/DH"])
def test_an_unknown_class_has_no_known_radius(service_class: str) -> None:
    assert service_radius_nm(service_class, 5_000) is None


@pytest.mark.parametrize(
    ("height_ft", "station_ft", "expected_nm", "tolerance_nm"),
    [
        (8_000, 1_026, 149, 0.5),  # EASA question: FL80 and a VOR at 313 m
        (10_000, 100, 135, 0.5),  # EASA question: FL100 and a VOR at 100 ft
        (1_000, 0, 38.9, TENTH_NM),
        (2_500, 0, 61.5, TENTH_NM),
        (3_500, 0, 72.8, TENTH_NM),
        (5_500, 0, 91.2, TENTH_NM),
        (-200, -10, 0, ROUNDING),
    ],
)
def test_the_radio_horizon(height_ft: float, station_ft: float, expected_nm: float, tolerance_nm: float) -> None:
    assert radio_horizon_nm(height_ft, station_ft) == pytest.approx(expected_nm, abs=tolerance_nm)


def test_a_station_stands_on_the_ground_unless_told_higher() -> None:
    assert radio_horizon_nm(0) == 0.0


def test_slant_distances_of_published_questions() -> None:
    # EASA question: 6,000 ft above, DME 5 NM: 4.9 NM over the ground (4.9015).
    assert ground_nm(5, 6_000) == pytest.approx(4.9015, abs=0.00005)
    # The same bank: station at 1,000 ft, FL370, 15 NM over the ground: reads 16.15. That takes 6,000 ft for a
    # mile, 1.3 % of the height of 5.92 NM, which counts here by the sine of its angle: 0.028 NM.
    assert slant_nm(15, 36_000) == pytest.approx(16.15, abs=0.028)
    # Overhead at 5,500 ft it reads 0.9; reading 1.0 is 0.43 NM out, 2.0 is 1.78, 5.0 is 4.92.
    assert slant_nm(0, 5_500) == pytest.approx(0.9, abs=TENTH_NM)
    for reading_nm, out_nm in ((1.0, 0.43), (2.0, 1.78), (5.0, 4.92)):
        assert ground_nm(reading_nm, 5_500) == pytest.approx(out_nm, abs=HUNDREDTH_NM)


@given(st.floats(min_value=0, max_value=40), st.floats(min_value=0.1, max_value=130))
def test_slant_distance_is_that_of_the_published_formula(thousand_ft: float, reading_nm: float) -> None:
    # ICAO Doc 8168: Ds = sqrt(D^2 - 0.027 h^2), whose constant is cut short: 0.02709 exactly.
    square = reading_nm**2 - 0.027 * thousand_ft**2
    if square > 0.1:
        found = ground_nm(reading_nm, 1_000 * thousand_ft)
        assert found**2 == pytest.approx(square, abs=0.0001 * thousand_ft**2 + ROUNDING)


@given(st.floats(min_value=0, max_value=130), st.floats(min_value=-2_000, max_value=45_000))
def test_ground_distance_undoes_slant_distance(distance_nm: float, height_ft: float) -> None:
    # Near overhead the square root costs half of the digits.
    assert ground_nm(slant_nm(distance_nm, height_ft), height_ft) == pytest.approx(distance_nm, abs=1e-6)


@pytest.mark.parametrize("reading_nm", [0.98, 0.0, -3.0, float("nan"), float("inf")])
def test_a_reading_below_the_height_is_impossible(reading_nm: float) -> None:
    with pytest.raises(NavlogError) as caught:
        ground_nm(reading_nm, 6_000)
    (problem,) = caught.value.problems
    assert problem.code == "impossible-dme"
    assert problem.message == f"a DME 6000 ft below cannot read {reading_nm:g} NM"
    assert problem.hint == "right overhead it reads 1.0 NM; give more, or a distance over the ground"


def test_the_cone_over_a_station() -> None:
    # tan 50 = 1.19175; 6,076.1 ft above, the radius is 1.19 NM.
    assert cone_radius_nm(6_076.1) == pytest.approx(1.19175, abs=0.00005)
    assert cone_radius_nm(-10) == 0


def test_a_dot_is_two_degrees() -> None:
    # FAA Instrument Flying Handbook: the last of five dots is at 10 degrees.
    assert dots(10) == 5
    assert dots(-3) == -1.5
    # Rule of 200 ft for a dot and a mile; worked out 212.1 ft, the sine giving 212.05 and the tangent 212.18.
    assert off_course_nm(2, 1) * 6_076.1 == pytest.approx(212.1, abs=0.1)
    # FAA commercial question: 2 degrees at 60 NM are about 2 NM.
    assert off_course_nm(2, 60) == pytest.approx(2, abs=0.1)
    # Instructor's answer by the rule: 5 NM off at 100 NM are 1.5 dots; the tangent gives 1.43.
    assert dots(deflection_deg(5, 100)) == pytest.approx(1.43, abs=HUNDREDTH_NM)
    # One in sixty: 1 degree is 1.047 NM at 60 NM.
    assert off_course_nm(1, 60) == pytest.approx(1.047, abs=0.0005)


@given(st.floats(min_value=-80, max_value=80), st.floats(min_value=0.01, max_value=200))
def test_deflection_and_offset_undo_each_other(angle_deg: float, along_nm: float) -> None:
    assert deflection_deg(off_course_nm(angle_deg, along_nm), along_nm) == pytest.approx(angle_deg, abs=ROUNDING)
