"""Where a fix is, and how well its radials mark it.

Radials count from each station's own declination; distances are over the ground unless they are a DME's.
"""

from __future__ import annotations

from math import sqrt

from msgspec import Struct

from navlog.computations.amounts import degrees
from navlog.computations.answer import Solution
from navlog.nav import earth, radio
from navlog.nav.accuracy import FAA, Accuracy
from navlog.nav.angles import difference_deg, position_text, sin_cos_deg
from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.figures import course, distance, half_up, plain
from navlog.nav.guidance import true_bearing_deg
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.workings import Working
from navlog.request.records import FixDefinition
from navlog.request.stationlist import named

_SHALLOW_CUT_DEG = 45.0
_POOR_CUT_DEG = 30.0
"""Where a cut is called shallow, and poor (common practice, no source)."""


class _RadialLine(Struct, frozen=True):
    """One radial that makes a fix: the station's distance over the ground, and the fix's shift by an error.

    `shift_nm` is how far the bearing error moves the fix: along the other radial, or across this one where
    the fix is a radial and a distance. `dme_nm` is what the DME reads at the height given.
    """

    ident: str
    radial_deg: float
    true_bearing_deg: float
    distance_nm: float
    dme_nm: float | None
    height_above_station_ft: float | None
    shift_nm: float


class _FixAnswer(Struct, frozen=True):
    """A fix by two radials (`cut_deg` is set) or by a radial and a distance.

    `error_nm` is the farthest that the fix lies off when every radial is off by `bearing_error_deg`, and the
    DME, where it makes the fix, by `dme_error_nm`; None where radials that are off by so much need not cross at all.
    """

    position: Position
    lines: tuple[_RadialLine, ...]
    cut_deg: float | None
    bearing_error_deg: float
    dme_error_nm: float | None
    error_nm: float | None
    altitude_ft: float | None


def solve(
    definition: FixDefinition,
    stations: tuple[Station, ...],
    *,
    bearing_error_deg: float = 1.0,
    altitude_ft: float | None = None,
    accuracy: Accuracy = FAA,
) -> _FixAnswer:
    """The place that two radials, or a radial and a distance, define.

    A DME reading is reduced to the ground by the station's elevation (ICAO Doc 8168). Raises `no-crossing`
    where the radials never meet, `impossible-dme`, and a problem for what a station lacks.
    """
    if not 0.0 <= bearing_error_deg < 45.0:
        raise problem_error("bad-value", f"a bearing error of {plain(bearing_error_deg)} degrees is out of range")
    if definition.dme_altitude_ft is not None:
        altitude_ft = definition.dme_altitude_ft
    if len(definition.radials) == 2:
        return _crossed(definition, stations, bearing_error_deg, altitude_ft)
    ((name, radial_deg),) = definition.radials
    station = named(name, stations)
    place, bearing_deg = _placed(station), _bearing(station, radial_deg)
    distance_nm = _ground_nm(definition, station)
    position = earth.direct(place, bearing_deg, distance_nm)
    shift_nm = distance_nm * sin_cos_deg(bearing_error_deg)[0]
    by_dme = definition.dme_altitude_ft is not None
    dme_error_nm = accuracy.dme_nm(definition.distance_nm or 0.0) if by_dme else None
    line = _line(station, radial_deg, bearing_deg, distance_nm, altitude_ft, shift_nm)
    error_nm = sqrt(shift_nm**2 + (dme_error_nm or 0.0) ** 2)
    return _FixAnswer(position, (line,), None, bearing_error_deg, dme_error_nm, error_nm, altitude_ft)


