"""The head, the totals and the rows of the knee page, worked by hand.

XAA, QBB and XCC stand on 39 W, 20.0 NM apart (20 minutes of latitude, WGS84), XDD 11.0 NM south of QBB. At 120 kt and
8 gal/h a mile takes half a minute, and 15 NM a gallon. In 360/20 the way north is flown at 100 kt, south at 140.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from helpers.drawn import reports
from helpers.judged import reported

from navlog.nav.chart import Provenance, Source
from navlog.nav.record import changed
from navlog.printed.page import Head, Printed
from navlog.rules.report import Report

GIVEN = (
    "airport XAA N46 00.00 W039 00.00 elev 100ft",
    "station QBB 114.00 N46 20.00 W039 00.00 decl 0E class L dme elev 0ft",
    "airport XCC N46 40.00 W039 00.00 elev 200ft",
    "airport XDD N46 09.00 W039 00.00 elev 100ft",
    "direct XAA - QBB 20nm min 2000",
    "direct QBB - XCC 20nm min 3000",
    "date 2026-07-18", "off 15:00Z", "wind calm", "variation 0E", "altitude 3500", "tas 120kt", "burn 8gph",
    "fuel 20gal", "rules vfr day", "route XAA QBB XCC",
)  # fmt: skip


def flown(*more: str) -> Report:
    """The flight with statements replaced or added by their keywords."""
    words = {one.split()[0] for one in more}
    kept = [one for one in GIVEN if one.split()[0] not in words]
    (report,) = reports("\n".join((*kept, *more)) + "\n")
    return report


def head(*more: str) -> Head:
    return Printed.of(flown(*more)).head


def test_the_head_of_the_page() -> None:
    assert head() == Head(
        "test", "XAA QBB XCC", "2026-07-18", "VFR DAY", "3500 ft", "no aircraft file", "wind calm TAS 120",
        "data: the route file", "1500Z", "1520Z",
    )  # fmt: skip
    assert head("rules ifr").rules == "IFR"
    assert head("altitude FL085", "altimeter 1013.25hPa", "levels icao").level == "FL085"
    # 23:55Z and 20 min are a quarter past midnight.
    assert (head("off 23:55Z").off, head("off 23:55Z").on) == ("2355Z", "0015Z+1")


@pytest.mark.parametrize(
    ("wind", "told"),
    [
        ("wind calm", "wind calm TAS 120"),
        ("wind 230/12", "wind 230/12T TAS 120"),
        ("wind 360/130", "wind 360/130T TAS 120"),
    ],
)
def test_the_planned_wind_has_a_north_where_it_blows(wind: str, told: str) -> None:
    assert head(wind).cruise == told


def test_the_airspeed_is_that_in_cruise_where_there_is_any() -> None:
    # Climber cruises at 110 kt by its file; it climbs at 75 and descends at 100 kt calibrated, slower.
    by_file = ("aircraft climber.toml", "-tas", "-burn", "wind calm")
    assert Printed.of(reported(*by_file)).head.cruise == "wind calm TAS 110"
    # Where all is climb there is none, and what is flown in that is told.
    high = Printed.of(reported(*by_file, "altitude 17500", "route XHAR QHB"))
    assert "110" not in high.head.cruise


def test_how_long_published_data_is_good() -> None:
    # A cycle of 28 days is out at its end; the first of several to go counts.
    report = flown()
    out = [
        Provenance(Source.NASR, name, expires=datetime(2026, month, day, tzinfo=UTC).date())
        for name, month, day in (("a", 8, 13), ("b", 8, 6))
    ]
    for sources, told in (
        (out, "data to 05AUG"),
        (out[:1], "data to 12AUG"),
        ([Provenance(Source.NASR, "c")], "data without dates"),
        ([*out, Provenance(Source.NASR, "c")], "data to 05AUG"),
        ([], "data: the route file"),
    ):
        log = changed(report.log, route=changed(report.log.route, sources=tuple(sources)))
        assert Printed.of(changed(report, log=log)).head.data == told


def test_the_totals_in_two_lines() -> None:
    # 40 NM in 20 min are 2.67 gal, up 2.7; 30 min of reserve are 4.
    assert Printed.of(flown()).totals == (
        "TRIP 40.0 NM 0:20   FUEL gal: trip 2.7 + reserve 4.0 = 6.7 required",
        "on board 20.0, margin 13.3   at landing 17.3, least to land with 4.0",
    )
    # North 24 min and south 17.1: 2.3 gal of the 12 taken.
    stop = ("wind 360/20", "route XAA QBB XCC land 30min fuel 12gal QBB XAA", "extra 1gal")
    assert Printed.of(flown(*stop)).totals == (
        "TRIP 80.0 NM 0:41 in the air   FUEL gal since last fuelling: trip 2.3 + reserve 4.0 + extra 1.0 = 7.3"
        " required",
        "on board then 12.0, margin 4.7   at landing 9.7, least to land with 5.0",
    )


def test_an_alternate_in_a_line() -> None:
    # 11.0 NM back from QBB: 5.5 min, and 0.73 gal.
    page = Printed.of(flown("alternate XDD from QBB"))
    assert page.alternate_lines == ("ALTN XDD from QBB: QBB 114.00 180 FROM, HDG 180, 3500 ft, 11.0 NM 0:06 0.8 gal",)
    assert [one.title for one in page.alternates] == ["ALTERNATE XDD from QBB"]
    assert Printed.of(flown()).alternate_lines == ("no alternate stated",)


def test_only_errors_that_nobody_has_accepted_are_not_as_planned() -> None:
    low = ("direct QBB - XCC 20nm min 4000", "direct XAA - QBB 20nm min 2000", "rules ifr")
    told = [one for one in Printed.of(flown(*low)).not_as_planned if "minimum of 4000" in one]
    assert told == ["leg 2: 3500 ft is below the stated minimum of 4000 ft"]
    assert not [one for one in Printed.of(flown()).not_as_planned if "minimum" in one]


def test_the_rows_of_the_way() -> None:
    first, second, last = Printed.of(flown()).route.needles
    assert (first.place, first.clock, first.tune, first.set_course, first.flag) == (
        "XAA",
        "1500",
        "QBB 114.00",
        "360",
        "TO",
    )
    assert (first.morse, first.heading, first.minimum) == ("--.- -... -...", "360", "2000")
    assert first.altitude == "3500"
    assert (first.distance, first.minutes, first.groundspeed, first.left, first.fuel) == (
        "20.0",
        "10",
        "120",
        "20.0",
        "20.0",
    )
    # At QBB 1.33 gal are used, up 1.4; the same station goes on guiding and is identified no second time.
    assert (second.place, second.clock, second.set_course, second.flag, second.morse) == (
        "QBB",
        "1510",
        "360",
        "FROM",
        "",
    )
    assert (second.minimum, second.left, second.fuel, second.turn) == ("3000", "0.0", "18.6", "")
    assert (last.place, last.clock, last.fuel, last.legs, last.tune) == ("XCC", "1520", "17.3", "", "")


def test_a_row_in_a_hold_has_no_heading_and_names_the_hold() -> None:
    needles = Printed.of(flown("hold QBB 6min")).route.needles
    (hold,) = [one for one in needles if one.set_course == "HOLD"]
    assert (hold.heading, hold.flag, hold.minutes, hold.distance) == ("-", "", "6", "0.0")
    assert hold.groundspeed == "-"
    assert "HOLD 0:06" in hold.ticks


def test_where_nothing_guides_a_row_says_so_once() -> None:
    needles = Printed.of(flown("unavailable QBB")).route.needles
    assert [one.tune for one in needles[:-1]] == ["no VOR"] * len(needles[:-1])
    ticks = [one.ticks for one in needles]
    assert ticks[0][:2] == ("dead reckoning", "QBB is out of service")
    assert [some for some in ticks[1:-1] if some] == [("dead reckoning",)] * (len(ticks) - 2)
    # Into 130 kt from ahead nothing is flown at 120, and a time would be a lie.
    lost = Printed.of(flown("wind 360/130")).route.needles[0]
    assert (lost.minutes, lost.groundspeed, lost.distance, lost.heading) == ("XXX", "XXX", "20.0", "XXX")
