"""Shrink fits: how a part grows with heat, the heat for a slip fit, and what to mind. Exact fractions in SI throughout;
coefficients of expansion are typed, never known by themselves. What a press asks for the apps work out alone.
"""

from __future__ import annotations

from fractions import Fraction

from witnessmark.trade.ground.errors import Refusal

REFERENCE_C = 20  # sizes on drawings hold at 20 °C (ISO 1)
HOT_C = 150
HEAT_FORMULA = "t = 20 °C + (δ + slip + αi·D·(ti - 20 °C)) / (αo·D)"

HEAT_CAUTIONS = (
    "The maker's data comes first: a temperature or a method named there counts.",
    "Hardened and tempered parts, rolling bearings among them, lose their hardness above the temperature they were "
    "tempered at. Ask the maker for it.",
    "Seals, plastic cages, bonded rings, coatings and grease do not stand heat: take them off, or stay below what "
    "their maker allows.",
    "Hot parts burn: gloves, tongs and a dry place to put them down. Heat evenly, never with a flame in one spot, and "
    "measure the temperature.",
)
VERY_HOT = f"This is above {HOT_C} °C: many bearings and tempered parts do not stand it (common practice)."
COLD_CAUTION = (
    "Dry ice and liquid nitrogen burn the skin and take the air to breathe: ventilate, wear gloves and goggles, "
    "and leave it to somebody trained for it. Far below room temperature metals shrink less than their coefficient "
    "says."
)


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
        raise Refusal("bad_value", "alpha", "Heating needs the hub's coefficient of expansion, above 0.")
    wanted = interference + slip + growth(seat, alpha_shaft, shaft_c - REFERENCE_C)
    return REFERENCE_C + wanted / (alpha_hub * seat)


def heat_cautions(hub_c: Fraction, shaft_c: Fraction = Fraction(REFERENCE_C)) -> list[str]:
    """What to mind at these temperatures, the most general first."""
    said = list(HEAT_CAUTIONS)
    if hub_c > HOT_C:
        said.append(VERY_HOT)
    if shaft_c < 0:
        said.append(COLD_CAUTION)
    return said
