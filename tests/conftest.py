"""Options of the test run."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write what navlog prints now into tests/golden; look at the difference before you keep it",
    )
