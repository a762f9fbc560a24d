"""Worked problems of FAA and US Navy handbooks and tests, from route file and aircraft file to the log.

No station has a position, so distances and courses are the problem's own. The handbook's deviation "+2" is
added to the magnetic heading: the card reads STEER 2 more than FOR.
"""

from __future__ import annotations

import pytest
from helpers.flown import Json, apart_deg
from helpers.folder import Folder

TWO_MORE = "\n[compass]\nfor_deg = [0, 90, 180, 270]\nsteer_deg = [2, 92, 182, 272]\n"


def test_chickasha_to_guthrie(folder: Folder) -> None:
    # FAA-H-8083-25, chapter 16, flight planning example: course 031, wind 360/10, TAS 115, variation 7E,
    # deviation +2, 8 gal/h, 38 gal; legs of 11, 10, 10.5, 13 and 8.5 NM. Printed there: WCA 3L, TH 028,
    # MH 021, CH 023, GS 106, legs of 6, 6, 6, 7 and 5 min, 4 gal. Worked exactly: 106.3 kt, 29.9 min.
    folder.put("handbook.toml", 'name = "Handbook"\n[cruise]\ntas_kt = 115\nburn_gal_per_h = 8\n' + TWO_MORE)
    points = ("QAA", "QBB", "QCC", "QDD", "QEE", "QFF")
    legs_nm = (11, 10, 10.5, 13, 8.5)
    text = "".join(f"station {ident} 113.00 decl 7E\n" for ident in points)
    text += "".join(
        f"direct {start} 024 - 204 {end} {length}nm\n"
        for start, end, length in zip(points, points[1:], legs_nm, strict=False)
    )
    text += "date 2026-07-18\noff 15:00Z\naltitude 5500\nvariation 7E\nwind 360/10\nfuel 38gal\n"
    text += f"aircraft handbook.toml\nroute {' '.join(points)}\n"
    found = folder.fly(text)
    for leg in found["legs"]:
        assert leg["true_course_deg"] == pytest.approx(31.0, abs=1e-6)
        assert leg["wind_correction_deg"] == pytest.approx(-2.6, abs=0.05)
        assert leg["true_heading_deg"] == pytest.approx(28.4, abs=0.05)
        assert leg["magnetic_heading_deg"] == pytest.approx(21.4, abs=0.05)
        assert leg["compass_heading_deg"] == pytest.approx(23.4, abs=0.05)
        assert leg["groundspeed_kt"] == pytest.approx(106.3, abs=0.05)
    assert found["totals"]["time_min"] == pytest.approx(29.9, abs=0.05)
    assert found["totals"]["fuel_gal"] == pytest.approx(4.0, abs=0.05)
    ends = [leg for leg in found["legs"] if leg["to"]["ident"] in points]
    assert [leg["eta"][11:16] for leg in ends[:4]] == ["15:06", "15:11", "15:17", "15:25"]
    assert "0:30 in the air" in folder.run(text).out


def test_the_compass_heading_of_a_descent(folder: Folder) -> None:
    # FAA commercial test: from 6,500 ft to 800 ft above a field at 700 ft, 500 ft/min, TAS 110, course 335,
    # wind 060/15, variation 3W, deviation +2, 8.5 gal/h: 10 min, compass 348, 18 NM, 1.4 gal
    # (10.0, 347.8, 17.95 and 1.417 worked exactly).
    folder.put(
        "commercial.toml",
        'name = "Commercial"\n[cruise]\ntas_kt = 110\nburn_gal_per_h = 8.5\n'
        "[descent]\ntas_kt = 110\nrate_ft_per_min = 500\nburn_gal_per_h = 8.5\n" + TWO_MORE,
    )
    found = folder.fly(
        "station QAA 113.00 decl 3W\nairport XBB N46 00.00 W039 00.00 elev 700ft\ndirect QAA 338 - XBB 40nm\n"
        "date 2026-07-18\noff 15:00Z\naltitude 6500\nvariation 3W\nwind 060/15\nfuel 30gal\npattern 1500ft\n"
        "aircraft commercial.toml\nroute QAA XBB\n"
    )
    cruise, descent = found["legs"]
    assert (descent["phase"], descent["start_altitude_ft"], descent["end_altitude_ft"]) == ("descent", 6500, 1500)
    assert descent["time_min"] == pytest.approx(10.0, abs=1e-6)
    assert descent["distance_nm"] == pytest.approx(17.95, abs=0.005)
    assert descent["compass_heading_deg"] == pytest.approx(347.8, abs=0.05)
    assert descent["fuel_used_gal"] == pytest.approx(1.417, abs=0.0005)
    assert cruise["to"]["kind"] == "top of descent"
    assert cruise["distance_nm"] == pytest.approx(40.0 - 17.95, abs=0.005)


