"""How the log stands, for those who may not look into it themselves."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from witnessmark.log import heads, read


def head(conn: Connection, workshop: str) -> dict | None:
    """The newest signed head as {size, root, time}, or None while the log is empty."""
    newest = heads.latest(conn, workshop)
    return {"size": newest.size, "root": newest.root, "time": newest.time} if newest else None


def received(conn: Connection, workshop: str, devices: Sequence[str]) -> dict[str, int]:
    """Device -> its highest running number that is accounted for here."""
    return {device: read.chain_end(conn, workshop, device).sequence for device in devices}
