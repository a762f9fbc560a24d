"""A route file to flights: common part, each flight's own statements and the command's overrides merged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime
from os import path
from typing import Any

from navlog.nav.problems import NavlogError, Problem, Span, at, in_order, problem_error
from navlog.nav.record import changed
from navlog.nav.spelling import suggestion
from navlog.request.forms import Into
from navlog.request.parser import parse
from navlog.request.records import BrokenFlight, Definitions, FileReference, FlightPlans, Name, Off, Request
from navlog.request.statements import STATEMENTS, scope_keys
from navlog.request.tree import ClockTime, FlightBlock, Statement
from navlog.request.typed import NO_OVERRIDES, ROUTE_OPTION, Overrides, typed_statements

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_VALUE, _PARTS, _LIST = Into.VALUE, Into.PARTS, Into.LIST

_REQUIRED = ("route", "altitude", "date")
_ABBREVIATED = {
    "AST": "America/Puerto_Rico", "EST": "America/New_York", "EDT": "America/New_York", "CST": "America/Chicago",
    "CDT": "America/Chicago", "MST": "America/Denver", "MDT": "America/Denver", "PST": "America/Los_Angeles",
    "PDT": "America/Los_Angeles", "AKST": "America/Anchorage", "AKDT": "America/Anchorage", "HST": "Pacific/Honolulu",
    "BST": "Europe/London", "CEST": "Europe/Paris", "AEST": "Australia/Sydney", "NZST": "Pacific/Auckland",
}  # fmt: skip
"""A zone in which a clock's usual abbreviation is meant; most of them have several meanings."""


def read_flights(
    text: str, file: str, *, overrides: Overrides = NO_OVERRIDES, data: bytes | None = None
) -> FlightPlans:
    """Every flight of a route file; never raises for what a user may have typed.

    A flight that cannot be read comes back as a `BrokenFlight` with all its problems. Problems of the common
    part or of `overrides` stop the file: then there is no flight and every problem is in the answer's own.
    The SHA-256 that a log names is that of `data`, the file's bytes, or else of `text` in UTF-8; where no file is read,
    of the statements that the options make.
    """
    tree = parse(text, file)
    typed, override_problems, typed_lines = typed_statements(overrides)
    common, blocks = tree.common, tree.flights
    # What is wrong in the common part is wrong in every flight: told once, not once for each.
    stopping = (*tree.problems, *override_problems)
    # What a file lacks that is not read to its end, nobody knows.
    if not blocks and not tree.cut:
        name = _ends(typed) if file == ROUTE_OPTION else path.splitext(path.basename(file))[0]
        common, blocks = (), (FlightBlock(name, Span(file, 1), tree.common, tree.problems),)
        stopping = override_problems
    if stopping:
        everything = (*tree.all_problems(), *override_problems)
        return FlightPlans(file, tree.lines, (), in_order(everything))
    if file == ROUTE_OPTION:
        tree = changed(tree, lines=typed_lines.get(file, ()))
        # Without a file the digest is that of the file that would say the same.
        text, data = "\n".join(" ".join((one.keyword, *(word.text for word in one.words))) for one in typed), None
    digest = _digest(text.encode("utf-8", "surrogatepass") if data is None else data)
    sources = {**typed_lines, file: tree.lines}
    flights = tuple(
        _with_terrain(_flight(block, merged, sources, digest, no_files=overrides.no_files), overrides)
        for block in blocks
        for merged in [_overridden(_merged(common, block.statements), typed)]
    )
    return FlightPlans(file, tree.lines, flights)


def _files_refused(statements: tuple[Statement, ...], lines: tuple[str, ...], file: str) -> Iterator[Problem]:
    """A problem at each statement of a route file that names another; those of the options may."""
    for one in statements:
        if isinstance(one.value, FileReference) and one.span.file == file:
            message = f"`{one.keyword}` names a file, and --no-files lets a route file name none"
            hint = f"where you trust the file, leave --no-files out or hand it in: --set '{one.keyword} FILE'"
            yield Problem("file-refused", message, one.span, hint, lines[one.span.line - 1])


def _with_terrain(flight: Request | BrokenFlight, overrides: Overrides) -> Request | BrokenFlight:
    """The flight with the terrain that stands where it names none."""
    if overrides.terrain_otherwise is None or isinstance(flight, BrokenFlight) or flight.terrain is not None:
        return flight
    return changed(flight, terrain=FileReference(overrides.terrain_otherwise, Span("NAVLOG_TERRAIN", 1)))


def _ends(typed: tuple[Statement, ...]) -> str:
    """A name for a flight without a file: the words that its route begins and ends with."""
    routes = [statement.words for statement in typed if statement.keyword == "route" and statement.words]
    return f"{routes[0][0].text}-{routes[0][-1].text}" if routes else "flight"


def _merged(common: tuple[Statement, ...], own: tuple[Statement, ...]) -> tuple[Statement, ...]:
    """The common statements that the flight's own do not replace, then its own."""
    own_keys = {key for statement in own for key in scope_keys(statement)}
    swept = {
        form.family for one in own for form in [STATEMENTS[one.keyword]] if form.family and form.sweeping(one.value)
    }
    kept = (
        statement
        for statement in common
        for form in [STATEMENTS[statement.keyword]]
        # A common chain may be replaced in part, so its members are told apart later.
        if form.family not in swept and (form.is_chain or own_keys.isdisjoint(scope_keys(statement)))
    )
    return (*kept, *own)


