"""What the rules tell of minimums, cold air, oxygen and bands just within and just beyond their limits."""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

# ICAO Doc 8168, volume I: 4 % for every 10 degrees C under standard, which is 15 C less 1.98 a thousand feet.
_TOLD = """\
minimum-unknown: -direct QHB
    note leg 1 15:12 no minimum altitude is known from XHAR to QHB
# Only where a level is flown that has an altitude beside it, and once with the way to an alternate.
level-without-altimeter: altitude 4500 | route XHAR QHB V801 QEL/F085 XOLD
    warning leg 4 16:30 a flight level is a pressure altitude; the height above the stated minimum is not known
level-without-altimeter: altitude FL085 | alternate XHAR from QHB
    warning leg 1 16:12 a flight level is a pressure altitude; the height above the stated minimum is not known
level-without-altimeter: terrain terrain | altitude FL085 | -direct QHB | route XHAR QHB V801 QEL XOLD
    warning leg 1 15:12 a flight level is a pressure altitude; the height above the minimum by terrain is not known
level-without-altimeter: altitude FL085 | -direct QHB | -direct QEL | airway V801 QHB 212 - 034 QEL 29.5nm
moca-over-mea: fix MARSH N46 04.00 W039 24.23 | airway V801 QHB 212 - MARSH 8.9nm mea 3000 moca 3000 - 034 QEL 20.9nm mea 2400 moca 3000
    warning leg 3 16:21 MOCA 3000 is over MEA 2400 on V801
# Standard at 3,100 ft is 8.86 C. -25 C at 3,000 and 5 less 3,000 ft on are -25.17, 34.0 under, 13.61 % of 3,100 ft.
# Warm air at QEL counts along the way; at QHB, where the leg begins, that of QHB alone does.
cold-air: -wind | wind at QHB 3000 230/12 -25C 6000 230/12 -30C\\nwind at QEL 3000 230/12 10C 6000 230/12 5C | altitude 3100 | route XHAR QHB V801 QEL XOLD | fix MARSH N46 04.00 W039 24.23 | airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm
    warning leg 2 15:16 in air 34 degrees C colder than standard 3100 ft by the altimeter is about 2678 ft, below the minimum of 3000 ft [by 321.9]
# The temperature is that of the level: -14.8 at 5,500, 18.9 under, and -5.2 where 3,100 ft are flown, 14.1 under.
cold-air: wind 3000 230/12 -5C 5500 230/12 -15C | altitude 3100 | route QHB V801 QEL | -direct QHB
# A leg that is high enough says nothing of the next; 6,100 ft less 11 % are far above.
cold-air: -direct QHB | fix MARSH N46 04.00 W039 24.23 | airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000 | wind 3000 230/12 -25C | route QHB V801 MARSH/A031 V801 QEL | altitude 6100
    warning leg 2 15:32 in air 34 degrees C colder than standard 3100 ft by the altimeter is about 2678 ft, below the minimum of 3000 ft [by 322.3]
    warning leg 3 15:32 in air 34 degrees C colder than standard 3100 ft by the altimeter is about 2678 ft, below the minimum of 3000 ft [by 322.3]
# Nor does one of which no minimum is known.
cold-air: wind 3000 230/12 -25C | altitude 3100 | route XHAR QHB V801 QEL | -direct QHB | -direct QEL
    warning leg 2 14:21 in air 34 degrees C colder than standard 3100 ft by the altimeter is about 2678 ft, below the minimum of 3000 ft [by 322.3]
    warning leg 3 14:21 in air 34 degrees C colder than standard 3100 ft by the altimeter is about 2678 ft, below the minimum of 3000 ft [by 322.3]
# Below the minimum as planned it is told by that.
cold-air: wind 3000 230/12 -25C | altitude 2900 | route QHB V801 QEL | -direct QHB
# 14 CFR 91.211(a): above 12,500, 14,000 and 15,000 ft; 29.5 NM at 110 kt are 16 min.
oxygen: altitude 12500 | wind 12500 230/12
oxygen: altitude 14000 | wind 12500 230/12
oxygen: altitude 14001 | wind calm | route QHB V801 QEL | -direct QHB
    warning leg 1 15:16 16 min above 14000 ft: oxygen for the crew all that time; the cabin counted as not pressurised [by 1501.0]
oxygen: altitude 15000 | wind calm | route QHB V801 QEL | -direct QHB
    warning leg 1 15:16 16 min above 14000 ft: oxygen for the crew all that time; the cabin counted as not pressurised [by 2500.0]
oxygen: altitude 15001 | wind calm | route QHB V801 QEL | -direct QHB
    warning leg 1 15:16 16 min above 14000 ft: oxygen for the crew all that time, 16 min above 15000 ft: oxygen for everyone aboard; the cabin counted as not pressurised [by 2501.0]
# From QEL 9.6 NM at 110 kt are 5 min; the low sector before has none.
oxygen: altitude 4500 | wind calm | route XHAR QHB V801 QEL XOLD land 20min QEL/A145 XOLD
    warning leg 6 16:50 5 min above 14000 ft: oxygen for the crew all that time; the cabin counted as not pressurised [by 2000.0]
# 51.4 tan 4.5 are 4.045 NM, 51.5 are 4.053: printed, 4.0 and 4.1.
wide-band: airport XHAR N46 12.30 W038 06.70 elev 0ft | -direct QHB
wide-band: airport XHAR N46 12.30 W038 06.60 elev 0ft | -direct QHB
    note leg 1 15:12 VOR error 4.5 degrees = 4.1 NM either side at 51.5 NM from the station [by 0.1]
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_a_rule_tells_of_heights_and_bands(flight: str, told: list[str]) -> None:
    assert told_of(flight.replace("\\n", "\n")) == told
