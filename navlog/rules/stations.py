"""The stations themselves: out of service, easily mistaken, without DME, or aligned long ago."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from math import ceil

from navlog.flightlog.records import Leg
from navlog.nav.angles import difference_deg
from navlog.nav.chart import Airway, Position, Source, Station, StationKind
from navlog.nav.earth import distance_nm
from navlog.nav.figures import distance, east_west, frequency, stated_distance
from navlog.nav.problems import NavlogError
from navlog.nav.radio import channel_for
from navlog.resolve.route import Stretch
from navlog.rules.declinations import doubt
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, PUBLISHED, UNVERIFIED, sample

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_VOR = StationKind.VOR

_ALIKE_MHZ = 0.2
"""Practice case A17: a neighbouring station 0.2 MHz away was tuned and showed a good flag."""

_SHARED_WITHIN_NM = 200.0
"""Practice case A16: two stations on one frequency were taken for each other."""
_AROUND_NM = 100.0
"""Steps of the distance around a station in which others are looked for."""

_OLD_DEG = 6.0
"""Nine of ten US stations are nearer to today's variation than this (FAA NASR 2026-05-14 and WMM2025)."""


@rule(
    "station-out",
    Severity.ERROR,
    group=Group.GUIDANCE,
    at_times=(Severity.NOTE,),
    source="`unavailable`, or the station's published status; 14 CFR 95.1(d), (e)",
    remedy="plan another way, or navigate this part by other means that you have on board",
    passing=sample("station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L", "unavailable QSK"),
    failing=sample("unavailable QEL"),
)
def station_out(case: Case) -> Iterator[Found]:
    """The flight relies on a station that is out of service.

    It passes over the station, flies the part of an airway that the station serves, or uses a fix that the
    file places by it. Also a station whose published status says that it is shut down. 14 CFR 95.1(e): "The MOCA
    assures obstruction clearance ... and adequate reception of VOR navigation signals within 22 nautical miles of a VOR
    station used to define the route": what MEA and MOCA assure, they assure of the stations that define the route. That
    both stations of a part count, and not only the one in use, is common practice, no source; a note where the other
    one guides all the way from point to point up to its own changeover point.
    """
    if not case.request.definitions.unavailable and not _meets_outage(case):
        return
    for leg in case.first_legs:
        stretch = leg.stretch
        for ident, station in dict(_relied_on(case, stretch)).items():
            why = _out_of_service(case, stretch, ident, station)
            if why is not None:
                way, alone = f"{stretch.start.name} to {stretch.end.name}", _flown_without(case, stretch, ident)
                if alone is None:
                    yield Found(f"{way} relies on {ident}, which is {why}", leg, station=ident)
                else:
                    message = f"{way} is flown on {alone} alone, up to its changeover point: {ident} is {why}"
                    yield Found(message, leg, Severity.NOTE, station=ident)


def _meets_outage(case: Case) -> bool:
    """Whether a station that is passed, or that is anywhere on an airway flown, is published as out of service."""
    for leg in case.first_legs:
        stretch = leg.stretch
        if stretch.airway is not None and stretch.airway.has_outage:
            return True
        for place in (stretch.start.place, stretch.end.place):
            if isinstance(place, Station) and not place.in_service:
                return True
    return False


def _out_of_service(case: Case, stretch: Stretch, ident: str, station: Station | None) -> str | None:
    """Why a station does not serve a stretch: file, notice or published status say so; None where it does."""
    from navlog.nav.notices import period_words

    told = case.request.definitions.unavailable.get(ident)
    uses = [use for use in case.log.route.notices if use.notice.puts_out(ident)]
    counting = [use for use in uses if stretch.number in use.planned_on]
    by = [f"{use.notice.ident} ({period_words(use.notice, near=use.near)})" for use in counting]
    # The name stands where it was told: in the file, or in a notice that may count on another part of the flight.
    if told is not None and not by and all(use.notice.span != told.span for use in uses):
        return "out of service"
    if by:
        # A notice may put out the VOR alone; a station that the file itself calls out is left out whole.
        more = ""
        if station is not None and station.dme:
            serves = ident in case.request.definitions.dme_serves
            more = "; its DME serves for distances" if serves else "; its DME is not counted on either"
        return f"out of service by {' and '.join(by)}{more}"
    if station is not None and station.status is not None and not station.in_service:
        return f"published as {station.status.lower()}"
    return None


