"""Obstacles on the way by what is published of how sure their heights are."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import navlog
from helpers.ridge import RIDGE, flown_over, flown_past_mast, mast_row

from navlog.rules.registry import Severity
from navlog.rules.samples import sample


@pytest.mark.parametrize(
    ("code", "top", "made_of", "least"),
    [
        # The codes of the file's README, as public readers of it repeat them: D is 50 ft, H 1,000, I unknown.
        ("D", "1400 ft (+50),", "1400 + 50 + 2000", 3500),
        ("H", "1400 ft (+1000),", "1400 + 1000 + 2000", 4400),
        ("I", "1400 ft (published without accuracy),", "1400 (published without accuracy) + 2000", 3400),
        (" ", "1400 ft (published without accuracy),", "1400 (published without accuracy) + 2000", 3400),
    ],
)
def test_an_obstacle_of_unknown_accuracy_says_so_where_others_have_their_tolerance(
    tmp_path: Path, code: str, top: str, made_of: str, least: int
) -> None:
    """An invented mast of 1,400 ft on the way; in the mountains of New Hampshire 2,000 ft are added."""
    changed = ("altitude 2000", "rules ifr")
    one = flown_past_mast(tmp_path, mast_row("44 12 00.00N 071 30 00.00W", 1400, f"5 {code}"), *changed)
    (message,) = (each.message for each in one.findings if each.rule == "under-terrain")
    assert f"minimum by terrain of {least} ft: {top}" in message
    (tmp_path / "f.route").write_text(sample(f'terrain "{tmp_path}"', *RIDGE, *changed), "utf-8")
    explained = navlog("explain", str(tmp_path / "f.route"), "--catalogue", str(tmp_path / "catalogue.sqlite"))
    assert f"by terrain: {made_of}, rounded up to 100 ft" in " ".join(explained.out.split())


@pytest.mark.parametrize("height_m", [0, -16, 10])
def test_a_plain_at_the_height_of_the_field_is_no_warning_for_what_its_tile_may_be_off_by(
    tmp_path: Path, height_m: int
) -> None:
    """What lies 4 NM aside of the runway is met after 4 NM of climb, 1,500 ft above it, where 48 ft a mile ask 192.

    10 m are 33 ft, which with the 52 ft of an SRTM tile are still far below that.
    """
    plain = {(row, column): height_m for row in range(1201) for column in range(480, 720)}
    one = flown_over(tmp_path, plain, "aircraft climber.toml", "-tas", "-burn", "wind calm")
    assert not [each for each in one.findings if each.rule == "climb-under-terrain"]
    assert {each.severity for each in one.findings if each.rule == "climb-low"} <= {Severity.NOTE}


@pytest.mark.parametrize(
    ("top_ft", "rules", "severity", "side"),
    [
        # 2,000 ft are flown over all of a direct leg whose own minimum says 1,500.
        (2200, "ifr", Severity.ERROR, "200 ft BELOW it"),
        (2200, "vfr", Severity.WARNING, "200 ft BELOW it"),
        (1900, "ifr", Severity.WARNING, "100 ft above it"),
    ],
)
def test_a_stated_minimum_under_an_obstacle_says_what_the_flight_itself_has_above_it(
    tmp_path: Path, top_ft: int, rules: str, severity: Severity, side: str
) -> None:
    own = ("direct QHB - XHAR 24nm min 1500", "altitude 2000", f"rules {rules}")
    one = flown_past_mast(tmp_path, mast_row("44 18 00.00N 071 30 00.00W", top_ft, "5 A"), *own)
    (told,) = (each for each in one.findings if each.rule == "stated-under-terrain")
    assert told.severity is severity
    assert told.message.endswith(f"; the flight is planned no more than {side}")
