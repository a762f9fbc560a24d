"""The wind that groundspeeds made good mean, as what must be added to the forecast.

With the course held on the needle, one groundspeed tells the headwind part alone. The whole wind takes the heading
that held the course, or two parts whose courses differ by 30 degrees or more: then only one wind, of two that fit,
lies near the forecast.
"""

from __future__ import annotations

from math import cos, radians

from msgspec import Struct

from navlog.flightlog.records import Conditions, Leg, Log, Unknown
from navlog.nav.angles import difference_deg
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.nav.wind import (
    CALM,
    Side,
    Wind,
    WindColumn,
    WindLevel,
    added,
    complete,
    solve_sides,
    track_from_heading,
    wind_from_track,
)
from navlog.studies.revision_timing import CLOCK_MIN, DOUBTFUL_KT, Mean, PartFlown
from navlog.studies.whatif import shifted

_LEAST_APART_DEG = 30.0
"""Courses nearer to one line than this, either way along it, tell too little of the wind across."""

_MATTERS_KT = 10.0
"""A change across the course up to this turns a heading by 6 degrees at 100 kt: asin(10/100)."""

_EVERY_HEIGHT_FT = (-2_000.0, 100_000.0)

_WIND_KEYS = ("wind", "wind_correction_deg", "true_heading_deg", "magnetic_heading_deg")


class WindFound(Struct, frozen=True):
    """The wind over the last part that tells one, and its difference from the forecast there.

    `whole` is False where only the headwind part is known, and the crosswind is the forecast's, or not known without
    a `forecast`, where `more` is the difference from calm. `method` says in words how it was found. Where the clock
    cannot tell the wind from the forecast, `more` is calm. `contradicted` is the wind of a heading held before, that is
    not used as groundspeeds after it tell another.
    """

    wind: Wind
    forecast: Wind | None
    more: Wind
    whole: bool
    method: str
    contradicted: WindFound | None = None

    @property
    def headwind_alone(self) -> bool:
        """Whether the headwind part along the course flown is all that is known of the wind."""
        return self.forecast is None and not self.whole

    @property
    def doubtful(self) -> bool:
        """Whether the forecast is changed by more than forecasts are usually off."""
        return self.more.speed_kt > DOUBTFUL_KT

    def is_guess_on(self, true_course_deg: float) -> bool:
        """Whether a course crosses the only direction along which a wind, or a change that matters, was found."""
        apart_deg = abs(difference_deg(true_course_deg, self.more.from_true_deg))
        across = _LEAST_APART_DEG <= apart_deg <= 180.0 - _LEAST_APART_DEG
        return across and not self.whole and (self.forecast is None or self.more.speed_kt > _MATTERS_KT)


def wind_found(parts: tuple[PartFlown, ...]) -> WindFound | None:
    """The wind by the latest parts flown; None where none of them tells."""
    telling = [part for part in parts if part.headwind_kt is not None]
    held = [part for part in telling if part.passed.true_heading_deg is not None]
    if not held:
        return _by_groundspeeds(parts, telling) if telling else None
    # A heading that held the course tells the whole wind by itself, so it goes before any pair of parts.
    found = _by_heading(held[-1])
    if all(_agrees(found, held[-1], part) for part in telling[telling.index(held[-1]) + 1 :]):
        return found
    return changed(_by_groundspeeds(parts, telling), contradicted=found)


def _by_heading(part: PartFlown) -> WindFound:
    """The wind by the heading that held a part's course."""
    mean, name = _mean_of(part), part.passed.name
    wind = wind_from_track(
        true_heading_deg=complete(part.passed.true_heading_deg),
        tas_kt=mean.tas_kt,
        true_track_deg=mean.true_course_deg,
        groundspeed_kt=complete(part.groundspeed_kt),
    )
    more = added(wind, _backward(mean.wind))
    return WindFound(wind, _forecast_of(part), more, True, "the heading that held the course to " + name)


def _agrees(found: WindFound, held: PartFlown, later: PartFlown) -> bool:
    """Whether a wind found makes the headwind part of a later part, within half a minute of the clock in each."""
    course_deg = _mean_of(later).true_course_deg
    more_kt = found.more.speed_kt * cos(radians(found.more.from_true_deg - course_deg))
    off_kt = complete(later.headwind_kt) - complete(later.forecast_kt) - more_kt
    return abs(off_kt) <= complete(later.error_kt) + complete(held.error_kt)


