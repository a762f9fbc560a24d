"""Below 10,000 ft no more than 250 knots are indicated (14 CFR 91.117(a)), in the climb and the descent too.

True airspeeds beside are of the standard atmosphere, by its density ratio (ICAO Doc 7488) without compressibility:
0.8617 at 5,000 ft, 0.7620 at 9,000; a difference of 3 kt is allowed for that.
"""

from __future__ import annotations

import re

import pytest
from helpers.judged import judged_text, of

from navlog.resolve.lookup import NoCatalogue

ROUTE = """airport XAA N46 00.00 W039 00.00 elev 5000ft
airport XBB N47 30.00 W039 00.00 elev 5000ft
variation 12W
date 2026-07-18
off 15:00Z
wind calm
rules ifr
fuel 300gal
aircraft fast.toml
"""


def told(climb: str, cruise: str, descent: str, *statements: str) -> list[tuple[int, ...]]:
    """Speed, altitude and the most of each leg told."""
    aircraft = (
        f'name = "Fast"\n[climb]\n{climb}\nrate_ft_per_min = 2000\nburn_gal_per_h = 60\n'
        f"[cruise]\n{cruise}\nburn_gal_per_h = 40\n"
        f"[descent]\n{descent}\nrate_ft_per_min = 2000\nburn_gal_per_h = 30\n"
    )
    text = ROUTE + "\n".join((*statements, "route XAA XBB\n"))
    found = of("airspeed-doubtful", judged_text(text, NoCatalogue(), files={"fast.toml": aircraft}))
    return [tuple(map(int, re.findall(r"(\d+) (?:kt|ft)\b", one.replace("10,000 ft", "")))) for one in found]


@pytest.mark.parametrize("cas_kt", [250, 280])
def test_a_climb_and_a_descent_are_judged_where_they_are_lowest(cas_kt: int) -> None:
    # 250 calibrated at 5,000 ft are 250 / sqrt(0.8617) = 269 true, 280 are 302; above 10,000 ft nothing binds.
    found = told(f"cas_kt = {cas_kt}", "tas_kt = 320", f"cas_kt = {cas_kt}", "altitude 15000")
    assert len(found) == (0 if cas_kt == 250 else 1)  # both are of one speed
    for tas_kt, altitude_ft, most_kt in found:
        assert altitude_ft == 5000
        assert tas_kt == pytest.approx(302, abs=3)
        assert most_kt == pytest.approx(269, abs=3)


@pytest.mark.parametrize(("cas_kt", "wrong"), [(249, False), (255, True)])
def test_a_calibrated_cruise_is_judged_as_it_stands(cas_kt: int, *, wrong: bool) -> None:
    # 255 at 9,000 ft are 255 / sqrt(0.7620) = 292 true, of which 286 are 250 calibrated.
    found = told("cas_kt = 160", f"cas_kt = {cas_kt}", "cas_kt = 200", "altitude 9000")
    assert bool(found) is wrong
    for tas_kt, altitude_ft, most_kt in found:
        assert altitude_ft == 9000
        assert tas_kt == pytest.approx(292, abs=3)
        assert most_kt == pytest.approx(286, abs=3)


@pytest.mark.parametrize(("temperature", "wrong"), [("", False), ("temperature -15C", True)])
def test_a_temperature_that_is_stated_counts_for_the_warm_air_that_might_be(temperature: str, *, wrong: bool) -> None:
    # Standard at XAA is 5.1 C, at 9,000 ft -2.8: 20 colder 250 calibrated are 286 x sqrt(250.3 / 270.3) = 275 true, and
    # 290 are flown; in air 30 warmer 301 would be allowed.
    found = told("cas_kt = 160", "tas_kt = 290", "cas_kt = 200", "altitude 9000", temperature)
    assert [one[2] for one in found] == ([pytest.approx(275, abs=3)] if wrong else [])


def test_a_slow_climb_for_a_fast_cruise_is_no_slip() -> None:
    # 85 knots calibrated, half of 200: an ordinary best rate of climb.
    assert told("cas_kt = 85", "tas_kt = 200", "cas_kt = 150", "altitude 9000") == []
