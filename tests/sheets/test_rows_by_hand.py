"""The printed figures of rows, worked by hand: what is rounded once, and what is shown where a figure is not known.

The stations have no position, so that distances are those stated; at 120 kt in no wind a minute is 2 NM.
"""

from __future__ import annotations

import pytest
from helpers.drawn import reports

from navlog.flightlog.records import Leg, Log
from navlog.nav.chart import CrossingAltitude
from navlog.nav.record import changed
from navlog.printed.rows import BY_KEY, Row, height, missed, rows, to_next_landing

STATIONS = "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\n"
PLAN = "date 2026-07-18\noff 15:00Z\nvariation 0E\ntas 120kt\nburn 12gph\nfuel 30gal\naltitude 4500\n"


def flown(text: str) -> Log:
    (report,) = reports(STATIONS + PLAN + text)
    return report.log


def east(*lengths_nm: float) -> str:
    """A way from QAA to the east over fixes so far apart, on its 090 radial."""
    names = ["QAA", *(f"FIX{number}" for number in range(1, len(lengths_nm) + 1))]
    out_nm = [sum(lengths_nm[:number]) for number in range(1, len(names))]
    fixes = "".join(f"fix {name} QAA 090 {out:g}nm\n" for name, out in zip(names[1:], out_nm, strict=True))
    ways = "".join(
        f"direct {one} - {other} {length:g}nm\n"
        for one, other, length in zip(names, names[1:], lengths_nm, strict=False)
    )
    return f"{fixes}{ways}wind calm\nroute {' '.join(names)}\n"


def column(log: Log, key: str) -> list[str]:
    return [BY_KEY[key].figure(row) for row in rows(log)]


def test_distances_are_rounded_once_from_the_running_sum() -> None:
    log = flown(east(10.04, 10.04, 10.04))
    assert column(log, "distance") == ["10.0", "10.1", "10.0"]
    assert column(log, "remaining") == ["20.1", "10.0", "0.0"]


def test_minutes_and_the_clock_are_rounded_once_from_the_running_sum() -> None:
    # 2.8 NM take 1.4 minutes: 1.4, 2.8 and 4.2 are 1, 3 and 4.
    log = flown(east(2.8, 2.8, 2.8))
    assert column(log, "time") == ["0:01", "0:02", "0:01"]
    assert column(log, "elapsed") == ["0:01", "0:03", "0:04"]
    assert column(log, "eta") == ["15:01Z", "15:03Z", "15:04Z"]


def test_fuel_used_rounds_up_and_fuel_left_down_from_the_running_sum() -> None:
    # 12 gal/h are 0.28 gal a leg: 0.28, 0.56 and 0.84 are 0.3, 0.6 and 0.9 used of 30.
    log = flown(east(2.8, 2.8, 2.8))
    assert column(log, "fuel_used") == ["0.3", "0.3", "0.3"]
    assert column(log, "fuel_left") == ["29.7", "29.4", "29.1"]


def test_behind_a_leg_of_unknown_time_a_leg_shows_its_own_minutes_and_no_clock() -> None:
    # 150 kt from the north cannot be held on 090; south from QBB they blow from behind: 27 NM at 270 kt are 6 minutes.
    log = flown(
        "direct QAA 090 - 270 QBB 30nm\nfix SOUTH QBB 180 27nm\nwind 360/150\nroute QAA QBB SOUTH\n",
    )
    assert column(log, "time") == ["XXX", "XXX", "0:06"]
    assert (column(log, "elapsed")[-1], column(log, "eta")[-1]) == ("?", "?")
    assert column(log, "distance") == ["15.0", "15.0", "27.0"]


