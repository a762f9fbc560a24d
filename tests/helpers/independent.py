"""A second opinion on a flight's JSON: nothing of navlog is used, only the JSON is read.

Geodesics are geographiclib's, the variation pygeomag's own, the triangle is solved as vectors for the
groundspeed. `differences` names every quantity with the largest difference seen.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from math import atan2, cos, degrees, hypot, radians, sin, sqrt
from typing import Any

from geographiclib.geodesic import Geodesic
from pygeomag import GeoMag

Json = dict[str, Any]
Difference = tuple[str, float]

M_PER_NM = 1852.0
CHARTED_NM = 0.5
CHARTED = 0.01
CHARTED_DEG = 3.0

TOLERANCES = {
    # Doubles through two implementations of the geodesic, over at most some hundred NM; JSON keeps 9 decimals.
    "true course": 1e-6,
    "turn": 1e-6,
    "computed radial": 1e-6,
    "changeover off its line, NM": 1e-5,
    "share of the stretch": 1e-6,
    # Linear between three values of the model on a stretch, against the model itself at the leg's middle.
    "variation": 0.01,
    # Plain arithmetic on nine decimals.
    "magnetic course": 1e-8,
    "set course": 1e-8,
    "correction": 1e-7,
    "true heading": 1e-7,
    "magnetic heading": 1e-8,
    "groundspeed": 1e-7,
    "time": 1e-7,
    "elapsed": 1e-7,
    "arrival, s": 0.001,
    "fuel rate": 1e-6,
    "fuel left": 1e-8,
    "distance remaining": 1e-8,
    "total distance": 1e-8,
    "total time": 1e-7,
    "total fuel": 1e-7,
    "fuel summary": 1e-8,
    # What a chart may differ from the positions before the rules speak up; a share of what is allowed.
    "charted distance": 1.0,
    "charted radial": CHARTED_DEG,
}


def differences(flight: Json) -> dict[str, float]:
    """The largest difference of every quantity from what is worked out here, by its name."""
    found: dict[str, float] = {}
    for name, difference in every_difference(flight):
        found[name] = max(found.get(name, 0.0), abs(difference))
    return found


def every_difference(flight: Json) -> Iterator[Difference]:
    """Each comparison of one flight."""
    legs = flight["legs"]
    for stretch in stretches(legs):
        yield from of_stretch(stretch, flight)
    for before, leg in zip([None, *legs], legs, strict=False):
        yield from of_leg(leg)
        yield from of_tally(before, leg, flight)
    yield from of_totals(flight)


def stretches(legs: list[Json]) -> Iterator[list[Json]]:
    """The legs in groups between points of the route."""
    group: list[Json] = []
    for leg in legs:
        group.append(leg)
        if leg["to"]["ident"] is not None or leg is legs[-1]:
            yield group
            group = []


def place(point: Json) -> tuple[float, float] | None:
    """Latitude and longitude, or None."""
    return None if point["latitude_deg"] is None else (point["latitude_deg"], point["longitude_deg"])


def inverse(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float, float]:
    """NM, course at the start and course at the end."""
    line = Geodesic.WGS84.Inverse(*start, *end)
    return line["s12"] / M_PER_NM, line["azi1"], line["azi2"]


def apart(one: float, other: float) -> float:
    """The signed angle from `other` to `one`."""
    return (one - other + 180.0) % 360.0 - 180.0


def of_stretch(group: list[Json], flight: Json) -> Iterator[Difference]:
    """Places, distances, turns and radials between two points of the route."""
    start, end = place(group[0]["from"]), place(group[-1]["to"])
    if start is None or end is None:
        return
    geodesic_nm, start_deg, end_deg = inverse(start, end)
    flown_nm = sum(leg["distance_nm"] for leg in group)
    yield "charted distance", (flown_nm - geodesic_nm) / max(CHARTED_NM, CHARTED * geodesic_nm)
    for leg in group:
        here, there = place(leg["from"]), place(leg["to"])
        assert here is not None
        assert there is not None
        yield "share of the stretch", leg["distance_nm"] / flown_nm - inverse(here, there)[0] / geodesic_nm
        yield "changeover off its line, NM", inverse(start, there)[0] + inverse(there, end)[0] - geodesic_nm
        yield from of_radial(leg, start, end, start_deg, end_deg, group)
    following = next((leg for leg in flight["legs"] if leg["number"] == group[-1]["number"] + 1), None)
    turn_deg = group[-1]["turn_deg"]
    if following is not None and turn_deg is not None:
        last = next(one for one in stretches(flight["legs"]) if one[0] is following)[-1]
        beyond = place(last["to"])
        if beyond is not None:
            yield "turn", apart(turn_deg, apart(inverse(end, beyond)[1], end_deg))
    for leg in group[:-1]:
        yield "turn", leg["turn_deg"]
    yield from of_cross_radial(group[-1], flight)


def of_radial(
    leg: Json,
    start: tuple[float, float],
    end: tuple[float, float],
    start_deg: float,
    end_deg: float,
    group: list[Json],
) -> Iterator[Difference]:
    """The radial flown, where its station is an end of the stretch."""
    guidance = leg["guidance"]
    if guidance is None or guidance["radial_deg"] is None or guidance["declination_deg"] is None:
        return
    ident = guidance["ident"]
    if ident == group[0]["from"]["ident"] and guidance["flag"] == "FROM":
        bearing_deg = start_deg
    elif ident == group[-1]["to"]["ident"] and guidance["flag"] == "TO":
        bearing_deg = end_deg + 180.0
    else:
        return
    yield (
        f"{guidance['radial_source']} radial",
        apart(guidance["radial_deg"], bearing_deg - guidance["declination_deg"]),
    )


def of_cross_radial(leg: Json, flight: Json) -> Iterator[Difference]:
    """A cross radial that is computed, where its station is a point of the flight."""
    found, at = leg["identified_by"], place(leg["to"])
    if found is None or found["radial_deg"] is None or at is None:
        return
    for other in flight["legs"]:
        for point in (other["from"], other["to"]):
            guidance = other["guidance"] or {}
            station = place(point)
            if point["ident"] == guidance.get("ident") == found["ident"] and station is not None:
                bearing_deg = inverse(station, at)[1] - guidance["declination_deg"]
                yield "charted radial", apart(found["radial_deg"], bearing_deg)


def of_leg(leg: Json) -> Iterator[Difference]:
    """Course, variation, headings and the triangle of one leg."""
    start, end = place(leg["from"]), place(leg["to"])
    course_deg = leg["true_course_deg"]
    guidance = leg["guidance"]
    if start is not None and end is not None:
        line = Geodesic.WGS84.InverseLine(*start, *end)
        middle = line.Position(line.s13 / 2.0)
        yield "true course", apart(course_deg, middle["azi2"])
        if leg.get("day") is not None and leg["variation_deg"] is not None:
            yield "variation", apart(leg["variation_deg"], variation(middle["lat2"], middle["lon2"], leg["day"]))
    elif course_deg is not None and guidance is not None and guidance["declination_deg"] is not None:
        yield "true course", apart(course_deg, guidance["set_course_deg"] + guidance["declination_deg"])
    if guidance is not None and guidance["radial_deg"] is not None:
        inbound = 180.0 if guidance["flag"] == "TO" else 0.0
        yield "set course", apart(guidance["set_course_deg"], guidance["radial_deg"] + inbound)
    if course_deg is not None and leg["variation_deg"] is not None:
        yield "magnetic course", apart(leg["magnetic_course_deg"], course_deg - leg["variation_deg"])
    if leg["groundspeed_kt"] is not None:
        yield from of_triangle(leg)


def of_triangle(leg: Json) -> Iterator[Difference]:
    """The triangle: the airspeed's vector is the ground vector less the wind's, and as long as the airspeed."""
    course, blows = radians(leg["true_course_deg"]), radians(leg["wind"]["from_true_deg"] + 180.0)
    east, north = sin(course), cos(course)
    wind_east, wind_north = (leg["wind"]["speed_kt"] * part for part in (sin(blows), cos(blows)))
    along = east * wind_east + north * wind_north
    groundspeed = along + sqrt(along**2 - wind_east**2 - wind_north**2 + leg["tas_kt"] ** 2)
    air_east, air_north = groundspeed * east - wind_east, groundspeed * north - wind_north
    heading_deg = degrees(atan2(air_east, air_north))
    yield "groundspeed", leg["groundspeed_kt"] - groundspeed
    yield "true heading", apart(leg["true_heading_deg"], heading_deg)
    yield "correction", apart(leg["wind_correction_deg"], heading_deg - leg["true_course_deg"])
    assert abs(hypot(air_east, air_north) - leg["tas_kt"]) < 1e-9
    if leg["magnetic_heading_deg"] is not None:
        yield "magnetic heading", apart(leg["magnetic_heading_deg"], leg["true_heading_deg"] - leg["variation_deg"])
    yield "time", leg["time_min"] - leg["distance_nm"] / leg["groundspeed_kt"] * 60.0


def of_tally(before: Json | None, leg: Json, flight: Json) -> Iterator[Difference]:
    """What is carried from leg to leg: clock, fuel, distance to go. After a landing time and fuel may go up."""
    landed = before is not None and before["turn_deg"] is None
    if leg["elapsed_min"] is not None:
        started_min = before["elapsed_min"] if before is not None else 0.0
        waited_min = leg["elapsed_min"] - started_min - leg["time_min"]
        yield "elapsed", min(waited_min, 0.0) if landed else waited_min
        if flight["off"] is not None:
            flown_s = (clock(leg["eta"]) - clock(flight["off"])).total_seconds()
            yield "arrival, s", flown_s - leg["elapsed_min"] * 60.0
    if leg["fuel_used_gal"] is not None and leg["phase"] == "cruise":
        first = next(one for one in flight["legs"] if one["phase"] == "cruise" and one["time_min"] is not None)
        rate = first["fuel_used_gal"] / first["time_min"] * 60.0
        yield "fuel rate", leg["fuel_used_gal"] / leg["time_min"] * 60.0 - rate
    if leg["fuel_remaining_gal"] is not None:
        had = leg["fuel_remaining_gal"] + leg["fuel_used_gal"]
        if before is not None and not landed:
            yield "fuel left", had - before["fuel_remaining_gal"]
        elif before is None and not any(landings(flight)):
            yield "fuel left", had - flight["fuel"]["on_board_gal"]
    to_go = sum(one["distance_nm"] for one in flight["legs"] if one["number"] > leg["number"])
    yield "distance remaining", leg["distance_remaining_nm"] - to_go


def of_totals(flight: Json) -> Iterator[Difference]:
    """Totals and the fuel of the whole flight."""
    legs, totals, fuel = flight["legs"], flight["totals"], flight["fuel"]
    yield "total distance", totals["distance_nm"] - sum(leg["distance_nm"] for leg in legs)
    if totals["time_min"] is not None:
        yield "total time", totals["time_min"] - sum(leg["time_min"] for leg in legs)
    if totals["fuel_gal"] is not None:
        yield "total fuel", totals["fuel_gal"] - sum(leg["fuel_used_gal"] for leg in legs)
        # The summary counts from the last fuelling, which is at one of the landings or before the start.
        starts = [0, *landings(flight)]
        since = [sum(leg["fuel_used_gal"] for leg in legs if leg["number"] > start) for start in starts]
        yield "fuel summary", min(abs(fuel["used_gal"] - one) for one in since)
    if fuel["required_gal"] is not None:
        # Reserve and trip at least; contingency and extra fuel are not in the JSON by themselves.
        yield "fuel summary", min(fuel["required_gal"] - fuel["used_gal"] - fuel["reserve_gal"], 0.0)
    if fuel["remaining_gal"] is not None and fuel["on_board_gal"] is not None:
        yield "fuel summary", fuel["remaining_gal"] - fuel["on_board_gal"] + fuel["used_gal"]
        yield "fuel summary", fuel["remaining_gal"] - legs[-1]["fuel_remaining_gal"]


def landings(flight: Json) -> list[int]:
    """The legs that end in a landing on the way."""
    return [leg["number"] for leg in flight["legs"][:-1] if leg["turn_deg"] is None]


def clock(text: str) -> datetime:
    """A moment of the JSON."""
    return datetime.fromisoformat(text.replace("Z", "+00:00"))


def variation(latitude_deg: float, longitude_deg: float, day: str) -> float:
    """The declination of WMM2025 at mean sea level on a day of its years, degrees."""
    when = date.fromisoformat(day)
    start, end = date(when.year, 1, 1), date(when.year + 1, 1, 1)
    year = when.year + (when - start).days / (end - start).days
    return float(GeoMag(base_year=2025).calculate(latitude_deg, longitude_deg, 0.0, year).d)


def dated(flight: Json) -> Json:
    """The flight with its day in every leg whose variation is the model's."""
    if flight["magnetic_model"] != "WMM2025":
        return flight
    return flight | {"legs": [leg | {"day": flight["date"]} for leg in flight["legs"]]}
