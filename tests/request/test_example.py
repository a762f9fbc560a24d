"""The example of the format's own description, read into one request; every value worked by hand."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from navlog.nav.chart import BothWays, ChangeoverAt, CrossingAltitude, StationKind
from navlog.nav.units import Amount
from navlog.request.flights import read_flights
from navlog.request.parser import parse
from navlog.request.records import Equipment, Level, Request, StatedWind
from navlog.request.writer import to_text

EXAMPLE = Path(__file__).parents[1] / "data" / "valid" / "round-the-marsh.route"


@pytest.fixture(scope="module")
def request_() -> Request:
    plans = read_flights(EXAMPLE.read_text(encoding="utf-8"), "round-the-marsh.route")
    assert plans.problems == ()
    (flight,) = plans.flights
    assert isinstance(flight, Request)
    return flight


def test_stations_of_the_example(request_: Request) -> None:
    harbour = request_.definitions.stations["QHB"]
    assert (harbour.kind, harbour.frequency_mhz, harbour.service) == (StationKind.VOR, 113.7, "L")
    assert (harbour.declination_deg, harbour.dme, harbour.elevation_ft) == (-15.0, True, 820.0)
    assert harbour.name == "Harbour"
    assert harbour.position is not None
    # 12.30 / 60 = 0.205 and 20.70 / 60 = 0.345.
    assert harbour.position.latitude_deg == pytest.approx(46.205, abs=1e-12)
    assert harbour.position.longitude_deg == pytest.approx(-39.345, abs=1e-12)
    assert harbour.span is not None
    assert (harbour.span.line, harbour.span.column, harbour.span.length) == (2, 11, 3)


def test_fixes_of_the_example(request_: Request) -> None:
    fixes = request_.definitions.fixes
    assert [(name.ident, radial) for name, radial in fixes["PINEY"].radials] == [("QEL", 180.0)]
    assert fixes["PINEY"].distance_nm == 12.0
    assert [(name.ident, radial) for name, radial in fixes["ROSKO"].radials] == [
        ("QHB", 160.0),
        ("QEL", 90.0),
    ]
    assert fixes["LAKER"].position is not None


def test_airways_of_the_example(request_: Request) -> None:
    (segment,) = request_.definitions.airways["V801"].airway.segments
    assert (segment.start, segment.start_radial_deg) == ("QHB", 212.0)
    assert (segment.end, segment.end_radial_deg, segment.distance_nm) == ("QEL", 34.0, 29.5)
    assert (segment.mea, segment.moca) == (BothWays(3000.0, 3000.0), BothWays(2400.0, 2400.0))
    assert segment.changeovers == (ChangeoverAt(11.0, "QHB"),)
    (segment,) = request_.definitions.airways["V802"].airway.segments
    assert (segment.start_radial_deg, segment.end_radial_deg) == (180.0, None)
    assert segment.mea == BothWays(forward_ft=4000.0, backward_ft=3000.0)
    assert segment.crossings == (CrossingAltitude(3500.0, "QEL", "PINEY"),)


def test_direct_leg_of_the_example(request_: Request) -> None:
    (direct,) = request_.definitions.directs.values()
    assert (direct.start.ident, direct.end.ident) == ("QEL", "XHAR")
    assert (direct.segment.start_radial_deg, direct.segment.end_radial_deg) == (47.0, None)
    assert direct.segment.minimum == BothWays(2700.0, 2700.0)
    assert direct.segment.minimum_source == "own survey"


def test_flight_of_the_example(request_: Request) -> None:
    assert (request_.name, request_.line, request_.file) == ("Round the marsh", 16, "round-the-marsh.route")
    assert request_.day == date(2026, 7, 18)
    assert request_.off is not None
    assert request_.off.moment == datetime(2026, 7, 18, 15, 10, tzinfo=UTC)
    assert request_.cruise == Level(4500.0)
    assert (request_.rules, request_.levels) == ("vfr", "us")
    assert request_.equipment == Equipment(vor=2, dme=1)
    assert (request_.tas_kt, request_.burn) == (110.0, Amount(8.5, "gal/h"))
    assert (request_.fuel, request_.taxi) == (Amount(38.0, "gal"), Amount(1.0, "gal"))
    assert request_.winds[0].levels == (
        StatedWind(230.0, 12.0, height_ft=3000.0),
        StatedWind(240.0, 18.0, height_ft=6000.0, temperature_c=4.0),
    )


def test_route_of_the_example(request_: Request) -> None:
    assert [word.ident for word in request_.route] == ["XHAR", "QHB", "V801", "QEL", "DCT", "XHAR"]
    assert [word.level for word in request_.route if word.level] == [Level(5500.0)]
    assert [[word.ident for word in alternate.words] for alternate in request_.alternates] == [["XOLD"]]


def test_tidy_text_of_the_example() -> None:
    lines = to_text(parse(EXAMPLE.read_text(encoding="utf-8"), "x")).splitlines()
    assert lines[0] == ('station   QHB 113.70 N46 12.30 W039 20.70  decl 15W  class L  dme  elev 820ft  name "Harbour"')
    assert lines[7] == "airway    V801 QHB 212 - 034 QEL 29.5nm  mea 3000  moca 2400  cop 11 QHB"
    assert lines[13:16] == ["", 'flight    "Round the marsh"', "date      2026-07-18"]
