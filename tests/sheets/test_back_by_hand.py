"""The blocks of the back, the boxes and the places of a flight, each with every word that it prints."""

from __future__ import annotations

from datetime import date

import pytest
from helpers.drawn import reports
from helpers.flown import changed as flight
from helpers.judged import CHART_ONLY, reported

from navlog.flightlog.records import Log
from navlog.nav.chart import Position, Provenance, Source, Station, StationKind
from navlog.nav.receiver_check import Checkpoint
from navlog.nav.record import changed
from navlog.printed.airfields import airfield_lines, short_airfield_lines
from navlog.printed.back import BackPart, Block, back
from navlog.printed.boxes import Box, before_flight, on_arrival
from navlog.printed.cautions import CAUTIONS, page_key, page_signs
from navlog.printed.places import places
from navlog.printed.radios import landings
from navlog.printed.receivers import receiver_lines
from navlog.version import VERSION

TEXT = flight(
    'radio XHAR "tower" 118.1', 'radio QHB "info" 122.1', 'radio XOLD "unicom" 122.8', "equipment vor 2 dme 1",
    "rules ifr",
)  # fmt: skip
WEATHER = (("code", "time Z"), ("wind", "visibility"), ("cloud", "temp/dew"), ("altimeter", "runway"))


def log_of(text: str = TEXT) -> Log:
    (report,) = reports(text)
    return report.log


def test_the_boxes_before_the_flight() -> None:
    assert before_flight(log_of()) == (
        Box("AIRCRAFT", (("reg", "pilot"), ("off block", "off"), ("hours", "fuel"))),
        Box("WEATHER XHAR", WEATHER),
        Box("CLEARANCE", (("limit",), ("route",), ("altitude", "frequency"), ("squawk", "void time"))),
        Box("RADIO", (("118.1 XHAR tower",), ("122.1 QHB info",))),
    )


def test_the_boxes_on_arrival() -> None:
    assert on_arrival(log_of()) == (
        Box("ALTIMETER ON THE WAY", (("setting", "from"), ("setting", "from"))),
        Box("WEATHER XOLD", WEATHER),
        Box("RADIO XOLD", (("122.8 XOLD unicom",),)),
    )
    stops = log_of(TEXT.replace("QEL XOLD", "QEL XOLD land 20min QEL XOLD"))
    assert [point.name for point in landings(stops)] == ["XOLD", "XOLD"]
    assert [box.title for box in on_arrival(stops)][2:] == ["RADIO XOLD", "RADIO XOLD"]


def test_the_places_of_a_flight_in_flying_order() -> None:
    # Channels by ICAO Annex 10, volume I, table A: 113.70 is 84X, 110.20 is 39X. Morse by Annex 10, volume II.
    found = places(log_of())
    assert [(one.name, one.kind, one.about, one.label) for one in found] == [
        ("XHAR", "airport", "", "XHAR"),
        ("QHB", "station", "QHB 113.70 --.- .... -... DME 84X", "QHB 113.70"),
        ("COP", "changeover", "11.0 NM from QHB (stated), then QEL 110.20 --.- . .-..", "COP 11.0 NM QHB"),
        ("QEL", "station", "QEL 110.20 --.- . .-.. DME 39X", "QEL 110.20"),
        ("XOLD", "airport", "", "XOLD"),
    ]
    assert [one.position for one in found if one.kind == "station"] == [
        Position(46 + 12.3 / 60, -39 - 20.7 / 60),
        Position(45 + 44.1 / 60, -39 - 33 / 60),
    ]


def test_a_station_beside_the_way_stands_behind_and_one_on_it_once() -> None:
    # LAKER is told by QSK, which the flight does not pass; the places without a position stand as well.
    text = flight(
        "equipment vor 2 dme 1", "fix LAKER QHB 212 x QSK 280", "station QHB 113.70 decl 15W",
        "station QEL 110.20 decl 17W", "airway V801 QHB 212 - LAKER 15nm - 034 QEL 14.5nm mea 3000",
        'station QSK 112.40 N45 52.00 W038 38.00 decl 14W name "Skerry" elev 150ft', "route QHB V801 QEL",
        without=("airport XHAR", "airport XOLD", "direct QHB XHAR", "direct QEL XOLD", "direct"),
    )  # fmt: skip
    found = [(one.name, one.kind, one.about) for one in places(log_of(text))]
    assert found[0] == ("QHB", "station", "QHB 113.70 --.- .... -...")
    assert found[-1] == ("QSK", "station", "QSK 112.40 --.- ... -.- Skerry")
    assert [name for name, kind, _ in found if kind == "station"] == ["QHB", "QEL", "QSK"]


def test_a_place_that_has_no_name_is_called_what_it_is() -> None:
    log = reported("aircraft climber.toml", "-tas", "-burn", "wind calm", "route XHAR QHB V801 QEL XOLD").log
    named = {one.kind: (one.name, one.label) for one in places(log) if one.kind.startswith("top")}
    assert named == {
        "top of climb": ("TOP OF CLIMB", "top of climb"),
        "top of descent": ("TOP OF DESCENT", "top of descent"),
    }


