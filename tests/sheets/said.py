"""What the cases of measurement sheets are made of: readings and the workshop's statements. All of it is invented."""

from __future__ import annotations

from typing import Any

from witnessmark.trade.ground.tables import table
from witnessmark.trade.measuring.rules import DEFAULT

ENGINES = {engine["name"]: engine for engine in table("invented_engine_types")["engine_types"]}
SINGLE = ENGINES["Aldous single"]
FOUR = ENGINES["Brantholm flat four"]
V6 = ENGINES["Halvern 2.9 V6"]
MANUAL = "Invented maker's manual, edition 2, page 14"


def an_id(number: int) -> str:
    """An identifier of version 7 that sorts by its number."""
    return f"{0x01900000 + number:08x}-0000-7000-8000-000000000000"


class Workshop:
    """Statements in the order of a log, and readings that rest on them."""

    def __init__(self, engine: dict[str, Any] | None = SINGLE):
        self.engine = engine
        self.entries: list[dict[str, Any]] = []
        self.readings: list[dict[str, Any]] = []
        self._number = 0

    def _next(self) -> str:
        self._number += 1
        return an_id(self._number)

    def says(self, kind: str, field: str, what: dict[str, Any], claimed: str = "2026-03-02T08:00:00.000+01:00") -> str:
        """Adds a statement; returns the identifier of its entry, as a basis names it."""
        self.entries.append({"id": self._next(), "kind": kind, "body": {field: what}, "claimed": claimed})
        return self.entries[-1]["id"]

    def gauge(self, name: str = "Bore gauge 4", claimed: str = "2026-03-02T08:00:00.000+01:00", **changes: Any) -> str:
        what = {
            "id": f"0b4c1a52-0000-4000-8000-{sum(name.encode()):012x}",
            "name": name,
            "sort": "bore_gauge",
            "serial": "",
            "unit": "mm",
            "low": "",
            "high": "",
            "resolution": "0.001",
            "mpe": "0.003",
            "repeatability": "",
            "certificate": "",
            "calibrated": "2026-02-03",
            "due": "2027-02-03",
            "retired": False,
            "notes": "Invented.",
        }
        return self.says("gauge_described", "gauge", what | changes, claimed)

    def limit(self, procedure: str, figure: str, low: str, high: str, unit: str = "mm", **changes: Any) -> str:
        what = {
            "id": f"1c5d2b63-0000-4000-8000-{len(self.entries):012x}",
            "engine_type": self.engine["id"] if self.engine else "",
            "procedure": procedure,
            "figure": figure,
            "sort": "service",
            "low": low,
            "high": high,
            "unit": unit,
            "where": [],
            "source": MANUAL,
            "valid_from": "",
            "valid_until": "",
            "withdrawn": False,
            "note": "",
        }
        return self.says("limit_set", "limit", what | changes)

    def size(self, procedure: str, code: str, values: list[str], unit: str = "mm", **changes: Any) -> str:
        what = {
            "id": f"2d6e3c74-0000-4000-8000-{len(self.entries):012x}",
            "engine_type": self.engine["id"] if self.engine else "",
            "procedure": procedure,
            "code": code,
            "values": values,
            "unit": unit,
            "where": [],
            "source": MANUAL,
            "withdrawn": False,
            "note": "",
        }
        return self.says("size_set", "size", what | changes)

    def rules(self, **changes: Any) -> str:
        return self.says("measuring_rules_set", "rules", DEFAULT | changes)

    def stated(self, entry: str) -> dict[str, Any]:
        """What a statement of this workshop described."""
        body = next(entry_made for entry_made in self.entries if entry_made["id"] == entry)["body"]
        return next(iter(body.values()))

    def read(
        self, procedure: str, place: str, reading: str, value: str, unit: str = "mm", *, quantity: str = "diameter",
        gauge: str = "", basis: tuple[str, ...] = (), claimed: str = "2026-05-14T10:38:07.120+01:00", point: str = "",
        **more: Any,
    ) -> None:  # fmt: skip
        """Adds a reading; `gauge` is the entry that describes it."""
        described = self.stated(gauge) if gauge else {"id": "", "name": ""}
        body = {
            "procedure": procedure,
            "edition": 1 if procedure else 0,
            "reading": reading,
            "state": "as_found",
            "quantity": quantity,
            "value": value,
            "unit": unit,
            "gauge": described["name"],
            "gauge_id": described["id"],
            "part_temperature": "",
            "gauge_temperature": "",
            "material": "",
            "basis": [*([gauge] if gauge else []), *basis],
            "remark": "",
        }
        exhibit = str(len(self.readings) + 1)
        where = point or reading.replace("/", ", ")
        self.readings.append(
            {"id": self._next(), "exhibit": exhibit, "place": place, "point": where, "body": body | more,
             "claimed": claimed}
        )  # fmt: skip

    def read_all(self, procedure: str, place: str, values: dict[str, str], **more: Any) -> None:
        for reading, value in values.items():
            self.read(procedure, place, reading, value, **more)


BORE = {
    "top/thrust": "86.062",
    "top/axial": "86.020",
    "middle/thrust": "86.048",
    "middle/axial": "86.015",
    "bottom/thrust": "86.031",
    "bottom/axial": "86.010",
}
PIN = {
    "front/0": "53.982",
    "front/90": "53.976",
    "centre/0": "53.984",
    "centre/90": "53.979",
    "rear/0": "53.981",
    "rear/90": "53.975",
}
