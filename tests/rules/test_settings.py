"""The number on the course selector: a radial outbound, its reciprocal inbound, 001 to 360."""

from __future__ import annotations

import pytest
from helpers.judged import along, reported

from navlog.rules.settings import printed_setting, setting_of


@pytest.mark.parametrize(
    ("radials", "out", "back"),
    [
        ("QHB 180 - 360 QEL", 180, 360),
        ("QHB 181 - 001 QEL", 181, 1),
        ("QHB 179 - 359 QEL", 179, 359),
        ("QHB 360 - 180 QEL", 360, 180),
        ("QHB 001 - 181 QEL", 1, 181),
    ],
)
def test_the_course_is_the_radial_from_one_station_and_to_the_other_its_reciprocal(
    radials: str, out: int, back: int
) -> None:
    for route, degrees, first, second in (("QHB V801 QEL", out, "QHB", "QEL"), ("QEL V801 QHB", back, "QEL", "QHB")):
        legs = reported(*along(f"{radials} 29.5nm mea 3000"), f"route {route}").log.legs
        assert [printed_setting(leg) for leg in legs] == [degrees, degrees]
        assert [setting_of(leg) for leg in legs] == [f"{degrees:03d} FROM {first}", f"{degrees:03d} TO {second}"]


def test_without_a_station_or_its_radial_nothing_is_set() -> None:
    bare = ("station QHB 113.70", "station QEL 110.20", "-direct QHB", "-direct QEL", "-airway V801", "route QHB QEL")
    unknown = reported(*bare, "variation 13W", "direct QHB - QEL 30nm").log
    alone = reported("route XHAR XOLD", "-direct QHB", "-direct QEL").log
    assert {printed_setting(leg) for log in (unknown, alone) for leg in log.legs} == {None}
