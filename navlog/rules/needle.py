"""Whether what is set on the needle leads where the leg leads: against positions, definitions and the other end.

Set course plus declination is a true course. It is held against every other thing that tells the leg's course.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from msgspec import Struct

from navlog.flightlog.records import Leg
from navlog.nav.angles import difference_deg, normalize_deg, reciprocal_deg
from navlog.nav.figures import course
from navlog.nav.guidance import Flag, Guidance, radial_toward, set_course_deg
from navlog.resolve.route import Facing, Stretch
from navlog.rules.registry import Case, once_a_case

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_TO, _FROM = Flag.TO, Flag.FROM

REVERSED_DEG = 20.0
"""A value this near 180 degrees out is the other end's course."""

NEEDLE_OFF_DEG = 8.0
"""How far a needle may lead from the leg's true course: a station's north is off by so much at most (FAA NASR)."""

_BENT_TRUE_DEG = 10.0
"""True courses at the ends of a straight line differ by its convergence alone, under 3 degrees in 100 NM at 60 N."""

BENT_MAGNETIC_DEG = 20.0
"""Where a station's declination is not known, its north is taken to lie this near that of the variation."""

_TURNED_BACK_DEG = 150.0
"""No airway turns by more: 148 degrees at STABO on V107 and 127 at BKE on V182 are the most (FAA NASR 2026-05-14)."""

_TURNED_SHARPLY_DEG = 90.0
"""20 of the points of all Victor airways turn by more (FAA NASR 2026-05-14): worth a look, and no proof."""


class _Reference(Struct, frozen=True):
    """What a charted radial is held against, degrees: by positions, or where `point` is defined on it."""

    radial_deg: float
    point: str | None = None

    @property
    def how(self) -> str:
        """How it is known, in a sentence."""
        if self.point is None:
            return f"{course(self.radial_deg)} computed"
        return f"{self.point} is defined on {course(self.radial_deg)}"


def _reference(stretch: Stretch, guidance: Guidance) -> _Reference | None:
    """The radial by positions, else that on which the file itself defines an end of the stretch."""
    computed = guidance.radial.computed
    # Positions first: a definition may carry the very slip that it is held against.
    if computed is not None:
        return _Reference(computed)
    for point in (stretch.start, stretch.end):
        defined = point.defined_radial_deg(guidance.station)
        if defined is not None:
            return _Reference(defined, point.name)
    return None


@once_a_case
def charted_against(case: Case) -> Iterator[tuple[Leg, Guidance, float, _Reference, float]]:
    """Each charted radial that is not what its reference says: leg, guidance, radial, reference, and how far off."""
    least_deg = min(case.thresholds.radial_warning_deg, 180.0 - REVERSED_DEG)
    for leg, guidance in case.guided:
        charted, computed = guidance.radial.charted, guidance.radial.computed
        # Most are what their positions say.
        if charted is None or (computed is not None and abs(difference_deg(charted, computed)) < least_deg):
            continue
        known = _reference(leg.stretch, guidance)
        if known is not None:
            off_deg = difference_deg(charted, known.radial_deg)
            if abs(off_deg) >= least_deg:
                yield leg, guidance, charted, known, off_deg


class Meeting(Struct, frozen=True):
    """The radials at both ends of the way between two stations, and by how much they fail to meet.

    `allowed_deg` is what straight lines may be off by; None where that is not known, or the way bends.
    """

    leg: Leg
    facing: Facing
    outbound_deg: float
    inbound_deg: float
    outbound_true_deg: float
    inbound_true_deg: float
    off_deg: float
    allowed_deg: float | None
    norths_known: bool

    @property
    def reversed(self) -> bool:
        """Whether one of the two leads the other way; a way that bends more than once may turn by any angle."""
        if self.allowed_deg is None:
            # With one bend or none the two radials are all there is, and no airway turns so far.
            return self.facing.bends < 2 and self.off_deg > _TURNED_BACK_DEG
        return self.off_deg > 180.0 - REVERSED_DEG

    @property
    def sharp(self) -> bool:
        """Whether the way turns by so much that one of the two may lead the other way."""
        return self.allowed_deg is None and self.off_deg > _TURNED_SHARPLY_DEG and not self.reversed

    @property
    def bent(self) -> bool:
        """Whether the two do not lie on one line, and neither is reversed."""
        return self.allowed_deg is not None and self.allowed_deg < self.off_deg and not self.reversed


