"""FB bulletins: whole samples decoded, the published code, the dates, and damage named where it stands."""

from __future__ import annotations

import os
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError
from navlog.nav.wind import CALM, Wind, WindLevel
from navlog.request.bulletin import Bulletin, _decode_group, _Group, columns, dated, read_bulletin

BULLETINS = Path(__file__).parents[1] / "data" / "bulletins"
SAMPLES = sorted(BULLETINS.glob("*.txt"))
CONTIGUOUS = (BULLETINS / "FBUS31-2026-01-31-part.txt").read_text()
LEVELS_FT: tuple[float, ...] = (3000, 6000, 9000, 12000, 18000, 24000, 30000, 34000, 39000)


def groups_of(bulletin: Bulletin, ident: str) -> tuple[_Group | None, ...]:
    return next(station.groups for station in bulletin.stations if station.ident == ident)


def written(level: WindLevel) -> str:
    """The group for a level, written from the rules independently of the reader; not for light winds."""
    code, speed_kt = round(level.wind.from_true_deg / 10) or 36, round(level.wind.speed_kt)
    text = f"{code + 50 * (speed_kt >= 100):02d}{speed_kt % 100:02d}"
    if level.temperature_c is None:
        return text
    return text + (f"{-level.temperature_c:02.0f}" if level.height_ft > 24000 else f"{level.temperature_c:+03.0f}")


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_no_group_of_a_sample_is_dropped(sample: Path) -> None:
    check_every_group(sample)


def test_no_group_of_the_shared_samples_is_dropped() -> None:
    folder = os.environ.get("NAVLOG_SHARED_DATA")
    if folder is None:
        pytest.skip("NAVLOG_SHARED_DATA does not say where the shared data are")
    samples = sorted((Path(folder) / "winds-aloft-fb-sample").glob("FB*.txt"))
    assert samples
    for sample in samples:
        check_every_group(sample)


def check_every_group(sample: Path) -> None:
    """Compares with the words of each line, taken by blanks, and with each group written again."""
    lines = sample.read_text().split("\nFT", 1)[1].splitlines()[1:]
    words = {line[:3]: line[3:].split() for line in lines}
    stations = read_bulletin(sample.read_text(), sample.name).stations
    assert {station.ident: [g.text for g in station.groups if g] for station in stations} == words
    for group in (group for station in stations for group in station.groups if group):
        if group.text.startswith("9900"):
            assert group.level.wind == CALM
        else:
            assert written(group.level) == group.text


def test_the_official_example_at_every_level() -> None:
    # NWS Aviation Weather Center, description of the product (2008), with its decoding.
    bulletin = read_bulletin((BULLETINS / "MKC-2008.txt").read_text(), "MKC-2008.txt")
    winds = (240, 26), (270, 26), (280, 26), (290, 30), (270, 44), (270, 51), (270, 55), (270, 60), (270, 65)
    temperatures = (None, -9, -14, -21, -32, -41, -50, -50, -47)
    assert bulletin.stations[0].levels == tuple(
        WindLevel(height, Wind(*wind), temperature)
        for height, wind, temperature in zip(LEVELS_FT, winds, temperatures, strict=True)
    )


