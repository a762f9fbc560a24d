"""Whether the stations in use can be received: volume, horizon, spacing, and parts that are unusable.

Off airways the standard service volumes and the horizon bind. On an airway they are looked at only below the
MEA, or below the MOCA within 22 NM of the VOR in use, which assure the signal. Unusable sectors bind
everywhere: published airways leave stations inside one.
"""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import altitudes_ft
from navlog.flightlog.facts import across_gap, gap_minutes, heading_text, no_signal
from navlog.flightlog.marks import SLACK_NM, VOLUME_FLOOR_FT, dme_sector
from navlog.flightlog.records import Leg, Mark, Phase, Trouble
from navlog.flightlog.sure import station_distances_nm
from navlog.nav.chart import Airway, Service, Station, StationKind
from navlog.nav.figures import course, distance, stated_distance, whole
from navlog.nav.radio import radio_horizon_nm, service_radius_nm, widest_radius_nm
from navlog.nav.sectors import Sector
from navlog.resolve.route import ChangeoverKind, MarkKind
from navlog.rules.heights import lowest_beyond_ft, lowest_ft
from navlog.rules.registry import Case, Found, Group, Severity, once_a_case, rule
from navlog.rules.samples import BASE, sample

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_NORMAL, _CRUISE, _UNKNOWN = Service.NORMAL, Phase.CRUISE, ChangeoverKind.UNKNOWN

_SPACING_NM = ((14_500.0, 80.0), (18_000.0, 80.0), (45_000.0, 260.0))
"""How far apart stations may be off airways, up to a height; above, 200 NM (FAA Instrument Procedures
Handbook, chapter 3; AIM 5-1-8)."""

_SPACING_HIGH_CLASS_NM = 200.0
"""The same for stations of class H from 14,500 ft to below 18,000 ft, and for all above FL450."""


_QSK = "station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft"


@rule(
    "out-of-range",
    Severity.WARNING,
    group=Group.GUIDANCE,
    source="FAA AIM 1-1-8, standard service volumes; 14 CFR 91.177 and 95.1 for airways",
    remedy="fly where and as high as the class serves, use a nearer station, or hold heading and time",
    passing=sample("route XHAR QHB V801 QEL/A055 4527N03950W", "-direct QEL"),
    failing=sample("route XHAR QHB V801 QEL/A055 4454N03950W", "-direct QEL"),
)
def out_of_range(case: Case) -> Iterator[Found]:
    """A station is used outside its standard service volume.

    In climb and descent the volume's floor of 1,000 ft above the station does not count. A DME or cross radial
    that tells a fix counts too, the DME by its own class; the published make-up of a fix is assured.
    """
    yield from out_of_volume(case)
    for leg, mark in _troubled(case):
        away_nm = mark.by.away_nm
        if Trouble.VOLUME in mark.troubles and away_nm is not None:
            by_dme = mark.kind is MarkKind.DME
            service = (mark.station.dme_service if by_dme else None) or mark.station.service
            if service is not None:
                yield from _outside(leg, mark.station, service, (0.0, away_nm), " DME" if by_dme else "", case)


@once_a_case
def _troubled(case: Case) -> Iterator[tuple[Leg, Mark]]:
    """What tells the ends of the legs and is not to be received, each with its leg; time at a place tells nothing."""
    for leg in case.marked:
        for mark in leg.marks:
            if mark.troubles:
                yield leg, mark


def out_of_volume(case: Case) -> Iterator[Found]:
    """The legs that use their station outside its standard service volume."""
    for leg, guidance in case.exposed:
        station = guidance.station
        if station.service is not None:
            reach = station_distances_nm(leg)
            if reach is not None:
                yield from _outside(leg, station, station.service, reach, "", case)


def _ends(leg: Leg, reach: tuple[float, float]) -> tuple[tuple[float, float], tuple[float, float]]:
    """How far from the station and how high each end of a leg is."""
    (start_ft, end_ft), (start_nm, end_nm) = altitudes_ft(leg), reach
    return (start_nm, start_ft), (end_nm, end_ft)


