"""Stations that are out of service, taken for one another, without DME, or aligned long ago."""

from __future__ import annotations

import pytest
from helpers.judged import along, found, judged_text, of, reported

from navlog.printed.meant import meant
from navlog.rules.samples import UNVERIFIED, SampleCatalogue
from navlog.rules.stations import _one_slip_apart


def tuned(first: str, second: str) -> list[str]:
    """What is found where these two frequencies follow each other."""
    chart = along("QHB 212 - 032 QEL 29.5nm mea 3000")
    return found("frequencies-alike", *chart, f"station QHB {first}", f"station QEL {second}")


@pytest.mark.parametrize(
    ("first", "second", "told"),
    [
        ("116.50", "116.70", True),  # A17: ASRS 295766, BPR for ADM
        ("116.60", "117.60", True),  # A20: ASRS 90172, a station out of service tuned for the next
        ("113.75", "117.35", True),  # two digits changed over
        ("113.70", "116.40", False),
        ("112.00", "112.20", True),
        ("112.90", "113.10", True),  # 0.2 MHz, and two digits that are not changed over
        ("112.90", "113.15", False),
        ("112.00", "112.45", False),
    ],
)
def test_a17_neighbouring_frequencies_that_are_easily_mistaken(first: str, second: str, told: bool) -> None:
    assert tuned(first, second) == ([f"note: QEL {second} comes after QHB {first}"] if told else [])


def test_one_slip_is_a_digit_or_a_swap() -> None:
    assert _one_slip_apart("113.70", "110.70")
    assert _one_slip_apart("113.70", "113.70")
    assert _one_slip_apart("113.70", "113.07")
    assert not _one_slip_apart("113.70", "110.20")
    # Two digits apart, one of which is where the other was: no swap.
    assert not _one_slip_apart("113.70", "111.30")
    assert not _one_slip_apart("113.70", "117.10")


# A16: ASRS 122401, MKL and MLC both on 112.0. A minute of latitude is a mile.
@pytest.mark.parametrize(("latitude", "told"), [("N49 00.00", True), ("N49 40.00", False)])
def test_a16_another_station_on_the_frequency_within_200_nm_of_the_leg(latitude: str, told: bool) -> None:
    other = f"station QSK 113.70 {latitude} W039 20.70 decl 14W class L"
    some = found("frequency-shared", other)
    assert bool(some) is told
    if told:
        assert some[0].startswith("warning: QSK is on 113.70 too, ")


def test_a16_the_nearer_end_of_the_leg_counts() -> None:
    # QEL lies at N45 44.10 and is used from 18.5 NM farther north: QSK is 195 NM from it and some 213 from there.
    (told,) = found(
        "frequency-shared", "station QSK 110.20 N42 29.00 W039 33.00 decl 14W class L", "route QHB V801 QEL"
    )
    assert told.startswith("warning: QSK is on 110.20 too, 195.")


@pytest.mark.parametrize("route", ["QHB V801 QEL", "QEL V801 QHB"])
def test_a16_the_end_to_which_a_station_is_used_counts_either_way(route: str) -> None:
    # 195 NM south of QEL and 224 of QHB, and used up to 11 NM from QHB: told of QEL whichever way it is flown.
    (told,) = found("frequency-shared", "station QSK 110.20 N42 29.00 W039 33.00 decl 14W class L", f"route {route}")
    assert told.startswith("warning: QSK is on 110.20 too, 195.")


def test_a16_a_station_nearer_to_the_last_leg_than_to_the_first_is_told_there() -> None:
    # QHB guides to itself, at N46 12.3, and on to the changeover point 29 NM on, by QEL at some N45 44.6. A minute of
    # latitude is a mile: from N42 42 QHB is 210 NM away and the changeover point 183, from N42 24 that is 201.
    asked = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 cop 29 QHB", "route XHAR QHB V801 QEL"
    for latitude, told in (("N42 42.00", True), ("N42 24.00", False)):
        some = found("frequency-shared", *asked, f"station QSK 113.70 {latitude} W039 33.00 decl 14W class L")
        assert [one.startswith("warning: QSK is on 113.70 too, ") for one in some] == ([True] if told else [])


