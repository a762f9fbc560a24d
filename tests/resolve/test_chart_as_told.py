"""File and published data as notices leave them: each record whole, before and after.

V40 leads over FIXA, FIXB, FIXC and FIXD northward along one meridian, 30 NM apart.
"""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
from helpers.flown import changed as flown_with

from navlog.nav.chart import (
    Airport,
    Airway,
    BothWays,
    ChangeoverAt,
    CrossingAltitude,
    Fix,
    Place,
    Position,
    Segment,
    Service,
    Station,
    StationKind,
)
from navlog.nav.notices import (
    CrossingMinimum,
    Effect,
    Notice,
    NoticeForm,
    ReceptionMinimum,
    SegmentChangeover,
    SegmentClosed,
    SegmentMinimum,
    StationOut,
    StationSector,
)
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.nav.sectors import Sector
from navlog.request.flights import read_flights
from navlog.request.records import Name, Request
from navlog.resolve.lookup import ChartLookup, NoCatalogue
from navlog.resolve.noticed import as_told

if TYPE_CHECKING:
    from collections.abc import Iterable

DAY = date(2026, 7, 18)
SPAN = Span("notices.txt", 1)
NAMES = ("FIXA", "FIXB", "FIXC", "FIXD")
PLACES: tuple[Place | None, ...] = tuple(Fix(one, Position(45.0 + at / 2.0, -39.0)) for at, one in enumerate(NAMES))
BASE = Segment(
    "", "", 30.0, mea=BothWays(3_000.0, 3_500.0), moca=BothWays(2_000.0, None), maa=BothWays(9_000.0, 8_000.0),
    changeovers=(ChangeoverAt(5.0, "FIXA", "FIXB"),),
)  # fmt: skip
SEGMENTS = tuple(changed(BASE, start=one, end=other) for one, other in pairwise(NAMES))
QPB = Station("QPB", StationKind.VOR, dme=True, dme_service="L", unusable=(Sector(10.0, 20.0),))
OLD = Airport("XOLA", Position(45.0, -39.0))


class Chart(NoCatalogue):
    """One airway, and a station, fix and airport, each only where asked for by its own name and day."""

    def __init__(self, places: tuple[Place | None, ...] = PLACES) -> None:
        self.places = places

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        return (QPB,) if (ident, day) == ("QPB", DAY) else ()

    def stations_on(self, frequency_mhz: float, near: Position, radius_nm: float, day: date) -> tuple[Station, ...]:
        asked_for = (frequency_mhz, near, radius_nm, day)
        return (QPB,) if asked_for == (113.0, Position(45.0, -39.0), 200.0, DAY) else ()

    def fixes(self, ident: str, day: date) -> tuple[Fix, ...]:
        return (Fix("FIXB"),) if (ident, day) == ("FIXB", DAY) else ()

    def airports(self, ident: str, day: date) -> tuple[Airport, ...]:
        return (OLD,) if (ident, day) == ("XOLA", DAY) else ()

    def airways(self, ident: str, day: date) -> tuple[Airway, ...]:
        return (Airway("V40", NAMES, SEGMENTS, self.places),) if (ident, day) == ("V40", DAY) else ()

    def airways_joining(self, first: str, second: str, day: date) -> tuple[str, ...]:
        return (first, second, str(day))

    def similar(self, ident: str, day: date, near: Position | None) -> tuple[Place, ...]:
        return (Fix(f"{ident} {day}", near),)

    def checkpoints(self, near: Position, day: date) -> tuple[Any, ...]:
        return (near, day)

    def sources(self, day: date) -> tuple[Any, ...]:
        return (day,)

    def obstacles(self, corridor: Any, day: date) -> Any:
        return corridor, day


def notice(*effects: Effect, number: int = 1) -> Notice:
    return Notice(f"!XHA 07/00{number}", NoticeForm.DOMESTIC, "XHA", "", SPAN, effects=effects)


def asked(*statements: str) -> Request:
    (request,) = read_flights(flown_with(*statements), "flight.route").flights
    assert isinstance(request, Request), request
    return request


def told(notices: Iterable[Notice], chart: Chart | None = None, *statements: str) -> tuple[Request, ChartLookup]:
    """The invented flight and the chart as notices leave them."""
    request, catalogue = as_told(asked(*statements), chart or Chart(), notices)
    assert catalogue is not None
    return request, catalogue


def airway(*effects: Effect, places: tuple[Place | None, ...] = PLACES) -> tuple[Segment, ...]:
    """The segments of V40 as the notices 1, 2 ... of one effect each leave them."""
    notices = [notice(one, number=number) for number, one in enumerate(effects, 1)]
    (found,) = told(notices, Chart(places))[1].airways("V40", DAY)
    return found.segments


