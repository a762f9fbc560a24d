"""What tells the end of a leg in flight, at the height flown there, and what a second receiver is best set to.

A radial tells a place the better the nearer it crosses the track at a right angle, a DME the better the
nearer the track leads towards or away from its station.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum
from math import inf

from msgspec import Struct

from navlog.flightlog.altitudes import below
from navlog.flightlog.records import Leg, Mark, Trouble, Unknown
from navlog.nav.accuracy import Accuracy
from navlog.nav.angles import difference_deg
from navlog.nav.chart import Service, Station
from navlog.nav.guidance import Flag, Guidance, StatedRadial, distance_from, radial_toward
from navlog.nav.radio import radio_horizon_nm, service_radius_nm, slant_nm, widest_radius_nm
from navlog.nav.sectors import Sector, first_reaching
from navlog.request.records import Equipment
from navlog.resolve.route import Identification, MarkKind, Point, Route


class SettingKind(StrEnum):
    """What a second receiver is set for."""

    CROSS_RADIAL = "cross radial"
    NEXT_STATION = "next station"


# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_RADIAL, _DME, _NORMAL = MarkKind.RADIAL, MarkKind.DME, Service.NORMAL
_CROSS_RADIAL, _NEXT_STATION = SettingKind.CROSS_RADIAL, SettingKind.NEXT_STATION

_CROSSES_WELL_DEG = 30.0
_CROSSES_DEG = 15.0
"""A line of position that crosses the track at less than 30 degrees tells badly, at less than 15 nothing: 3.6
degrees at 30 NM are 3.8 and 7.3 NM along it (practice case A28; the limits are common practice, no source)."""

_SLIGHT_DEG = 15.0
"""A bend up to which a point is passed on one way, and not turned at (common practice, no source)."""

_DME_UNKNOWN_NM = 40.0
"""What a DME of an unknown class is counted on for: the radius of class L (AIM 1-1-8)."""

VOLUME_FLOOR_FT = 1_000.0
"""Standard service volumes begin so far above the station (AIM 1-1-8)."""

SLACK_NM = 0.05
"""Less than prints: what lies on the edge of a volume or on the horizon is inside."""


class OtherSetting(Struct, frozen=True):
    """What a receiver that does not guide is set to, and where that is needed.

    `by` is the radial that tells a leg's end, or the next station's guidance. `leg` is the number of the leg whose end
    a cross radial tells, or which the next station guides; `place` is the name of the point: that leg's end, or its
    start.
    """

    kind: SettingKind
    by: Identification | Guidance
    leg: int
    place: str

    @property
    def guidance(self) -> Guidance:
        """The station, course and flag that are set."""
        if isinstance(self.by, Guidance):
            return self.by
        # Made when it is printed, which most flights of a library are not.
        return Guidance(self.by.station, StatedRadial(computed=self.by.radial_deg), Flag.FROM)


class _EndTold(Struct, frozen=True):
    """What tells a leg's end, which of it the receivers hold at once, and why figures of it are not known.

    `other_setting` is what the other VOR receiver is best set to on the leg, None with fewer than two receivers.
    """

    marks: tuple[Mark, ...] = ()
    told_by: tuple[Mark, ...] = ()
    unknown: tuple[Unknown, ...] = ()
    other_setting: OtherSetting | None = None


def ends_told(route: Route, legs: tuple[Leg, ...], ground_ft: float) -> tuple[_EndTold, ...]:
    """What tells the end of each leg that ends at a fix or position; time at a place has that of the leg before.

    `ground_ft` is the height of the lowland from which the horizon counts.
    """
    found: list[_EndTold] = []
    for leg, onward in zip(legs, (*legs[1:], None), strict=True):
        if not leg.ends_stretch or not leg.stretch.candidates:
            found.append(_NOTHING)
        elif leg.stays and found:
            # Time at a place is spent where the leg before it ended.
            found.append(found[-1])
        else:
            on_deg = None if onward is None else onward.true_course_deg
            found.append(_told_at(leg, on_deg, route.request.equipment, ground_ft, route.request.accuracy))
    return tuple(found) if route.request.equipment.vor < 2 else tuple(_with_other_receiver(legs, found))


_NOTHING = _EndTold()


def _told_at(leg: Leg, on_deg: float | None, equipment: Equipment, ground_ft: float, accuracy: Accuracy) -> _EndTold:
    """What tells the end of one leg, from which the way leads on with a true course of `on_deg`."""
    marks = _marks_of(leg, on_deg, equipment, ground_ft, accuracy)
    if not marks:
        return _NOTHING
    return _EndTold(marks, _told_at_once(marks, equipment, guided=leg.part.guidance is not None), _unknowns(marks))


def _marks_of(
    leg: Leg, on_deg: float | None, equipment: Equipment, ground_ft: float, accuracy: Accuracy
) -> tuple[Mark, ...]:
    """What serves best to tell a leg's end, the smallest error along track first; empty where nothing does.

    The first of these that there are: what crosses the track at 30 degrees or more, named by the point's make-up
    or the DME of the station flown; radials of other stations of the flight that do; what crosses at 15 or more.
    What is not to be received comes only where nothing else serves. With one receiver the DME of the station
    flown stands alone where it serves: no other station is tuned for a radial. At a slight bend the 30 degrees may be
    those of the way on, whose true course is `on_deg`: what serves one way round serves the other. `ground_ft` is the
    height of the lowland from which the horizon counts.
    """
    assured, to_deg = _assured(leg), leg.true_course_deg
    turned_deg = _angle_deg(to_deg, on_deg)
    bends_slightly = turned_deg is not None and turned_deg <= _SLIGHT_DEG
    best: list[Mark] = []
    best_rank = _LAST_RANK
    for one in leg.stretch.candidates or ():
        # What the chart names and crosses well is enough; other stations are looked at only where that is missing.
        if best_rank == 0 and not one.named:
            continue
        cut_deg = _angle_deg(one.bearing_deg, to_deg)
        crosses_deg = _crosses_deg(one, cut_deg)
        well = crosses_deg >= _CROSSES_WELL_DEG
        if bends_slightly and not well:
            well = _crosses_deg(one, _angle_deg(one.bearing_deg, on_deg)) >= _CROSSES_WELL_DEG
        # Less than 15 degrees tell nothing along the track.
        if crosses_deg < _CROSSES_DEG or not (well or one.named):
            continue
        mark = _mark_of(one, cut_deg, leg, ground_ft, accuracy, assured=assured)
        if mark is None:
            continue
        rank = _rank(mark, well=well)
        if rank < best_rank:
            best, best_rank = [mark], rank
        elif rank == best_rank:
            best.append(mark)
    if len(best) > 1:
        # The DME of the station flown costs no tuning; a DME elsewhere would, and only a second receiver takes a
        # radial.
        if [mark for mark in best if mark.by.flown]:
            alone = equipment.vor <= 1
            best = [mark for mark in best if mark.by.flown or (not alone and mark.by.kind is _RADIAL)]
        best.sort(key=lambda mark: inf if mark.error_nm is None else mark.error_nm)
    return tuple(best)


_LAST_RANK = 6


def _rank(mark: Mark, *, well: bool) -> int:
    """The lower, the sooner a mark is taken, below `_LAST_RANK`."""
    if not mark.by.named:
        return 5 if mark.troubles else 1
    if mark.troubles:
        return 3 if well else 4
    return 0 if well else 2


def _told_at_once(marks: tuple[Mark, ...], equipment: Equipment, *, guided: bool) -> tuple[Mark, ...]:
    """Those of the marks that the receivers hold at once: one of each kind, two radials where no station guides.

    A single receiver is tuned away to one station, or where none guides to two in turn.
    """
    if len(marks) < 2:
        return marks
    # One receiver holds the course; with a single one it is tuned away for a moment (common practice, no source).
    room = max(1, equipment.vor - 1) if guided else max(2, equipment.vor)
    told: list[Mark] = []
    kinds: list[MarkKind] = []
    stations: set[str] = set()
    for mark in marks:
        by = mark.by
        if kinds.count(by.kind) >= (2 if by.kind is _RADIAL and not guided else 1):
            continue
        wanted = stations if by.flown else stations | {by.station.ident}
        if len(wanted) <= room:
            told.append(mark)
            kinds.append(by.kind)
            stations = wanted
    return tuple(told)


def _mark_of(
    one: Identification, cut_deg: float | None, leg: Leg, ground_ft: float, accuracy: Accuracy, *, assured: bool
) -> Mark | None:
    """How well a candidate tells a leg's end, whose course it cuts, and what stands against it at the altitude there.

    None for a radial that nobody names and that lies beyond its class or the horizon: nobody says that it is received
    there.
    """
    by_radial = one.kind is _RADIAL
    against = _troubles(one, leg, ground_ft, assured=assured)
    # An MRA is charted for the fix's own radial; of another station it says nothing, and is told with the mark.
    if against and not one.named and set(against) != {Trouble.MRA}:
        return None
    reading_nm = error_nm = None
    elevation_ft = one.station.elevation_ft
    if not by_radial and one.away_nm is not None and elevation_ft is not None:
        reading_nm = slant_nm(one.away_nm, leg.end_altitude_ft - elevation_ft)
    if one.away_nm is not None and cut_deg is not None:
        if by_radial:
            error_nm = accuracy.radial_nm(one.away_nm, cut_deg)
        else:
            error_nm = accuracy.circle_nm(one.away_nm, reading_nm or one.away_nm, cut_deg)
    return Mark(one, cut_deg, reading_nm, error_nm, against)


def _crosses_deg(one: Identification, cut_deg: float | None) -> float:
    """The angle between a candidate's line of position and a course that its bearing cuts at `cut_deg`."""
    if cut_deg is None:
        # Without positions the chart is believed: whoever drew the fix by this station saw that it cuts.
        return 90.0 if one.named else 0.0
    # A DME's circle stands square to its radial, so it crosses best where the radial lies along the track.
    return cut_deg if one.kind is _RADIAL else 90.0 - cut_deg


