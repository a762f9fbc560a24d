"""The statements' keywords: how each is read, and an example of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from msgspec import Struct

from navlog.nav.units import (
    read_altitude_ft,
    read_burn,
    read_declination_deg,
    read_duration_min,
    read_fuel,
    read_percent,
    read_pressure_hpa,
    read_temperature_c,
)
from navlog.request.airway_statements import read_airway, read_direct
from navlog.request.chart_statements import read_airport, read_fix, read_station
from navlog.request.cursor import Cursor
from navlog.request.flight_statements import (
    read_accept,
    read_alternate,
    read_cruise,
    read_date,
    read_equipment,
    read_file,
    read_hold,
    read_levels,
    read_note,
    read_off,
    read_radio,
    read_rules,
    read_tas_kt,
    read_unavailable,
    read_wind,
)
from navlog.request.route_line import read_route
from navlog.request.tree import Value

T = TypeVar("T", bound=Value)


class Form(Struct, frozen=True):
    """How a statement is read, and an example of what stands behind its keyword."""

    read: Callable[[Cursor], Value | None]
    example: str


def _word(what: str, reader: Callable[[str], T], example: str) -> Form:
    """The form of a statement of one word, such as `tas 110kt`."""
    return Form(lambda cursor: cursor.read(what, reader, None), example)


FORMS = {
    "station": Form(read_station, "QHB 113.70 N46 12.30 W039 20.70 decl 15W"),
    "airport": Form(read_airport, 'XHAR N46 14.50 W039 07.20 elev 790ft name "Harbour Field"'),
    "fix": Form(read_fix, "PINEY QEL 180 12nm, or: fix ROSKO QHB 160 x QEL 090"),
    "airway": Form(read_airway, "V801 QHB 212 - 034 QEL 29.5nm mea 3000"),
    "direct": Form(read_direct, "QEL 047 - XHAR 35.3nm min 2700"),
    "unavailable": Form(read_unavailable, "QHB"),
    "aircraft": Form(read_file, "trainer.toml"),
    "tas": _word("a speed", read_tas_kt, "110kt"),
    "burn": _word("a fuel burn", read_burn, "8.5gph"),
    "wind": Form(read_wind, "230/12, or: wind 3000 230/12 6000 240/18 +4C"),
    "winds": Form(read_file, "bulletin.txt"),
    "date": _word("a date", read_date, "2026-07-18"),
    "off": Form(read_off, "15:10Z, or: off 10:10 America/Chicago"),
    "altitude": _word("an altitude or level", read_cruise, "4500"),
    "rules": Form(read_rules, "vfr day"),
    "levels": _word("a table of levels", read_levels, "us"),
    "equipment": Form(read_equipment, "vor 2 dme 1"),
    "fuel": _word("an amount of fuel", read_fuel, "38gal"),
    "taxi": _word("an amount of fuel", read_fuel, "1gal"),
    "reserve": _word("a time", read_duration_min, "45min"),
    "contingency": _word("a percentage", read_percent, "5%"),
    "extra": _word("an amount of fuel", read_fuel, "2gal"),
    "variation": _word("a variation", read_declination_deg, "7E"),
    "altimeter": _word("an altimeter setting", read_pressure_hpa, "1013hPa"),
    "temperature": _word("a temperature", read_temperature_c, "+15C"),
    "ceiling": _word("an altitude or level", read_cruise, "FL125"),
    "pattern": _word("an altitude", read_altitude_ft, "1800ft"),
    "route": Form(read_route, "XHAR QHB V801 QEL/A055 DCT XOLD"),
    "alternate": Form(read_alternate, "XOLD, or: alternate QEL via V801 QHB XOLD at 3500"),
    "hold": Form(read_hold, "QHB 4min, or: hold QHB until 6500ft"),
    "accept": Form(read_accept, 'out-of-range "flown by day in sight of the coast"'),
    "radio": Form(read_radio, 'XHAR "Tower" 118.700'),
    "note": Form(read_note, '"close the flight plan by radio"'),
}
KEYWORDS = (*FORMS, "flight")
