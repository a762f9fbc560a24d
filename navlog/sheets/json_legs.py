"""A leg and its points as JSON: what guides it, what marks its end, what lies below and how sure its guidance is."""

from __future__ import annotations

from navlog.flightlog.marks import OtherSetting
from navlog.flightlog.records import FuelUnit, Leg, LegPoint, Log, Mark
from navlog.flightlog.sure import along_track_nm, band
from navlog.nav.guidance import Guidance
from navlog.nav.terrain import Spot
from navlog.printed.remarks import dme_channel
from navlog.resolve.ground import Ground
from navlog.resolve.route import MarkKind
from navlog.sheets.json_values import Json, moment, number, source_object


def leg_head(leg: Leg) -> Json:
    """Which leg it is: what stands first wherever a leg is written."""
    return {
        "number": leg.number,
        "from": point_object(leg.start),
        "to": point_object(leg.end),
        "via": leg.stretch.via,
        "phase": leg.phase.value,
    }


def leg_object(log: Log, leg: Leg) -> Json:
    """One leg."""
    limits, solved, unit = leg.stretch.limits, leg.triangle, log.fuel_unit
    minimum_ft, kind = limits.mea_ft, "MEA"
    if minimum_ft is None:
        minimum_ft, kind = limits.minimum_ft, limits.minimum_kind
    crossing = next((one for one in limits.crossings_start if not one.turning and leg.start_nm == 0.0), None)
    return {
        **leg_head(leg),
        "distance_nm": number(leg.distance_nm),
        "distance_remaining_nm": number(leg.distance_remaining_nm),
        "true_course_deg": number(leg.true_course_deg),
        "magnetic_course_deg": number(leg.magnetic_course_deg),
        "guidance": guidance_object(leg.part.guidance),
        "changeover": _changeover_object(leg),
        "identified_by": _identified_object(leg),
        "marks": [_mark_object(mark) for mark in leg.marks],
        "turn_deg": number(leg.turn_deg),
        "altitude_ft": number(leg.stretch.level.altitude_ft),
        "start_altitude_ft": number(leg.start_altitude_ft),
        "end_altitude_ft": number(leg.end_altitude_ft),
        "minimum_altitude_ft": number(minimum_ft),
        "minimum_kind": kind if minimum_ft is not None else None,
        "moca_ft": number(limits.moca_ft),
        **({} if leg.stretch.ground is None else {"ground": _terrain_object(leg, leg.stretch.ground)}),
        **_sure_object(log, leg),
        "maa_ft": number(limits.maa_ft),
        "mca_ft": number(crossing.altitude_ft) if crossing is not None else None,
        "wind": _wind_object(leg),
        "tas_kt": number(leg.tas_kt),
        "wind_correction_deg": number(solved.wind_correction_deg) if solved is not None else None,
        "true_heading_deg": number(solved.true_heading_deg) if solved is not None else None,
        "variation_deg": number(leg.variation_deg),
        "magnetic_heading_deg": number(leg.magnetic_heading_deg),
        "deviation_deg": number(leg.deviation_deg),
        "compass_heading_deg": number(leg.compass_heading_deg),
        "groundspeed_kt": number(leg.groundspeed_kt),
        "time_min": number(leg.time_min),
        "elapsed_min": number(leg.elapsed_min),
        "eta": moment(log.eta(leg)),
        "fuel_used_gal": gallons(leg.fuel_used, unit),
        "fuel_remaining_gal": gallons(leg.fuel_remaining, unit),
        "fuel_least_gal": gallons(leg.fuel_least, unit),
        "unknown": [{"key": one.key, "reason": one.reason} for one in leg.unknown],
        **({"flight_level": True} if leg.stretch.level.flight_level else {}),
        **({"other_receiver": _other_object(leg.other_setting)} if log.route.request.equipment.vor > 1 else {}),
        **({"level_changes": _level_changes(leg)} if leg.changes else {}),
        **(_landing_object(log, leg) if leg.lands else {}),
    }


def _other_object(setting: OtherSetting | None) -> Json | None:
    """What the other receiver is best set to, and where it is needed."""
    if setting is None:
        return None
    return {
        "kind": setting.kind.value,
        "leg": setting.leg,
        "place": setting.place,
        "guidance": guidance_object(setting.guidance),
    }


def _level_changes(leg: Leg) -> list[Json]:
    """The tops of climb and descent within the leg, along its stretch: level flight too short for a leg is in it."""
    return [{"kind": kind.value, "distance_nm": number(at_nm)} for kind, at_nm in leg.changes]


def _landing_object(log: Log, leg: Leg) -> Json:
    """The stop at a landing on the way, and what is on board at the next take-off where fuel is taken."""
    return {"stop_min": number(leg.stop_min), "fuel_taken_gal": gallons(leg.fuel_taken, log.fuel_unit)}


