"""Names to places: what the file defines first, then the catalogue; context before spelling.

Nothing here measures anything, so a file with a misspelt name is refused without loading a geodesic.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from msgspec import Struct, field

from navlog.nav.chart import Airport, Airway, Bearing, Fix, Place, Position, Source, Station, StationKind
from navlog.nav.figures import whole
from navlog.nav.problems import NavlogError, Problem, Span
from navlog.nav.spelling import alike
from navlog.request.records import FixDefinition, Name, Request, RouteWord
from navlog.resolve.lookup import ChartLookup

_KIND_WORDS = {
    "vor": StationKind.VOR,
    "ndb": StationKind.NDB,
    "dme": StationKind.DME,
    "tacan": StationKind.TACAN,
    "vot": StationKind.VOT,
    "marker": StationKind.MARKER,
}
ONLY_WHEN_QUALIFIED = (StationKind.VOT, StationKind.MARKER)
_ANSWERS_TO_DME = (StationKind.DME, StationKind.TACAN)


class Landmark(Struct, frozen=True):
    """A point of the route by which places of one name are told apart."""

    name: str
    position: Position


class Names(Struct, frozen=True):
    """The names that one flight may use, and the problems met while looking them up."""

    request: Request
    catalogue: ChartLookup
    problems: list[Problem] = field(default_factory=list)

    def report(self, code: str, message: str, span: Span | None, hint: str | None = None) -> None:
        """Note a problem and go on, so that one run shows them all."""
        self.problems.append(Problem(code, message, span, hint))

    def stations(self, ident: str) -> tuple[Station, ...]:
        """The file's station of that name, else the catalogue's."""
        own = self.request.definitions.stations.get(ident)
        return (own,) if own is not None else self.catalogue.stations(ident, self.request.day)

    def airports(self, ident: str) -> tuple[Airport, ...]:
        """The file's airport of that name, else the catalogue's."""
        own = self.request.definitions.airports.get(ident)
        return (own,) if own is not None else self.catalogue.airports(ident, self.request.day)

    def fixes(self, ident: str) -> tuple[Fix, ...]:
        """The file's fix of that name, not yet placed, else the catalogue's."""
        own = self.request.definitions.fixes.get(ident)
        return (unplaced(own),) if own is not None else self.catalogue.fixes(ident, self.request.day)

    def airways(self, ident: str) -> tuple[Airway, ...]:
        """The file's airway of that designator, else the catalogue's, one for each location."""
        own = self.request.definitions.airways.get(ident)
        return (own.airway,) if own is not None else self.catalogue.airways(ident, self.request.day)

    def stations_meant(self, ident: str) -> tuple[Station, ...]:
        """The stations among the places of that name."""
        given = self.request.definitions
        hidden = ident in given.airports or ident in given.fixes
        return () if hidden and ident not in given.stations else self.stations(ident)

    def places(self, ident: str) -> tuple[Place, ...]:
        """Everything of that name; what the file defines hides the catalogue's places of that name."""
        given = self.request.definitions
        # Whoever defines a name in the file means that one: a published namesake must not make it ambiguous.
        if ident in given.stations or ident in given.airports or ident in given.fixes:
            own: list[Place] = []
            if ident in given.stations:
                own.append(given.stations[ident])
            if ident in given.airports:
                own.append(given.airports[ident])
            if ident in given.fixes:
                own.append(unplaced(given.fixes[ident]))
            return tuple(own)
        return (*self.stations(ident), *self.airports(ident), *self.fixes(ident))

    def place(
        self, word: RouteWord, *, at_end: bool, near: Callable[[], Landmark | None] = lambda: None
    ) -> Place | None:
        """The one place that a word away from airways means; None after a problem was noted.

        `near` is asked only then: for a point of the route from which candidates are measured.
        """
        assert word.ident is not None
        named = self.places(word.ident)
        found = qualified(named, word)
        if len(found) > 1:
            found = tuple(place for place in found if usual(place)) or found
        if word.qualifier is None and word.qualifier_position is None and found and all(map(_is_special, found)):
            self.report(
                "not-qualified",
                f"`{word.ident}` is only " + "; ".join(described(place) for place in found),
                word.span,
                f"such a place counts only when qualified: write `{word.ident}:{kind_word(found[0])}`",
            )
            return None
        if len(found) > 1:
            found = _by_context(found, at_end=at_end)
        if len(found) == 1:
            return found[0]
        if found:
            self.report(
                "ambiguous-name",
                f"`{word.ident}` is {len(found)} things: " + "; ".join(described(place, near()) for place in found),
                word.span,
                _hint_for_ambiguous(word.ident, found),
            )
        elif named:
            self.report(
                "unknown-name",
                f"no {word.qualifier or 'place there'} is called `{word.ident}`",
                word.span,
                f"`{word.ident}` is " + "; ".join(described(place) for place in named),
            )
        else:
            self.unknown(word.ident, word.span, near())
        return None

    def unknown(self, ident: str, span: Span | None, near: Landmark | None = None, what: str = "") -> None:
        """Note that nothing is called `ident`, with the likeliest place meant."""
        kind = what or "station, airport or fix"
        other = self.places(ident) if what == "station" else ()
        if other:
            hint: str | None = f"`{ident}` is " + "; ".join(described(place) for place in other)
        else:
            hint = self.suggestion(ident, near, (Station,) if what == "station" else (Station, Airport, Fix))
        self.report("unknown-name", f"no {kind} is called `{ident}`", span, hint)

    def suggestion(
        self, ident: str, near: Landmark | None = None, meant: tuple[type[Place], ...] = (Station, Airport, Fix)
    ) -> str | None:
        """A hint with the names spelt most like `ident`, of the published ones the nearest of the kinds meant."""
        given = self.request.definitions
        own = (
            [*given.stations]
            if meant == (Station,)
            else [*given.stations, *given.airports, *given.fixes, *given.airways]
        )
        close = alike(ident, own, most=2, likeness=0.5)
        if close:
            return "did you mean " + " or ".join(f"`{name}`" for name in close) + "?"
        around = near.position if near is not None else None
        published = self.catalogue.similar(ident, self.request.day, around)
        places = [place for place in published if isinstance(place, meant)][:2]
        if places:
            return "did you mean " + " or ".join(described(place, near) for place in places) + "?"
        return None

    def named_station(self, name: Name) -> Station | None:
        """The station that a statement names; a VOR before other kinds; None after a problem was noted."""
        found = self.stations(name.ident)
        vors = tuple(station for station in found if station.kind is StationKind.VOR)
        # A statement with a radial means what a needle shows; an NDB of the same identifier mostly stands elsewhere.
        found = vors or tuple(station for station in found if station.kind not in ONLY_WHEN_QUALIFIED)
        if len(found) == 1:
            return found[0]
        if found:
            self.report(
                "ambiguous-name",
                f"`{name.ident}` is {len(found)} stations: " + "; ".join(described(place) for place in found),
                name.span,
                "define the station that you mean in the file",
            )
        else:
            self.unknown(name.ident, name.span, what="station")
        return None

    def refuse(self) -> None:
        """Raise everything noted so far, if anything was."""
        if self.problems:
            raise NavlogError(*self.problems)


