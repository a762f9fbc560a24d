"""The lines at the head of a sheet, each as it is printed, for flights that state what it tells."""

from __future__ import annotations

import pytest
from helpers.judged import CHART_ONLY, reported

from navlog.printed.head import facts, route_text

BASE = (
    "2026-07-18   off 15:10Z   VFR   cruise 4500 ft; from QEL 5500 ft",
    "TAS 110 kt, burn 8.5 gal/h, receivers 1 VOR, no DME",
    "No aircraft file: level throughout, no climb, descent or airport height counts",
    "Wind, true: 230/12 (as stated)",
    "Variation by WMM2025 for the day; radials by each station's own declination",
    "Data: the route file only",
    "VOR and DME errors: FAA Order 8260.3 (TERPS) and AIM 1-1-7 (default)",
)
"""The lines of the flight as it stands, but for the last one, which is of the program and the file."""

FIGURES, LEVEL = BASE[1:3]
BY_FILE = ("aircraft climber.toml", "-tas", "-burn", "-wind")
BOOK = "TAS by Climber, burn by Climber, receivers 1 VOR, no DME"
CARD = "Headings by compass: the card of Climber (climber.toml)"
# The bulletins' 9000 ft are two levels above the 4,500 ft flown.
BULLETIN = "Wind, true: at QEL 3000 ft 230/12, 6000 ft 240/18 +4C; at QHB 3000 ft 230/12, 6000 ft 240/18 +4C"
# From 4,500 ft over QEL the descent to XOLD, 9.6 NM on, has begun: the 5,500 ft written there are not flown.
NOT_CLIMBED = "4500 ft; from QEL 5500 ft (not held in the descent to land)"
NO_PATTERN_TIME = "no time for the pattern itself is planned"


def day(*, off: str = "off 15:10Z", rules: str = "VFR", cruise: str = "4500 ft; from QEL 5500 ft") -> str:
    return f"2026-07-18   {off}   {rules}   cruise {cruise}"


def with_errors(standard: str) -> tuple[str, ...]:
    return (*BASE[:-1], f"VOR and DME errors: {standard}")


