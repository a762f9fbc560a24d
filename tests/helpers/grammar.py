"""A grammar of flights: route files of every statement, each part of which means something to its flight.

What a flight could do without stands in braces: `station QAA 112.50 {46.1000 -39.2000} {decl 15W}`. The places are
invented: an empty stretch of ocean, the 180th meridian, near the poles.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import pairwise
from random import Random

from geographiclib.geodesic import Geodesic

from navlog.nav.chart import Position
from navlog.nav.magnetism import variation_deg

DAY = date(2026, 7, 18)
CENTRES = (*[(46.0, -39.5)] * 6, (12.0, 179.8), (-55.0, -179.9), (88.0, 20.0), (-80.0, 110.0))
_ACCEPTED = ("out-of-range", "under-mea", "cruising-level", "no-guidance", "under-minimum", "minimum-unknown")
_LETTERS = "ABCDEFGHIJ"
_NM_M = 1852.0


@dataclass(frozen=True, slots=True)
class Spot:
    """A point of a flight: its word on the route line, where it is, and what it is."""

    word: str
    kind: str
    latitude_deg: float
    longitude_deg: float
    declination_deg: float = 0.0

    @property
    def written(self) -> str:
        """Its position in a route file."""
        return f"{self.latitude_deg:.4f} {self.longitude_deg:.4f}"

    def to(self, other: Spot) -> tuple[float, float]:
        """True bearing and NM to another spot."""
        line = Geodesic.WGS84.Inverse(self.latitude_deg, self.longitude_deg, other.latitude_deg, other.longitude_deg)
        return line["azi1"], line["s12"] / _NM_M

    def beyond(self, course_deg: float, away_nm: float) -> tuple[float, float]:
        """The place so far away."""
        line = Geodesic.WGS84.Direct(self.latitude_deg, self.longitude_deg, course_deg, away_nm * _NM_M)
        return round(line["lat2"], 4), round(line["lon2"], 4)

    def radial(self, other: Spot, decimals: int = 0) -> str:
        """The radial of this station on which another spot lies."""
        degrees = round((self.to(other)[0] - self.declination_deg) % 360.0, decimals) % 360.0
        return f"{degrees:05.1f}" if decimals else f"{int(degrees) or 360:03d}"


def written(lines: list[str]) -> str:
    """The route file that says all of it."""
    return "\n".join(line.replace("{", "").replace("}", "") for line in lines) + "\n"


def each_left_out(lines: list[str]) -> Iterator[tuple[str, str, str]]:
    """A line, the part left out - all of it, or what braces hold - and the file without it, other lines in place."""
    for number, line in enumerate(lines):
        before, after = lines[:number], lines[number + 1 :]
        yield line, line, written([*before, "", *after])
        for first, last in _braces(line):
            yield line, line[first : last + 1], written([*before, line[:first] + line[last + 1 :], *after])


def _braces(line: str) -> Iterator[tuple[int, int]]:
    """Where each pair of braces stands, a pair inside another too."""
    opened: list[int] = []
    for place, letter in enumerate(line):
        if letter == "{":
            opened.append(place)
        elif letter == "}":
            yield opened.pop(), place


@dataclass(slots=True)
class _Flight:
    """A flight as it is made up: the spots passed, the lines that say all but the route, and the route's words."""

    chance: Random
    altitude_ft: int
    charted: float = 0.0
    """The share of stations without a position: with any, the chart has every way between two points."""

    spots: list[Spot] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)
    route: list[str] = field(default_factory=list)

    @property
    def stations(self) -> list[Spot]:
        """The VORs passed so far."""
        return [one for one in self.spots if one.kind == "station"]

    def perhaps(self, share: float, *texts: str) -> str:
        """One of the texts with a leading blank, or nothing."""
        return f" {self.chance.choice(texts)}" if self.chance.random() < share else ""

    def say(self, share: float, *lines: str) -> None:
        """One of the lines, or none."""
        if self.chance.random() < share:
            self.lines.append(self.chance.choice(lines))


def flight(seed: int, charted: float = 0.0) -> list[str]:
    """The lines of a flight, with what it could do without in braces; the route line is the last.

    `charted` is the share of stations without a position, whose distances and radials the chart alone tells.
    """
    chance = Random(seed)
    made = _Flight(chance, chance.choice((2500, 3000, 3500, 4500, 5500, 6500, 7500, 8500)), charted)
    _place_spots(made)
    _link(made)
    _mark_unusable(made)
    _plan(made)
    _change_on_the_way(made)
    return [*made.lines, f"route {' '.join(made.route)}"]


