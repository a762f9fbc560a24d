"""What holds for every flight, each asked of a flight of the grammar; a fault is told in words.

`INVARIANTS` names them all; `tests/hardening/fuzz_flights.py` asks them of as many flights as there is time for.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise
from random import Random

from helpers import independent
from helpers.flown import apart_deg
from helpers.invariants_between import (
    calm_means_heading_is_course,
    options_equal_edits,
    splitting_a_leg_keeps_the_totals,
    the_way_back_swaps_flags,
    tidy_text_says_the_same,
)
from helpers.invariants_in_flight import own_figures_are_marked_right, revised_on_time_is_the_plan
from helpers.invariants_of_commands import check_says_what_the_log_does, commands_answer
from helpers.invariants_of_gates import (
    a_baseline_knows_what_it_was_written_of,
    chosen_and_ignored_make_all,
    shared_out_work_says_the_same,
)
from helpers.made import CATALOGUE, Made
from helpers.second_air import oxygen_agrees
from helpers.second_climbouts import climbouts_agree
from helpers.second_climbs import climbs_agree
from helpers.second_cold import cold_air_agrees
from helpers.second_cruising import cruising_levels_agree
from helpers.second_fuel import fuel_adds_up, fuel_findings_agree
from helpers.second_ground import ground_agrees, over_the_islands
from helpers.second_heights import heights_agree, limits_are_those_of_the_file
from helpers.second_noticed import notices_agree
from helpers.second_rows import rows_agree
from helpers.second_winds import figures_by_height_agree, winds_agree

from navlog.sheets.formats import EXTRAS, PAPERS
from navlog.studies.explain_text import explained, explanation_text

HALF = 0.5 + 1e-6
VARIED = (
    *(f"altitude {feet}" for feet in (1500, 2000, 2600, 3000, 4000, 5500, 7500, 9000, 11000, 13500, 14500, 16000)),
    *(
        "altitude FL055",
        "altitude FL090",
        "fuel 8gal",
        "fuel 11gal",
        "fuel 15gal",
        "fuel 20gal",
        "fuel 31gal",
        "fuel 60gal",
    ),
    *("reserve 20min", "reserve 60min", "contingency 10%", "contingency 25%", "extra 4gal", "taxi 2gal", "taxi 0.3gal"),
    *("wind calm", "wind 2000 020/20 9000 110/40", "wind 330/50", "wind 190/15", "rules ifr", "rules vfr day"),
    *("wind 2000 230/12 -25C 9000 240/18 -41C", "wind 1000 310/20 -1C 18000 330/45 -52C", "temperature -30C"),
    *(
        "rules vfr night",
        "altimeter 975hPa",
        "altimeter 1040hPa",
        "equipment vor 2 dme 1",
        "equipment vor 1",
        "off 02:40Z",
    ),
)
"""What is said in a flight in place of its own, up to three at a time."""


def every_sheet_is_written(made: Made) -> Iterator[str]:
    """Every format on a size of paper, with every extra; without a DMS letter, a traceback or a `nan`."""
    paper = PAPERS[len(made.text) % len(PAPERS)]
    for form in made.forms:
        if form == "pdf" and len(made.text) % 10:
            continue
        printed = made.sheet(form, paper, EXTRAS if len(made.text) % 2 else ())
        if isinstance(printed, str) and re.search(r"\bnan\b|\binf\b|None\b", printed):
            yield f"{form} prints what is no figure"


def workings_are_told(made: Made) -> Iterator[str]:
    """The workings of every leg."""
    _, workings = explained(made.found[0], None)
    assert workings is not None
    if not explanation_text(workings):
        yield "no workings"


def a_second_opinion_agrees(made: Made) -> Iterator[str]:
    """Places, courses, triangles and sums as worked out without navlog (`helpers/independent.py`)."""
    looser = independent.TOLERANCES | {"true course": 1e-3, "fuel rate": 1e9, "variation": 9.0, "turn": 1e-4}
    # A climb and a descent have the mean of many triangles, a hold is no part of the way, and there a point without a
    # name is a changeover.
    unnamed = any(leg["to"]["ident"] is None and leg["changeover"] is None for leg in made.flight["legs"])
    if unnamed or any(leg["phase"] != "cruise" for leg in made.flight["legs"]):
        return
    passed_over = {"charted distance", "charted radial"}
    # Within 300 NM of a pole the model bends more than the line between its values on a stretch.
    if any(abs(leg["to"]["latitude_deg"] or 0.0) > 85.0 for leg in made.flight["legs"]):
        passed_over.add("variation")
    for name, seen in independent.differences(independent.dated(made.flight)).items():
        if name not in passed_over and seen > looser[name]:
            yield f"{name} differs by {seen:g}"


def time_and_fuel_go_one_way(made: Made) -> Iterator[str]:
    """Time only passes and fuel only goes, but where it is taken on at a landing."""
    for before, leg in pairwise(made.flight["legs"]):
        landed = before["turn_deg"] is None
        for key, sign in (("elapsed_min", 1.0), ("fuel_remaining_gal", -1.0)):
            known = None not in (before[key], leg[key]) and (key == "elapsed_min" or not landed)
            if known and sign * (leg[key] - before[key]) < -1e-9:
                yield f"{key} goes the other way on leg {leg['number']}"


def steps(cell: str) -> int | None:
    """A printed figure in its steps, `0:07` in minutes; None for what is no figure."""
    if re.fullmatch(r"\d+:\d\d", cell):
        hours, minutes = cell.split(":")
        return 60 * int(hours) + int(minutes)
    cell = cell.removeprefix("'")
    return int(cell.replace(".", "")) if re.fullmatch(r"-?[\d.]+", cell) else None


def columns_add_as_printed(made: Made) -> Iterator[str]:
    """Distance to go, running time and fuel left are those of the row before and this row's figures."""
    for before, row in pairwise(made.rows):
        landed = made.flight["legs"][int(before["leg"]) - 1]["turn_deg"] is None
        for total, part, sign in (
            ("distance_remaining_nm", "distance_nm", -1),
            ("elapsed_h_min", "time_h_min", 1),
            ("fuel_left", "fuel_used", -1),
        ):
            was, here, one = steps(before[total]), steps(row[total]), steps(row[part])
            if None in (was, here, one) or landed or before[total] == "0.0":
                continue
            if was + sign * one != here:  # type: ignore[operator]
                yield f"{total} {before[total]} and {row[part]} give {row[total]} in row {row['leg']}"


