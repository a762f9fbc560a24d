"""What notices tell of stations that they do not name, and why one is not understood, read by themselves."""

from __future__ import annotations

import pytest

from navlog.nav.angles import position_text
from navlog.nav.chart import Position
from navlog.nav.notices import Disc, Notice, ObstacleTold, SegmentMinimum, StationOut, effect_words, period_words
from navlog.request.notice_matters import KEYWORDS
from navlog.request.notice_stations import read_plain_language
from navlog.request.notices import read_notices


def read(item_e: str, q_code: str) -> Notice:
    (notice,) = read_notices(
        f"(A0300/26 NOTAMN\nQ) ZZZZ/{q_code}/IV/BO/E/000/999/4544N03933W025\n"
        f"A) ZZZZ B) 2607180000 C) 2607182359\nE) {item_e})",
        "x",
    )
    return notice


@pytest.mark.parametrize(
    ("item_e", "q_code", "frequency_mhz"),
    [
        # QNVAS: a VOR, unserviceable (ICAO Doc 8400). The code alone tells that it is of one, or a word does.
        ("ELDON U/S.", "QNVAS", None),
        ("ELDON VOR U/S.", "QNVAS", None),
        ("ELDON VOR 110.25 U/S.", "QNVAS", 110.25),
        ("ELDON VOR 110.2MHZ OF NO USE.", "QXXXX", None),
    ],
)
def test_a_station_without_identifier_is_told_by_words_frequency_and_circle(
    item_e: str, q_code: str, frequency_mhz: float | None
) -> None:
    aid = read(item_e, q_code).aid
    assert aid is not None
    # 45 44 north is 45.7333, 39 33 west -39.55, and the last three digits are miles.
    assert aid.circle == Disc(Position(45.0 + 44.0 / 60.0, -39.0 - 33.0 / 60.0), 25.0)
    assert aid.frequency_mhz == frequency_mhz
    assert aid.words == item_e


def test_what_is_not_understood_and_of_no_station_tells_none() -> None:
    # QMRLC: a runway, closed.
    notice = read("ALL RWYS CLSD", "QMRLC")
    assert notice.unread is not None
    assert notice.aid is None


def test_what_is_taken_from_a_station_not_named_leaves_its_place_empty() -> None:
    taken = read_plain_language("ELDON VOR U/S.")
    assert taken.effects == ()
    assert taken.aid is not None
    assert (taken.aid.name, taken.aid.effects) == ("ELDON", (StationOut("", "vor"),))


def test_an_icao_notice_cut_short_says_what_is_missing() -> None:
    (notice,) = read_notices("(A0300/26 NOTAMN\nQ) ZZZZ/QNVAS/IV/BO/E/000/999/4544N03933W025\nA) ZZZZ", "x")
    assert notice.unread == "its items A, B and E are not all there"
    assert notice.location == "ZZZZ"
    assert notice.aid is not None
    assert (notice.aid.words, notice.aid.name) == ("", None)


@pytest.mark.parametrize(("radius_nm", "near"), [(0.0, "at"), (0.5, "within 0.5 NM of"), (3.0, "within 3.0 NM of")])
def test_an_obstacle_says_how_wide_its_area_is(radius_nm: float, near: str) -> None:
    told = effect_words(ObstacleTold(Position(45.5, -39.5), 1200.0, radius_nm))
    assert told == f"obstacle of 1200 ft MSL {near} {position_text(Position(45.5, -39.5))}"


@pytest.mark.parametrize(("hours", "told"), [("DLY 1200-2200", ""), ("SR-SS", ", not read")])
def test_hours_that_are_not_read_say_so_where_the_notice_is_printed(hours: str, told: str) -> None:
    (notice,) = read_notices(f"!XHA 07/001 QEL NAV VOR U/S {hours} 2607010000-2607312359", "x")
    assert period_words(notice) == f"from 2026-07-01 00:00Z to 2026-07-31 23:59Z, hours {hours}{told}"


