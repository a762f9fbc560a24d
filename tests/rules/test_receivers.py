"""The VOR receiver check of 14 CFR 91.171: within 30 days, and within its limits."""

from __future__ import annotations

import pytest
from helpers.flown import changed, flight, sheet
from helpers.judged import found

# The base flight is on 2026-07-18.


def test_without_a_check_one_note_under_ifr_and_none_under_vfr() -> None:
    assert found("vor-check", "rules ifr") == [
        "note: no check of the VOR receivers is stated; it must be within the 30 days before the flight"
    ]
    assert found("vor-check") == []


@pytest.mark.parametrize(("day", "stale"), [("2026-06-18", False), ("2026-06-17", True), ("2026-07-18", False)])
def test_a_check_counts_within_the_preceding_30_days(day: str, stale: bool) -> None:
    """14 CFR 91.171(a)(2): "operationally checked within the preceding 30 days"; 18 June is 30 days before."""
    told = found("vor-check", "rules ifr", f"vor-check {day} XHAR ground 0")
    assert bool(told) is stale
    assert all(one.startswith("warning: ") for one in told)


def test_a_check_after_the_flight_does_not_count() -> None:
    (told,) = found("vor-check", "rules ifr", "vor-check 2026-07-19 XHAR ground 0")
    assert told.endswith("is of a later day than the flight")


def test_under_vfr_an_old_check_is_nobodys_business() -> None:
    assert found("vor-check", "vor-check 2026-01-01 XHAR ground 0") == []


def test_a_flight_without_vor_needs_no_check() -> None:
    assert found("vor-check", "rules ifr", "route XHAR XOLD", "direct XHAR - XOLD 34.8nm min 2500") == []


@pytest.mark.parametrize(
    ("kind", "limit_deg"),
    [
        ("vot", 4),  # 14 CFR 91.171(b)(1)
        ("repair-station", 4),  # (b)(1)
        ("ground", 4),  # (b)(2)
        ("airborne", 6),  # (b)(3)
        ("airway", 6),  # (b)(4)
        ("dual", 4),  # (c)
        ("", 4),  # the strictest where it is not said
    ],
)
def test_an_error_counts_up_to_its_limit_either_way(kind: str, limit_deg: int) -> None:
    for sign in "+-":
        at_limit = f"vor-check 2026-07-04 XHAR {kind} {sign}{limit_deg}"
        assert found("vor-check-error", "rules ifr", at_limit) == []
        (told,) = found("vor-check-error", "rules ifr", f"{at_limit}.1")
        assert told.startswith(f"error: error {sign}{limit_deg}.1 degrees at XHAR, at most {limit_deg} (")


def test_under_vfr_a_receiver_that_is_off_is_a_warning() -> None:
    (told,) = found("vor-check-error", "vor-check 2026-07-04 XHAR ground 8")
    assert told.startswith("warning: ")


def test_of_two_receivers_each_is_told_and_each_must_be_checked() -> None:
    two = ("rules ifr", "equipment vor 2")
    (told,) = found("vor-check-error", *two, "vor-check 2026-07-04 XHAR vot +1 -5")
    assert told.startswith("error: receiver 2 error -5 degrees")
    (told,) = found("vor-check", *two, "vor-check 2026-07-04 XHAR vot +1")
    assert "tells 1 error of 2 receivers" in told
    assert found("vor-check", *two, "vor-check 2026-07-04 XHAR vot +1 -2") == []
    assert found("vor-check", *two, "vor-check 2026-07-04 XHAR dual 3") == []
    (told,) = found("vor-check", *two, "vor-check 2026-07-04 XHAR vot +2 +1 +3")
    assert "3 errors of 2 receivers" in told


@pytest.mark.parametrize(
    ("errors", "told"), [("+3 -3", "+6"), ("+2 -2", None), ("+5 +3", None), ("4", None), ("-5", "-5")]
)
def test_a_dual_check_is_of_the_degrees_between_the_two(errors: str, told: str | None) -> None:
    """14 CFR 91.171(c)(2): between the two indicated bearings no more than 4 degrees."""
    some = found("vor-check-error", "rules ifr", f"vor-check 2026-07-04 XHAR dual {errors}", "equipment vor 2")
    expected = f"error: error {told} degrees at XHAR, at most 4 (one receiver against the other, 14 CFR 91.171(c))"
    assert some == ([] if told is None else [expected])


def test_the_check_stands_on_the_sheet_and_in_json() -> None:
    text = changed("rules ifr", 'vor-check 2026-07-04 "run-up area" ground -1.5')
    assert flight(text)["vor_check"] == {
        "date": "2026-07-04",
        "place": "run-up area",
        "kind": "ground",
        "errors_deg": [-1.5],
        "limit_deg": 4,
        "good_through": "2026-08-03",
    }
    printed = " ".join(sheet(text).split())
    assert (
        "checked 2026-07-04 at run-up area, ground checkpoint: error -1.5 degrees, at most 4 (14 CFR 91.171(b)(2));"
        " counts through 2026-08-03"
    ) in printed


def test_a_flights_own_check_replaces_the_common_one() -> None:
    common = changed("vor-check 2026-07-04 XHAR vot 1")
    assert flight(common + 'flight "own"\nvor-check 2026-07-05 XOLD vot 2\n')["vor_check"]["place"] == "XOLD"


def test_no_check_and_vfr_leave_the_sheet_as_it_was() -> None:
    assert "VOR CHECK" not in sheet(changed())
    assert flight(changed())["vor_check"] is None
