"""`navlog fix` and `navlog position` with stations of the catalogue: the FAA's own fixes come out again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data

Run = Callable[..., tuple[int, str, str]]

SOURCE = "GLL: FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10, used for 2026-05-20\n"
DAY = ("--date", "2026-05-20")
QHB = "QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft"


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("catalogue") / "c.sqlite"
    import_data(DATA / "nasr", path)
    return path


@pytest.fixture(autouse=True)
def _chosen(monkeypatch: pytest.MonkeyPatch, catalogue: Path) -> None:
    monkeypatch.setenv("NAVLOG_CATALOGUE", str(catalogue))


def test_a_fix_of_a_published_station(navlog: Run) -> None:
    # FIX_NAV and FIX_BASE 2026-05-14: LIBEL is GLL 258.34, 25.17 NM, at 40.51237222, -105.10278611.
    status, out, err = navlog("fix GLL 258.34 25.17nm", *DAY)
    assert (status, err) == (0, SOURCE)
    assert out.splitlines()[0] == "N40 30.74 W105 06.17"


def test_radials_and_distances_of_a_published_station(navlog: Run) -> None:
    for typed in ("GLL", "gll"):
        status, out, err = navlog("position", "40.51237222 -105.10278611", "--station", typed, *DAY)
        assert (status, err) == (0, SOURCE)
        assert out.startswith("GLL 114.20 --. .-.. .-..  radial 258, course 078 TO  25.2 NM")


def test_a_station_given_by_hand_goes_before_the_published_one(navlog: Run) -> None:
    own = QHB.replace("QHB", "GLL")
    status, out, err = navlog("fix GLL 084 5nm", "--station", own)
    assert (status, err) == (0, "")
    assert out == navlog("fix QHB 084 5nm", "--station", QHB)[1].replace("QHB", "GLL")


def test_given_and_published_stations_together(navlog: Run) -> None:
    status, out, err = navlog("position", "40.5 -105.1", "--station", QHB, "--station", "GLL", *DAY)
    assert (status, err) == (0, SOURCE)
    assert [line[:3] for line in out.splitlines()] == ["GLL", "QHB"]


def test_an_old_cycle_is_said(navlog: Run) -> None:
    _, _, err = navlog("fix GLL 258.34 25.17nm --date 2027-01-01")
    assert err == SOURCE.replace("2026-05-20", "2027-01-01 though expired")


def test_of_several_stations_the_vor(navlog: Run) -> None:
    # NAV_BASE 2026-05-14 has MAZ as an NDB and as a VOR/DME.
    assert " MAZ " not in navlog("fix MAZ 090 5nm", *DAY)[2]
    assert navlog("fix MAZ 090 5nm", *DAY)[0] == 0


@pytest.mark.parametrize(
    ("line", "words", "message"),
    [
        ("fix GLK 090 5nm", (), "no station is called `GLK` [unknown-ident]"),
        (
            "fix QBH 090 5nm",
            ("--station", QHB),
            "no station `QBH` is given [unknown-ident]\n  hint: did you mean `QHB`?",
        ),
        ("position 40N105W", ("--station", "GLK"), "no station is called `GLK` [unknown-ident]"),
        ("position 40N105W", (), "no station is given [no-stations]"),
        ("fix AA 090 5nm", (), "`AA` is 2 stations"),
        ("fix GLL 090 5nm --catalogue /no/such/catalogue", (), "[no-catalogue]"),
        ("fix GLL 090 5nm --date yesterday", (), "yesterday"),
    ],
)
def test_what_is_wrong_is_said(navlog: Run, line: str, words: tuple[str, ...], message: str) -> None:
    status, out, err = navlog(line, *words)
    assert (status, out) == (2, "")
    assert message in err


def test_without_a_catalogue_stations_must_be_given(
    navlog: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("NAVLOG_CATALOGUE")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    for line in ("fix GLL 090 5nm", "position 40N105W --station GLL"):
        status, _, err = navlog(line)
        assert status == 2
        assert "the station `GLL` is not known, as there is no catalogue [unknown-ident]" in err
        assert "--station 'GLL 113.70 " in err
        assert "import published data" in err
