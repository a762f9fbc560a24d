"""Problems of what a route file defines and states beside its route.

Each as it is told: what it points at, its code, message and hint. What is published here is invented.
"""

from __future__ import annotations

import pytest
from helpers.namesakes import Published, asked, problems

from navlog.resolve.flight import resolve_flight

ON_45 = "N45 30.00 W039 00.00"
ON_46 = "N46 00.00 W039 00.00"
ON_47 = "N46 30.00 W039 00.00"


RADIAL_HINT = "leave it out, or write `on STN 090` for the radial of another station"
COURSE_HINT = "write the radial beside it: `QHB 090 - ...`"
ON_CHAIN = "airway V802 QHB - FIXAA 10nm cop 5 QHB - QEL 10nm cop 6 {}"
CLASH = "`V801` is an airway of this file too, and a route line could mean either"


@pytest.mark.parametrize(
    ("statement", "at", "code", "message", "hint"),
    [
        ("fix LAKER QDD 180 20nm", "QDD", "ambiguous-name",
         f"`QDD` is 2 stations: `QDD` VORTAC at {ON_47}; `QDD` vor at {ON_45}",
         "define the station that you mean in the file"),
        ("fix LAKER QVT 180 20nm", "QVT", "unknown-name", "no station is called `QVT`",
         f"`QVT` is `QVT` vot at {ON_47}"),
        ("fix LAKER QHX 180 20nm", "QHX", "unknown-name", "no station is called `QHX`",
         f"`QHX` is `QHX` fix at {ON_46}"),
        ("fix LAKER QHZ 180 20nm", "QHZ", "unknown-name", "no station is called `QHZ`", "did you mean `QHB`?"),
        # Of what is spelt alike stations alone, wherever.
        ("fix LAKER ZNF 180 20nm", "ZNF", "unknown-name", "no station is called `ZNF`",
         f"did you mean `QNF` ndb NORFOLK at {ON_47}?"),
        ("fix LAKER XOLT 180 20nm", "XOLT", "unknown-name", "no station is called `XOLT`", None),
        ("fix V801 QHB 180 20nm", "V801", "name-clash", CLASH, "give one of them another name"),
        ("airport V801 N46 00.00 W039 00.00", "V801", "name-clash", CLASH, "give one of them another name"),
        ("direct QHB - 090 XHAR 9.6nm", "XHAR", "radial-without-station",
         "a number stands beside the station whose radial it is, and `XHAR` is no station", RADIAL_HINT),
        ("direct ALONE 090 - QHB 9.6nm", "ALONE", "radial-without-station",
         "a number stands beside the station whose radial it is, and `ALONE` is no station", RADIAL_HINT),
        ("direct QHB - ALONE 9.6nm course 090M", "QHB", "course-beside-station",
         "`course` is for a leg without stations, and `QHB` is one", COURSE_HINT),
        ("direct ALONE - QHB 9.6nm course 090T", "QHB", "course-beside-station",
         "`course` is for a leg without stations, and `QHB` is one", COURSE_HINT),
        ("direct ALONE - NOWHX 9.6nm", "NOWHX", "unknown-name", "no station, airport or fix is called `NOWHX`", None),
        ("airway V802 GLONX - ALONE 9.6nm", "GLONX", "unknown-name", "no station, airport or fix is called `GLONX`",
         None),
        ("direct ALONE - FIXAA 9.6nm on QNB 090", "QNB", "bad-guide", "`QNB` is no VOR, and only a VOR guides",
         "name the VOR whose radial leads along here"),
        ("airway V802 QHB - ALONE 9.6nm on QNB 090", "QNB", "bad-guide", "`QNB` is no VOR, and only a VOR guides",
         "name the VOR whose radial leads along here"),
        ("direct ALONE - FIXAA 9.6nm on ZTN 090", "ZTN", "unknown-name", "no station is called `ZTN`",
         f"did you mean `QTN` tacan at {ON_47}?"),
        ("direct QHB - QEL 29.5nm cop 11 QSK", "QSK", "bad-changeover",
         "`QSK` is no VOR at an end of the section QHB to QEL", "write the distance from QHB or QEL"),
        ("direct QHB - ALONE 9.6nm cop 5 ALONE", "ALONE", "bad-changeover",
         "`ALONE` is no VOR at an end of the section QHB to ALONE", "write the distance from QHB"),
        ("direct ALONE - FIXAA 9.6nm cop 5 ALONE", "ALONE", "bad-changeover",
         "`ALONE` is no VOR at an end of the section ALONE to FIXAA", "leave it out"),
        ("airway V802 QHB - QSK 10nm cop 5 QHB - QEL 10nm cop 6 QHB", "QHB", "bad-changeover",
         "`QHB` is no VOR at an end of the section QSK to QEL", "write the distance from QSK or QEL"),
        ("direct QHB - QEL 29.5nm cop 11 QZZ", "QZZ", "unknown-name", "no station is called `QZZ`", None),
        ("direct QHB - QEL 29.5nm cop 29.6 QHB", "QHB", "bad-changeover",
         "29.6 NM from `QHB` lie beyond the section QHB to QEL, 29.5 NM", "write a distance under 29.5"),
        ("airway V802 QSK - QHB 8nm - FIXAA 10nm - QEL 10nm cop 20.1 QHB - QDM 5nm", "QHB", "bad-changeover",
         "20.1 NM from `QHB` lie beyond the section QHB to QEL, 20.0 NM", "write a distance under 20.0"),
        (ON_CHAIN.format("QHB"), "QHB", "given-twice",
         "the section QHB to QEL has its changeover from `QHB` twice", "state it once, at the segment where it lies"),
        ("unavailable QZZ", "QZZ", "unknown-name", "no station is called `QZZ`", None),
        ("unavailable XHAR", "XHAR", "unknown-name", "no station is called `XHAR`",
         "`XHAR` is `XHAR` airport at N46 14.50 W039 07.20"),
        ("hold QSK 4min", "QSK", "hold-off-route", "the hold at `QSK` is not on the route line",
         "name a point that the route line names"),
        ("wind at QZZ 230/12", "QZZ", "unknown-name", "no station, airport or fix is called `QZZ`", None),
        ("wind at BLANK 230/12", "BLANK", "ambiguous-name", "`BLANK` is 2 things: `BLANK` fix US; `BLANK` fix",
         "define it in the file"),
        ("wind at NOWHR 230/12", "NOWHR", "no-position", "`NOWHR` has no known position", None),
        ("alternate QSK", "QSK", "not-an-airport", "the alternate `QSK` is no airport",
         "name an airport, or define one there with `airport`"),
        ("alternate QHB via V801 QEL", "QEL", "not-an-airport", "the alternate `QEL` is no airport",
         "`QHB` is where the route is left; write: alternate AIRPORT from QHB via ..."),
        *(
            (f"alternate XHAR from {start} via QHB", start, "alternate-off-route",
             f"`{start}`, from which the alternate is flown, is not on the route",
             "write: alternate AIRPORT from POINT via ..., where POINT is on the route")
            for start in ("QSK", "4545N03920W", "QHB001005")
        ),
    ],
)  # fmt: skip
def test_a_definition_that_cannot_be(statement: str, at: str, code: str, message: str, hint: str | None) -> None:
    assert problems(statement) == [(at, code, message, hint)]


