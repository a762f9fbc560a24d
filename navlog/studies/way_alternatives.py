"""The cheapest ways that are unlike those before them, at one altitude.

What a way shares is a second measure beside its cost, so that a dear way to a point may lead on where a cheap one does
not: at each link all are kept that are not both dearer and more alike than another. The search goes back from the
goals, led by what each link costs from the starts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from heapq import heappop, heappush

from msgspec import Struct

from navlog.studies.way_search import WayBound, WaySearch
from navlog.studies.ways import WayEnd, WayFound

_SHARED = 0.6
"""At most so much of a way is flown by one before it, too."""

_MOST = 5_000
"""After so many rests of a way the search is given up: there are hardly ever more where there is a way."""

_State = tuple[int, int]
"""A link, and how many of the points to pass are behind at its end."""


class _Rest(Struct, frozen=True):
    """A link and the rest of a way after it, which another rest or a goal is.

    `price` is what it costs after the link; `bare` counts the link in, and the prices of changes and miles off the
    airways not. `alike` are the miles, for each way before, that it shares beyond what is allowed of its own length.
    """

    link: int
    after: _Rest | WayEnd
    price: float
    bare: float
    alike: tuple[float, ...]

    def links(self) -> Iterator[int]:
        """Its links in the order flown."""
        one: _Rest | WayEnd = self
        while isinstance(one, _Rest):
            yield one.link
            one = one.after

    @property
    def goal(self) -> WayEnd:
        """Where it ends."""
        one: _Rest | WayEnd = self
        while isinstance(one, _Rest):
            one = one.after
        return one


class UnlikeWays:
    """The ways between some ends that cost `most` without the prices of changes and miles off the airways.

    With these prices they cost no more than `limits`, of which the last is tried where there is none within the first.
    `cost` is that of the links reached so far, by link and points passed, with the link; `into` has them by their end.
    """

    def __init__(
        self,
        search: WaySearch,
        ends: tuple[Sequence[WayEnd], Sequence[WayEnd]],
        most: float,
        limits: tuple[float, ...],
    ) -> None:
        self.search, self.most, self.limits = search, most, limits
        self.starts, self.goals = map(search.at_height, ends)
        self.cost: dict[_State, float] = {}
        self.into: dict[int, list[_State]] = {}
        self._bound = WayBound(search.network, {goal.point for goal in self.goals}, search.terms)
        self._heap: list[tuple[float, float, int, int]] = []
        for start in self.starts:
            self._go_on(start.point, search.off_cost(start), search.passed(0, start.point), None)

    def unlike(self, taken: Sequence[WayFound]) -> WayFound | None:
        """The cheapest way of which each of those taken flies no more than 60 percent; None where none is found."""
        for limit in self.limits:
            self._reach(limit)
            found = _Unlike(self, taken, limit).found()
            if found is not None:
                return found
        return None

    def _reach(self, limit: float) -> None:
        """Tell the cost of every link that a way of this cost may use."""
        ends = self.search.network.end
        while self._heap and self._heap[0][0] <= limit:
            _, cost, link, passed = heappop(self._heap)
            state = (link, passed)
            if state not in self.cost:
                self.cost[state] = cost
                self.into.setdefault(ends[link], []).append(state)
                self._go_on(ends[link], cost, passed, link)

    def _go_on(self, point: int, cost: float, passed: int, before: int | None) -> None:
        search = self.search
        for link, end, _, price in search.onward(point):
            if before is not None and not search.may_turn(before, link):
                continue
            now = search.passed(passed, end)
            if (link, now) not in self.cost:
                so_far = cost + price + (search.change(before, link) if before is not None else 0.0)
                heappush(self._heap, (so_far + self._bound.least(end, now), so_far, link, now))


class _Unlike:
    """The search for the cheapest way unlike some; `heap` holds (cost, number, state, rest, the start once there)."""

    def __init__(self, among: UnlikeWays, taken: Sequence[WayFound], limit: float) -> None:
        self.among, self.search, self.network, self.taken = among, among.search, among.search.network, taken
        self.limit = limit
        self.flown = [{self.segment(link) for link in way.links} for way in taken]
        self.shares: dict[int, tuple[float, ...]] = {}
        self.heap: list[tuple[float, int, _State, _Rest, WayEnd | None]] = []
        self.kept: dict[_State, list[_Rest]] = {}
        self.number = 0

    def found(self) -> WayFound | None:
        """The cheapest; None where there is none, or the search takes too long."""
        for goal in self.among.goals:
            alike = _alike(goal.off_nm, [goal.point == way.goal.point for way in self.taken])
            for state in self.among.into.get(goal.point, ()):
                if state[1] == len(self.search.terms.via):
                    self.push(state, goal, self.search.off_cost(goal), goal.off_nm, alike)
        for _ in range(_MOST):
            if not self.heap:
                return None
            cost, _, state, rest, start = heappop(self.heap)
            if start is not None:
                return self.search.way(start, tuple(rest.links()), rest.goal, cost)
            if self.keeps(state, rest):
                self.go_back(state, rest)
        return None

    def keeps(self, state: _State, rest: _Rest) -> bool:
        """Whether no rest kept before is both as cheap and as unlike; keeps it then."""
        kept = self.kept.setdefault(state, [])
        # They come cheapest first but for what is before them, which is the same for all.
        if any(all(one <= other for one, other in zip(before.alike, rest.alike, strict=True)) for before in kept):
            return False
        kept.append(rest)
        return True

    def go_back(self, state: _State, rest: _Rest) -> None:
        """Put on the heap what may come before a link: a start, or another link."""
        (link, passed), search, network = state, self.search, self.network
        at, end = network.start[link], network.end[link]
        price = search.price(link) + rest.price
        for start in self.among.starts:
            if start.point != at or search.passed(search.passed(0, at), end) != passed:
                continue
            alike = _sum(rest.alike, _alike(start.off_nm, [at == way.start.point for way in self.taken]))
            cost = search.off_cost(start) + price
            if cost <= self.limit and max(alike) <= 0.0 and rest.bare + start.off_nm <= self.among.most:
                self.put(cost, state, rest, start)
        behind = {network.end[one] for one in rest.links()}
        for before in self.among.into.get(at, ()):
            # No point is passed twice.
            if network.start[before[0]] in behind or search.passed(before[1], end) != passed:
                continue
            if search.may_turn(before[0], link):
                self.push(before, rest, price + search.change(before[0], link), rest.bare, rest.alike)

    def push(self, state: _State, after: _Rest | WayEnd, price: float, bare: float, alike: tuple[float, ...]) -> None:
        """Put a link on the heap with the rest of the way after it, unless the way costs or shares too much."""
        cost = self.among.cost[state] + price
        bare += self.search.price(state[0])
        alike = _sum(alike, self.alike(state[0]))
        # All that is left may be flown by no other way; it is at most so long.
        left_nm = (self.among.most - bare) / self.search.terms.least
        if cost <= self.limit and max(alike) <= _SHARED * left_nm:
            self.put(cost, state, _Rest(state[0], after, price, bare, alike), None)

    def put(self, cost: float, state: _State, rest: _Rest, start: WayEnd | None) -> None:
        """Put it on the heap; of equal cost what came first comes first."""
        self.number += 1
        heappush(self.heap, (cost, self.number, state, rest, start))

    def alike(self, link: int) -> tuple[float, ...]:
        """What a link adds to the miles shared beyond what is allowed."""
        found = self.shares.get(link)
        if found is None:
            flown = [self.segment(link) in one for one in self.flown]
            found = self.shares[link] = _alike(self.network.distance_nm[link], flown)
        return found

    def segment(self, link: int) -> frozenset[int]:
        """The two points of a link, whatever the airway and the direction."""
        return frozenset((self.network.start[link], self.network.end[link]))


def _alike(nm: float, shared: Sequence[bool]) -> tuple[float, ...]:
    """Miles shared beyond what is allowed of them, for each way that shares them or does not."""
    return tuple((one - _SHARED) * nm for one in shared)


def _sum(one: Sequence[float], other: Sequence[float]) -> tuple[float, ...]:
    return tuple(a + b for a, b in zip(one, other, strict=True))
