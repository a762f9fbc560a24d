"""The back of the knee page: every block as long as there is room, and what has none is named."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

import pytest
from helpers.drawn import ROUTES, report, sheet
from helpers.flown import changed, navlog

from navlog.printed.back import BackPart, Block, Room, laid_out


def block(title: str, lines: int) -> Block:
    return Block(title, ("a line",) * lines)


def pages_of(lines: int, least: int = 0) -> Callable[[Sequence[Block]], Room]:
    """Pages of so many lines; the drawings want as many as `least` of them."""

    def room(blocks: Sequence[Block]) -> Room:
        used = sum(len(one.lines) for one in blocks)
        return Room(-(-used // lines), drawings=lines - used % lines >= least)

    return room


def shape(blocks: Sequence[Block]) -> list[tuple[str, int]]:
    return [(one.title, len(one.lines)) for one in blocks]


ALWAYS, SMALL = BackPart((block("A", 2),)), BackPart((block("", 1),))


def test_a_part_grows_to_the_longest_length_on_the_same_page() -> None:
    grows = BackPart(tuple(block("B", lines) for lines in (1, 3, 6, 9)), "more", optional=True)
    assert shape(laid_out((grows, ALWAYS, SMALL), (), pages_of(20))) == [("B", 9), ("A", 2), ("", 1)]
    shown = laid_out((grows, ALWAYS, SMALL), (), pages_of(10))
    assert shape(shown) == [("B", 6), ("A", 2), ("", 1), ("", 1)]
    assert shown[2].lines == ("No room for more here; behind it --with more",)


def test_a_part_without_room_is_named_and_one_that_must_stand_stays() -> None:
    grows = BackPart(tuple(block("B", lines) for lines in (3, 6)), "more", optional=True)
    firm = BackPart(tuple(block("C", lines) for lines in (1, 9)), "firm")
    shown = laid_out((grows, firm, ALWAYS, SMALL), (), pages_of(6))
    assert shape(shown) == [("C", 1), ("A", 2), ("", 1), ("", 1)]
    assert shown[2].lines == ("No room for more here; behind it --with more,firm",)


def test_the_first_lengths_are_before_the_drawings_and_the_rest_behind_them() -> None:
    grows = BackPart(tuple(block("B", lines) for lines in (1, 3, 6)), "more", optional=True, before_drawings=2)
    room = pages_of(20, least=14)
    assert shape(laid_out((grows, ALWAYS), ("drawings",), room)) == [("B", 3), ("A", 2), ("", 1)]
    # Where the drawings have no room anyway, everything grows, and they are named.
    shown = laid_out((grows, ALWAYS), ("drawings",), pages_of(20, least=20))
    assert shape(shown)[0] == ("B", 6)
    assert shown[-1].lines == ("No room for more here; behind it --with drawings",)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("airports", "end of civil twilight"),
        ("receivers", "OTHER VOR"),
        ("diversions", "DIVERSIONS"),
    ],
)
def test_what_is_asked_for_stands_behind(name: str, words: str) -> None:
    route = str(ROUTES / "marsh.route")
    asked = navlog("log", route, "--format", "strip", "--with", name).out
    assert words in " ".join(asked.rpartition("For planning only.")[2].split())


def test_the_back_tells_field_pattern_sunset_and_the_other_receiver() -> None:
    # 35 minutes south of 46 degrees north in July: the sun sets hours behind the landing at 15:39Z.
    text = changed("off 15:10Z", "equipment vor 2 dme 1", "rules ifr")
    printed = " ".join(navlog("log", "-", "--format", "strip", "--small", typed=text).out.split())
    assert "departure: elevation 790 ft, pattern 1790 ft" in printed
    assert "after landing" in printed
    assert "OTHER VOR leg 1, from XHAR: QEL 110.20" in printed
    assert "no check stated; it must be within the 30 days before the flight" in printed


def test_a_night_landing_is_told_on_both_sides() -> None:
    printed = " ".join(navlog("log", "-", "--format", "strip", typed=changed("off 23:30Z")).out.split())
    front, _, back = printed.partition("FINDINGS")
    assert "LANDING BY NIGHT, sunset 22:" in front
    assert "LANDING BY NIGHT" in back


def test_the_front_tells_sunset_at_the_destination_and_the_planned_airspeed() -> None:
    """Wind and true airspeed as stated; the sunset is the one that the back tells."""
    printed = " ".join(navlog("log", "-", "--format", "strip", "--small", typed=changed("off 15:10Z")).out.split())
    front, _, back = printed.partition("FINDINGS")
    (sunset,) = re.findall(r"sunset (\d\d:\d\dZ)", front)
    assert f"sunset {sunset}" in back
    assert "wind 230/12T TAS 110" in front


def test_the_lines_of_a_table_are_as_wide_as_they_are_in_a_pdf() -> None:
    pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")
    written = sheet(str(ROUTES / "marsh.route"), "--format", "pdf", "--with", "diversions")
    assert b"(DIVERSIONS)" in written
    assert report("marsh").diversions is None  # asked for by the command alone