def _outside(
    leg: Leg, station: Station, service: str, reach: tuple[float, float], part: str, case: Case
) -> Iterator[Found]:
    """The end of a leg that lies farther outside a service volume, where one does.

    A station of unknown elevation counts as far as its class serves at any height that there may be above it.
    """
    worst: tuple[float, str] | None = None
    known = station.elevation_ft is not None
    foot_ft = station.elevation_ft if station.elevation_ft is not None else case.ground_ft
    for away_nm, altitude_ft in _ends(leg, reach):
        above_ft = altitude_ft - foot_ft
        # No volume reaches down to a runway; every climb would else be out of range.
        if leg.phase is not _CRUISE:
            above_ft = max(above_ft, VOLUME_FLOOR_FT)
        radius_nm = (service_radius_nm if known else widest_radius_nm)(service, above_ft)
        beyond_nm = 0.0 if radius_nm is None else away_nm - radius_nm
        if radius_nm is not None and beyond_nm > SLACK_NM and (worst is None or beyond_nm > worst[0]):
            serves = f"serves {radius_nm:.0f} NM" if radius_nm else "serves nothing"
            worst = (
                beyond_nm,
                f"{station.ident}{part} class {service} {serves}"
                f" {f'at {whole(above_ft)} ft above it' if known else 'at the most, its elevation not known'};"
                f" it is used {case.count(leg).away(away_nm)} NM away",
            )
    if worst is not None:
        yield Found(worst[1], leg, by=worst[0], station=station.ident)


_NO_ELEVATION = ", its elevation not known and so taken as the lowest of the flight"


@rule(
    "below-horizon",
    Severity.WARNING,
    group=Group.GUIDANCE,
    source="ATIS telecom glossary, radio horizon range: 1.23 x (sqrt(h1) + sqrt(h2)) NM, heights in ft",
    remedy="fly higher, or use a nearer station",
    passing=BASE,
    failing=sample("altitude 1200", "route XHAR QHB 4526N03942W", "-direct QEL"),
)
def below_horizon(case: Case) -> Iterator[Found]:
    """A station is used from below its radio horizon.

    The ground between is taken to be as low as the lowest elevation known of the flight, so hills are not seen. In
    climb and descent the first 1,000 ft above it do not count, as with the volumes: from the runway no station is
    over the horizon. The
    ATIS telecom glossary has, of the radio horizon range: "in nautical miles, R, is given by the relation
    R = 1.23(h_t^1/2 + h_r^1/2), where h_t and h_r are the heights of the transmitting and receiving antennas in
    feet." It counts with 4/3 of the earth's radius. That heights count from the lowest ground is common practice, no
    source.
    """
    yield from under_horizon(case)


def under_horizon(case: Case) -> Iterator[Found]:
    """The legs that use their station from below its radio horizon."""
    ground_ft = case.ground_ft
    for leg, guidance in case.exposed:
        reach = station_distances_nm(leg)
        if reach is None:
            continue
        known_ft = guidance.station.elevation_ft
        # Of unknown elevation it counts as on the lowest ground: nothing says that it stands higher.
        mast_ft = 0.0 if known_ft is None else known_ft - ground_ft
        # On the runway both antennas may be at the height of the lowest ground, from where the formula sees nothing.
        counted_ft = ground_ft + (0.0 if leg.phase is _CRUISE else VOLUME_FLOOR_FT)
        short: list[tuple[float, float, float]] = []
        for away_nm, end_ft in _ends(leg, reach):
            altitude_ft = end_ft if end_ft > counted_ft else counted_ft
            horizon_nm = radio_horizon_nm(altitude_ft - ground_ft, mast_ft)
            if away_nm > horizon_nm + SLACK_NM:
                short.append((away_nm, horizon_nm, altitude_ft))
        if short:
            away_nm, horizon_nm, altitude_ft = max(short)
            yield Found(
                f"{guidance.station.ident} is {case.count(leg).away(away_nm)} NM away and the radio horizon from"
                f" {whole(altitude_ft)} ft is {distance(horizon_nm)} NM{'' if known_ft is not None else _NO_ELEVATION}",
                leg,
                by=away_nm - horizon_nm,
                station=guidance.station.ident,
            )
    for leg, mark in _troubled(case):
        if Trouble.HORIZON in mark.troubles:
            yield Found(
                f"{mark.station.ident}, {distance(mark.by.away_nm)} NM from {leg.end.name}, is under the radio"
                f" horizon there at {whole(altitudes_ft(leg)[1])} ft",
                leg,
            )