@once_a_case
def meetings(case: Case) -> Iterator[Meeting]:
    """Each pair of stations on the way, of whose radials not both are known by position."""
    seen: set[int] = set()
    for leg in case.legs:
        facing = leg.part.facing
        # By identity: the parts of one section share theirs, and a way flown twice is another.
        if facing is None or id(facing) in seen:
            continue
        seen.add(id(facing))
        if None in (facing.outbound.radial.computed, facing.inbound.radial.computed):
            found = _meeting(leg, facing)
            if found is not None:
                yield found


def _meeting(leg: Leg, facing: Facing) -> Meeting | None:
    """How the radials at both ends of a way meet; None where one of them is not known."""
    out, into = (_best_radial_deg(one) for one in (facing.outbound, facing.inbound))
    if out is None or into is None:
        return None
    norths = (facing.outbound.station.declination_deg, facing.inbound.station.declination_deg)
    variation_deg = leg.stretch.variation.middle_deg if leg.stretch.variation is not None else None
    stand_in = variation_deg if variation_deg is not None else _magnetic_north_deg(facing)
    known = None not in norths
    # Where nothing tells either north, both are taken to be the same one.
    out_north, in_north = (next((one for one in (north, stand_in) if one is not None), 0.0) for north in norths)
    comparable = known or stand_in is not None or norths == (None, None)
    # Both as true courses in the direction of flight: the inbound radial points back, from the station ahead.
    out_true, in_true = normalize_deg(out + out_north), normalize_deg(reciprocal_deg(into) + in_north)
    allowed = (_BENT_TRUE_DEG if known else BENT_MAGNETIC_DEG) if comparable and not facing.bends else None
    off = abs(difference_deg(out_true, in_true))
    return Meeting(leg, facing, out, into, out_true, in_true, off, allowed, known)


def _magnetic_north_deg(facing: Facing) -> float | None:
    """The declination of the one station that has one and is not true-referenced."""
    stations = (facing.outbound.station, facing.inbound.station)
    return next((one.declination_deg for one in stations if not one.true_referenced and one.declination_deg), None)


def _best_radial_deg(guidance: Guidance) -> float | None:
    """The radial by position where there is one, else the charted one."""
    computed = guidance.radial.computed
    return guidance.radial.charted if computed is None else computed


def printed_radial(guidance: Guidance) -> str:
    """The radial in words: as it is charted, unless the position says that it is quite another."""
    charted, off_deg = guidance.radial.charted, guidance.radial.difference
    return course(charted if off_deg is not None and abs(off_deg) <= BENT_MAGNETIC_DEG else _best_radial_deg(guidance))


class _Strayed(Struct, frozen=True):
    """A leg whose needle leads elsewhere than the leg: true courses of both.

    `along` says that both ends of the leg lie on the radial, so that only the great circle's turning is left.
    """

    leg: Leg
    guidance: Guidance
    needle_true_deg: float
    course_true_deg: float
    along: bool

    @property
    def off_deg(self) -> float:
        """How far apart the two are, degrees."""
        return abs(difference_deg(self.needle_true_deg, self.course_true_deg))


@once_a_case
def strays(case: Case) -> Iterator[_Strayed]:
    """The worst leg on each guidance whose needle leads more than 8 degrees from the leg's true course.

    Radials that `radial-differs` or `radial-reversed` tell by positions or definitions are left out.
    """
    strayed = [one for one in map(_strayed, case.legs) if one is not None]
    if not strayed:
        return
    warning_deg = case.thresholds.radial_warning_deg
    told = {id(guidance) for _, guidance, _, _, off in charted_against(case) if abs(off) > warning_deg}
    worst: dict[tuple[int, str, Flag], _Strayed] = {}
    for one in strayed:
        # One finding for each setting of the knob; the legs of a climb on it would repeat it.
        key = (one.leg.stretch.number, one.guidance.station.ident, one.guidance.flag)
        if id(one.guidance) not in told and (key not in worst or worst[key].off_deg < one.off_deg):
            worst[key] = one
    yield from worst.values()