def titled(parts: list[BackPart]) -> dict[str, BackPart]:
    return {part.lengths[-1].title: part for part in parts if part.lengths[-1].title}


def test_the_titled_blocks_of_the_back() -> None:
    (report,) = reports(TEXT)
    # Needles by the stated declinations of 15W and 17W, the compass by the model: 13W at these islands.
    no_wind = (
        "leg 1 needle 272, compass 269 in no wind; leg 2 needle 212, compass 210 in no wind;"
        " leg 3 needle 214, compass 209 in no wind; leg 4 needle 126, compass 121 in no wind"
    )
    other = "leg 1, from XHAR: QEL 110.20 --.- . .-.., set 214 TO for changeover".replace(" ", "\xa0")
    found = titled(list(back(report)))
    assert list(found) == ["AIRPORTS", "VOR CHECK", "OTHER VOR", "NEEDLE/COMPASS", "LAST VOR CHECK"]
    short, long = found["AIRPORTS"].lengths
    assert short == Block("AIRPORTS", ("elevation XHAR 790 ft, XOLD 350 ft",))
    assert long == Block("AIRPORTS", tuple(short_airfield_lines(report.log)))
    assert (found["AIRPORTS"].name, found["AIRPORTS"].optional) == ("airports", False)
    due = "no check stated; it must be within the 30 days before the flight (14 CFR 91.171)"
    assert found["VOR CHECK"] == BackPart((Block("VOR CHECK", (due,)),), "receivers", optional=True)
    assert (found["OTHER VOR"].name, found["OTHER VOR"].optional) == ("receivers", True)
    assert [line.replace(" ", "\xa0") for line in found["OTHER VOR"].lengths[0].lines] == [other]
    assert found["NEEDLE/COMPASS"] == BackPart((Block("NEEDLE/COMPASS", (no_wind,)),), "workings", optional=True)
    fields = ("date", "place", "error", "signed")
    assert found["LAST VOR CHECK"] == BackPart((Block("LAST VOR CHECK", fields=fields),))


def test_the_small_print_of_the_back() -> None:
    (report,) = reports(TEXT)
    digest = report.log.route.request.digest[:12]
    signs, key = page_signs(by_compass=False), page_key(by_compass=False)
    assert [part for part in back(report) if not part.lengths[0].title] == [
        BackPart((Block("", (signs,)), Block("", (key,))), "legend"),
        BackPart(
            (
                Block(
                    "",
                    (
                        f"navlog {VERSION}, test.route SHA-256 {digest}; Data: the route file only;"
                        " Variation by WMM2025; Wind, true: 230/12 (as stated)",
                    ),
                ),
            )
        ),
        BackPart((Block("", (CAUTIONS,)),)),
    ]


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        (CHART_ONLY, "no magnetic model; Wind, true: 230/12 (as stated)"),
        (
            ("aircraft climber.toml", "-tas", "-burn", "-wind", "winds winds.txt"),
            "Variation by WMM2025; Headings by compass: the card of Climber (climber.toml);"
            " Wind, true: bulletin (winds.txt)",
        ),
        (
            ("route XHAR QHB V801 QEL/A055 QUV XOLD",),
            "Variation by WMM2025; Wind, true: 230/12 (as stated); * UNVERIFIED: QUV",
        ),
    ],
)
def test_where_the_page_comes_from(changes: tuple[str, ...], expected: str) -> None:
    (line,) = [
        line
        for part in back(reported(*changes))
        for line in part.lengths[0].lines
        if line.startswith(f"navlog {VERSION}, flight.route SHA-256 ")
    ]
    assert line.endswith(expected)


CHECKED = Checkpoint(
    station=Station(
        "QHB", StationKind.VOR, Position(46.205, -39.345), frequency_mhz=113.7, declination_deg=-15.0
    ),
    radial_deg=91.0,
    airborne=False,
    description="ON RUNUP PAD RWY 09.",
    position=Position(46 + 14.5 / 60, -39 - 7.2 / 60),
    airport="XHAR",
    distance_nm=9.5,
    altitude_ft=None,
    provenance=Provenance(Source.NASR, "2607", date(2026, 7, 9), date(2026, 8, 6)),
)  # fmt: skip
QHB = "QHB 113.70 --.- .... -..."


