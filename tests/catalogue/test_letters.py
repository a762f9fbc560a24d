"""Names with letters outside ASCII, of whatever encoding a published file is: none loses a letter or its row."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data, open_catalogue

NAME = "JOS\N{LATIN CAPITAL LETTER E WITH ACUTE} APONTE"
LINES = (DATA / "cifp" / "FAACIFP18").read_text(encoding="ascii").splitlines()


@pytest.mark.parametrize("encoding", ["utf-8", "cp1252"])
def test_a_name_in_comma_separated_data(
    nasr_like: Callable[..., Path], tmp_path: Path, encoding: str, day: date
) -> None:
    row = {"NAV_ID": "JRV", "NAV_TYPE": "TACAN", "NAME": NAME, "LAT_DECIMAL": "18.24868333", "LONG_DECIMAL": "-65.6427"}
    folder = nasr_like("NAV_BASE.csv", row)
    file = folder / "NAV_BASE.csv"
    file.write_bytes(file.read_text(encoding="utf-8").encode(encoding))
    import_data(folder, tmp_path / "c.sqlite")
    with open_catalogue(tmp_path / "c.sqlite") as catalogue:
        (found,) = catalogue.stations("JRV", day)
    assert found.name == NAME


@pytest.mark.parametrize("encoding", ["utf-8", "cp1252"])
@pytest.mark.parametrize("counted", ["letters", "bytes"])
def test_a_name_in_fixed_columns(tmp_path: Path, encoding: str, counted: str, day: date) -> None:
    """Whether a record's 132 columns count letters or bytes, no field behind the name moves."""
    (line,) = [one for one in LINES if one[4:6] == "D " and one[13:17] == "ABI "]
    record = line[:93] + NAME.ljust(30) + line[123:]
    data = record.encode(encoding)
    if counted == "bytes" and len(data) > 132:
        data = data[:122] + data[123:]
    (tmp_path / "FAACIFP18").write_bytes(data + b"\n")
    report = import_data(tmp_path / "FAACIFP18", tmp_path / "c.sqlite")
    assert report.rejected == 0
    assert {file.provenance.cycle for file in report.files} == {line[128:132]}
    with open_catalogue(tmp_path / "c.sqlite") as catalogue:
        (found,) = catalogue.stations("ABI", day)
    assert found.name == NAME
