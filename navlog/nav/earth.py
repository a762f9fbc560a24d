"""Geodesics on the WGS84 ellipsoid: distance, course, places along a line, and where two radials meet.

Courses are true degrees in [0, 360), distances nautical miles. The geodesics are those of C. F. F. Karney,
"Algorithms for geodesics", Journal of Geodesy 87 (2013), through PROJ. This is the only importer of pyproj.
Its order of longitude before latitude, azimuths in -180 to 180, back azimuths, and silent NaN or course 180
for input that has no answer end here.
"""

from __future__ import annotations

import math
from functools import cache
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.nav.angles import difference_deg, normalize_deg, sin_cos_deg
from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.remembered import Remembered
from navlog.nav.units import NAUTICAL_MILE_M

if TYPE_CHECKING:
    from pyproj import Geod

_REMEMBERED = 16_384
"""Lines between places: rules and marks ask for the same ones again, and look-up is 30 times faster."""

# Two metres: no two places of a chart are so near, and an azimuth over it is still good to a thousandth of a degree.
COINCIDENT_NM = 0.001
_FARTHEST_CROSSING_NM = 500.0
# Under this angle no receiver could tell the two lines apart.
_SMALLEST_CUT_DEG = 0.1
# 2 micrometres: above the 15 nanometres of the geodesic itself, below any figure of ours.
_CLOSED_NM = 1e-9
# The mean radius of WGS84, for first estimates only.
_EARTH_RADIUS_NM = 6_371_008.8 / NAUTICAL_MILE_M


class Inverse(Struct, frozen=True, gc=False):
    """The geodesic between two points: its length, and the course flown at its start and at its end."""

    distance_nm: float
    course_deg: float
    end_course_deg: float


class _Crossing(Struct, frozen=True):
    """Where two radials meet, how far from each station, and at which angle (0 to 90 degrees)."""

    position: Position
    first_distance_nm: float
    second_distance_nm: float
    cut_deg: float


def inverse(start: Position, end: Position) -> Inverse:
    """The geodesic from `start` to `end`.

    Raises a `coincident-points` problem for points nearer than 0.001 NM, between which there is no course.
    """
    return _apart(_LINES[start, end])


def inverse_once(start: Position, end: Position) -> Inverse:
    """The same for a caller that remembers what it makes of it: the line is not kept here too."""
    return _apart(measured(start, end))


def _apart(line: Inverse) -> Inverse:
    if line.distance_nm < COINCIDENT_NM:
        raise problem_error(
            "coincident-points",
            "two points at the same place have no course between them",
            hint="leave one of the two out, or correct its position",
        )
    return line


def distance_nm(start: Position, end: Position) -> float:
    """The length of the geodesic between two points, 0 at the same place."""
    return _DISTANCES_NM[start, end]


def direct(start: Position, course_deg: float, distance_nm: float) -> Position:
    """The place `distance_nm` from `start` on the geodesic that leaves it on `course_deg`."""
    return travel(start, course_deg, distance_nm)[0]


def point_along(start: Position, end: Position, distance_nm: float) -> tuple[Position, float]:
    """The place `distance_nm` from `start` on the way to `end`, and the course flown there.

    Negative distances lie before the start and large ones beyond the end. Raises `coincident-points`.
    """
    return _PLACES[start, end, distance_nm]


def _point_along(start: Position, end: Position, distance_nm: float) -> tuple[Position, float]:
    return travel(start, inverse_once(start, end).course_deg, distance_nm)


