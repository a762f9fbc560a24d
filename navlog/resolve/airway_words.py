"""Which airway a word of the route line means, and what to say where it means none."""

from __future__ import annotations

import re

from navlog.nav.chart import Airway, Service
from navlog.nav.spelling import alike
from navlog.request.records import RouteWord
from navlog.resolve.names import Names, qualified

DIRECT = "DCT"

_AIRWAY = r"[KUS]?[ABGHJLMNPQRTVWYZ][1-9]\d{0,2}"
"""A designator of a route (ICAO Annex 11, Appendix 1; V and J in the United States)."""


def chosen_airways(names: Names, words: tuple[RouteWord, ...], links: set[int], loose: set[int]) -> dict[int, Airway]:
    """The airway that each designator means: of several locations, the one that holds both points."""
    chosen: dict[int, Airway] = {}
    for index in sorted(links):
        word, before, after = words[index], words[index - 1], words[index + 1]
        if word.text == DIRECT or not (links | loose).isdisjoint((index - 1, index + 1)):
            continue
        variants = names.airways(word.text)
        # Hawaii and the States each have a V1: the points beside the word tell which is flown.
        holding = [a for a in variants if _holds(a, before) and _holds(a, after)]
        if len(holding) == 1:
            chosen[index] = holding[0]
        elif holding:
            names.report(
                "ambiguous-name",
                f"`{word.text}` is {len(holding)} airways that hold both points",
                word.span,
                f"say which {before.ident}: write its position after a colon",
            )
        else:
            for point in (before, after):
                if not any(_holds(airway, point) for airway in variants):
                    names.report(
                        "not-on-airway",
                        f"`{point.name}` is not on {word.text}",
                        point.span,
                        points_of(variants),
                    )
                    break
            else:
                names.report(
                    "not-on-airway",
                    f"no {word.text} holds both `{before.name}` and `{after.name}`",
                    word.span,
                    points_of(variants),
                )
    return chosen


def _holds(airway: Airway, word: RouteWord) -> bool:
    """Whether the airway has the point that a word names."""
    if word.ident is None or word.bearing_deg is not None or word.ident not in airway.points:
        return False
    place = airway.places[airway.points.index(word.ident)] if airway.places else None
    return place is None or bool(qualified((place,), word))


def points_of(variants: tuple[Airway, ...]) -> str:
    """A hint that lists the points of an airway, shortened where it has many."""
    listed = []
    for airway in variants:
        points = airway.points
        shown = points if len(points) <= 12 else (*points[:6], "...", *points[-5:])
        listed.append(f"{airway.ident} runs " + " ".join(shown))
    return "; ".join(listed)


def common_points(names: Names, words: tuple[RouteWord, ...], index: int) -> str:
    """A hint with the points that the airway at `index` and the one before it share, in the order of flight."""
    first, second = words[index - 1].text, words[index].text
    if DIRECT in (first, second):
        return "name the point where the airway is joined or left"
    shared = shared_points(names, words, index)
    if not shared:
        return f"{first} and {second} have no point in common; name a point where they cross"
    return "name the point between them: " + " or ".join(f"`{point}`" for point in shared)


def shared_points(names: Names, words: tuple[RouteWord, ...], index: int) -> tuple[str, ...]:
    """The points that the airway at `index` and the one before it share, in the order of flight along the first.

    Where the first is joined is the word before it; without that point the airway's own order stands.
    """
    joined_at = words[index - 2].ident
    onto = {point for one in names.airways(words[index].text) for point in one.points}
    found: dict[str, None] = {}
    for one in names.airways(words[index - 1].text):
        places = {point: number for number, point in enumerate(one.points)}
        begun = places.get(joined_at) if joined_at is not None else None
        shared = [point for point in one.points if point in onto and point != joined_at]
        if begun is not None:
            # From where the first airway is joined outward: the nearest shared point is mostly the one forgotten.
            shared.sort(key=lambda point, places=places, begun=begun: abs(places[point] - begun))  # type: ignore[misc]
        found.update(dict.fromkeys(shared))
    return tuple(found)


def is_unknown_airway(names: Names, word: RouteWord) -> bool:
    """Whether a word inside a route is spelt like an airway and nothing at all has its name."""
    if word.ident is None or word.text != word.ident:
        return False
    # Only where nothing at all has the name: some fixes are spelt like airways.
    return re.fullmatch(_AIRWAY, word.ident) is not None and not names.places(word.ident)


def joined_by_vor(names: Names, first: str, second: str) -> tuple[str, ...]:
    """The published airways that hold both points and are not for GNSS alone all the way between them."""
    return tuple(
        ident
        for ident in names.catalogue.airways_joining(first, second, names.request.day)
        if any(_serves_vor(airway, first, second) for airway in names.airways(ident))
    )


def _serves_vor(airway: Airway, first: str, second: str) -> bool:
    if first not in airway.points or second not in airway.points:
        return False
    low, high = sorted((airway.points.index(first), airway.points.index(second)))
    return any(segment.service is not Service.GNSS_ONLY for segment in airway.segments[low:high])


def joined(names: Names, words: tuple[RouteWord, ...], index: int) -> str:
    """A hint with the airways that join the points beside a word, else with the file's own that are spelt like it."""
    before, after = (words[index + step].ident for step in (-1, 1))
    if before is not None and after is not None:
        own = [
            ident
            for ident, definition in names.request.definitions.airways.items()
            if before in definition.airway.points and after in definition.airway.points
        ]
        found = tuple(dict.fromkeys((*own, *joined_by_vor(names, before, after))))
        if found:
            join = "joins" if len(found) == 1 else "join"
            return f"{' and '.join(f'`{ident}`' for ident in found)} {join} {before} and {after}"
    close = alike(words[index].text, names.request.definitions.airways, most=2, likeness=0.5)
    if close:
        return "did you mean " + " or ".join(f"`{name}`" for name in close) + "?"
    ends = f"{words[index - 1].name} and {words[index + 1].name}"
    return f"no airway joins {ends}; write `DCT` where direct is meant"


def in_force(names: Names) -> str:
    """What was asked for an airway: the file, and the cycles that hold on the day."""
    cycles = sorted({one.cycle for one in names.catalogue.sources(names.request.day) if one.cycle is not None})
    return f"in cycle {' or '.join(cycles)}" if cycles else "in this file"
