"""A route file to flights: common part, each flight's own statements and the command's overrides merged."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime
from os import path
from typing import TypeVar

from msgspec import Struct

from navlog.nav.chart import Airport, Station
from navlog.nav.problems import NavlogError, Problem, Span, at, in_order, problem_error
from navlog.nav.spelling import suggestion
from navlog.nav.units import Amount
from navlog.request.forms import FORMS
from navlog.request.lexer import split_lines
from navlog.request.parser import parse, parse_statement
from navlog.request.records import (
    Acceptance,
    AirwayDefinition,
    AlternateRequest,
    BrokenFlight,
    Definitions,
    DirectDefinition,
    Equipment,
    FileReference,
    FixDefinition,
    FlightPlans,
    HoldRequest,
    Level,
    Name,
    Off,
    RadioFrequency,
    Request,
    WindStatement,
)
from navlog.request.tree import ClockTime, FlightBlock, FlightRules, Statement, scope_keys

T = TypeVar("T")
_REQUIRED = ("route", "altitude", "date")
_WINDS = frozenset(("wind", "winds"))
_ABBREVIATED = {
    "AST": "America/Puerto_Rico", "EST": "America/New_York", "EDT": "America/New_York", "CST": "America/Chicago",
    "CDT": "America/Chicago", "MST": "America/Denver", "MDT": "America/Denver", "PST": "America/Los_Angeles",
    "PDT": "America/Los_Angeles", "AKST": "America/Anchorage", "AKDT": "America/Anchorage", "HST": "Pacific/Honolulu",
    "BST": "Europe/London", "CEST": "Europe/Paris", "AEST": "Australia/Sydney", "NZST": "Pacific/Auckland",
}  # fmt: skip
"""A zone in which a clock's usual abbreviation is meant; most of them have several meanings."""


class Overrides(Struct, frozen=True):
    """What a command's options say in every flight's place, as typed."""

    date: str | None = None
    off: str | None = None
    wind: tuple[str, ...] = ()
    altitude: str | None = None
    unavailable: tuple[str, ...] = ()


NO_OVERRIDES = Overrides()


def read_flights(
    text: str, file: str, *, overrides: Overrides = NO_OVERRIDES, digest: str | None = None
) -> FlightPlans:
    """Every flight of a route file; never raises for what a user may have typed.

    A flight that cannot be read comes back as a `BrokenFlight` with all its problems. Problems of the common
    part or of `overrides` stop the file: then there is no flight and every problem is in the answer's own.
    `digest` is the SHA-256 of the file's bytes; without it that of `text` in UTF-8 is taken.
    """
    tree = parse(text, file)
    typed, override_problems = _typed_statements(overrides)
    common, blocks = tree.common, tree.flights
    stopping = (*tree.problems, *override_problems)
    if not blocks:
        name = path.splitext(path.basename(file))[0]
        common, blocks = (), (FlightBlock(name, Span(file, 1), tree.common, tree.problems),)
        stopping = override_problems
    if stopping:
        everything = (*tree.all_problems(), *override_problems)
        return FlightPlans(file, tree.lines, (), in_order(everything))
    sha256 = digest or _digest(text)
    sources = {"--off": split_lines(overrides.off or ""), file: tree.lines}
    flights = tuple(
        _flight(block, _overridden(_merged(common, block.statements), typed), sources, sha256) for block in blocks
    )
    return FlightPlans(file, tree.lines, flights)


def _typed_statements(overrides: Overrides) -> tuple[tuple[Statement, ...], tuple[Problem, ...]]:
    """The overrides as statements of pseudo-files named like their options."""
    typed = [
        *(("date", text) for text in (overrides.date,) if text is not None),
        *(("off", text) for text in (overrides.off,) if text is not None),
        *(("altitude", text) for text in (overrides.altitude,) if text is not None),
        *(("wind", text) for text in overrides.wind),
        *(("unavailable", text) for text in overrides.unavailable),
    ]
    statements: list[Statement] = []
    problems: list[Problem] = []
    taken: set[Hashable] = set()
    for keyword, text in typed:
        statement, found = parse_statement(keyword, text, f"--{keyword}")
        problems += found
        keys = scope_keys(statement)
        if not taken.isdisjoint(keys):
            problems.append(Problem("given-twice", f"`--{keyword}` is given twice", statement.span, text=text))
        taken.update(keys)
        statements.append(statement)
    return tuple(statements), tuple(problems)


