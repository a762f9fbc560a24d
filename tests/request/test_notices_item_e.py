"""Hours among the words of a notice's item E, and beside them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from navlog.nav.notices import Notice, effect_words, period_words
from navlog.request.notices import read_notices


def in_item_e(words: str, code: str = "QNVAS", hours: str = "") -> Notice:
    (notice,) = read_notices(
        f"A0123/26 NOTAMN\nQ) XXFR/{code}/IV/BO/AE/000/999/4612N03921W025\nA) XXHA\n"
        f"B) 2607180000 C) 2607282359\n{hours}E) {words}\n",
        "x",
    )
    return notice


@pytest.mark.parametrize(
    ("words", "code", "told", "hours"),
    [
        ("VOR QHB U/S 1200-1500 DAILY", "QNVAS", "QHB VOR out of service", "1200-1500 DAILY"),
        ("VOR QHB U/S BTN 1200 AND 1500", "QNVAS", "QHB VOR out of service", "BTN 1200 AND 1500"),
        ("VOR QHB U/S DUE MAINT DLY 1200-1500", "QNVAS", "QHB VOR out of service", "DLY 1200-1500"),
        ("/QHB/ NAV VOR OUT OF SERVICE DLY 1200-1500", "QNVAS", "QHB VOR out of service", "DLY 1200-1500"),
        ("AD CLSD FROM 1200 TO 1500 UTC", "QFALC", "XXHA closed", "FROM 1200 TO 1500 UTC"),
    ],
)
def test_hours_among_the_words_of_item_e_are_told_as_not_read_and_it_counts_throughout(
    words: str, code: str, told: str, hours: str
) -> None:
    notice = in_item_e(words, code)
    assert [effect_words(one) for one in notice.effects] == [told]
    assert notice.unread is None
    assert period_words(notice).endswith(f", hours {hours} in item E, not read")
    night = datetime(2026, 7, 19, 3, tzinfo=UTC)
    assert notice.counts_at(night, timedelta(0))


def test_hours_of_item_d_are_read_and_those_of_item_e_beside_them_not_needed() -> None:
    notice = in_item_e("VOR QHB U/S DUE MAINT 1200-1500", hours="D) DAILY 1200-1500\n")
    assert (notice.schedule, notice.hours_read) == ("DAILY 1200-1500", True)


def test_what_limits_the_rest_but_its_hours_is_still_not_understood() -> None:
    for words in ("VOR QHB U/S EXC 1200-1500", "VOR QHB U/S OUTSIDE 1200-1500", "VOR QHB AVBL 1200-1500"):
        notice = in_item_e(words)
        assert notice.effects == ()
        assert notice.unread is not None


def test_fuel_to_be_had_at_some_hours_alone_is_not_a_matter_that_changes_nothing() -> None:
    for words in ("FUEL 100LL AVBL 0800-1600 ONLY", "AVGAS AVBL O/R", "FUEL AVAILABLE SR-SS"):
        assert in_item_e(words, "QFUAH").unread == "it tells at which hours, or how, fuel is to be had"