def test_a16_the_published_data_is_looked_through_too() -> None:
    # QPB is on 115.30 in the samples' published data, 43 NM south of QHB.
    own = "station QHB 115.30 N46 12.30 W039 20.70 decl 15W class L elev 820ft"
    assert found("frequency-shared", own)[0].startswith("warning: QPB is on 115.30 too, ")


def test_a20_a_station_out_of_service_breaks_what_relies_on_it() -> None:
    assert found("station-out", "unavailable QEL") == [
        "error: QHB to QEL relies on QEL, which is out of service",
        "error: QEL to XOLD relies on QEL, which is out of service",
    ]


RELIES = "error: {way} relies on {out}, which is out of service"
ALONE = "note: {way} is flown on {other} alone, up to its changeover point: {out} is out of service"


# The middle of V801's 29.5 NM is 14.75: the MEA is assured of either station up to there (14 CFR 95.1, 95.8001).
@pytest.mark.parametrize(
    ("marsh_nm", "fix", "behind", "ahead"),
    [
        (8.8, "N46 04.09 W039 24.19", ALONE, RELIES),
        (20.7, "N45 52.70 W039 29.35", RELIES, ALONE),
    ],
)
def test_a20_the_station_at_the_other_end_of_an_airway_is_relied_on_too_past_the_changeover_point(
    marsh_nm: float, fix: str, behind: str, ahead: str
) -> None:
    chart = f"airway V801 QHB 212 - MARSH {marsh_nm}nm mea 3000 - 034 QEL {29.5 - marsh_nm:.1f}nm mea 3000"
    left = (chart, f"fix MARSH {fix}", "route XHAR QHB V801 MARSH", "unavailable QEL")
    assert found("station-out", *left) == [behind.format(way="QHB to MARSH", out="QEL", other="QHB")]
    joined = (chart, f"fix MARSH {fix}", "route MARSH V801 QEL XOLD", "unavailable QHB")
    assert found("station-out", *joined) == [ahead.format(way="MARSH to QEL", out="QHB", other="QEL")]


def test_a20_a_station_behind_the_one_at_which_the_airway_is_joined_may_be_out() -> None:
    chart = "airway V801 QSK 212 - 032 QHB 30nm mea 3000 212 - 034 QEL 29.5nm mea 3000"
    behind = "station QSK 112.40 N46 38.00 W039 00.00 decl 14W class L"
    assert found("station-out", chart, behind, "unavailable QSK", "route XHAR QHB V801 QEL XOLD") == []


def test_a_fix_that_an_absent_station_defines_is_an_error() -> None:
    flight = ("fix ROSKO QHB 160 x QEL 090", "route XHAR QHB ROSKO", "unavailable QEL")
    assert found("station-out", *flight) == ["error: QHB to ROSKO relies on QEL, which is out of service"]


def test_a_station_that_nothing_relies_on_may_be_out() -> None:
    other = "station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L"
    assert found("station-out", other, "unavailable QSK") == []


NO_DME = "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L elev 410ft"
BY_DME = ("fix LAKER QEL 180 dme 12 at 4500", "route XHAR QHB V801 QEL LAKER", "-direct QEL")


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (("equipment vor 1 dme 1",), []),
        ((NO_DME, "equipment vor 1 dme 1"), ["error: LAKER is 12 NM DME from QEL, which has no DME"]),
        ((), ["warning: LAKER is 12 NM DME from QEL, and the aeroplane has no DME"]),
    ],
)
def test_a19_a_dme_fix_needs_a_dme_on_the_ground_and_in_the_air(more: tuple[str, ...], told: list[str]) -> None:
    # Out on the 180 radial no other station crosses well, so DME alone can mark LAKER.
    far = "station QHB 113.70 N46 12.30 W039 33.00 decl 17W class L dme elev 820ft"
    chart = "airway V801 QHB 197 - 017 QEL 28.2nm mea 3000"
    assert found("dme-missing", far, chart, *BY_DME, *more) == told


