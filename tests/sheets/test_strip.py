"""The cockpit strip: what stands where, and that nothing is wider or longer than its page."""

from __future__ import annotations

import pytest
from helpers.drawn import ROUTES, report, reports
from helpers.flown import changed
from helpers.generated import Generated, generated_flights
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.printed.events import Event, Flown
from navlog.sheets.pages import PAGES
from navlog.sheets.strip import _PAGE_BREAK, _event_block, document, strip

HALF_LETTER = PAGES["half-letter"]


def blocks(printed: str) -> dict[str, list[str]]:
    """The lines of each place by the first word of it, without the pen's columns."""
    found: dict[str, list[str]] = {}
    place: list[str] | None = None
    for line in printed.replace(_PAGE_BREAK, "").splitlines():
        if line.startswith("---"):
            place = []
        elif "|" not in line:
            place = None
        elif place is not None:
            place.append(line.split("|")[0].rstrip())
            if len(place) == 1:
                found.setdefault(place[0].split("  ")[0], place)
    return found


def test_the_columns_of_paper_are_those_of_the_trade_tables() -> None:
    # Twelve point, 0.6 em, 5 mm margins: 129.7 / 2.54 = 51.06 and 138 / 2.54 = 54.3 characters.
    assert (PAGES["half-letter"].columns, PAGES["a5"].columns) == (51, 54)
    assert (PAGES["half-letter"].lines, PAGES["a5"].lines) == (38, 37)


def test_a_station_keeps_in_out_and_tuning_together() -> None:
    lines = blocks(strip(report("marsh"), HALF_LETTER))["QHB"]
    assert lines[1:4] == ["turn left 60", "QHB 113.70 --.- .... -...", "IN  272 TO"]
    assert lines[4].startswith("OUT 212 FROM")


def test_a_changeover_says_where_when_and_to_what() -> None:
    lines = blocks(strip(report("marsh"), HALF_LETTER))["COP"]
    assert lines[1] == "  11.0 NM from QHB (stated)"
    assert lines[2].startswith("  QHB DME 11.0  0:0")
    assert lines[3] == "tune QEL 110.20 --.- . .-.."
    assert lines[4].startswith("SET 214 TO")


def test_local_time_stands_beside_utc_where_the_flight_names_a_zone() -> None:
    # 12:10 at Atlantic/Azores in November is 13:10Z (IANA time zone database: UTC-01 in winter).
    assert blocks(strip(report("marsh"), HALF_LETTER))["XHAR"][0] == "XHAR  13:10Z  12:10 UTC-01"


def test_fuel_left_and_the_least_to_go_on_are_those_of_the_fuel_required() -> None:
    """38 gal less 1 of taxi; 8.5 gal/h over 29.5 NM and the 45 minutes of 14 CFR 91.167, by hand."""
    text = changed("rules ifr", "wind calm", "tas 118kt", "route QHB V801 QEL", without=("direct", "airport"))
    lines = blocks(strip(reports(text)[0], HALF_LETTER))
    # 29.5 NM at 118 kt are 15 minutes: 2.125 gal, printed 2.2. The reserve is 6.375 gal, printed 6.4.
    assert "  fuel 37.0  least 8.6" in lines["QHB"]
    # 11 NM are 0.792 gal, printed 0.8.
    assert "  fuel 36.2  least 7.8" in lines["COP"]
    assert "  fuel 34.8  least 6.4" in lines["QEL"]


def test_with_one_receiver_the_station_is_tuned_again_after_a_cross_radial() -> None:
    text = (ROUTES.parents[2] / "examples" / "crossing_radials.route").read_text("utf-8")
    lines = blocks(strip(reports(text)[0], HALF_LETTER))["WRASS"]
    assert "  QEL 110.20 --.- . .-.." in lines
    assert "  R-058 crosses  set 058 FROM" in lines
    assert "tune QHB 113.70 --.- .... -..." in lines


def test_the_altitude_of_a_crossing_stands_on_the_way_to_it() -> None:
    lines = blocks(strip(report("marsh"), HALF_LETTER))
    assert "  MCA QEL 4500" in lines["COP"]


def test_weather_is_noted_where_it_is_heard() -> None:
    printed = strip(report("hostile"), HALF_LETTER)
    order = [
        printed.index(word) for word in ("WEATHER XHAR", "CLEARANCE", "\nCOP", "WEATHER XOLD", "\nXOLD", "LAST VOR")
    ]
    assert order == sorted(order)


@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
@pytest.mark.parametrize("name", ["marsh", "dateline", "hostile", "nothing_given"])
def test_a_strip_is_ascii_and_fits_its_page(name: str, page: object) -> None:
    fits(document([report(name)], page), page)  # type: ignore[arg-type]


def fits(printed: str, page: object) -> None:
    """Every line is as wide as the page at most, every page as long."""
    size = next(one for one in PAGES.values() if one is page)
    assert printed.isascii()
    for sheet in printed.split(_PAGE_BREAK):
        lines = sheet.splitlines()
        assert len(lines) <= size.lines
        assert max(map(len, lines)) <= size.columns


def test_no_place_is_split_between_pages() -> None:
    for sheet in document([report("marsh")], HALF_LETTER).split(_PAGE_BREAK):
        first_place = next((line for line in sheet.splitlines() if "|" in line), None)
        assert first_place is None or first_place.split() == ["SET", "HDG", "TIME", "|ATA", "|GS", "|FUEL"]


words = st.text(st.characters(min_codepoint=32, max_codepoint=0x2FFF), max_size=60)
idents = st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789", min_size=1, max_size=12)
phrases = st.lists(words, max_size=4).map(tuple)
flown = st.builds(
    Flown,
    st.sampled_from(("087T FROM", "360 TO", "no station", "? FROM", "hold", "-")),
    st.sampled_from(("~360", "XXX", "?", "001", "")),
    st.sampled_from(("99:59", ">99h", "0:00", "?", "XXX")),
)
any_event = st.builds(
    Event,
    kind=st.just("fix"), place=idents, name=words, clock=st.sampled_from(("", "23:59Z")), local=words, turn=words,
    marks=phrases, inbound=st.sampled_from(("", "087T TO")), station=words, tune=words, flown=st.none() | flown,
    way=phrases, height=phrases, fuel=phrases, notes=phrases,
)  # fmt: skip


@settings(max_examples=1000)
@given(any_event, st.sampled_from(tuple(PAGES.values())))
def test_no_place_is_wider_than_its_page(one: Event, page: object) -> None:
    size = next(known for known in PAGES.values() if known is page)
    lines = _event_block(one, size).lines
    assert max(map(len, lines)) <= size.columns
    assert all(line.isascii() for line in lines)


@settings(max_examples=300)
@given(generated_flights(), st.sampled_from(tuple(PAGES.values())))
def test_no_line_of_a_generated_flight_is_too_wide(flight: Generated, page: object) -> None:
    long_names = flight.text.replace("FIXA", "TWELVELETTR").replace("XAA", "XTWELVELTTR")
    fits(document(reports(long_names), page), page)  # type: ignore[arg-type]


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
