"""The files in which the workshop's data travel to another workshop: readable JSON that says what it holds."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say


@dataclass(frozen=True)
class Exchange:
    """A sort of file: its `format` line, the `field` that holds the data, and what that is in words ("a procedure")."""

    format: str
    field: str
    words: str

    def write(self, data: dict[str, Any]) -> bytes:
        """The file: the same bytes for the same data."""
        body = {"format": self.format, self.field: data}
        return (json.dumps(body, indent=2, sort_keys=True, ensure_ascii=False) + "\n").encode()

    def read(self, file: bytes) -> dict[str, Any]:
        """The data in such a file. Raises Refusal for another file; faults of the data are their check's to find."""
        try:
            body = json.loads(file.decode("utf-8"))
        except (ValueError, RecursionError):
            raise Refusal("bad_file", "file", say("trade.ground.not_json")) from None
        if type(body) is not dict or body.get("format") != self.format or type(body.get(self.field)) is not dict:
            reason = say("trade.ground.other_format", format=self.format, thing=self.words)
            raise Refusal("bad_file", "format", reason)
        return body[self.field]
