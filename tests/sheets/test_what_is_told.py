"""What the sheets tell a pilot in words and marks, each against what it must mean in the cockpit."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from helpers.drawn import report
from helpers.flown import Json, changed, flight, legs, navlog, sheet

from navlog.printed.rows import BY_KEY, rows
from navlog.request.references import References
from navlog.rules.answers import check_text
from navlog.rules.registry import Severity
from navlog.sheets.text import text_log

FORMS = ("text", "strip", "steps", "planning", "markdown", "html")

# A card that reads 3 less between 240 and 300: magnetic 269 is 266 on the compass. It says nothing from 030 to 180.
CARD = """
name = "Tin"
[cruise]
tas_kt = 100
burn_gal_per_h = 8
[compass]
for_deg = [0, 30, 180, 240, 300, 330]
steer_deg = [0, 30, 180, 237, 297, 330]
"""
BY_CARD = ("aircraft tin.toml",)


def in_folder(folder: Path, *statements: str, form: str = "text", without: tuple[str, ...] = ()) -> str:
    """The sheet of the invented flight changed, from a folder that holds the aircraft file."""
    (folder / "tin.toml").write_text(CARD)
    (folder / "trip.route").write_text(changed(*statements, without=("tas", "burn", *without)))
    done = navlog("log", str(folder / "trip.route"), "--format", form)
    assert done.out, done.err
    return done.out


def in_one_line(text: str) -> str:
    return " ".join(text.split())


def test_the_compass_in_no_wind_is_read_from_its_card(tmp_path: Path) -> None:
    # XHAR to QHB: magnetic course 269 (needle 272), so without the card the compass would read 269.
    assert "needle 272, compass 269 in no wind" in sheet(changed())
    assert "needle 272, compass 266 in no wind" in in_folder(tmp_path, *BY_CARD)
    assert "compass 266 in no wind" in in_folder(tmp_path, *BY_CARD, form="html")


def test_where_the_card_is_silent_the_compass_is_not_known(tmp_path: Path) -> None:
    # QEL to XOLD: needle 126, magnetic course 121, where the card says nothing.
    text = in_folder(tmp_path, *BY_CARD)
    assert "needle 126, compass ? in no wind" in text
    (line,) = [line for line in text.splitlines() if line.startswith(" 4 QEL")]
    # The warning that the card is silent means this figure.
    assert line.split()[7].endswith("M!")
    assert "with M magnetic where the card is silent" in in_one_line(text)


@pytest.mark.parametrize("form", FORMS)
def test_the_sheet_says_whose_card_the_headings_go_by(form: str, tmp_path: Path) -> None:
    text = in_one_line(in_folder(tmp_path, *BY_CARD, form=form))
    assert "Headings by compass: the card of Tin (tin.toml)" in text
    assert "hdg: compass heading by the compass card" in text.lower()
    assert "hdg: magnetic heading." in in_one_line(navlog("log", "-", "--format", form, typed=changed()).out).lower()


@pytest.mark.parametrize("form", FORMS)
def test_a_time_after_midnight_carries_a_mark(form: str) -> None:
    text = changed("off 23:50Z")
    printed = in_one_line(navlog("log", "-", "--format", form, typed=text).out)
    minutes = [int(leg["elapsed_min"] + 0.5) - 10 for leg in legs(text)]  # after midnight
    assert minutes[0] < 0 < minutes[-1]
    for late in minutes:
        shown = f"00:{late:02d}Z+1" if late >= 0 else f"23:{60 + late:02d}Z"
        if form in ("strip", "html"):  # the head of the knee page says that times are Z
            shown = shown.replace(":", "").replace("Z", "")
        assert shown in re.sub("</?b>", "", printed)
        assert f"{shown}+1" not in printed
        assert late < 0 or f"00:{late:02d}Z " not in printed


def test_columns_stand_where_they_stood_after_midnight() -> None:
    one, two = (sheet(changed(f"off {off}Z")).splitlines() for off in ("15:50", "23:50"))
    assert max(map(len, two)) <= 80
    by_day, by_night = (
        [line for line in lines if line[:2].strip().isdigit() and line[2] == " "] for lines in (one, two)
    )
    for before, after in zip(by_day, by_night, strict=True):
        assert before[:59] == after[:59]
        assert before[67:] == after[67:]


def test_level_flight_and_missing_taxi_fuel_are_said(tmp_path: Path) -> None:
    plain = sheet(changed(without=("taxi",)))
    assert "No aircraft file: level throughout, no climb, descent or airport height counts\n" in plain
    assert "on board 38.0 with no taxi fuel given" in plain
    assert "on board 37.0 after taxi 1.0" in sheet(changed())
    by_file = in_folder(tmp_path, *BY_CARD)
    assert "No climb and no descent in tin.toml: there the level changes at once\n" in by_file


def test_the_legend_says_which_columns_add() -> None:
    text = in_one_line(sheet(changed()))
    assert "Distance, time and fuel add as printed; each course is rounded by itself" in text


@pytest.mark.parametrize("level", ["3500", "10500", "12500"])
def test_a_figure_and_what_it_is_of_stay_on_one_line(level: str) -> None:
    text = sheet(changed(f"altitude {level}", f"route XHAR QHB V801 QEL/A{int(level) // 100 + 10:03d} XOLD"))
    for line in text.splitlines():
        assert line.rsplit(" ", 1)[-1] not in ("GS", "TC", "MC", "WCA", "alt", "MEA")


def test_the_name_of_a_rule_is_never_broken() -> None:
    text = sheet(changed("altitude 2300", "unavailable QEL", "wind 230/70"))
    assert not [line for line in text.splitlines() if line.endswith("-") and "[" in line and "]" not in line]
    assert in_one_line(text).count("[station-out]") == text.count("[station-out]") > 0


def test_a_long_ident_stays_within_the_sheet() -> None:
    names = ("ABCDEFGHIJKL", "QHBQHBQHBQHB")
    text = changed(without=("airway", "direct", "route", "station"))
    text += "".join(f"station {name} 113.70 decl 15W\n" for name in names)
    text += f"airway V801 {names[0]} 212 - 032 {names[1]} 29.5nm mea 3000\nroute {' V801 '.join(names)}\n"
    printed = sheet(text)
    assert max(map(len, printed.splitlines())) <= 80
    assert f"{names[0]} 113.70" in in_one_line(printed)


@pytest.mark.parametrize("form", ["text", "strip", "steps", "markdown", "html"])
def test_a_turn_no_wider_than_the_needle_is_not_told(form: str) -> None:
    # QHB 034 to QEL and on along nearly the same line: 2 degrees; then 88 degrees to XOLD.
    straight = "fix LAKER N45 58.20 W039 26.85"
    text = changed(straight, "route QHB LAKER QEL XOLD", without=("airway",))
    assert 0.0 < abs(legs(text)[0]["turn_deg"]) < 2.5
    told = navlog("log", "-", "--format", form, typed=text).out.lower()
    assert not re.search(r"turns? (left|right) [0-2]\b", told)
    before, after = (one["magnetic_heading_deg"] for one in legs(text)[-2:])
    turn_deg = (int(before + 0.5) - int(after + 0.5)) % 360
    words = f"l{turn_deg}" if form in ("strip", "html") else f"turn left {turn_deg}"
    if form in ("text", "markdown"):  # beside the courses the turn is the course's
        words = f"course turns left {int(0.5 - legs(text)[-2]['turn_deg'])}"
    assert words in told


def test_behind_a_cross_radial_one_receiver_is_told_what_to_tune_to_go_on() -> None:
    # The radials cross south of QEL, so the way goes back north to it, on its 214 radial: 034 TO.
    text = changed("fix FULMA QHB 212 x QSK 264", "route QHB FULMA QEL", without=("airway",))
    # QSK is 47 NM away, and class L serves 40 (AIM 1-1-8); nothing else tells FULMA.
    far = "(may not be received, outside the service volume)"
    told = f"R-264 crosses {far}, set 264 FROM, then tune QEL 110.20 --.- . .-.., set 034 TO"
    assert told in in_one_line(sheet(text))


@pytest.mark.parametrize(
    ("equipment", "station", "by_clock"),
    [("vor 1 dme 1", "dme", False), ("vor 1", "dme", True), ("vor 1 dme 1", "", True)],
)
def test_without_a_dme_the_changeover_is_by_the_clock(equipment: str, station: str, *, by_clock: bool) -> None:
    line = f"station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L {station} elev 820ft"
    text = changed(line, f"equipment {equipment}")
    minutes = round(legs(text)[1]["elapsed_min"]) - round(legs(text)[0]["elapsed_min"])
    told = f"by time 0:{minutes:02d} after QHB"
    for form in ("text", "strip", "steps", "html", "markdown"):
        assert (told in in_one_line(navlog("log", "-", "--format", form, typed=text).out.replace("|", " "))) == by_clock


def test_the_distance_to_go_is_that_to_the_next_landing() -> None:
    text = changed("route XHAR QHB V801 QEL XOLD land 20min QEL V801 QHB")
    flown = legs(text)
    landing = next(index for index, leg in enumerate(flown) if "stop_min" in leg)
    printed = [line for line in sheet(text).splitlines() if " NM " in line and "  alt " in line]
    ends = ["XOLD"] * (landing + 1) + ["QHB"] * (len(flown) - landing - 1)
    for index, (line, end) in enumerate(zip(printed, ends, strict=True)):
        last = landing if index <= landing else len(flown) - 1
        ahead_nm = sum(leg["distance_nm"] for leg in flown[index + 1 : last + 1])
        assert line.split(" NM ")[1].split()[1:3] == ["to", end]
        assert abs(float(line.split(" NM ")[1].split()[0]) - ahead_nm) <= 0.101
    assert "0.0 to go" in sheet(changed())


def test_the_total_is_time_in_the_air() -> None:
    text = changed("route XHAR QHB V801 QEL XOLD land 20min QEL V801 QHB")
    found = flight(text)
    in_the_air = int(found["totals"]["time_min"] + 0.5)
    assert f"   {in_the_air // 60}:{in_the_air % 60:02d} in the air   " in sheet(text)


def test_dead_reckoning_names_the_station_that_is_out() -> None:
    text = changed("unavailable QEL", "fix LAKER N45 44.10 W039 10.00", "route QHB V801 QEL LAKER")
    findings = [one["message"] for one in flight(text)["findings"] if one["rule"] == "no-guidance"]
    # QHB guides to its changeover point; the rest of V801 and the way to LAKER have nothing.
    assert [finding.rpartition(": ")[2] for finding in findings] == [
        "up to the stated changeover point QEL would guide, which is out of service",
        "QEL is out of service",
    ]
    assert ": QEL is out of service" in in_one_line(sheet(text))
    assert "Dead reckoning by heading and time: QEL is out of service." in in_one_line(sheet(text, "--format", "steps"))


def test_json_tells_stop_and_fuel_so_that_clock_and_fuel_add_up_across_a_landing() -> None:
    route = "route XHAR QHB XTAR land 45min fuel 30gal QEL XOLD land 20min QEL QHB"
    found = flight(changed("airport XTAR N46 19.00 W039 58.00 elev 1180ft", route))
    clock_min, fuel_gal = 0.0, 37.0  # 38 less 1 of taxi
    flown: list[Json] = found["legs"]
    for leg in flown:
        clock_min += leg["time_min"]
        assert leg["elapsed_min"] == pytest.approx(clock_min, abs=1e-6)
        fuel_gal -= leg["fuel_used_gal"]
        assert leg["fuel_remaining_gal"] == pytest.approx(fuel_gal, abs=1e-6)
        clock_min += leg.get("stop_min", 0.0)
        if leg["to"]["ident"] == "XTAR":
            assert (leg["stop_min"], leg["fuel_taken_gal"]) == (45.0, 30.0)
            fuel_gal = leg["fuel_taken_gal"]
        elif leg["to"]["ident"] == "XOLD":
            assert (leg["stop_min"], leg["fuel_taken_gal"]) == (20.0, None)
        else:
            assert not {"stop_min", "fuel_taken_gal"} & leg.keys()


def test_a_leg_behind_one_of_unknown_time_shows_its_own_and_says_why_once() -> None:
    # Winds hold at a place, and a leg from a station without position has none.
    text = changed(
        "station QAA 112.80 decl 15W",
        "airway V802 QAA 212 - 034 QEL 29.5nm mea 3000",
        "wind at QEL 230/15",
        "fix LAKER N45 58.20 W039 26.85",
        "route QAA V802 QEL QHB LAKER",
        without=("wind", "airway V801"),
    )
    printed = in_one_line(sheet(text))
    assert printed.count("no arrival from here on: the time of leg 2 is not known") == 1
    assert [leg["time_min"] is None for leg in legs(text)][:3] == [True, True, False]


def test_a_legend_explains_the_distance_to_go_only_where_it_has_a_column() -> None:
    for form in FORMS:
        told = in_one_line(navlog("log", "-", "--format", form, typed=changed()).out)
        assert ("Rem: from the leg's end to the last landing" in told) == (form in ("planning", "markdown"))


def test_heights_between_levels_stand_to_the_nearest_10_ft_in_every_sheet() -> None:
    (descends,) = (
        row for row in rows(report("marsh").log) if row.leg.end.name == "LAKER" and row.leg.phase == "descent"
    )
    computed_ft = descends.leg.end_altitude_ft
    assert computed_ft % 10.0
    assert BY_KEY["altitude"].figure(descends) == f"5500-{round(computed_ft / 10.0) * 10}"


@pytest.mark.parametrize(
    ("route", "equipment", "told"),
    [
        # QAA has a DME and QBB has none. They lie 40 NM apart on a meridian: 20.0 NM and 5,000 ft are 20.02 NM.
        ("QAA V9 QBB", "vor 2 dme 1", {"text": "COP 20.0 NM from QAA (midpoint):", "strip": "QAA 20.0 DME"}),
        ("QAA V9 QBB", "vor 1 dme 1", {"text": "COP 20.0 NM from QAA (midpoint):", "strip": "QAA 20.0 DME"}),
        (
            "QBB V9 QAA",
            "vor 2 dme 1",
            {
                "text": "COP 20.0 NM from QBB (midpoint), QAA DME reads 20.0:",
                "strip": "QAA 20.0 DME",
                "steps": "20.0 NM from QBB (QAA DME reads 20.0)",
            },
        ),
        # A single receiver, and with it the DME, is still set to the station behind.
        ("QBB V9 QAA", "vor 1 dme 1", {"text": "COP 20.0 NM from QBB (midpoint), by time 0:10 after QBB:"}),
        ("QBB V9 QAA", "vor 2 dme 0", {"text": "COP 20.0 NM from QBB (midpoint), by time 0:10 after QBB:"}),
    ],
)
def test_a_changeover_point_is_told_by_the_dme_ahead_where_the_one_behind_has_none(
    route: str, equipment: str, told: dict[str, str]
) -> None:
    # 40 NM are 40.0 minutes of latitude at 46 N, where a degree is 111,154 m (WGS84): 39.97.
    text = (
        "station QAA 113.70 N46 00.00 W039 00.00 decl 0E class H dme elev 0ft\n"
        "station QBB 110.20 N46 39.97 W039 00.00 decl 0E class H elev 0ft\n"
        "airway V9 QAA 000 - 180 QBB 40nm mea 3000\ndate 2026-07-18\naltitude 5000\ntas 120kt\nwind calm\n"
        f"route {route}\nequipment {equipment}\n"
    )
    for form, words in told.items():
        assert words in " ".join(navlog("log", "-", "--format", form, typed=text).out.split())


CHART_ONLY = "dme 1"


@pytest.mark.parametrize(
    ("sector", "equipment", "told"),
    [
        # The way leaves QAA on its radial 360 and changes 20 NM out at 5,000 ft; QBB's DME reads 20.0 there.
        ("DME 350-010", "vor 2 dme 1", "COP 20.0 NM from QAA (midpoint), QBB DME reads 20.0:"),
        ("DME 350-010", "vor 1 dme 1", "COP 20.0 NM from QAA (midpoint), by time 0:10 after QAA:"),
        ("VOR/DME 350-010 BEYOND 19NM", "vor 1 dme 1", "COP 20.0 NM from QAA (midpoint), by time 0:10 after QAA:"),
        ("DME 350-010 BEYOND 21NM", "vor 1 dme 1", "COP 20.0 NM from QAA (midpoint):"),
        ("DME 350-010 BELOW 5000", "vor 1 dme 1", "COP 20.0 NM from QAA (midpoint):"),
        ("DME 350-010 BELOW 5100", "vor 1 dme 1", "COP 20.0 NM from QAA (midpoint), by time 0:10 after QAA:"),
        ("DME 010-350", "vor 1 dme 1", "COP 20.0 NM from QAA (midpoint):"),
        ("VOR 350-010", "vor 1 dme 1", "COP 20.0 NM from QAA (midpoint):"),
        # With stations off the chart the radial and the distance are the chart's.
        ("DME 350-010 BEYOND 19NM", CHART_ONLY, "COP 20.0 NM from QAA (midpoint), by time 0:10 after QAA:"),
        ("DME 350-010 BEYOND 21NM", CHART_ONLY, "COP 20.0 NM from QAA (midpoint):"),
    ],
)
def test_a_changeover_point_is_not_told_by_a_dme_that_is_unusable_there(sector: str, equipment: str, told: str) -> None:
    here, there = ("", "") if equipment == CHART_ONLY else ("N46 00.00 W039 00.00", "N46 39.97 W039 00.00")
    text = (
        f"station QAA 113.70 {here} decl 0E class H dme elev 0ft\n"
        f"station QBB 110.20 {there} decl 0E class H dme elev 0ft\n"
        "airway V9 QAA 000 - 180 QBB 40nm mea 3000\ndate 2026-07-18\naltitude 5000\ntas 120kt\nwind calm\n"
        f"route QAA V9 QBB\nequipment {equipment}\nnotices told.txt\n"
    )
    notice = f"!QAA 07/001 QAA NAV {sector} UNUSABLE 2607180000-2607182359\n"
    (answer,) = check_text(text, "x.route", references=References({"told.txt": notice}))
    assert answer.report is not None
    assert told in " ".join(text_log(answer.report).split())
    said = [(one.severity, one.message) for one in answer.findings if "changeover point" in one.message]
    assert len(said) == ("by time" in told or "QBB DME" in told)
    assert all(severity is Severity.NOTE and "QAA DME is unusable on" in message for severity, message in said)


@pytest.mark.parametrize("form", [*FORMS, "csv", "kml", "geojson"])
def test_where_the_signal_ends_and_begins_again_has_one_name_on_every_sheet(form: str) -> None:
    # QAA and QBB, 90.5 NM apart, are of class L: 40 NM each (AIM table 1-1-2), and nothing in between.
    route = str(Path(__file__).parent / "routes" / "dateline.route")
    printed = navlog("log", route, "--format", form).out
    assert printed.count("NO VOR") >= 1
    assert printed.count("VOR ON") >= 1
    assert not re.search("end of signal|signal again|to position|[Aa]fter position", printed, re.IGNORECASE)


def test_the_legend_of_the_knee_page_says_what_the_turn_is_of() -> None:
    # At QHB the course turns 60 degrees left and the heading 54, which the column has.
    assert "turn: of the heading, L left" in " ".join(
        navlog("log", "-", "--format", "strip", typed=changed()).out.split()
    )
