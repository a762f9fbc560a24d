"""The log as JSON, schema `navlog/1`: one object a line and a flight; unknown numbers are null with a reason."""

from __future__ import annotations

from collections.abc import Iterable

from navlog.flightlog.fuel import earlier_fillings
from navlog.flightlog.records import BulletinUse, Diversion, Fuel, FuelUnit, Leg, Log, Passage
from navlog.nav.notices import effect_words
from navlog.nav.problems import Problem
from navlog.resolve.route import NoticeUse
from navlog.rules.answers import Answer
from navlog.rules.registry import Finding, OnAlternate
from navlog.sheets.json_ground import ground_object
from navlog.sheets.json_legs import gallons, guidance_object, leg_object
from navlog.sheets.json_values import Json, moment, number, source_object

_SCHEMA = "navlog/1"


def document(found: Iterable[Answer]) -> str:
    """A line for each flight, whatever came of it."""
    return "".join(json_line(answer) + "\n" for answer in found)


def json_line(answer: Answer, *, with_legs: bool = True) -> str:
    """One flight as one line of JSON, without a line end."""
    import json

    return json.dumps(flight_object(answer, with_legs=with_legs), allow_nan=False, ensure_ascii=True)


def flight_object(answer: Answer, *, with_legs: bool = True) -> Json:
    """One flight as plain dictionaries, lists and numbers; `legs` is left out where it is not wanted."""
    log = answer.report.log if answer.report is not None else None
    found: Json = {
        "schema": _SCHEMA,
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
    found |= ground_object(log)
    alternates = log.alternates if log is not None else ()
    found["alternates"] = [_alternate_object(one, with_legs=with_legs) for one in alternates]
    if with_legs and log is not None:
        found.update(_contingencies(log))
    uses = log.conditions.bulletins if log is not None else ()
    found["bulletins"] = [_bulletin_object(use) for use in uses]
    if log is not None and log.route.request.notices:
        found["notices"] = [_notice_object(use) for use in log.route.notices]
    findings = answer.report.findings if answer.report is not None else ()
    found["findings"] = [_finding_object(finding) for finding in findings]
    found["problems"] = [problem_object(problem) for problem in answer.problems]
    return found


def _contingencies(log: Log) -> Json:
    """Turning back, the critical points and the altitude without radio."""
    from navlog.flightlog.lost_communications import without_radio
    from navlog.flightlog.turning_back import critical_points, ways_home

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
        "earlier": [_filling_object(tank, one, unit) for tank, one in earlier_fillings(log)],
    }


def _filling_object(tank: tuple[Leg, ...], fuel: Fuel, unit: FuelUnit) -> Json:
    """The fuel of one filling of the tanks before the last."""
    return {
        "from": tank[0].start.name,
        "to": tank[-1].end.name,
        "on_board_gal": gallons(fuel.on_board, unit),
        "required_gal": gallons(fuel.required, unit),
        "used_gal": gallons(fuel.used, unit),
        "contingency_gal": gallons(fuel.contingency, unit),
        "reserve_gal": gallons(fuel.reserve, unit),
        "reserve_min": number(fuel.reserve_min),
        "reserve_rule": fuel.reserve_rule,
        "remaining_gal": gallons(fuel.remaining, unit),
        "margin_gal": gallons(fuel.margin, unit),
        "margin_min": number(fuel.margin_min),
    }


def _diversion_object(way: Diversion, unit: FuelUnit) -> Json:
    """The way to an alternate from a point on the way, or the landing there, by which the fuel required goes."""
    return {
        "from": way.start,
        "airport": way.airport,
        "used_gal": gallons(way.used, unit),
        "alternate_gal": gallons(way.alternate, unit),
        "contingency_gal": gallons(way.contingency, unit),
        "reserve_gal": gallons(way.reserve, unit),
        "reserve_min": number(way.reserve_min),
        "reserve_rule": way.reserve_rule,
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


def _notice_object(use: NoticeUse) -> Json:
    notice = use.notice
    return {
        "ident": notice.ident,
        "counts": use.counts,
        "means": [effect_words(effect) for effect in notice.effects],
        "from": moment(notice.period.start),
        "to": moment(notice.period.end),
        "estimated": notice.period.estimated,
        "not_understood": notice.unread,
        "void": notice.void,
        "text": notice.text,
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
        "also_legs": list(finding.also),
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
