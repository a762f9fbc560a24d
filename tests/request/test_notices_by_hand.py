"""Forms and items of notices, each read by hand: heads without a number, parts, broken lines, times, Q codes.

Forms as in FAA Order JO 7930.2 and ICAO Doc 8126, chapter 6; the notices are invented.
"""

from __future__ import annotations

import pytest

from navlog.nav.chart import Position
from navlog.nav.notices import Disc, Notice, airport_names, effect_words, period_words, read_moment
from navlog.nav.problems import NavlogError
from navlog.request.notices import read_notices

NOT_KNOWN = "its words for a station are not known"


def only(text: str) -> Notice:
    (notice,) = read_notices(text, "briefing.txt")
    return notice


def means(notice: Notice) -> list[str]:
    return [effect_words(one) for one in notice.effects]


def icao(e: str, q: str = "", c: str = "PERM") -> str:
    """A notice of the ICAO form by its items E, Q and C."""
    return f"A0001/26 NOTAMN\n{q}A) XXAA B) 2605010000 C) {c}\nE) {e}\n"


def coded(code: str, circle: str = "4612N03921W025") -> str:
    return f"Q) XXAA/Q{code}/IV/BO/AE/000/999/{circle}\n"


@pytest.mark.parametrize(
    ("head", "ident"), [("!MCN IFM NAV", "!MCN"), ("!MCN 05/552 IFM NAV", "!MCN 05/552"), ("!XHA\tIFM NAV", "!XHA")]
)
def test_a_domestic_notice_may_come_without_its_number(head: str, ident: str) -> None:
    notice = only(f"{head} VOR U/S 2605010000-PERM")
    assert (notice.ident, notice.location, means(notice)) == (ident, "IFM", ["IFM VOR out of service"])


@pytest.mark.parametrize("end", ["PERM", "UFN"])
def test_until_further_notice_is_without_an_end_in_both_forms(end: str) -> None:
    for text in (f"!MCN 05/552 IFM NAV VOR U/S 2605010000-{end}", icao("VOR QHB U/S", c=end)):
        notice = only(text)
        assert period_words(notice) == "from 2026-05-01 00:00Z, no end"
        assert notice.unread is None


PARTS = (
    "!FDC 0/1181 ZZZ ROUTE ZZZ. PART 1 OF 2 V801 LAKER TO PINEY MEA 5000. 2605010000-PERM\n"
    "!FDC 0/1181 ZZZ ROUTE ZZZ. PART 2 OF 2 V802 LAKER TO PINEY MEA 6000. 2605010000-PERM END PART 2 OF 2\n"
)


def test_the_parts_of_a_notice_are_one_and_all_of_it_a_second_time_is_no_further_part() -> None:
    once = only(PARTS)
    assert means(once) == ["V801 LAKER to PINEY MEA 5000 ft", "V802 LAKER to PINEY MEA 6000 ft"]
    assert (once.text.count("V801"), once.text.count("V802")) == (1, 1)
    assert only(PARTS + PARTS) == once


def test_parts_of_two_notices_are_not_mixed() -> None:
    first, second = PARTS.splitlines(keepends=True)
    other = second.replace("0/1181", "0/1182")
    assert [(one.ident, len(one.effects)) for one in read_notices(first + other, "b.txt")] == [
        ("!FDC 0/1181", 1),
        ("!FDC 0/1182", 1),
    ]


# A form of 69 columns breaks words at full lines; 50 characters with the notice's name are taken for one.
def test_a_word_is_broken_at_a_full_line_alone() -> None:
    line = "!XHA 07/001 QEL NAV VOR 205-220 BEYOND 40NM BELOW 5000FT UNUS"
    assert means(only(f"{line}\nABLE 2605010000-PERM")) == [
        "QEL VOR unusable on R-205 to R-220 beyond 40 NM below 5000 ft"
    ]
    short = "!XHA 07/001 QEL NAV VOR 205-220 BEYOND 40NM UNUS"
    assert only(f"{short}\nABLE 2605010000-PERM").unread is not None
    assert only(f"{short}ABLE\n2605010000-PERM").unread is None
    assert only("!XHA 07/001 QEL NAV VO\nR U/S 2605010000-PERM").unread == NOT_KNOWN
    assert only("!XHA 07/001 QEL NAV VOR\nU/S 2605010000-PERM").unread is None


