"""The fields beside the way: which are told, from where, and that one place is told once.

The way leads east along the equator from N00 E010, where WGS84 has 110.574 km to a degree of latitude and 111.320 km
to one of longitude (NGA TR8350.2): a field 0.1 degrees north of it lies 5.97 NM off, one 0.2 degrees east 12.02 NM on.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from helpers.drawn import reports

from navlog.nav.chart import Airport, Fix, Place, Position, Provenance, Source, Station, StationKind
from navlog.nav.notices import AirportClosed, Notice, NoticeForm, Period, StationOut
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.printed.diverting import diversion_lines
from navlog.rules.diversion import FieldsBeside
from navlog.studies.diversions import _fields_beside

FLIGHT = """
station QAA 113.00 N00 00.00 E010 00.00 decl 0E class H dme elev 0ft
station QBB 114.00 N00 00.00 E011 00.00 decl 0E class H dme elev 0ft
airport XAA N00 00.00 E009 50.00 elev 100ft
airport XBB N00 00.00 E011 10.00 elev 100ft
date 2026-07-18
off 12:00Z
altitude 5500
variation 0E
tas 120kt
burn 8gph
fuel 30gal
wind calm
route XAA QAA QBB XBB
"""
NASR = Provenance(Source.NASR, "2607")


def field(ident: str, latitude: float, longitude: float, use: str | None = "public") -> Airport:
    return Airport(ident, Position(latitude, longitude), elevation_ft=500.0, provenance=NASR, use=use)


class Published:
    """What stands for a catalogue: the same places wherever it is asked."""

    def __init__(self, *places: Place) -> None:
        self._places = places

    def nearby(self, position: Position, radius_nm: float, day: date, kinds: frozenset[str]) -> tuple[Place, ...]:
        del position, radius_nm, day
        return tuple(one for one in self._places if not isinstance(one, Fix) and one.kind in kinds)


def beside(*places: Place, text: str = FLIGHT, notices: tuple[Notice, ...] = ()) -> FieldsBeside:
    return _fields_beside(reports(text)[0].log, Published(*places), notices)


def idents(found: FieldsBeside) -> list[str]:
    return [one.airport.ident for one in found.found]


def test_a_field_is_told_from_the_point_abeam_of_it() -> None:
    (one,) = beside(field("XCC", 0.1, 10.2)).found
    assert (one.past, one.overhead) == ("QAA", False)
    assert one.beyond_nm == pytest.approx(12.02, abs=0.01)
    assert one.distance_nm == pytest.approx(5.97, abs=0.01)
    assert (one.magnetic_course_deg or 0.0) % 360.0 == pytest.approx(0.0, abs=0.05)
    assert one.time_min == pytest.approx(5.97 / 120 * 60, abs=0.01)
    assert one.station is not None
    assert one.station.ident == "QAA"
    # 0.2 degrees east and 0.1 north: arctan(12.02 / 5.97) is 63.6 degrees; 13.42 NM, and 0.9 NM up, are 13.45 NM.
    assert one.radial_deg == pytest.approx(63.6, abs=0.1)
    assert one.dme_nm == pytest.approx(13.45, abs=0.01)


def test_an_abeam_field_at_a_turn_and_a_field_under_the_way_stand_once() -> None:
    found = beside(field("XCC", 0.0, 10.5), field("XCD", 0.1, 11.0))
    assert idents(found) == ["XCC", "XCD"]
    over, _ = found.found
    assert over.overhead
    assert (over.magnetic_course_deg, over.magnetic_heading_deg, over.time_min) == (None, None, 0.0)
    table = diversion_lines(found)[1]
    assert table[1].split()[:6] == ["XCC", "QAA", "30", "-", "-", "0.0"]


def test_a_field_under_two_names_is_one() -> None:
    assert idents(beside(field("KXCC", 0.1, 10.2), field("XCC", 0.101, 10.2))) == ["KXCC"]


def test_the_flights_own_airports_have_rows_of_their_own() -> None:
    assert idents(beside(field("KXBB", 0.001, 11.1667), field("XCC", 0.1, 10.2))) == ["XCC"]


def test_private_closed_and_far_fields_and_heliports_are_left_out() -> None:
    places = (
        field("XPR", 0.1, 10.2, use="private"),
        changed(field("XCL", 0.1, 10.3), status="closed permanently"),
        changed(field("XHE", 0.1, 10.4), kind="heliport"),
        field("XFA", 0.43, 10.5),  # 25.7 NM
    )
    assert beside(*places).found == ()


def test_a_field_of_unknown_use_is_counted_not_told() -> None:
    found = beside(field("XUN", 0.1, 10.2, use=None))
    assert (found.found, found.unknown_use) == ((), 1)
    (words,), table = diversion_lines(found)
    assert words == (
        "no other field known to be public within 25 NM of the way; 1 more may be private: the data does not say"
    )
    assert table == ()


def test_without_a_catalogue_the_files_own_fields_are_told() -> None:
    text = FLIGHT.replace("date ", "airport XCC N00 06.00 E010 12.00\ndate ")
    found = _fields_beside(reports(text)[0].log, None)
    assert idents(found) == ["XCC"]
    (words,), table = diversion_lines(found)
    assert words.endswith("only the route file's fields: no catalogue was asked.")
    assert table[1].startswith("XCC*")


def notice(effect: AirportClosed | StationOut, start: int, end: int) -> Notice:
    hours = Period(datetime(2026, 7, start, tzinfo=UTC), datetime(2026, 7, end, tzinfo=UTC))
    return Notice("A1", NoticeForm.DOMESTIC, "XCC", "TEXT", Span("brief.txt", 1), hours, (effect,))


def test_a_field_closed_by_notice_is_named_not_told() -> None:
    places = (field("KXCC", 0.1, 10.2), field("XCD", 0.1, 10.6))
    found = beside(*places, notices=(notice(AirportClosed("XCC"), 18, 20),))
    assert (idents(found), found.closed) == (["XCD"], ("KXCC",))
    assert diversion_lines(found)[0][0].endswith("closed by notice: KXCC.")
    assert idents(beside(*places, notices=(notice(AirportClosed("XCC"), 1, 3),))) == ["KXCC", "XCD"]


def test_a_field_is_not_located_from_a_station_out_by_notice() -> None:
    (one,) = beside(field("XCC", 0.1, 10.2), notices=(notice(StationOut("QAA", "vor"), 17, 20),)).found
    assert one.station is not None
    assert one.station.ident == "QBB"


def test_a_field_that_the_fuel_does_not_reach_is_left_out() -> None:
    # 40 minutes to QBB and XBB at 8 gal/h take 5.4 gal; of 5.5 there are 0.1 left, 45 seconds.
    text = FLIGHT.replace("fuel 30gal", "fuel 5.5gal")
    assert idents(beside(field("XCC", 0.35, 11.16), field("XCD", 0.1, 10.1), text=text)) == ["XCD"]


def test_a_shorter_table_has_a_field_of_every_part_of_the_way() -> None:
    crowd = [field(f"XE{number}", 0.05 + number / 1000.0, 9.9 + number / 100.0) for number in range(10)]
    found = beside(*crowd, field("XFF", 0.2, 11.0))
    (words,), table = diversion_lines(found, 2)
    assert words.startswith("2 of 11 fields shown. ")
    assert [line.split()[0] for line in table[1:]] == ["XE0", "XFF"]
    assert len(diversion_lines(found)[1]) == 12


def test_a_line_fits_a_strip_of_51_columns_with_names_of_five_letters() -> None:
    station = Station("QCC", StationKind.VOR, Position(0.0, 10.2), 115.0, declination_deg=0.0, provenance=NASR)
    found = beside(field("KXCC", 0.35, 10.2), station)
    longest = changed(found.found[0], past="XABCD", beyond_nm=119.6)
    (_, line) = diversion_lines(changed(found, found=(longest,)))[1]
    assert "XABCD 120" in line
    assert len(line) <= 51
