"""Route lines flown through a catalogue of published data, and short readings of the log's JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from helpers.flown import Json, flights, navlog
from helpers.nasr_excerpt import DAY


@dataclass(frozen=True, slots=True)
class Flown:
    """Flies route lines on a day of the data's cycle, in calm air and at 120 kt."""

    catalogue: Path

    def text(self, route: str, *statements: str, altitude: str = "12000") -> str:
        """The route file; a statement given replaces the common one of its keyword."""
        common = (f"date {DAY}", f"altitude {altitude}", "tas 120kt", "wind calm")
        given = {statement.split()[0] for statement in statements}
        kept = [statement for statement in common if statement.split()[0] not in given]
        return "\n".join((*kept, *statements, f"route {route}")) + "\n"

    def result(self, route: str, *statements: str, altitude: str = "12000") -> Json:
        """The flight's JSON object, whatever came of it."""
        text = self.text(route, *statements, altitude=altitude)
        (found,) = flights(text, "--catalogue", str(self.catalogue))
        return found

    def __call__(self, route: str, *statements: str, altitude: str = "12000") -> Json:
        """The flight's JSON object, which must have been computed."""
        found = self.result(route, *statements, altitude=altitude)
        assert found["problems"] == [], found["problems"]
        return found

    def many(self, routes: Sequence[str], altitude: str = "12000") -> list[Json]:
        """The JSON object of each route, which must all have been computed, from one file of many flights."""
        common, _, _ = self.text("", altitude=altitude).rpartition("route")
        text = common + "".join(f'flight "{number}"\nroute {route}\n' for number, route in enumerate(routes))
        found = flights(text, "--catalogue", str(self.catalogue))
        assert [one["problems"] for one in found] == [[]] * len(routes)
        return found

    def all_of(self, routes: Sequence[str], *statements: str, altitude: str = "12000") -> list[Json]:
        """The JSON object of each route, whatever came of it, from one file of many flights."""
        common, _, _ = self.text("", *statements, altitude=altitude).rpartition("route")
        text = common + "".join(f'flight "{number}"\nroute {route}\n' for number, route in enumerate(routes))
        return flights(text, "--catalogue", str(self.catalogue))

    def problems(self, route: str, *statements: str) -> list[Json]:
        """What stands in the flight's way."""
        found: list[Json] = self.result(route, *statements)["problems"]
        return found

    def problem(self, route: str, *statements: str) -> Json:
        """The only problem of the flight."""
        (one,) = self.problems(route, *statements)
        return one

    def sheet(self, route: str, *statements: str, altitude: str = "12000") -> str:
        """The printed log."""
        text = self.text(route, *statements, altitude=altitude)
        return navlog("log", "-", "--catalogue", str(self.catalogue), typed=text).out


def points(found: Json) -> list[str]:
    """The names of the points in order; `*` for a changeover point and the like."""
    legs = found["legs"]
    return [point["ident"] or "*" for point in (legs[0]["from"], *(leg["to"] for leg in legs))]


def needle(leg: Json) -> str | None:
    """Station, radial to a tenth and flag of a leg: `GLL 258.3 FROM`; None where nothing guides."""
    guidance = leg["guidance"]
    return None if guidance is None else f"{guidance['ident']} {guidance['radial_deg']:.1f} {guidance['flag']}"


def needles(found: Json) -> list[str | None]:
    """What guides in turn, each once."""
    every = [needle(leg) for leg in found["legs"]]
    return [one for index, one in enumerate(every) if index == 0 or one != every[index - 1]]


def leg_to(found: Json, ident: str) -> Json:
    """The leg that ends at a point."""
    legs: list[Json] = found["legs"]
    (leg,) = [one for one in legs if one["to"]["ident"] == ident]
    return leg


def changeover_nm(found: Json) -> float:
    """How far the first changeover point is from where the flight begins."""
    total_nm = 0.0
    for leg in found["legs"]:
        total_nm += float(leg["distance_nm"])
        if leg["changeover"] is not None:
            return total_nm
    raise AssertionError("no changeover point")


def messages(found: Json, rule: str) -> list[str]:
    """What one rule found."""
    return [finding["message"] for finding in found["findings"] if finding["rule"] == rule]
