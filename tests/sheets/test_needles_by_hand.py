"""The rows of the knee page worked by hand: at 120 kt in no wind and 12 gal an hour 20 NM take 10 minutes and 2 gal."""

from __future__ import annotations

import pytest
from helpers.drawn import reports

from navlog.flightlog.conditions import conditions
from navlog.flightlog.planning import plan
from navlog.nav.record import changed
from navlog.printed.needles import Needle, needles
from navlog.request.aircraft import Aircraft, Figures, PhaseTable
from navlog.request.flights import read_flights
from navlog.request.records import Request
from navlog.resolve.flight import resolve_flight

PLACES = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\n"
    "airport XAA N46 00.00 W039 00.00 elev 500ft\nairport XCC N46 00.00 W038 00.00 elev 500ft\n"
    "direct QAA 270 - XAA 20nm min 2000\ndirect QAA 360 - 180 QBB 30nm min 3000\ndirect QBB 360 - XCC 10nm min 2500\n"
    "date 2026-07-18\nvariation 0E\ntas 120kt\nburn 12gph\nfuel 30gal\nrules ifr\naltitude 4500\n"
)
ROUTE = "off 15:00Z\nwind calm\nroute XAA QAA QBB XCC land 20min fuel 20gal QBB/A065 QAA\n"


BOOK = Aircraft(
    "Book", "b.toml", PhaseTable("cruise", ((Figures(120.0, 12.0),),)),
    PhaseTable("climb", ((Figures(90.0, 12.0, 600.0),),)),
)  # fmt: skip
"""Climbs 400 ft a mile in no wind."""


def table(found: tuple[Needle, ...], *fields: str) -> list[tuple[str, ...]]:
    return [tuple(getattr(one, field) for field in fields) for one in found]


def of(text: str) -> tuple[Needle, ...]:
    (report,) = reports(PLACES + text)
    return needles(report.log)


def test_place_clock_and_fuel_of_each_row() -> None:
    # 10, 17.5, 25 and 30 minutes; 20 on the ground; then 5, 12.5 and 20. Fuel is that on arrival, 30 gal less a gal for
    # 5 minutes, and from 20 gal again.
    assert table(of(ROUTE), "place", "clock", "fuel") == [
        ("XAA", "1500", "30.0"),
        ("QAA", "1510", "28.0"),
        ("COP", "1518", "26.5"),
        ("QBB", "1525", "25.0"),
        ("XCC", "1530", "24.0"),
        ("QBB", "1555", "19.0"),
        ("COP", "1603", "17.5"),
        ("QAA", "1610", "16.0"),
    ]


def test_what_is_set_and_flown_on_each_row() -> None:
    # From course 090 to 360 is a left turn of 90; over QBB the course goes on, and after the landing no turn is told.
    assert table(of(ROUTE)[:-1], "turn", "tune", "set_course", "flag", "heading") == [
        ("", "QAA 113.00", "090", "TO", "090"),
        ("L90", "QAA 113.00", "360", "FROM", "360"),
        ("", "QBB 114.00", "360", "TO", "360"),
        ("", "QBB 114.00", "360", "FROM", "360"),
        ("", "QBB 114.00", "180", "TO", "180"),
        ("", "QBB 114.00", "180", "FROM", "180"),
        ("", "QAA 113.00", "180", "TO", "180"),
    ]


def test_a_station_is_identified_where_it_is_tuned() -> None:
    # ICAO Annex 10: Q is --.-, A .-, B -...
    alfa, bravo = "--.- .- .-", "--.- -... -..."
    assert [one.morse for one in of(ROUTE)] == [alfa, "", bravo, "", bravo, "", alfa, ""]


def test_distances_minutes_and_what_is_left_to_the_next_landing() -> None:
    assert table(of(ROUTE)[:-1], "distance", "minutes", "left", "groundspeed", "altitude", "minimum") == [
        ("20.0", "10", "40.0", "120", "4500", "2000"),
        ("15.0", "8", "25.0", "120", "4500", "3000"),
        ("15.0", "7", "10.0", "120", "4500", "3000"),
        ("10.0", "5", "0.0", "120", "4500", "2500"),
        ("10.0", "5", "30.0", "120", "4500", "2500"),
        ("15.0", "8", "15.0", "120", "6500", "3000"),
        ("15.0", "7", "0.0", "120", "6500", "3000"),
    ]


def test_a_landing_on_the_way_tells_the_next_take_off() -> None:
    (landing,) = [one for one in of(ROUTE) if one.place == "XCC"]
    assert landing.landed[0] == "LAND, stop 0:20, off 1550 with 20.0 gal, after taxi"
    without = of(ROUTE.replace(" fuel 20gal", ""))
    assert without[4].landed[0] == "LAND, stop 0:20, off 1550 with 24.0 gal, no taxi counted"
    assert [one.radios is not None for one in of(ROUTE)] == [False] * 4 + [True, False, False, True]


