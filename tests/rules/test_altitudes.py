"""Altitude limits: invented flights for the practice cases."""

from __future__ import annotations

import re

import pytest
from helpers.judged import CHART_ONLY, along, found

from navlog.rules.samples import FLOWN_BY_FILE

MOCA = "mea 3000 moca 2400"


def test_a36_row_18_moca_holds_to_22_nm_from_the_vor() -> None:
    # 14 CFR 91.177: the changeover point lies midway, so each station is used out to half the length.
    asked = ("altitude 2500", "rules ifr")
    assert found("moca-range", *along(f"QHB 212 - 032 QEL 43.8nm {MOCA}", *asked)) == []
    assert len(found("moca-range", *along(f"QHB 212 - 032 QEL 44.2nm {MOCA}", *asked))) == 2


def test_a36_the_middle_36_nm_of_80_are_below_a_legal_altitude() -> None:
    told = found("moca-range", *along(f"QHB 212 - 032 QEL 80nm {MOCA}", "altitude 2500", "rules ifr"))
    parts = [float(re.findall(r"([\d.]+) NM of it", one)[0]) for one in told]
    assert sum(parts) == pytest.approx(36.0)


def test_moca_is_nothing_without_a_vor() -> None:
    dead = ("unavailable QHB", "station QEL 110.20 kind dme")
    (told,) = found("moca-range", *along(f"QHB 212 - QEL 29.5nm {MOCA}", "altitude 2500", "rules ifr", *dead))
    assert told == "error: 2500 ft is below the MEA of 3000 ft and no VOR is in use"


def test_moca_of_a_station_whose_distance_nothing_tells_says_so() -> None:
    """Of a chart without positions the piece between two fixes tells neither of its ends' miles from QHB."""
    chart = (
        "station QHB 113.70 decl 15W",
        "station QEL 110.20 decl 17W",
        "airway V801 QHB 212 - ALPHA 8nm mea 3000 moca 2400 - BRAVO 9nm mea 3000 moca 2400"
        " - 034 QEL 30nm mea 3000 moca 2400",
        "fix ALPHA QHB 212 8nm",
        "fix BRAVO QHB 212 17nm",
        "variation 12W",
        "altitude 2500",
        "rules ifr",
        "route QHB V801 QEL",
    )
    told = found("moca-range", *chart)
    assert "error: 2500 ft is below the MEA of 3000 ft and how far QHB is from the leg is not known" in told


def test_a_height_under_the_mea_is_an_error_under_ifr() -> None:
    (told, other) = found("under-mea", "altitude 2300", "route XHAR QHB V801 QEL XOLD", "rules ifr")
    assert told == other == "error: 2300 ft is below the MEA of 3000 ft on V801"


def test_below_the_moca_a_visual_flight_is_told_what_is_not_assured() -> None:
    # 14 CFR 95.1(e): the MOCA assures obstruction clearance, and reception within 22 NM of the VOR.
    (told, other) = found("under-mea", "altitude 2300", "route XHAR QHB V801 QEL XOLD")
    assert told == other
    assert told == (
        "warning: 2300 ft is below the MOCA of 2400 ft (MEA 3000) on V801: neither clearance of the terrain nor"
        " reception is assured"
    )


def test_below_an_mea_alone_a_visual_flight_has_a_note() -> None:
    (told, _) = found("under-mea", "altitude 2500", "route XHAR QHB V801 QEL XOLD", HIGH.format(""))
    assert told == (
        "note: 2500 ft is below the MEA of 3000 ft on V801: neither reception nor, with no MOCA given, clearance of"
        " the terrain is assured"
    )


