"""Where labels go on a drawing: beside what they name, over no other label and no line; else led to, else listed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise, product
from math import cos, hypot, inf, radians, sin

from navlog.resolve.route import PointKind
from navlog.sheets.drawing import (
    BLACK,
    DARK,
    LABEL_SIZE,
    XY,
    Circle,
    Drawing,
    Label,
    Mark,
    Rectangle,
    Stroke,
    text_width,
)

SHORT: dict[str, str] = {PointKind.TOP_OF_CLIMB: "TOC", PointKind.TOP_OF_DESCENT: "TOD"}
"""What stands on a drawing for the words."""
_NEAR = 10.0
"""A label this near to its symbol is as good as any nearer."""
_ONE_PLACE = 8.0
"""Symbols nearer to each other than this lie over each other."""
_MOST_LABELS = 120
"""With more on it nobody can read a drawing; what comes later is listed."""
_MOST_LED = 40
"""More lines that lead to labels nobody can follow; what waits beyond is listed."""
_BESIDE, _ABOVE = 2.0, 1.0
"""What a label keeps away from lines and other labels, points."""
_OUT = 20, 91, 10
"""From where to where, by what step, a label may stand at the end of a thin line, points."""


class LabelRoom:
    """A drawing in the making: faint lines, that make way for labels, then firm marks, then the labels."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self.faint: list[Stroke] = []
        self.marks: list[Mark] = []
        self.labels: list[Label] = []
        self.left_out: dict[str, None] = {}
        self._taken: list[Rectangle] = []
        self._written: list[Rectangle] = []
        self._lines: dict[float, list[tuple[XY, XY]]] = {}
        self._spots: list[XY] = []
        self._waiting: list[tuple[Label, Sequence[XY], str]] = []
        self._leaders: list[tuple[XY, XY]] = []

    def drawn(self, title: str) -> Drawing:
        """The drawing; faint lines are cut where labels stand."""
        self.lead()
        boxes = [_wider(label.box, _BESIDE, _ABOVE) for label in self.labels]
        faint = [piece for line in self.faint for piece in _cut(line, boxes)]
        return Drawing(title, self.width, self.height, (*faint, *self.marks, *self.labels), tuple(self.left_out))

    def line(self, points: tuple[XY, ...], weight: float, grey: float = BLACK, dash: tuple[float, ...] = ()) -> None:
        """A firm line, which labels do not cover."""
        self.marks.append(Stroke(points, weight, grey, dash))
        self.keep_clear(points, weight)

    def under(self, points: tuple[XY, ...], weight: float, grey: float, dash: tuple[float, ...] = ()) -> None:
        """A faint line, which makes way for labels."""
        self.faint.append(Stroke(points, weight, grey, dash))

    def keep_clear(self, points: Iterable[XY], weight: float = 1.0) -> None:
        """A line that labels do not cover."""
        self._lines.setdefault(weight / 2.0, []).extend(pairwise(points))

    def take(self, box: Rectangle) -> None:
        """A place that labels do not cover."""
        self._taken.append(box)

    def symbol(self, at: XY, size: float, marks: Iterable[Mark]) -> None:
        """A symbol of half that size at a place, which a label of its own will name."""
        self._spots.append(at)
        self.marks.extend(marks)
        self.take(Rectangle(at[0] - size, at[1] - size, at[0] + size, at[1] + size))

    def write(self, label: Label) -> None:
        """A label whose place is given; its room is taken."""
        box = label.box
        self.labels.append(label)
        self._written.append(box)
        self.take(box)

    def place(
        self, candidates: Iterable[Label], of: XY | None = None, told: str | None = None, ends: Sequence[XY] = ()
    ) -> bool:
        """Write the first candidate that covers nothing and names its symbol at `of` with the least doubt.

        Without room it waits to be led to from one of `ends`; where there are none what is `told`, or the label's own
        text, is listed. With `told` empty neither is done.
        """
        chosen, least, text, first = None, inf, told, None
        full = len(self.labels) + len(self._waiting) >= _MOST_LABELS
        for label in candidates:
            text = label.text if text is None else text
            first = first or label
            if full:
                break
            box = _wider(label.box, _BESIDE, _ABOVE)
            if not self._is_free(box):
                continue
            doubt = self._doubt(box, of)
            if doubt < least:
                chosen, least = label, doubt
            if doubt == 0.0:
                break
        if chosen is not None:
            self.write(chosen)
            return True
        if text and first is not None and ends:
            self.wait(first, ends, text)
        else:
            self.leave_out(text)
        return False

    def wait(self, label: Label, ends: Sequence[XY], told: str) -> None:
        """A label without room beside what it names, to be led to from one of `ends`, or listed as `told`."""
        self._waiting.append((label, ends, told))

    def lead(self) -> None:
        """Write the labels that wait where there is room, each at the end of a thin line, and list the others.

        A line crosses no label, no symbol and no other such line. All else is written before, or it would lose its
        room.
        """
        for tried, (label, ends, told) in enumerate(self._waiting):
            found = self._led(label, ends) if tried < _MOST_LED and len(self.labels) < _MOST_LABELS else None
            if found is None:
                self.leave_out(told)
                continue
            led, line = found
            self.write(led)
            self.marks += [Stroke(line, 0.5, DARK), Circle(line[0], 1.3, fill=BLACK, weight=0.0)]
            self.keep_clear(line)
            self._leaders.append(line)
        self._waiting.clear()

    def _led(self, label: Label, ends: Sequence[XY]) -> tuple[Label, tuple[XY, XY]] | None:
        """A label at the nearest free place to which a line leads, and the line; None where there is none."""
        for start, at, angle_deg in product(range(*_OUT), ends, range(0, 360, 15)):
            found = _beside(at, label, start, angle_deg)
            box = found.box
            line = _leader(at, box)
            if not self._is_free(_wider(box, _BESIDE, _ABOVE)) or not self._is_open(line):
                continue
            if all(spot == at or box.distance(spot) >= _NEAR for spot in self._spots):
                return found, line
        return None

    def _is_open(self, line: tuple[XY, XY]) -> bool:
        """Whether a line crosses no label, no symbol but that at its beginning, and no other line that leads to one."""
        if any(_cross(line, other) for other in self._leaders):
            return False
        crossed = [box for box in self._taken if box.shares_inside(*line) is not None]
        return all(box.distance(line[0]) == 0.0 and box not in self._written for box in crossed)

    def around(
        self,
        at: XY,
        text: str,
        *,
        gap: float,
        size: float = LABEL_SIZE,
        bold: bool = False,
        told: str | None = None,
        grey: float = BLACK,
    ) -> bool:
        """A label beside a point: right, left, above, below, at the corners, and farther out."""
        candidates = (
            _beside(at, Label(at, text, size, "start", bold, grey), distance, angle_deg)
            for distance in (gap, gap + 8.0, gap + 18.0, gap + 30.0)
            for angle_deg in (0, 180, 315, 45, 225, 135, 270, 90, 20, 340, 160, 200, 290, 250, 70, 110)
        )
        return self.place(candidates, at, told, (at,))

    def beside(
        self, line: tuple[XY, XY], text: str, alongs: Sequence[float], told: str | None = None, grey: float = BLACK
    ) -> bool:
        """A label beside a straight line, so many points from its start, on either side.

        Farther from it only where no other line is nearer, else led to from there.
        """
        (x1, y1), (x2, y2) = line
        length = hypot(x2 - x1, y2 - y1) or 1.0
        ahead = (x2 - x1) / length, (y2 - y1) / length
        half = text_width(text, LABEL_SIZE) / 2.0

        def candidates() -> Iterator[Label]:
            for farther, along, side in product((0.0, 10.0), alongs, (1.0, -1.0)):
                off = side * (4.0 + farther + half * abs(ahead[1]) + 6.0 * abs(ahead[0]))
                x, y = x1 + along * ahead[0] - off * ahead[1], y1 + along * ahead[1] + off * ahead[0]
                if farther == 0.0 or self._is_nearest((x, y), abs(off)):
                    yield Label((x, y + 0.3 * LABEL_SIZE), text, anchor="middle", grey=grey)

        ends = [(x1 + along * ahead[0], y1 + along * ahead[1]) for along in alongs]
        return self.place(candidates(), None, told, ends)

    def _is_nearest(self, at: XY, away: float) -> bool:
        """Whether no firm line is nearer to a place than `away`, the line that it is beside included."""
        return all(_distance(at, *line) >= away - 0.5 for lines in self._lines.values() for line in lines)

    def leave_out(self, text: str | None) -> None:
        """List what has no room, if it is anything."""
        if text:
            self.left_out[text] = None

    def _is_free(self, box: Rectangle) -> bool:
        """Whether a place is inside the drawing and covers neither a label nor a symbol nor a firm line."""
        if box.outside(self.width, self.height) > 0.0 or any(box.overlap(other) > 0.0 for other in self._taken):
            return False
        for half, lines in self._lines.items():
            wider = _wider(box, half, half)
            if any(wider.shares_inside(*line) is not None for line in lines):
                return False
        return True

    def _doubt(self, box: Rectangle, of: XY | None) -> float:
        """How bad a place is for naming a symbol: worse where another symbol is almost as near, then the farther out.

        Where another is nearer, or as near, the label would name that one, and may not stand there; but where the two
        are all but one place.
        """
        if of is None:
            return 0.0
        own = box.distance(of)
        others = [(box.distance(spot), hypot(spot[0] - of[0], spot[1] - of[1])) for spot in self._spots if spot != of]
        if any(away < own + 0.5 and apart > _ONE_PLACE for away, apart in others):
            return inf
        return 40.0 * sum(away <= own + _NEAR for away, _ in others) + max(0.0, own - _NEAR)


