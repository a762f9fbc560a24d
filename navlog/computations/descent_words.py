"""Climbs and descents."""

from __future__ import annotations

from navlog.computations import descent
from navlog.computations.amounts import fuel_amount, time
from navlog.computations.answer import Answer
from navlog.computations.descent import Descent
from navlog.nav.figures import distance, half_up, whole


def answer(found: Descent) -> Answer:
    """Where to begin and how long it takes, as far as heights and groundspeed are known, and the slope."""
    lines = []
    verb = "climb" if found.climbing else "descend"
    if found.distance_nm is not None:
        before = f"{distance(found.start_nm)} NM before the point"
        level = f", to be level {distance(found.level_nm)} NM before it" if found.level_nm else ""
        lines.append(f"{verb} {whole(found.height_ft)} ft: begin {before}{level}")
        taken = f"{distance(found.distance_nm)} NM"
        if found.time_min is not None:
            taken += f" in {time(found.time_min)} at {whole(found.groundspeed_kt)} kt"
        if found.fuel is not None:
            taken += f", {fuel_amount(found.fuel)}"
        lines.append(taken)
    slope = f"{half_up(found.angle_deg, 0.1) / 10:.1f} degrees, {whole(found.gradient_ft_per_nm)} ft/NM"
    if found.rate_ft_min is not None:
        slope = f"{whole(found.rate_ft_min)} ft/min, {slope}"
    lines.append(slope)
    return Answer((found,), tuple(lines), descent.workings(found))
