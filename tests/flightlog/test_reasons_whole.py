"""Every figure of a leg that is not known, with its reason: the whole list, so that none is missing or too many."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from helpers.judged import CHART_ONLY, along, reported

WITH_RADIALS, WITHOUT = "QHB 212 - 032 QEL 29.5nm mea 3000", "QHB - QEL 29.5nm mea 3000"
NO_VARIATION = [one for one in CHART_ONLY if not one.startswith("variation")]

COURSES = ("true_course_deg", "magnetic_course_deg")
SET = ("guidance.radial_deg", "guidance.set_course_deg")
TRIANGLE = ("wind_correction_deg", "true_heading_deg", "magnetic_heading_deg", "groundspeed_kt", "time_min")
CLOCK = ("elapsed_min", "eta")
NO_NORTH = "no positions, and no set course with a known north"
NO_TIME = "the time of this leg is not known"
SO_FAR, AHEAD = "fuel used so far is not known", "the fuel needed ahead is not known"


def each(keys: Iterable[str], why: str) -> list[tuple[str, str]]:
    return [(key, why) for key in keys]


# What a leg without a time leaves open behind the triangle.
OPEN = [
    *each(CLOCK, NO_TIME),
    ("fuel_used_gal", NO_TIME),
    ("fuel_remaining_gal", SO_FAR),
    ("fuel_least_gal", AHEAD),
]


def no_radial(ident: str) -> list[tuple[str, str]]:
    return each(SET, f"{ident} has no charted radial and no known declination or position here")


def untold(*changes: str) -> list[list[tuple[str, str]]]:
    return [[(one.key, one.reason) for one in leg.unknown] for leg in reported(*changes).log.legs]


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        (along(WITH_RADIALS), [[], []]),
        # Neither a position nor a radial: nothing says where the leg leads, whatever the variation.
        (
            along(WITHOUT),
            [
                [*each(COURSES, NO_NORTH), *no_radial(ident), *each(TRIANGLE, "no true course"), *OPEN]
                for ident in ("QHB", "QEL")
            ],
        ),
        # A radial alone has no north.
        (
            (*NO_VARIATION, f"airway V801 {WITH_RADIALS}"),
            [[*each(COURSES, NO_NORTH), *each(TRIANGLE, "no true course"), *OPEN]] * 2,
        ),
        # A station aligned to true north tells the true course and no magnetic one.
        (
            (
                *NO_VARIATION, "station QHB 113.70 decl true", "station QEL 110.20 decl true",
                f"airway V801 {WITH_RADIALS}", "wind 230/12",
            ),
            [
                [
                    (key, f"no variation: no position, no `variation`, and {one} is aligned to true north")
                    for key in ("magnetic_course_deg", "magnetic_heading_deg")
                ]
                for one in ("QHB", "QEL")
            ],
        ),
        # 150 kt from 230: on 256 true cos 26 of it are 134 kt, on 197 cos 33 are 126, on 109 sin 121 are 128 across.
        (
            ("wind 230/150",),
            [
                [*each(TRIANGLE, why), *OPEN]
                for why in (
                    "the headwind of 134 kt leaves no groundspeed at a TAS of 110 kt",
                    *["the headwind of 126 kt leaves no groundspeed at a TAS of 110 kt"] * 2,
                    "the crosswind of 128 kt is more than the TAS of 110 kt",
                )
            ],
        ),
        (
            ("-wind", "-off", "-fuel", "-taxi"),
            [
                [
                    *each(("wind", *TRIANGLE), "no wind given"),
                    *each(CLOCK, NO_TIME),
                    ("fuel_used_gal", NO_TIME),
                    ("fuel_remaining_gal", "no `fuel` given"),
                    ("fuel_least_gal", AHEAD),
                ]
            ]
            * 4,
        ),
        (("-off",), [[("eta", "no `off` given")]] * 4),
        # The card is of north and east alone; the headings are 263, 213 and 126.
        (
            ("aircraft half_card.toml", "-tas", "-burn"),
            [each(("deviation_deg", "compass_heading_deg"), "the compass card says nothing near this heading")] * 4,
        ),
    ],
    ids=["all known", "no radials", "no north", "true north", "unflyable", "no wind", "no off", "card"],
)  # fmt: skip
def test_what_is_not_known_and_why(changes: tuple[str, ...], expected: list[list[tuple[str, str]]]) -> None:
    *before, last = expected
    # At the last landing nothing is ahead, and without a contingency what is kept there hangs on no time.
    assert untold(*changes) == [*before, [one for one in last if one != ("fuel_least_gal", AHEAD)]]


@pytest.mark.parametrize(("length", "asked"), [("0.9", False), ("1", False), ("1.1", True)])
def test_beside_a_station_no_course_is_missed(length: str, asked: bool) -> None:
    told = untold(*along(f"QHB - QEL {length}nm mea 3000"))
    for leg in told:
        assert any(key in SET for key, _ in leg) is asked
