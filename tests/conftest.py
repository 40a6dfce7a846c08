"""One world for all tests: a home of their own, no colour variables, width 80, a patient hypothesis."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# a shell's background job ignores Ctrl-C, and so would the programs that the tests start and interrupt
signal.signal(signal.SIGINT, signal.default_int_handler)

settings.register_profile("patient", deadline=None, suppress_health_check=[HealthCheck.too_slow], max_examples=60)
# the same examples each time, and few: what tests.mutants runs hundreds of times over
settings.register_profile("mutants", settings.get_profile("patient"), max_examples=15, derandomize=True)
settings.load_profile("patient")

_HOME = ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME")
_LOOKS = ("NO_COLOR", "FORCE_COLOR", "CLICOLOR_FORCE", "MINCEWISE_NOTEBOOK", "COLUMNS")


@pytest.fixture(autouse=True, scope="session")
def home_of_their_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """No test reads or writes the notebook, history or settings of whoever runs it."""
    home = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        for name in _HOME:
            patch.setenv(name, str(home / name.lower()))
        for name in _LOOKS:
            patch.delenv(name, raising=False)
        yield home


@pytest.fixture(autouse=True)
def notebook_of_its_own(
    home_of_their_own: Path, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What one test tells the notebook (a cook's own fat for a cut) is not known to the next."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("data")))
