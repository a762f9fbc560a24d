"""What a flight's JSON tells of the ground: airports, the receivers' check and where it may be made; and of oxygen."""

from __future__ import annotations

from navlog.flightlog.airfields import Airfield, airfields
from navlog.flightlog.checkpoints import NearCheckpoint, checkpoints
from navlog.flightlog.oxygen import HighTime, high_time
from navlog.flightlog.records import Log
from navlog.nav.receiver_check import last_good, limit_of
from navlog.request.records import ReceiverCheck
from navlog.sheets.json_values import Json, moment, number, source_object


def ground_object(log: Log | None) -> Json:
    """The keys of a flight's object; empty lists and nulls where nothing was computed."""
    return {
        "airports": [_airport_object(one) for one in airfields(log)] if log is not None else [],
        "vor_check": _receiver_check_object(log.route.request.receiver_check) if log is not None else None,
        "checkpoints": [_checkpoint_object(one) for one in checkpoints(log)] if log is not None else [],
        "oxygen": _oxygen_object(high_time(log.legs)) if log is not None else None,
    }


def _airport_object(one: Airfield) -> Json:
    """An airport of the flight, and the sun at the landing."""
    sun = one.sun
    return {
        "ident": one.ident,
        "name": one.name,
        "role": one.role.value,
        "leg": one.leg,
        "elevation_ft": number(one.elevation_ft),
        "pattern_ft": number(one.pattern_ft),
        "pattern_by": one.pattern_by.value if one.pattern_by is not None else None,
        "eta": moment(one.arrival),
        "night": one.night,
        "night_ends": moment(one.night_ends),
        "sunset": moment(sun.sunset) if sun is not None else None,
        "sunset_margin_min": number(one.sunset_margin_min),
        "civil_twilight_ends": moment(sun.dusk) if sun is not None else None,
        "civil_twilight_margin_min": number(one.twilight_margin_min),
        "unknown": [{"key": missing.key, "reason": missing.reason} for missing in one.unknown],
    }


def _oxygen_object(found: HighTime) -> Json:
    """The minutes at heights where oxygen is asked for."""
    return {
        "above_12500_min": number(found.above_12500_min),
        "above_14000_min": number(found.above_14000_min),
        "above_15000_min": number(found.above_15000_min),
        "unknown": [{"key": missing.key, "reason": missing.reason} for missing in found.unknown],
    }


def _receiver_check_object(check: ReceiverCheck | None) -> Json | None:
    """The check of the VOR receivers as stated, with its limit and last day."""
    if check is None:
        return None
    last = last_good(check.day, check.kind, check.errors_deg)
    return {
        "date": check.day.isoformat(),
        "place": check.place,
        "kind": check.kind.value if check.kind is not None else None,
        "errors_deg": [number(error_deg) for error_deg in check.errors_deg],
        "limit_deg": number(limit_of(check.kind).degrees),
        "good_through": None if last is None else last.isoformat(),
    }


def _checkpoint_object(one: NearCheckpoint) -> Json:
    """A published checkpoint for VOR receivers near the departure."""
    point = one.point
    return {
        "airport": point.airport,
        "away_nm": number(one.away_nm),
        "ident": point.station.ident,
        "frequency_mhz": number(point.station.frequency_mhz),
        "received": "air" if point.airborne else "ground",
        "radial_deg": number(point.radial_deg),
        "distance_nm": number(point.distance_nm),
        "altitude_ft": number(point.altitude_ft),
        "description": point.description,
        "source": source_object(point.provenance),
    }
