"""Obstacles that a notice places near the way, held against the heights flown past them."""

from __future__ import annotations

import pytest
from helpers.noticed import DAY, flown, found, mast

from navlog.flightlog.records import Phase
from navlog.request.references import References
from navlog.rules.answers import check_text
from navlog.rules.registry import Finding, Severity
from navlog.rules.samples import FILES, FLOWN_BY_FILE, sample


# QHB is at N46 12.30 W039 20.70, QEL 29.5 NM from it on 197 true; a point 15 NM along is N45 57.95 W039 27.00, and 3 NM
# east of it, 4 NM being 14 CFR 91.177's width, W039 22.69. At 4,500 ft.
@pytest.mark.parametrize(
    ("where", "top_ft", "severity"),
    [
        ("455757N0392700W", 4600, Severity.WARNING),
        ("455757N0392241W", 4000, Severity.WARNING),
        ("455757N0392700W", 3400, Severity.NOTE),
        ("455757N0390700W", 4600, None),
    ],
)
def test_an_obstacle_of_a_notice_near_the_way_is_told_by_its_height(
    where: str, top_ft: int, severity: Severity | None
) -> None:
    answer = flown(mast(where, top_ft))
    told = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
    assert [one.severity for one in told] == ([severity] if severity is not None else [])
    if severity is not None:
        assert told[0].message.startswith(
            f"{abs(4500 - top_ft)} ft {'above' if top_ft < 4500 else 'BELOW'} an obstacle of"
        )
        assert "OBST TOWER LGT" in told[0].message


def test_under_ifr_outside_known_mountains_an_obstacle_asks_for_2000_ft() -> None:
    """14 CFR 91.177(a)(2)(i); what nobody has decided counts as mountainous."""
    for rules, severity in (("ifr", Severity.WARNING), ("vfr", Severity.NOTE)):
        answer = flown(mast("455757N0392700W", 3000), f"rules {rules}")
        (told,) = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
        assert told.severity is severity


def test_a_crane_by_the_field_is_no_warning_for_a_climb_and_a_hill_s_mast_is() -> None:
    """XHAR lies at 790 ft: the pattern is 1,000 ft above it, and lower masts are its business."""
    text = sample("notices notices.txt", "aircraft climber.toml", "-tas", "-burn")
    for top_ft, severity in ((1200, Severity.NOTE), (2400, Severity.WARNING)):
        files = References({**FILES, "notices.txt": mast("461430N0390900W", top_ft)})
        (answer,) = check_text(text, "x.route", references=files)
        (told,) = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
        assert told.severity is severity, told


@pytest.mark.parametrize(
    "text",
    [
        "OBST POWER LINE LGT 455757N0392700W UNKNOWN (200FT AGL) U/S",
        "OBST TOWER 3100FT (900FT AGL) NEAR QEL",
        "OBST TOWER LGT (ASR 1234567) 456157N0392700W (5NM N QEL) 4600FT (900FT AGL) U/S",
        "OBST WIND TURBINE FARM WI AN AREA DEFINED AS A CIRCLE ABOUT 455757N0392700W 4600FT (400FT AGL)",
    ],
)
def test_an_obstacle_that_is_not_read_whole_is_printed_whole_with_a_warning(text: str) -> None:
    answer = flown(f"!XHA 07/001 XHAR {text} {DAY}")
    assert found(answer, "obstacle-by-notice") == []
    assert found(answer, "notice-idle") == []
    (told,) = found(answer, "notice-not-understood")
    assert text in told


def crane(words: str, q_code: str = "QOBCE", circle: str = "4558N03927W005") -> str:
    """An ICAO notice on an obstacle; QOBCE is `obstacle erected` (ICAO Doc 8400; FAA JO 7930.2, appendix B)."""
    return (
        f"(A0201/26 NOTAMN\nQ) XXXX/{q_code}/IV/M/AE/000/999/{circle}\nA) XXXX B) 2607180000 C) 2607182359\nE) {words})"
    )


