"""What is asked of a proposal as a flight, and each proposal flown: through the resolver, the log and the rules."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from datetime import date, datetime
from functools import cache
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.catalogue.nearness import bearing_deg
from navlog.catalogue.preferred import PreferredRoute, preferred_routes
from navlog.flightlog.records import Phase
from navlog.nav import figures
from navlog.nav.angles import position_text, position_word_count, read_position
from navlog.nav.chart import Airport, Position
from navlog.nav.figures import distance, whole
from navlog.nav.problems import NavlogError, Problem, Span, problem_error
from navlog.nav.record import changed
from navlog.nav.wind import WindColumn, at_place, triangle
from navlog.request.flights import read_flights
from navlog.request.parser import parse_statement
from navlog.request.records import BrokenFlight, Request
from navlog.request.references import References
from navlog.resolve.route import Point, Route
from navlog.rules.answers import Answer, answers
from navlog.rules.registry import Severity
from navlog.studies.proposal_ends import REACH_NM
from navlog.studies.ways import WayFound, WayTerms, hops

if TYPE_CHECKING:
    from navlog.catalogue.network import Network
    from navlog.catalogue.queries import Catalogue

_FILE, _FILE_OF_ENDS = "proposal", "FROM TO"
"""What problems of a proposal's own text name as their file, and those of the direct flight's."""

_STATEMENT_FROM = 10
"""After so many columns what a statement says begins."""

_ANY_FT = 10_000.0
"""The altitude of the direct flight, of which only the distance, the course and the speed are asked."""

_TOP_FT = 17_500.0

_ANY_KT = 100.0
"""A speed where none is given, so that the flight can be checked; no time that follows from it is told."""

_SAME_NM = 0.05
"""Less than a printed tenth: so near to a point a position is that point."""

_NEVER_NM = 100_000.0
"""A link that the wind does not let be flown costs more than any way round it."""


class Asked(Struct, frozen=True):
    """What is asked: from where to where, and the flight's statements as (keyword, text).

    `via` and `avoid` are identifiers; `lowest_cruise_ft` is the least that a level may be which is not asked for.
    `most_off_nm` is the farthest from either place that an airway is joined or left.
    """

    start: str
    goal: str
    statements: tuple[tuple[str, str], ...]
    altitude: str | None = None
    lowest_cruise_ft: float = 3_000.0
    via: tuple[str, ...] = ()
    avoid: tuple[str, ...] = ()
    count: int = 3
    most_off_nm: float = 80.0


class Flights:
    """The flight asked for, and its answers on one route after another.

    `folder` is where the files that its statements name are looked for. Raises NavlogError for statements and places
    that can't be understood.
    """

    def __init__(self, catalogue: Catalogue, asked: Asked, *, folder: str = "") -> None:
        self.catalogue = catalogue
        start, goal = _in_one_word(asked.start, "FROM"), _in_one_word(asked.goal, "TO")
        self.asked = asked = changed(asked, start=start, goal=goal)
        self.references = References()
        self.folder = folder
        self.file = os.path.join(folder, _FILE)
        self.file_of_ends = os.path.join(folder, _FILE_OF_ENDS)
        given = {keyword for keyword, _ in asked.statements}
        self.has_speed = not given.isdisjoint(("tas", "aircraft"))
        self.has_wind = not given.isdisjoint(("wind", "winds"))
        self.written = "".join(
            f"{keyword:<{_STATEMENT_FROM - 1}} {' '.join(text.split())}\n" for keyword, text in asked.statements
        )
        if not self.has_wind:
            self.written += "wind      calm  # no wind was given\n"
        self.flown_as = self.written if self.has_speed else f"{self.written}tas {_ANY_KT:.0f}kt\n"
        self._refuse_wrong()
        self.request = self._request(f"{asked.start} DCT {asked.goal}")
        for reference in self.request.notices:
            # A file that cannot be read stands in the way of every proposal.
            self.references.notices(reference)
        self._refuse_low_ceiling()
        self.base = self._resolved()
        self.day: date = self.request.day
        self.rules = self.request.rules
        self.off: datetime | None = self.request.off.moment if self.request.off is not None else None
        self.altitude_ft = self.request.cruise.altitude_ft if asked.altitude is not None else None
        stretch = self.base.stretches[0]
        self.direct_nm = stretch.length_nm
        self.direct_magnetic_deg = self._magnetic_deg()
        self.tas_kt = self._tas_kt()

    def by_name(self, network: Network) -> Flights:
        """The same flight, a position that lies on a point of the airways called by the name of that point."""
        texts, ends = (self.asked.start, self.asked.goal), (self.base.points[0], self.base.points[-1])
        start, goal = (_name_there(network, end) or text for end, text in zip(ends, texts, strict=True))
        if (start, goal) == texts:
            return self
        try:
            return Flights(self.catalogue, changed(self.asked, start=start, goal=goal), folder=self.folder)
        except NavlogError:
            # A name that several places have: the position alone says which is meant.
            return self

    def _refuse_wrong(self) -> None:
        """Raise what is wrong in the options, at the options, before anything is made of them."""
        typed = [*self.asked.statements, *([("altitude", self.asked.altitude)] if self.asked.altitude else [])]
        problems: list[Problem] = []
        for keyword, text in typed:
            _, found = parse_statement(keyword, text, f"--{keyword}")
            problems += found
        _, found = parse_statement("route", f"{self.asked.start} {self.asked.goal}", _FILE_OF_ENDS)
        if self.asked.most_off_nm > REACH_NM:
            message = f"{distance(self.asked.most_off_nm)} NM off the airways is too far"
            hint = f"{REACH_NM:.0f}nm at most: farther off no station is looked for"
            problems.append(Problem("bad-value", message, Span("--limit-off-airway", 1), hint))
        if problems or found:
            raise NavlogError(*problems, *(self._at_place(one, len(self.asked.start) + 1) for one in found))

    def _refuse_low_ceiling(self) -> None:
        """Raise that the ceiling is below the altitude asked for."""
        ceiling, altitude = self.request.ceiling, self.request.cruise
        if ceiling is not None and self.asked.altitude is not None and ceiling.altitude_ft < altitude.altitude_ft:
            highest, asked = (
                figures.level(one.altitude_ft, flight_level=one.flight_level) for one in (ceiling, altitude)
            )
            message = f"a ceiling of {highest} is below the altitude asked for, {asked}"
            raise problem_error("bad-value", message, span=Span("--ceiling", 1), hint="leave one of them out")

    def _request(self, route: str) -> Request:
        altitude = self.asked.altitude or f"{_ANY_FT:.0f}ft"
        plans = read_flights(f"{self.flown_as}altitude {altitude}\nroute {route}\n", self.file_of_ends)
        (flight,) = plans.flights or (None,)
        if plans.problems or not isinstance(flight, Request):
            problems = (*plans.problems, *(flight.problems if isinstance(flight, BrokenFlight) else ()))
            raise NavlogError(*(self._at_option(one) for one in problems))
        if flight.aircraft is not None:
            try:
                self.references.aircraft(flight.aircraft)
            except NavlogError as error:
                raise NavlogError(*(self._at_option(one) for one in error.problems)) from None
        return flight

    def _at_option(self, problem: Problem) -> Problem:
        """A problem of a statement, told at the option that made it; any other as it is."""
        span = problem.span
        if span is None or span.file != self.file_of_ends or not 1 <= span.line <= len(self.asked.statements):
            return problem
        keyword, text = self.asked.statements[span.line - 1]
        place = Span(f"--{keyword}", 1, max(1, span.column - _STATEMENT_FROM), span.length)
        return problem._replace(span=place, text=" ".join(text.split()))

    def _resolved(self) -> Route:
        """The direct flight; a problem of a name is told at the place that has it."""
        from navlog.resolve.flight import resolve_flight

        try:
            return resolve_flight(self.request, self.catalogue)
        except NavlogError as error:
            before = len("route ")
            problems = (
                one if one.span is None else self._at_place(one, before + len(f"{self.asked.start} DCT "), before)
                for one in error.problems
            )
            raise NavlogError(*problems) from None

    def _at_place(self, problem: Problem, to_from: int, from_from: int = 0) -> Problem:
        """A problem of a line with both places, told at FROM or TO; what they say begins behind so many columns."""
        column, length = (problem.span.column, problem.span.length) if problem.span is not None else (1, 1)
        name, text, begins = ("TO", self.asked.goal, to_from)
        if column <= to_from:
            name, text, begins = ("FROM", self.asked.start, from_from)
        return problem._replace(span=Span(name, 1, max(1, column - begins), length), text=text)

    def _magnetic_deg(self) -> float:
        """The magnetic course of the direct flight at its start, by which cruising levels go."""
        stretch = self.base.stretches[0]
        if stretch.true_course is None:
            return 0.0
        variation_deg = stretch.variation.start_deg if stretch.variation is not None else 0.0
        return (stretch.true_course.start_deg - variation_deg) % 360.0

    def _tas_kt(self) -> float | None:
        """The true airspeed in cruise, where a speed is given."""
        if not self.has_speed:
            return None
        from navlog.flightlog.conditions import conditions
        from navlog.flightlog.planning import plan

        if self.request.tas_kt is not None:
            return self.request.tas_kt
        log = plan(self.base, conditions(self.base, self.references, self.catalogue))
        speeds_kt = [(leg.phase is Phase.CRUISE, leg.tas_kt) for leg in log.legs if leg.tas_kt is not None]
        # In a flight too short for a cruise its fastest part stands for one.
        return max(speeds_kt, default=(False, None))[1]

    @property
    def ceiling_ft(self) -> float:
        """The highest altitude to consider: the ceiling given, else the top of the aircraft's cruise figures.

        Without either 17,500 ft, the MAA of nearly all Victor airways.
        """
        if self.request.ceiling is not None:
            return self.request.ceiling.altitude_ft
        if self.request.aircraft is None:
            return _TOP_FT
        aircraft = self.references.aircraft(self.request.aircraft)
        return min(_TOP_FT, max(aircraft.cruise.altitudes_ft, default=_TOP_FT))

    @property
    def wind_text(self) -> str:
        """The wind in words: as given, or calm and why."""
        return "as given" if self.has_wind else "calm, as none is given"

    @property
    def speed_text(self) -> str:
        """The speed in words: the true airspeed as given, the aircraft's, or that none is given."""
        if self.tas_kt is None:
            return "no speed given, so no times"
        return f"TAS {whole(self.tas_kt)} kt" if self.request.tas_kt is not None else "speeds of the aircraft file"

    def terms(self, network: Network) -> WayTerms:
        """What a search goes by: stations out, what to avoid, the points to pass, and the wind.

        Raises an `unknown-ident` problem for a point to pass, or something to avoid, that is on no airway.
        """
        problems: list[Problem] = []
        for option, names in (("--via", self.asked.via), ("--avoid", self.asked.avoid)):
            for ident in names:
                known = bool(network.named(ident)) or (option == "--avoid" and ident in network.airways)
                if not known:
                    message = f"`{ident}` is on no airway that VORs guide"
                    problems += problem_error("unknown-ident", f"{option}: {message}").problems
        if problems:
            raise NavlogError(*problems)
        return WayTerms(
            out=frozenset(self.request.definitions.unavailable),
            avoided=frozenset(self.asked.avoid),
            via=tuple(frozenset(network.named(ident)) for ident in self.asked.via),
        )

    def weights(self, network: Network, altitude_ft: float) -> tuple[Callable[[int], float] | None, float]:
        """What each link costs in the wind, as miles of still air, and the least that a mile may cost."""
        from navlog.flightlog.conditions import conditions

        winds = conditions(self.base, self.references, self.catalogue).winds
        if self.tas_kt is None or not winds:
            return None, 1.0
        strongest_kt = max(level.wind.speed_kt for column in winds for level in column.levels)
        if strongest_kt == 0.0:
            return None, 1.0
        least = self.tas_kt / (self.tas_kt + strongest_kt)
        return _link_weights(network, winds, self.tas_kt, altitude_ft), least

    def preferred(self) -> tuple[PreferredRoute, ...]:
        """The preferred routes published between the two, where both are airports."""
        ends = self.base.points[0].place, self.base.points[-1].place
        if not all(isinstance(one, Airport) for one in ends):
            return ()
        names = [one.ident for one in ends if one is not None]
        return preferred_routes(self.catalogue, names[0], names[1], self.day)

    def published_line(self, route: PreferredRoute) -> str:
        """A published route as a route line, an airport's own name in it left out."""
        words = [self.asked.start, *route.route.split(), self.asked.goal]
        return " ".join(words) if route.route else f"{self.asked.start} DCT {self.asked.goal}"

    def route_of(self, network: Network, way: WayFound) -> str:
        """A way as a route line."""
        return " ".join(
            (self.asked.start, *words_between(network, way, self.asked.start, self.asked.goal), self.asked.goal)
        )

    def fly(self, network: Network, way: WayFound, altitude_ft: float) -> Answer:
        """The answer of log and rules for a way."""
        return self.fly_route(self.route_of(network, way), altitude_ft)

    def fly_route(self, route: str, altitude_ft: float) -> Answer:
        """The answer of log and rules for a route line."""
        text = f"{self.flown_as}altitude {self.altitude_text(altitude_ft)}\nroute {route}\n"
        (answer,) = answers(read_flights(text, self.file), self.catalogue, self.references)
        return answer

    def speaks_against(self, answer: Answer, altitude_ft: float) -> str:
        """Which of the wishes a flown route does not meet, in words; empty where it meets all."""
        assert answer.report is not None
        route = answer.report.log.route
        flown = [point.ident for point in route.points]
        by = {*flown, *(one.airway.ident for one in route.stretches if one.airway is not None)}
        avoided = [ident for ident in self.asked.avoid if ident in by]
        if avoided:
            return f"flies {', '.join(avoided)}, to be avoided"
        left = iter(flown)
        # Each is looked for after the one before it: they are to be passed in their order.
        missed = [ident for ident in self.asked.via if ident not in left]
        if missed:
            return f"does not pass {missed[0]}"
        if altitude_ft > self.ceiling_ft:
            return f"is flown at {altitude_ft:.0f} ft, above the ceiling of {self.ceiling_ft:.0f} ft"
        out = [one for one in answer.findings if one.rule == "station-out" and one.severity is not Severity.NOTE]
        return out[0].message if out else ""

    def altitude_text(self, altitude_ft: float) -> str:
        """An altitude as it is written in a route file, as it was asked for where it is that one."""
        if self.asked.altitude is not None and altitude_ft == self.altitude_ft:
            return self.asked.altitude
        return f"{altitude_ft:.0f}"


