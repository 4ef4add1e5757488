"""The errors of the trade: each carries a sentence that a technician may read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from witnessmark.trade.ground.sentences import Sentence


class Refusal(Exception):
    """Something was offered that the workshop's record cannot take.

    `code` is a short word for programs, `where` the field or thing it is about (dots between levels),
    `message` a sentence that names the thing, the reason and the next step.
    """

    def __init__(self, code: str, where: str, message: str):
        super().__init__(message)
        self.code = code
        self.where = where
        self.message = message

    def as_json(self) -> dict[str, str]:
        return {"code": self.code, "message": self.message, "where": self.where}


@dataclass(frozen=True)
class Fault:
    """One thing wrong with a description: the field it stands in (dots between levels) and the reason in words.

    Where `say` gave the words, `code` is their key and `filled` what fills them, for programs; else "" and nothing.
    """

    where: str
    message: str

    @property
    def code(self) -> str:
        return self.message.key if isinstance(self.message, Sentence) else ""

    @property
    def filled(self) -> dict[str, Any]:
        return self.message.filled if isinstance(self.message, Sentence) else {}

    def as_json(self) -> dict[str, str]:
        return {"where": self.where, "message": self.message}