# 1402 m is 4599.7 ft, 100 ft above 4,500. From W039 27.00 to W039 22.69 on N45 57.95 are 3.0 NM, x cos 17 = 2.9 NM
# from the course; to W039 14.00 they are 9.05 NM, 8.7 NM from it.
@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("CRANE ERECTED PSN 455757N0392700W ELEV 1402M AMSL.", "100 ft BELOW an obstacle of 4600 ft, 0.0 NM off"),
        ("CRANE ERECTED PSN 455757N 0392700W MAX ELEV 4600FT.", "100 ft BELOW an obstacle of 4600 ft, 0.0 NM off"),
        ("MAST N455757 W0392700 TOP 1402M MSL ERECTED.", "100 ft BELOW an obstacle of 4600 ft, 0.0 NM off"),
        ("CRANE 45-57-57N 039-27-00W ELEV 4600FT.", "100 ft BELOW an obstacle of 4600 ft, 0.0 NM off"),
        (
            "CRANES WITHIN 2NM RADIUS OF 455757N0392241W ELEV 4600FT AMSL.",
            "100 ft BELOW an obstacle of 4600 ft, 0.9 NM off",
        ),
        (
            "WIND FARM 4600FT AMSL, RADIUS 11.112KM CENTRED 455757N0391400W.",
            "100 ft BELOW an obstacle of 4600 ft, 2.7 NM off",
        ),
        ("CRANE ERECTED AT THE QUARRY, HGT 4600FT AMSL.", "100 ft BELOW an obstacle of 4600 ft"),
    ],
)
def test_an_obstacle_in_the_icao_form_is_held_against_the_flight(words: str, told: str) -> None:
    (message,) = found(flown(crane(words)), "obstacle-by-notice")
    assert message.startswith(told), message


@pytest.mark.parametrize(
    "words",
    [
        "CRANE ERECTED PSN 455757N0392700W HGT 45M AGL.",
        "CRANE ERECTED PSN 455757N0392700W GND ELEV 790FT HGT 45M.",
        "CRANE ERECTED PSN 455757N0392700W ELEV 99999FT AMSL.",
        "CRANE ERECTED PSN 456157N0392700W ELEV 4600FT AMSL.",
        "CRANE ERECTED AT THE QUARRY.",
        "CRANES WITHIN A RADIUS OF SOME MILES OF 455757N0392700W ELEV 4600FT AMSL.",
    ],
)
def test_an_icao_obstacle_not_read_whole_is_told_where_it_may_stand_near_the_way(words: str) -> None:
    for q_code in ("QOBCE", "QXXXX"):
        (told,) = found(flown(crane(words, q_code)), "notice-not-understood")
        assert words.rstrip(".") in told
    far_away = crane(words, circle="4558N03000W005").replace("0392700W", "0300000W")
    assert found(flown(far_away), "notice-not-understood") == []


@pytest.mark.parametrize(
    "words",
    [
        "MAST PSN 455757N0392700W ELEV 4600FT AMSL, 5NM N OF ZZZ VOR, LGT U/S.",
        "CRANE PSN 455757N0392700W ELEV 4600FT AMSL. AD CLSD AT ZZZZ.",
    ],
)
def test_an_obstacle_whose_words_name_another_matter_stands_there_all_the_same(words: str) -> None:
    answer = flown(crane(words))
    assert found(answer, "obstacle-by-notice")[0].startswith("100 ft BELOW an obstacle of 4600 ft, 0.0 NM off")
    assert len(found(answer, "notice-not-understood")) == 1


def test_a_line_or_polygon_counts_as_the_circle_that_holds_it() -> None:
    """From W039 07 to W039 23 on N45 57.95 are 16' x cos 45.97 = 11.1 NM: a circle of 5.56 NM about W039 15."""
    line = f"!XHA 07/001 XHA OBST POWER LINE 455757N0390700W TO 455757N0392300W 4600FT (100FT AGL) {DAY}"
    (told,) = found(flown(line), "obstacle-by-notice")
    assert told.startswith("100 ft BELOW an obstacle of 4600 ft, 2.")


