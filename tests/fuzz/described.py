"""Requests that schemathesis makes from the description: such as it allows, and such as break it in one place."""

from __future__ import annotations

import warnings
from collections.abc import Callable
from random import Random
from typing import Any

import schemathesis
from flask import Flask
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import seed as seeded
from hypothesis.errors import Unsatisfiable
from schemathesis.generation import GenerationMode
from werkzeug.test import EnvironBuilder

from tests.fuzz.asking import Request, in_path
from tests.fuzz.samples import PARAMETER, credentials
from tests.fuzz.workshop import Filled

KNOWN_SHARE = 0.8  # of the parameters of paths: an identifier made by chance is never one that is there


class Described:
    """The description as schemathesis reads it, off the running application."""

    def __init__(self, app: Flask, filled: Filled) -> None:
        self.schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app)
        self.filled = filled
        self.operations = {operation.label: operation for operation in map(_ok, self.schema.get_all_operations())}
        # What the description leaves open in one way only, or cannot break, has nothing of that sort to be made.
        self._nothing: set[tuple[str, GenerationMode]] = set()

    def each(self, label: str, count: int, seed: int, broken: bool, take: Callable[[Request], None]) -> None:
        """Passes at most `count` requests of one operation to `take`, the same ones for the same seed."""
        mode = GenerationMode.NEGATIVE if broken else GenerationMode.POSITIVE
        if (label, mode) in self._nothing:
            return
        random = Random(f"{seed} {label} {mode}")

        @seeded(random.randrange(2**32))
        @settings(
            max_examples=count, database=None, phases=[Phase.generate], deadline=None,
            suppress_health_check=list(HealthCheck),
        )  # fmt: skip
        @given(case=self.operations[label].as_strategy(generation_mode=mode))
        def every(case) -> None:
            request = self._request(label, case, random)
            assume(request is not None)
            take(request)

        try:
            every()
        except Unsatisfiable:
            self._nothing.add((label, mode))

    def _request(self, label: str, case: Any, random: Random) -> Request | None:
        """The case as bytes; None for one that werkzeug's own client would not send."""
        known = self.filled.known
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            try:
                given_by_case = EnvironBuilder(**case.as_transport_kwargs()).get_environ()
            except (ValueError, UnicodeError):
                return None
        headers = {
            name[5:].replace("_", "-").title(): value
            for name, value in given_by_case.items()
            if name.startswith("HTTP_") and name != "HTTP_HOST"
        }
        body = given_by_case["wsgi.input"].read()
        if kind := given_by_case.get("CONTENT_TYPE"):
            headers["Content-Type"] = kind
        path = given_by_case["PATH_INFO"]
        if random.random() < KNOWN_SHARE:
            template = label.split(" ")[1]
            made = {name: str(value) for name, value in (case.path_parameters or {}).items()}
            path = in_path(
                PARAMETER.sub(lambda match: random.choice(known.get(match[1], [made.get(match[1], "x")])), template)
            )
        return Request(
            label, given_by_case["REQUEST_METHOD"], path, given_by_case["QUERY_STRING"],
            headers | credentials(self.filled, label), body, f"192.0.2.{random.randrange(1, 255)}",
        )  # fmt: skip


def _ok(result):
    return result.ok()
