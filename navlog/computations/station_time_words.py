"""Time, distance and fuel to a station."""

from __future__ import annotations

from navlog.computations import station_time
from navlog.computations.amounts import fuel_amount, stopwatch, time
from navlog.computations.answer import Answer
from navlog.computations.station_time import StationTime
from navlog.nav.figures import distance, whole


def answer(found: StationTime) -> Answer:
    """The estimate, and what it rests on."""
    parts = [f"{time(found.time_min)} to the station"]
    if found.distance_nm is not None:
        parts.append(f"{distance(found.distance_nm)} NM at {whole(found.speed_kt)} kt")
    if found.fuel is not None:
        parts.append(fuel_amount(found.fuel))
    if found.relative_deg is None:
        how = f"bearing changed {found.change_deg:g} degrees in {stopwatch(found.elapsed_min)}, station abeam"
    else:
        first, second = found.relative_deg
        how = f"relative bearing from {first:03g} to {second:03g} in {stopwatch(found.elapsed_min)}"
    lines = (", ".join(parts), f"{how}: an estimate for nil wind and a steady heading")
    return Answer((found,), lines, station_time.workings(found))
