"""Direct legs over the invented islands of the examples: minimums by terrain, and what is below them.

The hill north-east of the way from QSK to XHAR tops out at 1,220 ft in the tile, the one at QHB at 820 ft; the islands
lie outside the United States, so 2,000 ft count above them: 3,300 and 2,900 ft.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.judged import found, judged, of

from navlog.printed.page import Printed
from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.request.typed import Overrides
from navlog.rules.answers import Answer, answers
from navlog.rules.samples import FILES, SampleCatalogue, sample
from navlog.sheets.json_lines import flight_object

TERRAIN = "terrain terrain"


def answer(*changed: str) -> Answer:
    (one,) = answers(read_flights(sample(*changed), "f.route"), SampleCatalogue(), References(FILES))
    return one


def test_a_direct_leg_without_a_stated_minimum_has_one_by_terrain() -> None:
    legs = flight_object(answer(TERRAIN, "-direct QHB"))["legs"]
    first = legs[0]
    assert (first["minimum_altitude_ft"], first["minimum_kind"]) == (2900.0, "terrain")
    assert first["ground"]["tiles"] == ["islands.tif"]
    assert (round(first["ground"]["highest"]["height_ft"]), first["ground"]["clearance_ft"]) == (820, 2000.0)
    assert legs[1]["minimum_kind"] == "MEA"
    assert "ground" not in legs[1]
    assert legs[-1]["minimum_kind"] == "stated"


def test_nothing_of_terrain_is_told_where_no_folder_is_named() -> None:
    one = answer("-direct QHB")
    first = flight_object(one)["legs"][0]
    assert (first["minimum_kind"], "ground" in first) == (None, False)


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        (("altitude 2500", "rules ifr"), ["error"]),
        (("altitude 2500",), ["note"]),
        (("altitude 700",), ["warning"]),
        (("altitude 3000", "rules ifr"), []),
    ],
)
def test_under_vfr_only_what_is_below_the_top_of_the_ground_is_a_warning(
    changed: tuple[str, ...], expected: list[str]
) -> None:
    flights = judged(TERRAIN, "-direct QHB", *changed)
    assert [one.severity.value for one in flights if one.rule == "under-terrain" and one.number == 1] == expected


def test_a_stated_minimum_lower_than_the_terrain_asks_is_a_warning() -> None:
    (told,) = found("stated-under-terrain", TERRAIN)
    assert told.startswith(
        "warning: the stated minimum of 2500 ft is lower than the minimum by terrain of 2900 ft:"
        " 820 ft, 0.4 NM beyond QHB"
    )


def test_missing_terrain_leaves_the_minimum_unknown_and_says_so() -> None:
    far = ("airport XOLD N44 58.00 W039 20.00 elev 350ft", "-direct QEL")
    (told,) = found("terrain-unknown", TERRAIN, *far)
    assert told == "warning: the ground from QEL to XOLD is not known: no terrain of N44W040"
    last = flight_object(answer(TERRAIN, *far))["legs"][-1]
    assert (last["minimum_altitude_ft"], last["minimum_kind"], last["ground"]["minimum_ft"]) == (None, None, None)


def test_a_leg_across_an_ocean_has_no_known_ground() -> None:
    """A digit of the longitude is lost: 39.2 W is 3.9 W, 35 degrees of 41.7 NM each at 46 N, about 1,470 NM."""
    far = ("airport XOLD N45 41.00 W003 55.00 elev 350ft", "-direct QEL")
    (told,) = found("terrain-unknown", TERRAIN, *far)
    assert told == "warning: the ground from QEL to XOLD is not known: its two ends are more than 1000 NM apart"


def test_the_way_to_an_alternate_has_its_own_ground() -> None:
    flights = judged(TERRAIN, "alternate QEL via XHAR at 1500", "rules ifr")
    assert any(one.rule == "under-terrain" and one.alternate is not None for one in flights)


def test_the_band_of_the_guidance_is_wider_than_four_miles_beyond_51() -> None:
    """60 tan 4.5 is 4.72 NM (FAA JO 7400.2, 20-3-3); dead reckoning opens by 15 degrees from 4 NM."""
    far = "airport XHAR N46 12.30 W037 54.10 elev 0ft"  # 60 NM east of QHB on its parallel
    route = ("-direct QHB", far, "route QHB XHAR")
    (leg,) = answer(TERRAIN, *route).report.log.legs  # type: ignore[union-attr]
    assert leg.stretch.ground is not None
    (part,) = leg.stretch.ground.parts
    widths_nm = [part.corridor.half_width_nm(nm) for nm in (0.0, part.corridor.length_nm)]
    assert widths_nm == pytest.approx([4.0, 4.72], abs=0.02)


def test_the_folder_of_the_command_stands_before_the_flights_own_and_another_where_it_names_none() -> None:
    named = read_flights(sample("terrain own"), "f.route", overrides=Overrides(terrain_otherwise="other"))
    bare = read_flights(sample(), "f.route", overrides=Overrides(terrain_otherwise="other"))
    over = read_flights(
        sample("terrain own"), "f.route", overrides=Overrides(terrain="over", terrain_otherwise="other")
    )
    paths = [plans.flights[0].terrain.path for plans in (named, bare, over)]  # type: ignore[union-attr]
    assert paths == ["own", "other", "over"]


def test_a_folder_that_is_not_there_is_a_problem_at_its_statement() -> None:
    one = answer("terrain nowhere")
    (problem,) = one.problems
    assert (problem.code, problem.span is not None and problem.span.column) == ("cannot-read", 9)
    assert json.dumps(flight_object(one)["status"]) == '"problem"'


def test_obstacles_are_told_missing_once() -> None:
    assert len(of("obstacles-unknown", judged(TERRAIN, "alternate XHAR"))) == 1


def test_the_examples_terrain_is_where_the_samples_look() -> None:
    assert (Path(FILES["terrain"]) / "islands.tif").is_file()


def test_the_knee_page_tells_the_highest_ground_and_the_minimum_computed_of_it() -> None:
    whole = answer(TERRAIN, "-direct QHB").report
    assert whole is not None
    told = [tick for one in Printed.of(whole).route.needles for tick in one.ticks if tick.startswith("terrain ")]
    assert any(tick.endswith("min by terrain 2900") for tick in told), told
