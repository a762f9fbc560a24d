"""Flights in the winds of official bulletins, from file to heading.

The samples are US National Weather Service bulletins as issued (see tests/data/bulletins). Positions of the
stations are those of the FAA's NASR data, to the minute: ABI 32-29N 099-52W, ABQ 35-03N 106-49W,
AMA 35-17N 101-38W.
"""

from __future__ import annotations

from math import asin, atan2, cos, degrees, hypot, radians, sin, sqrt
from pathlib import Path

import pytest
from helpers.flown import Json
from helpers.folder import Folder

BULLETINS = Path(__file__).parents[1] / "data" / "bulletins"
MKC = (BULLETINS / "MKC-2008.txt").read_text()
PART = (BULLETINS / "FBUS31-2026-01-31-part.txt").read_text()

AT_MKC = "station MKC 112.60 N39 17.10 W094 35.50 decl 7E\nstation QKC 113.60 N39 17.10 W094 00.00 decl 7E\n"


def rules(found: Json) -> dict[str, str]:
    return {finding["rule"]: finding["severity"] for finding in found["findings"]}


@pytest.mark.parametrize(
    ("level", "from_deg", "speed_kt"),
    # NWS Aviation Weather Center, 2008: the MKC row with its decoding.
    [
        ("3000", 240, 26),
        ("6000", 270, 26),
        ("9000", 280, 26),
        ("12000", 290, 30),
        ("FL180", 270, 44),
        ("FL240", 270, 51),
        ("FL300", 270, 55),
        ("FL340", 270, 60),
        ("FL390", 270, 65),
    ],
)
def test_every_level_of_the_official_row_is_flown(folder: Folder, level: str, from_deg: int, speed_kt: int) -> None:
    folder.put("MKC.txt", MKC)
    found = folder.fly(
        AT_MKC
        + f"date 2008-07-01\noff 06:10Z\nwinds MKC.txt\naltitude {level}\ntas 150kt\nroute MKC QKC\nvariation 4E\n"
    )
    for leg in found["legs"]:
        assert leg["wind"]["from_true_deg"] == pytest.approx(from_deg, abs=1e-6)
        assert leg["wind"]["speed_kt"] == pytest.approx(speed_kt, abs=1e-6)
    (used,) = found["bulletins"]
    assert used["stations"] == ["MKC"]
    assert (used["valid"], used["use_from"], used["use_to"]) == (
        "2008-07-01T06:00:00.000Z",
        "2008-07-01T05:00:00.000Z",
        "2008-07-01T09:00:00.000Z",
    )
    assert "bulletin-period" not in rules(found)


def test_between_two_levels_the_wind_is_the_mean_vector(folder: Folder) -> None:
    # Half way from 240/26 at 3,000 ft to 270/26 at 6,000 ft: 255, and 26 x cos 15 kt.
    folder.put("MKC.txt", MKC)
    found = folder.fly(
        AT_MKC + "date 2008-07-01\noff 06:10Z\nwinds MKC.txt\naltitude 4500\ntas 150kt\nvariation 4E\nroute MKC QKC\n"
    )
    for leg in found["legs"]:
        assert leg["wind"]["from_true_deg"] == pytest.approx(255.0, abs=1e-6)
        assert leg["wind"]["speed_kt"] == pytest.approx(26.0 * cos(radians(15.0)), abs=1e-6)


def test_the_temperature_of_the_bulletin_makes_the_true_airspeed(folder: Folder) -> None:
    # At 9,000 ft -14 C, where -2.8 C is standard. TAS = CAS x sqrt(density ratio inverted), 0.1 kt for
    # compressibility: pressure ratio (1 - 6.8756e-6 x 9000)^5.2559 = 0.71479; 259.15 K.
    folder.put("MKC.txt", MKC)
    folder.put("cas.toml", 'name = "CAS"\n[cruise]\ncas_kt = 120\n')
    found = folder.fly(
        AT_MKC + "date 2008-07-01\noff 06:10Z\nwinds MKC.txt\naltitude 9000\naircraft cas.toml\nvariation 4E\n"
        "route MKC QKC\n"
    )
    expected_kt = 120.0 / sqrt((1 - 6.8756e-6 * 9000) ** 5.2559 * 288.15 / 259.15)
    for leg in found["legs"]:
        assert leg["tas_kt"] == pytest.approx(expected_kt, abs=0.25)
    assert "standard-temperature" not in rules(found)


