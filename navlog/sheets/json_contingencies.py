"""Turning back and the altitude without radio as JSON."""

from __future__ import annotations

from navlog.flightlog.lost_communications import without_radio
from navlog.flightlog.records import Log
from navlog.flightlog.turning_back import critical_points, ways_home
from navlog.sheets.json_lines import Json, gallons, guidance_object, number


def contingencies(log: Log) -> Json:
    """The keys that a flight has for them."""
    return {
        "turning_back": [
            {
                "leg": way.leg.number,
                "from": way.leg.end.name,
                "home": way.home,
                "distance_nm": number(way.distance_nm),
                "time_min": number(way.time_min),
                "fuel_gal": gallons(way.fuel, log.fuel_unit),
                "fuel_left_gal": gallons(way.fuel_left, log.fuel_unit),
                "magnetic_heading_deg": number(way.magnetic_heading_deg),
                "guidance": guidance_object(way.guidance),
            }
            for way in ways_home(log)
        ],
        "critical_points": [
            {
                "home": point.home,
                "ahead": point.ahead,
                "leg": point.leg.number,
                "distance_on_leg_nm": number(point.along_nm),
                "distance_from_home_nm": number(point.from_home_nm),
                "distance_to_go_nm": number(point.to_go_nm),
                "time_min": number(point.time_min),
            }
            for point in critical_points(log)
        ],
        "lost_communications": [
            {
                "leg": part.leg.number,
                "from": part.leg.start.name,
                "to": part.leg.stretch.end.name,
                "planned_ft": number(part.planned_ft),
                "minimum_ft": number(part.minimum_ft),
                "altitude_ft": number(part.altitude_ft),
            }
            for part in without_radio(log)
        ],
    }
