"""Air much colder than standard, in which the aeroplane is lower than its altimeter says.

ICAO Doc 8168, volume I: 4 % of the height for every 10 degrees C under standard; IFALPA, Cold Weather Altimetry, 2018:
"when ambient temperature is ISA-15 or lower". Standard is 15 C at sea level.
"""

from __future__ import annotations

import pytest
from helpers.judged import along, found


def test_cold_air_by_the_4_percent_rule() -> None:
    # Standard at 3,100 ft is 15 - 1.98 x 3.1 = 8.9 C; 34.1 C under it is 13.6 % of 3,100 ft, 423 ft.
    (told, _) = found("cold-air", "wind 3000 230/12 -25C 6000 240/18 -31C", "altitude 3100")
    assert "34 degrees C colder" in told
    assert "about 2678 ft, below the minimum of 3000 ft" in told


def test_air_15_degrees_under_standard_needs_no_correction_yet() -> None:
    assert found("cold-air", "wind 3100 230/12 -5C", "altitude 3100") == []


@pytest.mark.parametrize(("temperature", "told"), [("0C", True), ("1C", False)])
def test_from_15_degrees_under_standard_a_correction_is_due(temperature: str, told: bool) -> None:
    # Measured at a field at sea level; 3,100 ft less 6 % are 2,914, under the MEA of 3,000.
    field = "airport XHAR N46 14.50 W039 07.20 elev 0ft"
    assert bool(found("cold-air", field, f"temperature {temperature}", "altitude 3100")) is told


def test_a_temperature_told_at_a_place_says_nothing_of_a_leg_without_one() -> None:
    place = ("station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L", "wind at QSK 3000 230/12 -40C")
    assert found("cold-air", *along("QHB 212 - 032 QEL 29.5nm mea 3000", "altitude 3100"), "-wind", *place) == []
