"""The knee page of a flight, made once from its report: strip, HTML and PDF only place what stands here."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import timedelta

from msgspec import Struct

from navlog.flightlog.records import Log, Phase
from navlog.nav import figures
from navlog.printed.back import BackPart, Block, back, findings_block
from navlog.printed.clocks import local_text
from navlog.printed.findings import by_line, told_together
from navlog.printed.fuel import account
from navlog.printed.head import route_text
from navlog.printed.meant import MARK, meant
from navlog.printed.needles import Needle, needles
from navlog.printed.radios import Radios, radios_leaving
from navlog.printed.rows import Row, compass_card, height, rows, totals, wind
from navlog.rules.registry import Severity
from navlog.rules.report import Report


class Head(Struct, frozen=True):
    """Which flight on which data: its name and ends, day, rules, level, aircraft, last day of the data.

    `cruise` is the planned wind and true airspeed there, by which an actual groundspeed is judged. `off` and `on` are
    the planned times of take-off and last landing, local time beside them where one is known.
    """

    name: str
    route: str
    day: str
    rules: str
    level: str
    aircraft: str
    cruise: str
    data: str
    off: str
    on: str


class _WayRows(Struct, frozen=True):
    """A way with its rows: the route, or the way to an alternate. `line` tells it on the front."""

    title: str
    line: str
    needles: tuple[Needle, ...]


class Printed(Struct, frozen=True):
    """Everything on the knee page, as text; `Printed.of(report)` makes it. `headings` are by compass or magnetic.

    `not_as_planned` are the errors that stand unaccepted, `totals` two lines of figures, `notes` the pilot's own. On
    the other side `findings` come first, then the rows of the `alternates`, and the parts of `back` by the room.
    """

    head: Head
    unit: str
    headings: str
    not_as_planned: tuple[str, ...]
    leaving: Radios
    route: _WayRows
    alternates: tuple[_WayRows, ...]
    totals: tuple[str, ...]
    notes: tuple[str, ...]
    findings: Block
    back: tuple[BackPart, ...]

    @property
    def alternate_lines(self) -> tuple[str, ...]:
        """The ways to the alternates as the front tells them, or that there is none."""
        return tuple(way.line for way in self.alternates) or ("no alternate stated",)

    @classmethod
    def of(cls, report: Report) -> Printed:
        """The page of a flight, with the figures marked that findings mean."""
        log = report.log
        ways = tuple(_way(one, needles(one, meant(report, number))) for number, one in enumerate(log.alternates, 1))
        return cls(
            head=_head(log),
            unit=log.fuel_unit.name,
            headings="magnetic" if compass_card(log) is None else "compass",
            not_as_planned=tuple(_errors(report)),
            leaving=radios_leaving(log),
            route=_WayRows("", "", needles(log, meant(report))),
            alternates=ways,
            totals=tuple(_totals(log)),
            notes=tuple(f"NOTE: {note}" for note in log.route.request.notes),
            findings=findings_block(report),
            back=tuple(back(report)),
        )


def _head(log: Log) -> Head:
    """The head of a flight's pages."""
    request = log.route.request
    cruise = request.cruise
    daytime = f" {request.daytime.upper()}" if request.daytime else ""
    unit = "" if cruise.flight_level else " ft"
    return Head(
        name=request.name,
        route=route_text(log),
        day=f"{request.day:%Y-%m-%d}",
        rules=f"{request.rules.upper()}{daytime}",
        level=f"{figures.level(cruise.altitude_ft, flight_level=cruise.flight_level)}{unit}",
        aircraft=_aircraft(log),
        cruise=_planned_cruise(log),
        data=_data_to(log),
        off=_clock(log, first=True),
        on=_clock(log, first=False),
    )


def _aircraft(log: Log) -> str:
    """The aircraft by name."""
    aircraft = log.conditions.aircraft
    return aircraft.name if aircraft is not None else "no aircraft file"


def _planned_cruise(log: Log) -> str:
    """The planned wind and true airspeed in cruise; first and last where they change: `wind 235/23T TAS 113`."""
    flown = [row for row in rows(log) if not row.leg.stays]
    cruise = [row for row in flown if row.leg.phase is Phase.CRUISE] or flown
    blowing = _ends(cruise, wind)
    # A calm blows from no north.
    winds = f"wind {blowing}{'T' if '/' in blowing else ''}" if log.conditions.winds is not None else "NO WIND GIVEN"
    return f"{winds} TAS {_ends(cruise, lambda row: figures.whole(row.leg.tas_kt))}"


