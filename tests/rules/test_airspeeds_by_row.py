"""A row of an aircraft's table with a digit lost, or one too many."""

from __future__ import annotations

import pytest
from helpers.judged import found, judged_text, of

from navlog.rules.airspeeds import _out_of_line
from navlog.rules.samples import FILES, FLOWN_BY_FILE, SampleCatalogue, sample


@pytest.mark.parametrize(
    ("values", "times", "wrong"),
    [
        # Invented figures of plausible size: a climb dies away with height, a cruise grows a little.
        ([730.0, 540.0, 350.0, 160.0], 2.0, []),
        ([730.0, 540.0, 350.0, 50.0], 2.0, []),
        ([7200.0, 540.0, 350.0, 160.0], 2.0, [0]),
        ([730.0, 54.0, 350.0, 160.0], 2.0, [1]),
        ([730.0, 540.0, 350.0, 1600.0], 2.0, [3]),
        ([11.5, 10.4, 9.2, 8.1], 1.5, []),
        ([1.15, 10.4, 9.2, 8.1], 1.5, [0]),
        ([11.5, 10.4, 92.0, 8.1], 1.5, [2]),
        ([101.0, 204.0, 106.0, 110.0], 1.5, [1]),
        ([8.6, 8.5, 0.85, 8.4], 1.5, [2]),
    ],
)
def test_the_row_that_slipped_is_the_one_told(values: list[float], times: float, wrong: list[int]) -> None:
    assert list(_out_of_line((0.0, 4000.0, 8000.0, 12000.0), values, times)) == wrong


def test_a_row_out_of_line_is_told_with_the_one_beside_it() -> None:
    assert found("aircraft-row-doubtful", *FLOWN_BY_FILE, "aircraft slipped.toml") == [
        "warning: [climb] has a rate of 7200 at 0 ft, and 540 in the row beside"
    ]


@pytest.mark.parametrize(
    ("altitudes_ft", "values", "wrong"),
    [
        # The line through 2000 and 3000 ft leads to 400 at 0 ft, of which 599 is less than one and a half times.
        ((0.0, 2000.0, 3000.0), [599.0, 200.0, 100.0], []),
        ((0.0, 2000.0, 3000.0), [601.0, 200.0, 100.0], [0]),
        # Of two slips the one that is missed by more: 1000 is 6.7 times 1.5 times 100, and 50 three quarters of 66.7.
        ((0.0, 2000.0, 4000.0, 6000.0, 8000.0, 9000.0), [100.0, 100.0, 1000.0, 100.0, 100.0, 50.0], [2]),
        ((0.0, 2000.0, 4000.0, 6000.0, 8000.0, 9000.0), [100.0, 100.0, 1.0, 100.0, 100.0, 160.0], [2]),
        # A speed does not fade with height as a rate does.
        ((0.0, 4000.0, 8000.0), [100.0, 100.0, 66.0], [2]),
        ((0.0, 4000.0, 8000.0), [100.0, 100.0, 67.0], []),
    ],
)
def test_what_the_two_nearest_rows_lead_to_expect_goes_by_their_altitudes(
    altitudes_ft: tuple[float, ...], values: list[float], wrong: list[int]
) -> None:
    assert list(_out_of_line(altitudes_ft, values, 1.5)) == wrong


