"""Minimums at, one foot beside and far from their edge, and by how much each is missed.

14 CFR 91.177(a)(1): "down to, but not below, the MOCA", and "within 22 nautical miles of that VOR". Each `by` is the
difference of two numbers that stand in the route file.
"""

from __future__ import annotations

import pytest
from helpers.judged import along, found, judged

MOCA = "mea 3000 moca 2400"
STATIONS_ONLY = "route XHAR QHB V801 QEL XOLD"
NEAR = f"airway V801 QHB 212 - 034 QEL 29.5nm {MOCA} cop 11 QHB"  # QEL is used within 18.5 NM
FAR = f"airway V801 QHB 212 - 034 QEL 29.5nm {MOCA} cop 5 QHB"  # QEL is used from 24.5 NM
MARSH = (
    "station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft",
    "fix MARSH N46 04.00 W039 24.23 mra 6000",
    "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000",
)


def by(rule: str, *changed: str) -> list[float]:
    """How far each finding of a rule is beyond its limit."""
    return [one.by for one in judged(*changed) if one.rule == rule]


@pytest.mark.parametrize(
    ("rule", "changed", "beyond"),
    [
        ("under-mea", ("altitude 2300", "rules ifr", STATIONS_ONLY, NEAR), 3000 - 2300),
        ("under-mea", ("altitude 2500", "rules ifr", STATIONS_ONLY, NEAR), 3000 - 2500),
        ("under-mea", ("altitude 2300", STATIONS_ONLY, NEAR), 3000 - 2300),
        ("under-mea", ("altitude 2500", STATIONS_ONLY, FAR), 3000 - 2500),
        (
            "moca-range",
            along(
                f"QHB 212 - QEL 29.5nm {MOCA}",
                "altitude 2500",
                "rules ifr",
                "unavailable QHB",
                "station QEL 110.20 kind dme",
            ),
            3000 - 2500,
        ),
        ("over-maa", along("QHB 212 - 032 QEL 29.5nm mea 3000 maa 4000"), 4500 - 4000),
        ("under-mca", along("QHB 212 - 032 QEL 29.5nm mea 3000 mca 5000 QHB to QEL"), 5000 - 4500),
        ("under-mra", MARSH, 6000 - 4500),
        ("under-minimum", ("direct QHB - XHAR 9.6nm min 5500",), 5500 - 4500),
    ],
)
def test_a_finding_says_by_how_many_feet_the_limit_is_missed(
    rule: str, changed: tuple[str, ...], beyond: float
) -> None:
    told = by(rule, *changed)
    assert told
    assert told == pytest.approx([beyond] * len(told))


def test_of_a_leg_wholly_beyond_22_nm_its_own_length_counts() -> None:
    # MARSH is 24 NM from QHB and the changeover 3 from QEL, 26.5 from QHB: first 24 - 22 NM of 24, then all of 2.5.
    asked = (
        "fix MARSH QHB 212 24nm",
        f"airway V801 QHB 212 - MARSH 24nm {MOCA} - 034 QEL 5.5nm {MOCA} cop 3 QEL",
        "altitude 2500",
        "rules ifr",
        STATIONS_ONLY,
    )
    assert by("moca-range", *asked) == pytest.approx([24 - 22, 26.5 - 24], abs=0.1)


@pytest.mark.parametrize(("altitude", "told"), [(2399, True), (2400, False), (2401, False)])
def test_at_the_moca_nothing_is_below_it(altitude: int, told: bool) -> None:
    ifr = found("under-mea", f"altitude {altitude}", "rules ifr", STATIONS_ONLY, NEAR)
    assert [one.startswith("error: ") for one in ifr] == [told, told]
    visual = found("under-mea", f"altitude {altitude}", STATIONS_ONLY, NEAR)
    assert [one.startswith("warning: ") and "below the MOCA of 2400" in one for one in visual] == [told] * len(visual)
    assert bool(visual) is told
    # Below the MOCA that is the error, not how far the VOR is.
    assert len(found("moca-range", f"altitude {altitude}", "rules ifr", STATIONS_ONLY, FAR)) == (0 if told else 1)