def _merged(common: tuple[Statement, ...], own: tuple[Statement, ...]) -> tuple[Statement, ...]:
    """The common statements that the flight's own do not replace, then its own."""
    own_keys = {key for statement in own for key in scope_keys(statement)}
    gone = {"alternate"} & {statement.keyword for statement in own}
    if any(map(_is_everywhere, own)):
        gone |= _WINDS
    # A common chain of direct legs may be replaced in part, so its pairs are told apart later.
    kept = (
        statement
        for statement in common
        if statement.keyword not in gone
        and (statement.keyword == "direct" or own_keys.isdisjoint(scope_keys(statement)))
    )
    return (*kept, *own)


def _overridden(statements: tuple[Statement, ...], typed: tuple[Statement, ...]) -> tuple[Statement, ...]:
    """The statements with the command's in place of those with the same keyword; stations add up."""
    gone = {statement.keyword for statement in typed} - {"unavailable"}
    if "wind" in gone:
        gone |= _WINDS
    return (*(statement for statement in statements if statement.keyword not in gone), *typed)


def _is_everywhere(statement: Statement) -> bool:
    """Whether a statement gives the wind of the whole flight."""
    value = statement.value
    return statement.keyword == "winds" or (isinstance(value, WindStatement) and value.place is None)


def _flight(
    block: FlightBlock, statements: tuple[Statement, ...], sources: Mapping[str, tuple[str, ...]], digest: str
) -> Request | BrokenFlight:
    """The flight that merged statements make up, or why they do not; `sources` are the lines by file."""
    file = block.span.file
    problems = [*block.problems, *_missing(block, statements, sources[file]), *_two_winds(statements, sources)]
    day, clock = _one(statements, "date", date), _one(statements, "off", ClockTime)
    off = None
    if day is not None and clock is not None:
        try:
            off = _moment(clock, day)
        except NavlogError as error:
            time = next(statement.words[0] for statement in statements if statement.keyword == "off")
            problems += [
                replace(problem, text=sources[problem.span.file][problem.span.line - 1])
                for problem in at(error, time.span).problems
                if problem.span is not None
            ]
    route, cruise = _one(statements, "route", tuple), _one(statements, "altitude", Level)
    if problems or day is None or route is None or cruise is None:
        return BrokenFlight(block.name, file, block.span.line, in_order(problems))
    rules = _one(statements, "rules", FlightRules) or FlightRules("vfr")
    return Request(
        name=block.name,
        file=file,
        line=block.span.line,
        digest=digest,
        day=day,
        route=route,
        cruise=cruise,
        definitions=_definitions(statements),
        off=off,
        rules=rules.rules,
        daytime=rules.daytime,
        levels=_one(statements, "levels", str) or "us",
        equipment=_one(statements, "equipment", Equipment) or Equipment(),
        tas_kt=_one(statements, "tas", float),
        burn=_one(statements, "burn", Amount),
        aircraft=_one(statements, "aircraft", FileReference),
        winds=_all(statements, "wind", WindStatement),
        bulletins=_all(statements, "winds", FileReference),
        fuel=_one(statements, "fuel", Amount),
        taxi=_one(statements, "taxi", Amount),
        extra=_one(statements, "extra", Amount),
        reserve_min=_one(statements, "reserve", float),
        contingency_percent=_one(statements, "contingency", float),
        variation_deg=_one(statements, "variation", float),
        altimeter_hpa=_one(statements, "altimeter", float),
        temperature_c=_one(statements, "temperature", float),
        ceiling=_one(statements, "ceiling", Level),
        pattern_ft=_one(statements, "pattern", float),
        alternates=_all(statements, "alternate", AlternateRequest),
        holds=_all(statements, "hold", HoldRequest),
        accepted=_all(statements, "accept", Acceptance),
        radios=_all(statements, "radio", RadioFrequency),
        notes=_all(statements, "note", str),
        spans={statement.keyword: statement.span for statement in reversed(statements)},
    )


