"""What the rules on climbs, descents and book figures tell, at heights worked by hand.

The aeroplane climbs 400 ft a mile (600 ft/min at 90 kt), cruises at 120 kt and descends 250 ft a mile (500 ft/min at
120 kt), in no wind, from XLO at 500 ft over QAA to XHI at 1,000 ft.
"""

from __future__ import annotations

import pytest
from helpers.drawn import reports

from navlog.flightlog.planning import plan
from navlog.nav.record import changed
from navlog.request.aircraft import Aircraft, Figures, PhaseTable, compass_card
from navlog.rules.registry import Finding
from navlog.rules.report import judge

CRUISE = PhaseTable("cruise", ((Figures(120.0, 9.0),),))
CLIMB = PhaseTable("climb", ((Figures(90.0, 12.0, 600.0),),))
DESCENT = PhaseTable("descent", ((Figures(120.0, 6.0, 500.0),),))
BOOK = Aircraft("Book", "book.toml", CRUISE, CLIMB, DESCENT)
FIELDS = "airport XLO N46 00.00 W039 00.00 {}\nairport XHI N46 00.00 W038 00.00 {}\n"
LOW_AND_HIGH = FIELDS.format("elev 500ft", "elev 1000ft")
WAY = "direct QAA 270 - XLO 30nm\ndirect QAA 090 - XHI 40nm\nroute XLO QAA XHI\n"


def told(rule: str, more: str, fields: str = LOW_AND_HIGH, book: Aircraft = BOOK, way: str = WAY) -> list[Finding]:
    """What one rule finds in the flight with more statements."""
    stated = "" if "wind" in more else "wind calm\n"
    (report,) = reports(
        f"station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\n{fields}{way}date 2026-07-18\nvariation 0E\n{stated}"
        f"tas 120kt\n{more}"
    )
    flown = plan(report.log.route, changed(report.log.conditions, aircraft=book))
    return [one for one in judge(flown).findings if one.rule == rule]


def words(found: list[Finding]) -> list[str]:
    return [f"{one.severity.value}: {one.message}" for one in found]


@pytest.mark.parametrize(
    ("more", "high_ft", "said"),
    [
        ("rules ifr\naltitude 4500\n", 1000, []),
        ("rules vfr\naltitude 4500\n", 1000, []),
        ("rules ifr\naltitude 4500\n", 4500, []),
        ("rules ifr\naltitude 4500\n", 4501, ["error: XHI is reached at 4500 ft, below the field at 4501 ft"]),
        ("rules ifr\naltitude 4500\npattern 4500ft\n", 1000, []),
        (
            "rules ifr\naltitude 4500\npattern 5000ft\n",
            1000,
            ["warning: XHI is reached at 4500 ft, below the pattern at 5000 ft"],
        ),
        # Under VFR no pattern is asked for above the level that is flown all the way.
        ("rules vfr\naltitude 4500\n", 4000, []),
    ],
)
def test_a_flight_arrives_at_its_field_or_pattern(more: str, high_ft: int, said: list[str]) -> None:
    fields = FIELDS.format("elev 500ft", f"elev {high_ft}ft")
    assert words(told("arrival-height", more, fields)) == said


def test_a_pattern_is_that_of_the_last_landing_alone() -> None:
    way = (
        "direct QAA 270 - XLO 30nm\ndirect QAA 090 - XHI 40nm\ndirect QBB 270 - XHI 40nm\ndirect QBB 090 - XLO 40nm\n"
        "route XLO QAA XHI land 20min QBB XLO\n"
    )
    (one,) = told("arrival-height", "rules ifr\naltitude 4500\npattern 5000ft\n", way=way)
    assert one.message == "XLO is reached at 4500 ft, below the pattern at 5000 ft"


