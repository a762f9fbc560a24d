"""Altitude limits: invented flights for the practice cases, and real segments where each rule fires or not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from judged import along, found, judged_text, of
from nasr_excerpt import DATA

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.rules.samples import FLOWN_BY_FILE

MOCA = "mea 3000 moca 2400"


def test_a36_row_18_moca_holds_to_22_nm_from_the_vor() -> None:
    # 14 CFR 91.177: the changeover point lies midway, so each station is used out to half the length.
    assert found("moca-range", *along(f"QHB 212 - 032 QEL 43.8nm {MOCA}", "altitude 2500")) == []
    assert len(found("moca-range", *along(f"QHB 212 - 032 QEL 44.2nm {MOCA}", "altitude 2500"))) == 2


def test_a36_the_middle_36_nm_of_80_are_below_a_legal_altitude() -> None:
    told = found("moca-range", *along(f"QHB 212 - 032 QEL 80nm {MOCA}", "altitude 2500"))
    parts = [float(re.findall(r"([\d.]+) NM of it", one)[0]) for one in told]
    assert sum(parts) == pytest.approx(36.0)


def test_moca_is_nothing_without_a_vor() -> None:
    dead = ("unavailable QHB", "station QEL 110.20 kind dme")
    (told,) = found("moca-range", *along(f"QHB 212 - QEL 29.5nm {MOCA}", "altitude 2500", *dead))
    assert told == "warning: 2500 ft is below the MEA of 3000 ft and no VOR is in use"


@pytest.mark.parametrize(("rules", "severity"), [("vfr", "warning"), ("ifr", "error")])
def test_a_height_under_the_mea_is_graver_under_ifr(rules: str, severity: str) -> None:
    (told, other) = found("under-mea", "altitude 2300", "route XHAR QHB V801 QEL XOLD", f"rules {rules}")
    assert told == other == f"{severity}: 2300 ft is below the MEA of 3000 ft on V801"


def test_a37_an_mca_holds_in_its_own_direction_only() -> None:
    chart = "QHB 212 - 032 QEL 29.5nm mea 3000 mca 5000 QHB to QEL"
    assert found("under-mca", *along(chart)) == [
        "warning: QHB is crossed at 4500 ft, below the MCA of 5000 ft toward QEL"
    ]
    assert found("under-mca", *along(chart, "altitude 5000")) == []
    assert found("under-mca", *along(chart, "route QEL V801 QHB")) == []


def test_a37_a_climb_that_begins_before_the_point_crosses_it_high_enough() -> None:
    chart = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 mca 5000 QHB to QEL"
    asked = (chart, "altitude 3500", "route XHAR QHB/A055 V801 QEL XOLD")
    assert found("under-mca", *FLOWN_BY_FILE, *asked) == []
    # With no figures for a climb the level changes at the point, which is crossed at 3,500 ft.
    assert len(found("under-mca", *asked)) == 1


def test_a40_the_mea_of_the_direction_flown_counts() -> None:
    chart = "QHB 212 - 032 QEL 29.5nm mea 3000/5000"
    assert found("under-mea", *along(chart)) == []
    assert found("under-mea", *along(chart, "route QEL V801 QHB"))


def test_the_climb_after_take_off_may_be_below_a_minimum() -> None:
    assert found("under-minimum", *FLOWN_BY_FILE) == []
    assert found("under-mea", *FLOWN_BY_FILE) == []


def test_an_airway_joined_below_its_mea_in_the_climb_is_told() -> None:
    chart = "airway V801 QHB 212 - 034 QEL 29.5nm mea 6000"
    assert found("under-mea", *FLOWN_BY_FILE, chart, "altitude 6500")


def test_a_climb_to_a_higher_minimum_may_start_at_the_point() -> None:
    # 14 CFR 91.177(b): level at 4,500 ft before QHB, 5,500 ft asked beyond it.
    chart = "airway V801 QHB 212 - 034 QEL 29.5nm mea 5500"
    assert found("under-mea", *FLOWN_BY_FILE, chart, "altitude 2500", "route XHAR QHB/A055 V801 QEL XOLD") == []


def test_cold_air_by_the_4_percent_rule() -> None:
    # Standard at 3,100 ft is 15 - 1.98 x 3.1 = 8.9 C; 34.1 C under it is 13.6 % of 3,100 ft, 423 ft.
    (told, _) = found("cold-air", "wind 3000 230/12 -25C 6000 240/18 -31C", "altitude 3100")
    assert "34 degrees C colder" in told
    assert "about 2678 ft, below the minimum of 3000 ft" in told


def test_air_15_degrees_under_standard_needs_no_correction_yet() -> None:
    assert found("cold-air", "wind 3100 230/12 -5C", "altitude 3100") == []


@pytest.fixture(scope="module")
def nasr(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalogue]:
    path = tmp_path_factory.mktemp("catalogue") / "catalogue.sqlite"
    import_data(Path(DATA / "nasr"), path)
    with open_catalogue(path) as opened:
        yield opened


def real(nasr: Catalogue, rule: str, route: str, altitude_ft: int, *more: str) -> list[str]:
    """What a rule finds on a real route, in FAA NASR 2026-05-14."""
    lines = ("date 2026-05-20", f"altitude {altitude_ft}", "tas 120kt", "wind calm", f"route {route}", *more)
    return of(rule, judged_text("\n".join(lines) + "\n", nasr))


REAL = [
    # FAA NASR AWY_SEG_ALT, effective 2026-05-14.
    ("under-mea", "CRE V1 PLANN", 4500, "5000", 5500),
    ("under-mca", "LIBEL V101 ECHOA", 12500, "13500", 14500),
    ("over-maa", "RMG V154 TIROE", 7500, "7000", 6500),
    ("moca-range", "GLL V101 LIBEL", 9500, "10000", 10500),
    ("under-mra", "VEL V101 RENAE", 12500, "13000", 14500),
]


@pytest.mark.parametrize(("rule", "route", "wrong_ft", "limit", "right_ft"), REAL, ids=[row[0] for row in REAL])
def test_a_real_segment_where_the_rule_fires_and_one_height_where_not(
    nasr: Catalogue, rule: str, route: str, wrong_ft: int, limit: str, right_ft: int
) -> None:
    told = real(nasr, rule, route, wrong_ft)
    assert told
    assert f"{limit} ft" in told[0]
    assert real(nasr, rule, route, right_ft) == []


def test_row_19_the_mea_of_v1_plann_to_cre_is_2100_northeast_bound(nasr: Catalogue) -> None:
    assert real(nasr, "under-mea", "PLANN V1 CRE", 2500) == []
    assert "MEA of 5000 ft" in real(nasr, "under-mea", "CRE V1 PLANN", 2500)[0]
