"""The log as plain text within 80 columns: stations, two lines a leg with remarks, totals, fuel, findings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.nav import layout as words
from navlog.nav.chart import Airport
from navlog.nav.layout import WIDTH
from navlog.printed.cautions import CAUTIONS
from navlog.printed.closing import alternate_title, leaving_lines, legend_of, told, totals_text
from navlog.printed.fuel import account, earlier_lines
from navlog.printed.head import header
from navlog.printed.meant import MARK, meant
from navlog.printed.remarks import dme_channel, remarks, station_variation_deg, stations_in_order
from navlog.printed.rows import BY_KEY, Row, rows, to_next_landing
from navlog.rules.report import Report
from navlog.sheets.pages import Page

SHEET_BREAK = "\n" + "=" * WIDTH + "\n\n"
_FIRST_LINE = (
    ("number", 2),
    ("from", 11),
    ("to", 11),
    ("station", 10),
    ("set_course", 9),
    ("heading", 4),
    ("time", 5),
    ("eta", 8),
    ("fuel_used", 5),
    ("fuel_left", 6),
)
"""Columns of a leg's first line with their widths: what is flown."""

_SECOND_LINE = (
    "via",
    "distance",
    "altitude",
    "minimum",
    "true_course",
    "magnetic_course",
    "correction",
    "groundspeed",
)

_RIGHT = ("number", "heading", "time", "fuel_used", "fuel_left")


def document(reports: Sequence[Report], page: Page) -> str:
    """The logs of several flights; the width is that of a terminal, whatever the page."""
    del page
    return SHEET_BREAK.join(text_log(report) for report in reports)


def text_log(report: Report) -> str:
    """The whole sheet, ending in a newline; ASCII unless names in the file are not."""
    return "\n".join(_lines(report)) + "\n"


def _lines(report: Report) -> Iterator[str]:
    """The lines of the sheet."""
    log = report.log
    yield from header(log)
    yield ""
    yield from _station_table(log)
    yield ""
    yield from _leg_table(rows(log, meant(report)))
    yield ""
    yield from _wrapped(f"TOTAL  {totals_text(log)}", "", "       ")
    yield ""
    yield from _fuel_block(log)
    yield from _alternate_block(report)
    yield from _ground_blocks(log)
    yield from _notes(log)
    yield ""
    yield from _findings_block(report)
    yield ""
    yield from _wrapped(legend_of(log, to_go=True), "")
    yield ""
    yield from _wrapped(CAUTIONS, "")


def _wrapped(text: str, indent: str, following: str | None = None) -> list[str]:
    """A paragraph within the width; what cannot be broken between words is broken inside one."""
    return words.wrapped(text, WIDTH, indent if following is None else following, first=indent) or [""]


def _station_table(log: Log) -> Iterator[str]:
    """The stations in order of use: how to tune and identify each, and the two norths."""
    from navlog.nav.radio import morse

    yield f"{'STATIONS':<9}{'MHz':>6}  {'DME':<5}{'Morse':<18}{'decl':>6} {'var':>6}  {'elev':>5}  name"
    for station in stations_in_order(log):
        declination = "true" if station.true_referenced else figures.east_west(station.declination_deg)
        variation = figures.east_west(station_variation_deg(log, station))
        channel = dme_channel(station) or figures.NOT_APPLICABLE
        elevation = figures.whole(station.elevation_ft)
        line = (
            f"{station.ident:<8} {figures.frequency(station.frequency_mhz):>6}  {channel:<5}"
            f"{morse(station.ident):<18}{declination:>6} {variation:>6}  {elevation:>5}  {station.name or ''}"
        )
        yield from _wrapped(line.rstrip(), "", " " * 9) if len(line.rstrip()) > WIDTH else [line.rstrip()]
    if not stations_in_order(log):
        yield "none: dead reckoning throughout"


def _leg_table(printed: Sequence[Row]) -> Iterator[str]:
    """Two lines a leg, and its remarks: of the route, or of the way to an alternate."""
    yield " ".join(_cell(BY_KEY[key].heading, key, width) for key, width in _FIRST_LINE).rstrip()
    yield "-" * WIDTH
    for index, row in enumerate(printed):
        yield from _flown_line(row)
        yield from _wrapped(_planned_line(printed, index), "   ", "     ")
        local = BY_KEY["local"].figure(row)
        here = () if local == figures.NOT_APPLICABLE else (f"{BY_KEY['to'].figure(row)} at {local}",)
        for remark in (*here, *remarks(printed, index)):
            yield from _wrapped(remark, "   > ", "     ")


def _flown_line(row: Row) -> Iterator[str]:
    """The first line of a leg; names too long for their column go on a line of their own."""
    cells = {key: BY_KEY[key].figure(row) for key, _ in _FIRST_LINE}
    if not _fits(cells):
        tune = ""
        if len(cells["station"]) > dict(_FIRST_LINE)["station"] + len(MARK):
            tune, cells["station"] = f", tune {cells['station']}", ""
        yield from _wrapped(f"{cells['number']:>2} {cells['from']} to {cells['to']}{tune}", "", "   ")
        cells |= {"number": "", "from": "", "to": ""}
    line = " ".join(_cell(cells[key], key, width) for key, width in _lent(cells)).rstrip()
    yield from [line] if len(line) <= WIDTH else words.broken_before(line, WIDTH)


