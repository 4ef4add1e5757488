"""Whether the workshop has a wrench for what a tightening sheet asks: a torque that no tool reaches is a slip, or needs
another tool."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.tightening.tools import fits
from witnessmark.trade.tightening.values import FITS


def beyond_tools(sheet: Mapping[str, Any], register: Iterable[dict[str, Any]]) -> list[Fault]:
    """The torque stages of a sound sheet that no tool of the register in use can do; none while it has no such tool."""
    tools = [tool for tool in register if tool["sort"] in FITS["torque"] and not tool["retired"]]
    faults = []
    for index, stage in enumerate(sheet["stages"] if tools else ()):
        target, unit = stage["target"], stage["unit"]
        if stage["method"] != "torque" or any(not fits(tool, "torque", target, unit) for tool in tools):
            continue
        words = say(
            "trade.tightening.beyond_tools", number=index + 1, target=target, unit=unit, joint=sheet["joint"],
            tools=listed(tool["name"] for tool in tools),
        )  # fmt: skip
        faults.append(Fault(f"stages.{index}.target", words))
    return faults