def _angle_deg(one_deg: float | None, other_deg: float | None) -> float | None:
    """The angle between two lines, 0 to 90; None where the direction of one is unknown."""
    if one_deg is None or other_deg is None:
        return None
    between = abs(difference_deg(one_deg, other_deg))
    return between if between <= 90.0 else 180.0 - between


def _troubles(one: Identification, leg: Leg, ground_ft: float, *, assured: bool) -> tuple[Trouble, ...]:
    """What stands against receiving a candidate at a leg's end.

    On an airway at or above the MEA, which has the signal `assured`, neither the horizon nor a service volume counts
    for what the make-up names and for the station flown; a service volume never does for a published make-up (AIM
    1-1-8).
    """
    station, away_nm, altitude_ft = one.station, one.away_nm, leg.end_altitude_ft
    found: list[Trouble] = []
    if one.unusable and one.unusable_at(altitude_ft) is not None:
        found.append(Trouble.SECTOR)
    mra_ft = leg.stretch.limits.mra_end_ft if one.kind is _RADIAL else None
    if mra_ft is not None and below(altitude_ft, mra_ft):
        found.append(Trouble.MRA)
    if away_nm is None or (one.named and (assured or (mra_ft is not None and Trouble.MRA not in found))):
        return tuple(found)
    # A station of unknown elevation counts as on the lowest ground: nothing says that it stands higher.
    mast_ft = 0.0 if station.elevation_ft is None else station.elevation_ft - ground_ft
    if away_nm > radio_horizon_nm(altitude_ft - ground_ft, mast_ft) + SLACK_NM:
        found.append(Trouble.HORIZON)
    if not one.published:
        reach_nm = _volume_nm(one, altitude_ft, ground_ft)
        if reach_nm is not None and away_nm > reach_nm + SLACK_NM:
            found.append(Trouble.VOLUME)
    return tuple(found)


