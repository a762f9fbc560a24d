"""Cruising levels: 14 CFR 91.159 and 91.179, ICAO Annex 2, New Zealand, and where references disagree."""

from __future__ import annotations

import pytest
from helpers.judged import along, found, judged, judged_text, of, reported, reported_text

from navlog.flightlog.records import Phase
from navlog.nav.cruising_levels import ICAO, NZ, TABLES, US, LevelTable, fits, levels_around_ft
from navlog.printed.findings import findings_lines
from navlog.printed.meant import meant
from navlog.rules.samples import FLOWN_BY_FILE, SampleCatalogue


def on_course(course: int, *more: str) -> tuple[str, ...]:
    """A flight along a charted airway with this course set at both ends."""
    return along(f"QHB {course:03d} - {(course + 180) % 360 or 360:03d} QEL 29.5nm mea 3000", *more)


def warned(course: int, level: int | str, *more: str) -> bool:
    """Whether a level is found wrong on a course."""
    told = found("cruising-level", *on_course(course, f"altitude {level}", *more))
    return any(" hold " in one for one in told)


@pytest.mark.parametrize(("level", "right"), [(5500, True), (6500, False)])
def test_the_first_course_known_counts_where_none_is_set_on_leaving(level: int, right: bool) -> None:
    # QHB is out, and no position tells the way out of it: 060 is set for QEL alone, from the changeover on.
    assert warned(60, level, "unavailable QHB") is not right


@pytest.mark.parametrize(
    ("course", "level", "right"),
    [(3, 5500, True), (3, 6500, False), (183, 6500, True), (183, 5500, False)],
)
def test_row_31_vfr_levels_by_magnetic_course(course: int, level: int, right: bool) -> None:
    assert warned(course, level) is not right


@pytest.mark.parametrize(("course", "odd"), [(179, True), (180, False), (359, False), (360, True)])
def test_row_32_ifr_levels_are_odd_or_even_thousands(course: int, odd: bool) -> None:
    assert US.is_odd(course) is odd
    assert warned(course, 7000 if odd else 8000, "rules ifr") is False
    assert warned(course, 8000 if odd else 7000, "rules ifr") is True


@pytest.mark.parametrize(("course", "level"), [(175, 5500), (185, 4500)])
def test_a41_the_course_counts_whatever_the_heading(course: int, level: int) -> None:
    # A wind from the side turns the heading across north or south, the course stays.
    for wind in ("wind calm", "wind 090/40", "wind 270/40"):
        assert not warned(course, level, wind)
        assert warned(course, level + 1000, wind)


def test_a_level_is_told_once_for_a_half_of_the_compass_as_set_not_as_true() -> None:
    # 005 and 175 are both set between 000 and 179; at a declination of 13W they are 352 and 162 true, two halves.
    told = found(
        "cruising-level",
        "station QHB 113.70 decl 13W",
        "station QEL 110.20 decl 13W",
        "station QSK 112.40 decl 13W",
        "variation 13W",
        "-airway V801",
        "direct QHB 005 - 185 QEL 30nm",
        "direct QEL 175 - 355 QSK 40nm",
        "route QHB QEL QSK",
        "altitude 4500",
    )
    (wrong,) = [one for one in told if " hold " in one]
    assert "on set course 175 magnetic" in wrong  # the longer of the two


def test_a_level_is_held_against_the_course_though_no_time_is_known() -> None:
    assert warned(90, 4500, "-wind")
    assert not warned(90, 5500, "-wind")


def test_the_setting_of_the_next_station_may_be_of_the_other_half() -> None:
    # Out on 178, and in on the radial 001, 181 TO; the model says 178 true and 13 more, which is of that half too.
    (told,) = found("cruising-level", *along("QHB 178 - 001 QEL 29.5nm mea 3000", "altitude 5500", "variation 0E"))
    assert told == "note: set course 178 magnetic counts for the level; 181 is of the other half"


def test_a_level_under_ifr_is_a_note_and_under_vfr_a_warning() -> None:
    assert found("cruising-level", *on_course(90, "altitude 6500"))[0].startswith("warning: 6500 on set course 090")
    (note,) = found("cruising-level", *on_course(90, "altitude 6000", "rules ifr"))
    assert note.startswith("note: 6000 on set course 090")
    assert "uncontrolled airspace" in note


