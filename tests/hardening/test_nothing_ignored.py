"""Nothing that a route file says is accepted and ignored: what is taken out of a flight shows on a sheet.

`NAVLOG_FLIGHTS=200 pytest tests/hardening/test_nothing_ignored.py` takes apart as many flights.
"""

from __future__ import annotations

import os
import re

import pytest
from helpers.flown import changed, codes, flight, rules_of, sheet
from helpers.grammar import each_left_out, written
from helpers.grammar import flight as made_up
from helpers.named_files import FILES
from helpers.tiles import write_islands

from navlog.request.references import References
from navlog.request.statements import STATEMENTS
from navlog.rules.answers import Answer, check_text, text_plans
from navlog.sheets.formats import sheet as sheet_of
from navlog.studies import whatif

FLIGHTS = int(os.environ.get("NAVLOG_FLIGHTS", "4"))
OTHERS = ("text", "planning", "steps", "strip", "gpx")

ONLY_LIMITS = re.compile(r"\{(class|elev|D[LH]|turn|course|unusable|below|beyond|at [QX]|on [QX])|ceiling")
"""What is only held against the flight, and says nothing where it is kept or holds all there is.

The tests below break limits; `tests/rules/test_accepted_parts.py` has the parts of acceptances.
"""


@pytest.fixture(scope="module")
def references(tmp_path_factory: pytest.TempPathFactory) -> References:
    return References({**FILES, "terrain": str(write_islands(tmp_path_factory.mktemp("terrain")).parent)})


def answered(text: str, references: References) -> tuple[Answer, ...]:
    return check_text(text, "made.route", references=references)


def shown(found: tuple[Answer, ...], form: str) -> str:
    """A sheet without the digest of the file and without its route line, which repeat what is written."""
    printed = sheet_of(form, found, "a5")
    assert not isinstance(printed, bytes)
    lines = re.sub(r"\b[0-9a-f]{12}\b", "", printed or "").splitlines()
    return "\n".join(line for line in lines if not line.startswith("Route "))


def compared(text: str, references: References) -> str:
    """The levels that `--compare-altitudes` looks at."""
    (one,) = answered(text, references)
    plans = text_plans(text, "made.route")
    _, told = whatif.answered(one, plans, None, references, compare_altitudes=True, wind_error_kt=None)
    return repr(told)


def is_shown(part: str, one: tuple[Answer, ...], whole: str, without: str, references: References) -> bool:
    """Whether anything printed of a flight differs once a part is left out, a problem too."""
    other = answered(without, references)
    if other[0].problems:
        return True
    if any(shown(one, form) != shown(other, form) for form in ("json", *OTHERS)):
        return True
    return part.startswith("ceiling") and compared(whole, references) != compared(without, references)


def silent(part: str, line: str, text: str) -> bool:
    """Whether it may go unseen: a limit kept, a radial that the fix's definition has too, or a silent station."""
    out = re.findall(r"^unavailable (\w+)", text, re.MULTILINE)
    out += ["QAB"] if "notices briefing.txt" in text else []
    by_fix = re.fullmatch(r"\{\d{3}\}", part) and re.search(rf"^fix \w+ Q\w+ {part[1:-1]}\.", text, re.MULTILINE)
    return bool(ONLY_LIMITS.match(part) or by_fix) or any(one in line.split() for one in out)


@pytest.mark.parametrize("seed", range(FLIGHTS))
def test_whatever_is_left_out_of_a_flight_shows(seed: int, references: References) -> None:
    lines = made_up(seed)
    whole = written(lines)
    found = answered(whole, references)
    assert found[0].problems == ()
    unseen = [
        f"{part} of {line}"
        for line, part, without in each_left_out(lines)
        if not is_shown(part, found, whole, without, references)
        and not silent(part, line.translate({123: "", 125: ""}), whole)
    ]
    assert unseen == []


def test_the_flights_are_made_of_every_statement_and_option() -> None:
    text = "\n".join(written(made_up(seed)) for seed in range(400))
    words = set(text.split())
    assert {line.split()[0] for line in text.splitlines() if line} == set(STATEMENTS)
    assert {option for form in STATEMENTS.values() for option in form.options} <= words


