"""The slips that pilots make: what each would make of a leg's figures, worked through to heading, time and fuel.

Which they are: common practice, from the standing confusions of handbooks and knowledge tests. A slip is claimed
only for a figure that it explains.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from navlog.flightlog.records import Leg, Log
from navlog.nav.angles import normalize_deg, reciprocal_deg
from navlog.nav.units import NAUTICAL_MILE_M, STATUTE_MILE_M
from navlog.nav.wind import Triangle, Wind, triangle
from navlog.resolve.route import MarkKind

_STATUTE_IN_NM = NAUTICAL_MILE_M / STATUTE_MILE_M
"""How many statute miles a nautical mile is."""


_HUNDREDTH = 0.0105
"""A time in hundredths of an hour is right to one of them; a hair more, as 0.21 is no exact number."""


class Slip(Struct, frozen=True):
    """A slip, in words, and the figures that it leads to by quantity; those it leaves alone are not in it.

    `within` is how near a figure must be where that is less than its tolerance.
    """

    code: str
    words: str
    leads_to: dict[str, float]
    within: float | None = None


def leg_slips(log: Log, leg: Leg) -> tuple[Slip, ...]:
    """Every slip that could be made on a leg with the numbers that are known there."""
    return tuple(
        slip
        for group in (
            _needle_slips(leg),
            _fix_slips(leg),
            _north_slips(leg),
            _wind_slips(log, leg),
            _distance_slips(leg),
            _taxi_slips(log, leg),
            _clock_slips(log, leg),
        )
        for slip in group
        if slip.leads_to
    )


def _needle_slips(leg: Leg) -> Iterator[Slip]:
    """Slips with the radial and the course set."""
    guidance = leg.part.guidance
    set_deg = guidance.set_course_deg if guidance is not None else None
    reversed_course = {} if set_deg is None else {"set_course": reciprocal_deg(set_deg)}
    yield Slip(
        "reciprocal",
        "the reciprocal: the inbound radial set as a course, or the course turned round",
        {**reversed_course, **_turned_round(leg)},
    )
    if guidance is None or set_deg is None:
        return
    # A number like all other figures of a marking: 1 stands for TO.
    yield Slip("flag-wrong-way", "TO and FROM exchanged", {"flag": float(guidance.flag.value != "TO")})
    declination_deg = guidance.station.declination_deg
    if declination_deg is None:
        return
    true_deg = set_deg + declination_deg
    yield Slip(
        "declination-left-out",
        "the true course set: the station's declination not applied",
        {"set_course": normalize_deg(true_deg)},
    )
    yield Slip(
        "declination-wrong-way",
        "the station's declination applied the wrong way",
        {"set_course": normalize_deg(true_deg + declination_deg)},
    )
    if leg.variation_deg is not None and leg.variation_source != "station":
        yield Slip(
            "variation-for-radial",
            "today's variation used for a radial, in place of the station's declination",
            {"set_course": normalize_deg(true_deg - leg.variation_deg)},
        )


def _fix_slips(leg: Leg) -> Iterator[Slip]:
    """Slips with what tells the leg's end."""
    radials = [mark for mark in leg.marks if mark.kind is MarkKind.RADIAL and mark.by.radial_deg is not None]
    turned = {f"radial {mark.station.ident}": reciprocal_deg(mark.by.radial_deg or 0.0) for mark in radials}
    yield Slip("bearing-to-station", "the bearing to the station, not its radial", turned)
    ground = {
        f"dme {mark.station.ident}": mark.by.away_nm
        for mark in leg.marks
        if mark.kind is MarkKind.DME and mark.by.away_nm is not None
    }
    yield Slip("ground-for-slant", "the distance over the ground, not what the DME reads at that height", ground)


def _turned_round(leg: Leg) -> dict[str, float]:
    """The leg's directions flown the other way."""
    if leg.true_course_deg is None:
        return {}
    found = {"true_course": reciprocal_deg(leg.true_course_deg)}
    if leg.magnetic_course_deg is not None:
        found["magnetic_course"] = reciprocal_deg(leg.magnetic_course_deg)
    if leg.triangle is not None:
        back = _solved(leg, course_deg=reciprocal_deg(leg.true_course_deg), wind=leg.triangle.wind)
        found |= {key: value for key, value in _flown(leg, back).items() if key.endswith("heading")}
    return found