def unplaced(definition: FixDefinition) -> Fix:
    """The file's fix as a chart record; a fix by radials has no position until it is placed."""
    return Fix(
        definition.ident,
        definition.position,
        tuple(Bearing(name.ident, radial, definition.distance_nm) for name, radial in definition.radials),
        definition.mra_ft,
        span=definition.span,
    )


def qualified(places: Iterable[Place], word: RouteWord) -> tuple[Place, ...]:
    """The places that fit what stands after the word's colon."""
    found = tuple(places)
    if word.qualifier is not None:
        found = tuple(place for place in found if _fits(place, word.qualifier))
    if word.qualifier_position is not None:
        from navlog.nav import earth

        at = word.qualifier_position
        # A compact position is given to the minute, so it names what lies within 2 NM of it.
        found = tuple(p for p in found if p.position is not None and earth.distance_nm(p.position, at) <= 2.0)
    return found


def _fits(place: Place, qualifier: str) -> bool:
    """Whether a place is of the kind that a qualifier names; `dme` also means a station with DME alone."""
    if isinstance(place, Station):
        if qualifier == "dme":
            return place.kind in _ANSWERS_TO_DME
        return _KIND_WORDS.get(qualifier) is place.kind
    if isinstance(place, Airport):
        return qualifier == "airport"
    return qualifier == "fix"


def usual(place: Place) -> bool:
    """Whether a place counts without being qualified: no test station, fan marker or heliport."""
    if isinstance(place, Station):
        return place.kind not in ONLY_WHEN_QUALIFIED
    return not isinstance(place, Airport) or place.kind == "airport"


def _by_context(places: tuple[Place, ...], *, at_end: bool) -> tuple[Place, ...]:
    """At the ends of a route the airport, whatever else has the name; inside it the VOR of a VOR and an airport."""
    airports = tuple(place for place in places if isinstance(place, Airport))
    if at_end:
        return airports or places
    vors = tuple(place for place in places if isinstance(place, Station) and place.kind is StationKind.VOR)
    # Inside a route a bare airport is refused (it must say `over` or `land`), so the name is rather the VOR's.
    return vors if airports and vors else places


def _is_special(place: Place) -> bool:
    """Whether a place counts only when qualified: a test station, a fan marker or a heliport."""
    if isinstance(place, Station):
        return place.kind in ONLY_WHEN_QUALIFIED
    return isinstance(place, Airport) and place.kind == "heliport"


def kind_word(place: Place) -> str:
    """The qualifier that names the kind of a place."""
    if isinstance(place, Station):
        return place.kind.value
    return "airport" if isinstance(place, Airport) else "fix"


def _kind_text(place: Place) -> str:
    """What a place is, in the words of the published data where it has them."""
    if isinstance(place, Station):
        return place.published_kind or place.kind.value
    return place.kind if isinstance(place, Airport) else "fix"


def described(place: Place, near: Landmark | None = None) -> str:
    """A place in a few words: identifier, kind, name and position; a published one also how far from `near`."""
    words = [
        f"`{place.ident}`",
        _kind_text(place),
    ]
    if place.name:
        words.append(place.name)
    if place.position is not None:
        from navlog.nav.angles import position_text

        words.append("at " + position_text(place.position))
        if near is not None and place.provenance.source is not Source.FILE:
            from navlog.nav import earth

            words.append(f"({whole(earth.distance_nm(near.position, place.position))} NM from {near.name})")
    elif place.region:
        words.append(place.region)
    return " ".join(words)


def _hint_for_ambiguous(ident: str, places: tuple[Place, ...]) -> str:
    """How to say which place is meant."""
    kinds = [kind_word(place) for place in places]
    if len(set(kinds)) == len(kinds):
        return "write " + " or ".join(f"`{ident}:{kind}`" for kind in kinds)
    from navlog.nav.angles import icao_position_text

    at = [icao_position_text(place.position) for place in places if place.position is not None]
    return "write " + " or ".join(f"`{ident}:{position}`" for position in at) if at else "define it in the file"
