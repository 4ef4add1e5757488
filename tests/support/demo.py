"""The demo's workshop, made once in a run of the tests: those who write into it take a copy."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from tests.support.one_at_a_time import one_at_a_time
from witnessmark.config import Settings
from witnessmark.operate import demo


@pytest.fixture(scope="session")
def demo_once(tmp_path_factory) -> Settings:
    """As `witnessmark demo` leaves it, for all workers of this run. To be read only."""
    base = tmp_path_factory.getbasetemp()
    home = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "demo-once"
    settings = Settings(home / "data", demo=True)
    with one_at_a_time("demo"):
        if not (home / "made").exists():
            demo.open_demo(settings, reset=False)
            (home / "made").touch()
    return settings


def copy_of_demo(settings: Settings, folder: Path) -> Settings:
    """The same demo in another folder."""
    shutil.copytree(settings.data, folder)
    return Settings(folder, demo=True)