def _flown_without(case: Case, stretch: Stretch, ident: str) -> str | None:
    """The station of the airway on which a stretch is flown up to its changeover point with one that is out.

    None where the flight passes that one, has a fix placed by it or needs it on a part of the way.
    """
    if ident in dict(_used_at_ends(case, stretch)):
        return None
    (alone, *others) = dict.fromkeys(part.guidance.station.ident if part.guidance else None for part in stretch.parts)
    if others or alone in (None, ident) or alone not in dict(_serving(case, stretch)):
        return None
    return None if any(part.past_changeover for part in stretch.parts) else alone


def _relied_on(case: Case, stretch: Stretch) -> Iterator[tuple[str, Station | None]]:
    """The stations that a stretch passes, is served by along its airway, or ends at a fix of."""
    yield from _used_at_ends(case, stretch)
    yield from _serving(case, stretch)


def _used_at_ends(case: Case, stretch: Stretch) -> Iterator[tuple[str, Station | None]]:
    """The stations over which a stretch begins or ends, and those by which the file places the fix at its end."""
    for point in (stretch.start, stretch.end):
        if point.station is not None:
            yield point.station.ident, point.station
    definition = case.request.definitions.fixes.get(stretch.end.ident or "")
    if definition is not None and definition.position is None:
        yield from ((name.ident, None) for name, _ in definition.radials)


def _serving(case: Case, stretch: Stretch) -> Iterator[tuple[str, Station | None]]:
    """The first VOR behind a stretch of an airway and the first ahead."""
    if stretch.airway is not None and stretch.start.ident is not None and stretch.end.ident is not None:
        points = stretch.airway.points
        behind = points.index(stretch.start.ident)
        yield from _first_station(case, stretch.airway, range(behind, -1, -1))
        yield from _first_station(case, stretch.airway, range(behind + 1, len(points)))


def _first_station(case: Case, airway: Airway, order: range) -> Iterator[tuple[str, Station | None]]:
    """The first VOR among the points of an airway, looked through in an order."""
    for index in order:
        ident = airway.points[index]
        place = airway.places[index] if airway.places else case.request.definitions.stations.get(ident)
        if isinstance(place, Station) and place.kind is _VOR:
            yield ident, place
            return
        if place is None and ident in case.request.definitions.unavailable:
            yield ident, None
            return


@rule(
    "dme-missing",
    Severity.ERROR,
    group=Group.GUIDANCE,
    subject="fix of the file",
    at_times=(Severity.WARNING,),
    source="a VOR without DME gives no distance (FAA AIM 1-1-7)",
    remedy="mark the fix by a crossing radial, or by the DME of another station",
    passing=sample(
        "fix LAKER QEL 180 dme 12 at 4500", "route XHAR QHB V801 QEL LAKER", "equipment vor 1 dme 1", "-direct QEL"
    ),
    failing=sample(
        "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L elev 410ft",
        "fix LAKER QEL 180 dme 12 at 4500",
        "route XHAR QHB V801 QEL LAKER",
        "equipment vor 1 dme 1",
        "-direct QEL",
    ),
)
def dme_missing(case: Case) -> Iterator[Found]:
    """A fix by DME lies on a station that has none, or the aeroplane has none.

    A warning where only the aeroplane's receiver is missing, or where the distance is over the ground.
    """
    for leg in case.legs if case.request.definitions.fixes else ():
        point = leg.stretch.end
        definition = case.request.definitions.fixes.get(point.ident or "") if leg.ends_stretch else None
        if definition is None or definition.distance_nm is None or leg.marks:
            continue
        station = _station_named(case, definition.radials[0][0].ident)
        if station is None:
            continue
        reads_dme = definition.dme_altitude_ft is not None
        far = f"{stated_distance(definition.distance_nm)} NM{' DME' if reads_dme else ''}"
        where = f"{point.name} is {far} from {station.ident}"
        if not station.dme:
            yield Found(f"{where}, which has no DME", leg, None if reads_dme else Severity.WARNING)
        elif case.request.equipment.dme == 0 and reads_dme:
            yield Found(f"{where}, and the aeroplane has no DME", leg, Severity.WARNING)


