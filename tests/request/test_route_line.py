"""The route line; the forms of item 15 are those of ICAO Doc 4444, Appendix 2."""

from __future__ import annotations

import pytest

from navlog.nav.chart import Position
from navlog.nav.units import Amount
from navlog.request.parser import parse
from navlog.request.records import Landing, Level, RouteWord


def route(text: str) -> tuple[RouteWord, ...]:
    tree = parse(f"route {text}", "t.route")
    assert tree.problems == ()
    value = tree.common[0].value
    assert isinstance(value, tuple)
    return tuple(word for word in value if isinstance(word, RouteWord))


def word(text: str) -> RouteWord:
    return route(f"XHAR {text} XOLD")[1]


def codes(text: str) -> list[tuple[int, str]]:
    return [(p.span.column, p.code) for p in parse(f"route {text}", "t.route").problems if p.span is not None]


def test_words_keep_their_text_and_place() -> None:
    one = route("XHAR QEL:vor/A055\n  XOLD")
    assert [(w.text, w.span.line, w.span.column, w.span.length) for w in one] == [
        ("XHAR", 1, 7, 4),
        ("QEL:vor/A055", 1, 12, 12),
        ("XOLD", 2, 3, 4),
    ]


def test_identifiers_airways_and_dct_look_alike_here() -> None:
    assert [w.ident for w in route("XHAR QHB V801 QEL DCT 1B1 N46")] == [
        "XHAR", "QHB", "V801", "QEL", "DCT", "1B1", "N46",
    ]  # fmt: skip


def test_bearing_and_distance_from_a_point() -> None:
    # Doc 4444, Appendix 2, item 15: DUB180040 is 180 degrees magnetic, 40 NM from DUB.
    one = word("DUB180040")
    assert (one.ident, one.bearing_deg, one.distance_nm) == ("DUB", 180.0, 40.0)
    assert word("PINEY000005").bearing_deg == 360.0
    assert word("PINEY000005").distance_nm == 5.0


@pytest.mark.parametrize("text", ["QHB08421", "QHB1817", "QHB0840210", "QHB421021", "QHB084000"])
def test_missing_zeros_are_never_guessed(text: str) -> None:
    assert codes(f"XHAR {text} XOLD")[0][0] == 12


def test_compact_positions() -> None:
    # The forms of item 15: 46N078W, and 4620N07805W for 46 20 N 078 05 W.
    assert word("46N078W").position == Position(46.0, -78.0)
    one = word("4620N07805W").position
    assert one is not None
    assert one.latitude_deg == pytest.approx(46 + 20 / 60)
    assert one.longitude_deg == pytest.approx(-78 - 5 / 60)
    assert word("46N078W").ident is None


@pytest.mark.parametrize("text", ["4672N03921W", "4612N0392W", "N46W039", "95N039W"])
def test_positions_of_no_form_are_a_problem(text: str) -> None:
    assert codes(f"XHAR {text} XOLD") == [(12, "bad-position")]


@pytest.mark.parametrize(
    ("text", "tas_kt", "level"),
    [
        ("N0110A075", 110.0, Level(7500.0)),
        ("N0110F085", 110.0, Level(8500.0, flight_level=True)),
        ("A075", None, Level(7500.0)),
        ("F085", None, Level(8500.0, flight_level=True)),
    ],
)
def test_changes_of_speed_and_level_begin_at_the_point(text: str, tas_kt: float | None, level: Level) -> None:
    one = word(f"QEL/{text}")
    assert (one.ident, one.tas_kt, one.level) == ("QEL", tas_kt, level)
    assert word(f"QHB084021/{text}").level == level
    assert word(f"46N039W/{text}").level == level


