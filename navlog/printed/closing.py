"""What stands under the rows of every sheet: totals, fuel, alternates, findings, sources, legend, cautions."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from navlog.flightlog.counted import leaving
from navlog.flightlog.facts import by_terrain
from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.nav.chart import Airport
from navlog.printed.cautions import CAUTIONS, STRIP_LEGEND, legend
from navlog.printed.clocks import clock_text
from navlog.printed.findings import findings_lines, findings_summary
from navlog.printed.fuel import account, earlier_lines
from navlog.printed.head import facts, route_text
from navlog.printed.meant import meant
from navlog.printed.remarks import dme_channel, stations_in_order, tuned
from navlog.printed.rows import BY_KEY, compass_card, rows, totals
from navlog.rules.report import Report


class _ClosingBlock(Struct, frozen=True):
    """A titled block of sentences."""

    title: str
    lines: tuple[str, ...]


def sections(report: Report, *, remaining: bool = False) -> tuple[_ClosingBlock, ...]:
    """Everything that closes a sheet, in the order in which it is wanted in flight.

    `remaining` tells that the sheet has a column `Rem`, which its legend explains.
    """
    log = report.log
    words = legend_of(log, remaining=remaining)
    found = [
        _ClosingBlock("TOTAL", (totals_text(log),)),
        _ClosingBlock(f"FUEL in {log.fuel_unit.name}", tuple(_fuel_lines(log))),
        *_alternates(report),
        _ClosingBlock("NOTES", log.route.request.notes),
        _ClosingBlock("FINDINGS", told(report)),
        _ClosingBlock("STATIONS", tuple(station_lines(log))),
        _ClosingBlock("COMPUTED FROM", tuple(facts(log))),
        _ClosingBlock("LEGEND", (STRIP_LEGEND, words)),
        _ClosingBlock("CAUTION", (CAUTIONS,)),
    ]
    return tuple(section for section in found if section.lines)


def totals_text(log: Log) -> str:
    """The totals, as the columns add."""
    printed = rows(log)
    last = printed[-1]
    landing = clock_text(last.clock, log.conditions.zone, log.conditions.day)
    distance_tenths, time_min, used = totals(printed)
    return (
        f"{figures.tenths(distance_tenths)} NM   {figures.minutes(time_min)} in the air"
        f"   fuel {last.fuel(used)} {log.fuel_unit.name}   landing {landing}"
    )


def _fuel_lines(log: Log) -> Iterator[str]:
    """Fuel required against fuel on board, one amount a line."""
    fuel, last = account(log), rows(log)[-1]
    yield f"on board {fuel.on_board} {fuel.when}"
    yield f"required {fuel.required} = " + " + ".join(f"{name} {amount}" for name, amount in fuel.parts)
    if fuel.margin is not None:
        minutes = f" = {fuel.margin_min} min" if fuel.margin_min is not None else ""
        yield f"margin {fuel.margin}{minutes}"
    if fuel.endurance is not None:
        yield f"endurance {fuel.endurance} to dry tanks: the flight as planned, then cruise"
    yield f"left at landing {last.fuel(last.left_steps)}"
    yield fuel.reserve_by
    yield from earlier_lines(log)


def _alternates(report: Report) -> Iterator[_ClosingBlock]:
    """Each alternate with its own way, clock and fuel, a line a leg."""
    for number, one in enumerate(report.log.alternates, 1):
        ways = []
        for row in rows(one, meant(report, number)):
            figure = {column.key: column.figure(row) for column in BY_KEY.values()}
            guided = row.leg.part.guidance is not None
            tune = f"{figure['station']} {figure['morse']} set {figure['set_course']}" if guided else "no station"
            ways.append(
                f"{figure['number']}  {figure['from']} to {figure['to']} {figure['via']}: {tune},"
                f" hdg {figure['heading']}, {figure['distance']} NM {figure['time']} ETA {figure['eta']}"
                f" alt {figure['altitude']} {figure['minimum']} left {figure['fuel_left']}"
            )
        yield _ClosingBlock(alternate_title(one), (*leaving_lines(one), totals_text(one), *ways))


def legend_of(log: Log, *, remaining: bool = False, to_go: bool = False) -> str:
    """The legend of a log; `remaining` where the sheet has a column `Rem`, `to_go` where it tells that in words."""
    last = rows(log)[-1].clock
    far = last is not None and figures.day_mark(last, log.conditions.day) == figures.FAR
    by_compass = compass_card(log) is not None
    return legend(by_compass=by_compass, remaining=remaining, terrain=by_terrain(log), far=far, to_go=to_go)


def alternate_title(way: Log) -> str:
    """The heading of the way to an alternate: `ALTERNATE XOLD from QEL`."""
    return f"ALTERNATE {way.route.points[-1].name} from {way.route.points[0].name}"


def leaving_lines(way: Log) -> Iterator[str]:
    """Which way leads to an alternate, and when and with what fuel the flight leaves for it."""
    conditions, start = way.conditions, way.route.points[0].name
    clock, steps = leaving(way)
    board = figures.fuel(steps, way.fuel_unit.step)
    moment = clock_text(clock, conditions.zone, conditions.day)
    yield f"{route_text(way)}, leaves {start} {moment} with {board} {way.fuel_unit.name}"
    if way.route.request.rules == "ifr" and isinstance(way.route.points[0].place, Airport):
        yield f"no approach to {start} that is missed is counted before it: `extra` keeps fuel for one"
    if len(way.begun) > 1:
        lowest = ", height by the lowest" if conditions.entry_ft is not None else ""
        # A hold and the take-off after fuelling are no second passage.
        times = sum(not one.fuelled and (one.leg is None or not one.leg.stays) for one in way.begun)
        last = way.begun[-1]
        told = f"{start} is passed {times} times: clock and fuel by the last"
        if times < 2:
            lowest = lowest if len({one.height_ft for one in way.begun}) > 1 else ""
            told = f"clock and fuel as {'at the take-off from' if last.fuelled else 'after the hold at'} {start}"
        yield f"{told}{lowest}"


def station_lines(log: Log) -> Iterator[str]:
    """The stations in order of use with their Morse, DME channel and declination."""
    for station in stations_in_order(log):
        north = "true north" if station.true_referenced else f"decl {figures.east_west(station.declination_deg)}"
        channel = dme_channel(station)
        yield f"{tuned(station)} {f'DME {channel} ' if channel else ''}{north} {station.name or ''}".rstrip()


def told(report: Report) -> tuple[str, ...]:
    """The count of the findings, and a line for each rule or, where the report asks for every one, each finding."""
    return (findings_summary(report.findings, every=report.every), *findings_lines(report.findings, every=report.every))


def plain_text(report: Report) -> str:
    """Everything that closes a sheet as one text, a line for each sentence."""
    return "\n".join(f"{section.title}: {line}" for section in sections(report) for line in section.lines)
