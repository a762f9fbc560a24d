"""Which sources a flight uses, what of the published airway stays beside the file's, and what a remark leaves to tell.

Every place of the invented chart has a source of its own. QAA, MIDDL and QBB stand on 39 W, 20 and 40 NM apart, a
minute of latitude a mile; QCC is 12.5 NM east of MIDDL, where a minute of longitude is 0.69 NM.
"""

from __future__ import annotations

from datetime import date

import pytest
from geographiclib.geodesic import Geodesic

from navlog.nav.chart import (
    Airway,
    Bearing,
    BothWays,
    Fix,
    Position,
    Provenance,
    Segment,
    Source,
    Station,
    StationKind,
    UnusableRadial,
)
from navlog.nav.receiver_check import Checkpoint
from navlog.nav.record import changed
from navlog.request.flights import read_flights
from navlog.request.records import Request
from navlog.resolve.flight import resolve_flight
from navlog.resolve.lookup import NoCatalogue
from navlog.resolve.route import MarkKind, Route

NAMES = ("QAA", "QBB", "QCC", "QDD", "QEE", "MIDDL", "V90", "checks", "unused")
OF = {name: Provenance(Source.NASR, name) for name in NAMES}


def vor(ident: str, north_min: float, east_min: float = 0.0) -> Station:
    place = Position(46.0 + north_min / 60.0, -39.0 + east_min / 60.0)
    return Station(ident, StationKind.VOR, place, frequency_mhz=113.0, declination_deg=0.0, elevation_ft=0.0, dme=True,
                   provenance=OF[ident])  # fmt: skip


STATIONS = (vor("QAA", 0), vor("QBB", 60), vor("QCC", 20, 18), vor("QDD", 10, -10), vor("QEE", 30, 30))
MIDDL = Fix("MIDDL", Position(46.0 + 20.0 / 60.0, -39.0), (Bearing("QCC", 270.0, 12.5, "VOR"),), published=True,
            provenance=OF["MIDDL"])  # fmt: skip
FIRST = Segment("QAA", "MIDDL", 20.0, start_radial_deg=0.0, mea=BothWays(3000.0, 3000.0), moca=BothWays(2000.0, 2000.0))
SECOND = Segment(
    "MIDDL", "QBB", 40.0, end_radial_deg=180.0, mea=BothWays(5000.0, 5000.0), moca=BothWays(2500.0, 2500.0)
)


XAA = "airport XAA N46 30.00 W039 00.00"


class Chart(NoCatalogue):
    """The chart, whose airway has a first segment with remarks or without."""

    def __init__(self, first: Segment = FIRST, *more: Fix) -> None:
        self.more = more
        self.airway = Airway("V90", ("QAA", "MIDDL", "QBB"), (first, SECOND), provenance=OF["V90"])

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        return tuple(one for one in STATIONS if one.ident == ident)

    def fixes(self, ident: str, day: date) -> tuple[Fix, ...]:
        return tuple(one for one in (MIDDL, *self.more) if one.ident == ident)

    def airways(self, ident: str, day: date) -> tuple[Airway, ...]:
        return (self.airway,) if ident == "V90" else ()

    def checkpoints(self, near: Position, day: date) -> tuple[Checkpoint, ...]:
        return (Checkpoint(STATIONS[0], 90.0, False, "run-up area", near, "XAA", None, None, OF["checks"]),)

    def sources(self, day: date) -> tuple[Provenance, ...]:
        return tuple(OF.values())


def flown(*statements: str, chart: Chart | None = None) -> Route:
    head = "date 2026-07-18\ntas 120kt\nequipment vor 2 dme 1\n"
    if not any(one.startswith("altitude") for one in statements):
        head += "altitude 6000\n"
    (request,) = read_flights(head + "\n".join(statements) + "\n", "f.route").flights
    assert isinstance(request, Request), request
    return resolve_flight(request, chart or Chart())


@pytest.mark.parametrize(
    ("statements", "used"),
    [
        # QCC tells MIDDL, where the way ends; QBB ahead neither guides up to there nor is passed.
        (("route QAA V90 MIDDL",), ["QAA", "QCC", "MIDDL", "V90"]),
        # QAA guides the ten miles up to the middle of the airway and is not passed.
        (("route MIDDL V90 QBB",), ["QAA", "QBB", "MIDDL", "V90"]),
        (("route QAA QBB",), ["QAA", "QBB"]),
        # The file's fix hangs on QDD, wherever it stands on the way; one that is not flown hangs on nothing.
        (("fix OWNED QDD 090 10nm", "route OWNED QAA"), ["QAA", "QDD"]),
        (("fix OWNED QDD 090 10nm", "route QBB QAA"), ["QAA", "QBB"]),
        # A receiver check matters to a flight under IFR, where it takes off (14 CFR 91.171).
        ((XAA, "rules ifr", "route XAA QBB"), ["QBB", "checks"]),
        ((XAA, "route XAA QBB"), ["QBB"]),
        (("wind at QEE 230/12", "route QAA QBB"), ["QAA", "QBB", "QEE"]),
    ],
)
def test_a_source_is_used_that_supplies_anything_of_the_flight(statements: tuple[str, ...], used: list[str]) -> None:
    assert [one.cycle for one in flown(*statements).sources] == used


