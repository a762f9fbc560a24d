"""The ticks of a row on paper: two lines, more for what may not leave the front; the rest is told on the back."""

from __future__ import annotations

from collections import Counter

import pytest
from helpers.drawn import ROUTES, report, reports
from helpers.generated import Generated, generated_flights
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.nav.record import changed
from navlog.printed.needles import Needle, needles
from navlog.printed.page import Printed
from navlog.sheets.pages import PAGES
from navlog.sheets.pdf_front import FEW_LINES, MANY_LINES, _ticks, row_piece, ticks_without_room
from navlog.sheets.pdf_paper import Paper

pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")
TALLEST_PT = 38.0  # ten rows, a head, two lines of clearance and the foot on the 612 points of half a letter page
LINE_PT = 9.5


def paper() -> Paper:
    return Paper(PAGES["half-letter"])


def row(*told: str) -> Needle:
    """The first row of the marsh flight, which has a Morse, with these ticks."""
    return changed(Printed.of(report("marsh")).route.needles[0], at=(), ticks=told)


def test_few_ticks_stand_in_their_size_and_many_in_a_smaller_one_and_a_longer_line() -> None:
    few, more = row("TOC 7.6 +5"), row("TOC 7.6 +5", *(f"FIXA{letter} 10.1 DME +19" for letter in "BCD"))
    assert (_ticks(paper(), few).size, _ticks(paper(), few).under) == (8.5, False)
    told = _ticks(paper(), more)
    assert (told.size >= 8.0, told.under, told.rest) == (True, True, ())
    assert len(told.lines) == 2


def test_the_last_ticks_go_to_the_back_and_the_row_says_how_many() -> None:
    crowded = row(*(f"FIXA{letter} 10.1 DME +19" for letter in "BCDEFGH"))
    told = _ticks(paper(), crowded)
    assert told.lines[-1].endswith(f"on the back: {len(told.rest)}")
    assert told.rest[-1] == "FIXAH 10.1 DME +19"
    assert list(ticks_without_room(paper(), [crowded])) == [f"legs 1, 2: {'; '.join(told.rest)}"]


def test_where_there_is_room_for_more_lines_no_tick_leaves_the_front() -> None:
    crowded = row(*(f"QEL R-{number:03d} +{number}" for number in range(100, 111)))
    told = _ticks(paper(), crowded, MANY_LINES)
    assert (told.rest, FEW_LINES < len(told.lines) <= MANY_LINES) == ((), True)


class _Marked(Paper):
    """Keeps where text and lines are drawn, in points from the top."""

    def __init__(self) -> None:
        super().__init__(PAGES["half-letter"])
        self.texts: list[tuple[float, float]] = []
        self.rules: list[float] = []

    def text(self, x: float, y: float, text: str, size: float, font: str = "Helvetica") -> None:
        if text:
            self.texts.append((y, size))
        super().text(x, y, text, size, font)

    def line(self, start: tuple[float, float], end: tuple[float, float], width: float) -> None:
        self.rules.append(start[1])
        super().line(start, end, width)


@pytest.mark.parametrize("ticks", [2, 9, 12, 30])
def test_no_line_of_a_row_touches_the_rule_under_it(ticks: int) -> None:
    """Helvetica's descender is 0.207 of its size (Adobe's metrics); half a point of white is left, the rule's own."""
    sheet = _Marked()
    row_piece(sheet, row(*(f"QEL R-{number:03d} +{number}" for number in range(100, 100 + ticks))), MANY_LINES).draw(
        0.0
    )
    (rule,) = sheet.rules
    assert len({y for y, _ in sheet.texts}) > 2
    assert max(y + 0.207 * size for y, size in sheet.texts) <= rule - 0.25 - 0.5


def test_a_tick_too_long_for_two_lines_is_on_the_back_whole() -> None:
    endless = row("word " * 60)
    assert _ticks(paper(), endless).rest == ("word " * 60,)
    assert row_piece(paper(), endless).height <= TALLEST_PT


@settings(max_examples=100, deadline=None)
@given(generated_flights())
def test_no_row_is_higher_than_what_must_stand_in_it_and_no_tick_is_lost(flight: Generated) -> None:
    sheet = paper()
    for one in Printed.of(reports(flight.text)[0]).route.needles:
        told = _ticks(sheet, one)
        # Ten rows are a page, unless what tells the place alone needs a further line.
        further = max(0, len(told.lines) - 2)
        assert row_piece(sheet, changed(one, radios=None)).height <= TALLEST_PT + LINE_PT * further
        assert further == 0 or len(told.rest) == 0 or len(one.at) > 1
        assert told.size >= 8.0
        words = " ".join(told.lines).split()
        kept = list(one.told)
        for phrase in told.rest:
            kept.remove(phrase)
        said = " ".join((*kept, *((f"on the back: {len(told.rest)}",) if told.rest else ()))).split()
        assert sorted(words) == sorted(said)
        assert all(sheet.text_width(line, told.size) <= sheet.right - sheet.left - 83.0 for line in told.lines)


