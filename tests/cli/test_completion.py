"""What a shell gets that asks for completions, by the environment in which `click` has them asked."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def asked(navlog: Run, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Asks as a shell does with COMP_WORDS and COMP_CWORD; None leaves one out."""

    def ask(shell: str, words: str | None, at: str | None) -> tuple[int, str, str]:
        monkeypatch.setenv("_NAVLOG_COMPLETE", f"{shell}_complete")
        for name, value in (("COMP_WORDS", words), ("COMP_CWORD", at)):
            if value is None:
                monkeypatch.delenv(name, raising=False)
            else:
                monkeypatch.setenv(name, value)
        return navlog("")

    return ask


@pytest.mark.parametrize("shell", ["bash", "zsh"])
@pytest.mark.parametrize(
    ("words", "at"),
    [("navlog", "x"), ("navlog", None), ("navlog", ""), (None, "1"), ("navlog lo", "-1"), ("navlog", "9" * 5000)],
)
def test_a_question_without_its_words_is_refused(asked: Run, shell: str, words: str | None, at: str | None) -> None:
    status, out, err = asked(shell, words, at)
    assert (status, out) == (2, "")
    assert err.startswith("Error: A shell that asks for completions sets COMP_WORDS")


def test_fish_hands_over_the_word_and_no_blanks(asked: Run) -> None:
    assert asked("fish", "navlog  ", "  ")[0] == 2
    assert asked("fish", None, "lo")[0] == 2
    assert asked("fish", "navlog mor", "mor")[1].startswith("plain,morse")


@pytest.mark.parametrize(
    ("shell", "words", "at"),
    [("bash", 'navlog "lo', "1"), ("bash", "navlog", "9"), ("bash", "navlog x", "2"), ("fish", "navlog x '", "'")],
)
def test_a_line_that_is_not_finished_or_wrong_gives_no_message(asked: Run, shell: str, words: str, at: str) -> None:
    status, out, err = asked(shell, words, at)
    assert (status, err) == (0, "")
    assert out.startswith("plain,log")
