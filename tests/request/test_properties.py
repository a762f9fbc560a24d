"""Properties: nothing that can be typed raises, and what is read does not depend on how it is laid out."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from pathlib import Path

from hypothesis import assume, example, given
from hypothesis import strategies as st
from msgspec import Struct

from navlog.nav.problems import NavlogError, Span, format_problem
from navlog.request.flights import read_flights
from navlog.request.lexer import decode
from navlog.request.parser import parse
from navlog.request.statements import STATEMENTS
from navlog.request.tree import Statement, Tree
from navlog.request.typed import Overrides
from navlog.request.writer import to_text

IDENTS = st.from_regex(r"Q[A-CE-Z][A-Z]|X[A-Z]{3}", fullmatch=True)
FIXES = st.from_regex(r"[A-Z]{5}", fullmatch=True)
POINTS = IDENTS | FIXES
RADIALS = st.builds("{:03d}{}".format, st.integers(0, 359), st.sampled_from(["", ".5", ".25"]))
NAMES = st.from_regex(r'"[a-zA-Z][a-z #]{0,12}"', fullmatch=True)
DISTANCES = st.builds("{}.{}{}".format, st.integers(1, 99), st.integers(0, 9), st.sampled_from(["", "nm", "km", "sm"]))
ALTITUDES = st.builds("{}{}".format, st.integers(500, 9_999), st.sampled_from(["", "ft", "m"]))
LEVELS = ALTITUDES | st.builds("FL{:03d}".format, st.integers(10, 200))
FUELS = st.builds("{}{}".format, st.integers(0, 300), st.sampled_from(["", "gal", "L", "lb", "kg"]))
DECLINATIONS = st.builds("{}{}".format, st.integers(0, 40), st.sampled_from(["E", "W", ".5W"]))
WINDS = st.builds("{}{}/{}".format, RADIALS, st.sampled_from(["", "T", "M"]), st.integers(0, 80))
BOTH_WAYS = ALTITUDES | st.builds("{}/{}m".format, st.integers(500, 3_000), st.integers(500, 3_000))


@st.composite
def positions(draw: st.DrawFn) -> str:
    """A position in any of its written forms."""
    south_north, east_west = draw(st.sampled_from("NS")), draw(st.sampled_from("EW"))
    latitude, longitude = draw(st.integers(0, 89)), draw(st.integers(0, 179))
    minutes, rest = draw(st.integers(0, 59)), draw(st.integers(0, 59))
    return draw(
        st.sampled_from(
            [
                f"{south_north}{latitude:02d} {minutes:02d}.{rest:02d} {east_west}{longitude:03d} {rest:02d}.05",
                f"{south_north}{latitude:02d} {minutes:02d} {rest:02d} {east_west}{longitude:03d} {rest:02d} 07",
                f"{south_north}{latitude:02d}°{minutes:02d}'{rest:02d}\" {east_west}{longitude:03d}°{rest:02d}'00\"",
                f"{latitude}.{minutes:02d} -{longitude}.{rest:02d}",
                f"{latitude:02d}{minutes:02d}{south_north}{longitude:03d}{rest:02d}{east_west}",
                f"{latitude:02d}{south_north}{longitude:03d}{east_west}",
            ]
        )
    )


@st.composite
def chains(draw: st.DrawFn, direct: bool) -> str:
    """The chain of an airway or of direct legs, up to four points long."""
    points = draw(st.lists(POINTS, min_size=2, max_size=4, unique=True))
    text = points[0]
    for before, point in pairwise(points):
        text += f" {draw(st.just('') | RADIALS)} - {draw(st.just('') | RADIALS)} {point} {draw(DISTANCES)}"
        options = [
            st.builds("mea {}".format, BOTH_WAYS),
            st.builds("moca {}".format, BOTH_WAYS),
            st.builds("maa {}".format, BOTH_WAYS),
            st.builds(f"mca {{}} {before} to {point}".format, ALTITUDES),
            st.builds("gap {}".format, st.just("") | DISTANCES),
            st.builds("cop {} {}".format, DISTANCES, IDENTS),
            st.just("turn"),
            st.builds("on {} {}".format, IDENTS, RADIALS),
        ]
        if direct:
            options.append(st.builds("min {} {}".format, BOTH_WAYS, st.just("") | NAMES))
            options.append(st.builds("course {}{}".format, RADIALS, st.sampled_from("MT")))
        chosen = draw(st.lists(st.integers(0, len(options) - 1), unique=True, max_size=3))
        text += "".join(f" {draw(options[index])}" for index in chosen)
    return text


CHANGES = st.sampled_from(["", "", "/A055", "/F085", "/N0110A075", "/K0200M0084"])
ROUTE_POINTS = st.builds(
    "{}{}{}".format, POINTS, st.sampled_from(["", "", "084021", ":vor", ":4612N03921W"]), CHANGES
) | st.sampled_from(["4612N03921W", "46N039W/F085"])
ROUTE_REST = (
    ROUTE_POINTS
    | st.builds("{} {}".format, st.sampled_from(["V801", "DCT"]), ROUTE_POINTS)
    | st.builds("{} {}".format, IDENTS, st.sampled_from(["over", "land", "land 45min", "land 1h fuel 38gal"]))
)


@st.composite
def stations(draw: st.DrawFn) -> str:
    """A VOR with some of its options in any order."""
    options = [
        st.builds("decl {}".format, DECLINATIONS | st.just("true")),
        st.builds("class {}".format, st.sampled_from(["T", "VL", "low"])),
        st.builds("dme {}".format, st.sampled_from(["", "84X", "84X DL", "H"])),
        st.builds("elev {}".format, st.sampled_from(["820", "-12ft", "250m"])),
        st.builds("unusable {}-{} {}".format, RADIALS, RADIALS, st.sampled_from(["", "beyond 10nm", "below 900m"])),
        st.builds("name {}".format, NAMES),
    ]
    chosen = draw(st.permutations(range(len(options))))[: draw(st.integers(0, len(options)))]
    words = [draw(IDENTS), "113.70", draw(st.just("") | positions()), *(draw(options[index]) for index in chosen)]
    return " ".join(words)


DRAWN = {
    "station": stations(),
    "airport": st.builds("{} {} {}".format, IDENTS, positions(), st.sampled_from(["", "elev -12ft", 'name "Marsh"'])),
    "fix": st.builds("{} {}".format, POINTS, positions())
    | st.builds("{} {} {} {} {}".format, FIXES, IDENTS, RADIALS, DISTANCES, st.sampled_from(["", "mra 5000"]))
    | st.builds("{} {} {} dme {} at {}".format, FIXES, IDENTS, RADIALS, DISTANCES, ALTITUDES)
    | st.builds("{} {} {} x {} {}".format, FIXES, IDENTS, RADIALS, IDENTS, RADIALS),
    "airway": st.builds("V{} {}".format, st.integers(801, 999), chains(direct=False)),
    "direct": chains(direct=True),
    "wind": st.builds("{} {}".format, st.just("") | st.builds("at {}".format, POINTS), WINDS | st.just("calm"))
    | st.builds("3000 {} {} 6000ft {}".format, WINDS, st.sampled_from(["", "+4C", "-2C", "50F"]), WINDS),
    "route": st.builds("{} {}".format, ROUTE_POINTS, st.lists(ROUTE_REST, min_size=1, max_size=6).map(" ".join)),
    "alternate": IDENTS | st.builds("{} via V801 {} at {}".format, POINTS, IDENTS, LEVELS),
    "altitude": LEVELS,
    "date": st.dates(date(1990, 1, 1), date(2100, 1, 1)).map(str),
    "fuel": FUELS,
    "equipment": st.builds("vor {} dme {}".format, st.integers(1, 9), st.integers(0, 9)),
    "note": NAMES,
}
STATEMENT = st.sampled_from(sorted(DRAWN)).flatmap(lambda keyword: st.builds(f"{keyword} {{}}".format, DRAWN[keyword]))

FILES = st.builds(
    '{}\nflight "Out"\n{}\nflight "Back"\n{}'.format,
    *[st.lists(STATEMENT, max_size=6).map("\n".join)] * 3,
)


def bare(value: object) -> object:
    """`value` without its places."""
    if isinstance(value, Span):
        return None
    if isinstance(value, Struct):
        return type(value).__name__, [bare(getattr(value, name)) for name in value.__struct_fields__]
    if isinstance(value, tuple):
        return [bare(item) for item in value]
    return value


def values(tree: Tree) -> object:
    """Every statement's keyword and value, by scope, without places."""
    scopes = [("", tree.common), *((flight.name, flight.statements) for flight in tree.flights)]
    return [(name, [(one.keyword, bare(one.value)) for one in statements]) for name, statements in scopes]