def _north_slips(leg: Leg) -> Iterator[Slip]:
    """Slips between true, magnetic and compass north."""
    true_deg = leg.triangle.true_heading_deg if leg.triangle is not None else None
    variation_deg, course_deg = leg.variation_deg, leg.true_course_deg
    if variation_deg is not None and course_deg is not None:
        for code, words, shift_deg in (
            ("variation-wrong-way", "the variation applied the wrong way", variation_deg),
            ("variation-left-out", "the variation not applied", 0.0),
        ):
            yield Slip(code, words, _by_compass(leg, course_deg, true_deg, shift_deg))
        yield Slip(
            "magnetic-as-true",
            "the magnetic course written as the true one",
            {"true_course": normalize_deg(course_deg - variation_deg)},
        )
    declination_deg = leg.part.guidance.station.declination_deg if leg.part.guidance is not None else None
    if declination_deg is not None and course_deg is not None and leg.variation_source != "station":
        yield Slip(
            "declination-in-heading",
            "the station's declination used in the heading, in place of the variation",
            _by_compass(leg, course_deg, true_deg, -declination_deg),
        )
    if leg.magnetic_heading_deg is not None and leg.deviation_deg is not None:
        for code, words, shift_deg in (
            ("deviation-wrong-way", "the deviation applied with the wrong sign", leg.deviation_deg),
            ("deviation-left-out", "the deviation not applied", 0.0),
        ):
            heading_deg = normalize_deg(leg.magnetic_heading_deg + shift_deg)
            yield Slip(code, words, {"compass_heading": heading_deg, "heading": heading_deg})


def _by_compass(leg: Leg, course_deg: float, true_deg: float | None, shift_deg: float) -> dict[str, float]:
    """Magnetic course and headings where true directions are shifted by `shift_deg` in place of the variation."""
    found = {"magnetic_course": normalize_deg(course_deg + shift_deg)}
    if true_deg is not None:
        found |= _headings(leg, magnetic_deg=normalize_deg(true_deg + shift_deg))
    return found


def _headings(leg: Leg, *, magnetic_deg: float) -> dict[str, float]:
    """The headings that follow from a magnetic one, with the leg's own deviation."""
    if leg.deviation_deg is None:
        return {"magnetic_heading": magnetic_deg, "heading": magnetic_deg}
    compass_deg = normalize_deg(magnetic_deg - leg.deviation_deg)
    return {"magnetic_heading": magnetic_deg, "compass_heading": compass_deg, "heading": compass_deg}


def _wind_slips(log: Log, leg: Leg) -> Iterator[Slip]:
    """Slips with the wind and the triangle."""
    now = leg.triangle
    if now is None or now.wind_correction_deg is None:
        return
    course_deg, wind = now.true_course_deg, now.wind
    if leg.variation_deg is not None:
        if log.conditions.winds_turned:
            code, words, shift_deg = "magnetic-wind-as-true", "the magnetic wind taken as true", -leg.variation_deg
        else:
            words = "the true wind set against the magnetic course"
            code, shift_deg = "true-wind-as-magnetic", leg.variation_deg
        yield Slip(code, words, _flown(leg, _solved(leg, course_deg=course_deg, wind=_turned(wind, shift_deg))))
    backward = _flown(leg, _solved(leg, course_deg=course_deg, wind=_turned(wind, 180.0)))
    over_ground = {key: value for key, value in backward.items() if key in ("groundspeed", "time", "fuel_used")}
    yield Slip("headwind-as-tailwind", "the wind taken from behind for ahead, or the other way", over_ground)
    for code, words, correction_deg in (
        ("correction-wrong-way", "the wind correction applied the wrong way", -now.wind_correction_deg),
        ("correction-left-out", "the wind correction not applied", 0.0),
    ):
        yield Slip(
            code, words, {"wca": correction_deg, **_all_headings(leg, normalize_deg(course_deg + correction_deg))}
        )
    yield Slip("tas-for-groundspeed", "the true airspeed used for the groundspeed", _at_speed(leg, now.tas_kt))
    if leg.groundspeed_kt is not None:
        yield Slip(
            "mph", "the groundspeed in statute miles an hour", _at_speed(leg, leg.groundspeed_kt * _STATUTE_IN_NM)
        )


def _turned(wind: Wind, shift_deg: float) -> Wind:
    """A wind from another direction."""
    return Wind(normalize_deg(wind.from_true_deg + shift_deg), wind.speed_kt)


def _solved(leg: Leg, *, course_deg: float, wind: Wind) -> Triangle:
    """The leg's triangle with another course or wind."""
    assert leg.triangle is not None
    return triangle(true_course_deg=course_deg, tas_kt=leg.triangle.tas_kt, wind=wind)


def _flown(leg: Leg, other: Triangle) -> dict[str, float]:
    """What another triangle leads to; nothing where it cannot be flown."""
    if other.wind_correction_deg is None or other.true_heading_deg is None or other.groundspeed_kt is None:
        return {}
    return {
        "wca": other.wind_correction_deg,
        **_all_headings(leg, other.true_heading_deg),
        **_at_speed(leg, other.groundspeed_kt),
    }


