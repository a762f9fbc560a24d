"""FAA NASR subscription in its CSV form: which columns of which file are kept, and which rows are refused.

Layouts: the FAA's *_CSV_DATA_STRUCTURE files of 2024 to 2026. Columns are found by name, as they come and
go between cycles. Line breaks inside quotes are the CSV reader's business; padding stays on until a row is
read back, except on identifiers.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from navlog.catalogue.archive import Member
from navlog.catalogue.batch import Batch, Tick
from navlog.catalogue.rows import (
    AngleTwice,
    Layout,
    Loaded,
    impossible_height,
    load_csv,
    no_name,
    no_position,
    not_a_number,
    outside,
    reject_where,
    trim,
)
from navlog.nav.airac import YEARS, cycle_ident, expiry, is_effective_date
from navlog.nav.chart import Provenance, Source
from navlog.nav.problems import NavlogError, problem_error

if TYPE_CHECKING:
    import sqlite3

WITHOUT = {
    "NAV_BASE.csv": "no station is known, and airways have no radials",
    "NAV_RMK.csv": "unusable radials are not known",
    "FIX_BASE.csv": "fixes have a position only where their make-up gives one",
    "FIX_NAV.csv": "the radials and distances that define a fix are not known",
    "APT_BASE.csv": "no airport is known",
    "AWY_BASE.csv": "remarks on whole airways are not known",
    "AWY_SEG_ALT.csv": "no airway is known",
    "PFR_BASE.csv": "preferred routes are not known",
    "NAV_CKPT.csv": "no checkpoint for VOR receivers is known",
}
"""The files that an import looks for, and what can't be answered without each."""

_DATED = "EFF_DATE"
_AXES = (
    AngleTwice("LAT_DECIMAL", ("LAT_DEG", "LAT_MIN", "LAT_SEC"), "LAT_HEMIS", {"N": 1.0, "S": -1.0}),
    AngleTwice("LONG_DECIMAL", ("LONG_DEG", "LONG_MIN", "LONG_SEC"), "LONG_HEMIS", {"E": 1.0, "W": -1.0}),
)


def _layout(table: str, needed: str, columns: str) -> Layout:
    """A layout from `column=FILE_COLUMN` words."""
    pairs = tuple((name, source) for name, _, source in (word.partition("=") for word in columns.split()))
    return Layout(table, pairs, frozenset(needed.split()) | {_DATED}, _DATED, _AXES)


