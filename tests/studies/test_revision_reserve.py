"""Whether the reserve still holds in flight, and the fields within reach where it does not."""

from __future__ import annotations

import math
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from astral import Observer
from astral.sun import dawn, dusk
from geographiclib.geodesic import Geodesic
from helpers.flown import EXAMPLES, apart_deg, changed, navlog
from helpers.revised import MERIDIAN, revised

ROUND_ROBIN = (EXAMPLES / "round_robin.route").read_text("utf-8")
LATE = ("--at", "QHB", "15:17", "--at", "cop", "15:25")
NM = 1852.0
XOLD = "airport XOLD N45 41.00 W039 20.00 elev 350ft"
NASR = Path(__file__).parents[1] / "data" / "nasr"


def read(fuel_gal: float, used_gal: float = 3.2) -> tuple[str, ...]:
    """A reading that is the plan's, of tanks filled with as much more as is used by then, so no burn above it."""
    return ("--set", f"fuel {fuel_gal + used_gal:g}gal", "--fuel", f"{fuel_gal:.4f}gal")


@pytest.mark.parametrize(("fuel", "status"), [(20.0, 0), (9.0, 1)])
def test_the_exit_status_says_whether_the_reserve_holds(fuel: float, status: int) -> None:
    got, found = revised(ROUND_ROBIN, *LATE, *read(fuel))
    assert got == status
    assert found["reserve_holds"] == (status == 0)
    assert found["reserve"] == pytest.approx(8.5 / 2.0)
    assert (found["remaining"] >= found["reserve"]) == (status == 0)
    assert bool(found["fields"]) == (status == 1)


def test_the_reserve_is_lost_a_hair_below_it_and_not_above() -> None:
    _, found = revised(ROUND_ROBIN, *LATE, *read(20.0))
    just = 20.0 - found["remaining"] + found["reserve"]
    assert revised(ROUND_ROBIN, *LATE, *read(just + 0.001))[0] == 0
    assert revised(ROUND_ROBIN, *LATE, *read(just - 0.001))[0] == 1


def test_the_alternate_is_kept_too() -> None:
    text = changed(XOLD, "alternate XHAR")
    _, found = revised(text, "--at", "QHB", "15:16", *read(20.0, 2.5))
    used, kept = 20.0 - found["remaining"], found["reserve"]
    alone = read(used + kept + 0.5, 2.5)
    assert revised(changed(), "--at", "QHB", "15:16", *alone)[0] == 0
    assert revised(text, "--at", "QHB", "15:16", *alone)[0] == 1


@pytest.mark.parametrize(("fuel", "holds"), [("5gal", True), ("4.5gal", False)])
def test_an_alternate_is_told_by_the_clock_and_fuel_of_now(fuel: str, holds: bool) -> None:
    # By the WGS84 meridian QBB to XDD is 11.004 NM: at 120 kt 5.50 min and 0.734 gal. The reserve is 4 gal (30 min),
    # so 4.5 gal at QBB break it at XDD and at XCC, 20 NM on. XAA is behind, its alternate no longer told.
    status, found = revised(MERIDIAN, "--at", "QBB", "15:10", "--fuel", fuel)
    assert status == 1  # 1.33 gal to XCC
    (one,) = found["alternates"]
    assert (one["from"], one["to"], one["off"]) == ("QBB", "XDD", "2026-07-18T15:10:00.000Z")
    assert one["eta"].startswith("2026-07-18T15:15:3")
    assert one["fuel_remaining"] == pytest.approx(float(fuel[:-3]) - 0.734, abs=0.002)
    assert one["reserve_holds"] is holds
    text = navlog("revise", "-", "--at", "QBB", "15:10", "--fuel", fuel, typed=MERIDIAN).out
    state = "the reserve holds" if holds else "THE RESERVE IS LOST"
    left = "4.2" if holds else "3.7"
    assert f"alternate XDD from QBB 15:10Z: at 15:16Z, left {left} gal, {state}" in " ".join(text.split())


NIGHTFALL, DAYBREAK = (
    event(Observer(46.4, -39.0), date(2026, 7, 18), depression=6.0, tzinfo=UTC) for event in (dusk, dawn)
)
"""Half-way between the fields, by astral; the others' differ by 2 minutes at the most."""


