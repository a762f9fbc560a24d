"""The data behind the numbers: out of date, unverified, contradicted, or magnetic north hard to find."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.track import position_at
from navlog.nav.airac import cycle_ident, effective_date, expiry
from navlog.nav.angles import difference_deg
from navlog.nav.chart import Fix, Position
from navlog.nav.figures import course, distance, east_west
from navlog.nav.guidance import StatedDistance
from navlog.nav.magnetism import declination_and_zone, variation_deg
from navlog.nav.problems import NavlogError
from navlog.resolve.route import Identification, MarkKind
from navlog.rules.declinations import doubt
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, PUBLISHED, UNVERIFIED, sample

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_RADIAL, _DME = MarkKind.RADIAL, MarkKind.DME

_DIFFERS_DEG = 2.0
"""A stated variation this far from the model's where a position is known is worth a look (the format's bound)."""

_NO_ZONE_BELOW_DEG = 50.0
"""Nearer to the equator the horizontal field is over 6,000 nT everywhere (WMM2025; the least is at 57 south)."""


@once_a_flight
@rule(
    "data-out-of-date",
    Severity.WARNING,
    group=Group.DATA,
    source="ICAO Annex 15: AIRAC cycles of 28 days",
    remedy="import the cycle in force on the day: `navlog catalogue import PATH`",
    passing=PUBLISHED,
    failing=PUBLISHED.replace("date 2026-07-18", "date 2026-09-18"),
)
def data_out_of_date(case: Case) -> Iterator[Found]:
    """Published data that the flight uses does not hold on its day.

    Of files of several cycles imported together the oldest that tells anything the flight uses decides.
    """
    day = case.request.day
    for source in case.log.route.sources:
        if source.effective is None or source.expires is None:
            continue
        if source.effective <= day < source.expires and source.oldest is None:
            continue
        name = f"{source.source.value.upper()} {source.cycle or ''}".rstrip()
        if not source.effective <= day < source.expires:
            held = f"{name} holds from {source.effective} until {source.expires}"
            yield Found(f"{held}, and the flight is on {day}", about=name)
        elif source.oldest is not None:
            # A file of an earlier cycle than one that holds on the day is out of date by that.
            cycle = cycle_ident(source.oldest)
            ended = expiry(effective_date(cycle))
            held = f"of {name} a file in use is of {source.oldest}: cycle {cycle} held until {ended}"
            yield Found(f"{held}, and the flight is on {day}", about=name)


@rule(
    "unverified-source",
    Severity.WARNING,
    group=Group.DATA,
    source="the source's own terms; OurAirports has old frequencies and declinations on one station in six",
    remedy="check position, frequency and declination against the chart, or define the station in the file",
    passing=PUBLISHED,
    failing=UNVERIFIED,
)
def unverified_source(case: Case) -> Iterator[Found]:
    """A station in use comes from a source that nobody vouches for."""
    for station, leg in case.stations:
        if not station.provenance.verified:
            message = f"{station.ident} is from {station.provenance.source.value}, which is not verified"
            yield Found(message, leg, about=station.ident)


@once_a_flight
@rule(
    "differs-from-published",
    Severity.WARNING,
    group=Group.DATA,
    subject="difference",
    source="the catalogue: places, elevations, frequencies, declinations, DME, class; altitudes and radials of airways",
    remedy="take the definition out of the file, or see to it that it is right on purpose",
    passing=PUBLISHED,
    failing=PUBLISHED + "station QPB 115.50 N45 30.00 W039 12.00 decl 15W class L elev 90ft\n",
)
def differs_from_published(case: Case) -> Iterator[Found]:
    """The file defines a name otherwise than the published data does."""
    for what in case.log.route.differs:
        yield Found(what)


@rule(
    "compass-zone",
    Severity.WARNING,
    group=Group.REST,
    at_times=(Severity.ERROR,),
    source="World Magnetic Model: blackout under 2,000 nT of horizontal field, caution under 6,000 nT",
    remedy="do not rely on a magnetic compass there; steer by gyro or true-referenced stations",
    passing=BASE,
    failing=sample("route XHAR 74N095W", "-direct QHB"),
)
def compass_zone(case: Case) -> Iterator[Found]:
    """The flight leads where a magnetic compass is sluggish, an error where it is useless.

    Looked at are the ends of each leg and its middle.
    """
    points = case.log.route.points
    farthest_deg = max([abs(one.position.latitude_deg) for one in points if one.position is not None], default=0.0)
    longest_nm = max([leg.stretch.length_nm for leg in case.first_legs], default=0.0)
    # Between its ends a stretch leads by half its length nearer to a pole at most, a degree each 60 NM.
    if farthest_deg + longest_nm / 120.0 < _NO_ZONE_BELOW_DEG:
        return
    for leg in case.legs:
        start, end = (_zone_at(case, one.position) for one in (leg.start, leg.end))
        middle = _zone_at(case, position_at(leg.stretch, (leg.start_nm + leg.end_nm) / 2.0))
        told = {leg.start.name: start if leg is case.legs[0] else None, leg.end.name: end}
        if middle not in (start, end):
            told[f"the middle of {leg.start.name} to {leg.end.name}"] = middle
        for name, zone in told.items():
            if zone is not None:
                grave = Severity.ERROR if zone == "blackout" else Severity.WARNING
                yield Found(f"{name} lies in the {zone} zone of the magnetic model", leg, grave, about=name)


def _zone_at(case: Case, place: Position | None) -> str | None:
    """The magnetic model's "caution" or "blackout" zone at a place; None outside them and where unknown."""
    if place is None or abs(place.latitude_deg) < _NO_ZONE_BELOW_DEG:
        return None
    # A stated variation leaves the compass as it is; where neither counts everything is told from true north.
    if case.log.route.magnetic_model is None and case.request.variation_deg is None:
        return None
    try:
        return declination_and_zone(place, case.request.day)[1]
    except NavlogError:
        # No model covers the day, which is why the variation is stated.
        return None


