"""What the rules on stations tell, whole.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Numbers are worked
beside the lines from what the flight states.
"""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

_TOLD = """\
dme-missing: fix LAKER QEL 180 dme 12 at 4500 | route XHAR QHB V801 QEL LAKER | equipment vor 1 dme 0 | -direct QEL
    warning leg 4 15:25 LAKER is 12 NM DME from QEL, and the aeroplane has no DME
dme-missing: station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L elev 410ft | fix LAKER QEL 180 12nm | route XHAR QHB V801 QEL LAKER | equipment vor 1 dme 1 | -direct QEL
    warning leg 4 15:25 LAKER is 12 NM from QEL, which has no DME
frequencies-alike: station QEL 117.30 N45 44.10 W039 33.00 decl 17W class L elev 410ft
    note leg 3 16:21 QEL 117.30 comes after QHB 113.70
frequencies-alike: station QEL 113.50 N45 44.10 W039 33.00 decl 17W class L elev 410ft
    note leg 3 16:21 QEL 113.50 comes after QHB 113.70
frequencies-alike: station QEL 113.45 N45 44.10 W039 33.00 decl 17W class L elev 410ft
frequency-shared: station QSK 110.20 N49 28.00 W038 50.00 decl 14W class L
frequency-shared: station QHB 115.30 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft
    warning leg 1 16:12 QPB is on 115.30 too, 42.7 NM from where QHB is used
# From N46 01.6, where QHB hands over to QEL, a minute of latitude a mile.
frequency-shared: station QSK 110.20 N49 03.00 W039 33.00 decl 14W class L
    warning leg 3 16:21 QSK is on 110.20 too, 181.4 NM from where QEL is used
frequency-shared: station QSK 110.20 N49 07.00 W039 33.00 decl 14W class L
    warning leg 3 16:21 QSK is on 110.20 too, 185.4 NM from where QEL is used
frequency-shared: station QSK 110.20 N45 44.10 W034 50.00 decl 14W class L
    warning leg 3 16:21 QSK is on 110.20 too, 193.1 NM from where QEL is used
frequency-shared: station QSK 110.20 N49 21.00 W039 33.00 decl 14W class L
    warning leg 3 16:21 QSK is on 110.20 too, 199.4 NM from where QEL is used
frequency-shared: station QSK 110.20 N49 22.00 W039 33.00 decl 14W class L
declination-old: station QHB 113.70 N46 12.30 W039 20.70 decl 18W class L dme elev 820ft
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_stations(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told
