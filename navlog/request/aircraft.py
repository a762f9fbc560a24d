"""An aeroplane's book figures: performance by phase, fuel, and the compass card.

Figures are interpolated inside their table and refused outside it. Fuel keeps the unit of the aircraft file.
"""

from __future__ import annotations

from msgspec import Struct

from navlog.nav.angles import difference_deg, normalize_deg
from navlog.nav.atmosphere import standard_temperature_c, tas_from_cas_kt
from navlog.nav.problems import NavlogError, Problem
from navlog.nav.record import changed
from navlog.nav.units import Amount

# A high altimeter setting puts sea level at a negative pressure altitude (1050 hPa: about -1,000 ft).
# Books begin at sea level, and pilots use that row there: common practice, no source.
_BELOW_SEA_LEVEL_FT = -1_000.0
_WIDEST_CARD_GAP_DEG = 90.0
_ROUNDING = 1e-6


class _Performance(Struct, frozen=True):
    """What the aeroplane does at one altitude and temperature.

    `burn_per_h` is in the aircraft's `fuel_unit`; `rate_ft_per_min` is positive in climb and in descent.
    None where the file says nothing.
    """

    tas_kt: float
    burn_per_h: float | None = None
    rate_ft_per_min: float | None = None


class Figures(Struct, frozen=True):
    """One entry of a table: the speed as the book gives it, calibrated or true.

    `range_nm` is the specific range, NM through the air for one unit of fuel, where the book gives it and no burn.
    """

    speed_kt: float
    burn_per_h: float | None = None
    rate_ft_per_min: float | None = None
    range_nm: float | None = None


class Warmth(Struct, frozen=True):
    """So many per cent more time, fuel and distance for each so many degrees C above standard."""

    each_c: float
    percent: float

    def factor(self, above_standard_c: float) -> float:
        """How many times the chart's figures hold in air so much warmer; nothing is taken off in colder air."""
        # The books' note speaks of warm air alone; colder air climbs better, and is not counted on.
        return 1.0 + max(0.0, above_standard_c) / self.each_c * self.percent / 100.0


class RowOutOfOrder(Struct, frozen=True):
    """A row that is lower than the one before of the same temperature where rows go up, or higher where they go down.

    Rows are counted from 1, as they stand in the file.
    """

    row: int
    altitude_ft: float
    after_row: int
    after_ft: float


