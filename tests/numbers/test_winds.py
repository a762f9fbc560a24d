"""Wind triangles beside vectors of forty digits, mixed winds beside the same, and a hold beside flying it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from random import Random
from typing import Any

from helpers.compared import Difference, between, check, direction_deg, line, mp, offset, random_position, there, vector

from navlog.computations import holding, windproblem
from navlog.computations.windproblem import Given
from navlog.nav import wind
from navlog.nav.atmosphere import standard_temperature_c
from navlog.nav.norths import Direction
from navlog.nav.problems import NavlogError
from navlog.nav.wind import Wind, WindColumn, WindLevel
from navlog.request.records import StatedWind

# Speeds of some hundred knots in doubles, through a root and an arcsine away from a right angle.
KNOTS = 1e-11
DEGREES = 1e-11


def random_wind(random: Random, strongest_kt: float = 60.0) -> Wind:
    return Wind(random.uniform(0, 360), random.uniform(0.1, strongest_kt))


def from_vector(one: Wind) -> Any:
    return vector(one.from_true_deg, one.speed_kt)


def of_triangles(random: Random) -> Iterator[Difference]:
    course, tas, blown = random.uniform(0, 360), random.uniform(70, 250), random_wind(random)
    found = wind.triangle(true_course_deg=course, tas_kt=tas, wind=blown)
    # |groundspeed x course + wind from| is the airspeed: a quadratic in the groundspeed.
    ahead, against = vector(course, 1.0), from_vector(blown)
    along = ahead.real * against.real + ahead.imag * against.imag
    groundspeed = -along + mp.sqrt(along**2 - abs(against) ** 2 + mp.mpf(tas) ** 2)
    heading = direction_deg(groundspeed * ahead + against)
    yield "groundspeed", float(found.groundspeed_kt - groundspeed)
    yield "heading", between(found.true_heading_deg, heading)
    yield "correction", between(found.wind_correction_deg, heading - mp.mpf(course))
    yield "headwind", float(found.headwind_kt - along)
    yield "crosswind", float(found.crosswind_kt - (against.real * ahead.imag - against.imag * ahead.real))
    turned = random.uniform(0, 360)
    air = vector(turned, tas)
    track_deg, made_good = wind.track_from_heading(true_heading_deg=turned, tas_kt=tas, wind=blown)
    yield "track", between(track_deg, direction_deg(air - against))
    yield "groundspeed on a heading", float(made_good - abs(air - against))
    ground_kt = random.uniform(40, 300)
    met = wind.wind_from_track(true_heading_deg=turned, tas_kt=tas, true_track_deg=course, groundspeed_kt=ground_kt)
    exact = air - vector(course, ground_kt)
    yield "wind found", float(abs(from_vector(met) - exact))


def test_triangles() -> None:
    knots = ("groundspeed", "headwind", "crosswind", "groundspeed on a heading", "wind found")
    degrees = ("heading", "correction", "track")
    check(of_triangles, dict.fromkeys(knots, KNOTS) | dict.fromkeys(degrees, DEGREES), times=5)


def of_mixed_winds(random: Random) -> Iterator[Difference]:
    winds = [(random_wind(random), random.uniform(0.1, 5)) for _ in range(random.randrange(1, 5))]
    exact = sum(mp.mpf(weight) * from_vector(one) for one, weight in winds) / sum(mp.mpf(weight) for _, weight in winds)
    yield "mix", float(abs(from_vector(wind.mix(winds)) - exact))
    one, other = random_wind(random), random_wind(random)
    yield "added", float(abs(from_vector(wind.added(one, other)) - from_vector(one) - from_vector(other)))
    place, height = random_position(random), random.uniform(1000, 13_000)
    columns = []
    for _ in range(5):
        heights = random.sample(range(1000, 14_000, 500), 4)
        levels = tuple(WindLevel(at, random_wind(random), random.uniform(-40, 30)) for at in heights)
        columns.append(WindColumn(levels, there(place, random.uniform(0, 360), random.uniform(5, 200))))
    found = wind.at_height(columns[0], height)
    exact, exact_c = at_height(columns[0], height)
    yield "at_height", float(abs(from_vector(found.wind) - exact))
    yield "at_height, temperature", float((found.temperature_c or 0.0) - exact_c)
    found = wind.at_place(columns, place, height)
    by_distance = sorted((line(column.position, place)[0], at_height(column, height)) for column in columns)  # type: ignore[arg-type]
    weights = [1 / mp.mpf(distance) ** 2 for distance, _ in by_distance[:3]]
    parts = [part for _, part in by_distance[:3]]
    exact = sum(weight * one for weight, (one, _) in zip(weights, parts, strict=True)) / sum(weights)
    exact_c = sum(weight * one for weight, (_, one) in zip(weights, parts, strict=True)) / sum(weights)
    yield "at_place", float(abs(from_vector(found.wind) - exact))
    yield "at_place, temperature", float((found.temperature_c or 0.0) - exact_c)


def at_height(column: WindColumn, height_ft: float) -> tuple[Any, Any]:
    """Wind vector and temperature: straight lines between levels, the temperature's beside the standard one."""
    levels = sorted(column.levels, key=lambda level: level.height_ft)
    under = [level for level in levels if level.height_ft <= height_ft] or levels[:1]
    over = [level for level in levels if level.height_ft > height_ft] or levels[-1:]
    low, high = under[-1], over[0]
    share = mp.mpf(0)
    if low.height_ft < height_ft < high.height_ft:
        share = (mp.mpf(height_ft) - low.height_ft) / (mp.mpf(high.height_ft) - low.height_ft)
    if height_ft > levels[-1].height_ft:
        low = high = levels[-1]
    low_c, high_c = (level.temperature_c - standard_temperature_c(level.height_ft) for level in (low, high))  # type: ignore[operator]
    temperature = standard_temperature_c(height_ft) + (1 - share) * low_c + share * high_c
    return (1 - share) * from_vector(low.wind) + share * from_vector(high.wind), temperature


