"""A second reading of the account of fuel and its rules, by the JSON's times and the route file alone.

14 CFR 91.151: fuel to the first landing and beyond it 30 minutes by day, 45 by night; 91.167: to the landing, on to the
alternate and then 45 minutes, "at normal cruising speed". What is on board is what was there less what was burnt. Each
landing asks for the reserve of its own light: at airports of the route as the JSON tells it, at alternates by astral.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime, timedelta

from astral import Observer
from astral.sun import elevation
from helpers.flown import Json
from helpers.made import Made
from helpers.second_way import Way, lands, ways

SAME_GAL = 1e-6
PRINTED_GAL = 0.5
"""What the figures of a sheet, each rounded up by 0.1 gal, may add to what is asked for."""

TABLE = {"climb": 11.0, "cruise": 8.5, "descent": 6.5, "height to lose": 6.5, "hold": 8.5}
"""Gallons an hour of the grammar's aircraft; in a climb in the hold it climbs."""

IN_GAL = {"gal": 1.0, "gph": 1.0, "L/h": 0.26417205236}


class Stated:
    """What the file states of fuel, and the rule's reserve."""

    def __init__(self, way: Way) -> None:
        self.has_aircraft = bool(way.statements["aircraft"])
        self.burn = self.amount(way, "burn")
        self.on_board = self.amount(way, "fuel")
        taxi = self.amount(way, "taxi")
        self.taxi = taxi if taxi is not None else 1.0 if self.has_aircraft else 0.0
        self.extra = self.amount(way, "extra") or 0.0
        contingency = way.statements["contingency"]
        self.share = float(contingency[0].rstrip("%")) / 100.0 if contingency else 0.0
        reserve, rules = way.statements["reserve"], way.statements["rules"]
        self.by_rules_min = 45.0 if rules in (["ifr"], ["vfr night"]) else 30.0 if rules == ["vfr day"] else None
        self.stated_min = float(reserve[0].removesuffix("min")) if reserve else None
        roles = ("landing", "destination")
        self.nights = {one["leg"]: one["night"] for one in way.flight["airports"] if one["role"] in roles}

    def planned_min(self, night: bool | None) -> float:
        """The reserve of a landing, as stated or by the rules of flight where that is more.

        What is not known counts as night where none is stated.
        """
        own_min = self.stated_min if self.stated_min is not None else self.by_rules_min
        return max(own_min if own_min is not None else 30.0 if night is False else 45.0, self.rule_min(night))

    def rule_min(self, night: bool | None) -> float:
        """What the rules ask there whatever is stated; only what is known does."""
        return max(self.by_rules_min or 30.0, 45.0 if night else 30.0)

    def asked(self, night: bool | None) -> float | None:
        """The fuel that must be left at a landing."""
        return self.in_fuel(self.planned_min(night))

    def in_fuel(self, minutes: float) -> float | None:
        """Gallons burnt in so many minutes of cruise."""
        return None if self.cruise_burn is None else minutes / 60.0 * self.cruise_burn

    def night(self, leg: Json) -> bool | None:
        """Whether the route lands by night at a leg's end."""
        found: bool | None = self.nights.get(leg["number"])
        return found if leg["to"]["kind"] == "airport" else sun_is_down(leg["to"], clock(leg["eta"]))

    def kept(self, leg: Json) -> float | None:
        """The reserve that is planned at a landing of the route."""
        return self.in_fuel(self.planned_min(self.night(leg)))

    def kept_beyond(self, alternate: Json, passage: Json) -> float | None:
        """The reserve that is planned at an alternate."""
        return self.in_fuel(self.planned_min(lands_by_night(alternate, passage)))

    @staticmethod
    def amount(way: Way, keyword: str) -> float | None:
        """Gallons, or gallons an hour, of a statement."""
        found = re.match(r"([\d.]+)(gal|gph|L/h)", " ".join(way.statements[keyword]))
        return float(found[1]) * IN_GAL[found[2]] if found else None

    @property
    def cruise_burn(self) -> float | None:
        """Gallons an hour in cruise."""
        return self.burn if self.burn is not None else TABLE["cruise"] if self.has_aircraft else None

    def least_left(self, way: Way, leg: Json) -> float | None:
        """What must be left at a leg's end: what is burnt up to the next fuelling or the end, and what is kept there.

        Not known where the burn of one leg ahead is not, or a share is wanted of a trip with such a leg.
        """
        fuel = way.flight["fuel"]
        filling = next(one for one in fillings(way.legs) if leg in one)
        last, ahead = filling[-1] is way.legs[-1], filling[filling.index(leg) + 1 :]
        used = added(*(one["fuel_used_gal"] for one in filling))
        contingency = self.share_of(used) if way.alternate is None else way.alternate["fuel"]["contingency_gal"]
        alternate = fuel["alternate_gal"] if last and way.alternate is None else 0.0
        account = fuel if last else {**fuel, "reserve_gal": self.kept(filling[-1]), "diversion": None}
        reserve = account["reserve_gal"] if way.alternate is None else way.alternate["fuel"]["reserve_gal"]
        kept = added(reserve, self.extra, contingency, alternate)
        needed = added(kept, *(one["fuel_used_gal"] for one in ahead))
        turned = account["diversion"]
        if way.alternate is None and turned is not None:
            # As far as the point is passed for the last time, the diversion from there must be in reach.
            at = max(one["number"] for one in filling if one["to"]["ident"] == turned["from"])
            burnt = (one["fuel_used_gal"] for one in ahead if one["number"] <= at)
            kept = added(turned["alternate_gal"], turned["contingency_gal"], turned["reserve_gal"], self.extra, *burnt)
            if leg["number"] <= at:
                needed = None if None in (kept, needed) else max(kept or 0.0, needed or 0.0)
        return needed

    def share_of(self, used: float | None) -> float | None:
        """The contingency of what is burnt: nothing where none is stated."""
        return 0.0 if not self.share else None if used is None else used * self.share

    def burn_of(self, leg: Json) -> float | None:
        """Gallons an hour of a leg; None where level flight is part of a climb or descent."""
        climbs = leg["phase"] == "hold" and leg["start_altitude_ft"] != leg["end_altitude_ft"]
        phase = "climb" if climbs else leg["phase"]
        if phase in ("cruise", "hold"):
            return self.cruise_burn
        return None if "level_changes" in leg else TABLE[phase]


