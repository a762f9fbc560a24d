"""What the rules tell of flights worked by hand: severity, leg, place in the file, message and amount.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Places are counted
in the flight's text, numbers are worked beside the lines from what it states.
"""

from __future__ import annotations

import pytest
from helpers.judged import judged, lines, table

# Lines that begin with # say where a number comes from.
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
# (1013.25 - 980) hPa are 919.6 ft in the standard atmosphere: 5000 - 920 = 4080.
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
moca-over-mea: airway V801 QHB 212 - 034 QEL 29.5nm mea 2400 moca 2401
    warning leg 2 16:21 MOCA 2401 is over MEA 2400 on V801
minimum-unknown: -direct QHB | -direct QEL | rules ifr | route XHAR QHB DCT QEL XOLD | -airway V801
    warning leg 2 13:20 no minimum altitude is known for the 29.5 NM from QHB to QEL, and terrain is not looked at
    note leg 1 13:12 no minimum altitude is known from XHAR to QHB and QEL to XOLD
level-without-altimeter: altitude FL085 | -direct QHB | airway V801 QHB 212 - 034 QEL 29.5nm mea 3000
    warning leg 2 15:21 a flight level is a pressure altitude; the height above the MEA is not known
level-without-altimeter: altitude FL085 | -direct QHB | airway V801 QHB 212 - 034 QEL 29.5nm moca 3000
    warning leg 2 15:21 a flight level is a pressure altitude; the height above the MOCA is not known
level-without-altimeter: altitude FL085 | -direct QHB | -direct QEL | airway V801 QHB 212 - 034 QEL 29.5nm maa 17500
    warning leg 2 14:21 a flight level is a pressure altitude; the height above the MAA is not known
level-without-altimeter: altitude FL085 | -direct QHB | -direct QEL | airway V801 QHB 212 - 034 QEL 29.5nm mca 5000 QHB to QEL
    warning leg 2 14:21 a flight level is a pressure altitude; the height above the crossing altitude is not known
level-without-altimeter: altitude FL085 | -direct QHB | -direct QEL | station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft | fix MARSH N46 04.00 W039 24.23 mra 6000 | airway V801 QHB 212 - MARSH 8.9nm - 034 QEL 20.9nm
    warning leg 2 14:16 a flight level is a pressure altitude; the height above the MRA is not known
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
radial-reversed: airway V801 QHB 032 - 034 QEL 29.5nm mea 3000 cop 11 QHB
    error leg 2 16:21 QHB 032 is the inbound course, not the radial: the radial is 212
radial-reversed: station QHB 113.70 | station QEL 110.20 | variation 13W | -direct QHB | -direct QEL | route QHB V801 QEL | airway V801 QHB 212 - 212 QEL 29.5nm mea 3000 cop 11 QHB
    error leg 1 14:16 outbound 212 and inbound 212 are the same radial twice: one of them is the inbound course, not the radial
radial-reversed: -airway V801 | -direct QHB | -direct QEL | direct XHAR - XOLD 34.7nm course 015T | route XHAR XOLD
    error leg 1 13:12 course 015T leads back: the leg's true course is 195
# 212 - 052 = 160 degrees, from where a radial is taken as turned round.
radial-reversed: station QHB 113.70 | station QEL 110.20 | variation 13W | -direct QHB | -direct QEL | fix MARSH QHB 212 8.9nm | airway V801 QHB 052 - MARSH 8.9nm mea 3000 - 032 QEL 20.9nm mea 3000 | route QHB V801 QEL
    error leg 1 14:11 QHB 052 is the inbound course, not the radial: MARSH is defined on 212
    error leg 2 14:16 QHB 052 is the inbound course, not the radial: MARSH is defined on 212
radial-reversed: station QHB 113.70 | station QEL 110.20 | variation 13W | -direct QHB | -direct QEL | fix MARSH QHB 212 8.9nm | airway V801 QHB 051 - MARSH 8.9nm mea 3000 - 032 QEL 20.9nm mea 3000 | route QHB V801 QEL
    error leg 1 14:11 QHB 051 is the inbound course, not the radial: MARSH is defined on 212
    error leg 1 14:11 outbound 051 and inbound 032 are the same radial twice: one of them is the inbound course, not the radial
    error leg 2 14:16 QHB 051 is the inbound course, not the radial: MARSH is defined on 212