@pytest.mark.parametrize(
    ("one", "expected"),
    [
        # On the ground within 4 degrees, in the air within 6 (14 CFR 91.171(b)(2) and (3)).
        (
            CHECKED,
            f"checkpoint XHAR: {QHB}, R-091, 9.5 NM from it, on the ground, within 4 degrees, set 091 FROM:"
            " ON RUNUP PAD RWY 09. (NASR 2607)",
        ),
        # XHAR lies 2.2 minutes of latitude and 13.5 of longitude, 9.35 NM at 46 degrees, from QHB: 9.6 NM.
        (
            changed(
                CHECKED, airborne=True, airport=None, distance_nm=None, altitude_ft=2000.0, description="OVER QHB",
                position=Position(46.205, -39.345), provenance=Provenance(Source.NASR),
            ),
            f"checkpoint QHB, 9.6 NM from the departure: {QHB}, R-091, in the air at 2000 ft, within 6 degrees,"
            " set 091 FROM: OVER QHB (NASR)",
        ),
        (
            changed(CHECKED, airborne=True, station=changed(CHECKED.station, true_referenced=True)),
            f"checkpoint XHAR: {QHB}, R-091T, 9.5 NM from it, in the air, within 6 degrees, set 091T FROM:"
            " ON RUNUP PAD RWY 09. (NASR 2607)",
        ),
    ],
)  # fmt: skip
def test_a_published_checkpoint_in_words(one: Checkpoint, expected: str) -> None:
    log = log_of(TEXT.replace("rules ifr", "rules vfr"))
    near = changed(log, route=changed(log.route, checkpoints=(one,)))
    assert list(receiver_lines(near)) == [expected]


def test_without_a_position_of_the_departure_no_checkpoint_is_near() -> None:
    log = reported(*CHART_ONLY).log
    assert list(receiver_lines(changed(log, route=changed(log.route, checkpoints=(CHECKED,))))) == []


@pytest.mark.parametrize(
    ("statement", "expected"),
    [
        (
            "vor-check 2026-07-05 XOLD vot 2",
            "checked 2026-07-05 at XOLD, test signal (VOT): error +2 degrees, at most 4 (14 CFR 91.171(b)(1));"
            " counts through 2026-08-04",
        ),
        (
            "vor-check 2026-07-05 XHAR airborne -1.5 +3",
            "checked 2026-07-05 at XHAR, airborne checkpoint: error -1.5 and +3 degrees, at most 6"
            " (14 CFR 91.171(b)(3)); counts through 2026-08-04",
        ),
        # One receiver within the limit does not make the other good.
        (
            "vor-check 2026-07-05 XHAR ground 1 -5",
            "checked 2026-07-05 at XHAR, ground checkpoint: error +1 and -5 degrees, at most 4 (14 CFR 91.171(b)(2));"
            " beyond it, and so counts for no flight",
        ),
    ],
)
def test_a_stated_check_in_words(statement: str, expected: str) -> None:
    # 5 July and 30 days are 4 August.
    assert list(receiver_lines(reported("rules ifr", statement).log)) == [expected]


def test_the_lines_of_the_airports() -> None:
    # 38.3 NM: XHAR to XOLD in 29 minutes; the sun's times are those of its own tests, its margins subtracted here.
    log = log_of()
    assert list(short_airfield_lines(log)) == [
        "XHAR departure: elevation 790 ft, pattern 1790 ft",
        "XOLD destination 15:39Z: elevation 350 ft, pattern 1350 ft, sunset 22:21Z, 6:42 after landing",
    ]
    assert list(airfield_lines(log)) == [
        "XHAR departure: elevation 790 ft, pattern 1790 ft by AIM\xa04-3-3",
        "XOLD destination 15:39Z: elevation 350 ft, pattern 1350 ft by AIM\xa04-3-3; sunset 22:21Z, 6:42 after landing;"
        " end of civil twilight 22:57Z, 7:18 after landing",
    ]


@pytest.mark.parametrize(
    ("off", "landing", "margin"),
    [
        # 29 minutes in the air: one a minute before the sunset of 22:21Z, one at it, one a minute behind it.
        ("21:51Z", "22:20Z", "0:01 after landing"),
        ("21:52Z", "22:21Z", "0:00 after landing"),
        ("21:53Z", "22:22Z", "0:01 BEFORE landing"),
    ],
)
def test_the_sunset_beside_the_landing(off: str, landing: str, margin: str) -> None:
    log = log_of(TEXT.replace("15:10Z", off))
    assert list(short_airfield_lines(log))[-1] == (
        f"XOLD destination {landing}: elevation 350 ft, pattern 1350 ft, sunset 22:21Z, {margin}"
    )


def test_without_a_clock_the_landing_has_no_margin() -> None:
    log = log_of(TEXT.replace("off 15:10Z\n", ""))
    assert list(short_airfield_lines(log))[-1] == "XOLD destination: elevation 350 ft, pattern 1350 ft, sunset 22:21Z"
    assert "; time of landing not known; sunset 22:21Z; end of civil twilight 22:57Z" in list(airfield_lines(log))[-1]


def test_published_remarks_of_what_is_flown_stand_on_the_back_once_each() -> None:
    log = log_of()
    stretches = [changed(leg.stretch, remarks=("QHB R-212 unusable below 4000",)) for leg in log.legs]
    legs = tuple(changed(leg, stretch=one) for leg, one in zip(log.legs, stretches, strict=True))
    blocks = [block for part in back(changed(reported(), log=changed(log, legs=legs))) for block in part.lengths]
    remarks = Block("PUBLISHED REMARKS", ("QHB R-212 unusable below 4000",))
    assert [one for one in blocks if one.title == remarks.title] == [remarks]