def as_typed(statement: Statement) -> list[str]:
    return [statement.keyword, *(f'"{word.text}"' if word.quoted else word.text for word in statement.words)]


@given(STATEMENT)
def test_every_generated_statement_is_right(text: str) -> None:
    assert [format_problem(problem) for problem in parse(text, "t.route").problems] == []


@given(FILES)
def test_tidy_text_says_the_same_and_stays_as_it_is(text: str) -> None:
    tree = parse(text, "t.route")
    assume({problem.code for problem in tree.all_problems()} == set())
    tidy = to_text(tree)
    assert values(parse(tidy, "t.route")) == values(tree)
    assert to_text(parse(tidy, "t.route")) == tidy


@given(STATEMENT, st.data())
def test_layout_does_not_matter(text: str, data: st.DataObject) -> None:
    tree = parse(text, "t.route")
    words = as_typed(tree.common[0])
    gaps = st.sampled_from([" ", "\t", "   ", " # comment\n    ", "\n\n  ", "\n# comment\n\t\t", "  \r\n  "])
    laid_out = "  # above\n" + words[0] + "".join(data.draw(gaps) + word for word in words[1:]) + " \t# end"
    assert values(parse(laid_out, "t.route")) == values(tree)


@given(FILES)
def test_line_ends_byte_order_mark_and_trailing_blanks_do_not_matter(text: str) -> None:
    tree = parse(text, "t.route")
    padded = "\ufeff" + text.replace("\n", " \t\r\n") + "\r\n\r\n"
    for other in (padded, decode(padded.encode(), "t.route"), text.replace("\n", "\r")):
        again = parse(other, "t.route")
        assert values(again) == values(tree)
        assert [p.span for p in again.all_problems()] == [p.span for p in tree.all_problems()]