_LAYOUTS = {
    "NAV_BASE.csv": _layout(
        "station",
        "NAV_ID NAV_TYPE LAT_DECIMAL LONG_DECIMAL MAG_VARN MAG_VARN_HEMIS FREQ",
        """ident=NAV_ID type=NAV_TYPE name=NAME city=CITY state=STATE_CODE country=COUNTRY_CODE
        latitude=LAT_DECIMAL longitude=LONG_DECIMAL elevation=ELEV declination=MAG_VARN
        hemisphere=MAG_VARN_HEMIS declination_year=MAG_VARN_YEAR frequency=FREQ channel=CHAN
        service=ALT_CODE dme_service=DME_SSV status=NAV_STATUS""",
    ),
    "NAV_RMK.csv": _layout(
        "station_remark",
        "NAV_ID NAV_TYPE REMARK",
        "ident=NAV_ID type=NAV_TYPE city=CITY country=COUNTRY_CODE text=REMARK",
    ),
    "FIX_BASE.csv": _layout(
        "fix",
        "FIX_ID LAT_DECIMAL LONG_DECIMAL",
        """ident=FIX_ID region=ICAO_REGION_CODE state=STATE_CODE country=COUNTRY_CODE
        latitude=LAT_DECIMAL longitude=LONG_DECIMAL mra=MIN_RECEP_ALT""",
    ),
    "FIX_NAV.csv": _layout(
        "makeup",
        "FIX_ID NAV_ID NAV_TYPE BEARING DISTANCE",
        """fix=FIX_ID region=ICAO_REGION_CODE station=NAV_ID type=NAV_TYPE radial=BEARING
        distance=DISTANCE""",
    ),
    "APT_BASE.csv": _layout(
        "airport",
        "ARPT_ID ARPT_NAME LAT_DECIMAL LONG_DECIMAL",
        """ident=ARPT_ID icao=ICAO_ID name=ARPT_NAME type=SITE_TYPE_CODE state=STATE_CODE
        country=COUNTRY_CODE latitude=LAT_DECIMAL longitude=LONG_DECIMAL elevation=ELEV
        status=ARPT_STATUS use=FACILITY_USE_CODE""",
    ),
    "AWY_BASE.csv": _layout("airway", "AWY_ID AWY_LOCATION REMARK", "ident=AWY_ID location=AWY_LOCATION remark=REMARK"),
    "AWY_SEG_ALT.csv": _layout(
        "airway_point",
        """AWY_ID AWY_LOCATION POINT_SEQ FROM_POINT FROM_PT_TYPE TO_POINT MAG_COURSE OPP_MAG_COURSE
        MAG_COURSE_DIST AWY_SEG_GAP_FLAG MIN_ENROUTE_ALT MIN_ENROUTE_ALT_DIR MEA_GAP""",
        """airway=AWY_ID location=AWY_LOCATION seq=POINT_SEQ point=FROM_POINT type=FROM_PT_TYPE
        city=NAV_CITY region=ICAO_REGION_CODE next=TO_POINT course=MAG_COURSE
        opposite_course=OPP_MAG_COURSE distance=MAG_COURSE_DIST cop_station=CHGOVR_PT
        cop_distance=CHGOVR_PT_DIST discontinued=AWY_SEG_GAP_FLAG signal_gap=SIGNAL_GAP_FLAG dogleg=DOGLEG
        mea=MIN_ENROUTE_ALT mea_way=MIN_ENROUTE_ALT_DIR mea_opposite=MIN_ENROUTE_ALT_OPPOSITE
        mea_opposite_way=MIN_ENROUTE_ALT_OPPOSITE_DIR gnss_mea=GPS_MIN_ENROUTE_ALT
        gnss_way=GPS_MIN_ENROUTE_ALT_DIR gnss_opposite=GPS_MIN_ENROUTE_ALT_OPPOSITE
        gnss_opposite_way=GPS_MEA_OPPOSITE_DIR moca=MIN_OBSTN_CLNC_ALT mca=MIN_CROSS_ALT
        mca_way=MIN_CROSS_ALT_DIR mca_point=MIN_CROSS_ALT_NAV_PT mca_opposite=MIN_CROSS_ALT_OPPOSITE
        mca_opposite_way=MIN_CROSS_ALT_OPPOSITE_DIR mra=MIN_RECEP_ALT maa=MAX_AUTH_ALT mea_gap=MEA_GAP
        remark=REMARK""",
    ),
    "PFR_BASE.csv": _layout(
        "preferred_route",
        "ORIGIN_ID DSTN_ID PFR_TYPE_CODE ROUTE_STRING",
        """origin=ORIGIN_ID destination=DSTN_ID kind=PFR_TYPE_CODE number=ROUTE_NO area=SPECIAL_AREA_DESCRIP
        altitude=ALT_DESCRIP aircraft=AIRCRAFT hours=HOURS direction=ROUTE_DIR_DESCRIP designator=DESIGNATOR
        nar_type=NAR_TYPE route=ROUTE_STRING""",
    ),
    "NAV_CKPT.csv": _layout(
        "checkpoint",
        "NAV_ID NAV_TYPE BRG AIR_GND_CODE CHK_DESC",
        """station=NAV_ID type=NAV_TYPE city=CITY country=COUNTRY_CODE airport=ARPT_ID radial=BRG altitude=ALTITUDE
        way=AIR_GND_CODE text=CHK_DESC""",
    ),
}

_STATION_TYPES = (
    "VOR", "VOR/DME", "VORTAC", "TACAN", "DME", "NDB", "NDB/DME", "MARINE NDB", "MARINE NDB/DME",
    "UHF/NDB", "VOT", "FAN MARKER",
)  # fmt: skip
"""Every NAV_TYPE of the layout but CONSOLAN, of which none is left."""

_IN_TYPES = ", ".join(f"'{name}'" for name in _STATION_TYPES)
_ALTITUDES = ("mea", "mea_opposite", "gnss_mea", "gnss_opposite", "moca", "mca", "mca_opposite", "mra", "maa")
_REASONS = {
    "station": [
        *not_a_number("elevation", "declination", "declination_year", "frequency"),
        *no_name("ident"),
        (f"type NOT IN ({_IN_TYPES})", "its station type is unknown"),
        *no_position(),
        # Unsigned in the file, with its hemisphere beside it; the sign is given when a row is read back.
        outside("declination", 0, 180),
        impossible_height("elevation"),
        # Zero needs no side; any other number without one would be a guess of up to twice its size.
        (
            "declination BETWEEN 0.01 AND 180 AND hemisphere NOT IN ('E', 'W')",
            "the declination is neither east nor west",
        ),
        (
            "type IN ('VOR', 'VOR/DME', 'VORTAC') AND frequency NOT BETWEEN 108 AND 117.95",
            "the frequency is not one of a VOR",
        ),
    ],
    "station_remark": no_name("ident"),
    "fix": [*not_a_number("mra"), *no_name("ident"), *no_position(), impossible_height("mra")],
    "makeup": [
        *not_a_number("radial", "distance"),
        *no_name("fix"),
        *no_name("station"),
        outside("radial", 0, 360),
        outside("distance", 0, 1000),
    ],
    "airport": [*not_a_number("elevation"), *no_name("ident"), *no_position(), impossible_height("elevation")],
    "airway": no_name("ident"),
    "airway_point": [
        *not_a_number("seq", "course", "opposite_course", "distance", "cop_distance", *_ALTITUDES),
        *no_name("airway"),
        *no_name("point"),
        ("seq = ''", "it has no place in its airway"),
        outside("course", 0, 360),
        outside("opposite_course", 0, 360),
        outside("distance", 0, 5000),
        *map(impossible_height, _ALTITUDES),
    ],
    "preferred_route": [*not_a_number("number"), *no_name("origin"), *no_name("destination")],
    "checkpoint": [
        *not_a_number("radial", "altitude"),
        *no_name("station"),
        ("radial = ''", "it has no radial"),
        outside("radial", 0, 360),
        impossible_height("altitude"),
        ("way NOT IN ('A', 'G', 'G1')", "it is neither on the ground nor in the air"),
    ],
}
_NAMES = {"station": "ident", "fix": "ident", "makeup": "fix", "airport": "ident", "airway_point": "point"}


