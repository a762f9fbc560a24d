"""An airway laid up by the numbers of its points' places, and made of them again: worked by hand on an invented one."""

from __future__ import annotations

import zlib
from datetime import date
from itertools import pairwise
from types import SimpleNamespace
from typing import Any

from msgspec import msgpack

from navlog.catalogue import airway_store
from navlog.catalogue.airway_store import _airway, _laid_up, _Meant, _named_by, _places, _unpacked, _Way, laid_up_for
from navlog.catalogue.records import Published
from navlog.nav.chart import Airway, Bearing, Fix, Position, Segment, Station, StationKind
from navlog.nav.lines import Lines
from navlog.nav.magnetism import MagneticField

DAY = date(2026, 7, 18)
QAA = Station("QAA", StationKind.VOR, Position(46.0, -39.0))
NDB = Station("QAA", StationKind.NDB, Position(47.0, -39.0))
MIDDL = Fix("MIDDL", Position(46.5, -39.0), (Bearing("QAA", 360.0, 30.0), Bearing("QCC", 90.0)))
TWIN = Fix("MIDDL", Position(10.0, 10.0))
TOLD = Fix("LASTT", Position(47.0, -39.0), mra_ft=5_000.0)
"""Of this fix the airway itself tells more than its name does."""
POINTS = ("QAA", "MIDDL", "LASTT", "NONEE")
SEGMENTS = tuple(Segment(one, other, 30.0) for one, other in pairwise(POINTS))
V801 = Airway("V801", POINTS, SEGMENTS, (QAA, MIDDL, TOLD, None), "C", ("a remark",))
NORTH = MagneticField(2025, 20_000.0, 0.0, 10.0, 0.0)
MEANT = {
    "QAA": _Meant((Published(NDB, ()), Published(QAA, (("QAA", "VOR", "US"),))), fields=(None, NORTH)),
    "MIDDL": _Meant((), (TWIN, MIDDL), fields=(None, None)),
    "LASTT": _Meant((), (Fix("LASTT", Position(47.0, -39.0)),), fields=(None,)),
    "NONEE": _Meant(),
}


def test_places_are_numbered_stations_first_and_what_the_airway_alone_tells_is_kept_at_its_point() -> None:
    way = _laid_up(V801, MEANT, DAY)
    # QAA is the second station of its name, MIDDL the second fix of its own; LASTT is told otherwise, NONEE nowhere.
    assert way.places == (1, 1, None, None)
    assert way.own == {2: TOLD}
    assert (way.points, way.segments, way.location, way.remarks) == (POINTS, SEGMENTS, "C", ("a remark",))
    assert way.provenance == V801.provenance
    # A line for each hop between two places.
    assert [one is not None for one in way.lines] == [True, True, False]


def test_what_is_laid_up_makes_the_airway_again() -> None:
    way = _laid_up(V801, MEANT, DAY)
    places = {name: _places(one.stations, one.fixes) for name, one in MEANT.items()}
    found = _airway("V801", way, places, {})
    assert found == V801
    assert (found.location, found.remarks, found.provenance) == (V801.location, V801.remarks, V801.provenance)
    assert found.places[0] is QAA
    # As it stands in the file, too.
    (read,) = msgpack.decode(msgpack.encode([way]), type=list[_Way])
    again = _airway("V801", read, places, {V801.provenance: V801.provenance})
    assert again == V801
    # All of one source have one record of it.
    assert read.provenance is not V801.provenance
    assert again.provenance is V801.provenance


def test_of_a_name_without_airways_none_are_unpacked() -> None:
    assert _unpacked(b"") == []


def test_stations_come_before_fixes_of_a_name() -> None:
    both = _places((Published(QAA, ()), Published(NDB, ())), (MIDDL,))
    assert both == [QAA, NDB, MIDDL]


def test_the_stations_of_make_ups_are_named_by_their_fixes() -> None:
    assert _named_by([(MIDDL, TWIN), (), (TOLD,)]) == {"QAA", "QCC"}
    assert _named_by([]) == set()


def test_what_is_laid_up_holds_for_one_version_and_the_editions_of_each_kind() -> None:
    editions = {kind: [SimpleNamespace(number=number)] for number, kind in enumerate(airway_store.TOLD_BY)}

    def key(told: dict[str, Any]) -> str:
        catalogue: Any = SimpleNamespace(in_force=lambda kind, _: told[kind])
        return laid_up_for(catalogue, date(2026, 7, 18))

    first = key(editions)
    assert first == key(dict(editions))
    # Another edition of any kind, one more, and the same ones of another kind are not the same.
    others = {first}
    for kind in airway_store.TOLD_BY:
        others.add(key({**editions, kind: [SimpleNamespace(number=9)]}))
        others.add(key({**editions, kind: [*editions[kind], SimpleNamespace(number=9)]}))
        others.add(key({**editions, kind: []}))
    others.add(key({**editions, "fix": editions["station"], "station": editions["fix"]}))
    assert len(others) == 3 * len(airway_store.TOLD_BY) + 2


def test_only_names_not_yet_known_are_read_and_what_is_known_stays() -> None:
    day = DAY
    asked: list[list[str]] = []
    laid = {"*": _Meant(), **MEANT}

    def query(sql: str, parameters: tuple[str, ...]) -> list[tuple[str, bytes]]:
        asked.append(sorted(parameters[1:]))
        return [(name, msgpack.encode(laid[name])) for name in parameters[1:] if name in laid]

    catalogue: Any = SimpleNamespace(in_force=lambda *_: [], sources=lambda _: (), query=query, path="x")
    laid["V801"] = _Meant(airways=zlib.compress(msgpack.encode([_laid_up(V801, MEANT, DAY)])))
    mine: Any = (Published(NDB, ()), Published(QAA, ()))
    stations: Any = {("QAA", day): mine}
    fixes: Any = {("QAA", day): (), ("MIDDL", day): (TWIN, MIDDL)}
    airways: Any = {}
    lines = Lines()
    airway_store.take_laid_up(catalogue, ["V801", "QXX"], day, stations, fixes, airways, lines)
    # QAA is known whole; of MIDDL the stations are not; QCC is named by MIDDL's make-up, and known to nobody.
    assert asked == [["*", "QXX", "V801"], ["LASTT", "MIDDL", "NONEE"], ["QCC"]]
    assert stations["QAA", day] is mine
    assert (stations["LASTT", day], fixes["LASTT", day]) == ((), MEANT["LASTT"].fixes)
    assert [one.ident for one in airways["V801", day]] == ["V801"]
    assert ("QXX", day) not in stations
    assert lines.field_at(Position(46.0, -39.0)) is None
    airway_store.take_laid_up(catalogue, ["QAA"], day, stations, fixes, airways, lines)
    assert lines.field_at(Position(46.0, -39.0)) == NORTH
