"""Options of the test run."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from navlog.catalogue import import_data
from navlog.rules.samples import FILES


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write what navlog prints now into tests/golden; look at the difference before you keep it",
    )


# No test depends on the machine's speed; in CI the same examples are drawn every time.
settings.register_profile("any-speed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", settings.get_profile("any-speed"), derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "any-speed")

# A run started in the background ignores Ctrl-C, and so would every process that the tests start.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

# Nor would they end when the terminal goes, under nohup: a handler that does nothing is not handed on to them.
if hasattr(signal, "SIGHUP") and signal.getsignal(signal.SIGHUP) is signal.SIG_IGN:
    signal.signal(signal.SIGHUP, lambda *_: None)

# The samples of the rules on terrain name the folder of the examples' islands.
FILES["terrain"] = str(Path(__file__).parents[1] / "examples" / "terrain")


@pytest.fixture(scope="module")
def islands(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A catalogue of the invented islands."""
    path = tmp_path_factory.mktemp("islands") / "catalogue.sqlite"
    import_data(Path(__file__).parents[1] / "examples" / "islands", path)
    return str(path)