@pytest.mark.parametrize(
    ("statement", "without", "more"),
    [
        # A class T serves 25 NM up to 12,000 ft above it (AIM 1-1-8): XFAR is 40 NM south of QEL.
        ("station QEL 110.20 N45 44.10 W039 33.00 decl 17W class T elev 410ft", "class T", ()),
        # 900 ft above the lowest ground known, 350 ft, the horizon is 1.23 x sqrt(900) = 36.9 NM; XFAR is 40 NM off.
        ("station QEL 110.20 N45 44.10 W039 33.00 decl 17W elev 1200ft", "elev 1200ft", ("altitude 1250",)),
        ("station QEL 110.20 N45 44.10 W039 33.00 decl 17W unusable 190-205", "unusable 190-205", ()),
        ("station QEL 110.20 N45 44.10 W039 33.00 decl 17W unusable 190-205 beyond 60nm", "beyond 60nm", ()),
        ("station QEL 110.20 N45 44.10 W039 33.00 decl 17W unusable 190-205 below 2000ft", "below 2000ft", ()),
        ("direct XOLD - XFAR 38.2nm course 150T", "course 150T", ("route XHAR QHB V801 QEL XOLD over XFAR",)),
    ],
    ids=lambda value: value.split()[0] if isinstance(value, str) else "",
)
def test_a_limit_that_is_missed_shows(statement: str, without: str, more: tuple[str, ...]) -> None:
    far = ("airport XFAR N45 04.00 W039 33.00", "route XHAR QHB V801 QEL XFAR", *more)
    whole, less = (rules_of(flight(changed(one, *far))) for one in (statement, statement.replace(f" {without}", "")))
    assert whole != less


def test_a_level_at_the_end_of_the_route_is_told() -> None:
    told = " ".join(sheet(changed("route XHAR QHB V801 QEL XOLD/A045")).split())
    assert "`XOLD/A045` ends the route, so that no leg is flown at that level" in told


def test_an_acceptance_that_nothing_needs_is_told_and_of_the_common_part_is_not() -> None:
    accepted = 'accept out-of-range "never so far"'
    assert "accept-unused" in rules_of(flight(changed(accepted)))
    assert "accept-unused" not in rules_of(flight(changed('accept minimum-unknown "x"', without=("direct QHB",))))
    common = f'{accepted}\n{changed(without=("route",))}flight "One"\nroute XHAR QHB V801 QEL XOLD\n'
    assert "accept-unused" not in rules_of(flight(common))


def test_a_hold_where_the_flight_passes_twice_is_told() -> None:
    text = changed("route XHAR QHB V801 QEL QHB XHAR", "hold QHB 4min")
    assert "the hold at QHB is flown at the first of 2 passages alone" in " ".join(sheet(text).split())


def test_a_pattern_where_no_airport_is_is_told() -> None:
    assert "stated-unused" in rules_of(flight(changed("pattern 1400ft", "route XHAR QHB V801 QEL")))
    assert "stated-unused" not in rules_of(flight(changed("pattern 1400ft")))


@pytest.mark.parametrize(("rules", "severity"), [("rules vfr", "warning"), ("rules ifr", "error")])
def test_below_a_moca_without_an_mea_is_told(rules: str, severity: str) -> None:
    """14 CFR 95.1(e): the MOCA assures obstruction clearance; 91.177(a) binds under IFR."""
    alone = "airway V801 QHB 212 - 034 QEL 29.5nm moca {}"
    (one, *_) = [
        found
        for found in flight(changed(alone.format(3100), rules))["findings"]
        if found["rule"] == "under-mea" and "no MEA given" in found["message"]
    ]
    assert one["severity"] == severity
    assert "under-mea" not in rules_of(flight(changed(alone.format(3000), rules)))


def test_a_second_changeover_from_one_station_in_a_section_is_a_problem() -> None:
    airway = "airway V801 QHB 212 - MIDDY 14nm cop 5 QHB - 034 QEL 15.5nm cop {}"
    assert codes(changed("fix MIDDY QHB 212 14nm", airway.format("8 QHB"))) == {"given-twice"}
    assert codes(changed("fix MIDDY QHB 212 14nm", airway.format("24.5 QEL"))) == set()


@pytest.mark.parametrize(
    "definition",
    ["fix V801 46.0 -39.0", "airport V801 46.0 -39.0", "airway QHB QHB 212 - 034 QEL 29.5nm"],
)
def test_an_airway_has_a_name_of_its_own(definition: str) -> None:
    assert "name-clash" in codes(changed(definition))


def test_the_time_for_taxiing_tells_when_the_flight_leaves_the_ramp() -> None:
    assert "off 15:10Z, off-block 15:02Z" in sheet(changed("taxi 1gal 8min"))
    assert "NO OFF TIME GIVEN, taxi 8 min" in sheet(changed("taxi 1gal 8min", without=("off",)))
