"""A Chromium for the browser tests: on PATH, from Debian's package when root, else Playwright's own; one a worker.

Where there is one, most tests use the same Chromium built without windows, which takes a third less of the processor.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from contextlib import suppress
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Playwright, sync_playwright

from tests.support.one_at_a_time import one_at_a_time

NAMES = ("chromium", "chromium-browser", "google-chrome")
WINDOWLESS = "chromium-headless-shell"

# The pages behind the address bar are loaded for every window, where nobody sees them, and take longer than ours. The
# others are off for Playwright too, whose own list this one takes the place of.
FEATURES_OFF = [
    "WebUIOmniboxPopup",
    "WebUIOmniboxAimPopup",
    "AimEnabled",
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsFirstBalancedModeAutoEnable",
    "HttpsUpgrades",
    "LensOverlay",
    "MediaRouter",
    "NetworkTimeServiceQuerying",
    "OptimizationHints",
    "PaintHolding",
    "PreconnectToSearch",
    "ThirdPartyStoragePartitioning",
]
# No sandbox: the tests may run as root. The rest keeps the browser from talking to anybody but our server.
ARGUMENTS = [
    f"--disable-features={','.join(FEATURES_OFF)}",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


# A camera and a microphone that Chromium makes up itself, and leave to use them.
MADE_UP_SENSES = ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"]


@pytest.fixture(scope="session")
def browsers():
    """The browsers of this worker: started when a test first needs one."""
    find()  # looking for one may start Playwright, which cannot be started within itself
    with sync_playwright() as playwright:
        started = Browsers(playwright)
        yield started
        started.close()


@pytest.fixture(scope="session")
def browser(browsers) -> Browser:
    """The one that tests share."""
    return browsers.shared()


class Browsers:
    """Starts Chromium: one that tests share for each set of arguments, or one on a profile of its own."""

    def __init__(self, playwright: Playwright) -> None:
        self._playwright = playwright
        self._shared: dict[tuple[str, ...], Browser] = {}

    def shared(self, *arguments: str, whole: bool = False) -> Browser:
        """Its contexts share nothing with each other, and nothing is left of a context that was closed.

        One that is to hear or to speak has to be the whole of Chromium.
        """
        path = find() if whole or arguments else shutil.which(WINDOWLESS) or find()
        key = (path, *arguments)
        if key not in self._shared or not self._shared[key].is_connected():
            self._shared[key] = self._playwright.chromium.launch(
                executable_path=path, args=[*ARGUMENTS, *MADE_UP_SENSES, *arguments]
            )
        return self._shared[key]

    def on_profile(self, profile: Path, *arguments: str, **context) -> BrowserContext:
        """A browser of its own on a real profile, which stays when the browser ends or is killed."""
        return self._playwright.chromium.launch_persistent_context(
            profile, executable_path=find(), args=[*ARGUMENTS, *MADE_UP_SENSES, *arguments], **context
        )

    def close(self) -> None:
        for browser in self._shared.values():
            with suppress(Error):
                browser.close()


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
    for package in ("chromium", WINDOWLESS):
        subprocess.run(["apt-get", "install", "-y", "-q", "--no-install-recommends", package], **quiet)
    return _on_path()


def _from_playwright() -> str | None:
    result = _playwright_path()
    if not result:
        subprocess.run([sys.executable, "-m", "playwright", "install", "chromium"], stdout=sys.stderr, check=False)
        result = _playwright_path()
    return result


def _playwright_path() -> str | None:
    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    return path if Path(path).exists() else None
