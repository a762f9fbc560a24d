"""Radials, set courses and flags between a station and a point: one way for all who need them.

A radial is a magnetic bearing FROM a station, counted from the station's own north, so the declination
assigned to the station applies and never today's variation. This reproduces the published Victor-airway
courses (FAA NASR AWY_SEG_ALT, MAG_COURSE and OPP_MAG_COURSE) to 0.01 degrees.
"""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct
from msgspec.structs import force_setattr

from navlog.nav import earth
from navlog.nav.angles import difference_deg, normalize_deg, reciprocal_deg
from navlog.nav.chart import Position, Station
from navlog.nav.figures import whole_setting
from navlog.nav.sectors import Sector

_DISTANCE_TOLERANCE_NM = 0.5
_DISTANCE_TOLERANCE = 0.01


class Flag(StrEnum):
    """What the course indicator shows."""

    TO = "TO"
    FROM = "FROM"


# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_TO, _FROM = Flag.TO, Flag.FROM


class StatedRadial(Struct, frozen=True, gc=False):
    """A radial as charted and as computed from positions, degrees; either may be None."""

    charted: float | None = None
    computed: float | None = None

    @property
    def flown(self) -> float | None:
        """The radial on the needle: a charted one is flown as given."""
        # The charted one was flight-checked; the computed one hangs on a declination that may be published wrong.
        return self.computed if self.charted is None else self.charted

    @property
    def difference(self) -> float | None:
        """Charted less computed, in (-180, 180] degrees; None unless both are known."""
        if self.charted is None or self.computed is None:
            return None
        return difference_deg(self.charted, self.computed)


class StatedDistance(Struct, frozen=True):
    """A distance as charted and as computed from positions, NM; either may be None.

    `defined` is what the definitions of its ends make it where positions are wanting.
    """

    charted: float | None = None
    computed: float | None = None
    defined: float | None = None

    @property
    def reference(self) -> float | None:
        """What the charted distance is held against: the computed one, else the defined one."""
        return self.defined if self.computed is None else self.computed

    @property
    def agrees(self) -> bool:
        """True where the charted distance is within 0.5 NM or 1 % of its reference, or one is unknown."""
        reference = self.reference
        if self.charted is None or reference is None:
            return True
        off_nm = abs(self.charted - reference)
        # A distance published in whole NM is up to half a mile off by its rounding alone, however short it is.
        # 2.2 less 1.7 is more than 0.5 in binary.
        return off_nm <= _DISTANCE_TOLERANCE_NM + 1e-9 or off_nm <= _DISTANCE_TOLERANCE * reference + 1e-9

    @property
    def flown(self) -> float | None:
        """The charted distance where it agrees with its reference, else the longer of the two."""
        if self.charted is None:
            return self.reference
        # Of two that contradict each other the longer costs more time and fuel: an error then is on the safe side.
        return self.charted if self.agrees else max(self.charted, self.reference or 0.0)

    @property
    def difference(self) -> float | None:
        """Charted less computed; None unless both are known."""
        if self.charted is None or self.computed is None:
            return None
        return self.charted - self.computed


class Guidance(Struct, frozen=True, gc=False):
    """The station that holds a stretch, the radial flown on it, and the flag.

    `radial` has neither value where there is no radial to fly: within 1 NM of the station, or where the
    station's declination is unknown and nothing is charted.

    The rest is worked out of these, once for all flights: `set_course_deg` is the number on the course selector, the
    radial with FROM, its reciprocal with TO, and `printed_setting` the same as printed, 1 to 360, both None without a
    radial; `unusable` and `dme_unusable` are the sectors of the station's VOR and DME that hold the radial flown,
    published as unusable.
    """

    station: Station
    radial: StatedRadial
    flag: Flag
    set_course_deg: float | None = None
    printed_setting: int | None = None
    unusable: tuple[Sector, ...] = ()
    dme_unusable: tuple[Sector, ...] = ()

    def __post_init__(self) -> None:
        radial_deg, station = self.radial.flown, self.station
        if radial_deg is not None:
            force_setattr(self, "set_course_deg", set_course_deg(radial_deg, self.flag))
            # A printed TO course is the reciprocal of the printed radial.
            force_setattr(self, "printed_setting", whole_setting(radial_deg, inbound=self.flag is _TO))
        if station.unusable:
            force_setattr(self, "unusable", () if radial_deg is None else station.sectors_on("vor", radial_deg))
            force_setattr(self, "dme_unusable", station.sectors_on("dme", radial_deg))

    @property
    def charted(self) -> bool:
        """True where the flown radial is the charted one."""
        return self.radial.charted is not None


def set_course_deg(radial_deg: float | None, flag: Flag) -> float | None:
    """The course to set for tracking `radial_deg` with `flag`, in [0, 360) degrees."""
    if radial_deg is None:
        return None
    if flag is not _FROM:
        return reciprocal_deg(radial_deg)
    # The very number where it is one already, so that a guidance keeps no second one.
    return radial_deg if 0.0 < radial_deg < 360.0 else normalize_deg(radial_deg)


def radial_deg(station: Station, true_bearing_deg: float) -> float | None:
    """The radial of `station` along a true bearing from it; None where its declination is unknown."""
    if station.declination_deg is None:
        return None
    # Not today's variation: the station's north was set on the day of alignment, and stays there until it is turned.
    return normalize_deg(true_bearing_deg - station.declination_deg)


def true_bearing_deg(station: Station, radial: float) -> float | None:
    """The true bearing from `station` along `radial`; None where its declination is unknown."""
    if station.declination_deg is None:
        return None
    return normalize_deg(radial + station.declination_deg)


def radial_toward(station: Station, position: Position | None) -> float | None:
    """The computed radial of `station` on which `position` lies, degrees.

    None where a position or the declination is unknown, or the two are within 0.001 NM of each other.
    """
    if station.position is None or position is None or station.declination_deg is None:
        return None
    # Not remembered: most callers keep the radial.
    line = earth.measured(station.position, position)
    # Overhead every radial is as good; the geodesic's azimuth would be noise.
    return None if line.distance_nm < earth.COINCIDENT_NM else radial_deg(station, line.course_deg)


def distance_from(station: Station, position: Position | None) -> float | None:
    """Ground distance from `station` to `position`, NM; None where either place is unknown."""
    if station.position is None or position is None:
        return None
    return earth.distance_nm(station.position, position)


def track_true_deg(guidance: Guidance) -> float | None:
    """The true course that the set course means by the station's own north; None where unknown."""
    course_deg = guidance.set_course_deg
    return None if course_deg is None else true_bearing_deg(guidance.station, course_deg)
