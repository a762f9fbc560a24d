"""Climbs out of a level that was too low, and those to a higher minimum."""

from __future__ import annotations

from helpers.judged import found

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
