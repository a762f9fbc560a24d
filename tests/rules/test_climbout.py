"""The climb after take-off: where it reaches its minimum, how steeply, and what it does not excuse."""

from __future__ import annotations

from helpers.judged import found, judged, judged_text

from navlog.rules.samples import FILES, FLOWN_BY_FILE, SampleCatalogue, sample

FLIGHT = (
    *FLOWN_BY_FILE,
    "-winds",
    "wind calm",
    "rules ifr",
    "route XHAR QHB V801 QEL",
    "direct QHB - XHAR 9.6nm min 800",
)
"""By the climber of the samples in still air: 500 ft a minute at a calibrated airspeed of 75 kt from 790 ft."""


def airway(mea_ft: int) -> str:
    return f"airway V801 QHB 212 - 034 QEL 29.5nm mea {mea_ft}"


def test_where_how_high_and_after_how_many_minutes() -> None:
    # 6,000 - 790 ft at 500 ft/min are 10.4 min. The standard atmosphere has a density ratio of 0.9036 at the middle
    # height of 3,395 ft, so the true airspeed there is 75 / sqrt(0.9036) = 78.9 kt: 13.7 NM. At 5,900 ft it is 0.8386,
    # 81.9 kt, where 500 ft/min are 366 ft a NM (US Standard Atmosphere 1976).
    (told,) = found("climb-out", *FLIGHT, airway(6000), "altitude 7000")
    assert told == (
        "note: the minimum of 6000 ft is reached 13.7 NM from XHAR, on the way from QHB to QEL, 10 min after"
        " take-off; each NM gains at least 366 ft"
    )


def test_no_word_where_no_climb_is_below_a_minimum_or_the_flight_is_visual() -> None:
    low = (*FLIGHT[:-1], "-direct QHB")
    assert found("climb-out", *low, airway(3000), "altitude 7000") == []
    assert found("climb-out", *FLIGHT, airway(6000), "altitude 7000", "rules vfr") == []
    # Without an aircraft file nothing climbs.
    assert found("climb-out", "rules ifr", airway(4500)) == []


def test_a_minimum_reached_farther_than_25_nm_is_a_warning() -> None:
    # 11,000 - 790 ft at 500 ft/min are 20.4 min at 75 / sqrt(0.836) = 82.0 kt, the speed at 5,895 ft: 27.9 NM.
    (told,) = found("climb-out", *FLIGHT, airway(11000), "altitude 12000")
    assert told.startswith("warning: the minimum of 11000 ft is reached 27.")
    assert (
        "; beyond 25 NM (46 in mountainous areas, and whether this is one is not known); each NM gains at least 3"
        in told
    )
    assert found("under-mea", *FLIGHT, airway(11000), "altitude 12000") == []


def moved(latitude: str, longitude: str) -> list[str]:
    """The flight with its airport, stations and airway beside an airport of the United States, and an MEA of 11,000."""
    degrees_north, degrees_east = int(latitude[1:3]) - 46, int(longitude[1:4]) - 39
    places = (
        ("airport XHAR", 46 + 14.5 / 60, 39 + 7.2 / 60, "elev 790ft"),
        ("station QHB 113.70", 46 + 12.3 / 60, 39 + 20.7 / 60, "decl 0E class L elev 820ft"),
        ("station QEL 110.20", 45 + 44.1 / 60, 39 + 33.0 / 60, "decl 0E class L elev 410ft"),
    )
    there = [f"{name} {lat + degrees_north:.5f} -{lon + degrees_east:.5f} {more}" for name, lat, lon, more in places]
    return [*there, "airway V801 QHB - QEL 29.5nm mea 11000", "altitude 12000"]


def test_from_a_mountainous_area_46_nm_count_and_elsewhere_25() -> None:
    # 14 CFR 95.15 has Denver's west (39 N 106 W, Colorado) in the western mountainous area; Kansas (39 N 97 W) is none.
    assert found("climb-out", *FLIGHT[:-1], "-direct QHB", *moved("N39", "W106"))[0].startswith("note: ")
    (plain,) = found("climb-out", *FLIGHT[:-1], "-direct QHB", *moved("N39", "W097"))
    assert plain.startswith("warning: ")
    assert "; beyond 25 NM; each NM" in plain


def test_a_climb_of_less_than_200_ft_a_mile_is_a_warning() -> None:
    # The way out of XHAR leads 257 true: 75 kt from 080 push with 74.9 of them. At 2,400 ft the true airspeed is
    # 75 / sqrt(0.9317) = 77.7 kt, so 500 ft/min at 152.6 kt are 197 ft a NM.
    blown = (*FLIGHT[:-1], "direct QHB - XHAR 9.6nm min 2500", airway(2500), "wind 080/75", "altitude 5000")
    (told,) = found("climb-out", *blown)
    assert told.startswith("warning: the minimum of 2500 ft is reached")
    assert told.endswith("; a NM of the climb gains only 197 ft, less than 200")


def test_each_take_off_has_its_note_and_level_flight_below_stays_an_error() -> None:
    twice = (*FLIGHT, airway(6000), "altitude 7000", "route XHAR QHB XHAR land QHB V801 QEL")
    first, second = found("climb-out", *twice)
    assert first.startswith("note: the minimum of 800 ft is reached 0.0 NM from XHAR, on the way from XHAR to QHB")
    assert second.startswith("note: the minimum of 6000 ft is reached 13.7 NM from XHAR, on the way from QHB to QEL")
    level = (*FLIGHT[:-1], "-direct QHB", airway(6000), "altitude 4000")
    assert found("climb-out", *level) == []
    assert any(told.startswith("error: 4000 ft is below the MEA of 6000 ft") for told in found("under-mea", *level))