def _workings(found: _FixAnswer) -> tuple[Working, ...]:
    """True bearings, DME to ground, cut angle and error."""
    steps = [
        Working(
            f"true bearing from {line.ident}",
            "radial + station declination",
            f"{line.radial_deg:g} + ({difference_deg(line.true_bearing_deg, line.radial_deg):+g})",
            f"{line.true_bearing_deg:.1f}T",
            "FAA NASR: published courses are azimuth less the station's declination",
        )
        for line in found.lines
    ]
    if found.cut_deg is None:
        steps += _radial_and_distance_steps(found, found.lines[0])
        return tuple(steps)
    first, second = found.lines
    for line, other in ((first, second), (second, first)):
        steps.append(
            Working(
                f"shift by an error at {line.ident}, along {other.ident}'s radial",
                "distance x sin(error) / sin(cut)",
                f"{line.distance_nm:.1f} x sin({found.bearing_error_deg:g}) / sin({found.cut_deg:.0f})",
                f"{line.shift_nm:.2f} NM",
                "geometry",
            )
        )
    steps.append(
        Working(
            "both errors at their worst",
            "the farthest crossing of both radials, each turned by the error to either side, on the plane",
            f"{first.distance_nm:.1f} and {second.distance_nm:.1f} NM, cut {found.cut_deg:.0f}, turned by"
            f" {found.bearing_error_deg:g}",
            "need not cross" if found.error_nm is None else f"{found.error_nm:.2f} NM",
            "geometry",
        )
    )
    return tuple(steps)


def _radial_and_distance_steps(found: _FixAnswer, line: _RadialLine) -> list[Working]:
    steps = []
    if line.dme_nm is not None and line.height_above_station_ft is not None:
        height = f"{line.height_above_station_ft:.0f} ft / 6,076"
        steps.append(
            Working(
                "DME reading and ground distance",
                "reading^2 = ground distance^2 + height above the station^2",
                f"{line.dme_nm:.2f}^2 = {line.distance_nm:.2f}^2 + ({height})^2",
                f"{line.distance_nm:.1f} NM over the ground",
                "ICAO Doc 8168, Volume II, I-4-3, appendix C",
            )
        )
    steps.append(
        Working(
            "shift across the radial",
            "distance x sin(error)",
            f"{line.distance_nm:.1f} x sin({found.bearing_error_deg:g})",
            f"{line.shift_nm:.2f} NM",
            "geometry",
        )
    )
    return steps


def _crossed(
    definition: FixDefinition, stations: tuple[Station, ...], error_deg: float, altitude_ft: float | None
) -> _FixAnswer:
    (first_name, first_deg), (second_name, second_deg) = definition.radials
    first, second = named(first_name, stations), named(second_name, stations)
    first_true, second_true = _bearing(first, first_deg), _bearing(second, second_deg)
    met = earth.crossing(_placed(first), first_true, _placed(second), second_true)
    sine, _ = sin_cos_deg(met.cut_deg)
    first_shift, second_shift = (
        distance_nm * sin_cos_deg(error_deg)[0] / sine
        for distance_nm in (met.first_distance_nm, met.second_distance_nm)
    )
    lines = (
        _line(first, first_deg, first_true, met.first_distance_nm, altitude_ft, first_shift),
        _line(second, second_deg, second_true, met.second_distance_nm, altitude_ft, second_shift),
    )
    away_nm = met.first_distance_nm, met.second_distance_nm
    # The cut is the smaller angle; where the stations lie on both sides of the fix the radials meet at the other.
    apart_nm = earth.distance_nm(_placed(first), _placed(second))
    obtuse = apart_nm**2 > away_nm[0] ** 2 + away_nm[1] ** 2
    error_nm = _farthest_nm(away_nm, 180.0 - met.cut_deg if obtuse else met.cut_deg, error_deg)
    return _FixAnswer(met.position, lines, met.cut_deg, error_deg, None, error_nm, altitude_ft)


