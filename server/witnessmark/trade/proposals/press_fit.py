"""Press and shrink fits: contact pressure, what it does to both parts, the force of the press, the heat for a slip fit.

Thick-walled rings after Lamé, as in Shigley, Mechanical Engineering Design, 9th edition, equations 3-56 and 3-57:
both parts elastic, equally long, without friction along the seat while they settle. Exact fractions in SI throughout;
friction, moduli and coefficients of expansion are typed, never known by themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.exact import PI
from witnessmark.trade.ground.tables import table

# Modulus in GPa and Poisson's ratio by the codes of materials.json, to start from.
ELASTIC: list[dict[str, str]] = table("elastic")["materials"]

REFERENCE_C = 20  # sizes on drawings hold at 20 °C (ISO 1)
HOT_C = 150
FORMULA = (
    "p = δ / (D·[((Do² + D²)/(Do² - D²) + νo)/Eo + ((D² + di²)/(D² - di²) - νi)/Ei]), Lamé; "
    "Shigley, Mechanical Engineering Design, 9th edition, equation 3-56, with diameters"
)
FORCE_FORMULA = "F = μ·p·π·D·L, T = F·D/2"
HEAT_FORMULA = "t = 20 °C + (δ + slip + αi·D·(ti - 20 °C)) / (αo·D)"

PRESS_CAUTIONS = (
    "The maker's data comes first: force, aid and direction named there count.",
    "A press and a part under load can let fly: guard closed, nobody in line, the part square and supported beside the "
    "seat.",
    "The figure holds while both parts stay elastic: compare the stresses with the maker's material before pressing.",
)
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


@dataclass(frozen=True)
class Material:
    """Modulus of elasticity in Pa and Poisson's ratio."""

    modulus: Fraction
    poisson: Fraction


@dataclass(frozen=True)
class Press:
    """`pressure` in the seat; stresses in Pa, tension above zero: around the hub at its bore, around the shaft at the
    seat and at its own bore (None when it is solid). `closing`: by how much the shaft's bore becomes smaller, in m."""

    pressure: Fraction
    hub_hoop: Fraction
    shaft_hoop: Fraction
    shaft_bore_hoop: Fraction | None
    closing: Fraction | None


def press(
    seat: Fraction, interference: Fraction, hub_outer: Fraction, hub: Material, shaft_inner: Fraction, shaft: Material
) -> Press:
    """Two rings pressed together at the diameter `seat`, all diameters in m; `shaft_inner` 0 for a solid shaft.
    Raises Refusal for parts that cannot be."""
    if interference <= 0:
        raise Refusal("bad_value", "interference", "There is no interference, so nothing presses. Check both sizes.")
    if not 0 <= shaft_inner < seat:
        raise Refusal("bad_value", "shaft_inner", "The bore of the shaft must be smaller than the seat; 0 if solid.")
    if hub_outer <= seat:
        raise Refusal("bad_value", "hub_outer", "The outside of the hub must be larger than the seat. Check both.")
    for name, material in (("hub", hub), ("shaft", shaft)):
        if material.modulus <= 0 or not 0 <= material.poisson < Fraction(1, 2):
            raise Refusal(
                "bad_value", name, f"The {name} needs a modulus above 0 and a Poisson's ratio from 0 to below 0.5."
            )
    outer, at, inner = hub_outer**2, seat**2, shaft_inner**2
    hub_factor, shaft_factor = (outer + at) / (outer - at), (at + inner) / (at - inner)
    yielding = (hub_factor + hub.poisson) / hub.modulus + (shaft_factor - shaft.poisson) / shaft.modulus
    pressure = interference / (seat * yielding)
    hollow = shaft_inner > 0
    bore_hoop = -2 * pressure * at / (at - inner)
    return Press(
        pressure,
        pressure * hub_factor,
        -pressure * shaft_factor,
        bore_hoop if hollow else None,
        -bore_hoop * shaft_inner / shaft.modulus if hollow else None,
    )


def force(pressure: Fraction, seat: Fraction, length: Fraction, friction: Fraction) -> Fraction:
    """The axial force in N that moves a seat of this diameter and length in m, with the typed friction."""
    return friction * pressure * PI * seat * length


def torque(axial: Fraction, seat: Fraction) -> Fraction:
    """The torque in N·m that the same friction carries."""
    return axial * seat / 2


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
