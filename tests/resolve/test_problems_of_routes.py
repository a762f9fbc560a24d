"""Problems of a route line: words that mean no place, airways that are not there, legs that lead nowhere.

Each as it is told: what it points at, its code, message and hint. What is published here is invented.
"""

from __future__ import annotations

import pytest
from helpers.namesakes import JULY, JUNE, Published, asked, problems

from navlog.nav.angles import position_text
from navlog.nav.chart import Airport, Provenance, Source, Station
from navlog.resolve.flight import resolve_flight

HB = "`QHB` is `QHB` vor at N46 12.30 W039 20.70"
TWO = "`TWICE` fix at N45 30.00 W039 00.00; `TWICE` fix at N46 30.00 W039 00.00"
ON_45 = "N45 30.00 W039 00.00"
ON_46 = "N46 00.00 W039 00.00"
ON_47 = "N46 30.00 W039 00.00"


# Distances by hand: XHAR at N46 14.5 W039 07.2 is 5.0 NM west of the meridian, and 15.5 NM south of N46 30,
# 14.5 NM north of N46 and 44.5 NM north of N45 30: the roots of the sums of squares are 16.3, 15.3 and 44.8 NM.
@pytest.mark.parametrize(
    ("word", "code", "message", "hint"),
    [
        ("QVT", "not-qualified", f"`QVT` is only `QVT` vot at {ON_47}",
         "such a place counts only when qualified: write `QVT:vot`"),
        ("QMK", "not-qualified", f"`QMK` is only `QMK` FAN MARKER at {ON_47}; `QMK` heliport at N46 15.00 W039 00.00",
         "such a place counts only when qualified: write `QMK:marker`"),
        ("QNF", "ambiguous-name", f"`QNF` is 2 things: `QNF` ndb NORFOLK at {ON_47} (16 NM from XHAR); "
         f"`QNF` fix at {ON_46} (15 NM from XHAR)", "write `QNF:ndb` or `QNF:fix`"),
        ("TWICE", "ambiguous-name", f"`TWICE` is 2 things: `TWICE` fix at {ON_45} (45 NM from XHAR); "
         f"`TWICE` fix at {ON_47} (16 NM from XHAR)", "write `TWICE:4530N03900W` or `TWICE:4630N03900W`"),
        ("BLANK", "ambiguous-name", "`BLANK` is 2 things: `BLANK` fix US; `BLANK` fix", "define it in the file"),
        ("QDD", "ambiguous-name", f"`QDD` is 2 things: `QDD` VORTAC at {ON_47} (16 NM from XHAR); "
         f"`QDD` vor at {ON_45} (45 NM from XHAR)", "write `QDD:4630N03900W` or `QDD:4530N03900W`"),
        ("QHB:ndb", "unknown-name", "no ndb is called `QHB`", HB),
        ("QHB:dme", "unknown-name", "no dme is called `QHB`", HB),
        ("QHB:vot", "unknown-name", "no vot is called `QHB`", HB),
        ("QHB:airport", "unknown-name", "no airport is called `QHB`", HB),
        ("ALONE:vor", "unknown-name", "no vor is called `ALONE`", f"`ALONE` is `ALONE` fix at {ON_46}"),
        ("QFA:fix", "unknown-name", "no fix is called `QFA`",
         f"`QFA` is `QFA` vor at {ON_47}; `QFA` airport at N46 15.00 W039 00.00"),
        ("QHB:4500N03900W", "unknown-name", "no place there is called `QHB`", HB),
        # A minute of latitude beyond the 2 NM that a position to the minute may be off, and one without a place.
        ("TWICE:4533N03900W", "unknown-name", "no place there is called `TWICE`", f"`TWICE` is {TWO}"),
        ("NOWHR:4600N03900W", "unknown-name", "no place there is called `NOWHR`", "`NOWHR` is `NOWHR` fix"),
        ("QXXX", "unknown-name", "no station, airport or fix is called `QXXX`", None),
        # The file's own names first, those of every kind; then what is published, told from the point before.
        ("QHZ", "unknown-name", "no station, airport or fix is called `QHZ`", "did you mean `QHB`?"),
        ("XALD", "unknown-name", "no station, airport or fix is called `XALD`", "did you mean `XOLD` or `XHAR`?"),
        ("ZTN", "unknown-name", "no station, airport or fix is called `ZTN`",
         f"did you mean `QTN` tacan at {ON_47} (16 NM from XHAR)?"),
        ("GLONE", "unknown-name", "no station, airport or fix is called `GLONE`",
         f"did you mean `ALONE` fix at {ON_46} (15 NM from XHAR)?"),
        ("ZDD", "unknown-name", "no station, airport or fix is called `ZDD`",
         f"did you mean `QDD` VORTAC at {ON_47} (16 NM from XHAR) or `QDD` vor at {ON_45} (45 NM from XHAR)?"),
        ("XOLD", "bare-airport", "airport `XOLD` inside the route says neither `over` nor `land`",
         "write `XOLD over` or `XOLD land 45min`"),
        ("XOLD/A055", "bare-airport", "airport `XOLD` inside the route says neither `over` nor `land`",
         "write `XOLD/A055 over` or `XOLD/A055 land 45min`"),
        ("QHB over", "not-an-airport", "`QHB` is no airport to land at or fly over", None),
        ("QHB land 45min", "not-an-airport", "`QHB` is no airport to land at or fly over", None),
        ("NOWHR001010", "no-position", "`NOWHR` has no known position to measure from", None),
    ],
)  # fmt: skip
def test_a_word_of_the_route_that_means_no_place(word: str, code: str, message: str, hint: str | None) -> None:
    assert problems(f"route XHAR {word} QEL XOLD") == [(word.split(maxsplit=1)[0], code, message, hint)]


