from __future__ import annotations

import pytest

from navlog.nav.chart import Airport, Position, Station, StationKind
from navlog.nav.sectors import Sector
from navlog.request.parser import parse
from navlog.request.records import FixDefinition

HERE = "N46 12.30 W039 20.70"


def codes(text: str) -> list[tuple[int, str]]:
    """Column and code of every problem."""
    return [(p.span.column, p.code) for p in parse(text, "t.route").problems if p.span is not None]


def station(text: str) -> Station:
    tree = parse(f"station {text}", "t.route")
    assert tree.problems == ()
    value = tree.common[0].value
    assert isinstance(value, Station)
    return value


def airport(text: str) -> Airport:
    value = parse(f"airport {text}", "t.route").common[0].value
    assert isinstance(value, Airport)
    return value


def fix(text: str) -> FixDefinition:
    value = parse(f"fix {text}", "t.route").common[0].value
    assert isinstance(value, FixDefinition)
    return value


def test_a_station_may_be_known_from_the_chart_alone() -> None:
    plain = station("QHB 113.70")
    assert (plain.kind, plain.position, plain.declination_deg, plain.dme) == (
        StationKind.VOR,
        None,
        None,
        False,
    )


@pytest.mark.parametrize(
    "written",
    [HERE, "N46 12 18 W039 20 42", "N46°12'18\" W039°20'42\"", "46.2050 -39.3450"],
)
def test_a_station_takes_a_position_in_every_form(written: str) -> None:
    position = station(f"QHB 113.70 {written} decl 15W").position
    assert position is not None
    # 12.30' = 12' 18" = 0.2050 degrees; 20.70' = 20' 42" = 0.3450 degrees.
    assert position.latitude_deg == pytest.approx(46.2050, abs=1e-9)
    assert position.longitude_deg == pytest.approx(-39.3450, abs=1e-9)


def test_compact_positions_are_whole_minutes() -> None:
    assert station("QHB 113.70 4612N03921W").position == Position(46.2, -39.35)
    assert station("QHB 113.70 46N039W").position == Position(46.0, -39.0)


def test_declination_carries_its_letter() -> None:
    assert station("QHB 113.70 decl 15W").declination_deg == -15.0
    assert station("QHB 113.70 decl 7.5E").declination_deg == 7.5
    assert codes("station QHB 113.70 decl -15") == [(25, "bad-value")]
    assert codes("station QHB 113.70 decl 15") == [(25, "bad-value")]


def test_a_true_referenced_station_is_not_the_same_as_no_declination() -> None:
    true, zero = station("QHB 113.70 decl true"), station("QHB 113.70 decl 0E")
    assert (true.declination_deg, true.true_referenced) == (0.0, True)
    assert (zero.declination_deg, zero.true_referenced) == (0.0, False)


@pytest.mark.parametrize(
    ("word", "service"),
    [
        ("T", "T"),
        ("L", "L"),
        ("H", "H"),
        ("VL", "VL"),
        ("VH", "VH"),
        ("terminal", "T"),
        ("low", "L"),
        ("high", "H"),
    ],
)
def test_service_classes(word: str, service: str) -> None:
    assert station(f"QHB 113.70 class {word}").service == service


def test_dme_with_channel_and_class() -> None:
    # ICAO Annex 10, Volume I, Table A pairs 113.70 MHz with channel 84X.
    full = station("QHB 113.70 dme 84X DL")
    assert (full.dme, full.channel, full.dme_service) == (True, "84X", "DL")
    short = station("QHB 113.70 dme H elev 820ft")
    assert (short.dme, short.channel, short.dme_service) == (True, None, "H")


def test_what_a_station_is_tuned_by_follows_its_kind() -> None:
    ndb = station("QNB 385 kind ndb")
    assert (ndb.kind, ndb.frequency_khz, ndb.frequency_mhz, ndb.dme) == (StationKind.NDB, 385.0, None, False)
    tacan = station("QTC 84X kind tacan")
    assert (tacan.kind, tacan.channel, tacan.frequency_mhz, tacan.dme) == (
        StationKind.TACAN,
        "84X",
        None,
        True,
    )
    dme = station("QDM 113.70 kind dme")
    assert (dme.kind, dme.frequency_mhz, dme.dme) == (StationKind.DME, 113.7, True)


@pytest.mark.parametrize("frequency", ["108.10", "113.72", "113.7O", "118.00", "107.90", "84X", "113,70"])
def test_a_vor_has_the_frequency_of_a_vor(frequency: str) -> None:
    # Odd tenths below 112 MHz are localizers, steps are 50 kHz (ICAO Annex 10, Volume I).
    (problem,) = codes(f"station QHB {frequency} dme")
    assert problem[0] == 13


def test_a_dme_may_be_paired_with_a_localizer() -> None:
    assert station("QDM 108.10 kind dme").frequency_mhz == 108.1
    assert codes("station QDM 118.10 kind dme") == [(13, "bad-frequency")]


def test_a_stated_channel_is_the_one_paired_with_the_frequency() -> None:
    assert codes("station QHB 113.70 dme 84Y") == [(24, "unpaired-channel")]
    assert codes("station QDM 113.70 kind dme dme 85X") == [(33, "unpaired-channel")]
    assert codes("station QTC 84X kind tacan dme 85X") == [(32, "unpaired-channel")]
    assert not codes("station QTC 84X kind tacan dme 84X H")


