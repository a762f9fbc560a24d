"""The next course at a station or a turn, and where stations are changed."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.records import Leg
from navlog.nav.figures import distance, stated_distance
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, sample
from navlog.rules.settings import printed_setting, setting_of, swaps_digits

_EASILY_MISSED = range(2, 10)
"""Degrees between two settings that look alike; from 10 the difference is seen (practice case A70)."""

_SUM_OFF_NM = 1.0
"""Changeover distances are whole NM, so two of them may miss the length by less than this."""


def _passages(case: Case) -> Iterator[tuple[Leg, Leg, int, int]]:
    """Legs and their settings before and after each station or turn; a changeover point is neither.

    The way to an alternate begins after those legs of the route that end at its point in the air.
    """
    previous = [(leg, printed_setting(leg)) for leg in case.arriving]
    for leg in case.legs:
        if leg.stays:
            continue
        new = printed_setting(leg)
        for before, old in previous:
            if old is None or new is None or old == new or not before.ends_stretch or before.lands:
                continue
            # At a changeover both settings are of one line: nothing is turned to, and two degrees are declination.
            if before.changeover is None:
                yield before, leg, old, new
        previous = [(leg, new)]


@rule(
    "course-easily-missed",
    Severity.NOTE,
    group=Group.REST,
    source="NASA ASRS reports 136218, 506540, 504001 (the next course not set), 130956 (293 read as 283)",
    remedy="mark the new course on the log, read it digit by digit, and set it at the point",
    passing=BASE,
    failing=sample(
        "fix LAKER N45 20.00 W039 46.20", "route XHAR QHB V801 QEL LAKER", "direct QEL 218 - LAKER 25.8nm min 2500"
    ),
)
def course_easily_missed(case: Case) -> Iterator[Found]:
    """The course to set at a station or a turn is only 2 to 9 degrees from the one before, or looks like it.

    It looks like it where two of the three digits are changed over, as in 214 and 124.
    """
    for leg, following, before, after in _passages(case):
        # Settings as printed, so whole degrees: 359 and 001 are two apart.
        off = abs((after - before + 180) % 360 - 180)
        if off in _EASILY_MISSED:
            yield Found(f"at {leg.end.name} set {setting_of(following)}, {off} degrees from {before:03d}", following)
        elif swaps_digits(before, after):
            new = setting_of(following)
            yield Found(f"at {leg.end.name} set {new}, which is easily read as {before:03d}", following)


@rule(
    "changeover-sum",
    Severity.WARNING,
    group=Group.REST,
    subject="changeover",
    source="14 CFR 95.8001; published pairs add to the length within 1 NM (V68 and V83, CME-CNX: 48 + 33 = 81)",
    remedy="read both distances and the length off the chart again",
    passing=sample("airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 cop 11 QHB"),
    failing=sample(
        "fix MARSH N46 04.00 W039 24.23",
        "airway V801 QHB 212 - MARSH 8.6nm mea 3000 cop 11 QHB - 034 QEL 20.9nm mea 3000 cop 14 QEL",
    ),
)
def changeover_sum(case: Case) -> Iterator[Found]:
    """The distances to a changeover point do not add to the length, or one is more than the length.

    They may differ from it by less than 1 NM. In a route file one beyond the next station is a problem.
    """
    for leg, changeover in case.changeovers:
        if not changeover.stated:
            continue
        total_nm = changeover.distance_nm + changeover.distance_ahead_nm
        ends_here = (changeover.behind.ident, changeover.ahead.ident)
        by_station = {station: distance_nm for distance_nm, station in changeover.stated if station in ends_here}
        sum_nm = sum(by_station.values())
        ends = f"{changeover.behind.ident} to {changeover.ahead.ident} is {distance(total_nm)} NM"
        if len(by_station) == 2 and abs(sum_nm - total_nm) >= _SUM_OFF_NM:
            parts = " and ".join(f"{nm:g} from {station}" for station, nm in by_station.items())
            yield Found(f"{ends} and the changeover point {parts}: {distance(sum_nm)} NM together", leg)
        # One distance alone cannot fail to add up, only to fit.
        elif len(by_station) == 1 and sum_nm > total_nm:
            far = f"{stated_distance(sum_nm)} NM from {next(iter(by_station))}"
            yield Found(f"{ends} and the changeover point {far}", leg)
