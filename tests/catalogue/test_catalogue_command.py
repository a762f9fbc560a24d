"""`navlog catalogue` as it is typed: what it prints, where, and how it ends."""

from __future__ import annotations

from pathlib import Path

import pytest

from navlog.cli import run

STATION = """\
ACY VORTAC ATLANTIC CITY NJ
  frequency     117.15 MHz, channel 118Y
  Morse         .- -.-. -.--
  position      N39 27.35 W074 34.58
  elevation     67 ft
  declination   10W (1970)
  variation     12W on 2026-05-20
  service       VOR VL, DME H
  status        OPERATIONAL RESTRICTED
  unusable      DME 270-290 beyond 10 NM
                DME 305-340 beyond 20 NM below 1900 ft
                VOR 135-140 beyond 40 NM
                VOR 160-240 beyond 40 NM
                VOR 241-251 beyond 41 NM
                VOR 252-260 beyond 40 NM
                VOR 270-290 beyond 10 NM
                VOR 291-304 beyond 40 NM
                VOR 305-340
                VOR 341-070 beyond 40 NM
  remarks       TACAN AZM UNUSBL 270-290 BYD 10NM; 305-340 BYD 20 NM BLW 1900
                FT.
  airways       V184
  source        FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10
"""


@pytest.fixture(autouse=True)
def _chosen(monkeypatch: pytest.MonkeyPatch, catalogue_file: Path) -> None:
    monkeypatch.setenv("NAVLOG_CATALOGUE", str(catalogue_file))


def printed(capsys: pytest.CaptureFixture[str], *arguments: str, status: int = 0) -> tuple[str, str]:
    assert run(["catalogue", *arguments]) == status
    result = capsys.readouterr()
    return result.out, result.err


def test_station(capsys: pytest.CaptureFixture[str]) -> None:
    out, err = printed(capsys, "station", "acy", "--date", "2026-05-20")
    assert out == STATION
    assert err == ""


@pytest.mark.parametrize(("day", "why"), [("2020-01-01", "not yet in force"), ("2027-01-01", "expired")])
def test_a_cycle_not_in_force_is_said(capsys: pytest.CaptureFixture[str], day: str, why: str) -> None:
    for kind, ident in (("station", "ACY"), ("airway", "V101")):
        out, _ = printed(capsys, kind, ident, "--date", day)
        assert f"used for {day} though {why}" in " ".join(out.split())


def test_stations_of_one_name_stand_apart(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = printed(capsys, "station", "MAZ", "--date", "2026-05-20")
    assert [block.split()[1] for block in out.split("\n\n")] == ["NDB", "VOR/DME"]


def test_airway_both_ways(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = printed(capsys, "airway", "V101", "--date", "2026-05-20")
    lines = out.splitlines()
    assert lines[0] == "V101 (contiguous United States), FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10"
    assert [line.split() for line in lines if line.startswith("  GLL")] == [
        ["GLL", "VOR/DME", "258/-", "25.17", "10000", "8900", "17500"]
    ]
    assert "      COP 71 NM from GLL to CHE" in lines
    assert "      MCA 13500 at LIBEL toward RIDJE" in lines
    assert [line.split() for line in lines if line.startswith("  ECHOA")] == [
        ["ECHOA", "-/-", "1.53", "11500/13200", "-", "17500"]
    ]
    assert "      turn at REAPS" in lines


@pytest.mark.parametrize("ident", ["V101", "V134", "V469", "V300", "V442", "Q149"])
def test_no_line_is_wider_than_a_terminal(capsys: pytest.CaptureFixture[str], ident: str) -> None:
    out, _ = printed(capsys, "airway", ident, "--date", "2026-05-20")
    assert max(len(line) for line in out.splitlines()) <= 80


def test_an_airway_of_two_locations_prints_both(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = printed(capsys, "airway", "V1", "--date", "2026-05-20")
    assert "V1 (contiguous United States)" in out
    assert "V1 (Hawaii)" in out


def test_nearby_says_who_is_received(capsys: pytest.CaptureFixture[str]) -> None:
    position = "N39 30.00 W074 40.00"
    out, _ = printed(capsys, "nearby", position, "--date", "2026-05-20", "--altitude", "1500", "--radius", "60")
    (acy,) = [line for line in out.splitlines() if line.startswith("ACY VORTAC")]
    # GeographicLib: 302.2 true and 4.97 NM from the station, declination 10W. NAV_RMK: VOR UNUSBL 305-340.
    assert acy.split() == ["ACY", "VORTAC", "117.15", "312", "122T", "5.0", "unusable", "ATLANTIC", "CITY"]
    # 075 true, so radial 085, of which only 341-070 BYD 40 NM and other radials are published.
    out, _ = printed(capsys, "nearby", "N39 28.60 W074 28.50", "--date", "2026-05-20", "--altitude", "1500")
    (acy,) = [line for line in out.splitlines() if line.startswith("ACY VORTAC")]
    assert acy.split()[6] == "yes"


def test_nearby_in_southern_decimals(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = printed(capsys, "nearby", "-33.5 151.0", "--date", "2026-05-20")
    assert len(out.splitlines()) == 1


def test_info_says_what_speaks_and_what_has_expired(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = printed(capsys, "info", "--date", "2026-05-20")
    assert out.splitlines()[0] == "FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10, used for 2026-05-20"
    late, _ = printed(capsys, "info", "--date", "2027-01-01")
    assert late.splitlines()[0].endswith("used for 2027-01-01 though expired")


def test_import_prints_counts_and_lists_rejected_rows(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, nasr: Path
) -> None:
    made = tmp_path / "made"
    made.mkdir()
    lines = (nasr / "FIX_BASE.csv").read_bytes().split(b"\r\n")
    lines[3] = lines[3].replace(b'"N",', b'"N",bad', 1)
    (made / "FIX_BASE.csv").write_bytes(b"\r\n".join(lines))
    target = tmp_path / "c.sqlite"
    out, err = printed(capsys, "import", str(made), "--catalogue", str(target))
    assert f"FIX_BASE.csv: {len(lines) - 3} fixes, 1 rejected (FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10)" in out
    assert "NAV_BASE.csv is not in this import; where no import before brought it, no station is known" in out
    assert err.splitlines() == [
        f"{made / 'FIX_BASE.csv'}:4: rejected: the latitude is not a number",
        f"{len(lines) - 3} rows taken, 1 rejected; the catalogue is {target}",
    ]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["station", "ACX"], "no station is called `ACX` [unknown-ident]"),
        (["airway", "V9999"], "no airway is called `V9999` [unknown-airway]"),
        (["airway", "\udcff"], "[unknown-airway]"),
        (["nearby", "somewhere else"], "[bad-position]"),
        (["import", "/no/such/path"], "[no-such-file]"),
        (["station", "ACY", "--date", "tomorrow"], "is not a date"),
        (["info", "--catalogue", "/no/such/catalogue"], "[no-catalogue]"),
    ],
)
def test_what_is_wrong_is_said_and_ends_with_2(
    capsys: pytest.CaptureFixture[str], arguments: list[str], message: str
) -> None:
    out, err = printed(capsys, *arguments, status=2)
    assert out == ""
    assert message in err


def test_a_slip_of_the_pen_is_answered_with_names(capsys: pytest.CaptureFixture[str]) -> None:
    _, err = printed(capsys, "station", "ACX", "--date", "2026-05-20", status=2)
    assert "did you mean" in err
    assert "ACY" in err
