"""What the second VOR receiver is best set to, on the invented flight of `crossing_radials`.

Read off its route file: XHAR to QHB on 272 TO; QHB 139 FROM to the changeover, past WRASS where QEL 058 crosses; then
QSK 139 TO, past KITWA where QEL 075 crosses; from QSK 323 FROM to the field.
"""

from __future__ import annotations

import pytest
from helpers.flown import EXAMPLES, Json, flight, sheet

TEXT = (EXAMPLES / "crossing_radials.route").read_text()
TWO = TEXT.replace("equipment vor 1", "equipment vor 2")
QEL_058 = ("cross radial", 2, "WRASS", "QEL", 110.2, 58.0, "FROM")
QSK_139 = ("next station", 4, "changeover", "QSK", 112.4, 139.0, "TO")
QEL_075 = ("cross radial", 4, "KITWA", "QEL", 110.2, 75.0, "FROM")


def settings(found: Json) -> list[tuple[object, ...] | None]:
    """What the other receiver is set to on each leg."""
    return [
        None
        if one is None
        else (
            *(one[key] for key in ("kind", "leg", "place")),
            *(one["guidance"][key] for key in ("ident", "frequency_mhz", "set_course_deg", "flag")),
        )
        for one in (leg["other_receiver"] for leg in found["legs"])
    ]


def test_it_is_set_to_what_is_needed_first_of_cross_radials_and_stations() -> None:
    told = settings(flight(TWO))
    assert [one and (*one[:5], round(float(str(one[5]))), one[6]) for one in told] == [
        QEL_058,
        QEL_058,
        QSK_139,
        QEL_075,
        None,
        None,
    ]


def test_with_one_receiver_nothing_is_told_and_the_log_is_as_it_was() -> None:
    assert all("other_receiver" not in leg for leg in flight(TEXT)["legs"])
    assert "other VOR" not in sheet(TEXT)
    assert "then tune" in sheet(TEXT)


@pytest.mark.parametrize("form", ["text", "markdown"])
def test_the_sheet_tells_it_where_it_is_not_what_is_tuned_next(form: str) -> None:
    printed = " ".join(sheet(TWO, "--format", form).replace("\\", "").split())
    # On the leg to QHB the next station tuned would be QSK. From WRASS on it is, and KITWA ends its own leg.
    assert printed.count("other VOR: QEL 110.20 --.- . .-.., set 058 FROM for WRASS") == 1
    assert printed.count("other VOR") == 1


def test_nothing_is_set_for_what_lies_behind_a_landing() -> None:
    stop = TWO.replace("route     XHAR QHB V805 QSK XSKE", "route XHAR QHB XHAR land 10min QHB V805 QSK XSKE")
    told = settings(flight(stop))
    assert told[0] is None
    assert told[1] is None
    assert told[2] is not None
    assert told[2][0] == "cross radial"