@pytest.mark.parametrize(("altitude", "told"), [(2999, True), (3000, False), (3001, False)])
def test_at_the_mea_nothing_is_below_it(altitude: int, told: bool) -> None:
    for rules in ("rules ifr", "rules vfr"):
        changed = (f"altitude {altitude}", rules, STATIONS_ONLY, FAR.replace(" moca 2400", ""))
        assert bool(found("under-mea", *changed)) is told
    assert bool(found("moca-range", f"altitude {altitude}", "rules ifr", STATIONS_ONLY, FAR)) is told


@pytest.mark.parametrize(("length_nm", "told"), [(43.8, False), (44, False), (44.2, True)])
def test_at_22_nm_a_visual_flight_is_within_reach(length_nm: float, told: bool) -> None:
    # Changed over midway, each station is used out to half the length.
    assert bool(found("under-mea", *along(f"QHB 212 - 032 QEL {length_nm}nm {MOCA}", "altitude 2500"))) is told


@pytest.mark.parametrize(("altitude", "told"), [(3999, False), (4000, False), (4001, True)])
def test_at_the_maa_nothing_is_above_it(altitude: int, told: bool) -> None:
    assert bool(found("over-maa", *along("QHB 212 - 032 QEL 29.5nm mea 3000 maa 4000", f"altitude {altitude}"))) is told


@pytest.mark.parametrize(("altitude", "told"), [(5999, True), (6000, False), (6001, False)])
def test_at_the_mra_the_crossing_radial_is_received(altitude: int, told: bool) -> None:
    # The MRA is charted for the fix: 14 CFR 95.1 has it as the lowest altitude at which it can be determined.
    asked = (*MARSH, f"altitude {altitude}", STATIONS_ONLY)
    assert bool(found("under-mra", *asked)) is told
    assert found("under-mra", *asked, "equipment vor 2 dme 1") == []


def test_an_mra_is_told_once_where_the_flight_holds_at_the_fix() -> None:
    way = "route XHAR QHB V801 MARSH V801 QEL XOLD"
    assert len(found("under-mra", *MARSH, "altitude 4500", way, "hold MARSH 5min")) == 1


@pytest.mark.parametrize(("altitude", "told"), [(2499, True), (2500, False)])
def test_at_a_stated_minimum_nothing_is_below_it(altitude: int, told: bool) -> None:
    stated = "direct QHB - XHAR 9.6nm min 2500"
    assert bool(found("under-minimum", stated, f"altitude {altitude}", STATIONS_ONLY)) is told


@pytest.mark.parametrize(("moca_ft", "told"), [(2999, False), (3000, False), (3001, True), (3100, True)])
def test_a_moca_may_be_as_high_as_its_mea(moca_ft: int, told: bool) -> None:
    # 14 CFR 95.1: a MOCA is no higher than its MEA; that they are the same is common.
    asked = along(f"QHB 212 - 032 QEL 29.5nm mea 3000 moca {moca_ft}")
    assert bool(found("moca-over-mea", *asked)) is told


def test_a_stretch_of_more_than_25_nm_without_a_minimum_is_told_though_its_stations_part_it() -> None:
    # 29.5 NM from QHB to QEL, of which each station serves half.
    off_airway = ("rules ifr", "-airway V801", "route XHAR QHB DCT QEL XOLD")
    assert found("minimum-unknown", *off_airway) == [
        "warning: no minimum altitude is known for the 29.5 NM from QHB to QEL, and terrain is not looked at"
    ]


@pytest.mark.parametrize(("length_nm", "said"), [(24.9, "note: "), (25, "note: "), (25.1, "warning: ")])
def test_up_to_25_nm_a_leg_without_a_minimum_may_be_a_departure(length_nm: float, said: str) -> None:
    # AIM 5-2-9: the climb of a departure is judged to 25 NM.
    told = found("minimum-unknown", "rules ifr", f"direct QHB - XHAR {length_nm}nm")
    assert [one.startswith(said) for one in told] == [True]
