"""The radial of another station that a segment names (`on STN RADIAL`): it guides there, or nothing does."""

from __future__ import annotations

import pytest
from helpers.flown import changed, codes, flight, flights

ALONG = "airway V801 QHB - QEL 29.5nm mea 3000 on QSK 280"


def guides(text: str) -> set[str | None]:
    """What guides the legs along V801, by identifier."""
    legs = [leg for leg in flight(text)["legs"] if leg["via"] == "V801"]
    return {leg["guidance"] and leg["guidance"]["ident"] for leg in legs}


def test_the_named_stations_radial_guides() -> None:
    assert guides(changed(ALONG)) == {"QSK"}


def test_no_other_station_stands_in_for_one_that_is_out_of_service() -> None:
    """The chart names the radial because the airway's own stations do not serve the segment."""
    found = flight(changed(ALONG, "unavailable QSK"))
    assert guides(changed(ALONG, "unavailable QSK")) == {None}
    told = [one["message"] for one in found["findings"] if one["rule"] == "no-guidance"]
    assert any("the radial of QSK leads along this part, and it does not guide" in one for one in told)


@pytest.mark.parametrize(
    ("station", "code"),
    [("QZZ", "unknown-name"), ("QND", "bad-guide"), ("QDM", "bad-guide")],
)
@pytest.mark.parametrize("statement", ["airway V801", "direct"])
def test_a_guide_that_is_unknown_or_no_vor_is_a_problem_at_its_line(statement: str, station: str, code: str) -> None:
    text = changed(
        "station QND 350 N45 52.00 W038 38.00 kind ndb",
        "station QDM 112.40 N45 52.00 W038 38.00 kind dme",
        f"{statement} QHB - QEL 29.5nm mea 3000 on {station} 280",
        "route XHAR QHB V801 QEL XOLD" if statement == "airway V801" else "route XHAR QHB QEL XOLD",
    )
    assert codes(text) == {code}
    (problem,) = flights(text)[0]["problems"]
    line = text.splitlines().index(f"{statement} QHB - QEL 29.5nm mea 3000 on {station} 280") + 1
    assert (problem["line"], problem["column"]) == (line, len(f"{statement} QHB - QEL 29.5nm mea 3000 on ") + 1)
