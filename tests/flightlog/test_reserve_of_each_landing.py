"""Each landing has the reserve of its own light, and no landing that of another.

14 CFR 91.151(a): fuel "to fly to the first point of intended landing and, assuming normal cruising speed" after that
for 30 minutes "during the day", 45 "at night". Night is that of 14 CFR 1.1; its civil twilight is astral's, 6 degrees.

The aeroplane flies 120 kt and burns 8 gal/h in calm air: 15 NM a gallon, 30 minutes are 4 gal and 45 are 6. From XAA to
XBB are 30 NM, 15 min and 2 gal; from there to XCC as many; to XDD 6 NM, 3 min and 0.4 gal; to XEE 120 NM, an hour and
8 gal. All lie together, so that the sun is the same at each: how far apart they are is what the chart says.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from astral import Observer
from astral.sun import dawn, dusk
from helpers.flown import Json
from helpers.folder import Folder

DAY = date(2026, 7, 18)
PLACE = Observer(46.0, -39.0)
DUSK, DAWN = (event(PLACE, DAY, depression=6.0, tzinfo=UTC) for event in (dusk, dawn))

FIELDS = (
    "".join(f"airport {ident} N46 00.{number:02} W039 00.00 elev 0ft\n" for number, ident in enumerate(
        ("XAA", "XBB", "XCC", "XDD", "XEE")
    ))
    + "direct XAA - XBB 30nm\ndirect XBB - XCC 30nm\ndirect XBB - XDD 6nm\ndirect XBB - XEE 120nm\n"
    "variation 0E\nwind calm\naltitude 3500\ntas 120kt\nburn 8gph\n"
)  # fmt: skip


def flown(folder: Folder, landing_at_xbb: datetime, statements: str) -> Json:
    """The flight that lands at XBB at a time, 15 minutes after take-off from XAA."""
    off = landing_at_xbb - timedelta(minutes=15)
    return folder.fly(f"{FIELDS}date {off:%Y-%m-%d}\noff {off:%H:%M}Z\n{statements}")


def told(found: Json, rule: str) -> list[tuple[int, str]]:
    """The legs and messages of what a rule tells."""
    return [(one["leg"], one["message"]) for one in found["findings"] if one["rule"] == rule]


BEFORE_DUSK = DUSK - timedelta(minutes=20)
"""XBB is reached by day, XCC after a stop of 10 minutes and 15 of flight 5 minutes after the end of twilight."""

BEFORE_DAWN = DAWN - timedelta(minutes=5)
"""XBB is reached by night; 3 minutes and a stop of 10 later it is day."""


def test_a_landing_by_day_asks_nothing_of_the_night_after_the_next_take_off(folder: Folder) -> None:
    # 4.5 gal are left at XBB: 30 minutes, and not 45. The tanks are filled there for the landing by night.
    found = flown(folder, BEFORE_DUSK, "fuel 6.5gal\nroute XAA XBB land 10min fuel 20gal XCC\n")
    assert [one["night"] for one in found["airports"]] == [None, False, True]
    assert told(found, "reserve") == []
    (earlier,), fuel = found["fuel"]["earlier"], found["fuel"]
    assert (earlier["reserve_min"], earlier["reserve_rule"]) == (30, "14 CFR 91.151 day")
    assert (earlier["required_gal"], earlier["margin_gal"]) == pytest.approx((2 + 4, 0.5))
    assert (fuel["reserve_min"], fuel["reserve_rule"]) == (45, "14 CFR 91.151 night")
    assert (fuel["required_gal"], fuel["margin_gal"]) == pytest.approx((2 + 6, 12))
    assert [leg["fuel_least_gal"] for leg in found["legs"]] == pytest.approx([4, 6])


def test_each_landing_without_its_reserve_is_told_with_its_own(folder: Folder) -> None:
    found = flown(folder, BEFORE_DUSK, "fuel 5.9gal\nroute XAA XBB land 10min fuel 7.9gal XCC\n")
    assert told(found, "reserve") == [
        (1, "3.9 gal left at XBB, and the reserve is 30 min, 4.0 gal (14 CFR 91.151 day)"),
        (2, "5.9 gal left at XCC, and the reserve is 45 min, 6.0 gal (14 CFR 91.151 night)"),
    ]


def test_the_account_of_a_filling_says_by_what_its_reserve_goes_where_the_last_goes_by_another(folder: Folder) -> None:
    off = BEFORE_DUSK - timedelta(minutes=15)
    text = f"{FIELDS}date {off:%Y-%m-%d}\noff {off:%H:%M}Z\nfuel 6.5gal\nroute XAA XBB land 10min fuel 20gal XCC\n"
    sheet = " ".join(folder.run(text).out.split())
    assert (
        "required 8.0 = trip 2.0 + contingency 0.0 + reserve 6.0 + extra 0.0 reserve 45 min by 14 CFR 91.151 night"
        in (sheet)
    )
    account = "required 6.0 = trip 2.0 + contingency 0.0 + reserve 4.0 + extra 0.0; margin 0.5 gal, 3 min"
    assert f"{account}; reserve 30 min by 14 CFR 91.151 day" in sheet


def test_without_fuelling_between_them_the_way_on_holds_the_longer_reserve_at_the_last(folder: Folder) -> None:
    # 2 + 2 gal and 6 of reserve at XCC; at XBB 8 are needed, whatever its own 4 ask.
    found = flown(folder, BEFORE_DUSK, "fuel 10gal\nroute XAA XBB land 10min XCC\n")
    assert (found["fuel"]["required_gal"], found["fuel"]["margin_gal"]) == pytest.approx((10, 0))
    assert [leg["fuel_least_gal"] for leg in found["legs"]] == pytest.approx([8, 6])
    assert told(found, "reserve") == []


@pytest.mark.parametrize(
    ("onward", "required_gal", "ruled_by", "least_gal"),
    [
        # To XDD 0.4 gal, and 4 by day: less than the 6 that must be left at XBB by night.
        ("XDD", 2 + 6, "XBB", [6, 4]),
        # To XEE 8 gal, and 4: at XBB 12 are left.
        ("XEE", 2 + 8 + 4, None, [12, 4]),
    ],
)
def test_a_stop_by_night_keeps_its_reserve_where_the_way_on_burns_less(
    folder: Folder, onward: str, required_gal: float, ruled_by: str | None, least_gal: list[float]
) -> None:
    found = flown(folder, BEFORE_DAWN, f"fuel 20gal\nroute XAA XBB land 10min {onward}\n")
    fuel = found["fuel"]
    assert [one["night"] for one in found["airports"]] == [None, True, False]
    assert fuel["required_gal"] == pytest.approx(required_gal)
    assert fuel["margin_gal"] == pytest.approx(20 - required_gal)
    assert (fuel["reserve_min"], fuel["reserve_rule"]) == (30, "14 CFR 91.151 day")
    assert (fuel["diversion"] and fuel["diversion"]["from"]) == ruled_by
    assert [leg["fuel_least_gal"] for leg in found["legs"]] == pytest.approx(least_gal)


def test_the_account_by_a_stop_by_night_prints_that_landing(folder: Folder) -> None:
    off = BEFORE_DAWN - timedelta(minutes=15)
    text = f"{FIELDS}date {off:%Y-%m-%d}\noff {off:%H:%M}Z\nfuel 7.9gal\nroute XAA XBB land 10min XDD\n"
    sheet = " ".join(folder.run(text).out.split())
    assert "required 8.0 = trip to XBB 2.0 + contingency 0.0 + reserve 6.0 + extra 0.0 reserve 45 min by" in sheet
    assert "ERROR leg 1: 5.9 gal left at XBB, and the reserve is 45 min, 6.0 gal (14 CFR 91.151 night)" in sheet


def test_an_alternate_by_night_asks_for_the_reserve_of_the_night_and_the_destination_does_not(folder: Folder) -> None:
    # XBB is left by day with 5.9 gal; XCC is reached 15 minutes later, 5 before the end of twilight or 5 after it.
    light, dark = (
        flown(folder, landing, "fuel 7.9gal\nroute XAA XBB\nalternate XCC\n")
        for landing in (BEFORE_DUSK, DUSK - timedelta(minutes=10))
    )
    assert (light["fuel"]["reserve_min"], light["alternates"][0]["fuel"]["reserve_min"]) == (30, 30)
    assert told(light, "alternate-reserve") == [
        (1, "5.9 gal left at XBB and 2.0 gal to XCC break the reserve of 30 min, 4.0 gal (14 CFR 91.151 day)")
    ]
    assert (dark["fuel"]["reserve_min"], dark["alternates"][0]["fuel"]["reserve_min"]) == (45, 45)
    assert told(dark, "alternate-reserve") == [
        (1, "5.9 gal left at XBB and 2.0 gal to XCC break the reserve of 45 min, 6.0 gal (14 CFR 91.151 night)")
    ]
    assert told(dark, "reserve") == []
    assert dark["fuel"]["required_gal"] == pytest.approx(2 + 2 + 6)


def test_without_a_wind_no_landing_has_a_time_and_each_asks_for_the_longer(folder: Folder) -> None:
    text = FIELDS.replace("wind calm\n", "") + f"date {DAY}\noff 15:00Z\nfuel 20gal\n"
    fuel = folder.fly(text + "route XAA XBB land 10min fuel 20gal XCC\n")["fuel"]
    rule = "14 CFR 91.151 night, since day or night at landing is not known"
    assert [(one["reserve_min"], one["reserve_rule"]) for one in (*fuel["earlier"], fuel)] == [(45, rule)] * 2


def test_a_stated_reserve_and_that_of_instrument_flight_hold_at_all_landings(folder: Folder) -> None:
    for statement, minutes in (("reserve 60min", 60), ("rules ifr", 45), ("rules vfr night", 45)):
        found = flown(folder, BEFORE_DUSK, f"{statement}\nfuel 20gal\nroute XAA XBB land 10min fuel 20gal XCC\n")
        assert [one["reserve_min"] for one in (*found["fuel"]["earlier"], found["fuel"])] == [minutes, minutes]


def test_a_stated_reserve_is_held_against_the_light_of_the_landing(folder: Folder) -> None:
    # 35 minutes are 4.67 gal; by day they hold, by night the rule asks for 45.
    found = flown(folder, BEFORE_DUSK, "reserve 35min\nfuel 6.7gal\nroute XAA XBB land 10min fuel 7.9gal XCC\n")
    night = "45 min, 6.0 gal by 14 CFR 91.151 night, whatever `reserve` states"
    assert told(found, "reserve") == [(2, f"5.9 gal left at XCC, and the reserve is {night}")]


def test_the_way_to_an_alternate_keeps_the_reserve_of_the_landing_there(folder: Folder) -> None:
    # At XBB 10 minutes before dawn, at XCC 5 minutes after it: 45 minutes at the one, 30 at the other.
    found = flown(folder, DAWN - timedelta(minutes=10), "route XAA XBB\nalternate XCC\nfuel 30gal\n")
    (way,) = found["alternates"]
    account = ("reserve_min", "reserve_rule", "reserve_gal")
    assert [found["fuel"][key] for key in account] == [45, "14 CFR 91.151 night", pytest.approx(6)]
    assert [way["fuel"][key] for key in account] == [30, "14 CFR 91.151 day", pytest.approx(4)]


def test_a_diversion_keeps_the_reserve_of_its_own_light(folder: Folder) -> None:
    # To XBB 2 gal, from there to XEE 8, and 4 after a landing by day: 14, where XCC takes 4 and 4.
    statements = "route XAA XBB over XCC\nalternate XBB via XEE\nfuel 30gal\n"
    found = flown(folder, DUSK - timedelta(hours=4), statements)["fuel"]
    assert found["required_gal"] == pytest.approx(2 + 8 + 4)
    assert (found["diversion"]["from"], found["diversion"]["reserve_min"]) == ("XBB", 30)


def test_a_landing_on_the_way_counts_all_that_was_used_since_the_tanks_were_filled(folder: Folder) -> None:
    # By night to XBB over XCC and back, 90 NM and 6 gal, and 6 to keep; by day on to XDD 0.4 gal, and 4 to keep.
    statements = "route XAA XBB over XCC over XBB land 40min XDD\nfuel 30gal\n"
    found = flown(folder, DAWN - timedelta(minutes=50), statements)["fuel"]
    assert found["required_gal"] == pytest.approx(6 + 6)
    assert found["diversion"]["used_gal"] == pytest.approx(6)
