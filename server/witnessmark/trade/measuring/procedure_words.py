"""Procedures, their figures and sizes in words. A procedure of the workshop's own is called by its code, since its name
may have changed since.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring.procedures import BUILT_IN


def procedure_name(code: str) -> str:
    """A procedure's name as it comes with the program, or its code in plain words."""
    return BUILT_IN[code]["name"] if code in BUILT_IN else spaced(code.removeprefix("own_")).capitalize()


def subject(what: Mapping[str, Any], names: str, field: str) -> str:
    """ "Cylinder bore, ovality": the procedure, and the words of its figure or size. `names` is "figures" or "sizes",
    `field` where `what` has its code."""
    code = what[field]
    lines = BUILT_IN.get(what["procedure"], {}).get(names, [])
    words = next((line["words"] for line in lines if line["code"] == code), spaced(code))
    return say("trade.measuring.subject", procedure=procedure_name(what["procedure"]), subject=words)


def spaced(code: str) -> str:
    return code.replace("_", " ")
