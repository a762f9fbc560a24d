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
