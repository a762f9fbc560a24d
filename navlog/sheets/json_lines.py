"""The log as JSON, schema `navlog/1`: one object a line and a flight; unknown numbers are null with a reason."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any

from navlog.flightlog.records import BulletinUse, Diversion, FuelUnit, Leg, LegPoint, Log, Mark, OtherSetting, Passage
from navlog.nav.chart import Provenance
from navlog.nav.guidance import Guidance
from navlog.nav.problems import Problem
from navlog.nav.terrain import Spot
from navlog.printed.remarks import dme_channel
from navlog.resolve.route import MarkKind
from navlog.rules.answers import Answer
from navlog.rules.registry import Finding, OnAlternate

SCHEMA = "navlog/1"
_DECIMALS = 9

Json = dict[str, Any]


def document(found: Iterable[Answer]) -> str:
    """A line for each flight, whatever came of it."""
    return "".join(json_line(answer) + "\n" for answer in found)


def json_line(answer: Answer, *, with_legs: bool = True) -> str:
    """One flight as one line of JSON, without a line end."""
    import json

    return json.dumps(flight_object(answer, with_legs=with_legs), allow_nan=False, ensure_ascii=True)


def flight_object(answer: Answer, *, with_legs: bool = True) -> Json:
    """One flight as plain dictionaries, lists and numbers; `legs` is left out where it is not wanted."""
    from navlog.sheets.json_contingencies import contingencies

    log = answer.report.log if answer.report is not None else None
    found: Json = {
        "schema": SCHEMA,
        "flight": answer.flight,
        "source": {"file": answer.file, "line": answer.line},
        "status": answer.status,
        "date": log.conditions.day.isoformat() if log is not None else None,
        "off": moment(log.conditions.off) if log is not None else None,
        "magnetic_model": log.route.magnetic_model if log is not None else None,
        "catalogue": [source_object(source) for source in log.route.sources] if log is not None else None,
    }
    if with_legs:
        found["legs"] = [leg_object(log, leg) for leg in log.legs] if log is not None else []
    found["totals"] = _totals_object(log) if log is not None else None
    found["fuel"] = _fuel_object(log) if log is not None else None
    alternates = log.alternates if log is not None else ()
    found["alternates"] = [_alternate_object(one, with_legs=with_legs) for one in alternates]
    if with_legs and log is not None:
        found.update(contingencies(log))
    uses = log.conditions.bulletins if log is not None else ()
    found["bulletins"] = [_bulletin_object(use) for use in uses]
    findings = answer.report.findings if answer.report is not None else ()
    found["findings"] = [_finding_object(finding) for finding in findings]
    found["problems"] = [problem_object(problem) for problem in answer.problems]
    return found


def number(value: float | None) -> float | None:
    """A number as it is written: nine decimals at most, and never minus zero."""
    return None if value is None else round(value, _DECIMALS) + 0.0


def moment(when: datetime | None) -> str | None:
    """A moment in UTC with milliseconds."""
    if when is None:
        return None
    return when.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def source_object(source: Provenance) -> Json:
    """One source of published data."""
    return {
        "source": source.source.value,
        "cycle": source.cycle,
        "effective": source.effective.isoformat() if source.effective is not None else None,
        "expires": source.expires.isoformat() if source.expires is not None else None,
    }


def leg_object(log: Log, leg: Leg) -> Json:
    """One leg."""
    limits, solved, unit = leg.stretch.limits, leg.triangle, log.fuel_unit
    minimum_ft, kind = limits.mea_ft, "MEA"
    if minimum_ft is None:
        minimum_ft, kind = limits.minimum_ft, limits.minimum_kind
    crossing = next((one for one in limits.crossings_start if not one.turning and leg.start_nm == 0.0), None)
    return {
        "number": leg.number,
        "from": point_object(leg.start),
        "to": point_object(leg.end),
        "via": leg.stretch.via,
        "phase": leg.phase.value,
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
        "ground": _ground_object(leg),
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


def _totals_object(log: Log) -> Json:
    """The totals."""
    totals = log.totals
    return {
        "distance_nm": number(totals.distance_nm),
        "time_min": number(totals.time_min),
        "fuel_gal": gallons(totals.fuel, log.fuel_unit),
    }


def _fuel_object(log: Log) -> Json:
    """The fuel of the flight."""
    fuel, unit = log.fuel, log.fuel_unit
    return {
        "on_board_gal": gallons(fuel.on_board, unit),
        "required_gal": gallons(fuel.required, unit),
        "used_gal": gallons(fuel.used, unit),
        "reserve_gal": gallons(fuel.reserve, unit),
        "remaining_gal": gallons(fuel.remaining, unit),
        "unit": unit.name,
        "taxi_gal": gallons(log.conditions.taxi, unit),
        "alternate_gal": gallons(fuel.alternate, unit),
        "contingency_gal": gallons(fuel.contingency, unit),
        "extra_gal": gallons(fuel.extra, unit),
        "margin_gal": gallons(fuel.margin, unit),
        "margin_min": number(fuel.margin_min),
        "endurance_min": number(fuel.endurance_min),
        "reserve_min": number(fuel.reserve_min),
        "reserve_rule": fuel.reserve_rule,
        "diversion": _diversion_object(fuel.diversion, unit) if fuel.diversion is not None else None,
    }


def _diversion_object(way: Diversion, unit: FuelUnit) -> Json:
    """The way to an alternate from a point on the way by which the fuel required goes."""
    return {
        "from": way.start,
        "airport": way.airport,
        "used_gal": gallons(way.used, unit),
        "alternate_gal": gallons(way.alternate, unit),
        "contingency_gal": gallons(way.contingency, unit),
    }


def _alternate_object(log: Log, *, with_legs: bool) -> Json:
    """The way to an alternate, with the clock and fuel of the last passage of the point where it leaves the route."""
    found: Json = {
        "from": log.route.points[0].name,
        "to": log.route.points[-1].name,
        "off": moment(log.conditions.off),
        **_totals_object(log),
        "fuel": _fuel_object(log),
        "passages": [_passage_object(one, log.fuel_unit) for one in log.begun],
    }
    if with_legs:
        found["legs"] = [leg_object(log, leg) for leg in log.legs]
    return found


def _passage_object(passage: Passage, unit: FuelUnit) -> Json:
    """One passage of the point where the way to an alternate leaves the route."""
    return {
        "leg": passage.leg.number if passage.leg is not None else None,
        "at": moment(passage.at),
        "altitude_ft": number(passage.height_ft),
        "fuel_gal": gallons(passage.left, unit),
    }


def _bulletin_object(use: BulletinUse) -> Json:
    """A winds-aloft bulletin used: its period, and the stations that may count on the route."""
    return {
        "file": use.file,
        "heading": use.heading,
        "valid": moment(use.valid),
        "use_from": moment(use.use_from),
        "use_to": moment(use.use_to),
        "stations": list(use.stations),
        "stations_without_position": use.missing,
    }


def _finding_object(finding: Finding) -> Json:
    """A finding."""
    return {
        "rule": finding.rule,
        "severity": finding.severity.value,
        "message": finding.told,
        "leg": finding.leg,
        "alternate": _on_alternate_object(finding.alternate),
        "file": finding.span.file,
        "line": finding.span.line,
        "source": finding.source,
        "accepted": finding.accepted,
    }


def _on_alternate_object(place: OnAlternate | None) -> Json | None:
    """Where on the way to an alternate a finding is; None for the route and the whole flight."""
    if place is None:
        return None
    return {"number": place.number, "name": place.name, "leg": place.leg}


def problem_object(problem: Problem) -> Json:
    """A problem."""
    span = problem.span
    return {
        "code": problem.code,
        "message": problem.message,
        "file": span.file if span is not None else None,
        "line": span.line if span is not None else None,
        "column": span.column if span is not None else None,
        "hint": problem.hint,
    }


def _ground_object(leg: Leg) -> Json | None:
    """What lies below the leg's stretch; null on airways, and where no terrain folder is named."""
    ground = leg.stretch.ground
    if ground is None:
        return None
    return {
        "minimum_ft": number(ground.minimum_ft),
        "clearance_ft": number(ground.clearance_ft),
        "mountainous": ground.mountainous,
        "half_width_nm": number(max((max(one.half_widths_nm) for one in ground.parts), default=None)),
        "highest": _spot_object(ground.highest),
        "obstacle": _spot_object(ground.obstacle),
        "obstacles_known": ground.obstacles_known,
        "tiles": list(ground.tiles),
        "unknown": list(ground.unknown),
    }


def _spot_object(spot: Spot | None) -> Json | None:
    """A high place, by miles along the stretch and right of it."""
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