def offset(start: Position, end: Position, place: Position) -> tuple[float, float]:
    """Where a place lies from a course: miles along it from `start`, and right of it, to 1e-9 NM; left is negative.

    Along is where the geodesic from the place meets the course, produced both ways, at a right angle. Raises
    `coincident-points`, and `no-crossing` for a place a quarter of the earth away or more.
    """
    course_deg = inverse(start, end).course_deg
    along_nm = 0.0
    # Each pass shrinks the miss some hundred times: 3 passes within 100 NM, 6 within 3,000 (measured).
    for _ in range(20):
        here, there_deg = travel(start, course_deg, along_nm)
        seen = measured(here, place)
        sine, cosine = sin_cos_deg(seen.course_deg - there_deg)
        away = seen.distance_nm / _EARTH_RADIUS_NM
        # Napier's rule for the foot of the perpendicular on a sphere: near enough to close in on the geodesic's.
        ahead_nm = math.atan2(math.tan(away) * cosine, 1.0) * _EARTH_RADIUS_NM
        # The tangent turns its sign at a quarter of the earth: the foot would be sought on the far side.
        if away >= math.pi / 2.0:
            break
        if abs(ahead_nm) < _CLOSED_NM:
            # Once the foot is found the place lies square to the course, so the whole distance is aside.
            return along_nm, math.copysign(seen.distance_nm, sine)
        along_nm += ahead_nm
    raise problem_error("no-crossing", "the place is too far from the course to say where it lies from it")


def crossing(first: Position, first_course_deg: float, second: Position, second_course_deg: float) -> _Crossing:
    """Where the radials leaving `first` and `second` on these true courses meet, to 1e-6 NM.

    Both are half-lines: they must meet ahead of both stations, at an angle of 0.1 degrees or more and within
    500 NM of each. Otherwise raises a `no-crossing` problem that says why not.
    """
    _check_finite(first_course_deg, second_course_deg)
    if measured(first, second).distance_nm < COINCIDENT_NM:
        raise _no_crossing("both radials start from the same place")
    ahead_nm = _spherical_crossing(first, first_course_deg, second, second_course_deg)
    for _ in range(20):
        # On the way to a crossing within the limit the search may overshoot, never by so much.
        if max(map(abs, ahead_nm)) > 4.0 * _FARTHEST_CROSSING_NM:
            break
        on_first, first_there_deg = travel(first, first_course_deg, ahead_nm[0])
        on_second, second_there_deg = travel(second, second_course_deg, ahead_nm[1])
        gap = measured(on_first, on_second)
        # The second course is carried back along the gap, so that meridians may converge near a pole.
        second_there_deg += gap.course_deg - gap.end_course_deg
        if gap.distance_nm < _CLOSED_NM:
            return _judged(on_first, ahead_nm, abs(difference_deg(second_there_deg, first_there_deg)))
        # Newton's method in the plane that touches the earth at `on_first`.
        sine, _ = sin_cos_deg(second_there_deg - first_there_deg)
        # A tenth of the limit: what is near it is judged at the crossing itself, where meridians have converged.
        if abs(sine) < 0.1 * math.radians(_SMALLEST_CUT_DEG):
            raise _no_crossing("the two radials are parallel")
        ahead_nm = (
            ahead_nm[0] + gap.distance_nm * sin_cos_deg(second_there_deg - gap.course_deg)[0] / sine,
            ahead_nm[1] + gap.distance_nm * sin_cos_deg(first_there_deg - gap.course_deg)[0] / sine,
        )
    raise _too_far()


def _judged(position: Position, ahead_nm: tuple[float, float], angle_deg: float) -> _Crossing:
    """The crossing found, if it lies where two radials can cross."""
    first_nm, second_nm = ahead_nm
    cut_deg = min(angle_deg, 180.0 - angle_deg)
    # First of all: where lines are nearly parallel, ahead and behind are decided by rounding.
    if cut_deg < _SMALLEST_CUT_DEG:
        raise _no_crossing("the two radials are parallel")
    behind_first, behind_second = first_nm < COINCIDENT_NM, second_nm < COINCIDENT_NM
    if behind_first and behind_second:
        raise _no_crossing("the two radials diverge: they would meet behind both stations")
    if behind_first or behind_second:
        which = "first" if behind_first else "second"
        raise _no_crossing(f"the two radials would meet at or behind the {which} station, not ahead of it")
    if max(first_nm, second_nm) > _FARTHEST_CROSSING_NM:
        raise _too_far()
    return _Crossing(position, first_nm, second_nm, cut_deg)


