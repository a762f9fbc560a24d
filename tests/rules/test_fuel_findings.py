"""The fuel account added up again from the JSON of generated flights, and held against what the rules find.

Nothing of the package is used but its output. 14 CFR 91.151: 30 minutes by day at normal cruise are kept wherever the
flight lands or may have to; what is on board at a point less what the way from there to an alternate takes is what is
left there. Each passage of a point counts; at a stop with fuel taken both what is there on landing and what is there
after it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from helpers.flown import Json, flight, sheet
from hypothesis import given
from hypothesis import strategies as st

CLOSE = 1e-7
"""Sums of rounded figures may be off by this much."""

ABOUT_FUEL = {"reserve", "fuel-below-zero", "alternate-reserve", "contingency-short"}

PLACES = (
    "airport XAA N46 00.00 W039 00.00 elev 100ft",
    "airport XBB N46 20.00 W039 00.00 elev 100ft",
    "airport XCC N46 00.00 W038 30.00 elev 100ft",
    "airport XDD N45 30.00 W039 20.00 elev 100ft",
    "station QAA 113.00 N46 10.00 W039 30.00 decl 15W",
    "station QBB 114.00 N45 45.00 W038 40.00 decl 15W",
)
AIRPORTS = ("XAA", "XBB", "XCC", "XDD")
NAMES = (*AIRPORTS, "QAA", "QBB")


@dataclass(frozen=True, slots=True)
class Asked:
    """A generated flight: its text, the fuel after taxi, and the point and airport of each alternate."""

    text: str
    board: float
    alternates: tuple[tuple[str | None, str], ...]
    extra: float
    contingency_percent: float
    burn: float


@st.composite
def flights_short_of_fuel(draw: st.DrawFn) -> Asked:
    """A flight that passes places once or more, lands on the way, takes fuel or not, and has a few alternates."""
    order = [draw(st.sampled_from(NAMES))]
    words = [order[0]]
    stops = draw(st.integers(1, 5))
    for index in range(stops):
        order.append(draw(st.sampled_from([name for name in NAMES if name != order[-1]])))
        last = index == stops - 1
        words.append(order[-1])
        if order[-1].startswith("X") and not last:
            fuel = draw(st.integers(30, 200)) / 10.0
            words.append(draw(st.sampled_from(("over", "land 20min", f"land 30min fuel {fuel}gal"))))
    alternates: list[tuple[str | None, str]] = []
    for _ in range(draw(st.integers(0, 3))):
        start = draw(st.sampled_from((None, *order)))
        away = draw(st.sampled_from([name for name in AIRPORTS if name != (start or order[-1])]))
        alternates.append((start, away))
    burn, fuel, taxi = draw(st.integers(50, 120)) / 10.0, draw(st.integers(40, 250)) / 10.0, 1.0
    extra, contingency = draw(st.sampled_from((0.0, 0.0, 1.5))), draw(st.sampled_from((0.0, 0.0, 5.0)))
    statements = (
        *PLACES,
        "date 2026-07-18",
        "off 12:00Z",
        "rules vfr day",
        "altitude 4500",
        "tas 120kt",
        f"burn {burn}gph",
        f"wind {draw(st.integers(1, 360)):03d}/{draw(st.integers(0, 40)):02d}",
        f"fuel {fuel}gal",
        f"taxi {taxi}gal",
        f"extra {extra}gal",
        f"contingency {contingency}%",
        f"route {' '.join(words)}",
        *dict.fromkeys(f"alternate {f'{start} via ' if start else ''}{away}" for start, away in alternates),
    )
    text = "\n".join(statements) + "\n"
    return Asked(text, fuel - taxi, tuple(dict.fromkeys(alternates)), extra, contingency, burn)


@dataclass(frozen=True, slots=True)
class State:
    """What is on board at a point: `leg` ends there, None at the beginning; `used` since the tanks were filled."""

    name: str
    leg: int | None
    left: float
    used: float
    lands: bool
    ends: bool
    refilled: bool


def states(found: Json, board: float) -> Iterator[State]:
    """What is on board at each point of the route, added up leg by leg."""
    legs, left, used = found["legs"], board, 0.0
    yield State(legs[0]["from"]["ident"], None, left, used, lands=False, ends=False, refilled=False)
    for leg in legs:
        left, used = left - leg["fuel_used_gal"], used + leg["fuel_used_gal"]
        assert leg["fuel_remaining_gal"] == pytest.approx(left, abs=CLOSE)
        ends = leg is legs[-1]
        if leg["to"]["ident"] is not None:
            lands = "stop_min" in leg or ends
            yield State(leg["to"]["ident"], leg["number"], left, used, lands=lands, ends=ends, refilled=False)
            if leg.get("fuel_taken_gal") is not None:
                left, used = leg["fuel_taken_gal"], 0.0
                yield State(leg["to"]["ident"], leg["number"], left, used, lands=False, ends=False, refilled=True)


def told(found: Json, rule: str) -> list[Json]:
    """The findings of one rule."""
    return [one for one in found["findings"] if one["rule"] == rule]


@given(flights_short_of_fuel())
def test_an_alternate_that_breaks_the_reserve_is_an_error_at_each_passage_and_only_there(asked: Asked) -> None:
    found = flight(asked.text)
    reserve = asked.burn / 2.0
    due: list[tuple[int | None, str, bool]] = []
    unsure: set[tuple[int | None, str, bool]] = set()
    for number, ((start, away), way) in enumerate(zip(asked.alternates, found["alternates"], strict=True), 1):
        assert way["to"] == away
        here = [one for one in states(found, asked.board) if (one.ends if start is None else one.name == start)]
        for one in here:
            at, spare = (one.leg, away, one.refilled), one.left - way["fuel_gal"] - reserve
            if abs(spare) < CLOSE or abs(one.left) < CLOSE:
                unsure.add(at)
            elif spare < 0.0 and one.left < 0.0:
                assert told(found, "fuel-below-zero")
            elif spare < 0.0 and one.ends and one.left < reserve - CLOSE:
                assert any(finding["leg"] == one.leg for finding in told(found, "reserve"))
            elif one is here[-1] and abs(one.left - way["fuel_gal"]) < CLOSE:
                unsure.add(at)
            elif one is here[-1] and one.left < way["fuel_gal"]:
                # By what is on board at the last passage the tanks run dry on the way: that way's own error.
                dry = [finding["alternate"] for finding in told(found, "fuel-below-zero") if finding["alternate"]]
                assert number in {on["number"] for on in dry}
            elif spare < 0.0:
                due.append(at)
    said: list[tuple[int | None, str, bool]] = []
    for finding in told(found, "alternate-reserve"):
        assert finding["severity"] == "error"
        match = re.search(r" to (X\w\w) break the reserve of ", finding["message"])
        assert match is not None
        said.append((finding["leg"], match[1], "after fuelling" in finding["message"]))
    assert Counter(at for at in said if at not in unsure) == Counter(at for at in due if at not in unsure)


@given(flights_short_of_fuel())
def test_a_landing_without_the_reserve_is_an_error_on_each_filling_of_the_tanks(asked: Asked) -> None:
    found = flight(asked.text)
    reserve = asked.burn / 2.0
    empty, before = False, 0
    ran_out = [finding["leg"] for finding in told(found, "fuel-below-zero")]
    for one in states(found, asked.board):
        if one.refilled:
            empty = False
        if one.left < -CLOSE and not empty:
            empty = True
            # It may run out at a changeover point between two points of the route.
            assert any(before < leg <= (one.leg or 0) for leg in ran_out)
        elif one.lands and CLOSE < one.left < reserve - CLOSE:
            assert any(finding["leg"] == one.leg for finding in told(found, "reserve"))
        before = one.leg or 0


@given(flights_short_of_fuel())
def test_a_margin_below_zero_has_a_finding_as_computed_and_as_printed(asked: Asked) -> None:
    found = flight(asked.text)
    about = [one for one in found["findings"] if one["rule"] in ABOUT_FUEL]
    if found["fuel"]["margin_gal"] < 0.0:
        assert about
    printed = re.search(r"^ *margin (-?[\d.]+) ", sheet(asked.text), re.MULTILINE)
    assert printed is not None
    if float(printed[1]) < 0.0:
        assert about


@given(flights_short_of_fuel())
def test_the_margin_is_that_of_the_worst_place_since_the_last_fuelling(asked: Asked) -> None:
    found = flight(asked.text)
    all_states = list(states(found, asked.board))
    refills = [index for index, one in enumerate(all_states) if one.refilled]
    since = all_states[refills[-1] :] if refills else all_states
    reserve, share = asked.burn / 2.0, asked.contingency_percent / 100.0
    end = since[-1]
    spare = [end.left - end.used * share - reserve - asked.extra]
    for (start, _), way in zip(asked.alternates, found["alternates"], strict=True):
        for one in since:
            if one.ends if start is None else one.name == start:
                spare.append(one.left - way["fuel_gal"] - one.used * share - reserve - asked.extra)
    assert found["fuel"]["margin_gal"] == pytest.approx(min(spare), abs=CLOSE)


@given(flights_short_of_fuel())
def test_contingency_or_extra_that_is_not_there_is_told_on_each_filling(asked: Asked) -> None:
    found = flight(asked.text)
    reserve, share = asked.burn / 2.0, asked.contingency_percent / 100.0
    filling: list[list[State]] = [[]]
    for one in states(found, asked.board):
        filling.append([one]) if one.refilled else filling[-1].append(one)
    short = 0
    for tank in filling:
        spares = [(tank[-1].left - reserve, tank[-1].used * share + asked.extra)]
        for (start, _), way in zip(asked.alternates, found["alternates"], strict=True):
            spares += [
                (one.left - way["fuel_gal"] - reserve, one.used * share + asked.extra)
                for one in tank
                if (one.ends if start is None else one.name == start)
            ]
        over_reserve, wanted = min(spares, key=lambda pair: pair[0] - pair[1])
        short += over_reserve > CLOSE and over_reserve - wanted < -CLOSE
    assert len(told(found, "contingency-short")) >= short


TWICE = "\n".join(
    (
        *PLACES,
        "date 2026-07-18\noff 12:00Z\nrules vfr day\naltitude 4500\ntas 120kt\nburn 8gph\nwind calm\ntaxi 1gal\n",
    )
)


def test_an_alternate_from_a_refuelling_stop_is_judged_by_what_is_on_board_after_it() -> None:
    # 20 minutes of latitude are 20.0 NM, 10 min, 1.33 gal: 6 gal less a reserve of 4 carry nobody to XDD and back.
    found = flight(TWICE + "fuel 38gal\nroute XAA XBB land 30min fuel 6gal XAA\nalternate XBB via XDD\n")
    assert found["fuel"]["margin_gal"] < 0.0
    (one,) = told(found, "alternate-reserve")
    assert (one["severity"], one["leg"]) == ("error", 1)
    assert one["message"].startswith("6.0 gal on board after fuelling at XBB and ")


def test_an_alternate_from_a_refuelling_stop_is_judged_by_what_is_left_on_landing_there() -> None:
    found = flight(TWICE + "fuel 9gal\nroute XAA XBB land 30min fuel 30gal XAA\nalternate XBB via XDD\n")
    assert found["fuel"]["margin_gal"] > 0.0
    (one,) = told(found, "alternate-reserve")
    assert (one["severity"], one["leg"]) == ("error", 1)
    assert one["message"].startswith("6.6 gal left at XBB and ")


def test_a_point_passed_twice_is_judged_at_each_passage() -> None:
    # XAA to QAA 23.1 NM, 1.54 gal; from there 40.6 NM, 2.71 gal, to XDD: 3.75 of 8 gal are left, and 4 are the reserve.
    way = "route XAA QAA XBB land 30min fuel 30gal QAA XAA\nalternate QAA via XDD\n"
    (one,) = told(flight(TWICE + "fuel 9gal\n" + way), "alternate-reserve")
    assert one["leg"] == 1
    both = told(flight(TWICE + "fuel 9gal\n" + way.replace("fuel 30gal", "fuel 8gal")), "alternate-reserve")
    assert [one["leg"] for one in both] == [1, 3]


def test_a_margin_that_is_below_zero_only_as_printed_is_told() -> None:
    # 35.25 NM at 120 kt and 8 gal/h burn 2.35 gal, printed 2.4; 4.0 and 0.0 are kept. Of 6.38 gal, printed 6.3,
    # 0.03 are left over, and the printed amounts make -0.1.
    text = (
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndirect QAA 090 - 270 QBB 35.25nm\ndate 2026-07-18\n"
        "off 12:00Z\nrules vfr day\naltitude 3500\nvariation 0E\nwind calm\ntas 120kt\nburn 8gph\nfuel 6.38gal\n"
        "route QAA QBB\n"
    )
    found = flight(text)
    assert found["fuel"]["margin_gal"] == pytest.approx(0.03)
    assert "margin -0.1 " in sheet(text)
    (one,) = told(found, "contingency-short")
    assert one["message"] == "0.1 gal short of what the flight wants to have at its last landing"
