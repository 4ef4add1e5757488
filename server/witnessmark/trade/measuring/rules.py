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
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.units import UNITS

RULES = {
    "guarded": say("trade.measuring.rule_guarded"),
    "guarded_95": say("trade.measuring.rule_guarded_95"),
    "simple": say("trade.measuring.rule_simple"),
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
        ["", *(code for code, unit in UNITS.items() if unit["kind"] == kind)],
        say("trade.measuring.not_a_unit_of", kind=kind),
    )


_KINDS = ("length", "pressure", "volume", "torque", "temperature")
_FIELDS: tuple[described.Field, ...] = (
    ("rule", say("trade.measuring.field_rule"), described.one_of(RULES, say("trade.measuring.not_a_rule"))),
    *((f"shown_{kind}", say("trade.measuring.field_unit_for", kind=kind), _unit_of(kind)) for kind in _KINDS),
    ("compression_share", say("trade.measuring.field_compression_share"), described.number),
    ("temperature_half_width", say("trade.measuring.field_temperature_width"), described.number),
    ("expansion_half_width", say("trade.measuring.field_expansion_width"), described.number),
    ("note", say("trade.measuring.field_note"), shapes.text(500)),
)


def check(rules: Any) -> list[Fault]:
    """All faults of measuring rules, none when they can be used. Never raises, whatever it is given."""
    faults = described.faults_of(rules, _FIELDS, "rules", say("trade.measuring.the_rules"))
    if faults:
        return faults
    if not 0 < Fraction(rules["compression_share"]) <= 100:
        faults.append(Fault("compression_share", say("trade.measuring.share_range")))
    if Fraction(rules["temperature_half_width"]) < 0:
        faults.append(Fault("temperature_half_width", say("trade.measuring.temperature_negative")))
    if not 0 <= Fraction(rules["expansion_half_width"]) <= 100:
        faults.append(Fault("expansion_half_width", say("trade.measuring.expansion_range")))
    return faults
