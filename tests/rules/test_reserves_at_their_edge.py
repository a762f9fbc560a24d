"""Fuel that is just there, and a tenth of a gallon short: the reserve after an alternate, contingency and extra.

The aeroplane flies 120 kt in calm air and burns 8 gal/h, a gallon in 15 NM. By day 30 minutes are kept, 4 gal (14 CFR
91.151). To QBB are 60 NM, to QCC 120: 4 and 8 gal.
"""

from __future__ import annotations

import pytest
from helpers.judged import judged_text, of

from navlog.resolve.lookup import NoCatalogue
from navlog.rules.registry import Finding
from navlog.rules.reserves import _Need

COMMON = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "airport XDD N46 00.00 W039 00.00 elev 0ft\nairport XEE N46 30.00 W039 00.00 elev 0ft\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\naltitude 3500\ntas 120kt\nburn 8gph\nrules vfr day\n"
    "direct QAA 090 - 270 QBB 60nm\n"
)
THROUGH = COMMON + "direct QBB 090 - 270 QCC 60nm\nroute QAA QBB QCC\n"
TO_XEE = "direct QCC 180 - XEE 15nm\nalternate XEE\n"
REFUELLED = COMMON + (
    "direct QBB 180 - XDD 60nm\ndirect XDD - 180 QCC 60nm\ndirect QCC 180 - XEE 15nm\n"
    "route QAA QBB XDD land 30min fuel 20gal QCC XEE\n"
)


def findings(text: str) -> tuple[Finding, ...]:
    """Every finding in a flight."""
    return judged_text(text, NoCatalogue())


def told(rule: str, text: str) -> list[str]:
    """What one rule finds in a flight."""
    return of(rule, findings(text))


def diverted(length_nm: int) -> str:
    """An alternate so far from QBB."""
    return f"direct QBB 180 - XDD {length_nm}nm\nalternate QBB via XDD\n"


RESERVE = "break the reserve of 30 min, 4.0 gal (14 CFR 91.151, day as stated by `rules vfr day`)"


@pytest.mark.parametrize(("fuel_gal", "left"), [("11.9", "7.9"), ("12", None), ("12.1", None)])
def test_just_the_reserve_after_a_diversion_is_enough(fuel_gal: str, left: str | None) -> None:
    # At QBB 4 gal are used, to XDD 4 more, and 4 are kept: 12 gal.
    said = told("alternate-reserve", THROUGH + diverted(60) + f"fuel {fuel_gal}gal\n")
    assert said == ([] if left is None else [f"error: {left} gal left at QBB and 4.0 gal to XDD {RESERVE}"])


def test_tanks_just_dry_at_the_alternate_have_no_reserve() -> None:
    said = told("alternate-reserve", THROUGH + diverted(60) + "fuel 8gal\n")
    assert said == [f"error: 4.0 gal left at QBB and 4.0 gal to XDD {RESERVE}"]


def test_just_the_reserve_at_the_destination_does_not_reach_an_alternate() -> None:
    assert told("reserve", THROUGH + TO_XEE + "fuel 12gal\n") == []
    said = told("alternate-reserve", THROUGH + TO_XEE + "fuel 12gal\n")
    assert said == [f"error: 4.0 gal left at QCC and 1.0 gal to XEE {RESERVE}"]
    assert told("alternate-reserve", THROUGH + TO_XEE + "fuel 13gal\n") == []


def test_what_is_left_rounds_down_and_what_is_needed_up() -> None:
    # 62 NM take 4.1333 gal; of 12.05 gal 8.05 are left at QBB: 3.9167 after it.
    said = told("alternate-reserve", THROUGH + diverted(62) + "fuel 12.05gal\n")
    assert said == [f"error: 8.0 gal left at QBB and 4.2 gal to XDD {RESERVE}"]


def test_an_alternate_is_named_by_where_the_way_ends() -> None:
    # 60 NM back to QAA and 90 NM on: 10 gal.
    said = told("alternate-reserve", THROUGH + "direct QAA 180 - XDD 90nm\nalternate QBB via QAA XDD\nfuel 15gal\n")
    assert said == [f"error: 11.0 gal left at QBB and 10.0 gal to XDD {RESERVE}"]


@pytest.mark.parametrize(
    ("fuel_gal", "short"),
    [
        # 8 gal, 10 % of them, 4 gal of reserve: 12.8.
        ("12.8", None),
        ("12.7", "0.1"),
        ("12", "0.8"),
        # The reserve itself is broken: that is an error of its own.
        ("11.9", None),
    ],
)
def test_contingency_is_short_where_the_reserve_is_there(fuel_gal: str, short: str | None) -> None:
    found = [
        one for one in findings(THROUGH + f"contingency 10%\nfuel {fuel_gal}gal\n") if one.rule == "contingency-short"
    ]
    expected = [] if short is None else [f"{short} gal short of what the flight wants to have at its last landing"]
    assert [one.message for one in found] == expected
    # It is of the whole flight, whose margin the sheet prints.
    assert {one.leg for one in found} <= {None}


