"""What counts as a fault of an answer: the server failed, or the answer is not as the description says."""

from __future__ import annotations

import json
import logging
import traceback
from typing import Any

from jsonschema_rs import Draft202012Validator

from tests.fuzz.asking import Answer, Request

BODILESS = (204, 304)
# What they read out of a file is answered as it was read, with its faults: of the described shape when it has none.
AS_READ = {
    "POST /api/engine-types/read-file",
    "POST /api/procedures/file",
    "POST /api/engine-types/{engine_type}/tightening/file",
}


class Judge:
    """Holds answers against a description. `faults` gives what is wrong with one, in short sentences."""

    def __init__(self, description: dict[str, Any]) -> None:
        self.description = description
        self._validators: dict[tuple[str, int], Draft202012Validator | None] = {}
        components = {"components": description["components"]}
        self._error = self._validator({"$ref": "#/components/schemas/ErrorAnswer"} | components)

    def faults(self, request: Request, answer: Answer) -> list[str]:
        if answer.status >= 500:
            return [f"the server failed: {answer.status} {_code(answer)}"]
        if request.path.startswith("/api/") and "witnessmark-server" not in answer.headers:
            return ["the answer does not say whose it is"]
        if request.method == "HEAD" or answer.status in BODILESS:
            wrong = ["there is a body where none may be"] if answer.body else []
            return wrong + self._status(request, answer)
        if answer.status >= 400:
            return self._refusal(request, answer)
        return self._status(request, answer) or self._body(request, answer)

    def _refusal(self, request: Request, answer: Answer) -> list[str]:
        if not request.path.startswith("/api/"):
            return []
        value = _json(answer)
        if answer.type != "application/json" or value is None:
            return [f"{answer.status} is no JSON but {answer.type}"]
        return [
            f"{answer.status} is not in the shape of errors: {fault.message}"
            for fault in self._error.iter_errors(value)
        ]

    def _operation(self, request: Request) -> dict[str, Any] | None:
        """What was described, if the request was for that and nothing beside it."""
        method, path = request.label.split(" ")
        same = request.method == method and request.described
        return self.description["paths"][path][method.lower()] if same else None

    def _status(self, request: Request, answer: Answer) -> list[str]:
        operation = self._operation(request)
        if operation is None or answer.status >= 400 or str(answer.status) in operation["responses"]:
            return []
        return [f"{answer.status} is not described"]

    def _body(self, request: Request, answer: Answer) -> list[str]:
        operation = self._operation(request)
        if operation is None:
            return []
        content = operation["responses"][str(answer.status)].get("content", {})
        if not content:
            return ["there is a body where none is described"] if answer.body else []
        if answer.type not in content and "*/*" not in content:
            return [f"it is {answer.type}, described is {', '.join(content)}"]
        schema = content.get(answer.type, {}).get("schema")
        if not schema or answer.type != "application/json":
            return []
        key = request.label, answer.status
        if key not in self._validators:
            self._validators[key] = self._validator(schema | {"components": self.description["components"]})
        value = _json(answer)
        if request.label in AS_READ and value["faults"]:
            return []
        first = next(iter(self._validators[key].iter_errors(value)), None)
        return [f"its body is not as described: {_where(first)}: {first.message[:200]}"] if first else []

    @staticmethod
    def _validator(schema: dict[str, Any]) -> Draft202012Validator:
        return Draft202012Validator({"$schema": "https://json-schema.org/draft/2020-12/schema"} | schema)


class Errors(logging.Handler):
    """What the server writes into its log as an error while it is asked: a traceback is a fault whatever it answers."""

    def __init__(self) -> None:
        super().__init__(logging.ERROR)
        self.found: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        error = record.exc_info[1] if record.exc_info else None
        if error is None:
            self.found.append(f"{record.name} wrote: {record.getMessage()[:300]}")
            return
        last = traceback.extract_tb(error.__traceback__)[-1]
        self.found.append(
            f"{type(error).__name__} in {last.filename.rsplit('/', 1)[-1]}, {last.name}: {str(error)[:200]}"
        )


def _where(fault: Any) -> str:
    """The place in the body, its numbers left out: the same fault in two lines of a list is one."""
    return ".".join(part for part in map(str, fault.instance_path) if not part.isdigit())


def _json(answer: Answer) -> Any:
    try:
        return json.loads(answer.body)
    except ValueError:
        return None


def _code(answer: Answer) -> str:
    value = _json(answer)
    return str(value.get("code", "")) if isinstance(value, dict) else ""
