"""What an import takes, what it refuses and what it says of both."""

from __future__ import annotations

import csv
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DAY, QHB, Row

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.catalogue.text import import_lines
from navlog.nav.problems import NavlogError

FILES = {
    "NAV_BASE.csv": "stations",
    "NAV_RMK.csv": "station remarks",
    "FIX_BASE.csv": "fixes",
    "FIX_NAV.csv": "fix make-ups",
    "APT_BASE.csv": "airports",
    "AWY_BASE.csv": "airways",
    "AWY_SEG_ALT.csv": "airway points",
    "PFR_BASE.csv": "preferred routes",
    "NAV_CKPT.csv": "receiver checkpoints",
}


def counts(path: Path, tmp_path: Path) -> dict[str, int]:
    report = import_data(path, tmp_path / "c.sqlite")
    return {file.kind: file.rows for file in report.files}


def packed(target: Path, source: Path) -> Path:
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in sorted(source.glob("*.csv")):
            archive.write(file, f"CSV_Data/{file.name}")
    return target


def test_every_published_row_is_counted(nasr: Path, tmp_path: Path, published: Callable[[str], list[Row]]) -> None:
    report = import_data(nasr, tmp_path / "c.sqlite")
    assert {file.kind: file.rows for file in report.files} == {
        kind: len(published(name)) for name, kind in FILES.items()
    }
    assert report.rejected == 0
    assert report.missing == ()
    assert {file.provenance.cycle for file in report.files} == {"2605"}


def test_a_zip_and_a_zip_inside_it_hold_the_same_as_the_folder(nasr: Path, tmp_path: Path) -> None:
    folder = counts(nasr, tmp_path)
    inner = packed(tmp_path / "14_May_2026_CSV.zip", nasr)
    outer = tmp_path / "28DaySubscription.zip"
    with zipfile.ZipFile(outer, "w") as archive:
        archive.writestr("README.txt", "NASR")
        archive.write(inner, "CSV_Data/14_May_2026_CSV.zip")
    assert counts(inner, tmp_path) == folder
    assert counts(outer, tmp_path) == folder
    holder = tmp_path / "downloads"
    holder.mkdir()
    inner.rename(holder / inner.name)
    assert counts(holder, tmp_path) == folder


def test_missing_files_are_named_with_what_cannot_be_answered(tmp_path: Path, nasr_like: Callable[..., Path]) -> None:
    report = import_data(nasr_like("NAV_BASE.csv", QHB), tmp_path / "c.sqlite")
    missing = dict(report.missing)
    assert set(missing) == set(FILES) - {"NAV_BASE.csv"}
    assert missing["AWY_SEG_ALT.csv"] == "no airway is known"


_LATITUDE = "LAT_DECIMAL is not its degrees, minutes and seconds"


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"NAV_ID": ""}, "it has no identifier"),
        ({"NAV_ID": "Q\N{REPLACEMENT CHARACTER}B"}, "the identifier is not readable text"),
        ({"NAV_TYPE": "LIGHTHOUSE"}, "its station type is unknown"),
        ({"LAT_DECIMAL": ""}, "it has no position"),
        ({"LAT_DECIMAL": "95.5"}, "the latitude is not between -90 and 90"),
        ({"LONG_DECIMAL": "-181"}, "the longitude is not between -180 and 180"),
        ({"LAT_DECIMAL": "46N12"}, "the latitude is not a number"),
        ({"MAG_VARN": "fifteen"}, "the declination is not a number"),
        ({"MAG_VARN": "200"}, "the declination is out of range"),
        *(({"MAG_VARN_HEMIS": side}, "the declination is neither east nor west") for side in ("", "w", "X", "S", "5")),
        ({"ELEV": "51000000"}, "the elevation is out of range"),
        # N46 12 18 is 46.205; a second of angle is 0.00028 degrees.
        ({"LAT_DEG": "46", "LAT_MIN": "36", "LAT_SEC": "18", "LAT_HEMIS": "N"}, _LATITUDE),
        ({"LAT_DEG": "46", "LAT_MIN": "12", "LAT_SEC": "19.1", "LAT_HEMIS": "N"}, _LATITUDE),
        ({"LAT_DEG": "46", "LAT_MIN": "12", "LAT_SEC": "18", "LAT_HEMIS": "S"}, _LATITUDE),
        ({"LAT_DEG": "46", "LAT_MIN": "12", "LAT_SEC": "18", "LAT_HEMIS": "X"}, "LAT_HEMIS is `X`, not N or S"),
        (
            {"LONG_DEG": "39", "LONG_MIN": "20", "LONG_SEC": "42", "LONG_HEMIS": "E"},
            "LONG_DECIMAL is not its degrees, minutes and seconds",
        ),
        ({"FREQ": "98.5"}, "the frequency is not one of a VOR"),
    ],
)
def test_a_rejected_row_is_listed_with_its_line_and_reason(
    tmp_path: Path, nasr_like: Callable[..., Path], change: Row, reason: str
) -> None:
    made = nasr_like("NAV_BASE.csv", QHB, {**QHB, "NAV_ID": "QEL", **change}, {**QHB, "NAV_ID": "QWM"})
    report = import_data(made, tmp_path / "c.sqlite")
    (file,) = report.files
    assert (file.rows, file.rejected) == (2, 1)
    (rejection,) = file.rejections
    assert (Path(rejection.file).name, rejection.line, rejection.reason) == ("NAV_BASE.csv", 3, reason)


