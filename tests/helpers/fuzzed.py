"""What a fuzzer may run: each reader of files from bytes to the end, and good files to begin with."""

from __future__ import annotations

import io
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from pathlib import Path
from random import Random
from tempfile import mkdtemp
from zipfile import ZIP_DEFLATED, ZipFile

from helpers.damaged import bytes_damaged, damaged, words_of
from helpers.flown import EXAMPLES, ROOT, changed
from helpers.nasr_excerpt import DATA, DAY

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.flightlog.records import Log
from navlog.nav.problems import NavlogError, Problem, format_problem
from navlog.request.aircraftfile import read_aircraft
from navlog.request.bulletin import columns, dated, read_bulletin
from navlog.request.flights import read_flights
from navlog.request.lexer import decode
from navlog.request.parser import parse
from navlog.request.records import FlightPlans
from navlog.request.references import References
from navlog.request.typed import NO_OVERRIDES
from navlog.request.writer import to_text
from navlog.rules.answers import Answer, answers
from navlog.sheets.formats import MODULES, sheet
from navlog.studies import marking, whatif
from navlog.studies.batch import RouteSource, read_plans
from navlog.studies.explain_text import explained, explanation_text
from navlog.studies.marking_text import marking_json, marking_text
from navlog.studies.revision import revise
from navlog.studies.revision_text import revision_text

LARGEST_BYTES = 8192
CRUISE = "[cruise]\ntas_kt = 100\nburn_gal_per_h = 8\n"
CLIMB = "[climb]\ncas_kt = 75\nrate_ft_per_min = 600\nburn_gal_per_h = 11\n"
DESCENT = "[descent]\ncas_kt = 100\nrate_ft_per_min = 500\nburn_gal_per_h = 6\n"
NAMED = {
    **{
        path.name: path.read_text("utf-8")
        for path in (EXAMPLES / "trainer.toml", ROOT / "tests/sheets/routes/slow.toml")
    },
    "level.toml": f'name = "Level"\n{CRUISE}',
    "climbing.toml": f'name = "Climbing"\n{CRUISE}{CLIMB}',
    "descending.toml": f'name = "Descending"\n{CRUISE}{DESCENT}',
    "both.toml": f'name = "Both"\n{CRUISE}{CLIMB}{DESCENT}',
}
"""The aircraft files that the seeds name."""

FLOWN = [
    changed(f"aircraft {name}", *more, without=("tas", "burn")).encode()
    for name in NAMED
    for more in (
        ("ceiling 9500", "alternate QEL via XHAR at 3500", "reserve 45min"),
        ("route XHAR QHB/A055 V801 QEL XOLD land 30min fuel 20gal QEL/A045 XHAR", "pattern 1800ft", "rules vfr night"),
    )
]
ANSWERS = b"""leg,from,to,true_course,set_course,flag,heading,groundspeed,distance,time,eta,fuel_used,fuel_left
1,XHAR,QHB,257,272,TO,267,98,9.6,0:06,15:16,0.9,36.1
2,QHB,COP,197,212,FROM,213,99,11.0,6,15:22Z,0.9,35.2
3,,,197,034,TO,,100,18.5,0:12,,,
total,,,,,,,,108.7,1:00,,8.5,
"""
FORMS = [form for form in MODULES if form != "pdf"]


@cache
def catalogue() -> Catalogue:
    """The published data of the excerpts."""
    path = Path(mkdtemp()) / "catalogue.sqlite"
    for source in ("nasr", "cifp", "ourairports"):
        import_data(DATA / source, path)
    return open_catalogue(path)


