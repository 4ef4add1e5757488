"""Compression ratio before and after a skim. Lengths in m, volumes in m³, exact fractions.

Ratio = (swept + clearance volume) / clearance volume. A skim takes a slice off the chamber as wide as the bore: true
for a head cut into a chamber with straight walls of that width, else an estimate, and said so wherever it is shown.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.exact import PI

FORMULA = "ratio = (Vs + Vc)/Vc; Vs = π/4·bore²·stroke; Vc = chamber + gasket + deck + dish"
ASSUMED = "The skim is taken as a slice as wide as the bore. Measure the chamber again after the cut."


@dataclass(frozen=True)
class Cylinder:
    """`deck`: how far the piston stays below the block at top dead centre (below zero: it stands proud); `dish` of the
    piston, below zero for a dome."""

    bore: Fraction
    stroke: Fraction
    chamber: Fraction
    gasket_bore: Fraction
    gasket_thickness: Fraction
    deck: Fraction = Fraction(0)
    dish: Fraction = Fraction(0)


@dataclass(frozen=True)
class Ratio:
    swept: Fraction
    clearance: Fraction
    ratio: Fraction


def slice_of(diameter: Fraction, height: Fraction) -> Fraction:
    """The volume of a round slice."""
    return PI / 4 * diameter**2 * height


def ratio(cylinder: Cylinder, skim: Fraction = Fraction(0)) -> Ratio:
    """The ratio with so much skimmed off. Raises Refusal when nothing is left to compress into."""
    if cylinder.bore <= 0 or cylinder.stroke <= 0:
        raise Refusal("bad_value", "bore", "Bore and stroke must be above 0.")
    swept = slice_of(cylinder.bore, cylinder.stroke)
    clearance = (
        cylinder.chamber
        + slice_of(cylinder.gasket_bore, cylinder.gasket_thickness)
        + slice_of(cylinder.bore, cylinder.deck - skim)
        + cylinder.dish
    )
    if clearance <= 0:
        raise Refusal("bad_value", "skim", "Nothing is left above the piston. Check the volumes and the skim.")
    return Ratio(swept, clearance, (swept + clearance) / clearance)


def clearance_for(swept: Fraction, wanted: Fraction) -> Fraction:
    """The clearance volume that gives a wanted ratio. Raises Refusal for a ratio of 1 or less."""
    if wanted <= 1:
        raise Refusal("bad_value", "ratio", "A compression ratio is above 1.")
    return swept / (wanted - 1)


def gasket_for(skim: Fraction, bore: Fraction, gasket_bore: Fraction) -> Fraction:
    """By how much a thicker gasket makes good what a skim took, so that the ratio is what it was."""
    if gasket_bore <= 0:
        raise Refusal("bad_value", "gasket_bore", "The bore of the gasket must be above 0.")
    return skim * (bore / gasket_bore) ** 2
