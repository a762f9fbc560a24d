"""Exercises of a flight: each is different, flyable and known, and its key is what the log says of it."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, ROOT, Json, changed, navlog

ROUND_ROBIN = str(EXAMPLES / "round_robin.route")
DRAWN = re.compile(r"^(?:EXERCISE|KEY) (\d+) of (\d+), seed (\d+) - \S+: wind (\S+), altitude (\S+)$", re.MULTILINE)


def practised(*words: str, typed: str = "") -> str:
    found = navlog("practice", *words, typed=typed)
    assert (found.status, found.err) == (0, "")
    return found.out


def drawn(text: str) -> list[tuple[str, str]]:
    return [(one[3], one[4]) for one in DRAWN.findall(text)]


def logged(wind: str, altitude: str, file: str = ROUND_ROBIN) -> Json:
    found = navlog("log", file, "--wind", wind, "--altitude", altitude, "--format", "json")
    one: Json = json.loads(found.out)
    return one


def test_twelve_exercises_are_different_and_each_can_be_flown() -> None:
    out = practised(ROUND_ROBIN, "--seed", "7", "--count", "12")
    found = drawn(out)
    assert len(found) == len(set(found)) == 12
    assert [int(one[0]) for one in DRAWN.findall(out)] == list(range(1, 13))
    assert len({wind for wind, _ in found}) > 6
    for wind, altitude in found:
        log = logged(wind, altitude)
        assert log["status"] == "ok"
        assert all(leg["time_min"] is not None and leg["magnetic_heading_deg"] is not None for leg in log["legs"])
        assert "cruising-level" not in {one["rule"] for one in log["findings"]}


def test_the_same_seed_gives_the_same_and_another_others() -> None:
    one, again, other = (practised(ROUND_ROBIN, "--seed", seed, "--count", "3") for seed in ("7", "7", "8"))
    assert one == again
    assert drawn(one) != drawn(other)
    assert drawn(practised(ROUND_ROBIN, "--seed", "7", "--count", "2")) == drawn(one)[:2]


def test_seeds_give_on_every_python_what_they_gave() -> None:
    """Worked once and kept: `random.Random.random` keeps its sequence (Python's documentation of `random`)."""
    assert drawn(practised(ROUND_ROBIN, "--seed", "7", "--count", "2")) == [("220/23", "2500"), ("310/34", "3000")]


def test_the_key_is_apart_and_has_the_figures_of_the_log() -> None:
    sheets = practised(ROUND_ROBIN, "--seed", "7", "--count", "3")
    keys = practised(ROUND_ROBIN, "--seed", "7", "--count", "3", "--keys")
    assert drawn(sheets) == drawn(keys)
    blocks = keys.split("\nKEY")
    for block, (wind, altitude) in zip(blocks, drawn(keys), strict=True):
        log = logged(wind, altitude)
        rows = [line.split() for line in block.splitlines()[3:] if line[:1].isdigit()]
        assert len(rows) == len(log["legs"])
        for row, leg in zip(rows, log["legs"], strict=True):
            assert abs((int(row[4]) - leg["magnetic_heading_deg"] + 180) % 360 - 180) <= 0.51
            assert abs(int(row[5]) - leg["groundspeed_kt"]) <= 0.51
            assert row[2] == leg["guidance"]["flag"]


def test_a_sheet_tells_what_is_needed_and_none_of_what_is_asked() -> None:
    out = practised(ROUND_ROBIN, "--seed", "7")
    (wind, altitude) = drawn(out)[0]
    log = logged(wind, altitude)
    given = out[out.index("GIVEN") : out.index("ANSWERS")]
    first = given.splitlines()[2].split()
    leg = log["legs"][0]
    assert first[:3] == ["1", "XHAR", "QHB"]
    assert abs(int(first[3].rstrip("T")) - leg["true_course_deg"]) <= 0.5
    assert abs(float(first[4].rstrip("W")) + leg["variation_deg"]) <= 0.05
    assert first[5:] == ["110", wind, "9.6", "8.5"]
    assert [line.split() for line in given.splitlines() if line.startswith("QEL")] == [["QEL", "110.20", "17.0W"]]
    assert "Fuel at start-up 38 gal, of it 1 gal for start and taxi" in out
    blank = out[out.index("ANSWERS") :].splitlines()[3:]
    assert all(set(line.split()[1:]) == {"______"} for line in blank)
    assert max(map(len, out.splitlines())) <= 80


def test_answers_to_an_exercise_are_marked_as_its_key_says(tmp_path: Path) -> None:
    keys = practised(ROUND_ROBIN, "--seed", "7", "--keys")
    line = next(one for one in keys.splitlines() if one.startswith("Mark with: "))
    row = next(one.split() for one in keys.splitlines() if one.startswith("2 "))
    answers = tmp_path / "ANSWERS.csv"
    answers.write_text(f"leg,set_course,flag,heading,groundspeed\n2,{row[1]},{row[2]},{row[4]},{row[5]}\n")
    words = line.removeprefix("Mark with: navlog ").replace("ANSWERS.csv", str(answers)).split()
    assert navlog(*words).status == 0


def test_what_is_given_is_not_drawn() -> None:
    out = practised(ROUND_ROBIN, "--seed", "7", "--count", "2", "--wind", "270/10")
    assert len(set(re.findall(r": altitude (\d+)$", out, re.MULTILINE))) == 2
    out = practised(ROUND_ROBIN, "--seed", "7", "--count", "3", "--altitude", "3000")
    assert len(set(re.findall(r": wind (\S+)$", out, re.MULTILINE))) == 3


def test_a_flight_of_a_file_of_several_is_named() -> None:
    club = str(EXAMPLES / "club_day.route")
    keys = practised(club, "--flight", "Out to Skerry", "--keys")
    assert f"Mark with: navlog mark {club} ANSWERS.csv --flight 'Out to Skerry' --wind " in keys
    assert "[which-flight]" in navlog("practice", club).err


def test_a_flight_level_is_drawn_as_one() -> None:
    out = practised("-", "--seed", "3", typed=changed("altitude FL090", "rules ifr", "altimeter 1013hPa"))
    assert re.search(r", altitude FL\d{3}$", out, re.MULTILINE)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (changed("route XHAR NOWHERE"), "unknown-name"),
        (changed(without=("tas",)), "missing-statement"),
        (changed("tas 8kt"), "no-exercise"),
        ("", "missing-statement"),
    ],
    ids=["a problem", "no airspeed", "too slow for any wind", "empty"],
)
def test_what_cannot_be_an_exercise_is_a_problem(text: str, code: str) -> None:
    found = navlog("practice", "-", "--count", "1", typed=text)
    assert (found.status, found.out) == (2, "")
    assert f"[{code}]" in found.err