@pytest.mark.parametrize(
    ("text", "height_ft", "wind", "temperature_c"),
    [
        pytest.param("731960", 39000, Wind(230, 119), -60, id="PHAK chapter 12"),
        pytest.param("7799", 3000, Wind(270, 199), None, id="PHAK: 199 kt or more"),
        pytest.param("7399", 3000, Wind(230, 199), None, id="CNATRA P-1246: 199 kt or more"),
        pytest.param("9900", 3000, CALM, None, id="PHAK: light and variable"),
        pytest.param("2435+07", 6000, Wind(240, 35), 7, id="CNATRA P-304, with temperature"),
        pytest.param("2435", 3000, Wind(240, 35), None, id="CNATRA P-304, without"),
        pytest.param("274650", 30000, Wind(270, 46), -50, id="CNATRA P-304, above 24,000 ft"),
        pytest.param("7345", 3000, Wind(230, 145), None, id="CNATRA P-1246"),
        pytest.param("751041", 34000, Wind(250, 110), -41, id="a published test item"),
        pytest.param("3601-00", 9000, Wind(360, 1), 0, id="north"),
        pytest.param("9900-18", 12000, CALM, -18, id="light with temperature"),
        pytest.param("990055", 34000, CALM, -55, id="light above 24,000 ft"),
    ],
)
def test_published_groups(text: str, height_ft: float, wind: Wind, temperature_c: float | None) -> None:
    group = _decode_group(text, height_ft=height_ft)
    assert group.level == WindLevel(height_ft, wind, temperature_c)


@given(
    code=st.integers(1, 36),
    speed_kt=st.integers(0, 199),
    temperature_c=st.integers(-99, 0),
    height_ft=st.sampled_from(LEVELS_FT),
)
def test_a_written_group_reads_back(code: int, speed_kt: int, temperature_c: int, height_ft: float) -> None:
    level = WindLevel(height_ft, Wind(10 * code, speed_kt), None if height_ft <= 3000 else temperature_c)
    text = f"{code + 50 * (speed_kt >= 100):02d}" + written(level)[2:]
    assert _decode_group(text, height_ft=height_ft).level == level


@pytest.mark.parametrize("code", [0, *range(37, 51), *range(87, 100)])
def test_a_direction_code_that_says_nothing_is_refused(code: int) -> None:
    with pytest.raises(NavlogError, match="bulletin-group"):
        _decode_group(f"{code:02d}15+05", height_ft=6000)


def test_groups_are_told_apart_by_column() -> None:
    bulletin = read_bulletin(CONTIGUOUS, "us.txt")
    als, ama, bro = (groups_of(bulletin, ident) for ident in ("ALS", "AMA", "BRO"))
    assert als[:3] == (None, None, None)
    assert als[3] == _Group("3113-08", WindLevel(12000, Wind(310, 13), -8))
    assert ama[1] == _Group("0708", WindLevel(6000, Wind(70, 8), None))
    assert bro[5] == _Group("7701-25", WindLevel(24000, Wind(270, 101), -25))


def test_the_header_is_read_whole() -> None:
    bulletin = read_bulletin(CONTIGUOUS, "us.txt")
    period = dated(bulletin, date(2026, 1, 31))
    assert bulletin.heading == "FBUS31 KWNO 310158"
    assert bulletin.levels_ft == LEVELS_FT
    assert period.based_on == datetime(2026, 1, 31, tzinfo=UTC)
    assert period.valid == datetime(2026, 1, 31, 6, tzinfo=UTC)
    assert period.use_from == datetime(2026, 1, 31, 2, tzinfo=UTC)
    assert period.use_to == datetime(2026, 1, 31, 9, tzinfo=UTC)


@pytest.mark.parametrize(
    "framed",
    [
        CONTIGUOUS.replace("\n", "\r\n"),
        "\x01\r\r\n" + CONTIGUOUS.replace("\n", "   \r\r\n") + "\x03NNNN\nanything",
        "(Extracted from FBUS31 KWNO 310158)\n" + CONTIGUOUS,
        CONTIGUOUS.replace("310000Z    \nVALID", "310000Z DATA VALID"),
        "\ufeff" + CONTIGUOUS + "\n\n$$\n",
    ],
    ids=["CRLF", "transmitted", "extracted", "older layout", "byte order mark"],
)
def test_the_frame_around_a_bulletin_does_not_matter(framed: str) -> None:
    bare, other = read_bulletin(CONTIGUOUS, "us.txt"), read_bulletin(framed, "us.txt")
    assert [(s.ident, s.groups) for s in other.stations] == [(s.ident, s.groups) for s in bare.stations]
    assert (other.valid, other.based_on, other.use_to) == (bare.valid, bare.based_on, bare.use_to)