def test_vfr_levels_bind_from_3000_ft_over_the_lowest_elevation_known() -> None:
    high = ("station QHB 113.70 elev 4000ft", "station QEL 110.20 elev 4100ft")
    assert not any("hold" in one for one in found("cruising-level", *on_course(90, *high, "altitude 7000")))
    (told,) = found("cruising-level", *on_course(90, *high, "altitude 7100"))
    assert "if more than 3000 ft above the surface, 5500 or 7500 ft" in told


def test_the_surface_is_that_of_the_stretch_and_no_lowland_elsewhere() -> None:
    # 14 CFR 91.159: "more than 3,000 feet above the surface". XHAR and QHB lie at 790 and 820 ft, QEL and XOLD at 410
    # and 350: 3,700 ft are 2,910 ft above the first two, and more than 3,000 above QEL.
    def told_on(*changed: str) -> set[int | None]:
        told = [one for one in judged("altitude 3700", *changed) if one.rule == "cruising-level"]
        return {number for one in told for number in (one.leg, *one.also) if " hold " in one.message}

    assert told_on() == {2, 3}
    assert told_on("station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 900ft") == set()
    # Where the elevation of an end is not known the lowest of the flight stands for the surface.
    assert 1 in told_on("airport XHAR N46 14.50 W039 07.20")


def test_a42_charted_179_and_computed_181_are_told() -> None:
    # By position QEL lies on the 181 radial; the chart says 179.
    told = found(
        "cruising-level",
        "station QHB 113.70 N46 12.30 W039 20.70 decl 13W class L elev 820ft",
        "fix LAKER QHB 181 20nm",
        "route QHB LAKER",
        "direct QHB 179 - LAKER 20nm min 2500",
        "variation 13W",
        "altitude 5500",
    )
    assert told == ["note: set course 179 magnetic counts for the level; 181 is of the other half"]


@pytest.mark.parametrize(("course", "near"), [(177, True), (3, True), (183, True), (4, False), (176, False)])
def test_a42_within_3_degrees_of_the_boundary_is_said(course: int, near: bool) -> None:
    level = 5500 if US.is_odd(course) else 6500
    told = found("cruising-level", *on_course(course, f"altitude {level}", f"variation {13}W"))
    assert bool([one for one in told if "within 3 degrees" in one]) is near


@pytest.mark.parametrize(("course", "odd"), [(270, True), (360, True), (89, True), (90, False), (269, False)])
def test_a43_new_zealand_counts_from_270(course: int, odd: bool) -> None:
    # NZ CAR 91.313: 270 clockwise to 089 odd thousands plus 500.
    assert NZ.is_odd(course) is odd
    level = 5500 if odd else 6500
    assert not warned(course, level, "levels nz")
    assert warned(course, 12000 - level, "levels nz")


def test_a43_new_zealand_has_no_level_between_13000_ft_and_fl150() -> None:
    assert not NZ.binds("vfr", 14_000.0, 0.0)
    assert NZ.binds("vfr", 15_500.0, 0.0)


def test_a43_new_zealand_binds_above_the_higher_of_3000_ft_and_1000_ft_over_ground() -> None:
    assert not NZ.binds("vfr", 3_000.0, 0.0)
    assert NZ.binds("vfr", 3_001.0, 0.0)
    assert not NZ.binds("vfr", 5_000.0, 4_000.0)


@pytest.mark.parametrize("table", TABLES.values(), ids=lambda table: table.name)
@pytest.mark.parametrize("rules", ["vfr", "ifr"])
def test_no_level_is_of_both_halves_and_neighbours_are_levels(table: LevelTable, rules: str) -> None:
    for altitude_ft in range(3_000, 28_000, 500):
        assert not (fits(altitude_ft, odd=True, rules=rules) and fits(altitude_ft, odd=False, rules=rules))
        below, above = levels_around_ft(altitude_ft, odd=True, rules=rules)
        assert below < altitude_ft < above
        assert above - below in (2_000, 4_000)
    assert sum(table.is_odd(course) for course in range(1, 361)) == 180


ODD_FT = (19_000, 21_000, 29_000, 31_000, 41_000, 45_000, 49_000)
EVEN_FT = (18_000, 20_000, 30_000, 40_000, 43_000, 47_000)


