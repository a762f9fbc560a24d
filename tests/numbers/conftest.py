"""Prints the largest differences after a run by hand with a number of draws of its own."""

from __future__ import annotations

import pytest
from helpers.compared import DRAWS, GIVEN_DRAWS, LARGEST


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if GIVEN_DRAWS is None:
        return
    terminalreporter.section(f"largest differences of {DRAWS:,} draws")
    for name, most in LARGEST.items():
        terminalreporter.write_line(f"{most:10.2e}  {name}")
