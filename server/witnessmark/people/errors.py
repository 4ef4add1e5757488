"""Why somebody is not let in. Each carries a sentence that a person may read; web/errors.py maps them once."""

from __future__ import annotations

from witnessmark.trade.ground.errors import Refusal


class NotSignedIn(Refusal):
    """No valid sign-in or device token came with the request."""


class NotAllowed(Refusal):
    """Known, but not entitled to this."""


class Unknown(Refusal):
    """There is no such thing here."""


class Taken(Refusal):
    """The name, code or number is in use, or has been used up."""


class TooMany(Refusal):
    """Too many failures lately. `seconds` says when to try again."""

    def __init__(self, seconds: int, message: str):
        super().__init__("too_many", "sign-in", message)
        self.seconds = seconds
