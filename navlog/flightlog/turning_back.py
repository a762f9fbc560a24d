"""Turning back: time and fuel home from each point by the way flown, and where on and home take as long.

Home is the field of the last take-off. The way back is flown in cruise at the height at which it is turned to, in the
wind of each part of it; no descent is counted.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from navlog.flightlog.legs import minus
from navlog.flightlog.performance import air_at, cruise, fuel_in_time
from navlog.flightlog.records import Conditions, Leg, Log, Phase
from navlog.flightlog.track import course_at
from navlog.nav.angles import reciprocal_deg
from navlog.nav.guidance import Flag, Guidance
from navlog.nav.wind import triangle
from navlog.resolve.route import PointKind

CRITICAL_POINT_SOURCE = (
    "distance x GS home / (GS home + GS on), USAF AFM 51-40, leg by leg in cruise: no climb, descent or hold is counted"
)
"""Of one leg in one wind; over several the times of each leg are added up."""


class WayHome(Struct, frozen=True):
    """The way home from the end of a leg: how far, how long, and how it begins.

    `fuel` and `fuel_left` at home are in the log's unit, None where unknown, as is `time_min`. `guidance` is the
    station of the leg flown with the needle the other way, None where none guided it; the heading is that of the
    first part of the way back.
    """

    home: str
    leg: Leg
    distance_nm: float
    time_min: float | None
    fuel: float | None
    fuel_left: float | None
    guidance: Guidance | None
    magnetic_heading_deg: float | None


class _CriticalPoint(Struct, frozen=True):
    """The point from which a field behind and one ahead are as far in time: on a leg, so far from its start.

    `from_home_nm` and `to_go_nm` are counted by the way, and `time_min` is that to either field.
    """

    home: str
    ahead: str
    leg: Leg
    along_nm: float
    from_home_nm: float
    to_go_nm: float
    time_min: float


class _Cruised(Struct, frozen=True):
    """One leg flown on or back in cruise; figures are None where they cannot be told."""

    time_min: float | None = None
    fuel: float | None = None
    magnetic_heading_deg: float | None = None


def ways_home(log: Log) -> tuple[WayHome, ...]:
    """The way home from each point of the route that is passed in the air."""
    return tuple(
        _way_home(sector, index, log.conditions)
        for sector in _sectors(log)
        for index, leg in enumerate(sector[:-1])
        # Over the airport itself, with height to lose, nobody turns back.
        if leg.ends_stretch and not leg.stays and sector[index + 1].phase is not Phase.LOSING
    )


def critical_points(log: Log) -> tuple[_CriticalPoint, ...]:
    """The critical point between each take-off and the landing after it, where the times are known."""
    found = (_critical_point(sector, log.conditions) for sector in _sectors(log))
    return tuple(one for one in found if one is not None)


def _sectors(log: Log) -> Iterator[tuple[Leg, ...]]:
    """The legs from each take-off at an airport to the landing after it, or to the end."""
    sector: list[Leg] = []
    for leg in log.legs:
        sector.append(leg)
        if leg.lands or leg is log.legs[-1]:
            if sector[0].start.kind == PointKind.AIRPORT:
                yield tuple(sector)
            sector = []


def _way_home(sector: tuple[Leg, ...], index: int, conditions: Conditions) -> WayHome:
    """The way home from the end of a leg of a sector."""
    leg, behind = sector[index], [one for one in sector[: index + 1] if not one.stays]
    # At the height of turning round, not those of the way out: a climb is not flown backward.
    backs = [_cruised(one, leg.end_altitude_ft, conditions, back=True) for one in behind]
    fuel = _sum([back.fuel for back in backs])
    left = None if fuel is None or leg.fuel_remaining is None else leg.fuel_remaining - fuel
    return WayHome(
        home=sector[0].start.name,
        leg=leg,
        distance_nm=sum(one.distance_nm for one in behind),
        time_min=_sum([back.time_min for back in backs]),
        fuel=fuel,
        fuel_left=left,
        guidance=_turned_round(leg.part.guidance),
        magnetic_heading_deg=backs[-1].magnetic_heading_deg,
    )


def _turned_round(guidance: Guidance | None) -> Guidance | None:
    """The same station and radial, flown the other way."""
    if guidance is None:
        return None
    return Guidance(guidance.station, guidance.radial, Flag.FROM if guidance.flag is Flag.TO else Flag.TO)


def _cruised(leg: Leg, height_ft: float, conditions: Conditions, *, back: bool) -> _Cruised:
    """A leg flown on or back in cruise at a height. Where the aircraft file ends before it, nothing is known."""
    from navlog.nav.problems import NavlogError

    course_deg, where = course_at(leg.stretch, leg.part, (leg.start_nm + leg.end_nm) / 2.0)
    air = air_at(conditions, where, height_ft)
    try:
        going = cruise(conditions, air, leg.stretch.tas_kt)
    except NavlogError:
        going = None
    if going is None or air.wind is None or course_deg is None:
        return _Cruised()
    flown_deg = reciprocal_deg(course_deg) if back else course_deg
    solved = triangle(true_course_deg=flown_deg, tas_kt=going.tas_kt, wind=air.wind)
    if solved.groundspeed_kt is None:
        return _Cruised()
    time_min = leg.distance_nm / solved.groundspeed_kt * 60.0
    heading_deg = minus(solved.true_heading_deg, leg.variation_deg)
    return _Cruised(time_min, fuel_in_time(time_min, going.burn_per_h), heading_deg)


def _critical_point(sector: tuple[Leg, ...], conditions: Conditions) -> _CriticalPoint | None:
    """Where on and home take as long, between the ends of a sector, both in cruise at the height reached.

    Neither a hold nor a climb or descent counts on either side. None where those are not two fields, or a time is
    unknown.
    """
    if sector[-1].end.kind != PointKind.AIRPORT or sector[-1].end.name == sector[0].start.name:
        return None
    flown = [leg for leg in sector if not leg.stays]
    way_nm, flown_nm = sum(leg.distance_nm for leg in flown), 0.0
    for index, leg in enumerate(flown):
        height_ft = leg.end_altitude_ft
        backs = [_cruised(one, height_ft, conditions, back=True).time_min for one in flown[: index + 1]]
        ons = [_cruised(one, height_ft, conditions, back=False).time_min for one in flown[index:]]
        home_min, back_min, on_min, ahead_min = _sum(backs[:-1]), backs[-1], ons[0], _sum(ons[1:])
        if home_min is None or back_min is None or on_min is None or ahead_min is None:
            return None
        if home_min + back_min >= ahead_min:
            # Along the leg home grows and on shrinks evenly; another height on the leg before may leave a jump.
            # Linear on one leg: AFM 51-40's formula is this one with the times taken apart.
            share = max(0.0, (on_min + ahead_min - home_min) / (back_min + on_min))
            along_nm = share * leg.distance_nm
            return _CriticalPoint(
                home=sector[0].start.name,
                ahead=sector[-1].end.name,
                leg=leg,
                along_nm=along_nm,
                from_home_nm=flown_nm + along_nm,
                to_go_nm=way_nm - flown_nm - along_nm,
                time_min=home_min + share * back_min,
            )
        flown_nm += leg.distance_nm
    return None


def _sum(amounts: list[float | None]) -> float | None:
    """The sum; None where one is not known."""
    return None if None in amounts else sum(one for one in amounts if one is not None)