def test_fuel_from_a_radial_and_a_true_wind(folder: Folder) -> None:
    # FAA instrument test, Grand Junction to Durango: radial 151, variation 14E, wind 230 true at 8 kt, TAS 175,
    # 75 NM, with 24:00 to the first fix and 18:30 for the approach at 17.5 gal/h: 20 gal (26.2 min and 20.05
    # gal worked exactly). The 42.5 min are flown here as a hold at the end.
    found = folder.fly(
        "station QGJ 116.40 decl 14E\nstation QDR 108.20 decl 14E\ndirect QGJ 151 - 331 QDR 75nm\n"
        "date 2026-07-18\noff 15:00Z\naltitude 15000\nvariation 14E\nwind 230/08\ntas 175kt\nburn 17.5gph\n"
        "fuel 60gal\nhold QDR 42.5min\nroute QGJ QDR\n"
    )
    flown = [leg for leg in found["legs"] if leg["phase"] == "cruise"]
    assert {round(leg["wind_correction_deg"], 1) for leg in flown} == {2.4}
    assert {round(leg["groundspeed_kt"], 1) for leg in flown} == {171.5}
    assert sum(leg["time_min"] for leg in flown) == pytest.approx(26.2, abs=0.05)
    assert found["totals"]["time_min"] == pytest.approx(68.7, abs=0.05)
    assert found["totals"]["fuel_gal"] == pytest.approx(20.05, abs=0.005)


def test_arrival_from_two_checkpoints(folder: Folder) -> None:
    # FAA private test: checkpoints 9 NM apart at 1456 and 1501, 50 NM to go: 108 kt, 28 min, arrival at 1529.
    found = folder.fly(
        "station QAA 113.00 decl 5E\nstation QBB 114.00 decl 5E\nstation QCC 115.00 decl 5E\n"
        "direct QAA 090 - 270 QBB 9nm\ndirect QBB 090 - 270 QCC 50nm\n"
        "date 2026-07-18\noff 14:56Z\naltitude 5500\nvariation 5E\nwind calm\ntas 108kt\nroute QAA QBB QCC\n"
    )
    at = {leg["to"]["ident"]: leg["eta"] for leg in found["legs"]}
    assert at["QBB"] == "2026-07-18T15:01:00.000Z"
    assert at["QCC"][11:19] == "15:28:46"
    assert found["totals"]["time_min"] - 5.0 == pytest.approx(27.8, abs=0.05)


def test_six_knots_behind(folder: Folder) -> None:
    # US Navy P-802: 36 NM in 10:00 at TAS 210 is 216 kt, a tailwind of 6 kt.
    found = folder.fly(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndirect QAA 360 - 180 QBB 36nm\n"
        "date 2026-07-18\noff 14:00Z\naltitude 5500\nvariation 0E\nwind 180/6\ntas 210kt\nroute QAA QBB\n"
    )
    assert found["totals"]["time_min"] == pytest.approx(10.0, abs=1e-6)
    assert {leg["groundspeed_kt"] for leg in found["legs"]} == {216.0}