def test_more_than_1000_ft_below_an_mea_alone_a_visual_flight_is_warned() -> None:
    # 14 CFR 91.177(a)(2): "an altitude of 1,000 feet above the highest obstacle". Up to as much below the MEA nothing
    # on the way stands higher than the flight; farther below something may, and no other figure says that it does not.
    asked = "route XHAR QHB V801 QEL XOLD", "airway V801 QHB 212 - 034 QEL 29.5nm mea 4500 {}"
    note = "3500 ft is below the MEA of 4500 ft on V801: neither reception nor, with no MOCA given, clearance of the"
    way, chart = asked
    asked = way, chart.format("")
    (told, _) = found("under-mea", "altitude 3500", *asked)
    assert told == f"note: {note} terrain is assured"
    (told, _) = found("under-mea", "altitude 3499", *asked)
    assert told == (
        f"warning: {note.replace('3500', '3499')} terrain is assured; it is more than 1000 ft below, and nothing else"
        " tells how high the ground is"
    )
    # A MOCA or a terrain folder tells it.
    (told,) = found("under-mea", "altitude 3499", way, chart.format("moca 2400 cop 5 QHB"))
    assert told.startswith("note: ")
    (told, _) = found("under-mea", "altitude 3499", *asked, "terrain terrain")
    assert told == f"note: {note.replace('3500', '3499')} terrain is assured"
    (told, _) = found("under-mea", "altitude 3499", *asked, "rules ifr")
    assert told == "error: 3499 ft is below the MEA of 4500 ft on V801"


def test_between_moca_and_mea_a_visual_flight_has_a_note_beyond_22_nm() -> None:
    # The changeover point 5 NM from QHB has QEL used from 24.5 NM, and QHB out to 5 NM.
    (told,) = found("under-mea", "altitude 2500", HIGH.format("moca 2400 cop 5 QHB"), "route XHAR QHB V801 QEL XOLD")
    assert told == (
        "note: 2500 ft is below the MEA of 3000 ft on V801: farther than 22 NM from the VOR reception is not assured"
    )
    assert found("moca-range", "altitude 2500", HIGH.format("moca 2400 cop 5 QHB")) == []


def test_within_22_nm_an_instrument_flight_is_told_that_it_relies_on_the_moca() -> None:
    # 14 CFR 91.177(a)(1). The changeover point lies 11 NM from QHB, so QEL is used within 18.5 NM.
    asked = ("altitude 2500", "rules ifr", HIGH.format("moca 2400 cop 11 QHB"), "route XHAR QHB V801 QEL XOLD")
    (told, other) = found("under-mea", *asked)
    assert told == other
    assert told == (
        "note: 2500 ft is below the MEA of 3000 ft on V801: the MOCA of 2400 ft is relied on, which holds within 22 NM"
        " of the VOR while its signal is there"
    )
    assert found("moca-range", *asked) == []
    # 5 NM from QHB, QEL is used from 24.5 NM: there the other rule speaks.
    far = [one.replace("cop 11 QHB", "cop 5 QHB") for one in asked]
    assert len(found("under-mea", *far)) == len(found("moca-range", *far)) == 1
    assert found("under-mea", *(one for one in asked if one != "rules ifr")) == []


HIGH = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 {}"


def test_a_station_that_is_not_received_below_the_mea_is_a_warning() -> None:
    # By 1.23 x sqrt(h) 300 ft above the lowest ground of 350 ft see 21 NM, and QEL, 60 ft above it, 9.5 more; the
    # flight changes over to QEL at 29.5 NM.
    asked = ("altitude 450", HIGH.format("cop 0.1 QHB"), "route QHB V801 QEL")
    told = found("under-mea", *asked)
    assert told[-1].endswith("and the station used is out of range or below the horizon")
    assert told[-1].startswith("warning: 450 ft is below the MEA of 3000 ft on V801")
    assert found("below-horizon", *asked)


def test_climbs_and_descents_of_a_visual_flight_are_not_told_below_an_mea() -> None:
    asked = (*FLOWN_BY_FILE, "altitude 2500", HIGH.format(""), "route XHAR QHB/A045 V801 QEL")
    assert found("under-mea", *asked, "rules ifr") == []
    low = (*FLOWN_BY_FILE, "altitude 4500", HIGH.format(""), "route QHB/A025 V801 QEL/A045 XOLD", "-direct QEL")
    assert all("2500 ft is below" in told for told in found("under-mea", *low))


