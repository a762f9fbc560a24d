"""What the rules on terrain tell, each finding whole, of high places just too low and just high enough.

`helpers/high_ground.py` says how the flight climbs: 2,500 ft are planned 5 NM from XLO, 4,500 ft from 10 NM on. What
is under the course itself is compared as it is, what is beside it with its tolerance.
"""

from __future__ import annotations

import pytest
from helpers.drawn import reports
from helpers.high_ground import arriving, below, flown, ground, piece, spot
from helpers.judged import lines

from navlog.flightlog.records import Log
from navlog.nav.clearance import Abeam
from navlog.nav.record import changed
from navlog.nav.terrain import Spot
from navlog.resolve.ground import InBand
from navlog.rules.report import judge


def under(along_nm: float, height_ft: float) -> Abeam:
    """High ground under the course itself."""
    return piece(along_nm, None, spot(along_nm, height_ft))


def told(rule: str, log: Log) -> list[str]:
    return lines(rule, judge(log).findings)


AT = "NM along XLO to QAA, 1.2 right, N46W039.hgt"


@pytest.mark.parametrize(
    ("stretch", "pieces", "expected"),
    [
        # Near the field, within 3 NM, and on the way the worst place is told: 1600 - 1500, 2900 - 2500.
        (
            1,
            (piece(2.5, spot(2.5, 1600)), piece(2.9, spot(2.9, 1680)), piece(5, spot(5, 2900))),
            [
                f"warning leg 1 12:11 2500 ft is planned beside 2900 ft, 5.0 {AT} [by 400.0] [apart]",
                f"warning leg 1 12:11 1500 ft is planned beside 1600 ft, 2.5 {AT} [by 100.0] [apart]",
            ],
        ),
        # 3 NM out is on the way; of two that are missed by as much, 100 ft, the first is told.
        (
            1,
            (piece(3, spot(3, 1800)), piece(5, spot(5, 2600)), piece(7, spot(7, 3400))),
            [f"warning leg 1 12:11 1700 ft is planned beside 1800 ft, 3.0 {AT} [by 100.0] [apart]"],
        ),
        # Into the ground stands before beside it.
        (
            1,
            (piece(5, spot(5, 2900), spot(5, 2501)),),
            [
                f"error leg 1 12:11 2500 ft is planned INTO THE GROUND under the course itself: 2501 ft, 5.0 {AT}"
                " [by 1.0] [apart]"
            ],
        ),
        # Level no end is the field's: of two places the worse, 4700 - 4500. The stretch's own end is passed too.
        (
            1,
            (under(20, 4600), under(28.5, 4700)),
            [
                f"error leg 2 12:11 4500 ft is planned INTO THE GROUND under the course itself: 4700 ft, 28.5 {AT}"
                " [by 200.0] [apart]"
            ],
        ),
        (
            1,
            (under(30, 4600),),
            [
                f"error leg 2 12:11 4500 ft is planned INTO THE GROUND under the course itself: 4600 ft, 30.0 {AT}"
                " [by 100.0] [apart]"
            ],
        ),
    ],
)
def test_high_places_that_a_climb_passes_too_low(stretch: int, pieces: tuple[Abeam, ...], expected: list[str]) -> None:
    assert told("climb-under-terrain", below(flown(), stretch, abeam=pieces)) == expected


def test_the_highest_places_of_a_stretch_count_too() -> None:
    low, high = ground(spot(20, 0), 4600), spot(5, 2600)
    for known in (changed(low, highest=high), changed(low, obstacle=high)):
        assert told("climb-under-terrain", below(flown(), 1, ground=known)) == [
            f"warning leg 1 12:11 2500 ft is planned beside 2600 ft, 5.0 {AT} [by 100.0] [apart]"
        ]


def test_the_last_3_nm_of_a_descent_are_near_the_field() -> None:
    # 250 ft a mile down to 1,000 ft at 40 NM: 3,500 ft 30 NM out, 1,750 at 37, 1,500 at 38.
    pieces = (piece(30, spot(30, 3700)), piece(37, spot(37, 2050)), piece(38, spot(38, 1700)))
    at = "NM along QAA to XHI, 1.2 right, N46W039.hgt"
    assert told("climb-under-terrain", below(arriving(), 2, abeam=pieces)) == [
        f"warning leg 4 12:15 1750 ft is planned beside 2050 ft, 37.0 {at} [by 300.0] [apart]",
        f"warning leg 4 12:15 1500 ft is planned beside 1700 ft, 38.0 {at} [by 200.0] [apart]",
    ]


