"""What is told on leaving a place, once and where it begins: a signal gap, a hold, an altitude to cross at."""

from __future__ import annotations

from helpers.drawn import reports
from helpers.flown import changed

from navlog.nav.record import changed as replace
from navlog.sheets.steps import steps

PLACES = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "direct QAA 360 - 180 QBB 30nm min 3000\ndirect QBB 360 - 180 QCC 30nm min 3000\n"
    "date 2026-07-18\nvariation 0E\ntas 120kt\nburn 12gph\nfuel 30gal\nrules ifr\nwind calm\noff 15:00Z\n"
)


def test_a_signal_gap_is_told_once_where_its_way_begins() -> None:
    text = changed("airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 gap 6nm cop 11 QHB")
    (whole,) = reports(text)
    told = [(place.split(",")[0], step) for place, lines in steps(whole.log) for step in lines if "ignal gap" in step]
    # The way is parted by its changeover, where it would be told again.
    (one,) = told
    assert one[0] == "QHB"
    assert one[1].startswith("Signal gap of 6 NM on this way: without a signal hold heading ")


def test_what_is_done_while_a_flight_stays_at_a_place() -> None:
    (whole,) = reports(PLACES + "altitude 4500\nroute QAA QBB QCC\nhold QBB 6min\n")
    log = whole.log
    for end_ft, told in (
        (4500.0, "Hold for 0:06 at 4500 ft."),
        (6500.0, "Climb in the hold at QBB to 6500 for 0:06: ask ATC."),
    ):
        legs = tuple(replace(leg, end_altitude_ft=end_ft) if leg.stays else leg for leg in log.legs)
        places = list(steps(replace(log, legs=legs)))
        assert places[2] == ("QBB, 15:15Z", (told,))


def test_an_altitude_to_cross_at_is_told_before_the_last_leg_too() -> None:
    text = changed(
        "fix PINEY QEL 180 12nm",
        "airway V802 QEL 180 - PINEY 12nm mea 5000 mca 4500 QEL to PINEY",
        "altitude 5500",
        "route QHB V801 QEL V802 PINEY",
    )
    (whole,) = reports(text)
    (before, last) = list(steps(whole.log))[1:3]
    assert (before[0][:3], last[0][:3]) == ("COP", "QEL")
    assert "4500" in before[1][-1]
    assert before[1][-1][0].isupper()


def test_a_radial_that_is_flown_on_is_not_told_as_a_cross_check_too() -> None:
    """What marks the fix is what the selector is set to there to go on; without a radial on, it is a cross-check."""
    fixes = ("fix FIXA QHB 212 x QSK 290", "fix FIXB QSK 290 60nm", "route QHB FIXA FIXB", "equipment vor 2 dme 1")
    check = "On the other receiver tune QSK 112.40 [--.- ... -.-] and set 290 FROM: at FIXA the needle centres."
    for way, checks in (
        ("direct FIXA - FIXB 24.8nm min 3000 on QSK 290", 0),
        ("direct FIXA - FIXB 24.8nm min 3000", 1),
    ):
        (whole,) = reports(changed(*fixes, way))
        told = dict(steps(whole.log))["FIXA, 15:21Z"]
        assert told.count(check) == checks
        assert told.count("Set 290 on the course selector and expect FROM.") == 1 - checks


def test_places_after_midnight_say_that_it_is_the_next_day() -> None:
    # 15 min each at 120 kt, taken off at 23:40Z.
    (whole,) = reports(PLACES.replace("15:00Z", "23:40Z") + "altitude 4500\nroute QAA QBB QCC\n")
    at = [place for place, _ in steps(whole.log)]
    assert (at[0], at[2], at[-1]) == ("QAA, take off, 23:40Z", "QBB, 23:55Z", "QCC, 00:10Z+1")
