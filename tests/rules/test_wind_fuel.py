"""Winds that no heading holds, slow ground speeds, and fuel by the rules."""

from __future__ import annotations

import pytest
from helpers.drawn import reports
from helpers.judged import CHART_ONLY, found, judged, judged_text, of

from navlog.rules.samples import FILES, SampleCatalogue, sample

# A flight due north along the meridian of QHB, aligned to true north, at 80 kt (practice cases A47 to A50).
NORTH = (
    "station QHB 113.70 N46 12.30 W039 20.70 decl true class L elev 0ft",
    "fix LAKER N46 42.30 W039 20.70",
    "route QHB LAKER",
    "-direct QHB",
    "tas 80kt",
)


@pytest.mark.parametrize(
    ("wind", "flyable"),
    [
        ("090/90", False),  # A47: the crosswind is above the true airspeed
        ("360/100", False),  # A48: no crosswind, blown backwards at 20 kt
        ("045/100", False),  # A48: crosswind 71, groundspeed -33
        ("135/100", True),  # A49: a wind above the true airspeed and a groundspeed of 108 kt
        ("360/79", True),  # A50: 1 kt
    ],
)
def test_a47_a48_a49_flyable_is_crosswind_and_groundspeed_not_wind_over_airspeed(wind: str, flyable: bool) -> None:
    assert (found("unflyable-wind", *NORTH, f"wind {wind}") == []) is flyable


@pytest.mark.parametrize(("headwind", "told"), [(79, True), (41, True), (40, False), (10, False)])
def test_a50_a_groundspeed_under_half_the_airspeed_is_told(headwind: int, told: bool) -> None:
    some = found("slow-groundspeed", *NORTH, f"wind 360/{headwind}")
    assert some == ([f"warning: groundspeed {80 - headwind} kt of 80 kt true airspeed"] if told else [])


def test_a51_calm_is_no_finding() -> None:
    assert found("slow-groundspeed", *NORTH, "wind calm") == found("unflyable-wind", *NORTH, "wind calm") == []


# 48.7 NM at 110 kt in still air and 8 gal an hour are 26.6 min and 3.54 gal. Row 33: the reserves at 8 gal/h are
# 4.0 gal by day, 6.0 by night, 6.0 under IFR (14 CFR 91.151, 91.167).
STILL = ("wind calm", "burn 8gph", "taxi 1gal")


@pytest.mark.parametrize(
    ("rules", "reserve"), [("vfr day", "30 min, 4.0 gal"), ("vfr night", "45 min, 6.0 gal"), ("ifr", "45 min, 6.0 gal")]
)
def test_a58_row_33_the_reserve_of_each_rule(rules: str, reserve: str) -> None:
    needed = 4.54 + float(reserve.split()[2])
    (told,) = found("reserve", *STILL, f"rules {rules}", f"fuel {needed - 0.1:.2f}gal")
    assert f"and the reserve is {reserve}" in told
    assert found("reserve", *STILL, f"rules {rules}", f"fuel {needed + 0.1:.2f}gal") == []


def test_a60_taxi_fuel_is_not_there_at_take_off() -> None:
    # 8.6 gal less 1 for taxi suffice for 3.54 + 4.0; less 2 they do not.
    assert found("reserve", *STILL, "rules vfr day", "fuel 8.6gal") == []
    assert found("reserve", *STILL, "rules vfr day", "fuel 8.6gal", "taxi 2gal")


# Civil twilight ends at XOLD on 2026-07-18 at 22:57Z: solar noon 14:43Z, declination 21.0,
# cos H = (sin -6 - sin 45.68 sin 21.0) / (cos 45.68 cos 21.0), H = 123.6 degrees, 8:14 h (Meeus, hand calculation).
@pytest.mark.parametrize(("off", "dark"), [("22:00Z", False), ("22:45Z", True)])
def test_a59_the_arrival_decides_between_day_and_night(off: str, dark: bool) -> None:
    assert bool(found("dark-arrival", "rules vfr day", "wind calm", f"off {off}")) is dark
    assert bool(found("dark-arrival", "rules vfr", "reserve 30min", "wind calm", f"off {off}")) is dark