CASES: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "as it stands": ((), BASE),
    # 1013.25 - 980 = 33.25 hPa low: FL090 is some 920 ft lower (27 to 28 ft a hPa), to the nearest 10 ft.
    "a flight level and its setting": (
        ("altimeter 980hPa", "altitude FL090", "levels icao", "route XHAR QHB V801 QEL XOLD"),
        (day(cruise="FL090   levels icao"), "Altimeter 980 hPa: FL090 is 8080 ft", *BASE[1:]),
    ),
    "a setting without a flight level": (("altimeter 29.92inHg",), (BASE[0], "Altimeter 29.92 inHg", *BASE[1:])),
    "neither off nor wind nor burn": (
        ("-off", "-burn", "-wind"),
        (
            day(off="NO OFF TIME GIVEN"), FIGURES.replace("8.5 gal/h", "?"), LEVEL,
            "Wind, true: NO WIND GIVEN", *BASE[4:],
        ),
    ),
    "a time of taxi": (
        ("taxi 1gal 9.2min",),
        (day(off="off 15:10Z, off-block 15:00Z"), *BASE[1:]),
    ),
    "a time of taxi without off": (
        ("taxi 1gal 9.2min", "-off"),
        (day(off="NO OFF TIME GIVEN, taxi 10 min"), *BASE[1:]),
    ),
    "instrument rules": (("rules ifr",), (day(rules="IFR"), *BASE[1:])),
    "an aircraft file without climb and descent": (
        ("aircraft half_card.toml", "-tas", "-burn"),
        (
            BASE[0],
            "TAS by Half a card, burn by Half a card, receivers 1 VOR, no DME",
            "No climb and no descent in half_card.toml: there the level changes at once",
            "Headings by compass: the card of Half a card (half_card.toml)",
            *BASE[3:],
        ),
    ),
    "a pattern as stated, by night": (
        (*BY_FILE, "winds winds.txt", "rules vfr night", "pattern 1200"),
        (
            day(rules="VFR night", cruise=NOT_CLIMBED),
            BOOK,
            f"Descent to the pattern: XOLD 1200 ft (as stated); {NO_PATTERN_TIME}",
            CARD,
            BULLETIN,
            "Winds by bulletin (winds.txt), valid 2026-07-18 18:00Z, for use 14:00Z to 21:00Z",
            *BASE[4:],
        ),
    ),
    # XOLD stands at 350 ft.
    "a pattern by the manual, a station without a place": (
        (*BY_FILE, "winds morning.txt"),
        (
            day(cruise=NOT_CLIMBED),
            BOOK,
            f"Descent to the pattern: XOLD 1350 ft (1,000 ft above the field by AIM 4-3-3); {NO_PATTERN_TIME}",
            CARD,
            BULLETIN,
            "Winds by bulletin (morning.txt), valid 2026-07-18 06:00Z, for use 02:00Z to 09:00Z,"
            " 1 station without a place left out",
            *BASE[4:],
        ),
    ),
    "a descent to the field under instrument rules": (
        (*BY_FILE, "wind 230/12", "rules ifr"),
        (day(rules="IFR", cruise=NOT_CLIMBED), BOOK, CARD, *BASE[3:]),
    ),
    # QEL/A055 is the highest level; the wind of 6000 ft is the first at or above it.
    "winds at heights": (
        ("wind 3000 230/12 6000 240/18 +4C 9000 260/30 -2C",),
        (*BASE[:3], "Wind, true: 3000 ft 230/12, 6000 ft 240/18 +4C (as stated)", *BASE[4:]),
    ),
    "a wind that reaches the highest level itself": (
        ("wind 3000 230/12 5500 240/18 9000 260/30",),
        (*BASE[:3], "Wind, true: 3000 ft 230/12, 5500 ft 240/18 (as stated)", *BASE[4:]),
    ),
    "calm": (("wind calm",), (*BASE[:3], "Wind, true: calm (as stated)", *BASE[4:])),
    "winds at places": (
        ("-wind", "wind at QHB 230/12\nwind at QEL calm"),
        (*BASE[:3], "Wind, true: at QHB 230/12; at QEL calm (as stated)", *BASE[4:]),
    ),
    # 001 has a word that is none of the trade's, 003 tells of a sector that is not flown, 005 of another day.
    "notices": (
        ("notices notices.txt",),
        (
            *BASE[:6],
            "Notices of notices.txt: 5 read, 5 about this flight, counting: !XHA 07/002, !XHA 07/004",
            BASE[6],
        ),
    ),
    "a file without notices": (
        ("notices no_notices.txt",),
        (*BASE[:6], "Notices of no_notices.txt: NONE FOUND, counting: none", BASE[6]),
    ),
    "two sources, one without dates": (
        ("route XHAR QHB V801 QEL/A055 QUV XOLD over QPB",),
        (
            *BASE[:5],
            "Data: NASR cycle 2607, 2026-07-09, expires 2026-08-06; OURAIRPORTS, no dates, unverified",
            BASE[6],
            "* UNVERIFIED, from a source that does not vouch for it: QUV",
        ),
    ),
    "a stated variation": (("variation 13W",), (*BASE[:4], "Variation 13W as stated, in headings only", *BASE[5:])),
    "no position and no variation": (
        (*(one for one in CHART_ONLY if not one.startswith("variation")), "-airport XHAR", "-airport XOLD"),
        (
            day(cruise="4500 ft"), *BASE[1:4],
            "No position and no variation: magnetic headings are not known (?), no station's north standing in for"
            " magnetic north",
            *BASE[5:],
        ),
    ),
    "headings by station north": (
        (
            *(one for one in CHART_ONLY if not one.startswith(("variation", "station"))),
            "station QHB 113.70 decl 15W", "station QEL 110.20 decl 17W", "-airport XHAR", "-airport XOLD",
        ),
        (
            day(cruise="4500 ft"), *BASE[1:4],
            "No position and no variation: headings (~) by station north; the compass may differ by up to 8 degrees",
            *BASE[5:],
        ),
    ),
    "a stated accuracy": (("accuracy 2.5",), with_errors("2.5 degrees as stated; DME by AIM 1-1-7")),
    "receivers": (("equipment vor 2 dme 1",), (BASE[0], FIGURES.replace("1 VOR, no", "2 VOR, 1"), *BASE[2:])),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_the_lines_of_a_head(name: str) -> None:
    changes, expected = CASES[name]
    *lines, last = facts(reported(*changes).log)
    assert tuple(lines) == expected
    assert last.startswith("navlog ")


def test_the_route_as_it_was_written() -> None:
    log = reported("route XHAR QHB V801 QEL/A055 XOLD land 20min QEL XHAR over QHB", "direct QHB - XHAR 9.6nm").log
    assert route_text(log) == "XHAR QHB V801 QEL/A055 XOLD (land) QEL XHAR (over) QHB"
