"""Which published preferred routes fit a flight; columns as they stand in FAA NASR PFR_BASE.csv, 2026-05-14."""

from __future__ import annotations

from datetime import UTC, datetime
from math import inf

import pytest

from navlog.catalogue.preferred import PreferredRoute
from navlog.studies.published_routes import Fitting, fitting


def route(
    kind: str = "TEC", altitude: str = "", aircraft: str = "", hours: str = "", line: str = "QHB V801 QEL"
) -> PreferredRoute:
    return PreferredRoute("XHAR", "XOLD", kind, altitude, aircraft, hours, "", "", line)


def fits(
    one: PreferredRoute, altitude_ft: float | None = None, tas_kt: float | None = None, off: datetime | None = None
) -> tuple[float, float] | None:
    """The altitudes for which a route fits; None where it does not."""
    found = fitting(one, altitude_ft=altitude_ft, tas_kt=tas_kt, off=off)
    return (found.low_ft, found.high_ft) if isinstance(found, Fitting) else None


@pytest.mark.parametrize(
    ("published", "tas_kt", "expected"),
    [
        ("", 110.0, (0.0, inf)),
        ("5000", 110.0, (5000.0, 5000.0)),
        ("10000", 110.0, (10_000.0, 10_000.0)),
        ("PQ60", 110.0, (6000.0, 6000.0)),
        ("J110M90", 110.0, None),
        ("J100M80", 200.0, (8000.0, 8000.0)),
        ("JM110PQ90", 110.0, (9000.0, 9000.0)),
        ("JMPQ40", 110.0, (4000.0, 4000.0)),
        ("MPQ80", None, (8000.0, 8000.0)),
        ("110-170 INCL", 110.0, (11_000.0, 17_000.0)),
        ("110-150 ONLY", 110.0, (11_000.0, 15_000.0)),
        ("120-160 INCL.", 110.0, (12_000.0, 16_000.0)),
        ("90-170", 110.0, (9000.0, 17_000.0)),
        ("AT OR ABOVE 130", 110.0, (13_000.0, inf)),
        ("FL190 AND ABOVE", 110.0, (19_000.0, inf)),
        ("AOB 100", 110.0, (0.0, 10_000.0)),
        ("AOA 7000", 110.0, (7000.0, inf)),
        ("9000 AND BELOW", 110.0, (0.0, 9000.0)),
        ("6000'-17000' INCL", 110.0, (6000.0, 17_000.0)),
    ],
)
def test_altitudes_are_read_for_the_class_of_the_aeroplane(
    published: str, tas_kt: float | None, expected: tuple[float, float] | None
) -> None:
    assert fits(route(altitude=published), tas_kt=tas_kt) == expected


def test_an_altitude_outside_the_published_ones_does_not_fit() -> None:
    assert fits(route(altitude="110-170 INCL"), 12_000.0) == (11_000.0, 17_000.0)
    assert fits(route(altitude="110-170 INCL"), 10_000.0) is None
    assert fits(route(altitude="5000"), 6000.0) is None


def test_words_for_an_altitude_that_nobody_can_read_speak_against_nothing() -> None:
    assert fits(route(altitude="AS ASSIGNED"), 6000.0) == (0.0, inf)


@pytest.mark.parametrize("kind", ["H", "SHD", "HPD", "NAR"])
def test_routes_of_the_high_structure_and_the_north_atlantic_do_not_fit(kind: str) -> None:
    assert fits(route(kind)) is None


@pytest.mark.parametrize(
    ("aircraft", "line"),
    [
        ("RNAV 1 - DME/DME/IRU OR GPS", "QHB V801 QEL"),
        ("DME/DME/IRU OR GNSS REQUIRED", "QHB V801 QEL"),
        ("/E, /F, /G ONLY", "QHB V801 QEL"),
        ("TURBOJETS ONLY", "QHB V801 QEL"),
        ("", "MAD T303 HFD"),
        ("", "ARNII Q816 HOCKE"),
        ("", "OCN J1 SLI"),
        ("", "PVD V146 BAF NOBBI1"),
    ],
)
def test_what_asks_for_more_than_vor_and_dme_does_not_fit(aircraft: str, line: str) -> None:
    assert fits(route(aircraft=aircraft, line=line)) is None


def test_a_speed_asked_for_counts_where_the_speed_is_known() -> None:
    fast = route(aircraft="PROPS 210 KTS OR GREATER")
    slow = route(aircraft="PROPS LESS THAN 250 KTS IAS")
    assert [fits(fast, tas_kt=kt) is not None for kt in (110.0, 220.0, None)] == [False, True, True]
    assert [fits(slow, tas_kt=kt) is not None for kt in (110.0, 260.0, None)] == [True, False, True]


def test_hours_in_utc_go_round_midnight() -> None:
    day = route(hours="1100-0300")
    held = [fits(day, off=datetime(2026, 5, 20, hour, 30, tzinfo=UTC)) is not None for hour in (2, 3, 10, 11, 23)]
    assert held == [True, False, False, True, True]
    assert fits(day) is not None