def asked_more(answer: Answer, plans: FlightPlans, published: Catalogue | None) -> None:
    """What else the commands make of a log: its workings, other levels, and the flight revised."""
    _, workings = explained(answer, None)
    assert workings is not None
    explanation_text(workings)
    with suppress(NavlogError):
        whatif.answered(answer, plans, published, References(NAMED), compare_altitudes=True, wind_error_kt=None)
    assert answer.report is not None
    log = answer.report.log
    leg = log.legs[len(log.legs) // 3]
    planned = log.eta(leg)
    if planned is not None:
        passed = (planned + timedelta(minutes=len(log.legs) % 7 - 2)).strftime("%H:%M")
        with suppress(NavlogError):
            revision_text(revise(log, actuals=[(leg.end.name, passed)], around=published))


def computed(plans: FlightPlans, form: str) -> None:
    """Plan, judge and print every flight, with and without published data; raises where none can be."""
    refused: list[Problem] = []
    for published in (None, catalogue()):
        found = tuple(answers(plans, published, References(NAMED)))
        sheet(form, found, "a5")
        for answer in found:
            for problem in answer.problems:
                format_problem(problem)
            if answer.report is not None:
                asked_more(answer, plans, published)
        refused += (problem for answer in found for problem in answer.problems)
        if any(answer.report is not None for answer in found):
            return
    raise NavlogError(*refused)


def tidied(data: bytes) -> None:
    """A route file to tidy text, which must be tidy."""
    tidy = to_text(parse(decode(data, "fuzz.route"), "fuzz.route"))
    assert to_text(parse(tidy, "fuzz.route")) == tidy, "tidy text changes when it is tidied"


def route(data: bytes) -> None:
    """A route file from its bytes to a sheet, tidied on the way."""
    with suppress(NavlogError):
        tidied(data)
    text = decode(data, "fuzz.route")
    computed(read_flights(text, "fuzz.route"), FORMS[len(data) % len(FORMS)])


def aircraft(data: bytes) -> None:
    """An aircraft file, and the flight of an example in it."""
    text = decode(data, "trainer.toml")
    read_aircraft(text, "trainer.toml")
    plans = read_flights((EXAMPLES / "landing.route").read_text("utf-8"), "landing.route")
    for answer in answers(plans, None, References({"trainer.toml": text})):
        if answer.report is not None:
            asked_more(answer, plans, None)


def bulletin(data: bytes) -> None:
    """A bulletin with its dates and wind columns."""
    found = read_bulletin(decode(data, "winds.txt"), "winds.txt")
    dated(found, DAY)
    columns(found, {})


@cache
def marked_flight() -> Log:
    """The log of an example, whose figures are marked."""
    (answer,) = answers(read_plans(RouteSource(str(EXAMPLES / "round_robin.route")), NO_OVERRIDES))
    assert answer.report is not None
    return answer.report.log


def answered(data: bytes) -> None:
    """A pilot's answers, marked."""
    log = marked_flight()
    given = marking.read_answers(decode(data, "answers.csv"), "answers.csv", log)
    found = marking.mark(log, given, marking.tolerances(log.fuel_unit))
    marking_text(found, "answers.csv")
    marking_json(found, "answers.csv")


def importing(name: str) -> Callable[[bytes], None]:
    """An import of one published file, and questions to the catalogue that came of it."""
    folder = Path(mkdtemp())
    path = folder / "catalogue.sqlite"

    def target(data: bytes) -> None:
        (folder / name).write_bytes(data)
        path.unlink(missing_ok=True)
        import_data(folder / name, path)
        with open_catalogue(path) as made:
            made.sources(DAY)
            for ident in ("ACY", "GLL", "AAV", "V101", "V1", "LIBEL", "PLANN", "KACY"):
                made.stations(ident, DAY)
                made.fixes(ident, DAY)
                made.airways(ident, DAY)
                made.airports(ident, DAY)

    return target


def top(path: Path, size: int) -> bytes:
    """The first lines of a file, whole ones."""
    data = path.read_bytes()
    return data if len(data) <= size else data[: data.rindex(b"\n", 0, size) + 1]


def packed(name: str) -> bytes:
    """A zip of a NASR file's first rows."""
    data = io.BytesIO()
    with ZipFile(data, "w", ZIP_DEFLATED) as archive:
        archive.writestr(f"CSV_Data/{name}", top(DATA / "nasr" / name, LARGEST_BYTES))
    return data.getvalue()


def seeds_in(*patterns: str) -> list[bytes]:
    """The files of these patterns, cut to size."""
    return [top(path, LARGEST_BYTES) for pattern in patterns for path in sorted(ROOT.glob(pattern))]


@dataclass(frozen=True, slots=True)
class Target:
    """What to run on bytes, and good files to begin with; anything but a `NavlogError` is a fault."""

    run: Callable[[bytes], None]
    seeds: list[bytes]
    binary: bool = False

    def words(self) -> tuple[str, ...]:
        """The words of the good files."""
        return words_of(*(seed.decode("utf-8", "replace") for seed in self.seeds))

    def damaged(self, data: bytes, words: tuple[str, ...], chance: Random) -> bytes:
        """Bytes with one or two pieces of damage."""
        if self.binary:
            return bytes_damaged(data, chance)
        text = damaged(data.decode("utf-8", "surrogateescape"), words, chance, most=2)
        return text.encode("utf-8", "surrogatepass")


ROUTES = ("examples/*.route", "tests/data/valid/*.route", "tests/sheets/routes/*.route")
AIRCRAFT = ("examples/*.toml", "tests/data/aircraft/valid/*.toml")
NASR_FILES = ("NAV_BASE", "NAV_RMK", "FIX_BASE", "FIX_NAV", "AWY_BASE", "AWY_SEG_ALT", "APT_BASE")

TARGETS = {
    "route": Target(route, [*seeds_in(*ROUTES), *FLOWN]),
    "aircraft": Target(aircraft, [*seeds_in(*AIRCRAFT), *(text.encode() for text in NAMED.values())]),
    "bulletin": Target(bulletin, seeds_in("tests/data/bulletins/FB*.txt")),
    "answers": Target(answered, [ANSWERS]),
    "cifp": Target(importing("FAACIFP18"), seeds_in("tests/data/cifp/FAACIFP18")),
    "ourairports": Target(importing("navaids.csv"), seeds_in("tests/data/ourairports/navaids.csv")),
    "zip": Target(importing("data.zip"), [packed("NAV_BASE.csv")], binary=True),
    **{
        f"nasr-{name}": Target(importing(f"{name}.csv"), seeds_in(f"tests/data/nasr/{name}.csv")) for name in NASR_FILES
    },
}