@pytest.mark.parametrize(
    ("based_on", "valid", "use", "near", "expected"),
    [
        # NWS periods of use: the 00Z and the 12Z run.
        ("190000Z", "190600Z", "0500-0900Z", "2026-06-19", ("19T00", "19T06", "19T05", "19T09")),
        ("190000Z", "191200Z", "0900-1800Z", "2026-06-19", ("19T00", "19T12", "19T09", "19T18")),
        ("190000Z", "200000Z", "1800-0500Z", "2026-06-19", ("19T00", "20T00", "19T18", "20T05")),
        ("191200Z", "200000Z", "2100-0600Z", "2026-06-20", ("19T12", "20T00", "19T21", "20T06")),
        ("191200Z", "201200Z", "0600-1700Z", "2026-06-20", ("19T12", "20T12", "20T06", "20T17")),
        # Over the end of a month and of a year.
        ("310000Z", "010000Z", "1800-0500Z", "2026-05-31", ("2026-05-31T00", "2026-06-01T00")),
        ("311200Z", "010000Z", "2100-0600Z", "2026-12-31", ("2026-12-31T12", "2027-01-01T00")),
        ("281200Z", "010000Z", "2100-0600Z", "2026-02-28", ("2026-02-28T12", "2026-03-01T00")),
        ("311200Z", "311800Z", "1700-2100Z", "2027-01-01", ("2026-12-31T12", "2026-12-31T18")),
    ],
)
def test_dates_are_put_around_the_flight(
    based_on: str, valid: str, use: str, near: str, expected: tuple[str, ...]
) -> None:
    text = CONTIGUOUS.replace("310000Z", based_on).replace("310600Z", valid).replace("0200-0900Z", use)
    period = dated(read_bulletin(text, "us.txt"), date.fromisoformat(near))
    found = [m for m in (period.based_on, period.valid, period.use_from, period.use_to) if m]
    prefix = "" if "-" in expected[0] else near[:8]
    wanted = [datetime.fromisoformat(f"{prefix}{text}:00+00:00") for text in expected]
    assert found[: len(wanted)] == wanted
    assert period.use_from <= period.valid <= period.use_to


def test_dates_at_the_ends_of_the_calendar_do_not_break() -> None:
    for near in (date.min, date.max):
        assert dated(read_bulletin(CONTIGUOUS, "us.txt"), near).valid.day == 31


