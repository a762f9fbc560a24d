"""Keywords, indentation, flights, and what a scope may hold once."""

from __future__ import annotations

import pytest

from navlog.request.parser import parse
from navlog.request.tree import Tree


def tree(text: str) -> Tree:
    return parse(text, "t.route")


def found(text: str) -> list[tuple[int, int, int, str]]:
    """Line, column, length and code of every problem."""
    return [
        (p.span.line, p.span.column, p.span.length, p.code) for p in tree(text).all_problems() if p.span is not None
    ]


def hints(text: str) -> list[str | None]:
    return [problem.hint for problem in tree(text).all_problems()]


def test_a_deeper_line_goes_on_with_its_statement() -> None:
    (statement,) = tree("route XHAR\n  QHB # here\n\n# there\n XOLD").common
    assert [word.text for word in statement.words] == ["XHAR", "QHB", "XOLD"]


def test_a_deeper_line_goes_on_even_where_it_begins_with_a_keyword() -> None:
    assert found("tas 110kt\n  off 15:10Z") == [(2, 3, 3, "unexpected-word")]
    assert hints("tas 110kt\n  off 15:10Z") == ["a line indented deeper goes on with `tas`; indent both alike"]


def test_a_word_continued_by_a_keyword_is_just_a_word() -> None:
    (statement,) = tree('station QHB 113.70\n  name\n  "fix"').common
    assert statement.keyword == "station"
    assert not found('station QHB 113.70\n  name\n  "fix"')


def test_a_deeper_line_under_a_flight_starts_a_statement() -> None:
    (flight,) = tree('flight "One"\n  date 2026-07-18\n    \n  route XHAR\n    XOLD\ntas 110kt').flights
    assert [statement.keyword for statement in flight.statements] == ["date", "route", "tas"]
    assert len(flight.statements[1].words) == 2


def test_an_equal_or_lesser_indent_ends_a_statement() -> None:
    assert [s.keyword for s in tree("    tas 110kt\n  burn 8\n  fuel 38").common] == ["tas", "burn", "fuel"]


def test_a_problem_in_a_comment_is_no_statement_to_go_on_with() -> None:
    read = tree("# a bell \x07\n  tas 110kt")
    assert [p.code for p in read.problems] == ["bad-character"]
    assert [s.value for s in read.common] == [110.0]
    second = tree('flight "A"\n# a bell \x07\n  tas 110kt').flights[0]
    assert ([p.code for p in second.problems], len(second.statements)) == (["bad-character"], 1)


def test_a_tab_indents_by_one() -> None:
    assert [s.keyword for s in tree("\ttas 110kt\n burn 8").common] == ["tas", "burn"]


def test_a_flight_may_be_indented_less_or_as_much_as_what_is_above() -> None:
    assert [f.name for f in tree('  tas 110kt\n  flight "A"\n flight "B"\n   flight "C"').flights] == [
        "A",
        "B",
        "C",
    ]


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("rout XHAR XOLD", "did you mean `route`?"),
        ("Route XHAR XOLD", "did you mean `route`?"),
        ("raoute XHAR XOLD", "did you mean `route`?"),
        ("QHB V801 QEL", "a line that goes on with the one above is indented deeper"),
        ('"tas" 110kt', "did you mean `tas`?"),
    ],
)
def test_a_line_without_keyword_is_a_problem_with_a_suggestion(line: str, hint: str) -> None:
    (problem,) = tree(line).problems
    assert problem.code == "unknown-keyword"
    assert problem.hint == hint


def test_a_line_going_on_with_a_broken_one_is_not_reported_again() -> None:
    assert found("zzzzzz\n  tas 110kt") == [(1, 1, 6, "unknown-keyword")]


def test_a_misspelt_flight_still_begins_a_flight() -> None:
    assert [f.name for f in tree('fligth "A"\ntas 110kt\nflight "B"\ntas 110kt').flights] == ["A", "B"]
    assert found('fligth "A"\n  tas 110kt\nflight "B"\n  tas 110kt') == [(1, 1, 6, "unknown-keyword")]


