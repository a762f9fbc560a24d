"""What is chosen and refused at its edges: levels from 18,000 ft on, marks that receivers hold, holds on the ground."""

from __future__ import annotations

import pytest
from helpers.drawn import reports
from helpers.flown import changed, navlog
from helpers.judged import along, reported
from pygeomag import GeoMag

from navlog.flightlog.altitudes import level_flown
from navlog.flightlog.checkpoints import NearCheckpoint
from navlog.flightlog.marks import dme_sector
from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.receiver_check import Checkpoint
from navlog.nav.record import changed as changed_record
from navlog.nav.sectors import Sector
from navlog.request.records import Level


# 145,442.156 (1 - (1003 / 1013.25)^0.190263) ft are 281.1: so much more is the pressure altitude (ICAO Doc 7488).
@pytest.mark.parametrize(
    ("height_ft", "pressure_ft"),
    [
        (17718.0, None),  # 17,999.1
        (17718.6, 17999.7),  # within half a foot of 18,000
        (17719.0, 18000.1),
        (18719.0, 19000.0),  # the level of the flight itself
        (4500.0, None),
    ],
)
def test_from_18000_ft_of_pressure_altitude_on_a_height_is_a_flight_level(
    height_ft: float, pressure_ft: float | None
) -> None:
    leg = reported("altitude FL190", "altimeter 1003hPa", "route XHAR QHB V801 QEL XOLD").log.legs[1]
    found = level_flown(height_ft, leg, ())
    if pressure_ft is None:
        assert found is None
    else:
        assert found is not None
        assert found.flight_level is True
        assert found.altitude_ft == pytest.approx(pressure_ft, abs=0.1)


def test_on_the_way_to_an_altitude_a_height_is_no_flight_level() -> None:
    leg = reported("altitude 19000", "altimeter 1003hPa", "route XHAR QHB V801 QEL XOLD").log.legs[1]
    assert level_flown(18719.0, leg, ()) is None
    assert level_flown(19000.0, leg, ()) == Level(19000.0)
    # A level of another stretch is one on this leg as well.
    assert level_flown(6500.0, leg, (Level(4500.0), Level(6500.0))) == Level(6500.0)


PLACES = (
    "station QAA 113.00 N46 00.00 W039 00.00 decl 0E {elevation} class L dme\n"
    "station QBB 114.00 N46 00.00 W038 00.00 decl 0E elev 0ft class L\n"
    "station QCC 115.00 N46 20.00 W038 30.00 decl 0E elev 0ft class L\n"
    "station QDD 116.00 N45 40.00 W038 31.00 decl 0E elev 0ft class L\n"
    "fix FIXA QAA 090 20nm\nfix FIXB N46 00.2 W038 30.00\ndate 2026-07-18\nvariation 0E\nwind calm\ntas 120kt\n"
    "altitude 4500\n{more}\nroute QAA FIXA FIXB QBB\n"
)
# QCC and QDD lie 20 NM north and south of FIXA, 20 NM out on the 090 radial of QAA, whose DME reads along the way.
OUT = "unavailable QAA\nunavailable QBB"


@pytest.mark.parametrize(
    ("more", "told"),
    [
        # The DME of the station flown costs no tuning; without one the single receiver is tuned away to one radial.
        ("equipment vor 1 dme 1", ["QAA"]),
        ("equipment vor 2 dme 1", ["QAA"]),
        ("equipment vor 1", ["QDD"]),
        ("equipment vor 3", ["QDD"]),
        # Where no station guides two radials make the place, with a single receiver one after the other.
        (f"equipment vor 1\n{OUT}", ["QDD", "QCC"]),
        (f"equipment vor 2\n{OUT}", ["QDD", "QCC"]),
        (f"equipment vor 3\n{OUT}", ["QDD", "QCC"]),
    ],
)
def test_what_tells_a_fix_by_what_is_on_board(more: str, told: list[str]) -> None:
    (report,) = reports(PLACES.format(elevation="elev 0ft", more=more))
    leg = report.log.legs[0]
    assert leg.end.name == "FIXA"
    assert [one.station.ident for one in leg.told_by] == told


def test_the_errors_and_readings_of_what_tells_a_fix() -> None:
    (report,) = reports(PLACES.format(elevation="elev 0ft", more="equipment vor 2 dme 1"))
    ((by_dme,), crossing) = (leg.marks for leg in report.log.legs[:2])
    # The root of 20.0^2 and (4500 / 6076.1)^2; 3 % of 20 NM are 0.6 (AIM 1-1-7).
    assert by_dme.kind == "dme"
    assert by_dme.dme_nm == pytest.approx(20.014, abs=0.001)
    assert by_dme.error_nm == pytest.approx(0.6, abs=0.01)
    # 3.6 degrees (FAA Order 8260.3) at 19.8 NM are 1.25 NM, over the sine of the angle.
    assert [(one.kind, one.station.ident, one.dme_nm) for one in crossing] == [
        ("radial", "QCC", None), ("radial", "QDD", None),
    ]  # fmt: skip
    assert [one.error_nm for one in crossing] == pytest.approx([1.29, 1.33], abs=0.01)


