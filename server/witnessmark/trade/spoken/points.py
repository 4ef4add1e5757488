"""A point that was said on a screen that shows one: "bottom" where "top, thrust" is lit, "wet" where "dry" is."""

from __future__ import annotations

from typing import Any

from witnessmark.trade.spoken.words import OPPOSITES, PROCEDURES, TABLE


def on_screen(point: str, screen: dict[str, Any]) -> str:
    """The point as the screen has it. A reading beside the grid by its words ("recess on the left"); of a point that
    was said in part the rest as it is lit: "bottom" on a screen that shows "top, thrust" is "bottom, thrust"."""
    procedure = PROCEDURES.get(screen["procedure"])
    if procedure is not None:
        for code, pieces in TABLE["readings"].get(procedure["code"], {}).items():
            if point in pieces:
                return next(reading["words"] for reading in procedure["readings"] if reading["code"] == code)
    named_pieces, shown = point.split(", "), (screen["point"] or _lit(procedure, screen["reading"])).split(", ")
    groups, places = [_group(piece) for piece in named_pieces], [_group(piece) for piece in shown]
    if -1 in places or not set(groups) < set(places) or len(shown) != len(set(places)):
        return point
    pairs = zip(shown, places, strict=True)
    return ", ".join(named_pieces[groups.index(group)] if group in groups else piece for piece, group in pairs)


def _group(piece: str) -> int:
    """Which group of opposites a piece is of, -1 for none."""
    return next((at for at, group in enumerate(OPPOSITES) if piece in group), -1)


def _lit(procedure: dict[str, Any] | None, reading: str) -> str:
    """The words of a reading of the grid: "top, thrust" of "top/thrust"; "" of another."""
    codes = reading.split("/")
    if procedure is None or len(codes) != len(procedure["grid"]):
        return ""
    groups = [
        next((value["words"] for value in axis["values"] if value["code"] == code), "")
        for axis, code in zip(procedure["grid"], codes, strict=True)
    ]
    return ", ".join(groups) if all(groups) else ""
