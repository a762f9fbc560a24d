"""The airports of a flight in words: alternates, nights, days without a sunset, and a stated pattern.

XHAR to XOLD takes 29 minutes, XOLD to XHAR 17. The sun's times are those of the tests of the sun; what is checked here
are the words, and the margins as differences of the printed times.
"""

from __future__ import annotations

import pytest
from helpers.drawn import reports
from helpers.flown import changed

from navlog.printed.airfields import airfield_lines, short_airfield_lines, sunset_texts

# At 75 degrees north the sun neither sets in July nor rises in December.
ARCTIC = (
    "station QHB 113.70 N75 12.30 W039 20.70 decl 15W dme elev 820ft",
    "station QEL 110.20 N74 44.10 W039 33.00 decl 17W dme",
    "airport XHAR N75 14.50 W039 07.20 elev 790ft",
    "airport XOLD N74 41.00 W039 20.00 elev 350ft",
)
HAR = "XHAR departure: elevation 790 ft, pattern 1790 ft"
OLD, BACK = "elevation 350 ft, pattern 1350 ft", "elevation 790 ft, pattern 1790 ft"
AIM = " by AIM 4-3-3"
NEITHER = "no sunset and no end of civil twilight that day"


@pytest.mark.parametrize(
    ("changes", "long", "short", "at_landing"),
    [
        (
            ("off 23:30Z", "alternate XHAR"),
            (
                f"XOLD destination 23:59Z: {OLD}{AIM}; LANDING BY NIGHT, until 06:30Z+1; sunset 22:21Z, 1:38 BEFORE"
                " landing; end of civil twilight 22:57Z, 1:02 BEFORE landing",
                f"XHAR alternate 00:16Z+1: {BACK}{AIM}; LANDING BY NIGHT, until 06:27Z+1; sunset 22:22Z, 1:54 BEFORE"
                " landing; end of civil twilight 22:59Z, 1:17 BEFORE landing",
            ),
            (
                f"XOLD destination 23:59Z: {OLD}, LANDING BY NIGHT, sunset 22:21Z, 1:38 BEFORE landing",
                f"XHAR alternate 00:16Z+1: {BACK}, LANDING BY NIGHT, sunset 22:22Z, 1:54 BEFORE landing",
            ),
            ("LANDING BY NIGHT, sunset 22:21Z",),
        ),
        (
            ('airport XOLD N45 41.00 W039 20.00 elev 350ft name "Old Mill"', "pattern 1200"),
            (
                "XOLD Old Mill, destination 15:39Z: elevation 350 ft, pattern 1200 ft, as stated;"
                " sunset 22:21Z, 6:42 after landing; end of civil twilight 22:57Z, 7:18 after landing",
            ),
            ("XOLD destination 15:39Z: elevation 350 ft, pattern 1200 ft, sunset 22:21Z, 6:42 after landing",),
            ("sunset 22:21Z",),
        ),
        (ARCTIC, (f"XOLD destination 15:39Z: {OLD}{AIM}; {NEITHER}",), (f"XOLD destination 15:39Z: {OLD}",), ()),
        (
            (*ARCTIC, "date 2026-12-18"),
            (f"XOLD destination 15:39Z: {OLD}{AIM}; LANDING BY NIGHT; {NEITHER}",),
            (f"XOLD destination 15:39Z: {OLD}, LANDING BY NIGHT",),
            (),
        ),
    ],
    ids=["night and alternate", "name and pattern", "no sunset", "no sunrise"],
)
def test_the_lines_of_the_airports(
    changes: tuple[str, ...], long: tuple[str, ...], short: tuple[str, ...], at_landing: tuple[str, ...]
) -> None:
    (report,) = reports(changed(*changes))
    log = report.log
    # Words and figures that stay together are held by hard spaces.
    assert [line.replace("\xa0", " ") for line in airfield_lines(log)] == [HAR + AIM, *long]
    assert [line.replace("\xa0", " ") for line in short_airfield_lines(log)] == [HAR, *short]
    assert tuple(sunset_texts(log, log.legs[-1])) == at_landing
    assert tuple(sunset_texts(log, log.legs[0])) == ()


def test_a_zone_stands_beside_the_time_in_utc() -> None:
    # In November the Azores are an hour behind UTC (IANA tz database).
    (report,) = reports(changed("date 2026-11-14", "off 15:10 Atlantic/Azores"))
    (line,) = [one for one in airfield_lines(report.log) if one.startswith("XOLD")]
    assert line.startswith("XOLD destination 16:39Z (15:39 UTC-01)")


def test_a_landing_before_dawn_tells_until_when_it_is_night_and_not_the_sunset_of_the_evening_before() -> None:
    (report,) = reports(changed("off 05:00Z"))
    log = report.log
    (told,) = [line.replace("\xa0", " ") for line in airfield_lines(log) if "destination" in line]
    assert told == f"XOLD destination 05:29Z: {OLD}{AIM}; LANDING BY NIGHT, until 06:29Z"
    assert not any("sunset" in line for line in short_airfield_lines(log))
