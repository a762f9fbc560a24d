"""Obstacles that a notice places near the way, held against the heights flown past them."""

from __future__ import annotations

import pytest
from helpers.noticed import flown

from navlog.request.references import References
from navlog.rules.answers import Answer, check_text
from navlog.rules.registry import Severity
from navlog.rules.samples import FILES, sample

DAY = "2607180000-2607182359"


def found(answer: Answer, rule: str) -> list[str]:
    return [one.message for one in answer.findings if one.rule == rule]


def mast(where: str, top_ft: int) -> str:
    return f"!XHA 07/001 XHA OBST TOWER LGT (ASR 1234567) {where} {top_ft}FT (900FT AGL) U/S {DAY}"


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
            "100 ft BELOW an obstacle of 4600 ft in 2.0 NM around, 0.9 NM off",
        ),
        (
            "WIND FARM 4600FT AMSL, RADIUS 11.112KM CENTRED 455757N0391400W.",
            "100 ft BELOW an obstacle of 4600 ft in 6.0 NM around, 2.7 NM off",
        ),
        ("CRANE ERECTED AT THE QUARRY, HGT 4600FT AMSL.", "100 ft BELOW an obstacle of 4600 ft in 5.0 NM around"),
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


def test_a_line_or_polygon_counts_as_the_circle_that_holds_it() -> None:
    """From W039 07 to W039 23 on N45 57.95 are 16' x cos 45.97 = 11.1 NM: a circle of 5.56 NM about W039 15."""
    line = f"!XHA 07/001 XHA OBST POWER LINE 455757N0390700W TO 455757N0392300W 4600FT (100FT AGL) {DAY}"
    (told,) = found(flown(line), "obstacle-by-notice")
    assert told.startswith("100 ft BELOW an obstacle of 4600 ft in 5.6 NM around, 2.")


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
        (message,) = found(answer, "obstacle-by-notice")
        feet, _, side = message.partition(" ft ")
        margins.append(float(feet) * (1.0 if side.startswith("above") else -1.0))
    assert margins[1] < margins[0] - 100.0, margins
