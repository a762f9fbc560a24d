"""What cannot be flown or read is a clear problem or finding at its place; never a guess and never a bug."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import Json
from helpers.folder import Folder
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

AIRCRAFT = """name = "Climber"
usable_fuel_gal = 40
[climb]
rows = [
  { pressure_altitude_ft = 0, cas_kt = 75, rate_ft_per_min = 700, burn_gal_per_h = 11 },
  { pressure_altitude_ft = 10000, cas_kt = 70, rate_ft_per_min = 200, burn_gal_per_h = 9 },
]
[cruise]
rows = [
  { pressure_altitude_ft = 0, isa_deviation_c = -20, tas_kt = 100, burn_gal_per_h = 8 },
  { pressure_altitude_ft = 0, isa_deviation_c = 20, tas_kt = 104, burn_gal_per_h = 8 },
  { pressure_altitude_ft = 12000, isa_deviation_c = -20, tas_kt = 110, burn_gal_per_h = 8 },
  { pressure_altitude_ft = 12000, isa_deviation_c = 20, tas_kt = 114, burn_gal_per_h = 8 },
]
[descent]
cas_kt = 100
rate_ft_per_min = 500
burn_gal_per_h = 6
"""
BULLETIN = """DATA BASED ON 181200Z
VALID 181800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000
FT  3000    6000    9000   12000
QHB 2312 2418+04 2520-01 2524-07
QEL 2312 2418+04 2520-01 2524-07
"""
LINES = (
    "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft",
    "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft",
    "airport XHAR N46 14.50 W039 07.20 elev 790ft",
    "airport XOLD N45 41.00 W039 20.00 elev 350ft",
    "aircraft climber.toml",
    "winds winds.txt",
    "date 2026-07-18",
    "off 15:10Z",
    "altitude 4500",
    "fuel 30gal",
    "route XHAR QHB QEL XOLD",
)


def text(*changes: str) -> str:
    """The flight with lines replaced by keyword, or added."""
    kept = [line for line in LINES if not any(line.split()[0] == change.split()[0] for change in changes)]
    return "\n".join((*kept, *changes)) + "\n"


def line_of(route_file: str, keyword: str) -> int:
    return next(n for n, line in enumerate(route_file.splitlines(), 1) if line.split()[0] == keyword)


@pytest.fixture
def whole(folder: Folder) -> Folder:
    folder.put("climber.toml", AIRCRAFT)
    folder.put("winds.txt", BULLETIN)
    return folder


def found(flight: Json) -> dict[str, str]:
    return {finding["rule"]: finding["severity"] for finding in flight["findings"]}


def test_the_flight_that_the_others_change_is_sound(whole: Folder) -> None:
    assert "error" not in found(whole.fly(text())).values()


@pytest.mark.parametrize(
    ("keyword", "change"), [("aircraft", "aircraft none.toml"), ("winds", "winds none.txt")], ids=["aircraft", "winds"]
)
def test_a_file_that_is_not_there_is_named_where_it_is_written(whole: Folder, keyword: str, change: str) -> None:
    route_file = text(change)
    (problem,) = whole.problems(route_file)
    assert (problem["code"], problem["line"]) == ("cannot-read", line_of(route_file, keyword))
    assert "no such file" in problem["message"]


@pytest.mark.parametrize("name", [".", "/dev/zero"])
def test_what_is_no_file_is_named(whole: Folder, name: str) -> None:
    if not Path(name).exists():
        pytest.skip(f"this system has no {name}")
    (problem,) = whole.problems(text(f"aircraft {name}"))
    assert problem["code"] == "cannot-read"


@pytest.mark.parametrize("data", [AIRCRAFT.encode("utf-16"), bytes(range(256))], ids=["UTF-16", "no text"])
@pytest.mark.parametrize("name", ["climber.toml", "winds.txt"])
def test_a_file_that_is_no_text_is_a_problem(whole: Folder, name: str, data: bytes) -> None:
    whole.put(name, data)
    (problem,) = whole.problems(text())
    assert problem["code"] == "bad-encoding"
    assert problem["file"].endswith(name)


def test_a_table_with_a_hole_says_which_row_is_missing(whole: Folder) -> None:
    row = "  { pressure_altitude_ft = 12000, isa_deviation_c = 20, tas_kt = 114, burn_gal_per_h = 8 },\n"
    whole.put("climber.toml", AIRCRAFT.replace(row, ""))
    (problem,) = whole.problems(text())
    assert (problem["code"], problem["file"][-12:]) == ("table-hole", "climber.toml")
    assert "12,000 ft at 20 C" in problem["message"]


@pytest.mark.parametrize("altitude", ["10500", "12500", "FL180", "FL600", "60000"])
def test_a_climb_that_the_aeroplane_cannot_make(whole: Folder, altitude: str) -> None:
    route_file = text(f"altitude {altitude}")
    (problem,) = whole.problems(route_file)
    assert (problem["code"], problem["line"]) == ("outside-table", line_of(route_file, "altitude"))
    assert "climb table ends" in problem["message"]
    assert "0 to 10,000 ft" in problem["hint"]


def test_a_level_of_the_route_line_is_named_there(whole: Folder) -> None:
    route_file = text("route XHAR QHB/A125 QEL XOLD")
    (problem,) = whole.problems(route_file)
    assert (problem["code"], problem["line"]) == ("outside-table", line_of(route_file, "route"))


def test_an_alternates_level_is_named_there(whole: Folder) -> None:
    route_file = text("alternate QEL via XHAR at 13500")
    (problem,) = whole.problems(route_file)
    assert (problem["code"], problem["line"]) == ("outside-table", line_of(route_file, "alternate"))


def test_a_temperature_outside_the_table_is_refused(whole: Folder) -> None:
    (problem,) = whole.problems(text("winds winds.txt", "temperature 45C").replace("winds winds.txt", "wind 230/12"))
    assert problem["code"] == "outside-table"
    assert "C from standard" in problem["message"]


@pytest.mark.parametrize(
    ("changed", "keyword"),
    [
        (("wind 3000 230/12 +45C 9000 230/20 +45C",), "wind"),
        (("wind 230/12", "temperature 45C"), "temperature"),
    ],
)
def test_a_temperature_outside_the_table_is_told_where_it_is_written(
    whole: Folder, changed: tuple[str, ...], keyword: str
) -> None:
    route_file = text(*changed).replace("winds winds.txt\n", "")
    (problem,) = whole.problems(route_file)
    assert (problem["code"], problem["line"]) == ("outside-table", line_of(route_file, keyword))


def test_an_airspeed_beyond_sound_is_refused(whole: Folder) -> None:
    whole.put("climber.toml", 'name = "Fast"\n[cruise]\ncas_kt = 600\n')
    (problem,) = whole.problems(text("altitude FL400"))
    assert problem["code"] == "bad-speed"


@pytest.mark.parametrize("length", range(20, len(BULLETIN), 9))
def test_a_bulletin_cut_off_anywhere_is_a_problem_or_whole_lines(whole: Folder, length: int) -> None:
    cut = BULLETIN[:length]
    whole.put("winds.txt", cut)
    (answer,) = whole.answers(text())
    stations = sum(f"\n{ident} " in cut for ident in ("QHB", "QEL"))
    last_is_whole = cut.splitlines()[-1] in BULLETIN.splitlines()
    if stations and last_is_whole:
        assert answer["problems"] == []
        assert len(answer["bulletins"][0]["stations"]) == stations
    else:
        assert answer["status"] == "problem"
        assert {problem["file"][-9:] for problem in answer["problems"]} == {"winds.txt"}


def test_a_wind_in_which_the_climb_cannot_be_flown_is_an_error(whole: Folder) -> None:
    # 90 kt against a climb at 77 kt; the cruise at 102 kt can be flown, slowly.
    flight = whole.fly(text().replace("winds winds.txt", "wind 257/90"))
    assert found(flight)["climb-left-out"] == "error"


def test_fuel_below_zero_on_the_way_is_an_error_that_cannot_be_accepted(whole: Folder) -> None:
    flight = whole.fly(text("fuel 2gal"))
    assert found(flight)["fuel-below-zero"] == "error"
    assert flight["legs"][-1]["fuel_remaining_gal"] < 0
    (problem,) = whole.problems(text("fuel 2gal", 'accept fuel-below-zero "light hand"'))
    assert problem["code"] == "not-acceptable"


def test_a_pattern_under_the_ground_is_an_error(whole: Folder) -> None:
    assert found(whole.fly(text("pattern 100ft")))["arrival-height"] == "error"


def test_a_pattern_above_the_cruise_is_not_reached(whole: Folder) -> None:
    assert found(whole.fly(text("pattern 6000ft")))["arrival-height"] == "warning"


def test_a_temperature_that_nothing_uses_is_said(whole: Folder) -> None:
    assert found(whole.fly(text("temperature 21C")))["temperature-not-used"] == "note"
    flight = whole.fly(text("temperature 21C").replace("winds winds.txt", "wind 230/12"))
    assert "temperature-not-used" not in found(flight)


def test_one_flight_with_a_bad_aircraft_leaves_the_other(whole: Folder) -> None:
    answers = whole.answers(text() + 'flight "a"\nflight "b"\naircraft none.toml\n')
    assert [answer["status"] == "problem" for answer in answers] == [False, True]


PIECES = (
    "",
    "0",
    "-",
    '"',
    "[",
    "]",
    "{",
    "=",
    "99999",
    "1e9",
    "nan",
    "inf",
    "\n",
    "true",
    "9900",
    " ",
    "FT",
    "+05",
    "\0",
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    name=st.sampled_from(["climber.toml", "winds.txt"]),
    damage=st.lists(st.tuples(st.integers(0, 900), st.integers(0, 8), st.sampled_from(PIECES)), min_size=1, max_size=4),
)
def test_any_damage_gives_a_log_or_problems(whole: Folder, name: str, damage: list[tuple[int, int, str]]) -> None:
    other, broken = (BULLETIN, AIRCRAFT) if name == "climber.toml" else (AIRCRAFT, BULLETIN)
    for start, length, new in damage:
        broken = broken[:start] + new + broken[start + length :]
    whole.put(name, broken)
    whole.put("winds.txt" if name == "climber.toml" else "climber.toml", other)
    run = whole.run(text("ceiling 9500"), "--format", "json", "--compare-altitudes")
    assert run.status in (0, 1, 2), run.err
    assert "NaN" not in run.out
    assert "Infinity" not in run.out
