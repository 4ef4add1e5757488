// What a figure proves against its limits, by the rule that the workshop chose. The twin of trade/measuring/verdicts.py, which
// says what the rules are. Every decision compares squares of exact numbers.

import { by, compare, minus, negative, NOTHING, square, times } from '../ground/amounts.ts'
import { normalBelow, sqrt, tBelow } from '../ground/exact.ts'
import type { Rule } from './rules.ts'
import type { Standing } from './entries.ts'
import { type Budget, factor, INFINITE } from './uncertainty.ts'
import { type Fraction, fraction } from '../ground/units.ts'

export type Side = 'low' | 'high' | ''

export interface Verdict {
  standing: Standing
  /** By how much it lies beyond the limit of `side`, null when inside both. */
  excess: Fraction | null
  /** The limit that it breaks, or that it comes too near to be proven within. */
  side: Side
  /** That the true size lies within the limits; null when the uncertainty is not known. */
  probability: Fraction | null
  guard2: Fraction | null
}

type End = Fraction | null

const NARROW = fraction(6n) // in u: closer limits are near to each other for guarded_95
const ONE = fraction(1n)

/** The verdict on an amount, limits null where open, all in SI. */
export function judge(amount: Fraction, budget: Budget, low: End, high: End, rule: Rule): Verdict {
  if (!low && !high) return { standing: 'no limit', excess: null, side: '', probability: null, guard2: null }
  const [room, side] = roomTo(amount, low, high)
  const excess = room.over < 0n ? negative(room) : null
  const probability = chance(amount, budget, low, high)
  const guard2 = guardSquared(budget.variance, budget.dof, low, high, rule)
  if (!guard2) return { standing: 'not proven', excess, side: excess ? side : '', probability, guard2 }
  const standing = stands(room, guard2)
  return { standing, excess, side: standing === 'within' ? '' : side, probability, guard2 }
}

/**
 * Within, outside or not proven, from the room to the nearer limit (below zero beyond it) and the guard band squared.
 * On the guarded limit itself it is within; that far beyond the limit it is not yet outside.
 */
export function stands(room: Fraction, guard2: Fraction): Standing {
  const beside = compare(square(room), guard2)
  if (room.over >= 0n && beside >= 0) return 'within'
  return room.over < 0n && beside > 0 ? 'outside' : 'not proven'
}

/** The square of the guard band; null when it cannot be known, which does not matter to simple acceptance. */
export function guardSquared(variance: End, dof: number | null, low: End, high: End, rule: Rule): End {
  if (rule === 'simple') return NOTHING
  if (!variance) return null
  if (rule === 'guarded') return times(square(factor(dof)), variance)
  const oneSided = factor(dof, 'one_95')
  const near = low && high && compare(square(minus(high, low)), times(nearSquared(oneSided), variance)) < 0
  return times(square(near ? factor(dof, 'two_95') : oneSided), variance)
}

/** How near, in u squared, two limits must stand for both sides to count, by the one-sided factor. */
export const nearSquared = (oneSided: Fraction): Fraction =>
  times(square(NARROW), square(square(by(oneSided, INFINITE.one_95))))

/** The distance to the nearer limit, below zero when beyond it; of two equally near the upper. */
export function roomTo(amount: Fraction, low: End, high: End): [Fraction, 'low' | 'high'] {
  const below = low && minus(amount, low)
  const above = high && minus(high, amount)
  return above && !(below && compare(below, above) < 0) ? [above, 'high'] : [below!, 'low']
}

/** How likely the true size lies within the limits: normal, or Student's where the degrees of freedom are few. */
function chance(amount: Fraction, budget: Budget, low: End, high: End): End {
  if (!budget.variance) return null
  const u = sqrt(budget.variance, 30)
  if (!u.over) {
    return (!low || compare(low, amount) <= 0) && (!high || compare(amount, high) <= 0) ? ONE : NOTHING
  }
  const below = (limit: Fraction) => {
    const z = by(minus(limit, amount), u)
    return budget.dof === null || budget.dof > 100 ? normalBelow(z) : tBelow(z, budget.dof)
  }
  return minus(high ? below(high) : ONE, low ? below(low) : NOTHING)
}
