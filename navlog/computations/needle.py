"""What a needle's deflection means: the distance off the radial, and the deflection that a distance off shows."""

from __future__ import annotations

from msgspec import Struct

from navlog.computations.answer import Solution
from navlog.nav import radio
from navlog.nav.figures import distance, half_up, tenths
from navlog.nav.problems import problem_error
from navlog.nav.units import read_size_deg
from navlog.nav.workings import Working

FULL_SCALE_DEG = 10.0
"""The needle stops at five dots; FAA-H-8083-15, chapter 7, says 10 to 12 degrees."""


class _Needle(Struct, frozen=True):
    """A deflection of the needle and the distance off that it means.

    `full_scale` says that the needle is at its stop, so that it shows less than `deflection_deg`.
    """

    deflection_deg: float
    dots: float
    full_scale: bool
    distance_nm: float
    off_nm: float


def from_deflection(deflection_deg: float, distance_nm: float) -> _Needle:
    """How far off the radial a deflection puts the aeroplane, `distance_nm` from the station along it."""
    if not deflection_deg < 90.0:
        raise problem_error("bad-value", f"a needle is never {deflection_deg:g} degrees off")
    return _needle(deflection_deg, radio.off_course_nm(deflection_deg, distance_nm), distance_nm)


def from_offset(off_nm: float, distance_nm: float) -> _Needle:
    """The deflection that shows `off_nm` beside the radial, `distance_nm` from the station along it.

    Raises `bad-value` where that is farther off than along, more than half a right angle: no needle shows it.
    """
    if off_nm > distance_nm > 0.0:
        message = f"nobody who is {distance_nm:g} NM from a station is {off_nm:g} NM off its radial"
        raise problem_error("bad-value", message, hint="the distance off is less than that from the station")
    return _needle(radio.deflection_deg(off_nm, distance_nm), off_nm, distance_nm)


def read_deflection_deg(text: str) -> float:
    """A deflection in degrees from `2dots`, `1dot`, `4` or `4deg`; a dot is 2 degrees."""
    for unit in ("dots", "dot"):
        if text.endswith(unit):
            return radio.DOT_DEG * read_size_deg(text.removesuffix(unit))
    return read_size_deg(text)


def workings(found: _Needle) -> tuple[Working, ...]:
    """Dots from degrees, and the distance off."""
    return (
        Working(
            "deflection",
            "degrees / 2 a dot",
            f"{found.deflection_deg:.2f} / 2",
            f"{found.dots:.1f} dots",
            "FAA-H-8083-15, chapter 7",
        ),
        Working(
            "distance off",
            "distance from the station x tan(deflection)",
            f"{found.distance_nm:g} x tan({found.deflection_deg:.2f})",
            f"{found.off_nm:.2f} NM",
            "geometry",
        ),
    )


def _lines(found: _Needle) -> tuple[str, ...]:
    """A deflection beside the distance off."""
    stop = ", the needle at its stop" if found.full_scale else ""
    return (
        f"{tenths(half_up(found.dots, 0.1))} dots = {tenths(half_up(found.deflection_deg, 0.1))} degrees{stop}",
        f"{distance(found.off_nm)} NM off the radial, {distance(found.distance_nm)} NM from the station",
    )


def answer(found: _Needle) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), workings(found))


def _needle(deflection_deg: float, off_nm: float, distance_nm: float) -> _Needle:
    if not distance_nm > 0.0:
        raise problem_error("bad-value", "the distance is zero", hint="give a distance above 0")
    return _Needle(deflection_deg, radio.dots(deflection_deg), deflection_deg >= FULL_SCALE_DEG, distance_nm, off_nm)