@rule(
    "stations-apart",
    Severity.WARNING,
    group=Group.GUIDANCE,
    source="FAA Instrument Procedures Handbook, chapter 3: direct routes by stations",
    remedy="put another station between them, or fly an airway",
    passing=BASE,
    failing=sample(
        "station QEL 110.20 N44 44.10 W039 33.00 decl 17W class VH dme elev 410ft",
        "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class VH dme elev 820ft",
        "airport XOLD N44 41.00 W039 20.00 elev 350ft",
        "-airway V801",
        "route XHAR QHB DCT QEL/A055 XOLD",
    ),
)
def stations_apart(case: Case) -> Iterator[Found]:
    """Off airways two stations are farther apart than is counted on: 80 NM below 18,000 ft."""
    for leg in case.first_legs:
        stretch = leg.stretch
        if stretch.airway is not None:
            continue
        start, end = stretch.start.station, stretch.end.station
        if start is None or end is None:
            continue
        if start.kind is not StationKind.VOR or end.kind is not StationKind.VOR:
            continue
        limit_nm = spacing_nm(stretch.level.altitude_ft, start, end)
        if stretch.length_nm > limit_nm:
            yield Found(
                f"{start.ident} and {end.ident} are {case.count(leg).along(stretch.length_nm)} NM apart; off airways"
                f" {limit_nm:.0f} NM is the most at {whole(stretch.level.altitude_ft)} ft",
                leg,
            )


def spacing_nm(altitude_ft: float, one: Station, other: Station) -> float:
    """How far apart two stations may be off airways at an altitude."""
    # Between these heights two stations of the high classes reach farther than low ones; above, all in use are high.
    if 14_500.0 <= altitude_ft < 18_000.0 and one.service in ("H", "VH") and other.service in ("H", "VH"):
        return _SPACING_HIGH_CLASS_NM
    return next((nm for below_ft, nm in _SPACING_NM if altitude_ft < below_ft), _SPACING_HIGH_CLASS_NM)


@rule(
    "unusable-sector",
    Severity.WARNING,
    group=Group.GUIDANCE,
    at_times=(Severity.NOTE,),
    source="the station's published remarks (FAA NASR NAV_RMK), or `unusable` in the file",
    remedy="use another station there, fly higher or nearer, or hold heading and time",
    passing=sample(
        "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft unusable 150-160 beyond 10nm"
    ),
    failing=sample("station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft unusable 205-220"),
)
def unusable_sector(case: Case) -> Iterator[Found]:
    """A station is used on a radial on which it is published as unusable.

    On airways too: the charted radial of an airway may lie in an unusable sector of the station. A radial or DME
    that only tells a place counts at its distance from the station. A note of a DME that would tell a changeover
    point: the log goes by the DME ahead there, or by time.
    """
    for leg in case.legs:
        guidance = leg.part.guidance
        sector = _unusable(leg, guidance.unusable) if guidance is not None and guidance.unusable else None
        if guidance is not None and sector is not None:
            yield Found(_use_text(guidance.station, guidance.radial.flown, sector, ""), leg)
    for leg, mark in _troubled(case):
        if Trouble.SECTOR not in mark.troubles:
            continue
        sector = mark.by.unusable_at(leg.end_altitude_ft)
        if sector is not None:
            part = " DME" if mark.kind is MarkKind.DME else ""
            yield Found(_use_text(mark.station, mark.by.radial_deg, sector, part), leg)
    for leg, changeover in case.changeovers if case.request.equipment.dme else ():
        behind = changeover.behind
        sector = dme_sector(leg, behind) if behind.dme and changeover.kind is not _UNKNOWN else None
        if sector is not None:
            told = f"{_sector_text(behind, sector, ' DME')}: it does not tell the changeover point"
            yield Found(told, leg, Severity.NOTE)


