// Which oversize or undersize step cleans up all bores or journals of an engine, and the one reading that forces it. The
// twin of trade/machining.py. A step is added to the nominal size of bores and taken from that of journals. It cleans up
// when every reading leaves at least the stock allowance to cut. Lengths are exact fractions in one unit of length.

import { compare, largest, minus, plus, smallest } from '../ground/amounts.ts'
import { Refusal } from '../ground/errors.ts'
import type { Fraction } from '../ground/units.ts'

/**
 * A step that was looked at: `short` is how much of the allowance is missing (0 or less: it cleans up), `listed`
 * whether a piston or bearing of this step is listed.
 */
export interface Tried {
  step: Fraction
  target: Fraction
  short: Fraction
  listed: boolean
}

/**
 * `chosen` is the smallest listed step that cleans up, null when no step is left; `forcedBy` the place in `readings` of
 * the one that forces it; `tried` all steps from the smallest on, up to the chosen one.
 */
export interface Machining {
  chosen: Tried | null
  forcedBy: number
  tried: Tried[]
}

/**
 * The step for all `readings` together. `listed` names the steps for which a piston or bearing can be had; null when
 * all can. `stock` is the least allowance on the diameter. Throws Refusal when there is nothing to decide on.
 */
export function machine(
  readings: Fraction[],
  nominal: Fraction,
  steps: Fraction[],
  stock: Fraction,
  bores: boolean,
  listed: Fraction[] | null = null,
): Machining {
  if (!readings.length) throw new Refusal('bad_value', 'readings', 'No reading is there yet. Measure first.')
  if (!steps.length || steps.some((one) => one.over <= 0n)) {
    throw new Refusal('bad_value', 'steps', 'Steps are needed, each above 0, such as 0.25, 0.50.')
  }
  if (stock.over < 0n) throw new Refusal('bad_value', 'stock', 'The stock allowance cannot be below 0.')
  const worst = bores ? largest(readings) : smallest(readings)
  const forcedBy = readings.findIndex((one) => compare(one, worst) === 0)
  const ordered = [...steps].sort(compare).filter((one, at, all) => !at || compare(one, all[at - 1]!) !== 0)
  const tried: Tried[] = []
  for (const step of ordered) {
    const target = bores ? plus(nominal, step) : minus(nominal, step)
    const left = bores ? minus(target, worst) : minus(worst, target)
    const has = listed === null || listed.some((one) => compare(one, step) === 0)
    const one = { step, target, short: minus(stock, left), listed: has }
    tried.push(one)
    if (one.short.over <= 0n && has) return { chosen: one, forcedBy, tried }
  }
  return { chosen: null, forcedBy, tried }
}
