"""Poor cuts, with the miles they cost, and legs too short to fly."""

from __future__ import annotations

import pytest
from helpers.judged import case_of, found

from navlog.nav.accuracy import FAA
from navlog.nav.chart import Provenance, Source
from navlog.nav.record import changed
from navlog.rules.fixes import short_leg

# Practice case A28: a radial from 30 NM with TERPS' 3.6 degrees of crossing error.
A28 = [(90, 1.9), (45, 2.7), (30, 3.8), (20, 5.5), (15, 7.3)]


@pytest.mark.parametrize(("cut_deg", "error_nm"), A28)
def test_a28_a_crossing_radial_from_30_nm_moves_a_fix_by_so_much(cut_deg: float, error_nm: float) -> None:
    assert FAA.radial_nm(30.0, cut_deg) == pytest.approx(error_nm, abs=0.05)


def crossed(cut_deg: int, *more: str) -> list[str]:
    """A fix 20 NM south of QHB that a radial of a station 30 NM from it crosses at this angle."""
    # Both stations are aligned to true north but for the word, so radials are true bearings; 0.5 degrees
    # of meridian convergence at most.
    from navlog.nav import earth
    from navlog.nav.angles import position_text
    from navlog.nav.chart import Position

    fix = earth.direct(Position(46.205, -39.345), 180.0, 20.0)
    other = earth.direct(fix, 180.0 + cut_deg, 30.0)
    radial = round(earth.inverse(other, fix).course_deg) % 360 or 360
    return found(
        "poor-cut",
        "station QHB 113.70 N46 12.30 W039 20.70 decl 0E class L elev 0ft",
        f"station QSK 112.40 {position_text(other)} decl 0E class L dme elev 0ft",
        f"fix ROSKO QHB 180 x QSK {radial:03d}",
        "route QHB ROSKO",
        *more,
    )


@pytest.mark.parametrize(
    ("cut_deg", "severity"), [(60, None), (47, None), (43, "warning"), (32, "warning"), (28, "error")]
)
def test_a28_under_45_degrees_is_a_warning_and_under_30_an_error(cut_deg: int, severity: str | None) -> None:
    told = crossed(cut_deg)
    assert [one.split(":")[0] for one in told] == ([] if severity is None else [severity])


def test_a28_the_miles_along_track_are_said() -> None:
    (told,) = crossed(40)
    # 30 NM x sin 3.6 / sin 40 = 2.93 NM.
    assert "cross at 40 degrees: an error of 3.6 degrees moves it 2.9 NM" in told


def test_a_fix_by_position_has_the_cut_of_the_station_that_marks_it() -> None:
    from navlog.nav import earth
    from navlog.nav.angles import position_text
    from navlog.nav.chart import Position

    fix = earth.direct(Position(46.205, -39.345), 180.0, 20.0)
    other = earth.direct(fix, 180.0 + 40.0, 30.0)
    (told,) = found(
        "poor-cut",
        "station QHB 113.70 N46 12.30 W039 20.70 decl 0E class L elev 0ft",
        f"station QSK 112.40 {position_text(other)} decl 0E class L elev 0ft",
        f"fix ROSKO {position_text(fix)}",
        "airway V801 QHB 180 - ROSKO 20nm mea 3000",
        "route QHB V801 ROSKO",
        "-station QEL",
        "-airport XOLD",
        "-direct QEL",
    )
    assert "cross at 40 degrees: an error of 3.6 degrees moves it 2.9 NM" in told


def test_a_fix_that_dme_marks_has_no_cut() -> None:
    by_dme = (
        "station QHB 113.70 N46 12.30 W039 20.70 decl 0E class L dme elev 0ft",
        "equipment vor 1 dme 1",
        "fix ROSKO N45 52.00 W039 20.70",
    )
    assert crossed(28, *by_dme) == []


SHORT = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft"


@pytest.mark.parametrize(
    ("south_min", "told"),
    [(1.0, True), (1.9, True), (2.1, False)],
)
def test_a64_points_less_than_2_nm_apart_are_a_short_leg(south_min: float, told: bool) -> None:
    # A minute of latitude is a mile; 1.85 NM at 110 kt are over a minute.
    fix = f"fix LAKER N46 {12.3 - south_min:04.1f} W039 20.70"
    some = found("short-leg", fix, "route XHAR QHB LAKER QEL/A055 XOLD", "wind calm")
    assert bool(some) is told
    if told:
        assert some[0].startswith(f"warning: QHB and LAKER are {south_min:.1f} NM apart")


def test_a64_1_nm_at_110_kt_is_33_seconds() -> None:
    (told,) = found("short-leg", "fix LAKER N46 11.30 W039 20.70", "route XHAR QHB LAKER QEL/A055 XOLD", "wind calm")
    assert told == "warning: QHB and LAKER are 1.0 NM apart, 33 s"


def test_points_in_line_are_a_note() -> None:
    chart = "airway V801 QHB 212 - LAKER 1.5nm mea 3000 - 034 QEL 28nm mea 3000"
    fix = "fix LAKER N46 11.03 W039 21.36"
    (told,) = found("short-leg", chart, fix, "route QHB V801 QEL")
    assert told.startswith("note: QHB and LAKER are 1.5 NM apart")