def test_places_each_with_its_height_are_obstacles_of_their_own() -> None:
    words = "1. CRANE PSN 455757N0392700W ELEV 3000FT AMSL 2. CRANE PSN 455757N0390700W ELEV 5000FT AMSL."
    (told,) = found(flown(crane(words)), "obstacle-by-notice")
    assert told.startswith("1500 ft above an obstacle of 3000 ft, 0.0 NM off")


def test_an_area_is_passed_at_the_lowest_height_over_it() -> None:
    """A climb is lower where it enters the area than abeam of its middle."""
    text = sample("notices notices.txt", "aircraft climber.toml", "-tas", "-burn")
    margins = []
    for area in ("", "WI AN AREA DEFINED AS 2NM RADIUS OF "):
        words = f"OBST WIND TURBINE FARM {area}461330N0391330W (5NM W XHAR) 4400FT (400FT AGL)"
        files = References({**FILES, "notices.txt": f"!XHA 07/001 XHA {words} {DAY}"})
        (answer,) = check_text(text, "x.route", references=files)
        # The stretches from XHAR to QHB and on are both in its reach.
        message, *_ = found(answer, "obstacle-by-notice")
        feet, _, side = message.partition(" ft ")
        margins.append(float(feet) * (1.0 if side.startswith("above") else -1.0))
    assert margins[1] < margins[0] - 100.0, margins


# From QEL, N45 44.10 W039 33.00, to XOLD, N45 41.00 W039 20.00 at 350 ft, are 9.60 NM; half of it is N45 42.55 W039
# 26.50. A descent at 100 kt of calibrated airspeed and 500 ft a minute from 3,500 ft to the pattern, 1,000 ft above the
# field, takes 4.3 min at 102.0 to 105.3 kt (density ratios 0.9611 and 0.9015): 7.43 NM. Half way, 4.80 NM before XOLD,
# it is at 1350 + 2150 x 4.80 / 7.43 = 2739 ft.
@pytest.mark.parametrize(
    ("top_ft", "severity", "above_ft"),
    # FAA AIM 5-2-9: of 200 ft a mile 152 are the obstacles' surface, 48 clear it; over 4.80 NM that makes 230 ft.
    [
        (2000, Severity.NOTE, 739),
        (2495, Severity.NOTE, 244),
        (2525, Severity.WARNING, 214),
        (2800, Severity.WARNING, -61),
    ],
)
def test_a_descent_must_pass_above_the_top_at_the_height_that_it_has_there(
    top_ft: int, severity: Severity, above_ft: int
) -> None:
    told = _descending("454233N0392630W", top_ft)
    number, side = told.message.split()[0], told.message.split()[2]
    assert told.severity is severity
    assert int(number) * (1 if side == "above" else -1) == pytest.approx(above_ft, abs=10)


def test_a_mast_below_the_last_of_a_descent_is_held_against_500_ft_above_the_field() -> None:
    # Half a mile before XOLD, under IFR, which descends to the field, at 500 ft a minute and 101 kt: 350 + 149 are 499.
    # On 109 degrees 0.3 NM north of there is a tenth of a mile before it, 29 ft more, and 0.28 beside.
    for where, top_ft, severity, below_ft in (
        ("454127N0392042W", 800, Severity.NOTE, 272),
        # 48 ft for each mile from the field are 29 there, which 50 are more than and none is not.
        ("454127N0392042W", 850, Severity.WARNING, 322),
        ("454127N0392042W", 851, Severity.ERROR, 323),
        # On the course itself it is met, as a published one is.
        ("454109N0392042W", 800, Severity.ERROR, 301),
    ):
        told = _descending(where, top_ft, "rules ifr")
        number, side = told.message.split()[0], told.message.split()[2]
        assert (told.severity, side) == (severity, "BELOW")
        assert int(number) == pytest.approx(below_ft, abs=3)
        assert (" NM off, no more than 500 ft above the field: " in told.message) == (severity is Severity.NOTE)
        assert (told.by == 0.0) is (severity is Severity.NOTE)


