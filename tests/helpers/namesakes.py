"""Invented published places that share names, and the problems that the resolver then has with a flight."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from typing import TypeAlias

import pytest
from helpers.flown import changed as flown_with

from navlog.nav.chart import (
    Airport,
    Airway,
    Fix,
    Place,
    Position,
    Provenance,
    Segment,
    Service,
    Source,
    Station,
    StationKind,
)
from navlog.nav.problems import NavlogError
from navlog.request.flights import read_flights
from navlog.request.records import Request
from navlog.resolve.flight import resolve_flight
from navlog.resolve.lookup import NoCatalogue

JULY = Provenance(Source.NASR, "2607", date(2026, 7, 9), date(2026, 8, 6))
JUNE = Provenance(Source.CIFP, "2606", date(2026, 6, 11), date(2026, 7, 20))
DAY = date(2026, 7, 18)


def station(ident: str, kind: StationKind = StationKind.VOR, latitude_deg: float | None = 46.5, **more: str) -> Station:
    """A published station on the meridian of 39 W; without a latitude without a position."""
    place = None if latitude_deg is None else Position(latitude_deg, -39.0)
    return Station(ident, kind, place, declination_deg=0.0, provenance=JULY, **more)  # type: ignore[arg-type]


def fix(ident: str, latitude_deg: float | None = 46.0, **more: str) -> Fix:
    place = None if latitude_deg is None else Position(latitude_deg, -39.0)
    return Fix(ident, place, published=True, provenance=JULY, **more)  # type: ignore[arg-type]


def airport(ident: str, kind: str = "airport", latitude_deg: float = 46.25) -> Airport:
    return Airport(ident, Position(latitude_deg, -39.0), kind=kind, provenance=JULY)


def airway(ident: str, *points: str, service: Service = Service.NORMAL, places: tuple[Place, ...] = ()) -> Airway:
    segments = tuple(Segment(one, other, 10.0, service=service) for one, other in pairwise(points))
    return Airway(ident, points, segments, places, provenance=JULY)


MANY = tuple(f"FIX{letter * 2}" for letter in "BCDEFGHIJKL")

PLACES: tuple[Place, ...] = (
    station("QVT", StationKind.VOT),
    station("QMK", StationKind.MARKER, published_kind="FAN MARKER"),
    airport("QMK", "heliport"),
    # Told apart by kind, by place and by nothing.
    station("QNF", StationKind.NDB, name="NORFOLK"),
    fix("QNF"),
    fix("TWICE", 45.5),
    fix("TWICE", 46.5),
    fix("BLANK", None, region="US"),
    fix("BLANK", None),
    station("QDD", published_kind="VORTAC"),
    station("QDD", latitude_deg=45.5),
    station("QVN", latitude_deg=46.5),
    station("QVN", StationKind.NDB, latitude_deg=45.5),
    station("QFA", latitude_deg=46.5),
    airport("QFA"),
    station("QNB", StationKind.NDB, latitude_deg=46.5),
    station("QTN", StationKind.TACAN),
    station("QDM", StationKind.DME),
    fix("ALONE"),
    fix("NOWHR", None),
    airport("QHP", "heliport"),
    airport("YHAR", latitude_deg=46.0),
    fix("QHX", 46.0),
    *(fix(ident) for ident in ("FIXAA", *MANY)),
)
AIRWAYS = (
    airway("V20", "QHB", "QEL"),
    airway("V20", "QHB", "ALONE"),
    airway("V21", "QHB", "QEL"),
    airway("V21", "QHB", "QEL"),
    airway("V22", "QHB", "FIXAA", "QSK", service=Service.DISCONTINUED),
    airway("V23", "QHB", "QSK", service=Service.BORDER),
    airway("V24", "FIXAA", *MANY[:11]),
    airway("V25", "FIXAA", *MANY, "QHB"),
    airway("V26", "QHB", "TWICE", "QSK"),
    airway("V27", "QHB", "ZZZZZ", "QSK"),
    airway("V28", "QHB", "QEL", service=Service.GNSS_ONLY),
    airway("V28", "QSK", "QDD"),
    airway("V29", "QSK", "QEL"),
    airway("V30", "FIXAA", "FIXBB", "FIXCC", "FIXDD"),
    # Of two locations, with its places.
    airway("V32", "TWICE", "ALONE", places=(fix("TWICE", 45.5), fix("ALONE"))),
    airway("V32", "TWICE", "ALONE", "QDD", places=(fix("TWICE", 46.5), fix("ALONE"), station("QDD"))),
    airway("V31", "QHB", "QSK", service=Service.DISCONTINUED),
)


class Published(NoCatalogue):
    """The places and airways above, on one day."""

    cycles: tuple[Provenance, ...] = (JULY,)

    def _of(self, ident: str, day: date) -> list[Place]:
        return [one for one in PLACES if one.ident == ident and day == DAY]

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        return tuple(one for one in self._of(ident, day) if isinstance(one, Station))

    def fixes(self, ident: str, day: date) -> tuple[Fix, ...]:
        return tuple(one for one in self._of(ident, day) if isinstance(one, Fix))

    def airports(self, ident: str, day: date) -> tuple[Airport, ...]:
        return tuple(one for one in self._of(ident, day) if isinstance(one, Airport))

    def airways(self, ident: str, day: date) -> tuple[Airway, ...]:
        return tuple(one for one in AIRWAYS if one.ident == ident and day == DAY)

    def airways_joining(self, first: str, second: str, day: date) -> tuple[str, ...]:
        found = (one.ident for one in AIRWAYS if {first, second} <= {*one.points} and day == DAY)
        return tuple(dict.fromkeys(found))

    def similar(self, ident: str, day: date, near: Position | None) -> tuple[Place, ...]:
        """Those that end alike, the northernmost first where it is asked from somewhere."""
        found = [one for one in PLACES if one.ident[1:] == ident[1:] and day == DAY]
        return tuple(found if near is not None else found[::-1])

    def sources(self, day: date) -> tuple[Provenance, ...]:
        return self.cycles if day == DAY else ()


Told: TypeAlias = tuple[str, str, str, str | None]
"""What the problem points at, its code, message and hint."""


def asked(*statements: str) -> Request:
    """The invented flight with statements changed."""
    (request,) = read_flights(flown_with(*statements), "flight.route").flights
    assert isinstance(request, Request), request
    return request


def problems(*statements: str, catalogue: Published | None = None) -> list[Told]:
    """Every problem of the invented flight with statements changed, each once."""
    with pytest.raises(NavlogError) as raised:
        resolve_flight(asked(*statements), catalogue or Published())
    lines = flown_with(*statements).splitlines()
    told = []
    for one in raised.value.problems:
        assert one.span is not None, one
        pointed = lines[one.span.line - 1][one.span.column - 1 :][: one.span.length]
        told.append((pointed, one.code, one.message, one.hint))
    return list(dict.fromkeys(told))
