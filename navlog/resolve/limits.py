"""The altitude limits of a hop in the direction of flight."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.nav.chart import CrossingAltitude
from navlog.resolve.path import Hop
from navlog.resolve.route import Limits, Point


def limits(hop: Hop, end: Point, before: Hop | None) -> Limits:
    """The altitude limits of a hop in the direction of flight.

    A minimum crossing altitude (MCA) stands on the hop that leaves its point, a minimum turning altitude
    (MTA) on the one that reaches it, for a flight that turns off onto another airway.
    """
    segment, fix = hop.segment, end.fix
    mra_ft = fix.mra_ft if fix is not None else None
    crossings = tuple(dict.fromkeys((*crossings_at(hop), *turning(hop, end, before))))
    if segment is None:
        return Limits(crossings_start=crossings, mra_end_ft=mra_ft)
    return Limits(
        segment.mea.forward_ft,
        segment.moca.forward_ft,
        segment.maa.forward_ft,
        segment.gnss_mea.forward_ft,
        segment.minimum.forward_ft,
        segment.minimum_source,
        crossings,
        mra_ft,
    )


def crossings_at(hop: Hop) -> Iterator[CrossingAltitude]:
    """The MCAs of a hop's start toward its end, wherever on the airway they are written."""
    if hop.segment is None:
        return
    start, end = hop.segment.start, hop.segment.end
    for one in hop.airway.segments if hop.airway is not None else (hop.segment,):
        for crossing in one.crossings:
            if crossing.at == start and crossing.toward in (end, None) and not crossing.turning:
                yield crossing


def turning(hop: Hop, end: Point, before: Hop | None) -> Iterator[CrossingAltitude]:
    """The MTAs for turning off the airway flown before onto this hop's."""
    if before is None or before.via == hop.via or before.segment is None:
        return
    onto = hop.segment.end if hop.segment is not None else end.ident
    for one in before.segment.crossings:
        arrives = one.at == before.segment.end and one.coming_from in (before.segment.start, None)
        if one.turning and arrives and one.toward in (onto, None):
            yield one