def _fits(cells: Mapping[str, str]) -> bool:
    """Whether every figure stands in its column, a marked one with what the next one lends it."""
    if _lent(cells) is _FIRST_LINE:
        return True
    wide = [key for key, width in _FIRST_LINE if len(cells[key].removesuffix(MARK)) > width]
    return not wide and sum(width for _, width in _lent(cells)) <= sum(width for _, width in _FIRST_LINE)


def _lent(cells: Mapping[str, str]) -> Sequence[tuple[str, int]]:
    """The widths of the columns, where a marked figure fills one more than its own: the next one lends its spare."""
    if all(len(cells[key]) <= width for key, width in _FIRST_LINE):
        return _FIRST_LINE
    owed = 0
    lent = []
    for key, width in _FIRST_LINE:
        room = width - owed
        owed = max(0, len(cells[key]) - room)
        lent.append((key, room + owed))
    return lent


def _cell(text: str, key: str, width: int) -> str:
    """A cell of the first line."""
    return text.rjust(width) if key in _RIGHT else text.ljust(width)


def _planned_line(printed: Sequence[Row], index: int) -> str:
    """The second line of a leg: airway, distance, height, both courses, wind correction, groundspeed.

    Where the flight lands on the way, the distance to go is that to the next landing, which it names.
    """
    row = printed[index]
    value = {key: BY_KEY[key].figure(row) for key in _SECOND_LINE}
    tenths, landing = to_next_landing(printed, index)
    goal = landing if any(one.leg.lands for one in printed) else "go"
    ahead = f"{value['distance']:>5} NM {figures.tenths(tenths):>5} to {goal}"
    heights = words.held(f"alt {value['altitude']} {value['minimum']}")
    courses = (("TC", "true_course"), ("MC", "magnetic_course"), ("WCA", "correction"), ("GS", "groundspeed"))
    told = " ".join(words.held(f"{name} {value[key]}") for name, key in courses)
    return f"{value['via']:<6} {words.held(ahead)}  {heights}  {told}"


def _fuel_block(log: Log) -> Iterator[str]:
    """Fuel required against fuel on board."""
    fuel = account(log)
    left = rows(log)[-1]
    yield f"FUEL in {fuel.unit}: on board {fuel.on_board} {fuel.when}, left at landing {left.fuel(left.left_steps)}"
    told = " + ".join(f"{name} {amount}" for name, amount in fuel.parts)
    yield from _wrapped(f"required {fuel.required} = {told}", "  ", "    ")
    yield from _wrapped(fuel.reserve_by, "  ", "    ")
    if fuel.margin is not None:
        minutes = f", {fuel.margin_min} min" if fuel.margin_min is not None else ""
        yield f"  margin {fuel.margin} {fuel.unit}{minutes}"
    if fuel.endurance is not None:
        yield f"  endurance {fuel.endurance} to dry tanks: the flight as planned, then cruise"
    for line in earlier_lines(log):
        yield from _wrapped(line, "  ", "    ")


def _ground_blocks(log: Log) -> Iterator[str]:
    """The airports of the flight with the sun at each landing, and the check of the receivers."""
    route = log.route
    blocks: dict[str, tuple[str, ...]] = {}
    if any(isinstance(point.place, Airport) for way in (route, *route.alternates) for point in way.points):
        from navlog.printed.airfields import airfield_lines

        blocks["AIRPORTS"] = tuple(airfield_lines(log))
    if route.request.rules == "ifr" or route.request.receiver_check is not None:
        from navlog.printed.receivers import receiver_lines

        blocks["VOR CHECK"] = tuple(receiver_lines(log))
    for title, lines in blocks.items():
        if lines:
            yield ""
            yield title
        for line in lines:
            yield from _wrapped(line, "  ", "    ")


def _notes(log: Log) -> Iterator[str]:
    """Radio frequencies and notes of the flight."""
    request = log.route.request
    if request.radios:
        yield ""
        yield "RADIO"
        for radio in request.radios:
            yield from _wrapped(f"{radio.frequency_mhz:<8} {radio.place} {radio.name}", "  ", "    ")
    if request.notes:
        yield ""
        yield "NOTES"
        for note in request.notes:
            yield from _wrapped(note, "  ", "    ")


def _alternate_block(report: Report) -> Iterator[str]:
    """The alternates, each a flight of its own, its legs as those of the route."""
    for number, way in enumerate(report.log.alternates, 1):
        yield ""
        yield alternate_title(way)
        for line in leaving_lines(way):
            yield from _wrapped(line, "  ", "    ")
        yield from _leg_table(rows(way, meant(report, number)))
        yield from _wrapped(f"TOTAL  {totals_text(way)}", "", "       ")


def _findings_block(report: Report) -> Iterator[str]:
    """The findings behind their count, worst first, accepted ones with the reason."""
    count, *findings = told(report)
    yield f"FINDINGS  {count}"
    for finding in findings:
        yield from _wrapped(finding, "  ", "    ")