@pytest.mark.parametrize(
    "line",
    [
        "tas 110kt",
        "date 2026-07-18",
        "route XHAR XOLD",
        "wind 230/12",
        "winds fb.txt",
        "rules ifr",
        "pattern 1800ft",
        "alternate XOLD",
        "alternate XOLD from QEL via V801 QHB at 3500",
    ],
)
def test_a_statement_given_twice_in_one_scope_is_a_problem(line: str) -> None:
    (problem,) = tree(f"{line}\n{line}").problems
    assert problem.code == "given-twice"
    assert problem.span is not None
    assert problem.span.line == 2


@pytest.mark.parametrize(
    "line",
    ["unavailable QHB", 'radio XHAR "Tower" 118.700', 'note "one"'],
)
def test_statements_that_add_up_may_be_repeated(line: str) -> None:
    assert not found(f"{line}\n{line}")


@pytest.mark.parametrize(
    ("line", "column"),
    [
        ("station QHB 113.70", 9),
        ("airport XHAR 4614N03907W", 9),
        ("fix PINEY QEL 180 12nm", 5),
        ("airway V801 QHB - QEL 29nm", 8),
        ("direct QHB - QEL 29nm", 1),
        ("wind at QHB 230/12", 1),
        ("hold QHB 4min", 1),
        ('accept out-of-range "seen"', 1),
    ],
)
def test_a_name_defined_twice_in_one_scope_is_a_problem(line: str, column: int) -> None:
    (problem,) = tree(f"{line}\n{line}").problems
    assert problem.code == "given-twice"
    assert problem.span is not None
    assert (problem.span.line, problem.span.column) == (2, column)
    assert "line 1" in problem.message


def test_a_name_is_defined_twice_even_where_one_definition_is_broken() -> None:
    assert [code for _, _, _, code in found("station QHB 113.7O\nstation QHB 113.70")] == [
        "bad-unit",
        "given-twice",
    ]


def test_different_names_and_kinds_do_not_exclude_each_other() -> None:
    assert not found("station QHB 113.70\nairport QHB 46N039W\nfix QHB 46N039W\nairway QHB QEL - QIL 9")
    assert not found("wind 230/12\nwind at QHB 240/12\nwind at QEL 250/12\nwinds fb.txt")
    assert not found("direct QHB - QEL 29\ndirect QEL - QIL 12")


def test_a_direct_leg_is_the_same_either_way() -> None:
    assert found("direct QHB - QEL 29\ndirect QEL - QHB 29") == [(2, 1, 6, "given-twice")]


def test_scopes_do_not_exclude_each_other() -> None:
    assert not found('tas 110kt\nflight "A"\ntas 100kt\nflight "B"\ntas 90kt')


def test_two_flights_of_one_name_are_a_problem_of_the_second() -> None:
    first, second = tree('flight "A"\nflight "A"').flights
    assert not first.problems
    assert [p.code for p in second.problems] == ["given-twice"]


def test_problems_belong_to_their_scope() -> None:
    read = tree('tas fast\nflight "A"\nburn much\nflight "B"\nfuel 38gal')
    assert [len(scope) for scope in (read.problems, read.flights[0].problems, read.flights[1].problems)] == [
        1,
        1,
        0,
    ]


def test_every_problem_shows_its_own_line() -> None:
    (problem,) = tree("route XHAR\n    qhb XOLD").problems
    assert problem.text == "    qhb XOLD"


def test_every_wrong_value_of_a_statement_is_reported() -> None:
    assert found("station qhb 113.70 decl -15 elev high") == [
        (1, 9, 3, "bad-identifier"),
        (1, 25, 3, "bad-value"),
        (1, 34, 4, "bad-value"),
    ]


def test_the_missing_word_is_pointed_at_behind_the_last_one() -> None:
    assert found("station QHB") == [(1, 12, 1, "missing-word")]
    assert found("tas") == [(1, 4, 1, "missing-word")]
