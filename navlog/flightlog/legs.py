"""Runs to legs: headings, clock and fuel carried from leg to leg, and the reason for every unknown."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import accumulate

from msgspec import Struct
from msgspec.structs import astuple

from navlog.flightlog.facts import why_no_variation
from navlog.flightlog.records import Conditions, Leg, LegPoint, Phase, Run, Unknown
from navlog.flightlog.track import position_at
from navlog.nav.angles import normalize_deg
from navlog.nav.record import changed
from navlog.resolve.route import Point, PointKind

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_LOSING, _CHANGEOVER, _POSITION = Phase.LOSING, PointKind.CHANGEOVER, PointKind.POSITION

NO_OFF = "no `off` given"
NO_FUEL = "no `fuel` given"
_WIND_KEYS = ("wind", "wind_correction_deg", "true_heading_deg", "magnetic_heading_deg", "groundspeed_kt")


class _Tally(Struct):
    """Clock, fuel and place while the legs are written; figures are None once unknown."""

    at: LegPoint
    elapsed_min: float | None
    on_board: float | None
    used: float | None


def legs(runs: Iterable[Run], conditions: Conditions) -> tuple[Leg, ...]:
    """The legs of the flight in order, numbered from 1."""
    flown = tuple(runs)
    # Summed from the end, so that the last leg has exactly nothing left to go.
    ahead_nm = tuple(accumulate([run.end_nm - run.start_nm for run in reversed(flown)], initial=0.0))
    tally = _Tally(_leg_point(flown[0].stretch.start), 0.0, conditions.on_board, 0.0)
    return tuple(
        [
            _leg(number, run, following, ahead_nm[len(flown) - number], conditions, tally)
            for number, (run, following) in enumerate(zip(flown, (*flown[1:], None), strict=True), 1)
        ]
    )


def _leg(
    number: int, run: Run, following: Run | None, remaining_nm: float, conditions: Conditions, tally: _Tally
) -> Leg:
    """One leg; `tally` goes on from the leg before."""
    stretch = run.stretch
    ends_stretch = run.end_nm >= stretch.length_nm
    start, tally.at = tally.at, _end_of(run, following)
    tally.elapsed_min = _add(tally.elapsed_min, run.time_min)
    tally.used = _add(tally.used, run.fuel_used)
    tally.on_board = _add(tally.on_board, None if run.fuel_used is None else -run.fuel_used)
    solved = run.triangle
    heading_deg = minus(solved.true_heading_deg if solved is not None else None, run.variation_deg)
    deviation = deviation_on(conditions, heading_deg)
    # Height left over the airport is lost in a leg of its own: that one lands, with its time and fuel counted.
    goes_lower = following is not None and following.phase is _LOSING
    landing = stretch.end.landing if ends_stretch and not goes_lower else None
    stop_min, fuel = 0.0, None
    if landing is not None:
        stop_min = landing.stop_min
        fuel = next((fuel for at, fuel in conditions.fuel_at_stops if at == stretch.number), None)
    # In the order of its fields: it takes the run's values for those of a run, and twice the time by their names.
    found = Leg(  # type: ignore[call-arg]
        *astuple(run),
        number,
        start,
        tally.at,
        remaining_nm,
        minus(run.true_course_deg, run.variation_deg),
        heading_deg,
        deviation,
        None if deviation is None else minus(heading_deg, deviation),
        tally.elapsed_min,
        tally.used,
        tally.on_board,
        ends_stretch,
        landing is not None,
        stop_min,
        fuel,
        conditions.altimeter_hpa,
        conditions.altimeter_unit,
    )
    if landing is not None:
        # After the leg's own clock is written: the stop belongs to the time of the next take-off.
        tally.elapsed_min = _add(tally.elapsed_min, stop_min)
        tally.on_board = fuel if fuel is not None else tally.on_board
    missing = () if _is_known(found, conditions) else tuple(_unknowns(found, conditions))
    return changed(found, unknown=missing) if missing else found


def _add(total: float | None, more: float | None) -> float | None:
    """The sum; unknown once a part of it is."""
    return None if total is None or more is None else total + more


def minus(angle_deg: float | None, shift_deg: float | None) -> float | None:
    """A true direction by another north, in [0, 360); None where either is unknown."""
    return None if angle_deg is None or shift_deg is None else normalize_deg(angle_deg - shift_deg)


def deviation_on(conditions: Conditions, magnetic_heading_deg: float | None) -> float | None:
    """The compass deviation on a heading; None without a card, or where the card says nothing."""
    card = conditions.aircraft.compass if conditions.aircraft is not None else None
    if card is None or magnetic_heading_deg is None:
        return None
    from navlog.request.aircraft import deviation_deg

    return deviation_deg(card, magnetic_heading_deg)


def _end_of(run: Run, following: Run | None) -> LegPoint:
    """Where the leg ends: a point of the route, else what happens there."""
    if run.end_nm >= run.stretch.length_nm:
        return _leg_point(run.stretch.end)
    kind, heard = _end_kind(run, following), ""
    if kind is _POSITION and following is not None:
        guided, goes_on = (one.part.guidance is not None for one in (run, following))
        heard = "" if guided == goes_on else "NO VOR" if guided else "VOR ON"
    return LegPoint(str(kind), None, position_at(run.stretch, run.end_nm), heard=heard)


def _end_kind(run: Run, following: Run | None) -> PointKind:
    """What ends a leg between two points of the route."""
    # A part's end goes before what the profile does there: a changeover is flown whether or not a climb ends on it.
    if run.end_nm >= run.part.end_nm:
        return _CHANGEOVER if run.part.changeover is not None else _POSITION
    if following is not None and following.phase is Phase.DESCENT:
        return PointKind.TOP_OF_DESCENT
    return PointKind.TOP_OF_CLIMB if run.phase is Phase.CLIMB else PointKind.LEVEL_CHANGE


def _leg_point(point: Point) -> LegPoint:
    """A point of the route as the end of a leg."""
    return LegPoint(str(point.kind), point.ident, point.position, point)


def _is_known(leg: Leg, conditions: Conditions) -> bool:
    """Whether every number of a leg is known, as of most legs: the reasons are looked for where it is not."""
    guidance = leg.part.guidance
    if (guidance is not None and guidance.set_course_deg is None) or conditions.off is None:
        return False
    card = conditions.aircraft is not None and conditions.aircraft.compass is not None
    figures = (leg.magnetic_heading_deg, leg.elapsed_min, leg.fuel_used, leg.fuel_remaining, conditions.fuel_unit.gal)
    return not card and None not in figures


def _unknowns(leg: Leg, conditions: Conditions) -> Iterator[Unknown]:
    """Why numbers of the leg are not known, by JSON key."""
    if leg.stays:
        # Course, triangle and way do not apply at a place.
        yield from _carried_unknowns(leg, conditions)
        return
    if leg.true_course_deg is None:
        reason = "no positions, and no set course with a known north"
        yield from (Unknown(key, reason) for key in ("true_course_deg", "magnetic_course_deg"))
    elif leg.variation_deg is None:
        yield Unknown("magnetic_course_deg", f"no variation: {why_no_variation(leg)}")
    guidance = leg.part.guidance
    if guidance is not None and guidance.radial.flown is None and not _overhead(leg):
        reason = f"{guidance.station.ident} has no charted radial and no known declination or position here"
        yield from (Unknown(key, reason) for key in ("guidance.radial_deg", "guidance.set_course_deg"))
    yield from _triangle_unknowns(leg, conditions)
    yield from _carried_unknowns(leg, conditions)


def _overhead(leg: Leg) -> bool:
    """Whether the leg is an airport beside its station, where there is no course to set."""
    guidance = leg.part.guidance
    # Within a mile a radial computed from positions of a hundredth of a minute swings by a degree.
    return guidance is not None and guidance.radial.charted is None and leg.stretch.length_nm <= 1.0


def _triangle_unknowns(leg: Leg, conditions: Conditions) -> Iterator[Unknown]:
    """Why heading, groundspeed and time are not known."""
    if leg.triangle is not None and leg.triangle.unflyable is not None:
        keys = (
            "wind_correction_deg",
            "true_heading_deg",
            "magnetic_heading_deg",
            "groundspeed_kt",
            "time_min",
        )
        yield from (Unknown(key, leg.triangle.unflyable, impossible=True) for key in keys)
    elif leg.triangle is None:
        reason = _missing_for_triangle(leg, conditions)
        keys = (*(() if leg.wind is not None else ("wind",)), *_WIND_KEYS[1:], "time_min")
        yield from (Unknown(key, reason) for key in keys)
    elif leg.magnetic_heading_deg is None:
        yield Unknown("magnetic_heading_deg", f"no variation: {why_no_variation(leg)}")
    elif leg.deviation_deg is None and conditions.aircraft is not None and conditions.aircraft.compass is not None:
        reason = "the compass card says nothing near this heading"
        yield from (Unknown(key, reason) for key in ("deviation_deg", "compass_heading_deg"))


def _carried_unknowns(leg: Leg, conditions: Conditions) -> Iterator[Unknown]:
    """Why clock and fuel are not known; of most legs they are."""
    if leg.elapsed_min is None or conditions.off is None:
        yield from _clock_unknowns(leg, conditions)
    if None in (leg.fuel_used, leg.fuel_remaining, conditions.fuel_unit.gal):
        yield from _fuel_unknowns(leg, conditions)


def _clock_unknowns(leg: Leg, conditions: Conditions) -> Iterator[Unknown]:
    """Why the clock at the leg's end is not known."""
    if leg.elapsed_min is None:
        reason = (
            "the time of this leg is not known" if leg.time_min is None else "the time of an earlier leg is not known"
        )
        yield Unknown("elapsed_min", reason)
        yield Unknown("eta", reason)
    elif conditions.off is None:
        yield Unknown("eta", NO_OFF)


