"""Numbers that are not known because nothing was given."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.changeovers import NOT_IN_SOURCE
from navlog.flightlog.counted import Count
from navlog.flightlog.facts import heading_text, why_no_guidance, why_no_variation
from navlog.flightlog.records import Leg
from navlog.flightlog.track import course_at, variation_at
from navlog.nav.angles import difference_deg
from navlog.nav.figures import course, tenths
from navlog.nav.guidance import Guidance
from navlog.resolve.route import ChangeoverKind
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, sample

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_UNKNOWN = ChangeoverKind.UNKNOWN

_TRUE_BY_CHART = (
    "station QHB 113.70 decl true",
    "station QEL 110.20 decl true",
    "airway V801 QHB 199 - 019 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB",
    "-direct QHB",
    "-direct QEL",
    "direct QEL 109 - XOLD 9.6nm min 2500",
    "altitude 4500",
    "route QHB V801 QEL",
)
"""Changes the base flight into one by the chart alone, between stations aligned to true north."""

_TURNS_DEG = 10.0
"""More than a pilot corrects without noticing (common practice, no source)."""


@once_a_flight
@rule(
    "no-wind",
    Severity.WARNING,
    group=Group.FLYING,
    source="nothing is assumed: only `wind calm` means calm",
    remedy="give the forecast: `wind 3000 230/12  6000 240/18`",
    passing=BASE,
    failing=sample("-wind"),
    acceptable=False,
)
def no_wind(case: Case) -> Iterator[Found]:
    """No wind is given: headings, groundspeed, times and fuel are unknown."""
    if case.log.conditions.winds is None:
        yield Found("no wind given: headings, groundspeed, times and fuel are unknown")


@once_a_flight
@rule(
    "no-off",
    Severity.WARNING,
    group=Group.REST,
    source="nothing is assumed",
    remedy="give the time of take-off: `off 15:10Z`",
    passing=BASE,
    failing=sample("-off"),
    acceptable=False,
)
def no_off(case: Case) -> Iterator[Found]:
    """No take-off time is given: only elapsed times are known."""
    if case.log.conditions.off is None:
        yield Found("no take-off time given: only elapsed times are known")


@once_a_flight
@rule(
    "no-fuel",
    Severity.WARNING,
    group=Group.FLYING,
    source="nothing is assumed",
    remedy="give `burn` and `fuel`",
    passing=BASE,
    failing=sample("-fuel"),
    acceptable=False,
)
def no_fuel(case: Case) -> Iterator[Found]:
    """Burn or fuel on board is not given: fuel is unknown and the reserve is not tested."""
    log = case.log
    burns = log.fuel.burn_per_h is not None and (log.totals.fuel is not None or log.totals.time_min is None)
    missing = [word for word, given in (("burn", burns), ("fuel", log.conditions.on_board is not None)) if not given]
    if missing:
        words = " and ".join(f"`{word}`" for word in missing)
        yield Found(f"no {words} given: fuel left is unknown and the reserve is not tested")


@rule(
    "course-unknown",
    Severity.WARNING,
    group=Group.GUIDANCE,
    source="a station's radials need its own declination, never the model's",
    remedy="give the station its `decl`, or write the charted radial beside it",
    passing=BASE,
    failing=sample(
        "station QEL 110.20 N45 44.10 W039 33.00 class L dme elev 410ft",
        "airway V801 QHB 212 - QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB",
    ),
    acceptable=False,
)
def course_unknown(case: Case) -> Iterator[Found]:
    """A station guides a leg and the course to set is not known."""
    for leg in case.legs:
        guidance = leg.part.guidance
        if guidance is not None and guidance.radial.flown is None and leg.stretch.length_nm > 1.0:
            yield Found(f"no course to set for {guidance.station.ident}: {_why_no_radial(guidance)}", leg)


def _why_no_radial(guidance: Guidance) -> str:
    """What is missing for a radial."""
    if guidance.station.declination_deg is None:
        return "its declination is not given and no radial is charted"
    return "no position and no charted radial"


@rule(
    "variation-unknown",
    Severity.WARNING,
    group=Group.GUIDANCE,
    source="nothing is assumed: a true-referenced station says nothing about magnetic north",
    remedy="give the `variation`, or positions",
    passing=sample(*_TRUE_BY_CHART, "variation 13W"),
    failing=sample(*_TRUE_BY_CHART),
    acceptable=False,
)
def variation_unknown(case: Case) -> Iterator[Found]:
    """Magnetic headings are not known: nothing says how far magnetic north is from true north."""
    told: set[int] = set()
    for leg in case.legs:
        if leg.variation_deg is None and leg.stretch.number not in told:
            told.add(leg.stretch.number)
            way = f"{leg.stretch.start.name} to {leg.stretch.end.name}"
            yield Found(f"no magnetic heading is known from {way}: {why_no_variation(leg)}", leg)


@rule(
    "no-guidance",
    Severity.WARNING,
    group=Group.GUIDANCE,
    subject="unguided",
    source="14 CFR 95.8001; AIM 1-1-8 for service volumes off airways",
    remedy="hold heading and time, or state whose radial holds the leg: `on STN RADIAL`",
    passing=BASE,
    failing=sample("route XHAR XOLD", "-direct QHB", "-direct QEL"),
)
def no_guidance(case: Case) -> Iterator[Found]:
    """No station serves a leg: dead reckoning."""
    for leg in case.unguided:
        if not leg.stays:
            count = case.count(leg)
            way = f"{tenths(count.distance_tenths)} NM of {leg.stretch.start.name} to {leg.stretch.end.name}"
            message = f"dead reckoning for {way}{_held(count)}: {why_no_guidance(leg.part)}"
            yield Found(message, leg, by=leg.distance_nm)


@rule(
    "course-turns",
    Severity.WARNING,
    group=Group.REST,
    subject="unguided",
    source="a great circle's course changes along it, and the variation with it; 10 degrees common practice, no source",
    remedy="put points on the way, so that each leg has a heading of its own",
    passing=BASE,
    failing=sample("route XHAR 5500N01500W", "-direct QHB", "-direct QEL"),
)
def course_turns(case: Case) -> Iterator[Found]:
    """A leg without guidance has one heading, and its magnetic course turns by more than 10 degrees."""
    for leg in case.unguided:
        courses = _magnetic_courses(leg)
        if courses and (turned_deg := abs(difference_deg(courses[-1], courses[0]))) > _TURNS_DEG:
            first, last = (course(one) for one in courses)
            yield Found(f"the magnetic course goes from {first} to {last} on one heading", leg, by=turned_deg)


def _magnetic_courses(leg: Leg) -> tuple[float, ...]:
    """The magnetic courses where a leg starts and ends, by position and variation there; none where unknown."""
    ends = [
        (course_at(leg.stretch, leg.part, along_nm)[0], variation_at(leg.stretch, leg.part, along_nm)[0])
        for along_nm in (leg.start_nm, leg.end_nm)
    ]
    return tuple(true_deg - east_deg for true_deg, east_deg in ends if true_deg is not None and east_deg is not None)


def _held(count: Count) -> str:
    """The heading and time to hold on a leg, where they are known, which they are together."""
    heading = heading_text(count.leg)
    return "" if heading is None else f", heading {heading} for {count.time_min} min"


@rule(
    "changeover-unknown",
    Severity.WARNING,
    group=Group.GUIDANCE,
    subject="changeover",
    source="14 CFR 95.8001",
    remedy="state the changeover point: `cop 21 QHB`",
    passing=BASE,
    failing=sample(
        "fix LAKER N46 02.00 W039 10.00",
        "fix MOORE N45 48.00 W039 45.00",
        "airway V801 QHB - LAKER 12.7nm mea 3000 turn - MOORE 28.2nm mea 3000 turn - QEL 9.4nm mea 3000",
    ),
)
def changeover_unknown(case: Case) -> Iterator[Found]:
    """The way bends more than once between two stations and no changeover point is published."""
    for leg, changeover in case.changeovers:
        if changeover.kind is _UNKNOWN:
            ends = f"{changeover.behind.ident} and {changeover.ahead.ident}"
            yield Found(f"the changeover point between {ends} is not known", leg)


@rule(
    "changeover-not-in-source",
    Severity.WARNING,
    source="ARINC 424-18, section ER (enroute airways): no field for a changeover point",
    remedy="take the changeover point off the chart, or import the FAA's NASR data, which carries them",
    passing=BASE,
    failing=sample("route XHAR QHB QCA V803 QCB XOLD"),
    group=Group.GUIDANCE,
    subject="changeover",
)
def changeover_not_in_source(case: Case) -> Iterator[Found]:
    """What an airway is read from carries no changeover points, and the usual place of one is told.

    The chart may have another.
    """
    for leg, changeover in case.changeovers:
        if changeover.not_in_source:
            ends = f"{changeover.behind.ident} and {changeover.ahead.ident}"
            where = "midway" if changeover.kind is ChangeoverKind.MIDPOINT else "at the bend"
            yield Found(f"the changeover point between {ends} is {NOT_IN_SOURCE}; {where} is convention alone", leg)


@rule(
    "station-class-unknown",
    Severity.NOTE,
    group=Group.GUIDANCE,
    subject="changeover",
    source="AIM 1-1-8, standard service volumes",
    remedy="give the station its `class`: T, L, H, VL or VH",
    passing=BASE,
    failing=sample("station QEL 110.20 N45 44.10 W039 33.00 decl 17W dme elev 410ft", "route XHAR QHB DCT QEL XOLD"),
)
def station_class_unknown(case: Case) -> Iterator[Found]:
    """Off airways the changeover point stays at the middle because a station's range is not known."""
    for leg, changeover in case.changeovers:
        if changeover.unclassed:
            names = " and ".join(changeover.unclassed)
            yield Found(f"the changeover point is midway: the service volume of {names} is not known", leg)


@rule(
    "airway-joins",
    Severity.NOTE,
    group=Group.REST,
    source="the chart in use",
    remedy="write the airway between the two points, or `DCT` where direct is meant",
    passing=BASE,
    failing=sample("route XHAR QHB QEL XOLD"),
)
def airway_joins(case: Case) -> Iterator[Found]:
    """Nothing is written between two points that an airway joins."""
    for leg in case.first_legs:
        stretch = leg.stretch
        if stretch.joins:
            airways = " and ".join(stretch.joins)
            join = "joins" if len(stretch.joins) == 1 else "join"
            yield Found(f"{airways} {join} {stretch.start.name} and {stretch.end.name}; direct is planned", leg)
