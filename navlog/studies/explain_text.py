"""The workings of a flight as text within 80 columns, and as JSON: one object a line and a flight."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.counted import leaving
from navlog.flightlog.records import Leg, Log
from navlog.nav import figures
from navlog.nav.layout import WIDTH, wrapped
from navlog.nav.problems import NavlogError, Span, problem_error
from navlog.nav.record import changed
from navlog.nav.workings import Working, board
from navlog.printed.cautions import CAUTIONS
from navlog.printed.rows import point_name, rows
from navlog.rules.answers import Answer
from navlog.sheets.json_legs import leg_head
from navlog.sheets.json_lines import problem_object
from navlog.sheets.json_values import Json
from navlog.studies.explanation import ExplainedLeg, Explanation, PrintedLeg, explain


def explained(answer: Answer, leg: int | None, alternate: str | None = None) -> tuple[Answer, Explanation | None]:
    """A flight, or the way to one of its alternates, with the workings of its legs or of one; with a problem, none."""
    if answer.report is None:
        return answer, None
    try:
        log = _way(answer.report.log, alternate)
        return answer, explain(log, tuple(printed_figures(log)), leg=leg)
    except NavlogError as error:
        return changed(answer, report=None, problems=error.problems), None


def _way(log: Log, alternate: str | None) -> Log:
    """The log itself, or that of the way to an alternate: `XOLD`, `XOLD from QEL`; raises `unknown-alternate`."""
    if alternate is None:
        return log
    names = [(way.route.points[-1].name, way.route.points[0].name) for way in log.alternates]
    asked = " ".join(alternate.split())
    pairs = zip(log.alternates, names, strict=True)
    found = [way for way, (end, start) in pairs if asked in (end, f"{end} from {start}")]
    if len(found) == 1:
        return found[0]
    request = log.route.request
    several = f"several alternates of `{request.name}` lead to {asked}"
    message = several if found else f"`{request.name}` has no alternate `{alternate}`"
    known = " or ".join(f"`{end} from {start}`" for end, start in names)
    raise problem_error(
        "unknown-alternate",
        message,
        span=Span(request.file, request.line),
        hint=f"write {known}" if known else "give the flight an `alternate`",
    )


def printed_figures(log: Log) -> Iterator[PrintedLeg]:
    """What the sheet shows of clock and fuel, leg by leg."""
    _, steps = leaving(log)
    for row in rows(log):
        yield PrintedLeg(row.elapsed_min, row.clock, steps, row.left_steps)
        if row.leg.fuel_taken is not None:
            steps = figures.down(row.leg.fuel_taken, log.fuel_unit.step)


def explanation_text(explanation: Explanation) -> str:
    """The workings leg by leg, then those of the fuel, and of oxygen and daylight."""
    request = explanation.log.route.request
    lines = [f"WORKINGS - {request.name}", *wrapped(f"Route {' '.join(word.text for word in request.route)}", WIDTH)]
    for one in explanation.legs:
        lines += ["", *_laid(board(one.steps, _leg_title(one.leg))), *_unknown_lines(one.leg)]
    if explanation.fuel:
        lines += ["", *_laid(board(explanation.fuel, "FUEL OF THE FLIGHT"))]
    if explanation.limits:
        lines += ["", *_laid(board(explanation.limits, "OXYGEN AND DAYLIGHT"))]
    lines += [
        "",
        *wrapped(
            "Directions from true north unless M is behind them; 1.2 of 230/12 is a wind times 1.2. Figures are"
            " rounded for print, so a line redone by hand may differ in its last digit.",
            WIDTH,
        ),
        *wrapped(CAUTIONS, WIDTH),
    ]
    return "\n".join(lines) + "\n"


def _leg_title(leg: Leg) -> str:
    """The leg's number, ends, way and phase."""
    start, end = (point_name(point.kind, point.name) for point in (leg.start, leg.end))
    return f"LEG {leg.number}  {start} to {end}, {leg.stretch.via}, {leg.phase.value}"


def _laid(lines: tuple[str, ...]) -> Iterator[str]:
    """The lines within the width, each going on a little deeper."""
    for line in lines:
        indent = len(line) - len(line.lstrip())
        yield from wrapped(line, WIDTH, " " * (indent + 3)) if len(line) > WIDTH else [line]


def _unknown_lines(leg: Leg) -> Iterator[str]:
    """What is not known or impossible on the leg, and why."""
    for reason in dict.fromkeys(one.reason for one in leg.unknown):
        keys = ", ".join(one.key for one in leg.unknown if one.reason == reason)
        yield from wrapped(f"   not known: {keys}: {reason}", WIDTH, "     ")


def explanation_json(answer: Answer, explanation: Explanation | None) -> str:
    """One flight as a line of JSON; without an explanation its problems alone."""
    from json import dumps

    found: Json = {
        "schema": "navlog/explain-1",
        "computation": "explain",
        "flight": answer.flight,
        "source": {"file": answer.file, "line": answer.line},
        "legs": [_leg_object(one) for one in explanation.legs] if explanation is not None else [],
        "fuel": [_step_object(step) for step in explanation.fuel] if explanation is not None else [],
        "limits": [_step_object(step) for step in explanation.limits] if explanation is not None else [],
        "problems": [problem_object(problem) for problem in answer.problems],
    }
    return dumps(found, ensure_ascii=True, allow_nan=False) + "\n"


def _leg_object(one: ExplainedLeg) -> Json:
    """One leg with its workings."""
    leg = one.leg
    return {
        **leg_head(leg),
        "workings": [_step_object(step) for step in one.steps],
        "unknown": [{"key": unknown.key, "reason": unknown.reason} for unknown in leg.unknown],
    }


def _step_object(step: Working) -> Json:
    """One step of the workings."""
    return {
        "what": step.what,
        "formula": step.formula,
        "values": step.values,
        "result": step.result,
        "source": step.source,
    }
