"""The VOR receiver check of 14 CFR 91.171: the error, its limit, and the record to sign."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from navlog.computations.answer import Solution
from navlog.nav.angles import difference_deg
from navlog.nav.figures import half_up, tenths
from navlog.nav.guidance import Flag
from navlog.nav.problems import problem_error
from navlog.nav.receiver_check import Check, good_through, limit_of
from navlog.nav.workings import Working


class _VorCheck(Struct, frozen=True):
    """A check and its outcome. `error_deg` is indicated less expected, clockwise positive.

    `good_through` is the last day on which the check counts, None where it failed.
    """

    check: Check
    indicated_deg: float
    expected_deg: float
    error_deg: float
    limit_deg: float
    passed: bool
    day: date
    good_through: date | None
    place: str | None = None


def solve(
    check: Check,
    *,
    indicated_deg: float,
    day: date,
    expected_deg: float | None = None,
    flag: Flag | None = None,
    place: str | None = None,
) -> _VorCheck:
    """The error of one receiver, or between two for a dual check, against the limit of its kind.

    A VOT sends 360 FROM and 180 TO, so it needs the flag; every other kind needs `expected_deg`: the
    published radial, the bearing the repair station certifies, or the other receiver's.
    """
    if check is Check.VOT:
        if flag is None or expected_deg is not None:
            raise problem_error(
                "missing-value",
                "a VOT needs the flag and nothing else",
                hint="with the needle centred it should read 360 FROM or 180 TO",
            )
        # A test station sends one phase to all sides: every receiver seems to be due north of it (AIM 1-1-4).
        expected_deg = 360.0 if flag is Flag.FROM else 180.0
    if expected_deg is None:
        raise problem_error(
            "missing-value",
            "no bearing to compare with is given",
            hint="give the published radial, the certified bearing, or the other receiver's",
        )
    limit = limit_of(check)
    error_deg = difference_deg(indicated_deg, expected_deg)
    passed = limit.holds(error_deg)
    return _VorCheck(
        check=check,
        indicated_deg=indicated_deg,
        expected_deg=expected_deg,
        error_deg=error_deg,
        limit_deg=limit.degrees,
        passed=passed,
        day=day,
        good_through=good_through(day) if passed else None,
        place=place,
    )


def _workings(found: _VorCheck) -> tuple[Working, ...]:
    """The error beside its limit."""
    return (
        Working(
            "bearing error",
            "indicated - expected",
            f"{found.indicated_deg:g} - {found.expected_deg:g}",
            f"{found.error_deg:+.1f}",
            limit_of(found.check).paragraph,
        ),
        Working(
            "limit",
            f"{limit_of(found.check).words}: {found.limit_deg:g} degrees either way",
            f"{abs(found.error_deg):.1f} beside {found.limit_deg:g}",
            "within" if found.passed else "not within",
            limit_of(found.check).paragraph,
        ),
    )


def _lines(found: _VorCheck) -> tuple[str, ...]:
    """Whether the receiver may be used, and the line to sign."""
    limit = limit_of(found.check)
    beside = "the other receiver" if found.check is Check.DUAL else "expected"
    told = [
        f"{'within' if found.passed else 'NOT WITHIN'} limits: error {_signed(found.error_deg)} degrees,"
        f" at most {found.limit_deg:g} ({limit.words}, {limit.paragraph})",
        f"indicated {_bearing(found.indicated_deg)}, {beside} {_bearing(found.expected_deg)}",
    ]
    reciprocal_error_deg = 180.0 - abs(found.error_deg)
    if reciprocal_error_deg <= found.limit_deg:
        told.append("the reciprocal would be within limits: TO and FROM may be exchanged")
    if found.good_through is None:
        told.append("do not use this receiver under IFR")
    else:
        told.append(f"good for IFR through {found.good_through.isoformat()}")
    place = found.place or "_" * 24
    told.append(
        f"record: {found.day.isoformat()}  place {place}  VOR check, {limit.words}"
        f"  bearing error {_signed(found.error_deg)}  signed {'_' * 24}"
    )
    if found.check is Check.REPAIR_STATION:
        told.append(
            "the repair station certifies the bearing it sent and the date in the same record (14 CFR 91.171(d))"
        )
    return tuple(told)


def answer(found: _VorCheck) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found), failed=not found.passed)


def _bearing(angle_deg: float) -> str:
    """A bearing as read, to a tenth where it was: an error of 4.1 must not look like 4."""
    steps = half_up(angle_deg, 0.1) % 3600 or 3600
    return f"{steps // 10:03d}" + (f".{steps % 10}" if steps % 10 else "")


def _signed(error_deg: float) -> str:
    steps = half_up(abs(error_deg), 0.1)
    if not steps:
        return "0"
    return ("+" if error_deg > 0.0 else "-") + tenths(steps).removesuffix(".0")
