"""How the workshop judges and shows what it measures. Plain data, so the rules can stand in an entry.

{"rule": "guarded",                   a code of RULES
 "shown_length": "mm", …              the unit to show a kind in, "" as typed
 "compression_share": "75",           per cent of the highest cylinder that the others should reach
 "temperature_half_width": "1",       K: a temperature taken in the workshop is right to plus or minus this
 "expansion_half_width": "10",        per cent: so is a coefficient of expansion from a table
 "note": ""}
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import described, shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.units import UNITS

RULES = {
    "guarded": "guarded acceptance: inside the limit by U, k about 2 (ISO 14253-1 up to 2013; ILAC-G8, w = U)",
    "guarded_95": "guarded acceptance: 95 % sure to be inside, 1.65 u (ISO 14253-1:2017)",
    "simple": "simple acceptance: the value alone decides, its uncertainty is not taken off the limit",
}
DEFAULT: dict[str, Any] = {
    "rule": "guarded",
    "shown_length": "",
    "shown_pressure": "",
    "shown_volume": "",
    "shown_torque": "",
    "shown_temperature": "",
    "compression_share": "75",
    "temperature_half_width": "1",
    "expansion_half_width": "10",
    "note": "",
}


def _unit_of(kind: str) -> shapes.Check:
    return described.one_of(
        ["", *(code for code, unit in UNITS.items() if unit["kind"] == kind)], f"is no unit of {kind}"
    )


_KINDS = ("length", "pressure", "volume", "torque", "temperature")
_FIELDS: tuple[described.Field, ...] = (
    ("rule", "The rule", described.one_of(RULES, "is none of guarded, guarded_95 and simple")),
    *((f"shown_{kind}", f"The unit for {kind}", _unit_of(kind)) for kind in _KINDS),
    ("compression_share", "The share of the highest compression", described.number),
    ("temperature_half_width", "The half width of a temperature", described.number),
    ("expansion_half_width", "The half width of an expansion", described.number),
    ("note", "The note", shapes.text(500)),
)


def check(rules: Any) -> list[Fault]:
    """All faults of measuring rules, none when they can be used. Never raises, whatever it is given."""
    faults = described.faults_of(rules, _FIELDS, "rules", "The measuring rules")
    if faults:
        return faults
    if not 0 < Fraction(rules["compression_share"]) <= 100:
        faults.append(Fault("compression_share", "The share of the highest compression lies above 0 and up to 100 %."))
    if Fraction(rules["temperature_half_width"]) < 0:
        faults.append(Fault("temperature_half_width", "The half width of a temperature is not below zero."))
    if not 0 <= Fraction(rules["expansion_half_width"]) <= 100:
        faults.append(Fault("expansion_half_width", "The half width of an expansion lies from 0 to 100 %."))
    return faults