def minimum(kind: str, altitude_ft: float, way: str | None = None, start: str = "FIXA", end: str = "FIXC") -> Effect:
    return SegmentMinimum(("V40", "V41"), start, end, kind, altitude_ft, way)


def both(forward_ft: float | None, backward_ft: float | None) -> BothWays:
    return BothWays(forward_ft, backward_ft)


FIELDS = {"MEA": "mea", "MOCA": "moca", "MAA": "maa"}
NOWHERE: tuple[Place | None, ...] = (None,) * 4
ONE_PLACE: tuple[Place | None, ...] = tuple(Fix(one, Position(45.0, -39.0)) for one in NAMES)


@pytest.mark.parametrize(
    ("kind", "altitude_ft", "way", "places", "expected"),
    [
        ("MEA", 5_000.0, None, PLACES, both(5_000.0, 5_000.0)),
        ("MEA", 2_500.0, None, PLACES, both(2_500.0, 2_500.0)),
        ("MOCA", 2_400.0, None, PLACES, both(2_400.0, 2_400.0)),
        ("MAA", 7_000.0, None, PLACES, both(7_000.0, 7_000.0)),
        # The way meant is the one within 90 degrees of the course as written, north.
        ("MEA", 5_000.0, "north", PLACES, both(5_000.0, 3_500.0)),
        ("MEA", 5_000.0, "northeast", PLACES, both(5_000.0, 3_500.0)),
        ("MEA", 5_000.0, "northwest", PLACES, both(5_000.0, 3_500.0)),
        ("MEA", 5_000.0, "south", PLACES, both(3_000.0, 5_000.0)),
        ("MEA", 5_000.0, "southeast", PLACES, both(3_000.0, 5_000.0)),
        ("MEA", 5_000.0, "southwest", PLACES, both(3_000.0, 5_000.0)),
        ("MOCA", 2_400.0, "south", PLACES, both(2_000.0, 2_400.0)),
        ("MAA", 7_000.0, "south", PLACES, both(9_000.0, 7_000.0)),
        # Where the course is not known either way may be the other: the safer of old and new holds for both.
        ("MEA", 3_200.0, "north", NOWHERE, both(3_200.0, 3_500.0)),
        ("MEA", 3_200.0, "north", (None, *PLACES[1:2], None, None), both(3_200.0, 3_500.0)),
        ("MEA", 3_200.0, "north", (PLACES[0], None, PLACES[2], None), both(3_200.0, 3_500.0)),
        ("MEA", 3_200.0, "south", ONE_PLACE, both(3_200.0, 3_500.0)),
        ("MOCA", 1_900.0, "north", NOWHERE, both(2_000.0, 1_900.0)),
        ("MAA", 8_500.0, "north", NOWHERE, both(8_500.0, 8_000.0)),
    ],
)
def test_an_altitude_takes_the_place_of_the_segments(
    kind: str, altitude_ft: float, way: str | None, places: tuple[Place | None, ...], expected: BothWays
) -> None:
    first, second, third = SEGMENTS
    field: dict[str, Any] = {FIELDS[kind]: expected}
    now = (changed(first, **field), changed(second, **field), third)
    assert airway(minimum(kind, altitude_ft, way), places=places) == now
    assert airway(minimum(kind, altitude_ft, way, "FIXC", "FIXA"), places=places) == now


@pytest.mark.parametrize(
    "effect",
    [
        SegmentMinimum(("V41",), "FIXA", "FIXC", "MEA", 5_000.0),
        minimum("MEA", 5_000.0, start="FIXX"),
        minimum("MEA", 5_000.0, end="FIXX"),
        CrossingMinimum(("V40",), "FIXX", 7_000.0),
        ReceptionMinimum("FIXX", 7_000.0),
    ],
)
def test_what_is_not_on_the_airway_changes_nothing(effect: Effect) -> None:
    assert airway(effect) == SEGMENTS


@pytest.mark.parametrize(("kind", "holds_ft"), [("MEA", 6_000.0), ("MOCA", 6_000.0), ("MAA", 5_000.0)])
@pytest.mark.parametrize("order", [(5_000.0, 6_000.0), (6_000.0, 5_000.0)])
def test_of_two_altitudes_the_safer_holds(kind: str, holds_ft: float, order: tuple[float, float]) -> None:
    found = airway(*(minimum(kind, altitude_ft) for altitude_ft in order))
    assert getattr(found[0], FIELDS[kind]) == BothWays(holds_ft, holds_ft)


