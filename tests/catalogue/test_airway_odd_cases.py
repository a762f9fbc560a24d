"""The odd cases of published airways, against rows of FAA NASR AWY_SEG_ALT effective 2026-05-14.

Values beside a segment are the published ones, read off the rows; which direction a compass word means is
worked out by hand from the published course.
"""

from __future__ import annotations

from collections import defaultdict
from datetime import date

import pytest
from helpers.nasr_excerpt import airway, segment

from navlog.catalogue.airways import Chain, segments
from navlog.catalogue.queries import Catalogue
from navlog.nav.chart import BothWays, ChangeoverAt, CrossingAltitude, Fix, Service, Station


def test_one_number_in_two_locations_is_two_airways(catalogue: Catalogue, day: date) -> None:
    hawaii, mainland = sorted(catalogue.airways("V1", day), key=lambda one: one.location != "H")
    assert (hawaii.location, mainland.location) == ("H", "C")
    assert not set(hawaii.points) & set(mainland.points)


@pytest.mark.parametrize(
    ("ident", "start", "end", "onward", "back"),
    [
        ("V1", "PLANN", "CRE", 2100, 5000),  # course 53: NE BND 2100, SW BND 5000
        ("V1", "INLET", "PLANN", 2100, 5000),
        ("V1", "CRE", "ASHES", 5000, 2000),  # the direction of the first word swaps at the VOR
        ("V101", "ECHOA", "ZOMBU", 11500, 13200),  # course 258: E BND 13200 is the way back
        ("V101", "MALTT", "BYI", 8000, 11400),
        ("V134", "BREWS", "BINBE", 10000, 16500),
        ("V134", "DBL", "HERLS", 16000, 14000),
        ("V101", "LIBEL", "RIDJE", 16000, 16000),
    ],
)
def test_mea_by_direction(catalogue: Catalogue, ident: str, start: str, end: str, onward: float, back: float) -> None:
    assert segment(catalogue, ident, start, end).mea == BothWays(onward, back)


def test_compass_words_that_are_not_opposite(catalogue: Catalogue) -> None:
    # E BND 3600, NW BND 6000, on courses of 101 and then 134.
    for start, end in (("FAR", "WAGNI"), ("STARR", "AXN")):
        assert segment(catalogue, "V510", start, end).mea == BothWays(3600.0, 6000.0)


def test_mca_stands_at_its_point_not_at_its_row(catalogue: Catalogue) -> None:
    westbound = CrossingAltitude(13500.0, "LIBEL", "RIDJE")
    assert segment(catalogue, "V101", "LIBEL", "RIDJE").crossings == (westbound,)
    assert segment(catalogue, "V101", "GLL", "LIBEL").crossings == ()
    eastbound = CrossingAltitude(11500.0, "CHE", "LORIN")
    assert eastbound in segment(catalogue, "V101", "LORIN", "CHE").crossings
    assert CrossingAltitude(11000.0, "TCH", "NEOLA") in segment(catalogue, "V101", "NEOLA", "TCH").crossings


def test_an_mca_at_a_point_off_its_airway_is_told_in_words() -> None:
    # No row of that edition has one; it can bind no crossing, and must not be lost.
    rows = ({"point": "QHB", "airway": "V801", "next": "LAKER"}, {"point": "LAKER", "airway": "V801", "next": "QEL"})
    crossing = {"mca": 5000.0, "mca_way": "W BND", "mca_point": "PINEY"}
    made = [defaultdict(lambda: None, row) for row in (rows[0], {**rows[1], **crossing}, {"point": "QEL"})]
    chain = Chain(tuple(made), (None, None, None), ("QHB", "LAKER", "QEL"))
    assert [(one.crossings, one.remarks) for one in segments(chain)] == [((), ()), ((), ("MCA 5000 AT PINEY W BND",))]


def test_two_mcas_at_one_point(catalogue: Catalogue) -> None:
    # JELLO's row, course 012: 5100 S BND and 5100 N BND, both at WNSOR.
    crossings = [one for each in airway(catalogue, "V333").segments for one in each.crossings]
    assert [one for one in crossings if one.at == "WNSOR"] == [
        CrossingAltitude(5100.0, "WNSOR", "JELLO"),
        CrossingAltitude(5100.0, "WNSOR", "DOLLY"),
    ]


def test_mra_maa_and_moca(catalogue: Catalogue) -> None:
    found = airway(catalogue, "V101")
    renae = found.places[found.points.index("RENAE")]
    assert isinstance(renae, Fix)
    assert renae.mra_ft == 13000.0
    assert segment(catalogue, "V101", "GLL", "LIBEL").moca == BothWays(8900.0, 8900.0)
    assert segment(catalogue, "V154", "RMG", "TIROE").maa == BothWays(7000.0, 7000.0)
    assert segment(catalogue, "V1", "KIMMY", "INLET").gnss_mea == BothWays(2100.0, 2100.0)


def test_radials_stand_only_at_stations(catalogue: Catalogue) -> None:
    first = segment(catalogue, "V101", "GLL", "LIBEL")
    assert (first.start_radial_deg, first.end_radial_deg, first.distance_nm) == (258.34, None, 25.17)
    last = segment(catalogue, "V101", "LORIN", "CHE")
    assert (last.start_radial_deg, last.end_radial_deg) == (None, 75.55)
    # HLE is an NDB/DME: a course, but no radial.
    beacon = segment(catalogue, "V101", "REAPS", "HLE")
    assert (beacon.end_radial_deg, beacon.distance_nm) == (None, 11.98)