def fuel_adds_up(made: Made) -> Iterator[str]:
    """What each leg burns, what is left after it, and what must be left, from times and what the file states."""
    for way in ways(made):
        stated, where = Stated(way), "" if way.alternate is None else f"to {way.alternate['to']} "
        left = begun_with(way, stated)
        for leg in way.legs:
            burn, used, time_min = stated.burn_of(leg), leg["fuel_used_gal"], leg["time_min"]
            if burn is not None and time_min is not None and not same(used, burn * time_min / 60.0):
                yield f"{where}leg {leg['number']} burns {used} in {leg['time_min']} min at {burn}"
            left = less(left, used)
            if not same(left, leg["fuel_remaining_gal"]):
                yield f"{where}leg {leg['number']} leaves {leg['fuel_remaining_gal']}, by the numbers {left}"
            if lands(leg) and leg["fuel_taken_gal"] is not None:
                left = leg["fuel_taken_gal"]
        least = [stated.least_left(way, leg) for leg in way.legs]
        yield from (
            f"{where}leg {leg['number']} needs {leg['fuel_least_gal']} left, by the numbers {amount}"
            for leg, amount in zip(way.legs, least, strict=True)
            if not same(leg["fuel_least_gal"], amount)
        )
    yield from the_account_adds_up(made)


def clock(text: str | None) -> datetime | None:
    """A moment of the JSON."""
    return None if text is None else datetime.fromisoformat(text)


def sun_is_down(place: Json, moment: datetime | None) -> bool | None:
    """Whether the sun's centre is more than 6 degrees below the horizon, by astral; None where that is not known."""
    if moment is None or place["latitude_deg"] is None:
        return None
    return elevation(Observer(place["latitude_deg"], place["longitude_deg"]), moment, with_refraction=False) < -6.0


def lands_by_night(alternate: Json, passage: Json) -> bool | None:
    """Whether the way to an alternate that is begun at a passage ends by night."""
    begun, flown_min = clock(passage["at"]), alternate["time_min"]
    landing = None if begun is None or flown_min is None else begun + timedelta(minutes=flown_min)
    return sun_is_down(alternate["legs"][-1]["to"], landing)


