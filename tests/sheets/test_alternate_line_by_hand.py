"""The line of an alternate on the front, worked by hand: 120 kt in no wind, 12 gal an hour, 2 NM a minute."""

from __future__ import annotations

import pytest
from helpers.drawn import reports

from navlog.flightlog.planning import plan
from navlog.nav.record import changed
from navlog.printed.meant import MARK
from navlog.printed.page import Printed
from navlog.request.aircraft import Aircraft, Figures, PhaseTable
from navlog.rules.report import judge

PLACES = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "airport XAA N46 00.00 W039 00.00 elev 500ft\nairport XCC N46 00.00 W038 00.00 elev 500ft\n"
    "direct QAA 270 - XAA 20nm min 2000\ndirect QAA 360 - 180 QBB 30nm min 3000\ndirect QBB 090 - 270 QCC 20nm\n"
    "direct QCC 360 - XCC 10nm min 2500\ndirect XAA - FIXA 4nm course 090M\ndirect FIXA - 270 QBB 6nm\n"
    "fix FIXA QBB 270 6nm\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\ntas 120kt\nburn 12gph\nfuel 30gal\nrules ifr\naltitude 4500\n"
    "wind calm\n"
)
BOOK = Aircraft(
    "Book", "b.toml", PhaseTable("cruise", ((Figures(120.0, 12.0),),)),
    PhaseTable("climb", ((Figures(90.0, 12.0, 600.0),),)), PhaseTable("descent", ((Figures(120.0, 6.0, 500.0),),)),
)  # fmt: skip


def lines(text: str) -> tuple[str, ...]:
    (report,) = reports(PLACES + text)
    return Printed.of(report).alternate_lines


@pytest.mark.parametrize(
    ("text", "line"),
    [
        # 10 NM from QCC on its 360 radial; the route goes there from QAA over QBB.
        (
            "alternate XCC\nroute QAA QBB QCC\n",
            "ALTN XCC from QCC: QCC 115.00 360 FROM, HDG 360, 4500 ft, 10.0 NM 0:05 1.0 gal",
        ),
        # 20 and 10 NM at the level stated for them; the first course is the one along 090.
        (
            "alternate XCC from QBB via QCC at 6500\nroute QAA QBB\n",
            "ALTN XCC from QBB: QBB 114.00 090 FROM, HDG 090, 6500 ft, 30.0 NM 0:15 3.0 gal",
        ),
        (
            "alternate XCC from QBB via QCC at FL075\nlevels icao\naltimeter 1013hPa\nroute QAA QBB\n",
            "ALTN XCC from QBB: QBB 114.00 090 FROM, HDG 090, FL075, 30.0 NM 0:15 3.0 gal",
        ),
    ],
)
def test_an_alternate_has_its_first_course_level_distance_time_and_fuel_in_a_line(text: str, line: str) -> None:
    assert lines(text) == (line,)


def test_without_one_that_is_said() -> None:
    assert lines("route QAA QBB\n") == ("no alternate stated",)


def test_the_level_is_the_highest_that_is_flown_or_climbed_to() -> None:
    """From 4,500 ft at QBB 800 ft are climbed in the 2 NM to NEAR, 2,000 in 5 NM, and all is lost before XCC."""
    near = "fix NEAR QBB 090 2nm\ndirect QBB - NEAR 2nm\ndirect NEAR - 270 QCC 18nm\n"
    (report,) = reports(PLACES + near + "alternate XCC from QBB via NEAR QCC at 6500\nroute QAA QBB\n")
    log = plan(report.log.route, changed(report.log.conditions, aircraft=BOOK))
    (line,) = Printed.of(judge(log)).alternate_lines
    assert ", 6500 ft, 30.0 NM " in line


def test_a_course_that_is_set_later_is_told_with_its_place() -> None:
    """From XAA to FIXA a magnetic course is flown by the compass; 4, 6, 20 and 10 NM."""
    (line,) = lines("alternate XCC from XAA via FIXA QBB QCC\nroute QAA XAA\n")
    assert (
        line.replace(MARK, "") == "ALTN XCC from XAA: QBB 114.00 090 TO at FIXA, HDG 090, 4500 ft, 40.0 NM 0:20 4.0 gal"
    )