@pytest.mark.parametrize(
    ("stated", "kept"),
    [
        # Over both segments the published MEA is 5,000 ft and the MOCA 2,500.
        ("mea 5000 moca 2500", (None, None)),
        ("mea 5100 moca 2600", (None, None)),
        ("mea 4900 moca 2400", (5000, 2500)),
        ("mea 4900 moca 2500", (5000, None)),
        ("mea 5000", (None, None)),
    ],
)
def test_of_the_published_minimums_those_stay_that_the_file_states_lower(
    stated: str, kept: tuple[float | None, float | None]
) -> None:
    (one,) = flown(f"airway V90 QAA 360 - 180 QBB 60nm {stated}", "route QAA V90 QBB").stretches
    assert (one.limits.published_mea_ft, one.limits.published_moca_ft) == kept


def told(route: Route) -> set[tuple[str, MarkKind]]:
    """What may tell the end of its first stretch."""
    return {(one.station.ident, one.kind) for one in route.stretches[0].candidates or ()}


def test_a_radial_that_a_remark_calls_unusable_tells_nothing_and_the_dme_there_still_does() -> None:
    dmes = {("QAA", MarkKind.DME), ("QCC", MarkKind.DME)}
    assert told(flown("route QAA V90 MIDDL")) == {*dmes, ("QCC", MarkKind.RADIAL)}
    silent = changed(FIRST, unusable=(UnusableRadial("QCC", 270.0, None, None, "QCC R-270 unusable"),))
    assert told(flown("route QAA V90 MIDDL", chart=Chart(silent))) == dmes
    # Of another station it takes nothing from this one.
    other = changed(FIRST, unusable=(UnusableRadial("QEE", 270.0, None, None, "QEE R-270 unusable"),))
    assert told(flown("route QAA V90 MIDDL", chart=Chart(other))) == {*dmes, ("QCC", MarkKind.RADIAL)}


@pytest.mark.parametrize(
    ("out_nm", "off_nm", "differs"),
    [
        # A radial written to the degree and a distance in whole miles: sqrt(0.5^2 + (10 sin 1)^2) = 0.53 NM.
        (10, 0.52, False),
        (10, 0.54, True),
        # Of 120 NM a DME may be off by 1 percent, 1.2: sqrt(1.2^2 + (120 sin 1)^2) = 2.41 NM.
        (120, 2.40, False),
        (120, 2.43, True),
    ],
)
def test_a_fix_by_radial_and_distance_differs_where_its_own_figures_cannot_tell_it(
    out_nm: float, off_nm: float, differs: bool
) -> None:
    """The published place lies so far beyond it, by the WGS84 geodesic of another library."""
    line = Geodesic.WGS84.Direct(46.0, -39.0, 0.0, (out_nm + off_nm) * 1852.0)
    there = Fix("FARAW", Position(line["lat2"], line["lon2"]), published=True, provenance=OF["unused"])
    found = flown(f"fix FARAW QAA 000 {out_nm}nm", "route QAA QBB", chart=Chart(FIRST, there)).differs
    assert [one.startswith("FARAW is at ") for one in found] == [True] * differs


@pytest.mark.parametrize(
    ("level", "guided"),
    [
        # ICAO Doc 7488: 980 hPa stand at 920 ft, so that FL090 is 8,080 ft there, and at 1013.25 hPa 9,000.
        ("altitude FL090\naltimeter 980hPa", False),
        ("altitude FL090\naltimeter 1013.25hPa", True),
        ("altitude 8490", False),
        ("altitude 8500", True),
    ],
)
def test_a_remark_that_holds_below_a_height_counts_at_the_altitude_that_a_level_is(level: str, guided: bool) -> None:
    low = changed(FIRST, unusable=(UnusableRadial("QAA", 0.0, None, 8500.0, "QAA R-360 unusable below 8500"),))
    (first, *_) = flown(level, "levels icao", "route QAA V90 MIDDL", chart=Chart(low)).stretches
    assert [part.guidance is not None for part in first.parts] == [guided]
