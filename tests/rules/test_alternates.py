"""The way to an alternate: its stations, guidance, minimums and heights, each told once and by name."""

from __future__ import annotations

from judged import found

from navlog.rules.samples import FLOWN_BY_FILE

FROM_QHB = ("alternate QHB via V801 QEL XOLD", "route XHAR QHB XHAR", "airport XOLD N45 41.00 W039 20.00 elev 350ft")
"""The alternate alone flies the airway to QEL."""

LOW = ("alternate XHAR at 3500", "direct XOLD - XHAR 34.7nm min 4000")


def test_a_station_out_of_service_on_the_way_to_an_alternate_is_an_error() -> None:
    told = found("alternate-guidance", *FROM_QHB, "unavailable QEL")
    assert told[:2] == [
        "error: alternate XOLD: QHB to QEL relies on QEL, which is out of service",
        "error: alternate XOLD: QEL to XOLD relies on QEL, which is out of service",
    ]
    assert "warning: alternate XOLD: dead reckoning for 9.6 NM of QEL to XOLD: QEL is out of service" in told
    assert found("station-out", *FROM_QHB, "unavailable QEL") == []
    assert found("alternate-guidance", *FROM_QHB) == []


def test_a_way_without_a_station_is_told_once_with_its_whole_length() -> None:
    # The stretch is 34.7 NM by `direct`; climb, cruise and descent are legs of their own.
    for by in ((), FLOWN_BY_FILE):
        (told,) = found("alternate-guidance", "alternate XHAR", *by)
        assert told.startswith("warning: alternate XHAR: dead reckoning for 34.7 NM of XOLD to XHAR: ")


def test_an_unusable_sector_on_the_way_to_an_alternate_is_told() -> None:
    station = "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft unusable 025-040"
    (told,) = found("alternate-guidance", *FROM_QHB, station)
    assert told.startswith("warning: alternate XOLD, QHB to QEL: QEL is unusable on radials 025-040")


def test_a_course_that_is_not_known_on_the_way_to_an_alternate_is_told() -> None:
    station = "station QEL 110.20 N45 44.10 W039 33.00 class L dme elev 410ft"
    told = found("alternate-guidance", *FROM_QHB, station)
    why = "no course to set for QEL: its declination is not given and no radial is charted"
    assert told == [f"warning: alternate XOLD, QEL to XOLD: {why}"]


def test_a_minimum_that_is_not_known_on_the_way_to_an_alternate_is_a_note() -> None:
    told = "note: alternate XHAR: no minimum altitude is known from XOLD to XHAR"
    assert found("alternate-minimum", "alternate XHAR") == [told]
    assert found("alternate-minimum", "alternate XHAR", LOW[1]) == []


def test_an_arrival_above_the_field_of_an_alternate_is_told_whatever_the_pattern() -> None:
    # 9.6 NM from QEL at 100 kt and 500 ft a minute lose some 3000 ft of the 8650 ft; the MEA holds until QEL.
    high = ("airway V801 QHB 212 - 034 QEL 29.5nm mea 9000", "altitude 9000", "-direct QEL", "pattern 1800ft")
    told = found("alternate-limits", *FLOWN_BY_FILE, "alternate QHB via V801 QEL XOLD", *high)
    (arrival,) = [one for one in told if "is reached" in one]
    assert arrival.startswith("warning: alternate XOLD, QEL to XOLD: XOLD is reached ")
    assert arrival.endswith(" ft above the field at 350 ft")


def test_a_limit_is_told_once_a_stretch_and_names_it() -> None:
    for by in ((), FLOWN_BY_FILE):
        assert found("alternate-limits", *LOW, *by) == [
            "warning: alternate XHAR, XOLD to XHAR: 3500 ft is below the stated minimum of 4000 ft"
        ]


def test_an_mea_is_told_with_its_stretch() -> None:
    airway = "airway V801 QHB 212 - 034 QEL 29.5nm mea 6000 cop 11 QHB"
    told = found("alternate-limits", *FLOWN_BY_FILE, "alternate QHB via V801 QEL XOLD at 5000", airway)
    way = "warning: alternate XOLD, QHB to QEL"
    assert [one for one in told if "MEA" in one] == [f"{way}: 5000 ft is below the MEA of 6000 ft on V801"]
