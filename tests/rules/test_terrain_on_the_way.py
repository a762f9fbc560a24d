"""Flights over an invented tile: what a climb, an airway and a direct leg tell of the ground below them."""

from __future__ import annotations

from math import cos, radians
from pathlib import Path

import pytest
from helpers.ridge import RIDGE, flown_over, flown_past_mast, mast_row, told
from helpers.tiles import peaks, write_geotiff, write_srtm

from navlog.catalogue import import_data, open_catalogue
from navlog.printed.findings import findings_lines
from navlog.printed.page import Printed
from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.rules.answers import answers
from navlog.rules.samples import FILES, SampleCatalogue, sample
from navlog.sheets.formats import sheet
from navlog.sheets.json_lines import flight_object
from navlog.sheets.plan_drawing import plan_drawing
from navlog.sheets.text import text_log


def test_a_damaged_tile_is_a_warning_of_its_own_and_named_in_the_head(tmp_path: Path) -> None:
    (tmp_path / "N44W072.hgt").write_bytes(bytes(1_000_000))
    plans = read_flights(sample(f'terrain "{tmp_path}"', *RIDGE, "route XHAR QHB QEL XHAR"), "f.route")
    (one,) = answers(plans, SampleCatalogue(), References(FILES))
    assert one.report is not None, one.problems
    lines = [line for line in findings_lines(one.report.findings) if line.endswith("[terrain-unknown]")]
    why = "cannot be read: it is not 1201 by 1201 or 3601 by 3601 heights of two bytes"
    assert lines[0] == f"WARNING the terrain file N44W072.hgt {why} [terrain-unknown]"
    assert lines[1].startswith("WARNING legs 1, 2, 4: the ground from XHAR to QHB is not known")
    assert len(lines) == 2
    assert "no tile, CANNOT BE READ: N44W072.hgt" in " ".join(text_log(one.report).split())


def test_a_climb_is_told_where_it_passes_below_the_minimum_by_terrain(tmp_path: Path) -> None:
    """A hill of 600 m (1,968.5 ft) stands 7 NM along at N44 13, 2 NM right.

    With SRTM's 16 m (52.5 ft) and 2,000 in the White Mountains 4,021, 4,100 ft in the piece from 6 to 8 NM; elsewhere
    2,052.5, 2,100 ft. Climbing 500 ft a minute at 75 kt or a little more, 375 to 400 ft a mile, the flight has the
    2,100 ft by 6 NM, and 4,100 ft not by 8.
    """
    east = round(2.0 / (60.0 * cos(radians(44.217))) * 1200.0)
    one = flown_over(tmp_path, {(940, 600 + east): 600}, "aircraft climber.toml", "-tas", "-burn", "wind calm")
    (note,) = [text for text in told(one, "climb-low") if "climb" in text]
    assert note.startswith("note: the climb is below the minimum by terrain as far as 8.0 NM along XHAR to QHB;")
    assert "1969 ft (+53), 7.0 NM along XHAR to QHB, 2.0 right, N44W072.hgt" in note
    assert told(one, "climb-under-terrain") == []


def test_under_ifr_one_line_tells_where_a_climb_has_its_minimum_and_how_near_the_hill_is_passed(tmp_path: Path) -> None:
    """The hill of the test above: no figure of `climb-low` is lost, and none is told twice.

    A hill higher than the flight is told by itself, as an error must not stand at the end of a note.
    """
    by_file = ("aircraft climber.toml", "-tas", "-burn", "wind calm")
    hill = {(940, 600 + round(2.0 / (60.0 * cos(radians(44.217))) * 1200.0)): 600}
    (visual,) = [one for one in told(flown_over(tmp_path, hill, *by_file), "climb-low") if "climb" in one]
    one = flown_over(tmp_path, hill, *by_file, "rules ifr")
    (out,) = told(one, "climb-out")
    assert out.startswith("note: the minimum of 4100 ft is reached ")
    assert out.endswith(visual.removeprefix("note: the climb is "))
    assert not [text for text in told(one, "climb-low") if "the climb" in text]
    grave = flown_over(tmp_path, {(1000, 600): 700}, *by_file, "rules ifr")
    assert [text[:6] for text in told(grave, "climb-low") if "the climb" in text] == ["error:"]
    assert "by terrain" not in "".join(told(grave, "climb-out"))