@pytest.mark.parametrize(
    ("centre", "field", "top_ft", "severity"),
    [
        # 4 minutes of latitude beside a field are 4 NM: inside an area of 5 NM, outside one of 3.
        ("383400N0970000W", "XBB", 2000, Severity.WARNING),
        ("383400N0970000W", "XBB", 1801, Severity.WARNING),
        # No higher above the field than the masts about any.
        ("383400N0970000W", "XBB", 1800, Severity.NOTE),
        ("375600N0970000W", "XAA", 2000, Severity.WARNING),
    ],
)
def test_a_take_off_or_landing_inside_an_area_of_obstacles_is_below_their_tops(
    centre: str, field: str, top_ft: int, severity: Severity
) -> None:
    text = (
        "airport XAA N38 00.00 W097 00.00 elev 1300ft\nairport XBB N38 30.00 W097 00.00 elev 1300ft\n"
        "date 2026-07-18\noff 15:00Z\nwind calm\naltitude 5000\ntas 120kt\nburn 8gph\nfuel 30gal\n"
        "notices notices.txt\nroute XAA XBB\n"
    )
    for radius_nm in (5, 3):
        area = f"WIND TURBINE FARM WI AN AREA DEFINED AS {radius_nm}NM RADIUS OF {centre} {top_ft}FT (500FT AGL)"
        files = References({"notices.txt": f"!XHA 07/001 XHA OBST {area} {DAY}"})
        (answer,) = check_text(text, "x.route", references=files)
        (told,) = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
        # Where no field lies in it, it is passed as elsewhere, at 5,000 ft.
        inside = radius_nm == 5
        begin = (
            f"{field} lies {top_ft - 1300} ft BELOW the top of an area" if inside else f"{5000 - top_ft} ft above an"
        )
        assert told.message.startswith(begin)
        assert told.severity is (severity if inside else Severity.NOTE)


@pytest.mark.parametrize(
    ("where", "top_ft", "told"),
    [
        # From 9,000 ft to XOLD at 350 ft; 2.4 and 5 minutes of latitude south of it are 2.4 and 5.0 NM.
        ("453836N0392000W", 851, (Severity.WARNING, "501 ft BELOW an obstacle of 851 ft, 2.4 NM off: ")),
        ("453836N0392000W", 850, (Severity.NOTE, "500 ft BELOW an obstacle of 850 ft, 2.4 NM off, no more than 500")),
        ("453600N0392000W", 851, None),
    ],
)
def test_height_that_is_lost_over_the_field_is_lost_beside_what_stands_about_it(
    where: str, top_ft: int, told: tuple[Severity, str] | None
) -> None:
    files = References({**FILES, "notices.txt": mast(where, top_ft)})
    flight = ("airway V801 QHB 212 - 034 QEL 29.5nm mea 9000", "altitude 9000", "rules ifr", "notices notices.txt")
    (answer,) = check_text(sample(*FLOWN_BY_FILE, *flight), "x.route", references=files)
    assert answer.report is not None
    assert answer.report.log.legs[-1].phase is Phase.LOSING
    found_here = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
    assert [one.severity for one in found_here] == ([] if told is None else [told[0]])
    assert told is None or found_here[0].message.startswith(told[1])


def test_each_stretch_that_passes_an_obstacle_too_low_is_told() -> None:
    # Along V801 at 4,500 ft and back at 5,500, each less than 2,000 ft above 4,000. The mast stands 10.3 NM from QHB,
    # before the changeover at 11: abeam of leg 1, and of leg 4 on the way back.
    for route, over_ft in (
        ("route QHB V801 QEL/A055 V801 QHB", {"leg 1": 500, "leg 4": 1500}),
        ("route QHB/A055 V801 QEL/A045 V801 QHB", {"leg 1": 1500, "leg 4": 500}),
        ("route QHB V801 QEL V801 QHB", {"leg 1": 500, "leg 4": 500}),
        # Where one stretch falls short and the other not, it alone is told.
        ("route QHB V801 QEL/A060 V801 QHB", {"leg 1": 500}),
    ):
        answer = flown(mast("460227N0392500W", 4000), "rules ifr", "-direct QHB", "-direct QEL", route)
        told = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
        assert {one.where: int(one.message.split()[0]) for one in told} == over_ft
        assert all(one.by == pytest.approx(2000 - over_ft[one.where]) for one in told)