@pytest.mark.parametrize(
    ("c", "why"),
    [
        ("WHEN DONE", "it gives no times: it counts at all times"),
        ("9999999999", "its time 9999999999 is no date: it counts at all times"),
        ("2604010000", "its times contradict each other, 2604010000 is not after 2605010000: it counts at all times"),
        ("2605010000", "its times contradict each other, 2605010000 is not after 2605010000: it counts at all times"),
        ("2605010001", None),
        ("2605020000 EST", None),
        ("2605020000EST", None),
    ],
)
def test_what_item_c_tells_of_the_end(c: str, why: str | None) -> None:
    notice = only(icao("VOR QHB U/S", c=c))
    assert notice.unread == why
    assert (notice.period.start is None) is (why is not None)
    assert notice.period.estimated is c.endswith("EST")
    # Understood either way: without its hours it counts at all of them.
    assert means(notice) == ["QHB VOR out of service"]


@pytest.mark.parametrize(
    ("code", "told"),
    [
        # NB: non-directional beacon; NL: locator; NX: direction finder. NV, NM, NA: VOR, VORTAC, all aids.
        ("NBAS", "changes no figure of a log: a beacon"),
        ("NLAS", "changes no figure of a log: a beacon"),
        ("NXAS", "changes no figure of a log: a beacon"),
        ("NVAS", None),
        ("NMAS", None),
        ("NAAS", None),
    ],
)
def test_a_q_code_of_a_beacon_changes_no_log_and_one_of_another_aid_is_read(code: str, told: str | None) -> None:
    notice = only(icao("BEACON QHB U/S", coded(code)))
    assert means(notice) == ([] if told is None else [told])
    assert notice.unread == (NOT_KNOWN if told is None else None)


@pytest.mark.parametrize(
    ("circle", "disc"),
    [
        ("4612N03921W025", Disc(Position(46.2, -39.35), 25.0)),
        ("4612S03921E005", Disc(Position(-46.2, 39.35), 5.0)),
        ("4672N03921W025", None),  # no latitude has 72 minutes
        ("4612N18100W025", None),
        ("4612N03921W", None),
    ],
)
def test_the_circle_of_a_q_line_is_told_where_its_middle_is_a_place(circle: str, disc: Disc | None) -> None:
    aid = only(icao("HARBOUR VOR U/S", coded("NVAS", circle))).aid
    assert aid is not None
    assert aid.name == "HARBOUR"
    if disc is None or aid.circle is None:
        assert aid.circle is disc
    else:
        assert (aid.circle.middle.latitude_deg, aid.circle.middle.longitude_deg) == pytest.approx(
            (disc.middle.latitude_deg, disc.middle.longitude_deg)
        )
        assert aid.circle.radius_nm == disc.radius_nm


def test_a_code_that_says_more_of_an_aerodrome_than_the_words_is_not_understood() -> None:
    said = "its code says more of the aerodrome than its words that are known"
    assert only(icao("BIRDS ABOUT", coded("FALC"))).unread == said
    # AH: hours of service changed; XX: plain language.
    assert only(icao("BIRDS ABOUT", coded("FAHX"))).unread is None


def test_a_moment_that_is_none_says_how_to_write_one() -> None:
    with pytest.raises(NavlogError) as caught:
        read_moment("2026-07-18 25:10Z")
    (told,) = caught.value.problems
    assert told.message == "`2026-07-18 25:10Z` is no moment"
    assert told.hint == "write date and time in UTC: '2026-07-18 15:10Z'"
    assert read_moment("2026-07-18T15:10Z") == read_moment("2026-07-18 15:10Z")


def test_what_stands_behind_a_blank_line_is_of_no_domestic_notice() -> None:
    notice = only("!XHA 07/001 QEL NAV VOR U/S\n\nBRIEFED 2605010000-2605020000 BY J. DOE\n")
    assert (notice.text, notice.period.start) == ("!XHA 07/001 QEL NAV VOR U/S", None)
    assert notice.unread == "it gives no times: it counts at all times"
    assert only("!XHA 07/001 QEL NAV VOR\n U/S\n2605010000-PERM\n \t\nOTHER").text.endswith("U/S 2605010000-PERM")


def test_a_notice_is_told_at_the_line_of_its_number() -> None:
    assert only("!XHA 07/001\nQEL NAV VOR U/S 2605010000-PERM").span.line == 1
    text = "BRIEFING\n\n!XHA 07/001\nQEL NAV VOR U/S 2605010000-PERM\n\nA0001/26 NOTAMN\n"
    assert [one.span.line for one in read_notices(text + icao("VOR QHB U/S").partition("\n")[2], "b.txt")] == [3, 6]


