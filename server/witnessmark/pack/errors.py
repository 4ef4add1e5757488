"""Why a pack could not be cut, in words for whoever asked for it."""

from __future__ import annotations

from witnessmark.trade.ground.errors import Refusal


class NoSuchJob(Refusal):
    """The log holds no record of the job."""


class NotBuilt(Refusal):
    """Something a pack is made with was not built on this machine."""


class Spoilt(Refusal):
    """An original is no longer the file it was: its bytes do not give its name. Nothing is handed out over that."""