class PhaseTable(Struct, frozen=True):
    """The figures of one phase ("climb", "cruise" or "descent"); `rows[i][j]` by altitude and temperature.

    Without `altitudes_ft` one row holds at every altitude; without `temperatures_c` each row has one entry,
    which holds at every temperature. With `by_isa_deviation` the temperatures are counted from standard.
    `calibrated` speeds are turned to true at the altitude and temperature flown. `power` is the setting
    whose rows these are, where the book has several.

    Of a `cumulative` chart `altitudes_ft` are the edges of layers, and `rows[i]` what holds from one to the next;
    `warmth` is its note on warm air. `out_of_order` is the first row that stands in the file where its height does not
    belong.
    """

    phase: str
    rows: tuple[tuple[Figures, ...], ...]
    altitudes_ft: tuple[float, ...] = ()
    temperatures_c: tuple[float, ...] = ()
    by_isa_deviation: bool = False
    calibrated: bool = False
    power: str | None = None
    cumulative: bool = False
    warmth: Warmth | None = None
    out_of_order: RowOutOfOrder | None = None

    def over(self, low_ft: float, high_ft: float, temperature_c: float) -> _Performance:
        """The mean performance between two pressure altitudes, the temperature that of their middle.

        Of a cumulative chart it is what the differences of its figures say, exactly. Raises as `at` does.
        """
        middle_ft = (low_ft + high_ft) / 2.0
        if not self.cumulative:
            return self.at(middle_ft, temperature_c)
        lowest_ft = _BELOW_SEA_LEVEL_FT if self.altitudes_ft[0] == 0.0 else self.altitudes_ft[0]
        for altitude_ft in (low_ft, high_ft):
            if not lowest_ft - _ROUNDING <= altitude_ft <= self.altitudes_ft[-1] + _ROUNDING:
                raise self._outside(self.altitudes_ft, altitude_ft, "ft")
        edges = (lowest_ft, *self.altitudes_ft[1:-1], self.altitudes_ft[-1] + _ROUNDING)
        time_min = distance_nm = fuel = 0.0
        for (layer,), bottom_ft, top_ft in zip(self.rows, edges, edges[1:], strict=False):
            part_ft = min(high_ft, top_ft) - max(low_ft, bottom_ft)
            if part_ft > 0.0 and layer.rate_ft_per_min:
                minutes = part_ft / layer.rate_ft_per_min
                time_min += minutes
                distance_nm += minutes / 60.0 * layer.speed_kt
                fuel += minutes / 60.0 * (layer.burn_per_h or 0.0)
        warm = 1.0
        if self.warmth is not None:
            warm = self.warmth.factor(temperature_c - standard_temperature_c(middle_ft))
        burn = None if self.rows[0][0].burn_per_h is None else fuel / time_min * 60.0
        return _Performance(distance_nm / time_min * 60.0, burn, (high_ft - low_ft) / (time_min * warm))

    def at(self, pressure_altitude_ft: float, temperature_c: float) -> _Performance:
        """The performance at an altitude and air temperature, linear between the rows around them.

        Raises an `outside-table` problem beyond the table. A table that begins at sea level holds down to
        -1,000 ft.
        """
        altitude_ft, warmth_c = pressure_altitude_ft, temperature_c
        if self.altitudes_ft and self.altitudes_ft[0] == 0.0 and _BELOW_SEA_LEVEL_FT <= altitude_ft < 0.0:
            altitude_ft = 0.0
        if self.by_isa_deviation:
            warmth_c -= standard_temperature_c(pressure_altitude_ft)
        lower, upper, up = self._between(self.altitudes_ft, altitude_ft, "ft")
        colder, warmer, warm = self._between(self.temperatures_c, warmth_c, self._temperature_unit())
        # First by altitude, then by temperature: of figures linear in each the order does not matter.
        cold_side = _mix(self.rows[lower][colder], self.rows[upper][colder], up)
        warm_side = _mix(self.rows[lower][warmer], self.rows[upper][warmer], up)
        figures = _mix(cold_side, warm_side, warm)
        tas_kt = figures.speed_kt
        if self.calibrated:
            tas_kt = tas_from_cas_kt(
                cas_kt=tas_kt, pressure_altitude_ft=pressure_altitude_ft, temperature_c=temperature_c
            )
        # A specific range counts air miles, so it is divided into the true airspeed and not the groundspeed.
        burn = figures.burn_per_h if figures.range_nm is None else tas_kt / figures.range_nm
        return _Performance(tas_kt, burn, figures.rate_ft_per_min)

    def held_beyond(self, by_ft: float, by_c: float = 0.0) -> PhaseTable:
        """The table with the figures of its ends held so much farther in height and in temperature."""
        found = self
        if self.altitudes_ft:
            low, *_, high = self.altitudes_ft
            rows = (self.rows[0], *self.rows, self.rows[-1])
            found = changed(found, altitudes_ft=(low - by_ft, *self.altitudes_ft, high + by_ft), rows=rows)
        if self.temperatures_c and by_c:
            cold, *_, warm = self.temperatures_c
            wider = tuple((row[0], *row, row[-1]) for row in found.rows)
            found = changed(found, temperatures_c=(cold - by_c, *self.temperatures_c, warm + by_c), rows=wider)
        return found

    def _temperature_unit(self) -> str:
        return "C from standard" if self.by_isa_deviation else "C"

    def _between(self, axis: tuple[float, ...], value: float, unit: str) -> tuple[int, int, float]:
        """The neighbours of a value on an axis and how far it lies from the first to the second."""
        if not axis:
            return 0, 0, 0.0
        for upper in range(1, len(axis)):
            if axis[upper - 1] - _ROUNDING <= value <= axis[upper] + _ROUNDING:
                return upper - 1, upper, (value - axis[upper - 1]) / (axis[upper] - axis[upper - 1])
        raise self._outside(axis, value, unit)

    def _outside(self, axis: tuple[float, ...], value: float, unit: str) -> NavlogError:
        """The problem of a value beyond an axis of the table."""
        message = f"the {self.phase} table ends before {value:,.0f} {unit}"
        reach = f"it reaches from {axis[0]:,.0f} to {axis[-1]:,.0f} {unit}"
        return NavlogError(Problem("outside-table", message, hint=reach, of_temperature=unit != "ft"))