CHAIN = "station QHB 113.70 decl 0E\nstation QEL 110.20 decl 0E\nvariation 0E\ndate 2026-07-18\noff 15:00Z\nwind calm\n"


def test_a_climb_to_a_crossing_altitude_starts_early(folder: Folder) -> None:
    # From 6,000 ft to an MCA of 8,400 ft at 500 ft/min and 110 kt: 4.8 min, so it starts 8.8 NM before.
    folder.put(
        "climber.toml",
        'name = "Climber"\n[climb]\ntas_kt = 110\nrate_ft_per_min = 500\n[cruise]\ntas_kt = 110\nburn_gal_per_h = 8\n',
    )
    found = folder.fly(
        CHAIN + "station QSK 112.40 decl 0E\naircraft climber.toml\naltitude 6000\n"
        "direct QSK 360 - 180 QHB 30nm\nairway V801 QHB 360 - 180 QEL 40nm mea 8000 mca 8400 QHB to QEL\n"
        "route QSK QHB/A084 V801 QEL\n"
    )
    climb = [leg for leg in found["legs"] if leg["phase"] == "climb"]
    before = [leg for leg in found["legs"] if leg["to"]["kind"] == "level change"]
    assert sum(leg["time_min"] for leg in climb) == pytest.approx(4.8, abs=1e-6)
    assert sum(leg["distance_nm"] for leg in climb) == pytest.approx(8.8, abs=1e-6)
    assert climb[-1]["to"]["ident"] == "QHB"
    assert climb[-1]["end_altitude_ft"] == pytest.approx(8400, abs=1e-6)
    assert before[0]["end_altitude_ft"] == 6000
    assert "under-mca" not in {finding["rule"] for finding in found["findings"]}


def test_without_a_crossing_altitude_the_climb_starts_at_the_point(folder: Folder) -> None:
    folder.put(
        "climber.toml", 'name = "Climber"\n[climb]\ntas_kt = 110\nrate_ft_per_min = 500\n[cruise]\ntas_kt = 110\n'
    )
    found = folder.fly(
        CHAIN + "station QSK 112.40 decl 0E\naircraft climber.toml\naltitude 6000\n"
        "direct QSK 360 - 180 QHB 30nm\nairway V801 QHB 360 - 180 QEL 40nm mea 8000\nroute QSK QHB/A084 V801 QEL\n"
    )
    (climb,) = [leg for leg in found["legs"] if leg["phase"] == "climb"]
    assert (climb["from"]["ident"], climb["to"]["kind"]) == ("QHB", "top of climb")
    assert climb["distance_nm"] == pytest.approx(8.8, abs=1e-6)


def test_a_climb_that_spans_a_fix(folder: Folder) -> None:
    # US Navy P-306: a climb of 10 min passes the first fix after 7 min, so 3 min of the second leg are climb:
    # 7 NM, and 26 of its 33 NM are left for cruise. (140 kt, as 7 NM in 3 min; the first leg is 16.33 NM.)
    folder.put(
        "navy.toml",
        'name = "Navy"\n[climb]\ntas_kt = 140\nrate_ft_per_min = 500\nburn_lb_per_h = 300\n'
        "[cruise]\ntas_kt = 180\nburn_lb_per_h = 200\n",
    )
    found = folder.fly(
        CHAIN + "airport XAA N46 00.00 W039 00.00 elev 0ft\naircraft navy.toml\naltitude 5000\nfuel 500lb\n"
        "direct QHB 180 - XAA 16.3333nm\ndirect QHB 360 - 180 QEL 33nm\nroute XAA QHB QEL\n"
    )
    climb = [leg for leg in found["legs"] if leg["phase"] == "climb"]
    cruise = [leg for leg in found["legs"] if leg["phase"] == "cruise"]
    assert climb[0]["to"]["ident"] == "QHB"
    assert climb[0]["time_min"] == pytest.approx(7.0, abs=0.001)
    assert climb[1]["time_min"] == pytest.approx(3.0, abs=0.001)
    assert climb[1]["distance_nm"] == pytest.approx(7.0, abs=0.001)
    assert climb[1]["to"]["kind"] == "top of climb"
    assert sum(leg["distance_nm"] for leg in cruise) == pytest.approx(26.0, abs=0.001)