def test_a37_an_mca_holds_in_its_own_direction_only() -> None:
    chart = "QHB 212 - 032 QEL 29.5nm mea 3000 mca 5000 QHB to QEL"
    assert found("under-mca", *along(chart)) == [
        "warning: QHB is crossed at 4500 ft, below the MCA of 5000 ft toward QEL"
    ]
    assert found("under-mca", *along(chart, "altitude 5000")) == []
    assert found("under-mca", *along(chart, "route QEL V801 QHB")) == []


@pytest.mark.parametrize("toward", ["PINEY", "QEL"])
@pytest.mark.parametrize("statement", ["airway V801", "direct"])
def test_an_mca_holds_with_a_fix_between(statement: str, toward: str) -> None:
    """14 CFR 95.1: the lowest altitude at which a fix is crossed going on to a higher minimum, however far on."""
    fix = "fix PINEY QHB 212 12nm"
    chart = f"{statement} QHB 212 - PINEY 12nm mea 3000 mca 5000 QHB to {toward} - 034 QEL 17.5nm mea 3000"
    way = "V801" if statement == "airway V801" else "PINEY"
    there, back = f"route XHAR QHB {way} QEL XOLD", f"route XOLD QEL {way} QHB XHAR"
    told = found("under-mca", fix, chart, "altitude 4500", there)
    assert told == ["warning: QHB is crossed at 4500 ft, below the MCA of 5000 ft toward PINEY"]
    assert found("under-mca", fix, chart, "altitude 4500", back) == []
    assert found("under-mca", fix, chart, "altitude 5000", there) == []


def test_an_mca_written_for_the_other_way_holds_on_that_way() -> None:
    fix = "fix PINEY QHB 212 12nm"
    chart = "airway V801 QHB 212 - PINEY 12nm mea 3000 - 034 QEL 17.5nm mea 3000 mca 5000 QEL to QHB"
    told = found("under-mca", fix, chart, "altitude 4500", "route XOLD QEL V801 QHB XHAR")
    assert told == ["warning: QEL is crossed at 4500 ft, below the MCA of 5000 ft toward PINEY"]
    assert found("under-mca", fix, chart, "altitude 4500", "route XHAR QHB V801 QEL XOLD") == []


OVER_FIXES = (
    *CHART_ONLY,
    "fix LAKER QHB 212 10nm",
    "fix PINEY QHB 212 19nm",
    "airway V801 QHB 212 - LAKER 10nm mea 3000 mca 5000 QHB to QEL mca 5200 LAKER to QHB"
    " - PINEY 9nm mea 3000 mca 5400 PINEY to QHB mca 5600 PINEY to QEL - 032 QEL 10.5nm mea 3000 mca 5800 QEL to QHB",
)
"""An airway with two fixes between its stations and an MCA at every point that one can be crossed at."""


@pytest.mark.parametrize(
    ("route", "crossed"),
    [
        ("QHB V801 QEL", [("QHB", 5000, "LAKER"), ("PINEY", 5600, "QEL")]),
        ("QEL V801 QHB", [("QEL", 5800, "PINEY"), ("PINEY", 5400, "LAKER"), ("LAKER", 5200, "QHB")]),
        # Joined or left between, it is flown toward its end all the same; a point not flown over is not crossed.
        ("QHB V801 LAKER", [("QHB", 5000, "LAKER")]),
        ("LAKER V801 QEL", [("PINEY", 5600, "QEL")]),
        ("PINEY V801 LAKER V801 QHB", [("PINEY", 5400, "LAKER"), ("LAKER", 5200, "QHB")]),
        ("LAKER V801 PINEY", []),
    ],
)
def test_an_mca_toward_a_point_beyond_the_next_holds_over_the_fixes_between(
    route: str, crossed: list[tuple[str, int, str]]
) -> None:
    # AIM, Pilot/Controller Glossary: an MCA is for crossing "when proceeding in the direction of a higher minimum en
    # route IFR altitude (MEA)"; how many fixes there are on the way does not matter.
    assert found("under-mca", *OVER_FIXES, f"route {route}") == [
        f"warning: {at} is crossed at 4500 ft, below the MCA of {mca} ft toward {toward}" for at, mca, toward in crossed
    ]