def _definitions(statements: tuple[Statement, ...]) -> Definitions:
    """What the merged statements define."""
    pairs = {
        frozenset((pair.segment.start, pair.segment.end)): pair
        for chain in _all(statements, "direct", tuple)
        for pair in chain
        if isinstance(pair, DirectDefinition)
    }
    return Definitions(
        stations={station.ident: station for station in _all(statements, "station", Station)},
        airports={airport.ident: airport for airport in _all(statements, "airport", Airport)},
        fixes={fix.ident: fix for fix in _all(statements, "fix", FixDefinition)},
        airways={one.airway.ident: one for one in _all(statements, "airway", AirwayDefinition)},
        directs=tuple(pairs.values()),
        unavailable={name.ident: name.span for name in _all(statements, "unavailable", Name)},
    )


def _missing(block: FlightBlock, statements: tuple[Statement, ...], lines: tuple[str, ...]) -> list[Problem]:
    """Problems at the flight's own line for what every flight has to say.

    A statement that is there and could not be read is not missing.
    """
    given = {statement.keyword for statement in statements}
    text = lines[block.span.line - 1] if block.span.length > 1 else None
    problems = [
        Problem("missing-statement", f"the flight has no {keyword}", block.span, _add_like(keyword), text)
        for keyword in _REQUIRED
        if keyword not in given
    ]
    if given.isdisjoint(("tas", "aircraft")):
        hint = f"{_add_like('tas')}, or: aircraft {FORMS['aircraft'].example}"
        problems.append(Problem("missing-statement", "the flight has no speed", block.span, hint, text))
    return problems


def _two_winds(statements: tuple[Statement, ...], sources: Mapping[str, tuple[str, ...]]) -> list[Problem]:
    """A problem where a wind of the whole flight stands beside a bulletin: nobody says which is meant."""
    bulletins = [statement for statement in statements if statement.keyword == "winds"]
    winds = [statement for statement in statements if statement.keyword == "wind" and _is_everywhere(statement)]
    if not bulletins:
        return []
    hint = "leave one of the two out, or say where the stated wind blows: wind at QHB 230/12"
    return [
        Problem(
            "two-winds",
            "a `wind` of the whole flight stands beside `winds`",
            statement.span,
            hint,
            sources[statement.span.file][statement.span.line - 1],
        )
        for statement in winds
    ]


def _add_like(keyword: str) -> str:
    return f"add a line like: {keyword} {FORMS[keyword].example}"


def _moment(clock: ClockTime, day: date) -> Off:
    """Wheels off in UTC; a problem for an unknown zone and for a time that its clocks skip or repeat."""
    naive = datetime(day.year, day.month, day.day, clock.hour, clock.minute)  # noqa: DTZ001
    if clock.zone is None:
        return Off(naive.replace(tzinfo=UTC))
    from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

    try:
        zone = ZoneInfo(clock.zone.ident)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise NavlogError(_unknown_zone(clock.zone)) from None
    first, second = (naive.replace(tzinfo=zone, fold=fold).astimezone(UTC) for fold in (0, 1))
    if first == second:
        return Off(first, clock.zone.ident)
    repeated = first.astimezone(zone).replace(tzinfo=None) == naive
    choices = " or ".join(f"{moment:%H:%M}Z" for moment in sorted((first, second)))
    raise problem_error(
        "repeated-time" if repeated else "skipped-time",
        f"{naive:%H:%M} comes {'twice' if repeated else 'not at all'} on {day} in {clock.zone.ident}",
        hint=f"write {choices}, and date {first:%Y-%m-%d}",
    )


def _unknown_zone(zone: Name) -> Problem:
    from zoneinfo import available_timezones

    close = suggestion(zone.ident, sorted(available_timezones()))
    hint = f"did you mean {close}?" if close else "write a zone such as America/Chicago, or UTC: 15:10Z"
    if zone.ident in _ABBREVIATED:
        hint = f"write the zone's name, such as {_ABBREVIATED[zone.ident]}, or UTC: 15:10Z"
    return Problem("unknown-zone", f"`{zone.ident}` is no time zone", zone.span, hint)


def _one(statements: tuple[Statement, ...], keyword: str, kind: type[T]) -> T | None:
    """The value of the one statement with this keyword, None without it."""
    return next(iter(_all(statements, keyword, kind)), None)


def _all(statements: tuple[Statement, ...], keyword: str, kind: type[T]) -> tuple[T, ...]:
    """The values of every statement with this keyword, in file order."""
    return tuple(
        statement.value
        for statement in statements
        if statement.keyword == keyword and isinstance(statement.value, kind)
    )


def _digest(text: str) -> str:
    from hashlib import sha256

    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