@pytest.mark.parametrize(("declination", "told"), [("18W", False), ("19W", True), ("6W", True), ("7W", False)])
def test_a5_a7_a_declination_6_degrees_from_todays_variation_is_noted(declination: str, told: bool) -> None:
    # The variation at QHB on 2026-07-18 is 12.58W (WMM2025, as in the project's worked example).
    station = f"station QHB 113.70 N46 12.30 W039 20.70 decl {declination} class L elev 820ft"
    chart = "airway V801 QHB - 034 QEL 29.5nm mea 3000"
    some = found("declination-old", station, chart)
    assert some == ([f"note: QHB is aligned to {declination}; the variation there is 12.6W"] if told else [])


@pytest.mark.parametrize(
    ("declination", "told"),
    [
        # No VOR of the US is farther off than 7.7 degrees (824 in FAA NASR of 2026-05-14, WMM2025 on 2026-05-20).
        ("20W", "note"),
        ("23W", "warning"),
        ("2W", "warning"),
        ("28W", "error"),
        ("150W", "error"),
        ("15E", "error; is 15W meant?"),
        ("7E", "error; is 7W meant?"),
        ("3E", "error"),
    ],
)
def test_a_declination_with_the_other_letter_or_a_slipped_digit_is_an_error(declination: str, told: str) -> None:
    station = f"station QHB 113.70 N46 12.30 W039 20.70 decl {declination} class L elev 820ft"
    (some,) = found("declination-old", station, "airway V801 QHB - QEL 29.5nm mea 3000")
    severity, _, meant = told.partition(";")
    assert some.startswith(f"{severity}: QHB is aligned to {declination}; the variation there is 12.6W")
    assert some.endswith("meant?") == bool(meant)
    assert some.endswith(meant)


def test_a_wrong_declination_marks_the_course_of_each_leg_that_is_flown_by_it() -> None:
    station = "station QHB 113.70 N46 12.30 W039 20.70 decl 15E class L elev 820ft"
    report = reported(station, "airway V801 QHB - QEL 29.5nm mea 3000")
    by_it = [leg.number for leg in report.log.legs if leg.part.guidance and leg.part.guidance.station.ident == "QHB"]
    assert len(by_it) > 1
    assert [number for number in by_it if "set_course" not in meant(report)[number]] == []


def test_a_station_that_guides_beside_the_way_is_held_against_the_model_too() -> None:
    # Joined beyond QHB, which guides as far as the changeover point and is not passed.
    joined = ("fix MARSH N46 07.52 W039 22.90", "airway V801 QHB - MARSH 5nm - 034 QEL 24.5nm mea 3000")
    station = "station QHB 113.70 N46 12.30 W039 20.70 decl 15E class L elev 820ft"
    some = found("declination-old", station, *joined, "route MARSH V801 QEL/A055 XOLD", "-direct QHB")
    assert [one.rpartition(";")[2] for one in some] == [" is 15W meant?"]


def test_a_published_channel_that_is_not_paired_is_told() -> None:
    # ICAO Annex 10: 117.60 MHz is channel 123X.
    assert of("channel-unpaired", judged_text(UNVERIFIED, SampleCatalogue())) == [
        "warning: QUV 117.60 is published with channel 100X; paired is 123X"
    ]


def test_a_part_flown_by_another_station_marks_the_way_and_not_the_station_on_the_air() -> None:
    report = reported("unavailable QEL")
    lost = [one for one in report.findings if one.rule == "station-out" and one.leg is not None]
    assert lost
    for one in lost:
        guidance = next(leg.part.guidance for leg in report.log.legs if leg.number == one.leg)
        tuned = None if guidance is None else guidance.station.ident
        assert one.station == "QEL"
        marked = meant(report)[one.leg or 0]
        assert ("station" if tuned == "QEL" else "to") in marked
