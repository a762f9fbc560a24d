"""How fast a library of flights is checked: flights a second with one job and two, against the bare calls.

    python tests/bench/bench_batch.py CATALOGUE [--flights 10000]

The flights are walks along Victor airways from airport to airport, about 8 points each, made with a fixed
seed; the same catalogue gives the same flights. The bare cost is that of the geodesics and magnetic model
values that the flights need when nothing is remembered: one inverse a stretch and three model values.
"""

from __future__ import annotations

import argparse
import gc
import resource
import sys
import tempfile
import time
from collections.abc import Iterator
from concurrent.futures import Executor
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from pathlib import Path
from random import Random

from navlog.__main__ import COLLECTED_AFTER
from navlog.catalogue import open_catalogue
from navlog.catalogue.airway_queries import designators
from navlog.catalogue.queries import Catalogue
from navlog.nav.chart import Airway, Position, Service, Station, StationKind
from navlog.studies.batch import Engine, RouteSource, process_pool
from navlog.studies.checking import Settings, check_sources

DAY = date(2026, 5, 20)
SEED = 20260520
FLIGHTS_A_FILE = 10
HEAD = (
    "date 2026-05-20\noff 15:10Z\ntas 120kt\nburn 9gph\nwind 3000 230/12 6000 240/18 +4C 12000 260/30 -8C\n"
    "fuel 90gal\ntaxi 1gal\nequipment vor 2 dme 1\n"
)


@dataclass(frozen=True, slots=True)
class Way:
    """A part of an airway between two VORs: how many points it leads past, its course and its highest MEA."""

    airway: str
    start: str
    end: str
    points: int
    radial_deg: float
    mea_ft: float


def ways(catalogue: Catalogue) -> dict[str, list[Way]]:
    """The airway parts that leave each VOR, in both directions."""
    found: dict[str, list[Way]] = {}
    for ident in designators(catalogue, DAY):
        variants = catalogue.airways(ident, DAY) if ident.startswith("V") else ()
        if len(variants) == 1:
            for airway in (variants[0], variants[0].reversed()):
                for one in parts(airway):
                    found.setdefault(one.start, []).append(one)
    return found


def parts(airway: Airway) -> Iterator[Way]:
    """The parts of an airway from VOR to VOR that can be flown."""
    vors = [index for index, place in enumerate(airway.places) if is_vor(place)]
    for first, last in pairwise(vors):
        whole = airway.segments[first:last]
        radial_deg = whole[0].start_radial_deg
        placed = all(place is not None and place.position is not None for place in airway.places[first : last + 1])
        if placed and radial_deg is not None and all(segment.service is Service.NORMAL for segment in whole):
            mea_ft = max(segment.mea.forward_ft or 0.0 for segment in whole)
            yield Way(airway.ident, airway.points[first], airway.points[last], last - first, radial_deg, mea_ft)