def test_a_closed_part_is_unusable_and_a_changeover_point_is_the_only_one() -> None:
    first, second, third = SEGMENTS
    closed = airway(SegmentClosed(("V40",), "FIXB", "FIXD"))
    assert closed == (first, *(changed(one, service=Service.UNUSABLE) for one in (second, third)))
    for station, ahead in (("FIXB", "FIXD"), ("FIXD", "FIXB")):
        moved = airway(SegmentChangeover(("V40",), "FIXD", "FIXB", station, 12.0))
        at = (ChangeoverAt(12.0, station, ahead),)
        assert moved == (first, changed(second, changeovers=at), changed(third, changeovers=()))
    # From a station that is at neither end: none is known any more.
    lost = airway(SegmentChangeover(("V40",), "FIXB", "FIXD", "FIXC", 12.0))
    assert lost == (first, *(changed(one, changeovers=()) for one in (second, third)))


def mca(at: str, toward: str, number: int = 1) -> CrossingAltitude:
    return CrossingAltitude(7_000.0, at, toward, remark=f"by !XHA 07/00{number}")


@pytest.mark.parametrize(
    ("at", "way", "places", "expected"),
    [
        ("FIXB", None, PLACES, [[mca("FIXB", "FIXA")], [mca("FIXB", "FIXC")], []]),
        ("FIXB", "north", PLACES, [[], [mca("FIXB", "FIXC")], []]),
        ("FIXB", "southwest", PLACES, [[mca("FIXB", "FIXA")], [], []]),
        ("FIXC", None, PLACES, [[], [mca("FIXC", "FIXB")], [mca("FIXC", "FIXD")]]),
        ("FIXA", None, PLACES, [[mca("FIXA", "FIXB")], [], []]),
        ("FIXA", "south", PLACES, [[], [], []]),
        ("FIXD", None, PLACES, [[], [], [mca("FIXD", "FIXC")]]),
        ("FIXD", "south", PLACES, [[], [], [mca("FIXD", "FIXC")]]),
        # Where it cannot be told which way it leads, both.
        ("FIXB", "north", NOWHERE, [[mca("FIXB", "FIXA")], [mca("FIXB", "FIXC")], []]),
        ("FIXB", "north", (None, *PLACES[1:]), [[mca("FIXB", "FIXA")], [mca("FIXB", "FIXC")], []]),
    ],
)
def test_a_crossing_altitude_holds_toward_the_neighbour_that_lies_the_way(
    at: str, way: str | None, places: tuple[Place | None, ...], expected: list[list[CrossingAltitude]]
) -> None:
    effect = CrossingMinimum(("V40",), at, 7_000.0, way)
    assert [list(one.crossings) for one in airway(effect, places=places)] == expected


def test_two_notices_of_one_crossing_altitude_stand_beside_each_other_and_one_stands_once() -> None:
    effect = CrossingMinimum(("V40",), "FIXA", 7_000.0)
    assert airway(effect, effect)[0].crossings == (mca("FIXA", "FIXB"), mca("FIXA", "FIXB", 2))
    (found,) = told([notice(effect, effect)])[1].airways("V40", DAY)
    assert found.segments[0].crossings == (mca("FIXA", "FIXB"),)


SECTOR = Sector(30.0, 40.0, 20.0, 3_000.0, "vor", "UNUSABLE")


@pytest.mark.parametrize(
    ("effects", "expected"),
    [
        ((StationSector("QPB", SECTOR),),
         changed(QPB, unusable=(Sector(10.0, 20.0), changed(SECTOR, remark="by !XHA 07/001: UNUSABLE")))),
        ((StationSector("QPB", SECTOR),) * 2,
         changed(QPB, unusable=(Sector(10.0, 20.0), changed(SECTOR, remark="by !XHA 07/001: UNUSABLE")))),
        ((StationSector("QXX", SECTOR), StationOut("QXX", "both")), QPB),
        ((StationOut("QPB", "vor"),), QPB),
        ((StationOut("QPB", "dme"),), changed(QPB, dme=False, dme_service=None)),
        ((StationOut("QPB", "both"),), changed(QPB, dme=False, dme_service=None)),
    ],
)  # fmt: skip
def test_a_station_has_what_notices_say_of_it(effects: tuple[Effect, ...], expected: Station) -> None:
    _, chart = told([notice(*effects)])
    assert chart.stations("QPB", DAY) == chart.stations_on(113.0, Position(45.0, -39.0), 200.0, DAY) == (expected,)
    _, chart = told([notice(*effects)], Chart((QPB, None, OLD, None)))
    assert chart.airways("V40", DAY)[0].places == (expected, None, OLD, None)


