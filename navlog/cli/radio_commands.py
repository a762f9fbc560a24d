"""The computations of stations, radials and the compass: `navlog fix`, `position`, `intercept`, `holding` and more.

Options and a call each.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any

import click

from navlog.cli.options import (
    ALTITUDE,
    ANGLE,
    BURN,
    DAY,
    DECLINATION,
    DISTANCE,
    IDENT,
    SIZE,
    SPEED,
    TEXT,
    WIND,
    Computation,
    Value,
)
from navlog.cli.stations import GivenStation, station_options
from navlog.nav.accuracy import FAA, Accuracy, read_accuracy
from navlog.nav.angles import read_position
from navlog.nav.units import read_stopwatch_min

if TYPE_CHECKING:
    from navlog.computations.answer import Solution
    from navlog.nav.chart import Position
    from navlog.nav.units import Amount

_POSITION = Value("position", read_position)
_ACCURACY = Value("accuracy", read_accuracy)
_accuracy_option = click.option(
    "--accuracy", type=_ACCURACY, help="A standard of errors, faa or icao, or degrees of your own."
)


def _read_deflection(text: str) -> float:
    from navlog.computations.needle import read_deflection_deg

    return read_deflection_deg(text)


@click.command(
    "fix",
    cls=Computation,
    epilog="Example: navlog fix QHB 160 x QEL 090 --from examples/round_robin.route",
)
@click.argument("words", nargs=-1, required=True, metavar="FIX")
@station_options
@click.option("--bearing-error", type=SIZE, help="The error of each bearing, degrees [1, or that of --accuracy].")
@_accuracy_option
@click.option("--altitude", type=ALTITUDE, help="Your altitude, for what the DME reads.")
def fix(
    *,
    words: tuple[str, ...],
    given: GivenStation,
    bearing_error: float | None,
    accuracy: Accuracy | None,
    altitude: float | None,
) -> tuple[Solution, ...]:
    """Place a FIX: `QHB 160 x QEL 090`, `QEL 180 12nm` over the ground, or `QEL 180 dme 12 at 5500`.

    Stations come from --station, as a route file writes them, or from a route file with --from; those that
    neither gives come from the catalogue.
    """
    from navlog.computations.fixing import answer, solve
    from navlog.request.stationlist import read_fix

    definition = read_fix(" ".join(words))
    stations = given.stations(tuple(name.ident for name, _ in definition.radials))
    if bearing_error is None:
        bearing_error = 1.0 if accuracy is None else accuracy.crossing_deg
    found = solve(definition, stations, bearing_error_deg=bearing_error, altitude_ft=altitude, accuracy=accuracy or FAA)
    return (answer(found),)


@click.command(
    "position",
    cls=Computation,
    epilog='Example: navlog position "N46 05.00 W039 02.00" --from examples/round_robin.route --altitude 5500ft',
)
@click.argument("position", type=_POSITION, required=False)
@station_options
@click.option("--altitude", type=ALTITUDE, help="Your altitude, for what each DME reads.")
@_accuracy_option
@click.option(
    "--centred",
    type=(ANGLE, click.Choice(["TO", "FROM"])),
    help="Instead of a position: the course and flag with the needle centred, such as 035 TO.",
)
def position(
    *,
    position: Position | None,
    given: GivenStation,
    altitude: float | None,
    accuracy: Accuracy | None,
    centred: tuple[float, str] | None,
) -> tuple[Solution, ...]:
    """Give the radial, course TO and distance of each station from POSITION, the nearest first.

    Stations are given with --station or --from, or named with --station and taken from the catalogue. Or say
    what radial you are on: --centred 035 TO is the 215 radial.
    """
    from navlog.computations.position import answers, needle_answer, radial_on_needle, solve
    from navlog.nav.guidance import Flag

    if centred is None and position is not None:
        return answers(solve(position, given.stations(), altitude_ft=altitude, accuracy=accuracy))
    if centred is None or position is not None:
        raise click.UsageError("Give a POSITION, or --centred with a course and TO or FROM.")
    if given.typed or given.route_file is not None or altitude is not None:
        raise click.UsageError("--centred needs no stations: leave out --station, --from and --altitude.")
    return (needle_answer(radial_on_needle(centred[0], Flag(centred[1]), accuracy)),)


@click.command(
    "intercept",
    cls=Computation,
    epilog="Example: navlog intercept --present 215 --radial 230 --inbound --heading 310 --distance 20nm --gs 110kt",
)
@click.option("--present", type=ANGLE, help="The radial you are on.")
@click.option("--radial", type=ANGLE, help="The radial to meet.")
@click.option("--course", type=ANGLE, help="Instead of the radial: the course to fly on it.")
@click.option("--inbound", is_flag=True, help="You will fly the radial to the station.")
@click.option("--outbound", is_flag=True, help="You will fly it from the station.")
@click.option("--heading", type=ANGLE, help="Your heading now, magnetic: which way to turn.")
@click.option("--angle", type=SIZE, help="Intercept angle; else twice the degrees off, from 20 to 45.")
@click.option("--distance", type=DISTANCE, help="Distance from the station now.")
@click.option("--gs", type=SPEED, help="Groundspeed: how long it takes.")
@click.option("--selector", type=ANGLE, help="What the course selector is set to now.")
@click.option(
    "--deflection",
    type=Value("deflection", _read_deflection),
    help="A needle's deflection, 2dots or 4deg: how far off.",
)
@click.option("--off", type=DISTANCE, help="A distance off the radial: what the needle shows.")
def intercept(**given: Any) -> tuple[Solution, ...]:
    """Give the turn, heading, distance and time to meet a radial, and what the needle shows.

    With --deflection or --off, and --distance, turn dots and degrees into miles off the radial and back.
    """
    if given["deflection"] is not None or given["off"] is not None:
        return _needle(given["deflection"], given["off"], given["distance"])
    if given["present"] is None or given["inbound"] == given["outbound"]:
        raise click.UsageError("Give --present and --inbound or --outbound.")
    if (given["radial"] is None) == (given["course"] is None):
        raise click.UsageError("Give --radial or --course.")
    from navlog.computations.intercept import Way, answer, radial_of_course, solve

    way = Way.INBOUND if given["inbound"] else Way.OUTBOUND
    radial_deg = given["radial"]
    if radial_deg is None:
        radial_deg = radial_of_course(given["course"], way)
    found = solve(
        present_radial_deg=given["present"],
        radial_deg=radial_deg,
        way=way,
        angle_deg=given["angle"],
        heading_deg=given["heading"],
        distance_nm=given["distance"],
        groundspeed_kt=given["gs"],
        selector_deg=given["selector"],
    )
    return (answer(found),)


def _needle(deflection_deg: float | None, off_nm: float | None, distance_nm: float | None) -> tuple[Solution, ...]:
    from navlog.computations.needle import answer, from_deflection, from_offset

    if distance_nm is not None:
        if deflection_deg is not None and off_nm is None:
            return (answer(from_deflection(deflection_deg, distance_nm)),)
        if off_nm is not None and deflection_deg is None:
            return (answer(from_offset(off_nm, distance_nm)),)
    raise click.UsageError("Give --deflection or --off, and --distance.")


@click.command(
    "station-time",
    cls=Computation,
    epilog="Example: navlog station-time --change 10 --time 75s --speed 120kt --burn 8.5gph",
)
@click.option("--change", type=SIZE, help="The change of bearing in degrees, the station abeam.")
@click.option("--radials", type=(ANGLE, ANGLE), help="Instead: the two radials or bearings, such as 360 350.")
@click.option("--relative", type=(ANGLE, ANGLE), help="Instead: two relative bearings, such as 015 030.")
@click.option(
    "--time",
    "elapsed",
    type=Value("time", read_stopwatch_min),
    required=True,
    help="Time between them: 75s, 2min30s, 7min.",
)
@click.option("--speed", type=SPEED, help="TAS or groundspeed, for the distance.")
@click.option("--burn", type=BURN, help="Fuel burn, for the fuel to the station.")
def station_time(
    *,
    change: float | None,
    radials: tuple[float, float] | None,
    relative: tuple[float, float] | None,
    elapsed: float,
    speed: float | None,
    burn: Amount | None,
) -> tuple[Solution, ...]:
    """Estimate time, distance and fuel to a station on a steady heading."""
    from navlog.computations.station_time import answer, by_change, by_radials, by_relative_bearings

    if [change, radials, relative].count(None) != 2:
        raise click.UsageError("Give one of --change, --radials and --relative.")
    if change is not None:
        found = by_change(change_deg=change, elapsed_min=elapsed, speed_kt=speed, burn=burn)
    else:
        solve = by_radials if relative is None else by_relative_bearings
        first, second = radials or relative or (0.0, 0.0)
        found = solve(first_deg=first, second_deg=second, elapsed_min=elapsed, speed_kt=speed, burn=burn)
    return (answer(found),)


@click.command(
    "holding",
    cls=Computation,
    epilog="Example: navlog holding --inbound 360 --heading 070 --altitude 5000ft --tas 110kt --wind 240M/20",
)
@click.option("--inbound", type=ANGLE, required=True, help="Inbound course, magnetic.")
@click.option("--heading", type=ANGLE, required=True, help="Heading on reaching the fix, magnetic.")
@click.option("--altitude", type=ALTITUDE, required=True, help="Altitude above mean sea level.")
@click.option("--turns", type=click.Choice(["right", "left"]), default="right", show_default=True)
@click.option("--rules", type=click.Choice(["us", "icao"]), default="us", show_default=True, help="Speeds and timing.")
@click.option("--tas", type=SPEED, help="True airspeed, with --wind: the corrected headings.")
@click.option("--wind", type=WIND, help="Wind from magnetic north, 240M/20, or true, 240/20; calm.")
@click.option("--variation", type=DECLINATION, help="Variation, for a true wind.")
def holding(**given: Any) -> tuple[Solution, ...]:
    """Give the entry to a holding pattern, how it is timed and how fast it may be flown."""
    from navlog.computations.holding import Rules, Turns, answer, solve

    found = solve(
        inbound_course_deg=given["inbound"],
        heading_deg=given["heading"],
        altitude_ft=given["altitude"],
        turns=Turns(given["turns"]),
        rules=Rules(given["rules"]),
        tas_kt=given["tas"],
        wind=given["wind"],
        variation_deg=given["variation"],
    )
    return (answer(found),)


@click.command(
    "vor-check",
    cls=Computation,
    epilog="Example: navlog vor-check ground --expected 095 --indicated 098 --place 'XHAR run-up area'",
)
@click.argument("kind", type=click.Choice(["vot", "repair-station", "ground", "airborne", "airway", "dual"]))
@click.option("--indicated", type=ANGLE, required=True, help="The bearing read with the needle centred.")
@click.option(
    "--expected", type=ANGLE, help="The published radial, the certified bearing, or the other receiver's bearing."
)
@click.option("--flag", type=click.Choice(["TO", "FROM"]), help="For a VOT: the flag that shows.")
@click.option("--place", type=TEXT, metavar="TEXT", help="Where, for the record.")
@click.option("--date", "day", type=DAY, help="The day of the check (default: today).")
def vor_check(
    *,
    kind: str,
    indicated: float,
    expected: float | None,
    flag: str | None,
    place: str | None,
    day: date | None,
) -> tuple[Solution, ...]:
    """Check a VOR receiver against the limits of 14 CFR 91.171; exit status 1 when it is not within them."""
    from navlog.computations.vor_check import answer, solve
    from navlog.nav.guidance import Flag
    from navlog.nav.receiver_check import Check

    found = solve(
        Check(kind),
        indicated_deg=indicated,
        expected_deg=expected,
        flag=None if flag is None else Flag(flag),
        place=place,
        day=day or datetime.now().astimezone().date(),
    )
    return (answer(found),)


@click.command(
    "declination",
    cls=Computation,
    epilog='Example: navlog declination "N46 12.30 W039 20.70" --date 2026-07-18 --station 15W',
)
@click.argument("position", type=_POSITION)
@click.option("--date", "day", type=DAY, help="The day (default: today in UTC).")
@click.option("--station", type=DECLINATION, help="A station's declination to compare, such as 15W.")
def declination(*, position: Position, day: date | None, station: float | None) -> tuple[Solution, ...]:
    """Give the variation at POSITION by the World Magnetic Model, its uncertainty and yearly change."""
    from navlog.computations.declination import answer, solve

    found = solve(position, day or datetime.now(UTC).date(), station_declination_deg=station)
    return (answer(found),)


@click.command("morse", cls=Computation, epilog="Example: navlog morse QHB QEL")
@click.argument("idents", nargs=-1, type=IDENT, required=True, metavar="IDENT...")
def morse(*, idents: tuple[str, ...]) -> tuple[Solution, ...]:
    """Give the Morse code of each IDENT, letters and digits; small letters count as capitals."""
    from navlog.computations.morse import answer

    return tuple(answer(ident) for ident in idents)
