"""Exercises for a class: the same flight in drawn winds and at drawn levels, each flyable and all of it known.

The same seed gives the same exercises: only `Random.random` is drawn from, whose sequence Python keeps.
"""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterator
from random import Random

from msgspec import Struct

from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.nav.layout import WIDTH, columns, wrapped
from navlog.nav.problems import NavlogError, Span, problem_error
from navlog.nav.record import changed
from navlog.printed.head import facts, route_text
from navlog.printed.remarks import stations_in_order
from navlog.printed.rows import Row, ends, rows
from navlog.request.records import Level
from navlog.request.typed import ROUTE_OPTION, Overrides
from navlog.rules.answers import Answer
from navlog.rules.registry import Finding, Severity
from navlog.studies.marking_quantities import BY_KEY, MarkedQuantity

_ASKED = ("set_course", "flag", "wca", "heading", "groundspeed", "time", "eta", "fuel_used", "fuel_left")
_HEADS = ("set", "flag", "WCA", "HDG", "GS", "time", "ETA", "used", "left")
_LEAST_KT, _MOST_KT = 6, 36
_STEP_FT = 500
_STEPS = 8
"""How many steps a level is drawn from, below and above the planned one."""
_TRIES = 200
"""Draws for one exercise before it is given up."""


class _Exercise(Struct, frozen=True):
    """One exercise; `options` are those of a command that make the flight of it, beside what was given."""

    number: int
    options: tuple[tuple[str, str], ...]
    log: Log


def exercises(ask: Callable[[Overrides], Answer], given: Overrides, seed: int, count: int) -> tuple[_Exercise, ...]:
    """`count` different exercises by a seed. What `given` says of wind or altitude stays; the rest of them is drawn.

    `ask` answers for the flight with the overrides. An exercise has no unknown heading, groundspeed or time, no error,
    and no warning and no level against the rules where the flight as planned has none of it. Raises the problems of the
    flight as planned, and `no-exercise` where too few can be drawn.
    """
    planned = ask(given)
    if planned.report is None:
        raise NavlogError(*planned.problems)
    known = set(_judged(planned))
    cruise = planned.report.log.route.request.cruise
    random, found = Random(seed), dict[tuple[tuple[str, str], ...], Log]()
    tried: dict[tuple[tuple[str, str], ...], str | None] = {}
    why = "the winds and levels drawn were the same again"
    for _ in range(_TRIES * count):
        options = tuple(_drawn(random, given, cruise))
        if options not in tried:
            answer = ask(_with(given, options))
            tried[options] = _refused(answer, known)
            if tried[options] is None and answer.report is not None:
                found[options] = answer.report.log
                if len(found) == count:
                    return tuple(_Exercise(number, *one) for number, one in enumerate(found.items(), 1))
        why = tried[options] or why
    message = f"only {len(found)} of {count} exercises could be drawn; of the last one {why}"
    place = Span(planned.file, planned.line)
    raise problem_error("no-exercise", message, span=place, hint="draw fewer, or give --wind or --altitude yourself")


def _drawn(random: Random, given: Overrides, cruise: Level) -> Iterator[tuple[str, str]]:
    """A wind and a level, each where it is not given."""
    direction = 10 * (1 + int(random.random() * 36))
    speed_kt = _LEAST_KT + int(random.random() * (_MOST_KT - _LEAST_KT))
    steps = int(random.random() * (2 * _STEPS + 1)) - _STEPS
    if not given.wind:
        yield "wind", f"{direction:03d}/{speed_kt:02d}"
    if given.altitude is None:
        altitude_ft = max(_STEP_FT, cruise.altitude_ft + _STEP_FT * steps)
        yield "altitude", f"FL{altitude_ft / 100:03.0f}" if cruise.flight_level else f"{altitude_ft:.0f}"


def _with(given: Overrides, options: tuple[tuple[str, str], ...]) -> Overrides:
    """The overrides with the drawn options."""
    drawn = dict(options)
    wind = (drawn["wind"],) if "wind" in drawn else given.wind
    return changed(given, wind=wind, altitude=drawn.get("altitude", given.altitude))


_Judged = tuple[str, int | None, int | None]
"""A rule with the alternate and the stretch of the way on which it tells something; None of the route, of all of it."""


def _judged(answer: Answer) -> Iterator[_Judged]:
    """Each rule that tells something of a flight, with where it does."""
    for found in answer.findings:
        yield from _places(answer, found)


def _places(answer: Answer, found: Finding) -> Iterator[_Judged]:
    """The rule of a finding with each stretch that it is told of: levels and winds cut legs elsewhere."""
    assert answer.report is not None
    way = answer.report.log
    number = None if found.alternate is None else found.alternate.number
    if number is not None:
        way = way.alternates[number - 1]
    for leg in (found.number, *found.also):
        yield found.rule, number, None if leg is None else way.legs[leg - way.legs[0].number].stretch.number


def _refused(answer: Answer, known: set[_Judged]) -> str | None:
    """Why a draw is no exercise; None where it is one."""
    if answer.report is None:
        return f"the flight has a problem: {answer.problems[0].message}"
    for leg in answer.report.log.legs:
        for one in leg.unknown:
            if one.key in ("true_heading_deg", "magnetic_heading_deg", "groundspeed_kt", "time_min"):
                return f"leg {leg.number} has no {one.key.rpartition('_')[0].replace('_', ' ')}: {one.reason}"
    for found in answer.findings:
        matters = found.severity is Severity.WARNING or found.rule == "cruising-level"
        new = found.severity is Severity.ERROR or (matters and not known.issuperset(_places(answer, found)))
        if new and found.accepted is None:
            return found.told
    return None


