"""Angles, positions and units beside exact fractions, and sines beside forty digits."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from random import Random

import pytest
from helpers.compared import Difference, between, check, mp

from navlog.computations import passage
from navlog.nav import angles, norths, units
from navlog.nav.chart import Position
from navlog.nav.units import Amount

# Doubles below 360 lie 5.7e-14 apart, and so may each of the two or three sums.
DEGREES = 2e-13
# A double is good to 1.1e-16 of itself; a factor and a product of factors cost a few of that.
RELATIVE = 1e-15


def of_angles(random: Random) -> Iterator[Difference]:
    one, other = random.uniform(-1e4, 1e4), random.uniform(-1e4, 1e4)
    turn = (Fraction(one) - Fraction(other) + 180) % 360 - 180
    yield "normalize_deg", between(Fraction(angles.normalize_deg(one)), Fraction(one))
    yield "reciprocal_deg", between(Fraction(angles.reciprocal_deg(one)), Fraction(one) + 180)
    yield "difference_deg", between(Fraction(angles.difference_deg(one, other)), turn)
    found_sine, found_cosine = angles.sin_cos_deg(one)
    angle = mp.mpf(one) * mp.pi / 180
    yield "sin_cos_deg", max(abs(found_sine - mp.sin(angle)), abs(found_cosine - mp.cos(angle)))


def test_directions_to_the_rounding_of_doubles() -> None:
    check(
        of_angles,
        {"normalize_deg": DEGREES, "reciprocal_deg": DEGREES, "difference_deg": DEGREES, "sin_cos_deg": 4e-16},
        times=10,
    )


def of_positions(random: Random) -> Iterator[Difference]:
    axes = []
    for letters, limit in (("NS", 90), ("EW", 180)):
        letter, hundredths = random.choice(letters), random.randrange(limit * 6000)
        axes.append((letter, hundredths, -1 if letter in "SW" else 1))
    (north, lat, lat_sign), (east, lon, lon_sign) = axes
    exact = lat_sign * Fraction(lat, 6000), lon_sign * Fraction(lon, 6000)

    def off(text: str) -> float:
        read = angles.read_position(text)
        return max(
            abs(float(Fraction(read.latitude_deg) - exact[0])), abs(float(Fraction(read.longitude_deg) - exact[1]))
        )

    def parts(hundredths: int, width: int) -> str:
        return f"{hundredths // 6000:0{width}d} {hundredths % 6000 // 100:02d}.{hundredths % 100:02d}"

    def seconds(hundredths: int, width: int) -> str:
        # A hundredth of a minute is 0.6 seconds.
        tenths = hundredths % 100 * 6
        whole = f"{hundredths // 6000:0{width}d} {hundredths % 6000 // 100:02d}"
        return f"{whole} {tenths // 10:02d}.{tenths % 10}"

    yield "degrees and minutes", off(f"{north}{parts(lat, 2)} {east}{parts(lon, 3)}")
    yield "degrees, minutes and seconds", off(f"{north}{seconds(lat, 2)} {east}{seconds(lon, 3)}")
    yield "decimal degrees", off(f"{float(exact[0]):.15f} {float(exact[1]):.15f}")
    lat, lon = lat // 100 * 100, lon // 100 * 100
    exact = lat_sign * Fraction(lat, 6000), lon_sign * Fraction(lon, 6000)
    short = f"{lat // 6000:02d}{lat % 6000 // 100:02d}{north}{lon // 6000:03d}{lon % 6000 // 100:02d}{east}"
    yield "item 15", off(short)
    place = Position(random.uniform(-90, 90), random.uniform(-180, 180))
    words = angles.position_text(place).split()
    written = [int(words[i][1:]) + Fraction(words[i + 1]) / 60 for i in (0, 2)]
    exact_axes = (abs(Fraction(place.latitude_deg)), abs(Fraction(place.longitude_deg)))
    yield "position_text, minutes", max(abs(float(60 * (a - b))) for a, b in zip(written, exact_axes, strict=True))
    text = angles.icao_position_text(place)
    written = [int(text[:2]) + Fraction(text[2:4]) / 60, int(text[5:8]) + Fraction(text[8:10]) / 60]
    yield "icao_position_text, minutes", max(abs(float(60 * (a - b))) for a, b in zip(written, exact_axes, strict=True))


def test_positions_to_the_rounding_of_what_is_written() -> None:
    read = dict.fromkeys(("degrees and minutes", "degrees, minutes and seconds", "decimal degrees", "item 15"), 6e-14)
    # Half of the hundredth or of the minute that is written.
    written = {"position_text, minutes": 0.005 + 1e-11, "icao_position_text, minutes": 0.5 + 1e-11}
    check(of_positions, read | written, times=10)


NM, FOOT, MILE = Fraction(1852), Fraction("0.3048"), Fraction("1609.344")
INCH_OF_MERCURY_PA = Fraction("25.4") * Fraction("13.5951") * Fraction("9.80665")
GALLON_L = 231 * Fraction("0.254") ** 3  # 231 cubic inches, an inch of 0.254 dm
POUND_KG = Fraction("0.45359237")

READERS: tuple[tuple[Callable[[str], float], str, Fraction, int], ...] = (
    (units.read_distance_nm, "nm", Fraction(1), 500),
    (units.read_distance_nm, "km", 1000 / NM, 500),
    (units.read_distance_nm, "sm", MILE / NM, 500),
    (units.read_distance_nm, "m", 1 / NM, 5000),
    (units.read_altitude_ft, "ft", Fraction(1), 40_000),
    (units.read_altitude_ft, "m", 1 / FOOT, 12_000),
    (units.read_elevation_ft, "m", 1 / FOOT, 4_000),
    (units.read_speed_kt, "kt", Fraction(1), 300),
    (units.read_speed_kt, "mph", MILE / NM, 300),
    (units.read_speed_kt, "km/h", 1000 / NM, 500),
    (units.read_speed_kt, "m/s", 3600 / NM, 80),
    (units.read_duration_min, "min", Fraction(1), 90),
    (units.read_duration_min, "h", Fraction(60), 9),
    (units.read_elapsed_min, "s", Fraction(1, 60), 500),
    (units.read_rate_ft_min, "ft/min", Fraction(1), 2_000),
    (units.read_rate_ft_min, "m/s", 60 / FOOT, 10),
    (units.read_gradient_ft_per_nm, "ft/nm", Fraction(1), 900),
    (units.read_gradient_ft_per_nm, "%", NM / FOOT / 100, 15),
    (units.read_size_deg, "deg", Fraction(1), 360),
    (units.read_percent, "%", Fraction(1), 100),
    (units.read_frequency, "MHz", Fraction(1), 118),
    (units.read_frequency_khz, "kHz", Fraction(1), 1700),
    (units.read_mach, "", Fraction(1), 1),
    (units.read_declination_deg, "E", Fraction(1), 60),
    (units.read_declination_deg, "W", Fraction(-1), 60),
)


@pytest.mark.parametrize(("read", "unit", "size", "high"), READERS, ids=lambda it: getattr(it, "__name__", str(it)))
def test_every_unit_is_its_definition(read: Callable[[str], float], unit: str, size: Fraction, high: int) -> None:
    def of_unit(random: Random) -> Iterator[Difference]:
        # Of heights no foot has a fraction.
        digits = 0 if unit == "ft" and size == 1 else 3
        text = f"{random.uniform(high / 100, high):.{digits}f}"
        yield f"{read.__name__} {unit}", float(Fraction(read(text + unit)) / (Fraction(text) * size) - 1)

    check(of_unit, {f"{read.__name__} {unit}": RELATIVE})


def of_other_units(random: Random) -> Iterator[Difference]:
    degrees = f"{random.uniform(-60, 120):.1f}"
    yield "temperature F", float(Fraction(units.read_temperature_c(f"{degrees}F")) - (Fraction(degrees) - 32) * 5 / 9)
    inches = f"{random.uniform(28, 31):.2f}"
    yield (
        "pressure inHg",
        float(Fraction(units.read_pressure_hpa(f"{inches}inHg")) - Fraction(inches) * INCH_OF_MERCURY_PA / 100),
    )
    hours, minutes, seconds = random.randrange(9), random.randrange(60), random.randrange(60)
    yield "1h30min", units.read_duration_min(f"{hours}h{minutes}min") - (60 * hours + minutes)
    elapsed = Fraction(units.read_elapsed_min(f"{minutes}min{seconds}s"))
    yield "2min30s", float(elapsed - minutes - Fraction(seconds, 60))
    amount = random.uniform(1, 200)
    for unit, other, factor in (("gal", "L", GALLON_L), ("lb", "kg", POUND_KG), ("kg/h", "lb/h", 1 / POUND_KG)):
        found = units.converted(Amount(amount, unit), other)
        assert found is not None
        yield f"{unit} to {other}", float(Fraction(found.value) / (Fraction(amount) * factor) - 1)


def test_units_that_are_more_than_a_factor() -> None:
    check(
        of_other_units,
        {
            "temperature F": 2e-14,
            "pressure inHg": 1e-12,
            "1h30min": 0.0,
            "2min30s": 1e-14,
            "gal to L": RELATIVE,
            "lb to kg": RELATIVE,
            "kg/h to lb/h": RELATIVE,
        },
    )


def of_norths_and_passages(random: Random) -> Iterator[Difference]:
    angle, variation = random.uniform(0, 360), random.uniform(-40, 40)
    magnetic, true = norths.Direction(angle, magnetic=True), norths.Direction(angle, magnetic=False)
    yield "true_deg", between(Fraction(norths.true_deg(magnetic, variation)), Fraction(angle) + Fraction(variation))
    yield "magnetic_deg", between(Fraction(norths.magnetic_deg(true, variation)), Fraction(angle) - Fraction(variation))
    distance, speed, burn = random.uniform(1, 400), random.uniform(40, 250), random.uniform(3, 40)
    found = passage.passage(distance_nm=distance, groundspeed_kt=speed, burn=Amount(burn, "gal/h"))
    hours = Fraction(distance) / Fraction(speed)
    assert found.fuel is not None
    yield "time", float(Fraction(found.time_min) / (60 * hours) - 1)
    yield "fuel", float(Fraction(found.fuel.value) / (Fraction(burn) * hours) - 1)
    tas = random.uniform(60, 250)
    against = passage.headwind(tas_kt=tas, groundspeed_kt=speed).headwind_kt
    yield "headwind", float(Fraction(against) - Fraction(tas) + Fraction(speed))
    flown, minutes = f"{distance:.1f}", f"{random.uniform(1, 60):.1f}"
    groundspeed = passage.read_groundspeed_kt(f"{flown}nm/{minutes}min")
    yield "groundspeed", float(Fraction(groundspeed) / (60 * Fraction(flown) / Fraction(minutes)) - 1)


def test_norths_times_and_fuel() -> None:
    degrees = dict.fromkeys(("true_deg", "magnetic_deg"), DEGREES)
    relative = dict.fromkeys(("time", "fuel", "groundspeed"), RELATIVE)
    check(of_norths_and_passages, degrees | relative | {"headwind": 6e-14})
