"""The words of facts and accounts for what is seldom flown: other minimums, true headings, a signal that fails."""

from __future__ import annotations

import pytest
from helpers.drawn import report
from helpers.judged import CHART_ONLY, along, reported

from navlog.flightlog.changeovers import far_text, kind_text, place_text
from navlog.flightlog.facts import (
    across_gap,
    by_terrain,
    changeover_place,
    crossings,
    gap_minutes,
    heading_text,
    lowest,
    no_signal,
    other_limits,
    true_alone,
)
from navlog.flightlog.records import FuelUnit
from navlog.nav.chart import CrossingAltitude, Service, Station, StationKind
from navlog.nav.record import changed
from navlog.printed.fuel import account
from navlog.resolve.route import Changeover, ChangeoverKind, Limits

LEVEL_LEG = along("QHB 212 - 032 QEL 29.5nm mea 3000")


@pytest.mark.parametrize(
    ("limits", "expected"),
    [
        (Limits(mea_ft=3000.0, minimum_ft=2500.0), ("MEA", 3000.0)),
        (Limits(minimum_ft=2500.0), ("min", 2500.0)),
        (Limits(minimum_ft=2500.0, minimum_kind="terrain"), ("terrain", 2500.0)),
        (Limits(), ("min", None)),
    ],
)
def test_the_minimum_that_a_flight_goes_by(limits: Limits, expected: tuple[str, float | None]) -> None:
    assert lowest(limits) == expected


def test_the_limits_beside_the_minimum_stand_once_a_stretch() -> None:
    first, second = reported(*LEVEL_LEG).log.legs
    limits = Limits(mea_ft=3000.0, moca_ft=2400.0, maa_ft=17500.0, gnss_mea_ft=2600.0)
    stretch = changed(first.stretch, limits=limits)
    assert other_limits(changed(first, stretch=stretch)) == ("MOCA 2400", "MAA 17500", "GNSS MEA 2600")
    assert other_limits(changed(second, stretch=stretch)) == ()


def test_a_true_heading_stands_where_there_is_no_magnetic_one() -> None:
    # Course 212 true at 110 kt in 230/12: 12 sin 18 are 3.7 kt from the right, 1.9 degrees: 214.
    aligned = (f"station {ident} decl true" for ident in ("QHB 113.70", "QEL 110.20"))
    stated = [one for one in CHART_ONLY if not one.startswith(("station", "variation"))]
    changes = (*stated, *aligned, "airway V801 QHB 212 - 032 QEL 29.5nm mea 3000")
    assert [true_alone(leg) for leg in reported(*changes).log.legs] == [
        f"heading 214 true, magnetic not known: no position, no `variation`, and {ident} is aligned to true north"
        for ident in ("QHB", "QEL")
    ]
    assert [true_alone(leg) for leg in reported(*LEVEL_LEG).log.legs] == ["", ""]


@pytest.mark.parametrize(
    ("service", "gap_nm", "expected"),
    [
        (Service.NORMAL, None, None),
        (Service.SIGNAL_GAP, 6.0, "signal gap of 6 NM"),
        (Service.SIGNAL_GAP, None, "signal gap"),
        (Service.UNUSABLE, None, "unusable"),
        (Service.GNSS_ONLY, None, "GNSS only"),
    ],
)
def test_what_is_wrong_with_a_signal(service: Service, gap_nm: float | None, expected: str | None) -> None:
    stretch = reported(*LEVEL_LEG).log.legs[0].stretch
    assert no_signal(changed(stretch, service=service, gap_nm=gap_nm)) == expected


@pytest.mark.parametrize(
    ("statement", "expected"),
    [
        ("rules ifr", "reserve 45 min by 14 CFR 91.167"),
        ("rules vfr", "reserve 30 min by 14 CFR 91.151 day"),
        ("reserve 40min", "reserve 40 min as stated"),
    ],
)
def test_what_the_reserve_goes_by(statement: str, expected: str) -> None:
    assert account(reported(statement).log).reserve_by == expected


def test_why_fuel_is_not_known_on_the_way_to_an_alternate() -> None:
    (way,) = reported("-burn", "alternate QHB via XHAR").log.alternates
    (leg,) = way.legs
    assert {one.key: one.reason for one in leg.unknown} == {
        "fuel_used_gal": "no `burn` given",
        "fuel_remaining_gal": "it is not known what is left at QHB",
        "fuel_least_gal": "the reserve is not known",
    }


@pytest.mark.parametrize(("unit", "step"), [("gal", 0.1), ("impgal", 0.1), ("L", 1.0), ("lb", 1.0), ("kg", 1.0)])
def test_the_step_to_which_fuel_is_printed(unit: str, step: float) -> None:
    assert FuelUnit(unit).step == step


def test_a_log_says_in_a_line_what_it_is() -> None:
    # 18 degrees off 230/12 at 110 kt: sqrt(110^2 - 3.7^2) - 11.4 = 98.5 kt, for 29.5 NM 17.97 min.
    log = reported(*LEVEL_LEG).log
    assert repr(log) == "<Log flight: 2 legs, 29.5 NM, 18 min>"
    unknown = changed(log, totals=changed(log.totals, time_min=None))
    assert repr(unknown) == "<Log flight: 2 legs, 29.5 NM, time unknown>"