# Twilight begins as long before noon as it ends after it, at 06:29Z; XOLD is reached 27 min after take-off.
@pytest.mark.parametrize(("off", "dark"), [("05:45Z", True), ("06:15Z", False)])
def test_a59_a_stop_in_the_dark_is_an_arrival_too(off: str, dark: bool) -> None:
    stop = ("route XHAR QHB V801 QEL XOLD land 45min XHAR", "direct XOLD - XHAR 34nm")
    told = found("dark-arrival", "rules vfr day", "wind calm", f"off {off}", *stop)
    assert [one.partition(" at ")[0] for one in told] == (["warning: XOLD"] if dark else [])


@pytest.mark.parametrize(("stated", "off"), [("reserve 20min", "23:30Z"), ("reserve 44min", "03:00Z")])
def test_a_stated_reserve_by_night_is_held_against_the_nights_in_every_line(stated: str, off: str) -> None:
    # 14 CFR 91.151(a)(2); nothing may say that 30 minutes would do. 45 min at 8.5 gal/h are 6.375 gal, 7 are on board.
    flight = ("rules vfr", stated, f"off {off}", "fuel 8gal")
    (under,) = found("reserve-under-rule", *flight)
    assert under.endswith("is under the 45 min of 14 CFR 91.151 night")
    (gone,) = found("reserve", *flight)
    assert "the reserve is 45 min, 6.4 gal by 14 CFR 91.151 night, whatever `reserve` states" in gone
    (dark,) = found("dark-arrival", *flight)
    assert dark.endswith(f": this landing asks for a reserve of 45 min, and `reserve` states {stated[8:10]}")
    assert found("reserve-under-rule", "rules vfr", stated, "off 12:00Z") == (
        ["warning: the stated reserve of 20 min is under the 30 min of 14 CFR 91.151 day"] if "20" in stated else []
    )


def test_a_flight_that_states_the_day_and_lands_by_night_must_keep_the_nights_reserve() -> None:
    # 9 gal less the 4.04 of 28.5 min are 4.96 at XOLD: enough by day (4.25 gal), not by night (6.375).
    (gone,) = found("reserve", "rules vfr day", "off 23:30Z", "fuel 10gal")
    assert gone.endswith("the reserve is 45 min, 6.4 gal by 14 CFR 91.151 night, whatever `rules vfr day` states")
    assert found("reserve", "rules vfr day", "off 15:30Z", "fuel 10gal") == []


@pytest.mark.parametrize(
    ("off", "said"), [("03:00Z", "(civil twilight ended 22:58Z-1, begins 06:29Z)"), ("23:30Z", "begins 06:30Z+1)")]
)
def test_a_landing_by_night_says_when_twilight_ended_and_begins(off: str, said: str) -> None:
    (told,) = found("dark-arrival", "rules vfr day", "wind calm", f"off {off}")
    assert said in told


def test_a59_a_night_reserve_or_one_by_the_sun_is_no_finding() -> None:
    assert found("dark-arrival", "rules vfr night", "off 23:30Z") == []
    assert found("dark-arrival", "rules vfr", "off 23:30Z") == []
    assert found("dark-arrival", "rules ifr", "off 23:30Z") == []


def test_fuel_that_runs_out_is_never_accepted() -> None:
    assert found("fuel-below-zero", "fuel 4gal")


def test_more_fuel_than_the_aircraft_holds() -> None:
    flight = ("aircraft climber.toml", "-tas", "-burn")
    assert found("fuel-over-usable", *flight, "fuel 40gal") == []
    assert found("fuel-over-usable", *flight, "fuel 40.1gal") == [
        "error: 40.1 gal of fuel is more than the aircraft file's usable 40.0 gal"
    ]


def test_a61_a_fuel_stop_may_not_take_more_than_the_tanks_hold() -> None:
    stop = (
        "airport XFLD N45 44.10 W039 33.00 elev 400ft",
        "-direct QEL",
        "route XHAR QHB XFLD land 30min fuel 41gal XHAR",
    )
    (told,) = found("fuel-over-usable", "aircraft climber.toml", "-tas", "-burn", *stop)
    assert "at XFLD" in told


def test_ifr_without_an_alternate_is_told() -> None:
    assert found("no-alternate", "rules ifr")
    assert found("no-alternate", "rules ifr", "alternate XHAR") == []
    assert found("no-alternate") == []


