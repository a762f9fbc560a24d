"""What the rules tell of wind and fuel, each finding whole, where a figure is just enough and where it is not.

The samples' flight burns 4.04 gal to XOLD and 2.46 from there to XHAR; a gallon is for taxi.
"""

from __future__ import annotations

import pytest
from helpers.judged import judged_text, lines, table, told_of

from navlog.resolve.lookup import NoCatalogue
from navlog.rules.samples import FILES

_OWN_FILES = {
    **FILES,
    "hand.toml": 'name = "By hand"\n[climb]\ntas_kt = 90\nrate_ft_per_min = 600\nburn_gal_per_h = 12\n'
    "[cruise]\ntas_kt = 120\nburn_gal_per_h = 9\n",
}

_TOLD = """\
# 18 degrees off the course of 197: 18.5 kt across and 57.1 ahead; of 110 kt 108.4 - 57.1 = 51.3 are left.
slow-groundspeed: wind 215/60
    warning leg 2 16:21 groundspeed 51 kt of 110 kt true airspeed [by 58.6]
    warning leg 3 16:21 groundspeed 51 kt of 110 kt true airspeed [by 58.6]
slow-groundspeed: -wind
# The climb from XHAR begins 3,710 ft under the lowest wind, and does not count; the level flown is at it.
wind-beyond-heights: aircraft hand.toml | -tas | -burn | wind 4500 230/12 9000 240/18 | route XHAR QHB V801 QEL XOLD
# 7501 - 4500 = 3001; told once, not of the way to the alternate too.
wind-beyond-heights: wind 7501 230/12 9000 240/18 | route XHAR QHB V801 QEL XOLD | alternate XHAR
    warning leg 1 16:12 the nearest wind is 3001 ft away in height
# Along the meridian a minute is a mile: 46 30 - 43 29 = 181.
wind-far: wind at 4329N03920W 230/12 | fix MIDDL N45 45.00 W039 20.00 | fix UPPER N46 00.00 W039 20.00 | fix LAKER N46 30.00 W039 20.00 | route MIDDL UPPER LAKER
    warning leg 2 16:19 the nearest wind is that at 4329N03920W, 181 NM from LAKER
# 30 min at 8.5 gal/h are 4.25 gal, less 2.96 and 0.50 left.
reserve: fuel 8gal | route XHAR QHB V801 QEL/A055 XOLD land 45min XHAR
    error leg 4 16:30 2.9 gal left at XOLD, and the reserve is 30 min, 4.3 gal (14 CFR 91.151 day) [by 1.3]
    error leg 5 16:46 0.4 gal left at XHAR, and the reserve is 30 min, 4.3 gal (14 CFR 91.151 day) [by 3.8]
reserve: fuel 8gal | rules vfr night | reserve 30min
    error leg 4 16:30 2.9 gal left at XOLD, and the reserve is 45 min, 6.4 gal by 14 CFR 91.151 night, whatever `reserve` states [by 3.4]
# Without a burn nothing is known of fuel.
reserve: fuel 8gal | -burn
reserve-under-rule: reserve 30min | rules vfr
reserve-under-rule: reserve 29.5min | rules vfr
    warning flight 17:1 the stated reserve of 29.5 min is under the 30 min of 14 CFR 91.151 day
# On the route, and on the way to an alternate that begins with what is left there: 0.46 gal, nothing, less than that.
fuel-below-zero: fuel 5.5gal | alternate XHAR
    error alternate XHAR leg 1 17:11 the fuel runs out before XHAR
fuel-below-zero: fuel 5gal | alternate XHAR
    error leg 4 16:30 the fuel runs out before XOLD
fuel-below-zero: fuel 4gal | route XHAR QHB V801 QEL/A055 XOLD land 45min fuel 30gal XHAR
    error leg 3 16:21 the fuel runs out before QEL
fuel-over-usable: aircraft climber.toml | fuel 42.06gal | route XHAR QHB V801 QEL XOLD land 30min fuel 41.09gal XHAR
    error flight 14:1 42.0 gal of fuel is more than the aircraft file's usable 40.0 gal
    error leg 5 16:25 41.0 gal of fuel at XOLD is more than the aircraft file's usable 40.0 gal
# 160 L of 3.785411784 L a gallon are 42.27; 40 gal are 151.4.
fuel-over-usable: aircraft climber.toml | fuel 160L
    error flight 14:1 160 L of fuel is more than the aircraft file's usable 151 L
no-alternate: rules ifr
    warning flight 1:1 no alternate is given; it may be left out only where ceiling and visibility allow
no-alternate: rules ifr | alternate XHAR
no-alternate: rules vfr
# With a declination of 21.0 the sun is 6 degrees down 8:14 after noon, 14:43Z, at XOLD and 8:17 at XHAR.
dark-arrival: rules ifr | reserve 30min | off 23:30Z
dark-arrival: rules vfr | off 23:30Z
dark-arrival: rules vfr day | off 23:30Z | alternate XHAR
    warning leg 4 16:30 XOLD at 23:59Z is by night (civil twilight ended 22:57Z, begins 06:30Z+1): this landing asks for a reserve of 45 min, and `rules vfr day` states 30
    warning alternate XHAR leg 1 18:11 XHAR at 00:16Z+1 is by night (civil twilight ended 22:59Z, begins 06:27Z+1): this landing asks for a reserve of 45 min, and `rules vfr day` states 30
dark-arrival: rules vfr day | -off
# On 18 December the sun is 23.4 degrees south, 18 below the horizon at noon at 85 N: no civil twilight.
dark-arrival: rules vfr day | date 2026-12-18 | -direct QHB | -direct QEL | -airway V801 | station QHB 113.70 N85 00.00 W039 20.70 decl true | airport XHAR N84 45.00 W039 20.70 elev 0ft | route QHB XHAR | variation 0E
    warning leg 1 13:11 XHAR at 15:19Z is by night: this landing asks for a reserve of 45 min, and `rules vfr day` states 30
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_a_rule_tells_of_wind_and_fuel(flight: str, told: list[str]) -> None:
    assert told_of(flight, _OWN_FILES) == told


_STILL = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "airport XDD N46 00.00 W039 00.00 elev 0ft\nairport XEE N46 30.00 W039 00.00 elev 0ft\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\naltitude 3500\ntas 120kt\nburn 8gph\nrules vfr day\n"
    "direct QAA 090 - 270 QBB 61nm\ndirect QBB 090 - XEE 15nm\n"
)
_BACK = "route QAA QBB XEE land 30min fuel 40gal QBB QAA\n"
_DAY = "(14 CFR 91.151, day as stated by `rules vfr day`)"
_KEPT = f"break the reserve of 30 min, 4.0 gal {_DAY}"
_SHORT = "gal short of what the flight wants to have at"


# 120 kt and 8 gal/h: a gallon in 15 NM, 4.07 gal to QBB, 1 on to XEE; half an hour's 4 gal are kept.
@pytest.mark.parametrize(
    ("rule", "text", "told"),
    [
        # Printed, used rounds up and what is on board down: 12.0 - 4.1; 61 NM more are 4.07 to XDD.
        (
            "alternate-reserve",
            "direct QBB 180 - XDD 61nm\nalternate QBB via XDD\nroute QAA QBB XEE\nfuel 12.09gal\n",
            [f"error leg 2 18:11 7.9 gal left at QBB and 4.1 gal to XDD {_KEPT}"],
        ),
        # 4.5 - 4.07 at the first passage of QBB; at the second 39 of the 40 gal taken.
        (
            "alternate-reserve",
            f"direct QBB 180 - XDD 60nm\nalternate QBB via XDD\n{_BACK}fuel 4.5gal\n",
            [f"error leg 2 18:11 0.4 gal left at QBB and 4.0 gal to XDD {_KEPT}"],
        ),
        ("alternate-reserve", f"direct QBB 180 - XDD 60nm\nalternate QBB via XDD\n{_BACK}fuel 4gal\n", []),
        # Nothing is known of the fuel before the stop; from it on 5 of 6 gal are left at QBB.
        (
            "alternate-reserve",
            f"direct QBB 180 - XDD 60nm\nalternate QBB via XDD\n{_BACK.replace('40gal', '6gal')}",
            [f"error leg 4 18:40 5.0 gal left at QBB and 4.0 gal to XDD {_KEPT}"],
        ),
        # Tanks that run dry on the way are told there: 8 gal are less than the 10 that 150 NM take.
        ("alternate-reserve", "direct QBB 180 - XDD 150nm\nalternate QBB via XDD\nroute QAA QBB XEE\nfuel 12gal\n", []),
        # At the stop both what is left there and what is taken: 6.05 gal are not 6.1.
        (
            "alternate-reserve",
            "direct XEE - XDD 60nm\nalternate XEE via XDD\nroute QAA QBB XEE land 30min fuel 6.05gal QBB\nfuel 30gal\n",
            [f"error leg 3 18:15 6.0 gal on board after fuelling at XEE and 4.0 gal to XDD {_KEPT}"],
        ),
        # The reserve is broken at the destination before the alternate is begun; `reserve` says so.
        ("alternate-reserve", "direct XEE - XDD 60nm\nalternate XDD\nroute QAA QBB XEE\nfuel 9gal\n", []),
        (
            "reserve",
            "direct XEE - XDD 60nm\nalternate XDD\nroute QAA QBB XEE\nfuel 9gal\n",
            [f"error leg 3 18:15 3.9 gal left at XEE, and the reserve is 30 min, 4.0 gal {_DAY} [by 0.1]"],
        ),
        # 16 gal less 4.07, 4 to XDD, 4 kept are 3.93, and 4 extra are wanted: 0.07 short, on the first filling.
        (
            "contingency-short",
            f"direct QBB 180 - XDD 60nm\nalternate QBB via XDD\n{_BACK}fuel 16gal\nextra 4gal\n",
            [f"warning leg 2 18:11 0.1 {_SHORT} the alternate XDD"],
        ),
        # 13 less 4.07, 4.6 over QCC to XDD and 4 + 4 to keep: 3.67 short; at XEE 0.07 would be. It is the last filling.
        (
            "contingency-short",
            "direct QBB 180 - 360 QCC 60nm\ndirect QCC 180 - XDD 9nm\nalternate QBB via QCC XDD\nroute QAA QBB XEE\n"
            "fuel 13gal\nextra 4gal\n",
            [f"warning flight 1:1 3.7 {_SHORT} the alternate XDD"],
        ),
        # Half of the 4.07 gal to QBB are 2.03: as printed 11.9 - 4.1 - 2.0 - 2.1 - 4.0. At XEE nothing is short.
        (
            "contingency-short",
            f"direct QBB 180 - XDD 30nm\nalternate QBB via XDD\n{_BACK}fuel 11.9gal\ncontingency 50%\n",
            [f"warning leg 2 18:11 0.3 {_SHORT} the alternate XDD"],
        ),
        # Of two as far away the first named.
        (
            "contingency-short",
            "airport XFF N46 10.00 W039 00.00 elev 0ft\ndirect QBB 180 - XDD 60nm\ndirect QBB 170 - XFF 60nm\n"
            "alternate QBB via XFF\nalternate QBB via XDD\nroute QAA QBB XEE\nfuel 13gal\nextra 4gal\n",
            [f"warning flight 1:1 3.1 {_SHORT} the alternate XFF"],
        ),
        # Two printed steps of 0.1 gal less than 24.93 left.
        (
            "fuel-drops",
            "route QAA QBB XEE land 30min fuel 24.69gal QBB\nfuel 30gal\n",
            ["warning leg 3 16:15 24.6 gal at the take-off from XEE, and 24.9 gal are left on landing"],
        ),
        ("fuel-drops", "route QAA QBB XEE land 30min fuel 24.74gal QBB\nfuel 30gal\n", []),
    ],
)
def test_fuel_that_is_just_there_or_a_little_short(rule: str, text: str, told: list[str]) -> None:
    assert lines(rule, judged_text(_STILL + text, NoCatalogue())) == told
