"""Which station a bearing of a fix's make-up is from: identifier, kind and place must agree.

FAA NASR FIX_NAV names the aid by identifier and type; localizers often share the identifier of a VOR miles away.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot
from pathlib import Path

import pytest
from helpers.flown import Json
from helpers.nasr_excerpt import Row
from helpers.published_flights import Flown, leg_to, needles

from navlog.catalogue import import_data
from navlog.nav.chart import Bearing, Station, StationKind

FEET_IN_A_NM = 1852.0 / 0.3048


def test_a_localizer_of_the_stations_identifier_tells_no_distance(fly: Flown) -> None:
    """FIX_NAV, 2026-05-14: STODA lies 10.26 NM from the localizer SYR and 15.54 NM from the VORTAC SYR.

    NAV_BASE puts the VORTAC at 453.2 ft, so at 9,000 ft its DME reads the hypotenuse (AIM 1-1-7).
    """
    found = fly("SYR V483 TEBOR", "equipment vor 1 dme 1", altitude="9000")
    marked = leg_to(found, "STODA")["identified_by"]
    reads_nm = hypot(15.54, (9000.0 - 453.2) / FEET_IN_A_NM)
    assert (marked["ident"], marked["radial_deg"]) == ("SYR", None)
    assert marked["dme_nm"] == pytest.approx(reads_nm, abs=0.01)
    # The legs to STODA, where V483 turns and the changeover point lies, are as long: 11.70 and 3.84 NM.
    flown_nm = sum(leg_to(found, ident)["distance_nm"] for ident in ("FAYET", "STODA"))
    assert flown_nm == pytest.approx(15.54, abs=0.01)


@pytest.mark.parametrize(
    ("published", "kind", "same"),
    [
        ("VOR", StationKind.VOR, True),
        ("VOR/DME", StationKind.VOR, True),
        ("VORTAC", StationKind.VOR, True),
        ("TACAN", StationKind.VOR, False),
        ("LOC", StationKind.VOR, False),
        ("OM", StationKind.VOR, False),
        ("NDB", StationKind.VOR, False),
        ("NDB/DME", StationKind.VOR, False),
        ("DME", StationKind.VOR, False),
        ("DME", StationKind.DME, True),
        ("TACAN", StationKind.TACAN, True),
        ("VORTAC", StationKind.NDB, False),
        ("VOR/DME", StationKind.DME, False),
    ],
)
def test_a_bearing_is_from_a_station_of_its_identifier_and_kind(published: str, kind: StationKind, same: bool) -> None:
    bearing = Bearing("QHB", 32.0, 12.0, published)
    assert bearing.is_from(Station("QHB", kind)) is same
    assert not bearing.is_from(Station("QEL", kind))


def vor(ident: str, latitude: str, longitude: str, kind: str = "VOR/DME") -> Row:
    return {
        "NAV_ID": ident, "NAV_TYPE": kind, "CITY": ident, "COUNTRY_CODE": "XX", "LAT_DECIMAL": latitude,
        "LONG_DECIMAL": longitude, "MAG_VARN": "0", "MAG_VARN_HEMIS": "E", "FREQ": "113.7", "ELEV": "0",
    }  # fmt: skip


def fix(ident: str, latitude: str, longitude: str) -> Row:
    return {
        "FIX_ID": ident,
        "ICAO_REGION_CODE": "XX",
        "COUNTRY_CODE": "XX",
        "LAT_DECIMAL": latitude,
        "LONG_DECIMAL": longitude,
    }


def made(ident: str, station: str, kind: str, radial: str, distance: str, region: str = "XX") -> Row:
    return {
        "FIX_ID": ident, "ICAO_REGION_CODE": region, "COUNTRY_CODE": "XX", "NAV_ID": station, "NAV_TYPE": kind,
        "BEARING": radial, "DISTANCE": distance,
    }  # fmt: skip


@pytest.fixture
def islands(tmp_path: Path, nasr_like: Callable[..., Path]) -> Callable[..., Flown]:
    """Invented: QHB, QEL 40 NM north of it, QSK off to the east; PINEY and ROSKO between QHB and QEL."""
    stations = [
        vor("QHB", "46.0", "-39.0"),
        vor("QEL", "46.6667", "-39.0"),
        vor("QSK", "46.25", "-38.5"),
        vor("QFA", "10.0", "-39.0"),
        vor("QSK", "46.25", "-38.5", kind="VOT"),
    ]
    fixes = [fix("PINEY", "46.25", "-39.0"), fix("ROSKO", "46.3333", "-39.0")]

    def make(*makeups: Row) -> Flown:
        nasr_like("NAV_BASE.csv", *stations)
        nasr_like("FIX_BASE.csv", *fixes)
        folder = nasr_like("FIX_NAV.csv", *makeups)
        path = tmp_path / "islands.sqlite"
        import_data(folder, path)
        return Flown(path)

    return make


def mark(found: Json, ident: str) -> tuple[str, float | None] | None:
    """The station that marks a fix, with its radial."""
    one = leg_to(found, ident)["identified_by"]
    return None if one is None else (one["ident"], one["radial_deg"])


def test_a_localizers_bearing_is_no_radial_of_the_vor(islands: Callable[..., Flown]) -> None:
    """PINEY lies due west of QSK, on its 270 radial; the localizer of that identifier points elsewhere."""
    fly = islands(made("PINEY", "QSK", "LOC", "301.5", ""))
    assert mark(fly("QHB PINEY QEL", altitude="5000"), "PINEY") is None
    fly = islands(made("PINEY", "QSK", "LOC", "301.5", ""), made("PINEY", "QSK", "VOR/DME", "270.2", "20.8"))
    found = mark(fly("QHB PINEY QEL", altitude="5000"), "PINEY")
    assert found is not None
    # Half the meridians' convergence over half a degree of longitude: sin 46.25 x 0.25 = 0.181 degrees.
    assert found[0] == "QSK"
    assert found[1] == pytest.approx(270.181, abs=0.001)


@pytest.mark.parametrize("kind", ["LOC", "NDB", "TACAN", "OM", "DME"])
def test_only_a_vor_guides_between_two_fixes(islands: Callable[..., Flown], kind: str) -> None:
    pair = [("PINEY", "15"), ("ROSKO", "20")]
    of_vor = islands(*(made(ident, "QHB", "VOR/DME", "0", nm) for ident, nm in pair))
    assert needles(of_vor("PINEY ROSKO", altitude="5000")) == ["QHB 0.0 FROM"]
    of_another = islands(*(made(ident, "QHB", kind, "0", nm) for ident, nm in pair))
    assert needles(of_another("PINEY ROSKO", altitude="5000")) == [None]


def test_a_station_out_of_reach_is_a_namesake(islands: Callable[..., Flown]) -> None:
    """QFA is 2,170 NM from PINEY: the make-up means another QFA, which the data does not hold."""
    fly = islands(made("PINEY", "QFA", "VORTAC", "90", "21"), made("ROSKO", "QFA", "VORTAC", "90", "31"))
    assert mark(fly("QHB PINEY QEL", altitude="5000"), "PINEY") is None
    assert needles(fly("PINEY ROSKO", altitude="5000")) == [None]


def test_a_make_up_is_that_of_the_fixs_own_region(islands: Callable[..., Flown]) -> None:
    fly = islands(made("PINEY", "QHB", "VOR/DME", "0", "99", region="YY"))
    marked = leg_to(fly("QHB PINEY:4615N03900W QEL", "equipment vor 1 dme 1", altitude="100"), "PINEY")["identified_by"]
    assert marked["dme_nm"] == pytest.approx(15.0, abs=0.1)


def test_a_make_up_is_not_taken_from_where_the_file_puts_a_station(islands: Callable[..., Flown]) -> None:
    """The published 15 NM are from the published QHB; the file's stands 10 NM farther south."""
    fly = islands(made("PINEY", "QHB", "VOR/DME", "0", "15.0"))
    moved = "station QHB 113.70 45.8333 -39.0000 decl 0E dme elev 0ft"
    found = fly("QHB PINEY QEL", "equipment vor 1 dme 1", moved, altitude="100")
    marked = leg_to(found, "PINEY")["identified_by"]
    assert marked["dme_nm"] == pytest.approx(25.0, abs=0.1)
