"""How far a leg's ends are from the VOR in use, by the path or by positions, and how wide its guidance is there.

QAA and QBB stand 30.01 NM apart on 39 W (half a degree of latitude from N46, WGS84: 55.58 km), charted as 32 NM, and
are changed over in the middle, 16 NM by the path and 15.0 by positions.
"""

from __future__ import annotations

import pytest
from geographiclib.geodesic import Geodesic
from helpers.drawn import reports

from navlog.flightlog.records import FuelUnit, Leg, Log
from navlog.flightlog.sure import along_track_nm, band, station_distances_nm
from navlog.nav.accuracy import FAA
from navlog.nav.chart import Position
from navlog.nav.record import changed

NM = 1852.0
AT = (
    "station QAA 113.00 {} decl 0E class H\nstation QBB 114.00 {} decl 0E class H\ndirect QAA 360 - 180 QBB 32nm\n"
    "date 2026-07-18\nvariation 0E\nwind calm\ntas 120kt\naltitude 3000\nroute QAA QBB\n"
)
PLACES = ("N46 00.00 W039 00.00", "N46 30.00 W039 00.00")


def log_of(*places: str) -> Log:
    (report,) = reports(AT.format(*places))
    return report.log


OUT, IN = log_of(*PLACES).legs
CHART_OUT, CHART_IN = log_of("", "").legs


def away_nm(latitude_deg: float, leg: Leg) -> tuple[float, float]:
    """How far a place on 39 W is from the ends of a leg."""
    found = []
    for end in (leg.start, leg.end):
        assert end.position is not None
        there = end.position.latitude_deg, end.position.longitude_deg
        found.append(Geodesic.WGS84.Inverse(latitude_deg, -39.0, *there)["s12"] / NM)
    return found[0], found[1]


@pytest.mark.parametrize(
    ("leg", "distances_nm"),
    [(OUT, (0.0, 16.0)), (IN, (16.0, 0.0)), (CHART_OUT, (0.0, 16.0)), (CHART_IN, (16.0, 0.0))],
    ids=["from", "to", "chart from", "chart to"],
)
def test_a_station_at_an_end_of_the_stretch_is_as_far_as_the_path_says(
    leg: Leg, distances_nm: tuple[float, float]
) -> None:
    assert station_distances_nm(leg) == pytest.approx(distances_nm)


def beside(leg: Leg, position: Position | None) -> Leg:
    """The leg guided by a station at another place."""
    guidance = leg.part.guidance
    assert guidance is not None
    station = changed(guidance.station, ident="QXX", position=position)
    return changed(leg, part=changed(leg.part, guidance=changed(guidance, station=station)))


def test_a_station_beside_the_path_is_as_far_as_positions_say() -> None:
    by_south = beside(OUT, Position(45.5, -39.0))
    assert station_distances_nm(by_south) == pytest.approx(away_nm(45.5, OUT), abs=0.001)
    assert station_distances_nm(beside(OUT, None)) is None
    assert station_distances_nm(changed(OUT, part=changed(OUT.part, guidance=None))) is None
    placeless = changed(by_south, end=changed(by_south.end, position=None))
    assert station_distances_nm(placeless) is None


def test_the_band_is_that_of_the_end_farther_from_the_station_by_positions_and_told_by_the_path() -> None:
    # 4.5 degrees off a course flown on a radial (FAA Order 8260.3): 15.0 tan 4.5 are 1.18 NM.
    for leg in (OUT, IN):
        found = band(leg, FAA)
        assert found is not None
        assert found.half_width_nm == FAA.aside_nm(max(away_nm(46.0 if leg is OUT else 46.5, leg)))
        assert found.half_width_nm == pytest.approx(1.18, abs=0.01)
        assert found.away_nm == pytest.approx(16.0)
    south = band(beside(OUT, Position(45.5, -39.0)), FAA)
    assert south is not None
    # 45.0 NM away by either.
    assert south.away_nm == pytest.approx(45.0, abs=0.02)
    assert south.half_width_nm == FAA.aside_nm(south.away_nm)


def test_without_guidance_a_known_radial_or_positions_there_is_no_band_nor_in_a_hold() -> None:
    guidance = OUT.part.guidance
    assert guidance is not None
    assert band(changed(OUT, part=changed(OUT.part, guidance=None)), FAA) is None
    assert band(CHART_OUT, FAA) is None
    assert band(beside(OUT, None), FAA) is None
    (held,) = reports(AT.format(*PLACES).replace("route QAA QBB", "hold QBB 4min\nroute QAA QBB QAA"))
    assert [band(leg, FAA) for leg in held.log.legs if leg.stays] == [None]


def test_only_a_mark_tells_how_far_along_the_track_an_end_is() -> None:
    assert along_track_nm(OUT) is None
    fixed = AT.format(*PLACES).replace("date", "fix MIDDY QAA 360 10nm\nequipment vor 1 dme 1\ndate")
    fixed = fixed.replace("class H", "class H dme elev 0ft").replace("direct QAA 360 - 180 QBB 32nm\n", "")
    (there,) = reports(fixed.replace("route QAA QBB", "route QAA MIDDY QBB"))
    leg = there.log.legs[0]
    assert leg.end.name == "MIDDY"
    # The DME reads along the track: half a mile or 3 % of 10 NM, whichever is more (FAA AIM 1-1-7).
    assert along_track_nm(leg) == pytest.approx(0.5, abs=0.01)


def test_fuel_is_counted_in_us_gallons_where_nothing_else_is_stated() -> None:
    assert (FuelUnit().name, FuelUnit().gal) == ("gal", 1.0)