@pytest.mark.parametrize(("level_ft", "odd"), [*((one, True) for one in ODD_FT), *((one, False) for one in EVEN_FT)])
def test_ifr_levels_of_14_cfr_91_179_with_reduced_separation(level_ft: int, odd: bool) -> None:
    assert fits(level_ft, odd=odd, rules="ifr")
    assert not fits(level_ft, odd=not odd, rules="ifr")


def test_icao_vfr_levels_end_below_fl290() -> None:
    assert ICAO.binds("vfr", 28_500.0, 0.0)
    assert not ICAO.binds("vfr", 29_500.0, 0.0)


def test_us_vfr_levels_end_below_18000_ft() -> None:
    assert not US.binds("vfr", 18_500.0, 0.0)


def test_a14_where_stations_are_true_referenced_the_true_track_counts() -> None:
    # The radial of a true-referenced station is true; magnetic it would be 13 degrees more and even.
    told = found(
        "cruising-level",
        "station QHB 113.70 N46 12.30 W039 20.70 decl true class L elev 820ft",
        "fix LAKER QHB 175 20nm",
        "route QHB LAKER",
        "direct QHB 175 - LAKER 20nm min 2500",
        "altitude 6500",
    )
    assert told[0].startswith("warning: 6500 on set course 175 true: odd thousands plus 500")


def test_a_level_that_changes_at_a_point_counts_from_there() -> None:
    assert of("cruising-level", judged()) == []
    assert found("cruising-level", "route XHAR QHB V801 QEL XOLD")[0].startswith("warning: 4500 on set course 126")


def test_the_models_course_is_named_where_no_needle_shows_one() -> None:
    # On the plane 33.5 NM south and 8.9 NM west, 194.9; the variation is 12.5W by WMM2025.
    (told, *_) = found("cruising-level", "route XHAR XOLD", "-direct QHB", "-direct QEL", "altitude 5500")
    assert told.startswith("warning: 5500 on the model's course 207 magnetic: even thousands plus 500")


REVERSED = "airway V801 QHB 212 - 214 QEL 29.5nm mea 3000 cop 11 QHB"
"""214 is the course to QEL; its radial is 034."""


def test_a_radial_the_wrong_way_round_brings_no_word_on_levels() -> None:
    asked = ("altitude 4500", "route XHAR QHB V801 QEL", REVERSED)
    assert found("radial-reversed", *asked)
    sound = found("cruising-level", "altitude 4500", "route XHAR QHB V801 QEL")
    assert found("cruising-level", *asked) == sound
    # Off QHB itself: 032 is the course from QEL, so what is set leads back, and the model's course stands in.
    back = ("altitude 5500", "route QHB V801 QEL", REVERSED.replace("QHB 212 - 214", "QHB 032 - 034"))
    assert found("radial-reversed", *back)
    (told,) = found("cruising-level", *back)
    assert "on the model's course 2" in told
    assert "even thousands plus 500" in told


def test_without_positions_too() -> None:
    alone = ("station QHB 113.70", "station QEL 110.20", "variation 13W", "altitude 5500", "route QHB V801 QEL")
    asked = (*alone, "-direct QHB", "-direct QEL", "-airport XHAR", "-airport XOLD", REVERSED.replace("cop 11 QHB", ""))
    assert found("radial-reversed", *asked)
    assert found("cruising-level", *asked) == []


# 14 CFR 91.121(b), the table as the Code of Federal Regulations prints it (title 14, volume 2, 2014, page 709): from
# and to an altimeter setting in inHg, and the lowest usable flight level.
LOWEST_USABLE = [
    ("31.00", "29.92", 180), ("29.91", "29.42", 185), ("29.41", "28.92", 190), ("28.91", "28.42", 195),
    ("28.41", "27.92", 200), ("27.91", "27.42", 205), ("27.41", "26.92", 210),
]  # fmt: skip
HIGH = ("rules ifr", "wind 18000 230/12 24000 230/12")


@pytest.mark.parametrize(("highest", "lowest", "level"), LOWEST_USABLE)
def test_the_lowest_usable_flight_level_by_the_regulations_table(highest: str, lowest: str, level: int) -> None:
    for setting in (highest, lowest):
        below = f"altimeter {setting}inHg"
        assert found("level-unusable", *HIGH, below, f"altitude FL{level}", "route XHAR QHB V801 QEL XOLD") == []
        if level > 180:
            (told,) = found("level-unusable", *HIGH, below, f"altitude FL{level - 5}", "route XHAR QHB V801 QEL XOLD")
            assert told == (
                f"error: FL{level - 5} may not be used at {setting} inHg: FL{level} is the lowest usable flight level"
            )