radial-differs: airway V801 QHB 219 - 034 QEL 29.5nm mea 3000 cop 11 QHB
    error leg 2 16:21 QHB 219 is charted and 212 computed: 7.0 degrees apart
radial-differs: airway V801 QHB 205 - 034 QEL 29.5nm mea 3000 cop 11 QHB
    error leg 2 16:21 QHB 205 is charted and 212 computed: 7.0 degrees apart
radial-differs: airway V801 QHB 216 - 034 QEL 29.5nm mea 3000 cop 11 QHB
    warning leg 2 16:21 QHB 216 is charted and 212 computed: 4.0 degrees apart
radial-differs: fix MARSH QHB 212 8.9nm | airway V801 QHB 218 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000
    error leg 2 16:16 QHB 218 is charted and 212 computed: 6.0 degrees apart
    error leg 3 16:21 QHB 218 is charted and 212 computed: 6.0 degrees apart
radial-differs: fix MARSH QHB 212 8.9nm | airway V801 QHB 219 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000
    error leg 2 16:16 QHB 219 is charted and 212 computed: 7.0 degrees apart
    error leg 3 16:21 QHB 219 is charted and 212 computed: 7.0 degrees apart
radial-differs: fix MARSH QHB 212 8.9nm | airway V801 QHB 215 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000
    warning leg 2 16:16 QHB 215 is charted and 212 computed: 3.0 degrees apart
    warning leg 3 16:21 QHB 215 is charted and 212 computed: 3.0 degrees apart
radial-differs: station QHB 113.70 | station QEL 110.20 | variation 13W | -direct QHB | -direct QEL | fix MARSH QHB 212 8.9nm | airway V801 QHB 218 - MARSH 8.9nm mea 3000 - 032 QEL 20.9nm mea 3000 | route QHB V801 QEL
    warning leg 1 14:11 QHB 218 is charted and MARSH is defined on 212: 6.0 degrees apart
    warning leg 2 14:16 QHB 218 is charted and MARSH is defined on 212: 6.0 degrees apart
radial-differs: station QHB 113.70 | station QEL 110.20 | variation 13W | -direct QHB | -direct QEL | fix MARSH QHB 212 8.9nm | airway V801 QHB 219 - MARSH 8.9nm mea 3000 - 032 QEL 20.9nm mea 3000 | route QHB V801 QEL
    error leg 1 14:11 QHB 219 is charted and MARSH is defined on 212: 7.0 degrees apart
    error leg 2 14:16 QHB 219 is charted and MARSH is defined on 212: 7.0 degrees apart
radial-differs: station QHB 113.70 | station QEL 110.20 | variation 13W | -direct QHB | -direct QEL | fix MARSH QHB 212 8.9nm | airway V801 QHB 052 - MARSH 8.9nm mea 3000 - 032 QEL 20.9nm mea 3000 | route QHB V801 QEL
radial-differs: station QHB 113.70 | station QEL 110.20 | variation 13W | -direct QHB | -direct QEL | fix MARSH QHB 212 8.9nm | airway V801 QHB 215 - MARSH 8.9nm mea 3000 - 032 QEL 20.9nm mea 3000 | route QHB V801 QEL
distance-differs: airway V801 QHB 212 - 034 QEL 35nm mea 3000 cop 11 QHB
    error leg 2 16:21 QHB to QEL is charted 35.0 NM and computed 29.5 NM; the longer is flown
digits-transposed: airway V801 QHB 221 - 034 QEL 29.5nm mea 3000 cop 11 QHB
    warning leg 2 16:21 QHB 221 is charted: is 212 meant?
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
# 14 CFR 91.171(a)(2): within the preceding 30 days; 17 June is 31 days before 18 July, 18 June 30.
vor-check: rules ifr | vor-check 2026-06-17 XHAR ground +1
    warning flight 18:1 the check of the VOR receivers of 2026-06-17 is 31 days before the flight and counts through 2026-07-17
