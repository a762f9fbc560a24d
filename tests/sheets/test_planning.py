"""The planning sheet: every column of the working, straight columns, and the same figures as the text log."""

from __future__ import annotations

import pytest
from helpers.drawn import report, reports
from helpers.flown import changed, navlog
from helpers.generated import Generated, generated_flights
from hypothesis import given, settings

from navlog.printed.meant import NOTHING
from navlog.printed.rows import BY_KEY, rows
from navlog.sheets.pages import PAGES
from navlog.sheets.planning import _KEYS, _table_lines, _tables, document


def test_every_column_from_true_course_to_compass_heading_is_there() -> None:
    working = ["true_course", "wind", "tas", "correction", "true_heading", "variation", "magnetic_heading", "deviation"]
    places = [_KEYS.index(key) for key in [*working, "compass_heading"]]
    assert places == sorted(places)
    headings = _table_lines(report("marsh").log)[0].split()
    assert headings[8:17] == ["TC", "Wind", "TAS", "WCA", "TH", "Var", "MH", "Dev", "CH"]


def test_columns_are_straight() -> None:
    for name in ("marsh", "dateline", "hostile", "nothing_given"):
        lines = _table_lines(report(name).log)
        assert len({len(line) for line in lines}) == 1
        assert len(lines) == 3 + len(report(name).log.legs)


def test_the_working_adds_up_on_paper() -> None:
    """TH = TC + WCA, MH = TH less easterly variation, CH = MH less easterly deviation: to a degree, as rounded."""
    for row in rows(report("marsh").log):
        figure = {key: BY_KEY[key].figure(row) for key in _KEYS}
        if figure["true_course"] in ("?", "-"):
            continue
        size = int(figure["correction"].rstrip("LR"))
        correction = -size if figure["correction"].endswith("L") else size
        apart = (int(figure["true_heading"]) - int(figure["true_course"]) - correction) % 360
        assert apart in (0, 1, 359)
        west = float(figure["variation"].rstrip("W"))
        assert abs((int(figure["magnetic_heading"]) - int(figure["true_heading"]) - west + 180) % 360 - 180) <= 1.0
        deviation = figure["deviation"]
        east = float(deviation.rstrip("EW")) * (-1 if deviation.endswith("W") else 1)
        assert abs((int(figure["compass_heading"]) - int(figure["magnetic_heading"]) + east + 180) % 360 - 180) <= 1.0


def test_what_is_unknown_and_what_does_not_apply_say_so() -> None:
    printed = document([report("nothing_given")], PAGES["a4"], wide=True)
    leg = next(line for line in printed.splitlines() if line.lstrip().startswith("1  QHB"))
    assert leg.split().count("?") >= 8
    assert leg.split().count("-") == 2


@pytest.mark.parametrize("name", ["marsh", "dateline", "hostile", "nothing_given"])
def test_it_lies_within_130_columns_and_has_every_column_once(name: str) -> None:
    one = report(name)
    printed = document([one], PAGES["letter"])
    assert max(map(len, printed.splitlines())) <= 130
    tables = list(_tables(one.log, NOTHING))
    heads = [head for table in tables for head in table[0].split()[2:]]
    assert sorted((*heads, "No", "To")) == sorted(BY_KEY[key].heading for key in _KEYS if key != "from")
    assert len(tables) == 2
    for table in tables:
        assert [line.split()[0] for line in table[3:]] == [str(leg.number) for leg in one.log.legs]


@given(generated_flights())
@settings(max_examples=30, deadline=None)
def test_no_flight_is_wider(flight: Generated) -> None:
    for one in reports(flight.text):
        assert all(len(line) <= 130 for line in document([one], PAGES["letter"]).splitlines())


def test_wide_has_one_table() -> None:
    printed = document([report("marsh")], PAGES["letter"], wide=True)
    assert "\n".join(_table_lines(report("marsh").log)[:2]) in printed
    assert max(map(len, printed.splitlines())) > 130


def test_wide_goes_with_planning_alone() -> None:
    done = navlog("log", "-", "--wide", typed=changed())
    assert (done.status, "--wide goes with the format planning" in done.err) == (2, True)
