"""The time and fuel that a distance takes at a groundspeed, and the headwind that a groundspeed shows."""

from __future__ import annotations

from msgspec import Struct

from navlog.computations import amounts
from navlog.computations.amounts import fuel_amount, time
from navlog.computations.answer import Solution
from navlog.nav.figures import distance, whole
from navlog.nav.problems import problem_error
from navlog.nav.units import Amount, read_distance_nm, read_elapsed_min, read_speed_kt
from navlog.nav.workings import Working

_HANDBOOK = "FAA-H-8083-25, Pilot's Handbook of Aeronautical Knowledge, chapter 16"


class _HeadwindAnswer(Struct, frozen=True):
    """What a groundspeed says beside an airspeed: the headwind part, negative from behind."""

    tas_kt: float
    groundspeed_kt: float
    headwind_kt: float


class StationPassage(Struct, frozen=True):
    """The time and, where the burn is known, the fuel that a distance takes at a groundspeed."""

    distance_nm: float
    groundspeed_kt: float
    time_min: float
    fuel: Amount | None = None


def headwind(*, tas_kt: float, groundspeed_kt: float) -> _HeadwindAnswer:
    """The headwind part on a track, for a correction so small that its cosine is 1."""
    _check_speed(tas_kt)
    _check_speed(groundspeed_kt)
    return _HeadwindAnswer(tas_kt, groundspeed_kt, tas_kt - groundspeed_kt)


def passage(*, distance_nm: float, groundspeed_kt: float, burn: Amount | None = None) -> StationPassage:
    """Time = distance / groundspeed and fuel = burn x time (FAA-H-8083-25, chapter 16)."""
    _check_speed(groundspeed_kt)
    time_min = 60.0 * distance_nm / groundspeed_kt
    return StationPassage(distance_nm, groundspeed_kt, time_min, fuel_used(burn, time_min))


def fuel_used(burn: Amount | None, time_min: float | None) -> Amount | None:
    """The fuel burnt in a time, in the burn's own unit; None where either is unknown."""
    if burn is None or time_min is None:
        return None
    return Amount(burn.value * time_min / 60.0, burn.unit.removesuffix("/h"))


def read_groundspeed_kt(text: str) -> float:
    """A groundspeed from `108`, `108kt`, or as a distance flown in a time: `9nm/5min`."""
    flown, slash, taken = text.partition("/")
    if not (slash and taken[:1].isdigit()):
        return read_speed_kt(text)
    time_min = read_elapsed_min(taken)
    if not time_min:
        raise problem_error("bad-value", f"`{text}` takes no time", hint="write the time flown: 9nm/5min")
    return 60.0 * read_distance_nm(flown) / time_min


def _headwind_workings(found: _HeadwindAnswer) -> tuple[Working, ...]:
    """Airspeed less groundspeed."""
    return (
        Working(
            "headwind",
            "true airspeed - groundspeed",
            f"{found.tas_kt:.1f} - {found.groundspeed_kt:.1f}",
            f"{found.headwind_kt:+.1f} kt",
            "the wind triangle with a small correction; US Navy P-802",
        ),
    )


def workings(passed: StationPassage) -> tuple[Working, ...]:
    """Time from distance and groundspeed, and fuel from time."""
    hours = passed.time_min / 60.0
    steps = [
        Working(
            "time",
            "distance / groundspeed",
            f"{passed.distance_nm:g} / {passed.groundspeed_kt:.1f} = {hours:.3f} h",
            f"{passed.time_min:.1f} min",
            _HANDBOOK,
        )
    ]
    if passed.fuel is not None:
        rate = passed.fuel.value / hours if hours else 0.0
        steps.append(
            Working(
                "fuel",
                "burn x time",
                f"{rate:g} {passed.fuel.unit}/h x {hours:.3f} h",
                f"{passed.fuel.value:.2f} {passed.fuel.unit}",
                _HANDBOOK,
            )
        )
    return tuple(steps)


def line(passed: StationPassage) -> str:
    """The distance, its time, and the fuel where it is known."""
    used = "" if passed.fuel is None else f", {fuel_amount(passed.fuel)}"
    return f"{distance(passed.distance_nm)} NM in {time(passed.time_min)}{used}"


def answer(passed: StationPassage) -> Solution:
    """A distance at a groundspeed, with its workings."""
    return Solution((passed,), (f"groundspeed {whole(passed.groundspeed_kt)} kt", line(passed)), workings(passed))


def headwind_answer(found: _HeadwindAnswer, passed: StationPassage | None = None) -> Solution:
    """A groundspeed beside an airspeed, and the passage at it, with their workings."""
    told = (
        f"groundspeed {whole(found.groundspeed_kt)} kt at TAS {whole(found.tas_kt)} kt:"
        f" {amounts.headwind(found.headwind_kt)}"
    )
    if passed is None:
        return Solution((found,), (told,), _headwind_workings(found))
    return Solution((found, passed), (told, line(passed)), _headwind_workings(found) + workings(passed))


def _check_speed(speed_kt: float) -> None:
    if not speed_kt > 0.0:
        raise problem_error("bad-value", "a speed is zero", hint="a speed is above 0 kt")
