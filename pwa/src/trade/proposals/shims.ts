// Valve clearance by shim: which shim goes where, from those already on the engine first, and the gap that results. The
// twin of trade/shims.py. New shim = shim now + gap measured - gap wanted; of the set the nearest, the thinner of two
// equally near (more gap burns no valve). Lengths are exact fractions in one and the same unit.

import { by, compare, largest, minus, plus, smallest, whole } from '../ground/amounts.ts'
import { Refusal } from '../ground/errors.ts'
import type { Fraction } from '../ground/units.ts'

export const FORMULA = 'new shim = shim now + gap measured - gap wanted'

/** What was measured at a valve, and the gap wanted there. */
export interface Valve {
  place: string
  gap: Fraction
  shim: Fraction
  target: Fraction
}

/**
 * For one valve: `wanted` thickness by the formula, `chosen` from the set, the `gap` that results, and where it comes
 * from: 'stays', 'new', or the place of the valve whose shim is taken. `reached` is false when the wanted thickness lies
 * outside the set by more than half its last step.
 */
export interface Shim {
  place: string
  wanted: Fraction
  chosen: Fraction
  gap: Fraction
  source: string
  reached: boolean
}

const size = (a: Fraction): Fraction => ({ ...a, over: a.over < 0n ? -a.over : a.over })
const off = (one: Fraction, wanted: Fraction): Fraction => size(minus(one, wanted))

/** The nearest of a set, the smaller of two equally near. */
export function nearest(wanted: Fraction, thicknesses: Fraction[]): Fraction {
  return thicknesses.reduce((best, one) => {
    const nearer = compare(off(one, wanted), off(best, wanted))
    return nearer < 0 || (nearer === 0 && compare(one, best) < 0) ? one : best
  })
}

/** A shim for each valve, in the order given. Throws Refusal for an empty set. */
export function shims(valves: Valve[], thicknesses: Fraction[]): Shim[] {
  if (!thicknesses.length) {
    throw new Refusal('bad_value', 'set', 'No shim is in the set. Enter the thicknesses that can be had.')
  }
  const wanted = valves.map((valve) => minus(plus(valve.shim, valve.gap), valve.target))
  const chosen = valves.map((valve, at) => choose(valve.shim, wanted[at]!, thicknesses))
  // What comes off one valve can go to another: only shims that do not stay where they are.
  const free = valves.filter((valve, at) => compare(chosen[at]!, valve.shim) !== 0)
  return valves.map((valve, at) => {
    const one = chosen[at]!
    let source = 'stays'
    if (compare(one, valve.shim) !== 0) {
      const spare = free.findIndex((entry) => compare(entry.shim, one) === 0)
      source = spare < 0 ? 'new' : free.splice(spare, 1)[0]!.place
    }
    const gap = minus(plus(valve.gap, valve.shim), one)
    return { place: valve.place, wanted: wanted[at]!, chosen: one, gap, source, reached: reached(wanted[at]!, thicknesses) }
  })
}

function choose(now: Fraction, wanted: Fraction, thicknesses: Fraction[]): Fraction {
  const best = nearest(wanted, thicknesses)
  // The shim in place is as good as any of the set that is no nearer.
  return compare(off(now, wanted), off(best, wanted)) <= 0 ? now : best
}

function reached(wanted: Fraction, thicknesses: Fraction[]): boolean {
  const [thinnest, thickest] = [smallest(thicknesses), largest(thicknesses)]
  if (compare(thinnest, thickest) === 0) return compare(wanted, thinnest) === 0
  const second = smallest(thicknesses.filter((one) => compare(one, thinnest) !== 0))
  const last = largest(thicknesses.filter((one) => compare(one, thickest) !== 0))
  const low = minus(thinnest, by(minus(second, thinnest), whole(2)))
  const high = plus(thickest, by(minus(thickest, last), whole(2)))
  return compare(low, wanted) <= 0 && compare(wanted, high) <= 0
}
