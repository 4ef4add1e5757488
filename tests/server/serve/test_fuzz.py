"""A share of what `python -m tests.fuzz` asks: nothing makes the server fail, every answer is as described."""

from __future__ import annotations

from tests.fuzz.run import Fuzz
from tests.fuzz.workshop import fill

A_SHARE = 700  # of the fifty thousand that the command asks; about ten seconds


def test_nothing_that_is_asked_makes_the_server_fail_or_answer_otherwise_than_described(tmp_path):
    """Judge of the shapes: jsonschema-rs. Requests by schemathesis from the served description, and odd ones."""
    fuzz = Fuzz(fill(tmp_path), tmp_path, seed=20261201, report=lambda fault: None)
    result = fuzz.run(A_SHARE)
    assert result.faults == {}
    assert result.requests == A_SHARE and result.stored
    assert {"good", "odd", "described", "broken", "entry"} <= set(result.sorts)