def _by_groundspeeds(parts: tuple[PartFlown, ...], telling: list[PartFlown]) -> WindFound:
    """The wind by the groundspeeds of the parts that tell, the latest before all."""
    latest, mean = telling[-1], _mean_of(telling[-1])
    name = latest.passed.name
    # Within what the clock can tell nothing was found: a wind made of rounding would move every time ahead.
    if _kept_time(parts):
        method = "the times, each within half a minute of the plan"
        return WindFound(mean.wind, _forecast_of(latest), CALM, False, method)
    for other in reversed(telling[:-1]):
        apart_deg = abs(difference_deg(_mean_of(other).true_course_deg, mean.true_course_deg))
        if _LEAST_APART_DEG <= apart_deg <= 180.0 - _LEAST_APART_DEG:
            more = _from_two(latest, other)
            if more is not None:
                method = f"the groundspeeds to {other.passed.name} and {name}, {apart_deg:.0f} degrees apart"
                return WindFound(added(mean.wind, more), _forecast_of(latest), more, True, method)
            break
    more_kt = complete(latest.headwind_kt) - complete(latest.forecast_kt)
    # All of the difference along the course, since nothing tells the part across it.
    from_deg = mean.true_course_deg if more_kt >= 0.0 else mean.true_course_deg + 180.0
    more = Wind(from_deg, abs(more_kt))
    forecast = _forecast_of(latest)
    across = "the forecast's" if forecast is not None else "not known"
    method = f"the headwind part to {name}; the crosswind is {across}"
    return WindFound(added(mean.wind, more), forecast, more, False, method)


def _kept_time(parts: tuple[PartFlown, ...]) -> bool:
    """Whether the plan was kept at every point, but for the rounding of the clock, from each take-off or hold on."""
    late_min = 0.0
    for part in parts:
        if part.groundspeed_kt is None:
            late_min = 0.0
            continue
        if part.planned_min is None:
            return False
        late_min += part.time_min - part.planned_min
        if abs(late_min) > CLOCK_MIN - 1e-6:
            return False
    return True


def _forecast_of(part: PartFlown) -> Wind | None:
    """The forecast wind of a part, for which calm stands in its mean where none is given."""
    return _mean_of(part).wind if part.forecast_given else None


def _mean_of(part: PartFlown) -> Mean:
    """The means of a part that has them."""
    assert part.mean is not None
    return part.mean


def _backward(wind: Wind) -> Wind:
    """The wind from the other side."""
    return Wind(wind.from_true_deg + 180.0, wind.speed_kt)


def _from_two(latest: PartFlown, other: PartFlown) -> Wind | None:
    """What must be added to the forecast so that both groundspeeds come out; None where no wind does it.

    Less the forecast's drift, each ground vector is an air vector of known length less the wind sought, so the two
    air vectors and the difference of the ground vectors make a triangle of known sides. Of its two solutions
    the one nearer to the forecast counts.
    """
    still_deg, still_kt = _without_drift(latest)
    other_deg, other_kt = _without_drift(other)
    try:
        apart_deg, apart_kt = track_from_heading(
            true_heading_deg=still_deg, tas_kt=still_kt, wind=Wind(other_deg, other_kt)
        )
        solutions = solve_sides(
            Side("apart", -1.0, apart_deg, apart_kt),
            Side("air", 1.0, None, _mean_of(latest).tas_kt),
            Side("other air", -1.0, None, _mean_of(other).tas_kt),
        )
    except NavlogError:
        return None
    winds = [
        wind_from_track(
            true_heading_deg=complete(air.direction_deg),
            tas_kt=complete(air.speed_kt),
            true_track_deg=still_deg,
            groundspeed_kt=still_kt,
        )
        for air, _ in solutions
    ]
    # Of the two that fit, the smaller change: forecasts are off by some knots, seldom by a whole wind.
    return min(winds, key=lambda wind: wind.speed_kt, default=None)


def _without_drift(part: PartFlown) -> tuple[float, float]:
    """The ground vector of a part, less what the forecast wind does to it: direction and speed."""
    mean = _mean_of(part)
    return track_from_heading(
        true_heading_deg=mean.true_course_deg, tas_kt=complete(part.groundspeed_kt), wind=_backward(mean.wind)
    )


def conditions_with(conditions: Conditions, wind: WindFound | None) -> Conditions:
    """The conditions with the difference found added to every forecast wind, at every height and place."""
    forecast = conditions.winds
    # Without a forecast what was found is the only wind there is, a calm too.
    if wind is None or (not wind.more.speed_kt and forecast is not None):
        return conditions
    if forecast is None:
        forecast = (WindColumn(tuple(WindLevel(height_ft, CALM) for height_ft in _EVERY_HEIGHT_FT)),)
    return changed(conditions, winds=shifted(forecast, wind.more.from_true_deg, wind.more.speed_kt))


def without_headings(rest: Log, wind: WindFound | None) -> Log:
    """What lies ahead with no wind and no heading in its legs where a headwind part alone is known; times stay."""
    if wind is None or not wind.headwind_alone:
        return rest
    return changed(rest, legs=tuple(_without_heading(leg) for leg in rest.legs))


def _without_heading(leg: Leg) -> Leg:
    """A leg with no wind and no heading; one that the headwind stops, or that has none anyway, as it is."""
    if leg.triangle is None or leg.triangle.unflyable is not None:
        return leg
    missing = tuple(Unknown(key, "a headwind part alone is known of the wind") for key in _WIND_KEYS)
    return changed(
        leg,
        wind=None,
        triangle=None,
        magnetic_heading_deg=None,
        deviation_deg=None,
        compass_heading_deg=None,
        unknown=(*(one for one in leg.unknown if one.key not in _WIND_KEYS), *missing),
    )
