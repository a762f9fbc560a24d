"""What holds between a flight and another made of it: edited, turned back, split, revised or marked."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from geographiclib.geodesic import Geodesic
from helpers import independent
from helpers.flown import apart_deg
from helpers.grammar import written
from helpers.made import Made, json_of

from navlog.request.parser import parse
from navlog.request.typed import Overrides
from navlog.request.writer import to_text


def tidy_text_says_the_same(made: Made) -> Iterator[str]:
    """The tidied file gives the same legs."""
    tidy = to_text(parse(made.text, made.file))
    if json_of(made.answers(tidy))["legs"] != made.flight["legs"]:
        yield "the tidy text gives other legs"


def options_equal_edits(made: Made) -> Iterator[str]:
    """A statement as an option (`--set`) gives what it gives in the file, but for the place of what is told of it."""
    options = ("altitude 6500", "wind calm", "off 16:20Z", "equipment vor 2 dme 1")
    option = options[len(made.text) % len(options)]
    keyword = option.split()[0]
    replaced = ("wind", "winds") if keyword == "wind" else (keyword,)
    edited = made.changed(*((one, "") for one in replaced))
    by_edit = json_of(made.answers(written([*edited[:-1], option, edited[-1]])))
    by_option = json_of(made.answers(made.text, Overrides(statements=(option,))))
    for one in (by_edit, by_option):
        one["findings"] = sorted((found["rule"], found["leg"] or 0, found["message"]) for found in one["findings"])
        one["source"] = None
    if by_edit != by_option:
        yield f"{option} as an option is not what it is in the file"


def calm_means_heading_is_course(made: Made) -> Iterator[str]:
    """In calm every true heading is the course, and every groundspeed the airspeed."""
    for leg in json_of(made.answers(written(made.changed(("winds", "wind calm"), ("wind", "wind calm")))))["legs"]:
        if leg["true_heading_deg"] is None:
            continue
        if apart_deg(leg["true_heading_deg"], leg["true_course_deg"]) > 1e-9:
            yield f"heading {leg['true_heading_deg']} on course {leg['true_course_deg']} in calm"
        if abs(leg["groundspeed_kt"] - leg["tas_kt"]) > 1e-9:
            yield f"groundspeed {leg['groundspeed_kt']} of {leg['tas_kt']} in calm"


def the_way_back_swaps_flags(made: Made) -> Iterator[str]:
    """The reversed route has the same parts on the same radials, TO for FROM; asked of flights at one level."""
    if not made.is_plain:
        return
    calm = made.changed(("wind", "wind calm"), ("winds", "wind calm"), ("alternate", ""))
    words = written([made.lines[-1]]).replace(" over", "_over").split()[1:]
    route = f"route {' '.join(reversed(words))}".replace("_over", " over")
    there = json_of(made.answers(written(calm)))["legs"]
    found = json_of(made.answers(written([*calm[:-1], route])))
    swapped = {"TO": "FROM", "FROM": "TO", None: None}
    if len(there) != len(found["legs"]):
        yield f"{len(there)} legs there and {len(found['legs'])} back"
        return
    for one, other in zip(there, reversed(found["legs"]), strict=True):
        if abs(one["distance_nm"] - other["distance_nm"]) > 1e-6:
            yield f"leg {one['number']} is {one['distance_nm']} NM there and {other['distance_nm']} back"
        mine, theirs = one["guidance"], other["guidance"]
        if (mine is None) != (theirs is None):
            yield f"leg {one['number']} is guided one way only"
        elif mine is not None and (mine["ident"], mine["radial_deg"], swapped[mine["flag"]]) != (
            theirs["ident"], theirs["radial_deg"], theirs["flag"]
        ):  # fmt: skip
            yield f"leg {one['number']}: {mine['ident']} {mine['radial_deg']} {mine['flag']}, back {theirs}"


def splitting_a_leg_keeps_the_totals(made: Made) -> Iterator[str]:
    """A point in the middle of a direct hop of nothing stated changes distance and time by nothing worth print."""
    words = written([made.lines[-1]]).split()[1:]
    stated = " ".join(line for line in made.lines[:-1] if line.startswith(("airway", "direct")))
    places = {leg["from"]["ident"]: leg["from"] for leg in made.flight["legs"]}
    places |= {leg["to"]["ident"]: leg["to"] for leg in made.flight["legs"]}
    for index, (one, other) in enumerate(pairwise(words)):
        names = one.partition("/")[0], other.partition("/")[0]
        if not all(name in places for name in names) or all(name in stated for name in names):
            continue
        ends = [independent.place(places[name]) for name in names]
        if None in ends:
            continue
        line = Geodesic.WGS84.InverseLine(*ends[0], *ends[1])  # type: ignore[misc]
        middle = line.Position(line.s13 / 2.0)
        route = [*words[: index + 1], "HALFW", *words[index + 1 :]]
        fix = f"fix HALFW {middle['lat2']:.8f} {middle['lon2']:.8f}"
        split = json_of(made.answers(written([*made.lines[:-1], fix, f"route {' '.join(route)}"])))
        if split["problems"]:
            yield f"split between {one} and {other}: {split['problems'][0]['message']}"
            return
        for key, allowed in (("distance_nm", 1e-3), ("time_min", 0.25), ("fuel_gal", 0.1)):
            whole, now = made.flight["totals"][key], split["totals"][key]
            if (whole is None) != (now is None) or (whole is not None and abs(whole - now) > allowed):
                yield f"split between {one} and {other}: {key} {now} for {whole}"
        return
