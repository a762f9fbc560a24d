"""What a fuzzer may run: each reader of files from bytes to the end, and good files to begin with."""

from __future__ import annotations

import atexit
import io
import re
import sqlite3
import zlib
from collections.abc import Callable
from contextlib import suppress
from datetime import timedelta
from functools import cache, cached_property
from pathlib import Path
from random import Random
from tempfile import mkdtemp
from zipfile import ZIP_DEFLATED, BadZipFile, ZipFile, ZipInfo

from helpers.damaged import bytes_damaged, words_of
from helpers.flown import EXAMPLES, ROOT, changed, navlog
from helpers.fuzzed_parts import PARTS, ROUTE
from helpers.nasr_excerpt import DATA, DAY
from helpers.target import LARGEST_BYTES, ROUTES, Target, chosen, seeds_in, top

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.archive import Member
from navlog.catalogue.batch import register
from navlog.catalogue.importing import SOURCES
from navlog.catalogue.network_store import lay_up
from navlog.catalogue.queries import Catalogue
from navlog.catalogue.schema import create_indices, create_tables
from navlog.flightlog.records import Log
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.units import read_fuel
from navlog.request.aircraftfile import read_aircraft
from navlog.request.bulletin import columns, dated, read_bulletin
from navlog.request.flights import read_flights
from navlog.request.lexer import decode
from navlog.request.records import FlightPlans
from navlog.request.references import References
from navlog.request.typed import NO_OVERRIDES
from navlog.rules.answers import Answer, answers
from navlog.sheets.formats import MODULES, sheet
from navlog.studies import marking, whatif
from navlog.studies.batch import RouteSource, read_plans
from navlog.studies.explain_text import explained, explanation_text
from navlog.studies.marking_text import marking_json, marking_text
from navlog.studies.revision import revise
from navlog.studies.revision_json import revision_json
from navlog.studies.revision_text import revision_text

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
    opened = open_catalogue(path)
    atexit.register(opened.close)
    return opened