def _overridden(statements: tuple[Statement, ...], typed: tuple[Statement, ...]) -> tuple[Statement, ...]:
    """The statements with the command's in place of those of the same family or name; what adds up is added."""
    if not typed:
        return statements
    gone = {_family(one) for one in typed if not STATEMENTS[one.keyword].adds and not _is_keyed(one)}
    keys = {key for one in typed if _is_keyed(one) for key in scope_keys(one)}
    kept = (one for one in statements if _family(one) not in gone and keys.isdisjoint(scope_keys(one)))
    return (*kept, *typed)


def _is_keyed(statement: Statement) -> bool:
    """Whether another of the same keyword may stand beside it, under another name."""
    form = STATEMENTS[statement.keyword]
    return form.family is None and form.key is not None


def _family(statement: Statement) -> str:
    return STATEMENTS[statement.keyword].family or statement.keyword


def _flight(
    block: FlightBlock,
    statements: tuple[Statement, ...],
    sources: Mapping[str, tuple[str, ...]],
    digest: str,
    *,
    no_files: bool = False,
) -> Request | BrokenFlight:
    """The flight that merged statements make up, or why they do not; `sources` are the lines by file."""
    file = block.span.file
    problems = [*block.problems, *_missing(block, statements, sources[file]), *_two_winds(statements, sources)]
    if no_files:
        problems += _files_refused(statements, sources[file], file)
    asked, defined = _fields(statements)
    day, clock = asked.get("day"), asked.get("off")
    if day is not None and clock is not None:
        try:
            asked["off"] = _moment(clock, day)
        except NavlogError as error:
            time = next(statement.words[0] for statement in statements if statement.keyword == "off")
            problems += [
                problem._replace(text=sources[problem.span.file][problem.span.line - 1])
                for problem in at(error, time.span).problems
                if problem.span is not None
            ]
    if problems or not asked.keys() >= {"day", "route", "cruise"}:
        return BrokenFlight(block.name, file, block.span.line, in_order(problems))
    return Request(
        name=block.name,
        file=file,
        line=block.span.line,
        digest=digest,
        definitions=Definitions(**defined),
        pasted=bool([one for one in statements if one.keyword == "route" and one.span.file == ROUTE_OPTION]),
        # Reversed, so that of several statements of a keyword the first is pointed at.
        spans={statement.keyword: statement.span for statement in reversed(statements)},
        **asked,
    )


def _fields(statements: tuple[Statement, ...]) -> tuple[dict[str, Any], dict[str, Any]]:
    """The fields of the request and of its definitions that merged statements fill, as the table says."""
    asked: dict[str, Any] = {}
    defined: dict[str, Any] = {}
    for statement in statements:
        form, value = STATEMENTS[statement.keyword], statement.value
        if value is None:
            continue
        for name in (form.field,) if isinstance(form.field, str) else form.field:
            if form.into is _VALUE:
                asked[name] = value
            elif form.into is _PARTS:
                asked[name] = getattr(value, name)
            elif form.into is _LIST:
                asked[name] = (*asked.get(name, ()), value)
            else:
                defined.setdefault(name, {}).update(form.entries(value))
    return asked, defined


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
        hint = f"{_add_like('tas')}, or: aircraft {STATEMENTS['aircraft'].example}"
        problems.append(Problem("missing-statement", "the flight has no speed", block.span, hint, text))
    return problems


def _two_winds(statements: tuple[Statement, ...], sources: Mapping[str, tuple[str, ...]]) -> list[Problem]:
    """A problem where a wind of the whole flight stands beside a bulletin: nobody says which is meant."""
    bulletins = [statement for statement in statements if statement.keyword == "winds"]
    winds = [
        statement
        for statement in statements
        if statement.keyword == "wind" and STATEMENTS["wind"].sweeping(statement.value)
    ]
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
    return f"add a line like: {keyword} {STATEMENTS[keyword].example}"


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
    # A time that comes twice differs by `fold`; so does one that is skipped, whose two readings lie across the gap.
    first, second = (naive.replace(tzinfo=zone, fold=fold).astimezone(UTC) for fold in (0, 1))
    usual = _ABBREVIATED.get(clock.zone.ident)
    # EST is a zone of five hours all year: in July the clocks in which it is meant show another time.
    if usual is not None and first.astimezone(ZoneInfo(usual)).replace(tzinfo=None) != naive:
        raise problem_error(
            "zone-out-of-season",
            f"clocks of {usual} do not show {clock.zone.ident} on {day}, and it may be meant by them",
            hint=f"write {first:%H:%M}Z, and date {first:%Y-%m-%d}, or {naive:%H:%M} {usual} if its clocks are meant",
        )
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

    # Abbreviations are all alike: the one most like `PST`, taken for it, would be hours off.
    close = suggestion(zone.ident, sorted(available_timezones())) if "/" in zone.ident else None
    hint = f"did you mean {close}?" if close else "write a zone such as America/Chicago, or UTC: 15:10Z"
    if zone.ident in _ABBREVIATED:
        hint = f"write the zone's name, such as {_ABBREVIATED[zone.ident]}, or UTC: 15:10Z"
    return Problem("unknown-zone", f"`{zone.ident}` is no time zone", zone.span, hint)


def _digest(data: bytes) -> str:
    from hashlib import sha256

    return sha256(data).hexdigest()
