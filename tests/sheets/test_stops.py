"""A landing on the way: first that it is one, then room for the pen, and only then what the take-off needs."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from helpers.drawn import reports
from helpers.flown import navlog

from navlog.printed.needles import needles
from navlog.printed.radios import radios_leaving
from navlog.printed.rows import rows
from navlog.rules.report import Report
from navlog.sheets.pages import PAGES
from navlog.sheets.steps import steps
from navlog.sheets.strip import strip

ROUTE = Path(__file__).parents[2] / "examples" / "landing.route"


@pytest.fixture(scope="module")
def triangle() -> Report:
    return reports(ROUTE.read_text("utf-8"))[0]


def in_one_line(text: str) -> str:
    return " ".join(re.sub(r"[|]", " ", text).split())


def test_the_landing_has_no_course_and_the_take_off_is_the_stop_later(triangle: Report) -> None:
    """By hand: down 09:54Z and 45 minutes are 10:39Z; 22.0 gal are in the tanks.

    The least at the landing is the reserve, 30 minutes at 6 gal/h: 3.0, as the tanks are filled there.
    """
    found = needles(triangle.log)
    (lands,) = (number for number, one in enumerate(found) if one.place == "XTAR")
    assert (found[lands].clock, found[lands].fuel) == ("0954", "10.7")
    assert found[lands].told[0] == "LAND, stop 0:45, off 1039 with 22.0 gal, after taxi"
    assert found[lands].tune.startswith("QEL 110.20")
    assert found[lands].morse
    landed = next(one for one in found if one.place == "XOLD")
    assert landed.told[0] == "LAND, stop 0:20, off 1133 with 18.6 gal, no taxi counted"
    least = next(row for row in rows(triangle.log) if row.leg.lands)
    assert least.fuel(least.least_steps) == "3.0"


def test_the_landing_is_a_row_of_the_html_with_room_for_the_pen() -> None:
    printed = re.sub(r"<[^>]*>", " ", navlog("log", str(ROUTE), "--format", "html").out)
    order = ("XTAR", "0954", "10.7", "QEL 110.20", "171", "LAND, stop 0:45, off 1039", "XOLD", "LAND, stop 0:20")
    text, at = in_one_line(printed), in_one_line(printed).index("minimum via")
    for word in order:
        at = text.index(word, at) + len(word)
    assert '<input aria-label="ATA XTAR">' in navlog("log", str(ROUTE), "--format", "html").out


def test_a_landing_on_the_way_is_a_row_of_the_strip(triangle: Report) -> None:
    """The same figures by hand as above: down 0954 with 10.7, off 1039 with 22.0."""
    lines = strip(triangle, PAGES["half-letter"]).splitlines()
    (row,) = (number for number, line in enumerate(lines) if line.startswith("XTAR   0954 [    ]"))
    told = in_one_line(" ".join(lines[row - 2 : row + 3]))
    assert " 10.7[ ]" in told
    assert "LAND, stop 0:45, off 1039 with 22.0 gal" in told


def test_the_steps_name_the_fuel_left_and_the_time_of_the_take_off(triangle: Report) -> None:
    told = dict(steps(triangle.log))
    assert told["XTAR, land, 09:54Z"] == (
        "Land. Fuel left as planned 10.7 gal, at least 3.0.",
        "Stop 0:45, take off 10:39Z with 22.0 gal, after taxi.",
    )
    assert told["XTAR, take off, 10:39Z"][0].startswith("Tune and identify QEL 110.20")


def test_a_landing_on_the_way_has_room_for_its_frequencies_and_the_next_take_off() -> None:
    """What is heard before the landing and the take-off in turn (common practice, no source)."""
    text = ROUTE.read_text("utf-8") + 'radio XTAR "Tower" 118.3\nradio XHAR "Harbour Tower" 120.1\n'
    log = reports(text)[0].log
    found = {one.place: one.radios for one in needles(log)[1:] if one.radios is not None}
    calls = ("APP", "ATIS", "TWR", "GND")
    blank = tuple((name, "") for name in calls)
    assert list(found) == ["XTAR", "XOLD", "XHAR"]
    assert found["XTAR"].lines == (*blank[:2], ("Tower", "118.3"), blank[3], ("DEP", ""))
    assert found["XOLD"].lines == (*blank, ("DEP", ""))
    assert found["XHAR"].lines == (*blank[:2], ("Harbour Tower", "120.1"), blank[3])
    # 0954 and 45 minutes on the ground; the second landing is at 1113 and stays 20.
    assert [one.off for one in found.values()] == ["off 1039Z", "off 1133Z", ""]
    leaving = radios_leaving(log).lines
    assert ("Harbour Tower", "120.1") in leaving
    assert not any(frequency == "118.3" for _, frequency in leaving)
    printed = in_one_line(strip(reports(text)[0], PAGES["half-letter"]))
    at = printed.index("XTAR APP[ ] ATIS[ ] Tower 118.3[ ] GND[ ] DEP[ ] off 1039Z[ ] LAND, stop 0:45, off 1039")
    assert printed.index("XOLD APP[ ]") > at


def test_totals_behind_a_fuelling_say_since_when_fuel_counts_and_that_stops_are_left_out() -> None:
    printed = in_one_line(strip(reports(ROUTE.read_text("utf-8"))[0], PAGES["half-letter"]))
    assert "in the air FUEL gal since last fuelling: trip 5.7" in printed
    assert "on board then 22.0" in printed
    assert "no alternate stated" in printed
