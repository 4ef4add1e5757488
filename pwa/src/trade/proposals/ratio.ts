// Compression ratio before and after a skim. The twin of trade/ratio.py. Lengths in m, volumes in m³, exact fractions.
// Ratio = (swept + clearance volume) / clearance volume. A skim takes a slice off the chamber as wide as the bore: true
// for a head cut into a chamber with straight walls of that width, else an estimate, and said so wherever it is shown.

import { by, minus, NOTHING, plus, square, times, whole } from '../ground/amounts.ts'
import { Refusal } from '../ground/errors.ts'
import { PI } from '../ground/exact.ts'
import type { Fraction } from '../ground/units.ts'

export const FORMULA = 'ratio = (Vs + Vc)/Vc; Vs = π/4·bore²·stroke; Vc = chamber + gasket + deck + dish'
export const ASSUMED = 'The skim is taken as a slice as wide as the bore. Measure the chamber again after the cut.'

/**
 * `deck`: how far the piston stays below the block at top dead centre (below zero: it stands proud); `dish` of the
 * piston, below zero for a dome.
 */
export interface Cylinder {
  bore: Fraction
  stroke: Fraction
  chamber: Fraction
  gasketBore: Fraction
  gasketThickness: Fraction
  deck: Fraction
  dish: Fraction
}

export interface Ratio {
  swept: Fraction
  clearance: Fraction
  ratio: Fraction
}

/** The volume of a round slice. */
export function sliceOf(diameter: Fraction, height: Fraction): Fraction {
  return times(times(by(PI, whole(4)), square(diameter)), height)
}

/** The ratio with so much skimmed off. Throws Refusal when nothing is left to compress into. */
export function ratio(cylinder: Cylinder, skim: Fraction = NOTHING): Ratio {
  if (cylinder.bore.over <= 0n || cylinder.stroke.over <= 0n) {
    throw new Refusal('bad_value', 'bore', 'Bore and stroke must be above 0.')
  }
  const swept = sliceOf(cylinder.bore, cylinder.stroke)
  const clearance = [
    sliceOf(cylinder.gasketBore, cylinder.gasketThickness),
    sliceOf(cylinder.bore, minus(cylinder.deck, skim)),
    cylinder.dish,
  ].reduce(plus, cylinder.chamber)
  if (clearance.over <= 0n) {
    throw new Refusal('bad_value', 'skim', 'Nothing is left above the piston. Check the volumes and the skim.')
  }
  return { swept, clearance, ratio: by(plus(swept, clearance), clearance) }
}

/** The clearance volume that gives a wanted ratio. Throws Refusal for a ratio of 1 or less. */
export function clearanceFor(swept: Fraction, wanted: Fraction): Fraction {
  const above = minus(wanted, whole(1))
  if (above.over <= 0n) throw new Refusal('bad_value', 'ratio', 'A compression ratio is above 1.')
  return by(swept, above)
}

/** By how much a thicker gasket makes good what a skim took, so that the ratio is what it was. */
export function gasketFor(skim: Fraction, bore: Fraction, gasketBore: Fraction): Fraction {
  if (gasketBore.over <= 0n) throw new Refusal('bad_value', 'gasket_bore', 'The bore of the gasket must be above 0.')
  return times(skim, square(by(bore, gasketBore)))
}