def test_a_cruise_that_is_not_reached_is_told_by_what_is_missing() -> None:
    # Up 2.5 NM and down 4 NM for 1,000 ft in 16 NM: 2.5 (h - 0.5) + 4 (h - 1) = 16, h = 3.26923.
    way = "direct QAA 270 - XLO 8nm\ndirect QAA 090 - XHI 8nm\nroute XLO QAA XHI\n"
    (one,) = told("cruise-not-reached", "rules ifr\naltitude 8500\n", way=way)
    assert one.message == "cruise altitude not reached: 3269 ft of 8500 ft"
    assert one.by == pytest.approx(8500 - 21_250 / 6.5, abs=0.01)
    assert told("cruise-not-reached", "rules ifr\naltitude 8500\n") == []
    assert told("cruise-not-reached", "rules ifr\naltitude 8500\n", book=changed(BOOK, climb=None), way=way) == []


def test_a_flights_level_that_the_way_to_an_alternate_does_not_reach_is_a_note_and_one_of_its_own_a_warning() -> None:
    # Up 2.5 NM and down 4 NM for 1,000 ft in 16 NM: 2.5 (h - 1) + 4 (h - 0.5) = 16, h = 3.15385.
    way = (
        "direct QAA 270 - XLO 40nm\ndirect QAA 090 - XHI 40nm\ndirect QBB 270 - XHI 8nm\ndirect QBB 090 - XLO 8nm\n"
        "route XLO QAA XHI\nalternate XHI via QBB XLO"
    )
    flight = "rules ifr\naltitude 8500\n"
    (taken_over,) = told("cruise-not-reached", flight, way=way + "\n")
    assert words([taken_over]) == [
        "note: cruise altitude not reached: 3154 ft of 8500 ft, the flight's level; `at LEVEL` behind the alternate "
        "plans another"
    ]
    (own,) = told("cruise-not-reached", flight, way=way + " at 8500\n")
    assert words([own]) == ["warning: cruise altitude not reached: 3154 ft of 8500 ft"]
    assert told("cruise-not-reached", flight, way=way + " at 3000\n") == []


@pytest.mark.parametrize(
    ("level", "message"), [("A045", None), ("A035", "cruise altitude not reached: 3700 ft of 8500 ft")]
)
def test_a_level_that_a_lower_one_follows_is_missed_only_where_the_climb_ends_there(
    level: str, message: str | None
) -> None:
    # 8 NM at 2.5 for 1,000 ft lead from 500 to 3,700 ft at QAA: on to 4,500 ft, or down to 3,500.
    way = f"direct QAA 270 - XLO 8nm\ndirect QAA 090 - XHI 40nm\nroute XLO QAA/{level} XHI\n"
    found = told("cruise-not-reached", "rules ifr\naltitude 8500\n", way=way)
    assert [one.message for one in found] == ([message] if message else [])


@pytest.mark.parametrize(
    ("more", "fields", "book", "said"),
    [
        ("rules ifr\naltitude 4500\n", LOW_AND_HIGH, BOOK, []),
        (
            "rules ifr\naltitude 4500\n",
            FIELDS.format("", "elev 1000ft"),
            BOOK,
            ["warning: the climb at XLO is left out: the elevation of XLO is not known"],
        ),
        (
            "rules ifr\naltitude 4500\n",
            FIELDS.format("elev 500ft", ""),
            BOOK,
            ["warning: the descent at XHI is left out: the elevation of XHI is not known"],
        ),
        # A stated pattern is a height to descend to where the field's is not known.
        ("rules ifr\naltitude 4500\npattern 2000ft\n", FIELDS.format("elev 500ft", ""), BOOK, []),
        (
            "rules ifr\naltitude 4500\n",
            LOW_AND_HIGH,
            changed(BOOK, descent=None),
            ["note: the descent at XHI is left out: the aircraft file has no [descent]"],
        ),
        (
            "rules ifr\naltitude 4500\n",
            LOW_AND_HIGH,
            changed(BOOK, climb=None),
            ["note: the climb at XLO is left out: the aircraft file has no [climb]"],
        ),
        ("rules ifr\naltitude 4500\n", LOW_AND_HIGH, changed(BOOK, climb=None, descent=None), []),
        # 100 kt from the side are more than the 90 kt of the climb, and less than the 120 kt of cruise and descent.
        (
            "rules ifr\naltitude 4500\nwind 360/100\n",
            LOW_AND_HIGH,
            BOOK,
            [
                "error: the climb at XLO is left out: its speed is too low for the wind",
                "error: the descent at XHI is left out: its speed is too low for the wind",
            ],
        ),
        # At the level already there is nothing to climb or to descend.
        ("rules ifr\naltitude 4500\n", FIELDS.format("elev 4500ft", "elev 4500ft"), BOOK, []),
        ("rules ifr\naltitude 4500\npattern 5000ft\n", LOW_AND_HIGH, BOOK, []),
    ],
)
def test_a_climb_or_descent_that_is_left_out(more: str, fields: str, book: Aircraft, said: list[str]) -> None:
    assert words(told("climb-left-out", more, fields, book)) == said


