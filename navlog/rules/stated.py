"""What a flight states that does not fit the flight."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import below
from navlog.nav.chart import Airport
from navlog.nav.figures import distance, whole
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, sample

_PATTERN_FT = 500.0
"""No pattern of aeroplanes is lower above its field (common practice, no source; AIM 4-3-3 recommends 1,000 ft)."""


@once_a_flight
@rule(
    "pattern-low",
    Severity.WARNING,
    group=Group.HEIGHT,
    source="the elevation of the last airport; AIM 4-3-3",
    remedy="write the altitude above the sea, field elevation and height of the pattern together",
    passing=sample("pattern 1350ft"),
    failing=sample("pattern 300ft"),
)
def pattern_low(case: Case) -> Iterator[Found]:
    """The last descent is planned to end below the field, or less than 500 ft above it.

    A pattern is flown about 1,000 ft above the field (AIM 4-3-3); `pattern 1000` may be meant as that. One at the
    field's own elevation plans the descent down to the field.
    """
    pattern_ft, end = case.request.pattern_ft, case.log.route.points[-1]
    field_ft = end.place.elevation_ft if isinstance(end.place, Airport) else None
    if pattern_ft is None or field_ft is None or not below(pattern_ft, field_ft + _PATTERN_FT):
        return
    if not below(pattern_ft, field_ft) and not below(field_ft, pattern_ft):
        return
    away = "below" if below(pattern_ft, field_ft) else f"only {whole(pattern_ft - field_ft)} ft above"
    message = f"the pattern at {whole(pattern_ft)} ft is {away} {end.name}, elevation {whole(field_ft)} ft"
    yield Found(message, span=case.request.spans.get("pattern"))


@once_a_flight
@rule(
    "stated-unused",
    Severity.NOTE,
    group=Group.REST,
    at_times=(Severity.WARNING,),
    source="nothing that is written is left out unseen",
    remedy="leave it out, or write it where it counts",
    passing=BASE,
    failing=sample("route XHAR QHB V801 QEL/A055 XOLD/A045"),
)
def stated_unused(case: Case) -> Iterator[Found]:
    """Something stated has no effect: a level at the route's end, or a pattern where no airport is.

    Also a hold at a point that the flight passes more than once, as it counts at the first passage alone. A ceiling
    below the flight's own level is a warning: one of the two is a slip.
    """
    request, points = case.request, case.log.route.points
    last = request.route[-1]
    if last.level is not None:
        yield Found(f"`{last.text}` ends the route, so that no leg is flown at that level", span=last.span)
    if request.pattern_ft is not None and not isinstance(points[-1].place, Airport):
        message = f"the flight ends at {points[-1].name}, no airport, so that no pattern is joined"
        yield Found(message, span=request.spans.get("pattern"))
    if request.ceiling is not None and below(request.ceiling.altitude_ft, request.cruise.altitude_ft):
        ceiling = f"the ceiling of {whole(request.ceiling.altitude_ft)} ft"
        message = f"{ceiling} is below the level of {whole(request.cruise.altitude_ft)} ft; only comparisons heed it"
        yield Found(message, None, Severity.WARNING, request.spans.get("ceiling"))
    passed = [word.ident for word in request.route]
    for hold in request.holds:
        times = passed.count(hold.point.ident)
        if times > 1:
            message = f"the hold at {hold.point.name} is flown at the first of {times} passages alone"
            yield Found(message, span=hold.point.span)


@once_a_flight
@rule(
    "radio-elsewhere",
    Severity.NOTE,
    group=Group.REST,
    source="the points of the route and what the file defines",
    remedy="correct the name; the frequency is printed with it all the same",
    passing=sample('radio XOLD "Tower" 118.700'),
    failing=sample('radio ZZZZ "Tower" 118.700'),
)
def radio_elsewhere(case: Case) -> Iterator[Found]:
    """A frequency is stated of a place that the flight does not pass and its file does not define."""
    route, given = case.log.route, case.request.definitions
    known: set[str] = {*given.stations, *given.airports, *given.fixes}
    for way in (route, *route.alternates):
        known |= {name for point in way.points for name in (point.ident, point.name) if name is not None}
    for radio in case.request.radios:
        if radio.place not in known:
            yield Found(f"the flight has no place `{radio.place}`, of which a frequency is stated", span=radio.span)


@once_a_flight
@rule(
    "same-name",
    Severity.NOTE,
    group=Group.REST,
    source="the route line: at its ends a name is the airport, whatever else has it",
    remedy="write the station as one, `QHB:vor`, or leave it: the log prints what each point is",
    passing=BASE,
    failing=sample("airport QEL N45 41.00 W039 20.00 elev 350ft", "route XHAR QHB QEL", "-direct QEL", "-airway V801"),
)
def same_name(case: Case) -> Iterator[Found]:
    """The flight begins or ends at an airport whose name a VOR elsewhere has too."""
    for one in case.log.route.namesakes:
        away = "is elsewhere" if one.apart_nm is None else f"is {distance(one.apart_nm)} NM from it"
        message = f"{one.airport} is taken as the airport; the VOR of that name {away}: {one.airport}:vor would be that"
        yield Found(message, span=one.span)
