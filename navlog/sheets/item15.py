"""The route as item 15 of an ICAO flight plan: speed, level, route (ICAO Doc 4444, Appendix 2)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.flightlog.records import Log, Phase
from navlog.nav import figures
from navlog.request.records import Level
from navlog.resolve.route import Point, PointKind, Stretch
from navlog.rules.report import Report
from navlog.sheets.pages import Page


def document(reports: Sequence[Report], page: Page) -> str:
    """One line for each flight plan: a flight that lands on the way needs one up to every landing."""
    del page
    return "".join(f"{line}\n" for report in reports for line in _item15(report.log))


def _item15(log: Log) -> Iterator[str]:
    """The item of each hop between landings, without the aerodromes, which are items 13 and 16."""
    hop: list[Stretch] = []
    for stretch in log.route.stretches:
        hop.append(stretch)
        if stretch.end.landing is not None or stretch is log.route.stretches[-1]:
            yield " ".join(_words(log, hop))
            hop = []


def _words(log: Log, hop: Sequence[Stretch]) -> Iterator[str]:
    """Speed and level, then ways and points; both again at a point where either changes."""
    tas_kt, level = _cruise_tas_kt(log, hop[0]), hop[0].level
    yield f"{_speed_word(tas_kt)}{_level_word(level)}"
    if hop[0].start.kind != PointKind.AIRPORT:
        yield hop[0].start.name
    via_before = None
    for stretch, following in zip(hop, (*hop[1:], None), strict=True):
        if stretch.via != via_before and not (_placed_by_itself(stretch.start) and _placed_by_itself(stretch.end)):
            yield stretch.via
        if following is None:
            if stretch.end.kind != PointKind.AIRPORT:
                yield stretch.end.name
            return
        next_kt = _cruise_tas_kt(log, following)
        changes = following.level != level or _speed_changes(tas_kt, next_kt)
        via_before = stretch.via if stretch.airway is not None and not changes else None
        if changes:
            tas_kt, level = next_kt, following.level
            yield f"{stretch.end.name}/{_speed_word(tas_kt)}{_level_word(level)}"
        elif stretch.airway is None or following.via != stretch.via:
            yield stretch.end.name


def _cruise_tas_kt(log: Log, stretch: Stretch) -> float | None:
    """The true airspeed of cruise on a stretch; without any there, on the next one that has, else the last."""
    cruising = [leg for leg in log.legs if leg.phase is Phase.CRUISE]
    ahead = [leg for leg in cruising if leg.stretch.number >= stretch.number] or cruising[-1:]
    return ahead[0].tas_kt if ahead else stretch.tas_kt


def _speed_changes(before_kt: float | None, after_kt: float | None) -> bool:
    """Whether a change of true airspeed is one to be told: 5 per cent or more (Doc 4444, Appendix 2)."""
    if before_kt is None or after_kt is None:
        return before_kt is not after_kt
    return abs(after_kt - before_kt) >= 0.05 * before_kt


def _speed_word(tas_kt: float | None) -> str:
    """The true airspeed in knots: `N0110`."""
    return "N????" if tas_kt is None else f"N{figures.half_up(tas_kt):04d}"


def _level_word(level: Level) -> str:
    """The level in hundreds of feet: `A045` for an altitude, `F085` for a flight level."""
    return f"{'F' if level.flight_level else 'A'}{figures.half_up(level.altitude_ft, 100.0):03d}"


def _placed_by_itself(point: Point) -> bool:
    """Whether a point is given by coordinates or by bearing and distance; between two such no `DCT` is written."""
    return point.ident is None or point.ident[-6:].isdigit()