def test_a_position_told_twice_alike_is_taken(tmp_path: Path, nasr_like: Callable[..., Path]) -> None:
    """QHB is at N46 12 18, W039 20 42: 46.205, -39.345; the second tells it a second of angle off, no farther."""
    latitude = {"LAT_DEG": "46", "LAT_MIN": "12", "LAT_SEC": "18", "LAT_HEMIS": "N"}
    longitude = {"LONG_DEG": "39", "LONG_MIN": "20", "LONG_SEC": "41.1", "LONG_HEMIS": "W"}
    made = nasr_like("NAV_BASE.csv", {**QHB, **latitude}, {**QHB, **latitude, **longitude, "NAV_ID": "QWM"})
    (file,) = import_data(made, tmp_path / "c.sqlite").files
    assert (file.rows, file.rejected) == (2, 0)


@pytest.mark.parametrize("column", ["MIN_ENROUTE_ALT", "MIN_OBSTN_CLNC_ALT", "MIN_RECEP_ALT", "MAX_AUTH_ALT"])
@pytest.mark.parametrize(("altitude", "taken"), [("60000", True), ("60001", False), ("-2001", False)])
def test_an_altitude_that_no_airway_has_rejects_its_row(
    tmp_path: Path, nasr_like: Callable[..., Path], column: str, altitude: str, taken: bool
) -> None:
    """A route file may state up to 60,000 ft; the highest MAA of FAA NASR 2026-05-14 is that."""
    row = {"AWY_ID": "V801", "POINT_SEQ": "10", "FROM_POINT": "QHB", "FROM_PT_TYPE": "VOR"}
    made = nasr_like("AWY_SEG_ALT.csv", {**row, column: altitude}, {**row, "POINT_SEQ": "20", "FROM_POINT": "QEL"})
    (file,) = import_data(made, tmp_path / "c.sqlite").files
    assert (file.rows, file.rejected) == ((2, 0) if taken else (1, 1))


def test_an_airway_row_with_a_bad_number_breaks_the_airway_there(
    tmp_path: Path, nasr_like: Callable[..., Path]
) -> None:
    points = ("QHB", "PINEY", "ROSKO", "LAKER", "QEL")
    rows = [
        {
            "AWY_ID": "V801",
            "AWY_LOCATION": "C",
            "POINT_SEQ": str(10 * number),
            "FROM_POINT": point,
            "FROM_PT_TYPE": "RP   ",
            "ICAO_REGION_CODE": "XX",
            "TO_POINT": following,
            "MAG_COURSE_DIST": "12.5" if point != "ROSKO" else "12,5",
            "MIN_ENROUTE_ALT": "3000",
        }
        for number, (point, following) in enumerate(zip(points, (*points[1:], ""), strict=True), 1)
    ]
    path = tmp_path / "c.sqlite"
    report = import_data(nasr_like("AWY_SEG_ALT.csv", *rows), path)
    assert [rejection.reason for file in report.files for rejection in file.rejections] == [
        "the distance is not a number"
    ]
    with open_catalogue(path) as catalogue:
        (airway,) = catalogue.airways("V801", DAY)
    assert [(s.start, s.end, s.service.value, s.distance_nm) for s in airway.segments] == [
        ("QHB", "PINEY", "normal", 12.5),
        ("PINEY", "LAKER", "discontinued", None),
        ("LAKER", "QEL", "normal", 12.5),
    ]


