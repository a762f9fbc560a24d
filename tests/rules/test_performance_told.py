"""What the rules tell of forecasts, temperatures, climbs and arrivals, each finding whole.

The bulletins are for use from 14:00Z to 21:00Z; by the aircraft file the flight takes 32 minutes, at the stated speed
28.6, and 17 more to XHAR. Book figures go by how far the air is from standard, by 10 degrees either way.
"""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

from navlog.rules.samples import FILES

_FLAT = "tas_kt = 110\nburn_gal_per_h = 8.5\n"


def _rows(figures: str) -> str:
    """A table of `altitude deviation figures` lines."""
    rows = (line.split(maxsplit=2) for line in figures.splitlines())
    return "".join(f"{{ pressure_altitude_ft = {ft}, isa_deviation_c = {c}, {rest} }},\n" for ft, c, rest in rows)


def _cruise(*by_warmth: tuple[int, int]) -> str:
    """A cruise of so many knots at each deviation from standard, the same up to 12,000 ft."""
    rows = "\n".join(f"{ft} {c} tas_kt = {kt}, burn_gal_per_h = 8.5" for ft in (0, 12000) for c, kt in by_warmth)
    return f'name = "By warmth"\n[cruise]\nrows = [\n{_rows(rows)}]\n'


def _climb(*by_height: tuple[int, int, int]) -> str:
    """A climb at 80 kt of so many ft/min in air 20 degrees colder and warmer than standard, by height."""
    rates = [(ft, c, rate) for ft, cold, warm in by_height for c, rate in ((-20, cold), (20, warm))]
    rows = "\n".join(f"{ft} {c} tas_kt = 80, rate_ft_per_min = {rate}, burn_gal_per_h = 11" for ft, c, rate in rates)
    return f'name = "By height"\n[cruise]\n{_FLAT}[climb]\nrows = [\n{_rows(rows)}]\n'


_OWN_FILES = {
    **FILES,
    "headed.txt": "FBUS31 KWNO 181359\n" + FILES["winds.txt"].lstrip(),
    "morning_headed.txt": "FBUS31 KWNO 180159\n" + FILES["morning.txt"].lstrip(),
    "warm.toml": _cruise((-20, 110), (0, 110), (20, 114)),
    "cold.toml": _cruise((-20, 106), (0, 110), (20, 110)),
    "same.toml": _cruise((-20, 110), (0, 110), (20, 110)),
    "narrow.toml": _cruise((-9, 110), (0, 110), (9, 110)),
    # Alike in cold and warm air from 2,000 to 3,000 ft alone; the climb from 790 to 4,500 ft has its middle at 2,645.
    "middle.toml": _climb((0, 720, 680), (2000, 600, 600), (3000, 550, 550), (12000, 520, 480)),
    "hand.toml": 'name = "By hand"\n[climb]\ntas_kt = 90\nrate_ft_per_min = 600\nburn_gal_per_h = 12\n'
    "[cruise]\ntas_kt = 120\nburn_gal_per_h = 9\n[descent]\ntas_kt = 120\nrate_ft_per_min = 500\nburn_gal_per_h = 6\n",
    "deaf.toml": 'name = "Deaf"\n[compass]\nfor_deg = [0, 90, 180]\nsteer_deg = [0, 90, 180]\n[cruise]\n' + _FLAT,
}