class CompassCard(Struct, frozen=True):
    """Magnetic headings in rising order from 0 to below 360, each with its deviation, east positive.

    A card's "FOR 120 STEER 114" is a deviation of 6 east: compass heading = magnetic heading - deviation.
    """

    headings_deg: tuple[float, ...]
    deviations_deg: tuple[float, ...]


class Aircraft(Struct, frozen=True):
    """An aeroplane as its file describes it; None for what the file does not say.

    `fuel_unit` is "gal", "impgal", "L", "lb" or "kg", and None where no fuel is mentioned.
    """

    name: str
    file: str
    cruise: PhaseTable
    climb: PhaseTable | None = None
    descent: PhaseTable | None = None
    compass: CompassCard | None = None
    fuel_unit: str | None = None
    usable_fuel: Amount | None = None
    taxi_fuel: Amount | None = None
    fuel_density_kg_per_l: float | None = None


def compass_card(pairs: tuple[tuple[float, float], ...]) -> CompassCard:
    """A card from its pairs of FOR (magnetic heading) and STEER (compass heading)."""
    # Differences of angles, since FOR 000 STEER 359 is one degree and not 359.
    ordered = sorted((normalize_deg(for_deg), difference_deg(for_deg, steer)) for for_deg, steer in pairs)
    return CompassCard(tuple(heading for heading, _ in ordered), tuple(deviation for _, deviation in ordered))


def deviation_deg(card: CompassCard, magnetic_heading_deg: float) -> float | None:
    """The deviation on a magnetic heading, east positive; None where a partial card says nothing.

    The deviation, not the heading to steer, is interpolated, across north too, between neighbours no more
    than 90 degrees apart.
    """
    heading_deg = normalize_deg(magnetic_heading_deg)
    count = len(card.headings_deg)
    for after in range(count):
        before_deg, after_deg = card.headings_deg[after - 1], card.headings_deg[after]
        gap_deg = normalize_deg(after_deg - before_deg)
        past_deg = normalize_deg(heading_deg - before_deg)
        # On a heading of the card itself its deviation stands, however far the next one is.
        if past_deg == 0.0:
            return card.deviations_deg[after - 1]
        if past_deg <= gap_deg <= _WIDEST_CARD_GAP_DEG:
            step_deg = card.deviations_deg[after] - card.deviations_deg[after - 1]
            return card.deviations_deg[after - 1] + step_deg * past_deg / gap_deg
    return None


def _mix(first: Figures, second: Figures, share: float) -> Figures:
    """The figures `share` of the way from the first to the second."""
    return Figures(
        first.speed_kt + (second.speed_kt - first.speed_kt) * share,
        _mix_known(first.burn_per_h, second.burn_per_h, share),
        _mix_known(first.rate_ft_per_min, second.rate_ft_per_min, share),
        _mix_known(first.range_nm, second.range_nm, share),
    )


def _mix_known(first: float | None, second: float | None, share: float) -> float | None:
    return None if first is None or second is None else first + (second - first) * share