@pytest.mark.parametrize(
    ("text", "station"),
    [("FWE VOR U/S.", "FWE"), ("VOR \N{RIGHT SINGLE QUOTATION MARK}QEL\N{RIGHT SINGLE QUOTATION MARK} U/S.", "QEL")],
)
def test_three_letters_alone_or_in_quotes_are_an_identifier(text: str, station: str) -> None:
    assert read_plain_language(text).effects == (StationOut(station, "vor"),)


def test_an_endless_sentence_on_a_station_is_not_read() -> None:
    assert read_plain_language("ELDON VOR " + "U/S " * 200).unread == "it is longer than any that is known"


def test_a_minimum_for_one_way_says_which() -> None:
    told = effect_words(SegmentMinimum(("V801",), "QHB", "QEL", "MEA", 5000.0, "north"))
    assert told == "V801 QHB to QEL MEA 5000 ft northbound"
    both = effect_words(SegmentMinimum(("V801",), "QHB", "QEL", "MEA", 5000.0))
    assert both == "V801 QHB to QEL MEA 5000 ft"


def test_an_icao_notice_is_printed_with_its_number_and_kind() -> None:
    assert read("ELDON VOR U/S.", "QNVAS").text.startswith("A0300/26 NOTAMN Q) ZZZZ/QNVAS/")


# What stands after the kind of aid and is no identifier: a word of its state.
@pytest.mark.parametrize(
    "state", ["OUT OF SERVICE", "NOT AVBL", "U/S DUE WIP", "DUE MAINT U/S", "ALL RADIALS UNUSABLE"]
)
def test_a_word_of_the_state_is_no_identifier_of_the_station(state: str) -> None:
    notice = read(f"ELDON VOR {state}", "QNVAS")
    assert notice.unread is not None
    assert [one for one in notice.effects if isinstance(one, StationOut)] == []


# FAA Order JO 7930.2, appendix B: minimum altitudes and levels, routes, reporting and significant points.
@pytest.mark.parametrize("letters", ["AA", "AL", "AN", "AP", "AR", "AX"])
def test_words_of_an_airway_that_are_not_known_are_for_the_pilot_to_read(letters: str) -> None:
    assert read("REVISED", f"Q{letters}CH").unread == "its words for an airway are not known"


# FAA Order JO 7930.2, 5-3: a notice on one component names the facility and then that component.
@pytest.mark.parametrize(
    ("aid", "means"),
    [
        ("VOR", "QEL VOR out of service"),
        ("VOR/DME VOR", "QEL VOR out of service"),
        ("VORTAC VOR", "QEL VOR out of service"),
        ("VOR AZIMUTH", "QEL VOR out of service"),
        ("VOR/DME AZM", "QEL VOR out of service"),
        # The distance part of a TACAN is a DME; its azimuth is of no use to a VOR receiver.
        ("TACAN", "QEL DME out of service"),
        ("TACAN DME", "QEL DME out of service"),
        ("TACAN AZM AND DME", "QEL DME out of service"),
        ("TACAN DME AND AZM", "QEL DME out of service"),
        ("VORTAC TACAN", "QEL DME out of service"),
        ("VORTAC TACAN DME", "QEL DME out of service"),
        ("TACAN AZM", "changes no figure of a log: TACAN azimuth"),
        ("VORTAC TACAN AZM", "changes no figure of a log: TACAN azimuth"),
        ("DME", "QEL DME out of service"),
        ("VOR/DME DME", "QEL DME out of service"),
        ("VORTAC DME", "QEL DME out of service"),
    ],
)
def test_the_component_that_is_out_is_the_last_named(aid: str, means: str) -> None:
    (notice,) = read_notices(f"!QEL 07/001 QEL NAV {aid} U/S 2607180000-2607182359", "x")
    assert [effect_words(one) for one in notice.effects] == [means]


# Without its number a notice is known by its place and keyword.
@pytest.mark.parametrize("keyword", ["NAV VOR", *KEYWORDS])
def test_a_notice_without_its_number_begins_with_a_place_and_any_keyword(keyword: str) -> None:
    text = f"!QEL QEL {keyword} REVISED 2607180000-2607182359"
    assert [(one.ident, one.location) for one in read_notices(text, "x")] == [("!QEL", "QEL")]