@pytest.mark.parametrize(
    ("word", "ident"),
    [
        # The VOR before an NDB or an airport of its name; a TACAN for its DME; the airport at the end; to 2 NM.
        ("QFA", "QFA vor"), ("QTN:dme", "QTN tacan"), ("QNB", "QNB ndb"), ("QVT:vot", "QVT vot"),
        ("QMK:marker", "QMK marker"), ("QMK:airport over", "QMK heliport"), ("YHAR over", "YHAR airport"),
        ("QTN:tacan", "QTN tacan"), ("QFA:vor", "QFA vor"), ("QNB:ndb", "QNB ndb"), ("QFA:airport over", "QFA airport"),
        ("TWICE:4531N03900W", f"TWICE {ON_45}"), ("TWICE:4629N03900W", f"TWICE {ON_47}"),
    ],
)  # fmt: skip
def test_a_word_of_the_route_that_means_one_place(word: str, ident: str) -> None:
    route = resolve_flight(asked(f"route XHAR {word} QEL XOLD"), Published())
    place = route.points[1].place
    assert place is not None
    assert place.position is not None
    kind = place.kind if isinstance(place, Station | Airport) else position_text(place.position)
    assert f"{place.ident} {kind}" == ident


RUNS_20 = "V20 runs QHB QEL; V20 runs QHB ALONE"
TWELVE = "FIXAA FIXBB FIXCC FIXDD FIXEE FIXFF FIXGG FIXHH FIXII FIXJJ FIXKK FIXLL"
ITSELF = "take one of the two out; a stop is written `XHAR land 45min`"


