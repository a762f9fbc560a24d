"""What a flight states that cannot be: told where it stands, by the kind of statement."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import navlog
from helpers.judged import found, judged, of

from navlog.nav.wind import Wind, triangle
from navlog.rules.domains import every_rule
from navlog.rules.samples import sample


def refused(tmp_path: Path, *changed: str, name: str = "trip.route") -> str:
    """What is said of the base flight with statements changed, which must be refused."""
    trip = tmp_path / name
    trip.write_text(sample(*changed), "utf-8")
    done = navlog("log", str(trip))
    assert done.status == 2
    assert "Traceback" not in done.err
    return done.err


# Flying lower than the ground, or what no figure holds for, is not made safe by a reason.
NEVER = {"under-ground", "unflyable-wind", "fuel-below-zero", "radial-reversed", "course-unknown", "variation-unknown"}


@pytest.mark.parametrize("ident", sorted(NEVER))
def test_what_cannot_be_flown_is_never_accepted(ident: str, tmp_path: Path) -> None:
    assert not next(one for one in every_rule() if one.ident == ident).acceptable
    assert f"`{ident}` can never be accepted" in refused(tmp_path, f'accept {ident} "I know better"')


@pytest.mark.parametrize("name", ["mars", "uk", "US", "1"])
def test_an_unknown_table_of_levels_is_a_problem_that_lists_those_there_are(name: str, tmp_path: Path) -> None:
    told = refused(tmp_path, f"levels {name}")
    assert f"`{name}` is no table of cruising levels [bad-word]" in told
    assert "one of us, icao, nz" in told


def test_a_file_that_accepts_the_rule_on_unknown_tables_is_read_on() -> None:
    (told,) = found("rule-retired", 'accept levels-unknown "checked by hand"')
    assert told.startswith("note: `levels-unknown` is found no more: a table of cruising levels that is not known")


def test_an_alternate_given_twice_is_a_problem_and_another_way_to_it_is_none(tmp_path: Path) -> None:
    twice = "alternate XOLD from QEL via V801 QHB\nalternate XOLD from QEL via V801 QHB"
    assert "`alternate XOLD` is in line" in refused(tmp_path, twice)
    assert judged("alternate XOLD from QEL via V801 QHB\nalternate XOLD from QEL")


@pytest.mark.parametrize("time", ["0", "0min", "0h", "0h00min"])
def test_a_hold_of_no_time_is_a_problem(time: str, tmp_path: Path) -> None:
    assert f"a hold of `{time}` is none [bad-value]" in refused(tmp_path, f"hold QHB {time}")


@pytest.mark.parametrize(("pattern", "told"), [("340ft", True), ("0ft", True), ("350ft", False), ("1350ft", False)])
def test_a_pattern_below_the_field_is_told(pattern: str, told: bool) -> None:
    # XOLD lies at 350 ft.
    assert bool(found("pattern-low", f"pattern {pattern}")) is told


def test_a_frequency_of_a_place_that_is_not_there_is_told() -> None:
    assert of("radio-elsewhere", judged('radio ZZZZ "Tower" 118.700')) == [
        "note: the flight has no place `ZZZZ`, of which a frequency is stated"
    ]
    for place in ("XHAR", "QHB", "XOLD"):
        assert found("radio-elsewhere", f'radio {place} "Tower" 118.700') == []


@pytest.mark.parametrize("altitudes", ["3000/2000/1000", "3000ft/2000ft/1000ft", "1/2/3/4", "3000//2000"])
@pytest.mark.parametrize("option", ["mea", "moca", "maa"])
def test_more_than_two_sides_are_quoted_as_they_stand(option: str, altitudes: str, tmp_path: Path) -> None:
    told = refused(tmp_path, f"airway V801 QHB 212 - 034 QEL 29.5nm {option} {altitudes}")
    assert f"`{altitudes}` has more than two sides [bad-value]" in told


@pytest.mark.parametrize("character", ["\\u0001", "\\u001b", "\\u202e", "\\n", "\\t"])
def test_an_aircrafts_name_with_a_control_character_is_a_text_nevertheless(character: str, tmp_path: Path) -> None:
    text = f'name = "Cl{character}imber"\n[cruise]\ntas_kt = 110\nburn_gal_per_h = 8.5\n'
    (tmp_path / "odd.toml").write_text(text, "utf-8")
    told = refused(tmp_path, "aircraft odd.toml", "-tas", "-burn")
    assert "odd.toml:1:1: error: `name` holds the control or invisible character U+" in told


@pytest.mark.parametrize("from_deg", [90.0, 270.0, 89.999, 90.001])
def test_no_headwind_is_called_minus_nothing(from_deg: float) -> None:
    why = triangle(true_course_deg=0.0, tas_kt=80.0, wind=Wind(from_deg, 80.0)).unflyable
    if why is not None:
        assert "headwind" not in why
        assert "-0" not in why


@pytest.mark.parametrize("more", [(), ("alternate XHAR",), ("wind 230M/12",)])
def test_a_day_without_a_magnetic_model_is_told_at_the_date(more: tuple[str, ...], tmp_path: Path) -> None:
    text = sample("date 2045-07-18", *more)
    line = text.split("\n").index("date 2045-07-18") + 1
    told = refused(tmp_path, "date 2045-07-18", *more)
    assert f"trip.route:{line}:" in told
    assert "[no-magnetic-model]" in told
    assert "date 2045-07-18\n" in told


@pytest.mark.parametrize("character", ["\n", "\r", "\x1b", "\u202e", "\u2028"])
def test_a_place_of_a_check_cannot_forge_a_line_of_the_record(character: str) -> None:
    done = navlog(
        "vor-check", "ground", "--expected", "095", "--indicated", "098", "--place", f"XHAR{character}record:"
    )
    assert (done.status, done.out) == (2, "")
    assert "--place:1:1: error: the text holds the control or invisible character U+" in done.err


def test_airways_that_join_two_points_agree_with_their_verb() -> None:
    direct = "route XHAR QHB QEL XOLD"
    assert found("airway-joins", direct) == ["note: V801 joins QHB and QEL; direct is planned"]
    (two,) = found("airway-joins", direct, "airway V16 QHB 212 - 034 QEL 29.5nm mea 3000")
    assert " join QHB and QEL; direct is planned" in two


def test_an_airport_at_an_end_whose_name_a_vor_elsewhere_has_is_told() -> None:
    # QEL stands at 45 44.1 N 039 33.0 W; 3.1 minutes of latitude and 13 of longitude are 9.6 NM (from the base flight).
    asked = ("airport QEL N45 41.00 W039 20.00 elev 350ft", "-direct QEL", "-airway V801")
    expected = ["note: QEL is taken as the airport; the VOR of that name is 9.6 NM from it: QEL:vor would be that"]
    assert found("same-name", *asked, "route XHAR QHB QEL") == expected
    assert found("same-name", *asked, "route QEL QHB XHAR") == expected
    # Named as what it is, in the middle, or with the station on the field, there is nothing to tell.
    assert found("same-name", *asked, "route XHAR QHB QEL:airport") == []
    assert found("same-name", *asked, "route XHAR QHB QEL:vor") == []
    assert found("same-name", *asked, "route XHAR QEL QHB") == []
    on_field = ("airport QEL N45 44.30 W039 33.00 elev 350ft", "-direct QEL", "-airway V801")
    assert found("same-name", *on_field, "route XHAR QHB QEL") == []
