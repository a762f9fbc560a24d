"""The strip: what stands in a row and where, and that nothing is wider or longer than its page."""

from __future__ import annotations

import pytest
from helpers.drawn import ROUTES, report, reports
from helpers.flown import changed, navlog
from helpers.generated import Generated, generated_flights
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.nav.record import changed as replace
from navlog.printed.needles import Needle
from navlog.sheets.pages import PAGES, SMALL_TYPE_PT, Page
from navlog.sheets.strip import _PAGE_BREAK, _row_lines, document, strip

HALF_LETTER = PAGES["half-letter"]


def rows(printed: str) -> dict[str, list[str]]:
    """The lines of each row of the front by the name of its place."""
    found: dict[str, list[str]] = {}
    row: list[str] = []
    for line in printed.partition("FINDINGS")[0].replace(_PAGE_BREAK, "").splitlines():
        if line[:1].isalpha() and line[11:18] == " [    ]":
            row = found.setdefault(line.split()[0], [])
        elif line[:2] != "  ":
            row = []
        row.append(line.rstrip())
    return found


def test_the_columns_of_paper_are_those_of_the_trade_tables() -> None:
    # Twelve point, 0.6 em, 5 mm margins: 129.7 / 2.54 = 51.06 and 138 / 2.54 = 54.3 characters.
    assert (PAGES["half-letter"].columns, PAGES["a5"].columns) == (51, 54)
    assert (PAGES["half-letter"].lines, PAGES["a5"].lines) == (38, 37)


def test_a_row_at_a_station_has_clock_turn_course_heading_and_heights_in_one_line() -> None:
    first, second, *_ = rows(strip(report("marsh"), HALF_LETTER))["QHB"]
    # From heading 264, printed at XHAR, to 215; the course turns by 60.
    assert first.split() == ["QHB", "1319", "[", "]", "L49", "212", "FROM", "215", "4500", "3000"]
    assert second.split()[:3] == ["QHB", "113.70", "V801"]  # tuned already: no Morse again


def test_a_changeover_says_what_to_tune_and_where() -> None:
    first, second, third, *_ = rows(strip(report("marsh"), HALF_LETTER))["COP"]
    assert "214 TO" in first
    assert second.startswith("  QEL 110.20 --.- . .-.. []")
    assert "at: QHB 11.0 DME" in third


def test_local_time_stands_in_the_head_where_the_flight_names_a_zone() -> None:
    # 12:10 at Atlantic/Azores in November is 13:10Z (IANA time zone database: UTC-01 in winter).
    assert "OFF 1310Z 1210 UTC-01" in strip(report("marsh"), HALF_LETTER)


def test_fuel_left_and_the_least_to_land_with_are_those_of_the_fuel_required() -> None:
    """38 gal less 1 of taxi; 8.5 gal/h over 29.5 NM and the 45 minutes of 14 CFR 91.167, by hand."""
    text = changed("rules ifr", "wind calm", "tas 118kt", "route QHB V801 QEL", without=("direct", "airport"))
    printed = strip(reports(text)[0], HALF_LETTER)
    lines = rows(printed)
    # 29.5 NM at 118 kt are 15 minutes: 2.125 gal, printed 2.2. The reserve is 6.375 gal, printed 6.4.
    assert lines["QHB"][2].startswith("  37.0[    ]")
    # 11 NM are 0.792 gal, printed 0.8.
    assert lines["COP"][2].startswith("  36.2[    ]")
    assert lines["QEL"][1].startswith("  34.8[    ]")
    assert "at landing 34.8, least to land with 6.4" in printed


def test_the_altitude_of_a_crossing_stands_on_the_way_to_it() -> None:
    lines = rows(strip(report("marsh"), HALF_LETTER))
    assert "MCA QEL 4500" in " ".join(lines["COP"])


def test_a_crossing_altitude_that_is_missed_is_not_read_as_that_of_the_next_place() -> None:
    """No file climbs to 12,000 ft there: the row that begins below it says so before it tells what comes next."""
    file = ROUTES / "marsh.route"
    text = file.read_text("utf-8").replace("mca 4500 QEL", "mca 12000 QEL")
    lines = rows(strip(reports(text, str(file))[0], HALF_LETTER))
    assert "MCA QEL 12000" in " ".join(lines["LEVEL"])
    assert lines["QEL"][2].split(": ")[1] == "misses MCA 12000"


def test_with_one_receiver_the_station_is_tuned_again_behind_a_cross_radial() -> None:
    # The radials cross south of QEL, so the way goes back north to it, on its 214 radial: 034 TO.
    text = changed("fix FULMA QHB 212 x QSK 264", "route QHB FULMA QEL", without=("airway",))
    told = " ".join(" ".join(rows(strip(reports(text)[0], HALF_LETTER))["FULMA"]).split())
    assert "at: QSK 112.40 --.- ... -.- set 264 FROM, then QEL 110.20 --.- . .-.. set 034 TO" in told


def test_a_fix_where_nothing_changes_is_a_tick_by_time_with_one_receiver_and_no_dme() -> None:
    text = (ROUTES.parents[2] / "examples" / "crossing_radials.route").read_text("utf-8")
    told = rows(strip(reports(text)[0], HALF_LETTER))
    assert "WRASS" not in told
    # 12.2 NM at 108 kt are 6.8 minutes.
    assert told["QHB"][2].endswith("WRASS 12.2 +7")


