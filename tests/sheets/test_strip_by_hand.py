"""Ticks and tables of the strip, counted in characters."""

from __future__ import annotations

from navlog.sheets.strip import _in_columns, _ticks


def test_ticks_fill_the_line_that_is_begun_and_go_on_below() -> None:
    # Twenty characters are taken of 51: 14 and 15 with two spaces between fill the other 31.
    first, second, third = "a" * 14, "b" * 15, "c" * 10
    assert list(_ticks("x" * 20, (first, second, third), 51)) == [f"{'x' * 20}{first}  {second}", f"    {third}"]
    assert list(_ticks("x" * 20, (first, f"{second}b"), 51)) == [f"{'x' * 20}{first}", f"    {second}b"]
    assert list(_ticks("  37.0[    ] 1, 2: ", (), 51)) == ["  37.0[    ] 1, 2"]


def test_a_line_of_a_table_is_kept_where_it_has_room_and_goes_on_indented_where_not() -> None:
    assert _in_columns("  XAA  12.0  ", 13) == ["  XAA  12.0  "]
    assert _in_columns("XAA at 12.0 NM", 12) == ["XAA at 12.0", "    NM"]
