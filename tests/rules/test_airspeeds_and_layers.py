"""Speeds at the edge of what is doubted, and books whose rows or layers slip: each figure by hand."""

from __future__ import annotations

import pytest
from helpers.judged import found, judged_text, lines, of

from navlog.resolve.lookup import NoCatalogue
from navlog.rules.airspeeds import _out_of_line
from navlog.rules.samples import FILES, FLOWN_BY_FILE, SampleCatalogue, sample


@pytest.mark.parametrize(
    ("speed", "told"),
    [
        # The flight's own is 110 kt: half of it and twice of it are no slip yet.
        ("N0055", []),
        ("N0054", ["warning: 54 kt, where the flight's own is 110 kt"]),
        ("N0220", []),
        ("N0221", ["warning: 221 kt, where the flight's own is 110 kt"]),
    ],
)
def test_half_and_twice_the_flights_own_speed_are_no_slip(speed: str, told: list[str]) -> None:
    assert found("airspeed-doubtful", f"route XHAR QHB V801 QEL/{speed}A055 XOLD") == told


def by_book(aircraft: str, *statements: str, rule: str) -> list[str]:
    """What a rule says of the base flight with an aircraft file of its own."""
    text = sample(*FLOWN_BY_FILE, "aircraft own.toml", *statements)
    return of(rule, judged_text(text, SampleCatalogue(), files={**FILES, "own.toml": aircraft}))


def cruising(*rows: tuple[float, float, float], climb: str = "") -> str:
    """An aircraft file of a cruise by pressure altitude, speed and burn."""
    table = ",\n".join(
        f"{{ pressure_altitude_ft = {ft}, tas_kt = {speed}, burn_gal_per_h = {burn} }}" for ft, speed, burn in rows
    )
    return f'name = "Own"\n{climb}[cruise]\nrows = [\n{table}]\n'


def test_a_cruise_by_the_book_at_less_than_half_is_told_where_a_climb_is_not() -> None:
    # By the book 110 kt at 4,500 ft and 20 at 5,500; half of 110 is 55.
    slow = cruising((0, 110, 8), (5000, 110, 8), (5400, 20, 8), (8000, 20, 8))
    route = "route QHB V801 QEL/A055 XOLD"
    assert by_book(slow, route, "altitude 4500", "altimeter 1013.25hPa", rule="airspeed-doubtful") == [
        "warning: 20 kt, where the flight's own is 110 kt"
    ]


def test_a_climb_without_rows_does_not_hide_a_cruise_that_slipped() -> None:
    climb = "[climb]\ncas_kt = 75\nrate_ft_per_min = 500\nburn_gal_per_h = 11\n"
    book = cruising((0, 108, 8), (4000, 110, 80), (8000, 112, 8), climb=climb)
    assert by_book(book, rule="aircraft-row-doubtful") == [
        "warning: [cruise] has a burn of 80 at 4000 ft, and 8 in the row beside"
    ]


@pytest.mark.parametrize("last", [0.0, 0.5])
def test_near_its_ceiling_an_aeroplane_may_not_climb_at_all(last: float) -> None:
    assert list(_out_of_line((0.0, 4000.0, 8000.0, 12000.0), [730.0, 540.0, 350.0, last], 2.0)) == []


