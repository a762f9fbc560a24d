"""How long and how high a cabin is, by even changes of height, each worked by hand.

14 CFR 91.211(a) speaks of cabin pressure altitudes above 12,500, 14,000 and 15,000 ft (MSL).
"""

from __future__ import annotations

import pytest
from helpers.judged import reported

from navlog.flightlog.oxygen import high_time, highest_ft, share_above
from navlog.flightlog.records import Leg
from navlog.nav.record import changed

LEG = reported("route XHAR QHB V801 QEL XOLD").log.legs[0]


def flown(start_ft: float, end_ft: float, time_min: float | None = 10.0, hpa: float | None = None) -> Leg:
    return changed(LEG, start_altitude_ft=start_ft, end_altitude_ft=end_ft, time_min=time_min, altimeter_hpa=hpa)


@pytest.mark.parametrize(
    ("start_ft", "end_ft", "share"),
    [
        # Level at 12,500 ft, and what rounding makes of it, is not above it.
        (12_500.0, 12_500.0, 0.0),
        (12_501.0, 12_501.0, 1.0),
        (13_000.0, 13_000.0, 1.0),
        (12_000.0, 12_400.0, 0.0),
        # Of 10,000 to 15,000 ft the upper half; of a descent as much.
        (10_000.0, 15_000.0, 0.5),
        (15_000.0, 10_000.0, 0.5),
        (12_500.0, 14_500.0, 1.0),
        (11_500.0, 13_500.0, 0.5),
        (12_000.0, 14_500.0, 0.8),
    ],
)
def test_the_share_of_a_change_above_a_height(start_ft: float, end_ft: float, share: float) -> None:
    assert share_above(flown(start_ft, end_ft), 12_500.0) == pytest.approx(share)


def test_with_a_setting_the_higher_of_altitude_and_pressure_altitude_counts() -> None:
    # ICAO Doc 7488: 980 hPa stand at 920 ft, 1040 hPa some 740 below sea level.
    assert highest_ft([flown(12_000.0, 12_000.0, hpa=980.0)]) == pytest.approx(12_920.0, abs=5.0)
    assert highest_ft([flown(12_000.0, 12_000.0, hpa=1040.0)]) == 12_000.0
    assert share_above(flown(12_000.0, 12_000.0, hpa=980.0), 12_500.0) == 1.0
    assert share_above(flown(12_000.0, 12_000.0), 12_500.0) == 0.0
    # Climbing from 11,580 to 12,580 ft is from 12,500 to 13,500.
    assert share_above(flown(11_080.0, 12_080.0, hpa=980.0), 12_500.0) == pytest.approx(0.5, abs=0.01)


def test_the_highest_of_a_way_is_at_either_end_of_a_leg() -> None:
    climb, level, descent = flown(800.0, 9_000.0), flown(8_500.0, 8_500.0), flown(8_500.0, 1_000.0)
    assert highest_ft([level, climb, descent]) == 9_000.0
    assert highest_ft([climb]) == 9_000.0
    assert highest_ft([descent]) == 8_500.0


def test_minutes_above_each_height_and_between() -> None:
    # 10 min from 10,000 to 15,000 ft, 20 at 14,500, 30 at 16,000, 10 at 12,000: 5 + 20 + 30, 2 + 20 + 30, and 30.
    legs = [flown(10_000.0, 15_000.0), flown(14_500.0, 14_500.0, 20.0), flown(16_000.0, 16_000.0, 30.0)]
    found = high_time([*legs, flown(12_000.0, 12_000.0)])
    assert (found.above_12500_min, found.above_14000_min, found.above_15000_min) == pytest.approx((55.0, 52.0, 30.0))
    assert found.between_min == pytest.approx(3.0)
    assert (found.highest_ft, found.unknown) == (16_000.0, ())


def test_only_the_time_of_a_leg_so_high_is_missed() -> None:
    low = high_time([flown(12_000.0, 12_000.0, None), flown(13_000.0, 13_000.0)])
    assert (low.above_12500_min, low.above_14000_min, low.unknown) == (10.0, 0.0, ())
    lost = high_time([flown(13_000.0, 13_000.0, None)])
    assert (lost.above_12500_min, lost.above_14000_min, lost.above_15000_min) == (None, 0.0, 0.0)
    assert [(one.key, one.reason) for one in lost.unknown] == [
        ("above_12500_min", "the time of a leg so high is not known")
    ]
    assert lost.between_min is None
    assert high_time([flown(16_000.0, 16_000.0, None)]).between_min is None
