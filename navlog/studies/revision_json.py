"""A flight re-figured in the air as JSON, by the schema `navlog/revise-1`."""

from __future__ import annotations

from json import dumps

from navlog.flightlog.records import Log
from navlog.nav.notices import effect_words
from navlog.sheets.json_legs import leg_object, point_object
from navlog.sheets.json_values import Json, moment, number
from navlog.studies.revision import (
    Field,
    PartFlown,
    Revision,
    WindFound,
    alternate_closed_by,
    alternates_of,
    reserve_holds_at,
)
from navlog.studies.revision_notices import NoticeChange
from navlog.studies.revision_text import warnings_of


def revision_json(revision: Revision) -> str:
    """The revision as one line of JSON; fuel is in the log's unit, which `fuel_unit` names."""
    log, rest, passed = revision.planned, revision.rest, revision.passed
    found: Json = {
        "schema": "navlog/revise-1",
        "computation": "revise",
        "flight": log.route.request.name,
        "at": {"point": point_object(passed.leg.end), "time": moment(passed.moment), "leg": passed.leg.number},
        "fuel_unit": log.fuel_unit.name,
        "fuel_on_board": number(revision.fuel),
        "fuel_read": revision.reading is not None,
        "after_refuelling": revision.after_refuelling,
        "warnings": list(warnings_of(revision)),
        "flown": [_part_object(part) for part in revision.parts],
        "wind": _wind_object(revision.wind),
        "notices_changed": [_notice_object(one) for one in revision.noticed],
        "legs": [] if rest is None else [leg_object(rest, leg) for leg in rest.legs],
        "planned_eta": [] if rest is None else [_planned_eta(revision, index) for index in range(len(rest.legs))],
        "reserve": number((rest or log).fuel.reserve),
        "reserve_min": number((rest or log).fuel.reserve_min),
        "reserve_rule": (rest or log).fuel.reserve_rule,
        "remaining": number(rest.fuel.remaining if rest is not None else revision.fuel),
        "reserve_holds": revision.reserve_holds,
        "measured": _measured_object(revision),
        "with_reading_alone": _unfilled_object(revision),
        "alternates": [_alternate_object(revision, way) for way in alternates_of(rest)],
        "fields": [_field_object(field) for field in revision.fields],
    }
    return dumps(found, ensure_ascii=True, allow_nan=False) + "\n"


def _measured_object(revision: Revision) -> Json | None:
    """The end of the flight should the measured burn go on; fuel in the log's unit."""
    measured, reading = revision.measured, revision.reading
    if measured is None or reading is None:
        return None
    return {
        "times_planned": number(measured.times),
        "burn_per_h": number(reading.read_per_h),
        "remaining": number(measured.rest.fuel.remaining),
        "reserve": number(measured.rest.fuel.reserve),
        "reserve_holds": measured.reserve_holds,
        "alternates": [_alternate_object(revision, way) for way in alternates_of(measured.rest)],
    }


def _unfilled_object(revision: Revision) -> Json | None:
    """The end of the flight should a reading on landing be all that is on board after refuelling."""
    other = revision.unfilled
    if other is None:
        return None
    return {
        "remaining": number(other.rest.fuel.remaining),
        "reserve": number(other.rest.fuel.reserve),
        "reserve_holds": other.reserve_holds,
    }


def _alternate_object(revision: Revision, way: Log) -> Json:
    """An alternate that can still be flown to, by what is known now; fuel in the log's unit."""
    last = way.legs[-1]
    return {
        "from": way.route.points[0].name,
        "to": way.route.points[-1].name,
        "off": moment(way.conditions.off),
        "eta": moment(way.eta(last)),
        "fuel_remaining": number(last.fuel_remaining),
        "reserve_holds": reserve_holds_at(way),
        "closed_by": alternate_closed_by(revision, way),
    }


def _planned_eta(revision: Revision, index: int) -> str | None:
    """When the plan had the end of a leg ahead."""
    assert revision.rest is not None
    planned = revision.planned_leg(revision.rest.legs[index])
    return None if planned is None else moment(revision.planned.eta(planned))


def _notice_object(change: NoticeChange) -> Json:
    """A notice that counts otherwise than planned."""
    return {
        "ident": change.notice.ident,
        "effects": [effect_words(one) for one in change.notice.effects],
        "counts": change.counts,
        "legs": list(change.legs),
        "on_alternate": change.on_alternate,
    }


def _part_object(part: PartFlown) -> Json:
    """One part flown."""
    return {
        "from": point_object(part.start),
        "to": point_object(part.passed.leg.end),
        "time": moment(part.passed.moment),
        "distance_nm": number(part.distance_nm),
        "time_min": number(part.time_min),
        "planned_min": number(part.planned_min),
        "groundspeed_kt": number(part.groundspeed_kt),
        "planned_groundspeed_kt": number(part.planned_kt),
        "half_minute_kt": number(part.error_kt),
        "headwind_kt": number(part.headwind_kt),
        "forecast_headwind_kt": number(part.forecast_kt if part.forecast_given else None),
        "reason": part.reason,
    }


def _wind_object(wind: WindFound | None) -> Json | None:
    """The wind found."""
    if wind is None:
        return None
    return {
        **{
            key: None if one is None else {"from_true_deg": number(one.from_true_deg), "speed_kt": number(one.speed_kt)}
            for key, one in (("found", wind.wind), ("forecast", wind.forecast), ("difference", wind.more))
        },
        "whole": wind.whole,
        "method": wind.method,
    }


def _field_object(field: Field) -> Json:
    """One field within reach."""
    return {
        "ident": field.airport.ident,
        "name": field.airport.name,
        "private": field.airport.use == "private",
        "distance_nm": number(field.distance_nm),
        "true_course_deg": number(field.true_course_deg),
        "magnetic_course_deg": number(field.magnetic_course_deg),
        "magnetic_heading_deg": number(field.magnetic_heading_deg),
        "compass_heading_deg": number(field.compass_heading_deg),
        "groundspeed_kt": number(field.groundspeed_kt),
        "time_min": number(field.time_min),
        "fuel_left": number(field.fuel_left),
        "reserve_kept": field.reserve_kept,
        "reason": field.reason,
        "beyond_table": field.beyond,
        "closed_by": field.closed_by,
        "station": field.station.ident if field.station is not None else None,
        "radial_deg": number(field.radial_deg),
        "station_nm": number(field.station_nm),
    }
