"""A landing on the way: first that it is one, then room for the pen, and only then what the take-off needs."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from helpers.drawn import reports
from helpers.flown import navlog

from navlog.printed.events import events
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
    """By hand: down 09:54Z and 45 minutes are 10:39Z; 22.0 gal are in the tanks and 2.8 are used to QEL.

    The least at the landing is the reserve, 30 minutes at 6 gal/h: 3.0, as the tanks are filled there. The legs on
    that filling use 5.7 gal, so it must be 8.7 at take-off.
    """
    told = {one.place: one for one in events(triangle.log)}
    lands, goes_on = told["LAND XTAR"], told["TAKE OFF XTAR"]
    assert lands.flown is None
    assert (lands.clock, lands.fuel, lands.tune) == ("09:54Z", ("fuel 10.7", "least 3.0"), "")
    assert lands.stop == "0:45, take off 10:39Z with 22.0 gal, after taxi"
    assert goes_on.flown is not None
    assert (goes_on.clock, goes_on.fuel) == ("10:39Z", ("fuel 22.0", "least 8.7"))
    assert goes_on.tune.startswith("QEL 110.20")
    assert told["LAND XOLD"].stop == "0:20, take off 11:33Z with 18.6 gal, no fuel taken, none counted for taxi"


def test_the_pen_has_its_room_between_landing_and_take_off() -> None:
    printed = re.sub(r"<[^>]*>", " ", navlog("log", str(ROUTE), "--format", "html").out)
    words = ("LAND XTAR", "09:54Z", "fuel 10.7", "least 3.0", "STOP XTAR: 0:45, take off 10:39Z", "landed", "off")
    order = (*words, "WEATHER XTAR", "TAKE OFF XTAR", "171", "LAND XOLD", "STOP XOLD: 0:20", "TAKE OFF XOLD", "LANDED")
    text, at = in_one_line(printed), 0
    for word in order:
        at = text.index(word, at) + len(word)


def test_a_landing_on_the_way_is_a_row_of_the_strip(triangle: Report) -> None:
    """The same figures by hand as above: down 0954 with 10.7, off 1039 with 22.0."""
    lines = strip(triangle, PAGES["half-letter"]).splitlines()
    (row,) = (number for number, line in enumerate(lines) if line.startswith("XTAR   0954 [    ]"))
    told = in_one_line(" ".join(lines[row : row + 5]))
    assert " 10.7[ ]" in told
    assert "LAND, stop 0:45, off 1039 with 22.0 gal" in told


def test_the_steps_name_the_fuel_left_and_the_time_of_the_take_off(triangle: Report) -> None:
    told = dict(steps(triangle.log))
    assert told["XTAR, land, 09:54Z"] == (
        "Land. Fuel left as planned 10.7 gal, at least 3.0.",
        "Stop 0:45, take off 10:39Z with 22.0 gal, after taxi.",
    )
    assert told["XTAR, take off, 10:39Z"][0].startswith("Tune and identify QEL 110.20")