@pytest.mark.parametrize(
    ("route", "at", "code", "message", "hint"),
    [
        ("XHAR over QHB V801 QEL XOLD", "XHAR", "no-stop", "`over` is for an airport inside the route",
         "leave it out here"),
        ("XHAR QHB V801 QEL XOLD land 45min", "XOLD", "no-stop", "`land` is for an airport inside the route",
         "leave it out here"),
        ("XHAR QHB QHB QEL XOLD", "QHB", "zero-length-leg", "`QHB` follows itself", ITSELF),
        ("XHAR QHB DCT QHB QEL XOLD", "QHB", "zero-length-leg", "`QHB` follows itself", ITSELF),
        ("XHAR 4545N03920W 4545N03920W XOLD", "4545N03920W", "zero-length-leg", "`4545N03920W` follows itself", ITSELF),
        ("V801 QEL XOLD", "V801", "no-point",
         "the airway `V801` stands at the start of the route, and a point is missing",
         "name the point where it is joined; V801 runs QHB QEL"),
        ("XHAR QEL V20", "V20", "no-point", "the airway `V20` stands at the end of the route, and a point is missing",
         f"name the point where it is left; {RUNS_20}"),
        ("XHAR QHB V801 V29 QSK XOLD", "V29", "no-transition", "no point stands between `V801` and `V29`",
         "name the point between them: `QEL`"),
        ("XHAR QHB V801 DCT QSK XOLD", "DCT", "no-transition", "no point stands between `V801` and `DCT`",
         "name the point where the airway is joined or left"),
        ("XHAR QHB DCT V801 QEL XOLD", "V801", "no-transition", "no point stands between `DCT` and `V801`",
         "name the point where the airway is joined or left"),
        ("XHAR QHB V20 V24 FIXBB XOLD", "V24", "no-transition", "no point stands between `V20` and `V24`",
         "V20 and V24 have no point in common; name a point where they cross"),
        # In the order of flight: V25 meets V24 first at FIXCC where it is joined at FIXBB, or at FIXAA.
        ("XHAR FIXBB V30 V25 QHB XOLD", "V25", "no-transition", "no point stands between `V30` and `V25`",
         "name the point between them: `FIXAA` or `FIXCC` or `FIXDD`"),
        ("XHAR FIXDD V30 V25 QHB XOLD", "V25", "no-transition", "no point stands between `V30` and `V25`",
         "name the point between them: `FIXCC` or `FIXBB` or `FIXAA`"),
        ("XHAR QHB V99 QEL XOLD", "V99", "unknown-name", "no airway is called `V99` in cycle 2607",
         "`V801` and `V20` and `V21` join QHB and QEL"),
        ("XHAR QHB V98 ALONE XOLD", "V98", "unknown-name", "no airway is called `V98` in cycle 2607",
         "`V20` joins QHB and ALONE"),
        ("XHAR QSK V81 ALONE XOLD", "V81", "unknown-name", "no airway is called `V81` in cycle 2607",
         "did you mean `V801`?"),
        ("XHAR 4545N03920W V97 FIXAA XOLD", "V97", "unknown-name", "no airway is called `V97` in cycle 2607",
         "no airway joins 4545N03920W and FIXAA; write `DCT` where direct is meant"),
        ("XHAR QHB V23 QSK XOLD", "V23", "airway-broken", "V23 crosses the border unpublished between `QHB` and `QSK`",
         "leave V23 at `QHB` and join it again at `QSK`"),
        ("XHAR QHB V31 QSK XOLD", "V31", "airway-broken", "V31 is discontinued between `QHB` and `QSK`",
         "leave V31 at `QHB` and join it again at `QSK`"),
        ("XHAR QHB V26 QSK XOLD", "V26", "ambiguous-name", f"`TWICE` on V26 is 2 things: {TWO}",
         "define the one that you mean in the file"),
        ("XHAR QHB V27 QSK XOLD", "V27", "unknown-name", "no station or fix is called `ZZZZZ`", None),
        ("XHAR QHB V21 QEL XOLD", "V21", "ambiguous-name", "`V21` is 2 airways that hold both points",
         "say which QHB: write its position after a colon"),
        ("XHAR 4545N03920W V29 QSK XOLD", "4545N03920W", "not-on-airway", "`4545N03920W` is not on V29",
         "V29 runs QSK QEL"),
        ("XHAR QEL180005 V29 QSK XOLD", "QEL180005", "not-on-airway", "`QEL180005` is not on V29", "V29 runs QSK QEL"),
        # With a level it is no airway's designator.
        ("XHAR QHB V99/A055 QEL XOLD", "V99/A055", "unknown-name", "no station, airport or fix is called `V99`", None),
        ("XHAR QHB V20 QSK XOLD", "QSK", "not-on-airway", "`QSK` is not on V20", RUNS_20),
        ("XHAR QSK V20 QHB XOLD", "QSK", "not-on-airway", "`QSK` is not on V20", RUNS_20),
        ("XHAR QEL V20 ALONE XOLD", "V20", "not-on-airway", "no V20 holds both `QEL` and `ALONE`", RUNS_20),
        ("XHAR FIXAA V24 QSK XOLD", "QSK", "not-on-airway", "`QSK` is not on V24", f"V24 runs {TWELVE}"),
        ("XHAR FIXAA V25 QSK XOLD", "QSK", "not-on-airway", "`QSK` is not on V25",
         "V25 runs FIXAA FIXBB FIXCC FIXDD FIXEE FIXFF ... FIXII FIXJJ FIXKK FIXLL QHB"),
        ("XHAR NOWHR", "NOWHR", "unknown-distance", "no distance is known from `XHAR` to `NOWHR`",
         "give both a position, or state `direct XHAR - NOWHR 12nm`"),
        ("QHP QHB V801 QEL XOLD", "QHP", "not-qualified", "`QHP` is only `QHP` heliport at N46 15.00 W039 00.00",
         "such a place counts only when qualified: write `QHP:airport`"),
    ],
)  # fmt: skip
def test_a_route_that_leads_nowhere(route: str, at: str, code: str, message: str, hint: str | None) -> None:
    assert problems(f"route {route}") == [(at, code, message, hint)]


def test_of_two_locations_of_an_airway_the_place_must_be_told() -> None:
    told, point = problems("route XHAR TWICE V32 ALONE XOLD")
    hint = "say which TWICE: write its position after a colon"
    assert told == ("V32", "ambiguous-name", "`V32` is 2 airways that hold both points", hint)
    assert point[:2] == ("TWICE", "ambiguous-name")