def sheet_lines(one: _Exercise, of: int, seed: int) -> Iterator[str]:
    """The exercise to print: what is given, and an empty row a leg."""
    log, printed = one.log, rows(one.log)
    yield from _head("EXERCISE", one, of, seed)
    for line in (f"Route {route_text(log)}", *facts(log), *_fuel_facts(log)):
        yield from wrapped(line, WIDTH, "  ")
    yield ""
    yield "GIVEN"
    heads = ("leg", "from", "to", "TC", "var", "TAS", "wind", "NM", "burn/h")
    yield from columns([heads, *map(_given_cells, printed)], "lllrrrrrr", heads=1)
    stations = [(station.ident, figures.frequency(station.frequency_mhz), _signed(station.declination_deg))
                for station in stations_in_order(log)]  # fmt: skip
    yield ""
    yield from columns([("station", "MHz", "declination"), *stations], "lrr", heads=1)
    yield ""
    yield "ANSWERS"
    blank = [(f"{row.leg.number}", *(_blank(row, quantity) for quantity in _asked(printed))) for row in printed]
    yield from columns([("leg", *_asked_heads(printed)), *blank], "l" + "r" * len(_asked(printed)), heads=1, rule="-")


def key_lines(one: _Exercise, of: int, seed: int, given: Overrides, more: tuple[str, ...]) -> Iterator[str]:
    """The figures of an exercise, and how answers to it are marked.

    `given` are the overrides with which it was made, `more` other words that the command which marks needs.
    """
    log, printed = one.log, rows(one.log)
    yield from _head("KEY", one, of, seed)
    cells = [(f"{row.leg.number}", *(_figure(row, quantity) for quantity in _asked(printed))) for row in printed]
    yield from columns([("leg", *_asked_heads(printed)), *cells], "l" + "r" * len(_asked(printed)), heads=1, rule="-")
    file = log.route.request.file
    words = ("navlog", "mark", *(() if file == ROUTE_OPTION else (file,)), "ANSWERS.csv", *more)
    yield f"Mark with: {shlex.join((*words, *_option_words(_with(given, one.options))))}"


def _option_words(given: Overrides) -> Iterator[str]:
    """The options that say what the overrides do."""
    for name in ("date", "off", "wind", "altitude", "unavailable", "notices", "route", "terrain", "statements"):
        said = getattr(given, name)
        for text in (said,) if isinstance(said, str) else said or ():
            yield f"--{'set' if name == 'statements' else name}"
            yield text
    if given.no_files:
        yield "--no-files"


def _head(what: str, one: _Exercise, of: int, seed: int) -> Iterator[str]:
    drawn = ", ".join(f"{name} {value}" for name, value in one.options)
    yield f"{what} {one.number} of {of}, seed {seed} - {one.log.route.request.name}: {drawn}"


def _fuel_facts(log: Log) -> Iterator[str]:
    """The fuel at start-up and for taxi."""
    unit, on_board, taxi = log.fuel_unit.name, log.conditions.on_board, log.conditions.taxi
    if on_board is not None:
        yield f"Fuel at start-up {on_board + taxi:g} {unit}, of it {taxi:g} {unit} for start and taxi"


def _given_cells(row: Row) -> tuple[str, ...]:
    """What a leg is figured from: true course, variation, airspeed, wind, distance and burn."""
    leg = row.leg
    wind, tas_kt = leg.wind, leg.tas_kt
    burn = "-" if leg.fuel_used is None or not leg.time_min else f"{leg.fuel_used / leg.time_min * 60.0:.1f}"
    return (
        str(leg.number),
        *ends(row),
        f"{figures.course(leg.true_course_deg)}T" if leg.true_course_deg is not None else "-",
        _signed(leg.variation_deg),
        "-" if tas_kt is None else figures.whole(tas_kt),
        "-" if wind is None else f"{figures.course(wind.from_true_deg)}/{figures.whole(wind.speed_kt)}",
        f"{row.distance_tenths / 10:.1f}",
        burn,
    )


def _signed(angle_deg: float | None) -> str:
    """A declination or variation with its side, to a tenth of a degree."""
    return "-" if angle_deg is None else f"{abs(angle_deg):.1f}{'E' if angle_deg >= 0.0 else 'W'}"


def _asked(printed: tuple[Row, ...]) -> tuple[MarkedQuantity, ...]:
    """What is asked: what the log has on any leg."""
    return tuple(BY_KEY[key] for key in _ASKED if any(BY_KEY[key].expected(row).exact is not None for row in printed))


def _asked_heads(printed: tuple[Row, ...]) -> tuple[str, ...]:
    asked = {quantity.key for quantity in _asked(printed)}
    return tuple(head for key, head in zip(_ASKED, _HEADS, strict=True) if key in asked)


def _blank(row: Row, quantity: MarkedQuantity) -> str:
    return "-" if quantity.expected(row).exact is None else "______"


def _figure(row: Row, quantity: MarkedQuantity) -> str:
    """The figure of the log as it is printed."""
    printed = quantity.expected(row).printed
    return "-" if printed is None else quantity.shown(printed, row.log.fuel_unit)
