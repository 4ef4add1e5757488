// A figure that is not proven, and what any other set of shares in its variance would make of it. The twin of
// trade/measuring/unproven.py.

import { compare } from '../ground/amounts.ts'
import { exact } from '../ground/described.ts'
import { roundUp, sqrt } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import type { GaugeInSi } from './gauges.ts'
import type { Rules } from './rules.ts'
import * as uncertainty from './uncertainty.ts'
import { errorText, gaugeOf, type Made, type Share, total, widthText } from './uncertainty.ts'
import type { Fraction } from '../ground/units.ts'
import { guardSquared, roomTo, stands } from './verdicts.ts'

export const ERROR = 'permissible error'

/** Amount and limits in SI (null where open), the readings and their weights, and the unit to speak in. */
export interface Unproven {
  amount: Fraction
  low: Fraction | null
  high: Fraction | null
  weights: Record<string, Fraction>
  made: Record<string, Made>
  rules: Rules
  unit: string
}

/** The distance to the nearer limit, below zero beyond it. */
export const room = (unproven: Unproven): Fraction => roomTo(unproven.amount, unproven.low, unproven.high)[0]

/** In words: within or outside the limit. */
export const goal = (unproven: Unproven): string => say(room(unproven).over > 0n ? 'measuring.inside' : 'measuring.outside')

/** The readings that count in the figure: weight, name, reading. */
export const counted = (unproven: Unproven): [Fraction, string, Made][] =>
  Object.entries(unproven.weights).flatMap(([name, weight]) => (weight.over ? [[weight, name, unproven.made[name]!]] : []))

export const short = (amount: Fraction): Fraction => exact(roundUp(amount, 15))

/** The shares as things are, or with readings made otherwise. */
export const shares = (unproven: Unproven, made = unproven.made): Share[] =>
  uncertainty.shares(unproven.weights, made, unproven.rules).map((share) => ({ ...share, variance: short(share.variance) }))

/** The square of the guard band that such shares ask for. */
const guard2 = (unproven: Unproven, budget: Share[]): Fraction =>
  guardSquared(...total(budget), unproven.low, unproven.high, unproven.rules.rule)!

export const settled = (unproven: Unproven, budget: Share[]): boolean =>
  stands(room(unproven), guard2(unproven, budget)) !== 'not proven'

/** The guard band in words: "± 0.0035 mm". */
export const leaves = (unproven: Unproven, budget: Share[]): string =>
  `± ${widthText(sqrt(guard2(unproven, budget), 30), unproven.unit, roundUp)}`

/** The gauge of that identifier among the readings; of several descriptions the coarsest. */
export function gaugeNamed(unproven: Unproven, id: string): GaugeInSi {
  const there = counted(unproven).map(([, , made]) => gaugeOf(made)).filter((gauge) => gauge.id === id)
  return there.reduce((a, b) => (compare(b.mpe, a.mpe) > 0 ? b : a))
}


export const called = (gauge: GaugeInSi): string => `${gauge.name} (${errorText(gauge)})`
