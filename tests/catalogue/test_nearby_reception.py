"""Who is received around an aircraft: the answer of `catalogue nearby` and the rules' are one."""

from __future__ import annotations

import pytest
from helpers.judged import found
from helpers.nasr_excerpt import DAY

from navlog.catalogue.queries import Catalogue
from navlog.catalogue.reception import Neighbour, neighbours
from navlog.catalogue.text import neighbour_lines
from navlog.nav import earth
from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.record import changed as replace
from navlog.request.stationlist import read_station

QHB = "QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft unusable {}"


def from_station(text: str, radial_deg: float, distance_nm: float, altitude_ft: float) -> Neighbour:
    """The station as it lies to an aircraft on one of its radials."""
    station = read_station(text)
    assert station.position is not None
    assert station.declination_deg is not None
    aircraft = earth.direct(station.position, radial_deg + station.declination_deg, distance_nm)
    (one,) = neighbours([station], aircraft, altitude_ft)
    return one


@pytest.mark.parametrize(
    ("sector", "radial_deg", "distance_nm", "altitude_ft", "unusable"),
    [
        ("150-170", 160, 12, 3_000, True),
        ("150-170", 171, 12, 3_000, False),
        ("346-012", 5, 12, 3_000, True),
        ("346-012", 345, 12, 3_000, False),
        ("150-170 beyond 10nm", 160, 12, 3_000, True),
        ("150-170 beyond 15nm", 160, 12, 3_000, False),
        ("150-170 below 3500", 160, 12, 3_000, True),
        ("150-170 below 3500", 160, 12, 3_500, False),
        ("000-360 beyond 10nm below 5000", 160, 12, 3_000, True),
        ("000-360 beyond 10nm below 5000", 160, 12, 5_500, False),
    ],
)
def test_nearby_and_the_rule_agree_on_where_a_station_is_unusable(
    sector: str, radial_deg: int, distance_nm: int, altitude_ft: int, unusable: bool
) -> None:
    text = QHB.format(sector)
    flight = (f"fix LAKER QHB {radial_deg:03d} {distance_nm}nm", "route QHB LAKER", "-direct QHB")
    assert bool(found("unusable-sector", f"station {text}", *flight, f"altitude {altitude_ft}")) is unusable
    seen = from_station(text, radial_deg, distance_nm, altitude_ft)
    assert ("vor" in seen.unusable) is unusable
    assert received(seen) == ("unusable" if unusable else "yes")


def received(one: Neighbour) -> str:
    """What is printed under `received`."""
    heading, line = neighbour_lines([one], 3_000.0)
    start = heading.index("received")
    return line[start : start + 10].strip()


def test_acy_on_a_radial_that_is_published_as_unusable(catalogue: Catalogue) -> None:
    # NAV_RMK 2026-05-14: VOR UNUSBL 305-340, without distance or height; the place is on radial 312.
    (acy,) = catalogue.stations("ACY", DAY)
    (one,) = neighbours([acy], Position(39.5, -74.0 - 40.0 / 60.0), 4_500.0)
    assert one.unusable == ("vor",)
    assert received(one) == "unusable"


# NAV_BASE and NAV_RMK 2026-05-14: DPK, VOR/DME unusable beyond 25 NM below 5,000 ft on every radial. The
# place is 41.7 minutes of longitude west of it: 41.7 x cos 40.79 = 31.6 NM.
@pytest.mark.parametrize(("altitude_ft", "words"), [(2_500.0, "unusable"), (5_000.0, "yes")])
def test_dpk_unusable_far_out_and_low(altitude_ft: float, words: str) -> None:
    dpk = read_station(
        "DPK 117.70 N40 47.51 W073 18.22 decl 12W class L dme elev 117ft unusable 000-360 beyond 25nm below 5000"
    )
    (one,) = neighbours([dpk], Position(40.0 + 47.51 / 60.0, -74.0), altitude_ft)
    assert one.distance_nm == pytest.approx(31.6, abs=0.2)
    assert received(one) == words


def test_a_vor_whose_dme_alone_is_unusable_is_a_vor_only() -> None:
    vor = read_station(QHB.format("150-170"))
    station = replace(vor, unusable=(replace(vor.unusable[0], of="dme"),))
    assert vor.position is not None
    # Radial 160 is 145 true; class L serves 40 NM.
    for distance_nm, words in ((12.0, "VOR only"), (45.0, "too far")):
        (one,) = neighbours([station], earth.direct(vor.position, 145.0, distance_nm), 3_000.0)
        assert (one.unusable, received(one)) == (("dme",), words)


def test_without_radials_only_a_sector_all_round_counts() -> None:
    vor = read_station(QHB.format("000-360 beyond 10nm"))
    dme = replace(vor, kind=StationKind.DME, declination_deg=None, unusable=(replace(vor.unusable[0], of="dme"),))
    assert vor.position is not None

    def unusable(station: Station) -> tuple[str, ...]:
        (one,) = neighbours([station], earth.direct(vor.position or Position(0, 0), 90.0, 12.0), 3_000.0)
        return one.unusable

    assert unusable(dme) == ("dme",)
    assert unusable(replace(dme, unusable=(replace(dme.unusable[0], end_deg=200.0),))) == ()


def test_without_an_altitude_nothing_is_said_of_reception() -> None:
    station = read_station(QHB.format("000-360"))
    (one,) = neighbours([station], Position(46.0, -39.0), None)
    assert (one.in_sight, one.in_service, one.unusable) == (None, None, ())
