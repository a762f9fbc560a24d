"""The limits inside rules that no flight hits exactly: values at, just below and just above each, given directly."""

from __future__ import annotations

from typing import Any
from unittest.mock import patch

import pytest
from helpers.judged import case_of

from navlog.flightlog.climbout import Reached
from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.record import changed
from navlog.nav.wind import Wind, WindColumn, WindLevel
from navlog.resolve.route import Identification, MarkKind
from navlog.rules import climbout, report
from navlog.rules.data import _differing, data_out_of_date
from navlog.rules.fixes import _Cut, poor_cut
from navlog.rules.minimums import moca_over_mea
from navlog.rules.registry import Found
from navlog.rules.windfuel import _nearest, fuel_over_usable

FIX = ("fix ROSKO QHB 160 x QEL 090", "route XHAR QHB ROSKO QEL/A055 XOLD")


# 199.6 ft a NM are printed as 200; XHAR lies in no designated mountainous area that is known, so 25 NM count.
@pytest.mark.parametrize(
    ("gradient", "away_nm", "severity", "words"),
    [
        (199.4, 20.0, "warning", "; a NM of the climb gains only 199 ft, less than 200"),
        (199.5, 20.0, None, "20.0 NM from XHAR, on the way from XHAR to QHB, 14 min after take-off; each NM gains"),
        (201.0, 25.0, None, "after take-off; each NM gains at least 201 ft"),
        (201.0, 25.1, "warning", "; beyond 25 NM (46 in mountainous areas, and whether this is one is not known); e"),
    ],
)
def test_200_ft_a_mile_within_25_nm(gradient: float, away_nm: float, severity: str | None, words: str) -> None:
    case = case_of("aircraft climber.toml", "-tas", "-burn", "rules ifr")
    place = Reached(case.legs[0], 2500.0, away_nm, 14.0, gradient)
    with patch.object(climbout, "reached", lambda climb, conditions: place):
        (told,) = climbout.climb_out.check(case)
    assert (told.severity, told.leg, told.by) == (severity, case.legs[0], away_nm)
    assert words in told.message


@pytest.mark.parametrize(
    ("cut_deg", "severity", "by"),
    [(45.0, None, None), (44.9, "warning", 0.1), (30.0, "warning", 15.0), (29.9, "error", 15.1)],
)
def test_cuts_of_45_and_30_degrees(cut_deg: float, severity: str | None, by: float | None) -> None:
    with patch("navlog.rules.fixes._crossing_of", lambda leg, accuracy: _Cut(cut_deg, 1.25)):
        told = list(poor_cut.check(case_of(*FIX)))
    assert [one.severity for one in told] == ([] if by is None else [severity])
    assert [one.by for one in told] == pytest.approx([] if by is None else [by])
    assert all(one.message.endswith(": an error of 3.6 degrees moves it 1.3 NM") for one in told)


QPB = Station("QPB", StationKind.VOR, Position(45.5, -39.2))


# A radial by more than 1 degree, a distance by 0.5 NM and 1 %.
@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"kind": MarkKind.RADIAL, "published_radial_deg": 290.0, "radial_deg": 289.0}, ""),
        (
            {"kind": MarkKind.RADIAL, "published_radial_deg": 1.0, "radial_deg": 358.5},
            "on QPB R-001 and lies on R-359 by its position: 2.5 degrees apart",
        ),
        ({"kind": MarkKind.RADIAL, "radial_deg": 358.5}, ""),
        ({"kind": MarkKind.DME, "published_nm": 20.0, "away_nm": 20.4}, ""),
        (
            {"kind": MarkKind.DME, "published_nm": 20.0, "away_nm": 21.0},
            "20.0 NM from QPB and lies 21.0 NM from it by its position",
        ),
        ({"kind": MarkKind.DME, "away_nm": 21.0}, ""),
        ({"kind": MarkKind.DME, "published_nm": 100.0, "away_nm": 100.9}, ""),
    ],
)
def test_a_make_up_that_differs(fields: dict[str, Any], words: str) -> None:
    assert _differing(Identification(QPB, **fields)) == words


@pytest.mark.parametrize(
    ("day", "words"),
    [
        ("2026-07-09", None),
        ("2026-08-05", None),
        ("2026-08-06", "NASR 2607 holds from 2026-07-09 until 2026-08-06, and the flight is on 2026-08-06"),
        ("2026-07-08", "NASR 2607 holds from 2026-07-09 until 2026-08-06, and the flight is on 2026-07-08"),
    ],
)
def test_a_cycle_holds_from_its_first_day_until_the_next_ones(day: str, words: str | None) -> None:
    case = case_of("route XHAR QHB V801 QEL/A055 QPB XOLD", f"date {day}")
    assert [one.message for one in data_out_of_date.check(case)] == ([words] if words else [])
    (source,) = case.log.route.sources
    for half in (changed(source, expires=None), changed(source, effective=None)):
        unbounded = changed(case.log, route=changed(case.log.route, sources=(half,)))
        assert list(data_out_of_date.check(report.case_of(unbounded))) == []


def winds_at(*places: tuple[float, float]) -> list[WindColumn]:
    return [WindColumn((WindLevel(3000.0, Wind(230.0, 12.0)),), Position(*place), f"{place}") for place in places]


# On one parallel a degree of longitude is 60 x cos 46 = 41.7 NM: two degrees east are nearer than 1.5 north.
@pytest.mark.parametrize(
    ("places", "nearest"),
    [
        (((47.5, -39.0), (46.0, -37.0)), 1),
        (((47.3, -39.0), (46.0, -37.0)), 0),
        (((46.0, -42.0), (46.1, -38.0)), 1),
        (((46.0, 179.9), (46.0, -120.0)), 1),
    ],
)
def test_the_nearest_wind_by_latitude_and_longitude(places: tuple[tuple[float, float], ...], nearest: int) -> None:
    columns = winds_at(*places)
    assert _nearest(columns, Position(46.0, -39.0))[0] is columns[nearest]


def over(taken: float) -> list[Found]:
    """The tanks of the samples' aircraft hold 40 gal; so much is on board after the stop."""
    case = case_of(
        "aircraft climber.toml",
        "-tas",
        "-burn",
        "airport XFLD N45 44.10 W039 33.00 elev 400ft",
        "-direct QEL",
        f"route XHAR QHB XFLD land 30min fuel {taken}gal XHAR",
    )
    return list(fuel_over_usable.check(case))


@pytest.mark.parametrize(("taken", "told"), [(39.9, 0), (40.0, 0), (40.1, 1), (40.9, 1)])
def test_no_more_than_the_tanks_hold_after_a_stop(taken: float, told: int) -> None:
    words = f"{taken:.1f} gal of fuel at XFLD is more than the aircraft file's usable 40.0 gal"
    assert [one.message for one in over(taken)] == [words] * told
    assert all(one.leg is not None and one.leg.end.name == "XFLD" for one in over(taken))


def test_a_published_moca_over_its_mea_is_a_note() -> None:
    # The published airway of the samples, QCA to QCB, with an MEA of 3000 ft.
    case = case_of("route QCA V803 QCB", "-airway V801")
    leg = case.first_legs[0]
    high = changed(leg, stretch=changed(leg.stretch, limits=changed(leg.stretch.limits, moca_ft=3100.0)))
    (told,) = moca_over_mea.check(changed(case, first_legs=(high,)))
    assert (told.message, told.leg, told.severity) == ("MOCA 3100 is over MEA 3000 on V803", high, "note")
