"""Proposals as text, as JSON and as a route file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap
from typing import Any

from navlog.flightlog.records import Log
from navlog.nav.figures import distance, half_up, minutes, whole
from navlog.nav.layout import WIDTH
from navlog.printed.findings import findings_lines
from navlog.rules.answers import Answer
from navlog.studies.proposal_flights import Flights
from navlog.studies.proposing import Proposals
from navlog.studies.published_proposals import Proposal

_SCHEMA = "navlog/proposal-1"


def proposal_lines(found: Proposals, flights: Flights) -> Iterator[str]:
    """The pair, from which altitude airways connect and what forces it, and each route with what it asks for."""
    yield f"{found.start} to {found.goal}, {flights.day.isoformat()}, {flights.rules.upper()}"
    yield f"Direct {distance(found.direct_nm)} NM, wind {flights.wind_text}, {flights.speed_text}"
    if found.lowest is not None:
        forced = f": {found.lowest.forced_by}" if found.lowest.forced_by else ""
        what = "the airways connect" if found.lowest.way.links else "one station connects them"
        yield f"Lowest altitude at which {what}: {whole(found.lowest.altitude_ft)} ft{forced}"
    for passed in found.passed_over:
        yield from wrap(_passed_over(passed, found.own), WIDTH)
    for told_shorter in found.shorter:
        yield from wrap(f"A detour; shorter {told_shorter}", WIDTH)
    proposals = found.all
    if found.lacks_fuel:
        yield "THE FUEL IS NOT ENOUGH for any way found; what it lacks stands under each"
    told = [findings_lines(one.answer.findings) for one in proposals]
    shared = [line for line in told[0] if all(line in lines for lines in told)] if len(told) > 1 else []
    for one, lines in zip(proposals, told, strict=True):
        yield ""
        yield from _one(found, one, flights)
        yield from _wrapped(line for line in lines if line not in shared)
    if shared:
        yield ""
        yield "Each of them:"
        yield from _wrapped(shared)
    yield ""
    for line in _closing(found):
        yield from wrap(line, WIDTH)


def _passed_over(one: Proposal, offered: tuple[Proposal, ...]) -> str:
    """Why the best way of a lower altitude is not among the proposals: for its length, or fuel that those have."""
    short = " for which the fuel is not enough," if one.lacks_fuel and not offered[0].lacks_fuel else ""
    return f"Not offered: {whole(one.altitude_ft)} ft, a way of {distance(one.distance_nm)} NM,{short} {one.route}"


def _one(found: Proposals, one: Proposal, flights: Flights) -> Iterator[str]:
    log = _log(one.answer)
    by_airways = any(stretch.airway is not None for stretch in log.route.stretches)
    own = "By the airways" if by_airways else "By one station alone"
    yield f"{'Published preferred route' if one.published is not None else own} {one.rank}, {whole(one.altitude_ft)} ft"
    yield from _wrapped([one.route])
    more = log.totals.distance_nm / found.direct_nm
    time_min = log.totals.time_min if flights.has_speed else None
    told = [
        f"{distance(log.totals.distance_nm)} NM, {more:.2f} times direct",
        f"{minutes(half_up(time_min))} in the air" if time_min is not None else "time ?",
        f"fuel {_fuel_text(log, flights)}",
        f"{one.airway_changes} change{'s' if one.airway_changes != 1 else ''} of airway",
    ]
    yield f"  {', '.join(told)}"
    highest = _highest_minimum(log)
    yield f"  highest minimum {highest}" if highest else "  no minimum is published on it"
    if one.off_airway_nm > 0.0:
        warned = ": under IFR find out what clears the terrain there" if flights.rules == "ifr" else ""
        off = f"{distance(one.off_airway_nm)} NM off the airways, min ?"
        yield from _wrapped([f"{'WARNING ' if warned else ''}{off}{warned}"])
    if one.published is not None:
        published = one.published.route
        words = (published.kind, published.altitude, published.aircraft, published.hours, published.direction)
        told = [word for word in (*words, published.area) if word]
        yield from _wrapped([f"as published: {', '.join(told)}"])


def _wrapped(lines: Iterable[str]) -> Iterator[str]:
    for line in lines:
        yield from wrap(line, WIDTH, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False)


def _closing(found: Proposals) -> Iterator[str]:
    """What was not looked at, and why published routes are missing."""
    if found.published:
        yield "A published altitude is no assurance of the MEA: what the rules say of it stands under each route."
    if found.left_out:
        yield f"Published and left out: {'; '.join(found.left_out)}."
    yield (
        "Airspace is not looked at, nor the terrain off the airways. For planning only: verify against current charts"
        " and NOTAMs; what is cleared may be another route."
    )


def _log(answer: Answer) -> Log:
    assert answer.report is not None
    return answer.report.log


def _highest_minimum(log: Log) -> str:
    """The highest MEA on the way, and where."""
    known = [(one.limits.mea_ft, one) for one in log.route.stretches if one.limits.mea_ft is not None]
    if not known:
        return ""
    highest_ft, stretch = max(known, key=lambda pair: pair[0])
    return f"MEA {whole(highest_ft)} on {stretch.via} {stretch.start.name} to {stretch.end.name}"


def _fuel_text(log: Log, flights: Flights) -> str:
    if log.totals.fuel is None or not flights.has_speed:
        return "?"
    return f"{log.totals.fuel:.1f} {log.fuel_unit.name}"


def proposal_json_lines(found: Proposals, flights: Flights) -> str:
    """A line of JSON for each proposal, published ones first."""
    import json

    objects = (_json(found, one, flights) for one in found.all)
    return "".join(json.dumps(one, allow_nan=False, ensure_ascii=True) + "\n" for one in objects)


def _json(found: Proposals, one: Proposal, flights: Flights) -> dict[str, Any]:
    """One proposal as an object of the schema `navlog/proposal-1`."""
    from navlog.sheets.json_lines import flight_object
    from navlog.sheets.json_values import number

    flown = flight_object(one.answer, with_legs=False)
    totals = flown["totals"]
    lowest = found.lowest
    return {
        "schema": _SCHEMA,
        "rank": one.rank,
        "kind": one.kind,
        "route": one.route,
        "distance_nm": totals["distance_nm"],
        "direct_nm": number(found.direct_nm),
        "time_min": totals["time_min"] if flights.has_speed else None,
        "fuel_gal": totals["fuel_gal"] if flights.has_speed else None,
        "altitude_ft": number(one.altitude_ft),
        "lowest_altitude_ft": number(lowest.altitude_ft) if lowest is not None else None,
        "forced_by": lowest.forced_by if lowest is not None else None,
        "off_airway_nm": number(one.off_airway_nm),
        "airway_changes": one.airway_changes,
        "status": flown["status"],
        "findings": flown["findings"],
    }


def route_file(found: Proposals, flights: Flights) -> str:
    """The proposals as a route file of one flight each, published ones first."""
    blocks = [flights.written]
    for one in found.all:
        name = f"{'published' if one.published is not None else 'airways'} {one.rank}"
        altitude = flights.altitude_text(one.altitude_ft)
        blocks.append(f'flight    "{name}"\naltitude  {altitude}\nroute     {one.route}\n')
    return "\n".join(blocks)
