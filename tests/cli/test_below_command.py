"""`navlog below` on the invented terrain of the examples."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., tuple[int, str, str]]
ROOT = Path(__file__).parents[2]
TERRAIN = ("--terrain", str(ROOT / "examples" / "terrain"))
STATIONS = ("--from", str(ROOT / "examples" / "round_robin.route"))


def test_a_place_has_the_highest_ground_around_it(navlog: Run) -> None:
    """The hill of QHB tops out at 820 ft, a height of the tile 0.4 NM from the station; outside the US 2,000 ft."""
    status, out, err = navlog("", "below", "QHB", *STATIONS, *TERRAIN, "--radius", "1nm")
    assert (status, err) == (0, "")
    assert out.splitlines() == [
        "highest ground within 1.0 NM: 820 ft (tolerance not stated) at N46 12.00 W039 21.00, 0.4 NM away, islands.tif",
        "minimum by terrain 2900 ft: 2000 ft above (whether the area is mountainous is not decided); computed,"
        " never a clearance",
        "tiles islands.tif",
        "no obstacles are known: towers and masts are not in these figures",
    ]


def test_a_course_tells_how_far_along_and_on_which_side(navlog: Run) -> None:
    status, out, _ = navlog("", "below", "QSK", "N46 14.50 W039 07.20", *STATIONS, *TERRAIN, "--format", "json")
    found = json.loads(out)
    assert status == 0
    assert (round(found["ground"]["height_ft"]), found["minimum_ft"], found["tiles"]) == (1220, 3300.0, ["islands.tif"])
    assert (round(found["ground"]["along_nm"], 1), round(found["ground"]["aside_nm"], 1)) == (19.7, -1.0)


@pytest.mark.parametrize(
    ("ends", "where"),
    [(("N46 14.50 W039 07.20", "QHB"), "beyond the end"), (("QHB", "N46 14.50 W039 07.20"), "behind the start")],
)
def test_what_lies_off_an_end_of_the_course_is_told_as_there(navlog: Run, ends: tuple[str, str], where: str) -> None:
    """The hill of QHB, N46 12.00 W039 21.00, lies 0.4 NM west-southwest of it, the field east of it."""
    _, out, _ = navlog("", "below", *ends, *STATIONS, *TERRAIN, "--radius", "1nm")
    assert f"820 ft (tolerance not stated) at N46 12.00 W039 21.00, 0.4 NM {where}, islands.tif" in " ".join(
        out.split()
    )


def test_where_a_tile_is_missing_the_minimum_is_unknown(navlog: Run) -> None:
    _, out, _ = navlog("", "below", "N46 30 W037 58", *TERRAIN)
    assert "minimum by terrain ?" in out
    assert "highest ground known within 4.0 NM: 0 ft" in out
    assert "not known: no terrain of N46W038" in out
    _, out, _ = navlog("", "below", "N46 30 W037 58", *TERRAIN, "--format", "json")
    assert json.loads(out)["terrain_known"] is False


@pytest.mark.parametrize(
    ("top_ft", "minimum_ft", "sum_of"),
    [
        # Over a hill of 820: 1,400 and 50 more make 3,450 with 2,000.
        (1400, 3500, "1400 + 50 + 2000"),
        # Lower than the hill, and with its tolerance higher all the same: 2,850 against 2,820.
        (800, 2900, "800 + 50 + 2000"),
    ],
)
def test_obstacles_of_the_catalogue_count(
    navlog: Run, tmp_path: Path, top_ft: int, minimum_ft: int, sum_of: str
) -> None:
    """An invented mast, of which the top is known within 50 ft, beside the hill of the station."""
    mast = (
        f"01-000001 O US AL HARBOUR          46 12 30.00N 039 21 00.00W TOWER              1 00600 {top_ft:05d} R 5 D M"
        " 1990ASO01578OE C 2014138 "
    )
    (tmp_path / "DOF.DAT").write_text(f"  CURRENCY DATE = 06/27/26\n\n\n\n{mast}\n", "ascii")
    catalogue = ("--catalogue", str(tmp_path / "catalogue.sqlite"))
    assert navlog("", "catalogue", "import", str(tmp_path / "DOF.DAT"), *catalogue)[0] == 0
    status, out, err = navlog(
        "", "below", "QHB", *STATIONS, *TERRAIN, "--radius", "1nm", *catalogue, "--date", "2026-07-18", "--workings"
    )
    assert status == 0
    obstacle = f"{top_ft} ft (+50 tolerance) at N46 12.50 W039 21.00, 0.3 NM away, tower"
    assert f"highest obstacle within 1.0 NM: {obstacle}" in out
    assert f"minimum by terrain {minimum_ft} ft" in out
    assert sum_of in out
    assert "obstacles: FAA Digital Obstacle File, cycle 2026-06-27" in err


@pytest.mark.parametrize("options", [STATIONS, ("--catalogue", "ISLANDS", "--date", "2026-07-18")])
def test_a_place_may_be_an_airport_of_the_route_file_or_the_catalogue(
    navlog: Run, islands: str, options: tuple[str, ...]
) -> None:
    """XHAR and the position of the same field give the same answer, in letters of either case."""
    given = tuple(islands if one == "ISLANDS" else one for one in options)
    by_position = navlog("", "below", "N46 14.50 W039 07.20", *given, *TERRAIN)
    for name in ("XHAR", "xhar"):
        status, out, err = navlog("", "below", name, *given, *TERRAIN)
        assert (status, out) == by_position[:2]
        assert err == ("XHAR: HARBOUR FIELD\n" if given != STATIONS else "")
    assert "820 ft" in navlog("", "below", "QHB", "XHAR", *given, *TERRAIN)[1]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("QHB", *STATIONS), "Give --terrain"),
        (("46N039W", "46N040W", "46N041W", *TERRAIN), "one place, or two"),
        (("46N039W", "--terrain", "nowhere"), "cannot read the terrain folder `nowhere`: no such file"),
        (("46N039W", *TERRAIN, "--radius", "0nm"), "radius of 0 NM"),
        (("N10 00.00 E010 00.00", "S09 30.00 W169 50.00", *TERRAIN), "NM is longer than 1000 NM"),
        (("QZZ", *STATIONS, *TERRAIN), "QZZ"),
        (("here!", *TERRAIN), "here!"),
    ],
)
def test_what_cannot_be_looked_up_is_told(
    navlog: Run, arguments: tuple[str, ...], message: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("NAVLOG_TERRAIN", raising=False)
    status, out, err = navlog("", "below", *arguments)
    assert (status, out) == (2, "")
    assert message in err
    assert "Traceback" not in err


def test_the_environment_names_the_folder(navlog: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NAVLOG_TERRAIN", TERRAIN[1])
    assert navlog("", "below", "QHB", *STATIONS)[0] == 0
