"""What is routine in a profile is a note: little height left over an airport under IFR, a level all but reached.

The climber of the samples climbs and descends 500 ft a minute.
"""

from __future__ import annotations

import pytest
from helpers.judged import found

from navlog.rules.samples import FLOWN_BY_FILE

FLIGHT = (*FLOWN_BY_FILE, "-winds", "wind calm", "route XHAR QHB V801 QEL XOLD")


@pytest.mark.parametrize(("mea_ft", "rules", "severity"), [(6500, "ifr", "note"), (9000, "ifr", "warning")])
def test_height_that_an_approach_loses_is_a_note_under_ifr(mea_ft: int, rules: str, severity: str) -> None:
    # From the MEA at QEL 9.6 NM at some 110 kt are 5.2 min, 2,600 ft: of 6,500 ft 3,900 are left at XOLD, at 350 ft
    # some 3,500 to lose; of 9,000 ft some 6,000.
    asked = f"airway V801 QHB 212 - 034 QEL 29.5nm mea {mea_ft}", f"altitude {mea_ft}", f"rules {rules}"
    (told,) = found("arrival-height", *FLIGHT, *asked)
    assert told.startswith(f"{severity}: XOLD is reached ")


@pytest.mark.parametrize(("altitude", "severity"), [(4700, "note"), (4800, "warning")])
def test_a_level_missed_by_less_than_it_is_held_is_a_note(altitude: int, severity: str) -> None:
    # Out to QHB and back are 19.3 NM: up from 790 ft for 7.45 min at some 78 kt, down to 1,790 ft for 5.45 min at 105.
    (told,) = found("cruise-not-reached", *FLIGHT, "route XHAR QHB XHAR", f"altitude {altitude}")
    assert told.startswith(f"{severity}: cruise altitude not reached: ")
