"""What the rules on minimum and maximum altitudes tell, whole.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Numbers are worked
beside the lines from what the flight states.
"""

from __future__ import annotations

import pytest
from helpers.judged import case_of, table, told_of

from navlog.nav.chart import CrossingAltitude
from navlog.nav.record import changed
from navlog.rules.altitudes import under_mca
from navlog.rules.registry import Found, Severity

_TOLD = """\
under-mea: altitude 2300 | rules ifr | route XHAR QHB V801 QEL XOLD
    error leg 2 16:21 2300 ft is below the MEA of 3000 ft on V801 [by 700.0]
    error leg 3 16:21 2300 ft is below the MEA of 3000 ft on V801 [by 700.0]
under-mea: altitude 2500 | rules ifr | route XHAR QHB V801 QEL XOLD
    note leg 2 16:21 2500 ft is below the MEA of 3000 ft on V801: the MOCA of 2400 ft is relied on, which holds within 22 NM of the VOR while its signal is there [by 500.0]
    note leg 3 16:21 2500 ft is below the MEA of 3000 ft on V801: the MOCA of 2400 ft is relied on, which holds within 22 NM of the VOR while its signal is there [by 500.0]
under-mea: altitude 2500 | route XHAR QHB V801 QEL XOLD
under-mea: altitude 2500 | route XHAR QHB V801 QEL XOLD | airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 cop 11 QHB
    note leg 2 16:21 2500 ft is below the MEA of 3000 ft on V801: neither reception nor, with no MOCA given, clearance of the terrain is assured [by 500.0]
    note leg 3 16:21 2500 ft is below the MEA of 3000 ft on V801: neither reception nor, with no MOCA given, clearance of the terrain is assured [by 500.0]
under-mea: altitude 2500 | route XHAR QHB V801 QEL XOLD | airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 cop 5 QHB
    note leg 3 16:21 2500 ft is below the MEA of 3000 ft on V801: farther than 22 NM from the VOR reception is not assured [by 500.0]
under-mea: altitude 2300 | route XHAR QHB V801 QEL XOLD | airway V801 QHB 212 - 034 QEL 29.5nm moca 2400 cop 11 QHB
    warning leg 2 16:21 2300 ft is below the MOCA of 2400 ft on V801, no MEA given: clearance of the terrain is not assured [by 100.0]
    warning leg 3 16:21 2300 ft is below the MOCA of 2400 ft on V801, no MEA given: clearance of the terrain is not assured [by 100.0]
under-mea: altitude 2300 | rules ifr | route XHAR QHB V801 QEL XOLD | airway V801 QHB 212 - 034 QEL 29.5nm moca 2400 cop 11 QHB
    error leg 2 16:21 2300 ft is below the MOCA of 2400 ft on V801, no MEA given: clearance of the terrain is not assured [by 100.0]
    error leg 3 16:21 2300 ft is below the MOCA of 2400 ft on V801, no MEA given: clearance of the terrain is not assured [by 100.0]
# 29.5 - 5 = 24.5 NM from QEL, 2.5 beyond 22.
moca-range: altitude 2500 | rules ifr | route XHAR QHB V801 QEL XOLD | airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 cop 5 QHB
    error leg 3 16:21 2500 ft is below the MEA of 3000 ft, 2.5 NM of it farther than 22 NM from the VOR [by 2.5]
under-mra: station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft | station QTT 113.00 N46 00.00 W040 10.00 decl 14W class L dme elev 150ft | fix MARSH N46 04.00 W039 24.23 mra 6000 | airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000 | route XHAR QHB V801 QEL XOLD | rules ifr
    error leg 2 16:16 MARSH is reached at 4500 ft, below its MRA of 6000 ft: QSK and QTT may not be received [by 1500.0]
# 1013.25 to 980 hPa are 920.4 ft in the standard atmosphere: 5000 - 920 = 4080.
under-mra: station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft | fix MARSH N46 04.00 W039 24.23 mra 6000 | airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000 | route XHAR QHB V801 QEL XOLD | altitude FL050 | altimeter 980hPa | rules ifr
    error leg 2 16:16 MARSH is reached at 4080 ft (FL050 at 980 hPa), below its MRA of 6000 ft: QSK may not be received [by 1920.4]
under-mca: altitude FL050 | altimeter 980hPa | airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 mca 5000 QHB to QEL | rules ifr
    error leg 2 16:21 QHB is crossed at 4080 ft (FL050 at 980 hPa), below the MCA of 5000 ft toward QEL [by 920.4]
# 1040 hPa lie 723 ft above 1013.25.
over-maa: rules ifr | altitude FL050 | altimeter 1040hPa | airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 maa 5000
    error leg 2 16:21 5723 ft (FL050 at 1040 hPa) is above the MAA of 5000 ft [by 722.9]
    error leg 3 16:21 5723 ft (FL050 at 1040 hPa) is above the MAA of 5000 ft [by 722.9]
under-minimum: direct QHB - XHAR 9.6nm min 5500 | rules ifr
    error leg 1 16:12 4500 ft is below the stated minimum of 5500 ft [by 1000.0]
under-ground: altitude 700 | route XHAR QHB V801 QEL XOLD
    error leg 1 16:12 700 ft is below XHAR, elevation 790 ft
    error leg 1 16:12 700 ft is below QHB, elevation 820 ft
# Without a VOR in use, or with one of whose distance nothing is known, no part is within 22 NM; 24 - 22 = 2 of the first.
moca-range: station QHB 113.70 | station QEL 110.20 kind dme | variation 13W | -direct QHB | -direct QEL | airway V801 QHB 212 - QEL 29.5nm mea 3000 moca 2400 | altitude 2500 | rules ifr | unavailable QHB | route QHB V801 QEL
    error leg 1 14:16 2500 ft is below the MEA of 3000 ft and no VOR is in use [by 500.0]
moca-range: station QHB 113.70 | station QEL 110.20 | variation 13W | -direct QHB | -direct QEL | airway V801 QHB 212 - MARSH 24nm mea 3000 moca 2400 - 032 QEL 5.5nm mea 3000 moca 2400 cop 3 QEL | fix MARSH QHB 212 24nm | altitude 2500 | rules ifr | route QHB V801 QEL
    error leg 1 14:11 2500 ft is below the MEA of 3000 ft, 2.0 NM of it farther than 22 NM from the VOR [by 2.0]
    error leg 2 14:16 2500 ft is below the MEA of 3000 ft and how far QHB is from the leg is not known [by 500.0]
# The first end is a place without an elevation.
under-ground: altitude 300 | route 4600N03930W QEL XOLD | -airway V801
    error leg 1 15:19 300 ft is below QEL, elevation 410 ft
    error leg 2 15:23 300 ft is below XOLD, elevation 350 ft
# Level at 2,000 ft to MARSH, then a climb that begins too low: under VFR only what is flown level is told.
under-mea: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | altitude 2000 | rules ifr | fix MARSH N46 04.00 W039 24.23 | airway V801 QHB 212 - MARSH 8.9nm moca 2400 - 034 QEL 20.9nm moca 2400 | route QHB V801 MARSH/A035 V801 QEL
    error leg 1 13:16 2000 ft is below the MOCA of 2400 ft on V801, no MEA given: clearance of the terrain is not assured [by 400.0]
    error leg 2 13:32 2000 ft is below the MOCA of 2400 ft on V801, no MEA given: clearance of the terrain is not assured [by 400.0]
under-mea: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | altitude 2000 | rules vfr | fix MARSH N46 04.00 W039 24.23 | airway V801 QHB 212 - MARSH 8.9nm moca 2400 - 034 QEL 20.9nm moca 2400 | route QHB V801 MARSH/A035 V801 QEL
    warning leg 1 13:16 2000 ft is below the MOCA of 2400 ft on V801, no MEA given: clearance of the terrain is not assured [by 400.0]
# Above the MEA up to MARSH; the changeover point lies 5 of 29.5 NM before QEL: QHB is used from MARSH to 24.5 NM.
moca-range: fix MARSH N46 04.00 W039 24.23 | airway V801 QHB 212 - MARSH 8.9nm mea 2400 moca 2000 - 034 QEL 20.9nm mea 3000 moca 2400 cop 5 QEL | altitude 2500 | rules ifr | route QHB V801 MARSH V801 QEL
    error leg 2 16:27 2500 ft is below the MEA of 3000 ft, 2.5 NM of it farther than 22 NM from the VOR [by 2.5]
# Down from 4,500 ft at MARSH, 24.3 NM from QEL, to 2,500 ft in 6.3 NM: at 22 NM it is 4500 - 2000 x 2.3 / 6.3 = 3770 ft.
moca-range: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | fix MARSH N46 07.30 W039 22.70 | airway V801 QHB 212 - MARSH 5.2nm mea 3000 moca 2400 cop 5 QHB - 034 QEL 24.3nm mea 3000 moca 2400 | altitude 4500 | rules ifr | route QHB V801 MARSH/A025 V801 QEL
under-mea: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | fix MARSH N46 07.30 W039 22.70 | airway V801 QHB 212 - MARSH 5.2nm mea 3000 moca 2400 cop 5 QHB - 034 QEL 24.3nm mea 3000 moca 2400 | altitude 4500 | rules ifr | route QHB V801 MARSH/A025 V801 QEL
    note leg 3 13:32 2500 ft is below the MEA of 3000 ft on V801: the MOCA of 2400 ft is relied on, which holds within 22 NM of the VOR while its signal is there [by 500.0]
    note leg 4 13:32 2500 ft is below the MEA of 3000 ft on V801: the MOCA of 2400 ft is relied on, which holds within 22 NM of the VOR while its signal is there [by 500.0]
# The route passes QHB at 4,500 ft; the 6,000 ft of the way to the alternate begin there.
under-mca: alternate QHB via V801 QEL XOLD at 6000 | route XHAR QHB XHAR | airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 mca 5000 QHB to QEL
    warning alternate XOLD leg 1 17:24 QHB is crossed at 4500 ft, below the MCA of 5000 ft toward QEL [by 500.0]
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_altitudes_and_heights(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told


@pytest.mark.parametrize(("turning", "kind"), [(True, "MTA"), (False, "MCA")])
def test_a_minimum_for_turning_is_told_as_such(turning: bool, kind: str) -> None:
    case = case_of()
    first, along, *rest = case.first_legs
    crossing = CrossingAltitude(5000.0, "QHB", "QEL", turning)
    limits = changed(along.stretch.limits, crossings_start=(crossing,))
    over = changed(along, stretch=changed(along.stretch, limits=limits))
    assert list(under_mca.check(changed(case, first_legs=(first, over, *rest)))) == [
        Found(
            f"QHB is crossed at 4500 ft, below the {kind} of 5000 ft toward QEL", over, Severity.WARNING, by=5000 - 4500
        )
    ]
