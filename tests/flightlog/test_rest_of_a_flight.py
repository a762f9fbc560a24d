"""The rest of a flight from a point passed, and where what a book or a notice does not cover is told.

The samples' flight at 4,500 ft and 110 kt in a wind of 230/12: XHAR, QHB, the changeover point, QEL, XOLD. The last
18.5 NM to QEL are flown on 197 true (R-034 by 17W, reversed), 33 degrees off the wind: sqrt(110^2 - 6.54^2) - 10.06
make 99.75 kt, 11.13 min from 15:22:26Z to 15:33:33Z. QEL is used until XOLD at 15:38:32Z.
"""

from __future__ import annotations

import pytest
from helpers.judged import reported
from helpers.noticed import flown, found, log_of

from navlog.flightlog.performance import placed_at_level
from navlog.flightlog.planning import plan_rest
from navlog.nav.problems import NavlogError, Problem, Span
from navlog.nav.record import changed
from navlog.request.aircraft import Aircraft, Figures, PhaseTable
from navlog.rules.samples import sample

LOG = reported("route XHAR QHB V801 QEL XOLD").log
LOW = Aircraft(
    "Low", "low.toml", PhaseTable("cruise", ((Figures(110.0, 8.0),), (Figures(120.0, 8.0),)), (0.0, 3_000.0))
)
"""A book that ends at 3,000 ft."""


def test_what_lies_ahead_keeps_the_numbers_of_the_whole_flight_and_begins_where_the_last_point_was_passed() -> None:
    for index, passed in enumerate(LOG.legs[:-1]):
        rest = plan_rest(LOG.route, LOG.conditions, passed)
        assert rest is not None
        ahead = LOG.legs[index + 1 :]
        assert [(leg.number, leg.end.name) for leg in rest.legs] == [(leg.number, leg.end.name) for leg in ahead]
        assert rest.legs[0].start == passed.end
        # Clock and fuel begin anew at that point.
        assert rest.legs[0].elapsed_min == pytest.approx(rest.legs[0].time_min)
        assert rest.totals.distance_nm == pytest.approx(sum(leg.distance_nm for leg in ahead))
    assert plan_rest(LOG.route, LOG.conditions, LOG.legs[-1]) is None


def test_a_level_beyond_the_book_is_told_of_the_rest_at_the_level_that_is_written() -> None:
    beyond = changed(LOG.conditions, aircraft=LOW, burn_per_h=None)
    with pytest.raises(NavlogError) as caught:
        plan_rest(LOG.route, beyond, LOG.legs[0])
    (told,) = caught.value.problems
    assert (told.code, told.message) == ("outside-table", "the cruise table ends before 4,500 ft")
    assert told.span is not None
    line = sample("route XHAR QHB V801 QEL XOLD").splitlines()[told.span.line - 1]
    assert line[told.span.column - 1 :].startswith("altitude")


def test_a_temperature_beyond_the_book_is_told_at_the_wind_one_of_whose_levels_has_one() -> None:
    request = reported("wind 230/12").log.route.request
    (stated,) = request.winds
    (level,) = stated.levels
    two = (changed(level, temperature_c=None), changed(level, temperature_c=-40.0))
    error = NavlogError(Problem("outside-table", "the table of section C", of_temperature=True))
    conditions = changed(LOG.conditions, level_span=Span("x.route", 3, 10))
    for levels, span in ((two, stated.span), (two[:1], Span("x.route", 3, 10))):
        (told,) = placed_at_level(
            error, conditions, changed(request, winds=(changed(stated, levels=levels),), spans={})
        ).problems
        assert told.span == span


@pytest.mark.parametrize(
    ("end", "leg"),
    [
        ("1400", 2),
        ("1530", 2),
        ("1533", 2),
        ("1534", 4),
        ("1538", 4),
        ("1539", None),
    ],
)
def test_an_estimated_end_is_asked_about_from_the_leg_on_that_uses_the_station_after_it(
    end: str, leg: int | None
) -> None:
    answer = flown(f"!XHA 07/001 QEL NAV DME U/S 2607181000-260718{end}EST", "route XHAR QHB V801 QEL XOLD")
    told = [one.leg for one in answer.findings if one.rule == "notice-estimated"]
    assert told == ([] if leg is None else [leg])


def test_without_a_time_off_every_use_may_be_after_an_estimated_end() -> None:
    answer = flown("!XHA 07/001 QEL NAV DME U/S 2607181000-2607181400EST", "-off")
    assert found(answer, "notice-estimated") == [
        "QEL DME out of service by !XHA 07/001: estimated back 2026-07-18 1400Z: ask"
    ]
    (use,) = log_of(answer).route.notices
    assert use.late == use.stretches
