"""What the rules tell of flights with bulletins, notices and aircraft files of their own: each finding whole."""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

from navlog.rules.samples import FILES

_CRUISE = "[cruise]\ntas_kt = 110\nburn_gal_per_h = 8.5\n"
_RATES = "cas_kt = 75\nrate_ft_per_min = 500\nburn_gal_per_h = 11\n"
OWN_FILES = {
    **FILES,
    "two.txt": FILES["morning.txt"].replace("QZZ 2312", "QYY 2312 2418+04 2520-01\nQZZ 2312"),
    "climbs.toml": f'name = "Climbs"\n[climb]\n{_RATES}{_CRUISE}',
    "descends.toml": f'name = "Descends"\n[descent]\n{_RATES}{_CRUISE}',
    "both.txt": "!XHA 07/001 QHB NAV VOR BAFFLED AND QEL 2607181200-PERM\n"
    "!XHA 07/005 QHB NAV VOR/DME U/S 2607201200-2607202000\n",
}

_TOLD = """\
# QYY and QZZ have no position; the bulletin's other two have.
bulletin-stations: -wind | winds two.txt
    note flight 16:1 2 stations of two.txt have no known position; the winds are those of QEL, QHB
climb-left-out: aircraft climbs.toml | -tas | -burn | route XHAR QHB V801 QEL XOLD
    note leg 4 14:25 the descent at XOLD is left out: the aircraft file has no [descent]
# Two airports, and the file lacks the descent once.
climb-left-out: aircraft climbs.toml | -tas | -burn | airport XFLD N45 44.10 W039 33.00 elev 400ft | -direct QEL | route XHAR QHB XFLD land 30min fuel 30gal XOLD
    note leg 2 13:16 the descent at XFLD is left out: the aircraft file has no [descent]
climb-left-out: aircraft descends.toml | -tas | -burn | route XHAR QHB V801 QEL XOLD
    note leg 1 14:12 the climb at XHAR is left out: the aircraft file has no [climb]
climb-in-hold: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | station QHB 113.70 | -direct QHB | direct XHAR - QHB 9.6nm | variation 13W | route XHAR QHB V801 QEL XOLD | hold QHB until FL055
    note flight 17:1 no climb in the hold at QHB to FL055 is flown: a leg has no wind or no course
standard-temperature: aircraft climber.toml
    note flight 1:1 no temperature is known: that of the standard atmosphere is used
standard-temperature: aircraft climber.toml | temperature 21C
standard-temperature: tas 110kt
notice-not-understood: notices both.txt
    warning flight 1:1 !XHA 07/001 names QHB, QEL; what it says of the station is not known: !XHA 07/001 QHB NAV VOR BAFFLED AND QEL 2607181200-PERM [apart]
notice-idle: notices both.txt
    note flight 2:1 !XHA 07/005 is not counted: QHB VOR and DME out of service (from 2026-07-20 12:00Z to 2026-07-20 20:00Z) [apart]
minimum-unknown: -direct QHB | -direct QEL | airport XFLD N45 48.10 W039 38.00 elev 400ft | route XHAR QHB V801 QEL DCT XFLD over XOLD | airway V801 QHB 212 - 034 QEL 29.5nm
    note leg 1 14:12 no minimum altitude is known from XHAR to QHB, QEL to XFLD and XFLD to XOLD
    note leg 2 14:21 no minimum altitude is known from QHB to QEL
# The last descent begins at QEL at the earliest, where the stated minimum begins to hold, 500 ft above the cruise.
under-minimum: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | rules ifr | altitude 4000 | route XHAR QHB V801 QEL XOLD | direct QEL - XOLD 9.6nm min 4500
    error leg 5 13:25 4000 ft is below the stated minimum of 4500 ft [by 500.0]
dark-arrival: off 23:30Z | reserve 44min
    warning leg 4 16:30 XOLD at 23:59Z is by night (civil twilight ended 22:57Z, begins 06:30Z+1): this landing asks for a reserve of 45 min, and `reserve` states 44
dark-arrival: off 23:30Z | reserve 45min
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_a_rule_tells_of_a_flight_with_its_files(flight: str, told: list[str]) -> None:
    assert told_of(flight, OWN_FILES) == told
