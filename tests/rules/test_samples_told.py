"""All that the rules tell of their own failing samples: severity, leg, place in the file, message and amount.

Places are counted in the sample; numbers are worked beside the lines from what the sample states.
"""

from __future__ import annotations

import pytest
from helpers.judged import judged_text, lines, table

from navlog.rules.domains import every_rule
from navlog.rules.registry import Rule
from navlog.rules.samples import SampleCatalogue

# Lines that begin with # say where a number comes from.
_TOLD = """\
under-mea
    warning leg 2 16:21 2300 ft is below the MOCA of 2400 ft (MEA 3000) on V801: neither clearance of the terrain nor reception is assured [by 700.0]
    warning leg 3 16:21 2300 ft is below the MOCA of 2400 ft (MEA 3000) on V801: neither clearance of the terrain nor reception is assured [by 700.0]
moca-range
    error leg 3 16:21 2500 ft is below the MEA of 3000 ft, 2.5 NM of it farther than 22 NM from the VOR [by 2.5]
over-maa
    warning leg 2 16:21 4500 ft is above the MAA of 4000 ft [by 500.0]
    warning leg 3 16:21 4500 ft is above the MAA of 4000 ft [by 500.0]
under-mca
    warning leg 2 16:21 QHB is crossed at 4500 ft, below the MCA of 5000 ft toward QEL [by 500.0]
under-mra
    warning leg 2 16:16 MARSH is reached at 4500 ft, below its MRA of 6000 ft: QSK may not be received [by 1500.0]
under-minimum
    warning leg 1 16:12 4500 ft is below the stated minimum of 5500 ft [by 1000.0]
under-ground
    error leg 1 16:12 700 ft is below XHAR, elevation 790 ft
    error leg 1 16:12 700 ft is below QHB, elevation 820 ft
moca-over-mea
    warning leg 2 16:21 MOCA 3000 is over MEA 2400 on V801
level-near-ground
    warning leg 1 16:12 1200 ft is only 410 ft above XHAR, elevation 790 ft
    warning leg 1 16:12 1200 ft is only 380 ft above QHB, elevation 820 ft
airspeed-doubtful
    warning leg 4 16:35 900 kt, where the flight's own is 110 kt
value-doubtful
    warning flight 17:1 altimeter setting 920 hPa: many altimeters can be set from 28.00 to 31.00 inHg alone, 948.2 to 1049.7 hPa
elevation-doubtful
    warning leg 4 16:30 XOLD at -350 ft is lower than any airport but by the Dead Sea
endurance-doubtful
# 8.5 / 3.785411784 = 2.2455 gal/h; (38 - 1.0) / 2.2455 = 16.478 h.
    warning flight 14:1 38 gal of fuel, less taxi, last 16:28 at 8.5 L/h: the units differ
aircraft-row-doubtful
    warning flight 14:1 [climb] has a rate of 7200 at 0 ft, and 540 in the row beside
limit-doubtful
    error leg 1 6:14 the stated minimum of 250 ft on DCT, XHAR to QHB, is below QHB, elevation 820 ft
minimum-unknown
    note leg 1 14:12 no minimum altitude is known from XHAR to QHB and QEL to XOLD
level-without-altimeter
    warning leg 1 16:12 a flight level is a pressure altitude; the height above the stated minimum is not known
climb-out
# 500 ft/min lifts the 2500 - 790 = 1710 ft in 3.4 min, in which 66 kt over the ground lead 3.8 NM.
    note leg 1 13:12 the minimum of 2500 ft is reached 3.8 NM from XHAR, on the way from XHAR to QHB, 3 min after take-off; each NM gains at least 448 ft [by 3.8]
cold-air
# Standard at 3100 ft is 15 - 1.98 x 3.1 = 8.9 C, the wind's air -25.2 C; 3100 x (1 - 0.004 x 34.06) = 2677.7 ft.
    warning leg 2 16:21 in air 34 degrees C colder than standard 3100 ft by the altimeter is about 2678 ft, below the minimum of 3000 ft [by 322.3]
    warning leg 3 16:21 in air 34 degrees C colder than standard 3100 ft by the altimeter is about 2678 ft, below the minimum of 3000 ft [by 322.3]
oxygen
# 15500 - 12500, the lowest height of 14 CFR 91.211.
    warning leg 1 16:12 29 min above 14000 ft: oxygen for the crew all that time, 29 min above 15000 ft: oxygen for everyone aboard; the cabin counted as not pressurised [by 3000.0]
cruising-level
# 14 CFR 91.159(a)(2): 180 to 359, even thousands plus 500.
    warning leg 3 16:21 5500 on set course 212 magnetic: even thousands plus 500 hold if more than 3000 ft above the surface, 4500 or 6500 ft (14 CFR 91.159)
vfr-too-high
    error leg 1 16:12 FL185 is no level for VFR: class A begins at 18000 ft
level-unusable
# 14 CFR 91.121(b): 28.91 to 28.42 inHg, FL195.
    error leg 1 16:12 FL180 may not be used at 28.50 inHg: FL195 is the lowest usable flight level [by 1500.0]
out-of-range
# 5500 - 410 = 5090 ft above it.
    warning leg 4 15:30 QEL class L serves 40 NM at 5090 ft above it; it is used 51.5 NM away [by 11.5] [of QEL]
below-horizon
# 1.23 x (sqrt(1200 - 790) + sqrt(820 - 790)) = 31.6 NM.
    warning leg 2 15:16 QHB is 48.6 NM away and the radio horizon from 1200 ft is 31.6 NM [by 17.0] [of QHB]
stations-apart
    warning leg 2 15:20 QHB and QEL are 88.6 NM apart; off airways 80 NM is the most at 4500 ft
unusable-sector
    warning leg 2 16:21 QHB is unusable on radials 205-220; radial 212 is used
station-off-airway
    note leg 2 16:21 from QHB V801 is flown on radial 273 of QSK (not on the airway)
signal
# 3.6 min at 99 kt over the ground are 6 NM.
    warning leg 2 16:21 V801 from QHB to QEL: signal gap of 6 NM, hold heading 213 magnetic for 3.6 min
radial-reversed
    error leg 3 16:21 QEL 214 is the inbound course, not the radial: the radial is 034
radials-bent
    error leg 2 16:21 outbound 212 and inbound 074 do not lie on one line
needle-off-course
    error leg 2 16:21 273 FROM QSK leads 259 true and the leg 197 true: 62 degrees apart
radial-differs
    warning leg 2 16:21 QHB 217 is charted and 212 computed: 5.0 degrees apart
digits-transposed
    warning leg 2 16:21 QHB 122 is charted: is 212 meant?
distance-differs
    error leg 2 16:21 QHB to QEL is charted 25.0 NM and computed 29.5 NM; the longer is flown
loop-open
# A side of 30 NM turned by 30 degrees: 2 x 30 x sin 15 = 15.5 NM.
    warning leg 6 15:19 the courses and distances from QHB by QEL and QSK back to QHB, 90.0 NM, end 15.5 NM 165 true of it [by 15.5]
course-easily-missed
    note leg 4 16:25 at QEL set 218 FROM QEL, 4 degrees from 214
changeover-sum
# 11 + 14 = 25.
    warning leg 3 16:21 QHB to QEL is 29.5 NM and the changeover point 11 from QHB and 14 from QEL: 25.0 NM together
station-out
    error leg 2 16:21 QHB to QEL relies on QEL, which is out of service [of QEL]
    error leg 4 16:30 QEL to XOLD relies on QEL, which is out of service [of QEL]
dme-missing
    error leg 4 15:25 LAKER is 12 NM DME from QEL, which has no DME
channel-unpaired
    warning leg 5 16:30 QUV 117.60 is published with channel 100X; paired is 123X
frequencies-alike
    note leg 3 16:21 QEL 113.90 comes after QHB 113.70
frequency-shared
    warning leg 3 16:21 QSK is on 110.20 too, 24.9 NM from where QEL is used
declination-old
    note leg 1 16:12 QHB is aligned to 21W; the variation there is 12.6W
vor-check
    note flight 1:1 no check of the VOR receivers is stated; it must be within the 30 days before the flight
vor-check-error
    error flight 18:1 error +6 degrees at XHAR, at most 4 (ground checkpoint, 14 CFR 91.171(b)(2)) [by 2.0]
poor-cut
# 45 - 35.1 degrees.
    warning leg 2 16:16 the radials that mark ROSKO cross at 35 degrees: an error of 3.6 degrees moves it 2.5 NM [by 9.9]
short-leg
# 1.5 NM at 104 kt.
    warning leg 2 16:16 QHB and LAKER are 1.5 NM apart, 52 s
unflyable-wind
    error leg 1 16:12 impossible at 110 kt: the headwind of 109 kt leaves no groundspeed at a TAS of 110 kt
    error leg 2 16:21 impossible at 110 kt: the crosswind of 146 kt is more than the TAS of 110 kt
    error leg 3 16:21 impossible at 110 kt: the crosswind of 146 kt is more than the TAS of 110 kt
slow-groundspeed
# 110 less the headwind of 60 kt nearly on the nose, 3 degrees aside: 51.4.
    warning leg 2 16:21 groundspeed 51 kt of 110 kt true airspeed [by 58.6]
    warning leg 3 16:21 groundspeed 51 kt of 110 kt true airspeed [by 58.6]
wind-beyond-heights
    warning leg 1 16:12 the nearest wind is 4500 ft away in height
wind-far
    warning leg 1 16:12 the nearest wind is that at 4400N03700W, 166 NM from QHB
reserve
# 8 gal less 1 of taxi and 28.5 min at 8.5 gal/h is 2.96; 30 min are 4.25.
    error leg 4 16:30 2.9 gal left at XOLD, and the reserve is 30 min, 4.3 gal (14 CFR 91.151 day) [by 1.3]
reserve-under-rule
    warning flight 17:1 the stated reserve of 20 min is under the 30 min of 14 CFR 91.151 day
fuel-below-zero
    error leg 3 16:21 the fuel runs out before QEL
fuel-over-usable
    error flight 12:1 90.0 gal of fuel is more than the aircraft file's usable 40.0 gal
dark-arrival
    warning leg 4 16:30 XOLD at 23:59Z is by night (civil twilight ended 22:57Z, begins 06:30Z+1): this landing asks for a reserve of 45 min, and `rules vfr day` states 30
after-sunset
# By astral the sun sets at 22:20:57Z and twilight ends at 22:57:46Z; either is sure to a minute.
    note leg 4 16:30 XOLD at 22:34Z is 13 min after sunset, and night begins 22:57Z [by 2.7]
wind-doubtful
    warning flight 10:1 a wind of 120 kt at 5500 ft is hardly ever met [by 120.0]
no-alternate
    warning flight 1:1 no alternate is given; it may be left out only where ceiling and visibility allow
bulletin-period
    error flight 16:1 morning.txt is for use 02:00Z to 09:00Z on 2026-07-18, and the flight is 15:10Z to 15:39Z on 2026-07-18
bulletin-stations
    note flight 16:1 1 station of morning.txt has no known position; the winds are those of QEL, QHB
wind-not-used
    warning flight 10:1 the `wind` without a place is not used: the winds at places stand before it
standard-temperature
    note flight 1:1 no temperature is known: that of the standard atmosphere is used
temperature-not-used
    note flight 16:1 the temperatures of the winds stand before the one stated
climb-left-out
    warning leg 5 13:30 the descent at XOLD is left out: the elevation of XOLD is not known
cruise-not-reached
    warning leg 1 13:12 cruise altitude not reached: 4500 ft of 5500 ft [by 1000.0]
arrival-height
    warning leg 6 13:30 XOLD is reached 6367 ft (12 min and 1.3 gal planned to lose it) above the field at 350 ft [by 6367.4]
climb-in-hold
    warning leg 2 16:1 the climb in the hold at QHB has protected airspace only where one is published: ask ATC for it; it ends at 5500, above the 4500 planned from there; is one of them a slip?
compass-card-silent
    warning leg 1 16:12 the compass card says nothing near 267
    warning leg 2 16:21 the compass card says nothing near 213
    warning leg 3 16:21 the compass card says nothing near 213
    warning leg 4 16:30 the compass card says nothing near 127
alternate-reserve
    error leg 4 16:30 4.9 gal left at XOLD and 2.5 gal to XHAR break the reserve of 30 min, 4.3 gal (14 CFR 91.151 day)
contingency-short
    warning flight 1:1 1.4 gal short of what the flight wants to have at its last landing
fuel-drops
    warning leg 4 16:30 8.0 gal at the take-off from XOLD, and 32.9 gal are left on landing
data-out-of-date
    warning flight 1:1 NASR 2607 holds from 2026-07-09 until 2026-08-06, and the flight is on 2026-09-18
unverified-source
    warning leg 5 16:30 QUV is from ourairports, which is not verified
differs-from-published
    warning flight 1:1 QPB is on 115.50 in the file and 115.30 as published
compass-zone
    warning leg 1 15:12 7400N09500W lies in the caution zone of the magnetic model
true-referenced
    note leg 3 16:21 QEL is aligned to true north: its radials and courses are true
variation-differs
    error flight 17:1 variation 7E is stated; the model's at XHAR is 12.5W; is 7W meant?
fix-computed
    warning leg 4 15:30 MAKER has no published position; it is placed by its make-up from QEL
makeup-differs
    warning leg 4 16:30 OLDEN is published on QPB R-290 and lies on R-285 by its position: 4.9 degrees apart
notices-empty
    warning flight 17:9 no notice is found in no_notices.txt: nothing of it counts
notice-not-understood
    warning flight 2:1 !XHA 07/001 names QHB; what it says of the station is not known: !XHA 07/001 QHB NAV VOR BAFFLED 2607181200-PERM [apart]
airport-closed
    error leg 4 3:1 XOLD is closed by !XHA 07/002 from 2026-07-18 12:00Z to 2026-07-18 20:00Z [apart]
obstacle-by-notice
    warning leg 3 2:1 500 ft above an obstacle of 4000 ft, 1.7 NM off: !XHA 07/007 XHA OBST TOWER LGT (ASR 1234567) 455700N0393000W (3.0NM W QEL) 4000FT (1900FT AGL) U/S 2607181200-2607182000 [by 500.0] [apart]
fuel-not-available
    warning leg 4 2:1 the log takes fuel at XOLD: !XHA 07/006 XOLD SVC FUEL NOT AVBL 2607181200-2607182000 [apart]
notice-estimated
    warning leg 2 4:1 QEL VOR unusable on R-300 to R-310 beyond 30 NM by !XHA 07/003: estimated back 2026-07-18 1400Z: ask [apart]
notice-counts
    note leg 2 5:1 by !XHA 07/004: QEL not monitored (from 2026-07-18 12:00Z to 2026-07-18 20:00Z) [apart]
notices-contradict
    warning leg 2 2:1 !FDC 6/0001 and !FDC 6/0002 differ, and the later in the briefing holds: V801 QHB to QEL changeover point 12 NM from QHB; V801 QHB to QEL changeover point 15 NM from QEL
notice-idle
    note flight 4:1 !XHA 07/003 is not counted: QEL VOR unusable on R-300 to R-310 beyond 30 NM (from 2026-07-18 12:00Z, estimated to 2026-07-18 14:00Z) [apart]
    note flight 6:1 !XHA 07/005 is not counted: QHB VOR out of service (from 2026-07-20 12:00Z to 2026-07-20 20:00Z) [apart]
no-wind
    warning flight 1:1 no wind given: headings, groundspeed, times and fuel are unknown
no-off
    warning flight 1:1 no take-off time given: only elapsed times are known
no-fuel
    warning flight 1:1 no `fuel` given: fuel left is unknown and the reserve is not tested
course-unknown
    warning leg 3 16:21 no course to set for QEL: its declination is not given and no radial is charted
    warning leg 4 16:30 no course to set for QEL: its declination is not given and no radial is charted
variation-unknown
    warning leg 1 14:16 no magnetic heading is known from QHB to QEL: no position, no `variation`, and QHB is aligned to true north
no-guidance
    warning leg 1 14:12 dead reckoning for 34.7 NM of XHAR to XOLD, heading 211 magnetic for 21 min: no station's radial leads along this part [by 34.7]
course-turns
    warning leg 1 14:12 the magnetic course goes from 064 to 075 on one heading [by 11.4]
changeover-unknown
    warning leg 2 16:16 the changeover point between QHB and QEL is not known
changeover-not-in-source
    warning leg 4 16:25 the changeover point between QCA and QCB is not in this source; midway is convention alone
station-class-unknown
    note leg 2 16:20 the changeover point is midway: the service volume of QEL is not known
airway-joins
    note leg 2 16:16 V801 joins QHB and QEL; direct is planned
pattern-low
    warning flight 17:1 the pattern at 300 ft is below XOLD, elevation 350 ft
stated-unused
    note flight 16:30 `XOLD/A045` ends the route, so that no leg is flown at that level
radio-elsewhere
    note flight 17:1 the flight has no place `ZZZZ`, of which a frequency is stated
same-name
    note flight 14:16 QEL is taken as the airport; the VOR of that name is 9.6 NM from it: QEL:vor would be that
wide-band
    note leg 1 15:12 VOR error 4.5 degrees = 4.7 NM either side at 60.1 NM from the station [by 0.7]
fix-by-time
    warning leg 2 16:16 MARSH is found by the clock alone: no DME and no radial across the way tells it; QSK is out of service
fix-unsure
    warning leg 2 16:16 ROSKO may be found 2.1 NM before or beyond its place, 2.6 NM from QHB [by 1.7]
rule-retired
    note flight 17:8 `alternate-minimum` is told on the way to an alternate by `minimum-unknown`
accept-unused
    note flight 17:8 `under-mea` is accepted and finds nothing
"""  # noqa: E501 - a finding is one line


TOLD = table(_TOLD)
IN_FILES_OF_THEIR_OWN = {
    "under-terrain",
    "climb-under-terrain",
    "climb-low",
    "stated-under-terrain",
    "terrain-unknown",
    "obstacles-unknown",
    "band-over-higher-ground",
}
"""Samples that read terrain; the tests of terrain tell of them."""


@pytest.mark.parametrize("rule", [one for one in every_rule() if one.ident in TOLD], ids=lambda rule: rule.ident)
def test_all_that_is_told_of_the_failing_sample(rule: Rule) -> None:
    assert lines(rule.ident, judged_text(rule.failing, SampleCatalogue())) == TOLD[rule.ident]


def test_every_other_sample_needs_files_of_its_own() -> None:
    assert {one.ident for one in every_rule()} - set(TOLD) == IN_FILES_OF_THEIR_OWN
