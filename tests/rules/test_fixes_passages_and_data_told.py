"""What the rules on fixes, passages and data tell, whole.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Numbers are worked
beside the lines from what the flight states.
"""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

_TOLD = """\
poor-cut: fix ROSKO QHB 160 x QEL 045 | route XHAR QHB ROSKO QEL/A055 XOLD
short-leg: fix LAKER N46 10.80 W039 21.60 | route XHAR QHB LAKER QEL/A055 XOLD
    warning leg 2 16:16 QHB and LAKER are 1.6 NM apart, 59 s
short-leg: fix LAKER N46 11.00 W039 19.50 | route XHAR QHB LAKER QEL/A055 XOLD | -wind
    warning leg 2 15:16 QHB and LAKER are 1.5 NM apart
short-leg: fix LAKER N46 10.80 W039 21.60 | route XHAR QHB LAKER V801 QEL/A055 XOLD | airway V801 QHB 212 - LAKER 1.6nm - 034 QEL 27.9nm
    warning leg 2 16:16 QHB and LAKER are 1.6 NM apart, 59 s
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_fixes_passages_and_data(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told