def climbing(*rows: tuple[float, float, float, float]) -> list[str]:
    """What is told of a chart of pressure altitude, time, fuel and distance to climb."""
    table = ",\n".join(
        f"{{ pressure_altitude_ft = {ft}, time_min = {time}, fuel_gal = {fuel}, distance_nm = {away} }}"
        for ft, time, fuel, away in rows
    )
    aircraft = (
        f'name = "C"\n[climb]\ncumulative = true\nrows = [\n{table}]\n[cruise]\ntas_kt = 110\nburn_gal_per_h = 9\n'
    )
    text = sample(*FLOWN_BY_FILE, "aircraft chart.toml", "altitude 5500", "route XHAR QHB V801 QEL XOLD")
    return of("aircraft-row-doubtful", judged_text(text, SampleCatalogue(), files={**FILES, "chart.toml": aircraft}))


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        # Of three layers of 4,000 ft: 5, 10 and 12 minutes; 1.3, 1.5 and 2.2 gal; 8, 10 and 18 NM.
        (((0, 0, 0, 0), (4000, 5, 1.3, 8), (8000, 15, 2.8, 18), (12000, 27, 5.0, 36)), []),
        # 15 minutes with the 5 lost: 4,000 ft in one minute, 4000 ft/min between 800 and 182.
        (
            ((0, 0, 0, 0), (4000, 5, 1.3, 8), (8000, 6, 2.8, 18), (12000, 27, 5.0, 36)),
            ["warning: [climb] takes 1 min from 4000 to 8000 ft, and 5 in the layer beside"],
        ),
        (
            ((0, 0, 0, 0), (4000, 5, 1.3, 8), (8000, 15, 1.4, 18), (12000, 27, 5.0, 36)),
            ["warning: [climb] takes 0.1 of fuel from 4000 to 8000 ft, and 1.3 in the layer beside"],
        ),
        (
            ((0, 0, 0, 0), (4000, 5, 1.3, 2), (8000, 15, 2.8, 18), (12000, 27, 5.0, 36)),
            ["warning: [climb] takes 2 NM from 0 to 4000 ft, and 16 in the layer beside"],
        ),
    ],
)
def test_a_layer_of_a_climb_chart_that_slipped_is_told(
    rows: tuple[tuple[float, float, float, float], ...], told: list[str]
) -> None:
    assert climbing(*rows) == told


@pytest.mark.parametrize("first_ft_per_min", [500.0, 770.0, 1150.0])
def test_the_rounding_of_a_climb_chart_is_no_slip(first_ft_per_min: float) -> None:
    # A rate that fades to nothing at 16,000 ft, each figure of each 1,000 ft rounded as books print it.
    rows, time_min = [(0.0, 0.0, 0.0, 0.0)], 0.0
    for ft in range(1000, 13000, 1000):
        time_min += 1000.0 / (first_ft_per_min * (1.0 - (ft - 500.0) / 16000.0))
        rows.append((ft, round(time_min), round(time_min * 0.16, 1), round(time_min * 1.3)))
    assert climbing(*rows) == []


def of_two(low: str, high: str, *, key: str = "tas_kt", phase: str = "cruise") -> list[str]:
    """What is told of a table of two rows, each `ALTITUDE SPEED BURN`."""
    rated = "" if phase == "cruise" else ", rate_ft_per_min = 500"
    rows = ",\n".join(
        f"{{ pressure_altitude_ft = {ft}, {key} = {speed}, burn_gal_per_h = {burn}{rated} }}"
        for ft, speed, burn in (low.split(), high.split())
    )
    cruise = "" if phase == "cruise" else "[cruise]\ntas_kt = 110\nburn_gal_per_h = 9\n"
    aircraft = f'name = "Two"\n[{phase}]\nrows = [\n{rows}]\n{cruise}'
    text = sample(*FLOWN_BY_FILE, "aircraft two.toml")
    return of("aircraft-row-doubtful", judged_text(text, SampleCatalogue(), files={**FILES, "two.toml": aircraft}))


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [
        # Invented figures of plausible size, a digit lost or mistyped in one of the two.
        ("0 105 8.6", "14000 116 8.3", None),
        ("0 105 0.86", "14000 116 8.3", "a burn of 0.86 at 0 ft and 8.3 at 14000 ft"),
        ("0 105 8.6", "14000 116 0.83", "a burn of 8.6 at 0 ft and 0.83 at 14000 ft"),
        ("0 205 8.6", "14000 116 8.3", "a speed of 205 at 0 ft and 116 at 14000 ft"),
        ("0 45 8.6", "14000 116 8.3", "a speed of 45 at 0 ft and 116 at 14000 ft"),
        # The air of 25,000 ft has 0.4481 of the density at sea level (ICAO Doc 7488). At most 1.5 times 100 over the
        # root of that, 224.1 kt, at least 100 / 1.5, 66.7; a burn from 100 x 0.4481 / 1.5, 29.9, to 150.
        ("0 100 100", "25000 224 30", None),
        ("0 100 100", "25000 67 150", None),
        ("0 100 100", "25000 225 30", "a speed of 100 at 0 ft and 225 at 25000 ft"),
        ("0 100 100", "25000 66 30", "a speed of 100 at 0 ft and 66 at 25000 ft"),
        ("0 100 100", "25000 100 29", "a burn of 100 at 0 ft and 29 at 25000 ft"),
        ("0 100 100", "25000 100 151", "a burn of 100 at 0 ft and 151 at 25000 ft"),
        # From 4,000 ft (0.8881) on it is 0.5046: 100 x 0.5046 / 1.5 is 33.6.
        ("4000 100 100", "25000 100 34", None),
        ("4000 100 100", "25000 100 33", "a burn of 100 at 4000 ft and 33 at 25000 ft"),
    ],
)
def test_two_rows_are_held_against_each_other_by_the_air_between_them(low: str, high: str, told: str | None) -> None:
    assert of_two(low, high) == ([] if told is None else [f"warning: [cruise] has {told}"])