def begun_with(way: Way, stated: Stated) -> float | None:
    """What is on board where a way begins."""
    if way.alternate is not None:
        passages = way.alternate["passages"]
        found: float | None = passages[-1]["fuel_gal"] if passages else way.alternate["fuel"]["on_board_gal"]
        return found
    return None if stated.on_board is None else stated.on_board - stated.taxi


def same(one: float | None, other: float | None) -> bool:
    """Whether two amounts are equal, or both unknown."""
    return (one is None) == (other is None) and (one is None or other is None or abs(one - other) < SAME_GAL)


def added(*amounts: float | None) -> float | None:
    """The sum; None where one is not known."""
    return None if None in amounts else sum(amount for amount in amounts if amount is not None)


def less(one: float | None, other: float | None) -> float | None:
    """The difference; None where one is not known."""
    return added(one, None if other is None else -other)


def is_below(one: float | None, other: float | None) -> bool:
    """Whether an amount is known to be below another."""
    left = less(one, other)
    return left is not None and left < -SAME_GAL


def fillings(legs: list[Json]) -> list[list[Json]]:
    """The legs flown on each filling of the tanks."""
    found: list[list[Json]] = [[]]
    for leg in legs:
        found[-1].append(leg)
        if lands(leg) and leg["fuel_taken_gal"] is not None and leg is not legs[-1]:
            found.append([])
    return found


def the_account_adds_up(made: Made) -> Iterator[str]:
    """The account of the whole flight and of each way to an alternate."""
    route, *to_alternates = ways(made)
    stated = Stated(route)
    flight, fuel = made.flight, made.flight["fuel"]
    burn = stated.cruise_burn
    last = fillings(flight["legs"])[-1]
    used = added(*(leg["fuel_used_gal"] for leg in last))
    board = begun_with(route, stated)
    for leg in flight["legs"]:
        board = leg["fuel_taken_gal"] if lands(leg) and leg["fuel_taken_gal"] is not None else board
    behind = [
        way.alternate for way in to_alternates if way.alternate and way.alternate["from"] == last[-1]["to"]["ident"]
    ]
    burnt = [one["fuel_gal"] for one in behind]
    alternate = None if None in burnt else max(burnt, default=0.0)
    # The longer of the reserve at the destination and those at the alternates from there.
    beyond = [stated.kept_beyond(one, one["passages"][-1]) for one in behind]
    kept = [one for one in (stated.kept(last[-1]), *beyond) if one is not None]
    reserve = max(kept, default=None)
    contingency = stated.share_of(used)
    required = added(used, alternate, contingency, reserve, stated.extra)
    for needed in (*diversions(to_alternates, last, stated), *landings(last, stated)):
        required = None if None in (needed, required) else max(needed or 0.0, required or 0.0)
    expected = {
        "on_board_gal": board,
        "taxi_gal": stated.taxi,
        "used_gal": used,
        "reserve_gal": reserve,
        "alternate_gal": alternate,
        "contingency_gal": contingency,
        "extra_gal": stated.extra,
        "required_gal": required,
        "margin_gal": less(board, required),
        "remaining_gal": flight["legs"][-1]["fuel_remaining_gal"],
    }
    for key, amount in expected.items():
        if not same(fuel[key], amount):
            yield f"{key} is {fuel[key]}, by the numbers {amount}"
    flown_min, over = added(*(leg["time_min"] for leg in last)), less(board, used)
    if flown_min is not None and over is not None and over >= 0.0 and burn:
        endurance_min = flown_min + over / burn * 60.0
        if not same(fuel["endurance_min"], endurance_min):
            yield f"endurance is {fuel['endurance_min']} min, by the numbers {endurance_min}"


def landings(filling: list[Json], stated: Stated) -> Iterator[float | None]:
    """What must be on board for each landing on a filling before its last."""
    for number, leg in enumerate(filling[:-1], 1):
        if lands(leg):
            used = added(*(one["fuel_used_gal"] for one in filling[:number]))
            yield added(used, stated.share_of(used), stated.kept(leg), stated.extra)


