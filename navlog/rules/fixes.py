"""Fixes that are hard to tell, and legs too short to fly as drawn."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, sin

from msgspec import Struct

from navlog.flightlog.records import Leg
from navlog.nav.accuracy import Accuracy
from navlog.nav.chart import Source
from navlog.nav.figures import course, distance, whole
from navlog.nav.guidance import distance_from
from navlog.resolve.identify import FARTHEST_NM
from navlog.resolve.route import MarkKind, PointKind, Stretch
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, sample

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_AIRPORT, _FIX, _DME = PointKind.AIRPORT, PointKind.FIX, MarkKind.DME

_WEAK_CUT_DEG = 45.0
_BAD_CUT_DEG = 30.0
"""Practice case A28, common practice, no source."""

_SHORT_NM = 2.0
_SHORT_MIN = 1.0
"""Practice case A64: at 110 kt a rate-one turn has a radius of 0.6 NM; common practice, no source."""

_ABEAM = (
    "station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L elev 150ft",
    "fix MARSH N46 04.00 W039 24.23",
    "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000",
)
"""A fix between the two stations of the samples, which a third, beside the way, marks."""

_CORNER_DEG = 30.0
"""From here a turn takes up a good part of a short leg (common practice, no source)."""


@rule(
    "poor-cut",
    Severity.WARNING,
    group=Group.REST,
    at_times=(Severity.ERROR, Severity.NOTE),
    source="TERPS crossing error of 3.6 degrees; limits of 45 and 30 degrees common practice, no source",
    remedy="choose a station more nearly abeam, or mark the fix by DME",
    passing=sample("fix ROSKO QHB 160 x QEL 090", "route XHAR QHB ROSKO QEL/A055 XOLD"),
    failing=sample("fix ROSKO QHB 185 x QEL 042", "route XHAR QHB ROSKO QEL/A055 XOLD"),
)
def poor_cut(case: Case) -> Iterator[Found]:
    """A radial that marks a fix cuts badly: at less than 45 degrees, an error at less than 30.

    A fix of the file is held against the radials that define it, else against the track; one that DME marks is
    left out. At a published fix, whose radials cannot be chosen, it is a note.
    """
    for leg in case.legs:
        if leg.stretch.end.kind is not _FIX or not leg.ends_stretch or leg.stays:
            continue
        fix = leg.stretch.end.fix
        found = _cut_along_track(leg) if fix is not None and fix.published else _crossing_of(leg, case.request.accuracy)
        if found is None or not found.cut_deg < _WEAK_CUT_DEG:
            continue
        moved = f"an error of {case.request.accuracy.crossing_deg} degrees moves it {distance(found.error_nm)} NM"
        worse = _WEAK_CUT_DEG - found.cut_deg
        if fix is not None and fix.published:
            best = leg.marks[0]
            what = f"{best.station.ident} {course(best.by.radial_deg)} cuts the track at {leg.end.name}"
            text = f"{what} at {whole(found.cut_deg)} degrees: {moved} along it"
            yield Found(text, leg, Severity.NOTE, by=worse)
        else:
            severity = Severity.ERROR if found.cut_deg < _BAD_CUT_DEG else Severity.WARNING
            text = f"the radials that mark {leg.end.name} cross at {whole(found.cut_deg)} degrees: {moved}"
            yield Found(text, leg, severity, by=worse)


class _Cut(Struct, frozen=True):
    """The angle of a cut, and how far the standard's error of a radial moves the fix."""

    cut_deg: float
    error_nm: float | None


def _crossing_of(leg: Leg, accuracy: Accuracy) -> _Cut | None:
    """The cut of the radials that define a fix of the file, else of the radial that marks it; None by DME."""
    end = leg.stretch.end
    # Told by a distance the fix does not hang on how its radials cut.
    if any(mark.kind is _DME for mark in leg.marks):
        return None
    if end.crossing is None:
        return _cut_along_track(leg)
    cut_deg = end.crossing.cut_deg
    # What 1 degree moves the fix, back to the distance it was computed from.
    # By the farther of the two stations, which moves the fix most.
    away_nm = end.crossing.error_nm_per_deg * sin(radians(cut_deg)) / sin(radians(1.0))
    return _Cut(cut_deg, accuracy.radial_nm(away_nm, cut_deg))


def _cut_along_track(leg: Leg) -> _Cut | None:
    """How the radial that best marks a leg's end cuts the track; None where DME or nothing marks it."""
    mark = leg.marks[0] if leg.marks else None
    if mark is None or mark.by.kind is _DME or mark.cut_deg is None:
        return None
    return _Cut(mark.cut_deg, mark.error_nm)