def _place_spots(made: _Flight) -> None:
    """The spots of the way, which turns by up to 60 degrees at each, and the lines that define them."""
    chance = made.chance
    kinds = ["airport", "station"]
    among = ("station", "fix", "radial", "cross", "dme", "airport", "ndb", "bearing", "position")
    kinds += chance.choices(among, (8, 2, 2, 2, 1, 2, 1, 1, 1), k=chance.randint(0, 3))
    kinds += ["station", "airport"] if chance.random() < 0.7 else ["airport"]
    if made.charted:
        kinds = [kind if kind in ("station", "airport") else "radial" for kind in kinds]
        if made.charted == 1.0:  # an airport has a position
            kinds = ["station", "station", *(kind for kind in kinds[2:-2] if kind != "airport"), "station"]
    latitude, longitude = chance.choice(CENTRES)
    at = round(latitude + chance.uniform(-0.5, 0.5), 4), longitude
    course_deg = chance.uniform(0.0, 360.0)
    for number, kind in enumerate(kinds):
        letter = "Z" if number == len(kinds) - 1 else _LETTERS[number]
        spot = Spot(f"{'X' if kind == 'airport' else 'FIX'}A{letter}", kind, *at)
        made.spots.append(_defined(made, spot, letter))
        course_deg += chance.uniform(-60.0, 60.0)
        at = spot.beyond(course_deg, chance.uniform(14.0, 38.0))


def _defined(made: _Flight, spot: Spot, letter: str) -> Spot:
    """A spot as it is written, once its line stands."""
    if spot.kind in ("station", "ndb"):
        return _station(made, replace(spot, word=f"QA{letter}"))
    if spot.kind == "airport":
        name = made.perhaps(0.5, f'{{name "Field {letter}"}}')
        made.lines.append(f"airport {spot.word} {spot.written} {{elev {made.chance.randint(1, 9) * 100}ft}}{name}")
        return spot
    if spot.kind == "position":
        north, east = round(spot.latitude_deg * 60), round(spot.longitude_deg * 60)
        word = f"{abs(north) // 60:02d}{abs(north) % 60:02d}{'NS'[north < 0]}"
        word += f"{abs(east) // 60:03d}{abs(east) % 60:02d}{'EW'[east < 0]}"
        return Spot(word, "position", north / 60.0, east / 60.0)
    station = made.stations[-1]
    away_nm = station.to(spot)[1]
    if spot.kind == "bearing":
        return replace(spot, word=f"{station.word}{station.radial(spot)}{round(away_nm):03d}")
    radial = f"{station.word} {station.radial(spot, 1)}"
    how = spot.written
    cuts_deg = [(one.to(spot)[0] - station.to(spot)[0]) % 180.0 for one in made.stations[-2:-1]]
    if spot.kind == "cross" and any(3.0 < cut_deg < 177.0 for cut_deg in cuts_deg):
        how = f"{radial} x {made.stations[-2].word} {made.stations[-2].radial(spot, 1)}"
    elif spot.kind == "dme":
        how = f"{radial} dme {away_nm:.1f} at {made.altitude_ft}"
    elif spot.kind != "fix":
        how = f"{radial} {away_nm:.1f}nm"
    made.lines.append(f"fix {spot.word} {how}{made.perhaps(0.2, f'{{mra {made.altitude_ft + 500}}}')}")
    return replace(spot, kind="fix")


def _station(made: _Flight, spot: Spot) -> Spot:
    """A VOR or an NDB; near the poles most VORs count from true north, as there they do."""
    chance = made.chance
    where = f" {{{spot.written}}}" if not made.charted or chance.random() >= made.charted else ""
    if spot.kind == "ndb":
        made.lines.append(f"station {spot.word} {chance.randint(200, 400)}{where} {{kind ndb}}")
        return spot
    true_up = chance.random() < (0.8 if abs(spot.latitude_deg) > 70.0 else 0.1)
    model_deg = round(variation_deg(Position(spot.latitude_deg, spot.longitude_deg), DAY))
    declination_deg = 0 if true_up else model_deg + chance.randint(-2, 2)
    north = "true" if true_up else f"{abs(declination_deg)}{'EW'[declination_deg < 0]}"
    line = f"station {spot.word} {112 + 0.4 * len(made.spots):.2f}{where} {{decl {north}}}"
    line += made.perhaps(0.9, *(f"{{class {one}}}" for one in ("T", "L", "H", "VL", "VH")))
    line += f" {{elev {chance.randint(1, 12) * 100}ft}}" + made.perhaps(0.6, "{dme}", "{dme {DL}}")
    made.lines.append(line + made.perhaps(0.5, f'{{name "Shoal {spot.word}"}}'))
    return replace(spot, declination_deg=float(declination_deg))


