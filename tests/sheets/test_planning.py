"""The planning sheet: every column of the working, straight columns, and the same figures as the text log."""

from __future__ import annotations

from helpers.drawn import report

from navlog.printed.rows import BY_KEY, rows
from navlog.sheets.pages import PAGES
from navlog.sheets.planning import _KEYS, _table_lines, document


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
        if figure["true_course"] == "?":
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
    printed = document([report("nothing_given")], PAGES["a4"])
    leg = next(line for line in printed.splitlines() if line.lstrip().startswith("1  QHB"))
    assert leg.split().count("?") >= 8
    assert leg.split().count("-") == 2
