"""Published courses and lengths against positions: azimuths by GeographicLib less the stations' declinations.

Every straight VOR-to-VOR leg of FAA NASR effective 2026-05-14 agrees within 0.01 degrees at both ends, and
99 % of the lengths within 0.03 NM; V583 LOA-FZT is the known fault. The full data is looked at where
NAVLOG_SHARED_DATA names the folder that holds `nasr-2026-05-14`.
"""

from __future__ import annotations

from datetime import date

from geographiclib.geodesic import Geodesic
from helpers.straight_legs import NAUTICAL_MILE_M, StraightLeg, straight_legs

from navlog.catalogue.airway_queries import designators
from navlog.catalogue.queries import Catalogue
from navlog.nav.chart import Airway, StationKind

# Published figures have two decimals, so half of one is rounding.
HUNDREDTH_DEG = 0.01 + 1e-6
LENGTH_NM = 0.03 + 1e-6
WRONG_LENGTH = {"V583 LOA-FZT"}
# Its five pieces are rounded each by itself: 0.039 NM in all.
ROUNDED_PIECES = {"V184 PSB-HAR"}


def victor_airways(catalogue: Catalogue, day: date) -> list[Airway]:
    names = [name for name in designators(catalogue, day) if name.startswith("V")]
    return [airway for name in names for airway in catalogue.airways(name, day)]


def victor_legs(catalogue: Catalogue, day: date) -> list[StraightLeg]:
    return [leg for airway in victor_airways(catalogue, day) for leg in straight_legs(airway)]


def test_courses_of_straight_legs_in_the_excerpt(catalogue: Catalogue, day: date) -> None:
    legs = victor_legs(catalogue, day)
    assert len(legs) > 25
    assert [leg.name for leg in legs if max(leg.errors()[:2]) > HUNDREDTH_DEG] == []


def test_lengths_of_straight_legs_in_the_excerpt(catalogue: Catalogue, day: date) -> None:
    legs = victor_legs(catalogue, day)
    assert {leg.name for leg in legs if leg.errors()[2] > LENGTH_NM} == WRONG_LENGTH | ROUNDED_PIECES


def test_courses_and_lengths_of_the_full_data(full: Catalogue, day: date) -> None:
    errors = {leg.name: leg.errors() for leg in victor_legs(full, day)}
    assert len(errors) > 1000
    assert [name for name, (out, back, _) in errors.items() if max(out, back) > HUNDREDTH_DEG] == []
    off = [name for name, (_, _, length) in errors.items() if length > LENGTH_NM]
    assert len(off) <= 0.01 * len(errors)
    assert set(off) >= WRONG_LENGTH


def test_changeover_points_of_the_full_data(full: Catalogue, day: date) -> None:
    # 321 rows: three stand on the last point of their airway and lead out of it, one counts from a fix (V39).
    changeovers = [
        one for airway in victor_airways(full, day) for segment in airway.segments for one in segment.changeovers
    ]
    assert len(changeovers) == 317


def test_fix_make_ups_of_the_full_data(full: Catalogue, day: date) -> None:
    close = counted = 0
    for row in full.query(
        "SELECT m.radial, f.latitude, f.longitude, m.station, m.type FROM makeup m JOIN fix f ON f.ident = m.fix "
        "AND f.region = m.region WHERE m.type IN ('VOR', 'VOR/DME', 'VORTAC') AND m.radial <> ''"
    ):
        stations = [one for one in full.stations(row["station"], day) if one.kind is StationKind.VOR]
        if len(stations) != 1 or stations[0].position is None or stations[0].declination_deg is None:
            continue
        at = stations[0].position
        line = Geodesic.WGS84.Inverse(at.latitude_deg, at.longitude_deg, row["latitude"], row["longitude"])
        if line["s12"] < 0.1 * NAUTICAL_MILE_M:
            continue
        off = (line["azi1"] - stations[0].declination_deg - row["radial"] + 180.0) % 360.0 - 180.0
        counted += 1
        close += abs(off) <= 0.05
    assert counted > 10_000
    # Published with the note that about 97 % agree; positions here are in part of an earlier cycle.
    assert close / counted > 0.95, f"{close} of {counted}"


def test_every_airway_of_the_full_data_is_read(full: Catalogue, day: date) -> None:
    airways = [airway for name in designators(full, day) for airway in full.airways(name, day)]
    assert len(airways) == 1497
    for airway in airways:
        assert len(airway.points) == len(airway.places) == len(airway.segments) + 1
        assert all(place is not None for place in airway.places)
        assert [one.start for one in airway.segments] == list(airway.points[:-1])
        assert [one.end for one in airway.segments] == list(airway.points[1:])