def test_an_airway_of_a_single_point_leads_nowhere_whatever_its_row_says(
    tmp_path: Path, nasr_like: Callable[..., Path]
) -> None:
    row = {"AWY_ID": "V801", "AWY_LOCATION": "C", "POINT_SEQ": "10", "FROM_POINT": "QHB", "ICAO_REGION_CODE": "XX"}
    said = {"MIN_CROSS_ALT": "5000", "MIN_CROSS_ALT_DIR": "W BND", "REMARK": "MCA QHB 5000 W BND. QHB R-212 UNUSABLE."}
    import_data(nasr_like("AWY_SEG_ALT.csv", {**row, **said}), tmp_path / "c.sqlite")
    with open_catalogue(tmp_path / "c.sqlite") as catalogue:
        (airway,) = catalogue.airways("V801", DAY)
    assert (airway.points, airway.segments) == (("QHB",), ())


def test_lines_after_a_line_break_inside_quotes_are_still_told_right(tmp_path: Path, nasr: Path) -> None:
    made = tmp_path / "made"
    made.mkdir()
    lines = (nasr / "AWY_SEG_ALT.csv").read_bytes().split(b"\r\n")
    start = next(number for number, line in enumerate(lines) if b'"Q149"' in line)
    (made / "AWY_SEG_ALT.csv").write_bytes(
        b"\r\n".join([lines[0], *lines[start : start + 9], b'"2026/05/14","N"', b""])
    )
    report = import_data(made, tmp_path / "c.sqlite")
    assert [(one.line, one.reason) for one in report.files[0].rejections] == [(11, "2 columns where the header has 47")]


def test_an_unclosed_quote_costs_the_rows_it_swallows_and_no_others(
    tmp_path: Path, nasr_like: Callable[..., Path]
) -> None:
    made = nasr_like("NAV_BASE.csv", *(QHB | {"NAV_ID": f"Q{letter}"} for letter in "ABCDEFGHIJKLMN"))
    file = made / "NAV_BASE.csv"
    lines = file.read_text(encoding="utf-8").splitlines(keepends=True)
    lines[4] = lines[4].replace("QD", '"QD', 1)
    file.write_text("".join(lines), encoding="utf-8")
    report = import_data(made, tmp_path / "c.sqlite")
    assert report.rows == 3
    assert [one.line for one in report.files[0].rejections] == [5]


def test_a_field_longer_than_any_is_rejected_and_reading_goes_on(
    tmp_path: Path, nasr_like: Callable[..., Path]
) -> None:
    long = QHB | {"NAV_ID": "QEL", "NAME": "X" * 200_000}
    report = import_data(nasr_like("NAV_BASE.csv", QHB, long, QHB | {"NAV_ID": "QWM"}), tmp_path / "c.sqlite")
    assert report.rows == 2
    assert "field larger than" in report.files[0].rejections[0].reason


def test_rows_of_another_date_than_their_file_are_rejected(tmp_path: Path, nasr_like: Callable[..., Path]) -> None:
    made = nasr_like("NAV_BASE.csv", QHB, QHB | {"NAV_ID": "QEL", "EFF_DATE": "2026/04/16"})
    report = import_data(made, tmp_path / "c.sqlite")
    assert [one.reason for one in report.files[0].rejections] == ["dated 2026/04/16 in a file of 2026/05/14"]


def test_files_of_two_days_are_one_edition_and_said(tmp_path: Path, nasr_like: Callable[..., Path]) -> None:
    nasr_like("NAV_BASE.csv", QHB)
    made = nasr_like("AWY_BASE.csv", {"AWY_ID": "V801", "AWY_LOCATION": "C"}, effective="2026/04/16")
    report = import_data(made, tmp_path / "c.sqlite")
    assert report.notes == ("AWY_BASE.csv is of 2026-04-16, the newest file of 2026-05-14",)
    # Each file is of its own cycle, and both are in one edition, of the newest.
    assert [(file.file[-12:], file.provenance.cycle) for file in report.files] == [
        ("NAV_BASE.csv", "2605"),
        ("AWY_BASE.csv", "2604"),
    ]
    assert next(import_lines(report)).endswith("2026-05-14 to 2026-06-10)")
    with open_catalogue(tmp_path / "c.sqlite") as catalogue:
        assert [edition.provenance.cycle for edition in catalogue.editions] == ["2605"]