def diversions(to_alternates: list[Way], last: list[Json], stated: Stated) -> Iterator[float | None]:
    """What must be on board for each way to an alternate that is flown from a point on the last filling."""
    first, end = last[0]["number"], last[-1]["number"]
    for alternate in (way.alternate for way in to_alternates if way.alternate):
        for passage in alternate["passages"]:
            if first - 1 <= (passage["leg"] or 0) < end:
                used = added(0.0, *(leg["fuel_used_gal"] for leg in last if leg["number"] <= (passage["leg"] or 0)))
                reserve = stated.kept_beyond(alternate, passage)
                yield added(used, alternate["fuel_gal"], stated.share_of(used), reserve, stated.extra)


def fuel_findings_agree(made: Made) -> Iterator[str]:
    """Reserve, alternates' reserves, contingency and dry tanks: told where they are missed, and nowhere else."""
    route, *to_alternates = ways(made)
    stated = Stated(route)
    for filling in fillings(route.legs):
        dry = any(is_below(leg["fuel_remaining_gal"], 0.0) for leg in filling)
        if dry != any(("fuel-below-zero", leg["number"]) in route.told for leg in filling):
            yield f"from leg {filling[0]['number']} on fuel-below-zero is {'not ' * dry}told"
        for leg in filling:
            left, told = leg["fuel_remaining_gal"], ("reserve", leg["number"]) in route.told
            least = stated.asked(stated.night(leg)) if lands(leg) or leg is route.legs[-1] else None
            short = is_below(left, least)
            if short != told and not (short and dry):
                yield f"leg {leg['number']}: reserve is {'not ' * short}told, {left} of {least}"
    for way in to_alternates:
        yield from of_alternate(route, way.alternate or {}, stated)
    yield from of_statements(route, stated)


def of_alternate(route: Way, alternate: Json, stated: Stated) -> Iterator[str]:
    """The reserve after an alternate, told at the leg of the route from whose end that is flown.

    Where it is gone already, or tanks run dry on the way there, that is told instead.
    """
    for passage in alternate["passages"]:
        left = less(passage["fuel_gal"], alternate["fuel_gal"])
        least = stated.asked(lands_by_night(alternate, passage))
        told = any(
            (one["rule"], one["leg"]) == ("alternate-reserve", passage["leg"]) and alternate["to"] in one["message"]
            for one in route.findings
        )
        gone = is_below(left, 0.0) or "fuel-below-zero" in route.rules or ("reserve", passage["leg"]) in route.told
        if is_below(left, least) != told and (told or not gone):
            yield f"alternate {alternate['to']} leaves {left} of {least}, told {told}"


def of_statements(route: Way, stated: Stated) -> Iterator[str]:
    """The rules that the statements and the account alone decide."""
    flight = route.flight
    fuel, by_ifr = flight["fuel"], route.by_ifr
    night = any(stated.nights.values())
    own_min = stated.stated_min if stated.stated_min is not None else stated.by_rules_min
    landings = [leg for leg in route.legs if lands(leg) or leg is route.legs[-1]]
    served = {one["leg"] for alternate in flight["alternates"] for one in alternate["passages"]}
    drops = [is_below(leg["fuel_taken_gal"], less(leg["fuel_remaining_gal"], 0.2)) for leg in route.legs if lands(leg)]
    decided = {
        "no-alternate": by_ifr and any(leg["number"] not in served for leg in landings),
        "no-fuel": stated.on_board is None or stated.cruise_burn is None,
        "reserve-under-rule": stated.stated_min is not None and stated.stated_min < stated.rule_min(night),
        "dark-arrival": not by_ifr and night and own_min is not None and own_min < 45.0,
        "fuel-drops": any(drops),
    }
    if route.ends_away:
        del decided["dark-arrival"]
    for rule, holds in decided.items():
        if holds != (rule in route.rules):
            yield f"{rule} is {'not ' * holds}told"
    lost = route.rules & {"reserve", "fuel-below-zero", "alternate-reserve", "contingency-short"}
    if is_below(fuel["margin_gal"], 0.0) and not lost:
        yield f"a margin of {fuel['margin_gal']} is not told"
    if "contingency-short" in lost and len(fillings(route.legs)) == 1 and fuel["margin_gal"] > PRINTED_GAL:
        yield f"contingency-short is told with a margin of {fuel['margin_gal']}"