CLIMB = "the climb is below the minimum by terrain as far as"
ALONG = "NM along XLO to QAA; at the least"
LOW = f"{CLIMB} 6.0 {ALONG}"
ONLY = f"{CLIMB} 6.0 NM along XLO to QAA; only"
EACH = "ft for each NM from the field:"
MAKE = "where 48 ft a NM make"
BY = AT.replace("1.2 right", "0.3 right")


@pytest.mark.parametrize(
    ("pieces", "expected"),
    [
        # The piece from 4 to 6 NM begins at 2,100 ft; its top is passed at 2,500 ft.
        (
            (piece(3, None, minimum_ft=None), piece(5, spot(5, 1500, 100), minimum_ft=2101)),
            [f"note leg 1 12:11 {LOW} 180 {EACH} 900 ft above 1500 ft (+100), 5.0 {AT} [by -900.0]"],
        ),
        # FAA AIM 5-2-9: 48 ft a mile over 5 NM are 240; heights under 1,000 ft, 500 above the field, count as that.
        (
            (piece(5, spot(5, 2260), minimum_ft=3500),),
            [f"note leg 1 12:11 {LOW} 48 {EACH} 240 ft above 2260 ft, 5.0 {AT} [by -240.0]"],
        ),
        (
            (piece(5, spot(5, 2262), minimum_ft=3500),),
            [f"warning leg 1 12:11 {ONLY} 238 ft above 2262 ft, 5.0 {AT}, {MAKE} 240 [by -238.0] [apart]"],
        ),
        (
            (piece(2, spot(1, 880), minimum_ft=3500),),
            [f"note leg 1 12:11 {CLIMB} 3.0 {ALONG} 20 {EACH} 20 ft above 880 ft, 1.0 {AT} [by -20.0]"],
        ),
        (
            (piece(5, spot(5, 2500), minimum_ft=3500),),
            [f"warning leg 1 12:11 {ONLY} 0 ft above 2500 ft, 5.0 {AT}, {MAKE} 240 [apart]"],
        ),
        (
            (piece(5, spot(5, 2600), minimum_ft=3600),),
            [f"warning leg 1 12:11 {LOW} 100 ft BELOW 2600 ft, 5.0 {AT} [by 100.0] [apart]"],
        ),
        (
            (piece(5, spot(5, 2499), spot(5, 2501), minimum_ft=3600),),
            [f"error leg 1 12:11 {ONLY} 1 ft above 2499 ft, 5.0 {AT}, {MAKE} 240 [by -1.0] [apart]"],
        ),
        (
            (piece(5, spot(5, 2200), spot(5, 2500), minimum_ft=3600),),
            [f"note leg 1 12:11 {LOW} 60 {EACH} 300 ft above 2200 ft, 5.0 {AT} [by -300.0]"],
        ),
        # The airport's own ground is no place to pass: no height above it is told.
        (
            (piece(1, spot(0.4, 600, away_nm=0.2), minimum_ft=1600),),
            [f"note leg 1 12:11 {CLIMB} 2.0 NM along XLO to QAA"],
        ),
        # Half a mile out and 0.3 aside is 0.58 NM from the field, where 733 ft are planned.
        (
            (piece(1, spot(0.5, 600, away_nm=0.3), minimum_ft=1600),),
            [f"note leg 1 12:11 {CLIMB} 2.0 {ALONG} 229 {EACH} 133 ft above 600 ft, 0.5 {BY} [by -133.2]"],
        ),
        # Where terrain is missing what is known counts: 2,600 and 1,000 ft are 3,600.
        (
            (piece(5, spot(5, 2600)),),
            [f"warning leg 1 12:11 {LOW} 100 ft BELOW 2600 ft, 5.0 {AT} [by 100.0] [apart]"],
        ),
        # Of a piece of which no high place is known nothing is told.
        ((piece(5, None, minimum_ft=3600),), []),
    ],
)
def test_how_low_a_climb_is(pieces: tuple[Abeam, ...], expected: list[str]) -> None:
    assert told("climb-low", below(flown(), 1, abeam=pieces)) == expected


def test_from_where_a_minimum_binds_a_climb_is_not_low_by_this_rule() -> None:
    # Below the 5,000 ft stated up to QAA the climb from there to 6,500 ft is late, and 4,500 ft are bound.
    higher = below(flown(minimum="min 5000", beyond="/A065 QBB"), 2, abeam=(piece(2, spot(2, 1000), minimum_ft=5600),))
    assert told("climb-low", higher) == []


def test_what_begins_where_a_descent_ends_is_not_of_it() -> None:
    assert told("climb-low", below(arriving(), 2, abeam=(piece(41, spot(41, 900), minimum_ft=9000),))) == []


