"""Identifiers: UUID version 7 (RFC 9562 section 5.7), so that what is made later sorts later."""

from __future__ import annotations

import secrets
import time


def uuid7_from(milliseconds: int, random: int) -> str:
    """The identifier of a Unix time in milliseconds and 74 random bits (12 for rand_a, then 62 for rand_b)."""
    value = (milliseconds & (2**48 - 1)) << 80
    value |= 7 << 76 | (random >> 62 & 0xFFF) << 64
    value |= 2 << 62 | random & (2**62 - 1)
    digits = f"{value:032x}"
    return "-".join((digits[:8], digits[8:12], digits[12:16], digits[16:20], digits[20:]))


def uuid7() -> str:
    """A new identifier, lower case."""
    return uuid7_from(time.time_ns() // 1_000_000, secrets.randbits(74))
