"""Radials that do not fit, told whole: each flight's figures are worked beside it from what it states.

The limits are those that `rules/needle.py` gives with their sources.
"""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

_BETWEEN = "-direct QHB | -direct QEL | variation 13W | "
"""What the chart alone says of the way between stations begins with this; `~` stands for it."""

_TOLD = """\
# In on 032, so on course 212, and out on 121: 91 degrees. On 122, by 90, nothing.
radials-bent: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - 032 QMM 20nm 121 - 301 QEL 20nm | route QHB V801 QMM V801 QEL
    warning leg 3 14:25 V801 turns by 91 degrees at QMM (QMM 032 inbound, QMM 121 outbound): is one of the radials the inbound course?
radials-bent: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - 032 QMM 20nm 122 - 302 QEL 20nm | route QHB V801 QMM V801 QEL
# The same turn by 131 degrees from one airway to another, or with none, is the pilot's own.
radials-bent: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - 032 QMM 20nm | airway V802 QMM 081 - 261 QEL 20nm | route QHB V801 QMM V802 QEL
radials-bent: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | -airway V801 | direct QHB 212 - 032 QMM 20nm | direct QMM 081 - 261 QEL 20nm | route QHB QMM QEL
# A bend charted at LAKER: 123 + 180 = 303, 91 from 212; 302 is 90 from it. No north is known, so no course at LAKER.
radials-bent: ~station QHB 113.70 | station QEL 110.20 | fix LAKER QHB 212 12nm | airway V801 QHB 212 - LAKER 12nm turn - 123 QEL 17.5nm | route QHB V801 QEL
    warning leg 1 14:11 outbound 212 and inbound 123 are a turn of 91 degrees: is one of them the inbound course?
radials-bent: ~station QHB 113.70 | station QEL 110.20 | fix LAKER QHB 212 12nm | airway V801 QHB 212 - LAKER 12nm turn - 122 QEL 17.5nm | route QHB V801 QEL
# With both norths the courses at LAKER are known: 212 - 15 = 197 and 303 - 15 = 288. One slip is told once.
radials-bent: ~station QHB 113.70 decl 15W | station QEL 110.20 decl 15W | fix LAKER QHB 212 12nm | airway V801 QHB 212 - LAKER 12nm turn - 123 QEL 17.5nm | route QHB V801 QEL
    warning leg 2 14:16 V801 turns by 91 degrees at LAKER (arriving at LAKER, leaving it for QEL): is one of the radials the inbound course?
# 183 + 180 = 003 is 151 from 212: no airway bends so far at one point, at two it may.
radials-bent: ~station QHB 113.70 | station QEL 110.20 | fix LAKER QHB 212 12nm | airway V801 QHB 212 - LAKER 12nm turn - 183 QEL 17.5nm | route QHB V801 QEL
radial-reversed: ~station QHB 113.70 | station QEL 110.20 | fix LAKER QHB 212 12nm | airway V801 QHB 212 - LAKER 12nm turn - 183 QEL 17.5nm | route QHB V801 QEL
    error leg 1 14:11 outbound 212 and inbound 183 are the same radial twice: one of them is the inbound course, not the radial
radials-bent: ~station QHB 113.70 | station QEL 110.20 | fix LAKER QHB 212 12nm | fix MOORE QHB 200 15nm | airway V801 QHB 212 - LAKER 12nm turn - MOORE 10nm turn - 183 QEL 17.5nm | route QHB V801 QEL
    warning leg 1 14:11 outbound 212 and inbound 183 are a turn of 151 degrees: is one of them the inbound course?
radial-reversed: ~station QHB 113.70 | station QEL 110.20 | fix LAKER QHB 212 12nm | fix MOORE QHB 200 15nm | airway V801 QHB 212 - LAKER 12nm turn - MOORE 10nm turn - 183 QEL 17.5nm | route QHB V801 QEL
# Due south to LAKER. By positions throughout, a turn of 126 degrees, no radial is doubted; QSK by the chart alone: 269 + 180 = 089, 91 from 180.
radials-bent: ~fix UPPER N46 00.00 W039 00.00 | fix LAKER N45 30.00 W039 00.00 | fix MOORE N45 40.00 W038 40.00 | airway V801 UPPER - LAKER 30nm - MOORE 17.2nm | route UPPER V801 LAKER V801 MOORE
radials-bent: ~fix UPPER N46 00.00 W039 00.00 | fix LAKER N45 30.00 W039 00.00 | station QSK 112.40 decl 0E | airway V801 UPPER - LAKER 30nm - 269 QSK 30nm | route UPPER V801 LAKER V801 QSK
    warning leg 2 14:29 V801 turns by 91 degrees at LAKER (arriving at LAKER, leaving it for QSK): is one of the radials the inbound course?
radials-bent: ~fix UPPER N46 00.00 W039 00.00 | fix LAKER N45 30.00 W039 00.00 | station QSK 112.40 decl 0E | airway V801 UPPER - LAKER 30nm - 210 QSK 30nm | route UPPER V801 LAKER V801 QSK
    warning leg 2 14:29 V801 turns by 150 degrees at LAKER (arriving at LAKER, leaving it for QSK): is one of the radials the inbound course?
radial-reversed: ~fix UPPER N46 00.00 W039 00.00 | fix LAKER N45 30.00 W039 00.00 | station QSK 112.40 decl 0E | airway V801 UPPER - LAKER 30nm - 209 QSK 30nm | route UPPER V801 LAKER V801 QSK
    error leg 2 14:29 V801 turns by 151 degrees at LAKER (arriving at LAKER, leaving it for QSK): one of the radials is the inbound course, not the radial
# 053 + 180 = 233 is 21 from 212; the north of the one stands in for the other's, whichever it is.
radials-bent: -direct QHB | -direct QEL | station QHB 113.70 | station QEL 110.20 decl 15W | airway V801 QHB 212 - 053 QEL 29.5nm | route QHB V801 QEL
    error leg 1 14:16 outbound 212 and inbound 053 do not lie on one line
radials-bent: -direct QHB | -direct QEL | station QHB 113.70 decl 15W | station QEL 110.20 | airway V801 QHB 212 - 053 QEL 29.5nm | route QHB V801 QEL
    error leg 1 14:16 outbound 212 and inbound 053 do not lie on one line
# The stated 13W before the other's north: 212 - 15 = 197, 051 - 13 + 180 = 218. Beside true north no north is guessed.
radials-bent: ~station QHB 113.70 decl 15W | station QEL 110.20 | airway V801 QHB 212 - 051 QEL 29.5nm | route QHB V801 QEL
    error leg 1 14:16 outbound 212 and inbound 051 do not lie on one line
radials-bent: ~station QHB 113.70 decl 15W | station QEL 110.20 | airway V801 QHB 212 - 050 QEL 29.5nm | route QHB V801 QEL
radials-bent: -direct QHB | -direct QEL | station QHB 113.70 decl true | station QEL 110.20 | airway V801 QHB 212 - 100 QEL 29.5nm | route QHB V801 QEL
radials-bent: -direct QHB | -direct QEL | station QHB 113.70 | station QEL 110.20 | airway V801 QHB 212 - 053 QEL 29.5nm | route QHB V801 QEL
    error leg 1 14:16 outbound 212 and inbound 053 do not lie on one line
# PINEY lies on QHB's 212 by position, 197 true, whatever is charted: 034 at 17W is 197 back, 044 is 207, 045 is 208.
radials-bent: ~station QHB 113.70 N46 12.30 W039 20.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.80 W039 25.75 | airway V801 QHB 225 - PINEY 12nm - 034 QEL 17.5nm | route QHB V801 QEL
radials-bent: ~station QHB 113.70 N46 12.30 W039 20.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.80 W039 25.75 | airway V801 QHB 225 - PINEY 12nm - 045 QEL 17.5nm | route QHB V801 QEL
    error leg 1 14:11 outbound QHB 225 (15W) is 197 true and inbound QEL 045 (17W) is 208 true: they do not lie on one line
# Charted more than 20 degrees off, the radial by position is printed.
radials-bent: ~station QHB 113.70 N46 12.30 W039 20.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.80 W039 25.75 | airway V801 QHB 240 - PINEY 12nm - 045 QEL 17.5nm | route QHB V801 QEL
    error leg 1 14:11 outbound QHB 212 (15W) is 197 true and inbound QEL 045 (17W) is 208 true: they do not lie on one line
# Both radials of QHB to QMM are 212: the turn back at QMM is the same slip.
radial-reversed: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - 212 QMM 20nm 212 - 032 QEL 20nm | route QHB V801 QMM V801 QEL
    error leg 1 14:16 outbound 212 and inbound 212 are the same radial twice: one of them is the inbound course, not the radial
radial-reversed: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - 032 QMM 20nm 032 - 032 QEL 20nm | route QHB V801 QMM V801 QEL
    error leg 3 14:25 outbound 032 and inbound 032 are the same radial twice: one of them is the inbound course, not the radial
# From PINEY due south to LAKER. 355 at 15W leads 340 true, 160 from 180, from where it is turned round; 354 leads 339.
radial-reversed: ~station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.00 W039 00.00 | fix LAKER N45 50.00 W039 00.00 | airway V801 QHB 355 - PINEY 12nm - LAKER 10nm cop 3 QEL - 017 QEL 12nm | route QHB V801 PINEY V801 LAKER
    error leg 2 14:27 QHB 355 is the inbound course, not the radial: the needle leads 340 true and the leg 180 true
needle-off-course: ~station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.00 W039 00.00 | fix LAKER N45 50.00 W039 00.00 | airway V801 QHB 355 - PINEY 12nm - LAKER 10nm cop 3 QEL - 017 QEL 12nm | route QHB V801 PINEY V801 LAKER
radial-reversed: ~station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.00 W039 00.00 | fix LAKER N45 50.00 W039 00.00 | airway V801 QHB 354 - PINEY 12nm - LAKER 10nm cop 3 QEL - 017 QEL 12nm | route PINEY V801 LAKER
needle-off-course: ~station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.00 W039 00.00 | fix LAKER N45 50.00 W039 00.00 | airway V801 QHB 354 - PINEY 12nm - LAKER 10nm cop 3 QEL - 017 QEL 12nm | route PINEY V801 LAKER
    error leg 1 14:18 354 FROM QHB leads 339 true and the leg 180 true: 159 degrees apart
# On the great circle that leaves QSK due east at 70 N, 3 and 5 degrees out: sin lat = sin 70 cos d, tan lon = tan d / cos 70.
# Four degrees out it leads 180 - asin(cos 70 / cos lat) = 180 - asin(0.34202 / 0.34823) = 101.
needle-off-course: -direct QHB | -direct QEL | fix UPPER N69 47.20 W031 17.30 | fix LAKER N69 24.50 W025 39.10 | station QSK 112.40 N70 00.00 W040 00.00 decl 0E | airway V801 QSK 090 - UPPER 180nm - LAKER 120nm | route UPPER V801 LAKER
    note leg 1 14:18 090 FROM QSK leads 090 true and the leg 101 true: the great circle turns along the leg
# Each pair of stations is looked at: 100 + 180 = 280, 68 from 212; 200 + 180 = 020, 100 from 280.
radials-bent: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - 032 QMM 20nm 212 - 100 QEL 20nm | route QHB V801 QMM V801 QEL
    error leg 3 14:25 outbound 212 and inbound 100 do not lie on one line
radials-bent: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - 100 QMM 20nm 280 - 200 QEL 20nm | route QHB V801 QMM V801 QEL
    error leg 1 14:16 outbound 212 and inbound 100 do not lie on one line
    error leg 3 14:25 outbound 280 and inbound 200 do not lie on one line
# Without the radial in to QMM no turn there is known.
radials-bent: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | airway V801 QHB 212 - QMM 20nm 032 - 212 QEL 20nm | route QHB V801 QMM V801 QEL
# 212 - 15 = 197 and 212 - 17 + 180 = 015: the turn back at MOORE is the slip that the pair has told.
radial-reversed: ~station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | fix LAKER QHB 212 6nm | fix MOORE QHB 212 12nm | airway V801 QHB 212 - LAKER 6nm - MOORE 6nm turn - 212 QEL 12nm | route QHB V801 QEL
    error leg 1 14:11 outbound 212 and inbound 212 are the same radial twice: one of them is the inbound course, not the radial
# Of the station whose radial is known by position the chart is right, so the other is wrong.
radial-reversed: ~station QHB 113.70 decl 15W | station QEL 110.20 N45 44.10 W039 33.00 decl 17W | fix LAKER N45 52.00 W039 29.50 | airway V801 QHB 034 - LAKER 21nm - 034 QEL 8.3nm | route QHB V801 QEL
    error leg 1 14:11 outbound 034 and inbound 034 are the same radial twice: QHB 034 is the inbound course, not the radial
radial-reversed: ~station QHB 113.70 N46 12.30 W039 20.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.80 W039 25.75 | airway V801 QHB 212 - PINEY 12nm - 212 QEL 17.5nm | route QHB V801 QEL
    error leg 1 14:11 outbound 212 and inbound 212 are the same radial twice: QEL 212 is the inbound course, not the radial
# In on 122, so on 302, to QHB; then 212 to QMM and back on 032, so that neither level there is judged; on 122 from QEL.
cruising-level: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | station QSK 116.00 | station QTT 117.00 | airway V801 QSK 302 - 122 QHB 20nm 212 - 032 QMM 20nm 032 - 212 QEL 20nm 122 - 302 QTT 20nm | route QSK V801 QHB V801 QMM V801 QEL V801 QTT | altitude 6000
    warning leg 1 14:16 6000 on set course 302 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
    warning leg 7 14:43 6000 on set course 122 magnetic: odd thousands plus 500 hold if more than 3000 ft above the surface, 5500 or 7500 ft (14 CFR 91.159)
# The chart's 212 at 15W leads 197 true, the stated course of the second leg 180. Of two legs as bad the first is told.
needle-off-course: ~station QHB 113.70 decl 15W | fix LAKER QHB 212 12nm | fix MOORE QHB 212 20nm | -airway V801 | direct LAKER - MOORE 8nm course 180T | direct QHB 212 - LAKER 12nm | route QHB LAKER MOORE
    error leg 2 13:17 212 FROM QHB leads 197 true and the leg 180 true: 17 degrees apart
needle-off-course: ~aircraft climber.toml | -tas | -burn | station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | fix UPPER N46 30.00 W039 00.00 | fix PINEY N46 00.00 W039 00.00 | fix LAKER N45 30.00 W039 00.00 | airway V801 QHB 212 - UPPER 12nm - PINEY 30nm - LAKER 30nm cop 3 QEL - 017 QEL 12nm | route UPPER V801 PINEY/A055 V801 LAKER
    error leg 1 12:18 212 FROM QHB leads 197 true and the leg 180 true: 17 degrees apart
    error leg 2 12:34 212 FROM QHB leads 197 true and the leg 180 true: 17 degrees apart
distance-differs: ~station QHB 113.70 | fix LAKER QHB 212 6nm | fix PINEY QHB 212 12nm | -airway V801 | direct QHB 212 - LAKER 6nm | direct LAKER - PINEY 8nm | route QHB LAKER PINEY
    error leg 2 13:17 LAKER to PINEY is charted 8.0 NM and by the points' definitions 6.0 NM; the longer is flown
# Handed over to QTT 50 NM after UPPER, the leg on QSK is at its middle 3.417 degrees out: asin(0.34202 / 0.34658) = 80.7.
needle-off-course: -direct QHB | -direct QEL | fix UPPER N69 47.20 W031 17.30 | fix LAKER N69 24.50 W025 39.10 | station QSK 112.40 N70 00.00 W040 00.00 decl 0E | station QTT 117.00 decl 0E | airway V801 QSK 090 - UPPER 180nm - LAKER 120nm cop 230 QSK - 283 QTT 100nm | route UPPER V801 LAKER
    note leg 1 14:18 090 FROM QSK leads 090 true and the leg 099 true: the great circle turns along the leg
# QHB's 355 is told as turned round; QEL's 175 set with TO, 355 at 17W, leads 338.
needle-off-course: ~station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | fix PINEY N46 00.00 W039 00.00 | fix LAKER N45 50.00 W039 00.00 | airway V801 QHB 355 - PINEY 12nm - LAKER 10nm - 175 QEL 12nm | route PINEY V801 LAKER
    error leg 2 14:18 355 TO QEL leads 338 true and the leg 180 true: 158 degrees apart
# QHB's 212 is right, QEL lies back on 034: 043 is that with two digits changed over.
digits-transposed: airway V801 QHB 212 - 043 QEL 29.5nm
    warning leg 3 16:21 QEL 043 is charted: is 034 meant?
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
needle-off-course: -airway V801 | -direct QHB | -direct QEL | direct XHAR - XOLD 34.7nm course 210T | route XHAR XOLD
    error leg 1 13:12 course 210T is stated and the leg's true course is 195
radials-bent: station QHB 113.70 | station QEL 110.20 | station QSK 112.40 | variation 13W | -direct QHB | -direct QEL | -airway V801 | direct QHB 212 - 032 QEL 29.5nm | direct QEL 100 - 250 QSK 20nm | route QHB QEL QSK
    error leg 3 13:15 outbound 100 and inbound 250 do not lie on one line
# 212 - 15 = 197, 044 - 14 + 180 = 210.
radials-bent: station QHB 113.70 decl 15W | station QEL 110.20 decl 14W | variation 13W | -direct QHB | -direct QEL | -airway V801 | direct QHB 212 - 044 QEL 29.5nm | route QHB QEL
    error leg 1 13:11 outbound QHB 212 (15W) is 197 true and inbound QEL 044 (14W) is 210 true: they do not lie on one line
# Told by LAKER's definition, the way out again on 212 is no turn back of its own.
radial-reversed: ~station QMM 115.00 | station QEL 110.20 | fix LAKER QMM 032 12nm | airway V801 LAKER - 212 QMM 12nm 212 - 032 QEL 20nm | route LAKER V801 QMM V801 QEL
    error leg 1 14:18 QMM 212 is the inbound course, not the radial: LAKER is defined on 032
# No north is known, or no station guides: nothing is there to compare.
needle-off-course: -direct QHB | -direct QEL | station QHB 113.70 | fix LAKER QHB 212 12nm | fix MOORE QHB 212 20nm | -airway V801 | direct LAKER - MOORE 8nm course 180T | direct QHB 212 - LAKER 12nm | route QHB LAKER MOORE
radials-bent: ~station QHB 113.70 | station QEL 110.20 | station QMM 115.00 | station QTT 116.00 N45 30.00 W039 00.00 decl 15W | fix LAKER N45 44.10 W039 33.00 | airway V801 QHB 212 - 032 QMM 20nm - LAKER 20nm on QTT 030 | route QHB V801 QMM V801 LAKER
# Due south of QHB PINEY lies on 195 at 15W: charted 20 off the chart's figure is printed, 21 off the computed one.
radials-bent: -direct QHB | -direct QEL | station QHB 113.70 N46 12.30 W039 20.70 decl 15W | station QEL 110.20 decl 15W | fix PINEY N46 00.30 W039 20.70 | airway V801 QHB 215 - PINEY 12nm - 030 QEL 17.5nm | route QHB V801 QEL
    error leg 1 14:11 outbound QHB 215 (15W) is 180 true and inbound QEL 030 (15W) is 195 true: they do not lie on one line
radials-bent: -direct QHB | -direct QEL | station QHB 113.70 N46 12.30 W039 20.70 decl 15W | station QEL 110.20 decl 15W | fix PINEY N46 00.30 W039 20.70 | airway V801 QHB 216 - PINEY 12nm - 030 QEL 17.5nm | route QHB V801 QEL
    error leg 1 14:11 outbound QHB 195 (15W) is 180 true and inbound QEL 030 (15W) is 195 true: they do not lie on one line
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_radials(flight: str, told: list[str]) -> None:
    assert told_of(flight.replace("~", _BETWEEN)) == told