@pytest.mark.parametrize("channel", ["0X", "127X", "84", "84Z", "X", "8 4X"])
def test_channels_run_from_1_to_126(channel: str) -> None:
    assert codes(f"station QTC {channel} kind tacan")[0][1] in ("bad-channel", "unexpected-word")


@pytest.mark.parametrize(
    ("typed", "limits"),
    [("000-360", (0, 360)), ("001-360", (0, 360)), ("360-360", (360, 360)), ("350-000", (350, 360))],
)
def test_an_unusable_sector_may_go_all_round(typed: str, limits: tuple[float, float]) -> None:
    (sector,) = station(f"QHB 113.70 unusable {typed}").unusable
    assert (sector.start_deg, sector.end_deg) == limits


def test_unusable_sectors_may_be_repeated() -> None:
    assert station("QHB 113.70 unusable 150-160 beyond 10nm below 1900ft unusable 355-005").unusable == (
        Sector(150.0, 160.0, beyond_nm=10.0, below_ft=1900.0),
        Sector(355.0, 5.0),
    )


def test_options_come_in_any_order_and_once() -> None:
    assert station('QHB 113.70 name "Harbour" dme decl 15W') == station('QHB 113.70 decl 15W dme name "Harbour"')
    assert codes("station QHB 113.70 dme dme") == [(24, "given-twice")]


@pytest.mark.parametrize("ident", ["QHB1", "qhb", "Q-B", "QÄB", "DCT"])
def test_station_identifiers_are_letters(ident: str) -> None:
    assert codes(f"station {ident} 113.70") == [(9, "bad-identifier")]


def test_names_stand_in_quotes() -> None:
    assert codes("station QHB 113.70 name Harbour") == [(25, "not-quoted")]
    assert codes('station QHB 113.70 name " "') == [(25, "empty-text")]


def test_elevations_alone_carry_a_sign() -> None:
    assert station("QHB 113.70 elev -12ft").elevation_ft == -12.0
    assert station("QHB 113.70 elev 250m").elevation_ft == pytest.approx(250.0 / 0.3048)


def test_an_airport_may_be_called_like_half_a_position() -> None:
    named = airport(f"N46 {HERE}")
    assert named.ident == "N46"
    assert named.position.latitude_deg == pytest.approx(46.205)


def test_an_airport_needs_its_position() -> None:
    assert codes("airport XHAR") == [(13, "missing-word")]
    assert codes("airport XHAR elev 790ft")[0] == (14, "bad-position")


@pytest.mark.parametrize("ident", ["46N039W", "4612N03921W", "QHB084021", "QHB08421", "DCT", "123", "xhar"])
def test_no_name_may_mean_something_else_in_a_route(ident: str) -> None:
    assert codes(f"airport {ident} {HERE}") == [(9, "bad-identifier")]


def test_a_fix_by_position() -> None:
    assert fix("LAKER N46 05.00 W039 02.00").position is not None
    assert fix("LAKER 46N039W mra 5000").mra_ft == 5000.0


def test_a_fix_by_radial_and_distance() -> None:
    by_radial = fix("PINEY QEL 000 20km")
    ((name, radial_deg),) = by_radial.radials
    # 000 is 360; 20 km / 1.852 km = 10.799 NM.
    assert (name.ident, radial_deg) == ("QEL", 360.0)
    assert by_radial.distance_nm == pytest.approx(10.799, abs=5e-4)
    assert fix("PINEY QEL 084.5 12").radials[0][1] == 84.5


def test_a_fix_by_dme_reading_states_its_altitude() -> None:
    by_reading = fix("TARNE QEL 084 dme 21 at 5500")
    assert (by_reading.distance_nm, by_reading.dme_altitude_ft) == (21.0, 5500.0)
    assert codes("fix TARNE QEL 084 dme 21") == [(23, "missing-word")]


def test_a_fix_by_two_radials() -> None:
    crossing = fix("ROSKO QHB 160 x QEL 090 mra 4000ft")
    assert [(name.ident, radial) for name, radial in crossing.radials] == [("QHB", 160.0), ("QEL", 90.0)]
    assert (crossing.distance_nm, crossing.mra_ft) == (None, 4000.0)


@pytest.mark.parametrize(
    ("text", "column", "code"),
    [
        ("fix PINEY QEL 18 12nm", 15, "bad-angle"),
        ("fix PINEY QEL 361 12nm", 15, "bad-angle"),
        ("fix PINEY QEL 180", 18, "missing-word"),
        ("fix PINEY QEL 180 0nm", 19, "bad-value"),
        ("fix PINEY QEL 180 12min", 19, "bad-unit"),
        ("fix PINEY QEL 180 1e1", 19, "bad-value"),
        ("fix PINEY QE1 180 12nm", 11, "bad-identifier"),
        ("fix PINEY QHB 160 X QEL 090", 19, "bad-value"),
        ("fix PINEY QEL 180 12nm mra 5000 mra 6000", 33, "given-twice"),
    ],
)
def test_wrong_fixes(text: str, column: int, code: str) -> None:
    assert codes(text)[0] == (column, code)
