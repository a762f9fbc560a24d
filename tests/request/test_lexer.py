from __future__ import annotations

import pytest

from navlog.nav.problems import NavlogError
from navlog.request.lexer import decode, read_line, split_lines


def words(text: str) -> list[tuple[str, int, int, bool]]:
    line = read_line(text, 1, "t.route")
    return [(w.text, w.span.column, w.span.length, w.quoted) for w in line.words] if line else []


def problem(text: str) -> tuple[str, int, int]:
    line = read_line(text, 1, "t.route")
    assert line is not None
    (found,) = line.problems
    assert found.span is not None
    return found.code, found.span.column, found.span.length


def test_words_carry_their_column_and_length() -> None:
    assert words("  tas  110kt ") == [("tas", 3, 3, False), ("110kt", 8, 5, False)]


def test_a_tab_counts_as_one_column() -> None:
    assert words("\ttas\t\t110kt") == [("tas", 2, 3, False), ("110kt", 7, 5, False)]


@pytest.mark.parametrize("text", ["", "   ", "\t", "# a comment", "  # tas 110kt"])
def test_blank_lines_and_comments_hold_no_words(text: str) -> None:
    assert read_line(text, 1, "t.route") is None


def test_a_comment_starts_anywhere_but_in_quotes() -> None:
    assert words('note "gate #4"# see note') == [("note", 1, 4, False), ("gate #4", 6, 9, True)]
    assert words("tas 110kt#fast") == [("tas", 1, 3, False), ("110kt", 5, 5, False)]


def test_a_quote_opens_only_at_the_start_of_a_word() -> None:
    assert words("""N46°12'18" x""") == [("""N46°12'18\"""", 1, 10, False), ("x", 12, 1, False)]


def test_an_empty_quoted_word_is_a_word() -> None:
    assert words('name ""') == [("name", 1, 4, False), ("", 6, 2, True)]


def test_an_unclosed_quote_is_marked_to_the_end_of_its_line() -> None:
    assert problem('note "until') == ("unclosed-quote", 6, 6)
    assert problem('note "') == ("unclosed-quote", 6, 1)


def test_a_word_glued_to_a_closing_quote_is_a_problem() -> None:
    assert problem('note "one"two') == ("glued-quote", 11, 1)


@pytest.mark.parametrize("character", ["\x00", "\x07", "\x0b", "\x0c", "\x1b", "\x7f", "\x85", "\u2028", "\ud800"])
@pytest.mark.parametrize("line", ["tas {}110kt", 'note "a{}b"', "# a comment{}"])
def test_control_characters_are_a_problem_wherever_they_stand(character: str, line: str) -> None:
    assert problem(line.format(character)) == ("bad-character", line.index("{") + 1, 1)


@pytest.mark.parametrize("character", ["\u202a", "\u202e", "\u2066", "\u2069", "\u200f", "\u061c"])
@pytest.mark.parametrize("line", ["tas {}110kt", 'note "a{}b"', "# a comment{}"])
def test_bidirectional_overrides_are_a_problem_wherever_they_stand(character: str, line: str) -> None:
    assert problem(line.format(character)) == ("bad-character", line.index("{") + 1, 1)


def test_invisible_characters_are_a_problem_between_words_and_harmless_in_text() -> None:
    assert problem("tas\u00a0110kt") == ("bad-character", 4, 1)
    assert problem("tas 11\u200b0kt") == ("bad-character", 7, 1)
    assert words('note "10\u00a0km"')[1][0] == "10\u00a0km"
    assert read_line("# 10\u00a0km", 1, "t.route") is None


def test_lines_end_at_lf_crlf_and_cr_alone() -> None:
    assert split_lines("a\nb\r\nc\rd") == ("a", "b", "c", "d")
    assert split_lines("a\x0bb\x85c\u2028d") == ("a\x0bb\x85c\u2028d",)


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_utf8_is_read_with_and_without_a_mark(mark: bytes) -> None:
    assert decode(mark + 'note "Füßen"'.encode(), "t.route") == 'note "Füßen"'


@pytest.mark.parametrize(
    ("data", "guess"),
    [
        ("tas 110kt\n".encode("utf-16"), "UTF-16"),
        ("tas 110kt\n".encode("utf-16-be"), "UTF-16"),
        ("tas 110kt\n".encode("utf-16-le"), "UTF-16"),
        ("tas 110kt\n".encode("utf-32"), "UTF-32"),
        ("tas 110kt\n".encode("utf-32-be"), "UTF-32"),
        ('note "Füßen"'.encode("cp1252"), "Windows-1252"),
        (b'note "F\xfc\x81en"', "ISO 8859-1"),
    ],
)
def test_other_encodings_are_a_problem_that_names_the_guess(data: bytes, guess: str) -> None:
    with pytest.raises(NavlogError) as caught:
        decode(data, "t.route")
    (found,) = caught.value.problems
    assert found.code == "bad-encoding"
    assert found.message.endswith(guess)


def test_the_first_byte_that_is_not_utf8_is_pointed_at() -> None:
    data = 'tas 110kt\r\nnote "ä"\r\n'.encode() + b'note "F\xfc\xdfen"\r\n'
    with pytest.raises(NavlogError) as caught:
        decode(data, "t.route")
    (found,) = caught.value.problems
    assert found.span is not None
    assert (found.span.line, found.span.column) == (3, 8)
    assert found.text == 'note "Füßen"'


def test_a_byte_order_mark_does_not_move_the_place_of_a_wrong_byte() -> None:
    with pytest.raises(NavlogError) as caught:
        decode(b"\xef\xbb\xbfnote \xfc", "t.route")
    span = caught.value.problems[0].span
    assert span is not None
    assert (span.line, span.column) == (1, 6)


@pytest.mark.parametrize("data", [bytes(range(256)), b"\x7fELF\x02\x01\x01" + bytes(400) + b"\xf1\x80\x00\xd8" * 9])
def test_what_is_no_text_is_not_met_with_a_guess_of_its_encoding(data: bytes) -> None:
    with pytest.raises(NavlogError) as raised:
        decode(data, "t.route")
    assert [(one.code, one.message) for one in raised.value.problems] == [("bad-encoding", "the file is not text")]