def formats_agree(made: Made) -> Iterator[str]:
    """CSV holds the JSON's figures rounded, the text log the CSV's, and GPX the JSON's points."""
    text = str(made.sheet("text"))
    blocks = re.split(r"\n(?= ?\d+ )", text.partition("\n---")[2].partition("\nTOTAL")[0])[1:]
    for leg, row, block in zip(made.flight["legs"], made.rows, blocks, strict=True):
        words = re.split(r"[\s!]+", block)
        for figure in (row["fuel_left"].removeprefix("'"), row["distance_nm"], row["time_h_min"]):
            if figure not in words:
                yield f"leg {leg['number']}: {figure} of the CSV is not in the text"
        shown = steps(row["elapsed_h_min"])
        if shown is not None and abs(shown - leg["elapsed_min"]) > HALF:
            yield f"leg {leg['number']}: {row['elapsed_h_min']} in CSV, {leg['elapsed_min']} min in JSON"
        flag = (leg["guidance"] or {}).get("flag")
        if flag is not None and flag not in row["set_course"]:
            yield f"leg {leg['number']}: {row['set_course']} in CSV, {flag} in JSON"
    gpx = str(made.sheet("gpx")) if "gpx" in made.forms else ""
    points = {(float(one), float(other)) for one, other in re.findall(r'<rtept lat="(\S+)" lon="(\S+)"', gpx)}
    for leg in made.flight["legs"]:
        place = leg["to"]["latitude_deg"], leg["to"]["longitude_deg"]
        drawn = any(
            None not in place and abs(place[0] - lat) < 1e-5 and apart_deg(place[1], lon) < 1e-5 for lat, lon in points
        )
        if leg["to"]["ident"] and None not in place and not drawn:
            yield f"{leg['to']['ident']} is not in the GPX"


_OF_VARIANTS = (
    time_and_fuel_go_one_way,
    columns_add_as_printed,
    limits_are_those_of_the_file,
    heights_agree,
    fuel_adds_up,
    fuel_findings_agree,
    rows_agree,
    cruising_levels_agree,
    oxygen_agrees,
    cold_air_agrees,
    ground_agrees,
    climbs_agree,
    winds_agree,
    climbouts_agree,
)


def variants_agree(made: Made) -> Iterator[str]:
    """What the numbers alone tell holds for the flight at other levels, in other winds and with other fuel too."""
    chance = Random(made.text)
    drawn = [chance.sample(VARIED, 3) for _ in range(8)]
    if over_the_islands(made) and chance.random() < 0.5:  # slow to look at
        drawn.append([f"altitude {chance.randrange(1500, 4000, 500)}", "terrain terrain"])
    if any(re.match(r"station QAB \S+ {-?\d", line) for line in made.lines):  # where the bulletin's air is
        drawn.append([f"altitude {chance.randrange(2000, 9000, 300)}", "winds cold.txt"])
    for lines in drawn:
        said = list({line.split()[0]: line for line in lines}.values())
        keywords = {line.split()[0] for line in said}
        keywords |= {"wind", "winds"} if keywords & {"wind", "winds"} else set()
        keywords |= {"direct"} if "terrain" in keywords and chance.random() < 0.5 else set()
        kept = [line for line in made.lines if line.split()[0] not in keywords or line.startswith("wind at ")]
        varied = made.other([*kept[:-1], *said, kept[-1]])
        if "direct" in keywords:  # over the ground then, with the masts
            varied.published = str(made.folder / CATALOGUE)
        for invariant in _OF_VARIANTS:
            yield from (f"with {', '.join(said)}: {fault}" for fault in invariant(varied))


INVARIANTS: Mapping[str, Callable[[Made], Iterator[str]]] = {
    one.__name__: one
    for one in (
        every_sheet_is_written,
        commands_answer,
        check_says_what_the_log_does,
        a_baseline_knows_what_it_was_written_of,
        chosen_and_ignored_make_all,
        shared_out_work_says_the_same,
        workings_are_told,
        a_second_opinion_agrees,
        *_OF_VARIANTS,
        figures_by_height_agree,
        notices_agree,
        formats_agree,
        tidy_text_says_the_same,
        options_equal_edits,
        calm_means_heading_is_course,
        the_way_back_swaps_flags,
        splitting_a_leg_keeps_the_totals,
        variants_agree,
        revised_on_time_is_the_plan,
        own_figures_are_marked_right,
    )
}
