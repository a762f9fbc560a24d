"""A marking in words, and as JSON."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.nav import figures
from navlog.nav.layout import WIDTH, wrapped
from navlog.printed.rows import ends
from navlog.printed.rows import rows as printed_rows
from navlog.rules.report import alternate_names
from navlog.studies.marking import FigureMarked, MarkedVerdict, Marking

_NAMES = {"wca": "wind correction", "eta": "ETA"}
_KINDS = {"radial": "radial of", "dme": "DME of"}


def marking_text(marking: Marking, answers: str) -> str:
    """What is off, by how much and why, leg by leg, and the count; `answers` is the file's name."""
    lines = [f"MARKING - {marking.log.route.request.name}, answers {answers}"]
    before: object = marking
    for mark in marking.marks:
        if mark.verdict is MarkedVerdict.RIGHT:
            continue
        if (mark.way, mark.leg) != before:
            lines += ["", _title(marking, mark)]
            before = mark.way, mark.leg
        lines += [line for text in _mark_lines(marking, mark) for line in wrapped(text, WIDTH, "      ")]
    lines += ["", *wrapped(_summary(marking), WIDTH, "  ")]
    return "\n".join(lines) + "\n"


def _title(marking: Marking, mark: FigureMarked) -> str:
    """The leg with its ends."""
    way = f"ALTERNATE {alternate_names(marking.log)[mark.way - 1]} " if mark.way else ""
    if mark.leg is None:
        return f"{way}TOTAL"
    log = marking.log.alternates[mark.way - 1] if mark.way else marking.log
    start, end = ends(printed_rows(log)[mark.leg - 1])
    return f"{way}LEG {mark.leg}  {start} to {end}"


def _mark_lines(marking: Marking, mark: FigureMarked) -> Iterator[str]:
    """One figure that is not right: what is given, what is computed, and why it may be off."""
    given = _shown(marking, mark, mark.given)
    if mark.verdict is MarkedVerdict.NOT_MARKED:
        yield f"  {_in_words(mark.quantity.key)} {given}: not marked, {mark.expected.reason}"
        return
    if mark.off is None:
        yield f"  {_in_words(mark.quantity.key)} {given}: {figures.IMPOSSIBLE}, {mark.expected.reason}"
        return
    computed = _shown(marking, mark, mark.expected.printed or 0.0)
    yield f"  {_in_words(mark.quantity.key)} {given}, computed {computed}: {_off_by(marking, mark)}"
    if mark.follows:
        yield f"    follows from the {' and '.join(map(_in_words, mark.follows))} given"
    for index, slip in enumerate(mark.slips):
        yield f"    {'or' if index else 'likely'}: {slip.words}"


def _off_by(marking: Marking, mark: FigureMarked) -> str:
    """How far a figure is off, and which way."""
    off, unit = mark.off or 0.0, mark.quantity.unit
    if not unit:
        return "wrong"
    size = f"{figures.half_up(abs(off), 0.1) / 10:g}"
    word = {"fuel": marking.log.fuel_unit.name, "UTC": "min"}.get(unit, unit)
    if unit == "deg":
        return f"{size} degrees" if size == "180" else f"{size} degrees to the {'right' if off > 0.0 else 'left'}"
    early, late = ("early", "late") if unit == "UTC" else ("too little", "too much")
    return f"{size} {word} {late if off > 0.0 else early}"


def _in_words(key: str) -> str:
    """A quantity in words, with its leg where that is another one."""
    kind, _, ident = key.partition(" ")
    if kind in _KINDS and ident:
        return f"{_KINDS[kind]} {ident}"
    quantity, of, leg = key.partition(" of ")
    return _NAMES.get(quantity, quantity.replace("_", " ")) + of + leg


def _shown(marking: Marking, mark: FigureMarked, value: float) -> str:
    """A figure in the form of its column."""
    unit = "" if mark.quantity.unit in ("deg", "", "fuel", "UTC", "min") else f" {mark.quantity.unit}"
    return f"{mark.quantity.shown(value, marking.log.fuel_unit)}{unit}"


def _summary(marking: Marking) -> str:
    """How many figures are right, off and not marked."""
    right, off, unmarked = (marking.count(verdict) for verdict in MarkedVerdict)
    told = f"{len(marking.marks)} figure{'' if len(marking.marks) == 1 else 's'}: {right} right, {off} off"
    return f"{told}, {unmarked} not marked" if unmarked else told


def marking_json(marking: Marking, answers: str) -> str:
    """The marking as one line of JSON, every figure in it."""
    from json import dumps

    found = {
        "schema": "navlog/mark-1",
        "computation": "mark",
        "flight": marking.log.route.request.name,
        "answers": answers,
        "right": marking.count(MarkedVerdict.RIGHT),
        "off": marking.count(MarkedVerdict.OFF),
        "not_marked": marking.count(MarkedVerdict.NOT_MARKED),
        "fuel_unit": marking.log.fuel_unit.name,
        "marks": [_mark_object(marking, mark) for mark in marking.marks],
    }
    return dumps(found, ensure_ascii=True, allow_nan=False) + "\n"


def _mark_object(marking: Marking, mark: FigureMarked) -> dict[str, object]:
    """One mark; `alternate` is null on the route, `leg` for the totals.

    A time of day is in minutes after midnight UTC, a TO flag is 1.
    """
    expected = mark.expected
    return {
        "alternate": alternate_names(marking.log)[mark.way - 1] if mark.way else None,
        "leg": mark.leg,
        "quantity": mark.quantity.key,
        "unit": mark.quantity.unit,
        "given": round(mark.given, 9),
        "computed": None if expected.exact is None else round(expected.exact, 9),
        "printed": None if expected.printed is None else round(expected.printed, 9),
        "verdict": mark.verdict.value,
        "off": None if mark.off is None else round(mark.off, 9) + 0.0,
        "follows": list(mark.follows),
        "slips": [{"code": slip.code, "words": slip.words} for slip in mark.slips],
        "reason": expected.reason if expected.exact is None else None,
    }
