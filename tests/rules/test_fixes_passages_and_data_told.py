"""What the rules on fixes, passages and data tell, whole.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Numbers are worked
beside the lines from what the flight states.
"""

from __future__ import annotations

from datetime import date

import pytest
from helpers.judged import case_of, table, told_of

from navlog.flightlog.records import Passage
from navlog.nav.chart import Bearing, Fix, Provenance, Source
from navlog.nav.guidance import Flag, StatedRadial
from navlog.nav.record import changed
from navlog.resolve.route import MarkKind
from navlog.rules.data import data_out_of_date, fix_computed, makeup_differs
from navlog.rules.fixes import poor_cut
from navlog.rules.passages import changeover_sum, course_easily_missed
from navlog.rules.registry import Found

_TOLD = """\
poor-cut: fix ROSKO QHB 160 x QEL 045 | route XHAR QHB ROSKO QEL/A055 XOLD
short-leg: fix LAKER N46 10.80 W039 21.60 | route XHAR QHB LAKER QEL/A055 XOLD
    warning leg 2 16:16 QHB and LAKER are 1.6 NM apart, 59 s
short-leg: fix LAKER N46 11.00 W039 19.50 | route XHAR QHB LAKER QEL/A055 XOLD | -wind
    warning leg 2 15:16 QHB and LAKER are 1.5 NM apart
short-leg: fix LAKER N46 10.80 W039 21.60 | route XHAR QHB LAKER V801 QEL/A055 XOLD | airway V801 QHB 212 - LAKER 1.6nm - 034 QEL 27.9nm
    warning leg 2 16:16 QHB and LAKER are 1.6 NM apart, 59 s
# 185 - 15 = 170 and 042 - 17 + 180 = 205: 35 degrees, once though the flight holds there. 160 and 090 cut well.
poor-cut: fix ROSKO QHB 185 x QEL 042 | route XHAR QHB ROSKO QEL/A055 XOLD | hold ROSKO 5min
    warning leg 2 16:16 the radials that mark ROSKO cross at 35 degrees: an error of 3.6 degrees moves it 2.5 NM [by 9.9]
poor-cut: fix ROSKO QHB 160 x QEL 090 | fix RAVEN QHB 185 x QEL 042 | route XHAR QHB ROSKO QHB RAVEN QEL/A055 XOLD
    warning leg 4 16:26 the radials that mark RAVEN cross at 35 degrees: an error of 3.6 degrees moves it 2.5 NM [by 9.9]
# OLDEN is 0.35 degrees of longitude due west of QPB, 14.7 NM; from 13' north and 22' east, 15.4 NM, the track is 230:
# 40 from 270, and 14.7 x sin 3.6 / sin 40 = 1.4 NM.
poor-cut: route 4543N03911W OLDEN | -direct QEL | -direct QHB
    note leg 1 14:19 QPB 285 cuts the track at OLDEN at 40 degrees: an error of 3.6 degrees moves it 1.4 NM along it [by 5.0]
# 2.0 NM at 120 kt are a minute, neither less; at 121 kt 59.5 s. A corner of 30 degrees (242 from 212) before or after.
short-leg: -direct QHB | -direct QEL | variation 13W | station QHB 113.70 | fix LAKER QHB 212 2nm | -airway V801 | direct QHB 212 - LAKER 2nm | route QHB LAKER | tas 120kt | wind calm
short-leg: -direct QHB | -direct QEL | variation 13W | station QHB 113.70 | fix LAKER QHB 212 2nm | -airway V801 | direct QHB 212 - LAKER 2nm | route QHB LAKER | tas 121kt | wind calm
    note leg 1 13:11 QHB and LAKER are 2.0 NM apart, 60 s
short-leg: -direct QHB | -direct QEL | station QHB 113.70 decl 15W | station QMM 115.00 decl 15W | fix LAKER QHB 212 1.9nm | -airway V801 | direct QHB 212 - LAKER 1.9nm | direct LAKER - 062 QMM 10nm | route QHB LAKER QMM | tas 120kt | wind calm
    warning leg 1 13:11 QHB and LAKER are 1.9 NM apart, 57 s
short-leg: -direct QHB | -direct QEL | station QHB 113.70 decl 15W | station QMM 115.00 decl 15W | fix LAKER QHB 212 1.9nm | -airway V801 | direct QHB 212 - LAKER 1.9nm | direct LAKER - 061 QMM 10nm | route QHB LAKER QMM | tas 120kt | wind calm
    note leg 1 13:11 QHB and LAKER are 1.9 NM apart, 57 s
short-leg: -direct QHB | -direct QEL | station QHB 113.70 decl 15W | station QMM 115.00 decl 15W | fix LAKER QMM 212 1.9nm | -airway V801 | direct QHB 182 - 002 QMM 10nm | direct QMM 212 - LAKER 1.9nm | route QHB QMM LAKER | tas 120kt | wind calm
    warning leg 3 13:15 QMM and LAKER are 1.9 NM apart, 57 s
# 214 to 124, digits changed over, also after a hold; 359 to 004 is 5 degrees.
course-easily-missed: -direct QHB | -direct QEL | variation 13W | station QHB 113.70 | station QEL 110.20 | station QSK 112.40 | airway V801 QHB 214 - 034 QEL 29.5nm | airway V802 QEL 124 - 304 QSK 30nm | route QHB V801 QEL V802 QSK | hold QEL 5min
    note leg 4 14:25 at QEL set 124 FROM QEL, which is easily read as 214
course-easily-missed: -direct QHB | -direct QEL | variation 13W | station QHB 113.70 | station QEL 110.20 | station QSK 112.40 | airway V801 QHB 359 - 179 QEL 29.5nm | airway V802 QEL 004 - 184 QSK 30nm | route QHB V801 QEL V802 QSK
    note leg 3 14:25 at QEL set 004 FROM QEL, 5 degrees from 359
# 13.5 + 13.4 = 26.9, 11 + 11 = 22; the first changeover has a figure from one side alone.
changeover-sum: station QSK 112.40 N45 20.00 W039 50.00 decl 17W class L | fix MARSH N45 32.00 W039 41.50 | airway V801 QHB 212 - 034 QEL 29.5nm 223 - MARSH 13.5nm cop 11 QEL - 040 QSK 13.4nm cop 11 QSK | route XHAR QHB V801 QSK | -direct QEL
    warning leg 4 15:16 QEL to QSK is 26.9 NM and the changeover point 11 from QEL and 11 from QSK: 22.0 NM together
# WMM2025 at QEL and XHAR on the day: 12.6W and 12.5W. A place that is not known has no variation.
variation-differs: variation 7E | station QHB 113.70 | route QHB V801 QEL XOLD | -direct QHB
    error flight 16:1 variation 7E is stated; the model's at QEL is 12.6W; is 7W meant?
variation-differs: variation 7E | alternate XHAR
    error flight 17:1 variation 7E is stated; the model's at XHAR is 12.5W; is 7W meant?
# What the route has told is not told again on the way to an alternate.
true-referenced: station QEL 110.20 N45 44.10 W039 33.00 decl true class L dme elev 410ft | airway V801 QHB 212 - 017 QEL 29.5nm | route XHAR QHB V801 QEL | -direct QEL | alternate QEL via XOLD
    note leg 3 15:21 QEL is aligned to true north: its radials and courses are true
fix-computed: route XHAR QHB V801 QEL/A055 MAKER XOLD | -direct QEL | alternate MAKER via XHAR
    warning leg 4 15:30 MAKER has no published position; it is placed by its make-up from QEL
compass-zone: route XHAR 74N095W | -direct QHB | alternate 74N095W via XHAR
    warning leg 1 15:12 7400N09500W lies in the caution zone of the magnetic model
compass-zone: route 74N095W 75N096W | -direct QHB
    warning leg 1 15:15 7400N09500W lies in the caution zone of the magnetic model
    warning leg 1 15:15 7500N09600W lies in the caution zone of the magnetic model
# QPB lies due east of OLDEN, which is so on 270 + 15 = 285 of it, less 0.1 for the great circle.
makeup-differs: route XHAR QHB V801 QEL/A055 OLDEN QPB OLDEN XOLD
    warning leg 4 16:30 OLDEN is published on QPB R-290 and lies on R-285 by its position: 4.9 degrees apart
makeup-differs: route XHAR QHB V801 QEL/A055 MAKER XOLD | -direct QEL
data-out-of-date: route XHAR QHB V801 QEL QPB XOLD | date 2026-09-18
    warning flight 1:1 NASR 2607 holds from 2026-07-09 until 2026-08-06, and the flight is on 2026-09-18
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_fixes_passages_and_data(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told


def test_data_without_a_cycle_or_a_date_is_told_as_far_as_it_is_known() -> None:
    case = case_of("date 2026-09-18")
    undated = Provenance(Source.OURAIRPORTS, verified=False)
    dated = Provenance(Source.NASR, None, date(2026, 7, 9), date(2026, 8, 6))
    route = changed(case.log.route, sources=(undated, dated))
    assert list(data_out_of_date.check(changed(case, log=changed(case.log, route=route)))) == [
        Found("NASR holds from 2026-07-09 until 2026-08-06, and the flight is on 2026-09-18", about="NASR")
    ]


def test_the_stations_that_place_a_fix_are_each_named_once() -> None:
    case = case_of("fix LAKER N45 30.00 W039 30.00", "route QHB LAKER", "-direct QHB", "-direct QEL")
    leg = case.first_legs[0]
    bearings = (Bearing("QEL", 157.0, 10.1, "VOR/DME"), Bearing("QEL", 157.0), Bearing("QPB", 285.0))
    fix = Fix("LAKER", leg.end.position, bearings, published=True, computed=True)
    placed = changed(leg, stretch=changed(leg.stretch, end=changed(leg.stretch.end, place=fix)))
    assert list(fix_computed.check(changed(case, first_legs=(placed,)))) == [
        Found("LAKER has no published position; it is placed by its make-up from QEL and QPB", placed, about="LAKER")
    ]


def test_every_way_in_which_the_start_of_an_alternate_is_reached_counts() -> None:
    # Arriving once without guidance and once on 212, left on 221: 9 degrees.
    case = case_of("fix LAKER QHB 221 30nm", "route XHAR QHB LAKER", "direct QHB 221 - LAKER 30nm")
    arriving, leaving = case.legs
    guidance = arriving.part.guidance
    assert guidance is not None
    inbound = changed(guidance, radial=StatedRadial(charted=32.0, computed=None), flag=Flag.TO)
    without, guided = (changed(arriving, part=changed(arriving.part, guidance=one)) for one in (None, inbound))
    begun = tuple(Passage(leg, 4500.0, False, None, 0, None, None) for leg in (without, guided))
    told = list(course_easily_missed.check(changed(case, legs=(leaving,), begun=begun)))
    assert told == [Found("at QHB set 221 FROM QHB, 9 degrees from 212", leaving)]


@pytest.mark.parametrize(("away_nm", "told"), [(29.0, False), (30.0, True)])
def test_one_distance_to_a_changeover_point_fits_between_its_stations(away_nm: float, told: bool) -> None:
    case = case_of("airway V801 QHB 212 - 034 QEL 29.5nm cop 11 QHB")
    ((leg, changeover),) = case.changeovers
    stated = changed(changeover, stated=((away_nm, "QHB"), (99.0, "QSK")))
    said = list(changeover_sum.check(changed(case, changeovers=((leg, stated),))))
    message = "QHB to QEL is 29.5 NM and the changeover point 30 NM from QHB"
    assert said == ([Found(message, leg)] if told else [])


def test_a_make_up_is_held_against_a_position_that_is_not_of_it() -> None:
    case = case_of("route 4543N03911W OLDEN", "-direct QHB", "-direct QEL")
    (leg,) = case.marked
    told = "on QPB R-290 and lies on R-285 by its position: 4.9 degrees apart"
    assert list(makeup_differs.check(case)) == [Found(f"OLDEN is published {told}", leg, about=f"OLDEN {told}")]
    fix = leg.stretch.end.fix
    assert fix is not None
    end = changed(leg.stretch.end, place=changed(fix, computed=True))
    placed = changed(leg, stretch=changed(leg.stretch, end=end))
    assert list(makeup_differs.check(changed(case, marked=(placed,)))) == []


def test_the_radial_that_marks_a_published_fix_counts_beside_a_dme() -> None:
    case = case_of("route 4543N03911W OLDEN", "-direct QHB", "-direct QEL")
    (leg,) = case.legs
    by_dme = changed(leg.marks[0], by=changed(leg.marks[0].by, kind=MarkKind.DME))
    for marks, told in (((leg.marks[0], by_dme), 1), ((by_dme, leg.marks[0]), 0)):
        assert len(list(poor_cut.check(changed(case, legs=(changed(leg, marks=marks),))))) == told
