"""The audit of published airways: what it must find in the excerpt, what it must not, and how it is typed.

Expected courses and lengths are GeographicLib's, from the positions that stand in the excerpt's own rows.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from geographiclib.geodesic import Geodesic
from helpers.nasr_excerpt import Row
from helpers.straight_legs import NAUTICAL_MILE_M

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.airway_queries import designators
from navlog.catalogue.audit import Audit, AuditLimits, audit
from navlog.catalogue.comparisons import Checked, FigureComparison
from navlog.catalogue.queries import Catalogue
from navlog.cli import run
from navlog.nav.chart import Place, Position

HUNDREDTH = 0.01


def audited(catalogue: Catalogue, day: date, *idents: str, limits: AuditLimits | None = None) -> Audit:
    return audit(catalogue, idents or designators(catalogue, day), day, limits or AuditLimits())


def disagreeing(found: Audit, checked: Checked) -> tuple[FigureComparison, ...]:
    return next(tally.disagreeing for tally in found.tallies if tally.checked is checked)


def ways(found: Audit, checked: Checked) -> list[str]:
    return [f"{one.airway} {one.start}-{one.end}" for one in disagreeing(found, checked)]


def line(start: Position, end: Position) -> dict[str, float]:
    found: dict[str, float] = Geodesic.WGS84.Inverse(
        start.latitude_deg, start.longitude_deg, end.latitude_deg, end.longitude_deg
    )
    return found


def position(catalogue: Catalogue, day: date, ident: str) -> Position:
    places: list[Place] = [*catalogue.stations(ident, day), *catalogue.fixes(ident, day)]
    assert places[0].position is not None
    return places[0].position


def test_the_length_that_is_nine_miles_short_is_found(catalogue: Catalogue, day: date) -> None:
    (one,) = disagreeing(audited(catalogue, day, "V583"), Checked.LENGTH)
    apart_nm = line(position(catalogue, day, "LOA"), position(catalogue, day, "FZT"))["s12"] / NAUTICAL_MILE_M
    assert (one.start, one.end, one.published) == ("LOA", "FZT", 52.16)
    assert one.computed == pytest.approx(apart_nm, abs=1e-6)
    assert one.difference == pytest.approx(52.16 - apart_nm, abs=1e-6)


def test_discontinued_parts_that_keep_a_course_are_found(
    catalogue: Catalogue, day: date, published: Callable[[str], list[Row]]
) -> None:
    rows = [row for row in published("AWY_SEG_ALT.csv") if row["AWY_SEG_GAP_FLAG"] == "Y" and row["MAG_COURSE"]]
    found = audited(catalogue, day)
    assert len(rows) == 3
    assert ways(found, Checked.GAP) == [f"{row['AWY_ID']} {row['FROM_POINT']}-{row['TO_POINT']}" for row in rows]


def test_a_fix_that_has_moved_is_off_in_course_and_length(catalogue: Catalogue, day: date) -> None:
    """SLENA's position in the excerpt is of an earlier cycle (see the excerpt's README)."""
    found = audited(catalogue, day, "V163")
    assert ways(found, Checked.LENGTH) == ["V163 SKIDS-SLENA", "V163 SLENA-LILJO"]
    (crp, sat) = disagreeing(found, Checked.RADIAL)
    away = line(position(catalogue, day, "CRP"), position(catalogue, day, "SLENA"))
    # CRP is aligned to 9E (NAV_BASE 2026-05-14) and its published course there is 305.05.
    assert (crp.at, crp.published) == ("CRP", 305.05)
    assert crp.computed == pytest.approx(away["azi1"] % 360.0 - 9.0, abs=1e-6)
    assert sat.at == "SAT"


def test_nothing_else_disagrees_in_the_excerpt(catalogue: Catalogue, day: date) -> None:
    found = audited(catalogue, day)
    named = {one.airway for tally in found.tallies for one in tally.disagreeing}
    assert named == {"V163", "V583", "V144", "V300", "V333"}
    compared = {tally.checked: tally.compared for tally in found.tallies}
    assert compared[Checked.RADIAL] > 150
    assert compared[Checked.COURSE] > 50
    assert compared[Checked.LENGTH] == found.segments - found.unmeasured
    assert compared[Checked.CHANGEOVER] > 15


def test_limits_decide_what_is_listed(catalogue: Catalogue, day: date) -> None:
    coarse = audited(catalogue, day, "V163", "V583", limits=AuditLimits(course_deg=2.0, length_nm=5.0))
    assert ways(coarse, Checked.LENGTH) == ["V583 LOA-FZT"]
    assert ways(coarse, Checked.RADIAL) == []
    assert ways(coarse, Checked.COURSE) == ["V163 GROSZ-BRO"]


def test_courses_of_area_navigation_routes_are_no_radials(catalogue: Catalogue, day: date) -> None:
    found = audited(catalogue, day, "T634", "Q149")
    compared = {tally.checked: tally.compared for tally in found.tallies}
    assert (compared[Checked.RADIAL], compared[Checked.COURSE]) == (0, 0)
    assert compared[Checked.LENGTH] > 0


STATIONS: tuple[Row, ...] = tuple(
    {
        "NAV_ID": ident, "NAV_TYPE": "VOR", "CITY": ident, "COUNTRY_CODE": "XX", "LAT_DECIMAL": latitude,
        "LONG_DECIMAL": "-39.0", "MAG_VARN": "10", "MAG_VARN_HEMIS": "W", "FREQ": "113.7",
    }
    for ident, latitude in (("QAA", "46.0"), ("QBB", "47.0"))
)  # fmt: skip
"""Two invented stations on one meridian, 60.02 NM apart: radials 010 and 190."""


def points(airway: str, first: Row, second: str = "QBB", course: float = 10.0) -> tuple[Row, Row]:
    """The two rows of an invented airway from QAA north."""
    common = {
        "AWY_ID": airway,
        "AWY_LOCATION": "C",
        "FROM_PT_TYPE": "VOR",
        "COUNTRY_CODE": "XX",
        "AWY_SEG_GAP_FLAG": "N",
    }
    start = "QAA" if second == "QBB" else "QBB"
    onward = {
        "POINT_SEQ": "10", "FROM_POINT": start, "NAV_CITY": start, "TO_POINT": second, "MAG_COURSE": str(course),
        "OPP_MAG_COURSE": str((course + 180.0) % 360.0), "MAG_COURSE_DIST": "60.02", "MIN_ENROUTE_ALT": "3000",
    }  # fmt: skip
    return {**common, **onward, **first}, {**common, "POINT_SEQ": "20", "FROM_POINT": second, "NAV_CITY": second}


@pytest.fixture
def invented(tmp_path: Path, nasr_like: Callable[..., Path], day: date) -> Callable[..., Audit]:
    """Audits invented airways between the two invented stations."""

    def audit_rows(*airways: tuple[Row, Row]) -> Audit:
        folder = nasr_like("NAV_BASE.csv", *STATIONS)
        nasr_like("AWY_SEG_ALT.csv", *(row for rows in airways for row in rows))
        nasr_like("AWY_BASE.csv", *({"AWY_ID": rows[0]["AWY_ID"], "AWY_LOCATION": "C"} for rows in airways))
        import_data(folder, tmp_path / "c.sqlite")
        with open_catalogue(tmp_path / "c.sqlite") as catalogue:
            return audited(catalogue, day)

    return audit_rows


def test_an_airway_that_fits_its_positions_passes(invented: Callable[..., Audit]) -> None:
    found = invented(points("V801", {}))
    assert (found.airways, found.legs, found.segments, found.unmeasured) == (1, 1, 1, 0)
    assert found.disagreements == 0
    assert {tally.checked.name: tally.compared for tally in found.tallies}["RADIAL"] == 2


def test_a_radial_of_the_wrong_station_north_is_found_at_its_station(invented: Callable[..., Audit]) -> None:
    off = {"OPP_MAG_COURSE": "191.5"}
    (one,) = disagreeing(invented(points("V801", off)), Checked.RADIAL)
    assert (one.at, one.published) == ("QBB", 191.5)
    assert one.difference == pytest.approx(1.5, abs=HUNDREDTH)


def test_a_discontinued_part_says_how_wrong_its_course_is(invented: Callable[..., Audit]) -> None:
    stale = {"AWY_SEG_GAP_FLAG": "Y", "MAG_COURSE": "56", "MAG_COURSE_DIST": "14"}
    (one,) = disagreeing(invented(points("V801", stale)), Checked.GAP)
    assert one.difference == pytest.approx(46.0, abs=HUNDREDTH)
    assert one.note == "length 14.00 NM, 60.02 NM apart"


def test_a_changeover_point_beyond_the_station_ahead_is_found(invented: Callable[..., Audit]) -> None:
    (one,) = disagreeing(invented(points("V801", cop("QBB", 61))), Checked.CHANGEOVER)
    assert one.published == 61.0
    assert one.computed == pytest.approx(60.02)
    assert disagreeing(invented(points("V801", cop("QBB", 60))), Checked.CHANGEOVER) == ()


@pytest.mark.parametrize(
    ("there", "back", "off"),
    [(20, 40, None), (20, 41, None), (20, 42, 1.98), (20, 38, -2.02)],
)
def test_changeover_points_from_both_ends_add_up(
    invented: Callable[..., Audit], there: int, back: int, off: float | None
) -> None:
    """The way is 60.02 NM, so 20 from QAA is 40.02 from QBB."""
    found = invented(
        points("V801", cop("QBB", there)),
        points("V802", cop("QAA", back), second="QAA", course=190.0),
    )
    differences = [one.difference for one in disagreeing(found, Checked.PAIR)]
    assert differences == ([] if off is None else [pytest.approx(off, abs=HUNDREDTH)])


def test_low_and_high_airways_may_change_over_at_different_points(invented: Callable[..., Audit]) -> None:
    found = invented(points("V801", cop("QBB", 20)), points("J801", cop("QBB", 40)))
    assert found.disagreements == 0


def cop(ahead: str, distance_nm: int) -> Row:
    return {"CHGOVR_PT": ahead, "CHGOVR_PT_DIST": str(distance_nm)}


def test_the_command_lists_and_ends_with_1(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, catalogue_file: Path
) -> None:
    monkeypatch.setenv("NAVLOG_CATALOGUE", str(catalogue_file))
    assert run(["catalogue", "audit", "v583", "--date", "2026-05-20"]) == 1
    out, err = capsys.readouterr()
    (row,) = [line.split() for line in out.splitlines() if line.startswith("  V583")]
    assert row == ["V583", "LOA-FZT", "52.16", "61.16", "-9.00"]
    assert "length: 5 compared, 1 off by more than 0.1 NM" in out
    assert err == "1 figures of 1 airways disagree\n"
    assert max(map(len, out.splitlines())) <= 80
    assert run(["catalogue", "audit", "V583", "--date", "2026-05-20", "--length", "9.1"]) == 0
    assert run(["catalogue", "audit", "V154", "V583", "--date", "2026-05-20", "--format", "json"]) == 1
    found = json.loads(capsys.readouterr().out.splitlines()[-1])
    (one,) = found["disagreements"]
    assert (one["airway"], one["checked"], one["unit"], one["published"]) == ("V583", "length", "NM", 52.16)
    assert found["airways"] == 2


def test_the_command_needs_airways_and_known_ones(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, nasr_like: Callable[..., Path], catalogue_file: Path
) -> None:
    only_stations = tmp_path / "c.sqlite"
    import_data(nasr_like("NAV_BASE.csv", *STATIONS), only_stations)
    assert run(["catalogue", "audit", "--catalogue", str(only_stations)]) == 2
    assert run(["catalogue", "audit", "V9999", "--catalogue", str(catalogue_file)]) == 2
    _, err = capsys.readouterr()
    assert "[no-airways]" in err
    assert "[unknown-airway]" in err


def test_the_full_data(full: Catalogue, day: date) -> None:
    found = audited(full, day)
    stale = full.query("SELECT count(*) FROM airway_point WHERE discontinued = 'Y' AND course <> ''")[0][0]
    assert len(disagreeing(found, Checked.GAP)) == stale
    # Every other length has a fix at an end whose position is of an earlier cycle.
    between_stations = [one for one in disagreeing(found, Checked.LENGTH) if len(one.start) == len(one.end) == 3]
    assert [one.airway for one in between_stations] == ["V583"]
    assert ways(found, Checked.RADIAL) == ["J1 TEYON-MZB", "V163 CRP-SLENA", "V163 SLENA-SAT"]
    assert len(disagreeing(found, Checked.COURSE)) == 6
    assert ways(found, Checked.CHANGEOVER) == ["J83 APE-DJB", "V487 BDR-BDR"]
    assert ways(found, Checked.PAIR) == ["V508 MDO-ENA"]