def test_columns_are_found_by_name_in_any_order_and_padded(tmp_path: Path, nasr: Path) -> None:
    made = tmp_path / "made"
    made.mkdir()
    with (nasr / "FIX_BASE.csv").open(newline="", encoding="ascii") as file:
        rows = list(csv.reader(file))
    order = list(reversed(range(len(rows[0]))))
    rows[0][rows[0].index("COUNTRY_CODE")] = "COUNTRY_CODE  "
    with (made / "FIX_BASE.csv").open("w", newline="", encoding="ascii") as file:
        csv.writer(file).writerows([row[place] for place in order] for row in rows)
    import_data(made, tmp_path / "c.sqlite")
    with open_catalogue(tmp_path / "c.sqlite") as catalogue:
        (fix,) = catalogue.fixes("LIBEL", DAY)
    assert fix.region == "K2"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b'"EFF_DATE","FIX_ID"\r\n"2026/05/14","PINEY"\r\n', "has no column LAT_DECIMAL, LONG_DECIMAL"),
        (b"", "FIX_BASE.csv is empty"),
        (b"\x00\xff\x13" * 99, "FIX_BASE.csv has no "),
    ],
)
def test_after_a_file_without_its_columns_nothing_is_taken(
    text: bytes, said: str, tmp_path: Path, nasr_like: Callable[..., Path]
) -> None:
    made = nasr_like("NAV_BASE.csv", QHB)
    (made / "FIX_BASE.csv").write_bytes(text)
    with pytest.raises(NavlogError) as caught:
        import_data(made, tmp_path / "c.sqlite")
    (problem,) = caught.value.problems
    assert problem.code == "wrong-columns"
    assert said in problem.message
    assert not (tmp_path / "c.sqlite").exists()


def test_the_same_cycle_again_replaces_what_it_brought_file_by_file(
    tmp_path: Path, nasr: Path, nasr_like: Callable[..., Path]
) -> None:
    path = tmp_path / "c.sqlite"
    import_data(nasr, path)
    import_data(nasr_like("NAV_BASE.csv", QHB), path)
    with open_catalogue(path) as catalogue:
        assert [station.ident for station in catalogue.stations("QHB", DAY)] == ["QHB"]
        assert catalogue.stations("GLL", DAY) == ()
        assert catalogue.fixes("LIBEL", DAY) != ()
        assert len(catalogue.editions) == 1


def test_a_file_with_fewer_rows_than_the_same_cycle_had_is_said(tmp_path: Path, nasr_like: Callable[..., Path]) -> None:
    path = tmp_path / "c.sqlite"
    made = nasr_like("NAV_BASE.csv", QHB, QHB | {"NAV_ID": "QEL"}, QHB | {"NAV_ID": "QWM"})
    first = import_data(made, path)
    assert next(import_lines(first)).startswith("NAV_BASE.csv: 3 stations (FAA NASR")
    again = import_data(made, path)
    assert next(import_lines(again)).startswith("NAV_BASE.csv: 3 stations (FAA NASR")
    assert again.notes == ()
    cut = import_data(nasr_like("NAV_BASE.csv", QHB), path)
    assert next(import_lines(cut)).startswith("NAV_BASE.csv: 1 stations, 3 before (FAA NASR")
    assert cut.notes == ("NAV_BASE.csv has 2 stations fewer than before: is it the whole file?",)


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        ([], ""),
        ([QHB | {"FREQ": "98.5"}], ", all are rejected, line 2 as the frequency is not one of a VOR"),
    ],
)
def test_a_file_without_a_row_to_take_replaces_nothing(
    tmp_path: Path, nasr_like: Callable[..., Path], rows: list[Row], why: str
) -> None:
    path = tmp_path / "c.sqlite"
    airway = {"AWY_ID": "V801", "AWY_LOCATION": "C"}
    nasr_like("AWY_BASE.csv", airway)
    import_data(nasr_like("NAV_BASE.csv", QHB), path)
    report = import_data(nasr_like("NAV_BASE.csv", *rows), path)
    told = f"NAV_BASE.csv is not taken, as it holds no row of stations{why}"
    assert report.notes == (f"{told}; the 1 stations of before stay",)
    with open_catalogue(path) as catalogue:
        assert [station.ident for station in catalogue.stations("QHB", DAY)] == ["QHB"]
        (edition,) = catalogue.editions
        assert {(holding.kind, holding.rows) for holding in edition.holdings} == {("station", 1), ("airway", 1)}
    written = path.read_bytes()
    (tmp_path / "made" / "AWY_BASE.csv").unlink()
    with pytest.raises(NavlogError, match="no-known-data") as caught:
        import_data(tmp_path / "made", path)
    assert told in str(caught.value)
    assert path.read_bytes() == written


