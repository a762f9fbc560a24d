"""Where the committed excerpts of published data are, and the day that their tests ask about."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TypeAlias

from navlog.catalogue.queries import Catalogue
from navlog.nav.chart import Airway, Segment

DATA = Path(__file__).parents[1] / "data"
DAY = date(2026, 5, 20)
"""A day in AIRAC cycle 2605, which the NASR excerpt is of."""

Row: TypeAlias = dict[str, str]
"""A row of a published file by its columns."""


def airway(catalogue: Catalogue, ident: str, location: str = "C") -> Airway:
    """The airway of that designator and location."""
    return next(one for one in catalogue.airways(ident, DAY) if one.location == location)


def segment(catalogue: Catalogue, ident: str, start: str, end: str, location: str = "C") -> Segment:
    """The segment of an airway from one point to the next."""
    found = airway(catalogue, ident, location).segments
    return next(one for one in found if (one.start, one.end) == (start, end))


QHB: Row = {
    "NAV_ID": "QHB",
    "NAV_TYPE": "VOR/DME",
    "CITY": "HARBOUR",
    "COUNTRY_CODE": "XX",
    "LAT_DECIMAL": "46.205",
    "LONG_DECIMAL": "-39.345",
    "MAG_VARN": "15",
    "MAG_VARN_HEMIS": "W",
    "FREQ": "113.7",
}
"""A row of NAV_BASE.csv as published, of an invented station."""