def test_a_climb_lower_than_a_hill_beside_any_mile_is_a_warning(tmp_path: Path) -> None:
    """The nearer hill, 700 m (2,297 ft) 4 NM along, is lower than one of 1,000 m at 20 NM, which the climb clears."""
    heights = {(1000, 620): 700, (680, 620): 1000}
    one = flown_over(
        tmp_path, heights, "aircraft climber.toml", "-tas", "-burn", "wind calm", "altitude 8000", "rules ifr"
    )
    (warning,) = told(one, "climb-under-terrain")
    assert "beside 2297 ft (+53), 4.0 NM along" in warning


def test_a_climb_into_the_ground_under_its_course_is_an_error(tmp_path: Path) -> None:
    """A hill of 700 m (2,297 ft) on the course 4 NM along, where 375 to 400 ft a mile make 1,500 to 1,600 ft."""
    one = flown_over(tmp_path, {(1000, 600): 700}, "aircraft climber.toml", "-tas", "-burn", "wind calm")
    (error,) = told(one, "climb-under-terrain")
    assert error.startswith("error: 1")
    assert "INTO THE GROUND under the course itself: 2297 ft (+53), 4.0 NM along" in error
    (low,) = [text for text in told(one, "climb-low") if "the climb is" in text]
    assert low.startswith("error: ")


@pytest.mark.parametrize(("column", "how"), [(620, "warning: "), (600, "error: ")])
def test_a_higher_hill_a_mile_on_does_not_hide_one_below_whose_top_the_climb_is(
    tmp_path: Path, column: int, how: str
) -> None:
    """At 375 to 400 ft a mile the climb passes 275 m (902 ft), 2 NM along, at 750 to 800 ft.

    Beside 330 m (1,083 ft), 3.5 NM along, it is at 1,312 ft or more.
    """
    heights = {(1040, column): 275, (1010, column): 330}
    one = flown_over(tmp_path, heights, "aircraft climber.toml", "-tas", "-burn", "wind calm")
    (found,) = told(one, "climb-under-terrain")
    assert found.startswith(how)
    assert "902 ft (+53), 2.0 NM along" in found
    (low,) = [text for text in told(one, "climb-low") if "the climb is" in text]
    assert low.startswith(how)


def test_a_hillside_by_the_field_does_not_hide_the_mountain_on_the_way(tmp_path: Path) -> None:
    """A climb of 375 to 400 ft a mile passes 500 m (1,640 ft) at 2 NM by far more than 700 m (2,297 ft) at 5 NM.

    Each place has its line though both are of one rule, and of one leg.
    """
    heights = {(1040, 620): 500, (980, 620): 700}
    one = flown_over(tmp_path, heights, "aircraft climber.toml", "-tas", "-burn", "wind calm", "altitude 8000")
    assert one.report is not None
    lines = [line for line in findings_lines(one.report.findings) if line.endswith("[climb-under-terrain]")]
    assert ["beside 1640 ft (+53), 2.0 NM along" in line for line in lines].count(True) == 1
    assert ["beside 2297 ft (+53), 5.0 NM along" in line for line in lines].count(True) == 1
    (low,) = [text for text in told(one, "climb-low") if "the climb is" in text]
    assert low.startswith("warning: ")
    assert "ft BELOW 1640 ft (+53), 2.0 NM along" in low


def test_level_flight_into_the_ground_is_an_error_on_an_airway_too(tmp_path: Path) -> None:
    """A hill of 1,400 m (4,593 ft) at N44 42, under V801, flown level at 4,500 ft, above its stated MEA."""
    one = flown_over(tmp_path, {(360, 600): 1400})
    (error,) = told(one, "climb-under-terrain")
    assert error.startswith("error: 4500 ft is planned INTO THE GROUND")


def test_the_band_of_a_direct_leg_meets_a_hill_that_its_course_does_not(tmp_path: Path) -> None:
    """12 NM before QHB 4.5 degrees are 0.94 NM: a hill 0.8 NM aside is in the band, one of 1.2 NM is not."""
    for aside_nm, expected in ((0.8, 1), (1.2, 0)):
        column = 600 - round(aside_nm / (60.0 * cos(radians(44.3))) * 1200.0)
        one = flown_over(tmp_path, {(840, column): 300})
        notes = told(one, "band-over-higher-ground")
        assert len(notes) == expected
        if notes:
            assert (
                "within 4.5 degrees of the course, 0.9 NM there, stand 984 ft (+53), 12.0 NM along, 0.8 left"
                in notes[0]
            )
            assert notes[0].endswith("on the course no more than 0 ft")