def test_another_day_is_marked() -> None:
    assert [one.clock for one in of(ROUTE.replace("15:00Z", "23:40Z"))][:5] == [
        "2340", "2350", "2358", "0005+1", "0010+1",
    ]  # fmt: skip


def test_without_a_time_of_take_off_or_a_wind() -> None:
    assert {one.clock for one in of(ROUTE.replace("off 15:00Z\n", ""))} == {"?"}
    calmless = of(ROUTE.replace("wind calm\n", ""))
    assert {(one.minutes, one.groundspeed) for one in calmless[:-1]} == {("?", "?")}


@pytest.mark.parametrize(("nm", "minutes"), [(198, "99"), (200, "1:40"), (210, "1:45")])
def test_minutes_are_told_in_hours_from_a_hundred_on(nm: int, minutes: str) -> None:
    way = f"off 15:00Z\nwind calm\nfix FAR QAA 090 {nm}nm\ndirect QAA 090 - FAR {nm}nm\nroute QAA FAR\n"
    assert of(way)[0].minutes == minutes


def test_a_climb_and_the_cruise_on_one_setting_are_one_row() -> None:
    # 4,000 ft at 600 ft/min and 90 kt are 10 NM in 6.67 minutes, and 10 NM more 5 minutes: 20 NM in 11.67, 102.9 kt.
    (report,) = reports(PLACES + ROUTE)
    rows = needles(plan(report.log.route, changed(report.log.conditions, aircraft=BOOK)))
    first = rows[0]
    assert (first.distance, first.minutes, first.groundspeed) == ("20.0", "12", "103")
    assert (first.altitude, first.set_course, first.left) == ("4500", "090", "40.0")
    assert rows[1].place == "QAA"


@pytest.mark.parametrize(
    ("nm", "altitude", "shown"),
    [
        # 400 ft a mile: QAA is passed at 2,500 ft, still on the way to 4,500.
        (5, 4500, ["4500", "4500"]),
        # 5 NM to QAA and 15 beyond it are 8,000 ft: 8,500 of 9,500 ft at the changeover point, and on up to the level.
        (5, 9500, ["9500", "9500"]),
        # 9,000 ft more than the 500 take 22.5 NM; from 20 and 15 NM on the level is flown.
        (20, 9500, ["9500", "9500"]),
        # 35 NM to the end of the route are 14,000 ft: no more than 14,500 of 17,500 ft.
        (5, 17500, ["14500", "14500"]),
    ],
)
def test_the_altitude_to_climb_to_is_the_level_or_what_is_reached(nm: int, altitude: int, shown: list[str]) -> None:
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nairport XAA N46 00.00 W039 00.00 elev 500ft\n"
        f"direct QAA 270 - XAA {nm}nm\ndirect QAA 360 - 180 QBB 30nm\ndate 2026-07-18\nvariation 0E\ntas 120kt\n"
        f"burn 12gph\nrules ifr\nwind calm\naltitude {altitude}\nroute XAA QAA QBB\n"
    )
    rows = needles(plan(report.log.route, changed(report.log.conditions, aircraft=BOOK)))
    assert [one.altitude for one in rows][:2] == shown


@pytest.mark.parametrize(
    ("onward", "shown", "tick"),
    [("A045", "4500", "QAA at 2500 ft"), ("A065", "5500", "QAA at 2500 ft, then to 6500 ft")],
)
def test_a_climb_that_goes_on_names_its_next_level_unless_it_stands_beside(onward: str, shown: str, tick: str) -> None:
    """5 NM are 2,000 ft; 5,500 is planned up to QAA and is not reached where 4,500 ft follow."""
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nairport XAA N46 00.00 W039 00.00 elev 500ft\n"
        "direct QAA 270 - XAA 5nm\ndirect QAA 360 - 180 QBB 60nm\ndate 2026-07-18\nvariation 0E\ntas 120kt\n"
        f"burn 12gph\nrules ifr\nwind calm\naltitude 5500\nroute XAA QAA/{onward} QBB\n"
    )
    first = needles(plan(report.log.route, changed(report.log.conditions, aircraft=BOOK)))[0]
    assert (first.altitude, first.ticks) == (shown, (tick,))