def test_a_climb_that_goes_on_beyond_its_first_stretch_is_bound_nowhere_on_it() -> None:
    # 400 ft a mile: 1,300 ft 2 NM out, 2,500 at QAA, 5 NM out.
    log = flown(first_nm=5)
    assert told("climb-under-terrain", below(log, 1, abeam=(piece(2, spot(2, 1350)),))) == [
        "warning leg 1 12:11 1300 ft is planned beside 1350 ft, 2.0 NM along, 1.2 right, N46W039.hgt [by 50.0] [apart]"
    ]
    # Where the next stretch begins its ground counts.
    assert told("climb-under-terrain", below(log, 2, abeam=(under(0, 2600),))) == [
        "error leg 2 12:15 2500 ft is planned INTO THE GROUND under the course itself: 2600 ft, 0.0 NM along QAA to"
        " QBB, 1.2 right, N46W039.hgt [by 100.0] [apart]"
    ]


def over(top: Spot, rules: str = "ifr") -> list[str]:
    """What is told of a first stretch that climbs to 4,500 ft, 10 NM out, and is level from there on."""
    log = flown(rules)
    limits = changed(log.legs[0].stretch.limits, minimum_ft=6000.0, minimum_kind="terrain")
    return told("under-terrain", below(log, 1, ground=ground(top, 6000), limits=limits))


# The top, its tolerance and 1,000 ft, rounded up to hundreds. Under VFR a level above the top is a note.
@pytest.mark.parametrize(
    ("rules", "top_ft", "minimum_ft", "severity"),
    [("ifr", 3600, 4700, "error"), ("vfr", 3600, 4700, "note"), ("vfr", 4451, 5600, "warning")],
)
def test_a_level_under_its_minimum_by_terrain(rules: str, top_ft: float, minimum_ft: float, severity: str) -> None:
    assert over(spot(20, top_ft, 50), rules) == [
        f"{severity} leg {leg} 12:11 4500 ft is below the minimum by terrain of {minimum_ft} ft: {top_ft} ft (+50),"
        f" 20.0 {AT}, and 1000 ft above it [by {minimum_ft - 4500:.1f}]"
        for leg in (1, 2)
    ]


@pytest.mark.parametrize(("aside_nm", "side"), [(0.5, "0.5 right"), (0.0, "0.0 left"), (-1.2, "1.2 left")])
def test_a_place_is_told_by_its_side(aside_nm: float, side: str) -> None:
    one, _ = over(changed(spot(20, 3600), aside_nm=aside_nm))
    assert f"3600 ft, 20.0 NM along XLO to QAA, {side}, N46W039.hgt" in one


def test_a_stated_minimum_is_held_against_the_one_by_terrain_on_each_stretch() -> None:
    # Nothing is stated of the way to QBB; on the first 3,000 ft, under 2,100 and 1,000.
    log = below(flown(minimum="min 3000"), 1, ground=ground(spot(20, 2100), 3100))
    # The stretch is flown in two legs, so its name is told.
    assert told("stated-under-terrain", log) == [
        "warning leg 1 12:11 the stated minimum of 3000 ft is lower than the minimum by terrain of 3100 ft:"
        f" 2100 ft, 20.0 {AT}, and 1000 ft above it [by 100.0]"
    ]
    second = flown()
    stated = changed(second.legs[-1].stretch.limits, minimum_ft=3000.0, minimum_kind="stated")
    (one,) = told("stated-under-terrain", below(second, 2, ground=ground(spot(20, 2100), 3100), limits=stated))
    assert one.startswith("warning leg 3 12:15 the stated minimum of 3000 ft is lower")


def test_an_airway_before_a_direct_leg_does_not_hide_what_is_stated_of_that() -> None:
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nairport XHI N46 00.00 W038 00.00 elev 1000ft\n"
        "date 2026-07-18\nvariation 0E\nwind calm\ntas 120kt\nairway V1 QAA 090 - 270 QBB 30nm mea 4000\n"
        "direct QBB 090 - XHI 30nm min 3000\nrules ifr\naltitude 4500\nroute QAA V1 QBB XHI\n"
    )
    (one,) = told("stated-under-terrain", below(report.log, 2, ground=ground(spot(20, 2100), 3100)))
    assert one.startswith(
        "warning leg 3 12:18 the stated minimum of 3000 ft is lower than the minimum by terrain of 3100"
    )