def _ends(found: Sequence[Row], figure: Callable[[Row], str]) -> str:
    """A figure of the first row and of the last, where that is another: `080/15 to 057/17`."""
    return " to ".join(dict.fromkeys(figure(row) for row in (*found[:1], *found[-1:]))) or figures.UNKNOWN


def _data_to(log: Log) -> str:
    """The last day on which the published data holds: `data to 10JUN`."""
    last = [one.expires - timedelta(days=1) for one in log.route.sources if one.expires is not None]
    if last:
        return f"data to {min(last):%d%b}".upper().replace("DATA TO", "data to")
    return "data without dates" if log.route.sources else "data: the route file"


def _clock(log: Log, *, first: bool) -> str:
    """The planned time of take-off or of the last landing: `1330Z 0830 CDT`."""
    moment, day = log.conditions.off if first else rows(log)[-1].clock, log.conditions.day
    if moment is None:
        return figures.UNKNOWN
    local = local_text(moment, log.conditions.zone, day).replace(":", "", 1)
    return f"{moment:%H%M}Z{figures.day_mark(moment, day)} {local}".rstrip()


def _errors(report: Report) -> Iterator[str]:
    """The errors that nobody has accepted, one a rule."""
    for group in by_line(report.findings):
        if group[0].accepted is None and any(one.severity is Severity.ERROR for one in group):
            yield told_together(group)


def _way(log: Log, found: tuple[Needle, ...]) -> _WayRows:
    """The way to an alternate: its title, and on the front first course, level, distance, time and fuel."""
    first = next((one for one in found if one.flag), found[0])
    at = "" if first is found[0] else f"at {first.place}"
    course = " ".join(filter(None, (first.tune, first.set_course, first.flag, at)))
    printed = rows(log)
    tenths, _, used = totals(printed)
    nm, minutes = figures.tenths(tenths), figures.minutes(printed[-1].elapsed_min)
    end, start = log.route.points[-1].name, log.route.points[0].name
    level = _level_flown(printed) or first.altitude.removesuffix(MARK)
    level += " ft" if level.isdigit() else ""
    fuel = f"{printed[-1].fuel(used)} {log.fuel_unit.name}"
    line = f"ALTN {end} from {start}: {course}, HDG {first.heading}, {level}, {nm} NM {minutes} {fuel}"
    return _WayRows(f"ALTERNATE {end} from {start}", line, found)


def _level_flown(way: Sequence[Row]) -> str:
    """The highest level flown or climbed to on a way; empty where it only goes down."""
    reached = [row for row in way if row.leg.phase in (Phase.CRUISE, Phase.CLIMB)]
    highest = max(reached, key=lambda row: row.leg.end_altitude_ft, default=None)
    return "" if highest is None else height(highest, highest.leg.end_altitude_ft)


def _totals(log: Log) -> Iterator[str]:
    """The totals and the fuel in two lines: the trip and what is needed, what is on board and must be left."""
    fuel, printed = account(log), rows(log)
    last = printed[-1]
    tenths, time_min, _ = totals(printed)
    nm, minutes = figures.tenths(tenths), figures.minutes(time_min)
    parts = " + ".join(f"{name} {amount}" for name, amount in fuel.parts if amount not in ("0", "0.0"))
    # The stops on the way stand between take-off and last landing, but fly no miles and burn nothing.
    flown = " in the air" if any(row.leg.lands for row in printed[:-1]) else ""
    since, board = (" since last fuelling", "on board then") if log.conditions.fuel_at_stops else ("", "on board")
    yield f"TRIP {nm} NM {minutes}{flown}   FUEL {fuel.unit}{since}: {parts} = {fuel.required} required"
    left = last.fuel(last.left_steps)
    margin = "" if fuel.margin is None else f", margin {fuel.margin}"
    yield f"{board} {fuel.on_board}{margin}   at landing {left}, least to land with {last.fuel(last.least_steps)}"
