"""Playwright's `expect`, which first waits until what it speaks of is there.

Each time that Playwright looks and finds nothing it describes the whole page, in case nothing ever comes; on a drawing
with hundreds of parts that is most of the work of a test. What is not there yet is waited for without that.
"""

from __future__ import annotations

from contextlib import suppress

from playwright.sync_api import Error, Locator
from playwright.sync_api import expect as playwright_expect

PATIENCE = 15_000  # milliseconds: two cores shared with a server and a browser; slow is not wrong
playwright_expect.set_options(timeout=PATIENCE)


def expect(actual, message: str | None = None):
    """As `playwright.sync_api.expect`: the same expectations and the same errors."""
    assertions = playwright_expect(actual, message)
    return Expected(actual, assertions) if isinstance(actual, Locator) else assertions


class Expected:
    """Every expectation of one element waits for it; those of several, of none, or of its absence are left alone."""

    def __init__(self, locator: Locator, assertions) -> None:
        self._locator, self._assertions = locator, assertions

    def __getattr__(self, name: str):
        judge = getattr(self._assertions, name)
        if name.startswith("not_") or name in ("to_have_count", "to_be_hidden"):
            return judge

        def waited(*values, **options) -> None:
            several = bool(values) and isinstance(values[0], list | tuple)
            absent = options.get("visible") is False or options.get("attached") is False
            if not several and not absent:
                # That there are several of them the judge says in its own words.
                with suppress(Error):
                    self._locator.wait_for(state="attached", timeout=options.get("timeout", PATIENCE))
            judge(*values, **options)

        return waited