@pytest.mark.parametrize(("head", "read"), [("A0002/26 NOTAMR A0001/26", True), ("A0002/26 NOTAMN", False)])
def test_both_numbers_of_a_replacement_count_for_how_full_its_first_line_is(head: str, read: bool) -> None:
    # With the number replaced it has 53 characters, without one 44: only the first is full, and broken inside PERM.
    notice = only(f"{head} A) XXAA B) 2605010000 C) PER\nM E) VOR QHB U/S")
    assert (notice.unread is None) is read
    assert notice.ident == "A0002/26"


def test_a_station_not_named_is_taken_without_the_hours_that_are_not_read() -> None:
    notice = only(icao("HARBOUR VOR U/S DLY 0800-1600"))
    assert notice.unread == "it tells its station without an identifier"
    assert notice.aid is not None
    assert [effect_words(one) for one in notice.aid.effects] == [" VOR out of service"]
    assert notice.schedule == "DLY 0800-1600 in item E"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("TACAN QHB U/S", "QHB DME out of service"),
        ("VOR HARBOUR 'QHB' U/S", "QHB VOR out of service"),
        ("VOR HARBOUR (QHB) U/S", "QHB VOR out of service"),
        ("VOR/DME HARBOUR /QHB/ U/S", "QHB VOR and DME out of service"),
        ("HARBOUR VOR 'QHB' U/S", "QHB VOR out of service"),
        ("HARBOUR 'QHB' VOR U/S", "QHB VOR out of service"),
        ("DVOR/DME QHB DME PART U/S", "QHB DME out of service"),
    ],
)
def test_an_identifier_stands_in_quotes_or_alone_before_or_after_its_aid(text: str, told: str) -> None:
    assert means(only(icao(text))) == [told]


@pytest.mark.parametrize(
    "text",
    [
        "VOR QHB AND DME QHB U/S",
        "VOR QHB ON TEST AND DME QHB U/S",
        "VOR QHB DME QEL U/S",
        "QHB VOR AND QHB DME U/S",
        "VOR/DME QHB DME U/S",
    ],
)
def test_of_two_aids_in_one_sentence_none_is_taken_for_the_only_one(text: str) -> None:
    notice = only(icao(text))
    assert (means(notice), notice.unread) == ([], "what it says of the station is not known")


# A notice on two stations that is read for one lets the flight go on by the other.
@pytest.mark.parametrize(
    "text",
    [
        "VOR QEL/QHB U/S",
        "VOR QHB/QEL U/S",
        "VOR/DME QHB/QEL ON TEST",
        "VOR QHB/QEL: U/S",
        "VOR QHB (QEL) U/S",
        "VOR QHB /QEL/ U/S",
        "HARBOUR (QHB)/ELDON (QEL) VOR U/S",
        "QHB/QEL VOR 113.70MHZ U/S",
    ],
)
def test_of_two_stations_in_one_sentence_none_is_taken_for_the_only_one(text: str) -> None:
    notice = only(icao(text))
    assert (means(notice), notice.unread) == ([], "it may name more than one station")
    # Nothing that the frequency of one of them could make its own.
    assert notice.aid is not None
    assert notice.aid.effects == ()


def test_a_name_behind_the_identifier_is_no_second_station() -> None:
    assert means(only(icao("VOR/DME QHB/HARBOUR U/S"))) == ["QHB VOR and DME out of service"]


@pytest.mark.parametrize("words", ["NAV VOR U/S", "AD AP CLSD", "SVC FUEL NOT AVBL"])
def test_a_notice_filed_under_two_places_is_for_the_pilot_to_read(words: str) -> None:
    notice = only(f"!XAA 07/061 QHB/QEL {words} 2607180000-2607182359")
    assert (means(notice), notice.unread) == ([], "it is filed under more than one place")


@pytest.mark.parametrize(
    ("told", "names"),
    [
        # The domestic form leaves out the K that the ICAO form has in the contiguous United States.
        ("XHAR", ("XHAR", "KXHAR")),
        ("MCN", ("MCN", "KMCN")),
        ("KMCN", ("KMCN", "KKMCN", "MCN")),
        ("KMC", ("KMC", "KKMC")),
    ],
)
def test_an_airport_is_known_with_its_k_and_without(told: str, names: tuple[str, ...]) -> None:
    assert airport_names(told) == names