def test_more_exercises_than_there_are_is_a_problem() -> None:
    found = navlog("practice", ROUND_ROBIN, "--count", "99", "--wind", "270/10")
    assert (found.status, "exercises could be drawn" in found.err) == (2, True)


def test_the_topic_tells_of_it() -> None:
    assert "navlog practice" in (ROOT / "navlog" / "help" / "classroom.md").read_text("utf-8")


def test_the_command_that_marks_makes_the_same_flight_with_every_option_given(tmp_path: Path) -> None:
    trip = tmp_path / "round robin.route"
    trip.write_text(Path(ROUND_ROBIN).read_text("utf-8"), "utf-8")
    given = ("--wind", "180/40", "--altitude", "3500", "--date", "2026-07-19", "--set", "tas 95kt")
    keys = practised(str(trip), "--keys", *given)
    line = next(one for one in keys.splitlines() if one.startswith("Mark with: "))
    row = next(one.split() for one in keys.splitlines() if one.startswith("2 "))
    answers = tmp_path / "my answers.csv"
    answers.write_text(f"leg,set_course,flag,heading,groundspeed\n2,{row[1]},{row[2]},{row[4]},{row[5]}\n")
    words = shlex.split(line.removeprefix("Mark with: navlog "))
    assert words[:3] == ["mark", str(trip), "ANSWERS.csv"]
    assert sorted(words[3:]) == sorted(given)
    assert navlog(*words[:2], str(answers), *words[3:]).status == 0


def test_a_level_that_the_rules_warn_of_on_one_leg_as_planned_is_drawn_for_no_other(tmp_path: Path) -> None:
    # 14 CFR 91.159: courses 269 and 209 to QEL ask for even thousands and 500, 121 from there for odd ones; 4500 is
    # wrong on the last leg alone, and so may what is drawn be.
    flight = tmp_path / "flight.route"
    flight.write_text(changed("route XHAR QHB V801 QEL XOLD", "altitude 4500"))
    for wind, altitude in (
        planned := [("230/12", "4500"), *drawn(practised(str(flight), "--seed", "3", "--count", "12"))]
    ):
        log = logged(wind, altitude, str(flight))
        (last,) = {leg["number"] for leg in log["legs"] if leg["to"]["ident"] == "XOLD"}
        wrong = {
            leg for one in log["findings"] if one["rule"] == "cruising-level" for leg in (one["leg"], *one["also_legs"])
        }
        assert wrong <= {last}, altitude
    assert len({altitude for _, altitude in planned}) > 2