def test_below_18000_ft_no_flight_level_is_one_of_the_united_states() -> None:
    (told,) = found("level-unusable", "altitude FL085", "altimeter 1020hPa")
    assert told.startswith("warning: FL085 is no level of the United States")
    for other in (("levels icao",), ("altitude 8500",)):
        assert found("level-unusable", "altitude FL085", "altimeter 1020hPa", *other) == []


# 14 CFR 91.121(a)(2): "at or above 18,000 feet MSL, to 29.92" inHg; VFR has no level there (`vfr-too-high`).
def test_from_18000_ft_no_altitude_is_one_of_the_united_states() -> None:
    told = ["warning: 18500 ft is an altitude: from 18000 ft flight levels are flown, by 29.92 inHg: FL185"]
    assert found("level-unusable", *HIGH, "altitude 18500") == told
    edge = ["warning: 18000 ft is an altitude: from 18000 ft flight levels are flown, by 29.92 inHg: FL180"]
    assert found("level-unusable", *HIGH, "altitude 18000") == edge
    assert found("level-unusable", *HIGH, "altitude 17900") == found("level-unusable", *HIGH, "altitude FL180") == []
    for other in (("levels icao", "altitude 18500"), ("altitude 17000",), ("altitude FL190",)):
        assert found("level-unusable", *HIGH, *other) == []
    assert found("level-unusable", "wind 18000 230/12", "altitude 18500") == []


# NZ AIP, ENR 1.7, 2.2.3: the transition layer "can only be used for ascending or descending"; omarama.net has a copy.
@pytest.mark.parametrize("rules", ["vfr", "ifr"])
@pytest.mark.parametrize(
    ("level", "warns"), [("13000", False), ("13500", True), ("FL140", True), ("14500", True), ("FL150", False)]
)
def test_over_new_zealand_nobody_cruises_in_the_transition_layer(rules: str, level: str, warns: bool) -> None:
    flight = ("wind 12000 230/12", "levels nz", f"rules {rules}", "altimeter 1013hPa", f"altitude {level}")
    told = [one for one in found("level-unusable", *flight) if "transition layer, 13000 ft to FL150" in one]
    assert bool(told) is warns


# 14 CFR 91.179(b)(2) to (4): odd flight levels eastbound from FL190, even ones westbound from FL180; in RVSM airspace
# FL290 and 2,000-foot intervals eastbound, FL300 westbound, to FL410; above, 4,000-foot intervals.
@pytest.mark.parametrize(
    ("level", "words"),
    [
        ("FL190", "even flight levels hold where none is assigned; class A begins at 18000 ft, FL180 or FL200"),
        ("FL290", "even flight levels hold where none is assigned; class A begins at 18000 ft, FL280 or FL300"),
        ("FL410", "even flight levels hold where none is assigned; class A begins at 18000 ft, FL400 or FL430"),
        (
            "FL450",
            "levels every 4000 ft from FL430 hold where none is assigned; class A begins at 18000 ft, FL430 or FL470",
        ),
    ],
)
def test_flight_levels_are_told_as_flight_levels(level: str, words: str) -> None:
    (told, *_) = found("cruising-level", "rules ifr", f"altitude {level}", "wind 18000 230/12")
    assert words in told


def test_a_wrong_level_is_told_at_its_longest_level_leg_and_not_in_the_climb() -> None:
    report = reported(*FLOWN_BY_FILE, "altitude 5500", "route XHAR QHB V801 QEL/A055 XOLD")
    (one,) = [one for one in report.findings if one.rule == "cruising-level" and "even thousands" in one.message]
    level = [leg for leg in report.log.legs if leg.phase is Phase.CRUISE and leg.stretch.via == "V801"]
    assert one.leg == max(level, key=lambda leg: leg.distance_nm).number


def test_level_flight_of_a_moment_is_no_cruising() -> None:
    """14 CFR 91.159 leaves out a hold of 2 minutes or less and turns: so short a part is no level cruising flight."""
    short = ("fix NEAR QHB 212 3nm", "route QHB NEAR/A065 QEL XOLD", "altitude 5500", "-direct QHB")
    # QHB to NEAR are 3 NM, 1.8 minutes at 98 kt.
    told = [one for one in found("cruising-level", *short) if "5500 on set course 212" in one]
    assert told == []
    far = ("fix NEAR QHB 212 6nm", *short[1:])
    assert [one for one in found("cruising-level", *far) if "5500 on set course 212" in one] != []