def test_near_a_use_alone_is_said_behind_the_period() -> None:
    notice = only("!XHA 07/001 QEL NAV VOR U/S 2605010000-2605020000")
    whole = "from 2026-05-01 00:00Z to 2026-05-02 00:00Z"
    assert period_words(notice) == whole
    assert period_words(notice, near=True) == f"{whole}, within 30 minutes of its use"


def test_more_broken_lines_than_are_tried_one_by_one_are_all_broken_inside_words() -> None:
    # Seventeen airways in lines of 52 characters: ten breaks, most inside words and numbers.
    told = [f"V{801 + number} LAKER TO PINEY MEA {5000 + 100 * number}" for number in range(17)]
    text = f"!FDC 6/0001 ZZZ ROUTE ZZZ. {'. '.join(told)}. 2605010000-PERM"
    lines = [text[first : first + 52] for first in range(0, len(text), 52)]
    assert len(lines) == 11
    notice = only("\n".join(lines))
    assert means(notice) == [f"V{801 + n} LAKER to PINEY MEA {5000 + 100 * n} ft" for n in range(17)]
    assert notice.unread is None


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("LAKER MRA 5000.", ["LAKER MRA 5000 ft"]),
        # A station by its identifier and kind alone, and one by its name.
        ("V801 QHB VOR TO QEL VORTAC MEA 5000.", ["V801 QHB to QEL MEA 5000 ft"]),
        ("V801 QHB VOR/DME TO ELDON, XX (QEL) NAVAID MEA 5000.", None),
        ("V801 HARBOUR (QHB) VOR, XX TO LAKER INT, XX MEA 5000.", ["V801 QHB to LAKER MEA 5000 ft"]),
        (
            "V801 LAKER TO PINEY MEA 8600 NORTHBOUND, 10000 SOUTHBOUND.",
            ["V801 LAKER to PINEY MEA 8600 ft northbound", "V801 LAKER to PINEY MEA 10000 ft southbound"],
        ),
        # Of an altitude alone nobody knows what it is of.
        ("V801 LAKER TO PINEY 5000.", None),
        ("V801 LAKER TO PINEY 5000 NORTHBOUND, MEA 6000.", None),
    ],
)
def test_the_kind_of_an_altitude_is_said_before_it(said: str, meant: list[str] | None) -> None:
    notice = only(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {said} 2605010000-PERM")
    assert means(notice) == (meant or [])
    assert (notice.unread is None) is (meant is not None)


def test_what_cancels_is_shown_by_its_first_line() -> None:
    notice = only("!XHA C07/001  QEL NAV  VOR U/S\n2607180000-2607182359\n")
    assert (notice.ident, notice.text, means(notice)) == ("!XHA C07/001", "QEL NAV VOR U/S", ["cancels !XHA 07/001"])


def test_an_endless_clause_is_told_as_such() -> None:
    notice = only(f"!XHA 07/001 QEL NAV VOR U/S {'DUE WORK ' * 80}2607180000-2607182359")
    assert notice.unread == "it is longer than any that is known"


# FAA AIM 1-1-3: a station may be on the air for a test, and is then not to be used.
@pytest.mark.parametrize(
    "state", ["ON TEST", "TESTING. DO NOT USE", "UNDER TEST", "TEST TRANSMISSIONS", "TEST TRANSMISSION", "DO NOT USE"]
)
def test_a_station_on_test_is_not_to_be_used(state: str) -> None:
    assert means(only(f"!MCN 05/552 IFM NAV VOR {state} 2605010000-PERM")) == ["IFM VOR on test: not to be used"]


@pytest.mark.parametrize("between", ["; ", ";", ", ", " AND "])
def test_sectors_of_a_station_stand_between_commas_semicolons_or_and(between: str) -> None:
    notice = only(f"!MCN 05/552 IFM NAV VOR 205-220 BEYOND 40NM{between}250-260 UNUSABLE 2605010000-PERM")
    assert means(notice) == [
        "IFM VOR unusable on R-205 to R-220 beyond 40 NM",
        "IFM VOR unusable on R-250 to R-260",
    ]


def test_a_part_of_an_airway_that_is_not_available_is_not_to_be_flown_by_vor() -> None:
    notice = only("!FDC 6/0001 ZZZ ROUTE ZZZ. V801 LAKER TO PINEY NA. 2605010000-PERM")
    assert means(notice) == ["V801 LAKER to PINEY not to be flown by VOR"]
