"""How a fix is told in flight, and names of the route line that stand where they cannot."""

from __future__ import annotations

import pytest
from helpers.flown import Json, changed, flight, flights, legs, rules_of
from helpers.folder import Folder


def problems(text: str) -> list[tuple[str, str]]:
    (found,) = flights(text)
    return [(one["code"], one["message"]) for one in found["problems"]]


def marked(fix: str, *statements: str) -> Json:
    """What marks the fix ROSKO at the end of a direct leg from QHB, and how far from it that leg is."""
    found = flight(changed(f"fix ROSKO {fix}", "route QHB ROSKO QEL", "equipment vor 2 dme 1", *statements))
    (leg, *_) = [leg for leg in found["legs"] if leg["to"]["ident"] == "ROSKO"]
    by: Json = leg["identified_by"]
    return by


@pytest.mark.parametrize(
    ("fix", "statements", "station"),
    [
        # By the law of sines QHB 160 and QEL 108 meet under 40 NM from QHB, QHB 160 and QEL 125 some 49 NM.
        ("QHB 160 x QEL 108", ("altitude 4500",), "QHB"),
        ("QHB 160 x QEL 125", ("altitude 4500",), "QEL"),
        # Class H serves 100 NM from 14,500 ft (AIM 1-1-8), an unknown class is counted on for 40 NM.
        (
            "QHB 160 x QEL 125",
            ("altitude 16000", "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class H dme elev 820ft"),
            "QHB",
        ),
        (
            "QHB 160 x QEL 125",
            ("altitude 16000", "station QHB 113.70 N46 12.30 W039 20.70 decl 15W dme elev 820ft"),
            "QEL",
        ),
        # The DME's own class stands before the VOR's.
        (
            "QHB 160 x QEL 125",
            ("altitude 4500", "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme H elev 820ft"),
            "QEL",
        ),
        (
            "QHB 160 x QEL 125",
            ("altitude 16000", "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme H elev 820ft"),
            "QHB",
        ),
    ],
)
def test_a_fix_is_told_by_dme_only_where_the_dme_serves(fix: str, statements: tuple[str, ...], station: str) -> None:
    by = marked(fix, *statements)
    assert by["ident"] == station
    assert (by["dme_nm"] is not None) is (station == "QHB")


def test_a_dme_out_of_range_is_all_there_is_where_nothing_crosses() -> None:
    text = changed(
        "fix PINEY QHB 160 52nm",
        "route QHB PINEY",
        "altitude 4500",
        "equipment vor 1 dme 1",
        without=("station QEL", "station QSK", "airway V801", "direct QEL"),
    )
    (leg, *_) = [leg for leg in flight(text)["legs"] if leg["to"]["ident"] == "PINEY"]
    assert leg["identified_by"]["dme_nm"] == pytest.approx(52.0, abs=0.1)


@pytest.mark.parametrize(
    ("route", "word", "end"), [("XHAR QHB QEL V801", "V801", "end"), ("V801 QEL XOLD", "V801", "start")]
)
def test_an_airway_at_an_end_of_the_route_lacks_a_point(route: str, word: str, end: str) -> None:
    assert problems(changed(f"route {route}")) == [
        ("no-point", f"the airway `{word}` stands at the {end} of the route, and a point is missing")
    ]


def test_what_else_is_wrong_is_told_beside_it() -> None:
    found = problems(changed("route QXX QHB V801 V801"))
    assert [code for code, _ in found] == ["unknown-name", "no-point"]


def test_a_point_by_bearing_and_distance_is_not_joined_by_its_stations_airway() -> None:
    assert "airway-joins" not in rules_of(flight(changed("route XHAR QHB084021 QEL")))
    assert "airway-joins" in rules_of(flight(changed("route XHAR QHB QEL")))


@pytest.mark.parametrize("way", ["QEL", "XOLD via QEL", "QHB via V801 QEL", "4612N03921W"])
def test_an_alternate_is_an_airport(way: str) -> None:
    word = way.rsplit(maxsplit=1)[-1]
    assert problems(changed(f"alternate {way}")) == [("not-an-airport", f"the alternate `{word}` is no airport")]


def test_a_station_of_the_same_name_is_no_hindrance() -> None:
    field = "airport QEL N45 44.10 W039 33.00 elev 400ft"
    assert problems(changed(field, "alternate QEL")) == []


def test_the_hint_tells_the_point_of_the_route_from_the_airport() -> None:
    (found,) = flights(changed("alternate QHB via V801 QEL"))
    told = [(one["code"], one["hint"]) for one in found["problems"]]
    hint = "`QHB` is where the route is left; write: alternate AIRPORT from QHB via ..."
    assert told == [("not-an-airport", hint)]
    (found,) = flights(changed("alternate QEL"))
    assert [one["hint"] for one in found["problems"]] == ["name an airport, or define one there with `airport`"]


@pytest.mark.parametrize("start", ["QSK", "QHB084021", "4612N03921W"])
def test_an_alternate_is_flown_from_a_point_of_the_route(start: str) -> None:
    text = changed(f"alternate {start} via QHB XHAR")
    (found,) = flights(text)
    (problem,) = found["problems"]
    assert (problem["code"], problem["column"]) == ("alternate-off-route", len("alternate ") + 1)
    assert text.splitlines()[problem["line"] - 1].startswith("alternate")
    assert problem["message"] == f"`{start}`, from which the alternate is flown, is not on the route"
    assert problem["hint"] == "write: alternate AIRPORT from POINT via ..., where POINT is on the route"


@pytest.mark.parametrize("start", ["XHAR", "QHB", "QEL:vor", "MARSH", "QEL155005", "4544N03925W", "XOLD"])
def test_every_point_that_the_route_passes_will_do(start: str) -> None:
    whole = "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000"
    route = "route XHAR QHB V801 QEL QEL155005/A035 4544N03925W XOLD"
    assert problems(changed(whole, "fix MARSH N46 04.00 W039 24.23", route, f"alternate {start} via QSK XHAR")) == []


def test_a_bearing_from_a_fix_is_told_as_magnetic(folder: Folder) -> None:
    text = (
        "station QHB 113.70 N46 12.30 W039 20.70 decl 15W\nfix GUMBO N46 00.00 W039 30.00\n"
        "date 2026-07-18\nvariation 13W\ntas 110kt\naltitude 4500\nroute QHB DCT GUMBO DCT {}\n"
    )
    by_model = "GUMBO180012: 180 from GUMBO is magnetic by WMM2025"
    assert by_model in folder.run(text.format("GUMBO180012")).out
    assert "is magnetic by WMM2025" not in folder.run(text.format("QHB210030")).out


def test_a_place_is_told_by_a_station_that_the_flight_passes_only_later(islands: str) -> None:
    # QSK of the islands' data lies at N45 52 W038 38, aligned to 14W: the place is 12.0 minutes north and 46 cos 46 =
    # 32.0 west of it, so 290.6 true on the plane, and half the convergence of 46 sin 46 minutes more: 290.8, R-305.
    told = "date 2026-07-18\naltitude 4500\ntas 110kt\nwind calm\nequipment vor 2 dme 0\nroute QHB 4604N03924W QSK\n"
    (mark,) = legs(told, "--catalogue", islands)[0]["marks"]
    assert (mark["ident"], mark["kind"]) == ("QSK", "radial")
    assert mark["radial_deg"] == pytest.approx(290.8 + 14, abs=0.1)