def test_a_higher_place_within_the_error_of_the_guidance() -> None:
    # By more than 100 ft, to which minimums are rounded, less the tile's own tolerance: 2600 - 2450 - 50 = 100.
    def beside(high: Spot, on_course_ft: float) -> list[str]:
        band = InBand(high, 1.57, on_course_ft)
        return told("band-over-higher-ground", below(flown(), 1, ground=ground(high, 3600, band)))

    assert beside(spot(20, 2600, 50), 2450) == []
    assert beside(spot(20, 2600, 50), 2449) == [
        "note leg 1 12:11 within 4.5 degrees of the course, 1.6 NM there, stand 2600 ft (+50), 20.0"
        f" {AT}; on the course no more than 2449 ft [by 101.0]"
    ]
    assert beside(spot(20, 2600), 2499.5) == [
        "note leg 1 12:11 within 4.5 degrees of the course, 1.6 NM there, stand 2600 ft, 20.0"
        f" {AT}; on the course no more than 2500 ft [by 100.5]"
    ]
    # The field itself is no hill beside the way.
    assert beside(spot(0.5, 2600, away_nm=0.5), 2000) == []
    # Of several parts the one where it is higher by most.
    low, high = (
        ground(spot(nm, ft), 3600, InBand(spot(nm, ft), 1.57, 2000)).parts[0] for nm, ft in ((9, 2200), (20, 2600))
    )
    (most,) = told(
        "band-over-higher-ground", below(flown(), 1, ground=changed(ground(spot(20, 2600), 3600), parts=(low, high)))
    )
    assert "stand 2600 ft" in most


@pytest.mark.parametrize(
    ("stated", "name", "expected"),
    [
        ("mea 6000 moca 3900", "MOCA of 3900", ["warning leg 1 8:14"]),
        ("mea 3900", "MEA of 3900", ["warning leg 1 8:14"]),
        ("maa 9000", "", []),
    ],
)
def test_an_airways_lowest_minimum_is_held_against_what_stands_abeam(
    stated: str, name: str, expected: list[str]
) -> None:
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndate 2026-07-18\nvariation 0E\nwind calm\ntas 120kt\n"
        f"airway V1 QAA 090 - 270 QBB 30nm {stated}\nroute QAA V1 QBB\nrules ifr\naltitude 6000\n"
    )
    # 3000 + 1000 - 3900 = 100; the tolerance is not added.
    abeam = (piece(3, None), piece(5, spot(5, 3000, 50)))
    assert told("stated-under-terrain", below(report.log, 1, abeam=abeam)) == [
        f"{where} the {name} ft on V1 is less than 1000 ft above 3000 ft (+50), 5.0 NM along QAA to QBB, 1.2 right,"
        " N46W039.hgt [by 100.0]"
        for where in expected
    ]
    # 6,000 ft are 1,000 above 5,000, and 999 above a foot more: less than the airway's own measure.
    for top_ft, passed in (
        (5000, ""),
        (5001, "; the flight is planned no more than 999 ft above it"),
        (6100, "; the flight is planned no more than 100 ft BELOW it"),
    ):
        for one in told("stated-under-terrain", below(report.log, 1, abeam=(piece(5, spot(5, top_ft)),))):
            assert one.partition(" [by")[0].endswith(f"N46W039.hgt{passed}")
    assert told("stated-under-terrain", below(report.log, 1, abeam=(piece(3, None),))) == []
    # In mountains 1,500 ft are asked: 3000 + 1500 are more than 3300 + 1000.
    mixed = (changed(piece(5, spot(5, 3000)), mountainous=True), piece(9, spot(9, 3300)))
    assert [
        "less than 1500 ft above 3000 ft" in one and "[by 600.0]" in one
        for one in told("stated-under-terrain", below(report.log, 1, abeam=mixed))
    ] == [True] * len(expected)


def test_a_terrain_file_that_cannot_be_read_is_told_by_itself() -> None:
    whole = ground(spot(20, 1000), 2000)
    torn = changed(whole.parts[0].below, unread=(("N46W039.hgt", "it is cut short"),))
    part = type(whole.parts[0])(**{**vars(whole.parts[0]), "below": torn})
    log = below(flown(), 1, ground=changed(whole, parts=(part,), unknown=("no tile", "a torn one")))
    assert told("terrain-unknown", log) == [
        "warning flight 1:1 the terrain file N46W039.hgt cannot be read: it is cut short [apart]",
        "warning leg 1 12:11 the ground from XLO to QAA is not known: no tile, a torn one",
    ]
    # A way to an alternate over the same file does not tell it again.
    assert [one[:40] for one in told("terrain-unknown", changed(log, alternates=(log,)))] == [
        "warning flight 1:1 the terrain file N46W",
        "warning leg 1 12:11 the ground from XLO ",
        "warning alternate QBB leg 1 12:11 the gr",
    ]