def knows(name: str) -> bool:
    """True for the name of a file that is read, in capitals or not."""
    return name.lower() in {known.lower() for known in WITHOUT}


def load(connection: sqlite3.Connection, members: Sequence[Member], edition: int, tick: Tick) -> Batch:
    """Load every known file; the edition is dated by the newest of them, and marked where one is of an earlier cycle.

    Raises a `bad-date` problem where a file's effective date can't be read.
    """
    named = {member.name.lower(): member for member in members}
    batch = Batch(Provenance(Source.NASR), [])
    dates: dict[str, date] = {}
    # In the order of the table and not of the archive, so that an import tells the same of a folder and of a zip.
    for name, consequence in WITHOUT.items():
        member = named.get(name.lower())
        if member is None:
            batch.missing.append((name, consequence))
            continue
        try:
            loaded = load_csv(connection, member, _LAYOUTS[name], edition, partial(tick, member))
        except NavlogError as error:
            batch.broken += error.problems
            continue
        reject_where(connection, loaded, _REASONS[loaded.table])
        if loaded.table in _NAMES:
            trim(connection, loaded, _NAMES[loaded.table])
        if loaded.table == "station_remark":
            _read_sectors(connection, loaded)
        batch.loaded.append(loaded)
        loaded.effective = _effective(loaded)
        if loaded.effective is not None:
            dates[name] = loaded.effective
    if dates:
        # By the newest: an older file among them is told, and must not make the whole edition look expired.
        newest = max(dates.values())
        batch.provenance = Provenance(Source.NASR, cycle_ident(newest), newest, expiry(newest))
        batch.notes += _uneven(dates)
    return batch


def _read_sectors(connection: sqlite3.Connection, loaded: Loaded) -> None:
    """Enter the unusable sectors that the remarks tell, and mark the remarks that are told whole by them."""
    from navlog.catalogue.station_remarks import read_unusable

    sectors: list[tuple[object, ...]] = []
    whole: list[tuple[int]] = []
    for row, *key, text in connection.execute(
        "SELECT rowid, ident, type, city, country, text FROM station_remark WHERE rowid >= ?",
        (loaded.first_row,),
    ):
        found, complete = read_unusable(text)
        sectors.extend((*key, *sector) for sector in found)
        if complete:
            whole.append((row,))
    connection.executemany(
        "INSERT INTO sector (edition, ident, type, city, country, start, end, beyond, below, part, text) "
        f"VALUES ({loaded.edition}, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        sectors,
    )
    connection.executemany("UPDATE station_remark SET read = 1 WHERE rowid = ?", whole)


def _effective(loaded: Loaded) -> date | None:
    if loaded.published is None:
        return None
    try:
        day = date.fromisoformat(loaded.published.strip().replace("/", "-"))
        # A year out of the calendar's reach is a damaged date; a cycle made of it would hold for ever.
        if day.year not in YEARS:
            raise ValueError
        return day
    except ValueError:
        raise problem_error(
            "bad-date", f"{loaded.label} is dated `{loaded.published}`", hint="is it the FAA's own file?"
        ) from None


def _uneven(dates: dict[str, date]) -> list[str]:
    """What to say where not all files are of one day, or the day is not one of the AIRAC calendar."""
    newest = max(dates.values())
    notes = [f"{name} is of {day}, the newest file of {newest}" for name, day in dates.items() if day != newest]
    if not is_effective_date(newest):
        notes.append(f"{newest} is not the first day of an AIRAC cycle")
    return notes