SCRAPS = st.sampled_from(
    [*sorted(STATEMENTS), '"', "#", "-", "/", ":", "x", "at", "via", "over", "land", "to", "Z"]
) | (st.sampled_from(["QHB", "113.70", "N46", "W039", "15W", "230/12", "FL085", "V801", "dme", "150-160", "QHB084021"]))
SCRAP_TEXT = st.lists(SCRAPS | st.text(max_size=5) | st.sampled_from(["\n", "\n  ", '"'])).map(" ".join)


@given(SCRAP_TEXT | st.text(st.characters()))
@example("\ud800")
@example('flight\n"')
@example("route XHAR land\n  land")
def test_no_text_raises(text: str) -> None:
    plans = read_flights(text, "t.route")
    for problem in parse(text, "t.route").all_problems():
        assert problem.span is not None
        assert problem.text == plans.lines[problem.span.line - 1]
        assert format_problem(problem)


@given(STATEMENT, st.integers(0, 80), st.integers(0, 3), st.text(max_size=2))
def test_no_slip_of_the_pen_raises(text: str, start: int, deleted: int, typed: str) -> None:
    slipped = text[:start] + typed + text[start + deleted :]
    read_flights(slipped, "t.route")


@given(SCRAP_TEXT | st.text(max_size=20))
def test_no_override_raises(text: str) -> None:
    overrides = Overrides(date=text, off=text, wind=(text, text), altitude=text, unavailable=(text,))
    read_flights("route XHAR XOLD\ntas 110kt", "t.route", overrides=overrides)
    read_flights(
        "route XHAR XOLD\ntas 110kt\naltitude 4500\ndate 2026-07-18",
        "t.route",
        overrides=Overrides(off=f"10:10 {text}"),
    )


@given(st.binary())
def test_bytes_are_text_or_a_problem(data: bytes) -> None:
    try:
        assert decode(data, "t.route") == data.decode("utf-8-sig")
    except NavlogError as error:
        problem_codes = [problem.code for problem in error.problems]
    else:
        return
    assert problem_codes == ["bad-encoding"]


def test_a_file_with_every_keyword_is_written_and_read_back() -> None:
    path = Path(__file__).parents[1] / "data" / "valid" / "every-statement.route"
    tree = parse(path.read_text(encoding="utf-8"), path.name)
    used = {s.keyword for s in (*tree.common, *(s for flight in tree.flights for s in flight.statements))}
    assert used | {"flight"} == set(STATEMENTS)
    assert values(parse(to_text(tree), path.name)) == values(tree)