def _station_named(case: Case, ident: str) -> Station | None:
    """The station by which the file places a fix, where the flight knows it."""
    own = case.request.definitions.stations.get(ident)
    if own is not None:
        return own
    places = (*(one.place for one in case.log.route.points), *(station for station, _ in case.stations))
    return next((place for place in places if isinstance(place, Station) and place.ident == ident), None)


@rule(
    "channel-unpaired",
    Severity.WARNING,
    group=Group.REST,
    source="ICAO Annex 10, Volume I, table A: each frequency is paired with one channel",
    remedy="check frequency and channel against the chart; in a route file the pair is refused at once",
    passing=PUBLISHED,
    failing=UNVERIFIED,
)
def channel_unpaired(case: Case) -> Iterator[Found]:
    """The published channel of a station is not the one paired with its frequency."""
    for station, leg in case.stations:
        if station.channel is None or station.frequency_mhz is None:
            continue
        try:
            paired = channel_for(station.frequency_mhz)
        except NavlogError:
            paired = "none"
        if paired != station.channel:
            tuned = f"{station.ident} {frequency(station.frequency_mhz)}"
            message = f"{tuned} is published with channel {station.channel}; paired is {paired}"
            yield Found(message, leg, about=station.ident)


@rule(
    "frequencies-alike",
    Severity.NOTE,
    group=Group.REST,
    source="NASA ASRS report 295766: 116.5 tuned for 116.7",
    remedy="identify each station by its Morse before relying on it",
    passing=BASE,
    failing=sample("station QEL 113.90 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft"),
)
def frequencies_alike(case: Case) -> Iterator[Found]:
    """The next station's frequency is within 0.2 MHz of the one before, or one digit or a swap away."""
    guided = (leg.part.guidance for leg in case.arriving)
    in_use = [(guidance.station, case.legs[0]) for guidance in guided if guidance is not None]
    first = case.stations[:1]
    for (before, _), (after, leg) in (*((one, then) for one in in_use for then in first), *pairwise(case.stations)):
        one, other = before.frequency_mhz, after.frequency_mhz
        if one is None or other is None or before.ident == after.ident:
            continue
        if _alike(one, other):
            tuned = f"{after.ident} {frequency(other)} comes after {before.ident} {frequency(one)}"
            yield Found(tuned, leg, about=tuned)


@lru_cache(maxsize=4_096)
def _alike(one_mhz: float, other_mhz: float) -> bool:
    """Whether two frequencies are 0.2 MHz apart or less, or one slip."""
    return abs(one_mhz - other_mhz) <= _ALIKE_MHZ + 1e-6 or _one_slip_apart(frequency(one_mhz), frequency(other_mhz))


def _one_slip_apart(one: str, other: str) -> bool:
    """Whether two frequencies differ in one digit, or have two digits changed over."""
    apart = [index for index, differs in enumerate(map(str.__ne__, one, other)) if differs]
    if len(apart) == 2:
        first, second = apart
        return one[first] == other[second] and one[second] == other[first]
    return len(apart) <= 1