def headings(found: Json) -> list[float]:
    """The magnetic headings of a flight."""
    return [leg["magnetic_heading_deg"] for leg in found["legs"]]


def test_deviation_goes_by_the_heading_not_by_the_course(folder: Folder) -> None:
    # A card that is right at 090 and 5 off at 110: with a strong wind from the right the heading is about 107
    # on a course of 090, and the deviation is read there.
    folder.put(
        "card.toml",
        'name = "Card"\n[cruise]\ntas_kt = 100\n[compass]\nfor_deg = [90, 110]\nsteer_deg = [90, 105]\n',
    )
    text = CHAIN.replace("wind calm", "wind 180/30") + "altitude 3000\naircraft card.toml\n"
    found = folder.fly(text + "direct QHB 090 - 270 QEL 30nm\nroute QHB QEL\n")
    leg = found["legs"][0]
    assert leg["magnetic_heading_deg"] == pytest.approx(107.458, abs=0.001)  # 90 + asin(30/100)
    assert leg["deviation_deg"] == pytest.approx(5 * 17.458 / 20, abs=0.001)
    assert apart_deg(leg["compass_heading_deg"], 107.458 - 4.364) < 0.001


def test_a_card_is_silent_beyond_its_headings(folder: Folder) -> None:
    folder.put(
        "card.toml",
        'name = "Card"\n[cruise]\ntas_kt = 100\n[compass]\nfor_deg = [180, 270]\nsteer_deg = [182, 271]\n',
    )
    found = folder.fly(CHAIN + "altitude 3000\naircraft card.toml\ndirect QHB 090 - 270 QEL 30nm\nroute QHB QEL\n")
    leg = found["legs"][0]
    assert leg["deviation_deg"] is None
    assert leg["compass_heading_deg"] is None
    assert {"deviation_deg", "compass_heading_deg"} <= {one["key"] for one in leg["unknown"]}
    assert headings(found) == [90.0, 90.0]


def test_pressure_and_density_altitude_make_speed_and_rate(folder: Folder) -> None:
    # FAA-H-8083-25, chapter 10, sample problem 1: 5,883 ft, 30.10 inHg and 70 F are a pressure altitude of
    # 5,718 ft and a density altitude of about 7,700 ft (7,709.5 exactly). The burn of this invented table is
    # 1 and a hundredth of the pressure altitude; TAS is CAS over the root of the density ratio.
    folder.put(
        "table.toml",
        'name = "Table"\n[cruise]\nrows = [\n'
        "  { pressure_altitude_ft = 0, cas_kt = 100, burn_gal_per_h = 1 },\n"
        "  { pressure_altitude_ft = 10000, cas_kt = 100, burn_gal_per_h = 101 },\n]\n",
    )
    found = folder.fly(
        CHAIN + "airport XAA N46 00.00 W039 00.00 elev 5883ft\naircraft table.toml\naltitude 5883\n"
        "altimeter 30.10inHg\ntemperature 70F\ndirect QHB 180 - XAA 30nm\nroute XAA QHB\n"
    )
    (leg,) = found["legs"]
    assert (leg["fuel_used_gal"] / leg["time_min"] * 60 - 1) * 100 == pytest.approx(5718, abs=2)
    density_ratio = (1 - 6.8756e-6 * 7709.5) ** 4.2559
    assert leg["tas_kt"] == pytest.approx(100 / density_ratio**0.5, abs=0.1)
