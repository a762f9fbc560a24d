"""Whole answers to a pilot's questions of the catalogue, and helpful problems where there is none."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.nav.chart import Airway, Station, StationKind
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.spelling import alike

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue

AROUND = (StationKind.VOR, StationKind.DME, StationKind.TACAN, StationKind.NDB, "airport", "seaplane base")
"""The kinds that a pilot looks for around a position."""


class _Described(Struct, frozen=True):
    """A station, the variation of the day at its place, and the airways through it."""

    station: Station
    variation_deg: float | None
    airways: tuple[str, ...]


def describe_stations(catalogue: Catalogue, ident: str, day: date) -> tuple[_Described, ...]:
    """Every station of that identifier. Raises an `unknown-ident` problem where there is none."""
    from navlog.catalogue.airway_queries import through

    stations = catalogue.stations(ident, day)
    if not stations:
        raise _no_station(catalogue, ident, day)
    return tuple(
        _Described(station, _variation_deg(station, day), through(catalogue, station, day)) for station in stations
    )


def one_station(catalogue: Catalogue, ident: str, day: date) -> Station:
    """The station of that identifier, of several the VOR.

    Raises an `unknown-ident` problem where there is none, `ambiguous-name` where there are several still.
    """
    found = catalogue.stations(ident, day)
    if len(found) > 1:
        found = tuple(station for station in found if station.kind is StationKind.VOR) or found
    if not found:
        raise _no_station(catalogue, ident, day)
    if len(found) > 1:
        told = "; ".join(" ".join(filter(None, (one.published_kind, one.name, one.region))) for one in found)
        hint = f"give the one you mean with its position: --station '{ident} ...'"
        raise problem_error("ambiguous-name", f"`{ident}` is {len(found)} stations: {told}", hint=hint)
    return found[0]


def known_airways(catalogue: Catalogue, ident: str, day: date) -> tuple[Airway, ...]:
    """Every airway of that designator. Raises an `unknown-airway` problem where there is none."""
    airways = catalogue.airways(ident, day)
    if not airways:
        from navlog.catalogue.airway_queries import designators

        close = alike(ident, designators(catalogue, day), most=3)
        raise _unknown(f"no airway is called `{ident}`", close, code="unknown-airway")
    return airways


def airways_to_audit(catalogue: Catalogue, idents: Sequence[str], day: date) -> tuple[str, ...]:
    """The designators asked for, each known, else all there are.

    Raises an `unknown-airway` problem for one that is not known, `no-airways` where there are none at all.
    """
    from navlog.catalogue.airway_queries import designators

    if idents:
        names = tuple(dict.fromkeys(idents))
        for ident in names:
            known_airways(catalogue, ident, day)
        return names
    found = designators(catalogue, day)
    if not found:
        hint = "import AWY_BASE.csv and AWY_SEG_ALT.csv, or FAACIFP18"
        raise problem_error("no-airways", "the catalogue holds no airways", hint=hint)
    return found


def _variation_deg(station: Station, day: date) -> float | None:
    if station.position is None:
        return None
    from navlog.nav.magnetism import variation_deg

    try:
        return variation_deg(station.position, day)
    except NavlogError:
        return None


def _no_station(catalogue: Catalogue, ident: str, day: date) -> NavlogError:
    close = [place.ident for place in catalogue.similar(ident, day, None) if isinstance(place, Station)]
    return _unknown(f"no station is called `{ident}`", close)


def _unknown(message: str, close: list[str], code: str = "unknown-ident") -> NavlogError:
    hint = f"did you mean {', '.join(dict.fromkeys(close))}?" if close else "see `navlog catalogue info`"
    return problem_error(code, message, hint=hint)
