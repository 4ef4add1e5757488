"""Makes the vectors of measurement sheets, what is known, wear and odd readings anew, from the cases beside this file.

    python -m tests.sheets.make

writes tests/vectors/{sheets,known,wear,odd_reading}.json. Read the differences before keeping them: the phone is held
to these texts, digit for digit, and tests/unit/trade/sheets/test_sheets.py holds some of them to sums done by hand.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.sheets import few
from tests.sheets.hard_cases import CASES
from witnessmark.trade.measuring import known
from witnessmark.trade.sheets import job_sheets as sheets
from witnessmark.trade.sheets import odd_reading, wear

VECTORS = Path(__file__).parents[1] / "vectors"


def sheet_cases() -> list[dict[str, Any]]:
    result = []
    for name, make in CASES.items():
        shop = make()
        statements = known.known(shop.entries)
        engine = shop.engine["name"] if shop.engine else None
        case = {"name": name, "engine_type": engine, "known": shop.entries, "readings": shop.readings}
        result.append(case | {"sheets": sheets.sheets(shop.engine, shop.readings, statements)})
    return result


def known_cases() -> dict[str, list[dict[str, Any]]]:
    return {
        "basis": [{**row, "basis": known.basis_for(*few.asked_for_basis(row))} for row in few.BASIS],
        "gauges": [{**gauge, "due": few.due_of(gauge)} for gauge in few.GAUGES],
        "procedures": [{**procedure, "codes": few.codes_of(procedure)} for procedure in few.PROCEDURES],
    }


def wear_cases() -> list[dict[str, Any]]:
    return [{**row, "wear": wear.wear(*few.visits(row))} for row in few.WEAR]


def odd_cases() -> list[dict[str, Any]]:
    return [{**row, "question": odd_reading.odd(few.sheet_for(row), *few.reading_asked(row))} for row in few.ODD]


def _lines(name: str, about: str, body: Any) -> None:
    """A case to a line, so that a difference shows which one changed."""

    def rows(items: list[Any]) -> str:
        return "[\n" + ",\n".join("  " + json.dumps(item, ensure_ascii=False) for item in items) + "\n ]"

    parts = {"cases": body} if isinstance(body, list) else body
    text = ",\n".join(f" {json.dumps(key)}: {rows(items)}" for key, items in parts.items())
    (VECTORS / f"{name}.json").write_text(f'{{\n "about": {json.dumps(about)},\n{text}\n}}\n', encoding="utf-8")


if __name__ == "__main__":
    made = "Made by tests/sheets/make.py; all of it is invented."
    _lines("sheets", made, sheet_cases())
    _lines("known", made, known_cases())
    _lines("wear", made, wear_cases())
    _lines("odd_reading", made, odd_cases())
