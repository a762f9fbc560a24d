"""What the tests of flights with an aircraft file and bulletins share."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.folder import Folder


@pytest.fixture
def folder(tmp_path: Path) -> Folder:
    """A folder of its own for a route file and the files that it names."""
    return Folder(tmp_path)