def test_a_descent_that_clears_its_top_by_little_does_not_hide_level_flight_too_near_above_it() -> None:
    # Level at 3,500 ft it is passed 900 ft above, 100 less than asked; the descent 139 ft above, 230 - 139 = 91 less.
    told = _descending("454233N0392630W", 2600, "route XHAR QHB V801 QEL XOLD over QEL XOLD", count=3)
    assert (told.severity, told.message[:13]) == (Severity.WARNING, "900 ft above ")
    assert told.by == pytest.approx(100)


# XHAR to QHB is the first stretch, QEL to XOLD the last; QHB to QEL begins and ends at stations.
@pytest.mark.parametrize(
    ("where", "told"),
    [
        ("461330N0391400W", "4000 ft above an obstacle of 500 ft, 0.1 NM off, level: no climb from XHAR is planned:"),
        ("454233N0392630W", "5000 ft above an obstacle of 500 ft, 0.0 NM off, level: no descent to XOLD is planned:"),
        ("455757N0392700W", "4000 ft above an obstacle of 500 ft, 0.0 NM off:"),
    ],
)
def test_without_a_climb_planned_the_height_by_a_field_is_said_to_be_level(where: str, told: str) -> None:
    (message,) = found(flown(mast(where, 500)), "obstacle-by-notice")
    assert message.startswith(told), message


def test_where_a_descent_is_planned_its_height_is_the_one_told() -> None:
    assert " is planned" not in _descending("454233N0392630W", 500).message


def test_an_obstacle_beside_the_far_half_of_a_section_is_placed_along_it() -> None:
    # 25 of the 29.5 NM from QHB to QEL, of which QEL guides the last 18.5.
    answer = flown(mast("454824N0393107W", 4600), "route XHAR QHB V801 QEL", "-direct QEL")
    (told,) = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
    assert (told.where, told.message[:13]) == ("leg 3", "100 ft BELOW ")


def test_an_obstacle_that_the_way_to_the_alternate_passes_alike_is_told_once() -> None:
    # At QEL itself, where the flight ends at 4,500 ft and the way to its alternate begins.
    answer = flown(mast("454406N0393300W", 4500), "route XHAR QHB V801 QEL", "-direct QEL", "alternate XHAR")
    (told,) = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
    assert (told.where, told.message[:11]) == ("leg 3", "0 ft above ")


def test_under_ifr_outside_mountains_1000_ft_are_enough() -> None:
    """14 CFR 91.177(a)(2)(ii); 95.11 and after name no mountains in Kansas."""
    text = (
        "airport XAA N38 00.00 W097 00.00 elev 1300ft\nairport XBB N38 30.00 W097 00.00 elev 1300ft\n"
        "date 2026-07-18\noff 15:00Z\nwind calm\naltitude 5000\ntas 120kt\nburn 8gph\nfuel 30gal\nrules ifr\n"
        "notices notices.txt\nroute XAA XBB\n"
    )
    for top_ft, severity in ((4000, Severity.NOTE), (4001, Severity.ERROR)):
        files = References({"notices.txt": mast("381500N0970000W", top_ft)})
        (answer,) = check_text(text, "x.route", references=files)
        (told,) = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
        assert told.severity is severity


