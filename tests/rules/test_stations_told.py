"""What the rules on stations tell, whole.

A heading is a rule and what the flight changes in the samples' one; a heading alone is no finding. Numbers are worked
beside the lines from what the flight states.
"""

from __future__ import annotations

from datetime import date

import pytest
from helpers.judged import case_of, judged_text, lines, table, told_of

from navlog.nav.chart import Position, Station
from navlog.nav.record import changed
from navlog.request.references import References
from navlog.resolve.route import Point
from navlog.rules.answers import check_text
from navlog.rules.registry import Found, Severity
from navlog.rules.samples import SampleCatalogue, sample
from navlog.rules.stations import channel_unpaired, frequencies_alike, frequency_shared, station_out

_TOLD = """\
dme-missing: fix LAKER QEL 180 dme 12 at 4500 | route XHAR QHB V801 QEL LAKER | equipment vor 1 dme 0 | -direct QEL
    warning leg 4 15:25 LAKER is 12 NM DME from QEL, and the aeroplane has no DME
dme-missing: station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L elev 410ft | fix LAKER QEL 180 12nm | route XHAR QHB V801 QEL LAKER | equipment vor 1 dme 1 | -direct QEL
    warning leg 4 15:25 LAKER is 12 NM from QEL, which has no DME
frequencies-alike: station QEL 117.30 N45 44.10 W039 33.00 decl 17W class L elev 410ft
    note leg 3 16:21 QEL 117.30 comes after QHB 113.70
frequencies-alike: station QEL 113.50 N45 44.10 W039 33.00 decl 17W class L elev 410ft
    note leg 3 16:21 QEL 113.50 comes after QHB 113.70
frequencies-alike: station QEL 113.45 N45 44.10 W039 33.00 decl 17W class L elev 410ft
frequency-shared: station QSK 110.20 N49 28.00 W038 50.00 decl 14W class L
# By geographiclib QPB is 42.7 NM from QHB and 33.1 from the changeover point, up to which QHB is used.
frequency-shared: station QHB 115.30 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft
    warning leg 2 16:21 QPB is on 115.30 too, 33.1 NM from where QHB is used
# From N46 01.6, where QHB hands over to QEL, a minute of latitude a mile.
frequency-shared: station QSK 110.20 N49 03.00 W039 33.00 decl 14W class L
    warning leg 3 16:21 QSK is on 110.20 too, 181.4 NM from where QEL is used
frequency-shared: station QSK 110.20 N49 07.00 W039 33.00 decl 14W class L
    warning leg 3 16:21 QSK is on 110.20 too, 185.4 NM from where QEL is used
# QEL is used up to XOLD, which by geographiclib is 189.2 NM away, the changeover point 193.1.
frequency-shared: station QSK 110.20 N45 44.10 W034 50.00 decl 14W class L
    warning leg 4 16:30 QSK is on 110.20 too, 189.2 NM from where QEL is used
frequency-shared: station QSK 110.20 N49 21.00 W039 33.00 decl 14W class L
    warning leg 3 16:21 QSK is on 110.20 too, 199.4 NM from where QEL is used
frequency-shared: station QSK 110.20 N49 22.00 W039 33.00 decl 14W class L
declination-old: station QHB 113.70 N46 12.30 W039 20.70 decl 18W class L dme elev 820ft
# The first is out by no notice that counts on the day; the next stations ahead and behind on the airway are relied on.
station-out: notices notices.txt | unavailable QHB
    error leg 1 16:12 XHAR to QHB relies on QHB, which is out of service [of QHB]
    error leg 2 16:21 QHB to QEL relies on QHB, which is out of service [of QHB]
station-out: station QTT 116.00 N45 20.00 W039 50.00 decl 17W class L | fix UPPER N46 10.00 W039 22.00 | fix MARSH N46 04.00 W039 24.23 | airway V801 UPPER - MARSH 6.2nm - 034 QEL 20.9nm 212 - 032 QTT 27nm | route UPPER V801 MARSH | unavailable QTT
station-out: station QTT 116.00 N45 20.00 W039 50.00 decl 17W class L | airway V801 QHB 212 - 034 QEL 29.5nm 212 - 032 QTT 27nm | route XHAR QHB V801 QEL XOLD | unavailable QTT
station-out: station QSK 112.40 N46 38.00 W039 00.00 decl 14W class L | fix MARSH N46 04.00 W039 24.23 | airway V801 QSK 222 - 042 QHB 29.4nm 212 - MARSH 8.7nm - 034 QEL 20.9nm | route MARSH V801 QEL XOLD | unavailable QHB
    error leg 1 16:18 MARSH to QEL relies on QHB, which is out of service [of QHB]
# Along one line no radial crosses; 12 NM over the ground need no DME aboard. A published station places a fix too.
dme-missing: station QHB 113.70 N46 12.30 W039 33.00 decl 17W class L dme elev 820ft | airway V801 QHB 197 - 017 QEL 28.2nm | -direct QHB | fix LAKER QEL 180 12nm | route XHAR QHB V801 QEL LAKER | equipment vor 1 dme 0 | -direct QEL
dme-missing: fix LAKER QPB 195 dme 12 at 4500 | route XHAR QHB V801 QEL QPB LAKER | equipment vor 1 dme 0 | -direct QEL
    error leg 6 15:29 LAKER is 12 NM DME from QPB, which has no DME
# A station without a place is nowhere near; one beside the second of two stations is told though the first has no place.
# XOLD is 27.0 NM from QSK, QEL 33.1.
frequency-shared: station QSK 110.20
frequency-shared: station QHB 113.70 | station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L | station QSK 110.20 N45 58.00 W038 50.00 decl 14W class L | -direct QHB | airway V801 QHB 212 - 034 QEL 29.5nm | route QHB V801 QEL XOLD
    warning leg 3 15:20 QSK is on 110.20 too, 27.0 NM from where QEL is used
# The file's QPB and the published one are one station; what the route has told, the way to an alternate does not again.
frequency-shared: station QHB 115.30 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft | station QPB 115.30 N45 30.00 W039 12.00 decl 15W class L
    warning leg 2 16:21 QPB is on 115.30 too, 33.1 NM from where QHB is used
frequency-shared: station QSK 110.20 N45 58.00 W038 50.00 decl 14W class L | alternate XHAR | route XHAR QHB V801 QEL | -direct QEL | direct QEL - XHAR 35nm
    warning leg 3 15:21 QSK is on 110.20 too, 24.9 NM from where QEL is used
# Variation at QHB 12.6W (WMM2025, as in the project's worked example). A stated one, or true north, says nothing of it.
declination-old: station QHB 113.70 N46 12.30 W039 20.70 decl 21W class L dme elev 820ft | airway V801 QHB 218 - 034 QEL 29.5nm
    note leg 1 16:12 QHB is aligned to 21W; the variation there is 12.6W
declination-old: station QHB 113.70 N46 12.30 W039 20.70 decl 21W class L dme elev 820ft | airway V801 QHB 218 - 034 QEL 29.5nm | route XHAR QHB V801 QEL | -direct QEL | alternate QEL via QHB XHAR
    note leg 1 15:12 QHB is aligned to 21W; the variation there is 12.6W
declination-old: station QHB 113.70 N46 12.30 W039 20.70 decl 21W class L dme elev 820ft | airway V801 QHB 218 - 034 QEL 29.5nm | variation 12W
declination-old: station QEL 110.20 N45 44.10 W039 33.00 decl true class L dme elev 410ft | airway V801 QHB 212 - 017 QEL 29.5nm
# From the station flown to on the route to the first of the way to the alternate, once; and not to the same again.
frequencies-alike: station QSK 110.40 N45 32.00 W039 40.00 decl 14W class L elev 150ft | route XHAR QHB V801 QEL | -direct QEL | alternate QEL via QSK XOLD
    note alternate XOLD leg 2 17:19 QSK 110.40 comes after QEL 110.20
frequencies-alike: station QSK 110.40 N45 32.00 W039 40.00 decl 14W class L elev 150ft | route XHAR QHB V801 QEL QSK XOLD | -direct QEL | alternate QEL via QSK XOLD
    note leg 5 15:25 QSK 110.40 comes after QEL 110.20
frequencies-alike: station QSK 113.90 N45 32.00 W039 40.00 decl 14W class L elev 150ft | station QTT 110.40 N45 20.00 W039 50.00 decl 14W class L elev 150ft | route XHAR QHB V801 QEL | -direct QEL | alternate QEL via QSK QTT XOLD
frequencies-alike: route XHAR QHB V801 QEL | -direct QEL | alternate XOLD | direct QEL - XOLD 9.6nm
frequencies-alike: route XHAR 4600N03930W | alternate 4600N03930W via QEL XOLD | -airway V801 | -direct QHB
# A published VOR of the file's own airway, beyond where it is left.
station-out: airway V805 QHB 212 - MARSH 15nm - QPB 28nm | fix MARSH N45 59.58 W039 27.30 | route XHAR QHB V805 MARSH | -direct QEL | unavailable QPB
    note leg 2 15:21 QHB to MARSH is flown on QHB alone, up to its changeover point: QPB is out of service [of QPB]
# 9.5 degrees of longitude at N70 are 195 NM, 12 minutes across the date line at N45 8.5 NM. A DME alone is no VOR.
frequency-shared: station QHB 113.70 N70 00.00 W030 00.00 decl 15W class L | fix LAKER N70 10.00 W030 00.00 | station QSK 113.70 N70 00.00 W020 30.00 decl 14W class L | -direct QHB | -direct QEL | -airway V801 | route QHB LAKER
    warning leg 1 13:11 QSK is on 113.70 too, 195.2 NM from where QHB is used
frequency-shared: station QHB 113.70 N45 00.00 W179 54.00 decl 15W class L | fix LAKER N45 10.00 W179 54.00 | station QSK 113.70 N45 00.00 E179 54.00 decl 14W class L | -direct QHB | -direct QEL | -airway V801 | route QHB LAKER
    warning leg 1 13:11 QSK is on 113.70 too, 8.5 NM from where QHB is used
frequency-shared: station QSK 110.20 N45 58.00 W038 50.00 kind dme
# Of the first stretch nothing is known by position.
declination-old: station QHB 113.70 | station QEL 110.20 N45 44.10 W039 33.00 decl 25W class L | -direct QHB | airway V801 QHB 212 - 034 QEL 29.5nm | route QHB V801 QEL XOLD
    warning leg 3 15:20 QEL is aligned to 25W; the variation there is 12.6W
# Arriving on QHB 113.70: the first station of the way to the alternate is QEL, and QSK comes after that.
frequencies-alike: station QSK 113.90 N45 32.00 W039 40.00 decl 14W class L elev 150ft | -airway V801 | -direct QEL | route XHAR QHB 4600N03930W | alternate 4600N03930W via QEL QSK XOLD
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_is_told_of_stations(flight: str, told: list[str]) -> None:
    assert told_of(flight) == told


_HOURS = "from 2026-07-18 12:00Z to 2026-07-18 20:00Z"


# By FAA Order JO 7930.2 a notice names the station, the part that is out, and the hours.
@pytest.mark.parametrize(
    ("notices", "more", "words"),
    [
        (("VOR",), (), f" by !XHA 07/000 ({_HOURS}); its DME serves for distances"),
        (("VOR",), ("unavailable QHB",), f" by !XHA 07/000 ({_HOURS}); its DME is not counted on either"),
        (("VOR", "VOR/DME"), (), f" by !XHA 07/000 ({_HOURS}) and !XHA 07/001 ({_HOURS})"),
    ],
)
def test_a_notice_says_what_of_a_station_is_out(notices: tuple[str, ...], more: tuple[str, ...], words: str) -> None:
    text = "\n".join(
        f"!XHA 07/{number:03d} QHB NAV {part} U/S 2607181200-2607182000" for number, part in enumerate(notices)
    )
    flight = sample("notices out.txt", "route XHAR QHB V801 QEL XOLD", *more)
    (answer,) = check_text(flight, "flight.route", references=References({"out.txt": text}))
    assert lines("station-out", answer.findings) == [
        f"error leg 1 16:12 XHAR to QHB relies on QHB, which is out of service{words} [of QHB]",
        f"error leg 2 16:21 QHB to QEL relies on QHB, which is out of service{words} [of QHB]",
    ]


@pytest.mark.parametrize("end", ["start", "end"])
def test_a_station_that_is_published_as_shut_down_is_told_at_either_end(end: str) -> None:
    case = case_of("route QHB QEL", "-airway V801", "-direct QHB", "-direct QEL")
    leg = case.first_legs[0]
    point: Point = getattr(leg.stretch, end)
    assert point.station is not None
    shut = changed(point, place=changed(point.station, status="SHUTDOWN"))
    stretch = changed(leg.stretch, start=shut) if end == "start" else changed(leg.stretch, end=shut)
    out = changed(leg, stretch=stretch)
    message = f"QHB to QEL relies on {point.name}, which is published as shutdown"
    assert list(station_out.check(case)) == []
    assert list(station_out.check(changed(case, first_legs=(leg, out)))) == [Found(message, out, station=point.name)]


def test_a_station_of_the_airway_that_is_published_as_shut_down_is_told_where_it_is_joined_later() -> None:
    chart = "airway V801 QHB 212 - MARSH 15nm - 034 QEL 14.5nm"
    case = case_of("fix MARSH N45 59.58 W039 27.30", chart, "route MARSH V801 QEL", "-direct QHB", "-direct QEL")
    leg = case.first_legs[0]
    behind = changed(case.request.definitions.stations["QHB"], status="SHUTDOWN")
    ahead = leg.stretch.end.station
    assert leg.stretch.airway is not None
    assert leg.stretch.start.fix is not None
    assert ahead is not None
    airway = changed(leg.stretch.airway, places=(behind, leg.stretch.start.fix, ahead))
    out = changed(leg, stretch=changed(leg.stretch, airway=airway))
    message = "MARSH to QEL is flown on QEL alone, up to its changeover point: QHB is published as shutdown"
    assert list(station_out.check(changed(case, first_legs=(out,)))) == [
        Found(message, out, Severity.NOTE, station="QHB")
    ]


def test_a_published_frequency_of_no_channel_has_no_pair() -> None:
    # ICAO Annex 10, volume I: VOR channels are 50 kHz apart, so 112.63 MHz is none.
    case = case_of()
    (station, leg) = case.stations[0]
    odd = changed(station, frequency_mhz=112.63, channel="73X")
    (told,) = channel_unpaired.check(changed(case, stations=((odd, leg),)))
    assert (told.message, told.leg, told.about) == (
        "QHB 112.63 is published with channel 73X; paired is none",
        leg,
        "QHB",
    )
    assert list(channel_unpaired.check(changed(case, stations=((changed(odd, channel=None), leg),)))) == []


def test_a_station_without_a_frequency_is_like_no_other() -> None:
    case = case_of("station QEL 113.90 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft")
    (first, leg), (second, other) = case.stations
    assert [one.message for one in frequencies_alike.check(case)] == ["QEL 113.90 comes after QHB 113.70"]
    for stations in (
        ((changed(first, frequency_mhz=None), leg), (second, other)),
        ((first, leg), (changed(second, frequency_mhz=None), other)),
    ):
        assert list(frequencies_alike.check(changed(case, stations=stations))) == []


def test_neighbours_are_asked_around_the_leg_and_of_the_day() -> None:
    asked: list[tuple[float, Position, float, date]] = []

    class Published:
        def stations_on(self, frequency_mhz: float, near: Position, radius_nm: float, day: date) -> tuple[Station, ...]:
            asked.append((frequency_mhz, near, radius_nm, day))
            return ()

    case = changed(case_of(), neighbours=Published())
    assert list(frequency_shared.check(case)) == []
    # QHB is used up to 11 NM away from it, QEL up to 18.5: in hundreds of miles, 100 beyond the 200 looked at.
    (qhb, _), (qel, _) = case.stations
    day = date(2026, 7, 18)
    assert asked == [(113.7, qhb.position, 300.0, day), (110.2, qel.position, 300.0, day)]


def test_a_published_declination_is_doubted_and_not_read_as_east_for_west() -> None:
    # WMM2025 at N45 30 W039 12 on 18 July 2026: 12.4W. 15E is 27 degrees off, and of a station of the file an error.
    class Misaligned(SampleCatalogue):
        def stations(self, ident: str, day: date) -> tuple[Station, ...]:
            return tuple(changed(one, declination_deg=15.0) for one in super().stations(ident, day))

    told = judged_text(sample("route XHAR QHB V801 QEL/A055 QPB XOLD"), Misaligned())
    assert lines("declination-old", told) == ["warning leg 4 16:30 QPB is aligned to 15E; the variation there is 12.4W"]