def test_an_alternate_from_a_point_on_the_way_is_none_of_the_destination() -> None:
    # 14 CFR 91.167(a): "complete the flight to the first airport of intended landing", then "fly from that airport to
    # the alternate airport"; 91.169(b) asks for one to be filed.
    asked = ("rules ifr", "alternate XHAR from QEL")
    (told,) = found("no-alternate", *asked)
    assert told.startswith(
        "warning: no alternate is given from XOLD: one from a point on the way is none of a landing;"
    )
    assert found("no-alternate", "rules ifr", "alternate XHAR from QEL", "alternate XHAR") == []


def test_each_landing_on_the_way_under_ifr_has_an_alternate_of_its_own() -> None:
    stops = ("rules ifr", "route XHAR QHB V801 QEL XOLD land 30min QEL V801 QHB XHAR")
    (told,) = found("no-alternate", *stops)
    assert told.startswith("warning: no alternate is given from XOLD, XHAR; it may be left out only")
    assert found("no-alternate", *stops, "alternate XOLD")[0].startswith("warning: no alternate is given from XOLD; ")
    (told,) = found("no-alternate", *stops, "alternate XHAR from XOLD")
    assert told.startswith("warning: no alternate is given from XHAR; ")
    assert found("no-alternate", *stops, "rules vfr") == []


def test_unknown_wind_makes_no_finding_of_wind() -> None:
    findings = judged(*CHART_ONLY, "-wind")
    assert of("unflyable-wind", findings) == of("slow-groundspeed", findings) == of("reserve", findings) == []


SOUTH = ("fix UPPER N46 00.00 W039 00.00", "fix LAKER N45 30.00 W039 00.00", "-wind")


@pytest.mark.parametrize(
    ("place", "told"),
    [
        # Along a meridian a minute of latitude is a mile here, to a few hundredths in the sum (WGS84).
        ("4331N03900W", None),  # 149 NM from UPPER
        ("4329N03900W", "warning: the nearest wind is that at 4329N03900W, 151 NM from UPPER"),
        ("4101N03900W", "warning: the nearest wind is that at 4101N03900W, 299 NM from UPPER"),
        ("4059N03900W", "error: the nearest wind is that at 4059N03900W, 301 NM from UPPER"),
        ("4801N03900W", "warning: the nearest wind is that at 4801N03900W, 151 NM from LAKER"),
    ],
)
@pytest.mark.parametrize("route", ["route UPPER LAKER", "route LAKER UPPER"])
def test_a_wind_far_from_the_way_is_told_of_the_end_farthest_from_it(place: str, told: str | None, route: str) -> None:
    assert found("wind-far", *SOUTH, f"wind at {place} 230/12", route) == ([] if told is None else [told])


def test_of_several_winds_the_nearest_to_each_end_counts() -> None:
    assert found("wind-far", *SOUTH, "wind at 4059N03900W 230/12\nwind at 4801N03900W 230/12", "route UPPER LAKER") == [
        "warning: the nearest wind is that at 4801N03900W, 151 NM from LAKER"
    ]


@pytest.mark.parametrize(
    ("levels", "told"),
    [
        ("altitude 4500", None),  # 2,000 ft below the lowest wind
        ("altitude 4400", "2100 ft"),
        ("altitude 11500", None),  # and 2,000 ft above the highest
        ("altitude 11600", "2100 ft"),
    ],
)
def test_a_wind_holds_2000_ft_beyond_its_heights(levels: str, told: str | None) -> None:
    some = found("wind-beyond-heights", *SOUTH[:2], "wind 6500 230/12 9500 240/18", levels, "route UPPER LAKER")
    assert some == ([] if told is None else [f"warning: the nearest wind is {told} away in height"])


def test_a_slow_groundspeed_is_told_by_what_is_missing() -> None:
    (one,) = [one for one in judged(*NORTH, "wind 360/41") if one.rule == "slow-groundspeed"]
    assert one.by == pytest.approx(41)


@pytest.mark.parametrize(
    ("rules", "least_min", "rule"),
    [("vfr day", 30, "14 CFR 91.151 day"), ("vfr night", 45, "14 CFR 91.151 night"), ("ifr", 45, "14 CFR 91.167")],
)
def test_a_stated_reserve_is_at_least_the_rules(rules: str, least_min: int, rule: str) -> None:
    assert found("reserve-under-rule", f"rules {rules}", f"reserve {least_min}min") == []
    (told,) = found("reserve-under-rule", f"rules {rules}", f"reserve {least_min - 1}min")
    assert told.startswith(f"warning: the stated reserve of {least_min - 1} min is under the {least_min} min of {rule}")


