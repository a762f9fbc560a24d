"""Where a doubt stands in the file, what a stated day keeps, and a minimum under the ground."""

from __future__ import annotations

from helpers.judged import found, judged, lines

from navlog.rules.samples import sample


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
    assert told.endswith(": the flight plans a reserve of 30 min, not 45")


def test_a_minimum_is_held_against_the_higher_end_whichever_it_is() -> None:
    # QHB lies at 820 ft, QEL at 410.
    for route in ("route XHAR QHB V801 QEL XOLD", "route XOLD QEL V801 QHB XHAR"):
        told = found("limit-doubtful", "airway V801 QHB 212 - 034 QEL 29.5nm mea 800", route)
        assert len(told) == 1
        assert told[0].endswith("is below QHB, elevation 820 ft")
        assert found("limit-doubtful", "airway V801 QHB 212 - 034 QEL 29.5nm mea 1770", route) == []
