"""Stations and fixes typed in the route file's words, and stations out of a route file."""

from __future__ import annotations

import pytest

from navlog.nav.chart import Station
from navlog.nav.problems import NavlogError, Span
from navlog.request.records import Name
from navlog.request.stationlist import named, read_fix, read_station, stations_in, together

TYPED = "QHB 113.70 N46 12.30 W039 20.70 decl 15W dme elev 820ft"
FILE = """
station QHB 113.70 N46 12.30 W039 20.70 decl 16W
station QEL 110.20 N45 44.10 W039 33.00 decl 17W
flight "One"
station QMM 112.00 N46 40.00 W039 00.00 decl 15W
route QHB QEL
"""


def test_a_typed_station_has_everything_the_route_file_can_say() -> None:
    station = read_station(TYPED)
    assert (station.ident, station.frequency_mhz, station.declination_deg) == ("QHB", 113.7, -15.0)
    assert (station.dme, station.elevation_ft) == (True, 820.0)


def test_a_badly_typed_station_shows_where() -> None:
    with pytest.raises(NavlogError) as caught:
        read_station("QHB 113.70 decl 15")
    (problem,) = caught.value.problems
    assert problem.span is not None
    assert (problem.span.file, problem.text) == ("--station", "QHB 113.70 decl 15")


def test_stations_of_a_route_file_common_ones_first() -> None:
    assert [station.ident for station in stations_in(FILE, "a.route")] == ["QHB", "QEL", "QMM"]


def test_a_route_file_with_a_problem_gives_no_stations() -> None:
    with pytest.raises(NavlogError, match=r"a\.route:1:1"):
        stations_in("statoin QHB 113.70", "a.route")


def test_a_typed_station_stands_before_the_file_s() -> None:
    stations = together((read_station(TYPED),), stations_in(FILE, "a.route"))
    assert [(station.ident, station.declination_deg) for station in stations] == [
        ("QHB", -15.0),
        ("QEL", -17.0),
        ("QMM", -15.0),
    ]


def test_no_station_at_all_is_a_problem() -> None:
    with pytest.raises(NavlogError, match="no station is given"):
        together((), ())


@pytest.mark.parametrize(("ident", "hint"), [("QBH", "did you mean `QHB`?"), ("ZZZ", "known are QHB, QEL, QMM")])
def test_an_unknown_station_is_answered_with_those_known(ident: str, hint: str) -> None:
    known: tuple[Station, ...] = stations_in(FILE, "a.route")
    with pytest.raises(NavlogError) as caught:
        named(Name(ident, Span("fix", 1)), known)
    assert caught.value.problems[0].hint == hint


def test_a_badly_typed_fix_shows_what_was_typed() -> None:
    with pytest.raises(NavlogError) as caught:
        read_fix("QHB 84 5nm")
    (problem,) = caught.value.problems
    assert (problem.span, problem.text) == (Span("fix", 1, 5, 2), "QHB 84 5nm")
