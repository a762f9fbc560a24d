"""FAA CIFP records against the ARINC 424 package of the Python index and against NASR.

Lines: FAACIFP18 as published (see tests/data/cifp). Invented lines are made from them.
"""

from __future__ import annotations

import contextlib
import io
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.cifp_records import AIRPORT, AIRWAY, NDB, VHF, WAYPOINT, fields
from navlog.catalogue.queries import Catalogue
from navlog.nav.chart import BothWays, Provenance, Source, StationKind
from navlog.nav.problems import NavlogError

LINES = (DATA / "cifp" / "FAACIFP18").read_text(encoding="ascii").splitlines()
THEIR_NAMES = {
    "VHF Navaid": (
        VHF,
        {
            "VOR Identifier": "ident",
            "Frequency": "frequency",
            "VOR Latitude": "latitude",
            "VOR Longitude": "longitude",
            "DME Latitude": "dme_latitude",
            "DME Longitude": "dme_longitude",
            "Station Declination": "declination",
            "DME Elevation": "elevation",
            "VOR Name": "name",
        },
    ),
    "NDB Navaid": (NDB, {"NDB Identifier": "ident", "NDB Frequency": "frequency", "NDB Latitude": "latitude"}),
    "Waypoint": (WAYPOINT, {"Waypoint Identifier": "ident", "Waypoint Latitude": "latitude"}),
    "Enroute Airways": (
        AIRWAY,
        {
            "Route Identifier": "airway",
            "Sequence Number": "sequence",
            "Fix Identifier": "point",
            "Waypoint Desc Code": "description",
            "Outbound Magnetic Course": "outbound",
            "Route Distance From": "distance",
            "Inbound Magnetic Course": "inbound",
            "Minimum Altitude": "mea",
            "Minimum Altitude (2)": "mea_opposite",
            "Maximum Altitude": "maa",
        },
    ),
    "Airport": (AIRPORT, {"Airport ICAO Identifier": "ident", "Airport Elevation": "elevation"}),
}


@pytest.mark.parametrize("line", LINES, ids=lambda line: line[4:18].replace(" ", "_"))
def test_columns_agree_with_the_arinc424_package(line: str) -> None:
    from arinc424.record import Record

    record = Record()
    with contextlib.redirect_stdout(io.StringIO()):
        assert record.read(line)
    columns, names = next(
        (columns, names)
        for kind, (columns, names) in THEIR_NAMES.items()
        if record.definition.name.startswith(kind) or kind in record.definition.name
    )
    theirs = {field.name: str(field.value).strip() for field in record.fields}
    ours = fields(line, columns)
    compared = {name: own for name, own in names.items() if name in theirs}
    assert len(compared) >= 2
    for name, own in compared.items():
        assert ours[own] == theirs[name], name


@pytest.fixture
def cifp(tmp_path: Path) -> Iterator[Catalogue]:
    import_data(DATA / "cifp", tmp_path / "c.sqlite")
    with open_catalogue(tmp_path / "c.sqlite") as opened:
        yield opened


def test_the_cycle_is_that_of_the_latest_change_where_there_is_no_header(tmp_path: Path) -> None:
    report = import_data(DATA / "cifp", tmp_path / "c.sqlite")
    assert "has no header" in report.notes[0]
    latest = max(line[128:132] for line in LINES)
    assert {file.provenance.cycle for file in report.files} == {latest}
    assert report.rejected == 0


def test_a_header_gives_the_cycle(tmp_path: Path) -> None:
    header = "HDR01FAACIFP18      001P013203974502609  " + " " * 91
    (tmp_path / "FAACIFP18").write_text("\n".join([header, *LINES]) + "\n", encoding="ascii")
    report = import_data(tmp_path / "FAACIFP18", tmp_path / "c.sqlite")
    assert report.notes == ()
    assert report.files[0].provenance == Provenance(Source.CIFP, "2609", date(2026, 9, 3), date(2026, 10, 1))


def test_a_vortac_as_published(cifp: Catalogue, day: date) -> None:
    # D record ABI: 11370 VTHW N32285279 W099514843 E0100 01809.
    (abi,) = cifp.stations("ABI", day)
    assert (abi.kind, abi.published_kind, abi.dme, abi.service) == (StationKind.VOR, "VORTAC", True, "H")
    assert (abi.frequency_mhz, abi.channel, abi.declination_deg) == (113.7, "84X", 10.0)
    assert (abi.elevation_ft, abi.name) == (1809.0, "ABILENE")
    assert abi.position is not None
    assert abi.position.latitude_deg == pytest.approx(32 + 28 / 60 + 52.79 / 3600, abs=1e-9)
    assert abi.position.longitude_deg == pytest.approx(-(99 + 51 / 60 + 48.43 / 3600), abs=1e-9)


def test_a_dme_has_no_declination_and_an_ils_is_no_station(cifp: Catalogue, day: date) -> None:
    (aat,) = cifp.stations("AAT", day)
    assert (aat.kind, aat.declination_deg, aat.dme_service) == (StationKind.DME, None, "H")
    assert cifp.stations("ISFO", day) == ()


def test_a_beacon_a_fix_and_an_airport(cifp: Catalogue, day: date) -> None:
    (beacon,) = cifp.stations("AA", day)
    assert (beacon.kind, beacon.frequency_khz, beacon.name) == (StationKind.NDB, 365.0, "KENIE")
    (fix,) = cifp.fixes("AMUSE", day)
    assert fix.region == "K4"
    (airport,) = cifp.airports("KDEN", day)
    assert (airport.ident, airport.elevation_ft, airport.name) == ("KDEN", 5434.0, "DENVER INTL")


