"""The one table of statements: how each is read and written, how often it may stand, and what of the request it fills.

Parser, writer, messages, the merging of flights and the table of the topic `route-file` all go by it. A new
statement is an entry here, its reader, and its field of `Request`.
"""

from __future__ import annotations

from collections.abc import Hashable

from navlog.nav.accuracy import read_accuracy
from navlog.nav.units import (
    read_altitude_ft,
    read_burn,
    read_declination_deg,
    read_duration_min,
    read_fuel,
    read_percent,
    read_temperature_c,
)
from navlog.request.airway_statements import AIRWAY_OPTIONS, DIRECT_OPTIONS, read_airway, read_direct
from navlog.request.chart_statements import (
    AIRPORT_OPTIONS,
    FIX_OPTIONS,
    STATION_OPTIONS,
    read_airport,
    read_fix,
    read_station,
)
from navlog.request.flight_statements import (
    EQUIPMENT_OPTIONS,
    alternate_way,
    read_accept,
    read_alternate,
    read_altimeter,
    read_cruise,
    read_date,
    read_equipment,
    read_file,
    read_hold,
    read_levels,
    read_name_of_flight,
    read_note,
    read_off,
    read_radio,
    read_receiver_check,
    read_rules,
    read_tas_kt,
    read_taxi,
    read_unavailable,
    read_wind,
)
from navlog.request.forms import Form, Into, word
from navlog.request.route_line import read_route
from navlog.request.tree import Statement