@rule(
    "frequency-shared",
    Severity.WARNING,
    group=Group.REST,
    source="NASA ASRS report 122401: two stations on 112.00 taken for each other",
    remedy="identify the station by its whole Morse ident before relying on it",
    passing=sample("station QSK 110.20 N51 30.00 W030 50.00 decl 14W class L"),
    failing=sample("station QSK 110.20 N45 58.00 W038 50.00 decl 14W class L"),
)
def frequency_shared(case: Case) -> Iterator[Found]:
    """Another station within 200 NM of the leg has the frequency of the one in use.

    The first and the last leg on which a station is used are looked at.
    """
    own = tuple(case.request.definitions.stations.values())
    lasts = {leg.part.guidance.station.ident: leg for leg in case.legs if leg.part.guidance is not None}
    for station, first in case.stations:
        last = lasts.get(station.ident, first)
        places: dict[Position, Leg] = {}
        for leg in (first,) if last is first else (first, last):
            for end in (leg.start, leg.end):
                if end.position is not None:
                    places[end.position] = leg
        if station.frequency_mhz is None or not places:
            continue
        centre = station.position or next(iter(places))
        # In whole hundreds of miles, so that one answer serves most flights that use the station.
        farthest_nm = max([distance_nm(centre, place) for place in places if place != centre], default=0.0)
        used_nm = _AROUND_NM * ceil(farthest_nm / _AROUND_NM)
        around = (centre, _SHARED_WITHIN_NM + used_nm, case.request.day)
        published = case.neighbours.stations_on(station.frequency_mhz, *around) if case.neighbours else ()
        for other in (*own, *published):
            there = other.position
            if (
                there is None
                or other.frequency_mhz != station.frequency_mhz
                or other.kind is not _VOR
                or other.ident == station.ident
            ):
                continue
            away_nm, leg_number = min((distance_nm(place, there), leg.number) for place, leg in places.items())
            if away_nm <= _SHARED_WITHIN_NM:
                shared = f"{other.ident} is on {frequency(station.frequency_mhz)} too"
                where = f"{distance(away_nm)} NM from where {station.ident} is used"
                yield Found(
                    f"{shared}, {where}",
                    first if leg_number == first.number else last,
                    about=f"{station.ident} {other.ident}",
                )


@rule(
    "declination-old",
    Severity.NOTE,
    group=Group.DATA,
    at_times=(Severity.WARNING, Severity.ERROR),
    source="FAA NASR station declinations against the World Magnetic Model: 90 % within 6.3 degrees, all within 7.7",
    remedy="expect the needle and the compass to disagree, the log gives both; far off, read letter and digits again",
    passing=BASE,
    failing=sample(
        "station QHB 113.70 N46 12.30 W039 20.70 decl 21W class L dme elev 820ft",
        "airway V801 QHB 218 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB",
    ),
)
def declination_old(case: Case) -> Iterator[Found]:
    """A station's declination is more than 6 degrees from today's variation there.

    A warning beyond 10 degrees. Of a station of the file an error beyond 15, and where east written for west, or west
    for east, is the likelier reading: every course that is set on it is out by as much.
    """
    for station, leg, variation_deg in _beside_the_model(case):
        stated_deg = station.declination_deg
        if stated_deg is None or abs(difference_deg(stated_deg, variation_deg)) <= _OLD_DEG:
            continue
        severity, meant = doubt(stated_deg, variation_deg)
        if severity is Severity.ERROR and station.provenance.source is not Source.FILE:
            severity, meant = Severity.WARNING, ""
        led = () if severity is Severity.NOTE else [one for one, guide in case.guided if guide.station == station]
        yield Found(
            f"{station.ident} is aligned to {east_west(stated_deg)};"
            f" the variation there is {east_west(variation_deg)}{meant}",
            leg,
            severity,
            about=station.ident,
            also=tuple(one for one in led if one is not leg),
        )


def _beside_the_model(case: Case) -> Iterator[tuple[Station, Leg, float]]:
    """Each station passed, and each of the file in use, whose declination the model can be held against.

    With its first leg and the model's variation there, in degrees.
    """
    told = set()
    for leg in case.first_legs:
        stretch = leg.stretch
        if stretch.variation is None or stretch.variation_source != "model":
            continue
        for point in (stretch.start, stretch.end):
            station = point.place
            if not isinstance(station, Station) or station.ident in told:
                continue
            if station.declination_deg is None or station.true_referenced:
                continue
            told.add(station.ident)
            # Not before: the model is asked for the station's variation alone.
            yield station, leg, stretch.variation.start_deg if point is stretch.start else stretch.variation.end_deg
    for station, leg in case.stations:
        # Published ones beside the way have the declination of the chart, whose radials they give.
        if station.ident in told or station.provenance.source is not Source.FILE or station.true_referenced:
            continue
        if station.position is not None and leg.stretch.variation_source == "model":
            from navlog.nav.magnetism import variation_deg

            yield station, leg, variation_deg(station.position, case.request.day)