@pytest.mark.parametrize(
    "statement",
    [
        "fix LAKER QVN 180 20nm",  # a VOR before the NDB of its name
        "fix LAKER QNB 180 20nm",
        ON_CHAIN.format("QEL"),
        "airway V802 QHB - QSK 10nm cop 5 QHB - QEL 10nm cop 6 QSK",
        "direct QHB - QEL 29.5nm cop 29.5 QHB",
        "direct QHB 090 - ALONE 9.6nm",
        "direct ALONE - FIXAA 9.6nm course 090T",
        "airway V802 QHB - ALONE 9.6nm on QSK 090",
        "wind at QFA 230/12",
        "hold QEL 4min",
        "alternate XHAR from QEL via QHB",
    ],
)
def test_a_definition_that_can_be(statement: str) -> None:
    assert resolve_flight(asked(statement), Published()).points


def test_a_fix_that_cannot_be_laid_down_is_a_problem_though_nothing_flies_there() -> None:
    """A DME reads the slant distance: without the station's height nobody knows what it is over the ground."""
    bare = "station QNE 113.00 N46 00.00 W039 00.00 decl 0E"
    (found,) = problems(bare, "fix LAKER QNE 350 dme 30 at 7076ft")
    assert found[1:3] == ("no-elevation", "a DME reading needs the elevation of `QNE`")
