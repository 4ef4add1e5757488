"""Both faces and the fonts of packs, built from the sources as they are now, before anything is judged by them."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from tests.support.one_at_a_time import ROOT, one_at_a_time


@pytest.fixture(scope="session", autouse=True)
def built() -> Path:
    """The folder of the built faces."""
    return build_faces()


def build_faces() -> Path:
    """Builds unless it is built already; returns the folder."""
    spec = importlib.util.spec_from_file_location("build_app", ROOT / "pwa" / "build_app.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    with one_at_a_time("build"):
        return module.build()