def test_an_airway_has_the_courses_at_its_own_ends(tmp_path: Path, day: date) -> None:
    import_data(DATA / "cifp", tmp_path / "c.sqlite")
    with open_catalogue(tmp_path / "c.sqlite") as catalogue:
        (v16,) = catalogue.airways("V16", day)
        rows = catalogue.query(
            "SELECT point, course, opposite_course FROM airway_point WHERE airway = 'V16' ORDER BY seq"
        )
    assert v16.points == ("LAX", "DODGR", "LAHAB", "PRADO")
    assert [one.distance_nm for one in v16.segments] == [14.7, 10.6, 7.1]
    assert v16.segments[0].mea == BothWays(4000.0, 4000.0)
    assert v16.segments[0].maa == BothWays(17500.0, 17500.0)
    # Outbound 075.9 from LAX; inbound 076.4 at DODGR, which is 256.4 seen from there (NASR: 75.88, 256.38).
    assert tuple(rows[0]) == ("LAX", 75.9, pytest.approx(256.4))


def er(sequence: str, point: str, description: str = "E   ", mea: str = "04000", opposite: str = "     ") -> str:
    line = list(LINES[[one[13:18].strip() for one in LINES].index("V16")])
    for column, text in (
        (14, "V801 "),
        (26, sequence),
        (30, f"{point:<5}"),
        (40, description),
        (84, mea),
        (89, opposite),
    ):
        line[column - 1 : column - 1 + len(text)] = text
    return "".join(line)


def imported(tmp_path: Path, *lines: str) -> Catalogue:
    (tmp_path / "FAACIFP18").write_text("\r\n".join(lines) + "\r\n", encoding="latin-1")
    import_data(tmp_path / "FAACIFP18", tmp_path / "c.sqlite")
    return open_catalogue(tmp_path / "c.sqlite")


def test_pieces_of_an_airway_and_altitudes_by_direction(tmp_path: Path, day: date) -> None:
    lines = [
        er("0100", "PINEY", mea="FL180", opposite="05000"),
        er("0110", "ROSKO", description="EE  "),
        er("0120", "LAKER", mea="UNKNN"),
        er("0130", "MARSH"),
    ]
    with imported(tmp_path, *lines) as catalogue:
        first, second = catalogue.airways("V801", day)
    assert (first.points, second.points) == (("PINEY", "ROSKO"), ("LAKER", "MARSH"))
    assert (first.location, second.location) == ("USA", "USA-2")
    assert first.segments[0].mea == BothWays(18000.0, 5000.0)
    assert second.segments[0].mea == BothWays(None, None)


def test_the_station_of_an_airway_is_that_of_its_region(tmp_path: Path, day: date) -> None:
    with imported(tmp_path, *LINES, er("0100", "ABI").replace("ABI  K2D ", "ABI  K4D "), er("0110", "AMUSE")) as found:
        (v801,) = found.airways("V801", day)
    assert v801.segments[0].start_radial_deg == 75.9


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        (LINES[0][:131], "131 columns where a record has 132"),
        (LINES[0].replace("11370", "1137X"), "`1137X` is not a number"),
        (LINES[0].replace("N32285279", "N32995279"), "`N32995279` is not a position"),
        (LINES[0].replace("E0100", "X0100"), "`X0100` is not a station declination"),
        (LINES[0][:13] + "    " + LINES[0][17:], "it has no identifier"),
        (er("0100", ""), "it has no identifier"),
    ],
)
def test_a_rejected_record_is_listed(tmp_path: Path, line: str, reason: str) -> None:
    (tmp_path / "FAACIFP18").write_text("\n".join([LINES[1], line]) + "\n", encoding="ascii")
    report = import_data(tmp_path / "FAACIFP18", tmp_path / "c.sqlite")
    assert [(one.line, one.reason) for file in report.files for one in file.rejections] == [(2, reason)]


def test_a_station_aligned_to_true_north(tmp_path: Path, day: date) -> None:
    with imported(tmp_path, LINES[0].replace("E0100", "T0000")) as catalogue:
        (abi,) = catalogue.stations("ABI", day)
    assert (abi.true_referenced, abi.declination_deg) == (True, 0.0)


def test_continuations_and_other_sections_are_no_rows(tmp_path: Path) -> None:
    continuation = LINES[0][:21] + "2" + LINES[0][22:]
    terminal = next(line for line in LINES if line[4:6] == "PN")
    with pytest.raises(NavlogError, match="no-known-data"):
        imported(tmp_path, continuation, terminal)


def test_nasr_airways_come_before_those_of_cifp(tmp_path: Path, day: date) -> None:
    path = tmp_path / "c.sqlite"
    import_data(DATA / "nasr", path)
    (tmp_path / "FAACIFP18").write_text(
        "\n".join(er(seq, point).replace("V801 ", "V101 ") for seq, point in (("0100", "GLL"), ("0110", "LIBEL")))
        + "\n",
        encoding="ascii",
    )
    import_data(tmp_path / "FAACIFP18", path)
    with open_catalogue(path) as catalogue:
        (v101,) = catalogue.airways("V101", day)
    assert v101.provenance.source is Source.NASR
