"""Reads an aircraft file: TOML, every key with its unit, every mistake named with its key.

    name = "..."                       required
    usable_fuel_gal, taxi_fuel_gal     or _impgal, _L, _lb, _kg; one fuel unit throughout a file
    fuel_density_lb_per_gal            or fuel_density_kg_per_L, to turn volume into mass
    [cruise]                           required; [climb] and [descent] may be left out
    tas_kt or cas_kt                   true or calibrated airspeed
    burn_gal_per_h                     or burn_L_per_h, burn_lb_per_h, burn_kg_per_h, burn_impgal_per_h
    specific_range_nm_per_gal          in place of a burn: NM through the air for one unit of fuel
    rate_ft_per_min                    climb and descent only, both positive
    rows = [{pressure_altitude_ft = 0, cas_kt = 75, ...}, ...]
    cumulative = true                  climb and descent: rows count from sea level, as books print them, with
                                       time_min, distance_nm and fuel_gal by pressure_altitude_ft
    warmer_percent, warmer_c           such a chart's note: so much more for each so many C above standard
    power = "65%"                      the rows to use, where rows carry a `power`
    [compass]
    for_deg = [0, 30, ...]             magnetic headings
    steer_deg = [2, 31, ...]           the compass headings to steer

A phase has single figures, which hold at every altitude, or `rows`. Rows are by `pressure_altitude_ft` and,
where the book has it, by `temperature_c` or `isa_deviation_c`; every altitude then needs a row for every
temperature.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from msgspec import Struct

from navlog.nav.units import POUND_KG, US_GALLON_L, Amount
from navlog.request.aircraft import Aircraft, CompassCard, Figures, PhaseTable, RowOutOfOrder, compass_card
from navlog.request.tomlfile import Fault, Path, TomlTable, label, raise_faults, read_toml

_FUEL_UNITS = ("gal", "impgal", "L", "lb", "kg")
_PHASES = ("climb", "cruise", "descent")
_LOWEST_BURN = 0.1  # an engine that burns less, in any unit an hour, does not run
_SHORTEST_RANGE_NM = 0.01  # an engine that burns a unit of fuel on less is no aeroplane's
_LARGEST_DEVIATION_DEG = 30.0  # a compass that is out by more is no compass

_USABLE, _TAXI, _BURN, _CHART = "usable_fuel_{}", "taxi_fuel_{}", "burn_{}_per_h", "fuel_{}"
_RANGE = "specific_range_nm_per_{}"
_FUEL_UNIT_OF_KEY = {key.format(unit): unit for key in (_USABLE, _TAXI, _BURN, _CHART, _RANGE) for unit in _FUEL_UNITS}
_TEMPERATURE_KEYS = ("temperature_c", "isa_deviation_c")
_SPEED_KEYS = ("tas_kt", "cas_kt")
_POUND_PER_GALLON = POUND_KG / US_GALLON_L


def read_aircraft(text: str, file: str) -> Aircraft:
    """The aircraft that `text` describes; every problem is raised in one `NavlogError` with key and line."""
    top = read_toml(text, file)
    name = top.text("name")
    unit = _fuel_unit(top)
    usable = _fuel(top, _USABLE, 100_000.0)
    taxi = _fuel(top, _TAXI, 10_000.0)
    density = _density_kg_per_l(top)
    climb, cruise, descent = (_read_phase(top, phase) for phase in _PHASES)
    compass = _read_compass(top)
    top.finish()
    if "name" not in top.values:
        top.fault("missing-key", "name", "is missing", 'write name = "..."')
    if "cruise" not in top.values:
        top.fault("missing-key", "cruise", "is missing", "write a [cruise] table with tas_kt or cas_kt")
    raise_faults(top, text, file)
    assert name is not None
    assert cruise is not None
    return Aircraft(
        name,
        file,
        cruise,
        climb,
        descent,
        compass,
        unit,
        None if usable is None or unit is None else Amount(usable, unit),
        None if taxi is None or unit is None else Amount(taxi, unit),
        density,
    )


def _fuel_unit(top: TomlTable) -> str | None:
    """The one unit of every fuel key in the file."""
    first: dict[str, Path] = {}
    for path in _key_paths(top):
        unit = _FUEL_UNIT_OF_KEY.get(str(path[-1]))
        if unit is not None:
            first.setdefault(unit, path)
    units = tuple(first)
    for unit in units[1:]:
        message = f"{label(first[unit])} is in {unit}, {label(first[units[0]])} in {units[0]}"
        top.faults.append(Fault(first[unit], "fuel-unit", message, "use one fuel unit throughout a file"))
    return units[0] if units else None


def _key_paths(top: TomlTable) -> Iterator[Path]:
    """Every key of the file, of its tables and of their rows."""
    for key, value in top.values.items():
        yield (key,)
        if isinstance(value, dict):
            yield from ((key, inner) for inner in value)
            rows = value.get("rows")
            for index, row in enumerate(rows if isinstance(rows, list) else ()):
                yield from ((key, "rows", index, inner) for inner in (row if isinstance(row, dict) else ()))


def _fuel(section: TomlTable, pattern: str, high: float, *, low: float = 0.0) -> float | None:
    found = section.either(tuple(pattern.format(unit) for unit in _FUEL_UNITS), low, high)
    return None if found is None else found[1]


def _density_kg_per_l(top: TomlTable) -> float | None:
    # From 0.6 to 1 kg/L: petrol and kerosene lie between, and a density in the wrong unit does not.
    pounds = top.number("fuel_density_lb_per_gal", 0.6 / _POUND_PER_GALLON, 1.0 / _POUND_PER_GALLON)
    kilograms = top.number("fuel_density_kg_per_L", 0.6, 1.0)
    if pounds is not None and kilograms is not None:
        top.fault("bad-value", "fuel_density_kg_per_L", "stands beside `fuel_density_lb_per_gal`")
    return kilograms if pounds is None else pounds * _POUND_PER_GALLON


def _read_phase(top: TomlTable, phase: str) -> PhaseTable | None:
    top.known.append(phase)
    values = top.values.get(phase)
    if not isinstance(values, dict):
        if values is not None:
            top.fault("bad-value", phase, "is not a table", f"write its keys under [{phase}]")
        return None
    section = top.inner(values, phase)
    section.known.append("rows")
    if phase != "cruise" and "cumulative" in values:
        if values["cumulative"] is True:
            from navlog.request.climbchart import read_chart

            return read_chart(section, phase, tuple(_CHART.format(unit) for unit in _FUEL_UNITS))
        section.known.append("cumulative")
        if values["cumulative"] is not False:
            section.fault("bad-value", "cumulative", "is neither true nor false", "write cumulative = true")
    power = section.text("power")
    before = len(top.faults)
    if "rows" not in values:
        found = _read_figures(section, phase)
        section.finish()
        if found is None or len(top.faults) > before:
            return None
        return PhaseTable(phase, ((found[1],),), calibrated=found[0], power=power)
    return _read_rows(section, phase, power)


def _read_figures(section: TomlTable, phase: str) -> tuple[bool, Figures] | None:
    """Whether the speed is calibrated, and the figures."""
    speed = section.either(_SPEED_KEYS, 20.0, 600.0)
    burn = _fuel(section, _BURN, 10_000.0, low=_LOWEST_BURN)
    range_nm = rate = None
    if phase == "cruise":
        range_nm = _fuel(section, _RANGE, 1_000.0, low=_SHORTEST_RANGE_NM)
        if burn is not None and range_nm is not None:
            section.fault("bad-value", "", "gives a burn and a specific range", "give one of the two")
    if phase != "cruise":
        rate = section.number("rate_ft_per_min", 1.0, 10_000.0)
        if "rate_ft_per_min" not in section.values:
            section.fault("missing-key", "rate_ft_per_min", "is missing", "give it above zero")
    if speed is None:
        section.fault("missing-key", "tas_kt", "is missing", "give tas_kt or cas_kt")
    if speed is None or speed[1] is None:
        return None
    return speed[0] == "cas_kt", Figures(speed[1], burn, rate, range_nm)


class _Row(Struct, frozen=True):
    """One row of a table as read; `index` counts from 0."""

    index: int
    altitude_ft: float
    temperature_key: str | None
    temperature_c: float
    power: str | None
    calibrated: bool
    figures: Figures

    @property
    def place(self) -> tuple[float, float]:
        return self.altitude_ft, self.temperature_c


def _read_rows(section: TomlTable, phase: str, power: str | None) -> PhaseTable | None:
    section.finish()
    values = section.values["rows"]
    if not isinstance(values, list) or not values or not all(isinstance(row, dict) for row in values):
        section.fault("bad-value", "rows", "is not a list of rows", "write rows = [{...}, {...}]")
        return None
    before = len(section.faults)
    rows = [_read_row(section.inner(row, "rows", index), phase, index) for index, row in enumerate(values)]
    whole = [row for row in rows if row is not None]
    if len(section.faults) > before or not _rows_agree(section, whole):
        return None
    chosen = _chosen(section, whole, power)
    return _grid(section, phase, chosen) if chosen else None


def _read_row(section: TomlTable, phase: str, index: int) -> _Row | None:
    altitude_ft = section.number("pressure_altitude_ft", -2_000.0, 60_000.0)
    if "pressure_altitude_ft" not in section.values:
        section.fault("missing-key", "pressure_altitude_ft", "is missing")
    temperature = section.either(_TEMPERATURE_KEYS, -100.0, 70.0)
    power = section.text("power")
    found = _read_figures(section, phase)
    section.finish()
    if altitude_ft is None or found is None:
        return None
    key, temperature_c = temperature or (None, 0.0)
    return _Row(index, altitude_ft, key, temperature_c or 0.0, power, *found)


def _rows_agree(section: TomlTable, rows: list[_Row]) -> bool:
    """Whether every row gives the same kinds of figure as the first; where not, says which row does not."""
    first, before = rows[0], len(section.faults)
    for row in rows[1:]:
        inner = section.inner({}, "rows", row.index)
        if row.calibrated != first.calibrated:
            inner.fault("bad-value", "", "gives its speed in another way than the first", "use tas_kt or cas_kt")
        if row.temperature_key != first.temperature_key:
            inner.fault("table-hole", "", "gives its temperature in another way than the first")
        if (row.figures.range_nm is None) != (first.figures.range_nm is None):
            inner.fault("table-hole", "", "gives its fuel in another way than the first", "give burn or specific range")
        elif (row.figures.burn_per_h is None) != (first.figures.burn_per_h is None):
            which = "no" if row.figures.burn_per_h is None else "a"
            inner.fault("table-hole", "", f"has {which} burn, unlike the first")
    return len(section.faults) == before


def _chosen(section: TomlTable, rows: list[_Row], power: str | None) -> list[_Row]:
    """The rows of one power setting."""
    settings = list(dict.fromkeys(row.power for row in rows))
    names = ", ".join(f'"{setting}"' for setting in settings if setting is not None)
    if power is not None and power not in settings:
        section.fault("bad-value", "power", "is the setting of no row", f"rows have {names or 'no power'}")
        return []
    if power is None and len(settings) > 1:
        hint = f'say which to use: power = "..." under [{section.path[0]}], one of {names}'
        section.fault("missing-key", "power", "is missing, and rows have several", hint)
        return []
    return [row for row in rows if power is None or row.power == power]


def _grid(section: TomlTable, phase: str, rows: list[_Row]) -> PhaseTable | None:
    """The rows as a full grid; a combination that is missing or comes twice is a problem."""
    by_temperature = rows[0].temperature_key is not None
    by_deviation = rows[0].temperature_key == "isa_deviation_c"
    altitudes = sorted({row.altitude_ft for row in rows})
    temperatures = sorted({row.temperature_c for row in rows})
    before = len(section.faults)
    if len(altitudes) < 2 or (by_temperature and len(temperatures) < 2):
        what = "altitudes" if len(altitudes) < 2 else "temperatures"
        section.fault("table-hole", "rows", f"has no two {what} to interpolate between")
    cells: dict[tuple[float, float], _Row] = {}
    for row in rows:
        if row.place in cells:
            message = f"repeats row {cells[row.place].index + 1}"
            section.inner({}, "rows", row.index).fault("table-hole", "", message)
        cells[row.place] = row
    for altitude_ft in altitudes:
        for temperature_c in temperatures:
            if (altitude_ft, temperature_c) not in cells:
                unit = "C from standard" if by_deviation else "C"
                message = f"has no row for {altitude_ft:,.0f} ft at {temperature_c:g} {unit}"
                section.fault("table-hole", "rows", message, "every altitude needs a row for each temperature")
    if len(section.faults) > before:
        return None
    return PhaseTable(
        phase,
        tuple(tuple(cells[altitude, warmth].figures for warmth in temperatures) for altitude in altitudes),
        tuple(altitudes),
        tuple(temperatures) if by_temperature else (),
        by_deviation,
        rows[0].calibrated,
        rows[0].power,
        out_of_order=_out_of_order(rows),
    )


def _out_of_order(rows: list[_Row]) -> RowOutOfOrder | None:
    """The first row that goes against the order of heights in which most rows of one temperature follow each other."""
    pairs = [
        pair
        for warmth in dict.fromkeys(row.temperature_c for row in rows)
        for pair in pairwise(row for row in rows if row.temperature_c == warmth)
    ]
    up = sum(after.altitude_ft > before.altitude_ft for before, after in pairs)
    # Books print tables from the bottom or from the top; a slip goes against most of the rest.
    wrong = [pair for pair in pairs if (pair[1].altitude_ft > pair[0].altitude_ft) != (up * 2 >= len(pairs))]
    if not wrong:
        return None
    before, after = min(wrong, key=lambda pair: pair[1].index)
    return RowOutOfOrder(after.index + 1, after.altitude_ft, before.index + 1, before.altitude_ft)


def _read_compass(top: TomlTable) -> CompassCard | None:
    top.known.append("compass")
    values = top.values.get("compass")
    if not isinstance(values, dict):
        if values is not None:
            top.fault("bad-value", "compass", "is not a table", "write for_deg and steer_deg under [compass]")
        return None
    section = top.inner(values, "compass")
    headings, steers = (_angles(section, key) for key in ("for_deg", "steer_deg"))
    section.finish()
    if headings is None or steers is None:
        return None
    if len(headings) != len(steers):
        message = f"has {len(steers)} headings, `for_deg` has {len(headings)}"
        section.fault("bad-value", "steer_deg", message, "the two lists go in pairs")
        return None
    card = compass_card(tuple(zip(headings, steers, strict=True)))
    if len(set(card.headings_deg)) < len(headings):
        section.fault("bad-value", "for_deg", "has a heading twice", "0 and 360 are the same")
    for heading, deviation in zip(card.headings_deg, card.deviations_deg, strict=True):
        if abs(deviation) > _LARGEST_DEVIATION_DEG:
            message = f"is {abs(deviation):g} degrees from FOR {heading:03g}"
            section.fault("bad-value", "steer_deg", message, "FOR and STEER lie close together on a card")
    return card


def _angles(section: TomlTable, key: str) -> list[float] | None:
    section.known.append(key)
    values = section.values.get(key)
    if values is None:
        section.fault("missing-key", key, "is missing", "for_deg and steer_deg go in pairs")
    elif not isinstance(values, list) or len(values) < 2:
        section.fault("bad-value", key, "is not a list of two headings or more", f"write {key} = [0, 30, ...]")
    else:
        angles = [section.checked(key, value, 0.0, 360.0) for value in values]
        if None not in angles:
            return [angle for angle in angles if angle is not None]
    return None
