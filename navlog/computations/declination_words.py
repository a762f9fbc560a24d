"""The model's declination beside a station's."""

from __future__ import annotations

from navlog.computations import declination
from navlog.computations.answer import Answer
from navlog.computations.declination import Declination
from navlog.nav.angles import position_text
from navlog.nav.figures import east_west, half_up, tenths


def answer(found: Declination) -> Answer:
    """Value, uncertainty and yearly change, where a compass fails, and the station's difference."""
    sure = "" if found.uncertainty_deg is None else f", uncertain by {_tenths(found.uncertainty_deg)} degrees"
    yearly = found.change_deg_per_year
    lines = [
        f"variation {east_west(found.variation_deg)} at {position_text(found.position)}"
        f" on {found.day.isoformat()} ({found.model}){sure}",
        f"changing {abs(yearly):.2f} degrees {'east' if yearly > 0.0 else 'west'} a year",
    ]
    if found.zone == "caution":
        lines.append("caution: the compass is sluggish here (horizontal field under 6,000 nT)")
    elif found.zone == "blackout":
        lines.append("the compass is useless here (horizontal field under 2,000 nT)")
    if found.station_difference_deg is not None:
        lines.append(_station(found, found.station_difference_deg))
    return Answer((found,), tuple(lines), declination.workings(found))


def _station(found: Declination, difference_deg: float) -> str:
    station = f"station declination {east_west(found.station_declination_deg)}"
    if not half_up(abs(difference_deg), 0.1):
        return f"{station}: needle and compass agree"
    more = "more" if difference_deg > 0.0 else "less"
    return f"{station}: in nil wind the compass reads {_tenths(abs(difference_deg))} {more} than the needle"


def _tenths(value: float) -> str:
    return tenths(half_up(value, 0.1))