@pytest.mark.parametrize(("cop", "at"), [("cop 20 QAA", ("COP at: QAA 20.0 DME",)), ("cop 25 QAA", ())])
def test_a_fix_at_which_stations_are_changed_is_named_a_changeover_point(cop: str, at: tuple[str, ...]) -> None:
    (report,) = reports(
        "station QAA 113.00 N46 00.00 W039 00.00 decl 0E dme elev 0ft\n"
        "station QBB 114.00 N47 00.00 W039 00.00 decl 0E\nfix MIDDY QAA 360 20nm\n"
        "airway V1 QAA 360 - MIDDY 20nm mea 2000 - 180 QBB 40nm mea 2000 "
        f"{cop}\ndate 2026-07-18\nvariation 0E\ntas 120kt\naltitude 1500\nequipment vor 2 dme 1\nwind calm\n"
        "route QAA V1 QBB\n"
    )
    assert next((one.at for one in needles(report.log) if one.place == "MIDDY"), ()) == at


def test_a_right_turn_is_told_as_one() -> None:
    way = "fix EAST QBB 090 10nm\ndirect QBB 090 - EAST 10nm\noff 15:00Z\nwind calm\nroute QAA QBB EAST\n"
    assert [one.turn for one in of(way)] == ["", "", "R90", ""]


def test_the_highest_minimum_of_a_row_is_told() -> None:
    way = (
        "fix NEAR QAA 090 10nm\nfix FAR QAA 090 20nm\n"
        "direct QAA 090 - NEAR 10nm min {}\ndirect NEAR - FAR 10nm min {}\noff 15:00Z\nwind calm\nroute QAA NEAR FAR\n"
    )
    rows = {first: of(way.format(first, second)) for first, second in ((2000, 3000), (3000, 2000))}
    # A higher minimum begins a row of its own, a lower one does not.
    assert table(rows[2000][:-1], "legs", "minimum") == [("1", "2000"), ("2", "3000")]
    assert table(rows[3000][:-1], "legs", "minimum") == [("1, 2", "3000")]
    # Where the minimum changes on a row it is told with the place: 10 NM are 5 minutes.
    assert [one.ticks for one in rows[3000]] == [("NEAR 10.0 +5 min 2000",), ()]


def test_of_the_last_row_only_place_clock_and_fuel_stand() -> None:
    last = of(ROUTE)[-1]
    filled = {name: text for name in last.__struct_fields__ if (text := getattr(last, name)) not in ("", ())}
    assert {name: filled[name] for name in ("place", "clock", "fuel")} == {
        "place": "QAA",
        "clock": "1610",
        "fuel": "16.0",
    }
    assert set(filled) == {"place", "clock", "fuel", "radios"}


def test_a_hold_is_told_with_its_time_and_the_climb_in_it() -> None:
    # At 600 ft a minute 2,000 ft take 3.3 minutes, from 10.8 after take-off to 14.2.
    way = "hold QAA until 4500ft\nwind calm\noff 15:00Z\nroute XAA/A025 QAA/A045 QBB\n"
    (request,) = read_flights(PLACES + way, "test.route").flights
    assert isinstance(request, Request)
    route = resolve_flight(request)
    rows = needles(plan(route, changed(conditions(route), aircraft=BOOK)))
    holds = [tick for one in rows for tick in one.ticks if tick.startswith("HOLD")]
    assert holds == ["HOLD 0:03 climbing to 4500 ft, ask ATC"]
    level = [
        tick
        for one in of("hold QAA 6min\nwind calm\noff 15:00Z\nroute XAA QAA QBB\n")
        for tick in one.ticks
        if tick.startswith("HOLD")
    ]
    assert level == ["HOLD 0:06"]


def test_a_second_climb_is_flown_to_its_own_level_where_the_row_ends_within_it() -> None:
    """From 2,500 ft at QAA 5 NM climb 2,000: the stations are changed at 4,500 ft of 6,500, the first climb is over."""
    places = PLACES.replace("180 QBB 30nm min 3000", "180 QBB 30nm min 2000 cop 5 QAA")
    rows = by_book(places + "off 15:00Z\nwind calm\nroute XAA/A025 QAA/A065 QBB\n")
    assert table(rows, "place", "altitude")[:3] == [("XAA", "2500"), ("QAA", "6500"), ("COP", "6500")]
    assert "COP at 4500 ft" in rows[1].ticks


def test_a_climb_to_a_flight_level_is_told_as_one_at_a_high_setting() -> None:
    """At 1040 hPa FL090 is some 700 ft higher by the altimeter (ICAO Doc 7488), and is what is climbed to."""
    places = PLACES.replace("altitude 4500", "altitude FL090\naltimeter 1040hPa\nlevels icao")
    places = places.replace("XAA 20nm", "XAA 10nm").replace("180 QBB 30nm", "180 QBB 60nm")
    rows = by_book(places + "off 15:00Z\nwind calm\nroute XAA QAA QBB\n")
    assert table(rows, "place", "altitude")[:2] == [("XAA", "FL090"), ("QAA", "FL090")]


BOOK = Aircraft(
    "Book", "b.toml", PhaseTable("cruise", ((Figures(120.0, 12.0),),)),
    PhaseTable("climb", ((Figures(90.0, 12.0, 600.0),),)), PhaseTable("descent", ((Figures(120.0, 6.0, 500.0),),)),
)  # fmt: skip
"""400 ft a mile up, 250 ft a mile down."""


