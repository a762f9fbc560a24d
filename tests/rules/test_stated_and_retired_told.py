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
"""


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_stated_and_retired(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told
