"""The check of the VOR receivers in words: what is stated, and where one may be made before take-off."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.checkpoints import NearCheckpoint, checkpoints
from navlog.flightlog.facts import north_mark
from navlog.flightlog.records import Log
from navlog.nav.figures import course, distance, whole
from navlog.nav.receiver_check import error_text, last_good, limit_of
from navlog.printed.place_names import short_name
from navlog.printed.remarks import other_setting_text, tuned


def receiver_lines(log: Log) -> Iterator[str]:
    """The check as stated with its limit and last day, under IFR that none is; then the published checkpoints."""
    check = log.route.request.receiver_check
    if check is not None:
        limit = limit_of(check.kind)
        last = last_good(check.day, check.kind, check.errors_deg)
        counts = "beyond it, and so counts for no flight" if last is None else f"counts through {last}"
        errors = " and ".join(error_text(error_deg) for error_deg in check.errors_deg)
        yield (
            f"checked {check.day} at {check.place}, {limit.words}: error {errors} degrees, at most {limit.degrees:g}"
            f" ({limit.paragraph}); {counts}"
        )
    elif log.route.request.rules == "ifr":
        yield "no check stated; it must be within the 30 days before the flight (14 CFR 91.171)"
    for one in checkpoints(log):
        yield _checkpoint_text(one)


def _checkpoint_text(one: NearCheckpoint) -> str:
    """A published checkpoint: where it is, how it is received, what the needle should show, and its description."""
    point, station = one.point, one.point.station
    where = point.airport or station.ident
    if not one.at_departure:
        where += f", {distance(one.away_nm)} NM from the departure"
    height = f" at {whole(point.altitude_ft)} ft" if point.altitude_ft is not None else ""
    how = f"in the air{height}, within 6 degrees" if point.airborne else "on the ground, within 4 degrees"
    away = f", {distance(point.distance_nm)} NM from it" if point.distance_nm is not None else ""
    radial = course(point.radial_deg) + north_mark(station)
    cycle = f" {point.provenance.cycle}" if point.provenance.cycle else ""
    source = f"{point.provenance.source.value.upper()}{cycle}"
    return (
        f"checkpoint {where}: {tuned(station)}, R-{radial}{away}, {how}, set {radial} FROM: {point.description}"
        f" ({source})"
    )


def other_receiver_lines(log: Log) -> Iterator[str]:
    """What a second receiver is best set to, where that changes: `leg 3, from LOTTE: CVA 113.80 ...`."""
    before = None
    for leg in log.legs:
        if leg.other_setting is not None and leg.other_setting != before:
            yield f"leg {leg.number}, from {short_name(leg.start)}: {other_setting_text(leg.other_setting)}"
        before = leg.other_setting
