"""What holds for every flight, each asked of a flight of the grammar; a fault is told in words.

`INVARIANTS` names them all; `tests/hardening/fuzz_flights.py` asks them of as many flights as there is time for.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from itertools import pairwise
from pathlib import Path

from geographiclib.geodesic import Geodesic
from helpers import independent
from helpers.flown import Json, apart_deg, navlog
from helpers.grammar import FILES, written
from helpers.tiles import write_islands

from navlog.nav.problems import NavlogError
from navlog.request.parser import parse
from navlog.request.references import References
from navlog.request.typed import NO_OVERRIDES, Overrides
from navlog.request.writer import to_text
from navlog.rules.answers import Answer, check_text
from navlog.rules.report import Report
from navlog.sheets.formats import EXTRAS, MODULES, PAPERS, sheet
from navlog.studies import marking
from navlog.studies.explain_text import explained, explanation_text
from navlog.studies.revision import revise

HALF = 0.5 + 1e-6
COMMANDS = (
    ("explain",), ("explain", "--leg", "1"), ("log", "--compare-altitudes"), ("log", "--format", "steps"),
    ("log", "--all"), ("log", "--unavailable", "QAB"), ("check",), ("check", "--format", "csv"), ("check", "--strict"),
    ("check", "--format", "sarif"), ("without", "QAB"), ("mark", "--template"), ("revise",), ("notices",),
)  # fmt: skip
"""Command lines over a route file; what a flight lacks for one is a problem, told with status 2."""


def folder_of_files(folder: Path) -> Path:
    """The folder with the files that flights of the grammar name."""
    for name, text in FILES.items():
        (folder / name).write_text(text, "utf-8")
    (folder / "terrain").mkdir()
    write_islands(folder / "terrain")
    return folder


@dataclass
class Made:
    """A flight of the grammar as it is computed; `lines` are its statements, the route's last.

    Its file stands in `folder`, beside those that it may name, each read once for all flights with these references.
    """

    lines: list[str]
    folder: Path
    references: References

    @property
    def file(self) -> str:
        """The path of its file, which the first of its commands writes."""
        return str(self.folder / "made.route")

    @cached_property
    def text(self) -> str:
        """The route file."""
        return written(self.lines)

    def answers(self, text: str, overrides: Overrides = NO_OVERRIDES) -> tuple[Answer, ...]:
        """What comes of a route file beside the same references."""
        return check_text(text, self.file, references=self.references, overrides=overrides)

    @cached_property
    def found(self) -> tuple[Answer, ...]:
        """What comes of the flight."""
        return self.answers(self.text)

    @cached_property
    def report(self) -> Report:
        """Its report; the grammar makes no flight without one."""
        report = self.found[0].report
        assert report is not None, self.found[0].problems
        return report

    @cached_property
    def flight(self) -> Json:
        """Its JSON."""
        return json_of(self.found)

    @cached_property
    def rows(self) -> list[dict[str, str]]:
        """The rows of its CSV that are the route's."""
        data = sheet("csv", self.found, "a5")
        assert isinstance(data, bytes)
        return [row for row in csv.DictReader(io.StringIO(data.decode(), newline="")) if not row["alternate"]]

    def changed(self, *changes: tuple[str, str]) -> list[str]:
        """Its lines with those that begin with a keyword in another's place, or left out."""
        lines = list(self.lines)
        for keyword, instead in changes:
            lines = [instead if line.startswith(f"{keyword} ") else line for line in lines]
        return list(dict.fromkeys(line for line in lines if line))

    @property
    def is_plain(self) -> bool:
        """Whether it is flown at one level and speed without a landing on the way."""
        words = ("aircraft ", "hold ", "notices ", "unavailable ")
        return not any(line.startswith(words) for line in self.lines) and not re.search(r"/|land", self.lines[-1])


def json_of(found: tuple[Answer, ...]) -> Json:
    """The JSON of a file's only flight."""
    printed = sheet("json", found, "a5")
    assert isinstance(printed, str)
    flight: Json = json.loads(printed)
    return flight


