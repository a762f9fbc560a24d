"""The invented flight behind the rules' samples; each sample says what it changes in it.

The samples are judged with a little invented published data, aircraft files and bulletins beside them.
"""

from __future__ import annotations

from datetime import date

from navlog.nav.chart import (
    Airway,
    Bearing,
    BothWays,
    Fix,
    Position,
    Provenance,
    Segment,
    Source,
    Station,
    StationKind,
)
from navlog.resolve.lookup import NoCatalogue

_STATEMENTS = {
    "station QHB": "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft",
    "station QEL": "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft",
    "airport XHAR": "airport XHAR N46 14.50 W039 07.20 elev 790ft",
    "airport XOLD": "airport XOLD N45 41.00 W039 20.00 elev 350ft",
    "airway V801": "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB",
    "direct QHB": "direct QHB - XHAR 9.6nm min 2500",
    "direct QEL": "direct QEL - XOLD 9.6nm min 2500",
    "tas": "tas 110kt",
    "burn": "burn 8.5gph",
    "wind": "wind 230/12",
    "date": "date 2026-07-18",
    "off": "off 15:10Z",
    "altitude": "altitude 4500",
    "fuel": "fuel 38gal",
    "taxi": "taxi 1gal",
    "route": "route XHAR QHB V801 QEL/A055 XOLD",
}
"""One statement each, by what it says; the route leads along an airway between two airports."""


_NAMED = ("station", "airport", "airway", "fix", "direct")
"""Statements that one flight holds several of, told apart by their first name."""


def sample(*changed: str) -> str:
    """The base flight with statements replaced, added, or left out (`-wind`), as a route file."""
    statements = dict(_STATEMENTS)
    for statement in changed:
        if statement.startswith("-"):
            del statements[statement[1:]]
            continue
        words = statement.split(None, 2)
        key = " ".join(words[:2]) if words[0] in _NAMED else words[0]
        statements[key] = statement
    return "\n".join(statements.values()) + "\n"


BASE = sample()

FILES = {
    "climber.toml": """
name = "Climber"
usable_fuel_gal = 40
[climb]
cas_kt = 75
rate_ft_per_min = 500
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
steer_deg = [1, 90, 179, 270]
""",
    "slipped.toml": """
name = "Slipped"
[climb]
rows = [
  { pressure_altitude_ft = 0, cas_kt = 75, rate_ft_per_min = 7200, burn_gal_per_h = 11 },
  { pressure_altitude_ft = 4000, cas_kt = 75, rate_ft_per_min = 540, burn_gal_per_h = 10 },
  { pressure_altitude_ft = 8000, cas_kt = 75, rate_ft_per_min = 350, burn_gal_per_h = 9 },
]
[cruise]
tas_kt = 110
burn_gal_per_h = 8.5
""",
    "half_card.toml": """
name = "Half a card"
[cruise]
tas_kt = 110
burn_gal_per_h = 8.5
[compass]
for_deg = [0, 90]
steer_deg = [1, 90]
""",
    "winds.txt": """
DATA BASED ON 181200Z
VALID 181800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000
FT  3000    6000    9000
QEL 2312 2418+04 2520-01
QHB 2312 2418+04 2520-01
""",
    "notices.txt": """
!XHA 07/001 QHB NAV VOR BAFFLED 2607181200-PERM
!XHA 07/002 XOLD AD AP CLSD 2607181200-2607182000
!XHA 07/003 QEL NAV VOR 300-310 BEYOND 30NM UNUSABLE 2607181200-2607181400EST
!XHA 07/004 QEL NAV DME NOT MNT 2607181200-2607182000
!XHA 07/005 QHB NAV VOR U/S 2607201200-2607202000
""",
    "points.txt": """
!FDC 6/0001 ZZZ ROUTE ZZZ. V801 HARBOUR (QHB) VORTAC TO ELDON (QEL) VORTAC COP 12 NM FROM QHB. 2607181200-2707181200
!FDC 6/0002 ZZZ ROUTE ZZZ. V801 HARBOUR (QHB) VORTAC TO ELDON (QEL) VORTAC COP 15 NM FROM QEL. 2607181200-2707181200
""",
    "no_fuel.txt": """
!XHA 07/006 XOLD SVC FUEL NOT AVBL 2607181200-2607182000
""",
    "mast.txt": """
!XHA 07/007 XHA OBST TOWER LGT (ASR 1234567) 455700N0393000W (3.0NM W QEL) 4000FT (1900FT AGL) U/S 2607181200-2607182000
""",
    "no_notices.txt": """
No notices were to be had from the briefer before departure.
""",
    "morning.txt": """
DATA BASED ON 180000Z
VALID 180600Z   FOR USE 0200-0900Z. TEMPS NEG ABV 24000
FT  3000    6000    9000
QEL 2312 2418+04 2520-01
QHB 2312 2418+04 2520-01
QZZ 2312 2418+04 2520-01
""",
}
"""What the samples name: invented aircraft, bulletins and notices."""