def _beside(at: XY, label: Label, distance: float, angle_deg: float) -> Label:
    """A label that begins `distance` away from a point in a direction, clockwise from the right."""
    across, down = cos(radians(angle_deg)), sin(radians(angle_deg))
    anchor = "start" if across > 0.3 else "end" if across < -0.3 else "middle"
    x = at[0] + distance * across
    y = at[1] + distance * down + label.size * (0.3 + 0.45 * down)
    return Label((x, y), label.text, label.size, anchor, label.bold, label.grey)


def _leader(at: XY, box: Rectangle) -> tuple[XY, XY]:
    """A line from a place to a little before a box."""
    across = min(max(at[0], box.left), box.right) - at[0]
    down = min(max(at[1], box.top), box.bottom) - at[1]
    share = 1.0 - 1.5 / max(hypot(across, down), 1.5)
    return at, (at[0] + share * across, at[1] + share * down)


def _cross(one: tuple[XY, XY], other: tuple[XY, XY]) -> bool:
    """Whether two straight lines cross: each has the ends of the other on both its sides."""

    def side(line: tuple[XY, XY], at: XY) -> float:
        (x1, y1), (x2, y2) = line
        return (x2 - x1) * (at[1] - y1) - (y2 - y1) * (at[0] - x1)

    return all(side(a, b[0]) * side(a, b[1]) < 0.0 for a, b in ((one, other), (other, one)))


