"""High ground invented beside a flight from XLO at 500 ft, for the tests of the rules on terrain.

The aeroplane climbs 400 ft a mile (600 ft/min at 90 kt) to 4,500 ft, 10 NM out of the 30 to QAA, and goes on level to
QBB: 2,500 ft are planned 5 NM out.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from helpers.drawn import reports

from navlog.flightlog.planning import plan
from navlog.flightlog.records import Log
from navlog.nav.chart import Position
from navlog.nav.clearance import Abeam, Below
from navlog.nav.record import changed
from navlog.nav.terrain import Spot
from navlog.request.aircraft import Aircraft, Figures, PhaseTable
from navlog.resolve.ground import Ground, InBand
from navlog.rules.registry import Finding
from navlog.rules.report import judge

CLIMBER = Aircraft(
    "Climber",
    "climber.toml",
    PhaseTable("cruise", ((Figures(120.0, 9.0),),)),
    PhaseTable("climb", ((Figures(90.0, 12.0, 600.0),),)),
)
_HERE = Position(46.0, -39.0)


def flown(rules: str = "ifr", minimum: str = "", beyond: str = " QBB", first_nm: int = 30) -> Log:
    """The flight, under some rules, with what is stated of its first leg and the way beyond QAA."""
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nairport XLO N46 00.00 W039 00.00 elev 500ft\n"
        f"direct QAA 270 - XLO {first_nm}nm {minimum}\ndirect QAA 090 - 270 QBB 30nm\ndate 2026-07-18\nvariation 0E\n"
        f"wind calm\ntas 120kt\nrules {rules}\naltitude 4500\nroute XLO QAA{beyond}\n"
    )
    return plan(report.log.route, changed(report.log.conditions, aircraft=CLIMBER))


def spot(along_nm: float, height_ft: float, tolerance_ft: float | None = None, away_nm: float = 1.2) -> Spot:
    """A high place so far along a stretch and right of it."""
    return Spot(_HERE, height_ft, tolerance_ft, along_nm, away_nm, away_nm, "N46W039.hgt")


def piece(along_nm: float, top: Spot | None, on_course: Spot | None = None, minimum_ft: float | None = None) -> Abeam:
    """What is abeam of the mile before and the mile after a place."""
    return Abeam(along_nm - 1.0, along_nm + 1.0, on_course, top, minimum_ft, False)


def below(log: Log, stretch: int, **fields: Any) -> Log:
    """The log with what lies below one of its stretches."""
    (old,) = {id(leg.stretch): leg.stretch for leg in log.legs if leg.stretch.number == stretch}.values()
    new = changed(old, **fields)
    return changed(log, legs=tuple(changed(leg, stretch=new) if leg.stretch is old else leg for leg in log.legs))


def told(rule: str, log: Log) -> list[Finding]:
    """What one rule finds."""
    return [one for one in judge(log).findings if one.rule == rule]


def ground(top: Spot, minimum_ft: float, band: InBand | None = None) -> Ground:
    """A ground of one part with its highest place, the minimum over it and what is within the guidance's error."""
    part: Any = SimpleNamespace(
        start_nm=0.0, end_nm=30.0, band=band, below=Below(top, None, True, False, 1000.0, minimum_ft, (), ())
    )
    return Ground(None, (part,), top, None, True, 1000.0, False, minimum_ft, (), ())


def arriving() -> Log:
    """From QAA on to XHI at 1,000 ft, 40 NM: 250 ft a mile down, from 26 NM on; 30 NM out 3,500 ft are planned."""
    (report,) = reports(
        "station QAA 113.00 decl 0E\nairport XLO N46 00.00 W039 00.00 elev 500ft\n"
        "airport XHI N46 00.00 W038 00.00 elev 1000ft\ndirect QAA 270 - XLO 30nm\ndirect QAA 090 - XHI 40nm\n"
        "date 2026-07-18\nvariation 0E\nwind calm\ntas 120kt\nrules ifr\naltitude 4500\nroute XLO QAA XHI\n"
    )
    book = changed(CLIMBER, descent=PhaseTable("descent", ((Figures(120.0, 6.0, 500.0),),)))
    return plan(report.log.route, changed(report.log.conditions, aircraft=book))
