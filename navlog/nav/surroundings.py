"""What published data know around a flight, for the faint background of its plan."""

from __future__ import annotations

from msgspec import Struct

from navlog.nav.chart import Position


class Line(Struct, frozen=True):
    """An airway, or the part of one that lies around a flight, through its points in order."""

    ident: str
    points: tuple[Position, ...]


class Surroundings(Struct, frozen=True):
    """VORs around a flight with their places, and the airways between points around it."""

    stations: tuple[tuple[str, Position], ...]
    airways: tuple[Line, ...]
