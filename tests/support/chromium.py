"""Finds a Chromium for the browser tests: on PATH, from Debian's package when root, else Playwright's own."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path

from tests.support.one_at_a_time import one_at_a_time

NAMES = ("chromium", "chromium-browser", "google-chrome")

# No sandbox: the tests may run as root. The rest keeps the browser from talking to anybody but our server.
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


class NoBrowser(RuntimeError):
    """No Chromium: the message is one sentence that says what to install."""


@cache
def find() -> str:
    """Path of a Chromium that runs; raises NoBrowser."""
    with one_at_a_time("chromium"):
        for attempt in (_on_path, _from_debian, _from_playwright):
            if path := attempt():
                return path
    raise NoBrowser(
        "The browser tests need Chromium: install your system's chromium package, or run `playwright install chromium`."
    )


def _on_path() -> str | None:
    return next((path for name in NAMES if (path := shutil.which(name))), None)


def _from_debian() -> str | None:
    if not hasattr(os, "geteuid") or os.geteuid() != 0 or not shutil.which("apt-get"):
        return None
    quiet = {"env": os.environ | {"DEBIAN_FRONTEND": "noninteractive"}, "stdout": sys.stderr, "check": False}
    subprocess.run(["apt-get", "update", "-q"], **quiet)
    subprocess.run(["apt-get", "install", "-y", "-q", "--no-install-recommends", "chromium"], **quiet)
    return _on_path()


def _from_playwright() -> str | None:
    found = _playwright_path()
    if not found:
        subprocess.run([sys.executable, "-m", "playwright", "install", "chromium"], stdout=sys.stderr, check=False)
        found = _playwright_path()
    return found


def _playwright_path() -> str | None:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    return path if Path(path).exists() else None
