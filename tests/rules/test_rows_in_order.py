"""Rows of an aircraft's table that do not stand in the order of their heights, as one with a digit lost does not."""

from __future__ import annotations

import pytest
from helpers.judged import judged_text, of

from navlog.rules.samples import FILES, FLOWN_BY_FILE, SampleCatalogue, sample


def told(*rows: str, cruise: str = "") -> list[str]:
    """What is told of a cruise of rows in this order, each what stands before its speed and burn, alike in all."""
    table = ",\n".join(f"{{ {row}, tas_kt = 110, burn_gal_per_h = 8.5 }}" for row in rows)
    text = sample(*FLOWN_BY_FILE, "aircraft made.toml")
    files = {**FILES, "made.toml": f'name = "Made"\n[cruise]\n{cruise}rows = [\n{table}]\n'}
    return of("aircraft-row-doubtful", judged_text(text, SampleCatalogue(), files=files))


def at(*heights_ft: int) -> tuple[str, ...]:
    return tuple(f"pressure_altitude_ft = {one}" for one in heights_ft)


@pytest.mark.parametrize(
    ("heights_ft", "out"),
    [
        ((0, 4000, 8000, 12000), None),
        # Some books begin at the top.
        ((12000, 8000, 4000, 0), None),
        ((8000, 0), None),
        # 1200 for 12000, and 40000 for 4000: either of the two may be wrong.
        ((0, 4000, 8000, 1200), "row 4 at 1200 ft stands after row 3 at 8000 ft, where rows go up"),
        ((0, 40000, 8000, 12000), "row 3 at 8000 ft stands after row 2 at 40000 ft, where rows go up"),
        ((12000, 8000, 400, 6000), "row 4 at 6000 ft stands after row 3 at 400 ft, where rows go down"),
        # As many go up as down.
        ((0, 8000, 4000), "row 3 at 4000 ft stands after row 2 at 8000 ft, where rows go up"),
        # The first alone is told: a table in no order at all is one thing.
        ((0, 8000, 4000, 12000, 6000, 14000), "row 3 at 4000 ft stands after row 2 at 8000 ft, where rows go up"),
    ],
)
def test_a_row_out_of_the_order_of_heights_is_told_with_the_one_before(
    heights_ft: tuple[int, ...], out: str | None
) -> None:
    assert told(*at(*heights_ft)) == ([] if out is None else [f"warning: [cruise] {out}"])


@pytest.mark.parametrize("by_height", [True, False])
def test_rows_may_go_by_height_or_by_temperature_first(by_height: bool) -> None:
    cells = [(ft, c) for ft in (0, 4000, 8000) for c in (-20, 0, 20)]
    cells = cells if by_height else sorted(cells, key=lambda cell: cell[1])
    assert told(*(f"pressure_altitude_ft = {ft}, temperature_c = {c}" for ft, c in cells)) == []


def test_of_a_table_by_temperature_the_row_is_counted_among_all() -> None:
    cells = [(0, -20), (0, 20), (8000, -20), (8000, 20), (4000, -20), (4000, 20)]
    assert told(*(f"pressure_altitude_ft = {ft}, temperature_c = {c}" for ft, c in cells)) == [
        "warning: [cruise] row 5 at 4000 ft stands after row 3 at 8000 ft, where rows go up"
    ]


def test_only_rows_of_the_power_flown_are_held_against_each_other() -> None:
    rows = (*(f'{one}, power = "55%"' for one in at(0, 8000)), *(f'{one}, power = "65%"' for one in at(0, 8000)))
    assert told(*rows, cruise='power = "65%"\n') == []
    assert told(*rows[:2], *rows[2:], f'{at(4000)[0]}, power = "65%"', cruise='power = "65%"\n') == [
        "warning: [cruise] row 5 at 4000 ft stands after row 4 at 8000 ft, where rows go up"
    ]
