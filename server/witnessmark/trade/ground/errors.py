"""The errors of the trade: each carries a sentence that a technician may read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from witnessmark.trade.ground.sentences import Sentence


class Worded:
    """What carries a sentence as its `message`: where `say` gave it, programs read its key and what fills its slots."""

    message: str

    @property
    def key(self) -> str:
        """The key of the sentence in the catalogue; "" for words that came from elsewhere."""
        return self.message.key if isinstance(self.message, Sentence) else ""

    @property
    def filled(self) -> dict[str, Any]:
        """What fills the slots of the sentence, by their names."""
        return self.message.filled if isinstance(self.message, Sentence) else {}


class Refusal(Worded, Exception):
    """Something was offered that the workshop's record cannot take.

    `code` is a short word for programs, `where` the field or thing it is about (dots between levels),
    `message` a sentence that names the thing, the reason and the next step; `key` and `filled` are those of the
    sentence.
    """

    def __init__(self, code: str, where: str, message: str):
        super().__init__(message)
        self.code = code
        self.where = where
        self.message = message

    def as_json(self) -> dict[str, str]:
        return {"code": self.code, "message": self.message, "where": self.where}


@dataclass(frozen=True)
class Fault(Worded):
    """One thing wrong with a description: the field it stands in (dots between levels) and the reason in words. For
    programs `code` is the key of the words and `filled` what fills them; "" and nothing for words from elsewhere.
    """

    where: str
    message: str

    @property
    def code(self) -> str:
        return self.key

    def as_json(self) -> dict[str, str]:
        return {"where": self.where, "message": self.message, "code": self.code}
