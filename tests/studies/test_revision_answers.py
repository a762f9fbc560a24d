"""Whether a reserve holds, at a landing, at the end and at an alternate, each answer worked by hand.

At 120 kt and 8 gal/h QBB is 20.0 NM and 1.33 gal from XAA and from XCC, XDD 11.0 NM and 0.73 gal. By day 30 min and
4 gal are kept (14 CFR 91.151).
"""

from __future__ import annotations

import pytest
from helpers.drawn import reports
from helpers.revised import MERIDIAN

from navlog.flightlog.records import Leg, Log
from navlog.nav.record import changed
from navlog.nav.units import Amount
from navlog.studies.revision import (
    _AheadOtherwise,
    _reserve,
    _reserve_at_end,
    _worse,
    alternates_of,
    reserve_holds_at,
    revise,
)


def log_of(text: str = MERIDIAN) -> Log:
    (report,) = reports(text)
    return report.log


LOG = log_of()


def ending(log: Log, fuel: float | None, *, lands: bool = False) -> Leg:
    return changed(log.legs[-1], fuel_remaining=fuel, lands=lands)


@pytest.mark.parametrize(("fuel", "holds"), [(4.0, True), (3.999, False), (20.0, True), (0.0, False), (None, None)])
def test_the_reserve_is_on_board_from_its_very_figure_on(fuel: float | None, holds: bool | None) -> None:
    way = changed(LOG.alternates[0], legs=(ending(LOG.alternates[0], fuel),))
    assert way.fuel.reserve == 4.0
    assert reserve_holds_at(way) is holds
    assert reserve_holds_at(changed(way, fuel=changed(way.fuel, reserve=None))) is None
    for lands in (True, False):
        leg = ending(LOG, fuel, lands=lands)
        expected = None if holds is not False else leg
        assert _reserve_at_end(LOG, leg, fuel) == (holds, expected)


def test_the_fuel_for_an_alternate_is_kept_at_the_end_and_not_at_a_stop() -> None:
    with_alternate = changed(LOG, fuel=changed(LOG.fuel, alternate=1.5))
    for fuel, at_stop, at_end in ((5.5, True, True), (5.4, True, False), (4.0, True, False), (3.9, False, False)):
        assert _reserve_at_end(with_alternate, ending(LOG, fuel, lands=True), fuel)[0] is at_stop
        assert _reserve_at_end(with_alternate, ending(LOG, fuel), fuel)[0] is at_end
    unknown = changed(LOG, fuel=changed(LOG.fuel, alternate=None))
    assert _reserve_at_end(unknown, ending(LOG, 20.0), 20.0) == (None, None)
    no_burn = changed(LOG, fuel=changed(LOG.fuel, burn_per_h=None))
    assert _reserve_at_end(no_burn, ending(LOG, 20.0, lands=True), 20.0) == (None, None)


def test_the_first_leg_that_cannot_be_flown_or_lands_without_the_reserve_is_where_it_is_lost() -> None:
    first, *others = LOG.legs
    assert _reserve(LOG) == (True, None)
    assert first.triangle is not None
    blown = changed(first, triangle=changed(first.triangle, unflyable="too strong"))
    assert _reserve(changed(LOG, legs=(blown, *others))) == (False, blown)
    stop = changed(first, lands=True, fuel_remaining=3.0)
    assert _reserve(changed(LOG, legs=(stop, *others))) == (False, stop)
    # In the air on the way any fuel will do.
    low = changed(first, fuel_remaining=3.0)
    assert _reserve(changed(LOG, legs=(low, *others))) == (True, None)
    dry = ending(LOG, 1.0)
    assert _reserve(changed(LOG, legs=(*LOG.legs[:-1], dry))) == (False, dry)
    lost = ending(LOG, None)
    assert _reserve(changed(LOG, legs=(*LOG.legs[:-1], lost))) == (None, None)


@pytest.mark.parametrize(
    ("by_plan", "by_burn", "worse"),
    [
        (True, True, True), (True, None, None), (True, False, False), (None, True, None), (None, False, False),
        (False, True, False), (False, None, False), (None, None, None),
    ],
)  # fmt: skip
def test_of_two_answers_lost_goes_before_unknown_and_that_before_held(
    by_plan: bool | None, by_burn: bool | None, worse: bool | None
) -> None:
    assert _worse(by_plan, _AheadOtherwise(1.2, LOG, by_burn, None)) is worse
    assert _worse(by_plan, None) is by_plan


def test_alternates_are_those_still_ahead() -> None:
    # Past QBB the way from XAA is behind.
    found = revise(LOG, actuals=[("QBB", "15:10")])
    assert [way.route.points[0].name for way in alternates_of(found.rest)] == ["QBB"]
    assert [way.route.points[0].name for way in alternates_of(LOG)] == ["QBB", "XAA"]
    assert alternates_of(None) == ()


def test_each_leg_ahead_is_that_of_the_plan_with_the_same_end() -> None:
    found = revise(LOG, actuals=[("QBB", "15:10")], fuel=Amount(10.0, "gal"))
    assert found.rest is not None
    (ahead,) = found.rest.legs
    planned = found.planned_leg(ahead)
    assert planned is not None
    assert (planned.end.name, planned.number) == ("XCC", LOG.legs[-1].number)
    assert found.planned_leg(changed(ahead, end_nm=3.0)) is None
    assert (found.fuel, found.passed.name, found.worst) == (10.0, "QBB", found.measured and found.measured.rest)