def test_metric_changes_of_item_15() -> None:
    # K0200 is 200 km/h = 107.991 kt; M0084 is 840 m = 2755.906 ft; S1130 is standard level 11,300 m.
    one = word("QEL/K0200M0084")
    assert one.tas_kt == pytest.approx(107.991, abs=1e-3)
    assert one.level is not None
    assert one.level.altitude_ft == pytest.approx(2755.906, abs=1e-3)
    assert not one.level.flight_level
    standard = word("QEL/K0200S1130").level
    assert standard is not None
    assert standard.flight_level


@pytest.mark.parametrize(
    "text",
    [
        "QEL/N0110",
        "QEL/N110A075",
        "QEL/A75",
        "QEL/5500ft",
        "QEL/",
        "QEL/M082F330",
        "QEL/N0000A075",
        "/A055",
        "DCT/A055",
    ],
)
def test_other_changes_are_a_problem(text: str) -> None:
    assert codes(f"XHAR {text} XOLD") == [(12, "bad-change")]


@pytest.mark.parametrize("qualifier", ["vor", "ndb", "dme", "fix", "airport"])
def test_a_qualifier_says_which(qualifier: str) -> None:
    one = word(f"LCA:{qualifier}/A055")
    assert (one.ident, one.qualifier, one.level) == ("LCA", qualifier, Level(5500.0))


def test_a_position_may_say_which() -> None:
    one = word("LCA:4612N03921W")
    assert (one.ident, one.position, one.qualifier_position) == ("LCA", None, Position(46.2, -39.35))


@pytest.mark.parametrize("text", ["LCA:", "LCA:VOR", "LCA:vro", "LCA:QEL", "46N039W:vor"])
def test_other_qualifiers_are_a_problem(text: str) -> None:
    assert codes(f"XHAR {text} XOLD") == [(12, "bad-qualifier")]


def test_the_qualifier_stands_before_the_change() -> None:
    assert codes("XHAR LCA/A055:vor XOLD") == [(12, "bad-change")]


def test_an_airport_inside_a_route_says_what_it_is_for() -> None:
    assert word("XMID over").over
    assert word("XMID land").landing == Landing()
    assert word("XMID land 45min").landing == Landing(45.0)
    assert word("XMID land fuel 38gal").landing == Landing(0.0, Amount(38.0, "gal"))
    assert word("XMID land 1h30min fuel 140L").landing == Landing(90.0, Amount(140.0, "L"))
    assert word("XMID:airport/A055 land 45").landing == Landing(45.0)


def test_a_point_after_a_landing_is_not_its_time() -> None:
    assert [w.text for w in route("XHAR XMID land 1B1 land 46N039W XOLD")] == [
        "XHAR",
        "XMID",
        "1B1",
        "46N039W",
        "XOLD",
    ]


@pytest.mark.parametrize(
    ("text", "column"),
    [
        ("XHAR DCT over XOLD", 16),
        ("XHAR 46N039W land XOLD", 20),
        ("XHAR QHB084021 over XOLD", 22),
        ("XHAR XMID over land XOLD", 22),
    ],
)
def test_only_an_airport_is_for_something_and_once(text: str, column: int) -> None:
    assert codes(text) == [(column, "bad-route")]


@pytest.mark.parametrize(
    ("text", "column", "code"),
    [
        ("", 6, "missing-word"),
        ("XHAR", 7, "short-route"),
        ("XHAR DCT", 12, "short-route"),
        ("DCT XHAR XOLD", 7, "bad-route"),
        ("XHAR XOLD DCT", 17, "bad-route"),
        ("over XHAR", 7, "bad-identifier"),
        ("XHAR qhb XOLD", 12, "bad-identifier"),
        ("XHAR 123 XOLD", 12, "bad-identifier"),
        ("XHAR Q.B XOLD", 12, "bad-identifier"),
        ('XHAR "QHB" XOLD', 12, "quoted-value"),
        ("XHAR XMID land 45m XOLD", 22, "bad-unit"),
        ("XHAR XMID land fuel", 26, "missing-word"),
    ],
)
def test_wrong_routes(text: str, column: int, code: str) -> None:
    assert (column, code) in codes(text)