def asked_more(answer: Answer, plans: FlightPlans, published: Catalogue | None) -> object:
    """What else the commands make of a log: its workings, other levels, and the flight revised."""
    assert answer.report is not None
    log = answer.report.log
    leg = log.legs[len(log.legs) // 3]
    planned = log.eta(leg)
    _, workings = explained(answer, None)
    assert workings is not None
    told: list[object] = [explanation_text(workings)]
    with suppress(NavlogError):
        told.append(
            whatif.answered(answer, plans, published, References(NAMED), compare_altitudes=True, wind_error_kt=None)
        )
    if planned is not None:
        passed = (planned + timedelta(minutes=len(log.legs) % 7 - 2)).strftime("%H:%M")
        with suppress(NavlogError):
            told.append(revision_text(revise(log, actuals=[(leg.end.name, passed)], around=published)))
    return told


def computed(data: bytes, plans: FlightPlans) -> object:
    """Plan, judge and print every flight in one of the formats, of some more; raises where none can be."""
    published = None if chosen(data, 5) == 0 else catalogue()
    found = tuple(answers(plans, published, References(NAMED)))
    told = [sheet(FORMS[chosen(data, len(FORMS))], found, "a5")]
    flown = [answer for answer in found if answer.report is not None]
    if not flown:
        raise NavlogError(*(problem for answer in found for problem in answer.problems))
    return [told, *(asked_more(one, plans, published) for one in flown if chosen(data, 3) == 0)]


def route(data: bytes) -> object:
    """A route file from its bytes to a sheet."""
    return computed(data, read_flights(decode(data, ROUTE), ROUTE))


@cache
def landing() -> FlightPlans:
    """An example that names an aircraft file, read."""
    return read_flights((EXAMPLES / "landing.route").read_text("utf-8"), "landing.route")


def aircraft(data: bytes) -> object:
    """An aircraft file, and the flight of an example in it."""
    text = decode(data, "trainer.toml")
    read_aircraft(text, "trainer.toml")
    found = answers(landing(), None, References({"trainer.toml": text}))
    flown = [answer for answer in found if answer.report is not None]
    told = [sheet("text", tuple(flown), "a5")]
    return [told, *(asked_more(answer, landing(), None) for answer in flown if chosen(data, 4) == 0)]


def bulletin(data: bytes) -> object:
    """A bulletin with its dates and wind columns."""
    found = read_bulletin(decode(data, "winds.txt"), "winds.txt")
    return dated(found, DAY), columns(found, {})


@cache
def marked_flight() -> Log:
    """The log of an example, whose figures are marked."""
    (answer,) = answers(read_plans(RouteSource(str(EXAMPLES / "round_robin.route")), NO_OVERRIDES))
    assert answer.report is not None
    return answer.report.log


def answered(data: bytes) -> object:
    """A pilot's answers, marked."""
    log = marked_flight()
    given = marking.read_answers(decode(data, "answers.csv"), "answers.csv", log)
    found = marking.mark(log, given, marking.tolerances(log.fuel_unit))
    return marking_text(found, "answers.csv"), marking_json(found, "answers.csv")


def passed(data: bytes) -> object:
    """Passages, headings held and what is on board, a line each, and the flight revised by them."""
    lines = decode(data, "passages").split("\n")
    pairs = [(name, value) for name, _, value in (line.strip().partition(" ") for line in lines[:-1])]
    held = [pair for pair in pairs if pair[1][-1:] in ("M", "T")]
    fuel = read_fuel(lines[-1]) if lines[-1] else None
    timed = [pair for pair in pairs if pair not in held]
    found = revise(marked_flight(), actuals=timed, headings=held, fuel=fuel, around=catalogue())
    return revision_text(found), revision_json(found)


def command_line(data: bytes) -> object:
    """One of the single computations as it is typed, a word a line: an answer or a problem, and a status for it."""
    words = [word for word in decode(data, "words").split("\n") if not word.startswith("--cat")]
    if not words or words[0] not in COMPUTED:
        raise problem_error("bad-word", "no computation")
    told = navlog(*(TRIP if word == "TRIP" else word for word in words))
    assert told.status in (0, 1, 2), told
    assert not re.search("Traceback|navlog: bug", told.err), told
    assert bool(told.out) == (told.status != 2), told
    if told.status == 2:
        raise problem_error("refused", told.err)
    return told


def importing(name: str) -> Callable[[bytes], object]:
    """An import of one published file from its end, and questions to the catalogue that came of it."""
    folder = Path(mkdtemp())
    path = folder / "catalogue.sqlite"

    def target(data: bytes) -> object:
        (folder / name).write_bytes(data)
        path.unlink(missing_ok=True)
        import_data(folder / name, path)
        with open_catalogue(path) as made:
            return asked_of(made)

    return target


def loading(name: str) -> Callable[[bytes], object]:
    """One published file read into an empty catalogue in memory, the network laid up, and questions to it."""
    (source,) = (one for one in SOURCES if one.knows(name))
    connection = sqlite3.connect(":memory:", isolation_level=None)
    atexit.register(connection.close)
    create_tables(connection)
    create_indices(connection)

    def target(data: bytes) -> object:
        member = Member(name, name, len(data), lambda: io.BytesIO(data))
        connection.execute("BEGIN")
        try:
            batch = source.load(connection, [member], 1, lambda _, done: None)
            files = register(connection, batch, 1)
            if not any(file.rows for file in files):
                raise problem_error("no-known-data", "; ".join(batch.notes))
            made = Catalogue(connection, Path(name))
            if name.startswith(("AWY", "FAA")):
                lay_up(made)
            return files, asked_of(made)
        finally:
            connection.execute("ROLLBACK")

    return target


def asked_of(made: Catalogue) -> object:
    """What a catalogue has of some names."""
    asked = (made.stations, made.fixes, made.airways, made.airports)
    names = ("ACY", "GLL", "AAV", "V101", "V1", "LIBEL", "PLANN", "KACY")
    return made.sources(DAY), [question(name, DAY) for question in asked for name in names]


def packed(members: dict[str, bytes]) -> bytes:
    """A zip of these members, the same whenever it is made."""
    data = io.BytesIO()
    with ZipFile(data, "w") as archive:
        for name, member in members.items():
            archive.writestr(ZipInfo(name), member, ZIP_DEFLATED)
    return data.getvalue()


def published(*names: str) -> bytes:
    """A zip of the first rows of NASR files."""
    return packed({f"CSV_Data/{name}.csv": top(DATA / "nasr" / f"{name}.csv", LARGEST_BYTES) for name in names})


class Archives(Target):
    """A reader of zips: the damage is mostly in a member, in an archive written around it that is whole."""

    @cached_property
    def words(self) -> tuple[str, ...]:
        """The words of the members."""
        return words_of(*(text.decode("utf-8", "replace") for seed in self.seeds for text in members(seed).values()))

    def damaged(self, data: bytes, chance: Random) -> bytes:
        """A zip with one member damaged; one in ten with damage to the zip itself, as is what is none any more."""
        inside = members(data)
        if not inside or chance.randrange(10) == 0:
            return bytes_damaged(data, chance)
        name = chance.choice(list(inside))
        return packed(inside | {name: super().damaged(inside[name], chance)})


def members(data: bytes) -> dict[str, bytes]:
    """The members of a zip by name; none of what is no zip, or cannot be unpacked."""
    try:
        with ZipFile(io.BytesIO(data)) as archive:
            return {one.filename: archive.read(one) for one in archive.infolist() if one.file_size <= _LARGEST_MEMBER}
    except (BadZipFile, ValueError, OSError, EOFError, NotImplementedError, RuntimeError, zlib.error):
        return {}


COMPUTED = (
    *("wind", "airspeed", "descent", "fix", "position", "intercept", "station-time", "holding", "vor-check"),
    *("declination", "morse", "below", "needle"),
)
TRIP = str(EXAMPLES / "round_robin.route")
OBSTACLES = (
    b"  CURRENCY DATE = 06/27/26\n\n\n\n"
    b"01-001307 O US AL DAUPHIN ISLAND   30 10 45.00N 088 04 39.00W RIG                1 00236 00236 R 5 D M"
    b" 1990ASO01578OE C 2014138 \n"
    b"02-292529 U US AK EARECKSON AIR ST 52 43 15.70N 174 06 36.60E TANK               1 00013 00187 N 4 D N"
    b" 2020AAL00320OE A 2020246 \n"
    b"06-310880 U US CA EL CENTRO        32 49 30.90N 115 40 17.60W BLDG               1 00027 -0017 R 4 D N"
    b" 2023AWP08259OE A 2025263 \n"
)
"""Three records of the FAA's Digital Obstacle File of 27 June 2026."""

_PASSED = [
    *(
        b"QHB 15:17\n",
        b"QHB 15:17\nQEL 15:35\n30gal",
        b"QHB 15:16\ncop 15:25\nQHB 267M\n100L",
        b"QEL 15:35\nQEL 213T\n",
    ),
    *(b"QHB 1517Z\nQSK 16:10\n", b"QHB 15:17\ncop 15:22\ncop 210M\n0gal", b"QEL 15:36\nQSK 16:01Z\nQSK 093M\n21.5gal"),
]
_LINES = [
    "wind --course 090T --tas 120kt --wind 045/40 --variation 7E",
    "airspeed 10000ft -10C --cas 150kt --altimeter 29.92inHg",
    "descent --start 6500ft --end 1500ft --rate 500 --gs 108kt --burn 8.5gph",
    "fix QHB 160 x QEL 090 --from TRIP",
    "position N46_05.00_W039_02.00 --from TRIP --altitude 5500ft",
    "intercept --present 215 --radial 230 --inbound --heading 310 --distance 20nm --gs 110kt --workings",
    "station-time --change 10 --time 75s --speed 120kt --burn 8.5gph --format json",
    "holding --inbound 360 --heading 070 --altitude 5000ft --tas 110kt --wind 240M/20",
    "vor-check ground --expected 095 --indicated 098 --place XHAR",
    "declination N46_12.30_W039_20.70 --date 2026-07-18 --station 15W",
    "morse QHB QEL",
]
"""The examples of the computations' own help, a space inside a word as `_`."""

_LARGEST_MEMBER = 8 * LARGEST_BYTES
NASR_FILES = (
    "NAV_BASE",
    "NAV_RMK",
    "FIX_BASE",
    "FIX_NAV",
    "AWY_BASE",
    "AWY_SEG_ALT",
    "APT_BASE",
    "NAV_CKPT",
    "PFR_BASE",
)

TARGETS = PARTS | {
    "route": Target(route, [*seeds_in(*ROUTES), *FLOWN], ROUTE),
    "aircraft": Target(
        aircraft,
        [*seeds_in("examples/*.toml"), *(text.encode() for text in NAMED.values())],
        "trainer.toml",
    ),
    "bulletin": Target(bulletin, seeds_in("tests/data/bulletins/FB*.txt"), "winds.txt", "\n"),
    "answers": Target(answered, [ANSWERS], "answers.csv"),
    "passages": Target(passed, _PASSED),
    "command-line": Target(
        command_line,
        ["\n".join(line.split()).replace("_", " ").encode() for line in _LINES],
    ),
    "cifp": Target(loading("FAACIFP18"), seeds_in("tests/data/cifp/FAACIFP18")),
    "ourairports": Target(loading("navaids.csv"), seeds_in("tests/data/ourairports/navaids.csv")),
    "obstacles": Target(loading("DOF.DAT"), [OBSTACLES]),
    "zip": Archives(
        importing("data.zip"),
        [
            published(*names)
            for names in (("NAV_BASE",), ("FIX_BASE", "FIX_NAV"), ("NAV_BASE", "AWY_BASE", "AWY_SEG_ALT"))
        ],
    ),
    **{f"nasr-{name}": Target(loading(f"{name}.csv"), seeds_in(f"tests/data/nasr/{name}.csv")) for name in NASR_FILES},
}
