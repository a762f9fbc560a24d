"""Running a command line inside the test's own process."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from navlog.cli import run


@pytest.fixture
def navlog(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """Runs a command line, and after it words that have blanks: exit status, standard output and error."""

    def run_line(line: str, *words: str) -> tuple[int, str, str]:
        status = run([*line.split(), *words])
        captured = capsys.readouterr()
        return status, captured.out, captured.err

    return run_line