def test_higher_ground_on_the_course_itself_is_no_matter_of_the_band(tmp_path: Path) -> None:
    assert told(flown_over(tmp_path, {(840, 600): 300}), "band-over-higher-ground") == []


def test_the_sheet_and_json_tell_the_obstacles_edition_and_the_tiles(tmp_path: Path) -> None:
    """An invented mast on the way; the file's currency date is its edition."""
    mast = (
        "33-000001 O US NH HARBOUR          44 12 00.00N 071 30 00.00W TOWER              1 00600 01400 R 5 D M"
        " 1990ASO01578OE C 2014138 "
    )
    (tmp_path / "DOF.DAT").write_text(f"  CURRENCY DATE = 06/27/26\n\n\n\n{mast}\n", "ascii")
    import_data(tmp_path / "DOF.DAT", tmp_path / "catalogue.sqlite")
    write_srtm(tmp_path, "N44W072", {})
    plans = read_flights(sample(f'terrain "{tmp_path}"', *RIDGE), "f.route")
    with open_catalogue(tmp_path / "catalogue.sqlite") as catalogue:
        (one,) = answers(plans, catalogue, References(FILES))
    whole = flight_object(one)
    ground = whole["legs"][0]["ground"]
    assert ground["obstacle"]["source"] == "tower 33-000001"
    assert [(each["source"], each["cycle"]) for each in ground["obstacle_editions"]] == [("dof", "2026-06-27")]
    assert ("dof", "2026-06-27") in [(each["source"], each["cycle"]) for each in whole["catalogue"]]
    assert one.report is not None
    text = text_log(one.report)
    assert "Terrain with obstacles of DOF 2026-06-27: N44W072.hgt;" in " ".join(text.split())
    assert "DOF 2026-06-27: N44W072.hgt;" in " ".join(str(sheet("strip", (one,), "letter")).split())


@pytest.mark.parametrize(
    ("row", "height_m", "how"),
    [
        # 20 rows a mile north of the field, row 1080: 0.4 NM out 150 to 160 ft are planned, 0.8 NM out 300 to 320.
        (1072, 100, "error"),  # 328 ft
        (1064, 130, "error"),  # 427 ft
        # 45 m (148 ft) less the 52 ft of the tile are not above the 112 ft planned 0.3 NM out: the field's own ground.
        (1074, 45, None),
    ],
)
def test_ground_within_a_mile_of_the_field_is_told_where_it_is_above_the_planned_path(
    tmp_path: Path, row: int, height_m: int, how: str | None
) -> None:
    one = flown_over(tmp_path, {(row, 600): height_m}, "aircraft climber.toml", "-tas", "-burn", "wind calm")
    found = [text for text in told(one, "climb-under-terrain") if "NM along" in text]
    assert [text.partition(":")[0] for text in found] == ([] if how is None else [how])
    assert all("INTO THE GROUND under the course itself" in text for text in found)


@pytest.mark.parametrize(
    ("where", "top_ft", "rule", "begin"),
    [
        # At 375 to 400 ft a mile 750 to 800 ft are planned 2 NM out, where 48 ft a mile ask for 96; 3 ft is code A.
        ("44 08 00.00N 071 30 00.00W", 900, "climb-under-terrain", "error: 7"),
        ("44 08 00.00N 071 30 00.00W", 720, "climb-low", "warning: "),
        ("44 08 00.00N 071 30 00.00W", 630, "climb-low", "note: "),
        # 0.8 NM out 300 to 320 ft; 0.3 NM aside, 0.42 minutes of longitude, and no more than 200 ft up, it is low and
        # close in, 0.1 NM out at 40 ft.
        ("44 06 48.00N 071 30 00.00W", 700, "climb-under-terrain", "error: 3"),
        ("44 06 06.00N 071 30 25.00W", 150, "climb-under-terrain", "note: "),
        ("44 06 06.00N 071 30 25.00W", 210, "climb-under-terrain", "warning: "),
    ],
)
def test_a_published_mast_on_the_climb_is_held_against_the_measure_of_ground_and_of_notices(
    tmp_path: Path, where: str, top_ft: int, rule: str, begin: str
) -> None:
    row = mast_row(where, top_ft, "1 A")
    one = flown_past_mast(tmp_path, row, "aircraft climber.toml", "-tas", "-burn", "wind calm")
    (found,) = [text for text in told(one, rule) if "the climb is" in text or rule != "climb-low"]
    assert found.startswith(begin), found
    assert ("INTO AN OBSTACLE on the course itself" in found) is begin.startswith("error")


