"""A MOCA that is over its MEA: a slip of the chart's reader, and a level below the higher of the two."""

from __future__ import annotations

import pytest
from helpers.judged import found


@pytest.mark.parametrize(
    ("limits", "altitude", "told"),
    [
        # The reader of a chart that has them changed over: 4500 is 300 ft below the higher of the two.
        ("mea 3000 moca 4800", 4500, "4500 ft is below the MOCA of 4800 ft on V801, which is over its MEA of 3000 ft"),
        ("mea 3000 moca 4800", 2500, "2500 ft is below the MOCA of 4800 ft on V801, which is over its MEA of 3000 ft"),
        # The MEA of the direction flown is the first; that of the other, 4500, does not count here.
        ("mea 3000/4500 moca 4300", 4000, "4000 ft is below the MOCA of 4300 ft on V801, which is over its MEA of"),
    ],
)
def test_below_a_moca_that_is_over_its_mea_is_an_error_under_ifr(limits: str, altitude: int, told: str) -> None:
    # 14 CFR 91.177(a)(1): "down to, but not below, the MOCA"; 95.1(e): the MOCA assures obstruction clearance.
    chart = (f"airway V801 QHB 212 - 034 QEL 29.5nm {limits} cop 11 QHB", "route XHAR QHB V801 QEL XOLD")
    found_on = found("under-mea", *chart, f"altitude {altitude}", "rules ifr")
    assert len(found_on) == 2, "both legs of the stretch, before and after its changeover"
    assert all(one.startswith(f"error: {told}") for one in found_on)
    visual = found("under-mea", *chart, f"altitude {altitude}")
    assert len(visual) == 2
    assert all(one.startswith(f"warning: {told}") for one in visual)


def test_at_a_moca_that_is_over_its_mea_nothing_is_missed() -> None:
    chart = ("airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 4800 cop 11 QHB", "route XHAR QHB V801 QEL XOLD")
    assert found("under-mea", *chart, "altitude 4800", "rules ifr") == []
    assert found("moca-range", *chart, "altitude 4800", "rules ifr") == []
