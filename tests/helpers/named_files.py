"""The small files that flights of the grammar name: an aircraft, winds, notices."""

from __future__ import annotations

FILES = {
    "trainer.toml": """
name = "Trainer"
usable_fuel_gal = 60
taxi_fuel_gal = 1
[climb]
cas_kt = 75
rate_ft_per_min = 600
burn_gal_per_h = 11
[cruise]
tas_kt = 110
burn_gal_per_h = 8.5
[descent]
cas_kt = 100
rate_ft_per_min = 500
burn_gal_per_h = 6.5
[compass]
for_deg = [0, 90, 180, 270]
steer_deg = [2, 88, 181, 271]
""",
    "winds.txt": """
DATA BASED ON 181200Z
VALID 181800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000
FT  3000    6000    9000    12000
QAB 2312 2418+04 2520-01 2630-07
QAC 2112 2218+04 2320-01 2430-07
""",
    "cold.txt": """
VALID 181800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000
FT  3000    6000    9000    12000
QAB 2312 2418-14 2520-26 2630-41
QAC 2112 2218-31 2320-33 2430-37
""",
    "briefing.txt": """
!XHA 07/001 QAB NAV VOR U/S 2607181200-2607182000
!XHA 07/002 XAZ AD AP CLSD 2607181200-2607182000
""",
}
"""The files that flights name; the folder `terrain` is to hold the tiles of the islands."""