@pytest.mark.parametrize(("fuel_gal", "short"), [("13.8", None), ("13.7", "0.1"), ("13", "0.8"), ("12.9", None)])
def test_the_alternate_is_taken_off_before_contingency_is_short(fuel_gal: str, short: str | None) -> None:
    said = told("contingency-short", THROUGH + TO_XEE + f"contingency 10%\nfuel {fuel_gal}gal\n")
    expected = f"warning: {short} gal short of what the flight wants to have at its last landing"
    assert said == ([] if short is None else [expected])


@pytest.mark.parametrize(("fuel_gal", "short"), [("12.09", "4.0"), ("12.1", "3.9"), ("15.9", "0.1"), ("16", None)])
def test_contingency_is_short_on_the_filling_on_which_it_is(fuel_gal: str, short: str | None) -> None:
    # 8 gal to XDD, half of them, 4 gal of reserve: 16; after it 20 gal are plenty. 12.09 are 3.91 short, up.
    found = [
        one for one in findings(REFUELLED + f"contingency 50%\nfuel {fuel_gal}gal\n") if one.rule == "contingency-short"
    ]
    expected = [] if short is None else [f"{short} gal short of what the flight wants to have at XDD"]
    assert [one.message for one in found] == expected
    # Two legs to QBB, the changeover lying midway, and the third to XDD.
    assert [one.leg for one in found] == [3] * len(found)


@pytest.mark.parametrize(("fuel_gal", "drops"), [("21.7", True), ("21.79", True), ("21.8", False), ("21.9", False)])
def test_fuel_drops_from_two_printed_steps_on(fuel_gal: str, drops: bool) -> None:
    # 30 gal less 8 are 22 left at XDD; a tenth of a gallon is the printed step.
    said = told("fuel-drops", REFUELLED.replace("fuel 20gal", f"fuel {fuel_gal}gal") + "fuel 30gal\n")
    # What is on board is printed down.
    expected = f"warning: {fuel_gal[:4]} gal at the take-off from XDD, and 22.0 gal are left on landing"
    assert said == ([expected] if drops else [])


def test_a_passage_from_which_the_alternate_is_not_reached_is_told_though_the_tanks_are_filled_after_it() -> None:
    # 10 gal less 4 are 6 at QBB, and 150 NM to XDD take 10; filled at XEE, QBB is passed again with 39.
    back = COMMON + "direct QBB 090 - XEE 15nm\nroute QAA QBB XEE land 30min fuel 40gal QBB QAA\nfuel 10gal\n"
    (one,) = [one for one in findings(back + diverted(150)) if one.rule == "alternate-reserve"]
    assert one.message == f"6.0 gal left at QBB and 10.0 gal to XDD {RESERVE}"
    assert one.leg == 2  # QBB is reached on the second leg, the first ending at the changeover point


@pytest.mark.parametrize(("fuel_gal", "left"), [("3.9", []), ("4", ["0.0"]), ("4.5", ["0.5"])])
def test_tanks_that_are_just_dry_at_a_passage_are_told_of_the_alternate_and_below_nothing_of_the_route(
    fuel_gal: str, left: list[str]
) -> None:
    back = COMMON + f"direct QBB 090 - XEE 15nm\nroute QAA QBB XEE land 30min fuel 40gal QBB QAA\nfuel {fuel_gal}gal\n"
    said = told("alternate-reserve", back + diverted(60))
    assert said == [f"error: {one} gal left at QBB and 4.0 gal to XDD {RESERVE}" for one in left]


@pytest.mark.parametrize(("fuel_gal", "told_gal"), [("15", None), ("14.9", "0.1")])
def test_the_contingency_of_a_diversion_is_that_of_the_way_to_its_point(fuel_gal: str, told_gal: str | None) -> None:
    # Half of the 4 gal to QBB are 2; 75 NM to XDD take 5, and 4 are kept: 15 gal. Half of the 5 gal of the whole flight
    # would be 2.5.
    near = COMMON + "direct QBB 090 - XEE 15nm\nroute QAA QBB XEE\ncontingency 50%\n"
    said = told("contingency-short", near + diverted(75) + f"fuel {fuel_gal}gal\n")
    place = "the alternate XDD"
    assert said == (
        [] if told_gal is None else [f"warning: {told_gal} gal short of what the flight wants to have at {place}"]
    )


def test_what_is_short_is_all_that_is_taken_kept_and_wanted_less_what_is_left() -> None:
    need = _Need(None, 0, "XDD", left=10.0, taken=3.0, reserve=4.0, wanted=5.0)
    assert need.short == pytest.approx(3.0 + 4.0 + 5.0 - 10.0)


def test_a_reserve_that_is_broken_before_the_alternate_is_begun_is_told_of_the_flight_alone() -> None:
    # 11 gal less 8 to QCC are 3 of 4; 1 gal to XEE is there.
    text = THROUGH + TO_XEE + "fuel 11gal\n"
    (message,) = told("reserve", text)
    assert message.startswith("error: 3.0 gal left at QCC, and the reserve is 30 min, 4.0 gal (14 CFR 91.151, day")
    assert told("alternate-reserve", text) == []
