"""Archives made to do harm are refused, and the catalogue stays as it was."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from navlog.catalogue import import_data
from navlog.nav.problems import NavlogError

TABLE = b'"EFF_DATE","NAV_ID"\r\n'


def refused(path: Path, code: str, tmp_path: Path) -> None:
    target = tmp_path / "catalogue.sqlite"
    with pytest.raises(NavlogError, match=code):
        import_data(path, target)
    assert not target.exists()


@pytest.mark.parametrize(
    "name",
    [
        "../NAV_BASE.csv",
        "/NAV_BASE.csv",
        "CSV/../../NAV_BASE.csv",
        "C:/NAV_BASE.csv",
        "..\\NAV_BASE.csv",
        "\\x\\NAV_BASE.csv",
    ],
)
def test_names_that_lead_out_of_the_archive(tmp_path: Path, name: str) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr(zipfile.ZipInfo(name), TABLE)
    refused(path, "unsafe-archive", tmp_path)


def test_an_unsafe_name_in_an_inner_archive(tmp_path: Path) -> None:
    inner, outer = tmp_path / "inner.zip", tmp_path / "outer.zip"
    with zipfile.ZipFile(inner, "w") as archive:
        archive.writestr("../NAV_BASE.csv", TABLE)
    with zipfile.ZipFile(outer, "w") as archive:
        archive.write(inner, "CSV_Data/inner.zip")
    refused(outer, "unsafe-archive", tmp_path)


def test_a_bomb_by_its_ratio(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("NAV_BASE.csv", bytes(20 << 20))
    assert path.stat().st_size < 30_000
    refused(path, "unsafe-archive", tmp_path)


def test_a_bomb_as_an_inner_archive(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("inner.zip", bytes(20 << 20))
    refused(path, "unsafe-archive", tmp_path)


def test_a_member_that_unpacks_to_more_than_it_declares(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    content = TABLE + b'"2026/05/14","QHB"\r\n' * 50_000
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("NAV_BASE.csv", content)
    raw = path.read_bytes()
    declared = len(content).to_bytes(4, "little")
    assert raw.count(declared) == 2
    path.write_bytes(raw.replace(declared, (1000).to_bytes(4, "little")))
    target = tmp_path / "catalogue.sqlite"
    with pytest.raises(NavlogError):
        import_data(path, target)
    assert not target.exists()


def test_an_encrypted_member(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("NAV_BASE.csv", TABLE)
    raw = bytearray(path.read_bytes())
    directory = raw.index(b"PK\x01\x02")
    raw[6] |= 1
    raw[directory + 8] |= 1
    path.write_bytes(raw)
    refused(path, "unsafe-archive", tmp_path)


def test_a_member_packed_in_an_unusual_way(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_BZIP2) as archive:
        archive.writestr("NAV_BASE.csv", TABLE)
    refused(path, "unsafe-archive", tmp_path)


@pytest.mark.parametrize("damage", ["cut", "bytes"])
def test_a_damaged_archive(tmp_path: Path, nasr: Path, damage: str) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.write(nasr / "NAV_BASE.csv", "NAV_BASE.csv")
    raw = bytearray(path.read_bytes())
    if damage == "cut":
        del raw[2000:2400]
    else:
        raw[2000:2400] = bytes(400)
    path.write_bytes(raw)
    refused(path, "bad-archive", tmp_path)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.99])
def test_a_download_that_broke_off_is_told_as_cut_short(tmp_path: Path, nasr: Path, share: float) -> None:
    # A zip's directory stands at its end (PKWARE APPNOTE 4.3.6), so that a part has none and looks like no zip.
    path = tmp_path / "cut.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.write(nasr / "NAV_BASE.csv", "NAV_BASE.csv")
    path.write_bytes(path.read_bytes()[: int(share * path.stat().st_size)])
    refused(path, "cut short: its end is missing", tmp_path)


def test_a_zip_three_deep_is_not_looked_into(tmp_path: Path, nasr: Path) -> None:
    path = nasr / "NAV_BASE.csv"
    for depth in range(3):
        packed = tmp_path / f"{depth}.zip"
        with zipfile.ZipFile(packed, "w") as archive:
            archive.write(path, path.name)
        path = packed
    refused(path, "no-known-data", tmp_path)