@rule(
    "fix-by-time",
    Severity.WARNING,
    group=Group.GUIDANCE,
    source="AIM Pilot/Controller Glossary, fix and dead reckoning, from memory; 14 CFR 95.1, MRA",
    remedy="mark the fix by a station that is received there, or plan a way whose fixes are told",
    passing=sample("rules ifr", *_ABEAM, "equipment vor 1"),
    failing=sample("rules ifr", *_ABEAM, "equipment vor 1", "unavailable QSK"),
)
def fix_by_time(case: Case) -> Iterator[Found]:
    """A fix on a radial that a crossing radial is there to mark is found by the clock alone, under IFR.

    It has an MRA, is made up by a station that is out of service, or has one of the file within 80 NM that is; no DME
    and no other radial tells it: how far along it lies is dead reckoning. Not told of fixes that nothing ever marked,
    nor of a leg without guidance, which `no-guidance` tells.
    """
    for leg in case.legs if case.request.rules == "ifr" else ():
        if not leg.ends_stretch or leg.stays or leg.marks or leg.part.guidance is None:
            continue
        # None where the place tells itself, as a station over which the flag turns.
        if leg.stretch.candidates is None:
            continue
        mra_ft, out = leg.stretch.limits.mra_end_ft, _out_around(case, leg)
        if mra_ft is None and not out:
            continue
        why = [f"{', '.join(out)} {'is' if len(out) == 1 else 'are'} out of service"] if out else []
        if mra_ft is not None:
            why.append(f"its MRA of {whole(mra_ft)} ft is for a crossing radial")
        lost = "no DME and no radial across the way tells it"
        yield Found(f"{leg.end.name} is found by the clock alone: {'; '.join((lost, *why))}", leg)


def _out_around(case: Case, leg: Leg) -> list[str]:
    """The stations out of service by which the fix at a leg's end is made up, and those of the file near it."""
    given, fix = case.request.definitions, leg.stretch.end.fix
    named = {one.station for one in fix.makeup} if fix is not None else set()
    found = []
    for ident in given.unavailable:
        station = given.stations.get(ident)
        away_nm = None if station is None else distance_from(station, leg.end.position)
        if ident in named or (away_nm is not None and away_nm <= FARTHEST_NM):
            found.append(ident)
    return found


@rule(
    "short-leg",
    Severity.WARNING,
    group=Group.REST,
    at_times=(Severity.NOTE,),
    source="practice: two corners 1 NM apart cannot be flown as drawn",
    remedy="leave one of the two points out, or fly it as one turn",
    passing=BASE,
    failing=sample("fix LAKER N46 11.00 W039 19.50", "route XHAR QHB LAKER QEL/A055 XOLD"),
)
def short_leg(case: Case) -> Iterator[Found]:
    """Two points of the route are less than 2 NM or 1 minute apart.

    A note where the way hardly turns at either of them, and nothing where two points of one published airway are on one
    needle besides: nothing is tuned or set anew between. Departure and arrival do not count.
    """
    turned_deg: float | None = None
    stretches = case.first_legs
    for leg in stretches:
        stretch = leg.stretch
        time_min = stretch.length_nm / leg.groundspeed_kt * 60.0 if leg.groundspeed_kt else None
        short = stretch.length_nm < _SHORT_NM or (time_min is not None and time_min < _SHORT_MIN)
        if short and not _is_ground(stretch):
            # A short leg straight on is flown as drawn; one between two corners is a single turn.
            corner = max(abs(turned_deg or 0.0), abs(stretch.turn_deg or 0.0)) >= _CORNER_DEG
            if not corner and _published_on_one_needle(stretch):
                turned_deg = stretch.turn_deg
                continue
            took = f", {time_min * 60.0:.0f} s" if time_min is not None else ""
            apart = case.count(leg).along(stretch.length_nm)
            message = f"{stretch.start.name} and {stretch.end.name} are {apart} NM apart{took}"
            yield Found(message, leg, None if corner else Severity.NOTE)
        turned_deg = stretch.turn_deg


def _published_on_one_needle(stretch: Stretch) -> bool:
    """Whether a stretch between two fixes of a published airway is flown on one station's radial throughout."""
    airway = stretch.airway
    if airway is None or airway.provenance.source is Source.FILE or len(stretch.parts) != 1:
        return False
    return stretch.parts[0].guidance is not None and stretch.start.kind is _FIX and stretch.end.kind is _FIX


def _is_ground(stretch: Stretch) -> bool:
    """Whether a stretch begins or ends at an airport."""
    return _AIRPORT in (stretch.start.kind, stretch.end.kind)
