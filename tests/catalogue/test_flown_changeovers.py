"""What is told of changeover points: as published, on the leg that ends there, and where the source has none.

Rows quoted are FAA NASR's AWY_SEG_ALT, effective 2026-05-14.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import changed, legs
from helpers.folder import Folder
from helpers.nasr_excerpt import DATA
from helpers.published_flights import Flown, leg_to, messages

from navlog.catalogue import import_data


def test_a_published_changeover_point_is_printed_as_published(fly: Flown) -> None:
    """V1 at CHS: CHGOVR_PT CRE, 46 NM. INLET is 46.43 NM from CHS by MAG_COURSE_DIST, so that it is the fix."""
    assert leg_to(fly("CHS V1 CRE"), "INLET")["changeover"] == {"kind": "published", "distance_nm": 46.43}
    there, back = fly.sheet("CHS V1 CRE"), fly.sheet("CRE V1 CHS")
    assert "COP 46 NM from CHS (published)" in there
    assert "COP 46.4 NM from CHS" not in there
    # From the other end the pilot's DME is CRE's, and what is published counts from CHS.
    assert "COP 46 NM from CHS as published, 39.5 NM from CRE by the way flown" in " ".join(back.split())


MARSH = "fix MARSH N45 58.60 W039 26.60"


@pytest.mark.parametrize(("out_nm", "on_nm", "at_fix"), [(14.3, 15.2, True), (14.2, 15.3, False)])
def test_a_midpoint_within_half_a_mile_of_a_fix_goes_to_the_fix(out_nm: float, on_nm: float, at_fix: bool) -> None:
    # 29.5 NM in all: the middle is 14.75 NM out, 0.45 NM and 0.55 NM from the fix.
    chart = f"airway V801 QHB 212 - MARSH {out_nm}nm mea 3000 - 034 QEL {on_nm}nm mea 3000"
    flown = legs(changed(chart, MARSH, "route QHB V801 QEL"))
    points = [leg["to"]["ident"] for leg in flown]
    assert points == (["MARSH", "QEL"] if at_fix else ["MARSH", None, "QEL"])
    kinds = [leg["changeover"] and leg["changeover"]["kind"] for leg in flown]
    assert kinds == (["midpoint", None] if at_fix else [None, "midpoint", None])


CLIMBER = """
name = "By hand"
[climb]
tas_kt = 90
rate_ft_per_min = 600
[cruise]
tas_kt = 120
"""


def test_a_changeover_stands_on_the_leg_that_ends_there_alone(tmp_path: Path) -> None:
    """From 790 ft at XHAR a climb of 600 ft/min at 90 kt ends 2.5 NM a 1,000 ft on, here beyond QHB, before the COP."""
    folder = Folder(tmp_path)
    folder.put("hand.toml", CLIMBER)
    text = changed(
        "aircraft hand.toml", "wind calm", "altitude 6500", "route XHAR QHB V801 QEL", without=("tas", "burn")
    )
    flown = folder.fly(text)["legs"]
    ends = [(leg["to"]["ident"] or leg["to"]["kind"]) for leg in flown]
    assert ends == ["QHB", "top of climb", "changeover", "QEL"]
    assert [leg["changeover"] for leg in flown] == [None, None, {"kind": "stated", "distance_nm": 11.0}, None]


LINES = (DATA / "cifp" / "FAACIFP18").read_text(encoding="ascii").splitlines()


@pytest.fixture
def coded(tmp_path: Path) -> Flown:
    """A CIFP file of two VORTACs and an airway between them, made from published lines."""
    (vor,) = [line for line in LINES if line[4:6] == "D " and line[13:17] == "ABI "]
    other = vor.replace("ABI ", "ABX ").replace("N32285279", "N32485279")
    first, *_ = [line for line in LINES if line[4:6] == "ER" and line[13:18] == "V16  "]
    last = first[:25] + "0110" + "ABX  " + first[34:40] + "E" + first[41:70] + " " * 12 + first[82:]
    start = first[:29] + "ABI  " + first[34:]
    (tmp_path / "FAACIFP18").write_text("\n".join((vor, other, start, last)) + "\n", encoding="ascii")
    import_data(tmp_path / "FAACIFP18", tmp_path / "c.sqlite")
    return Flown(tmp_path / "c.sqlite")


def test_coded_data_carry_no_changeover_points_and_that_is_said(coded: Flown) -> None:
    """ARINC 424-18 has no field for them: what is midway is convention (14 CFR 95.8001), and the chart may differ."""
    found = coded("ABI V16 ABX")
    (cop,) = [leg["changeover"] for leg in found["legs"] if leg["changeover"]]
    assert cop["kind"] == "midpoint"
    assert cop["not_in_source"] is True
    (message,) = messages(found, "changeover-not-in-source")
    assert message == "the changeover point between ABI and ABX is not in this source; midway is convention alone"
    assert "(midpoint, not in this source)" in " ".join(coded.sheet("ABI V16 ABX").split())


def test_where_the_source_carries_them_a_midpoint_is_one(fly: Flown) -> None:
    """V292 BAF-BOS: CHGOVR_PT is empty on both rows, which in NASR says midway (14 CFR 95.8001)."""
    found = fly("BAF V292 BOS", altitude="7000")
    assert [leg["changeover"]["kind"] for leg in found["legs"] if leg["changeover"]] == ["midpoint"]
    assert messages(found, "changeover-not-in-source") == []
    assert "not in this source" not in fly.sheet("BAF V292 BOS", altitude="7000")