NEIGHBOURS = (
    "airport ABI N32 29.00 W099 52.00\nairport ABQ N35 03.00 W106 49.00\nairport AMA N35 17.00 W101 38.00\n"
    "station QAA 113.00 N34 00.00 W102 00.00 decl 8E\nstation QBB 114.00 N34 00.50 W102 00.00 decl 8E\n"
)


def test_between_stations_winds_count_by_nearness(folder: Folder) -> None:
    # 9,000 ft on 31 January 2026: ABI 3222, ABQ 3513, AMA 3011. Weights by the inverse square of the
    # distance, here on a sphere.
    folder.put("part.txt", PART)
    found = folder.fly(
        NEIGHBOURS + "date 2026-01-31\noff 06:00Z\nwinds part.txt\naltitude 9000\ntas 150kt\nroute QAA QBB\n"
    )
    here = (34.0 + 0.25 / 60, -102.0)
    winds = {(32 + 29 / 60, -99 - 52 / 60): (320, 22), (35.05, -106 - 49 / 60): (350, 13)}
    winds[(35 + 17 / 60, -101 - 38 / 60)] = (300, 11)
    east = north = total = 0.0
    for place, (from_deg, speed_kt) in winds.items():
        weight = 1.0 / sphere_nm(here, place) ** 2
        east += weight * speed_kt * sin(radians(from_deg))
        north += weight * speed_kt * cos(radians(from_deg))
        total += weight
    leg = found["legs"][0]
    assert leg["wind"]["speed_kt"] == pytest.approx(hypot(east, north) / total, abs=0.05)
    assert leg["wind"]["from_true_deg"] == pytest.approx(degrees(atan2(east, north)) % 360, abs=0.3)
    assert found["bulletins"][0]["stations"] == ["ABI", "ABQ", "AMA"]
    assert found["bulletins"][0]["stations_without_position"] == 30
    assert rules(found)["bulletin-stations"] == "note"


def test_the_way_to_a_far_alternate_has_the_winds_told_there(folder: Folder) -> None:
    # Three stations beside the route tell 230/12, one 290 NM to the west 090/50: at 2.5 NM from it that one weighs
    # (290 / 2.5)^2, some 13,000 times as much.
    folder.put(
        "islands.txt",
        "DATA BASED ON 181200Z\nVALID 181800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000\nFT  3000\n"
        "QAA 2312\nQBB 2312\nQCC 2312\nQFF 0950\n",
    )
    found = folder.fly(
        "station QAA 113.00 N46 00.00 W039 00.00 decl 0E\nstation QBB 114.00 N46 20.00 W039 00.00 decl 0E\n"
        "station QCC 115.00 N46 10.00 W039 30.00 decl 0E\nstation QFF 116.00 N46 00.00 W046 00.00 decl 0E\n"
        "airport XFF N46 05.00 W046 00.00 elev 0ft\ndate 2026-07-18\noff 15:00Z\nwinds islands.txt\naltitude 3000\n"
        "tas 150kt\nroute QAA QBB\nalternate QBB via QFF XFF\n"
    )
    assert found["bulletins"][0]["stations"] == ["QAA", "QBB", "QCC", "QFF"]
    wind = found["alternates"][0]["legs"][-1]["wind"]
    assert (wind["from_true_deg"], wind["speed_kt"]) == pytest.approx((90, 50), abs=0.1)


def sphere_nm(one: tuple[float, float], other: tuple[float, float]) -> float:
    (lat, lon), (lat2, lon2) = (tuple(map(radians, place)) for place in (one, other))
    half = sin((lat2 - lat) / 2) ** 2 + cos(lat) * cos(lat2) * sin((lon2 - lon) / 2) ** 2
    return 60.0 * degrees(2 * asin(sqrt(half)))


def test_the_sheet_names_bulletin_stations_and_period(folder: Folder) -> None:
    folder.put("part.txt", PART)
    text = NEIGHBOURS + "date 2026-01-31\noff 06:00Z\nwinds part.txt\naltitude 9000\ntas 150kt\nroute QAA QBB\n"
    sheet = folder.run(text).out
    for word in ("FBUS31 KWNO 310158", "ABI", "ABQ", "AMA"):
        assert word in sheet