def test_each_piece_of_a_direct_leg_tells_the_highest_within_four_miles_of_itself(tmp_path: Path) -> None:
    """Hills of 656, 492 and 328 ft stand 2, 17 and 22.5 NM along: the climb, 11 NM, has the first, the rest the second.

    A mile of this meridian is 20 rows of 3 seconds, but for 1 in 600 by which a minute of latitude is longer than it.
    """
    heights = {(1040, 600): 200, (740, 580): 150, (630, 600): 100}
    climbs = ("aircraft climber.toml", "-tas", "-burn", "wind calm", "rules vfr")
    one = flown_over(tmp_path, heights, *climbs)
    assert one.report is not None
    climb, level = (leg for leg in one.report.log.legs if leg.stretch.number == 1)
    assert 5.0 < climb.distance_nm < 14.0
    told = [leg["ground"]["leg_highest"] for leg in flight_object(one)["legs"][:2]]
    assert [each["height_ft"] for each in told] == pytest.approx([656.2, 492.1], abs=0.1)
    ends_nm = 0.0, climb.distance_nm
    assert [each["along_nm"] + from_nm for each, from_nm in zip(told, ends_nm, strict=True)] == pytest.approx(
        [2.0, 17.0], abs=0.05
    )
    assert told[1]["aside_nm"] == pytest.approx(-20 / 20 * cos(radians(44.383)), abs=0.02)
    text = " ".join(text_log(one.report).split())
    assert "highest 656 ft, 2.0 NM along, 0.0" in text
    assert f"highest 492 ft, {17.0 - climb.distance_nm:.1f} NM along, 0.7 left" in text
    assert level.ends_stretch


def test_where_a_tile_is_missing_the_highest_is_told_as_the_highest_known(tmp_path: Path) -> None:
    """XHAR lies 2 NM north of the tile's southern edge: N43W072 is missing within 4 NM of it."""
    one = flown_over(
        tmp_path, {(1140, 600): 200}, "airport XHAR N44 02.00 W071 30.00 elev 0ft", "rules ifr", "date 2026-07-18"
    )
    assert one.report is not None
    ground = flight_object(one)["legs"][0]["ground"]
    assert (ground["terrain_known"], ground["minimum_ft"], ground["unknown"]) == (
        False,
        None,
        ["no terrain of N43W072"],
    )
    assert ground["highest"]["height_ft"] == pytest.approx(656.2, abs=0.1)
    text = " ".join(text_log(one.report).split())
    assert "highest known 656 ft, 1.0 NM along, 0.0" in text
    ticks = [tick for row in Printed.of(one.report).route.needles for tick in row.ticks if "terrain" in tick]
    assert ticks == ["terrain known 656 ft at 1.0 NM, min by terrain ?"]
    plan = plan_drawing(one.report.log, 367.0, 300.0)
    assert plan is not None
    assert "peaks: highest known within 4 NM" in plan.caption
    (warning,) = (text for text in told(one, "minimum-unknown") if "XHAR" in text)
    assert warning.endswith("XHAR to QHB, nor one by terrain: no terrain of N43W072")


def test_what_is_known_is_held_against_the_flight_though_a_tile_is_missing(tmp_path: Path) -> None:
    """A hill of 900 m, 2,952.8 ft: with 16 m and 2,000 ft 5,100. Flown at 4,500, and stated as 5,000."""
    low = "airport XHAR N44 02.00 W071 30.00 elev 0ft"
    one = flown_over(tmp_path, {(900, 600): 900}, low, "rules ifr")
    (error,) = told(one, "under-terrain")
    assert error.startswith("error: 4500 ft is below the minimum by terrain of 5100 ft over the highest known: 2953 ft")
    one = flown_over(tmp_path, {(900, 600): 900}, low, "direct QHB - XHAR 28nm min 5000")
    (warning,) = told(one, "stated-under-terrain")
    assert "5000 ft is lower than the minimum by terrain of 5100 ft over the highest known: 2953 ft" in warning


def test_an_airway_that_bends_at_its_changeover_has_its_ground_told_on_both_sides(tmp_path: Path) -> None:
    """A bend lies at a point of the airway, so each stretch of it is straight: the hill beyond the bend is met."""
    heights = {(360, 660): 1400}
    bent = (
        "fix WRASS N44 42.00 W071 30.00",
        "station QEL 110.20 N44 42.00 W071 13.00 decl 15W class L dme elev 0ft",
        "airway V801 QHB 015 - WRASS 12nm mea 3000 - 285 QEL 12.1nm mea 3000",
    )
    one = flown_over(tmp_path, heights, *bent)
    assert one.report is not None
    kinds = [leg.changeover.kind.value for leg in one.report.log.legs if leg.changeover is not None]
    assert kinds == ["turn"]
    assert all(leg.stretch.abeam for leg in one.report.log.legs)
    assert any("INTO THE GROUND" in text for text in told(one, "climb-under-terrain"))


