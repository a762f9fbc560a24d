"""Which figure of a row a finding speaks of, read as a pilot reads the rule's line."""

from __future__ import annotations

import pytest
from helpers.drawn import reports
from helpers.judged import reported

from navlog.nav.record import changed
from navlog.printed.meant import meant
from navlog.printed.rows import BY_KEY
from navlog.rules.domains import every_rule
from navlog.rules.registry import Finding, Group, OnAlternate, Severity
from navlog.rules.report import Report

SPEAKS_OF = {
    "groundspeed": ("unflyable-wind", "slow-groundspeed", "wind-far", "wind-beyond-heights"),
    "eta": ("dark-arrival",),
    "altitude": ("under-mra", "cruising-level", "vfr-too-high"),
    "station": (
        "out-of-range", "below-horizon", "stations-apart", "unusable-sector", "station-class-unknown",
        "frequency-shared", "channel-unpaired", "unverified-source",
    ),
    "heading": (
        "no-guidance", "signal", "course-turns", "variation-unknown", "variation-differs", "compass-card-silent",
        "compass-zone",
    ),
    "set_course": ("declination-old",),
    "distance": ("distance-differs", "short-leg", "changeover-sum"),
    "to": ("poor-cut", "dme-missing", "fix-computed"),
}  # fmt: skip
OF_GROUP = {
    Group.FLYING: "fuel_left", Group.HEIGHT: "altitude", Group.GUIDANCE: "set_course", Group.REST: "to",
    Group.DATA: "station",
}  # fmt: skip


def having(*found: Finding) -> Report:
    """The invented flight with an alternate from QEL, and these findings alone."""
    return changed(reported("alternate XOLD from QEL"), findings=found)


def one(rule: str, leg: int | None = 2, **more: object) -> Finding:
    report = reported("altitude 2300")
    kept = {"severity": Severity.WARNING, "group": Group.REST, "alternate": None, "accepted": None, "also": ()}
    fields = {"rule": rule, "leg": leg, **kept, **more}
    return changed(report.findings[0], **fields)  # type: ignore[arg-type]


@pytest.mark.parametrize(("key", "rule"), [(key, rule) for key, rules in SPEAKS_OF.items() for rule in rules])
def test_a_finding_marks_the_figure_that_it_speaks_of(key: str, rule: str) -> None:
    assert key in BY_KEY
    assert rule in {known.ident for known in every_rule()}
    for group in Group:
        assert meant(having(one(rule, group=group))) == {2: {key}}


@pytest.mark.parametrize(("group", "key"), OF_GROUP.items())
def test_any_other_marks_the_figure_of_its_group(group: Group, key: str) -> None:
    assert key in BY_KEY
    assert meant(having(one("mast", group=group, severity=Severity.ERROR))) == {2: {key}}


def test_what_is_accepted_or_a_note_or_of_no_leg_marks_nothing() -> None:
    quiet = (one("mast", accepted="by day"), one("mast", severity=Severity.NOTE), one("mast", leg=None))
    assert meant(having(*quiet)) == {}
    assert meant(having(*quiet, one("mast", leg=3))) == {3: {"to"}}


def test_a_leg_has_all_its_marks_and_a_finding_marks_each_of_its_legs() -> None:
    found = having(one("mast", also=(3, 4)), one("signal"), one("poor-cut", leg=4))
    assert meant(found) == {2: {"to", "heading"}, 3: {"to"}, 4: {"to"}}


def test_the_route_and_each_way_to_an_alternate_have_their_own_marks() -> None:
    there = one("signal", leg=None, alternate=OnAlternate(1, "XOLD", 1))
    found = having(there, one("mast", leg=2))
    assert meant(found) == {2: {"to"}}
    assert meant(found, 1) == {1: {"heading"}}
    assert meant(found, 2) == {}


@pytest.mark.parametrize(("station", "key"), [("QHB", "station"), ("QEL", "to"), (None, "to")])
def test_a_station_that_is_out_is_marked_where_it_is_tuned(station: str | None, key: str) -> None:
    """Leg 2 leads away from QHB. What relies on another one at its end is told there."""
    assert meant(having(one("station-out", station=station))) == {2: {key}}


def test_the_station_tuned_on_the_way_to_an_alternate_is_that_ways_own() -> None:
    """From QEL its first leg is flown on a radial of QEL, the route's first on one of QHB."""
    for station, key in (("QEL", "station"), ("QHB", "to")):
        found = one("station-out", leg=None, station=station, alternate=OnAlternate(1, "XOLD", 1))
        assert meant(having(found), 1) == {1: {key}}


def test_without_guidance_no_station_is_tuned() -> None:
    (report,) = reports(
        "date 2026-07-18\ntas 120kt\nwind calm\naltitude 4500\nairport XAA N46 00.00 W039 00.00\n"
        "airport XCC N46 20.00 W039 00.00\nroute XAA XCC\n"
    )
    out = one("station-out", leg=1, station="QHB")
    assert meant(changed(report, findings=(out,))) == {1: {"to"}}