@pytest.mark.parametrize(
    ("high", "told"),
    [
        # A calibrated speed falls with height where the true one stays: 100 x 0.6694 / 1.5 is 44.6.
        ("25000 45 9", None),
        ("25000 150 9", None),
        ("25000 44 9", "a speed of 100 at 0 ft and 44 at 25000 ft"),
        ("25000 151 9", "a speed of 100 at 0 ft and 151 at 25000 ft"),
    ],
)
def test_of_two_rows_a_calibrated_speed_may_fall_with_height(high: str, told: str | None) -> None:
    expected = [] if told is None else [f"warning: [climb] has {told}"]
    assert of_two("0 100 9", high, key="cas_kt", phase="climb") == expected


def of_rates(low: str, high: str, phase: str = "climb") -> list[str]:
    """What is told of two rows, each `ALTITUDE RATE`."""
    rows = ",\n".join(
        f"{{ pressure_altitude_ft = {ft}, tas_kt = 80, burn_gal_per_h = 9, rate_ft_per_min = {rate} }}"
        for ft, rate in (low.split(), high.split())
    )
    aircraft = f'name = "Rated"\n[{phase}]\nrows = [\n{rows}]\n[cruise]\ntas_kt = 110\nburn_gal_per_h = 9\n'
    text = sample(*FLOWN_BY_FILE, "aircraft rated.toml")
    return of("aircraft-row-doubtful", judged_text(text, SampleCatalogue(), files={**FILES, "rated.toml": aircraft}))


@pytest.mark.parametrize(
    ("low", "high", "doubted"),
    [
        # A digit too many: the thinner the air, the slower the climb.
        ("0 700", "10000 3500", True),
        # At most a quarter more: 875.
        ("0 700", "10000 875", False),
        ("0 700", "10000 876", True),
        # A digit lost. 700 less 630 in 6,000 ft are none at 6,667 ft; in 8,000 ft at 8,889, a weak aeroplane's ceiling.
        ("0 700", "6000 70", True),
        ("0 700", "8000 70", False),
        # 500 less 375 in 6,000 ft are none at 8,000 ft; less 376 at 6,000 / 376 x 500 = 7,979.
        ("0 500", "6000 125", False),
        ("0 500", "6000 124", True),
        # Near its ceiling an aeroplane hardly climbs: none at 12,500 ft.
        ("0 800", "12000 32", False),
    ],
)
def test_two_rates_of_climb_are_held_against_what_thinner_air_does(low: str, high: str, *, doubted: bool) -> None:
    (low_ft, low_rate), (high_ft, high_rate) = low.split(), high.split()
    told = f"warning: [climb] has a rate of {low_rate} at {low_ft} ft and {high_rate} at {high_ft} ft"
    assert of_rates(low, high) == ([told] if doubted else [])


def test_two_rates_of_descent_are_chosen_and_not_doubted() -> None:
    assert of_rates("0 300", "10000 1500", phase="descent") == []
