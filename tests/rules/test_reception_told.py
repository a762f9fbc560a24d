"""What the rules on reception tell, whole.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Numbers are worked
beside the lines from what the flight states.
"""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

_TOLD = """\
out-of-range: station QEL 110.20 N45 44.10 W039 33.00 decl 17W class T dme elev 410ft | altitude 13000 | wind 12000 230/12
out-of-range: station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme | route XHAR QHB V801 QEL/A055 4434N03950W | -direct QEL
    warning leg 4 15:30 QEL class L serves 40 NM at the most, its elevation not known; it is used 71.1 NM away [by 71.1] [of QEL]
out-of-range: route XHAR QHB V801 QEL/A055 4454N03950W | -direct QEL | station QEL 110.20 N45 44.10 W039 33.00 decl 17W class T dme elev 410ft
    warning leg 4 15:30 QEL class T serves 25 NM at 5090 ft above it; it is used 51.5 NM away [by 51.5] [of QEL]
out-of-range: route XHAR QHB V801 QEL/A125 4454N03950W | -direct QEL | station QEL 110.20 N45 44.10 W039 33.00 decl 17W class T dme elev 410ft | wind 12000 230/12
    warning leg 4 15:30 QEL class T serves nothing at 12090 ft above it; it is used 51.5 NM away [by 51.5] [of QEL]
out-of-range: route XHAR QHB V801 QEL/A055 4502N03950W | -direct QEL
    warning leg 4 15:30 QEL class L serves 40 NM at 5090 ft above it; it is used 43.8 NM away [by 43.8] [of QEL]
out-of-range: route XHAR QHB V801 QEL/A055 4506N03950W | -direct QEL
below-horizon: station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme | altitude 1200 | route XHAR QHB 4526N03942W | -direct QEL
    warning leg 2 15:16 QHB is 48.6 NM away and the radio horizon from 1200 ft is 24.9 NM, its elevation not known and so taken as the lowest of the flight [by 23.7] [of QHB]
stations-apart: station QEL 110.20 N44 44.10 W039 33.00 decl 17W class VH dme elev 410ft | airport XOLD N44 41.00 W039 20.00 elev 350ft | -airway V801 | route XHAR QHB DCT QEL XOLD | altitude 15000 | wind 15000 230/12
    warning leg 2 15:20 QHB and QEL are 88.6 NM apart; off airways 80 NM is the most at 15000 ft
stations-apart: station QDM 112.00 N46 13.00 W039 10.00 kind dme | station QEL 110.20 N44 44.10 W039 33.00 decl 17W class VH dme elev 410ft | airport XOLD N44 41.00 W039 20.00 elev 350ft | -airway V801 | route XHAR QDM QHB DCT QEL XOLD
    warning leg 3 15:24 QHB and QEL are 88.7 NM apart; off airways 80 NM is the most at 4500 ft
unusable-sector: station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft unusable 205-220 beyond 5nm below 6000ft
    warning leg 2 16:21 QHB is unusable on radials 205-220 beyond 5 NM below 6000 ft; radial 212 is used
unusable-sector: station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft unusable 212-212
    warning leg 2 16:21 QHB is unusable on radial 212; radial 212 is used
station-off-airway: airway V801 QHB - QEL 29.5nm mea 3000 on QSK 273 | station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft name "Skerry"
    note leg 2 16:21 from QHB V801 is flown on radial 273 of QSK (Skerry, which V801 does not pass)
signal: airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 gap 6nm cop 11 QHB | -wind
    warning leg 2 15:21 V801 from QHB to QEL: signal gap of 6 NM
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_reception(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told
