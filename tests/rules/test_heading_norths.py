"""By which north a heading is: a true-referenced station says nothing about magnetic north."""

from __future__ import annotations

import pytest
from helpers.flown import flight, sheet
from helpers.judged import found

from navlog.rules.samples import sample

CHART = ("-direct QHB", "-direct QEL", "route QHB V801 QEL", "altitude 4500")
TRUE = ("station QHB 113.70 decl true", "station QEL 110.20 decl true", *CHART)
MAGNETIC = ("station QHB 113.70 decl 15W", "station QEL 110.20 decl 17W", *CHART)
GAP = "gap 5nm cop 11 QHB"
TRUE_WAY = f"airway V801 QHB 199 - 019 QEL 29.5nm mea 3000 {GAP}"
MAGNETIC_WAY = f"airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 {GAP}"
"""Without positions: 199 true, which is 214 by 15W."""


def test_by_true_referenced_stations_alone_magnetic_headings_are_unknown() -> None:
    for leg in flight(sample(*TRUE, TRUE_WAY))["legs"]:
        assert leg["true_course_deg"] == 199.0
        assert leg["magnetic_heading_deg"] is leg["magnetic_course_deg"] is leg["variation_deg"] is None
        reasons = {one["key"]: one["reason"] for one in leg["unknown"]}
        assert "is aligned to true north" in reasons["magnetic_heading_deg"]
        assert "is aligned to true north" in reasons["magnetic_course_deg"]


def test_a_stated_variation_makes_them_known() -> None:
    # Going from true to magnetic, west is added (FAA-H-8083-25, chapter 16).
    for leg in flight(sample(*TRUE, TRUE_WAY, "variation 13W", "wind calm"))["legs"]:
        assert leg["magnetic_heading_deg"] == pytest.approx(212.0)
    assert found("variation-unknown", *TRUE, TRUE_WAY, "variation 13W") == []


def test_an_unknown_magnetic_heading_is_a_warning_for_each_stretch() -> None:
    (told,) = found("variation-unknown", *TRUE, TRUE_WAY)
    assert told.startswith("warning: no magnetic heading is known from QHB to QEL: no position, no `variation`")


@pytest.mark.parametrize("form", ["text", "steps", "strip", "markdown", "html"])
def test_every_sheet_says_that_the_heading_is_not_known_and_gives_the_true_one(form: str) -> None:
    # The strip has columns for the pen beside its text.
    words = " ".join(sheet(sample(*TRUE, TRUE_WAY, "wind calm"), "--format", form).replace("|", " ").split())
    assert "~199" not in words.replace("\\", "")
    assert "heading 199 true, magnetic not known" in words.lower()


def test_the_head_says_by_which_north_the_headings_are() -> None:
    def head(*changed: str) -> str:
        return " ".join(sheet(sample(*changed)).split())

    assert "magnetic headings are not known (?)" in head(*TRUE, TRUE_WAY)
    assert "by station north" not in head(*TRUE, TRUE_WAY).partition("FINDINGS")[0]
    assert "headings (~) by station north" in head(*MAGNETIC, MAGNETIC_WAY)
    mixed = (*MAGNETIC, "station QHB 113.70 decl true", TRUE_WAY.replace("019", "036"))
    assert "headings (~) by station north" in head(*mixed)
    assert "magnetic headings are not known (?)" in head(*mixed)


def test_a_finding_marks_a_heading_by_station_north_as_the_sheet_does() -> None:
    # 230/12 at 110 kt on 197 true: 3 degrees right of 214 by QEL's 17W, which holds the longer leg of the way.
    (told,) = found("signal", *MAGNETIC, MAGNETIC_WAY)
    assert ", hold heading ~217 magnetic for " in told
    (told,) = found("signal", *TRUE, TRUE_WAY)
    assert ", hold heading 202 true for " in told
    (told,) = found("signal", f"airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 {GAP}")
    assert ", hold heading 2" in told


def test_the_steps_mark_intercept_headings_too() -> None:
    # 45 degrees either side of the magnetic course 212 by station north.
    words = " ".join(sheet(sample(*MAGNETIC, MAGNETIC_WAY), "--format", "steps").split())
    assert "heading ~257 with the needle right, ~167 with it left" in words
    words = " ".join(sheet(sample(*TRUE, TRUE_WAY), "--format", "steps").split())
    assert "intercept it at 45 degrees at most" in words
    assert "with the needle right" not in words
