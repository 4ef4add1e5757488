"""Measurement sheets as one long table for a spreadsheet: a row for each reading, a row for each figure and limit.

Numbers stand exactly as typed or as the sheet shows them, with a decimal point. Text that a spreadsheet would take for
a formula gets an apostrophe before it; a number keeps its sign.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

COLUMNS = (
    "row", "procedure", "procedure_name", "edition", "state", "place", "place_name", "code", "words",
    "value", "unit", "exhibit", "claimed", "gauge", "gauge_overdue", "part_temperature", "gauge_temperature",
    "material", "remark", "entry", "u", "expanded_uncertainty", "coverage_factor", "degrees_of_freedom",
    "limit_sort", "limit_low", "limit_high", "limit_unit", "limit_source",
    "verdict_now", "beyond_now", "probability_now", "rule_now", "verdict_then", "rule_then", "remarks",
)  # fmt: skip

# What the arithmetic can read is a number, never a formula: -0.02, 3 1/2, < 0.1.
_number = re.compile(r"[+\-\u2212]?[0-9.,/ ]*[0-9]").fullmatch
# The wide ones are what an East Asian keyboard writes; some spreadsheets take them for the narrow ones.
_formula = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def csv_bytes(sheets: Sequence[Mapping[str, Any]], readings: Iterable[Mapping[str, Any]]) -> bytes:
    """The table as CSV: UTF-8 with byte order mark, commas, line ends as RFC 4180 has them. `readings` are those that
    the sheets were made of."""
    bodies = {reading["id"]: reading["body"] for reading in readings}
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\r\n")
    writer.writeheader()
    for sheet in sheets:
        for row in rows(sheet, bodies):
            writer.writerow({name: safe(value) for name, value in row.items()})
    return out.getvalue().encode("utf-8-sig")


def safe(value: str) -> str:
    """A cell that no spreadsheet runs: numbers untouched, text that begins like a formula behind an apostrophe."""
    return f"'{value}" if value.startswith(_formula) and not _number(value) else value


def rows(sheet: Mapping[str, Any], bodies: Mapping[str, Mapping[str, Any]]) -> Iterator[dict[str, str]]:
    """The rows of one sheet: at each place the readings, then the figures; then the figures over all places."""
    common = {
        "procedure": sheet["procedure"],
        "procedure_name": sheet["name"],
        "edition": str(sheet["edition"]),
        "state": sheet["state"],
    }
    words = {reading["code"]: reading["words"] for reading in sheet["readings_asked"]}
    for place in sheet["places"]:
        there = common | {"place": place["place"], "place_name": place["name"]}
        for code, taken in place["readings"].items():
            named = there | {"code": code, "words": words.get(code, code)}
            if taken["borrowed"]:
                yield named | {"row": "taken over", "value": taken["mean"], "unit": taken["unit"]}
            for value in taken["values"]:
                yield named | _reading(value, bodies.get(value["id"], {}))
        for figure in place["figures"]:
            for row in _figure(figure):
                yield there | row
    for across in sheet["across"]:
        value = {"value": across["value"] or "", "unit": across["unit"], "remarks": across["words_said"]}
        named = {"code": across["code"], "words": across["words"], "place": " ".join(across["places"])}
        yield common | {"row": "over all places"} | named | value


def _reading(value: Mapping[str, Any], body: Mapping[str, Any]) -> dict[str, str]:
    given = {name: body.get(name, "") for name in ("part_temperature", "gauge_temperature", "material", "remark")}
    return given | {
        "row": "reading",
        # The edition that it was read by; the sheet is worked out by the last of them.
        "edition": str(body.get("edition", "")),
        "value": value["value"],
        "unit": value["unit"],
        "exhibit": value["exhibit"],
        "claimed": value["claimed"],
        "gauge": value["gauge"],
        "gauge_overdue": "yes" if value["overdue"] else "",
        "entry": value["id"],
    }


def _figure(figure: Mapping[str, Any]) -> Iterator[dict[str, str]]:
    """One row for each limit that judges the figure, now or when it was measured; one row if none does."""
    missing = [f"Missing: {', '.join(figure['missing'])}"] if figure["missing"] else []
    remarks = [*figure["unknown"], *missing, figure["corrected"], *figure["overdue"]]
    plain = {
        "row": "figure",
        "code": figure["code"],
        "words": figure["words"],
        "value": figure["value"] or "",
        "unit": figure["unit"],
        "u": figure["u"] or "",
        "expanded_uncertainty": figure["U"] or "",
        "coverage_factor": figure["k"] if figure["U"] else "",
        "degrees_of_freedom": figure["dof"] if figure["U"] else "",
        "remarks": "; ".join(filter(None, remarks)),
    }
    now = {verdict["limit"]: verdict for verdict in figure["now"]}
    # None: what it was judged by when it was measured is what counts now.
    then = now if figure["then"] is None else {verdict["limit"]: verdict for verdict in figure["then"]}
    if not now and not then:
        yield plain
    for limit in dict.fromkeys([*now, *then]):
        counts, counted = now.get(limit), then.get(limit)
        judged = counts or counted or {}
        row = {f"limit_{name}": judged[name] for name in ("sort", "low", "high", "unit", "source")}
        if counts:
            row |= {"verdict_now": counts["standing"], "beyond_now": counts["excess"], "rule_now": counts["rule"]}
            row["probability_now"] = counts["probability"]
        if counted:
            row |= {"verdict_then": counted["standing"], "rule_then": counted["rule"]}
        yield plain | row
