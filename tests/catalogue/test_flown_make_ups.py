"""Parts of airways that a station off the airway guides, and how far remarks on radials reach.

Rows, make-ups and remarks quoted are FAA NASR's, effective 2026-05-14 (AWY_SEG_ALT, FIX_NAV).
"""

from __future__ import annotations

import pytest
from helpers.published_flights import Flown, leg_to, messages, needle, needles


def test_the_published_radial_of_a_station_off_the_airway_guides(fly: Flown) -> None:
    """V537 PRESK-CERMO: MAG_COURSE 304.30; FIX_NAV has both fixes on MLB R-304.54. V537 does not pass MLB."""
    there, back = fly("PRESK V537 CERMO", altitude="5000"), fly("CERMO V537 PRESK", altitude="5000")
    assert needles(there) == ["MLB 304.5 FROM"]
    assert needles(back) == ["MLB 304.5 TO"]
    assert messages(there, "no-guidance") == messages(back, "no-guidance") == []


def test_whose_radial_it_is_is_told_once(fly: Flown) -> None:
    """V537 DEARY-JIHMU-PRESK: OPP_MAG_COURSE 139.89; FIX_NAV has all three on ORL R-139.79."""
    found = fly("DEARY V537 CERMO", altitude="5000")
    assert needles(found) == ["ORL 139.8 TO", "MLB 304.5 FROM"]
    told = messages(found, "station-off-airway")
    assert told == [
        "from DEARY V537 is flown on radial 140 of ORL (ORLANDO, which V537 does not pass)",
        "from PRESK V537 is flown on radial 305 of MLB (MELBOURNE, which V537 does not pass)",
    ]


def test_with_that_station_out_the_part_is_dead_reckoning_again(fly: Flown) -> None:
    assert needles(fly("PRESK V537 CERMO", "unavailable MLB", altitude="5000")) == [None]


def test_a_radial_is_usable_within_the_reach_that_a_remark_leaves(fly: Flown) -> None:
    """AEX-MUSHE is 18.94 NM long: ALEXANDRIA R-106 UNUSABLE BEYOND 48 NM says nothing of it."""
    found = fly("AEX V566 MUSHE", altitude="5000")
    assert needles(found) == ["AEX 106.1 FROM"]
    assert messages(found, "no-guidance") == []
    assert "published: ALEXANDRIA R-106 UNUSABLE BEYOND 48 NM" in fly.sheet("AEX V566 MUSHE", altitude="5000")


def test_a_radial_is_taken_away_beyond_that_reach_alone(fly: Flown) -> None:
    """V292: by MAG_COURSE_DIST WIGAN is 49.28 NM from BAF and SAGES 22.67 NM farther. R-279 UNUSABLE BYD 50 NM."""
    found = fly("SAGES V292 BAF", altitude="10000")
    (silent,) = [leg for leg in found["legs"] if leg["guidance"] is None]
    assert silent["from"]["ident"] == "SAGES"
    # The way from SAGES to where the radial becomes usable, 50 NM out, by the published lengths.
    assert silent["distance_nm"] == pytest.approx(22.67 + 49.28 - 50.0, abs=0.5)
    assert "the radial of BAF is unusable beyond 50 NM" in messages(found, "no-guidance")[0]
    assert needles(fly("WIGAN V292 BAF", altitude="10000")) == ["BAF 279.0 TO"]


def test_a_reach_is_published_in_whole_miles(fly: Flown) -> None:
    """V152: KIZER is OMN R-211, 26.47 NM; UNUSABLE BYD 26NM: the fix is where it becomes usable."""
    found = fly("JENSN V152 OMN", altitude="5000")
    assert needle(leg_to(found, "KIZER")) is None
    assert needle(leg_to(found, "OMN")) == "OMN 211.0 TO"
    assert len(found["legs"]) == 2


@pytest.mark.parametrize(("altitude", "guided"), [("9000", False), ("9500", False), ("10000", True), ("11000", True)])
def test_a_radial_is_taken_away_below_the_height_of_its_remark_alone(fly: Flown, altitude: str, guided: bool) -> None:
    """V433 PETER-CODDI: ROCKDALE R-127 UNUSABLE BELOW 10000; both are made up by RKA R-127.17."""
    found = fly("PETER V433 CODDI", altitude=altitude)
    assert needles(found) == (["RKA 127.2 TO"] if guided else [None])
    below = [told for told in messages(found, "no-guidance") if told.endswith("of RKA is unusable below 10000 ft")]
    assert bool(below) is not guided


def test_another_stations_radial_is_used_below_the_height_of_its_remark_alone(fly: Flown) -> None:
    """V241 RRS-HAVSO: WIREGRASS R-019 UNSABLE BELOW 6000 USE EUFAULA R-199; above, RRS's own radial as far as half."""
    assert needles(fly("RRS V241 EUF", altitude="5500")) == ["EUF 199.0 TO"]
    high = needles(fly("RRS V241 EUF", altitude="7500"))
    assert [str(one)[:3] for one in high] == ["RRS", "EUF"]