def test_a_fast_aeroplane_covers_more_than_2_nm_in_less_than_a_minute() -> None:
    fix = "fix LAKER N46 09.30 W039 20.70"
    flight = (fix, "route XHAR QHB LAKER QEL/A055 XOLD", "wind calm", "tas 200kt")
    (told,) = found("short-leg", *flight)
    assert told == "warning: QHB and LAKER are 3.0 NM apart, 54 s"


def test_departure_and_arrival_may_be_short() -> None:
    near = "airport XHAR N46 12.30 W039 19.70 elev 790ft"
    assert found("short-leg", near, "direct QHB - XHAR 0.7nm") == []


ABEAM = (
    "rules ifr",
    "equipment vor 1",
    "station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L elev 150ft",
    "fix MARSH N46 04.00 W039 24.23 mra 6000",
    "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000",
)
"""QSK, 25 NM beside the airway, marks MARSH; nothing else does, as the flight has no DME."""


def test_a_fix_whose_crossing_radial_is_out_is_found_by_the_clock_under_ifr() -> None:
    """14 CFR 95.1: the MRA is the lowest altitude at which the intersection can be determined by radio."""
    clock = "MARSH is found by the clock alone: no DME and no radial across the way tells it"
    mra = "; its MRA of 6000 ft is for a crossing radial"
    assert found("under-mra", *ABEAM) != []
    assert found("fix-by-time", *ABEAM) == []
    # One that is out marks nothing, so that the MRA asks for nothing: the error must not leave a clean sheet.
    out = (*ABEAM, "unavailable QSK")
    assert found("under-mra", *out) == []
    assert found("fix-by-time", *out) == [f"warning: {clock}; QSK is out of service{mra}"]
    # Nor does a fix without an MRA, or one of which the station was never there.
    plain = "fix MARSH N46 04.00 W039 24.23"
    assert found("fix-by-time", *out, plain) == [f"warning: {clock}; QSK is out of service"]
    assert found("fix-by-time", *ABEAM, "station QSK 112.40 N44 30.00 W038 50.00 decl 14W class L elev 150ft") == [
        f"warning: {clock}{mra}"
    ]


def test_no_fix_by_time_where_nothing_marked_it_dme_does_or_the_flight_is_visual() -> None:
    out = (*ABEAM, "unavailable QSK")
    # 95 NM and more to the south: farther than a cross radial is counted on, so nothing is missing by its outage.
    far = "station QSK 112.40 N44 30.00 W038 50.00 decl 14W class L elev 150ft"
    assert found("fix-by-time", *out, far, "fix MARSH N46 04.00 W039 24.23") == []
    assert found("fix-by-time", *out, "equipment vor 1 dme 1") == []
    assert found("fix-by-time", *out, "rules vfr") == []


OLDEN = ("route XHAR QHB V801 QEL/A055 OLDEN XOLD",)


def test_a_published_radial_of_before_the_last_alignment_is_told_with_both_figures() -> None:
    """OLDEN lies on QPB's 285 radial, 15W, and is published on 290; geographiclib: 285.125."""
    (told,) = found("makeup-differs", *OLDEN)
    assert told == "warning: OLDEN is published on QPB R-290 and lies on R-285 by its position: 4.9 degrees apart"


def test_the_files_own_radials_are_not_held_against_a_make_up() -> None:
    own = "fix OLDEN QPB 290 14.76nm"
    assert found("makeup-differs", *OLDEN, own) == []


def test_a_poor_cut_at_a_published_fix_is_a_note() -> None:
    """QPB 285 leads west to OLDEN, and the leg from LAKER there about 250: 20 degrees apart."""
    from navlog.nav import earth
    from navlog.nav.angles import position_text
    from navlog.nav.chart import Position

    start = earth.direct(Position(45.5, -39.55), 70.0, 30.0)
    asked = (f"fix LAKER {position_text(start)}", "route LAKER OLDEN", "altitude 5500", "-airport XOLD", "-direct QEL")
    # QEL, 14 NM north, crosses well: nothing to tell.
    assert found("poor-cut", *asked) == []
    (told,) = found("poor-cut", *asked, "-station QEL", "-station QHB", "-airway V801", "-direct QHB")
    # By geographiclib the two are 269.88 and 250.24 true: 14.76 NM x sin 3.6 / sin 19.64 = 2.76 NM.
    assert told.startswith("note: QPB 285 cuts the track at OLDEN at 20 degrees")
    assert told.endswith("an error of 3.6 degrees moves it 2.8 NM along it")


def test_two_published_fixes_of_one_airway_on_one_needle_are_no_short_leg() -> None:
    # 1.5 of the 20.9 NM from MARSH to QEL, in the middle of V801, on the radial of QHB: nothing is set in between.
    flight = (
        "fix MARSH N46 04.00 W039 24.23",
        "fix MERSH N46 02.57 W039 24.86",
        "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - MERSH 1.5nm mea 3000 - 034 QEL 19.4nm mea 3000",
        "route QHB V801 QEL",
    )
    (told,) = found("short-leg", *flight)
    assert told.startswith("note: MARSH and MERSH are 1.5 NM apart")
    case = case_of(*flight)
    legs = []
    for leg in case.first_legs:
        assert leg.stretch.airway is not None
        published = changed(leg.stretch.airway, provenance=Provenance(Source.NASR, "2607"))
        legs.append(changed(leg, stretch=changed(leg.stretch, airway=published)))
    assert list(short_leg.check(changed(case, first_legs=tuple(legs)))) == []
