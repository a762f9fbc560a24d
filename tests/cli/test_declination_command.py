"""`navlog declination`."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_the_model_beside_a_station(navlog: Run) -> None:
    # FAA NASR and WMM2025: ODI is aligned to 1 E, the model says 1.45 W on 2026-05-16.
    assert navlog("declination", "43.91232916 -91.46751616", "--date", "2026-05-16", "--station", "1E") == (
        0,
        "variation 1.5W at N43 54.74 W091 28.05 on 2026-05-16 (WMM2025), uncertain by 0.4 degrees\n"
        "changing 0.04 degrees west a year\n"
        "station declination 1E: in nil wind the compass reads 2.5 more than the needle\n",
        "",
    )


def test_json_calls_the_variation_by_its_name_and_for_one_version_by_its_old_one(navlog: Run) -> None:
    # WMM2025 on 2026-05-16: 1.45 W at ODI.
    _, out, _ = navlog("declination", "43.91232916 -91.46751616", "--date", "2026-05-16", "--format", "json")
    found = json.loads(out)
    assert found["variation_deg"] == pytest.approx(-1.45, abs=0.01)
    assert found["declination_deg"] == found["variation_deg"]


def test_where_a_compass_fails(navlog: Run) -> None:
    _, sluggish, _ = navlog("declination", "74.7 -94.9", "--date", "2026-01-01")
    _, useless, _ = navlog("declination", "86.0 160.0", "--date", "2026-01-01")
    assert "the compass is sluggish here" in sluggish
    assert "the compass is useless here" in useless


def test_a_southern_position_is_an_argument(navlog: Run) -> None:
    status, out, _ = navlog("declination", "-33.9 151.2", "--date", "2026-07-18")
    assert status == 0
    assert "at S33 54.00 E151 12.00 on 2026-07-18" in out


def test_today_is_the_day_where_none_is_given(navlog: Run) -> None:
    assert navlog("declination", "46N039W")[0] == 0


@pytest.mark.parametrize(
    "line",
    [
        (),
        ("46N",),
        ("46N039W", "--date", "1999-01-01"),
        ("46N039W", "--date", "2026-02-30"),
        ("46N039W", "--station", "-15"),
        ("46.2", "-39.3"),
    ],
)
def test_bad_input_leaves_with_2(navlog: Run, line: tuple[str, ...]) -> None:
    status, out, err = navlog("declination", *line)
    assert (status, out) == (2, "")
    assert "error" in err.lower()


def test_a_day_without_a_model_is_not_met_with_a_statement_of_route_files(navlog: Run) -> None:
    status, _, err = navlog("declination", "46N039W", "--date", "2031-01-01")
    assert status == 2
    assert "no magnetic model covers 2031-01-01" in err
    assert "hint: give a day in those years" in err