def dme_sector(leg: Leg, station: Station) -> Sector | None:
    """The sector in which the DME of a station is unusable where a leg ends, at the height there; None where it serves.

    By the radial flown of the station that guides, else by the one on which the place lies.
    """
    if not station.unusable:
        return None
    guidance, changeover, place = leg.part.guidance, leg.changeover, leg.end.position
    if guidance is not None and guidance.station.ident == station.ident:
        sectors = guidance.dme_unusable
    else:
        sectors = station.sectors_on("dme", radial_toward(station, place))
    if not sectors:
        return None
    away_nm = distance_from(station, place)
    if away_nm is None and changeover is not None and station == changeover.behind:
        away_nm = changeover.distance_nm
    return first_reaching(sectors, distance_nm=away_nm, altitude_ft=leg.end_altitude_ft)


def _assured(leg: Leg) -> bool:
    """Whether an airway's MEA assures the signal at a leg's end."""
    stretch = leg.stretch
    if stretch.airway is None or stretch.service is not _NORMAL:
        return False
    mea_ft = stretch.limits.mea_ft
    return mea_ft is not None and not below(leg.end_altitude_ft, mea_ft)


def _volume_nm(one: Identification, altitude_ft: float, ground_ft: float) -> float | None:
    """How far a candidate's VOR or DME serves by its class, at least as high as the volume's floor.

    Of unknown elevation it serves at the most what its class does somewhere between the lowest ground and the
    aeroplane. None where a VOR's class is not known; a DME is then counted on for 40 NM.
    """
    station, by_dme = one.station, one.kind is _DME
    service = (station.dme_service or station.service) if by_dme else station.service
    radius_nm = None
    if service is not None and station.elevation_ft is not None:
        # Below the floor no volume is published: what serves at the floor is taken, and the horizon limits it first.
        radius_nm = service_radius_nm(service, max(altitude_ft - station.elevation_ft, VOLUME_FLOOR_FT))
    elif service is not None:
        radius_nm = widest_radius_nm(service, max(altitude_ft - ground_ft, VOLUME_FLOOR_FT))
    return _DME_UNKNOWN_NM if radius_nm is None and by_dme else radius_nm


