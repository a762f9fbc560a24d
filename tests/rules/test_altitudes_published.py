"""Altitude limits on real segments of FAA NASR: where each rule fires, and one height where it does not."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.judged import judged_text, of
from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.queries import Catalogue


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
    told = real(nasr, rule, route, wrong_ft, "rules ifr")
    assert told
    assert f"{limit} ft" in told[0]
    assert real(nasr, rule, route, right_ft, "rules ifr") == []


def test_row_19_the_mea_of_v1_plann_to_cre_is_2100_northeast_bound(nasr: Catalogue) -> None:
    assert real(nasr, "under-mea", "PLANN V1 CRE", 2500) == []
    assert "MEA of 5000 ft" in real(nasr, "under-mea", "CRE V1 PLANN", 2500)[0]
