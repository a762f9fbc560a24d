"""What a word of the route line means among published names, and what is said of the data behind it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DATA, Row
from helpers.published_flights import Flown, leg_to, messages, needles

from navlog.catalogue import import_data


@pytest.mark.parametrize(
    ("route", "kinds"),
    [
        # ALB is a VORTAC, a VOT and an airport; MAZ a VOR/DME, an NDB and an airport.
        ("KALB ALB CAM:vor", ["airport", "station", "station"]),
        ("ALB ALB:vor CAM:vor", ["airport", "station", "station"]),
        ("CAM:vor ALB", ["station", "airport"]),
        ("CAM:vor ALB:vor", ["station", "station"]),
        ("CAM V123 ALB", ["station", "fix", "station"]),
        ("ALB V123 TIMKE", ["station", "fix"]),
    ],
)
def test_context_decides_between_a_station_and_an_airport(fly: Flown, route: str, kinds: list[str]) -> None:
    legs = fly(route, altitude="5000")["legs"]
    found = [legs[0]["from"]["kind"], *(leg["to"]["kind"] for leg in legs if leg["to"]["ident"])]
    assert found == kinds


NAMESAKE: Row = {
    "NAV_ID": "QHB", "CITY": "HARBOUR", "COUNTRY_CODE": "XX", "LAT_DECIMAL": "46.205", "LONG_DECIMAL": "-39.345",
    "MAG_VARN": "15", "MAG_VARN_HEMIS": "W", "FREQ": "113.7",
}  # fmt: skip


@pytest.mark.parametrize("kinds", [("DME",), ("TACAN",), ("NDB",), ("NDB/DME",), ("VOR/DME", "NDB"), ("DME", "VOT")])
def test_at_the_ends_the_airport_counts_whatever_else_has_its_name(
    kinds: tuple[str, ...], tmp_path: Path, nasr_like: Callable[..., Path]
) -> None:
    """Invented; in NASR 2026-05-14 EWR and BUF are a DME and an airport, RIV a TACAN, TRI an NDB."""
    stations = [{**NAMESAKE, "NAV_TYPE": kind, "LAT_DECIMAL": f"46.2{row}"} for row, kind in enumerate(kinds)]
    field = {
        "SITE_TYPE_CODE": "A", "ARPT_ID": "QHB", "ARPT_NAME": "HARBOUR", "COUNTRY_CODE": "XX",
        "LAT_DECIMAL": "46.24", "LONG_DECIMAL": "-39.12", "ELEV": "790", "ARPT_STATUS": "O",
    }  # fmt: skip
    nasr_like("NAV_BASE.csv", *stations)
    import_data(nasr_like("APT_BASE.csv", field), tmp_path / "c.sqlite")
    fly = Flown(tmp_path / "c.sqlite")
    away = fly("QHB 4541N03920W", altitude="5000")["legs"][0]["from"]
    home = fly("4541N03920W QHB", altitude="5000")["legs"][-1]["to"]
    assert [(one["ident"], one["kind"], one["latitude_deg"]) for one in (away, home)] == [("QHB", "airport", 46.24)] * 2
    # Qualified, the other thing is meant all the same.
    word = {"VOR/DME": "vor", "NDB/DME": "ndb"}.get(kinds[0], kinds[0].lower())
    assert fly(f"QHB:{word} 4541N03920W", altitude="5000")["legs"][0]["from"]["kind"] == "station"


def test_where_an_airway_adjoins_an_end_is_its_point(fly: Flown) -> None:
    """ALB is an airport, a VORTAC and a VOT (NAV_BASE and APT_BASE, 2026-05-14); V123 begins at the VORTAC."""
    assert fly("ALB V123 CAM", altitude="5000")["legs"][0]["from"]["kind"] == "station"
    assert fly("ALB CAM:vor", altitude="5000")["legs"][0]["from"]["kind"] == "airport"


@pytest.mark.parametrize(
    ("route", "alternate", "kind"),
    [
        ("ACY ALB:vor CAM:vor ACY", "alternate ALB via KBDU", "station"),
        ("CAM V123 ALB", "alternate KBDU", "station"),
        ("ALB:vor CAM:vor ALB", "alternate KBDU", "airport"),
    ],
)
def test_the_way_to_an_alternate_begins_at_what_the_route_passes(
    fly: Flown, route: str, alternate: str, kind: str
) -> None:
    """ALB is a VORTAC and an airport (NAV_BASE and APT_BASE, 2026-05-14)."""
    (way,) = fly(route, alternate, altitude="5000")["alternates"]
    assert way["legs"][0]["from"]["kind"] == kind


@pytest.mark.parametrize(
    ("word", "latitude_deg"),
    [("MAZ:vor", 18.2564), ("MAZ:ndb", 18.2546), ("MAZ:airport", 18.2557), ("AA:4701N09649W", 47.0090)],
)
def test_a_qualifier_says_which(fly: Flown, word: str, latitude_deg: float) -> None:
    """Positions of NAV_BASE and APT_BASE 2026-05-14, to a hundredth of a minute."""
    found = fly(f"{word} 46N080W")
    assert found["legs"][0]["from"]["latitude_deg"] == pytest.approx(latitude_deg, abs=0.001)


def test_what_is_still_two_things_lists_them_with_place_and_distance(fly: Flown) -> None:
    problem = fly.problem("FAR:vor AA")
    assert problem["code"] == "ambiguous-name"
    # KENIE at N47 00.54 W096 48.91 and CEDAR at N33 32.00 W082 36.86 (NAV_BASE); FAR is FARGO.
    assert "`AA` NDB KENIE at N47 00.54 W096 48.91 (15 NM from FAR)" in problem["message"]
    assert "`AA` NDB CEDAR at N33 32.00 W082 36.86" in problem["message"]
    assert problem["hint"] == "write `AA:4701N09649W` or `AA:3332N08237W`"


@pytest.mark.parametrize(
    ("word", "qualified", "said"),
    [("38FD", "38FD:airport", "heliport"), ("00A", "00A:airport", "heliport")],
)
def test_a_heliport_counts_only_when_qualified(fly: Flown, word: str, qualified: str, said: str) -> None:
    problem = fly.problem(f"ACY {word}")
    assert (problem["code"], said in problem["message"]) == ("not-qualified", True)
    assert problem["hint"].endswith(f"write `{qualified}`")
    assert fly(f"ACY {qualified}")["legs"][-1]["to"]["kind"] == "airport"


def test_test_stations_and_markers_count_only_when_qualified(
    fly: Flown, tmp_path: Path, nasr_like: Callable[..., Path]
) -> None:
    """A VOT beside a VOR of its name is passed over; alone it must be qualified."""
    assert leg_to(fly("CAM:vor ALB:vor"), "ALB")["guidance"]["ident"] == "ALB"
    common = {"CITY": "A", "COUNTRY_CODE": "XX", "LONG_DECIMAL": "-39.0", "MAG_VARN": "0", "MAG_VARN_HEMIS": "E"}
    rows: list[Row] = [
        {**common, "NAV_ID": "QAA", "NAV_TYPE": "VOT", "LAT_DECIMAL": "46.0", "FREQ": "108"},
        {**common, "NAV_ID": "QMM", "NAV_TYPE": "FAN MARKER", "LAT_DECIMAL": "46.2"},
        {**common, "NAV_ID": "QBB", "NAV_TYPE": "VOR", "LAT_DECIMAL": "46.5", "FREQ": "113.7"},
    ]
    import_data(nasr_like("NAV_BASE.csv", *rows), tmp_path / "c.sqlite")
    alone = Flown(tmp_path / "c.sqlite")
    assert alone.problem("QBB QAA")["hint"].endswith("write `QAA:vot`")
    assert alone.problem("QBB QMM")["hint"].endswith("write `QMM:marker`")
    assert alone("QBB QMM:marker")["legs"][-1]["to"]["ident"] == "QMM"


def test_an_unknown_name_is_answered_with_the_nearest_spelt_alike(fly: Flown) -> None:
    """GLK beside Boulder: GLL is 42 NM away."""
    problem = fly.problem("KBDU GLK LIBEL")
    assert (problem["code"], problem["column"]) == ("unknown-name", 12)
    assert problem["hint"].startswith("did you mean `GLL` VOR/DME GILL at N40 30.23 W104 33.18 (42 NM from KBDU)")
    assert fly.problem("LIBLE KBDU")["hint"].startswith("did you mean `LIBEL` fix at N40 30.74 W105 06.17 (29 NM")


@pytest.mark.parametrize("word", ["KDEN", "DEN"])
def test_airports_answer_to_faa_and_icao_identifiers(fly: Flown, word: str) -> None:
    last = fly(f"GLL:vor {word}")["legs"][-1]["to"]
    assert (last["ident"], last["kind"]) == (word, "airport")
    assert last["latitude_deg"] == pytest.approx(39.8617, abs=0.0001)


def test_the_files_own_station_counts_and_what_differs_is_said(fly: Flown) -> None:
    """NAV_BASE: GLL on 114.2 at N40 30.23 W104 33.18, 13E."""
    own = "station GLL 114.25 N40 30.23 W104 33.00 decl 11E"
    found = fly("GLL V101 LIBEL", own, altitude="10000")
    assert found["legs"][0]["guidance"]["frequency_mhz"] == 114.25
    assert messages(found, "differs-from-published") == [
        "GLL is at N40 30.23 W104 33.00 in the file and 0.1 NM away, at N40 30.23 W104 33.18, as published",
        "GLL is on 114.25 in the file and 114.20 as published",
        "GLL has a declination of 11E in the file and 13E as published",
    ]
    same = "station GLL 114.20 N40 30.23 W104 33.18 decl 13E"
    assert messages(fly("GLL V101 LIBEL", same, altitude="10000"), "differs-from-published") == []


def test_the_files_own_airway_counts_before_the_published_one(fly: Flown) -> None:
    found = fly("GLL V101 LIBEL", "airway V101 GLL 258 - LIBEL 25.2nm mea 11000", altitude="11000")
    assert needles(found) == ["GLL 258.0 FROM"]
    assert found["legs"][0]["minimum_altitude_ft"] == 11000


def test_an_airway_of_the_file_is_held_against_the_published_one(fly: Flown) -> None:
    """AWY_SEG_ALT, V101 GLL to LIBEL: MEA 10000, MOCA 8900; MCA 13500 W BND at LIBEL, where 16000 begins."""
    first, then = "airway V101 GLL 258 - LIBEL 25.2nm", "- RIDJE 24.5nm"
    found = fly("GLL V101 LIBEL", f"{first} mea 9000/10000 moca 8000 {then} mea 16000", altitude="18000")
    assert messages(found, "differs-from-published") == [
        "V101 GLL to LIBEL has MEA 9000 in the file and 10000 as published",
        "V101 GLL to LIBEL has MOCA 8000 in the file and 8900 as published",
        "V101 LIBEL to RIDJE has no MCA in the file and 13500 as published",
    ]
    same = f"{first} mea 10000 moca 8900 maa 17500 {then} mea 16000 mca 13500 LIBEL to RIDJE"
    assert messages(fly("GLL V101 LIBEL", same, altitude="18000"), "differs-from-published") == []
    # Backwards it is the same; a point that the file leaves out is passed at the highest MEA of the two.
    back = "airway V101 RIDJE - 258 GLL 49.7nm mea 10000/16000"
    assert messages(fly("GLL V101 RIDJE", back, altitude="18000"), "differs-from-published") == [
        "V101 RIDJE to GLL has MEA 10000 in the file and 16000 as published"
    ]


@pytest.mark.parametrize(
    ("stated", "altitude", "rule", "told"),
    [
        ("mea 9000", "9500", "under-mea", "9500 ft is below the MEA of 10000 ft as published on V101"),
        ("", "9500", "under-mea", "9500 ft is below the MEA of 10000 ft as published on V101"),
        ("mea 9000", "10000", "under-mea", None),
        ("mea 10000", "9500", "under-mea", "9500 ft is below the MEA of 10000 ft on V101"),
        ("mea 11000", "10500", "under-mea", "10500 ft is below the MEA of 11000 ft on V101"),
        # No MOCA of the file's own allows what the published one does not.
        ("mea 8500 moca 8000", "8500", "under-mea", "8500 ft is below the MEA of 10000 ft as published on V101"),
        ("mea 9000 moca 8900", "9000", "moca-range",
         "9000 ft is below the MEA of 10000 ft as published, 3.2 NM of it farther than 22 NM from the VOR"),
    ],
)  # fmt: skip
def test_under_ifr_the_published_minimums_bind_whatever_the_file_states(
    fly: Flown, stated: str, altitude: str, rule: str, told: str | None
) -> None:
    """AWY_SEG_ALT, V101 GLL to LIBEL: MEA 10000, MOCA 8900. LIBEL is 25.2 NM from GLL; 91.177(a)(1) has 22."""
    own = f"airway V101 GLL 258 - LIBEL 25.2nm {stated}".strip()
    found = fly("GLL V101 LIBEL", own, "rules ifr", altitude=altitude)
    assert messages(found, rule) == ([] if told is None else [told])
    visual = fly("GLL V101 LIBEL", own, altitude="9500")
    assert not any("as published on V101" in one["message"] for one in visual["findings"])
    assert "error" not in {one["severity"] for one in visual["findings"] if one["rule"] == rule}


def test_of_the_published_minimums_between_two_points_of_the_file_the_highest_binds(fly: Flown) -> None:
    """AWY_SEG_ALT, V101: MEA 10000 from GLL to LIBEL, 16000 from there to RIDJE."""
    found = fly("GLL V101 RIDJE", "airway V101 GLL 258 - RIDJE 49.7nm mea 9000", "rules ifr", altitude="15000")
    assert messages(found, "under-mea") == ["15000 ft is below the MEA of 16000 ft as published on V101"]


def test_on_the_way_to_an_alternate_the_published_minimums_bind_too(fly: Flown) -> None:
    own = ("airway V101 GLL 258 - LIBEL 25.2nm mea 9000", "rules ifr", "alternate LIBEL via V101 GLL KBDU")
    found = fly("GLL LIBEL", *own, altitude="9500")
    told = [one for one in found["findings"] if one["rule"] == "under-mea"]
    assert [(one["message"], one["severity"], one["alternate"]["number"]) for one in told] == [
        ("alternate KBDU leg 1: 9500 ft is below the MEA of 10000 ft as published on V101", "error", 1)
    ]


@pytest.mark.parametrize(
    ("stated", "ours"), [("cop 60 GLL", "60.0 NM from GLL"), ("", "not stated"), ("cop 71 GLL", None)]
)
def test_a_changeover_point_of_the_file_is_held_against_the_published_one(
    fly: Flown, stated: str, ours: str | None
) -> None:
    """AWY_SEG_ALT, V101 GLL to CHE: the changeover point is 71 NM from GLL; MCA 11500 E BND at CHE."""
    found = fly(
        "GLL V101 CHE",
        f"airway V101 GLL 258 - CHE 135nm mea 16000 mca 11500 CHE to GLL {stated}".strip(),
        altitude="18000",
    )
    said = f"V101 GLL to CHE: the changeover point is {ours} in the file and 71.0 NM from GLL as published"
    assert messages(found, "differs-from-published") == ([] if ours is None else [said])


def test_an_elevation_of_the_file_is_held_against_the_published_one(fly: Flown) -> None:
    """OurAirports: KBDU lies at 5288 ft."""
    for elevation, told in (("528ft", True), ("5280ft", False)):
        found = fly("KBDU GLL", f"airport KBDU N40 02.36 W105 13.55 elev {elevation}", altitude="12000")
        assert (
            any("KBDU lies at 528 ft in the file" in one for one in messages(found, "differs-from-published")) is told
        )


def test_a_station_out_of_service_keeps_its_place_and_guides_nothing(fly: Flown) -> None:
    found = fly("KBDU GLL V101 LIBEL", "unavailable GLL", altitude="11000")
    assert leg_to(found, "GLL")["guidance"] is None
    assert messages(found, "station-out")[0] == "KBDU to GLL relies on GLL, which is out of service"
    assert fly.problem("KBDU GLL V101 LIBEL", "unavailable GLX")["code"] == "unknown-name"


def test_a_day_outside_the_cycle_is_a_finding(fly: Flown) -> None:
    """AIRAC 2605: 2026-05-14 to 2026-06-10, both included."""
    for day, outside in (("2026-05-14", False), ("2026-06-10", False), ("2026-06-11", True), ("2026-05-13", True)):
        found = fly("GLL V101 LIBEL", f"date {day}", altitude="11000")
        assert (messages(found, "data-out-of-date") != []) is outside
    assert messages(fly("GLL V101 LIBEL", "date 2026-06-11"), "data-out-of-date") == [
        "NASR 2605 holds from 2026-05-14 until 2026-06-11, and the flight is on 2026-06-11"
    ]


def test_the_cycle_is_on_the_log(fly: Flown) -> None:
    assert "NASR cycle 2605, 2026-05-14, expires 2026-06-11" in fly.sheet("GLL V101 LIBEL")
    (source,) = fly("GLL V101 LIBEL")["catalogue"]
    assert (source["source"], source["cycle"]) == ("nasr", "2605")


def test_figures_of_an_unverified_source_are_marked(tmp_path: Path) -> None:
    path = tmp_path / "c.sqlite"
    import_data(DATA / "ourairports", path)
    alone = Flown(path)
    route = "GLL 41N106W"
    assert messages(alone(route), "unverified-source") == ["GLL is from ourairports, which is not verified"]
    sheet = alone.sheet(route)
    assert "* UNVERIFIED, from a source that does not vouch for it: GLL" in sheet
    assert "GLL* 114.20" in sheet


def test_of_two_cycles_the_one_in_force_on_the_day_counts(
    tmp_path: Path, nasr: Path, nasr_like: Callable[..., Path]
) -> None:
    """An invented later cycle in which GLL has another frequency."""
    path = tmp_path / "c.sqlite"
    import_data(nasr, path)
    later = {
        "NAV_ID": "GLL", "NAV_TYPE": "VOR/DME", "CITY": "GILL", "STATE_CODE": "CO", "COUNTRY_CODE": "US",
        "LAT_DECIMAL": "40.50389", "LONG_DECIMAL": "-104.553", "MAG_VARN": "8", "MAG_VARN_HEMIS": "E", "FREQ": "115.9",
    }  # fmt: skip
    import_data(nasr_like("NAV_BASE.csv", later, effective="2026/06/11"), path)
    flown = Flown(path)
    for day, mhz, declination_deg in (("2026-05-20", 114.2, 13.0), ("2026-06-20", 115.9, 8.0)):
        guidance = flown("GLL V101 LIBEL", f"date {day}")["legs"][0]["guidance"]
        assert (guidance["frequency_mhz"], guidance["declination_deg"]) == (mhz, declination_deg)
    # The airways of the earlier cycle are used after it has expired, and that is said.
    assert messages(flown("GLL V101 LIBEL", "date 2026-06-20"), "data-out-of-date") != []


def test_a_fix_placed_by_its_make_up_is_said(fly: Flown) -> None:
    """BEEEG has no position in FIX_BASE; FIX_NAV makes it SBY TACAN R-139.42, 9.55 NM."""
    (message,) = messages(fly("ACY:vor BEEEG"), "fix-computed")
    assert message.startswith("BEEEG has no published position")
    assert "SBY" in message