def test_winds_mix_as_vectors() -> None:
    check(
        of_mixed_winds,
        {
            "mix": KNOTS,
            "added": KNOTS,
            "at_height": KNOTS,
            "at_height, temperature": 1e-12,
            # A column 5 NM away by two geodesics good to 1e-10 NM.
            "at_place": 1e-8,
            "at_place, temperature": 1e-8,
        },
    )


NUMBERS = ("course", "groundspeed_kt", "heading", "tas_kt", "wind_from", "wind_speed_kt")


def of_any_two_unknowns(random: Random) -> Iterator[Difference]:
    course, tas, blown = random.uniform(0, 360), random.uniform(90, 200), random_wind(random, 50.0)
    flown = wind.triangle(true_course_deg=course, tas_kt=tas, wind=blown)
    assert flown.true_heading_deg is not None
    known = {
        "course": Direction(course, magnetic=False),
        "groundspeed_kt": flown.groundspeed_kt,
        "heading": Direction(flown.true_heading_deg, magnetic=False),
        "tas_kt": tas,
        "wind_from": Direction(blown.from_true_deg, magnetic=False),
        "wind_speed_kt": blown.speed_kt,
    }
    for missing in combinations(NUMBERS, 2):
        given = Given(**{name: value for name, value in known.items() if name not in missing})  # type: ignore[arg-type]
        try:
            answers = windproblem.solve(given)
        except NavlogError:
            # Nearly parallel or nearly right-angled: another test says when none is found.
            continue
        for answer in answers:
            air = vector(answer.true_heading_deg, answer.tas_kt)
            against = vector(answer.wind_from_true_deg, answer.wind_speed_kt)
            yield (
                "air - wind - ground",
                float(abs(air - against - vector(answer.true_course_deg, answer.groundspeed_kt))),
            )


def test_every_answer_closes_its_triangle() -> None:
    # Two sides of known speed meet by an arccosine, which costs half of the digits where they nearly line up.
    check(of_any_two_unknowns, {"air - wind - ground": 1e-5})