def _unknowns(marks: tuple[Mark, ...]) -> tuple[Unknown, ...]:
    """Why figures of the marks are not known, by JSON key."""
    silent: list[Mark] = []
    uncut = False
    for mark in marks:
        if mark.dme_nm is None and mark.by.kind is _DME:
            silent.append(mark)
        if mark.cut_deg is None:
            uncut = True
    found: list[Unknown] = []
    if silent:
        why = "the station's elevation is not known"
        keys = ("identified_by.dme_nm", "marks.dme_nm") if silent[0] is marks[0] else ("marks.dme_nm",)
        found += [Unknown(key, why) for key in keys]
    if uncut:
        why = "over the station, or no positions, true course or declination of the station"
        found.append(Unknown("marks.cut_deg", why))
    return tuple(found)


def lowland_ft(points: Iterable[Point], legs: Iterable[Leg]) -> float:
    """The lowest elevation known along a flight, of its airports and stations, feet; 0 where none is.

    It stands for the lowland from which the horizon counts.
    """
    known = [point.place.elevation_ft for point in points if point.place is not None]
    known += [leg.part.guidance.station.elevation_ft for leg in legs if leg.part.guidance is not None]
    return min([one for one in known if one is not None], default=0.0)


def _with_other_receiver(legs: tuple[Leg, ...], ends: list[_EndTold]) -> Iterator[_EndTold]:
    """What tells the legs' ends, with what the other VOR receiver is best set to on each.

    That is the first of what lies ahead before a landing: the radial of another station that tells a leg's end, or
    the station that guides next (common practice, no source).
    """
    in_use: str | None = None
    setting: OtherSetting | None = None
    until = -1
    guiding = [None if leg.part.guidance is None else leg.part.guidance.station.ident for leg in legs]
    for index, end in enumerate(ends):
        # What is needed next for one station in use is so up to where it is needed.
        if index > until or guiding[index] != in_use:
            in_use = guiding[index]
            setting, until = _needed_next(legs, ends, index, in_use)
        yield end if setting is None else _EndTold(end.marks, end.told_by, end.unknown, setting)


def _needed_next(
    legs: tuple[Leg, ...], ends: list[_EndTold], index: int, in_use: str | None
) -> tuple[OtherSetting | None, int]:
    """What is needed first beside the station `in_use` from a leg on, and the index of the leg at whose end it is.

    `ends` are what tells the ends of the legs. None where nothing is needed before the next landing.
    """
    for ahead in range(index, len(legs)):
        leg = legs[ahead]
        for mark in ends[ahead].told_by:
            if mark.by.kind is _RADIAL and mark.by.station.ident != in_use:
                return OtherSetting(_CROSS_RADIAL, mark.by, leg.number, leg.end.name), ahead
        # On the ground there is time to set the next one.
        if leg.lands:
            return None, ahead
        following = legs[ahead + 1] if ahead + 1 < len(legs) else None
        onward = None if following is None else following.part.guidance
        if following is not None and onward is not None and onward.station.ident != in_use:
            return OtherSetting(_NEXT_STATION, onward, following.number, following.start.name), ahead
    return None, len(legs)
