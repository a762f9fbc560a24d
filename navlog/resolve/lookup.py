"""What the resolver asks of published data, and the answer where there is no catalogue."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Protocol

from navlog.nav.chart import Airport, Airway, Fix, Place, Position, Provenance, Station
from navlog.nav.lines import Lines

if TYPE_CHECKING:
    from navlog.nav.corridor import Corridor
    from navlog.nav.obstacles import Obstacles
    from navlog.nav.receiver_check import Checkpoint


class ChartLookup(Protocol):
    """Published stations, fixes, airports and airways as they hold on a day."""

    @property
    def lines(self) -> Lines:
        """The lines between places, with what is known of them beforehand."""

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        """Every station of that identifier."""

    def stations_on(self, frequency_mhz: float, near: Position, radius_nm: float, day: date) -> tuple[Station, ...]:
        """Every station on that frequency within `radius_nm` of a place, and perhaps some farther off."""

    def fixes(self, ident: str, day: date) -> tuple[Fix, ...]:
        """Every fix of that name."""

    def airports(self, ident: str, day: date) -> tuple[Airport, ...]:
        """Every landing place of that FAA or ICAO identifier."""

    def airways(self, ident: str, day: date) -> tuple[Airway, ...]:
        """Every airway of that designator, one for each location."""

    def airways_joining(self, first: str, second: str, day: date) -> tuple[str, ...]:
        """The designators of the airways that hold both points."""

    def similar(self, ident: str, day: date, near: Position | None) -> tuple[Place, ...]:
        """Places whose identifier is spelt like `ident`, the likeliest first."""

    def checkpoints(self, near: Position, day: date) -> tuple[Checkpoint, ...]:
        """The checkpoints for VOR receivers at the nearest place that has any."""

    def sources(self, day: date) -> tuple[Provenance, ...]:
        """The sources and cycles that supply this day."""

    def obstacles(self, corridor: Corridor, day: date) -> Obstacles | None:
        """Every obstacle that may stand in a corridor, some beside it, and their editions; None where none is known."""


class NoCatalogue:
    """No published data: a route file that defines its own stations needs none."""

    @property
    def lines(self) -> Lines:
        """Nothing is known beforehand."""
        return Lines()

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        """No stations."""
        return ()

    def stations_on(self, frequency_mhz: float, near: Position, radius_nm: float, day: date) -> tuple[Station, ...]:
        """No stations."""
        return ()

    def fixes(self, ident: str, day: date) -> tuple[Fix, ...]:
        """No fixes."""
        return ()

    def airports(self, ident: str, day: date) -> tuple[Airport, ...]:
        """No airports."""
        return ()

    def airways(self, ident: str, day: date) -> tuple[Airway, ...]:
        """No airways."""
        return ()

    def airways_joining(self, first: str, second: str, day: date) -> tuple[str, ...]:
        """No airways."""
        return ()

    def similar(self, ident: str, day: date, near: Position | None) -> tuple[Place, ...]:
        """No places."""
        return ()

    def checkpoints(self, near: Position, day: date) -> tuple[Checkpoint, ...]:
        """No checkpoints."""
        return ()

    def sources(self, day: date) -> tuple[Provenance, ...]:
        """No sources."""
        return ()

    def obstacles(self, corridor: Corridor, day: date) -> Obstacles | None:
        """No obstacles are known."""
        return None
