"""Letters that a sheet can print, text inside XML, Markdown kept as it is, and clocks."""

from __future__ import annotations

from datetime import UTC, datetime
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.layout import packed, plain, wrapped
from navlog.printed.clocks import clock_text, local_text
from navlog.sheets.markdown import escaped as in_markdown
from navlog.sheets.xml_text import element


@pytest.mark.parametrize(
    ("text", "ascii_text", "latin_text"),
    [
        ("Übungsplatz é", "Ubungsplatz e", "Übungsplatz é"),
        ("東京", "??", "??"),
        ("¼ ½", "? ?", "¼ ½"),
        ("ﬁx", "?x", "?x"),
    ],
)
def test_accents_fall_and_the_rest_is_a_question_mark(text: str, ascii_text: str, latin_text: str) -> None:
    assert plain(text) == ascii_text
    assert plain(text, "cp1252") == latin_text


@given(st.text())
def test_a_letter_stays_one_letter(text: str) -> None:
    shown = plain(text)
    assert len(shown) == len(text)
    assert shown.isascii()
    assert shown.isprintable()


@given(st.text())
def test_any_text_can_stand_in_xml(text: str) -> None:
    read = ET.fromstring(element("name", text).encode()).text or ""
    assert read == "".join(character if character.isprintable() or character in "\t\n" else "?" for character in text)


@given(st.lists(st.text(st.characters(min_codepoint=33, max_codepoint=126)), max_size=8), st.integers(10, 60))
def test_packed_phrases_keep_their_words_and_width(phrases: list[str], width: int) -> None:
    lines = packed(phrases, width)
    assert all(len(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(phrases)


def test_a_word_longer_than_the_line_is_broken() -> None:
    assert wrapped("x" * 25, 10, "  ") == ["x" * 10, "  " + "x" * 8, "  " + "x" * 7]


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a|b *c* [d](e) <f>", r"a\|b \*c\* \[d\](e) \<f\>"),
        ("--.- .... -...", r"\-\-.- \.\.\.\. -\.\.."),
        ("1. first", r"1\. first"),
        ("# title", r"\# title"),
        ("112.40", "112.40"),
        ("- item", r"\- item"),
    ],
)
def test_markdown_shows_text_as_it_is(text: str, shown: str) -> None:
    assert in_markdown(text) == shown


SUMMER, WINTER = datetime(2026, 7, 18, 15, 10, tzinfo=UTC), datetime(2026, 1, 18, 15, 10, tzinfo=UTC)


# Offsets by the IANA time zone database.
@pytest.mark.parametrize(
    ("moment", "zone", "shown"),
    [
        (SUMMER, "America/Chicago", "10:10 CDT"),
        (WINTER, "America/Chicago", "09:10 CST"),
        (WINTER, "Atlantic/Azores", "14:10 UTC-01"),
        (SUMMER, "Atlantic/Azores", ""),
        (SUMMER, "Asia/Kathmandu", "20:55 UTC+0545"),
        (SUMMER, None, ""),
        (None, "America/Chicago", ""),
        # 03:10Z of the 19th is 22:10 of the 18th in Chicago (UTC-5) and 08:55 of the 19th in Kathmandu (UTC+5:45).
        (datetime(2026, 7, 19, 3, 10, tzinfo=UTC), "America/Chicago", "22:10 CDT"),
        (datetime(2026, 7, 19, 3, 10, tzinfo=UTC), "Asia/Kathmandu", "08:55+1 UTC+0545"),
    ],
)
def test_local_time_carries_its_zone(moment: datetime | None, zone: str | None, shown: str) -> None:
    day = WINTER.date() if moment is WINTER else SUMMER.date()
    assert local_text(moment, zone, day) == shown


def test_a_clock_shows_utc_first() -> None:
    day = SUMMER.date()
    assert clock_text(SUMMER, "America/Chicago", day) == "15:10Z (10:10 CDT)"
    assert clock_text(SUMMER, None, day) == "15:10Z"
    assert clock_text(None, "America/Chicago", day) == "?"


def test_a_time_of_another_day_carries_a_mark() -> None:
    early, late = datetime(2026, 7, 19, 3, 10, tzinfo=UTC), datetime(2026, 7, 17, 22, 0, tzinfo=UTC)
    assert clock_text(early, None, SUMMER.date()) == "03:10Z+1"
    assert clock_text(early, "America/Chicago", SUMMER.date()) == "03:10Z+1 (22:10 CDT)"
    assert clock_text(late, "Asia/Kathmandu", SUMMER.date()) == "22:00Z-1 (03:45 UTC+0545)"