def _link(made: _Flight) -> None:
    """The ways between the spots: airways, direct legs with what the chart says of them, and bare ones."""
    chance, spots, place = made.chance, made.spots, 0
    made.route = [spots[0].word]
    while place + 1 < len(spots):
        chain = spots[place : place + 3]
        if [one.kind for one in chain] != ["station", "fix", "station"]:
            chain = chain[:2]
        ends = {one.kind for one in chain}
        kind = chance.choice(("airway", "airway", "direct", "bare"))
        if kind == "airway" and ends <= {"station", "fix"}:
            made.lines.append(f"airway V{80 + place} {_chain(made, chain, direct=False)}")
            made.route.append(f"V{80 + place}")
        else:
            chain = chain[:2]
            if (kind != "bare" or made.charted) and ends <= {"station", "fix", "airport"}:
                made.lines.append(f"direct {_chain(made, chain, direct=True)}")
            if chance.random() < 0.2:
                made.route.append("DCT")
        made.route.append(chain[-1].word)
        place += len(chain) - 1


def _chain(made: _Flight, flown: list[Spot], *, direct: bool) -> str:
    """An airway's or a direct leg's points, radials, distances and options, written in either direction."""
    chance = made.chance
    backwards = chance.random() < 0.3
    spots = flown[::-1] if backwards else flown
    said = spots[0].word
    for number, (start, end) in enumerate(pairwise(spots)):
        guiding = [one for one in (start, end) if one.kind == "station"]
        course_deg, away_nm = start.to(end)
        leaving = f"{{{start.radial(end)}}} " if start in guiding else ""
        arriving = f"{{{end.radial(start)}}} " if end in guiding else ""
        said += f" {leaving}- {arriving}{end.word} {away_nm:.1f}nm"
        base_ft = made.altitude_ft + chance.choice((-1000, -500, -500, 500))
        if direct:
            said += made.perhaps(0.6, f'{{min {base_ft} {{"own survey"}}}}')
        if not direct or chance.random() < 0.2:
            # Some have another MEA the other way, as the chart prints it of climbing ground.
            back = f"/{base_ft + 300}" if backwards and number == 0 else ""
            said += made.perhaps(0.8, f"{{mea {base_ft}{back}}}") + made.perhaps(0.4, f"{{moca {base_ft - 500}}}")
            said += made.perhaps(0.2, "{maa 6000}", "{maa 17500}")
        first, last = (end, start) if backwards else (start, end)
        said += made.perhaps(0.2, f"{{mca {base_ft + 700} {first.word} to {last.word}}}")
        if not guiding:
            off_deg = chance.choice((0.0, 12.0, 180.0))
            said += made.perhaps(0.3, f"{{course {int(course_deg + off_deg) % 360 or 360:03d}T}}") if direct else ""
            said += made.perhaps(0.2, *(f"{{on {one.word} {one.radial(end)}}}" for one in made.stations[:1]))
        elif not number and (len(guiding) == 2 or len(spots) == 3):
            said += made.perhaps(0.4, f"{{cop {away_nm * chance.uniform(0.3, 0.7):.1f} {guiding[0].word}}}")
            said += made.perhaps(0.2, "{turn}") if len(spots) == 3 else made.perhaps(0.2, "{gap}", "{gap {5nm}}")
    return said


def _mark_unusable(made: _Flight) -> None:
    """A sector of a station around the radial that is flown away from it."""
    chance = made.chance
    for start, end in pairwise(made.spots):
        if start.kind != "station" or chance.random() > 0.15:
            continue
        radial_deg = int(start.radial(end))
        sector = f"{(radial_deg - 9) % 360 or 360:03d}-{(radial_deg + 9) % 360 or 360:03d}"
        limits = made.perhaps(0.4, "{beyond 5nm}") + made.perhaps(0.4, f"{{below {made.altitude_ft + 2000}ft}}")
        number = next(index for index, line in enumerate(made.lines) if line.startswith(f"station {start.word} "))
        made.lines[number] += f" {{unusable {sector}{limits}}}"