def _unusable(leg: Leg, sectors: tuple[Sector, ...]) -> Sector | None:
    """The first of the unusable sectors on the radial of a leg that it reaches."""
    for sector in sectors:
        # A reach that cannot be measured counts as passed: the lowest height of the leg then decides.
        low_ft: float | None = lowest_ft(leg)
        if sector.beyond_nm is not None and (reach := station_distances_nm(leg)) is not None:
            low_ft = lowest_beyond_ft(altitudes_ft(leg), reach, sector.beyond_nm)
        if low_ft is not None and sector.reaches(distance_nm=None, altitude_ft=low_ft):
            return sector
    return None


def _use_text(station: Station, radial_deg: float | None, sector: Sector, part: str) -> str:
    """What is unusable, and the radial used."""
    return f"{_sector_text(station, sector, part)}; radial {course(radial_deg)} is used"


def _sector_text(station: Station, sector: Sector, part: str) -> str:
    """What of a station is unusable where."""
    limits = f"radials {sector.start_deg:03.0f}-{sector.end_deg:03.0f}"
    if sector.start_deg == sector.end_deg:
        limits = f"radial {sector.start_deg:03.0f}"
    beyond = f" beyond {stated_distance(sector.beyond_nm)} NM" if sector.beyond_nm is not None else ""
    below = f" below {whole(sector.below_ft)} ft" if sector.below_ft is not None else ""
    return f"{station.ident}{part} is unusable on {limits}{beyond}{below}"


@rule(
    "station-off-airway",
    Severity.NOTE,
    source="the make-ups of the fixes (FAA NASR FIX_NAV), a published remark, or `on STN RADIAL` in the file",
    remedy="tune and identify that station; it is not on the airway's line on the chart",
    passing=BASE,
    failing=sample("airway V801 QHB - QEL 29.5nm mea 3000 moca 2400 maa 17500 on QSK 273", _QSK),
    group=Group.GUIDANCE,
)
def station_off_airway(case: Case) -> Iterator[Found]:
    """An airway is flown on the radial of a station that it does not pass."""
    told: tuple[Station, Airway] | None = None
    for leg in case.legs:
        airway, guidance = leg.stretch.airway, leg.part.guidance
        if airway is None or guidance is None or guidance.station.ident in airway.points:
            told = None
            continue
        station = guidance.station
        if told is not None and told[0].ident == station.ident and told[1] is airway:
            continue
        told = (station, airway)
        radial = f"radial {course(guidance.radial.flown)} of {station.ident}"
        whose = f"{station.name}, which {airway.ident} does not pass" if station.name else "not on the airway"
        yield Found(f"from {leg.start.name} {airway.ident} is flown on {radial} ({whose})", leg)


@rule(
    "signal",
    Severity.WARNING,
    group=Group.GUIDANCE,
    at_times=(Severity.ERROR,),
    source="FAA NASR AWY_SEG_ALT MEA_GAP and SIGNAL_GAP_FLAG; AIM glossary, MEA gap",
    remedy="hold heading and time across the gap, or fly another airway",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 gap 6nm cop 11 QHB"),
)
def signal(case: Case) -> Iterator[Found]:
    """A part of an airway has no usable signal, or none that a VOR receiver can use.

    An error where the whole part is unusable or for satellite navigation alone.
    """
    for leg in case.first_legs:
        stretch = leg.stretch
        if stretch.service is _NORMAL:
            continue
        where = f"{stretch.via} from {stretch.start.name} to {stretch.end.name}: {no_signal(stretch)}"
        if stretch.service is Service.SIGNAL_GAP:
            yield Found(f"{where}{_held_across(across_gap(leg, case.legs))}", leg)
        else:
            yield Found(where, leg, Severity.ERROR)


def _held_across(leg: Leg) -> str:
    """The heading and time to hold across a gap, where they are known."""
    heading = heading_text(leg)
    if heading is None:
        return ""
    hold = f", hold heading {heading}"
    minutes = gap_minutes(leg)
    return hold if minutes is None else f"{hold} for {minutes} min"