def test_each_broken_part_of_an_airway_is_told() -> None:
    found = problems("route XHAR QHB V22 QSK XOLD")
    assert [message for _, _, message, _ in found] == [
        "V22 is discontinued between `QHB` and `FIXAA`",
        "V22 is discontinued between `FIXAA` and `QSK`",
    ]


def test_a_dme_reading_needs_an_elevation() -> None:
    bare = "station QSK 112.40 N45 52.00 W038 38.00 decl 14W dme"
    (told,) = problems(bare, "fix LAKER QSK 084 dme 21 at 5000", "route XHAR LAKER XOLD")
    hint = "give `QSK` an `elev`, or the distance over the ground without `dme`"
    assert told == ("LAKER", "no-elevation", "a DME reading needs the elevation of `QSK`", hint)


@pytest.mark.parametrize(
    ("cycles", "told"),
    [
        ((), "in this file"),
        ((Provenance(Source.OURAIRPORTS),), "in this file"),
        ((JULY, JUNE), "in cycle 2606 or 2607"),
    ],
)
def test_an_unknown_airway_is_told_with_the_cycles_asked(cycles: tuple[Provenance, ...], told: str) -> None:
    catalogue = Published()
    catalogue.cycles = cycles
    ((_, _, message, _),) = problems("route XHAR QHB V99 QEL XOLD", catalogue=catalogue)
    assert message == f"no airway is called `V99` {told}"


def test_what_stands_far_from_the_point_before_is_told_from_the_nearest_point_that_is_known() -> None:
    # From 4600N03900W, which has a place of its own, N45 30 and N46 30 are 30 NM away each.
    (told,) = problems("route XHAR 4600N03900W TWICE XOLD")
    assert "at N45 30.00 W039 00.00 (30 NM from 4600N03900W); `TWICE` fix at N46 30.00 W039 00.00 (30 NM" in told[2]
    # At the start it is the one after it.
    (told,) = problems("route TWICE YHAR:airport")
    assert "at N45 30.00 W039 00.00 (30 NM from YHAR)" in told[2]


def test_two_names_of_one_place_are_no_leg() -> None:
    (told,) = problems("fix LAKER N46 12.30 W039 20.70", "route XHAR QHB LAKER XOLD")
    assert told == ("LAKER", "zero-length-leg", "`QHB` and `LAKER` are the same place", None)


@pytest.mark.parametrize(
    ("route", "expected"),
    [
        ("TWICE:4530N03900W V32 ALONE XOLD", ["TWICE 45.5", "ALONE 46.0"]),
        ("TWICE:4630N03900W V32 ALONE XOLD", ["TWICE 46.5", "ALONE 46.0"]),
        ("QDD V32 TWICE XOLD", ["QDD 46.5", "ALONE 46.0", "TWICE 46.5"]),
        # The airway behind a `DCT` is one too, and of two of a name the one that holds both points is flown.
        ("XHAR DCT QHB V20 ALONE XOLD", ["XHAR 46.2", "QHB 46.2", "ALONE 46.0"]),
        ("XHAR DCT QHB V20 QEL XOLD", ["XHAR 46.2", "QHB 46.2", "QEL 45.7"]),
    ],
)
def test_the_airway_that_holds_both_points_is_flown(route: str, expected: list[str]) -> None:
    points = resolve_flight(asked(f"route {route}"), Published()).points[:-1]
    found = [f"{one.ident} {one.position.latitude_deg:.1f}" for one in points if one.position is not None]
    assert found == expected


@pytest.mark.parametrize(
    ("defined", "expected"),
    [
        ("fix TWICE N46 33.00 W039 00.00", ["46.55", "46.50"]),
        ("station QDD 110.00 N46 36.00 W039 00.00", ["46.50", "46.60"]),
        # Another kind of place of the name isn't the airway's.
        ("airport TWICE N46 33.00 W039 00.00", ["46.50", "46.50"]),
        ("airport QDD N46 36.00 W039 00.00", ["46.50", "46.50"]),
    ],
)
def test_on_a_published_airway_the_files_own_places_of_its_kind_count(defined: str, expected: list[str]) -> None:
    points = resolve_flight(asked(defined, "route TWICE:4630N03900W V32 QDD XOLD"), Published()).points
    places = [one.position for one in points if one.ident in ("TWICE", "QDD")]
    assert [f"{one.latitude_deg:.2f}" for one in places if one is not None] == expected
