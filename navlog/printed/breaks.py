"""Where a row of the knee page begins: where something is tuned, set, turned or begun."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.flightlog.facts import lowest, no_signal
from navlog.flightlog.records import Leg, Phase
from navlog.nav.angles import difference_deg
from navlog.printed.remarks import turn_after
from navlog.printed.rows import Row, heading, set_course, station
from navlog.resolve.route import PointKind

_HEADING_CHANGE_DEG = 3.0
"""From here a new heading is a thing to do."""


def needle_rows(printed: Sequence[Row]) -> tuple[tuple[Row, ...], ...]:
    """The legs of a way in groups, each what is flown on one setting of needle, heading and level."""
    groups: list[list[Row]] = []
    for row in printed:
        if groups and not _begins(groups[-1], row):
            groups[-1].append(row)
        else:
            groups.append([row])
    return tuple(tuple(group) for group in groups)


def _begins(group: Sequence[Row], row: Row) -> bool:
    """Whether a leg begins a row of its own behind those of `group`."""
    before = group[-1]
    # Height lost over the field is the end of the arrival, not a new thing to set.
    if row.leg.phase is Phase.LOSING:
        return False
    if before.leg.lands or before.leg.stays or row.leg.stays:
        return True
    return any(_reasons(group, before, row))


def _reasons(group: Sequence[Row], before: Row, row: Row) -> Iterator[bool]:
    """What makes it one, each by itself."""
    here, there = before.leg, row.leg
    yield here.ends_stretch and here.end.kind == PointKind.STATION
    yield here.stretch.via != there.stretch.via
    yield (station(before), set_course(before)) != (station(row), set_course(row))
    yield turn_after(here, row) is not None
    yield _level_begins(here, there)
    yield there.start_nm == 0.0 and bool(there.stretch.limits.crossings_start)
    yield no_signal(here.stretch) != no_signal(there.stretch)
    yield _minimum_rises(here, there)
    # Against the first of the group, or a heading could creep round by two degrees a leg unseen.
    yield _headings_apart(heading(group[0]), heading(row))


def _level_begins(here: Leg, there: Leg) -> bool:
    """Whether a climb or descent begins, or the level changes at once; a level-off is none."""
    if here.end_altitude_ft != there.start_altitude_ft:
        return True
    return there.phase in (Phase.CLIMB, Phase.DESCENT) and there.phase is not here.phase


def _minimum_rises(here: Leg, there: Leg) -> bool:
    """Whether the minimum rises; one that is not known is as high as any."""
    known, ahead = (lowest(leg.stretch.limits)[1] for leg in (here, there))
    if known is None or ahead is None:
        # From known to unknown and back are both worth a line: what held so far holds no more.
        return (known is None) != (ahead is None)
    return ahead > known


def _headings_apart(one: str, other: str) -> bool:
    """Whether two printed headings are 3 degrees or more apart, or one is a figure and the other is not."""
    first, second = (text.strip("~M!") for text in (one, other))
    if not (first.isdigit() and second.isdigit()):
        return first != second
    return abs(difference_deg(float(first), float(second))) >= _HEADING_CHANGE_DEG