def test_an_empty_file_of_a_new_cycle_does_not_hide_the_one_before(
    tmp_path: Path, nasr_like: Callable[..., Path]
) -> None:
    path = tmp_path / "c.sqlite"
    import_data(nasr_like("NAV_BASE.csv", QHB), path)
    nasr_like("NAV_BASE.csv", effective="2026/06/11")
    airway = {"AWY_ID": "V801", "AWY_LOCATION": "C"}
    report = import_data(nasr_like("AWY_BASE.csv", airway, effective="2026/06/11"), path)
    assert report.notes == ("NAV_BASE.csv is not taken, as it holds no row of stations",)
    with open_catalogue(path) as catalogue:
        assert len(catalogue.editions) == 2
        assert len(catalogue.stations("QHB", date(2026, 6, 11))) == 1


def test_several_cycles_live_side_by_side(tmp_path: Path, nasr_like: Callable[..., Path]) -> None:
    path = tmp_path / "c.sqlite"
    for effective, frequency in (("2026/05/14", "113.7"), ("2026/06/11", "114.1"), ("2026/04/16", "110.2")):
        made = nasr_like("NAV_BASE.csv", QHB | {"FREQ": frequency}, effective=effective)
        import_data(made, path)

    def frequency_on(catalogue: Catalogue, day: str) -> float | None:
        (station,) = catalogue.stations("QHB", date.fromisoformat(day))
        return station.frequency_mhz

    with open_catalogue(path) as catalogue:
        assert frequency_on(catalogue, "2026-05-14") == 113.7
        assert frequency_on(catalogue, "2026-06-10") == 113.7
        assert frequency_on(catalogue, "2026-06-11") == 114.1
        assert frequency_on(catalogue, "2027-01-01") == 114.1
        assert frequency_on(catalogue, "2026-05-01") == 110.2
        assert frequency_on(catalogue, "2020-01-01") == 110.2


def test_two_cycles_in_one_folder_are_a_problem(tmp_path: Path, nasr_like: Callable[..., Path]) -> None:
    nasr_like("NAV_BASE.csv", QHB, folder="made")
    nasr_like("NAV_BASE.csv", QHB, effective="2026/06/11", folder="made2")
    with pytest.raises(NavlogError, match="several-cycles"):
        import_data(tmp_path, tmp_path / "c.sqlite")


@pytest.mark.parametrize("content", ["", "nothing\n", "\x00\xff\n", '"EFF_DATE"\r\n'])
def test_files_that_hold_nothing_known_are_a_problem(tmp_path: Path, content: str) -> None:
    (tmp_path / "NAV_BASE.csv").write_text(content, encoding="latin-1")
    with pytest.raises(NavlogError, match="wrong-columns"):
        import_data(tmp_path, tmp_path / "c.sqlite")
    assert not (tmp_path / "c.sqlite").exists()


def test_a_path_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    with pytest.raises(NavlogError, match="no-such-file"):
        import_data(tmp_path / "gone", tmp_path / "c.sqlite")


def test_a_date_that_is_none_is_a_problem(tmp_path: Path, nasr_like: Callable[..., Path]) -> None:
    with pytest.raises(NavlogError, match="bad-date"):
        import_data(nasr_like("NAV_BASE.csv", QHB, effective="14 May"), tmp_path / "c.sqlite")


def test_progress_ends_at_the_total(nasr: Path, tmp_path: Path) -> None:
    told: list[tuple[str, int, int]] = []
    import_data(nasr, tmp_path / "c.sqlite", progress=lambda *args: told.append(args))
    assert {name for name, _, _ in told} == set(FILES)
    assert [done for _, done, _ in told] == sorted(done for _, done, _ in told)
    assert told[-1][1] == told[-1][2] == sum((nasr / name).stat().st_size for name in FILES)