vor-check: rules ifr | vor-check 2026-06-18 XHAR ground +1 | equipment vor 1 dme 1
vor-check: rules ifr | vor-check 2026-07-19 XHAR ground +1 | equipment vor 1 dme 1
    warning flight 18:1 the check of the VOR receivers of 2026-07-19 is of a later day than the flight
vor-check: rules ifr | vor-check 2026-07-04 XHAR ground +1 | equipment vor 2 dme 1
    warning flight 18:1 the check of the VOR receivers of 2026-07-04 tells 1 error of 2 receivers: use no receiver that was not checked
vor-check-error: vor-check 2026-07-04 XHAR ground +4 -5
    warning flight 17:1 receiver 2 error -5 degrees at XHAR, at most 4 (ground checkpoint, 14 CFR 91.171(b)(2)) [by 1.0]
poor-cut: fix ROSKO QHB 160 x QEL 045 | route XHAR QHB ROSKO QEL/A055 XOLD
short-leg: fix LAKER N46 10.80 W039 21.60 | route XHAR QHB LAKER QEL/A055 XOLD
    warning leg 2 16:16 QHB and LAKER are 1.6 NM apart, 59 s
short-leg: fix LAKER N46 11.00 W039 19.50 | route XHAR QHB LAKER QEL/A055 XOLD | -wind
    warning leg 2 15:16 QHB and LAKER are 1.5 NM apart
short-leg: fix LAKER N46 10.80 W039 21.60 | route XHAR QHB LAKER V801 QEL/A055 XOLD | airway V801 QHB 212 - LAKER 1.6nm - 034 QEL 27.9nm
    warning leg 2 16:16 QHB and LAKER are 1.6 NM apart, 59 s
unflyable-wind: wind 120/150
    error leg 2 16:21 impossible at 110 kt: the crosswind of 146 kt is more than the TAS of 110 kt
    error leg 3 16:21 impossible at 110 kt: the crosswind of 146 kt is more than the TAS of 110 kt
    error leg 4 16:30 impossible at 110 kt: the headwind of 147 kt leaves no groundspeed at a TAS of 110 kt
# 6501 - 4500 = 2001.
wind-beyond-heights: wind 6501 230/12 9000 240/18 | route XHAR QHB V801 QEL XOLD
    warning leg 1 16:12 the nearest wind is 2001 ft away in height
wind-beyond-heights: wind 6500 230/12 9000 240/18 | route XHAR QHB V801 QEL XOLD
wind-far: wind at 4000N03920W 230/12
    error leg 1 16:12 the nearest wind is that at 4000N03920W, 375 NM from XHAR
# 45 min at 8.5 gal/h are 6.375 gal, less the 2.96 left.
reserve: fuel 8gal | rules ifr
    error leg 4 16:30 2.9 gal left at XOLD, and the reserve is 45 min, 6.4 gal (14 CFR 91.167) [by 3.4]
reserve: fuel 8gal | reserve 20min
    error leg 4 16:30 2.9 gal left at XOLD, and the reserve is 30 min, 4.3 gal by 14 CFR 91.151 day, whatever `reserve` states [by 1.3]
reserve: fuel 8gal | rules vfr night
    error leg 4 16:30 2.9 gal left at XOLD, and the reserve is 45 min, 6.4 gal (14 CFR 91.151, night as stated by `rules vfr night`) [by 3.4]
reserve-under-rule: reserve 44.5min | rules ifr
    warning flight 17:1 the stated reserve of 44.5 min is under the 45 min of 14 CFR 91.167
reserve-under-rule: reserve 30min | rules vfr night
    warning flight 17:1 the stated reserve of 30 min is under the 45 min of 14 CFR 91.151 night
fuel-over-usable: aircraft climber.toml | -tas | -burn | airport XFLD N45 44.10 W039 33.00 elev 400ft | -direct QEL | route XHAR QHB XFLD land 30min fuel 41gal XHAR
    error leg 3 13:16 41.0 gal of fuel at XFLD is more than the aircraft file's usable 40.0 gal