def every_sheet_is_written(made: Made) -> Iterator[str]:
    """Every format on a size of paper, with every extra; without a DMS letter, a traceback or a `nan`."""
    paper = PAPERS[len(made.text) % len(PAPERS)]
    for form in MODULES:
        if form == "pdf" and len(made.text) % 10:
            continue
        printed = sheet(form, made.found, paper, extras=EXTRAS if len(made.text) % 2 else ())
        if isinstance(printed, str) and re.search(r"\bnan\b|\binf\b|None\b", printed):
            yield f"{form} prints what is no figure"


def commands_answer(made: Made) -> Iterator[str]:
    """A command line over the flight has an answer or a problem, never a bug; `check` says what `log` does."""
    Path(made.file).write_text(made.text, "utf-8")
    command, *options = COMMANDS[len(made.text) % len(COMMANDS)]
    found = navlog(command, made.file, *options)
    if found.status not in (0, 1, 2) or "Traceback" in found.err or (found.status == 2) != ("error: " in found.err):
        yield f"{command} {' '.join(options)}: status {found.status}, {found.err[:200]}"
    checked: Json = json.loads(navlog("check", made.file, "--format", "json").out)
    logged = {key: made.flight[key] for key in checked}
    # Legs stand in the log alone, those of the ways to alternates too.
    logged["alternates"] = [{key: way[key] for key in way if key != "legs"} for way in logged["alternates"]]
    if checked != logged:
        yield "check says what the log does not"


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
    charted = ("charted distance", "charted radial")
    for name, seen in independent.differences(independent.dated(made.flight)).items():
        if name not in charted and seen > looser[name]:
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
    text = str(sheet("text", made.found, "a5"))
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
    gpx = str(sheet("gpx", made.found, "a5"))
    points = {(float(one), float(other)) for one, other in re.findall(r'<rtept lat="(\S+)" lon="(\S+)"', gpx)}
    for leg in made.flight["legs"]:
        place = leg["to"]["latitude_deg"], leg["to"]["longitude_deg"]
        drawn = any(
            None not in place and abs(place[0] - lat) < 1e-5 and apart_deg(place[1], lon) < 1e-5 for lat, lon in points
        )
        if leg["to"]["ident"] and None not in place and not drawn:
            yield f"{leg['to']['ident']} is not in the GPX"


def findings_agree(made: Made) -> Iterator[str]:
    """A second reading of the rules of altitude and fuel, by the JSON's own numbers.

    Level flight below a stated minimum, an MEA under IFR or a MOCA, and above an MAA; fuel that runs out.
    """
    flight = made.flight
    told = {(one["rule"], one["leg"]) for one in flight["findings"]}
    by_ifr = any(line.startswith("rules ifr") for line in made.lines)
    for leg in flight["legs"]:
        number, low_ft = leg["number"], min(leg["start_altitude_ft"], leg["end_altitude_ft"])
        if leg["phase"] != "cruise" or leg["distance_nm"] == 0.0:
            continue
        under = leg["minimum_altitude_ft"] is not None and low_ft < leg["minimum_altitude_ft"] - HALF
        if leg["minimum_kind"] == "stated" and under != (("under-minimum", number) in told):
            yield f"leg {number} at {low_ft} with a minimum of {leg['minimum_altitude_ft']}"
        rules = {rule for rule, where in told if where == number}
        if leg["minimum_kind"] == "MEA" and under and by_ifr and not rules & {"under-mea", "moca-range"}:
            yield f"leg {number} at {low_ft} under IFR with an MEA of {leg['minimum_altitude_ft']}"
        unclear = leg["moca_ft"] is not None and low_ft < leg["moca_ft"] - HALF
        # A MOCA above its MEA is a slip of the chart, which `moca-over-mea` tells.
        slip = leg["minimum_kind"] == "MEA" and unclear and leg["moca_ft"] > leg["minimum_altitude_ft"]
        if unclear and not slip and "under-mea" not in rules:
            yield f"leg {number} at {low_ft} with a MOCA of {leg['moca_ft']}"
        high_ft = max(leg["start_altitude_ft"], leg["end_altitude_ft"])
        over = leg["maa_ft"] is not None and high_ft > leg["maa_ft"] + HALF
        if over != (("over-maa", number) in told):
            yield f"leg {number} at {high_ft} with an MAA of {leg['maa_ft']}"
    left = [leg["fuel_remaining_gal"] for leg in flight["legs"] if leg["fuel_remaining_gal"] is not None]
    rules = {rule for rule, _ in told}
    if (min(left, default=0.0) < -1e-6) != ("fuel-below-zero" in rules) and not flight["alternates"]:
        yield f"fuel down to {min(left, default=0.0)}"
    fuel = flight["fuel"]
    last = flight["legs"][-1]["fuel_remaining_gal"]
    lost = None not in (last, fuel["reserve_gal"]) and last < fuel["reserve_gal"] - 1e-6
    if lost and not rules & {"reserve", "fuel-below-zero"}:
        yield f"{last} left of a reserve of {fuel['reserve_gal']}"


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
    calm = made.changed(("wind", "wind calm"), ("winds", "wind calm"))
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


