"""What a skim does to the compression ratio: the formula as it is shown, and the gasket that makes good for it. Lengths
in m, exact fractions.

Ratio = (swept + clearance volume) / clearance volume. A skim takes a slice off the chamber as wide as the bore: true
for a head cut into a chamber with straight walls of that width, else an estimate, and said so wherever it is shown.
"""

from __future__ import annotations

from fractions import Fraction

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

FORMULA = say("trade.proposals.ratio_formula")
ASSUMED = say("trade.proposals.skim_assumed")


def gasket_for(skim: Fraction, bore: Fraction, gasket_bore: Fraction) -> Fraction:
    """By how much a thicker gasket makes good what a skim took, so that the ratio is what it was."""
    if gasket_bore <= 0:
        raise Refusal("bad_value", "gasket_bore", say("trade.proposals.gasket_bore_zero"))
    return skim * (bore / gasket_bore) ** 2