def _distance(at: XY, start: XY, end: XY) -> float:
    """How far a place is from a straight line between two places."""
    across, down = end[0] - start[0], end[1] - start[1]
    square = across * across + down * down
    share = ((at[0] - start[0]) * across + (at[1] - start[1]) * down) / square if square > 0.0 else 0.0
    share = min(max(share, 0.0), 1.0)
    return hypot(at[0] - start[0] - share * across, at[1] - start[1] - share * down)


def _wider(box: Rectangle, beside: float, above: float) -> Rectangle:
    """A box with room around it."""
    return Rectangle(box.left - beside, box.top - above, box.right + beside, box.bottom + above)


def _cut(line: Stroke, boxes: Iterable[Rectangle]) -> Iterator[Stroke]:
    """The pieces of a line that lie outside of boxes."""
    near = [box for box in boxes if any(box.length_inside(*ends) > 0.0 for ends in pairwise(line.points))]
    if not near:
        yield line
        return
    run: list[XY] = []
    for start, end in pairwise(line.points):
        for first, last in _outside(start, end, near):
            if run and run[-1] != first:
                yield Stroke(tuple(run), line.weight, line.grey, line.dash)
                run = []
            run += [last] if run else [first, last]
        if run and run[-1] != end:
            yield Stroke(tuple(run), line.weight, line.grey, line.dash)
            run = []
    if run:
        yield Stroke(tuple(run), line.weight, line.grey, line.dash)


def _outside(start: XY, end: XY, boxes: Iterable[Rectangle]) -> Iterator[tuple[XY, XY]]:
    """The pieces of a straight line outside of boxes."""
    covered = sorted(share for box in boxes if (share := box.shares_inside(start, end)) is not None)

    def at(share: float) -> XY:
        return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])

    done = 0.0
    for first, last in covered:
        if first > done:
            yield at(done) if done else start, at(first)
        done = max(done, last)
    if done < 1.0:
        yield at(done) if done else start, end