@rule(
    "true-referenced",
    Severity.NOTE,
    group=Group.REST,
    source="Canada's Northern Domestic Airspace: stations aligned to true north, levels by true track",
    remedy="set true courses on this station, and read a gyro set to true north",
    passing=BASE,
    failing=sample(
        "station QEL 110.20 N45 44.10 W039 33.00 decl true class L dme elev 410ft",
        "airway V801 QHB 212 - 017 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB",
    ),
)
def true_referenced(case: Case) -> Iterator[Found]:
    """A station's radials count from true north."""
    for station, leg in case.stations:
        if station.true_referenced:
            message = f"{station.ident} is aligned to true north: its radials and courses are true"
            yield Found(message, leg, about=station.ident)


@rule(
    "variation-differs",
    Severity.WARNING,
    group=Group.REST,
    subject="variation stated",
    at_times=(Severity.ERROR,),
    source="World Magnetic Model on the day of the flight",
    remedy="leave `variation` out, or accept it for an old chart or an examination on purpose",
    passing=sample("variation 12.5W"),
    failing=sample("variation 7E"),
)
def variation_differs(case: Case) -> Iterator[Found]:
    """The stated variation is more than 2 degrees from the model's where a position is known.

    An error beyond 15 degrees, and where east written for west, or west for east, is the likelier reading: every
    heading is out by as much.
    """
    stated_deg = case.request.variation_deg
    if stated_deg is None:
        return
    for point in case.log.route.points:
        if point.position is None:
            continue
        try:
            model_deg = variation_deg(point.position, case.request.day)
        except NavlogError:
            # No model covers the day, which is why the variation is stated.
            return
        if abs(difference_deg(stated_deg, model_deg)) > _DIFFERS_DEG:
            severity, meant = doubt(stated_deg, model_deg)
            message = (
                f"variation {east_west(stated_deg)} is stated; the model's at {point.name} is {east_west(model_deg)}"
                f"{meant}"
            )
            error = severity if severity is Severity.ERROR else None
            yield Found(message, None, error, case.request.spans.get("variation"), about="variation")
            return


@rule(
    "fix-computed",
    Severity.WARNING,
    source="FAA NASR FIX_NAV: radials and distances over the ground; re-aligned stations leave old radials behind",
    remedy="define the fix in the file with the position from the chart",
    passing=PUBLISHED,
    failing=sample("route XHAR QHB V801 QEL/A055 MAKER XOLD", "-direct QEL"),
    group=Group.DATA,
)
def fix_computed(case: Case) -> Iterator[Found]:
    """A fix has no published position and stands where its radials and distances put it."""
    for leg in case.first_legs:
        for fix in (leg.stretch.start.place, leg.stretch.end.place):
            if isinstance(fix, Fix) and fix.computed:
                by = " and ".join(dict.fromkeys(bearing.station for bearing in fix.makeup))
                message = f"{fix.ident} has no published position; it is placed by its make-up from {by}"
                yield Found(message, leg, about=fix.ident)


@rule(
    "makeup-differs",
    Severity.WARNING,
    source="FAA NASR FIX_NAV beside FIX_BASE and NAV_BASE: re-aligned stations leave old radials behind",
    remedy="compare with the current chart; the needle and the DME read what the position makes",
    passing=sample("route XHAR QHB V801 QEL/A055 QPB XOLD"),
    failing=sample("route XHAR QHB V801 QEL/A055 OLDEN XOLD"),
    group=Group.GUIDANCE,
)
def makeup_differs(case: Case) -> Iterator[Found]:
    """A published radial or distance of a fix is not what its position makes of the station as it is today.

    By more than 1 degree of a radial, or by 0.5 NM and 1 % of a distance.
    """
    for leg in case.marked:
        fix = leg.stretch.end.fix
        # A position that is itself computed from the make-up agrees with it.
        for mark in () if fix is not None and fix.computed else leg.marks:
            told = _differing(mark.by)
            if told:
                yield Found(f"{leg.end.name} is published {told}", leg, about=f"{leg.end.name} {told}")


def _differing(one: Identification) -> str:
    """What a fix's make-up says of a station and what its position makes of it; empty where they agree."""
    ident = one.station.ident
    if one.kind is _RADIAL and one.makeup_differs:
        moved = difference_deg(one.published_radial_deg or 0.0, one.radial_deg or 0.0)
        return (
            f"on {ident} R-{course(one.published_radial_deg)} and lies on R-{course(one.radial_deg)} by its position:"
            f" {abs(moved):.1f} degrees apart"
        )
    by_dme = one.kind is _DME and one.published_nm is not None
    if by_dme and not StatedDistance(one.published_nm, one.away_nm).agrees:
        return (
            f"{distance(one.published_nm)} NM from {ident} and lies {distance(one.away_nm)} NM from it by its position"
        )
    return ""
