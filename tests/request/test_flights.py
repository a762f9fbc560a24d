"""Common part, flights and overrides merged into requests."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime
from hashlib import sha256

import pytest

from navlog.nav.problems import Problem, format_problem
from navlog.nav.units import Amount
from navlog.request.flights import read_flights
from navlog.request.records import BrokenFlight, FlightPlans, Level, Request
from navlog.request.typed import Overrides

NEEDED = "route XHAR XOLD\naltitude 4500\ndate 2026-07-18\ntas 110kt\n"


def flights(text: str, overrides: Overrides | None = None) -> tuple[Request, ...]:
    plans = read_flights(text, "trip.route", overrides=overrides or Overrides())
    assert plans.problems == ()
    requests = tuple(flight for flight in plans.flights if isinstance(flight, Request))
    assert len(requests) == len(plans.flights)
    return requests


def merged(common: str, own: str, overrides: Overrides | None = None) -> Request:
    (flight,) = flights(f'{common}\n{NEEDED}flight "One"\n{own}\n', overrides)
    return flight


def problems(plans: FlightPlans) -> list[Problem]:
    broken = [flight for flight in plans.flights if isinstance(flight, BrokenFlight)]
    return [*plans.problems, *(problem for flight in broken for problem in flight.problems)]


def codes(text: str, overrides: Overrides | None = None) -> list[tuple[int, int, str]]:
    plans = read_flights(text, "trip.route", overrides=overrides or Overrides())
    return [(p.span.line, p.span.column, p.code) for p in problems(plans) if p.span is not None]


def winds(request: Request) -> list[tuple[str | None, float]]:
    return [(w.place.ident if w.place else None, w.levels[0].from_deg) for w in request.winds]


def test_a_file_without_flight_line_is_one_flight_named_by_its_stem() -> None:
    (flight,) = read_flights(NEEDED, "/somewhere/round trip.route").flights
    assert isinstance(flight, Request)
    assert (flight.name, flight.line) == ("round trip", 1)
    (flight,) = read_flights(NEEDED, "-").flights
    assert flight.name == "-"


def test_every_flight_has_the_common_part() -> None:
    first, second = flights(f'{NEEDED}fuel 38\nflight "One"\nflight "Two"\ntaxi 1\n')
    assert [(f.name, f.line, f.fuel, f.taxi) for f in (first, second)] == [
        ("One", 6, Amount(38.0, "gal"), None),
        ("Two", 7, Amount(38.0, "gal"), Amount(1.0, "gal")),
    ]


def test_the_digest_is_that_of_the_text_unless_the_bytes_had_another() -> None:
    (flight,) = flights(NEEDED)
    assert flight.digest == sha256(NEEDED.encode()).hexdigest()
    (other,) = read_flights(NEEDED, "trip.route", data=b"abc").flights
    assert isinstance(other, Request)
    assert other.digest == sha256(b"abc").hexdigest()


def test_places_of_statements_are_kept_by_keyword() -> None:
    flight = merged("fuel 38\ntaxi 1", "taxi 2")
    assert flight.spans["fuel"].line == 1
    assert flight.spans["taxi"].line == 8
    assert "extra" not in flight.spans


def test_a_flights_own_statement_replaces_the_common_one() -> None:
    flight = merged("fuel 38\nrules vfr day", "fuel 20\nrules ifr\naltitude 6500\nroute XOLD XHAR\ntas 90")
    assert (flight.fuel, flight.rules, flight.daytime) == (Amount(20.0, "gal"), "ifr", None)
    assert (flight.cruise, flight.tas_kt) == (Level(6500.0), 90.0)
    assert [word.ident for word in flight.route] == ["XOLD", "XHAR"]


def test_definitions_are_replaced_by_name_and_kind() -> None:
    flight = merged(
        "station QHB 113.70\nstation QEL 110.20\nairport QHB 46N039W\nfix PINEY QEL 180 12",
        "station QHB 114.10\nfix PINEY QEL 180 13",
    )
    stations = flight.definitions.stations
    assert {ident: station.frequency_mhz for ident, station in stations.items()} == {
        "QEL": 110.2,
        "QHB": 114.1,
    }
    assert list(flight.definitions.airports) == ["QHB"]
    assert flight.definitions.fixes["PINEY"].distance_nm == 13.0


def test_an_airway_is_replaced_whole() -> None:
    flight = merged("airway V801 QHB - QEL 29 - PINEY 12", "airway V801 QHB - QEL 30")
    assert flight.definitions.airways["V801"].airway.points == ("QHB", "QEL")


def test_a_direct_leg_is_replaced_as_a_pair_either_way() -> None:
    flight = merged("direct QHB - QEL 29 - PINEY 12", "direct PINEY - QEL 13")
    assert [(d.start.ident, d.end.ident, d.segment.distance_nm) for d in flight.definitions.directs.values()] == [
        ("QHB", "QEL", 29.0),
        ("PINEY", "QEL", 13.0),
    ]


def test_wind_at_a_point_is_replaced_there_alone() -> None:
    assert winds(merged("wind 230/12\nwind at QHB 240/12\nwind at QEL 250/12", "wind at QHB 300/20")) == [
        (None, 230.0),
        ("QEL", 250.0),
        ("QHB", 300.0),
    ]


@pytest.mark.parametrize("own", ["wind 300/20", "winds own.txt"])
def test_a_plain_wind_or_a_bulletin_replaces_all_common_wind(own: str) -> None:
    flight = merged("wind 230/12\nwind at QHB 240/12\nwinds fb.txt", own)
    assert winds(flight) == ([(None, 300.0)] if own.startswith("wind ") else [])
    assert [bulletin.path for bulletin in flight.bulletins] == (["own.txt"] if own.startswith("winds") else [])


def test_holds_and_acceptances_are_replaced_by_name() -> None:
    flight = merged('hold QHB 4min\nhold QEL 5min\naccept one "a"\naccept two "b"', 'hold QHB 6min\naccept two "c"')
    assert [(hold.point.ident, hold.time_min) for hold in flight.holds] == [("QEL", 5.0), ("QHB", 6.0)]
    assert [(one.rule, one.reason) for one in flight.accepted] == [("one", "a"), ("two", "c")]


def test_alternates_replace_them_all() -> None:
    assert [a.words[0].ident for a in merged("alternate XONE\nalternate XTWO", "alternate XNEW").alternates] == ["XNEW"]
    assert [a.words[0].ident for a in merged("alternate XONE\nalternate XTWO", "").alternates] == [
        "XONE",
        "XTWO",
    ]


def test_unavailable_stations_radios_and_notes_add_up() -> None:
    flight = merged(
        'unavailable QHB\nnote "one"\nradio XHAR "Tower" 118.700',
        'unavailable QEL\nnote "two"\nradio XHAR "Ground" 121.9',
    )
    assert list(flight.definitions.unavailable) == ["QHB", "QEL"]
    assert flight.notes == ("one", "two")
    assert [radio.frequency_mhz for radio in flight.radios] == ["118.700", "121.9"]


def test_own_speed_and_burn_stand_beside_an_aircraft() -> None:
    (flight,) = flights(NEEDED.replace("tas 110kt", "aircraft trainer.toml\nburn 8.5gph"))
    assert (flight.aircraft and flight.aircraft.path, flight.tas_kt, flight.burn) == (
        "trainer.toml",
        None,
        Amount(8.5, "gal/h"),
    )


def test_what_is_missing_is_a_problem_at_the_flights_line() -> None:
    assert codes('burn 8\nflight "One"\n') == [(2, 1, "missing-statement")] * 4
    assert codes("") == [(1, 1, "missing-statement")] * 4
    messages = [problem.message for problem in problems(read_flights('flight "One"', "trip.route"))]
    assert messages == [f"the flight has no {what}" for what in ("altitude", "date", "route", "speed")]


@pytest.mark.parametrize("line", ["route XHAR", "rout XHAR XOLD", "Route XHAR XOLD"])
def test_a_broken_or_misspelt_statement_is_not_missing(line: str) -> None:
    assert len(codes(NEEDED.replace("route XHAR XOLD", line))) == 1


def test_a_problem_in_the_common_part_stops_the_file_and_every_problem_is_told() -> None:
    plans = read_flights(f'{NEEDED}fuel much\nflight "One"\ntaxi little\n', "trip.route")
    assert plans.flights == ()
    assert [problem.span.line for problem in plans.problems if problem.span] == [5, 7]


def test_a_problem_in_a_flight_stops_that_flight() -> None:
    plans = read_flights(f'{NEEDED}flight "One"\ntaxi little\nflight "Two"\n', "trip.route")
    broken, whole = plans.flights
    assert isinstance(broken, BrokenFlight)
    assert (broken.name, broken.line, len(broken.problems)) == ("One", 5, 1)
    assert isinstance(whole, Request)
    assert plans.problems == ()


def test_a_problem_in_a_file_without_flight_line_is_the_flights() -> None:
    plans = read_flights(f"{NEEDED}fuel much", "trip.route")
    (broken,) = plans.flights
    assert isinstance(broken, BrokenFlight)
    assert broken.name == "trip"


def off(text: str, day: str = "2026-07-18") -> tuple[datetime, str | None]:
    (flight,) = flights(NEEDED.replace("2026-07-18", day) + f"off {text}")
    assert flight.off is not None
    return flight.off.moment, flight.off.zone


def test_off_in_utc() -> None:
    assert off("15:10Z") == (datetime(2026, 7, 18, 15, 10, tzinfo=UTC), None)


def test_off_in_a_zone_is_on_that_zones_day() -> None:
    # Chicago keeps UTC-5 in July and UTC-6 in January; Auckland keeps UTC+12 in July.
    assert off("10:10 America/Chicago") == (datetime(2026, 7, 18, 15, 10, tzinfo=UTC), "America/Chicago")
    assert off("20:00 America/Chicago", "2026-01-15")[0] == datetime(2026, 1, 16, 2, 0, tzinfo=UTC)
    assert off("08:00 Pacific/Auckland")[0] == datetime(2026, 7, 17, 20, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("day", "clock", "code", "hint"),
    [
        # 15 U.S.C. 260a: clocks go forward at 2 on the second Sunday of March, back on the first of November.
        ("2026-03-08", "02:30", "skipped-time", "write 07:30Z or 08:30Z, and date 2026-03-08"),
        ("2026-11-01", "01:30", "repeated-time", "write 06:30Z or 07:30Z, and date 2026-11-01"),
    ],
)
def test_a_clock_time_skipped_or_repeated_is_a_problem(day: str, clock: str, code: str, hint: str) -> None:
    text = NEEDED.replace("2026-07-18", day) + f"off {clock} America/Chicago"
    (problem,) = problems(read_flights(text, "trip.route"))
    assert (problem.code, problem.hint) == (code, hint)
    assert problem.span is not None
    assert (problem.span.line, problem.span.column, problem.span.length) == (5, 5, 5)


# tz database: EST is five hours behind UTC all year, MST seven; New York and Denver keep daylight time in July.
@pytest.mark.parametrize(
    ("clock", "hint"),
    [
        ("12:00 EST", "write 17:00Z, and date 2026-07-18, or 12:00 America/New_York if its clocks are meant"),
        ("20:00 MST", "write 03:00Z, and date 2026-07-19, or 20:00 America/Denver if its clocks are meant"),
    ],
)
def test_standard_time_in_summer_is_asked_about(clock: str, hint: str) -> None:
    (problem,) = problems(read_flights(NEEDED + f"off {clock}", "trip.route"))
    assert (problem.code, problem.hint) == ("zone-out-of-season", hint)
    assert problem.span is not None
    assert (problem.span.line, problem.span.column) == (5, 5)


def test_standard_time_in_winter_and_where_there_is_no_other_is_read() -> None:
    assert off("12:00 EST", "2026-01-15")[0] == datetime(2026, 1, 15, 17, 0, tzinfo=UTC)
    assert off("12:00 HST")[0] == datetime(2026, 7, 18, 22, 0, tzinfo=UTC)


def test_the_times_beside_a_skipped_or_repeated_one_are_fine() -> None:
    assert off("01:59 America/Chicago", "2026-03-08")[0] == datetime(2026, 3, 8, 7, 59, tzinfo=UTC)
    assert off("03:00 America/Chicago", "2026-03-08")[0] == datetime(2026, 3, 8, 8, 0, tzinfo=UTC)
    assert off("00:59 America/Chicago", "2026-11-01")[0] == datetime(2026, 11, 1, 5, 59, tzinfo=UTC)
    assert off("02:00 America/Chicago", "2026-11-01")[0] == datetime(2026, 11, 1, 8, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("zone", "hint"),
    [
        ("America/Chigaco", "did you mean America/Chicago?"),
        ("america/chicago", "did you mean America/Chicago?"),
        ("../../etc/passwd", "write a zone such as America/Chicago, or UTC: 15:10Z"),
        ("IST", "write a zone such as America/Chicago, or UTC: 15:10Z"),
        ("America", None),
        ("/etc/passwd", None),
        ("Ñ", None),
        ("x" * 300, None),
        ('""', None),
    ],
)
def test_an_unknown_zone_is_a_problem_with_a_suggestion(zone: str, hint: str | None) -> None:
    (problem,) = problems(read_flights(f"{NEEDED}off 10:10 {zone}", "trip.route"))
    assert problem.code == "unknown-zone"
    assert hint is None or problem.hint == hint


def test_overrides_stand_in_every_flights_place() -> None:
    text = f'{NEEDED}off 15:10Z\nflight "One"\naltitude 5500\nflight "Two"\ndate 2026-07-20\n'
    overrides = Overrides(date="2026-08-01", off="09:00Z", altitude="FL085")
    for flight in flights(text, overrides):
        assert flight.off is not None
        assert flight.off.moment == datetime(2026, 8, 1, 9, 0, tzinfo=UTC)
        assert flight.cruise == Level(8500.0, flight_level=True)


def test_an_override_is_enough_where_the_file_says_nothing() -> None:
    assert len(flights("route XHAR XOLD\ntas 110", Overrides(date="2026-08-01", altitude="4500"))) == 1


def test_an_altitude_override_leaves_changes_in_the_route_alone() -> None:
    flight = merged("", "route XHAR QEL/A055 XOLD", Overrides(altitude="6500"))
    assert (flight.cruise, flight.route[1].level) == (Level(6500.0), Level(5500.0))


def test_a_wind_override_replaces_all_wind() -> None:
    flight = merged("wind 230/12\nwind at QHB 240/12\nwinds fb.txt", "wind at QEL 250/12", Overrides(wind=("calm",)))
    assert [level.speed_kt for wind in flight.winds for level in wind.levels] == [0.0]
    assert flight.bulletins == ()
    assert flight.spans["wind"].file == "--wind"
    several = merged("wind 230/12", "", Overrides(wind=("300/20", "at QHB 310/25")))
    assert winds(several) == [(None, 300.0), ("QHB", 310.0)]


def test_unavailable_overrides_add_up() -> None:
    flight = merged("unavailable QHB", "", Overrides(unavailable=("QEL", "QIL")))
    assert list(flight.definitions.unavailable) == ["QHB", "QEL", "QIL"]


def test_problems_of_overrides_point_into_the_option() -> None:
    plans = read_flights(NEEDED, "trip.route", overrides=Overrides(wind=("3000 23/12",), date="tomorrow"))
    assert plans.flights == ()
    assert [format_problem(problem) for problem in plans.problems] == [
        "--date:1:1: error: `tomorrow` is not a date [bad-date]\n"
        "   1 | tomorrow\n     | ^^^^^^^^\n  hint: write year, month and day: 2026-07-18",
        "--wind:1:6: error: `23` is not an angle of three digits [bad-angle]\n"
        "   1 | 3000 23/12\n     |      ^^^^^\n  hint: write three digits: 023",
    ]


def test_a_zone_that_an_override_misspells_is_shown_in_the_option() -> None:
    (problem,) = problems(read_flights(NEEDED, "trip.route", overrides=Overrides(off="10:10   Europe/Berlim")))
    assert problem.span is not None
    assert (problem.span.file, problem.span.column, problem.text) == ("--off", 9, "10:10   Europe/Berlim")


def test_one_point_has_one_wind_override() -> None:
    assert [code for _, _, code in codes(NEEDED, Overrides(wind=("300/20", "calm")))] == ["given-twice"]


@pytest.mark.parametrize("text", ["", "  ", "# 230/12", '"', "\x07", "a\nb"])
def test_empty_and_strange_overrides_are_problems(text: str) -> None:
    for overrides in (
        Overrides(date=text),
        Overrides(off=text),
        Overrides(wind=(text,)),
        Overrides(altitude=text),
    ):
        assert codes(NEEDED, overrides)


def test_reading_a_wrong_file_loads_nothing_heavy() -> None:
    script = (
        "import sys; from navlog.request.flights import read_flights; read_flights('tas 110 kt\\nroute qhb', 'x');"
        "print(sorted({'pyproj', 'pygeomag', 'zoneinfo', 'difflib', 'sqlite3', 'json'} & set(sys.modules)))"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("common", "own", "two"),
    [
        ("wind 230/12\nwinds a.txt", "", True),
        ("", "winds a.txt\nwind calm", True),
        ("winds a.txt", "wind 230/12", False),
        ("wind 230/12", "winds a.txt", False),
        ("wind 230/12\nwinds a.txt", "winds b.txt", False),
        ("winds a.txt\nwind at QHB 230/12", "", False),
    ],
)
def test_a_wind_of_the_whole_flight_and_a_bulletin_in_one_scope_are_one_too_many(
    common: str, own: str, *, two: bool
) -> None:
    text = f'{common}\n{NEEDED}flight "One"\n{own}\n'
    assert [code for _, _, code in codes(text)] == (["two-winds"] if two else [])


def test_the_commands_wind_replaces_both() -> None:
    assert merged("wind 230/12\nwinds a.txt", "", Overrides(wind=("calm",))).bulletins == ()