def test_how_far_it_is_to_the_next_landing() -> None:
    places = "airport XAA N46 00.00 W039 00.00\nairport XCC N46 00.00 W038 00.00\n"
    log = flown(
        places + "direct QAA 270 - XAA 20nm\ndirect QAA 090 - 270 QBB 30nm\ndirect QBB 090 - XCC 7nm\nwind calm\n"
        "route XAA QAA QBB XCC land 20min QBB QAA\n"
    )
    printed = rows(log)
    assert [row.distance_tenths for row in printed] == [200, 150, 150, 70, 70, 150, 150]
    assert [to_next_landing(printed, index) for index in range(7)] == [
        (370, "XCC"), (220, "XCC"), (70, "XCC"), (0, "XCC"), (300, "QAA"), (150, "QAA"), (0, "QAA"),
    ]  # fmt: skip
    # 20 minutes on the ground come between the landing and the legs after it: 28.5 in the air, then 3.5.
    assert column(log, "eta")[3:5] == ["15:29Z", "15:52Z"]


@pytest.mark.parametrize(("nm", "shown"), [(1.0, "-"), (1.1, "? TO")])
def test_beside_its_station_an_airport_has_no_course(nm: float, shown: str) -> None:
    log = flown(f"airport XAA N46 00.00 W039 00.00\ndirect QAA - XAA {nm}nm\nwind calm\nroute XAA QAA\n")
    assert column(log, "set_course") == [shown]
    assert column(log, "radial") == ["-" if shown == "-" else "?"]


def test_the_radial_flown_and_the_course_set() -> None:
    log = flown("direct QAA 090 - 272 QBB 30nm\nwind calm\nroute QAA QBB\n")
    assert column(log, "radial") == ["R-090", "R-272"]
    assert column(log, "set_course") == ["090 FROM", "092 TO"]


@pytest.mark.parametrize(
    ("wind", "shown"), [("236/15", "236/15"), ("005/7", "005/7"), ("360/0.4", "calm"), ("360/0.5", "360/1")]
)
def test_the_wind_as_printed(wind: str, shown: str) -> None:
    assert column(flown(east(10).replace("calm", wind)), "wind") == [shown]


def one_leg() -> Leg:
    """A leg at 4,500 ft with every limit."""
    log = flown(
        "airway V1 QAA 090 - LAKER 30nm mea 5000 moca 4000 maa 7000\nfix LAKER QAA 090 30nm\nwind calm\n"
        "route QAA V1 LAKER\n"
    )
    (leg,) = log.legs
    limits = changed(
        leg.stretch.limits, crossings_start=(CrossingAltitude(5_000.0, "QAA", "LAKER"),), mra_end_ft=6_000.0
    )
    return changed(leg, stretch=changed(leg.stretch, limits=limits))


@pytest.mark.parametrize(
    ("start_ft", "end_ft", "start_nm", "at_fix", "told"),
    [
        (6000, 6000, 0.0, True, []),
        (5000, 6000, 0.0, True, []),
        (4999, 6000, 0.0, True, ["MCA 5000"]),
        (4999, 6000, 5.0, True, []),  # not at the point itself
        (4000, 6000, 5.0, True, []),
        (3999, 6000, 5.0, True, ["MOCA 4000"]),
        (6000, 3999, 5.0, False, ["MOCA 4000"]),
        (6000, 5999, 0.0, True, ["MRA 6000"]),
        (6000, 5999, 0.0, False, []),  # the fix is ahead
        (7000, 7000, 0.0, True, []),
        (7001, 7000, 0.0, True, ["MAA 7000"]),
        (7000, 7001, 0.0, True, ["MAA 7000"]),
        (3999, 3999, 0.0, True, ["MOCA 4000", "MCA 5000", "MRA 6000"]),
    ],
)
def test_the_limits_that_the_heights_of_a_leg_miss(
    start_ft: float, end_ft: float, start_nm: float, at_fix: bool, told: list[str]
) -> None:
    leg = changed(one_leg(), start_altitude_ft=start_ft, end_altitude_ft=end_ft, start_nm=start_nm, ends_stretch=at_fix)
    assert list(missed(leg)) == told