def _farthest_nm(away_nm: tuple[float, float], met_deg: float, error_deg: float) -> float | None:
    """How far off two radials cross that are each turned by the error, the farthest of four; None where they may not.

    On the plane that touches the fix: the first radial leads along its first axis.
    """
    if 2.0 * error_deg >= min(met_deg, 180.0 - met_deg):
        return None
    sine, cosine = sin_cos_deg(met_deg)
    across, along = -away_nm[1] * sine, away_nm[0] - away_nm[1] * cosine
    farthest_nm = 0.0
    for first_deg in (-error_deg, error_deg):
        for second_deg in (met_deg - error_deg, met_deg + error_deg):
            (first_sine, first_cosine), (second_sine, second_cosine) = map(sin_cos_deg, (first_deg, second_deg))
            # From the first station to the crossing: the other's place, seen along both radials as turned.
            flown_nm = (along * second_sine - across * second_cosine) / sin_cos_deg(second_deg - first_deg)[0]
            off = flown_nm * first_cosine - away_nm[0], flown_nm * first_sine
            farthest_nm = max(farthest_nm, sqrt(off[0] ** 2 + off[1] ** 2))
    return farthest_nm


def _line(
    station: Station,
    radial_deg: float,
    bearing_deg: float,
    distance_nm: float,
    altitude_ft: float | None,
    shift_nm: float,
) -> _RadialLine:
    height_ft = height_above_ft(station, altitude_ft)
    dme_nm = radio.slant_nm(distance_nm, height_ft) if station.dme and height_ft is not None else None
    return _RadialLine(station.ident, radial_deg, bearing_deg, distance_nm, dme_nm, height_ft, shift_nm)


def height_above_ft(station: Station, altitude_ft: float | None) -> float | None:
    """How far above the station an altitude lies; None where either is unknown."""
    if altitude_ft is None or station.elevation_ft is None:
        return None
    return altitude_ft - station.elevation_ft


def _ground_nm(definition: FixDefinition, station: Station) -> float:
    distance_nm = definition.distance_nm
    assert distance_nm is not None
    if definition.dme_altitude_ft is None:
        return distance_nm
    height_ft = height_above_ft(station, definition.dme_altitude_ft)
    if height_ft is None:
        raise _lacks(station, "elevation", "give its elev, or the distance over the ground without `dme`")
    return radio.ground_nm(distance_nm, height_ft)


def _placed(station: Station) -> Position:
    if station.position is None:
        raise _lacks(station, "position", "give its position after the frequency")
    return station.position


def _bearing(station: Station, radial_deg: float) -> float:
    if station.kind is not StationKind.VOR:
        raise problem_error("no-radial", f"`{station.ident}` is no VOR and has no radials")
    bearing_deg = true_bearing_deg(station, radial_deg)
    if bearing_deg is None:
        raise _lacks(station, "declination", "give its decl, such as decl 15W")
    return bearing_deg


def _lacks(station: Station, what: str, hint: str) -> NavlogError:
    return problem_error(f"no-{what}", f"`{station.ident}` has no known {what}", hint=hint)


def _lines(found: _FixAnswer) -> tuple[str, ...]:
    """Where it is, from which radials, how well it is marked."""
    told = [position_text(found.position), "; ".join(_line_text(line) for line in found.lines)]
    moved = f"a bearing error of {degrees(found.bearing_error_deg)} moves it"
    if found.cut_deg is not None:
        told.append(f"cut {half_up(found.cut_deg)} degrees{_cut(found.cut_deg)}")
        each = ", ".join(f"{line.ident}'s by {line.shift_nm:.2f}" for line in found.lines)
        if found.error_nm is None:
            told.append(f"{moved} by more than can be told: so far off the radials need not cross ({each})")
        else:
            told.append(f"{moved} by up to {found.error_nm:.2f} NM ({each})")
    else:
        told.append(f"{moved} {found.lines[0].shift_nm:.2f} NM across")
        if found.dme_error_nm is not None:
            told.append(f"the DME may be off by {found.dme_error_nm:.2f} NM; both together {found.error_nm:.2f} NM")
    return tuple(told)


def answer(found: _FixAnswer) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found))


def _line_text(line: _RadialLine) -> str:
    dme = "" if line.dme_nm is None else f" (DME {distance(line.dme_nm)})"
    return f"{line.ident} radial {course(line.radial_deg)}, {distance(line.distance_nm)} NM{dme}"


def _cut(cut_deg: float) -> str:
    if cut_deg < _POOR_CUT_DEG:
        return ", poor"
    return ", shallow" if cut_deg < _SHALLOW_CUT_DEG else ""
