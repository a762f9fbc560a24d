"""What holds for every flight: legs sum to totals, columns add as printed, lines are short, triangles close."""

from __future__ import annotations

import json
from itertools import pairwise
from math import isclose

from helpers import independent
from helpers.flown import Json, navlog
from helpers.generated import Generated, generated_flights
from helpers.printed import PrintedLog, hours_and_minutes, printed_logs
from hypothesis import given, settings

FLIGHTS = settings(max_examples=60, deadline=None)

LOOSER = independent.TOLERANCES | {
    # Legs may be as short as some metres here, and the JSON's nine decimals are a tenth of a millimetre.
    "true course": 1e-3,
    "fuel rate": 1e-3,
    # Half a degree of longitude to several hundred NM on one straight line between three values of the model.
    "variation": 0.1,
}


def computed(flight: Generated) -> Json:
    found: Json = json.loads(navlog("log", "-", "--format", "json", typed=flight.text).out)
    assert found["problems"] == []
    return found


def printed(flight: Generated) -> PrintedLog:
    (log,) = printed_logs(navlog("log", "-", typed=flight.text).out)
    return log


@FLIGHTS
@given(generated_flights())
def test_a_second_opinion_agrees_on_any_flight(flight: Generated) -> None:
    largest = independent.differences(independent.dated(computed(flight)))
    assert {name: seen for name, seen in largest.items() if seen > LOOSER[name]} == {}


@FLIGHTS
@given(generated_flights())
def test_legs_sum_to_totals_and_follow_each_other(flight: Generated) -> None:
    found = computed(flight)
    legs = found["legs"]
    assert isclose(sum(leg["distance_nm"] for leg in legs), found["totals"]["distance_nm"], abs_tol=1e-8)
    assert legs[0]["from"]["ident"] == flight.order[0]
    assert [leg["to"]["ident"] for leg in legs if leg["to"]["ident"]] == [word.split()[0] for word in flight.order[1:]]
    for before, after in pairwise(legs):
        assert before["to"] == after["from"]
        assert after["number"] == before["number"] + 1
    assert legs[-1]["distance_remaining_nm"] == 0.0


def steps(text: str) -> int:
    """A printed figure in its steps: tenths where it has a decimal, else units."""
    return int(text.replace(".", ""))


@FLIGHTS
@given(generated_flights())
def test_columns_add_as_printed(flight: Generated) -> None:
    log = printed(flight)
    cells = [leg.cells for leg in log.legs]
    to_go = steps(log.total["NM"])
    for leg in cells:
        to_go -= steps(leg["Dist"])
        assert steps(leg["Rem"]) == to_go
    assert to_go == 0
    if "XXX" in {leg["Time"] for leg in cells}:
        assert log.total["time"] == "?"
        return
    if log.total["time"] == ">99h" or ">99h" in {leg["Time"] for leg in cells}:
        return
    flown, off = 0, hours_and_minutes(flight.statements[1].removesuffix("Z").split()[1])
    left = steps(log.fuel["board"])
    for leg in cells:
        flown += hours_and_minutes(leg["Time"])
        assert hours_and_minutes(leg["ETA"].partition("Z")[0]) == (off + flown) % (24 * 60)
        left -= steps(leg["Used"])
        assert steps(leg["Left"]) == left
    assert hours_and_minutes(log.total["time"]) == flown
    assert steps(log.total["fuel"].split()[0]) == sum(steps(leg["Used"]) for leg in cells)
    assert log.total["landing"] == cells[-1]["ETA"]
    assert steps(log.fuel["left"]) == left


@FLIGHTS
@given(generated_flights())
def test_printed_figures_are_the_computed_ones_rounded(flight: Generated) -> None:
    """Each printed running total is within half a step of the exact one; fuel left is never more than there is."""
    found, log = computed(flight), printed(flight)
    miles, minutes = 0, 0
    for leg, row in zip(found["legs"], log.legs, strict=True):
        miles += steps(row.cells["Dist"])
        exact_nm = found["totals"]["distance_nm"] - leg["distance_remaining_nm"]
        assert abs(miles / 10.0 - exact_nm) <= 0.05 + 1e-6
        if leg["elapsed_min"] is not None and ">" not in row.cells["Time"]:
            minutes += hours_and_minutes(row.cells["Time"])
            assert abs(minutes - leg["elapsed_min"]) <= 0.5 + 1e-6
        if leg["fuel_remaining_gal"] is not None and log.text.count("FUEL in gal"):
            exact_tenths = leg["fuel_remaining_gal"] * 10.0
            assert exact_tenths - 2.0 <= steps(row.cells["Left"]) <= exact_tenths + 1e-6


@FLIGHTS
@given(generated_flights())
def test_no_line_is_wider_than_80_and_every_one_is_ascii(flight: Generated) -> None:
    notes = '\nnote "' + "a word or two " * 12 + '"\nnote "' + "x" * 170 + '"\n'
    sheet = navlog("log", "-", typed=flight.text + notes).out
    assert sheet.isascii()
    assert max(len(line) for line in sheet.splitlines()) <= 80


@FLIGHTS
@given(generated_flights())
def test_a_printed_inbound_course_is_the_reciprocal_of_the_printed_radial(flight: Generated) -> None:
    found, log = computed(flight), printed(flight)
    for leg, row in zip(found["legs"], log.legs, strict=True):
        guidance = leg["guidance"]
        if guidance is None or guidance["radial_deg"] is None:
            continue
        radial = int(guidance["radial_deg"] + 0.5 + 1e-9) % 360 or 360
        shown, flag = row.cells["Set"].split()
        assert flag == guidance["flag"]
        assert len(shown) == 3
        assert int(shown) == (radial if flag == "FROM" else (radial + 180) % 360 or 360)
