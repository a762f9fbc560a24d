"""Labels of drawings against the SVG alone: over 200 drawn flights none lies over another, over a line or outside.

Boxes are told here from the attributes of the elements: size, length, anchor and place.
"""

from __future__ import annotations

from itertools import combinations, pairwise
from pathlib import Path
from random import Random
from typing import NamedTuple
from xml.etree import ElementTree as ET

import pytest
from helpers.flown import EXAMPLES

from navlog.nav.chart import Position
from navlog.nav.surroundings import Line, Surroundings
from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.resolve.lookup import NoCatalogue
from navlog.rules.answers import answers
from navlog.rules.report import Report
from navlog.rules.samples import FILES
from navlog.sheets.drawing import Drawing, Label, Mark, Stroke
from navlog.sheets.pages import PAGES
from navlog.sheets.plan_drawing import plan_drawing
from navlog.sheets.profile_drawing import profile_drawing
from navlog.sheets.svg import svg

FLIGHTS = 200
ASCENT, DESCENT = 0.905, 0.212
"""Of a sans-serif face, in parts of its size (Arial's own figures)."""


class Box(NamedTuple):
    left: float
    top: float
    right: float
    bottom: float


def flight(chance: Random) -> str:
    """A flight over the islands: stations with airways between them, fixes, airports, a climb, an alternate."""
    count = chance.randint(2, 9)
    idents = [f"Q{first}{second}" for first in "ABC" for second in "DEF"]
    lines, route, airways = ["station QZZ 116.90 N45 30.00 W039 30.00 decl 12W elev 20ft"], ["XAAA"], []
    before = None
    for index in range(count):
        latitude, longitude = 45.4 + 1.2 * chance.random(), -40.4 + 2.0 * chance.random()
        ident, where = idents[index], f"{latitude:.4f} {longitude:.4f}"
        kind = chance.choice(("station", "station", "fix", "crossing", "airport"))
        if kind == "station":
            lines.append(
                f"station {ident} {112 + index / 2:.2f} {where} decl {chance.randint(5, 20)}W class H dme elev 300ft"
            )
            if before is not None and chance.random() < 0.6:
                limits = f"mea {chance.randint(25, 60)}00" + chance.choice(("", " moca 2100"))
                airways.append((f"V{800 + index}", before, ident, limits))
                route.append(f"V{800 + index}")
            before = ident
            route.append(ident)
            continue
        before = None
        name = f"FI{ident}"
        if kind == "crossing":
            lines.append(
                f"station Y{ident[1:]} {109 + index / 5:.2f} {latitude + 0.2:.4f} {longitude - 0.3:.4f} decl 12W"
            )
            lines.append(f"fix {name} Y{ident[1:]} 145 25nm")
            route.append(name)
        elif kind == "fix":
            lines.append(f"fix {name} {where}")
            route.append(name)
        else:
            lines.append(f"airport X{ident} {where} elev {chance.randint(0, 900)}ft")
            route.append(f"X{ident} over")
    lines.append(f"airport XAAA {45.4 + 1.2 * chance.random():.4f} {-40.4 + 2.0 * chance.random():.4f} elev 200ft")
    lines.append(f"airport XAAB {45.4 + 1.2 * chance.random():.4f} {-40.4 + 2.0 * chance.random():.4f} elev 400ft")
    placed = {line.split()[1]: line.split()[3:5] for line in lines if line.startswith("station")}
    for ident, first, last, limits in airways:
        lines.append(f"airway {ident} {first} - {last} {apart_nm(placed[first], placed[last]):.1f}nm {limits}")
    lines += ["date 2026-07-18", "off 15:10Z", f"altitude {chance.randint(20, 90)}00", "fuel 90gal", "wind 240/20"]
    lines += ["aircraft climber.toml"] if chance.random() < 0.7 else ["tas 110kt", "burn 8gph"]
    end = chance.choice(("XAAA", "XAAB"))
    lines += ["alternate XAAB"] if end == "XAAA" and chance.random() < 0.6 else []
    lines += [f"accuracy {chance.choice(('faa', 'icao', '3'))}"]
    lines += ["terrain terrain"] if chance.random() < 0.05 else []
    return "\n".join((*lines, f"route {' '.join(route)} {end}")) + "\n"


def apart_nm(first: list[str], last: list[str]) -> float:
    from navlog.nav.earth import distance_nm

    one, other = (Position(float(latitude), float(longitude)) for latitude, longitude in (first, last))
    return distance_nm(one, other)


def report_of(text: str) -> Report:
    (one,) = answers(read_flights(text, "drawn.route"), NoCatalogue(), References(FILES))
    assert one.report is not None, (text, one.problems)
    return one.report


def around(chance: Random) -> Surroundings:
    """Invented stations and airways everywhere about the islands."""
    spots = [Position(45.2 + 1.6 * chance.random(), -40.8 + 2.8 * chance.random()) for _ in range(30)]
    stations = tuple((f"N{chance.choice('ABCD')}{chance.choice('EFGH')}", spot) for spot in spots[:12])
    return Surroundings(stations, tuple(Line(f"V{number}", tuple(spots[number : number + 3])) for number in range(12)))


