"""What is told of figures that can hardly be meant, each finding whole, just within what is doubted and just beyond."""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

from navlog.rules.samples import FILES

_CRUISE = "[cruise]\ntas_kt = 110\nburn_gal_per_h = 8.5\n"


def _rows(phase: str, *rows: str) -> str:
    """A table of one phase, each row `ALTITUDE SPEED RATE BURN`; a descent and a climb have a rate."""
    found = []
    for altitude_ft, speed_kt, rate, burn in (row.split() for row in rows):
        rated = f", rate_ft_per_min = {rate}" if rate != "-" else ""
        key = "tas_kt" if phase == "cruise" else "cas_kt"
        found.append(
            f"  {{ pressure_altitude_ft = {altitude_ft}, {key} = {speed_kt}, burn_gal_per_h = {burn}{rated} }},"
        )
    return "\n".join(('name = "By hand"', f"[{phase}]", "rows = [", *found, "]", ""))


_FILES = {
    **FILES,
    # A digit too many at the top of the cruise, and one lost in its middle: 1.5 times 110 are 165.
    "fast.toml": _rows("cruise", "0 108 - 9", "4000 110 - 8.5", "8000 540 - 8"),
    "edge.toml": _rows("cruise", "0 110 - 9", "4000 110 - 9", "8000 165 - 6"),
    "over.toml": _rows("cruise", "0 110 - 9", "4000 110 - 9", "8000 166 - 5.9"),
    "thirsty.toml": _rows("cruise", "0 108 - 9", "4000 110 - 0.85", "8000 112 - 8"),
    "two.toml": _rows("cruise", "0 108 - 9", "8000 540 - 8"),
    "sinking.toml": _rows("descent", "0 100 500 6", "4000 100 50 6", "8000 100 500 6") + _CRUISE,
    # A rate that fades at the ceiling is none; one of a lower row is.
    "fading.toml": _rows("climb", "0 75 700 11", "4000 75 500 10", "8000 75 300 9", "12000 75 30 8") + _CRUISE,
}

