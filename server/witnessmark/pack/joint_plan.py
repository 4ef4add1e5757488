"""A joint seen from above as a stage of a run left it, made ready for drawing: PDF and page draw the same.

Floats serve the ink only. Lengths are units of the drawing, which is `width` wide.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import atan2, cos, hypot, pi, sin
from typing import Any

from witnessmark.trade.ground.sentences import say
from witnessmark.trade.tightening.departures import SORTS

# Two drawings stand beside one another; a joint with many fasteners takes the room of both.
NARROW, WIDE = 400, 830
HIGHEST = 190
LEAST_MM = 60  # a joint of one spot is drawn as if it were this wide
LARGEST, SMALLEST = 17, 7
EDGE = 14
CELL = {"width": 22, "height": 14}

Fastener = Mapping[str, Any]


def numbers(stage: Mapping[str, Any]) -> dict[str, int]:
    """Fastener -> its place in the order as done, those done again left out."""
    number_of: dict[str, int] = {}
    for row in stage["done"]:
        if not row["again"]:
            number_of[row["label"]] = len(number_of) + 1
    return number_of


def marks(stage: Mapping[str, Any], departures: Sequence[Mapping[str, Any]]) -> dict[str, dict[str, Any]]:
    """What stands at each fastener: {"done": its order number, "–" for one left out, "" for one not done,
    "apart": not as asked, "ring": "open" or "answered" for departures or "", "said": the same in words}."""
    done, marks_by_label = numbers(stage), {}
    for wanted, label in enumerate(stage["order"], 1):
        own = [
            departure for departure in departures if (departure["stage"], departure["label"]) == (stage["code"], label)
        ]
        ring = "open" if any(deviation["answered"] is None for deviation in own) else "answered" if own else ""
        number = done.get(label)
        left = label in stage["skipped"]
        if number:
            parts = [say("pack.plan.done_as", number=number)]
        else:
            parts = [say("pack.plan.skipped") if left else say("pack.plan.not_done")]
        if number and number != wanted:
            parts.append(say("pack.plan.asked_as", number=wanted))
        answered = {True: say("pack.plan.answered"), False: say("pack.plan.not_answered")}
        parts += [f"{SORTS[deviation['sort']]}, {answered[bool(deviation['answered'])]}" for deviation in own]
        marks_by_label[label] = {
            "done": str(number) if number else "–" if left else "",
            "apart": bool(number) and number != wanted,
            "ring": ring,
            "said": say("pack.plan.fastener", fastener=label, standing=", ".join(parts)),
        }
    return marks_by_label


def plan(
    fasteners: Sequence[Fastener], stage: Mapping[str, Any], departures: Sequence[Mapping[str, Any]]
) -> dict[str, Any] | None:
    """The drawing: {"width", "height", "wide", "axes": [line], "way": [{"line", "arrow"}], "alt", "marks",
    "heads": [{"x", "y", "hex": points, "label", "size": of its letters, "look", "done", "apart", "ring", "tag": its
    upper left corner, "ring_radius"}]}. A line is x, y, x, y. None for a joint whose fasteners have no positions."""
    if not fasteners:
        return None
    spots = [(fastener["x_mm"], fastener["y_mm"]) for fastener in fasteners]
    wide = _apart(spots) * _unit(spots, NARROW) < CELL["width"] + 8
    width = WIDE if wide else NARROW
    unit = _unit(spots, width)
    radius = max(SMALLEST, min(LARGEST, _apart(spots) * unit * 0.36))
    (left, top), (right, foot) = _corners(spots)
    x0, y0 = width / 2 - (left + right) / 2 * unit, EDGE + radius + 4 - top * unit
    height = y0 + foot * unit + radius + CELL["height"] + 12
    standing = marks(stage, departures)
    at = {fastener["label"]: (x0 + fastener["x_mm"] * unit, y0 + fastener["y_mm"] * unit) for fastener in fasteners}
    heads = [
        _head(fastener["label"], at[fastener["label"]], radius, standing.get(fastener["label"]))
        for fastener in fasteners
    ]
    way = [at[label] for label in numbers(stage) if label in at]
    axes = [[6, y0, width - 6, y0], [x0, 4, x0, height - 4]]
    return {
        "width": width,
        "height": round(height, 2),
        "wide": wide,
        "axes": [[round(value, 2) for value in line] for line in axes],
        "way": [_step(start, end) for start, end in zip(way, way[1:], strict=False)],
        "heads": heads,
        "alt": say("pack.plan.from_above", fasteners="; ".join(mark["said"] for mark in standing.values())),
        "marks": {label: {**mark, "said": ""} for label, mark in standing.items()},
    }


def _head(label: str, spot: tuple[float, float], radius: float, mark: Mapping[str, Any] | None) -> dict[str, Any]:
    x, y = spot
    corners = [(x + radius * cos(turn * pi / 3), y + radius * sin(turn * pi / 3)) for turn in range(6)]
    ring = mark["ring"] if mark else ""
    return {
        "x": round(x, 2),
        "y": round(y, 2),
        "hex": [[round(a, 2), round(b, 2)] for a, b in corners],
        "label": label,
        "size": round(min(radius * 0.95, radius * 2.4 / max(len(label), 1)), 2),
        "done": mark["done"] if mark else "",
        "apart": bool(mark and mark["apart"]),
        "ring": ring,
        "ring_radius": round(radius + 4, 2),
        "tag": [round(x - CELL["width"] / 2, 2), round(y + radius + (6 if ring else 3), 2)],
    }


def _step(start: tuple[float, float], end: tuple[float, float]) -> dict[str, Any]:
    """A line of the way, with an arrow at two thirds of it."""
    turn = atan2(end[1] - start[1], end[0] - start[0])
    x, y = (start[0] + 2 * end[0]) / 3, (start[1] + 2 * end[1]) / 3
    arrow = [(x + 5 * cos(turn + by), y + 5 * sin(turn + by)) for by in (0, 0.85 * pi, -0.85 * pi)]
    return {
        "line": [round(value, 2) for value in (*start, *end)],
        "arrow": [[round(a, 2), round(b, 2)] for a, b in arrow],
    }


def _unit(spots: Sequence[tuple[float, float]], width: float) -> float:
    """Units of the drawing to the millimetre."""
    (left, top), (right, foot) = _corners(spots)
    across = (width - 2 * (EDGE + LARGEST + 6)) / max(right - left, LEAST_MM)
    return min(across, (HIGHEST - 2 * LARGEST) / max(foot - top, LEAST_MM / 2))


def _corners(spots: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], tuple[float, float]]:
    """The frame round all fasteners and the middle of the joint."""
    xs, ys = [0.0, *(x for x, _ in spots)], [0.0, *(y for _, y in spots)]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _apart(spots: Sequence[tuple[float, float]]) -> float:
    """Millimetres between the two that stand closest."""
    distances = [hypot(a - c, b - d) for at, (a, b) in enumerate(spots) for c, d in spots[at + 1 :]]
    return min((distance for distance in distances if distance > 0), default=LEAST_MM)
