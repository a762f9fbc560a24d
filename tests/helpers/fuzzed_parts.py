"""What a fuzzer may run without flying anything: readers of words, lines and small files, one at a time.

Each gives back what it read, so that a second reading can be held against it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from hashlib import sha256
from math import isfinite
from pathlib import Path
from tempfile import mkdtemp

import msgspec
from helpers.target import ROUTES, Target, seeds_in
from helpers.tiles import write_dted, write_geotiff

from navlog.nav import units
from navlog.nav.chart import Position
from navlog.nav.corridor import Corridor
from navlog.nav.notices import effect_words, period_words, read_moment
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.terrain import highest_within, open_terrain
from navlog.nav.tilefile import first_part, opened_tile
from navlog.request.aircraftfile import read_aircraft
from navlog.request.lexer import decode
from navlog.request.notices import read_notices
from navlog.request.parser import parse
from navlog.request.pasted import read_pasted
from navlog.request.references import References
from navlog.request.route_line import check_identifier, check_new_identifier, check_station_identifier
from navlog.request.statements import STATEMENTS
from navlog.request.stationlist import positions_in, read_fix, read_station, stations_in
from navlog.request.typed import Overrides, typed_statements
from navlog.request.writer import to_text
from navlog.studies.gate import baseline_text, read_baseline
from navlog.studies.remembered import Cache, recalled, remember, unpacked

ROUTE = "fuzz.route"


def tidied(data: bytes) -> str:
    """A route file to tidy text, which must be tidy."""
    tidy = to_text(parse(decode(data, ROUTE), ROUTE))
    assert to_text(parse(tidy, ROUTE)) == tidy, "tidy text changes when it is tidied"
    return tidy


def typed(data: bytes) -> object:
    """A line of a route file as the value of an option; what is right is right again as it is tidied."""
    text = decode(data, "--set")
    statements, problems, _ = typed_statements(Overrides(statements=(text,)))
    if problems:
        raise NavlogError(*problems)
    return [one.value for one in statements]


def pasted(data: bytes) -> object:
    """A route as it is pasted, and its statements."""
    text = decode(data, "--route")
    found = read_pasted(text)
    for keyword, value in found.statements:
        assert keyword in STATEMENTS, found
        assert value.strip(), found
    statements, problems, _ = typed_statements(Overrides(route=text))
    if problems:
        raise NavlogError(*problems)
    return [one.value for one in statements]


READERS = (
    *(units.read_distance_nm, units.read_altitude_ft, units.read_elevation_ft, units.read_level, units.read_speed_kt),
    *(units.read_duration_min, units.read_elapsed_min, units.read_stopwatch_min, units.read_clock_min),
    *(units.read_size_deg, units.read_rate_ft_min, units.read_gradient_ft_per_nm, units.read_mach),
    *(units.read_temperature_c, units.read_pressure_hpa, units.read_frequency, units.read_frequency_khz),
    *(units.read_percent, units.read_fuel, units.read_burn, units.read_angle_deg, units.read_declination_deg),
    *(read_moment, check_identifier, check_new_identifier, check_station_identifier),
)
"""Every reader of a single word."""


def literal(data: bytes) -> object:
    """A word to every reader of one: a finite figure or a problem from each."""
    text = decode(data, "word")
    found: dict[str, object] = {}
    for reader in READERS:
        try:
            found[reader.__name__] = value = reader(text)
        except NavlogError:
            continue
        assert not isinstance(value, float) or isfinite(value), f"{reader.__name__} reads {value}"
    if not found:
        reader(text)
    return found


def station_list(data: bytes) -> object:
    """Lines of a file as stations and positions, the first also as a station or fix typed beside a computation."""
    text = decode(data, ROUTE)
    first = text.partition("\n")[0].partition(" ")[2]
    for reader in (read_station, read_fix):
        with suppress(NavlogError):
            reader(first)
    return stations_in(text, ROUTE), positions_in(text, ROUTE)


def notices(data: bytes) -> object:
    """Notices, each told in words; where each begins lies in the file."""
    text = decode(data, "briefing.txt")
    found = read_notices(text, "briefing.txt")
    last = len(re.split("\r\n|\r|\n", text))
    for one in found:
        assert 1 <= one.span.line <= last, one
        assert one.period.start is None or one.period.end is None or one.period.start <= one.period.end, one
        period_words(one)
        for effect in one.effects:
            assert effect_words(effect), one
    return found


def aircraft_file(data: bytes) -> object:
    """An aircraft file's tables."""
    return read_aircraft(decode(data, "trainer.toml"), "trainer.toml")


def baseline(data: bytes) -> object:
    """A baseline, which written out again says the same."""
    found = read_baseline(decode(data, "baseline.json"), "baseline.json")
    assert sum(many for _, many in found) > 10_000 or dict(
        read_baseline(baseline_text(one for one, many in found for _ in range(many)), "")
    ) == {one: sum(many for other, many in found if other == one) for one, _ in found}
    return found


@cache
def kept_check() -> tuple[Cache, Path, bytes]:
    """A folder of one kept check, the file of it, and what it holds behind its digest."""
    folder = Path(mkdtemp())
    cache_ = Cache(str(folder), "options", "stamp", None, ())
    references = References(watched=True)
    remember(cache_, "a.route", b"route", references, msgspec.msgpack.encode({"answers": [1, 2.5, "three"]}))
    (path,) = folder.glob("*.check")
    return cache_, path, path.read_bytes()