# QHB to QEL is an airway with its own MEA, which 14 CFR 91.177(a)(1) asks for; XHAR to QHB, 9.6 NM, is flown direct.
# N46 13.50 W039 14.00 lies 4.7 NM from QHB between them.
@pytest.mark.parametrize(
    ("where", "top_ft", "statements", "severity"),
    [
        ("455757N0392700W", 4501, ("rules ifr",), Severity.ERROR),
        ("455757N0392700W", 4500, ("rules ifr",), Severity.WARNING),
        ("455757N0392700W", 4501, ("rules vfr",), Severity.WARNING),
        ("461330N0391400W", 2501, ("rules ifr", "-direct QHB"), Severity.ERROR),
        ("461330N0391400W", 2499, ("rules ifr", "-direct QHB"), Severity.NOTE),
        ("461330N0391400W", 2501, ("rules ifr",), Severity.WARNING),
        ("461330N0391400W", 4501, ("rules ifr",), Severity.ERROR),
        ("461330N0391400W", 3501, ("rules vfr", "-direct QHB"), Severity.WARNING),
    ],
)
def test_under_ifr_an_obstacle_is_graded_as_terrain_is(
    where: str, top_ft: int, statements: tuple[str, ...], severity: Severity
) -> None:
    """Above the flight an error; 14 CFR 91.177(a)(2) where no minimum is published or stated, 2,000 ft here."""
    (told,) = [one for one in flown(mast(where, top_ft), *statements).findings if one.rule == "obstacle-by-notice"]
    assert told.severity is severity, told.message


def test_an_error_on_one_leg_is_told_before_a_leg_that_falls_short_by_more() -> None:
    # At QHB itself: direct at 4,500 ft 1,700 ft above 2,800 and without a minimum, by airway at 4,000 ft 1,200.
    where = mast("461218N0392042W", 2800)
    answer = flown(where, "rules ifr", "-direct QHB", "route XHAR QHB/A040 V801 QEL XOLD")
    told, after = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
    assert (told.severity, told.where, told.message[:14]) == (Severity.ERROR, "leg 1", "1700 ft above ")
    assert (after.severity, after.where, after.message[:14]) == (Severity.WARNING, "leg 2", "1200 ft above ")


def test_a_climb_must_pass_48_ft_above_an_obstacle_for_each_mile_from_the_airport() -> None:
    """FAA AIM 5-2-9. The mast stands 1.88 NM west of XHAR and 0.17 north, 1.79 along the course: 86 ft are asked."""
    text = sample("notices notices.txt", "aircraft climber.toml", "-tas", "-burn")
    over_ft = {}
    for top_ft in (1000, 1700, 1780, 1860, 1940):
        files = References({**FILES, "notices.txt": mast("461440N0390955W", top_ft)})
        (answer,) = check_text(text, "x.route", references=files)
        (told,) = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
        feet = int(told.message.split()[0]) * (1 if told.message.split()[2] == "above" else -1)
        over_ft[feet] = told.severity, told.by
    assert {one > 86 for one in over_ft} == {True, False}
    for feet, (severity, by) in over_ft.items():
        assert severity is (Severity.NOTE if feet >= 86 else Severity.WARNING), over_ft
        assert by == pytest.approx(max(0, 86 - feet), abs=1)


def test_a_descent_is_lowest_at_the_end_of_an_area() -> None:
    # As half way above, with a radius of 1 NM: 3.80 NM before XOLD, at 1350 + 2150 x 3.80 / 7.43 = 2450 ft.
    told = _descending("1NM RADIUS OF 454233N0392630W", 2000)
    assert int(told.message.split()[0]) == pytest.approx(450, abs=10)


def _descending(where: str, top_ft: int, *statements: str, count: int = 1) -> Finding:
    """What is told first of a mast to a flight that descends from QEL to XOLD, of so many stretches in all."""
    files = References({**FILES, "notices.txt": mast(where, top_ft)})
    flight = ("notices notices.txt", "aircraft climber.toml", "-tas", "-burn", "wind calm", "altitude 3500")
    text = sample(*flight, "-direct QEL", "route XHAR QHB V801 QEL XOLD", *statements)
    (answer,) = check_text(text, "x.route", references=files)
    told = [one for one in answer.findings if one.rule == "obstacle-by-notice"]
    assert len(told) == count
    return told[0]