@pytest.mark.parametrize(("nm", "told"), [(4.0, False), (4.1, True)])
def test_two_minutes_of_level_flight_are_a_moment_and_more_are_not(nm: float, told: bool) -> None:
    # At 120 kt in no wind 4 NM take the two minutes of 14 CFR 91.159.
    flight = along(f"QHB 090 - 270 QEL {nm}nm mea 3000", "altitude 6500", "tas 120kt", "wind calm")
    assert bool(found("cruising-level", *flight)) is told


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (("altitude 17500",), False),
        (("altitude 18000",), True),
        (("altitude 18000", "rules ifr"), False),
        (("altitude 18000", "levels icao"), False),
    ],
)
def test_vfr_ends_where_class_a_begins(more: tuple[str, ...], told: bool) -> None:
    # 14 CFR 71.33: from 18,000 ft on.
    assert bool(found("vfr-too-high", "wind 18000 230/12", *more)) is told


def test_an_unusable_level_is_told_by_what_it_is_too_low() -> None:
    # At 28.50 inHg FL195 is the lowest (14 CFR 91.121(b)).
    (one,) = [
        one
        for one in judged(*HIGH, "altimeter 28.50inHg", "altitude FL180", "route XHAR QHB V801 QEL XOLD")
        if one.rule == "level-unusable"
    ]
    assert one.by == pytest.approx(1500)


_WEST_AND_WEST = """\
station AAA 114.10 N46 00.00 W040 00.00 decl 12W class H
station BBB 115.30 N45 20.00 W040 17.00 decl 13W class H
station CCC 116.50 N45 20.00 W040 50.00 decl 13W class H
date 2026-07-18
off 15:00Z
tas 105kt
altitude 5500
route AAA BBB CCC
"""


@pytest.mark.parametrize(
    ("accepted", "course"),
    [("", "209"), ('accept cruising-level on AAA BBB "to stay clear of cloud"\n', "283")],
    ids=["the longest leg stands for both", "the other is not silenced"],
)
def test_a_level_that_is_accepted_on_a_part_of_the_route_is_told_on_the_rest(accepted: str, course: str) -> None:
    """209 and 283 are both of the half of even thousands plus 500 ft (14 CFR 91.159(a)(2)), and 5,500 is odd."""
    findings = judged_text(_WEST_AND_WEST + accepted, SampleCatalogue())
    (one,) = [one for one in findings if one.rule == "cruising-level" and one.accepted is None]
    assert f"on set course {course} magnetic" in one.message


def test_a_level_told_once_marks_every_level_leg_of_its_half() -> None:
    # 14 CFR 91.159: each of the four legs flies 5,500 ft west of the meridian; the eastbound one home is right.
    report = reported_text(_WEST_AND_WEST.replace("BBB CCC", "BBB CCC BBB"), SampleCatalogue())
    (one,) = [one for one in report.findings if one.rule == "cruising-level"]
    assert (one.leg, one.also) == (1, (2, 3, 4))
    assert sorted(leg for leg, keys in meant(report).items() if "altitude" in keys) == [1, 2, 3, 4]
    (line,) = [line for line in findings_lines(report.findings) if "cruising-level" in line]
    assert line.startswith("WARNING legs 1-4: 5500 on set course 209 magnetic:")
    assert line.endswith(" (leg 1) [cruising-level]")
    assert line in findings_lines(report.findings, every=True)


def test_class_a_and_an_unusable_level_mark_every_level_leg_that_is_there() -> None:
    # 14 CFR 71.33: class A begins at 18,000 ft; 91.121(b): FL180 is unusable at 28.50 inHg. Only the last leg is lower.
    for rule, more in (("vfr-too-high", ()), ("level-unusable", ("rules ifr", "altimeter 28.50inHg"))):
        report = reported("altitude FL180", "wind 18000 230/12", "route XHAR QHB V801 QEL/A055 XOLD", *more)
        (one,) = [one for one in report.findings if one.rule == rule]
        assert (one.leg, one.also) == (1, (2, 3)), rule
        assert [leg for leg, keys in sorted(meant(report).items()) if "altitude" in keys][:3] == [1, 2, 3]