@pytest.mark.parametrize(
    ("twilight", "fuel", "kept"),
    [
        # At 60 kt QBB to XDD are 11.0 min and 1.47 gal, to XCC 20.0 min and 2.67 gal; the reserve is 4 gal by day and 6
        # by night. XDD is reached 4 minutes before the end of twilight with 4.53 gal left, XCC 5 after it with 3.33.
        (NIGHTFALL, 6.0, True),
        (NIGHTFALL, 5.4, False),
        # In the morning XDD is reached by night with 5.13 gal left, XCC by day with 3.93.
        (DAYBREAK, 6.6, False),
    ],
)
def test_a_field_within_reach_keeps_the_reserve_of_its_own_light(twilight: datetime, fuel: float, kept: bool) -> None:
    text = MERIDIAN.replace("vfr day", "vfr").replace("tas 120kt", "tas 60kt").partition("alternate")[0]
    here = (twilight - timedelta(minutes=15)).replace(second=0)
    off = here - timedelta(minutes=20)
    text = text.replace("date 2026-07-18\noff 15:00Z", f"date {off:%Y-%m-%d}\noff {off:%H:%M}Z")
    status, found = revised(text, "--at", "QBB", f"{here:%H:%M}", *read(fuel, 2.7))
    assert (status, found["reserve_min"]) == (1, 45 if twilight == NIGHTFALL else 30)
    fields = {one["ident"]: one for one in found["fields"]}
    assert fields["XDD"]["fuel_left"] == pytest.approx(fuel - 1.467, abs=0.002)
    assert {ident: one["reserve_kept"] for ident, one in fields.items()} == {"XDD": kept, "XCC": False, "XAA": False}


def test_every_landing_ahead_is_tested() -> None:
    text = (EXAMPLES / "landing.route").read_text("utf-8")
    status, found = revised(text, "--at", "QHB", "09:37", "--fuel", "4gal")
    assert status == 1
    # Tanks are filled at Tarn Moor, so the destination itself is safe.
    assert found["remaining"] > found["reserve"]
    assert "lost" in navlog("revise", "-", "--at", "QHB", "09:37", "--fuel", "4gal", typed=text).out.lower()


def test_a_field_is_where_it_is_and_as_far_as_the_wind_makes_it() -> None:
    _, found = revised(ROUND_ROBIN.replace("date ", f"{XOLD}\ndate "), *LATE, *read(9.0))
    assert {field["ident"] for field in found["fields"]} == {"XHAR", "XOLD"}
    here, wind = found["at"]["point"], found["wind"]["found"]
    places = {"XHAR": (46.0 + 14.5 / 60.0, -39.0 - 7.2 / 60.0), "XOLD": (45.0 + 41.0 / 60.0, -39.0 - 20.0 / 60.0)}
    for field in found["fields"]:
        line = Geodesic.WGS84.Inverse(here["latitude_deg"], here["longitude_deg"], *places[field["ident"]])
        assert field["distance_nm"] == pytest.approx(line["s12"] / NM, abs=0.001)
        assert apart_deg(field["true_course_deg"], line["azi1"]) < 0.3
        angle = math.radians(wind["from_true_deg"] - field["true_course_deg"])
        across = wind["speed_kt"] * math.sin(angle)
        groundspeed = math.sqrt(110.0**2 - across**2) - wind["speed_kt"] * math.cos(angle)
        assert field["groundspeed_kt"] == pytest.approx(groundspeed, abs=0.2)
        assert field["time_min"] == pytest.approx(field["distance_nm"] / groundspeed * 60.0, abs=0.05)
        assert field["fuel_left"] == pytest.approx(9.0 - field["time_min"] / 60.0 * 8.5, abs=1e-6)
        assert field["reserve_kept"] == (field["fuel_left"] >= 4.25)
        drift = math.degrees(math.asin(across / 110.0))
        # The model's variation here is 12.6 degrees west on that day.
        assert apart_deg(field["magnetic_heading_deg"], field["true_course_deg"] + drift + 12.6) < 0.3


