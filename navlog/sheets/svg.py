"""A drawing as SVG, to stand inside HTML."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.sheets.drawing import Area, Circle, Drawing, Label, Mark, Stroke
from navlog.sheets.xml_text import escaped


def svg(drawing: Drawing) -> str:
    """The drawing as one element that scales with the page; its title is read out to who cannot see it."""
    return "\n".join(_elements(drawing))


def _elements(drawing: Drawing) -> Iterator[str]:
    """The lines of the element."""
    title = escaped(drawing.title)
    yield (
        f'<svg class="drawing" role="img" aria-label="{title}" viewBox="0 0 {drawing.width:g} {drawing.height:g}"'
        f' xmlns="http://www.w3.org/2000/svg">'
    )
    yield from (_element(mark) for mark in drawing.marks)
    yield "</svg>"


def _element(mark: Mark) -> str:
    """One mark."""
    if isinstance(mark, Label):
        weight = ' font-weight="bold"' if mark.bold else ""
        x, y = mark.at
        fill = f' fill="{_grey(mark.grey)}"' if mark.grey else ""
        return (
            f'<text x="{x:.1f}" y="{y:.1f}" font-size="{mark.size:g}" text-anchor="{mark.anchor}"{weight}{fill}'
            f' textLength="{mark.width:.1f}" lengthAdjust="spacingAndGlyphs">'
            f"{escaped(mark.text)}</text>"
        )
    if isinstance(mark, Circle):
        x, y = mark.center
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{mark.radius:.1f}" {_filled(mark.fill)} {_stroke(mark)}/>'
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in mark.points)
    if isinstance(mark, Area):
        return f'<polygon points="{points}" {_filled(mark.fill)} {_stroke(mark)}/>'
    dash = f' stroke-dasharray="{" ".join(f"{length:g}" for length in mark.dash)}"' if mark.dash else ""
    return f'<polyline points="{points}" fill="none" {_stroke(mark)}{dash}/>'


def _stroke(mark: Stroke | Area | Circle) -> str:
    """The pen of a mark; no weight draws no line."""
    return f'stroke="{_grey(mark.grey)}" stroke-width="{mark.weight:g}"' if mark.weight else 'stroke="none"'


def _filled(fill: float | None) -> str:
    """The filling of a mark."""
    return f'fill="{"none" if fill is None else _grey(fill)}"'


def _grey(value: float) -> str:
    """A grey from 0, black, to 1, white."""
    level = round(value * 255)
    return f"#{level:02x}{level:02x}{level:02x}"