def _strayed(leg: Leg) -> _Strayed | None:
    """What the needle and the leg's own course are, where they differ by more than they may."""
    stretch, guidance = leg.stretch, leg.part.guidance
    setting_deg = None if guidance is None else guidance.set_course_deg
    if guidance is None or setting_deg is None or stretch.true_course is None:
        return None
    # Without positions the leg's own course is the needle's: it would be held against itself.
    own_deg = leg.true_course_deg if stretch.course_source == "geodesic" else stretch.true_course.middle_deg
    north_deg = guidance.station.declination_deg
    known = north_deg is not None
    if north_deg is None:
        north_deg = stretch.variation.middle_deg if stretch.variation is not None else None
    if own_deg is None or north_deg is None:
        return None
    needle_deg = setting_deg + north_deg
    if abs(difference_deg(needle_deg, own_deg)) <= (NEEDLE_OFF_DEG if known else BENT_MAGNETIC_DEG) or leg.stays:
        return None
    return _Strayed(leg, guidance, normalize_deg(needle_deg), own_deg, _lies_along(leg, guidance))


def _lies_along(leg: Leg, guidance: Guidance) -> bool:
    """Whether both ends of a leg lie within 8 degrees of the radial flown, by position; the station itself does."""
    radial_deg = guidance.radial.flown
    found = [radial_toward(guidance.station, end.position) for end in (leg.start, leg.end)]
    placed = [one for one in found if one is not None]
    if radial_deg is None or not placed:
        return False
    return all(abs(difference_deg(one, radial_deg)) <= NEEDLE_OFF_DEG for one in placed)


class Turning(Struct, frozen=True):
    """A point at which an airway turns sharply: arriving and leaving in words, and by how many degrees."""

    leg: Leg
    point: str
    arriving: str
    leaving: str
    turn_deg: float

    @property
    def back(self) -> bool:
        """Whether it turns by more than any airway does."""
        return abs(self.turn_deg) > _TURNED_BACK_DEG


@once_a_case
def turnings(case: Case) -> Iterator[Turning]:
    """The points of one airway at which it turns sharply, where not both courses are computed."""
    for before, leg in pairwise(case.first_legs):
        last, here = before.stretch, leg.stretch
        if here.airway is None or last.airway != here.airway:
            continue
        found = _turn_at_station(last, here) or _turn_at_fix(last, here)
        if found is not None and abs(found[2]) > _TURNED_SHARPLY_DEG:
            yield Turning(leg, here.start.name, *found)


def _turn_at_station(last: Stretch, here: Stretch) -> tuple[str, str, float] | None:
    """The turn over a station by its own two radials, where not both are computed."""
    into, out = last.parts[-1].guidance, here.parts[0].guidance
    if into is None or out is None or into.flag is not _TO or out.flag is not _FROM:
        return None
    one, other = _best_radial_deg(into), _best_radial_deg(out)
    if into.station != out.station or one is None or other is None:
        return None
    if None not in (into.radial.computed, out.radial.computed):
        return None
    ident = into.station.ident
    leaving_deg = set_course_deg(other, _FROM)
    assert leaving_deg is not None
    return (
        f"{ident} {course(one)} inbound",
        f"{ident} {course(other)} outbound",
        difference_deg(leaving_deg, reciprocal_deg(one)),
    )


def _turn_at_fix(last: Stretch, here: Stretch) -> tuple[str, str, float] | None:
    """The turn at a fix by true courses, where not both are computed from positions."""
    # Over a station its two radials tell; true courses there rest on the same radials.
    if here.start.station is not None or last.turn_deg is None:
        return None
    if last.course_source == here.course_source == "geodesic":
        return None
    return f"arriving at {last.end.name}", f"leaving it for {here.end.name}", last.turn_deg


@once_a_case
def doubted(case: Case) -> frozenset[int]:
    """The stretches, by number, one of whose radials is the wrong way round, and none tells which."""
    both = {one.leg.stretch.number for one in meetings(case) if one.reversed}
    back = {turning.leg.stretch.number for turning in turnings(case) if turning.back}
    # A turn too sharp lies between two stretches, and either of them may be the wrong one.
    return frozenset(both | back | {number - 1 for number in back})
