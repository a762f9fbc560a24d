"""What a whole file comes to: answers in words, the exit status, and the place of a problem."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

import pytest
from helpers.judged import CHART_ONLY, of

from navlog.nav.problems import Problem, Span
from navlog.request.flights import read_flights
from navlog.request.records import Request
from navlog.request.references import References
from navlog.request.typed import Overrides
from navlog.rules.answers import Answer, answers, check_text, exit_status, text_plans, with_text
from navlog.rules.registry import Thresholds
from navlog.rules.samples import FILES, FLOWN_BY_FILE, PUBLISHED, SampleCatalogue, sample

GOOD = sample()
WARNED = sample("altitude 2300", "route XHAR QHB V801 QEL XOLD")
"""Below the MOCA of 2400 ft on both legs of the airway, and below the stated 2500 ft before and after it."""
FAULTY = sample("fuel 8gal")
"""The reserve is not there."""
BROKEN = sample("altitude high", "fuel much")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (GOOD, "<Answer flight: ok, 0 findings>"),
        (FAULTY, "<Answer flight: error, 1 finding>"),
        (f'flight "Low"\n{WARNED}', "<Answer Low: warning, 4 findings>"),
        (BROKEN, "<Answer flight: problem: bad-value>"),
    ],
)
def test_an_answer_in_words(text: str, words: str) -> None:
    (answer,) = check_text(text, "flight.route")
    assert repr(answer) == words


@pytest.mark.parametrize(
    ("texts", "usual", "strict"),
    [
        ((), 0, 0),
        ((GOOD,), 0, 0),
        ((GOOD, WARNED), 0, 1),
        ((WARNED, FAULTY), 1, 1),
        ((FAULTY, BROKEN, GOOD), 2, 2),
    ],
)
def test_the_gravest_answer_is_the_exit_status(texts: tuple[str, ...], usual: int, strict: int) -> None:
    found = [answer for text in texts for answer in check_text(text)]
    assert exit_status(found) == usual
    assert exit_status(found, strict=False) == usual
    assert exit_status(found, strict=True) == strict


def test_a_day_without_a_magnetic_model_has_the_place_of_its_date() -> None:
    # The models kept are WMM2010 to WMM2025, of five years each.
    (answer,) = check_text(sample("date 2035-07-18"), "flight.route")
    assert (answer.status, answer.findings, answer.line) == ("problem", (), 1)
    assert answer.problems == (
        Problem(
            "no-magnetic-model",
            "no magnetic model covers 2035-07-18; they reach from 2010 to 2029",
            Span("flight.route", 11, 1, len("date")),
            "state the variation, such as `variation 7E`, or correct the date",
            "date 2035-07-18",
        ),
    )


def test_an_answer_names_each_code_of_its_problems_once() -> None:
    (answer,) = check_text(f"{sample('altitude high', 'fuel much')}runway 09\n", "flight.route")
    assert repr(answer) == "<Answer flight: problem: bad-value, unknown-keyword>"
    (whole,) = check_text('altitude high\nflight "One"\nroute XHAR QHB\n', "flight.route")
    assert repr(whole) == "<Answer flight.route: problem: bad-value>"


def test_an_answer_has_the_name_and_place_of_its_flight() -> None:
    common, _, route = GOOD.rpartition("route ")
    text = f'{common}flight "One"\nroute {route}flight "Two"\nroute {route}flight "Three"\nroute {route}altitude high\n'
    found = check_text(text, "day.route")
    assert [(one.flight, one.file, one.line, one.status) for one in found] == [
        ("One", "day.route", 16, "ok"),
        ("Two", "day.route", 18, "ok"),
        ("Three", "day.route", 20, "problem"),
    ]


def test_a_text_that_cannot_be_read_is_one_answer() -> None:
    (answer,) = check_text(b"route \xff\n", "flight.route")
    assert (answer.flight, answer.file, answer.line, answer.report) == (None, "flight.route", 1, None)
    (problem,) = answer.problems
    assert (problem.code, problem.span and problem.span.file) == ("bad-encoding", "flight.route")


def test_problems_of_the_common_part_stop_the_file_whole() -> None:
    text = 'altitude high\nflight "One"\nroute XHAR QHB\n'
    (answer,) = check_text(text, "day.route")
    assert (answer.flight, answer.file, answer.line, answer.report) == (None, "day.route", 1, None)
    assert [one.code for one in answer.problems] == ["bad-value"]


def test_a_text_without_a_file_is_standard_input() -> None:
    (answer,) = check_text(BROKEN)
    assert (answer.file, {one.span and one.span.file for one in answer.problems}) == ("-", {"-"})


@pytest.mark.parametrize("text", [WARNED, WARNED.encode()])
def test_what_is_typed_stands_in_place_of_what_the_text_states(text: str | bytes) -> None:
    (answer,) = check_text(text, "flight.route", overrides=Overrides(altitude="4500"))
    assert of("under-mea", answer.findings) == []
    assert of("under-mea", check_text(text, "flight.route")[0].findings) != []


def test_the_digest_is_that_of_the_bytes_of_the_file() -> None:
    data = GOOD.replace("\n", "\r\n").encode()
    for given, hashed in ((data, data), (GOOD, GOOD.encode())):
        (flight,) = text_plans(given, "flight.route").flights
        assert isinstance(flight, Request)
        assert flight.digest == sha256(hashed).hexdigest()


def test_published_data_gives_points_and_the_neighbours_of_stations() -> None:
    assert [one.code for one in check_text(PUBLISHED)[0].problems] == ["unknown-name"]
    (answer,) = check_text(PUBLISHED, catalogue=SampleCatalogue())
    assert answer.problems == ()
    # QPB is on 115.30 in the published data, 33.1 NM from where QHB hands over to QEL.
    own = sample("station QHB 115.30 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft")
    told = [of("frequency-shared", check_text(own, catalogue=one)[0].findings) for one in (None, SampleCatalogue())]
    assert told == [[], ["warning: QPB is on 115.30 too, 33.1 NM from where QHB is used"]]


def test_the_limits_that_are_set_count() -> None:
    # The positions make QHB's 212 of the charted 216.
    text = sample("airway V801 QHB 216 - 034 QEL 29.5nm mea 3000 cop 11 QHB")
    told = [of("radial-differs", check_text(text, thresholds=one)[0].findings) for one in (None, Thresholds(5.0, 9.0))]
    assert told == [["warning: QHB 216 is charted and 212 computed: 4.0 degrees apart"], []]


def test_files_that_a_flight_names_are_those_given_or_in_its_folder(tmp_path: Path) -> None:
    text = sample(*FLOWN_BY_FILE)
    (given,) = check_text(text, "flight.route", references=References(FILES))
    (lacking,) = check_text(text, str(tmp_path / "flight.route"))
    for name in ("climber.toml", "winds.txt"):
        (tmp_path / name).write_text(FILES[name], "utf-8")
    (read,) = check_text(text, str(tmp_path / "flight.route"))
    assert [one.problems for one in (given, read)] == [(), ()]
    assert {one.code for one in lacking.problems} == {"cannot-read"}


def accepting(*routes: str) -> str:
    """A file of flights on these routes, the first of which accepts something beside MARSH."""
    flights = (f'flight "F{number}"\nroute {route}\n' for number, route in enumerate(routes, 1))
    fixes = "fix MARSH N46 04.00 W039 24.23\nairway V801 QHB 212 - MARSH 8.9nm - 034 QEL 20.9nm\n"
    common = sample().rpartition("route ")[0].replace("airway V801", "airway V802")
    first, *rest = flights
    return f'{common}{fixes}{first}accept under-mea at {{place}} "seen"\n{"".join(rest)}'


@pytest.mark.parametrize(
    ("routes", "place", "known"),
    [
        # V801 passes MARSH, which no route line writes, on the flight that accepts or on another.
        (("XHAR QHB V801 QEL XOLD",), "MARSH", True),
        (("XHAR QHB", "XHAR QHB V801 QEL XOLD"), "MARSH", True),
        (("XHAR QHB V801 QEL XOLD", "XHAR QHB"), "MARSH", True),
        (("XHAR QHB", "QEL XOLD"), "MARSH", False),
        (("XHAR QHB V801 QEL XOLD", "XHAR QHB"), "MARCH", False),
        # What a flight with a problem would pass is not known.
        (("XHAR QHB", "XHAR NOWHERE"), "MARCH", True),
    ],
)
def test_a_place_of_an_acceptance_is_looked_for_on_every_flight(
    routes: tuple[str, ...], place: str, known: bool
) -> None:
    text = accepting(*routes).format(place=place)
    first, *rest = check_text(text, "day.route")
    if known:
        assert first.problems == ()
        return
    assert (first.report, [one.problems for one in rest if one.problems]) == (None, [])
    line = text.splitlines().index(f'accept under-mea at {place} "seen"') + 1
    (problem,) = first.problems
    assert (problem.code, problem.message) == ("unknown-place", f"no flight of this file passes `{place}`")
    assert problem.span == Span("day.route", line, 21, 5)
    assert problem.text == f'accept under-mea at {place} "seen"'


def test_a_magnetic_wind_on_a_day_without_a_model_is_told_at_the_date() -> None:
    chart = ("station QHB 113.70 decl 15W", "station QEL 110.20 decl 17W", "airport XHAR", "airport XOLD")
    text = sample(*chart[:2], *CHART_ONLY[3:], "date 2035-07-18", "wind at 4600N03930W 230M/12")
    (answer,) = check_text(text, "flight.route")
    (problem,) = answer.problems
    assert (problem.code, problem.span) == ("no-magnetic-model", Span("flight.route", 9, 1, len("date")))


@pytest.mark.parametrize(
    ("file", "line", "text", "shown"),
    [
        ("flight.route", 2, None, "second"),
        ("flight.route", 2, "its own", "its own"),
        ("flight.route", 3, None, None),
        ("aircraft.toml", 1, None, None),
    ],
)
def test_a_problem_shows_its_line_where_that_is_of_the_route_file(
    file: str, line: int, text: str | None, shown: str | None
) -> None:
    plans = read_flights("# first\nsecond", "flight.route")
    assert with_text(Problem("bad-value", "", Span(file, line, 1, 1), None, text), plans).text == shown
    assert with_text(Problem("bad-value", ""), plans).text is None


def test_every_flight_is_answered_only_as_it_is_asked_for() -> None:
    plans = text_plans(
        f'{GOOD.rpartition("route ")[0]}flight "One"\nroute XHAR QHB\nflight "Two"\nroute XHAR NOWHERE\n', "f"
    )
    found = answers(plans)
    assert isinstance(next(found), Answer)
    assert [one.status for one in found] == ["problem"]