_FUEL = word("an amount of fuel", read_fuel)
_LEVEL = word("an altitude or level", read_cruise)
_TABLE = (
    Form(
        "station",
        read_station,
        "IDENT MHZ [POSITION] [decl] [class] [dme] [kind] [elev] [unusable] [name]",
        "a station: frequency (kHz for `kind ndb`, the channel for `kind tacan`), position, declination, service"
        " volume (`class` T, L, H, VL or VH), `dme`, `elev 820ft`, `kind` (only a VOR guides), `unusable 150-160`"
        " [`beyond 10nm`] [`below 1900ft`]",
        ("QHB 113.70 N46 12.30 W039 20.70 decl 15W",),
        "stations",
        into=Into.DEFINITION,
        key=lambda station: station.ident,
        options=STATION_OPTIONS,
    ),
    Form(
        "airport",
        read_airport,
        "IDENT POSITION [elev] [name]",
        "an airport",
        ('XHAR N46 14.50 W039 07.20 elev 790ft name "Harbour Field"',),
        "airports",
        into=Into.DEFINITION,
        key=lambda airport: airport.ident,
        options=AIRPORT_OPTIONS,
    ),
    Form(
        "fix",
        read_fix,
        "IDENT POSITION, or STN RADIAL DISTANCE, or STN RADIAL x STN RADIAL [mra]",
        "a point by position, by radial and distance over the ground, by two radials, or by a DME reading"
        " (`fix PINEY QEL 180 dme 12 at 5500`)",
        ("PINEY QEL 180 12nm", "ROSKO QHB 160 x QEL 090"),
        "fixes",
        into=Into.DEFINITION,
        key=lambda fix: fix.ident,
        options=FIX_OPTIONS,
    ),
    Form(
        "airway",
        read_airway,
        "ID A [RADIAL] - [RADIAL] B DISTANCE [options] [[RADIAL] - [RADIAL] C DISTANCE [options] ...]",
        "an airway, segment by segment: radials, distance, `mea` (`4000/3000` where the other way differs), `moca`,"
        " `maa`, `mca 3500 QEL to PINEY`, `cop 11 QHB`, `gap`, `turn`, `on STN RADIAL`",
        ("V801 QHB 212 - 034 QEL 29.5nm mea 3000",),
        "airways",
        into=Into.DEFINITION,
        key=lambda definition: definition.airway.ident,
        options=AIRWAY_OPTIONS,
    ),
    Form(
        "direct",
        read_direct,
        "like airway, without ID",
        'what the chart says of a direct leg, either way; besides an airway\'s options `min 2700 "own survey"` and'
        " `course 214M`",
        ("QEL 047 - XHAR 35.3nm min 2700",),
        "directs",
        into=Into.DEFINITION,
        key=lambda pair: frozenset((pair.segment.start, pair.segment.end)),
        is_chain=True,
        options=DIRECT_OPTIONS,
    ),
    Form(
        "unavailable",
        read_unavailable,
        "IDENT",
        "a station out of service",
        ("QHB",),
        "unavailable",
        into=Into.DEFINITION,
        adds=True,
        key=lambda name: name.ident,
    ),
    Form("aircraft", read_file, "FILE", "the aircraft file", ("trainer.toml",), "aircraft"),
    Form("accuracy", word("a standard", read_accuracy), "NAME", "faa, icao, or degrees", ("icao",), "accuracy"),
    Form("terrain", read_file, "FOLDER", "terrain tiles, for minimums of direct legs", ("terrain",), "terrain"),
    Form("tas", word("a speed", read_tas_kt), "SPEED", "true airspeed, before the aircraft's", ("110kt",), "tas_kt"),
    Form("burn", word("a fuel burn", read_burn), "BURN", "fuel burn, before the aircraft's", ("8.5gph",), "burn"),
    Form(
        "wind",
        read_wind,
        "[at POINT] calm, or DDD/SS, or HEIGHT DDD/SS [TEMP] ...",
        "wind by height, or one wind, from true north (`230M/12`: magnetic); `wind at QHB 230/12` where it holds at"
        " a place",
        ("230/12", "3000 230/12 6000 240/18 +4C"),
        "winds",
        into=Into.LIST,
        key=lambda wind: wind.place.text if wind.place else None,
        family="wind",
        sweeping=lambda wind: wind is not None and wind.place is None,
    ),
    Form(
        "winds",
        read_file,
        "FILE",
        "winds by a bulletin",
        ("bulletin.txt",),
        "bulletins",
        into=Into.LIST,
        family="wind",
        sweeping=lambda _: True,
    ),
    Form(
        "notices",
        read_file,
        "FILE",
        "notices (NOTAMs) as a briefer hands them out; those that count at the flight's own hours change its log",
        ("briefing.txt",),
        "notices",
        into=Into.LIST,
        adds=True,
        key=lambda reference: reference.path,
    ),
    Form("date", word("a date", read_date), "DATE", "the day, in the zone of `off`", ("2026-07-18",), "day"),
    Form(
        "off",
        read_off,
        "TIME Z, or TIME ZONE",
        "wheels off, in UTC or by a zone's clocks",
        ("15:10Z", "10:10 America/Chicago"),
        "off",
    ),
    Form("altitude", _LEVEL, "LEVEL", "the cruising altitude, or level: `FL085`", ("4500",), "cruise"),
    Form(
        "rules",
        read_rules,
        "vfr [day or night], or ifr",
        "`vfr` (the default) or `ifr`; `day` or `night`",
        ("vfr day",),
        ("rules", "daytime"),
        into=Into.PARTS,
    ),
    Form(
        "levels",
        word("a table of levels", read_levels),
        "TABLE",
        "which table of cruising levels holds: `us` (the default), `icao` or `nz`",
        ("us",),
        "levels",
    ),
    Form(
        "equipment",
        read_equipment,
        "[vor N] [dme N]",
        "receivers; one VOR and no DME where it is left out",
        ("vor 2 dme 1",),
        "equipment",
        options=EQUIPMENT_OPTIONS,
    ),
    Form(
        "fuel",
        _FUEL,
        "FUEL",
        "usable fuel at the first start-up, before taxi: `taxi` comes off",
        ("38gal",),
        "fuel",
    ),
    Form(
        "taxi",
        read_taxi,
        "[FUEL] [TIME]",
        "fuel for taxiing, taken off once, before the first take-off, and the time from off-block to wheels off",
        ("1gal 8min", "1gal"),
        ("taxi", "taxi_min"),
        into=Into.PARTS,
    ),
    Form(
        "reserve",
        word("a time", read_duration_min),
        "TIME",
        "the reserve, where it is more than the rule's",
        ("45min",),
        "reserve_min",
    ),
    Form(
        "contingency",
        word("a percentage", read_percent),
        "SHARE",
        "a share of the trip fuel to keep",
        ("5%",),
        "contingency_percent",
    ),
    Form("extra", _FUEL, "FUEL", "fuel to keep besides", ("2gal",), "extra"),
    Form(
        "variation",
        word("a variation", read_declination_deg),
        "VARIATION",
        "in headings, in place of the model's",
        ("7E",),
        "variation_deg",
    ),
    Form(
        "altimeter",
        word("an altimeter setting", read_altimeter),
        "PRESSURE",
        "the altimeter setting, for pressure altitude and for the altitude that a flight level is",
        ("1013hPa", "29.92inHg"),
        ("altimeter_hpa", "altimeter_unit"),
        into=Into.PARTS,
    ),
    Form(
        "temperature",
        word("a temperature", read_temperature_c),
        "TEMP",
        "at the airport of departure, for climb and cruise",
        ("+15C",),
        "temperature_c",
    ),
    Form("ceiling", _LEVEL, "LEVEL", "the highest level that `--compare-altitudes` looks at", ("FL125",), "ceiling"),
    Form(
        "pattern",
        word("an altitude", read_altitude_ft),
        "ALTITUDE",
        "where the last descent ends; without it under VFR 1,000 ft above the field (AIM 4-3-3), under IFR the field",
        ("1800ft",),
        "pattern_ft",
    ),
    Form(
        "route",
        read_route,
        "POINT [AIRWAY or DCT] POINT ...",
        "the way: points, airways between them, `DCT` or nothing for direct; `/A055`, `/F085` or `/N0110A055`"
        " changes level and speed from there; `XTAR land 45min fuel 38gal` lands on the way and takes off with 38 gal,"
        " after taxi: none comes off (`XTAR land 45min XTAR/A055` names the level after it), `XTAR over` does not",
        ("XHAR QHB V801 QEL/A055 DCT XOLD",),
        "route",
    ),
    Form(
        "alternate",
        read_alternate,
        "AIRPORT [from POINT [via ...]] [at LEVEL]",
        "an alternate, from the destination or from a point of the route, with the points and airways on its way"
        " (`POINT via ... AIRPORT` is read too). It is a flight of its own, with the clock and fuel of the route there,"
        " and every rule of the route holds on it; where the point is passed more than once, those of the last"
        " passage, and its fuel is judged at each",
        ("XOLD", "XOLD from QEL via V801 QHB at 3500"),
        "alternates",
        into=Into.LIST,
        key=alternate_way,
        adds=True,
        family="alternate",
        sweeping=lambda _: True,
        options=("from", "at"),
    ),
    Form(
        "hold",
        read_hold,
        "POINT TIME, or POINT until LEVEL",
        "a hold over a point that the route line names; with `until` a climb there by aircraft file, asked of ATC",
        ("QHB 4min", "QHB until 6500ft"),
        "holds",
        into=Into.LIST,
        key=lambda hold: hold.point.text,
    ),
    Form(
        "accept",
        read_accept,
        'RULE [on AIRWAY|on POINT POINT|at POINT] "REASON"',
        "silences a rule's findings for the flight, or on a part of it; the reason is printed",
        ('out-of-range on V801 "flown by day in sight of the coast"',),
        "accepted",
        into=Into.LIST,
        key=lambda acceptance: (acceptance.rule, None if acceptance.part is None else acceptance.part.key),
        options=("on", "at"),
    ),
    Form(
        "vor-check",
        read_receiver_check,
        "DATE PLACE [KIND] ERROR ...",
        "the last check of the VOR receivers (14 CFR 91.171): the day, the place, `vot`, `repair-station`, `ground`,"
        " `airborne`, `airway` or `dual`, and the bearing error in degrees, one a receiver",
        ("2026-07-04 XHAR ground +2",),
        "receiver_check",
    ),
    Form(
        "radio",
        read_radio,
        'PLACE "NAME" MHZ',
        "a frequency to print",
        ('XHAR "Tower" 118.700',),
        "radios",
        into=Into.LIST,
        adds=True,
    ),
    Form(
        "note",
        read_note,
        '"REMARK"',
        "a remark to print",
        ('"close the flight plan by radio"',),
        "notes",
        into=Into.LIST,
        adds=True,
    ),
    Form(
        "flight",
        read_name_of_flight,
        '"NAME"',
        "begins a flight; without one the file is one flight",
        ('"Round the marsh"',),
        "name",
    ),
)
STATEMENTS = {one.keyword: one for one in _TABLE}
"""Every statement by its keyword, in the order of the topic `route-file`."""


def scope_keys(statement: Statement) -> tuple[Hashable, ...]:
    """What a scope may hold only once of `statement`: two statements that share a key exclude each other.

    Within a scope that is a problem; between a flight and the common part the flight's own one counts.
    Empty for statements that add up, but for those of a list with a key: they are not to be the same.
    """
    form = STATEMENTS[statement.keyword]
    if form.adds and (form.key is None or form.into is Into.DEFINITION):
        return ()
    if form.key is None:
        return (form.keyword,)
    if statement.value is not None:
        return tuple((form.keyword, key) for key, _ in form.entries(statement.value))
    return ((form.keyword, statement.words[0].text),) if form.is_named and statement.words else ()