def point_object(point: LegPoint) -> Json:
    """An end of a leg."""
    position, bearing = point.position, point.point.bearing if point.point is not None else None
    found: Json = {
        "ident": point.ident,
        "kind": point.kind,
        "latitude_deg": number(position.latitude_deg) if position is not None else None,
        "longitude_deg": number(position.longitude_deg) if position is not None else None,
    }
    if bearing is not None:
        found["bearing"] = {
            "from": bearing.place,
            "magnetic_deg": number(bearing.magnetic_deg),
            "variation_deg": number(bearing.variation_deg),
            "distance_nm": number(bearing.distance_nm),
            "magnetic_model": bearing.model,
        }
    return found


def guidance_object(guidance: Guidance | None) -> Json | None:
    """The station in use with its needle's figures."""
    if guidance is None:
        return None
    from navlog.nav.radio import morse

    station, flown = guidance.station, guidance.radial.flown
    return {
        "ident": station.ident,
        "frequency_mhz": number(station.frequency_mhz),
        "channel": dme_channel(station),
        "morse": morse(station.ident),
        "north": "true" if station.true_referenced else "magnetic",
        "declination_deg": number(station.declination_deg),
        "radial_deg": number(flown),
        "radial_source": None if flown is None else "charted" if guidance.charted else "computed",
        "set_course_deg": number(guidance.set_course_deg),
        "flag": guidance.flag.value if flown is not None else None,
    }


def _changeover_object(leg: Leg) -> Json | None:
    """The changeover point at the leg's end: its distance from the station behind."""
    changeover = leg.changeover
    if changeover is None:
        return None
    known = changeover.kind.value != "unknown"
    found: Json = {"kind": changeover.kind.value, "distance_nm": number(changeover.distance_nm) if known else None}
    if changeover.not_in_source:
        found["not_in_source"] = True
    return found


def _identified_object(leg: Leg) -> Json | None:
    """The station, radial or DME that best marks the leg's end."""
    best = next((_mark_object(mark) for mark in leg.marks), None)
    return None if best is None else {key: best[key] for key in ("ident", "frequency_mhz", "radial_deg", "dme_nm")}


def _mark_object(mark: Mark) -> Json:
    """One of the marks of the leg's end."""
    by_radial = mark.kind is MarkKind.RADIAL
    return {
        "ident": mark.station.ident,
        "kind": mark.kind.value,
        "frequency_mhz": number(mark.station.frequency_mhz),
        "radial_deg": number(mark.by.radial_deg) if by_radial else None,
        "published_radial_deg": number(mark.by.published_radial_deg) if by_radial else None,
        "dme_nm": number(mark.dme_nm),
        "cut_deg": number(mark.cut_deg),
    }


def _wind_object(leg: Leg) -> Json | None:
    """The wind at the leg's middle."""
    if leg.wind is None:
        return None
    return {"from_true_deg": number(leg.wind.from_true_deg), "speed_kt": number(leg.wind.speed_kt)}


def gallons(amount: float | None, unit: FuelUnit) -> float | None:
    """An amount of fuel in US gallons; None for a mass without a density."""
    return None if amount is None or unit.gal is None else number(amount * unit.gal)


def _terrain_object(leg: Leg, ground: Ground) -> Json:
    """What lies below a leg's stretch, where a terrain folder is named, and the highest below the leg itself."""
    found = None if leg.stays else ground.between(leg.start_nm, leg.end_nm)
    return {
        "minimum_ft": number(ground.minimum_ft),
        "clearance_ft": number(ground.clearance_ft),
        "mountainous": ground.mountainous,
        "half_width_nm": number(max((one.half_width_nm for one in ground.parts), default=None)),
        "terrain_known": ground.minimum_ft is not None,
        "highest": _spot_object(ground.highest),
        "obstacle": _spot_object(ground.obstacle),
        "leg_highest": _spot_object(None if found is None else found.highest),
        "leg_obstacle": _spot_object(None if found is None else found.obstacle),
        "obstacles_known": ground.obstacles_known,
        "obstacle_editions": [source_object(one) for one in ground.editions],
        "tiles": list(ground.tiles),
        "unknown": list(ground.unknown),
    }


def _spot_object(spot: Spot | None) -> Json | None:
    """A high place, by miles along the course and right of it."""
    if spot is None:
        return None
    return {
        "height_ft": number(spot.height_ft),
        "tolerance_ft": number(spot.tolerance_ft),
        "latitude_deg": number(spot.position.latitude_deg),
        "longitude_deg": number(spot.position.longitude_deg),
        "along_nm": number(spot.along_nm),
        "aside_nm": number(spot.aside_nm),
        "source": spot.source,
    }


def _sure_object(log: Log, leg: Leg) -> Json:
    """How far aside and along track the leg's guidance and marks are counted on."""
    wide = band(leg, log.route.request.accuracy)
    return {
        "band_nm": number(wide.half_width_nm if wide is not None else None),
        "along_track_nm": number(along_track_nm(leg) if leg.ends_stretch else None),
    }
