"""What is told where a course, a wind, fuel or a minimum is not known, each finding whole."""

from __future__ import annotations

from datetime import date

import pytest
from helpers.judged import judged_text, lines, table, told_of

from navlog.nav.chart import Airway, BothWays, Fix, Position, Provenance, Segment, Source
from navlog.rules.samples import SampleCatalogue, sample

_TOLD = """\
no-fuel: -burn | -fuel
    warning flight 1:1 no `burn` and `fuel` given: fuel left is unknown and the reserve is not tested
no-fuel: -burn
    warning flight 1:1 no `burn` given: fuel left is unknown and the reserve is not tested
no-fuel: -fuel
    warning flight 1:1 no `fuel` given: fuel left is unknown and the reserve is not tested
# Without a wind no time is known and so no fuel, but a burn is given.
no-fuel: -wind
no-wind: -wind
    warning flight 1:1 no wind given: headings, groundspeed, times and fuel are unknown
no-off: -off
    warning flight 1:1 no take-off time given: only elapsed times are known
# Up to a mile nobody sets a course.
course-unknown: station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | -direct QHB | -direct QEL | route QHB QEL | -airway V801 | direct QHB - QEL 1.1nm | variation 13W
    warning leg 1 13:11 no course to set for QHB: no position and no charted radial
    warning leg 2 13:11 no course to set for QEL: no position and no charted radial
course-unknown: station QHB 113.70 decl 15W | station QEL 110.20 decl 17W | -direct QHB | -direct QEL | route QHB QEL | -airway V801 | direct QHB - QEL 1nm | variation 13W
course-unknown: station QHB 113.70 | station QEL 110.20 | -direct QHB | -direct QEL | route QHB QEL | -airway V801 | direct QHB - QEL 30nm | variation 13W
    warning leg 1 13:11 no course to set for QHB: its declination is not given and no radial is charted
    warning leg 2 13:11 no course to set for QEL: its declination is not given and no radial is charted
# Once a stretch, though both of its stations guide it.
variation-unknown: station QHB 113.70 decl true | station QEL 110.20 decl true | station QSK 112.40 decl true | -direct QHB | -direct QEL | -airway V801 | direct QHB 199 - 019 QEL 29.5nm | direct QEL 109 - 289 QSK 20nm | route QHB QEL QSK | hold QEL 5min
    warning leg 1 13:11 no magnetic heading is known from QHB to QEL: no position, no `variation`, and QHB is aligned to true north
    warning leg 4 13:15 no magnetic heading is known from QEL to QSK: no position, no `variation`, and QEL is aligned to true north
# Great circles by geographiclib: 51.27 and 70.08 true at the two ends of the first, 84.88 and 95.02 true of the second;
# the variation of 13 W is added. The third is 20' shorter, and turns by 9.9 degrees.
course-turns: variation 13W | route XHAR 5500N01500W QHB | -direct QHB | -direct QEL
    warning leg 1 14:12 the magnetic course goes from 064 to 083 on one heading [by 18.8]
course-turns: variation 13W | route XHAR 4614N02500W XHAR | -direct QHB | -direct QEL
    warning leg 1 14:12 the magnetic course goes from 098 to 108 on one heading [by 10.2]
    warning leg 2 14:24 the magnetic course goes from 288 to 278 on one heading [by 10.2]
course-turns: variation 13W | route XHAR 4614N02520W | -direct QHB | -direct QEL
# Without positions nothing turns.
course-turns: -airway V801 | -direct QHB | -direct QEL | station QHB 113.70 decl true | fix MARSH QHB 212 9nm | fix LAKER QHB 090 90nm | direct MARSH - LAKER 900nm course 060T | route MARSH LAKER
no-guidance: -airway V801 | -direct QHB | -direct QEL | station QHB 113.70 decl true | fix MARSH QHB 212 9nm | fix LAKER QHB 090 90nm | direct MARSH - LAKER 110nm course 060T | route MARSH LAKER | wind calm
    warning leg 1 13:13 dead reckoning for 110.0 NM of MARSH to LAKER, heading 060 true for 60 min: no station's radial leads along this part [by 110.0]
no-guidance: -airway V801 | -direct QHB | -direct QEL | station QHB 113.70 decl true | fix MARSH QHB 212 9nm | fix LAKER QHB 090 90nm | direct MARSH - LAKER 110nm course 060T | route MARSH LAKER | wind 060/120
    warning leg 1 13:13 dead reckoning for 110.0 NM of MARSH to LAKER: no station's radial leads along this part [by 110.0]
changeover-unknown: fix LAKER N46 02.00 W039 10.00 | fix MOORE N45 48.00 W039 45.00 | airway V801 QHB - LAKER 12.7nm mea 3000 turn - MOORE 28.2nm mea 3000 turn - QEL 9.4nm mea 3000
    warning leg 2 16:16 the changeover point between QHB and QEL is not known
station-class-unknown: station QEL 110.20 N45 44.10 W039 33.00 decl 17W dme elev 410ft | station QHB 113.70 N46 12.30 W039 20.70 decl 15W dme elev 820ft | route XHAR QHB DCT QEL XOLD
    note leg 2 16:20 the changeover point is midway: the service volume of QHB and QEL is not known
station-class-unknown: station QEL 110.20 N45 44.10 W039 33.00 decl 17W dme elev 410ft | route XHAR QHB DCT QEL XOLD
    note leg 2 16:20 the changeover point is midway: the service volume of QEL is not known
changeover-not-in-source: route XHAR QHB QCA V803 QCB XOLD
    warning leg 4 16:25 the changeover point between QCA and QCB is not in this source; midway is convention alone
airway-joins: route XHAR QHB QEL XOLD
    note leg 2 16:16 V801 joins QHB and QEL; direct is planned
minimum-unknown: rules ifr | terrain terrain | airport XOLD N44 58.00 W039 20.00 elev 350ft | -direct QEL
    warning leg 4 15:30 no minimum altitude is known for the 47.0 NM from QEL to XOLD, nor one by terrain: no terrain of N44W040
minimum-unknown: rules ifr | terrain terrain | -direct QEL | route XHAR QHB V801 QEL/A055 4430N04112W
    warning leg 4 15:30 no minimum altitude is known for the 102.0 NM from QEL to 4430N04112W, nor one by terrain: no terrain of N44W042, no terrain of N44W041
minimum-unknown: rules ifr | terrain terrain | airway V801 QHB 212 - 034 QEL 29.5nm cop 11 QHB
    warning leg 2 16:21 no minimum altitude is known for the 29.5 NM from QHB to QEL, and terrain makes one for direct legs alone
terrain-unknown: terrain terrain | -direct QEL | route XHAR QHB V801 QEL/A055 4430N04112W
    warning leg 4 15:30 the ground from QEL to 4430N04112W is not known: no terrain of N44W042, no terrain of N44W041
obstacles-unknown: terrain terrain
    note flight 1:1 no obstacles are known: towers and masts are not in the minimums by terrain
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_a_rule_tells_of_what_is_not_known(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told


class _Bent(SampleCatalogue):
    """An airway of coded data that bends once between its two stations, QCA and QCB."""

    def airways(self, ident: str, day: date) -> tuple[Airway, ...]:
        coded = Provenance(Source.CIFP, "2607", date(2026, 7, 9), date(2026, 8, 6))
        bend = Fix("BENDY", Position(45.75, -39.15), published=True, provenance=coded)
        (start,), (end,) = self.stations("QCA", day), self.stations("QCB", day)
        high = BothWays(3000.0, 3000.0)
        legs = (Segment("QCA", "BENDY", mea=high), Segment("BENDY", "QCB", mea=high))
        return (
            (Airway("V804", ("QCA", "BENDY", "QCB"), legs, (start, bend, end), provenance=coded),)
            if ident == "V804"
            else ()
        )


def test_of_coded_data_the_changeover_at_a_bend_is_convention_alone() -> None:
    # 14 CFR 95.8001 leaves out changeovers midway and at the bend of a dogleg.
    flight = sample("route XHAR QHB QCA V804 QCB XOLD")
    assert lines("changeover-not-in-source", judged_text(flight, _Bent())) == [
        "warning leg 4 16:20 the changeover point between QCA and QCB is not in this source; at the bend is convention"
        " alone"
    ]