@pytest.mark.parametrize(
    ("day", "off", "severity"),
    [
        # VALID 310600Z FOR USE 0200-0900Z; the flight takes a few minutes at 150 kt.
        ("2026-01-31", "02:00Z", None),
        ("2026-01-31", "08:30Z", None),
        ("2026-01-31", "01:59Z", "warning"),
        ("2026-01-31", "08:59Z", "warning"),
        ("2026-01-31", "12:00Z", "error"),
        ("2026-01-30", "23:00Z", "error"),
        ("2026-02-01", "06:00Z", "error"),
    ],
)
def test_the_period_of_use_is_held_against_the_flight(folder: Folder, day: str, off: str, severity: str | None) -> None:
    folder.put("part.txt", PART)
    text = NEIGHBOURS.replace("W102 00.00 decl 8E\nstation QBB", "W102 10.00 decl 8E\nstation QBB")
    found = folder.fly(text + f"date {day}\noff {off}\nwinds part.txt\naltitude 9000\ntas 150kt\nroute QAA QBB\n")
    assert rules(found).get("bulletin-period") == severity


def test_a_climb_through_the_layers_uses_each_layers_wind(folder: Folder) -> None:
    # ABI: 3114 at 6,000 ft, 3222 at 9,000 ft, 3232 at 12,000 ft; the mean of the climb lies between them.
    folder.put("part.txt", PART)
    folder.put(
        "jet.toml",
        'name = "Climber"\n[climb]\ntas_kt = 150\nrate_ft_per_min = 1000\n[cruise]\ntas_kt = 200\n'
        "[descent]\ntas_kt = 200\nrate_ft_per_min = 1000\n",
    )
    found = folder.fly(
        "station ABI 113.70 N32 29.00 W099 52.00 decl 10E\nairport XAA N32 29.00 W100 50.00 elev 6000ft\n"
        "date 2026-01-31\noff 06:00Z\nwinds part.txt\naltitude 12000\naircraft jet.toml\nroute XAA ABI\n"
    )
    climb = found["legs"][0]
    parts = [(speed * sin(radians(d)), speed * cos(radians(d))) for d, speed in ((310, 14), (320, 22), (320, 32))]
    # Equal time at each height: the mean of a line over each half.
    east, north = (parts[0][i] / 4 + parts[1][i] / 2 + parts[2][i] / 4 for i in (0, 1))
    assert climb["wind"]["speed_kt"] == pytest.approx(hypot(east, north), abs=0.02)
    assert climb["wind"]["from_true_deg"] == pytest.approx(degrees(atan2(east, north)) % 360, abs=0.05)


def test_a_bulletin_of_places_that_nobody_knows_is_a_problem(folder: Folder) -> None:
    folder.put("part.txt", PART)
    (problem,) = folder.problems(
        "station QAA 113.00 N34 00.00 W102 00.00 decl 8E\nstation QBB 114.00 N34 30.00 W102 00.00 decl 8E\n"
        "date 2026-01-31\nwinds part.txt\naltitude 9000\ntas 150kt\nroute QAA QBB\n"
    )
    assert (problem["code"], problem["line"]) == ("no-position", 4)
    assert problem["message"] == f"no station of {folder.path / 'part.txt'} has a known position"
    assert problem["hint"] == "define its stations as `airport` or `station`, or import a catalogue"


NAV_BASE = Path(__file__).parents[1] / "data" / "nasr"


def test_station_positions_come_from_the_catalogue(folder: Folder) -> None:
    from helpers.flown import navlog

    database = str(folder.path / "small.sqlite")
    assert navlog("catalogue", "import", str(NAV_BASE), "--catalogue", database).status == 0
    ident, latitude, longitude = first_vor()
    folder.put("one.txt", PART.replace("ABI ", f"{ident} ", 1))
    found = folder.fly(
        f"station QAA 113.00 {latitude:.4f} {longitude:.4f} decl 8E\n"
        f"station QBB 114.00 {latitude + 0.3:.4f} {longitude:.4f} decl 8E\n"
        "date 2026-05-20\noff 06:00Z\nwinds one.txt\naltitude 9000\ntas 150kt\nroute QAA QBB\n",
        "--catalogue",
        database,
    )
    assert ident in found["bulletins"][0]["stations"]


def first_vor() -> tuple[str, float, float]:
    """The first VOR of the sample that is not a station of the bulletin, with its published position."""
    import csv

    taken = {line[:3] for line in PART.splitlines()}
    with (NAV_BASE / "NAV_BASE.csv").open(encoding="utf-8") as rows:
        for row in csv.DictReader(rows):
            if row["NAV_TYPE"].startswith("VOR") and row["NAV_ID"] not in taken:
                return row["NAV_ID"], float(row["LAT_DECIMAL"]), float(row["LONG_DECIMAL"])
    raise AssertionError("the sample has no VOR")