def climbing(*rows: tuple[float, float, float, float]) -> list[str]:
    """What is told of a chart of pressure altitude, time, fuel and distance to climb, each row what it adds."""
    ft = time = fuel = away = 0.0
    table = ["{ pressure_altitude_ft = 0, time_min = 0, fuel_gal = 0, distance_nm = 0 }"]
    for more_ft, minutes, gal, miles in rows:
        ft, time, fuel, away = ft + more_ft, time + minutes, fuel + gal, away + miles
        table.append(
            f"{{ pressure_altitude_ft = {ft:g}, time_min = {time:g}, fuel_gal = {fuel:g}, distance_nm = {away:g} }}"
        )
    climb = "[climb]\ncumulative = true\nrows = [\n" + ",\n".join(table) + "]\n"
    return by_book(
        f'name = "Own"\n{climb}[cruise]\ntas_kt = 110\nburn_gal_per_h = 9\n',
        "altitude 5500",
        "route XHAR QHB V801 QEL XOLD",
        rule="aircraft-row-doubtful",
    )


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        # Layers of 2,000 and 4,000 ft: 1.5, 1.75 and 2 minutes each 1,000 ft are in line, though 7 is twice 3.
        (((2000, 3, 0.6, 4), (4000, 7, 1.4, 9), (2000, 4, 0.8, 5)), []),
        (((4000, 6, 1.2, 8), (1000, 2, 0.4, 2), (4000, 9, 1.8, 12)), []),
        # 1.0 gal is whole by chance: the book has tenths, and 0.1 beside 1.0 and 2.2 is none of rounding. Half of
        # 1.0, less a tenth for rounding, is 0.4.
        (
            ((4000, 5, 1.0, 8), (4000, 7, 0.1, 12), (4000, 9, 2.2, 17)),
            ["warning: [climb] takes 0.1 of fuel from 4000 to 8000 ft, and 1 in the layer beside"],
        ),
        (((4000, 5, 1.0, 8), (4000, 7, 0.5, 12), (4000, 9, 2.2, 17)), []),
        # In whole gallons 2, 1 and 2 are in line.
        # Whole minutes are off by one: 900 ft from 8,000 on in 2, where 1,000 ft beside take 1, may have been 1.
        (((8000, 8, 1.6, 16), (900, 2, 0.2, 2), (1000, 1, 0.2, 2)), []),
        (
            ((4000, 5, 1.35, 8), (4000, 7, 0.05, 12), (4000, 9, 2.25, 17)),
            ["warning: [climb] takes 0.05 of fuel from 4000 to 8000 ft, and 1.35 in the layer beside"],
        ),
        (((4000, 5, 2, 8), (4000, 7, 1, 12), (4000, 9, 2, 17)), []),
        # Of the first layer the one above stands beside it.
        (
            ((4000, 50, 1.3, 80), (4000, 7, 1.5, 12), (4000, 9, 2.2, 17)),
            [
                "warning: [climb] takes 50 min from 0 to 4000 ft, and 7 in the layer beside",
                "warning: [climb] takes 80 NM from 0 to 4000 ft, and 12 in the layer beside",
            ],
        ),
    ],
)
def test_a_layer_is_held_against_what_a_foot_of_climb_takes(
    rows: tuple[tuple[float, float, float, float], ...], told: list[str]
) -> None:
    assert climbing(*rows) == told


def test_the_temperature_that_a_speed_is_judged_at_is_told() -> None:
    # Standard air is 15 C less 1.98 each 1,000 ft: 5.1 C at 5,000 ft and -2.8 at 9,000 (ICAO Doc 7488). -15 C at the
    # field is 20.1 colder, so -22.9 at 9,000 ft.
    text = """airport XAA N46 00.00 W039 00.00 elev 5000ft
airport XBB N47 30.00 W039 00.00 elev 5000ft
variation 12W
date 2026-07-18
off 15:00Z
wind calm
rules ifr
fuel 300gal
altitude 9000
aircraft fast.toml
temperature -15C
route XAA XBB
"""
    aircraft = 'name = "Fast"\n[climb]\ncas_kt = 160\nrate_ft_per_min = 2000\nburn_gal_per_h = 60\n'
    aircraft += "[cruise]\ntas_kt = 290\nburn_gal_per_h = 40\n"
    aircraft += "[descent]\ncas_kt = 200\nrate_ft_per_min = 2000\nburn_gal_per_h = 30\n"
    (told,) = lines("airspeed-doubtful", judged_text(text, NoCatalogue(), files={"fast.toml": aircraft}))
    assert "290 kt at 9000 ft: 250 knots indicated, the most below 10,000 ft, are " in told
    assert told.endswith(" kt at -23 C")