def _spherical_crossing(
    first: Position, first_course_deg: float, second: Position, second_course_deg: float
) -> tuple[float, float]:
    """The same crossing on a sphere, as signed distances from both stations: where to begin the search."""
    first_up, first_ahead = _frame(first, first_course_deg)
    second_up, second_ahead = _frame(second, second_course_deg)
    # Each great circle lies in a plane through the centre; their normals, crossed, point along the line of both planes.
    meeting = _cross(_cross(first_up, first_ahead), _cross(second_up, second_ahead))
    # Two great circles meet twice; the search begins at the meeting on the stations' side of the earth.
    side = math.copysign(1.0, _dot(meeting, first_up) + _dot(meeting, second_up))
    angles = (
        math.atan2(side * _dot(meeting, first_ahead), side * _dot(meeting, first_up)),
        math.atan2(side * _dot(meeting, second_ahead), side * _dot(meeting, second_up)),
    )
    return angles[0] * _EARTH_RADIUS_NM, angles[1] * _EARTH_RADIUS_NM


_Vector = tuple[float, float, float]


def _frame(position: Position, course_deg: float) -> tuple[_Vector, _Vector]:
    """Unit vectors from the earth's centre: up at `position`, and ahead on the course from there."""
    (sin_lat, cos_lat), (sin_lon, cos_lon) = map(sin_cos_deg, (position.latitude_deg, position.longitude_deg))
    east, north = sin_cos_deg(course_deg)
    up = (cos_lat * cos_lon, cos_lat * sin_lon, sin_lat)
    ahead = (
        -north * sin_lat * cos_lon - east * sin_lon,
        -north * sin_lat * sin_lon + east * cos_lon,
        north * cos_lat,
    )
    return up, ahead


def _cross(a: _Vector, b: _Vector) -> _Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _dot(a: _Vector, b: _Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


@cache
def _geod() -> Geod:
    from pyproj import Geod

    return Geod(ellps="WGS84")


def measured(start: Position, end: Position) -> Inverse:
    """The geodesic between two points that may coincide, not remembered; its courses mean nothing then."""
    course_deg, end_course_deg, distance_m = _geod().inv(
        start.longitude_deg,
        start.latitude_deg,
        end.longitude_deg,
        end.latitude_deg,
        # PROJ would else give the azimuth back to the start; wanted is the course flown at the end.
        return_back_azimuth=False,
    )
    return Inverse(distance_m / NAUTICAL_MILE_M, normalize_deg(course_deg), normalize_deg(end_course_deg))


def _distance_nm(start: Position, end: Position) -> float:
    return measured(start, end).distance_nm


_LINES: Remembered[tuple[Position, Position], Inverse] = Remembered(measured, _REMEMBERED)
_DISTANCES_NM: Remembered[tuple[Position, Position], float] = Remembered(_distance_nm, _REMEMBERED)
_PLACES: Remembered[tuple[Position, Position, float], tuple[Position, float]] = Remembered(_point_along, _REMEMBERED)


def travel(start: Position, course_deg: float, distance_nm: float) -> tuple[Position, float]:
    """The place `distance_nm` from `start` on that course, and the course flown there."""
    _check_finite(course_deg, distance_nm)
    longitude_deg, latitude_deg, end_course_deg = _geod().fwd(
        start.longitude_deg,
        start.latitude_deg,
        course_deg,
        distance_nm * NAUTICAL_MILE_M,
        return_back_azimuth=False,
    )
    # A negative distance runs back along the course, and PROJ still gives the course as flown from start to end.
    return Position(latitude_deg, longitude_deg), normalize_deg(end_course_deg)


def _check_finite(*numbers: float) -> None:
    if not all(map(math.isfinite, numbers)):
        raise problem_error("bad-value", "a course or distance is not a finite number")


def _no_crossing(why: str) -> NavlogError:
    return problem_error("no-crossing", why, hint="check both radials and which station each belongs to")


def _too_far() -> NavlogError:
    return _no_crossing(f"the two radials do not meet within {_FARTHEST_CROSSING_NM:g} NM of both stations")
