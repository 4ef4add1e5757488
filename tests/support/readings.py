"""Readings of a procedure as a phone keeps them, all invented: for those who look at what the office makes of them."""

from __future__ import annotations

from tests.support.measured import a_reading
from tests.support.phone import Phone
from tests.support.record import keep
from witnessmark.trade.measuring.procedures import BUILT_IN, point_words, quantity_of

HEIGHTS, DIRECTIONS = ("top", "middle", "bottom"), ("thrust", "axial")
GRID = [f"{height}/{direction}" for height in HEIGHTS for direction in DIRECTIONS]


def take(
    phone: Phone, job: str, place: str, reading: str, value: str, procedure: str = "cylinder_bore", **changes
) -> dict:
    """Keeps one reading of a built-in procedure; returns the entry."""
    described = BUILT_IN[procedure]
    given = {
        "edition": described["edition"],
        "reading": reading,
        "quantity": quantity_of(described, reading),
        "value": value,
    }
    body = a_reading(procedure=procedure, **given) | changes
    where = {"place": place, "point": point_words(described, reading)}
    return keep(phone, phone.entry("measured", job, location=where, body=body))


def take_bore(phone: Phone, job: str, number: int, values: str, **changes) -> list[dict]:
    """Keeps the six readings of a bore: "89.012 89.024 …", top to bottom, thrust before axial."""
    return [
        take(phone, job, f"bore/{number}", reading, value, **changes)
        for reading, value in zip(GRID, values.split(), strict=True)
    ]
