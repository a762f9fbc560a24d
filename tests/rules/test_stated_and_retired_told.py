"""What the rules on what a flight states or accepts tell, whole.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Numbers are worked
beside the lines from what the flight states.
"""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

_TOLD = """\
stated-unused: route XHAR QHB V801 QEL | pattern 1350ft | -direct QEL
    note flight 16:1 the flight ends at QEL, no airport, so that no pattern is joined
stated-unused: route XHAR QHB V801 QEL QHB XHAR | hold QHB 5min | -direct QEL
    note flight 16:6 the hold at QHB is flown at the first of 2 passages alone
stated-unused: route XHAR QHB V801 QEL QHB V801 QEL QHB XHAR | hold QHB 5min | -direct QEL
    note flight 16:6 the hold at QHB is flown at the first of 3 passages alone
# Published points of the route are places of the flight, whatever its alternates pass; so is what the file defines.
radio-elsewhere: radio QPB "Tower" 118.700 | route XHAR QHB V801 QEL QPB XOLD
radio-elsewhere: radio QPB "Tower" 118.700 | route XHAR QHB V801 QEL QPB XOLD | alternate XHAR
radio-elsewhere: radio QSK "Tower" 118.700
    note flight 17:1 the flight has no place `QSK`, of which a frequency is stated
radio-elsewhere: radio QSK "Tower" 118.700 | station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L
# 3.1 minutes of latitude and 13 of longitude, 9.1 NM: 9.6 NM.
same-name: airport QEL N45 41.00 W039 20.00 elev 350ft | route XHAR QHB QEL | -direct QEL | -airway V801
    note flight 14:16 QEL is taken as the airport; the VOR of that name is 9.6 NM from it: QEL:vor would be that
same-name: airport QEL N45 41.00 W039 20.00 elev 350ft | route XHAR QHB QEL | -direct QEL | -airway V801 | station QEL 110.20
    note flight 14:16 QEL is taken as the airport; the VOR of that name is elsewhere: QEL:vor would be that
stated-unused: route XHAR QHB V801 QEL | -direct QEL
stated-unused: pattern 1350ft
pattern-low: pattern 349ft
    warning flight 17:1 the pattern at 349 ft is below XOLD, elevation 350 ft
pattern-low: pattern 350ft
stated-unused: ceiling 2000
    warning flight 17:1 the ceiling of 2000 ft is below the level of 4500 ft; only comparisons heed it
rule-retired: accept levels-unknown "old"
    note flight 17:8 `levels-unknown` is found no more: a table of cruising levels that is not known is a problem of the file
rule-retired: accept alternate-guidance "old"
    note flight 17:8 `alternate-guidance` is told on the way to an alternate by `station-out`, `unusable-sector`, `course-unknown`, `no-guidance`
# 14 CFR 91.177 is of instrument flight: under visual rules what moca-range told is no more than a note.
rule-retired: accept moca-range "old" | rules vfr
    note flight 17:8 what `moca-range` told is under VFR a note of `under-mea` now
rule-retired: accept moca-range "old" | rules ifr
accept-unused: accept under-mea "seen"
    note flight 17:8 `under-mea` is accepted and finds nothing
accept-unused: accept under-mea on V801 "seen"
    note flight 17:8 `under-mea` is accepted and finds nothing on the part named
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_stated_and_retired(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told