def test_a_short_tick_takes_the_first_line_where_the_first_is_too_long_for_it() -> None:
    crowded = row("at: 37.6 NM from QHB, by time 0:08 after FIXAB", "FIXAC 9.1 +6", "FIXAD 17.6 DME +11")
    told = _ticks(paper(), crowded)
    assert told.rest == ()
    assert told.lines[0] == "FIXAC 9.1 +6"


def test_a_change_of_the_minimum_stays_in_the_row() -> None:
    crowded = row(*(f"FIXA{letter} 10.1 DME +19" for letter in "BCDEFGH"), "FIXAI 6.4 DME +8 min 5000")
    told = _ticks(paper(), crowded)
    assert told.rest
    assert "min 5000" in " ".join(told.lines)


_PLAIN = st.sampled_from(("TOC 7.6", "TOD 31.0 +14 GS 131", "FIXAB 10.1 DME +19", "FIXAC QHB 114.1 -.-. R-123 +31"))
_LIMIT = st.sampled_from(
    ("MCA FIXAB 12000", "MTA FIXAC 9500", "MRA 10000", "MOCA 4000", "FIXAD R-045 +22 min 11000", "VOR 44.1 +8 min ?")
)


@settings(max_examples=100, deadline=None)
@given(generated_flights(), st.lists(st.one_of(_PLAIN, _LIMIT), min_size=1, max_size=14))
def test_no_altitude_to_keep_and_nothing_that_tells_the_place_leaves_the_front(
    flight: Generated, more: list[str]
) -> None:
    sheet = paper()
    for plain in Printed.of(reports(flight.text)[0]).route.needles:
        one = changed(plain, ticks=(*plain.ticks, *more))
        told = _ticks(sheet, one)
        assert [phrase for phrase in told.rest if phrase[:2] in ("MC", "MT", "MR", "MO") or " min " in phrase] == []
        assert set(told.rest).isdisjoint(one.at)
        front = " ".join(told.lines)
        assert all(phrase in front or len(told.lines) > 1 for phrase in one.at)
        words = Counter(front.split())
        assert words["MCA"] == sum(phrase.startswith("MCA") for phrase in one.ticks)
        assert words["min"] >= sum(" min " in phrase for phrase in one.ticks)
        assert all(sheet.text_width(line, told.size) <= sheet.right - sheet.left - 83.0 for line in told.lines)


def test_a_third_line_opens_only_for_what_must_stay() -> None:
    """A row of the kind of V2 over a mountain pass: twelve phrases, four of which are altitudes."""
    plain = [f"FIXA{letter} 10.1 DME +19" for letter in "BCDEFGH"]
    limits = [
        f"FIXB{letter} QHB 114.1 R-123 +31 min {height}00" for letter, height in zip("ABC", (60, 70, 80), strict=True)
    ]
    assert len(_ticks(paper(), row("TOC 7.6", *plain)).lines) == 2
    told = _ticks(paper(), row("TOC 7.6", *plain, *limits, "MCA FIXBE 12000"))
    assert len(told.lines) == 3
    assert "MCA FIXBE 12000" in " ".join(told.lines)
    assert not set(told.rest) & {*limits, "MCA FIXBE 12000"}
    assert "TOC 7.6" in " ".join(told.lines), "of the others the first stays longest"


@pytest.mark.parametrize(
    ("stated", "order"),
    [
        ("Tower", ("ATIS", "GND", "Tower", "DEP")),
        ("Ground", ("ATIS", "Ground", "TWR", "DEP")),
        ("Clearance", ("Clearance", "ATIS", "GND", "TWR", "DEP")),
    ],
)
def test_a_stated_frequency_stands_where_it_is_called_among_the_blanks_of_the_others(
    stated: str, order: tuple[str, ...]
) -> None:
    """Before take-off the recording, ground, tower and departure are heard in turn (common practice, no source)."""
    text = (ROUTES / "nothing_given.route").read_text("utf-8")
    leaving = Printed.of(reports(f'{text}radio QHB "{stated}" 118.1\n')[0]).leaving
    assert leaving.lines == tuple((name, "118.1" if name == stated else "") for name in order)


def test_a_climb_that_ends_below_its_level_prints_the_height_reached() -> None:
    """The alternate is too near for 13000 ft: its climb ends where the descent begins."""
    file = ROUTES / "marsh.route"
    high = file.read_text("utf-8").replace("altitude  4500", "altitude  13000")
    (way,) = reports(high, str(file))[0].log.alternates
    top_ft = way.legs[0].end_altitude_ft
    assert top_ft < 13000
    # To the nearest ten, as heights flown are printed.
    assert abs(int(needles(way)[0].altitude) - top_ft) <= 5
