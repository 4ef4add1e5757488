// The permissible error that would settle a figure, and the gauges of the register that have it. The twin of
// trade/measuring/finer_gauge.py.

import { by, compare, largest, minus, NOTHING, plus, smallest, square, times, whole } from '../ground/amounts.ts'
import { exact } from '../ground/described.ts'
import { roundDown, sqrt } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import { listed } from '../ground/sentences.ts'
import * as gauges from './gauges.ts'
import type { Gauge } from './gauges.ts'
import * as uncertainty from './uncertainty.ts'
import { type Factors, gaugeOf, INFINITE, type Made, ROWS, type Share, spreadOf, total } from './uncertainty.ts'
import { type Fraction, fraction } from '../ground/units.ts'
import {
  called, counted, ERROR, gaugeNamed, goal, leaves, room, settled, shares, type Unproven,
} from './unproven.ts'
import { nearSquared } from './verdicts.ts'

const MOST_NAMED = 3
// By the source of the largest share that is left.
const NO_FINER = {
  scatter: 'measuring.no_finer_scatter',
  repeatability: 'measuring.no_finer_repeatability',
  resolution: 'measuring.no_finer_resolution',
  temperature: 'measuring.no_finer_temperature',
} as const

/**
 * The permissible error that would do in place of the coarsest gauge, or else of all; "" when none would. `found` are the
 * shares after so many `readings`, null for the readings at hand.
 */
export function finer(unproven: Unproven, budget: Share[], readings: number | null = null): string {
  const errors = errorsOf(budget)
  for (const some of [...(errors.length ? [errors.slice(0, 1)] : []), ...(errors.length > 1 ? [errors] : [])]) {
    const rest = budget.filter((share) => !some.includes(share))
    if (!settled(unproven, rest)) continue
    const wanted = wantedOf(unproven, rest, some)
    const names = listed(some.map((share) => called(gaugeNamed(unproven, share.gauge))))
    if (wanted.length) {
      const filled = { count: some.length, names, errors: listed(wanted), goal: goal(unproven) }
      return readings === null ? say('measuring.finer', filled) : say('measuring.finer_with_readings', { ...filled, readings })
    }
  }
  return ''
}

export function noFiner(unproven: Unproven, budget: Share[]): string {
  const rest = budget.filter((share) => share.source !== ERROR)
  if (rest.length === budget.length || !rest.length) return ''
  const worst = rest.reduce((a, b) => (compare(b.variance, a.variance) > 0 ? b : a))
  return say(NO_FINER[worst.source as keyof typeof NO_FINER], { leaves: leaves(unproven, rest) })
}

/** The shares of the permissible errors, the largest first. */
const errorsOf = (budget: Share[]): Share[] =>
  budget.filter((share) => share.source === ERROR).sort((a, b) => compare(b.variance, a.variance))

/** Permissible errors, rounded down to two digits, that do beside the rest; none when only perfect ones would. */
function wantedOf(unproven: Unproven, rest: Share[], errors: Share[]): string[] {
  const left = minus(mostVariance(unproven, rest), total(rest)[0])
  const scale = sqrt(by(left, errors.map((share) => share.variance).reduce(plus, NOTHING)), 30)
  // Outside needs more than the bound itself: where rounding cuts nothing, a step less does.
  for (const factor of [scale, times(scale, fraction(99n, 100n))]) {
    const texts: string[] = []
    const made: Share[] = []
    for (const share of errors) {
      const gauge = gaugeNamed(unproven, share.gauge)
      const step = uncertainty.step(gauge.unit)
      const shown = roundDown(by(times(factor, gauge.mpe), step), 2)
      texts.push(`± ${shown} ${gauge.unit}`.trimEnd())
      const ratio = by(times(exact(shown), step), gauge.mpe)
      made.push({ ...share, variance: times(share.variance, square(ratio)) })
    }
    if (made.every((share) => share.variance.over) && settled(unproven, [...rest, ...made])) return texts
  }
  return []
}

/** The largest variance up to which every one is small enough; see the Python twin for why the first row has it. */
function mostVariance(unproven: Unproven, rest: Share[]): Fraction {
  const [variance] = total(rest)
  const spread = spreadOf(rest)
  if (!spread.over) return bound(unproven, INFINITE)
  for (const [i, [, row]] of ROWS.slice(0, -1).entries()) {
    const upper = times(whole(ROWS[i + 1]![0]), spread)
    if (compare(square(variance), upper) < 0 && compare(square(bound(unproven, row)), upper) < 0) return bound(unproven, row)
  }
  return bound(unproven, ROWS.at(-1)![1])
}

/** The largest variance whose guard band is no wider than the room, by the factors of one row. */
function bound(unproven: Unproven, row: Factors): Fraction {
  const room2 = square(room(unproven))
  if (unproven.rules.rule === 'guarded') return by(room2, square(row.k))
  const most = by(room2, square(row.one_95))
  if (!unproven.low || !unproven.high) return most
  const apart = by(square(minus(unproven.high, unproven.low)), nearSquared(row.one_95))
  return largest([by(room2, square(row.two_95)), smallest([most, apart])])
}

/** The gauges of the register that would do in place of one that was used, the coarsest first. */
export function registered(unproven: Unproven, register: Gauge[], day: string): string[] {
  const used = [...new Set(counted(unproven).map(([, , made]) => gaugeOf(made).id))]
  const usable = register.filter((gauge) => !gauge.retired && !gauges.overdue(gauge, day))
  const sentences: string[] = []
  for (const id of used) {
    const would = usable
      .filter((gauge) => {
        const instead = put(unproven, id, gauge)
        return instead && settled(unproven, shares(unproven, instead))
      })
      .map(gauges.inSi)
      .sort((a, b) => compare(b.mpe, a.mpe) || (a.name < b.name ? -1 : a.name > b.name ? 1 : 0))
    if (would.length) {
      const gauges = would.slice(0, MOST_NAMED).map(called).join(', ')
      sentences.push(
        used.length > 1
          ? say('measuring.registered_for', { gauge: gaugeNamed(unproven, id).name, gauges })
          : say('measuring.registered', { gauges }),
      )
    }
  }
  return sentences.length ? sentences : [say('measuring.none_registered')]
}

/** The readings as if taken with another gauge; null when it cannot take one of them, or is coarser. */
function put(unproven: Unproven, id: string, gauge: Gauge): Record<string, Made> | null {
  const numbers = gauges.inSi(gauge)
  const exchanged = { ...unproven.made }
  for (const [, name, made] of counted(unproven)) {
    if (gaugeOf(made).id !== id) continue
    const now = gaugeOf(made)
    const fits = gauges.standsIn(numbers, now) && gauges.inRange(gauge, uncertainty.mean(made))
    // A coarse gauge hides scatter, and with many degrees of freedom it may even seem to do better.
    const asFine = compare(numbers.mpe, now.mpe) <= 0 && compare(numbers.resolution, now.resolution) <= 0
    if (numbers.id === id || !fits || !asFine) return null
    exchanged[name] = { ...made, gauge: numbers, gaugeName: numbers.name }
  }
  return exchanged
}
