"""Reading notices: published ones to their exact effects, cancellations, broken lines, and spoilt text."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path
from textwrap import wrap

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import Struct

from navlog.nav.notices import Notice, NoticeForm, effect_words, period_words
from navlog.request.notices import _item_e, read_notices

FOLDER = Path(__file__).parents[1] / "authorities"


class Sample(Struct, frozen=True):
    """A published notice, and what it means."""

    text: str
    effects: tuple[str, ...]
    period: str | None
    unread: str | None


def samples(name: str) -> list[Sample]:
    found = []
    blocks = (FOLDER / name).read_text("utf-8").split("\n\n")[1:]
    for block in blocks:
        lines = block.rstrip("\n").split("\n")
        told = {sign: [line[2:] for line in lines if line.startswith(f"{sign} ")] for sign in "=~?"}
        text = "\n".join(line for line in lines if line[:2] not in ("# ", "= ", "~ ", "? "))
        period, unread = (next(iter(told[sign]), None) for sign in "~?")
        found.append(Sample(text, tuple(told["="]), period, unread))
    return found


PUBLISHED = samples("notices.txt")
ITEMS_E = samples("notices_item_e.txt")


OUT = "NAV VOR U/S 2605010000-PERM"
ROUTE = "!FDC 0/1181 ZZZ ROUTE ZZZ. V801 LAKER TO PINEY MEA 5000. 2605010000-PERM"
ICAO = "A0001/26 NOTAMN\nA) XXAA B) 2605010000 C) PERM\nE) VOR QHB U/S\n\n"
LATER = "A) XXAA B) 2605020000 C) PERM\nE) VOR QEL U/S"


def only(text: str) -> Notice:
    (notice,) = read_notices(text, "briefing.txt")
    return notice


def words_of(notice: Notice) -> tuple[str, ...]:
    return tuple(effect_words(one) for one in notice.effects)


def test_the_corpus_holds_sixty_published_notices_or_more() -> None:
    assert len(PUBLISHED) >= 60
    assert len(PUBLISHED) + len(ITEMS_E) >= 75


@pytest.mark.parametrize("sample", PUBLISHED, ids=lambda one: one.text.split("\n")[0][:24])
def test_a_published_notice_has_its_exact_effects(sample: Sample) -> None:
    notice = only(sample.text)
    assert words_of(notice) == sample.effects
    assert period_words(notice) == sample.period
    assert notice.unread == sample.unread
    assert notice.void is None


@pytest.mark.parametrize("sample", ITEMS_E, ids=lambda one: one.text.split("\n")[0][:24])
def test_a_published_item_e_has_its_exact_effects(sample: Sample) -> None:
    taken = _item_e(" ".join(sample.text.split()), "XXXX", "")
    assert tuple(effect_words(one) for one in taken.effects if "nothing" not in effect_words(one)) == sample.effects
    assert taken.unread == sample.unread


def test_all_of_the_corpus_in_one_text_gives_each_notice_once_and_in_order() -> None:
    apart = [only(sample.text).ident for sample in PUBLISHED]
    together = read_notices("\n\n".join(sample.text for sample in PUBLISHED), "all.txt")
    assert [one.ident for one in together] == apart


def test_a_notice_that_stands_twice_is_told_once() -> None:
    text = "!MCN 05/552 IFM NAV VOR U/S 2205241348-PERM"
    assert len(read_notices(f"{text}\nKATL\n{text}\n", "briefing.txt")) == 1


def test_a_notice_tells_the_line_that_it_begins_in() -> None:
    text = f"Good morning!\n\nKMCN\n!MCN 05/552 IFM {OUT}\nthanks\n!AAA 01/001 AAA {OUT}"
    assert [one.span.line for one in read_notices(text, "x")] == [4, 6]


# Invented notices: the wording is that of FAA Order JO 7930.2, 5-3 and 4-3, the places are not real.
@pytest.mark.parametrize(
    ("said", "means"),
    [
        ("NAV VOR OUT OF SERVICE", "QHB VOR out of service"),
        ("NAV VOR OTS", "QHB VOR out of service"),
        ("NAV VORTAC U/S", "QHB VOR and DME out of service"),
        ("NAV VORTAC TACAN AZM U/S", "changes no figure of a log: TACAN azimuth"),
        ("NAV TACAN AZIMUTH U/S", "changes no figure of a log: TACAN azimuth"),
        ("NAV TACAN DME U/S", "QHB DME out of service"),
        ("NAV VOR/DME DME U/S", "QHB DME out of service"),
        ("NAV VOR NOT MNT", "QHB not monitored"),
        ("NAV VORTAC UNMONITORED", "QHB not monitored"),
        ("NAV VOR IDENT REMOVED", "QHB VOR without identification: not to be used"),
        ("NAV VOR TEST", "QHB VOR on test: not to be used"),
        ("NAV VOR UNUSABLE 150-160", "QHB VOR unusable on R-150 to R-160"),
        ("NAV VOR 150-160 BELOW 5000FT UNUSABLE", "QHB VOR unusable on R-150 to R-160 below 5000 ft"),
        ("NAV VOR BEYOND 30NM BLW 4,500FT UNUSABLE", "QHB VOR unusable beyond 30 NM below 4500 ft"),
        ("NAV DME 150-160 BYD 20 NM UNUSABLE", "QHB DME unusable on R-150 to R-160 beyond 20 NM"),
        # Remarks of FAA NASR, 2026-05-14: `BARNES R-279 UNUSABLE BYD 50 NM`. THRU is plain English, without a source.
        ("NAV VOR 115-130 UNUSABLE BYD 20NM", "QHB VOR unusable on R-115 to R-130 beyond 20 NM"),
        ("NAV VOR R-115 UNUSABLE BYD 20NM BLW 5000FT", "QHB VOR unusable on R-115 beyond 20 NM below 5000 ft"),
        ("NAV VOR R-115 THRU R-130 UNUSABLE", "QHB VOR unusable on R-115 to R-130"),
        ("NAV NDB U/S", "changes no figure of a log: NDB"),
    ],
)
def test_the_state_of_a_station_is_read(said: str, means: str) -> None:
    assert words_of(only(f"!QHB 07/001 QHB {said} 2607181200-2607182000")) == (means,)


def test_several_sectors_are_several_effects() -> None:
    notice = only("!QHB 07/001 QHB NAV VOR 010-020, 150-160 BEYOND 20NM AND 355-005 UNUSABLE 2607181200-PERM")
    assert words_of(notice) == (
        "QHB VOR unusable on R-010 to R-020",
        "QHB VOR unusable on R-150 to R-160 beyond 20 NM",
        "QHB VOR unusable on R-355 to R-005",
    )


@pytest.mark.parametrize(
    ("said", "means"),
    [
        ("V801 QHB VORTAC, CA TO PINEY, CA MEA 5000 NORTHBOUND, 6000 SOUTHBOUND", 2),
        (
            "V801, V802 HARBOUR (QHB) VOR/DME TO PINEY NA EXCEPT FOR AIRCRAFT EQUIPPED WITH SUITABLE RNAV SYSTEM",
            1,
        ),
        ("PINEY, CA MRA 7000", 1),
        ("V801 HARBOUR (QHB) VORTAC, CA TO ELDON (QEL) VORTAC, CA COP 15 NM FROM QEL", 1),
        ("QHB VORTAC R-212 AND R-215 UNUSABLE BEYOND 40 NM BELOW 6500", 2),
    ],
)
def test_the_statements_on_airways_are_read_whole(said: str, means: int) -> None:
    notice = only(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {said}. 2607181200-2707181200EST")
    assert notice.unread is None
    assert len(notice.effects) == means


def test_an_unknown_sentence_leaves_the_known_ones_and_says_so() -> None:
    notice = only("!FDC 6/0001 ZZZ ROUTE ZZZ. V801 LAKER TO PINEY MEA 5000. V802 BAFFLES ALL. 2607181200-PERM")
    assert words_of(notice) == ("V801 LAKER to PINEY MEA 5000 ft",)
    assert notice.unread == "a part of it is not understood"


@pytest.mark.parametrize(
    "said",
    [
        "NAV VOR 301-3255 BEYOND 10NM UNUSABLE",
        "NAV VOR 400-410 UNUSABLE",
        "NAV VOR ABOVE 9000 UNUSABLE",
        "NAV VOR 010-020 AND 115-130 UNUSABLE BYD 20NM",
        "NAV VOR",
        "NAV",
        "",
        "NAV VOR SOMETHING",
        "ROUTE ZZZ. V801 LAKER TO PINEY MEA LOTS",
    ],
)
def test_what_is_not_understood_takes_nothing_and_says_so(said: str) -> None:
    notice = only(f"!QHB 07/001 QHB {said} 2607181200-PERM")
    assert notice.effects == ()
    assert notice.unread is not None


def test_a_notice_without_times_counts_at_all_times_and_says_so() -> None:
    notice = only("!QHB 07/001 QHB NAV VOR U/S")
    assert words_of(notice) == ("QHB VOR out of service",)
    assert notice.unread == "it gives no times: it counts at all times"
    assert notice.counts_at(datetime(2026, 7, 18, tzinfo=UTC), timedelta())


@pytest.mark.parametrize(
    ("times", "why"),
    [
        ("2605301200-2605202359", "its times contradict each other, 2605202359 is not after 2605301200"),
        ("2613451200-2605202359", "its time 2613451200 is no date"),
        ("2605201200-2605322359", "its time 2605322359 is no date"),
    ],
)
def test_times_that_cannot_be_are_told_as_such_and_count_at_all_times(times: str, why: str) -> None:
    start, end = times.split("-")
    domestic = only(f"!QHB 07/001 QHB NAV VOR U/S {times}")
    icao = only(f"A0001/26 NOTAMN\nA) XXAA B) {start} C) {end}\nE) VOR QHB U/S")
    for notice in (domestic, icao):
        assert notice.unread == f"{why}: it counts at all times"
        assert notice.counts_at(datetime(2027, 7, 18, tzinfo=UTC), timedelta())


# FAA Order JO 7930.2, 4-3 and 7-2: `C` before the number of a domestic notice, FDC CANCEL; ICAO Doc 8126, chapter 6.
@pytest.mark.parametrize(
    ("text", "void"),
    [
        (f"!ABC 05/005 QHB {OUT}\n!ABC C05/005 QHB {OUT}", "cancelled by !ABC C05/005"),
        (f"!ABC C05/005\n!ABC 05/005 QHB {OUT}", "cancelled by !ABC C05/005"),
        (f"{ROUTE}\n!FDC 0/1181 FDC CANCEL 0/1181", "cancelled by !FDC 0/1181 CANCEL"),
        (f"{ROUTE}\nFDC CANCEL 0/1181", "cancelled by !FDC CANCEL 0/1181"),
        (f"{ICAO}A0002/26 NOTAMC A0001/26\nA) XXAA B) 2605020000\nE) VOR QHB BACK", "cancelled by A0002/26"),
        (f"{ICAO}A0002/26 NOTAMR A0001/26\n{LATER}", "replaced by A0002/26"),
    ],
)
def test_what_is_cancelled_or_replaced_is_void(text: str, void: str) -> None:
    notices = read_notices(text, "briefing.txt")
    assert [one.void for one in notices if one.void is not None] == [void]
    (gone,) = (one for one in notices if one.void is not None)
    assert not gone.counts_at(datetime(2026, 5, 10, tzinfo=UTC), timedelta(days=400))


def test_a_notice_that_cancels_another_keeps_its_own_effects() -> None:
    new = "!FDC 6/0002 ZZZ ROUTE ZZZ. V801 LAKER TO PINEY MEA 5500. CANCELS FDC 0/1181. 2605010000-PERM"
    gone, stands = read_notices(f"{ROUTE}\n{new}", "x")
    assert gone.void == "cancelled by !FDC 6/0002"
    assert words_of(stands) == ("V801 LAKER to PINEY MEA 5500 ft", "cancels !FDC 0/1181")
    assert stands.unread == "a part of it is not understood"


def test_another_states_number_cancels_nothing() -> None:
    other = "A0002/26 NOTAMC A0001/26\nA) YYBB B) 2605020000\nE) VOR QEL BACK"
    assert [one.void for one in read_notices(f"{ICAO}{other}", "x")] == [None, None]


def test_an_estimated_end_ends_the_domestic_form_and_not_that_of_icao() -> None:
    domestic = only("!QHB 07/001 QHB NAV VOR U/S 2607181200-2607181400EST")
    icao = only("A0001/26 NOTAMN\nA) XXAA B) 2607181200 C) 2607181400 EST\nE) VOR QHB U/S")
    later, half = datetime(2026, 7, 18, 15, 0, tzinfo=UTC), timedelta(minutes=30)
    assert (domestic.form, icao.form) == (NoticeForm.DOMESTIC, NoticeForm.ICAO)
    assert (domestic.counts_at(later, half), icao.counts_at(later, half)) == (False, True)


def test_a_notice_counts_within_half_an_hour_of_its_hours() -> None:
    notice = only("!QHB 07/001 QHB NAV VOR U/S 2607181200-2607181400")
    half = timedelta(minutes=30)
    day = datetime(2026, 7, 18, tzinfo=UTC)
    hours = (11.49, 11.5, 14.5, 14.51)
    assert [notice.counts_at(day + timedelta(hours=one), half) for one in hours] == [False, True, True, False]


def hard_wrapped(text: str, width: int) -> str:
    """Lines of that many characters, words broken where they end, as a teleprinter leaves them."""
    return "\n".join(text[start : start + width] for start in range(0, len(text), width))


SHORT = [one for one in PUBLISHED if "\n" not in one.text and len(one.text) < 450 and one.unread is None]


@pytest.mark.parametrize("sample", SHORT, ids=lambda one: one.text[:16])
def test_a_notice_broken_at_column_69_even_inside_words_means_the_same(sample: Sample) -> None:
    notice = only(hard_wrapped(sample.text, 69))
    assert words_of(notice) == sample.effects
    assert period_words(notice) == sample.period


@settings(max_examples=60, deadline=None)
@given(sample=st.sampled_from(SHORT), width=st.integers(52, 90), blanks=st.sampled_from([" ", "  ", "\t"]))
def test_white_space_and_line_ends_change_nothing(sample: Sample, width: int, blanks: str) -> None:
    for text in (
        "\r\n".join(wrap(sample.text, width, break_long_words=False, break_on_hyphens=False)),
        hard_wrapped(sample.text, width),
        re.sub(" ", blanks, sample.text),
    ):
        notice = only(f"briefing of the day\n{text}\nend of briefing")
        assert words_of(notice) == sample.effects
        assert period_words(notice) == sample.period


@settings(max_examples=150, deadline=None)
@given(
    text=st.lists(
        st.sampled_from(
            [
                "!QHB 07/001 QHB NAV VOR ", "U/S", "2607181200-", "2607181400", "PERM", "EST", "\n", "A0001/26 NOTAMN",
                "NOTAMR A0001/26", "Q) ", "A) ", "B) ", "C) ", "D) ", "E) ", "F) ", "G) ", "(", ")", "FDC CANCEL 0/1 ",
                "!FDC 1/0497 ZOA ROUTE ZOA. ", "V165 ", "MARRI ", "TO ", "MEA 15000", "PART 2 OF 2", "\x00", "é", "!",
                " ", "9999999999-9999999999",
                "R-400 UNUSABLE", ",", ".", "-",
            ]
        ),
        max_size=40,
    ).map("".join)
)  # fmt: skip
def test_no_text_makes_the_reader_fail(text: str) -> None:
    for notice in read_notices(text, "hostile.txt"):
        assert period_words(notice)
        assert notice.unread is not None or notice.effects


@pytest.mark.parametrize(
    "words",
    [
        "ROUTE ZOA. V165 MARRI, CA TO MUSTANG (FMG) VORTAC, NV MEA 99999.",
        "ROUTE ZOA. V165 MARRI, CA TO MUSTANG (FMG) VORTAC, NV MEA 15000 AND MOCA 99,999.",
        "ROUTE ZOA. V165 MARRI MCA 60001 NORTHBOUND.",
        "ROUTE ZOA. FMG R-361 UNUSABLE.",
        "ROUTE ZOA. FMG R-251 UNUSABLE BELOW 99999.",
        "NAV VOR 251-255 BELOW 99999 UNUSABLE",
    ],
)
def test_an_altitude_or_radial_that_there_is_not_makes_a_notice_one_that_is_not_understood(words: str) -> None:
    (notice,) = read_notices(f"!FDC 1/0497 ZOA {words} 2106211454-PERM", "told.txt")
    assert notice.unread is not None
    assert notice.effects == ()


def test_a_word_broken_at_a_full_line_names_no_station_by_its_rest() -> None:
    """`FMG VORTAC R-167`, broken inside VORTAC at a full line, is no station TAC."""
    text = (
        "!FDC 1/0497 ZOA ROUTE ZOA. V165 MARRI, CA TO MUSTANG (FMG) VORTAC, NV MEA 15000. FMG VOR\n"
        "TAC R-167 UNUSABLE BELOW 15000. 2106211454-PERM"
    )
    (notice,) = read_notices(text, "told.txt")
    assert notice.unread is None
    assert words_of(notice)[-1] == "FMG VOR unusable on R-167 below 15000 ft"


def test_hours_survive_a_line_broken_inside_them() -> None:
    text = "!OAK 01/237 ZOA AIRSPACE UAS WI AN AREA DEFINED AS 2NM RADIUS OF A POINT SFC-400FT AGL DLY 14\n"
    (notice,) = read_notices(f"{text}00-0400 2301201400-2302210400", "told.txt")
    assert notice.schedule == "DLY 1400-0400"


def test_a_monstrous_text_is_read_in_good_time() -> None:
    lines = ["A) B) C) D) E) F) G) " * 2000, "!QHB 07/001 QHB NAV VOR " + "150-160, " * 20_000, "V1 " * 30_000]
    for line in lines:
        text = f"!FDC 1/0001 ZZZ ROUTE {line}\nA0001/26 NOTAMN {line}\n{line}"
        assert len(read_notices(text, "big.txt")) >= 2


@pytest.mark.parametrize(
    ("hours", "read"),
    [
        ("DLY 1200-2200", True),
        ("MON-FRI 0700-1500", True),
        ("MON-FRI 0700-1500 EXC HOL", False),
        ("EXC MON-FRI 0700-1500", False),
        ("DLY SR-SS", False),
        ("DLY SS-SR", False),
        ("SR-SS", False),
        ("SS-SR", False),
        ("1200-1500", False),
        ("0600-SS", False),
        ("MON SR-SS, TUE 0900-SS", False),
        ("MON-FRI 0700-1500, SAT 0900-1200", True),
        ("SUN 2200-MON 0600", True),
        ("SUN 2200-MON 0600 EXC HOL", False),
    ],
)
def test_hours_that_something_else_limits_are_printed_whole_and_not_read(hours: str, read: bool) -> None:
    """Else "closed except on weekdays" would be read as closed on weekdays; hours that are not read never end one.

    SR and SS are sunrise and sunset (ICAO Doc 8400).
    """
    (notice,) = read_notices(f"!XHA 07/001 QEL NAV VOR U/S {hours} 2607010000-2607312359", "x")
    assert (notice.schedule, notice.hours_read) == (hours, read)
    saturday = datetime(2026, 7, 18, 16, tzinfo=UTC)
    assert notice.counts_at(saturday, timedelta(0)) is (not read or hours.startswith("DLY"))
    assert [effect_words(one) for one in notice.effects] == ["QEL VOR out of service"]


@pytest.mark.parametrize("words", ["FUEL NOT AVBL", "AVGAS NOT AVBL", "NO FUEL AVBL"])
def test_fuel_not_available_at_some_hours_is_not_available_at_them_alone(words: str) -> None:
    (notice,) = read_notices(f"!XHA 07/001 XOLD SVC {words} DLY 0100-1400 2607010000-2607312359", "x")
    assert [effect_words(one) for one in notice.effects] == ["XOLD fuel not available"]
    assert (notice.schedule, notice.hours_read) == ("DLY 0100-1400", True)
    assert [notice.counts_at(datetime(2026, 7, 18, hour, tzinfo=UTC), timedelta(0)) for hour in (12, 16)] == [
        True,
        False,
    ]