def _in_one_word(text: str, place: str) -> str:
    """A place as a word of a route line: a position, to a hundredth of a minute, without its blanks."""
    words = text.split()
    if len(words) < 2 or position_word_count(words) != len(words):
        # What else it is, the route line tells.
        return text
    try:
        latitude, minutes, longitude, more = position_text(read_position(text)).split()
    except NavlogError as error:
        raise NavlogError(*(one._replace(span=Span(place, 1), text=text) for one in error.problems)) from None
    return f"{latitude}°{minutes}'{longitude}°{more}'"


def _name_there(network: Network, place: Point) -> str | None:
    """The point of the airways on which a position lies, as a word of a route line; None where it lies on none."""
    here = place.position
    if here is None or place.ident is not None:
        return None
    near = (point for point, north in enumerate(network.latitudes) if abs(north - here.latitude_deg) < _SAME_NM / 50.0)
    found = next((point for point in near if network.apart_nm(point, here) <= _SAME_NM), None)
    if found is None:
        return None
    name = network.points[found]
    return f"{name}:vor" if name in network.stations else f"{name}:fix"


def words_between(network: Network, way: WayFound, start: str, goal: str) -> list[str]:
    """The words of a route line between two of its points, such as `QEL:vor`, that a way joins."""
    first = network.points[way.start.point]
    words = [first] if way.start.off_nm or start.partition(":")[0] != first else []
    for airway, _, end, _ in hops(network, way):
        words += [airway, end]
    if words and not way.goal.off_nm and words[-1] == goal.partition(":")[0]:
        words.pop()
    return words


def _link_weights(
    network: Network, winds: Sequence[WindColumn], tas_kt: float, altitude_ft: float
) -> Callable[[int], float]:
    """What a link costs: the miles of still air that take as long, in the wind at its middle."""

    @cache
    def weight(link: int) -> float:
        start, end = network.position(network.start[link]), network.position(network.end[link])
        east_deg = (end.longitude_deg - start.longitude_deg + 180.0) % 360.0 - 180.0
        middle = Position((start.latitude_deg + end.latitude_deg) / 2.0, start.longitude_deg + east_deg / 2.0)
        wind = at_place(winds, middle, altitude_ft).wind
        solved = triangle(true_course_deg=bearing_deg(start, end), tas_kt=tas_kt, wind=wind)
        nm = network.distance_nm[link]
        return nm * tas_kt / solved.groundspeed_kt if solved.groundspeed_kt else _NEVER_NM + nm

    return weight