def of_holds(random: Random) -> Iterator[Difference]:
    inbound, tas = float(random.randrange(1, 361)), random.uniform(80, 160)
    turns = random.choice(tuple(holding.Turns))
    blown = random_wind(random, 25.0)
    settings = {"inbound_course_deg": inbound, "heading_deg": random.uniform(0, 360), "altitude_ft": 5000.0}
    found = holding.solve(**settings, turns=turns, tas_kt=tas, wind=_magnetic(blown)).wind  # type: ignore[arg-type]
    assert found is not None
    assert found.outbound_min is not None
    # One minute inbound on the heading given ends at the fix: the track is the inbound course.
    drift = vector(found.inbound_heading_deg, tas) - from_vector(blown)
    yield "inbound track", between(direction_deg(drift), mp.mpf(inbound))
    yield "inbound groundspeed", float(abs(drift) - found.inbound_groundspeed_kt)
    correction = between(direction_deg(drift + from_vector(blown)), mp.mpf(inbound))
    yield "tripled", between(found.outbound_heading_deg, inbound + 180.0 - 3.0 * correction)
    out = vector(found.outbound_heading_deg, tas) - from_vector(blown)
    ahead = vector(inbound, 1.0)
    yield (
        "outbound groundspeed",
        float(-(out.real * ahead.real + out.imag * ahead.imag) - found.outbound_groundspeed_kt),
    )
    nose = Wind(inbound if random.random() < 0.5 else inbound + 180.0, blown.speed_kt)
    nosed = holding.solve(**settings, turns=turns, tas_kt=tas, wind=_magnetic(nose)).wind  # type: ignore[arg-type]
    assert nosed is not None
    yield (
        "closed in a headwind, NM",
        abs(flown_along(nosed, inbound, tas, nose, turns) + nosed.inbound_groundspeed_kt / 60),
    )
    yield (
        "closed in any wind, NM",
        abs(flown_along(found, inbound, tas, blown, turns) + found.inbound_groundspeed_kt / 60),
    )


def _magnetic(one: Wind) -> StatedWind:
    return StatedWind(one.from_true_deg, one.speed_kt, magnetic=True)


def flown_along(found: holding.HoldingWind, inbound: float, tas: float, blown: Wind, turns: holding.Turns) -> float:
    """Where the second turn ends, along the inbound course from the fix: the whole pattern in half seconds."""
    step_s, way = 0.5, 1.0 if turns is holding.Turns.RIGHT else -1.0
    heading, along = found.inbound_heading_deg, 0.0
    east, north = offset(inbound, 1.0)

    def fly(seconds: float, toward: float) -> float:
        air, against = offset(toward, tas / 3600), offset(blown.from_true_deg, blown.speed_kt / 3600)
        return seconds * ((air[0] - against[0]) * east + (air[1] - against[1]) * north)

    def turn(to: float) -> float:
        total = way * (to - heading) % 360.0
        steps = int(total / 3.0 / step_s)
        moved = sum(fly(step_s, heading + way * 3.0 * step_s * (at + 0.5)) for at in range(steps))
        rest = total / 3.0 - steps * step_s
        return moved + fly(rest, to - way * 1.5 * rest)

    along += turn(found.outbound_heading_deg)
    heading = found.outbound_heading_deg
    along += fly(60.0 * (found.outbound_min or 0.0), heading)
    return along + turn(found.inbound_heading_deg)


def test_a_hold_flown_in_small_steps() -> None:
    check(
        of_holds,
        {
            "inbound track": DEGREES,
            "inbound groundspeed": KNOTS,
            "tripled": 1e-10,
            "outbound groundspeed": KNOTS,
            "closed in a headwind, NM": 1e-6,
            # Both turns together are one circle of two minutes, whatever the corrections; in steps, nearly so.
            "closed in any wind, NM": 1e-6,
        },
    )


def of_entries(random: Random) -> Iterator[Difference]:
    inbound, heading = random.uniform(0, 360), random.uniform(0, 360)
    turns = random.choice(tuple(holding.Turns))
    found = holding.solve(inbound_course_deg=inbound, heading_deg=heading, altitude_ft=5000.0, turns=turns)
    # FAA AIM 5-3-8: the line at 70 degrees to the inbound course cuts the sky in two; on the holding side of
    # the outbound end it leaves the teardrop's 70 degrees, on the other side the parallel's 110.
    mirror = 1.0 if turns is holding.Turns.RIGHT else -1.0
    came_from = mirror * (heading + 180.0 - inbound) % 360.0
    expected = holding.Entry.DIRECT
    if 290.0 < came_from < 360.0:
        expected = holding.Entry.TEARDROP
    elif 0.0 < came_from < 110.0:
        expected = holding.Entry.PARALLEL
    line_near = min(abs(came_from - edge) for edge in (0.0, 110.0, 290.0, 360.0))
    yield "entry", float(line_near > 1e-9 and found.entry is not expected)
    yield "outbound course", between(found.outbound_course_deg, inbound + 180.0)
    yield "from the nose", between(found.outbound_from_heading_deg, inbound + 180.0 - heading)


def test_entries_by_the_side_one_comes_from() -> None:
    check(of_entries, {"entry": 0.0, "outbound course": 2e-13, "from the nose": 2e-13}, times=25)