def _all_headings(leg: Leg, true_deg: float) -> dict[str, float]:
    """The headings that follow from a true one."""
    found = {"true_heading": true_deg}
    if leg.variation_deg is not None:
        found |= _headings(leg, magnetic_deg=normalize_deg(true_deg - leg.variation_deg))
    return found


def _at_speed(leg: Leg, groundspeed_kt: float) -> dict[str, float]:
    """Groundspeed, time and fuel at another groundspeed."""
    return {"groundspeed": groundspeed_kt, **_taking(leg, leg.distance_nm / groundspeed_kt * 60.0)}


def _taking(leg: Leg, time_min: float) -> dict[str, float]:
    """Another time, and the fuel that it takes at the leg's burn."""
    if leg.fuel_used is None or not leg.time_min:
        return {"time": time_min}
    return {"time": time_min, "fuel_used": leg.fuel_used / leg.time_min * time_min}


def _distance_slips(leg: Leg) -> Iterator[Slip]:
    """Slips with miles, and with minutes and hours."""
    for code, words, distance_nm in (
        ("statute-miles", "statute miles taken for nautical ones", leg.distance_nm * _STATUTE_IN_NM),
        ("whole-stretch", "the whole way to the next point in place of this leg of it", leg.stretch.length_nm),
    ):
        found = {"distance": distance_nm}
        if leg.groundspeed_kt is not None:
            found |= _taking(leg, distance_nm / leg.groundspeed_kt * 60.0)
        yield Slip(code, words, found)
    point = leg.changeover
    if point is not None:
        yield Slip(
            "changeover-from-ahead",
            "the changeover point measured from the station ahead",
            {"changeover": point.distance_ahead_nm},
        )
    if leg.time_min is not None:
        found = {"time": _hours_as_minutes(leg.time_min)}
        if leg.fuel_used is not None and leg.time_min:
            # 24 minutes put into the sum as 0.24 h.
            found["fuel_used"] = leg.fuel_used * 60.0 / 100.0
        yield Slip("decimal-hours", "minutes and hundredths of an hour taken for each other", found)
        yield _in_hours(leg.time_min)


def _taxi_slips(log: Log, leg: Leg) -> Iterator[Slip]:
    """The fuel left as if none were burned before take-off; where fuel is taken on the way it counts no more."""
    filled = any(one.fuel_taken is not None for one in log.legs[: leg.number - 1])
    if log.conditions.taxi > 0.0 and leg.fuel_remaining is not None and not filled:
        left = leg.fuel_remaining + log.conditions.taxi
        yield Slip("taxi-left-out", "the fuel for start and taxi not taken off", {"fuel_left": left})


def _clock_slips(log: Log, leg: Leg) -> Iterator[Slip]:
    """The arrival by the local clock of the zone in which the take-off is stated."""
    moment, zone = log.eta(leg), log.conditions.zone
    if moment is None or zone is None:
        return
    from zoneinfo import ZoneInfo

    local = moment.astimezone(ZoneInfo(zone))
    if local.utcoffset():
        clock_min = local.hour * 60.0 + local.minute + local.second / 60.0
        yield Slip("local-time", "local time in place of UTC", {"eta": clock_min})


def _in_hours(time_min: float) -> Slip:
    """0.21 h written as such, without its unit, where minutes are asked for."""
    return Slip(
        "decimal-hours", "hundredths of an hour written for minutes", {"time": time_min / 60.0}, within=_HUNDREDTH
    )


def _hours_as_minutes(time_min: float) -> float:
    """0.41 h written as 41 minutes, 1.40 h as 1:40."""
    hours, rest_min = divmod(time_min, 60.0)
    return hours * 60.0 + rest_min / 60.0 * 100.0


def total_slips(log: Log) -> tuple[Slip, ...]:
    """Every slip that could be made with the totals."""
    totals, legs = log.totals, [leg for leg in log.legs if leg.distance_nm > 0.0]
    statute = Slip(
        "statute-miles", "statute miles taken for nautical ones", {"distance": totals.distance_nm * _STATUTE_IN_NM}
    )
    speeds = [leg.groundspeed_kt for leg in legs if leg.groundspeed_kt is not None]
    if totals.time_min is None or len(speeds) < len(legs):
        return (statute,)
    mean_kt = sum(speeds) / len(speeds)
    averaged = {"groundspeed": mean_kt, "time": totals.distance_nm / mean_kt * 60.0}
    hours = {"time": _hours_as_minutes(totals.time_min)}
    if totals.fuel is not None and totals.time_min:
        averaged["fuel_used"] = totals.fuel / totals.time_min * averaged["time"]
        hours["fuel_used"] = totals.fuel * 60.0 / 100.0
    return (
        statute,
        Slip("groundspeeds-averaged", "the mean of the groundspeeds in place of distance over time", averaged),
        Slip("decimal-hours", "minutes and hundredths of an hour taken for each other", hours),
        _in_hours(totals.time_min),
    )
