"""The best way round for each flight of a file that loses a station, put into its route line and flown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING, Any, TypeAlias

from msgspec import Struct

from navlog.catalogue.network import Network
from navlog.catalogue.network_store import read_network
from navlog.nav.figures import distance, whole
from navlog.nav.problems import NavlogError, Problem
from navlog.nav.record import changed
from navlog.request.typed import Overrides
from navlog.rules.answers import Answer, check_text
from navlog.studies.proposal_ends import ends_at
from navlog.studies.proposal_flights import words_between
from navlog.studies.way_faults import faults, is_link
from navlog.studies.way_heights import Lowest, lowest_way
from navlog.studies.way_search import best_way
from navlog.studies.ways import WayEnd, WayFound, WayTerms

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue
    from navlog.studies.batch import RouteSource

_SCHEMA = "navlog/around-1"
_TRIES = 10
_LIMIT_NM = 80.0


_Word: TypeAlias = tuple[int, int]
"""A word of the route line that is a point: its place in the line, and that of the point in the route."""


class _Around(Struct, frozen=True):
    """What a flight loses with a station, and the way round it.

    `lost` are the parts of the way that rely on the station, in words; empty where none does. `answer` is that of log
    and rules for the flight with the way round, at `altitude_ft`; None where there is none, and `why_none` says why.
    `more_nm` is how much longer it is. `raised` tells that the planned level is too low for it.
    """

    station: str
    flight: str | None
    file: str
    line: int
    lost: tuple[str, ...] = ()
    route: str = ""
    answer: Answer | None = None
    more_nm: float = 0.0
    altitude_ft: float = 0.0
    raised: str = ""
    why_none: str = ""
    problems: tuple[Problem, ...] = ()

    @property
    def status(self) -> str:
        """`ok` where nothing is lost, `around` where a way round is found, `none` where not, or `problem`."""
        if self.problems:
            return "problem"
        return "ok" if not self.lost else "around" if self.answer is not None else "none"


def ways_around(source: RouteSource, overrides: Overrides, catalogue: Catalogue, station: str) -> Iterator[_Around]:
    """The ways round for the flights of one file, in its order."""
    out = changed(overrides, unavailable=(*overrides.unavailable, station))
    try:
        data = source.bytes()
    except NavlogError as error:
        yield _Around(station, None, source.file, 1, problems=error.problems)
        return
    for place, answer in enumerate(check_text(data, source.file, catalogue=catalogue, overrides=out)):
        problems = tuple(_at_option(one, overrides, station) for one in answer.problems)
        about = _Around(station, answer.flight, answer.file, answer.line, problems=problems)
        if answer.report is None:
            yield about
            continue
        lost = _lost(answer, station)
        if not lost:
            yield about
            continue
        told = tuple(_between(answer, number) for number in lost)
        yield _Search(catalogue, changed(about, lost=told), answer, out, data, place).found(lost)


def _at_option(problem: Problem, overrides: Overrides, station: str) -> Problem:
    """A problem of the station, which counts as one more that is unavailable, told at its own option."""
    span = problem.span
    if (
        span is None
        or span.file != "--unavailable"
        or station in overrides.unavailable
        or station not in problem.message
    ):
        return problem
    return problem._replace(span=span._replace(file="--propose-around"))


def _lost(answer: Answer, station: str) -> tuple[int, ...]:
    """The numbers of the stretches that rely on a station, by the rule that says so; of alternates none."""
    assert answer.report is not None
    legs = answer.report.log.legs
    found = (
        legs[one.leg - 1].stretch.number
        for one in answer.findings
        if one.rule == "station-out" and one.leg is not None and one.station == station
    )
    return tuple(sorted(set(found)))


def _between(answer: Answer, number: int) -> str:
    assert answer.report is not None
    stretch = answer.report.log.route.stretches[number - 1]
    return f"{stretch.start.name} to {stretch.end.name}"


class _Search:
    """The search for one flight."""

    def __init__(
        self,
        catalogue: Catalogue,
        about: _Around,
        answer: Answer,
        overrides: Overrides,
        data: bytes,
        place: int,
    ) -> None:
        assert answer.report is not None
        self.catalogue, self.about, self.answer = catalogue, about, answer
        self.overrides, self.data, self.place = overrides, data, place
        self.log = answer.report.log
        self.request = self.log.route.request
        self.network: Network = read_network(catalogue, self.request.day)
        self.known_ends: dict[int, tuple[WayEnd, ...]] = {}
        self.out = frozenset(self.request.definitions.unavailable)

    def found(self, lost: Sequence[int]) -> _Around:
        """The way round what is lost that makes the whole flight shortest, by every point that it is flown for."""
        named = self.named_points()
        bounds = [one for one in named if one in (named[0], named[-1]) or self.is_kept(one[1])]
        parts: list[list[tuple[_Word, _Word]]] = []
        for first, last in pairwise(bounds):
            gone = [number for number in lost if first[1] < number <= last[1]]
            if not gone:
                continue
            if self.is_same_place(first[1], last[1]):
                name = self.log.route.points[first[1]].name
                return changed(self.about, why_none=f"from {name} back to {name} it passes nothing else")
            before = [one for one in named if first[1] <= one[1] < gone[0]]
            after = [one for one in named if gone[-1] <= one[1] <= last[1]]
            parts.append([(one, two) for one in before for two in after if not self.is_same_place(one[1], two[1])])
        if not bounds or lost[0] <= bounds[0][1] or lost[-1] > bounds[-1][1]:
            return changed(self.about, why_none="the station is where the flight begins or ends")
        return self.joined_all(parts)

    def joined_all(self, parts: Sequence[Sequence[tuple[_Word, _Word]]]) -> _Around:
        """The flight with the shortest way for each part that is lost, each of which has pairs of points to join."""
        terms = WayTerms(out=self.out, avoided=frozenset({self.about.station}), by_station=True)
        planned_ft = self.request.cruise.altitude_ft
        for _ in range(_TRIES):
            chosen = []
            for pairs in parts:
                found = [one for pair in pairs for one in self.joined(pair, terms, planned_ft)]
                chosen += [min(found, key=lambda one: one[:2])] if found else []
            if len(chosen) < len(parts):
                break
            raised_ft, _, _, highest = max(chosen, key=lambda one: one[0])
            route = self.line([(pair, lowest.way) for _, _, pair, lowest in chosen])
            answer = self.flown(route, raised_ft or None)
            at_fault = frozenset(
                link for _, _, _, lowest in chosen for link in faults(answer, self.network, lowest.way) if is_link(link)
            )
            if not at_fault:
                return self.told(route, answer, raised_ft or planned_ft, highest if raised_ft else None)
            terms = changed(terms, banned=terms.banned | at_fault)
        return changed(self.about, why_none="no airways and no stations received join what is before it and after it")

    def is_kept(self, place: int) -> bool:
        """Whether a named point is one that the flight is for, and no mere fix of an airway: it lands or turns there.

        Where a flight to another place joins its first airway or leaves its last is for the search to choose.
        """
        points, stretches = self.log.route.points, self.log.route.stretches
        landings = {leg.stretch.number for leg in self.log.legs if leg.lands}
        if place in landings or not 0 < place < len(points) - 1:
            return True
        into, out = (one.airway.ident if one.airway else None for one in stretches[place - 1 : place + 1])
        if into is not None and into == out:
            return self.is_same_place(place - 1, place + 1)
        ends = {0, len(points) - 1, *landings}
        start, end = max(one for one in ends if one < place), min(one for one in ends if one > place)
        joins = into is None and out is not None and place - 1 == start
        leaves = into is not None and out is None and place + 1 == end
        return not (joins or leaves) or self.is_same_place(start, end)

    def is_same_place(self, one: int, other: int) -> bool:
        """Whether two points of the route, by number, are one place."""
        points = self.log.route.points
        return points[one].position == points[other].position

    def joined(
        self, pair: tuple[_Word, _Word], terms: WayTerms, planned_ft: float
    ) -> Iterator[tuple[float, float, tuple[_Word, _Word], Lowest]]:
        """The way between two named points: the altitude it asks for over the planned one, the whole flight's miles."""
        starts, goals = self.ends(pair[0][1]), self.ends(pair[1][1])
        along_nm = [0.0, *accumulate(stretch.length_nm for stretch in self.log.route.stretches)]
        terms = changed(terms, toward=self.log.route.points[pair[1][1]].position)
        way = best_way(self.network, starts, goals, planned_ft, terms)
        raised_ft = 0.0
        if way is not None:
            lowest: Lowest | None = Lowest(planned_ft, "", way)
        else:
            lowest = lowest_way(self.network, starts, goals, terms, floor_ft=planned_ft)
            raised_ft = 100.0 * -(-lowest.altitude_ft // 100.0) if lowest is not None else 0.0
        if lowest is not None:
            rest_nm = along_nm[pair[0][1]] + along_nm[-1] - along_nm[pair[1][1]]
            yield raised_ft, rest_nm + lowest.way.distance_nm, pair, lowest

    def ends(self, point: int) -> tuple[WayEnd, ...]:
        """Where the network is joined from a point of the route."""
        if point not in self.known_ends:
            place, day = self.log.route.points[point], self.request.day
            self.known_ends[point] = ends_at(self.network, self.catalogue, place, day, self.out, _LIMIT_NM)
        return self.known_ends[point]

    def line(self, ways: Sequence[tuple[tuple[_Word, _Word], WayFound]]) -> str:
        """The route line with each way in place of what lies between two of its points."""
        points, words = self.log.route.points, [word.text for word in self.request.route]
        firsts, lasts = {pair[0] for pair, _ in ways}, {pair[1] for pair, _ in ways}
        # From the end, so that the places of the words before stay what they are.
        for ((first, start), (last, goal)), way in reversed(ways):
            between = words_between(self.network, way, points[start].name, points[goal].name)
            before, after = words[: first + 1], words[last:]
            # A point where the flight now stays on its airway need not be named, unless another way ends there.
            stays = len(before) > 1 and between and before[-2] == between[0] and before[-1] == points[start].name
            if stays and (first, start) not in lasts:
                before, between = before[:-1], between[1:]
            stays = len(after) > 1 and between and after[1] == between[-1] and after[0] == points[goal].name
            if stays and (last, goal) not in firsts:
                after, between = after[1:], between[:-1]
            words = [*before, *between, *after]
        return " ".join(words)

    def told(self, route: str, answer: Answer, altitude_ft: float, raised: Lowest | None) -> _Around:
        """The way round with what it costs; a problem of its own flight is why there is none."""
        if answer.report is None:
            return changed(self.about, why_none=answer.problems[0].message)
        more_nm = answer.report.log.totals.distance_nm - self.log.totals.distance_nm
        return changed(
            self.about,
            route=route,
            answer=answer,
            more_nm=more_nm,
            altitude_ft=altitude_ft,
            raised=raised.forced_by if raised is not None else "",
        )

    def named_points(self) -> list[_Word]:
        """Where in the route line a point stands, with its place among the route's points; the station left out."""
        found: list[_Word] = []
        reached = 0
        points = self.log.route.points
        for index, word in enumerate(self.request.route):
            for place in range(reached, len(points)):
                same = points[place].ident == word.ident if word.ident else points[place].position == word.position
                if same:
                    reached = place + 1
                    if word.ident != self.about.station:
                        found.append((index, place))
                    break
        return found

    def flown(self, route: str, altitude_ft: float | None) -> Answer:
        """The answer for the flight with another route line, and another level where the planned one is too low."""
        overrides = changed(self.overrides, route=route)
        if altitude_ft is not None:
            overrides = changed(overrides, altitude=f"{altitude_ft:.0f}")
        found = check_text(self.data, self.about.file, catalogue=self.catalogue, overrides=overrides)
        return found[min(self.place, len(found) - 1)]


def around_line(one: _Around) -> str:
    """What a flight loses and the way round, in a line."""
    where = f"{one.file}:{one.line}: {one.flight}"
    if not one.lost:
        return f"{where}: does not rely on {one.station}"
    loses = f"{where}: without {one.station} it loses {', '.join(one.lost)}"
    if one.answer is None or one.answer.report is None:
        return f"{loses}; no way round: {one.why_none}"
    nm = one.answer.report.log.totals.distance_nm
    level = f"{whole(one.altitude_ft)} ft" + (f" ({one.raised})" if one.raised else "")
    return f"{loses}; way round: {one.route}: {distance(nm)} NM, {one.more_nm:+.1f} NM, {level}, {one.answer.status}"


def around_json(one: _Around) -> str:
    """The same as one line of JSON, without a line end."""
    import json

    from navlog.sheets.json_lines import flight_object, problem_object
    from navlog.sheets.json_values import number

    flown = flight_object(one.answer, with_legs=False) if one.answer is not None else None
    found: dict[str, Any] = {
        "schema": _SCHEMA,
        "station": one.station,
        "flight": one.flight,
        "source": {"file": one.file, "line": one.line},
        "result": one.status,
        "lost": list(one.lost),
        "route": one.route or None,
        "distance_nm": flown["totals"]["distance_nm"] if flown is not None else None,
        "more_nm": number(one.more_nm) if flown is not None else None,
        "altitude_ft": number(one.altitude_ft) if flown is not None else None,
        "forced_by": one.raised or None,
        "status": flown["status"] if flown is not None else None,
        "findings": flown["findings"] if flown is not None else [],
        "reason": one.why_none or None,
        "problems": [problem_object(problem) for problem in one.problems],
    }
    return json.dumps(found, allow_nan=False, ensure_ascii=True)
