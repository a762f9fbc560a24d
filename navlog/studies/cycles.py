"""What two cycles of published data make different on one flight, in the figures that a pilot flies.

Figures are compared as printed, so that a position moved by a foot is no change.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from msgspec import Struct

from navlog.flightlog.facts import changeover_place, crossing_kind, setting_text
from navlog.nav import figures
from navlog.nav.chart import Station
from navlog.nav.guidance import Guidance
from navlog.nav.sectors import Sector
from navlog.resolve.route import GuidedPart, Limits, Route, Stretch

_MOVED_NM = 0.1
"""A place that moves by more than a printed tenth."""


class Change(Struct, frozen=True):
    """One difference. `kind` is way, station, frequency, radial, altitude, changeover, length or file.

    `file` is a difference between the file's own definitions and published data that is of one cycle alone.
    `where` is a part of the route or a station; `old` and `new` are figures as printed, None for nothing.
    """

    kind: str
    where: str
    what: str
    old: str | None
    new: str | None

    @property
    def message(self) -> str:
        """The change in words."""
        return f"{self.where}: {self.what} was {self.old or 'not there'}, now {self.new or 'not there'}"


def changes(old: Route, new: Route) -> tuple[Change, ...]:
    """What differs between the same flight on two cycles, in the order of the route, alternates last."""
    found = dict.fromkeys((*_way_changes(old, new), *_station_changes(old, new), *_file_changes(old, new)))
    for before, after in zip(old.alternates, new.alternates, strict=True):
        found.update(dict.fromkeys((*_way_changes(before, after), *_station_changes(before, after))))
    return tuple(found)


def _way_changes(old: Route, new: Route) -> Iterator[Change]:
    """Where the way leads past other points, and what differs on the parts that stay."""
    from difflib import SequenceMatcher

    before, after = [_key(one) for one in old.stretches], [_key(one) for one in new.stretches]
    for tag, old_from, old_to, new_from, new_to in SequenceMatcher(None, before, after, False).get_opcodes():
        if tag == "equal":
            for was, now in zip(old.stretches[old_from:old_to], new.stretches[new_from:new_to], strict=True):
                yield from _stretch_changes(was, now)
        else:
            gone, come = old.stretches[old_from:old_to], new.stretches[new_from:new_to]
            some = (gone or come)[0]
            yield Change("way", f"from {some.start.name}", "the way", _listed(gone), _listed(come))


def _key(stretch: Stretch) -> tuple[str, str, str]:
    """What a stretch is told by."""
    return stretch.start.name, stretch.end.name, stretch.via


def _listed(stretches: tuple[Stretch, ...]) -> str | None:
    """A run of stretches as a route line."""
    if not stretches:
        return None
    return " ".join([stretches[0].start.name, *(f"{one.via} {one.end.name}" for one in stretches)])


def _stretch_changes(old: Stretch, new: Stretch) -> Iterator[Change]:
    """What differs on one stretch: length, guidance, changeover, limits and signal."""
    where = f"{old.start.name} to {old.end.name} on {old.via}"
    pairs = [
        ("length", "length in NM", figures.distance(old.length_nm), figures.distance(new.length_nm)),
        ("altitude", "signal", old.service.value, new.service.value),
        ("changeover", "changeover point", _changeover_text(old.parts), _changeover_text(new.parts)),
    ]
    for index, (was, now) in enumerate(zip_longest(_guided(old), _guided(new)), 1):
        # The setting of each radial: a station's new declination turns it.
        pairs.append(("radial", f"guidance {index}", _guidance_text(was), _guidance_text(now)))
    pairs += [("altitude", name, was, now) for name, was, now in _limit_pairs(old.limits, new.limits)]
    for kind, what, before, after in pairs:
        if before != after:
            yield Change(kind, where, what, before, after)


def _guided(stretch: Stretch) -> tuple[Guidance, ...]:
    """The guidance of the parts of a stretch that have some."""
    return tuple(part.guidance for part in stretch.parts if part.guidance is not None)


def _guidance_text(guidance: Guidance | None) -> str | None:
    """The course to set and the flag: `214 TO QEL`."""
    return None if guidance is None else setting_text(guidance)


def _changeover_text(parts: tuple[GuidedPart, ...]) -> str | None:
    """Where stations are changed: `11.0 NM from QHB`."""
    places = (changeover_place(part.changeover) for part in parts if part.changeover is not None)
    return next((place for place in places if place is not None), None)


def _limit_pairs(old: Limits, new: Limits) -> Iterator[tuple[str, str | None, str | None]]:
    """The names of the altitude limits with their old and new figures."""
    for name, was, now in (
        ("MEA", old.mea_ft, new.mea_ft),
        ("MOCA", old.moca_ft, new.moca_ft),
        ("MAA", old.maa_ft, new.maa_ft),
        ("MRA at the end", old.mra_end_ft, new.mra_end_ft),
    ):
        yield name, _feet(was), _feet(now)
    yield "crossing altitude", _crossings_text(old), _crossings_text(new)


def _crossings_text(limits: Limits) -> str | None:
    """The altitudes at which the start must be crossed."""
    told = [f"{crossing_kind(one)} {figures.whole(one.altitude_ft)}" for one in limits.crossings_start]
    return ", ".join(told) or None


def _feet(altitude_ft: float | None) -> str | None:
    """An altitude as printed; None for none."""
    return None if altitude_ft is None else figures.whole(altitude_ft)


def _station_changes(old: Route, new: Route) -> Iterator[Change]:
    """What differs about the stations that guide the flight on either cycle."""
    before, after = _stations(old), _stations(new)
    for ident, was in before.items():
        now = after.get(ident)
        if now is None:
            continue
        pairs = (
            ("frequency", "frequency", figures.frequency(was.frequency_mhz), figures.frequency(now.frequency_mhz)),
            ("frequency", "channel", was.channel, now.channel),
            ("station", "declination", _declination_text(was), _declination_text(now)),
            ("station", "class", was.service, now.service),
            ("station", "DME", "there" if was.dme else None, "there" if now.dme else None),
            ("station", "status", was.status, now.status),
            ("station", "unusable sectors", _sectors_text(was.unusable), _sectors_text(now.unusable)),
        )
        for kind, what, one, other in pairs:
            if one != other:
                yield Change(kind, ident, what, one, other)
        yield from _moved(was, now)


def _file_changes(old: Route, new: Route) -> Iterator[Change]:
    """What the file itself defines otherwise than the data of one cycle alone: its own figures stand, and are flown."""
    for told, before, after in (
        *((one, one, None) for one in old.differs if one not in new.differs),
        *((one, None, one) for one in new.differs if one not in old.differs),
    ):
        yield Change("file", told.partition(" ")[0], "the file beside published data", before, after)


def _stations(route: Route) -> dict[str, Station]:
    """The stations that guide a route or are named by the make-up of its points, by identifier."""
    found: dict[str, Station] = {}
    for stretch in route.stretches:
        for guidance in _guided(stretch):
            found.setdefault(guidance.station.ident, guidance.station)
        for one in (one for one in stretch.candidates or () if one.named):
            found.setdefault(one.station.ident, one.station)
    return found


def _declination_text(station: Station) -> str | None:
    """A station's north: `15W`, `true`."""
    if station.true_referenced:
        return "true"
    return None if station.declination_deg is None else figures.east_west(station.declination_deg)


def _sectors_text(sectors: tuple[Sector, ...]) -> str | None:
    """The parts of a station that are unusable."""
    told = [
        f"{one.of} {figures.course(one.start_deg)}-{figures.course(one.end_deg)}"
        + (f" beyond {figures.stated_distance(one.beyond_nm)} NM" if one.beyond_nm is not None else "")
        + (f" below {figures.whole(one.below_ft)}" if one.below_ft is not None else "")
        for one in sectors
    ]
    return "; ".join(told) or None


def _moved(old: Station, new: Station) -> Iterator[Change]:
    """Whether a station stands elsewhere."""
    if old.position is None or new.position is None or old.position == new.position:
        return
    from navlog.nav.angles import position_text
    from navlog.nav.earth import distance_nm

    if distance_nm(old.position, new.position) > _MOVED_NM:
        yield Change("station", old.ident, "position", position_text(old.position), position_text(new.position))