def test_a_field_is_named_by_the_radial_and_distance_of_the_nearest_station() -> None:
    _, found = revised(ROUND_ROBIN, *LATE, *read(9.0))
    (field,) = found["fields"]
    # XHAR lies on the 092 radial of QHB at 9.6 NM by the chart, 091.7 and 9.63 by position (declination 15 W).
    line = Geodesic.WGS84.Inverse(46.205, -39.345, 46.0 + 14.5 / 60.0, -39.0 - 7.2 / 60.0)
    assert field["station"] == "QHB"
    assert field["radial_deg"] == pytest.approx(line["azi1"] + 15.0)
    assert field["station_nm"] == pytest.approx(line["s12"] / NM)


def test_a_field_beyond_the_fuel_is_not_within_reach() -> None:
    _, found = revised(ROUND_ROBIN, *LATE, *read(0.5))
    assert found["fields"] == []
    out = navlog("revise", "-", *LATE, *read(0.5), typed=ROUND_ROBIN).out
    assert "THE FUEL RUNS OUT before" in out
    assert "none is known" in out


def test_fields_that_keep_the_reserve_come_first() -> None:
    text = ROUND_ROBIN.replace("date ", "airport XFAR N45 30.00 W040 20.00\nairport XNEA N46 00.00 W039 30.00\ndate ")
    _, found = revised(text, *LATE, *read(7.0))
    kept = [field["reserve_kept"] for field in found["fields"]]
    assert kept == sorted(kept, reverse=True)
    assert set(kept) == {True, False}


def test_a_station_out_of_service_names_no_field() -> None:
    _, found = revised(ROUND_ROBIN, *LATE, *read(9.0), "--unavailable", "QSK")
    assert found["fields"][0]["station"] == "QHB"


def test_a_wind_that_stops_the_flight_ahead_is_no_reserve() -> None:
    # 40 kt on 168 and 30 kt made good on 257 leave a wind of 131/49: across the next course, 197, it is 45 kt.
    late = ("--at", "QHB", "15:29", "--heading", "QHB", "168T", "--fuel", "30gal")
    text = changed("tas 40kt", "wind calm")
    status, found = revised(text, *late)
    assert found["wind"]["found"]["speed_kt"] == pytest.approx(49.5, abs=1.0)
    assert apart_deg(found["wind"]["found"]["from_true_deg"], 131.0) < 1.5
    assert (status, found["reserve_holds"], found["remaining"]) == (1, False, None)
    assert found["legs"][0]["groundspeed_kt"] is None
    out = navlog("revise", "-", *late, typed=text).out
    assert "THE FLIGHT CANNOT GO ON AS PLANNED: the crosswind of 4" in out


def test_unknown_fuel_leaves_the_reserve_unknown() -> None:
    status, found = revised(changed(without=("fuel", "taxi")), "--at", "QHB", "15:17")
    assert status == 0
    assert found["reserve_holds"] is None
    out = navlog("revise", "-", "--at", "QHB", "15:17", typed=changed(without=("fuel", "taxi"))).out
    assert "whether the reserve holds is not known" in out


def test_at_the_destination_nothing_is_left_to_fly() -> None:
    status, found = revised(ROUND_ROBIN, "--at", "XHAR", "16:12", "--fuel", "20gal")
    assert (status, found["legs"], found["reserve_holds"]) == (0, [], True)
    status, found = revised(ROUND_ROBIN, "--at", "XHAR", "16:12", "--fuel", "3gal")
    assert (status, found["fields"], found["reserve_holds"]) == (1, [], False)


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = str(tmp_path_factory.mktemp("catalogue") / "catalogue.sqlite")
    assert navlog("catalogue", "import", str(NASR), "--catalogue", path).status == 0
    return path


def test_fields_of_the_catalogue_nearby_are_within_reach(catalogue: str) -> None:
    text = "\n".join(
        (
            "airport XHAR N39 20.00 W074 40.00",
            "airport XOLD N41 20.00 W074 00.00",
            "fix QAAAA N39 27.00 W074 34.50",
            "date 2026-05-20",
            "off 15:00Z",
            "altitude 3500",
            "tas 110kt",
            "burn 8.5gph",
            "wind 230/12",
            "fuel 6gal",
            "route XHAR QAAAA XOLD",
        )
    )
    status, found = revised(text, "--at", "QAAAA", "15:06", "--fuel", "6gal", "--catalogue", catalogue)
    assert status == 1
    listed = [field["ident"] for field in found["fields"]]
    # Atlantic City International lies 3 NM from this fix (FAA NASR, APT_BASE).
    assert "KACY" in listed or "ACY" in listed
    assert len(listed) <= 8


