"""What is told once, and what is not told because nothing follows from it."""

from __future__ import annotations

from helpers.judged import found, reported

from navlog.printed.findings import findings_lines
from navlog.rules.samples import FLOWN_BY_FILE

MARSH = (
    "fix MARSH N46 04.00 W039 24.23",
    "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000",
)


def test_the_airports_missing_minimums_have_one_note() -> None:
    (told,) = found("minimum-unknown", "-direct QHB", "-direct QEL")
    assert told == "note: no minimum altitude is known from XHAR to QHB and QEL to XOLD"
    # Its legs are those that it names: the first from XHAR, the last to XOLD.
    report = reported("-direct QHB", "-direct QEL")
    (line,) = [one for one in findings_lines(report.findings) if "[minimum-unknown]" in one]
    assert line.startswith(f"NOTE legs 1, {len(report.log.legs)}: no minimum altitude is known from XHAR to QHB and")
    assert "(leg 1" not in line
    # A leg between stations keeps a note of its own.
    told, other = found("minimum-unknown", "-direct QHB", "-direct QEL", "route XHAR QHB DCT QEL XOLD")
    assert "from QHB to QEL" in told + other


def test_a_wrong_level_is_told_once_a_half_of_the_compass() -> None:
    # QHB to QEL leads 212, where 5,500 ft is not for; XOLD lies 126 from QEL, where 4,500 ft is not for.
    asked = (*MARSH, "altitude 5500", "route XHAR QHB V801 MARSH V801 QEL/A045 XOLD")
    west, east = found("cruising-level", *asked)
    assert west.startswith("warning: 5500 on set course")
    assert east.startswith("warning: 4500 on set course")


def test_no_wind_is_wanted_at_field_level() -> None:
    # From 790 ft the climb begins 2,210 ft below the lowest wind of the bulletin, at 3,000 ft.
    climb = (*FLOWN_BY_FILE, "route XHAR QHB V801 QEL XOLD")
    assert found("wind-beyond-heights", *climb) == []
    # Level flight so far below it is told, with the farthest leg.
    assert found("wind-beyond-heights", "wind 9000 230/12 12000 240/18", "route XHAR QHB/A050 V801 QEL XOLD") == [
        "warning: the nearest wind is 4500 ft away in height"
    ]


def test_a_descent_that_begins_before_the_last_point_is_the_last_descent_from_its_top() -> None:
    # 2 NM from QEL to the field: nearly all of the descent to the pattern at 1,350 ft is flown before QEL, where it is
    # 5,400 ft below the only wind. It leads to the landing, and the level flight has its wind.
    flown = ("aircraft climber.toml", "-tas", "-burn", "altitude 7500", "route XHAR QHB V801 QEL XOLD")
    near = ("airport XOLD N45 43.00 W039 30.00 elev 350ft", "-direct QEL")
    assert found("wind-beyond-heights", *flown, *near, "-wind", "wind 7500 230/12") == []
    (told,) = found("wind-beyond-heights", *flown, *near, "-wind", "wind 9600 230/12")
    assert told == "warning: the nearest wind is 2100 ft away in height"


def test_the_standard_temperature_is_told_only_where_a_printed_figure_hangs_on_it() -> None:
    climber = ("aircraft climber.toml", "-tas", "-burn")
    assert len(found("standard-temperature", *climber)) == 1
    # In the air from end to end only the cruise counts, whose figures hold at every temperature.
    assert found("standard-temperature", *climber, "route QHB V801 QEL") == []