def test_without_the_stations_elevation_its_reading_is_not_known() -> None:
    (report,) = reports(PLACES.format(elevation="", more="equipment vor 2 dme 1"))
    why = "the station's elevation is not known"
    assert [[(one.key, one.reason) for one in leg.unknown if "fuel" not in one.key] for leg in report.log.legs] == [
        [("eta", "no `off` given"), ("identified_by.dme_nm", why), ("marks.dme_nm", why)],
        [("eta", "no `off` given")],
        [("eta", "no `off` given")],
    ]


REFUSED = "error: no hold at `{}`: the flight takes off or lands there [hold-off-route]"


def test_a_hold_on_the_ground_is_refused_where_it_is_written() -> None:
    run = navlog("log", "-", typed=changed("hold XHAR 6min", "hold QEL 3min", "hold XOLD 5min"))
    hint = "  hint: name a point that the flight passes in the air"
    assert run.status == 2
    assert run.err.splitlines() == [
        f"-:18:1: {REFUSED.format('XHAR')}", "  18 | hold XHAR 6min", "     | ^^^^", hint,
        f"-:20:1: {REFUSED.format('XOLD')}", "  20 | hold XOLD 5min", "     | ^^^^", hint,
    ]  # fmt: skip


def test_the_variation_of_a_leg_is_that_of_its_middle() -> None:
    # Along the meridian of 40 W from N46 to N51 the middle is N48 30: WMM2025 by pygeomag itself.
    statements = "airport XAA N46 00.00 W040 00.00 elev 0ft\nairport XBB N51 00.00 W040 00.00 elev 0ft\n"
    (whole,) = reports(statements + "date 2026-07-18\nwind calm\ntas 120kt\naltitude 4500\nroute XAA XBB\n")
    (leg,) = whole.log.legs
    model = GeoMag(coefficients_file="wmm/WMM_2025.COF")
    there = [model.calculate(glat=one, glon=-40.0, alt=0, time=2026.543).d for one in (46.0, 48.5, 51.0)]
    assert leg.variation_deg == pytest.approx(there[1], abs=0.02)
    assert abs(there[1] - there[0]) > 0.5
    assert abs(there[1] - there[2]) > 0.5


def test_only_where_a_flight_lands_it_stops() -> None:
    (whole,) = reports(changed("route XHAR QHB V801 QEL XOLD land 20min QEL"))
    assert [leg.stop_min for leg in whole.log.legs] == [0.0, 0.0, 0.0, 20.0, 0.0]


def test_where_nothing_guides_from_the_start_on_the_other_receiver_is_set_for_the_first_fix() -> None:
    (report,) = reports(PLACES.format(elevation="elev 0ft", more=f"equipment vor 2\n{OUT}"))
    first = report.log.legs[0]
    assert first.part.guidance is None
    assert first.other_setting is not None
    assert (first.other_setting.guidance.station.ident, first.other_setting.place) == ("QDD", "FIXA")
    assert (first.other_setting.kind.value, first.other_setting.leg) == ("cross radial", 1)


@pytest.mark.parametrize(("beyond_nm", "out"), [(10.9, True), (11.1, False), (None, True)])
def test_without_positions_a_changeover_point_is_as_far_from_the_station_behind_as_it_is_stated(
    beyond_nm: float | None, out: bool
) -> None:
    leg = reported(*along("QHB 212 - 034 QEL 29.5nm mea 3000 cop 11 QHB")).log.legs[0]
    guidance = leg.part.guidance
    assert guidance is not None
    assert leg.changeover is not None
    sector = Sector(205.0, 220.0, beyond_nm=beyond_nm, of="dme")
    station = changed_record(guidance.station, unusable=(sector,))
    changeover = changed_record(leg.changeover, behind=station)
    part = changed_record(leg.part, guidance=changed_record(guidance, station=station), changeover=changeover)
    flown = changed_record(leg, part=part)
    assert dme_sector(flown, station) == (sector if out else None)
    # Of another station's distance nothing is known: every one counts as beyond.
    other = changed_record(changeover, behind=changeover.ahead)
    assert dme_sector(changed_record(flown, part=changed_record(part, changeover=other)), station) == sector


# 14 CFR 91.171(b)(2): a checkpoint at the airport of departure; within a mile of its position it is that one.
@pytest.mark.parametrize(("away_nm", "there"), [(0.0, True), (1.0, True), (1.01, False), (5.0, False)])
def test_a_checkpoint_within_a_mile_of_the_departure_is_at_it(away_nm: float, there: bool) -> None:
    station = Station("QAA", StationKind.VOR)
    point = Checkpoint(
        station, 90.0, False, "On the ramp", Position(46.0, -39.0), "XAA", None, None, station.provenance
    )
    assert NearCheckpoint(point, away_nm).at_departure is there