LONG = MERIDIAN.replace("off 15:00Z", "off 14:00Z").replace("tas 120kt", "tas 30kt").partition("alternate")[0]
"""At 30 kt XAA to QBB and on to XCC are 20.008 NM each by the WGS84 meridian: 40.0 min and 5.34 gal at 8 gal/h."""


@pytest.mark.parametrize(
    ("read", "status", "times", "remaining"),
    [
        # 5.34 gal planned, 14.66 left. 8.5 used are 1.59 times that: 8.5 more leave 3.0 of a reserve of 4 x 1.59.
        ("11.5gal", 1, 1.593, 3.0),
        # 7 used are 1.31 times it: 6.0 left, 5.25 to keep.
        ("13gal", 0, 1.312, 6.0),
        # 1 gal under the plan is within what a gauge tells.
        ("13.7gal", 0, None, None),
    ],
)
def test_a_measured_burn_far_above_the_planned_one_is_counted_ahead(
    read: str, status: int, times: float | None, remaining: float | None
) -> None:
    got, found = revised(LONG, "--at", "QBB", "14:40", "--fuel", read)
    assert got == status
    assert found["reserve_holds"] == (status == 0)
    # By the planned burn it would hold in each.
    assert found["remaining"] - found["reserve"] > 1.0
    measured = found["measured"]
    if times is None:
        assert measured is None
        return
    assert measured["times_planned"] == pytest.approx(times, abs=0.002)
    assert measured["burn_per_h"] == pytest.approx((20.0 - float(read[:-3])) / (40.0 / 60.0))
    assert measured["remaining"] == pytest.approx(remaining, abs=0.01)
    assert measured["reserve"] == pytest.approx(4.0 * times, abs=0.01)
    assert measured["reserve_holds"] == (status == 0)


def test_the_burn_and_the_compass_card_of_an_aircraft_file_count(tmp_path: Path) -> None:
    # As above: 8.5 gal used where 5.34 are planned, so 8.5 more leave 3.0 of a reserve of 4 x 1.59.
    aircraft = tmp_path / "slow.toml"
    card = "[compass]\nfor_deg = [0, 90, 180, 270]\nsteer_deg = [3, 93, 183, 273]\n"
    aircraft.write_text(f'name = "Slow"\n[cruise]\ntas_kt = 30\nburn_gal_per_h = 8\n{card}')
    text = LONG.replace("tas 30kt\nburn 8gph\n", f"aircraft {aircraft}\n")
    assert text != LONG
    status, found = revised(text, "--at", "QBB", "14:40", "--fuel", "11.5gal")
    assert (status, found["remaining"]) == (1, pytest.approx(11.5 - 5.336, abs=0.01))
    measured = found["measured"]
    assert measured["times_planned"] == pytest.approx(1.593, abs=0.002)
    assert measured["remaining"] == pytest.approx(3.0, abs=0.01)
    assert measured["reserve"] == pytest.approx(4.0 * 1.593, abs=0.01)
    # The card asks for 3 degrees more on every heading.
    steered = [(one["compass_heading_deg"] - one["magnetic_heading_deg"]) % 360.0 for one in found["fields"]]
    assert steered == pytest.approx([3.0] * 3)


def test_at_a_stop_by_day_the_reserve_of_the_day_is_enough() -> None:
    # 30 min at 6 gal/h are 3 gal; by night it would be 4.5. At Tarn Moor the tanks are filled again.
    text, late = (EXAMPLES / "landing.route").read_text("utf-8"), ("--at", "QHB", "09:37")
    (landing, *_) = revised(text, *late)[1]["legs"]
    for left, status in ((3.1, 0), (2.9, 1)):
        less = f"fuel      {14 - landing['fuel_remaining_gal'] + left:.3f}gal"
        assert revised(text.replace("fuel      14gal", less), *late)[0] == status


def test_a_reserve_that_is_lost_by_either_burn_is_told_lost_by_both() -> None:
    # 8 gal read less 5.34 are 2.66 of a reserve of 4.
    out = " ".join(navlog("revise", "-", "--at", "QBB", "14:40", "--fuel", "8gal", typed=LONG).out.split())
    _, _, by_plan = out.partition("at the planned burn from now on:")
    assert "THE RESERVE IS LOST: 2.6 gal left at XCC, and the reserve is 4.0 gal" in by_plan


