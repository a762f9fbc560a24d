"""The knee page of a flight, made once from its report: strip, HTML and PDF only place what stands here."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from msgspec import Struct

from navlog.flightlog.records import Log, Phase
from navlog.nav import figures
from navlog.printed.back import BackPart, Block, back, findings_block
from navlog.printed.clocks import local_text
from navlog.printed.findings import by_rule, told_together
from navlog.printed.fuel import account
from navlog.printed.head import route_text
from navlog.printed.meant import MARK, meant
from navlog.printed.needles import Needle, needles
from navlog.printed.rows import rows, wind
from navlog.rules.registry import Severity
from navlog.rules.report import Report


class Head(Struct, frozen=True):
    """Which flight on which data: its name and ends, day, rules, level, aircraft, planned wind, last day of the data.

    `off` and `on` are the planned _clock of take-off and last landing, local time beside it where one is known.
    """

    name: str
    route: str
    day: str
    rules: str
    level: str
    aircraft: str
    wind: str
    data: str
    off: str
    on: str


class _WayRows(Struct, frozen=True):
    """A way with its rows: the route, or the way to an alternate. `line` tells it on the front."""

    title: str
    line: str
    needles: tuple[Needle, ...]


class Radios(Struct, frozen=True):
    """Radio frequencies of a place in order of use; an empty frequency is for the pen."""

    place: str
    lines: tuple[tuple[str, str], ...]


class Printed(Struct, frozen=True):
    """Everything on the knee page, as text; `Printed.of(report)` makes it.

    `not_as_planned` are the errors that stand unaccepted, `totals` two lines of figures. On the other side `findings`
    come first, then the rows of the `alternates`, and the parts of `back` by the room there is.
    """

    head: Head
    unit: str
    not_as_planned: tuple[str, ...]
    leaving: Radios
    route: _WayRows
    arriving: Radios
    alternates: tuple[_WayRows, ...]
    totals: tuple[str, ...]
    notes: tuple[str, ...]
    findings: Block
    back: tuple[BackPart, ...]

    @classmethod
    def of(cls, report: Report) -> Printed:
        """The page of a flight, with the figures marked that findings mean."""
        log = report.log
        ways = tuple(_way(one, needles(one, meant(report, number))) for number, one in enumerate(log.alternates, 1))
        return cls(
            head=_head(log),
            unit=log.fuel_unit.name,
            not_as_planned=tuple(_errors(report)),
            leaving=_radios(log, leaving=True),
            route=_WayRows("", "", needles(log, meant(report))),
            arriving=_radios(log, leaving=False),
            alternates=ways,
            totals=tuple(_totals(log)),
            notes=log.route.request.notes,
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
        wind=_planned_wind(log),
        data=_data_to(log),
        off=_clock(log, first=True),
        on=_clock(log, first=False),
    )


def _aircraft(log: Log) -> str:
    """The aircraft by name, else its true airspeed."""
    aircraft, tas_kt = log.conditions.aircraft, log.route.request.tas_kt
    if tas_kt is not None:
        return f"TAS {figures.whole(tas_kt)}"
    return aircraft.name if aircraft is not None else f"TAS {figures.UNKNOWN}"


def _planned_wind(log: Log) -> str:
    """The planned wind in cruise, by which an actual groundspeed is judged; first and last where it changes."""
    if log.conditions.winds is None:
        return "NO WIND GIVEN"
    cruise = [row for row in rows(log) if row.leg.phase is Phase.CRUISE]
    found = [wind(row) for row in cruise or rows(log) if not row.leg.stays]
    ends = dict.fromkeys((found[0], found[-1])) if found else {}
    return f"wind {' to '.join(ends) or figures.UNKNOWN}T"


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
    for group in by_rule(report.findings):
        if group[0].accepted is None and any(one.severity is Severity.ERROR for one in group):
            yield told_together(group)


def _way(log: Log, found: tuple[Needle, ...]) -> _WayRows:
    """The way to an alternate: its title, and on the front first course, level, distance, time and fuel."""
    first = next((one for one in found if one.flag), found[0])
    course = " ".join(filter(None, (first.tune, first.set_course, first.flag)))
    nm = figures.tenths(sum(row.distance_tenths for row in rows(log)))
    minutes = figures.minutes(rows(log)[-1].elapsed_min)
    steps = [row.fuel_steps for row in rows(log)]
    used = None if None in steps else sum(step for step in steps if step is not None)
    end, start = log.route.points[-1].name, log.route.points[0].name
    level = first.altitude.removesuffix(MARK)
    fuel = f"{rows(log)[-1].fuel(used)} {log.fuel_unit.name}"
    line = f"ALTN {end} from {start}: {course}, HDG {first.heading}, {level}, {nm} NM {minutes} {fuel}"
    return _WayRows(f"ALTERNATE {end} from {start}", line, found)


def _totals(log: Log) -> Iterator[str]:
    """The totals and the fuel in two lines: the trip and what is needed, what is on board and must be left."""
    fuel, printed = account(log), rows(log)
    last = printed[-1]
    times = [row.time_min for row in printed]
    minutes = None if None in times else sum(time for time in times if time is not None)
    nm = figures.tenths(sum(row.distance_tenths for row in printed))
    parts = " + ".join(f"{name} {amount}" for name, amount in fuel.parts if amount not in ("0", "0.0"))
    yield f"TRIP {nm} NM {figures.minutes(minutes)}   FUEL {fuel.unit}: {parts} = {fuel.required} required"
    left = last.fuel(last.left_steps)
    margin = "" if fuel.margin is None else f", margin {fuel.margin}"
    yield f"on board {fuel.on_board}{margin}   at landing {left}, least to land with {last.fuel(last.least_steps)}"


_LEAVING = ("ATIS", "GND", "TWR", "DEP")
_ARRIVING = ("APP", "ATIS", "TWR", "GND")
"""What is listened to and called before take-off, and before the landing (common practice, no source)."""

_CALLED = {
    "ATIS": ("atis",),
    "GND": ("ground", "gnd"),
    "TWR": ("tower", "twr", "ctaf", "unicom"),
    "DEP": ("departure", "dep"),
    "APP": ("approach", "app"),
}
"""The words by which a stated frequency is known to be one of these (common practice, no source)."""


def _radios(log: Log, *, leaving: bool) -> Radios:
    """The stated radio frequencies on one side of the flight, and a blank for each call that none is stated for."""
    points, stated = log.route.points, log.route.request.radios
    end = points[-1].ident if points[-1].ident != points[0].ident else None
    at = points[0] if leaving else points[-1]
    heard = [one for one in stated if (one.place != end) is leaving]
    found = tuple((f"{one.place} {one.name}", one.frequency_mhz) for one in heard)
    given = " ".join(one.name.lower() for one in heard if one.place in (at.ident, at.name))
    missing = (name for name in (_LEAVING if leaving else _ARRIVING) if not any(w in given for w in _CALLED[name]))
    # Behind stated ones, which may be of other places, a blank needs its own.
    blanks = tuple((f"{at.name} {name}" if found else name, "") for name in missing)
    return Radios(at.name, (*found, *blanks))
