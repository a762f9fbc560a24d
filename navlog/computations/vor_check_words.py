"""The receiver check and its record."""

from __future__ import annotations

from navlog.computations import vor_check
from navlog.computations.answer import Answer
from navlog.computations.vor_check import LIMITS, Check, VorCheck
from navlog.nav.figures import half_up, tenths


def answer(found: VorCheck) -> Answer:
    """Whether the receiver may be used, and the line to sign."""
    limit = LIMITS[found.check]
    beside = "the other receiver" if found.check is Check.DUAL else "expected"
    lines = [
        f"{'within' if found.passed else 'NOT WITHIN'} limits: error {_signed(found.error_deg)} degrees,"
        f" at most {found.limit_deg:g} ({limit.words}, {limit.paragraph})",
        f"indicated {_bearing(found.indicated_deg)}, {beside} {_bearing(found.expected_deg)}",
    ]
    reciprocal_error_deg = 180.0 - abs(found.error_deg)
    if reciprocal_error_deg <= found.limit_deg:
        lines.append("the reciprocal would be within limits: TO and FROM may be exchanged")
    if found.good_through is None:
        lines.append("do not use this receiver under IFR")
    else:
        lines.append(f"good for IFR through {found.good_through.isoformat()}")
    place = found.place or "_" * 24
    lines.append(
        f"record: {found.day.isoformat()}  place {place}  VOR check, {limit.words}"
        f"  bearing error {_signed(found.error_deg)}  signed {'_' * 24}"
    )
    if found.check is Check.REPAIR_STATION:
        lines.append(
            "the repair station certifies the bearing it sent and the date in the same record (14 CFR 91.171(d))"
        )
    return Answer((found,), tuple(lines), vor_check.workings(found))


def _bearing(angle_deg: float) -> str:
    """A bearing as read, to a tenth where it was: an error of 4.1 must not look like 4."""
    steps = half_up(angle_deg, 0.1) % 3600 or 3600
    return f"{steps // 10:03d}" + (f".{steps % 10}" if steps % 10 else "")


def _signed(error_deg: float) -> str:
    steps = half_up(abs(error_deg), 0.1)
    if not steps:
        return "0"
    return ("+" if error_deg > 0.0 else "-") + tenths(steps).removesuffix(".0")