def level_ft(way: Way) -> int:
    """The lowest VFR level for the way's direction at or above its MEA and 4,000 ft."""
    first_ft = 5_500 if round(way.radial_deg) % 360 < 180 else 4_500
    return first_ft + 2_000 * max(0, -int(-(way.mea_ft - first_ft) // 2_000))


def is_vor(place: object) -> bool:
    """Whether a point of an airway is a VOR."""
    return isinstance(place, Station) and place.kind is StationKind.VOR


def airport_near(catalogue: Catalogue, ident: str) -> str | None:
    """The nearest airport of a station within 20 NM that no other thing shares its name with."""
    station = next(one for one in catalogue.stations(ident, DAY) if one.kind is StationKind.VOR)
    assert station.position is not None
    for place in catalogue.nearby(station.position, 20.0, DAY, ("airport",)):
        if len(place.ident) == 4 and place.ident.isalpha() and not catalogue.fixes(place.ident, DAY):
            return place.ident
    return None


def routes(catalogue: Catalogue, count: int) -> Iterator[tuple[int, str]]:
    """Random walks of about 8 points: the first level, and the route line with its changes of level."""
    random = Random(SEED)
    network = {ident: sorted(some, key=repr) for ident, some in sorted(ways(catalogue).items())}
    fields = {ident: airport_near(catalogue, ident) for ident in network}
    starts = [ident for ident in network if fields[ident]]
    made = 0
    while made < count:
        here = random.choice(starts)
        walk: list[Way] = []
        while sum(way.points for way in walk) < 6:
            passed = {here, *(way.start for way in walk)}
            flown = sum(way.points for way in walk)
            onward = [way for way in network[here] if way.end not in passed and flown + way.points <= 9]
            if not onward:
                break
            walk.append(random.choice(onward))
            here = walk[-1].end
        end = fields[here]
        if sum(way.points for way in walk) >= 4 and end and end != fields[walk[0].start]:
            made += 1
            yield level_ft(walk[0]), route_line(str(fields[walk[0].start]), walk, end)


def route_line(start: str, walk: list[Way], end: str) -> str:
    """The walk as a route line."""
    words, at_ft = [start], level_ft(walk[0])
    for way in walk:
        change = "" if level_ft(way) == at_ft else f"/A{level_ft(way) // 100:03d}"
        words += [f"{way.start}{change}", way.airway]
        at_ft = level_ft(way)
    return " ".join([*words, walk[-1].end, end])


def write_library(catalogue: Catalogue, folder: Path, count: int) -> list[Path]:
    """Files of ten flights each."""
    files: list[Path] = []
    flights: list[str] = []
    for number, (altitude_ft, line) in enumerate(routes(catalogue, count), 1):
        flights.append(f'flight "{number}"\n  altitude {altitude_ft}\n  route {line}\n')
        if len(flights) == FLIGHTS_A_FILE or number == count:
            files.append(folder / f"flights-{len(files):05d}.route")
            files[-1].write_text(HEAD + "".join(flights), "utf-8")
            flights = []
    return files


@dataclass(frozen=True, slots=True)
class Measured:
    """One run over the library."""

    flights: int
    seconds: float
    statuses: dict[str, int]

    @property
    def per_second(self) -> float:
        """Flights a second."""
        return self.flights / self.seconds


def checked(files: list[Path], settings: Settings, executor: Executor | None) -> Measured:
    """Check the files; nothing is kept but the count."""
    statuses: dict[str, int] = {}
    start = time.perf_counter()
    for verdicts in check_sources((RouteSource(str(file)) for file in files), settings, Engine(executor, 8)):
        for verdict in verdicts:
            statuses[verdict.status] = statuses.get(verdict.status, 0) + 1
    return Measured(sum(statuses.values()), time.perf_counter() - start, statuses)


def with_jobs(files: list[Path], settings: Settings, jobs: int) -> Measured:
    """The second of two runs in the same processes, so that start-up and first look-ups are left out."""
    if jobs == 1:
        checked(files, settings, None)
        return checked(files, settings, None)
    with process_pool(jobs) as executor:
        checked(files, settings, executor)
        return checked(files, settings, executor)


def ends(files: list[Path], settings: Settings) -> list[tuple[Position, Position]]:
    """The two ends of every stretch of every flight, of which the bare cost is taken."""
    from navlog.request.records import Request
    from navlog.resolve.flight import resolve_flight
    from navlog.studies.batch import catalogue_here, read_plans

    assert settings.catalogue is not None
    catalogue = catalogue_here(settings.catalogue)
    found = []
    for file in files:
        for flight in read_plans(RouteSource(str(file)), settings.overrides).flights:
            assert isinstance(flight, Request)
            for stretch in resolve_flight(flight, catalogue).stretches:
                if stretch.start.position is not None and stretch.end.position is not None:
                    found.append((stretch.start.position, stretch.end.position))
    return found


def bare_seconds(pairs: list[tuple[Position, Position]]) -> float:
    """The time that pyproj and pygeomag alone need: a line, its middle, and three values of variation a stretch."""
    from pygeomag import GeoMag
    from pyproj import Geod

    geod, model = Geod(ellps="WGS84"), GeoMag()
    start = time.perf_counter()
    for one, other in pairs:
        course, _, metres = geod.inv(one.longitude_deg, one.latitude_deg, other.longitude_deg, other.latitude_deg)
        longitude, latitude, _ = geod.fwd(one.longitude_deg, one.latitude_deg, course, metres / 2.0)
        for glat, glon in (
            (one.latitude_deg, one.longitude_deg),
            (latitude, longitude),
            (other.latitude_deg, other.longitude_deg),
        ):
            model.calculate(glat=glat, glon=glon, alt=0.0, time=2026.38)
    return time.perf_counter() - start


def peak_mib() -> float:
    """The most memory that this process has had, in MiB."""
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / (1024.0 * (1024.0 if sys.platform == "darwin" else 1.0))


def main() -> None:
    """Make the library, check it, and print the figures."""
    options = argparse.ArgumentParser(description="Measure how fast a library of flights is checked.")
    options.add_argument("catalogue", type=Path, help="a catalogue that holds 2026-05-20")
    options.add_argument("--flights", type=int, default=10_000)
    asked = options.parse_args()
    # As the command does; processes take it over.
    gc.set_threshold(COLLECTED_AFTER)
    settings = Settings(catalogue=str(asked.catalogue))
    with tempfile.TemporaryDirectory() as folder:
        with open_catalogue(asked.catalogue) as catalogue:
            files = write_library(catalogue, Path(folder), asked.flights)
        tenth = files[: max(1, len(files) // 10)]
        first = checked(tenth, settings, None)
        small_mib = peak_mib()
        one = with_jobs(files, settings, 1)
        whole_mib = peak_mib()
        two = with_jobs(files, settings, 2)
        pairs = ends(tenth, settings)
        bare = bare_seconds(pairs) / first.flights
    points = len(pairs) / first.flights + 1.0
    print(f"{one.flights} flights of {points:.1f} points: {one.statuses}")
    print(f"first look-ups: {first.per_second:.0f} flights/s over {first.flights}")
    print(f"one job, warm: {one.per_second:.0f} flights/s, {1000.0 / one.per_second:.2f} ms a flight")
    print(f"two jobs, warm: {two.per_second:.0f} flights/s, {two.per_second / one.per_second:.2f} times one job")
    times = 1.0 / (bare * one.per_second)
    print(f"bare Geod and WMM calls: {1000.0 * bare:.2f} ms a flight; one job takes {times:.2f} times that")
    print(f"peak memory: {small_mib:.0f} MiB after {first.flights} flights, {whole_mib:.0f} MiB after {one.flights}")


if __name__ == "__main__":
    main()