def test_in_another_unit_the_tanks_hold_what_the_book_says() -> None:
    # 40 US gallons are 151.4 L (3.785411784 L each).
    flight = ("aircraft climber.toml", "-tas", "-burn")
    assert found("fuel-over-usable", *flight, "fuel 151L", "taxi 4L") == []
    (told,) = found("fuel-over-usable", *flight, "fuel 152L", "taxi 4L")
    assert told == "error: 152 L of fuel is more than the aircraft file's usable 151 L"


def fuel_found(fuel: str, way: str = "route QAA QBB\n", more: str = "rules vfr day\n") -> list[tuple[str, str, float]]:
    """What the rules on fuel find in a flight of 50 NM a leg, which at 120 kt and 12 gal/h take 5 gal each."""
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nairport XCC N46 00.00 W039 00.00 elev 100ft\n"
        "direct QAA 090 - 270 QBB 50nm\ndirect QBB 090 - XCC 50nm\ndate 2026-07-18\noff 15:00Z\nvariation 0E\n"
        f"wind calm\ntas 120kt\nburn 12gph\naltitude 3000\nfuel {fuel}\n{way}{more}"
    )
    fuel_rules = ("reserve", "fuel-below-zero")
    return [(one.rule, one.message, round(one.by, 6)) for one in report.findings if one.rule in fuel_rules]


@pytest.mark.parametrize(
    ("fuel", "told"),
    [
        # 5 gal are flown, and half an hour's 6 gal kept (14 CFR 91.151).
        ("11gal", []),
        ("10.9gal", [("reserve", "5.9 gal left at QBB, and the reserve is 30 min, 6.0 gal", 0.1)]),
        ("5gal", [("reserve", "0.0 gal left at QBB, and the reserve is 30 min, 6.0 gal", 6.0)]),
        ("4.9gal", [("fuel-below-zero", "the fuel runs out before QBB", 0.0)]),
        # After a taxi of 3 gal 4.9 are there, or 0.1 is missing before the aeroplane leaves the ground.
        ("7.9gal\ntaxi 3gal", [("fuel-below-zero", "the fuel runs out before QBB", 0.0)]),
        ("2.9gal\ntaxi 3gal", [("fuel-below-zero", "the fuel runs out before take-off", 0.0)]),
    ],
)
def test_fuel_at_the_edge_of_the_reserve_and_of_nothing(fuel: str, told: list[tuple[str, str, float]]) -> None:
    assert [(rule, message.partition(" (")[0], by) for rule, message, by in fuel_found(fuel)] == told


def test_a_reserve_stated_lower_takes_nothing_off_the_rules() -> None:
    assert fuel_found("11gal", more="rules vfr day\nreserve 20min\n") == []
    (one,) = fuel_found("10.9gal", more="rules vfr day\nreserve 20min\n")
    words = "5.9 gal left at QBB, and the reserve is 30 min, 6.0 gal by 14 CFR 91.151 day, whatever `reserve` states"
    assert one == ("reserve", words, 0.1)
    # One stated higher is kept: 60 min are 12 gal.
    assert fuel_found("17gal", more="rules vfr day\nreserve 60min\n") == []
    (more,) = fuel_found("16.9gal", more="rules vfr day\nreserve 60min\n")
    assert "and the reserve is 60 min, 12.0 gal" in more[1]


def test_fuel_that_runs_out_is_told_once_for_each_filling() -> None:
    twice = "route QAA QBB XCC land 20min fuel {} QBB QAA\n"
    messages = [message for rule, message, _ in fuel_found("4gal", twice.format("4gal")) if rule == "fuel-below-zero"]
    assert messages == ["the fuel runs out before QBB"] * 2
    (first,) = [one for one in fuel_found("4gal", twice.format("30gal")) if one[0] == "fuel-below-zero"]
    assert first[1] == "the fuel runs out before QBB"