_TOLD = """\
# Twice 110 are 220, half are 55.
airspeed-doubtful: route XHAR QHB V801 QEL/N0221A055 XOLD
    warning leg 4 16:35 221 kt, where the flight's own is 110 kt
airspeed-doubtful: route XHAR QHB V801 QEL/N0220A055 XOLD
airspeed-doubtful: route XHAR QHB V801 QEL/N0055A055 XOLD
# Told once, of the route and not of the way to its alternate too.
airspeed-doubtful: route XHAR QHB/N0230A045 V801 QEL | -direct QEL | alternate XOLD
    warning leg 2 15:31 230 kt, where the flight's own is 110 kt
# The standard atmosphere's pressure at 4500 ft is 0.8481 of that at sea level (ICAO Doc 7488): by the compressible flow
# of St. Venant 250 kt are Mach 0.4088 there, in air of 36.1 C 280.4 kt.
airspeed-doubtful: tas 281kt | route XHAR QHB V801 QEL | -direct QEL | alternate XOLD
    warning leg 1 15:12 281 kt at 4500 ft: 250 knots indicated, the most below 10,000 ft, are 280 kt in warm air
airspeed-doubtful: tas 280kt | route XHAR QHB V801 QEL XOLD
# 14 CFR 91.117(a) says "below 10,000 feet".
airspeed-doubtful: tas 999kt | altitude 10000 | route XHAR QHB V801 QEL XOLD
# All of it is climb: the aircraft's cruise is not flown, and nothing is compared.
airspeed-doubtful: aircraft climber.toml | -tas | -burn | altitude 9500 | wind calm | route XHAR QHB | -direct QEL | -airway V801
# 1.0 inHg over standard puts the flight level 914 ft higher, at 10,414 ft.
airspeed-doubtful: tas 999kt | altitude FL095 | altimeter 30.92inHg | route XHAR QHB V801 QEL XOLD
aircraft-row-doubtful: aircraft fast.toml | -tas | -burn
    warning flight 15:1 [cruise] has a speed of 540 at 8000 ft, and 110 in the row beside
aircraft-row-doubtful: aircraft edge.toml | -tas | -burn
aircraft-row-doubtful: aircraft over.toml | -tas | -burn
    warning flight 15:1 [cruise] has a speed of 166 at 8000 ft, and 110 in the row beside
    warning flight 15:1 [cruise] has a burn of 5.9 at 8000 ft, and 9 in the row beside
aircraft-row-doubtful: aircraft thirsty.toml | -tas | -burn
    warning flight 15:1 [cruise] has a burn of 0.85 at 4000 ft, and 9 in the row beside
aircraft-row-doubtful: aircraft two.toml | -tas | -burn
    warning flight 15:1 [cruise] has a speed of 108 at 0 ft and 540 at 8000 ft
aircraft-row-doubtful: aircraft sinking.toml | -tas | -burn
    warning flight 15:1 [descent] has a rate of 50 at 4000 ft, and 500 in the row beside
aircraft-row-doubtful: aircraft fading.toml | -tas | -burn
aircraft-row-doubtful: -direct QEL
# 1.0 inHg under standard takes 939 ft off 2000: 145,442 x ((28.92 / 29.92) ^ 0.190263 - 1).
level-near-ground: altitude FL020 | altimeter 28.92inHg | -airway V801 | -direct QEL | route XHAR QHB
    warning leg 1 14:12 1061 ft (FL020 at 28.92 inHg) is only 271 ft above XHAR, elevation 790 ft
    warning leg 1 14:12 1061 ft (FL020 at 28.92 inHg) is only 241 ft above QHB, elevation 820 ft
level-near-ground: altitude 1320 | -airway V801 | -direct QEL | route XHAR QHB
# 500 ft above QHB are 1320; at 820 and above it this rule speaks, below `under-ground`.
level-near-ground: altitude 820 | -airway V801 | -direct QEL | route XHAR QHB
    warning leg 1 14:12 820 ft is only 30 ft above XHAR, elevation 790 ft
    warning leg 1 14:12 820 ft is only 0 ft above QHB, elevation 820 ft
level-near-ground: altitude 789 | -airway V801 | -direct QEL | route XHAR QHB
under-ground: altitude 789 | -airway V801 | -direct QEL | route XHAR QHB
    error leg 1 14:12 789 ft is below XHAR, elevation 790 ft
    error leg 1 14:12 789 ft is below QHB, elevation 820 ft
limit-doubtful: airway V801 QHB 212 - 034 QEL 29.5nm mea 700 moca 300
    error leg 2 5:27 the MEA of 700 ft on V801, QHB to QEL, is below QHB, elevation 820 ft
    error leg 2 5:27 the MOCA of 300 ft on V801, QHB to QEL, is below QHB, elevation 820 ft
limit-doubtful: airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 maa 2999
    warning leg 2 5:27 the MAA of 2999 ft on V801, QHB to QEL, is below the MEA of 3000 ft
limit-doubtful: airway V801 QHB 212 - 034 QEL 29.5nm maa 300
    error leg 2 5:27 the MAA of 300 ft on V801, QHB to QEL, is below QHB, elevation 820 ft
limit-doubtful: airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 1500
    warning leg 2 5:27 the MOCA of 1500 ft on V801, QHB to QEL, is only 680 ft above QHB, elevation 820 ft
limit-doubtful: airway V801 QHB 212 - 034 QEL 29.5nm mea 18000
    warning leg 2 5:27 the MEA of 18000 ft on V801, QHB to QEL: V airways end below 18000 ft
limit-doubtful: airway J801 QHB 212 - 034 QEL 29.5nm mea 18000 | -airway V801 | route XHAR QHB J801 QEL/A055 XOLD
limit-doubtful: airway VX QHB 212 - 034 QEL 29.5nm mea 18000 | -airway V801 | route XHAR QHB VX QEL/A055 XOLD
limit-doubtful: airway VX8 QHB 212 - 034 QEL 29.5nm mea 18000 | -airway V801 | route XHAR QHB VX8 QEL/A055 XOLD
limit-doubtful: direct QHB - XHAR 9.6nm min 819
    error leg 1 6:14 the stated minimum of 819 ft on DCT, XHAR to QHB, is below QHB, elevation 820 ft
limit-doubtful: direct QHB - XHAR 9.6nm min 820
# Where one elevation is not known the other counts.
limit-doubtful: direct QHB - XHAR 9.6nm min 800 | airport XHAR N46 14.50 W039 07.20 elev 810ft | station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme
    error leg 1 6:14 the stated minimum of 800 ft on DCT, XHAR to QHB, is below XHAR, elevation 810 ft
# The file states the elevation, but the airway's 3000 ft are published.
limit-doubtful: station QCA 112.10 N45 54.00 W038 54.00 decl 15W class L elev 5000ft | route XHAR QCA V803 QCB XOLD
    error leg 2 16:21 the MEA of 3000 ft on V803, QCA to QCB, is below QCA, elevation 5000 ft
# The flight goes up to 5,500 ft.
wind-doubtful: wind 230/101
    warning flight 10:1 a wind of 101 kt at 5500 ft is hardly ever met [by 101.0]
wind-doubtful: wind 3000 230/101 10001 240/201
    warning flight 10:1 a wind of 101 kt at 3000 ft is hardly ever met [by 101.0]
    warning flight 10:1 a wind of 201 kt at 10001 ft is hardly ever met [by 201.0]
wind-doubtful: wind 10001 240/200
wind-doubtful: wind 230/200 | tas 300kt | altitude 11500 | route XHAR QHB V801 QEL XOLD
# A landing by night (civil twilight ends at 22:57Z) asks for 45 minutes.
dark-arrival: reserve 45min | off 23:30Z
dark-arrival: reserve 44min | off 23:30Z
    warning leg 4 16:30 XOLD at 23:59Z is by night (civil twilight ended 22:57Z, begins 06:30Z+1): this landing asks for a reserve of 45 min, and `reserve` states 44
dark-arrival: rules ifr | reserve 30min | off 23:30Z
# Sunset there is at 22:21Z (astral 22:20:57, dusk 22:57:46).
after-sunset: off 22:05Z
    note leg 4 16:30 XOLD at 22:34Z is 13 min after sunset, and night begins 22:57Z [by 2.7]
# 48.7 NM at 60 kt.
after-sunset: off 22:06Z | tas 60kt | wind calm
    note leg 4 16:30 XOLD at 22:55Z is 34 min after sunset, and night begins 22:57Z [by 5.7]
# On 21 December, 23.4 S, the noon sun is 0.6 degrees up at 66 N, and never up at 69 30 N, where there is no sunset.
after-sunset: date 2026-12-21 | off 14:20Z | rules vfr day | tas 300kt | wind calm | airport XHAR N66 00.00 W039 07.20 elev 790ft | airport XOLD N69 30.00 W039 20.00 elev 350ft | -station QHB | -station QEL | -airway V801 | -direct QHB | -direct QEL | route XHAR XOLD
    note leg 1 11:12 XOLD at 15:02Z is after sunset: the sun does not rise there [by 3.1]
# Thirty degrees farther west it is two hours later, on the next day: 00:20:53 and 00:57:41.
after-sunset: off 23:55Z | station QHB 113.70 N46 12.30 W069 20.70 decl 15W class L dme | station QEL 110.20 N45 44.10 W069 33.00 decl 17W class L dme | airport XHAR N46 14.50 W069 07.20 elev 790ft | airport XOLD N45 41.00 W069 20.00 elev 350ft
    note leg 4 16:30 XOLD at 00:24Z+1 is 3 min after sunset, and night begins 00:57Z+1 [by 1.3]
# Fuel is taken where the last leg to XOLD, of two with a descent, ends.
fuel-not-available: notices no_fuel.txt | aircraft climber.toml | -tas | -burn | altitude 3500 | -direct QEL | wind calm | route XHAR QHB V801 QEL XOLD land 20min fuel 30gal QEL
    warning leg 6 2:1 the log takes fuel at XOLD: !XHA 07/006 XOLD SVC FUEL NOT AVBL 2607181200-2607182000 [apart]
fuel-not-available: notices no_fuel.txt | route XOLD QEL V801 QHB XHAR land 20min fuel 30gal QHB
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_figures_that_are_doubted(flight: str, told: list[str]) -> None:
    assert told_of(flight, _FILES) == told
