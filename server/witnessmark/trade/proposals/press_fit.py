"""Shrink fits: how a part grows with heat, the heat for a slip fit, and what to mind. Exact fractions in SI throughout;
coefficients of expansion are typed, never known by themselves. What a press asks for the apps work out alone.
"""

from __future__ import annotations

from fractions import Fraction

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

REFERENCE_C = 20  # sizes on drawings hold at 20 °C (ISO 1)
HOT_C = 150
HEAT_FORMULA = "t = 20 °C + (δ + slip + αi·D·(ti - 20 °C)) / (αo·D)"

HEAT_CAUTIONS = (
    say("trade.proposals.heat_maker"),
    say("trade.proposals.heat_temper"),
    say("trade.proposals.heat_seals"),
    say("trade.proposals.heat_burns"),
)
VERY_HOT = say("trade.proposals.very_hot", temperature=HOT_C)
COLD_CAUTION = say("trade.proposals.cold")


def growth(diameter: Fraction, alpha: Fraction, kelvin: Fraction) -> Fraction:
    """By how much a diameter grows when it becomes so much warmer; below zero when it becomes colder."""
    return diameter * alpha * kelvin


def heat_for_slip(
    seat: Fraction,
    interference: Fraction,
    slip: Fraction,
    alpha_hub: Fraction,
    alpha_shaft: Fraction = Fraction(0),
    shaft_c: Fraction = Fraction(REFERENCE_C),
) -> Fraction:
    """The temperature in °C at which the hub goes over the shaft with `slip` to spare (diametral, m).

    Coefficients per kelvin; `shaft_c` is how warm or cold the shaft is. Sizes are those at 20 °C. The answer may lie
    at or below 20 °C: then nothing needs heat. Raises Refusal without a coefficient.
    """
    if alpha_hub <= 0:
        raise Refusal("bad_value", "alpha", say("trade.proposals.no_alpha"))
    wanted = interference + slip + growth(seat, alpha_shaft, shaft_c - REFERENCE_C)
    return REFERENCE_C + wanted / (alpha_hub * seat)


def heat_cautions(hub_c: Fraction, shaft_c: Fraction = Fraction(REFERENCE_C)) -> list[str]:
    """What to mind at these temperatures, the most general first."""
    cautions: list[str] = list(HEAT_CAUTIONS)
    if hub_c > HOT_C:
        cautions.append(VERY_HOT)
    if shaft_c < 0:
        cautions.append(COLD_CAUTION)
    return cautions