def kept(data: bytes) -> object:
    """A kept check of right length and digest: what it said, or nothing, whatever it holds."""
    cache_, path, good = kept_check()
    head = good[: good.index(b"\n") + 1]
    path.write_bytes(head + sha256(data).digest() + data)
    body = recalled(cache_, "a.route", b"route", References(watched=True))
    if body is None:
        raise problem_error("nothing-kept", "nothing is recalled")
    try:
        return unpacked(body, dict[str, list[float | str]])
    except (msgspec.MsgspecError, ValueError, RecursionError):
        return body


def tile(name: str) -> Callable[[bytes], object]:
    """A tile of heights: the highest ground in it, or why it cannot be read."""
    folder = Path(mkdtemp())
    around = Corridor(Position(44.4, -71.6), Position(44.5, -71.4), 4.0)

    def target(data: bytes) -> object:
        (folder / name).write_bytes(data)
        # Each is kept by name, as long as nothing changes under it.
        opened_tile.cache_clear()
        first_part.cache_clear()
        terrain = open_terrain(str(folder))
        if terrain.unread:
            raise problem_error("unread", terrain.unread[0][1])
        ground = highest_within(terrain, around)
        assert ground.highest is None or isfinite(ground.highest.top_ft), ground
        return ground

    return target


def small_tiles() -> dict[str, bytes]:
    """A tile of each kind, few rows of it."""

    def height(row: int, column: int) -> float:
        return 100.0 + 7 * row + column

    folder = Path(mkdtemp())
    dted = write_dted(folder / "small.dt0", "0720000W0440000N", 9, 9, height)
    plain = write_geotiff(folder / "a.tif", 45.0, -72.0, (9, 9), 0.125, height)
    packed = write_geotiff(folder / "b.tif", 45.0, -72.0, (9, 9), 0.125, height, tile=16, predictor=2)
    return {"dted": dted.read_bytes(), "plain": plain.read_bytes(), "packed": packed.read_bytes()}


def lines_of(*patterns: str) -> list[bytes]:
    """Every statement of these route files, each once."""
    lines = (line for text in seeds_in(*patterns) for line in text.splitlines())
    return list(dict.fromkeys(line.partition(b"#")[0].strip() for line in lines if line[:1].isalpha()))


def words_in(*patterns: str) -> list[bytes]:
    """Every word with a figure in these route files, each once."""
    return list(dict.fromkeys(word for line in lines_of(*patterns) for word in line.split() if re.search(rb"\d", word)))


_MESSAGE = (
    b"(FPL-N123-IG\n-C172/L-SDG/S\n-XHAR1330\n-N0110A055 DCT QHB V801 QEL/N0120A065 V803 REEFY DCT\n"
    b"-XOLD0130 XBAY\n-DOF/260718 RMK/TRAINING)"
)
_PASTED = [
    *(_MESSAGE, b"xhar..qhb.v801.qel xold", b"N0090F085 XHAR, QHB, V801, QEL/N0120A065, XOLD", b"K0200M0150 XHAR QHB"),
    *(
        b"xhar qhb084021 4612N03921W qel",
        b"XHAR QEL XOLD land 45min fuel 20gal QHB",
        b"M082F350 XHAR DCT QHB xbay over QHB",
    ),
]
_BASELINE = b"""{"schema": "navlog/baseline-1", "findings": [
  {"file": "a.route", "flight": "", "rule": "under-mea", "leg": "QHB-QEL", "count": 2},
  {"file": "b.route", "flight": "Round", "rule": "reserve", "leg": "", "count": 1}
]}
"""
_NOTICES = ("examples/briefing.txt", "tests/authorities/notices.txt")
_TILES = small_tiles()


def notices_alone(text: bytes) -> list[bytes]:
    """Each notice of a text by itself."""
    return [b"\n".join(block.split(b"\n= ")[:1]) for block in re.split(rb"\n\n(?=!|[A-Z]\d{4}/)", text)]


PARTS = {
    "parse": Target(tidied, seeds_in(*ROUTES), ROUTE),
    "typed": Target(typed, lines_of(*ROUTES)),
    "pasted": Target(pasted, _PASTED),
    "literal": Target(literal, words_in(*ROUTES), "word"),
    "stations": Target(station_list, lines_of(*ROUTES), ROUTE),
    "notices": Target(notices, [one for text in seeds_in(*_NOTICES) for one in notices_alone(text)], "briefing.txt"),
    "tables": Target(aircraft_file, seeds_in("examples/*.toml", "tests/data/aircraft/valid/*.toml"), "trainer.toml"),
    "baseline": Target(baseline, [_BASELINE], "baseline.json"),
    "kept": Target(kept, [kept_check()[2].partition(b"\n")[2][32:]], binary=True),
    "tile-dted": Target(tile("small.dt0"), [_TILES["dted"]], binary=True),
    "tile-tiff": Target(tile("small.tif"), [_TILES["plain"], _TILES["packed"]], binary=True),
}
"""The readers that are quick, by name."""