def a_row() -> Row:
    (row,) = rows(flown(east(10)))
    return row


@pytest.mark.parametrize(
    ("altitude_ft", "shown"), [(4500, "4500"), (4504.9, "4500"), (4505, "4510"), (3254, "3250"), (3255, "3260")]
)
def test_a_height_on_the_way_is_told_to_ten_feet(altitude_ft: float, shown: str) -> None:
    assert height(a_row(), altitude_ft) == shown


def test_a_figure_that_a_finding_means_is_marked_unless_it_says_so_itself() -> None:
    row = changed(a_row(), meant=frozenset({"heading"}))
    assert [row.marked("heading", text) for text in ("090", "?", "XXX", "-", "")] == ["090!", "?", "XXX", "-", ""]
    assert row.marked("time", "0:05") == "0:05"


def test_the_minimum_that_is_missed_is_told_with_what_else_is_missed() -> None:
    leg = changed(one_leg(), start_altitude_ft=3_999.0, end_altitude_ft=6_000.0)
    plain = changed(a_row(), leg=leg)
    assert BY_KEY["minimum"].plain(plain) == "MEA 5000"
    assert BY_KEY["minimum"].plain(changed(plain, meant=frozenset({"altitude"}))) == "MEA 5000 MOCA 4000 MCA 5000"


WHILE_FLOWN = ("heading", "true_course", "magnetic_course", "correction", "true_heading", "groundspeed")


@pytest.mark.parametrize("wind", ["wind calm", "wind 090/10", ""])
def test_time_at_a_place_has_no_course_and_no_heading_to_be_unknown(wind: str) -> None:
    """`-` does not apply, `?` is unknown: a hold is flown on many headings."""
    log = flown(east(20.0).replace("wind calm", wind) + "hold FIX1 4min\n")
    flying, holding = rows(log)
    assert [BY_KEY[key].figure(holding) for key in WHILE_FLOWN] == ["-"] * len(WHILE_FLOWN)
    assert BY_KEY["heading"].figure(flying) == ("?" if not wind else "090")
    assert BY_KEY["time"].figure(holding) == "0:04"


UNITS = {
    "deg": (
        "radial", "set_course", "heading", "true_course", "correction", "true_heading", "variation", "magnetic_course",
        "magnetic_heading", "deviation", "compass_heading",
    ),
    "NM": ("distance", "remaining"),
    "ft": ("altitude", "minimum"),
    "kt": ("tas", "groundspeed"),
    "deg/kt": ("wind",),
    "h:min": ("time", "elapsed"),
    "UTC": ("eta",),
    "MHz": ("station",),
    # The unit of fuel is the flight's own.
    "fuel": ("fuel_used", "fuel_left", "fuel_least"),
}  # fmt: skip
HEADINGS = {
    "number": "No", "from": "From", "to": "To", "via": "Via", "station": "Tune", "set_course": "Set", "heading": "Hdg",
    "time": "Time", "elapsed": "Elap", "eta": "ETA", "distance": "Dist", "remaining": "Rem", "altitude": "Alt",
    "true_course": "TC", "magnetic_course": "MC", "correction": "WCA", "true_heading": "TH", "variation": "Var",
    "magnetic_heading": "MH", "deviation": "Dev", "compass_heading": "CH", "tas": "TAS", "groundspeed": "GS",
}  # fmt: skip
"""The trade's own abbreviations, in common use and without a source."""


def test_a_column_has_the_unit_of_its_figure_and_the_trades_name() -> None:
    assert {key: BY_KEY[key].unit for keys in UNITS.values() for key in keys} == {
        key: unit for unit, keys in UNITS.items() for key in keys
    }
    assert {key: BY_KEY[key].heading for key in HEADINGS} == HEADINGS
    unitless = {key for key, column in BY_KEY.items() if not column.unit}
    assert unitless == {"number", "from", "to", "via", "phase", "morse", "local"}