dark-arrival: rules vfr | reserve 30min | off 23:30Z
    warning leg 4 16:30 XOLD at 23:59Z is by night (civil twilight ended 22:57Z, begins 06:30Z+1): the reserve is 30 min, not 45
# For use from 14:00Z to 21:00Z; the flight takes 32 min.
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | off 13:59Z
    warning flight 15:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 13:59Z to 14:31Z on 2026-07-18
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | off 14:00Z
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | off 21:01Z
    error flight 15:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 21:01Z to 21:33Z on 2026-07-18
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | off 21:00Z
    warning flight 15:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 21:00Z to 21:32Z on 2026-07-18
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | off 20:50Z
    warning flight 15:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 20:50Z to 21:22Z on 2026-07-18
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | date 2026-07-21
    error flight 15:1 winds.txt is of day 18, 2026-07-18 with the month taken from the flight, and the flight is on 2026-07-21
temperature-not-used: temperature 21C
    note flight 17:1 without an aircraft file speed and burn are as stated, whatever the temperature
temperature-not-used: aircraft climber.toml | -tas | -burn | temperature 21C | airport XHAR N46 14.50 W039 07.20
    note flight 16:1 the elevation of XHAR is not known
climb-left-out: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | airport XHAR N46 14.50 W039 07.20
    warning leg 1 13:12 the climb at XHAR is left out: the elevation of XHAR is not known
climb-left-out: aircraft climber.toml | -tas | -burn | wind 250/90
    error leg 1 14:12 the climb at XHAR is left out: its speed is too low for the wind
    error leg 4 14:30 the descent at XOLD is left out: its speed is too low for the wind
arrival-height: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | rules vfr | route XHAR QHB V801 QEL XOLD | pattern 300ft
    error leg 5 13:25 XOLD is reached at 300 ft, below the field at 350 ft
arrival-height: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | rules vfr | route XHAR QHB V801 QEL XOLD | pattern 1150ft | airport XOLD N45 41.00 W039 20.00 elev 4000ft
    error leg 5 13:25 XOLD is reached at 1150 ft, below the field at 4000 ft
climb-in-hold: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | hold QEL until 3000ft
    note flight 16:1 no climb in the hold at QEL to 3000 is flown: the flight is that high already, or on its last descent
climb-in-hold: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | -winds | hold QHB until 5500ft
    note flight 15:1 no climb in the hold at QHB to 5500 is flown: a leg has no wind or no course
contingency-short: contingency 5% | fuel 9.3gal | extra 1gal
    warning flight 1:1 1.4 gal short of what the flight wants to have at its last landing
# More than two printed steps of 0.1 below the 32.96 left.
fuel-drops: route XHAR QHB V801 QEL/A055 XOLD land 45min fuel 32.7gal XHAR | fuel 38gal
    warning leg 4 16:30 32.7 gal at the take-off from XOLD, and 32.9 gal are left on landing
fuel-drops: route XHAR QHB V801 QEL/A055 XOLD land 45min fuel 32.8gal XHAR | fuel 38gal
stated-unused: route XHAR QHB V801 QEL | pattern 1350ft | -direct QEL
    note flight 16:1 the flight ends at QEL, no airport, so that no pattern is joined
stated-unused: route XHAR QHB V801 QEL QHB XHAR | hold QHB 5min | -direct QEL
    note flight 16:6 the hold at QHB is flown at the first of 2 passages alone
stated-unused: route XHAR QHB V801 QEL QHB V801 QEL QHB XHAR | hold QHB 5min | -direct QEL
    note flight 16:6 the hold at QHB is flown at the first of 3 passages alone
# 14 CFR 91.211(a): 12600 - 12500.
oxygen: altitude 12600 | wind 12500 230/12 | route XHAR QHB V801 QEL XOLD | tas 50kt
    warning leg 1 16:12 70 min above 12500 ft up to 14000: oxygen for the crew after 30 min; the cabin counted as not pressurised [by 100.0]
oxygen: altitude 14500 | wind 12500 230/12 | route XHAR QHB V801 QEL XOLD
    warning leg 1 16:12 29 min above 14000 ft: oxygen for the crew all that time; the cabin counted as not pressurised [by 2000.0]