@pytest.mark.parametrize(
    ("minimums", "route", "expected"),
    [
        ("mea 3400", "XHAR QHB V801 QEL", "the MEA of 3400 ft on V801 is less than 1500 ft above 1969 ft"),
        ("mea 3500", "XHAR QHB V801 QEL", None),
        ("mea 5000 moca 3400", "XHAR QHB V801 QEL", "the MOCA of 3400 ft on V801 is less than 1500 ft above 1969 ft"),
        ("mea 3500/3400", "XHAR QHB V801 QEL", None),
        ("mea 3500/3400", "QEL V801 QHB XHAR", "the MEA of 3400 ft on V801 is less than 1500 ft above 1969 ft"),
    ],
)
def test_a_minimum_of_an_airway_too_near_the_ground_is_a_warning_in_the_direction_flown(
    tmp_path: Path, minimums: str, route: str, expected: str | None
) -> None:
    """A hill of 600 m, 1,968.5 ft, abeam of V801 in the White Mountains; 1,500 ft above it are 3,468.5."""
    airway = f"airway V801 QHB 015 - 195 QEL 24nm {minimums}"
    warnings = told(flown_over(tmp_path, {(360, 640): 600}, airway, f"route {route}"), "stated-under-terrain")
    assert [expected is not None and one.startswith(f"warning: {expected}") for one in warnings] == (
        [] if expected is None else [True]
    )


def test_a_published_airways_minimum_too_near_the_ground_is_a_warning(tmp_path: Path, islands: str) -> None:
    """Invented V801 with its published MOCA of 2,400 ft, from QHB at N46 12.3 to QEL; a hill of 1,000 m beside it."""
    write_geotiff(tmp_path / "hill.tif", 47.0, -41.0, (121, 181), 1 / 60, peaks({(62, 92): 1000.0}))
    with open_catalogue(islands) as catalogue:
        plans = read_flights(
            f'terrain "{tmp_path}"\ndate 2026-07-18\nwind calm\ntas 110kt\naltitude 6000\nroute QHB V801 QEL\n',
            "f.route",
        )
        (one,) = answers(plans, catalogue, References(FILES))
    (warning,) = told(one, "stated-under-terrain")
    assert warning.startswith("warning: the MOCA of 2400 ft on V801 is less than 1000 ft above 3281 ft")


def test_each_climb_and_descent_of_a_flight_with_landings_is_told_by_itself(tmp_path: Path) -> None:
    """Out and back twice over a hill of 600 m 7 NM from the field: two climbs and two descents pass it low."""
    heights = {(940, 600 + 56): 600}
    route = "route XHAR QHB XHAR land 10min QHB XHAR"
    one = flown_over(tmp_path, heights, "aircraft climber.toml", "-tas", "-burn", "wind calm", route)
    assert one.report is not None
    notes = [each for each in one.report.findings if each.rule == "climb-low"]
    kinds = ["climb" if "the climb is" in each.message else "descent" for each in notes]
    assert kinds == ["climb", "descent", "climb", "descent"]
    # The second climb is the first again, after the stop, and each is told at a leg of its own.
    assert notes[2].message == notes[0].message
    assert len({each.leg for each in notes}) == 4


def test_the_tiles_below_airways_are_named_too(tmp_path: Path) -> None:
    """V801 begins in N44 and ends in N45; the direct leg before it lies in N44 alone."""
    write_srtm(tmp_path, "N45W072", {})
    far = (
        "station QEL 110.20 N45 24.00 W071 30.00 decl 15W class L dme elev 0ft",
        "airway V801 QHB 015 - 195 QEL 54nm mea 3000",
    )
    for route, said in (
        ("route XHAR QHB V801 QEL", "WITHOUT OBSTACLES: N44W072.hgt N45W072.hgt; minimums by terrain are computed"),
        ("route QHB V801 QEL", "Terrain: N44W072.hgt N45W072.hgt; no direct leg has a minimum by it"),
    ):
        one = flown_over(tmp_path, {}, *far, route)
        assert one.report is not None
        assert said in " ".join(text_log(one.report).split())
