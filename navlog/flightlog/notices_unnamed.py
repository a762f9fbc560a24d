"""Notices that tell a station without its identifier, held against the stations that a flight tunes.

One is sure where the notice tells its name or its frequency, and its Q line's circle holds it: a frequency is given
again only where both are not received (ICAO Annex 10, volume I, 3.3; FAA Order 6050.32). What may mean it is for the
pilot to read.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from navlog.flightlog.records import Log
from navlog.nav.chart import Station
from navlog.nav.earth import distance_nm
from navlog.nav.notices import AidTold, Notice
from navlog.nav.record import changed

_AT_NM = 2.0
"""How far the middle of a Q line's circle, in whole minutes, may be from the station it is at."""


def tuned(log: Log) -> Iterator[Station]:
    """The stations that a flight and the ways to its alternates lead to, are guided by or are marked by."""
    for route in (log.route, *log.route.alternates):
        for stretch in route.stretches:
            yield from (part.guidance.station for part in stretch.parts if part.guidance is not None)
            yield from (one.place for one in (stretch.start, stretch.end) if isinstance(one.place, Station))
    for leg in log.legs:
        yield from (mark.station for mark in leg.marks)


def with_its_station(notice: Notice, stations: Iterable[Station]) -> Notice:
    """The notice of the one station that it is sure to mean, understood; itself where that is not sure."""
    if notice.aid is None or not notice.aid.effects:
        return notice
    sure = {one.ident for one in stations if _is_sure(notice.aid, one)}
    if len(sure) != 1:
        return notice
    (ident,) = sure
    effects = (*notice.effects, *(changed(one, station=ident) for one in notice.aid.effects))
    # Times that are not told stay so, and it says so.
    return changed(notice, effects=effects, unread=None if notice.period.start is not None else notice.unread, aid=None)


def may_mean(notice: Notice, stations: Iterable[Station]) -> tuple[str, ...]:
    """The identifiers of the stations that a notice not understood may mean."""
    aid = notice.aid
    return () if aid is None else tuple(dict.fromkeys(one.ident for one in stations if _may_be(aid, one)))


def _is_sure(aid: AidTold, station: Station) -> bool:
    told = _same_frequency(aid, station) or (aid.name is not None and aid.name == _name(station))
    return told and _off_nm(aid, station) is not None and _may_be(aid, station) and not _other_frequency(aid, station)


def _may_be(aid: AidTold, station: Station) -> bool:
    off_nm = _off_nm(aid, station)
    near = off_nm is None or aid.circle is None or off_nm <= max(aid.circle.radius_nm, _AT_NM)
    name = _name(station)
    named = name is not None and re.search(rf"\b{re.escape(name)}\b", aid.words) is not None
    if near and (named or _same_frequency(aid, station)):
        return True
    at = off_nm is not None and off_nm <= _AT_NM
    # One cut short tells its place alone.
    return not _other_frequency(aid, station) and (at or (not aid.words and off_nm is not None and near))


def _name(station: Station) -> str | None:
    return station.name.upper() if station.name else None


def _same_frequency(aid: AidTold, station: Station) -> bool:
    return aid.frequency_mhz is not None and aid.frequency_mhz == station.frequency_mhz


def _other_frequency(aid: AidTold, station: Station) -> bool:
    return None not in (aid.frequency_mhz, station.frequency_mhz) and aid.frequency_mhz != station.frequency_mhz


def _off_nm(aid: AidTold, station: Station) -> float | None:
    """How far a station is from the middle of the Q line's circle; None where one of them is not known."""
    if aid.circle is None or station.position is None:
        return None
    return distance_nm(aid.circle.middle, station.position)
