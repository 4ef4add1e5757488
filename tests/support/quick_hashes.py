"""Passwords and PINs are hashed cheaply while tests run; what ships is dear on purpose and has a test of its own."""

from __future__ import annotations

import pytest

from witnessmark.people import secrets

SHIPPED = {"SCRYPT": dict(secrets.SCRYPT), "PIN_ITERATIONS": secrets.PIN_ITERATIONS}
QUICK = {"SCRYPT": {"n": 2**4, "r": 8, "p": 1}, "PIN_ITERATIONS": 1000}


@pytest.fixture(scope="session", autouse=True)
def quick_hashes():
    """Only what this process hashes: a server in its own process checks by the cost that stands beside the hash."""
    with pytest.MonkeyPatch.context() as patch:
        for name, cost in QUICK.items():
            patch.setattr(secrets, name, cost)
        yield


@pytest.fixture
def shipped_hashes(monkeypatch) -> None:
    """For a test that judges the cost itself."""
    for name, cost in SHIPPED.items():
        monkeypatch.setattr(secrets, name, cost)
