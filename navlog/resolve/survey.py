"""What is the same of a hop for all flights along it on a day, and the memory of it that they share."""

from __future__ import annotations

from typing import Any, TypeAlias, TypeVar
from weakref import WeakKeyDictionary

from msgspec import Struct

from navlog.nav.lines import REMEMBERED, Along
from navlog.nav.magnetism import VariationAlong
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.names import Names
from navlog.resolve.route import GuidedPart, Identification, Limits

_Key: TypeAlias = tuple[object, ...]
_Value = TypeVar("_Value")


class Surveyed(Struct, frozen=True, gc=False):
    """What is the same of a hop for all flights along it on a day, whatever their level, number and other stations.

    `limits` are without those for turning onto it, and `named` is what the chart names to tell its end, None where
    nothing must. The true courses on which it begins and ends are None where unknown.
    """

    parts: tuple[GuidedPart, ...]
    limits: Limits
    true_course: Along | None
    course_source: str
    variation: Along | VariationAlong | None
    variation_source: str
    named: tuple[Identification, ...] | None
    leaving_deg: float | None
    arriving_deg: float | None


class SurveyMemory(Struct, frozen=True):
    """What was found for earlier flights, the oldest of which goes where there is no room.

    `held` are runs by all that they go by, and hops and limits, each the first of its equals, by themselves.
    `marks` are what the chart names to tell a point.
    """

    held: dict[Any, Any]
    marks: dict[_Key, tuple[Identification, ...]]

    def run(self, key: _Key) -> tuple[Surveyed, ...] | None:
        """What is remembered of a run."""
        found: tuple[Surveyed, ...] | None = self.held.get(key)
        return found

    def keep_run(self, key: _Key, hops: tuple[Surveyed, ...]) -> tuple[Surveyed, ...]:
        """Remember a run, with the hops of those that it overlaps."""
        _make_room(self.held, 2 * REMEMBERED)
        found = self.held[key] = tuple([self.one(hop) for hop in hops])
        return found

    def one(self, value: _Value) -> _Value:
        """The first of all equal values: most limits are those of some other hop."""
        found: _Value = self.held.setdefault(value, value)
        return found

    def keep_marks(self, key: _Key, marks: tuple[Identification, ...]) -> tuple[Identification, ...]:
        """Remember what tells a point."""
        _make_room(self.marks, REMEMBERED)
        self.marks[key] = marks
        return marks


_MEMORIES: WeakKeyDictionary[ChartLookup, SurveyMemory] = WeakKeyDictionary()


def memory_for(names: Names) -> SurveyMemory | None:
    """The memory of a catalogue, as long as it is open; None for a flight that published data alone do not decide."""
    given = names.request.definitions
    # What the file defines or is out may stand in the stead of any.
    if given.stations or given.fixes or given.unavailable:
        return None
    found = _MEMORIES.get(names.catalogue)
    if found is None:
        found = _MEMORIES[names.catalogue] = SurveyMemory({}, {})
    return found


def _make_room(memory: dict[Any, Any], most: int) -> None:
    while len(memory) >= most:
        # Another thread may have taken it.
        memory.pop(next(iter(memory)), None)
