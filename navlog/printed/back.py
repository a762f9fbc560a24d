"""The other side of the knee page, in blocks of lines: what changes what the pilot does, notes, places, origin."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import PurePath

from msgspec import Struct

from navlog.flightlog.facts import course_to_set
from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.nav.chart import Airport
from navlog.printed.airfields import short_airfield_lines
from navlog.printed.cautions import CAUTIONS, page_key, page_signs
from navlog.printed.diverting import BEFORE_DRAWINGS, diversion_lines, tables
from navlog.printed.findings import accepted_text, by_line, finding_line, legs_text, told_together, worst
from navlog.printed.head import (
    FEWEST_DIGITS,
    bearing_texts,
    compass_text,
    data_text,
    terrain_text,
    unverified_names,
    wind_text,
)
from navlog.printed.receivers import other_receiver_lines, receiver_lines
from navlog.printed.remarks import nil_wind
from navlog.printed.rows import compass_card, rows
from navlog.rules.registry import Finding, Severity
from navlog.rules.report import Report
from navlog.version import VERSION


class Block(Struct, frozen=True):
    """A titled block of lines on the back; `fields` are labels with room for the pen, side by side.

    `table` are lines in columns, which type of one width keeps and no sheet breaks. Without a title it is small print.
    """

    title: str
    lines: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()
    table: tuple[str, ...] = ()


class BackPart(Struct, frozen=True):
    """A block of the back at its lengths, the shortest first: a page takes the longest for which it has room.

    Where that is not the last, or the last is not `whole`, the page says that `--with` its `name` tells more. An
    `optional` part may be left out as well. Lengths beyond the first `before_drawings` only take what drawings leave.
    """

    lengths: tuple[Block, ...]
    name: str = ""
    optional: bool = False
    before_drawings: int = 99
    whole: bool = True


class Room(Struct, frozen=True):
    """How many pages some blocks take, and whether the drawings find room behind them."""

    pages: int
    drawings: bool


def laid_out(
    parts: Sequence[BackPart], also: Sequence[str], room: Callable[[Sequence[Block]], Room]
) -> tuple[Block, ...]:
    """The blocks of a back: each part at the longest length that takes no page more, the first parts first.

    A line names what is not told whole, and `also` that the drawings can be asked for where they find no room.
    """
    chosen = [-1 if part.optional else 0 for part in parts]
    left = room(_shown(parts, chosen, also))
    for index, part in enumerate(parts):
        for length in range(chosen[index] + 1, len(part.lengths)):
            tried = [*chosen[:index], length, *chosen[index + 1 :]]
            after = room(_shown(parts, tried, also))
            taken = left.drawings and not after.drawings and length >= part.before_drawings
            if after.pages > left.pages or taken:
                break
            chosen, left = tried, after
    return _shown(parts, chosen, () if left.drawings else also)


def _shown(parts: Sequence[BackPart], chosen: Sequence[int], also: Sequence[str]) -> tuple[Block, ...]:
    """The blocks at some lengths, and a line that names what is not whole; small print comes last."""
    told = [part.lengths[length] for part, length in zip(parts, chosen, strict=True) if length >= 0]
    names = [
        part.name
        for part, length in zip(parts, chosen, strict=True)
        if length < len(part.lengths) - 1 or not part.whole
    ]
    rest = (*dict.fromkeys(names), *also)
    left = (Block("", (f"No room for more here; behind it --with {','.join(rest)}",)),) if rest else ()
    return (*(one for one in told if one.title), *left, *(one for one in told if not one.title))


def back(report: Report) -> Iterator[BackPart]:
    """The parts of the back that hold anything, in the order of their use, behind the findings."""
    log = report.log
    yield from _airports(log)
    yield from _diversions(report)
    yield from _optional("VOR CHECK", receiver_lines(log), "receivers")
    yield from _optional("OTHER VOR", other_receiver_lines(log), "receivers")
    yield from _optional("NEEDLE/COMPASS", _nil_winds(log), "workings")
    yield from _always(_remarks(log))
    yield from _always(Block("BEARINGS", tuple(bearing_texts(log))))
    yield from _always(Block("LAST VOR CHECK", fields=("date", "place", "error", "signed")))
    by_compass = compass_card(log) is not None
    signs, key = (Block("", (text,)) for text in (page_signs(by_compass=by_compass), page_key(by_compass=by_compass)))
    yield BackPart((signs, key), "legend")
    yield BackPart((Block("", (_provenance(log),)),))
    yield BackPart((Block("", (CAUTIONS,)),))


def _always(block: Block) -> Iterator[BackPart]:
    if block.lines or block.fields:
        yield BackPart((block,))


def _optional(title: str, lines: Iterable[str], name: str) -> Iterator[BackPart]:
    found = tuple(lines)
    if found:
        yield BackPart((Block(title, found),), name, optional=True)


def findings_block(report: Report) -> Block:
    """The findings that change what the pilot does, worst first, and how many notes and accepted warnings there are.

    An error that is accepted stays on the page with its reason: a rule is broken, and only the pilot knows why.
    """
    groups = by_line(report.findings, every=report.every)
    doing = [group for group in groups if _changes(worst(group))]
    if report.every:
        lines = [finding_line(*group) for group in doing]
    else:
        lines = [
            f"{worst(group).severity.value.upper()} {told_together(group)}{accepted_text(worst(group))}"
            for group in doing
        ]
    rest = len(groups) - len(doing)
    also = (f"and {rest} noted or accepted, told --with findings",) if rest else ()
    return Block("FINDINGS", (*lines, *also) or ("none",))


def _changes(one: Finding) -> bool:
    """Whether a finding changes what the pilot does: an error, or a warning that nobody has accepted."""
    return one.severity is Severity.ERROR or (one.accepted is None and one.severity is Severity.WARNING)


def _airports(log: Log) -> Iterator[BackPart]:
    """The airports of the flight: their elevations, with room also pattern and sunset."""
    found: dict[str, str] = {}
    for way in (log.route, *log.route.alternates):
        for point in way.points:
            if isinstance(point.place, Airport):
                found[point.place.ident] = f"{point.place.ident} {figures.whole(point.place.elevation_ft)} ft"
    if found:
        short = Block("AIRPORTS", (f"elevation {', '.join(found.values())}",))
        yield BackPart((short, Block("AIRPORTS", tuple(short_airfield_lines(log)))), "airports")


def _diversions(report: Report) -> Iterator[BackPart]:
    """The fields beside the way, in tables of more and more rows."""
    found = report.diversions
    if found is None:
        return
    texts = [diversion_lines(found, most) for most in tables(found)] or [diversion_lines(found)]
    blocks = tuple(Block("DIVERSIONS", lines, table=table) for lines, table in texts)
    short = sum(len(block.table) - 1 <= BEFORE_DRAWINGS for block in blocks)
    whole = not found.found or len(blocks[-1].table) > len(found.found)
    yield BackPart(blocks, "diversions", optional=True, before_drawings=short, whole=whole)


def _nil_winds(log: Log) -> Iterator[str]:
    """Needle and compass in no wind, where they differ by 2 degrees or more, with the legs."""
    found: dict[str, list[int]] = {}
    for row in rows(log):
        guidance, compass = row.leg.part.guidance, nil_wind(row)
        if guidance is not None and compass is not None:
            found.setdefault(f"needle {course_to_set(guidance)}, compass {compass} in no wind", []).append(
                row.leg.number
            )
    if found:
        yield "; ".join(f"{legs_text(legs)} {text}" for text, legs in found.items())


def _remarks(log: Log) -> Block:
    """The published remarks of the parts of airways that are flown."""
    found = dict.fromkeys(remark for leg in log.legs for remark in leg.stretch.remarks)
    return Block("PUBLISHED REMARKS", tuple(found))


def _provenance(log: Log) -> str:
    """What the page was computed from, in one line: model, data, aircraft file, winds, digest of the file."""
    request = log.route.request
    model = log.route.magnetic_model
    told = [
        f"navlog {VERSION}, {PurePath(request.file).name} SHA-256 {request.digest[:FEWEST_DIGITS]}",
        f"Data: {data_text(log)}",
        f"Variation by {model}" if model is not None else "no magnetic model",
        *(tuple(compass_text(log)) or ((f"aircraft {request.aircraft.path}",) if request.aircraft is not None else ())),
    ]
    bulletins = [f"bulletin {use.heading or ''} ({use.file})".replace("  ", " ") for use in log.conditions.bulletins]
    told.append(f"Wind, true: {', '.join(bulletins) or wind_text(log)}")
    told += terrain_text(log)
    unverified = unverified_names(log)
    if unverified:
        told.append(f"* UNVERIFIED: {', '.join(unverified)}")
    return "; ".join(told)
