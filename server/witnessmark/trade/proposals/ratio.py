"""What a skim does to the compression ratio: the formula as it is shown, and the gasket that makes good for it. Lengths
in m, exact fractions.

Ratio = (swept + clearance volume) / clearance volume. A skim takes a slice off the chamber as wide as the bore: true
for a head cut into a chamber with straight walls of that width, else an estimate, and said so wherever it is shown.
"""

from __future__ import annotations

from fractions import Fraction

from witnessmark.trade.ground.errors import Refusal

FORMULA = "ratio = (Vs + Vc)/Vc; Vs = π/4·bore²·stroke; Vc = chamber + gasket + deck + dish"
ASSUMED = "The skim is taken as a slice as wide as the bore. Measure the chamber again after the cut."


def gasket_for(skim: Fraction, bore: Fraction, gasket_bore: Fraction) -> Fraction:
    """By how much a thicker gasket makes good what a skim took, so that the ratio is what it was."""
    if gasket_bore <= 0:
        raise Refusal("bad_value", "gasket_bore", "The bore of the gasket must be above 0.")
    return skim * (bore / gasket_bore) ** 2
