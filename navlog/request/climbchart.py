"""Climb and descent charts as books print them: time, fuel and distance from sea level, by pressure altitude."""

from __future__ import annotations

from itertools import pairwise

from navlog.request.aircraft import Figures, PhaseTable, Warmth
from navlog.request.tomlfile import TomlTable

_LONGEST_MIN = 600.0
_FARTHEST_NM = 1_000.0
SLOWEST_KT, FASTEST_KT = 20.0, 600.0


def read_chart(section: TomlTable, phase: str, fuel_keys: tuple[str, ...]) -> PhaseTable | None:
    """The chart of one phase out of its `rows`, each counted from the same altitude; None where it is wrong.

    `warmer_percent` for each `warmer_c` above standard is added to time, fuel and distance, as the chart's note says.
    """
    section.known.append("cumulative")
    warmth = _read_warmth(section)
    section.finish()
    values = section.values.get("rows")
    if not isinstance(values, list) or len(values) < 2 or not all(isinstance(row, dict) for row in values):
        section.fault("bad-value", "rows", "is not a list of two rows or more", "write rows = [{...}, {...}]")
        return None
    before = len(section.faults)
    rows = [_read_row(section.inner(row, "rows", index), fuel_keys) for index, row in enumerate(values)]
    whole = [row for row in rows if row is not None]
    if len(section.faults) > before:
        return None
    layers: list[Figures] = []
    for index, (lower, upper) in enumerate(pairwise(whole), 1):
        found = _layer(section.inner({}, "rows", index), lower, upper)
        if found is None:
            return None
        layers.append(found)
    edges = tuple(altitude_ft for altitude_ft, *_ in whole)
    return PhaseTable(phase, tuple((one,) for one in layers), edges, cumulative=True, warmth=warmth)


def _read_warmth(section: TomlTable) -> Warmth | None:
    """What the chart's note adds in air warmer than standard."""
    each_c = section.number("warmer_c", 1.0, 50.0)
    percent = section.number("warmer_percent", 0.0, 100.0)
    for key, value, other in (("warmer_c", each_c, percent), ("warmer_percent", percent, each_c)):
        if value is None and other is not None and key not in section.values:
            section.fault("missing-key", key, "is missing", "write both: warmer_percent for each warmer_c")
    return None if each_c is None or percent is None else Warmth(each_c, percent)


_Row = tuple[float, float, float, float | None]
"""Pressure altitude ft, and from sea level to it minutes, NM and fuel."""


def _read_row(row: TomlTable, fuel_keys: tuple[str, ...]) -> _Row | None:
    """One row of a chart."""
    altitude_ft = row.number("pressure_altitude_ft", -2_000.0, 60_000.0)
    time_min = row.number("time_min", 0.0, _LONGEST_MIN)
    distance_nm = row.number("distance_nm", 0.0, _FARTHEST_NM)
    fuel = row.either(fuel_keys, 0.0, 100_000.0)
    row.finish()
    for key in ("pressure_altitude_ft", "time_min", "distance_nm"):
        if key not in row.values:
            row.fault("missing-key", key, "is missing", "a cumulative row has altitude, time, distance and fuel")
    if altitude_ft is None or time_min is None or distance_nm is None:
        return None
    return altitude_ft, time_min, distance_nm, None if fuel is None else fuel[1]


def _layer(row: TomlTable, lower: _Row, upper: _Row) -> Figures | None:
    """What is flown between two rows: their differences, which must grow with height."""
    rise_ft, minutes, length_nm = (high - low for low, high in zip(lower[:3], upper[:3], strict=True))
    if rise_ft <= 0.0 or minutes <= 0.0:
        row.fault("table-hole", "", "is not higher and later than the row before", "rows go up from sea level")
        return None
    tas_kt = length_nm / minutes * 60.0
    if not SLOWEST_KT <= tas_kt <= FASTEST_KT:
        row.fault("bad-value", "", f"makes {tas_kt:.0f} kt from the row before", "time and distance do not go together")
        return None
    if lower[3] is None or upper[3] is None:
        if (lower[3] is None) != (upper[3] is None):
            row.fault("table-hole", "", f"has {'no' if upper[3] is None else 'a'} fuel, unlike the row before")
            return None
        return Figures(tas_kt, None, rise_ft / minutes)
    if upper[3] <= lower[3]:
        row.fault("table-hole", "", "has not more fuel than the row before", "fuel counts from sea level too")
        return None
    return Figures(tas_kt, (upper[3] - lower[3]) / minutes * 60.0, rise_ft / minutes)