oxygen: altitude 15500 | wind 15500 230/12 | route XHAR QHB V801 QEL XOLD | -wind
    warning leg 1 15:12 a time that is not known above 12500 ft up to 14000: oxygen for the crew after 30 min, a time that is not known above 14000 ft: oxygen for the crew all that time, a time that is not known above 15000 ft: oxygen for everyone aboard; the cabin counted as not pressurised [by 3000.0]
compass-card-silent: aircraft half_card.toml
    warning leg 1 16:12 the compass card says nothing near 267
    warning leg 2 16:21 the compass card says nothing near 213
    warning leg 3 16:21 the compass card says nothing near 213
    warning leg 4 16:30 the compass card says nothing near 127
needle-off-course: -airway V801 | -direct QHB | -direct QEL | direct XHAR - XOLD 34.7nm course 210T | route XHAR XOLD
    error leg 1 13:12 course 210T is stated and the leg's true course is 195
radials-bent: station QHB 113.70 | station QEL 110.20 | station QSK 112.40 | variation 13W | -direct QHB | -direct QEL | -airway V801 | direct QHB 212 - 032 QEL 29.5nm | direct QEL 100 - 250 QSK 20nm | route QHB QEL QSK
    error leg 3 13:15 outbound 100 and inbound 250 do not lie on one line
# 212 - 15 = 197, 044 - 14 + 180 = 210.
radials-bent: station QHB 113.70 decl 15W | station QEL 110.20 decl 14W | variation 13W | -direct QHB | -direct QEL | -airway V801 | direct QHB 212 - 044 QEL 29.5nm | route QHB QEL
    error leg 1 13:11 outbound QHB 212 (15W) is 197 true and inbound QEL 044 (14W) is 210 true: they do not lie on one line
# 29.5 - 20 = 9.5 NM.
loop-open: station QHB 113.70 | station QEL 110.20 | station QSK 112.40 | variation 13W | -direct QHB | -direct QEL | airway V801 QHB 212 - 032 QEL 29.5nm | direct QHB 212 - 032 QEL 20nm | route QHB V801 QEL QHB
    warning leg 4 14:20 the courses and distances from QHB by QEL back to QHB, 49.5 NM, end 9.5 NM 199 true of it [by 9.5]
no-guidance: -airway V801 | -direct QHB | -direct QEL | route XHAR XOLD | -wind
    warning leg 1 12:12 dead reckoning for 34.7 NM of XHAR to XOLD: no station's radial leads along this part [by 34.7]
# 6.9 - 2.5 = 4.4 is under 6.4.
alternate-reserve: alternate XHAR | fuel 12gal | rules ifr
    error leg 4 16:30 6.9 gal left at XOLD and 2.5 gal to XHAR break the reserve of 45 min, 6.4 gal (14 CFR 91.167)
alternate-reserve: alternate XHAR from QEL | fuel 10gal | rules ifr
    error leg 3 16:21 5.6 gal left at QEL and 2.5 gal to XHAR break the reserve of 45 min, 6.4 gal (14 CFR 91.167)
notice-not-understood: notices notices.txt
    warning flight 2:1 !XHA 07/001 names QHB; what it says of the station is not known: !XHA 07/001 QHB NAV VOR BAFFLED 2607181200-PERM [apart]
under-ground: altitude 700 | route XHAR QHB V801 QEL XOLD
    error leg 1 16:12 700 ft is below XHAR, elevation 790 ft
    error leg 1 16:12 700 ft is below QHB, elevation 820 ft
airway-joins: airway V802 QHB 212 - 034 QEL 29.5nm mea 3000 | route XHAR QHB QEL XOLD
    note leg 2 16:16 V801 and V802 join QHB and QEL; direct is planned
fuel-below-zero: fuel 4gal | route XHAR QHB V801 QEL/A055 XOLD land 45min fuel 2gal XHAR
    error leg 3 16:21 the fuel runs out before QEL
    error leg 5 16:56 the fuel runs out before XHAR
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_a_rule_tells_of_a_flight(flight: str, told: list[str]) -> None:
    rule, _, changed = flight.partition(": ")
    assert lines(rule, judged(*changed.split(" | "))) == told
