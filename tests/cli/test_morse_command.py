"""`navlog morse`."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_idents(navlog: Run) -> None:
    # ITU-R M.1677-1.
    assert navlog("morse", "BOS", "ABQ") == (0, "BOS -... --- ...\nABQ .- -... --.-\n", "")


def test_small_letters_count_as_capitals(navlog: Run) -> None:
    assert navlog("morse", "bos") == navlog("morse", "BOS")


@pytest.mark.parametrize("line", [(), ("\N{LATIN SMALL LETTER SHARP S}",), ("Q-B",), ("",), ("QHB", "é")])
def test_bad_input_leaves_with_2(navlog: Run, line: tuple[str, ...]) -> None:
    status, out, err = navlog("morse", *line)
    assert (status, out) == (2, "")
    assert "error" in err.lower()