def labels(root: ET.Element) -> list[tuple[str, Box]]:
    found = []
    for one in root.iter("{http://www.w3.org/2000/svg}text"):
        x, y, size, width = (float(one.attrib[key]) for key in ("x", "y", "font-size", "textLength"))
        left = x - {"start": 0.0, "middle": width / 2.0, "end": width}[one.attrib["text-anchor"]]
        found.append((one.text or "", Box(left, y - ASCENT * size, left + width, y + DESCENT * size)))
    return found


def strokes(root: ET.Element) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Every straight piece of an inked line: of polylines, and of the outlines of shapes and circles."""
    found = []
    for one in root.iter():
        if one.attrib.get("stroke") == "none":
            continue
        if one.tag.endswith(("polyline", "polygon")):
            points = [tuple(map(float, point.split(","))) for point in one.attrib["points"].split()]
            points += points[:1] if one.tag.endswith("polygon") else []
            found += [((x1, y1), (x2, y2)) for (x1, y1), (x2, y2) in pairwise(points)]
        elif one.tag.endswith("circle"):
            x, y, radius = (float(one.attrib[key]) for key in ("cx", "cy", "r"))
            found += [((x - radius, y), (x + radius, y)), ((x, y - radius), (x, y + radius))]
    return found


def crosses(box: Box, line: tuple[tuple[float, float], tuple[float, float]]) -> bool:
    """Whether a line comes into a box: by the separating axes of the two."""
    (x1, y1), (x2, y2) = line
    if max(x1, x2) <= box.left or min(x1, x2) >= box.right or max(y1, y2) <= box.top or min(y1, y2) >= box.bottom:
        return False
    corners = [(x, y) for x in (box.left, box.right) for y in (box.top, box.bottom)]
    sides = [(x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) for x, y in corners]
    return min(sides) < 0.0 < max(sides)


def faults(drawing: Drawing) -> list[str]:
    root = ET.fromstring(svg(drawing))
    boxes, lines = labels(root), strokes(root)
    told = [
        f"{one} over {other}"
        for (one, a), (other, b) in combinations(boxes, 2)
        if min(a.right, b.right) > max(a.left, b.left) and min(a.bottom, b.bottom) > max(a.top, b.top)
    ]
    told += [f"{text} over a line" for text, box in boxes if any(crosses(box, line) for line in lines)]
    told += [
        f"{text} outside"
        for text, box in boxes
        if box.left < 0.0 or box.top < 0.0 or box.right > drawing.width or box.bottom > drawing.height
    ]
    return told


def test_no_label_of_200_flights_lies_over_another_or_over_a_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(FILES, "terrain", str(EXAMPLES / "terrain"))
    drawn = written = 0
    for number in range(FLIGHTS):
        chance = Random(number)
        whole = report_of(flight(chance))
        page = list(PAGES.values())[number % len(PAGES)]
        width, height = page.drawing_width_pt, page.drawing_height_pt * chance.choice((0.5, 1.0))
        plan = plan_drawing(whole.log, width, height * 0.6, around(chance) if number % 3 == 0 else None)
        for drawing in (plan, profile_drawing(whole, width, height * 0.4)):
            assert drawing is not None
            assert faults(drawing) == [], (number, drawing.title)
            drawn += 1
            written += sum(1 for _ in drawing.marks if type(_).__name__ == "Label")
    assert (drawn, written > 20 * FLIGHTS) == (2 * FLIGHTS, True)


def test_every_leg_of_a_drawn_flight_is_told_on_the_plan_or_below_it() -> None:
    for number in range(40):
        whole = report_of(flight(Random(number)))
        plan = plan_drawing(whole.log, 367.0, 300.0)
        assert plan is not None
        told = "\n".join((*(text for text, _ in labels(ET.fromstring(svg(plan)))), *plan.left_out))
        for leg in whole.log.first_legs():
            stretch = leg.stretch
            assert stretch.via in told
            assert f"{stretch.length_nm:.1f}" in told or abs(stretch.length_nm * 10 % 1 - 0.5) < 0.01


@pytest.mark.parametrize("fault", ["over another", "over a line", "outside"])
def test_a_fault_is_found(fault: str) -> None:
    """The check itself can fail: two labels upon each other, one on a line, one over the edge."""
    marks: dict[str, tuple[Mark, ...]] = {
        "over another": (Label((50.0, 50.0), "ONE"), Label((55.0, 52.0), "TWO")),
        "over a line": (Label((50.0, 50.0), "ONE"), Stroke(((0.0, 0.0), (100.0, 94.0)), 1.0)),
        "outside": (Label((90.0, 50.0), "ONE"),),
    }
    (found,) = faults(Drawing("a test", 100.0, 100.0, marks[fault]))
    assert found.endswith(fault if fault != "over another" else "over TWO")


def test_the_folder_of_terrain_is_there() -> None:
    assert (Path(EXAMPLES) / "terrain" / "islands.tif").is_file()