def _missing_for_triangle(leg: Leg, conditions: Conditions) -> str:
    """What the wind triangle lacks."""
    if conditions.winds is None:
        return "no wind given"
    if leg.wind is None:
        return "the winds given hold at places, and this leg has no position"
    return "no true course" if leg.true_course_deg is None else "no true airspeed"


def _fuel_unknowns(leg: Leg, conditions: Conditions) -> Iterator[Unknown]:
    """Why fuel is not known."""
    if leg.fuel_used is None:
        reason = "the time of this leg is not known"
        if leg.time_min is not None:
            given = conditions.aircraft is not None and leg.phase in (Phase.CLIMB, Phase.DESCENT)
            reason = f"the aircraft file gives no burn in {leg.phase.value}" if given else "no `burn` given"
        yield Unknown("fuel_used_gal", reason)
    elif conditions.fuel_unit.gal is None:
        yield Unknown("fuel_used_gal", f"fuel is in {conditions.fuel_unit.name} and no density is given")
    if leg.fuel_taken is not None and conditions.fuel_unit.gal is None:
        yield Unknown("fuel_taken_gal", f"fuel is in {conditions.fuel_unit.name} and no density is given")
    if leg.fuel_remaining is None:
        reason = NO_FUEL if conditions.on_board is None else "fuel used so far is not known"
        yield Unknown("fuel_remaining_gal", reason)
    elif conditions.fuel_unit.gal is None:
        yield Unknown("fuel_remaining_gal", f"fuel is in {conditions.fuel_unit.name} and no density is given")
