"""What the commands of single computations share: forms of the answer, options, a light start."""

from __future__ import annotations

import json
import shlex
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.cli import run

Run = Callable[..., tuple[int, str, str]]


COMPUTATIONS = {
    "wind": "--course 090T --tas 120kt --wind 045/40 --distance 220nm --burn 8gph",
    "airspeed": "FL100 -10C --cas 150kt",
    "fix": "QHB 160 x QEL 090",
    "position": "46N039W",
    "intercept": "--present 215 --radial 230 --inbound --distance 20nm",
    "station-time": "--change 10 --time 75s --speed 120kt --burn 8gph",
    "descent": "--start 6500ft --end 1500ft --rate 500 --gs 108kt",
    "holding": "--inbound 360 --heading 070 --altitude 5000ft --tas 110kt --wind 240M/20",
    "vor-check": "ground --expected 095 --indicated 098 --date 2026-07-18",
    "declination": "46N039W --date 2026-07-18",
    "morse": "QHB",
}
STATIONS = (
    *("--station", "QHB 113.70 N46 12.30 W039 20.70 decl 15W dme elev 820ft"),
    *("--station", "QEL 110.20 N45 44.10 W039 33.00 decl 17W dme elev 410ft"),
)
NEEDS_GEODESY = ("fix", "position")


def line(name: str) -> list[str]:
    return [name, *COMPUTATIONS[name].split(), *(STATIONS if name in NEEDS_GEODESY else ())]


@pytest.mark.parametrize("name", COMPUTATIONS)
def test_json_is_one_object_a_line_with_units_in_its_keys(navlog: Run, name: str) -> None:
    status, out, err = navlog("", *line(name), "--format", "json")
    assert (status, err) == (0, "")
    for text in out.splitlines():
        found = json.loads(text)
        assert found["computation"] == name
        assert "workings" not in found
        assert_rounded(found)


def assert_rounded(value: object) -> None:
    if isinstance(value, dict):
        for one in value.values():
            assert_rounded(one)
    elif isinstance(value, list):
        for one in value:
            assert_rounded(one)
    elif isinstance(value, float):
        assert value == round(value, 9)


def test_json_of_a_wind_triangle(navlog: Run) -> None:
    _, out, _ = navlog("", *line("wind"), "--format", "json")
    found = json.loads(out)
    assert found["found"] == ["heading", "groundspeed"]
    assert found["true_heading_deg"] == pytest.approx(76.367, abs=0.001)
    assert found["groundspeed_kt"] == pytest.approx(88.33, abs=0.01)
    assert found["fuel_gal"] == pytest.approx(19.92, abs=0.01)
    assert found["magnetic_heading_deg"] is None


@pytest.mark.parametrize("name", COMPUTATIONS)
def test_workings_show_formula_numbers_and_source(navlog: Run, name: str) -> None:
    _, plain, _ = navlog("", *line(name))
    _, out, _ = navlog("", *line(name), "--workings")
    _, as_json, _ = navlog("", *line(name), "--workings", "--format", "json")
    assert out.startswith(plain.splitlines()[0])
    assert "\nWorkings\n1. " in out
    for text in as_json.splitlines():
        steps = json.loads(text)["workings"]
        assert steps
        for step in steps:
            assert set(step) == {"what", "formula", "values", "result", "source"}
            assert f"{step['what']}: {step['result']}\n   {step['formula']}\n" in out


@pytest.mark.parametrize("name", COMPUTATIONS)
def test_help_has_an_example_that_runs(navlog: Run, name: str, tmp_path: Path) -> None:
    status, out, _ = navlog(name, "--help")
    assert status == 0
    example = shlex.split(" ".join(out.split("Example: navlog ")[1].split()))
    file = tmp_path / "a.route"
    file.write_text("\n".join(f"station {text}" for text in STATIONS[1::2]))
    words = [str(file) if word.endswith(".route") else word for word in example]
    assert navlog("", *words)[0] == 0


@pytest.mark.parametrize("name", COMPUTATIONS)
@pytest.mark.parametrize("option", ["--wrokings", "-x", "--workings2", "-C"])
def test_a_misspelt_option_is_never_an_argument(navlog: Run, name: str, option: str) -> None:
    status, out, err = navlog("", *line(name), option)
    assert (status, out) == (2, "")
    assert f"No such option '{option}'." in err


def test_a_misspelt_option_is_answered_with_the_nearest(navlog: Run) -> None:
    assert "Did you mean '--workings'?" in navlog("", *line("morse"), "--wrokings")[2]


@pytest.mark.parametrize("name", [name for name in COMPUTATIONS if name not in NEEDS_GEODESY])
def test_what_needs_no_geodesy_runs_without_pyproj(name: str) -> None:
    script = (
        "import sys\n"
        "sys.modules['pyproj'] = None\n"
        "from navlog.cli import run\n"
        "assert run(sys.argv[1:]) == 0\n"
        "print(*(module for module in ('pyproj', 'pygeomag', 'sqlite3') if sys.modules.get(module)))\n"
    )
    done = subprocess.run([sys.executable, "-c", script, *line(name)], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[-1] == ("pygeomag" if name == "declination" else "")


WORDS = """
000 360 090T 045M 0 1 -1 -15C 45 90 180 0kt 1e3 0nm 9nm/0min QHB x dme at TO FROM calm 360/0 090/999 46N039W N91 99h 0s
--gs --tas --course --heading --wind --radial --present --inbound --outbound --angle --distance --change --time
--relative --start --end --rate --altitude --indicated --expected --flag vot ground -- -
"""
TYPED = st.one_of(st.sampled_from(WORDS.split()), st.text(max_size=8))


@pytest.mark.parametrize("name", COMPUTATIONS)
@given(typed=st.lists(TYPED, min_size=1, max_size=6), place=st.integers(1, 12))
def test_random_words_never_end_in_a_bug(name: str, typed: list[str], place: int) -> None:
    good = line(name)
    for words in (typed, [*good[1:], *typed], [*good[1:place], typed[0], *good[place + 1 :]]):
        assert run([name, *words]) in (0, 1, 2)
