"""What the rules on reception tell, whole.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Numbers are worked
beside the lines from what the flight states.
"""

from __future__ import annotations

import pytest
from helpers.judged import case_of, table, told_of

from navlog.flightlog.records import Mark, Trouble
from navlog.nav.chart import Service
from navlog.nav.record import changed
from navlog.nav.sectors import Sector
from navlog.resolve.route import Identification, MarkKind
from navlog.rules.reception import signal, unusable_sector
from navlog.rules.registry import Severity

_TOLD = """\
out-of-range: station QEL 110.20 N45 44.10 W039 33.00 decl 17W class T dme elev 410ft | altitude 13000 | wind 12000 230/12
out-of-range: station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme | route XHAR QHB V801 QEL/A055 4434N03950W | -direct QEL
    warning leg 4 15:30 QEL class L serves 40 NM at the most, its elevation not known; it is used 71.1 NM away [by 31.1] [of QEL]
out-of-range: route XHAR QHB V801 QEL/A055 4454N03950W | -direct QEL | station QEL 110.20 N45 44.10 W039 33.00 decl 17W class T dme elev 410ft
    warning leg 4 15:30 QEL class T serves 25 NM at 5090 ft above it; it is used 51.5 NM away [by 26.5] [of QEL]
out-of-range: route XHAR QHB V801 QEL/A125 4454N03950W | -direct QEL | station QEL 110.20 N45 44.10 W039 33.00 decl 17W class T dme elev 410ft | wind 12000 230/12
    warning leg 4 15:30 QEL class T serves nothing at 12090 ft above it; it is used 51.5 NM away [by 51.5] [of QEL]
out-of-range: route XHAR QHB V801 QEL/A055 4502N03950W | -direct QEL
    warning leg 4 15:30 QEL class L serves 40 NM at 5090 ft above it; it is used 43.8 NM away [by 3.8] [of QEL]
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
# QSK is 87.3 minutes of longitude from MARSH at N46 04, 60.6 NM; over 150 ft 1,350 ft see 1.23 x sqrt 1350 = 45.2 NM.
below-horizon: station QSK 112.40 N46 04.00 W037 57.60 decl 14W class VH elev 150ft | fix MARSH QHB 212 x QSK 284 | route QHB MARSH | -direct QHB | altitude 1500
    warning leg 1 15:11 QSK, 60.6 NM from MARSH, is under the radio horizon there at 1500 ft
# 39.4 minutes of longitude are 27.3 NM, of which MARSH lies 0.2 nearer: 2,900 - 150 = 2,750 ft, class T serves 25 NM.
out-of-range: station QSK 112.40 N46 04.00 W038 45.50 decl 14W class T elev 150ft | fix MARSH QHB 212 x QSK 284 | airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000 | altitude 2900
    warning leg 2 16:16 QSK class T serves 25 NM at 2750 ft above it; it is used 27.1 NM away [by 2.1] [of QSK]
out-of-range: station QHB 113.70 N46 12.30 W039 20.70 decl 15W class VH dme L elev 0ft | fix LAKER QHB 160 60nm | route QHB LAKER | altitude 5500 | equipment vor 1 dme 1 | -direct QHB
    warning leg 1 15:11 QHB DME class L serves 40 NM at 5500 ft above it; it is used 60.0 NM away [by 20.0] [of QHB]
unusable-sector: station QSK 112.40 N46 04.00 W038 45.50 decl 14W class VH elev 150ft unusable 280-290 beyond 20nm | fix MARSH QHB 212 x QSK 284 | route QHB MARSH | -direct QHB
    warning leg 1 15:11 QSK is unusable on radials 280-290 beyond 20 NM; radial 284 is used
# At 4,500 ft the first sector does not reach the flight.
unusable-sector: station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft unusable 205-220 beyond 8nm below 4000ft unusable 205-220 below 5000ft
    warning leg 2 16:21 QHB is unusable on radials 205-220 below 5000 ft; radial 212 is used
# Between a DME and a VOR no spacing holds. 14,500 to 18,000 ft: 200 NM between stations of the high classes.
stations-apart: station QDM 112.00 N46 13.00 W039 10.00 kind dme | station QEL 110.20 N44 44.10 W039 33.00 decl 17W class VH dme elev 410ft | airport XOLD N44 41.00 W039 20.00 elev 350ft | -airway V801 | -direct QHB | route XHAR QDM DCT QEL XOLD
stations-apart: station QEL 110.20 N44 44.10 W039 33.00 decl 17W class H dme elev 410ft | station QHB 113.70 N46 12.30 W039 20.70 decl 15W class VH dme elev 820ft | airport XOLD N44 41.00 W039 20.00 elev 350ft | -airway V801 | route XHAR QHB DCT QEL XOLD | altitude 15000 | wind 15000 230/12
stations-apart: -direct QHB | -direct QEL | -airway V801 | station QHB 113.70 | station QEL 110.20 | direct QHB 212 - 032 QEL 80nm | variation 13W | route QHB DCT QEL
stations-apart: -direct QHB | -direct QEL | -airway V801 | station QHB 113.70 | station QEL 110.20 | direct QHB 212 - 032 QEL 80.1nm | variation 13W | route QHB DCT QEL
    warning leg 1 13:15 QHB and QEL are 80.1 NM apart; off airways 80 NM is the most at 4500 ft
station-off-airway: airway V801 QHB - QEL 29.5nm mea 3000 on QSK 273 | station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft
    note leg 2 16:21 from QHB V801 is flown on radial 273 of QSK (not on the airway)
# How far QHB is from the way beyond MARSH nothing tells; QEL is 90 NM from XOLD, of which 1.23 x sqrt(1200 - 350) are seen.
below-horizon: station QHB 113.70 | station QEL 110.20 | airport XOLD N45 41.00 W039 20.00 elev 350ft | variation 13W | -direct QHB | direct QEL 145 - XOLD 90nm | fix MARSH QHB 212 24nm | airway V801 QHB 212 - MARSH 24nm - 032 QEL 5.5nm cop 3 QEL | route QHB V801 QEL XOLD | altitude 1200
    warning leg 4 15:20 QEL is 90.0 NM away and the radio horizon from 1200 ft is 35.9 NM, its elevation not known and so taken as the lowest of the flight [by 54.1] [of QEL]
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_reception(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told


@pytest.mark.parametrize("service", Service)
def test_a_part_without_a_signal_is_a_warning_where_it_is_a_gap_and_else_an_error(service: Service) -> None:
    case = case_of("-wind", "route XHAR QHB V801 QEL XOLD")
    first, along, *rest = case.first_legs
    silent = changed(along, stretch=changed(along.stretch, service=service, gap_nm=6.0))
    told = list(signal.check(changed(case, first_legs=(first, silent, *rest))))
    if service is Service.NORMAL:
        assert told == []
    else:
        severity = None if service is Service.SIGNAL_GAP else Severity.ERROR
        assert [(one.leg, one.severity) for one in told] == [(silent, severity)]
        assert told[0].message.startswith("V801 from QHB to QEL: ")


@pytest.mark.parametrize(("kind", "words"), [(MarkKind.DME, "QHB DME"), (MarkKind.RADIAL, "QHB")])
def test_of_a_station_that_tells_a_fix_the_part_in_use_counts(kind: MarkKind, words: str) -> None:
    # LAKER is 12 NM out at 4,500 ft: neither the other part's sector nor one beyond 30 NM is of it.
    case = case_of("fix LAKER QHB 160 12nm", "route QHB LAKER", "-direct QHB")
    (leg,) = case.legs
    used, other = ("dme", "vor") if kind is MarkKind.DME else ("vor", "dme")
    sectors = (
        Sector(150.0, 165.0, of=other),
        Sector(150.0, 170.0, 30.0, of=used),
        Sector(155.0, 170.0, below_ft=5000.0, of=used),
    )
    assert leg.stretch.start.station is not None
    by = Identification(changed(leg.stretch.start.station, unusable=sectors), kind, 160.0, 12.0)
    marks = tuple(Mark(by, None, None, None, (trouble,)) for trouble in (Trouble.HORIZON, Trouble.SECTOR))
    marked = changed(leg, marks=marks)
    assert [(one.leg, one.message) for one in unusable_sector.check(changed(case, marked=(marked,)))] == [
        (marked, f"{words} is unusable on radials 155-170 below 5000 ft; radial 160 is used")
    ]


def test_a_sector_of_the_dme_alone_leaves_the_radial_that_is_flown() -> None:
    case = case_of("route QHB V801 QEL", "-direct QHB", "-direct QEL")
    leg = case.legs[0]
    guidance = leg.part.guidance
    assert guidance is not None
    sectors = (Sector(200.0, 220.0, of="dme"), Sector(205.0, 220.0, of="both"))
    station = changed(guidance.station, unusable=sectors)
    flown = changed(leg, part=changed(leg.part, guidance=changed(guidance, station=station)))
    assert [(one.leg, one.message) for one in unusable_sector.check(changed(case, legs=(flown,)))] == [
        (flown, "QHB is unusable on radials 205-220; radial 212 is used")
    ]