def test_of_two_reception_altitudes_the_higher_holds() -> None:
    notices = [notice(ReceptionMinimum("FIXB", altitude_ft)) for altitude_ft in (6_000.0, 7_000.0, 5_000.0)]
    request, chart = told(notices, None, "fix FIXB QHB 090 10nm", "fix FIXC QHB 090 20nm")
    assert chart.fixes("FIXB", DAY) == (Fix("FIXB", mra_ft=7_000.0),)
    (found,) = chart.airways("V40", DAY)
    assert isinstance(PLACES[1], Fix)
    assert found.places == (PLACES[0], changed(PLACES[1], mra_ft=7_000.0), *PLACES[2:])
    assert [request.definitions.fixes[one].mra_ft for one in ("FIXB", "FIXC")] == [7_000.0, None]


def test_all_else_is_asked_as_it_was() -> None:
    chart: Any
    _, chart = told([notice(StationOut("QPB", "vor"))])
    here: Any = Position(45.0, -39.0)
    assert chart.airports("XOLA", DAY) == (OLD,)
    assert chart.airways_joining("FIXA", "FIXB", DAY) == ("FIXA", "FIXB", "2026-07-18")
    assert chart.similar("FIXB", DAY, here) == (Fix("FIXB 2026-07-18", here),)
    assert chart.checkpoints(here, DAY) == (here, DAY)
    assert chart.sources(DAY) == (DAY,)
    assert chart.obstacles(here, DAY) == (here, DAY)


VOR_OUT, DME_OUT, ALL_OUT = (StationOut("QHB", part) for part in ("vor", "dme", "both"))


@pytest.mark.parametrize(
    ("effects", "unavailable", "dme_serves"),
    [
        ((VOR_OUT,), {"QHB": SPAN}, {"QHB"}),
        ((ALL_OUT,), {"QHB": SPAN}, set()),
        ((DME_OUT,), {}, set()),
        ((VOR_OUT, DME_OUT), {"QHB": SPAN}, set()),
        ((StationOut("QPB", "vor"), VOR_OUT), {"QHB": SPAN, "QPB": SPAN}, {"QHB", "QPB"}),
        ((StationOut("QZZ", "vor"),), {}, set()),
    ],
)
def test_a_station_is_out_with_the_part_that_notices_name(
    effects: tuple[Effect, ...], unavailable: dict[str, Span], dme_serves: set[str]
) -> None:
    request, _ = told([notice(*effects)])
    given = request.definitions
    assert dict(given.unavailable) == {ident: Name(ident, span) for ident, span in unavailable.items()}
    assert set(given.dme_serves) == dme_serves
    before = asked().definitions
    assert (given.airports, given.directs) == (before.airports, before.directs)


def test_a_station_that_the_file_calls_out_is_out_whole() -> None:
    request, _ = told([notice(VOR_OUT)], None, "unavailable QHB")
    given = request.definitions
    assert given.unavailable["QHB"].span == asked("unavailable QHB").definitions.unavailable["QHB"].span
    assert not given.dme_serves


def test_the_files_airway_changes_by_its_own_places_and_loses_the_check_of_a_changeover_that_is_gone() -> None:
    stated = "airway V801 QHB 212 - FIXAA 10nm mea 3000 cop 5 QHB - 034 QEL 19.5nm mea 3000 cop 6 QEL"
    request, _ = told([notice(SegmentMinimum(("V801",), "QHB", "QEL", "MEA", 5_000.0, "north"))], None, stated)
    definition = request.definitions.airways["V801"]
    # QEL lies south of QHB; FIXAA between has no place, so that there the safer holds for both.
    assert [one.mea for one in definition.airway.segments] == [BothWays(5_000.0, 5_000.0)] * 2
    assert [one and one.ident for one in definition.changeovers] == ["QHB", "QEL"]
    placed = "fix FIXAA N46 00.00 W039 26.00"
    request, _ = told([notice(SegmentMinimum(("V801",), "QHB", "QEL", "MEA", 5_000.0, "north"))], None, stated, placed)
    assert [one.mea for one in request.definitions.airways["V801"].airway.segments] == [BothWays(3_000.0, 5_000.0)] * 2
    request, _ = told([notice(SegmentChangeover(("V801",), "QHB", "FIXAA", "QHB", 7.0))], None, stated)
    definition = request.definitions.airways["V801"]
    assert [one and one.ident for one in definition.changeovers] == [None, "QEL"]
    assert definition.names == asked(stated).definitions.airways["V801"].names


def test_without_effects_nothing_is_changed_and_without_published_data_none_is_made() -> None:
    request, chart = asked(), Chart()
    assert as_told(request, chart, [notice()]) == (request, chart)
    now, none = as_told(request, None, [notice(VOR_OUT)])
    assert none is None
    assert set(now.definitions.unavailable) == {"QHB"}