def test_an_mca_over_fixes_is_met_by_a_climb_that_begins_in_time() -> None:
    chart = OVER_FIXES[-1].replace("5000 QHB", "3000 QHB")
    flown = (*FLOWN_BY_FILE, *OVER_FIXES[:-1], "-winds", "wind 230/12", "altitude 3500")
    assert found("under-mca", *flown, chart, "route QHB V801 PINEY/A060 V801 QEL") == []
    (told,) = found("under-mca", *flown, chart, "route QHB V801 PINEY/A050 V801 QEL")
    # 600 ft at the 500 ft/min of the aircraft file: 1.2 min, rounded up.
    missing = "below the MCA of 5600 ft toward QEL: 2 min of climbing are missing"
    assert told.endswith(f"{missing}, and none above the planned 5000 is laid out")


def test_a37_a_climb_that_begins_before_the_point_crosses_it_high_enough() -> None:
    chart = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 mca 5000 QHB to QEL"
    asked = (chart, "altitude 3500", "route XHAR QHB/A055 V801 QEL XOLD")
    assert found("under-mca", *FLOWN_BY_FILE, *asked) == []
    # With no figures for a climb the level changes at the point, which is crossed at 3,500 ft.
    assert len(found("under-mca", *asked)) == 1


def test_a40_the_mea_of_the_direction_flown_counts() -> None:
    chart = "QHB 212 - 032 QEL 29.5nm mea 3000/5000"
    assert found("under-mea", *along(chart)) == []
    assert found("under-mea", *along(chart, "route QEL V801 QHB"))


def test_the_climb_after_take_off_may_be_below_a_minimum() -> None:
    assert found("under-minimum", *FLOWN_BY_FILE) == []
    assert found("under-mea", *FLOWN_BY_FILE) == []


IFR = (*FLOWN_BY_FILE, "rules ifr")
HIGH_AIRWAY = "airway V801 QHB 212 - 034 QEL 29.5nm mea 6000"
MINIMUMS = ("under-mea", "under-minimum", "moca-range")


def under_minimums(*changed: str) -> list[str]:
    return [told for rule in MINIMUMS for told in found(rule, *changed)]


def test_the_climb_out_below_an_mea_is_necessary_for_take_off() -> None:
    # 14 CFR 91.177(a), "Except when necessary for takeoff or landing": QHB, 9.6 NM out, is passed below 6,000 ft
    # by an aeroplane that has climbed without a break since XHAR.
    asked = (*IFR, HIGH_AIRWAY, "altitude 6500", "route XHAR QHB V801 QEL", "direct QHB - XHAR 9.6nm min 5500")
    assert under_minimums(*asked) == []
    # The signal in the climb is judged all the same.
    blind = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft unusable 205-220"
    assert "warning: QHB is unusable on radials 205-220; radial 212 is used" in found("unusable-sector", *asked, blind)


def test_the_climb_out_after_a_landing_on_the_way_is_one_too() -> None:
    asked = (*IFR, HIGH_AIRWAY, "altitude 6500", "direct QHB - XHAR 9.6nm min 2500")
    assert under_minimums(*asked, "route QHB XHAR land QHB V801 QEL") == []