_TOLD = """\
# Up to 14:00Z and from 21:00Z on there is nothing of the flight within the hours of use.
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | off 13:27Z
    error flight 15:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 13:27Z to 13:59Z on 2026-07-18
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | off 13:28Z
    warning flight 15:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 13:28Z to 14:00Z on 2026-07-18
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | off 20:28Z
bulletin-period: aircraft climber.toml | -tas | -burn | -wind | winds winds.txt | off 20:29Z
    warning flight 15:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 20:29Z to 21:01Z on 2026-07-18
# The flight lands at 20:57Z, as its row says, and the alternate's last row has 21:14Z.
bulletin-period: -wind | winds winds.txt | off 20:28Z | alternate XHAR
    warning alternate XHAR 16:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the way to the alternate is 20:57Z to 21:14Z on 2026-07-18
# Told of the route it is not told again of the way to the alternate.
bulletin-period: -wind | winds winds.txt | off 20:29Z | alternate XHAR
    warning alternate XHAR 16:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the way to the alternate is 20:58Z to 21:15Z on 2026-07-18
bulletin-period: -wind | winds winds.txt | off 20:33Z | alternate XHAR
    warning flight 16:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 20:33Z to 21:02Z on 2026-07-18
bulletin-period: -wind | winds headed.txt | date 2026-07-21 | alternate XHAR
    error flight 16:1 FBUS31 KWNO 181359 is of day 18, 2026-07-18 with the month taken from the flight, and the flight is on 2026-07-21
# Two days away the hours of use decide.
bulletin-period: -wind | winds headed.txt | date 2026-07-20
    error flight 16:1 FBUS31 KWNO 181359 is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 15:10Z to 15:39Z on 2026-07-20
bulletin-period: -wind | winds winds.txt | -off
# Winds at places say nothing of a leg without one, which takes a time that is not known: the take-off alone is judged.
bulletin-period: -wind | winds winds.txt | off 13:59Z | station QHB 113.70 | -direct QHB | direct XHAR - QHB 9.6nm | variation 13W
    error flight 15:1 winds.txt is for use 14:00Z to 21:00Z on 2026-07-18, and the flight is 13:59Z on 2026-07-18
bulletin-period: -wind | winds winds.txt | off 21:00Z | station QHB 113.70 | -direct QHB | direct XHAR - QHB 9.6nm | variation 13W
bulletin-stations: -wind | winds morning_headed.txt
    note flight 16:1 1 station of FBUS31 KWNO 180159 has no known position; the winds are those of QEL, QHB
wind-not-used: wind 230/12 | alternate XHAR
wind-not-used: wind 230/12\\nwind at QHB 240/15 | alternate XHAR
    warning flight 10:1 the `wind` without a place is not used: the winds at places stand before it
standard-temperature: aircraft warm.toml | -tas | -burn
    note flight 1:1 no temperature is known: that of the standard atmosphere is used
standard-temperature: aircraft cold.toml | -tas | -burn
    note flight 1:1 no temperature is known: that of the standard atmosphere is used
standard-temperature: aircraft same.toml | -tas | -burn
# Air 10 degrees off standard is beyond its table.
standard-temperature: aircraft narrow.toml | -tas | -burn
    note flight 1:1 no temperature is known: that of the standard atmosphere is used
standard-temperature: aircraft warm.toml | -tas | -burn | temperature 21C
standard-temperature: aircraft warm.toml | -tas | -burn | wind 3000 230/12 9C
# Stated as both are, speed and burn are not the table's; one of them is.
standard-temperature: aircraft warm.toml
standard-temperature: aircraft warm.toml | -burn
    note flight 1:1 no temperature is known: that of the standard atmosphere is used
standard-temperature: aircraft warm.toml | -tas
    note flight 1:1 no temperature is known: that of the standard atmosphere is used
# At 1045 hPa the middle of the climb is at about 1,790 ft of pressure altitude, at 980 at 3,560 (27 ft a hPa).
standard-temperature: aircraft middle.toml | -tas | -burn | route XHAR QHB V801 QEL XOLD
standard-temperature: aircraft middle.toml | -tas | -burn | route XHAR QHB V801 QEL XOLD | altimeter 1045hPa
    note flight 1:1 no temperature is known: that of the standard atmosphere is used
standard-temperature: aircraft middle.toml | -tas | -burn | route XHAR QHB V801 QEL XOLD | altimeter 980hPa
    note flight 1:1 no temperature is known: that of the standard atmosphere is used
temperature-not-used: aircraft same.toml | -tas | -burn | temperature 21C
    note flight 16:1 no speed, rate or burn of this flight goes by the temperature
temperature-not-used: aircraft warm.toml | -tas | -burn | temperature 21C
temperature-not-used: aircraft warm.toml | -tas | -burn | -wind | winds winds.txt | temperature 21C
    note flight 16:1 the temperatures of the winds stand before the one stated
temperature-not-used: aircraft warm.toml | -tas | -burn
# The way back to XHAR descends to a field whose elevation is not known either.
climb-left-out: aircraft climber.toml | -tas | -burn | airport XHAR N46 14.50 W039 07.20 | alternate XHAR
    warning leg 1 14:12 the climb at XHAR is left out: the elevation of XHAR is not known
    warning alternate XHAR leg 2 16:11 the descent at XHAR is left out: the elevation of XHAR is not known
# What is left for an alternate in the air climbs from no airport.
climb-left-out: aircraft climber.toml | -tas | -burn | airport XOLD N45 41.00 W039 20.00 | alternate XHAR from QEL
    warning leg 5 14:30 the descent at XOLD is left out: the elevation of XOLD is not known
climb-left-out: aircraft climber.toml | -tas | -burn | airport XOLD N45 41.00 W039 20.00 | pattern 1350ft
climb-left-out: aircraft climber.toml | -tas | -burn | -wind | airport XOLD N45 41.00 W039 20.00
climb-left-out: aircraft climber.toml | -tas | -burn | station QHB 113.70 decl 15W | -direct QHB | direct XHAR - QHB 9.6nm | variation 13W | route XHAR QHB V801 QEL XOLD
    warning leg 1 13:12 the climb at XHAR is left out: a leg has no wind or no course
    warning leg 4 13:25 the descent at XOLD is left out: a leg has no wind or no course
# A level field needs no climb, and an alternate from over an airport takes off nowhere.
climb-left-out: aircraft hand.toml | -tas | -burn | wind calm | airport XHAR N46 14.50 W039 07.20 elev 4500ft | airport XOLD N45 41.00 W039 20.00 | route XHAR QHB V801 QEL XOLD
    warning leg 4 14:25 the descent at XOLD is left out: the elevation of XOLD is not known
climb-left-out: aircraft hand.toml | -tas | -burn | wind calm | airport XHAR N46 14.50 W039 07.20 | airport XFLD N45 44.10 W039 33.00 | -direct QEL | route XHAR QHB XFLD over XOLD | alternate XHAR from XFLD
    warning leg 1 13:12 the climb at XHAR is left out: the elevation of XHAR is not known
    warning alternate XHAR leg 2 16:11 the descent at XHAR is left out: the elevation of XHAR is not known
# To QEL and back are 19.2 NM: (h - 350) / 400 up and (h - 1350) / 250 down make 3919 ft. The first sector is level.
cruise-not-reached: aircraft hand.toml | -tas | -burn | airport XHAR N46 14.50 W039 07.20 elev 4500ft | wind calm | route XHAR QHB V801 QEL XOLD land 20min QEL/A065 XOLD
    warning leg 6 14:41 cruise altitude not reached: 3919 ft of 6500 ft [by 2580.8]
# (h - 790) / 400 and (h - 1790) / 250 in 19.2 NM: 4359 ft; 1013.25 - 1000 hPa are 364 ft: 8500 - 364 = 8136.
cruise-not-reached: aircraft hand.toml | -tas | -burn | altitude FL085 | altimeter 1000hPa | route XHAR QHB XHAR | wind calm
    warning leg 1 14:12 cruise altitude not reached: 4359 ft of 8136 ft (FL085 at 1000 hPa) [by 3777.0]
# 9.6 NM beyond QEL lose 2,400 of the 9,000 ft that the MEA asks up to there; 6,250 ft more take 12.5 min and 1.25 gal.
arrival-height: aircraft hand.toml | -tas | -burn | altitude 9000 | airway V801 QHB 212 - 034 QEL 29.5nm mea 9000 | rules ifr | wind calm | route XHAR QHB V801 QEL XOLD
    warning leg 6 14:25 XOLD is reached 6250 ft (12 min and 1.2 gal planned to lose it) above the field at 350 ft [by 6250.0]
# 5,250 ft to a pattern of 1,350 take 10.5 min and 1.05 gal.
arrival-height: aircraft hand.toml | -tas | -burn | altitude 9000 | airway V801 QHB 212 - 034 QEL 29.5nm mea 9000 | rules ifr | wind calm | route XHAR QHB V801 QEL XOLD | pattern 1350ft
    warning leg 6 14:25 XOLD is reached 5250 ft (10 min and 1.0 gal planned to lose it) above the pattern at 1350 ft [by 5250.0]
# At both landings; 6,600 ft beyond QHB are 5,810 above XHAR, 11.6 min and 1.16 gal.
arrival-height: aircraft hand.toml | -tas | -burn | altitude 9000 | airway V801 QHB 212 - 034 QEL 29.5nm mea 9000 | rules ifr | wind calm | route XHAR QHB V801 QEL XOLD land 20min QEL V801 QHB XHAR
    warning leg 6 14:25 XOLD is reached 6250 ft (12 min and 1.2 gal planned to lose it) above the field at 350 ft [by 6250.0]
    warning leg 12 14:54 XHAR is reached 5810 ft (12 min and 1.1 gal planned to lose it) above the field at 790 ft [by 5810.0]
arrival-height: aircraft hand.toml | -tas | -burn | altitude 9000 | airport XOLD N45 41.00 W039 20.00 | airway V801 QHB 212 - 034 QEL 29.5nm mea 9000 | rules ifr | wind calm | route XHAR QHB V801 QEL XOLD land 20min QEL V801 QHB XHAR
    warning leg 10 14:54 XHAR is reached 5810 ft (12 min and 1.2 gal planned to lose it) above the field at 790 ft [by 5810.0]
# From 8,500 ft at QHB 9.6 NM lose 2,400; to a pattern 1,000 ft above XHAR are 4,310 more, 8.6 min and 0.86 gal.
arrival-height: aircraft hand.toml | -tas | -burn | altitude 8500 | wind calm | route XOLD QEL V801 QHB 4634N03930W | alternate XHAR from QHB | rules vfr
    warning alternate XHAR leg 2 16:11 XHAR is reached 4310 ft (8 min and 0.9 gal planned to lose it) above the pattern at 1790 ft [by 4310.0]
# Lower than a pattern that nobody stated, level or after a descent: nothing is asked.
arrival-height: aircraft climber.toml | -tas | -burn | altitude 1300 | wind calm | route XHAR QHB V801 QEL/A012 XOLD
arrival-height: aircraft climber.toml | -tas | -burn | altitude 1300 | wind calm | route XHAR QHB V801 QEL/A012 XOLD | pattern 1250ft
    warning leg 6 14:30 XOLD is reached at 1200 ft, below the pattern at 1250 ft
arrival-height: aircraft climber.toml | -tas | -burn | altitude 300 | wind calm | airport XHAR N46 14.50 W039 07.20 elev 250ft | route XHAR QHB V801 QEL XOLD land 20min XHAR
    error leg 5 14:25 XOLD is reached at 300 ft, below the field at 350 ft
climb-in-hold: aircraft climber.toml | -tas | -burn | wind calm | hold QHB until 5500ft
    warning leg 2 16:1 the climb in the hold at QHB has protected airspace only where one is published: ask ATC for it; it ends at 5500, above the 4500 planned from there; is one of them a slip?
climb-in-hold: aircraft climber.toml | -tas | -burn | wind calm | hold QEL 5min\\nhold QHB until 5500ft
    warning leg 2 17:1 the climb in the hold at QHB has protected airspace only where one is published: ask ATC for it; it ends at 5500, above the 4500 planned from there; is one of them a slip?
climb-in-hold: aircraft climber.toml | -tas | -burn | wind calm | hold QHB until 5500ft | route XHAR QHB/A055 V801 QEL XOLD
    warning leg 2 16:1 the climb in the hold at QHB has protected airspace only where one is published: ask ATC for it
# At the end of the flight: what is planned there is what was planned up to it.
climb-in-hold: aircraft climber.toml | -tas | -burn | wind calm | hold QEL until 5500ft | route XHAR QHB V801 QEL | -direct QEL
    warning leg 5 15:1 the climb in the hold at QEL has protected airspace only where one is published: ask ATC for it; it ends at 5500, above the 4500 planned from there; is one of them a slip?
# Level in the hold at QEL nothing climbs.
climb-in-hold: aircraft climber.toml | -tas | -burn | wind calm | hold QEL until 4500ft | route XHAR QHB V801 QEL XOLD
    note flight 16:1 no climb in the hold at QEL to 4500 is flown: the flight is that high already, or on its last descent
# A hold has no course, and asks for no wind.
climb-in-hold: aircraft climber.toml | -tas | -burn | wind calm | hold QHB 5min\\nhold QEL until 4500ft | route XHAR QHB V801 QEL XOLD
    note flight 17:1 no climb in the hold at QEL to 4500 is flown: the flight is that high already, or on its last descent
compass-card-silent: aircraft deaf.toml | wind calm | variation 13W
    warning leg 1 16:12 the compass card says nothing near 270
    warning leg 2 16:21 the compass card says nothing near 210
    warning leg 3 16:21 the compass card says nothing near 210
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_a_rule_tells_of_climbs_and_forecasts(flight: str, told: list[str]) -> None:
    assert told_of(flight.replace("\\n", "\n"), _OWN_FILES) == told
