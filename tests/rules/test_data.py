"""Data out of date or unverified, stated variation, and where a compass fails."""

from __future__ import annotations

import pytest
from helpers.judged import found, judged_text, of

from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.rules.answers import answers
from navlog.rules.samples import BASE, PUBLISHED, UNVERIFIED, SampleCatalogue, sample


@pytest.mark.parametrize(
    ("day", "told"),
    [("2026-07-08", True), ("2026-07-09", False), ("2026-08-05", False), ("2026-08-06", True)],
)
def test_a21_a_cycle_holds_from_its_first_day_to_the_day_before_the_next(day: str, told: bool) -> None:
    text = PUBLISHED.replace("date 2026-07-18", f"date {day}")
    some = of("data-out-of-date", judged_text(text, SampleCatalogue()))
    expected = f"warning: NASR 2607 holds from 2026-07-09 until 2026-08-06, and the flight is on {day}"
    assert some == ([expected] if told else [])


def test_a21_data_that_the_flight_does_not_use_may_be_old() -> None:
    assert found("data-out-of-date", "date 2026-11-01") == []


def test_an_unverified_source_is_named() -> None:
    assert of("unverified-source", judged_text(UNVERIFIED, SampleCatalogue())) == [
        "warning: QUV is from ourairports, which is not verified"
    ]


@pytest.mark.parametrize(("stated", "told"), [("11W", False), ("15W", True), ("10W", True), ("14W", False)])
def test_a7_a_stated_variation_2_degrees_from_the_models_is_told(stated: str, told: bool) -> None:
    # 12.5W at XHAR on 2026-07-18 by WMM2025 (pygeomag, outside the project).
    assert bool(found("variation-differs", f"variation {stated}")) is told


@pytest.mark.parametrize(
    ("stated", "told"),
    [("20W", "warning"), ("12.5E", "error; is 12.5W meant?"), ("7E", "error; is 7W meant?"), ("28W", "error")],
)
def test_a_stated_variation_with_the_other_letter_or_far_off_is_an_error(stated: str, told: str) -> None:
    (some,) = found("variation-differs", f"variation {stated}")
    severity, _, meant = told.partition(";")
    assert some.startswith(f"{severity}: ")
    assert some.endswith("meant?") == bool(meant)
    assert some.endswith(meant)


def test_a7_before_every_model_a_stated_variation_cannot_be_compared() -> None:
    assert found("variation-differs", "variation 7E", "date 1990-07-18") == []


# WMM2025: 3,310 nT of horizontal field at Resolute in 2026 (practice case A14); the model's blackout zone is
# under 2,000 nT, its caution zone under 6,000 nT.
@pytest.mark.parametrize(
    ("place", "zone"), [("7442N09454W", "warning"), ("8600N09000W", "error"), ("6000N09000W", None)]
)
def test_a14_where_a_compass_is_not_to_be_relied_on(place: str, zone: str | None) -> None:
    told = found("compass-zone", f"route QHB {place}", "-direct QHB")
    assert [one.split(":")[0] for one in told] == ([] if zone is None else [zone])


def test_one_end_far_north_is_enough_on_a_way_of_many_short_legs() -> None:
    # 7 degrees each, 420 NM, so that none leads 4 degrees beyond its ends; the first is at N46.
    told = found("compass-zone", "route 46N095W 53N095W 60N095W 67N095W 74N095W", "-direct QHB", "-airway V801")
    assert "warning: 7400N09500W lies in the caution zone of the magnetic model" in told
    assert not [one for one in told if one.startswith(("warning: 4600N", "warning: 5300N"))]


def test_a14_a_stated_variation_makes_no_compass_work() -> None:
    there = ("route QHB 7442N09454W", "-direct QHB", "variation 20W")
    assert [one.split(":")[0] for one in found("compass-zone", *there)] == ["warning"]
    # No model tells of that day.
    assert found("compass-zone", *there, "date 1990-07-18") == []


def test_a14_a_true_referenced_station_is_said() -> None:
    station = "station QEL 110.20 N45 44.10 W039 33.00 decl true class L elev 410ft"
    chart = "airway V801 QHB 212 - 017 QEL 29.5nm mea 3000"
    assert found("true-referenced", station, chart) == [
        "note: QEL is aligned to true north: its radials and courses are true"
    ]


SAMPLES = SampleCatalogue()


@pytest.mark.parametrize(
    ("text", "used"),
    [
        (BASE, []),
        (PUBLISHED, ["nasr"]),
        (UNVERIFIED, ["ourairports"]),
        (sample("fix LAKER QPB 300 12nm", "route XHAR QHB V801 QEL/A055 LAKER XOLD"), ["nasr"]),
        (sample("route XHAR QHB V801 QEL/A055 QPB300012 XOLD"), ["nasr"]),
        (sample("route XHAR QHB V801 QEL/A055 MAKER XOLD"), ["nasr"]),
        (sample("wind at QUV 230/12"), ["ourairports"]),
        (sample("alternate QEL via QPB XHAR"), ["nasr"]),
    ],
)
def test_the_sources_named_are_those_of_which_something_is_used(text: str, used: list[str]) -> None:
    (answer,) = answers(read_flights(text, "flight.route"), SAMPLES, References({}))
    assert answer.report is not None, answer.problems
    assert [one.source.value for one in answer.report.log.route.sources] == used
