"""Where a doubt stands in the file, what a stated day keeps, and a minimum under the ground."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta

import pytest
from astral import Observer
from astral.sun import sunrise, sunset
from helpers.judged import found, judged, judged_text, lines, of

from navlog.rules.samples import FILES, FLOWN_BY_FILE, SampleCatalogue, sample


def test_a_doubt_about_the_taxi_stands_where_taxi_is_written() -> None:
    # `taxi` is the 15th statement of the base flight; 10 gal are more than the 8.5 of an hour.
    text = sample("taxi 10gal 95min")
    line = text.splitlines().index("taxi 10gal 95min") + 1
    assert lines("value-doubtful", judged("taxi 10gal 95min")) == [
        f"warning flight {line}:1 95 minutes are long for taxiing",
        f"warning flight {line}:1 10 gal for taxiing is more than an hour of cruise takes",
    ]


def test_a_landing_by_night_of_a_flight_by_day_says_which_reserve_it_plans() -> None:
    # 14 CFR 91.151(a): 30 minutes by day, 45 at night.
    (told,) = found("dark-arrival", "rules vfr day", "off 23:30Z")
    assert told.endswith(": this landing asks for a reserve of 45 min, and `rules vfr day` states 30")


def test_a_minimum_is_held_against_the_higher_end_whichever_it_is() -> None:
    # QHB lies at 820 ft, QEL at 410.
    for route in ("route XHAR QHB V801 QEL XOLD", "route XOLD QEL V801 QHB XHAR"):
        told = found("limit-doubtful", "airway V801 QHB 212 - 034 QEL 29.5nm mea 800", route)
        assert len(told) == 1
        assert told[0].endswith("is below QHB, elevation 820 ft")
        assert found("limit-doubtful", "airway V801 QHB 212 - 034 QEL 29.5nm mea 1770", route) == []


def test_a_level_that_a_stretch_only_climbs_to_is_told_where_it_is_flown() -> None:
    # From 790 ft 4,710 ft at 500 ft/min take 9.4 minutes, and the 9.6 NM to QHB are over before. Both courses are
    # westerly, 272 and 212 magnetic: even thousands and 500 (14 CFR 91.159(a)(2)), so 5,500 is wrong and 6,500 is not.
    climber = ("aircraft climber.toml", "-tas", "-burn")
    route = "route XHAR QHB/A065 V801 QEL XOLD"
    assert found("cruising-level", *climber, "altitude 5500", route) == []
    assert found("cruising-level", *climber, "altitude 5500", "route XHAR QHB V801 QEL XOLD") != []


STOP = ("-direct QEL", "airway V801 QHB 212 - 034 QEL 29.5nm")


@pytest.mark.parametrize(("gal", "told"), [(50, False), (102, False), (103, True)])
def test_fuel_taken_at_a_stop_lasts_twelve_hours_at_most(gal: int, *, told: bool) -> None:
    # 12 hours at 8.5 gal/h are 102 gal.
    assert bool(found("endurance-doubtful", f"route XHAR QHB XOLD land 20min fuel {gal}gal QEL", *STOP)) is told


def test_without_a_stated_burn_it_is_the_burn_of_the_file() -> None:
    # 8.5 gal/h in the cruise: 119 gal less one for taxi are 13.88 hours.
    (told,) = found("endurance-doubtful", *FLOWN_BY_FILE, "fuel 119gal")
    assert told == "warning: 119 gal of fuel, less taxi, last 13:52 at the burn by file"


def test_a_place_without_an_elevation_does_not_hide_a_low_one() -> None:
    marsh = ("fix MARSH N46 04.00 W039 24.23", "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000")
    low = "airport XOLD N45 41.00 W039 20.00 elev -350ft"
    told = found("elevation-doubtful", *marsh, low, "route MARSH V801 QEL XOLD", "-airport XHAR", "-direct QHB")
    assert [one.partition(" is ")[0] for one in told] == ["warning: XOLD at -350 ft"]


def test_stations_of_a_bulletin_without_a_place_are_counted() -> None:
    files = {**FILES, "two.txt": FILES["winds.txt"] + "QYY 2312 2418+04 2520-01\nQZZ 2312 2418+04 2520-01\n"}
    told = of("bulletin-stations", judged_text(sample("-wind", "winds two.txt"), SampleCatalogue(), files=files))
    assert told == ["note: 2 stations of two.txt have no known position; the winds are those of QEL, QHB"]


@pytest.mark.parametrize("off", ["01:30Z", "04:30Z"])
def test_how_long_after_sunset_or_before_sunrise_is_told_in_minutes(off: str) -> None:
    """Sunset and sunrise of astral at XOLD; the flight takes 29 minutes. A minute is rounding and the sun's own."""
    place, day = Observer(45.0 + 41.0 / 60.0, -39.0 - 20.0 / 60.0), date(2026, 7, 18)
    landing = datetime(2026, 7, 18, int(off[:2]), int(off[3:5]), tzinfo=UTC) + timedelta(minutes=29)
    since = landing - sunset(place, day - timedelta(days=1), tzinfo=UTC)
    until = sunrise(place, day, tzinfo=UTC) - landing
    told = next(one for one in found("after-sunset", f"off {off}", "rules vfr") if "XOLD at" in one)
    match = re.search(r"is (\d+) min (after sunset|before sunrise)", told)
    assert match is not None
    assert match[2] == ("after sunset" if since < until else "before sunrise")
    assert int(match[1]) == pytest.approx(min(since, until).total_seconds() / 60.0, abs=1.6)