@pytest.mark.parametrize(
    ("book", "more", "told_so"),
    [
        # Calibrated speeds hang on the temperature, true ones do not.
        (changed(BOOK, climb=changed(CLIMB, calibrated=True)), "", True),
        (changed(BOOK, descent=changed(DESCENT, calibrated=True)), "", True),
        (BOOK, "", False),
        (changed(BOOK, cruise=changed(CRUISE, calibrated=True)), "", True),
        # What is stated stands before the book, whatever the air.
        (changed(BOOK, cruise=changed(CRUISE, calibrated=True)), "burn 9gph\n", False),
        (changed(BOOK, climb=changed(CLIMB, calibrated=True)), "burn 9gph\n", True),
    ],
)
def test_that_the_standard_temperature_is_used_is_told_where_it_matters(
    book: Aircraft, more: str, told_so: bool
) -> None:
    found = words(told("standard-temperature", f"rules ifr\naltitude 4500\n{more}", book=book))
    said = "note: no temperature is known: that of the standard atmosphere is used"
    assert found == ([said] if told_so else [])
    measured = "wind 3000 000/0 12C 9000 000/0 0C\n"
    assert told("standard-temperature", f"rules ifr\naltitude 4500\n{more}{measured}", book=book) == []


@pytest.mark.parametrize(
    ("winds", "told_so"),
    [
        ("wind 230/12\n", False),
        ("wind at QCC 230/12\n", False),
        ("wind 230/12\nwind at QCC 240/15\n", True),
    ],
)
def test_a_wind_that_other_winds_stand_before_is_told(winds: str, told_so: bool) -> None:
    placed = LOW_AND_HIGH + "station QCC 115.00 N46 00.00 W038 30.00 decl 0E\n"
    assert bool(told("wind-not-used", f"rules ifr\naltitude 4500\n{winds}", placed)) is told_so


def test_a_heading_of_which_the_compass_card_says_nothing_is_told() -> None:
    def card(*degrees: float) -> Aircraft:
        return changed(BOOK, compass=compass_card(tuple((one, one) for one in degrees)))

    # The way leads east; a card is silent between headings more than 90 degrees apart.
    assert told("compass-card-silent", "rules ifr\naltitude 4500\n", book=card(0.0, 90.0, 180.0, 270.0)) == []
    found = told("compass-card-silent", "rules ifr\naltitude 4500\n", book=card(180.0, 270.0))
    assert {one.message for one in found} == {"the compass card says nothing near 090"}


def test_of_two_levels_the_higher_is_the_one_that_is_not_reached() -> None:
    # 4,500 ft are reached 10 NM out; from QAA 20 NM of climb and descent over 500 ft: 2.5 (h - 4.5) + 4 (h - 1) = 20.
    way = "direct QAA 270 - XLO 30nm\ndirect QAA 090 - XHI 20nm\nroute XLO QAA/A085 XHI\n"
    (one,) = told("cruise-not-reached", "rules ifr\naltitude 4500\n", way=way)
    assert one.message == f"cruise altitude not reached: {35_250 / 6.5:.0f} ft of 8500 ft"