def test_what_is_written_down_stands_where_it_is_heard() -> None:
    printed = strip(report("hostile"), HALF_LETTER)
    order = [
        printed.index(word) for word in ("limit [", "OFF ", "\nCOP", "ATIS [", "altimeter [", "block out", "FINDINGS")
    ]
    assert order == sorted(order)


def test_more_behind_the_page_is_asked_for_by_name() -> None:
    route = str(ROUTES / "marsh.route")
    plain = navlog("log", route, "--format", "strip").out
    for name, words in (
        ("forms", "AIRCRAFT"),
        ("steps", "Note the time. Turn"),
        ("stations", "DME 84X"),
        ("findings", "FINDINGS: "),
        ("legend", "LEGEND"),
        ("workings", "WORKING 1 XHAR to"),
    ):
        asked = navlog("log", route, "--format", "strip", "--with", name).out
        assert words in asked, name
        assert words not in plain, name


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--format", "strip", "--with", "maps"), "--with knows no `maps`; it adds forms, steps, airports"),
        (("--format", "csv", "--with", "steps"), "--with goes with the formats strip, pdf"),
        (("--format", "strip", "--with", "drawings"), "a strip is text"),
        (("--format", "text", "--small"), "--small goes with the format strip"),
    ],
)
def test_what_cannot_be_added_is_said(options: tuple[str, ...], said: str) -> None:
    tried = navlog("log", str(ROUTES / "marsh.route"), *options)
    assert tried.status == 2
    assert said in tried.err


def test_smaller_type_holds_more_on_a_page() -> None:
    route = str(ROUTES.parents[2] / "examples" / "round_robin.route")
    small = navlog("log", route, "--format", "strip", "--small").out
    assert small.count(_PAGE_BREAK) < navlog("log", route, "--format", "strip").out.count(_PAGE_BREAK)
    fits(small, replace(HALF_LETTER, type_pt=SMALL_TYPE_PT))


@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
@pytest.mark.parametrize("name", ["marsh", "dateline", "hostile", "nothing_given"])
def test_a_strip_is_ascii_and_fits_its_page(name: str, page: Page) -> None:
    fits(document([report(name)], page, ("forms", "steps", "stations", "findings", "legend", "workings")), page)


def fits(printed: str, page: Page) -> None:
    """Every line is as wide as the page at most, every page as long."""
    printed.encode("ascii")
    for sheet in printed.split(_PAGE_BREAK):
        lines = sheet.splitlines()
        assert len(lines) <= page.lines
        assert max(map(len, lines)) <= page.columns


def test_no_row_is_split_between_pages() -> None:
    there = " ".join(["QHB", "QEL"] * 15)
    (whole,) = reports(changed(f"route {there}", without=("direct", "airport", "airway")))
    sheets = strip(whole, HALF_LETTER).split(_PAGE_BREAK)
    assert len(sheets) > 3
    for sheet in sheets[1:]:
        second = sheet.splitlines()[1]
        assert second.startswith("AT  ") or not second[:1].isspace()


words = st.text(st.characters(min_codepoint=32, max_codepoint=0x2FFF), max_size=60)
idents = st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789", min_size=1, max_size=12)
phrases = st.lists(words, max_size=4).map(tuple)
any_row = st.builds(
    Needle,
    legs=st.sampled_from(("1", "10-12", "")), place=idents, clock=st.sampled_from(("1338", "2359+1", "?", "+105")),
    turn=st.sampled_from(("", "L140")), tune=idents.map(lambda one: f"{one}* 113.70!"), morse=words,
    set_course=st.sampled_from(("087T", "360", "HOLD", "-", "?", "212!")), flag=st.sampled_from(("", "FROM", "TO")),
    heading=st.sampled_from(("~060M", "XXX", "?", "001!", "-")), altitude=st.sampled_from(("13000!", "FL085")),
    minimum=st.sampled_from(("13000", "?")), via=idents.map(lambda one: one[:5]),
    distance=st.sampled_from(("120.5", "0.3!")), minutes=st.sampled_from(("99:59", ">99h", "7", "?", "XXX")),
    groundspeed=st.sampled_from(("132", "XXX", "88!")), left=st.sampled_from(("1999.9", "0.0")),
    fuel=st.sampled_from(("50.0", "1050", "?", "")), at=phrases, ticks=phrases,
)  # fmt: skip


@settings(max_examples=500)
@given(any_row, st.sampled_from(tuple(PAGES.values())))
def test_no_row_is_wider_than_its_page(one: Needle, page: Page) -> None:
    assert max(map(len, _row_lines(one, page.columns))) <= page.columns


@settings(max_examples=150)
@given(generated_flights(), st.sampled_from(tuple(PAGES.values())))
def test_no_line_of_a_generated_flight_is_too_wide(flight: Generated, page: Page) -> None:
    long_names = flight.text.replace("FIXA", "TWELVELETTR").replace("XAA", "XTWELVELTTR")
    fits(document(reports(long_names), page), page)


def test_a_hundred_legs_and_more_than_99_hours_fit() -> None:
    there = " ".join(["QHB", "QEL"] * 50)
    text = changed(
        "tas 31kt", "wind 017/30", "altitude 3000", f"route {there}", without=("direct", "airport", "airway")
    )
    (whole,) = reports(text)
    assert len(whole.log.legs) >= 100
    assert whole.log.totals.time_min is not None
    assert whole.log.totals.time_min > 99 * 60
    printed = document([whole], HALF_LETTER)
    assert ">99h" in printed
    fits(printed, HALF_LETTER)
