"""How far a phone's clock is off: measured, shown, and never used to decide anything."""

from __future__ import annotations

from datetime import datetime

from witnessmark.db import clock


def offset_ms(device_time: str) -> int | None:
    """Server clock minus device clock in milliseconds, from the time the phone claims; None if unreadable."""
    try:
        claimed = datetime.fromisoformat(device_time)
    except ValueError:
        return None
    if claimed.tzinfo is None:
        return None
    return round((clock() - claimed.timestamp()) * 1000)