def test_time_lost_is_no_burn_above_the_planned_one() -> None:
    # 40 min late at 8 gal/h are 5.3 gal: 9.3 gal are left as the planned burn has it.
    _, found = revised(LONG, "--at", "QBB", "15:20", "--fuel", "9gal")
    assert found["measured"] is None


def test_the_measured_burn_is_told_before_the_planned_one() -> None:
    out = navlog("revise", "-", "--at", "QBB", "14:40", "--fuel", "11.5gal", typed=LONG).out
    _, _, fuel = out.partition("\nFUEL\n")
    told = " ".join(fuel.split())
    assert "\n  at the planned burn from now on:\n" in fuel
    assert "or the reading is wrong; the table ahead counts the planned burn" in " ".join(out.split())
    assert told.startswith("by the readings 1.6 times the planned burn, 12.8 gal/h so far; should that go on:")
    first, _, second = told.partition("at the planned burn from now on:")
    assert "THE RESERVE IS LOST: 2.9 gal left at XCC" in first
    assert "the reserve of 4.0 gal (30 min, 14 CFR 91.151, day as stated by `rules vfr day`) holds" in second


@pytest.mark.parametrize(
    ("passed", "read", "times", "remaining"),
    [
        # XAA to QBB in 10 of the 10.0 minutes planned, 1.334 gal at 8 gal/h: 12 gal gone are 9.0 times that, and the
        # 20.008 NM on to XCC take 12 more of the 8 left.
        ("15:10", "8gal", 8.996, -4.0),
        # 2.4 gal gone are 1.8 times it, 2.4 more leave 15.2 of a reserve of 7.2.
        ("15:10", "17.6gal", 1.799, 15.2),
        # 5 minutes early: 0.667 gal are planned, 12 gone are 18 times that, and in that wind 5 minutes take 12 more.
        ("15:05", "8gal", 17.99, -4.0),
    ],
)
def test_a_leak_is_counted_ahead_however_short_the_time_flown(
    passed: str, read: str, times: float, remaining: float
) -> None:
    status, found = revised(MERIDIAN.partition("alternate")[0], "--at", "QBB", passed, "--fuel", read)
    assert status == (1 if remaining < 4.0 * times else 0)
    measured = found["measured"]
    assert measured["times_planned"] == pytest.approx(times, rel=0.002)
    assert measured["remaining"] == pytest.approx(remaining, abs=0.06)
    assert measured["burn_per_h"] is None
    assert found["reserve_holds"] is (status == 0)


def test_half_an_hour_tells_a_burn_an_hour_and_29_minutes_do_not() -> None:
    # 6 gal of 20 in 30 min are 12 gal/h.
    told = [navlog("revise", "-", "--at", "QBB", at, "--fuel", "14gal", typed=LONG).out for at in ("14:29", "14:30")]
    assert ["12.0 gal/h" in one for one in told] == [False, True]


def test_a_reading_where_the_plan_has_no_fuel_tells_no_burn() -> None:
    plain = changed(without=("fuel", "taxi"))
    _, found = revised(plain, "--at", "QHB", "15:45", "--fuel", "20gal")
    assert (found["measured"], found["fuel_on_board"]) == (None, 20.0)


def test_the_text_lists_fields_within_reach_under_a_heading_that_says_by_which_burn() -> None:
    """By the plan 3.2 gal are gone there: 9 gal read of 12.2 are the plan's, of 38 nine times its burn."""
    by_plan = navlog("revise", "-", *LATE, *read(9.0), typed=ROUND_ROBIN).out.splitlines()
    assert by_plan.count("FIELDS WITHIN REACH, direct, in that wind") == 1
    leak = navlog("revise", "-", *LATE, "--fuel", "9gal", typed=ROUND_ROBIN).out.splitlines()
    assert leak.count("FIELDS WITHIN REACH, direct, in that wind and at the measured burn") == 1
    held = navlog("revise", "-", *LATE, *read(20.0), typed=ROUND_ROBIN).out
    assert "FIELDS" not in held
