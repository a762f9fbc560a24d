"""Climbs out of a level that was too low, and those to a higher minimum."""

from __future__ import annotations

import re

import pytest
from helpers.judged import found, reported

from navlog.rules.heights import binding, climbs_from_airports
from navlog.rules.samples import FLOWN_BY_FILE

LATE = (
    "aircraft climber.toml",
    "-tas",
    "-burn",
    "wind calm",
    "fix MARSH N46 04.00 W039 24.23",
    "airway V801 QHB 212 - MARSH 8.9nm mea 6000 - 034 QEL 20.9nm mea 6000",
    "rules ifr",
)


def test_the_climb_out_of_a_level_that_was_too_low_counts_from_its_start() -> None:
    """14 CFR 91.177(b): a climb to a *higher* minimum begins at the point beyond which that applies.

    From QHB to MARSH 3,500 ft is below 6,000 ft already; the climb from MARSH begins as low.
    """
    told = found("under-mea", *LATE, "altitude 3500", "route XHAR QHB V801 MARSH/A065 V801 QEL")
    # Once for the level way to MARSH, once for the beginning of the climb; the rest of the climb is lower too.
    assert told.count("error: 3500 ft is below the MEA of 6000 ft on V801") == 2


def test_a_climb_to_a_higher_minimum_still_begins_at_its_point() -> None:
    higher = "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 6000"
    assert found("under-mea", *LATE, higher, "altitude 3500", "route XHAR QHB V801 MARSH/A065 V801 QEL") == []


HELD = (
    *FLOWN_BY_FILE,
    "-winds",
    "wind calm",
    "rules ifr",
    "direct QHB - XHAR 9.6nm",
    "airway V801 QHB 212 - 034 QEL 29.5nm mea 6000 moca 5000",
    "route XHAR QHB V801 QEL",
    "altitude 7000",
)
"""By the climber from 790 ft over 9.6 NM to QHB: 500 ft a minute at 75 kt, corrected to the air at 2,600 ft 78.0 kt
(density ratio 0.9244, US Standard Atmosphere 1976), are 7.4 minutes and 3,690 ft: 4,480 ft over QHB."""


def climbs(*changed: str) -> list[list[int]]:
    """The numbers of the legs of each climb from an airport."""
    legs = reported(*HELD, *changed).log.legs
    return [[leg.number for leg in climb] for climb in climbs_from_airports(legs, takes_off=True)]


def test_a_level_hold_in_the_climb_ends_what_is_necessary_for_takeoff() -> None:
    """14 CFR 91.177(a) leaves out what is "necessary for takeoff or landing": five minutes of level flight are not."""
    assert found("under-mea", *HELD) == []
    assert climbs() == [[1, 2]]
    (told,) = found("under-mea", *HELD, "hold QHB 5min")
    flown = re.fullmatch(r"error: (4\d\d\d) ft is below the MEA of 6000 ft on V801", told)
    assert flown is not None
    assert abs(int(flown[1]) - 4480) <= 30
    assert climbs("hold QHB 5min") == [[1]]


def test_a_hold_at_the_planned_level_or_at_a_minimum_that_is_known_lets_the_climb_begin_behind_it() -> None:
    # 91.177(b): from 4,000 ft, as planned to QHB, or above the 2,500 ft that hold there.
    at_level = "altitude 4000", "route XHAR QHB/A070 V801 QEL", "hold QHB 5min"
    assert found("under-mea", *HELD, *at_level) == []
    assert found("under-mea", *HELD, "direct QHB - XHAR 9.6nm min 2500", "hold QHB 5min") == []
    # A known minimum that is missed has its own error, and the climb behind it too.
    higher = "direct QHB - XHAR 9.6nm min 5500", "hold QHB 5min"
    assert [one[:6] for one in (*found("under-minimum", *HELD, *higher), *found("under-mea", *HELD, *higher))] == [
        "error:"
    ] * 3


def test_under_visual_rules_no_climb_is_late() -> None:
    legs = reported(*HELD, "rules vfr", "hold QHB 5min").log.legs
    (climb,) = (leg for leg in legs if leg.start.name == "QHB" and leg.end_altitude_ft > leg.start_altitude_ft)
    assert {leg.number: low for leg, low in binding(legs, takes_off=True, vfr=True)}[climb.number] == 7000


def test_a_climb_in_the_hold_is_part_of_the_climb_from_the_airport() -> None:
    # 6,000 - 790 ft at 500 ft a minute are 10.4 min whether or not the last of it is climbed in the hold.
    until = "hold QHB until 5500ft"
    assert climbs(until) == [[1, 2, 3]]
    assert found("under-mea", *HELD, until) == []
    (told,) = found("climb-out", *HELD, until)
    # 4,480 to 5,500 ft are climbed in the hold; the last minute at 5,750 ft, 81.7 kt by the same atmosphere: 1.4 NM.
    along = re.match(r"note: the minimum of 6000 ft is reached (.*) NM from XHAR, on the way from QHB to QEL, 10", told)
    assert along is not None
    assert float(along[1]) == pytest.approx(9.6 + 1.4, abs=0.1)
    # Of a minimum reached in the hold: 9.6 NM along.
    in_hold = "direct QHB - XHAR 9.6nm min 6000", "hold QHB until 6500ft"
    (told,) = found("climb-out", *HELD, *in_hold)
    assert told.startswith("note: the minimum of 6000 ft is reached 9.6 NM from XHAR, in the hold at QHB, 10 min after")
    assert found("under-minimum", *HELD, *in_hold) == []
    # One that ends too low is at its end too low: 5,800 ft under the 6,000 ft of the way to it.
    assert climbs("altitude 5800", "hold QHB until 5800ft") == [[1, 2]]
    short = "altitude 5800", "direct QHB - XHAR 9.6nm min 6000", "hold QHB until 5800ft"
    assert found("under-minimum", *HELD, *short) == ["error: 5800 ft is below the stated minimum of 6000 ft"]
