"""AIRAC dates against effective dates printed by authorities.

2001 to 2014 and 2101: ICAO Doc 8126 rule, all of 2020. 2403, 2406, 2409, 2412: Airservices Australia's
calendar. 2605, 2604, 2601, 2509: effective dates of FAA NASR cycles. First dates of each year: published
lists 2003 to 2022. 1913: 2019-12-05.
"""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.airac import cycle_ident, effective_date, expiry, is_effective_date
from navlog.nav.problems import NavlogError

PUBLISHED = {
    "2001": "2020-01-02",
    "2014": "2020-12-31",
    "2101": "2021-01-28",
    "2403": "2024-03-21",
    "2406": "2024-06-13",
    "2409": "2024-09-05",
    "2412": "2024-11-28",
    "2509": "2025-09-04",
    "2601": "2026-01-22",
    "2604": "2026-04-16",
    "2605": "2026-05-14",
    "1913": "2019-12-05",
    "0301": "2003-01-23",
    "0401": "2004-01-22",
    "0501": "2005-01-20",
    "0601": "2006-01-19",
    "0701": "2007-01-18",
    "0801": "2008-01-17",
    "0901": "2009-01-15",
    "1001": "2010-01-14",
    "1101": "2011-01-13",
    "1201": "2012-01-12",
    "1301": "2013-01-10",
    "1401": "2014-01-09",
    "1501": "2015-01-08",
    "1601": "2016-01-07",
    "1701": "2017-01-05",
    "1801": "2018-01-04",
    "1901": "2019-01-03",
    "2201": "2022-01-27",
}


@pytest.mark.parametrize(("ident", "effective"), PUBLISHED.items())
def test_effective_dates_as_published(ident: str, effective: str) -> None:
    assert effective_date(ident) == date.fromisoformat(effective)
    assert cycle_ident(date.fromisoformat(effective)) == ident


@pytest.mark.parametrize(
    ("day", "ident"),
    [("2020-12-31", "2014"), ("2021-01-27", "2014"), ("2021-01-28", "2101"), ("2026-05-14", "2605")],
)
def test_the_last_day_of_a_cycle_is_still_its_own(day: str, ident: str) -> None:
    assert cycle_ident(date.fromisoformat(day)) == ident


@pytest.mark.parametrize("day", ["2021-12-02", "2022-04-21", "2022-09-08", "2025-09-04", "2026-01-22"])
def test_faa_cycles_begin_on_airac_dates(day: str) -> None:
    assert is_effective_date(date.fromisoformat(day))
    assert not is_effective_date(date.fromisoformat(day) + timedelta(days=1))


@pytest.mark.parametrize("ident", ["2115", "2114", "2100", "2601A", "26", "", "٢٦٠٥", "+605"])
def test_no_such_cycle_is_a_problem(ident: str) -> None:
    with pytest.raises(NavlogError, match="bad-cycle"):
        effective_date(ident)


@pytest.mark.parametrize(("year", "cycles"), [(2020, 14), (2043, 14), (2021, 13), (2026, 13), (2050, 13)])
def test_years_have_13_cycles_except_2020_and_2043(year: int, cycles: int) -> None:
    assert cycle_ident(date(year, 12, 31)) == f"{year % 100:02d}{cycles}"


@given(st.dates(date(1964, 2, 1), date(2063, 11, 30)))
def test_every_day_lies_in_exactly_its_cycle(day: date) -> None:
    effective = effective_date(cycle_ident(day))
    assert effective <= day < expiry(effective)
    assert effective.weekday() == 3