def test_doglegs_are_turns_at_the_segment_before(catalogue: Catalogue) -> None:
    turns = [one.end for one in airway(catalogue, "V101").segments if one.turn]
    assert turns == ["REAPS"]
    back = [one.end for one in airway(catalogue, "V101").reversed().segments if one.turn]
    assert back == ["REAPS"]


def test_published_changeovers(catalogue: Catalogue) -> None:
    assert segment(catalogue, "V101", "GLL", "LIBEL").changeovers == (ChangeoverAt(71.0, "GLL", "CHE"),)
    assert segment(catalogue, "V1", "CRG", "LLIPS").changeovers == (ChangeoverAt(96.0, "CRG", "CHS"),)
    assert segment(catalogue, "V220", "JNC", "PACES").changeovers == (ChangeoverAt(56.0, "JNC", "RIL"),)


def test_a_changeover_beyond_the_last_point_has_no_segment(catalogue: Catalogue) -> None:
    assert all(one.changeovers == () for one in airway(catalogue, "V309", "A").segments)


@pytest.mark.parametrize(
    ("ident", "start", "end", "service"),
    [
        ("V1", "WALLO", "ISO", Service.UNUSABLE),
        ("V469", "LYH", "LUCLI", Service.NO_MEA),
        ("V469", "RELEE", "BOOME", Service.GNSS_ONLY),
        ("V469", "JST", "HAR", Service.DISCONTINUED),
        ("V163", "U.S. MEXICAN BORDER-2", "GROSZ", Service.BORDER),
        ("V101", "GLL", "LIBEL", Service.NORMAL),
    ],
)
def test_service_of_a_segment(catalogue: Catalogue, ident: str, start: str, end: str, service: Service) -> None:
    assert segment(catalogue, ident, start, end).service is service


@pytest.mark.parametrize("ident", ["V144", "V300", "V333"])
def test_discontinued_segments_lose_their_stale_course(catalogue: Catalogue, ident: str) -> None:
    rows = catalogue.query(
        "SELECT point FROM airway_point WHERE airway = ? AND discontinued = 'Y' AND course <> ''", (ident,)
    )
    assert rows
    for row in rows:
        (one,) = [each for each in airway(catalogue, ident).segments if each.start == row["point"]]
        assert one.service is Service.DISCONTINUED
        assert (one.start_radial_deg, one.end_radial_deg, one.distance_nm) == (None, None, None)


def test_border_points_have_names_and_no_position(catalogue: Catalogue) -> None:
    for ident, border in (("V163", "U.S. MEXICAN BORDER-2"), ("T634", "U.S.CANADIAN BORDER-2")):
        found = airway(catalogue, ident)
        place = found.places[found.points.index(border)]
        assert isinstance(place, Fix)
        assert (place.ident, place.position) == (border, None)
        assert place.provenance == found.provenance
        around = [one for one in found.segments if border in (one.start, one.end)]
        assert {one.service for one in around} <= {Service.BORDER, Service.DISCONTINUED}


def test_a_course_on_the_last_row_is_past_the_airway_and_dropped(catalogue: Catalogue) -> None:
    rows = catalogue.query("SELECT point, course FROM airway_point WHERE airway = 'V311' ORDER BY seq")
    assert rows[-1]["course"] != ""
    found = airway(catalogue, "V311")
    assert found.points[-1] == rows[-1]["point"]
    assert len(found.segments) == len(found.points) - 1


def test_a_length_that_contradicts_the_positions_is_kept_as_published(catalogue: Catalogue) -> None:
    assert segment(catalogue, "V583", "LOA", "FZT").distance_nm == 52.16


def test_remarks_with_line_breaks_are_kept(catalogue: Catalogue) -> None:
    assert any("\n" in remark for one in airway(catalogue, "Q149").segments for remark in one.remarks)


def test_every_point_has_its_place(catalogue: Catalogue, day: date) -> None:
    for ident in ("V1", "V101", "V134", "V469", "V24"):
        for found in catalogue.airways(ident, day):
            assert [place.ident if place else None for place in found.places] == list(found.points)
            stations = [place for place in found.places if isinstance(place, Station)]
            assert stations
            assert all(station.position is not None for station in stations)


def test_the_reverse_has_the_altitudes_of_the_other_way(catalogue: Catalogue) -> None:
    back = airway(catalogue, "V1").reversed()
    (one,) = [each for each in back.segments if each.start == "CRE" and each.end == "PLANN"]
    assert one.mea.forward_ft == 5000.0


def test_rows_of_a_changed_station_type_still_find_their_station(catalogue: Catalogue, day: date) -> None:
    from navlog.catalogue.airway_queries import pick_station

    row = catalogue.query("SELECT * FROM airway_point WHERE airway = 'V101' AND point = 'GLL'")[0]
    assert row["type"] == "VOR/DME"
    known = catalogue.published_stations(["GLL"], day)["GLL"]
    changed = {**dict(row), "type": "VORTAC"}
    station = pick_station(known, changed, None)  # type: ignore[arg-type]
    assert station is not None
    assert station.ident == "GLL"