@pytest.mark.parametrize(("kind", "told"), [("terrain", True), ("stated", False)])
def test_a_minimum_by_terrain_on_any_leg_or_on_a_way_to_an_alternate_is_the_logs(kind: str, told: bool) -> None:
    log = reported(*LEVEL_LEG).log
    first, second = log.legs
    stretch = changed(second.stretch, limits=Limits(minimum_ft=2500.0, minimum_kind=kind))
    flown = changed(log, legs=(first, changed(second, stretch=stretch)))
    assert by_terrain(flown) is told
    assert by_terrain(changed(log, alternates=(flown,))) is told


def test_a_heading_is_told_by_the_north_that_is_known_best() -> None:
    leg = reported("route XHAR QHB V801 QEL XOLD").log.legs[0]
    assert leg.triangle is not None
    solved = changed(leg.triangle, true_heading_deg=254.6)
    told = changed(leg, triangle=solved, magnetic_heading_deg=267.2, compass_heading_deg=None, variation_source="model")
    assert heading_text(told) == "267 magnetic"
    assert heading_text(changed(told, variation_source="station")) == "~267 magnetic"
    assert heading_text(changed(told, compass_heading_deg=265.6)) == "266 compass"
    assert heading_text(changed(told, compass_heading_deg=265.6, variation_source="station")) == "~266 compass"
    assert heading_text(changed(told, magnetic_heading_deg=None)) == "255 true"
    assert heading_text(changed(told, triangle=changed(solved, unflyable="too strong"))) is None
    assert heading_text(changed(told, triangle=None)) is None


QAA, QBB = (Station(ident, StationKind.VOR) for ident in ("QAA", "QBB"))


@pytest.mark.parametrize(
    ("kind", "stated", "not_in_source", "far", "place", "how"),
    [
        # 42.5 NM from QAA by the way flown; a pilot counts from the station that he leaves.
        ("PUBLISHED", ((43.0, "QAA"),), False, "43", "43 NM from QAA", "published"),
        ("PUBLISHED", ((43.4, "QAA"),), False, "43.4", "43.4 NM from QAA", "published"),
        ("PUBLISHED", ((60.0, "QBB"), (43.0, "QAA")), False, "43", "43 NM from QAA", "published"),
        (
            "PUBLISHED",
            ((60.0, "QBB"),),
            False,
            "42.5",
            "60 NM from QBB as published, 42.5 NM from QAA by the way flown",
            "published",
        ),
        ("PUBLISHED", (), False, "42.5", "42.5 NM from QAA", "published"),
        ("STATED", ((43.0, "QAA"),), False, "42.5", "42.5 NM from QAA", "stated"),
        ("MIDPOINT", (), False, "42.5", "42.5 NM from QAA", "midpoint"),
        ("MIDPOINT", (), True, "42.5", "42.5 NM from QAA", "midpoint, not in this source"),
    ],
)
def test_where_and_how_a_changeover_point_is_known(
    kind: str, stated: tuple[tuple[float, str], ...], not_in_source: bool, far: str, place: str, how: str
) -> None:
    found = Changeover(ChangeoverKind[kind], QAA, QBB, 42.5, 60.0, stated, not_in_source=not_in_source)
    assert (far_text(found), place_text(found), kind_text(found)) == (far, place, how)
    assert changeover_place(found) == place
    assert changeover_place(changed(found, kind=ChangeoverKind.UNKNOWN)) is None


@pytest.mark.parametrize(
    ("crossing", "start_nm", "told"),
    [
        (CrossingAltitude(4_500.0, "QHB", None), 0.0, ("cross QHB at 4500 ft or above (MCA)",)),
        (CrossingAltitude(4_500.0, "QHB", None, turning=True), 0.0, ("cross QHB at 4500 ft or above (MTA)",)),
        # It is crossed where the stretch begins, and not at a place along it.
        (CrossingAltitude(4_500.0, "QHB", None), 1.0, ()),
    ],
)
def test_a_crossing_altitude_in_words(crossing: CrossingAltitude, start_nm: float, told: tuple[str, ...]) -> None:
    leg = reported(*LEVEL_LEG).log.legs[0]
    stretch = changed(leg.stretch, limits=Limits(crossings_start=(crossing,)))
    assert crossings(changed(leg, stretch=stretch, start_nm=start_nm)) == told


def test_how_long_a_signal_gap_takes() -> None:
    leg = reported(*LEVEL_LEG).log.legs[0]
    # 6 NM at 98.5 kt are 3.65 min; without a length or a speed nobody knows.
    gap = changed(leg, stretch=changed(leg.stretch, gap_nm=6.0), groundspeed_kt=98.5)
    assert gap_minutes(gap) == "3.7"
    assert gap_minutes(changed(gap, groundspeed_kt=None)) is None
    assert gap_minutes(changed(gap, stretch=changed(leg.stretch, gap_nm=None))) is None


def test_a_gap_is_taken_to_lie_on_the_longest_leg_of_its_stretch() -> None:
    first, second = reported(*LEVEL_LEG).log.legs
    long, short = changed(first, start_nm=0.0, end_nm=20.0), changed(second, start_nm=20.0, end_nm=29.5)
    assert across_gap(short, (long, short)) is long
    other = changed(first, end_nm=90.0, stretch=changed(first.stretch))
    assert across_gap(short, (other, short)) is short
    assert across_gap(short, ()) is short


def test_between_two_volumes_the_ends_of_the_legs_say_where_the_signal_ends_and_begins() -> None:
    # Two stations of class L, 40 NM each (AIM 1-1-8), are 90.5 apart.
    legs = [leg for leg in report("dateline").log.legs if leg.stretch.number == 2]
    assert [(leg.end.name, round(leg.distance_nm, 1)) for leg in legs] == [
        ("NO VOR", 40.0),
        ("VOR ON", 10.5),
        ("QBB", 40.0),
    ]