FLOWN_BY_FILE = ("aircraft climber.toml", "-tas", "-burn", "-wind", "winds winds.txt")
"""Changes the base flight into one by an aircraft file in the winds of a bulletin."""

_JULY = Provenance(Source.NASR, "2607", date(2026, 7, 9), date(2026, 8, 6))
_CODED = Provenance(Source.CIFP, "2607", date(2026, 7, 9), date(2026, 8, 6))
_ANY_DAY = Provenance(Source.OURAIRPORTS, verified=False)

PUBLISHED_STATIONS = {
    "QPB": Station(
        "QPB",
        StationKind.VOR,
        Position(45.5, -39.2),
        frequency_mhz=115.3,
        declination_deg=-15.0,
        service="L",
        elevation_ft=90.0,
        provenance=_JULY,
    ),
    "QCA": Station(
        "QCA",
        StationKind.VOR,
        Position(45.9, -38.9),
        frequency_mhz=112.1,
        declination_deg=-15.0,
        service="L",
        elevation_ft=60.0,
        provenance=_CODED,
    ),
    "QCB": Station(
        "QCB",
        StationKind.VOR,
        Position(45.6, -39.1),
        frequency_mhz=114.9,
        declination_deg=-15.0,
        service="L",
        elevation_ft=70.0,
        provenance=_CODED,
    ),
    "QUV": Station(
        "QUV",
        StationKind.VOR,
        Position(45.5, -39.2),
        frequency_mhz=117.6,
        channel="100X",
        declination_deg=-15.0,
        service="L",
        elevation_ft=90.0,
        provenance=_ANY_DAY,
    ),
}

_CODED_AIRWAY = Airway(
    "V803",
    ("QCA", "QCB"),
    (Segment("QCA", "QCB", mea=BothWays(3000.0, 3000.0)),),
    (PUBLISHED_STATIONS["QCA"], PUBLISHED_STATIONS["QCB"]),
    provenance=_CODED,
)
"""Out of coded data, which have no changeover points."""

_PUBLISHED_FIX = Fix(
    "MAKER",
    Position(45.6, -39.4),
    (Bearing("QEL", 157.0, 10.1, "VOR/DME"),),
    published=True,
    provenance=_JULY,
    computed=True,
)

_PUBLISHED_BEFORE = Fix(
    "OLDEN",
    Position(45.5, -39.55),
    (Bearing("QPB", 290.0, 14.76, "VOR"),),
    published=True,
    provenance=_JULY,
)
"""Due west of QPB, on its radial 285; its make-up is of when QPB was aligned to 20W."""

PUBLISHED_FIXES = {fix.ident: fix for fix in (_PUBLISHED_FIX, _PUBLISHED_BEFORE)}

PUBLISHED = sample("route XHAR QHB V801 QEL/A055 QPB XOLD")
"""Passes a station that only the published data knows."""

UNVERIFIED = sample("route XHAR QHB V801 QEL/A055 QUV XOLD")
"""Passes one whose source is not verified, and whose channel is not that of its frequency."""


class SampleCatalogue(NoCatalogue):
    """The invented published data."""

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        """The station of that identifier."""
        found = PUBLISHED_STATIONS.get(ident)
        return () if found is None else (found,)

    def fixes(self, ident: str, day: date) -> tuple[Fix, ...]:
        """The fix of that name: one has no published position, one an old radial."""
        found = PUBLISHED_FIXES.get(ident)
        return () if found is None else (found,)

    def airways(self, ident: str, day: date) -> tuple[Airway, ...]:
        """The one airway."""
        return (_CODED_AIRWAY,) if ident == _CODED_AIRWAY.ident else ()

    def sources(self, day: date) -> tuple[Provenance, ...]:
        """The one cycle there is, of two sources, and the source without dates."""
        return (_JULY, _CODED, _ANY_DAY)

    def stations_on(self, frequency_mhz: float, near: Position, radius_nm: float, day: date) -> tuple[Station, ...]:
        """The stations on a frequency."""
        return tuple(one for one in PUBLISHED_STATIONS.values() if one.frequency_mhz == frequency_mhz)