def test_an_mca_that_is_missed_in_the_climb_out_stays_an_error() -> None:
    asked = (*FLIGHT, f"{airway(6000)} mca 6000 QHB to QEL", "altitude 7000")
    (told,) = found("under-mca", *asked)
    assert told.startswith("error: QHB is crossed at ")


def test_an_airport_flown_over_is_no_landing() -> None:
    # At QHB some 4,500 ft are reached; toward an airport that is only flown over the flight goes down to 2,500 ft,
    # where the minimum is 4,000 ft.
    asked = (
        *FLIGHT[:8],
        "airport XMID N45 58.00 W039 27.00 elev 200ft",
        "direct QHB - XHAR 9.6nm min 800",
        "direct QHB - XMID 14.9nm min 4000",
        "direct XMID - QEL 14.9nm min 2000",
        "altitude 4500",
    )
    told = [one for one in judged(*asked, "route XHAR QHB/A025 XMID over QEL") if one.rule == "under-minimum"]
    assert [(one.leg, one.severity.value) for one in told] == [(2, "error"), (3, "error")]
    assert found("under-minimum", *asked, "route XHAR QHB XMID") == []


def test_a_diversion_in_the_air_does_not_take_off() -> None:
    # The way to the alternate begins over XHAR at 3,000 ft and climbs to 7,000 ft, where the minimum is 6,000 ft.
    asked = (
        *FLIGHT[:8],
        "altitude 3000",
        "route QHB XHAR over QEL",
        "direct QHB - XHAR 9.6nm min 2500",
        "direct XHAR - QEL 35.3nm min 2500",
        "direct XHAR - XOLD 34.7nm min 6000",
        "alternate XHAR via XOLD at A070",
    )
    told = [one for one in judged(*asked) if one.alternate is not None]
    assert [one for one in told if one.rule == "climb-out"] == []


TWO_MINIMUMS = (
    *FLOWN_BY_FILE,
    "-winds",
    "wind calm",
    "rules ifr",
    "-direct QHB",
    "route XHAR QHB V801 QEL",
    "fix MARSH N46 04.00 W039 24.23",
)


def rising(before_ft: int, beyond_ft: int) -> str:
    """The airway with one minimum from QHB to MARSH, 18.5 NM from XHAR, and another beyond it."""
    return f"airway V801 QHB 212 - MARSH 8.9nm mea {before_ft} - 034 QEL 20.9nm mea {beyond_ft}"


def told_of_slow(*changed: str) -> dict[str, list[tuple[int | None, str]]]:
    """What is told of the flight with 150 ft a minute in the climb, by rule: the leg, and severity and message."""
    files = {
        **FILES,
        "climber.toml": FILES["climber.toml"].replace("rate_ft_per_min = 500", "rate_ft_per_min = 150", 1),
    }
    told: dict[str, list[tuple[int | None, str]]] = {}
    for one in judged_text(sample(*TWO_MINIMUMS, *changed), SampleCatalogue(), files=files):
        told.setdefault(one.rule, []).append((one.leg, f"{one.severity.value}: {one.message}"))
    return told


def test_a_slow_climb_to_a_point_beyond_which_a_higher_minimum_holds_is_too_low_for_both() -> None:
    # 150 ft/min at 75 / sqrt(0.947) = 77.1 kt, the speed at 1,860 ft, are 117 ft a NM: MARSH at 790 + 18.5 x 117 =
    # 2,950 ft. 14 CFR 91.177(b): the climb to 5,000 ft begins there, out of 4,000 ft. 117 ft are less than the 200 ft a
    # NM under which obstacles are assessed for a departure (FAA AIM 5-2-9).
    told = told_of_slow("altitude 5500", rising(4000, 5000))
    for (leg, message), number, mea_ft in zip(told["under-mea"], (2, 3), (4000, 5000), strict=False):
        assert leg == number
        assert message.startswith("error: 29")
        assert message.endswith(f" ft is below the MEA of {mea_ft} ft on V801")
    ((_, out),) = told["climb-out"]
    assert out.startswith("warning: the minimum of 5000 ft is reached ")
    assert out.endswith("; not reached before: 4000 ft at MARSH")


def test_no_higher_minimum_begins_there_or_visual_rules_hold() -> None:
    for minimums in (rising(5000, 5000), rising(5000, 4000)):
        told = told_of_slow("altitude 5500", minimums)
        assert "under-mea" not in told
        assert told["climb-out"][0][1].startswith("warning: ")
    stated = "direct QHB - MARSH 8.9nm min 4000", "direct MARSH - QEL 20.9nm min 5000", "route XHAR QHB MARSH QEL"
    assert [leg for leg, _ in told_of_slow("altitude 5500", *stated)["under-minimum"]][:2] == [2, 3]
    assert "under-minimum" not in told_of_slow("altitude 5500", *stated, "rules vfr")


def test_a_departure_of_200_ft_a_mile_may_pass_points_below_their_minimums_and_says_so() -> None:
    # At 500 ft a minute MARSH is passed at some 7,700 ft, 375 ft a NM.
    steep = (*TWO_MINIMUMS, "altitude 9500", rising(8500, 9000))
    assert found("under-mea", *steep) == []
    (told,) = found("climb-out", *steep)
    assert told.startswith("warning: the minimum of 9000 ft is reached 22.1 NM from XHAR")
    assert told.endswith("; not reached before: 8500 ft at MARSH")
    # From 29.6 NM, where no departure is assessed any more, it may not: 10,400 ft there.
    far = "airway V801 QHB 212 - MARSH 20nm mea 12000 - 034 QEL 9.5nm mea 13000", "fix MARSH QHB 212 20nm"
    assert any("is below the MEA of 12000 ft" in one for one in found("under-mea", *steep, *far, "altitude 14500"))