def _plan(made: _Flight) -> None:
    """What is said of the flight itself: when, how high, in what, in which wind, with what fuel."""
    chance, altitude_ft = made.chance, made.altitude_ft
    station = made.stations[made.charted == 1.0].word
    made.say(0.3, 'flight "Round the shoals"')
    made.say(1.0, f"date {DAY}")
    made.say(0.8, "off 15:10Z", "off 13:40 America/Sao_Paulo", "off 23:10Z")
    made.say(1.0, f"altitude {altitude_ft}", f"altitude {altitude_ft}ft", f"altitude FL{altitude_ft // 100:03d}")
    by_file = chance.random() < 0.5
    made.say(float(by_file), "aircraft trainer.toml")
    made.say(0.3 if by_file else 1.0, f"tas {chance.randint(80, 160)}kt")
    burns = by_file or chance.random() < 0.9
    made.say(0.3 if by_file else float(burns), f"burn {chance.randint(60, 120) / 10}gph")
    _winds(made)
    made.say(0.25, "notices briefing.txt")
    made.say(0.015, "terrain terrain")  # slow to look at
    made.say(0.2, "accuracy icao", "accuracy 3")
    made.say(0.4, "rules ifr", "rules vfr {night}", "rules vfr {day}")
    made.say(0.15, "levels icao", "levels nz")
    made.say(0.5, "equipment vor 2 {dme 1}", "equipment {vor 2} dme 1")
    made.say(0.8, f"fuel {chance.randint(12, 50)}gal")
    made.say(0.5, "taxi 1.5gal", "taxi 1gal {8min}", "taxi 8min")
    made.say(0.3 * burns, "reserve 50min")
    made.say(0.3 * burns, "contingency 5%")
    made.say(0.3, "extra 2gal")
    made.say(0.2, "variation 12W", "variation 3E")
    made.say(0.4, "altimeter 1002hPa", "altimeter 30.12inHg")
    made.say(0.3, "temperature +25C", "temperature -5C")
    made.say(0.1, "ceiling 9500")
    made.say(0.3, "pattern 1500ft", "pattern 1900ft")
    if chance.random() < 0.4:
        latitude, longitude = made.spots[-1].beyond(chance.uniform(0.0, 360.0), 18.0)
        made.lines.append(f"airport XALT {latitude} {longitude} {{elev 200ft}}")
        how = ["", f" {{at {altitude_ft + 1000}}}"]
        if made.charted:
            made.lines.append(f"direct {made.spots[-1].word} - XALT 18nm {{min {altitude_ft - 500}}}")
        else:
            how += [f" {{from {station}}}", *(f" {{from {station} {{via {one.word}}}}}" for one in made.stations[1:])]
        made.lines.append(f"alternate XALT{chance.choice(how)}")
        _second_alternate(made, how)
    made.say(
        0.3, f"hold {station} 4min", f"hold {station} until {altitude_ft + 1000}ft" if by_file else "hold QAB 4min"
    )
    part = made.perhaps(0.6, f"{{at {station}}}", f"{{on {made.spots[0].word} {station}}}")
    made.say(0.3, f'accept {chance.choice(_ACCEPTED)}{part} "seen and taken"')
    made.say(0.2, "vor-check 2026-07-04 XAA {ground} +2", "vor-check 2026-07-04 XAA {dual} 3")
    made.say(0.2, 'radio XAA "Tower" 118.700')
    made.say(0.2, 'note "close the flight plan by radio"')
    made.say(0.1, f"unavailable {station}")


def _second_alternate(made: _Flight, how: list[str]) -> None:
    """Another alternate beside the first, drawn by itself, so that the other flights stay what they are."""
    chance = Random(made.spots[-1].written)
    if chance.random() < 0.4:
        latitude, longitude = made.spots[-1].beyond(chance.uniform(0.0, 360.0), 25.0)
        made.lines.append(f"airport XBLT {latitude} {longitude} {{elev 500ft}}")
        if made.charted:
            made.lines.append(f"direct {made.spots[-1].word} - XBLT 25nm {{min {made.altitude_ft - 500}}}")
        made.lines.append(f"alternate XBLT{chance.choice(how)}")


def _winds(made: _Flight) -> None:
    """The winds as stated or by a bulletin, or none."""
    chance = made.chance

    def blows() -> str:
        north = chance.choice(("", "", "M")) if not made.charted else ""
        return f"{chance.randint(1, 360):03d}{north}/{chance.randint(2, 45)}"

    by = chance.random()
    if by < 0.7:
        levels = (
            f"2000 {blows()}",
            f"2000 {blows()} {{9000 {blows()}}}",
            f"2000 {blows()} {{+12C}} 9000 {blows()} {{-1C}}",
        )
        made.say(1.0, *(f"wind {one}" for one in ("calm", blows(), *levels)))
        made.say(0.2 * (not made.charted), f"wind at {made.stations[-1].word} {blows()}")
    elif by < 0.9 and not made.charted:
        made.lines.append("winds winds.txt")


def _change_on_the_way(made: _Flight) -> None:
    """What airports inside the route are for, and where level and speed change."""
    chance = made.chance
    for spot in made.spots[1:]:
        if spot.word not in made.route:
            continue
        index = made.route.index(spot.word)
        if spot.kind == "airport":
            if index < len(made.route) - 1:
                made.route[index] += chance.choice((" over", " land", " land {45min}", " land {20min} {fuel 30gal}"))
            else:
                made.route[index] += made.perhaps(0.1, "{/A040}").strip()
        elif chance.random() < 0.2:
            level = (made.altitude_ft + chance.choice((-1000, 1000, 2000))) // 100
            made.route[index] += f"{{/{chance.choice(('', 'N0120'))}A{level:03d}}}"
        elif spot.kind == "station" and chance.random() < 0.1:
            made.route[index] += "{:vor}"