def test_columns_need_a_place_for_each_station() -> None:
    places = {"SEA": Position(47.435, -122.310), "DEN": Position(39.812, -104.661)}
    found, missing = columns(read_bulletin(CONTIGUOUS, "us.txt"), places)
    assert [(column.name, column.position) for column in found] == [(i, places[i]) for i in ("DEN", "SEA")]
    assert found[1].levels[0] == WindLevel(3000, Wind(220, 19), None)
    assert found[0].levels[0].height_ft == 9000
    assert len(missing) == 31
    assert "ABI" in missing


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        pytest.param("3222-06", "3722-06", [("bulletin-group", 8, 18)], id="direction code"),
        pytest.param("3222-06", "3222-6", [("bulletin-group", 8, 18)], id="temperature of one digit"),
        pytest.param("359045", "35904", [("bulletin-group", 8, 50)], id="five digits above 24,000 ft"),
        pytest.param("3248-22", "3248   ", [("bulletin-group", 8, 34)], id="no temperature at 18,000 ft"),
        pytest.param("ABI      3114", "ABI 3114", [("bulletin-column", 8, 13), ("bulletin-group", 8, 5)], id="blanks"),
        pytest.param("358450", "      ", [], id="nothing changed"),
        pytest.param("850053", "      ", [("bulletin-cut-off", 8, 70)], id="hole"),
        pytest.param(" 329558", "", [("bulletin-cut-off", 8, 63)], id="highest level gone"),
        pytest.param("310600Z", "320600Z", [("bulletin-header", 5, 1)], id="day 32"),
        pytest.param("0200-0900Z", "0200Z", [("bulletin-header", 5, 17)], id="no end of use"),
        pytest.param("  FOR USE 0200-0900Z.", "", [("bulletin-header", 1, 1)], id="no use"),
        pytest.param(" TEMPS NEG ABV 24000", "", [("bulletin-header", 1, 1)], id="no TEMPS NEG ABV"),
        pytest.param("FT  3000", "    3000", [("bulletin-header", 1, 1)], id="no FT"),
        pytest.param("9000   12000", "9000    1200", [("bulletin-levels", 7, 29)], id="levels fall"),
        pytest.param("ABR", "ABI", [("bulletin-station", 10, 1)], id="a station twice"),
        pytest.param("ABR", "A?R", [("bulletin-station", 10, 1)], id="not a station"),
        pytest.param("ABR", "VALID", [("bulletin-second", 10, 1)], id="a second bulletin"),
    ],
)
def test_damage_is_named_with_its_place(old: str, new: str, expected: list[tuple[str, int, int]]) -> None:
    found = problems_of(CONTIGUOUS.replace(old, new))
    assert sorted(found) == sorted(expected)


def problems_of(text: str) -> list[tuple[str, int, int]]:
    """Code, line and column of each problem, if the text has any."""
    try:
        read_bulletin(text, "us.txt")
    except NavlogError as error:
        spans = [(problem.code, problem.span) for problem in error.problems if problem.hint]
        return [(code, span.line, span.column) for code, span in spans if span is not None]
    return []


def test_all_damage_is_named_at_once() -> None:
    text = CONTIGUOUS.replace("310600Z", "320600Z").replace("3222-06", "3722-06").replace("ABR", "ABI")
    assert [code for code, _, _ in problems_of(text)] == [
        "bulletin-header",
        "bulletin-group",
        "bulletin-station",
    ]


def test_a_bulletin_cut_off_anywhere_in_a_line_is_refused() -> None:
    start = CONTIGUOUS.index("ABI ")
    end = CONTIGUOUS.index("\n", CONTIGUOUS.index("BRO "))
    for cut in range(1, end):
        whole_lines = cut > start and "\n" in CONTIGUOUS[cut - 1 : cut + 1]
        assert bool(problems_of(CONTIGUOUS[:cut])) is not whole_lines, CONTIGUOUS[:cut]


@given(text=st.text() | st.text("0123456789 \nFTVALIDUSEZ.+-").map(lambda tail: CONTIGUOUS[:300] + tail))
def test_any_text_gives_a_bulletin_or_problems(text: str) -> None:
    problems_of(text)


@pytest.mark.parametrize(
    ("use", "valid", "held"),
    [
        ("1400-2100Z", "181800Z", True),
        ("2100-0600Z", "190000Z", True),
        ("2100-0600Z", "190600Z", True),
        ("1400-2100Z", "180600Z", False),
        ("2100-0600Z", "191200Z", False),
    ],
)
def test_the_period_for_use_holds_the_valid_time(use: str, valid: str, held: bool) -> None:
    # NWS description of the product: 8 hours of use around the valid time.
    header = f"VALID {valid}   FOR USE {use}. TEMPS NEG ABV 24000\n"
    text = f"DATA BASED ON 181200Z\n{header}FT  3000    6000\nQHB 2312 2418+04\n"
    if held:
        assert read_bulletin(text, "w.txt").use_from
        return
    with pytest.raises(NavlogError) as raised:
        read_bulletin(text, "w.txt")
    (problem,) = raised.value.problems
    assert (problem.code, problem.span and problem.span.line) == ("bulletin-header", 2)
    assert "does not hold the valid time" in problem.message
