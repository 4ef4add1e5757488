"""The phone's and the office's own unit tests and their types, run with whatever Node this machine can have."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.one_at_a_time import one_at_a_time

PWA = Path(__file__).resolve().parent.parent / "pwa"


@pytest.fixture(scope="module")
def build_app():
    """pwa/build_app.py with the locked packages installed."""
    spec = importlib.util.spec_from_file_location("build_app", PWA / "build_app.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    with one_at_a_time("build"):
        module.install()
    return module


def run(build_app, script: str) -> None:
    _, npm, _ = build_app.find_node()
    environment = build_app.environment() | {"PYTHON": sys.executable, "CI": "1"}
    done = subprocess.run(
        [*npm, "run", script, "--silent"], cwd=PWA, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, f"npm run {script}:\n{done.stdout[-8000:]}\n{done.stderr[-8000:]}"


def test_the_phone_keeps_its_promises_in_its_own_unit_tests(build_app):
    run(build_app, "test")


def test_the_types_of_both_faces_fit(build_app):
    run(build_app, "check")


def test_the_lock_file_names_no_registry():
    assert '"resolved"' not in (PWA / "package-lock.json").read_text()
