"""What the rules on cruising levels tell, whole.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Numbers are worked
beside the lines from what the flight states.
"""

from __future__ import annotations

import pytest
from helpers.judged import found, table, told_of

_TOLD = """\
# 14 CFR 91.179(b): odd thousands on 000 to 179, even on 180 to 359; to FL290 odd or even levels.
cruising-level: route XHAR QHB V801 QEL XOLD | rules ifr
    note leg 3 16:21 4500 on set course 212 magnetic: even thousands hold in uncontrolled airspace, 4000 or 6000 ft (14 CFR 91.179)
    note leg 4 16:25 4500 on set course 126 magnetic: odd thousands hold in uncontrolled airspace, 3000 or 5000 ft (14 CFR 91.179)
cruising-level: route XHAR QHB V801 QEL XOLD | altitude FL195 | altimeter 29.92inHg | rules ifr | wind 18000 230/12
    note leg 3 16:21 FL195 on set course 212 magnetic: even flight levels hold where none is assigned; class A begins at 18000 ft, FL180 or FL200 (14 CFR 91.179)
    note leg 4 16:25 FL195 on set course 126 magnetic: odd flight levels hold where none is assigned; class A begins at 18000 ft, FL190 or FL210 (14 CFR 91.179)
# In RVSM airspace FL290 and every 2,000 ft on 000 to 179, FL300 on 180 to 359; FL310 is right on 126.
cruising-level: route XHAR QHB V801 QEL XOLD | altitude FL310 | altimeter 29.92inHg | rules ifr | wind 30000 230/12
    note leg 3 16:21 FL310 on set course 212 magnetic: even flight levels hold where none is assigned; class A begins at 18000 ft, FL300 or FL320 (14 CFR 91.179)
# Above FL410 every 4,000 ft: FL450 and FL490 on 000 to 179, FL430 and FL470 on 180 to 359.
cruising-level: route XHAR QHB V801 QEL XOLD | altitude FL420 | altimeter 29.92inHg | rules ifr | wind 42000 230/12
    note leg 3 16:21 FL420 on set course 212 magnetic: levels every 4000 ft from FL430 hold where none is assigned; class A begins at 18000 ft, FL400 or FL430 (14 CFR 91.179)
    note leg 4 16:25 FL420 on set course 126 magnetic: levels every 4000 ft from FL450 hold where none is assigned; class A begins at 18000 ft, FL410 or FL450 (14 CFR 91.179)
cruising-level: route XHAR QHB V801 QEL XOLD | altitude 5500
    warning leg 3 16:21 5500 on set course 212 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
cruising-level: route XHAR QHB V801 QEL XOLD | altitude 5000
    warning leg 3 16:21 5000 on set course 212 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
    warning leg 4 16:25 5000 on set course 126 magnetic: odd thousands plus 500 hold if more than 3000 ft above the surface, 3500 or 5500 ft (14 CFR 91.159)
cruising-level: route XHAR QHB V801 QEL XOLD | altitude FL055 | altimeter 29.92inHg | levels icao
    warning leg 3 16:21 FL055 on set course 212 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, FL045 or FL065 (ICAO Annex 2, appendix 3)
level-unusable: altitude FL100 | altimeter 29.92inHg
    warning leg 1 16:12 FL100 is no level of the United States: below 18000 ft altitudes are flown by the setting
# 14 CFR 91.121(b): 29.91 through 29.42, FL185; nothing stands below 26.92, FL210.
level-unusable: altitude FL180 | altimeter 29.91inHg | wind 18000 230/12 | rules ifr
    error leg 1 16:12 FL180 may not be used at 29.91 inHg: FL185 is the lowest usable flight level [by 500.0]
level-unusable: altitude FL180 | altimeter 26.00inHg | wind 18000 230/12 | rules ifr
    error leg 1 16:12 FL180 may not be used at 26.00 inHg: FL210 is the lowest usable flight level [by 3000.0]
# 14 CFR 91.179(b): from 18,000 ft flight levels; 17,000 ft below it is an altitude. ICAO's table knows no such height.
cruising-level: altitude 18000 | wind 18000 230/12 | route XHAR QHB V801 QEL XOLD | rules ifr
    note leg 4 16:25 18000 on set course 126 magnetic: odd flight levels hold where none is assigned; class A begins at 18000 ft, 17000 ft or FL190 (14 CFR 91.179)
cruising-level: altitude 17500 | wind 18000 230/12 | route XHAR QHB V801 QEL XOLD | rules ifr
    note leg 3 16:21 17500 on set course 212 magnetic: even thousands hold in uncontrolled airspace, 16000 ft or FL180 (14 CFR 91.179)
    note leg 4 16:25 17500 on set course 126 magnetic: odd thousands hold in uncontrolled airspace, 17000 ft or FL190 (14 CFR 91.179)
cruising-level: altitude FL055 | altimeter 29.92inHg | route XHAR QHB V801 QEL XOLD
    warning leg 3 16:21 FL055 on set course 212 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
cruising-level: altitude 18000 | wind 18000 230/12 | route XHAR QHB V801 QEL XOLD | rules ifr | levels icao
    note leg 4 16:25 18000 on set course 126 magnetic: odd thousands hold in uncontrolled airspace, 17000 or 19000 ft (ICAO Annex 2, appendix 3)
# VFR ends below 18,000 ft, so above 16,500 ft nothing holds on 212.
cruising-level: altitude 17500 | wind 18000 230/12 | route XHAR QHB V801 QEL XOLD
    warning leg 3 16:21 17500 on set course 212 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 16500 ft (14 CFR 91.159)
# No course is known out of QHB; the stretch after it is judged all the same.
cruising-level: -direct QHB | -direct QEL | variation 13W | station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QMM 212 - 032 QEL 20nm - QHB 20nm | route QHB V801 QEL V801 QMM | altitude 6000
    warning leg 3 14:25 6000 on set course 032 magnetic: odd thousands plus 500 hold if more than 3000 ft above the surface, 5500 or 7500 ft (14 CFR 91.159)
# 000 to 179 and 180 to 359: 003 is 3 from where they meet, 004 is 4.
cruising-level: route QHB QEL | -airway V801 | -direct QHB | -direct QEL | direct QHB 003 - 183 QEL 30nm | station QHB 113.70 | station QEL 110.20 | altitude 5500 | variation 13W
    note leg 1 13:11 set course 003 magnetic is within 3 degrees of where the levels change
cruising-level: route QHB QEL | -airway V801 | -direct QHB | -direct QEL | direct QHB 004 - 184 QEL 30nm | station QHB 113.70 | station QEL 110.20 | altitude 5500 | variation 13W
# 14 CFR 91.121(b): 29.41 through 28.92 inHg, FL190.
level-unusable: altitude FL190 | altimeter 29.00inHg | wind 18000 230/12 | rules ifr | route XHAR QHB V801 QEL/F180 XOLD
    error leg 4 16:30 FL180 may not be used at 29.00 inHg: FL190 is the lowest usable flight level [by 1000.0]
# Each level that is wrong is told once; under VFR another rule tells.
level-unusable: altitude FL100 | altimeter 29.92inHg | route XHAR QHB V801 QEL/F120 XOLD
    warning leg 1 16:12 FL100 is no level of the United States: below 18000 ft altitudes are flown by the setting
    warning leg 4 16:30 FL120 is no level of the United States: below 18000 ft altitudes are flown by the setting
level-unusable: altitude 18500 | tas 300kt | route XHAR QHB V801 QEL XOLD
# Of two stretches as long the first is told, the other too only where one is accepted on a part of the way.
cruising-level: -direct QHB | -direct QEL | variation 13W | station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - 032 QMM 20nm 212 - 032 QEL 20nm | route QHB V801 QMM V801 QEL | altitude 5500 | accept under-mea on V801 "seen"
    warning leg 1 14:16 5500 on set course 212 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
cruising-level: -direct QHB | -direct QEL | variation 13W | station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - 032 QMM 20nm 212 - 032 QEL 20nm | route QHB V801 QMM V801 QEL | altitude 5500 | accept cruising-level on QMM QEL "seen"
    warning leg 1 14:16 5500 on set course 212 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
    warning leg 3 14:25 5500 on set course 212 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
# Due south to LAKER, 180 + 13 = 193. QHB's 285 at 15W leads 270, a right angle off; 286 leads back.
cruising-level: -direct QHB | -direct QEL | variation 13W | station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.00 W039 00.00 | fix LAKER N45 50.00 W039 00.00 | airway V801 QHB 285 - PINEY 12nm - LAKER 10nm cop 3 QEL - 017 QEL 12nm | route PINEY V801 LAKER | altitude 5500
    warning leg 1 14:18 5500 on set course 285 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
cruising-level: -direct QHB | -direct QEL | variation 13W | station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.00 W039 00.00 | fix LAKER N45 50.00 W039 00.00 | airway V801 QHB 286 - PINEY 12nm - LAKER 10nm cop 3 QEL - 017 QEL 12nm | route PINEY V801 LAKER | altitude 5500
    warning leg 1 14:18 5500 on the model's course 193 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_cruising(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told


def test_no_level_of_uncontrolled_airspace_on_a_published_victor_airway_under_ifr() -> None:
    """14 CFR 71.75 (from memory): controlled from 1,200 ft above the surface up to, not including, 18,000 ft."""
    flight = ("rules ifr", "route QCA V803 QCB", "-airport XHAR", "-airport XOLD", "-direct QHB", "-direct QEL")
    assert any(" hold " in one for one in found("cruising-level", *flight, "rules vfr", "altitude 5000"))
    assert not any(" hold " in one for one in found("cruising-level", *flight, "altitude 5500"))
    # At 18,000 ft it ends, another state has its own table, and an airway of the file is nobody's publication.
    assert any(" hold " in one for one in found("cruising-level", *flight, "altitude FL185"))
    assert any(" hold " in one for one in found("cruising-level", *flight, "altitude 5500", "levels icao"))
    assert any(" hold " in one for one in found("cruising-level", "rules ifr", "altitude 5500"))