def by_book(text: str) -> tuple[Needle, ...]:
    """The rows of a flight by the book's figures."""
    (report,) = reports(text)
    return needles(plan(report.log.route, changed(report.log.conditions, aircraft=BOOK)))


def test_places_on_a_row_are_told_with_miles_and_minutes_from_its_beginning() -> None:
    way = (
        "fix FIXA QAA 090 10nm\nfix FIXB QAA 090 20nm\nfix FIXC QAA 090 30nm\ndirect QAA - FIXA 10nm\n"
        "direct FIXA - FIXB 10nm\ndirect FIXB - FIXC 10nm\noff 15:00Z\nwind calm\nroute QAA FIXA FIXB FIXC\n"
    )
    assert of(way)[0].ticks == ("FIXA 10.0 +5", "FIXB 20.0 +10")


def test_a_top_of_climb_on_a_later_leg_of_a_row_is_told_from_the_rows_beginning() -> None:
    # From 500 ft at XAA 4,000 ft take 10 NM: 4 to QAA, 2 to NEAR and 4 more; half a mile of level flight is no leg.
    way = (
        "direct QAA 270 - XAA 4nm\nfix NEAR QAA 090 2nm\nfix FAR QAA 090 6.5nm\ndirect QAA - NEAR 2nm\n"
        "direct NEAR - FAR 4.5nm\noff 15:00Z\nwind calm\nroute XAA QAA NEAR FAR\n"
    )
    places = PLACES.replace("direct QAA 270 - XAA 20nm min 2000\n", "")
    _, row, _ = by_book(places + way)
    assert "TOC 6.0" in row.ticks


def test_height_to_lose_is_that_left_over_the_field() -> None:
    # 3,000 ft are kept to QBB, 10 NM before XCC at 500 ft: 2,500 ft are lost on the way, from 4,500 ft at QBB.
    way = "direct QAA 360 - 180 QBB 30nm min 4500\noff 15:00Z\nwind calm\nroute QAA QBB XCC\n"
    places = PLACES.replace("direct QAA 360 - 180 QBB 30nm min 3000\n", "")
    assert "XCC +5, 1500 ft to lose" in by_book(places + way)[-2].ticks


def test_what_the_dme_behind_reads_where_stations_are_changed_goes_by_the_height_above_it() -> None:
    # 3 NM from QAA and 6,076 ft, a mile, above it: sqrt(3^2 + 1^2) = 3.2 NM.
    (report,) = reports(
        "station QAA 113.00 N46 00.00 W039 00.00 decl 0E dme elev 5000ft\n"
        "station QBB 114.00 N46 20.00 W039 00.00 decl 0E\n"
        "airway V1 QAA 360 - 180 QBB 20nm mea 9000 cop 3 QAA\ndate 2026-07-18\nvariation 0E\ntas 120kt\nrules ifr\n"
        "wind calm\naltitude 11076\nequipment vor 2 dme 1\nroute QAA V1 QBB\n"
    )
    assert needles(report.log)[1].at == ("at: QAA 3.2 DME",)


def test_minutes_by_time_alone_count_from_the_changeover_before() -> None:
    # 10 NM from the changeover point to FIXA, 5 minutes; from QAA they are 10.
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nairway V1 QAA 090 - FIXA 20nm mea 3000 - 270 QBB 10nm"
        " mea 3500 cop 10 QAA\ndate 2026-07-18\nvariation 0E\ntas 120kt\nrules ifr\nwind calm\naltitude 4500\n"
        "fix FIXA QAA 090 20nm\nequipment vor 1 dme 0\nroute QAA V1 FIXA V1 QBB\n"
    )
    at = [one.at for one in needles(report.log)]
    assert ("at: by time alone, 0:05 after COP",) in at


def test_what_a_finding_means_is_marked_on_the_row_that_shows_it() -> None:
    # Leg 2 leads from QAA to the changeover point; where it ends stands on the row after it.
    (report,) = reports(PLACES + ROUTE)
    figures = ("set_course", "heading", "altitude", "distance", "groundspeed")
    plain, marked = needles(report.log), needles(report.log, {2: frozenset((*figures, "to")), 7: frozenset({"to"})})
    shown = table(plain, "place", *figures)
    assert shown[1] == ("QAA", "360", "360", "4500", "15.0", "120")
    assert shown[2][0] == "COP"
    shown[1] = ("QAA", "360!", "360!", "4500!", "15.0!", "120!")
    shown[2] = ("COP!", *shown[2][1:])
    shown[-1] = ("QAA!", *shown[-1][1:])
    assert table(marked, "place", *figures) == shown