def test_level_flight_below_an_mea_after_the_climb_out_is_an_error() -> None:
    told = found("under-mea", *IFR, HIGH_AIRWAY, "altitude 3500", "route XHAR QHB V801 QEL")
    assert told
    assert set(told) == {"error: 3500 ft is below the MEA of 6000 ft on V801"}
    # A climb from a level that only begins below the MEA, at MARSH, mends nothing of the way before.
    marsh = ("fix MARSH N46 04.00 W039 24.23", "airway V801 QHB 212 - MARSH 8.9nm mea 6000 - 034 QEL 20.9nm mea 6000")
    late = found("under-mea", *IFR, *marsh, "altitude 3500", "route XHAR QHB V801 MARSH/A065 V801 QEL")
    assert "error: 3500 ft is below the MEA of 6000 ft on V801" in late


def test_a_climb_from_level_to_level_is_in_time_for_a_minimum_that_begins_at_a_point_in_it() -> None:
    # Level at 3,500 ft before QHB; the climb begins there and goes on past MARSH, beyond which 9,000 ft is the MEA.
    # 14 CFR 91.177(b) has that climb begin "immediately after passing the point beyond which that minimum altitude
    # applies", and no MCA asks to be higher at MARSH; the MEA up to there must have been reached.
    marsh = "fix MARSH N46 04.00 W039 24.23"
    airway = "airway V801 QHB 212 - MARSH 8.9nm mea {} - 034 QEL 20.9nm mea 9000"
    climb = (*IFR, marsh, "altitude 3500", "route XHAR QHB/A095 V801 QEL")
    assert found("under-mea", *climb, airway.format(3000)) == []
    late = found("under-mea", *climb, airway.format(7500))
    assert any("is below the MEA of 7500 ft" in told for told in late)
    assert any("is below the MEA of 9000 ft" in told for told in late)


def test_a_flight_that_starts_in_the_air_takes_off_nowhere() -> None:
    told = found("under-mea", *IFR, HIGH_AIRWAY, "altitude 3500", "route QHB V801 QEL")
    assert "error: 3500 ft is below the MEA of 6000 ft on V801" in told


@pytest.mark.parametrize(
    ("chart", "setting", "rule", "told"),
    [
        # ICAO Doc 7488/3: the standard atmosphere has 980 hPa at 920 ft, so FL050 is at 5,000 - 920 = 4,080 ft, and
        # 1040 hPa at -723 ft: 5,723 ft. The rule of thumb of 27 ft a hPa has 4,102 and 5,722 ft.
        ("mea 4500", "980hPa", "under-mea", "4080 ft (FL050 at 980 hPa) is below the MEA of 4500 ft on V801"),
        ("mea 4000", "980hPa", "under-mea", None),
        ("mea 5500", "1040hPa", "under-mea", None),
        ("mea 4500 moca 4200", "980hPa", "under-mea", "4080 ft (FL050 at 980 hPa) is below the MEA of 4500 ft on V801"),
        ("mea 3000 maa 5500", "1040hPa", "over-maa", "5723 ft (FL050 at 1040 hPa) is above the MAA of 5500 ft"),
        ("mea 3000 maa 4500", "980hPa", "over-maa", None),
        (
            "mea 3000 mca 4500 QHB to QEL",
            "980hPa",
            "under-mca",
            "QHB is crossed at 4080 ft (FL050 at 980 hPa), below the MCA of 4500 ft toward QEL",
        ),
        ("mea 3000 mca 5500 QHB to QEL", "1040hPa", "under-mca", None),
    ],
)
def test_a_flight_level_is_compared_as_the_altitude_that_it_is(
    chart: str, setting: str, rule: str, told: str | None
) -> None:
    asked = along(f"QHB 212 - 032 QEL 29.5nm {chart}", "altitude FL050", f"altimeter {setting}", "rules ifr")
    assert set(found(rule, *asked)) == ({f"error: {told}"} if told else set())


