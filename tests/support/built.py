"""Both faces and the fonts of packs, built from the sources as they are now, before anything is judged by them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.npm import build_faces


@pytest.fixture(scope="session", autouse=True)
def built() -> Path:
    """The folder of the built faces."""
    return build_faces()