def test_fuel_that_is_gone_before_the_way_to_an_alternate_is_told_of_the_flight_alone() -> None:
    # 5 gal to QBB and 5 more from there to XCC.
    asked = "rules vfr day\nalternate XCC from QBB\n"
    dry = [
        [message for rule, message, _ in fuel_found(fuel, more=asked) if rule == "fuel-below-zero"]
        for fuel in ("4.9gal", "5gal", "9.9gal", "10gal")
    ]
    there = "the fuel runs out before XCC"
    assert dry == [["the fuel runs out before QBB"], [there], [there], []]


def test_the_wind_farthest_from_its_heights_is_told() -> None:
    # 4,400 ft and 3,000 ft under a lowest wind at 6,500 ft.
    way = ("fix MIDDL N45 45.00 W039 00.00", "altitude 4400", "route UPPER MIDDL/A030 LAKER")
    (told,) = found("wind-beyond-heights", *SOUTH[:2], "wind 6500 230/12 9500 240/18", *way)
    assert told == "warning: the nearest wind is 3500 ft away in height"


def test_tanks_filled_to_the_brim_are_no_finding_and_more_is_told_rounded_down() -> None:
    flight = ("aircraft climber.toml", "-tas", "-burn")
    stop = (
        "airport XFLD N45 44.10 W039 33.00 elev 400ft",
        "-direct QEL",
        "route XHAR QHB XFLD land 30min fuel {} XHAR",
    )
    assert found("fuel-over-usable", *flight, *stop[:2], stop[2].format("40gal")) == []
    (told,) = found("fuel-over-usable", *flight, *stop[:2], stop[2].format("40.19gal"))
    assert told.startswith("error: 40.1 gal of fuel at XFLD is more than the aircraft file's usable 40.0 gal")
    (ramp,) = found("fuel-over-usable", *flight, "fuel 40.19gal")
    assert ramp.startswith("error: 40.1 gal of fuel is more")


@pytest.mark.parametrize(
    ("wind", "told"),
    [
        # 100 kt up to 10,000 ft and 200 above: common practice, no source. The flight goes up to 5,500 ft.
        ("wind 230/100", []),
        ("wind 230/101", ["a wind of 101 kt at 5500 ft is hardly ever met"]),
        ("wind 10000 230/100 10001 230/200", []),
        ("wind 3000 230/20 10000 230/115", ["a wind of 115 kt at 10000 ft is hardly ever met"]),
        ("wind 3000 230/20 34000 230/400", ["a wind of 400 kt at 34000 ft is hardly ever met"]),
    ],
)
def test_a_wind_that_is_hardly_ever_met_is_asked_about(wind: str, told: list[str]) -> None:
    asked = found("wind-doubtful", wind, "tas 300kt", "altitude 5500", "route XHAR QHB V801 QEL XOLD")
    assert asked == [f"warning: {one}" for one in told]


def test_a_charts_note_on_warm_air_goes_by_the_temperature() -> None:
    # 10 percent more time for each 10 C above standard: 500 ft a minute are 455 in air 10 C warmer, so what is stated
    # is used, and what is not stated matters.
    chart = """
name = "Chart"
usable_fuel_gal = 40
[climb]
cumulative = true
rows = [
  { pressure_altitude_ft = 0, time_min = 0, fuel_gal = 0, distance_nm = 0 },
  { pressure_altitude_ft = 8000, time_min = 16, fuel_gal = 3, distance_nm = 22 },
]
NOTE[cruise]
tas_kt = 110
burn_gal_per_h = 8.5
[descent]
tas_kt = 110
rate_ft_per_min = 500
burn_gal_per_h = 6.5
"""

    def told(note: str, *more: str) -> set[str]:
        files = FILES | {"chart.toml": chart.replace("NOTE", note)}
        text = sample("aircraft chart.toml", "-tas", "-burn", *more)
        return {one.rule for one in judged_text(text, SampleCatalogue(), files=files)} & {
            "temperature-not-used",
            "standard-temperature",
        }

    warm = "warmer_percent = 10\nwarmer_c = 10\n"
    assert told(warm, "temperature 21C") == set()
    assert told(warm) == {"standard-temperature"}
    for without in ("", warm.replace("10\n", "0\n", 1)):
        assert told(without, "temperature 21C") == {"temperature-not-used"}
        assert told(without) == set()
