"""Runs a script of pwa/package.json with whatever Node this machine can have."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from pathlib import Path

from tests.support.one_at_a_time import ROOT, one_at_a_time

PWA = ROOT / "pwa"


def builder():
    """The module pwa/build_app.py, which finds Node and npm, installs what is locked and builds both faces."""
    spec = importlib.util.spec_from_file_location("build_app", PWA / "build_app.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def build_faces() -> Path:
    """Builds both faces unless they are built already; returns the folder."""
    with one_at_a_time("build"):
        return builder().build()


def run_script(name: str) -> None:
    """Fails with the end of what the script wrote if it ends badly."""
    build_app = builder()
    with one_at_a_time("build"):
        build_app.install()
    _, npm, _ = build_app.find_node()
    environment = build_app.environment() | {"PYTHON": sys.executable, "CI": "1"}
    done = subprocess.run(
        [*npm, "run", name, "--silent"], cwd=PWA, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, f"npm run {name}:\n{done.stdout[-8000:]}\n{done.stderr[-8000:]}"