def revised_on_time_is_the_plan(made: Made) -> Iterator[str]:
    """Passed at the planned minute, the flight arrives as planned, within what half a minute there makes."""
    log = made.report.log
    named = [leg for leg in log.legs[:-1] if leg.end.point is not None and leg.elapsed_min and not leg.lands]
    if not named or log.eta(log.legs[-1]) is None or any(leg.lands for leg in log.legs[:-1]):
        return
    leg = named[len(named) // 2]
    at = log.eta(leg)
    if at is None or [one.end.name for one in log.legs].count(leg.end.name) > 1:
        return
    try:
        found = revise(log, actuals=[(leg.end.name, (at + timedelta(seconds=30)).strftime("%H:%M"))])
    except NavlogError as error:
        yield f"revise refuses {leg.end.name} at its planned time: {error.problems[0].message}"
        return
    if found.rest is None or found.rest.eta(found.rest.legs[-1]) is None:
        return
    late_min = abs((moment(found.rest.eta(found.rest.legs[-1])) - moment(log.eta(log.legs[-1]))).total_seconds()) / 60
    ahead_min = (moment(log.eta(log.legs[-1])) - at).total_seconds() / 60
    if late_min > 1.0 + 2.0 * ahead_min / max(leg.elapsed_min or 1.0, 1.0):
        yield f"{late_min:.1f} min off after {leg.end.name} on time"


def moment(found: datetime | None) -> datetime:
    """A moment that is known."""
    assert found is not None
    return found


def own_figures_are_marked_right(made: Made) -> Iterator[str]:
    """The sheet's own figures, marked as a pilot's answers."""
    log = made.report.log
    names = {
        "set_course": "set_course", "true_course": "true_course", "magnetic_heading": "magnetic_heading",
        "groundspeed": "groundspeed_kt", "distance": "distance_nm", "time": "time_h_min", "fuel_used": "fuel_used",
        "fuel_left": "fuel_left",
    }  # fmt: skip
    told = io.StringIO(newline="")
    writer = csv.writer(told)
    writer.writerow(["leg", *names])
    for row in made.rows:
        cells = [row[name].removeprefix("'").split(" ")[0] for name in names.values()]
        writer.writerow([row["leg"], *("" if re.fullmatch(r"[?X~-]*", cell) else cell for cell in cells)])
    given = marking.read_answers(told.getvalue(), "answers.csv", log)
    for one in marking.mark(log, given, marking.tolerances(log.fuel_unit)).marks:
        if one.verdict is not marking.MarkedVerdict.RIGHT:
            yield f"leg {one.leg} {one.quantity.key}: {one.given} is marked {one.verdict.value}"


INVARIANTS: Mapping[str, Callable[[Made], Iterator[str]]] = {
    one.__name__: one
    for one in (
        every_sheet_is_written,
        commands_answer,
        workings_are_told,
        a_second_opinion_agrees,
        time_and_fuel_go_one_way,
        columns_add_as_printed,
        formats_agree,
        findings_agree,
        tidy_text_says_the_same,
        options_equal_edits,
        calm_means_heading_is_course,
        the_way_back_swaps_flags,
        splitting_a_leg_keeps_the_totals,
        revised_on_time_is_the_plan,
        own_figures_are_marked_right,
    )
}
