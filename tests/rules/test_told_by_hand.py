"""What the rules tell of flights worked by hand: severity, leg, place in the file, message and amount.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Places are counted
in the flight's text, numbers are worked beside the lines from what it states.
"""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

# Lines that begin with # say where a number comes from.
_TOLD = """\
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
    warning leg 4 16:30 XOLD at 23:59Z is by night (civil twilight ended 22:57Z, begins 06:30Z+1): this landing asks for a reserve of 45 min, and `reserve` states 30
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
airway-joins: airway V802 QHB 212 - 034 QEL 29.5nm mea 3000 | route XHAR QHB QEL XOLD
    note leg 2 16:16 V801 and V802 join QHB and QEL; direct is planned
fuel-below-zero: fuel 4gal | route XHAR QHB V801 QEL/A055 XOLD land 45min fuel 2gal XHAR
    error leg 3 16:21 the fuel runs out before QEL
    error leg 5 16:56 the fuel runs out before XHAR
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_a_rule_tells_of_a_flight(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told
