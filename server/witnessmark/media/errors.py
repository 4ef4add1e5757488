"""What can be wrong with a file that is handed over, in words and with the HTTP status that says so."""

from __future__ import annotations

from witnessmark.trade.ground.sentences import say


class MediaRefusal(Exception):
    """A file or part of a file that is not taken now.

    `status` is the HTTP status, `code` a stable word for programs, the text a sentence for people that names
    the thing, the reason and the next step. `retry_after` is in seconds, None when waiting does not help.
    """

    def __init__(self, status: int, code: str, message: str, where: str = "", retry_after: int | None = None):
        super().__init__(message)
        self.status = status
        self.code = code
        self.message = message
        self.where = where
        self.retry_after = retry_after


class OriginalMissing(MediaRefusal):
    """The bytes with this SHA-256 are not on this server."""

    def __init__(self, sha256: str):
        super().__init__(
            404,
            "original_missing",
            say("server.media.original_missing", file=sha256[:12]),
            sha256,
        )