def test_a_flight_level_between_moca_and_mea_far_from_the_vor() -> None:
    # 4,080 ft, by the altimeter setting, between a MOCA of 4,000 and an MEA of 4,500 ft.
    asked = along("QHB 212 - 032 QEL 80nm mea 4500 moca 4000", "altitude FL050", "altimeter 980hPa", "rules ifr")
    assert all(
        "4080 ft (FL050 at 980 hPa) is below the MEA of 4500 ft, " in told for told in found("moca-range", *asked)
    )
    assert len(found("moca-range", *asked)) == 2


def test_a_flight_level_against_a_stated_minimum_and_the_ground() -> None:
    asked = ("altitude FL050", "altimeter 980hPa", "route XHAR QHB V801 QEL")
    (told,) = found("under-minimum", *asked, "direct QHB - XHAR 9.6nm min 4500")
    assert told == "warning: 4080 ft (FL050 at 980 hPa) is below the stated minimum of 4500 ft"
    high = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 4200ft"
    assert found("under-ground", *asked, high) == ["error: 4080 ft (FL050 at 980 hPa) is below QHB, elevation 4200 ft"]
    assert found("under-ground", "altitude FL050", "altimeter 1013hPa", high) == []


def test_a_flight_level_against_an_mra() -> None:
    crossing = (
        "station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft",
        "fix MARSH N46 04.00 W039 24.23 mra 4500",
        "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000",
        "altitude FL050",
        "route XHAR QHB V801 QEL XOLD",
    )
    (told,) = found("under-mra", *crossing, "altimeter 980hPa")
    assert "MARSH is reached at 4080 ft (FL050 at 980 hPa), below its MRA of 4500 ft" in told
    assert found("under-mra", *crossing, "altimeter 1013hPa") == []


@pytest.mark.parametrize("chart", ["mea 3000", "moca 3000", "maa 9000", "mca 3000 QHB to QEL"])
def test_a_flight_level_without_a_setting_is_told_wherever_it_is_compared(chart: str) -> None:
    airway = f"QHB 212 - 032 QEL 29.5nm {chart}"
    assert len(found("level-without-altimeter", *along(airway, "altitude FL085"))) == 1
    assert found("level-without-altimeter", *along(airway, "altitude FL085", "altimeter 1013hPa")) == []


def test_a_stated_minimum_and_a_flight_level_without_a_setting() -> None:
    (told,) = found("level-without-altimeter", "altitude FL085", "route QHB XHAR", "-airway V801")
    assert "the height above the stated minimum is not known" in told


def test_a_climb_by_flight_level_reaches_an_mca_by_the_setting() -> None:
    # At 980 hPa a crossing altitude of 4,000 ft is a pressure altitude of 4,920 ft.
    chart = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 mca 4000 QHB to QEL"
    asked = (*FLOWN_BY_FILE, chart, "altitude FL035", "altimeter 980hPa", "route XHAR QHB/F065 V801 QEL XOLD")
    assert found("under-mca", *asked) == []


@pytest.mark.parametrize(("level", "limit"), [("914.4m", "3000"), ("3000", "914.4m"), ("914.4m", "914.4m")])
def test_a_level_in_metres_is_the_same_in_feet(level: str, limit: str) -> None:
    # 914.4 m are 3,000 ft of 0.3048 m (international yard and pound agreement, 1959).
    chart = f"QHB 212 - 032 QEL 29.5nm mea {limit} maa {limit} mca {limit} QHB to QEL"
    asked = along(chart, f"altitude {level}")
    assert [told for rule in ("under-mea", "over-maa", "under-mca") for told in found(rule, *asked)] == []


def test_a_climb_to_a_higher_minimum_may_start_at_the_point() -> None:
    # 14 CFR 91.177(b): level at 4,500 ft before QHB, 5,500 ft asked beyond it.
    chart = "airway V801 QHB 212 - 034 QEL 29.5nm mea 5500"
    assert found("under-mea", *FLOWN_BY_FILE, chart, "altitude 2500", "route XHAR QHB/A055 V801 QEL XOLD") == []
